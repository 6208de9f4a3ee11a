//! What to write, whether it can be, and the encoder that is set to it.

use ff::codec::encoder;
use ffmpeg_next as ff;

use crate::media::level;
use crate::messages;
use crate::types::{Error, Result, Sound};

/// How hard the encoder tries: slower makes a smaller file of the same quality.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Preset {
    /// x264's preset of that name, as all of these; quickest, largest file.
    Ultrafast,
    /// Quick, for what is looked at once.
    Veryfast,
    /// What videos are made with.
    Fast,
    /// x264's own default.
    #[default]
    Medium,
    /// Slowest here, smallest file.
    Slow,
}

impl Preset {
    fn word(self) -> &'static str {
        match self {
            Self::Ultrafast => "ultrafast",
            Self::Veryfast => "veryfast",
            Self::Fast => "fast",
            Self::Medium => "medium",
            Self::Slow => "slow",
        }
    }
}

/// What to write.
#[derive(Debug, Clone, PartialEq)]
pub struct WriteOptions {
    /// Size of every picture, even, px.
    pub width: usize,
    /// Even, px.
    pub height: usize,
    /// Pictures a second, as a fraction. Default 30/1.
    pub rate: (u32, u32),
    /// x264's constant rate factor, 0 (lossless) … 51. Default 20.
    pub crf: u8,
    /// Default medium.
    pub preset: Preset,
    /// Cut or filled with silence to the length of the pictures; its `start_s` is honoured. Default none.
    pub sound: Option<Sound>,
    /// Clockwise turn that players make to show the picture, a multiple of 90°. For made-up footage
    /// only: a clip for a player is written upright. Default 0.
    pub display_rotation_deg: i32,
    /// Players mirror left–right before that turn. Default false.
    pub mirrored: bool,
    /// Container tags, as [`crate::media::CAPTURE_RATE`]. Default none.
    pub metadata: Vec<(String, String)>,
    /// Encoder threads, 1–16. Default 2.
    pub threads: usize,
}

impl Default for WriteOptions {
    fn default() -> Self {
        Self {
            width: 1280,
            height: 720,
            rate: (30, 1),
            crf: 20,
            preset: Preset::Medium,
            sound: None,
            display_rotation_deg: 0,
            mirrored: false,
            metadata: Vec::new(),
            threads: 2,
        }
    }
}

/// Refuse what cannot be written before anything is begun.
pub(super) fn check(options: &WriteOptions) -> Result<()> {
    let WriteOptions { width, height, rate, crf, display_rotation_deg, .. } = options;
    let say = |text: String| Err(Error::Usage(text));
    if *width < 16
        || *height < 16
        || width % 2 != 0
        || height % 2 != 0
        || level::for_writing(*width, *height, (1, 1)).is_none()
    {
        return say(messages::media::size_unwritable(*width, *height));
    }
    if rate.0 == 0 || rate.1 == 0 || rate.0 / rate.1 > 1000 || rate.0 > 10_000_000 || rate.1 > 10_000_000 {
        return say(messages::media::rate_unwritable(*rate));
    }
    if *crf > 51 {
        return say(messages::media::quality_unwritable(crf));
    }
    if display_rotation_deg % 90 != 0 {
        return say(messages::media::rotation_unwritable(display_rotation_deg));
    }
    match &options.sound {
        Some(s) if !(8_000..=96_000).contains(&s.rate_hz) => {
            say(messages::media::sound_unwritable(s.rate_hz))
        }
        _ => Ok(()),
    }
}

pub(super) fn video_encoder(options: &WriteOptions) -> std::result::Result<encoder::video::Encoder, String> {
    let codec = encoder::find_by_name("libx264").ok_or(messages::media::NO_ENCODER)?;
    let text = |e: ff::Error| e.to_string();
    let rate = ff::Rational::new(options.rate.0 as i32, options.rate.1 as i32);
    let mut video = ff::codec::Context::new_with_codec(codec).encoder().video().map_err(text)?;
    video.set_width(options.width as u32);
    video.set_height(options.height as u32);
    video.set_format(ff::format::Pixel::YUV420P);
    video.set_time_base(rate.invert());
    video.set_frame_rate(Some(rate));
    // A key picture about every second lets a phone scrub.
    video.set_gop((options.rate.0 / options.rate.1).clamp(12, 250));
    video.set_max_b_frames(0);
    video.set_aspect_ratio((1, 1));
    video.set_colorspace(ff::color::Space::BT709);
    video.set_color_range(ff::color::Range::MPEG);
    video.set_color_primaries(ff::color::Primaries::BT709);
    video.set_color_transfer_characteristic(ff::color::TransferCharacteristic::BT709);
    video.set_flags(ff::codec::Flags::GLOBAL_HEADER | ff::codec::Flags::BITEXACT);
    // SAFETY: the context is ours and not yet opened; a documented caller-set field.
    unsafe { (*video.as_mut_ptr()).thread_count = options.threads.clamp(1, 16) as i32 };
    let crf = options.crf.to_string();
    let mut settings: ff::Dictionary =
        [("preset", options.preset.word()), ("crf", crf.as_str())].into_iter().collect();
    let level = level::for_writing(options.width, options.height, options.rate);
    if let Some(level) = level {
        settings.set("level", level.name);
    }
    // Lossless needs a profile of its own and as many bits as it takes.
    if options.crf > 0 {
        settings.set("profile", "high");
        if let Some(level) = level {
            // A level promises a bit rate too; without a ceiling a noisy picture would break it.
            let most = level.high_bits_s().to_string();
            settings.set("maxrate", &most);
            settings.set("bufsize", &most);
        }
    }
    video.open_as_with(codec, settings).map_err(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn odd_wishes_are_refused() {
        let good = WriteOptions::default();
        assert!(check(&good).is_ok());
        for bad in [
            WriteOptions { width: 641, ..good.clone() },
            WriteOptions { height: 0, ..good.clone() },
            WriteOptions { rate: (0, 1), ..good.clone() },
            WriteOptions { rate: (30, 0), ..good.clone() },
            WriteOptions { crf: 52, ..good.clone() },
            WriteOptions { display_rotation_deg: 45, ..good.clone() },
        ] {
            assert!(matches!(check(&bad), Err(Error::Usage(_))), "{bad:?}");
        }
    }
}
