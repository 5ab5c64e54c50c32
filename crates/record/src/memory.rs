//! A record that lives as long as the program: for tests and for trying a line.

use std::collections::BTreeMap;
use std::path::Path;

use crate::entry::{Appended, NewEntry, Stored};
use crate::error::StoreError;
use crate::sqlite::SqliteStore;
use crate::store::Store;

/// A record in memory, with the same answers as the one on disk.
#[derive(Clone, Debug, Default)]
pub struct MemoryStore {
    entries: Vec<Stored>,
    numbers: BTreeMap<String, u64>,
}

impl MemoryStore {
    /// An empty record.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    fn next_number(&self) -> u64 {
        self.entries.last().map_or(1, |last| last.number + 1)
    }
}

impl Store for MemoryStore {
    fn append_all(&mut self, entries: &[NewEntry]) -> Result<Vec<Appended>, StoreError> {
        // Worked on a copy, so that a refused entry leaves nothing of its batch behind.
        let mut next = self.clone();
        let mut appended = Vec::with_capacity(entries.len());
        for entry in entries {
            entry.proven()?;
            if let Some(had) = next.by_client_id(&entry.client_id)? {
                appended.push(had.sent_again(entry)?);
                continue;
            }
            let number = next.next_number();
            next.numbers.insert(entry.client_id.clone(), number);
            next.entries.push(Stored {
                number,
                entry: entry.clone(),
            });
            appended.push(Appended::New(number));
        }
        *self = next;
        Ok(appended)
    }

    fn since(&self, number: u64, most: usize) -> Result<Vec<Stored>, StoreError> {
        let later = self.entries.iter().filter(|stored| stored.number > number);
        Ok(later.take(most).cloned().collect())
    }

    fn by_client_id(&self, client_id: &str) -> Result<Option<Stored>, StoreError> {
        let number = self.numbers.get(client_id);
        Ok(number.and_then(|&number| {
            self.entries
                .iter()
                .find(|stored| stored.number == number)
                .cloned()
        }))
    }

    fn count(&self) -> Result<u64, StoreError> {
        Ok(self.next_number() - 1)
    }

    fn back_up(&self, to: &Path) -> Result<(), StoreError> {
        let entries: Vec<NewEntry> = self.all()?.into_iter().map(|one| one.entry).collect();
        SqliteStore::create(to)?.append_all(&entries)?;
        Ok(())
    }
}
