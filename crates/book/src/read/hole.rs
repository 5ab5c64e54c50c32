//! Reads `hole` and `holes`: names, ranges, and what sits there.

use std::collections::BTreeMap;

use crate::codes;
use crate::fact::Fact;
use crate::hole::{Bottom, Head, HeadShape, Holds, Hole, Position};
use crate::id::HoleName;
use crate::joint::Joint;
use crate::read::Reader;
use crate::read::fields::{Fields, said, words_of};
use crate::read::joint::washer_word;
use crate::read::part::medium_of;
use crate::read::quantities::quantity_of;
use crate::span::Span;
use crate::thread::Thread;
use crate::tree::{Node, Value, ValueKind, Word};
use quantity::Length;

/// Holes of the largest joint anyone takes apart.
const MOST_HOLES: usize = 200;

pub(super) fn read(reader: &mut Reader, node: &Node, joint: &mut Joint) {
    let mut fields = Fields::new(node, "a hole");
    let values = fields.rest();
    let numbers = values.iter().filter(|value| value.kind != ValueKind::Text);
    for value in numbers {
        reader
            .faults
            .add(codes::bad_hole_range::fault(value.span, &value.text));
    }
    let words: Vec<Word> = values
        .into_iter()
        .filter(|value| value.kind == ValueKind::Text)
        .flat_map(words_of)
        .collect();
    if node.args.is_empty() {
        reader.faults.add(codes::missing_fact::fault(
            node.name.span,
            "a hole",
            "its name",
            "hole A",
        ));
    }
    let pattern = describe(reader, &mut fields, node.span);
    fields.finish(reader);
    for word in &words {
        for name in names(reader, word) {
            joint.holes.push(Hole {
                name,
                span: word.span,
                ..pattern.clone()
            });
        }
    }
}

fn describe(reader: &mut Reader, fields: &mut Fields<'_>, span: Span) -> Hole {
    let hole = Hole {
        name: HoleName::new(""),
        span,
        when: fields.when(reader),
        holds: fields
            .text(reader, "holds")
            .map_or(Holds::Bolt, |word| holds(&word)),
        thread: fields.fact(reader, "thread", thread_of),
        length: fields.quantity(reader, "length"),
        grip: fields.quantity(reader, "grip"),
        thread_depth: fields.quantity(reader, "thread-depth"),
        bottom: fields.choice::<Bottom>(reader, "bottom"),
        opens_to: fields.fact(reader, "opens-to", |reader, value| {
            Some(said(
                medium_of(reader, &value.text, value.span, "opens-to"),
                value,
            ))
        }),
        head: fields.fact(reader, "head", head_of),
        nut: fields.fact(reader, "nut", head_of),
        grade: fields.words_fact(reader, "grade"),
        washer: fields.fact(reader, "washer", |_, value| Some(washer_word(value))),
        sleeve: fields.words_fact(reader, "sleeve"),
        sealant: fields.words_fact(reader, "sealant"),
        one_use: fields.flag(reader, "one-use"),
        adapter: fields.words_fact(reader, "adapter"),
        position: position(reader, fields),
        note: fields.text(reader, "note"),
    };
    if let (Fact::Known(length), Fact::Known(grip)) = (&hole.length, &hole.grip)
        && length.value <= grip.value
        && hole.holds != Holds::Stud
    {
        let place = fields
            .value(reader, "length")
            .map_or(span, |value| value.span);
        reader.faults.add(codes::length_shorter_than_grip::fault(
            place,
            &fields.arguments_text(),
            &length.typed,
            &grip.typed,
        ));
    }
    hole
}

pub(super) fn position(reader: &mut Reader, fields: &mut Fields<'_>) -> Option<Position> {
    let x = fields.signed::<Length>(reader, "x");
    let y = fields.signed::<Length>(reader, "y");
    Some(Position {
        x: *x.known()?,
        y: *y.known()?,
    })
}

fn holds(word: &str) -> Holds {
    match word {
        "bolt" => Holds::Bolt,
        "stud" => Holds::Stud,
        "nut" => Holds::Nut,
        "screw" => Holds::Screw,
        "plug" => Holds::Plug,
        "banjo" => Holds::Banjo,
        "dowel" => Holds::Dowel,
        "clip" => Holds::Clip,
        "nothing" => Holds::Nothing,
        other => Holds::Other(other.to_owned()),
    }
}

fn thread_of(reader: &mut Reader, value: &Value) -> Option<quantity::Said<Thread>> {
    match Thread::read(&value.text) {
        Ok(thread) => Some(said(thread, value)),
        Err(fault) => {
            reader
                .faults
                .add(codes::thread_designation::fault(value.span, &fault));
            None
        }
    }
}

/// Reads what the wrench grips: `13 mm`, `hex 6 mm`, `T40`, `E12`, `12-point 14 mm`, `cross 2`, `slot`.
pub(super) fn head_of(reader: &mut Reader, value: &Value) -> Option<quantity::Said<Head>> {
    let text = value.text.trim();
    let (first, rest) = text.split_once(' ').unwrap_or((text, ""));
    let shape = match first {
        "hex" => HeadShape::InnerHexagon,
        "12-point" => HeadShape::TwelvePoint,
        "square" => HeadShape::Square,
        "cross" => HeadShape::Cross,
        "slot" if rest.is_empty() => return Some(said(plain_head(HeadShape::Slot), value)),
        _ => {
            return match star(text) {
                Some(head) => Some(said(head, value)),
                None => {
                    let across = quantity_of::<Length>(reader, value)?.value;
                    Some(said(across_flats(HeadShape::Hexagon, across), value))
                }
            };
        }
    };
    if shape == HeadShape::Cross && rest.bytes().all(|byte| byte.is_ascii_digit()) {
        let head = Head {
            number: rest.parse().ok(),
            ..plain_head(shape)
        };
        return Some(said(head, value));
    }
    let size = Value {
        text: rest.to_owned(),
        ..value.clone()
    };
    let across = quantity_of::<Length>(reader, &size)?.value;
    Some(said(across_flats(shape, across), value))
}

const fn plain_head(shape: HeadShape) -> Head {
    Head {
        shape,
        across: None,
        number: None,
    }
}

const fn across_flats(shape: HeadShape, across: Length) -> Head {
    Head {
        shape,
        across: Some(across),
        number: None,
    }
}

fn star(text: &str) -> Option<Head> {
    let (shape, number) = match text.split_at_checked(1)? {
        ("T", number) => (HeadShape::InnerStar, number),
        ("E", number) => (HeadShape::OuterStar, number),
        _ => return None,
    };
    let number = number
        .parse::<u32>()
        .ok()
        .filter(|number| (1..=100).contains(number))?;
    Some(Head {
        number: Some(number),
        ..plain_head(shape)
    })
}

/// The holes one word names: `A`, `A..D`, `h1..h8`.
pub(super) fn names(reader: &mut Reader, word: &Word) -> Vec<HoleName> {
    let text = word.text.as_str();
    let found = match text.split_once("..") {
        None => is_hole_name(text).then(|| vec![HoleName::new(text)]),
        Some((low, high)) => range(low, high),
    };
    match found {
        Some(names) if names.len() > MOST_HOLES => {
            reader
                .faults
                .add(codes::bad_hole_range::too_many(word.span, text, MOST_HOLES));
            Vec::new()
        }
        Some(names) => names,
        None => {
            reader
                .faults
                .add(codes::bad_hole_range::fault(word.span, text));
            Vec::new()
        }
    }
}

fn range(low: &str, high: &str) -> Option<Vec<HoleName>> {
    let letter = |text: &str| {
        let mut letters = text.chars();
        let letter = letters.next().filter(char::is_ascii_alphabetic)?;
        letters.next().is_none().then_some(letter)
    };
    if let (Some(low), Some(high)) = (letter(low), letter(high)) {
        let same_case = low.is_ascii_uppercase() == high.is_ascii_uppercase();
        return (same_case && low <= high).then(|| (low..=high).map(HoleName::new).collect());
    }
    let (prefix, first) = numbered(low)?;
    let (other_prefix, last) = numbered(high)?;
    if prefix != other_prefix || first > last {
        return None;
    }
    // One more than allowed is enough to see that there are too many.
    let last = last.min(first.saturating_add(u32::try_from(MOST_HOLES).ok()?));
    Some(
        (first..=last)
            .map(|number| HoleName::new(format!("{prefix}{number}")))
            .collect(),
    )
}

fn numbered(text: &str) -> Option<(&str, u32)> {
    let digits = text.bytes().rev().take_while(u8::is_ascii_digit).count();
    let (prefix, number) = text.split_at_checked(text.len() - digits)?;
    if !is_hole_name(prefix) {
        return None;
    }
    Some((prefix, number.parse().ok()?))
}

fn is_hole_name(text: &str) -> bool {
    let mut letters = text.chars();
    letters.next().is_some_and(char::is_alphabetic)
        && letters.all(|c| c.is_alphanumeric() || matches!(c, '-' | '_'))
}

/// A hole that is described twice, unless the two can never exist together.
pub(super) fn check_twice(reader: &mut Reader, joint: &Joint) {
    let mut seen: BTreeMap<&HoleName, Vec<&Hole>> = BTreeMap::new();
    for hole in &joint.holes {
        let others = seen.entry(&hole.name).or_default();
        if let Some(first) = others.iter().find(|first| !first.when.excludes(&hole.when)) {
            reader.faults.add(codes::hole_twice::fault(
                hole.span,
                hole.name.as_str(),
                joint.id.as_str(),
                first.span,
            ));
        }
        others.push(hole);
    }
}
