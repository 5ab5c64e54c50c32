//! The names of a text, collected before anything is read, so that every mention can be
//! resolved where it stands and everything unknown is known to be unknown.

use std::collections::{BTreeMap, BTreeSet};

use crate::codes;
use crate::fault::Faults;
use crate::gate::GATES;
use crate::line::LineKind;
use crate::near::near;
use crate::span::Span;
use crate::tree::{Node, Tree, Value};
use crate::zone::ZONES;

/// What an id names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Noun {
    Part,
    Joint,
    Line,
    Circuit,
    Shaft,
    Limit,
    Check,
    Temporary,
    Rule,
    Gate,
}

impl Noun {
    /// The noun whose node begins with this word.
    pub(crate) fn of_word(word: &str) -> Option<Self> {
        if LineKind::ALL.iter().any(|kind| kind.word() == word) {
            return Some(Self::Line);
        }
        Some(match word {
            "part" => Self::Part,
            "joint" => Self::Joint,
            "circuit" => Self::Circuit,
            "shaft" => Self::Shaft,
            "limit" => Self::Limit,
            "check" => Self::Check,
            "temporary" => Self::Temporary,
            "rule" => Self::Rule,
            "gate" => Self::Gate,
            _ => return None,
        })
    }

    pub(crate) const fn with_article(self) -> &'static str {
        match self {
            Self::Part => "a part",
            Self::Joint => "a joint",
            Self::Line => "a hose or lead",
            Self::Circuit => "a circuit",
            Self::Shaft => "a shaft",
            Self::Limit => "a limit",
            Self::Check => "a check",
            Self::Temporary => "a temporary item",
            Self::Rule => "a rule",
            Self::Gate => "a gate",
        }
    }

    pub(crate) fn word(self) -> &'static str {
        self.with_article().trim_start_matches("a ")
    }
}

/// One node with an id.
#[derive(Clone, Debug)]
struct Named {
    noun: Noun,
    span: Span,
    /// The words of its `when=`, those of the part it stands in included.
    when: Vec<(String, String)>,
}

/// All names of a text.
#[derive(Debug, Default)]
pub(crate) struct Names {
    ids: BTreeMap<String, Vec<Named>>,
    was: BTreeMap<String, (String, Noun, Span)>,
    ports: BTreeMap<String, BTreeMap<String, Span>>,
    variants: BTreeMap<String, Vec<String>>,
    zones: BTreeSet<String>,
    unread: Vec<String>,
}

/// A name that was found: the id it stands for now, the noun and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Found {
    pub(crate) id: String,
    pub(crate) noun: Noun,
    pub(crate) span: Span,
}

impl Names {
    /// Collects the names of a tree; ids that clash become faults.
    pub(crate) fn collect(tree: &Tree, faults: &mut Faults) -> Self {
        let mut names = Self {
            zones: ZONES.iter().map(|zone| (*zone).to_owned()).collect(),
            unread: tree.unread.clone(),
            ..Self::default()
        };
        for node in &tree.nodes {
            names.add_node(node, &[], faults);
        }
        names.check_was(faults);
        names
    }

    fn add_node(&mut self, node: &Node, outer: &[(String, String)], faults: &mut Faults) {
        let Some(id) = node.args.first().filter(|id| !id.spoilt) else {
            return;
        };
        match node.name.text.as_str() {
            "variant" => {
                let values = node.args.iter().skip(1).map(|value| value.text.clone());
                self.variants.insert(id.text.clone(), values.collect());
            }
            "zone" => {
                self.zones.insert(id.text.clone());
            }
            word => {
                if let Some(noun) = Noun::of_word(word) {
                    self.add_named(node, noun, id, outer, faults);
                }
            }
        }
    }

    fn add_named(
        &mut self,
        node: &Node,
        noun: Noun,
        id: &Value,
        outer: &[(String, String)],
        faults: &mut Faults,
    ) {
        let mut when = outer.to_vec();
        when.extend(written_when(node));
        let others = self.ids.entry(id.text.clone()).or_default();
        let clash = others.iter().find(|other| {
            other.noun != noun || (noun != Noun::Gate && !exclude(&other.when, &when))
        });
        if let Some(other) = clash {
            faults.add(codes::duplicate_id::fault(
                id.span,
                &id.text,
                other.span,
                other.noun.with_article(),
            ));
        }
        others.push(Named {
            noun,
            span: node.span,
            when: when.clone(),
        });
        for old in written(node, "was") {
            for word in old.text.split_whitespace() {
                if let Some((other, _, span)) = self.was.get(word)
                    && *other != id.text
                {
                    faults.add(codes::was_clash::fault(old.span, word, *span));
                }
                self.was
                    .insert(word.to_owned(), (id.text.clone(), noun, old.span));
            }
        }
        if noun == Noun::Part {
            let ports = self.ports.entry(id.text.clone()).or_default();
            for port in node
                .children
                .iter()
                .filter(|child| child.name.text == "port")
            {
                if let Some(name) = port.args.first() {
                    ports.entry(name.text.clone()).or_insert(port.span);
                }
            }
            for joint in node
                .children
                .iter()
                .filter(|child| child.name.text == "joint")
            {
                self.add_node(joint, &when, faults);
            }
        }
    }

    fn check_was(&self, faults: &mut Faults) {
        for (old, (_, _, span)) in &self.was {
            if let Some(other) = self.ids.get(old).and_then(|named| named.first()) {
                faults.add(codes::was_clash::fault(*span, old, other.span));
            }
        }
    }

    /// What a name stands for: an id, or an old id.
    pub(crate) fn find(&self, name: &str) -> Option<Found> {
        if let Some(named) = self.ids.get(name).and_then(|named| named.first()) {
            return Some(Found {
                id: name.to_owned(),
                noun: named.noun,
                span: named.span,
            });
        }
        if let Some((id, noun, span)) = self.was.get(name) {
            return Some(Found {
                id: id.clone(),
                noun: *noun,
                span: *span,
            });
        }
        GATES.contains(&name).then(|| Found {
            id: name.to_owned(),
            noun: Noun::Gate,
            span: Span::default(),
        })
    }

    /// Whether a part has a port of this name.
    pub(crate) fn has_port(&self, part: &str, port: &str) -> bool {
        self.ports
            .get(part)
            .is_some_and(|ports| ports.contains_key(port))
    }

    /// Ports of a part that look like this name.
    pub(crate) fn near_ports(&self, part: &str, port: &str) -> Vec<String> {
        let ports = self.ports.get(part).into_iter().flat_map(BTreeMap::keys);
        let mut found = near(port, ports.map(String::as_str));
        for name in &mut found {
            *name = format!("{part}.{name}");
        }
        found
    }

    /// Ids of one of the nouns that look like this name.
    pub(crate) fn near_ids(&self, name: &str, nouns: &[Noun]) -> Vec<String> {
        let ids = self
            .ids
            .iter()
            .filter(|(_, named)| named.iter().any(|named| nouns.contains(&named.noun)));
        let gates = GATES
            .iter()
            .copied()
            .filter(|_| nouns.contains(&Noun::Gate));
        near(name, ids.map(|(id, _)| id.as_str()).chain(gates))
    }

    pub(crate) fn has_zone(&self, zone: &str) -> bool {
        self.zones.contains(zone)
    }

    pub(crate) fn near_zones(&self, zone: &str) -> Vec<String> {
        near(zone, self.zones.iter().map(String::as_str))
    }

    pub(crate) fn variant(&self, variant: &str) -> Option<&[String]> {
        self.variants.get(variant).map(Vec::as_slice)
    }

    pub(crate) fn near_variants(&self, variant: &str) -> Vec<String> {
        near(variant, self.variants.keys().map(String::as_str))
    }

    /// Whether the name may stand in a node that could not be read: then it is not called unknown.
    pub(crate) fn may_be_unread(&self, name: &str) -> bool {
        self.unread.iter().any(|text| text.contains(name))
    }
}

/// The values of a fact, as `name=value` or as a node of its own.
fn written<'n>(node: &'n Node, name: &'static str) -> impl Iterator<Item = &'n Value> {
    let facts = node
        .facts
        .iter()
        .filter(move |(key, _)| key.text == name)
        .map(|(_, value)| value);
    let children = node
        .children
        .iter()
        .filter(move |child| child.name.text == name)
        .flat_map(|child| child.args.iter());
    facts.chain(children)
}

fn written_when(node: &Node) -> Vec<(String, String)> {
    written(node, "when")
        .flat_map(|value| value.text.split_whitespace())
        .filter_map(|pair| pair.split_once('='))
        .map(|(variant, value)| (variant.to_owned(), value.to_owned()))
        .collect()
}

/// Whether two conditions can never hold together.
fn exclude(a: &[(String, String)], b: &[(String, String)]) -> bool {
    a.iter().any(|(variant, value)| {
        b.iter()
            .any(|(other, other_value)| variant == other && value != other_value)
    })
}
