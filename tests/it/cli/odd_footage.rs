//! Swings in footage that lost, repeats or slows down its pictures: what can be measured is, the rest is said.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use swingpair::types::EventId;
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
    let reported = |event: &EventId| {
        format!("{event:?}: {} {}", reading["events"][event.word()], whole["events"][event.word()])
    };
    events.iter().filter(strays).map(reported).collect()
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
    assert_eq!(reading["absent"]["head_travel_stance_to_plant"], "frames are missing there");
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
    assert!(
        said.err.contains("filled.mp4") && said.err.contains("the phone's original file"),
        "{}",
        said.err
    );

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

/// A moving still: a film and, larger, one picture or two in a track of its own; in MP4 and, where the number of
/// pictures is not told, in Matroska.
#[test]
fn the_film_of_a_moving_still_is_read_and_not_its_stills() {
    let folder = tempfile::tempdir().unwrap();
    for (name, stills) in [("moving.mp4", 1), ("moving.mov", 2), ("moving.mkv", 2)] {
        let clip = folder.path().join(name);
        let graph = format!(
            "testsrc2=s=640x360:r=30:d=1.9[film];testsrc2=s=1920x1440:r=30,trim=end_frame={stills}[still]"
        );
        let mut ffmpeg = Command::new("ffmpeg");
        ffmpeg.args(["-v", "error", "-y", "-filter_complex", &graph]);
        ffmpeg.args(["-map", "[still]", "-map", "[film]", "-c:v", "libx264", "-pix_fmt", "yuv420p"]);
        assert!(ffmpeg.arg(&clip).status().unwrap().success());
        let probed = swingpair!["probe", clip, "--json"].json();
        let read = &probed["read"];
        assert_eq!((&read["width"], &read["pictures"]), (&640.into(), &57.into()), "{name}: {probed}");
        assert!(
            swingpair!["probe", clip].out.contains("the largest one that is not a still image"),
            "{name}"
        );
    }
}

#[test]
fn super_slow_motion_that_only_the_phone_marks_is_refused_with_the_way_out() {
    let folder = tempfile::tempdir().unwrap();
    let words = ["-movflags", "use_metadata_tags", "-metadata", "Super_SlowMotion_Data=1:2"];
    let by_key = changed(&folder, "today", "marked.mp4", &words);
    // The list that some phones write behind the film: one entry, its data 30 bytes long.
    let by_list = folder.path().join("listed.mp4");
    let mut film = std::fs::read(films().bare("today", &folder)).unwrap();
    film.extend(b"\0\0\x00\x0b\x15\0\0\0Super_SlowMotion_Data1");
    film.extend(b"SEFH\x6a\0\0\0\x01\0\0\0\0\0\x00\x0b\x1e\0\0\0\x1e\0\0\0\x18\0\0\0SEFT");
    std::fs::write(&by_list, film).unwrap();
    for clip in [by_key, by_list] {
        for job in ["read", "reps"] {
            let said = swingpair!["-q", job, clip];
            assert_eq!((said.code, said.out.as_str()), (Some(1), ""), "{said:?}");
            assert!(
                said.err.contains("super slow motion") && said.err.contains("--recorded-at"),
                "{}",
                said.err
            );
        }
        let probed = swingpair!["probe", clip];
        assert!(probed.out.contains("super slow motion"), "{}", probed.out);
        assert!(!probed.out.contains("plays in real time"), "{}", probed.out);
        let reported = swingpair!["probe", clip, "--recorded-at", "240"];
        assert!(reported.out.contains("recorded at 240"), "{}", reported.out);
    }
}

/// The index stands first, the second half is missing; or the index stood last and is missing.
#[test]
fn of_a_film_cut_short_that_is_said_first() {
    let folder = tempfile::tempdir().unwrap();
    let best = films().read_before("best", &folder);
    let whole = std::fs::read(films().bare("today", &folder)).unwrap();
    let cut = folder.path().join("cut.mp4");
    std::fs::write(&cut, &whole[..whole.len() / 2]).unwrap();
    let out = folder.path().join("out.mp4");
    for words in [
        super::films::words!["-q", "read", cut].to_vec(),
        super::films::words!["-q", "pair", cut, best, "-o", out].to_vec(),
        super::films::words!["-q", "pair", best, cut, "-o", out].to_vec(),
        super::films::words!["-q", "read", cut, "--hitter", "1,1"].to_vec(),
    ] {
        let said = super::films::run(&words);
        assert_eq!((said.code, said.out.as_str()), (Some(1), ""), "{words:?} {said:?}");
        let first = format!("error: {}: the file is incomplete", cut.display());
        assert!(said.err.starts_with(&first) && said.err.contains("copy it from the phone"), "{}", said.err);
        assert!(!said.err.contains("--hitter"), "{}", said.err);
    }
    let said = swingpair!["reps", cut];
    let place = |word: &str| said.err.find(word).unwrap_or(usize::MAX);
    assert!(place("is incomplete") < usize::MAX, "{said:?}");
    let lesson = folder.path().join("lesson.toml");
    let text =
        "lesson = 1\n[[hitter]]\nname = \"Wren\"\n[[hitter.day]]\nreps = [\"cut.mp4\", \"best.mp4\"]\n";
    std::fs::write(&lesson, text).unwrap();
    let said = swingpair!["lesson", lesson];
    assert!(said.out.contains("could not be read (the file is incomplete"), "{said:?}");

    let last = changed(&folder, "today", "last.mp4", &["-movflags", "-faststart"]);
    let whole = std::fs::read(&last).unwrap();
    std::fs::write(&last, &whole[..whole.len() / 2]).unwrap();
    for job in ["read", "probe", "check", "reps"] {
        let said = swingpair!["-q", job, last];
        assert_eq!(said.code, Some(1), "{said:?}");
        assert!(said.err.contains("last.mp4: the file is incomplete"), "{}", said.err);
    }
}

#[test]
fn where_nobody_stands_the_advice_is_not_to_point_there_again() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().bare("today", &folder);
    let said = swingpair!["-q", "read", clip, "--hitter", "1,1"];
    assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{said:?}");
    for word in ["no swing was found at 1,1", "640×360", "leave out --hitter"] {
        assert!(said.err.contains(word), "{}", said.err);
    }
}
