//! What is answered: JSON, or an error as one sentence.

use std::sync::Arc;

use axum::Json;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::Serialize;

use super::Shared;
use crate::types::{Error, Result};

#[derive(Debug, Serialize)]
struct ErrorJson<'a> {
    error: &'a str,
}

pub fn refused(status: StatusCode, why: &str) -> Response {
    (status, Json(ErrorJson { error: why })).into_response()
}

/// An error on its way to the page.
pub struct Failed {
    status: StatusCode,
    text: String,
}

pub type Answer<T> = std::result::Result<T, Failed>;

impl Failed {
    /// In the page's own words a film is called by its name: where the folder lies is left out.
    pub fn of(shared: &Shared, error: &Error) -> Self {
        let status = match error {
            Error::Usage(_) | Error::KnownLength { .. } | Error::Glyph { .. } => StatusCode::BAD_REQUEST,
            Error::Missing { .. } => StatusCode::NOT_FOUND,
            Error::Internal(_) | Error::WorkerLost => StatusCode::INTERNAL_SERVER_ERROR,
            _ => StatusCode::UNPROCESSABLE_ENTITY,
        };
        Self { status, text: plain(shared, error) }
    }
}

/// An error's sentence without the folder.
pub fn plain(shared: &Shared, error: &Error) -> String {
    if matches!(error, Error::Cancelled) {
        return crate::messages::desk::STOPPED.to_owned();
    }
    let folder = format!("{}{}", shared.films.folder().display(), std::path::MAIN_SEPARATOR);
    error.to_string().replace(&folder, "")
}

impl IntoResponse for Failed {
    fn into_response(self) -> Response {
        refused(self.status, &self.text)
    }
}

/// Work that reads files or computes, off the thread that serves.
pub async fn work<T: Send + 'static>(
    shared: Arc<Shared>,
    job: impl FnOnce(&Arc<Shared>) -> Result<T> + Send + 'static,
) -> Answer<T> {
    let own = shared.clone();
    let done = tokio::task::spawn_blocking(move || job(&own)).await.unwrap_or(Err(Error::WorkerLost));
    done.map_err(|e| Failed::of(&shared, &e))
}
