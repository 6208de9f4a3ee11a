//! From pictures to the body points of the one who swings: the pose net, and only here.
