//! A folder with two reps that were read, something pinned and an older target, and what is asked of it after a run.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use swingpair::demo::{self, scenarios};
use swingpair::media::{Weight, check_playable};
use swingpair::store;
use swingpair::types::{Cancel, Limits, NoProgress};
use tempfile::TempDir;

use super::{Outcome, Tally};

const FOLDER: &str = "out/ends";
pub const CLIPS: [&str; 2] = ["today", "best"];
/// What stands at the target before a run.
pub const OLDER: &[u8] = b"made last week";
/// Pinned in both clips: half a thousandth beside what any reading gives.
const PIN: &str = "finish";

/// The two reps, read once.
pub struct Template {
    folder: PathBuf,
    program: PathBuf,
    hashes: [String; 2],
}

impl Template {
    pub fn make() -> Outcome<Self> {
        let folder = PathBuf::from(FOLDER);
        fs::create_dir_all(&folder)?;
        let beside = std::env::current_exe()?;
        let program =
            beside.parent().and_then(Path::parent).ok_or("no folder of programs")?.join("swingpair");
        if !program.exists() {
            return Err(format!("{} is not built", program.display()).into());
        }
        let mut hashes = Vec::new();
        for mut s in scenarios::two_reps() {
            let clip = folder.join(&s.name).with_extension("mp4");
            (s.camera.width, s.camera.height, s.camera.rate_hz) = (640, 360, 60.0);
            s.contact_s = s.contact_s.min(1.75);
            s.duration_s = s.contact_s + 0.7;
            if !clip.exists() {
                eprintln!("filming and reading {} (once)", clip.display());
                demo::film(&s, &clip, &NoProgress, &Cancel::default())?;
            }
            let read = Command::new(&program).arg("-q").arg("read").arg(&clip).output()?;
            let pinned =
                Command::new(&program).args(["-q", "mark"]).arg(&clip).arg(format!("{PIN}=2.1")).output()?;
            if !read.status.success() || !pinned.status.success() {
                return Err(format!("{}: {}", clip.display(), String::from_utf8_lossy(&read.stderr)).into());
            }
            hashes.push(store::content_hash(&clip)?);
        }
        let hashes = hashes.try_into().map_err(|_| "two reps are needed")?;
        Ok(Self { folder, program, hashes })
    }

    /// A copy of everything in a folder of its own.
    pub fn scene(&self) -> Outcome<Scene<'_>> {
        let folder = tempfile::Builder::new().prefix("swingpair-ends-").tempdir()?;
        let scene = Scene { template: self, own: Some(folder), at: PathBuf::new() };
        self.into(scene)
    }

    /// The same in a folder that is there already.
    pub fn scene_at(&self, folder: &Path) -> Outcome<Scene<'_>> {
        self.into(Scene { template: self, own: None, at: folder.to_owned() })
    }

    fn into<'a>(&self, mut scene: Scene<'a>) -> Outcome<Scene<'a>> {
        if let Some(own) = &scene.own {
            scene.at = own.path().to_owned();
        }
        for name in CLIPS {
            for ending in ["mp4", "swing.json"] {
                let file = format!("{name}.{ending}");
                fs::copy(self.folder.join(&file), scene.path(&file))?;
            }
        }
        Ok(scene)
    }
}

/// A folder to work in; gone when dropped if it is its own.
pub struct Scene<'a> {
    template: &'a Template,
    own: Option<TempDir>,
    at: PathBuf,
}

impl Scene<'_> {
    pub fn path(&self, name: &str) -> PathBuf {
        self.at.join(name)
    }

    /// The program on this scene; words that begin with `@` are files in it.
    pub fn command(&self, words: &[&str]) -> Command {
        let mut command = Command::new(&self.template.program);
        command.args(self.words(words)).stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command
    }

    /// The same by way of another program (`strace`).
    pub fn through(&self, mut other: Command, words: &[&str]) -> Command {
        other.arg(&self.template.program).args(self.words(words));
        other.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        other
    }

    fn words(&self, words: &[&str]) -> Vec<OsString> {
        let word = |w: &&str| w.strip_prefix('@').map_or_else(|| w.into(), |name| self.path(name).into());
        words.iter().map(word).collect()
    }

    pub fn run(&self, words: &[&str]) -> Outcome<Output> {
        Ok(self.command(words).output()?)
    }

    /// What a run that ended anyhow has done to the folder, then the next run. `targets` held [`OLDER`] or nothing.
    pub fn judge(&self, row: &mut Tally, targets: &[&str]) -> Outcome<()> {
        row.runs += 1;
        for (name, hash) in CLIPS.iter().zip(&self.template.hashes) {
            if &store::content_hash(&self.path(&format!("{name}.mp4")))? != hash {
                self.tell(row, "source", name);
                row.source += 1;
            }
        }
        for target in targets {
            if !whole(&self.path(target)) {
                self.tell(row, "target", target);
                row.target += 1;
            }
        }
        self.judge_sidecars(row)?;
        // Where nothing is kept that a reading could use, looking anew would only take time.
        let kept: Option<Value> =
            fs::read(self.path("today.swing.json")).ok().and_then(|text| serde_json::from_slice(&text).ok());
        let seen = kept.is_some_and(|k| !k["seen"].is_null());
        let next = if seen {
            self.run(&["-q", "read", "@today.mp4", "--json"])?
        } else {
            self.run(&["-q", "mark", "@today.mp4", "finish=2.1"])?
        };
        let left = self.names()?.into_iter().find(|n| n.starts_with(".swingpair-") || n.ends_with(".part"));
        if !next.status.success() || left.is_some() {
            self.tell(row, "next run", &format!("{left:?} {}", String::from_utf8_lossy(&next.stderr)));
            row.left += 1;
        }
        self.judge_sidecars(row)
    }

    fn judge_sidecars(&self, row: &mut Tally) -> Outcome<()> {
        for name in self.names()? {
            let set_aside = name.contains(".unread-");
            if !name.ends_with(".json") || set_aside || name.starts_with(".swingpair-") {
                continue;
            }
            let text = fs::read(self.path(&name))?;
            let kept: Option<Value> = serde_json::from_slice(&text).ok();
            let good = match &kept {
                Some(v) if name.ends_with(".swing.json") => {
                    v["pins"][PIN].is_number() || self.was_set_aside(&name)?
                }
                Some(v) => v["schema"].is_string(),
                None => text == OLDER,
            };
            if !good {
                self.tell(row, "sidecar", &name);
                row.sidecar += 1;
            }
        }
        Ok(())
    }

    /// Pins are gone rightly where an unusable sidecar was set aside.
    fn was_set_aside(&self, sidecar: &str) -> Outcome<bool> {
        Ok(self.names()?.iter().any(|n| n.starts_with(&format!("{sidecar}.unread-"))))
    }

    pub fn names(&self) -> Outcome<Vec<String>> {
        let mut names = Vec::new();
        for entry in fs::read_dir(&self.at)? {
            names.push(entry?.file_name().to_string_lossy().into_owned());
        }
        names.sort();
        Ok(names)
    }

    fn tell(&self, row: &Tally, what: &str, which: &str) {
        let names = self.names().unwrap_or_default().join(" ");
        eprintln!("LOST in {} (run {}): {what} {which}; {names}", row.what, row.runs);
    }
}

/// A target is as it was, not there, or whole as far as can be told.
pub fn whole(target: &Path) -> bool {
    let Ok(bytes) = fs::read(target) else { return !target.exists() };
    if bytes == OLDER {
        return true;
    }
    match target.extension().and_then(|e| e.to_str()) {
        Some("mp4") => check_playable(target, &Limits::default())
            .is_ok_and(|reported| reported.findings.iter().all(|f| f.weight <= Weight::Doubt)),
        Some("png") => image::open(target).is_ok(),
        Some("pdf") => bytes.starts_with(b"%PDF-1.4") && bytes.ends_with(b"%%EOF\n"),
        Some("html") => bytes.starts_with(b"<!") && bytes.trim_ascii_end().ends_with(b"</html>"),
        Some("jsonl") => {
            let text = String::from_utf8_lossy(&bytes);
            text.ends_with('\n') && text.lines().all(|l| serde_json::from_str::<Value>(l).is_ok())
        }
        _ => false,
    }
}
