//! The shot plan: what the clip shows, in order, as data. [`super::plan_text`] reads and writes it,
//! [`super::ready`] holds those that are ready to use, [`super::beats`] turns it into output pictures.

use serde::{Deserialize, Serialize};

use super::layout::Layout;
use crate::draw::Letters;
use crate::types::{EventId, Result, words};

/// A moment of a swing: "load", "extension+0.2s", "plant-150ms".
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(into = "String")]
pub struct Moment {
    /// The event that the offset counts from.
    pub event: EventId,
    /// Real seconds after it (negative: before).
    pub offset_s: f64,
}

/// A beat of rest on one event, with what was measured there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hold {
    /// Where it rests.
    #[serde(rename = "at")]
    pub event: EventId,
    /// Output seconds, 0…30.
    pub seconds: f64,
    /// Said instead of the event's name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub caption: Option<String>,
}

words! {
    /// What can be drawn on the body.
    pub enum Mark {
        /// Where the head was at stance, and where it is.
        "head" Head,
        /// The way the hands went, its first 10 cm set apart.
        "hand-path" HandPath,
        /// Hip, knee and ankle of the front leg, with the knee's angle.
        "front-leg" FrontLeg,
        /// From the hands to the front ankle, with the distance.
        "hands-to-foot" HandsToFoot,
        /// The body centre's way back and forward since stance, and where it is.
        "body-centre" BodyCentre,
        /// Upright through the back foot as it stood at stance.
        "plumb-line" PlumbLine,
        /// The same through the front foot.
        "plumb-front-foot" PlumbFrontFoot,
        /// The same through the head.
        "plumb-head" PlumbHead,
        /// The same through the middle of the hips.
        "plumb-hips" PlumbHips,
        /// Through both shoulders.
        "shoulders" Shoulders,
        /// On the ground: where the front foot left, touched and planted.
        "feet" Feet,
    }
}

impl Mark {
    /// What a clip shows when nothing else is asked for: few things, so that a player sees them.
    pub fn usual() -> Vec<Self> {
        vec![Self::Head, Self::HandPath]
    }
}

/// The two swings, or one of them, from one moment to another.
#[derive(Debug, Clone, PartialEq)]
pub struct SwingShot {
    /// Moments of today's swing; of the reference's where it is shown alone.
    pub from: Moment,
    /// After `from`.
    pub to: Moment,
    /// How many times slower than life, 0.25…100; 1 = full speed.
    pub slow: f64,
    /// Rests within the shot; those outside it are left out with a warning.
    pub holds: Vec<Hold>,
    /// Default: the plan's.
    pub layout: Option<Layout>,
    /// Default: the plan's.
    pub draw: Option<Vec<Mark>>,
    /// Said all through the shot, instead of the names of events.
    pub caption: Option<String>,
}

/// One part of the video.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "super::plan_text::ShotText", into = "super::plan_text::ShotText")]
pub enum Shot {
    /// The two swings, or one of them.
    Swing(SwingShot),
    /// Words alone, the first line large.
    Title {
        /// 1…6 lines of 1…120 letters.
        lines: Vec<String>,
        /// Output seconds.
        seconds: f64,
    },
    /// The closing card with what was measured.
    Card {
        /// Output seconds.
        seconds: f64,
    },
}

impl Shot {
    /// From one moment to another at full speed, nothing else said.
    pub const fn swing(from: Moment, to: Moment, slow: f64) -> Self {
        Self::Swing(SwingShot { from, to, slow, holds: Vec::new(), layout: None, draw: None, caption: None })
    }
}

/// What the clip shows, in order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// How the two are shown. Default: side by side. A layout asked for on the command line wins.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub layout: Option<Layout>,
    /// Names of the two, today's first; names given on the command line win.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub names: Option<[String; 2]>,
    /// The reference left of today or over it, and named first. Default: today is first.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub reference_first: bool,
    /// What is drawn on the bodies. Default: [`Mark::usual`].
    #[serde(default = "Mark::usual")]
    pub draw: Vec<Mark>,
    /// 1…40 shots, in order.
    #[serde(rename = "shot")]
    pub shots: Vec<Shot>,
}

impl Plan {
    /// A plan with nothing said but its shots.
    pub fn of(shots: Vec<Shot>) -> Self {
        Self { layout: None, names: None, reference_first: false, draw: Mark::usual(), shots }
    }

    /// Whether every text of the plan can be drawn.
    pub fn check_letters(&self) -> Result<()> {
        let letters = Letters::new()?;
        let names = self.names.iter().flatten();
        let texts = self.shots.iter().flat_map(|shot| match shot {
            Shot::Swing(s) => {
                s.caption.iter().chain(s.holds.iter().filter_map(|h| h.caption.as_ref())).collect()
            }
            Shot::Title { lines, .. } => lines.iter().collect(),
            Shot::Card { .. } => Vec::new(),
        });
        names.chain(texts).try_for_each(|text| letters.check(text))
    }

    /// How a shot is shown: its own layout, else the one that is asked for, else the plan's.
    pub fn layout(&self, shot: &Shot, asked: Option<Layout>) -> Option<Layout> {
        let own = if let Shot::Swing(s) = shot { s.layout } else { None };
        own.or(asked).or(self.layout)
    }

    /// What is drawn in a shot.
    pub fn draw<'a>(&'a self, shot: &'a Shot) -> &'a [Mark] {
        match shot {
            Shot::Swing(SwingShot { draw: Some(draw), .. }) => draw,
            _ => &self.draw,
        }
    }
}
