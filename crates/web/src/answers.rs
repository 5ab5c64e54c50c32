//! Answers that were worked out since the last entry.
//!
//! An order of work takes longer to find than a page may take to come. Until the next entry it
//! is the same answer, so the first who asks works it out and the others wait for it.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use report::Report;

type Slot = Arc<OnceLock<Arc<Report>>>;

/// Answers by what was asked, all of one moment of the record.
#[derive(Debug, Default)]
pub struct Answers {
    kept: Mutex<(u64, BTreeMap<String, Slot>)>,
}

/// How many answers are kept; more means that somebody asks for made-up names.
const MOST: usize = 200;

impl Answers {
    /// The answer to a question at the moment of an entry, worked out once.
    pub fn get(&self, number: u64, asked: &str, work: impl FnOnce() -> Report) -> Arc<Report> {
        let slot = self.slot(number, asked);
        Arc::clone(slot.get_or_init(|| Arc::new(work())))
    }

    fn slot(&self, number: u64, asked: &str) -> Slot {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if number > kept.0 || kept.1.len() > MOST {
            *kept = (number, BTreeMap::new());
        }
        if number < kept.0 {
            // A page drawn from a job that has moved on: worked out, not kept.
            return Slot::default();
        }
        Arc::clone(kept.1.entry(asked.to_owned()).or_default())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_is_worked_out_once_an_entry() {
        let answers = Answers::default();
        let mut worked = 0;
        for number in [1, 1, 2, 2, 1] {
            answers.get(number, "mixups", || {
                worked += 1;
                Report::new("mixups", format!("{number}"))
            });
        }
        // Twice for the moments 1 and 2, once for a page that came late.
        assert_eq!(worked, 3);
        let again = answers.get(2, "mixups", || unreachable!("it is kept"));
        assert_eq!(again.title, "2");
    }
}
