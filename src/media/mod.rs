//! Frames in, frames out: all of FFmpeg and only here.
//!
//! [`Clip`] is an opened, indexed file; [`Frames`] reads its pictures in order, upright and in one
//! colour space; [`Writer`] makes an MP4 that plays on phones. Nothing here knows what a swing is.

mod cadence;
mod clip;
mod colour;
mod cut;
mod decode;
mod extract;
mod ffmpeg;
mod fields;
mod frames;
mod hdr;
mod index;
mod level;
mod lut;
mod marked;
mod mp4;
mod picked;
mod picture;
mod planes;
mod playable;
mod probe;
mod repeats;
mod scale;
mod sound;
mod target;
mod upright;
mod verify;
mod writer;

pub use clip::{CAPTURE_RATE, Clip, OpenOptions};
pub use cut::Cut;
pub use extract::{Extracted, extract};
pub use frames::Frames;
pub use level::level_needed;
pub use picked::Picked;
pub use playable::{Finding, PlayFacts, Playable, Weight, check_playable};
pub use probe::{Private, Probed, ReadAs, Tracks, probe};
pub use repeats::{RepeatMeter, Repeats};
pub use sound::read_sound;
pub use target::{check_target, check_target_of, same_file};
pub use upright::{Upright, stored};
pub use verify::Written;
pub use writer::{Finished, Preset, WriteOptions, Writer};
