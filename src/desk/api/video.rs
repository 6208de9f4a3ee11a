//! The videos that were made: played, saved, stopped while they are made.

use axum::Json;
use axum::body::Body;
use axum::extract::{Path, Query, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::super::answer::{Answer, work};
use super::super::share::ShareJson;
use super::Desk;
use crate::messages::desk as messages;
use crate::types::Error;

/// Give it to a phone in the same network, under an address of its own.
pub(super) async fn share(State(shared): Desk, Path(id): Path<String>) -> Answer<Json<ShareJson>> {
    work(shared, move |shared| {
        let video = shared.maker.find(&id)?;
        let off = || Error::Usage(messages::SHARE_IS_OFF.to_owned());
        shared.share.as_ref().ok_or_else(off)?.show(video).map(Json)
    })
    .await
}

pub(super) async fn stop_sharing(State(shared): Desk) -> StatusCode {
    if let Some(share) = &shared.share {
        share.stop();
    }
    StatusCode::NO_CONTENT
}

pub(super) async fn stop_making(State(shared): Desk) -> StatusCode {
    shared.maker.stop();
    StatusCode::NO_CONTENT
}

#[derive(Deserialize)]
pub(super) struct VideoQuery {
    download: Option<bool>,
}

pub(super) async fn video(
    State(shared): Desk,
    Path(id): Path<String>,
    Query(query): Query<VideoQuery>,
    headers: HeaderMap,
) -> Answer<Response> {
    let range = headers.get(header::RANGE).and_then(|v| v.to_str().ok()).map(str::to_owned);
    work(shared, move |shared| {
        let video = shared.maker.find(&id)?;
        let bytes = std::fs::read(&video.path).map_err(|e| Error::reading(&video.path, e))?;
        Ok(video_answer(bytes, range.as_deref(), query.download.filter(|d| *d).map(|_| video.name)))
    })
    .await
}

/// All of a video or the one range that is asked for (RFC 9110, 14.2), which players need to jump.
pub fn video_answer(bytes: Vec<u8>, range: Option<&str>, download: Option<String>) -> Response {
    let all = bytes.len();
    let asked = range.and_then(|r| r.strip_prefix("bytes=")).and_then(|r| r.split_once('-'));
    let part = asked.and_then(|(from, to)| {
        let from = from.parse::<usize>().ok().filter(|f| *f < all)?;
        Some((from, to.parse::<usize>().map_or(all - 1, |to| to.min(all - 1))))
    });
    let mut answer = match part.filter(|(from, to)| from <= to) {
        Some((from, to)) => {
            let told = [(header::CONTENT_RANGE, format!("bytes {from}-{to}/{all}"))];
            (StatusCode::PARTIAL_CONTENT, told, Body::from(bytes[from..=to].to_vec())).into_response()
        }
        None => Body::from(bytes).into_response(),
    };
    let headers = answer.headers_mut();
    headers.insert(header::CONTENT_TYPE, header::HeaderValue::from_static("video/mp4"));
    headers.insert(header::ACCEPT_RANGES, header::HeaderValue::from_static("bytes"));
    if let Some(name) = download {
        let plain: String = name
            .rsplit('/')
            .next()
            .unwrap_or_default()
            .chars()
            .filter(|c| c.is_ascii_graphic() && *c != '"')
            .collect();
        if let Ok(value) = header::HeaderValue::from_str(&format!("attachment; filename=\"{plain}\"")) {
            headers.insert(header::CONTENT_DISPOSITION, value);
        }
    }
    answer
}
