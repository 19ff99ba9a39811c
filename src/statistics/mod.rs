//! Distribution functions and robust estimators, on `libm` so that every platform agrees.
