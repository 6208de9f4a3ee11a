//! One page with everything: the clip, the sheet, the tables, the plots. It needs no network and holds no
//! path or file name of this computer.

use base64::prelude::{BASE64_STANDARD, Engine};
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::plot::{Plot, plots};
use super::sheet::png_from_frame;
use super::text::said;
use crate::media::{Clip, Cut};
use crate::messages::{self, Captions};
use crate::types::{Error, EventId, Events, NotAligned, Pairing, Reading, Result, Verdict, Warning};

/// Where the page's clip is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PageClip<'a> {
    /// The whole file, put into the page.
    Inside(&'a [u8]),
    /// A file of this name lies beside the page.
    Beside(&'a str),
}

/// What the page tells of.
pub struct PageParts<'a> {
    /// Today's, then the reference's.
    pub readings: [&'a Reading; 2],
    /// Today's and the reference's.
    pub labels: [&'a str; 2],
    /// The reference stands before today, as in the clip.
    pub reference_first: bool,
    /// What the numbers come from.
    pub pairing: &'a Pairing,
    /// The video and where it lies.
    pub clip: PageClip<'a>,
    /// Size of its pictures, px.
    pub clip_size: (usize, usize),
    /// Shown until it plays, see [`poster`].
    pub poster_png: &'a [u8],
    /// The sheet of stills.
    pub sheet_png: &'a [u8],
    /// What is to be known of the pair.
    pub warnings: &'a [Warning],
    /// English, in the units to be read.
    pub words: &'a Captions,
}

/// Larger clips lie beside the page instead of in it, bytes: an embedded one grows by a third.
pub const LARGEST_INSIDE: u64 = 20_000_000;

/// Warnings that name a file, which the page does not, or are about whoever makes the page.
const NAMES_A_FILE: [&str; 4] = ["rep_left_out", "rep_given_twice", "sidecar_set_aside", "sidecar_not_kept"];

const STYLE: &str = include_str!("page.css");

/// The page as HTML.
pub fn page(parts: &PageParts) -> String {
    let between = if parts.reference_first { messages::page::THEN } else { messages::page::AGAINST };
    let [first, last] = sides(parts, false);
    let [first_name, last_name] = in_order(parts, parts.labels);
    let (w, h) = parts.clip_size;
    let shape = if w > h { "wide" } else { "upright" };
    let body = html! {
        header {
            h1 { (first) " " span class="against" { (between) } " " (last) }
            p { (parts.words.lined_up(parts.pairing.time_map.zero)) }
        }
        main {
            div class={ "top " (shape) } {
                section class="clip" { (video(parts.clip, parts.clip_size, parts.poster_png)) }
                section class="news" { h2 { (messages::page::NEWS) } (news(parts)) }
            }
            section { h2 { (messages::page::MEASURES) } (measures(parts)) }
            section { h2 { (messages::page::EVENTS) } (events(parts)) }
            (curves(parts))
            section class="sheet" {
                h2 { (messages::page::STILLS) }
                img alt=(messages::page::STILLS) src=(png_address(parts.sheet_png));
            }
            (cautions(parts))
        }
    };
    document(&format!("{first_name} {between} {last_name}"), &[STYLE], &body)
}

/// A page that stands alone: what it shows and how it looks.
pub(super) fn document(title: &str, styles: &[&str], body: &Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width,initial-scale=1";
                meta name="referrer" content="no-referrer";
                title { (title) }
                style { @for style in styles { (PreEscaped(style)) } }
            }
            body { (body) }
        }
    };
    page.into_string()
}

/// The player, which is not black before it plays.
pub(super) fn video(clip: PageClip, (w, h): (usize, usize), poster_png: &[u8]) -> Markup {
    let clip = match clip {
        PageClip::Inside(bytes) => format!("data:video/mp4;base64,{}", BASE64_STANDARD.encode(bytes)),
        PageClip::Beside(name) => percent(name),
    };
    html! {
        video controls playsinline loop preload="metadata" width=(w) height=(h) poster=(png_address(poster_png))
            src=(clip) {}
    }
}

/// A picture as an address that holds it.
pub(super) fn png_address(png: &[u8]) -> String {
    format!("data:image/png;base64,{}", BASE64_STANDARD.encode(png))
}

/// Where in a made clip its poster is: in the ready plans about here both swings are seen, mostly resting on contact.
const POSTER_AT: f64 = 0.4;
/// Its longer side, px.
const POSTER_SIDE: f64 = 960.0;

/// A still of a made clip, as PNG.
pub fn poster(clip: &Clip) -> Result<Vec<u8>> {
    let facts = clip.facts();
    let native = (facts.width & !1, facts.height & !1);
    let scale = (POSTER_SIDE / native.0.max(native.1).max(1) as f64).min(1.0);
    let even = |v: usize| ((v as f64 * scale / 2.0).round() as usize * 2).max(2);
    let index = (facts.frames as f64 * POSTER_AT) as usize;
    let picture =
        clip.cuts(index, Cut::whole(native, (even(native.0), even(native.1))))?.frame_from(index)?;
    let picture = picture.ok_or_else(|| Error::Decode {
        path: facts.path.clone(),
        cause: messages::output::frame_missing(index).into(),
    })?;
    png_from_frame(&picture.frame)
}

/// Clear differences in words, or that there are none.
fn news(parts: &PageParts) -> Markup {
    let mut bigger: Vec<_> =
        parts.pairing.differences.iter().filter(|d| d.verdict == Verdict::Bigger).collect();
    bigger.sort_by(|a, b| b.clearness().total_cmp(&a.clearness()));
    if bigger.is_empty() {
        return html! { p { (messages::page::NO_NEWS) } };
    }
    let item = |d: &crate::types::Difference| {
        let reference = parts.words.range(d).unwrap_or_else(|| parts.words.value(d.measure, &d.reference));
        let values = [
            html! { span class="badge today" {} (parts.words.value(d.measure, &d.today)) },
            html! { span class="badge reference" {} (reference) },
        ];
        let [first, last] = in_order(parts, values);
        html! {
            li {
                b { (parts.words.measure(d.measure)) } " "
                span class="change" { (parts.words.difference(d)) }
                br;
                (first) " " (last)
            }
        }
    };
    html! { ul { @for d in bigger { (item(d)) } } }
}

/// A row of a table: its name and its values.
pub(super) struct Row {
    pub cells: Vec<String>,
    pub class: &'static str,
}

/// On a narrow screen each row stands as a block of its own, with the heads beside the values.
pub(super) fn table(head: &[Markup], rows: &[Row]) -> Markup {
    html! {
        div class="scroll" {
            table {
                thead { tr { @for head in head { th scope="col" { (head) } } } }
                tbody {
                    @for row in rows {
                        tr class=(row.class) {
                            @for (i, cell) in row.cells.iter().enumerate() {
                                @match head.get(i).filter(|_| i > 0) {
                                    Some(head) => { td { span class="k" { (head) } (cell) } }
                                    None => { th scope="row" { (cell) } }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Today's, then the reference's, as the page has them side by side.
fn in_order<T>(parts: &PageParts, [today, reference]: [T; 2]) -> [T; 2] {
    if parts.reference_first { [reference, today] } else { [today, reference] }
}

/// Names of the two over their columns; the range of the good reps where today is compared with it.
fn sides(parts: &PageParts, ranged: bool) -> [Markup; 2] {
    let [today, reference] = parts.labels;
    let counted = parts.pairing.good_reps.as_ref().filter(|g| ranged && g.counted > 0);
    let reference = counted.map_or_else(|| reference.to_owned(), |g| parts.words.good_reps(g.counted));
    let both = [
        html! { span class="badge today" {} (today) },
        html! { span class="badge reference" {} (reference) },
    ];
    in_order(parts, both)
}

fn measures(parts: &PageParts) -> Markup {
    let [today, reference] = parts.readings;
    let one = |d: &crate::types::Difference| {
        let ranged = parts.words.range(d).unwrap_or_else(|| parts.words.value(d.measure, &d.reference));
        let [first, last] = in_order(parts, [parts.words.value(d.measure, &d.today), ranged]);
        let cells = vec![
            parts.words.measure(d.measure).to_owned(),
            first,
            last,
            parts.words.difference(d),
            said(d, parts.pairing, today, reference).replace('\'', "’"),
        ];
        let class = if d.verdict == Verdict::Bigger { "bigger" } else { "" };
        Row { cells, class }
    };
    let mut rows: Vec<Row> = parts.pairing.differences.iter().map(one).collect();
    for o in &parts.pairing.one_sided {
        let value = parts.words.value(o.measure, &o.value);
        let mut cells = [parts.words.measure(o.measure), "", "", "", ""].map(str::to_owned);
        let side = usize::from((o.clip == crate::types::Which::Reference) != parts.reference_first);
        cells[1 + side] = value;
        cells[2 - side] = parts.words.not_measured().to_owned();
        rows.push(Row { cells: cells.to_vec(), class: "one" });
    }
    if rows.is_empty() {
        return html! { p { (parts.words.nothing(false)) } };
    }
    let [a, b] = sides(parts, true);
    let head = [html! {}, a, b, html! { (messages::page::DIFFERENCE) }, html! { (messages::AGAINST_USUAL) }];
    table(&head, &rows)
}

fn events(parts: &PageParts) -> Markup {
    let map = &parts.pairing.time_map;
    let zeros = [map.zero_today_s(), map.zero_reference_s()];
    let cell = |events: &Events, id: &EventId, zero_s: f64| {
        events.get(id).map_or_else(
            || parts.words.not_found().to_owned(),
            |e| messages::page::moment(e.time_s - zero_s, e.plus_minus_s),
        )
    };
    let rows: Vec<Row> = EventId::ALL
        .iter()
        .filter(|id| parts.readings.iter().any(|r| r.events.contains_key(id)))
        .map(|id| {
            let [a, b] = in_order(parts, [0, 1].map(|i| cell(&parts.readings[i].events, id, zeros[i])));
            Row { cells: vec![messages::event(*id).to_owned(), a, b], class: "" }
        })
        .collect();
    let [a, b] = sides(parts, false);
    table(&[html! { (parts.words.times_from(map.zero)) }, a, b], &rows)
}

fn curves(parts: &PageParts) -> Markup {
    let all = plots(parts.words, parts.readings, parts.pairing);
    if all.is_empty() {
        return html! {};
    }
    let one = |p: &Plot| html! { figure { figcaption { (p.title) ", " (p.unit) } (PreEscaped(&p.svg)) } };
    html! {
        section {
            h2 { (messages::page::CURVES) }
            p { (messages::page::CURVES_TOLD) }
            div class="plots" { @for plot in &all { (one(plot)) } }
        }
    }
}

/// Why the two bodies are not laid over each other.
pub(super) fn not_aligned(why: NotAligned) -> String {
    messages::reading::not_aligned(&messages::not_aligned(why))
}

/// The limits the clip's card says, what the ± means, and the warnings.
fn cautions(parts: &PageParts) -> Markup {
    let mut lines: Vec<String> = parts.words.limits().iter().map(|l| (*l).to_owned()).collect();
    lines.push(parts.words.plus_minus().to_owned());
    lines.extend(parts.pairing.why_no_registration.map(not_aligned));
    let named = |w: &&Warning| !NAMES_A_FILE.contains(&w.code());
    lines.extend(parts.warnings.iter().filter(named).map(messages::warning));
    for (reading, label) in parts.readings.iter().zip(parts.labels) {
        lines.extend(
            reading.warnings.iter().filter(named).map(|w| format!("{label}: {}", messages::warning(w))),
        );
    }
    lines.push(messages::page::CARE.to_owned());
    care(&lines)
}

/// The page's last part.
pub(super) fn care(lines: &[String]) -> Markup {
    html! {
        section class="cautions" {
            h2 { (messages::page::CAUTIONS) }
            ul { @for line in lines { li { (line) } } }
        }
    }
}

/// A file name as a relative address (RFC 3986): all but unreserved characters as %XX.
pub(super) fn percent(name: &str) -> String {
    name.bytes()
        .map(|b| match b {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => char::from(b).to_string(),
            b => format!("%{b:02X}"),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_said_can_become_markup() {
        let bad = "</title></style><b title=\"x\">A & 'B'</b>";
        let made =
            document(bad, &[], &table(&[html! { (bad) }], &[Row { cells: vec![bad.to_owned()], class: "" }]));
        assert_eq!(made.matches("<b").count(), 1, "only the page's own body: {made}");
        assert_eq!(made.matches("&lt;b title=&quot;x&quot;&gt;A &amp; 'B'&lt;/b&gt;").count(), 3, "{made}");
        let beside = video(PageClip::Beside("day 1\"é.mp4"), (2, 4), b"foob").into_string();
        assert!(beside.contains("src=\"day%201%22%C3%A9.mp4\""), "{beside}");
        // RFC 4648 §10.
        assert!(beside.contains("poster=\"data:image/png;base64,Zm9vYg==\""), "{beside}");
    }
}
