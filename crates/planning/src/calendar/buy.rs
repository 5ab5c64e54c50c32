//! What has to be bought: surely, because it can be used once; or after everything was looked at.

use std::collections::BTreeSet;

use book::{Joint, Money, Part, PartId, Price, Ref};
use job::plan::{Plan, StepAct};

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

    /// Takes in what the record says of orders. Every order serves one purchase.
    fn known_from(mut self, orders: &[Ordered], names: &[&str]) -> Self {
        let plain = |text: &str| -> String {
            let letters = text.chars().filter(|letter| letter.is_alphanumeric());
            letters.flat_map(char::to_lowercase).collect()
        };
        let names: BTreeSet<String> = names.iter().map(|name| plain(name)).collect();
        let mine = orders
            .iter()
            .filter(|order| names.contains(&plain(&order.what)));
        for order in mine {
            self.here |= order.here;
            self.ordered = self.ordered.max(Some(order.day));
        }
        self
    }
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
    list
}

fn part_to_buy(graph: &Graph, id: &PartId, step: usize, done: &Done) -> Option<Purchase> {
    let part: &Part = graph.book().part(id)?;
    let once = part.one_use.known() == Some(&true);
    let wears = part.wearing.known() == Some(&true);
    if (!once && !wears) || done.renewed.contains(id) {
        return None;
    }
    let label = graph.part_name(id);
    let purchase = Purchase {
        what: label.clone(),
        concerns: id.to_string(),
        after_inspection: !once,
        price: part.price.known().cloned(),
        lead: part.lead.known().map(Span::days),
        wanted_by: vec![step],
        here: false,
        ordered: None,
    };
    Some(purchase.known_from(&done.orders, &[id.as_str(), &label]))
}

fn joint_to_buy(graph: &Graph, joint: &Joint, step: usize, done: &Done, list: &mut Vec<Purchase>) {
    let name = graph.joint_name(&joint.id);
    let surely = |what: String, price| Purchase {
        what,
        concerns: joint.id.to_string(),
        after_inspection: false,
        price,
        lead: None,
        wanted_by: vec![step],
        here: false,
        ordered: None,
    };
    for seal in joint
        .seals
        .iter()
        .filter(|seal| seal.new.known() == Some(&true))
    {
        let plural = job::plural(&seal.what, seal.count);
        let words = if seal.count == 1 {
            seal.what.clone()
        } else {
            format!("{} {plural}", seal.count)
        };
        let price = seal.price.known().map(|price| times(price, seal.count));
        list.push(surely(words, price).known_from(&done.orders, &[&seal.what, &plural]));
    }
    let once = joint
        .holes
        .iter()
        .filter(|hole| hole.one_use.known() == Some(&true))
        .count();
    if once > 0 {
        let words = if once == 1 {
            format!("1 bolt or nut, {name}")
        } else {
            format!("{once} bolts or nuts, {name}")
        };
        list.push(surely(words, None).known_from(&done.orders, &[&name, joint.id.as_str()]));
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
