//! The traits of every explanation of made-up, recorded and hand-marked swings, one line each: what the weights in
//! `swing/params.rs` were fitted on (pairwise logistic regression, weights not below zero, groups ending in `_set` alone).
//! `cargo run --release --example explain_traits > traits.tsv`

mod swings;

use swingpair::swing::{self, HandDirection, SwingInput, TRAITS};
use swings::Truth;

/// The hands are fastest so long before contact at most, and so long after it, s.
const FASTEST_S: (f64, f64) = (0.13, 0.02);

fn main() -> Result<(), Box<dyn std::error::Error>> {
    println!("group\tid\ttoward\tfastest_s\tright\tscore\t{}", TRAITS.map(|t| t.0).join("\t"));
    let mut all = swings::made_up(0..240);
    all.extend(swings::recorded()?);
    all.extend(swings::labelled()?);
    for s in &all {
        let times: Vec<f64> = s.track.poses.iter().map(|p| p.time_s).collect();
        let Ok(found) = swing::why(&SwingInput::new(&s.track, &times, 1280.0)) else {
            eprintln!("{} {}: no explanation", s.group, s.id);
            continue;
        };
        for why in found {
            let stretch = &why.explanation.stretch;
            let toward = match stretch.toward {
                HandDirection::Right => 1.0,
                HandDirection::Left => -1.0,
                HandDirection::Any => 0.0,
            };
            let right = match s.truth {
                Truth::Swing { forward, contact_s } => {
                    forward == toward
                        && (contact_s - FASTEST_S.0..contact_s + FASTEST_S.1).contains(&stretch.fastest_s)
                }
                Truth::Faces(forward) => forward == toward,
                Truth::Along => false,
            };
            let traits: Vec<String> = why.explanation.traits.iter().map(|v| format!("{v:.3}")).collect();
            println!(
                "{}\t{}\t{toward}\t{:.3}\t{}\t{:.2}\t{}",
                s.group,
                s.id,
                stretch.fastest_s,
                u8::from(right),
                why.score,
                traits.join("\t")
            );
        }
    }
    Ok(())
}
