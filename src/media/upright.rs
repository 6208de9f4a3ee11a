//! Turning and mirroring the stored picture so that it stands upright.

use super::cut::Part;
use crate::types::{Frame, Plane};

/// One of the eight ways to lay a picture: perhaps swap rows and columns, then flip.
/// The upright picture's pixel (x, y) is the stored picture's
/// (`swap` ? y : x, `swap` ? x : y), each counted from the far end where flipped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Upright {
    pub(crate) swap: bool,
    /// The stored column is counted from the right.
    pub flip_column: bool,
    /// The stored row is counted from the bottom.
    pub flip_row: bool,
}

impl Upright {
    pub(crate) const AS_STORED: Self = Self { swap: false, flip_column: false, flip_row: false };

    /// From a display matrix (ISO/IEC 14496-12 §6.2.2: x' = a·x + c·y, y' = b·x + d·y, y down).
    /// Odd angles fall to the nearest quarter turn.
    pub fn from_matrix(a: i32, b: i32, c: i32, d: i32) -> Self {
        let size = |v: i32| i64::from(v).abs();
        let swap = size(b) + size(c) > size(a) + size(d);
        if swap {
            Self { swap, flip_column: b < 0, flip_row: c < 0 }
        } else {
            Self { swap, flip_column: a < 0, flip_row: d < 0 }
        }
    }

    /// From a turn the player makes, clockwise quarter turns in degrees, after mirroring left–right.
    pub fn from_turn(clockwise_deg: i32, mirrored: bool) -> Self {
        let (a, b, c, d) = matrix(clockwise_deg, mirrored);
        Self::from_matrix(a, b, c, d)
    }

    /// The display matrix (a, b, c, d) that asks for it, in whole units: [`Self::from_matrix`] back.
    pub(super) fn matrix(self) -> (i32, i32, i32, i32) {
        let sign = |flipped: bool| if flipped { -1 } else { 1 };
        let (column, row) = (sign(self.flip_column), sign(self.flip_row));
        if self.swap { (0, column, row, 0) } else { (column, 0, 0, row) }
    }

    /// Width and height once upright.
    pub fn size(self, width: usize, height: usize) -> (usize, usize) {
        if self.swap { (height, width) } else { (width, height) }
    }

    /// The stored part that shows as `part` of the upright picture, whose size is `native`.
    pub(super) fn stored_part(self, part: Part, native: (usize, usize)) -> Part {
        let (stored_width, stored_height) = self.size(native.0, native.1);
        let Part { x, y, width, height } = match self.swap {
            true => Part { x: part.y, y: part.x, width: part.height, height: part.width },
            false => part,
        };
        let x = if self.flip_column { stored_width.saturating_sub(x + width) } else { x };
        let y = if self.flip_row { stored_height.saturating_sub(y + height) } else { y };
        Part { x, y, width, height }
    }

    /// The way back: from upright to stored.
    pub fn inverse(self) -> Self {
        if self.swap {
            Self { swap: true, flip_column: self.flip_row, flip_row: self.flip_column }
        } else {
            self
        }
    }

    /// Lay one plane. `rows` gives the stored row by number, at least `width` long.
    pub(super) fn plane<'a>(self, width: usize, height: usize, rows: impl Fn(usize) -> &'a [u8]) -> Plane {
        let (out_width, out_height) = self.size(width, height);
        let mut data = Vec::with_capacity(out_width * out_height);
        if self.swap {
            data.resize(out_width * out_height, 0);
            for_each_tile(out_width, out_height, |xs, ys| {
                for x in xs {
                    let row = rows(if self.flip_row { height - 1 - x } else { x });
                    for y in ys.clone() {
                        let column = if self.flip_column { width - 1 - y } else { y };
                        data[y * out_width + x] = row[column];
                    }
                }
            });
        } else {
            for y in 0..height {
                let row = &rows(if self.flip_row { height - 1 - y } else { y })[..width];
                if self.flip_column {
                    data.extend(row.iter().rev());
                } else {
                    data.extend_from_slice(row);
                }
            }
        }
        Plane { width: out_width, height: out_height, data }
    }

    /// Lay a whole picture. Chroma moves with its luma block; its quarter-pixel siting is left as is.
    pub fn frame(self, frame: &Frame) -> Frame {
        let lay = |p: &Plane| self.plane(p.width, p.height, |y| p.row(y));
        Frame { y: lay(&frame.y), u: lay(&frame.u), v: lay(&frame.v) }
    }
}

/// Columns read across rows miss the cache at every step; small tiles keep both sides in it.
fn for_each_tile(
    width: usize,
    height: usize,
    mut tile: impl FnMut(std::ops::Range<usize>, std::ops::Range<usize>),
) {
    const SIDE: usize = 32;
    for y in (0..height).step_by(SIDE) {
        for x in (0..width).step_by(SIDE) {
            tile(x..(x + SIDE).min(width), y..(y + SIDE).min(height));
        }
    }
}

/// (a, b, c, d) in whole units for mirroring left–right, then a clockwise turn by quarter turns.
pub(super) fn matrix(clockwise_deg: i32, mirrored: bool) -> (i32, i32, i32, i32) {
    let (cos, sin) = match clockwise_deg.rem_euclid(360) / 90 {
        0 => (1, 0),
        1 => (0, 1),
        2 => (-1, 0),
        _ => (0, -1),
    };
    let m = if mirrored { -1 } else { 1 };
    (m * cos, m * sin, -sin, cos)
}

/// What must be stored so that a player that mirrors left–right (when `mirrored`) and then turns
/// clockwise by `display_rotation_deg` shows `upright`.
pub fn stored(upright: &Frame, display_rotation_deg: i32, mirrored: bool) -> Frame {
    Upright::from_turn(display_rotation_deg, mirrored).inverse().frame(upright)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two rows: 1 2 3 over 4 5 6.
    fn lay(way: Upright) -> (usize, Vec<u8>) {
        let stored = [[1u8, 2, 3], [4, 5, 6]];
        let plane = way.plane(3, 2, |y| &stored[y]);
        (plane.width, plane.data)
    }

    #[test]
    fn quarter_turns_go_clockwise() {
        assert_eq!(lay(Upright::from_turn(0, false)), (3, vec![1, 2, 3, 4, 5, 6]));
        assert_eq!(lay(Upright::from_turn(90, false)), (2, vec![4, 1, 5, 2, 6, 3]));
        assert_eq!(lay(Upright::from_turn(180, false)), (3, vec![6, 5, 4, 3, 2, 1]));
        assert_eq!(lay(Upright::from_turn(270, false)), (2, vec![3, 6, 2, 5, 1, 4]));
    }

    #[test]
    fn mirrors_come_before_turns() {
        assert_eq!(lay(Upright::from_turn(0, true)), (3, vec![3, 2, 1, 6, 5, 4]));
        assert_eq!(lay(Upright::from_turn(90, true)), (2, vec![6, 3, 5, 2, 4, 1]));
        assert_eq!(lay(Upright::from_turn(180, true)), (3, vec![4, 5, 6, 1, 2, 3]));
        assert_eq!(lay(Upright::from_turn(-90, true)), (2, vec![1, 4, 2, 5, 3, 6]));
    }

    #[test]
    fn every_way_has_a_way_back() {
        let mut frame = Frame::black(70, 34);
        for (i, v) in frame.y.data.iter_mut().enumerate() {
            *v = (i * 7 % 251) as u8;
        }
        for turn in [0, 90, 180, 270] {
            for mirrored in [false, true] {
                let way = Upright::from_turn(turn, mirrored);
                assert_eq!(way.frame(&way.inverse().frame(&frame)), frame, "{turn} {mirrored}");
            }
        }
    }
}
