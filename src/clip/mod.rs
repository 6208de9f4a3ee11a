//! What the made clip shows, and the threads that render it.
