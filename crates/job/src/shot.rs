//! A photo as far as it was told, and the place on a film where something is seen.
//!
//! The bytes of a photo lie in the job folder under the name of what they are; here stands
//! only that name.

use std::fmt;

use crate::act::{Name, Place};
use crate::entry::EntryId;

/// The name of a photo's bytes: their SHA-256 in hexadecimal, lower case.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileHash(String);

impl FileHash {
    /// How many letters it has.
    pub const LETTERS: usize = 64;

    /// Reads a name of bytes, in either case.
    ///
    /// ```
    /// assert!(job::FileHash::read(&"0a".repeat(32)).is_some());
    /// assert!(job::FileHash::read("0a").is_none());
    /// ```
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let whole =
            text.len() == Self::LETTERS && text.chars().all(|sign| sign.is_ascii_hexdigit());
        whole.then(|| Self(text.to_ascii_lowercase()))
    }

    /// All its letters.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The first letters, enough for a person to tell two photos of a job apart.
    #[must_use]
    pub fn short(&self) -> &str {
        &self.0[..8]
    }
}

impl fmt::Display for FileHash {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str(&self.0)
    }
}

/// What was said of a photo. All of it may be missing but one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shot {
    /// The number or name the camera gave it.
    pub photo: Option<String>,
    /// Its bytes in the job folder.
    pub file: Option<FileHash>,
    /// What it shows: a part, joint, hose or end, or words that name nothing.
    pub of: Option<Name>,
    /// The hole it shows.
    pub hole: Option<String>,
    /// The entry it shows, such as a reading.
    pub entry: Option<EntryId>,
    /// The bag it belongs to.
    pub place: Option<Place>,
    /// Whether others may see it.
    pub show: bool,
    /// Its caption.
    pub note: Option<String>,
}

/// How a place on a photo is pointed out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sign {
    /// Its number on a disc.
    #[default]
    Number,
    /// An arrow that ends there.
    Arrow,
    /// A ring around it.
    Circle,
}

impl Sign {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::Number, Self::Arrow, Self::Circle];

    /// The word a person types.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Number => "number",
            Self::Arrow => "arrow",
            Self::Circle => "circle",
        }
    }
}

/// A place pointed out on a photo that is held upright.
#[derive(Clone, Debug, PartialEq)]
pub struct Spotted {
    /// How.
    pub sign: Sign,
    /// From the left edge, as a share of the width: 0 to 1.
    pub across: f64,
    /// From the top edge, as a share of the height: 0 to 1.
    pub down: f64,
    /// How wide a circle is, as a share of the width.
    pub wide: Option<f64>,
    /// What is there.
    pub says: Option<String>,
}

/// Where something is seen on a film.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Film {
    /// The tape, card or file, if there are several.
    pub tape: Option<String>,
    /// Seconds from its beginning, if they were told.
    pub seconds: Option<u32>,
}

impl Film {
    /// As people write it: `00:12:31`, `tape 3`, `tape 3 00:12:31`.
    #[must_use]
    pub fn shown(&self) -> String {
        let tape = self.tape.as_ref().map(|tape| format!("tape {tape}"));
        let time = self.seconds.map(|all| {
            let (hours, minutes, seconds) = (all / 3600, all / 60 % 60, all % 60);
            format!("{hours:02}:{minutes:02}:{seconds:02}")
        });
        let both: Vec<String> = tape.into_iter().chain(time).collect();
        both.join(" ")
    }
}
