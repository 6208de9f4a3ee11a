use swingpair::demo::*;
use swingpair::ground::*;
fn main() {
    let mut n = [0usize; 6];
    let mut peaks = vec![];
    let mut ratios = vec![];
    for seed in 0..60u64 {
        let s = scenarios::wide("x", seed, if seed % 2 == 0 { Side::Right } else { Side::Left });
        let w = Swing::of(&s);
        let e = w.events();
        let g = |id| e.get(&id).map_or(f64::NAN, |t| -1000.0 * t);
        let pic = |t: f64| {
            let a = w.pose_at(t + 0.0005).hands();
            let b = w.pose_at(t - 0.0005).hands();
            ((a.x - b.x).powi(2) + (a.z - b.z).powi(2)).sqrt() / 0.001
        };
        let top = |a: i32, b: i32| {
            (a..b).map(|i| (i, pic(i as f64 / 1000.0))).max_by(|x, y| x.1.total_cmp(&y.1)).unwrap()
        };
        let (b, a) = (top(-250, 0), top(5, 400));
        let p3 = (-250..20)
            .max_by(|x, y| w.hand_speed(*x as f64 / 1000.0).total_cmp(&w.hand_speed(*y as f64 / 1000.0)))
            .unwrap();
        peaks.push(p3);
        ratios.push(a.1 / b.1);
        if a.1 > b.1 {
            n[0] += 1
        }
        let mut vmax = 0.0f64;
        let mut worst = (0.0f64, Part::Nose, 0);
        for i in -1900..900 {
            let t = i as f64 / 1000.0;
            let (x, y) = (w.pose_at(t), w.pose_at(t + 0.001));
            for part in PARTS {
                let v = x.at(part).distance(y.at(part)) / 0.001;
                if v > vmax {
                    vmax = v;
                    worst = (v, part, i);
                }
            }
        }
        println!(
            "{seed:2} {:?} load {:.0} off {:.0} touch {:.0} plant {:.0} hands {:.0} (plan {:.0} {:.0} {:.0}) ext {:.0} fin {:.0} peak3d {p3} {:.1} m/s pic before {:.1}@{} after {:.1}@{} bat {:.0} worst {:.1} {:?} {}",
            s.style.stride,
            g(EventId::Load),
            g(EventId::FootOff),
            g(EventId::Touch),
            g(EventId::Plant),
            g(EventId::HandsStart),
            s.timing.touch_s * 1e3,
            s.timing.plant_s * 1e3,
            s.timing.hands_s * 1e3,
            g(EventId::Extension),
            g(EventId::Finish),
            w.hand_speed(p3 as f64 / 1000.0),
            b.1,
            b.0,
            a.1,
            a.0,
            w.bat_velocity().length(),
            worst.0,
            worst.1,
            worst.2
        );
    }
    peaks.sort();
    ratios.sort_by(f64::total_cmp);
    println!(
        "{} faster after; peaks {:?}; ratio q {:.2} {:.2} {:.2}",
        n[0], peaks, ratios[6], ratios[30], ratios[53]
    );
}
