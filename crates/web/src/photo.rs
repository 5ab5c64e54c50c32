//! Photos in and out: `POST /photo` keeps one with the job, `GET /photo/FILE` gives a smaller one.
//!
//! What goes out is always the smaller picture, which says nothing of place, time or camera.

use std::sync::Arc;

use app::photo::{Sent, Size, keep, smaller};
use axum::Extension;
use axum::extract::multipart::MultipartError;
use axum::extract::{Multipart, Path, RawQuery, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use job::FileHash;

use crate::asked::Visitor;
use crate::bench::Bench;
use crate::draw;
use crate::entry;
use crate::form::Fields;

/// How many bytes a photo may bring.
pub const LIMIT: usize = 40 * 1024 * 1024;

/// `POST /photo`: `photo` is the file, `words` what would stand behind `photo` in a line; the
/// rest as for an entry.
pub async fn post(
    State(bench): State<Arc<Bench>>,
    Extension(visitor): Extension<Visitor>,
    headers: HeaderMap,
    mut parts: Multipart,
) -> Response {
    let mut said: Vec<(String, String)> = Vec::new();
    let mut picture: Option<(String, Vec<u8>)> = None;
    loop {
        let part = match parts.next_field().await {
            Ok(Some(part)) => part,
            Ok(None) => break,
            Err(fault) => return torn(&fault),
        };
        let name = part.name().unwrap_or_default().to_owned();
        if name == "photo" {
            let file = part.file_name().unwrap_or("photo").to_owned();
            match part.bytes().await {
                Ok(bytes) => picture = Some((file, bytes.to_vec())),
                Err(fault) => return torn(&fault),
            }
        } else {
            match part.text().await {
                Ok(text) => said.push((name, text)),
                Err(fault) => return torn(&fault),
            }
        }
    }
    let fields = Fields::of(said);
    let Some((name, bytes)) = picture.filter(|(_, bytes)| !bytes.is_empty()) else {
        return broken("no picture came with the form");
    };
    let words = fields.get("words").unwrap_or_default().to_owned();
    let Some(client) = entry::client(&fields, &words) else {
        return broken("the id of this photo is not one that our pages make");
    };
    let Some(hand) = entry::hand(&fields, &visitor, client) else {
        return draw::words(
            StatusCode::CONFLICT,
            "Who are you?",
            "A photo bears a name. Say yours at the top of the page, then send it again.",
        );
    };
    let report = bench
        .write(move |folder| {
            let sent = Sent {
                name: &name,
                bytes: &bytes,
            };
            keep(folder, &hand, &[sent], &words)
        })
        .await;
    let line = format!("photo {}", fields.get("words").unwrap_or_default());
    entry::answered(&report, &line, &fields, &headers)
}

/// A form that did not come whole.
fn torn(fault: &MultipartError) -> Response {
    if fault.status() == StatusCode::PAYLOAD_TOO_LARGE {
        let says = format!(
            "A photo may have {} MB. Take it in the size the camera calls medium, and send that one.",
            LIMIT / (1024 * 1024)
        );
        return draw::words(StatusCode::PAYLOAD_TOO_LARGE, "Too large", &says);
    }
    broken(&format!(
        "The form did not come whole ({}). Send it again.",
        fault.body_text()
    ))
}

fn broken(says: &str) -> Response {
    draw::words(StatusCode::BAD_REQUEST, "Not kept", says)
}

/// `GET /photo/FILE`, with `?size=large` for the page-wide one. Whoever was let in for looking
/// only gets those that are marked *show*.
pub async fn get(
    State(bench): State<Arc<Bench>>,
    Extension(visitor): Extension<Visitor>,
    Path(file): Path<String>,
    RawQuery(query): RawQuery,
) -> Response {
    let fields = Fields::read(query.unwrap_or_default().as_bytes());
    let size = match fields.get("size") {
        Some("large") => Size::Large,
        _ => Size::Small,
    };
    let (Some(file), Some(folder)) = (FileHash::read(&file), bench.folder()) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    let mut marked = folder.state.photos.iter().filter(|photo| photo.show);
    if !visitor.may_write && !marked.any(|photo| photo.file.as_ref() == Some(&file)) {
        return StatusCode::NOT_FOUND.into_response();
    }
    let path = folder.path().to_owned();
    let drawn = tokio::task::spawn_blocking(move || smaller(&path, &file, size)).await;
    match drawn {
        Ok(Ok(bytes)) => {
            let kept = [
                (header::CONTENT_TYPE, "image/jpeg"),
                (
                    header::CACHE_CONTROL,
                    "private, max-age=31536000, immutable",
                ),
            ];
            (kept, bytes).into_response()
        }
        _ => StatusCode::NOT_FOUND.into_response(),
    }
}
