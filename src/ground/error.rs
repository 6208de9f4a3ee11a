use std::path::{Path, PathBuf};

use super::limits::Bound;

pub type Result<T> = std::result::Result<T, Error>;

/// Everything that can go wrong, each as one sentence that names the file, the cause and the way out.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    #[error("{}: there is no such file; check the name and the folder", .path.display())]
    Missing { path: PathBuf },
    #[error("{}: cannot be read ({cause}); check that it is a file you may open", .path.display())]
    Unreadable { path: PathBuf, cause: String },
    #[error("{}: the file is empty; copy it from the phone again", .path.display())]
    Empty { path: PathBuf },
    #[error("{}: holds no picture that can be played ({cause}); give a video file", .path.display())]
    NotVideo { path: PathBuf, cause: String },
    #[error("{}: holds {frames} picture(s), too few to see a swing; film the whole swing", .path.display())]
    TooShort { path: PathBuf, frames: usize },
    #[error("{}: no person was found; film the whole body, head to feet, in good light", .path.display())]
    NoPerson { path: PathBuf },
    #[error("{}: no swing was found ({cause}); check that it shows a whole swing, or point at the hitter with --hitter X,Y", .path.display())]
    NoSwing { path: PathBuf, cause: String },
    #[error("{}: {damage}, and no swing is found in what is left ({cause}); copy it from the phone again", .path.display())]
    Damaged { path: PathBuf, damage: String, cause: String },
    #[error("{}: the file ends too soon, a part of it is missing; copy it from the phone again", .path.display())]
    CutShort { path: PathBuf },
    #[error("{}: no swing was found at {x:.0},{y:.0} ({cause}); point at the hitter's body at stance, px from the upper left corner of the picture, which is {width} × {height}, or leave --hitter out", .path.display())]
    NobodyThere { path: PathBuf, x: f64, y: f64, width: usize, height: usize, cause: String },
    #[error("{}: {cause}", .path.display())]
    SpeedChanges { path: PathBuf, cause: String },
    #[error("{}: decoding stopped ({cause}); copy the file again or cut out the damaged part", .path.display())]
    Decode { path: PathBuf, cause: String },
    #[error("{}: cannot be written ({cause}); choose another place", .path.display())]
    Unwritable { path: PathBuf, cause: String },
    #[error("{}: its name {has}; only {made}, so give a name that ends so", .path.display())]
    Ending { path: PathBuf, has: String, made: String },
    #[error("{}: encoding failed ({cause})", .path.display())]
    Encode { path: PathBuf, cause: String },
    #[error("{}: the made file failed its check ({cause}) and was not kept; try again or choose another --size", .path.display())]
    Verify { path: PathBuf, cause: String },
    #[error("{}: is also an input; choose another name with -o", .path.display())]
    OutputIsInput { path: PathBuf },
    #[error("{}: holds no sound that can be heard ({cause}); record the note again and give a sound or video file", .path.display())]
    NoSound { path: PathBuf, cause: String },
    #[error("{}: cannot be made so small; at this size and length it takes {}: allow that with --max-size, or give a smaller --size", .path.display(), super::words::play::bytes_up(*.smallest))]
    SizeUnmet { path: PathBuf, smallest: u64 },
    #[error("{}: holds {} {}, more than the {} that are taken on; if it is meant to, allow it with --limit {}={}", .path.display(), shown(*.has), .bound.counts(), shown(*.most), .bound.word(), .has.ceil())]
    OverLimit { path: PathBuf, bound: Bound, has: f64, most: f64 },
    #[error("{}: is not a keypoint file this program can use ({cause}); give COCO keypoint JSON", .path.display())]
    Keypoints { path: PathBuf, cause: String },
    #[error("{}: is not a shot plan this program can use ({cause}); `swingpair plan` prints one to edit", .path.display())]
    Plan { path: PathBuf, cause: String },
    #[error("{}: is not a lesson this program can use ({cause}); `swingpair lesson --new FOLDER` drafts one", .path.display())]
    Lesson { path: PathBuf, cause: String },
    #[error("{}: the known length cannot be used ({cause}); mark two points in the first picture, px from its upper left corner", .path.display())]
    KnownLength { path: PathBuf, cause: String },
    #[error("{}: is not a reading of this program ({cause}); delete it and read the clip again", .path.display())]
    Sidecar { path: PathBuf, cause: String },
    #[error("the two clips cannot be lined up: {cause}")]
    NotLinedUp { cause: String },
    #[error("the two readings cannot be paired: {cause}")]
    Unpairable { cause: String },
    #[error("“{text}” holds the character {character} (U+{:04X}), which the built-in font cannot draw; use other letters", u32::from(*.character))]
    Glyph { character: char, text: String },
    #[error("the pose net failed: {cause}")]
    Net { cause: String },
    #[error("{0}")]
    Usage(String),
    #[error("a worker stopped without saying why")]
    WorkerLost,
    #[error("interrupted")]
    Cancelled,
}

/// A number to one place, the last half of it never against the limit: rounded up.
fn shown(number: f64) -> f64 {
    (number * 10.0).ceil() / 10.0
}

impl Error {
    /// The fitting error for an I/O failure while opening `path` for reading.
    pub fn reading(path: &Path, cause: &std::io::Error) -> Self {
        let path = path.to_owned();
        match cause.kind() {
            std::io::ErrorKind::NotFound => Self::Missing { path },
            _ => Self::Unreadable { path, cause: cause.to_string() },
        }
    }

    /// The fitting error for an I/O failure while writing `path`.
    pub fn writing(path: &Path, cause: &std::io::Error) -> Self {
        use std::io::ErrorKind::{
            FileTooLarge, NotFound, PermissionDenied, QuotaExceeded, ReadOnlyFilesystem, StorageFull,
        };
        let cause = match cause.kind() {
            StorageFull | QuotaExceeded => "the disk is full".to_owned(),
            FileTooLarge => "this disk takes no file as large as that".to_owned(),
            ReadOnlyFilesystem => "the disk may only be read".to_owned(),
            PermissionDenied => "you may not write there".to_owned(),
            NotFound => "its folder is not there any more".to_owned(),
            _ => cause.to_string(),
        };
        Self::Unwritable { path: path.to_owned(), cause }
    }
}
