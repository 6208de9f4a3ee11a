//! Containers and codecs, and which of several tracks is read.

use super::*;

pub fn containers() -> Vec<Row> {
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

pub fn tracks() -> Vec<Row> {
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
