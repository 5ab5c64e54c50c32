//! What is to be scheduled: steps, links between them, people and things with hours.

use super::Schedule;

/// The most of one thing that can be had or needed at once.
const MAX_AMOUNT: u32 = 0x7FFF;

/// The most people one plan can hold.
const MAX_PEOPLE: usize = 64;

/// The most slots a calendar can have; about 19 years of ten-minute slots.
const MAX_HORIZON: u32 = 1_000_000;

/// When somebody or something is there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Hours {
    /// From the first slot to the last.
    Always,
    /// In these windows `(from, to)`, without the slot `to`; sorted, not touching.
    Windows(Vec<(u32, u32)>),
}

/// One act that is done without a break.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Step {
    /// Slots it takes; 0 marks a mere point in time.
    pub duration: u32,
    /// People it takes, all of them for the whole duration. None for what goes on by
    /// itself or elsewhere.
    pub hands: u32,
    /// Resources it takes for the whole duration, by number, and how much of each.
    pub needs: Vec<(usize, u32)>,
    /// The first slot in which it may begin, as when its parts arrive only then.
    pub release: u32,
}

/// One step waits for another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Link {
    /// The step that is waited for.
    pub before: usize,
    /// The step that waits.
    pub after: usize,
    /// Slots that must pass between the end of one and the beginning of the other.
    pub wait: u32,
}

/// A tool, a place, a kind of thing of which there is a certain amount.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Resource {
    /// How much can be in use at once.
    pub amount: u32,
    /// When it can be used.
    pub hours: Hours,
}

/// Steps, links, people and resources, checked.
#[derive(Debug, Clone)]
pub struct Problem {
    pub(super) steps: Vec<Step>,
    pub(super) people: Vec<Hours>,
    pub(super) resources: Vec<Resource>,
    /// Slots `0..horizon` can be used.
    pub(super) horizon: u32,
    /// Who waits for a step and how long, and whom a step waits for, by step.
    pub(super) after: Vec<Vec<(u32, u32)>>,
    pub(super) before: Vec<Vec<(u32, u32)>>,
    /// One order of the steps that obeys the links.
    pub(super) order: Vec<u32>,
}

/// Why steps cannot be scheduled.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// A link names a step that does not exist.
    #[error("step {before} before step {after}: there are only {steps} steps, counted from 0")]
    NoSuchStep {
        /// The step waited for.
        before: usize,
        /// The step that waits.
        after: usize,
        /// How many steps there are.
        steps: usize,
    },
    /// A step needs a resource that does not exist.
    #[error(
        "step {step} needs resource {resource}, but there are only {resources}, counted from 0"
    )]
    NoSuchResource {
        /// The step.
        step: usize,
        /// The number it gives.
        resource: usize,
        /// How many resources there are.
        resources: usize,
    },
    /// The links go round in a circle.
    #[error("each of these steps waits for the one before it, and the first for the last: {0:?}")]
    Loop(
        /// The steps of one circle, in order.
        Vec<usize>,
    ),
    /// Windows out of order, touching or empty.
    #[error("window {from}..{to} is empty, or begins before the one before it has ended")]
    Window {
        /// First slot of the window.
        from: u32,
        /// Slot after its last.
        to: u32,
    },
    /// More of something than the search can count.
    #[error("{what}: {found} is more than the {limit} this search can hold")]
    TooMuch {
        /// What there is too much of.
        what: &'static str,
        /// How much was given.
        found: u64,
        /// The limit.
        limit: u64,
    },
    /// No window of the whole calendar has room for the step, even alone.
    #[error(
        "step {step} takes {duration} slots at a stretch; nowhere before slot {horizon} are its \
         people and tools there together so long: split it, or give longer hours"
    )]
    NeverFits {
        /// The step.
        step: usize,
        /// Its duration.
        duration: u32,
        /// Slots in the calendar.
        horizon: u32,
    },
    /// The calendar ends before all steps are done.
    #[error(
        "step {step} finds no room before the calendar ends at slot {horizon}: give a longer calendar"
    )]
    CalendarEnds {
        /// The first step without room.
        step: usize,
        /// Slots in the calendar.
        horizon: u32,
    },
    /// A list that is no order of the steps, or breaks a link.
    #[error("the list is not an order of all steps that obeys the links")]
    List,
}

impl Problem {
    /// Checks and takes in steps, links, people (one entry each) and resources.
    ///
    /// `horizon` is the number of slots the calendar covers. Too long costs memory, too
    /// short ends in [`Fault::CalendarEnds`].
    ///
    /// # Errors
    /// [`Fault`] names the first thing that makes no sense.
    pub fn new(
        steps: Vec<Step>,
        links: &[Link],
        people: Vec<Hours>,
        resources: Vec<Resource>,
        horizon: u32,
    ) -> Result<Self, Fault> {
        check_limits(&steps, &people, &resources, horizon)?;
        let mut after = vec![Vec::new(); steps.len()];
        let mut before = vec![Vec::new(); steps.len()];
        for link in links {
            if link.before >= steps.len() || link.after >= steps.len() {
                return Err(Fault::NoSuchStep {
                    before: link.before,
                    after: link.after,
                    steps: steps.len(),
                });
            }
            after[link.before].push((link.after as u32, link.wait));
            before[link.after].push((link.before as u32, link.wait));
        }
        let order = order_of_links(&after, &before)?;
        Ok(Self {
            steps,
            people,
            resources,
            horizon,
            after,
            before,
            order,
        })
    }

    /// Whether a plan keeps every link, release, hour and amount. Checked slot by slot,
    /// without the tables the search uses.
    #[must_use]
    pub fn obeys(&self, plan: &Schedule) -> bool {
        let n = self.steps.len();
        let end = |s: usize| plan.start[s] + self.steps[s].duration;
        let sized = plan.start.len() == n && plan.people.len() == n;
        let timed = |s: usize| {
            let waits = self.before[s].iter();
            plan.start[s] >= self.steps[s].release
                && end(s) <= self.horizon
                && waits
                    .into_iter()
                    .all(|&(j, wait)| end(j as usize) + wait <= plan.start[s])
        };
        if !sized || !(0..n).all(timed) || (0..n).map(end).max().unwrap_or(0) != plan.finish {
            return false;
        }
        (0..self.horizon).all(|t| {
            let mut busy = vec![false; self.people.len()];
            let mut used = vec![0; self.resources.len()];
            for s in (0..n).filter(|&s| (plan.start[s]..end(s)).contains(&t)) {
                for &(r, amount) in &self.steps[s].needs {
                    used[r] += amount;
                }
                if plan.people[s].len() != self.steps[s].hands as usize {
                    return false;
                }
                for &p in &plan.people[s] {
                    if busy[p] || !self.people[p].open(t) {
                        return false;
                    }
                    busy[p] = true;
                }
            }
            let there = |r: &Resource| if r.hours.open(t) { r.amount } else { 0 };
            self.resources
                .iter()
                .zip(&used)
                .all(|(r, &used)| used <= there(r))
        })
    }

    /// The steps, in the order given.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// How many people there are.
    #[must_use]
    pub fn people(&self) -> usize {
        self.people.len()
    }

    /// Slots the calendar covers.
    #[must_use]
    pub fn horizon(&self) -> u32 {
        self.horizon
    }
}

impl Hours {
    /// Whether the slot is inside.
    pub(super) fn open(&self, slot: u32) -> bool {
        match self {
            Self::Always => true,
            Self::Windows(windows) => {
                let next = windows.partition_point(|&(from, _)| from <= slot);
                next > 0 && slot < windows[next - 1].1
            }
        }
    }

    fn check(&self) -> Result<(), Fault> {
        let Self::Windows(windows) = self else {
            return Ok(());
        };
        let mut free_from = 0;
        for &(from, to) in windows {
            if to <= from || from < free_from {
                return Err(Fault::Window { from, to });
            }
            free_from = to;
        }
        Ok(())
    }
}

/// Refuses what the tables of the search cannot hold.
fn check_limits(
    steps: &[Step],
    people: &[Hours],
    resources: &[Resource],
    horizon: u32,
) -> Result<(), Fault> {
    let within = |what, found: u64, limit: u64| {
        if found > limit {
            Err(Fault::TooMuch { what, found, limit })
        } else {
            Ok(())
        }
    };
    within("people", people.len() as u64, MAX_PEOPLE as u64)?;
    within("slots", horizon.into(), MAX_HORIZON.into())?;
    for hours in people.iter().chain(resources.iter().map(|r| &r.hours)) {
        hours.check()?;
    }
    for resource in resources {
        within(
            "amount of a resource",
            resource.amount.into(),
            MAX_AMOUNT.into(),
        )?;
    }
    for (i, step) in steps.iter().enumerate() {
        within(
            "duration of a step",
            step.duration.into(),
            MAX_HORIZON.into(),
        )?;
        for &(resource, amount) in &step.needs {
            within("amount needed", amount.into(), MAX_AMOUNT.into())?;
            if resource >= resources.len() {
                return Err(Fault::NoSuchResource {
                    step: i,
                    resource,
                    resources: resources.len(),
                });
            }
        }
    }
    Ok(())
}

/// One order that obeys all links, or the circle that forbids it.
fn order_of_links(
    after: &[Vec<(u32, u32)>],
    before: &[Vec<(u32, u32)>],
) -> Result<Vec<u32>, Fault> {
    let n = after.len();
    let mut waiting: Vec<usize> = before.iter().map(Vec::len).collect();
    let mut order: Vec<u32> = (0..n as u32)
        .filter(|&i| waiting[i as usize] == 0)
        .collect();
    let mut done = 0;
    while done < order.len() {
        for &(j, _) in &after[order[done] as usize] {
            waiting[j as usize] -= 1;
            if waiting[j as usize] == 0 {
                order.push(j);
            }
        }
        done += 1;
    }
    if order.len() == n {
        return Ok(order);
    }
    // Every step still waiting waits for another such step: walking back comes round.
    let back = |i: usize| {
        let held = before[i].iter().map(|&(j, _)| j as usize);
        held.into_iter().find(|&j| waiting[j] > 0).unwrap_or(i)
    };
    let mut seen = vec![false; n];
    let mut at = (0..n).find(|&i| waiting[i] > 0).unwrap_or(0);
    while !seen[at] {
        seen[at] = true;
        at = back(at);
    }
    let mut circle = vec![at];
    let mut next = back(at);
    while next != at {
        circle.push(next);
        next = back(next);
    }
    circle.reverse();
    Err(Fault::Loop(circle))
}
