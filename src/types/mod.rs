//! Plain types shared by every room: no behaviour beyond what the type itself means.

#![warn(missing_docs)]

mod angles;
mod ball;
mod bat;
mod cancel;
mod cutout;
mod delivery;
mod error;
mod event;
mod filming;
mod found;
mod frame;
mod geometry;
mod known;
mod limits;
mod measure;
mod pairing;
mod params;
mod progress;
mod reading;
mod sound;
mod spread;
mod steady;
mod track;
mod trend;
mod warning;

pub use angles::{Angles, Drift, HeardOffset, LinedUpBy, Offset, RunnerUp, SharedEvent, Unheard};
pub use ball::BallFlight;
pub use bat::BatAtRest;
pub use cancel::Cancel;
pub use cutout::{BatBar, Cutout, Cutouts};
pub use delivery::Delivery;
pub use error::{Error, Result};
pub use event::{Event, EventId, Events, Source};
pub use filming::{FilmedAlike, Filming, FilmingChange, SceneLuma};
pub use found::{FoundRep, FoundReps};
pub use frame::{Frame, Plane, TimedFrame};
pub use geometry::{Point, Rect, Similarity};
pub use known::{KnownHitter, KnownLength};
pub use limits::{Bound, Limits};
pub use measure::{Absent, Measure, MeasureId, Measures, Unit};
pub use pairing::{Difference, GoodRep, GoodReps, Knot, Limit, OneSided, Pairing, Registration};
pub use pairing::{Settle, Spread, SyncOn, TimeMap, UsualFrom, Verdict, Which};
pub use params::Param;
pub(crate) use params::tuned;
pub use progress::{NoProgress, Progress};
pub use reading::{ClipFacts, Hitter, PitcherSide, Reading, Scale, Side, View, file_name, name_alone};
pub use sound::{Onset, SPEED_OF_SOUND_M_S, Sound};
pub use spread::{MeasureSpread, OddRep, REAL_CHANGE_REPS, RepSpread, Stray};
pub use steady::CameraMotion;
pub use track::{PARTS, Part, Pose, Seen, Spot, Track};
pub use trend::{DayMean, Trend};
pub use warning::Warning;
