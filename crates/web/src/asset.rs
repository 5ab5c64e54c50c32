//! What lies in the program itself: style sheets, scripts, the typeface.

use std::sync::LazyLock;

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use rust_embed::RustEmbed;
use sha2::{Digest, Sha256};

use crate::random;

/// The files of `assets/`.
#[derive(RustEmbed)]
#[folder = "assets/"]
struct Assets;

/// The style that pages share with papers, behind the rules of the typeface.
const BASE: &str = "base.css";

/// Stands in every address of an asset, so that a phone may keep it for good and still gets
/// the new one after an update.
static EDITION: LazyLock<String> = LazyLock::new(|| {
    let mut names: Vec<_> = Assets::iter().collect();
    names.sort();
    let mut all = Sha256::new();
    all.update(sheet::style::BASE);
    for name in names {
        all.update(name.as_bytes());
        if let Some(file) = Assets::get(&name) {
            all.update(&file.data);
        }
    }
    random::hex(&all.finalize()[..6])
});

/// The address of an asset.
#[must_use]
pub fn address(file: &str) -> String {
    format!("/asset/{}/{file}", EDITION.as_str())
}

/// `GET /asset/EDITION/FILE`. The name is looked up among those known; no path is made of it.
pub async fn get(Path((_, file)): Path<(String, String)>) -> Response {
    let kept = [
        (header::CONTENT_TYPE, kind(&file)),
        (header::CACHE_CONTROL, "public, max-age=31536000, immutable"),
    ];
    if file == BASE {
        return (kept, faces() + sheet::style::BASE).into_response();
    }
    if let Some(face) = sheet::font::FACES.iter().find(|face| face.file == file) {
        return (kept, face.bytes).into_response();
    }
    match Assets::get(&file) {
        Some(asset) => (kept, asset.data).into_response(),
        None => StatusCode::NOT_FOUND.into_response(),
    }
}

/// How many bytes of script a phone has to fetch before the pages are alive.
#[must_use]
pub fn script_bytes() -> usize {
    Assets::iter()
        .filter(|name| name.ends_with(".js"))
        .filter_map(|name| Assets::get(&name))
        .map(|file| file.data.len())
        .sum()
}

fn kind(file: &str) -> &'static str {
    match file.rsplit_once('.').map(|(_, end)| end) {
        Some("css") => "text/css; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("otf") => "font/otf",
        _ => "application/octet-stream",
    }
}

/// The `@font-face` rules of the typeface. They stand beside it, so a bare name finds it.
fn faces() -> String {
    sheet::font::FACES.iter().fold(String::new(), |rules, face| {
        format!(
            "{rules}@font-face{{font-family:\"{}\";font-weight:{};font-display:swap;src:url(\"{}\")}}\n",
            face.family, face.weight, face.file
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_script_stays_small() {
        let bytes = script_bytes();
        assert!(bytes > 0 && bytes < 40_000, "{bytes} bytes of script");
    }
}
