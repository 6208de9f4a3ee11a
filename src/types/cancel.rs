use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::{Error, Result};

/// A request to stop, shared by everyone who works on one job. Cloning shares it.
#[derive(Debug, Clone, Default)]
pub struct Cancel(Arc<AtomicBool>);

impl Cancel {
    /// Ask every holder to stop at its next [`Cancel::check`].
    pub fn cancel(&self) {
        self.0.store(true, Ordering::SeqCst);
    }

    /// Whether the work shall stop.
    pub fn is_cancelled(&self) -> bool {
        self.0.load(Ordering::SeqCst)
    }

    /// `Err(Error::Cancelled)` once a stop was asked for. Long loops call it once a picture.
    pub fn check(&self) -> Result<()> {
        if self.is_cancelled() { Err(Error::Cancelled) } else { Ok(()) }
    }
}
