//! The chain of tasks, waits and busy hands that sets the finish.

use super::hours::Seconds;
use super::place::Placing;
use super::work::{Sort, Work};

/// One link of the chain.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Link {
    /// From when it holds things up.
    pub(crate) from: Seconds,
    /// Until when.
    pub(crate) to: Seconds,
    pub(crate) kind: Held,
}

/// What holds things up.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Held {
    /// Steps one after another, by task.
    Steps(Vec<usize>),
    /// Something elsewhere: a shop, a carrier.
    Elsewhere(usize),
    /// What this step sealed cures.
    Curing(usize),
}

/// The chain, first link first.
pub(crate) fn chain(work: &Work, placing: &Placing) -> Vec<Link> {
    let cured = |task: &usize| placing.tasks[*task].end() + work.tasks[*task].cures;
    let Some(last) = (0..work.tasks.len()).rev().max_by_key(cured) else {
        return Vec::new();
    };
    let mut links = Vec::new();
    if work.tasks[last].cures > 0 {
        links.push(Link {
            from: placing.tasks[last].end(),
            to: cured(&last),
            kind: Held::Curing(last),
        });
    }
    let mut at = Some(last);
    // Every turn goes to a task that ends no later than this one begins; the count is a belt.
    for _ in 0..=work.tasks.len() {
        let Some(task) = at else { break };
        let placed = &placing.tasks[task];
        let kind = match work.tasks[task].sort {
            Sort::Hands(_) => Some(Held::Steps(vec![task])),
            Sort::Outside(_) | Sort::Delivery(..) => Some(Held::Elsewhere(task)),
            Sort::Inspected => None,
        };
        if let Some(kind) = kind {
            links.push(Link {
                from: placed.start(),
                to: placed.end(),
                kind,
            });
        }
        let Some((before, wait)) = holder(work, placing, task) else {
            break;
        };
        if wait > 0 {
            let from = placing.tasks[before].end();
            links.push(Link {
                from,
                to: from + wait,
                kind: Held::Curing(before),
            });
        }
        at = Some(before);
    }
    links.reverse();
    joined(links)
}

/// The task that kept this one from beginning earlier, with the time waited after it.
fn holder(work: &Work, placing: &Placing, task: usize) -> Option<(usize, Seconds)> {
    // Hands or tools that were busy after it was ready held it; else what it waited for did.
    let busy = busy_before(work, placing, task);
    if let Some(busy) = busy.filter(|&busy| placing.tasks[busy].end() > placing.tasks[task].ready) {
        return Some((busy, 0));
    }
    let waits = work.tasks[task].after.iter().copied();
    waits.max_by_key(|&(before, wait)| {
        (
            placing.tasks[before].end() + wait,
            std::cmp::Reverse(before),
        )
    })
}

/// The task of the same people or tools that ended last before this one began.
fn busy_before(work: &Work, placing: &Placing, task: usize) -> Option<usize> {
    let placed = &placing.tasks[task];
    if !matches!(work.tasks[task].sort, Sort::Hands(_)) {
        return None;
    }
    let shares = |other: &usize| {
        let theirs = &placing.tasks[*other];
        *other != task
            && theirs.end() <= placed.start()
            && (theirs
                .people
                .iter()
                .any(|person| placed.people.contains(person))
                || work.tasks[*other]
                    .tools
                    .iter()
                    .any(|tool| work.tasks[task].tools.contains(tool)))
    };
    (0..work.tasks.len())
        .filter(shares)
        .max_by_key(|&other| (placing.tasks[other].end(), other))
}

/// Steps one after another become one link.
fn joined(links: Vec<Link>) -> Vec<Link> {
    let mut all: Vec<Link> = Vec::new();
    for link in links {
        if let (Some(last), Held::Steps(more)) = (all.last_mut(), &link.kind)
            && let Held::Steps(steps) = &mut last.kind
        {
            steps.extend(more);
            last.to = link.to;
            continue;
        }
        all.push(link);
    }
    all
}
