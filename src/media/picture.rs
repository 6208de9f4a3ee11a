//! From a decoded picture, whatever it is, to a [`Frame`]: size, format, colour, upright.

use ff::format::Pixel;
use ffmpeg_next as ff;

use super::colour::{Coding, Light, Tags, ToBt709, Weights};
use super::lut::Lut;
use super::planes::Rows;
use super::scale::{Job, Scaler, is_rgb, plain};
use super::upright::Upright;
use crate::ground::Frame;

/// Makes frames of one size out of decoded pictures. Keeps its scaler while pictures stay alike.
pub(super) struct Painter {
    upright: Upright,
    /// Size before turning upright, even, px.
    size: (usize, usize),
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
    /// Frames of upright size `out` (even, px).
    pub(super) fn new(upright: Upright, out: (usize, usize)) -> Self {
        // Swapping sides is its own inverse.
        Self { upright, size: upright.size(out.0, out.1), scaler: None, colour: None }
    }

    pub(super) fn paint(&mut self, decoded: &ff::frame::Video) -> Result<Frame, String> {
        let coding = Coding::from_tags(&tags(decoded));
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

/// The three planes of a 4:2:0 picture.
fn rows(
    picture: &ff::frame::Video,
    width: usize,
    height: usize,
    sample_bytes: usize,
) -> Result<[Rows<'_>; 3], String> {
    let plane = |plane: usize, width: usize, height: usize| {
        Rows::of(picture, plane, width * sample_bytes, height).ok_or("a plane is missing")
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
