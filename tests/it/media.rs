//! Reading and writing clips, against footage nobody here made and against the `ffprobe` and `ffmpeg`
//! programs as independent readers and writers.

use std::path::{Path, PathBuf};
use std::process::Command;

use swingpair::ground::{Error, Frame, Sound};
use swingpair::media::{Clip, OpenOptions, Preset, Upright, WriteOptions, Writer, stored};

/// The real footage beside the project, or a loud word that a test goes without.
fn footage(test: &str) -> Option<PathBuf> {
    let folder = std::env::var_os("SWINGPAIR_FOOTAGE")
        .map_or_else(|| Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/footage"), PathBuf::from);
    if folder.is_dir() {
        return Some(folder);
    }
    eprintln!("SKIPPED: {test}: no footage at {}", folder.display());
    None
}

/// Clips of the footage folder.
fn clips(folder: &Path) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| {
            p.extension().is_some_and(|e| e.eq_ignore_ascii_case("mp4") || e.eq_ignore_ascii_case("mov"))
        })
        .collect();
    files.sort();
    assert!(!files.is_empty());
    files
}

fn open(path: &Path) -> Clip {
    Clip::open(path, &OpenOptions::default()).unwrap_or_else(|e| panic!("{e}"))
}

fn ffprobe(path: &Path, entries: &str) -> String {
    let out = Command::new("ffprobe")
        .args(["-v", "error", "-count_frames", "-show_entries", entries, "-of", "flat"])
        .arg(path)
        .output()
        .expect("the tests need the ffprobe program");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).unwrap()
}

fn ffmpeg(args: &[&str]) {
    let out = Command::new("ffmpeg")
        .args(["-v", "error", "-y"])
        .args(args)
        .output()
        .expect("the tests need the ffmpeg program");
    assert!(out.status.success(), "{args:?}: {}", String::from_utf8_lossy(&out.stderr));
}

/// A picture with a light block in one corner and another colour in each, and number `n` as a bar.
fn made_up(width: usize, height: usize, n: usize) -> Frame {
    let mut frame = Frame::black(width, height);
    for y in 0..height {
        for x in 0..width {
            let corner = (usize::from(x >= width / 2), usize::from(y >= height / 2));
            let (luma, u, v) = match corner {
                (0, 0) => (200, 128, 128),
                (1, 0) => (100, 90, 150),
                (0, 1) => (60, 160, 110),
                _ => (40, 128, 128),
            };
            let luma = if y < 4 && x < (8 * n) % width { 120 } else { luma };
            frame.y.row_mut(y)[x] = luma;
            frame.u.row_mut(y / 2)[x / 2] = u;
            frame.v.row_mut(y / 2)[x / 2] = v;
        }
    }
    frame
}

fn write(path: &Path, options: &WriteOptions, count: usize) -> swingpair::media::Written {
    let mut writer = Writer::create(path, options).unwrap_or_else(|e| panic!("{e}"));
    for n in 0..count {
        let upright = Upright::from_turn(options.display_rotation_deg, options.mirrored);
        let (width, height) = upright.size(options.width, options.height);
        let frame = stored(&made_up(width, height, n), options.display_rotation_deg, options.mirrored);
        writer.write(&frame).unwrap_or_else(|e| panic!("{e}"));
    }
    writer.finish().unwrap_or_else(|e| panic!("{e}"))
}

/// The largest difference between two pictures' planes, away from block edges.
fn apart(a: &Frame, b: &Frame) -> u8 {
    assert_eq!((a.width(), a.height()), (b.width(), b.height()));
    let worst = |a: &[u8], b: &[u8]| a.iter().zip(b).map(|(a, b)| a.abs_diff(*b)).max().unwrap_or(0);
    worst(&a.y.data, &b.y.data).max(worst(&a.u.data, &b.u.data)).max(worst(&a.v.data, &b.v.data))
}

#[test]
fn a_written_clip_is_what_ffprobe_sees() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made up.mp4");
    let sound = Sound { rate_hz: 48_000, start_s: 0.0, samples: vec![0.25; 48_000] };
    let options = WriteOptions {
        width: 320,
        height: 240,
        rate: (30_000, 1_001),
        preset: Preset::Veryfast,
        sound: Some(sound),
        ..WriteOptions::default()
    };
    let written = write(&path, &options, 45);
    assert_eq!((written.frames, written.width, written.height), (45, 320, 240));
    assert!(written.has_sound && written.level <= 40 && written.codec == "h264", "{written:?}");
    let seen = ffprobe(&path, "stream:format_tags:stream_tags");
    for fact in [
        "0.codec_name=\"h264\"",
        "0.profile=\"High\"",
        "0.pix_fmt=\"yuv420p\"",
        "0.width=320",
        "0.height=240",
        "0.has_b_frames=0",
        "0.color_range=\"tv\"",
        "0.color_space=\"bt709\"",
        "0.color_transfer=\"bt709\"",
        "0.color_primaries=\"bt709\"",
        "0.r_frame_rate=\"30000/1001\"",
        "0.nb_read_frames=\"45\"",
        "1.codec_name=\"aac\"",
        "1.channels=1",
    ] {
        assert!(seen.contains(fact), "{fact} not in\n{seen}");
    }
    for word in ["encoder", "creation_time", "location", "comment"] {
        assert!(!seen.contains(&format!("tags.{word}")), "{word} in\n{seen}");
    }
    let bytes = std::fs::read(&path).unwrap();
    let at = |word: &[u8]| bytes.windows(word.len()).position(|w| w == word);
    assert!(at(b"moov").unwrap() < at(b"mdat").unwrap());
    for word in [&b"x264"[..], b"Lavf", b"Lavc"] {
        assert_eq!(at(word), None, "{}", String::from_utf8_lossy(word));
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);

    let clip = open(&path);
    assert!((clip.facts().rate_hz - 30_000.0 / 1_001.0).abs() < 0.01);
    assert!((clip.facts().duration_s - 45.0 * 1.001 / 30.0).abs() < 1e-3);
    let mut frames = clip.frames(20, None).unwrap();
    let first = frames.next_frame().unwrap().unwrap();
    assert_eq!(first.index, 20);
    assert!((first.pts_s - 20.0 * 1.001 / 30.0).abs() < 1e-4);
    let worst = apart(&first.frame, &made_up(320, 240, 20));
    assert!(worst <= 40, "{worst}");
}

#[test]
fn all_eight_ways_to_lay_a_picture_come_out_upright() {
    let folder = tempfile::tempdir().unwrap();
    for turn in [0, 90, 180, 270] {
        for mirrored in [false, true] {
            let path = folder.path().join(format!("{turn}{mirrored}.mp4"));
            let options = WriteOptions {
                width: 128,
                height: 64,
                crf: 4,
                preset: Preset::Veryfast,
                display_rotation_deg: turn,
                mirrored,
                ..WriteOptions::default()
            };
            let written = write(&path, &options, 3);
            let clip = open(&path);
            let size = if turn % 180 == 0 { (128, 64) } else { (64, 128) };
            assert_eq!((clip.facts().width, clip.facts().height), size);
            assert_eq!((written.width, written.height), size);
            let mut frames = clip.frames(0, None).unwrap();
            for n in 0..3 {
                let got = frames.next_frame().unwrap().unwrap();
                let worst = apart(&got.frame, &made_up(size.0, size.1, n));
                assert!(worst <= 16, "{turn}° mirrored {mirrored}, picture {n}: off by {worst}");
            }
            assert!(frames.next_frame().unwrap().is_none());
        }
    }
}

#[test]
fn every_file_of_the_footage_decodes_to_its_index() {
    let Some(folder) = footage("every_file_of_the_footage_decodes_to_its_index") else { return };
    for path in clips(&folder) {
        let clip = open(&path);
        let mut frames = clip.frames(0, Some((320, 320))).unwrap();
        let mut seen = 0;
        while let Some(frame) = frames.next_frame().unwrap_or_else(|e| panic!("{e}")) {
            assert_eq!(frame.index, seen, "{}", path.display());
            assert_eq!(frame.pts_s, clip.pts_s()[seen], "{}", path.display());
            let size = clip.frame_size(Some((320, 320)));
            assert_eq!((frame.frame.width(), frame.frame.height()), size, "{}", path.display());
            seen += 1;
        }
        println!(
            "{}: {seen} of {:?} {:?} {:?}",
            path.display(),
            clip.facts(),
            clip.warnings(),
            frames.warnings()
        );
        assert_eq!(seen, clip.facts().frames, "{}", path.display());
        assert!(frames.warnings().is_empty(), "{}: {:?}", path.display(), frames.warnings());
    }
}

#[test]
fn bad_files_are_told_apart() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let open = |name: &str| Clip::open(&at(name), &OpenOptions::default());
    assert!(matches!(open("none.mp4"), Err(Error::Missing { .. })));
    std::fs::write(at("empty.mp4"), "").unwrap();
    assert!(matches!(open("empty.mp4"), Err(Error::Empty { .. })));
    for name in ["text.mp4", "text.txt"] {
        std::fs::write(at(name), "Grounders to short\n".repeat(200)).unwrap();
        let got = open(name);
        assert!(matches!(got, Err(Error::NotVideo { .. })), "{name}: {got:?}");
    }
    assert!(matches!(Clip::open(folder.path(), &OpenOptions::default()), Err(Error::Unreadable { .. })));
    write(&at("one.mp4"), &WriteOptions { width: 64, height: 64, ..WriteOptions::default() }, 1);
    assert!(matches!(open("one.mp4"), Err(Error::TooShort { frames: 1, .. })));
    ffmpeg(&["-f", "lavfi", "-i", "sine=d=1", at("sound.m4a").to_str().unwrap()]);
    assert!(matches!(open("sound.m4a"), Err(Error::NotVideo { .. })));
}

#[test]
fn bad_targets_are_refused_and_leave_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let options = WriteOptions { width: 64, height: 64, ..WriteOptions::default() };
    let missing = Writer::create(&folder.path().join("no/clip.mp4"), &options);
    assert!(matches!(missing.err(), Some(Error::Unwritable { .. })));
    let target = folder.path().join("clip.mp4");
    std::fs::write(&target, "old").unwrap();
    let mut writer = Writer::create(&target, &options).unwrap();
    writer.write(&Frame::black(64, 64)).unwrap();
    assert!(matches!(writer.write(&Frame::black(32, 64)), Err(Error::Encode { .. })));
    drop(writer);
    assert_eq!(std::fs::read(&target).unwrap(), b"old");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
}
