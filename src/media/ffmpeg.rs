//! Small doors to the library: start it quietly, open an input, find its video, open a decoder.

use std::fs::File;
use std::path::Path;
use std::sync::Once;

use ffmpeg_next as ff;

use crate::ground::{Error, Result};

/// FFmpeg prints to stderr by a process-wide switch of its own. A library must not print, so the
/// switch is turned off once; this `Once` is the only state kept, and it guards FFmpeg's, not ours.
static START: Once = Once::new();

pub(super) fn start() {
    START.call_once(|| {
        // Only fills FFmpeg's table of error texts; without it causes would read as blanks.
        let _ = ff::init();
        ff::util::log::set_level(ff::util::log::Level::Quiet);
    });
}

/// Formats that FFmpeg "plays" although the file is text, a list of other files or a device.
const NOT_CLIPS: [&str; 10] =
    ["tty", "concat", "hls", "dash", "sdp", "lavfi", "rtsp", "imf", "image2", "applehttp"];

/// Wrong packets in a row after which a file is given up on: reading always moves on, but slowly.
pub(super) const PATIENCE: usize = 10_000;

/// The path as FFmpeg wants it: `file:` keeps names with a colon from being taken for addresses.
pub(super) fn url(path: &Path) -> Option<String> {
    path.to_str().filter(|p| !p.contains('\0')).map(|p| format!("file:{p}"))
}

/// An opened container with its best video stream chosen and every other stream switched off.
pub(super) struct Source {
    pub input: ff::format::context::Input,
    pub stream: usize,
    pub time_base: ff::Rational,
}

/// Open `path`, telling apart what a person would tell apart: not there, empty, not a video.
pub(super) fn open_input(path: &Path) -> Result<ff::format::context::Input> {
    start();
    let facts = std::fs::metadata(path).map_err(|e| Error::reading(path, &e))?;
    if facts.is_dir() {
        return Err(Error::Unreadable { path: path.to_owned(), cause: "it is a folder".into() });
    }
    if facts.len() == 0 {
        return Err(Error::Empty { path: path.to_owned() });
    }
    drop(File::open(path).map_err(|e| Error::reading(path, &e))?);
    let url = url(path).ok_or_else(|| Error::Unreadable {
        path: path.to_owned(),
        cause: "its name is not valid text".into(),
    })?;
    let mut options = ff::Dictionary::new();
    // A clip is one file: nothing it says may make us open another file or the network.
    options.set("protocol_whitelist", "file");
    let input = ff::format::input_with_dictionary(&url, options).map_err(|e| not_video(path, &e))?;
    let format = input.format().name().to_owned();
    if format.split(',').any(|name| NOT_CLIPS.contains(&name)) {
        return Err(Error::NotVideo { path: path.to_owned(), cause: "it is not a video file".into() });
    }
    Ok(input)
}

/// Open `path` for its pictures.
pub(super) fn open_video(path: &Path) -> Result<Source> {
    let mut input = open_input(path)?;
    let Some(stream) = input.streams().best(ff::media::Type::Video) else {
        return Err(Error::NotVideo { path: path.to_owned(), cause: "there is no video in it".into() });
    };
    if stream.disposition().contains(ff::format::stream::Disposition::ATTACHED_PIC) {
        return Err(Error::NotVideo {
            path: path.to_owned(),
            cause: "there is only a cover picture in it".into(),
        });
    }
    let (index, time_base) = (stream.index(), stream.time_base());
    if time_base.numerator() <= 0 || time_base.denominator() <= 0 {
        return Err(Error::NotVideo { path: path.to_owned(), cause: "it has no clock".into() });
    }
    only(&mut input, index);
    Ok(Source { input, stream: index, time_base })
}

/// Let the container skip everything but one stream.
pub(super) fn only(input: &mut ff::format::context::Input, stream: usize) {
    for mut other in input.streams_mut() {
        if other.index() != stream {
            // SAFETY: the pointer is a live stream of `input`, borrowed mutably; `discard` is a
            // documented caller-set field that the crate has no setter for.
            unsafe { (*other.as_mut_ptr()).discard = ff::ffi::AVDiscard::AVDISCARD_ALL };
        }
    }
}

/// A decoder for one stream's parameters, with `threads` threads of both kinds.
pub(super) fn open_decoder(
    parameters: ff::codec::Parameters,
    time_base: ff::Rational,
    threads: usize,
) -> std::result::Result<ff::codec::decoder::Opened, ff::Error> {
    let codec = ff::codec::decoder::find(parameters.id()).ok_or(ff::Error::DecoderNotFound)?;
    let mut context = ff::codec::Context::from_parameters(parameters)?;
    // SAFETY: the context is ours and not yet opened; the crate's setter takes one kind of
    // threading only, while FFmpeg takes both and uses what the codec can do.
    unsafe {
        let raw = context.as_mut_ptr();
        (*raw).thread_count = threads.clamp(1, 16) as i32;
        (*raw).thread_type = ff::ffi::FF_THREAD_FRAME | ff::ffi::FF_THREAD_SLICE;
    }
    let mut decoder = context.decoder();
    decoder.set_packet_time_base(time_base);
    decoder.open_as(codec)
}

pub(super) fn not_video(path: &Path, cause: &ff::Error) -> Error {
    Error::NotVideo { path: path.to_owned(), cause: cause.to_string() }
}

/// Whether the decoder merely wants more packets.
pub(super) fn wants_more(error: &ff::Error) -> bool {
    matches!(error, ff::Error::Other { errno } if *errno == ff::util::error::EAGAIN)
}

/// What a read of the next packet of one stream brought.
pub(super) enum Read {
    Packet,
    /// A packet that could not be read; the next one may be fine.
    Damaged,
    End,
    Failed(ff::Error),
}

/// Read on until a packet of `stream`. The crate's iterator hides errors, so it is not used.
pub(super) fn read(input: &mut ff::format::context::Input, stream: usize, packet: &mut ff::Packet) -> Read {
    loop {
        // A fresh packet each time frees the last one's data.
        *packet = ff::Packet::empty();
        match packet.read(input) {
            Ok(()) if packet.stream() == stream => return Read::Packet,
            Ok(()) => (),
            Err(ff::Error::Eof) => return Read::End,
            Err(ff::Error::InvalidData) => return Read::Damaged,
            Err(e) => return Read::Failed(e),
        }
    }
}
