use serde::{Deserialize, Serialize};

use super::Similarity;

/// How a hand-held camera moved: for each pose of a track the map from picture px to steady px (the
/// picture as a camera that stands still would have seen it, in one chosen picture's px).
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct CameraMotion {
    /// One for each pose, in order; empty when the camera stood still.
    pub to_steady: Vec<Similarity>,
}

impl CameraMotion {
    /// The map for the `pose`-th pose of the track.
    pub fn to_steady(&self, pose: usize) -> Similarity {
        self.to_steady.get(pose).copied().unwrap_or(Similarity::IDENTITY)
    }

    /// Whether it never moved.
    pub fn stood_still(&self) -> bool {
        self.to_steady.is_empty()
    }
}
