//! `pair` fitted to a screen, a size and a spoken note.

use swingpair::media::{Clip, OpenOptions, WriteOptions, Writer, check_playable};
use swingpair::types::{Frame, Limits};

use super::films::{films, listing, swingpair, words};

/// A sound file (WAV, 16 bit, one channel, 8 kHz) of a tone.
fn wav(path: &std::path::Path, seconds: f64, level: f64) {
    let samples: Vec<i16> = (0..(seconds * 8000.0) as usize)
        .map(|i| (level * 32_000.0 * (f64::from(i as u32) * 0.3).sin()) as i16)
        .collect();
    let data: Vec<u8> = samples.iter().flat_map(|s| s.to_le_bytes()).collect();
    let mut file = b"RIFF".to_vec();
    file.extend((36 + data.len() as u32).to_le_bytes());
    file.extend(b"WAVEfmt ");
    file.extend(16u32.to_le_bytes());
    for value in [1u16, 1] {
        file.extend(value.to_le_bytes());
    }
    file.extend(8000u32.to_le_bytes());
    file.extend(16_000u32.to_le_bytes());
    for value in [2u16, 16] {
        file.extend(value.to_le_bytes());
    }
    file.extend(b"data");
    file.extend((data.len() as u32).to_le_bytes());
    file.extend(data);
    std::fs::write(path, file).unwrap();
}

#[test]
fn a_clip_is_made_under_its_size_or_refused_with_the_smallest() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let out = folder.path().join("out.mp4");
    let all = ["--size", "480x852", "--slow", "2"];
    let run = |max: &str| {
        let mut words = words!["pair", a, b, "-o", out, "--json", "--max-size", max].to_vec();
        words.extend(all.iter().map(Into::into));
        super::films::run(&words)
    };
    let whole = run("100MB").json()["written"]["bytes"].as_u64().unwrap();
    let most = whole * 6 / 10 / 1000;
    let made = run(&format!("{most}KB")).json()["written"]["bytes"].as_u64().unwrap();
    assert!(made <= most * 1000 && made > most * 600, "{made} of {most} KB");
    assert_eq!(made, std::fs::metadata(&out).unwrap().len());
    let reported = check_playable(&out, &Limits::default()).unwrap();
    assert!(reported.plays_everywhere, "{:?}", reported.findings);

    // Too small: the sentence names a size, and that size is enough.
    std::fs::remove_file(&out).unwrap();
    let before = listing(folder.path());
    let said = run("20KB");
    assert_eq!((said.code, said.out.as_str()), (Some(1), ""), "{}", said.err);
    assert_eq!(listing(folder.path()), before);
    let reported = said.err.split("it takes ").nth(1).unwrap_or_else(|| panic!("{}", said.err));
    let smallest: String = reported.split(':').next().unwrap().replace(' ', "");
    assert!(said.err.contains("--max-size"), "{}", said.err);
    let made = run(&smallest).json();
    assert!(made["written"]["bytes"].as_u64().unwrap() > 20_000, "{smallest}");
}

#[test]
fn a_spoken_note_is_heard_and_holds_the_card() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let (out, note) = (folder.path().join("out.mp4"), folder.path().join("note.wav"));
    let small = |words: &[std::ffi::OsString]| {
        let mut all = words.to_vec();
        all.extend(["--size", "256x456", "--slow", "1"].iter().map(Into::into));
        super::films::run(&all)
    };
    let plain = small(&words!["pair", a, b, "-o", out, "--json"]).json();
    let plain_s = plain["written"]["duration_s"].as_f64().unwrap();
    wav(&note, plain_s + 2.5, 0.4);
    let spoken = small(&words!["pair", a, b, "-o", out, "--json", "--voice", note]).json();
    let spoken_s = spoken["written"]["duration_s"].as_f64().unwrap();
    assert!((spoken_s - plain_s - 2.5).abs() < 0.1, "{plain_s} {spoken_s}");
    let sound = Clip::open(&out, &OpenOptions::default()).unwrap().sound(8000).unwrap().unwrap();
    let loud = |from: f64, to: f64| {
        let piece = &sound.samples[(from * 8000.0) as usize..(to * 8000.0) as usize];
        piece.iter().map(|s| f64::from(s * s)).sum::<f64>() / piece.len() as f64
    };
    for from in [0.2, plain_s - 1.0, plain_s + 1.5] {
        assert!(loud(from, from + 0.5) > 0.02, "at {from}: {}", loud(from, from + 0.5));
    }
    // Notes that cannot be heard.
    let (silent, mute) = (folder.path().join("silent.wav"), folder.path().join("mute.mp4"));
    wav(&silent, 1.0, 0.0);
    let options = WriteOptions { width: 64, height: 64, ..Default::default() };
    let mut writer = Writer::create(&mute, &options).unwrap();
    (0..5).for_each(|_| writer.write(&Frame::black(64, 64)).unwrap());
    writer.finish().unwrap();
    let text = folder.path().join("note.txt");
    std::fs::write(&text, "keep your head still").unwrap();
    for (file, why) in
        [(&silent, "it is silent"), (&mute, "it has no audio track"), (&text, "has no usable audio")]
    {
        let said = small(&words!["pair", a, b, "-o", out, "--voice", file]);
        assert!(
            said.code == Some(1) && said.err.contains(why) && said.err.contains("has no usable audio"),
            "{}",
            said.err
        );
    }
    let said = swingpair!["pair", a, b, "-o", mute, "--voice", mute];
    assert!(said.code == Some(2) && said.err.contains("is one of the inputs"), "{}", said.err);
    let said = swingpair!["pair", a, b, "-o", out, "--for", "phone", "--size", "2160x3840"];
    assert!(said.code == Some(2) && said.err.contains("more than every phone can play"), "{}", said.err);
    for words in [["--for", "watch"], ["--max-size", "16"]] {
        let said = swingpair!["pair", a, b, "-o", out, words[0], words[1]];
        assert_eq!(said.code, Some(2), "{}", said.err);
    }
}
