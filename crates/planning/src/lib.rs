//! The graph of what is in the way of what, and what follows from it.
//!
//! Three searches stand at the bottom, over plain numbers and without a word of the
//! trade: [`reach`] (the cheapest set of parts to take off), [`order`] (the order of
//! steps for one person) and [`crew`] (several people, tools and a calendar). They read
//! no clock and draw no luck from outside: a search takes a [`Budget`] of moves with a
//! seed and a [`Stop`] flag, and the same problem, seed and budget give the same answer.

mod graph;
pub use graph::{Choices, Graph, chosen, open_variants};

mod standing;
pub use standing::Standing;

mod access;
pub use access::AccessFault;

mod removal;

mod step;
pub mod sequence;

mod item;
pub use item::{Item, Unconfirmed};

mod spend;
pub use spend::Spend;

pub mod comeback;
pub mod last_chance;
pub mod while_open;
pub mod turn;

pub mod mixups;
pub mod loose;
pub mod whereis;
pub mod end_for_end;

pub mod hand;

pub mod answer;

pub mod reach;

pub mod order;

pub mod crew;

pub mod calendar;

mod effort;
pub use effort::{Budget, Stop};

mod chance;

#[cfg(test)]
mod example;
