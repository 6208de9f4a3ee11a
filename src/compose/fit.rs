//! A clip under a given size: made again, coded more coarsely, until it fits.

use crate::types::Result;

/// The coarsest coding (x264's constant rate factor) at which words and lines are still read: own judgement,
/// looked at on a made clip of 1080 × 1920.
pub const COARSEST_CRF: u8 = 42;
/// What a try aims at and what is good enough, shares of the allowed size.
const AIM: f64 = 0.93;
const ENOUGH: f64 = 0.8;
/// Tries at most; each makes the whole clip.
const TRIES: usize = 6;
/// How many steps of the factor halve a file: about 6 (from memory), until two tries tell.
const USUAL_HALVING: f64 = 6.0;

/// What one try gave.
#[derive(Debug, Clone, PartialEq)]
pub enum Try<T> {
    /// It fits and stands in its place.
    Fits { made: T, bytes: u64 },
    /// It would have been this large, and is gone.
    TooLarge { bytes: u64 },
}

/// What became of it.
#[derive(Debug, Clone, PartialEq)]
pub enum Fit<T> {
    Made(T),
    /// Even the coarsest coding is larger than allowed; the smallest there is, bytes.
    Never {
        smallest: u64,
    },
}

/// Make it by `attempt` (told the constant rate factor) in at most `most` bytes, as fine as that allows and no
/// finer than `finest`. A later try replaces an earlier one only when it fits.
pub fn within<T>(most: u64, finest: u8, mut attempt: impl FnMut(u8) -> Result<Try<T>>) -> Result<Fit<T>> {
    let coarsest = COARSEST_CRF.max(finest);
    let mut best = None;
    // Factors known: too large below, fitting above.
    let (mut large, mut fits): (Option<u8>, Option<u8>) = (None, None);
    let mut known: Vec<(f64, f64)> = Vec::new();
    let mut crf = finest;
    for _ in 0..TRIES {
        let bytes = match attempt(crf)? {
            Try::Fits { made, bytes } => {
                (best, fits) = (Some(made), Some(crf));
                if crf == finest || bytes as f64 >= ENOUGH * most as f64 {
                    break;
                }
                bytes
            }
            Try::TooLarge { bytes } if crf >= coarsest => return Ok(Fit::Never { smallest: bytes }),
            Try::TooLarge { bytes } => {
                large = Some(crf);
                bytes
            }
        };
        known.push((f64::from(crf), (bytes.max(1) as f64).log2()));
        let low = large.map_or(finest, |l| l + 1);
        let high = fits.map_or(coarsest, |f| f - 1);
        if low > high {
            break;
        }
        crf = (aimed(&known, (most as f64 * AIM).log2()).ceil().clamp(0.0, 255.0) as u8).clamp(low, high);
    }
    if best.is_none() {
        // So many tries never missed on a clip; the coarsest is asked before giving up.
        return match attempt(coarsest)? {
            Try::Fits { made, .. } => Ok(Fit::Made(made)),
            Try::TooLarge { bytes } => Ok(Fit::Never { smallest: bytes }),
        };
    }
    Ok(best.map_or(Fit::Never { smallest: most }, Fit::Made))
}

/// The factor that a line through the last two tries (one, with the usual slope) gives for a size.
fn aimed(known: &[(f64, f64)], log2_bytes: f64) -> f64 {
    let Some((crf, log2)) = known.last().copied() else { return 0.0 };
    let before = known.len().checked_sub(2).and_then(|i| known.get(i));
    let slope = before.map(|b| (log2 - b.1) / (crf - b.0)).filter(|s| s.is_finite() && *s < -0.02);
    crf + (log2_bytes - log2) / slope.unwrap_or(-1.0 / USUAL_HALVING)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A clip whose size halves every `halving` steps over a part that no coding shrinks.
    fn tried(most: u64, halving: f64) -> (Fit<u8>, Vec<u8>) {
        let mut tries = Vec::new();
        let fit = within(most, 20, |crf| {
            tries.push(crf);
            let bytes = 60_000 + (8e6 * 2f64.powf(-f64::from(crf - 20) / halving)) as u64;
            Ok(if bytes <= most { Try::Fits { made: crf, bytes } } else { Try::TooLarge { bytes } })
        });
        (fit.unwrap(), tries)
    }

    #[test]
    fn one_try_where_it_fits_and_few_where_not() {
        assert_eq!(tried(16_000_000, 6.0), (Fit::Made(20), vec![20]));
        for halving in [4.0, 6.0, 8.0] {
            for most in [4_000_000, 2_500_000, 2_000_000] {
                let (fit, tries) = tried(most, halving);
                let Fit::Made(crf) = fit else { panic!("{most} {halving}: {tries:?}") };
                let bytes = |crf: u8| 60_000.0 + 8e6 * 2f64.powf(-f64::from(crf - 20) / halving);
                assert!(bytes(crf) <= most as f64, "{tries:?}");
                // No finer whole factor leaves much of the room, and it did not take long.
                assert!(bytes(crf) >= ENOUGH * most as f64 || bytes(crf - 1) > most as f64, "{tries:?}");
                assert!(tries.len() <= 4, "{most} {halving}: {tries:?}");
            }
        }
    }

    #[test]
    fn what_cannot_be_met_says_the_smallest() {
        let (fit, tries) = tried(100_000, 11.0);
        assert_eq!(fit, Fit::Never { smallest: 60_000 + 2_000_000 });
        assert_eq!(tries.last(), Some(&COARSEST_CRF));
        assert!(tries.len() <= 3, "{tries:?}");
    }
}
