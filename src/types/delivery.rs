use serde::{Deserialize, Serialize};

/// How the ball comes. A swing off a tee and one against a pitcher are not reps of one thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Delivery {
    /// From a tee.
    Tee,
    /// Tossed or thrown softly by somebody near.
    Thrown,
    /// From a machine.
    Machine,
    /// A pitcher in a game or at live batting practice.
    Live,
}

impl Delivery {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Tee, Self::Thrown, Self::Machine, Self::Live];

    /// As it is written on the command line and in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tee => "tee",
            Self::Thrown => "thrown",
            Self::Machine => "machine",
            Self::Live => "live",
        }
    }

    /// By the word that a person types.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|d| d.word() == word)
    }
}
