//! The facts of one node, each asked for by name; what nobody asked for is a fault.

use crate::codes;
use crate::fact::Fact;
use crate::near::near;
use crate::read::Reader;
use crate::span::Span;
use crate::tree::{Node, Value, ValueKind, Word};
use crate::word::Choice;
use quantity::Said;

/// Walks over one node. Every fact may be written `name=value` or, inside the braces, `name value`.
pub(crate) struct Fields<'n> {
    node: &'n Node,
    /// The noun, as a sentence reads it: "a part".
    noun: &'static str,
    next_argument: usize,
    facts_seen: Vec<bool>,
    children_seen: Vec<bool>,
    asked: Vec<&'static str>,
}

impl<'n> Fields<'n> {
    pub(crate) fn new(node: &'n Node, noun: &'static str) -> Self {
        Self {
            node,
            noun,
            next_argument: 0,
            facts_seen: vec![false; node.facts.len()],
            children_seen: vec![false; node.children.len()],
            asked: Vec::new(),
        }
    }

    /// The id: the first argument. A node without one cannot be used.
    pub(crate) fn id(&mut self, reader: &mut Reader) -> Option<String> {
        let Some(value) = self.argument() else {
            let example = format!("{} some-name", self.node.name.text);
            reader.faults.add(codes::missing_fact::fault(
                self.node.name.span,
                self.noun,
                "an id",
                &example,
            ));
            return None;
        };
        if value.spoilt {
            return None;
        }
        if value.kind != ValueKind::Text || !is_id(&value.text) {
            reader
                .faults
                .add(codes::bad_id::fault(value.span, &value.text));
            return None;
        }
        Some(value.text.clone())
    }

    /// The quoted words behind the id.
    pub(crate) fn label(&mut self, reader: &mut Reader) -> Option<String> {
        let value = self.argument()?;
        if value.spoilt {
            return None;
        }
        if value.kind != ValueKind::Text {
            reader.faults.add(codes::stray_argument::fault(
                value.span,
                &value.text,
                self.noun,
            ));
            return None;
        }
        Some(value.text.clone())
    }

    /// The next argument.
    pub(crate) fn argument(&mut self) -> Option<&'n Value> {
        let value = self.node.args.get(self.next_argument)?;
        self.next_argument += 1;
        Some(value)
    }

    /// All arguments not yet taken, those with a reported slip left out.
    pub(crate) fn rest(&mut self) -> Vec<&'n Value> {
        let rest = self.node.args.get(self.next_argument..).unwrap_or_default();
        self.next_argument = self.node.args.len();
        rest.iter().filter(|value| !value.spoilt).collect()
    }

    /// All arguments as they were typed, for messages.
    pub(crate) fn arguments_text(&self) -> String {
        let words: Vec<&str> = self
            .node
            .args
            .iter()
            .map(|value| value.text.as_str())
            .collect();
        words.join(" ")
    }

    /// The nodes of this name inside the braces.
    pub(crate) fn children(&mut self, name: &'static str) -> Vec<&'n Node> {
        self.asked.push(name);
        let node = self.node;
        let mut found = Vec::new();
        for (child, seen) in node.children.iter().zip(&mut self.children_seen) {
            if child.name.text == name {
                *seen = true;
                found.push(child);
            }
        }
        found
    }

    /// The one value of a fact, wherever it stands.
    pub(crate) fn value(&mut self, reader: &mut Reader, name: &'static str) -> Option<&'n Value> {
        let node = self.node;
        let mut found: Vec<(Span, &'n Value)> = Vec::new();
        for ((key, value), seen) in node.facts.iter().zip(&mut self.facts_seen) {
            if key.text == name {
                *seen = true;
                found.push((key.span, value));
            }
        }
        for child in self.children(name) {
            match child.args.as_slice() {
                [value, more @ ..] => {
                    found.push((child.name.span, value));
                    refuse_more(reader, child, more);
                }
                [] => reader.faults.add(codes::missing_fact::fault(
                    child.name.span,
                    "this fact",
                    "a value",
                    &format!("{name} \"?\""),
                )),
            }
        }
        let mut found = found.into_iter();
        let (first, value) = found.next()?;
        for (again, _) in found {
            reader
                .faults
                .add(codes::said_twice::fault(again, name, first));
        }
        Some(value)
    }

    /// A fact: never asked, unknown, not applying, or what `read` makes of the value.
    pub(crate) fn fact<T>(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
        read: impl FnOnce(&mut Reader, &Value) -> Option<Said<T>>,
    ) -> Fact<T> {
        match self.value(reader, name) {
            Some(value) => fact_of(reader, value, read),
            None => Fact::NeverAsked,
        }
    }

    /// A fact in plain words; numbers stand for their digits (`grade=8.8`).
    pub(crate) fn words_fact(&mut self, reader: &mut Reader, name: &'static str) -> Fact<String> {
        self.fact(reader, name, |reader, value| {
            plain_words(reader, value, name).map(|text| said(text, value))
        })
    }

    /// Plain words that are simply there or not.
    pub(crate) fn text(&mut self, reader: &mut Reader, name: &'static str) -> Option<String> {
        let value = self.value(reader, name).filter(|value| !value.spoilt)?;
        plain_words(reader, value, name)
    }

    /// A yes or no that may be unknown.
    pub(crate) fn flag(&mut self, reader: &mut Reader, name: &'static str) -> Fact<bool> {
        self.fact(reader, name, |reader, value| match value.kind {
            ValueKind::Yes => Some(said(true, value)),
            ValueKind::No => Some(said(false, value)),
            ValueKind::Text | ValueKind::Number | ValueKind::Null => {
                reader
                    .faults
                    .add(codes::unknown_word::yes_no(value.span, &value.text, name));
                None
            }
        })
    }

    /// A yes or no; anything but `#true` is no.
    pub(crate) fn yes(&mut self, reader: &mut Reader, name: &'static str) -> bool {
        self.flag(reader, name).known().copied().unwrap_or(false)
    }

    /// A word of a fixed list.
    pub(crate) fn choice<T: Choice>(&mut self, reader: &mut Reader, name: &'static str) -> Fact<T> {
        self.fact(reader, name, |reader, value| {
            choice_of(reader, value, name).map(|choice| said(choice, value))
        })
    }

    /// A whole number from `low` to `high`.
    pub(crate) fn count(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
        low: u32,
        high: u32,
    ) -> Fact<u32> {
        self.fact(reader, name, |reader, value| {
            count_of(reader, value, name, low, high).map(|count| said(count, value))
        })
    }

    /// The words of a list: `name="a b"`, or one or more nodes `name a b`.
    pub(crate) fn list(&mut self, reader: &mut Reader, name: &'static str) -> Vec<Word> {
        self.values(reader, name)
            .into_iter()
            .flat_map(words_of)
            .collect()
    }

    /// Whole values of a list, not taken apart at spaces.
    pub(crate) fn values(&mut self, reader: &mut Reader, name: &'static str) -> Vec<&'n Value> {
        let node = self.node;
        let mut found = Vec::new();
        let mut first: Option<Span> = None;
        for ((key, value), seen) in node.facts.iter().zip(&mut self.facts_seen) {
            if key.text == name {
                *seen = true;
                found.push(value);
                if let Some(first) = first {
                    reader
                        .faults
                        .add(codes::said_twice::fault(key.span, name, first));
                }
                first = Some(key.span);
            }
        }
        for child in self.children(name) {
            refuse_more(reader, child, &[]);
            found.extend(&child.args);
        }
        found.retain(|value| !value.spoilt);
        found
    }

    /// Everything nobody asked for is a fault.
    pub(crate) fn finish(self, reader: &mut Reader) {
        for value in self.node.args.iter().skip(self.next_argument) {
            if !value.spoilt {
                reader.faults.add(codes::stray_argument::fault(
                    value.span,
                    &value.text,
                    self.noun,
                ));
            }
        }
        for ((key, _), seen) in self.node.facts.iter().zip(&self.facts_seen) {
            if !seen {
                let near = near(&key.text, self.asked.iter().copied());
                reader.faults.add(codes::unknown_property::fault(
                    key.span, &key.text, self.noun, &near,
                ));
            }
        }
        for (child, seen) in self.node.children.iter().zip(&self.children_seen) {
            if !seen {
                let near = near(&child.name.text, self.asked.iter().copied());
                reader.faults.add(codes::unknown_node::fault(
                    child.name.span,
                    &child.name.text,
                    self.noun,
                    &near,
                ));
            }
        }
    }
}

/// A value with the text it was read from.
pub(crate) fn said<T>(value: T, from: &Value) -> Said<T> {
    Said {
        value,
        typed: from.text.clone(),
        notes: Vec::new(),
    }
}

/// What `read` makes of a value, `"?"` and `none` understood.
pub(crate) fn fact_of<T>(
    reader: &mut Reader,
    value: &Value,
    read: impl FnOnce(&mut Reader, &Value) -> Option<Said<T>>,
) -> Fact<T> {
    if value.spoilt {
        return Fact::NeverAsked;
    }
    match (value.kind, value.text.trim()) {
        (ValueKind::Text, "?") => Fact::Unknown,
        (ValueKind::Text, "none") => Fact::DoesNotApply,
        _ => read(reader, value).map_or(Fact::NeverAsked, Fact::Known),
    }
}

pub(crate) fn choice_of<T: Choice>(reader: &mut Reader, value: &Value, name: &str) -> Option<T> {
    let word = value.text.as_str();
    let choice = T::CHOICES
        .iter()
        .copied()
        .find(|choice| choice.spelt() == word);
    if choice.is_none() {
        let words: Vec<&str> = T::CHOICES.iter().map(|choice| choice.spelt()).collect();
        let near = near(word, words.iter().copied());
        reader.faults.add(codes::unknown_word::fault(
            value.span,
            word,
            name,
            &words.join(", "),
            &near,
        ));
    }
    choice
}

pub(crate) fn count_of(
    reader: &mut Reader,
    value: &Value,
    name: &str,
    low: u32,
    high: u32,
) -> Option<u32> {
    let count = value
        .text
        .parse::<u32>()
        .ok()
        .filter(|count| (low..=high).contains(count));
    if count.is_none() {
        reader.faults.add(codes::bad_count::fault(
            value.span,
            &value.text,
            name,
            low,
            high,
        ));
    }
    count
}

fn plain_words(reader: &mut Reader, value: &Value, name: &str) -> Option<String> {
    match value.kind {
        ValueKind::Text | ValueKind::Number => Some(value.text.clone()),
        ValueKind::Yes | ValueKind::No | ValueKind::Null => {
            reader
                .faults
                .add(codes::unknown_word::not_text(value.span, &value.text, name));
            None
        }
    }
}

/// A fact written as a node has one value and nothing else.
fn refuse_more(reader: &mut Reader, child: &Node, more: &[Value]) {
    for value in more.iter().filter(|value| !value.spoilt) {
        reader.faults.add(codes::stray_argument::fault(
            value.span,
            &value.text,
            "this fact",
        ));
    }
    for (key, _) in &child.facts {
        reader.faults.add(codes::unknown_property::fault(
            key.span,
            &key.text,
            "this fact",
            &[],
        ));
    }
    if let Some(inner) = child.children.first() {
        reader
            .faults
            .add(codes::stray_argument::block(inner.span, "this fact"));
    }
}

/// The words of one value, each with its own place where the text is written plainly.
pub(crate) fn words_of(value: &Value) -> Vec<Word> {
    let length = value.span.end - value.span.start;
    let quote = match length.checked_sub(value.text.len()) {
        Some(0) => Some(0),
        Some(2) => Some(1),
        _ => None,
    };
    let mut words = Vec::new();
    let mut from = 0;
    for text in value.text.split_whitespace() {
        let at = value.text[from..]
            .find(text)
            .map_or(from, |found| from + found);
        from = at + text.len();
        let span = match quote {
            Some(quote) => {
                let start = value.span.start + quote + at;
                Span::new(start, start + text.len())
            }
            None => value.span,
        };
        words.push(Word {
            text: text.to_owned(),
            span,
        });
    }
    words
}

fn is_id(text: &str) -> bool {
    let mut letters = text.chars();
    letters.next().is_some_and(char::is_alphabetic)
        && letters.all(|c| c.is_alphanumeric() || matches!(c, '-' | '_'))
}
