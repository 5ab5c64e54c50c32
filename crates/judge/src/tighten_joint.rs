//! A joint on its way to its last stage: its bolts in the order they are pulled, what each
//! of them has had, and which comes next.
//!
//! Read from the book and the state of the job, nothing else. What to set on a wrench and
//! how it is shown is the sheet's business.

pub mod order;
pub mod slips;

use book::{Holds, Hole, Joint, JointId, Stages, Tighten};
use calc::pattern::PatternFault;
use job::{EntryId, HoleState, State, TightDone};

use self::order::{Layout, Order};

/// A joint with its bolts in their turn.
#[derive(Clone, Debug)]
pub struct Course<'a> {
    /// The joint.
    pub joint: &'a Joint,
    /// What a reader calls it.
    pub label: String,
    /// Every hole that gets tightened, in the order of tightening.
    pub seats: Vec<Seat<'a>>,
    /// The tightenings of the book that these holes share, in book order.
    pub groups: Vec<Group<'a>>,
    /// Whose order it is, and what was assumed for it.
    pub order: Order,
    /// Once over the bolts, one after the other; every bolt of a pass has the stage before.
    pub passes: Vec<Pass>,
}

/// One hole with what sits in it.
#[derive(Clone, Copy, Debug)]
pub struct Seat<'a> {
    /// The hole.
    pub hole: &'a Hole,
    /// Its tightening, by place among the groups; `None`: the book has no figure for it.
    pub group: Option<usize>,
    /// What the job knows of it; `None`: nothing was done to it.
    pub held: Option<&'a HoleState>,
}

/// Holes that are tightened alike.
#[derive(Clone, Copy, Debug)]
pub struct Group<'a> {
    /// The entry of the book.
    pub tighten: &'a Tighten,
    /// Its stages.
    pub stages: &'a [book::Stage],
    /// What the wrench needs to get at them, in the word of the book.
    pub adapter: Option<&'a str>,
}

/// One stage over its bolts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pass {
    /// The stage, from 1.
    pub stage: u32,
    /// Which time over the bolts at this stage, from 1.
    pub round: u32,
    /// The bolts by place among the seats, in their turn.
    pub seats: Vec<usize>,
}

/// The act that comes next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Next {
    /// The pass, by place.
    pub pass: usize,
    /// The bolt, by place among the seats.
    pub seat: usize,
}

impl Seat<'_> {
    /// The tightenings since it was filled, in the order of the record.
    #[must_use]
    pub fn tightened(&self) -> &[TightDone] {
        self.held.map_or(&[], |held| &held.tightened)
    }

    /// Whether it has had a stage.
    #[must_use]
    pub fn has(&self, stage: u32) -> bool {
        self.has_had(stage, 1)
    }

    /// Whether it has had a stage so many times.
    #[must_use]
    pub fn has_had(&self, stage: u32, rounds: u32) -> bool {
        let times = self.tightened().iter().filter(|done| done.stage == stage);
        u32::try_from(times.count()).is_ok_and(|times| times >= rounds)
    }

    /// The entry that loosened it since it was last filled, if one did.
    #[must_use]
    pub fn loosened_by(&self) -> Option<EntryId> {
        self.held?.loosened_by
    }

    /// Whether nothing is in it now.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.held.is_some_and(|held| held.empty)
    }

    /// Whether it holds a fastener that was in before, or one nobody called new.
    #[must_use]
    pub fn holds_a_used_one(&self) -> bool {
        let item = |held: &HoleState| held.inside.clone().or_else(|| held.came_out.clone());
        self.held.is_some_and(|held| {
            !held.empty
                && held.came_out.is_some()
                && item(held).and_then(|item| item.new) != Some(true)
        })
    }
}

impl<'a> Course<'a> {
    /// The course of a joint; `None` when the job knows no such joint.
    ///
    /// # Errors
    /// [`PatternFault`] when the holes cannot be put in an order: two on one spot, or rows
    /// asked for that they do not fill.
    pub fn of(
        state: &'a State,
        id: &JointId,
        layout: Layout,
    ) -> Result<Option<Self>, PatternFault> {
        let Some(joint) = state.known.joint(id) else {
            return Ok(None);
        };
        let held = state.joints.get(id);
        let holes: Vec<&Hole> = joint
            .holes
            .iter()
            .filter(|hole| state.applies(&hole.when) && is_tightened(joint, hole))
            .collect();
        let (places, order) = order::of(joint, &holes, layout)?;
        let groups = groups(joint, &holes);
        let seats: Vec<Seat<'a>> = places
            .iter()
            .filter_map(|&place| holes.get(place))
            .map(|hole| Seat {
                hole,
                group: groups.iter().position(|group| {
                    is_of(joint, hole, group.tighten) && group.adapter == adapter_of(hole)
                }),
                held: held.and_then(|held| held.holes.get(&hole.name)),
            })
            .collect();
        let rounds = joint.pattern.as_ref().map_or(1, |pattern| pattern.rounds);
        let passes = passes(&groups, &seats, rounds.max(1));
        Ok(Some(Self {
            joint,
            label: state.joint_label(id),
            seats,
            groups,
            order,
            passes,
        }))
    }

    /// The stage of the book a bolt takes in a pass.
    #[must_use]
    pub fn stage(&self, seat: usize, stage: u32) -> Option<&'a book::Stage> {
        let group = self.groups.get(self.seats.get(seat)?.group?)?;
        let place = usize::try_from(stage).ok()?.checked_sub(1)?;
        group.stages.get(place)
    }

    /// The highest stage a bolt has in the book.
    #[must_use]
    pub fn last_stage(&self, seat: usize) -> u32 {
        self.seats
            .get(seat)
            .and_then(|seat| self.groups.get(seat.group?))
            .map_or(0, |group| {
                u32::try_from(group.stages.len()).unwrap_or(u32::MAX)
            })
    }

    /// The first bolt in its turn that lacks its stage: where a stopped evening goes on.
    #[must_use]
    pub fn next(&self) -> Option<Next> {
        self.passes.iter().enumerate().find_map(|(at, pass)| {
            let seat = pass.seats.iter().copied().find(|&seat| {
                self.seats
                    .get(seat)
                    .is_some_and(|seat| !seat.has_had(pass.stage, pass.round))
            })?;
            Some(Next { pass: at, seat })
        })
    }

    /// How often the bolts are gone over at each stage that ends in a torque.
    #[must_use]
    pub fn rounds(&self) -> u32 {
        self.passes.iter().map(|pass| pass.round).max().unwrap_or(1)
    }

    /// Bolts that were loosened on their own while others kept what they had, by place.
    #[must_use]
    pub fn redone(&self) -> Vec<usize> {
        let others_stayed = |own: EntryId| {
            self.seats
                .iter()
                .any(|seat| !seat.tightened().is_empty() && seat.loosened_by() != Some(own))
        };
        let alone = |seat: &Seat<'_>| seat.loosened_by().is_some_and(others_stayed);
        (0..self.seats.len())
            .filter(|&at| self.seats.get(at).is_some_and(alone))
            .collect()
    }

    /// Whether anything was tightened since the bolts went in.
    #[must_use]
    pub fn is_begun(&self) -> bool {
        self.seats.iter().any(|seat| !seat.tightened().is_empty())
    }

    /// Bolts as a line of the record takes them, given by place among the seats:
    /// `A..L and R..T`.
    #[must_use]
    pub fn runs(&self, seats: &[usize]) -> String {
        let holes: Vec<&Hole> = seats
            .iter()
            .filter_map(|&seat| self.seats.get(seat))
            .map(|seat| seat.hole)
            .collect();
        let names = order::by_name(&holes)
            .into_iter()
            .filter_map(|place| holes.get(place))
            .map(|hole| hole.name.as_str());
        let mut runs: Vec<(&str, &str)> = Vec::new();
        for name in names {
            match runs.last_mut() {
                Some((_, last)) if follows(last, name) => *last = name,
                _ => runs.push((name, name)),
            }
        }
        let words: Vec<String> = runs
            .into_iter()
            .map(|(first, last)| match first == last {
                true => first.to_owned(),
                false => format!("{first}..{last}"),
            })
            .collect();
        words.join(" and ")
    }

    /// The names of bolts given by place among the seats, in their turn.
    #[must_use]
    pub fn names(&self, seats: &[usize]) -> String {
        let names: Vec<&str> = seats
            .iter()
            .filter_map(|&seat| self.seats.get(seat))
            .map(|seat| seat.hole.name.as_str())
            .collect();
        names.join(", ")
    }
}

/// Whether a name is the one after another: `h3` after `h2`, `C` after `B`.
fn follows(last: &str, name: &str) -> bool {
    let number = |text: &str| {
        let word = text.trim_end_matches(|c: char| c.is_ascii_digit());
        text[word.len()..]
            .parse::<u32>()
            .ok()
            .map(|number| (word.to_owned(), number))
    };
    match (number(last), number(name)) {
        (Some((one, a)), Some((two, b))) => one == two && b == a + 1,
        (None, None) => matches!(
            (last.as_bytes(), name.as_bytes()),
            ([a], [b]) if a.is_ascii_alphabetic() && *b == a + 1
        ),
        _ => false,
    }
}

/// What a wrench needs to get at a hole, where the book says it.
fn adapter_of(hole: &Hole) -> Option<&str> {
    hole.adapter.known().map(String::as_str)
}

/// The tightenings of the book that these holes share; what a wrench needs to get at a bolt
/// parts them further, because it changes the setting.
fn groups<'a>(joint: &'a Joint, holes: &[&'a Hole]) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for tighten in &joint.tighten {
        let Stages::Known(stages) = &tighten.stages else {
            continue;
        };
        for hole in holes.iter().filter(|hole| is_of(joint, hole, tighten)) {
            let adapter = adapter_of(hole);
            let known = groups
                .iter()
                .any(|group| std::ptr::eq(group.tighten, tighten) && group.adapter == adapter);
            if !known {
                groups.push(Group {
                    tighten,
                    stages,
                    adapter,
                });
            }
        }
    }
    groups
}

/// Whether a hole is tightened at all.
fn is_tightened(joint: &Joint, hole: &Hole) -> bool {
    let holds = !matches!(hole.holds, Holds::Dowel | Holds::Clip | Holds::Nothing);
    holds
        && joint
            .tighten_of(&hole.name)
            .is_none_or(|tighten| tighten.stages != Stages::DoesNotApply)
}

fn is_of(joint: &Joint, hole: &Hole, tighten: &Tighten) -> bool {
    joint
        .tighten_of(&hole.name)
        .is_some_and(|own| std::ptr::eq(own, tighten))
}

/// Stage by stage. Bolts that take one setting go together in their turn, also where the
/// angle differs from bolt to bolt; another torque is another pass. A stage that ends in a
/// torque is gone over `rounds` times; an angle is turned once.
fn passes(groups: &[Group<'_>], seats: &[Seat<'_>], rounds: u32) -> Vec<Pass> {
    let most = groups.iter().map(|group| group.stages.len()).max();
    let mut passes = Vec::new();
    for place in 0..most.unwrap_or(0) {
        let Ok(stage) = u32::try_from(place + 1) else {
            break;
        };
        let mut settings: Vec<(Option<quantity::Torque>, Vec<usize>)> = Vec::new();
        let mut turned = false;
        for (at, group) in groups.iter().enumerate() {
            let Some(own) = group.stages.get(place) else {
                continue;
            };
            let setting = own.spec.value.largest_torque();
            turned |= own.spec.value.turns_by_angle();
            match settings.iter_mut().find(|(held, _)| *held == setting) {
                Some((_, members)) => members.push(at),
                None => settings.push((setting, vec![at])),
            }
        }
        for (setting, members) in settings {
            let seats: Vec<usize> = (0..seats.len())
                .filter(|&at| {
                    seats[at]
                        .group
                        .is_some_and(|group| members.contains(&group))
                })
                .collect();
            let rounds = if setting.is_some() && !turned {
                rounds
            } else {
                1
            };
            passes.extend((1..=rounds).map(|round| Pass {
                stage,
                round,
                seats: seats.clone(),
            }));
        }
    }
    passes
}
