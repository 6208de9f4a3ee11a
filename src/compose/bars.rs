//! White or black bars in a source's pictures, as film has them that was put into another shape: flat, alike in every
//! picture, at two opposite edges and about as thick at both.

use super::film::Footage;
use super::framing::{robust_box, seen_parts};
use crate::media::Cut;
use crate::types::{Cancel, EventId, Frame, Reading, Rect, Result};

/// A bar's luma is at most or at least this: black is 16, white 235 (ITU-R BT.601, BT.709).
const BLACK: u8 = 30;
const WHITE: u8 = 225;
/// How far a bar's luma strays: what coding leaves in a flat area. Own choice.
const FLAT: u8 = 6;
/// Share of a line's pixels that must keep to it.
const MOST: f64 = 0.99;
/// Bars thinner than this share of the picture are left: nobody sees them.
const THINNEST: f64 = 0.015;
/// Both together leave at least this share of the picture.
const LEAST_LEFT: f64 = 0.3;
/// Two bars differ by at most this share of the picture. A pale sky lies at one edge only.
const UNLIKE: f64 = 0.02;
/// Points may lie so far outside the body, share of the picture.
const POINTS_STRAY: f64 = 0.02;
/// Pictures are looked at with this longer side, px.
const LOOKED_AT: usize = 640;

/// A bar's two ends along one axis: where the picture begins and ends, of `count` lines.
fn between_bars(count: usize, line: impl Fn(&Frame, usize) -> Vec<u8>, pictures: &[Frame]) -> (usize, usize) {
    let whole = (0, count);
    let thick = |at: &dyn Fn(usize) -> usize| {
        let edge: Vec<Option<u8>> = pictures.iter().map(|p| flat(&line(p, at(0)))).collect();
        let Some(Some(level)) = edge.first().copied() else { return 0 };
        let is_bar = |i: &usize| {
            pictures.iter().all(|p| flat(&line(p, at(*i))).is_some_and(|l| l.abs_diff(level) <= FLAT / 2))
        };
        (0..count).take_while(is_bar).count()
    };
    let (first, last) = (thick(&|i| i), thick(&|i| count - 1 - i));
    let share = |lines: usize| lines as f64 / count.max(1) as f64;
    let alike = share(first.abs_diff(last)) <= UNLIKE;
    if !alike || share(first.min(last)) < THINNEST || share(first + last) > 1.0 - LEAST_LEFT {
        return whole;
    }
    (first, count - last)
}

/// The luma of a line that is black or white all along.
fn flat(line: &[u8]) -> Option<u8> {
    let mut sorted = line.to_vec();
    sorted.sort_unstable();
    let middle = *sorted.get(sorted.len() / 2)?;
    let near = line.iter().filter(|l| l.abs_diff(middle) <= FLAT).count();
    let bar = middle <= BLACK || middle >= WHITE;
    (bar && near as f64 >= MOST * line.len() as f64).then_some(middle)
}

/// What lies between the bars of some pictures of one size, as shares of it: left, top, right, bottom.
fn shares(pictures: &[Frame]) -> Option<[f64; 4]> {
    let first = pictures.first()?;
    let (w, h) = (first.width(), first.height());
    let (top, bottom) = between_bars(h, |p, y| p.y.row(y).to_vec(), pictures);
    // A letterbox's own rows say nothing about bars at the sides.
    let column = |p: &Frame, x: usize| (top..bottom).filter_map(|y| p.y.row(y).get(x).copied()).collect();
    let (left, right) = between_bars(w, column, pictures);
    let (w, h) = (w.max(1) as f64, h.max(1) as f64);
    Some([left as f64 / w, top as f64 / h, right as f64 / w, bottom as f64 / h])
}

/// The part of a source's pictures that is no bar, px. Where points of the body lie in what looks like bars, they are
/// none.
fn between(pictures: &[Frame], reading: &Reading) -> Rect {
    let (w, h) = (reading.clip.width as f64, reading.clip.height as f64);
    let whole = Rect::new(0.0, 0.0, w, h);
    let Some([left, top, right, bottom]) = shares(pictures) else { return whole };
    let body = robust_box(reading.track.poses.iter().flat_map(seen_parts)).unwrap_or(whole);
    let across = body.x >= (left - POINTS_STRAY) * w && body.right() <= (right + POINTS_STRAY) * w;
    let down = body.y >= (top - POINTS_STRAY) * h && body.bottom() <= (bottom + POINTS_STRAY) * h;
    // Inward by a line that was looked at, to even px: the edge of a bar is soft.
    let soft = w.max(h) / LOOKED_AT as f64;
    let ends = |from: f64, to: f64, size: f64, cut: bool| {
        if !cut || (from <= 0.0 && to >= 1.0) {
            return (0.0, size);
        }
        let first = ((from * size + soft) / 2.0).ceil() * 2.0;
        (first, ((to * size - soft) / 2.0).floor() * 2.0 - first)
    };
    let ((x, width), (y, height)) = (ends(left, right, w, across), ends(top, bottom, h, down));
    if width < LEAST_LEFT * w || height < LEAST_LEFT * h { whole } else { Rect::new(x, y, width, height) }
}

/// The part of a clip's pictures that is no bar, from a few of them.
pub fn without_bars(footage: &dyn Footage, reading: &Reading, cancel: &Cancel) -> Result<Rect> {
    let (w, h) = (reading.clip.width & !1, reading.clip.height & !1);
    let scale = (LOOKED_AT as f64 / w.max(h).max(1) as f64).min(1.0);
    let even = |v: usize| ((v as f64 * scale / 2.0).round() as usize * 2).max(2);
    let cut = Cut::whole((w, h), (even(w), even(h)));
    let mut pictures = Vec::new();
    for event in [EventId::Load, EventId::Contact, EventId::Finish] {
        cancel.check()?;
        let Some(at) = reading.events.get(&event) else { continue };
        // What cannot be read here is told of when it is shown.
        let read = footage.read_from(at.frame, Some(cut)).and_then(|mut p| p.picture_from(at.frame));
        pictures.extend(read.ok().flatten().map(|p| p.frame));
    }
    // One picture does not tell a bar from a dark wall.
    Ok(between(if pictures.len() > 1 { &pictures } else { &[] }, reading))
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::draw::{Canvas, Rgb};
    use crate::types::Point;

    /// A made-up hitter's film with bars of some px laid over its edges: left, top, right, bottom.
    fn barred(hit: &sample::Hit, bars: [f64; 4], colour: Rgb) -> Vec<Frame> {
        let (w, h) = (hit.size.0 as f64, hit.size.1 as f64);
        let picture = |frame: usize| {
            let mut canvas = Canvas::over(hit.picture(frame));
            let [left, top, right, bottom] = bars;
            for place in [
                Rect::new(0.0, 0.0, left, h),
                Rect::new(0.0, 0.0, w, top),
                Rect::new(w - right, 0.0, right, h),
                Rect::new(0.0, h - bottom, w, bottom),
            ] {
                if place.width > 0.0 && place.height > 0.0 {
                    canvas.fill_block(place, colour);
                }
            }
            canvas.into_frame()
        };
        [20, 120, 200].map(picture).to_vec()
    }

    #[test]
    fn bars_are_found_on_either_axis_black_or_white() {
        let hit = sample::reference();
        let reading = hit.reading(Default::default());
        let (w, h) = (hit.size.0 as f64, hit.size.1 as f64);
        for colour in [Rgb(0, 0, 0), Rgb(255, 255, 255)] {
            for bars in [[240.0, 0.0, 240.0, 0.0], [0.0, 90.0, 0.0, 90.0], [240.0, 90.0, 240.0, 90.0]] {
                let inside = between(&barred(&hit, bars, colour), &reading);
                let want = Rect::new(bars[0], bars[1], w - bars[0] - bars[2], h - bars[1] - bars[3]);
                // Never short of the bar, at most a few px inside it.
                for (got, want) in [(inside.x, want.x), (inside.y, want.y)] {
                    assert!((want..want + 9.0).contains(&got) && got % 2.0 == 0.0, "{bars:?} {inside:?}");
                }
                for (got, want) in [(inside.right(), want.right()), (inside.bottom(), want.bottom())] {
                    assert!(got <= want && got > want - 9.0, "{bars:?} {inside:?}");
                }
            }
        }
    }

    #[test]
    fn what_is_no_pair_of_bars_stays_whole() {
        let hit = sample::reference();
        let reading = hit.reading(Default::default());
        let whole = Rect::new(0.0, 0.0, hit.size.0 as f64, hit.size.1 as f64);
        for (bars, colour) in [
            ([0.0; 4], Rgb(0, 0, 0)),
            // A white sky above, a dark wall on one side.
            ([0.0, 150.0, 0.0, 0.0], Rgb(255, 255, 255)),
            ([300.0, 0.0, 0.0, 0.0], Rgb(0, 0, 0)),
            ([300.0, 0.0, 100.0, 0.0], Rgb(0, 0, 0)),
            // Flat and grey: a wall.
            ([240.0, 0.0, 240.0, 0.0], Rgb(110, 110, 110)),
        ] {
            assert_eq!(between(&barred(&hit, bars, colour), &reading), whole, "{bars:?} {colour:?}");
        }
        // The body is in what looks like bars.
        let aside = sample::Hit { feet: Point::new(500.0, 930.0), ..sample::reference() };
        let bars = barred(&aside, [500.0, 0.0, 500.0, 0.0], Rgb(0, 0, 0));
        assert_eq!(between(&bars, &aside.reading(Default::default())), whole);
        // Dark in one picture only.
        let mut some = barred(&hit, [0.0; 4], Rgb(0, 0, 0));
        some[1] = barred(&hit, [240.0, 0.0, 240.0, 0.0], Rgb(0, 0, 0)).swap_remove(1);
        assert_eq!(between(&some, &reading), whole);
        assert_eq!(between(&[], &reading), whole);
    }

    #[test]
    fn no_bar_is_left_in_a_panel() {
        use super::super::framing::{Source, arrange};
        use super::super::layout::Layout;
        let (today, reference, pairing) = sample::pair();
        let inside = Rect::new(240.0, 90.0, 1440.0, 900.0);
        let sources = [Source::whole(&today), Source { reading: &reference, inside }];
        for layout in Layout::ALL {
            for size in [(1080, 1920), (1920, 1080)] {
                let (_, views) = arrange(layout, size, sources, pairing.registration.as_ref());
                let Some((cut, _)) = views[1].cut else { continue };
                let (x, y) = (cut.x as f64, cut.y as f64);
                assert!(x >= inside.x && x + cut.width as f64 <= inside.right(), "{layout:?} {cut:?}");
                assert!(y >= inside.y && y + cut.height as f64 <= inside.bottom(), "{layout:?} {cut:?}");
                // The map of px stays true.
                let at = views[1].at(Point::new(x, y));
                let (_, (px, py)) = views[1].cut.unwrap();
                let want = Point::new(views[1].panel.x + px as f64, views[1].panel.y + py as f64);
                assert!(at.distance(want) < 2.0, "{layout:?} {at:?} {want:?}");
            }
        }
    }
}
