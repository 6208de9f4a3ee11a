//! Small films shared by the tests, and the program run on copies of them.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

use serde_json::Value;
use swingpair::demo::{self, Scenario, Truth, scenarios};
use swingpair::types::{Cancel, NoProgress};
use tempfile::TempDir;

/// What a run of the program left behind.
#[derive(Debug)]
pub struct Said {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Said {
    pub fn json(&self) -> Value {
        assert_eq!(self.code, Some(0), "{}", self.err);
        serde_json::from_str(&self.out)
            .unwrap_or_else(|e| panic!("stdout is not pure JSON ({e}):\n{}", self.out))
    }
}

pub fn command(words: &[OsString]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_swingpair"));
    // Whatever is usual where the tests run.
    command.env("SWINGPAIR_UNITS", "metric");
    command.args(words).stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

pub fn run(words: &[OsString]) -> Said {
    let done = command(words).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    Said { code: done.status.code(), out: text(done.stdout), err: text(done.stderr) }
}

/// The words of one run: strings and paths mixed.
macro_rules! words {
    ($($word:expr),* $(,)?) => { [$(std::ffi::OsString::from(&$word)),*] };
}
pub(crate) use words;

/// `swingpair` with these words.
macro_rules! swingpair {
    ($($word:expr),* $(,)?) => { $crate::cli::films::run(&$crate::cli::films::words![$($word),*]) };
}
pub(crate) use swingpair;

pub struct Films {
    folder: PathBuf,
    truths: Vec<(String, Truth)>,
}

/// Filmed once for each run of the tests: `today` and `best` of one hitter, and the best rep's swing seen
/// from the open side (`side`, the same pictures as `best`) and from behind (`behind`).
pub fn films() -> &'static Films {
    static FILMS: OnceLock<Films> = OnceLock::new();
    FILMS.get_or_init(|| {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cli-films");
        // What an earlier run left.
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).unwrap();
        let [today, best] = scenarios::two_reps();
        let behind = Scenario { name: "behind".to_owned(), ..scenarios::from_behind(&best) };
        let truths = [(today, 60.0), (best, 120.0), (behind, 60.0)].map(|(mut s, rate_hz)| {
            (s.camera.width, s.camera.height, s.camera.rate_hz) = (640, 360, rate_hz);
            // The same tempo with less standing about.
            s.contact_s = s.contact_s.min(1.75);
            s.duration_s = s.contact_s + 0.7;
            let target = folder.join(&s.name).with_extension("mp4");
            let truth = demo::film(&s, &target, &NoProgress, &Cancel::default()).unwrap();
            (s.name.clone(), truth)
        });
        Films { folder, truths: truths.into() }
    })
}

impl Films {
    pub fn truth(&self, name: &str) -> &Truth {
        &self.truths.iter().find(|(n, _)| n == name).unwrap().1
    }

    /// The film copied into `folder`, without anything kept beside it.
    pub fn bare(&self, name: &str, folder: &TempDir) -> PathBuf {
        let to = folder.path().join(name).with_extension("mp4");
        std::fs::copy(self.folder.join(name).with_extension("mp4"), &to).unwrap();
        to
    }

    /// The film with the reading kept beside it, so that a test of something else need not look again.
    pub fn read_before(&self, name: &str, folder: &TempDir) -> PathBuf {
        static READ: OnceLock<()> = OnceLock::new();
        READ.get_or_init(|| {
            for (name, _) in &self.truths {
                let said = swingpair!["read", self.folder.join(name).with_extension("mp4")];
                assert_eq!(said.code, Some(0), "{name}: {}", said.err);
            }
        });
        let kept = format!("{name}.swing.json");
        std::fs::copy(self.folder.join(&kept), folder.path().join(&kept)).unwrap();
        self.bare(name, folder)
    }
}

/// Names in a folder, in order.
pub fn listing(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}
