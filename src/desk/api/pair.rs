//! Two reps put together: what changed, their pictures, the video.

use axum::Json;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use serde::Deserialize;
use tokio::sync::oneshot;

use super::super::answer::{Answer, Failed, work};
use super::super::artist::{Appearance, Canvas, PictureRequest};
use super::super::maker::VideoRequest;
use super::super::pair_json::{PairJson, pair_json};
use super::super::pairs::PairRequest;
use super::{Desk, event_from, jpeg_answer};
use crate::compose::Layout;
use crate::messages::desk as messages;
use crate::types::{Error, EventId, Result, SyncOn};

/// What the two are lined up on, and how they are shown.
#[derive(Deserialize)]
pub(super) struct PairQuery {
    sync: Option<String>,
    layout: Option<String>,
    ghost: Option<f64>,
    width: Option<usize>,
    height: Option<usize>,
    /// As the video shows it, words and all.
    whole: Option<bool>,
    /// The references as their mirror images.
    mirror: Option<bool>,
    v: Option<String>,
}

fn not_understood() -> Error {
    Error::Usage(messages::NOT_UNDERSTOOD.to_owned())
}

fn pair_request(
    today: String,
    references: &str,
    sync: Option<&str>,
    mirror: Option<bool>,
) -> Result<PairRequest> {
    let sync = match sync {
        None => SyncOn::Event(EventId::Plant),
        Some("phases") => SyncOn::Phases,
        Some(word) => SyncOn::Event(event_from(word)?),
    };
    let references = references.split(',').map(str::to_owned).collect();
    Ok(PairRequest { today, references, sync, mirror: mirror == Some(true) })
}

impl PairQuery {
    fn appearance(&self) -> Result<Appearance> {
        let layout = match self.layout.as_deref() {
            None => Layout::SideBySide,
            Some(word) => Layout::from_word(word).ok_or_else(not_understood)?,
        };
        let ghost_strength = self.ghost.unwrap_or(0.5);
        if !(0.0..=1.0).contains(&ghost_strength) {
            return Err(not_understood());
        }
        let canvas = match self.whole {
            Some(true) => Canvas::Video,
            _ => Canvas::Page { width: self.width.unwrap_or(840), height: self.height.unwrap_or(560) },
        };
        Ok(Appearance { layout, ghost_strength, canvas })
    }
}

pub(super) async fn pair(
    State(shared): Desk,
    Path((today, references)): Path<(String, String)>,
    Query(query): Query<PairQuery>,
) -> Answer<Json<PairJson>> {
    work(shared, move |shared| {
        let asked = pair_request(today, &references, query.sync.as_deref(), query.mirror)?;
        let data = shared.pairs.pair(shared, &asked)?;
        Ok(Json(pair_json(&data)))
    })
    .await
}

pub(super) async fn picture(
    State(shared): Desk,
    Path((today, references, lead, index)): Path<(String, String, String, usize)>,
    Query(query): Query<PairQuery>,
) -> Answer<Response> {
    let version = query.v.clone();
    let (reply, drawn) = oneshot::channel();
    let now = work(shared.clone(), move |shared| {
        let lead = match lead.as_str() {
            "today" => 0,
            "reference" => 1,
            _ => return Err(not_understood()),
        };
        let asked = pair_request(today, &references, query.sync.as_deref(), query.mirror)?;
        let appearance = query.appearance()?;
        let data = shared.pairs.pair(shared, &asked)?;
        let (at_s, now) = (data.moment(lead, index)?, data.version.clone());
        shared.pairs.artist(shared, &data)?.ask(PictureRequest { data, appearance, at_s, reply })?;
        Ok(now)
    })
    .await?;
    let bytes = drawn.await.unwrap_or(Err(Error::Cancelled)).map_err(|e| Failed::of(&shared, &e))?;
    Ok(jpeg_answer(bytes, version.as_ref() == Some(&now)))
}

#[derive(Deserialize)]
pub(super) struct MakeQuery {
    sync: Option<String>,
    mirror: Option<bool>,
}

pub(super) async fn make(
    State(shared): Desk,
    Path((today, references)): Path<(String, String)>,
    Query(query): Query<MakeQuery>,
    Json(wish): Json<VideoRequest>,
) -> Answer<StatusCode> {
    work(shared, move |shared| {
        let asked = pair_request(today, &references, query.sync.as_deref(), query.mirror)?;
        let data = shared.pairs.pair(shared, &asked)?;
        shared.maker.begin(shared, data, &wish)?;
        Ok(StatusCode::ACCEPTED)
    })
    .await
}
