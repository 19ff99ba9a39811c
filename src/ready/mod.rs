//! Is today a day to test: leg work, held stretches, daily and weekly limits.
