//! Answers that were worked out already.
//!
//! Until the next entry, or a change of the book, a question has the same answer, so the first who asks works it out and
//! the others wait for it: [`Answers::get`]. An order of work takes longer to find than a page
//! may take to come; who asks for such a one gets what was found before the last entry, or
//! nothing yet, and hears when the new one is there: [`Answers::latest`].

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use report::Report;
use tokio::sync::watch;

/// A moment of the job: how often its texts were read, and the number of its last entry.
pub type Moment = (u64, u64);

type Slot = Arc<OnceLock<Arc<Report>>>;

/// Answers by what was asked.
#[derive(Debug)]
pub struct Answers {
    quick: Mutex<(Moment, BTreeMap<String, Slot>)>,
    slow: Mutex<BTreeMap<String, Slow>>,
    news: watch::Sender<u64>,
}

/// An answer that takes its time, as far as it is known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Latest {
    /// The last one that was found.
    pub report: Option<Arc<Report>>,
    /// Whether there are entries it does not know of; a newer one is being worked out.
    pub behind: bool,
}

#[derive(Clone, Debug, Default)]
struct Slow {
    found: Option<(Moment, Arc<Report>)>,
    working: bool,
}

/// How many answers are kept; more means that somebody asks for made-up names.
const MOST: usize = 200;

impl Default for Answers {
    fn default() -> Self {
        Self {
            quick: Mutex::default(),
            slow: Mutex::default(),
            news: watch::Sender::new(0),
        }
    }
}

impl Answers {
    /// The answer to a question at a moment, worked out once.
    pub fn get(&self, moment: Moment, asked: &str, work: impl FnOnce() -> Report) -> Arc<Report> {
        let slot = self.slot(moment, asked);
        Arc::clone(slot.get_or_init(|| Arc::new(work())))
    }

    /// The last answer to a question, and whether whoever asks now is to work out a newer one.
    #[must_use]
    pub fn latest(&self, moment: Moment, asked: &str) -> (Latest, bool) {
        let mut slow = self.slow();
        if slow.len() > MOST {
            slow.retain(|_, slow| slow.working);
        }
        let slow = slow.entry(asked.to_owned()).or_default();
        let behind = slow.found.as_ref().is_none_or(|(found, _)| *found < moment);
        let begin = behind && !slow.working;
        slow.working |= begin;
        let report = slow.found.as_ref().map(|(_, report)| Arc::clone(report));
        (Latest { report, behind }, begin)
    }

    /// Keeps what was worked out at a moment, or that it broke off, and tells everybody.
    pub fn found(&self, moment: Moment, asked: &str, report: Option<Report>) {
        if let Some(slow) = self.slow().get_mut(asked) {
            slow.working = false;
            if let Some(report) = report {
                slow.found = Some((moment, Arc::new(report)));
            }
        }
        self.news.send_modify(|version| *version += 1);
    }

    /// Hears when a slow answer was found.
    #[must_use]
    pub fn news(&self) -> watch::Receiver<u64> {
        self.news.subscribe()
    }

    fn slot(&self, moment: Moment, asked: &str) -> Slot {
        let mut kept = self.quick.lock().unwrap_or_else(PoisonError::into_inner);
        if moment > kept.0 || kept.1.len() > MOST {
            *kept = (moment, BTreeMap::new());
        }
        if moment < kept.0 {
            // A page drawn from a job that has moved on: worked out, not kept.
            return Slot::default();
        }
        Arc::clone(kept.1.entry(asked.to_owned()).or_default())
    }

    fn slow(&self) -> MutexGuard<'_, BTreeMap<String, Slow>> {
        self.slow.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn report(title: &str) -> Report {
        Report::new("mixups", title)
    }

    #[test]
    fn an_answer_is_worked_out_once_an_entry() {
        let answers = Answers::default();
        let mut worked = 0;
        for number in [1, 1, 2, 2, 1] {
            answers.get((1, number), "mixups", || {
                worked += 1;
                report(&format!("{number}"))
            });
        }
        // Twice for the moments 1 and 2, once for a page that came late.
        assert_eq!(worked, 3);
        let again = answers.get((1, 2), "mixups", || unreachable!("it is kept"));
        assert_eq!(again.title, "2");
    }

    #[test]
    fn a_slow_answer_stands_until_the_next_is_found() {
        let answers = Answers::default();
        let mut news = answers.news();
        news.mark_unchanged();
        assert_eq!(
            answers.latest((1, 1), "day"),
            (
                Latest {
                    report: None,
                    behind: true
                },
                true
            )
        );
        // Somebody works on it: nobody else begins.
        assert_eq!(
            answers.latest((1, 1), "day"),
            (
                Latest {
                    report: None,
                    behind: true
                },
                false
            )
        );
        answers.found((1, 1), "day", Some(report("one")));
        assert!(news.has_changed().expect("the answers are there"));
        let (latest, begin) = answers.latest((1, 1), "day");
        assert!(!latest.behind && !begin);
        let (latest, begin) = answers.latest((1, 2), "day");
        assert!(latest.behind && begin);
        assert_eq!(latest.report.expect("the old one").title, "one");
        // The book was read anew: so is the answer.
        assert!(answers.latest((2, 1), "other").1);
        answers.found((2, 1), "other", Some(report("one")));
        assert!(answers.latest((3, 1), "other").0.behind);
        // It broke off: the old one stands, and the next who asks begins again.
        answers.found((1, 2), "day", None);
        let (latest, begin) = answers.latest((1, 2), "day");
        assert!(begin && latest.report.is_some());
    }
}
