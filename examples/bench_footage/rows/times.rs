//! When pictures are shown: rates, edit lists, times that lie, and files that are damaged.

use super::*;

pub fn times() -> Vec<Row> {
    let b_frames = &format!("{H264} -bf 2");
    let mut rows = vec![
        row("H.264, 30 a second", "plain.mp4", Film::new(H264), Wanted::plain()),
        row("B-frames", "b_frames.mp4", Film::new(b_frames), Wanted::plain()),
        from_film(
            "edit list: first half second cut",
            "edit.mp4",
            Film::new(b_frames),
            "-ss 0.5 -i IN -c copy OUT",
            Wanted::numbers((15..60).collect()),
        ),
        from_film(
            "edit list: begins late",
            "late.mp4",
            Film::new(b_frames),
            "-itsoffset 0.4 -i IN -f lavfi -i sine=d=2 -map 0:v -map 1:a -c:v copy -c:a aac OUT",
            Wanted::plain(),
        ),
        from_film(
            "negative first time",
            "negative.mov",
            Film::new(b_frames),
            "-i IN -c copy -output_ts_offset -0.2 -avoid_negative_ts disabled OUT",
            Wanted::numbers((6..60).collect()),
        ),
        from_film(
            "variable rate (some pictures gone)",
            "variable.mp4",
            Film::new(b_frames),
            "-i IN -vf select=not(eq(mod(n\\,5)\\,1)) -fps_mode vfr -c:v libx264 -crf 4 -colorspace bt709 OUT",
            Wanted { says: Some("uneven_rate"), ..Wanted::numbers((0..60).filter(|n| n % 5 != 1).collect()) },
        ),
    ];
    for hz in ["120", "240"] {
        let rate_hz = hz.parse().unwrap_or(0.0);
        let wanted = Wanted { rate_hz, capture_rate_hz: rate_hz, ..Wanted::plain() };
        let film = Film { rate: hz, ..Film::new(H264) };
        rows.push(row(&format!("real time, {hz} a second"), &format!("real{hz}.mov"), film, wanted));
    }
    let tagged = format!("{H264} -movflags use_metadata_tags -metadata com.android.capture.fps=240.000000");
    let slow = Wanted { capture_rate_hz: 240.0, ..Wanted::plain() };
    rows.push(row("stored slow motion, tagged 240", "slow.mp4", Film::new(&tagged), slow.clone()));
    let mut reported = row("stored slow motion, told with --recorded-at", "told.mp4", Film::new(H264), slow);
    reported.recorded_at_hz = Some(240.0);
    rows.push(reported);
    let ramp = format!(
        "-vf setpts=if(lt(N\\,60)\\,N\\,if(lt(N\\,90)\\,60+8*(N-60)\\,300+N-90))/240/TB,{} -fps_mode passthrough",
        H264.trim_start_matches("-vf ")
    );
    let film = Film { rate: "240", pictures: 150, ..Film::new(&ramp) };
    let wanted = Wanted {
        rate_hz: 240.0,
        capture_rate_hz: 240.0,
        says: Some("speed_changes"),
        ..Wanted::numbers((0..150).collect())
    };
    let says = |says| Wanted { says, ..wanted.clone() };
    rows.push(row(
        "slow motion rendered into the middle",
        "ramp.mp4",
        film.clone(),
        says(Some("speed_changes")),
    ));
    let mut reported = row("the same, told with --recorded-at", "ramp_told.mp4", film, says(None));
    reported.recorded_at_hz = Some(240.0);
    rows.push(reported);
    rows
}

pub fn lying() -> Vec<Row> {
    let names = [
        "as stored",
        "turn 90",
        "turn 180",
        "turn 270",
        "mirrored",
        "mirrored, turn 90",
        "mirrored, turn 180",
        "mirrored, turn 270",
    ];
    names
        .into_iter()
        .enumerate()
        .map(|(way, name)| {
            let film = Film { way, ..Film::new(H264) };
            let (name, file) = (format!("display matrix: {name}"), format!("way{way}.mp4"));
            changed(&name, &file, film, Expect::Read(Wanted::plain()), move |path| make::lay(path, way))
        })
        .collect()
}

pub fn damage() -> Vec<Row> {
    let film = || Film::new(&format!("{H264} -bf 2"));
    let ts = || Film::new(&format!("{H264} -bf 2 -f mpegts"));
    let lost = |got: (usize, usize), says: &'static str| {
        Expect::Read(Wanted {
            numbers: None,
            got,
            as_ffprobe: false,
            says: Some(says),
            patches_within: 2.0,
            ..Wanted::plain()
        })
    };
    let faststart = Film::new(&format!("{H264} -bf 2 -movflags faststart"));
    vec![
        changed("MP4, last third missing", "cut.mp4", faststart, lost((30, 45), "pictures_missing"), |p| {
            make::keep(p, 0.0, 0.67, true)
        }),
        changed(
            "MP4, its index missing",
            "noindex.mp4",
            film(),
            Expect::Refused("is not a playable video"),
            |p| make::keep(p, 0.0, 0.67, true),
        ),
        changed("MP4, noise in the middle", "noise.mp4", film(), lost((36, 59), "pictures_missing"), |p| {
            make::spoil(p, 0.4, 0.5)
        }),
        changed(
            "MTS, a fifth missing from the middle",
            "hole.mts",
            ts(),
            Expect::Read(Wanted { numbers: None, got: (36, 50), as_ffprobe: false, ..Wanted::plain() }),
            |p| make::keep(p, 0.4, 0.6, false),
        ),
        changed(
            "MTS, begins in the middle of a group",
            "middle.mts",
            ts(),
            Expect::Read(Wanted { numbers: None, got: (36, 52), as_ffprobe: false, ..Wanted::plain() }),
            |p| make::keep(p, 0.15, 1.0, true),
        ),
        two_halves(
            "picture size changes half-way",
            "sizes.ts",
            "scale=160:96",
            Wanted {
                numbers: None,
                // What was begun when the first part ended cannot be trusted.
                got: (57, 60),
                as_ffprobe: false,
                says: Some("size_changes"),
                patches_within: 2.0,
                ..Wanted::plain()
            },
        ),
        two_halves(
            "picture shape changes half-way",
            "shapes.ts",
            "scale=192:320",
            Wanted {
                numbers: None,
                got: (27, 30),
                as_ffprobe: false,
                says: Some("shape_changes"),
                ..Wanted::plain()
            },
        ),
        changed("text called MP4", "text.mp4", film(), Expect::Refused("is not a playable video"), |p| {
            Ok(std::fs::write(p, "Dear diary\n".repeat(999))?)
        }),
        changed("nothing in it", "empty.mp4", film(), Expect::Refused("the file is empty"), |p| {
            Ok(std::fs::write(p, "")?)
        }),
    ]
}

/// Two transport streams, one after the other: the second half of the card's pictures in another size.
fn two_halves(name: &str, file: &str, filter: &str, wanted: Wanted) -> Row {
    let filter = filter.to_owned();
    let make = move |path: &Path| {
        let (one, two) = (path.with_extension("one.ts"), path.with_extension("two.ts"));
        let half = |options: &str, from: usize| Film {
            pictures: 30,
            numbers: Some((from..from + 30).collect()),
            ..Film::new(options)
        };
        half(H264, 0).write(&one)?;
        half(&format!("{} -output_ts_offset 1", H264.replace("-vf ", &format!("-vf {filter},"))), 30)
            .write(&two)?;
        std::fs::write(path, [std::fs::read(&one)?, std::fs::read(&two)?].concat())?;
        std::fs::remove_file(one)?;
        Ok(std::fs::remove_file(two)?)
    };
    read(name, file, make, wanted)
}
