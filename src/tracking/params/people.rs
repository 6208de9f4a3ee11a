//! Who is seen, who swings, and which points are believed.

crate::types::tuned! {
    /// Less sure than this that a body is there at all, its mask is not used.
    MASK_PRESENT: f32 = 0.5, "0 to 1", "own choice", "none noted";
    /// The square shown to the net is so many times as wide as the farthest part is from the hips.
    MASK_ROOM = 2.5, "times", "own choice", "none noted";
    /// Bodies that the detector believes in less are not kept.
    KEEP_SCORE = 0.5, "0 to 1", "not noted", "none noted";
    /// Finds that overlap by more are one body.
    FOUND_OVERLAP = 0.3, "share", "not noted", "none noted";
    /// What is about a burst, on each side.
    ABOUT_BURST_S = 0.3, "s", "own choice", "none noted";
    /// A swing's finish comes from so long after the fastest stretch …
    FINISH_FROM_S = 0.1, "s", "own choice", "none noted";
    /// … to so long after it.
    FINISH_TO_S = 0.8, "s", "own choice", "none noted";
    /// Length over which hand travel is judged.
    TRAVEL_STRETCH_S = 0.13, "s", "own choice: most of a swing's forward part", "none noted";
    /// Slower than this is no swing.
    SLOWEST_SWING = 1.1, "body heights per s", "own choice: a whole golf swing seen along its line goes 1.4 (the picture shortens it), a person walking 0.8, a swing seen from the side 2.5 to 5", "the films so measured";
    /// Two hands on one bat keep the wrists closer than this.
    WIDEST_GRIP = 0.2, "body heights", "own choice: about two hands", "none noted";
    /// A burst this fast is a swing without another sign.
    SURE_SWING = 1.65, "body heights per s", "own choice: a waggle or a bunt is slower, a miss is not", "made-up sessions";
    /// A hitter's trunk leans, but a diving fielder or somebody in bed lies: at least this share of its length is
    /// height.
    MOST_LEANING = 0.7, "share", "own choice", "none noted";
    /// A hitter strides, a runner runs: hips that get farther than this in 0.6 s are on the way.
    FARTHEST_DRIFT = 0.4, "body heights", "own choice: a walk at 1.4 m/s is 0.5", "none noted";
    /// Hands that end lower made no swing.
    LOWEST_FINISH = -0.1, "body heights over the shoulders", "own choice: a swing ends with the hands about the shoulders or over them, a bunt before the chest (common practice, no source); at a coarse look a bunt −0.16 and −0.25, a bat held low after a swing −0.14 to −0.18, a swing of a bat 0.19, of a club −0.01", "the films so measured";
    /// A point that its estimator believes in less than this is no point.
    MIN_SCORE = 0.1, "0 to 1", "own choice", "none noted";
    /// A hole in another estimator's points is filled only up to this.
    GIVEN_LONGEST_GAP_S = 0.034, "s", "own choice: a single slow picture", "none noted";
    /// Slower than this nobody films a swing: the times are not in seconds then.
    SLOWEST_FILM_HZ = 5.0, "Hz", "own choice", "none noted";
    /// Nor faster than this.
    FASTEST_FILM_HZ = 5000.0, "Hz", "own choice", "none noted";
    /// A standing body smaller than this is not in px, or too small to measure.
    SMALLEST_BODY_PX = 20.0, "px", "own choice", "none noted";
    /// Left and right farther apart than this say which way the body stands.
    CLEARLY_APART = 0.06, "body heights", "own choice: shoulders and hips seen from the side are 0.1 to 0.25 apart, feet more", "none noted";
    /// Toes so much lower in the picture than heels point at the camera.
    TOES_POINT = 0.02, "body heights", "own choice: from a camera at breast height some metres off it is 0.03; a heel's point lies up to 0.01 higher on the foot than a toe's", "none noted";
    /// From so long before the hands are fastest on the body turns.
    BODY_TURNS_S = 0.3, "s", "own choice", "none noted";
    /// Points that begin later, or end sooner, than this are said to be partial.
    POINTS_LATE_S = 0.1, "s", "own choice", "none noted";
    /// A point is the weighted middle of its heat up to so far around it.
    HEAT_REACH: i64 = 3, "cells", "not noted", "none noted";
    /// A person unseen for longer is a new person.
    LONGEST_ABSENCE_S = 6.0, "s", "own choice: a hitter who is lost in a crowd or behind a net for a moment stands at the same place when found again", "none noted";
}
