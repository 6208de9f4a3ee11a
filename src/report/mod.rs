//! Readings as JSON for people and programs.
