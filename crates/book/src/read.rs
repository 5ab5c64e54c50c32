//! Reads a text into a [`Book`] or a [`Shop`]: the walk from nodes to nouns.
//!
//! Every reader takes what it can, adds a fault for what it cannot, and goes on; so all faults
//! of a text come out in one go. What several nouns must agree on is checked in [`crate::resolve`].

mod fields;
mod quantities;
mod mention;

mod engine;
mod part;
mod joint;
mod hole;
mod line;
mod fluid;
mod shaft;
mod limit;
mod check;
mod rule;
mod gate;
mod shop;

use crate::book::Book;
use crate::codes;
use crate::fault::{Fault, Faults};
use crate::id::{VariantId, ZoneId};
use crate::line::LineKind;
use crate::names::Names;
use crate::near::near;
use crate::resolve;
use crate::shop::Shop;
use crate::span::Span;
use crate::tree::{self, Node, Tree};
use crate::variant::Variant;
use crate::zone::Zone;
use fields::Fields;

/// What every reader needs: the names of the whole text, the faults so far, the usual currency.
pub(crate) struct Reader {
    pub(crate) names: Names,
    pub(crate) faults: Faults,
    pub(crate) currency: String,
}

/// What a text is, by its nodes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A build book.
    Book,
    /// A shop file: it has a `shop` node.
    Shop,
}

/// Says whether a text is a build book or a shop file.
#[must_use]
pub fn kind_of(text: &str) -> Kind {
    let tree = tree::read(text, &mut Faults::default());
    if tree.nodes.iter().any(|node| node.name.text == "shop") {
        Kind::Shop
    } else {
        Kind::Book
    }
}

/// Reads a build book. All faults come back in text order; what could be read is in the book.
///
/// # Example
/// ```
/// let (book, faults) = book::read("part air-duct zone=above\npart pump zome=above\n");
/// assert_eq!(book.parts.len(), 2);
/// assert_eq!(faults[0].code.name, "unknown-property");
/// ```
#[must_use]
pub fn read(text: &str) -> (Book, Vec<Fault>) {
    let (mut reader, tree) = start(text);
    let mut book = Book::default();
    let (heads, others): (Vec<&Node>, Vec<&Node>) =
        tree.nodes.iter().partition(|node| node.name.text == "book");
    for head in heads {
        read_head(&mut reader, head, &mut book);
    }
    for node in others {
        read_node(&mut reader, node, &mut book);
    }
    resolve::check(&book, &mut reader);
    (book, reader.faults.in_order())
}

/// Reads a shop file. All faults come back in text order; what could be read is in the shop.
#[must_use]
pub fn read_shop(text: &str) -> (Shop, Vec<Fault>) {
    let (mut reader, tree) = start(text);
    let shop = shop::read(&mut reader, &tree);
    (shop, reader.faults.in_order())
}

fn start(text: &str) -> (Reader, Tree) {
    let mut faults = Faults::default();
    let tree = tree::read(text, &mut faults);
    if tree.nodes.is_empty() && tree.unread.is_empty() {
        faults.add(codes::empty_book::fault(Span::new(0, 0)));
    }
    let names = Names::collect(&tree, &mut faults);
    let reader = Reader {
        names,
        faults,
        currency: String::new(),
    };
    (reader, tree)
}

fn read_head(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "the book");
    if book.title.is_some() {
        reader
            .faults
            .add(codes::said_twice::fault(node.span, "book", node.span));
    }
    book.title = fields.label(reader);
    book.units = fields
        .choice(reader, "units")
        .known()
        .copied()
        .unwrap_or_default();
    book.currency = fields.text(reader, "currency");
    book.invented = fields.yes(reader, "invented");
    reader.currency = book.currency.clone().unwrap_or_default();
    fields.finish(reader);
}

fn read_node(reader: &mut Reader, node: &Node, book: &mut Book) {
    match node.name.text.as_str() {
        "engine" => engine::read(reader, node, book),
        "variant" => read_variant(reader, node, book),
        "zone" => read_zone(reader, node, book),
        "part" => part::read(reader, node, book),
        "circuit" => fluid::read_circuit(reader, node, book),
        "if-crossed" => fluid::read_crossing(reader, node, book),
        "shaft" => shaft::read(reader, node, book),
        "limit" => limit::read(reader, node, book),
        "check" => check::read(reader, node, book),
        "temporary" => check::read_temporary(reader, node, book),
        "rule" => rule::read(reader, node, book),
        "gate" => gate::read(reader, node, book),
        word => match LineKind::ALL.iter().find(|kind| kind.word() == word) {
            Some(kind) => line::read(reader, node, *kind, book),
            None => unknown_node(reader, node),
        },
    }
}

/// Words that begin a node of a build book.
const NODES: [&str; 19] = [
    "book",
    "engine",
    "variant",
    "zone",
    "part",
    "hose",
    "pipe",
    "lead",
    "cable",
    "connector",
    "ground",
    "circuit",
    "if-crossed",
    "shaft",
    "limit",
    "check",
    "temporary",
    "rule",
    "gate",
];

fn unknown_node(reader: &mut Reader, node: &Node) {
    let word = node.name.text.as_str();
    let belongs = match word {
        "joint" | "port" | "needs-off" | "needs-off-any" | "comes-with" | "outside" => "a part",
        "hole" | "holes" | "tighten" | "pattern" | "seal" | "washer" | "sealant" => "a joint",
        word if shop::NODES.contains(&word) => "the shop file",
        _ => {
            let near = near(word, NODES);
            reader.faults.add(codes::unknown_node::fault(
                node.name.span,
                word,
                "a book",
                &near,
            ));
            return;
        }
    };
    reader.faults.add(codes::unknown_node::elsewhere(
        node.name.span,
        word,
        "a book",
        belongs,
    ));
}

fn read_variant(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a variant");
    let Some(id) = fields.id(reader) else {
        return;
    };
    let label = fields.text(reader, "label");
    let mut values: Vec<String> = Vec::new();
    for value in fields.rest() {
        if values.contains(&value.text) {
            reader
                .faults
                .add(codes::unknown_variant_value::too_few(value.span, &id));
        } else {
            values.push(value.text.clone());
        }
    }
    if values.len() < 2 {
        reader
            .faults
            .add(codes::unknown_variant_value::too_few(node.span, &id));
    }
    book.variants.push(Variant {
        id: VariantId::new(id),
        label,
        values,
        span: node.span,
    });
    fields.finish(reader);
}

fn read_zone(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a zone");
    let Some(id) = fields.id(reader) else {
        return;
    };
    book.zones.push(Zone {
        id: ZoneId::new(id),
        label: fields.label(reader),
        span: node.span,
    });
    fields.finish(reader);
}
