//! Raw HTTP, so that every byte of a request can be wrong on purpose.

use std::fmt::Write as _;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

use crate::{Program, Trouble};

/// How long an answer may take before it counts as missing.
const PATIENCE: Duration = Duration::from_secs(20);

/// An answer as it came.
#[derive(Debug, Clone)]
pub struct Answer {
    /// Status.
    pub status: u16,
    /// Headers with lower-case names, in the order sent.
    pub headers: Vec<(String, String)>,
    /// What followed the headers.
    pub body: Vec<u8>,
}

impl Answer {
    /// The first header of this name, or nothing.
    pub fn header(&self, name: &str) -> &str {
        self.headers.iter().find(|(each, _)| each == name).map_or("", |(_, value)| value)
    }

    /// The body as text, with marks for bytes that are none.
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    fn parse(bytes: &[u8]) -> Result<Self, Trouble> {
        let odd = || Trouble::odd(format!("no HTTP answer: `{}`", String::from_utf8_lossy(bytes).chars().take(200).collect::<String>()));
        let end = bytes.windows(4).position(|four| four == b"\r\n\r\n").ok_or_else(odd)?;
        let (head, body) = bytes.split_at_checked(end).ok_or_else(odd)?;
        let head = String::from_utf8_lossy(head);
        let mut lines = head.split("\r\n");
        let status = lines.next().and_then(|line| line.split(' ').nth(1)).and_then(|code| code.parse().ok()).ok_or_else(odd)?;
        let pair = |line: &str| line.split_once(':').map(|(name, value)| (name.to_lowercase(), value.trim().to_owned()));
        Ok(Self { status, headers: lines.filter_map(pair).collect(), body: body.get(4..).unwrap_or_default().to_vec() })
    }
}

/// Sends these very bytes to an address and reads to the end of the answer.
///
/// # Errors
/// Nobody listens, or no answer comes.
pub fn send(address: &str, bytes: &[u8]) -> Result<Answer, Trouble> {
    let stream = TcpStream::connect(address).map_err(Trouble::system("connecting"))?;
    stream.set_read_timeout(Some(PATIENCE)).map_err(Trouble::system("connecting"))?;
    let mut received = Vec::new();
    // A server that has heard enough answers before the end of a long request, and then hangs up.
    std::thread::scope(|scope| {
        scope.spawn(|| (&stream).write_all(bytes));
        let mut part = [0; 16 * 1024];
        while let Ok(count) = (&stream).read(&mut part)
            && count > 0
        {
            received.extend(part.iter().take(count));
        }
    });
    Answer::parse(&received)
}

/// A request that is right unless it is made wrong.
#[derive(Debug, Clone)]
pub struct Request {
    method: String,
    path: String,
    headers: Vec<(String, String)>,
    body: Vec<u8>,
}

impl Request {
    /// A request without any header but that the connection ends after it.
    pub fn new(method: &str, path: &str) -> Self {
        Self {
            method: method.to_owned(),
            path: path.to_owned(),
            headers: vec![("Connection".to_owned(), "close".to_owned())],
            body: Vec::new(),
        }
    }

    /// Sets a header in place of one of the same name; an empty value leaves it out.
    #[must_use]
    pub fn header(mut self, name: &str, value: &str) -> Self {
        self.headers.retain(|(each, _)| each != name);
        if !value.is_empty() {
            self.headers.push((name.to_owned(), value.to_owned()));
        }
        self
    }

    /// The fields of a form as the body.
    #[must_use]
    pub fn form(mut self, fields: &[(&str, &str)]) -> Self {
        let mut text = url::form_urlencoded::Serializer::new(String::new());
        text.extend_pairs(fields);
        self.body = text.finish().into_bytes();
        self.header("Content-Type", "application/x-www-form-urlencoded")
    }

    /// JSON, or what is meant to look like it, as the body.
    #[must_use]
    pub fn json(mut self, body: impl Into<Vec<u8>>) -> Self {
        self.body = body.into();
        self.header("Content-Type", "application/json")
    }

    /// A form with a file as the body; no file if `file` is none.
    #[must_use]
    pub fn upload(mut self, fields: &[(&str, &str)], file: Option<(&str, &[u8])>) -> Self {
        const PART: &str = "----a-part-of-a-form";
        let mut body = Vec::new();
        for (name, value) in fields {
            body.extend(format!("--{PART}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n").as_bytes());
        }
        if let Some((name, bytes)) = file {
            let head = format!(
                "--{PART}\r\nContent-Disposition: form-data; name=\"{name}\"; filename=\"board.jpg\"\r\nContent-Type: image/jpeg\r\n\r\n"
            );
            body.extend(head.as_bytes());
            body.extend(bytes);
            body.extend(b"\r\n");
        }
        body.extend(format!("--{PART}--\r\n").as_bytes());
        self.body = body;
        self.header("Content-Type", &format!("multipart/form-data; boundary={PART}"))
    }

    /// The bytes that go out.
    pub fn bytes(&self) -> Vec<u8> {
        let mut head = format!("{} {} HTTP/1.1\r\n", self.method, self.path);
        for (name, value) in &self.headers {
            let _ = write!(head, "{name}: {value}\r\n");
        }
        if !self.body.is_empty() || self.method == "POST" {
            let _ = write!(head, "Content-Length: {}\r\n", self.body.len());
        }
        head.push_str("\r\n");
        let mut bytes = head.into_bytes();
        bytes.extend(&self.body);
        bytes
    }
}

/// Somebody who came in by the key and may ask.
#[derive(Debug, Clone)]
pub struct Visitor {
    address: String,
    /// What it says that it speaks to.
    host: String,
    /// The cookie, name and value.
    pub cookie: String,
    /// The token that the forms carry.
    pub token: String,
}

impl Visitor {
    /// Comes in: uses up the key, keeps the cookie, reads the token from the first page.
    ///
    /// # Errors
    /// The door stays shut.
    pub fn enter(program: &Program) -> Result<Self, Trouble> {
        let path = program.entrance().replace(&program.url(""), "");
        let answer = send(program.address(), &Request::new("GET", &path).header("Host", program.address()).bytes())?;
        let cookie = answer.header("set-cookie").split(';').next().unwrap_or("").to_owned();
        let address = program.address().to_owned();
        let mut visitor = Self { host: address.clone(), address, cookie, token: String::new() };
        visitor.read_token()?;
        Ok(visitor)
    }

    /// A phone that was not let in yet, at the address that the program shares.
    ///
    /// # Errors
    /// It shares nothing.
    pub fn phone(program: &Program) -> Result<Self, Trouble> {
        let host = program.phone_host()?.to_owned();
        let port = host.rsplit(':').next().unwrap_or("");
        Ok(Self { address: format!("127.0.0.1:{port}"), host, cookie: String::new(), token: String::new() })
    }

    /// Reads the token of forms from the first page.
    ///
    /// # Errors
    /// There is none.
    pub fn read_token(&mut self) -> Result<(), Trouble> {
        let page = self.get("/")?.text();
        let token = page.split("name=\"token\" value=\"").nth(1).and_then(|rest| rest.split('"').next());
        token.ok_or_else(|| Trouble::odd("the first page holds no form token"))?.clone_into(&mut self.token);
        Ok(())
    }

    /// A request of this visitor, all in order, still to be sent.
    pub fn request(&self, method: &str, path: &str) -> Request {
        let request = Request::new(method, path).header("Host", &self.host).header("Cookie", &self.cookie);
        if method == "GET" { request } else { request.header("Origin", &format!("http://{}", self.host)) }
    }

    /// Asks for a page.
    ///
    /// # Errors
    /// No answer comes.
    pub fn get(&self, path: &str) -> Result<Answer, Trouble> {
        self.send(&self.request("GET", path))
    }

    /// Sends a form with its token.
    ///
    /// # Errors
    /// No answer comes.
    pub fn post(&self, path: &str, fields: &[(&str, &str)]) -> Result<Answer, Trouble> {
        let mut all = vec![("token", self.token.as_str())];
        all.extend(fields);
        self.send(&self.request("POST", path).form(&all))
    }

    /// The mark of a fresh form, as a page hands it out: whatever is sent with it is written at most once.
    ///
    /// # Errors
    /// No answer comes, or a page without one.
    pub fn once(&self) -> Result<String, Trouble> {
        let page = self.get("/scales")?.text();
        let once = page.split("name=\"once\" value=\"").nth(1).and_then(|rest| rest.split('"').next());
        once.map(str::to_owned).ok_or_else(|| Trouble::odd("the page of scales holds no mark of a form"))
    }

    /// Sends a fresh form with its token.
    ///
    /// # Errors
    /// No answer comes.
    pub fn write(&self, path: &str, fields: &[(&str, &str)]) -> Result<Answer, Trouble> {
        let once = self.once()?;
        let mut all = vec![("once", once.as_str())];
        all.extend(fields);
        self.post(path, &all)
    }

    /// Sends a request.
    ///
    /// # Errors
    /// No answer comes.
    pub fn send(&self, request: &Request) -> Result<Answer, Trouble> {
        send(&self.address, &request.bytes())
    }
}
