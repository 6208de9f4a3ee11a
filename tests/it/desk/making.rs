//! A pair as it is shown and made: the mirror image, the written and the spoken note.

use serde_json::{Value, json};
use swingpair::store::short_hash;

use super::served::Served;
use crate::cli::films::{films, swingpair};

/// A sound file (RIFF WAVE, PCM) with a tone, so many s long.
fn tone(seconds: f64) -> Vec<u8> {
    let rate_hz = 8000u32;
    let samples = (0..(seconds * f64::from(rate_hz)) as usize)
        .flat_map(|i| ((8000.0 * (i as f64 * 0.3).sin()) as i16).to_le_bytes());
    let data: Vec<u8> = samples.collect();
    let mut out = Vec::new();
    let number = |out: &mut Vec<u8>, n: u32| out.extend(n.to_le_bytes());
    out.extend(b"RIFF");
    number(&mut out, 36 + data.len() as u32);
    out.extend(b"WAVEfmt ");
    number(&mut out, 16);
    out.extend([1, 0, 1, 0]);
    number(&mut out, rate_hz);
    number(&mut out, 2 * rate_hz);
    out.extend([2, 0, 16, 0]);
    out.extend(b"data");
    number(&mut out, data.len() as u32);
    out.extend(data);
    out
}

#[test]
fn a_note_is_heard_and_read_in_the_video() {
    let folder = tempfile::tempdir().unwrap();
    let _ = ["today", "best"].map(|name| films().read_before(name, &folder));
    let desk = Served::start(folder.path());
    let [today, best] = ["today.mp4", "best.mp4"].map(|name| short_hash(name.as_bytes()));
    let sound = tone(12.0);
    let voice = desk.send("/api/1/voices", &sound).json();
    assert!((voice["seconds"].as_f64().unwrap() - 12.0).abs() < 0.1, "{voice}");
    let back = desk.get(&format!("/api/1/voices/{}", voice["id"].as_str().unwrap()));
    assert!(back.status == 200 && back.body == sound);
    assert!(back.head.to_lowercase().contains("content-type: audio/wav"), "{}", back.head);

    // What is no sound, or too much of it, is told in a sentence, and the note before stays.
    for (bytes, status) in
        [(b"no sound at all".to_vec(), 400), (tone(310.0), 400), (vec![0; 20_000_001], 413)]
    {
        let refused = desk.send("/api/1/voices", &bytes);
        assert_eq!(refused.status, status, "{}", refused.text());
        let told: Value = serde_json::from_slice(&refused.body).unwrap();
        let why = told["error"].as_str().unwrap();
        assert!(!why.contains("tmp") && why.len() > 10, "{why}");
    }
    let url = format!("/api/1/pairs/{today}/{best}/video");
    let gone = desk.own("POST", &url, &json!({ "voice": "none" }).to_string());
    assert!(gone.status == 400 && gone.text().contains("recording"), "{}", gone.text());
    let long = desk.own("POST", &url, &json!({ "note": "x".repeat(200) }).to_string());
    assert_eq!(long.status, 400, "{}", long.text());

    let wish = json!({ "plan": "quick", "note": "Stay back longer", "voice": voice["id"] });
    let video = desk.make(&url, &wish);
    let made = folder.path().join(video["name"].as_str().unwrap());
    assert!(video["duration_s"].as_f64().unwrap() > 11.9, "the note ends within it: {video}");
    let facts = swingpair!["probe", made, "--json"].json();
    assert!(facts.to_string().contains("aac"), "{facts}");
    assert_eq!(swingpair!["check", made].code, Some(0));
    // Nothing of the note stays in the folder.
    let names = crate::cli::films::listing(folder.path());
    assert_eq!(names, ["best.mp4", "best.swing.json", "today.mp4", "today.swing.json", "videos"]);
}

#[test]
fn a_lefty_is_mirrored_beside_a_righty() {
    let folder = tempfile::tempdir().unwrap();
    let _ = ["today", "best"].map(|name| films().read_before(name, &folder));
    let desk = Served::start(folder.path());
    let [today, best] = ["today.mp4", "best.mp4"].map(|name| short_hash(name.as_bytes()));
    let pair = format!("/api/1/pairs/{today}/{best}");
    let refused = desk.get(&format!("{pair}?mirror=true"));
    assert!(refused.status == 400 && refused.text().contains("mirrored"), "{}", refused.text());
    assert_eq!(desk.get(&pair).json()["can_mirror"], false);
    let said = desk.own("PUT", &format!("/api/1/clips/{best}/bats"), r#"{"side":"left"}"#);
    assert_eq!(said.status, 200, "{}", said.text());
    let plain = desk.get(&pair).json();
    assert_eq!((&plain["can_mirror"], &plain["mirrored"]), (&Value::Bool(true), &Value::Bool(false)));
    let mirrored = desk.get(&format!("{pair}?mirror=true")).json();
    assert_eq!(mirrored["mirrored"], true);
    assert_eq!(mirrored["sides"][1]["hitter"]["bats"], "left", "how he truly bats is told");
    assert_ne!(mirrored["version"], plain["version"]);
    let picture = |query: &str| {
        let jpeg = desk.get(&format!("{pair}/pictures/today/60?width=600&height=400{query}"));
        assert_eq!(jpeg.status, 200, "{}", jpeg.text());
        image::load_from_memory(&jpeg.body).unwrap().to_luma8()
    };
    let (a, b) = (picture(""), picture("&mirror=true"));
    assert_eq!(a.dimensions(), b.dimensions());
    // Of the other side's panel nothing has stayed where it was.
    let apart = |from: u32, to: u32| {
        let all = (from..to).flat_map(|x| (0..a.height()).map(move |y| (x, y)));
        let (sum, n) = all.fold((0u64, 0u64), |(sum, n), (x, y)| {
            (sum + u64::from(a.get_pixel(x, y).0[0].abs_diff(b.get_pixel(x, y).0[0])), n + 1)
        });
        sum as f64 / n as f64
    };
    let half = a.width() / 2;
    assert!(
        apart(half + 4, a.width()) > 4.0 * apart(0, half - 4),
        "{} {}",
        apart(0, half),
        apart(half, a.width())
    );
}
