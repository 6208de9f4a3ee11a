//! The words that raise or lower what is taken on.

use clap::Args;
use swingpair::types::{Bound, Limits};

use super::args::ADVANCED;

const LONG: &str = "\
Change a safety limit, as in --limit minutes=90; can be repeated. Files beyond a limit are rejected, so that a \
broken or hostile file cannot fill your memory or run for hours. Defaults: pixels 36000000 (per frame), pictures 250000, minutes 60, tracks 32, plan-kb 64, keypoints-mb 256.";

#[derive(Debug, Args)]
pub struct Allow {
    /// Change a safety limit: pixels, pictures, minutes, tracks, plan-kb or keypoints-mb.
    #[arg(long = "limit", value_name = "WHAT=N", value_parser = limit, long_help = LONG, help_heading = ADVANCED, hide_short_help = true)]
    limits: Vec<(Bound, f64)>,
}

impl Allow {
    pub fn limits(&self) -> Limits {
        let mut limits = Limits::default();
        self.limits.iter().for_each(|(bound, most)| limits.set(*bound, *most));
        limits
    }

    /// The same words again, for a run of this program of its own.
    pub fn words(&self) -> Vec<String> {
        let word = |(bound, most): &(Bound, f64)| format!("--limit={}={most}", bound.word());
        self.limits.iter().map(word).collect()
    }
}

fn limit(text: &str) -> Result<(Bound, f64), String> {
    let (word, number) = text.split_once('=').ok_or("give WHAT=N, as in minutes=90")?;
    let words = || Bound::ALL.map(Bound::word).join(", ");
    let bound = Bound::from_word(word)
        .ok_or_else(|| format!("there is no limit {word:?}; choose from {}", words()))?;
    let most = number.trim().parse::<f64>().ok().filter(|v| v.is_finite() && *v > 0.0);
    most.map(|most| (bound, most)).ok_or_else(|| format!("{number:?} is not a number above 0"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_read_or_refused() {
        assert_eq!(limit("minutes=90"), Ok((Bound::Minutes, 90.0)));
        assert!(limit("hours=2").unwrap_err().contains("minutes"));
        for wrong in ["minutes", "minutes=", "minutes=-1", "minutes=inf", "minutes=nan", "tracks=0"] {
            assert!(limit(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn the_help_tells_every_limit_as_it_is() {
        for bound in Bound::ALL {
            let reported = format!("{} {}", bound.word(), bound.usual());
            assert!(LONG.contains(&reported), "{reported}");
        }
    }
}
