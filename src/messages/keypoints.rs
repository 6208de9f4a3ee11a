//! Keypoint files: what can be wrong in one, and what was corrected.

use std::fmt::{Display, Formatter, Result};

use crate::types::KeypointsFault;

pub(crate) const NORMALIZED: &str =
    "The points run from 0 to 1, so they were scaled by the width and height of the image.";
pub(crate) const Y_UP: &str =
    "The head is below the feet, so the points were turned upside down. In COCO, y points down.";
pub(crate) const SIDES_CONTRADICT: &str = "Left and right of the legs contradict those of the shoulders throughout, so the legs \
    were swapped. The batting side is uncertain.";

impl Display for KeypointsFault {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            KeypointsFault::Text(fault) => write!(f, "{fault}"),
            KeypointsFault::ResultsOnly => {
                write!(f, "it is a bare list of results; images, annotations and categories are needed")
            }
            KeypointsFault::NoCategory => write!(f, "categories is empty"),
            KeypointsFault::NoNames => write!(f, "no category lists the names of its keypoints"),
            KeypointsFault::NoPairOf { part } => {
                write!(f, "categories[0].keypoints does not name both the left and the right {part}")
            }
            KeypointsFault::SameImageId => write!(f, "two images have the same id"),
            KeypointsFault::UnknownImage { id } => {
                write!(f, "an annotation refers to image {id}, which is not listed")
            }
            KeypointsFault::Count { id, numbers, names, needed } => {
                write!(f, "image {id} has {numbers} keypoint numbers; {names} names need {needed}")
            }
            KeypointsFault::NoPerson => write!(f, "there is no person in it"),
            KeypointsFault::SameTrackId { image, track } => {
                write!(f, "image {} has two bodies with the track_id {track}", image + 1)
            }
            KeypointsFault::FewImages { images } => {
                write!(f, "it has only {images} image(s), too few to show a swing")
            }
            KeypointsFault::Untimed => write!(f, "its images have no time_s; give --rate HZ"),
            KeypointsFault::OneUntimed { id } => write!(f, "image {id} has no time_s while others have one"),
            KeypointsFault::CountUnlikeClip { images, frames } => {
                write!(f, "it has {images} images without times and the clip {frames} frames; give --rate HZ")
            }
            KeypointsFault::TimeNotANumber => write!(f, "a time is not a number"),
            KeypointsFault::TimesNotRising { image, time_s, before_s } => write!(
                f,
                "its times are out of order: image {} is at {time_s} s, after one at {before_s} s",
                image + 1
            ),
            KeypointsFault::OddRate { rate_hz } => {
                write!(f, "its times amount to {rate_hz:.3} fps; time_s must be in seconds")
            }
            KeypointsFault::UnevenIds { id, before } => write!(
                f,
                "its images have no time_s and their ids are not evenly spaced (image {id} follows {before}), so their \
                 times are unknown; add time_s to images"
            ),
            KeypointsFault::TooSmall { height } => write!(
                f,
                "its bodies are only {height:.2} units tall; give points in px, or from 0 to 1 with the images' width \
                 and height"
            ),
            KeypointsFault::OtherShape { images, clip } => write!(
                f,
                "its images are {}×{}, but the clip's upright frames are {}×{}",
                images.0, images.1, clip.0, clip.1
            ),
        }
    }
}

pub(crate) fn several_people(people: usize) -> String {
    format!("The keypoints show {people} people; the one who swings was used.")
}

pub(crate) fn points_outside(width: usize, height: usize) -> String {
    format!(
        "Most points lie outside the {width}×{height} image, so they are in another unit or belong to another image. Times \
         and shares of the body height are not affected."
    )
}

/// `chest`: the points show it, else the back.
pub fn sides_mirrored(chest: bool) -> String {
    let (seen, toes) = if chest { ("chest", "away from") } else { ("back", "at") };
    format!(
        "Left and right may be swapped, as in a mirrored video: the points show the hitter’s {seen}, but the toes point \
         {toes} the camera. If so, batting side and view are the opposite; front foot, times and lengths stay the same."
    )
}

pub(crate) fn points_partial(first_s: f64, last_s: f64, of_s: f64) -> String {
    format!("The hitter’s points cover only {first_s:.2} to {last_s:.2} s of {of_s:.2} s.")
}
