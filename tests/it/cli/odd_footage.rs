//! Swings in footage that lost, repeats or slows down its pictures: what can be measured is, the rest is said.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use swingpair::ground::EventId;
use tempfile::TempDir;

use super::films::{films, swingpair};

/// A film as ffmpeg's command line changes it.
fn changed(folder: &TempDir, film: &str, name: &str, words: &[&str]) -> PathBuf {
    let to = folder.path().join(name);
    let mut command = Command::new("ffmpeg");
    command.args(["-v", "error", "-y", "-i"]).arg(films().bare(film, folder)).args(words);
    assert!(
        command
            .args(["-c:v", "libx264", "-crf", "16", "-preset", "veryfast"])
            .arg(&to)
            .status()
            .unwrap()
            .success()
    );
    to
}

fn read(clip: &Path) -> Value {
    swingpair!["read", clip, "--json"].json()
}

fn warned(reading: &Value, code: &str) -> bool {
    reading["warnings"].as_array().unwrap().iter().any(|w| w["code"] == code)
}

/// Events that lie farther from where the whole film has them than both ± together allow.
fn strayed(reading: &Value, events: &[EventId]) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let whole = read(&films().read_before("today", &folder));
    let number = |of: &Value, event: EventId, key: &str| of["events"][event.word()][key].as_f64().unwrap();
    let strays = |event: &&EventId| {
        let off = number(reading, **event, "time_s") - number(&whole, **event, "time_s");
        let both = number(reading, **event, "plus_minus_s").hypot(number(&whole, **event, "plus_minus_s"));
        off.abs() > both
    };
    let told = |event: &EventId| {
        format!("{event:?}: {} {}", reading["events"][event.word()], whole["events"][event.word()])
    };
    events.iter().filter(strays).map(told).collect()
}

#[test]
fn a_hole_takes_away_what_falls_into_it_and_no_more() {
    let folder = tempfile::tempdir().unwrap();
    let clip = changed(
        &folder,
        "today",
        "hole.mp4",
        &["-vf", "select=not(between(t\\,1.28\\,1.42))", "-fps_mode", "vfr"],
    );
    let reading = read(&clip);
    assert!(warned(&reading, "measures_in_a_hole"), "{}", reading["warnings"]);
    assert_eq!(reading["absent"]["head_travel_stance_to_plant"], "pictures are missing there");
    for whole in ["plant_to_contact", "head_travel_plant_to_contact", "peak_hand_speed", "stride_length"] {
        assert!(reading["measures"][whole].is_object(), "{whole}: {}", reading["absent"]);
    }
    assert_eq!(strayed(&reading, &[EventId::Load, EventId::Plant, EventId::Contact]), Vec::<String>::new());
}

#[test]
fn repeated_pictures_are_not_measured() {
    let folder = tempfile::tempdir().unwrap();
    let clip = changed(&folder, "today", "repeats.mp4", &["-vf", "fps=48,fps=60"]);
    let reading = read(&clip);
    assert!(warned(&reading, "pictures_repeat"), "{}", reading["warnings"]);
    let read = [EventId::Load, EventId::Plant, EventId::HandsStart, EventId::Contact];
    assert_eq!(strayed(&reading, &read), Vec::<String>::new());
}

#[test]
fn slow_motion_in_a_part_is_refused_with_the_way_out() {
    let folder = tempfile::tempdir().unwrap();
    let slowed = "setpts='if(lt(T,1),T,if(lt(T,1.8),1+3*(T-1),3.4+T-1.8))/TB'";
    let filled_up = changed(&folder, "today", "filled.mp4", &["-vf", slowed, "-r", "60", "-an"]);
    let said = swingpair!["-q", "read", filled_up];
    assert_eq!((said.code, said.out.as_str()), (Some(1), ""), "{said:?}");
    assert!(said.err.contains("filled.mp4") && said.err.contains("the phone's own file"), "{}", said.err);

    // Every picture kept, some spread out: the camera's rate sets it right.
    let spread = "fps=240,setpts='if(lt(N,200),N,if(lt(N,400),200+8*(N-200),1800+N-400))/240/TB'";
    let spread = changed(&folder, "today", "spread.mp4", &["-vf", spread, "-fps_mode", "passthrough", "-an"]);
    let said = swingpair!["-q", "read", spread];
    assert_eq!(said.code, Some(1), "{said:?}");
    assert!(said.err.contains("--recorded-at 240"), "{}", said.err);
}

#[test]
fn a_swing_slower_than_life_gives_no_times() {
    let folder = tempfile::tempdir().unwrap();
    let slow = "setpts='if(lt(T,1),T,if(lt(T,1.8),1+4*(T-1),4.2+T-1.8))/TB',fps=30";
    let reading = read(&changed(&folder, "best", "slow.mp4", &["-vf", slow, "-an"]));
    assert!(warned(&reading, "too_slow_for_life"), "{}", reading["warnings"]);
    for time in ["plant_to_contact", "hands_start_to_contact", "peak_hand_speed"] {
        assert!(reading["measures"][time].is_null(), "{time}: {}", reading["measures"][time]);
    }
}
