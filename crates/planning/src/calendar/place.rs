//! Places tasks one after another, each as early as people, tools and waits allow.
//!
//! Unlike [`crate::crew`] a step lasts longer with one person than with another, and stretches
//! need no slots. Later tasks fill gaps that earlier ones left. There is no search in here.

use jiff::civil::Date;

use super::hours::{DAY, Seconds, Windows, common, here, taken_in};
use super::work::{Sort, Task, Work};

/// Who can be there, and how long.
#[derive(Debug)]
pub(crate) struct Crew {
    pub(crate) first: Date,
    /// By person.
    pub(crate) hours: Vec<Windows>,
    /// How much longer each person takes than a practised hand.
    pub(crate) factors: Vec<f64>,
    /// Every team of so many people, smallest numbers first; the outer list by team size.
    teams: Vec<Vec<Team>>,
}

/// People who can do a step together.
#[derive(Clone, Debug)]
pub(crate) struct Team {
    pub(crate) people: Vec<usize>,
    /// The slowest sets the pace.
    pub(crate) factor: f64,
    /// The longest stretch in which all are there.
    pub(crate) longest: Seconds,
}

/// Sizes of teams that are looked at; nothing on an engine takes more hands.
pub(crate) const LARGEST_TEAM: usize = 4;

impl Crew {
    pub(crate) fn new(first: Date, hours: Vec<Windows>, factors: Vec<f64>) -> Self {
        let mut crew = Self {
            first,
            hours,
            factors,
            teams: vec![Vec::new()],
        };
        let mut last: Vec<Vec<usize>> = vec![Vec::new()];
        for _ in 0..LARGEST_TEAM {
            let more = |team: &Vec<usize>| -> Vec<Vec<usize>> {
                let from = team.last().map_or(0, |&last| last + 1);
                let add = |person| team.iter().copied().chain([person]).collect();
                (from..crew.hours.len()).map(add).collect()
            };
            last = last.iter().flat_map(more).collect();
            let teams = last.iter().map(|people| crew.team(people)).collect();
            crew.teams.push(teams);
        }
        crew
    }

    fn team(&self, people: &[usize]) -> Team {
        let lists: Vec<&Windows> = people.iter().map(|&person| &self.hours[person]).collect();
        let longest = common(&lists)
            .iter()
            .map(|(from, to)| to - from)
            .max()
            .unwrap_or(0);
        Team {
            people: people.to_vec(),
            factor: people
                .iter()
                .map(|&person| self.factors[person])
                .fold(1.0, f64::max),
            longest,
        }
    }

    /// Every team of so many people.
    pub(crate) fn teams(&self, hands: u32) -> &[Team] {
        let size = usize::try_from(hands).unwrap_or(usize::MAX);
        self.teams.get(size).map_or(&[], Vec::as_slice)
    }
}

/// Where one task stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Placed {
    /// The stretches it takes; several only where no evening is long enough.
    pub(crate) stretches: Windows,
    pub(crate) people: Vec<usize>,
    /// The moment from which nothing but people and tools kept it waiting.
    pub(crate) ready: Seconds,
}

impl Placed {
    pub(crate) fn start(&self) -> Seconds {
        self.stretches.first().map_or(self.ready, |&(from, _)| from)
    }

    pub(crate) fn end(&self) -> Seconds {
        self.stretches.last().map_or(self.ready, |&(_, to)| to)
    }
}

/// How long each task takes this time: seconds of a practised hand, or days elsewhere.
pub(crate) type Lengths = Vec<f64>;

/// Every task in its place.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Placing {
    pub(crate) tasks: Vec<Placed>,
    /// When the last is done and cured.
    pub(crate) finish: Seconds,
}

/// What is free while tasks are placed.
struct Free<'a> {
    crew: &'a Crew,
    people: Vec<Windows>,
    /// By kind of tool, by piece.
    tools: Vec<Vec<Windows>>,
}

/// Places the tasks in the order of `list`, which obeys the waits. The error is the first task
/// that finds no room before the calendar ends.
pub(crate) fn place(
    work: &Work,
    crew: &Crew,
    lengths: &Lengths,
    list: &[usize],
) -> Result<Placing, usize> {
    let always: Windows = vec![(0, Seconds::MAX / 4)];
    let mut free = Free {
        crew,
        people: crew.hours.clone(),
        tools: work
            .tools
            .iter()
            .map(|&count| vec![always.clone(); count.max(1) as usize])
            .collect(),
    };
    let mut tasks = vec![Placed::default(); work.tasks.len()];
    let mut finish = 0;
    for &number in list {
        let task = &work.tasks[number];
        let waits = task
            .after
            .iter()
            .map(|&(before, wait)| tasks[before].end() + wait);
        let ready = waits.max().unwrap_or(0).max(task.not_before);
        let placed = match &task.sort {
            Sort::Hands(_) => free.hands(task, lengths[number], ready).ok_or(number)?,
            sort => elsewhere(sort, crew.first, lengths[number], ready),
        };
        finish = finish.max(placed.end() + task.cures);
        tasks[number] = placed;
    }
    Ok(Placing { tasks, finish })
}

/// What goes on without anybody here.
fn elsewhere(sort: &Sort, first: Date, days: f64, ready: Seconds) -> Placed {
    let (from, to) = match sort {
        Sort::Outside(outside) => {
            let from = outside
                .sent
                .map_or_else(|| taken_in(first, ready), |day| day * DAY);
            (from, here(first, from, days).max(0))
        }
        Sort::Delivery(_, ordered) => {
            let from = ordered.map_or(ready, |day| day * DAY);
            (from, here(first, from, days).max(0))
        }
        Sort::Inspected | Sort::Hands(_) => (ready, ready),
    };
    Placed {
        stretches: vec![(from, to)],
        people: Vec::new(),
        ready,
    }
}

impl Free<'_> {
    fn hands(&mut self, task: &Task, practised: f64, ready: Seconds) -> Option<Placed> {
        let mut best: Option<(Windows, &Team)> = None;
        for team in self.crew.teams(task.hands) {
            // A step of no known length still has its place in the order.
            let takes = (practised * team.factor).ceil().max(1.0) as Seconds;
            let Some(stretches) = self.find(task, team, takes, ready) else {
                continue;
            };
            let end = |stretches: &Windows| stretches.last().map_or(0, |&(_, to)| to);
            if best
                .as_ref()
                .is_none_or(|(other, _)| end(&stretches) < end(other))
            {
                best = Some((stretches, team));
            }
        }
        let (stretches, team) = best?;
        for &person in &team.people {
            take(&mut self.people[person], &stretches);
        }
        for &tool in &task.tools {
            let fits =
                |piece: &&mut Windows| stretches.iter().all(|&(from, to)| holds(piece, from, to));
            if let Some(piece) = self.tools[tool].iter_mut().find(fits) {
                take(piece, &stretches);
            }
        }
        Some(Placed {
            stretches,
            people: team.people.clone(),
            ready,
        })
    }

    /// The earliest stretches of a team and its tools; one stretch wherever any evening of the
    /// team is long enough.
    fn find(&self, task: &Task, team: &Team, takes: Seconds, ready: Seconds) -> Option<Windows> {
        let people = team.people.iter().map(|&person| &self.people[person]);
        let mut lists: Vec<&Windows> = people.collect();
        let choices: Vec<&Vec<Windows>> =
            task.tools.iter().map(|&tool| &self.tools[tool]).collect();
        let fixed = lists.len();
        let mut best: Option<Windows> = None;
        // Pieces of one kind differ only in when they are free: the first piece of each kind but
        // one is enough where all kinds are single, which they nearly always are.
        let most = choices.iter().map(|pieces| pieces.len()).max().unwrap_or(1);
        for piece in 0..most {
            lists.truncate(fixed);
            lists.extend(
                choices
                    .iter()
                    .filter_map(|pieces| pieces.get(piece.min(pieces.len() - 1))),
            );
            let found = if takes <= team.longest {
                one_stretch(&lists, takes, ready).map(|from| vec![(from, from + takes)])
            } else {
                pieces(&lists, takes, ready)
            };
            let end = |found: &Windows| found.last().map_or(0, |&(_, to)| to);
            if let Some(found) = found
                && best.as_ref().is_none_or(|best| end(&found) < end(best))
            {
                best = Some(found);
            }
        }
        best
    }
}

/// The earliest moment from which all lists are free long enough.
fn one_stretch(lists: &[&Windows], takes: Seconds, ready: Seconds) -> Option<Seconds> {
    let mut from = ready;
    loop {
        let (start, end) = next_common(lists, from)?;
        if end - start >= takes {
            return Some(start);
        }
        from = end;
    }
}

/// The next stretches all lists have in common, until they add up.
fn pieces(lists: &[&Windows], takes: Seconds, ready: Seconds) -> Option<Windows> {
    let (mut from, mut left) = (ready, takes);
    let mut found = Vec::new();
    while left > 0 {
        let (start, end) = next_common(lists, from)?;
        let end = end.min(start + left);
        found.push((start, end));
        left -= end - start;
        from = end;
    }
    Some(found)
}

/// The first stretch from a moment on in which all lists are free.
fn next_common(lists: &[&Windows], mut from: Seconds) -> Option<(Seconds, Seconds)> {
    loop {
        let (mut start, mut end) = (from, Seconds::MAX);
        for list in lists {
            let at = list.partition_point(|&(_, to)| to <= from);
            let &(open, shut) = list.get(at)?;
            start = start.max(open);
            end = end.min(shut);
        }
        if start < end {
            return Some((start, end));
        }
        from = start;
    }
}

fn holds(free: &Windows, from: Seconds, to: Seconds) -> bool {
    let at = free.partition_point(|&(_, end)| end <= from);
    free.get(at)
        .is_some_and(|&(open, shut)| open <= from && to <= shut)
}

/// Takes stretches out of what is free.
fn take(free: &mut Windows, stretches: &Windows) {
    for &(from, to) in stretches {
        let at = free.partition_point(|&(_, end)| end <= from);
        let Some(&(open, shut)) = free.get(at) else {
            continue;
        };
        let left = [(open, from), (to, shut)]
            .into_iter()
            .filter(|(from, to)| from < to);
        free.splice(at..=at, left);
    }
}
