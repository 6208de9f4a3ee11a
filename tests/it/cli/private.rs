//! What is made tells nothing of the footage but the swing, nothing of this computer, and nothing is ever sent.

use std::fs;
use std::io::ErrorKind;
use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use swingpair::media::{Clip, OpenOptions, extract};
use tempfile::TempDir;

use super::films::{films, run, swingpair, words};
use super::points;

/// Words that the footage holds in its tags, chapters, subtitles and folder; all invented.
const SECRETS: [&str; 10] = [
    "Lena Meyer",
    "Lena_Meyer",
    "lena_meyer",
    "Lena after",
    "Lantern",
    "47.3769",
    "2024-05-17",
    "First tries",
    "Coach Weber",
    "after school",
];

fn ffmpeg(words: &[&str]) -> bool {
    let done = Command::new("ffmpeg").args(["-v", "error", "-y", "-nostdin"]).args(words).output().unwrap();
    if !done.status.success() {
        eprintln!("ffmpeg {words:?}: {}", String::from_utf8_lossy(&done.stderr));
    }
    done.status.success()
}

/// Today's film as a phone and a talkative editor would have made it: turned, with place, date, device, title,
/// chapters, subtitles, a time code and a cover; and its points. `None` where there is no ffmpeg to make it.
fn talkative(folder: &TempDir) -> Option<[PathBuf; 2]> {
    let own = folder.path().join("Lena_Meyer_12");
    fs::create_dir(&own).unwrap();
    let at = |name: &str| own.join(name).to_str().unwrap().to_owned();
    if Command::new("ffmpeg").arg("-version").output().is_err() {
        crate::skipped::skipped("clips of footage that tells too much", "no ffmpeg to make it with");
        return None;
    }
    let film = films().bare("today", folder);
    let (turned, clip) = (at("turned.mp4"), at("lena_meyer.mp4"));
    assert!(ffmpeg(&[
        "-i",
        film.to_str().unwrap(),
        "-vf",
        "transpose=1",
        "-preset",
        "ultrafast",
        "-crf",
        "18",
        "-c:a",
        "copy",
        &turned
    ]));
    fs::write(own.join("words.srt"), "1\n00:00:00,000 --> 00:00:02,000\nafter school\n").unwrap();
    let chapter = ";FFMETADATA1\n[CHAPTER]\nTIMEBASE=1/1000\nSTART=0\nEND=2000\ntitle=First tries\n";
    fs::write(own.join("chapters.txt"), chapter).unwrap();
    assert!(ffmpeg(&["-f", "lavfi", "-i", "testsrc=s=64x64", "-frames:v", "1", &at("cover.png")]));
    let tags = |first: &[&str], turn: &[&str]| {
        let inputs = [at("words.srt"), at("chapters.txt"), at("cover.png")];
        let mut all: Vec<&str> = first.to_vec();
        all.extend(["-i", &turned, "-i", &inputs[0], "-i", &inputs[1], "-i", &inputs[2]]);
        all.extend([
            "-map",
            "0",
            "-map",
            "1",
            "-map",
            "3",
            "-map_chapters",
            "2",
            "-c",
            "copy",
            "-c:s",
            "mov_text",
        ]);
        all.extend(turn);
        all.extend(["-disposition:v:1", "attached_pic", "-timecode", "01:02:03:04"]);
        for tag in [
            "title=Lena Meyer, May",
            "artist=Coach Weber",
            "comment=Lena after school",
            "make=Lantern",
            "model=Lantern X9",
            "location=+47.3769+008.5417/",
            "creation_time=2024-05-17T18:22:33Z",
        ] {
            all.extend(["-metadata", tag]);
        }
        all.extend(["-metadata:s:v:0", "handler_name=Lantern eye", "-movflags", "+use_metadata_tags", &clip]);
        ffmpeg(&all)
    };
    // The word for a turned picture differs between ffmpeg's versions.
    assert!(tags(&["-display_rotation", "90"], &[]) || tags(&[], &["-metadata:s:v:0", "rotate=270"]));
    let points = points::write(folder, "today", |_| {});
    let reported = swingpair!["probe", clip, "--json"].json();
    assert_eq!(
        (&reported["read"]["width"], &reported["read"]["height"]),
        (&640.into(), &360.into()),
        "{reported:#}"
    );
    let tells: Vec<&str> = reported["private"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    assert!(["location", "device"].iter().all(|p| tells.contains(p)), "{reported:#}");
    Some([PathBuf::from(clip), points])
}

fn holds(bytes: &[u8], secret: &str) -> bool {
    bytes.windows(secret.len()).any(|w| w == secret.as_bytes())
}

fn tells_no_secret(what: &str, bytes: &[u8], folder: &TempDir) {
    let computer = folder.path().to_str().unwrap();
    for secret in SECRETS.into_iter().chain([computer]) {
        assert!(!holds(bytes, secret), "{what} holds {secret:?}");
    }
}

/// RFC 4648, without line breaks.
fn from_base64(text: &str) -> Vec<u8> {
    const LETTERS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let (mut bits, mut have, mut out) = (0u32, 0, Vec::new());
    for letter in text.bytes().filter(|b| *b != b'=') {
        bits = bits << 6 | LETTERS.iter().position(|l| *l == letter).unwrap() as u32;
        have += 6;
        if have >= 8 {
            have -= 8;
            out.push((bits >> have) as u8);
        }
    }
    out
}

/// Pictures copied out of the footage: its own coder's words stay in them, its tags do not come along.
#[test]
fn a_rep_cut_out_uncoded_tells_no_tag_of_the_footage_and_stands_upright() {
    let folder = tempfile::tempdir().unwrap();
    let Some([today, _]) = talkative(&folder) else { return };
    let single = folder.path().join("single.mp4");
    let film = Clip::open(&today, &OpenOptions::default()).unwrap();
    let cut = extract(&film, 40, 100, &single).unwrap();
    assert!(cut.lossless && cut.first <= 40, "{cut:?}");
    tells_no_secret("single.mp4", &fs::read(&single).unwrap(), &folder);
    has_no_tags(&single);
    let own = Clip::open(&single, &OpenOptions::default()).unwrap();
    assert_eq!((own.facts().width, own.facts().height), (640, 360));
    // The same picture, bit for bit.
    let picture = |clip: &Clip, index| clip.frames(index, None).unwrap().next_frame().unwrap().unwrap().frame;
    assert_eq!(picture(&own, 60 - cut.first), picture(&film, 60));
}

/// The streams, tags and boxes of a made clip are those that the format cannot do without.
fn is_bare(clip: &Path) {
    let bytes = fs::read(clip).unwrap();
    for maker in ["x264", "Lavc", "Lavf", "FFmpeg", "swingpair"] {
        assert!(!holds(&bytes, maker), "{} holds {maker:?}", clip.display());
    }
    for of in has_no_tags(clip) {
        assert!(of["side_data_list"].is_null(), "{of:#}");
    }
}

/// Streams and container, as ffprobe tells them: at most pictures and sound, no chapters, no tag that tells anything.
fn has_no_tags(clip: &Path) -> Vec<Value> {
    let done = Command::new("ffprobe")
        .args(["-v", "error", "-show_streams", "-show_format", "-show_chapters", "-of", "json"])
        .arg(clip)
        .output()
        .unwrap();
    let seen: Value = serde_json::from_slice(&done.stdout).unwrap();
    let streams = seen["streams"].as_array().unwrap();
    assert!(streams.len() <= 2 && seen["chapters"].as_array().unwrap().is_empty(), "{seen:#}");
    for of in streams.iter().chain([&seen["format"]]) {
        for (key, value) in of["tags"].as_object().into_iter().flatten() {
            let must = match key.as_str() {
                "handler_name" => ["VideoHandler", "SoundHandler"].contains(&value.as_str().unwrap()),
                "language" => value == "und",
                "vendor_id" => value == "[0][0][0][0]",
                "major_brand" | "minor_version" | "compatible_brands" => true,
                _ => false,
            };
            assert!(must, "{} says {key}={value}", clip.display());
        }
    }
    streams.iter().chain([&seen["format"]]).cloned().collect()
}

#[test]
fn what_is_made_tells_nothing_of_the_footage_or_this_computer() {
    let folder = tempfile::tempdir().unwrap();
    let Some([today, points]) = talkative(&folder) else { return };
    let best = films().read_before("best", &folder);
    let out = |name: &str| folder.path().join(name);
    let same = words![today, best, "--keypoints", points];
    let job = |job: &str, target: &str, more: &[&str]| {
        let mut all = words![job].to_vec();
        all.extend(if job == "clip" { words![today, "--keypoints", points].to_vec() } else { same.to_vec() });
        all.extend(words!["-o", out(target)]);
        all.extend(more.iter().map(Into::into));
        let said = run(&all);
        assert_eq!(said.code, Some(0), "{all:?}: {}", said.err);
        said.out
    };
    let trace = out("trace.jsonl");
    let small = ["--size", "256x456", "--slow", "1"];
    let traced = [&small[..], &["--json", "--trace", trace.to_str().unwrap()]].concat();
    let json = job("pair", "pair.mp4", &traced);
    // Data names each clip, and nothing about where it lies.
    assert!(!json.contains("Lena_Meyer_12") && !json.contains(folder.path().to_str().unwrap()), "{json}");
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(
        (&json["today"]["clip"]["path"], &json["written"]["path"]),
        (&"lena_meyer.mp4".into(), &"pair.mp4".into())
    );
    job("clip", "clip.mp4", &small);
    job("sheet", "sheet.png", &[]);
    job("sheet", "sheet.pdf", &[]);
    job("report", "page.html", &small);
    for made in ["pair.mp4", "clip.mp4", "trace.jsonl", "sheet.png", "sheet.pdf", "page.html"] {
        tells_no_secret(made, &fs::read(out(made)).unwrap(), &folder);
    }
    // A sidecar moves with its folder, so it holds no path either.
    let kept = fs::read(today.with_extension("swing.json")).unwrap();
    assert!(!holds(&kept, "Lena_Meyer_12") && !holds(&kept, folder.path().to_str().unwrap()));

    let page = fs::read_to_string(out("page.html")).unwrap();
    let inside = page.split("src=\"data:video/mp4;base64,").nth(1).unwrap().split('"').next().unwrap();
    fs::write(out("inside.mp4"), from_base64(inside)).unwrap();
    for name in ["today.mp4", "best.mp4", "lena_meyer.mp4"] {
        assert!(!page.contains(name));
    }
    // The film of the demo is written the same way.
    for clip in ["pair.mp4", "clip.mp4", "inside.mp4", "best.mp4"] {
        is_bare(&out(clip));
    }
    let png = fs::read(out("sheet.png")).unwrap();
    let mut at = 8;
    while let Some(head) = png.get(at..at + 8) {
        assert!([&b"IHDR"[..], b"IDAT", b"IEND"].contains(&&head[4..]), "a chunk {:?}", &head[4..]);
        at += 12 + u32::from_be_bytes(head[..4].try_into().unwrap()) as usize;
    }
    let pdf = fs::read(out("sheet.pdf")).unwrap();
    for word in ["/Info", "/Producer", "/CreationDate", "/Metadata", "/ID"] {
        assert!(!holds(&pdf, word), "the PDF has {word}");
    }
}

/// Every job under `strace`, which sees each call that could open a way out.
#[cfg(target_os = "linux")]
#[test]
fn no_job_opens_a_socket() {
    if Command::new("strace").arg("-V").output().is_err() {
        crate::skipped::skipped(
            "no job opens a socket",
            "no strace to watch the program with (apt install strace)",
        );
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let points = points::write(&folder, "today", |_| {});
    let at = |name: &str| folder.path().join(name);
    let small = ["--size", "256x456", "--slow", "1"];
    for words in [
        words!["probe", a].to_vec(),
        words!["read", a, "--keypoints", points].to_vec(),
        words!["mark", b, "finish=2.2"].to_vec(),
        [&words!["pair", a, b, "-o", at("out.mp4")][..], &words![small[0], small[1], small[2], small[3]]]
            .concat(),
        [&words!["report", a, b, "-o", at("out.html")][..], &words![small[0], small[1], small[2], small[3]]]
            .concat(),
        words!["check", at("out.mp4")].to_vec(),
    ] {
        let log = at("calls");
        let mut strace = Command::new("strace");
        strace
            .args(["-f", "-qq", "-e", "trace=network", "-o"])
            .arg(&log)
            .arg(env!("CARGO_BIN_EXE_swingpair"));
        let done = strace.args(&words).output().unwrap();
        assert!(done.status.success(), "{words:?}: {}", String::from_utf8_lossy(&done.stderr));
        let calls = fs::read_to_string(&log).unwrap();
        let calls: Vec<&str> = calls.lines().filter(|l| l.contains('(')).collect();
        assert!(calls.is_empty(), "{words:?}: {calls:?}");
    }
}

/// Files that are lists of addresses or of other files lead nowhere.
#[test]
fn no_file_makes_the_program_fetch_another() {
    let folder = tempfile::tempdir().unwrap();
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    listener.set_nonblocking(true).unwrap();
    let url = format!("http://{}/film.ts", listener.local_addr().unwrap());
    let secret = films().bare("today", &folder);
    for (name, text) in [
        ("list.m3u8", format!("#EXTM3U\n#EXT-X-TARGETDURATION:2\n#EXTINF:2,\n{url}\n#EXT-X-ENDLIST\n")),
        ("list.mp4", format!("#EXTM3U\n#EXT-X-TARGETDURATION:2\n#EXTINF:2,\n{url}\n#EXT-X-ENDLIST\n")),
        ("files.mp4", format!("ffconcat version 1.0\nfile '{}'\n", secret.display())),
        (
            "session.sdp",
            "v=0\no=- 0 0 IN IP4 127.0.0.1\ns=-\nc=IN IP4 127.0.0.1\nt=0 0\nm=video 9 RTP/AVP 96\n".into(),
        ),
    ] {
        let file = folder.path().join(name);
        fs::write(&file, text).unwrap();
        for job in ["probe", "read", "check"] {
            let said = swingpair!["-q", job, file];
            assert_eq!((said.code, said.out.as_str()), (Some(1), ""), "{job} {name}: {}", said.err);
        }
    }
    assert_eq!(listener.accept().unwrap_err().kind(), ErrorKind::WouldBlock, "somebody came for {url}");
}
