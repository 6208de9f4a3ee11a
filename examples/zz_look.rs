use swingpair::demo::*;
use swingpair::ground::*;
fn png(f: &Frame, crop: Option<(u32, u32, u32, u32)>) -> image::RgbImage {
    let (w, h) = (f.width(), f.height());
    let mut img = image::RgbImage::new(w as u32, h as u32);
    for y in 0..h {
        for x in 0..w {
            let l = (f.y.data[y * w + x] as f32 - 16.0) * 255.0 / 219.0;
            let u = (f.u.data[(y / 2) * (w / 2) + x / 2] as f32 - 128.0) * 255.0 / 224.0;
            let v = (f.v.data[(y / 2) * (w / 2) + x / 2] as f32 - 128.0) * 255.0 / 224.0;
            let c = [l + 1.5748 * v, l - 0.1873 * u - 0.4681 * v, l + 1.8556 * u]
                .map(|v| v.clamp(0.0, 255.0) as u8);
            img.put_pixel(x as u32, y as u32, image::Rgb(c));
        }
    }
    match crop {
        Some((x, y, w, h)) => image::imageops::crop(&mut img, x, y, w, h).to_image(),
        None => img,
    }
}
fn main() {
    let args: Vec<String> = std::env::args().collect();
    let mode = args.get(1).map(String::as_str).unwrap_or("plain");
    let mut s = Scenario::new(
        "look",
        Hitter::new("X", if mode.contains("left") { Side::Left } else { Side::Right }, 180.0, 84.0),
    );
    if mode.contains("cage") {
        s.scene.place = Place::Cage;
    }
    if mode.contains("behind") {
        s.camera.view = View::FromBehind;
    }
    if mode.contains("front") {
        s.camera.view = View::FromFront;
    }
    if mode.contains("closed") {
        s.camera.view = View::ClosedSide;
    }
    if mode.contains("kick") {
        let mut d = Dice::new(5);
        s.style = s.style.with_stride(Stride::Kick, &mut d);
    }
    if mode.contains("onehand") {
        s.style.one_hand = true;
    }
    if mode.contains("tee") {
        s.ball = BallSource::Tee;
    }
    if mode.contains("net") {
        s.scene.net_in_front = true;
    }
    if mode.contains("people") {
        s.scene.bystanders = vec![
            Bystander {
                at_m: [-2.0, 4.0],
                walk_m_s: 1.2,
                height_cm: 172.0,
                look: Look { jersey: [180, 60, 50], ..Look::default() },
            },
            Bystander {
                at_m: [1.6, 5.0],
                walk_m_s: 0.0,
                height_cm: 180.0,
                look: Look { jersey: [200, 190, 70], pants: [60, 60, 70], ..Look::default() },
            },
        ];
    }
    if mode.contains("seed") {
        let n: u64 = args[3].parse().unwrap();
        let mut d = Dice::stream(n, 77);
        s.style = Style::varied(&mut d);
        s.timing = Timing::varied(&mut d);
        s.swing_seed = n;
    }
    s.camera.rate_hz = 240.0;
    let t0 = std::time::Instant::now();
    let studio = Studio::new(&s);
    eprintln!("studio {:?}", t0.elapsed());
    let truth = Truth::of(&s);
    let mut tiles = vec![];
    let full = mode.contains("full");
    let ev = [
        EventId::Stance,
        EventId::Load,
        EventId::FootOff,
        EventId::Touch,
        EventId::Plant,
        EventId::HandsStart,
        EventId::Contact,
        EventId::Extension,
        EventId::Finish,
    ];
    let mut list: Vec<f64> = ev.iter().filter_map(|e| truth.at(*e)).collect();
    if mode.contains("swing") {
        list = (0..12).map(|i| s.contact_s - 0.12 + 0.03 * f64::from(i)).collect();
    }
    if mode.contains("blur") {
        s.camera.rate_hz = 30.0;
        s.camera.shutter = 0.5;
    }
    let studio = Studio::new(&s);
    for t in list {
        let i = (t * s.camera.rate_hz).round() as usize;
        let t0 = std::time::Instant::now();
        let f = studio.frame(i);
        eprintln!("{i} {:?}", t0.elapsed());
        if full {
            png(&f, None).save(format!("{}_{i}.png", args[2])).unwrap();
        }
        tiles.push(png(&f, Some((330, 60, 560, 600))));
    }
    if !full {
        let (n, w, h) = (tiles.len() as u32, tiles[0].width(), tiles[0].height());
        let cols = 4.min(n);
        let mut out = image::RgbImage::new(cols * w, n.div_ceil(cols) * h);
        for (i, t) in tiles.iter().enumerate() {
            image::imageops::overlay(
                &mut out,
                t,
                ((i as u32 % cols) * w) as i64,
                ((i as u32 / cols) * h) as i64,
            );
        }
        let out = image::imageops::resize(
            &out,
            out.width() * 3 / 4,
            out.height() * 3 / 4,
            image::imageops::FilterType::Triangle,
        );
        out.save(&args[2]).unwrap();
    }
}
