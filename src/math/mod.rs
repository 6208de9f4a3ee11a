//! Numbers that more than one room needs, each worked out once: linear systems, fits, statistics, sampling.
//!
//! Checked against published tables, a worked example and SciPy (`fixtures/statistics.py`). Knows nothing of swings.

mod chi_squared;
mod sample;
mod similarity;
mod solve;
mod statistics;
mod student;

pub use chi_squared::sd_between;
pub use sample::{bilinear, bilinear_inside};
pub use similarity::similarity_from_pairs;
pub use solve::solve;
pub use statistics::{mean_sd, median, median_of, quantile};
pub use student::{beyond, chance, t95};
