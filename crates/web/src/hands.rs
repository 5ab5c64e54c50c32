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
    wanted: String,
    since: Instant,
}

/// Who has what in hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InHand {
    /// The person.
    pub who: String,
    /// The id of the thing: a part, a joint, a hole.
    pub what: String,
    /// What it is on the way to, as the person said it; nothing on the way back.
    pub wanted: String,
}

impl Held {
    /// Whether it was not so long ago that it is forgotten.
    fn is_warm(&self) -> bool {
        self.since.elapsed() < FORGOTTEN
    }
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
    /// Takes a thing in hand, on the way to what is wanted.
    ///
    /// # Errors
    /// Who has it in hand already; two people do not get one thing.
    pub fn take(&self, who: &str, what: &str, wanted: &str) -> Result<(), String> {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        let other = held.iter().find(|(other, held)| {
            *other != who && held.is_warm() && job::same_name(&held.what, what)
        });
        if let Some((other, _)) = other {
            return Err(other.clone());
        }
        let taken = Held {
            what: what.to_owned(),
            wanted: wanted.to_owned(),
            since: Instant::now(),
        };
        held.insert(who.to_owned(), taken);
        drop(held);
        self.tell();
        Ok(())
    }

    /// Lays down what somebody has in hand: anything, or only that one thing.
    pub fn lay_down(&self, who: &str, what: Option<&str>) {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        let is_meant = held
            .get(who)
            .is_some_and(|held| what.is_none_or(|what| held.what == what));
        if is_meant {
            held.remove(who);
            drop(held);
            self.tell();
        }
    }

    /// Everything in hand, by person.
    #[must_use]
    pub fn all(&self) -> Vec<InHand> {
        let held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        held.iter()
            .filter(|(_, held)| held.is_warm())
            .map(|(who, held)| InHand {
                who: who.clone(),
                what: held.what.clone(),
                wanted: held.wanted.clone(),
            })
            .collect()
    }

    fn tell(&self) {
        self.news.send_modify(|version| *version += 1);
    }

    /// Hears when a hand takes or lays down something.
    #[must_use]
    pub fn news(&self) -> watch::Receiver<u64> {
        self.news.subscribe()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_people_do_not_get_one_thing() {
        let hands = Hands::default();
        assert_eq!(hands.take("ana", "on coil-pack", "head"), Ok(()));
        assert_eq!(hands.take("rui", "on Coil pack", ""), Err("ana".to_owned()));
        assert_eq!(hands.take("ana", "on coil-pack", ""), Ok(()), "her own");
        hands.lay_down("ana", Some("on loom"));
        assert_eq!(hands.all().len(), 1, "another thing is not laid down");
        hands.lay_down("ana", None);
        assert_eq!(hands.take("rui", "on coil-pack", ""), Ok(()));
    }
}
