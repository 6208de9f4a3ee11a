//! The kinds of footage: how each is made and what should come of it.

mod files;
mod pictures;
mod times;

use std::path::Path;

use super::Outcome;
use super::card::{HEIGHT, Kind, WIDTH};
use super::make::{self, Film};

/// Makes a file in the given place.
type Make = Box<dyn Fn(&Path) -> Outcome<()>>;

pub struct Row {
    pub name: String,
    pub file: String,
    pub make: Make,
    pub recorded_at_hz: Option<f64>,
    pub expect: Expect,
}

pub enum Expect {
    Read(Wanted),
    /// One sentence with this in it.
    Refused(&'static str),
}

#[derive(Debug, Clone)]
pub struct Wanted {
    pub kind: Kind,
    pub size: (usize, usize),
    pub rate_hz: f64,
    pub capture_rate_hz: f64,
    /// The numbers the pictures show; `None` where the codec is too coarse to read them or some are lost.
    pub numbers: Option<Vec<usize>>,
    /// Whether the bar stands where picture after picture it should.
    pub bars: bool,
    /// Fewest and most pictures that can be had.
    pub got: (usize, usize),
    /// Codes that patches may be off by, largest of the three (SDR), or ΔE*ab (HDR).
    pub patches_within: f64,
    /// Whether ffprobe's times are to agree (not where fields become pictures or damage is met).
    pub as_ffprobe: bool,
    /// A warning that must be there.
    pub says: Option<&'static str>,
}

impl Wanted {
    fn plain() -> Self {
        Self {
            kind: Kind::Sdr,
            size: (WIDTH, HEIGHT),
            rate_hz: 30.0,
            capture_rate_hz: 30.0,
            numbers: Some((0..60).collect()),
            bars: false,
            got: (60, 60),
            patches_within: 2.0,
            as_ffprobe: true,
            says: None,
        }
    }

    fn numbers(numbers: Vec<usize>) -> Self {
        let n = numbers.len();
        Self { got: (n, n), numbers: Some(numbers), ..Self::plain() }
    }
}

const H264: &str = "-vf scale=out_color_matrix=bt709:out_range=tv:flags=accurate_rnd+full_chroma_int -pix_fmt yuv420p \
    -c:v libx264 -crf 4 -g 12 -colorspace bt709 -color_primaries bt709 -color_trc bt709 -color_range tv";

fn coded(codec: &str) -> String {
    H264.replace("-c:v libx264 -crf 4", codec)
}

fn row(name: &str, file: &str, film: Film, wanted: Wanted) -> Row {
    Row {
        name: name.to_owned(),
        file: file.to_owned(),
        make: Box::new(move |path| film.write(path)),
        recorded_at_hz: None,
        expect: Expect::Read(wanted),
    }
}

/// A film, and what is then done to it.
fn changed(
    name: &str,
    file: &str,
    film: Film,
    expect: Expect,
    change: impl Fn(&Path) -> Outcome<()> + 'static,
) -> Row {
    let make = move |path: &Path| {
        film.write(path)?;
        change(path)
    };
    Row { name: name.to_owned(), file: file.to_owned(), make: Box::new(make), recorded_at_hz: None, expect }
}

/// A film kept beside, and ffmpeg's words that make the file of it (`IN`, `OUT`).
fn from_film(name: &str, file: &str, film: Film, words: &str, wanted: Wanted) -> Row {
    let words = words.to_owned();
    let make = move |path: &Path| {
        let source = path.with_extension("source.mov");
        film.write(&source)?;
        make::ffmpeg(
            &words.replace("IN", &source.to_string_lossy()).replace("OUT", &path.to_string_lossy()),
        )?;
        Ok(std::fs::remove_file(source)?)
    };
    read(name, file, make, wanted)
}

/// A file that is read, made by `make`.
fn read(name: &str, file: &str, make: impl Fn(&Path) -> Outcome<()> + 'static, wanted: Wanted) -> Row {
    Row {
        name: name.to_owned(),
        file: file.to_owned(),
        make: Box::new(make),
        recorded_at_hz: None,
        expect: Expect::Read(wanted),
    }
}

pub fn all() -> Vec<Row> {
    [
        times::times(),
        times::lying(),
        pictures::fields(),
        pictures::colours(),
        pictures::shapes(),
        files::containers(),
        files::tracks(),
        times::damage(),
    ]
    .into_iter()
    .flatten()
    .collect()
}
