//! Every address of the desk. What each takes and gives: docs/desk.md.

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::body::Body;
use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::{delete, get, post, put};
use axum::{Json, Router};
use futures_util::stream::{Stream, unfold};
use serde::{Deserialize, Serialize};
use tokio::sync::broadcast::error::RecvError;
use tokio::sync::oneshot;
use tokio::time::timeout;

use super::answer::{Answer, Failed, refused, work};
use super::artist::{Appearance, Canvas, PictureRequest};
use super::clips::{self, ClipJson};
use super::door::{LONGEST_BODY, guard};
use super::history::Depth;
use super::maker::{Video, VideoRequest};
use super::pair_json::{PairJson, pair_json};
use super::pairs::PairRequest;
use super::{Shared, news, pages, reader};
use crate::compose::Layout;
use crate::media::OpenOptions;
use crate::messages::desk as messages;
use crate::reading;
use crate::store::Rating;
use crate::types::{Error, EventId, Result, Side, SyncOn};

type Desk = State<Arc<Shared>>;

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
        .route("/clips/{id}/events/{event}", put(pin).delete(unpin))
        .route("/clips/{id}/marks", delete(as_found))
        .route("/clips/{id}/bats", put(bats))
        .route("/clips/{id}/rating", put(rating))
        .route("/undo", post(undo))
        .route("/redo", post(redo))
        .route("/pairs/{today}/{references}", get(pair))
        .route("/pairs/{today}/{references}/pictures/{lead}/{index}", get(picture))
        .route("/pairs/{today}/{references}/video", post(make))
        .route("/video", delete(stop_making))
        .route("/videos/{id}", get(video));
    app.route("/theme.css", get(|| async { pages::theme_css() }))
        .nest("/api/1", api)
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
    clips: Vec<ClipJson>,
    reading: reader::ReadingStatus,
    history: Depth,
    making: bool,
    videos: Vec<Video>,
}

async fn state(State(shared): Desk) -> Answer<Json<StateJson>> {
    work(shared, |shared| {
        Ok(Json(StateJson {
            folder: crate::types::file_name(shared.films.folder()),
            clips: clips::list(shared)?,
            reading: shared.reader.status(),
            history: shared.history.depth(),
            making: shared.maker.is_making(),
            videos: shared.maker.made(),
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

/// What comes back after something was set.
#[derive(Serialize)]
struct SetJson {
    clip: ClipJson,
    history: Depth,
}

fn event_from(word: &str) -> Result<EventId> {
    EventId::from_word(word).ok_or_else(|| Error::Usage(messages::NO_SUCH_EVENT.to_owned()))
}

/// Set something of a clip and read it anew; the other pages hear of it.
async fn set(
    shared: Arc<Shared>,
    id: String,
    job: impl FnOnce(&Shared, &super::films::Film) -> Result<()> + Send + 'static,
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
struct PinAt {
    /// Place in the clip's index of pictures.
    picture: usize,
}

async fn pin(
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

async fn unpin(State(shared): Desk, Path((id, event)): Path<(String, String)>) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| shared.history.pin(film, event_from(&event)?, None, shared.limits))
        .await
}

async fn as_found(State(shared): Desk, Path(id): Path<String>) -> Answer<Json<SetJson>> {
    set(shared, id, |shared, film| shared.history.as_found(film, shared.limits)).await
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Bats {
    side: Option<Side>,
}

async fn bats(State(shared): Desk, Path(id): Path<String>, Json(wish): Json<Bats>) -> Answer<Json<SetJson>> {
    set(shared, id, move |shared, film| shared.history.bats(film, wish.side, shared.limits)).await
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Rated {
    rating: Option<Rating>,
}

async fn rating(
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

async fn undo(State(shared): Desk) -> Answer<Json<SetJson>> {
    step(shared, true).await
}

async fn redo(State(shared): Desk) -> Answer<Json<SetJson>> {
    step(shared, false).await
}

/// What the two are lined up on, and how they are shown.
#[derive(Deserialize)]
struct PairQuery {
    sync: Option<String>,
    layout: Option<String>,
    ghost: Option<f64>,
    width: Option<usize>,
    height: Option<usize>,
    /// As the video shows it, words and all.
    whole: Option<bool>,
    v: Option<String>,
}

fn not_understood() -> Error {
    Error::Usage(messages::NOT_UNDERSTOOD.to_owned())
}

fn pair_request(today: String, references: &str, sync: Option<&str>) -> Result<PairRequest> {
    let sync = match sync {
        None => SyncOn::Event(EventId::Plant),
        Some("phases") => SyncOn::Phases,
        Some(word) => SyncOn::Event(event_from(word)?),
    };
    Ok(PairRequest { today, references: references.split(',').map(str::to_owned).collect(), sync })
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

async fn pair(
    State(shared): Desk,
    Path((today, references)): Path<(String, String)>,
    Query(query): Query<PairQuery>,
) -> Answer<Json<PairJson>> {
    work(shared, move |shared| {
        let data = shared.pairs.pair(shared, &pair_request(today, &references, query.sync.as_deref())?)?;
        Ok(Json(pair_json(&data)))
    })
    .await
}

async fn picture(
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
        let (asked, appearance) =
            (pair_request(today, &references, query.sync.as_deref())?, query.appearance()?);
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
struct MakeQuery {
    sync: Option<String>,
}

async fn make(
    State(shared): Desk,
    Path((today, references)): Path<(String, String)>,
    Query(query): Query<MakeQuery>,
    Json(wish): Json<VideoRequest>,
) -> Answer<StatusCode> {
    work(shared, move |shared| {
        let data = shared.pairs.pair(shared, &pair_request(today, &references, query.sync.as_deref())?)?;
        shared.maker.begin(shared, data, &wish)?;
        Ok(StatusCode::ACCEPTED)
    })
    .await
}

async fn stop_making(State(shared): Desk) -> StatusCode {
    shared.maker.stop();
    StatusCode::NO_CONTENT
}

#[derive(Deserialize)]
struct VideoQuery {
    download: Option<bool>,
}

async fn video(
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
fn video_answer(bytes: Vec<u8>, range: Option<&str>, download: Option<String>) -> Response {
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
