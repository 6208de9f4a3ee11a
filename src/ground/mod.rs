//! Plain types shared by every room: no behaviour beyond what the type itself means.

mod ball;
mod bat;
mod beside;
mod cancel;
mod error;
mod event;
mod frame;
mod geometry;
mod known;
mod measure;
mod pairing;
mod progress;
mod reading;
mod sound;
mod steady;
mod track;
mod warning;
pub mod words;

pub use ball::BallLook;
pub use bat::BatLook;
pub use beside::{create_beside, folder};
pub use cancel::Cancel;
pub use error::{Error, Result};
pub use event::{Event, EventId, Events, Source};
pub use frame::{Frame, Plane, TimedFrame};
pub use geometry::{Point, Rect, Similarity};
pub use known::KnownLength;
pub use measure::{Absent, Measure, MeasureId, Measures, Unit};
pub use pairing::{Difference, GoodRep, GoodReps, Knot, Limit, OneSided, Pairing, Registration};
pub use pairing::{Spread, SyncOn, TimeMap, Verdict, Which};
pub use progress::{NoProgress, Progress};
pub use reading::{ClipFacts, Hitter, PitcherSide, Reading, Scale, Side, View};
pub use sound::{Onset, Sound};
pub use steady::CameraMotion;
pub use track::{PARTS, Part, Pose, Seen, Spot, Track};
pub use warning::Warning;
