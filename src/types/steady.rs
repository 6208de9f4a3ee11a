use serde::{Deserialize, Serialize};

use super::Similarity;

/// How a hand-held camera moved: for each pose of a track the map from picture px to steady px (the
/// picture as a camera that stands still would have seen it, in one chosen picture's px).
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct CameraMotion {
    /// One for each pose, in order; empty when the camera stood still.
    pub to_steady: Vec<Similarity>,
    /// Poses, from 0 and in order, in whose picture too little of the scene was found again to tell; their maps are laid
    /// between those of their neighbours.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lost: Vec<usize>,
}

impl CameraMotion {
    /// The map for the `pose`-th pose of the track.
    pub fn to_steady(&self, pose: usize) -> Similarity {
        self.to_steady.get(pose).copied().unwrap_or(Similarity::IDENTITY)
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.to_steady.is_empty() && self.lost.is_empty()
    }

    /// Whether it never moved, as far as was seen.
    pub fn stood_still(&self) -> bool {
        self.to_steady.is_empty()
    }
}
