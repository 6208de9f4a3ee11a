//! What the scene about the hitter looks like, roughly: whether two clips show one place in one light.

use crate::types::{Frame, SceneLuma};

/// Everyone, followed within each shot: across a cut nobody is the same.
/// Mean luma of each cell of a coarse grid.
pub fn luma(frame: &Frame) -> SceneLuma {
    let (columns, rows) = (SceneLuma::WIDTH, SceneLuma::HEIGHT);
    let mut sums = vec![(0u64, 0u64); columns * rows];
    for y in 0..frame.height() {
        let row = y * rows / frame.height();
        for (x, luma) in frame.y.row(y).iter().enumerate() {
            if let Some((sum, n)) = sums.get_mut(row * columns + x * columns / frame.width()) {
                *sum += u64::from(*luma);
                *n += 1;
            }
        }
    }
    SceneLuma { cells: sums.into_iter().map(|(sum, n)| (sum / n.max(1)) as u8).collect() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_cell_is_the_mean_of_its_pixels() {
        let mut frame = Frame::black(64, 36);
        for y in 0..36 {
            for (x, luma) in frame.y.row_mut(y).iter_mut().enumerate() {
                *luma = if x < 32 { 100 } else { 40 + 2 * (y % 2) as u8 };
            }
        }
        let cells = luma(&frame).cells;
        assert_eq!(cells.len(), SceneLuma::WIDTH * SceneLuma::HEIGHT);
        assert!(cells.chunks(SceneLuma::WIDTH).all(|r| r[..8] == [100; 8] && r[8..] == [41; 8]), "{cells:?}");
    }
}
