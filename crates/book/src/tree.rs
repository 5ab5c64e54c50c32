//! The text as plain nodes with places, before anything is understood.
//!
//! The KDL reader does the language; what it returns is copied into these few fields so that
//! the rest of the crate depends on places in the whole text and on nothing else.

use kdl::{KdlDocument, KdlEntry, KdlIdentifier, KdlNode, KdlValue};

use crate::codes;
use crate::fault::Faults;
use crate::lines::{character_end, character_start};
use crate::slip::{self, Cut, Piece};
use crate::span::Span;

/// A text read into nodes.
#[derive(Debug, Default)]
pub(crate) struct Tree {
    /// The top-level nodes that could be read.
    pub(crate) nodes: Vec<Node>,
    /// Text of the nodes that could not: names in them are not missing, only unread.
    pub(crate) unread: Vec<String>,
}

/// One node.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) name: Word,
    pub(crate) args: Vec<Value>,
    pub(crate) facts: Vec<(Word, Value)>,
    pub(crate) children: Vec<Node>,
    /// From the name to the first argument: what a fault about the node points at.
    pub(crate) span: Span,
}

/// A word with its place.
#[derive(Clone, Debug)]
pub(crate) struct Word {
    pub(crate) text: String,
    pub(crate) span: Span,
}

/// A value as written.
#[derive(Clone, Debug)]
pub(crate) struct Value {
    pub(crate) kind: ValueKind,
    /// The content of a string; the digits of a number as typed.
    pub(crate) text: String,
    pub(crate) span: Span,
    /// A slip stood here and is already reported: whatever is read from it is not to be judged.
    pub(crate) spoilt: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ValueKind {
    Text,
    Number,
    Yes,
    No,
    Null,
}

/// Reads a text into nodes; every slip and every node that cannot be read becomes a fault.
pub(crate) fn read(text: &str, faults: &mut Faults) -> Tree {
    let cut = slip::cut(text, faults);
    let mut tree = Tree::default();
    for piece in &cut.pieces {
        match parse(&cut, piece, faults) {
            Some(document) => {
                let copy = Copy {
                    cut: &cut,
                    start: piece.bytes.start,
                };
                for node in document.nodes() {
                    tree.nodes.push(copy.node(node, faults));
                }
            }
            None => tree.unread.push(text[piece.bytes.clone()].to_owned()),
        }
    }
    tree
}

fn parse(cut: &Cut, piece: &Piece, faults: &mut Faults) -> Option<KdlDocument> {
    if piece.too_deep {
        return None;
    }
    let mut text = cut.painted.get(piece.bytes.clone())?.to_owned();
    text.push_str(&"\n}".repeat(piece.unclosed));
    let fault = match KdlDocument::parse_v2(&text) {
        Ok(document) => return Some(document),
        Err(fault) => fault,
    };
    // One slip makes the reader say several things; the first is the one to look at.
    let first = fault.diagnostics.first();
    let (offset, length) = first.map_or((0, 1), |diagnostic| {
        (diagnostic.span.offset(), diagnostic.span.len())
    });
    let start = piece.bytes.start + offset.min(piece.bytes.len());
    let end = (start + length.max(1)).min(piece.bytes.end.max(start));
    let says = first.and_then(|diagnostic| diagnostic.message.clone());
    faults.add(codes::text_not_kdl::fault(
        first_line(&cut.painted, Span::new(start, end)),
        says.as_deref(),
    ));
    None
}

/// Keeps a span to its first line: a caret over half a file says nothing.
fn first_line(text: &str, span: Span) -> Span {
    let start = character_start(text, span.start);
    let end = character_end(text, span.end);
    let lead = text[start..end].len() - text[start..end].trim_start().len();
    let start = start + lead;
    let line = text[start..end].find('\n').unwrap_or(end - start);
    Span::new(start, start + line)
}

struct Copy<'c> {
    cut: &'c Cut,
    start: usize,
}

impl Copy<'_> {
    fn span(&self, offset: usize, length: usize) -> Span {
        let start = self.start + offset;
        Span::new(start, start + length)
    }

    fn word(&self, word: &KdlIdentifier) -> Word {
        Word {
            text: word.value().to_owned(),
            span: self.span(word.span().offset(), word.span().len()),
        }
    }

    /// The book has no use for the language's type annotations.
    fn refuse_annotation(&self, ty: Option<&KdlIdentifier>, faults: &mut Faults) {
        if let Some(ty) = ty {
            faults.add(codes::stray_argument::annotation(self.word(ty).span));
        }
    }

    fn node(&self, node: &KdlNode, faults: &mut Faults) -> Node {
        let name = self.word(node.name());
        self.refuse_annotation(node.ty(), faults);
        let mut args = Vec::new();
        let mut facts = Vec::new();
        for entry in node.entries() {
            self.refuse_annotation(entry.ty(), faults);
            let value = self.value(entry);
            match entry.name() {
                None => args.push(value),
                Some(key) => facts.push((self.word(key), value)),
            }
        }
        let children = node
            .iter_children()
            .map(|child| self.node(child, faults))
            .collect();
        let span = args.first().map_or(name.span, |arg| name.span.to(arg.span));
        Node {
            name,
            args,
            facts,
            children,
            span,
        }
    }

    fn value(&self, entry: &KdlEntry) -> Value {
        let whole = self.span(entry.span().offset(), entry.span().len());
        let written = entry
            .format()
            .map_or("", |format| format.value_repr.as_str());
        let span = Span::new(
            whole.end.saturating_sub(written.len()).max(whole.start),
            whole.end,
        );
        let (kind, text) = match entry.value() {
            KdlValue::String(text) => (ValueKind::Text, text.clone()),
            KdlValue::Integer(number) => (ValueKind::Number, typed(written, number)),
            KdlValue::Float(number) => (ValueKind::Number, typed(written, number)),
            KdlValue::Bool(true) => (ValueKind::Yes, "#true".to_owned()),
            KdlValue::Bool(false) => (ValueKind::No, "#false".to_owned()),
            KdlValue::Null => (ValueKind::Null, "#null".to_owned()),
        };
        Value {
            kind,
            text,
            span,
            spoilt: self.cut.spoilt.contains(&span.start),
        }
    }
}

fn typed(written: &str, number: &impl ToString) -> String {
    if written.is_empty() {
        number.to_string()
    } else {
        written.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::read;
    use crate::fault::Faults;

    #[test]
    fn places_are_those_of_the_whole_text() {
        let text = "// µ\npart a x=\"5 µm\"\npart b { n 9.80 }\n";
        let mut faults = Faults::default();
        let tree = read(text, &mut faults);
        assert!(faults.in_order().is_empty());
        let (_, value) = &tree.nodes[0].facts[0];
        assert_eq!(&text[value.span.start..value.span.end], "\"5 µm\"");
        let number = &tree.nodes[1].children[0].args[0];
        assert_eq!(number.text, "9.80");
        assert_eq!(&text[number.span.start..number.span.end], "9.80");
    }

    #[test]
    fn a_node_that_cannot_be_read_hides_no_other() {
        let text = "part a\npart b ==\npart c\npart d )\npart e\n";
        let mut faults = Faults::default();
        let tree = read(text, &mut faults);
        let names: Vec<&str> = tree
            .nodes
            .iter()
            .map(|node| node.args[0].text.as_str())
            .collect();
        assert_eq!(names, ["a", "c", "e"]);
        assert_eq!(faults.in_order().len(), 2);
        assert_eq!(tree.unread.len(), 2);
    }
}
