//! The one integration binary: each module holds a part of the main job against the world.
mod media;
mod pose_reference;
