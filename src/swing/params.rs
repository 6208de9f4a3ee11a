//! What was tuned in this room: each constant once, with what it was set on. The hash of all tables is part of the key
//! under which readings are kept.

mod errors;
mod events;
mod points;
mod sizes;

pub use errors::*;
pub use events::*;
pub use points::*;
pub use sizes::*;

/// Every constant of this room; those below tell which swing is meant, and when the bat meets the ball.
pub const TABLES: &[&[crate::types::Param]] =
    &[TABLE, errors::TABLE, events::TABLE, points::TABLE, sizes::TABLE];

crate::types::tuned! {
    /// Hands slower than this past the hips do not swing a bat.
    STRETCH_LEAST_SPEED = 0.7, "body heights per s", "own choice, below the slowest labelled swing", "labelled, set";
    /// A stretch ends where the hands go slower than this share of its fastest.
    STRETCH_EDGE_SHARE = 0.15, "share", "own choice", "recorded a";
    /// Two peaks are one movement when the hands do not slow below this share of the slower one between them.
    STRETCH_DIP_SHARE = 0.55, "share", "own choice", "recorded a, labelled, set";
    /// The hands go at least so far past the hips.
    STRETCH_LEAST_WAY = 0.12, "body heights", "own choice", "labelled, set";
    /// Weight of the trait: the hands go far past the hips.
    WEIGH_WAY = 0.2, "log odds", "own choice", "none: kept small against quick false points";
    /// Weight of the trait: of all such stretches the longest.
    WEIGH_LONGEST = 0.18, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the hands are quiet before.
    WEIGH_QUIET = 0.77, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the hands have not just come from where they go to.
    WEIGH_NO_WAY_BACK = 0.38, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the hands go down to the ball.
    WEIGH_DOWN = 0.37, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the hands rise after it, to the finish.
    WEIGH_HIGH_FINISH = 0.29, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the hands come round the body after it.
    WEIGH_WRAPS = 0.46, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the hands end in front of the hips.
    WEIGH_AHEAD = 0.14, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the foot nearer the pitcher moves before it, the other stands.
    WEIGH_STEPS = 0.47, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: that foot goes toward the pitcher.
    WEIGH_STRIDE = 0.27, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the hips go toward the pitcher.
    WEIGH_WEIGHT = 0.86, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the rear heel comes up.
    WEIGH_REAR_HEEL = 0.30, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the rear knee comes in.
    WEIGH_REAR_KNEE = 0.32, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the front foot is the lower one while the hands fly.
    WEIGH_FRONT_DOWN = 0.41, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of the trait: the face is toward the pitcher before it.
    WEIGH_FACES = 0.49, "log odds", "logistic fit, examples/explain_traits", "made-up and labelled, set; recorded a";
    /// Weight of a sound that fits contact.
    WEIGH_HEARD = 1.0, "log odds", "own choice", "none";
    /// Weight of left and right lying as they do from that side.
    WEIGH_SIDE_SPREAD = 2.5, "log odds", "own choice", "made-up, set";
    /// Weight of the toes lying nearer to the camera than the heels (open side), or farther.
    WEIGH_SIDE_TOES = 0.7, "log odds", "own choice", "made-up, set";
    /// Weight of the toes pointing across the picture, seen along the pitch.
    WEIGH_ALONG_TOES = 1.5, "log odds", "own choice", "made-up, set";
    /// Weight of which foot strides, seen along the pitch.
    WEIGH_ALONG_STRIDE = 1.5, "log odds", "own choice", "made-up, set";
    /// Weight of the striding foot rising in the picture (it goes away from the camera) or sinking.
    WEIGH_ALONG_DEPTH = 1.0, "log odds", "own choice", "made-up, set";
    /// Weight of the way the hands go across the picture, seen along the pitch: over the plate.
    WEIGH_ALONG_HANDS = 0.7, "log odds", "own choice", "made-up, set";
    /// Feet closer than this in the picture at stance: the line of the feet points at the camera.
    NARROW_FEET = 0.16, "body heights", "stances are 0.25 to 0.6 wide (common practice, no source)", "made-up, set";
    /// Explanations this much less likely than the best are not looked at.
    EXPLAINED_WORSE = 4.0, "log odds", "own choice", "none";
    /// With a smaller lead over another explanation the hitter is in doubt.
    DOUBT_LEAD = 1.0, "log odds", "own choice", "none";
    /// What a reading that no body can do takes from its explanation.
    FAULT_COST = 2.0, "log odds", "own choice", "none";
    /// A contact set by a person belongs to a stretch of the hands this near.
    PINNED_CONTACT_NEAR_S = 0.3, "s", "own choice", "none";
    /// Seen along the pitch: the hands are fastest this long before contact.
    PEAK_TO_CONTACT_S = 0.052, "s", "48 to 64 ms in motion capture (science.md section 10)", "recorded a";
    /// From the side, contact comes so long after the hands go forward fastest …
    FASTEST_TO_CONTACT_S = 0.0206, "s", "least squares", "made-up, set; recorded a";
    /// … and this share of the time from then until they go forward no more.
    STOP_SHARE = 0.4242, "share", "least squares", "made-up, set; recorded a";
    /// What is not known of that.
    PEAK_TO_CONTACT_PM_S = 0.028, "s", "twice what is left of the fit", "made-up, set; recorded a";
    /// Weight of the feet lying across the picture, or along the line of sight.
    WEIGH_WIDE = 2.0, "log odds", "own choice", "labelled, set; made-up, set";
    /// What explanations along the pitch have in place of the traits that are not seen there.
    ALONG_OFFSET = 1.5, "log odds", "own choice", "labelled, set; made-up, set";
    /// Weight of the hands being apart while they are fast: they hold no bat.
    WEIGH_TOGETHER = 3.0, "log odds", "own choice", "labelled, set";
    /// Two hands on one bat stay closer than this.
    HANDS_APART = 0.24, "body heights", "own choice", "labelled, set";
    /// A phone's lens is as long as this many long sides of the picture: 0.75 for the main camera (67 degrees), 1.5 and
    /// 2.2 for the long ones, 0.75 to 1.1 for the narrower cut of slow motion.
    LENS_LONG_SIDES = 0.9, "long sides", "common practice, no source", "none";
    /// Hitters are filmed from about so far.
    USUAL_DISTANCE_M = 6.0, "m", "common practice, no source", "none";
    /// Either may be off by so much, as a standard deviation of its logarithm.
    DISTANCE_SD = 0.38, "share", "own choice: half of the range of the lenses above", "none";
    /// A best explanation less likely than this is none.
    LEAST_SCORE = 1.2, "log odds", "own choice, below all that are right but for the faintest", "labelled, set; made-up, set; recorded a";
    /// From the side, what is heard or seen this far from the contact that the hands tell may be it.
    CONTACT_NEAR_S = 0.050, "s", "three and a half standard deviations of the fit", "made-up, set";
    /// An explanation so much better than the one a person chose is clear in the picture.
    CLEARLY = 2.5, "log odds", "own choice", "none";
    /// The hands are seen so long before they go.
    SEEN_BEFORE_S = 0.1, "s", "own choice", "none";
}
