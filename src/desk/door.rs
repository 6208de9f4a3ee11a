//! Who may come in: whoever has the address with its secret, from a page of the desk itself.
//!
//! - `Host` must be the desk's own, so that no other name can be made to lead here (DNS rebinding).
//! - The secret of the address becomes a cookie that scripts can't read and other sites don't send.
//! - What changes something must come from the desk's page (`Origin`); what other pages ask for is refused
//!   (`Sec-Fetch-Site`), also those of other ports of this computer, which count as the same site.

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::http::{HeaderMap, Method, StatusCode};
use axum::middleware::Next;
use axum::response::Response;
use std::sync::Arc;

use super::Shared;
use super::answer::refused;
use super::voice::LONGEST_NOTE;
use crate::messages::desk as messages;
use crate::types::{Error, Result};

/// Requests that say they are longer are refused unread, bytes.
pub const LONGEST_BODY: usize = 16 * 1024;
/// A spoken note is sent here, and may be longer.
const NOTES: &str = "/api/1/voices";

/// The query that carries the secret.
const KEY: &str = "key=";

pub struct Door {
    port: u16,
    secret: String,
}

/// 192 bits that nobody guesses, as text.
pub fn random_code() -> Result<String> {
    let mut bytes = [0; 24];
    getrandom::fill(&mut bytes).map_err(|e| Error::Internal(messages::no_random(&e)))?;
    Ok(bytes.iter().map(|b| format!("{b:02x}")).collect())
}

/// Compared to its end whatever it holds, so that the time it takes tells nothing.
pub fn same(own: &str, given: &str) -> bool {
    let (own, given) = (own.as_bytes(), given.as_bytes());
    own.len() == given.len() && own.iter().zip(given).fold(0, |all, (a, b)| all | (a ^ b)) == 0
}

impl Door {
    pub fn new(port: u16) -> Result<Self> {
        Ok(Self { port, secret: random_code()? })
    }

    fn host(&self) -> String {
        format!("127.0.0.1:{}", self.port)
    }

    pub fn address(&self) -> String {
        format!("http://{}/?{KEY}{}", self.host(), self.secret)
    }

    /// Cookies know no ports: the name keeps two desks apart.
    fn cookie(&self) -> String {
        format!("swingpair_desk_{}={}", self.port, self.secret)
    }

    fn is_secret(&self, given: &str) -> bool {
        same(&self.secret, given)
    }

    fn has_cookie(&self, headers: &HeaderMap) -> bool {
        let cookies = headers.get_all(header::COOKIE).iter().filter_map(|v| v.to_str().ok());
        let name = format!("swingpair_desk_{}=", self.port);
        cookies
            .flat_map(|v| v.split(';'))
            .any(|c| c.trim().strip_prefix(&name).is_some_and(|s| self.is_secret(s)))
    }

    /// Why a request is refused; `Ok(true)`: it brings the secret, which becomes a cookie.
    fn judge(&self, request: &Request) -> std::result::Result<bool, (StatusCode, &'static str)> {
        let headers = request.headers();
        let one = |name: HeaderName| {
            let mut all = headers.get_all(name).iter();
            all.next().filter(|_| all.next().is_none()).and_then(|v| v.to_str().ok())
        };
        if one(header::HOST) != Some(self.host().as_str()) {
            return Err((StatusCode::MISDIRECTED_REQUEST, messages::OTHER_HOST));
        }
        let forbidden = |why| Err((StatusCode::FORBIDDEN, why));
        let asks = request.method() == Method::GET || request.method() == Method::HEAD;
        let own = format!("http://{}", self.host());
        let origin_good = match headers.get(header::ORIGIN) {
            Some(_) => one(header::ORIGIN) == Some(own.as_str()),
            None => asks,
        };
        let front = request.uri().path() == "/";
        let fetched_by = headers.get("sec-fetch-site").map(|v| v.to_str().unwrap_or_default());
        // An address that is clicked or typed anywhere leads to the front page alone.
        let page_good = fetched_by.is_none_or(|by| ["same-origin", "none"].contains(&by) || front && asks);
        if !origin_good || !page_good {
            return forbidden(messages::OTHER_PAGE);
        }
        let key = request.uri().query().and_then(|q| q.split('&').find_map(|part| part.strip_prefix(KEY)));
        let brings = front && asks && key.is_some_and(|key| self.is_secret(key));
        if !brings && !self.has_cookie(headers) {
            return forbidden(messages::NO_KEY);
        }
        let length = one(header::CONTENT_LENGTH).map(|l| l.parse::<usize>().unwrap_or(usize::MAX));
        let note = request.method() == Method::POST && request.uri().path() == NOTES;
        let longest = if note { LONGEST_NOTE } else { LONGEST_BODY };
        if length.is_some_and(|length| length > longest) {
            return Err((StatusCode::PAYLOAD_TOO_LARGE, messages::TOO_LARGE));
        }
        Ok(brings)
    }
}

/// What every answer says: nothing from elsewhere is loaded, nobody frames or embeds it, nothing is kept by others.
const HEADERS: [(&str, &str); 6] = [
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("permissions-policy", "camera=(), geolocation=()"),
];
const POLICY: [&str; 5] = [
    "default-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
    "object-src 'none'",
];

/// What the server crate refuses by itself is told as everything else is.
fn in_a_sentence(answer: Response) -> Response {
    let json = answer.headers().get(header::CONTENT_TYPE).is_some_and(|kind| kind == "application/json");
    match answer.status() {
        StatusCode::PAYLOAD_TOO_LARGE if !json => refused(StatusCode::PAYLOAD_TOO_LARGE, messages::TOO_LARGE),
        status if status.is_client_error() && !json => refused(status, messages::NOT_UNDERSTOOD),
        _ => answer,
    }
}

pub async fn guard(State(shared): State<Arc<Shared>>, request: Request, next: Next) -> Response {
    let door = &shared.door;
    let judged = door.judge(&request);
    let mut answer = match judged {
        Ok(_) => in_a_sentence(next.run(request).await),
        Err((status, why)) => refused(status, why),
    };
    let headers = answer.headers_mut();
    for (name, value) in HEADERS {
        headers.insert(HeaderName::from_static(name), HeaderValue::from_static(value));
    }
    // A page that a lesson made has a stricter one.
    let own_policy = headers.contains_key(header::CONTENT_SECURITY_POLICY);
    let mut set = |name: HeaderName, value: &str| {
        if let Ok(value) = HeaderValue::from_str(value) {
            headers.insert(name, value);
        }
    };
    if !own_policy {
        set(header::CONTENT_SECURITY_POLICY, &POLICY.join("; "));
    }
    if judged.is_err() {
        // What was not read of a refused request is not read either.
        set(header::CONNECTION, "close");
    }
    if judged == Ok(true) {
        set(
            header::SET_COOKIE,
            &[door.cookie().as_str(), "HttpOnly", "SameSite=Strict", "Path=/"].join("; "),
        );
    }
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    answer
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::body::Body;

    fn judged(door: &Door, method: Method, uri: &str, headers: &[(&str, &str)]) -> Option<StatusCode> {
        let mut request = Request::builder().method(method).uri(uri);
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        door.judge(&request.body(Body::empty()).unwrap()).err().map(|(status, _)| status)
    }

    #[test]
    fn only_the_desks_own_page_with_its_secret_comes_in() {
        let door = Door::new(4321).unwrap();
        let (host, cookie) = (("host", "127.0.0.1:4321"), door.cookie());
        let own = ("origin", "http://127.0.0.1:4321");
        let with = ("cookie", cookie.as_str());
        let get = |uri: &str, headers: &[(&str, &str)]| judged(&door, Method::GET, uri, headers);
        let put = |headers: &[(&str, &str)]| judged(&door, Method::PUT, "/api/1/x", headers);
        assert_eq!(get(&format!("/?key={}", door.secret), &[host]), None);
        assert_eq!(get("/api/1/clips", &[host, with]), None);
        assert_eq!(put(&[host, with, own]), None);
        let (no, other) = (Some(StatusCode::FORBIDDEN), Some(StatusCode::MISDIRECTED_REQUEST));
        // Without the secret, or with it in a place where it does not count.
        assert_eq!(get("/", &[host]), no);
        assert_eq!(get("/?key=", &[host]), no);
        assert_eq!(get(&format!("/api/1/clips?key={}", door.secret), &[host]), no);
        assert_eq!(get("/api/1/clips", &[host, ("cookie", "swingpair_desk_4321=00")]), no);
        // Another name for this computer, none, or two.
        for wrong in ["localhost:4321", "127.0.0.1", "evil.example:4321", ""] {
            assert_eq!(get("/api/1/clips", &[("host", wrong), with]), other, "{wrong}");
        }
        assert_eq!(get("/api/1/clips", &[with]), other);
        assert_eq!(get("/api/1/clips", &[host, ("host", "evil.example"), with]), other);
        // Another page, of another port of this computer too.
        for origin in ["http://evil.example", "null", "http://127.0.0.1:9", "https://127.0.0.1:4321"] {
            assert_eq!(put(&[host, with, ("origin", origin)]), no, "{origin}");
            assert_eq!(get("/api/1/clips", &[host, with, ("origin", origin)]), no, "{origin}");
        }
        assert_eq!(put(&[host, with]), no);
        for site in ["cross-site", "same-site"] {
            assert_eq!(get("/api/1/clips", &[host, with, ("sec-fetch-site", site)]), no, "{site}");
            assert_eq!(get("/", &[host, with, ("sec-fetch-site", site)]), None, "{site}");
        }
        let long = Some(StatusCode::PAYLOAD_TOO_LARGE);
        for length in ["1000000000", "99999999999999999999999999"] {
            assert_eq!(put(&[host, with, own, ("content-length", length)]), long);
        }
        let note = |headers: &[(&str, &str)]| judged(&door, Method::POST, NOTES, headers);
        assert_eq!(note(&[host, with, own, ("content-length", "20000000")]), None);
        assert_eq!(note(&[host, with, own, ("content-length", "20000001")]), long);
        assert_eq!(note(&[host, own, ("content-length", "2000")]), no);
    }
}
