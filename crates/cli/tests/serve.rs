//! The program as a server: where it listens, what it prints and what it never prints.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// A running server and everything it said.
struct Served {
    process: Child,
    out: BufReader<std::process::ChildStdout>,
    said: String,
    at: String,
}

impl Served {
    fn start(job: &Path, options: &[&str]) -> Self {
        let mut process = Command::new(env!("CARGO_BIN_EXE_matchmark"))
            .args(["serve", "--port", "0", "--job"])
            .arg(job)
            .args(options)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("it starts");
        let mut out = BufReader::new(process.stdout.take().expect("an output"));
        let mut said = String::new();
        out.read_line(&mut said).expect("a first line");
        let at = said.trim().strip_prefix("http://").expect("an address");
        let at = at.strip_suffix('/').expect("an address").to_owned();
        Self {
            process,
            out,
            said,
            at,
        }
    }

    /// Asks for an address; gives back the whole answer.
    fn get(&self, path: &str, cookie: &str) -> String {
        let at = &self.at;
        self.send(&format!(
            "GET {path} HTTP/1.1\r\nHost: {at}\r\nCookie: {cookie}\r\nConnection: close\r\n\r\n"
        ))
    }

    fn post(&self, path: &str, form: &str, cookie: &str) -> String {
        let at = &self.at;
        let length = form.len();
        self.send(&format!(
            "POST {path} HTTP/1.1\r\nHost: {at}\r\nOrigin: http://{at}\r\nCookie: {cookie}\r\nContent-Length: {length}\r\nConnection: close\r\n\r\n{form}"
        ))
    }

    fn send(&self, request: &str) -> String {
        let mut stream = TcpStream::connect(&self.at).expect("somebody listens");
        stream.write_all(request.as_bytes()).expect("sent");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("an answer");
        String::from_utf8_lossy(&answer).into_owned()
    }

    /// Kills it and gives back everything it ever printed.
    fn end(mut self) -> String {
        self.process.kill().expect("it ends");
        self.out.read_to_string(&mut self.said).expect("words");
        let mut error = self.process.stderr.take().expect("an output");
        error.read_to_string(&mut self.said).expect("words");
        self.process.wait().expect("it ended");
        self.said
    }
}

/// The keys of a job, by name.
fn key(job: &Path, name: &str) -> String {
    let text = fs::read_to_string(job.join("keys")).expect("the keys");
    let line = text
        .lines()
        .find_map(|line| line.strip_prefix(&format!("{name} ")));
    line.expect("a key").to_owned()
}

fn begun() -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    let status = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .arg("new")
        .arg(dir.path())
        .stdout(Stdio::null())
        .status();
    assert!(status.expect("it runs").success());
    dir
}

#[test]
fn the_first_line_is_the_address_and_the_pages_answer() {
    let job = begun();
    let served = Served::start(job.path(), &[]);
    assert!(served.at.starts_with("127.0.0.1:"), "{}", served.at);
    let page = served.get("/", "");
    assert!(page.starts_with("HTTP/1.1 200"), "{page}");
    served.end();
}

#[test]
fn no_key_is_ever_printed_into_a_file() {
    let job = begun();
    let served = Served::start(job.path(), &["--lan"]);
    let (write, look) = (key(job.path(), "write"), key(job.path(), "look"));
    let paired = served.get(&format!("/pair/{write}"), "");
    assert!(paired.starts_with("HTTP/1.1 200"), "{paired}");
    let cookie = format!("matchmark-{}={write}", &key(job.path(), "job")[..8]);
    // Wrong turns with the key in hand: none of them is written down.
    served.get(&format!("/nowhere/{write}?key={look}"), &cookie);
    served.get(&format!("/pair/{look}/x"), &cookie);
    served.post("/entry", &format!("line=frobnicate+{look}&id=1"), &cookie);
    served.send("nonsense\r\n\r\n");
    let said = served.end();
    assert!(said.contains("keys"), "{said}");
    assert!(!said.contains(&write) && !said.contains(&look), "{said}");
}

#[test]
fn a_phone_stays_let_in_over_a_kill_and_keeps_what_it_wrote() {
    let job = begun();
    let cookie = |job: &Path| {
        format!(
            "matchmark-{}={}; matchmark-who=ana",
            &key(job, "job")[..8],
            key(job, "write")
        )
    };
    let served = Served::start(job.path(), &["--lan"]);
    let cookie = cookie(job.path());
    let kept = served.post("/entry", "line=note+the+lamp+is+weak&id=1", &cookie);
    assert!(kept.starts_with("HTTP/1.1 303"), "{kept}");
    served.end();
    let again = Served::start(job.path(), &["--lan"]);
    assert!(again.get("/", "").starts_with("HTTP/1.1 401"));
    let page = again.get("/", &cookie);
    assert!(page.contains("note the lamp is weak"), "{page}");
    again.end();
}

#[test]
fn a_port_that_is_taken_is_said_with_the_way_out() {
    let job = begun();
    let served = Served::start(job.path(), &[]);
    let port = served.at.rsplit(':').next().expect("a port").to_owned();
    let second = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .args(["serve", "--port", &port, "--job"])
        .arg(job.path())
        .output()
        .expect("it runs");
    served.end();
    assert_eq!(second.status.code(), Some(2));
    let said = String::from_utf8_lossy(&second.stderr);
    assert!(said.contains("--port 0"), "{said}");
}
