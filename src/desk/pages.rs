//! The page and all that it is made of: nothing is fetched from anywhere else.

use axum::http::header;
use axum::response::{IntoResponse, Response};

use crate::draw::{Rgb, theme};

const HTML: &str = "text/html; charset=utf-8";
const CSS: &str = "text/css; charset=utf-8";
const JS: &str = "text/javascript; charset=utf-8";

/// Address, kind and content of each file.
pub const FILES: [(&str, &str, &str); 18] = [
    ("/", HTML, include_str!("page/index.html")),
    ("/desk.css", CSS, include_str!("page/desk.css")),
    ("/icon.svg", "image/svg+xml", include_str!("page/icon.svg")),
    ("/main.js", JS, include_str!("page/main.js")),
    ("/api.js", JS, include_str!("page/api.js")),
    ("/words.js", JS, include_str!("page/words.js")),
    ("/build.js", JS, include_str!("page/build.js")),
    ("/reps.js", JS, include_str!("page/reps.js")),
    ("/pair.js", JS, include_str!("page/pair.js")),
    ("/view.js", JS, include_str!("page/view.js")),
    ("/timeline.js", JS, include_str!("page/timeline.js")),
    ("/mark.js", JS, include_str!("page/mark.js")),
    ("/units.js", JS, include_str!("page/units.js")),
    ("/findings.js", JS, include_str!("page/findings.js")),
    ("/voice.js", JS, include_str!("page/voice.js")),
    ("/swings.js", JS, include_str!("page/swings.js")),
    ("/lesson.js", JS, include_str!("page/lesson.js")),
    ("/make.js", JS, include_str!("page/make.js")),
];

/// The video's own letters.
pub const FONTS: [(&str, &[u8]); 2] = [
    ("/semibold.ttf", include_bytes!("../../fonts/OpenSans-Semibold.ttf")),
    ("/bold.ttf", include_bytes!("../../fonts/OpenSans-Bold.ttf")),
];

pub fn font(bytes: &'static [u8]) -> Response {
    ([(header::CONTENT_TYPE, "font/ttf"), (header::CACHE_CONTROL, "private, max-age=3600")], bytes)
        .into_response()
}

pub fn file(kind: &'static str, content: &'static str) -> Response {
    ([(header::CONTENT_TYPE, kind)], content).into_response()
}

fn hex(Rgb(r, g, b): Rgb) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// Shades that a light page needs beside the video's own: the same hues, dark enough on white (WCAG 2.2, 4.5 : 1).
const LIGHT: [(&str, Rgb); 8] = [
    ("ground", Rgb(0xF4, 0xF5, 0xF6)),
    ("raised", Rgb(0xFF, 0xFF, 0xFF)),
    ("rule", Rgb(0xC9, 0xD0, 0xD7)),
    ("ink", Rgb(0x13, 0x16, 0x1A)),
    ("quiet", Rgb(0x4A, 0x53, 0x5C)),
    ("today", Rgb(0x8F, 0x4E, 0x00)),
    ("reference", Rgb(0x00, 0x5C, 0x93)),
    ("apart", Rgb(0x6B, 0x60, 0x00)),
];

/// The theme's colors, dark and light, as a stylesheet.
pub fn theme_css() -> Response {
    let dark = [
        ("ground", theme::GROUND),
        ("raised", theme::RAISED),
        ("rule", theme::RULE),
        ("ink", theme::TEXT),
        ("quiet", theme::QUIET),
        ("today", theme::TODAY),
        ("reference", theme::REFERENCE),
        ("apart", theme::APART),
    ];
    let set = |colors: &[(&str, Rgb)]| {
        colors.iter().map(|(name, color)| format!("--{name}:{};", hex(*color))).collect::<String>()
    };
    let text = format!(
        ":root{{color-scheme:dark light;{}}}\n@media(prefers-color-scheme:light){{:root{{{}}}}}\n",
        set(&dark),
        set(&LIGHT)
    );
    ([(header::CONTENT_TYPE, CSS)], text).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::contrast;

    #[test]
    fn light_words_can_be_read() {
        let of = |name: &str| LIGHT.iter().find(|(n, _)| *n == name).unwrap().1;
        for ink in ["ink", "quiet", "today", "reference", "apart"] {
            for ground in ["ground", "raised"] {
                assert!(contrast(of(ink), of(ground)) >= 4.5, "{ink} on {ground}");
            }
        }
    }

    /// Nothing is written into the page that its own policy would stop, and nothing is fetched from elsewhere.
    #[test]
    fn the_page_holds_to_its_policy() {
        for (path, _, content) in FILES {
            for word in ["http://", "https://", "style=\"", "onclick=", "innerHTML", "eval("] {
                let own = content.replace("http://www.w3.org/", "");
                assert!(!own.contains(word), "{path} has {word}");
            }
        }
        let html = FILES[0].2;
        assert!(!html.contains("<script>") && !html.contains("<style"));
    }
}
