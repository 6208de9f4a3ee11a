//! The lesson of the folder, and what was made of it.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::{IntoResponse, Response};

use super::super::answer::{Answer, work};
use super::super::lesson::{LessonJson, lesson_json, made_file};
use super::{Desk, video_answer};
use crate::types::Error;

pub(super) async fn lesson(State(shared): Desk) -> Answer<Json<Option<LessonJson>>> {
    work(shared, |shared| Ok(Json(lesson_json(shared)?))).await
}

/// A page that was made stands alone: it runs nothing, is no part of the desk's own, and takes its pictures from itself.
const PAGE: [&str; 9] = [
    "default-src 'none'",
    "style-src 'unsafe-inline'",
    "img-src data:",
    "media-src data:",
    "font-src data:",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
    "sandbox allow-downloads",
];

pub(super) async fn made(
    State(shared): Desk,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Answer<Response> {
    let range = headers.get(header::RANGE).and_then(|v| v.to_str().ok()).map(str::to_owned);
    work(shared, move |shared| {
        let path = made_file(shared, &name)?;
        let bytes = std::fs::read(&path).map_err(|e| Error::reading(&path, e))?;
        let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default();
        Ok(match ending {
            "mp4" => video_answer(bytes, range.as_deref(), None),
            "html" => {
                let kind = [(header::CONTENT_TYPE, "text/html; charset=utf-8")];
                let mut page = (kind, bytes).into_response();
                let policy = HeaderValue::from_str(&PAGE.join("; ")).map_err(|_| Error::WorkerLost)?;
                page.headers_mut().insert(header::CONTENT_SECURITY_POLICY, policy);
                page
            }
            _ => ([(header::CONTENT_TYPE, "image/png")], bytes).into_response(),
        })
    })
    .await
}
