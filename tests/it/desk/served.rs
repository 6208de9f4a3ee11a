//! A desk that runs, and a client that says exactly what it is told to.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A program that serves a folder; ended when dropped.
pub struct Served {
    child: Child,
    pub port: u16,
    pub secret: String,
}

/// What came back.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl Answer {
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub fn json(&self) -> serde_json::Value {
        assert_eq!(self.status, 200, "{}", self.text());
        serde_json::from_slice(&self.body).unwrap()
    }
}

impl Served {
    pub fn start(folder: &Path) -> Self {
        Self::with(folder, &[])
    }

    pub fn with(folder: &Path, words: &[&str]) -> Self {
        let mut command = Command::new(env!("CARGO_BIN_EXE_swingpair"));
        command.args(["-q", "desk", "--no-browser"]).args(words).arg(folder);
        Self::spawned(command)
    }

    /// Begun by a shell after these commands.
    #[cfg(unix)]
    pub fn within(folder: &Path, before: &str) -> Self {
        let mut command = Command::new("sh");
        command.args(["-c", &format!("{before}; exec \"$@\""), "sh", env!("CARGO_BIN_EXE_swingpair")]);
        command.args(["-q", "desk", "--no-browser"]).arg(folder);
        Self::spawned(command)
    }

    fn spawned(mut command: Command) -> Self {
        let mut child = command.stdin(Stdio::null()).stdout(Stdio::piped()).spawn().unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let rest = line.trim().strip_prefix("http://127.0.0.1:").unwrap_or_else(|| panic!("{line:?}"));
        let (port, secret) = rest.split_once("/?key=").unwrap();
        Self { child, port: port.parse().unwrap(), secret: secret.to_owned() }
    }

    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/?key={}", self.port, self.secret)
    }

    pub fn host(&self) -> String {
        format!("127.0.0.1:{}", self.port)
    }

    pub fn cookie(&self) -> String {
        format!("swingpair_desk_{}={}", self.port, self.secret)
    }

    pub fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
        stream
    }

    /// Exactly these bytes, and what comes back until the server closes.
    pub fn raw(&self, request: &[u8]) -> Answer {
        let mut stream = self.connect();
        // A server that has heard enough may close before all is said.
        let _ = stream.write_all(request);
        read(&mut stream)
    }

    pub fn request(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &str) -> Answer {
        let mut text = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\n");
        for (name, value) in headers {
            text.push_str(&format!("{name}: {value}\r\n"));
        }
        if !body.is_empty() {
            text.push_str(&format!("Content-Type: application/json\r\nContent-Length: {}\r\n", body.len()));
        }
        self.raw(format!("{text}\r\n{body}").as_bytes())
    }

    /// As the desk's own page asks.
    pub fn own(&self, method: &str, path: &str, body: &str) -> Answer {
        let origin = format!("http://{}", self.host());
        let headers = [("Host", &*self.host()), ("Cookie", &*self.cookie()), ("Origin", &*origin)];
        self.request(method, path, &headers, body)
    }

    /// As the desk's own page sends a file.
    pub fn send(&self, path: &str, body: &[u8]) -> Answer {
        let (host, cookie) = (self.host(), self.cookie());
        let head = format!(
            "POST {path} HTTP/1.1\r\nConnection: close\r\nHost: {host}\r\nCookie: {cookie}\r\nOrigin: http://{host}\r\n\
             Content-Type: application/octet-stream\r\nContent-Length: {}\r\n\r\n",
            body.len()
        );
        self.raw(&[head.as_bytes(), body].concat())
    }

    /// What happens from now on.
    pub fn news(&self) -> News {
        let mut stream = self.connect();
        stream.set_read_timeout(Some(Duration::from_secs(240))).unwrap();
        let (host, cookie) = (self.host(), self.cookie());
        let ask = format!("GET /api/1/events HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n");
        stream.write_all(ask.as_bytes()).unwrap();
        let mut lines = BufReader::new(stream);
        let mut line = String::new();
        while line != "\r\n" {
            line.clear();
            assert!(lines.read_line(&mut line).unwrap() > 0, "no news come");
        }
        News(lines)
    }

    /// Begins to make a video; gives how that ends.
    pub fn ended(&self, url: &str, wish: &serde_json::Value) -> serde_json::Value {
        let mut news = self.news();
        let begun = self.own("POST", url, &wish.to_string());
        assert_eq!(begun.status, 202, "{}", begun.text());
        loop {
            let what = news.wait("making");
            if what["end"].is_string() {
                return what;
            }
        }
    }

    /// The video that is made.
    pub fn make(&self, url: &str, wish: &serde_json::Value) -> serde_json::Value {
        let end = self.ended(url, wish);
        assert_eq!(end["end"], "made", "{end}");
        end["video"].clone()
    }

    pub fn get(&self, path: &str) -> Answer {
        self.own("GET", path, "")
    }

    /// Ctrl-C; gives the exit code.
    #[cfg(unix)]
    pub fn interrupt(mut self) -> Option<i32> {
        let done = Command::new("kill").args(["-INT", &self.child.id().to_string()]).status().unwrap();
        assert!(done.success());
        let began = Instant::now();
        while began.elapsed() < Duration::from_secs(20) {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status.code();
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        panic!("the desk goes on after Ctrl-C");
    }
}

/// Server-sent events as they come.
pub struct News(BufReader<TcpStream>);

impl News {
    /// The next of this kind.
    pub fn wait(&mut self, kind: &str) -> serde_json::Value {
        let (mut line, mut now) = (String::new(), String::new());
        loop {
            line.clear();
            assert!(self.0.read_line(&mut line).unwrap() > 0, "the news end before {kind:?}");
            if let Some(name) = line.strip_prefix("event:") {
                now = name.trim().to_owned();
            } else if let Some(data) = line.strip_prefix("data:").filter(|_| now == kind) {
                return serde_json::from_str(data.trim()).unwrap();
            }
        }
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub fn read(stream: &mut TcpStream) -> Answer {
    let mut all = Vec::new();
    let mut block = [0; 1 << 14];
    // A reset after the answer is an end too.
    while let Ok(n @ 1..) = stream.read(&mut block) {
        all.extend(&block[..n]);
    }
    let end = all.windows(4).position(|w| w == b"\r\n\r\n").map_or(all.len(), |i| i + 4);
    let head = String::from_utf8_lossy(&all[..end]).into_owned();
    let status = head.split(' ').nth(1).and_then(|s| s.parse().ok()).unwrap_or(0);
    Answer { status, head, body: all[end..].to_vec() }
}
