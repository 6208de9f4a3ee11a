//! The way the hands went: a smooth line through what was seen, in the scene's own (steady) places. And the
//! body centre's, which is smooth already.

use super::marks::hands;
use crate::swing;
use crate::types::{EventId, Point, Reading};

/// The first stretch of hand travel that is set apart, cm; in body heights where no scale is known.
const FIRST_CM: f64 = 10.0;
const FIRST_BODY_HEIGHTS: f64 = 0.057;
/// Points of the drawn line lie at most this far apart, body heights.
const FINE: f64 = 0.02;
/// Nothing seen for longer than this is a hole in the line, s.
const HOLE_S: f64 = 0.1;

/// One point of the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    pub time_s: f64,
    /// Steady px.
    pub at: Point,
    pub inferred: bool,
    /// Nothing was seen between the step before and this one.
    pub after_gap: bool,
    /// Within the first stretch.
    pub first: bool,
}

/// The hands' way from hands start to extension, in time order.
pub fn hand_path(reading: &Reading) -> Vec<Step> {
    let time = |events: &[EventId]| events.iter().find_map(|e| reading.events.get(e)).map(|e| e.time_s);
    let from_s = time(&[EventId::HandsStart, EventId::Load]).unwrap_or(f64::INFINITY);
    // Beyond extension the path would run over the head and say nothing more.
    let to_s = time(&[EventId::Extension, EventId::Finish]).unwrap_or(f64::INFINITY);
    let half_s = 0.5 / reading.clip.capture_rate_hz.max(1.0);
    let (mut seen, mut gap): (Vec<Step>, bool) = (Vec::new(), false);
    for (i, pose) in reading.track.poses.iter().enumerate() {
        if pose.time_s < from_s - half_s || pose.time_s > to_s + half_s {
            continue;
        }
        let Some((at, found)) = hands(pose) else {
            gap = true;
            continue;
        };
        let after_gap = gap || seen.last().is_some_and(|s| pose.time_s - s.time_s > HOLE_S);
        let at = reading.camera.to_steady(i).apply(at);
        seen.push(Step { time_s: pose.time_s, at, inferred: !found, after_gap, first: false });
        gap = false;
    }
    let mut path = smooth(&seen, FINE * reading.scale.body_height_px.max(1.0));
    if reading.events.contains_key(&EventId::HandsStart) {
        let first_px = match reading.scale.px_per_cm {
            Some(px_per_cm) => FIRST_CM * px_per_cm,
            None => FIRST_BODY_HEIGHTS * reading.scale.body_height_px,
        };
        let (mut travelled, mut last) = (0.0, None::<Point>);
        for step in &mut path {
            travelled += last.map_or(0.0, |l| l.distance(step.at));
            step.first = travelled <= first_px;
            last = Some(step.at);
        }
    }
    path
}

/// The body centre's way from stance to extension, in time order; see [`swing::centre_way`].
pub fn centre_path(reading: &Reading) -> Vec<Step> {
    let mut path: Vec<Step> = Vec::new();
    for p in swing::centre_way(reading) {
        let after_gap = path.last().is_some_and(|last| p.time_s - last.time_s > HOLE_S);
        path.push(Step { time_s: p.time_s, at: p.at, inferred: p.guessed, after_gap, first: false });
    }
    path
}

/// A cubic through the points, its speed at each taken from the neighbours (Hermite form, in time): it
/// passes through every point that was seen. `fine_px`: how close the points of the line lie.
fn smooth(seen: &[Step], fine_px: f64) -> Vec<Step> {
    // px/s at a point, from those of its neighbours that no gap parts from it.
    let speed = |i: usize| {
        let here = seen.get(i)?;
        let before = i.checked_sub(1).and_then(|b| seen.get(b)).filter(|_| !here.after_gap).unwrap_or(here);
        let after = seen.get(i + 1).filter(|a| !a.after_gap).unwrap_or(here);
        let dt = after.time_s - before.time_s;
        (dt > 0.0).then(|| (after.at - before.at) * (1.0 / dt))
    };
    let mut out: Vec<Step> = Vec::new();
    for (i, to) in seen.iter().enumerate() {
        let from = out.last().copied().filter(|_| !to.after_gap);
        if let (Some(from), Some(v0), Some(v1)) = (from, i.checked_sub(1).and_then(speed), speed(i)) {
            let dt = to.time_s - from.time_s;
            let pieces = (from.at.distance(to.at) / fine_px.max(0.1)).ceil().clamp(1.0, 40.0) as usize;
            let inferred = to.inferred || seen.get(i - 1).is_some_and(|s| s.inferred);
            for k in 1..pieces {
                let t = k as f64 / pieces as f64;
                let (t2, t3) = (t * t, t * t * t);
                let at = from.at * (2.0 * t3 - 3.0 * t2 + 1.0)
                    + v0 * (dt * (t3 - 2.0 * t2 + t))
                    + to.at * (3.0 * t2 - 2.0 * t3)
                    + v1 * (dt * (t3 - t2));
                out.push(Step { time_s: from.time_s + dt * t, at, inferred, after_gap: false, first: false });
            }
            out.push(Step { inferred, ..*to });
        } else {
            out.push(*to);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compose::sample;
    use crate::types::{CameraMotion, Part, Similarity, View};

    fn step(time_s: f64, x: f64, y: f64) -> Step {
        Step { time_s, at: Point::new(x, y), inferred: false, after_gap: false, first: false }
    }

    #[test]
    fn the_line_passes_through_what_was_seen_and_is_smooth() {
        // A quarter of a circle of 100 px seen at five places.
        let on = |a: f64| Point::new(100.0 * a.cos(), 100.0 * a.sin());
        let angle = |t: f64| t * std::f64::consts::FRAC_PI_2;
        let seen: Vec<Step> = (0..5)
            .map(|i| {
                let t = f64::from(i) / 4.0;
                step(t, on(angle(t)).x, on(angle(t)).y)
            })
            .collect();
        let path = smooth(&seen, 2.0);
        assert!(path.windows(2).all(|w| w[1].time_s > w[0].time_s && w[1].at.distance(w[0].at) < 3.0));
        for s in &seen {
            assert!(path.iter().any(|p| p.at == s.at));
        }
        // The chords' middles would be off by 1.9 px.
        let inner = path.iter().filter(|p| (0.25..=0.75).contains(&p.time_s));
        let off = inner.map(|p| (p.at.length() - 100.0).abs()).fold(0.0, f64::max);
        assert!(off < 0.4, "{off}");
    }

    #[test]
    fn a_gap_stays_a_gap_and_guessed_ends_make_a_guessed_piece() {
        let mut seen =
            vec![step(0.0, 0.0, 0.0), step(0.1, 10.0, 0.0), step(0.5, 90.0, 0.0), step(0.6, 95.0, 0.0)];
        seen[2].after_gap = true;
        seen[2].inferred = true;
        let path = smooth(&seen, 2.0);
        assert!(path.iter().all(|p| p.at.x <= 10.5 || p.at.x >= 89.5), "{path:?}");
        assert!(path.iter().all(|p| p.inferred == (p.at.x > 50.0)));
    }

    #[test]
    fn a_shaking_camera_does_not_bend_the_path() {
        let (today, ..) = sample::pair();
        let mut shaken = today.clone();
        let shift = |i: usize| Point::new(9.0 * (i as f64 * 0.7).sin(), 6.0 * (i as f64 * 0.4).cos());
        for (i, pose) in shaken.track.poses.iter_mut().enumerate() {
            for spot in pose.spots.iter_mut().flatten() {
                spot.at = spot.at + shift(i);
            }
        }
        let back = |i: usize| Similarity { tx: -shift(i).x, ty: -shift(i).y, ..Similarity::IDENTITY };
        shaken.camera = CameraMotion {
            to_steady: (0..shaken.track.poses.len()).map(back).collect(),
            ..CameraMotion::default()
        };
        let (still, steadied) = (hand_path(&today), hand_path(&shaken));
        assert!(still.len() > 50 && still.len() == steadied.len());
        for (a, b) in still.iter().zip(&steadied) {
            assert!(a.at.distance(b.at) < 1e-6 && a.first == b.first);
        }
    }

    /// The sample's body goes back from stance to load and then forward beyond where it began.
    #[test]
    fn the_body_centre_goes_back_then_forward_and_not_along_the_line_of_sight() {
        let (today, ..) = sample::pair();
        let path = centre_path(&today);
        let x: Vec<f64> = path.iter().map(|s| s.at.x).collect();
        let rearmost = x.iter().copied().fold(f64::INFINITY, f64::min);
        let body = today.scale.body_height_px;
        assert!(x[x.len() - 1] - x[0] > 0.05 * body && x[0] - rearmost > 0.005 * body, "{} {rearmost}", x[0]);
        // Between hips and shoulders.
        for step in &path {
            let pose = &today.track.poses[today.track.nearest_index(step.time_s).unwrap()];
            let y = |part| pose.at(part).unwrap().y;
            assert!((y(Part::LeftShoulder)..y(Part::LeftHip) + 0.05 * body).contains(&step.at.y));
        }
        let mut behind = today.clone();
        behind.hitter.view = View::FromBehind;
        assert!(centre_path(&behind).is_empty());
    }

    #[test]
    fn the_first_stretch_is_ten_centimetres_long() {
        let (today, ..) = sample::pair();
        let first: Vec<Point> = hand_path(&today).iter().filter(|s| s.first).map(|s| s.at).collect();
        let length: f64 = first.windows(2).map(|w| w[0].distance(w[1])).sum();
        let want = FIRST_BODY_HEIGHTS * today.scale.body_height_px;
        assert!(length <= want && length > want - 2.0 * FINE * today.scale.body_height_px, "{length} {want}");
    }
}
