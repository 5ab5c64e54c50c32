//! One typed line on its way into the record.

use std::sync::Arc;

use app::folder::Hand;
use axum::Extension;
use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use report::Report;
use sha2::{Digest, Sha256};

use crate::asked::Visitor;
use crate::bench::{BROKEN, Bench};
use crate::door;
use crate::draw::{self, now_micros};
use crate::form::Fields;
use crate::page;
use crate::random;

/// `GET /reading?line=…`: what is understood of a line while it is typed. Nothing is kept.
pub async fn reading(State(bench): State<Arc<Bench>>, RawQuery(query): RawQuery) -> Response {
    let fields = Fields::read(query.unwrap_or_default().as_bytes());
    let line = fields.get("line").unwrap_or_default().to_owned();
    let read = tokio::task::spawn_blocking(move || {
        let folder = bench.folder()?;
        Some(app::understood::understood(&folder, &line))
    });
    match read.await {
        Ok(Some(report)) => {
            let json = [(header::CONTENT_TYPE, "application/json")];
            (json, wire::json(&report)).into_response()
        }
        _ => StatusCode::NOT_FOUND.into_response(),
    }
}

/// `POST /entry`: `line`, with the other fields of the form in its places; `id` made by the sender; `at` in milliseconds by the sender's clock;
/// `who` if it is not the person of the cookie; `back` for a page without script.
pub async fn post(
    State(bench): State<Arc<Bench>>,
    Extension(visitor): Extension<Visitor>,
    headers: HeaderMap,
    body: Bytes,
) -> Response {
    let fields = Fields::read(&body);
    let line = fields.line();
    let Some(client) = client(&fields, &line) else {
        return draw::words(
            StatusCode::BAD_REQUEST,
            "Not written down",
            "The id of this entry is not one that our pages make.",
        );
    };
    let Some(hand) = hand(&fields, &visitor, client) else {
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
pub fn wants_json(headers: &HeaderMap) -> bool {
    headers
        .get(header::ACCEPT)
        .and_then(|accept| accept.to_str().ok())
        .is_some_and(|accept| accept.starts_with("application/json"))
}

/// 200 kept or had already; 409 the id is another entry's; 422 not understood; 500 it broke off;
/// 503 the record could not be written, so that it is worth trying again.
fn status(report: &Report) -> StatusCode {
    if report.finds("job-folder") {
        StatusCode::SERVICE_UNAVAILABLE
    } else if report.finds(BROKEN) {
        StatusCode::INTERNAL_SERVER_ERROR
    } else if report.finds("same-id") {
        StatusCode::CONFLICT
    } else if report.refused {
        StatusCode::UNPROCESSABLE_ENTITY
    } else {
        StatusCode::OK
    }
}

/// Who writes, and when; nobody if no name was said.
pub fn hand(fields: &Fields, visitor: &Visitor, client: String) -> Option<Hand> {
    let said = fields.get("who").and_then(door::proper_name);
    let millis = fields.get("at").and_then(|at| at.parse::<i64>().ok());
    Some(Hand {
        author: said.or_else(|| visitor.who.clone())?,
        micros: millis
            .and_then(|millis| millis.checked_mul(1000))
            .unwrap_or_else(now_micros),
        client,
    })
}

/// The longest id of an entry, in letters.
const LONGEST_ID: usize = 64;

/// The id of the entry; none if it is not one of ours. A script makes one for each line. A form
/// without script brings the number of its page; the line is mixed in, so that a double tap is
/// one entry and the next line from the same page another.
pub fn client(fields: &Fields, line: &str) -> Option<String> {
    let proper = |id: &str| {
        id.len() <= LONGEST_ID
            && id
                .bytes()
                .all(|byte| byte.is_ascii_alphanumeric() || byte == b'-')
    };
    match (fields.get("id"), fields.get("form")) {
        (Some(id), _) => proper(id).then(|| id.to_owned()),
        (None, form) => {
            let mixed = random::hex(&Sha256::digest(line.as_bytes()));
            let form = form.filter(|form| proper(form)).unwrap_or_default();
            Some(format!("form-{form}-{}", &mixed[..16]))
        }
    }
}

#[cfg(test)]
mod tests;
