//! How the hitter stands to the camera: from which side he is seen, and which side of the plate that makes.

use super::super::figure::part_series;
use super::super::params::*;
use super::candidate::{HandDirection, Hands, Stretch};
use crate::math::median_of;
use crate::types::{Hitter, Part, PitcherSide, Point, Side, Track, View};

/// What the stance before one moment shows, body heights, x and y as in the picture but y up.
pub struct Stance<'a> {
    track: &'a Track,
    height_px: f64,
    from_s: f64,
    to_s: f64,
    top_s: f64,
}

impl<'a> Stance<'a> {
    /// Before the hands are fastest at `top_s`; `track` in steady px.
    pub fn before(track: &'a Track, height_px: f64, top_s: f64) -> Self {
        Self { track, height_px, from_s: top_s - STANDS_FROM_S, to_s: top_s - STANDS_TO_S, top_s }
    }

    fn place(&self, part: Part) -> Option<Point> {
        let series = part_series(self.track, part);
        let p = series.median(self.from_s, self.to_s).or_else(|| series.median(f64::MIN, self.top_s))?;
        Some(Point::new(p.x / self.height_px, -p.y / self.height_px))
    }

    /// How much farther right the left part is than the right one.
    fn spread(&self, left: Part) -> Option<f64> {
        Some(self.place(left)?.x - self.place(left.other_side())?.x)
    }

    fn feet(&self) -> f64 {
        self.spread(Part::LeftAnkle).or_else(|| self.spread(Part::LeftKnee)).unwrap_or(0.0)
    }

    /// How clearly the line of the feet and of the shoulders lies across the picture (1), or points at the camera (−1).
    pub fn wide(&self) -> f64 {
        let shoulders = self.spread(Part::LeftShoulder).unwrap_or(0.0).abs() / 0.7;
        ((self.feet().abs().max(shoulders) - NARROW_FEET) / 0.08).clamp(-1.0, 1.0)
    }

    /// From the toe's place to the heel's, both feet together.
    fn toes(&self) -> Point {
        [(Part::LeftToe, Part::LeftHeel), (Part::RightToe, Part::RightHeel)]
            .into_iter()
            .filter_map(|(toe, heel)| Some(self.place(toe)? - self.place(heel)?))
            .fold(Point::default(), |a, b| a + b)
    }

    /// Seen from the side with the pitcher where the hands go: each side of the body it can be, with its log odds.
    pub fn seen_from_the_side(&self, toward: HandDirection) -> [(Hitter, f64); 2] {
        let spreads = [Part::LeftShoulder, Part::LeftHip].map(|p| self.spread(p).unwrap_or(0.0));
        let along = median_of([self.feet(), 1.4 * spreads[0], 2.0 * spreads[1]]).unwrap_or(0.0);
        // Chest to the camera: the hitter's left is on the picture's right, the toes lie lower than the heels.
        let open = WEIGH_SIDE_SPREAD * (along / 0.15).clamp(-1.0, 1.0)
            + WEIGH_SIDE_TOES * (-self.toes().y / 0.04).clamp(-1.0, 1.0);
        let pitcher_side = if toward == HandDirection::Left { PitcherSide::Left } else { PitcherSide::Right };
        let hitter = |view: View| {
            let front_is_left = (toward == HandDirection::Right) == (view == View::OpenSide);
            let bats = if front_is_left { Side::Right } else { Side::Left };
            Hitter { bats, pitcher_side, view }
        };
        [(hitter(View::OpenSide), open), (hitter(View::ClosedSide), -open)]
    }

    /// Seen along the pitch, from behind or from the front: each that it can be, with its log odds.
    pub fn along_the_pitch(&self, hands: &Hands, stretch: &Stretch) -> [(Hitter, f64); 4] {
        // Toes and hands point over the plate.
        let toes = (self.toes().x / 0.1).clamp(-1.0, 1.0);
        let before = hands.near(stretch.from_s).zip(hands.near(stretch.fastest_s));
        let over = before.map_or(0.0, |(a, b)| ((b.at.x - a.at.x) / 0.1).clamp(-1.0, 1.0));
        let [left, right] = [Part::LeftAnkle, Part::RightAnkle].map(|p| self.strays(p));
        let strides = ((left - right) / 0.05).clamp(-1.0, 1.0);
        // A foot that goes away from the camera rises in the picture.
        let rise = self.rise(if strides >= 0.0 { Part::LeftAnkle } else { Part::RightAnkle });
        let away = (rise / 0.025).clamp(-1.0, 1.0);
        let hitter = |view: View, bats: Side| {
            let behind = view == View::FromBehind;
            let chest_right = if behind == (bats == Side::Right) { 1.0 } else { -1.0 };
            let front_left = if bats == Side::Right { 1.0 } else { -1.0 };
            let score = chest_right * (WEIGH_ALONG_TOES * toes + WEIGH_ALONG_HANDS * over)
                + front_left * WEIGH_ALONG_STRIDE * strides
                + if behind { away } else { -away } * WEIGH_ALONG_DEPTH;
            let pitcher_side = if behind { PitcherSide::Away } else { PitcherSide::Toward };
            (Hitter { bats, pitcher_side, view }, score)
        };
        [
            hitter(View::FromBehind, Side::Right),
            hitter(View::FromBehind, Side::Left),
            hitter(View::FromFront, Side::Right),
            hitter(View::FromFront, Side::Left),
        ]
    }

    /// The farthest a part gets from its place in the stance before the swing.
    fn strays(&self, part: Part) -> f64 {
        let series = part_series(self.track, part);
        let home = series.median(self.from_s, self.from_s + 0.3).or_else(|| series.points.first().copied());
        let Some(home) = home else { return 0.0 };
        let inside = |t: f64| t >= self.from_s && t <= self.top_s - 0.08;
        let places = series.times_s.iter().zip(&series.points).filter(|(t, _)| inside(**t));
        places.map(|(_, p)| p.distance(home) / self.height_px).fold(0.0, f64::max)
    }

    /// How much higher than the other foot a foot stands in the swing than it did in the stance.
    fn rise(&self, foot: Part) -> f64 {
        let up = |part: Part| {
            let series = part_series(self.track, part);
            let before = series.median(self.from_s, self.to_s).or_else(|| series.points.first().copied())?;
            Some((before.y - series.median(self.top_s - 0.1, self.top_s + 0.05)?.y) / self.height_px)
        };
        up(foot).zip(up(foot.other_side())).map_or(0.0, |(a, b)| a - b.min(0.0))
    }
}
