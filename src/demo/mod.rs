//! A made-up hitter in 3-D, filmed by a made-up camera, with the exact truth beside it.

mod curve;
mod dice;
mod events;
mod figure;
mod hitter;
mod motion;
mod swing;
mod v3;

pub use dice::Dice;
pub use events::Moments;
pub use figure::{Bat, Figure, Head, angle_deg};
pub use hitter::{Hitter, Limbs, Stride, Style, Timing};
pub use swing::Swing;
pub use v3::{V3, v3};

#[cfg(test)]
mod swing_tests;
