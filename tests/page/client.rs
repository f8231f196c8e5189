//! A plain HTTP client: one request, one connection, every header as the test wants it.

use std::io::{Read, Write};
use std::net::{IpAddr, SocketAddr, TcpStream};
use std::time::Duration;

use serde_json::{Value, json};

/// Who asks.
pub struct Client {
    host: String,
    from: Option<IpAddr>,
    /// The cookie that it brings, as `name=token`.
    pub cookie: Option<String>,
}

/// What came back.
#[derive(Debug)]
pub struct Answer {
    /// The status.
    pub status: u16,
    /// The headers, as they came.
    pub head: String,
    /// The body.
    pub body: String,
}

impl Answer {
    /// The body as JSON.
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.body).unwrap_or_else(|error| panic!("{error}: {}", self.body))
    }

    /// The code of a refusal.
    pub fn refused(&self) -> (u16, String) {
        (self.status, self.json()["code"].as_str().unwrap_or_default().to_owned())
    }
}

impl Client {
    /// A stranger.
    pub fn new(host: &str) -> Self {
        Self { host: host.to_owned(), from: None, cookie: None }
    }

    /// A stranger at another address of this machine.
    pub fn from(host: &str, address: [u8; 4]) -> Self {
        Self { host: host.to_owned(), from: Some(IpAddr::from(address)), cookie: None }
    }

    /// The same cookie's token, under the name that another page's cookie has.
    pub fn token_as(&self, other: &Self) -> Option<String> {
        let (name, _) = other.cookie.as_ref()?.split_once('=')?;
        let (_, token) = self.cookie.as_ref()?.split_once('=')?;
        Some(format!("{name}={token}"))
    }

    /// Tries a code; keeps the cookie where it is right.
    pub fn try_code(&mut self, code: &str) -> Answer {
        let answer = self.post("/api/pair", &json!({ "code": code }));
        let cookie = answer.head.lines().find(|line| line.to_lowercase().starts_with("set-cookie:"));
        if let Some(cookie) = cookie {
            self.cookie = cookie.split([':', ';']).nth(1).map(|pair| pair.trim().to_owned());
        }
        answer
    }

    /// Pairs.
    pub fn pair(&mut self, code: &str) {
        self.try_code(code).ok();
    }

    /// Comes by the customer's link.
    pub fn view(&mut self, secret: &str) {
        let answer = self.post("/api/pair", &json!({ "view": secret }));
        let cookie = answer.head.lines().find(|line| line.to_lowercase().starts_with("set-cookie:")).expect("a cookie");
        self.cookie = cookie.split([':', ';']).nth(1).map(|pair| pair.trim().to_owned());
    }

    /// `GET`.
    pub fn get(&self, path: &str) -> Answer {
        self.send("GET", path, &[("Host", &self.host)], b"")
    }

    /// `POST` of JSON, as the page does it.
    pub fn post(&self, path: &str, body: &Value) -> Answer {
        let origin = format!("http://{}", self.host);
        let headers = [("Host", self.host.as_str()), ("Origin", &origin), ("Content-Type", "application/json")];
        self.send("POST", path, &headers, body.to_string().as_bytes())
    }

    /// `DELETE`, as the page does it.
    pub fn delete(&self, path: &str) -> Answer {
        let origin = format!("http://{}", self.host);
        self.send("DELETE", path, &[("Host", self.host.as_str()), ("Origin", &origin)], b"")
    }

    /// `POST` of a piece.
    pub fn piece(&self, path: &str, bytes: &[u8], sha256: &str) -> Answer {
        let origin = format!("http://{}", self.host);
        self.send("POST", path, &[("Host", self.host.as_str()), ("Origin", &origin), ("X-Sha256", sha256)], bytes)
    }

    /// Any request with exactly these headers (and cookie, length, close).
    pub fn send(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Answer {
        let mut stream = self.connected();
        let mut head = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\nContent-Length: {}\r\n", body.len());
        for (name, value) in headers {
            head += &format!("{name}: {value}\r\n");
        }
        if let Some(cookie) = &self.cookie {
            head += &format!("Cookie: {cookie}\r\n");
        }
        stream.write_all(format!("{head}\r\n").as_bytes()).expect("sent");
        // A server that refuses a body that is too large may hang up before it has it all.
        drop(stream.write_all(body));
        read_answer(&mut stream)
    }

    /// Sends less than it promised and hangs up.
    pub fn send_truncated(&self, path: &str, sha256: &str, promised: usize, bytes: &[u8]) {
        let mut stream = self.connected();
        let cookie = self.cookie.as_deref().unwrap_or_default();
        let head = format!(
            "POST {path} HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nCookie: {cookie}\r\nX-Sha256: {sha256}\r\nContent-Length: {promised}\r\n\r\n",
            self.host
        );
        stream.write_all(head.as_bytes()).and_then(|()| stream.write_all(bytes)).expect("sent");
    }

    /// A connection on which an answer has begun that does not end.
    pub fn listening(&self, path: &str) -> TcpStream {
        let mut stream = self.connected();
        let cookie = self.cookie.as_deref().unwrap_or_default();
        let head = format!("GET {path} HTTP/1.1\r\nHost: {}\r\nCookie: {cookie}\r\n\r\n", self.host);
        stream.write_all(head.as_bytes()).expect("sent");
        let mut begun = [0; 12];
        stream.read_exact(&mut begun).expect("an answer");
        assert_eq!(&begun, b"HTTP/1.1 200", "{}", String::from_utf8_lossy(&begun));
        stream
    }

    /// A connection.
    pub fn connected(&self) -> TcpStream {
        let stream = match self.from {
            None => TcpStream::connect(&self.host).expect("connected"),
            Some(address) => connected_from(address, &self.host),
        };
        stream.set_read_timeout(Some(Duration::from_secs(30))).expect("set");
        stream
    }
}

/// A connection from one of this machine's addresses (127.0.0.0/8 are all its own, RFC 1122).
fn connected_from(address: IpAddr, host: &str) -> TcpStream {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_io().build().expect("a runtime");
    let stream = runtime.block_on(async {
        let socket = tokio::net::TcpSocket::new_v4().expect("a socket");
        socket.bind(SocketAddr::new(address, 0)).expect("an own address");
        socket.connect(host.parse().expect("an address")).await.expect("connected").into_std().expect("a stream")
    });
    stream.set_nonblocking(false).expect("set");
    stream
}

fn read_answer(stream: &mut TcpStream) -> Answer {
    let mut bytes = Vec::new();
    let mut block = [0; 65_536];
    loop {
        match stream.read(&mut block) {
            Ok(0) => break,
            Ok(got) => bytes.extend_from_slice(&block[..got]),
            // A reset after an early refusal: what came is the answer.
            Err(_) if !bytes.is_empty() => break,
            Err(error) => panic!("no answer: {error}"),
        }
    }
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let (head, body) = text.split_once("\r\n\r\n").expect("a head");
    let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).expect("a status");
    Answer { status, head: head.to_owned(), body: body.to_owned() }
}
