use super::words::words;

words! {
    /// The units a person reads. Everything that is kept or printed as JSON is metric; only words and pictures follow this.
    #[derive(Default)]
    pub enum Units {
        /// Centimeters, meters per second.
        #[default]
        "metric" Metric,
        /// US customary: inches, miles an hour.
        "us" Us,
    }
}

/// Centimeters in an inch: exact since the agreement of 1959 (NIST SP 811, appendix B.8).
pub const CM_PER_INCH: f64 = 2.54;
/// Meters per second in a mile an hour: exact (NIST SP 811, appendix B.8).
pub const M_PER_S_PER_MPH: f64 = 0.44704;

impl Units {
    /// What is usual where a POSIX locale name ("en_US.UTF-8", POSIX.1-2017 §8.2) is set: US customary in the
    /// United States, metric elsewhere and where nothing is set.
    pub fn of_locale(name: &str) -> Self {
        let territory = name.split(['.', '@']).next().and_then(|n| n.split_once(['_', '-'])).map(|(_, t)| t);
        if territory.is_some_and(|t| t.eq_ignore_ascii_case("US")) { Self::Us } else { Self::Metric }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_united_states_measure_in_inches() {
        for us in ["en_US.UTF-8", "en_US", "es_US@euro", "en-US"] {
            assert_eq!(Units::of_locale(us), Units::Us, "{us}");
        }
        for metric in ["", "C", "C.UTF-8", "POSIX", "en_GB.UTF-8", "en", "ja_JP.eucJP"] {
            assert_eq!(Units::of_locale(metric), Units::Metric, "{metric}");
        }
    }
}
