/// Told how far a job is. Called from worker threads, so it must be cheap.
pub trait Progress: Send + Sync {
    /// A stage begins: what is being done in plain words, and how many steps it has (0 = unknown).
    fn begin(&self, what: &str, steps: u64);
    /// `steps` more steps of the current stage are done.
    fn advance(&self, steps: u64);
    /// The current stage is over.
    fn end(&self);
}

/// Tells nobody.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoProgress;

impl Progress for NoProgress {
    fn begin(&self, _what: &str, _steps: u64) {}
    fn advance(&self, _steps: u64) {}
    fn end(&self) {}
}
