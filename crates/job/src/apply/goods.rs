//! What is lost, found, bought, sent out, exchanged and put in for a while; fluids.

use quantity::{Volume, read};

use super::{Applied, contradiction};
use crate::act::{Errand, Flow, Order};
use crate::entry::EntryId;
use crate::item::{Item, folded, same_name};
use crate::names::Named;
use crate::state::{Lost, Ordered, OutsideErrand, Replacement, State, TemporaryIn};

impl State {
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
            for lost in self.lost.iter_mut().filter(|lost| lost.item.may_be(item)) {
                let both = left.min(lost.item.count);
                lost.item.count -= both;
                left -= both;
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
                    self.renew(&joint, items);
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

    /// New seals and fasteners in a joint: seals count as put in, fasteners in their holes become new.
    fn renew(&mut self, joint: &book::JointId, items: &[Item]) {
        let Some(state) = self.joints.get_mut(joint) else {
            return;
        };
        for item in items {
            if item.is_fastener() {
                let holes = state.holes.values_mut().filter(|hole| {
                    hole.came_out
                        .as_ref()
                        .is_some_and(|came_out| item.is_like(came_out))
                });
                for hole in holes.take(usize::try_from(item.count).unwrap_or(usize::MAX)) {
                    let wanted = hole.came_out.clone().unwrap_or_else(|| item.counting(1));
                    let new = Item {
                        new: Some(true),
                        ..wanted
                    };
                    if hole.empty {
                        hole.came_out = Some(new);
                    } else {
                        hole.inside = Some(new);
                    }
                }
            } else {
                state.seals.push(Item {
                    new: Some(true),
                    ..item.clone()
                });
            }
        }
    }

    pub(super) fn order(&mut self, entry: EntryId, order: &Order) {
        self.orders.push(Ordered {
            order: order.clone(),
            since: entry,
            arrived: 0,
        });
    }

    pub(super) fn arrived(&mut self, what: &Item) -> Applied {
        let mut left = what.count;
        for held in self.orders.iter_mut().filter(|held| {
            same_name(&held.order.what.name, &what.name) && held.order.what.is_like(what)
        }) {
            let open = held.order.what.count.saturating_sub(held.arrived);
            let both = open.min(left);
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
        Ok(())
    }

    pub(super) fn sent(&mut self, entry: EntryId, errand: &Errand) -> Applied {
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

    pub(super) fn came_back(
        &mut self,
        entry: EntryId,
        what: &str,
        result: Option<&String>,
    ) -> Applied {
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
