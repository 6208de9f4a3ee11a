//! Several lines of text: where they break, and what gives way when there is no room.

use super::{Align, Letters, Style, composed};
use crate::draw::Canvas;
use crate::types::{Point, Result};

impl Letters {
    /// Break at spaces so that no line is wider than `width_px`; a longer word stands alone.
    pub fn wrap(&self, text: &str, style: Style, width_px: f64) -> Result<Vec<String>> {
        let mut lines: Vec<String> = Vec::new();
        // Here too, so that a line that is cut never loses an accent alone.
        for word in composed(text).split_whitespace() {
            if let Some(last) = lines.last_mut() {
                let longer = format!("{last} {word}");
                if self.width(&longer, style)? <= width_px {
                    *last = longer;
                    continue;
                }
            }
            lines.push(word.to_owned());
        }
        Ok(lines)
    }

    /// Wrap into at most `max_lines` of `width_px`, shrinking down to `min_cap_px` where needed.
    /// What still does not fit is cut and ends with "…".
    pub fn fit(
        &self,
        text: &str,
        style: Style,
        width_px: f64,
        max_lines: usize,
        min_cap_px: f64,
    ) -> Result<(Style, Vec<String>)> {
        let mut style = style;
        loop {
            let lines = self.wrap(text, style, width_px)?;
            let mut fits = lines.len() <= max_lines.max(1);
            for line in &lines {
                fits = fits && self.width(line, style)? <= width_px;
            }
            if fits {
                return Ok((style, lines));
            }
            if style.cap_px <= min_cap_px {
                return Ok((style, self.cut(&lines, style, width_px, max_lines.max(1))?));
            }
            style.cap_px = (style.cap_px * 0.94).max(min_cap_px);
        }
    }

    fn cut(&self, lines: &[String], style: Style, width_px: f64, max_lines: usize) -> Result<Vec<String>> {
        let too_many = lines.len() > max_lines;
        let (whole, rest) = lines.split_at(lines.len().min(max_lines.max(1) - 1));
        // The last line goes on with what follows, as far as there is room.
        let mut kept: Vec<String> = whole.to_vec();
        kept.push(rest.join(" "));
        let last = kept.len().saturating_sub(1);
        for (i, line) in kept.iter_mut().enumerate() {
            let mut dots = too_many && i == last;
            let mut chars: Vec<char> = line.chars().collect();
            loop {
                let text: String = chars.iter().collect();
                let shown = if dots { format!("{}…", text.trim_end()) } else { text };
                if chars.is_empty() || self.width(&shown, style)? <= width_px {
                    *line = shown;
                    break;
                }
                chars.pop();
                dots = true;
            }
        }
        Ok(kept)
    }

    /// Several lines, the first one's baseline at `at`. Gives the baseline after the last.
    pub fn draw_lines(
        &self,
        canvas: &mut Canvas,
        lines: &[String],
        at: Point,
        style: Style,
        align: Align,
    ) -> Result<f64> {
        let mut y = at.y;
        for line in lines {
            self.draw(canvas, line, Point::new(at.x, y), style, align)?;
            y += style.leading_px();
        }
        Ok(y)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::theme;

    const STYLE: Style = Style::semibold(20.0, theme::TEXT);

    #[test]
    fn a_name_that_is_cut_fills_its_room() {
        let letters = Letters::new().unwrap();
        let room = letters.width("Zoë Fairwea…", STYLE).unwrap() + 1.0;
        let (_, lines) = letters.fit("Zoë Fairweather", STYLE, room, 1, STYLE.cap_px).unwrap();
        assert_eq!(lines, ["Zoë Fairwea…"]);
        let (_, lines) = letters.fit("one two three four five six", STYLE, room, 2, STYLE.cap_px).unwrap();
        assert!(lines.len() == 2 && lines[1].chars().count() > 8 && lines[1].ends_with('…'), "{lines:?}");
    }

    #[test]
    fn text_wraps_within_its_width() {
        let letters = Letters::new().unwrap();
        let text = "the hands moved down to the ball and the front knee stayed firm through contact";
        let lines = letters.wrap(text, STYLE, 300.0).unwrap();
        assert!(lines.len() > 2);
        for line in &lines {
            assert!(letters.width(line, STYLE).unwrap() <= 300.0);
        }
        assert_eq!(lines.join(" "), text);
    }

    #[test]
    fn long_text_shrinks_then_is_cut() {
        let letters = Letters::new().unwrap();
        let (style, lines) = letters.fit("Front-foot plant", STYLE, 170.0, 1, 10.0).unwrap();
        assert!(style.cap_px < 20.0 && lines.len() == 1 && !lines[0].ends_with('…'));
        let (style, lines) = letters.fit("Bartholomewlongname", STYLE, 60.0, 1, 15.0).unwrap();
        assert_eq!(style.cap_px, 15.0);
        assert!(lines[0].ends_with('…'));
        assert!(letters.width(&lines[0], style).unwrap() <= 60.0);
    }
}
