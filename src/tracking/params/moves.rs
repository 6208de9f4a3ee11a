//! How shoes and hands are followed by what the pictures show.

crate::types::tuned! {
    /// Levels of the pyramid kept of a picture.
    GLIMPSE_LEVELS: usize = 4, "levels", "own choice", "none noted";
    /// A shoe's outline lies within this of the lines from heel to toe to instep.
    SHOE = 0.022, "body heights", "own choice: more takes in the shin, which turns otherwise", "none noted";
    /// The gloves and the handle lie within this of the lines from wrist to knuckles.
    GLOVES = 0.035, "body heights", "own choice", "none noted";
    /// So far up from the sole toward the ankle a shoe moves as one piece.
    INSTEP = 0.6, "share", "own choice", "none noted";
    /// So far beyond the heel its moves are read …
    HEEL_OUTWARD = 0.1, "share of the way between them", "own choice", "made-up shoes";
    /// … and beyond the toe.
    TOE_OUTWARD = 0.2, "share of the way between them", "own choice", "made-up shoes";
    /// A piece that the net believes in less is hidden and not followed: what is seen in its place is something
    /// else.
    PIECE_SEEN: f32 = 0.6, "0 to 1", "own choice: hands seen from the side have 0.65 to 0.95, hands behind the body 0.1 to 0.5", "made-up films";
    /// An answer this far from the net's is none …
    ASTRAY = 0.004, "body heights", "own choice", "none noted";
    /// … and so far for feet …
    FEET_ASTRAY_S = 0.6, "body heights per s", "own choice", "none noted";
    /// … and for hands.
    HANDS_ASTRAY_S = 1.5, "body heights per s", "own choice", "none noted";
    /// More of the piece's outline than this unexplained is no answer.
    UNEXPLAINED = 0.6, "share", "own choice", "none noted";
    /// Places of a scene that moves are known to this …
    MOVING_SCENE_PX = 0.3, "px", "own choice", "none noted";
    /// … and of one that stands still.
    STILL_SCENE_PX = 0.05, "px", "own choice", "none noted";
    /// What neither layer explains is taken to be this likely, against 1 for a perfect fit.
    UNKNOWN = 0.03, "likelihood", "own choice", "none noted";
    /// The scene explains a pixel of the piece's outline this much less likely than the piece itself: the ends of a
    /// piece that turns stand still and are yet its own.
    BEHIND = 0.3, "likelihood", "own choice", "none noted";
    /// The piece may change its looks: its pixels may differ by so much.
    LOOSE = 1.5, "times the noise", "own choice", "none noted";
    /// Levels used, from the finest.
    PIECE_LEVELS: usize = 3, "levels", "own choice", "none noted";
    /// Where a point was not found by the net for no longer than this, the picture's moves carry it.
    LONGEST_CARRIED_S = 0.15, "s", "own choice", "none noted";
    /// Links longer than this hold nothing together.
    LONGEST_LINK_S = 0.12, "s", "own choice", "none noted";
    /// Where the net, over so long on each side …
    FUSE_TURN_S = 0.12, "s", "own choice", "none noted";
    /// … went so much farther than the pictures' moves, the pictures followed something else (the ground, say): the
    /// moves there are not believed.
    FUSE_TURN = 0.03, "body heights", "own choice", "none noted";
    /// Usual size of the net's error in feet …
    FEET_WANDER = 0.008, "body heights", "not noted", "none noted";
    /// … and how long it stays alike.
    FEET_WANDER_S = 0.06, "s", "not noted", "none noted";
    /// A move of feet may be off by this share of its length besides its own doubt …
    FEET_SHARE = 0.2, "share", "not noted", "none noted";
    /// … and how long that stays alike.
    FEET_SHARE_S = 0.05, "s", "not noted", "none noted";
    /// Usual size of the net's error in hands …
    HANDS_WANDER = 0.015, "body heights", "not noted", "none noted";
    /// … and how long it stays alike.
    HANDS_WANDER_S = 0.03, "s", "not noted", "none noted";
    /// A move of hands may be off by this share of its length besides its own doubt …
    HANDS_SHARE = 0.2, "share", "not noted", "none noted";
    /// … and how long that stays alike.
    HANDS_SHARE_S = 0.07, "s", "not noted", "none noted";
    /// The same as LOOSE while the way is being found, step 1.
    LOOSE_1 = 4.0, "times the noise", "own choice", "none noted";
    /// The same as LOOSE while the way is being found, step 2.
    LOOSE_2 = 3.0, "times the noise", "own choice", "none noted";
    /// The same as LOOSE while the way is being found, step 3.
    LOOSE_3 = 2.5, "times the noise", "own choice", "none noted";
    /// The same as LOOSE while the way is being found, step 4.
    LOOSE_4 = 2.0, "times the noise", "own choice", "none noted";
    /// The same as LOOSE while the way is being found, step 5.
    LOOSE_5 = 1.7, "times the noise", "own choice", "none noted";
}
