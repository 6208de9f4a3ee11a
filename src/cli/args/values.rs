//! Values as they are given in words.

use super::lengths::{cm, meters};
use swingpair::compose::{GhostStyle, Layout, Ready, Screen};
use swingpair::store::Rating;
use swingpair::store::nearest;
use swingpair::types::{
    BodyPoint, Delivery, EventId, HEIGHTS_CM, KnownLength, PitcherSide, Point, Side, SyncOn, Units,
};

/// "a, b or c".
pub fn one_of(words: &[&str]) -> String {
    match words {
        [all @ .., last] if !all.is_empty() => format!("{} or {last}", all.join(", ")),
        _ => words.concat(),
    }
}

pub fn event_from_word(word: &str) -> Result<EventId, String> {
    EventId::from_word(word)
        .ok_or_else(|| format!("there is no event {word:?}; choose from {}", EventId::WORDS.join(", ")))
}

pub fn sync_from_word(word: &str) -> Result<SyncOn, String> {
    if word == "phases" { Ok(SyncOn::Phases) } else { event_from_word(word).map(SyncOn::Event) }
}

pub fn layout_from_word(word: &str) -> Result<Layout, String> {
    Layout::from_word(word).ok_or_else(|| unknown("layout", word, &Layout::ALL.map(Layout::word)))
}

pub fn ghost_look_from_word(word: &str) -> Result<GhostStyle, String> {
    GhostStyle::from_word(word).ok_or_else(|| unknown("look", word, &GhostStyle::ALL.map(GhostStyle::word)))
}

pub fn side_from_word(word: &str) -> Result<Side, String> {
    match word {
        "left" => Ok(Side::Left),
        "right" => Ok(Side::Right),
        _ => Err(unknown("batting side", word, &["left", "right"])),
    }
}

pub fn pitcher_from_word(word: &str) -> Result<PitcherSide, String> {
    match word {
        "left" => Ok(PitcherSide::Left),
        "right" => Ok(PitcherSide::Right),
        "toward" => Ok(PitcherSide::Toward),
        "away" => Ok(PitcherSide::Away),
        _ => Err(unknown("pitcher position", word, &["left", "right", "toward", "away"])),
    }
}

pub fn delivery_from_word(word: &str) -> Result<Delivery, String> {
    Delivery::from_word(word).ok_or_else(|| unknown("delivery", word, &Delivery::ALL.map(Delivery::word)))
}

pub fn units(word: &str) -> Result<Units, String> {
    Units::from_word(word).ok_or_else(|| unknown("system of units", word, &Units::ALL.map(Units::word)))
}

pub fn strength(text: &str) -> Result<f64, String> {
    let (number, whole) = text.strip_suffix('%').map_or((text, 1.0), |t| (t, 100.0));
    let share = number.trim().parse::<f64>().ok().map(|v| v / whole).filter(|v| (0.0..=1.0).contains(v));
    share.ok_or_else(|| "give a share, 0 to 1 or 0% to 100%".to_owned())
}

pub fn ready_from_word(word: &str) -> Result<Ready, String> {
    Ready::from_word(word).ok_or_else(|| unknown("ready plan", word, &Ready::ALL.map(Ready::word)))
}

pub fn unknown(what: &str, word: &str, known: &[&str]) -> String {
    let all = format!("there is no {what} {word:?}; choose from {}", known.join(", "));
    nearest(word, known).map_or(all, |near| format!("there is no {what} {word:?}; did you mean {near}?"))
}

pub fn screen_from_word(word: &str) -> Result<Screen, String> {
    Screen::from_word(word).ok_or_else(|| "choose from phone, tablet".to_owned())
}

pub fn bytes(text: &str) -> Result<u64, String> {
    let text = text.trim().to_ascii_uppercase();
    let units = [("KB", 1e3), ("MB", 1e6)];
    let found = units.iter().find_map(|(unit, each)| Some((text.strip_suffix(unit)?, each)));
    let (value, each) = found.ok_or("give a size in KB or MB, as in 16MB or 600KB")?;
    let bytes = positive(value)? * each;
    if bytes > 1e12 { Err("must be at most 1000000MB".to_owned()) } else { Ok(bytes as u64) }
}

pub fn two_labels(text: &str) -> Result<(String, String), String> {
    match text.split_once(',').map(|(a, b)| (a.trim(), b.trim())) {
        Some((a, b)) if !a.is_empty() && !b.is_empty() => Ok((a.to_owned(), b.to_owned())),
        _ => Err("give two names separated by a comma, as in Before,After".to_owned()),
    }
}

pub fn two_distances(text: &str) -> Result<[f64; 2], String> {
    let wrong = || "give two distances separated by a comma, as in 6m,9m or 20ft,30ft".to_owned();
    let (a, b) = text.split_once(',').ok_or_else(wrong)?;
    match (distance(a), distance(b)) {
        (Ok(a), Ok(b)) if a <= 200.0 && b <= 200.0 => Ok([a, b]),
        _ => Err(wrong()),
    }
}

pub fn number(text: &str) -> Result<f64, String> {
    text.trim()
        .parse::<f64>()
        .ok()
        .filter(|v| v.is_finite())
        .ok_or_else(|| format!("{text:?} is not a number"))
}

pub fn positive(text: &str) -> Result<f64, String> {
    number(text).and_then(more_than_0)
}

/// cm.
pub fn height(text: &str) -> Result<f64, String> {
    cm(text).and_then(|v| {
        if HEIGHTS_CM.contains(&v) {
            Ok(v)
        } else {
            Err(swingpair::messages::swing_search::HEIGHTS.to_owned())
        }
    })
}

/// cm.
pub fn bat_length(text: &str) -> Result<f64, String> {
    cm(text).and_then(more_than_0)
}

/// m.
pub fn distance(text: &str) -> Result<f64, String> {
    meters(text).and_then(more_than_0)
}

fn more_than_0(value: f64) -> Result<f64, String> {
    if value > 0.0 { Ok(value) } else { Err("must be more than 0".to_owned()) }
}

pub fn slow(text: &str) -> Result<f64, String> {
    number(text).and_then(|v| {
        if (1.0..=64.0).contains(&v) { Ok(v) } else { Err("must be between 1 and 64".to_owned()) }
    })
}

pub fn point(text: &str) -> Result<Point, String> {
    let (x, y) = text.split_once(',').ok_or("give X,Y in px, as in 640,360")?;
    Ok(Point::new(number(x)?, number(y)?))
}

pub fn known_length(text: &str) -> Result<KnownLength, String> {
    let words = "give X1,Y1,X2,Y2=CM, two points in px and their distance in cm, as in 412,655,530,655=43.18";
    let (points, cm_text) = text.split_once('=').ok_or(words)?;
    let places: Vec<f64> = points.split(',').map(number).collect::<Result<_, _>>()?;
    let [x1, y1, x2, y2] = places.try_into().map_err(|_| words)?;
    let (from, to) = (Point::new(x1, y1), Point::new(x2, y2));
    if from == to {
        return Err("the two points are the same; mark both ends of the length".to_owned());
    }
    Ok(KnownLength { from, to, cm: bat_length(cm_text)? })
}

pub fn size(text: &str) -> Result<(usize, usize), String> {
    let (w, h) = text.split_once('x').ok_or("give WIDTHxHEIGHT in px, as in 1080x1920")?;
    let side = |t: &str| {
        t.parse::<usize>()
            .ok()
            .filter(|v| v % 2 == 0)
            .ok_or("each side must be an even number of px, as in 1080x1920")
    };
    Ok((side(w)?, side(h)?))
}

/// What `mark` keeps of a rep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Mark {
    /// `None`: a pin is taken back.
    Pin(EventId, Option<f64>),
    Rating(Option<Rating>),
    /// A point of the body at a time, s; `None`: it is taken back.
    Point(BodyPoint, f64, Option<Point>),
    /// cm.
    Height(Option<f64>),
    Length(Option<KnownLength>),
    Hitter(Option<Point>),
}

/// In place of a time: the moment is found again.
const FOUND: &str = "found";

pub fn mark(text: &str) -> Result<Mark, String> {
    match text {
        "good" => return Ok(Mark::Rating(Some(Rating::Good))),
        "best" => return Ok(Mark::Rating(Some(Rating::Best))),
        "neither" => return Ok(Mark::Rating(None)),
        _ => (),
    }
    let words = "give EVENT=SECONDS, as in plant=1.234 (EVENT=found takes it back); POINT@SECONDS=X,Y, as in \
                 hands@1.234=512,300; height=, length= or hitter=; or good, best or neither";
    let (word, value) = text.split_once('=').ok_or(words)?;
    fn given<T>(value: &str, read: impl Fn(&str) -> Result<T, String>) -> Result<Option<T>, String> {
        if value.trim() == FOUND { Ok(None) } else { read(value).map(Some) }
    }
    if let Some((word, time)) = word.split_once('@') {
        let all = BodyPoint::ALL.map(BodyPoint::word);
        let body_point = BodyPoint::from_word(word).ok_or_else(|| unknown("body point", word, &all))?;
        return Ok(Mark::Point(body_point, number(time)?, given(value, point)?));
    }
    match word {
        "height" => given(value, height).map(Mark::Height),
        "length" => given(value, known_length).map(Mark::Length),
        "hitter" => given(value, point).map(Mark::Hitter),
        _ => Ok(Mark::Pin(event_from_word(word)?, given(value, number)?)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_read_or_refused() {
        assert_eq!(sync_from_word("phases"), Ok(SyncOn::Phases));
        assert_eq!(mark("plant=1.25"), Ok(Mark::Pin(EventId::Plant, Some(1.25))));
        assert_eq!(mark("plant=found"), Ok(Mark::Pin(EventId::Plant, None)));
        assert_eq!(mark("best"), Ok(Mark::Rating(Some(Rating::Best))));
        let place = Point::new(512.0, 300.0);
        assert_eq!(mark("hands@1.234=512,300"), Ok(Mark::Point(BodyPoint::Hands, 1.234, Some(place))));
        assert_eq!(mark("left-toe@2=found"), Ok(Mark::Point(BodyPoint::LeftToe, 2.0, None)));
        assert!(mark("hand@1=5,5").unwrap_err().contains("hands") && mark("head@x=5,5").is_err());
        assert_eq!(mark("height=5'10\""), Ok(Mark::Height(Some(177.8))));
        assert_eq!(
            (mark("length=found"), mark("hitter=512,300")),
            (Ok(Mark::Length(None)), Ok(Mark::Hitter(Some(place))))
        );
        assert!(matches!(mark("length=1,2,3,4=40"), Ok(Mark::Length(Some(_)))));
        assert!(mark("plnt=1").unwrap_err().contains("plant") && mark("godo").unwrap_err().contains("good"));
        assert_eq!(size("1080x1920"), Ok((1080, 1920)));
        assert!(size("1081x1920").is_err());
        assert_eq!(two_labels("Before, After"), Ok(("Before".into(), "After".into())));
        let length = known_length("412,655, 530,655=43.18").unwrap();
        assert_eq!((length.from.distance(length.to), length.cm), (118.0, 43.18));
        assert!(known_length("1,2,3=4").is_err() && known_length("1,2,3,4").is_err());
        assert!(known_length("1,2,1,2=40").unwrap_err().contains("are the same"));
        assert!(known_length("1,2,3,4=0").unwrap_err().contains("more than 0"));
        assert_eq!(
            [bytes("16MB"), bytes("3.5 mb"), bytes("600KB")],
            [Ok(16_000_000), Ok(3_500_000), Ok(600_000)]
        );
        assert!(
            bytes("16").unwrap_err().contains("KB or MB") && bytes("-1MB").is_err() && bytes("xMB").is_err()
        );
        assert!(slow("0.5").is_err());
        assert!(positive("nan").is_err());
    }
}
