//! What a record can do, whatever it is kept in.

use std::path::Path;

use crate::entry::{Appended, NewEntry, Stored};
use crate::error::StoreError;

/// An append-only list of entries.
///
/// There is no way to change or remove an entry: an undo or a correction is one more entry.
pub trait Store {
    /// Adds entries in one go: all of them are kept or none. When this returns, they are on
    /// the disk.
    ///
    /// # Errors
    /// [`StoreError::Refused`] or [`StoreError::SameIdOtherEntry`] for the first entry that
    /// cannot be kept; [`StoreError::Database`] when writing fails.
    fn append_all(&mut self, entries: &[NewEntry]) -> Result<Vec<Appended>, StoreError>;

    /// The entries after a number, in order, at most `most` of them. `since(0, …)` begins at
    /// the first.
    ///
    /// # Errors
    /// [`StoreError::Database`] when reading fails.
    fn since(&self, number: u64, most: usize) -> Result<Vec<Stored>, StoreError>;

    /// The entry that came with a client id.
    ///
    /// # Errors
    /// [`StoreError::Database`] when reading fails.
    fn by_client_id(&self, client_id: &str) -> Result<Option<Stored>, StoreError>;

    /// How many entries there are. Numbers have no gaps, so this is also the last number.
    ///
    /// # Errors
    /// [`StoreError::Database`] when reading fails.
    fn count(&self) -> Result<u64, StoreError>;

    /// Writes a copy of the whole record to a path where nothing is yet.
    ///
    /// # Errors
    /// [`StoreError::AlreadyThere`], or [`StoreError::Database`] when copying fails.
    fn back_up(&self, to: &Path) -> Result<(), StoreError>;

    /// Adds one entry.
    ///
    /// # Errors
    /// As [`Store::append_all`].
    fn append(&mut self, entry: &NewEntry) -> Result<Appended, StoreError> {
        let appended = self.append_all(std::slice::from_ref(entry))?;
        // One entry in, one answer out: `append_all` answers for every entry it is given.
        appended.into_iter().next().ok_or(StoreError::Refused {
            field: "entry",
            reason: "the store gave no answer for it".to_owned(),
        })
    }

    /// The entry with a number.
    ///
    /// # Errors
    /// [`StoreError::Database`] when reading fails.
    fn by_number(&self, number: u64) -> Result<Option<Stored>, StoreError> {
        let Some(before) = number.checked_sub(1) else {
            return Ok(None);
        };
        Ok(self.since(before, 1)?.into_iter().next())
    }

    /// Every entry, in order.
    ///
    /// # Errors
    /// [`StoreError::Database`] when reading fails.
    fn all(&self) -> Result<Vec<Stored>, StoreError> {
        self.since(0, usize::MAX)
    }
}
