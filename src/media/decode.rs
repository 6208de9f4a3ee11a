//! Packets in, decoded pictures or sound out; damage is counted, never passed over in silence.

use std::ops::DerefMut;
use std::path::Path;

use ffmpeg_next as ff;

use super::ffmpeg::{self, Read, Source};
use crate::messages::media as messages;
use crate::types::{Cause, Error, Result};

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
    /// Packets that were damaged or did not decode, and pictures that came out of such.
    pub broken: usize,
    in_a_row: usize,
    /// Pictures are drawn from those before: from a harmed one on all are wrong, up to the next that needs no other.
    pictures: bool,
    spoilt_from: Option<i64>,
    /// The time of the last unit that was given.
    given: Option<i64>,
    /// Why reading ended before the end, if it did.
    pub stopped: Option<Cause>,
    /// Pictures before this time that no other one needs are not decoded, ticks.
    pub wanted_from: Option<i64>,
}

impl<U: DerefMut<Target = ff::Frame>> Decoding<U> {
    pub(super) fn new(path: &Path, source: Source, threads: usize, unit: U) -> Result<Self> {
        let Some(parameters) = source.input.stream(source.stream).map(|s| s.parameters()) else {
            return Err(Error::NotVideo { path: path.to_owned(), cause: messages::STREAM_GONE.into() });
        };
        let pictures = parameters.medium() == ff::media::Type::Video;
        let decoder = ffmpeg::open_decoder(parameters, source.time_base, threads, &source.limits)
            .map_err(|e| ffmpeg::not_video(path, &e))?;
        Ok(Self {
            source,
            decoder,
            packet: ff::Packet::empty(),
            unit,
            draining: false,
            broken: 0,
            in_a_row: 0,
            pictures,
            spoilt_from: None,
            given: None,
            stopped: None,
            wanted_from: None,
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
                    match self.unit.timestamp().or(self.unit.pts()) {
                        Some(pts) if !self.is_spoilt(pts) => {
                            self.given = Some(pts);
                            return Ok(Some(pts));
                        }
                        _ => self.broken += 1,
                    }
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
                    self.lost();
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

    /// Whether what was decoded last cannot be trusted.
    fn is_spoilt(&mut self, pts: i64) -> bool {
        if self.unit.is_corrupt() || self.unit.has_decode_errors() {
            self.spoil(pts);
        } else if self.unit.is_key() && self.spoilt_from.is_some_and(|from| pts >= from) {
            self.spoilt_from = None;
        }
        self.pictures && self.spoilt_from.is_some_and(|from| pts >= from)
    }

    fn spoil(&mut self, pts: i64) {
        self.spoilt_from = Some(self.spoilt_from.map_or(pts, |from| from.min(pts)));
    }

    /// A picture could not be made. Several are in the making at once, so it may have been any after the last given.
    fn lost(&mut self) {
        self.failed();
        if let Some(pts) = self.given {
            self.spoil(pts.saturating_add(1));
        }
    }

    fn failed(&mut self) {
        self.broken += 1;
        self.in_a_row += 1;
        if self.in_a_row > FAILURES && self.stopped.is_none() {
            self.stopped = Some(messages::MOSTLY_DAMAGED.into());
        }
    }

    /// Give the decoder one more packet, or the word that there are no more.
    fn feed(&mut self) -> std::result::Result<(), ff::Error> {
        loop {
            let end = match ffmpeg::read(&mut self.source, &mut self.packet) {
                Read::Packet => {
                    if ffmpeg::flags(&self.packet) & ff::ffi::AV_PKT_FLAG_CORRUPT != 0
                        && let Some(pts) = self.packet.pts().or(self.packet.dts())
                    {
                        self.spoil(pts);
                    }
                    false
                }
                Read::Damaged => {
                    self.failed();
                    if self.stopped.is_none() {
                        continue;
                    }
                    true
                }
                Read::End => true,
                Read::Failed(e) => {
                    self.stopped = Some(ffmpeg::cause(e));
                    true
                }
            };
            if end || self.stopped.is_some() {
                self.draining = true;
                // Refused only when already told so.
                let _ = self.decoder.send_eof();
                return Ok(());
            }
            if let Some(wanted) = self.wanted_from {
                use ff::codec::discard::Discard;
                let early = self.packet.pts().is_some_and(|pts| pts < wanted);
                self.decoder.skip_frame(if early { Discard::NonReference } else { Discard::Default });
            }
            match self.decoder.send_packet(&self.packet) {
                Ok(()) => return Ok(()),
                // The decoder is full although it was emptied: drop through and empty it again.
                Err(e) if ffmpeg::wants_more(&e) => return Ok(()),
                Err(e @ ff::Error::Other { .. }) => return Err(e),
                Err(_) => self.lost(),
            }
        }
    }

    /// Go to the key picture at `ticks` of the stream's clock. False when the file cannot.
    pub(super) fn seek(&mut self, ticks: i64) -> bool {
        let done = self.source.seek(ticks);
        self.decoder.flush();
        self.draining = false;
        (self.spoilt_from, self.given) = (None, None);
        done
    }
}
