//! The kinds of footage: how each is made and what should come of it.

use std::path::Path;

use super::Outcome;
use super::card::{HEIGHT, Kind, WIDTH};
use super::make::{self, Film};

/// Makes a file in the given place.
type Make = Box<dyn Fn(&Path) -> Outcome<()>>;

pub struct Row {
    pub name: String,
    pub file: String,
    pub make: Make,
    pub recorded_at_hz: Option<f64>,
    pub expect: Expect,
}

pub enum Expect {
    Read(Wanted),
    /// One sentence with this in it.
    Refused(&'static str),
}

#[derive(Debug, Clone)]
pub struct Wanted {
    pub kind: Kind,
    pub size: (usize, usize),
    pub rate_hz: f64,
    pub capture_rate_hz: f64,
    /// The numbers the pictures show; `None` where the codec is too coarse to read them or some are lost.
    pub numbers: Option<Vec<usize>>,
    /// Whether the bar stands where picture after picture it should.
    pub bars: bool,
    /// Fewest and most pictures that can be had.
    pub got: (usize, usize),
    /// Codes that patches may be off by, largest of the three (SDR), or ΔE*ab (HDR).
    pub patches_within: f64,
    /// Whether ffprobe's times are to agree (not where fields become pictures or damage is met).
    pub as_ffprobe: bool,
    /// A warning that must be there.
    pub says: Option<&'static str>,
}

impl Wanted {
    fn plain() -> Self {
        Self {
            kind: Kind::Sdr,
            size: (WIDTH, HEIGHT),
            rate_hz: 30.0,
            capture_rate_hz: 30.0,
            numbers: Some((0..60).collect()),
            bars: false,
            got: (60, 60),
            patches_within: 2.0,
            as_ffprobe: true,
            says: None,
        }
    }

    fn numbers(numbers: Vec<usize>) -> Self {
        let n = numbers.len();
        Self { got: (n, n), numbers: Some(numbers), ..Self::plain() }
    }
}

const H264: &str = "-vf scale=out_color_matrix=bt709:out_range=tv:flags=accurate_rnd+full_chroma_int -pix_fmt yuv420p \
    -c:v libx264 -crf 4 -g 12 -colorspace bt709 -color_primaries bt709 -color_trc bt709 -color_range tv";

fn coded(codec: &str) -> String {
    H264.replace("-c:v libx264 -crf 4", codec)
}

fn row(name: &str, file: &str, film: Film, wanted: Wanted) -> Row {
    Row {
        name: name.to_owned(),
        file: file.to_owned(),
        make: Box::new(move |path| film.write(path)),
        recorded_at_hz: None,
        expect: Expect::Read(wanted),
    }
}

/// A film, and what is then done to it.
fn changed(
    name: &str,
    file: &str,
    film: Film,
    expect: Expect,
    change: impl Fn(&Path) -> Outcome<()> + 'static,
) -> Row {
    let make = move |path: &Path| {
        film.write(path)?;
        change(path)
    };
    Row { name: name.to_owned(), file: file.to_owned(), make: Box::new(make), recorded_at_hz: None, expect }
}

/// A film kept beside, and ffmpeg's words that make the file of it (`IN`, `OUT`).
fn from_film(name: &str, file: &str, film: Film, words: &str, wanted: Wanted) -> Row {
    let words = words.to_owned();
    let make = move |path: &Path| {
        let source = path.with_extension("source.mov");
        film.write(&source)?;
        make::ffmpeg(
            &words.replace("IN", &source.to_string_lossy()).replace("OUT", &path.to_string_lossy()),
        )?;
        Ok(std::fs::remove_file(source)?)
    };
    Row {
        name: name.to_owned(),
        file: file.to_owned(),
        make: Box::new(make),
        recorded_at_hz: None,
        expect: Expect::Read(wanted),
    }
}

pub fn all() -> Vec<Row> {
    [times(), lying(), fields(), colours(), shapes(), containers(), tracks(), damage()]
        .into_iter()
        .flatten()
        .collect()
}

fn lying() -> Vec<Row> {
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

fn times() -> Vec<Row> {
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
    let mut told = row("stored slow motion, told with --recorded-at", "told.mp4", Film::new(H264), slow);
    told.recorded_at_hz = Some(240.0);
    rows.push(told);
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
    let mut told = row("the same, told with --recorded-at", "ramp_told.mp4", film, says(None));
    told.recorded_at_hz = Some(240.0);
    rows.push(told);
    rows
}

fn fields() -> Vec<Row> {
    let wanted = |rate_hz: f64| Wanted {
        numbers: None,
        rate_hz,
        capture_rate_hz: rate_hz,
        as_ffprobe: false,
        patches_within: 2.0,
        bars: true,
        ..Wanted::plain()
    };
    let film = |scan: &str, rate: &'static str, codec: &str| Film {
        rate,
        ..Film::new(&coded(codec).replace("-vf ", &format!("-vf interlace=scan={scan}:lowpass=off,")))
    };
    // The interlacer begins with its second picture.
    let mut rows = vec![
        row(
            "interlaced, upper field first",
            "upper.mp4",
            film("tff", "50", "-c:v libx264 -crf 4 -flags +ilme+ildct"),
            wanted(50.0),
        ),
        row(
            "interlaced, lower field first",
            "lower.mp4",
            film("bff", "60000/1001", "-c:v libx264 -crf 4 -flags +ilme+ildct"),
            wanted(60000.0 / 1001.0),
        ),
        row(
            "interlaced MPEG-2 in MTS",
            "mpeg2.mts",
            film("tff", "50", "-c:v mpeg2video -q:v 1 -flags +ilme+ildct -f mpegts"),
            wanted(50.0),
        ),
    ];
    let psf = format!("{H264} -flags +ilme+ildct -x264-params tff=1");
    rows.push(row(
        "progressive, stored as fields",
        "psf.mp4",
        Film { rate: "25", ..Film::new(&psf) },
        Wanted { rate_hz: 25.0, capture_rate_hz: 25.0, ..Wanted::plain() },
    ));
    rows
}

fn colours() -> Vec<Row> {
    let scaled = |matrix: &str, range: &str, format: &str, codec: &str| {
        let tag = if matrix == "bt601" { "smpte170m" } else { matrix };
        Film::new(&format!(
            "-vf scale=out_color_matrix={matrix}:out_range={range}:flags=accurate_rnd+full_chroma_int,format={format} \
             -pix_fmt {format} {codec} -g 12 -colorspace {tag} -color_range {range}"
        ))
    };
    let x264 = "-c:v libx264 -crf 4";
    let mut rows = vec![
        row("BT.601", "bt601.mp4", scaled("bt601", "tv", "yuv420p", x264), Wanted::plain()),
        row("full range BT.601", "full601.mp4", scaled("bt601", "pc", "yuvj420p", x264), Wanted::plain()),
        row("full range BT.709", "full709.mp4", scaled("bt709", "pc", "yuv420p", x264), Wanted::plain()),
        row("4:2:2, 10 bit", "422.mov", scaled("bt709", "tv", "yuv422p10le", x264), Wanted::plain()),
        row(
            "ProRes, colours not tagged",
            "prores.mov",
            scaled("bt601", "tv", "yuv422p10le", "-c:v prores_ks -profile:v 3 -qscale:v 2"),
            Wanted::plain(),
        ),
        row("4:4:4", "444.mp4", scaled("bt709", "tv", "yuv444p", x264), Wanted::plain()),
        row(
            "10 bit HEVC",
            "main10.mp4",
            scaled("bt709", "tv", "yuv420p10le", "-c:v libx265 -crf 4 -x265-params log-level=none"),
            Wanted::plain(),
        ),
    ];
    for (kind, name, trc, primaries) in [
        (Kind::Hlg, "HLG", "arib-std-b67", "bt2020"),
        (Kind::Pq, "PQ", "smpte2084", "bt2020"),
        (Kind::WideSdr, "BT.2020 in ordinary range", "bt2020-10", "bt2020"),
    ] {
        let options = format!(
            "-pix_fmt yuv420p10le -c:v libx265 -crf 4 -g 12 -x265-params log-level=none -color_trc {trc} \
             -color_primaries {primaries} -colorspace bt2020nc -color_range tv"
        );
        let wanted = Wanted { kind, patches_within: 3.0, ..Wanted::plain() };
        rows.push(row(name, &format!("{trc}.mp4"), Film { kind, ..Film::new(&options) }, wanted));
    }
    rows
}

fn shapes() -> Vec<Row> {
    let plain = || Film::new(&format!("{H264} -bf 2"));
    let shaped = |size: (usize, usize)| Wanted { size, ..Wanted::plain() };
    vec![
        from_film(
            "odd size",
            "odd.webm",
            plain(),
            "-i IN -vf scale=321:193 -c:v libvpx-vp9 -crf 8 -b:v 0 -cpu-used 8 -colorspace bt709 OUT",
            Wanted { size: (320, 192), patches_within: 2.0, ..Wanted::plain() },
        ),
        from_film(
            "pixels 16:15, upright sizes even",
            "pal.mp4",
            plain(),
            "-i IN -vf setsar=16/15 -c:v libx264 -crf 4 -colorspace bt709 OUT",
            shaped((342, HEIGHT)),
        ),
        from_film(
            "pixels 4:3",
            "hdv.mp4",
            plain(),
            "-i IN -vf setsar=4/3 -c:v libx264 -crf 4 -colorspace bt709 OUT",
            shaped((426, HEIGHT)),
        ),
        from_film(
            "pixels 8:9",
            "ntsc.mp4",
            plain(),
            "-i IN -vf setsar=8/9 -c:v libx264 -crf 4 -colorspace bt709 OUT",
            shaped((WIDTH, 216)),
        ),
    ]
}

fn containers() -> Vec<Row> {
    let rough = |within: f64| Wanted { patches_within: within, ..Wanted::plain() };
    let sound = "-f lavfi -i sine=d=2";
    let vf = "-vf scale=out_color_matrix=bt709:flags=accurate_rnd+full_chroma_int -pix_fmt yuv420p -colorspace bt709 -g 12";
    let of = |codec: &str| Film::new(&format!("{sound} {vf} {codec}"));
    vec![
        row("MOV, H.264, PCM", "pcm.mov", of("-c:v libx264 -crf 4 -c:a pcm_s16le"), rough(2.0)),
        row(
            "MKV, HEVC, FLAC",
            "hevc.mkv",
            of("-c:v libx265 -crf 4 -x265-params log-level=none -c:a flac"),
            rough(2.0),
        ),
        row(
            "WebM, VP9, Opus",
            "vp9.webm",
            of("-c:v libvpx-vp9 -crf 4 -b:v 0 -cpu-used 8 -c:a libopus"),
            rough(2.0),
        ),
        row(
            "WebM, VP8, Vorbis",
            "vp8.webm",
            of("-c:v libvpx -crf 4 -b:v 8M -c:a libvorbis").rough601(),
            rough(2.0),
        ),
        row(
            "MP4, AV1",
            "av1.mp4",
            of("-c:v libaom-av1 -crf 4 -b:v 0 -cpu-used 8 -row-mt 1 -usage realtime -c:a aac"),
            rough(2.0),
        ),
        row(
            "MTS, H.264, AC-3",
            "avchd.mts",
            of("-c:v libx264 -crf 4 -c:a ac3 -f mpegts -mpegts_m2ts_mode 1"),
            rough(2.0),
        ),
        row("AVI, MPEG-4, MP3", "mpeg4.avi", of("-c:v mpeg4 -q:v 1 -c:a libmp3lame").rough601(), rough(2.0)),
        row(
            "AVI, Motion JPEG",
            "mjpeg.avi",
            Film::new(
                "-vf scale=out_color_matrix=bt601:out_range=pc:flags=accurate_rnd+full_chroma_int -pix_fmt yuvj420p -c:v mjpeg -q:v 1",
            ),
            rough(2.0),
        ),
        row(
            "MP4 in pieces (fragmented)",
            "pieces.mp4",
            of("-c:v libx264 -crf 4 -c:a aac -movflags frag_keyframe+empty_moov"),
            rough(2.0),
        ),
        row("3GP, MPEG-4, AMR", "phone.3gp", of("-c:v mpeg4 -q:v 1 -an").rough601(), rough(2.0)),
        row(
            "MPEG program stream, MPEG-2",
            "camcorder.mpg",
            of("-c:v mpeg2video -q:v 1 -bf 2 -c:a mp2").rough601(),
            // The last picture has no time, for ffprobe too.
            Wanted { numbers: Some((0..59).collect()), got: (59, 60), ..rough(2.0) },
        ),
        row(
            "GIF",
            "short.gif",
            Film { rate: "25", ..Film::new("-vf split[a][b];[a]palettegen[p];[b][p]paletteuse=dither=none") },
            Wanted { rate_hz: 25.0, capture_rate_hz: 25.0, ..rough(2.0) },
        ),
    ]
}

impl Film {
    /// For codings that cannot say their matrix: BT.601, as small pictures are taken to be.
    fn rough601(mut self) -> Self {
        for option in &mut self.options {
            *option = option.replace("out_color_matrix=bt709", "out_color_matrix=bt601");
        }
        if let Some(at) = self.options.iter().position(|o| o == "-colorspace") {
            self.options.drain(at..at + 2);
        }
        self
    }
}

fn tracks() -> Vec<Row> {
    let plain = || Film::new(&format!("{H264} -bf 2"));
    let unknown = |path: &Path| {
        make::rename(path, b"mp4a", b"qqqq")?;
        make::rename(path, b"esds", b"qqqs")
    };
    let aac = Film::new(&format!("-f lavfi -i sine=d=2 {H264} -c:a aac"));
    vec![
        from_film(
            "two videos, the small one first",
            "two.mov",
            plain(),
            "-i IN -filter_complex [0:v]scale=64:48[s] -map [s] -map 0:v -c:v:0 libx264 -c:v:1 copy OUT",
            Wanted::plain(),
        ),
        changed(
            "sound no decoder knows",
            "unknown.mp4",
            aac,
            Expect::Read(Wanted { says: Some("sound_unreadable"), ..Wanted::plain() }),
            unknown,
        ),
        from_film(
            "timecode and data tracks",
            "data.mov",
            plain(),
            "-i IN -f lavfi -i sine=d=2 -map 0:v -map 1:a -c:v copy -c:a aac -timecode 01:00:00:00 OUT",
            Wanted::plain(),
        ),
        from_film(
            "cover picture first",
            "cover.mp4",
            plain(),
            "-i IN -f lavfi -i color=red:s=600x600:d=0.04 -map 1 -map 0:v -c:v:0 mjpeg -c:v:1 copy -disposition:v:0 attached_pic OUT",
            Wanted::plain(),
        ),
    ]
}

fn damage() -> Vec<Row> {
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
        changed("MP4, its index missing", "noindex.mp4", film(), Expect::Refused("missing"), |p| {
            make::keep(p, 0.0, 0.67, true)
        }),
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
        changed(
            "text called MP4",
            "text.mp4",
            film(),
            Expect::Refused("no picture that can be played"),
            |p| Ok(std::fs::write(p, "Dear diary\n".repeat(999))?),
        ),
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
    Row {
        name: name.to_owned(),
        file: file.to_owned(),
        make: Box::new(make),
        recorded_at_hz: None,
        expect: Expect::Read(wanted),
    }
}
