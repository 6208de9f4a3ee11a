//! Small doors to the library: start it quietly, open an input, find its video, open a decoder.

use std::fs::File;
use std::path::Path;
use std::sync::Arc;
use std::sync::Once;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use ffmpeg_next as ff;

use super::mp4;
use crate::messages;
use crate::types::{Bound, Cause, Error, Limits, Result};

/// FFmpeg prints to stderr by a process-wide switch of its own. A library must not print, so the
/// switch is turned off once; this `Once` is the only state kept, and it guards FFmpeg's, not ours.
static START: Once = Once::new();

pub(super) fn start() {
    START.call_once(|| {
        // Only fills FFmpeg's table of error texts; without it causes would read as blanks.
        let _ = ff::init();
        ff::util::log::set_level(ff::util::log::Level::Quiet);
        // SAFETY: sets one number of FFmpeg's; documented to be called at any time.
        unsafe { ff::ffi::av_max_alloc(LARGEST_PIECE) };
    });
}

/// The largest single piece of memory that FFmpeg may ask for, bytes: several times a plane of the largest picture
/// that is taken on. A file that says it needs more is wrong or means harm.
const LARGEST_PIECE: usize = 512 << 20;

/// Formats that FFmpeg "plays" although the file is text, a list of other files or a device.
const NOT_CLIPS: [&str; 10] =
    ["tty", "concat", "hls", "dash", "sdp", "lavfi", "rtsp", "imf", "image2", "applehttp"];

/// Wrong packets in a row after which a file is given up on: reading always moves on, but slowly.
pub(super) const PATIENCE: usize = 10_000;

/// A file that gives nothing for so long is given up on: a disk that hangs, or a container that sends its reader round
/// in circles.
const LONGEST_WAIT: Duration = Duration::from_secs(60);

/// Notes when a file last gave something, and says when that is too long ago.
#[derive(Clone)]
pub(super) struct Patience {
    began: Instant,
    /// Since `began`, ms.
    moved_ms: Arc<AtomicU64>,
    longest: Duration,
}

impl Patience {
    fn new(longest: Duration) -> Self {
        Self { began: Instant::now(), moved_ms: Arc::default(), longest }
    }

    fn passed_ms(&self) -> u64 {
        u64::try_from(self.began.elapsed().as_millis()).unwrap_or(u64::MAX)
    }

    /// From now on a full wait is allowed again.
    fn moved(&self) {
        self.moved_ms.store(self.passed_ms(), Ordering::Relaxed);
    }

    fn is_over(&self) -> bool {
        let since_ms = self.passed_ms().saturating_sub(self.moved_ms.load(Ordering::Relaxed));
        Duration::from_millis(since_ms) > self.longest
    }
}

/// The path as FFmpeg wants it: `file:` keeps names with a colon from being taken for addresses.
pub(super) fn url(path: &Path) -> Option<String> {
    path.to_str().filter(|p| !p.contains('\0')).map(|p| format!("file:{p}"))
}

/// An opened container of which one stream is read.
pub(super) struct Source {
    pub input: ff::format::context::Input,
    pub stream: usize,
    pub time_base: ff::Rational,
    patience: Patience,
    pub limits: Limits,
}

impl Source {
    /// Read stream number `stream` of an opened file; every other one is switched off. `None` where it is not there or
    /// has no clock.
    pub(super) fn new(opened: Opened, stream: usize) -> Option<Self> {
        let Opened { mut input, patience, limits } = opened;
        let time_base = input.stream(stream)?.time_base();
        if time_base.numerator() <= 0 || time_base.denominator() <= 0 {
            return None;
        }
        only(&mut input, stream);
        Some(Self { input, stream, time_base, patience, limits })
    }

    /// Read stream `other` as well, by [`read_any`].
    pub(super) fn also(&mut self, other: Option<usize>) {
        if let Some(mut stream) = other.and_then(|i| self.input.stream_mut(i)) {
            // SAFETY: as in `only`.
            unsafe { (*stream.as_mut_ptr()).discard = ff::ffi::AVDiscard::AVDISCARD_DEFAULT };
        }
    }

    /// Go to the key picture at `ticks` of the stream's clock. False when the file cannot.
    pub(super) fn seek(&mut self, ticks: i64) -> bool {
        self.patience.moved();
        // SAFETY: the container is live and ours; the crate's seek takes only microseconds of a
        // stream it picks itself, which is too coarse to land on a given packet.
        unsafe {
            ff::ffi::av_seek_frame(
                self.input.as_mut_ptr(),
                self.stream as i32,
                ticks,
                ff::ffi::AVSEEK_FLAG_BACKWARD,
            ) >= 0
        }
    }
}

/// An opened container and how long it is waited for.
pub(super) struct Opened {
    pub input: ff::format::context::Input,
    patience: Patience,
    limits: Limits,
}

/// Open `path`, telling apart what a person would tell apart: not there, empty, not a video.
pub(super) fn open_input(path: &Path, limits: &Limits) -> Result<Opened> {
    start();
    let facts = std::fs::metadata(path).map_err(|e| Error::reading(path, e))?;
    if facts.is_dir() {
        return Err(Error::Unreadable { path: path.to_owned(), cause: messages::files::IS_A_FOLDER.into() });
    }
    // A pipe or a device may keep us waiting for ever.
    if !facts.is_file() {
        return Err(Error::Unreadable {
            path: path.to_owned(),
            cause: messages::files::NOT_A_REGULAR_FILE.into(),
        });
    }
    if facts.len() == 0 {
        return Err(Error::Empty { path: path.to_owned() });
    }
    drop(File::open(path).map_err(|e| Error::reading(path, e))?);
    let url = url(path).ok_or_else(|| Error::Unreadable {
        path: path.to_owned(),
        cause: messages::files::NAME_NOT_TEXT.into(),
    })?;
    let mut options = ff::Dictionary::new();
    // A clip is one file: nothing it says may make us open another file or the network.
    options.set("protocol_whitelist", "file");
    let patience = Patience::new(LONGEST_WAIT);
    let waited = patience.clone();
    let input = ff::format::input_with_interrupt_and_dictionary(&url, move || waited.is_over(), options)
        .map_err(|e| match mp4::is_cut_short(path) {
            true => Error::CutShort { path: path.to_owned() },
            false => not_video(path, &e),
        })?;
    let format = input.format().name().to_owned();
    if format.split(',').any(|name| NOT_CLIPS.contains(&name)) {
        return Err(Error::NotVideo { path: path.to_owned(), cause: messages::media::NOT_A_VIDEO.into() });
    }
    limits.check(Bound::Tracks, path, f64::from(input.nb_streams()))?;
    Ok(Opened { input, patience, limits: *limits })
}

/// Open `path` for its pictures.
pub(super) fn open_video(path: &Path, limits: &Limits) -> Result<Source> {
    let opened = open_input(path, limits)?;
    let not_video = |cause: &str| Error::NotVideo { path: path.to_owned(), cause: cause.into() };
    let video = |s: &ff::format::stream::Stream| s.parameters().medium() == ff::media::Type::Video;
    let stream = match film(path, &opened.input, limits)? {
        Some(stream) => stream,
        None if opened.input.streams().any(|s| video(&s)) => {
            return Err(not_video(messages::media::ONLY_A_COVER));
        }
        None => return Err(not_video(messages::media::NO_VIDEO)),
    };
    let pixels = opened.input.stream(stream).map_or(0, |s| area(&s));
    limits.check(Bound::Pixels, path, pixels as f64)?;
    Source::new(opened, stream).ok_or_else(|| not_video(messages::media::NO_CLOCK))
}

/// A video with at most this share of the pictures that another one of the file has is a still or two, as phones keep
/// them beside the film of a moving still, and much larger.
const STILLS: f64 = 0.1;
/// Packets of a file that are counted, where it does not say how many pictures its tracks have.
const COUNTED: usize = 5_000;

/// The video that was filmed: no cover or thumbnail; of several one that can be decoded, one that is more than stills,
/// the largest, the one marked as the usual one, the first.
fn film(path: &Path, input: &ff::format::context::Input, limits: &Limits) -> Result<Option<usize>> {
    use ff::format::stream::Disposition;
    let videos = || {
        input
            .streams()
            .filter(|s| s.parameters().medium() == ff::media::Type::Video)
            .filter(|s| !s.disposition().contains(Disposition::ATTACHED_PIC))
    };
    let known = |s: &ff::format::stream::Stream| ff::codec::decoder::find(s.parameters().id()).is_some();
    let mut pictures: Vec<(usize, i64)> = videos().filter(known).map(|s| (s.index(), s.frames())).collect();
    if pictures.len() > 1 && pictures.iter().any(|(_, n)| *n <= 0) {
        count_packets(path, limits, &mut pictures)?;
    }
    let most = pictures.iter().map(|(_, n)| *n).max().unwrap_or(0);
    let score = |s: &ff::format::stream::Stream| {
        let has = pictures.iter().find(|(i, _)| *i == s.index()).map(|(_, n)| *n);
        let moves = has.is_some_and(|n| n as f64 > STILLS * most as f64);
        let usual = s.disposition().contains(Disposition::DEFAULT);
        (known(s), moves, area(s), usual, std::cmp::Reverse(s.index()))
    };
    Ok(videos().max_by_key(score).map(|s| s.index()))
}

/// Pictures of these tracks near the file's beginning.
fn count_packets(path: &Path, limits: &Limits, tracks: &mut [(usize, i64)]) -> Result<()> {
    let mut input = open_input(path, limits)?.input;
    tracks.iter_mut().for_each(|(_, n)| *n = 0);
    for _ in 0..COUNTED {
        let mut packet = ff::Packet::empty();
        match packet.read(&mut input) {
            Ok(()) => (),
            Err(ff::Error::InvalidData) => continue,
            Err(_) => break,
        }
        if let Some((_, n)) = tracks.iter_mut().find(|(i, _)| *i == packet.stream()) {
            *n += 1;
        }
    }
    Ok(())
}

/// How many pixels a stream says its pictures have; 0 where it does not say.
fn area(stream: &ff::format::stream::Stream) -> i64 {
    let parameters = stream.parameters();
    // SAFETY: reads two integers of live stream parameters; the crate has no getters for them.
    unsafe {
        let raw = parameters.as_ptr();
        i64::from((*raw).width) * i64::from((*raw).height)
    }
}

/// Let the container skip everything but one stream.
fn only(input: &mut ff::format::context::Input, stream: usize) {
    for mut other in input.streams_mut() {
        if other.index() != stream {
            // SAFETY: the pointer is a live stream of `input`, borrowed mutably; `discard` is a
            // documented caller-set field that the crate has no setter for.
            unsafe { (*other.as_mut_ptr()).discard = ff::ffi::AVDiscard::AVDISCARD_ALL };
        }
    }
}

/// An MP4 to be written that does not tell what wrote it.
pub(super) fn mp4_output(url: &str) -> std::result::Result<ff::format::context::Output, ff::Error> {
    let mut output = ff::format::output_as(url, "mp4")?;
    // SAFETY: the container is live and ours; a documented caller-set flag without a setter.
    unsafe { (*output.as_mut_ptr()).flags |= ff::ffi::AVFMT_FLAG_BITEXACT };
    Ok(output)
}

/// A decoder for one stream's parameters, with `threads` threads of both kinds.
pub(super) fn open_decoder(
    parameters: ff::codec::Parameters,
    time_base: ff::Rational,
    threads: usize,
    limits: &Limits,
) -> std::result::Result<ff::codec::decoder::Opened, ff::Error> {
    let codec = ff::codec::decoder::find(parameters.id()).ok_or(ff::Error::DecoderNotFound)?;
    let mut context = ff::codec::Context::from_parameters(parameters)?;
    // SAFETY: the context is ours and not yet opened, the fields are the caller's to set; the crate's setter takes
    // one kind of threading only, while FFmpeg takes both and uses what the codec can do.
    unsafe {
        let raw = context.as_mut_ptr();
        (*raw).thread_count = threads.clamp(1, 16) as i32;
        (*raw).thread_type = ff::ffi::FF_THREAD_FRAME | ff::ffi::FF_THREAD_SLICE;
        // A file may say one size and hold another.
        (*raw).max_pixels = limits.most(Bound::Pixels) as i64;
    }
    let mut decoder = context.decoder();
    decoder.set_packet_time_base(time_base);
    decoder.open_as(codec)
}

/// The flags of a packet; the crate's own drop the bits it has no names for.
pub(super) fn flags(packet: &ff::Packet) -> i32 {
    use ff::packet::Ref;
    // SAFETY: reads one integer of a live packet.
    unsafe { (*packet.as_ptr()).flags }
}

pub(super) fn not_video(path: &Path, cause: &ff::Error) -> Error {
    Error::NotVideo { path: path.to_owned(), cause: self::cause(*cause) }
}

/// A failure in words.
/// FFmpeg's error with what it says.
pub(super) fn cause(error: ff::Error) -> Cause {
    Cause::told(why(&error), error)
}

pub(super) fn why(error: &ff::Error) -> String {
    match error {
        ff::Error::Exit => messages::media::no_answer_for(LONGEST_WAIT.as_secs()),
        other => other.to_string(),
    }
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

/// Read on until a packet of the source's stream. The crate's iterator hides errors, so it is not used.
pub(super) fn read(source: &mut Source, packet: &mut ff::Packet) -> Read {
    loop {
        match read_any(source, packet) {
            Read::Packet if packet.stream() != source.stream => (),
            other => return other,
        }
    }
}

/// The next packet of any stream that is not switched off.
pub(super) fn read_any(source: &mut Source, packet: &mut ff::Packet) -> Read {
    // A fresh packet each time frees the last one's data.
    *packet = ff::Packet::empty();
    source.patience.moved();
    match packet.read(&mut source.input) {
        Ok(()) => Read::Packet,
        Err(ff::Error::Eof) => Read::End,
        Err(ff::Error::InvalidData) => Read::Damaged,
        Err(e) => Read::Failed(e),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patience_ends_only_when_nothing_comes() {
        let patience = Patience::new(Duration::from_millis(200));
        for _ in 0..6 {
            std::thread::sleep(Duration::from_millis(50));
            patience.moved();
        }
        assert!(!patience.is_over());
        std::thread::sleep(Duration::from_millis(300));
        assert!(patience.is_over());
        patience.moved();
        assert!(!patience.is_over());
    }
}
