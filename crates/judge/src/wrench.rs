//! Reading a wrench as its owner describes it: `click 20..200 lbf·in 4 %`.
//!
//! Kind, range in the wrench's own unit, then, where known, accuracy (of reading unless it
//! says *of full scale*), the step of its scale and the length of its handle.

use calc::wrench::{Accuracy, Place, Wrench, WrenchKind};
use quantity::{
    Kind, Length, Quantity, Range, Ratio, ReadFault, Said, Torque, Unit, read as read_length,
    read_in, read_range, show, unit,
};

/// A wrench with the words it was described in.
#[derive(Clone, Debug, PartialEq)]
pub struct Tool {
    /// What the owner calls it.
    pub name: String,
    /// What it is.
    pub wrench: Wrench,
    /// Whether the accuracy was told or the usual one stands in.
    pub accuracy_told: bool,
    /// Centre of the drive to centre of the grip, where it is known.
    pub handle: Option<Length>,
}

const KINDS: [(&str, WrenchKind); 5] = [
    ("click", WrenchKind::Click),
    ("dial", WrenchKind::Dial),
    ("beam", WrenchKind::Beam),
    ("digital", WrenchKind::Digital),
    ("electronic", WrenchKind::Digital),
];

const FORM: &str = "write it as in: click 20..200 lbf·in 4 % step 1";

/// Reads a wrench.
///
/// # Errors
/// A [`ReadFault`] with the place in the text.
pub fn read(text: &str) -> Result<Said<Tool>, ReadFault> {
    let parts = Parts::of(text)?;
    let range =
        read_range::<Torque>(parts.range).map_err(|fault| moved(fault, text, parts.range))?;
    let own_unit = own_unit(parts.range)
        .ok_or_else(|| fault(text, parts.range, "the unit of its scale is missing"))?;
    let Range { low, high } = range.value;
    if low.in_newton_metres() < 0.0 || low >= high {
        return Err(fault(
            text,
            parts.range,
            "the scale must run from a lower to a higher torque",
        ));
    }
    let told = match parts.accuracy {
        Some(accuracy) => Some(accuracy.read(text)?),
        None => None,
    };
    let usual =
        Wrench::usual_accuracy(high).map_err(|out| fault(text, parts.range, &out.to_string()))?;
    let graduation = match parts.step {
        Some(step) => Some(
            read_in::<Torque>(step, own_unit)
                .map_err(|fault| moved(fault, text, step))?
                .value,
        ),
        None => None,
    };
    let handle = match parts.handle {
        Some(words) => Some(
            read_length::<Length>(words)
                .map_err(|fault| moved(fault, text, words))?
                .value,
        ),
        None => None,
    };
    if let (Some(step), Some(words)) = (graduation, parts.step)
        && (step.in_newton_metres() <= 0.0 || step > high)
    {
        return Err(fault(
            text,
            words,
            "the step of the scale must be a small torque above zero",
        ));
    }
    Ok(Said {
        value: Tool {
            name: text.trim().to_owned(),
            wrench: Wrench {
                kind: parts.kind,
                range: range.value,
                unit: *own_unit,
                accuracy: told.unwrap_or(usual),
                graduation,
            },
            accuracy_told: told.is_some(),
            handle,
        },
        typed: text.to_owned(),
        notes: range.notes,
    })
}

/// The text cut into its parts.
struct Parts<'a> {
    kind: WrenchKind,
    range: &'a str,
    accuracy: Option<AccuracyWords<'a>>,
    step: Option<&'a str>,
    handle: Option<&'a str>,
}

struct AccuracyWords<'a> {
    number: &'a str,
    of: &'a str,
}

impl<'a> Parts<'a> {
    fn of(text: &'a str) -> Result<Self, ReadFault> {
        let trimmed = text.trim();
        let (word, rest) = trimmed
            .split_once(char::is_whitespace)
            .unwrap_or((trimmed, ""));
        let kind = KINDS
            .iter()
            .find(|(name, _)| name.eq_ignore_ascii_case(word))
            .map(|&(_, kind)| kind)
            .ok_or_else(|| fault(text, word, "it begins with click, dial, beam or digital"))?;
        let (rest, handle) = match rest.split_once("handle") {
            Some((before, handle)) => (before, Some(handle.trim())),
            None => (rest, None),
        };
        let (rest, step) = match rest.split_once("step") {
            Some((before, step)) => (before, Some(step.trim())),
            None => (rest, None),
        };
        let (range, accuracy) = match rest.split_once('%') {
            Some((before, of)) => {
                let number_from = before
                    .trim_end()
                    .rfind(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
                    .map_or(0, |at| {
                        at + before[at..].chars().next().map_or(1, char::len_utf8)
                    });
                let (range, number) = before.split_at(number_from);
                let range = range.trim_end_matches(|c: char| c.is_whitespace() || c == '±');
                (
                    range,
                    Some(AccuracyWords {
                        number: number.trim(),
                        of: of.trim(),
                    }),
                )
            }
            None => (rest, None),
        };
        Ok(Self {
            kind,
            range: range.trim(),
            accuracy,
            step,
            handle,
        })
    }
}

impl AccuracyWords<'_> {
    fn read(&self, text: &str) -> Result<Accuracy, ReadFault> {
        let share = read_in::<Ratio>(self.number, &unit::PERCENT)
            .map_err(|fault| moved(fault, text, self.number))?
            .value;
        if !(0.1..=25.0).contains(&share.in_percent()) {
            return Err(fault(
                text,
                self.number,
                "an accuracy lies between 0.1 and 25 %",
            ));
        }
        match self.of.to_lowercase().as_str() {
            "" | "of reading" | "reading" => Ok(Accuracy::OfReading(share)),
            "fs" | "of fs" | "of full scale" | "full scale" => Ok(Accuracy::OfFullScale(share)),
            _ => Err(fault(
                text,
                self.of,
                "an accuracy is of reading or of full scale",
            )),
        }
    }
}

fn own_unit(range: &str) -> Option<&'static Unit> {
    let after = range
        .rfind(|c: char| c.is_ascii_digit())
        .map_or(0, |at| at + 1);
    unit::find(Kind::Torque, range.get(after..)?.trim()).ok()
}

/// A fault at a piece of the text. `piece` is always cut from `text`.
fn fault(text: &str, piece: &str, reason: &str) -> ReadFault {
    let start = start_of(text, piece);
    ReadFault {
        text: text.to_owned(),
        at: start..start + piece.len(),
        reason: reason.to_owned(),
        hint: FORM.to_owned(),
    }
}

/// A fault found while reading a piece, told in the whole text.
fn moved(inner: ReadFault, text: &str, piece: &str) -> ReadFault {
    let start = start_of(text, piece);
    ReadFault {
        text: text.to_owned(),
        at: start + inner.at.start..start + inner.at.end,
        ..inner
    }
}

fn start_of(text: &str, piece: &str) -> usize {
    if piece.is_empty() {
        text.len()
    } else {
        text.find(piece).unwrap_or(0)
    }
}

/// What a place in the range means to the hand.
#[must_use]
pub fn words(place: Place) -> &'static str {
    match place {
        Place::BelowMarks => "below its lowest mark",
        Place::BelowFifth => "in the lowest fifth of its scale, where nothing is promised",
        Place::Low => "usable, low on its scale",
        Place::Best => "where it reads best",
        Place::High => "usable, high on its scale",
        Place::AboveMarks => "above its highest mark",
    }
}

/// A wrench that would do: between which ends its highest value should lie for the torque
/// to fall between 30 and 80 % of it.
#[must_use]
pub fn that_would_do(torque: Torque, in_unit: &Unit) -> String {
    // Whole numbers are enough to choose a wrench by; below ten, halves.
    let step = if in_unit.of_si(torque.si()) < 10.0 {
        0.5
    } else {
        1.0
    };
    let shown = |share: f64| {
        let highest = in_unit.of_si(torque.si() / share);
        show::show_si(in_unit.to_si((highest / step).round() * step), in_unit)
    };
    format!(
        "take one whose highest value lies between {} and {}",
        shown(0.8),
        shown(0.3)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tool(text: &str) -> Tool {
        read(text).unwrap().value
    }

    #[test]
    fn the_usual_description_reads() {
        let tool = tool("click 20..200 lbf·in 4 %");
        assert_eq!(tool.wrench.kind, WrenchKind::Click);
        assert_eq!(tool.wrench.unit.symbol, "lbf·in");
        assert!((tool.wrench.range.high.in_pound_force_inches() - 200.0).abs() < 1e-9);
        assert_eq!(
            tool.wrench.accuracy,
            Accuracy::OfReading(Ratio::percent(4.0).unwrap())
        );
        assert!(tool.accuracy_told);
        assert_eq!(tool.wrench.graduation, None);
    }

    #[test]
    fn full_scale_is_never_taken_for_reading() {
        for words in ["2 % FS", "2% of full scale", "±2 % fs"] {
            let tool = tool(&format!("dial 10-100 ft-lb {words}"));
            assert_eq!(
                tool.wrench.accuracy,
                Accuracy::OfFullScale(Ratio::percent(2.0).unwrap()),
                "{words}"
            );
        }
    }

    #[test]
    fn a_missing_accuracy_is_the_usual_one_and_known_for_it() {
        let tool = tool("click 2..10 N·m step 0.1");
        assert!(!tool.accuracy_told);
        assert_eq!(
            tool.wrench.accuracy,
            Accuracy::OfReading(Ratio::percent(6.0).unwrap())
        );
        assert_eq!(
            tool.wrench.graduation,
            Some(Torque::newton_metres(0.1).unwrap())
        );
    }

    #[test]
    fn what_is_no_wrench_is_refused_at_its_place() {
        for (text, at) in [
            ("20..200 lbf·in", "20..200"),
            ("click", ""),
            ("click 20..200", "20..200"),
            ("click 200..200 N·m", "200..200 N·m"),
            ("click 20..200 N·m 4 % of nothing", "of nothing"),
            ("click 20..200 N·m 40 %", "40"),
            ("click 20..200 N·m step 0", "0"),
            ("click 20..200 mm", ""),
        ] {
            let fault = read(text).unwrap_err();
            assert!(text.get(fault.at.clone()).is_some(), "{text}");
            assert!(
                text[fault.at.clone()].contains(at) || at.contains(&text[fault.at.clone()]),
                "{text}: {fault}"
            );
        }
    }
}
