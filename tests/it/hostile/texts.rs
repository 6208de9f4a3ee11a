//! The small files that are read beside a clip, broken by seed and given to what reads them and to what works with
//! the result.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::json;
use swingpair::compose::{Plan, Ready};
use swingpair::demo::{Dice, Truth, scenarios};
use swingpair::messages::english;
use swingpair::reading::{ReadOptions, read_keypoints};
use swingpair::store::{self, Key, Observation, Sidecar};
use swingpair::swing::{self, SwingInput};
use swingpair::types::{
    BallFlight, BatAtRest, CameraMotion, ClipFacts, Cutout, Cutouts, EventId, KnownLength, Limits, Point,
    Reading, Similarity, SyncOn,
};
use swingpair::{pairing, report};

use super::mutate;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Sidecar,
    Cutouts,
    Plan,
    Keypoints,
}

impl Kind {
    pub const ALL: [Self; 4] = [Self::Sidecar, Self::Cutouts, Self::Plan, Self::Keypoints];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Sidecar => "sidecar",
            Self::Cutouts => "cut-outs",
            Self::Plan => "plan",
            Self::Keypoints => "keypoints",
        }
    }
}

/// Good files of every kind, and a folder to lay broken ones into.
pub struct Corpus {
    folder: PathBuf,
    sidecar: String,
    cutouts: String,
    plans: Vec<String>,
    keypoints: String,
    good: Sidecar,
    times_s: Vec<f64>,
    limits: Limits,
}

const CUTOUTS_KEY: &str = "content reading";

impl Corpus {
    pub fn new(folder: &Path) -> Self {
        let truth = Truth::of(&scenarios::varied("hostile", 3, swingpair::types::Side::Right));
        let track = truth.track();
        let at = |i: usize| track.poses[i].time_s;
        let seen = Observation {
            scene: None,
            camera: CameraMotion { to_steady: vec![Similarity::IDENTITY; track.poses.len()], lost: vec![0] },
            onsets: truth.onsets().to_vec(),
            lost: vec![2],
            repeated: vec![4],
            warnings: Vec::new(),
            bat: Some(Ok(BatAtRest { hands_to_tip_px: 90.0, error_share: 0.05, looks: 12 })),
            ball: Some(Ok(BallFlight {
                contact_s: truth.at(EventId::Contact).unwrap_or(1.0),
                plus_minus_s: 0.002,
                off_bat_px_s: 4000.0,
                path: vec![(at(3), Point::new(100.0, 100.0)), (at(5), Point::new(300.0, 90.0))],
            })),
            track,
        };
        let key = Some(Key { content: "content".to_owned(), settings: String::new() });
        let mut good = Sidecar { key, seen: Some(seen), ..Sidecar::default() };
        good.pins.insert(EventId::Plant, truth.at(EventId::Plant).unwrap_or(1.0));
        let times_s = truth.times_s.clone();
        good.reading = read(
            &good,
            &times_s,
            KnownLength { from: Point::new(9.0, 9.0), to: Point::new(99.0, 9.0), cm: 43.18 },
        );
        assert!(good.reading.is_some(), "the corpus holds no swing");

        let clip = folder.join("rep.mp4");
        let ramp: Vec<u8> = (0..64u32 * 64).map(|i| (i % 64 * 4) as u8).collect();
        let look = |time_s| Cutout::new(time_s, Similarity::IDENTITY, 64, &ramp);
        let cutouts = Cutouts { looks: vec![look(0.5), look(0.6)] };
        store::save_cutouts(&clip, CUTOUTS_KEY, &cutouts).unwrap();
        let plans = Ready::ALL.iter().flat_map(|ready| {
            let plan = Plan::ready(*ready, 8.0);
            [plan.to_toml().unwrap(), serde_json::to_string(&plan).unwrap()]
        });
        Self {
            folder: folder.to_owned(),
            sidecar: serde_json::to_string(&good).unwrap(),
            cutouts: fs::read_to_string(store::cutouts_path(&clip)).unwrap(),
            plans: plans.collect(),
            keypoints: keypoints(&good, &times_s),
            good,
            times_s,
            limits: Limits::default(),
        }
    }

    /// Break one file of `kind` by `seed`, and read it. Whether it was taken for good.
    pub fn try_one(&self, kind: Kind, seed: u64) -> bool {
        let mut dice = Dice::stream(seed, kind as u64 + 100);
        let good = match kind {
            Kind::Sidecar => &self.sidecar,
            Kind::Cutouts => &self.cutouts,
            Kind::Keypoints => &self.keypoints,
            Kind::Plan => dice.one_of(&self.plans).unwrap(),
        };
        let is_json = good.starts_with('{');
        // Broken text is mostly refused by the JSON reader; what is still JSON goes further.
        let broken = if is_json && dice.unit() < 0.75 {
            mutate::json(&mut dice, good).into_bytes()
        } else {
            mutate::bytes(&mut dice, good.as_bytes(), self.plans[0].as_bytes())
        };
        let clip = self.folder.join("rep.mp4");
        match kind {
            Kind::Sidecar => {
                let path = store::sidecar_path(&clip);
                fs::write(&path, broken).unwrap();
                let taken = store::load(&clip);
                taken.is_ok_and(|sidecar| self.work_with(&sidecar))
            }
            Kind::Cutouts => {
                fs::write(store::cutouts_path(&clip), broken).unwrap();
                let taken = store::load_cutouts(&clip, CUTOUTS_KEY);
                taken.is_some_and(|c| c.looks.iter().filter_map(Cutout::cover).count() > 0)
            }
            Kind::Plan => {
                let path = self.folder.join("plan");
                fs::write(&path, broken).unwrap();
                Plan::from_file(&path, &self.limits).is_ok_and(|plan| plan.to_toml().is_ok())
            }
            Kind::Keypoints => {
                let path = self.folder.join("points.json");
                fs::write(&path, broken).unwrap();
                let read = read_keypoints(&path, &ReadOptions::default());
                read.is_ok_and(|reading| !report::reading_text(english(), &reading).is_empty())
            }
        }
    }

    /// What is done with a sidecar that was taken: its points are read, told, and paired with good ones.
    fn work_with(&self, sidecar: &Sidecar) -> bool {
        if let Some(reading) = &sidecar.reading {
            report::reading_text(english(), reading);
        }
        let length = KnownLength { from: Point::new(9.0, 9.0), to: Point::new(99.0, 9.0), cm: 43.18 };
        let (Some(reading), Some(mut good)) =
            (read(sidecar, &self.times_s, length), self.good.reading.clone())
        else {
            return sidecar.seen.is_some();
        };
        report::reading_text(english(), &reading);
        good.track = self.good.seen.as_ref().map(|s| s.track.clone()).unwrap_or_default();
        for sync in [SyncOn::Phases, SyncOn::Event(EventId::Plant)] {
            if let Ok((pairing, _)) = pairing::pair(&reading, &good, sync) {
                report::pairing_text(english(), &pairing, &reading, &good);
            }
        }
        true
    }
}

/// The reading of what a sidecar holds, as `reading` makes it.
fn read(sidecar: &Sidecar, times_s: &[f64], length: KnownLength) -> Option<Reading> {
    let seen = sidecar.seen.as_ref()?;
    let bat = seen.bat.as_ref().and_then(|b| b.as_ref().ok());
    let gone = |i: &usize| seen.lost.contains(i) || seen.repeated.contains(i);
    let kept: Vec<f64> = times_s.iter().enumerate().filter(|(i, _)| !gone(i)).map(|(_, t)| *t).collect();
    let holes = swing::holes(&kept);
    let swing = swing::read_swing(&SwingInput {
        track: &seen.track,
        camera: &seen.camera.to_steady,
        camera_lost: &seen.camera.lost,
        onsets: &seen.onsets,
        frame_times_s: times_s,
        long_side_px: 1280.0,
        pins: &sidecar.pins,
        borrowed: &swingpair::types::Events::new(),
        height_cm: None,
        bat: bat.map(|look| swing::KnownBat { at_rest: *look, bat_cm: 84.0 }),
        known_length: Some(length),
        ball: seen.ball.as_ref().and_then(|b| b.as_ref().ok()),
        mic_distance_m: None,
        point_wander: 0.0,
        holes: &holes,
        time_doubt_s: 0.0,
        rate_told: false,
        known_hitter: sidecar.hitter,
    });
    let swing = swing.ok()?;
    Some(Reading {
        schema: Reading::SCHEMA.to_owned(),
        clip: ClipFacts {
            path: "rep.mp4".into(),
            width: 1280,
            height: 720,
            frames: times_s.len(),
            duration_s: times_s.last().copied().unwrap_or(0.0),
            rate_hz: 60.0,
            capture_rate_hz: 60.0,
            slow_factor: 1.0,
        },
        hitter: swing.hitter,
        scale: swing.scale,
        events: swing.events,
        measures: swing.measures,
        absent: swing.absent,
        warnings: swing.warnings,
        track: seen.track.clone(),
        camera: seen.camera.clone(),
        ball: sidecar.hitter.ball,
        scene: seen.scene.clone(),
    })
}

/// The same points as a keypoint file.
fn keypoints(sidecar: &Sidecar, times_s: &[f64]) -> String {
    let track = sidecar.seen.as_ref().map(|s| s.track.clone()).unwrap_or_default();
    let names: Vec<String> = swingpair::types::PARTS
        .iter()
        .filter_map(|p| serde_json::to_value(p).ok()?.as_str().map(|s| s.replace("_toe", "_big_toe")))
        .filter(|n| !n.contains("_hand"))
        .collect();
    let kept = |part: &swingpair::types::Part| {
        serde_json::to_value(part).is_ok_and(|v| v.as_str().is_some_and(|s| !s.contains("_hand")))
    };
    let annotations: Vec<_> = track
        .poses
        .iter()
        .map(|pose| {
            let points: Vec<f64> = swingpair::types::PARTS
                .iter()
                .filter(|p| kept(p))
                .flat_map(|p| pose.at(*p).map_or([0.0; 3], |at| [at.x, at.y, 2.0]))
                .collect();
            json!({"image_id": pose.frame, "category_id": 1, "keypoints": points})
        })
        .collect();
    let images: Vec<_> = times_s
        .iter()
        .enumerate()
        .map(|(i, t)| json!({"id": i, "width": 1280, "height": 720, "time_s": t}))
        .collect();
    json!({"images": images, "annotations": annotations, "categories": [{"id": 1, "keypoints": names}]})
        .to_string()
}
