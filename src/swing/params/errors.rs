//! What is not known of each measure beside the ± of events and scale (standard errors). Weights of noise and wander
//! began as own estimates: 1 for one point, √2 for two, a half where many points are averaged or the time between is
//! short, 1.5 to 2 at the feet, which the net follows worst.

crate::types::tuned! {
    /// Angle of a leg.
    NET_DEG = 5.0, "deg", "pose nets on fast legs after clean-up: 3.9 to 7.0 RMSE (arXiv 2505.04713)", "none";
    /// Time of the hands' peak.
    PEAK_TIME_MS = 11.0, "ms", "what the net read", "29 made-up films of all views and rates";
    /// Speed of the hands' peak: points that jump at the fastest moment.
    PEAK_SPEED_SHARE = 0.10, "share", "what the net read", "29 made-up films of all views and rates";
    /// Body center at load.
    CENTRE_BACK = 0.002, "body heights", "own estimate", "none noted";
    /// Body center at plant.
    CENTRE_AT_PLANT = 0.004, "body heights", "own estimate", "none noted";
    /// Body center at contact.
    CENTRE_AT_CONTACT = 0.015, "body heights", "what the net read: 3 cm too far forward in recorded swings, 1.4 in made-up ones", "films of recorded and of made-up swings, set";
    /// Noise and wander of a body center up to plant, in those of one point.
    CENTRE_POINTS = 0.4, "points", "own estimate: many points are averaged", "none noted";
    /// Noise of a body center at contact.
    CENTRE_CONTACT_NOISE = 0.5, "points", "own estimate", "none noted";
    /// Wander of a body center at contact.
    CENTRE_CONTACT_WANDER = 0.6, "points", "own estimate", "none noted";
    /// Noise of a foot.
    FOOT_NOISE = 1.5, "points", "own estimate", "none noted";
    /// Wander of a foot.
    FOOT_WANDER = 1.95, "points", "own estimate", "none noted";
    /// Noise of the head.
    HEAD_NOISE = 1.0, "points", "own estimate", "none noted";
    /// Wander of the head: between the ears the net strays less than at a foot.
    HEAD_WANDER = 0.9, "points", "own estimate", "none noted";
    /// A direction that is less sure than this is none.
    UNKNOWN_DIRECTION_DEG = 75.0, "deg", "own choice: from 75° up to 75° down is nearly all there is", "none noted";
    /// Noise of the first hand travel: both ends of 10 cm.
    TRAVEL_NOISE = 1.4, "points", "own estimate: two points", "none noted";
    /// Wander of the first hand travel: over so short a time half of that between two events.
    TRAVEL_WANDER = 0.7, "points", "own estimate", "none noted";
    /// Front shoulder's rise: the net lags where the shoulder comes round; read 6 cm too low in the middle, 12 cm in 90 %.
    SHOULDER_RISE = 0.035, "body heights", "what the net read", "29 made-up films of all views and rates";
    /// Noise and wander of the front shoulder.
    SHOULDER_POINTS = 1.0, "points", "own estimate: one point", "none noted";
    /// Hands behind the head at finish, often hidden: so many times two joints.
    FINISH_JOINTS = 2.6, "times", "own estimate", "none noted";
}
