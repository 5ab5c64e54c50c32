//! One typed line on its way into the record.

use std::sync::Arc;

use app::folder::Hand;
use axum::Extension;
use axum::body::Bytes;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use report::Report;
use sha2::{Digest, Sha256};

use crate::asked::Visitor;
use crate::bench::Bench;
use crate::draw::{self, Fields, now_micros};
use crate::form;
use crate::page;
use crate::random;

/// `POST /entry`: `line`; `id` made by the sender; `at` in milliseconds by the sender's clock;
/// `who` if it is not the person of the cookie; `back` for a page without script.
pub async fn post(
    State(bench): State<Arc<Bench>>,
    Extension(visitor): Extension<Visitor>,
    headers: HeaderMap,
    body: Bytes,
) -> Response {
    let fields = form::fields(&body);
    let wants_json = wants_json(&headers);
    let Some(hand) = hand(&fields, &visitor, wants_json) else {
        return draw::words(
            StatusCode::CONFLICT,
            "Who are you?",
            "An entry bears a name. Say yours under People, then send it again.",
        );
    };
    let line = fields.get("line").cloned().unwrap_or_default();
    let typed = line.clone();
    let logged = tokio::task::spawn_blocking(move || bench.log(&hand, &[line])).await;
    match logged {
        Ok(report) if wants_json => (
            status(&report),
            [(header::CONTENT_TYPE, "application/json")],
            wire::json(&report),
        )
            .into_response(),
        Ok(report) if report.refused => {
            let page = page::refused_line(&report, &typed, form::back(&fields));
            (status(&report), axum::response::Html(page.into_string())).into_response()
        }
        Ok(_) => Redirect::to(form::back(&fields)).into_response(),
        Err(_) => draw::words(
            StatusCode::INTERNAL_SERVER_ERROR,
            "Not kept",
            "Something broke while it was written down. Send it again: it is never kept twice.",
        ),
    }
}

/// Whether the answer goes to a script.
#[must_use]
pub fn wants_json(headers: &HeaderMap) -> bool {
    headers
        .get(header::ACCEPT)
        .and_then(|accept| accept.to_str().ok())
        .is_some_and(|accept| accept.starts_with("application/json"))
}

/// 200 kept or had already; 409 the id is another entry's; 422 not understood; 503 the record
/// could not be written, so that it is worth trying again.
fn status(report: &Report) -> StatusCode {
    if report.finds("job-folder") {
        StatusCode::SERVICE_UNAVAILABLE
    } else if report.finds("same-id") {
        StatusCode::CONFLICT
    } else if report.refused {
        StatusCode::UNPROCESSABLE_ENTITY
    } else {
        StatusCode::OK
    }
}

fn hand(fields: &Fields, visitor: &Visitor, from_script: bool) -> Option<Hand> {
    let said = fields
        .get("who")
        .map(|who| who.trim())
        .filter(|who| !who.is_empty());
    let author = said.map(str::to_owned).or_else(|| visitor.who.clone())?;
    let at = fields.get("at").and_then(|at| at.parse::<i64>().ok());
    Some(Hand {
        author,
        micros: at
            .and_then(|millis| millis.checked_mul(1000))
            .unwrap_or_else(now_micros),
        client: client(fields, from_script),
    })
}

/// The id of the entry. A form without script brings the number of its page; the line is
/// mixed in, so that a double tap is one entry and the next line from the same page another.
fn client(fields: &Fields, from_script: bool) -> String {
    let id = fields.get("id").map_or("", String::as_str);
    if from_script {
        return id.to_owned();
    }
    let line = fields.get("line").map_or("", String::as_str);
    let mixed = random::hex(&Sha256::digest(line.as_bytes()));
    format!("form-{id}-{}", &mixed[..16])
}
