//! Canvas, shapes, text and theme. Told what to draw; knows nothing of swings.
