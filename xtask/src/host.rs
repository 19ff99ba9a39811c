//! A small server for the finished page: files as they are, right types, nothing else. It speaks
//! as much of HTTP as browsers ask of a static host, and it can write down every request, so that
//! tests can show what reached it.

use crate::shell::{Outcome, problem};
use std::fs::File;
use std::io::{self, BufRead, BufReader, Read, Write};
use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpListener, TcpStream, UdpSocket};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

/// Used when no port is asked for.
const PORT: u16 = 8080;

/// Longest request line and longest header line that is read.
const LINE_BYTES_MAX: u64 = 16 * 1024;

/// How long a connection may stay silent.
const PATIENCE: Duration = Duration::from_secs(60);

/// What to serve, and to whom.
pub struct Options {
    folder: PathBuf,
    lan: bool,
    port: u16,
    /// The folder of the address under which the files appear, with a slash at both ends.
    prefix: String,
    log: Option<PathBuf>,
}

impl Options {
    /// Reads the options that follow a command.
    pub fn parse(rest: &[String], folder: PathBuf) -> Outcome<Self> {
        let mut options =
            Self { folder, lan: false, port: PORT, prefix: "/".to_owned(), log: None };
        let mut rest = rest.iter();
        while let Some(option) = rest.next() {
            let mut value =
                || rest.next().ok_or_else(|| problem(format!("{option} needs a value.")));
            match option.as_str() {
                "--lan" => options.lan = true,
                "--port" => {
                    let port = value()?;
                    options.port =
                        port.parse().map_err(|_| problem(format!("'{port}' is no port.")))?;
                }
                "--prefix" => {
                    let path = value()?.trim_matches('/');
                    options.prefix = if path.is_empty() { "/".into() } else { format!("/{path}/") };
                }
                "--log" => options.log = Some(value()?.into()),
                other => return Err(problem(format!("there is no option '{other}' here."))),
            }
        }
        Ok(options)
    }
}

/// Serves until the program is stopped.
pub fn serve(options: &Options) -> Outcome {
    let folder = options.folder.canonicalize();
    let folder = folder.map_err(|why| format!("{}: {why}.", options.folder.display()))?;
    let open = if options.lan { Ipv4Addr::UNSPECIFIED } else { Ipv4Addr::LOCALHOST };
    let listener = TcpListener::bind((open, options.port)).map_err(|why| {
        format!("port {} cannot be used ({why}). Choose another one: --port N", options.port)
    })?;
    let port = listener.local_addr().map_err(|why| format!("{why}."))?.port();
    let log = options.log.as_ref().map(File::create).transpose();
    let log = log.map_err(|why| format!("the log cannot be written: {why}."))?;
    announce(options, port);
    let site = Arc::new(Site { folder, prefix: options.prefix.clone(), log: log.map(Mutex::new) });
    for stream in listener.incoming().flatten() {
        let site = Arc::clone(&site);
        // A connection that breaks off concerns nobody but the browser that broke it.
        thread::spawn(move || site.talk(&stream).ok());
    }
    Ok(())
}

fn announce(options: &Options, port: u16) {
    println!("serving at http://127.0.0.1:{port}{}", options.prefix);
    if options.lan {
        match lan_address() {
            Some(address) => {
                println!(
                    "other devices:   http://{}{}",
                    SocketAddr::new(address, port),
                    options.prefix
                );
                println!("(without https a browser keeps no offline copy of it)");
            }
            None => {
                println!("this machine seems to be on no network: no address for other devices")
            }
        }
    }
    println!("stop with Ctrl+C");
}

/// The address by which this machine would reach others. A datagram socket is only aimed at a
/// documentation address (RFC 5737); nothing is sent.
fn lan_address() -> Option<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).ok()?;
    socket.local_addr().ok().map(|address| address.ip()).filter(|ip| !ip.is_loopback())
}

struct Site {
    folder: PathBuf,
    prefix: String,
    log: Option<Mutex<File>>,
}

/// What one request asks for.
struct Request {
    method: String,
    target: String,
    brotli: bool,
    close: bool,
}

impl Site {
    fn talk(&self, stream: &TcpStream) -> io::Result<()> {
        stream.set_read_timeout(Some(PATIENCE))?;
        stream.set_nodelay(true)?;
        let mut reader = BufReader::new(stream);
        while let Some(request) = read_request(&mut reader)? {
            self.note(&request)?;
            let answer = self.answer(&request);
            let mut out = answer.head(request.close).into_bytes();
            if request.method != "HEAD" {
                out.extend(answer.body);
            }
            let mut writer = stream;
            writer.write_all(&out)?;
            if request.close {
                break;
            }
        }
        Ok(())
    }

    /// Writes the request down exactly as it came in.
    fn note(&self, request: &Request) -> io::Result<()> {
        let Some(log) = &self.log else { return Ok(()) };
        let Ok(mut log) = log.lock() else { return Ok(()) };
        writeln!(log, "{} {}", request.method, request.target)
    }

    fn answer(&self, request: &Request) -> Answer {
        if request.method != "GET" && request.method != "HEAD" {
            return Answer::plain("405 Method Not Allowed", "only GET and HEAD");
        }
        let Some(path) = self.path(&request.target) else {
            return Answer::plain("404 Not Found", "not found");
        };
        let packed = PathBuf::from(format!("{}.br", path.display()));
        let (file, encoding) =
            if request.brotli && packed.is_file() { (&packed, "br") } else { (&path, "") };
        match std::fs::read(file) {
            Ok(body) => Answer { status: "200 OK", kind: media_type(&path), encoding, body },
            Err(_) => Answer::plain("404 Not Found", "not found"),
        }
    }

    /// The file behind a request target, if it lies in the folder.
    fn path(&self, target: &str) -> Option<PathBuf> {
        let address = target.split(['?', '#']).next()?;
        let inside = address.strip_prefix(&self.prefix)?;
        let mut path = self.folder.clone();
        for part in decode(inside)?.split('/').filter(|part| !part.is_empty()) {
            if part == "." || part == ".." || part.contains(['\\', '\0']) {
                return None;
            }
            path.push(part);
        }
        if path.is_dir() {
            path.push("index.html");
        }
        path.is_file().then_some(path)
    }
}

struct Answer {
    status: &'static str,
    kind: &'static str,
    encoding: &'static str,
    body: Vec<u8>,
}

impl Answer {
    fn plain(status: &'static str, words: &str) -> Self {
        Self { status, kind: "text/plain; charset=utf-8", encoding: "", body: words.into() }
    }

    fn head(&self, close: bool) -> String {
        let Self { status, kind, encoding, body } = self;
        let encoding = match *encoding {
            "" => String::new(),
            name => format!("Content-Encoding: {name}\r\n"),
        };
        let connection = if close { "close" } else { "keep-alive" };
        format!(
            "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\n{encoding}Content-Length: {}\r\n\
             Cache-Control: no-cache\r\nVary: Accept-Encoding\r\n\
             X-Content-Type-Options: nosniff\r\nConnection: {connection}\r\n\r\n",
            body.len()
        )
    }
}

/// Reads one request; nothing when the browser has closed the connection.
fn read_request(reader: &mut impl BufRead) -> io::Result<Option<Request>> {
    let first = read_line(reader)?;
    let mut words = first.split(' ');
    let (Some(method), Some(target)) = (words.next(), words.next()) else { return Ok(None) };
    let mut request = Request {
        method: method.to_owned(),
        target: target.to_owned(),
        brotli: false,
        close: words.next() != Some("HTTP/1.1"),
    };
    loop {
        let line = read_line(reader)?;
        let Some((name, value)) = line.split_once(':') else { break };
        match name.to_ascii_lowercase().as_str() {
            "accept-encoding" => request.brotli = value.split([',', ' ', ';']).any(|w| w == "br"),
            "connection" => request.close |= value.trim().eq_ignore_ascii_case("close"),
            // A body would be taken for the next request.
            "content-length" | "transfer-encoding" => request.close = true,
            _ => {}
        }
    }
    Ok(Some(request))
}

fn read_line(reader: &mut impl BufRead) -> io::Result<String> {
    let mut line = Vec::new();
    reader.take(LINE_BYTES_MAX).read_until(b'\n', &mut line)?;
    Ok(String::from_utf8_lossy(&line).trim_end().to_owned())
}

/// Resolves `%xx`; nothing when that gives no text.
fn decode(path: &str) -> Option<String> {
    let mut bytes = Vec::new();
    let mut rest = path.as_bytes();
    while let Some((first, after)) = rest.split_first() {
        if *first == b'%' {
            let digits = std::str::from_utf8(after.get(..2)?).ok()?;
            bytes.push(u8::from_str_radix(digits, 16).ok()?);
            rest = after.get(2..)?;
        } else {
            bytes.push(*first);
            rest = after;
        }
    }
    String::from_utf8(bytes).ok()
}

fn media_type(file: &Path) -> &'static str {
    match file.extension().and_then(|ending| ending.to_str()).unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "wasm" => "application/wasm",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "ico" => "image/x-icon",
        "ics" => "text/calendar; charset=utf-8",
        "txt" | "csv" | "md" => "text/plain; charset=utf-8",
        "mp4" => "video/mp4",
        "webm" => "video/webm",
        "pdf" => "application/pdf",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::places;

    fn site(prefix: &str) -> Site {
        Site { folder: places::root(), prefix: prefix.into(), log: None }
    }

    fn request(text: &str) -> Request {
        read_request(&mut text.as_bytes()).ok().flatten().expect("a request")
    }

    #[test]
    fn files_come_byte_for_byte_with_their_type() {
        let answer = site("/").answer(&request("GET /public/boot.js?x#y HTTP/1.1\r\n\r\n"));
        assert_eq!(answer.status, "200 OK");
        assert_eq!(answer.kind, "text/javascript; charset=utf-8");
        assert_eq!(answer.body, std::fs::read(places::root().join("public/boot.js")).unwrap());
    }

    #[test]
    fn a_folder_answers_with_its_page() {
        let answer = site("/a/b/").answer(&request("GET /a/b/ HTTP/1.1\r\n\r\n"));
        assert_eq!(answer.kind, "text/html; charset=utf-8");
    }

    #[test]
    fn nothing_outside_the_folder_is_served() {
        for target in ["/../etc/passwd", "/public/%2e%2e/%2e%2e/x", "/a%00b", "/none", "/%zz"] {
            let asked = request(&format!("GET {target} HTTP/1.1\r\n\r\n"));
            assert_eq!(site("/").answer(&asked).status, "404 Not Found", "{target}");
        }
        assert_eq!(site("/a/").answer(&request("GET / HTTP/1.1\r\n\r\n")).status, "404 Not Found");
        assert_eq!(
            site("/").answer(&request("POST / HTTP/1.1\r\n\r\n")).status.get(..3),
            Some("405")
        );
    }

    #[test]
    fn headers_are_understood() {
        let asked =
            request("GET / HTTP/1.1\r\nAccept-Encoding: gzip, br\r\nConnection: close\r\n\r\n");
        assert!(asked.brotli && asked.close);
        assert!(!request("GET / HTTP/1.1\r\nHost: x\r\n\r\n").close);
        assert!(read_request(&mut "".as_bytes()).is_ok_and(|none| none.is_none()));
    }

    #[test]
    fn options_are_read() {
        let words = ["--lan", "--port", "0", "--prefix", "team/page"].map(String::from);
        let options = Options::parse(&words, "dist".into()).unwrap();
        assert!(options.lan && options.port == 0);
        assert_eq!(options.prefix, "/team/page/");
        assert!(Options::parse(&["--port".into()], "dist".into()).is_err());
        assert!(Options::parse(&["--port".into(), "x".into()], "dist".into()).is_err());
    }
}
