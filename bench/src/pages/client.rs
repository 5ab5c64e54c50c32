//! As much of HTTP as a client of our own pages needs: one connection that is asked again and
//! again, and one that listens to the news.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use anyhow::{Context, bail, ensure};

/// No answer may take longer, however heavy the load.
const PATIENCE: Duration = Duration::from_secs(20);

/// Ticks without an entry after which a listener gives up.
const IDLE: usize = 4;

/// A connection that stays open.
pub struct Connection {
    at: SocketAddr,
    stream: BufReader<TcpStream>,
}

impl Connection {
    pub fn open(at: SocketAddr) -> anyhow::Result<Self> {
        let stream = TcpStream::connect(at)?;
        stream.set_read_timeout(Some(PATIENCE))?;
        stream.set_nodelay(true)?;
        Ok(Self {
            at,
            stream: BufReader::new(stream),
        })
    }

    /// Looks at a page and reads all of it.
    pub fn get(&mut self, path: &str) -> anyhow::Result<()> {
        self.ask(&format!("GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", self.at))
    }

    /// Sends a form as one of the pages does.
    pub fn post(&mut self, path: &str, form: &str) -> anyhow::Result<()> {
        let at = self.at;
        let length = form.len();
        self.ask(&format!(
            "POST {path} HTTP/1.1\r\nHost: {at}\r\nOrigin: http://{at}\r\nAccept: application/json\r\nContent-Length: {length}\r\n\r\n{form}"
        ))
    }

    fn ask(&mut self, request: &str) -> anyhow::Result<()> {
        self.stream.get_mut().write_all(request.as_bytes())?;
        let mut length = None;
        let status = line(&mut self.stream)?;
        loop {
            let head = line(&mut self.stream)?;
            if head.is_empty() {
                break;
            }
            if let Some((name, value)) = head.split_once(':')
                && name.eq_ignore_ascii_case("content-length")
            {
                length = Some(value.trim().parse::<usize>()?);
            }
        }
        let mut body = vec![0; length.context("an answer without length")?];
        self.stream.read_exact(&mut body)?;
        ensure!(
            status.starts_with("HTTP/1.1 200"),
            "{status}: {}",
            String::from_utf8_lossy(&body)
        );
        Ok(())
    }
}

/// One line without its end.
fn line(from: &mut impl BufRead) -> anyhow::Result<String> {
    let mut line = String::new();
    if from.read_line(&mut line)? == 0 {
        bail!("the connection was closed");
    }
    Ok(line.trim_end().to_owned())
}

/// Somebody who listens to the news beside the work.
pub struct Listener(JoinHandle<anyhow::Result<()>>);

impl Listener {
    /// Listens to so many entries after one.
    pub fn start(at: SocketAddr, after: usize, count: usize) -> anyhow::Result<Self> {
        let mut stream = TcpStream::connect(at)?;
        stream.set_read_timeout(Some(PATIENCE))?;
        write!(
            stream,
            "GET /news?after={after} HTTP/1.1\r\nHost: {at}\r\n\r\n"
        )?;
        Ok(Self(thread::spawn(move || {
            listen(stream, after, after + count)
        })))
    }

    /// Waits until it heard of all of them, each once and in their order.
    pub fn heard_all(self) -> anyhow::Result<()> {
        match self.0.join() {
            Ok(heard) => heard,
            Err(_) => bail!("a listener broke off"),
        }
    }
}

fn listen(stream: TcpStream, mut last: usize, end: usize) -> anyhow::Result<()> {
    let mut stream = BufReader::new(stream);
    let mut idle = 0;
    while last < end {
        let line = line(&mut stream)?;
        if let Some(id) = line.strip_prefix("id: ") {
            let id: usize = id.parse()?;
            ensure!(id == last + 1, "entry {id} was told after {last}");
            (last, idle) = (id, 0);
        } else if line == "event: tick" {
            idle += 1;
            ensure!(idle <= IDLE, "entry {} was never told", last + 1);
        }
    }
    Ok(())
}
