use serde::{Deserialize, Serialize};

use super::Point;

/// The body points that are followed. Left and right are the hitter's own.
#[expect(missing_docs, reason = "the names say it")]
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    Nose,
    LeftEye,
    RightEye,
    LeftEar,
    RightEar,
    LeftShoulder,
    RightShoulder,
    LeftElbow,
    RightElbow,
    LeftWrist,
    RightWrist,
    /// Where the knuckles are: the bat's handle runs through it.
    LeftHand,
    RightHand,
    LeftHip,
    RightHip,
    LeftKnee,
    RightKnee,
    LeftAnkle,
    RightAnkle,
    LeftHeel,
    RightHeel,
    LeftToe,
    RightToe,
}

/// Every part, in the order of [`Pose::spots`].
pub const PARTS: [Part; 23] = [
    Part::Nose,
    Part::LeftEye,
    Part::RightEye,
    Part::LeftEar,
    Part::RightEar,
    Part::LeftShoulder,
    Part::RightShoulder,
    Part::LeftElbow,
    Part::RightElbow,
    Part::LeftWrist,
    Part::RightWrist,
    Part::LeftHand,
    Part::RightHand,
    Part::LeftHip,
    Part::RightHip,
    Part::LeftKnee,
    Part::RightKnee,
    Part::LeftAnkle,
    Part::RightAnkle,
    Part::LeftHeel,
    Part::RightHeel,
    Part::LeftToe,
    Part::RightToe,
];

impl Part {
    /// The same part on the other side; the nose is its own.
    pub fn other_side(self) -> Self {
        let i = self as usize;
        if i == 0 { self } else { PARTS[if i % 2 == 1 { i + 1 } else { i - 1 }] }
    }
}

/// How a point came to be known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// Found in this picture.
    Picture,
    /// Worked out from neighbours in time or from the rest of the body: drawn dashed.
    Inferred,
}

/// One body point in one picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spot {
    /// px of the upright picture.
    pub at: Point,
    /// 0…1, the finder's own belief that the point is there and not hidden.
    pub visibility: f32,
    /// How it is known.
    pub seen: Seen,
}

/// One body in one picture. A part nobody saw is `None`: a gap stays a gap.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pose {
    /// Place in the clip's index of pictures.
    pub frame: usize,
    /// Real (capture) time, s, from the clip's first picture.
    pub time_s: f64,
    /// By [`PARTS`].
    pub spots: Vec<Option<Spot>>,
}

impl Pose {
    /// Nothing seen.
    pub fn empty(frame: usize, time_s: f64) -> Self {
        Self { frame, time_s, spots: vec![None; PARTS.len()] }
    }

    /// What is known of `part`.
    pub fn spot(&self, part: Part) -> Option<Spot> {
        self.spots.get(part as usize).copied().flatten()
    }

    /// Where `part` is, px.
    pub fn at(&self, part: Part) -> Option<Point> {
        self.spot(part).map(|s| s.at)
    }

    /// Changes what is known of `part`.
    pub fn set(&mut self, part: Part, spot: Option<Spot>) {
        self.spots[part as usize] = spot;
    }
}

/// One hitter through one clip, in time order. Pictures without the hitter have an empty pose or none.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Track {
    /// In time order.
    pub poses: Vec<Pose>,
}

impl Track {
    /// The pose whose time is nearest, if there is any.
    pub fn nearest(&self, time_s: f64) -> Option<&Pose> {
        self.nearest_index(time_s).and_then(|i| self.poses.get(i))
    }

    /// Its place in `poses`.
    pub fn nearest_index(&self, time_s: f64) -> Option<usize> {
        let i = self.poses.partition_point(|p| p.time_s < time_s);
        let after = self.poses.get(i);
        let before = i.checked_sub(1).and_then(|j| Some((j, self.poses.get(j)?)));
        match (before, after) {
            (Some((j, b)), Some(a)) if time_s - b.time_s <= a.time_s - time_s => Some(j),
            (_, Some(_)) => Some(i),
            (b, None) => b.map(|(j, _)| j),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_in_order_and_pair_up() {
        for (i, part) in PARTS.iter().enumerate() {
            assert_eq!(*part as usize, i);
            assert_eq!(part.other_side().other_side(), *part);
        }
        assert_eq!(Part::LeftWrist.other_side(), Part::RightWrist);
    }

    #[test]
    fn nearest_pose_is_by_time() {
        let track = Track { poses: vec![Pose::empty(0, 0.0), Pose::empty(1, 0.1), Pose::empty(2, 0.5)] };
        assert_eq!(track.nearest(0.29).map(|p| p.frame), Some(1));
        assert_eq!(track.nearest(0.31).map(|p| p.frame), Some(2));
        assert_eq!(track.nearest(9.0).map(|p| p.frame), Some(2));
        assert_eq!(Track::default().nearest(0.0), None);
    }
}
