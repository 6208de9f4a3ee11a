//! The sheet as a PNG, and as a PDF page that holds the PNG's own compressed rows.

use image::{ExtendedColorType, ImageEncoder, codecs::png::PngEncoder};

use super::DOTS_A_MM;
use crate::draw::rgb_from_frame;
use crate::messages::output as messages;
use crate::types::{Error, Frame, Result};

/// 8-bit RGB.
pub fn png_from_frame(frame: &Frame) -> Result<Vec<u8>> {
    let (width, height) = (frame.width() as u32, frame.height() as u32);
    let mut out = Vec::new();
    PngEncoder::new(&mut out)
        .write_image(&rgb_from_frame(frame), width, height, ExtendedColorType::Rgb8)
        .map_err(|e| Error::Internal(messages::png_failed(&e)))?;
    Ok(out)
}

/// Size and the concatenated image data of an 8-bit RGB PNG (ISO/IEC 15948: length, name, data, check sum).
fn rows_of(png: &[u8]) -> Option<(u32, u32, Vec<u8>)> {
    let number = |at: usize| png.get(at..at + 4)?.try_into().ok().map(u32::from_be_bytes);
    let (width, height) = (number(16)?, number(20)?);
    // Depth, colour type, compression, filter, interlace.
    if png.get(24..29)? != [8, 2, 0, 0, 0] {
        return None;
    }
    let (mut at, mut data) = (8, Vec::new());
    while let Some(length) = number(at) {
        let length = length as usize;
        let content = png.get(at + 8..at + 8 + length)?;
        if png.get(at + 4..at + 8)? == b"IDAT" {
            data.extend_from_slice(content);
        }
        at += length + 12;
    }
    Some((width, height, data))
}

/// One page as large as the picture at 200 dots an inch. A PDF reader undoes a PNG's row filters itself
/// (predictor 15, ISO 32000-1 §7.4.4.4), so that nothing is coded anew. Nothing is said of when or by whom.
pub fn pdf_from_png(png: &[u8]) -> Result<Vec<u8>> {
    let (width, height, data) = rows_of(png).ok_or_else(|| Error::Internal(messages::PDF_FAILED.into()))?;
    let points = |px: u32| f64::from(px) / DOTS_A_MM / 25.4 * 72.0;
    let (w, h) = (points(width), points(height));
    let draw = format!("q {w:.3} 0 0 {h:.3} 0 0 cm /S Do Q");
    let objects: [(String, &[u8]); 5] = [
        ("<< /Type /Catalog /Pages 2 0 R >>".to_owned(), &[]),
        ("<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_owned(), &[]),
        (
            format!(
                "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {w:.3} {h:.3}] \
                 /Resources << /XObject << /S 5 0 R >> >> /Contents 4 0 R >>"
            ),
            &[],
        ),
        (format!("<< /Length {} >>", draw.len()), draw.as_bytes()),
        (
            format!(
                "<< /Type /XObject /Subtype /Image /Width {width} /Height {height} /ColorSpace /DeviceRGB \
                 /BitsPerComponent 8 /Filter /FlateDecode /DecodeParms << /Predictor 15 /Colors 3 \
                 /BitsPerComponent 8 /Columns {width} >> /Length {} >>",
                data.len()
            ),
            &data,
        ),
    ];
    let mut out = b"%PDF-1.4\n%\xE2\xE3\xCF\xD3\n".to_vec();
    let mut places = Vec::new();
    for (i, (head, stream)) in objects.iter().enumerate() {
        places.push(out.len());
        out.extend(format!("{} 0 obj\n{head}\n", i + 1).as_bytes());
        if !stream.is_empty() {
            out.extend(b"stream\n");
            out.extend(*stream);
            out.extend(b"\nendstream\n");
        }
        out.extend(b"endobj\n");
    }
    let table = out.len();
    out.extend(format!("xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1).as_bytes());
    for place in places {
        out.extend(format!("{place:010} 00000 n \n").as_bytes());
    }
    let size = objects.len() + 1;
    out.extend(format!("trailer\n<< /Size {size} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF\n").as_bytes());
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_holds_the_pictures_rows_and_its_table_points_at_them() {
        let png = png_from_frame(&Frame::black(40, 30)).unwrap();
        let (w, h, rows) = rows_of(&png).unwrap();
        assert_eq!((w, h), (40, 30));
        let pdf = pdf_from_png(&png).unwrap();
        assert!(pdf.windows(rows.len()).any(|p| p == rows));
        let text = String::from_utf8_lossy(&pdf).into_owned();
        assert!(text.contains("/MediaBox [0 0 14.400 10.800]"), "{text}");
        let table: usize =
            text.rsplit("startxref\n").next().unwrap().lines().next().unwrap().parse().unwrap();
        assert!(pdf[table..].starts_with(b"xref\n0 6\n"));
        let entries = String::from_utf8(pdf[table..table + 9 + 20 * 6].to_vec()).unwrap();
        for (i, line) in entries.lines().skip(3).enumerate() {
            let at: usize = line[..10].parse().unwrap();
            assert!(pdf[at..].starts_with(format!("{} 0 obj", i + 1).as_bytes()), "{line}");
        }
        assert!(pdf_from_png(b"no picture").is_err());
    }
}
