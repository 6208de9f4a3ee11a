//! Reading from any picture on gives exactly what reading from the beginning gives.

use std::path::Path;
use std::process::Command;

use swingpair::media::{Clip, OpenOptions};
use swingpair::types::TimedFrame;

/// Jumps over all files together.
const JUMPS: usize = 500;

fn ffmpeg(words: &str, to: &Path) {
    let mut command = Command::new("ffmpeg");
    command.args(["-v", "error", "-y"]).args(words.split_whitespace()).arg(to);
    assert!(command.status().unwrap().success(), "{words}");
}

fn all(clip: &Clip) -> Vec<TimedFrame> {
    let mut frames = clip.frames(0, None).unwrap();
    std::iter::from_fn(|| frames.next_frame().unwrap()).collect()
}

#[test]
fn five_hundred_jumps_land_where_reading_on_would() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    // Moves all over, so that no two pictures are alike.
    let film = "-f lavfi -i testsrc2=s=96x64:r=30:d=4 -pix_fmt yuv420p";
    let b_frames = "-c:v libx264 -bf 3 -b_strategy 0 -g 24 -x264-params open-gop=1";
    ffmpeg(&format!("{film} {b_frames}"), &at("b_frames.mp4"));
    ffmpeg(
        &format!("{film} -c:v libx265 -x265-params log-level=none:bframes=4:keyint=24:open-gop=1"),
        &at("hevc.mov"),
    );
    ffmpeg(&format!("{film} -vf select=not(eq(mod(n\\,5)\\,1)) -fps_mode vfr {b_frames}"), &at("uneven.mkv"));
    ffmpeg(&format!("-ss 0.7 -i {} -c copy", at("b_frames.mp4").display()), &at("edit_list.mp4"));
    ffmpeg(&format!("{film} {b_frames} -f mpegts"), &at("stream.ts"));
    ffmpeg(&format!("{film} -c:v mpeg2video -bf 2 -g 15"), &at("camcorder.mpg"));
    let mut seed = 20_261_125u64;
    let mut dice = |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % below
    };
    let files = ["b_frames.mp4", "hevc.mov", "uneven.mkv", "edit_list.mp4", "stream.ts", "camcorder.mpg"];
    for (k, name) in files.iter().enumerate() {
        let clip = Clip::open(&at(name), &OpenOptions::default()).unwrap();
        let linear = all(&clip);
        assert_eq!(linear.len(), clip.facts().frames, "{name}");
        for _ in 0..JUMPS / files.len() + usize::from(k < JUMPS % files.len()) {
            let from = dice(linear.len());
            let mut frames = clip.frames(from, None).unwrap();
            let first = frames.next_frame().unwrap().unwrap();
            assert!(first == linear[from], "{name}: picture {from} differs after a jump");
            // And from there to one farther on.
            let then = (from + 1 + dice(8)).min(linear.len());
            let got = frames.frame_from(then).unwrap();
            assert!(got.as_ref() == linear.get(then), "{name}: picture {then} differs after {from}");
        }
    }
}
