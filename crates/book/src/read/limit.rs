//! Reads `limit`.

use quantity::Kind;

use crate::amount::Amount;
use crate::book::Book;
use crate::codes;
use crate::fact::Fact;
use crate::id::LimitId;
use crate::limit::Limit;
use crate::read::Reader;
use crate::read::fields::Fields;
use crate::read::joint::origin;
use crate::tree::Node;

/// Readings that make a limit whole: one for each valve of the largest engine, and room.
const MOST_READINGS: u32 = 200;

pub(super) fn read(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a limit");
    let Some(id) = fields.id(reader).map(LimitId::new) else {
        return;
    };
    let label = fields.label(reader);
    let of = fields.one_word(reader, "of");
    let source_written = fields.value(reader, "source").is_some();
    let limit = Limit {
        label,
        was: fields.was(reader),
        when: fields.when(reader),
        span: node.span,
        of: of.and_then(|word| reader.subject(&word)),
        min: fields.amount(reader, "min"),
        max: fields.amount(reader, "max"),
        new: fields.amount(reader, "new"),
        per: fields.quantity(reader, "per"),
        readings: fields.count(reader, "readings", 1, MOST_READINGS),
        source: origin(reader, &mut fields),
        id,
    };
    if !source_written {
        reader.faults.add(codes::limit_without_source::fault(
            node.span,
            limit.id.as_str(),
        ));
    }
    let written = fields.value(reader, "min").or(fields.value(reader, "max"));
    if written.is_none() {
        reader.faults.add(codes::limit_without_number::fault(
            node.span,
            limit.id.as_str(),
        ));
    }
    check_numbers(reader, &limit);
    fields.finish(reader);
    book.limits.push(limit);
}

fn check_numbers(reader: &mut Reader, limit: &Limit) {
    let numbers: Vec<Amount> = [&limit.min, &limit.max, &limit.new]
        .into_iter()
        .filter_map(Fact::known)
        .copied()
        .collect();
    let kinds: Vec<Kind> = numbers.iter().map(|number| number.kind()).collect();
    if kinds.windows(2).any(|pair| pair[0] != pair[1]) {
        reader.faults.add(codes::limit_without_number::two_kinds(
            limit.span,
            limit.id.as_str(),
        ));
        return;
    }
    if let (Some(min), Some(max)) = (limit.min.known(), limit.max.known())
        && min.si() > max.si()
    {
        reader.faults.add(codes::limit_without_number::crossed(
            limit.span,
            limit.id.as_str(),
        ));
    }
}
