//! Running a program and seeing what it took.

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use super::Outcome;

#[derive(Debug, Clone, Copy)]
pub struct Cost {
    pub wall_s: f64,
    /// User and system time.
    pub cpu_s: f64,
    /// The most memory it held, MB (1,000,000 bytes).
    pub peak_mb: f64,
}

/// Run `command` to its end; one that fails is an error with what it said.
pub fn of(command: &mut Command) -> Outcome<Cost> {
    let (before_s, began) = (children_cpu_s()?, Instant::now());
    let mut child = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::piped()).spawn()?;
    let status = format!("/proc/{}/status", child.id());
    let mut peak_kb = 0.0f64;
    let ended = loop {
        if let Some(ended) = child.try_wait()? {
            break ended;
        }
        // The kernel keeps the high-water mark itself: a look now and then loses only what comes after it.
        if let Ok(text) = std::fs::read_to_string(&status) {
            let line = text.lines().find_map(|l| l.strip_prefix("VmHWM:"));
            let kb = line.and_then(|l| l.trim().split(' ').next()?.parse::<f64>().ok());
            peak_kb = peak_kb.max(kb.unwrap_or(0.0));
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    let wall_s = began.elapsed().as_secs_f64();
    if !ended.success() {
        let mut said = String::new();
        if let Some(mut out) = child.stderr.take() {
            std::io::Read::read_to_string(&mut out, &mut said)?;
        }
        return Err(format!("{command:?}: {ended}\n{said}").into());
    }
    Ok(Cost { wall_s, cpu_s: children_cpu_s()? - before_s, peak_mb: peak_kb * 1024.0 / 1e6 })
}

/// Processor time of all ended children, s: fields 16 and 17 of proc(5), in ticks of 10 ms.
fn children_cpu_s() -> Outcome<f64> {
    let stat = std::fs::read_to_string("/proc/self/stat")?;
    let after_name = stat.rsplit(')').next().unwrap_or_default();
    let ticks: Vec<f64> =
        after_name.split_whitespace().skip(13).take(2).filter_map(|f| f.parse().ok()).collect();
    Ok(ticks.iter().sum::<f64>() / 100.0)
}
