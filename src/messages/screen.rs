//! Words drawn on videos, cards and sheets, besides names and numbers.

use super::Captions;
use crate::types::{EventId, Unit, Units};

/// The widest numbers that can be drawn beside a body.
pub const WIDEST_DEG: &str = "180°";
/// Numbers drawn beside the body, from one picture.
pub fn about_deg(deg: f64) -> String {
    format!("{deg:.0}°")
}

/// In % of the standing height.
pub fn about_height(percent: f64) -> String {
    format!("{percent:.0} %")
}

impl Captions {
    /// A length beside the body, from one picture.
    pub fn about_length(&self, cm: f64) -> String {
        format!("{:.0}{}", cm * self.times(Unit::Cm), self.unit(Unit::Cm))
    }

    /// The widest of them.
    pub const fn widest_length(&self) -> &'static str {
        match self.units {
            Units::Metric => "200 cm",
            Units::Us => "88 in",
        }
    }

    pub fn today(&self) -> &str {
        self.word("labels", "today")
    }

    pub fn reference(&self) -> &str {
        self.word("labels", "reference")
    }

    /// The name in the video of the shown one of several good reps.
    pub fn one_good_rep(&self) -> &str {
        self.word("labels", "good_rep")
    }

    /// The reference side where several good reps are compared with.
    pub fn good_reps(&self, counted: usize) -> String {
        self.filled("labels", "good_reps", &[("count", &counted.to_string())])
    }

    /// "Good rep 2 of 5".
    pub fn good_rep(&self, place: usize, of: usize) -> String {
        let values = [("place", (place + 1).to_string()), ("of", of.to_string())];
        let values = [(values[0].0, values[0].1.as_str()), (values[1].0, values[1].1.as_str())];
        self.filled("labels", "good_rep_of", &values)
    }

    /// Which one is shown and why: "Good rep 2 of 5, the most typical".
    pub fn shown_rep(&self, place: usize, of: usize) -> String {
        self.filled("labels", "most_typical", &[("rep", &self.good_rep(place, of))])
    }

    /// "8× slower", "6.5× slower"; "Full speed".
    pub fn slowed(&self, times: f64) -> String {
        let times = (times * 10.0).round() / 10.0;
        self.filled("screen", "slowed", &[("times", &times.to_string())])
    }

    pub(crate) fn full_speed(&self) -> &str {
        self.word("screen", "full_speed")
    }

    /// How long a phase is shown, beside how long it took.
    pub fn stretched(&self, times: f64) -> String {
        let text = format!("{times:.2}");
        match times {
            t if (0.995..1.005).contains(&t) => self.word("screen", "true_speed").to_owned(),
            t if t > 1.0 => self.filled("screen", "stretched", &[("times", &text)]),
            _ => self.filled("screen", "squeezed", &[("times", &text)]),
        }
    }

    /// The caption while nothing else is said.
    pub fn lined_up(&self, id: EventId) -> String {
        self.filled("screen", "lined_up", &[("event", self.event_short(id))])
    }

    /// The same where every shared event is lined up.
    pub fn lined_up_on_all(&self) -> &str {
        self.word("screen", "lined_up_on_all")
    }

    /// What the time 0 means: "0 = plant".
    pub fn zero(&self, id: EventId) -> String {
        self.filled("screen", "zero", &[("event", self.event_short(id))])
    }

    /// In the panel of a rep that was filmed by one phone only.
    pub fn no_second_angle(&self) -> &str {
        self.word("screen", "no_second_angle")
    }

    pub(crate) fn not_measured(&self) -> &str {
        self.word("screen", "not_measured")
    }

    /// On a picture that is shown mirrored: "Mirror image", "Best rep: mirror image".
    pub fn mirror_image(&self, label: Option<&str>) -> String {
        match label {
            None => self.word("screen", "mirror_image").to_owned(),
            Some(label) => self.filled("screen", "mirror_image_of", &[("label", label)]),
        }
    }

    /// Names of the numbers beside a body.
    pub fn knee(&self) -> &str {
        self.word("screen", "knee")
    }

    pub(crate) fn hands_to_foot(&self) -> &str {
        self.word("screen", "hands_to_foot")
    }

    /// At the foot of the closing card.
    pub fn limits(&self) -> [&str; 2] {
        [self.word("card", "one_view"), self.word("card", "estimates")]
    }

    /// On a card without a row; `alone`: of one swing.
    pub fn nothing(&self, alone: bool) -> &str {
        self.word("card", if alone { "nothing_measured" } else { "nothing_shared" })
    }

    pub(crate) fn shown_mirrored(&self, label: &str) -> String {
        self.filled("card", "shown_mirrored", &[("label", label)])
    }

    /// Measures named under one verdict: "Can’t tell: Stride; Front knee at contact; 3 more".
    pub fn also(&self, verdict: &str, measures: &[&str], more: usize) -> String {
        let more = if more > 0 {
            format!("; {}", self.filled("card", "more", &[("count", &more.to_string())]))
        } else {
            String::new()
        };
        format!("{verdict}: {}{more}", measures.join("; "))
    }

    /// Beside a value that only one of the two clips gives.
    pub fn only_from(&self, label: &str) -> String {
        self.filled("card", "only_in", &[("label", label)])
    }

    /// On the sheet, where an event is not in a clip.
    pub fn not_found(&self) -> &str {
        self.word("sheet", "not_found")
    }

    /// Beside a difference that is news.
    pub fn bigger(&self) -> &str {
        self.word("sheet", "bigger")
    }

    /// "recorded at 60 fps".
    pub fn recorded_at(&self, hz: f64) -> String {
        self.filled("sheet", "recorded_at", &[("fps", &hz.round().to_string())])
    }

    /// Beside a name on the sheet.
    pub fn mirrored(&self) -> &str {
        self.word("sheet", "mirrored")
    }

    /// What the times of the sheet count from.
    pub fn times_from(&self, zero: EventId) -> String {
        self.filled("sheet", "times_from", &[("event", self.event_short(zero))])
    }

    pub(crate) fn and_more(&self, count: usize) -> String {
        self.filled("sheet", "more", &[("count", &count.to_string())])
    }

    pub(crate) fn ranged(&self, reps: usize) -> String {
        self.filled("sheet", "ranged", &[("reps", &reps.to_string())])
    }

    /// What the drawings mean, and what the numbers are.
    pub fn drawn(&self) -> &str {
        self.word("sheet", "drawn")
    }

    pub(crate) fn plus_minus(&self) -> &str {
        self.word("sheet", "plus_minus")
    }
}
