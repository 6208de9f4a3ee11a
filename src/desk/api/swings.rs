//! The swings of a long film.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use serde::Deserialize;

use super::super::answer::{Answer, work};
use super::super::news;
use super::super::swings::{Choice, SwingsJson};
use super::Desk;

pub(super) async fn list(State(shared): Desk, Path(id): Path<String>) -> Answer<Json<SwingsJson>> {
    work(shared, move |shared| Ok(Json(shared.swings.list(shared, &shared.films.find(&id)?)?))).await
}

pub(super) async fn find(State(shared): Desk, Path(id): Path<String>) -> Answer<StatusCode> {
    work(shared, move |shared| {
        shared.swings.begin(shared, shared.films.find(&id)?)?;
        Ok(StatusCode::ACCEPTED)
    })
    .await
}

pub(super) async fn stop(State(shared): Desk) -> StatusCode {
    shared.swings.stop();
    StatusCode::NO_CONTENT
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Chosen {
    choice: Choice,
}

pub(super) async fn choose(
    State(shared): Desk,
    Path((id, name)): Path<(String, String)>,
    Json(chosen): Json<Chosen>,
) -> Answer<Json<SwingsJson>> {
    work(shared, move |shared| {
        let film = shared.films.find(&id)?;
        shared.swings.choose(shared, &film, &name, chosen.choice)?;
        shared.news.tell(news::CLIPS, &shared.reader.status());
        Ok(Json(shared.swings.list(shared, &film)?))
    })
    .await
}
