//! Properties: an order that respects every dependency passes, and any disturbance of it does
//! not.

use book::{Book, JointId, PartId, Ref};
use job::State;
use job::plan::{Basis, Leg, Plan, Step, StepAct, StepName};
use proptest::prelude::*;
use quantity::Duration;
use verify::Reason;

/// Parts on a block, each held by a joint; part `y` needs off some of those before it.
#[derive(Clone, Debug)]
struct Engine {
    needs: Vec<Vec<usize>>,
    /// Which of the parts that could move next does, on the way off and on the way back.
    draws: Vec<u32>,
}

fn engine() -> impl Strategy<Value = Engine> {
    (2_usize..9).prop_flat_map(|count| {
        let needs = (0..count).map(|part| {
            prop::collection::vec(any::<bool>(), part).prop_map(|asks| {
                let asked = asks.iter().enumerate().filter(|(_, asked)| **asked);
                asked.map(|(other, _)| other).collect()
            })
        });
        let draws = prop::collection::vec(any::<u32>(), 2 * count);
        (needs.collect::<Vec<_>>(), draws).prop_map(|(needs, draws)| Engine { needs, draws })
    })
}

impl Engine {
    fn count(&self) -> usize {
        self.needs.len()
    }

    fn book(&self) -> Book {
        let mut text = "part block fixed=#true\n".to_owned();
        for (part, needs) in self.needs.iter().enumerate() {
            let needs: Vec<String> = needs.iter().map(|other| format!("p{other}")).collect();
            text += &format!("part p{part} zone=above {{\n");
            if !needs.is_empty() {
                text += &format!("    needs-off {}\n", needs.join(" "));
            }
            text += &format!("    joint j{part} to=block {{\n        holes A B\n    }}\n}}\n");
        }
        let (book, faults) = book::read(&text);
        assert!(faults.is_empty(), "{text}\n{faults:?}");
        book
    }

    /// An order in which each part moves only when `free` says so.
    fn drawn(&self, draws: &[u32], free: impl Fn(usize, &[usize]) -> bool) -> Vec<usize> {
        let mut order = Vec::new();
        for draw in draws.iter().take(self.count()) {
            let ready: Vec<usize> = (0..self.count())
                .filter(|part| !order.contains(part) && free(*part, &order))
                .collect();
            order.push(ready[*draw as usize % ready.len()]);
        }
        order
    }

    fn off(&self) -> Vec<usize> {
        self.drawn(&self.draws, |part, gone| {
            self.needs[part].iter().all(|other| gone.contains(other))
        })
    }

    fn on(&self) -> Vec<usize> {
        let under = |part: usize| (0..self.count()).filter(move |&y| self.needs[y].contains(&part));
        self.drawn(&self.draws[self.count()..], |part, there| {
            under(part).all(|y| there.contains(&y))
        })
    }

    /// A part and one that must be off before it.
    fn pairs(&self) -> Vec<(usize, usize)> {
        let pairs = |part: usize| self.needs[part].iter().map(move |&over| (over, part));
        (0..self.count()).flat_map(pairs).collect()
    }
}

fn step(leg: Leg, act: StepAct, target: Ref) -> Step {
    Step {
        name: StepName { act, target },
        leg,
        with: Vec::new(),
        zone: None,
        tools: Vec::new(),
        takes: None,
        hands: 1,
        hoist: false,
        cures: None,
        waits: Vec::new(),
    }
}

fn plan(off: &[usize], on: &[usize]) -> Plan {
    let part = |part: &usize| Ref::Part(PartId::new(format!("p{part}")));
    let joint = |part: &usize| Ref::Joint(JointId::new(format!("j{part}")));
    let gate = Ref::Gate(book::GateId::from("before-opening"));
    let mut steps = vec![step(Leg::Apart, StepAct::Pass, gate)];
    for one in off {
        steps.push(step(Leg::Apart, StepAct::Undo, joint(one)));
        steps.push(step(Leg::Apart, StepAct::Off, part(one)));
    }
    for one in on {
        steps.push(step(Leg::Together, StepAct::On, part(one)));
        steps.push(step(Leg::Together, StepAct::DoUp, joint(one)));
    }
    Plan {
        steps,
        ways: Vec::new(),
        basis: Basis::Book,
        between: Duration::default(),
        bound: Duration::default(),
    }
}

fn reasons(book: &Book, plan: &Plan) -> Vec<Reason> {
    let refusals = verify::check(book, &State::new(Some(book)), plan);
    refusals.iter().map(|refusal| refusal.reason).collect()
}

fn swapped(order: &[usize], one: usize, other: usize) -> Vec<usize> {
    let turn = |&part: &usize| match part {
        _ if part == one => other,
        _ if part == other => one,
        _ => part,
    };
    order.iter().map(turn).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn a_valid_order_passes(engine in engine()) {
        let found = reasons(&engine.book(), &plan(&engine.off(), &engine.on()));
        prop_assert_eq!(found, vec![]);
    }

    #[test]
    fn a_dependent_pair_swapped_is_refused_either_way(engine in engine(), pick in any::<prop::sample::Index>()) {
        let pairs = engine.pairs();
        prop_assume!(!pairs.is_empty());
        let (over, under) = pairs[pick.index(pairs.len())];
        let book = engine.book();
        let apart = plan(&swapped(&engine.off(), over, under), &engine.on());
        prop_assert!(reasons(&book, &apart).contains(&Reason::BlockedPart));
        let together = plan(&engine.off(), &swapped(&engine.on(), over, under));
        prop_assert!(reasons(&book, &together).contains(&Reason::WayClosed));
    }

    #[test]
    fn every_step_is_needed_and_none_twice(engine in engine(), pick in any::<prop::sample::Index>()) {
        let book = engine.book();
        let whole = plan(&engine.off(), &engine.on());
        let at = pick.index(whole.steps.len());
        let mut shorter = whole.clone();
        shorter.steps.remove(at);
        prop_assert_ne!(reasons(&book, &shorter), vec![]);
        let mut longer = whole.clone();
        longer.steps.insert(at, whole.steps[at].clone());
        prop_assert_ne!(reasons(&book, &longer), vec![]);
    }
}
