//! What a person sets of a clip, and takes back.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use serde::{Deserialize, Serialize};

use super::super::answer::{Answer, work};
use super::super::clips::{self, ClipJson};
use super::super::films::Film;
use super::super::history::{Depth, Item};
use super::super::{Shared, news};
use super::{Desk, event_from};
use crate::media::OpenOptions;
use crate::messages::desk as messages;
use crate::reading;
use crate::store::Rating;
use crate::types::{BodyPoint, Error, KnownLength, Point, Result, Side};

/// What comes back after something was set.
#[derive(Serialize)]
pub(super) struct SetJson {
    clip: ClipJson,
    history: Depth,
}

/// Set something of a clip and read it anew; the other pages hear of it.
async fn set(
    shared: Arc<Shared>,
    id: String,
    job: impl FnOnce(&Shared, &Film) -> Result<()> + Send + 'static,
) -> Answer<Json<SetJson>> {
    work(shared, move |shared| {
        let film = shared.films.find(&id)?;
        job(shared, &film)?;
        after(shared, &id)
    })
    .await
}

fn after(shared: &Arc<Shared>, id: &str) -> Result<Json<SetJson>> {
    // A reading that fails now is told of in the list; what was set stays, and can be undone.
    let read = shared.pairs.side(shared, id);
    shared.news.tell(news::CLIPS, &shared.reader.status());
    match read {
        Ok(_) | Err(Error::Usage(_)) => (),
        Err(e) => return Err(e),
    }
    Ok(Json(SetJson { clip: clips::clip(shared, &shared.films.find(id)?), history: shared.history.depth() }))
}

/// The time of a picture of a clip that was read, real s.
fn time_of(shared: &Shared, film: &Film, picture: usize) -> Result<f64> {
    let side = shared.pairs.side(shared, &film.id)?;
    let frames = side.clip.facts().frames;
    if picture >= frames {
        return Err(Error::Usage(messages::no_such_frame(picture, frames)));
    }
    Ok(side.clip.real_s(picture))
}

fn set_one(shared: &Shared, film: &Film, item: Item) -> Result<()> {
    shared.history.set(&[film], &[item], shared.limits)
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PinAt {
    /// Place in the clip's index of pictures.
    picture: usize,
}

pub(super) async fn pin(
    State(shared): Desk,
    Path((id, event)): Path<(String, String)>,
    Json(at): Json<PinAt>,
) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| {
        let event = event_from(&event)?;
        let at_s = time_of(shared, film, at.picture)?;
        set_one(shared, film, Item::Pin(event, Some(at_s)))
    })
    .await
}

pub(super) async fn unpin(
    State(shared): Desk,
    Path((id, event)): Path<(String, String)>,
) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| set_one(shared, film, Item::Pin(event_from(&event)?, None))).await
}

fn point_from(word: &str) -> Result<BodyPoint> {
    BodyPoint::from_word(word).ok_or_else(|| Error::Usage(messages::NO_SUCH_POINT.to_owned()))
}

pub(super) async fn set_point(
    State(shared): Desk,
    Path((id, point, picture)): Path<(String, String, usize)>,
    Json(at): Json<Point>,
) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| {
        let (point, time_s) = (point_from(&point)?, time_of(shared, film, picture)?);
        set_one(shared, film, Item::Point(point, time_s, Some(at)))
    })
    .await
}

pub(super) async fn take_point_back(
    State(shared): Desk,
    Path((id, point, picture)): Path<(String, String, usize)>,
) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| {
        let (point, time_s) = (point_from(&point)?, time_of(shared, film, picture)?);
        set_one(shared, film, Item::Point(point, time_s, None))
    })
    .await
}

pub(super) async fn as_found(State(shared): Desk, Path(id): Path<String>) -> Answer<Json<SetJson>> {
    set(shared, id, |shared, film| shared.history.as_found(film, shared.limits)).await
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Bats {
    side: Option<Side>,
}

pub(super) async fn bats(
    State(shared): Desk,
    Path(id): Path<String>,
    Json(wish): Json<Bats>,
) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| set_one(shared, film, Item::Bats(wish.side))).await
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Length {
    length: Option<KnownLength>,
}

pub(super) async fn length(
    State(shared): Desk,
    Path(id): Path<String>,
    Json(wish): Json<Length>,
) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| set_one(shared, film, Item::Length(wish.length))).await
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HitterAt {
    at: Option<Point>,
}

/// The clip is read anew in the background: the pictures have to be looked at for somebody else.
pub(super) async fn hitter(
    State(shared): Desk,
    Path(id): Path<String>,
    Json(wish): Json<HitterAt>,
) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| set_one(shared, film, Item::Hitter(wish.at))).await
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Height {
    cm: Option<f64>,
    /// Other clips of the same hitter.
    #[serde(default)]
    also: Vec<String>,
}

pub(super) async fn height(
    State(shared): Desk,
    Path(id): Path<String>,
    Json(wish): Json<Height>,
) -> Answer<Json<SetJson>> {
    work(shared, move |shared| {
        let ids = std::iter::once(&id).chain(&wish.also);
        let films: Vec<Film> = ids.map(|id| shared.films.find(id)).collect::<Result<_>>()?;
        shared.history.set(&films.iter().collect::<Vec<_>>(), &[Item::Height(wish.cm)], shared.limits)?;
        after(shared, &id)
    })
    .await
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Rated {
    rating: Option<Rating>,
}

pub(super) async fn rating(
    State(shared): Desk,
    Path(id): Path<String>,
    Json(wish): Json<Rated>,
) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| {
        let options = OpenOptions { recorded_at_hz: None, limits: shared.limits };
        reading::set_rating(&film.path, wish.rating, &options).map(drop)
    })
    .await
}

async fn step(shared: Arc<Shared>, back: bool) -> Answer<Json<SetJson>> {
    work(shared, move |shared| {
        let films = shared.history.step(back, |id| shared.films.find(id), shared.limits)?;
        let first = films.first().ok_or(Error::WorkerLost)?;
        after(shared, &first.id)
    })
    .await
}

pub(super) async fn undo(State(shared): Desk) -> Answer<Json<SetJson>> {
    step(shared, true).await
}

pub(super) async fn redo(State(shared): Desk) -> Answer<Json<SetJson>> {
    step(shared, false).await
}
