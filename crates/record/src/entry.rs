//! One row of the record, before and after it is stored.

use crate::error::StoreError;

/// The longest line that is kept, in bytes. A line is what a standing person types; the
/// limit keeps a pasted file out of the record.
pub const LONGEST_LINE: usize = 8 * 1024;

/// The longest client id, author, kind or zone, in bytes.
pub const LONGEST_WORD: usize = 200;

/// An entry on its way into the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewEntry {
    /// The id its sender gave it. Sending the same id again stores nothing.
    pub client_id: String,
    /// Who did it.
    pub author: String,
    /// When it was done by the sender's clock, in microseconds since 1970-01-01T00:00Z.
    pub time_micros: i64,
    /// The time zone it was typed in, if the sender said so: `Europe/Madrid`, `+01:00`.
    pub zone: Option<String>,
    /// The kind of entry in one word, for people who look into the file by hand.
    pub kind: String,
    /// The version of the line grammar the line is written in.
    pub format_version: u32,
    /// The line as it was typed.
    pub line: String,
}

impl NewEntry {
    /// Refuses what could not be kept or found again.
    ///
    /// # Errors
    /// [`StoreError::Refused`] names the field: empty where it must not be, too long, or a
    /// format version of 0.
    pub(crate) fn proven(&self) -> Result<(), StoreError> {
        let words = [
            ("client id", self.client_id.as_str()),
            ("author", self.author.as_str()),
            ("kind", self.kind.as_str()),
        ];
        for (field, word) in words {
            if word.trim().is_empty() {
                return Err(StoreError::Refused {
                    field,
                    reason: "it is empty".to_owned(),
                });
            }
            within(field, word, LONGEST_WORD)?;
        }
        within(
            "zone",
            self.zone.as_deref().unwrap_or_default(),
            LONGEST_WORD,
        )?;
        within("line", &self.line, LONGEST_LINE)?;
        if self.line.trim().is_empty() {
            return Err(StoreError::Refused {
                field: "line",
                reason: "it is empty".to_owned(),
            });
        }
        if self.format_version == 0 {
            return Err(StoreError::Refused {
                field: "format version",
                reason: "versions count from 1".to_owned(),
            });
        }
        Ok(())
    }
}

fn within(field: &'static str, text: &str, most: usize) -> Result<(), StoreError> {
    if text.len() <= most {
        return Ok(());
    }
    Err(StoreError::Refused {
        field,
        reason: format!("it has {} bytes and {most} are kept", text.len()),
    })
}

/// An entry in the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stored {
    /// Its place in the record, from 1, without gaps. Replay goes by this, never by the clock.
    pub number: u64,
    /// What was sent.
    pub entry: NewEntry,
}

/// What became of an entry that was sent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Appended {
    /// It is in the record now, under this number.
    New(u64),
    /// It was there already, under this number; nothing was stored.
    AlreadyHad(u64),
}

impl Appended {
    /// The number of the entry, whether it is new or not.
    #[must_use]
    pub const fn number(&self) -> u64 {
        match self {
            Self::New(number) | Self::AlreadyHad(number) => *number,
        }
    }
}

impl Stored {
    /// The answer to an entry that comes with the client id of this one.
    ///
    /// # Errors
    /// [`StoreError::SameIdOtherEntry`] when its line or author is not the one stored.
    pub(crate) fn sent_again(&self, again: &NewEntry) -> Result<Appended, StoreError> {
        // The time may differ: a phone that retries may stamp the second try anew.
        if self.entry.line == again.line && self.entry.author == again.author {
            return Ok(Appended::AlreadyHad(self.number));
        }
        Err(StoreError::SameIdOtherEntry {
            client_id: again.client_id.clone(),
            number: self.number,
        })
    }
}
