//! One sentence for each error: the file, the cause and the way out.

use std::fmt::{Display, Formatter, Result};

use super::playable;
use crate::types::Error;

impl Display for Error {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Error::Missing { path } => {
                write!(f, "{}: there is no such file; check the name and the folder", path.display())
            }
            Error::Unreadable { path, cause } => write!(
                f,
                "{}: cannot be read ({cause}); check that it is a file you may open",
                path.display()
            ),
            Error::Empty { path } => {
                write!(f, "{}: the file is empty; copy it from the phone again", path.display())
            }
            Error::NotVideo { path, cause } => write!(
                f,
                "{}: holds no picture that can be played ({cause}); give a video file",
                path.display()
            ),
            Error::TooShort { path, frames } => write!(
                f,
                "{}: holds {frames} picture(s), too few to see a swing; film the whole swing",
                path.display()
            ),
            Error::NoPerson { path } => write!(
                f,
                "{}: no person was found; film the whole body, head to feet, in good light",
                path.display()
            ),
            Error::NoSwing { path, cause } => write!(
                f,
                "{}: no swing was found ({cause}); check that it shows a whole swing, or point at the hitter with --hitter X,Y",
                path.display()
            ),
            Error::Damaged { path, damage, cause } => write!(
                f,
                "{}: {damage}, and no swing is found in what is left ({cause}); copy it from the phone again",
                path.display()
            ),
            Error::CutShort { path } => write!(
                f,
                "{}: the file ends too soon, a part of it is missing; copy it from the phone again",
                path.display()
            ),
            Error::NobodyThere { path, x, y, width, height, cause } => write!(
                f,
                "{}: no swing was found at {x:.0},{y:.0} ({cause}); point at the hitter's body at stance, px from the upper left corner of the picture, which is {width} × {height}, or leave --hitter out",
                path.display()
            ),
            Error::SpeedChanges { path, cause } => write!(f, "{}: {cause}", path.display()),
            Error::Decode { path, cause } => write!(
                f,
                "{}: decoding stopped ({cause}); copy the file again or cut out the damaged part",
                path.display()
            ),
            Error::Unwritable { path, cause } => {
                write!(f, "{}: cannot be written ({cause}); choose another place", path.display())
            }
            Error::Ending { path, has, made } => {
                write!(f, "{}: its name {has}; only {made}, so give a name that ends so", path.display())
            }
            Error::Encode { path, cause } => write!(f, "{}: encoding failed ({cause})", path.display()),
            Error::Verify { path, cause } => write!(
                f,
                "{}: the made file failed its check ({cause}) and was not kept; try again or choose another --size",
                path.display()
            ),
            Error::OutputIsInput { path } => {
                write!(f, "{}: is also an input; choose another name with -o", path.display())
            }
            Error::NoSound { path, cause } => write!(
                f,
                "{}: holds no sound that can be heard ({cause}); record the note again and give a sound or video file",
                path.display()
            ),
            Error::SizeUnmet { path, smallest } => write!(
                f,
                "{}: cannot be made so small; at this size and length it takes {}: allow that with --max-size, or give a smaller --size",
                path.display(),
                playable::bytes_up(*smallest)
            ),
            Error::OverLimit { path, bound, has, most } => write!(
                f,
                "{}: holds {} {}, more than the {} that are taken on; if it is meant to, allow it with --limit {}={}",
                path.display(),
                shown(*has),
                bound.counts(),
                shown(*most),
                bound.word(),
                has.ceil()
            ),
            Error::Keypoints { path, cause } => write!(
                f,
                "{}: is not a keypoint file this program can use ({cause}); give COCO keypoint JSON",
                path.display()
            ),
            Error::Plan { path, cause } => write!(
                f,
                "{}: is not a shot plan this program can use ({cause}); `swingpair plan` prints one to edit",
                path.display()
            ),
            Error::Lesson { path, cause } => write!(
                f,
                "{}: is not a lesson this program can use ({cause}); `swingpair lesson --new FOLDER` drafts one",
                path.display()
            ),
            Error::KnownLength { path, cause } => write!(
                f,
                "{}: the known length cannot be used ({cause}); mark two points in the first picture, px from its upper left corner",
                path.display()
            ),
            Error::Sidecar { path, cause } => write!(
                f,
                "{}: is not a reading of this program ({cause}); delete it and read the clip again",
                path.display()
            ),
            Error::NotLinedUp { cause } => write!(f, "the two clips cannot be lined up: {cause}"),
            Error::Unpairable { cause } => write!(f, "the two readings cannot be paired: {cause}"),
            Error::Glyph { character, text } => write!(
                f,
                "“{text}” holds the character {character} (U+{:04X}), which the built-in font cannot draw; use other letters",
                u32::from(*character)
            ),
            Error::Net { cause } => write!(f, "the pose net failed: {cause}"),
            Error::Internal(text) => {
                write!(f, "swingpair made a mistake ({text}); please report it with the command you ran")
            }
            Error::Usage(text) => write!(f, "{text}"),
            Error::WorkerLost => write!(f, "a worker stopped without saying why"),
            Error::Cancelled => write!(f, "interrupted"),
        }
    }
}

/// A number to one place, the last half of it never against the limit: rounded up.
fn shown(number: f64) -> f64 {
    (number * 10.0).ceil() / 10.0
}
