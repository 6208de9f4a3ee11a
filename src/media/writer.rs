//! Writing a clip that plays everywhere: H.264, 4:2:0, BT.709 limited and tagged so, constant rate,
//! no B-frames, index first, AAC or no sound, no words about who, where or with what.

mod options;

use std::path::Path;

use ff::codec::encoder;
use ffmpeg_next as ff;

use super::ffmpeg;
use super::mp4;
use super::upright::matrix;
use super::verify::{Wanted, Written, verify};
use crate::messages;
use crate::store::AtomicFile;
use crate::types::{Cause, Error, Frame, Plane, Result, Sound};
pub use options::{Preset, WriteOptions};
use options::{check, video_encoder};

/// A file being written. Dropping it before [`Writer::finish`] leaves nothing behind.
pub struct Writer {
    // Before `target`: the file is closed, then removed.
    output: ff::format::context::Output,
    target: AtomicFile,
    options: WriteOptions,
    video: encoder::video::Encoder,
    audio: Option<SoundTrack>,
    picture: ff::frame::Video,
    frames: usize,
}

/// What became of a file that may not be too large.
#[derive(Debug, Clone, PartialEq)]
pub enum Finished {
    /// It stands where it was asked for.
    Kept(Written),
    /// It would have been this large, container and sound included; it is gone.
    TooLarge {
        /// How large it was; it is gone again.
        bytes: u64,
    },
}

struct SoundTrack {
    encoder: encoder::audio::Encoder,
    sound: Sound,
    /// Samples an encoder frame takes.
    chunk: usize,
    /// Next sample of the made clip to encode, from its first picture.
    at: i64,
}

impl Writer {
    /// Begin writing `target` (through a temporary file beside it).
    pub fn create(target: &Path, options: &WriteOptions) -> Result<Self> {
        ffmpeg::start();
        check(options)?;
        let target = AtomicFile::beside(target)?;
        let wrong = |e: ff::Error| Error::Encode { path: target.place().to_owned(), cause: Cause::of(e) };
        let url = ffmpeg::url(target.temporary()).ok_or_else(|| Error::Unwritable {
            path: target.place().to_owned(),
            cause: messages::files::NAME_NOT_TEXT.into(),
        })?;
        let mut output = ffmpeg::mp4_output(&url).map_err(|e| container_error(target.place(), &e))?;

        let video = video_encoder(options)
            .map_err(|cause| Error::Encode { path: target.place().to_owned(), cause: cause.into() })?;
        let audio = options.sound.clone().map(SoundTrack::new).transpose().map_err(wrong)?;
        let rate = ff::Rational::new(options.rate.0 as i32, options.rate.1 as i32);
        let mut stream = output.add_stream_with(video.as_ref()).map_err(wrong)?;
        stream.set_time_base(rate.invert());
        stream.set_avg_frame_rate(rate);
        if let Some(track) = &audio {
            let mut stream = output.add_stream_with(track.encoder.as_ref()).map_err(wrong)?;
            stream.set_time_base((1, track.sound.rate_hz as i32));
        }
        let mut flags = String::from("+faststart");
        if !options.metadata.is_empty() {
            flags.push_str("+use_metadata_tags");
            let tags = options.metadata.iter().map(|(k, v)| (k.as_str(), v.as_str()));
            output.set_metadata(tags.collect());
        }
        output
            .write_header_with([("movflags", flags.as_str())].into_iter().collect())
            .map_err(|e| container_error(target.place(), &e))?;

        let picture =
            ff::frame::Video::new(ff::format::Pixel::YUV420P, options.width as u32, options.height as u32);
        Ok(Self { output, target, options: options.clone(), video, audio, picture, frames: 0 })
    }

    /// Append one picture of the promised size.
    pub fn write(&mut self, frame: &Frame) -> Result<()> {
        let (width, height) = (self.options.width, self.options.height);
        if (frame.width(), frame.height()) != (width, height) {
            let got = messages::media::frame_unlike((frame.width(), frame.height()), (width, height));
            return Err(self.encode_error(got.into()));
        }
        self.fill(frame)?;
        self.picture.set_pts(Some(self.frames as i64));
        self.frames += 1;
        self.video.send_frame(&self.picture).map_err(|e| self.encode_error(Cause::of(e)))?;
        self.take_video()?;
        self.sound_until_here(false)
    }

    /// End the file, check it by decoding it, and give it its name.
    pub fn finish(self) -> Result<Written> {
        let target = self.target.place().to_owned();
        match self.finish_within(u64::MAX)? {
            Finished::Kept(written) => Ok(written),
            Finished::TooLarge { bytes } => {
                Err(Error::Encode { path: target, cause: messages::media::too_many_bytes(bytes).into() })
            }
        }
    }

    /// The same, unless the file is larger than `most_bytes`: then nothing is kept.
    pub fn finish_within(mut self, most_bytes: u64) -> Result<Finished> {
        if self.frames == 0 {
            return Err(self.encode_error(messages::media::NO_FRAMES.into()));
        }
        self.video.send_eof().map_err(|e| self.encode_error(Cause::of(e)))?;
        self.take_video()?;
        self.sound_until_here(true)?;
        if let Some(track) = &mut self.audio {
            let end = track.encoder.send_eof();
            end.map_err(|e| self.encode_error(Cause::of(e)))?;
            self.take_audio()?;
        }
        self.output.write_trailer().map_err(|e| container_error(self.target.place(), &e))?;
        let Self { output, target, options, frames, .. } = self;
        drop(output);
        if options.display_rotation_deg.rem_euclid(360) != 0 || options.mirrored {
            let turn = matrix(options.display_rotation_deg, options.mirrored);
            mp4::set_matrix(target.temporary(), turn, (options.width, options.height))
                .map_err(|e| Error::writing(target.place(), e))?;
        }
        let bytes =
            std::fs::metadata(target.temporary()).map_err(|e| Error::writing(target.place(), e))?.len();
        if bytes > most_bytes {
            return Ok(Finished::TooLarge { bytes });
        }
        let wanted = Wanted {
            width: options.width,
            height: options.height,
            frames,
            rate: options.rate,
            sound: options.sound.is_some(),
            threads: options.threads,
        };
        let mut written = verify(target.temporary(), &wanted)
            .map_err(|cause| Error::Verify { path: target.place().to_owned(), cause: cause.into() })?;
        written.path = target.place().to_owned();
        target.keep()?;
        Ok(Finished::Kept(written))
    }

    /// Copy the frame into the encoder's picture.
    fn fill(&mut self, frame: &Frame) -> Result<()> {
        // The encoder may still hold the last picture's memory.
        // SAFETY: the picture is live and ours; the call copies its buffers when they are shared.
        let ready = unsafe { ff::ffi::av_frame_make_writable(self.picture.as_mut_ptr()) };
        if ready < 0 {
            return Err(self.encode_error(Cause::of(ff::Error::from(ready))));
        }
        let planes: [&Plane; 3] = [&frame.y, &frame.u, &frame.v];
        for (i, plane) in planes.into_iter().enumerate() {
            let stride = self.picture.stride(i);
            let rows = self.picture.data_mut(i).chunks_mut(stride);
            for (to, from) in rows.zip(plane.data.chunks(plane.width)) {
                if let Some(to) = to.get_mut(..from.len()) {
                    to.copy_from_slice(from);
                }
            }
        }
        Ok(())
    }

    fn take_video(&mut self) -> Result<()> {
        let mut packet = ff::Packet::empty();
        let clock = self.video.time_base();
        while more(self.video.receive_packet(&mut packet)).map_err(|e| self.encode_error(Cause::of(e)))? {
            let lean = packet.data().and_then(mp4::without_encoder_text);
            if let Some(lean) = lean {
                let mut rest = ff::Packet::copy(&lean);
                rest.set_pts(packet.pts());
                rest.set_dts(packet.dts());
                rest.set_flags(packet.flags());
                packet = rest;
            }
            packet.set_duration(1);
            self.mux(&mut packet, 0, clock)?;
        }
        Ok(())
    }

    fn take_audio(&mut self) -> Result<()> {
        let mut packet = ff::Packet::empty();
        loop {
            let Some(track) = &mut self.audio else { return Ok(()) };
            let clock = ff::Rational::new(1, track.sound.rate_hz as i32);
            let got = more(track.encoder.receive_packet(&mut packet));
            if !got.map_err(|e| self.encode_error(Cause::of(e)))? {
                return Ok(());
            }
            self.mux(&mut packet, 1, clock)?;
        }
    }

    fn mux(&mut self, packet: &mut ff::Packet, stream: usize, clock: ff::Rational) -> Result<()> {
        // Asked anew each time: the container chose its own time base when the header was written.
        let to = self.output.stream(stream).map(|s| s.time_base());
        let to = to.ok_or_else(|| self.encode_error(messages::media::STREAM_GONE.into()))?;
        packet.set_stream(stream);
        packet.rescale_ts(clock, to);
        packet.write_interleaved(&mut self.output).map_err(|e| container_error(self.target.place(), &e))
    }

    /// Encode sound up to the end of what was written: whole chunks while pictures come, the short
    /// last one too when `all`.
    fn sound_until_here(&mut self, all: bool) -> Result<()> {
        let (num, den) = self.options.rate;
        let end_s = self.frames as f64 * f64::from(den) / f64::from(num);
        while let Some(track) = &mut self.audio {
            let left = (end_s * f64::from(track.sound.rate_hz)).round() as i64 - track.at;
            let count = usize::try_from(left).unwrap_or(0).min(track.chunk);
            if count == 0 || (count < track.chunk && !all) {
                break;
            }
            let sent = track.send(count);
            sent.map_err(|e| self.encode_error(Cause::of(e)))?;
            self.take_audio()?;
        }
        Ok(())
    }

    fn encode_error(&self, cause: Cause) -> Error {
        Error::Encode { path: self.target.place().to_owned(), cause }
    }
}

/// What the container could not write: mostly the disk's own word (full, gone), else the muxer's.
fn container_error(path: &Path, cause: &ff::Error) -> Error {
    match cause {
        ff::Error::Other { errno } => Error::writing(path, std::io::Error::from_raw_os_error(*errno)),
        other => Error::Encode { path: path.to_owned(), cause: Cause::of(*other) },
    }
}

impl SoundTrack {
    fn new(sound: Sound) -> std::result::Result<Self, ff::Error> {
        let codec = encoder::find(ff::codec::Id::AAC).ok_or(ff::Error::EncoderNotFound)?;
        let mut audio = ff::codec::Context::new_with_codec(codec).encoder().audio()?;
        audio.set_rate(sound.rate_hz as i32);
        audio.set_format(SAMPLES);
        audio.set_channel_layout(ff::ChannelLayout::MONO);
        audio.set_bit_rate(96_000);
        audio.set_time_base((1, sound.rate_hz as i32));
        audio.set_flags(ff::codec::Flags::GLOBAL_HEADER | ff::codec::Flags::BITEXACT);
        let encoder = audio.open_as(codec)?;
        let chunk = (encoder.frame_size() as usize).max(1);
        Ok(Self { encoder, sound, chunk, at: 0 })
    }

    /// Encode the next `count` samples; silence where the sound has none.
    fn send(&mut self, count: usize) -> std::result::Result<(), ff::Error> {
        let mut frame = ff::frame::Audio::new(SAMPLES, count, ff::ChannelLayout::MONO);
        frame.set_rate(self.sound.rate_hz);
        frame.set_pts(Some(self.at));
        let lead = (self.sound.start_s * f64::from(self.sound.rate_hz)).round() as i64;
        for (i, to) in frame.plane_mut::<f32>(0).iter_mut().take(count).enumerate() {
            let from = usize::try_from(self.at + i as i64 - lead).ok();
            *to = from.and_then(|f| self.sound.samples.get(f)).copied().unwrap_or(0.0).clamp(-1.0, 1.0);
        }
        self.at += count as i64;
        self.encoder.send_frame(&frame)
    }
}

const SAMPLES: ff::format::Sample = ff::format::Sample::F32(ff::format::sample::Type::Planar);

/// Whether the encoder gave something; `false` when it wants more or is done.
fn more(got: std::result::Result<(), ff::Error>) -> std::result::Result<bool, ff::Error> {
    match got {
        Ok(()) => Ok(true),
        Err(ff::Error::Eof) => Ok(false),
        Err(e) if ffmpeg::wants_more(&e) => Ok(false),
        Err(e) => Err(e),
    }
}
