//! Canvas, shapes, text and theme. Told what to draw; knows nothing of swings.
//!
//! Everything is drawn straight into planar YUV 4:2:0. A shape becomes a [`Mask`] of coverage
//! (anti-aliased), a mask is filled with an [`Ink`]; chroma takes the mean coverage of its 2×2 pixels.

mod blend;
mod canvas;
mod colour;
mod mask;
mod pixels;
mod rgb;
mod text;
pub mod theme;

pub use blend::{mix, wash};
pub use canvas::Canvas;
pub use colour::{Ink, Rgb, contrast};
pub use mask::{Mask, Stroke};
pub use pixels::{resize, warp};
pub use rgb::rgb_from_frame;
pub use text::{Align, Face, Letters, Style};
