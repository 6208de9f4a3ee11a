//! Films, and what is read of them.

use std::error::Error;
use std::path::Path;

use swingpair::demo::{Scenario, Truth, film, truth_path};
use swingpair::reading::{ReadOptions, read};
use swingpair::types::{Cancel, NoProgress};

use super::rows::{Case, Outcome, Row, Seen, judged};

/// With `kept` the points seen before are taken from the sidecars.
pub fn row(case: Case, folder: &Path, kept: bool) -> Result<Row, Box<dyn Error>> {
    let Case { share, scenario } = case;
    let clip = folder.join(&scenario.name).with_extension("mp4");
    let truth = filmed(&scenario, &clip)?;
    let options =
        ReadOptions { height_cm: Some(scenario.hitter.height_cm), fresh: !kept, ..ReadOptions::default() };
    let outcome = match read(&clip, &options, &NoProgress, &Cancel::default()) {
        Ok(read) => judged(&truth, Seen::of_film(read.reading)),
        Err(e) => Outcome::NotFound(e.to_string()),
    };
    eprintln!("{}", scenario.name);
    Ok(Row { share, scenario, truth, outcome })
}

/// The film's truth; filmed only when what lies there is not this scenario's.
fn filmed(scenario: &Scenario, clip: &Path) -> Result<Truth, Box<dyn Error>> {
    // The scenario itself is kept beside the film: what is seen may change while the truth does not.
    let planned = clip.with_extension("scenario.json");
    let plan = serde_json::to_vec(scenario)?;
    if clip.exists() && truth_path(clip).exists() && std::fs::read(&planned).ok().as_deref() == Some(&plan) {
        return Ok(Truth::of(scenario));
    }
    let truth = film(scenario, clip, &NoProgress, &Cancel::default())?;
    std::fs::write(planned, plan)?;
    Ok(truth)
}
