//! Does this plan obey this book, from where the job stands?
//!
//! A plan is played through step by step on a model of the engine that knows only what the
//! book says, and every step that cannot be done, or must not be done yet, is refused with its
//! reason. Nothing is shared with the crate that makes plans but the words of the book, the
//! state of the job and the plan itself; a mistake there is not repeated here. An empty answer
//! means the plan may be shown.
//!
//! What a plan leaves open is not judged: whether a shorter one exists. Who does it and when is
//! looked through by [`calendar()`], its walking and tool changing added up by [`walking()`].

mod reason;
mod refusal;
mod vehicle;
mod scene;

mod run;
mod stated;
mod apart;
mod together;
mod check;
mod gate;
mod rule;
mod closing;

mod walking;
mod calendar;

pub use calendar::calendar;
pub use reason::Reason;
pub use refusal::{Refusal, report};
pub use walking::walking;

use book::Book;
use job::State;
use job::plan::Plan;

/// Every reason to refuse a plan, in the order of its steps; what concerns the plan as a whole
/// comes last.
///
/// `book` is the book the plan was made from, before or after variants are chosen; the choices
/// of the job are in `state`. For a job that met things the book does not have, it is
/// [`State::known`].
///
/// # Example
/// ```
/// use job::plan::{Basis, Plan};
/// use quantity::Duration;
///
/// let (book, _) = book::read("part block fixed=#true\npart duct zone=above\n");
/// let nothing = Duration::default();
/// let plan = Plan { steps: vec![], ways: vec![], basis: Basis::Book, between: nothing, bound: nothing };
/// assert!(verify::check(&book, &job::State::new(Some(&book)), &plan).is_empty());
/// ```
#[must_use]
pub fn check(book: &Book, state: &State, plan: &Plan) -> Vec<Refusal> {
    run::Run::new(book, state, plan).play()
}
