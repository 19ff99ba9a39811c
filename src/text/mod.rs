//! Every word a person sees, from one catalogue, and how numbers and dates are written.
