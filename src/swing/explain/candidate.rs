//! Where a swing may lie: each stretch in which the hands go fast past the hips, one way or any way.

use super::super::burst::middle_series;
use super::super::figure::hands_series;
use super::super::params::{
    CANDIDATE_NEAR_S, STRETCH_DIP_SHARE, STRETCH_EDGE_SHARE, STRETCH_LEAST_SPEED, STRETCH_LEAST_WAY,
};
use super::super::series::moments;
use crate::types::{Part, Point, Track};

/// The hands about the hips over time.
pub struct Hands {
    grid: Vec<HandsAt>,
}

/// Body heights and body heights per s, y up, x as in the picture.
#[derive(Debug, Clone, Copy)]
pub struct HandsAt {
    pub time_s: f64,
    /// From the middle of the hips.
    pub at: Point,
    pub velocity: Point,
}

impl Hands {
    /// `track` in steady px.
    pub fn of(track: &Track, body_height_px: f64, step_s: f64) -> Self {
        let hands = hands_series(track);
        let hips = middle_series(track, Part::LeftHip);
        let half_s = (1.7 * step_s).max(0.025);
        let own = |p: Point| Point::new(p.x / body_height_px, -p.y / body_height_px);
        let (from, to) = (hands.first_s().unwrap_or(0.0), hands.last_s().unwrap_or(-1.0));
        let grid = moments(from, to, (step_s / 2.0).clamp(1.0 / 480.0, 1.0 / 240.0))
            .filter_map(|t| {
                let h = hands.fit(t, half_s)?;
                let c = hips.fit(t, half_s.max(0.05))?;
                Some(HandsAt { time_s: t, at: own(h.at - c.at), velocity: own(h.velocity - c.velocity) })
            })
            .collect();
        Self { grid }
    }

    pub fn near(&self, time_s: f64) -> Option<&HandsAt> {
        let i = self.grid.partition_point(|m| m.time_s < time_s);
        let before = i.checked_sub(1).and_then(|j| self.grid.get(j));
        let closest = [before, self.grid.get(i)]
            .into_iter()
            .flatten()
            .min_by(|a, b| (a.time_s - time_s).abs().total_cmp(&(b.time_s - time_s).abs()));
        closest.filter(|m| (m.time_s - time_s).abs() < CANDIDATE_NEAR_S)
    }

    pub fn between(&self, from_s: f64, to_s: f64) -> &[HandsAt] {
        let a = self.grid.partition_point(|m| m.time_s < from_s);
        let b = self.grid.partition_point(|m| m.time_s <= to_s);
        self.grid.get(a..b.max(a)).unwrap_or_default()
    }

    /// The greatest speed there is in any direction, body heights per s.
    pub fn fastest(&self) -> f64 {
        self.grid.iter().map(|m| m.velocity.length()).fold(0.0, f64::max)
    }
}

/// Which way of the hands counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandDirection {
    /// Toward larger x.
    Right,
    /// Toward smaller x.
    Left,
    /// Seen along the pitch: any.
    Any,
}

impl HandDirection {
    /// +1 toward larger x, −1 toward smaller; seen along the pitch x tells nothing: +1.
    pub fn forward(self) -> f64 {
        if self == Self::Left { -1.0 } else { 1.0 }
    }

    fn speed(self, velocity: Point) -> f64 {
        match self {
            Self::Any => velocity.length(),
            _ => self.forward() * velocity.x,
        }
    }
}

/// One stretch of hands going that way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Which way the hands go.
    pub toward: HandDirection,
    pub(crate) from_s: f64,
    /// When the hands go that way fastest, s.
    pub fastest_s: f64,
    /// When they are slow again, real s.
    pub to_s: f64,
    /// How fast, body heights per s.
    pub fastest: f64,
    /// How far past the hips, body heights.
    pub way: f64,
}

/// Every such stretch, in time order.
pub fn stretches(hands: &Hands, toward: HandDirection) -> Vec<Stretch> {
    let grid = &hands.grid;
    let speed: Vec<f64> = grid.iter().map(|m| toward.speed(m.velocity)).collect();
    let top = |i: &usize| {
        let [a, b, c] = [i - 1, *i, i + 1].map(|j| speed[j]);
        b >= STRETCH_LEAST_SPEED && b >= a && b > c
    };
    let peaks = without_shoulders((1..speed.len().saturating_sub(1)).filter(top).collect(), &speed);
    peaks.into_iter().filter_map(|i| stretch(grid, &speed, i, toward)).collect()
}

/// Peaks of one movement are one: of two without a clear dip between them the faster stays.
fn without_shoulders(mut peaks: Vec<usize>, speed: &[f64]) -> Vec<usize> {
    let mut k = 0;
    while let (Some(&a), Some(&b)) = (peaks.get(k), peaks.get(k + 1)) {
        let dip = speed[a..=b].iter().copied().fold(f64::MAX, f64::min);
        if dip > STRETCH_DIP_SHARE * speed[a].min(speed[b]) {
            peaks.remove(if speed[a] < speed[b] { k } else { k + 1 });
            k = k.saturating_sub(1);
        } else {
            k += 1;
        }
    }
    peaks
}

fn stretch(grid: &[HandsAt], speed: &[f64], i: usize, toward: HandDirection) -> Option<Stretch> {
    // In the direction of one axis the hands turn back; in any direction they only slow down.
    let edge =
        if toward == HandDirection::Any { 2.0 * STRETCH_EDGE_SHARE } else { STRETCH_EDGE_SHARE } * speed[i];
    let mut from = (0..=i).rev().find(|&j| speed[j] < edge).unwrap_or(0);
    let mut to = (i..speed.len()).find(|&j| speed[j] < edge).unwrap_or(speed.len() - 1);
    if toward == HandDirection::Any {
        from = valley(speed, i, from);
        to = valley(speed, i, to);
    }
    let (a, b) = (grid.get(from)?, grid.get(to)?);
    let way = match toward {
        HandDirection::Any => grid[from..=to].windows(2).map(|w| w[0].at.distance(w[1].at)).sum(),
        _ => toward.forward() * (b.at.x - a.at.x),
    };
    let fastest_s = grid.get(i)?.time_s;
    (way >= STRETCH_LEAST_WAY).then_some(Stretch {
        toward,
        from_s: a.time_s,
        fastest_s,
        to_s: b.time_s,
        fastest: speed[i],
        way,
    })
}

/// The slowest moment on the way from the peak to an edge, where the speed rises again before it.
fn valley(speed: &[f64], peak: usize, edge: usize) -> usize {
    let mut lowest = peak;
    let towards: Box<dyn Iterator<Item = usize>> =
        if edge < peak { Box::new((edge..=peak).rev()) } else { Box::new(peak..=edge) };
    for j in towards {
        if speed[j] < speed[lowest] {
            lowest = j;
        } else if speed[j] * STRETCH_DIP_SHARE > speed[lowest] {
            return lowest;
        }
    }
    edge
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Pose, Seen, Spot};

    const HEIGHT_PX: f64 = 200.0;
    const RATE_HZ: f64 = 120.0;

    /// From 0 to 1 between two times, fastest in the middle: 1.5 / (to − from).
    fn goes(t: f64, from_s: f64, to_s: f64) -> f64 {
        let u = ((t - from_s) / (to_s - from_s)).clamp(0.0, 1.0);
        u * u * (3.0 - 2.0 * u)
    }

    /// Two seconds of hands so far right of still hips, body heights; not seen between two times.
    fn hands(x: impl Fn(f64) -> f64, unseen_s: (f64, f64)) -> Hands {
        let pose = |frame: usize| {
            let mut pose = Pose::empty(frame, frame as f64 / RATE_HZ);
            let t = pose.time_s;
            let mut set = |part: Part, x: f64, y: f64| {
                let at = Point::new(400.0 + x * HEIGHT_PX, 300.0 - y * HEIGHT_PX);
                let spot = Some(Spot { at, visibility: 1.0, seen: Seen::Picture });
                pose.set(part, spot);
                pose.set(part.other_side(), spot);
            };
            set(Part::LeftHip, 0.0, 0.0);
            if t < unseen_s.0 || t > unseen_s.1 {
                set(Part::LeftWrist, x(t), 0.25);
            }
            pose
        };
        Hands::of(&Track { poses: (0..240).map(pose).collect() }, HEIGHT_PX, 1.0 / RATE_HZ)
    }

    const ALL_SEEN: (f64, f64) = (9.0, 9.0);

    #[track_caller]
    fn is(s: &Stretch, fastest_s: f64, way: f64) {
        assert!((s.fastest_s - fastest_s).abs() < 0.015, "{s:?}");
        assert!((s.way - way).abs() < 0.03 * way.abs() + 0.01, "{s:?}");
        assert!(s.from_s < s.fastest_s && s.fastest_s < s.to_s, "{s:?}");
    }

    #[test]
    fn two_opposite_ways_are_two_stretches() {
        let x = |t| -0.2 + 0.5 * goes(t, 0.5, 0.8) - 0.7 * goes(t, 1.0, 1.25);
        let hands = hands(x, ALL_SEEN);
        let [there] = stretches(&hands, HandDirection::Right)[..] else {
            panic!("{:?}", stretches(&hands, HandDirection::Right))
        };
        is(&there, 0.65, 0.5);
        assert!((there.fastest - 2.5).abs() < 0.1, "{there:?}");
        assert!((there.from_s - 0.5).abs() < 0.03 && (there.to_s - 0.8).abs() < 0.03, "{there:?}");
        let [back] = stretches(&hands, HandDirection::Left)[..] else {
            panic!("{:?}", stretches(&hands, HandDirection::Left))
        };
        is(&back, 1.125, 0.7);
        // Seen along the pitch either may be the swing.
        let [a, b] = stretches(&hands, HandDirection::Any)[..] else {
            panic!("{:?}", stretches(&hands, HandDirection::Any))
        };
        is(&a, 0.65, 0.5);
        is(&b, 1.125, 0.7);
        assert!((hands.fastest() - 1.5 * 0.7 / 0.25).abs() < 0.2, "{}", hands.fastest());
    }

    #[test]
    fn shoulders_of_one_movement_are_one_and_a_clear_dip_makes_two() {
        let second_from = |from_s: f64| {
            hands(move |t| 0.4 * goes(t, 0.5, 0.8) + 0.3 * goes(t, from_s, from_s + 0.3), ALL_SEEN)
        };
        for toward in [HandDirection::Right, HandDirection::Any] {
            let found = stretches(&second_from(0.72), toward);
            let [one] = found[..] else { panic!("{found:?}") };
            is(&one, 0.65, 0.7);
            let found = stretches(&second_from(0.8), toward);
            let [a, b] = found[..] else { panic!("{found:?}") };
            is(&a, 0.65, 0.4);
            is(&b, 0.95, 0.3);
        }
    }

    #[test]
    fn slow_and_short_ways_are_none() {
        // 0.6 body heights a second, and 0.1 body heights far.
        assert!(stretches(&hands(|t| 0.6 * goes(t, 0.3, 1.8), ALL_SEEN), HandDirection::Right).is_empty());
        assert!(stretches(&hands(|t| 0.1 * goes(t, 0.5, 0.6), ALL_SEEN), HandDirection::Right).is_empty());
        assert!(stretches(&hands(|_| 0.1, (0.0, 9.0)), HandDirection::Any).is_empty());
    }

    #[test]
    fn over_a_gap_the_way_goes_on_and_no_moment_in_it_is_told() {
        let hands = hands(|t| 0.5 * goes(t, 0.5, 0.8), (0.575, 0.745));
        let found = stretches(&hands, HandDirection::Right);
        let [one] = found[..] else { panic!("{found:?}") };
        assert!((one.way - 0.5).abs() < 0.03, "{one:?}");
        assert!(one.from_s < 0.55 && one.to_s > 0.75, "{one:?}");
        assert!(hands.near(0.66).is_none() && hands.near(0.5).is_some());
        assert!(hands.between(0.58, 0.74).is_empty());
    }
}
