//! How large and how sure: body heights, scales, the errors of measures.

crate::types::tuned! {
    /// Standard error of where a joint is taken to be: the net's bias, the same through a clip. It cancels in
    /// travel of one point, not in a distance between two.
    JOINT_ERROR = 0.012, "body heights", "own estimate", "none";
    /// Standard error of a body centre without its arms.
    ARMS_UNSEEN = 0.025, "body heights", "own estimate: arms are a tenth of the body's mass and go forward some 0.2 to 0.3 body heights more than the trunk does", "none";
    /// Standard error of heights seen along the line of the pitch.
    ALONG_HEIGHTS = 0.010, "body heights", "own estimate: what comes 0.1 m nearer to a lens 1.2 m over the ground and 6.5 m away seems to move by 1.8 cm", "none";
    /// Standard error of the front shoulder's rise seen along the line of the pitch.
    ALONG_SHOULDER = 0.06, "body heights", "the bench: read 11 cm too low in the middle, 17 cm in 90 %", "films not noted";
    /// Width of the peak of hand speed: a parabola over half_s rounds it off by (half_s / width)².
    PEAK_WIDTH_S = 0.141, "s", "fit of how much lower the peak is read: 1.9 / 1.7 / 5.0 / 14.7 % at 240 / 120 / 60 / 30 pictures a second", "made-up: exact points of 24 swings (tests/it/measures.rs)";
    /// The first stretch of hand travel is done within this of hands start.
    FIRST_TRAVEL_S = 0.3, "s", "own choice", "none noted";
    /// The hands' peak is looked for at most this long after contact.
    PEAK_AFTER_CONTACT_S = 0.05, "s", "own choice: contact itself is not known exactly", "none noted";
    /// No bat speed below this rate.
    BAT_RATE_HZ = 115.0, "Hz", "own choice: at 30 m/s a bat goes half a metre and more between two pictures", "none noted";
    /// At stance the body is still: the median over this long to either side is its place.
    STANCE_STILL_S = 0.1, "s", "own choice", "none noted";
    /// A camera that turns by more than this between two moments is no fixed place to measure from: its turn cannot
    /// be told from a step to the side well enough.
    LARGE_TURN = 0.35, "body heights", "own choice: a hand that shakes stays well below it", "none noted";
    /// A held camera moves at least so fast where nothing tells how it moves.
    HELD_CAMERA_SPEED = 0.01, "body heights/s", "own choice: what a hand sways over seconds, about 1 cm/s", "none noted";
    /// A bent limb looks short; its longest looks come near its true length. This share of looks is below.
    LIMB_LONG_LOOK = 0.85, "share", "own choice", "none noted";
    /// Standard error of the standing height so found.
    HEIGHT_ERROR = 0.05, "share", "own estimate: adult averages, net noise and limbs never quite in the picture's plane", "none";
    /// From the knob to the middle of both hands.
    KNOB_TO_HANDS_CM = 12.0, "cm", "common practice, no source: two hands at the end of the handle, the lower one just above the knob or some cm up", "none";
    /// Its standard error.
    KNOB_TO_HANDS_ERROR_CM = 2.5, "cm", "common practice, no source", "none";
    /// Scales that differ by more than this do not belong to one hitter and bat.
    SCALES_UNLIKE = 2.0, "standard errors", "own choice", "none noted";
    /// Marks are set by eye on a picture: standard error of each.
    MARK_PX = 2.0, "px", "own choice", "none";
    /// How much nearer to the camera, or farther, than the hitter a marked length may lie (standard error).
    MARK_DEPTH_M = 0.3, "m", "own choice: beside the hitter's feet, or the plate in front of them", "none";
    /// A marked length some 10° from square to the camera looks this share shorter.
    MARK_TURNED = 0.015, "share", "own choice of the angle, then 1 − cos θ", "none";
    /// Focal length taken for a marked length.
    FOCAL_LONG_SIDES = 0.75, "long sides", "common practice, no source: a phone's main camera sees about 67° along its long side", "none";
    /// Stature where none is given; only the camera's distance goes by it.
    USUAL_HEIGHT_M = 1.70, "m", "own choice", "none";
    /// Nobody films a swing from nearer.
    NEAREST_CAMERA_M = 2.0, "m", "own choice", "none";
}
