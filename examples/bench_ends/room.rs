//! Full disks and disks that may only be read: small ones in memory, for which one has to be the administrator.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

use super::scene::{OLDER, Scene, Template, whole};
use super::{Outcome, Tally};

/// A disk in memory; taken away when dropped.
struct Disk {
    at: PathBuf,
    _folder: tempfile::TempDir,
}

impl Disk {
    fn new(bytes: u64) -> Outcome<Self> {
        let folder = tempfile::tempdir()?;
        let at = folder.path().join("disk");
        fs::create_dir(&at)?;
        let size = format!("size={bytes}");
        let mounted = Command::new("mount").args(["-t", "tmpfs", "-o", &size, "tmpfs"]).arg(&at).output()?;
        if mounted.status.success() {
            Ok(Self { at, _folder: folder })
        } else {
            Err(String::from_utf8_lossy(&mounted.stderr).trim().to_owned().into())
        }
    }

    fn only_read(&self) -> Outcome<()> {
        let done = Command::new("mount").args(["-o", "remount,ro"]).arg(&self.at).status()?;
        if done.success() { Ok(()) } else { Err("the disk cannot be made read-only".into()) }
    }

    /// Fill it up until `free` bytes are left.
    fn fill(&self, free: u64) -> Outcome<()> {
        let mut filler = fs::File::create(self.at.join("filler"))?;
        let page = vec![0u8; 4096];
        while filler.write_all(&page).is_ok() {}
        let full = filler.metadata()?.len();
        filler.set_len(full.saturating_sub(free))?;
        Ok(())
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        // Lazily, since a killed run may still be leaving it.
        let _ = Command::new("umount").arg("-l").arg(&self.at).status();
    }
}

pub fn rows(template: &Template) -> Outcome<Vec<Tally>> {
    if let Err(why) = Disk::new(1 << 20) {
        return Ok(vec![Tally::skipped(
            "full and read-only disks",
            &format!("no disk can be mounted ({why})"),
        )]);
    }
    Ok(vec![full_target(template)?, full_demo(template)?, full_sidecar(template)?, read_only(template)?])
}

const TWO: [&str; 2] = ["@today.mp4", "@best.mp4"];

/// Every kind of target on a disk with less and less room.
fn full_target(template: &Template) -> Outcome<Tally> {
    eprintln!("full disks");
    let mut row = Tally::new("pair, trace, clip, report, sheet: the target's disk is full");
    let jobs: [(&str, &str, &[&str]); 6] = [
        ("pair", "out.mp4", &["--size", "256x456"]),
        ("pair", "out.jsonl", &["--size", "256x456", "-o", "@pair.mp4", "--trace"]),
        ("clip", "out.mp4", &["--size", "256x456"]),
        ("report", "out.html", &["--size", "256x456"]),
        ("sheet", "out.png", &[]),
        ("sheet", "out.pdf", &[]),
    ];
    for (job, name, more) in jobs {
        let size = size_of(template, job, name, more)?;
        for share in [0.0, 0.1, 0.5, 0.9] {
            let disk = Disk::new(4 * size + (1 << 20))?;
            let target = disk.at.join(name);
            fs::write(&target, OLDER)?;
            disk.fill((size as f64 * share) as u64)?;
            let scene = template.scene()?;
            let done = scene.run(&words(job, &target, more))?;
            judge_full(&mut row, done, name);
            row.target += usize::from(fs::read(&target)? != OLDER);
            let left = fs::read_dir(&disk.at)?.count();
            if left != 2 {
                eprintln!("LEFT on the full disk: {name} at {share}");
                row.left += 1;
            }
            scene.judge(&mut row, &[])?;
        }
    }
    Ok(row)
}

fn words<'a>(job: &'a str, target: &'a Path, more: &[&'a str]) -> Vec<&'a str> {
    let target = target.to_str().unwrap_or_default();
    let mut words = vec!["-q", job];
    words.extend(TWO.iter().take(if job == "clip" { 1 } else { 2 }));
    words.extend(more);
    if more.last() != Some(&"--trace") {
        words.push("-o");
    }
    words.push(target);
    words
}

/// What it takes where there is room, bytes.
fn size_of(template: &Template, job: &str, name: &str, more: &[&str]) -> Outcome<u64> {
    let scene = template.scene()?;
    let target = scene.path(name);
    let done = scene.run(&words(job, &target, more))?;
    if !done.status.success() || !whole(&target) {
        return Err(format!("{job}: {}", String::from_utf8_lossy(&done.stderr)).into());
    }
    Ok(fs::metadata(target)?.len())
}

/// One sentence that names the file and the cause.
fn judge_full(row: &mut Tally, done: std::process::Output, name: &str) {
    let reported = String::from_utf8_lossy(&done.stderr);
    // Room asked about before the work is refused as wrong words where it is the trace's.
    let clear =
        reported.lines().count() == 1 && reported.contains(name) && reported.contains("the disk is full");
    if matches!(done.status.code(), Some(1 | 2)) && clear {
        row.ended += 1;
    } else {
        eprintln!("WRONG WORDS: {:?} {reported}", done.status);
        row.words += 1;
    }
}

fn full_demo(template: &Template) -> Outcome<Tally> {
    let mut row = Tally::new("demo: the disk is full");
    for free in [0, 1 << 14, 1 << 17] {
        let disk = Disk::new(1 << 20)?;
        disk.fill(free)?;
        let scene = template.scene()?;
        let done = scene.run(&["-q", "demo", disk.at.to_str().unwrap_or_default()])?;
        judge_full(&mut row, done, "today.");
        let films = fs::read_dir(&disk.at)?.flatten().filter(|e| e.file_name() != "filler");
        // The truth may be there before its film.
        row.left += films.filter(|e| !e.file_name().to_string_lossy().ends_with(".truth.json")).count();
        scene.judge(&mut row, &[])?;
    }
    Ok(row)
}

/// The clips themselves lie on the full disk: reading works and says what it could not keep, marking is refused.
fn full_sidecar(template: &Template) -> Outcome<Tally> {
    let mut row = Tally::new("read, mark: the clip's disk is full");
    for free in [0, 4096, 1 << 15, 1 << 17] {
        let disk = Disk::new(4 << 20)?;
        let scene = template.scene_at(&disk.at)?;
        disk.fill(free)?;
        let before = fs::read(scene.path("today.swing.json"))?;
        let read = scene.run(&["read", "@today.mp4"])?;
        let reported = String::from_utf8_lossy(&read.stderr);
        let clear = reported.contains("could not be saved next to the clip")
            && reported.contains("(the disk is full)");
        if read.status.success() && clear && !read.stdout.is_empty() {
            row.ended += 1;
        } else {
            eprintln!("WRONG WORDS: {:?} {reported}", read.status);
            row.words += 1;
        }
        judge_full(&mut row, scene.run(&["-q", "mark", "@today.mp4", "contact=1.75"])?, "today.swing.json");
        row.sidecar += usize::from(fs::read(scene.path("today.swing.json"))? != before);
        row.left += usize::from(scene.names()?.len() != 5);
        scene.judge(&mut row, &[])?;
        row.runs += 1;
    }
    Ok(row)
}

/// A card that may only be read: everything about its clips works but keeping; nothing can be made there.
fn read_only(template: &Template) -> Outcome<Tally> {
    let mut row = Tally::new("read, pair, mark: clips on a read-only disk");
    let disk = Disk::new(4 << 20)?;
    let card = template.scene_at(&disk.at)?;
    disk.only_read()?;
    let elsewhere = tempfile::tempdir()?;
    let out = elsewhere.path().join("out.mp4");
    let out = out.to_str().unwrap_or_default();
    let tries: [(&[&str], i32, &str); 4] = [
        (&["read", "@today.mp4"], 0, "could not be saved next to the clip"),
        (
            &["pair", "@today.mp4", "@best.mp4", "--size", "256x456", "--slow", "1", "-o", out],
            0,
            "could not be saved",
        ),
        (&["mark", "@today.mp4", "contact=1.75"], 1, "the disk is read-only"),
        (&["pair", "@today.mp4", "@best.mp4", "-o", "@out.mp4"], 1, "the disk is read-only"),
    ];
    for (words, code, needle) in tries {
        let done = card.run(words)?;
        let reported = String::from_utf8_lossy(&done.stderr);
        if done.status.code() == Some(code) && reported.contains(needle) {
            row.ended += 1;
        } else {
            eprintln!("WRONG WORDS: {:?} {reported}", done.status);
            row.words += 1;
        }
        judge_card(&card, &mut row)?;
    }
    Ok(row)
}

fn judge_card(card: &Scene, row: &mut Tally) -> Outcome<()> {
    row.left += usize::from(card.names()?.len() != 4);
    card.judge(row, &["out.mp4"])
}
