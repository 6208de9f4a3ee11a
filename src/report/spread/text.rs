//! The spread as a table for a terminal.

use crate::ground::{Measure, RepSpread, words};

pub fn spread_text(spread: &RepSpread) -> String {
    let name = |i: usize| {
        words::lesson::rep_named(i, spread.reps.get(i).map(|r| r.clip.as_path()).unwrap_or("".as_ref()))
    };
    let mut lines = vec![format!("{}.", words::lesson::counted(spread.counted, spread.reps.len()))];
    if let Some(nearest) = spread.nearest {
        lines.push(format!("{}.", words::lesson::nearest_named(&name(nearest))));
    }
    match &spread.odd {
        Some(odd) => {
            lines.push(format!("{}:", words::lesson::odd_named(&name(odd.rep))));
            lines.extend(odd.by.iter().map(|s| format!("  {}", words::lesson::strays(s))));
        }
        None if spread.counted >= 5 => lines.push(words::lesson::NONE_ODD.to_owned()),
        None => (),
    }
    lines.push(String::new());
    let line = |cells: [&str; 5]| {
        let [name, reps, mean, sd, real] = cells;
        format!("  {name:<32} {reps:>4}  {mean:>20}  {sd:>22}   {real}")
    };
    lines.push(line(["", "reps", "mean", "differ by (SD)", words::lesson::REAL_CHANGE]));
    for m in &spread.measures {
        let of = |v: f64| words::lesson::amount(m.unit, v);
        let pm = m
            .mean_plus_minus
            .unwrap_or_else(|| m.values.iter().flatten().map(|v| v.1).sum::<f64>() / m.reps.max(1) as f64);
        let mean = words::value(m.measure, &Measure { value: m.mean, plus_minus: pm, unit: m.unit });
        let sd = match (m.sd, m.sd_between) {
            (Some(sd), Some((low, high))) => words::lesson::between(m.unit, sd, low, high),
            _ => words::lesson::TOO_FEW.to_owned(),
        };
        let real = m.real_change.map_or_else(String::new, |r| r.map(of).join(" / "));
        lines.push(line([words::measure(m.measure), &m.reps.to_string(), &mean, &sd, &real]));
    }
    lines.join("\n")
}
