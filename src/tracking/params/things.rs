//! The ball and the bat in the picture.

crate::types::tuned! {
    /// A change of luma smaller than this is none …
    LEAST_CHANGE: f32 = 9.0, "levels of 8 bit", "own choice", "none noted";
    /// … and it must stand out of the noise by so much.
    OVER_NOISE: f32 = 5.5, "standard deviations of the noise", "own choice", "none noted";
    /// A ball's area in its picture: a blurred or half-seen one is smaller, a streak longer.
    BALL_LEAST_AREA = 0.22, "share of its own disc", "own choice", "none noted";
    /// Its width across the streak at most.
    BALL_WIDEST = 1.7, "ball widths", "own choice", "none noted";
    /// The likeliest so many of a picture are kept.
    MOST_MOVERS: usize = 24, "places", "own choice", "none noted";
    /// Off the bat, seen from the side: at least a child's, as arms and people are slower …
    OFF_LEAST_M_S = 12.0, "m/s", "common practice, no source", "none noted";
    /// … at most a hard-hit adult's.
    OFF_MOST_M_S = 60.0, "m/s", "common practice, no source", "none noted";
    /// Coming in: at least a gentle toss …
    IN_LEAST_M_S = 3.0, "m/s", "common practice, no source", "none noted";
    /// … at most the fastest pitch.
    IN_MOST_M_S = 48.0, "m/s", "common practice, no source", "none noted";
    /// A flight is seen in so many pictures at least …
    FLIGHT_LEAST_SEEN: usize = 3, "pictures", "own choice", "none noted";
    /// … and in this share of those it crosses.
    FLIGHT_SHARE_SEEN = 0.6, "share", "own choice", "none noted";
    /// So often where nothing else speaks for it.
    FLIGHT_CLEARLY_SEEN: usize = 4, "pictures", "own choice", "none noted";
    /// In one stretch the ball is not lost for longer than this.
    FLIGHT_LOST_STEPS = 2.2, "pictures", "own choice", "none noted";
    /// A picture taken nearer to contact than this shows both ways in one.
    FLIGHT_CLEAR_STEPS = 0.15, "share of the time between two pictures", "own choice", "none noted";
    /// The ball off the bat has been seen at least this far from the body's middle.
    BEYOND_M = 1.45, "m", "own choice: bat and hands do not reach it", "none noted";
    /// The ball on its way in was first seen at least so far ahead of it.
    FROM_BEYOND_M = 1.25, "m", "own choice", "none noted";
    /// Only this far up or down does a hit ball go in the picture.
    FLIGHT_STEEPEST = 1.3, "share of its way along", "own choice: pop-ups give no time", "none noted";
    /// Where the ball is met if only its way off is seen: so far ahead of the body's middle …
    MET_AHEAD_M = 0.75, "m", "own estimate: a pulled ball is met ahead of the front foot, a late one beside the back leg", "none";
    /// … and how far that may be off.
    MET_AHEAD_PM_M = 0.35, "m", "own estimate: a pulled ball is met ahead of the front foot, a late one beside the back leg", "none";
    /// How fast a ball gets smaller, as far as few sights tell nothing of it.
    USUAL_AWAY = 2.5, "per s", "own choice: a ball hit at 20 m/s away from a camera at 5 m has 4", "none noted";
    /// A sight of the ball may be off by so much for that.
    SIGHT_OFF_PX = 1.5, "px", "own choice", "none noted";
    /// Directions tried around the hands.
    BAT_ANGLES: usize = 240, "directions", "own choice", "none noted";
    /// Step along the bar …
    BAT_ALONG = 0.01, "body heights", "own choice", "none noted";
    /// … and across it.
    BAT_ACROSS = 0.004, "body heights", "own choice", "none noted";
    /// Samples across, to either side of the ray …
    BAT_SIDE: usize = 17, "samples", "own choice", "none noted";
    /// … and how far to the side of the hands the bar may pass.
    BAT_ASIDE: usize = 9, "samples", "own choice", "none noted";
    /// From where the bar is followed …
    BAT_FROM = 0.05, "body heights", "own choice: the hands hide what is nearer", "none noted";
    /// … and how far.
    BAT_REACH = 0.72, "body heights", "own choice", "none noted";
    /// Up to here the grip may have another colour than the rest.
    BAT_GRIP = 0.16, "body heights", "own choice", "none noted";
    /// From hands to tip a bat shows at least so much …
    BAT_SHORTEST = 0.22, "body heights", "60 to 90 cm of bat, less the 12 cm below the hands, on 130 to 195 cm of hitter, foreshortened", "none noted";
    /// … and at most so much.
    BAT_LONGEST = 0.58, "body heights", "the same", "none noted";
    /// Colour that stands out by so much is sure to be a bar.
    BAT_CLEAR: f32 = 14.0, "levels of 8 bit, luma and chroma together", "own choice", "none noted";
    /// A place on the bar counts for it when it stands out more than this, else against it.
    BAT_HALFWAY: f32 = 0.45, "share of BAT_CLEAR", "own choice", "none noted";
    /// Share of its way on which a bar must stand out.
    BAT_SUPPORT = 0.6, "share", "own choice", "none noted";
    /// Length that stands out, less what does not, at least.
    BAT_CLEARLY = 0.07, "body heights", "own choice", "none noted";
    /// Candidates kept a picture.
    BAT_KEEP: usize = 3, "bars", "own choice", "none noted";
    /// What turning between pictures costs.
    BAT_TURN_COST = 0.12, "body heights per rad", "own choice; leaving a picture out costs nothing and gains nothing", "none noted";
    /// Turning that is free.
    BAT_FREE_TURN = 1.5, "rad/s", "own choice: play before the swing", "none noted";
    /// Fewest pictures that must show the bat …
    BAT_FEWEST: usize = 5, "pictures", "own choice", "none noted";
    /// … and the share of those looked at.
    BAT_SHARE = 0.35, "share", "own choice", "none noted";
    /// Foreshortening only shortens, a line behind the tip only lengthens: this share of looks is below.
    BAT_LONG_LOOK = 0.75, "share", "own choice", "none noted";
    /// Looks that differ by more than this (middle half) are not of one bat.
    BAT_WIDEST = 0.20, "share", "own choice", "none noted";
    /// Distance of samples.
    SWEPT_STEP = 0.01, "body heights", "own choice", "none noted";
    /// How far around the hands a swung bat is looked for.
    SWEPT_REACH = 0.62, "body heights", "own choice", "none noted";
    /// From where on.
    SWEPT_FROM = 0.07, "body heights", "own choice: the hands hide what is nearer", "none noted";
    /// Directions tried around the hands.
    SWEPT_ANGLES: usize = 180, "directions", "own choice", "none noted";
    /// A place moves when it differs by so much from before and from after.
    SWEPT_MOVES: i32 = 20, "levels of 8 bit, Y, U and V together", "own choice", "none noted";
    /// Share of its way on which a bat must move.
    SWEPT_SUPPORT = 0.6, "share", "own choice", "none noted";
    /// From hands to tip it shows so much.
    SWEPT_SHORTEST = 0.2, "body heights", "own choice", "none noted";
    /// The fan that a bat sweeps while the shutter is open is at most so wide.
    SWEPT_WIDEST: usize = 26, "directions", "own choice", "none noted";
    /// A direction belongs to the fan when this share of the best direction's way moves in it.
    SWEPT_ALIKE = 0.65, "share", "own choice", "none noted";
}
