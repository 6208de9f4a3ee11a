//! Each way in that is not the coach's own: refused, nothing changed, nothing leaked.

use std::fs;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use swingpair::store::short_hash;
use tempfile::TempDir;

use super::served::Served;

/// Words of a file outside of the folder.
const SECRET: &str = "only for the coach";

/// A folder with a film and a link out of it, beside a file that is nobody's business.
fn folder() -> TempDir {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("secret.mp4"), SECRET).unwrap();
    let reps = dir.path().join("reps");
    fs::create_dir(&reps).unwrap();
    fs::write(reps.join("rep.mp4"), "no film at all").unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink(dir.path().join("secret.mp4"), reps.join("link.mp4")).unwrap();
    dir
}

fn served(dir: &TempDir) -> Served {
    Served::start(&dir.path().join("reps"))
}

fn leaks_nothing(text: &str, desk: &Served) {
    for word in [SECRET, &desk.secret, "rep.mp4", "reps"] {
        assert!(!text.contains(word), "{word:?} is told: {text}");
    }
}

#[test]
fn who_has_the_address_comes_in_and_nobody_else() {
    let dir = folder();
    let desk = served(&dir);
    let host = desk.host();
    let page = desk.request("GET", &format!("/?key={}", desk.secret), &[("Host", &*host)], "");
    assert_eq!(page.status, 200);
    let head = page.head.to_lowercase();
    let cookie = head.lines().find(|l| l.starts_with("set-cookie:")).unwrap();
    assert!(cookie.contains("httponly") && cookie.contains("samesite=strict"), "{cookie}");
    for header in
        ["content-security-policy: default-src 'self'", "x-frame-options: deny", "cache-control: no-store"]
    {
        assert!(head.contains(header), "{header}: {head}");
    }
    assert!(!head.contains("access-control-"), "{head}");
    assert_eq!(desk.get("/api/1/state").json()["clips"].as_array().unwrap().len(), 1);

    // No secret, a wrong one, one in the wrong place.
    for (path, cookie) in [
        ("/".to_owned(), String::new()),
        ("/main.js".to_owned(), String::new()),
        ("/api/1/state".to_owned(), String::new()),
        (format!("/?key={}0", desk.secret), String::new()),
        (format!("/api/1/state?key={}", desk.secret), String::new()),
        ("/api/1/state".to_owned(), format!("swingpair_desk_{}=0", desk.port)),
        ("/api/1/state".to_owned(), format!("other={}", desk.secret)),
    ] {
        let refused = desk.request("GET", &path, &[("Host", &*host), ("Cookie", &*cookie)], "");
        assert_eq!(refused.status, 403, "{path} {cookie}");
        leaks_nothing(&(refused.head.clone() + &refused.text()), &desk);
    }
}

#[test]
fn another_name_for_this_computer_is_refused() {
    let dir = folder();
    let desk = served(&dir);
    let cookie = desk.cookie();
    for host in ["evil.example", "evil.example:80", "localhost", "127.0.0.1", "127.0.0.1:1", "[::1]"] {
        let refused = desk.request("GET", "/api/1/state", &[("Host", host), ("Cookie", &*cookie)], "");
        assert_eq!(refused.status, 421, "{host}");
        leaks_nothing(&(refused.head.clone() + &refused.text()), &desk);
    }
    let two = [("Host", desk.host()), ("Host", "evil.example".to_owned()), ("Cookie", cookie)];
    let two: Vec<(&str, &str)> = two.iter().map(|(n, v)| (*n, v.as_str())).collect();
    assert!([400, 421].contains(&desk.request("GET", "/api/1/state", &two, "").status));
}

#[test]
fn another_page_neither_reads_nor_changes_anything() {
    let dir = folder();
    let desk = served(&dir);
    let (host, cookie) = (desk.host(), desk.cookie());
    let id = short_hash(b"rep.mp4");
    let other_port = "http://127.0.0.1:9".to_owned();
    for origin in ["http://evil.example", "null", &other_port, &format!("http://localhost:{}", desk.port)] {
        let headers = [("Host", &*host), ("Cookie", &*cookie), ("Origin", origin)];
        for (method, path, body) in [
            ("GET", "/api/1/state".to_owned(), ""),
            ("PUT", format!("/api/1/clips/{id}/rating"), r#"{"rating":"best"}"#),
            ("PUT", "/api/1/reading".to_owned(), r#"{"stopped":true}"#),
            ("POST", "/api/1/undo".to_owned(), ""),
            ("OPTIONS", "/api/1/state".to_owned(), ""),
        ] {
            let refused = desk.request(method, &path, &headers, body);
            assert_eq!(refused.status, 403, "{origin} {method} {path}");
            assert!(!refused.head.to_lowercase().contains("access-control-"), "{}", refused.head);
        }
    }
    // A form of another page, which sends no JSON; a page that says nothing of itself; one of the same site.
    let form = format!(
        "POST /api/1/undo HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nConnection: close\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 3\r\n\r\na=b"
    );
    assert_eq!(desk.raw(form.as_bytes()).status, 403);
    for site in ["cross-site", "same-site"] {
        let headers = [("Host", &*host), ("Cookie", &*cookie), ("Sec-Fetch-Site", site)];
        assert_eq!(desk.request("GET", "/api/1/state", &headers, "").status, 403);
    }
    assert_eq!(desk.get("/api/1/state").json()["reading"]["stopped"], false);
    assert!(!dir.path().join("reps/rep.swing.json").exists());
}

#[test]
fn no_path_climbs_out_of_the_folder_and_no_link_is_followed() {
    let dir = folder();
    let desk = served(&dir);
    let full = dir.path().join("secret.mp4").display().to_string();
    for id in [
        "../secret.mp4",
        "..%2fsecret.mp4",
        "%2e%2e%2fsecret.mp4",
        "..%5csecret.mp4",
        "rep.mp4",
        "secret.mp4",
        "link.mp4",
        &short_hash(b"link.mp4"),
        &short_hash(b"secret.mp4"),
        &short_hash(b"../secret.mp4"),
        &full.replace('/', "%2f"),
        "%00",
    ] {
        for path in [
            format!("/api/1/clips/{id}/pictures/0"),
            format!("/api/1/pairs/{id}/{id}"),
            format!("/api/1/videos/{id}"),
        ] {
            let refused = desk.get(&path);
            assert!([400, 404].contains(&refused.status), "{path}: {}", refused.status);
            assert!(!refused.text().contains(SECRET), "{path}");
        }
    }
    for path in ["/../secret.mp4", "/..%2f..%2fetc/passwd", "//etc/passwd", "/src/main.rs"] {
        assert_eq!(desk.get(path).status, 404, "{path}");
    }
    let state = desk.get("/api/1/state").text();
    assert!(!state.contains("link.mp4") && !state.contains(dir.path().to_str().unwrap()), "{state}");
}

#[test]
#[cfg(unix)]
fn a_lesson_names_no_clip_outside_of_the_folder() {
    use std::os::unix::fs::symlink;
    let dir = folder();
    let (secret, reps) = (dir.path().join("secret.mp4"), dir.path().join("reps"));
    fs::create_dir(reps.join("sub")).unwrap();
    fs::write(reps.join("sub/own.mp4"), "no film at all").unwrap();
    symlink(&secret, reps.join("sub/link.mp4")).unwrap();
    symlink(dir.path(), reps.join("out")).unwrap();
    let outside = [
        "../secret.mp4",
        "sub/../../secret.mp4",
        "sub/link.mp4",
        "out/secret.mp4",
        "out/reps/sub/own.mp4",
        secret.to_str().unwrap(),
    ];
    let all: Vec<String> = outside.iter().chain(&["sub/own.mp4"]).map(|word| format!("{word:?}")).collect();
    let all = all.join(", ");
    let text = format!(
        "lesson = 1\n[[hitter]]\nname = \"Wren Castellow\"\ngood = [{all}]\n[[hitter.day]]\nreps = [{all}]\n"
    );
    fs::write(reps.join("lesson.toml"), text).unwrap();
    let desk = served(&dir);
    let own = short_hash(b"sub/own.mp4");
    let told = desk.get("/api/1/lesson").json();
    let hitter = &told["hitters"][0];
    assert_eq!(
        (&hitter["good"], &hitter["days"][0]["clips"]),
        (&serde_json::json!([own]), &serde_json::json!([own]))
    );
    let state = desk.get("/api/1/state").json();
    let names: Vec<_> =
        state["clips"].as_array().unwrap().iter().map(|c| c["name"].as_str().unwrap()).collect();
    assert_eq!(names, ["rep.mp4", "own.mp4"]);
    for word in outside.into_iter().chain(["secret.mp4", "link.mp4"]) {
        for id in [&short_hash(word.as_bytes()), &word.replace('/', "%2f")] {
            let refused = desk.get(&format!("/api/1/clips/{id}/pictures/0"));
            assert!([400, 404].contains(&refused.status), "{word}: {}", refused.status);
            assert!(!refused.text().contains(SECRET), "{word}");
        }
    }
}

#[test]
fn what_is_too_large_is_refused_unread() {
    let dir = folder();
    let desk = served(&dir);
    let origin = format!("http://{}", desk.host());
    let head = format!(
        "PUT /api/1/reading HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\nOrigin: {origin}\r\nContent-Type: application/json\r\n",
        desk.host(),
        desk.cookie()
    );
    let began = Instant::now();
    let gigabyte = format!("{head}Content-Length: 1000000000\r\n\r\n{}", "x".repeat(1000));
    assert_eq!(desk.raw(gigabyte.as_bytes()).status, 413);
    let nonsense = desk.own("PUT", "/api/1/reading", "{");
    let told: serde_json::Value = serde_json::from_slice(&nonsense.body).unwrap();
    assert!(nonsense.status == 400 && told["error"].is_string(), "{told}");
    // The same without saying how much comes: some hundred KB suffice to show that it is not taken.
    let chunk = format!("4000\r\n{}\r\n", " ".repeat(0x4000)).repeat(20);
    let unsaid = desk.raw(format!("{head}Transfer-Encoding: chunked\r\n\r\n{chunk}0\r\n\r\n").as_bytes());
    assert!([0, 413].contains(&unsaid.status), "{}", unsaid.status);
    let long = format!("GET /{} HTTP/1.1\r\nHost: {}\r\n\r\n", "a".repeat(200_000), desk.host());
    assert!([0, 414, 431].contains(&desk.raw(long.as_bytes()).status));
    assert!(began.elapsed() < Duration::from_secs(20), "it was waited for");
    assert_eq!(desk.get("/api/1/state").json()["reading"]["stopped"], false);
}

#[test]
fn many_connections_are_closed_and_the_desk_goes_on() {
    let dir = folder();
    let desk = served(&dir);
    // Each says a little and waits.
    let mut open: Vec<TcpStream> = Vec::new();
    for _ in 0..600 {
        let Ok(mut stream) = TcpStream::connect(("127.0.0.1", desk.port)) else { continue };
        let _ = stream.write_all(b"GET / HTTP/1.1\r\n");
        open.push(stream);
    }
    std::thread::sleep(Duration::from_secs(1));
    let closed = |stream: &mut TcpStream| {
        stream.set_nonblocking(true).unwrap();
        match stream.read(&mut [0; 16]) {
            Ok(n) => n == 0,
            Err(e) => e.kind() != std::io::ErrorKind::WouldBlock,
        }
    };
    let held = open.iter_mut().filter_map(|s| (!closed(s)).then_some(())).count();
    assert!((1..=64).contains(&held), "{held} of {} are held", open.len());
    drop(open);
    std::thread::sleep(Duration::from_millis(500));
    assert_eq!(desk.get("/api/1/state").status, 200);
}

#[test]
#[cfg(unix)]
fn ctrl_c_ends_it_in_the_middle_of_news() {
    let dir = folder();
    let desk = served(&dir);
    let mut stream = desk.connect();
    let (host, cookie) = (desk.host(), desk.cookie());
    let ask = format!("GET /api/1/events HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n");
    stream.write_all(ask.as_bytes()).unwrap();
    let mut first = [0; 12];
    stream.read_exact(&mut first).unwrap();
    assert_eq!(&first, b"HTTP/1.1 200");
    let began = Instant::now();
    assert_eq!(desk.interrupt(), Some(0));
    assert!(began.elapsed() < Duration::from_secs(5), "{:?}", began.elapsed());
}

#[test]
fn a_port_in_use_and_a_folder_that_is_none_are_told() {
    let dir = folder();
    let desk = served(&dir);
    let run = |words: &[&str]| {
        let done = std::process::Command::new(env!("CARGO_BIN_EXE_swingpair")).args(words).output().unwrap();
        (done.status.code(), String::from_utf8(done.stdout).unwrap(), String::from_utf8(done.stderr).unwrap())
    };
    let reps = dir.path().join("reps").display().to_string();
    let (code, out, err) = run(&["desk", &reps, "--no-browser", "--port", &desk.port.to_string()]);
    assert_eq!((code, out.as_str()), (Some(2), ""));
    assert!(err.contains(&desk.port.to_string()) && err.contains("--port"), "{err}");
    let (code, _, err) = run(&["desk", &format!("{reps}/rep.mp4"), "--no-browser"]);
    assert!(code == Some(2) && err.contains("not a folder"), "{err}");
}
