//! A job begun from five answers, each of which may be left out.
//!
//! What is said becomes a build book, a shop file and a first line of the record, all of them
//! plain text that can be changed later. What is not said is not made up.

use std::path::Path;

use report::{Finding, Report};

use super::SKELETON;
use crate::folder::{Folder, Hand, SHOP};

const COMMAND: &str = "new";
const TITLE: &str = "A new job";

/// The five answers as they were typed; empty ones count as left out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Answers {
    /// What the vehicle or the job is called.
    pub name: Option<String>,
    /// Whether the engine is the one of the skeleton book: two banks, mounted across.
    pub skeleton: bool,
    /// What the job is for: what is wrong, what is to be got at.
    pub aim: Option<String>,
    /// Who works on it: names with commas between them.
    pub people: Option<String>,
    /// The range of the torque wrench on its own scale: `20..200 lbf·in`.
    pub wrench: Option<String>,
}

/// Begins the job in a folder where none is.
#[must_use]
pub fn five(path: &Path, answers: &Answers, hand: &Hand) -> Report {
    let book = answers.skeleton.then(|| book(answers.name.as_deref()));
    let shop = shop(answers);
    if let Some(shop) = &shop {
        let faults = book::read_shop(shop).1;
        if !faults.is_empty() {
            return not_a_range(answers.wrench.as_deref().unwrap_or_default());
        }
    }
    let mut folder = match Folder::begin(path, book.as_deref(), shop.as_deref()) {
        Ok(folder) => folder,
        Err(fault) => return fault.refusal(COMMAND),
    };
    let said: Vec<String> = [
        answers.name.as_ref().filter(|_| book.is_none()),
        answers.aim.as_ref(),
    ]
    .into_iter()
    .flatten()
    .map(|words| format!("note {words}"))
    .collect();
    if !said.is_empty() {
        let logged = crate::lines::log(&mut folder, hand, &said);
        if logged.refused {
            return logged;
        }
    }
    super::begun(&folder)
}

/// The skeleton under the name of the job.
fn book(name: Option<&str>) -> String {
    let Some(name) = name else {
        return SKELETON.to_owned();
    };
    SKELETON
        .lines()
        .map(|line| {
            if line.starts_with("book ") {
                format!("book {}\n", quoted(name))
            } else {
                format!("{line}\n")
            }
        })
        .collect()
}

/// The workshop, as far as it was told; nothing if nothing was.
fn shop(answers: &Answers) -> Option<String> {
    let people = answers.people.iter().flat_map(|people| people.split(','));
    let people: Vec<&str> = people
        .map(str::trim)
        .filter(|name| !name.is_empty())
        .collect();
    if people.is_empty() && answers.wrench.is_none() {
        return None;
    }
    let mut text = "shop\n".to_owned();
    for (at, name) in people.iter().enumerate() {
        text += &format!("person {} {}\n", id(name, at), quoted(name));
    }
    if let Some(range) = &answers.wrench {
        let unit = range.trim_start_matches(|letter: char| !letter.is_alphabetic());
        text += &format!(
            "wrench mine range={} unit={}\n",
            quoted(range),
            quoted(unit)
        );
    }
    Some(text)
}

/// A name as an id: its letters and digits, small; a number where nothing is left of it.
fn id(name: &str, at: usize) -> String {
    let id: String = name
        .chars()
        .map(|letter| {
            if letter.is_alphanumeric() {
                letter
            } else {
                '-'
            }
        })
        .flat_map(char::to_lowercase)
        .collect();
    let id = id.trim_matches('-');
    if id.starts_with(char::is_alphabetic) {
        id.to_owned()
    } else {
        format!("person-{}", at + 1)
    }
}

/// Text between quotes, as the book reads it back.
fn quoted(text: &str) -> String {
    let safe: String = text
        .chars()
        .map(|letter| if is_hidden(letter) { ' ' } else { letter })
        .collect();
    format!(
        "\"{}\"",
        safe.trim().replace('\\', "\\\\").replace('"', "\\\"")
    )
}

/// Signs that nobody sees and that a book may not hold as they are: line ends, controls, signs
/// that turn the direction of writing.
fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{feff}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

fn not_a_range(typed: &str) -> Report {
    let says = format!("`{typed}` is not understood as the range of a torque wrench");
    let finding = Finding::new("wrench", "the torque wrench", says)
        .next("write it as its scale has it, as in `20..200 lbf·in`, or leave it out");
    let mut report = Report::refusal(COMMAND, TITLE, finding);
    report.headline = Some(format!("Not begun: {SHOP} would have a fault."));
    report
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hand() -> Hand {
        Hand {
            author: "ana".to_owned(),
            micros: 0,
            client: "first".to_owned(),
        }
    }

    fn begun(answers: &Answers) -> (tempfile::TempDir, Folder) {
        let dir = tempfile::tempdir().expect("a folder");
        let report = five(dir.path(), answers, &hand());
        assert!(!report.refused, "{:?}", report.findings);
        let folder = Folder::open(dir.path()).expect("a job");
        (dir, folder)
    }

    #[test]
    fn every_answer_may_be_left_out() {
        let (_dir, folder) = begun(&Answers::default());
        assert!(folder.book.is_none() && folder.shop.is_none() && folder.entries.is_empty());
    }

    #[test]
    fn what_is_said_stands_in_book_shop_and_record() {
        let (_dir, folder) = begun(&Answers {
            name: Some("Post \"van\" \\ 2\u{202e}\n".to_owned()),
            skeleton: true,
            aim: Some("loses coolant, both heads off".to_owned()),
            people: Some("Ana, Søren K. , 3".to_owned()),
            wrench: Some("20..200 lbf·in".to_owned()),
        });
        let book = folder.book.expect("the skeleton");
        assert_eq!(book.title.as_deref(), Some("Post \"van\" \\ 2"));
        let shop = folder.shop.expect("a workshop");
        let people: Vec<_> = shop.people.iter().map(|one| one.id.to_string()).collect();
        assert_eq!(people, ["ana", "søren-k", "person-3"]);
        assert_eq!(shop.wrenches.len(), 1);
        assert_eq!(folder.entries[0].line, "note loses coolant, both heads off");
    }

    #[test]
    fn a_name_without_a_book_is_the_first_line() {
        let (_dir, folder) = begun(&Answers {
            name: Some("Post van".to_owned()),
            ..Answers::default()
        });
        assert_eq!(folder.entries[0].line, "note Post van");
    }

    #[test]
    fn a_wrench_that_is_not_understood_begins_nothing() {
        let dir = tempfile::tempdir().expect("a folder");
        for wrench in ["20", "20..200", "big one", "200..20 N·m"] {
            let answers = Answers {
                wrench: Some(wrench.to_owned()),
                ..Answers::default()
            };
            let report = five(dir.path(), &answers, &hand());
            assert!(report.refused && report.finds("wrench"), "{wrench}");
        }
        assert!(Folder::open(dir.path()).is_err());
    }
}
