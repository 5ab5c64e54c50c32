//! Who may come in, and from where.
//!
//! Three questions are put to every request before a page hears of it:
//!
//! 1. **Which house is meant?** The `Host` must be an address of digits or a name this machine
//!    was given. A page elsewhere that has its own name lead here (DNS rebinding) is turned away.
//! 2. **Does the wish come from one of our own pages?** Whatever is not a mere look must bring
//!    the `Origin` of this very address, so that no other site can write through a visitor.
//! 3. **Is the visitor known?** On the network only the pairing link lets in: its key becomes a
//!    cookie that no script reads and no other site sends. The second link only lets look.
//!
//! On the loopback address whoever sits at the machine is known.

mod cookie;
mod keys;

use std::collections::BTreeSet;
use std::net::IpAddr;
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::{Path, Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, Uri, header, uri::Authority};
use axum::middleware::Next;
use axum::response::{AppendHeaders, Html, IntoResponse, Redirect, Response};

use crate::asked::Visitor;
use crate::bench::Bench;
use crate::draw;
use crate::form::Fields;
use crate::page;

pub use keys::{Key, Keys, KeysFault};

/// The longest name of a person, in characters.
const LONGEST_NAME: usize = 60;

/// The door of the pages.
#[derive(Debug)]
pub struct Door {
    /// What opens it.
    pub keys: Keys,
    /// Whether the pages are on the network and a key is asked for.
    pub lan: bool,
    /// Names of this machine beside its addresses, in small letters.
    names: BTreeSet<String>,
    /// The person at the machine itself.
    keeper: String,
}

impl Door {
    /// A door for these keys. `names` are what this machine is called on its network.
    #[must_use]
    pub fn new(keys: Keys, lan: bool, names: &[String], keeper: &str) -> Self {
        let mut names: BTreeSet<_> = names.iter().map(|name| name.to_lowercase()).collect();
        names.insert("localhost".to_owned());
        Self {
            keys,
            lan,
            names,
            keeper: keeper.to_owned(),
        }
    }

    /// Whether a host is this machine. An address of digits cannot be made to lead elsewhere.
    fn is_own(&self, host: &str) -> bool {
        let bare = host.trim_start_matches('[').trim_end_matches(']');
        match bare.parse::<IpAddr>() {
            Ok(address) => self.lan || address.is_loopback(),
            Err(_) => self.names.contains(&host.to_lowercase()),
        }
    }

    /// Who comes, by the cookies brought along; none is a stranger.
    fn visitor(&self, headers: &HeaderMap) -> Option<Visitor> {
        let shown = cookie::read(headers, &self.keys.cookie_name());
        let may_write = match shown.as_deref().and_then(|key| self.keys.fits(key)) {
            Some(key) => key == Key::Write,
            None if self.lan => return None,
            None => true,
        };
        let who = cookie::read(headers, cookie::WHO)
            .and_then(|name| proper_name(&name))
            .or_else(|| (!self.lan).then(|| self.keeper.clone()));
        Some(Visitor { who, may_write })
    }
}

/// The first two questions, and what every answer tells the browser. Stands before every address.
pub async fn house_rules(
    State(bench): State<Arc<Bench>>,
    request: Request,
    next: Next,
) -> Response {
    let mut response = match host(request.headers(), request.uri()) {
        Some(host) if bench.door.is_own(host.host()) => {
            if is_look(request.method()) || comes_from(request.headers(), &host) {
                read_whole(next.run(request).await)
            } else {
                draw::words(
                    StatusCode::FORBIDDEN,
                    "Not from here",
                    "Only these pages themselves may write into the job. Open the page and do it there.",
                )
            }
        }
        Some(_) | None => draw::words(
            StatusCode::MISDIRECTED_REQUEST,
            "Not my name",
            "Use the address that matchmark printed, or start it with --name and this name.",
        ),
    };
    for (name, value) in RULES {
        response
            .headers_mut()
            .entry(name)
            .or_insert(HeaderValue::from_static(value));
    }
    response
}

/// A form that was longer than its address takes was not read; the answer says so in words.
fn read_whole(response: Response) -> Response {
    let html = "text/html";
    let kind = response.headers().get(header::CONTENT_TYPE);
    let is_page = kind.is_some_and(|kind| kind.as_bytes().starts_with(html.as_bytes()));
    if response.status() == StatusCode::PAYLOAD_TOO_LARGE && !is_page {
        return draw::words(
            StatusCode::PAYLOAD_TOO_LARGE,
            "Too long",
            "What was sent is longer than a line can be. Nothing was written down. Go back and say it shorter, in two lines.",
        );
    }
    response
}

/// What a browser must not do with these pages: run a script of others, show them in a frame,
/// guess kinds, tell others the address, lend pictures to other sites.
const RULES: [(header::HeaderName, &str); 5] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'self'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
    ),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "same-origin"),
    (
        header::HeaderName::from_static("cross-origin-resource-policy"),
        "same-origin",
    ),
    (header::CACHE_CONTROL, "no-store"),
];

/// The third question. Stands before every address of the job.
pub async fn let_in(State(bench): State<Arc<Bench>>, mut request: Request, next: Next) -> Response {
    let Some(visitor) = bench.door.visitor(request.headers()) else {
        return draw::words(
            StatusCode::UNAUTHORIZED,
            "Not let in yet",
            "Point the camera of this phone at the square on the screen of the machine, or open the pairing link that stands there.",
        );
    };
    if !visitor.may_write && !is_look(request.method()) {
        return draw::words(
            StatusCode::FORBIDDEN,
            "For looking only",
            "This link only lets you look. Ask for the other one to write into the job.",
        );
    }
    if is_for_another_job(request.headers(), &bench.door.keys) {
        return draw::words(
            StatusCode::GONE,
            "Another job",
            "This was written for another job than the one that is open here.",
        );
    }
    request.extensions_mut().insert(visitor);
    next.run(request).await
}

/// What waited on a phone may reach a machine on which another job was opened meanwhile.
fn is_for_another_job(headers: &HeaderMap, keys: &Keys) -> bool {
    headers
        .get("matchmark-job")
        .is_some_and(|job| job.as_bytes() != keys.job().as_bytes())
}

/// `GET /pair/KEY`: lets a phone in and asks for a name. The page that answers leads on by a
/// link of its own: a cookie as strict as this one would not follow a redirect from elsewhere.
pub async fn pair(State(bench): State<Arc<Bench>>, Path(key): Path<String>) -> Response {
    let Some(fits) = bench.door.keys.fits(&key) else {
        return draw::words(
            StatusCode::UNAUTHORIZED,
            "This link does not fit",
            "The keys were changed. Use the link that stands on the screen of the machine now.",
        );
    };
    let keep = cookie::keep_secret(&bench.door.keys.cookie_name(), &key);
    let page = page::who::let_in(fits == Key::Write, &page::who::people(&bench));
    (
        AppendHeaders([(header::SET_COOKIE, keep)]),
        Html(page.into_string()),
    )
        .into_response()
}

/// `POST /who`: says the name of the person at this phone.
pub async fn say_name(body: Bytes) -> Response {
    let fields = Fields::read(&body);
    match fields.get("name").and_then(proper_name) {
        Some(name) => (
            AppendHeaders([(header::SET_COOKIE, keep_name(&name))]),
            Redirect::to(fields.back()),
        )
            .into_response(),
        None => draw::words(
            StatusCode::UNPROCESSABLE_ENTITY,
            "No name",
            &format!("A name has 1 to {LONGEST_NAME} letters. Go back and say it again."),
        ),
    }
}

/// The cookie that keeps a name on a phone.
pub fn keep_name(name: &str) -> String {
    cookie::keep(cookie::WHO, name)
}

/// A name as it may stand in the record.
pub fn proper_name(said: &str) -> Option<String> {
    let name = said.trim();
    let fits = (1..=LONGEST_NAME).contains(&name.chars().count());
    (fits && !name.contains(char::is_control)).then(|| name.to_owned())
}

/// Whether a request changes nothing.
fn is_look(method: &Method) -> bool {
    method == Method::GET || method == Method::HEAD
}

/// The host that is meant: the one in the address itself, else the only `Host` there is.
fn host(headers: &HeaderMap, uri: &Uri) -> Option<Authority> {
    if let Some(authority) = uri.authority() {
        return Some(authority.clone());
    }
    let mut said = headers.get_all(header::HOST).iter();
    let host = said.next()?.to_str().ok()?.parse().ok()?;
    said.next().is_none().then_some(host)
}

/// Whether a request was sent by a page of the host it is sent to.
fn comes_from(headers: &HeaderMap, host: &Authority) -> bool {
    headers
        .get(header::ORIGIN)
        .and_then(|origin| origin.to_str().ok())
        .and_then(|origin| origin.strip_prefix("http://"))
        .is_some_and(|origin| origin.eq_ignore_ascii_case(host.as_str()))
}

#[cfg(test)]
mod tests;
