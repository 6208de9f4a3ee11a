//! One still per layout and drawing, compared with a kept picture. `SWINGPAIR_GOLDENS=write` makes them anew; on
//! failure a strip expected | difference | actual is left in `target/goldens`. `SWINGPAIR_STILLS=DIR`
//! also writes every still at full size, to be looked at.

mod captions;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use swingpair::compose::{
    Board, FrameState, Ghost, GhostStyle, Layout, Mark, Moment, Plan, SecondAngle, Shot, Stage,
};
use swingpair::types::{Difference, EventId, Frame, GoodRep, GoodReps, Measure, MeasureId, OneSided, Spread};
use swingpair::types::{Knot, Offset, SyncOn, TimedFrame, Unit, Units, View, Which};
use swingpair::{draw, media, messages, types};

#[path = "../../src/compose/sample.rs"]
mod sample;

/// The largest mean difference of a colour channel, and the largest share of channels that may differ by
/// more than 24: rounding may differ between machines, a moved line or word may not.
const MEAN: f64 = 0.6;
const SHARE: f64 = 0.002;

struct Still {
    name: &'static str,
    layout: Layout,
    size: (usize, usize),
    with: With,
    /// `None`: the closing card. Else seconds after plant, and the event rested on.
    at: Option<(f64, Option<EventId>)>,
}

/// What today's rep is compared with.
#[derive(PartialEq)]
enum With {
    OneRep,
    /// Today's clip shows another side, so that some measures come from one clip only.
    AnotherSide,
    /// The range of several good reps.
    GoodReps,
    /// One rep, and everything that can be drawn.
    EveryMark,
    /// One rep, and this drawing alone.
    Only(Mark),
    /// One rep, lined up on every shared event.
    Phases,
    /// One rep as an outline.
    Outlined,
    /// A second camera on today's rep.
    TwoAngles,
    /// A plan's own words, the reference first.
    OwnWords,
    /// The reference as its mirror image.
    Mirrored,
    /// One rep, everything that can be drawn, lengths known, in inches.
    Inches,
}

/// A drawing by itself.
const fn drawing(name: &'static str, mark: Mark, after_s: f64) -> Still {
    Still {
        name,
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::Only(mark),
        at: Some((after_s, None)),
    }
}

const STILLS: [Still; 30] = [
    drawing("draw_head", Mark::Head, 0.15),
    drawing("draw_hand_path", Mark::HandPath, 0.2),
    drawing("draw_front_leg", Mark::FrontLeg, 0.1),
    drawing("draw_hands_to_foot", Mark::HandsToFoot, 0.0),
    drawing("draw_body_centre", Mark::BodyCentre, 0.15),
    drawing("draw_plumb_line", Mark::PlumbLine, 0.15),
    drawing("draw_plumb_front_foot", Mark::PlumbFrontFoot, 0.15),
    drawing("draw_plumb_head", Mark::PlumbHead, 0.15),
    drawing("draw_plumb_hips", Mark::PlumbHips, 0.15),
    drawing("draw_shoulders", Mark::Shoulders, 0.1),
    drawing("draw_feet", Mark::Feet, 0.1),
    Still {
        name: "phases",
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::Phases,
        at: Some((0.1, None)),
    },
    Still {
        name: "every_mark",
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::EveryMark,
        at: Some((0.05, None)),
    },
    Still {
        name: "alone",
        layout: Layout::TodayAlone,
        size: (540, 960),
        with: With::EveryMark,
        at: Some((0.15, Some(EventId::Contact))),
    },
    Still {
        name: "side_by_side",
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::OneRep,
        at: Some((0.0, Some(EventId::Plant))),
    },
    Still {
        name: "over_under",
        layout: Layout::OverUnder,
        size: (540, 960),
        with: With::OneRep,
        at: Some((0.15, Some(EventId::Contact))),
    },
    Still {
        name: "ghost",
        layout: Layout::Ghost,
        size: (540, 960),
        with: With::OneRep,
        at: Some((0.22, None)),
    },
    Still {
        name: "ghost_outline",
        layout: Layout::Ghost,
        size: (540, 960),
        with: With::Outlined,
        at: Some((0.12, None)),
    },
    Still {
        name: "ghost_early",
        layout: Layout::Ghost,
        size: (540, 960),
        with: With::OneRep,
        at: Some((-0.2, None)),
    },
    Still {
        name: "wide",
        layout: Layout::SideBySide,
        size: (960, 540),
        with: With::OneRep,
        at: Some((0.15, None)),
    },
    Still {
        name: "card_angles",
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::AnotherSide,
        at: None,
    },
    Still {
        name: "two_angles",
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::TwoAngles,
        at: Some((0.15, Some(EventId::Contact))),
    },
    Still {
        name: "own_words",
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::OwnWords,
        at: Some((0.15, Some(EventId::Contact))),
    },
    Still {
        name: "mirrored",
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::Mirrored,
        at: Some((0.1, None)),
    },
    Still {
        name: "card_mirrored",
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::Mirrored,
        at: None,
    },
    Still { name: "card_wide", layout: Layout::SideBySide, size: (960, 540), with: With::OneRep, at: None },
    Still { name: "card_reps", layout: Layout::SideBySide, size: (540, 960), with: With::GoodReps, at: None },
    Still { name: "card", layout: Layout::SideBySide, size: (540, 960), with: With::OneRep, at: None },
    Still { name: "card_inches", layout: Layout::SideBySide, size: (540, 960), with: With::Inches, at: None },
    Still {
        name: "marks_inches",
        layout: Layout::SideBySide,
        size: (540, 960),
        with: With::Inches,
        at: Some((0.0, None)),
    },
];

/// How tall the hitter of the stills is where lengths are known.
const HEIGHT_CM: f64 = 178.0;

fn in_cm(m: &mut Measure) {
    if m.unit == Unit::BodyHeights {
        *m = Measure { value: m.value * HEIGHT_CM, plus_minus: m.plus_minus * HEIGHT_CM, unit: Unit::Cm };
    }
}

fn draw_still(still: &Still, grow: usize, words: &messages::Captions) -> Frame {
    let (mut today, mut reference, mut pairing) = sample::pair();
    let inches = still.with == With::Inches;
    let words = if inches { messages::english_in(Units::Us) } else { words };
    if inches {
        for reading in [&mut today, &mut reference] {
            reading.scale.px_per_cm = Some(reading.scale.body_height_px / HEIGHT_CM);
            reading.measures.values_mut().for_each(in_cm);
        }
        for d in &mut pairing.differences {
            let times = if d.today.unit == Unit::BodyHeights { HEIGHT_CM } else { 1.0 };
            (d.difference, d.plus_minus) = (d.difference * times, d.plus_minus * times);
            [&mut d.today, &mut d.reference].into_iter().for_each(in_cm);
        }
    }
    if still.with == With::AnotherSide {
        today.hitter.view = View::FromBehind;
        let times = [MeasureId::PlantToContact, MeasureId::HandsStartToContact];
        let (both, one): (Vec<_>, Vec<_>) =
            pairing.differences.into_iter().partition(|d| times.contains(&d.measure));
        let of_reference =
            |d: Difference| OneSided { measure: d.measure, clip: Which::Reference, value: d.reference };
        (pairing.differences, pairing.one_sided) = (both, one.into_iter().map(of_reference).collect());
        if let Some(head) = pairing.one_sided.get_mut(1) {
            head.clip = Which::Today;
        }
    }
    if still.with == With::GoodReps {
        for d in &mut pairing.differences {
            let (mean, pm) = (d.reference.value, d.reference.plus_minus);
            d.spread =
                Some(Spread { reps: 5, low: mean - 0.7 * pm, high: mean + 0.8 * pm, sd: Some(0.5 * pm) });
        }
        let rep = GoodRep { clip: "rep.mp4".into(), left_out: None, from_middle: Some(0.5) };
        pairing.good_reps = Some(GoodReps { reps: vec![rep; 5], shown: 1, counted: 5 });
    }
    if still.with == With::Phases {
        let shared = [EventId::Load, EventId::FootOff, EventId::Plant, EventId::Contact, EventId::Extension];
        pairing.sync = SyncOn::Phases;
        pairing.time_map.knots = shared
            .map(|event| Knot {
                event,
                today_s: today.events[&event].time_s,
                reference_s: reference.events[&event].time_s,
            })
            .to_vec();
    }
    let size = (still.size.0 * grow, still.size.1 * grow);
    let stage =
        Stage::new(still.layout, size, [&today, &reference], ["Today", "Best rep"], &pairing, 0.5).unwrap();
    let stage = stage.with_captions(words);
    // Of the four plumb lines a clip has one.
    let others = [Mark::PlumbFrontFoot, Mark::PlumbHead, Mark::PlumbHips];
    let every: Vec<Mark> = Mark::ALL.into_iter().filter(|m| !others.contains(m)).collect();
    let stage = match still.with {
        With::EveryMark | With::Inches => stage.with_marks(&every),
        With::Only(mark) => stage.with_marks(&[mark]),
        _ => stage,
    };
    let ghost_look = if still.with == With::Outlined { GhostStyle::Outline } else { GhostStyle::Tinted };
    let cutouts = (still.layout == Layout::Ghost).then(|| sample::reference().cutouts((200..310).step_by(3)));
    let stage = stage.with_ghost(&Arc::new(Ghost::new(&reference, cutouts.as_ref(), ghost_look)));
    let stage = stage.with_mirrored([false, still.with == With::Mirrored]);
    let stage = if still.with == With::OwnWords {
        let at = |event| Moment { event, offset_s: 0.0 };
        let mut shot = Shot::swing(at(EventId::Load), at(EventId::Finish), 8.0);
        if let Shot::Swing(swing) = &mut shot {
            swing.caption = Some("Watch how the front heel comes down before the hands go".to_owned());
        }
        stage.for_shot(&Plan { reference_first: true, ..Plan::of(vec![shot]) }, 0)
    } else {
        stage
    };
    let offset = Offset { at_s: 0.0, offset_s: 0.5, plus_minus_s: 0.002, drift: None };
    let second = (still.with == With::TwoAngles).then_some(SecondAngle { reading: &reference, offset });
    let stage = stage.with_second([second, None]);
    let Some((after_s, hold)) = still.at else { return stage.card().unwrap() };
    let today_s = pairing.time_map.zero_today_s() + after_s;
    let reference_s = pairing.time_map.reference_from_today(today_s);
    let shown = |side: usize, hit: &sample::Hit, real_s: f64| {
        let index = (real_s * hit.rate_hz).round() as usize;
        let pts_s = index as f64 / hit.rate_hz;
        let picture = hit.picture(index);
        let frame = stage.cut(side).map_or(picture.clone(), |cut| sample::cut_out(&picture, cut));
        stage.prepare(side, TimedFrame { index, pts_s, frame }, pts_s)
    };
    let (t, r) = (shown(0, &sample::today(), today_s), shown(1, &sample::reference(), reference_s));
    let second = stage.side_s(2, today_s, reference_s).map(|real_s| shown(2, &sample::reference(), real_s));
    let mut board = Board::default();
    let named = |(id, e): (&EventId, &types::Event)| {
        (!matches!(id, EventId::Stance | EventId::Touch) && e.time_s <= today_s + 0.002).then_some(*id)
    };
    let passed = today.events.iter().filter_map(named).next_back();
    let say = FrameState { slow: 8.0, hold, passed };
    stage.compose(&mut board, say, [Some(&t), Some(&r), second.as_ref(), None]).unwrap();
    board.frame().unwrap().clone()
}

fn rgb(frame: &Frame) -> image::RgbImage {
    let (w, h) = (frame.width() as u32, frame.height() as u32);
    image::RgbImage::from_raw(w, h, draw::rgb_from_frame(frame)).unwrap()
}

/// Where the kept pictures are.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/goldens")
}

/// Whether the kept pictures are made anew.
pub fn is_written() -> bool {
    std::env::var("SWINGPAIR_GOLDENS").is_ok_and(|v| v == "write")
}

/// Leaves a strip of what differs to be looked at; gives where.
pub fn left(name: &str, want: &image::RgbImage, got: &image::RgbImage) -> PathBuf {
    let out = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/goldens");
    std::fs::create_dir_all(&out).unwrap();
    let out = out.join(format!("{name}.png"));
    strip(want, got).save(&out).unwrap();
    out
}

/// Expected, difference (four times stronger), actual, side by side.
fn strip(want: &image::RgbImage, got: &image::RgbImage) -> image::RgbImage {
    let (w, h) = (want.width().max(got.width()), want.height().max(got.height()));
    image::RgbImage::from_fn(w * 3, h, |x, y| {
        let at =
            |i: &image::RgbImage| i.get_pixel_checked(x % w, y).copied().unwrap_or(image::Rgb([255, 0, 255]));
        match x / w {
            0 => at(want),
            2 => at(got),
            _ => {
                let (a, b) = (at(want).0, at(got).0);
                image::Rgb([0, 1, 2].map(|i| a[i].abs_diff(b[i]).saturating_mul(4)))
            }
        }
    })
}

#[test]
fn every_layout_and_drawing_has_its_still() {
    let drawn = |mark: &Mark| STILLS.iter().any(|s| s.with == With::Only(*mark));
    assert!(Mark::ALL.iter().all(drawn));
    // The reference alone looks like today alone.
    let shown =
        |layout: &Layout| *layout == Layout::ReferenceAlone || STILLS.iter().any(|s| s.layout == *layout);
    assert!(Layout::ALL.iter().all(shown));
}

#[test]
fn stills_look_as_they_were_approved() {
    let write = is_written();
    let mut wrong = Vec::new();
    for still in &STILLS {
        if let Ok(dir) = std::env::var("SWINGPAIR_STILLS") {
            rgb(&draw_still(still, 2, messages::english()))
                .save(Path::new(&dir).join(format!("{}.png", still.name)))
                .unwrap();
        }
        let got = rgb(&draw_still(still, 1, messages::english()));
        let path = folder().join(format!("{}.png", still.name));
        if write {
            std::fs::create_dir_all(folder()).unwrap();
            got.save(&path).unwrap();
            continue;
        }
        let want = image::open(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display())).to_rgb8();
        let apart: Vec<u8> = want.as_raw().iter().zip(got.as_raw()).map(|(a, b)| a.abs_diff(*b)).collect();
        let mean = apart.iter().map(|&d| f64::from(d)).sum::<f64>() / apart.len() as f64;
        let share = apart.iter().filter(|&&d| d > 24).count() as f64 / apart.len() as f64;
        if want.dimensions() != got.dimensions() || mean > MEAN || share > SHARE {
            let out = left(still.name, &want, &got);
            wrong.push(format!("{}: mean {mean:.2}, share {share:.4}; see {}", still.name, out.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
