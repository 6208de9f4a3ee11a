//! The ball around contact.

use super::super::params::{
    BALL_AFTER_S, BALL_APART_S, BALL_BEFORE_S, BALL_HEIGHT_M, BALL_MOST_HZ, BALL_PX, BALL_WINDOW_AFTER_S,
    BALL_WINDOW_BEFORE_S,
};
use crate::media::Clip;
use crate::messages::swing_search as messages;
use crate::tracking::{BALL_M, BallPicture, Field, Mover, changed, find_ball, movers};
use crate::types::{
    BallFlight, Cancel, EventId, Part, PitcherSide, Point, Progress, Reading, Result, Similarity,
};

/// When the ball was met, from its flight; `None` where it is not seen or the view does not show it. Pictures in
/// `repeated` (rising) show no moment of their own.
pub fn ball(
    clip: &Clip,
    reading: &Reading,
    repeated: &[usize],
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Option<BallFlight>> {
    let forward = match reading.hitter.pitcher_side {
        PitcherSide::Right => 1.0,
        PitcherSide::Left => -1.0,
        PitcherSide::Away | PitcherSide::Toward => return Ok(None),
    };
    let Some(contact) = reading.events.get(&EventId::Contact) else { return Ok(None) };
    let px_per_m =
        reading.scale.px_per_cm.map_or(reading.scale.body_height_px / BALL_HEIGHT_M, |p| p * 100.0);
    let ball_px = BALL_M * px_per_m;
    let mut pictures = pictures(clip, reading, contact.time_s, ball_px, progress, cancel)?;
    pictures.retain(|(index, _)| repeated.binary_search(index).is_err());
    let pictures: Vec<BallPicture> = pictures.into_iter().map(|(_, p)| p).collect();
    let Some((shoulders, hips, ankles)) = heights(reading, contact.time_s) else { return Ok(None) };
    let step_s = step_s(&pictures);
    let field = Field {
        forward,
        px_per_m,
        body: hips,
        met_y_px: (shoulders.y - 0.35 * px_per_m, ankles.y - 0.18 * px_per_m),
        window_s: (contact.time_s - BALL_WINDOW_BEFORE_S, contact.time_s + BALL_WINDOW_AFTER_S),
        step_s,
    };
    // Half a picture's time of the fastest ball.
    let reach_px = 45.0 * px_per_m * (0.5 * step_s).min(0.012);
    let apart = (BALL_APART_S / step_s).round().max(1.0) as usize;
    let mut seen: Vec<Mover> = Vec::new();
    for (i, picture) in pictures.iter().enumerate() {
        cancel.check()?;
        let before = i.checked_sub(apart).and_then(|j| pictures.get(j));
        if let (Some(before), Some(after)) = (before, pictures.get(i + apart)) {
            seen.extend(movers(before, picture, after, ball_px, reach_px));
        }
    }
    let near = |t: f64| pictures.iter().min_by(|a, b| (a.time_s - t).abs().total_cmp(&(b.time_s - t).abs()));
    let resting = match (near(contact.time_s - 0.11), near(contact.time_s + 0.12)) {
        (Some(a), Some(b)) => changed(a, b, ball_px),
        _ => Vec::new(),
    };
    Ok(find_ball(&seen, &resting, &field))
}

/// Small pictures around contact, each with its place in the clip's index.
fn pictures(
    clip: &Clip,
    reading: &Reading,
    contact_s: f64,
    ball_px: f64,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Vec<(usize, BallPicture)>> {
    let from = clip.frame_at_real((contact_s - BALL_BEFORE_S).max(0.0));
    let to = clip.frame_at_real(contact_s + BALL_AFTER_S);
    let facts = clip.facts();
    let share = (BALL_PX / ball_px).min(1.0);
    let fit = (share < 0.9)
        .then_some(((facts.width as f64 * share) as usize, (facts.height as f64 * share) as usize));
    let every = (facts.capture_rate_hz / BALL_MOST_HZ).ceil().max(1.0) as usize;
    let wanted: Vec<usize> = (from..=to).step_by(every).collect();
    let mut out = Vec::new();
    let mut frames = clip.picked(&wanted, fit)?;
    progress.begin(messages::FINDING_BALL, wanted.len() as u64);
    while let Some(picture) = frames.next_frame()? {
        cancel.check()?;
        progress.advance(1);
        let time_s = clip.real_s(picture.index);
        let steady =
            reading.track.nearest_index(time_s).map_or(Similarity::IDENTITY, |i| reading.camera.to_steady(i));
        let (sx, sy) = (
            facts.width as f64 / picture.frame.width().max(1) as f64,
            facts.height as f64 / picture.frame.height().max(1) as f64,
        );
        let grown = Similarity { a: (sx + sy) / 2.0, ..Similarity::IDENTITY };
        let seen = BallPicture { time_s, luma: picture.frame.y, to_steady: steady.after(&grown) };
        out.push((picture.index, seen));
    }
    progress.end();
    Ok(out)
}

fn step_s(pictures: &[BallPicture]) -> f64 {
    let mut steps: Vec<f64> = pictures.windows(2).map(|w| w[1].time_s - w[0].time_s).collect();
    steps.sort_by(f64::total_cmp);
    steps.get(steps.len() / 2).copied().filter(|s| *s > 0.0).unwrap_or(1.0 / 30.0)
}

/// Middles of shoulders, hips and ankles at contact, steady px.
fn heights(reading: &Reading, time_s: f64) -> Option<(Point, Point, Point)> {
    let i = reading.track.nearest_index(time_s)?;
    let pose = reading.track.poses.get(i)?;
    let middle = |left: Part| {
        Some(reading.camera.to_steady(i).apply(pose.at(left)?.midpoint(pose.at(left.other_side())?)))
    };
    Some((middle(Part::LeftShoulder)?, middle(Part::LeftHip)?, middle(Part::LeftAnkle)?))
}
