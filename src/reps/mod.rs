//! Readings on disk: the sidecar beside each clip.
