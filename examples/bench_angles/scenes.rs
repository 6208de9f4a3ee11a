//! Made-up pairs of sound: two phones on one swing, or on two.

use swingpair::demo::{Dice, Echo, OtherKind, OtherSound, Scenario, SoundPlan, Swing, scenarios};
use swingpair::types::View;

/// What makes it hard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Case {
    Quiet,
    Noise,
    OtherHitters,
    Walls,
    Talk,
    Clipped,
    Levels,
    Aac,
    All,
    Unknown,
    MinutesApart,
    LongTakes,
    TwoSwings,
    TwoPlaces,
    Beats,
    NothingHeard,
}

impl Case {
    pub const ALL: [Self; 16] = [
        Self::Quiet,
        Self::Noise,
        Self::OtherHitters,
        Self::Walls,
        Self::Talk,
        Self::Clipped,
        Self::Levels,
        Self::Aac,
        Self::All,
        Self::Unknown,
        Self::MinutesApart,
        Self::LongTakes,
        Self::TwoSwings,
        Self::TwoPlaces,
        Self::Beats,
        Self::NothingHeard,
    ];

    pub fn words(self) -> &'static str {
        match self {
            Self::Quiet => "quiet field",
            Self::Noise => "noise ×4 to ×12",
            Self::OtherHitters => "2 to 5 other hitters' cracks",
            Self::Walls => "walls: 1 to 3 echoes",
            Self::Talk => "talk",
            Self::Clipped => "overloaded",
            Self::Levels => "levels 20 to 34 dB apart",
            Self::Aac => "AAC, 64 kbit/s",
            Self::All => "all of these",
            Self::Unknown => "distances not given",
            Self::MinutesApart => "one swing, and a take of 5 min with 14",
            Self::LongTakes => "takes of 8 min, clocks 10 to 100 ppm apart",
            Self::TwoSwings => "two swings, nothing but the crack",
            Self::TwoPlaces => "two places, with talk and others",
            Self::Beats => "a machine's regular beat alone",
            Self::NothingHeard => "noise alone",
        }
    }

    /// Whether there is an offset to be found.
    pub fn is_one_swing(self) -> bool {
        !matches!(self, Self::TwoSwings | Self::TwoPlaces | Self::Beats | Self::NothingHeard)
    }
}

/// Two scenarios, whether to code the sound, and the clock's drift between them, ppm.
pub struct Pair {
    pub scenarios: [Scenario; 2],
    pub aac: bool,
    pub drift_ppm: f64,
}

pub fn pair(case: Case, seed: u64) -> Pair {
    use Case::*;
    let mut dice = Dice::stream(seed, 71 + case as u64);
    let [_, base] = scenarios::two_reps();
    let mut first = Scenario { swing_seed: dice.next_u64(), ..base };
    first.camera.distance_m = dice.between(4.0, 9.0);
    first.contact_s = dice.between(1.5, 4.0);
    first.duration_s = first.contact_s + dice.between(1.0, 2.0);
    let alike = dice.between(0.3, 0.9);
    let others = match case {
        OtherHitters => cracks(&mut dice, 4.0),
        Talk => talk(&mut dice),
        All | TwoPlaces => [cracks(&mut dice, 4.0), talk(&mut dice)].concat(),
        Beats => {
            let every_s = dice.between(0.5, 1.2);
            (-40..40).map(|i| other(OtherKind::Beat, f64::from(i) * every_s + 0.2, [6.0, 8.0], 0.6)).collect()
        }
        _ => Vec::new(),
    };
    first.sound = Some(plan(case, alike, others.clone(), &mut dice));
    let mut second = Scenario { camera_seed: dice.next_u64(), ..first.clone() };
    second.camera.view = View::FromBehind;
    second.camera.distance_m = dice.between(5.0, 12.0);
    second.contact_s = first.contact_s + dice.between(-0.9, 1.5);
    second.duration_s = second.contact_s + dice.between(1.0, 2.0);
    second.sound = Some(plan(case, alike, others, &mut dice));
    let mut drift_ppm = 0.0;
    match case {
        MinutesApart => {
            let swings = more_swings(&mut dice, plate(&first), 14, 300.0);
            heard(&mut first).others = swings.clone();
            heard(&mut second).others = swings;
            (second.contact_s, second.duration_s) = (dice.between(120.0, 180.0), 300.0);
        }
        LongTakes => {
            let swings = more_swings(&mut dice, plate(&first), 40, 470.0);
            drift_ppm = dice.between(10.0, 100.0) * if dice.unit() < 0.5 { -1.0 } else { 1.0 };
            for (scenario, start) in [(&mut first, 230.0), (&mut second, 237.0)] {
                scenario.contact_s = start + dice.between(-5.0, 5.0);
                scenario.duration_s = 480.0;
                heard(scenario).others = swings.clone();
            }
            heard(&mut second).clock_ppm = drift_ppm;
        }
        TwoSwings | TwoPlaces => {
            second.swing_seed = dice.next_u64();
            if case == TwoPlaces {
                heard(&mut second).others = [cracks(&mut dice, 4.0), self::talk(&mut dice)].concat();
            }
        }
        Levels => {
            let (low, high) = (dice.between(0.05, 0.1), dice.between(1.0, 2.5));
            heard(&mut first).gain = low;
            heard(&mut second).gain = high;
        }
        Beats | NothingHeard => {
            // The swing itself is far away.
            for scenario in [&mut first, &mut second] {
                scenario.contact_s += 100.0;
                for other in &mut heard(scenario).others {
                    other.at_s -= 100.0;
                }
            }
        }
        _ => {}
    }
    Pair { scenarios: [first, second], aac: matches!(case, Aac | All), drift_ppm }
}

fn heard(scenario: &mut Scenario) -> &mut SoundPlan {
    scenario.sound.get_or_insert_default()
}

fn plan(case: Case, alike: f64, others: Vec<OtherSound>, dice: &mut Dice) -> SoundPlan {
    use Case::*;
    // The ground throws every sound back once.
    let mut echoes = vec![Echo { later_s: dice.between(0.0003, 0.0012), level: dice.between(0.2, 0.6) }];
    if matches!(case, Walls | All) {
        for _ in 0..1 + (dice.unit() * 3.0) as usize {
            echoes.push(Echo { later_s: dice.between(0.012, 0.09), level: dice.between(0.2, 0.6) });
        }
    }
    SoundPlan {
        noise: match case {
            Noise => dice.between(4.0, 12.0),
            All => dice.between(1.0, 5.0),
            _ => dice.between(0.5, 2.0),
        },
        gain: match case {
            Clipped => dice.between(4.0, 12.0),
            All => dice.between(0.3, 4.0),
            _ => dice.between(0.5, 1.2),
        },
        alike,
        echoes,
        others,
        ..SoundPlan::default()
    }
}

fn other(kind: OtherKind, at_s: f64, at_m: [f64; 2], level: f64) -> OtherSound {
    OtherSound { kind, at_s, at_m, level }
}

fn cracks(dice: &mut Dice, within_s: f64) -> Vec<OtherSound> {
    (0..2 + (dice.unit() * 4.0) as usize)
        .map(|_| {
            let at_m = [dice.between(-12.0, 12.0), dice.between(-18.0, 18.0)];
            other(OtherKind::Crack, dice.between(-within_s, within_s / 2.0), at_m, dice.between(0.3, 1.0))
        })
        .collect()
}

fn talk(dice: &mut Dice) -> Vec<OtherSound> {
    (0..2 + (dice.unit() * 6.0) as usize)
        .map(|_| {
            let at_m = [dice.between(-6.0, 6.0), dice.between(-8.0, 8.0)];
            other(OtherKind::Talk, dice.between(-4.0, 2.0), at_m, dice.between(0.02, 0.3))
        })
        .collect()
}

/// Where this hitter meets the ball.
fn plate(s: &Scenario) -> [f64; 2] {
    let at = Swing::new(&s.hitter, &s.style, &s.timing, s.swing_seed).contact_point();
    [at.x, at.y]
}

/// More swings at the same plate over a take, some words between.
fn more_swings(dice: &mut Dice, plate: [f64; 2], count: usize, over_s: f64) -> Vec<OtherSound> {
    let every_s = over_s / count as f64;
    let mut all = Vec::new();
    for i in 0..count {
        let at_s = (i as f64 + dice.between(0.2, 0.8)) * every_s - over_s / 2.0;
        if at_s.abs() > 3.0 {
            all.push(other(OtherKind::Crack, at_s, plate, dice.between(0.5, 1.0)));
        }
        if dice.unit() < 0.5 {
            let at_m = [dice.between(-6.0, 6.0), dice.between(-8.0, 8.0)];
            all.push(other(OtherKind::Talk, at_s + 2.0, at_m, dice.between(0.02, 0.2)));
        }
    }
    all
}
