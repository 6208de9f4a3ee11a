//! When things happen: moments, how long things take, what no body can do.

crate::types::tuned! {
    /// Stance ends where the body has moved back by this share of its way to the load.
    STANCE_MOVED_SHARE = 0.12, "share", "own choice", "none noted";
    /// By then the body has been under way for so long.
    STANCE_UNDER_WAY_S = 0.075, "s", "own choice, by the speed of 2 cm/s", "made-up";
    /// Whatever the body did earlier than this before the load is not this swing's.
    LONGEST_LOAD_S = 0.9, "s", "own choice", "none noted";
    /// Hands slower than this are quiet at stance.
    QUIET_HANDS = 0.25, "body heights per s", "own choice", "none noted";
    /// Moments of two readings this near are the same.
    SAME_MOMENT_S = 0.030, "s", "own choice", "none noted";
    /// Contacts this near belong to one swing.
    ONE_SWING_S = 0.15, "s", "own choice", "none noted";
    /// A foot faster than this is on its way (about 0.4 m/s).
    FOOT_MOVES = 0.22, "body heights per s", "own choice between the net's jitter and a stride's 2 to 3 m/s", "none noted";
    /// … but a foot that so many times as fast, or as slow, is on its way or stands is not seen to do either.
    FOOT_MOVES_DOUBT = 1.5, "times", "own choice", "a cut and a mirrored made-up film";
    /// Least ± of touch: the toe's own fall ends before the foot carries anything.
    TOUCH_PM_S = 0.028, "s", "what was read of exact points", "recorded swings as points, set: 20 ms held 39 of 48";
    /// The foot is planted when toe and heel are slower than this (about 0.15 m/s).
    FOOT_PLANTED = 0.085, "body heights per s", "own choice", "none noted";
    /// It has touched when the forefoot falls slower than this (about 0.1 m/s).
    FOOT_TOUCHED = 0.06, "body heights per s", "own choice", "none noted";
    /// Toe or heel farther than this from its place in the swing is not there yet.
    FOOT_MOVED = 0.014, "body heights", "own choice", "none noted";
    /// What takes longer than this from touch to full weight is no landing.
    LONGEST_LANDING_S = 0.25, "s", "own choice: from touch to full weight it takes some 30 to 80 ms", "none noted";
    /// A stride ends at most this long before the hands are fastest.
    LATEST_STRIDE_S = 0.6, "s", "own choice: plant comes some 130 ms before it", "none noted";
    /// What began longer than this before foot down was no stride.
    LONGEST_STRIDE_S = 1.5, "s", "own choice: a stride takes 762 ms on average over six hitters, 61 ms of spread within one, 215 between hitters up to contact (science.md section 10)", "none noted";
    /// More taps of the front foot than this are not believed.
    MOST_TAPS: usize = 3, "taps", "own choice: hitters tap once or twice (common practice, no source); one more is believed", "none noted";
    /// A foot that never leaves its place by more than this did not stride.
    NO_STRIDE = 0.032, "body heights", "own choice", "none noted";
    /// A foot that seems to land less than this before the hands are fastest did not: it turned or rolled over, as
    /// feet do in the swing.
    LANDS_TOO_LATE_S = 0.03, "s", "own choice: on force plates and in motion capture full weight is on the foot some 100 ms and more before contact", "none noted";
    /// Then it is looked for once more as if the swing came so much earlier.
    LOOK_EARLIER_S = 0.09, "s", "own choice", "none noted";
    /// A landing so found is less sure by so much.
    TURNED_FOOT_PM_S = 0.06, "s", "own choice", "none noted";
    /// Full weight comes so long after the first touch.
    AFTER_TOUCH_S = 0.055, "s", "middle of the 30 to 80 ms of motion-captured swings", "none noted";
    /// Its standard deviation between swings.
    AFTER_TOUCH_SD_S = 0.02, "s", "own choice by the same range", "made-up points and films, set";
    /// So likely, against the most usual one, is a landing of any other length.
    UNUSUAL_LANDING = 0.02, "share", "own choice; 0.02 to 0.1 hardly differ", "made-up points and films, set";
    /// Less than this is not believed to be left between a foot's points and their fit.
    LANDING_ERROR = 0.0015, "body heights", "own choice; 0.0008 hardly differs", "made-up films, set";
    /// What the points of a pose net are off by stays alike for so long.
    ALIKE_IN_FILM_S = 0.03, "s", "own choice by the cut-off of the feet's smoothing; 0.06 hardly differs", "made-up films, set";
    /// A landing read from a pose net's points is off by so much more than the points tell, as a standard deviation.
    NET_LANDING_SD_S = 0.008, "s", "own choice, by what is left on films", "made-up films, set";
    /// A toe that comes to rest later than this after its heel was not landing: it turns, or is not seen rightly.
    TURNS_AFTER_S = 0.03, "s", "own choice", "made-up films, set";
    /// A landing before the first touch is so likely, against the same one after it.
    EARLY_LANDING = 0.001, "share", "own choice: the two are never seen in the other order", "none";
    /// From full weight on the front foot to contact it usually takes this long …
    USUAL_PLANTED_FROM_S = 0.08, "s", "130 ± 17 ms over six hitters, 14 within one (science.md section 10); hitters who land late or early are as usual", "none";
    /// … to this long.
    USUAL_PLANTED_TO_S = 0.25, "s", "as above; about 175 (Welch, from memory, unconfirmed)", "none";
    /// Beyond that ever fewer, with this standard deviation …
    USUAL_PLANTED_SD_S = 0.02, "s", "own choice", "none";
    /// … but never less likely than this, against a usual one.
    UNUSUAL_PLANTED = 0.02, "share", "own choice", "none";
    /// A back foot that seems to move by less than this while the front foot lands stands: its points stray.
    BACK_FOOT_STANDS = 0.015, "body heights", "own choice, by how far standing feet stray", "recorded films, set and report: which of the foot's points count was seen there";
    /// How long the back foot is looked at, s.
    BACK_FOOT_WITHIN_S = 0.1, "s", "own choice", "none";
    /// From the hands' start to contact it usually takes this long …
    USUAL_SWING_FROM_S = 0.10, "s", "141 ± 3 ms over six hitters (science.md section 10); about 150 (Adair)", "none";
    /// … to this long.
    USUAL_SWING_TO_S = 0.26, "s", "208 ± 42 ms (softball, Reilly-Boccia, Sport Journal)", "none";
    /// Beyond that ever fewer, with this standard deviation …
    USUAL_SWING_SD_S = 0.03, "s", "own choice", "none";
    /// … but never less likely than this, against a usual one.
    UNUSUAL_SWING = 0.02, "share", "own choice", "none";
    /// No fit of the hands' speed is believed to be better than this.
    START_ERROR = 0.05, "body heights per s", "own choice", "made-up and recorded points, set";
    /// No plant that is read from the feet is surer than this.
    LEAST_LANDING_PM_S = 0.012, "s", "own choice", "none noted";
    /// A heel comes down at about this speed at the end.
    HEEL_SPEED = 0.5, "body heights per s", "read off the true points", "made-up films, set";
    /// A toe twice as high as this over its ground is in the air.
    FOOT_LIFTED = 0.012, "body heights", "own choice", "none noted";
    /// A false point after contact may be faster than the hands in it: what the ball shows, and a crack that stands
    /// alone, may say that contact came so long before the fastest moment.
    CONTACT_EARLIER_S = 0.20, "s", "own choice", "none noted";
    /// A crack that stands alone rises so much …
    CRACK_DB = 20.0, "dB", "own choice", "none noted";
    /// … and by so much more than all else within half a second.
    CRACK_ALONE_DB = 6.0, "dB", "own choice", "none noted";
    /// Seen along the line of the pitch the hands' way shows badly and its peak may lie in the follow-through: what
    /// is heard or seen may be contact from so long after the moment that the hands tell (less than 0: before it) …
    ALONG_WINDOW_FROM_S = -0.45, "s", "own choice", "none noted";
    /// … to so long after it.
    ALONG_WINDOW_TO_S = 0.06, "s", "own choice", "none noted";
    /// What is read there from motion alone is this unsure.
    ALONG_PM_S = 0.20, "s", "own choice", "none noted";
    /// A sound counts for contact from this rise on.
    CONTACT_RISE_DB = 9.0, "dB", "own choice", "none noted";
    /// How far the peak of the lead over the shoulders strays from that of the reach in 3-D.
    REACH_PM_S = 0.075, "s", "spread between the two", "made-up";
    /// Extension is looked for this long after contact.
    EXTENSION_WITHIN_S = 0.25, "s", "own choice", "none noted";
    /// The hands are often hidden at the finish and die down slowly: it is this unsure.
    FINISH_PM_S = 0.20, "s", "the bench", "films not noted";
    /// At the finish the hands' speed is below this share of its peak …
    FINISH_SHARE = 0.12, "share", "own choice", "none noted";
    /// … for so long.
    FINISH_STAYS_S = 0.08, "s", "own choice", "none noted";
    /// From hands start to contact takes no longer than this.
    LONGEST_SWING_S = 0.42, "s", "own choice: softball hitters take 208 ± 42 ms (Reilly-Boccia, Sport Journal), baseball hitters about 150 ms (Adair); five standard deviations over the slower", "none";
    /// From plant to contact takes no longer than this.
    LONGEST_PLANTED_S = 0.5, "s", "own choice: about 175 ms (Welch, from memory, unconfirmed), nearly three times that", "none";
    /// The hands' peak is no slower than this.
    SLOWEST_HANDS = 2.3, "body heights per s", "own estimate, no published norm found: made-up adults have 4 and more, a child's hands reach about 3", "none";
    /// A foot does not stand lower than the other stood by more than this.
    UNDER_GROUND = 0.06, "body heights", "own choice: half of an ankle's height (.039, Drillis & Contini 1966, in Winter fig. 4.1) and what points stray", "none noted";
    /// A front foot that lands so much farther from the pitcher did not stand where stance was taken.
    STRIDE_AWAY = 0.045, "body heights", "own choice: the front foot lands nearer the pitcher than it stood, or where it stood (common practice, no source)", "none noted";
    /// And so much farther: it is another foot, or another way.
    STRIDE_BACKWARD = 0.15, "body heights", "own choice", "none noted";
    /// Nobody takes less from hands start to contact.
    SHORTEST_SWING_S = 0.05, "s", "own choice: adults take 208 ± 42 ms (softball, Reilly-Boccia) and about 150 ms (baseball, Adair)", "none";
    /// Nobody takes less from the foot's landing to contact.
    SHORTEST_LANDING_S = 0.02, "s", "own choice: 130 ± 17 ms (six hitters, motion capture)", "none";
    /// A knee bends no further than this.
    LEAST_KNEE_DEG = 40.0, "deg", "common practice, no source: heel to seat", "none";
    /// No hands are faster than this.
    FASTEST_HANDS = 9.0, "body heights per s", "own choice: the fastest measured are 9.4 ± 0.85 m/s (36 hitters), some 5.3; five standard deviations and an error of size over that", "none";
    /// From load to plant a body goes forward by less than this; what goes farther walks, or the camera turns.
    WALKS = 0.45, "body heights", "own choice: a long stride is about as long as this (85 cm, Welch, from memory), and the body's middle goes half of it", "none noted";
    /// So long before contact a body that goes that far walks.
    WALK_WITHIN_S = 0.5, "s", "own choice: a swing's own forward move takes about as long", "a caged hitter who walks off, on which it is also shown";
    /// Hips that go farther within it walk.
    WALKS_THROUGH = 0.33, "body heights", "own choice: recorded swings go 0.10 to 0.13, half of a long stride (85 cm, Welch, from memory) is 0.25", "none";
    /// Stance is looked for this long before the swing at most.
    LOOK_BACK_S = 2.2, "s", "own choice", "none noted";
    /// Points that begin later than this before the hands are fastest miss the stride.
    LATEST_BEGIN_S = 0.45, "s", "own choice", "none noted";
    /// From behind and from the front the first move back is hardly seen: stance is this unsure.
    ALONG_STANCE_PM_S = 0.65, "s", "the bench", "films not noted";
    /// Samples this long before the rough moment of a landing are fitted …
    SETTLE_BEFORE_S = 0.11, "s", "own choice", "none noted";
    /// … and this long after it.
    SETTLE_AFTER_S = 0.14, "s", "own choice", "none noted";
    /// The moment is looked for this far from the rough one …
    SETTLE_SEARCH_S = 0.09, "s", "own choice", "none noted";
    /// … in steps of this.
    SETTLE_GRID_S = 0.001, "s", "own choice", "none noted";
    /// How much a drift after the rest costs: a heel that comes down slowly must not pass for the estimator's
    /// wander.
    DRIFT_COST = 0.004, "body heights", "own choice", "none noted";
    /// A swing's trunk is upright by this share of its length; less lies or bends over.
    LEAST_UPRIGHT = 0.7, "share", "own choice: hitters bend by some 20 degrees (common practice, no source)", "labelled, set: 0.83 and more";
    /// One knee stands higher than this over its ankle; lower kneels or lies.
    LOWEST_KNEE = 0.10, "body heights", "own choice: a shank is .246 long (Drillis & Contini 1966, in Winter fig. 4.1)", "labelled, set: 0.14 and more";
    /// As the hands set out they are not lower than this beside the shoulders …
    BEGINS_LOWEST = -0.16, "body heights over the shoulders", "own choice: hands are held before the rear shoulder or armpit (common practice, no source)", "labelled, set: -0.11 to 0.06; acts without a swing, set: nine of ten dances under -0.14";
    /// … nor higher than this.
    BEGINS_HIGHEST = 0.15, "body heights over the shoulders", "own choice: at the ear at the highest (common practice, no source)", "labelled, set: -0.11 to 0.06; acts without a swing, set";
    /// The same of hands that are together on one bat: the net shows them too high where the body hides them.
    BEGINS_HIGHEST_TOGETHER = 0.22, "body heights over the shoulders", "own choice: as where they are fastest", "a caged hitter filmed from his back, on whom it is also shown";
    /// Trunk and knees are looked at from so long before the hands set out.
    HELD_BEFORE_S = 0.1, "s", "own choice", "none";
    /// The hands are looked at from so long before.
    BEGINS_WITHIN_S = 0.05, "s", "own choice", "none";
    /// Where they are fastest they are not higher than this: a ball in the strike zone is met below the shoulders.
    PASSES_HIGHEST = 0.09, "body heights over the shoulders", "Official Baseball Rules, strike zone: up to midway between shoulders and belt; with room for the points", "labelled, set: -0.01 and less; acts without a swing, set";
    /// The same of hands that are together on one bat: the net shows them too high where the body hides them.
    PASSES_HIGHEST_TOGETHER = 0.22, "body heights over the shoulders", "own choice: twice the room; hands overhead pass at 0.28", "acts without a swing, set; a caged hitter filmed from his back, over 0.09";
    /// After that they come up at least so high: a swing ends with the hands about the shoulders or over them …
    LOW_FINISH = -0.075, "body heights over the shoulders", "own choice: common practice, no source; as for bursts at a coarse look", "labelled, set: -0.05 and more; made-up, set: -0.01 and more; acts without a swing, set: dances -0.09 and less";
    /// … within so long …
    RISES_WITHIN_S = 0.6, "s", "own choice: a swing's finish comes 0.28 to 0.55 s after contact (made-up), here from the fastest moment", "none";
    /// … if the hands are seen so long after it …
    RISES_SEEN_S = 0.4, "s", "own choice", "none";
    /// … in so many of the pictures.
    RISES_SEEN_SHARE = 0.6, "share", "own choice", "none";
    /// Hands that rise by less than this after they were fastest, stay under the shoulders …
    HELD_BACK_RISE = 0.03, "body heights", "own choice", "labelled, set; acts without a swing, set";
    /// … and get no farther than this from where they set out were held back.
    HELD_BACK_WAY = 0.33, "body heights", "own choice", "labelled, set: 0.34 where they hardly rise; acts without a swing, set: up to 0.31";
}
