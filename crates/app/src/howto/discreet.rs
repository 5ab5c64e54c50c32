//! What other people are not told: who worked, whom to call, which number plate.

use std::collections::BTreeSet;

use book::Shop;
use job::{Entry, EntryId};

/// Digits in a row, blanks and hyphens between them, from which a number may be a telephone's.
const TELEPHONE: usize = 7;

/// Letters and digits of a vehicle identification number (ISO 3779).
const VEHICLE: usize = 17;

/// Words that name a person here, and the entries that were left out for them.
#[derive(Debug)]
pub(super) struct Discreet {
    people: BTreeSet<String>,
    left_out: BTreeSet<EntryId>,
}

impl Discreet {
    pub(super) fn of(entries: &[Entry], shop: Option<&Shop>) -> Self {
        let people = shop.map_or(&[][..], |shop| &shop.people);
        let shop = people
            .iter()
            .flat_map(|person| [Some(person.id.to_string()), person.label.clone()])
            .flatten();
        let authors = entries.iter().map(|entry| entry.author.clone());
        let people = authors
            .chain(shop)
            .flat_map(|name| words(&name).map(str::to_lowercase).collect::<Vec<_>>())
            // What a machine calls its user when nobody said is no name.
            .filter(|word| !["me", "root", "user", "i"].contains(&word.as_str()))
            .collect();
        Self {
            people,
            left_out: BTreeSet::new(),
        }
    }

    /// The words, unless they would tell who or whom to call.
    pub(super) fn pass(&mut self, entry: EntryId, text: &str) -> Option<String> {
        if self.tells(text) {
            self.left_out.insert(entry);
            return None;
        }
        Some(text.to_owned())
    }

    fn tells(&self, text: &str) -> bool {
        words(text).any(|word| self.people.contains(&word.to_lowercase()))
            || text.contains('@')
            || long_number(text)
            || words(text).any(vehicle)
    }

    /// The entries whose words were left out.
    pub(super) fn left_out(&self) -> Vec<EntryId> {
        self.left_out.iter().copied().collect()
    }
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|sign: char| !sign.is_alphanumeric())
        .filter(|word| !word.is_empty())
}

fn long_number(text: &str) -> bool {
    let mut digits = 0;
    for sign in text.chars() {
        match sign {
            '0'..='9' => digits += 1,
            ' ' | '-' | '/' | '(' | ')' | '+' if digits > 0 => {}
            _ => digits = 0,
        }
        // Readings have units between them, and dots: `178 181 92` is shorter than a call.
        if digits > TELEPHONE && !text.contains('.') && !reading(text) {
            return true;
        }
    }
    false
}

/// Numbers of at most four digits each are readings.
fn reading(text: &str) -> bool {
    words(text)
        .filter(|word| word.chars().all(|sign| sign.is_ascii_digit()))
        .all(|number| number.len() <= 4)
}

fn vehicle(word: &str) -> bool {
    word.len() == VEHICLE
        && word.bytes().any(|byte| byte.is_ascii_digit())
        && word.bytes().any(|byte| byte.is_ascii_alphabetic())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn people_calls_and_vehicles_are_left_out_and_readings_are_not() {
        let mut discreet = Discreet {
            people: BTreeSet::from(["ana".to_owned()]),
            left_out: BTreeSet::new(),
        };
        let mut kept = |text: &str| discreet.pass(EntryId(1), text).is_some();
        assert!(kept("gasket torn between 3 and 5, banana shaped"));
        assert!(kept("178 181 92 176 95 180"));
        assert!(!kept("Ana held the light"));
        assert!(!kept("ask 0034 922 555 012345"));
        assert!(!kept("write to shop@example.org"));
        assert!(!kept("plate on the wing: ABC12345678901234"));
        assert_eq!(discreet.left_out(), [EntryId(1)]);
    }
}
