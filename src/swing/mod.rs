//! Events and measures from a track. Pure: no files, no clock, no threads, no pixels.
