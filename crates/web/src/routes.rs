//! Every address of the pages.

use std::sync::Arc;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware;
use axum::routing::{get, post};

use crate::bench::Bench;
use crate::draw::{self, Page};
use crate::page;
use crate::{asset, door, entry};

/// The pages: one line each. A page is a function from what is asked to a [`page::Frame`].
const PAGES: &[(&str, Page)] = &[("/", page::home::page)];

/// How many bytes a form may bring.
pub const FORM_LIMIT: usize = 16 * 1024;

/// Every address, ready to be asked.
pub fn router(bench: Arc<Bench>) -> Router {
    let mut router = Router::new()
        .route("/entry", post(entry::post))
        .route("/asset/{of}/{file}", get(asset::get));
    for (path, page) in PAGES {
        router = router.route(path, draw::page(*page));
    }
    router
        .layer(middleware::from_fn_with_state(
            Arc::clone(&bench),
            door::let_in,
        ))
        .layer(DefaultBodyLimit::max(FORM_LIMIT))
        .with_state(bench)
}
