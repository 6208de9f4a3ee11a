//! The reps of a long recording.

pub(crate) const MET: &str = "ball hit";
pub(crate) const NOT_MET: &str = "no ball heard or seen";

pub(crate) fn reported(reps: usize, duration_s: f64) -> String {
    match reps {
        0 => format!("No swing in {}.", clock(duration_s)),
        1 => format!("1 swing in {}.", clock(duration_s)),
        n => format!("{n} swings in {}.", clock(duration_s)),
    }
}

/// "3:07.42 ± 5 ms".
pub fn contact(at_s: Option<f64>, plus_minus_s: Option<f64>) -> String {
    match (at_s, plus_minus_s) {
        (Some(at_s), Some(pm)) => format!("{} ± {:.0} ms", clock(at_s), (pm * 1000.0).max(1.0)),
        _ => "contact not found".to_owned(),
    }
}

/// Minutes and seconds: "3:07.42".
pub fn clock(seconds: f64) -> String {
    let hundredths = (seconds * 100.0).round().max(0.0) as u64;
    format!("{}:{:02}.{:02}", hundredths / 6000, hundredths / 100 % 60, hundredths % 100)
}

pub(crate) fn dropped(times_s: &[f64]) -> String {
    let list: Vec<String> = times_s.iter().take(8).map(|t| clock(*t)).collect();
    let more = if times_s.len() > 8 { format!(" and {} more", times_s.len() - 8) } else { String::new() };
    format!("Looked like a swing but could not be read as one: {}{more}.", list.join(", "))
}

#[cfg(test)]
mod tests {
    #[test]
    fn times_are_read_as_minutes_and_seconds() {
        assert_eq!([0.0, 59.999, 187.424].map(super::clock), ["0:00.00", "1:00.00", "3:07.42"]);
    }
}
