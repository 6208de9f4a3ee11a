//! How much is taken on. A file that is wrong, or made to do harm, is refused before it costs memory or hours; who
//! knows better raises the one limit that stands in the way.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use super::error::{Error, Result};
use super::words::words;

words! {
    /// What is limited.
    pub enum Bound {
        /// Pixels of a picture.
        "pixels" Pixels,
        /// Pictures of a clip.
        "pictures" Pictures,
        /// Minutes of a clip.
        "minutes" Minutes,
        /// Tracks of a file.
        "tracks" Tracks,
        /// Size of a plan or another small text, KB.
        "plan-kb" PlanKb,
        /// Size of a keypoint file, MB.
        "keypoints-mb" KeypointsMb,
    }
}

impl Bound {
    /// The limit when nobody says otherwise. None is a measured need: each lies well above what phones and cameras
    /// make of a swing (8K is 33 million pixels; ten minutes at 240 a second are 144,000 pictures), and below what
    /// the memory of a small computer holds.
    pub const fn usual(self) -> f64 {
        match self {
            Self::Pixels => 36e6,
            Self::Pictures => 250e3,
            Self::Minutes => 60.0,
            Self::Tracks => 32.0,
            Self::PlanKb => 64.0,
            Self::KeypointsMb => 256.0,
        }
    }
}

/// The limits that hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits([f64; Bound::ALL.len()]);

impl Default for Limits {
    fn default() -> Self {
        Self(Bound::ALL.map(Bound::usual))
    }
}

impl Limits {
    /// The limit of `bound`, in its unit.
    pub fn most(&self, bound: Bound) -> f64 {
        self.0.get(bound as usize).copied().unwrap_or(0.0)
    }

    /// Sets the limit of `bound`, in its unit.
    pub fn set(&mut self, bound: Bound, most: f64) {
        if let Some(value) = self.0.get_mut(bound as usize) {
            *value = most;
        }
    }

    /// An error that names the limit and how to raise it, when `has` is beyond it.
    pub fn check(&self, bound: Bound, path: &Path, has: f64) -> Result<()> {
        let most = self.most(bound);
        if has <= most {
            return Ok(());
        }
        Err(Error::OverLimit { path: path.to_owned(), bound, has, most })
    }

    /// A whole file that may not be larger than a limit in MB or KB.
    pub fn read(&self, bound: Bound, path: &Path) -> Result<Vec<u8>> {
        let wrong = |e: std::io::Error| Error::reading(path, e);
        let each = if bound == Bound::PlanKb { 1e3 } else { 1e6 };
        let file = File::open(path).map_err(wrong)?;
        self.check(bound, path, file.metadata().map_err(wrong)?.len() as f64 / each)?;
        let mut bytes = Vec::new();
        // What is no plain file tells no size: it is read to the limit and a byte beyond.
        let most = (self.most(bound) * each) as u64;
        file.take(most.saturating_add(1)).read_to_end(&mut bytes).map_err(wrong)?;
        self.check(bound, path, bytes.len() as f64 / each)?;
        Ok(bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_limit_has_its_word_and_its_own_place() {
        let mut limits = Limits::default();
        for (i, bound) in Bound::ALL.into_iter().enumerate() {
            assert_eq!(Bound::from_word(bound.word()), Some(bound));
            limits.set(bound, i as f64);
        }
        for (i, bound) in Bound::ALL.into_iter().enumerate() {
            assert_eq!(limits.most(bound), i as f64);
        }
        assert_eq!(Bound::from_word("bytes"), None);
    }

    #[test]
    fn the_error_names_the_limit_and_the_way_to_raise_it() {
        let limits = Limits::default();
        let path = Path::new("a.mp4");
        assert!(limits.check(Bound::Tracks, path, 32.0).is_ok());
        let reported = limits.check(Bound::Tracks, path, 33.0).unwrap_err().to_string();
        assert!(
            reported.contains("33 tracks")
                && reported.contains("32")
                && reported.contains("--limit tracks=33"),
            "{reported}"
        );
        let reported = limits.check(Bound::PlanKb, path, 64.001).unwrap_err().to_string();
        assert!(reported.contains("64.1 KB") && reported.contains("--limit plan-kb=65"), "{reported}");
        assert!(limits.check(Bound::Minutes, path, f64::NAN).is_err());
    }

    #[test]
    fn a_file_is_read_up_to_the_limit() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("plan");
        std::fs::write(&path, "a".repeat(64_000)).unwrap();
        let mut limits = Limits::default();
        assert_eq!(limits.read(Bound::PlanKb, &path).unwrap().len(), 64_000);
        limits.set(Bound::PlanKb, 63.999);
        assert!(matches!(limits.read(Bound::PlanKb, &path), Err(Error::OverLimit { .. })));
        // Endless, and of no size that could be asked for.
        #[cfg(unix)]
        assert!(matches!(limits.read(Bound::PlanKb, Path::new("/dev/zero")), Err(Error::OverLimit { .. })));
        assert!(matches!(limits.read(Bound::PlanKb, &dir.path().join("none")), Err(Error::Missing { .. })));
    }
}
