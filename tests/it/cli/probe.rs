//! `probe`: what a file is, and what it gives away.

use swingpair::media::{WriteOptions, Writer};
use swingpair::types::Frame;

use super::films::swingpair;

fn written(folder: &std::path::Path, metadata: &[(&str, &str)]) -> std::path::PathBuf {
    let path = folder.join("rep.mp4");
    let metadata = metadata.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect();
    let options =
        WriteOptions { width: 128, height: 96, display_rotation_deg: 90, metadata, ..Default::default() };
    let mut writer = Writer::create(&path, &options).unwrap();
    for _ in 0..30 {
        writer.write(&Frame::black(128, 96)).unwrap();
    }
    writer.finish().unwrap();
    path
}

#[test]
fn a_slowed_file_that_tells_its_place_is_told_in_words_and_as_data() {
    let folder = tempfile::tempdir().unwrap();
    // Invented places and makers; the keys are those that phones write.
    let path = written(
        folder.path(),
        &[
            ("com.android.capture.fps", "240.000000"),
            ("com.apple.quicktime.location.ISO6709", "+00.0000-000.0000/"),
            ("com.apple.quicktime.make", "Lantern"),
        ],
    );
    let reported = swingpair!["probe", path];
    let text = reported.out;
    assert_eq!(reported.code, Some(0), "{text}");
    for words in
        ["30 frames of 96×128, upright", "recorded at 240 fps, plays 8.00 times slower", "MP4 or MOV"]
    {
        assert!(text.contains(words), "{text}");
    }
    assert!(text.contains("reveals location, device"), "{text}");
    assert!(text.contains("warning: It contains the location where it was filmed"), "{text}");
    let reported = swingpair!["probe", path, "--json"];
    let text = reported.out;
    assert!(!text.contains(folder.path().to_str().unwrap()), "{text}");
    let json: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(json["schema"], "swingpair.probe/1");
    assert_eq!(json["read"]["width"], 96);
    assert!((json["read"]["slow_factor"].as_f64().unwrap() - 8.0).abs() < 1e-6, "{text}");
    assert_eq!(json["private"], serde_json::json!(["location", "device"]));
    assert_eq!(json["findings"][0]["code"], "location");
}

#[test]
fn a_plain_file_tells_nothing_and_text_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let reported = swingpair!["probe", written(folder.path(), &[])];
    let text = reported.out;
    assert!(text.contains("plays in real time, without audio"), "{text}");
    assert!(!text.contains("tells") && !text.contains("warning"), "{text}");
    let notes = folder.path().join("notes.mp4");
    std::fs::write(&notes, "not a film").unwrap();
    let reported = swingpair!["probe", notes];
    assert_eq!(reported.code, Some(1));
    assert!(reported.err.contains("notes.mp4"), "{}", reported.err);
}
