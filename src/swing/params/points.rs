//! What is seen and heard: points and their holes, sounds, how a hitter stands.

crate::types::tuned! {
    /// How far a point of the own pose net may stray slowly from its joint (standard error).
    NET_WANDER = 0.010, "body heights", "own choice after looking at where standing feet stray", "made-up: eight films; no recorded film";
    /// Half of the time that the drawn way of the body centre is smoothed over.
    CENTRE_HALF_S = 0.06, "s", "own choice, as for the load", "none noted";
    /// Room of the curves before the first and after the last event.
    CURVES_MARGIN_S = 0.1, "s", "own choice", "none";
    /// A moment this far from the asked one does not stand for it.
    CANDIDATE_NEAR_S = 0.06, "s", "own choice", "none noted";
    /// Contact comes after the hands are fastest and is heard later still: so long after in all …
    HEARD_AFTER_S = 0.065, "s", "own choice", "none noted";
    /// … within so much.
    HEARD_WITHIN_S = 0.055, "s", "own choice", "none noted";
    /// How the hitter stands is looked at from so long before the hands are fastest …
    STANDS_FROM_S = 1.4, "s", "own choice", "none noted";
    /// … to so long before it.
    STANDS_TO_S = 0.55, "s", "own choice", "none noted";
    /// For the traits the stance is looked at from so long before the hands go …
    TRAITS_STANCE_FROM_S = 0.9, "s", "own choice", "none noted";
    /// … to so long before it.
    TRAITS_STANCE_TO_S = 0.45, "s", "own choice", "none noted";
    /// A point's travel is counted between places this far apart.
    TRAVEL_EVERY_S = 0.1, "s", "own choice", "none noted";
    /// Of each step of a point's travel so much is trembling and not counted.
    TREMBLE = 0.006, "body heights", "own choice", "none noted";
    /// A head part counts when it is there in this share of the pictures.
    HEAD_PART_SHARE = 0.8, "share", "own choice", "none noted";
    /// The same for the knuckles, else the wrists stand for the hands.
    HAND_PART_SHARE = 0.7, "share", "own choice", "none noted";
    /// A step between pictures is a hole when it is so many times the longest usual one …
    HOLE_STEPS = 2.6, "steps", "own choice", "none noted";
    /// … and so long.
    SHORTEST_HOLE_S = 0.03, "s", "own choice", "none noted";
    /// This share of all steps is usual: pictures that come unevenly all through are no holes.
    USUAL_STEPS = 0.9, "share", "own choice", "none noted";
    /// So near a hole between pictures the points of a moment are read from one side only.
    PICTURE_HOLE_NEAR_S = 0.03, "s", "own choice", "none noted";
    /// Travel of the hands is read over about so long after they start.
    HOLE_TRAVEL_S = 0.1, "s", "own choice", "none noted";
    /// Length of one reading of the sound's level.
    SOUND_HOP_S = 0.001, "s", "own choice", "none noted";
    /// The level before a jump is the mean from so long before it …
    SOUND_BEFORE_FROM_S = 0.060, "s", "own choice", "none noted";
    /// … to so long before it.
    SOUND_BEFORE_TO_S = 0.004, "s", "own choice", "none noted";
    /// Smaller jumps are not kept.
    ONSET_RISE_DB = 9.0, "dB", "own choice", "none noted";
    /// After a jump its own ringing is not another one.
    ONSET_REST_S = 0.060, "s", "own choice", "none noted";
    /// Levels under this are silence: digital zero would make any rustle an infinite jump.
    SOUND_FLOOR_DB = -65.0, "dBFS", "own choice", "none noted";
    /// A fit may not bridge more than this between two samples.
    FIT_GAP_S = 0.09, "s", "own choice", "none noted";
    /// A stretch without a point is a hole when it is longer than this …
    UNSEEN_HOLE_S = 0.04, "s", "own choice", "none noted";
    /// … and than so many pictures.
    UNSEEN_HOLE_PICTURES = 3.5, "pictures", "own choice", "none noted";
    /// A moment so near a hole may have been drawn to its edge.
    UNSEEN_NEAR_S = 0.08, "s", "own choice", "none noted";
    /// Holes are looked for from so long before the hands are fastest …
    UNSEEN_BEFORE_S = 0.6, "s", "own choice", "none noted";
    /// … until so long after.
    UNSEEN_AFTER_S = 0.35, "s", "own choice", "none noted";
    /// How surely a loaded foot is told from its ankle alone.
    BY_ANKLE_PM_S = 0.045, "s", "own estimate: on made-up swings within 20 ms, but the way from touch to full weight (30 to 80 ms) differs between hitters", "made-up";
    /// A place that a person set pulls along what lies nearer in time than this: the few pictures in which an error of the
    /// points grows and shrinks.
    BEND_REACH_S = 0.1, "s", "own choice", "none";
}
