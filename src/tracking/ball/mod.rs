//! The ball, which the pose net does not see: a small thing that flies straight. Its way in and its way off the
//! bat meet at contact.

mod movers;
mod path;

pub use movers::{BallPicture, Mover, changed, movers};
pub use path::{BALL_M, Field, find_ball};
