//! A drawn stick hitter with a made-up swing, for tests of the look. Times from contact, s; places in
//! body heights, x toward the pitcher, y up. Also included by the golden tests, hence `super::`.

use super::draw::{Canvas, Rgb};
use super::types::{
    ClipFacts, Cutout, Cutouts, Difference, Event, EventId, Events, FilmedAlike, Filming, FilmingChange,
    Frame, Hitter, Knot, Measure, MeasureId, Measures, Pairing, Part, PitcherSide, Point, Pose, Reading,
    Registration, Scale, Seen, Side, Similarity, Source, Spot, SyncOn, TimeMap, Track, Unit, UsualFrom,
    Verdict, View,
};

/// A part and where it is, body heights.
type Placed = (Part, f64, f64);

/// One made-up swing and the camera that sees it.
pub struct Hit {
    pub size: (usize, usize),
    pub body_px: f64,
    pub feet: Point,
    pub rate_hz: f64,
    pub contact_s: f64,
    /// How early the front foot plants, s before contact.
    pub plant_s: f64,
    pub head_drift: f64,
    pub dip: f64,
    pub ground: Rgb,
    pub sky: Rgb,
}

pub fn today() -> Hit {
    Hit {
        size: (1080, 1920),
        body_px: 760.0,
        feet: Point::new(500.0, 1450.0),
        rate_hz: 240.0,
        contact_s: 1.6,
        plant_s: 0.15,
        head_drift: 0.07,
        dip: 0.0,
        ground: Rgb(96, 110, 78),
        sky: Rgb(150, 165, 178),
    }
}

pub fn reference() -> Hit {
    Hit {
        size: (1920, 1080),
        body_px: 640.0,
        feet: Point::new(900.0, 930.0),
        rate_hz: 120.0,
        contact_s: 2.1,
        plant_s: 0.18,
        head_drift: 0.02,
        dip: 0.05,
        ground: Rgb(150, 120, 90),
        sky: Rgb(60, 72, 84),
    }
}

/// The part of a picture that a panel shows.
pub fn cut_out(picture: &Frame, cut: super::media::Cut) -> Frame {
    let part = super::types::Rect::new(cut.x as f64, cut.y as f64, cut.width as f64, cut.height as f64);
    super::draw::resize(picture, part, cut.size.0, cut.size.1, Rgb(0, 0, 0))
}

fn keyed(keys: &[(f64, f64)], t: f64) -> f64 {
    let i = keys.partition_point(|k| k.0 <= t);
    if i == 0 {
        return keys[0].1;
    }
    let Some(&(t1, v1)) = keys.get(i) else { return keys[keys.len() - 1].1 };
    let (t0, v0) = keys[i - 1];
    let s = (t - t0) / (t1 - t0);
    v0 + (v1 - v0) * s * s * (3.0 - 2.0 * s)
}

impl Hit {
    pub fn seconds(&self) -> f64 {
        self.contact_s + 0.9
    }

    fn events(&self) -> Events {
        let p = -self.plant_s;
        let times = [
            (EventId::Stance, p - 0.9),
            (EventId::Load, p - 0.55),
            (EventId::FootOff, p - 0.42),
            (EventId::Touch, p - 0.04),
            (EventId::Plant, p),
            (EventId::HandsStart, -0.14),
            (EventId::Contact, 0.0),
            (EventId::Extension, 0.07),
            (EventId::Finish, 0.36),
        ];
        let event = |t: f64| {
            let time_s = self.contact_s + t;
            let frame = (time_s * self.rate_hz).round() as usize;
            Event { time_s, plus_minus_s: 0.015, frame, source: Source::Motion, confidence: 0.9 }
        };
        times.into_iter().map(|(id, t)| (id, event(t))).collect()
    }

    /// Every part at real time `time_s`, body heights, and the bat's tip.
    fn body(&self, time_s: f64) -> (Vec<Placed>, (f64, f64)) {
        let t = time_s - self.contact_s;
        let p = -self.plant_s;
        let hip = keyed(&[(p - 0.7, -0.04), (p - 0.5, -0.1), (p, 0.06), (0.0, 0.1), (0.3, 0.13)], t);
        let head = keyed(&[(p - 0.7, -0.05), (p - 0.45, -0.09), (p, 0.0), (0.0, self.head_drift)], t);
        let front = keyed(&[(p - 0.42, 0.18), (p - 0.03, 0.36)], t);
        let lift = keyed(&[(p - 0.42, 0.0), (p - 0.25, 0.1), (p, 0.0)], t);
        let back_lift = keyed(&[(-0.06, 0.0), (0.05, 0.04), (0.3, 0.06)], t);
        let hx = keyed(
            &[
                (p - 0.6, -0.16),
                (p, -0.25),
                (-0.14, -0.26),
                (-0.07, -0.1),
                (0.0, 0.27),
                (0.07, 0.5),
                (0.2, 0.2),
                (0.36, -0.12),
            ],
            t,
        );
        let hy = keyed(
            &[
                (p - 0.6, 0.80),
                (-0.14, 0.82 + self.dip),
                (-0.07, 0.70),
                (0.0, 0.56),
                (0.07, 0.60),
                (0.2, 0.88),
                (0.36, 0.86),
            ],
            t,
        );
        let bat = keyed(
            &[(-0.14, 115.0), (-0.07, 190.0), (0.0, 350.0), (0.07, 380.0), (0.2, 480.0), (0.36, 590.0)],
            t,
        )
        .to_radians();
        let (sl, sr) = ((hip + head) / 2.0 + 0.09, (hip + head) / 2.0 - 0.09);
        let knee = |foot: f64, up: f64, side: f64| ((hip + side + foot) / 2.0 + 0.03, 0.27 + up / 2.0);
        let (fk, bk) = (knee(front, lift, 0.05), knee(-0.2, back_lift, -0.05));
        let parts = vec![
            (Part::Nose, head + 0.05, 0.91),
            (Part::LeftEye, head + 0.03, 0.94),
            (Part::RightEye, head + 0.02, 0.94),
            (Part::LeftEar, head, 0.93),
            (Part::RightEar, head - 0.02, 0.93),
            (Part::LeftShoulder, sl, 0.80),
            (Part::RightShoulder, sr, 0.80),
            (Part::LeftElbow, (sl + hx) / 2.0 + 0.03, (0.8 + hy) / 2.0 - 0.08),
            (Part::RightElbow, (sr + hx) / 2.0 - 0.06, (0.8 + hy) / 2.0 - 0.09),
            (Part::LeftWrist, hx - 0.01, hy - 0.02),
            (Part::RightWrist, hx + 0.01, hy + 0.01),
            (Part::LeftHand, hx, hy),
            (Part::RightHand, hx + 0.01, hy + 0.02),
            (Part::LeftHip, hip + 0.05, 0.52),
            (Part::RightHip, hip - 0.05, 0.52),
            (Part::LeftKnee, fk.0, fk.1),
            (Part::RightKnee, bk.0, bk.1),
            (Part::LeftAnkle, front - 0.01, 0.05 + lift),
            (Part::RightAnkle, -0.2, 0.05 + back_lift),
            (Part::LeftHeel, front - 0.04, 0.01 + lift),
            (Part::RightHeel, -0.22, 0.01 + back_lift),
            (Part::LeftToe, front + 0.08, lift),
            (Part::RightToe, -0.12, back_lift * 0.3),
        ];
        (parts, (hx + 0.46 * bat.cos(), hy + 0.46 * bat.sin()))
    }

    fn px(&self, x: f64, y: f64) -> Point {
        Point::new(self.feet.x + x * self.body_px, self.feet.y - y * self.body_px)
    }

    pub fn pose(&self, frame: usize) -> Pose {
        let time_s = frame as f64 / self.rate_hz;
        let mut pose = Pose::empty(frame, time_s);
        let t = time_s - self.contact_s;
        for (part, x, y) in self.body(time_s).0 {
            let blurred = matches!(part, Part::LeftHand | Part::RightHand) && (-0.03..0.01).contains(&t);
            let seen = if blurred { Seen::Inferred } else { Seen::Picture };
            pose.set(part, Some(Spot { at: self.px(x, y), visibility: 0.9, seen }));
        }
        pose
    }

    /// The picture the camera takes.
    pub fn picture(&self, frame: usize) -> Frame {
        let (w, h) = self.size;
        let mut c = Canvas::new(w, h, self.sky);
        let ground = super::types::Rect::new(0.0, self.feet.y - 0.12 * self.body_px, w as f64, h as f64);
        c.fill_block(ground, self.ground);
        let time_s = frame as f64 / self.rate_hz;
        let (parts, tip) = self.body(time_s);
        let at =
            |part: Part| parts.iter().find(|p| p.0 == part).map_or(Point::default(), |p| self.px(p.1, p.2));
        let b = self.body_px;
        let mut limb = |a: Point, z: Point, r: f64, colour: Rgb| {
            c.line(&[a, z], super::draw::Stroke::solid(2.0 * r * b), colour, 1.0);
        };
        use Part::*;
        let (skin, shirt, legs) = (Rgb(190, 140, 110), Rgb(225, 225, 230), Rgb(70, 80, 100));
        for (hip, knee, ankle, toe) in
            [(RightHip, RightKnee, RightAnkle, RightToe), (LeftHip, LeftKnee, LeftAnkle, LeftToe)]
        {
            limb(at(hip), at(knee), 0.06, legs);
            limb(at(knee), at(ankle), 0.045, legs);
            limb(at(ankle), at(toe), 0.03, Rgb(40, 40, 44));
        }
        limb(at(RightShoulder), at(RightHip), 0.07, shirt);
        limb(at(LeftShoulder), at(LeftHip), 0.07, shirt);
        limb(at(LeftHand), self.px(tip.0, tip.1), 0.016, Rgb(205, 170, 110));
        for (s, e, w) in [(RightShoulder, RightElbow, RightWrist), (LeftShoulder, LeftElbow, LeftWrist)] {
            limb(at(s), at(e), 0.04, shirt);
            limb(at(e), at(w), 0.032, skin);
        }
        limb(at(LeftHand), at(RightHand), 0.035, skin);
        let head = at(LeftEar).midpoint(at(Nose));
        c.disc(head, 0.075 * b, skin, 1.0);
        c.disc(head + Point::new(-0.012 * b, -0.02 * b), 0.078 * b, Rgb(30, 50, 110), 1.0);
        c.disc(head + Point::new(0.035 * b, 0.02 * b), 0.045 * b, skin, 1.0);
        c.into_frame()
    }

    /// Which pixels of the picture show the hitter or the bat.
    pub fn silhouette(&self, frame: usize) -> Vec<bool> {
        let picture = self.picture(frame);
        let (w, h) = self.size;
        let luma = |x: usize, y: usize| picture.y.row(y)[x];
        let is = |x: usize, y: usize| luma(x, y).abs_diff(luma(2, y)) > 3;
        (0..h).flat_map(|y| (0..w).map(move |x| (x, y))).map(|(x, y)| is(x, y)).collect()
    }

    /// The hitter cut out of some pictures.
    pub fn cutouts(&self, frames: impl Iterator<Item = usize>) -> Cutouts {
        const SIDE: usize = 256;
        let k = 1.7 * self.body_px / SIDE as f64;
        let corner = self.feet - Point::new(0.5, 0.75) * (k * SIDE as f64);
        let on = Similarity { a: k, b: 0.0, tx: corner.x, ty: corner.y, mirrored: false };
        let look = |frame: usize| {
            let seen = self.silhouette(frame);
            let cover: Vec<u8> = (0..SIDE * SIDE)
                .map(|i| on.apply(Point::new((i % SIDE) as f64 + 0.5, (i / SIDE) as f64 + 0.5)))
                .map(|p| {
                    let inside =
                        p.x >= 0.0 && p.y >= 0.0 && p.x < self.size.0 as f64 && p.y < self.size.1 as f64;
                    if inside && seen[p.y as usize * self.size.0 + p.x as usize] { 255 } else { 0 }
                })
                .collect();
            Cutout::new(frame as f64 / self.rate_hz, on, SIDE, &cover)
        };
        Cutouts { looks: frames.map(look).collect() }
    }

    pub fn frames(&self) -> usize {
        (self.seconds() * self.rate_hz) as usize
    }

    pub fn reading(&self, measures: Measures) -> Reading {
        let n = self.frames();
        Reading {
            schema: Reading::SCHEMA.to_owned(),
            clip: ClipFacts {
                path: "sample.mp4".into(),
                width: self.size.0,
                height: self.size.1,
                frames: n,
                duration_s: self.seconds(),
                rate_hz: self.rate_hz,
                capture_rate_hz: self.rate_hz,
                slow_factor: 1.0,
            },
            hitter: Hitter { bats: Side::Right, pitcher_side: PitcherSide::Right, view: View::OpenSide },
            scale: Scale {
                body_height_px: self.body_px,
                body_height_error: 0.03,
                px_per_cm: None,
                px_per_cm_error: 0.0,
            },
            events: self.events(),
            measures,
            absent: Default::default(),
            warnings: Vec::new(),
            track: Track { poses: (0..n).map(|i| self.pose(i)).collect() },
            camera: Default::default(),
            ball: None,
            scene: None,
        }
    }
}

fn measures(shift: f64) -> Measures {
    let m = |value, plus_minus, unit| Measure { value, plus_minus, unit };
    [
        (MeasureId::PlantToContact, m(150.0 + 30.0 * shift, 11.0, Unit::Ms)),
        (MeasureId::StrideLength, m(0.31 + 0.01 * shift, 0.02, Unit::BodyHeights)),
        (MeasureId::HeadTravelPlantToContact, m(0.07 - 0.05 * shift, 0.009, Unit::BodyHeights)),
        (MeasureId::FirstHandTravelDirection, m(12.0 - 19.0 * shift, 4.0, Unit::Deg)),
        (MeasureId::FrontKneeAtContact, m(161.0 + 4.0 * shift, 5.0, Unit::Deg)),
        (MeasureId::BackFootLiftAtContact, m(0.02 + 0.01 * shift, 0.012, Unit::BodyHeights)),
    ]
    .into_iter()
    .collect()
}

/// Today's reading, the reference's, and the two paired on plant.
pub fn pair() -> (Reading, Reading, Pairing) {
    let (t, r) = (today(), reference());
    let (mt, mr) = (measures(0.0), measures(1.0));
    let differences = mt
        .iter()
        .filter_map(|(id, a)| Some((*id, *a, *mr.get(id)?)))
        .map(|(measure, today, reference)| {
            let (difference, plus_minus) =
                (today.value - reference.value, today.plus_minus.hypot(reference.plus_minus));
            let verdict = match difference.abs() / plus_minus {
                k if k >= 1.5 => Verdict::Bigger,
                k if k >= 1.0 => Verdict::CantTell,
                _ => Verdict::Within,
            };
            Difference {
                measure,
                today,
                reference,
                difference,
                plus_minus,
                needed: Some(1.5 * plus_minus),
                verdict,
                limit: None,
                settle: None,
                usual_sd: 1.0,
                usual_from: UsualFrom::Estimated,
                spread: None,
            }
        })
        .collect();
    let k = t.body_px / r.body_px;
    let reference_to_today =
        Similarity { a: k, tx: t.feet.x - k * r.feet.x, ty: t.feet.y - k * r.feet.y, ..Similarity::IDENTITY };
    let (today, reference) = (t.reading(mt), r.reading(mr));
    let plant = EventId::Plant;
    let knot = Knot {
        event: plant,
        today_s: today.events[&plant].time_s,
        reference_s: reference.events[&plant].time_s,
    };
    let pairing = Pairing {
        sync: SyncOn::Event(plant),
        time_map: TimeMap { zero: plant, knots: vec![knot] },
        registration: Some(Registration {
            reference_to_today,
            residual_px: 4.0,
            residual_body_heights: 0.005,
            points: 12,
        }),
        why_no_registration: None,
        differences,
        one_sided: Vec::new(),
        good_reps: None,
        filmed: FilmedAlike { filming: Filming::Otherwise, changes: vec![FilmingChange::Rate] },
    };
    (today, reference, pairing)
}
