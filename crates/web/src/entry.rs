//! One typed line on its way into the record.

use std::sync::Arc;

use app::folder::Hand;
use axum::Extension;
use axum::body::Bytes;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use report::Report;
use sha2::{Digest, Sha256};

use crate::asked::Visitor;
use crate::bench::Bench;
use crate::draw::now_micros;
use crate::form::Fields;
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
    let fields = Fields::read(&body);
    let line = fields.get("line").unwrap_or_default().to_owned();
    let Some(hand) = hand(&fields, &visitor) else {
        let page = page::nameless_line(&line, fields.back());
        return (StatusCode::CONFLICT, Html(page.into_string())).into_response();
    };
    let report = bench.log(hand, vec![line.clone()]).await;
    answered(&report, &line, &fields, &headers)
}

/// The answer to something written: to a script the report, to a page without script the way
/// back, or the line to mend.
pub fn answered(report: &Report, line: &str, fields: &Fields, headers: &HeaderMap) -> Response {
    if wants_json(headers) {
        let json = [(header::CONTENT_TYPE, "application/json")];
        (status(report), json, wire::json(report)).into_response()
    } else if report.refused {
        let page = page::refused_line(report, line, fields.back());
        (status(report), Html(page.into_string())).into_response()
    } else {
        Redirect::to(fields.back()).into_response()
    }
}

/// Whether the answer goes to a script.
fn wants_json(headers: &HeaderMap) -> bool {
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

/// Who writes, and when; nobody if no name was said.
#[must_use]
pub fn hand(fields: &Fields, visitor: &Visitor) -> Option<Hand> {
    let author = fields.get("who").or(visitor.who.as_deref())?.to_owned();
    let millis = fields.get("at").and_then(|at| at.parse::<i64>().ok());
    Some(Hand {
        author,
        micros: millis
            .and_then(|millis| millis.checked_mul(1000))
            .unwrap_or_else(now_micros),
        client: client(fields),
    })
}

/// The id of the entry. A script makes one for each line. A form without script brings the
/// number of its page; the line is mixed in, so that a double tap is one entry and the next
/// line from the same page another.
fn client(fields: &Fields) -> String {
    match (fields.get("id"), fields.get("form")) {
        (Some(id), _) => id.to_owned(),
        (None, form) => {
            let line = fields.get("line").unwrap_or_default();
            let mixed = random::hex(&Sha256::digest(line.as_bytes()));
            format!("form-{}-{}", form.unwrap_or_default(), &mixed[..16])
        }
    }
}

#[cfg(test)]
mod tests;
