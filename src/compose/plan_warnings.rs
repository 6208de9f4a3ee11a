//! What of a plan two readings cannot give.

use super::beats::{event_s, moment_s};
use super::layout::Layout;
use super::path::centre_path;
use super::plan::{Mark, Plan, Shot};
use crate::types::{EventId, Pairing, Reading, Warning};

/// A cut shorter than this is not worth a word, s of real time.
const SMALL_CUT_S: f64 = 0.05;

impl Plan {
    /// What of the plan these readings cannot give: events that were not found, spans outside the clip.
    pub fn warnings(
        &self,
        readings: [&Reading; 2],
        pairing: &Pairing,
        asked: Option<Layout>,
    ) -> Vec<Warning> {
        let mut all = Vec::new();
        for (place, what) in self.shots.iter().enumerate() {
            let Shot::Swing(swing) = what else { continue };
            let shot = place + 1;
            let span = self.span(what, swing, readings, pairing, asked);
            let lead = readings[span.lead];
            for side in self.without_centre(what, readings, asked) {
                all.push(Warning::MarkNotShown { shot, of_today: side == 0 });
            }
            let missing = |event: &EventId| event_s(*event, span.lead, &lead.events, pairing).is_none();
            for moment in [swing.from, swing.to].iter().filter(|m| missing(&m.event)) {
                all.push(Warning::ShotEventMissing { shot, event: moment.event });
            }
            for hold in swing.holds.iter().filter(|h| missing(&h.event)) {
                all.push(Warning::HoldEventMissing { shot, event: hold.event });
            }
            let wanted = [swing.from, swing.to].map(|m| moment_s(m, span.lead, &lead.events, pairing));
            let cut_s = (span.start_s - wanted[0]).max(0.0) + (wanted[1] - span.end_s).max(0.0);
            if wanted[1] <= wanted[0] || span.end_s <= span.start_s {
                all.push(Warning::ShotEmpty { shot });
            } else if cut_s > SMALL_CUT_S {
                all.push(Warning::ShotCut { shot, cut_s });
            }
            for hold in &swing.holds {
                let at_s = event_s(hold.event, span.lead, &lead.events, pairing);
                if at_s.is_some_and(|s| !(span.start_s - 0.02..=span.end_s + 0.02).contains(&s)) {
                    all.push(Warning::HoldOutside { shot, event: hold.event });
                }
            }
        }
        // One cause in several shots is one word.
        let mut once: Vec<Warning> = Vec::new();
        for warning in all {
            if !once.contains(&warning) {
                once.push(warning);
            }
        }
        once
    }

    /// The shown sides (0 = today) that do not give the body centre where a shot is to draw it.
    fn without_centre(&self, what: &Shot, readings: [&Reading; 2], asked: Option<Layout>) -> Vec<usize> {
        if !self.draw(what).contains(&Mark::BodyCentre) {
            return Vec::new();
        }
        let only = self.layout(what, asked).and_then(Layout::alone);
        let shown = (0..2).filter(|side| only.is_none_or(|o| o == *side));
        shown.filter(|side| centre_path(readings[*side]).is_empty()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Ready, sample};
    use super::*;

    #[test]
    fn a_body_centre_that_is_not_seen_is_told() {
        let (mut today, reference, pairing) = sample::pair();
        let mut plan = Plan::ready(Ready::Quick, 8.0);
        plan.draw = vec![Mark::BodyCentre];
        let said_of = |plan: &Plan, today: &Reading| plan.warnings([today, &reference], &pairing, None);
        assert_eq!(said_of(&plan, &today), []);
        today.hitter.view = crate::types::View::FromBehind;
        let said = said_of(&plan, &today);
        assert!(said.len() == 2 && said.iter().all(|w| w.code() == "mark_not_shown"), "{said:?}");
        let text = crate::messages::warning(&said[0]);
        assert!(text.contains("Shot 1") && text.contains("today’s clip"), "{said:?}");
        // Neither where it is not drawn nor where that side is not shown.
        plan.layout = Some(Layout::ReferenceAlone);
        assert_eq!(said_of(&plan, &today), []);
        plan.layout = None;
        plan.draw = vec![Mark::Head];
        assert_eq!(said_of(&plan, &today), []);
    }
}
