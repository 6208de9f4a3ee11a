//! What a clip's single pictures show of the hitter, for somebody who sets it right.

use axum::Json;
use axum::extract::{Path, State};
use serde::Serialize;

use super::super::answer::{Answer, work};
use super::Desk;
use crate::messages::desk as messages;
use crate::swing;
use crate::types::{BodyPoint, Error, KnownLength, Point};

/// One picture's points, and what is set of the whole clip.
#[derive(Serialize)]
pub(super) struct MarksJson {
    points: Vec<PointJson>,
    /// All points of the body, to look at the picture about them.
    body: Vec<Point>,
    height_cm: Option<f64>,
    known_length: Option<KnownLength>,
    hitter_at: Option<Point>,
}

#[derive(Serialize)]
struct PointJson {
    point: &'static str,
    name: &'static str,
    /// `None`: nobody saw it here.
    at: Option<Point>,
    /// A person set it in this picture.
    set: bool,
}

pub(super) async fn marks(
    State(shared): Desk,
    Path((id, picture)): Path<(String, usize)>,
) -> Answer<Json<MarksJson>> {
    work(shared, move |shared| {
        let side = shared.pairs.side(shared, &id)?;
        let frames = side.clip.facts().frames;
        if picture >= frames {
            return Err(Error::Usage(messages::no_such_frame(picture, frames)));
        }
        let (track, by_hand) = (&side.reading.track, &side.by_hand);
        let pose = track.poses.iter().find(|p| p.frame == picture);
        let set = |point| {
            let same = |time_s| side.clip.frame_at_real(time_s) == picture;
            by_hand.points.iter().any(|p| p.point == point && same(p.time_s))
        };
        let points = BodyPoint::ALL.into_iter().map(|point| PointJson {
            point: point.word(),
            name: messages::body_point(point, side.reading.hitter.bats),
            at: pose.and_then(|pose| swing::place(pose, point)),
            set: set(point),
        });
        // Where the hitter is not followed in this picture, where he was about then.
        let about = pose.or_else(|| track.nearest(side.clip.real_s(picture)));
        Ok(Json(MarksJson {
            // A point can be moved only where there is a track to bend.
            points: if pose.is_some() { points.collect() } else { Vec::new() },
            body: about.iter().flat_map(|p| p.spots.iter().flatten()).map(|s| s.at).collect(),
            height_cm: by_hand.height_cm,
            known_length: by_hand.known_length,
            hitter_at: by_hand.hitter_at,
        }))
    })
    .await
}
