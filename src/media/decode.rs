//! Packets in, decoded pictures or sound out; damage is counted, never passed over in silence.

use std::ops::DerefMut;
use std::path::Path;

use ffmpeg_next as ff;

use super::ffmpeg::{self, Read, Source};
use crate::ground::{Error, Result};

/// Packets or pictures that fail to decode in a row before a file is given up on.
const FAILURES: usize = 2_000;

/// A running decoder over one stream of an opened file; `U` is a picture or a piece of sound.
pub(super) struct Decoding<U> {
    pub source: Source,
    decoder: ff::codec::decoder::Opened,
    packet: ff::Packet,
    /// What was decoded last.
    pub unit: U,
    draining: bool,
    /// Packets that were damaged or did not decode.
    pub broken: usize,
    in_a_row: usize,
    /// Why reading ended before the end, if it did.
    pub stopped: Option<String>,
}

impl<U: DerefMut<Target = ff::Frame>> Decoding<U> {
    pub(super) fn new(path: &Path, source: Source, threads: usize, unit: U) -> Result<Self> {
        let Some(parameters) = source.input.stream(source.stream).map(|s| s.parameters()) else {
            return Err(Error::NotVideo { path: path.to_owned(), cause: "its stream is gone".into() });
        };
        let decoder = ffmpeg::open_decoder(parameters, source.time_base, threads)
            .map_err(|e| ffmpeg::not_video(path, &e))?;
        Ok(Self {
            source,
            decoder,
            packet: ff::Packet::empty(),
            unit,
            draining: false,
            broken: 0,
            in_a_row: 0,
            stopped: None,
        })
    }

    /// From here on leave out every picture that needs another one.
    pub(super) fn only_keys(&mut self) {
        self.decoder.skip_frame(ff::codec::discard::Discard::NonKey);
    }

    /// Decode on to the next unit; its time in ticks, or `None` at the end. What fails is
    /// counted; only a failure of the machine, not of the file, is an error.
    pub(super) fn next(&mut self) -> std::result::Result<Option<i64>, ff::Error> {
        loop {
            match self.decoder.receive_frame(&mut self.unit) {
                Ok(()) => {
                    self.in_a_row = 0;
                    if let Some(pts) = self.unit.timestamp().or(self.unit.pts()) {
                        return Ok(Some(pts));
                    }
                    self.broken += 1;
                }
                Err(ff::Error::Eof) => return Ok(None),
                Err(e) if ffmpeg::wants_more(&e) => {
                    if self.draining {
                        return Ok(None);
                    }
                    self.feed()?;
                }
                Err(e @ ff::Error::Other { .. }) => return Err(e),
                Err(_) => {
                    self.failed();
                    if self.in_a_row > FAILURES {
                        return Ok(None);
                    }
                    // A decoder that failed while draining is asked again; one that failed while
                    // reading gets its next packet first, so that every turn moves on.
                    if !self.draining {
                        self.feed()?;
                    }
                }
            }
        }
    }

    fn failed(&mut self) {
        self.broken += 1;
        self.in_a_row += 1;
        if self.in_a_row > FAILURES && self.stopped.is_none() {
            self.stopped = Some("too much of it is damaged".into());
        }
    }

    /// Give the decoder one more packet, or the word that there are no more.
    fn feed(&mut self) -> std::result::Result<(), ff::Error> {
        loop {
            let end = match ffmpeg::read(&mut self.source.input, self.source.stream, &mut self.packet) {
                Read::Packet => false,
                Read::Damaged => {
                    self.failed();
                    if self.stopped.is_none() {
                        continue;
                    }
                    true
                }
                Read::End => true,
                Read::Failed(e) => {
                    self.stopped = Some(e.to_string());
                    true
                }
            };
            if end || self.stopped.is_some() {
                self.draining = true;
                // Refused only when already told so.
                let _ = self.decoder.send_eof();
                return Ok(());
            }
            match self.decoder.send_packet(&self.packet) {
                Ok(()) => return Ok(()),
                // The decoder is full although it was emptied: drop through and empty it again.
                Err(e) if ffmpeg::wants_more(&e) => return Ok(()),
                Err(e @ ff::Error::Other { .. }) => return Err(e),
                Err(_) => self.failed(),
            }
        }
    }

    /// Go to the key picture at `ticks` of the stream's clock. False when the file cannot.
    pub(super) fn seek(&mut self, ticks: i64) -> bool {
        // SAFETY: the container is live and ours; the crate's seek takes only microseconds of a
        // stream it picks itself, which is too coarse to land on a given packet.
        let done = unsafe {
            ff::ffi::av_seek_frame(
                self.source.input.as_mut_ptr(),
                self.source.stream as i32,
                ticks,
                ff::ffi::AVSEEK_FLAG_BACKWARD,
            ) >= 0
        };
        self.decoder.flush();
        self.draining = false;
        done
    }
}
