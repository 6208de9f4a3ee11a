//! A spoken note, recorded in the page or a file that was chosen: held while the desk is open, never written beside the
//! clips.

use std::io::Write;
use std::sync::{Arc, Mutex};

use crate::compose::SOUND_HZ;
use crate::media;
use crate::messages::desk as messages;
use crate::store;
use crate::types::{Bound, Error, Limits, Result, Sound};

/// A note's file may be so large, bytes; nothing else that is sent may.
pub const LONGEST_NOTE: usize = 20_000_000;
/// A note may be so long, minutes: many times what a clip holds.
const LONGEST_MINUTES: f64 = 5.0;

pub struct Voice {
    pub id: String,
    /// As it came.
    pub bytes: Vec<u8>,
    pub sound: Sound,
}

impl Voice {
    pub fn seconds(&self) -> f64 {
        self.sound.samples.len() as f64 / f64::from(self.sound.rate_hz.max(1))
    }

    /// What its first bytes say that it is, for the browser that plays it.
    pub fn kind(&self) -> &'static str {
        match self.bytes.as_slice() {
            [0x1a, 0x45, 0xdf, 0xa3, ..] => "audio/webm",
            [b'O', b'g', b'g', b'S', ..] => "audio/ogg",
            [b'R', b'I', b'F', b'F', ..] => "audio/wav",
            [b'I', b'D', b'3', ..] | [0xff, 0xe0..=0xff, ..] => "audio/mpeg",
            [_, _, _, _, b'f', b't', b'y', b'p', ..] => "audio/mp4",
            _ => "application/octet-stream",
        }
    }
}

/// The one that came last.
#[derive(Default)]
pub struct Voices(Mutex<Option<Arc<Voice>>>);

impl Voices {
    pub fn take(&self, bytes: Vec<u8>, limits: Limits) -> Result<Arc<Voice>> {
        let mut limits = limits;
        limits.set(Bound::Minutes, LONGEST_MINUTES);
        let folder = std::env::temp_dir();
        let mut file = tempfile::NamedTempFile::new().map_err(|e| Error::writing(&folder, e))?;
        file.write_all(&bytes).map_err(|e| Error::writing(file.path(), e))?;
        // Its name is nobody's business.
        let name = file.path().display().to_string();
        let unusable = |e: Error| Error::Usage(e.to_string().replace(&name, messages::THE_RECORDING));
        let sound = media::read_sound(file.path(), SOUND_HZ, &limits).map_err(unusable)?;
        let voice = Arc::new(Voice { id: store::short_hash(&bytes), bytes, sound });
        *self.0.lock().map_err(|_| Error::WorkerLost)? = Some(voice.clone());
        Ok(voice)
    }

    pub fn find(&self, id: &str) -> Result<Arc<Voice>> {
        let now = self.0.lock().map_err(|_| Error::WorkerLost)?.clone();
        now.filter(|v| v.id == id).ok_or_else(|| Error::Usage(messages::NO_SUCH_VOICE.to_owned()))
    }
}
