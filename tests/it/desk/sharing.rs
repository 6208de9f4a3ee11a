//! `desk --share`: one finished video under one address, and nothing else.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Command, Stdio};
use std::time::Duration;

use serde_json::{Value, json};
use swingpair::store::short_hash;
use tempfile::TempDir;

use super::served::{Served, read};
use crate::cli::films::films;

/// The answer of the port that phones ask: a status, and what came.
fn asked(port: u16, request: &str) -> (u16, String, Vec<u8>) {
    let mut stream = TcpStream::connect(("127.0.0.1", port)).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(30))).unwrap();
    let _ = stream.write_all(request.as_bytes());
    let answer = read(&mut stream);
    (answer.status, answer.head, answer.body)
}

fn get(port: u16, path: &str) -> (u16, String, Vec<u8>) {
    asked(port, &format!("GET {path} HTTP/1.1\r\nHost: phone\r\nConnection: close\r\n\r\n"))
}

/// Makes the quick video of the two reps; gives it as the desk tells of it.
fn made(desk: &Served) -> Value {
    let [today, best] = ["today.mp4", "best.mp4"].map(|name| short_hash(name.as_bytes()));
    desk.make(&format!("/api/1/pairs/{today}/{best}/video"), &json!({ "plan": "quick" }))
}

fn folder() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let _ = ["today", "best"].map(|name| films().read_before(name, &folder));
    folder
}

#[test]
fn a_phone_gets_the_shared_video_and_nothing_else() {
    let folder = folder();
    let desk = Served::with(folder.path(), &["--share"]);
    let video = made(&desk);
    let id = video["id"].as_str().unwrap();
    assert_eq!(desk.get("/api/1/state").json()["can_share"], true);
    let shared = desk.own("POST", &format!("/api/1/videos/{id}/share"), "").json();
    let address = shared["address"].as_str().unwrap();
    let (_, rest) = address.strip_prefix("http://").unwrap().split_once(':').unwrap();
    let (port, code) = rest.split_once('/').unwrap();
    let port: u16 = port.parse().unwrap();
    assert!(code.len() >= 32 && port != desk.port && !code.contains(&desk.secret), "{address}");

    let (status, head, bytes) = get(port, &format!("/{code}"));
    assert_eq!(status, 200, "{head}");
    assert!(head.to_lowercase().contains("content-type: video/mp4"), "{head}");
    assert!(bytes == std::fs::read(folder.path().join(video["name"].as_str().unwrap())).unwrap());
    let part = format!("GET /{code} HTTP/1.1\r\nHost: x\r\nRange: bytes=4-7\r\nConnection: close\r\n\r\n");
    let (status, _, bytes) = asked(port, &part);
    assert_eq!((status, bytes.as_slice()), (206, b"ftyp".as_slice()));

    // No list, no page, no API, no other file; a wrong code is like none, and nothing is told.
    let (most, last) = code.split_at(code.len() - 1);
    let wrong = format!("{most}{}", if last == "0" { "1" } else { "0" });
    let key = format!("/?key={}", desk.secret);
    for path in [
        "/",
        "/index.html",
        "/main.js",
        "/api/1/state",
        &key,
        &format!("/{wrong}"),
        &format!("/{most}"),
        &format!("/{code}/"),
        &format!("/{code}/../today.mp4"),
        &format!("//{code}"),
        &format!("/x/{code}"),
        &format!("/{id}"),
        "/videos",
        "/today.mp4",
        "/..%2ftoday.mp4",
        "/api/1/videos/",
    ] {
        let (status, head, bytes) = get(port, path);
        assert_eq!((status, bytes.len()), (404, 0), "{path}: {head}");
        assert!(!head.contains(code) && !head.to_lowercase().contains("set-cookie"), "{head}");
    }
    let cookie = desk.cookie();
    let with = format!(
        "GET /api/1/state HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nCookie: {cookie}\r\nConnection: close\r\n\r\n",
        desk.port
    );
    assert_eq!(asked(port, &with).0, 404);
    for method in ["POST", "PUT", "DELETE", "OPTIONS"] {
        let request =
            format!("{method} /{code} HTTP/1.1\r\nHost: x\r\nContent-Length: 0\r\nConnection: close\r\n\r\n");
        assert_eq!(asked(port, &request).0, 404, "{method}");
    }
    // The code opens nothing on the desk's own port.
    let host = desk.host();
    assert_eq!(desk.request("GET", &format!("/{code}"), &[("Host", &*host)], "").status, 403);

    // Shared again it has another code; stopped, it is gone.
    let again = desk.own("POST", &format!("/api/1/videos/{id}/share"), "").json();
    assert_ne!(again["address"], shared["address"]);
    assert_eq!(get(port, &format!("/{code}")).0, 404);
    let now = again["address"].as_str().unwrap().rsplit('/').next().unwrap().to_owned();
    assert_eq!(get(port, &format!("/{now}")).0, 200);
    assert_eq!(desk.own("DELETE", "/api/1/share", "").status, 204);
    assert_eq!(get(port, &format!("/{now}")).0, 404);
    assert_eq!(desk.get("/api/1/state").json()["share"], Value::Null);
    drop(desk);
    assert!(TcpStream::connect(("127.0.0.1", port)).is_err(), "it ends with the desk");
}

#[test]
fn without_being_asked_nothing_is_shared() {
    let folder = tempfile::tempdir().unwrap();
    let desk = Served::start(folder.path());
    let state = desk.get("/api/1/state").json();
    assert_eq!((&state["can_share"], &state["share"]), (&Value::Bool(false), &Value::Null));
    let refused = desk.own("POST", "/api/1/videos/x/share", "");
    assert!(refused.status == 400, "{}", refused.text());
    // The caution is said once, and only with the option.
    for (words, times) in [(vec![], 0), (vec!["--share"], 1)] {
        let mut child = Command::new(env!("CARGO_BIN_EXE_swingpair"))
            .args(["desk", "--no-browser"])
            .args(words)
            .arg(folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        std::thread::sleep(Duration::from_millis(300));
        child.kill().unwrap();
        let mut told = String::new();
        child.stderr.take().unwrap().read_to_string(&mut told).unwrap();
        child.wait().unwrap();
        assert_eq!(told.matches("minor's video").count(), times, "{told}");
    }
}
