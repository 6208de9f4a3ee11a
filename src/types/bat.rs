use serde::{Deserialize, Serialize};

/// How long the bat looks in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct BatAtRest {
    /// From the middle of both hand points to the tip, picture px, in the longest looks.
    pub hands_to_tip_px: f64,
    /// Standard share of error, 0…1: foreshortening, the tip and the hand points.
    pub error_share: f64,
    /// Pictures that show it.
    pub looks: usize,
}
