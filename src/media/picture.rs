//! From a decoded picture, whatever it is, to a [`Frame`]: size, format, colour, upright.

use ff::format::Pixel;
use ffmpeg_next as ff;

use super::colour::{Coding, Tags, ToBt709};
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
    colour: Option<(Coding, ToBt709)>,
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
        let picture = fitted(&mut self.scaler, decoded, Pixel::YUV420P, self.size)?;
        let (width, height) = self.size;
        let lay = |plane: usize, width: usize, height: usize| {
            let rows = Rows::of(picture, plane, width, height).ok_or("a plane is missing")?;
            Ok::<_, String>(self.upright.plane(width, height, |y| rows.row(y)))
        };
        let mut frame = Frame {
            y: lay(0, width, height)?,
            u: lay(1, width / 2, height / 2)?,
            v: lay(2, width / 2, height / 2)?,
        };
        if !coding.is_output() {
            if self.colour.as_ref().is_none_or(|(c, _)| *c != coding) {
                self.colour = Some((coding, ToBt709::from_coding(&coding)));
            }
            if let Some((_, colour)) = &self.colour {
                colour.apply(&mut frame);
            }
        }
        Ok(frame)
    }
}

/// The picture in format `to` and `size`: itself where it is so already (an odd last row or column
/// is left off), else scaled.
fn fitted<'a>(
    scaler: &'a mut Option<Scaler>,
    decoded: &'a ff::frame::Video,
    to: Pixel,
    size: (usize, usize),
) -> Result<&'a ff::frame::Video, String> {
    let from = plain(decoded.format());
    let from_size = (decoded.width() as usize & !1, decoded.height() as usize & !1);
    if from == to && from_size == size {
        return Ok(decoded);
    }
    let wide = Coding::from_tags(&tags(decoded)).weights == super::colour::Weights::BT2020;
    let job = Job { from, from_size, to, to_size: size, wide };
    if scaler.as_ref().is_none_or(|s| *s.job() != job) {
        *scaler = Some(Scaler::new(job)?);
    }
    match scaler {
        Some(scaler) => scaler.run(decoded),
        None => Err("no scaler".into()),
    }
}
