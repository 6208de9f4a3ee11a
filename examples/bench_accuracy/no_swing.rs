//! Clips without a swing as points: how many are read as one all the same.

use std::collections::BTreeMap;
use std::fmt::Write;

use swingpair::demo::{Pastime, Truth};
use swingpair::swing::{SwingInput, read_swing};
use swingpair::types::View;

use super::points::jittered;
use super::rows::Share;

const RATES_HZ: [f64; 4] = [30.0, 60.0, 120.0, 240.0];
const VIEWS: [View; 2] = [View::OpenSide, View::ClosedSide];
/// Bodies and paces of each act at each rate from each side.
const EACH: u64 = 5;

pub struct NoSwing {
    what: Pastime,
    share: Share,
    rate_hz: f64,
    /// Why it was refused; `None`: read as a swing.
    refused: Option<String>,
}

pub fn read_all(seed: u64) -> Vec<NoSwing> {
    let mut all = Vec::new();
    for (share, first) in [(Share::Set, 0), (Share::Report, 700_000)] {
        for (i, what) in (0..).zip(Pastime::ALL) {
            for (k, rate_hz) in (0..).zip(RATES_HZ) {
                for (j, view) in (0..).zip(VIEWS) {
                    for n in 0..EACH {
                        let one = seed + first + 1000 * i + 100 * k + 10 * j + n;
                        let refused = refused(what, one, view, rate_hz);
                        all.push(NoSwing { what, share, rate_hz, refused });
                    }
                }
            }
        }
    }
    all
}

fn refused(what: Pastime, seed: u64, view: View, rate_hz: f64) -> Option<String> {
    let scenario = what.scenario(seed, view, rate_hz);
    let track = jittered(&Truth::of(&scenario), seed);
    let times: Vec<f64> = track.poses.iter().map(|p| p.time_s).collect();
    let long_side_px = scenario.camera.width.max(scenario.camera.height) as f64;
    read_swing(&SwingInput::new(&track, &times, long_side_px)).err().map(|e| e.to_string())
}

pub fn table(out: &mut String, all: &[NoSwing]) {
    let _ = writeln!(out, "| act | share | n | read as a swing | of them at 30 / 60 / 120 / 240 fps |");
    let _ = writeln!(out, "|---|---|---|---|---|");
    let mut groups: BTreeMap<(Pastime, Share), Vec<&NoSwing>> = BTreeMap::new();
    for one in all {
        groups.entry((one.what, one.share)).or_default().push(one);
    }
    for ((what, share), rows) in groups {
        let read = |hz: Option<f64>| {
            let at = |r: &&&NoSwing| r.refused.is_none() && hz.is_none_or(|hz| r.rate_hz == hz);
            rows.iter().filter(at).count()
        };
        let [a, b, c, d] = RATES_HZ.map(|hz| read(Some(hz)));
        let (n, all) = (rows.len(), read(None));
        let _ =
            writeln!(out, "| {} | {} | {n} | {all} | {a} / {b} / {c} / {d} |", in_words(what), share.word());
    }
    let _ = writeln!(out);
}

/// For the table.
fn in_words(what: Pastime) -> &'static str {
    match what {
        Pastime::Sits => "sits down and stands up",
        Pastime::Lies => "lies and stirs an arm",
        Pastime::WavesOneArm => "waves one arm",
        Pastime::WavesBothArms => "waves both arms overhead",
        Pastime::Throws => "throws a ball overhand",
        Pastime::Dances => "dances",
        Pastime::Kneels => "kneels and reaches low",
        Pastime::PicksUp => "picks up a ball",
        Pastime::Takes => "takes: load and stride, no swing",
        Pastime::ChecksSwing => "checks the swing half way",
    }
}
