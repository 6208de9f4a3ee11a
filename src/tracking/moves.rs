//! How feet and hands move from one picture to the next, by what the pictures show, not by the net.

use super::crop::Region;
use super::flow::Pyramid;
use super::params::{
    ASTRAY, FEET_ASTRAY_S, GLIMPSE_LEVELS, GLOVES, HANDS_ASTRAY_S, HEEL_OUTWARD, INSTEP, MOVING_SCENE_PX,
    PIECE_SEEN, SHOE, STILL_SCENE_PX, TOE_OUTWARD, UNEXPLAINED,
};
use super::piece::{Question, follow_piece};
use crate::math::bilinear;
use crate::types::{Frame, PARTS, Part, Plane, Point, Pose, Similarity};

/// The hitter's part of one picture: luma, kept to see how he moves to the next.
#[derive(Debug, Clone, PartialEq)]
pub struct Glimpse {
    pyramid: Pyramid,
    /// Upper left corner, px of the full picture.
    corner: Point,
    /// Full-picture px for each px here.
    to_full: (f64, f64),
}

impl Glimpse {
    /// What lies in the upright square around `region` (px of `frame`); `to_full`: full-picture px for each
    /// px of `frame`, along x and y. Kept at half the size, or less, where it would be more than `most_bytes`.
    pub fn of(frame: &Frame, region: Region, to_full: (f64, f64), most_bytes: usize) -> Self {
        let half = region.side / 2.0;
        let span = |middle: f64, size: usize| {
            let at = |v: f64| v.clamp(0.0, size as f64) as usize;
            let (from, to) = (at(middle - half), at(middle + half));
            if to > from { from..to } else { 0..size }
        };
        let (columns, rows) = (span(region.centre.x, frame.width()), span(region.centre.y, frame.height()));
        let mut data = Vec::with_capacity(columns.len() * rows.len());
        for row in rows.clone() {
            data.extend_from_slice(frame.y.row(row).get(columns.clone()).unwrap_or_default());
        }
        let plane = Plane { width: columns.len(), height: rows.len(), data };
        let corner = Point::new(columns.start as f64 * to_full.0, rows.start as f64 * to_full.1);
        let mut glimpse = Self { pyramid: Pyramid::of(plane, GLIMPSE_LEVELS), corner, to_full };
        while glimpse.pyramid.bytes() > most_bytes && glimpse.pyramid.coarsen() {
            glimpse.to_full = (glimpse.to_full.0 * 2.0, glimpse.to_full.1 * 2.0);
        }
        glimpse
    }

    fn here(&self, full: Point) -> Point {
        let p = full - self.corner;
        Point::new(p.x / self.to_full.0, p.y / self.to_full.1)
    }

    fn full(&self, here: Point) -> Point {
        Point::new(here.x * self.to_full.0, here.y * self.to_full.1) + self.corner
    }
}

/// A part's way from one picture to the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// px of the full picture.
    pub by: Point,
    /// About one standard deviation of each coordinate, px.
    pub doubt_px: f64,
}

/// By [`PARTS`]; `None` where the pictures do not tell.
pub type Moves = Vec<Option<Move>>;

/// How the parts move from picture `a` to picture `b`, looked for from where the net has them in both (`before`,
/// `after`: its points, mended and smoothed). `scene`: how what stands still moves (the camera), `a` → `b`, px of
/// the full picture.
pub fn moves(
    a: &Glimpse,
    b: &Glimpse,
    (before, after): (&Pose, &Pose),
    scene: &Similarity,
    height_px: f64,
) -> Moves {
    let mut all: Moves = vec![None; PARTS.len()];
    let scale = (a.to_full.0 + a.to_full.1) / 2.0;
    let going = |p: Point| b.here(scene.apply(a.full(p)));
    let noise = noise(a, b, &going).clamp(2.5, 12.0);
    let step_s = (after.time_s - before.time_s).abs();
    for piece in [Piece::LeftShoe, Piece::RightShoe, Piece::Gloves] {
        let (Some(from), Some(to)) = (piece.places(before), piece.places(after)) else { continue };
        if piece.belief(before).min(piece.belief(after)) < PIECE_SEEN {
            continue;
        }
        let shoe = piece != Piece::Gloves;
        let from: Vec<Point> = from.into_iter().map(|p| a.here(p)).collect();
        let to: Vec<Point> = to.into_iter().map(|p| b.here(p)).collect();
        let (middle, expected) = (centre(&from), centre(&to) - centre(&from));
        let question = Question {
            bones: &piece.bones(&from),
            reach: if shoe { SHOE } else { GLOVES } * height_px / scale,
            middle,
            scene: &going,
            scene_slack: if *scene == Similarity::IDENTITY { STILL_SCENE_PX } else { MOVING_SCENE_PX },
            noise,
            starts: &[expected, going(middle) - middle],
        };
        let Some(answer) = follow_piece(&a.pyramid, &b.pyramid, &question) else { continue };
        // The net's own error over a few pictures, as a way in this step.
        let gate = (ASTRAY + if shoe { FEET_ASTRAY_S } else { HANDS_ASTRAY_S } * step_s) * height_px;
        if (answer.way.shift - expected).length() * scale > gate || answer.unexplained > UNEXPLAINED {
            continue;
        }
        for (part, at) in piece.parts().iter().zip(&from) {
            let d = *at + piece.outward(*part, &from) - middle;
            let by = b.full(*at + answer.way.at(d)) - a.full(*at);
            let doubt_px = answer.doubt_px(d).max(0.03) * scale;
            if let Some(slot) = all.get_mut(*part as usize).filter(|_| by.is_finite() && doubt_px.is_finite())
            {
                *slot = Some(Move { by, doubt_px });
            }
        }
    }
    all
}

fn centre(places: &[Point]) -> Point {
    places.iter().fold(Point::default(), |s, p| s + *p) * (1.0 / places.len().max(1) as f64)
}

/// Parts that move as one piece.
#[derive(Clone, Copy, PartialEq)]
enum Piece {
    LeftShoe,
    RightShoe,
    Gloves,
}

impl Piece {
    fn parts(self) -> &'static [Part] {
        match self {
            Self::LeftShoe => &[Part::LeftHeel, Part::LeftToe, Part::LeftAnkle],
            Self::RightShoe => &[Part::RightHeel, Part::RightToe, Part::RightAnkle],
            Self::Gloves => &[Part::LeftWrist, Part::LeftHand, Part::RightHand, Part::RightWrist],
        }
    }

    fn places(self, pose: &Pose) -> Option<Vec<Point>> {
        self.parts().iter().map(|p| pose.at(*p)).collect()
    }

    /// Mean of what the net believes of its parts, 0…1.
    fn belief(self, pose: &Pose) -> f32 {
        let all = self.parts();
        all.iter().filter_map(|p| Some(pose.spot(*p)?.visibility)).sum::<f32>() / all.len() as f32
    }

    /// From a part's place to where its move is read. The net has heel and toe inside the shoe; where the shoe turns
    /// about its tip, the tip stands and the place inside does not.
    fn outward(self, part: Part, places: &[Point]) -> Point {
        match (places, part) {
            (&[heel, toe, _], Part::LeftToe | Part::RightToe) => (toe - heel) * TOE_OUTWARD,
            (&[heel, toe, _], Part::LeftHeel | Part::RightHeel) => (heel - toe) * HEEL_OUTWARD,
            _ => Point::default(),
        }
    }

    /// The lines its outline runs along.
    fn bones(self, places: &[Point]) -> Vec<(Point, Point)> {
        match *places {
            [heel, toe, ankle] => {
                let instep = heel.midpoint(toe).lerp(ankle, INSTEP);
                vec![(heel, toe), (toe, instep), (instep, heel)]
            }
            _ => places.iter().copied().zip(places.iter().copied().skip(1)).collect(),
        }
    }
}

/// Noise of the difference of two luma values where the scene is seen, levels (one standard deviation).
fn noise(a: &Glimpse, b: &Glimpse, going: &dyn Fn(Point) -> Point) -> f64 {
    let (Some(from), Some(to)) = (a.pyramid.level(0), b.pyramid.level(0)) else { return 4.0 };
    let mut off: Vec<f64> = Vec::new();
    for y in (4..from.height.saturating_sub(4)).step_by(13) {
        for x in (4..from.width.saturating_sub(4)).step_by(11) {
            let p = Point::new(x as f64 + 0.5, y as f64 + 0.5);
            let q = going(p) - Point::new(0.5, 0.5);
            let value = from.row(y).get(x).copied().map_or(0.0, f64::from);
            off.push((bilinear(to, q.x, q.y) - value).abs());
        }
    }
    off.sort_by(f64::total_cmp);
    1.4826 * off.get(off.len() / 2).copied().unwrap_or(3.0)
}
