//! What happens on the bench, told while it happens.
//!
//! A page says which entry it was drawn after. It first hears every later one, then the new
//! ones as they come, none twice and none left out: what was told last is the only thing the
//! stream remembers, and it reads on from there in the record. A browser that lost the line
//! names the last entry it heard of, and the story goes on after that one.

use std::collections::VecDeque;
use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::Extension;
use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::sse::{Event, Sse};
use axum::response::{IntoResponse, Redirect, Response};
use futures_util::stream::{self, Stream};
use tokio::sync::watch;

use crate::asked::Visitor;
use crate::bench::{Bench, Laid, last_number};
use crate::draw;
use crate::entry;
use crate::form::Fields;

/// A page that hears nothing for longer than twice this opens its ear anew.
const TICK: Duration = Duration::from_secs(15);

/// `GET /news?after=N`. Events: `entry` (one of the record, with its number as id), `hands`
/// (what everybody has in hand), `answer` (a slow one was found), `anew` (book or workshop
/// were read anew), `tick` (nothing new, the number of the last entry).
pub async fn stream(
    State(bench): State<Arc<Bench>>,
    RawQuery(query): RawQuery,
    headers: HeaderMap,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let query = Fields::read(query.unwrap_or_default().as_bytes());
    let heard = headers
        .get("last-event-id")
        .and_then(|id| id.to_str().ok())
        .or(query.get("after"))
        .and_then(|number| number.parse().ok());
    let ear = Ear::new(bench, heard);
    Sse::new(stream::unfold(ear, async |mut ear| {
        let event = ear.next().await?;
        Some((Ok(event), ear))
    }))
}

/// The longest name of a thing in hand, and of what is wanted, in bytes: everybody is told it.
const LONGEST: usize = 200;

/// `POST /hand`: takes `what` in hand on the way to `for`, or lays everything down; `back` for a
/// page without script.
pub async fn take(
    State(bench): State<Arc<Bench>>,
    Extension(visitor): Extension<Visitor>,
    headers: HeaderMap,
    body: Bytes,
) -> Response {
    let fields = Fields::read(&body);
    let refused = |status, title: &str, says: &str| {
        if entry::wants_json(&headers) {
            (status, says.to_owned()).into_response()
        } else {
            draw::words(status, title, says)
        }
    };
    let Some(who) = visitor.who else {
        let says = "Say your name at the top of the page first.";
        return refused(StatusCode::CONFLICT, "Who are you?", says);
    };
    let (what, wanted) = (fields.get("what"), fields.get("for").unwrap_or_default());
    if what.unwrap_or_default().len().max(wanted.len()) > LONGEST {
        let says = "That is no act of this job. Go back and take one that the page shows.";
        return refused(StatusCode::UNPROCESSABLE_ENTITY, "Not taken", says);
    }
    match what.map(|what| bench.hands.take(&who, what, wanted)) {
        Some(Err(other)) => {
            let says =
                format!("{other} has it in hand. Take another one, or ask {other} to lay it down.");
            return refused(StatusCode::CONFLICT, "In other hands", &says);
        }
        Some(Ok(())) => {}
        None => bench.hands.lay_down(&who, None),
    }
    if entry::wants_json(&headers) {
        StatusCode::NO_CONTENT.into_response()
    } else {
        Redirect::to(fields.back()).into_response()
    }
}

/// One page that listens.
struct Ear {
    bench: Arc<Bench>,
    entries: watch::Receiver<u64>,
    hands: watch::Receiver<u64>,
    answers: watch::Receiver<u64>,
    closed: watch::Receiver<bool>,
    /// The last entry that was told.
    told: u64,
    /// How often the texts of the job had been read.
    reading: u64,
    waiting: VecDeque<Event>,
}

impl Ear {
    /// Listens first and reads then, so that nothing falls between the two.
    fn new(bench: Arc<Bench>, heard: Option<u64>) -> Self {
        let mut hands = bench.hands.news();
        hands.mark_changed();
        // An answer may have been found while the page was on its way.
        let mut answers = bench.answers.news();
        answers.mark_changed();
        let entries = bench.news();
        let last = *entries.borrow();
        let mut ear = Self {
            entries,
            hands,
            answers,
            closed: bench.closed(),
            told: heard.unwrap_or(last),
            reading: bench.laid().map_or(0, |laid| laid.reading),
            waiting: VecDeque::new(),
            bench,
        };
        // At once, so that a page which knows more entries than there are draws itself anew.
        ear.waiting.push_back(ear.tick());
        ear.read_on();
        ear
    }

    /// The next event; none when the pages close.
    async fn next(&mut self) -> Option<Event> {
        loop {
            if *self.closed.borrow() {
                return None;
            }
            if let Some(event) = self.waiting.pop_front() {
                return Some(event);
            }
            tokio::select! {
                _ = self.closed.changed() => {}
                changed = self.entries.changed() => { changed.ok()?; self.read_on(); }
                changed = self.hands.changed() => { changed.ok()?; self.waiting.push_back(self.in_hand()); }
                changed = self.answers.changed() => {
                    changed.ok()?;
                    self.waiting.push_back(Event::default().event("answer").data("true"));
                }
                () = tokio::time::sleep(TICK) => self.waiting.push_back(self.tick()),
            }
        }
    }

    /// What the record holds after the last entry that was told.
    fn read_on(&mut self) {
        let Some(Laid {
            folder, reading, ..
        }) = self.bench.laid()
        else {
            return;
        };
        if self.reading != reading {
            self.reading = reading;
            self.waiting
                .push_back(Event::default().event("anew").data("true"));
        }
        let from = folder
            .entries
            .partition_point(|entry| entry.id.0 <= self.told);
        for entry in &folder.entries[from..] {
            let number = entry.id.0;
            let data = wire::entry(number, &entry.author, &entry.line);
            let event = Event::default().event("entry").id(number.to_string());
            self.waiting.push_back(event.data(data));
        }
        self.told = self.told.max(last_number(&folder));
    }

    fn in_hand(&self) -> Event {
        let held = self.bench.hands.all();
        let held = held.iter().map(|one| (one.who.as_str(), one.what.as_str()));
        Event::default().event("hands").data(wire::hands(held))
    }

    fn tick(&self) -> Event {
        let last = *self.entries.borrow();
        Event::default().event("tick").data(last.to_string())
    }
}

#[cfg(test)]
mod tests;
