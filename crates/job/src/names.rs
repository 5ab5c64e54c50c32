//! What a typed name means: the ids, labels and older names of a book and of everything met
//! since, ignoring case, spaces and hyphens.

use std::collections::BTreeMap;

use book::{Book, CircuitId, JointId, LineId, PartId};
use report::{Finding, Weight};

use crate::item::folded;

/// Something a line can be about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Named {
    /// A part.
    Part(PartId),
    /// A joint.
    Joint(JointId),
    /// A hose, pipe, lead, cable, connector or ground, with both its ends.
    Line(LineId),
    /// One end of it: 0 for `from`, 1 for `to`.
    End(LineId, usize),
    /// A circuit.
    Circuit(CircuitId),
}

impl Named {
    /// The id as the book writes it.
    #[must_use]
    pub fn shown(&self) -> String {
        match self {
            Self::Part(id) => id.to_string(),
            Self::Joint(id) => id.to_string(),
            Self::Line(id) => id.to_string(),
            Self::End(id, 0) => format!("{id}.from"),
            Self::End(id, _) => format!("{id}.to"),
            Self::Circuit(id) => id.to_string(),
        }
    }
}

/// Why a name means nothing that can be acted on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NameFault {
    /// Nothing has that name.
    Unknown {
        /// The name as typed.
        name: String,
        /// Names that are near.
        near: Vec<String>,
    },
    /// Several things have it.
    Ambiguous {
        /// The name as typed.
        name: String,
        /// All of them.
        candidates: Vec<String>,
    },
}

impl NameFault {
    /// The fault in a question: nothing can be made `new` by asking.
    #[must_use]
    pub fn asked(&self) -> Finding {
        let finding = self.finding();
        let Self::Unknown { near, .. } = self else {
            return finding;
        };
        finding.next(if near.is_empty() {
            "write the name as the book or a line has it; `matchmark outstanding` and `matchmark ends` list names".to_owned()
        } else {
            format!("write one of: {}", near.join(", "))
        })
    }

    /// The fault of a line, as a report shows it.
    #[must_use]
    pub fn finding(&self) -> Finding {
        match self {
            Self::Unknown { name, near } => {
                let says = format!("nothing here is called `{name}`");
                let finding = Finding::new("name-unknown", name.clone(), says);
                let next = if near.is_empty() {
                    "write the name as the book has it, or begin the line with `new`".to_owned()
                } else {
                    format!(
                        "write one of: {}; or begin the line with `new`",
                        near.join(", ")
                    )
                };
                finding.next(next).weight(Weight::Stop)
            }
            Self::Ambiguous { name, candidates } => {
                let says = format!("`{name}` can mean {} things", candidates.len());
                let next = format!("write one of: {}", candidates.join(", "));
                Finding::new("name-ambiguous", name.clone(), says)
                    .next(next)
                    .weight(Weight::Stop)
            }
        }
    }
}

/// Every name that is known, with what it means.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Names {
    by_name: BTreeMap<String, Vec<Named>>,
    /// Pairs of names, folded, that mean the same whatever comes to be called by one of them.
    alike: Vec<[String; 2]>,
}

impl Names {
    /// The names of a book.
    #[must_use]
    pub fn of(book: &Book) -> Self {
        let mut names = Self::default();
        for part in &book.parts {
            let all = spellings(part.id.as_str(), part.label.as_deref(), &part.was);
            names.add_all(&all, &Named::Part(part.id.clone()));
        }
        for joint in &book.joints {
            let all = spellings(joint.id.as_str(), joint.label.as_deref(), &joint.was);
            names.add_all(&all, &Named::Joint(joint.id.clone()));
        }
        for line in &book.lines {
            let all = spellings(line.id.as_str(), line.label.as_deref(), &line.was);
            names.add_line(&all, line);
        }
        for circuit in &book.circuits {
            let all = spellings(circuit.id.as_str(), circuit.label.as_deref(), &[]);
            names.add_all(&all, &Named::Circuit(circuit.id.clone()));
        }
        names
    }

    fn add_all(&mut self, names: &[String], what: &Named) {
        for name in names {
            self.add(name, what.clone());
        }
    }

    /// One more name for a thing.
    pub fn add(&mut self, name: &str, what: Named) {
        for name in self.spellings_of(name) {
            let held = self.by_name.entry(name).or_default();
            if !held.contains(&what) {
                held.push(what.clone());
            }
        }
    }

    /// Two names mean one thing from the start: what is called by one is called by the other.
    pub(crate) fn unite(&mut self, one: &str, other: &str) {
        self.alike.push([folded(one), folded(other)]);
        self.alias(one, other);
        self.alias(other, one);
    }

    /// A name, folded, and every name that means the same.
    fn spellings_of(&self, name: &str) -> Vec<String> {
        let mut all = vec![folded(name)];
        let mut at = 0;
        while at < all.len() {
            for [one, other] in &self.alike {
                let mate = if *one == all[at] {
                    other
                } else if *other == all[at] {
                    one
                } else {
                    continue;
                };
                if !all.contains(mate) {
                    all.push(mate.clone());
                }
            }
            at += 1;
        }
        all
    }

    /// A line, and its ends by side and by port: `hose.from`, `hose.head`, `hose.head.outlet`.
    pub(crate) fn add_line(&mut self, names: &[String], line: &book::Line) {
        let names: Vec<String> = names
            .iter()
            .flat_map(|name| self.spellings_of(name))
            .collect();
        for name in &names {
            self.add(name, Named::Line(line.id.clone()));
            for (end, side) in ["from", "to"].into_iter().enumerate() {
                let named = Named::End(line.id.clone(), end);
                let port = &line.ends[end].port.id;
                self.add(&format!("{name}.{side}"), named.clone());
                self.add(&format!("{name}.{}", port.part), named.clone());
                self.add(&format!("{name}.{port}"), named);
            }
        }
    }

    /// Everything the first of two names means, the second means too.
    pub fn alias(&mut self, name: &str, other: &str) {
        for what in self.by_name.get(&folded(name)).cloned().unwrap_or_default() {
            self.add(other, what);
        }
    }

    /// Every name of one thing means another from now on.
    pub(crate) fn redirect(&mut self, from: &Named, to: &Named) {
        for held in self.by_name.values_mut() {
            if held.contains(from) {
                held.retain(|what| what != from && what != to);
                held.push(to.clone());
            }
        }
    }

    /// Everything a name means.
    #[must_use]
    pub fn all(&self, name: &str) -> &[Named] {
        self.by_name.get(&folded(name)).map_or(&[], Vec::as_slice)
    }

    /// The one thing a name means, among the kinds the caller can act on.
    ///
    /// `rank` gives the preference of a kind, lower first; `None` leaves it out. A part and
    /// its joint may share a name; two parts may not.
    ///
    /// # Errors
    /// [`NameFault`], with near names or with all candidates.
    pub fn one(&self, name: &str, rank: impl Fn(&Named) -> Option<u8>) -> Result<Named, NameFault> {
        let mut ranked: Vec<(u8, &Named)> = self
            .all(name)
            .iter()
            .filter_map(|what| Some((rank(what)?, what)))
            .collect();
        ranked.sort();
        match ranked[..] {
            [] => Err(NameFault::Unknown {
                name: name.to_owned(),
                near: self.near(name, rank),
            }),
            [(first, _), (second, _), ..] if first == second => Err(NameFault::Ambiguous {
                name: name.to_owned(),
                candidates: ranked
                    .iter()
                    .filter(|(rank, _)| *rank == first)
                    .map(|(_, what)| what.shown())
                    .collect(),
            }),
            [(_, what), ..] => Ok(what.clone()),
        }
    }

    /// At most six names near a typed one.
    fn near(&self, name: &str, rank: impl Fn(&Named) -> Option<u8>) -> Vec<String> {
        let typed = folded(name);
        let mut near: Vec<(usize, String)> = Vec::new();
        for (known, means) in &self.by_name {
            let holds = known.contains(&typed) || typed.contains(known.as_str());
            let Some(what) = means.iter().find(|what| rank(what).is_some()) else {
                continue;
            };
            let distance = if holds { 0 } else { apart(known, &typed) };
            if distance <= 1 + typed.chars().count() / 5 && !matches!(what, Named::End(..)) {
                near.push((distance, what.shown()));
            }
        }
        near.sort();
        let mut shown: Vec<String> = Vec::new();
        for (_, name) in near {
            if !shown.contains(&name) && shown.len() < 6 {
                shown.push(name);
            }
        }
        shown
    }
}

fn spellings(id: &str, label: Option<&str>, was: &[String]) -> Vec<String> {
    let mut all = vec![id.to_owned()];
    all.extend(label.map(str::to_owned));
    all.extend(was.iter().cloned());
    all
}

/// Letters to add, leave out or change to get from one word to the other.
fn apart(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (above, letter) in one.chars().enumerate() {
        let mut diagonal = above;
        row[0] = above + 1;
        for (at, wanted) in other.iter().enumerate() {
            let change = diagonal + usize::from(letter != *wanted);
            diagonal = row[at + 1];
            row[at + 1] = change.min(row[at] + 1).min(diagonal + 1);
        }
    }
    row[other.len()]
}
