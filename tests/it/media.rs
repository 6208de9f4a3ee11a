//! Reading and writing clips, against footage nobody here made and against the `ffprobe` and `ffmpeg`
//! programs as independent readers and writers.

use std::path::{Path, PathBuf};
use std::process::Command;

use swingpair::media::{Clip, OpenOptions, Preset, Upright, WriteOptions, Writer, stored};
use swingpair::types::{Error, Frame, Sound};

/// The real footage beside the project, or a loud word that a test goes without.
fn footage(test: &str) -> Option<PathBuf> {
    let folder = std::env::var_os("SWINGPAIR_FOOTAGE")
        .map_or_else(|| Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/footage"), PathBuf::from);
    if folder.is_dir() {
        return Some(folder);
    }
    crate::skipped::skipped(test, &format!("no footage at {}", folder.display()));
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
    // A pipe that nobody fills would be waited for without end.
    assert!(Command::new("mkfifo").arg(at("pipe.mp4")).status().unwrap().success());
    assert!(matches!(open("pipe.mp4"), Err(Error::Unreadable { .. })));
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

/// When the `ffprobe` program shows each picture, s.
fn ffprobe_times(path: &Path) -> Vec<f64> {
    let out = Command::new("ffprobe")
        .args(["-v", "error", "-select_streams", "v:0", "-show_entries", "frame=best_effort_timestamp_time"])
        .args(["-of", "csv=p=0"])
        .arg(path)
        .output()
        .expect("the tests need the ffprobe program");
    let text = String::from_utf8(out.stdout).unwrap();
    text.lines().filter_map(|l| l.trim_end_matches(',').parse().ok()).collect()
}

#[test]
fn index_has_the_times_at_which_ffprobe_shows_pictures() {
    let Some(folder) = footage("index_has_the_times_at_which_ffprobe_shows_pictures") else { return };
    for path in clips(&folder) {
        let (clip, theirs) = (open(&path), ffprobe_times(&path));
        assert_eq!(clip.facts().frames, theirs.len(), "{}", path.display());
        for (ours, theirs_s) in clip.pts_s().iter().zip(&theirs) {
            // ffprobe prints microseconds.
            assert!((ours - (theirs_s - theirs[0])).abs() < 2e-6, "{}: {ours} {theirs_s}", path.display());
        }
    }
}

#[test]
fn reading_from_any_picture_gives_that_picture() {
    let Some(folder) = footage("reading_from_any_picture_gives_that_picture") else { return };
    for path in clips(&folder) {
        let clip = open(&path);
        let count = clip.facts().frames;
        let fit = Some((64, 64));
        let mut all = Vec::new();
        let mut frames = clip.frames(0, fit).unwrap();
        while let Some(frame) = frames.next_frame().unwrap() {
            all.push(frame);
            if all.len() > 140 {
                break;
            }
        }
        for from in (1..all.len()).step_by(9).chain([all.len() - 1]) {
            let got = clip.frames(from, fit).unwrap().next_frame().unwrap().unwrap();
            assert_eq!(got, all[from], "{} from {from}", path.display());
        }
        let last = clip.frames(count - 1, fit).unwrap().next_frame().unwrap().unwrap();
        assert_eq!(last.index, count - 1, "{}", path.display());
        assert!(clip.frames(count, fit).unwrap().next_frame().unwrap().is_none());
    }
}

#[test]
fn slow_motion_is_the_tag_against_the_measured_rate() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("slow.mp4");
    let options = WriteOptions {
        width: 64,
        height: 64,
        metadata: vec![("com.android.capture.fps".into(), "240.000000".into())],
        ..WriteOptions::default()
    };
    write(&path, &options, 20);
    let clip = open(&path);
    assert!((clip.facts().slow_factor - 8.0).abs() < 1e-3, "{:?}", clip.facts());
    assert!((clip.facts().capture_rate_hz - 240.0).abs() < 0.1);
    assert!((clip.real_s(8) - 8.0 / 240.0).abs() < 1e-4);
    assert_eq!(clip.frame_at_real(8.4 / 240.0), 8);
    assert_eq!(clip.frame_at_real(8.6 / 240.0), 9);
    assert_eq!((clip.frame_at_real(-1.0), clip.frame_at_real(9.0)), (0, 19));
    let reported = |hz| Clip::open(&path, &OpenOptions { recorded_at_hz: Some(hz), ..Default::default() });
    assert!((reported(120.0).unwrap().facts().slow_factor - 4.0).abs() < 1e-3);
    assert_eq!(reported(30.0).unwrap().facts().slow_factor, 1.0);
    for wrong in [0.0, -240.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(reported(wrong), Err(Error::Usage(_))), "{wrong}");
    }
    // Slower than it plays is no slow motion: said, not used.
    let odd = reported(15.0).unwrap();
    assert_eq!((odd.facts().slow_factor, odd.warnings()[0].code()), (1.0, "recorded_at_unused"));

    let Some(folder) = footage("slow_motion_is_the_tag_against_the_measured_rate") else { return };
    for name in ["sample_sef_slow_motion.mp4", "sample_android_slow_motion.mp4"] {
        let facts = open(&folder.join(name)).facts().clone();
        assert!((facts.slow_factor - 8.0).abs() < 0.05, "{facts:?}");
    }
    // Tagged with the rate it plays at: nothing to do.
    assert_eq!(open(&folder.join("h265_with_metadata_track.mp4")).facts().slow_factor, 1.0);
}

/// The codes at a place.
fn codes(frame: &Frame, x: usize, y: usize) -> [u8; 3] {
    [frame.y.row(y)[x], frame.u.row(y / 2)[x / 2], frame.v.row(y / 2)[x / 2]]
}

#[test]
fn patches_of_other_codings_come_out_as_bt709() {
    // Written by the ffmpeg program, whose own scaler makes the source; wanted: BT.709-6 limited
    // codes, Y′ = .2126 R′ + .7152 G′ + .0722 B′, 16–235.
    let folder = tempfile::tempdir().unwrap();
    let colours =
        [("0xC83C28", [200.0, 60.0, 40.0]), ("0x3264C8", [50.0, 100.0, 200.0]), ("0xB4B4B4", [180.0; 3])];
    let forms = [
        ("bt601", "tv", "yuv420p", "smpte170m"),
        ("bt601", "pc", "yuv420p", "smpte170m"),
        ("bt709", "pc", "yuv420p", "bt709"),
        ("bt601", "tv", "yuv422p", "smpte170m"),
        ("bt709", "tv", "yuv444p", "bt709"),
        ("bt709", "tv", "yuv420p10le", "bt709"),
        ("bt601", "pc", "yuv422p10le", "smpte170m"),
        ("bt709", "tv", "yuv420p", "bt709"),
    ];
    let path = folder.path().join("patch.mkv");
    let patch = |(colour, _): &(&str, [f64; 3])| format!("color=c={colour}:s=96x96:r=10:d=0.5,format=gbrp");
    let [a, b, c] = colours.each_ref().map(patch);
    for (matrix, range, format, tag) in forms {
        let filter = format!(
            "[0][1][2]hstack=3,scale=out_color_matrix={matrix}:out_range={range}:flags=accurate_rnd+full_chroma_int,format={format}"
        );
        let mut args: Vec<&str> =
            [&a, &b, &c].into_iter().flat_map(|p| ["-f", "lavfi", "-i", p.as_str()]).collect();
        args.extend(["-filter_complex", &filter, "-c:v", "libx264", "-crf", "1", "-pix_fmt", format]);
        args.extend(["-colorspace", tag, "-color_range", range, path.to_str().unwrap()]);
        ffmpeg(&args);
        let clip = open(&path);
        for fit in [None, Some((144, 48))] {
            let frame = clip.frames(0, fit).unwrap().next_frame().unwrap().unwrap().frame;
            for (place, (colour, rgb)) in colours.iter().enumerate() {
                let got = codes(&frame, (2 * place + 1) * frame.width() / 6, frame.height() / 2);
                let [r, g, b] = rgb.map(|c| c / 255.0);
                let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
                let want =
                    [16.0 + 219.0 * y, 128.0 + 224.0 * (b - y) / 1.8556, 128.0 + 224.0 * (r - y) / 1.5748];
                for (got, want) in got.into_iter().zip(want) {
                    let off = (f64::from(got) - want).abs();
                    assert!(off <= 2.0, "{matrix} {range} {format} {colour}: {got} instead of {want:.1}");
                }
            }
        }
    }
}

#[test]
fn hdr_footage_is_folded_into_ordinary_range() {
    let Some(folder) = footage("hdr_footage_is_folded_into_ordinary_range") else { return };
    for name in ["dolbyVision-hdr.MOV", "hlg10-color-test.mp4", "sample_with_color_info.mp4"] {
        let clip = open(&folder.join(name));
        let frame = clip.frames(0, Some((640, 640))).unwrap().next_frame().unwrap().unwrap().frame;
        let mean = frame.y.data.iter().map(|y| f64::from(*y)).sum::<f64>() / frame.y.data.len() as f64;
        let clipped = frame.y.data.iter().filter(|y| **y >= 235).count() as f64 / frame.y.data.len() as f64;
        println!("{name}: mean luma {mean:.1}, clipped {:.2} %", 100.0 * clipped);
        assert!((30.0..200.0).contains(&mean) && clipped < 0.02, "{name}: {mean} {clipped}");
        assert!(frame.y.data.iter().all(|y| (16..=236).contains(y)), "{name}");
    }
}

#[test]
fn sound_comes_back_where_it_was() {
    let folder = tempfile::tempdir().unwrap();
    for (start_s, rate_hz) in [(0.0, 48_000u32), (0.3, 44_100), (-0.1, 48_000)] {
        let path = folder.path().join("sound.mp4");
        // A short burst half a second into the sound.
        let mut samples = vec![0.0f32; rate_hz as usize];
        for i in 0..rate_hz as usize / 200 {
            samples[rate_hz as usize / 2 + i] = if i % 20 < 10 { 0.8 } else { -0.8 };
        }
        let sound = Some(Sound { rate_hz, start_s, samples });
        let options = WriteOptions { width: 64, height: 64, sound, ..WriteOptions::default() };
        write(&path, &options, 60);
        let sound = open(&path).sound(16_000).unwrap().unwrap();
        assert_eq!(sound.rate_hz, 16_000);
        let end_s = sound.start_s + sound.samples.len() as f64 / 16_000.0;
        assert!((end_s - 2.0).abs() < 0.05, "{end_s}");
        let loud = sound.samples.iter().position(|s| s.abs() > 0.4).unwrap();
        let at_s = sound.start_s + loud as f64 / 16_000.0;
        assert!((at_s - (start_s + 0.5)).abs() < 0.002, "{at_s} for {start_s}");
    }
    let silent = folder.path().join("silent.mp4");
    write(&silent, &WriteOptions { width: 64, height: 64, ..WriteOptions::default() }, 5);
    assert_eq!(open(&silent).sound(16_000).unwrap(), None);

    let Some(folder) = footage("sound_comes_back_where_it_was") else { return };
    // Looked at and listened to by eye: the hit is heard at 4.965 s of this file.
    let golf = open(&folder.join("golf_swing.mp4")).sound(16_000).unwrap().unwrap();
    let loudest =
        (0..golf.samples.len()).max_by(|a, b| golf.samples[*a].abs().total_cmp(&golf.samples[*b].abs()));
    let at_s = golf.start_s + loudest.unwrap() as f64 / 16_000.0;
    println!("golf: loudest at {at_s:.3} s, starts at {:.4} s", golf.start_s);
    assert!((at_s - 4.965).abs() < 0.03, "{at_s}");
}

#[test]
fn damage_is_said_and_what_is_whole_is_read() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("whole.mp4");
    write(&path, &WriteOptions { width: 320, height: 240, crf: 10, ..WriteOptions::default() }, 90);
    let bytes = std::fs::read(&path).unwrap();

    // The end is missing: the index knows pictures whose bytes are gone.
    let cut = folder.path().join("cut.mp4");
    std::fs::write(&cut, &bytes[..bytes.len() * 2 / 3]).unwrap();
    let clip = open(&cut);
    assert!(!clip.warnings().is_empty());
    assert!((30..90).contains(&clip.facts().frames), "{:?}", clip.facts());
    let mut frames = clip.frames(0, None).unwrap();
    let mut count = 0;
    while frames.next_frame().unwrap().is_some() {
        count += 1;
    }
    assert!(count + 2 >= clip.facts().frames, "{count} of {}", clip.facts().frames);

    // Noise in the middle: reading goes on behind it.
    let mut noisy = bytes.clone();
    let at = bytes.len() / 2;
    for (i, b) in noisy[at..at + bytes.len() / 20].iter_mut().enumerate() {
        *b = (i * 131 % 253) as u8;
    }
    let spoilt = folder.path().join("spoilt.mp4");
    std::fs::write(&spoilt, &noisy).unwrap();
    let clip = open(&spoilt);
    let mut frames = clip.frames(0, None).unwrap();
    let (mut count, mut last) = (0, 0);
    while let Some(frame) = frames.next_frame().unwrap() {
        (count, last) = (count + 1, frame.index);
    }
    println!("noise: {count} of 90, last {last}, {:?}", frames.warnings());
    assert!(count > 40 && last == 89);
    assert!(!frames.warnings().is_empty());
}
