use std::error::Error;
use std::fmt::{Display, Formatter, Result};
use std::sync::Arc;

/// What led to an error: in words, and the error behind it, where there is one.
#[derive(Debug, Clone)]
pub struct Cause {
    words: String,
    source: Option<Arc<dyn Error + Send + Sync>>,
}

impl Cause {
    /// Another error, in its own words.
    pub fn of(error: impl Error + Send + Sync + 'static) -> Self {
        Self::told(error.to_string(), error)
    }

    /// Another error, in better words.
    pub fn told(words: impl Into<String>, error: impl Error + Send + Sync + 'static) -> Self {
        Self { words: words.into(), source: Some(Arc::new(error)) }
    }

    /// The error behind it, where there is one.
    pub fn source(&self) -> Option<&(dyn Error + 'static)> {
        self.source.as_deref().map(|e| e as &(dyn Error + 'static))
    }
}

impl Display for Cause {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        f.write_str(&self.words)
    }
}

impl From<String> for Cause {
    fn from(words: String) -> Self {
        Self { words, source: None }
    }
}

impl From<&str> for Cause {
    fn from(words: &str) -> Self {
        words.to_owned().into()
    }
}

#[cfg(test)]
mod tests {
    use std::io;
    use std::path::Path;

    use super::*;

    #[test]
    fn an_error_keeps_the_one_behind_it() {
        let full = crate::types::Error::writing(Path::new("a.mp4"), io::ErrorKind::StorageFull.into());
        assert!(full.to_string().contains("the disk is full"), "{full}");
        let behind = full.source().and_then(|e| e.downcast_ref::<io::Error>()).unwrap();
        assert_eq!(behind.kind(), io::ErrorKind::StorageFull);
        let words = crate::types::Error::Unpairable { cause: "no shared event".into() };
        assert!(words.source().is_none());
    }
}
