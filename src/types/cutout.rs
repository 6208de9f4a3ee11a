use serde::{Deserialize, Serialize};

use super::{Point, Similarity};

/// Where the hitter's body is in some pictures of a clip, and the bat where it was found.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Cutouts {
    /// In time order.
    pub looks: Vec<Cutout>,
}

/// The body in one picture, on a square grid that lies on it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Cutout {
    /// Real s.
    pub time_s: f64,
    /// From grid cells (a cell's centre at .5) to picture px.
    pub picture_from_grid: Similarity,
    /// Cells along each side.
    pub side: usize,
    /// Row by row, 0 (not the body) … 15, as letters a…p, each followed by how often it is repeated when more
    /// than once.
    cover: String,
    /// The bat, where it was found.
    pub bat: Option<BatBar>,
}

/// The bat in one picture, px.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct BatBar {
    /// The hands' middle.
    pub hands: Point,
    /// Its far end, px.
    pub tip: Point,
    /// Half the angle that it sweeps while the shutter is open, rad.
    pub sweep_rad: f64,
}

impl Cutout {
    /// `cover`: `side` × `side`, 0…255.
    pub fn new(time_s: f64, picture_from_grid: Similarity, side: usize, cover: &[u8]) -> Self {
        Self { time_s, picture_from_grid, side, cover: packed(cover), bat: None }
    }

    /// The same with this bat.
    pub fn with_bat(self, bat: Option<BatBar>) -> Self {
        Self { bat, ..self }
    }

    /// `side` × `side`, 0…255; `None` where what was kept is not that.
    pub fn cover(&self) -> Option<Vec<u8>> {
        let side = Some(self.side).filter(|side| *side <= LARGEST_SIDE)?;
        unpacked(&self.cover, side * side)
    }
}

/// Several times the grid that bodies are cut out on; what was kept may say anything.
const LARGEST_SIDE: usize = 2048;

const LEVELS: u8 = 16;

fn packed(cover: &[u8]) -> String {
    let mut out = String::new();
    for run in cover.chunk_by(|a, b| a / LEVELS == b / LEVELS) {
        let level = run.first().map_or(0, |v| v / LEVELS);
        out.push(char::from(b'a' + level));
        if run.len() > 1 {
            out.push_str(&run.len().to_string());
        }
    }
    out
}

fn unpacked(text: &str, length: usize) -> Option<Vec<u8>> {
    let mut out = Vec::with_capacity(length.min(1 << 20));
    let mut rest = text.as_bytes();
    while let [letter, tail @ ..] = rest {
        let level = letter.checked_sub(b'a').filter(|l| *l < LEVELS)?;
        let digits = tail.iter().take_while(|c| c.is_ascii_digit()).count();
        let (number, after) = tail.split_at(digits);
        let repeats = match number {
            [] => 1,
            _ => std::str::from_utf8(number).ok()?.parse().ok()?,
        };
        if repeats > length - out.len() {
            return None;
        }
        out.resize(out.len() + repeats, level * 17);
        rest = after;
    }
    (out.len() == length).then_some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cover_comes_back_to_a_sixteenth() {
        let cover: Vec<u8> = (0..64 * 64).map(|i| ((i / 37) * 11 % 256) as u8).collect();
        let back = Cutout::new(0.0, Similarity::IDENTITY, 64, &cover).cover().unwrap();
        assert!(cover.iter().zip(&back).all(|(a, b)| a.abs_diff(*b) <= 15));
        assert_eq!(packed(&[0, 0, 0, 255, 128]), "a3pi");
    }

    #[test]
    fn what_is_no_cover_is_refused() {
        for text in ["a3", "a5", "a99999999999999999999", "z4", "4a", "a2é"] {
            assert_eq!(unpacked(text, 4), None, "{text}");
        }
        assert_eq!(unpacked("a4", 4), Some(vec![0; 4]));
        let side = 1 << 20;
        let cover = format!("a{}", side * side);
        let vast = Cutout { side, cover, ..Cutout::new(0.0, Similarity::IDENTITY, 1, &[0]) };
        assert_eq!(vast.cover(), None);
    }
}
