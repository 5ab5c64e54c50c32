//! What is lost, found, bought, sent out, exchanged and put in for a while; fluids.

use quantity::{Volume, read};
use report::Finding;

use super::{Applied, contradiction};
use crate::act::{Act, Errand, Flow, Order};
use crate::entry::EntryId;
use crate::item::{Item, folded, same_name};
use crate::names::Named;
use crate::state::{Lost, Ordered, OutsideErrand, Replacement, State, TemporaryIn};

impl State {
    /// What is bought, comes, is compared, goes out for work and comes back.
    pub(super) fn goods(&mut self, entry: EntryId, act: &Act) -> Applied {
        match act {
            Act::Ordered(order) => {
                self.order(entry, order);
                Ok(())
            }
            Act::Arrived { what, .. } => self.arrived(entry, what),
            Act::Compared { what, alike, seen } => {
                self.compared(entry, what, *alike, seen.as_ref())
            }
            Act::SentOut(errand) => self.sent(entry, errand),
            Act::Back { what, result } => self.came_back(entry, what, result.as_ref()),
            _ => Ok(()),
        }
    }

    pub(super) fn drained(&mut self, entry: EntryId, flow: &Flow) -> Applied {
        let circuit = self.circuit_named(entry, &flow.circuit)?;
        let amount = amount(flow);
        let held = self.circuits.entry(circuit).or_default();
        if !held.is_short() {
            held.drained.clear();
            held.filled.clear();
        }
        held.drained.push((entry, amount));
        held.drains.push(entry);
        Ok(())
    }

    pub(super) fn filled(&mut self, entry: EntryId, flow: &Flow) -> Applied {
        let circuit = self.circuit_named(entry, &flow.circuit)?;
        let amount = amount(flow);
        self.circuits
            .entry(circuit)
            .or_default()
            .filled
            .push((entry, amount));
        Ok(())
    }

    pub(super) fn lose(&mut self, entry: EntryId, items: &[Item], place: Option<&String>) {
        for item in items {
            self.lost.push(Lost {
                item: item.clone(),
                place: place.cloned(),
                since: entry,
            });
        }
    }

    pub(super) fn found(&mut self, entry: EntryId, items: &[Item], place: Option<&String>) {
        for item in items {
            let mut left = item.count;
            // What was lost by just this description first, then what it may be as well.
            for exact in [true, false] {
                for lost in self.lost.iter_mut().filter(|lost| {
                    lost.item.may_be(item) && (!exact || lost.item.counting(item.count) == *item)
                }) {
                    let both = left.min(lost.item.count);
                    lost.item.count -= both;
                    left -= both;
                }
            }
            self.lost.retain(|lost| lost.item.count > 0);
            if left > 0 {
                self.strays
                    .push((entry, item.counting(left), place.cloned()));
            }
        }
    }

    pub(super) fn replaced(
        &mut self,
        entry: EntryId,
        what: Option<&String>,
        items: &[Item],
        with: Option<&String>,
    ) -> Applied {
        let target = match what {
            Some(name) => self.in_hand(name, None, false)?,
            None => None,
        };
        match &target {
            Some(Named::Part(part)) if items.is_empty() => {
                self.parts.entry(part.clone()).or_default().renewed = true;
            }
            Some(Named::Part(_) | Named::Joint(_)) => {
                let joint = match &target {
                    Some(Named::Part(part)) => self
                        .known
                        .joints_of(part)
                        .next()
                        .map(|joint| joint.id.clone()),
                    Some(Named::Joint(joint)) => Some(joint.clone()),
                    Some(Named::Line(_) | Named::End(..) | Named::Circuit(_)) | None => None,
                };
                if let Some(joint) = joint {
                    self.renew(entry, &joint, items);
                }
            }
            Some(Named::Line(_) | Named::End(..) | Named::Circuit(_)) | None => {}
        }
        self.replacements.push(Replacement {
            entry,
            what: what.cloned(),
            items: items.to_vec(),
            with: with.cloned(),
        });
        Ok(())
    }

    fn order(&mut self, entry: EntryId, order: &Order) {
        self.orders.push(Ordered {
            order: order.clone(),
            since: entry,
            arrived: 0,
        });
    }

    /// Something that came: against what was ordered by that name, and beside the old one
    /// where it is a part of the engine.
    fn arrived(&mut self, entry: EntryId, what: &Item) -> Applied {
        let mut left = what.count;
        let mut unlike = None;
        for held in self.orders.iter_mut().filter(|held| {
            let ordered = &held.order.what;
            ordered.sort == what.sort && same_name(&ordered.name, &what.name)
        }) {
            let open = held.order.what.count.saturating_sub(held.arrived);
            let both = open.min(left);
            if both > 0 && !held.order.what.may_be(what) {
                unlike.get_or_insert_with(|| held.order.what.shown());
            }
            held.arrived += both;
            left -= both;
        }
        if left == what.count {
            return Err(contradiction(
                what.shown(),
                format!("no open order has {}", what.shown()),
                "write `ordered …` first, or correct the name",
            ));
        }
        if left > 0 {
            let says = format!("{left} more came than were ordered");
            let finding = Finding::new("more-than-ordered", what.shown(), says)
                .next("count again, or send them back");
            self.note_finding(entry, finding);
        }
        if let Some(ordered) = unlike {
            let says = format!("{} came, {ordered} was ordered", what.shown());
            let finding = Finding::new("not-as-ordered", what.shown(), says)
                .next("lay them beside the old ones before the parcel is thrown away");
            self.note_finding(entry, finding);
        }
        let only_parts = |named: &Named| matches!(named, Named::Part(_)).then_some(0);
        if let Ok(Named::Part(part)) = self.names.one(&what.name, only_parts) {
            let held = self.parts.entry(part).or_default();
            held.arrived = Some(entry);
            held.compared = None;
        }
        Ok(())
    }

    /// A new part beside the old one.
    fn compared(
        &mut self,
        entry: EntryId,
        what: &str,
        alike: bool,
        seen: Option<&String>,
    ) -> Applied {
        let Some(Named::Part(part)) = self.in_hand(what, None, false)? else {
            return Err(contradiction(
                what,
                format!("{what} is no part"),
                "only a part is laid beside the old one; a bolt is compared by its size in `on …`",
            ));
        };
        let held = self.parts.entry(part).or_default();
        if held.arrived.is_none() {
            return Err(contradiction(
                what,
                format!("no new {what} has come"),
                "write `ordered …` and `arrived …` first",
            ));
        }
        held.compared = Some((entry, seen.cloned()));
        held.unlike = !alike;
        Ok(())
    }

    fn sent(&mut self, entry: EntryId, errand: &Errand) -> Applied {
        let part = match self.in_hand(&errand.part, None, false)? {
            Some(Named::Part(part)) => Some(part),
            Some(_) | None => None,
        };
        let open = self
            .errands
            .iter()
            .find(|held| held.back.is_none() && folded(&held.errand.part) == folded(&errand.part));
        if let Some(open) = open {
            let says = format!("{} is out since entry {}", errand.part, open.since);
            return Err(contradiction(
                errand.part.clone(),
                says,
                "write `back NAME` first",
            ));
        }
        self.errands.push(OutsideErrand {
            errand: errand.clone(),
            part,
            since: entry,
            back: None,
        });
        Ok(())
    }

    fn came_back(&mut self, entry: EntryId, what: &str, result: Option<&String>) -> Applied {
        let part = self.in_hand(what, None, false)?;
        let held = self.errands.iter_mut().find(|held| {
            held.back.is_none()
                && (folded(&held.errand.part) == folded(what)
                    || held.part.is_some() && held.part.clone().map(Named::Part) == part)
        });
        match held {
            Some(held) => {
                held.back = Some((entry, result.cloned()));
                Ok(())
            }
            None => Err(contradiction(
                what,
                format!("{what} was not sent out"),
                "if it was put back in its place, write `on NAME`",
            )),
        }
    }

    pub(super) fn put_in(&mut self, entry: EntryId, place: &str, items: &[Item]) {
        for item in items {
            self.temporaries.push(TemporaryIn {
                item: item.clone(),
                place: place.to_owned(),
                since: entry,
            });
        }
    }

    pub(super) fn taken_out(&mut self, place: &str, items: &[Item]) -> Applied {
        let here = |held: &TemporaryIn| folded(&held.place) == folded(place);
        if items.is_empty() {
            if !self.temporaries.iter().any(here) {
                return Err(contradiction(
                    place,
                    format!("nothing was put into {place}"),
                    "write the place as it was written going in",
                ));
            }
            self.temporaries.retain(|held| !here(held));
            return Ok(());
        }
        for item in items {
            let inside: u32 = self
                .temporaries
                .iter()
                .filter(|held| here(held) && held.item.may_be(item))
                .map(|held| held.item.count)
                .sum();
            if inside < item.count {
                let says = format!(
                    "{} went into {place}, {} would come out",
                    inside,
                    item.shown()
                );
                return Err(contradiction(
                    place,
                    says,
                    "count again; write the place as it was written going in",
                ));
            }
        }
        for item in items {
            let mut left = item.count;
            for held in self
                .temporaries
                .iter_mut()
                .filter(|held| here(held) && held.item.may_be(item))
            {
                let both = left.min(held.item.count);
                held.item.count -= both;
                left -= both;
            }
        }
        self.temporaries.retain(|held| held.item.count > 0);
        Ok(())
    }
}

/// The amount of a flow. A line whose amount cannot be read never gets this far.
fn amount(flow: &Flow) -> Option<Volume> {
    let typed = flow.amount.as_deref()?;
    read::<Volume>(typed).ok().map(|said| said.value)
}
