//! Every address of the desk. What each takes and gives: docs/desk.md.

mod lesson;
mod marks;
mod pair;
mod set;
mod swings;
mod video;
mod voice;

pub use video::video_answer;

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::{delete, get, post, put};
use axum::{Json, Router};
use futures_util::stream::{Stream, unfold};
use serde::{Deserialize, Serialize};
use tokio::sync::broadcast::error::RecvError;
use tokio::time::timeout;

use super::answer::{Answer, refused, work};
use super::clips::{self, ClipJson};
use super::door::{LONGEST_BODY, guard};
use super::history::Depth;
use super::maker::Video;
use super::share::{Share, ShareJson};
use super::voice::LONGEST_NOTE;
use super::{Shared, news, pages, reader};
use crate::messages::desk as messages;
use crate::types::{Error, EventId, Result, Units};

type Desk = State<Arc<Shared>>;

/// Where a spoken note is sent to, below [`BASE`].
const VOICE: &str = "/voices";
const BASE: &str = "/api/1";

pub fn routes(shared: Arc<Shared>) -> Router {
    let mut app = Router::new();
    for (path, kind, content) in pages::FILES {
        app = app.route(path, get(move || async move { pages::file(kind, content) }));
    }
    for (path, bytes) in pages::FONTS {
        app = app.route(path, get(move || async move { pages::font(bytes) }));
    }
    let api = Router::new()
        .route("/state", get(state))
        .route("/events", get(events))
        .route("/reading", put(set_reading))
        .route("/clips/{id}/pictures/{index}", get(still))
        .route("/clips/{id}/events/{event}", put(set::pin).delete(set::unpin))
        .route("/clips/{id}/marks", delete(set::as_found))
        .route("/clips/{id}/bats", put(set::bats))
        .route("/clips/{id}/pictures/{index}/marks", get(marks::marks))
        .route("/clips/{id}/points/{point}/{picture}", put(set::set_point).delete(set::take_point_back))
        .route("/clips/{id}/height", put(set::height))
        .route("/clips/{id}/length", put(set::length))
        .route("/clips/{id}/hitter", put(set::hitter))
        .route("/clips/{id}/rating", put(set::rating))
        .route("/clips/{id}/swings", get(swings::list).post(swings::find))
        .route("/clips/{id}/swings/{name}", put(swings::choose))
        .route("/swings", delete(swings::stop))
        .route("/lesson", get(lesson::lesson))
        .route("/undo", post(set::undo))
        .route("/redo", post(set::redo))
        .route("/pairs/{today}/{references}", get(pair::pair))
        .route("/pairs/{today}/{references}/pictures/{lead}/{index}", get(pair::picture))
        .route("/pairs/{today}/{references}/video", post(pair::make))
        .route("/video", delete(video::stop_making))
        .route("/videos/{id}", get(video::video))
        .route("/videos/{id}/share", post(video::share))
        .route("/share", delete(video::stop_sharing))
        .route("/voices/{id}", get(voice::voice))
        .route(VOICE, post(voice::take).layer(DefaultBodyLimit::max(LONGEST_NOTE)));
    app.route("/lesson/{*name}", get(lesson::made))
        .route("/theme.css", get(|| async { pages::theme_css() }))
        .nest(BASE, api)
        .fallback(|| async { refused(StatusCode::NOT_FOUND, messages::NOTHING_HERE) })
        .method_not_allowed_fallback(|| async {
            refused(StatusCode::METHOD_NOT_ALLOWED, messages::NOT_UNDERSTOOD)
        })
        .layer(DefaultBodyLimit::max(LONGEST_BODY))
        .layer(axum::middleware::from_fn_with_state(shared.clone(), guard))
        .with_state(shared)
}

/// All that a page shows before two clips are chosen.
#[derive(Serialize)]
struct StateJson {
    folder: String,
    /// What she reads lengths in.
    units: Units,
    clips: Vec<ClipJson>,
    reading: reader::ReadingStatus,
    history: Depth,
    making: bool,
    videos: Vec<Video>,
    /// Whether a video can be given to a phone in the same network, and which one is.
    can_share: bool,
    share: Option<ShareJson>,
}

async fn state(State(shared): Desk) -> Answer<Json<StateJson>> {
    work(shared, |shared| {
        Ok(Json(StateJson {
            folder: crate::types::file_name(shared.films.folder()),
            units: shared.units,
            clips: clips::list(shared)?,
            reading: shared.reader.status(),
            history: shared.history.depth(),
            making: shared.maker.is_making(),
            videos: shared.maker.made(),
            can_share: shared.share.is_some(),
            share: shared.share.as_ref().and_then(Share::status),
        }))
    })
    .await
}

/// A stream that nobody reads any more is found out by this.
const KEEP_ALIVE: Duration = Duration::from_secs(5);
const LOOK_UP: Duration = Duration::from_millis(300);

async fn events(State(shared): Desk) -> Sse<impl Stream<Item = std::result::Result<Event, Infallible>>> {
    let queue = shared.news.listen();
    let stream = unfold((queue, shared), |(mut queue, shared)| async move {
        while !shared.cancel.is_cancelled() {
            let event = match timeout(LOOK_UP, queue.recv()).await {
                Ok(Ok(item)) => Event::default().event(item.kind).data(item.data),
                // Some were missed: everything is looked at anew.
                Ok(Err(RecvError::Lagged(_))) => Event::default().event(news::CLIPS).data("{}"),
                Ok(Err(RecvError::Closed)) => return None,
                Err(_) => continue,
            };
            return Some((Ok(event), (queue, shared)));
        }
        None
    });
    Sse::new(stream).keep_alive(KeepAlive::new().interval(KEEP_ALIVE))
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SetReading {
    stopped: bool,
}

async fn set_reading(State(shared): Desk, Json(wish): Json<SetReading>) -> Json<reader::ReadingStatus> {
    shared.reader.set_stopped(wish.stopped);
    shared.news.tell(news::CLIPS, &shared.reader.status());
    Json(shared.reader.status())
}

#[derive(Deserialize)]
struct StillQuery {
    width: Option<usize>,
    /// A state of the film: what was given for it never changes.
    v: Option<String>,
}

/// A picture, which may be kept where its address names the state of what it shows.
fn jpeg_answer(bytes: Vec<u8>, lasting: bool) -> Response {
    const LASTING: &str = "private, max-age=3600";
    let keep = if lasting { LASTING } else { "no-store" };
    ([(header::CONTENT_TYPE, "image/jpeg"), (header::CACHE_CONTROL, keep)], bytes).into_response()
}

async fn still(
    State(shared): Desk,
    Path((id, index)): Path<(String, usize)>,
    Query(query): Query<StillQuery>,
) -> Answer<Response> {
    work(shared, move |shared| {
        let film = shared.films.find(&id)?;
        let lasting = query.v.as_ref() == Some(&film.content_stamp);
        Ok(jpeg_answer(shared.stills.jpeg(&film, index, query.width, shared.limits)?, lasting))
    })
    .await
}

fn event_from(word: &str) -> Result<EventId> {
    EventId::from_word(word).ok_or_else(|| Error::Usage(messages::NO_SUCH_EVENT.to_owned()))
}
