//! Everything that can be forgotten: fasteners, seals, ends, temporary items, checks, readings,
//! fluids, parts; where each is got at, and whether the record confirms it.

use book::{
    CheckId, CircuitId, Holds, HoleName, JointId, LimitId, LineId, PartId, Ref, TemporaryId,
};
use job::plan::Takes;

use crate::graph::{Clear, Graph};
use crate::standing::Standing;
use crate::step::{check_takes, fastens, share};

/// One thing that can be forgotten.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item {
    /// A part that is not back on.
    Part(PartId),
    /// Fasteners of a joint that have not reached their last stage.
    Fasteners(JointId, Vec<HoleName>),
    /// One seal entry of a joint, by its place there.
    Seal(JointId, usize),
    /// One end of a line: 0 for `from`, 1 for `to`.
    End(LineId, usize),
    /// Something that was put in for a while.
    Temporary(TemporaryId),
    /// A check.
    Check(CheckId),
    /// The reading of a limit.
    Reading(LimitId),
    /// A fluid.
    Fluid(CircuitId),
}

impl Item {
    /// The noun of a row.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Part(_) => "part",
            Self::Fasteners(..) => "fasteners",
            Self::Seal(..) => "seal",
            Self::End(..) => "end",
            Self::Temporary(_) => "put in",
            Self::Check(_) => "check",
            Self::Reading(_) => "reading",
            Self::Fluid(_) => "fluid",
        }
    }
}

/// Something no entry confirms, and what is missing about it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Unconfirmed {
    /// The thing.
    pub item: Item,
    /// What is missing, in words.
    pub missing: String,
}

impl Graph {
    /// Everything on this vehicle that could be forgotten when it is put together.
    pub(crate) fn items(&self) -> Vec<Item> {
        let book = self.book();
        let mut items = Vec::new();
        for joint in &book.joints {
            let holes = joint.holes.iter().filter(|hole| fastens(&hole.holds));
            let holes: Vec<HoleName> = holes.map(|hole| hole.name.clone()).collect();
            if !holes.is_empty() {
                items.push(Item::Fasteners(joint.id.clone(), holes));
            }
            items.extend((0..joint.seals.len()).map(|seal| Item::Seal(joint.id.clone(), seal)));
        }
        for line in &book.lines {
            items.extend([0, 1].map(|end| Item::End(line.id.clone(), end)));
        }
        items.extend(
            book.temporaries
                .iter()
                .map(|item| Item::Temporary(item.id.clone())),
        );
        items.extend(
            book.checks
                .iter()
                .map(|check| Item::Check(check.id.clone())),
        );
        let checked = |limit: &LimitId| {
            let mut checks = book.checks.iter().filter_map(|check| check.limit.as_ref());
            checks.any(|own| own.id == *limit)
        };
        let limits = book.limits.iter().map(|limit| &limit.id);
        items.extend(
            limits
                .filter(|limit| !checked(limit))
                .map(|limit| Item::Reading(limit.clone())),
        );
        items.extend(
            book.circuits
                .iter()
                .map(|circuit| Item::Fluid(circuit.id.clone())),
        );
        let loose = book.parts.iter().filter(|part| !part.fixed);
        items.extend(loose.map(|part| Item::Part(part.id.clone())));
        items
    }

    /// What must be off to see to an item.
    pub(crate) fn item_access(&self, item: &Item) -> Clear {
        let at = |target: Ref| self.access(&target).unwrap_or_default();
        match item {
            // To be put on it must be got at, not be off already.
            Item::Part(part) => self
                .at(part)
                .map(|at| self.nodes[at].needs.clone())
                .unwrap_or_default(),
            Item::Fasteners(joint, _) => at(Ref::Joint(joint.clone())),
            Item::Seal(joint, _) => self.to_seal(joint),
            Item::End(line, end) => {
                let line = self.book().lines.iter().position(|other| other.id == *line);
                line.map(|line| self.to_end(line, *end)).unwrap_or_default()
            }
            Item::Temporary(item) => at(Ref::Temporary(item.clone())),
            Item::Check(check) => at(Ref::Check(check.clone())),
            Item::Reading(limit) => at(Ref::Limit(limit.clone())),
            Item::Fluid(_) => Clear::default(),
        }
    }

    /// A seal is got at when one of the two parts of its joint is off: the one it comes off
    /// with, or the other where that one never comes off.
    fn to_seal(&self, joint: &JointId) -> Clear {
        let Some(joint) = self.book().joint(joint) else {
            return Clear::default();
        };
        let parts = [&joint.of, &joint.to.id].map(|part| self.at(part));
        let mut loose = parts
            .into_iter()
            .flatten()
            .filter(|&at| !self.nodes[at].fixed);
        loose.next().map_or_else(Clear::default, Clear::part)
    }

    /// What seeing to an item takes once it is got at; unknown where the book does not say.
    pub(crate) fn item_work(&self, item: &Item) -> Option<Takes> {
        let joint = |joint: &JointId, holes: usize| {
            let owner = self.at(&self.book().joint(joint)?.of)?;
            share(self.minutes_on(owner), holes, self.shares(owner))
        };
        match item {
            Item::Part(part) => self.minutes_on(self.at(part)?),
            Item::Fasteners(id, holes) => joint(id, holes.len()),
            Item::End(line, end) => {
                let seat = self.at(&self.book().line(line)?.ends[*end].port.id.part)?;
                share(self.minutes_on(seat), 1, self.shares(seat))
            }
            Item::Check(check) => check_takes(self.book().check(check)?),
            Item::Seal(..) | Item::Temporary(_) | Item::Reading(_) | Item::Fluid(_) => None,
        }
    }

    /// Every item of a standing that no entry confirms.
    #[must_use]
    pub fn unconfirmed(&self, standing: &Standing) -> Vec<Unconfirmed> {
        let items = self.items().into_iter();
        let mut open: Vec<Unconfirmed> = items
            .filter_map(|item| self.missing(standing, item))
            .collect();
        let book = self.book();
        // A check that is ticked off may still lack the reading its limit wants.
        for check in book
            .checks
            .iter()
            .filter(|check| standing.checks.contains(&check.id))
        {
            let limit = check
                .limit
                .as_ref()
                .filter(|limit| !standing.readings.contains(&limit.id));
            open.extend(limit.map(|limit| Unconfirmed {
                item: Item::Reading(limit.id.clone()),
                missing: "no reading".to_owned(),
            }));
        }
        open
    }

    /// The item, if it is not confirmed.
    fn missing(&self, standing: &Standing, item: Item) -> Option<Unconfirmed> {
        let book = self.book();
        let missing = |missing: &str| Some(missing.to_owned());
        let (item, missing) = match item {
            Item::Fasteners(id, _) => {
                let joint = book
                    .joint(&id)
                    .filter(|joint| standing.in_place(&joint.of))?;
                let open = joint
                    .holes
                    .iter()
                    .filter(|hole| standing.is_open(joint, hole));
                let holes: Vec<HoleName> = open.map(|hole| hole.name.clone()).collect();
                let says = (!holes.is_empty()).then(|| stages_missing(standing, joint, &holes));
                (Item::Fasteners(id, holes), says)
            }
            Item::Seal(ref id, seal) => {
                let entry = &book.joint(id)?.seals[seal];
                let put = standing.seals.get(id)?.get(seal).copied().unwrap_or(0);
                let new = if entry.new.known() == Some(&true) {
                    "new, "
                } else {
                    ""
                };
                let says =
                    (put < entry.count).then(|| format!("{new}{put} of {} put in", entry.count));
                (item, says)
            }
            Item::End(ref id, end) => {
                let seat = &book.line(id)?.ends[end].port.id.part;
                let off = standing.ends_off.contains(&(id.clone(), end)) && standing.in_place(seat);
                (item, off.then(|| "off".to_owned()))
            }
            Item::Temporary(ref id) => {
                let inside = standing.temporaries_in.contains(id);
                (item, inside.then(|| "still in".to_owned()))
            }
            Item::Check(ref id) => {
                let limit = book.check(id)?.limit.as_ref();
                let done = standing.checks.contains(id)
                    || limit.is_some_and(|limit| standing.readings.contains(&limit.id));
                (item, if done { None } else { missing("not done") })
            }
            Item::Reading(ref id) => {
                let read = standing.readings.contains(id);
                (item, if read { None } else { missing("no reading") })
            }
            Item::Fluid(ref id) => {
                let dry = standing.drained.contains(id);
                (item, if dry { missing("drained") } else { None })
            }
            Item::Part(ref id) => {
                let off = !standing.in_place(id);
                (item, if off { missing("not back on") } else { None })
            }
        };
        Some(Unconfirmed {
            item,
            missing: missing?,
        })
    }
}

/// How far the fasteners of a joint have got: the least stage of each wanted count.
fn stages_missing(standing: &Standing, joint: &book::Joint, holes: &[HoleName]) -> String {
    let reached = |hole: &HoleName| {
        let name = book::HoleRef {
            joint: joint.id.clone(),
            hole: hole.clone(),
        };
        standing.opened.get(&name).copied().unwrap_or(0)
    };
    let least = holes.iter().map(reached).min().unwrap_or(0);
    let wanted = holes
        .iter()
        .map(|hole| Standing::stages(joint, hole))
        .max()
        .unwrap_or(1);
    if wanted == 1 {
        return "not done up".to_owned();
    }
    format!("stage {least} of {wanted}")
}

/// What people call things.
impl Graph {
    /// What a reader calls a part: its label, else its id.
    pub(crate) fn part_name(&self, part: &PartId) -> String {
        let label = self.book().part(part).and_then(|part| part.label.clone());
        label.unwrap_or_else(|| part.to_string())
    }

    /// What a reader calls a line.
    pub(crate) fn line_name(&self, line: &LineId) -> String {
        let label = self.book().line(line).and_then(|line| line.label.clone());
        label.unwrap_or_else(|| line.to_string())
    }

    /// What a reader calls a joint.
    pub(crate) fn joint_name(&self, joint: &JointId) -> String {
        let label = self
            .book()
            .joint(joint)
            .and_then(|joint| joint.label.clone());
        label.unwrap_or_else(|| joint.to_string())
    }

    /// What a reader calls an item.
    #[must_use]
    pub fn item_name(&self, item: &Item) -> String {
        let book = self.book();
        let or = |label: Option<String>, id: &str| label.unwrap_or_else(|| id.to_owned());
        match item {
            Item::Part(part) => self.part_name(part),
            Item::Fasteners(joint, holes) => self.fasteners_name(joint, holes),
            Item::Seal(joint, seal) => {
                let entry = book.joint(joint).and_then(|joint| joint.seals.get(*seal));
                let what = entry.map_or("seal", |entry| &entry.what);
                match entry.map_or(1, |entry| entry.count) {
                    1 => format!("{what}, {}", self.joint_name(joint)),
                    count => format!(
                        "{count} {}, {}",
                        job::plural(what, count),
                        self.joint_name(joint)
                    ),
                }
            }
            Item::End(line, end) => {
                let port = book
                    .line(line)
                    .map(|line| line.ends[*end].port.id.to_string());
                format!(
                    "{}, end on {}",
                    self.line_name(line),
                    port.unwrap_or_default()
                )
            }
            Item::Temporary(id) => or(
                book.temporary(id).and_then(|item| item.label.clone()),
                id.as_str(),
            ),
            Item::Check(id) => or(
                book.check(id).and_then(|check| check.label.clone()),
                id.as_str(),
            ),
            Item::Reading(id) => or(
                book.limit(id).and_then(|limit| limit.label.clone()),
                id.as_str(),
            ),
            Item::Fluid(id) => or(
                book.circuit(id).and_then(|circuit| circuit.label.clone()),
                id.as_str(),
            ),
        }
    }

    fn fasteners_name(&self, joint: &JointId, holes: &[HoleName]) -> String {
        let name = self.joint_name(joint);
        let Some(joint) = self.book().joint(joint) else {
            return name;
        };
        let every = joint
            .holes
            .iter()
            .filter(|hole| fastens(&hole.holds))
            .count();
        let mut kinds: Vec<&Holds> = Vec::new();
        for hole in holes.iter().filter_map(|hole| joint.hole(hole)) {
            if !kinds.contains(&&hole.holds) {
                kinds.push(&hole.holds);
            }
        }
        let word = match kinds[..] {
            [Holds::Stud] => "nut",
            [one] => one.word(),
            _ => "fastener",
        };
        let words = job::plural(word, u32::try_from(holes.len()).unwrap_or(u32::MAX));
        if holes.len() == every {
            return format!("{every} {words}, {name}");
        }
        let names: Vec<&str> = holes.iter().map(HoleName::as_str).collect();
        format!("{words} {}, {name}", names.join(" "))
    }
}
