//! What was tuned in this room: each constant once, with what it was set on. The table's hash is part of the key under
//! which points are kept.

/// Every constant of this room.
pub const TABLES: &[&[crate::types::Param]] = &[TABLE];

crate::types::tuned! {
    /// Longer clips are takes of many swings: they are listened to, not looked at.
    LONGEST_SEEN_S = 120.0, "s", "own choice", "none noted";
    /// The ball is looked for from so long before the expected contact …
    BALL_BEFORE_S = 0.32, "real s", "own choice", "none noted";
    /// … to so long after it.
    BALL_AFTER_S = 0.20, "real s", "own choice", "none noted";
    /// Contact may lie so long before where hands and ears put it …
    BALL_WINDOW_BEFORE_S = 0.20, "s", "own choice: false points after contact can be faster than the hands in it", "none noted";
    /// … and so long after.
    BALL_WINDOW_AFTER_S = 0.07, "s", "own choice: false points after contact can be faster than the hands in it", "none noted";
    /// What came and went is judged against pictures so long before and after.
    BALL_APART_S = 0.016, "s", "own choice: long enough for a tossed ball to have left its place", "none noted";
    /// The ball is made about this wide.
    BALL_PX = 8.0, "px", "own choice: enough to find its middle, little to compute", "none noted";
    /// Pictures a second that tell more than enough of the ball.
    BALL_MOST_HZ = 260.0, "Hz", "own choice", "none noted";
    /// Standing height taken for the ball where it is not known.
    BALL_HEIGHT_M = 1.68, "m", "own choice", "none noted";
    /// Pictures looked at for the bat's length, at most.
    BAT_LOOKS: usize = 24, "pictures", "own choice", "none noted";
    /// The bat is looked for from so long before stance …
    BAT_BEFORE_S = 0.2, "real s", "own choice: the bat is hardly blurred yet", "none noted";
    /// … to so long after the hands start.
    BAT_AFTER_S = 0.02, "real s", "own choice", "none noted";
    /// Where stance is not known: from so long before contact …
    BAT_LONG_BEFORE_S = 1.2, "real s", "own choice", "none noted";
    /// … and where the hands' start is not known, to so long before it.
    BAT_SHORT_BEFORE_S = 0.2, "real s", "own choice", "none noted";
    /// A swing is read from so long before the burst …
    READ_BEFORE_S = 1.6, "real s", "own choice", "none noted";
    /// … to so long after it.
    READ_AFTER_S = 0.9, "real s", "own choice", "none noted";
    /// A closer look covers so much on each side of a sudden movement …
    PROBE_S = 0.45, "s", "own choice", "none noted";
    /// … at so many pictures a second.
    PROBE_HZ = 15.0, "Hz", "own choice", "none noted";
    /// Closer looks, at most.
    MOST_PROBES: usize = 6, "looks", "own choice", "none noted";
    /// The swing itself is cut out from so long before the hands start …
    CUTOUT_SWING_BEFORE_S = 0.05, "real s", "own choice", "none noted";
    /// … to so long after extension …
    CUTOUT_SWING_AFTER_S = 0.12, "real s", "own choice", "none noted";
    /// … this often.
    CUTOUT_SWING_HZ = 75.0, "real Hz", "own choice", "none noted";
    /// The rest is cut out from so long before stance …
    CUTOUT_AROUND_BEFORE_S = 0.3, "real s", "own choice", "none noted";
    /// … to so long after the finish …
    CUTOUT_AROUND_AFTER_S = 0.4, "real s", "own choice", "none noted";
    /// … this often.
    CUTOUT_AROUND_HZ = 20.0, "real Hz", "own choice", "none noted";
    /// A swung bat is compared with pictures so long before and after.
    SWEPT_APART_S = 0.017, "real s", "own choice", "none noted";
    /// A bat turns by less than this between two looks …
    SWEPT_TURNS = 1.2, "rad", "own choice", "none noted";
    /// … and its length changes by less than this.
    SWEPT_LENGTH_SHARE = 0.45, "share", "own choice", "none noted";
    /// Every picture is read from so long before the burst …
    EVERY_BEFORE_S = 0.4, "real s", "own choice", "none noted";
    /// … to so long after it.
    EVERY_AFTER_S = 0.2, "real s", "own choice", "none noted";
    /// Foot and load are read from so long before the burst …
    ABOUT_BEFORE_S = 1.0, "real s", "own choice", "none noted";
    /// … to so long after it …
    ABOUT_AFTER_S = 0.55, "real s", "own choice", "none noted";
    /// … at so many pictures a second.
    ABOUT_HZ = 60.0, "real Hz", "own choice", "none noted";
    /// Elsewhere in the window only stance and finish are read.
    ELSEWHERE_HZ = 30.0, "real Hz", "own choice", "none noted";
    /// The net is shown pictures as they are and in a mirror in turn from so long before the burst …
    MIRROR_BEFORE_S = 0.3, "real s", "own choice", "none noted";
    /// … to so long after it …
    MIRROR_AFTER_S = 0.15, "real s", "own choice", "none noted";
    /// … where they lie closer together than this.
    IN_TURN_S = 0.012, "real s", "own choice: at 60 a second nothing was gained", "six films at 120 pictures a second, five at 60";
    /// A closer look at a picture serves again when it was looked at in as good as the same square (shift and
    /// size).
    SAME_SQUARE = 0.08, "body sizes", "own choice", "none noted";
    /// More pictures a second than this show nothing new.
    READ_MOST_HZ = 480.0, "real Hz", "own choice", "none noted";
    /// Moments that promised less are not looked at once so many in a row were no swing.
    FRUITLESS: usize = 14, "moments", "own choice", "none noted";
    /// A moment is looked at once for each person; so often at most.
    MOST_A_MINUTE = 40.0, "looks a minute", "own choice: more would be no batting practice", "none noted";
    /// Contact is heard at most so long before the hands are fastest …
    BURST_HEARD_BEFORE_S = 0.08, "s", "own choice: the hands are fastest before contact, and sound comes late", "none noted";
    /// … and so long after.
    BURST_HEARD_AFTER_S = 0.22, "s", "own choice: the hands are fastest before contact, and sound comes late", "none noted";
    /// A burst so near a moment is what stirs there.
    STIRS_S = 0.3, "s", "own choice", "none noted";
    /// Two swings of one hitter are at least so far apart.
    SWINGS_APART_S = 1.6, "s", "own choice: back to the stance and the next ball", "none noted";
    /// A swing found is taken without a look at moments that promise less than this share of its moment's score.
    CLEAR_LEAD = 0.75, "share", "own choice", "none noted";
    /// Longer side of the survey's pictures.
    SURVEY_LONG_SIDE: usize = 960, "px", "own choice: enough for a body a third of the picture high", "none noted";
    /// Survey pictures a second of a long clip, at least.
    SURVEY_LEAST_HZ = 0.7, "real Hz", "own choice", "none noted";
    /// And of any clip, at most.
    SURVEY_MOST_HZ = 5.0, "real Hz", "own choice", "none noted";
    /// A long clip gets so many in all, but not under the lowest rate.
    SURVEY_PICTURES = 24.0, "pictures", "own choice", "none noted";
    /// So many people in a picture are looked at closely.
    MOST_PEOPLE: usize = 4, "people", "own choice", "none noted";
    /// Motion is measured this often.
    MOTION_HZ = 60.0, "real Hz", "own choice", "none noted";
    /// Someone whose square is so large is large enough for the swing to be read.
    USABLE_SIZE = 0.2, "share of the picture's longer side", "own choice", "none noted";
    /// Seen so often, he makes a search for smaller people needless.
    SEEN_OFTEN = 0.5, "share of the survey's pictures", "own choice", "none noted";
    /// Someone seen so often, but in less than half of the pictures, is followed through those between.
    FEWEST_SIGHTS: usize = 3, "pictures", "own choice", "none noted";
    /// So many people are followed like that …
    MOST_LOST: usize = 3, "people", "own choice", "none noted";
    /// … at so many pictures a second …
    BRIDGE_HZ = 8.0, "Hz", "own choice", "none noted";
    /// … where he is not seen for so long.
    BRIDGE_GAP_S = 0.7, "s", "own choice", "none noted";
    /// After so many pictures in a row without him no more until he is found anew.
    MOST_MISSED: usize = 6, "pictures", "own choice", "none noted";
    /// A body this unlike the one expected is another's.
    SAME_BODY = 0.3, "body sizes", "own choice", "none noted";
    /// A rep is cut out from so long before the hands are fastest …
    REP_BEFORE_S = 2.1, "real s", "own choice", "none noted";
    /// … to so long after.
    REP_AFTER_S = 1.3, "real s", "own choice", "none noted";
    /// Hands that end lower than this made a bunt.
    BUNT_FINISH = -0.2, "body heights over the shoulders", "own choice: a swing ends with the hands about the shoulders, a bunt with them before the chest (common practice, no source)", "made-up sessions";
    /// Hands that were slow at a coarse look and not heard to meet a ball must be so fast in every picture: a
    /// waggle never is.
    SURE_REP_SPEED = 2.3, "body heights per s", "own choice between a waggle's 2 and the 3 of a child's swing (own estimates)", "none noted";
    /// So many other moments are looked at where the likeliest shows no swing.
    MOST_OTHERS: usize = 3, "moments", "own choice", "none noted";
    /// Another movement than this one is at least so far from it.
    OTHER_S = 0.5, "s", "own choice", "none noted";
    /// Where a person said when the swing is, it is within this.
    ABOUT_S = 0.4, "s", "own choice", "none noted";
    /// A movement so soon after the first picture was under way already.
    UNDER_WAY_S = 0.22, "s", "own choice", "none noted";
    /// So many moments about one swing of a long clip are read until one of them is it.
    MOST_LOOKS: usize = 3, "moments", "own choice", "none noted";
    /// Contacts nearer than this are one swing.
    SAME_SWING_S = 0.8, "s", "own choice", "none noted";
}
