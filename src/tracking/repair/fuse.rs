use super::super::params::{
    FEET_SHARE, FEET_SHARE_S, FEET_WANDER, FEET_WANDER_S, FUSE_TURN, FUSE_TURN_S, HANDS_SHARE, HANDS_SHARE_S,
    HANDS_WANDER, HANDS_WANDER_S, LONGEST_CARRIED_S, LONGEST_LINK_S,
};
use super::series::infer;
use crate::math::median;
use crate::tracking::moves::Moves;
use crate::types::{PARTS, Part, Point, Seen, Track};

/// How far the net and the pictures' moves are believed (own choice, on eight made-up films, where it hardly
/// matters within a factor of two). What the net says of a point is off by an error that stays alike for a
/// while: more pictures in that while do not make it surer. So is what the pictures say of its speed.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Trust {
    /// Usual size of the net's error, body heights.
    wander: f64,
    /// How long it stays alike, s.
    wander_s: f64,
    /// A move may be off by this share of its length besides its own doubt.
    share: f64,
    /// How long that stays alike, s.
    share_s: f64,
}

const FEET: Trust =
    Trust { wander: FEET_WANDER, wander_s: FEET_WANDER_S, share: FEET_SHARE, share_s: FEET_SHARE_S };
const HANDS: Trust =
    Trust { wander: HANDS_WANDER, wander_s: HANDS_WANDER_S, share: HANDS_SHARE, share_s: HANDS_SHARE_S };

struct Link {
    by: Point,
    variance: f64,
}

/// The net says where a point is, the pictures say how it moves: the track that fits both best, part by part
/// (weighted least squares over the whole track, reweighted so that single wrong answers of either count little).
/// `moves`: from each pose to the next. A part that neither saw stays `None`.
pub fn fuse(track: &Track, moves: &[Moves], height_px: f64) -> Track {
    let mut out = track.clone();
    for part in PARTS {
        if moves.iter().any(|m| m.get(part as usize).copied().flatten().is_some()) {
            fuse_part(&mut out, track, moves, part, height_px);
        }
    }
    out
}

fn fuse_part(out: &mut Track, track: &Track, moves: &[Moves], part: Part, height_px: f64) {
    use Part::*;
    let feet = matches!(part, LeftAnkle | RightAnkle | LeftHeel | RightHeel | LeftToe | RightToe);
    let trust = if feet { FEET } else { HANDS };
    let (wander, memory_s) = (trust.wander * height_px, trust.wander_s);
    let poses = &track.poses;
    let n = poses.len();
    let step_s = |i: usize| match (poses.get(i), poses.get(i + 1)) {
        (Some(a), Some(b)) => b.time_s - a.time_s,
        _ => f64::INFINITY,
    };
    let believed = believed(track, moves, part, FUSE_TURN * height_px);
    let links: Vec<Option<Link>> = (0..n.saturating_sub(1))
        .map(|i| {
            let dt = step_s(i);
            if !(dt > 0.0 && dt <= LONGEST_LINK_S) {
                return None;
            }
            let reported = believed.get(i).copied().unwrap_or(false);
            if let Some(m) =
                moves.get(i).and_then(|m| m.get(part as usize).copied().flatten()).filter(|_| reported)
            {
                let alike = (2.0 * trust.share_s / dt).max(1.0);
                let variance = m.doubt_px.powi(2) + (trust.share * m.by.length()).powi(2) * alike;
                return Some(Link { by: m.by, variance });
            }
            // Without the picture's word the net's own error is held to change slowly.
            let by = poses.get(i + 1)?.at(part)? - poses.get(i)?.at(part)?;
            Some(Link { by, variance: (wander.powi(2) * 2.0 * dt / memory_s).min(2.0 * wander.powi(2)) })
        })
        .collect();
    let net: Vec<Option<(Point, f64)>> = (0..n)
        .map(|i| {
            let spot = poses.get(i)?.spot(part)?;
            let before = if i > 0 { step_s(i - 1) } else { f64::INFINITY };
            let dt = before.min(step_s(i)).clamp(1e-4, memory_s);
            let belief = f64::from(spot.visibility).clamp(0.05, 1.0);
            let doubt = if spot.seen == Seen::Inferred { 2.0 } else { 1.0 } * (1.0 + 1.5 * (1.0 - belief));
            Some((spot.at, (wander * doubt).powi(2) * 2.0 * memory_s / dt))
        })
        .collect();
    // Runs of poses that are linked, from one that the net saw to one that it saw.
    let mut from = 0;
    while from < n {
        if net[from].is_none() {
            from += 1;
            continue;
        }
        let (mut to, mut end) = (from, from);
        while let (true, Some(_)) = (end + 1 < n, links.get(end).and_then(Option::as_ref)) {
            end += 1;
            if net[end].is_some() {
                to = end;
            }
            if poses[end].time_s - poses[to].time_s > LONGEST_CARRIED_S {
                break;
            }
        }
        if to > from
            && let (Some(net), Some(links)) = (net.get(from..=to), links.get(from..to))
        {
            for (k, at) in solve_run(net, links, wander).into_iter().enumerate() {
                let i = from + k;
                match track.poses[i].spot(part) {
                    Some(spot) => out.poses[i].set(part, Some(crate::types::Spot { at, ..spot })),
                    None => infer(out, i, part, at, 0.3),
                }
            }
        }
        from = to + 1;
    }
}

/// By move: whether net and pictures tell of the same thing there.
fn believed(track: &Track, moves: &[Moves], part: Part, most_px: f64) -> Vec<bool> {
    // What the net says less the way that the pictures tell: level while both follow one thing.
    let mut way = Point::default();
    let mut off: Vec<(f64, Option<Point>)> = Vec::with_capacity(track.poses.len());
    for (i, pose) in track.poses.iter().enumerate() {
        off.push((pose.time_s, pose.at(part).map(|at| at - way)));
        let reported = moves.get(i).and_then(|m| m.get(part as usize).copied().flatten()).map(|m| m.by);
        let net = || Some(track.poses.get(i + 1)?.at(part)? - pose.at(part)?);
        way = way + reported.or_else(net).unwrap_or_default();
    }
    let middle = |from_s: f64, to_s: f64| {
        let near = off.iter().filter(|o| o.0 >= from_s && o.0 <= to_s).filter_map(|o| o.1);
        let (mut xs, mut ys): (Vec<f64>, Vec<f64>) = near.map(|p| (p.x, p.y)).unzip();
        Some(Point::new(median(&mut xs)?, median(&mut ys)?))
    };
    off.windows(2)
        .map(|pair| {
            let before = middle(pair[0].0 - FUSE_TURN_S, pair[0].0);
            let after = middle(pair[1].0, pair[1].0 + FUSE_TURN_S);
            before.zip(after).is_none_or(|(b, a)| b.distance(a) <= most_px)
        })
        .collect()
}

/// The places that fit the net's places and the links best.
fn solve_run(net: &[Option<(Point, f64)>], links: &[Option<Link>], wander: f64) -> Vec<Point> {
    let n = net.len();
    let mut places: Vec<Point> = Vec::new();
    for _round in 0..6 {
        let (mut diagonal, mut upper) = (vec![0.0; n], vec![0.0; n]);
        let mut right = vec![Point::default(); n];
        for i in 0..n {
            if let Some((at, variance)) = net[i] {
                let off = places.get(i).map_or(0.0, |p| p.distance(at)) / (2.5 * wander);
                let w = 1.0 / (variance * (1.0 + off * off));
                diagonal[i] += w;
                right[i] = right[i] + at * w;
            }
            if let (true, Some(Some(link))) = (i + 1 < n, links.get(i)) {
                let off = match (places.get(i), places.get(i + 1)) {
                    (Some(a), Some(b)) => (*b - *a - link.by).length() / (3.0 * link.variance.sqrt()),
                    _ => 0.0,
                };
                let w = 1.0 / (link.variance * (1.0 + off * off));
                diagonal[i] += w;
                diagonal[i + 1] += w;
                upper[i] -= w;
                right[i] = right[i] - link.by * w;
                right[i + 1] = right[i + 1] + link.by * w;
            }
        }
        places = solve_tridiagonal(&mut diagonal, &upper, right);
    }
    places
}

/// Symmetric, by elimination; `upper[i]` stands between `i` and `i + 1`.
fn solve_tridiagonal(diagonal: &mut [f64], upper: &[f64], mut right: Vec<Point>) -> Vec<Point> {
    for i in 1..diagonal.len() {
        let f = upper[i - 1] / diagonal[i - 1];
        diagonal[i] -= f * upper[i - 1];
        right[i] = right[i] - right[i - 1] * f;
    }
    for i in (0..diagonal.len()).rev() {
        if let Some(next) = right.get(i + 1).copied() {
            right[i] = right[i] - next * upper[i];
        }
        right[i] = right[i] * (1.0 / diagonal[i]);
    }
    right
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tracking::moves::Move;
    use crate::types::{Pose, Spot};

    const HEIGHT_PX: f64 = 400.0;

    /// A heel that falls and stops at 0.5 s; the net's answer strays slowly, the moves are exact.
    fn filmed(rate_hz: f64) -> (Vec<Point>, Track, Vec<Moves>) {
        let n = rate_hz as usize;
        let truth: Vec<Point> =
            (0..n).map(|i| Point::new(200.0, 380.0 - 60.0 * (0.5 - i as f64 / rate_hz).max(0.0))).collect();
        let stray = |i: usize| {
            let t = i as f64 / rate_hz;
            Point::new(3.0 * (40.0 * t).sin(), 3.0 * (33.0 * t + 1.0).cos())
        };
        let poses = truth.iter().enumerate().map(|(i, p)| {
            let mut pose = Pose::empty(i, i as f64 / rate_hz);
            let spot = Spot { at: *p + stray(i), visibility: 0.9, seen: Seen::Picture };
            pose.set(Part::LeftHeel, Some(spot));
            pose
        });
        let moves = truth.windows(2).map(|w| {
            let mut m: Moves = vec![None; PARTS.len()];
            m[Part::LeftHeel as usize] = Some(Move { by: w[1] - w[0], doubt_px: 0.05 });
            m
        });
        (truth.clone(), Track { poses: poses.collect() }, moves.collect())
    }

    fn rms(track: &Track, truth: &[Point]) -> f64 {
        let off: Vec<f64> = track
            .poses
            .iter()
            .zip(truth)
            .filter_map(|(p, t)| Some(p.at(Part::LeftHeel)?.distance(*t).powi(2)))
            .collect();
        (off.iter().sum::<f64>() / off.len() as f64).sqrt()
    }

    #[test]
    fn exact_moves_take_the_slow_stray_out_at_any_rate() {
        for rate_hz in [30.0, 60.0, 240.0] {
            let (truth, track, moves) = filmed(rate_hz);
            let fused = fuse(&track, &moves, HEIGHT_PX);
            assert!(rms(&fused, &truth) < 0.5 * rms(&track, &truth), "{rate_hz}: {}", rms(&fused, &truth));
        }
    }

    #[test]
    fn without_moves_nothing_changes() {
        let (_, track, moves) = filmed(60.0);
        let none: Vec<Moves> = moves.iter().map(|m| vec![None; m.len()]).collect();
        assert_eq!(fuse(&track, &none, HEIGHT_PX), track);
        assert_eq!(fuse(&track, &[], HEIGHT_PX), track);
        assert_eq!(fuse(&Track::default(), &moves, HEIGHT_PX), Track::default());
    }

    #[test]
    fn one_wrong_move_and_one_wrong_place_count_little() {
        let (truth, mut track, mut moves) = filmed(60.0);
        moves[20][Part::LeftHeel as usize] = Some(Move { by: Point::new(25.0, -10.0), doubt_px: 0.05 });
        let spot = track.poses[40].spot(Part::LeftHeel).unwrap();
        let at = spot.at + Point::new(60.0, 0.0);
        track.poses[40].set(Part::LeftHeel, Some(Spot { at, ..spot }));
        let fused = fuse(&track, &moves, HEIGHT_PX);
        assert!(rms(&fused, &truth) < 3.0, "{}", rms(&fused, &truth));
    }

    #[test]
    fn moves_of_the_ground_do_not_hold_a_foot_that_the_net_finds_elsewhere() {
        let (_, mut track, mut moves) = filmed(30.0);
        moves.iter_mut().for_each(|m| {
            m[Part::LeftHeel as usize] = Some(Move { by: Point::default(), doubt_px: 0.05 });
        });
        let place = |i: usize| Point::new(if i < 20 { 260.0 } else { 200.0 }, 380.0);
        for (i, pose) in track.poses.iter_mut().enumerate() {
            let spot = pose.spot(Part::LeftHeel).unwrap();
            pose.set(Part::LeftHeel, Some(Spot { at: place(i), ..spot }));
        }
        let fused = fuse(&track, &moves, HEIGHT_PX);
        for (i, pose) in fused.poses.iter().enumerate() {
            assert!(pose.at(Part::LeftHeel).unwrap().distance(place(i)) < 6.0, "{i}: {pose:?}");
        }
    }

    #[test]
    fn a_short_gap_is_carried_and_a_long_one_stays() {
        let (truth, mut track, mut moves) = filmed(60.0);
        for i in (10..14).chain(30..45) {
            track.poses[i].set(Part::LeftHeel, None);
        }
        let fused = fuse(&track, &moves, HEIGHT_PX);
        for (pose, true_place) in fused.poses.iter().zip(&truth).skip(10).take(4) {
            let spot = pose.spot(Part::LeftHeel).unwrap();
            assert!(spot.seen == Seen::Inferred && spot.at.distance(*true_place) < 4.0, "{spot:?}");
        }
        assert!((30..45).all(|i| fused.poses[i].spot(Part::LeftHeel).is_none()));
        // Where the pictures do not tell either, the gap stays.
        moves[11] = vec![None; PARTS.len()];
        let fused = fuse(&track, &moves, HEIGHT_PX);
        assert!((10..14).all(|i| fused.poses[i].spot(Part::LeftHeel).is_none()));
    }
}
