//! Reads `joint` with its holes, stages, pattern, seals and washers.

use std::collections::BTreeSet;

use quantity::Said;

use crate::book::Book;
use crate::codes;
use crate::fact::Fact;
use crate::hole::{Holds, Washer};
use crate::id::{HoleName, JointId, PartId};
use crate::joint::{Joint, Retighten, Sealant};
use crate::limit::Origin;
use crate::read::Reader;
use crate::read::fields::{Fields, said};
use crate::read::hole;
use crate::read::quantities::stage_of;
use crate::seal::Seal;
use crate::span::Span;
use crate::tighten::{Pattern, PatternKind, Stage, Stages, Tighten};
use crate::tree::{Node, Value, Word};

/// Rounds, washers and seals: more than this is a slip of the keyboard.
const MANY: u32 = 99;

pub(super) fn read(reader: &mut Reader, node: &Node, of: &PartId, book: &mut Book) {
    let mut fields = Fields::new(node, "a joint");
    let Some(id) = fields.id(reader).map(JointId::new) else {
        return;
    };
    let label = fields.label(reader);
    let to_word = fields.one_word(reader, "to");
    if to_word.is_none() && fields.value(reader, "to").is_none() {
        reader.faults.add(codes::missing_fact::fault(
            node.span,
            "a joint",
            "the part it goes to",
            &format!("joint {id} to=block"),
        ));
    }
    let to = to_word.and_then(|word| reader.mention(&word));
    if let Some(to) = to.as_ref().filter(|to| to.id == *of) {
        reader.faults.add(codes::joint_to_itself::fault(
            to.span,
            id.as_str(),
            of.as_str(),
        ));
    }
    // A joint without its other part is read on for its faults, and then left out.
    let mut joint = Joint {
        label,
        was: fields.was(reader),
        when: fields.when(reader),
        span: node.span,
        of: of.clone(),
        to: to
            .clone()
            .unwrap_or_else(|| crate::span::Mention::new(of.clone(), node.span)),
        zone: fields.zone(reader),
        critical: fields.choice(reader, "critical").known().copied(),
        from: fields.choice(reader, "from").known().copied(),
        holes: Vec::new(),
        tighten: Vec::new(),
        pattern: None,
        seals: Vec::new(),
        sealant: None,
        seizes: fields.flag(reader, "seizes"),
        retighten: None,
        caps: fields.choice(reader, "caps"),
        note: fields.text(reader, "note"),
        id,
    };
    for name in ["hole", "holes"] {
        for child in fields.children(name) {
            hole::read(reader, child, &mut joint);
        }
    }
    // `hole` and `holes` may alternate in the text; the book keeps the order of the text.
    joint.holes.sort_by_key(|hole| hole.span.start);
    hole::check_twice(reader, &joint);
    read_rest(reader, &mut fields, &mut joint);
    fields.finish(reader);
    if to.is_some() {
        book.joints.push(joint);
    }
}

fn read_rest(reader: &mut Reader, fields: &mut Fields<'_>, joint: &mut Joint) {
    for child in fields.children("washer") {
        washer(reader, child, joint);
    }
    for child in fields.children("tighten") {
        let tighten = tighten(reader, child, joint);
        joint.tighten.push(tighten);
    }
    for child in fields.children("pattern") {
        if let Some(first) = &joint.pattern {
            reader.faults.add(codes::said_twice::fault(
                child.name.span,
                "pattern",
                first.span,
            ));
        }
        joint.pattern = pattern(reader, child, joint);
    }
    for child in fields.children("seal") {
        let seal = seal(reader, child, joint);
        joint.seals.push(seal);
    }
    for child in fields.children("sealant") {
        joint.sealant = Some(sealant(reader, child));
    }
    for child in fields.children("retighten") {
        joint.retighten = retighten(reader, child);
    }
}

fn tighten(reader: &mut Reader, node: &Node, joint: &Joint) -> Tighten {
    let mut fields = Fields::new(node, "`tighten`");
    let values = fields.rest();
    let stages = match values.as_slice() {
        [only] if only.text == "?" => Stages::Unknown,
        [only] if only.text == "none" => Stages::DoesNotApply,
        [] if node.args.is_empty() => {
            reader.faults.add(codes::missing_fact::fault(
                node.name.span,
                "`tighten`",
                "its stages",
                "tighten \"12 N·m\" \"21 N·m\"",
            ));
            Stages::Unknown
        }
        _ => stages(reader, &values),
    };
    let tighten = Tighten {
        holes: holes_named(reader, &mut fields, joint),
        stages,
        condition: fields.choice(reader, "condition"),
        lubricant: fields.text(reader, "lubricant"),
        source: origin(reader, &mut fields),
        span: node.span,
    };
    fields.finish(reader);
    tighten
}

fn stages(reader: &mut Reader, values: &[&Value]) -> Stages {
    let mut stages = Vec::new();
    for value in values {
        match stage_of(reader, value) {
            Some(spec) => stages.push(Stage {
                spec,
                span: value.span,
            }),
            // A sequence with a stage missing is no sequence.
            None => return Stages::Unknown,
        }
    }
    if stages.is_empty() {
        Stages::Unknown
    } else {
        Stages::Known(stages)
    }
}

/// Where a figure comes from.
pub(super) fn origin(reader: &mut Reader, fields: &mut Fields<'_>) -> Origin {
    let source = fields.value(reader, "source").filter(|value| !value.spoilt);
    Origin {
        // `none` is a word of this list, not a fact that does not apply.
        kind: source.and_then(|value| super::fields::choice_of(reader, value, "source")),
        at: fields.text(reader, "at"),
    }
}

/// The holes behind `holes=`; nothing when it is not said.
fn holes_named(
    reader: &mut Reader,
    fields: &mut Fields<'_>,
    joint: &Joint,
) -> Option<Vec<HoleName>> {
    let words = fields.list(reader, "holes");
    if words.is_empty() {
        return None;
    }
    Some(known_holes(reader, &words, joint))
}

fn known_holes(reader: &mut Reader, words: &[Word], joint: &Joint) -> Vec<HoleName> {
    let mut names: Vec<HoleName> = Vec::new();
    for word in words {
        for name in hole::names(reader, word) {
            if joint.hole(&name).is_none() {
                reader
                    .faults
                    .add(codes::unknown_hole::fault(word.span, &name, joint));
            } else if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    names
}

fn pattern(reader: &mut Reader, node: &Node, joint: &Joint) -> Option<Pattern> {
    let mut fields = Fields::new(node, "a pattern");
    let words: Vec<Word> = fields
        .rest()
        .into_iter()
        .flat_map(super::fields::words_of)
        .collect();
    let rounds = fields.count(reader, "rounds", 1, MANY);
    fields.finish(reader);
    let kind = match words.as_slice() {
        [] => {
            reader.faults.add(codes::missing_fact::fault(
                node.name.span,
                "a pattern",
                "its word or its holes",
                "pattern inside-out",
            ));
            return None;
        }
        [word] => match word.text.as_str() {
            "inside-out" => PatternKind::InsideOut,
            "outside-in" => PatternKind::OutsideIn,
            "cross" => PatternKind::Cross,
            "around" => PatternKind::Around,
            _ => PatternKind::Order(order(reader, &words, joint)),
        },
        _ => PatternKind::Order(order(reader, &words, joint)),
    };
    Some(Pattern {
        kind,
        rounds: rounds.known().copied().unwrap_or(1),
        span: node.span,
    })
}

/// A pattern hole by hole: every hole that is tightened, exactly once.
fn order(reader: &mut Reader, words: &[Word], joint: &Joint) -> Vec<HoleName> {
    let mut seen = BTreeSet::new();
    for word in words {
        for name in hole::names(reader, word) {
            if !seen.insert(name.clone()) {
                reader
                    .faults
                    .add(codes::pattern_hole::twice(word.span, name.as_str()));
            }
        }
    }
    let missing: Vec<&str> = joint
        .holes
        .iter()
        .filter(|hole| is_tightened(&hole.holds) && !seen.contains(&hole.name))
        .map(|hole| hole.name.as_str())
        .collect();
    let span = match (words.first(), words.last()) {
        (Some(first), Some(last)) => first.span.to(last.span),
        _ => Span::default(),
    };
    if !missing.is_empty() {
        reader
            .faults
            .add(codes::pattern_hole::missing(span, &missing.join(", ")));
    }
    known_holes(reader, words, joint)
}

const fn is_tightened(holds: &Holds) -> bool {
    !matches!(
        holds,
        Holds::Dowel | Holds::Clip | Holds::Nothing | Holds::Other(_)
    )
}

fn washer(reader: &mut Reader, node: &Node, joint: &mut Joint) {
    let mut fields = Fields::new(node, "a washer");
    let what = fields.label(reader).unwrap_or_else(|| "plain".to_owned());
    let washer = Washer {
        thickness: fields.quantity(reader, "thickness"),
        count: fields
            .count(reader, "count", 1, MANY)
            .known()
            .copied()
            .unwrap_or(1),
        one_use: fields.yes(reader, "one-use"),
        what: what.clone(),
    };
    let only = holes_named(reader, &mut fields, joint);
    fields.finish(reader);
    for hole in &mut joint.holes {
        let meant = match &only {
            Some(names) => names.contains(&hole.name),
            None => is_tightened(&hole.holds),
        };
        if meant {
            hole.washer = Fact::Known(Said {
                value: washer.clone(),
                typed: what.clone(),
                notes: Vec::new(),
            });
        }
    }
}

fn seal(reader: &mut Reader, node: &Node, joint: &Joint) -> Seal {
    let mut fields = Fields::new(node, "a seal");
    let what = fields.label(reader).unwrap_or_else(|| "seal".to_owned());
    let seal = Seal {
        what,
        count: fields
            .count(reader, "count", 1, MANY)
            .known()
            .copied()
            .unwrap_or(1),
        new: fields.flag(reader, "new"),
        holes: holes_named(reader, &mut fields, joint),
        side: fields.text(reader, "side"),
        price: fields.price(reader, "price"),
        thickness: fields.quantity(reader, "thickness"),
        span: node.span,
    };
    fields.finish(reader);
    seal
}

fn retighten(reader: &mut Reader, node: &Node) -> Option<Retighten> {
    let mut fields = Fields::new(node, "`retighten`");
    let again = Retighten {
        warm_ups: fields.count(reader, "warm-ups", 1, MANY),
        after: fields.quantity(reader, "after"),
        cold: fields.flag(reader, "cold"),
        source: origin(reader, &mut fields),
        span: node.span,
    };
    fields.finish(reader);
    // A reminder that never falls due is none; nothing is taken as "soon".
    if again.warm_ups == Fact::NeverAsked && again.after == Fact::NeverAsked {
        reader.faults.add(codes::missing_fact::fault(
            node.name.span,
            "`retighten`",
            "when it is due",
            "retighten warm-ups=1 after=\"500 km\" cold=#true source=maker",
        ));
        return None;
    }
    Some(again)
}

fn sealant(reader: &mut Reader, node: &Node) -> Sealant {
    let mut fields = Fields::new(node, "a sealant");
    let sealant = Sealant {
        what: fields.label(reader),
        within: fields.quantity(reader, "within"),
        cures: fields.range(reader, "cures"),
        span: node.span,
    };
    fields.finish(reader);
    sealant
}

/// A washer written as one word on its hole.
pub(super) fn washer_word(value: &Value) -> Said<Washer> {
    said(
        Washer {
            what: value.text.clone(),
            thickness: Fact::NeverAsked,
            count: 1,
            one_use: false,
        },
        value,
    )
}
