//! What a person sets of a clip, and takes back.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use serde::{Deserialize, Serialize};

use super::super::answer::{Answer, work};
use super::super::clips::{self, ClipJson};
use super::super::films::Film;
use super::super::history::Depth;
use super::super::{Shared, news};
use super::{Desk, event_from};
use crate::media::OpenOptions;
use crate::messages::desk as messages;
use crate::reading;
use crate::store::Rating;
use crate::types::{Error, Result, Side};

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
        let side = shared.pairs.side(shared, &film.id)?;
        let frames = side.clip.facts().frames;
        if at.picture >= frames {
            return Err(Error::Usage(messages::no_such_frame(at.picture, frames)));
        }
        shared.history.pin(film, event, Some(side.clip.real_s(at.picture)), shared.limits)
    })
    .await
}

pub(super) async fn unpin(
    State(shared): Desk,
    Path((id, event)): Path<(String, String)>,
) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| shared.history.pin(film, event_from(&event)?, None, shared.limits))
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
    set(shared, id, move |shared, film| shared.history.bats(film, wish.side, shared.limits)).await
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
        let film = shared.history.step(back, |id| shared.films.find(id), shared.limits)?;
        after(shared, &film.id)
    })
    .await
}

pub(super) async fn undo(State(shared): Desk) -> Answer<Json<SetJson>> {
    step(shared, true).await
}

pub(super) async fn redo(State(shared): Desk) -> Answer<Json<SetJson>> {
    step(shared, false).await
}
