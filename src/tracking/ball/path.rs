//! Which of the small moving things is the ball, and when its way in and its way off the bat meet.

use super::super::params::{
    BEYOND_M, FLIGHT_CLEAR_STEPS, FLIGHT_CLEARLY_SEEN, FLIGHT_LEAST_SEEN, FLIGHT_LOST_STEPS,
    FLIGHT_SHARE_SEEN, FLIGHT_STEEPEST, FROM_BEYOND_M, IN_LEAST_M_S, IN_MOST_M_S, MET_AHEAD_M,
    MET_AHEAD_PM_M, OFF_LEAST_M_S, OFF_MOST_M_S, SIGHT_OFF_PX, USUAL_AWAY,
};
use super::movers::Mover;
use crate::math::solve;
use crate::types::{BallFlight, Point};

const GRAVITY_M_S2: f64 = 9.81;
/// A ball is 73.7 mm wide (Official Baseball Rules 3.01); a softball 97 mm.
pub const BALL_M: f64 = 0.0737;

/// What is known before the ball is looked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// +1: the pitcher is toward larger x.
    pub forward: f64,
    /// At the hitter, steady px.
    pub px_per_m: f64,
    /// The body's middle as the hands are fastest, steady px.
    pub body: Point,
    /// The ball is met between these heights, steady px (y down): no higher than the first, no lower than the second.
    /// What flies lower is a shadow on the ground.
    pub met_y_px: (f64, f64),
    /// Contact lies between these, real s.
    pub window_s: (f64, f64),
    /// Time between two pictures, s.
    pub step_s: f64,
}

/// A straight flight with gravity as a lens shows it: what goes away from the camera too slows down in the picture.
/// `place(t) = (at + velocity·s) / (1 + away·s)`, plus the fall, with `s = t − from_s`; steady px and s.
#[derive(Debug, Clone)]
struct Flight {
    from_s: f64,
    at: Point,
    velocity: Point,
    /// Speed along the line of sight over the distance, per s.
    away: f64,
    fall: f64,
    /// Seen, in time order.
    seen: Vec<Mover>,
    /// Mean distance of the seen from the flight, px.
    off_px: f64,
}

impl Flight {
    fn place(&self, t: f64) -> Point {
        let s = t - self.from_s;
        let lens = 1.0 / (1.0 + self.away * s).max(0.2);
        (self.at + self.velocity * s) * lens + Point::new(0.0, self.fall * s * s)
    }

    /// Across the picture at `t`, px per s.
    fn speed_x(&self, t: f64) -> f64 {
        (self.place(t + 5e-4).x - self.place(t - 5e-4).x) / 1e-3
    }

    /// Fitted anew to what was seen clearly after `t_s`.
    fn after(&self, t_s: f64, field: &Field) -> Option<Self> {
        let clear_s = t_s + FLIGHT_CLEAR_STEPS * field.step_s;
        fitted(self.seen.iter().filter(|m| m.time_s > clear_s).copied().collect(), self.fall)
    }

    /// The same for before.
    fn before(&self, t_s: f64, field: &Field) -> Option<Self> {
        let clear_s = t_s - FLIGHT_CLEAR_STEPS * field.step_s;
        fitted(self.seen.iter().filter(|m| m.time_s < clear_s).copied().collect(), self.fall)
    }

    /// How far the ball may be off the flight, px (standard error).
    fn error_px(&self, field: &Field) -> f64 {
        (0.25 * BALL_M * field.px_per_m).hypot(self.off_px) + 1.0
    }

    fn time_at_x(&self, x: f64) -> Option<f64> {
        let closing = self.velocity.x - self.away * x;
        (closing.abs() > 1e-9).then(|| self.from_s + (x - self.at.x) / closing)
    }
}

/// The ball among `movers` (any order) and those that lay still before (`resting`), if its flight off the bat is seen.
pub fn find_ball(movers: &[Mover], resting: &[Mover], field: &Field) -> Option<BallFlight> {
    let (first_s, last_s) = field.window_s;
    let after: Vec<Mover> = movers.iter().filter(|m| m.time_s >= first_s).copied().collect();
    let off = best_flight(&after, field, field.forward, (OFF_LEAST_M_S, OFF_MOST_M_S), |flight| {
        leaves(flight, field)
    })?;
    let before: Vec<Mover> = movers.iter().filter(|m| m.time_s <= last_s).copied().collect();
    let holds = |f: &Flight| meet(f, &off, field).is_some();
    if let Some(inward) = best_flight(&before, field, -field.forward, (IN_LEAST_M_S, IN_MOST_M_S), holds)
        && let Some(look) = parted(inward, off.clone(), field)
    {
        return Some(look);
    }
    // It lay on a tee.
    let ball_px = BALL_M * field.px_per_m;
    let on_a_tee = |m: &&Mover| {
        let ahead_m = (m.at.x - field.body.x) * field.forward / field.px_per_m;
        m.length_px < 1.7 * ball_px + 3.0 && ahead_m > 0.15 && ahead_m < 1.4
    };
    let lay = resting.iter().filter(on_a_tee).filter_map(|m| {
        let rough_s = off.time_at_x(m.at.x)?;
        let off = off.after(rough_s, field).filter(|off| off.seen.len() >= FLIGHT_LEAST_SEEN)?;
        let t = off.time_at_x(m.at.x)?;
        let apart = (m.at.y - off.place(t).y).abs();
        let fits = t >= first_s && t <= last_s && apart < ball_px + 2.0;
        fits.then(|| (apart, look(t, 2.0 * off.error_px(field) / off.speed_x(t).abs(), field, &off, None)))
    });
    if let Some((_, look)) = lay.min_by(|a, b| a.0.total_cmp(&b.0)) {
        return Some(look);
    }
    // Only its way off: it was met somewhere in front of the body. Nearer than the bat reaches it may be the bat.
    let clear = |m: &&Mover| (m.at.x - field.body.x) * field.forward >= 1.1 * field.px_per_m;
    let seen: Vec<Mover> = off.seen.iter().filter(clear).copied().collect();
    let clear =
        fitted(seen, off.fall).filter(|f| off.seen.len() >= FLIGHT_CLEARLY_SEEN && f.seen.len() >= 2)?;
    let (ahead, about) = (MET_AHEAD_M * field.px_per_m, MET_AHEAD_PM_M * field.px_per_m);
    let t = clear.time_at_x(field.body.x + field.forward * ahead)?;
    let speed = clear.speed_x(t).abs();
    (t >= first_s && t <= last_s).then(|| look(t, about / speed, field, &clear, None))
}

/// When the way in and the way off are at one x, and how fast they close there, px per s; `None` when they do not meet
/// as a hit ball does.
fn meet(inward: &Flight, off: &Flight, field: &Field) -> Option<(f64, f64)> {
    let ball_px = BALL_M * field.px_per_m;
    let (first, off_from_s) = (inward.seen.first()?.at.x, off.seen.first()?.time_s);
    let mut t = off_from_s;
    for _ in 0..6 {
        let closing = off.speed_x(t) - inward.speed_x(t);
        t -= ((off.place(t).x - inward.place(t).x) / closing).clamp(-0.05, 0.05);
    }
    let closing = (off.speed_x(t) - inward.speed_x(t)) * field.forward;
    let apart = (inward.place(t).y - off.place(t).y).abs();
    let from_beyond = (first - field.body.x) * field.forward >= FROM_BEYOND_M * field.px_per_m;
    let in_window = t >= field.window_s.0 && t <= field.window_s.1;
    (from_beyond && closing > 0.0 && in_window && apart < 2.0 * ball_px + 2.0).then_some((t, closing))
}

/// Contact from both ways, each fitted anew to what lies on its own side of it.
fn parted(mut inward: Flight, mut off: Flight, field: &Field) -> Option<BallFlight> {
    let (mut t, mut closing) = meet(&inward, &off, field)?;
    for _ in 0..3 {
        (inward, off) = (inward.before(t, field)?, off.after(t, field)?);
        (t, closing) = meet(&inward, &off, field)?;
    }
    let enough = off.seen.len() >= FLIGHT_LEAST_SEEN
        || (off.seen.len() >= 2 && inward.seen.len() >= FLIGHT_CLEARLY_SEEN);
    let sd_s = off.error_px(field).hypot(inward.error_px(field)) / closing;
    enough.then(|| look(t, 2.0 * sd_s, field, &off, Some(&inward)))
}

/// The ± is never less than a quarter of a picture, or half a one at 30 fps, which is what the bench shows.
fn look(
    contact_s: f64,
    plus_minus_s: f64,
    field: &Field,
    off: &Flight,
    inward: Option<&Flight>,
) -> BallFlight {
    // A slow camera shows the flight in three or four streaks.
    let share = if field.step_s > 0.025 { 0.45 } else { 0.24 };
    let seen = inward.into_iter().flat_map(|f| &f.seen).chain(&off.seen);
    BallFlight {
        contact_s,
        plus_minus_s: plus_minus_s.max(share * field.step_s).max(0.0015),
        off_bat_px_s: off.velocity.length(),
        path: seen.map(|m| (m.time_s, m.at)).collect(),
    }
}

/// Gone from where bat and hands reach, and not straight up or down.
fn leaves(flight: &Flight, field: &Field) -> bool {
    let Some(last) = flight.seen.last() else { return false };
    let out = (last.at.x - field.body.x) * field.forward / field.px_per_m;
    // Where it passes the place at which balls are met.
    let met_x = field.body.x + field.forward * MET_AHEAD_M * field.px_per_m;
    let (highest, lowest) = field.met_y_px;
    let met = flight.time_at_x(met_x).map(|t| flight.place(t).y);
    out >= BEYOND_M
        && met.is_some_and(|y| y >= highest && y <= lowest)
        && flight.velocity.y.abs() <= FLIGHT_STEEPEST * flight.velocity.x.abs()
}

/// The straight flight that most of the things seen support and that `holds`.
fn best_flight(
    things: &[Mover],
    field: &Field,
    way: f64,
    speeds_m_s: (f64, f64),
    holds: impl Fn(&Flight) -> bool,
) -> Option<Flight> {
    let ball_px = BALL_M * field.px_per_m;
    let (slow, fast) = (speeds_m_s.0 * field.px_per_m, speeds_m_s.1 * field.px_per_m);
    let fall = 0.5 * GRAVITY_M_S2 * field.px_per_m;
    let gap_s = FLIGHT_LOST_STEPS * field.step_s;
    let mut best: Option<(f64, Flight)> = None;
    for (i, a) in things.iter().enumerate() {
        for b in things {
            let dt = b.time_s - a.time_s;
            if dt <= 0.0 || dt > 0.05f64.max(2.2 * field.step_s) {
                continue;
            }
            let vx = (b.at.x - a.at.x) / dt;
            if vx * way < slow || vx.abs() > fast || a.change * b.change < 0.0 {
                continue;
            }
            let velocity = Point::new(vx, (b.at.y - a.at.y) / dt - fall * dt);
            let (from_s, at) = (a.time_s, a.at);
            let rough = Flight { from_s, at, velocity, away: 0.0, fall, seen: Vec::new(), off_px: 0.0 };
            let Some(flight) = supported(&rough, things, a.change, ball_px, gap_s) else { continue };
            // Along the better flight more of it may be seen.
            let flight = supported(&flight, things, a.change, ball_px, gap_s).unwrap_or(flight);
            // The pair itself must be in it, or the same flight is weighed many times over.
            if !flight.seen.iter().any(|m| m == &things[i]) || !holds(&flight) {
                continue;
            }
            let score = flight.seen.len() as f64 - flight.off_px / ball_px;
            if best.as_ref().is_none_or(|b| score > b.0) && often_enough(&flight, field) {
                best = Some((score, flight));
            }
        }
    }
    best.map(|b| b.1)
}

/// Everything near the rough flight, at most one a picture, and the flight fitted to it.
fn supported(rough: &Flight, things: &[Mover], change: f64, ball_px: f64, gap_s: f64) -> Option<Flight> {
    let mut seen: Vec<Mover> = Vec::new();
    let near = |m: &Mover| m.at.distance(rough.place(m.time_s));
    for m in things.iter().filter(|m| m.change * change > 0.0 && near(m) < 0.7 * ball_px + 2.5) {
        match seen.iter_mut().find(|s| s.time_s == m.time_s) {
            Some(s) if near(s) > near(m) => *s = *m,
            Some(_) => {}
            None => seen.push(*m),
        }
    }
    seen.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    let seen = longest_run(seen, gap_s);
    if seen.len() < FLIGHT_LEAST_SEEN {
        return None;
    }
    fitted(seen, rough.fall)
}

/// The longest stretch without a long gap.
fn longest_run(seen: Vec<Mover>, gap_s: f64) -> Vec<Mover> {
    let mut best: &[Mover] = &[];
    for run in seen.chunk_by(|a, b| b.time_s - a.time_s <= gap_s) {
        if run.len() > best.len() {
            best = run;
        }
    }
    best.to_vec()
}

/// Least squares. x·(1 + away·s) = at + velocity·s is linear in all three; `away` is held near 0 as far as few sights
/// tell nothing of it: a ball hit at 20 m/s away from a camera at 5 m has 4 per s.
fn fitted(seen: Vec<Mover>, fall: f64) -> Option<Flight> {
    let from_s = seen.first()?.time_s;
    let end_s = seen.last()?.time_s - from_s;
    let mean_x = seen.iter().map(|m| m.at.x).sum::<f64>() / seen.len() as f64;
    let mut normal = [[0.0; 3]; 3];
    let mut right = [0.0; 3];
    for m in &seen {
        let (s, x) = (m.time_s - from_s, m.at.x - mean_x);
        let row = [1.0, s, -s * x];
        for i in 0..3 {
            for j in 0..3 {
                normal[i][j] += row[i] * row[j];
            }
            right[i] += row[i] * x;
        }
    }
    normal[2][2] += (SIGHT_OFF_PX / USUAL_AWAY).powi(2);
    let [a, b, away] = solve(normal, right)?;
    if 1.0 + away * end_s < 0.3 || away.abs() > 4.0 * USUAL_AWAY {
        return None;
    }
    let (mut n, mut ss, mut s1, mut y0, mut y1) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for m in &seen {
        let s = m.time_s - from_s;
        let y = (m.at.y - fall * s * s) * (1.0 + away * s);
        n += 1.0;
        s1 += s;
        ss += s * s;
        y0 += y;
        y1 += y * s;
    }
    let det = n * ss - s1 * s1;
    if det <= 0.0 {
        return None;
    }
    let (vy, y) = ((n * y1 - s1 * y0) / det, (ss * y0 - s1 * y1) / det);
    // From the mean of x back to x itself.
    let at = Point::new(a + mean_x, y);
    let velocity = Point::new(b + mean_x * away, vy);
    let mut flight = Flight { from_s, at, velocity, away, fall, seen, off_px: 0.0 };
    flight.off_px = flight.seen.iter().map(|m| m.at.distance(flight.place(m.time_s))).sum::<f64>() / n;
    Some(flight)
}

/// A ball does not come and go: it is seen in most pictures between the first and the last sight of it.
fn often_enough(flight: &Flight, field: &Field) -> bool {
    let (Some(first), Some(last)) = (flight.seen.first(), flight.seen.last()) else { return false };
    let crossed = (last.time_s - first.time_s) / field.step_s + 1.0;
    flight.seen.len() as f64 >= FLIGHT_SHARE_SEEN * crossed
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field() -> Field {
        Field {
            forward: 1.0,
            px_per_m: 200.0,
            body: Point::new(600.0, 400.0),
            met_y_px: (250.0, 560.0),
            window_s: (0.95, 1.10),
            step_s: 1.0 / 60.0,
        }
    }

    fn thing(time_s: f64, x: f64, y: f64) -> Mover {
        Mover { time_s, at: Point::new(x, y), length_px: 15.0, change: 80.0 }
    }

    /// Met at x = 700 at 1.013 s: in at 20 m/s, off at 30 m/s; and clutter that swings with the bat.
    fn seen(with_way_in: bool) -> Vec<Mover> {
        let fall = |t: f64| 0.5 * GRAVITY_M_S2 * 200.0 * (t - 1.013) * (t - 1.013);
        let mut all = Vec::new();
        for k in 50..70 {
            let t = f64::from(k) / 60.0;
            let d = t - 1.013;
            let x = if d < 0.0 { 700.0 - 4000.0 * d } else { 700.0 + 6000.0 * d };
            if x < 1280.0 && (d > 0.0 || with_way_in) {
                all.push(thing(t, x, 450.0 + fall(t) - 200.0 * d));
            }
            all.push(thing(t, 560.0 + 40.0 * (f64::from(k) * 1.7).sin(), 380.0));
        }
        all
    }

    #[test]
    fn contact_is_where_the_way_in_meets_the_way_off() {
        let ball = find_ball(&seen(true), &[], &field()).unwrap();
        assert!((ball.contact_s - 1.013).abs() < 0.0005, "{ball:?}");
        assert!(ball.plus_minus_s < 0.0045);
    }

    #[test]
    fn a_ball_on_a_tee_and_one_seen_only_leaving() {
        let tee = find_ball(&seen(false), &[thing(0.8, 700.0, 450.0)], &field()).unwrap();
        assert!((tee.contact_s - 1.013).abs() < 0.001, "{tee:?}");
        let off = find_ball(&seen(false), &[], &field()).unwrap();
        assert!((off.contact_s - 1.013).abs() < off.plus_minus_s, "{off:?}");
        assert!(off.plus_minus_s > 0.008);
    }

    #[test]
    fn clutter_alone_is_no_ball() {
        let clutter: Vec<Mover> = seen(false).into_iter().filter(|m| m.at.x < 640.0).collect();
        assert!(find_ball(&clutter, &[], &field()).is_none());
        assert!(find_ball(&[], &[], &field()).is_none());
    }
}
