//! The spread as a table for a terminal.

use crate::messages::{self, Captions};
use crate::types::RepSpread;

/// How much reps differ, as a table in words.
pub fn spread_text(words: &Captions, spread: &RepSpread) -> String {
    let name =
        |i: usize| messages::lesson::rep_named(spread.reps.get(i).map_or("".as_ref(), |r| r.clip.as_path()));
    let mut lines = vec![format!("{}.", messages::lesson::counted(spread.counted, spread.reps.len()))];
    if let Some(nearest) = spread.nearest {
        lines.push(format!("{}.", messages::lesson::nearest_named(&name(nearest))));
    }
    match &spread.odd {
        Some(odd) => {
            lines.push(format!("{}:", messages::lesson::odd_named(&name(odd.rep))));
            lines.extend(odd.by.iter().map(|s| format!("  {}", messages::lesson::strays(words, s))));
        }
        None if spread.counted >= 5 => lines.push(messages::lesson::NONE_ODD.to_owned()),
        None => (),
    }
    lines.push(String::new());
    let line = |cells: [&str; 5]| {
        let [name, reps, mean, sd, real] = cells;
        format!("  {name:<32} {reps:>4}  {mean:>20}  {sd:>22}   {real}")
    };
    lines.push(line([
        "",
        messages::lesson::SPREAD_HEAD[1],
        messages::lesson::SPREAD_HEAD[2],
        messages::lesson::SPREAD_HEAD[3],
        messages::lesson::REAL_CHANGE,
    ]));
    for m in &spread.measures {
        let [name, reps, mean, sd, one, three, five] = super::cells(words, m);
        lines.push(line([&name, &reps, &mean, &sd, &format!("{one} / {three} / {five}")]));
    }
    lines.join("\n")
}
