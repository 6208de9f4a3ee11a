//! What speaks for and against a stretch being the swing, with the pitcher on the side it goes to.

use super::super::burst::middle_series;
use super::super::figure::{head_series, part_series};
use super::super::params::*;
use super::super::series::Series;
use super::candidate::{HandDirection, Hands, Stretch};
use crate::types::{Part, Point, Track};

pub const COUNT: usize = 15;

/// Name and weight of each trait, in the order of `Traits`.
pub const TRAITS: [(&str, f64); COUNT] = [
    ("way", WEIGH_WAY),
    ("longest", WEIGH_LONGEST),
    ("quiet", WEIGH_QUIET),
    ("no_way_back", WEIGH_NO_WAY_BACK),
    ("down", WEIGH_DOWN),
    ("high_finish", WEIGH_HIGH_FINISH),
    ("wraps", WEIGH_WRAPS),
    ("ahead", WEIGH_AHEAD),
    ("steps", WEIGH_STEPS),
    ("stride", WEIGH_STRIDE),
    ("weight", WEIGH_WEIGHT),
    ("rear_heel", WEIGH_REAR_HEEL),
    ("rear_knee", WEIGH_REAR_KNEE),
    ("front_down", WEIGH_FRONT_DOWN),
    ("faces", WEIGH_FACES),
];

/// Each −1…1: how much it speaks for the explanation; 0 where it is not seen.
pub type Traits = [f64; COUNT];

/// How likely they make the explanation, log odds.
pub fn score(traits: &Traits) -> f64 {
    traits.iter().zip(TRAITS).map(|(t, (_, weight))| t * weight).sum()
}

/// The points of one track that the traits rest on.
pub struct Body {
    pub hands: Hands,
    height_px: f64,
    first_s: f64,
    ankles: [Series; 2],
    knees: [Series; 2],
    hips: Series,
    shoulders: Series,
    nose: Series,
    /// Between the ears; empty without ears.
    head: Series,
}

impl Body {
    /// `track` in steady px.
    pub fn of(track: &Track, height_px: f64, step_s: f64) -> Self {
        let pair = |part: Part| [part_series(track, part), part_series(track, part.other_side())];
        let ears = !part_series(track, Part::LeftEar).is_empty();
        Self {
            hands: Hands::of(track, height_px, step_s),
            height_px,
            first_s: track.poses.first().map_or(0.0, |p| p.time_s),
            ankles: pair(Part::LeftAnkle),
            knees: pair(Part::LeftKnee),
            hips: middle_series(track, Part::LeftHip),
            shoulders: middle_series(track, Part::LeftShoulder),
            nose: part_series(track, Part::Nose),
            head: if ears { head_series(track) } else { Series::default() },
        }
    }

    /// `longest`: the way of the clip's longest stretch, body heights.
    pub fn traits(&self, stretch: &Stretch, longest: f64) -> Traits {
        let look = TraitInput { body: self, stretch, forward: stretch.toward.forward() };
        let mut traits = [0.0; COUNT];
        let values = [
            Trait::new(stretch.way - 0.3, 0.3),
            Trait::new(stretch.way / longest.max(1e-6) - 0.7, 0.3),
            look.quiet(),
            look.no_way_back(),
            look.down(),
            look.high_finish(),
            look.wraps(),
            look.ahead(),
            look.steps(),
            look.stride(),
            look.weight(),
            look.rear_heel(),
            look.rear_knee(),
            look.front_down(),
            look.faces(),
        ];
        for (slot, value) in traits.iter_mut().zip(values) {
            *slot = value.map_or(0.0, |t| t.0);
        }
        traits
    }
}

/// A value as a share of what is plenty of it, within −1…1.
struct Trait(f64);

impl Trait {
    fn new(value: f64, plenty: f64) -> Option<Self> {
        value.is_finite().then(|| Self((value / plenty).clamp(-1.0, 1.0)))
    }
}

/// One stretch and the body about it. Times before it are those of the stance and the stride.
struct TraitInput<'a> {
    body: &'a Body,
    stretch: &'a Stretch,
    forward: f64,
}

impl TraitInput<'_> {
    /// Toward the pitcher and up, body heights: the median between two times.
    fn at(&self, series: &Series, from_s: f64, to_s: f64) -> Option<Point> {
        let p = series.median(from_s, to_s)? * (1.0 / self.body.height_px);
        Some(Point::new(self.forward * p.x, -p.y))
    }

    /// Hands from the hips, toward the pitcher and up.
    fn hands(&self, time_s: f64) -> Option<Point> {
        self.body.hands.near(time_s).map(|m| Point::new(self.forward * m.at.x, m.at.y))
    }

    /// What tells of the way to the pitcher says nothing where that is along the line of sight.
    fn side(&self) -> Option<()> {
        (self.stretch.toward != HandDirection::Any).then_some(())
    }

    fn stance_s(&self) -> (f64, f64) {
        let from = (self.stretch.from_s - TRAITS_STANCE_FROM_S).max(self.body.first_s);
        (from, (self.stretch.from_s - TRAITS_STANCE_TO_S).max(from + 0.15))
    }

    /// The hands are slow before they go.
    fn quiet(&self) -> Option<Trait> {
        let before = self.body.hands.between(self.stretch.from_s - 0.35, self.stretch.from_s - 0.05);
        let mean = before.iter().map(|m| m.velocity.length()).sum::<f64>() / before.len() as f64;
        Trait::new(1.0 - 4.0 * mean / self.stretch.fastest, 1.0)
    }

    /// The hands have not just come from where they go to, as they have when they go round the body.
    fn no_way_back(&self) -> Option<Trait> {
        self.side()?;
        let seen = self.body.hands.between(self.stretch.from_s - 0.45, self.stretch.from_s);
        let most = seen.iter().map(|m| self.forward * m.at.x).max_by(f64::total_cmp)?;
        Trait::new(0.15 - (most - self.hands(self.stretch.from_s)?.x), 0.4)
    }

    fn down(&self) -> Option<Trait> {
        Trait::new(self.hands(self.stretch.from_s)?.y - self.hands(self.stretch.fastest_s)?.y, 0.2)
    }

    fn over_shoulders(&self, time_s: f64) -> Option<f64> {
        let up = |s: &Series| Some(self.at(s, time_s - 0.03, time_s + 0.03)?.y);
        Some(self.hands(time_s)?.y - (up(&self.body.shoulders)? - up(&self.body.hips)?))
    }

    fn high_finish(&self) -> Option<Trait> {
        let later = self.over_shoulders(self.stretch.to_s + 0.18)?;
        Trait::new(later - self.over_shoulders(self.stretch.fastest_s)?, 0.3)
    }

    /// After the stretch the hands come back round the body.
    fn wraps(&self) -> Option<Trait> {
        self.side()?;
        let after = self.body.hands.between(self.stretch.to_s, self.stretch.to_s + 0.4);
        let least = after.iter().map(|m| self.forward * m.at.x).min_by(f64::total_cmp)?;
        Trait::new(self.hands(self.stretch.to_s)?.x - least - 0.2, 0.3)
    }

    fn ahead(&self) -> Option<Trait> {
        self.side()?;
        Trait::new(self.hands(self.stretch.to_s)?.x - 0.1, 0.2)
    }

    /// The ankle nearer the pitcher before the swing, and the other.
    fn feet(&self) -> Option<[usize; 2]> {
        self.side()?;
        let [a, b] = [0, 1].map(|i| self.at(&self.body.ankles[i], self.stance_s().0, self.stretch.from_s));
        Some(if a?.x >= b?.x { [0, 1] } else { [1, 0] })
    }

    fn steps(&self) -> Option<Trait> {
        let [front, rear] = self.feet()?.map(|i| {
            let ankle = &self.body.ankles[i];
            travelled(ankle, self.stance_s().0, self.stretch.fastest_s, self.body.height_px)
        });
        Trait::new(front - rear, 0.15)
    }

    fn stride(&self) -> Option<Trait> {
        let front = &self.body.ankles[self.feet()?[0]];
        let (from, to) = self.stance_s();
        let way =
            self.at(front, self.stretch.from_s, self.stretch.fastest_s)?.x - self.at(front, from, to)?.x;
        Trait::new(way, 0.12)
    }

    fn weight(&self) -> Option<Trait> {
        self.side()?;
        let (hips, (from, to)) = (&self.body.hips, self.stance_s());
        let way = self.at(hips, self.stretch.from_s, self.stretch.fastest_s)?.x - self.at(hips, from, to)?.x;
        Trait::new(way, 0.1)
    }

    fn rear_heel(&self) -> Option<Trait> {
        let s = self.stretch;
        let rise = |i: usize| {
            let ankle = &self.body.ankles[i];
            Some(self.at(ankle, s.fastest_s, s.to_s + 0.05)?.y - self.at(ankle, s.from_s - 0.15, s.from_s)?.y)
        };
        let [front, rear] = self.feet()?;
        Trait::new(rise(rear)? - rise(front)?, 0.06)
    }

    fn rear_knee(&self) -> Option<Trait> {
        let (s, rear) = (self.stretch, self.feet()?[1]);
        let over_foot = |from: f64, to: f64| {
            Some(self.at(&self.body.knees[rear], from, to)?.x - self.at(&self.body.ankles[rear], from, to)?.x)
        };
        Trait::new(over_foot(s.fastest_s, s.to_s)? - over_foot(s.from_s - 0.2, s.from_s - 0.05)?, 0.08)
    }

    fn front_down(&self) -> Option<Trait> {
        let s = self.stretch;
        let [front, rear] = self.feet()?.map(|i| self.at(&self.body.ankles[i], s.fastest_s - 0.03, s.to_s));
        Trait::new(rear?.y - front?.y, 0.06)
    }

    /// The nose before the ears, else before the shoulders.
    fn faces(&self) -> Option<Trait> {
        self.side()?;
        let middle = if self.body.head.is_empty() { &self.body.shoulders } else { &self.body.head };
        let at = |s: &Series| self.at(s, self.stance_s().0, self.stretch.from_s);
        Trait::new(at(&self.body.nose)?.x - at(middle)?.x, 0.05)
    }
}

/// How far a point goes in all, body heights; what trembles is not counted.
fn travelled(series: &Series, from_s: f64, to_s: f64, height_px: f64) -> f64 {
    let count = ((to_s - from_s) / TRAVEL_EVERY_S).ceil().clamp(0.0, 100.0) as usize;
    let places: Vec<Point> = (0..count)
        .filter_map(|i| {
            let t = from_s + i as f64 * TRAVEL_EVERY_S;
            series.median(t, t + TRAVEL_EVERY_S)
        })
        .collect();
    places.windows(2).map(|w| (w[0].distance(w[1]) / height_px - TREMBLE).max(0.0)).sum()
}
