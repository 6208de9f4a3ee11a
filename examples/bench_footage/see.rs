//! What the program makes of one file, seen in a process of its own so that its memory can be told.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use swingpair::media::{Clip, OpenOptions};

use super::{Outcome, card};

#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Read {
    pub pictures: usize,
    pub got: usize,
    pub size: (usize, usize),
    pub rate_hz: f64,
    pub capture_rate_hz: f64,
    /// Playback time of each, s.
    pub times_s: Vec<f64>,
    /// The number each read picture shows.
    pub numbers: Vec<usize>,
    /// Middle of the moving bar in each, card px.
    pub bars_px: Vec<f64>,
    /// Codes of the patches in the middle picture.
    pub patches: [[f64; 3]; 8],
    /// Of the middle upright picture's codes.
    pub hash: String,
    pub warnings: Vec<String>,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Seen {
    pub read: Result<Read, String>,
    #[serde(default)]
    pub peak_mb: f64,
}

/// In the child: read all of the file and say it as JSON.
pub fn child(words: &[String]) -> Outcome<()> {
    let [path, recorded_at] = words else { return Err("see FILE HZ".into()) };
    let options = OpenOptions { recorded_at_hz: recorded_at.parse().ok(), ..OpenOptions::default() };
    let read = read(Path::new(path), &options).map_err(|e| e.to_string());
    println!("{}", serde_json::to_string(&Seen { read, peak_mb: peak_mb()? })?);
    Ok(())
}

fn read(path: &Path, options: &OpenOptions) -> swingpair::types::Result<Read> {
    let clip = Clip::open(path, options)?;
    let facts = clip.facts();
    let mut read = Read {
        pictures: facts.frames,
        got: 0,
        size: (facts.width, facts.height),
        rate_hz: facts.rate_hz,
        capture_rate_hz: facts.capture_rate_hz,
        times_s: clip.pts_s().to_vec(),
        numbers: Vec::new(),
        bars_px: Vec::new(),
        patches: [[0.0; 3]; 8],
        hash: String::new(),
        warnings: clip.warnings().iter().map(|w| w.code().to_owned()).collect(),
    };
    read.warnings.extend(clip.slowed_part().map(|_| "speed_changes".to_owned()));
    let mut frames = clip.frames(0, None)?;
    while let Some(picture) = frames.next_frame()? {
        read.got += 1;
        read.numbers.push(card::number(&picture.frame));
        read.bars_px.push(card::bar(&picture.frame));
        if picture.index <= facts.frames / 2 {
            read.patches = card::patches(&picture.frame);
            let mut hash = Sha256::new();
            for plane in [&picture.frame.y, &picture.frame.u, &picture.frame.v] {
                hash.update(&plane.data);
            }
            read.hash = hash.finalize().iter().take(4).map(|b| format!("{b:02x}")).collect();
        }
    }
    read.warnings.extend(frames.warnings().iter().map(|w| w.code().to_owned()));
    Ok(read)
}

/// The most memory this process has held, MB (1,000,000 bytes); `VmHWM` of proc(5).
fn peak_mb() -> Outcome<f64> {
    let text = std::fs::read_to_string("/proc/self/status")?;
    let line = text.lines().find_map(|l| l.strip_prefix("VmHWM:")).ok_or("no high-water mark")?;
    let kb: f64 = line.trim().split(' ').next().unwrap_or_default().parse()?;
    Ok(kb * 1024.0 / 1e6)
}

/// In the parent: have a child read the file.
pub fn see(path: &Path, recorded_at_hz: Option<f64>) -> Outcome<Seen> {
    let hz = recorded_at_hz.map_or("-".to_owned(), |hz| hz.to_string());
    let out = Command::new(std::env::current_exe()?)
        .arg("see")
        .arg(path)
        .arg(hz)
        .stderr(Stdio::inherit())
        .output()?;
    if !out.status.success() {
        return Err(format!("{}: the reader stopped with {}", path.display(), out.status).into());
    }
    Ok(serde_json::from_slice(&out.stdout)?)
}

/// What the ffprobe program says of the first video stream.
pub struct Theirs {
    pub words: String,
    /// When it shows each picture, s from the first.
    pub times_s: Vec<f64>,
}

pub fn ffprobe(path: &PathBuf) -> Outcome<Theirs> {
    let ask = |entries: &str, more: &[&str]| -> Outcome<String> {
        let mut command = Command::new("ffprobe");
        command.args(["-v", "quiet", "-select_streams", "v:0", "-of", "compact=p=0:nk=1"]).args(more);
        let out = command.args(["-show_entries", entries]).arg(path).output()?;
        Ok(String::from_utf8_lossy(&out.stdout).trim().to_owned())
    };
    let facts = ask(
        "stream=codec_name,pix_fmt,width,height,sample_aspect_ratio,field_order,color_space,color_transfer,r_frame_rate,avg_frame_rate",
        &[],
    )?;
    let turn = ask("stream_side_data=rotation", &[])?;
    let mut words = facts.lines().next().unwrap_or("nothing").replace('|', " ").replace(" unknown", "");
    if let Some(turn) = turn.lines().find_map(|l| l.trim_matches('|').parse::<i32>().ok()) {
        words += &format!(", turn {turn}");
    }
    let times = ask("frame=best_effort_timestamp_time", &[])?;
    let times: Vec<f64> = times.lines().filter_map(|l| l.trim_matches('|').parse().ok()).collect();
    let first = times.first().copied().unwrap_or(0.0);
    Ok(Theirs { words, times_s: times.into_iter().map(|t| t - first).collect() })
}
