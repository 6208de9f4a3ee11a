use serde::{Deserialize, Serialize};

/// Something the reader of a result should know. Data, not output: the command line prints it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Warning {
    /// Stable word for programs, snake_case (`sound_lags_picture`).
    pub code: String,
    /// One plain sentence for people.
    pub text: String,
}

impl Warning {
    /// With a word for programs and a sentence for people.
    pub fn new(code: &str, text: impl Into<String>) -> Self {
        Self { code: code.to_owned(), text: text.into() }
    }
}
