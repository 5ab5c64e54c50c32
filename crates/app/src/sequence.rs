//! The order of work: planned, checked against the book by a crate that shares no code with the
//! planner, and shown.

use book::Shop;
use job::State;
use job::plan::Plan;
use planning::answer::{self, Job};
pub use planning::sequence::Legs;
use planning::sequence::{SequenceFault, Wish, reversed, sequence as plan};
use planning::{Budget, Graph, Standing, Stop};
use report::{Finding, Report};

use crate::folder::Folder;
use crate::reach::{refused, targets};

const COMMAND: &str = "sequence";

/// Moves of the search where nobody says: well under a second on an engine with both heads off.
const MOVES: u64 = 1_500_000;

/// What was asked.
#[derive(Clone, Debug)]
pub struct Asked {
    /// What is to be got at; none: the way back of what is off, or every part of the book while
    /// nothing is.
    pub targets: Vec<String>,
    /// Which way.
    pub legs: Legs,
    /// The step whose place is to be explained.
    pub why: Option<String>,
    /// Moves of the search.
    pub moves: Option<u64>,
    /// Where the drawing of lots begins.
    pub seed: Option<u64>,
}

/// The order of work, or why one step stands where it stands.
#[must_use]
pub fn sequence(folder: &Folder, asked: &Asked) -> Report {
    let state = &folder.state;
    let job = Job::of(state);
    if !state.has_book && asked.targets.is_empty() {
        return without_book(folder, asked, &job);
    }
    let targets = match targets(state, &asked.targets) {
        Ok(targets) => targets,
        Err(findings) => return refused(COMMAND, "The order of work", findings),
    };
    let graph = Graph::new(&state.known, &Standing::from(state).choices);
    let way_back = targets.is_empty() && asked.legs == Legs::Both && state.taken_apart();
    let legs = if way_back { Legs::Together } else { asked.legs };
    let wish = Wish { targets, legs };
    let budget = Budget::moves(asked.moves.unwrap_or(MOVES)).seed(asked.seed.unwrap_or(1));
    let shop = folder.shop.as_ref();
    let found = order(state, shop, &graph, &wish, &budget);
    if let (Some(why), Ok(plan)) = (&asked.why, &found) {
        return answer::why(&job, plan, why);
    }
    let mut report = answer::sequence(&job, legs, shop, &found);
    if way_back {
        report.because.push(
            "The job is open, so this is the way back of what is off; name parts for a way off."
                .to_owned(),
        );
    }
    if let Ok(plan) = &found {
        let mut refusals = verify::check(&state.known, state, plan);
        refusals.extend(verify::walking(shop, plan));
        if refusals.is_empty() {
            report.because.push(
                "Played through step by step against the book by a checker of its own: it obeys."
                    .to_owned(),
            );
        }
        report.findings.extend(verify::report(&refusals).findings);
    }
    report
}

/// The steps that are left, in order. Without a book nothing says what is in the way, and the way
/// back is the record reversed, whoever asks.
pub(crate) fn order(
    state: &State,
    shop: Option<&Shop>,
    graph: &Graph,
    wish: &Wish,
    budget: &Budget,
) -> Result<Plan, SequenceFault> {
    if !state.has_book && wish.targets.is_empty() {
        return Ok(reversed(state, shop).plan);
    }
    let standing = Standing::from(state);
    plan(
        graph,
        &standing,
        wish,
        shop,
        budget,
        &Stop::new(),
        &mut |_| {},
    )
}

/// A job without a book has no way off to plan, and a way back that is its record reversed.
fn without_book(folder: &Folder, asked: &Asked, job: &Job) -> Report {
    if asked.legs == Legs::Apart {
        let says = "this job has no book, so nobody knows what is in the way of what";
        let finding = Finding::new("no-book", "", says)
            .next("take it apart and log what comes off; the way back is the record reversed");
        return Report::refusal(COMMAND, "The way off", finding);
    }
    let found = reversed(&folder.state, folder.shop.as_ref());
    match &asked.why {
        Some(why) => answer::why(job, &found.plan, why),
        None => answer::reversed(job, &found),
    }
}
