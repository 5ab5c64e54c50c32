//! What each of the people has in hand now. Nothing of it enters the record: it is forgotten
//! with the program, and after a while by itself.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use tokio::sync::watch;
use tokio::time::Instant;

/// A hand that was not heard of for so long holds nothing any more.
pub const FORGOTTEN: Duration = Duration::from_secs(45 * 60);

/// What the people have in hand.
#[derive(Debug)]
pub struct Hands {
    held: Mutex<BTreeMap<String, Held>>,
    news: watch::Sender<u64>,
}

/// One thing in one hand.
#[derive(Clone, Debug)]
struct Held {
    what: String,
    since: Instant,
}

/// Who has what in hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InHand {
    /// The person.
    pub who: String,
    /// The id of the thing: a part, a joint, a hole.
    pub what: String,
}

impl Default for Hands {
    fn default() -> Self {
        Self {
            held: Mutex::default(),
            news: watch::Sender::new(0),
        }
    }
}

impl Hands {
    /// Takes a thing in hand, or lays everything down. Says who else holds it.
    pub fn take(&self, who: &str, what: Option<&str>) -> Vec<String> {
        let others = self
            .all()
            .into_iter()
            .filter(|held| held.who != who && Some(held.what.as_str()) == what)
            .map(|held| held.who)
            .collect();
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        match what {
            Some(what) => held.insert(
                who.to_owned(),
                Held {
                    what: what.to_owned(),
                    since: Instant::now(),
                },
            ),
            None => held.remove(who),
        };
        drop(held);
        self.news.send_modify(|version| *version += 1);
        others
    }

    /// Everything in hand, by person.
    #[must_use]
    pub fn all(&self) -> Vec<InHand> {
        let held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        held.iter()
            .filter(|(_, held)| held.since.elapsed() < FORGOTTEN)
            .map(|(who, held)| InHand {
                who: who.clone(),
                what: held.what.clone(),
            })
            .collect()
    }

    /// Hears when a hand takes or lays down something.
    #[must_use]
    pub fn news(&self) -> watch::Receiver<u64> {
        self.news.subscribe()
    }
}
