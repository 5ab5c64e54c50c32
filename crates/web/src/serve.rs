//! Listening: from an address to the end of the program.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use app::folder::FolderFault;
use tokio::net::TcpListener;

use crate::bench::Bench;
use crate::door::Door;
use crate::routes;

/// The port of the pages, unless another is named.
pub const PORT: u16 = 7470;

/// How often the record is looked at for what other programs wrote.
const LOOK: Duration = Duration::from_secs(1);

/// What is asked of the server.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The folder of the job.
    pub job: PathBuf,
    /// The port; 0 takes a free one.
    pub port: u16,
    /// The person at the machine.
    pub keeper: String,
}

/// Why the pages could not be served.
#[derive(Debug, thiserror::Error)]
pub enum ServeFault {
    /// The job could not be opened.
    #[error(transparent)]
    Folder(#[from] FolderFault),
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

/// Serves the pages until the program is asked to end. `ready` hears the address once
/// somebody can connect to it.
///
/// # Errors
/// [`ServeFault`] when the job cannot be opened or the port not be listened on.
pub fn serve(asked: &Asked, ready: impl FnOnce(&str)) -> Result<(), ServeFault> {
    let bench = Arc::new(Bench::open(&asked.job, &asked.keeper, Door::default())?);
    tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .max_blocking_threads(16)
        .enable_all()
        .build()?
        .block_on(listen(asked, bench, ready))
}

async fn listen(
    asked: &Asked,
    bench: Arc<Bench>,
    ready: impl FnOnce(&str),
) -> Result<(), ServeFault> {
    let at = SocketAddr::new(IpAddr::V4(Ipv4Addr::LOCALHOST), asked.port);
    let listener = TcpListener::bind(at)
        .await
        .map_err(|why| ServeFault::Listen { at, why })?;
    ready(&format!("http://{}/", listener.local_addr()?));
    tokio::spawn(look_around(Arc::clone(&bench)));
    axum::serve(listener, routes::router(bench))
        .with_graceful_shutdown(asked_to_end())
        .await?;
    Ok(())
}

/// Takes in what other programs write into the record. A record that cannot be read for a
/// moment is looked at again a moment later.
async fn look_around(bench: Arc<Bench>) {
    let mut tick = tokio::time::interval(LOOK);
    loop {
        tick.tick().await;
        let bench = Arc::clone(&bench);
        let _ = tokio::task::spawn_blocking(move || bench.catch_up()).await;
    }
}

/// Control-C. A kill needs no farewell: every entry is on disk before it is answered.
async fn asked_to_end() {
    // Where the system has no such signal, only a kill ends the program.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}
