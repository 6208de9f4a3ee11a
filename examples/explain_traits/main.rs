//! Traits of every explanation of every swing at hand, one line each, for fitting the weights.
mod swings;
use swingpair::ground::{EventId, PitcherSide};
use swingpair::swing::{self, Evidence, TRAITS, Way};
use swings::Truth;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut all = swings::made_up(0..240);
    all.extend(swings::recorded()?);
    all.extend(swings::labelled()?);
    if std::env::args().any(|a| a == "--tracks") {
        use swingpair::ground::Part::*;
        for s in &all {
            let Truth::Swing { forward, contact_s, .. } = s.truth else { continue };
            print!("{}\t{}\t{forward}\t{contact_s}", s.group, s.id);
            for p in &s.track.poses {
                let m = |a: swingpair::ground::Part| p.at(a).unwrap().midpoint(p.at(a.other_side()).unwrap());
                let (h, s, c, e, k) = (m(LeftHand), m(LeftShoulder), m(LeftHip), m(LeftElbow), m(LeftWrist));
                print!(
                    "\t{:.4},{:.2},{:.2},{:.2},{:.2},{:.2},{:.2},{:.2},{:.2},{:.2},{:.2}",
                    p.time_s, h.x, h.y, s.x, s.y, c.x, c.y, e.x, e.y, k.x, k.y
                );
            }
            println!();
        }
        return Ok(());
    }
    let read = std::env::args().any(|a| a == "--read");
    if !read {
        println!("group\tid\tdir\tfastest_s\tlabel\tsc\t{}", TRAITS.map(|t| t.0).join("\t"));
    }
    let mut sums: std::collections::BTreeMap<
        &str,
        (usize, usize, Vec<String>, Vec<String>, Vec<f64>, Vec<f64>, Vec<f64>),
    > = Default::default();
    for s in &all {
        let times: Vec<f64> = s.track.poses.iter().map(|p| p.time_s).collect();
        let evidence = Evidence::new(&s.track, &times, 1280.0);
        if read {
            let sum = sums.entry(s.group).or_default();
            if matches!(s.truth, Truth::Along) {
                match swing::read_swing(&evidence) {
                    Ok(r) => println!("along {} {:?}", s.id, r.hitter),
                    Err(e) => println!("along {} {e}", s.id),
                }
                continue;
            }
            sum.0 += 1;
            match swing::read_swing(&evidence) {
                Ok(r) => {
                    let forward = match s.truth {
                        Truth::Swing { forward, .. } | Truth::Faces(forward) => forward,
                        Truth::Along => 0.0,
                    };
                    let want = if forward > 0.0 { PitcherSide::Right } else { PitcherSide::Left };
                    if r.hitter.pitcher_side == want {
                        sum.1 += 1
                    } else {
                        sum.2.push(format!("{}:{:?}", s.id, r.hitter.pitcher_side))
                    }
                    for w in &r.warnings {
                        if ["explanations_tie", "moment_left_out"].contains(&w.code.as_str()) {
                            sum.3.push(format!("{}:{}", s.id, w.text));
                        }
                    }
                    if let Truth::Swing { contact_s, plant, .. } = s.truth {
                        let c = r
                            .events
                            .get(&EventId::Contact)
                            .map_or(f64::NAN, |e| 1e3 * (e.time_s - contact_s));
                        sum.4.push(c);
                        let p = r.events.get(&EventId::Plant).map_or(f64::NAN, |e| {
                            let t = e.time_s;
                            1e3 * if t < plant.0 {
                                t - plant.0
                            } else if t > plant.1 {
                                t - plant.1
                            } else {
                                0.0
                            }
                        });
                        sum.5.push(p);
                        let h = r
                            .events
                            .get(&EventId::HandsStart)
                            .map_or(f64::NAN, |e| 1e3 * (e.time_s - contact_s));
                        sum.6.push(h);
                        if c.abs() > 25.0 || !(p.abs() < 25.0) {
                            println!("far {} {} contact {c:.0} plant {p:.0}", s.group, s.id);
                        }
                    }
                }
                Err(e) => sum.3.push(format!("{}: REFUSED {e}", s.id)),
            }
            continue;
        }
        let Ok(found) = swing::why(&evidence) else {
            eprintln!("NONE {} {}", s.group, s.id);
            continue;
        };
        for w in found {
            let k = &w.explanation.stretch;
            let forward = match k.toward {
                Way::Right => 1.0,
                Way::Left => -1.0,
                Way::Any => 0.0,
            };
            let right = match s.truth {
                Truth::Swing { forward: f, contact_s, .. } => {
                    f == forward && (contact_s - 0.13..contact_s + 0.02).contains(&k.fastest_s)
                }
                Truth::Faces(f) => f == forward,
                Truth::Along => false,
            };
            let traits: Vec<String> = w.explanation.traits.iter().map(|v| format!("{v:.3}")).collect();
            println!(
                "{}\t{}\t{forward}\t{:.3}\t{}\t{:.2}\t{}",
                s.group,
                s.id,
                k.fastest_s,
                if right { 1 } else { 0 },
                w.explanation.swings,
                traits.join("\t")
            );
        }
    }
    let q = |v: &[f64], q: f64| {
        let mut v: Vec<f64> = v.iter().map(|x| if x.is_nan() { 999.0 } else { x.abs() }).collect();
        v.sort_by(f64::total_cmp);
        v.get(((v.len() as f64 - 1.0) * q) as usize).copied().unwrap_or(0.0)
    };
    let med = |v: &[f64]| {
        let mut v = v.to_vec();
        v.sort_by(f64::total_cmp);
        v.get(v.len() / 2).copied().unwrap_or(0.0)
    };
    for (g, (n, ok, wrong, notes, c, p, h)) in sums {
        println!(
            "{g}: {ok}/{n} wrong {wrong:?}\n   notes {notes:?}\n   contact bias {:.1} 90% {:.1} max {:.1}; plant bias {:.1} 50% {:.1} 90% {:.1} max {:.1}; hands start before contact {:.0} 90% {:.0}",
            med(&c),
            q(&c, 0.9),
            q(&c, 1.0),
            med(&p),
            q(&p, 0.5),
            q(&p, 0.9),
            q(&p, 1.0),
            med(&h),
            q(&h, 0.9)
        );
    }
    Ok(())
}
