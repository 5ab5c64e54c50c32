//! One thing that happened, as replay sees it. Where it is stored is not known here.

use std::fmt;

use crate::act::Act;
use crate::shot::Film;

/// The number of an entry in its record, from 1.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EntryId(pub u64);

impl fmt::Display for EntryId {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{}", self.0)
    }
}

/// The id the sender gave an entry.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClientId(pub String);

/// One entry of a record, read.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its place in the record. Replay goes by this, never by the clock.
    pub id: EntryId,
    /// The id its sender gave it.
    pub client: ClientId,
    /// Who did it.
    pub author: String,
    /// When, by the sender's clock: microseconds since 1970-01-01T00:00Z.
    pub at: i64,
    /// The line as it was typed.
    pub line: String,
    /// What the line means.
    pub act: Act,
}

impl Entry {
    /// Where it is seen on a film, as far as its own line says.
    #[must_use]
    pub fn film(&self) -> Option<Film> {
        crate::line::film(&self.line)
    }
}
