//! The other side: the ffmpeg command line doing the bare job, nothing drawn.

use std::path::{Path, PathBuf};
use std::process::Command;

use swingpair::media::Cut;

use super::cost::{self, Cost};
use super::ours::{Facts, RATE_HZ};
use super::{FOLDER, Outcome};

pub enum Job {
    HStack,
    Blend,
}

/// Both sources cut and scaled as ours are, put together, on a canvas of the same size.
pub fn two(job: &Job, clips: &[PathBuf; 2], facts: &Facts) -> Outcome<Cost> {
    let rate = f64::from(RATE_HZ);
    let seconds = format!("{:.4}", facts.pictures as f64 / rate);
    let mut ffmpeg = Command::new("ffmpeg");
    ffmpeg.args(["-v", "error", "-y"]);
    for (clip, from_s) in clips.iter().zip(facts.from_s) {
        ffmpeg.args(["-ss", &format!("{from_s:.4}"), "-t", &seconds, "-i"]).arg(clip);
    }
    let part = |i: usize| {
        let Cut { x, y, width, height, size } = facts.panels[i];
        let (to_width, to_height) = size;
        format!("[{i}:v]crop={width}:{height}:{x}:{y},scale={to_width}:{to_height},setsar=1[v{i}]")
    };
    let join = match job {
        Job::HStack => "hstack",
        Job::Blend => "blend=all_mode=average",
    };
    let (width, height) = facts.size;
    let graph = format!("{};{};[v0][v1]{join},pad={width}:{height}:(ow-iw)/2:(oh-ih)/2[v]", part(0), part(1));
    ffmpeg.args([
        "-filter_complex",
        &graph,
        "-map",
        "[v]",
        "-map",
        "0:a",
        "-ac",
        "1",
        "-c:a",
        "aac",
        "-b:a",
        "96k",
    ]);
    ffmpeg.args(["-frames:v", &facts.pictures.to_string()]);
    encoder(&mut ffmpeg, RATE_HZ, "4.2", 62_500_000);
    cost::of(ffmpeg.arg(Path::new(FOLDER).join("bare.mp4")))
}

/// The settings of `media::Writer`.
fn encoder(ffmpeg: &mut Command, rate_hz: u32, level: &str, most_bits_s: u32) {
    let (gop, most) = (rate_hz.to_string(), most_bits_s.to_string());
    ffmpeg.args(["-c:v", "libx264", "-preset", "fast", "-crf", "20", "-profile:v", "high", "-level", level]);
    ffmpeg.args(["-maxrate", &most, "-bufsize", &most, "-bf", "0", "-g", &gop, "-threads:v", "2"]);
    ffmpeg.args(["-pix_fmt", "yuv420p", "-movflags", "+faststart"]);
}

pub struct Raw {
    pub path: PathBuf,
    size: String,
}

/// The pictures of a made clip, not coded.
pub fn raw_of(made: &Path) -> Outcome<Raw> {
    let path = Path::new(FOLDER).join("made.yuv");
    let mut ffmpeg = Command::new("ffmpeg");
    ffmpeg.args(["-v", "error", "-y", "-i"]).arg(made).args(["-f", "rawvideo", "-pix_fmt", "yuv420p"]);
    cost::of(ffmpeg.arg(&path))?;
    let probe = Command::new("ffprobe")
        .args([
            "-v",
            "error",
            "-select_streams",
            "v",
            "-show_entries",
            "stream=width,height",
            "-of",
            "csv=p=0:s=x",
        ])
        .arg(made)
        .output()?;
    Ok(Raw { path, size: String::from_utf8(probe.stdout)?.trim().to_owned() })
}

pub fn encode(raw: &Raw) -> Outcome<Cost> {
    let mut ffmpeg = Command::new("ffmpeg");
    ffmpeg.args([
        "-v", "error", "-y", "-f", "rawvideo", "-pix_fmt", "yuv420p", "-r", "30", "-s", &raw.size, "-i",
    ]);
    encoder(ffmpeg.arg(&raw.path), 30, "4.0", 25_000_000);
    cost::of(ffmpeg.arg(Path::new(FOLDER).join("bare.mp4")))
}

fn python() -> Command {
    Command::new(std::env::var("SWINGPAIR_PYTHON").unwrap_or_else(|_| "python3".to_owned()))
}

/// Whether what [`net_everywhere`] needs is there, asked before minutes of work.
pub fn check_python() -> Outcome<()> {
    let asked = python().args(["-c", "import numpy, onnxruntime, zstandard"]).output();
    if asked.is_ok_and(|done| done.status.success()) {
        return Ok(());
    }
    Err("python3 with numpy, onnxruntime and zstandard is needed; ./dev bench render sets it up".into())
}

/// All pictures decoded and the landmark net run on each by ONNX Runtime.
pub fn net_everywhere(clip: &Path) -> Outcome<Cost> {
    let mut script = python();
    script.arg("examples/bench_render/net_on_every_picture.py").arg(clip);
    cost::of(&mut script)
}
