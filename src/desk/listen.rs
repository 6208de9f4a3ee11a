//! Connections: so many at once, each with so much time to say what it wants, and an end that waits for nobody.

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::{sleep, timeout};

use super::Shared;
use super::api;
use super::share;
use crate::types::{Cancel, Error, Result};

/// A browser opens some six for each page. More are closed as they come.
const MOST_CONNECTIONS: usize = 64;
/// Phones that are given the shared video at once open fewer.
const MOST_OF_PHONES: usize = 8;
/// A connection that has not said by then what it wants is closed.
const HEAD_WITHIN: Duration = Duration::from_secs(10);
/// A request's head may be so long, bytes.
const LONGEST_HEAD: usize = 32 * 1024;
/// How often it is looked up whether the end is asked for.
const LOOK_UP: Duration = Duration::from_millis(100);
/// Answers under way at the end get so long.
const LAST_WORDS: Duration = Duration::from_secs(1);
/// Pictures that are decoded and drawn at once.
const WORKERS: usize = 8;

pub fn serve(
    listener: std::net::TcpListener,
    for_phones: Option<std::net::TcpListener>,
    shared: &Arc<Shared>,
    cancel: &Cancel,
) -> Result<()> {
    let failed = |e: std::io::Error| Error::Internal(e.to_string());
    let mut builder = tokio::runtime::Builder::new_current_thread();
    let runtime = builder.enable_all().max_blocking_threads(WORKERS).build().map_err(failed)?;
    let app = api::routes(shared.clone());
    let served = runtime.block_on(async {
        let listener = TcpListener::from_std(listener)?;
        let for_phones = for_phones.map(TcpListener::from_std).transpose()?;
        let phones = async {
            if let Some(listener) = &for_phones {
                accept(listener, &share::routes(shared.clone()), MOST_OF_PHONES, shared, cancel).await;
            }
        };
        tokio::join!(accept(&listener, &app, MOST_CONNECTIONS, shared, cancel), phones);
        Ok(())
    });
    runtime.shutdown_timeout(LAST_WORDS);
    served.map_err(failed)
}

async fn accept(listener: &TcpListener, app: &Router, most: usize, shared: &Arc<Shared>, cancel: &Cancel) {
    let places = Arc::new(Semaphore::new(most));
    let graceful = GracefulShutdown::new();
    while !cancel.is_cancelled() {
        match timeout(LOOK_UP, listener.accept()).await {
            Ok(Ok((stream, _))) => {
                if let Ok(place) = places.clone().try_acquire_owned() {
                    serve_one(stream, app.clone(), &graceful, place);
                }
            }
            // No descriptors left, say: the next one may find some.
            Ok(Err(_)) => sleep(LOOK_UP).await,
            Err(_) => (),
        }
    }
    // Streams of news end by themselves when they see this.
    shared.cancel.cancel();
    shared.pairs.close();
    let _ = timeout(LAST_WORDS, graceful.shutdown()).await;
}

fn serve_one(stream: TcpStream, app: Router, graceful: &GracefulShutdown, place: OwnedSemaphorePermit) {
    let mut http = http1::Builder::new();
    http.timer(TokioTimer::new()).header_read_timeout(HEAD_WITHIN).max_buf_size(LONGEST_HEAD);
    let connection = http.serve_connection(TokioIo::new(stream), TowerToHyperService::new(app));
    let connection = graceful.watch(connection);
    tokio::spawn(async move {
        // A page that went away is no error.
        let _ = connection.await;
        drop(place);
    });
}
