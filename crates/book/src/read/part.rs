//! Reads `part` with its ports, ways and outside work.

use crate::book::Book;
use crate::codes;
use crate::effort::{Effort, Outcome, OutcomeKind, OutsideWork};
use crate::fact::Fact;
use crate::id::{PartId, PortName, ToolId};
use crate::medium::Medium;
use crate::part::{NeedsOffAny, Pair, PairKind, Part, Way};
use crate::port::Port;
use crate::read::Reader;
use crate::read::fields::{Fields, said};
use crate::read::joint;
use crate::span::Mention;
use crate::tree::{Node, Word};

pub(super) fn read(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a part");
    let Some(id) = fields.id(reader).map(PartId::new) else {
        return;
    };
    let mut part = Part {
        label: fields.label(reader),
        was: fields.was(reader),
        when: fields.when(reader),
        span: node.span,
        zone: fields.zone(reader),
        needs_off: fields.mentions(reader, "needs-off"),
        needs_off_any: Vec::new(),
        comes_with: fields.mentions(reader, "comes-with"),
        needs_drained: fields.mentions(reader, "needs-drained"),
        ports: Vec::new(),
        effort: effort(reader, &mut fields),
        one_use: fields.flag(reader, "one-use"),
        wearing: fields.flag(reader, "wearing"),
        price: fields.price(reader, "price"),
        lead: fields.range(reader, "lead"),
        pair: None,
        outside: Vec::new(),
        pieces: fields.choice(reader, "pieces"),
        material: fields.words_fact(reader, "material"),
        thickness: fields.quantity(reader, "thickness"),
        fixed: fields.yes(reader, "fixed"),
        note: fields.text(reader, "note"),
        id,
    };
    for child in fields.children("needs-off-any") {
        part.needs_off_any.push(ways(reader, child));
    }
    for child in fields.children("pair") {
        part.pair = pair(reader, child).or(part.pair);
    }
    for child in fields.children("outside") {
        part.outside.push(outside(reader, child));
    }
    for child in fields.children("port") {
        part.ports.extend(port(reader, child, &part.ports));
    }
    for child in fields.children("joint") {
        joint::read(reader, child, &part.id, book);
    }
    fields.finish(reader);
    book.parts.push(part);
}

/// Time, hands, tools and hoist: the same facts for parts and lines.
pub(super) fn effort(reader: &mut Reader, fields: &mut Fields<'_>) -> Effort {
    Effort {
        off: fields.estimate(reader, "off"),
        on: fields.estimate(reader, "on"),
        hands: fields.count(reader, "hands", 1, 4),
        tools: fields
            .values(reader, "tools")
            .into_iter()
            .map(|value| Mention::new(ToolId::new(value.text.as_str()), value.span))
            .collect(),
        hoist: fields.flag(reader, "hoist"),
    }
}

fn ways(reader: &mut Reader, node: &Node) -> NeedsOffAny {
    let mut fields = Fields::new(node, "`needs-off-any`");
    let mut ways = Vec::new();
    for child in fields.children("way") {
        let mut inner = Fields::new(child, "a way");
        let words: Vec<Word> = inner
            .rest()
            .into_iter()
            .flat_map(super::fields::words_of)
            .collect();
        if words.is_empty() {
            reader.faults.add(codes::missing_fact::fault(
                child.name.span,
                "a way",
                "the parts that must be off",
                "way wheel-liner air-duct",
            ));
        }
        let parts = reader.mentions(&words);
        // A way with an unknown part is left out: with the part it could never be open, without
        // it it would be open too early.
        if !parts.is_empty() && parts.len() == words.len() {
            ways.push(Way {
                parts,
                span: child.name.span,
            });
        }
        inner.finish(reader);
    }
    if node.children.is_empty() {
        reader.faults.add(codes::missing_fact::fault(
            node.name.span,
            "`needs-off-any`",
            "at least one way",
            "needs-off-any { way plenum; way throttle-body idle-valve }",
        ));
    }
    fields.finish(reader);
    NeedsOffAny {
        ways,
        span: node.span,
    }
}

fn pair(reader: &mut Reader, node: &Node) -> Option<Pair> {
    let mut fields = Fields::new(node, "a pair");
    let value = fields.argument();
    if value.is_none() {
        reader.faults.add(codes::missing_fact::fault(
            node.name.span,
            "a pair",
            "the other part",
            "pair radiator-head kind=turned",
        ));
    }
    let word = value.map(|value| Word {
        text: value.text.clone(),
        span: value.span,
    });
    let with = word.and_then(|word| reader.mention(&word));
    let kind = fields.choice(reader, "kind");
    fields.finish(reader);
    Some(Pair {
        with: with?,
        kind: kind.known().copied().unwrap_or(PairKind::LookAlike),
    })
}

fn outside(reader: &mut Reader, node: &Node) -> OutsideWork {
    let mut fields = Fields::new(node, "outside work");
    let what = fields.label(reader).unwrap_or_default();
    let mut outcomes = Vec::new();
    for kind in OutcomeKind::ALL {
        for child in fields.children(kind.word()) {
            let mut inner = Fields::new(child, "an outcome");
            outcomes.push(Outcome {
                kind: *kind,
                takes: inner.range(reader, "takes"),
                price: inner.price(reader, "price"),
                span: child.name.span,
            });
            inner.finish(reader);
        }
    }
    fields.finish(reader);
    OutsideWork {
        what,
        outcomes,
        span: node.span,
    }
}

fn port(reader: &mut Reader, node: &Node, others: &[Port]) -> Option<Port> {
    let mut fields = Fields::new(node, "a port");
    let name = PortName::new(fields.id(reader)?);
    let port = Port {
        label: fields.label(reader),
        medium: medium(reader, &mut fields),
        bore: fields.quantity(reader, "bore"),
        key: fields.words_fact(reader, "key"),
        zone: fields.zone(reader),
        when: fields.when(reader),
        open: fields.yes(reader, "open"),
        position: super::hole::position(reader, &mut fields),
        span: node.span,
        name,
    };
    fields.finish(reader);
    let twin = others
        .iter()
        .find(|other| other.name == port.name && !other.when.excludes(&port.when));
    if let Some(twin) = twin {
        reader.faults.add(codes::duplicate_id::fault(
            port.span,
            port.name.as_str(),
            twin.span,
            "a port of this part",
        ));
    }
    Some(port)
}

/// What flows there; a word that looks like a slip of a known one is doubted.
pub(super) fn medium(reader: &mut Reader, fields: &mut Fields<'_>) -> Fact<Medium> {
    fields.fact(reader, "medium", |reader, value| {
        let medium = medium_of(reader, &value.text, value.span, "medium");
        Some(said(medium, value))
    })
}

pub(super) fn medium_of(
    reader: &mut Reader,
    word: &str,
    span: crate::span::Span,
    fact: &str,
) -> Medium {
    let medium = Medium::of_word(word);
    if let Medium::Other(own) = &medium {
        let near = crate::near::near(own, Medium::NAMED.iter().map(Medium::word));
        if !near.is_empty() {
            reader
                .faults
                .add(codes::unknown_word::doubtful(span, own, fact, &near));
        }
    }
    medium
}
