//! Small files with bytes changed at will, and points in any order at any time: read or refused, never a panic. The
//! same entries are fuzzed without end from `fuzz/`.

pub mod entries;

use proptest::prelude::*;
use proptest::sample::Index;
use swingpair::compose::{Plan, Ready};
use swingpair::demo::{Truth, scenarios};
use swingpair::messages::CAPTIONS_TOML;
use swingpair::store::{Observation, Sidecar};
use swingpair::swing::{self, SwingInput};
use swingpair::tracking;
use swingpair::types::{EventId, Onset, Point, Side, Sound, Track};

const LESSON: &str = "lesson = 1\ntitle = \"Spring\"\n[make]\nclip = \"teach\"\n[[hitter]]\nname = \"Wren Castellow\"\n\
    bats = \"right\"\nheight_cm = 178\nwatch = [\"stride_length\"]\n[[hitter.day]]\ndate = 2026-03-07\n\
    reps = [\"best.mp4\", \"today.mp4\"]\n[[hitter.day]]\ndate = 2026-04-04\nreps = [\"today.mp4\"]\n";

/// One change of a text.
#[derive(Debug, Clone)]
enum Wound {
    Bytes(Index, Vec<u8>),
    Cut(Index, usize),
    Repeat(Index, usize),
    /// One of its numbers becomes another word.
    Number(Index, &'static str),
}

fn wounds() -> impl Strategy<Value = Vec<Wound>> {
    let words = prop::sample::select(vec![
        "-1",
        "0",
        "1e308",
        "-1e308",
        "5e-324",
        "1e999",
        "18446744073709551615",
        "9223372036854775808",
        "4294967296",
        "nan",
        "inf",
        "null",
        "\"\"",
        "[]",
        "{}",
        "true",
    ]);
    let one = prop_oneof![
        1 => (any::<Index>(), prop::collection::vec(any::<u8>(), 1..4)).prop_map(|(at, b)| Wound::Bytes(at, b)),
        1 => (any::<Index>(), 1usize..40).prop_map(|(at, n)| Wound::Cut(at, n)),
        1 => (any::<Index>(), 1usize..40).prop_map(|(at, n)| Wound::Repeat(at, n)),
        3 => (any::<Index>(), words).prop_map(|(at, w)| Wound::Number(at, w)),
    ];
    prop::collection::vec(one, 1..4)
}

fn wounded(text: &str, wounds: &[Wound]) -> Vec<u8> {
    let mut data = text.as_bytes().to_vec();
    for wound in wounds {
        if data.is_empty() {
            break;
        }
        match wound {
            Wound::Bytes(at, bytes) => {
                let at = at.index(data.len());
                data.splice(at..at, bytes.iter().copied());
            }
            Wound::Cut(at, n) => {
                let at = at.index(data.len());
                drop(data.drain(at..(at + n).min(data.len())));
            }
            Wound::Repeat(at, n) => {
                let at = at.index(data.len());
                let twice = data[at..(at + n).min(data.len())].to_vec();
                data.splice(at..at, twice);
            }
            Wound::Number(at, word) => {
                let numbers = numbers(&data);
                if !numbers.is_empty() {
                    let (from, to) = numbers[at.index(numbers.len())];
                    data.splice(from..to, word.bytes());
                }
            }
        }
    }
    data
}

/// Where numbers stand.
fn numbers(data: &[u8]) -> Vec<(usize, usize)> {
    let part = |b: u8| b.is_ascii_digit() || matches!(b, b'.' | b'-' | b'+' | b'e');
    let mut all = Vec::new();
    let mut at = 0;
    while at < data.len() {
        let to = at + data[at..].iter().take_while(|b| part(**b)).count();
        if data[at..to].iter().any(u8::is_ascii_digit) {
            all.push((at, to));
        }
        at = to + 1;
    }
    all
}

/// Exact points of a made-up swing.
fn good_track() -> Track {
    Truth::of(&scenarios::varied("mangled", 3, Side::Right)).track()
}

fn sidecar() -> String {
    let onsets = vec![Onset { time_s: 1.0, rise_db: 30.0 }];
    let seen = Observation { track: good_track(), onsets, ..Observation::default() };
    let mut sidecar = Sidecar { seen: Some(seen), ..Sidecar::default() };
    sidecar.pins.insert(EventId::Plant, 1.0);
    serde_json::to_string(&sidecar).unwrap()
}

/// A keypoint file of the same swing.
fn keypoints() -> String {
    use serde_json::json;
    use swingpair::types::{PARTS, Part};
    let word = |p: &Part| serde_json::to_value(p).unwrap().as_str().unwrap().replace("_toe", "_big_toe");
    let parts: Vec<&Part> = PARTS.iter().filter(|p| !word(p).contains("_hand")).collect();
    let track = good_track();
    let images: Vec<_> = track
        .poses
        .iter()
        .map(|p| json!({"id": p.frame, "width": 1280, "height": 720, "time_s": p.time_s}))
        .collect();
    let bodies: Vec<_> = track
        .poses
        .iter()
        .map(|pose| {
            let points: Vec<f64> =
                parts.iter().flat_map(|p| pose.at(**p).map_or([0.0; 3], |at| [at.x, at.y, 2.0])).collect();
            json!({"image_id": pose.frame, "category_id": 1, "keypoints": points})
        })
        .collect();
    let names: Vec<String> = parts.iter().map(|p| word(p)).collect();
    json!({"images": images, "annotations": bodies, "categories": [{"id": 1, "keypoints": names}]})
        .to_string()
}

/// What is not broken is taken: else nothing below would be tried.
#[test]
fn the_whole_files_are_taken() {
    let plan = Plan::ready(Ready::Teach, 8.0);
    assert!(entries::plan(plan.to_toml().unwrap().as_bytes()));
    assert!(entries::plan(serde_json::to_string(&plan).unwrap().as_bytes()));
    assert!(entries::captions(CAPTIONS_TOML.as_bytes()));
    assert!(entries::lesson(LESSON.as_bytes()));
    assert!(entries::keypoints(keypoints().as_bytes()));
    assert!(entries::sidecar(sidecar().as_bytes()));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn plans(ready in prop::sample::select(Ready::ALL.to_vec()), wounds in wounds(), json in any::<bool>()) {
        let plan = Plan::ready(ready, 8.0);
        let text = if json { serde_json::to_string(&plan).unwrap() } else { plan.to_toml().unwrap() };
        entries::plan(&wounded(&text, &wounds));
    }

    #[test]
    fn captions(wounds in wounds()) {
        entries::captions(&wounded(CAPTIONS_TOML, &wounds));
    }

    #[test]
    fn lessons(wounds in wounds()) {
        entries::lesson(&wounded(LESSON, &wounds));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn keypoint_files(wounds in wounds()) {
        entries::keypoints(&wounded(&keypoints(), &wounds));
    }

    #[test]
    fn sidecars(wounds in wounds()) {
        entries::sidecar(&wounded(&sidecar(), &wounds));
    }

    /// Points that no estimator should give: read or refused.
    #[test]
    fn tracks(odd in prop::collection::vec((any::<Index>(), odd()), 1..12), few in 0usize..400) {
        let mut track = good_track();
        track.poses.truncate(if few < 8 { few } else { usize::MAX });
        for (at, odd) in odd {
            if track.poses.is_empty() {
                break;
            }
            let at = at.index(track.poses.len());
            match odd {
                Odd::Time(time_s) => track.poses[at].time_s = time_s,
                Odd::Place(x, y) => {
                    track.poses[at].spots.iter_mut().flatten().for_each(|s| s.at = Point::new(x, y));
                }
                Odd::Gone(n) => drop(track.poses.drain(at..(at + n).min(track.poses.len()))),
                Odd::Unseen(n) => {
                    track.poses.iter_mut().skip(at).take(n).for_each(|p| p.spots.fill(None));
                }
                Odd::Back(n) => {
                    let to = (at + n).min(track.poses.len());
                    track.poses[at..to].reverse();
                }
            }
        }
        let times_s: Vec<f64> = track.poses.iter().map(|p| p.time_s).collect();
        let _ = swing::read_swing(&SwingInput::new(&track, &times_s, 1280.0));
        let mended = tracking::repair(&track);
        prop_assert_eq!(mended.poses.len(), track.poses.len());
        let _ = swing::read_swing(&SwingInput::new(&mended, &times_s, 1280.0));
    }

    /// Sound of any rate and length comes to an end.
    #[test]
    fn sounds(rate_hz in prop_oneof![0u32..400, any::<u32>()], samples in prop::collection::vec(-1.0f32..1.0, 0..600), slow in 0.1f64..9.0) {
        swing::onsets(&Sound { rate_hz, start_s: 0.0, samples }, slow);
    }
}

#[derive(Debug, Clone)]
enum Odd {
    Time(f64),
    Place(f64, f64),
    Gone(usize),
    Unseen(usize),
    Back(usize),
}

fn odd() -> impl Strategy<Value = Odd> {
    let number = || {
        prop::sample::select(vec![
            0.0,
            -1.0,
            1e-300,
            1e9,
            -1e9,
            1e300,
            -1e300,
            f64::NAN,
            f64::INFINITY,
            0.5,
            640.0,
        ])
    };
    prop_oneof![
        number().prop_map(Odd::Time),
        (number(), number()).prop_map(|(x, y)| Odd::Place(x, y)),
        (1usize..200).prop_map(Odd::Gone),
        (1usize..200).prop_map(Odd::Unseen),
        (2usize..60).prop_map(Odd::Back),
    ]
}
