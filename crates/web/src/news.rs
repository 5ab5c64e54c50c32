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
use axum::response::{IntoResponse, Response};
use futures_util::stream::{self, Stream};
use tokio::sync::watch;

use crate::asked::Visitor;
use crate::bench::{Bench, Laid, last_number};
use crate::draw;
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

/// `POST /hand`: takes `what` in hand, or lays everything down.
pub async fn take(
    State(bench): State<Arc<Bench>>,
    Extension(visitor): Extension<Visitor>,
    body: Bytes,
) -> Response {
    let Some(who) = visitor.who else {
        return draw::words(StatusCode::CONFLICT, "Who are you?", "Say your name first.");
    };
    bench.hands.take(&who, Fields::read(&body).get("what"));
    StatusCode::NO_CONTENT.into_response()
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
