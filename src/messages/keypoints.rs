//! Keypoint files: what can be wrong in one, and what was corrected.

pub const SAME_IMAGE_ID: &str = "two images have the same id";
pub const NO_PERSON: &str = "there is no person in it";
pub const UNTIMED: &str = "its images have no time_s; give --rate HZ";
pub const TIME_NOT_A_NUMBER: &str = "a time is not a number";
pub const RESULTS_ONLY: &str = "it is a bare list of results; images, annotations and categories are needed";
pub const NO_CATEGORY: &str = "categories is empty";
pub const NO_NAMES: &str = "no category lists the names of its keypoints";
pub const NORMALIZED: &str =
    "The points run from 0 to 1, so they were scaled by the width and height of the image.";
pub const Y_UP: &str =
    "The head is below the feet, so the points were turned upside down. In COCO, y points down.";
pub const SIDES_CONTRADICT: &str = "Left and right of the legs contradict those of the shoulders throughout, so the legs \
    were swapped. The batting side is uncertain.";

pub fn no_pair_of(part: &str) -> String {
    format!("categories[0].keypoints does not name both the left and the right {part}")
}

pub fn unknown_image(id: i64) -> String {
    format!("an annotation refers to image {id}, which is not listed")
}

pub fn several_people(people: usize) -> String {
    format!("The keypoints show {people} people; the one who swings was used.")
}

pub fn same_track_id(image: usize, id: &str) -> String {
    format!("image {image} has two bodies with the track_id {id}")
}

pub fn few_images(images: usize) -> String {
    format!("it has only {images} image(s), too few to show a swing")
}

pub fn one_untimed(id: i64) -> String {
    format!("image {id} has no time_s while others have one")
}

pub fn count_unlike_clip(images: usize, frames: usize) -> String {
    format!("it has {images} images without times and the clip {frames} frames; give --rate HZ")
}

pub fn times_not_rising(image: usize, time_s: f64, before_s: f64) -> String {
    format!("its times are out of order: image {image} is at {time_s} s, after one at {before_s} s")
}

pub fn odd_rate(rate_hz: f64) -> String {
    format!("its times amount to {rate_hz:.3} fps; time_s must be in seconds")
}

pub fn uneven_ids(id: i64, before: i64) -> String {
    format!(
        "its images have no time_s and their ids are not evenly spaced (image {id} follows {before}), so their times are \
         unknown; add time_s to images"
    )
}

pub fn keypoint_count(image: i64, numbers: usize, names: usize, needed: usize) -> String {
    format!("image {image} has {numbers} keypoint numbers; {names} names need {needed}")
}

pub fn too_small(height: f64) -> String {
    format!(
        "its bodies are only {height:.2} units tall; give points in px, or from 0 to 1 with the images' width and height"
    )
}

pub fn points_outside(width: usize, height: usize) -> String {
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

pub fn points_partial(first_s: f64, last_s: f64, of_s: f64) -> String {
    format!("The hitter’s points cover only {first_s:.2} to {last_s:.2} s of {of_s:.2} s.")
}

/// A keypoint file of pictures in another shape than the clip's.
pub fn other_shape(images: (f64, f64), clip: (f64, f64)) -> String {
    format!(
        "its images are {}×{}, but the clip's upright frames are {}×{}",
        images.0, images.1, clip.0, clip.1
    )
}
