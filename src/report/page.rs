//! One page with everything: the clip, the sheet, the tables, the plots. It needs no network and holds no
//! path or file name of this computer.

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
    pub labels: [&'a str; 2],
    /// The reference stands before today, as in the clip.
    pub reference_first: bool,
    pub pairing: &'a Pairing,
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
    let [first_name, last_name] = in_order(parts, parts.labels.map(escaped));
    let mut body = format!(
        "<header><h1>{first} <span class=\"against\">{between}</span> {last}</h1><p>{}</p></header>\n",
        escaped(&parts.words.lined_up(parts.pairing.time_map.zero))
    );
    let (w, h) = parts.clip_size;
    let shape = if w > h { "wide" } else { "upright" };
    body.push_str(&format!(
        "<main><div class=\"top {shape}\"><section class=\"clip\">{}</section>\n",
        video(parts.clip, parts.clip_size, parts.poster_png)
    ));
    body.push_str(&format!(
        "<section class=\"news\"><h2>{}</h2>{}</section></div>\n",
        messages::page::NEWS,
        news(parts)
    ));
    body.push_str(&format!("<section><h2>{}</h2>{}</section>\n", messages::page::MEASURES, measures(parts)));
    body.push_str(&format!("<section><h2>{}</h2>{}</section>\n", messages::page::EVENTS, events(parts)));
    body.push_str(&curves(parts));
    body.push_str(&format!(
        "<section class=\"sheet\"><h2>{}</h2><img alt=\"{}\" src=\"data:image/png;base64,{}\"></section>\n",
        messages::page::STILLS,
        messages::page::STILLS,
        base64(parts.sheet_png)
    ));
    body.push_str(&cautions(parts));
    format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\
         <meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\
         <meta name=\"referrer\" content=\"no-referrer\">\
         <title>{first_name} {between} {last_name}</title><style>{STYLE}</style></head><body>\n{body}</main></body></html>\n"
    )
}

/// The player, which is not black before it plays.
pub(super) fn video(clip: PageClip, (w, h): (usize, usize), poster_png: &[u8]) -> String {
    let clip = match clip {
        PageClip::Inside(bytes) => format!("data:video/mp4;base64,{}", base64(bytes)),
        PageClip::Beside(name) => escaped(&percent(name)),
    };
    format!(
        "<video controls playsinline loop preload=\"metadata\" width=\"{w}\" height=\"{h}\" \
         poster=\"data:image/png;base64,{}\" src=\"{clip}\"></video>",
        base64(poster_png)
    )
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
fn news(parts: &PageParts) -> String {
    let mut bigger: Vec<_> =
        parts.pairing.differences.iter().filter(|d| d.verdict == Verdict::Bigger).collect();
    bigger.sort_by(|a, b| b.clearness().total_cmp(&a.clearness()));
    if bigger.is_empty() {
        return format!("<p>{}</p>", messages::page::NO_NEWS);
    }
    let item = |d: &&crate::types::Difference| {
        let reference = parts.words.range(d).unwrap_or_else(|| parts.words.value(d.measure, &d.reference));
        let values = [
            format!(
                "<span class=\"badge today\"></span>{}",
                escaped(&parts.words.value(d.measure, &d.today))
            ),
            format!("<span class=\"badge reference\"></span>{}", escaped(&reference)),
        ];
        format!(
            "<li><b>{}</b> <span class=\"change\">{}</span><br>{}</li>",
            escaped(parts.words.measure(d.measure)),
            escaped(&parts.words.difference(d)),
            in_order(parts, values).join(" ")
        )
    };
    format!("<ul>{}</ul>", bigger.iter().map(item).collect::<String>())
}

/// A row of a table: its name and its values.
pub(super) struct Row {
    pub cells: Vec<String>,
    pub class: &'static str,
}

/// On a narrow screen each row stands as a block of its own, with the heads beside the values.
pub(super) fn table(head: &[String], rows: &[Row]) -> String {
    let cell = |(i, c): (usize, &String)| match head.get(i) {
        Some(head) if i > 0 => format!("<td><span class=\"k\">{head}</span>{c}</td>"),
        _ => format!("<th scope=\"row\">{c}</th>"),
    };
    let row = |row: &Row| {
        let cells: String = row.cells.iter().enumerate().map(cell).collect();
        format!("<tr class=\"{}\">{cells}</tr>", row.class)
    };
    let rows: String = rows.iter().map(row).collect();
    let head: String = head.iter().map(|h| format!("<th scope=\"col\">{h}</th>")).collect();
    format!("<div class=\"scroll\"><table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>")
}

/// Today's, then the reference's, as the page has them side by side.
fn in_order<T>(parts: &PageParts, [today, reference]: [T; 2]) -> [T; 2] {
    if parts.reference_first { [reference, today] } else { [today, reference] }
}

/// Names of the two over their columns; the range of the good reps where today is compared with it.
fn sides(parts: &PageParts, ranged: bool) -> [String; 2] {
    let [today, reference] = parts.labels.map(escaped);
    let counted = parts.pairing.good_reps.as_ref().filter(|g| ranged && g.counted > 0);
    let reference = counted.map_or(reference, |g| parts.words.good_reps(g.counted));
    let both = [
        format!("<span class=\"badge today\"></span>{today}"),
        format!("<span class=\"badge reference\"></span>{reference}"),
    ];
    in_order(parts, both)
}

fn measures(parts: &PageParts) -> String {
    let [today, reference] = parts.readings;
    let one = |d: &crate::types::Difference| {
        let ranged = parts.words.range(d).unwrap_or_else(|| parts.words.value(d.measure, &d.reference));
        let [first, last] = in_order(parts, [parts.words.value(d.measure, &d.today), ranged]);
        let cells = [
            parts.words.measure(d.measure).to_owned(),
            first,
            last,
            parts.words.difference(d),
            said(d, parts.pairing, today, reference).replace('\'', "’"),
        ];
        let class = if d.verdict == Verdict::Bigger { "bigger" } else { "" };
        Row { cells: cells.map(|c| escaped(&c)).to_vec(), class }
    };
    let mut rows: Vec<Row> = parts.pairing.differences.iter().map(one).collect();
    for o in &parts.pairing.one_sided {
        let value = parts.words.value(o.measure, &o.value);
        let mut cells = [parts.words.measure(o.measure), "", "", "", ""].map(str::to_owned);
        let side = usize::from((o.clip == crate::types::Which::Reference) != parts.reference_first);
        cells[1 + side] = value;
        cells[2 - side] = parts.words.not_measured().to_owned();
        rows.push(Row { cells: cells.map(|c| escaped(&c)).to_vec(), class: "one" });
    }
    if rows.is_empty() {
        return format!("<p>{}</p>", parts.words.nothing(false));
    }
    let [a, b] = sides(parts, true);
    let head =
        [String::new(), a, b, messages::page::DIFFERENCE.to_owned(), messages::AGAINST_USUAL.to_owned()];
    table(&head, &rows)
}

fn events(parts: &PageParts) -> String {
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
            Row { cells: [messages::event(*id).to_owned(), a, b].map(|c| escaped(&c)).to_vec(), class: "" }
        })
        .collect();
    let [a, b] = sides(parts, false);
    table(&[parts.words.times_from(map.zero), a, b], &rows)
}

fn curves(parts: &PageParts) -> String {
    let one =
        |p: &Plot| format!("<figure><figcaption>{}, {}</figcaption>{}</figure>", p.title, p.unit, p.svg);
    let all: String = plots(parts.words, parts.readings, parts.pairing).iter().map(one).collect();
    if all.is_empty() {
        return String::new();
    }
    format!(
        "<section><h2>{}</h2><p>{}</p><div class=\"plots\">{all}</div></section>\n",
        messages::page::CURVES,
        messages::page::CURVES_TOLD
    )
}

/// Why the two bodies are not laid over each other.
pub(super) fn not_aligned(why: NotAligned) -> String {
    messages::reading::not_aligned(&messages::not_aligned(why))
}

/// The limits the clip's card says, what the ± means, and the warnings.
fn cautions(parts: &PageParts) -> String {
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
    let items: String = lines.iter().map(|l| format!("<li>{}</li>", escaped(l))).collect();
    format!("<section class=\"cautions\"><h2>{}</h2><ul>{items}</ul></section>\n", messages::page::CAUTIONS)
}

/// Text made safe inside HTML, between tags and in quoted values.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
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

/// RFC 4648 §4.
pub(super) fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let at = |i: usize| u32::from(three.get(i).copied().unwrap_or(0));
        let all = at(0) << 16 | at(1) << 8 | at(2);
        for i in 0..4 {
            let letter = LETTERS[(all >> (18 - 6 * i) & 63) as usize];
            out.push(if i <= three.len() { char::from(letter) } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_become_the_standards_letters() {
        // The test vectors of RFC 4648 §10.
        for (plain, coded) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }

    #[test]
    fn nothing_said_can_become_markup() {
        assert_eq!(escaped("<b>\"A\" & 'B'</b>"), "&lt;b&gt;&quot;A&quot; &amp; &#39;B&#39;&lt;/b&gt;");
        assert_eq!(percent("day 1\"é.mp4"), "day%201%22%C3%A9.mp4");
    }
}
