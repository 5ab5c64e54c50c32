//! The bench pages: the job on a phone or tablet at the vehicle and a laptop on the shelf.
//!
//! The only crate that knows HTTP. It computes nothing: every answer is a report of `app`,
//! drawn by `sheet`; the one way back into the job is a typed line.
//!
//! Read it from the door inward: [`serve`] listens, [`routes`] names every address, the
//! [`door`] lets in, a handler takes one answer from the [`Bench`], a page draws it. What
//! somebody writes goes through [`entry`] and comes back to everybody as [`news`].

pub mod serve;
pub mod link;
pub mod routes;
pub mod door;

pub mod bench;
pub mod answers;
pub mod hands;
pub mod asked;

pub mod page;
pub mod draw;
pub mod begin;
pub mod entry;
pub mod copy;
pub mod news;
pub mod photo;
pub mod asset;
pub mod form;
pub mod random;

pub use bench::Bench;

#[cfg(test)]
mod trial;
