//! Interlaced footage is read as one picture a field, at the field's own time.

use std::path::Path;
use std::process::Command;

use swingpair::media::{Clip, OpenOptions};
use swingpair::types::Frame;

/// A bright bar that moves 6 px a field over grey, 50 fields a second, stored as 25 interlaced pictures a second with
/// the earlier field on top; FFmpeg's command line makes it.
fn film(path: &Path, codec: &[&str]) {
    let graph = "color=gray:s=640x288:r=50:d=2[a];color=white:s=24x200:r=50:d=2[b];[a][b]overlay=x='40+6*n':y=40,\
                 interlace=scan=tff:lowpass=off[v]";
    let done = Command::new("ffmpeg")
        .args(["-v", "error", "-y", "-filter_complex", graph, "-map", "[v]", "-flags", "+ildct+ilme"])
        .args(codec)
        .arg(path)
        .status()
        .unwrap();
    assert!(done.success());
}

/// Middle of what is bright, px from the left.
fn bar(frame: &Frame) -> f64 {
    let (mut sum, mut at) = (0.0, 0.0);
    for y in 80..200 {
        for (x, value) in frame.y.row(y).iter().enumerate() {
            let bright = (f64::from(*value) - 140.0).max(0.0);
            sum += bright;
            at += bright * (x as f64 + 0.5);
        }
    }
    at / sum
}

const CODECS: [(&str, &[&str]); 2] = [
    ("h264.mp4", &["-c:v", "libx264", "-x264opts", "tff=1:keyint=12", "-crf", "12", "-pix_fmt", "yuv420p"]),
    ("mpeg2.ts", &["-c:v", "mpeg2video", "-q:v", "2", "-g", "12", "-bf", "2", "-pix_fmt", "yuv420p"]),
];

#[test]
fn each_field_is_a_picture_at_its_own_time() {
    let folder = tempfile::tempdir().unwrap();
    for (name, codec) in CODECS {
        let path = folder.path().join(name);
        film(&path, codec);
        let clip = Clip::open(&path, &OpenOptions::default()).unwrap();
        assert_eq!((clip.facts().frames, clip.facts().height), (100, 288), "{name}");
        assert!((clip.facts().rate_hz - 50.0).abs() < 0.01 && (clip.facts().duration_s - 2.0).abs() < 0.001);
        let mut frames = clip.frames(0, None).unwrap();
        let mut all = Vec::new();
        while let Some(picture) = frames.next_frame().unwrap() {
            let n = all.len();
            assert_eq!(picture.index, n, "{name}");
            assert!((picture.pts_s - n as f64 / 50.0).abs() < 1e-4, "{name}: {}", picture.pts_s);
            // The maker begins with its second picture.
            let wanted = 58.0 + 6.0 * n as f64;
            // Farther on it leaves the picture.
            let inside = wanted < 620.0;
            assert!(
                !inside || (bar(&picture.frame) - wanted).abs() < 1.5,
                "{name} {n}: {} {wanted}",
                bar(&picture.frame)
            );
            all.push(picture.frame);
        }
        assert_eq!(all.len(), 100, "{name}");
        assert_eq!(frames.warnings(), [], "{name}");
        // From any picture on, the same pictures.
        for from in [1, 13, 24, 25, 50, 77, 99] {
            let got = clip.frames(from, None).unwrap().next_frame().unwrap().unwrap();
            assert_eq!(got.index, from, "{name}");
            assert!(got.frame == all[from], "{name}: picture {from} differs after a jump");
        }
    }
}

/// The reference: FFmpeg's own command line with the same filter (W3FDIF and yadif combined, after BBC R&D's weights).
#[test]
fn pictures_are_those_of_the_filter_on_the_command_line() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(CODECS[0].0);
    film(&path, CODECS[0].1);
    let done = Command::new("ffmpeg")
        .args(["-v", "error", "-i"])
        .arg(&path)
        .args(["-vf", "bwdif=mode=send_field", "-f", "rawvideo", "-pix_fmt", "yuv420p", "-"])
        .output()
        .unwrap();
    let size = 640 * 288 * 3 / 2;
    assert_eq!(done.stdout.len(), 100 * size);
    // Grey has no colour to convert, so the luma codes are the file's own.
    let clip = Clip::open(&path, &OpenOptions::default()).unwrap();
    let mut frames = clip.frames(0, None).unwrap();
    for raw in done.stdout.chunks_exact(size) {
        let picture = frames.next_frame().unwrap().unwrap();
        let most = picture.frame.y.data.iter().zip(raw).map(|(a, b)| a.abs_diff(*b)).max();
        assert!(most <= Some(1), "picture {}: {most:?}", picture.index);
    }
}
