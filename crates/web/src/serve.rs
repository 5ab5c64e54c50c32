//! Listening: from an address to the end of the program.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use app::folder::FolderFault;
use tokio::net::TcpListener;

use crate::bench::Bench;
use crate::door::{Door, Key, Keys, KeysFault};
use crate::{link, routes};

/// The port of the pages, unless another is named.
pub const PORT: u16 = 7470;

/// How often the record is looked at for what other programs wrote.
const LOOK: Duration = Duration::from_secs(1);

/// Threads that draw, write and work things out: a few pages, the pen, a slow answer. Each keeps
/// memory of its own, and a shelf laptop has few cores.
const THREADS: usize = 4;

/// How long an answer that is under way may take when the pages close.
const FAREWELL: Duration = Duration::from_secs(3);

/// What is asked of the server.
#[derive(Clone, Debug)]
pub struct Wish {
    /// The folder of the job.
    pub job: PathBuf,
    /// The port; 0 takes a free one.
    pub port: u16,
    /// Whether others on the network may come, by the pairing link.
    pub lan: bool,
    /// Names of this machine on its network.
    pub names: Vec<String>,
    /// The person at the machine.
    pub keeper: String,
}

/// Where the pages are, once somebody can connect.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Open {
    /// The address for this machine itself.
    pub here: String,
    /// Whether there is a job, or the pages begin one.
    pub begun: bool,
    /// The links that let others in, on the network only.
    pub pairing: Option<Pairing>,
}

/// Links with a key in them.
#[derive(Clone, PartialEq, Eq)]
pub struct Pairing {
    /// Lets write.
    pub write: String,
    /// Lets look only.
    pub look: String,
}

/// Never shows a key, wherever it may be printed.
impl std::fmt::Debug for Pairing {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        to.write_str("Pairing")
    }
}

/// Why the pages could not be served.
#[derive(Debug, thiserror::Error)]
pub enum ServeFault {
    /// The job could not be opened.
    #[error(transparent)]
    Folder(#[from] FolderFault),
    /// There are no keys.
    #[error(transparent)]
    Keys(#[from] KeysFault),
    /// The port is taken, or may not be used.
    #[error("cannot listen on {at}: {why}")]
    Listen {
        /// Where.
        at: SocketAddr,
        /// What the system said.
        why: std::io::Error,
    },
    /// The system gave no threads or no network.
    #[error("cannot serve: {0}")]
    System(#[from] std::io::Error),
}

/// Serves the pages until the program is asked to end. `ready` hears where they are once
/// somebody can connect.
///
/// # Errors
/// [`ServeFault`] when the job cannot be opened or the port not be listened on.
pub fn serve(wish: &Wish, ready: impl FnOnce(&Open)) -> Result<(), ServeFault> {
    let keys = Keys::of(&wish.job)?;
    let door = Door::new(keys, wish.lan, &wish.names, &wish.keeper);
    let bench = Arc::new(Bench::open(&wish.job, door)?);
    tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .max_blocking_threads(THREADS)
        .enable_all()
        .build()?
        .block_on(listen(wish, bench, ready))
}

async fn listen(
    wish: &Wish,
    bench: Arc<Bench>,
    ready: impl FnOnce(&Open),
) -> Result<(), ServeFault> {
    let at = at(wish);
    let listener = TcpListener::bind(at)
        .await
        .map_err(|why| ServeFault::Listen { at, why })?;
    let port = listener.local_addr()?.port();
    let begun = bench.folder().is_some();
    ready(&open(wish, &bench.door.keys, port, begun));
    tokio::spawn(look_around(Arc::clone(&bench)));
    let mut closed = bench.closed();
    let ending = Arc::clone(&bench);
    let served = axum::serve(listener, routes::router(bench)).with_graceful_shutdown(async move {
        asked_to_end().await;
        ending.close();
    });
    let farewell = async {
        // The sender lives as long as the pages do.
        let _ = closed.wait_for(|closed| *closed).await;
        tokio::time::sleep(FAREWELL).await;
    };
    tokio::select! {
        served = served => served?,
        () = farewell => {}
    }
    Ok(())
}

/// Where to listen: on this machine alone, unless others were asked in.
fn at(wish: &Wish) -> SocketAddr {
    let address = if wish.lan {
        Ipv4Addr::UNSPECIFIED
    } else {
        Ipv4Addr::LOCALHOST
    };
    SocketAddr::new(IpAddr::V4(address), wish.port)
}

/// Where the pages are, for people on this machine and on the network.
fn open(wish: &Wish, keys: &Keys, port: u16, begun: bool) -> Open {
    let host = match wish.names.first() {
        Some(name) => name.clone(),
        None => link::own_address().to_string(),
    };
    let pair = |key| format!("http://{host}:{port}/pair/{}", keys.word(key));
    Open {
        here: format!("http://{}:{port}/", Ipv4Addr::LOCALHOST),
        begun,
        pairing: wish.lan.then(|| Pairing {
            write: pair(Key::Write),
            look: pair(Key::Look),
        }),
    }
}

/// Takes in what other programs write into the record.
async fn look_around(bench: Arc<Bench>) {
    let mut tick = tokio::time::interval(LOOK);
    loop {
        tick.tick().await;
        bench.catch_up().await;
    }
}

/// Control-C or a polite kill. A rude one needs no farewell: every entry is on disk before it
/// is answered.
async fn asked_to_end() {
    let interrupt = async {
        // Where the system has no such signal, only a kill ends the program.
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    tokio::select! {
        () = interrupt => {}
        () = told_to_end() => {}
    }
}

#[cfg(unix)]
async fn told_to_end() {
    use tokio::signal::unix::{SignalKind, signal};
    match signal(SignalKind::terminate()) {
        Ok(mut signal) => {
            signal.recv().await;
        }
        Err(_) => std::future::pending().await,
    }
}

#[cfg(not(unix))]
async fn told_to_end() {
    std::future::pending().await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nobody_hears_of_the_pages_unless_asked_in() {
        let mut wish = Wish {
            job: PathBuf::from("."),
            port: PORT,
            lan: false,
            names: vec!["bench.test".to_owned()],
            keeper: "ann".to_owned(),
        };
        let keys = Keys::new().expect("random numbers");
        assert!(at(&wish).ip().is_loopback());
        assert_eq!(open(&wish, &keys, PORT, true).pairing, None);
        wish.lan = true;
        assert!(at(&wish).ip().is_unspecified());
        let links = open(&wish, &keys, 8080, true).pairing.expect("links");
        let word = keys.word(Key::Look);
        assert_eq!(links.look, format!("http://bench.test:8080/pair/{word}"));
        assert!(!format!("{links:?}").contains(word));
    }
}
