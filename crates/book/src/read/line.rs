//! Reads hoses, pipes, leads, cables, connectors and grounds.

use crate::book::Book;
use crate::codes;
use crate::fact::Fact;
use crate::id::{LineId, PartId, PortName, PortRef};
use crate::line::{Clamp, End, Line, LineKind};
use crate::near::near;
use crate::read::Reader;
use crate::read::fields::{Fields, said};
use crate::read::part;
use crate::span::{Mention, Span};
use crate::tree::{Node, Value, Word};

pub(super) fn read(reader: &mut Reader, node: &Node, kind: LineKind, book: &mut Book) {
    let mut fields = Fields::new(node, with_article(kind));
    let Some(id) = fields.id(reader).map(LineId::new) else {
        return;
    };
    let label = fields.label(reader);
    // What the line says for both ends.
    let clamp = fields.fact(reader, "clamp", clamp_of);
    let key = fields.words_fact(reader, "key");
    let from = end(reader, &mut fields, node, kind, "from");
    let to = end(reader, &mut fields, node, kind, "to");
    let ends = from.zip(to);
    let both = ends.is_some();
    let line = Line {
        label,
        was: fields.was(reader),
        when: fields.when(reader),
        span: node.span,
        kind,
        medium: part::medium(reader, &mut fields),
        bore: fields.quantity(reader, "bore"),
        length: fields.quantity(reader, "length"),
        restrictor: fields.words_fact(reader, "restrictor"),
        ends: ends.map_or_else(no_ends, |(from, to)| {
            [from, to].map(|end| inherit(end, &clamp, &key))
        }),
        effort: part::effort(reader, &mut fields),
        one_use: fields.flag(reader, "one-use"),
        wearing: fields.flag(reader, "wearing"),
        price: fields.price(reader, "price"),
        route: fields.text(reader, "route"),
        note: fields.text(reader, "note"),
        id,
    };
    fields.finish(reader);
    // A line without both its ends is read for its faults only.
    if both {
        book.lines.push(line);
    }
}

fn no_ends() -> [End; 2] {
    let nowhere = Mention::new(
        PortRef {
            part: PartId::new(""),
            port: PortName::new(""),
        },
        Span::default(),
    );
    let end = End::at(nowhere);
    [end.clone(), end]
}

const fn with_article(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Hose => "a hose",
        LineKind::Pipe => "a pipe",
        LineKind::Lead => "a lead",
        LineKind::Cable => "a cable",
        LineKind::Connector => "a connector",
        LineKind::Ground => "a ground",
    }
}

/// One end, written as `from part.port`, `from part.port clamp=…` or `from=part.port`.
fn end(
    reader: &mut Reader,
    fields: &mut Fields<'_>,
    node: &Node,
    kind: LineKind,
    side: &'static str,
) -> Option<End> {
    let children = fields.children(side);
    let Some(child) = children.first() else {
        let Some(word) = fields.one_word(reader, side) else {
            let spoilt = node
                .facts
                .iter()
                .any(|(key, value)| key.text == side && value.spoilt);
            if !spoilt {
                reader
                    .faults
                    .add(codes::one_ended_line::fault(node.span, kind.word(), side));
            }
            return None;
        };
        return reader.port(&word).map(End::at);
    };
    if let Some(again) = children.get(1) {
        reader.faults.add(codes::said_twice::fault(
            again.name.span,
            side,
            child.name.span,
        ));
    }
    let mut inner = Fields::new(child, "an end");
    let value = inner.argument();
    if value.is_none() {
        reader.faults.add(codes::one_ended_line::fault(
            child.name.span,
            kind.word(),
            side,
        ));
    }
    let word = value.filter(|value| !value.spoilt).map(|value| Word {
        text: value.text.clone(),
        span: value.span,
    });
    let port = word.and_then(|word| reader.port(&word));
    let clamp = inner.fact(reader, "clamp", clamp_of);
    let bore = inner.quantity(reader, "bore");
    let key = inner.words_fact(reader, "key");
    let reach = inner.quantity(reader, "reach");
    let held_by = inner.mention(reader, "held-by");
    let mark = inner.text(reader, "mark");
    inner.finish(reader);
    Some(End {
        port: port?,
        clamp,
        bore,
        key,
        reach,
        held_by,
        mark,
        span: child.span,
    })
}

/// An end has what the line says unless it says something itself.
fn inherit(mut end: End, clamp: &Fact<Clamp>, key: &Fact<String>) -> End {
    if end.clamp == Fact::NeverAsked {
        end.clamp = clamp.clone();
    }
    if end.key == Fact::NeverAsked {
        end.key = key.clone();
    }
    end
}

fn clamp_of(reader: &mut Reader, value: &Value) -> Option<quantity::Said<Clamp>> {
    let word = value.text.as_str();
    let known = Clamp::NAMED.into_iter().find(|clamp| clamp.word() == word);
    let clamp = known.unwrap_or_else(|| {
        let near = near(word, Clamp::NAMED.iter().map(Clamp::word));
        if !near.is_empty() {
            reader.faults.add(codes::unknown_word::doubtful(
                value.span, word, "clamp", &near,
            ));
        }
        Clamp::Other(word.to_owned())
    });
    Some(said(clamp, value))
}
