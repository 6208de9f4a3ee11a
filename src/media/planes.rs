//! Safe views of a decoded picture's memory.

use ffmpeg_next as ff;

/// Rows of one plane of a decoded picture, as bytes.
pub(super) struct Rows<'a> {
    frame: &'a ff::frame::Video,
    plane: usize,
    row_bytes: usize,
    rows: usize,
}

impl<'a> Rows<'a> {
    /// `None` when the plane is not there or its rows are shorter than `row_bytes`.
    /// `rows` must not exceed the plane's height for the frame's format; the caller derives both
    /// from the frame's own size.
    pub(super) fn of(
        frame: &'a ff::frame::Video,
        plane: usize,
        row_bytes: usize,
        rows: usize,
    ) -> Option<Self> {
        let shift = u32::from(plane == 1 || plane == 2);
        let format = frame.format();
        let descriptor = format.descriptor()?;
        let tall = if shift == 1 { u32::from(descriptor.log2_chroma_h()) } else { 0 };
        let plane_rows = (frame.height() as usize).div_ceil(1 << tall);
        // SAFETY: reads two fields of a live AVFrame; `plane` < 8 is checked first.
        let (data, stride) = unsafe {
            let raw = frame.as_ptr();
            if plane >= 8 {
                return None;
            }
            ((*raw).data[plane], (*raw).linesize[plane])
        };
        let long_enough = (stride.unsigned_abs() as usize) >= row_bytes;
        (!data.is_null() && long_enough && rows <= plane_rows).then_some(Self {
            frame,
            plane,
            row_bytes,
            rows,
        })
    }

    /// Row `y` from the top; the last one again below it.
    pub(super) fn row(&self, y: usize) -> &'a [u8] {
        let y = y.min(self.rows.saturating_sub(1));
        // SAFETY: `of` checked that the plane exists, that every row holds `row_bytes` and that
        // there are `rows` rows; linesize may be negative (stored bottom up), so the offset is
        // signed. The slice lives no longer than the borrowed frame, which owns the memory.
        unsafe {
            let raw = self.frame.as_ptr();
            let start = (*raw).data[self.plane].offset((*raw).linesize[self.plane] as isize * y as isize);
            std::slice::from_raw_parts(start, self.row_bytes)
        }
    }
}
