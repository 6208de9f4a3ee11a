use super::params::LONGEST_ABSENCE_S;
use std::sync::Arc;

use crate::types::{Part, Point, Pose, Rect};

use super::crop::Region;

/// One body in one survey picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Sighting {
    pub(crate) pose: Pose,
    /// Where the body is and how large.
    pub region: Region,
    /// 0…1.
    pub present: f64,
}

/// One person through the clip, in time order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Person {
    pub(crate) sightings: Vec<Sighting>,
    pub(crate) pan: Pan,
}

/// Where the scene lies in the picture over time, px from where it lay at first: a camera that is held moves everyone.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pan(Arc<[(f64, Point)]>);

impl Pan {
    /// Times (real s) rise.
    pub fn new(places: Vec<(f64, Point)>) -> Self {
        Self(places.into())
    }

    /// How far the picture has moved since the first one, px.
    pub fn at(&self, time_s: f64) -> Point {
        let after = self.0.partition_point(|p| p.0 < time_s);
        match (after.checked_sub(1).and_then(|i| self.0.get(i)), self.0.get(after)) {
            (Some(a), Some(b)) => a.1.lerp(b.1, ((time_s - a.0) / (b.0 - a.0).max(1e-9)).clamp(0.0, 1.0)),
            (one, other) => one.or(other).map_or_else(Point::default, |p| p.1),
        }
    }
}

/// [`follow_panned`] where the camera stands still.
pub fn follow(pictures: impl IntoIterator<Item = Vec<Sighting>>) -> Vec<Person> {
    follow_panned(pictures, &Pan::default())
}

/// Strings the bodies of successive pictures together into people: nearest in the scene and in size first.
pub fn follow_panned(pictures: impl IntoIterator<Item = Vec<Sighting>>, pan: &Pan) -> Vec<Person> {
    let mut people: Vec<Person> = Vec::new();
    for bodies in pictures {
        let mut bodies = without_doubles(bodies);
        let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
        for (p, person) in people.iter().enumerate() {
            let Some(last) = person.sightings.last() else { continue };
            for (b, body) in bodies.iter().enumerate() {
                let apart_s = body.pose.time_s - last.pose.time_s;
                let cost = unlike(in_scene(last, pan), in_scene(body, pan));
                if apart_s > 0.0 && apart_s <= LONGEST_ABSENCE_S && cost < 0.35 + 0.4 * apart_s.min(0.5) {
                    pairs.push((cost + 0.1 * apart_s, p, b));
                }
            }
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut taken_people = vec![false; people.len()];
        let mut owner = vec![None; bodies.len()];
        for (_, p, b) in pairs {
            if !taken_people[p] && owner[b].is_none() {
                taken_people[p] = true;
                owner[b] = Some(p);
            }
        }
        for (body, owner) in bodies.drain(..).zip(owner) {
            match owner.and_then(|p| people.get_mut(p)) {
                Some(person) => person.sightings.push(body),
                None => people.push(Person { sightings: vec![body], pan: pan.clone() }),
            }
        }
    }
    people
}

/// Where it was looked at, had the camera stood still.
fn in_scene(sighting: &Sighting, pan: &Pan) -> Region {
    let region = sighting.region;
    Region { centre: region.centre - pan.at(sighting.pose.time_s), ..region }
}

/// Distance between two body regions: shift in body sizes plus the ratio of the sizes.
pub fn unlike(a: Region, b: Region) -> f64 {
    let size = a.side.max(b.side).max(1.0);
    a.centre.distance(b.centre) / size + (a.side.max(1.0) / b.side.max(1.0)).ln().abs() * 0.5
}

/// The detector may report one body twice; the surer sighting stays.
fn without_doubles(mut bodies: Vec<Sighting>) -> Vec<Sighting> {
    bodies.sort_by(|a, b| b.present.total_cmp(&a.present));
    let mut kept: Vec<Sighting> = Vec::new();
    for body in bodies {
        if kept.iter().all(|k| unlike(k.region, body.region) > 0.2) {
            kept.push(body);
        }
    }
    kept
}

impl Person {
    pub(crate) fn poses(&self) -> impl Iterator<Item = &Pose> {
        self.sightings.iter().map(|s| &s.pose)
    }

    /// Whether `at` lies on the person in at least one picture.
    pub fn stands_at(&self, at: Point) -> bool {
        self.poses().any(|pose| body_box(pose).is_some_and(|b| grown(b, 0.1).contains(at)))
    }

    /// The body's region at a time, between the sightings before and after it, the camera's own shift taken into
    /// account. `None` without sightings.
    pub fn region_at(&self, time_s: f64) -> Option<Region> {
        let after = self.sightings.partition_point(|s| s.pose.time_s < time_s);
        let next = self.sightings.get(after);
        let previous = after.checked_sub(1).and_then(|i| self.sightings.get(i));
        let region = match (previous, next) {
            (Some(a), Some(b)) => {
                let t = (time_s - a.pose.time_s) / (b.pose.time_s - a.pose.time_s).max(1e-9);
                in_scene(a, &self.pan).lerp(in_scene(b, &self.pan), t.clamp(0.0, 1.0))
            }
            (one, other) => one.or(other).map(|s| in_scene(s, &self.pan))?,
        };
        Some(Region { centre: region.centre + self.pan.at(time_s), ..region })
    }

    /// The same person with each region replaced by the median of itself and its neighbours (up to
    /// `reach` on each side), part by part: one wrong sighting in a blurred picture does not move it.
    pub fn steadied(&self, reach: usize) -> Self {
        let still: Vec<Region> = self.sightings.iter().map(|s| in_scene(s, &self.pan)).collect();
        let middle = |i: usize, of: &dyn Fn(&Region) -> f64| {
            let reach = reach.min(i).min(still.len() - 1 - i);
            let mut v: Vec<f64> = still[i - reach..=i + reach].iter().map(of).collect();
            v.sort_by(f64::total_cmp);
            v[v.len() / 2]
        };
        let sightings = self
            .sightings
            .iter()
            .enumerate()
            .map(|(i, s)| Sighting {
                region: Region {
                    centre: Point::new(middle(i, &|r| r.centre.x), middle(i, &|r| r.centre.y))
                        + self.pan.at(s.pose.time_s),
                    side: middle(i, &|r| r.side),
                    rotation_rad: middle(i, &|r| r.rotation_rad),
                },
                ..s.clone()
            })
            .collect();
        Self { sightings, pan: self.pan.clone() }
    }
}

/// The upright rectangle around what is seen of a body, px.
pub fn body_box(pose: &Pose) -> Option<Rect> {
    Rect::around(pose.spots.iter().flatten().map(|s| s.at))
}

/// `share` of its larger side wider on every side.
pub fn grown(b: Rect, share: f64) -> Rect {
    let m = share * b.width.max(b.height);
    Rect::new(b.x - m, b.y - m, b.width + 2.0 * m, b.height + 2.0 * m)
}

/// Middle of the hips, px.
pub fn hips(pose: &Pose) -> Option<Point> {
    Some(pose.at(Part::LeftHip)?.midpoint(pose.at(Part::RightHip)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sighting(time_s: f64, x: f64, side: f64) -> Sighting {
        let region = Region { centre: Point::new(x, 100.0), side, rotation_rad: 0.0 };
        Sighting { pose: Pose::empty(0, time_s), region, present: 0.9 }
    }

    #[test]
    fn two_people_stay_two_while_one_walks() {
        let pictures = (0..20).map(|i| {
            let t = f64::from(i) * 0.15;
            vec![sighting(t, 600.0 - 10.0 * f64::from(i), 200.0), sighting(t, 100.0, 220.0)]
        });
        let people = follow(pictures);
        assert_eq!(people.len(), 2);
        assert!(people.iter().all(|p| p.sightings.len() == 20));
    }

    #[test]
    fn one_body_seen_twice_is_one_person_and_an_absence_is_bridged() {
        let mut pictures = vec![vec![sighting(0.0, 100.0, 200.0), sighting(0.0, 104.0, 205.0)]];
        pictures.push(Vec::new());
        pictures.push(vec![sighting(2.0, 110.0, 200.0)]);
        pictures.push(vec![sighting(9.0, 110.0, 200.0)]);
        let people = follow(pictures);
        assert_eq!(people.iter().map(|p| p.sightings.len()).collect::<Vec<_>>(), [2, 1]);
    }

    #[test]
    fn who_stands_still_is_followed_while_the_camera_turns() {
        let pan =
            Pan::new((0..40).map(|i| (f64::from(i) * 0.1, Point::new(-30.0 * f64::from(i), 0.0))).collect());
        let seen = |t: f64| vec![sighting(t, 900.0 - 300.0 * t, 200.0)];
        let people = follow_panned([seen(0.0), seen(0.4), seen(2.0), seen(3.0)], &pan);
        assert_eq!(people.len(), 1);
        let between = people[0].steadied(2).region_at(1.2).unwrap();
        assert!((between.centre.x - 540.0).abs() < 1e-6, "{between:?}");
    }

    #[test]
    fn a_wrong_sighting_does_not_move_the_steadied_region() {
        let mut person = Person {
            sightings: (0..9).map(|i| sighting(f64::from(i), 100.0, 200.0)).collect(),
            pan: Pan::default(),
        };
        person.sightings[4] = sighting(4.0, 160.0, 90.0);
        let region = person.steadied(2).region_at(4.0).unwrap();
        assert_eq!((region.centre.x, region.side), (100.0, 200.0));
        assert!(Person::default().region_at(0.0).is_none());
    }
}
