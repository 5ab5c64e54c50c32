//! Every address of the pages.

use std::sync::Arc;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::middleware::from_fn_with_state;
use axum::routing::{get, post};

use crate::bench::Bench;
use crate::draw::{self, Page};
use crate::{asset, begin, copy, door, entry, news, page, photo};

/// The pages: one line each. A page is a function from what is asked to a [`page::Frame`].
pub const PAGES: &[(&str, Page)] = &[
    ("/", page::home::page),
    ("/day", page::day::page),
    ("/who", page::who::page),
    ("/vehicle", page::vehicle::page),
    ("/fights", page::fights::page),
    ("/show", page::show::page),
    ("/tightening", page::tightening::page),
    ("/apart", page::apart::page),
    ("/evening", page::evening::page),
    ("/photos", page::gallery::page),
    ("/places", page::places::page),
    ("/ledger", page::ledger::page),
    ("/ends", page::ends::page),
    ("/readings", page::readings::page),
    ("/days", page::days::page),
    ("/gates", page::gates::page),
    ("/proof", page::proof::page),
    ("/story", page::story::page),
    ("/slate", page::slate::page),
];

/// How many bytes a form may bring, unless its address says otherwise.
pub const FORM_LIMIT: usize = 16 * 1024;

/// Every address, ready to be asked.
pub fn router(bench: Arc<Bench>) -> Router {
    let job = PAGES.iter().fold(Router::new(), |router, (path, page)| {
        router.route(path, draw::page(*page))
    });
    let job = job
        .route("/who", post(door::say_name))
        .route("/begin", get(begin::ask).post(begin::begin))
        .route("/copy", get(copy::download))
        .route("/entry", post(entry::post))
        .route("/hand", post(news::take))
        .route("/reading", get(entry::reading))
        .route(
            "/photo",
            post(photo::post).layer(DefaultBodyLimit::max(photo::LIMIT)),
        )
        .route("/photo/{file}", get(photo::get))
        .route("/news", get(news::stream))
        .route_layer(from_fn_with_state(Arc::clone(&bench), door::let_in));
    job.route("/pair/{key}", get(door::pair))
        .route("/asset/{edition}/{file}", get(asset::get))
        .fallback(|| async {
            draw::words(
                StatusCode::NOT_FOUND,
                "No such page",
                "The address leads nowhere. Nothing was changed.",
            )
        })
        .layer(from_fn_with_state(Arc::clone(&bench), door::house_rules))
        .layer(DefaultBodyLimit::max(FORM_LIMIT))
        .with_state(bench)
}
