//! A made-up hitter in 3-D, filmed by a made-up camera, with the exact truth beside it.
//!
//! [`Scenario`] is plain data; [`Truth::of`] tells what happens in it without drawing a picture;
//! [`film`] draws it into a clip with the truth beside it; [`scenarios`] holds ready ones.

mod act;
mod ball;
mod bystander;
mod camera;
mod curve;
mod dice;
mod events;
mod exact;
mod figure;
mod film;
mod foot;
mod hitter;
mod lesson;
mod motion;
mod pastime;
mod puppet;
mod recorded;
mod render;
mod replay;
mod scenario;
pub mod scenarios;
mod session;
mod sound;
mod style;
mod swing;
mod truth;
mod v3;

pub use ball::{BallSource, Flight};
pub use camera::{Camera, CameraPlan, Eye, Hold};
pub use dice::Dice;
pub use events::Moments;
pub use figure::{Bat, Figure, Head, angle_deg};
pub use film::{film, film_two_reps, truth_path};
pub use hitter::{Hitter, Limbs};
pub use lesson::{DAYS, LessonFilm, REPS, film_lesson, lesson_films};
pub use pastime::Pastime;
pub use recorded::Recorded;
pub use render::Studio;
pub use replay::Replay;
pub use scenario::{
    Aside, Bystander, Echo, OtherKind, OtherSound, Outfit, Place, Practice, Rgb, Scenario, Scene, SoundPlan,
};
pub use session::{Act, Session, SessionAct, film_session, session};
pub use sound::record;
pub use style::{Stride, Style, Timing};
pub use swing::Swing;
pub use truth::{RecordedPart, Truth};
pub use v3::{V3, v3};

#[cfg(test)]
mod swing_tests;
