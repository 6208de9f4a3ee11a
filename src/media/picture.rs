//! From a decoded picture, whatever it is, to a [`Frame`]: size, format, colour, upright.

use ff::format::Pixel;
use ffmpeg_next as ff;

use super::colour::{Coding, Light, Tags, ToBt709, Weights};
use super::cut::{Cut, Part};
use super::lut::Lut;
use super::planes::Rows;
use super::scale::{Job, Scaler, is_rgb, plain};
use super::upright::Upright;
use crate::messages::media as messages;
use crate::types::Frame;

/// Makes frames of one size out of decoded pictures. Keeps its scaler while pictures stay alike.
pub(super) struct Painter {
    upright: Upright,
    /// Size before turning upright, even, px.
    size: (usize, usize),
    /// A stored picture's size with square pixels, even, px, and the part that is taken of it.
    stored: (usize, usize),
    part: Part,
    scaler: Option<Scaler>,
    colour: Option<(Coding, Colour)>,
}

/// What is done about colour.
enum Colour {
    /// It is right as it is.
    Keep,
    Linear(ToBt709),
    Table(Lut),
}

/// The tags of a decoded picture.
pub(super) fn tags(frame: &ff::frame::Video) -> Tags {
    let format = frame.format();
    Tags {
        space: frame.color_space(),
        range: frame.color_range(),
        transfer: frame.color_transfer_characteristic(),
        primaries: frame.color_primaries(),
        full_format: plain(format) != format,
        rgb: is_rgb(format),
        width: frame.width() as usize,
        height: frame.height() as usize,
    }
}

impl Painter {
    /// Frames of the part `cut` of upright pictures of `native` size.
    pub(super) fn new(upright: Upright, native: (usize, usize), cut: Cut) -> Self {
        // Swapping sides is its own inverse.
        let stored = upright.size(native.0, native.1);
        let part = upright.stored_part(Part::of(&cut), native);
        Self { upright, size: upright.size(cut.size.0, cut.size.1), stored, part, scaler: None, colour: None }
    }

    /// Makes the frame; of `decoded` only the part that was asked for is left.
    pub(super) fn paint(&mut self, decoded: &mut ff::frame::Video) -> Result<Frame, String> {
        // Asked of the whole picture: what its tags leave open is told by its size.
        let coding = Coding::from_tags(&tags(decoded));
        if self.part != Part::whole(self.stored) {
            keep_part(decoded, self.part, self.stored)?;
        }
        let decoded: &ff::frame::Video = decoded;
        if self.colour.as_ref().is_none_or(|(c, _)| *c != coding) {
            let colour = match coding.light {
                Light::Sdr if coding.is_output() => Colour::Keep,
                Light::Sdr => Colour::Linear(ToBt709::from_coding(&coding)),
                Light::WideSdr | Light::Hlg | Light::Pq => Colour::Table(Lut::new(&coding)),
            };
            self.colour = Some((coding, colour));
        }
        let (width, height) = self.size;
        match &self.colour {
            // Scale first: the table is the dearest step, so it sees as few pixels as can be.
            Some((_, Colour::Table(lut))) => {
                let picture = fitted(&mut self.scaler, decoded, Pixel::YUV420P10LE, self.size, &coding)?;
                let [y, u, v] = rows(picture, width, height, 2)?;
                let frame = lut.apply(width, height, |r| y.row(r), |r| u.row(r), |r| v.row(r));
                Ok(if self.upright == Upright::AS_STORED { frame } else { self.upright.frame(&frame) })
            }
            colour => {
                let picture = fitted(&mut self.scaler, decoded, Pixel::YUV420P, self.size, &coding)?;
                let [y, u, v] = rows(picture, width, height, 1)?;
                let mut frame = Frame {
                    y: self.upright.plane(width, height, |r| y.row(r)),
                    u: self.upright.plane(width / 2, height / 2, |r| u.row(r)),
                    v: self.upright.plane(width / 2, height / 2, |r| v.row(r)),
                };
                if let Some((_, Colour::Linear(linear))) = colour {
                    linear.apply(&mut frame);
                }
                Ok(frame)
            }
        }
    }
}

/// Leave only `part` of a picture that would be `stored` px with square pixels.
fn keep_part(decoded: &mut ff::frame::Video, part: Part, stored: (usize, usize)) -> Result<(), String> {
    let (width, height) = (decoded.width() as usize, decoded.height() as usize);
    let scaled = |at: usize, stored: usize, real: usize| {
        if stored == real & !1 { at } else { ((at * real + stored / 2) / stored.max(1)) & !1 }
    };
    let (left, right) = (scaled(part.x, stored.0, width), scaled(part.x + part.width, stored.0, width));
    let (top, bottom) = (scaled(part.y, stored.1, height), scaled(part.y + part.height, stored.1, height));
    if right < left + 2 || bottom < top + 2 || right > width || bottom > height {
        return Err(messages::CROP_OUTSIDE.into());
    }
    // SAFETY: the frame is live and ours; its crop fields are documented for the caller to set, and the call moves
    // the plane pointers within their buffers after checking the fields against the frame's own size.
    let done = unsafe {
        let raw = decoded.as_mut_ptr();
        (*raw).crop_left = left;
        (*raw).crop_right = width - right;
        (*raw).crop_top = top;
        (*raw).crop_bottom = height - bottom;
        ff::ffi::av_frame_apply_cropping(raw, ff::ffi::AV_FRAME_CROP_UNALIGNED as i32)
    };
    if done < 0 { Err(ff::Error::from(done).to_string()) } else { Ok(()) }
}

/// The three planes of a 4:2:0 picture.
fn rows(
    picture: &ff::frame::Video,
    width: usize,
    height: usize,
    sample_bytes: usize,
) -> Result<[Rows<'_>; 3], String> {
    let plane = |plane: usize, width: usize, height: usize| {
        Rows::of(picture, plane, width * sample_bytes, height).ok_or(messages::PLANE_MISSING)
    };
    Ok([plane(0, width, height)?, plane(1, width / 2, height / 2)?, plane(2, width / 2, height / 2)?])
}

/// The picture in format `to` and `size`: itself where it is so already (an odd last row or column
/// is left off), else scaled.
fn fitted<'a>(
    scaler: &'a mut Option<Scaler>,
    decoded: &'a ff::frame::Video,
    to: Pixel,
    size: (usize, usize),
    coding: &Coding,
) -> Result<&'a ff::frame::Video, String> {
    let from = plain(decoded.format());
    let from_size = (decoded.width() as usize & !1, decoded.height() as usize & !1);
    if from == to && from_size == size {
        return Ok(decoded);
    }
    let job = Job { from, from_size, to, to_size: size, wide: coding.weights == Weights::BT2020 };
    if scaler.as_ref().is_none_or(|s| *s.job() != job) {
        *scaler = Some(Scaler::new(job)?);
    }
    match scaler {
        Some(scaler) => scaler.run(decoded),
        None => Err("no scaler".into()),
    }
}
