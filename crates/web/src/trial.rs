//! A job on the bench for tests: pages are asked without a socket.

use std::sync::Arc;

use app::folder::{Folder, Hand};
use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, Request, StatusCode, header};
use http_body_util::BodyExt;
use tempfile::TempDir;
use tower::ServiceExt;

use crate::bench::Bench;
use crate::door::{Door, Key, Keys};
use crate::routes;

/// The address the pages have in tests.
pub const HOST: &str = "bench.test:7470";

/// A served job.
pub struct Trial {
    pub bench: Arc<Bench>,
    pub router: Router,
    /// Holds the folder of the job until the test is over.
    pub dir: TempDir,
}

/// What came back.
#[derive(Debug)]
pub struct Answer {
    pub status: StatusCode,
    pub headers: HeaderMap,
    pub text: String,
}

impl Trial {
    /// A job without a book, open to the machine itself.
    pub fn here() -> Self {
        Self::open(false, None)
    }

    /// A job without a book, open to the network.
    pub fn on_the_network() -> Self {
        Self::open(true, None)
    }

    /// A job on the bench; `book` is its build book.
    pub fn open(lan: bool, book: Option<&str>) -> Self {
        let dir = tempfile::tempdir().expect("a folder");
        Folder::begin(dir.path(), book, None).expect("a job");
        Self::of(dir, lan)
    }

    /// A folder in which no job was begun.
    pub fn without_job() -> Self {
        Self::of(tempfile::tempdir().expect("a folder"), false)
    }

    fn of(dir: TempDir, lan: bool) -> Self {
        let keys = Keys::of(dir.path()).expect("keys");
        let door = Door::new(keys, lan, &["bench.test".to_owned()], "keeper");
        let bench = Arc::new(Bench::open(dir.path(), door).expect("it opens"));
        let router = routes::router(Arc::clone(&bench));
        Self { bench, router, dir }
    }

    /// Asks for anything.
    pub async fn ask(&self, request: Request<Body>) -> Answer {
        let response = self
            .router
            .clone()
            .oneshot(request)
            .await
            .expect("an answer");
        let (parts, body) = response.into_parts();
        let bytes = body.collect().await.expect("a body").to_bytes();
        Answer {
            status: parts.status,
            headers: parts.headers,
            text: String::from_utf8_lossy(&bytes).into_owned(),
        }
    }

    /// Looks at an address.
    pub async fn get(&self, path: &str) -> Answer {
        self.ask(request("GET", path).body(Body::empty()).expect("a request"))
            .await
    }

    /// Looks at an address with a cookie.
    pub async fn get_with(&self, path: &str, cookie: &str) -> Answer {
        let request = request("GET", path).header(header::COOKIE, cookie);
        self.ask(request.body(Body::empty()).expect("a request"))
            .await
    }

    /// Sends a form as one of our own pages does.
    pub async fn post(&self, path: &str, form: &str) -> Answer {
        self.post_with(path, form, "").await
    }

    /// Sends a form as one of our own pages does, with a cookie.
    pub async fn post_with(&self, path: &str, form: &str, cookie: &str) -> Answer {
        let request = request("POST", path)
            .header(header::ORIGIN, format!("http://{HOST}"))
            .header(header::COOKIE, cookie);
        self.ask(
            request
                .body(Body::from(form.to_owned()))
                .expect("a request"),
        )
        .await
    }

    /// The cookie of a phone that was let in.
    pub fn cookie(&self, key: Key) -> String {
        let keys = &self.bench.door.keys;
        format!("{}={}", keys.cookie_name(), keys.word(key))
    }

    /// How many entries the record holds.
    pub fn entries(&self) -> usize {
        self.bench.folder().expect("a job").entries.len()
    }

    /// Writes a line as another program would.
    pub async fn log(&self, line: &str) {
        let hand = Hand {
            author: "ann".to_owned(),
            micros: 0,
            client: format!("trial-{line}-{}", self.entries()),
        };
        let report = self.bench.log(hand, vec![line.to_owned()]).await;
        assert!(!report.refused, "{:?}", report.findings);
    }
}

/// A request to the pages under their own name.
pub fn request(method: &str, path: &str) -> axum::http::request::Builder {
    Request::builder()
        .method(method)
        .uri(path)
        .header(header::HOST, HOST)
}
