//! A spoken note comes in, and is played again.

use axum::Json;
use axum::body::Bytes;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use serde::Serialize;

use super::super::answer::{Answer, work};
use super::Desk;

#[derive(Serialize)]
pub(super) struct VoiceJson {
    id: String,
    seconds: f64,
}

pub(super) async fn take(State(shared): Desk, bytes: Bytes) -> Answer<Json<VoiceJson>> {
    work(shared, move |shared| {
        let voice = shared.voices.take(bytes.to_vec(), shared.limits)?;
        Ok(Json(VoiceJson { id: voice.id.clone(), seconds: voice.seconds() }))
    })
    .await
}

pub(super) async fn voice(State(shared): Desk, Path(id): Path<String>) -> Answer<Response> {
    work(shared, move |shared| {
        let voice = shared.voices.find(&id)?;
        Ok(([(header::CONTENT_TYPE, voice.kind())], voice.bytes.clone()).into_response())
    })
    .await
}
