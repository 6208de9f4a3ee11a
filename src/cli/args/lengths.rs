//! Lengths as people say them: 178, 178cm, 1.78m, 70in, 5'10", 5ft10in.

use super::values::number;

/// Exact since 1959.
const CM_AN_INCH: f64 = 2.54;
const INCHES_A_FOOT: f64 = 12.0;

/// cm; a bare number is cm.
pub fn cm(text: &str) -> Result<f64, String> {
    length(text, 1.0)
}

/// m; a bare number is m.
pub fn meters(text: &str) -> Result<f64, String> {
    length(text, 100.0).map(|cm| cm / 100.0)
}

fn length(text: &str, bare_cm: f64) -> Result<f64, String> {
    let plain: String =
        text.trim().to_lowercase().replace(['’', '′'], "'").replace(['”', '″'], "\"").replace("''", "\"");
    let wrong = |_| format!("{text:?} is not a length; write it as 178cm, 1.78m, 70in or 5'10\"");
    let of = |number_text: &str, each_cm: f64| number(number_text).map(|v| v * each_cm).map_err(wrong);
    for (foot, inch) in [("'", "\""), ("ft", "in")] {
        if let Some((feet, rest)) = plain.split_once(foot) {
            let rest = rest.trim().trim_end_matches(inch).trim();
            let inches = if rest.is_empty() { 0.0 } else { of(rest, 1.0)? };
            return Ok((of(feet, INCHES_A_FOOT)? + inches) * CM_AN_INCH);
        }
    }
    for (unit, each_cm) in [("cm", 1.0), ("in", CM_AN_INCH), ("\"", CM_AN_INCH), ("m", 100.0)] {
        if let Some(number_text) = plain.strip_suffix(unit) {
            return of(number_text, each_cm);
        }
    }
    of(&plain, bare_cm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_length_is_one_however_it_is_typed() {
        for text in ["69in", "5'9\"", "5ft 9in", "175.26cm", "1.7526m", "175.26", "5’9”", "69\"", "5' 9"]
        {
            assert!((cm(text).unwrap() - 175.26).abs() < 1e-9, "{text}: {:?}", cm(text));
        }
        assert!((meters("16ft").unwrap() - 4.8768).abs() < 1e-9);
        assert_eq!((meters("5"), cm("17in")), (Ok(5.0), Ok(43.18)));
        for bad in ["", "tall", "5'x\"", "in", "nan", "6'1\"2"] {
            assert!(cm(bad).is_err(), "{bad}");
        }
    }
}
