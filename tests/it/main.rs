//! The one integration binary: each module holds a part of the main job against the world.
mod pose_reference;
mod media;
