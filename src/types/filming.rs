use serde::{Deserialize, Serialize};

/// How alike two clips were filmed, which says how much of their errors they share.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Filming {
    /// One camera that was not moved in between, as far as the clips show.
    Alike,
    /// The same view at about the same rate and size, the camera set up again.
    SetUpAnew,
    /// The same view, but another rate or a body of quite another size.
    Otherwise,
    /// Another view, or hitters of unlike sides of the plate: nothing is shared.
    OtherView,
}

/// What differs between how two clips were filmed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FilmingChange {
    /// Seen from another side.
    View,
    /// A hitter of the other side of the plate.
    Side,
    /// Another rate of pictures.
    Rate,
    /// The body's size in the picture.
    BodySize,
    /// Where the hitter stands in the picture.
    Place,
    /// One camera stood still, the other was held.
    Steadiness,
    /// Another background.
    Background,
    /// Other light.
    Light,
}

/// How alike two clips were filmed, and why not more.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FilmedAlike {
    /// How alike.
    pub filming: Filming,
    /// Empty when alike.
    pub changes: Vec<FilmingChange>,
}

/// The scene about the hitter as a small picture: rows of mean luma (0–255) of one picture of the clip.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct SceneLuma {
    /// [`SceneLuma::WIDTH`] × [`SceneLuma::HEIGHT`] means, row by row from the upper left.
    pub cells: Vec<u8>,
}

impl SceneLuma {
    /// Cells across.
    pub const WIDTH: usize = 16;
    /// Cells down.
    pub const HEIGHT: usize = 9;
}
