//! What is kept as it was said: readings, notes, tags, checks, names.

use book::CheckId;
use report::Finding;

use super::{Applied, contradiction};
use crate::act::Act;
use crate::entry::EntryId;
use crate::item::folded;
use crate::met;
use crate::names::{NameFault, Named};
use crate::state::{Payment, State, Tag, Where};

impl State {
    /// Acts that only add to what is known and cannot contradict anything.
    pub(super) fn said(&mut self, id: EntryId, act: &Act) {
        match act {
            Act::Measured(measured) => self.readings.push((id, measured.clone())),
            Act::Cleaned { what, note } => self.cleaned.push((id, what.clone(), note.clone())),
            Act::TrialFitted { what, result } => {
                self.trials.push((id, what.clone(), result.clone()))
            }
            Act::Paid { amount, to, what } => self.payments.push(Payment {
                entry: id,
                amount: amount.clone(),
                to: to.clone(),
                what: what.clone(),
            }),
            Act::Photographed(shot) => self.photographed(id, shot),
            Act::Noted { about, text } => {
                let known = about
                    .as_ref()
                    .filter(|name| !self.names.all(name).is_empty());
                let text = match (about, known) {
                    // Words before a colon that name nothing are words of the note.
                    (Some(about), None) => format!("{about}: {text}"),
                    (_, _) => text.clone(),
                };
                self.notes.push((id, known.cloned(), text));
            }
            Act::GatePassed { gate, reason } => {
                self.passed.insert(met::id_of(gate), (id, reason.clone()));
            }
            Act::Cause { of, found } => self.causes.push((id, of.clone(), found.clone())),
            _ => {}
        }
    }

    pub(super) fn tagged(
        &mut self,
        entry: EntryId,
        tag: &str,
        end: &str,
        port: Option<&String>,
    ) -> Applied {
        let only_ends = |what: &Named| matches!(what, Named::End(..)).then_some(0);
        let found = match self.names.one(end, only_ends) {
            Ok(Named::End(line, end)) => Some((line, end)),
            Err(fault) if self.has_book => return Err(Box::new(fault.finding())),
            Ok(_) | Err(_) => None,
        };
        let same = |held: &&Tag| held.tag.eq_ignore_ascii_case(tag);
        if let Some(held) = self.tags.iter().find(same) {
            let says = format!(
                "tag {tag} is on {} since entry {}",
                held.end_typed, held.entry
            );
            return Err(contradiction(
                format!("tag {tag}"),
                says,
                "take another number, or correct the entry",
            ));
        }
        self.tags.push(Tag {
            entry,
            tag: tag.to_owned(),
            end: found,
            end_typed: end.to_owned(),
            port: port.cloned(),
        });
        Ok(())
    }

    pub(super) fn checked(
        &mut self,
        entry: EntryId,
        check: &str,
        result: Option<&String>,
    ) -> Applied {
        let typed = folded(check);
        let names = |known: &book::Check| -> Vec<String> {
            let label = known.label.iter().cloned();
            std::iter::once(known.id.to_string())
                .chain(label)
                .chain(known.was.iter().cloned())
                .collect()
        };
        let found = self
            .known
            .checks
            .iter()
            .find(|known| names(known).iter().any(|name| folded(name) == typed));
        let id = match found {
            Some(known) => known.id.clone(),
            None if self.has_book => {
                let near = self.known.checks.iter().map(|known| known.id.to_string());
                let near =
                    near.filter(|id| folded(id).contains(&typed) || typed.contains(&folded(id)));
                let fault = NameFault::Unknown {
                    name: check.to_owned(),
                    near: near.collect(),
                };
                return Err(Box::new(fault.finding()));
            }
            None => CheckId::new(met::id_of(check)),
        };
        self.checks.insert(id, (entry, result.cloned()));
        Ok(())
    }

    pub(super) fn renamed(&mut self, from: &str, to: &str) -> Applied {
        let Some(what) = self.in_hand(from, None, false)? else {
            return Err(Box::new(
                NameFault::Unknown {
                    name: from.to_owned(),
                    near: Vec::new(),
                }
                .finding(),
            ));
        };
        if !self.names.all(to).is_empty() && !self.names.all(to).contains(&what) {
            return Err(contradiction(
                to,
                format!("something else is called {to} already"),
                "choose another name, or write `same A as B`",
            ));
        }
        let label = Some(to.to_owned());
        match &what {
            Named::Part(id) => self
                .known
                .parts
                .iter_mut()
                .filter(|it| it.id == *id)
                .for_each(|it| it.label.clone_from(&label)),
            Named::Joint(id) => self
                .known
                .joints
                .iter_mut()
                .filter(|it| it.id == *id)
                .for_each(|it| it.label.clone_from(&label)),
            Named::Line(id) => self
                .known
                .lines
                .iter_mut()
                .filter(|it| it.id == *id)
                .for_each(|it| it.label.clone_from(&label)),
            Named::End(..) | Named::Circuit(_) => {}
        }
        self.names.add(to, what);
        Ok(())
    }

    pub(super) fn same_as(&mut self, one: &str, other: &str) -> Applied {
        let (known, new) = match (
            self.names.all(one).is_empty(),
            self.names.all(other).is_empty(),
        ) {
            (false, true) => (one, other),
            (true, false) => (other, one),
            (true, true) => {
                return Err(Box::new(
                    NameFault::Unknown {
                        name: one.to_owned(),
                        near: Vec::new(),
                    }
                    .finding(),
                ));
            }
            (false, false) => return self.merge(one, other),
        };
        self.names.alias(known, new);
        Ok(())
    }

    /// Two things that turn out to be one. A part that was only met by name goes at once; where
    /// both have a history the record is read again from its start with the two names for one
    /// thing, and what then contradicts is told entry by entry.
    fn merge(&mut self, one: &str, other: &str) -> Applied {
        let (first, second) = (self.names.all(one).to_vec(), self.names.all(other).to_vec());
        if first == second {
            return Ok(());
        }
        let in_book = |id: &str| !self.met.contains_key(id);
        let (first, second) = match (&first[..], &second[..]) {
            ([Named::Part(first)], [Named::Part(second)]) => (first, second),
            ([Named::Line(first)], [Named::Line(second)]) => {
                return self.read_again(
                    [one, other],
                    in_book(first.as_str()) && in_book(second.as_str()),
                );
            }
            _ => {
                return Err(contradiction(
                    one,
                    format!("{one} and {other} are not two parts and not two hoses"),
                    "correct the entries that name them",
                ));
            }
        };
        let bare = |id: &book::PartId| {
            self.met.contains_key(id.as_str())
                && !self.parts.contains_key(id)
                && self.known.joints_of(id).next().is_none()
        };
        let (keep, drop) = match (bare(first), bare(second)) {
            (_, true) => (first.clone(), second.clone()),
            (true, false) => (second.clone(), first.clone()),
            (false, false) => {
                return self.read_again(
                    [one, other],
                    in_book(first.as_str()) && in_book(second.as_str()),
                );
            }
        };
        self.names
            .redirect(&Named::Part(drop.clone()), &Named::Part(keep.clone()));
        for joint in self
            .known
            .joints
            .iter_mut()
            .filter(|joint| joint.to.id == drop)
        {
            joint.to.id = keep.clone();
        }
        let dropped = self
            .known
            .part(&drop)
            .map(|part| part.ports.clone())
            .unwrap_or_default();
        if let Some(kept) = self.known.parts.iter_mut().find(|part| part.id == keep) {
            kept.ports.extend(dropped);
        }
        for end in self.known.lines.iter_mut().flat_map(|line| &mut line.ends) {
            if end.port.id.part == drop {
                end.port.id.part = keep.clone();
            }
        }
        self.known.parts.retain(|part| part.id != drop);
        self.met.remove(drop.as_str());
        Ok(())
    }

    /// Asks for a replay with two names for one thing. Two things of the book stay two.
    fn read_again(&mut self, names: [&str; 2], both_in_book: bool) -> Applied {
        let [one, other] = names;
        if both_in_book {
            return Err(contradiction(
                one,
                format!("the book has {one} and {other} as two things"),
                "if they are one, change the book: the old id goes behind `was=` of the other",
            ));
        }
        self.one_thing.push(names.map(str::to_owned));
        Ok(())
    }

    pub(super) fn chosen(&mut self, entry: EntryId, variant: &str, value: &str) -> Applied {
        let known = self.known.variants.iter().find(|known| {
            folded(known.id.as_str()) == folded(variant)
                || known
                    .label
                    .as_deref()
                    .is_some_and(|label| folded(label) == folded(variant))
        });
        let Some(known) = known else {
            let near = self
                .known
                .variants
                .iter()
                .map(|known| known.id.to_string())
                .collect();
            return Err(Box::new(
                NameFault::Unknown {
                    name: variant.to_owned(),
                    near,
                }
                .finding(),
            ));
        };
        let Some(chosen) = known
            .values
            .iter()
            .find(|held| folded(held) == folded(value))
        else {
            let finding = Finding::new(
                "name-unknown",
                value,
                format!("{} has no value `{value}`", known.id),
            );
            return Err(Box::new(
                finding.next(format!("write one of: {}", known.values.join(", "))),
            ));
        };
        let (id, chosen) = (known.id.to_string(), chosen.clone());
        self.choices.insert(id, (entry, chosen));
        Ok(())
    }

    /// Whether a part is away from its place: off, aside or out of the house.
    #[must_use]
    pub fn is_away(&self, part: &book::PartId) -> bool {
        matches!(self.whereabouts(part), Where::Off | Where::Aside)
    }
}
