//! One finished video for a phone in the same network: an address of its own with a long random code, which gives this
//! one file and nothing else, and ends with the desk. Off unless it is asked for.

use std::net::{IpAddr, Ipv4Addr, TcpListener, UdpSocket};
use std::sync::{Arc, Mutex};

use axum::Router;
use axum::extract::{Request, State};
use axum::http::{Method, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Serialize;

use super::Shared;
use super::api::video_answer;
use super::door::same;
use super::maker::Video;
use crate::messages::desk as messages;
use crate::types::{Error, Result};

/// Where a phone asks for it.
pub struct Share {
    here: IpAddr,
    port: u16,
    now: Mutex<Option<Shown>>,
}

struct Shown {
    code: String,
    video: Video,
}

/// What is shared now.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ShareJson {
    /// The video's id.
    pub video: String,
    pub address: String,
}

impl Share {
    /// Take a place that others in the network can reach; nothing is given there yet.
    pub fn open() -> Result<(Self, TcpListener)> {
        let failed = |e: std::io::Error| Error::Usage(messages::no_share(&e));
        let listener = TcpListener::bind((Ipv4Addr::UNSPECIFIED, 0)).map_err(failed)?;
        listener.set_nonblocking(true).map_err(failed)?;
        let port = listener.local_addr().map_err(failed)?.port();
        let here = own_address().map_err(failed)?;
        Ok((Self { here, port, now: Mutex::default() }, listener))
    }

    /// From now on this one is given, under a new code; the one before no longer is.
    pub fn show(&self, video: Video) -> Result<ShareJson> {
        // Typed by hand: 128 bits are still more than anybody guesses.
        let mut code = super::door::random_code()?;
        code.truncate(32);
        *self.now.lock().map_err(|_| Error::WorkerLost)? = Some(Shown { code, video });
        self.status().ok_or(Error::WorkerLost)
    }

    pub fn stop(&self) {
        if let Ok(mut now) = self.now.lock() {
            *now = None;
        }
    }

    pub fn status(&self) -> Option<ShareJson> {
        let now = self.now.lock().ok()?;
        now.as_ref().map(|shown| ShareJson {
            video: shown.video.id.clone(),
            address: format!("http://{}:{}/{}", self.here, self.port, shown.code),
        })
    }

    /// The video that a path names.
    fn asked(&self, path: &str) -> Option<Video> {
        let now = self.now.lock().ok()?;
        let given = path.strip_prefix('/')?;
        now.as_ref().filter(|shown| same(&shown.code, given)).map(|shown| shown.video.clone())
    }
}

/// This computer's address in its network: the one that a packet to elsewhere would leave from. None is sent
/// (192.0.2.0/24 is nobody's: RFC 5737).
fn own_address() -> std::io::Result<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))?;
    let elsewhere = (Ipv4Addr::new(192, 0, 2, 1), 9);
    // Without a network it can still be tried on this computer.
    let here = socket.connect(elsewhere).and_then(|()| socket.local_addr());
    Ok(here.map_or(Ipv4Addr::LOCALHOST.into(), |a| a.ip()))
}

pub fn routes(shared: Arc<Shared>) -> Router {
    Router::new().fallback(give).with_state(shared)
}

/// The one video, or nothing: no page, no list, and no word why.
async fn give(State(shared): State<Arc<Shared>>, request: Request) -> Response {
    let asks = request.method() == Method::GET || request.method() == Method::HEAD;
    let video = shared.share.as_ref().filter(|_| asks).and_then(|share| share.asked(request.uri().path()));
    let range = request.headers().get(header::RANGE).and_then(|v| v.to_str().ok()).map(str::to_owned);
    let bytes = match video.clone() {
        Some(video) => {
            tokio::task::spawn_blocking(move || std::fs::read(video.path).ok()).await.ok().flatten()
        }
        None => None,
    };
    let mut answer = match (video, bytes) {
        (Some(_), Some(bytes)) => video_answer(bytes, range.as_deref(), None),
        _ => StatusCode::NOT_FOUND.into_response(),
    };
    let headers = [
        (header::CACHE_CONTROL, "no-store"),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::X_FRAME_OPTIONS, "DENY"),
    ];
    for (name, value) in headers {
        answer.headers_mut().insert(name, header::HeaderValue::from_static(value));
    }
    // A browser plays it in a page of its own, which loads the same address.
    let policy = ["default-src 'none'", "media-src 'self'"].join("; ");
    if let Ok(policy) = header::HeaderValue::from_str(&policy) {
        answer.headers_mut().insert(header::CONTENT_SECURITY_POLICY, policy);
    }
    answer
}
