//! Reads `rule`: orders with their reason.

use crate::book::Book;
use crate::codes;
use crate::id::RuleId;
use crate::names::Noun;
use crate::read::Reader;
use crate::read::fields::Fields;
use crate::rule::{Order, OrderAct, Rule};
use crate::tree::{Node, Word};

pub(super) fn read(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a rule");
    let Some(id) = fields.id(reader).map(RuleId::new) else {
        return;
    };
    let written = node.args.len() > 1;
    let reason = fields.label(reader).unwrap_or_default();
    if !written || (reason.trim().is_empty() && !node.args[1].spoilt) {
        reader
            .faults
            .add(codes::rule_without_reason::fault(node.span, id.as_str()));
    }
    let when = fields.when(reader);
    let mut orders = Vec::new();
    for act in OrderAct::ALL {
        for child in fields.children(act.word()) {
            orders.extend(order(reader, child, *act));
        }
    }
    if node.children.is_empty() {
        reader.faults.add(codes::missing_fact::fault(
            node.span,
            "a rule",
            "what it asks",
            "refit heater-pipe before=bulkhead-head",
        ));
    }
    fields.finish(reader);
    orders.sort_by_key(|order| order.span.start);
    book.rules.push(Rule {
        id,
        reason,
        when,
        span: node.span,
        orders,
    });
}

/// One line of a rule; several names before or after make several orders.
fn order(reader: &mut Reader, node: &Node, act: OrderAct) -> Vec<Order> {
    let nouns: &[Noun] = match act {
        OrderAct::TakeOff => &[Noun::Part, Noun::Line],
        OrderAct::Refit => &[Noun::Part, Noun::Line, Noun::Gate],
        OrderAct::Tighten => &[Noun::Joint],
    };
    let mut fields = Fields::new(node, "this order");
    let subjects: Vec<Word> = fields
        .rest()
        .into_iter()
        .flat_map(super::fields::words_of)
        .collect();
    let subjects: Vec<_> = subjects
        .iter()
        .filter_map(|word| reader.reference(word, nouns))
        .collect();
    let before = fields.references(reader, "before", nouns);
    let after = fields.references(reader, "after", nouns);
    let said = ["before", "after"].map(|name| fields.value(reader, name).is_some());
    if node.args.is_empty() || !said.contains(&true) {
        reader.faults.add(codes::missing_fact::fault(
            node.span,
            "this order",
            "what comes first and `before=` or `after=`",
            &format!("{} this-one before=that-one", act.word()),
        ));
    }
    fields.finish(reader);
    let mut orders = Vec::new();
    for subject in &subjects {
        let made = |first: &crate::span::Mention<_>, then: &crate::span::Mention<_>| Order {
            act,
            first: first.clone(),
            then: then.clone(),
            span: node.span,
        };
        orders.extend(before.iter().map(|other| made(subject, other)));
        orders.extend(after.iter().map(|other| made(other, subject)));
    }
    orders
}
