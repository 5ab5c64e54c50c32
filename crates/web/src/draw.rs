//! From an address to a page: take the job as it stands, ask the page, answer.

use std::sync::Arc;

use axum::Extension;
use axum::extract::{RawPathParams, State};
use axum::http::{StatusCode, Uri, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};

use crate::asked::{Asked, Visitor};
use crate::bench::Bench;
use crate::form::Fields;
use crate::page::{self, Frame};

/// A page: a function from what is asked to what is shown.
pub type Page = for<'a> fn(&Asked<'a>) -> Frame;

/// The handler of a page.
pub fn page(page: Page) -> MethodRouter<Arc<Bench>> {
    get(
        move |State(bench): State<Arc<Bench>>,
              Extension(visitor): Extension<Visitor>,
              uri: Uri,
              params: RawPathParams| async move {
            let name = params.iter().next().map(|(_, value)| value.to_owned());
            shown(bench, visitor, uri, name, page).await
        },
    )
}

/// Draws a page beside the other work: a page may take a while to think.
async fn shown(
    bench: Arc<Bench>,
    visitor: Visitor,
    uri: Uri,
    name: Option<String>,
    page: Page,
) -> Response {
    let house = Arc::clone(&bench);
    // The semaphore is never closed.
    let _easel = house.easels.acquire().await;
    let drawn = tokio::task::spawn_blocking(move || {
        let laid = bench.laid()?;
        let asked = Asked {
            folder: &laid.folder,
            laid: &laid,
            visitor: &visitor,
            name: name.as_deref(),
            query: &Fields::read(uri.query().unwrap_or_default().as_bytes()),
            path: uri.path_and_query().map_or("/", |path| path.as_str()),
            now_micros: now_micros(),
            hands: bench.hands.all(),
            bench: &bench,
        };
        Some(page::whole(&page(&asked), &asked).into_string())
    });
    match drawn.await {
        Ok(Some(page)) => ([(header::CACHE_CONTROL, "no-cache")], Html(page)).into_response(),
        Ok(None) => Redirect::to("/begin").into_response(),
        Err(_) => words(
            StatusCode::INTERNAL_SERVER_ERROR,
            "This page could not be drawn",
            "The record is untouched. Go back, or look at another page.",
        ),
    }
}

/// A page of a few words: a refusal, or what could not be done.
pub fn words(status: StatusCode, title: &str, says: &str) -> Response {
    (status, Html(page::bare(title, says).into_string())).into_response()
}

/// Now, in microseconds since 1970-01-01T00:00Z.
#[must_use]
pub fn now_micros() -> i64 {
    jiff::Timestamp::now().as_microsecond()
}
