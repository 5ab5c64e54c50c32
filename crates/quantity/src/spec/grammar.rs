//! The grammar of a tightening spec.
//!
//! ```text
//! spec      := step (joint step)* condition?
//! joint     := "," | ";" | "then" | "->" | "→" | "+" (before an angle only)
//! step      := torque | angle | n "x" angle | "loosen" angle? | "hand tight" | "repeat" n | "wait" time
//! torque    := value, range, tolerance or bound, then the same in other units: "(" … ")" or "/" …
//! condition := "dry" | "oiled" | "with sealer" | "with threadlock" | a lubricant | "new bolts"
//! ```

use super::condition::condition;
use super::pair::{PrintedPair, printed};
use super::{Condition, Spec, Step};
use crate::kind::{Kind, Quantity};
use crate::kinds::{Angle, Duration, Torque};
use crate::read::{
    Amount, Dash, Expression, ReadFault, Scan, Shape, bound_of, expression, plus_of_two_meanings,
    typed_quantity,
};
use crate::said::{Bound, Said};
use crate::unit::Unit;

/// The most often a step may be repeated on paper; more is a slip of the finger.
const MOST_REPEATS: f64 = 20.0;

/// A step before the units of bare torques are settled.
enum Draft {
    Torque {
        found: Box<Expression>,
        beside: Vec<Expression>,
    },
    Ready(Step),
}

/// What stood before a step.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Joint {
    Then,
    /// A plus, at this byte.
    Plus(usize),
}

#[derive(Default)]
struct Draught {
    drafts: Vec<Draft>,
    condition: Condition,
    new_bolts: bool,
    notes: Vec<String>,
}

pub(super) fn read(text: &str) -> Result<Said<Spec>, ReadFault> {
    let mut scan = Scan::new(text)?;
    let mut spec = Draught::default();
    let mut joint = Joint::Then;
    loop {
        scan.skip_space();
        if !spec.take_condition(&mut scan)? {
            spec.take_step(&mut scan, joint)?;
        }
        while spec.take_condition(&mut scan)? {}
        let behind = scan.at();
        scan.skip_space();
        if scan.is_done() {
            break;
        }
        // A spec copied from a page has one step a line.
        if text[behind..scan.at()].contains('\n') && scan.peek() != Some('+') {
            joint = Joint::Then;
            continue;
        }
        joint = take_joint(&mut scan, spec.has_unit())?;
    }
    spec.settle(text)
}

/// Takes what parts two steps.
fn take_joint(scan: &mut Scan<'_>, has_unit: bool) -> Result<Joint, ReadFault> {
    let place = scan.at();
    if scan.take('+') {
        return Ok(Joint::Plus(place));
    }
    if scan.take_any(&[",", ";", "→", "->", "=>", "⇒"]) {
        scan.skip_space();
        scan.take_word(&["and then", "then"]);
        let plus = scan.at();
        return Ok(if scan.take('+') {
            Joint::Plus(plus)
        } else {
            Joint::Then
        });
    }
    if scan.take_word(&["and then", "then"]) {
        return Ok(Joint::Then);
    }
    if scan.rest().starts_with(['-', '−', '–']) {
        return Err(ReadFault::new(
            scan.text(),
            place..place + scan.peek().map_or(0, char::len_utf8),
            "a dash between two steps could part them or mean turning back",
            "write `, ` between steps, and `loosen 90°` for turning back",
        ));
    }
    if has_unit && scan.peek().is_some_and(char::is_numeric) {
        return Err(ReadFault::new(
            scan.text(),
            scan.word(),
            "two steps stand side by side with nothing between them",
            "write `,` between stages, or `+` before an angle",
        ));
    }
    scan.finish_for(Kind::Torque, has_unit)?;
    Ok(Joint::Then)
}

impl Draught {
    fn has_unit(&self) -> bool {
        match self.drafts.last() {
            Some(Draft::Torque { found, .. }) => found.has_unit(),
            Some(Draft::Ready(_)) | None => true,
        }
    }

    fn take_step(&mut self, scan: &mut Scan<'_>, joint: Joint) -> Result<(), ReadFault> {
        if scan.is_done() {
            let at = scan.at()..scan.at();
            return Err(ReadFault::new(
                scan.text(),
                at,
                "a step is missing at the end",
                "write the next torque or angle, or take the separator away",
            ));
        }
        if let Some(step) = self.worded_step(scan)? {
            self.drafts.push(Draft::Ready(step));
            return Ok(());
        }
        if let Some((times, step)) = counted_angle(scan)? {
            self.drafts
                .extend((0..times).map(|_| Draft::Ready(step.clone())));
            return Ok(());
        }
        if let Some(step) = angle(scan)? {
            self.drafts.push(Draft::Ready(step));
            return Ok(());
        }
        let start = scan.at();
        let found = expression(scan, Kind::Torque, Dash::Range)
            .map_err(|fault| no_step(scan, start, fault));
        if let Joint::Plus(place) = joint {
            // Whatever follows a plus and is no angle cannot be told from a lost ±.
            if found.is_ok() || scan.text()[start..].starts_with(|sign: char| sign.is_ascii_digit())
            {
                scan.go_to(place);
                return Err(plus_of_two_meanings(scan));
            }
        }
        let found = found?;
        let beside = beside(scan)?;
        if !beside.is_empty() && !found.has_unit() {
            return Err(found.first.unit_missing(scan.text(), Kind::Torque));
        }
        self.notes.extend(found.notes());
        self.drafts.push(Draft::Torque {
            found: Box::new(found),
            beside,
        });
        Ok(())
    }

    /// Steps that start with a word.
    fn worded_step(&mut self, scan: &mut Scan<'_>) -> Result<Option<Step>, ReadFault> {
        if scan.take_word(&["hand tight", "finger tight", "hand tighten"]) {
            return Ok(Some(Step::HandTight));
        }
        if scan.take_word(&["loosen", "slacken", "back off", "turn back"]) {
            scan.take_word(&["by"]);
            let before = scan.at();
            let turned = angle(scan)?;
            if turned.is_none() {
                scan.go_to(before);
                scan.skip_space();
                if let Some(bare) = Amount::bare(scan)? {
                    return Err(bare.unit_missing(scan.text(), Kind::Angle));
                }
                scan.go_to(before);
            }
            return Ok(Some(match turned {
                Some(Step::Angle { value, .. }) => Step::Loosen(Some(value)),
                Some(other) => other,
                None => Step::Loosen(None),
            }));
        }
        if scan.take_word(&["wait"]) {
            let found = expression(scan, Kind::Duration, Dash::Range)?;
            let si = found
                .plain(scan.text())?
                .si(scan.text(), Kind::Duration, None)?;
            return Ok(Some(Step::Wait(typed_quantity::<Duration>(
                scan.text(),
                si,
            )?)));
        }
        if scan.take_word(&["repeat"]) {
            return self.repeat(scan).map(Some);
        }
        Ok(None)
    }

    fn repeat(&self, scan: &mut Scan<'_>) -> Result<Step, ReadFault> {
        scan.skip_space();
        let start = scan.at();
        let times = whole_number(scan);
        let at = start..scan.at();
        let Some(times) = times else {
            return Err(ReadFault::new(
                scan.text(),
                at,
                "how often the step is repeated is missing",
                "write a whole number from 1 to 20, as in `repeat 2`",
            ));
        };
        scan.skip_space();
        if !scan.take_word(&["times", "time", "x"]) {
            scan.take('×');
        }
        if self.drafts.is_empty() {
            return Err(ReadFault::new(
                scan.text(),
                at,
                "there is no step before this one to repeat",
                "write the step first, then `repeat 2`",
            ));
        }
        Ok(Step::Repeat(times))
    }

    /// Takes one condition, bare or in brackets; says whether there was one.
    fn take_condition(&mut self, scan: &mut Scan<'_>) -> Result<bool, ReadFault> {
        let mut ahead = scan.clone();
        ahead.skip_space();
        let bracket = ahead.take('(');
        ahead.skip_space();
        let start = ahead.at();
        if ahead.take_word(&[
            "with new bolts",
            "with new bolt",
            "new bolts",
            "new bolt",
            "new fasteners",
            "new studs",
            "new nuts",
        ]) {
            self.new_bolts = true;
        } else if let Some(condition) = condition(&mut ahead) {
            if self.condition != Condition::NotStated && self.condition != condition {
                return Err(ReadFault::new(
                    scan.text(),
                    start..ahead.at(),
                    "two conditions of the threads stand in one spec",
                    "keep the one the maker gives",
                ));
            }
            self.condition = condition;
        } else {
            return Ok(false);
        }
        ahead.skip_space();
        if bracket && !ahead.take(')') {
            return Ok(false);
        }
        *scan = ahead;
        Ok(true)
    }

    fn settle(mut self, text: &str) -> Result<Said<Spec>, ReadFault> {
        let shared = shared_unit(text, &self.drafts)?;
        let mut steps = Vec::with_capacity(self.drafts.len());
        let mut printed_pairs = Vec::new();
        for draft in std::mem::take(&mut self.drafts) {
            match draft {
                Draft::Ready(step) => steps.push(step),
                Draft::Torque { found, beside } => {
                    for other in &beside {
                        let pair = PrintedPair::new(
                            steps.len(),
                            printed(text, &found)?,
                            printed(text, other)?,
                        );
                        if !pair.agrees {
                            self.notes.push(pair.says());
                        }
                        printed_pairs.push(pair);
                    }
                    steps.push(self.torque(text, &found, shared)?);
                }
            }
        }
        if steps.is_empty() {
            return Err(ReadFault::whole(
                text,
                "no torque and no angle stands here",
                "write what the bolts get, as in `30 N·m + 90°`",
            ));
        }
        let spec = Spec {
            steps,
            condition: self.condition,
            new_bolts: self.new_bolts,
            printed_pairs,
        };
        Ok(Said {
            value: spec,
            typed: text.to_owned(),
            notes: self.notes,
        })
    }

    fn torque(
        &mut self,
        text: &str,
        found: &Expression,
        shared: Option<&Unit>,
    ) -> Result<Step, ReadFault> {
        let shape = found.shape(text, Kind::Torque, shared)?;
        if shape == Shape::Exactly(0.0) {
            self.notes
                .push("no torque at all was taken as loosening".to_owned());
            return Ok(Step::Loosen(None));
        }
        let (value, allowed) = aim::<Torque>(text, shape)?;
        Ok(Step::Torque { value, allowed })
    }
}

/// The fault for a word that starts no step; any other fault stays as it is.
fn no_step(scan: &Scan<'_>, start: usize, fault: ReadFault) -> ReadFault {
    let mut ahead = scan.clone();
    ahead.go_to(start);
    if fault.at.start != start || !ahead.peek().is_some_and(char::is_alphabetic) {
        return fault;
    }
    let at = ahead.word();
    ReadFault::new(
        scan.text(),
        at.clone(),
        format!("`{}` starts no step this program knows", &scan.text()[at]),
        "write a torque, an angle, `hand tight`, `loosen 90°`, `repeat 2` or `wait 10 min`",
    )
}

/// The unit bare torques share: the one behind the last of them, as in `20 → 40 N·m`.
///
/// Never the unit of a torque before: columns do switch units halfway down.
fn shared_unit(text: &str, drafts: &[Draft]) -> Result<Option<&'static Unit>, ReadFault> {
    let torques: Vec<&Expression> = drafts
        .iter()
        .filter_map(|draft| match draft {
            Draft::Torque { found, .. } => Some(&**found),
            Draft::Ready(_) => None,
        })
        .collect();
    let Some(bare) = torques.iter().rposition(|found| !found.has_unit()) else {
        return Ok(None);
    };
    let all_before_bare = torques[..bare].iter().all(|found| !found.has_unit());
    match torques.get(bare + 1) {
        Some(with_unit) if all_before_bare => Ok(with_unit.unit()),
        _ => Err(torques[bare].first.unit_missing(text, Kind::Torque)),
    }
}

/// The value to aim at and what counts as met.
fn aim<Q: Quantity>(text: &str, shape: Shape) -> Result<(Q, Bound<Q>), ReadFault> {
    let value = match shape {
        Shape::Exactly(value) | Shape::Below(value) | Shape::Above(value) => value,
        Shape::Between {
            nominal: Some(value),
            ..
        } => value,
        Shape::Between {
            nominal: None,
            low,
            high,
        } => low + (high - low) / 2.0,
    };
    Ok((typed_quantity(text, value)?, bound_of(text, shape)?))
}

/// An angle, or a turning back where it is negative. `None`, and nothing taken, where none is written.
fn angle(scan: &mut Scan<'_>) -> Result<Option<Step>, ReadFault> {
    let mut ahead = scan.clone();
    let Ok(found) = expression(&mut ahead, Kind::Angle, Dash::Range) else {
        return Ok(None);
    };
    if !found.has_unit() {
        return Ok(None);
    }
    *scan = ahead;
    let shape = found.shape(scan.text(), Kind::Angle, None)?;
    let (value, allowed) = aim::<Angle>(scan.text(), shape)?;
    if value.si() < 0.0 {
        return Ok(Some(Step::Loosen(Some(-value))));
    }
    Ok(Some(Step::Angle { value, allowed }))
}

/// `2 x 90°`: the same angle several times, each a step of its own.
fn counted_angle(scan: &mut Scan<'_>) -> Result<Option<(u32, Step)>, ReadFault> {
    let mut ahead = scan.clone();
    let Some(times) = whole_number(&mut ahead) else {
        return Ok(None);
    };
    ahead.skip_space();
    if !ahead.take_any(&["x", "×", "*"]) {
        return Ok(None);
    }
    ahead.skip_space();
    let Some(step) = angle(&mut ahead)? else {
        return Ok(None);
    };
    *scan = ahead;
    Ok(Some((times, step)))
}

/// The same torque in other units: `(15 lbf·ft, 2.0 kgf·m)` or `/ 15 lbf·ft`.
fn beside(scan: &mut Scan<'_>) -> Result<Vec<Expression>, ReadFault> {
    let mut found = Vec::new();
    let mut ahead = scan.clone();
    ahead.skip_space();
    if ahead.take('(') {
        ahead.skip_space();
        if !ahead
            .peek()
            .is_some_and(|sign| sign.is_numeric() || sign == '.')
        {
            return Ok(found);
        }
        loop {
            found.push(with_own_unit(&mut ahead)?);
            ahead.skip_space();
            if ahead.take(')') {
                break;
            }
            if !ahead.take_any(&[",", ";", "/"]) {
                let at = ahead.at()..ahead.at();
                return Err(ReadFault::new(
                    ahead.text(),
                    at,
                    "the bracket is not closed",
                    "write `)` behind the last figure",
                ));
            }
        }
        *scan = ahead;
        return Ok(found);
    }
    while ahead.take_any(&["/", "="]) {
        found.push(with_own_unit(&mut ahead)?);
        *scan = ahead.clone();
        ahead.skip_space();
    }
    Ok(found)
}

fn with_own_unit(scan: &mut Scan<'_>) -> Result<Expression, ReadFault> {
    let found = expression(scan, Kind::Torque, Dash::Range)?;
    if found.has_unit() {
        Ok(found)
    } else {
        Err(found.first.unit_missing(scan.text(), Kind::Torque))
    }
}

/// A whole number from 1 to [`MOST_REPEATS`].
fn whole_number(scan: &mut Scan<'_>) -> Option<u32> {
    let rest = scan.rest();
    let length = rest.len()
        - rest
            .trim_start_matches(|sign: char| sign.is_ascii_digit())
            .len();
    let times: u32 = rest[..length].parse().ok()?;
    if times == 0 || f64::from(times) > MOST_REPEATS {
        return None;
    }
    scan.advance(length);
    Some(times)
}
