//! Pictures that only repeat the one before: a file converted from a lower rate, or slowed down, is filled up with them.
//! They show no new moment, so nothing may be measured in them.

use crate::ground::Frame;

/// Cells of the grid that differences are taken over.
const GRID: (usize, usize) = (16, 12);
/// Every so many px across and down is compared.
const STRIDE: usize = 4;
/// The cell that changes most must change by so much for a picture to say anything about motion, 8-bit steps.
const MOVES: f64 = 3.0;
/// A repeated picture differs by less than this share of what its neighbours differ by; coders leave a little. One that
/// stands alone must differ by less still: a bat that turns back looks nearly still once.
const SHARE: f64 = 0.25;
const LITTLE: f64 = 1.5;
const ALONE: f64 = 0.05;
/// Converted files repeat in a pattern of at most so many pictures (12: 11 pictures shown as 12).
const LONGEST: usize = 12;
/// A pattern is looked for in stretches of so many pictures, one beginning so many after another, and believed by so
/// many repeats in it.
const STRETCH: usize = 48;
const HOP: usize = 12;
const FEWEST: usize = 4;
/// In a pattern, this share of the pictures at a place repeats, or none to speak of does.
const MOST: f64 = 0.7;
const HARDLY: f64 = 0.34;
/// Stretches whose shares of repeats differ by this much play at different speeds.
const APART: f64 = 0.3;

/// Told every picture in order, says which repeat.
#[derive(Debug, Default)]
pub struct RepeatMeter {
    previous: Option<Small>,
    /// Place in the index and the largest cell's change.
    changes: Vec<(usize, f64)>,
}

/// What was found.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Repeats {
    /// Places in the clip's index.
    pub pictures: Vec<usize>,
    /// One stretch is filled up more than another: a part of the file was slowed down.
    pub speed_changes: bool,
}

#[derive(Debug)]
struct Small {
    size: (usize, usize),
    luma: Vec<u8>,
}

impl RepeatMeter {
    pub fn see(&mut self, index: usize, picture: &Frame) {
        let now = shrink(picture);
        if let Some(before) = self.previous.as_ref().filter(|b| b.size == now.size) {
            self.changes.push((index, change(before, &now)));
        }
        self.previous = Some(now);
    }

    pub fn found(&self) -> Repeats {
        let changes: Vec<f64> = self.changes.iter().map(|(_, c)| *c).collect();
        let looks: Vec<Look> = (0..changes.len()).map(|i| look(&changes, i)).collect();
        let (mut repeats, mut shares) = (vec![false; changes.len()], Vec::new());
        let mut patterned = vec![false; changes.len()];
        let mut from = 0;
        while from < looks.len() {
            let stretch = looks.get(from..(from + STRETCH).min(looks.len())).unwrap_or_default();
            let pattern = pattern(stretch);
            let count = |wanted: Look| stretch.iter().filter(|l| **l == wanted).count();
            match &pattern {
                Some(pattern) => shares.push(share(pattern)),
                // Clearly without: enough moves, and next to nothing repeats.
                None if count(Look::Moves) >= STRETCH / 4
                    && count(Look::Repeats) * 5 <= count(Look::Moves) =>
                {
                    shares.push(0.0)
                }
                None => (),
            }
            for (i, look) in stretch.iter().enumerate() {
                let Some(place) = pattern.as_ref().and_then(|p| p.get(i % p.len())) else { continue };
                if let (Some(repeats), Some(patterned)) =
                    (repeats.get_mut(from + i), patterned.get_mut(from + i))
                {
                    *repeats |= *place && *look != Look::Moves;
                    *patterned = true;
                }
            }
            if from + STRETCH >= looks.len() {
                break;
            }
            from += HOP;
        }
        for (i, repeats) in repeats.iter_mut().enumerate() {
            *repeats |= patterned.get(i) == Some(&false) && stands_alone(&changes, i);
        }
        let most = shares.iter().copied().fold(0.0, f64::max);
        let least = shares.iter().copied().fold(1.0, f64::min);
        let pictures =
            self.changes.iter().zip(&repeats).filter(|(_, r)| **r).map(|((index, _), _)| *index).collect();
        Repeats { pictures, speed_changes: most - least >= APART }
    }
}

/// What one picture says beside its neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Look {
    Repeats,
    Moves,
    /// Nothing moves about it.
    Unsaid,
}

fn look(changes: &[f64], i: usize) -> Look {
    let own = changes.get(i).copied().unwrap_or(0.0);
    let near = |places: std::ops::Range<usize>| {
        changes
            .get(places.start..places.end.min(changes.len()))
            .unwrap_or_default()
            .iter()
            .copied()
            .fold(0.0, f64::max)
    };
    let (before, after) = (near(i.saturating_sub(3)..i), near(i + 1..i + 4));
    let beside = f64::min(before, after);
    if beside < MOVES && own < MOVES {
        Look::Unsaid
    } else if own < (SHARE * beside).min(LITTLE) && beside >= MOVES {
        Look::Repeats
    } else {
        Look::Moves
    }
}

fn stands_alone(changes: &[f64], i: usize) -> bool {
    let (Some(before), Some(own), Some(after)) =
        (i.checked_sub(1).and_then(|b| changes.get(b)), changes.get(i), changes.get(i + 1))
    else {
        return false;
    };
    let beside = f64::min(*before, *after);
    beside >= 2.0 * MOVES && *own < ALONE * beside
}

/// The shortest pattern that a stretch repeats by: which of its places repeat. `None` where there is none.
fn pattern(looks: &[Look]) -> Option<Vec<bool>> {
    (2..=LONGEST).find_map(|length| {
        let (mut places, mut repeats) = (Vec::with_capacity(length), 0);
        for place in 0..length {
            let at = || looks.iter().skip(place).step_by(length);
            let count = |wanted: Look| at().filter(|l| **l == wanted).count();
            let (yes, no) = (count(Look::Repeats), count(Look::Moves));
            let part = yes as f64 / (yes + no).max(1) as f64;
            if part > HARDLY && part < MOST || yes + no == 0 {
                return None;
            }
            repeats += if part >= MOST { yes } else { 0 };
            places.push(part >= MOST);
        }
        (repeats >= FEWEST && places.contains(&true) && places.contains(&false)).then_some(places)
    })
}

fn share(pattern: &[bool]) -> f64 {
    pattern.iter().filter(|p| **p).count() as f64 / pattern.len().max(1) as f64
}

fn shrink(picture: &Frame) -> Small {
    let (width, height) = (picture.width(), picture.height());
    let rows = (0..height).step_by(STRIDE);
    let luma = rows.flat_map(|y| picture.y.row(y).iter().step_by(STRIDE).copied()).collect();
    Small { size: (width.div_ceil(STRIDE), height.div_ceil(STRIDE)), luma }
}

/// Mean difference in the cell that changes most, 8-bit steps.
fn change(before: &Small, now: &Small) -> f64 {
    let (width, height) = now.size;
    let mut sums = [(0u32, 0u32); GRID.0 * GRID.1];
    let rows = before.luma.chunks_exact(width.max(1)).zip(now.luma.chunks_exact(width.max(1)));
    for (y, (a, b)) in rows.enumerate() {
        let row = y * GRID.1 / height.max(1) * GRID.0;
        for (x, (a, b)) in a.iter().zip(b).enumerate() {
            if let Some((sum, n)) = sums.get_mut(row + x * GRID.0 / width.max(1)) {
                *sum += u32::from(a.abs_diff(*b));
                *n += 1;
            }
        }
    }
    sums.iter().map(|(sum, n)| f64::from(*sum) / f64::from((*n).max(1))).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A block that swings to and fro over a little noise, shown by the numbers of its moments; still before and after.
    fn found(moments: impl Iterator<Item = usize>) -> Repeats {
        let mut meter = RepeatMeter::default();
        for (index, n) in moments.enumerate() {
            let mut frame = Frame::black(320, 180);
            // A repeated picture brings its grain along.
            let mut seed = n as u32;
            let phase = n.clamp(20, 220) as f64 / 9.0;
            let left = 120.0 + 90.0 * phase.sin();
            for y in 0..180 {
                for (x, value) in frame.y.row_mut(y).iter_mut().enumerate() {
                    seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    let inside = (60..120).contains(&y) && (left..left + 40.0).contains(&(x as f64));
                    *value = if inside { 200 } else { 90 } + (seed >> 30) as u8;
                }
            }
            meter.see(index, &frame);
        }
        meter.found()
    }

    #[test]
    fn an_even_film_repeats_nothing_though_it_turns_back_and_rests() {
        assert_eq!(found(0..240), Repeats::default());
    }

    #[test]
    fn a_file_converted_up_repeats_in_its_pattern() {
        for (from, to) in [(24, 30), (25, 30), (15, 30), (20, 30), (30, 60), (10, 30)] {
            let moments = (0..240).map(|i| i * from / to);
            let wanted: Vec<usize> = (1..240)
                .filter(|i| i * from / to == (i - 1) * from / to && (22..218).contains(&(i * from / to)))
                .collect();
            let got = found(moments);
            let missed: Vec<_> = wanted.iter().filter(|i| !got.pictures.contains(i)).collect();
            let right = |i: &&usize| **i > 0 && *i * from / to == (*i - 1) * from / to;
            let wrong: Vec<_> = got.pictures.iter().filter(|i| !right(i)).collect();
            // Where the motion begins and ends the pattern is not seen.
            assert!(
                missed.len() * 20 <= wanted.len() + 40,
                "{from} to {to}: {missed:?} of {} missed",
                wanted.len()
            );
            assert!(wrong.is_empty(), "{from} to {to}: {wrong:?} are no repeats");
            assert!(!got.speed_changes, "{from} to {to}");
        }
    }

    #[test]
    fn one_picture_stored_twice_is_found() {
        let got = found((0..240).map(|i| if i >= 105 { i - 1 } else { i }));
        assert_eq!(got.pictures, [105]);
    }

    #[test]
    fn a_stretch_filled_up_is_a_speed_change() {
        let moments = (0..80).chain((0..80).map(|i| 80 + i / 2)).chain(120..200);
        assert!(found(moments).speed_changes);
    }
}
