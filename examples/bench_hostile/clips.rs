//! Small good clips of many kinds, made by the ffmpeg command.

use std::fs;
use std::path::Path;
use std::process::Command;

use super::Outcome;

pub struct Good {
    pub name: String,
    pub ending: &'static str,
    pub data: Vec<u8>,
}

const PICTURES: &str = "testsrc2=s=128x96:r=30:d=0.8";
const SOUND: &str = "sine=f=440:d=0.8";

/// Name, ending, ffmpeg's words.
const KINDS: [(&str, &str, &str); 18] = [
    ("MP4 H.264 + AAC", "mp4", "-c:v libx264 -bf 2 -c:a aac"),
    ("MP4 in pieces", "mp4", "-c:v libx264 -g 8 -c:a aac -movflags frag_keyframe+empty_moov"),
    (
        "MP4 with edit list",
        "mp4",
        "-ss 0.2 -c:v libx264 -bf 3 -c:a aac -movflags use_metadata_tags -metadata title=x",
    ),
    (
        "MP4 HEVC 10 bit HLG",
        "mp4",
        "-c:v libx265 -x265-params log-level=none -pix_fmt yuv420p10le -color_trc arib-std-b67 -color_primaries bt2020 -colorspace bt2020nc -c:a aac -tag:v hvc1",
    ),
    ("MOV MJPEG + PCM", "mov", "-c:v mjpeg -c:a pcm_s16le"),
    ("MOV ProRes", "mov", "-c:v prores_ks -c:a pcm_s24le"),
    ("3GP H.263", "3gp", "-s 176x144 -c:v h263 -an"),
    ("MKV H.264 + Opus", "mkv", "-c:v libx264 -c:a libopus"),
    ("MKV HEVC", "mkv", "-c:v libx265 -x265-params log-level=none -c:a flac"),
    ("WebM VP8 + Vorbis", "webm", "-c:v libvpx -deadline realtime -c:a libvorbis"),
    ("WebM VP9 + Opus", "webm", "-c:v libvpx-vp9 -deadline realtime -cpu-used 8 -c:a libopus"),
    ("AVI MPEG-4 + MP3", "avi", "-c:v mpeg4 -bf 2 -c:a libmp3lame"),
    ("AVI MJPEG + PCM", "avi", "-c:v mjpeg -c:a pcm_u8"),
    ("AVI DV", "avi", "-s 720x576 -r 25 -pix_fmt yuv420p -c:v dvvideo -ar 48000 -ac 2 -frames:v 4"),
    (
        "MTS H.264 interlaced + AC-3",
        "mts",
        "-c:v libx264 -flags +ilme+ildct -x264opts tff=1 -c:a ac3 -f mpegts",
    ),
    ("MPG MPEG-2 + MP2", "mpg", "-r 25 -c:v mpeg2video -c:a mp2"),
    ("FLV", "flv", "-c:v flv -c:a libmp3lame -ar 44100"),
    ("GIF", "gif", "-an"),
];

/// Make what is not there yet, and read all. An ffmpeg that cannot make one is an error, not a silence.
pub fn make(folder: &Path) -> Outcome<Vec<Good>> {
    fs::create_dir_all(folder)?;
    let mut goods = Vec::new();
    for (i, (name, ending, words)) in KINDS.into_iter().enumerate() {
        let path = folder.join(format!("{i}.{ending}"));
        if !path.exists() {
            let mut ffmpeg = Command::new("ffmpeg");
            ffmpeg.args(["-v", "error", "-y", "-f", "lavfi", "-i", PICTURES, "-f", "lavfi", "-i", SOUND]);
            ffmpeg.args(words.split(' ')).arg(&path);
            let done = ffmpeg.output()?;
            if !done.status.success() {
                return Err(format!("{name}: {}", String::from_utf8_lossy(&done.stderr)).into());
            }
        }
        goods.push(Good { name: name.to_owned(), ending, data: fs::read(&path)? });
    }
    Ok(goods)
}
