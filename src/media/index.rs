//! When each picture is shown: read once from the packets, never from a nominal rate.

/// What one packet says about its picture. Times in ticks of the stream's time base.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PacketFacts {
    pub pts: Option<i64>,
    pub dts: Option<i64>,
    pub duration: i64,
    pub key: bool,
    /// Outside the edit list: decoded for the others' sake, never shown.
    pub discard: bool,
}

/// A place from which decoding can begin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Key {
    pub pts: i64,
    pub seek_to: i64,
}

/// The shown pictures of a stream, in the order they are shown.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Index {
    /// Rising, ticks.
    pub pts: Vec<i64>,
    /// Rising in `pts`.
    pub keys: Vec<Key>,
    /// How long the last picture stays, ticks; 0 when the file does not say.
    pub last_duration: i64,
}

impl Index {
    pub(super) fn from_packets(packets: &[PacketFacts]) -> Self {
        let mut shown: Vec<(i64, i64)> = Vec::with_capacity(packets.len());
        let mut keys = Vec::new();
        for p in packets {
            let Some(pts) = p.pts.or(p.dts) else { continue };
            if p.key {
                keys.push(Key { pts, seek_to: p.dts.unwrap_or(pts) });
            }
            if !p.discard {
                shown.push((pts, p.duration));
            }
        }
        shown.sort_unstable();
        // Two pictures for one moment: only one of them can be seen.
        shown.dedup_by_key(|s| s.0);
        keys.sort_unstable_by_key(|k| k.pts);
        let last_duration = shown.last().map_or(0, |s| s.1.max(0));
        Self { pts: shown.into_iter().map(|s| s.0).collect(), keys, last_duration }
    }

    /// From the times at which pictures come out of the decoder. Without keys: where packets do not say when their
    /// pictures are shown, decoding begins at the beginning.
    pub(super) fn from_times(mut pts: Vec<i64>) -> Self {
        pts.sort_unstable();
        pts.dedup();
        Self { pts, keys: Vec::new(), last_duration: 0 }
    }

    /// For pictures that hold two moments: one each, in half ticks.
    pub(super) fn in_fields(&mut self) {
        let steps: Vec<i64> = self.pts.windows(2).filter_map(|w| Some(w.get(1)? - w.first()?)).collect();
        let last = steps.last().copied().unwrap_or(self.last_duration);
        let steps = steps.into_iter().chain([last]);
        self.pts = self.pts.iter().zip(steps).flat_map(|(pts, step)| [2 * pts, 2 * pts + step]).collect();
        self.keys.iter_mut().for_each(|key| key.pts *= 2);
    }

    /// Forget pictures before `pts`: those that no decoder can make.
    /// Returns how many.
    pub(super) fn begin_at(&mut self, pts: i64) -> usize {
        let n = self.pts.partition_point(|p| *p < pts);
        self.pts.drain(..n);
        n
    }

    /// The picture shown at exactly `pts`.
    pub(super) fn find(&self, pts: i64) -> Option<usize> {
        self.pts.binary_search(&pts).ok()
    }

    /// Which key (by place in `keys`) decoding should begin at to get picture `index`.
    pub(super) fn key_before(&self, index: usize) -> Option<usize> {
        let pts = *self.pts.get(index)?;
        self.keys.partition_point(|k| k.pts <= pts).checked_sub(1)
    }
}

/// Pictures a second from their times: one over the mean of all steps within a quarter of the
/// median step. The median alone would say 30.3 for 29.97 in a file that counts milliseconds; the
/// mean alone falls for dropped pictures and held ones.
pub(super) fn measured_rate_hz(times_s: &[f64]) -> f64 {
    let mut steps: Vec<f64> =
        times_s.iter().zip(times_s.iter().skip(1)).map(|(a, b)| b - a).filter(|s| *s > 0.0).collect();
    steps.sort_unstable_by(f64::total_cmp);
    let Some(median) = steps.get(steps.len() / 2).copied() else { return 0.0 };
    let usual: Vec<f64> = steps.into_iter().filter(|s| (s - median).abs() <= median / 4.0).collect();
    usual.len() as f64 / usual.iter().sum::<f64>()
}

/// Ratios of capture to playback rate closer to 1 than this are measuring noise, not slow motion.
pub(super) const SLOW_FROM: f64 = 1.2;

/// How many times slower than life a file plays that was filmed at `capture_hz`.
pub(super) fn slow_factor(capture_hz: f64, rate_hz: f64) -> f64 {
    let factor = capture_hz / rate_hz;
    if factor.is_finite() && factor >= SLOW_FROM { factor } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn packet(pts: i64, dts: i64, key: bool, discard: bool) -> PacketFacts {
        PacketFacts { pts: Some(pts), dts: Some(dts), duration: 10, key, discard }
    }

    #[test]
    fn packets_out_of_order_become_pictures_in_order() {
        // I P B B, the first two outside the edit list.
        let index = Index::from_packets(&[
            packet(-20, -40, true, true),
            packet(10, -30, false, false),
            packet(-10, -20, false, true),
            packet(0, -10, false, false),
            packet(20, 0, true, false),
        ]);
        assert_eq!(index.pts, [0, 10, 20]);
        assert_eq!(index.last_duration, 10);
        assert_eq!(index.key_before(0).map(|k| index.keys[k].seek_to), Some(-40));
        assert_eq!(index.key_before(2).map(|k| index.keys[k].seek_to), Some(0));
        assert_eq!(index.find(10), Some(1));
        assert_eq!(index.find(11), None);
        assert_eq!(index.key_before(3), None);
    }

    #[test]
    fn rate_is_the_usual_step() {
        // 29.97 Hz counted in whole milliseconds, with a picture dropped.
        let times: Vec<f64> =
            (0..300).filter(|n| *n != 100).map(|n| (f64::from(n) * 1001.0 / 30.0).round() / 1000.0).collect();
        let rate = measured_rate_hz(&times);
        assert!((rate - 30.0 / 1.001).abs() < 0.01, "{rate}");
        assert_eq!(measured_rate_hz(&[0.0]), 0.0);
    }

    #[test]
    fn slow_motion_needs_a_clear_ratio() {
        assert_eq!(slow_factor(240.0, 30.0), 8.0);
        assert_eq!(slow_factor(30.0, 29.97), 1.0);
        assert_eq!(slow_factor(1.0, 30.0), 1.0);
        assert_eq!(slow_factor(240.0, 0.0), 1.0);
    }
}
