//! The steps of a job: what is undone, taken off, put on, done up, and what each takes.
//!
//! The minutes of a part cover its fasteners and ends. They are shared out here over the steps
//! by count: one share a hole, one an end, one for lifting the part itself. The shares add up to what
//! the book says. What waits for what is the matter of [`crate::sequence`].

use std::collections::{BTreeMap, BTreeSet};

use book::{Fact, Head, HeadShape, Holds, Joint, PartId, PortRef, Ref, ToolId, ZoneId};
use job::plan::{Leg, Step, StepAct, StepName, Takes};
use quantity::{Duration, Quantity, show, unit};

use crate::graph::{At, Graph};
use crate::removal::{Lift, takes};
use crate::standing::Standing;

/// Steps by name, while a plan is drafted.
#[derive(Debug, Default)]
pub(crate) struct Steps {
    pub(crate) all: Vec<Step>,
    places: BTreeMap<StepName, usize>,
}

/// The steps one lifted (or refitted) unit is made of.
#[derive(Clone, Debug, Default)]
pub(crate) struct UnitSteps {
    /// The part itself, off or on.
    pub(crate) part: usize,
    /// Its joints, with their place in the book.
    pub(crate) joints: Vec<(usize, usize)>,
    /// Its ends: the port, and its step.
    pub(crate) ends: Vec<(PortRef, usize)>,
}

impl Steps {
    /// Adds a step, unless there is one of this name already. Returns where it stands.
    pub(crate) fn add(&mut self, step: Step) -> usize {
        if let Some(&place) = self.places.get(&step.name) {
            return place;
        }
        self.places.insert(step.name.clone(), self.all.len());
        self.all.push(step);
        self.all.len() - 1
    }

    /// Where the step of an act on a target stands.
    pub(crate) fn find(&self, act: StepAct, target: &Ref) -> Option<usize> {
        let name = StepName {
            act,
            target: target.clone(),
        };
        self.places.get(&name).copied()
    }
}

/// A step with nothing known but its name.
pub(crate) fn bare(act: StepAct, target: Ref, leg: Leg) -> Step {
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

impl Graph {
    /// Adds the steps of taking one unit off, or of putting it on. Joints that are open already
    /// are not undone again; ends that are off are not taken off again, and so on.
    pub(crate) fn unit_steps(
        &self,
        steps: &mut Steps,
        lift: &Lift,
        leg: Leg,
        standing: &Standing,
        done: &mut BTreeSet<usize>,
    ) -> UnitSteps {
        let node = &self.nodes[lift.part];
        let aside = standing.aside.contains(&self.part(lift.part).id);
        let (part_act, joint_act) = match leg {
            Leg::Apart => (StepAct::Off, StepAct::Undo),
            Leg::Together => (StepAct::On, StepAct::DoUp),
        };
        let part = self.part(lift.part);
        let whole = match leg {
            Leg::Apart => self.minutes_off(lift.part),
            Leg::Together => self.minutes_on(lift.part),
        };
        let mut unit = UnitSteps::default();
        let inside: BTreeSet<At> = lift.with.iter().copied().chain([lift.part]).collect();
        let shares = self.shares(lift.part);
        for &joint in &node.joints {
            let book = &self.book().joints[joint];
            let here = |part: &PartId| self.at(part).is_some_and(|at| inside.contains(&at));
            let wanted = match leg {
                // A member that left before took its fasteners and ends along.
                _ if !here(&book.of) && !here(&book.to.id) => false,
                Leg::Apart => !open(standing, book),
                // What was moved aside kept the joints nobody opened.
                Leg::Together => !aside || half_open(standing, book),
            };
            if !wanted || !done.insert(joint) {
                continue;
            }
            let mut step = self.joint_step(joint_act, joint, leg);
            step.takes = share(whole, weight(book), shares);
            unit.joints.push((joint, steps.add(step)));
        }
        let every = leg == Leg::Together && !aside;
        let ports = self.ports(lift.part, every, leg, standing).into_iter();
        for (port, count) in
            ports.filter(|(port, _)| self.at(&port.part).is_some_and(|at| inside.contains(&at)))
        {
            let mut step = self.port_step(part_act, &port, leg);
            step.takes = share(whole, count, shares);
            unit.ends.push((port, steps.add(step)));
        }
        let mut step = bare(part_act, Ref::Part(part.id.clone()), leg);
        step.with = lift
            .with
            .iter()
            .map(|&at| self.part(at).id.clone())
            .collect();
        step.zone = part.zone.as_ref().map(|mention| mention.id.clone());
        step.takes = share(whole, 1, shares);
        step.hands = part.effort.hands.known().copied().unwrap_or(1);
        step.hoist = part.effort.hoist.known().copied().unwrap_or(false);
        if unit.joints.is_empty() {
            step.tools = part
                .effort
                .tools
                .iter()
                .map(|mention| mention.id.clone())
                .collect();
        }
        unit.part = steps.add(step);
        unit
    }

    /// The step of one joint, without its time.
    pub(crate) fn joint_step(&self, act: StepAct, joint: usize, leg: Leg) -> Step {
        let book = &self.book().joints[joint];
        let mut step = bare(act, Ref::Joint(book.id.clone()), leg);
        step.zone = self.joint_zone(joint).cloned();
        step.tools = joint_tools(book, self.book().part(&book.of));
        if leg == Leg::Together {
            step.cures = cures(book);
        }
        step
    }

    /// The step of the ends on one port, without its time.
    pub(crate) fn port_step(&self, act: StepAct, port: &PortRef, leg: Leg) -> Step {
        let mut step = bare(act, Ref::Port(port.clone()), leg);
        let seat = self.at(&port.part);
        step.zone = seat.and_then(|seat| self.port_zone(seat, port)).cloned();
        step
    }

    /// How many shares the minutes of a part are cut into.
    pub(crate) fn shares(&self, at: At) -> usize {
        let node = &self.nodes[at];
        let joints = node
            .joints
            .iter()
            .map(|&joint| weight(&self.book().joints[joint]));
        joints.sum::<usize>() + node.ends.len() + 1
    }

    /// The ports of a unit whose ends have to be taken off (or put on), with how many ends each.
    fn ports(&self, at: At, every: bool, leg: Leg, standing: &Standing) -> Vec<(PortRef, usize)> {
        let mut ports: BTreeMap<PortRef, usize> = BTreeMap::new();
        for &(line, end) in &self.nodes[at].ends {
            let line = &self.book().lines[line];
            let off = standing.ends_off.contains(&(line.id.clone(), end));
            if every || off == (leg == Leg::Together) {
                *ports.entry(line.ends[end].port.id.clone()).or_default() += 1;
            }
        }
        ports.into_iter().collect()
    }
}

/// Whether every fastener of a joint is out.
fn open(standing: &Standing, joint: &Joint) -> bool {
    let mut holes = joint
        .holes
        .iter()
        .filter(|hole| hole.holds != Holds::Nothing)
        .peekable();
    holes.peek().is_some() && holes.all(|hole| standing.is_open(joint, hole))
}

/// Whether some fastener of a joint was opened and is not done up again.
pub(crate) fn half_open(standing: &Standing, joint: &Joint) -> bool {
    joint.holes.iter().any(|hole| standing.is_open(joint, hole))
}

/// The shares of a joint: its fasteners, at least one.
pub(crate) fn weight(joint: &Joint) -> usize {
    let fasteners = joint.holes.iter().filter(|hole| fastens(&hole.holds));
    fasteners.count().max(1)
}

/// Whether something is done at a hole when its joint is undone.
pub(crate) fn fastens(holds: &Holds) -> bool {
    !matches!(holds, Holds::Nothing | Holds::Dowel)
}

/// So many of the shares of a time.
pub(crate) fn share(whole: Option<Takes>, weight: usize, shares: usize) -> Option<Takes> {
    let whole = whole?;
    let part = weight as f64 / shares.max(1) as f64;
    let of = |time: Duration| Duration::from_si(time.si() * part).ok();
    Some(Takes {
        low: of(whole.low)?,
        likely: of(whole.likely)?,
        high: of(whole.high)?,
    })
}

/// How long a joint waits after it is done up: the longest of what its sealant says.
pub(crate) fn cures(joint: &Joint) -> Option<Duration> {
    let cures = joint.sealant.as_ref()?.cures.known()?;
    Some(cures.high)
}

/// The tools of a joint: what its heads and nuts are gripped with, and the tools of its part.
fn joint_tools(joint: &Joint, part: Option<&book::Part>) -> Vec<ToolId> {
    let heads = joint.holes.iter().flat_map(|hole| [&hole.head, &hole.nut]);
    let mut tools: BTreeSet<ToolId> = heads.filter_map(Fact::known).filter_map(grip).collect();
    let named = part.into_iter().flat_map(|part| &part.effort.tools);
    tools.extend(named.map(|mention| mention.id.clone()));
    tools.into_iter().collect()
}

/// The name of the tool that grips a head: `13 mm`, `E14`.
fn grip(head: &Head) -> Option<ToolId> {
    let across = head
        .across
        .map(|across| show::show(across, &unit::MILLIMETRE));
    let number = head.number.map(|number| number.to_string());
    let name = match head.shape {
        HeadShape::Hexagon => across?,
        HeadShape::InnerHexagon => format!("hex {}", across?),
        HeadShape::InnerStar => format!("T{}", number?),
        HeadShape::OuterStar => format!("E{}", number?),
        HeadShape::TwelvePoint => format!("12-point {}", across?),
        HeadShape::Square => format!("square {}", across?),
        HeadShape::Cross => {
            number.map_or_else(|| "cross".to_owned(), |number| format!("cross {number}"))
        }
        HeadShape::Slot => "slot".to_owned(),
    };
    Some(ToolId::new(name))
}

/// The zone of a port, for steps at a drain or a filler.
pub(crate) fn zone_of(graph: &Graph, port: Option<&book::Mention<PortRef>>) -> Option<ZoneId> {
    let port = &port?.id;
    let seat = graph.at(&port.part)?;
    graph.port_zone(seat, port).cloned()
}

/// The time of a check.
pub(crate) fn check_takes(check: &book::Check) -> Option<Takes> {
    takes(&check.takes)
}
