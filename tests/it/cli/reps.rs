//! The reps of a long film.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use swingpair::demo::{Act, Session, film_session, session};
use swingpair::media::{Clip, OpenOptions};
use swingpair::types::{Cancel, NoProgress};

use super::films::{listing, swingpair};

/// Two swings and what lies between them, filmed once for all tests.
pub fn filmed() -> &'static (Session, PathBuf) {
    static FILM: OnceLock<(Session, PathBuf)> = OnceLock::new();
    FILM.get_or_init(|| {
        // Short, and with a hit, a dry swing and a bunt.
        let plans = (0..2000).map(|seed| session("bp", seed, 2, (480, 270), 30.0));
        let short = |p: &Session| p.acts.len() == 3 && p.acts[2].to_s < 19.0;
        let has = |p: &Session, act| p.acts.iter().any(|a| a.act == act);
        let all = [Act::Hit, Act::Dry, Act::Bunt];
        let plan = plans.into_iter().find(|p| short(p) && all.iter().all(|a| has(p, *a))).expect("a seed");
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cli-session");
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).unwrap();
        let film = folder.join("bp.mp4");
        film_session(&plan, &film, &NoProgress, &Cancel::default()).unwrap();
        (plan, film)
    })
}

#[test]
fn every_swing_is_listed_cut_out_at_its_times_and_used_again() {
    let (plan, film) = filmed();
    let dir = tempfile::tempdir().unwrap();
    let cut = dir.path().join("cut");
    let reported = swingpair!["reps", film, "--cut", cut, "--json"].json();
    assert_eq!(reported["schema"], "swingpair.reps/1");
    let reps = reported["reps"].as_array().unwrap();
    let swings: Vec<f64> = plan.acts.iter().filter(|a| a.act.is_swing()).map(|a| a.contact_s).collect();
    assert_eq!(reps.len(), swings.len(), "{reported}");
    let long = Clip::open(film, &OpenOptions::default()).unwrap();
    for (rep, contact_s) in reps.iter().zip(&swings) {
        let off = rep["contact_s"].as_f64().unwrap() - contact_s;
        assert!(off.abs() < 0.1, "contact is {off} s off");
        assert_eq!(rep["lossless"], true);
        let single = Clip::open(&cut.join(rep["clip"].as_str().unwrap()), &OpenOptions::default()).unwrap();
        let from_s = rep["from_s"].as_f64().unwrap();
        let first = long.frame_at_real(from_s);
        for i in 0..single.facts().frames {
            let (here, there) = (from_s + single.real_s(i), long.real_s(first + i));
            assert!((here - there).abs() < 0.001, "picture {i}: {here} and {there}");
        }
        let dry = plan.acts.iter().any(|a| a.act == Act::Dry && (a.contact_s - contact_s).abs() < 1e-9);
        assert_eq!(rep["met"], !dry, "{rep}");
    }
    // Again: the same, without looking.
    let before = listing(&cut);
    let began = std::time::SystemTime::now();
    assert_eq!(swingpair!["reps", film, "--cut", cut, "--json"].json(), reported);
    assert_eq!(listing(&cut), before);
    let list = std::fs::metadata(cut.join("bp.reps.json")).unwrap().modified().unwrap();
    assert!(list < began, "the list was written again");
    // A lesson takes what was cut before for the reps of its day.
    let lesson = dir.path().join("lesson.toml");
    let text = format!(
        "lesson = 1\n[make]\nclip = \"none\"\n[[hitter]]\nname = \"Wren\"\n[[hitter.day]]\ndate = 2026-03-07\n\
         recordings = [\"{}\"]\n",
        film.display()
    );
    std::fs::write(&lesson, text).unwrap();
    let own = dir.path().join("made/wren/bp-reps");
    std::fs::create_dir_all(own.parent().unwrap()).unwrap();
    std::fs::rename(&cut, &own).unwrap();
    let jobs = swingpair!["lesson", lesson, "--jobs"];
    assert!(jobs.out.lines().next().unwrap().starts_with("swingpair reps "), "{}", jobs.out);
    assert!(jobs.err.contains("not known yet"), "{}", jobs.err);
    let made = swingpair!["lesson", lesson];
    assert!(made.code == Some(0) && made.out.contains("2026-03-07: 2 reps"), "{}{}", made.out, made.err);
    let again = swingpair!["lesson", lesson];
    assert_eq!(again.out.matches("unchanged").count(), 3, "{}", again.out);
    std::fs::rename(&own, &cut).unwrap();
    // A run that was stopped before its end: its films are known for its own and cut again.
    let list_file = cut.join("bp.reps.json");
    let text = std::fs::read_to_string(&list_file).unwrap();
    std::fs::write(&list_file, text.replace("\"finished\": true", "\"finished\": false")).unwrap();
    std::fs::remove_file(cut.join("bp_rep01.mp4")).unwrap();
    // Numbers that come back from a sidecar may differ in the last bit.
    let again = swingpair!["reps", film, "--cut", cut, "--json"].json();
    assert_eq!((&again["films"], &again["finished"]), (&reported["films"], &true.into()));
    for (a, b) in again["reps"].as_array().unwrap().iter().zip(reps) {
        assert!((a["contact_s"].as_f64().unwrap() - b["contact_s"].as_f64().unwrap()).abs() < 1e-6);
    }
    assert_eq!(listing(&cut), before);
    // A film of a coach's own under such a name is kept.
    std::fs::write(cut.join("bp_rep07.mp4"), "dear").unwrap();
    let refused = swingpair!["reps", film, "--cut", cut, "--fresh"];
    assert!(
        refused.code == Some(1) && refused.err.contains("was not cut from this recording"),
        "{}",
        refused.err
    );
    assert_eq!(std::fs::read(cut.join("bp_rep07.mp4")).unwrap(), b"dear");
}

#[test]
fn a_film_without_a_swing_lists_none() {
    let (plan, film) = filmed();
    let dir = tempfile::tempdir().unwrap();
    let quiet = plan.acts.iter().find(|a| !a.act.is_swing()).expect("something else than a swing");
    let part = dir.path().join("part.mp4");
    let long = Clip::open(film, &OpenOptions::default()).unwrap();
    let at = |s: f64| long.frame_at_real(s);
    let cut = swingpair::media::extract(&long, at(quiet.from_s + 0.3), at(quiet.to_s - 0.3), &part).unwrap();
    assert!(cut.pictures > 30);
    let said = swingpair!["reps", part];
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(said.out.contains("No swing in"), "{}", said.out);
    let none = swingpair!["reps", dir.path().join("none.mp4")];
    assert!(none.code == Some(1) && none.err.contains("no such file"), "{}", none.err);
}
