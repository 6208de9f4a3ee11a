//! A whole lesson, the reps of a folder, and how much they differ.

use std::path::{Path, PathBuf};

use tempfile::TempDir;

use super::films::{films, listing, swingpair};

/// A folder with films of one swing on two days, read before, and a lesson of them.
pub fn folder(more: &str) -> (TempDir, PathBuf) {
    let dir = tempfile::tempdir().unwrap();
    for film in ["today", "best", "behind"] {
        films().read_before(film, &dir);
    }
    let file = dir.path().join("lesson.toml");
    let text = format!(
        "lesson = 1\n[[hitter]]\nname = \"Wren Castellow\"\nbats = \"right\"\n[[hitter.day]]\ndate = 2026-03-07\n\
         reps = [\"best.mp4\"{more}]\n[[hitter.day]]\ndate = 2026-04-04\nreps = [\"today.mp4\"]\n"
    );
    std::fs::write(&file, text).unwrap();
    (dir, file)
}

#[test]
fn a_lesson_is_made_resumed_and_made_anew_where_it_changed() {
    let (dir, file) = folder(", \"gone.mp4\"");
    let first = swingpair!["lesson", file];
    assert_eq!(first.code, Some(3), "{}", first.err);
    assert!(first.err.contains("gone.mp4: is missing"), "{}", first.err);
    assert!(
        first.out.contains("Wren Castellow") && first.out.contains("2026-04-04: 1 rep, typical today.mp4")
    );
    let made = dir.path().join("made/wren-castellow");
    let all = [
        "2026-03-07-spread.png",
        "2026-04-04-clip.mp4",
        "2026-04-04-sheet.png",
        "2026-04-04-spread.png",
        "wren-castellow.html",
    ];
    let seen: Vec<String> = listing(&made).into_iter().filter(|n| !n.starts_with('.')).collect();
    assert_eq!(seen, all);
    // The page stands alone and names no file.
    let page = std::fs::read_to_string(made.join("wren-castellow.html")).unwrap();
    assert!(
        page.contains("src=\"data:video/mp4;base64,")
            && page.contains("poster=\"data:image/png;base64,iVBOR")
    );
    assert!(page.contains("One clip is missing") && !page.contains(".mp4"), "a file is named");
    assert!(!page.contains(&dir.path().display().to_string()), "the page names a folder of this computer");
    assert_eq!(swingpair!["check", made.join("2026-04-04-clip.mp4")].code, Some(0));

    // Again: nothing is due.
    let again = swingpair!["lesson", file];
    assert_eq!(again.out.matches("unchanged").count(), 5, "{}", again.out);
    assert!(!again.err.contains("[1/"), "{}", again.err);
    // One made file is lost, a rep is marked good: what rests on them is made anew.
    std::fs::remove_file(made.join("2026-03-07-spread.png")).unwrap();
    assert_eq!(swingpair!["mark", dir.path().join("today.mp4"), "good"].code, Some(0));
    let third = swingpair!["lesson", file];
    assert_eq!(third.out.matches("unchanged").count(), 0, "{}", third.out);
    // The folder is moved: nothing is due either.
    let moved = dir.path().join("moved");
    std::fs::create_dir(&moved).unwrap();
    for name in listing(dir.path()).into_iter().filter(|n| n != "moved") {
        std::fs::rename(dir.path().join(&name), moved.join(&name)).unwrap();
    }
    let there = swingpair!["lesson", moved.join("lesson.toml")];
    assert_eq!(there.out.matches("unchanged").count(), 5, "{}", there.out);
}

#[test]
fn every_job_is_a_command_line_of_its_own_in_any_order() {
    let (dir, file) = folder("");
    let jobs = swingpair!["lesson", file, "--jobs"];
    assert_eq!(jobs.code, Some(0), "{}", jobs.err);
    let mut lines: Vec<&str> = jobs.out.lines().collect();
    assert_eq!(lines.len(), 7, "{}", jobs.out);
    lines.reverse();
    let program = Path::new(env!("CARGO_BIN_EXE_swingpair")).parent().unwrap().display().to_string();
    let path = format!("{program}:{}", std::env::var("PATH").unwrap_or_default());
    for line in lines.iter().filter(|l| !l.contains("-clip.mp4")) {
        let done = std::process::Command::new("sh").args(["-c", line]).env("PATH", &path).output().unwrap();
        assert!(done.status.success(), "{line}: {}", String::from_utf8_lossy(&done.stderr));
        let made = line.split(" # ").nth(1).unwrap();
        assert!(Path::new(made).is_file(), "{made}");
    }
    assert!(dir.path().join("made/wren-castellow/wren-castellow.html").is_file());
    let wrong = swingpair!["lesson", file, "--make", "wren-castellow/wren-castelow.html"];
    assert_eq!(wrong.code, Some(2));
    assert!(wrong.err.contains("did you mean wren-castellow/wren-castellow.html"), "{}", wrong.err);
}

#[test]
fn a_lesson_is_drafted_once() {
    let dir = tempfile::tempdir().unwrap();
    let own = dir.path().join("wren");
    std::fs::create_dir(&own).unwrap();
    std::fs::rename(films().bare("best", &dir), own.join("best.mp4")).unwrap();
    let new = swingpair!["lesson", "--new", dir.path()];
    assert_eq!(new.code, Some(0), "{}", new.err);
    let jobs = swingpair!["lesson", dir.path().join("lesson.toml"), "--jobs"];
    assert!(jobs.out.contains("best.swing.json") && jobs.out.contains("wren/wren.html"), "{}", jobs.out);
    let twice = swingpair!["lesson", "--new", dir.path()];
    assert!(twice.code == Some(1) && twice.err.contains("a lesson already exists there"), "{}", twice.err);
    let empty = tempfile::tempdir().unwrap();
    let none = swingpair!["lesson", "--new", empty.path()];
    assert!(none.code == Some(2) && none.err.contains("there are no videos in it"), "{}", none.err);
}

#[test]
fn good_and_best_reps_of_a_folder_are_compared_with() {
    let dir = tempfile::tempdir().unwrap();
    let [today, best] = ["today", "best"].map(|f| films().read_before(f, &dir));
    let out = dir.path().join("sheet.png");
    let with = |more: &[&str]| {
        let mut words = super::films::words!["sheet", today, "--from", dir.path(), "-o", out].to_vec();
        words.extend(more.iter().map(std::ffi::OsString::from));
        super::films::run(&words)
    };
    let none = with(&[]);
    assert!(none.code == Some(2) && none.err.contains("none of its reps is marked good"), "{}", none.err);
    assert_eq!(swingpair!["mark", best, "good"].code, Some(0));
    // Today's own mark does not make it its own reference.
    assert_eq!(swingpair!["mark", today, "good"].code, Some(0));
    let good = with(&[]);
    assert_eq!(good.code, Some(0), "{}", good.err);
    assert!(good.err.contains("single best rep"), "{}", good.err);
    assert!(with(&["--best"]).err.contains("is marked best"));
    assert_eq!(swingpair!["mark", best, "best"].code, Some(0));
    let best_one = with(&["--best"]);
    assert!(best_one.code == Some(0) && best_one.err.contains("single best rep"), "{}", best_one.err);
    assert_eq!(swingpair!["mark", best, "neither"].code, Some(0));
    assert_eq!(with(&[]).code, Some(2));
}

#[test]
fn the_spread_is_told_drawn_and_given_as_json() {
    let dir = tempfile::tempdir().unwrap();
    let [today, best, behind] = ["today", "best", "behind"].map(|f| films().read_before(f, &dir));
    let picture = dir.path().join("spread.png");
    let said = swingpair!["spread", today, best, behind, "-o", picture, "--json"];
    let reported = said.json();
    assert_eq!((&reported["schema"], &reported["counted"]), (&"swingpair.spread/1".into(), &2.into()));
    assert!(reported["reps"][2]["left_out"].as_str().unwrap().contains("from behind"), "{reported}");
    assert!(said.err.contains("2 reps are too few"), "{}", said.err);
    let png = image::open(&picture).unwrap();
    assert_eq!((png.width(), png.height()), (2338, 1654));
    let empty = tempfile::tempdir().unwrap();
    let none = swingpair!["spread", empty.path()];
    assert!(none.code == Some(2) && none.err.contains("none of its reps has been read"), "{}", none.err);
    // The folder stands for its reps.
    let all = swingpair!["spread", dir.path(), "--json"].json();
    assert_eq!(all["reps"].as_array().unwrap().len(), 3);
}

#[test]
fn a_film_that_cannot_be_read_is_told_once_and_its_folder_not_twice() {
    let (dir, file) = folder(", \"broken.mp4\"");
    std::fs::write(dir.path().join("broken.mp4"), "no film").unwrap();
    let said = swingpair!["lesson", file];
    assert_eq!(said.code, Some(3), "{}", said.err);
    let all = format!("{}{}", said.out, said.err);
    assert_eq!(all.matches("is not a playable video").count(), 1, "{all}");
    let place = dir.path().display().to_string();
    assert!(all.lines().all(|line| line.matches(&place).count() <= 1), "{all}");
    assert!(said.err.contains("broken.mp4 failed"), "{}", said.err);
    assert!(!said.out.contains("NOT MADE"), "{all}");
    // One rep a day: nothing can be tested, and no number of measures is named; no rep is called by its file.
    let page = std::fs::read_to_string(dir.path().join("made/wren-castellow/wren-castellow.html")).unwrap();
    assert!(page.contains("From day to day") && !page.contains("all 0 measures"), "{page}");
    assert!(!page.contains(".mp4\""), "{page}");
}

/// The films stand there already, as far as the program sees.
#[test]
fn a_lesson_of_ones_own_is_not_passed_off_as_the_made_up_one() {
    let dir = tempfile::tempdir().unwrap();
    for film in swingpair::demo::lesson_films() {
        let place = dir.path().join(film.place);
        std::fs::create_dir_all(place.parent().unwrap()).unwrap();
        std::fs::write(place.with_extension("truth.json"), "{}").unwrap();
        std::fs::write(place, "a film").unwrap();
    }
    let file = dir.path().join("lesson.toml");
    let made = swingpair!["demo", dir.path(), "--lesson"];
    assert_eq!(made.code, Some(0), "{}", made.err);
    assert!(made.out.ends_with("lesson.toml\n") && !made.err.contains("your own"), "{made:?}");
    std::fs::write(&file, "lesson = 1\n").unwrap();
    let own = swingpair!["demo", dir.path(), "--lesson"];
    assert!(own.code == Some(0) && !own.out.contains("lesson.toml"), "{}", own.out);
    assert!(own.err.contains("lesson.toml: is a lesson of your own"), "{}", own.err);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "lesson = 1\n");
}
