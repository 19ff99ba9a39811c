//! The distributions and small-sample statistics that the rooms below need, on plain `f64`.
//!
//! Every function is total: an empty slice, a value that is not finite or a parameter outside its
//! range gives `None`, never a panic. `exp`, `ln` and `erfc` come from `libm`, so that a native
//! test and a browser compute the same digits.

mod beta;
mod chi_square;
mod fisher_f;
mod gamma;
mod normal;
mod order;
mod sample;
mod solve;
mod student_t;
mod theil_sen;

pub use beta::regularised_beta;
pub use chi_square::{chi_square_cdf, chi_square_quantile};
pub use fisher_f::{f_cdf, f_quantile};
pub use gamma::{RegularisedGamma, regularised_gamma};
pub use normal::{normal_cdf, normal_density, normal_quantile};
pub use order::{BestOfN, best_of_n};
pub(crate) use sample::sum_of_squares;
pub use sample::{mean, median, quantile, sample_sd};
pub use student_t::{student_t_cdf, student_t_quantile};
pub use theil_sen::{TheilSen, theil_sen};
