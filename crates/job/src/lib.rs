//! What happened on a job, and where that leaves it.
//!
//! A typed line becomes an [`Act`] ([`mod@line`]); acts in their order become the state of the
//! job by replay. Pure functions over plain data: no files, no clock, no user. How entries
//! are stored is the business of `record`; what a plan is, of `planning`.

mod entry;
mod act;
mod item;
mod shot;
pub mod line;

mod names;
mod state;
mod met;
mod apply;
mod replay;

pub mod outstanding;
mod write_back;
pub mod plan;
pub mod dated;

pub use act::{Act, Details, Errand, Flow, Measured, Name, Order, Place, Run, Spot, Tightening};
pub use entry::{ClientId, Entry, EntryId};
pub use names::{NameFault, Named, Names};
pub use replay::{effective, replay, stranded_by, undo_target};
pub use shot::{FileHash, Film, Shot, Sign, Spotted};
pub use state::*;
pub use write_back::{Written, write_back};

pub use item::{Item, Sort, ThreadSize, folded, mm, plural, same_length, same_name, singular};
