//! Frames in, frames out: all of FFmpeg and only here.
