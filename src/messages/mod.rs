//! Every English word that people see, in clips and on the command line; ready to be translated.

pub mod angles;
pub mod changed;
mod damage;
pub mod demo;
mod errors;
pub mod files;
pub mod keypoints;
pub mod lesson;
pub mod lesson_file;
pub mod media;
pub mod output;
pub mod pairing;
pub mod page;
pub mod pins;
pub mod plan_file;
mod plans;
pub mod playable;
pub mod probe;
pub mod reading;
pub mod session;
pub mod swing;
pub mod swing_search;
pub mod tracking;

use std::path::Path;

pub use damage::*;
pub use plans::*;

use crate::types::{Difference, EventId, Limit, Measure, MeasureId, PitcherSide, Side, Unit, Verdict, View};

pub const TODAY: &str = "Today";
pub const REFERENCE: &str = "Best rep";
pub const FULL_SPEED: &str = "Full speed";
/// In the panel of a rep that was filmed by one phone only.
pub const NO_SECOND_ANGLE: &str = "no second angle";
pub const NOT_MEASURED: &str = "not measured";
/// At the foot of the closing card.
pub const LIMITS: [&str; 2] = ["Each value comes from one camera view.", "Estimates, not a diagnosis."];
pub const NOTHING_MEASURED: &str = "No measure could be taken from this swing.";
pub const NOTHING_SHARED: &str = "No measure could be taken from both swings.";

/// Numbers drawn beside the body, from one picture.
pub fn about_deg(deg: f64) -> String {
    format!("{deg:.0}°")
}

pub fn about_cm(cm: f64) -> String {
    format!("{cm:.0} cm")
}

/// In % of the standing height.
pub fn about_height(percent: f64) -> String {
    format!("{percent:.0} %")
}

/// Names of the numbers on a picture, and the widest that can come.
pub const KNEE: &str = "Knee";
pub const HANDS_TO_FOOT: &str = "Hands–foot";
pub const WIDEST_DEG: &str = "180°";
pub const WIDEST_CM: &str = "200 cm";

/// "8× slower", "6.5× slower".
pub fn slowed(times: f64) -> String {
    let times = (times * 10.0).round() / 10.0;
    format!("{times}× slower")
}

/// How the event is named in a sentence of its own.
pub const fn event(id: EventId) -> &'static str {
    match id {
        EventId::Stance => "Stance",
        EventId::Load => "Load",
        EventId::FootOff => "Front foot lifts",
        EventId::Touch => "Front foot touches",
        EventId::Plant => "Front foot plants",
        EventId::HandsStart => "Hands start",
        EventId::Contact => "Contact",
        EventId::Extension => "Extension",
        EventId::Finish => "Finish",
    }
}

/// The event in one short word, for tables and marks.
pub const fn event_short(id: EventId) -> &'static str {
    match id {
        EventId::Stance => "stance",
        EventId::Load => "load",
        EventId::FootOff => "foot off",
        EventId::Touch => "touch",
        EventId::Plant => "plant",
        EventId::HandsStart => "hands start",
        EventId::Contact => "contact",
        EventId::Extension => "extension",
        EventId::Finish => "finish",
    }
}

/// The caption while nothing else is said.
pub fn lined_up(id: EventId) -> String {
    format!("Lined up on {}", event_short(id))
}

/// The same where every shared event is lined up.
pub const LINED_UP_ON_ALL: &str = "Lined up on every event";

/// How long a phase is shown, beside how long it took.
pub fn stretched(times: f64) -> String {
    match times {
        t if (0.995..1.005).contains(&t) => "true speed".to_owned(),
        t if t > 1.0 => format!("stretched ×{t:.2}"),
        t => format!("squeezed ×{t:.2}"),
    }
}

/// What the time 0 means: "0 = plant".
pub fn zero(id: EventId) -> String {
    format!("0 = {}", event_short(id))
}

pub const fn measure(id: MeasureId) -> &'static str {
    match id {
        MeasureId::LoadToPlant => "Load to plant",
        MeasureId::FootOffToPlant => "Foot off to plant",
        MeasureId::PlantToContact => "Plant to contact",
        MeasureId::HandsStartToContact => "Hands start to contact",
        MeasureId::BodyCentreBackAtLoad => "Body centre back at load",
        MeasureId::BodyCentreForwardAtPlant => "Body centre forward at plant",
        MeasureId::BodyCentreForwardAtContact => "Body centre forward at contact",
        MeasureId::StrideLength => "Stride",
        MeasureId::HandsToFrontFootAtPlant => "Hands to front foot at plant",
        MeasureId::HeadTravelStanceToPlant => "Head travel, stance to plant",
        MeasureId::HeadTravelPlantToContact => "Head travel, plant to contact",
        MeasureId::FirstHandTravelDirection => "Hands’ first 10 cm",
        MeasureId::FirstHandTravelDrop => "Hands’ drop in first 10 cm",
        MeasureId::FrontShoulderRise => "Front shoulder rise to contact",
        MeasureId::FrontKneeAtPlant => "Front knee at plant",
        MeasureId::FrontKneeAtContact => "Front knee at contact",
        MeasureId::BackFootLiftAtContact => "Back foot lift at contact",
        MeasureId::PeakHandSpeed => "Peak hand speed",
        MeasureId::PeakHandSpeedToContact => "Peak hand speed to contact",
        MeasureId::BatSpeed => "Bat speed at contact",
        MeasureId::ExtensionDistance => "Reach at extension",
        MeasureId::ContactToExtension => "Contact to extension",
        MeasureId::HandsOverShouldersAtFinish => "Hands over shoulders at finish",
    }
}

/// "left", "right".
pub const fn side(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

fn moments(times_s: &[f64]) -> String {
    times_s.iter().map(|t| format!("{t:.1}")).collect::<Vec<_>>().join(", ")
}

/// `times_s` in order.
pub fn several_swings(times_s: &[f64], read_s: f64) -> String {
    format!(
        "The clip shows {} movements that may be swings (at {} s); the one at {read_s:.1} s is read. Choose with --swing 1 to {}.",
        times_s.len(),
        moments(times_s),
        times_s.len()
    )
}

/// `times_s` in any order.
pub fn no_such_swing(nth: usize, times_s: &[f64]) -> String {
    let mut sorted = times_s.to_vec();
    sorted.sort_by(f64::total_cmp);
    format!("there is no swing {nth}; {} were found (at {} s)", sorted.len(), moments(&sorted))
}

/// Where the pitcher is, as it is said on the command line.
pub const fn pitcher(place: PitcherSide) -> &'static str {
    match place {
        PitcherSide::Left => "left",
        PitcherSide::Right => "right",
        PitcherSide::Toward => "toward",
        PitcherSide::Away => "away",
    }
}

/// From where the hitter is seen: "the open side", "behind".
pub const fn view(view: View) -> &'static str {
    match view {
        View::OpenSide => "the open side",
        View::ClosedSide => "the closed side",
        View::FromBehind => "behind",
        View::FromFront => "the front",
    }
}

/// The same beside a name: "open side", "from behind".
pub const fn view_short(view: View) -> &'static str {
    match view {
        View::OpenSide => "open side",
        View::ClosedSide => "closed side",
        View::FromBehind => "from behind",
        View::FromFront => "from the front",
    }
}

/// What a unit is called after a number.
pub const fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Ms => " ms",
        Unit::Deg => "°",
        Unit::Cm => " cm",
        Unit::BodyHeights => " % of height",
        Unit::MetresPerS => " m/s",
        Unit::BodyHeightsPerS => " heights/s",
    }
}

/// A unit long enough to be said once for two numbers.
pub const fn long_unit(unit: Unit) -> Option<&'static str> {
    match unit {
        Unit::BodyHeights => Some("% of height"),
        Unit::BodyHeightsPerS => Some("heights/s"),
        Unit::Ms | Unit::Deg | Unit::Cm | Unit::MetresPerS => None,
    }
}

/// A head's height, chin to crown, as a share of stature: chin at .870 (Drillis & Contini 1966, in Winter
/// fig. 4.1).
const HEAD_HEIGHT: f64 = 0.130;

/// What a coach sees more easily than the number, where there is such a thing: head travel in head heights
/// while no scale is known.
pub fn aside(id: MeasureId, m: &Measure) -> Option<String> {
    let head = matches!(id, MeasureId::HeadTravelStanceToPlant | MeasureId::HeadTravelPlantToContact);
    (head && m.unit == Unit::BodyHeights).then(|| format!("about {:.1} head heights", m.value / HEAD_HEIGHT))
}

/// Measures that are absent for one and the same reason: "film from the open side: Stride, Bat speed".
pub fn absent(why: &str, measures: &[&str]) -> String {
    format!("not measured, {why}: {}", measures.join(", "))
}

/// "182 ± 9 ms", "5.2 ± 0.8 cm", "31 ± 2 % of height", "12 ± 4° down". The error decides how many
/// digits are shown.
pub fn value(id: MeasureId, m: &Measure) -> String {
    format!("{}{}{}", number(id, m), unit(m.unit), way(id, m))
}

/// Which way the hands go first; nothing of other measures.
pub fn way(id: MeasureId, m: &Measure) -> &'static str {
    let direction = id == MeasureId::FirstHandTravelDirection && m.unit == Unit::Deg;
    match (direction, m.value) {
        (true, v) if v.abs() < 0.5 => ", level",
        (true, v) if v > 0.0 => " down",
        (true, _) => " up",
        (false, _) => "",
    }
}

/// The same without its unit: "182 ± 9".
pub fn number(id: MeasureId, m: &Measure) -> String {
    let (value, error) = match m.unit {
        Unit::BodyHeights => (m.value * 100.0, m.plus_minus * 100.0),
        _ => (m.value, m.plus_minus),
    };
    // Up and down are said in words.
    let direction = id == MeasureId::FirstHandTravelDirection && m.unit == Unit::Deg;
    let shown = if direction { value.abs() } else { value };
    if error < 0.95 && in_tenths(m.unit) {
        format!("{} ± {:.1}", signed(shown, 1), error.max(0.1))
    } else {
        // An error is never shown as 0.
        format!("{} ± {}", signed(shown, 0), error.round().max(1.0))
    }
}

/// Units whose numbers may be sure to less than 1.
const fn in_tenths(unit: Unit) -> bool {
    matches!(unit, Unit::Cm | Unit::BodyHeights | Unit::MetresPerS | Unit::BodyHeightsPerS)
}

/// With a true minus sign, and without a minus before zero.
fn signed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        Some(rest) => format!("−{rest}"),
        None => text,
    }
}

/// Time from the moment the two are lined up on: "−125 ms", "0 ms", "+60 ms".
pub fn elapsed(seconds: f64) -> String {
    let ms = (seconds * 1000.0).round();
    match ms {
        m if m > 0.0 => format!("+{m} ms"),
        m if m < 0.0 => format!("−{} ms", -m),
        _ => "0 ms".to_owned(),
    }
}

/// The same where nobody could read thousandths: "−0.3 s".
pub fn elapsed_tenths(seconds: f64) -> String {
    let tenths = (seconds * 10.0).round();
    let sign = if tenths > 0.0 { "+" } else { "−" };
    if tenths == 0.0 { "0 s".to_owned() } else { format!("{sign}{:.1} s", tenths.abs() / 10.0) }
}

/// Said over the verdicts of a table.
pub const AGAINST_USUAL: &str = "against the usual rep-to-rep change";

/// What a difference amounts to, as a word under [`AGAINST_USUAL`]. `rate_hz` is the slower camera's.
///
/// "Bigger": of 100 swings that did not change, 95 differ by less. "Within it": such a difference comes about
/// between any two reps. "Can't tell": the ± or the number of reps allows neither.
pub fn verdict(d: &Difference, rate_hz: f64) -> String {
    match (d.verdict, d.limit) {
        (Verdict::Bigger, _) => "bigger than the usual rep-to-rep change".to_owned(),
        (Verdict::Within, _) => "within it".to_owned(),
        (Verdict::CantTell, Some(Limit::FrameRate)) => format!("can’t tell at {} fps", rate_hz.round()),
        (Verdict::CantTell, Some(Limit::FewReps)) => {
            let reps = d.spread.map_or(0, |s| s.reps);
            format!("can’t tell from {reps} {}", if reps == 1 { "rep" } else { "reps" })
        }
        (Verdict::CantTell, _) => "can’t tell".to_owned(),
    }
}

/// The same where it stands alone.
pub fn verdict_alone(d: &Difference, rate_hz: f64) -> String {
    match d.verdict {
        Verdict::Within => "within the usual rep-to-rep change".to_owned(),
        _ => verdict(d, rate_hz),
    }
}

/// Several measures under one verdict.
pub const fn verdict_of_several(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Bigger => "Bigger than the usual rep-to-rep change",
        Verdict::Within => "Within the usual rep-to-rep change",
        Verdict::CantTell => "Can’t tell",
    }
}

/// Comparing with the best of many flatters the past: the next is likely nearer the middle.
pub const SINGLE_REFERENCE: &str = "Compared with one single best rep, which makes today tend to look worse than \
    it is, and how much this hitter’s reps differ is assumed; give three or more good reps to know it.";
pub const SIDES_DIFFER: &str = "The hitter bats left in one clip and right in the other: two hitters, or one of the \
    films is mirrored.";

/// On a picture that is shown mirrored: "Mirror image", "Best rep: mirror image".
pub fn mirror_image(label: Option<&str>) -> String {
    label.map_or_else(|| "Mirror image".to_owned(), |label| format!("{label}: mirror image"))
}

/// On the card.
pub fn shown_mirrored(label: &str) -> String {
    format!("{label} bats from the other side and is shown as a mirror image.")
}

/// Beside a name on the sheet.
pub const MIRRORED: &str = "mirror image";

pub fn nothing_to_mirror(side: Side) -> String {
    format!("--mirror: both swings are read as batting {0}; leave it out", self::side(side))
}

pub const SAME_CLIP: &str = "Today's clip and the reference are the same recording: nothing can differ.";

pub fn given_twice(clip: &Path) -> String {
    format!("{}: is given twice and counts once.", crate::types::file_name(clip))
}

/// Two reps tell nothing of how much reps differ.
pub fn few_reps(reps: usize, needed: usize) -> String {
    let have = match reps {
        0 => "None of the references fits".to_owned(),
        1 => "One good rep alone fits".to_owned(),
        n => format!("{n} good reps are too few"),
    };
    format!(
        "{have} to know the usual rep-to-rep change ({needed} are needed): today is compared with the one shown."
    )
}

pub fn rep_left_out(clip: &Path, why: &str) -> String {
    format!("{}: not in the range of the good reps, because {why}.", crate::types::file_name(clip))
}

/// Of many measures some look bigger by chance alone: 1 in 20.
pub fn some_by_chance(bigger: usize, judged: usize) -> String {
    let expected = (judged as f64 / 2.0).round() / 10.0;
    format!(
        "{bigger} of {judged} measures are bigger than the usual change; about 1 in 20 would be by chance alone \
         ({expected} of {judged}), so look for changes that go together."
    )
}

/// "+12 ms", "−4 % of height": today less the reference.
pub fn difference(d: &Difference) -> String {
    if is_direction(d.measure, d.today.unit) {
        let turned = d.difference.round();
        let way = if turned < 0.0 { "up" } else { "down" };
        return format!("{}° more {way}", turned.abs());
    }
    let (value, error) = match d.today.unit {
        Unit::BodyHeights => (d.difference * 100.0, d.plus_minus * 100.0),
        _ => (d.difference, d.plus_minus),
    };
    let digits = usize::from(error < 0.95 && in_tenths(d.today.unit));
    let text = signed(value, digits);
    let sign = if text.starts_with('−') || text.chars().all(|c| c == '0' || c == '.') { "" } else { "+" };
    format!("{sign}{text}{}", unit(d.today.unit))
}

/// The range of the good reps: "168–182 ms".
pub fn range(d: &Difference) -> Option<String> {
    if is_direction(d.measure, d.today.unit) {
        // Up and down are said in words: "4–10° up", "3° up to 2° down".
        let spread = d.spread?;
        let [low, high] = [spread.low.round(), spread.high.round()];
        let way = |v: f64| if v < 0.0 { "up" } else { "down" };
        return Some(match (low.abs(), high.abs()) {
            (a, b) if way(low) != way(high) => format!("{a}° {} to {b}° {}", way(low), way(high)),
            (a, b) if a == b => format!("{a}° {}", way(low)),
            (a, b) => format!("{}–{}° {}", a.min(b), a.max(b), way(low)),
        });
    }
    Some(format!("{}{}", range_number(d)?, unit(d.today.unit)))
}

fn is_direction(id: MeasureId, of: Unit) -> bool {
    id == MeasureId::FirstHandTravelDirection && of == Unit::Deg
}

/// The same without its unit: "168–182".
pub fn range_number(d: &Difference) -> Option<String> {
    let spread = d.spread?;
    let share = if d.today.unit == Unit::BodyHeights { 100.0 } else { 1.0 };
    let fine = share * d.today.plus_minus < 0.95 && in_tenths(d.today.unit);
    let [low, high] = [spread.low, spread.high].map(|v| signed(v * share, usize::from(fine)));
    let minus = low.starts_with('−') || high.starts_with('−');
    Some(if low == high { low } else { format!("{low}{}{high}", if minus { " to " } else { "–" }) })
}

/// The reference side where several good reps are compared with.
pub fn good_reps(counted: usize) -> String {
    format!("{counted} good reps")
}

/// The shown one's name in the clip.
pub const GOOD_REP: &str = "Good rep";

/// "Good rep 2 of 5".
pub fn good_rep(place: usize, of: usize) -> String {
    format!("{GOOD_REP} {} of {of}", place + 1)
}

/// Which one is shown and why: "Good rep 2 of 5, nearest their middle".
pub fn shown_rep(place: usize, of: usize) -> String {
    format!("{}, nearest their middle", good_rep(place, of))
}

/// Measures named under one verdict: "no clear difference: Stride; Front knee at contact; 3 more".
pub fn also(verdict: &str, measures: &[&str], more: usize) -> String {
    let more = if more > 0 { format!("; {more} more") } else { String::new() };
    format!("{verdict}: {}{more}", measures.join("; "))
}

/// Beside a value that only one of the two clips gives.
pub fn only_from(label: &str) -> String {
    format!("only in {label}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Spread;

    fn m(value: f64, plus_minus: f64, unit: Unit) -> Measure {
        Measure { value, plus_minus, unit }
    }

    #[test]
    fn values_carry_their_error_and_unit() {
        let time = MeasureId::PlantToContact;
        assert_eq!(value(time, &m(181.6, 9.3, Unit::Ms)), "182 ± 9 ms");
        assert_eq!(value(time, &m(181.6, 0.2, Unit::Ms)), "182 ± 1 ms");
        assert_eq!(value(MeasureId::StrideLength, &m(74.6, 4.2, Unit::Cm)), "75 ± 4 cm");
        assert_eq!(value(MeasureId::StrideLength, &m(0.314, 0.02, Unit::BodyHeights)), "31 ± 2 % of height");
        let head = MeasureId::HeadTravelPlantToContact;
        assert_eq!(value(head, &m(5.24, 0.8, Unit::Cm)), "5.2 ± 0.8 cm");
        assert_eq!(value(head, &m(0.0, 0.01, Unit::Cm)), "0.0 ± 0.1 cm");
    }

    #[test]
    fn direction_is_in_words() {
        let id = MeasureId::FirstHandTravelDirection;
        assert_eq!(value(id, &m(12.2, 4.0, Unit::Deg)), "12 ± 4° down");
        assert_eq!(value(id, &m(-7.0, 3.0, Unit::Deg)), "7 ± 3° up");
        assert_eq!(value(id, &m(0.2, 3.0, Unit::Deg)), "0 ± 3°, level");
    }

    #[test]
    fn differences_and_ranges_are_short() {
        let d = |measure, unit, today: f64, low: f64, high: f64, pm| Difference {
            measure,
            today: m(today, pm, unit),
            reference: m((low + high) / 2.0, pm, unit),
            difference: today - (low + high) / 2.0,
            plus_minus: pm,
            needed: Some(1.0),
            verdict: Verdict::Within,
            limit: None,
            spread: Some(Spread { reps: 3, low, high, sd: Some(1.0) }),
        };
        let both = |d: Difference| (range(&d).unwrap(), difference(&d));
        let says = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        let time = MeasureId::PlantToContact;
        assert_eq!(both(d(time, Unit::Ms, 190.0, 168.2, 181.8, 9.0)), says("168–182 ms", "+15 ms"));
        assert_eq!(both(d(time, Unit::Ms, 168.0, 168.0, 168.0, 9.0)), says("168 ms", "0 ms"));
        let lift = MeasureId::BackFootLiftAtContact;
        assert_eq!(
            both(d(lift, Unit::BodyHeights, 0.0, -0.012, 0.03, 0.02)),
            says("−1 to 3 % of height", "−1 % of height")
        );
        let way = MeasureId::FirstHandTravelDirection;
        assert_eq!(both(d(way, Unit::Deg, 12.0, -10.0, -4.0, 4.0)), says("4–10° up", "19° more down"));
        assert_eq!(both(d(way, Unit::Deg, -3.0, -3.0, 2.0, 4.0)), says("3° up to 2° down", "3° more up"));
        let said = |limit, rate_hz| {
            let limited =
                Difference { verdict: Verdict::CantTell, limit, ..d(time, Unit::Ms, 1.0, 1.0, 1.0, 9.0) };
            verdict(&limited, rate_hz)
        };
        assert_eq!(said(Some(Limit::FrameRate), 29.97), "can’t tell at 30 fps");
        assert_eq!(said(Some(Limit::FewReps), 30.0), "can’t tell from 3 reps");
        assert_eq!(said(Some(Limit::Measuring), 30.0), "can’t tell");
    }

    #[test]
    fn names_that_find_no_room_are_counted() {
        assert_eq!(also("within it", &["Stride"], 0), "within it: Stride");
        assert_eq!(also("within it", &["Stride"], 4), "within it: Stride; 4 more");
    }

    #[test]
    fn speeds_and_head_heights() {
        let speed = MeasureId::PeakHandSpeed;
        assert_eq!(value(speed, &m(7.32, 0.61, Unit::MetresPerS)), "7.3 ± 0.6 m/s");
        assert_eq!(value(speed, &m(4.1, 0.34, Unit::BodyHeightsPerS)), "4.1 ± 0.3 heights/s");
        let head = MeasureId::HeadTravelStanceToPlant;
        assert_eq!(aside(head, &m(0.065, 0.01, Unit::BodyHeights)).unwrap(), "about 0.5 head heights");
        assert_eq!(aside(head, &m(11.0, 1.0, Unit::Cm)), None);
        assert_eq!(aside(MeasureId::StrideLength, &m(0.3, 0.01, Unit::BodyHeights)), None);
    }

    #[test]
    fn no_minus_before_zero() {
        assert_eq!(elapsed(-0.0002), "0 ms");
        assert_eq!(elapsed(-0.125), "−125 ms");
        assert_eq!(elapsed(0.06), "+60 ms");
        assert_eq!([-0.31, 0.04, 1.26].map(elapsed_tenths), ["−0.3 s", "0 s", "+1.3 s"]);
        assert_eq!(value(MeasureId::BackFootLiftAtContact, &m(-0.3, 2.0, Unit::Cm)), "0 ± 2 cm");
    }

    #[test]
    fn slow_factor_has_no_needless_digits() {
        assert_eq!(slowed(8.0), "8× slower");
        assert_eq!(slowed(6.5), "6.5× slower");
    }
}
