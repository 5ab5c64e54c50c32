//! The line grammar: one typed line is one entry.
//!
//! `VERB WHAT: DETAIL, DETAIL, …` Upper and lower case are alike, most punctuation may be
//! left out. The manual page is `docs/line.md`; its verbs and examples come from
//! [`VERBS`], and a test reads every example on it.
//!
//! Reading a line never guesses: a line that cannot be understood is given back with what
//! was understood, where it stopped and what was expected there.

mod fault;
mod words;
mod size;
mod item;
mod detail;
mod subject;
mod reading;
mod apart;
mod goods;
mod words_only;
mod shot;
mod mark;
mod film;
mod place;
mod verb;

pub use fault::LineFault;
pub use shot::begins_photo_words;
pub use verb::{VERBS, Verb};

use crate::act::Act;
use crate::shot::Film;
use words::Words;

/// The version of this grammar. It is stored beside every line, and a line is always read
/// by the version it was written in.
pub const GRAMMAR: u32 = 1;

/// The longest line that is read, in bytes.
pub const LONGEST: usize = 8 * 1024;

/// Reads one line.
///
/// # Errors
/// [`LineFault`] with the place where reading stopped. Nothing of such a line counts.
///
/// # Example
/// ```
/// use job::Act;
///
/// let act = job::line::read_line("off runners: 2 nuts 13 mm, 3 bolts M8x40, bag 14")?;
/// assert_eq!(act.kind(), "off");
/// let fault = job::line::read_line("off runners: 3 bolts M8x0.7").unwrap_err();
/// assert_eq!(fault.stopped_at, 24);
/// # Ok::<(), job::line::LineFault>(())
/// ```
pub fn read_line(text: &str) -> Result<Act, LineFault> {
    if text.len() > LONGEST {
        let fault = LineFault::at(text, LONGEST, "a line a person would type");
        return Err(fault.because(format!(
            "it has {} bytes and {LONGEST} are read",
            text.len()
        )));
    }
    if let Some(odd) = text.find(|letter: char| letter.is_control() && letter != '\t') {
        let fault = LineFault::at(text, odd, "letters, digits and signs on one line");
        return Err(fault.because("there is a line break or another control character".to_owned()));
    }
    let (line, _) = film::part(text)?;
    Words::of(line)
        .and_then(|words| verb::act(line, &words))
        .map_err(|mut fault| {
            text.clone_into(&mut fault.line);
            fault
        })
}

/// Where a line that was read is seen on a film, if that is said at its end.
///
/// ```
/// let film = job::line::film("off cover: 4 bolts, film tape 2 00:12:31");
/// assert_eq!(film.map(|film| film.shown()).as_deref(), Some("tape 2 00:12:31"));
/// ```
#[must_use]
pub fn film(text: &str) -> Option<Film> {
    film::part(text).ok()?.1
}
