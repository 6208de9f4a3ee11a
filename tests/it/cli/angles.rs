//! Two phones on one swing.

use std::path::{Path, PathBuf};
use std::process::Command;

use swingpair::types::EventId;
use tempfile::TempDir;

use super::films::{films, swingpair};

fn contact_s(name: &str) -> f64 {
    films().truth(name).events[&EventId::Contact]
}

/// The film copied by ffmpeg with other words about its streams.
fn changed(clip: &Path, name: &str, words: &[&str]) -> PathBuf {
    let to = clip.with_file_name(name);
    let done = Command::new("ffmpeg").args(["-v", "error", "-i"]).arg(clip).args(words).arg(&to).status();
    assert!(done.unwrap().success(), "ffmpeg {words:?}");
    to
}

#[test]
fn two_angles_are_lined_up_by_the_sound_of_contact_and_checked_by_the_picture() {
    let dir = TempDir::new().unwrap();
    let (side, behind) = (films().read_before("best", &dir), films().read_before("behind", &dir));
    let json = swingpair!["angles", side, behind, "--json", "-q"].json();
    assert_eq!(json["schema"], "swingpair.angles/1");
    assert_eq!(json["clips"][1], "behind.mp4");
    let truth = contact_s("behind") - contact_s("best");
    let offset = &json["offset"];
    let (found, plus_minus) =
        (offset["offset_s"].as_f64().unwrap(), offset["plus_minus_s"].as_f64().unwrap());
    assert!((found - truth).abs() <= plus_minus && plus_minus < 0.02, "{found} ± {plus_minus}, true {truth}");
    assert!(json["events"].as_array().unwrap().iter().all(|e| e["agrees"] == true), "{json}");
    // With the distances told the ± is a third of it. Phones 6 and 7.5 m from the hitter; he hits in front of himself.
    let reported = swingpair!["angles", side, behind, "--json", "-q", "--distances", "5.4,8.3"].json();
    let (near, sure) = (
        reported["offset"]["offset_s"].as_f64().unwrap(),
        reported["offset"]["plus_minus_s"].as_f64().unwrap(),
    );
    assert!((near - truth).abs() <= 0.004 && sure < 0.004, "{near} ± {sure}, true {truth}");
    let said = swingpair!["angles", side, behind];
    assert!(said.out.contains("behind.mp4") && said.out.contains("confidence"), "{}", said.out);
}

#[test]
fn where_sound_is_no_witness_the_picture_is_and_without_both_it_is_refused() {
    let dir = TempDir::new().unwrap();
    let (side, behind) = (films().read_before("best", &dir), films().read_before("behind", &dir));
    let dumb = changed(&behind, "dumb.mp4", &["-an", "-c", "copy"]);
    let said = swingpair!["angles", side, dumb, "--sound-alone"];
    assert_eq!((said.code, said.out.as_str()), (Some(1), ""), "{}", said.err);
    assert!(said.err.contains("dumb.mp4 has no sound") && said.err.contains("mark"), "{}", said.err);
    let json = swingpair!["angles", side, dumb, "--json", "-q"].json();
    assert_eq!((&json["by"], &json["unheard"]["why"]), (&"picture".into(), &"no_sound".into()), "{json}");
    assert_eq!(json["warnings"][0]["code"], "lined_up_by_picture");
    assert!(json["offset"]["plus_minus_s"].as_f64().unwrap() > 0.005);

    let silent = changed(&behind, "silent.mp4", &["-af", "volume=0", "-c:v", "copy"]);
    let said = swingpair!["angles", side, silent, "--sound-alone"];
    assert!(said.code == Some(1) && said.err.contains("no sudden sound is heard"), "{}", said.err);

    let tag = ["-c", "copy", "-movflags", "use_metadata_tags", "-metadata", "com.android.capture.fps=240"];
    let slow = changed(&behind, "slow.mp4", &tag);
    let said = swingpair!["angles", side, slow, "--sound-alone"];
    assert!(said.code == Some(1) && said.err.contains("slow.mp4 is in slow motion"), "{}", said.err);

    let beat = changed(
        &side,
        "beat.mp4",
        &["-f", "lavfi", "-i", "aevalsrc='if(lt(mod(t,0.4),0.01),sin(6000*t),0)':s=48000:d=2.4"]
            .iter()
            .chain(&["-map", "0:v", "-map", "1:a", "-c:v", "copy", "-shortest"])
            .copied()
            .collect::<Vec<_>>(),
    );
    let late = changed(&beat, "late.mp4", &["-ss", "0.15"]);
    let said = swingpair!["angles", beat, late, "--sound-alone"];
    assert!(said.code == Some(1) && said.err.contains("several offsets fit"), "{}", said.err);

    let twice = changed(&side, "twice.mp4", &["-c", "copy"]);
    std::fs::copy(&side, &twice).unwrap();
    let said = swingpair!["angles", side, twice];
    assert!(said.code == Some(2) && said.err.contains("is given twice"), "{}", said.err);
    let said = swingpair!["angles", side, behind, "--distances", "6"];
    assert_eq!(said.code, Some(2), "{}", said.err);
}

#[test]
fn a_rep_of_two_angles_is_shown_in_step_and_each_moment_comes_from_the_angle_that_sees_it() {
    let dir = TempDir::new().unwrap();
    let [today, best, behind] = ["today", "best", "behind"].map(|name| films().read_before(name, &dir));
    let both = |first: &Path| format!("{}+{}", first.display(), behind.display());
    let (out, trace) = (dir.path().join("four.mp4"), dir.path().join("four.jsonl"));
    let words = ["--ready", "quick", "--size", "300x540", "-q", "--json"];
    let said = swingpair![
        "pair",
        both(&today),
        both(&best),
        "-o",
        out,
        "--trace",
        trace,
        words[0],
        words[1],
        words[2],
        words[3],
        words[4],
        words[5]
    ];
    let json = said.json();
    // Load is not seen from behind, contact is heard from both; measures are those of the side.
    assert_eq!(json["reference"]["hitter"]["view"], "open_side");
    assert!(json["reference"]["measures"]["stride_length"].is_object(), "{json}");
    let truth = contact_s("behind") - contact_s("best");
    let mut shown = 0;
    for line in std::fs::read_to_string(&trace).unwrap().lines() {
        let line: serde_json::Value = serde_json::from_str(line).unwrap();
        let at = |side: &str| line[side]["pts_s"].as_f64();
        if let (Some(first), Some(second)) = (at("reference"), at("reference_second")) {
            // Half a picture of each camera and the ± of the offset.
            assert!((second - first - truth).abs() < 0.5 / 120.0 + 0.5 / 60.0 + 0.012, "{line}");
            assert!(line["today_second"].is_object());
            shown += 1;
        }
    }
    assert!(shown > 60, "{shown}");

    // One of the two alone has a second angle; a sheet takes such reps too; what is not there is named.
    let sheet = dir.path().join("sheet.png");
    let said = swingpair!["sheet", today, both(&best), "-o", sheet, "-q"];
    assert!(said.code == Some(0) && sheet.exists(), "{}", said.err);
    let gone = format!("{}+{}", today.display(), dir.path().join("none.mp4").display());
    let said = swingpair!["pair", gone, best, "-o", out];
    assert!(said.code == Some(1) && said.err.contains("none.mp4"), "{}", said.err);
    let said = swingpair!["pair", both(&behind), best, "-o", out];
    assert!(said.code == Some(2) && said.err.contains("is given twice"), "{}", said.err);
}

/// Two swings of one hitter, filmed from one side: they are lined up by nobody without a word.
#[test]
fn two_films_from_one_side_are_named() {
    let dir = TempDir::new().unwrap();
    let [today, best] = ["today", "best"].map(|name| films().read_before(name, &dir));
    let said = swingpair!["angles", today, best];
    let named = "today.mp4 and best.mp4 are both seen from the open side";
    assert!(said.err.contains(named), "{said:?}");
    match said.code {
        Some(0) => assert!(said.err.contains("may be two different swings"), "{said:?}"),
        code => {
            assert_eq!((code, said.out.as_str()), (Some(1), ""), "{said:?}");
            assert!(said.err.contains("differ too much") && said.err.contains("--sound-alone"), "{said:?}");
        }
    }
    // From two sides nothing of the kind is said.
    let (side, behind) = (best, films().read_before("behind", &dir));
    let said = swingpair!["angles", side, behind];
    assert!(!said.err.contains("two swings") && !said.err.contains("two hitters"), "{said:?}");
}
