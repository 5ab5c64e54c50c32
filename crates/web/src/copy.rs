//! The whole job in one file, written straight into the answer.

use std::io::{self, BufWriter, Write};
use std::sync::Arc;

use axum::Extension;
use axum::body::{Body, Bytes};
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use futures_util::stream;
use tokio::sync::mpsc;

use crate::asked::Visitor;
use crate::bench::Bench;
use crate::draw::{self, now_micros};

/// Bytes that are written at once.
const PIECE: usize = 64 * 1024;

/// Pieces that wait for a slow phone; the copy is written no faster than it is taken.
const AHEAD: usize = 4;

/// `GET /copy`: a zip file. Photos in it say where they were taken, so it is for those who may
/// write.
pub async fn download(
    State(bench): State<Arc<Bench>>,
    Extension(visitor): Extension<Visitor>,
) -> Response {
    if !visitor.may_write {
        return draw::words(
            StatusCode::FORBIDDEN,
            "For looking only",
            "A copy holds everything, also what is not for showing.",
        );
    }
    let Some(folder) = bench.folder() else {
        return Redirect::to("/begin").into_response();
    };
    let name = plain(&app::copy::name(&folder, now_micros()));
    let (pieces, taken) = mpsc::channel(AHEAD);
    // A thread of its own: a slow phone may take minutes, and those of the house are few.
    std::thread::spawn(move || {
        let to = BufWriter::with_capacity(PIECE, Sent(pieces.clone()));
        if let Err(fault) = app::copy::write(&folder, to) {
            // The answer breaks off, so that nobody takes it for whole. Whoever left does not
            // want to know.
            let _ = pieces.blocking_send(Err(io::Error::other(fault)));
        }
    });
    let taken = stream::unfold(taken, async |mut taken| {
        taken.recv().await.map(|piece| (piece, taken))
    });
    let kept = [
        (header::CONTENT_TYPE, "application/zip".to_owned()),
        (
            header::CONTENT_DISPOSITION,
            format!("attachment; filename=\"{name}\""),
        ),
    ];
    (kept, Body::from_stream(taken)).into_response()
}

/// A file name that every system and every header takes.
fn plain(name: &str) -> String {
    name.chars()
        .map(|letter| match letter {
            '.' | '-' | '_' => letter,
            letter if letter.is_ascii_alphanumeric() => letter,
            _ => '-',
        })
        .collect()
}

/// Sends what is written piece by piece.
struct Sent(mpsc::Sender<io::Result<Bytes>>);

impl Write for Sent {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0
            .blocking_send(Ok(Bytes::copy_from_slice(bytes)))
            .map_err(|_| io::Error::from(io::ErrorKind::BrokenPipe))?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use axum::body::Body;
    use http_body_util::BodyExt;
    use tower::ServiceExt;

    use super::*;
    use crate::door::Key;
    use crate::trial::{Trial, request};

    #[tokio::test]
    async fn the_copy_lays_the_whole_job_out_again() {
        let trial = Trial::here();
        trial.log("note one").await;
        let asked = request("GET", "/copy")
            .body(Body::empty())
            .expect("a request");
        let answer = trial
            .router
            .clone()
            .oneshot(asked)
            .await
            .expect("an answer");
        assert_eq!(answer.headers()[header::CONTENT_TYPE], "application/zip");
        let bytes = answer
            .into_body()
            .collect()
            .await
            .expect("whole")
            .to_bytes();
        let dir = tempfile::tempdir().expect("a folder");
        let file = dir.path().join("copy.zip");
        std::fs::write(&file, &bytes).expect("written");
        let folder = app::copy::lay_out(&file, &dir.path().join("again")).expect("a copy");
        assert_eq!(folder.entries[0].line, "note one");
        assert!(!dir.path().join("again").join(app::folder::KEYS).exists());
    }

    #[tokio::test]
    async fn who_only_looks_takes_no_copy() {
        let trial = Trial::on_the_network();
        let answer = trial.get_with("/copy", &trial.cookie(Key::Look)).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN);
    }

    #[test]
    fn a_file_name_has_no_quotes_and_no_paths() {
        assert_eq!(plain("../van \"é\".zip"), "..-van----.zip");
    }
}
