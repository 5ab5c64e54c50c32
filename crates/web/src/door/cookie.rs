//! What a phone keeps for us: the key it was let in with, and the name said on it.

use std::borrow::Cow;

use axum::http::{HeaderMap, header};

/// The cookie with the name of the person.
pub const WHO: &str = "matchmark-who";

/// How long a phone keeps it: longer than an engine stands open.
const SECONDS: u32 = 400 * 24 * 60 * 60;

/// A value that was kept.
pub fn read(headers: &HeaderMap, name: &str) -> Option<String> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|line| line.to_str().ok())
        .flat_map(|line| line.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find(|(key, _)| *key == name)
        .and_then(|(_, value)| {
            // Written as a form is, so that a name may have any letter.
            form_urlencoded::parse(value.as_bytes())
                .next()
                .map(|(value, _)| Cow::into_owned(value))
        })
}

/// Keeps a value that the pages' own addresses get and nobody else.
pub fn keep(name: &str, value: &str) -> String {
    let value: String = form_urlencoded::byte_serialize(value.as_bytes()).collect();
    format!("{name}={value}; Path=/; Max-Age={SECONDS}; SameSite=Strict")
}

/// Keeps a value that no script may read either.
pub fn keep_secret(name: &str, value: &str) -> String {
    format!("{}; HttpOnly", keep(name, value))
}
