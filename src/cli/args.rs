//! The words of the command line. They are turned into the library's options here and nowhere else.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};
use swingpair::clip::{GhostLook, Layout, Plan, Ready, Screen, nearest, usual_slow};
use swingpair::ground::{EventId, KnownLength, Limits, Point, Result as Done, SyncOn};
use swingpair::reading::ReadOptions;

use super::allow::Allow;

const CAUTIONS: &str = "\
Filming: from behind a screen or on a tripod, outside the bat's reach plus a step, never in the ball's \
line; helmet on. Follow your league's and facility's rules. Ask the athlete, and for a minor a parent or \
guardian, before filming and before each share. Files stay on this computer; what is made carries no place, \
date or device. Readings are estimates from one camera view, not a \
diagnosis. If it hurts, stop, tell an adult, and see a licensed medical professional.

Exit codes: 0 done, whatever warnings there were; 1 failed, or `check` found that a file will not play; 2 words \
or values that cannot be used; 130 interrupted.";

const TWO_CLIPS: &str = "\
--hitter, --recorded-at, --keypoints and --known-length are about today's rep and have a --reference-… of \
their own; the rest is about both. What was read is kept beside each clip as NAME.swing.json and used again.";

/// Pairs two videos of a hitter's swing: today's rep against the best one, lined up on the body, measured,
/// drawn, and written as one clip for a phone.
#[derive(Debug, Parser)]
#[command(name = "swingpair", version, after_help = CAUTIONS, max_term_width = 100)]
pub struct Words {
    /// Say nothing but errors.
    #[arg(long, short, global = true)]
    pub quiet: bool,
    #[command(subcommand)]
    pub job: Job,
}

#[derive(Debug, Subcommand)]
pub enum Job {
    /// Two videos to one clip.
    #[command(after_help = TWO_CLIPS)]
    Pair(Box<PairArgs>),
    /// One video to a clip of that swing alone.
    Clip(Box<ClipArgs>),
    /// Print a ready shot plan, to be edited and given back with --plan.
    Plan(PlanArgs),
    /// A sheet of stills to print: rows are reps, columns are events, with what was measured.
    #[command(after_help = TWO_CLIPS)]
    Sheet(Box<SheetArgs>),
    /// One page for any browser, without network: the clip, the stills, the tables and plots.
    #[command(after_help = TWO_CLIPS)]
    Report(Box<ReportArgs>),
    /// Read one swing: events and measures.
    Read(ReadArgs),
    /// Pin events of a clip by hand; pins win over what is found.
    Mark(MarkArgs),
    /// Whether a file will play on phones, and why not; exit code 0 when it plays, 1 when it does not.
    Check(CheckArgs),
    /// What a file is and what is made of it, in plain words.
    Probe(ProbeArgs),
    /// Film two made-up reps to try things on.
    Demo(DemoArgs),
}

impl Job {
    /// Whether it looks, every picture or so, if it shall stop.
    pub fn stops_itself(&self) -> bool {
        match self {
            Self::Pair(_)
            | Self::Clip(_)
            | Self::Sheet(_)
            | Self::Report(_)
            | Self::Read(_)
            | Self::Demo(_) => true,
            Self::Plan(_) | Self::Mark(_) | Self::Check(_) | Self::Probe(_) => false,
        }
    }
}

#[derive(Debug, Args)]
pub struct PairArgs {
    #[command(flatten)]
    pub swings: Swings,
    /// The clip to write (.mp4); one of that name is replaced.
    #[arg(short, long, value_name = "CLIP")]
    pub output: PathBuf,
    #[command(flatten)]
    pub showing: Showing,
    #[command(flatten)]
    pub fitting: Fitting,
    /// Print both swings' events, the time map, the registration and the written file's facts as JSON.
    #[arg(long)]
    pub json: bool,
    /// Write one JSON line for each picture of the made clip: its time and the source pictures shown.
    #[arg(long, value_name = "FILE")]
    pub trace: Option<PathBuf>,
}

/// The swings that are compared.
#[derive(Debug, Args)]
pub struct Swings {
    /// Today's rep.
    pub today: PathBuf,
    /// The rep to compare with; or several good reps, three or more: today is then compared with their range,
    /// and the one nearest their middle is shown.
    #[arg(required = true, value_name = "REFERENCE")]
    pub references: Vec<PathBuf>,
    /// Line up on: an event (plant, contact, …) or `phases` for every shared event.
    #[arg(long, default_value = "plant", value_parser = sync_from_word)]
    pub sync: SyncOn,
    /// Names of the two, today's first.
    #[arg(long, value_name = "TODAY,REFERENCE", value_parser = two_labels)]
    pub labels: Option<(String, String)>,
    #[command(flatten)]
    pub looking: Looking,
    /// A point on the hitter in the references, px.
    #[arg(long, value_name = "X,Y", value_parser = point, allow_hyphen_values = true)]
    pub reference_hitter: Option<Point>,
    /// The rate the references were filmed at, Hz.
    #[arg(long, value_name = "HZ", value_parser = positive, allow_negative_numbers = true)]
    pub reference_recorded_at: Option<f64>,
    /// A known length in the reference's first picture; with several references one for all, or once for each,
    /// in order.
    #[arg(long, value_name = "X1,Y1,X2,Y2=CM", value_parser = known_length, allow_hyphen_values = true)]
    pub reference_known_length: Vec<KnownLength>,
    /// Keypoints for the reference (COCO keypoint JSON); with several references once for each, in order.
    #[arg(long, value_name = "FILE")]
    pub reference_keypoints: Vec<PathBuf>,
}

#[derive(Debug, Args)]
pub struct SheetArgs {
    #[command(flatten)]
    pub swings: Swings,
    /// The sheet to write (.png or .pdf), A4 lying; one of that name is replaced.
    #[arg(short, long, value_name = "SHEET")]
    pub output: PathBuf,
    /// A shot plan of your own: its names and its common `draw` are taken, its shots are not.
    #[arg(long, value_name = "FILE")]
    pub plan: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct ReportArgs {
    #[command(flatten)]
    pub swings: Swings,
    /// The page to write (.html); one of that name is replaced. A clip of more than 20 MB lies beside it, as the
    /// page's name with .mp4.
    #[arg(short, long, value_name = "PAGE")]
    pub output: PathBuf,
    #[command(flatten)]
    pub showing: Showing,
    #[command(flatten)]
    pub fitting: Fitting,
}

/// How the made clip shows the two.
#[derive(Debug, Args)]
pub struct Showing {
    #[command(flatten)]
    pub shown: Shown,
    /// How the two are shown: side-by-side, over-under, ghost, today-alone or reference-alone [default:
    /// side-by-side].
    #[arg(long, value_parser = layout_from_word)]
    pub layout: Option<Layout>,
    /// How strongly a ghost covers today's picture, 0 to 1 or in per cent [default: 50%].
    #[arg(long, value_name = "SHARE", value_parser = strength, allow_negative_numbers = true)]
    pub ghost_strength: Option<f64>,
    /// How a ghost is shown: tinted (the reference's own picture in its colour) or outline (a line around it)
    /// [default: tinted].
    #[arg(long, value_name = "LOOK", value_parser = ghost_look_from_word)]
    pub ghost_look: Option<GhostLook>,
}

/// What the made clip has to fit.
#[derive(Debug, Args)]
pub struct Fitting {
    /// The screen it is made for. phone: 1080x1920, or 1920x1080 where wide sources would leave most of that
    /// empty; tablet: 1248x1664 or 1664x1248, whichever shows the bodies larger. Both at 30 pictures a second and
    /// H.264 level 4.0 [default: phone]
    #[arg(long = "for", value_name = "SCREEN", value_parser = screen_from_word)]
    pub screen: Option<Screen>,
    /// Size of the made clip, px, instead of the screen's.
    #[arg(long, value_name = "WxH", value_parser = size)]
    pub size: Option<(usize, usize)>,
    /// The clip's file may not be larger: 16MB, 3.5MB, 600KB (MB = 1,000,000 bytes). It is made again, coded more
    /// coarsely, until it fits; what cannot fit is refused with the smallest possible size.
    #[arg(long, value_name = "SIZE", value_parser = bytes)]
    pub max_size: Option<u64>,
    /// A sound or video file with a spoken note that is laid over the clip; the clip's own sound steps back under
    /// it, and the closing card stays until it ends.
    #[arg(long, value_name = "FILE")]
    pub voice: Option<PathBuf>,
}

/// What the made clip shows, in order.
#[derive(Debug, Args)]
pub struct Shown {
    /// A shot plan of your own (TOML or JSON); `swingpair plan` prints one to edit.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["ready", "slow"])]
    pub plan: Option<PathBuf>,
    /// A ready shot plan: quick (at most 8 s), teach, before-after or one-rep [default: teach; of one swing
    /// one-rep].
    #[arg(long, value_name = "NAME", value_parser = ready_from_word)]
    pub ready: Option<Ready>,
    /// How many times slower than life the slow part of a ready plan plays [default: 8].
    #[arg(long, value_name = "N", value_parser = slow, allow_negative_numbers = true)]
    pub slow: Option<f64>,
}

impl Shown {
    /// The plan that is asked for, or the usual one.
    pub fn plan(&self, usual: Ready, limits: &Limits) -> Done<Plan> {
        match &self.plan {
            Some(path) => Plan::from_file(path, limits),
            None => Ok(Plan::ready(self.ready.unwrap_or(usual), self.slow.unwrap_or(usual_slow()))),
        }
    }
}

#[derive(Debug, Args)]
pub struct ClipArgs {
    /// The video.
    pub rep: PathBuf,
    /// The clip to write (.mp4); one of that name is replaced.
    #[arg(short, long, value_name = "CLIP")]
    pub output: PathBuf,
    /// How the rep is named [default: Today].
    #[arg(long, value_name = "NAME")]
    pub label: Option<String>,
    #[command(flatten)]
    pub shown: Shown,
    #[command(flatten)]
    pub fitting: Fitting,
    #[command(flatten)]
    pub looking: Looking,
}

#[derive(Debug, Args)]
pub struct PlanArgs {
    /// quick (at most 8 s), teach, before-after or one-rep.
    #[arg(default_value = "teach", value_parser = ready_from_word)]
    pub name: Ready,
    /// How many times slower than life its slow part plays [default: 8].
    #[arg(long, value_name = "N", value_parser = slow, allow_negative_numbers = true)]
    pub slow: Option<f64>,
    /// As JSON instead of TOML.
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct ReadArgs {
    /// The video; may be left out where --keypoints is given.
    pub clip: Option<PathBuf>,
    /// Print the reading as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub looking: Looking,
}

/// How a swing is looked at. In `pair` these hold for today's rep; what belongs to the hitter, for both.
#[derive(Debug, Args)]
pub struct Looking {
    /// A point on the hitter, px, where several people could be meant.
    #[arg(long, value_name = "X,Y", value_parser = point, allow_hyphen_values = true)]
    pub hitter: Option<Point>,
    /// The rate the camera filmed at, Hz, where the file does not say it (slow motion).
    #[arg(long, value_name = "HZ", value_parser = positive, allow_negative_numbers = true)]
    pub recorded_at: Option<f64>,
    /// Use another estimator's points (COCO keypoint JSON) instead of looking.
    #[arg(long, value_name = "FILE")]
    pub keypoints: Option<PathBuf>,
    /// Pictures a second of keypoints that carry no times, Hz.
    #[arg(long, value_name = "HZ", value_parser = positive, allow_negative_numbers = true)]
    pub rate: Option<f64>,
    /// The hitter's standing height, 60 to 250 cm: lengths are then given in cm.
    #[arg(long, value_name = "CM", value_parser = height, allow_negative_numbers = true)]
    pub height: Option<f64>,
    /// The bat's length from knob to tip, cm: lengths are then given in cm.
    #[arg(long, value_name = "CM", value_parser = positive)]
    pub bat: Option<f64>,
    /// Two points in the clip's first picture, px, and how far apart they truly are, cm; lengths are then
    /// given in cm. Mark what lies beside the hitter and square to the camera: home plate from its front
    /// edge to its point is 43.18 cm (17 in), as in 412,655,530,655=43.18
    #[arg(long, value_name = "X1,Y1,X2,Y2=CM", value_parser = known_length, allow_hyphen_values = true)]
    pub known_length: Option<KnownLength>,
    /// Distance from the microphone to the plate, m: sound is late by 2.9 ms a metre.
    #[arg(long, value_name = "M", value_parser = positive, allow_negative_numbers = true)]
    pub mic_distance: Option<f64>,
    /// Look again even when the reading kept beside the clip is still good.
    #[arg(long)]
    pub fresh: bool,
    #[command(flatten)]
    pub allow: Allow,
}

#[derive(Debug, Args)]
pub struct MarkArgs {
    /// The video.
    pub clip: PathBuf,
    /// Events and their times, s of real time from the first picture: plant=1.234
    #[arg(required = true, value_name = "EVENT=SECONDS", value_parser = pin)]
    pub pins: Vec<(EventId, f64)>,
    /// The rate the camera filmed at, Hz, where the file does not say it.
    #[arg(long, value_name = "HZ", value_parser = positive, allow_negative_numbers = true)]
    pub recorded_at: Option<f64>,
    #[command(flatten)]
    pub allow: Allow,
}

#[derive(Debug, Args)]
pub struct CheckArgs {
    /// The file to be sent.
    pub file: PathBuf,
    /// Count what only some phones or messengers refuse as well.
    #[arg(long)]
    pub strict: bool,
    /// Print the facts and findings as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub allow: Allow,
}

#[derive(Debug, Args)]
pub struct ProbeArgs {
    /// The file to look at.
    pub file: PathBuf,
    /// The rate the camera filmed at, Hz, where the file does not say it (slow motion).
    #[arg(long, value_name = "HZ")]
    pub recorded_at: Option<f64>,
    /// Print what was found as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub allow: Allow,
}

#[derive(Debug, Args)]
pub struct DemoArgs {
    /// Where the clips go; made when it is not there.
    pub dir: PathBuf,
}

impl Looking {
    pub fn options(&self) -> ReadOptions {
        ReadOptions {
            recorded_at_hz: self.recorded_at,
            hitter: self.hitter,
            keypoints: self.keypoints.clone(),
            keypoints_rate_hz: self.rate,
            height_cm: self.height,
            bat_cm: self.bat,
            known_length: self.known_length,
            mic_distance_m: self.mic_distance,
            fresh: self.fresh,
            limits: self.allow.limits(),
        }
    }
}

impl Swings {
    /// For the reference at this place in `references`.
    pub fn reference_options(&self, place: usize) -> ReadOptions {
        ReadOptions {
            recorded_at_hz: self.reference_recorded_at,
            hitter: self.reference_hitter,
            keypoints: self.reference_keypoints.get(place).cloned(),
            known_length: match self.reference_known_length.as_slice() {
                [one] => Some(*one),
                each => each.get(place).copied(),
            },
            ..self.looking.options()
        }
    }
}

fn event_from_word(word: &str) -> Result<EventId, String> {
    EventId::from_word(word).ok_or_else(|| {
        let words: Vec<_> = EventId::ALL.iter().map(|e| e.word()).collect();
        format!("there is no event {word:?}; the events are {}", words.join(", "))
    })
}

fn sync_from_word(word: &str) -> Result<SyncOn, String> {
    if word == "phases" { Ok(SyncOn::Phases) } else { event_from_word(word).map(SyncOn::Event) }
}

fn layout_from_word(word: &str) -> Result<Layout, String> {
    Layout::from_word(word).ok_or_else(|| unknown("layout", word, &Layout::ALL.map(Layout::word)))
}

fn ghost_look_from_word(word: &str) -> Result<GhostLook, String> {
    GhostLook::from_word(word).ok_or_else(|| unknown("look", word, &GhostLook::ALL.map(GhostLook::word)))
}

fn strength(text: &str) -> Result<f64, String> {
    let (number, whole) = text.strip_suffix('%').map_or((text, 1.0), |t| (t, 100.0));
    let share = number.trim().parse::<f64>().ok().map(|v| v / whole).filter(|v| (0.0..=1.0).contains(v));
    share.ok_or_else(|| "a share is needed, 0 to 1 or 0% to 100%".to_owned())
}

fn ready_from_word(word: &str) -> Result<Ready, String> {
    Ready::from_word(word).ok_or_else(|| unknown("ready plan", word, &Ready::ALL.map(Ready::word)))
}

fn unknown(what: &str, word: &str, known: &[&str]) -> String {
    let all = format!("there is no {what} {word:?}; there are {}", known.join(", "));
    nearest(word, known).map_or(all, |near| format!("there is no {what} {word:?}; the nearest is {near}"))
}

fn screen_from_word(word: &str) -> Result<Screen, String> {
    Screen::from_word(word).ok_or_else(|| "the screens are phone and tablet".to_owned())
}

fn bytes(text: &str) -> Result<u64, String> {
    let text = text.trim().to_ascii_uppercase();
    let units = [("KB", 1e3), ("MB", 1e6)];
    let found = units.iter().find_map(|(unit, each)| Some((text.strip_suffix(unit)?, each)));
    let (value, each) = found.ok_or("give a size in KB or MB, as in 16MB or 600KB")?;
    let bytes = positive(value)? * each;
    if bytes > 1e12 { Err("must be at most 1000000MB".to_owned()) } else { Ok(bytes as u64) }
}

fn two_labels(text: &str) -> Result<(String, String), String> {
    match text.split_once(',').map(|(a, b)| (a.trim(), b.trim())) {
        Some((a, b)) if !a.is_empty() && !b.is_empty() => Ok((a.to_owned(), b.to_owned())),
        _ => Err("give two names with a comma between them: Before,After".to_owned()),
    }
}

fn number(text: &str) -> Result<f64, String> {
    text.trim()
        .parse::<f64>()
        .ok()
        .filter(|v| v.is_finite())
        .ok_or_else(|| format!("{text:?} is not a number"))
}

fn positive(text: &str) -> Result<f64, String> {
    number(text).and_then(|v| if v > 0.0 { Ok(v) } else { Err("must be more than 0".to_owned()) })
}

fn height(text: &str) -> Result<f64, String> {
    number(text).and_then(|v| {
        if (60.0..=250.0).contains(&v) { Ok(v) } else { Err("must lie between 60 and 250 cm".to_owned()) }
    })
}

fn slow(text: &str) -> Result<f64, String> {
    number(text).and_then(|v| {
        if (1.0..=64.0).contains(&v) { Ok(v) } else { Err("must lie between 1 and 64".to_owned()) }
    })
}

fn point(text: &str) -> Result<Point, String> {
    let (x, y) = text.split_once(',').ok_or("give X,Y in px, as in 640,360")?;
    Ok(Point::new(number(x)?, number(y)?))
}

fn known_length(text: &str) -> Result<KnownLength, String> {
    let words = "give X1,Y1,X2,Y2=CM, two points in px and their distance in cm, as in 412,655,530,655=43.18";
    let (points, cm) = text.split_once('=').ok_or(words)?;
    let places: Vec<f64> = points.split(',').map(number).collect::<Result<_, _>>()?;
    let [x1, y1, x2, y2] = places.try_into().map_err(|_| words)?;
    let (from, to) = (Point::new(x1, y1), Point::new(x2, y2));
    if from == to {
        return Err("the two points are one and the same; mark both ends of the length".to_owned());
    }
    Ok(KnownLength { from, to, cm: positive(cm)? })
}

fn size(text: &str) -> Result<(usize, usize), String> {
    let (w, h) = text.split_once('x').ok_or("give WIDTHxHEIGHT in px, as in 1080x1920")?;
    let side = |t: &str| {
        t.parse::<usize>()
            .ok()
            .filter(|v| v % 2 == 0)
            .ok_or("each side must be an even number of px, as in 1080x1920")
    };
    Ok((side(w)?, side(h)?))
}

fn pin(text: &str) -> Result<(EventId, f64), String> {
    let (word, time) = text.split_once('=').ok_or("give EVENT=SECONDS, as in plant=1.234")?;
    Ok((event_from_word(word)?, number(time)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_words_are_sound() {
        Words::command().debug_assert();
    }

    #[test]
    fn values_are_read_or_refused() {
        assert_eq!(sync_from_word("phases"), Ok(SyncOn::Phases));
        assert_eq!(pin("plant=1.25"), Ok((EventId::Plant, 1.25)));
        assert!(pin("plnt=1").unwrap_err().contains("plant"));
        assert_eq!(size("1080x1920"), Ok((1080, 1920)));
        assert!(size("1081x1920").is_err());
        assert_eq!(two_labels("Before, After"), Ok(("Before".into(), "After".into())));
        let length = known_length("412,655, 530,655=43.18").unwrap();
        assert_eq!((length.from.distance(length.to), length.cm), (118.0, 43.18));
        assert!(known_length("1,2,3=4").is_err() && known_length("1,2,3,4").is_err());
        assert!(known_length("1,2,1,2=40").unwrap_err().contains("one and the same"));
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
