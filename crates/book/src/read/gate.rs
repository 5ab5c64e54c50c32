//! Reads `gate` and its needs.

use crate::book::Book;
use crate::codes;
use crate::gate::{CircuitState, Gate, Need, NeedKind, PartState, TemporaryState};
use crate::id::GateId;
use crate::near::near;
use crate::read::Reader;
use crate::read::fields::Fields;
use crate::tree::Node;

pub(super) fn read(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a gate");
    let Some(id) = fields.id(reader).map(GateId::new) else {
        return;
    };
    let label = fields.label(reader);
    let when = fields.when(reader);
    let mut needs = Vec::new();
    for child in fields.children("need") {
        needs.extend(need(reader, child));
    }
    fields.finish(reader);
    book.gates.push(Gate {
        id,
        label,
        when,
        span: node.span,
        needs,
    });
}

/// The facts one of which a need must have.
const SUBJECTS: [&str; 7] = [
    "check",
    "limit",
    "circuit",
    "part",
    "joint",
    "line",
    "temporary",
];

fn need(reader: &mut Reader, node: &Node) -> Option<Need> {
    let mut fields = Fields::new(node, "a need");
    let when = fields.when(reader);
    let says = fields.text(reader, "says");
    let said: Vec<&str> = SUBJECTS
        .into_iter()
        .filter(|name| node.facts.iter().any(|(key, _)| key.text == *name))
        .collect();
    let words = fields.argument();
    let what = match (words, said.as_slice()) {
        (Some(words), []) => (!words.spoilt).then(|| NeedKind::Word(words.text.clone())),
        (None, [subject]) => about(reader, &mut fields, subject),
        (None, []) => {
            let written = node.facts.iter().map(|(key, _)| key.text.as_str());
            let near: Vec<String> = written.flat_map(|key| near(key, SUBJECTS)).collect();
            reader
                .faults
                .add(codes::gate_unknown_need::fault(node.span, &near));
            return None;
        }
        _ => {
            reader
                .faults
                .add(codes::gate_unknown_need::several(node.span));
            return None;
        }
    };
    fields.finish(reader);
    Some(Need {
        what: what?,
        when,
        says,
        span: node.span,
    })
}

fn about(reader: &mut Reader, fields: &mut Fields<'_>, subject: &str) -> Option<NeedKind> {
    Some(match subject {
        "check" => NeedKind::Check(fields.mention(reader, "check")?),
        "limit" => NeedKind::Limit(fields.mention(reader, "limit")?),
        "joint" => NeedKind::Joint(fields.mention(reader, "joint")?),
        "line" => NeedKind::Line(fields.mention(reader, "line")?),
        "circuit" => {
            let state = fields.choice(reader, "state");
            let state = state.known().copied().unwrap_or(CircuitState::Full);
            NeedKind::Circuit(fields.mention(reader, "circuit")?, state)
        }
        "part" => {
            let state = fields.choice(reader, "state");
            let state = state.known().copied().unwrap_or(PartState::On);
            NeedKind::Part(fields.mention(reader, "part")?, state)
        }
        _ => {
            let state = fields.choice(reader, "state");
            let state = state.known().copied().unwrap_or(TemporaryState::Out);
            NeedKind::Temporary(fields.mention(reader, "temporary")?, state)
        }
    })
}
