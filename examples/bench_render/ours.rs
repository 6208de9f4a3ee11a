//! Our side: this program called again with `ours JOB …`, through the public library alone.

use std::path::{Path, PathBuf};
use std::process::Command;

use swingpair::compose::{self, ClipOptions, ClipSide, Layout, Mark, Moment, Plan, Ready, Shot, SwingShot};
use swingpair::media::Cut;
use swingpair::pairing::pair;
use swingpair::reading::{ReadClip, ReadOptions, read, track};
use swingpair::store;
use swingpair::types::{Cancel, Cutouts, EventId, NoProgress, SyncOn};

use super::cost::{self, Cost};
use super::{Outcome, clip_of};

/// Pictures a second of the full-speed clips, as of their sources.
pub const RATE_HZ: u32 = 60;

/// What the bare job needs to do the same.
pub struct Facts {
    pub size: (usize, usize),
    /// Source part and the size of the panel it fills, of today and of the reference.
    pub panels: [Cut; 2],
    /// Playback time of the first picture shown, s.
    pub from_s: [f64; 2],
    pub pictures: usize,
}

pub fn cost(job: &str, clips: &[PathBuf; 2], made: &Path) -> Outcome<Cost> {
    cost::of(Command::new(std::env::current_exe()?).args(["ours", job]).args(clips).arg(made))
}

pub fn read_cost(clip: &Path) -> Outcome<Cost> {
    cost::of(Command::new(std::env::current_exe()?).args(["ours", "read"]).arg(clip))
}

/// The job named on the command line.
pub fn run(job: &str, args: &[String]) -> Outcome<()> {
    match args {
        [clip] if job == "read" => {
            let options = ReadOptions { fresh: true, ..usual() };
            read(Path::new(clip), &options, &NoProgress, &Cancel::default())?;
        }
        [today, best, made] => {
            make(job, &[today.into(), best.into()], Path::new(made))?;
        }
        _ => return Err("ours JOB CLIP… [MADE]".into()),
    }
    Ok(())
}

fn usual() -> ReadOptions {
    ReadOptions { height_cm: Some(176.0), ..ReadOptions::default() }
}

fn options(job: &str) -> ClipOptions {
    if job == "teach" {
        return ClipOptions {
            plan: Some(Plan::ready(Ready::Teach, compose::usual_slow())),
            ..ClipOptions::default()
        };
    }
    let at = |event, offset_s| Moment { event, offset_s };
    let whole = SwingShot {
        from: at(EventId::Plant, -3.0),
        to: at(EventId::Contact, 3.0),
        slow: 1.0,
        holds: Vec::new(),
        layout: None,
        draw: Some(Mark::ALL.to_vec()),
        caption: None,
    };
    ClipOptions {
        layout: Layout::from_word(job),
        plan: Some(Plan { shots: vec![Shot::Swing(whole)], ..Plan::ready(Ready::Teach, 8.0) }),
        rate_hz: RATE_HZ,
        ..ClipOptions::default()
    }
}

fn make(job: &str, clips: &[PathBuf; 2], made: &Path) -> Outcome<(compose::Made, [ReadClip; 2])> {
    let seen = |clip: &Path| read(clip, &usual(), &NoProgress, &Cancel::default());
    let (today, best) = (seen(&clips[0])?, seen(&clips[1])?);
    let (pairing, _) = pair(&today.reading, &best.reading, SyncOn::Event(EventId::Plant))?;
    let made = {
        let a = ClipSide {
            clip: &today.clip,
            reading: &today.reading,
            label: "Today",
            second: None,
            mirrored: false,
        };
        let b = ClipSide {
            clip: &best.clip,
            reading: &best.reading,
            label: "Best",
            second: None,
            mirrored: false,
        };
        let cutouts = if job == "ghost" { Some(cutouts(&clips[1], &best)?) } else { None };
        let options = ClipOptions { cutouts, ..options(job) };
        compose::make(&a, &b, &pairing, &options, made, &NoProgress, &Cancel::default())?
    };
    Ok((made, [today, best]))
}

/// The reference cut out of its pictures: found once, then kept beside the clip, as `pair` does.
fn cutouts(path: &Path, best: &ReadClip) -> Outcome<Cutouts> {
    let key = store::cutouts_key(path, &best.reading)?;
    if let Some(kept) = store::load_cutouts(path, &key) {
        return Ok(kept);
    }
    let found = track::cutouts(&best.clip, &best.reading, &NoProgress, &Cancel::default())?;
    store::save_cutouts(path, &key, &found)?;
    Ok(found)
}

/// The middle of the source in the shape of a panel: for what is turned on its way to the panel.
fn middle((width, height): (usize, usize)) -> Cut {
    let across = (1080 * width / height).min(1920) & !1;
    Cut { x: ((1920 - across) / 2) & !1, y: 0, width: across, height: 1080, size: (width, height) }
}

/// Make the clip once and tell what it shows of which source.
pub fn facts(job: &str, clips: &[PathBuf; 2]) -> Outcome<Facts> {
    let (made, sides) = make(job, clips, &clip_of(job))?;
    let first = made.trace.iter().find_map(|l| Some([l.today?.pts_s, l.reference?.pts_s]));
    let readings = [&sides[0].reading, &sides[1].reading];
    let (pairing, _) = pair(readings[0], readings[1], SyncOn::Event(EventId::Plant))?;
    let size = (made.written.width, made.written.height);
    let layout = Layout::from_word(job).unwrap_or(Layout::SideBySide);
    let stage = compose::Stage::new(layout, size, readings, ["Today", "Best"], &pairing, 0.5)?;
    Ok(Facts {
        size,
        panels: [0, 1].map(|side| stage.cut(side).unwrap_or(middle(stage.panel_size(side)))),
        from_s: first.ok_or("the clip shows no swing")?,
        pictures: made.trace.len(),
    })
}
