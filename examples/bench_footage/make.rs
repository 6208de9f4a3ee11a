//! Making the files: the card's pictures are given to the ffmpeg command line, and some bytes are changed afterwards.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use super::Outcome;
use super::card::{HEIGHT, Kind, WIDTH};
use super::colour::stored_2020;

/// How many pictures of the card, at what rate, shown how.
#[derive(Debug, Clone)]
pub struct Film {
    pub kind: Kind,
    pub pictures: usize,
    pub rate: &'static str,
    /// The number each picture shows, by its place; none = the place itself.
    pub numbers: Option<Vec<usize>>,
    /// Stored turned by the display matrix of this place in [`MATRICES`].
    pub way: usize,
    pub options: Vec<String>,
}

/// The eight display matrices (a, b, c, d of ISO/IEC 14496-12 §6.2.2) and for each where the upright picture's pixel
/// (x, y) is stored: swapped sides, then counted from the right, from the bottom.
pub const MATRICES: [([i32; 4], [bool; 3]); 8] = [
    ([1, 0, 0, 1], [false, false, false]),
    ([0, 1, -1, 0], [true, false, true]),
    ([-1, 0, 0, -1], [false, true, true]),
    ([0, -1, 1, 0], [true, true, false]),
    ([-1, 0, 0, 1], [false, true, false]),
    ([0, 1, 1, 0], [true, false, false]),
    ([1, 0, 0, -1], [false, false, true]),
    ([0, -1, -1, 0], [true, true, true]),
];

impl Film {
    pub fn new(options: &str) -> Self {
        let options = options.split_whitespace().map(str::to_owned).collect();
        Self { kind: Kind::Sdr, pictures: 60, rate: "30", numbers: None, way: 0, options }
    }

    /// Write the film with ffmpeg; `{rate}` and the raw input come first, then the options.
    pub fn write(&self, path: &Path) -> Outcome<()> {
        let (_, [swap, _, _]) = MATRICES[self.way];
        let (width, height) = if swap { (HEIGHT, WIDTH) } else { (WIDTH, HEIGHT) };
        let wide = self.kind != Kind::Sdr;
        let mut command = Command::new("ffmpeg");
        command.args(["-v", "error", "-y", "-f", "rawvideo", "-s", &format!("{width}x{height}")]);
        command.args(["-pix_fmt", if wide { "yuv444p10le" } else { "rgb24" }, "-r", self.rate, "-i", "-"]);
        command.args(&self.options).arg(path);
        let mut child = command.stdin(Stdio::piped()).spawn()?;
        let mut pipe = child.stdin.take().ok_or("no pipe to ffmpeg")?;
        for place in 0..self.pictures {
            let n = self.numbers.as_ref().map_or(place, |all| all.get(place).copied().unwrap_or(place));
            pipe.write_all(&self.raw(n, width, height))?;
        }
        drop(pipe);
        if child.wait()?.success() {
            Ok(())
        } else {
            Err(format!("ffmpeg could not make {}", path.display()).into())
        }
    }

    fn raw(&self, n: usize, width: usize, height: usize) -> Vec<u8> {
        let (_, [swap, right, bottom]) = MATRICES[self.way];
        let mut pixels = Vec::with_capacity(width * height);
        for row in 0..height {
            for column in 0..width {
                let column = if right { width - 1 - column } else { column };
                let row = if bottom { height - 1 - row } else { row };
                let (x, y) = if swap { (row, column) } else { (column, row) };
                pixels.push(self.kind.signal(n, x, y));
            }
        }
        if self.kind == Kind::Sdr {
            return pixels.into_iter().flatten().map(|s| (s * 255.0).round() as u8).collect();
        }
        let codes: Vec<[u16; 3]> = pixels.into_iter().map(stored_2020).collect();
        (0..3).flat_map(|plane| codes.iter().flat_map(move |c| c[plane].to_le_bytes())).collect()
    }
}

/// Run ffmpeg on files that are there.
pub fn ffmpeg(words: &str) -> Outcome<()> {
    let done = Command::new("ffmpeg").args(["-v", "error", "-y"]).args(words.split_whitespace()).status()?;
    if done.success() { Ok(()) } else { Err(format!("ffmpeg {words}: {done}").into()) }
}

/// Put a display matrix into the first track's header (`tkhd`, version 0: 40 bytes after the type).
pub fn lay(path: &Path, way: usize) -> Outcome<()> {
    let mut bytes = std::fs::read(path)?;
    let at = find(&bytes, b"tkhd").ok_or("no track header")? + 4 + 40;
    let ([a, b, c, d], _) = MATRICES[way];
    let whole = |v: i32| v << 16;
    let matrix = [whole(a), whole(b), 0, whole(c), whole(d), 0, 0, 0, 1 << 30];
    for (i, value) in matrix.into_iter().enumerate() {
        bytes[at + 4 * i..at + 4 * i + 4].copy_from_slice(&value.to_be_bytes());
    }
    Ok(std::fs::write(path, bytes)?)
}

/// Put other letters of the same length in the place of some.
pub fn rename(path: &Path, from: &[u8; 4], to: &[u8; 4]) -> Outcome<()> {
    let mut bytes = std::fs::read(path)?;
    while let Some(at) = find(&bytes, from) {
        bytes[at..at + 4].copy_from_slice(to);
    }
    Ok(std::fs::write(path, bytes)?)
}

/// Leave only the part from one share of the file's length to another, or all but that.
pub fn keep(path: &Path, from: f64, to: f64, inside: bool) -> Outcome<()> {
    let bytes = std::fs::read(path)?;
    let at = |share: f64| (bytes.len() as f64 * share) as usize;
    let part = &bytes[at(from)..at(to)];
    let left = if inside { part.to_vec() } else { [&bytes[..at(from)], &bytes[at(to)..]].concat() };
    Ok(std::fs::write(path, left)?)
}

/// Noise over a part of the file.
pub fn spoil(path: &Path, from: f64, to: f64) -> Outcome<()> {
    let mut bytes = std::fs::read(path)?;
    let at = |share: f64| (bytes.len() as f64 * share) as usize;
    let (from, to) = (at(from), at(to));
    for (i, byte) in bytes[from..to].iter_mut().enumerate() {
        *byte = (i * 131 % 253) as u8;
    }
    Ok(std::fs::write(path, bytes)?)
}

fn find(bytes: &[u8], word: &[u8]) -> Option<usize> {
    bytes.windows(word.len()).position(|w| w == word)
}
