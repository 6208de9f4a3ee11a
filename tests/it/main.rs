//! The one integration binary: each module holds a part of the main job against the world.
mod cli;
mod cutout_truth;
mod cuts;
mod fields;
mod goldens;
mod hostile;
mod house;
mod made_clip;
mod measures;
mod media;
mod playable;
mod pose_reference;
mod properties;
mod seeks;
mod skipped;
mod swing_truth;
mod views;
