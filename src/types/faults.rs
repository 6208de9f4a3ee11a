//! What is wrong with a file that a person or another program wrote: what was found, with its values. Worded in
//! `messages`.

/// What is wrong with a text, whatever it is meant to hold.
#[derive(Debug, Clone, PartialEq)]
pub enum TextFault {
    /// Its bytes are no UTF-8.
    NotUtf8,
    /// In the parser's own words; lines count from 1.
    Syntax {
        /// Where it stopped, if it said so.
        line: Option<usize>,
        /// In English.
        cause: String,
    },
    /// A key or value that does not belong there.
    UnknownWord {
        /// From 1.
        line: Option<usize>,
        /// As it was written.
        word: String,
        /// What was likely meant.
        nearest: Option<String>,
        /// All that could stand there.
        known: Vec<String>,
    },
}

/// What is wrong with a keypoint file. Images are named by their `id` in the file (`id`, signed) or counted from 0 in
/// its order (`image`).
#[expect(missing_docs, reason = "what each says stands in messages/keypoints.rs")]
#[derive(Debug, Clone, PartialEq)]
pub enum KeypointsFault {
    Text(TextFault),
    /// A bare list of results, without images and categories.
    ResultsOnly,
    NoCategory,
    NoNames,
    /// `part`: without its side, in COCO's words.
    NoPairOf {
        part: String,
    },
    SameImageId,
    UnknownImage {
        id: i64,
    },
    /// A body with another count of numbers than its `names` need.
    Count {
        id: i64,
        numbers: usize,
        names: usize,
        needed: usize,
    },
    NoPerson,
    SameTrackId {
        image: usize,
        track: String,
    },
    FewImages {
        images: usize,
    },
    Untimed,
    OneUntimed {
        id: i64,
    },
    CountUnlikeClip {
        images: usize,
        frames: usize,
    },
    TimeNotANumber,
    TimesNotRising {
        image: usize,
        time_s: f64,
        before_s: f64,
    },
    OddRate {
        rate_hz: f64,
    },
    UnevenIds {
        id: i64,
        before: i64,
    },
    /// Bodies are this tall in the file's own units.
    TooSmall {
        height: f64,
    },
    /// Width and height of its images, and of the clip's upright frames, px.
    OtherShape {
        images: (f64, f64),
        clip: (f64, f64),
    },
}

/// What is wrong with a shot plan.
#[expect(missing_docs, reason = "what each says stands in messages/plan_file.rs")]
#[derive(Debug, Clone, PartialEq)]
pub enum PlanFault {
    Text(TextFault),
    /// All that is wrong with its shots, each with the shot's place, from 0.
    Shots(Vec<(usize, PlanFault)>),
    ShotCount {
        shots: usize,
        most: usize,
    },
    /// One of the two names.
    Name(Box<PlanFault>),
    /// `show`: the kind of shot.
    FieldUnused {
        field: &'static str,
        show: &'static str,
    },
    NeedsFrom,
    NeedsTo,
    NeedsSeconds,
    /// No event of that name; `word` is what was written.
    UnknownEvent {
        word: String,
    },
    NoMoment {
        text: String,
    },
    TooFar {
        text: String,
        most_s: f64,
    },
    /// Two moments as they are written.
    Backwards {
        from: String,
        to: String,
    },
    OutOfRange {
        field: &'static str,
        value: f64,
        low: f64,
        high: f64,
    },
    TooManyHolds {
        holds: usize,
        most: usize,
    },
    TitleLines {
        most: usize,
    },
    ControlCharacter,
    TextLength {
        letters: usize,
        most: usize,
    },
}

/// What is wrong with a lesson's file.
#[expect(missing_docs, reason = "what each says stands in messages/lesson_file.rs")]
#[derive(Debug, Clone, PartialEq)]
pub enum LessonFault {
    Text(TextFault),
    OtherForm {
        form: u32,
        known: u32,
    },
    NoHitter,
    SameHitter {
        name: String,
    },
    /// Something about one hitter.
    Hitter {
        name: String,
        fault: Box<LessonFault>,
    },
    /// Something about one of a hitter's days, from 0.
    Day {
        day: usize,
        fault: Box<LessonFault>,
    },
    OutOfRange {
        key: &'static str,
        low: f64,
        high: f64,
    },
    NoRate,
    NameLength,
    NoDate {
        text: String,
    },
    SameDay {
        name: String,
    },
    /// Neither a ready plan nor a file.
    NoClip {
        word: String,
        nearest: Option<String>,
        known: Vec<String>,
    },
}

/// What is wrong with a file of captions; keys are named as in "measures.stride_length".
#[expect(missing_docs, reason = "what each says stands in messages/files.rs")]
#[derive(Debug, Clone, PartialEq)]
pub enum CaptionsFault {
    Text(TextFault),
    Unknown {
        key: String,
        nearest: Option<String>,
    },
    Missing {
        key: String,
    },
    /// No letter, or a line break.
    Empty {
        key: String,
    },
    /// Its braces are not those of the English text.
    Braces {
        key: String,
        english: String,
    },
}

macro_rules! of_a_text {
    ($($fault:ident),+) => {
        $(impl From<TextFault> for $fault {
            fn from(fault: TextFault) -> Self {
                Self::Text(fault)
            }
        }

        impl std::error::Error for $fault {})+
    };
}

of_a_text!(KeypointsFault, PlanFault, LessonFault, CaptionsFault);

impl std::error::Error for TextFault {}
