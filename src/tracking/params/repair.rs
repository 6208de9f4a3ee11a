//! What the net sees wrongly, put right.

crate::types::tuned! {
    /// Middles of the knuckles of two hands on one bat lie at most so far apart: a hand's width and a little, which
    /// the picture only shortens.
    GRIP_APART = 0.055, "body heights", "own choice: a hand is about 0.05 wide without the thumb; 0.04 to 0.07 hardly differ", "seven made-up films";
    /// What the net believes of a hand is taken over so much on each side: in a blurred picture it may be sure of
    /// an elbow.
    BELIEF_ASK_S = 0.03, "s", "own choice", "none noted";
    /// A belief of less than this is none.
    NO_BELIEF = 0.02, "0 to 1", "own choice", "none noted";
    /// Two hands are taken to grip one bat while most pictures within this of one show them together.
    GRIP_HOLD_S = 0.2, "s", "own choice", "none noted";
    /// Neither hand is seen where the net believes less than this in both …
    HIDDEN_BELIEF = 0.18, "0 to 1, s", "own choice: a belief of 0.16 to 0.2 hardly differs", "seven made-up films, two of a recorded swing";
    /// … taken over so much on each side, s …
    HIDDEN_ASK_S = 0.02, "0 to 1, s", "own choice: a belief of 0.16 to 0.2 hardly differs", "seven made-up films, two of a recorded swing";
    /// … and for no longer than this they are carried over it …
    LONGEST_HIDDEN_S = 0.12, "s", "own choice", "seven made-up films, two of a recorded swing";
    /// … with the speed that they have about so long before and after it.
    HIDDEN_SPEED_S = 0.05, "s", "own choice", "seven made-up films, two of a recorded swing";
    /// What is moved farther than this is worked out and not seen.
    GRIP_MOVED = 0.02, "body heights", "own choice", "none noted";
    /// The wrists are taken to hold one bat while most pictures within this of one show them together.
    BAT_HOLD_S = 0.2, "s", "own choice", "none noted";
    /// A wrist farther from its fellow than usual by more than about a hand's width has jumped away.
    HAND_WIDTH = 0.07, "body heights", "own choice: a hand is 0.108 of the height long (Drillis & Contini 1966, in Winter)", "none noted";
    /// Good pictures farther away than this say nothing.
    WRIST_ASK_S = 0.3, "s", "own choice", "none noted";
    /// Gaps longer than this stay gaps.
    LONGEST_GAP_S = 0.08, "s", "own choice", "none noted";
    /// How far a neighbour may be asked.
    OUTLIER_ASK_S = 0.3, "s", "own choice: longer than any sure stretch", "none noted";
    /// Half the window of the running median …
    MEDIAN_WINDOW_S = 0.05, "s", "own choice", "none noted";
    /// … and at least so many samples on each side.
    MEDIAN_WINDOW: usize = 2, "samples", "own choice", "none noted";
    /// Samples farther apart than this are not smoothed across.
    SMOOTH_LONGEST_STEP_S = 0.12, "s", "own choice", "none noted";
    /// Fewer samples are left as they are.
    SMOOTH_FEWEST: usize = 8, "samples", "own choice", "none noted";
    /// What a second told the other way round costs. The net is right far more often than not, so a swap must save
    /// more than this over its length.
    AGAINST_THE_NET = 0.6, "body heights of jump per s", "own choice: by time, so that the rate of the clip does not matter", "none noted";
    /// A picture stands for no more than this: what lies in a longer gap is not known.
    SWAP_LONGEST_STEP_S = 0.1, "s", "own choice", "none noted";
    /// What each change of mind costs.
    SWAP_CHANGE = 0.04, "body heights of jump", "own choice", "none noted";
}
