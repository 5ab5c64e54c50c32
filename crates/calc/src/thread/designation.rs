//! Reading and writing thread designations: `M8x1.25`, `M8`, `3/8-16`, `#10-24 UNC`.

use std::fmt;

use quantity::Length;

use super::{Series, Thread, pitch};
use crate::tightening::TighteningError;

/// Why a text is no thread.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ThreadFault {
    /// Neither a metric nor an inch designation.
    #[error("`{text}` is no thread; write M8x1.25, M8 (coarse) or 3/8-16")]
    NotAThread {
        /// The text.
        text: String,
    },
    /// The number after the size is far too large for a pitch.
    #[error("{length} is no pitch for {size}; if it is the length, write {size}x{pitch}x{length}")]
    PitchLooksLikeLength {
        /// The size: `M8`.
        size: String,
        /// What stood where the pitch stands.
        length: String,
        /// The coarse pitch of the size, or the word `PITCH`.
        pitch: String,
    },
    /// A size without a pitch that is not in the table.
    #[error(
        "the table holds no coarse pitch for {size}; write the pitch behind it, as in M8x1.25 or 3/8-16"
    )]
    PitchMissing {
        /// The size.
        size: String,
    },
    /// `3/8-24 UNC`: the number and the word disagree.
    #[error("{size} {word} has {expected} threads per inch, not {given}; write one of the two")]
    SeriesContradicts {
        /// The size.
        size: String,
        /// `UNC` or `UNF`.
        word: &'static str,
        /// Threads per inch the word means.
        expected: f64,
        /// Threads per inch as written.
        given: f64,
    },
    /// The numbers were read and make no thread.
    #[error(transparent)]
    Size(#[from] TighteningError),
}

impl Thread {
    /// Reads a designation. A bare size means the coarse pitch. A trailing `-6g` or `-6H`
    /// is taken, since those limits are the ones assumed anyway; other tolerance classes
    /// are refused.
    ///
    /// # Errors
    /// [`ThreadFault`], each with the way out.
    ///
    /// # Example
    /// ```
    /// use calc::thread::Thread;
    ///
    /// assert_eq!(Thread::parse("M8")?.to_string(), "M8x1.25");
    /// assert!(Thread::parse("M8x40").is_err());
    /// # Ok::<(), calc::thread::ThreadFault>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, ThreadFault> {
        let folded = fold(text);
        let plain = folded
            .strip_suffix("-6g")
            .or_else(|| folded.strip_suffix("-6h"))
            .unwrap_or(&folded);
        let not_a_thread = || ThreadFault::NotAThread {
            text: text.trim().to_owned(),
        };
        match plain.strip_prefix('m') {
            Some(rest) => metric(rest).ok_or_else(not_a_thread)?,
            None => unified(plain).ok_or_else(not_a_thread)?,
        }
    }
}

/// Lower case, one kind of `x`, decimal points, no blanks.
fn fold(text: &str) -> String {
    text.to_lowercase()
        .chars()
        .filter(|c| !c.is_whitespace())
        .map(|c| match c {
            '×' | '*' => 'x',
            ',' => '.',
            '–' | '−' => '-',
            other => other,
        })
        .collect()
}

/// A plain positive decimal. `f64` alone would also take `inf`, `1e3` and signs.
fn number(text: &str) -> Option<f64> {
    let plain = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '.');
    let value: f64 = plain.then(|| text.parse().ok())??;
    (value > 0.0).then_some(value)
}

/// The part behind the `M`. `None`: it cannot be read at all.
fn metric(rest: &str) -> Option<Result<Thread, ThreadFault>> {
    let (size_text, pitch_text) = match rest.split_once(['x', '-']) {
        Some((size, pitch)) => (size, Some(pitch)),
        None => (rest, None),
    };
    let diameter = number(size_text)?;
    let size = format!("M{diameter}");
    let table = pitch::metric(diameter);
    let pitch = match pitch_text {
        Some(text) => number(text)?,
        None => match table.first() {
            Some(&coarse) => coarse,
            None => return Some(Err(ThreadFault::PitchMissing { size })),
        },
    };
    if pitch > 0.25 * diameter {
        return Some(Err(ThreadFault::PitchLooksLikeLength {
            size,
            length: pitch.to_string(),
            pitch: table
                .first()
                .map_or_else(|| "PITCH".to_owned(), f64::to_string),
        }));
    }
    Some(make(diameter, pitch))
}

fn make(diameter_mm: f64, pitch_mm: f64) -> Result<Thread, ThreadFault> {
    let diameter = Length::mm(diameter_mm).map_err(TighteningError::from)?;
    let pitch = Length::mm(pitch_mm).map_err(TighteningError::from)?;
    Ok(Thread::metric(diameter, pitch)?)
}

/// `3/8-16`, `3/8-16unc`, `3/8unc-16`, `#10-24`, `1-1/8-7`, `0.375-16`.
fn unified(text: &str) -> Option<Result<Thread, ThreadFault>> {
    let (bare, word) = series_word(text);
    let (diameter, per_inch) = size_and_count(&bare, word.is_some())?;
    let size = inch_name(diameter);
    let by_word = match (word, pitch::unified(diameter)) {
        (Some("UNC"), Some((coarse, _))) => Some(coarse),
        (Some("UNF"), Some((_, fine))) => Some(fine),
        _ => None,
    };
    let threads_per_inch = match (per_inch, by_word) {
        (Some(given), Some(expected)) if (given - expected).abs() > 1e-9 => {
            return Some(Err(ThreadFault::SeriesContradicts {
                size,
                word: word.unwrap_or("UNC"),
                expected,
                given,
            }));
        }
        (Some(given), _) => given,
        (None, Some(expected)) => expected,
        (None, None) => return Some(Err(ThreadFault::PitchMissing { size })),
    };
    let diameter = Length::inches(diameter).map_err(TighteningError::from);
    Some(
        diameter
            .and_then(|d| Thread::unified(d, threads_per_inch))
            .map_err(ThreadFault::from),
    )
}

/// Takes `unc` or `unf` out of the text, wherever it stands behind the size.
fn series_word(text: &str) -> (String, Option<&'static str>) {
    for (word, name) in [("unc", "UNC"), ("unf", "UNF")] {
        if let Some((before, after)) = text.split_once(word) {
            let joined = if after.is_empty() || after.starts_with('-') {
                format!("{before}{after}")
            } else {
                format!("{before}-{after}")
            };
            return (joined, Some(name));
        }
    }
    (text.to_owned(), None)
}

/// Diameter in inches and threads per inch. Without a series word the last dash always
/// parts the two, so `1-1/8` alone is never guessed at.
fn size_and_count(text: &str, has_word: bool) -> Option<(f64, Option<f64>)> {
    if let Some((size, count)) = text.rsplit_once('-')
        && let (Some(diameter), Some(count)) = (inches(size), number(count))
    {
        return Some((diameter, Some(count)));
    }
    let diameter = inches(text)?;
    (has_word || text.contains('/') || text.contains('.') || text.starts_with('#'))
        .then_some((diameter, None))
}

/// `3/8`, `1-1/8`, `#10`, `0.375`, `1` in inches.
fn inches(text: &str) -> Option<f64> {
    if let Some(gauge) = text.strip_prefix('#') {
        // Machine-screw numbers: 0.060 in plus 0.013 in a number.
        return gauge
            .parse::<u8>()
            .ok()
            .filter(|&n| n <= 14)
            .map(|n| 0.060 + 0.013 * f64::from(n));
    }
    if let Some((whole, fraction)) = text.split_once('-') {
        return Some(number(whole)? + inches(fraction).filter(|_| fraction.contains('/'))?);
    }
    match text.split_once('/') {
        Some((top, bottom)) => Some(number(top)? / number(bottom)?),
        None => number(text),
    }
}

/// The name of an inch size: `#10`, `3/8`, `1-1/8`, else the decimal.
fn inch_name(diameter_in: f64) -> String {
    let gauge = (diameter_in - 0.060) / 0.013;
    if diameter_in < 0.24 && (gauge - gauge.round()).abs() < 1e-6 {
        return format!("#{}", gauge.round());
    }
    let sixty_fourths = diameter_in * 64.0;
    if (sixty_fourths - sixty_fourths.round()).abs() > 1e-6 {
        return format!("{}", (diameter_in * 1e4).round() / 1e4);
    }
    let whole = diameter_in.floor();
    let (mut top, mut bottom) = ((sixty_fourths - whole * 64.0).round(), 64.0);
    while top > 0.0 && top % 2.0 == 0.0 {
        top /= 2.0;
        bottom /= 2.0;
    }
    match (whole > 0.0, top > 0.0) {
        (true, true) => format!("{whole}-{top}/{bottom}"),
        (true, false) => format!("{whole}"),
        (false, _) => format!("{top}/{bottom}"),
    }
}

impl fmt::Display for Thread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let tidy = |value: f64| (value * 1e4).round() / 1e4;
        match self.series() {
            Series::Metric => write!(
                f,
                "M{}x{}",
                tidy(self.diameter().in_mm()),
                tidy(self.pitch().in_mm())
            ),
            Series::Unified => write!(
                f,
                "{}-{}",
                inch_name(self.diameter().in_inches()),
                tidy(1.0 / self.pitch().in_inches())
            ),
        }
    }
}
