//! The hitter in his own terms: front and back instead of left and right, lengths in standing heights,
//! x toward the pitcher (or, filmed from behind or in front, toward the plate), y up, camera shake taken out.

use super::params::{HAND_PART_SHARE, HEAD_PART_SHARE, HELD_CAMERA_SPEED};
use super::series::Series;
use crate::math::median_of;
use crate::types::{Hitter, Part, PitcherSide, Point, Pose, Side, Similarity, Track, View};

/// Series of the points that events and measures rest on. Empty where the clip does not give them.
#[derive(Debug, Clone, Default)]
pub struct Figure {
    /// Middle of both hands.
    pub hands: Series,
    pub head: Series,
    pub front: Half,
    pub back: Half,
    /// Where the camera looks over time, body heights: how far it has turned with the hitter. Empty on a tripod.
    pub aim: Series,
    /// When nothing told where it looks, s, each stretch from the last picture that did to the next.
    pub aim_lost_s: Vec<(f64, f64)>,
    /// Time between two pictures, s.
    pub step_s: f64,
    /// Standard error of one point in one picture, body heights (see [`point_noise`]).
    pub noise: f64,
    /// Standard error of how far a point has strayed slowly between two events, body heights.
    pub wander: f64,
}

/// One side of the body: front = nearer the pitcher in the stance.
#[derive(Debug, Clone, Default)]
pub struct Half {
    pub shoulder: Series,
    pub elbow: Series,
    pub wrist: Series,
    pub hip: Series,
    pub knee: Series,
    pub ankle: Series,
    pub heel: Series,
    pub toe: Series,
}

/// From picture px to the hitter's own coordinates.
#[derive(Debug, Clone, Copy)]
pub struct Frame2d {
    /// +1 when forward is toward larger x in the picture.
    pub forward: f64,
    pub body_height_px: f64,
}

impl Frame2d {
    pub fn of(hitter: &Hitter, body_height_px: f64) -> Self {
        // Filmed from behind, a right-handed hitter faces larger x; from the front, smaller.
        let right = match hitter.pitcher_side {
            PitcherSide::Right => true,
            PitcherSide::Left => false,
            PitcherSide::Away => hitter.bats == Side::Right,
            PitcherSide::Toward => hitter.bats == Side::Left,
        };
        Self { forward: if right { 1.0 } else { -1.0 }, body_height_px }
    }

    pub fn point(&self, p: Point) -> Point {
        Point::new(self.forward * p.x / self.body_height_px, -p.y / self.body_height_px)
    }

    /// The inverse of [`Frame2d::point`].
    pub fn picture_point(&self, p: Point) -> Point {
        Point::new(self.forward * p.x * self.body_height_px, -p.y * self.body_height_px)
    }
}

/// Whether a view shows travel toward the pitcher.
pub fn shows_stride(view: View) -> bool {
    matches!(view, View::OpenSide | View::ClosedSide)
}

/// The pose with the camera's motion taken out.
pub fn steady(pose: &Pose, camera: Option<&Similarity>) -> Pose {
    let mut pose = pose.clone();
    if let Some(camera) = camera {
        for spot in pose.spots.iter_mut().flatten() {
            spot.at = camera.apply(spot.at);
        }
    }
    pose
}

/// One part through the whole track, picture px.
pub fn part_series(track: &Track, part: Part) -> Series {
    let mut series = Series::default();
    for pose in &track.poses {
        if let Some(at) = pose.at(part) {
            series.push(pose.time_s, at);
        }
    }
    series
}

/// The middle of the hands, picture px: from the knuckles where the track has them, else from the wrists.
/// Where one hand is hidden the other stands in, shifted by the half offset last seen between them.
pub fn hands_series(track: &Track) -> Series {
    let share = |part| present_share(track, part);
    let knuckles = share(Part::LeftHand) >= HAND_PART_SHARE && share(Part::RightHand) >= HAND_PART_SHARE;
    let (left, right) =
        if knuckles { (Part::LeftHand, Part::RightHand) } else { (Part::LeftWrist, Part::RightWrist) };
    let mut series = Series::default();
    let mut half = None;
    for pose in &track.poses {
        let middle = match (pose.at(left), pose.at(right)) {
            (Some(l), Some(r)) => {
                half = Some((r - l) * 0.5);
                l.midpoint(r)
            }
            (Some(l), None) => l + half.unwrap_or_default(),
            (None, Some(r)) => r - half.unwrap_or_default(),
            (None, None) => continue,
        };
        series.push(pose.time_s, middle);
    }
    series
}

fn present_share(track: &Track, part: Part) -> f64 {
    let n = track.poses.iter().filter(|p| p.at(part).is_some()).count();
    n as f64 / track.poses.len().max(1) as f64
}

/// The head's middle, picture px: between the ears, which turning the head leaves in place; where an ear is
/// not there nearly always, the mean of what of nose and ears is, so that it never jumps because a part came
/// or went.
pub fn head_series(track: &Track) -> Series {
    let often = |p: &Part| present_share(track, *p) >= HEAD_PART_SHARE;
    let ears: Vec<Part> = [Part::LeftEar, Part::RightEar].into_iter().filter(often).collect();
    let parts =
        if ears.len() == 2 { ears } else { [Part::Nose].into_iter().filter(often).chain(ears).collect() };
    let mut series = Series::default();
    for pose in &track.poses {
        let seen: Vec<Point> = parts.iter().filter_map(|p| pose.at(*p)).collect();
        if !seen.is_empty() && seen.len() == parts.len() {
            let sum = seen.iter().fold(Point::default(), |a, b| a + *b);
            series.push(pose.time_s, sum * (1.0 / seen.len() as f64));
        }
    }
    series
}

impl Figure {
    /// `track` is in picture px with the camera's motion taken out.
    pub fn new(track: &Track, hitter: &Hitter, body_height_px: f64, step_s: f64, wander: f64) -> Self {
        let frame = Frame2d::of(hitter, body_height_px);
        let own = |mut series: Series| {
            for p in &mut series.points {
                *p = frame.point(*p);
            }
            series
        };
        let front_is_left = hitter.bats == Side::Right;
        let half = |left: bool| {
            let part = |l: Part| own(part_series(track, if left { l } else { l.other_side() }));
            Half {
                shoulder: part(Part::LeftShoulder),
                elbow: part(Part::LeftElbow),
                wrist: part(Part::LeftWrist),
                hip: part(Part::LeftHip),
                knee: part(Part::LeftKnee),
                ankle: part(Part::LeftAnkle),
                heel: part(Part::LeftHeel),
                toe: part(Part::LeftToe),
            }
        };
        let mut figure = Self {
            hands: own(hands_series(track)),
            head: own(head_series(track)),
            aim: Series::default(),
            aim_lost_s: Vec::new(),
            front: half(front_is_left),
            back: half(!front_is_left),
            step_s,
            noise: 0.0,
            wander,
        };
        figure.noise = point_noise([&figure.head, &figure.front.toe, &figure.back.toe, &figure.front.hip]);
        figure
    }

    /// Keep where the camera looks: the steady place of the same picture place over time.
    pub fn with_aim(
        mut self,
        track: &Track,
        camera: &[Similarity],
        lost: &[usize],
        picture_place: Point,
        height_px: f64,
    ) -> Self {
        for (pose, map) in track.poses.iter().zip(camera) {
            self.aim.push(pose.time_s, map.apply(picture_place) * (1.0 / height_px));
        }
        for run in lost.chunk_by(|a, b| a + 1 == *b) {
            let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
            let at = |i: Option<usize>| i.and_then(|i| track.poses.get(i)).map(|p| p.time_s);
            let from_s = at(first.checked_sub(1)).or_else(|| at(Some(*first)));
            self.aim_lost_s.extend(from_s.zip(at(Some(last + 1)).or_else(|| at(Some(*last)))));
        }
        self
    }

    /// Standard error of where the camera looks between two moments, where nothing told how it moved, body heights: as
    /// if it had gone on as it does elsewhere in the clip.
    pub fn aim_error(&self, from_s: f64, to_s: f64) -> f64 {
        let stretches = self.aim_lost_s.iter().map(|(a, b)| (b.min(to_s) - a.max(from_s)).max(0.0));
        let lost_s: f64 = stretches.sum();
        if lost_s <= 0.0 {
            return 0.0;
        }
        let is_lost = |t: f64| self.aim_lost_s.iter().any(|(a, b)| *a < t && t < *b);
        let steps: Vec<f64> = self
            .aim
            .times_s
            .windows(2)
            .zip(self.aim.points.windows(2))
            .filter_map(|(t, p)| match (t, p) {
                ([a, b], [p, q]) if !is_lost(*a) && !is_lost(*b) => Some((p.distance(*q) / (b - a)).powi(2)),
                _ => None,
            })
            .collect();
        let seen = (!steps.is_empty()).then(|| (steps.iter().sum::<f64>() / steps.len() as f64).sqrt());
        lost_s * seen.unwrap_or(HELD_CAMERA_SPEED).max(HELD_CAMERA_SPEED)
    }

    /// How far the camera turns between two moments, body heights.
    pub fn turned(&self, from_s: f64, to_s: f64) -> f64 {
        let at = |t: f64| self.aim.at(t, self.slow_half_s());
        at(from_s).zip(at(to_s)).map_or(0.0, |(a, b)| a.distance(b))
    }

    /// Half width of local fits for slow parts (feet, head, trunk), s.
    pub fn slow_half_s(&self) -> f64 {
        (1.7 * self.step_s).max(0.035)
    }

    /// The same for the hands in the swing, s.
    pub fn fast_half_s(&self) -> f64 {
        (1.7 * self.step_s).max(0.020)
    }
}

/// Standard error of one coordinate of one point in one picture, body heights: from second differences,
/// which a smooth motion leaves almost empty (white noise of sd σ has second differences of sd √6·σ),
/// never less than what smoothing hides: a pose net's own slow wander, taken as 0.006 (own choice).
fn point_noise<const N: usize>(series: [&Series; N]) -> f64 {
    let mut bends = Vec::new();
    for s in series {
        for (t, w) in s.times_s.windows(3).zip(s.points.windows(3)) {
            if t[2] - t[0] < 0.12 {
                let d = w[0] - w[1] * 2.0 + w[2];
                bends.push(d.x.abs());
                bends.push(d.y.abs());
            }
        }
    }
    // Median of |N(0, s)| is 0.6745 s.
    let sd = median_of(bends).unwrap_or(0.0) / 0.6745 / 6.0f64.sqrt();
    sd.hypot(0.006)
}
