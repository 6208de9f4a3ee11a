//! Makes the video, one at a time, by the same code as `pair`; what was made lies in a folder beside the clips.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use serde::{Deserialize, Serialize};

use super::Shared;
use super::answer::plain;
use super::artist::{ProgressNews, with_cutouts};
use super::job::Job;
use super::news;
use super::pairs::PairData;
use crate::compose::{self, ClipOptions, ClipSide, Layout, Plan, Ready, Screen, Shot, usual_slow};
use crate::messages::desk as messages;
use crate::store;
use crate::types::{Cancel, Error, Result};

/// Where videos lie, in the folder of the clips; not among the clips, or they would be read as such.
const FOLDER: &str = "videos";
/// Bytes of a megabyte, as sizes of files are told.
const MB: f64 = 1e6;

/// How the video is to be made; what is left out is as `pair` does it.
#[derive(Debug, Clone, PartialEq, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct VideoRequest {
    /// The word of a layout.
    pub layout: Option<Layout>,
    /// 0…1.
    pub ghost_strength: Option<f64>,
    /// The word of a ready plan.
    pub plan: Option<String>,
    pub slow: Option<f64>,
    /// The word of a screen.
    pub screen: Option<String>,
    pub max_mb: Option<f64>,
    /// Names of the two, today's first.
    pub labels: Option<[String; 2]>,
    /// Words that are shown before the closing card.
    pub note: Option<String>,
    /// Id of a spoken note.
    pub voice: Option<String>,
}

/// Read at about so many letters a second (subtitles: 160 to 180 words a minute, BBC Subtitle Guidelines), with time to
/// find the words.
const LETTERS_A_SECOND: f64 = 15.0;
const FIND_S: f64 = 1.5;

impl VideoRequest {
    /// The plan with the written note before its closing card, or at its end.
    fn with_note(&self, mut plan: Plan) -> Plan {
        let words: Vec<&str> = self.note.iter().flat_map(|n| n.split_whitespace()).collect();
        if words.is_empty() {
            return plan;
        }
        let text = words.join(" ");
        let seconds = FIND_S + text.chars().count() as f64 / LETTERS_A_SECOND;
        let place =
            plan.shots.iter().position(|s| matches!(s, Shot::Card { .. })).unwrap_or(plan.shots.len());
        plan.shots.insert(place, Shot::Title { lines: vec![text], seconds });
        plan
    }

    fn options(&self) -> Result<ClipOptions> {
        let unknown = || Error::Usage(messages::NOT_UNDERSTOOD.to_owned());
        let plan = self.plan.as_deref().map(|w| Ready::from_word(w).ok_or_else(unknown)).transpose()?;
        let screen = self.screen.as_deref().map(|w| Screen::from_word(w).ok_or_else(unknown)).transpose()?;
        let usual = ClipOptions::default();
        let strength = self.ghost_strength.unwrap_or(usual.ghost_strength);
        let bytes = self.max_mb.map(|mb| mb * MB);
        if !(0.0..=1.0).contains(&strength) || bytes.is_some_and(|b| !(1.0..=1e12).contains(&b)) {
            return Err(unknown());
        }
        let slow = self.slow.unwrap_or(usual_slow());
        let options = ClipOptions {
            layout: self.layout,
            ghost_strength: strength,
            screen,
            max_bytes: bytes.map(|b| b as u64),
            plan: Some(self.with_note(Plan::ready(plan.unwrap_or(Ready::Teach), slow))),
            slow: self.slow,
            ..usual
        };
        options.check()?;
        Ok(options)
    }
}

/// A video that was made.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Video {
    pub id: String,
    pub name: String,
    pub bytes: u64,
    pub width: usize,
    pub height: usize,
    pub duration_s: f64,
    /// What is to be known of it.
    pub warnings: Vec<String>,
    #[serde(skip)]
    pub path: PathBuf,
}

#[derive(Default)]
pub struct Maker {
    job: Job<()>,
    made: Mutex<Vec<Video>>,
}

/// What the pages are told at the end.
#[derive(Debug, Serialize)]
#[serde(tag = "end", rename_all = "snake_case")]
enum End {
    Made { video: Video },
    Failed { why: String },
}

impl Maker {
    pub fn made(&self) -> Vec<Video> {
        self.made.lock().map(|made| made.clone()).unwrap_or_default()
    }

    pub fn is_making(&self) -> bool {
        self.job.now().is_some()
    }

    pub fn find(&self, id: &str) -> Result<Video> {
        let gone = || Error::Usage(messages::NO_SUCH_VIDEO.to_owned());
        self.made().into_iter().find(|v| v.id == id).ok_or_else(gone)
    }

    pub fn stop(&self) {
        self.job.stop();
    }

    pub fn wait(&self) {
        self.job.wait();
    }

    /// Begin; the pages are told how far it is and how it ends.
    pub fn begin(&self, shared: &Arc<Shared>, data: Arc<PairData>, wish: &VideoRequest) -> Result<()> {
        let voice = wish.voice.as_deref().map(|id| shared.voices.find(id)).transpose()?;
        let voice = voice.map(|v| v.sound.clone());
        let options = ClipOptions { captions: Some(data.words.clone()), voice, ..wish.options()? };
        let labels = wish.labels.clone().unwrap_or_else(|| data.labels.clone());
        let (own, news) = (shared.clone(), shared.news.clone());
        let work = move |stop: &Cancel| match make(&own, &data, options, &labels, stop) {
            Ok(video) => {
                if let Ok(mut made) = own.maker.made.lock() {
                    made.push(video.clone());
                }
                End::Made { video }
            }
            Err(e) => End::Failed { why: plain(&own, &e) },
        };
        self.job.begin((), messages::BUSY_MAKING, work, move |end| news.tell(news::MAKING, &end))
    }
}

fn make(
    shared: &Arc<Shared>,
    data: &PairData,
    options: ClipOptions,
    labels: &[String; 2],
    cancel: &Cancel,
) -> Result<Video> {
    let progress = ProgressNews::new(shared.news.clone(), news::MAKING);
    let options = with_cutouts(options, data, &progress, cancel)?;
    let folder = shared.films.folder().join(FOLDER);
    fs::create_dir_all(&folder).map_err(|e| Error::writing(&folder, e))?;
    // Two desks on one folder may make two at once: the name is taken when the video is there.
    let draft = folder.join(format!(".{}-{}.mp4", stem(data), std::process::id()));
    let [left, right] = data.sides();
    let (left, right) = (ClipSide { label: &labels[0], ..left }, ClipSide { label: &labels[1], ..right });
    let made = compose::make(&left, &right, &data.pairing, &options, &draft, &progress, cancel)?;
    let path = named(&draft, &folder, &stem(data))?;
    let name = crate::types::file_name(&path);
    let written = made.written;
    Ok(Video {
        id: store::short_hash(format!("{name} {}", written.bytes).as_bytes()),
        name: format!("{FOLDER}/{name}"),
        bytes: written.bytes,
        width: written.width,
        height: written.height,
        duration_s: written.duration_s,
        warnings: made.warnings.iter().map(crate::messages::warning).collect(),
        path,
    })
}

fn stem(data: &PairData) -> String {
    let of = |side: usize| {
        let path = &data.side(side).film.path;
        path.file_stem().unwrap_or_default().to_string_lossy().into_owned()
    };
    format!("{}-{}", of(0), of(1))
}

/// Gives the finished draft its name, `today-best.mp4`, or with a number behind it: a video made before is never replaced.
fn named(draft: &Path, folder: &Path, stem: &str) -> Result<PathBuf> {
    let failed = |e: std::io::Error| Error::writing(folder, e);
    for n in 1.. {
        let name = if n == 1 { format!("{stem}.mp4") } else { format!("{stem}-{n}.mp4") };
        let path = folder.join(name);
        // A second name for the same file is refused where there is one, whoever made it.
        match fs::hard_link(draft, &path) {
            Ok(()) => {
                fs::remove_file(draft).map_err(failed)?;
                return Ok(path);
            }
            Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => (),
            // Some sticks know no second names.
            Err(_) if !path.exists() => {
                fs::rename(draft, &path).map_err(failed)?;
                return Ok(path);
            }
            Err(_) => (),
        }
    }
    Err(Error::WorkerLost)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_video_never_replaces_another() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["a-b.mp4", "a-b-2.mp4", "a-b-3.mp4"] {
            let draft = folder.path().join(".draft.mp4");
            fs::write(&draft, name).unwrap();
            let path = named(&draft, folder.path(), "a-b").unwrap();
            assert_eq!((crate::types::file_name(&path), draft.exists()), (name.to_owned(), false));
        }
        assert_eq!(fs::read_to_string(folder.path().join("a-b.mp4")).unwrap(), "a-b.mp4");
    }

    #[test]
    fn a_wish_is_checked_before_anything_is_made() {
        let wish = |text: &str| serde_json::from_str::<VideoRequest>(text);
        let options = wish("{}").unwrap().options().unwrap();
        assert_eq!(options.plan, Some(Plan::ready(Ready::Teach, usual_slow())));
        let full = r#"{"layout":"ghost","ghost_strength":0.3,"plan":"quick","max_mb":8,"screen":"tablet"}"#;
        let options = wish(full).unwrap().options().unwrap();
        assert_eq!((options.max_bytes, options.layout), (Some(8_000_000), Some(Layout::Ghost)));
        let noted = wish(r#"{"note":"Let it\ntravel"}"#).unwrap().options().unwrap().plan.unwrap();
        let [.., Shot::Title { lines, seconds }, Shot::Card { .. }] = noted.shots.as_slice() else {
            panic!("{noted:?}")
        };
        assert!(lines == &["Let it travel"] && (2.0..4.0).contains(seconds));
        assert_eq!(
            wish(r#"{"note":" "}"#).unwrap().options().unwrap().plan,
            Some(Plan::ready(Ready::Teach, usual_slow()))
        );
        for wrong in [r#"{"plan":"x"}"#, r#"{"ghost_strength":7}"#, r#"{"max_mb":-1}"#, r#"{"slow":1e9}"#] {
            assert!(wish(wrong).unwrap().options().is_err(), "{wrong}");
        }
        assert!(wish(r#"{"output":"/etc/passwd"}"#).is_err());
    }
}
