//! What the steps between pictures tell of a file's making: pictures that come unevenly, slow motion that was rendered
//! into one part of it only.

use super::index::measured_rate_hz;

/// A file that plays a part of it slower than the rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeedChange {
    /// Pictures a second of playback where it is quick, and where it is slow, Hz.
    pub quick_hz: f64,
    pub slow_hz: f64,
}

/// A stretch is at least so many pictures long.
const STRETCH: usize = 8;
/// Cameras that film in poor light slow down, but not to a third, and not from such a rate (common practice, no source):
/// what does was made by a program that kept the camera's pictures and spread some of them out.
const SLOWER: f64 = 3.0;
const QUICK_HZ: f64 = 90.0;
/// Steps within this ratio are alike.
const ALIKE: f64 = 1.5;
/// Steps that are not alike make a file uneven when they are more than this share.
const SOME: f64 = 0.05;

pub(super) fn speed_change(times_s: &[f64]) -> Option<SpeedChange> {
    let steps: Vec<f64> = steps(times_s).collect();
    // A picture lost or doubled is no stretch.
    let usual: Vec<f64> = steps.windows(5).filter_map(|w| nth(w.to_vec(), 0.5)).collect();
    let (quick_s, slow_s) = (nth(usual.clone(), 0.05)?, nth(usual.clone(), 0.95)?);
    let longest = |alike: &dyn Fn(f64) -> bool| {
        usual.iter().fold((0, 0), |(now, most): (usize, usize), s| {
            let now = if alike(*s) { now + 1 } else { 0 };
            (now, most.max(now))
        })
    };
    let stretches =
        [longest(&|s| s <= quick_s * ALIKE), longest(&|s| s >= slow_s / ALIKE)].map(|(_, most)| most);
    let change = SpeedChange { quick_hz: 1.0 / quick_s, slow_hz: 1.0 / slow_s };
    (stretches.iter().all(|s| *s >= STRETCH) && slow_s >= SLOWER * quick_s && change.quick_hz >= QUICK_HZ)
        .then_some(change)
}

/// The slowest and the quickest usual rate of a file whose pictures come unevenly, Hz.
pub(super) fn uneven_hz(times_s: &[f64]) -> Option<(f64, f64)> {
    let all: Vec<f64> = steps(times_s).collect();
    let usual_s = 1.0 / measured_rate_hz(times_s);
    let odd = all.iter().filter(|s| **s > usual_s * ALIKE || **s < usual_s / ALIKE).count();
    if (odd as f64) <= SOME * all.len() as f64 {
        return None;
    }
    Some((1.0 / nth(all.clone(), 0.95)?, 1.0 / nth(all, 0.05)?))
}

/// The rate of the pictures that come quickest, Hz: what a camera was set to that slows down in poor light. 0 when
/// there are too few to tell.
pub(super) fn quickest_hz(times_s: &[f64]) -> f64 {
    nth(steps(times_s).collect(), 0.1).map_or(0.0, |s| 1.0 / s)
}

fn steps(times_s: &[f64]) -> impl Iterator<Item = f64> {
    times_s.iter().zip(times_s.iter().skip(1)).map(|(a, b)| b - a).filter(|s| *s > 0.0)
}

/// The value that `share` of all lie below.
fn nth(mut values: Vec<f64>, share: f64) -> Option<f64> {
    values.sort_unstable_by(f64::total_cmp);
    values.get(((values.len().saturating_sub(1)) as f64 * share).round() as usize).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Times of stretches of so many steps at such a rate.
    fn times(stretches: &[(usize, f64)]) -> Vec<f64> {
        let steps = stretches.iter().flat_map(|(n, hz)| std::iter::repeat_n(1.0 / hz, *n));
        std::iter::once(0.0).chain(steps.scan(0.0, |t, s| Some(std::mem::replace(t, *t + s) + s))).collect()
    }

    #[test]
    fn slow_motion_rendered_into_the_middle_is_found() {
        let change = speed_change(&times(&[(120, 240.0), (60, 30.0), (120, 240.0)])).unwrap();
        assert!((change.quick_hz - 240.0).abs() < 1e-6 && (change.slow_hz - 30.0).abs() < 1e-6);
        // By and by.
        let eased: Vec<_> = (0..8).map(|i| (2, 120.0 - 12.0 * f64::from(i))).collect();
        let eased = [&[(60, 120.0)], eased.as_slice(), &[(40, 30.0)]].concat();
        assert!(speed_change(&times(&eased)).is_some());
    }

    #[test]
    fn poor_light_lost_pictures_and_even_files_are_no_speed_change() {
        for all in [
            times(&[(200, 240.0)]),
            times(&[(60, 30.0), (60, 15.0)]),
            times(&[(60, 60.0), (60, 24.0)]),
            times(&[(60, 240.0), (1, 8.0), (60, 240.0), (2, 30.0), (60, 240.0)]),
            times(&[(1, 30.0)]),
            Vec::new(),
        ] {
            assert_eq!(speed_change(&all), None, "{all:?}");
        }
    }

    #[test]
    fn uneven_files_tell_their_rates() {
        let (low, high) = uneven_hz(&times(&[(60, 30.0), (60, 15.0)])).unwrap();
        assert!((low - 15.0).abs() < 1e-6 && (high - 30.0).abs() < 1e-6);
        assert_eq!(uneven_hz(&times(&[(100, 30.0), (2, 15.0)])), None);
        assert!((quickest_hz(&times(&[(20, 30.0), (80, 15.0)])) - 30.0).abs() < 1e-6);
        assert_eq!(quickest_hz(&[0.0]), 0.0);
    }
}
