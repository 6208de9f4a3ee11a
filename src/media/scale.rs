//! Size and pixel format, nothing else: colour is never left to the scaler's guesses.

use ff::ffi;
use ff::format::Pixel;
use ff::software::scaling;
use ffmpeg_next as ff;

use crate::messages::media as messages;

/// What a scaler was made for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Job {
    pub from: Pixel,
    pub from_size: (usize, usize),
    pub to: Pixel,
    pub to_size: (usize, usize),
    /// BT.2020 rather than BT.709 weights, used only where the source is RGB.
    pub wide: bool,
}

pub(super) struct Scaler {
    job: Job,
    context: scaling::Context,
    out: ff::frame::Video,
}

// SAFETY: an SwsContext is plain memory without ties to a thread; it is used by one owner at a time.
unsafe impl Send for Scaler {}

/// The old full-range formats laid out in memory like these; the range is dealt with afterwards, and
/// naming the plain format keeps the scaler from converting it on its own.
pub(super) fn plain(format: Pixel) -> Pixel {
    match format {
        Pixel::YUVJ420P => Pixel::YUV420P,
        Pixel::YUVJ422P => Pixel::YUV422P,
        Pixel::YUVJ444P => Pixel::YUV444P,
        Pixel::YUVJ440P => Pixel::YUV440P,
        Pixel::YUVJ411P => Pixel::YUV411P,
        other => other,
    }
}

/// Whether a format holds red, green and blue (palettes included).
pub(super) fn is_rgb(format: Pixel) -> bool {
    format.descriptor().is_some_and(|d| {
        // SAFETY: the descriptor points into FFmpeg's constant table.
        let flags = unsafe { (*d.as_ptr()).flags };
        let rgb = (ffi::AV_PIX_FMT_FLAG_RGB | ffi::AV_PIX_FMT_FLAG_PAL) as u64;
        flags & rgb != 0
    })
}

impl Scaler {
    pub(super) fn new(job: Job) -> Result<Self, String> {
        let flags = scaling::Flags::BICUBIC | scaling::Flags::ACCURATE_RND | scaling::Flags::FULL_CHR_H_INP;
        let size = |n: usize| u32::try_from(n).map_err(|_| messages::FRAME_TOO_LARGE.to_owned());
        let mut context = scaling::Context::get(
            job.from,
            size(job.from_size.0)?,
            size(job.from_size.1)?,
            job.to,
            size(job.to_size.0)?,
            size(job.to_size.1)?,
            flags,
        )
        .map_err(|e| messages::unknown_pixels(&job.from, &e))?;
        let table = if job.wide { ffi::SWS_CS_BT2020 } else { ffi::SWS_CS_ITU709 };
        // RGB is full range; luma and chroma keep whatever range they have: the same words on both
        // sides make the scaler leave them alone.
        let from_full = i32::from(is_rgb(job.from));
        // SAFETY: the context is live and ours; the tables are FFmpeg's constants. The return value
        // says "not supported" for RGB to RGB only, which never happens here.
        unsafe {
            let table = ffi::sws_getCoefficients(table);
            ffi::sws_setColorspaceDetails(
                context.as_mut_ptr(),
                table,
                from_full,
                table,
                0,
                0,
                1 << 16,
                1 << 16,
            );
        }
        let out = ff::frame::Video::new(job.to, size(job.to_size.0)?, size(job.to_size.1)?);
        Ok(Self { job, context, out })
    }

    pub(super) fn job(&self) -> &Job {
        &self.job
    }

    /// The picture in the job's size and format; overwritten by the next call.
    pub(super) fn run(&mut self, frame: &ff::frame::Video) -> Result<&ff::frame::Video, String> {
        let fits = plain(frame.format()) == self.job.from
            && frame.width() as usize >= self.job.from_size.0
            && frame.height() as usize >= self.job.from_size.1;
        if !fits {
            return Err(messages::FRAME_UNLIKE_SCALER.into());
        }
        // SAFETY: `fits` says the source planes hold what the context was made for; `out` was
        // allocated for the job's size and format and nobody else refers to its buffers.
        let rows = unsafe {
            let (from, to) = (frame.as_ptr(), self.out.as_mut_ptr());
            if (*to).data[0].is_null() {
                return Err(messages::OUT_OF_MEMORY.into());
            }
            ffi::sws_scale(
                self.context.as_mut_ptr(),
                (*from).data.as_ptr().cast(),
                (*from).linesize.as_ptr(),
                0,
                self.job.from_size.1 as i32,
                (*to).data.as_ptr(),
                (*to).linesize.as_ptr(),
            )
        };
        if rows <= 0 { Err("scaling failed".into()) } else { Ok(&self.out) }
    }
}
