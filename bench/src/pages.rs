//! The bench pages under load: people who write and look, all at once, on the loopback address.
//!
//! The pages are served by a process of its own, so that its start and its memory are those of
//! the program. Every client writes a line, looks at a page, thinks, and hears the news of the
//! others meanwhile. At the end every line must be in the record once, and every client must
//! have heard of each once.

mod client;

use std::io::{BufRead, BufReader};
use std::net::SocketAddr;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::thread;
use std::time::Duration;

use anyhow::{Context, bail, ensure};
use app::folder::Folder;
use clap::Args;

use crate::clock::Watch;
use client::{Connection, Listener};

/// Seconds from the start of the program to its first page.
const FIRST_PAGE: f64 = 0.100;
/// Seconds of the slowest page but one in a hundred.
const PAGE: f64 = 0.030;
/// Bytes of script.
const SCRIPT: usize = 40_000;
/// Bytes of memory.
const MEMORY: u64 = 60 * 1024 * 1024;

/// The most rounds and clients: a benchmark is no siege.
const MOST_CLIENTS: usize = 200;
const MOST_ROUNDS: usize = 1_000;

/// How much load.
#[derive(Debug, Args)]
pub struct Load {
    /// People at once.
    #[arg(long, default_value_t = 40)]
    clients: usize,
    /// Lines that each of them writes.
    #[arg(long, default_value_t = 15)]
    rounds: usize,
    /// Milliseconds that each thinks between two lines.
    #[arg(long, default_value_t = 1_000)]
    think: u64,
}

/// Seconds that something took, many times.
#[derive(Default)]
struct Times(Vec<f64>);

impl Times {
    /// The time that a share of them does not exceed.
    fn share(&mut self, percent: usize) -> f64 {
        self.0.sort_by(f64::total_cmp);
        let last = self.0.len().saturating_sub(1);
        self.0
            .get((last * percent).div_ceil(100))
            .copied()
            .unwrap_or(f64::NAN)
    }

    fn print(&mut self, what: &str) {
        let (half, most) = (self.share(50) * 1e3, self.share(99) * 1e3);
        println!("  {what}: half in {half:.1} ms, 99 % in {most:.1} ms");
    }
}

/// Serves the job in a folder, for the process that measures it.
pub fn serve(job: &Path) -> anyhow::Result<()> {
    let wish = web::serve::Wish {
        job: job.to_owned(),
        port: 0,
        lan: false,
        names: Vec::new(),
        keeper: "bench".to_owned(),
    };
    web::serve::serve(&wish, |open| println!("{}", open.here))?;
    Ok(())
}

/// Puts the pages under load and says how they bore it.
pub fn bench(load: &Load) -> anyhow::Result<()> {
    ensure!(
        (1..=MOST_CLIENTS).contains(&load.clients) && (1..=MOST_ROUNDS).contains(&load.rounds),
        "at most {MOST_CLIENTS} clients and {MOST_ROUNDS} rounds"
    );
    let dir = tempfile::tempdir()?;
    let before = lay(dir.path())?;
    let server = Server::start(dir.path())?;
    println!("  first page after {:.0} ms", server.first_page * 1e3);

    let all = load.clients * load.rounds;
    let listeners: Vec<Listener> = (0..load.clients)
        .map(|_| Listener::start(server.at, before, all))
        .collect::<anyhow::Result<_>>()?;
    let (mut lines, mut pages) = work(load, server.at)?;
    for listener in listeners {
        listener.heard_all()?;
    }
    let first_page = server.first_page;
    let memory = server.memory();
    drop(server);
    let kept = Folder::open(dir.path())?.entries.len();
    ensure!(
        kept == before + all,
        "{kept} entries of {} are kept",
        before + all
    );

    let script = web::asset::script_bytes();
    println!(
        "  {all} lines of {} clients: each kept once, each told once to each",
        load.clients
    );
    lines.print("a line kept");
    pages.print("a page drawn");
    println!("  script of {script} bytes");
    if let Some(memory) = memory {
        println!("  memory of {} MiB at most", memory.div_ceil(1024 * 1024));
    }
    let limits = [
        ("the first page", first_page <= FIRST_PAGE),
        ("a page in a hundred", pages.share(99) <= PAGE),
        ("the script", script <= SCRIPT),
        ("the memory", memory.is_none_or(|memory| memory <= MEMORY)),
    ];
    let over: Vec<&str> = limits
        .iter()
        .filter(|(_, held)| !held)
        .map(|(what, _)| *what)
        .collect();
    ensure!(over.is_empty(), "over the limit: {}", over.join(", "));
    println!(
        "within the limits: first page 100 ms, 99 % of pages 30 ms, script 40 kB, memory 60 MiB"
    );
    Ok(())
}

/// The demo's engine with its whole life lived; says how many entries that are.
fn lay(job: &Path) -> anyhow::Result<usize> {
    let mut folder = Folder::begin(job, Some(app::demo::BOOK), Some(app::demo::SHOP))?;
    for chapter in app::demo::LIFE {
        folder.append(&chapter.entries()?)?;
    }
    Ok(folder.entries.len())
}

/// Everybody writes, looks and thinks; the times of lines and of pages.
fn work(load: &Load, at: SocketAddr) -> anyhow::Result<(Times, Times)> {
    let pages: Arc<Vec<&str>> = Arc::new(
        web::routes::PAGES
            .iter()
            .map(|(path, _)| *path)
            .filter(|path| !path.contains('{'))
            .collect(),
    );
    let people: Vec<_> = (0..load.clients)
        .map(|client| {
            let (pages, rounds) = (Arc::clone(&pages), load.rounds);
            let think = Duration::from_millis(load.think);
            // Nobody begins at the same moment as the next.
            let late = think.mul_f64(client as f64 / load.clients as f64);
            thread::spawn(move || {
                thread::sleep(late);
                person(client, at, rounds, think, &pages)
            })
        })
        .collect();
    let (mut lines, mut drawn) = (Times::default(), Times::default());
    for person in people {
        let Ok(times) = person.join() else {
            bail!("a client broke off");
        };
        let (own_lines, own_pages) = times?;
        lines.0.extend(own_lines.0);
        drawn.0.extend(own_pages.0);
    }
    Ok((lines, drawn))
}

fn person(
    client: usize,
    at: SocketAddr,
    rounds: usize,
    think: Duration,
    pages: &[&str],
) -> anyhow::Result<(Times, Times)> {
    let mut line = Connection::open(at)?;
    let (mut lines, mut drawn) = (Times::default(), Times::default());
    for round in 0..rounds {
        let watch = Watch::start();
        line.post(
            "/entry",
            &format!("who=p{client}&id=p{client}-{round}&line=note+round+{round}+of+p{client}"),
        )?;
        lines.0.push(watch.seconds());
        let watch = Watch::start();
        line.get(pages[(client + round) % pages.len()])?;
        drawn.0.push(watch.seconds());
        thread::sleep(think);
    }
    Ok((lines, drawn))
}

/// The process that serves.
struct Server {
    process: Child,
    at: SocketAddr,
    /// Seconds from its start to its first page.
    first_page: f64,
}

impl Server {
    fn start(job: &Path) -> anyhow::Result<Self> {
        let watch = Watch::start();
        let mut process = Command::new(std::env::current_exe()?)
            .arg("serve-pages")
            .arg(job)
            .stdout(Stdio::piped())
            .spawn()?;
        let out = process.stdout.take().context("it has an output")?;
        let mut first = String::new();
        BufReader::new(out).read_line(&mut first)?;
        let at = first
            .trim()
            .trim_start_matches("http://")
            .trim_end_matches('/');
        let mut server = Self {
            process,
            at: at.parse().with_context(|| format!("no address: {first}"))?,
            first_page: f64::NAN,
        };
        Connection::open(server.at)?.get("/")?;
        server.first_page = watch.seconds();
        Ok(server)
    }

    /// The most memory it ever held, where the system says so.
    fn memory(&self) -> Option<u64> {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.process.id())).ok()?;
        let line = status
            .lines()
            .find_map(|line| line.strip_prefix("VmHWM:"))?;
        let kib: u64 = line.trim().trim_end_matches(" kB").parse().ok()?;
        Some(kib * 1024)
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // It may be gone already.
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
