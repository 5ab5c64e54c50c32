//! What has to be bought: surely, because it can be used once; or after everything was looked at.

use std::collections::BTreeSet;

use book::{Joint, Money, Part, PartId, Price, Ref};
use job::plan::{Plan, StepAct};
use job::{same_name, singular};

use super::work::Span;
use super::{Done, Ordered};
use crate::graph::Graph;

/// Something to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    /// In words, with its count: `2 plenum gaskets`.
    pub what: String,
    /// The part or joint it is for, by its id.
    pub concerns: String,
    /// Decided only when everything is off and was looked at; else needed whatever is found.
    pub after_inspection: bool,
    /// The price of all of them.
    pub price: Option<Price>,
    /// Days until it comes; nothing where the book does not say.
    pub(crate) lead: Option<Span>,
    /// The steps that need it, by number.
    pub(crate) wanted_by: Vec<usize>,
    /// What it may be called in an order.
    pub(crate) names: Vec<String>,
    /// How many.
    pub(crate) count: u32,
    /// It lies here already.
    pub(crate) here: bool,
    /// The day it was ordered, counted from the first.
    pub(crate) ordered: Option<i64>,
}

impl Purchase {
    /// Whether it still has to be ordered.
    #[must_use]
    pub fn open(&self) -> bool {
        !self.here && self.ordered.is_none()
    }

    /// Whether an order names just this.
    fn is_named_by(&self, order: &Ordered) -> bool {
        self.names.iter().any(|name| same_name(name, &order.what))
    }

    fn served_by(&mut self, order: &Ordered) {
        self.here |= order.here;
        self.ordered = self.ordered.max(Some(order.day));
    }

    /// Whether a name of two words or more is part of one of its names: `head gaskets` of
    /// `radiator head gasket`.
    fn could_be(&self, words: &BTreeSet<String>) -> bool {
        words.len() > 1
            && self
                .names
                .iter()
                .any(|name| words_of(name).is_superset(words))
    }
}

fn words_of(name: &str) -> BTreeSet<String> {
    let words = name.split(|letter: char| !letter.is_alphanumeric());
    let words = words.filter(|word| !word.is_empty());
    words.map(|word| singular(&word.to_lowercase())).collect()
}

/// What the steps that put things together need new.
pub(crate) fn purchases(graph: &Graph, plan: &Plan, done: &Done) -> Vec<Purchase> {
    let mut list = Vec::new();
    for (number, step) in plan.steps.iter().enumerate() {
        match (step.name.act, &step.name.target) {
            (StepAct::On, Ref::Part(part)) => {
                for part in std::iter::once(part).chain(&step.with) {
                    list.extend(part_to_buy(graph, part, number, done));
                }
            }
            (StepAct::DoUp, Ref::Joint(joint)) => {
                if let Some(joint) = graph.book().joint(joint) {
                    joint_to_buy(graph, joint, number, done, &mut list);
                }
            }
            _ => {}
        }
    }
    for order in &done.orders {
        serve(&mut list, order);
    }
    list
}

/// Enters an order of the record at what it is for: what it names, else everything its name is
/// part of. `2 head gaskets` are those of both heads; where there are too few, nobody knows whose
/// they are.
fn serve(list: &mut [Purchase], order: &Ordered) {
    let words = words_of(&order.what);
    let named = list.iter().any(|purchase| purchase.is_named_by(order));
    let mut meant: Vec<&mut Purchase> = list
        .iter_mut()
        .filter(|purchase| match named {
            true => purchase.is_named_by(order),
            false => purchase.could_be(&words),
        })
        .collect();
    let wanted: u32 = meant.iter().map(|purchase| purchase.count).sum();
    if named || wanted <= order.count {
        for purchase in &mut meant {
            purchase.served_by(order);
        }
    }
}

fn part_to_buy(graph: &Graph, id: &PartId, step: usize, done: &Done) -> Option<Purchase> {
    let part: &Part = graph.book().part(id)?;
    let once = part.one_use.known() == Some(&true);
    let wears = part.wearing.known() == Some(&true);
    if (!once && !wears) || done.renewed.contains(id) {
        return None;
    }
    let label = graph.part_name(id);
    Some(Purchase {
        what: label.clone(),
        concerns: id.to_string(),
        after_inspection: !once,
        price: part.price.known().cloned(),
        lead: part.lead.known().map(Span::days),
        wanted_by: vec![step],
        names: vec![id.to_string(), label],
        count: 1,
        here: false,
        ordered: None,
    })
}

fn joint_to_buy(graph: &Graph, joint: &Joint, step: usize, done: &Done, list: &mut Vec<Purchase>) {
    let name = graph.joint_name(&joint.id);
    let surely = |what: String, count: u32, names: Vec<String>, price| Purchase {
        what,
        concerns: joint.id.to_string(),
        after_inspection: false,
        price,
        lead: None,
        wanted_by: vec![step],
        names,
        count,
        here: false,
        ordered: None,
    };
    for seal in joint
        .seals
        .iter()
        .filter(|seal| seal.new.known() == Some(&true))
    {
        let in_place = done.seals.get(&(joint.id.clone(), seal.what.clone()));
        let count = seal.count.saturating_sub(in_place.copied().unwrap_or(0));
        if count == 0 {
            continue;
        }
        let words = if count == 1 {
            seal.what.clone()
        } else {
            format!("{count} {}", job::plural(&seal.what, count))
        };
        let price = seal.price.known().map(|price| times(price, count));
        list.push(surely(words, count, vec![seal.what.clone()], price));
    }
    let once = joint
        .holes
        .iter()
        .filter(|hole| hole.one_use.known() == Some(&true))
        .count();
    let fresh = done.fasteners.get(&joint.id).copied().unwrap_or(0);
    let count = u32::try_from(once.saturating_sub(fresh)).unwrap_or(u32::MAX);
    if count > 0 {
        let words = if count == 1 {
            format!("1 bolt or nut, {name}")
        } else {
            format!("{count} bolts or nuts, {name}")
        };
        list.push(surely(words, count, vec![name, joint.id.to_string()], None));
    }
}

fn times(price: &Price, count: u32) -> Price {
    let all = |money: &Money| Money {
        currency: money.currency.clone(),
        hundredths: money.hundredths.saturating_mul(i64::from(count)),
    };
    Price {
        low: all(&price.low),
        high: all(&price.high),
    }
}
