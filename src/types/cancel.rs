use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::{Error, Result};

/// A request to stop, shared by everyone who works on one job. Cloning shares it.
#[derive(Debug, Clone, Default)]
pub struct Cancel {
    own: Arc<AtomicBool>,
    above: Option<Arc<Cancel>>,
}

impl Cancel {
    /// Ask every holder to stop at its next [`Cancel::check`].
    pub fn cancel(&self) {
        self.own.store(true, Ordering::SeqCst);
    }

    /// Whether the work shall stop.
    pub fn is_cancelled(&self) -> bool {
        self.own.load(Ordering::SeqCst) || self.above.as_ref().is_some_and(|above| above.is_cancelled())
    }

    /// A request of its own for a part of the job: who stops the job stops it, not the other way round.
    pub fn below(&self) -> Self {
        Self { own: Arc::default(), above: Some(Arc::new(self.clone())) }
    }

    /// `Err(Error::Cancelled)` once a stop was asked for. Long loops call it once a picture.
    pub fn check(&self) -> Result<()> {
        if self.is_cancelled() { Err(Error::Cancelled) } else { Ok(()) }
    }
}
