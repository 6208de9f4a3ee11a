//! What pictures are like: fields, colors, shapes.

use super::*;

pub fn fields() -> Vec<Row> {
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

pub fn colours() -> Vec<Row> {
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

pub fn shapes() -> Vec<Row> {
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
