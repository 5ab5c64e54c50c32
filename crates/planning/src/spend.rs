//! What a removal costs beside minutes: one-use parts, new seals, fasteners that can be used once,
//! and fluids.

use std::collections::BTreeSet;

use book::{CircuitId, Money, Price};
use quantity::{Duration, Volume};

use crate::graph::{At, Graph};
use crate::removal::Lift;
use crate::step::cures;

/// What has to be new, and what has to be filled again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spend {
    /// One-use things in words, with their count: `8 bolts, head bolts`.
    pub one_use: Vec<String>,
    /// Known prices added up, one sum a currency, fluids included.
    pub money: Vec<Price>,
    /// One-use things whose price nobody wrote.
    pub unpriced: usize,
    /// Circuits to drain and fill, with their capacity where it is known.
    pub fluids: Vec<(CircuitId, Option<Volume>)>,
    /// The longest time a sealant of an opened joint cures.
    pub cures: Option<Duration>,
}

impl Spend {
    /// The sums in words: `45 EUR`, `45..60 EUR`, nothing where nothing is priced.
    #[must_use]
    pub fn shown(&self) -> String {
        let sums: Vec<String> = self.money.iter().map(ToString::to_string).collect();
        sums.join(" + ")
    }

    fn add(&mut self, words: String, price: Option<&Price>, times: u32) {
        self.one_use.push(words);
        match price {
            Some(price) => self.pay(price, f64::from(times)),
            None => self.unpriced += 1,
        }
    }

    fn pay(&mut self, price: &Price, times: f64) {
        let scaled = |money: &Money| Money {
            currency: money.currency.clone(),
            // A book's prices are at most ten millions; a thousand of them stay far within an i64.
            hundredths: (money.hundredths as f64 * times).round() as i64,
        };
        let (low, high) = (scaled(&price.low), scaled(&price.high));
        for sum in &mut self.money {
            if let (Some(low), Some(high)) =
                (sum.low.checked_add(&low), sum.high.checked_add(&high))
            {
                *sum = Price { low, high };
                return;
            }
        }
        self.money.push(Price { low, high });
    }
}

impl Graph {
    /// What these lifts cost beside minutes, when these circuits are dry already.
    pub(crate) fn spend(&self, lifts: &[Lift], dry: &BTreeSet<CircuitId>) -> Spend {
        let mut spend = Spend::default();
        let mut joints = BTreeSet::new();
        let mut lines = BTreeSet::new();
        let mut circuits: BTreeSet<usize> = BTreeSet::new();
        for lift in lifts {
            let node = &self.nodes[lift.part];
            self.spend_part(lift.part, &mut spend);
            joints.extend(&node.joints);
            lines.extend(node.ends.iter().map(|&(line, _)| line));
            circuits.extend(&node.circuits);
        }
        for joint in joints {
            self.spend_joint(joint, &mut spend);
        }
        for line in lines.into_iter().map(|line| &self.book().lines[line]) {
            if line.one_use.known() == Some(&true) {
                spend.add(self.line_name(&line.id), line.price.known(), 1);
            }
        }
        for circuit in circuits
            .into_iter()
            .map(|circuit| &self.book().circuits[circuit])
        {
            if dry.contains(&circuit.id) {
                continue;
            }
            let capacity = circuit.capacity.known().copied();
            if let (Some(price), Some(volume)) = (circuit.price.known(), capacity) {
                spend.pay(price, volume.in_litres());
            }
            spend.fluids.push((circuit.id.clone(), capacity));
        }
        spend
    }

    fn spend_part(&self, at: At, spend: &mut Spend) {
        let part = self.part(at);
        if part.one_use.known() == Some(&true) {
            spend.add(self.part_name(&part.id), part.price.known(), 1);
        }
    }

    fn spend_joint(&self, joint: usize, spend: &mut Spend) {
        let joint = &self.book().joints[joint];
        let name = self.joint_name(&joint.id);
        let once = joint
            .holes
            .iter()
            .filter(|hole| hole.one_use.known() == Some(&true))
            .count();
        if once > 0 {
            let word = if once == 1 { "fastener" } else { "fasteners" };
            spend.add(format!("{once} {word}, {name}"), None, 1);
        }
        for seal in joint
            .seals
            .iter()
            .filter(|seal| seal.new.known() == Some(&true))
        {
            let what = match seal.count {
                1 => seal.what.clone(),
                count => format!("{count} {}", job::plural(&seal.what, count)),
            };
            spend.add(format!("{what}, {name}"), seal.price.known(), seal.count);
        }
        spend.cures = match (spend.cures, cures(joint)) {
            (Some(one), Some(other)) => Some(if one.in_seconds() >= other.in_seconds() {
                one
            } else {
                other
            }),
            (one, other) => one.or(other),
        };
    }
}
