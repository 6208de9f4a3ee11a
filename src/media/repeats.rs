//! Pictures that only repeat the one before: a file converted from a lower rate, or slowed down, is filled up with them.
//! They show no new moment, so nothing may be measured in them.

use std::ops::Range;

use crate::math::median;
use crate::types::Frame;

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
/// A badly coded repeat differs by more, so what moves is asked: in the cells about it, weighted by how much they
/// usually change, a repeat changes by less than the first share of that; between the two it is left open. Where no cell
/// usually changes by so many 8-bit steps, the coder's noise is all there is.
/// Set on one handheld cage clip and one panned bunt filled up from 24, 25 and 45 a second to 30 and 60 (H.264, CRF 34),
/// where in the moving cells nine of ten repeats come to 0.57 at most and 95 in 100 others to 0.65 and more, and on a walk and a golf swing
/// before fixed cameras in eight other codings, where nothing repeats: at 4 steps the golf swing seemed to.
const USUAL: (f64, f64) = (0.5, 0.8);
const USUAL_MOVES: f64 = 5.0;
/// Usual is the median of so many pictures to each side.
const BESIDE: usize = 2;
/// Converted files repeat in a pattern of at most so many pictures (12: 11 pictures shown as 12).
const LONGEST: usize = 12;
/// A pattern is looked for in stretches of so many pictures, one beginning so many after another, and believed by so
/// many repeats in it.
const STRETCH: usize = 48;
const HOP: usize = 12;
const FEWEST: usize = 4;
/// In a pattern, this share of the pictures at a place repeats, or none to speak of does; fewer than so many that say
/// something say nothing of the place.
const MOST: f64 = 0.7;
const HARDLY: f64 = 0.2;
const SAYING: usize = 3;
/// This share of all that a pattern names must be seen to repeat.
const SEEN: f64 = 0.5;
/// Where times were rounded before the file was filled up, each repeat falls on either of two places; so many are needed.
const FEWEST_ROUNDED: usize = 6;
/// Stretches whose shares of repeats differ by this much play at different speeds.
const APART: f64 = 0.3;

/// Told every picture in order, says which repeat.
#[derive(Debug, Default)]
pub struct RepeatMeter {
    previous: Option<Small>,
    /// Place in the index and the change of each cell.
    changes: Vec<(usize, Cells)>,
}

/// What was found.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Repeats {
    /// Places in the clip's index.
    pub pictures: Vec<usize>,
    /// One stretch is filled up more than another: a part of the file was slowed down.
    pub speed_changes: bool,
}

/// Mean difference in each cell, 8-bit steps.
type Cells = [f32; GRID.0 * GRID.1];

#[derive(Debug)]
struct Small {
    size: (usize, usize),
    luma: Vec<u8>,
}

impl RepeatMeter {
    /// Takes the next picture; `index` is its place in the clip.
    pub fn see(&mut self, index: usize, picture: &Frame) {
        let now = shrink(picture);
        if let Some(before) = self.previous.as_ref().filter(|b| b.size == now.size) {
            self.changes.push((index, change(before, &now)));
        }
        self.previous = Some(now);
    }

    /// What was seen so far.
    pub fn found(&self) -> Repeats {
        let cells: Vec<&Cells> = self.changes.iter().map(|(_, c)| c).collect();
        let changes: Vec<f64> = cells.iter().map(|c| most(c)).collect();
        let clear: Vec<FrameChange> = (0..changes.len()).map(|i| look(&changes, i)).collect();
        let looks: Vec<FrameChange> =
            clear.iter().enumerate().map(|(i, l)| look_closely(&cells, *l, i)).collect();
        let repeats = patterned(&looks);
        let repeats = repeats.iter().enumerate().map(|(i, r)| r.unwrap_or_else(|| stands_alone(&changes, i)));
        let found = self.changes.iter().zip(repeats).filter(|(_, r)| *r);
        let pictures = found.map(|((index, _), _)| *index).collect();
        Repeats { pictures, speed_changes: speed_changes(&clear, &looks) }
    }
}

fn stretches(count: usize) -> impl Iterator<Item = Range<usize>> {
    let last = count.saturating_sub(STRETCH).div_ceil(HOP);
    (0..=last).map(move |i| i * HOP..(i * HOP + STRETCH).min(count))
}

/// Which pictures repeat by a pattern; `None` where there is none. An exact one goes before a rounded one.
fn patterned(looks: &[FrameChange]) -> Vec<Option<bool>> {
    let mut repeats = vec![None; looks.len()];
    for (either, find) in [(false, pattern as fn(&[FrameChange]) -> _), (true, rounded)] {
        let known = repeats.clone();
        for range in stretches(looks.len()) {
            let Some(places) = looks.get(range.clone()).and_then(find) else { continue };
            for (i, place) in range.zip(places.iter().cycle()) {
                let (Some(look), Some(None)) = (looks.get(i), known.get(i)) else { continue };
                let reported =
                    if either { *look == FrameChange::Repeats } else { *look != FrameChange::Moves };
                if let Some(slot) = repeats.get_mut(i) {
                    *slot = Some(*slot == Some(true) || *place && reported);
                }
            }
        }
    }
    repeats
}

/// A file is refused for this, so it takes patterns that are clear without a closer look, and stretches that are clearly
/// without even after one.
fn speed_changes(clear: &[FrameChange], looks: &[FrameChange]) -> bool {
    let mut shares = Vec::new();
    for range in stretches(looks.len()) {
        let (Some(clear), Some(looks)) = (clear.get(range.clone()), looks.get(range)) else { continue };
        let count = |wanted: FrameChange| looks.iter().filter(|l| **l == wanted).count();
        match pattern(clear) {
            Some(pattern) => shares.push(share(&pattern)),
            // Enough moves, and next to nothing repeats.
            None if count(FrameChange::Moves) >= STRETCH / 4
                && count(FrameChange::Repeats) * 5 <= count(FrameChange::Moves)
                && rounded(looks).or_else(|| pattern(looks)).is_none() =>
            {
                shares.push(0.0);
            }
            None => (),
        }
    }
    let most = shares.iter().copied().fold(0.0, f64::max);
    let least = shares.iter().copied().fold(1.0, f64::min);
    most - least >= APART
}

/// What one picture says beside its neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum FrameChange {
    Repeats,
    Moves,
    /// Either; its place in a pattern tells.
    Open,
    /// Nothing moves about it.
    Unsaid,
}

fn look_closely(cells: &[&Cells], look: FrameChange, i: usize) -> FrameChange {
    match share_of_usual(cells, i) {
        Some(share) if share < USUAL.0 => FrameChange::Repeats,
        Some(share) if share < USUAL.1 && look == FrameChange::Moves => FrameChange::Open,
        _ => look,
    }
}

/// What picture `i` changes as a share of what is usual about it: in the cells that move, and in the cell that changes
/// most, wherever it is (a bat is in other cells each time); the larger share. `None` where nothing moves.
fn share_of_usual(cells: &[&Cells], i: usize) -> Option<f64> {
    let own = cells.get(i)?;
    let beside = (i.saturating_sub(BESIDE)..=i + BESIDE).filter(|j| *j != i);
    let beside: Vec<&Cells> = beside.filter_map(|j| cells.get(j).copied()).collect();
    if beside.len() < BESIDE {
        return None;
    }
    let usual: Cells = std::array::from_fn(|cell| middle_of(beside.iter().map(|c| c[cell])));
    if most(&usual) < USUAL_MOVES {
        return None;
    }
    let (in_cells, all) = own.iter().zip(&usual).fold((0.0, 0.0), |(own, all), (c, u)| {
        let (c, u) = (f64::from(*c), f64::from(*u));
        (own + u * u * c, all + u * u * u)
    });
    let usually_most = f64::from(middle_of(beside.iter().map(|c| most(c) as f32)));
    Some(f64::max(in_cells / all, most(own) / usually_most))
}

/// Of up to twice [`BESIDE`] values, without asking for memory: this runs for each cell of each picture.
fn middle_of(values: impl ExactSizeIterator<Item = f32>) -> f32 {
    let mut kept = [0.0; 2 * BESIDE];
    let count = values.len().min(kept.len());
    kept.iter_mut().zip(values).for_each(|(slot, value)| *slot = f64::from(value));
    median(&mut kept[..count]).map_or(0.0, |m| m as f32)
}

fn look(changes: &[f64], i: usize) -> FrameChange {
    let own = changes.get(i).copied().unwrap_or(0.0);
    let near = |places: Range<usize>| {
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
        FrameChange::Unsaid
    } else if own < (SHARE * beside).min(LITTLE) && beside >= MOVES {
        FrameChange::Repeats
    } else {
        FrameChange::Moves
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
fn pattern(looks: &[FrameChange]) -> Option<Vec<bool>> {
    (2..=LONGEST).find_map(|length| {
        let (mut places, mut repeats, mut named) = (Vec::with_capacity(length), 0, 0);
        for place in 0..length {
            let at = || looks.iter().skip(place).step_by(length);
            let count = |wanted: FrameChange| at().filter(|l| **l == wanted).count();
            let (yes, no) = (count(FrameChange::Repeats), count(FrameChange::Moves));
            let part = yes as f64 / (yes + no).max(1) as f64;
            if part > HARDLY && part < MOST || yes + no < SAYING.min(at().count()) {
                return None;
            }
            if part >= MOST {
                repeats += yes;
                named += at().count();
            }
            places.push(part >= MOST);
        }
        let seen = repeats >= FEWEST && repeats as f64 >= SEEN * named as f64;
        (seen && places.contains(&true) && places.contains(&false)).then_some(places)
    })
}

/// The shortest pattern in which a repeat falls on either of two neighbouring places, and on no other.
fn rounded(looks: &[FrameChange]) -> Option<Vec<bool>> {
    (4..=LONGEST).find_map(|length| {
        (0..length).find_map(|place| {
            let either = [place, (place + 1) % length];
            let pairs = || looks.get(place..).unwrap_or_default().chunks(length).filter_map(|c| c.get(..2));
            let one =
                |pair: &&[FrameChange]| pair.iter().filter(|l| **l == FrameChange::Repeats).count() == 1;
            let (yes, all) = (pairs().filter(one).count(), pairs().count());
            let others = (0..length).filter(|p| !either.contains(p)).all(|other| {
                let at = || looks.iter().skip(other).step_by(length);
                let count = |wanted: FrameChange| at().filter(|l| **l == wanted).count();
                let (repeats, moves) = (count(FrameChange::Repeats), count(FrameChange::Moves));
                let said = repeats + moves;
                repeats as f64 <= HARDLY * said as f64 && said >= SAYING.min(at().count())
            });
            let seen = yes >= FEWEST_ROUNDED && yes as f64 >= MOST * all as f64;
            (seen && others).then(|| (0..length).map(|p| either.contains(&p)).collect())
        })
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

fn most(cells: &Cells) -> f64 {
    cells.iter().copied().fold(0.0, f32::max).into()
}

fn change(before: &Small, now: &Small) -> Cells {
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
    sums.map(|(sum, n)| sum as f32 / n.max(1) as f32)
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
