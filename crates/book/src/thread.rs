//! A thread as the book writes it: `M8x1.25`, `M8`, `M10x1-LH`, `1/4-20`; and the fastener
//! word people say: `M8x40`, `M8x1.25x40`.
//!
//! Only what a designation says. Areas, flanks and limits are formulas and live elsewhere.

use std::fmt;

use quantity::{Length, NotFinite};

/// A thread as designated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    /// Metric or unified.
    pub system: ThreadSystem,
    /// Nominal diameter.
    pub diameter: Length,
    /// Pitch, where it was written; `M8` alone leaves it open.
    pub pitch: Option<Length>,
    /// Left-hand thread (`M8x1.25-LH`).
    pub left_hand: bool,
}

/// The family a thread belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ThreadSystem {
    /// ISO metric.
    Metric,
    /// Unified inch.
    Unified,
}

/// Why a designation was not understood.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ThreadFault {
    /// It is no thread designation at all.
    #[error("`{0}` is no thread")]
    NoThread(String),
    /// The diameter is not one bolts are made with.
    #[error("`{text}`: M{diameter} is no size of the metric thread table")]
    NoSize {
        /// The designation.
        text: String,
        /// The diameter as written.
        diameter: String,
    },
    /// The pitch is not one the diameter is made with.
    #[error("`{text}`: M{diameter} is not made with a pitch of {pitch} mm")]
    NoPitch {
        /// The designation.
        text: String,
        /// The diameter as written.
        diameter: String,
        /// The number in the place of the pitch.
        pitch: String,
        /// The pitches of that diameter in mm, coarse first.
        made: Vec<String>,
    },
}

/// Metric sizes: diameter in mm, then the coarse pitch and the fine ones in mm.
///
/// Source: ISO 261, general plan, first and second choice sizes met on engines; from memory.
const METRIC: &[(f64, &[f64])] = &[
    (1.6, &[0.35]),
    (2.0, &[0.4]),
    (2.5, &[0.45]),
    (3.0, &[0.5, 0.35]),
    (3.5, &[0.6]),
    (4.0, &[0.7, 0.5]),
    (5.0, &[0.8, 0.5]),
    (6.0, &[1.0, 0.75]),
    (7.0, &[1.0, 0.75]),
    (8.0, &[1.25, 1.0, 0.75]),
    (9.0, &[1.25, 1.0, 0.75]),
    (10.0, &[1.5, 1.25, 1.0, 0.75]),
    (11.0, &[1.5, 1.25, 1.0]),
    (12.0, &[1.75, 1.5, 1.25, 1.0]),
    (13.0, &[1.5, 1.25, 1.0]),
    (14.0, &[2.0, 1.5, 1.25, 1.0]),
    (15.0, &[1.5, 1.0]),
    (16.0, &[2.0, 1.5, 1.0]),
    (18.0, &[2.5, 2.0, 1.5, 1.0]),
    (20.0, &[2.5, 2.0, 1.5, 1.0]),
    (22.0, &[2.5, 2.0, 1.5, 1.0]),
    (24.0, &[3.0, 2.0, 1.5, 1.0]),
    (26.0, &[1.5]),
    (27.0, &[3.0, 2.0, 1.5, 1.0]),
    (30.0, &[3.5, 3.0, 2.0, 1.5, 1.0]),
    (33.0, &[3.5, 3.0, 2.0, 1.5]),
    (36.0, &[4.0, 3.0, 2.0, 1.5]),
];

impl Thread {
    /// Reads `M8x1.25`, `M8`, `M10x1-LH` or `1/4-20`.
    ///
    /// # Errors
    /// [`ThreadFault`] when it is no designation, or the size or pitch is not made.
    ///
    /// # Example
    /// ```
    /// use book::Thread;
    /// let thread = Thread::read("M8x1.25").unwrap();
    /// assert_eq!(thread.pitch.map(|pitch| pitch.in_mm().round()), Some(1.0));
    /// assert!(Thread::read("M8x40").is_err());
    /// ```
    pub fn read(text: &str) -> Result<Self, ThreadFault> {
        let trimmed = text.trim();
        let (body, left_hand) = match strip_left_hand(trimmed) {
            Some(body) => (body, true),
            None => (trimmed, false),
        };
        let thread = if body.starts_with(['M', 'm']) {
            metric(body, text)?
        } else {
            unified(body).ok_or_else(|| ThreadFault::NoThread(text.to_owned()))?
        };
        Ok(Self {
            left_hand,
            ..thread
        })
    }

    /// The pitch as written, else the coarse one of the table (a bare `M8` is coarse by ISO 965-1).
    #[must_use]
    pub fn pitch_or_coarse(&self) -> Option<Length> {
        self.pitch.or_else(|| match self.system {
            ThreadSystem::Metric => {
                let coarse = *pitches(self.diameter.in_mm())?.first()?;
                Length::mm(coarse).ok()
            }
            ThreadSystem::Unified => None,
        })
    }

    /// Whether a fastener of one can be started in a hole of the other: same family, diameter,
    /// pitch and hand. A pitch nobody wrote counts as coarse.
    #[must_use]
    pub fn fits(&self, other: &Self) -> bool {
        let same = |a: Length, b: Length| (a.in_mm() - b.in_mm()).abs() < 1e-3;
        let pitch = match (self.pitch_or_coarse(), other.pitch_or_coarse()) {
            (Some(a), Some(b)) => same(a, b),
            _ => false,
        };
        self.system == other.system
            && self.left_hand == other.left_hand
            && same(self.diameter, other.diameter)
            && pitch
    }
}

impl fmt::Display for Thread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.system {
            ThreadSystem::Metric => {
                write!(f, "M{}", number(self.diameter.in_mm()))?;
                if let Some(pitch) = self.pitch {
                    write!(f, "x{}", number(pitch.in_mm()))?;
                }
            }
            ThreadSystem::Unified => {
                write!(f, "{}", inch_fraction(self.diameter.in_inches()))?;
                if let Some(pitch) = self.pitch {
                    write!(f, "-{}", number(1.0 / pitch.in_inches()))?;
                }
            }
        }
        if self.left_hand {
            f.write_str("-LH")
        } else {
            Ok(())
        }
    }
}

/// A thread with a fastener length, as people say it: `M8x40`, `M8x1.25x40`, `M8`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fastener {
    /// The thread.
    pub thread: Thread,
    /// Length under the head, where it was said.
    pub length: Option<Length>,
}

impl Fastener {
    /// Reads the fastener word. In `M8x40` a number that is a pitch of the diameter is the
    /// pitch, anything else the length in mm; `M8x1.25x40` says both.
    ///
    /// # Errors
    /// [`ThreadFault`] as for [`Thread::read`].
    ///
    /// # Example
    /// ```
    /// use book::Fastener;
    /// let bolt = Fastener::read("M8x40").unwrap();
    /// assert_eq!(bolt.length.map(|length| length.in_mm().round()), Some(40.0));
    /// assert_eq!(Fastener::read("M8x1.25").unwrap().length, None);
    /// ```
    pub fn read(text: &str) -> Result<Self, ThreadFault> {
        let trimmed = text.trim();
        let fields: Vec<&str> = trimmed.split(['x', 'X', '×']).collect();
        let (thread_text, length_text) = match fields.as_slice() {
            [size, second] if is_length(size, second) => (*size, Some(*second)),
            [_, _, length] => (
                trimmed
                    .get(..trimmed.len() - length.len())
                    .unwrap_or(trimmed)
                    .trim_end_matches(['x', 'X', '×']),
                Some(*length),
            ),
            _ => (trimmed, None),
        };
        let length = match length_text {
            Some(length) => Some(
                positive(length)
                    .and_then(|mm| Length::mm(mm).ok())
                    .ok_or_else(|| ThreadFault::NoThread(text.to_owned()))?,
            ),
            None => None,
        };
        Ok(Self {
            thread: Thread::read(thread_text)?,
            length,
        })
    }
}

impl fmt::Display for Fastener {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.thread.fmt(f)?;
        match self.length {
            Some(length) => write!(f, "x{}", number(length.in_mm())),
            None => Ok(()),
        }
    }
}

/// The pitches in mm a metric diameter is made with, coarse first.
fn pitches(diameter_mm: f64) -> Option<&'static [f64]> {
    METRIC
        .iter()
        .find(|(size, _)| (size - diameter_mm).abs() < 1e-6)
        .map(|(_, pitches)| *pitches)
}

fn is_length(size: &str, second: &str) -> bool {
    let Some(diameter) = size.strip_prefix(['M', 'm']).and_then(positive) else {
        return false;
    };
    let Some(number) = positive(second) else {
        return false;
    };
    pitches(diameter).is_some_and(|made| !made.iter().any(|pitch| (pitch - number).abs() < 1e-6))
}

fn strip_left_hand(text: &str) -> Option<&str> {
    ["-LH", "-lh", " LH", " lh"]
        .iter()
        .find_map(|ending| text.strip_suffix(ending))
}

fn metric(body: &str, text: &str) -> Result<Thread, ThreadFault> {
    let no_thread = || ThreadFault::NoThread(text.to_owned());
    let mut fields = body.get(1..).unwrap_or_default().split(['x', 'X', '×']);
    let size = fields.next().unwrap_or_default().trim();
    let diameter = positive(size).ok_or_else(no_thread)?;
    let made = pitches(diameter).ok_or_else(|| ThreadFault::NoSize {
        text: text.to_owned(),
        diameter: size.to_owned(),
    })?;
    let pitch = match fields.next().map(str::trim) {
        None => None,
        Some(written) => {
            let pitch = positive(written).ok_or_else(no_thread)?;
            if !made
                .iter()
                .any(|candidate| (candidate - pitch).abs() < 1e-6)
            {
                return Err(ThreadFault::NoPitch {
                    text: text.to_owned(),
                    diameter: size.to_owned(),
                    pitch: written.to_owned(),
                    made: made.iter().map(|pitch| number(*pitch)).collect(),
                });
            }
            Some(pitch)
        }
    };
    if fields.next().is_some() {
        return Err(no_thread());
    }
    build(ThreadSystem::Metric, diameter, pitch).map_err(|_| no_thread())
}

/// `1/4-20`, `5/16-18`, `1/2"-13`, `#10-24`: diameter in inches or by gauge number, threads per inch.
fn unified(body: &str) -> Option<Thread> {
    let mut fields = body.split('-');
    let (size, per_inch) = (fields.next()?.trim(), fields.next()?.trim());
    if fields
        .next()
        .is_some_and(|rest| !matches!(rest.trim(), "UNC" | "UNF" | "UNEF"))
    {
        return None;
    }
    let size = size.trim_end_matches(['"', '″']);
    let inches = match size.strip_prefix('#') {
        // Gauge numbers: 0.060 in for #0 and 0.013 in more for each (ASME B1.1; from memory).
        Some(gauge) => 0.060 + 0.013 * f64::from(gauge.parse::<u8>().ok().filter(|n| *n <= 12)?),
        None => match size.split_once('/') {
            Some((top, bottom)) => positive(top)? / positive(bottom)?,
            None => positive(size)?,
        },
    };
    let per_inch = positive(per_inch)?;
    let plausible = (0.05..=4.0).contains(&inches) && (4.0..=80.0).contains(&per_inch);
    if !plausible {
        return None;
    }
    build(ThreadSystem::Unified, inches * 25.4, Some(25.4 / per_inch)).ok()
}

fn build(system: ThreadSystem, diameter: f64, pitch: Option<f64>) -> Result<Thread, NotFinite> {
    Ok(Thread {
        system,
        diameter: Length::mm(diameter)?,
        pitch: pitch.map(Length::mm).transpose()?,
        left_hand: false,
    })
}

fn positive(text: &str) -> Option<f64> {
    let trimmed = text.trim();
    let plain = trimmed
        .bytes()
        .all(|byte| byte.is_ascii_digit() || byte == b'.');
    if !plain {
        return None;
    }
    trimmed
        .parse::<f64>()
        .ok()
        .filter(|value| *value > 0.0 && value.is_finite())
}

/// A number without trailing zeros, to three decimals: what designations need.
fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// An inch size as a fraction of 64ths where it is one.
fn inch_fraction(inches: f64) -> String {
    let sixtyfourths = (inches * 64.0).round();
    if (inches * 64.0 - sixtyfourths).abs() > 1e-6 {
        return number(inches);
    }
    let (mut top, mut bottom) = (sixtyfourths, 64.0);
    while bottom > 1.0 && (top / 2.0).fract() == 0.0 {
        top /= 2.0;
        bottom /= 2.0;
    }
    if bottom > 1.0 {
        format!("{top}/{bottom}")
    } else {
        format!("{top}")
    }
}

#[cfg(test)]
mod tests {
    use super::{Fastener, Thread, ThreadFault};

    fn mm(text: &str) -> (f64, Option<f64>) {
        let thread = Thread::read(text).unwrap();
        (
            thread.diameter.in_mm(),
            thread.pitch.map(|pitch| pitch.in_mm()),
        )
    }

    /// Source: what the designations say by ISO 965-1 (M8 x 1.25) and ASME B1.1 (1/4-20: 0.25 in, 20 to the inch).
    /// Kind: from memory.
    #[test]
    fn designations_say_diameter_and_pitch() {
        assert_eq!(mm("M8"), (8.0, None));
        let (diameter, pitch) = mm("M8x1.25");
        assert!((diameter - 8.0).abs() < 1e-9 && (pitch.unwrap() - 1.25).abs() < 1e-9);
        let (diameter, pitch) = mm("1/4-20");
        assert!((diameter - 6.35).abs() < 1e-9 && (pitch.unwrap() - 1.27).abs() < 1e-9);
        let (diameter, _) = mm("#10-24");
        assert!((diameter - 0.190 * 25.4).abs() < 1e-9);
        assert!(Thread::read("M10x1-LH").unwrap().left_hand);
    }

    #[test]
    fn a_length_is_no_pitch() {
        let fault = Thread::read("M8x40").unwrap_err();
        assert!(
            matches!(fault, ThreadFault::NoPitch { ref made, .. } if made == &["1.25", "1", "0.75"])
        );
        for bad in [
            "M8.3",
            "8",
            "M",
            "Mx1",
            "M8x",
            "M8x1.25x40",
            "M-8",
            "1/0-20",
            "M8xNaN",
            "Minf",
        ] {
            assert!(Thread::read(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_fastener_word_says_pitch_or_length() {
        let said = |text: &str| {
            let bolt = Fastener::read(text).unwrap();
            (
                bolt.thread.pitch.map(|p| p.in_mm()),
                bolt.length.map(|l| l.in_mm().round()),
            )
        };
        assert_eq!(said("M8x1"), (Some(1.0), None));
        assert_eq!(said("M8x40"), (None, Some(40.0)));
        assert_eq!(said("M8x1x40"), (Some(1.0), Some(40.0)));
        assert_eq!(said("M6x16"), (None, Some(16.0)));
        assert!(Fastener::read("M8x1.3x40").is_err());
    }

    #[test]
    fn what_is_written_reads_back() {
        for text in [
            "M8x1.25",
            "M8",
            "M10x1-LH",
            "1/4-20",
            "5/16-18",
            "M8x1.25x40",
            "M8x40",
        ] {
            let fastener = Fastener::read(text).unwrap();
            assert_eq!(fastener.to_string(), text);
        }
    }

    #[test]
    fn a_bare_size_fits_the_coarse_pitch_only() {
        let read = |text| Thread::read(text).unwrap();
        assert!(read("M8").fits(&read("M8x1.25")));
        assert!(!read("M8").fits(&read("M8x1")));
        assert!(!read("M8x1.25").fits(&read("M8x1.25-LH")));
    }
}
