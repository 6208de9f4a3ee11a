//! Plans that are ready to use, or to be printed and edited.

use super::layout::Layout;
use super::plan::{Hold, Moment, Plan, Shot, SwingShot};
use crate::types::{EventId, words};

words! {
    /// A plan by its name.
    pub enum Ready {
        /// At most 8 s: once at full speed, contact slowed, the card.
        "quick" Quick,
        /// The usual one: full speed, slowed with a rest on plant, contact and extension, full speed, the card.
        "teach" Teach,
        /// The reference alone, then today alone, then both.
        "before-after" BeforeAfter,
        /// One swing alone.
        "one-rep" OneRep,
    }
}

const fn at(event: EventId, offset_s: f64) -> Moment {
    Moment { event, offset_s }
}

const fn hold(event: EventId, seconds: f64) -> Hold {
    Hold { event, seconds, caption: None }
}

const fn full_speed() -> Shot {
    Shot::swing(at(EventId::Load, -0.15), at(EventId::Finish, 0.1), 1.0)
}

fn slowed(slow: f64, holds: Vec<Hold>) -> SwingShot {
    let (from, to) = (at(EventId::Plant, -0.3), at(EventId::Extension, 0.08));
    SwingShot { from, to, slow, holds, layout: None, draw: None, caption: None }
}

impl Plan {
    /// `slow`: how many times slower than life the slow parts play. 8 shows at 30 output pictures a second
    /// each picture of a 240 Hz clip once and those of slower ones several times; none is invented.
    pub fn ready(which: Ready, slow: f64) -> Self {
        use EventId::{Contact, Extension, Plant};
        let beats = || vec![hold(Plant, 1.3), hold(Contact, 1.2), hold(Extension, 1.0)];
        match which {
            Ready::Quick => {
                // Spans of a bounded length, so that a slow stride does not make it long.
                let swing = Shot::swing(at(Plant, -0.6), at(Contact, 0.35), 1.0);
                let slowed = SwingShot {
                    from: at(Contact, -0.2),
                    to: at(Contact, 0.08),
                    ..slowed(slow / 2.0, vec![hold(Contact, 1.3)])
                };
                Self::of(vec![swing, Shot::Swing(slowed), Shot::Card { seconds: 3.0 }])
            }
            Ready::Teach => Self::of(vec![
                full_speed(),
                Shot::Swing(slowed(slow, beats())),
                full_speed(),
                Shot::Card { seconds: 5.0 },
            ]),
            Ready::BeforeAfter => {
                let alone = |layout| {
                    let alone = slowed(slow / 2.0, vec![hold(Contact, 1.0)]);
                    Shot::Swing(SwingShot { layout: Some(layout), ..alone })
                };
                let mut plan = Self::of(vec![
                    alone(Layout::ReferenceAlone),
                    alone(Layout::TodayAlone),
                    full_speed(),
                    Shot::Swing(slowed(slow, vec![hold(Plant, 1.2), hold(Contact, 1.2)])),
                    Shot::Card { seconds: 5.0 },
                ]);
                plan.names = Some(["After".to_owned(), "Before".to_owned()]);
                plan.reference_first = true;
                plan
            }
            Ready::OneRep => {
                let mut plan = Self::of(vec![
                    full_speed(),
                    Shot::Swing(slowed(slow, beats())),
                    Shot::Card { seconds: 4.0 },
                ]);
                plan.layout = Some(Layout::TodayAlone);
                plan
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::beats::Shows;
    use super::*;
    use crate::compose::sample;

    fn seconds(which: Ready, slow_stride: f64) -> f64 {
        let (mut today, reference, pairing) = sample::pair();
        for event in [EventId::Stance, EventId::Load, EventId::FootOff] {
            today.events.get_mut(&event).unwrap().time_s -= slow_stride;
        }
        let plan = Plan::ready(which, 8.0);
        plan.beats([&today, &reference], &pairing, 30.0, None, |_, s| s).unwrap().len() as f64 / 30.0
    }

    #[test]
    fn each_lasts_as_long_as_it_says() {
        assert!(seconds(Ready::Quick, 0.0) <= 8.0 && seconds(Ready::Quick, 0.5) <= 8.0);
        let teach = seconds(Ready::Teach, 0.0);
        assert!((12.0..=18.0).contains(&teach), "{teach}");
        assert!(seconds(Ready::OneRep, 0.0) < teach);
        assert!((12.0..=25.0).contains(&seconds(Ready::BeforeAfter, 0.0)));
    }

    #[test]
    fn names_are_found_again_and_plans_say_what_they_promise() {
        for which in Ready::ALL {
            assert_eq!(Ready::from_word(which.word()), Some(which));
            let plan = Plan::ready(which, 8.0);
            assert!(matches!(plan.shots.last(), Some(Shot::Card { .. })), "{which:?}");
            plan.check().unwrap();
        }
        let (today, reference, pairing) = sample::pair();
        let beats =
            Plan::ready(Ready::Teach, 8.0).beats([&today, &reference], &pairing, 30.0, None, |_, s| s);
        for event in [EventId::Plant, EventId::Contact, EventId::Extension] {
            let rests = |b: &super::super::beats::Beat| matches!(b.shows, Shows::Swing { hold: Some(h), .. } if h == event);
            assert!(beats.as_ref().unwrap().iter().any(rests), "{event:?}");
        }
    }
}
