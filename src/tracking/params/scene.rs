//! What moves in the picture, and the camera.

crate::types::tuned! {
    /// Cells along the longer side of the picture.
    MOTION_CELLS: usize = 48, "cells", "own choice", "none noted";
    /// Samples a cell and direction.
    MOTION_FINE: usize = 4, "samples", "own choice", "none noted";
    /// A smaller change of luma is noise.
    MOTION_NOISE: i32 = 6, "levels of 8 bit", "own choice", "none noted";
    /// Every so many px across and down are compared.
    PAN_STRIDE: usize = 4, "px", "own choice", "none noted";
    /// Levels over which a difference counts no more: a body that moves is no camera that does.
    PAN_MOST_LEVELS: i32 = 24, "levels of 8 bit", "own choice", "none noted";
    /// A reference is kept until the scene has shifted by so much: a slow drift is then measured whole and nothing
    /// adds up.
    PAN_LONGEST = 0.2, "share of the picture", "own choice", "none noted";
    /// The scene is lost where the best shift leaves so much: a cut, or a turn too quick to follow.
    PAN_LOST_LEVELS = 12.0, "levels of 8 bit", "own choice", "none noted";
    /// Two pictures in a row are of different shots when they differ by so much on the whole …
    CUT = 14.0, "levels of 8 bit", "own choice", "made-up";
    /// … and by so many times as much as the pictures just before and after.
    CUT_OVER_NEIGHBOURS = 3.0, "times", "own choice: a swing fills a part of the picture; a quick turn of the camera differs about as much for many pictures; a flash goes as it came", "made-up";
    /// Longer side of the pictures that are matched.
    STEADY_LONG_SIDE: usize = 384, "px", "own choice", "none noted";
    /// Half a patch.
    PATCH_HALF: i32 = 4, "px", "own choice", "none noted";
    /// Search around the place where the camera was one picture earlier …
    PATCH_REACH: i32 = 6, "px", "own choice", "none noted";
    /// … wider once it was lost.
    PATCH_LOST_REACH: i32 = 16, "px", "own choice", "none noted";
    /// Fewer agreeing patches say nothing.
    FEWEST_PATCHES: usize = 8, "patches", "own choice", "none noted";
    /// Patches that agree lie within this of the common motion; if too few do, within twice as much, and so on …
    PATCHES_AGREE = 0.6, "px", "own choice", "none noted";
    /// … up to this: what a camera sees that is moved, not only turned, shifts by how far away it is.
    PATCHES_AGREE_MOST = 2.4, "px", "own choice", "a caged hitter filmed by hand, on whom it is also shown";
    /// When less than this of a picture's marked places is found again, a nearer picture is compared with.
    KEY_SEEN = 0.5, "share", "own choice", "a caged hitter filmed by hand, on whom it is also shown";
    /// Marked places far from the hitter count so much, those at his feet 1.
    MARK_FAR_WEIGHT = 0.25, "share", "own choice: what stands about the hitter is as far from the camera as he is", "a caged hitter filmed by hand, on whom it is also shown";
    /// The camera stood still when in nine pictures of ten no corner of the picture moved more than this.
    CAMERA_STILL = 0.3, "px of the small picture", "own choice: compression alone makes patches wander by a good part of it", "none noted";
    /// The scene's corners are spread over cells so large …
    CORNER_CELL: u32 = 24, "px", "own choice", "none noted";
    /// … so many in each.
    CORNERS_A_CELL: usize = 2, "corners", "own choice", "none noted";
}
