//! Mentions: names of other nodes, resolved where they stand.

use crate::codes;
use crate::id::{
    CheckId, CircuitId, GateId, HoleName, HoleRef, JointId, LimitId, LineId, PartId, PortName,
    PortRef, Ref, ShaftId, TemporaryId, VariantId, ZoneId,
};
use crate::names::{Found, Noun};
use crate::read::Reader;
use crate::read::fields::Fields;
use crate::span::{Mention, Span};
use crate::tree::Word;
use crate::variant::When;

/// Ids that can be told from names alone.
pub(crate) trait Mentioned: Sized {
    const NOUN: Noun;
    fn from_name(name: String) -> Self;
}

macro_rules! mentioned {
    ($($id:ident $noun:ident,)*) => { $(
        impl Mentioned for $id {
            const NOUN: Noun = Noun::$noun;
            fn from_name(name: String) -> Self {
                Self::new(name)
            }
        }
    )* };
}

mentioned! {
    PartId Part,
    JointId Joint,
    LineId Line,
    CircuitId Circuit,
    ShaftId Shaft,
    LimitId Limit,
    CheckId Check,
    TemporaryId Temporary,
}

/// Nouns that can be the subject of a limit or check, or stand in `before`.
const SUBJECTS: [Noun; 9] = [
    Noun::Part,
    Noun::Joint,
    Noun::Line,
    Noun::Circuit,
    Noun::Shaft,
    Noun::Limit,
    Noun::Check,
    Noun::Temporary,
    Noun::Gate,
];

impl Reader {
    /// A mention of one noun; an unknown name is a fault and no mention.
    pub(crate) fn mention<I: Mentioned>(&mut self, word: &Word) -> Option<Mention<I>> {
        let found = self.find(word, &[I::NOUN])?;
        Some(Mention::new(I::from_name(found.id), word.span))
    }

    pub(crate) fn mentions<I: Mentioned>(&mut self, words: &[Word]) -> Vec<Mention<I>> {
        words.iter().filter_map(|word| self.mention(word)).collect()
    }

    /// A mention of anything with an id, `part.port` and `joint.hole` included.
    pub(crate) fn reference(&mut self, word: &Word, nouns: &[Noun]) -> Option<Mention<Ref>> {
        if let Some((owner, inner)) = word.text.split_once('.') {
            return self.inner_reference(word, owner, inner);
        }
        let Found { id, noun, .. } = self.find(word, nouns)?;
        let reference = match noun {
            Noun::Part => Ref::Part(PartId::new(id)),
            Noun::Joint => Ref::Joint(JointId::new(id)),
            Noun::Line => Ref::Line(LineId::new(id)),
            Noun::Circuit => Ref::Circuit(CircuitId::new(id)),
            Noun::Shaft => Ref::Shaft(ShaftId::new(id)),
            Noun::Limit => Ref::Limit(LimitId::new(id)),
            Noun::Check => Ref::Check(CheckId::new(id)),
            Noun::Temporary => Ref::Temporary(TemporaryId::new(id)),
            Noun::Gate => Ref::Gate(GateId::new(id)),
            Noun::Rule => return None,
        };
        Some(Mention::new(reference, word.span))
    }

    /// A mention of anything a limit or check may be about.
    pub(crate) fn subject(&mut self, word: &Word) -> Option<Mention<Ref>> {
        self.reference(word, &SUBJECTS)
    }

    fn inner_reference(&mut self, word: &Word, owner: &str, inner: &str) -> Option<Mention<Ref>> {
        if self
            .names
            .find(owner)
            .is_some_and(|found| found.noun == Noun::Joint)
        {
            let hole = HoleRef {
                joint: JointId::new(owner),
                hole: HoleName::new(inner),
            };
            return Some(Mention::new(Ref::Hole(hole), word.span));
        }
        let port = self.port(word)?;
        Some(Mention::new(Ref::Port(port.id), word.span))
    }

    /// A mention of a port, `part.port`.
    pub(crate) fn port(&mut self, word: &Word) -> Option<Mention<PortRef>> {
        let Some((part, port)) = word.text.split_once('.') else {
            self.faults
                .add(codes::unknown_port::no_port(word.span, &word.text));
            return None;
        };
        let part_word = Word {
            text: part.to_owned(),
            span: Span::new(
                word.span.start,
                word.span
                    .end
                    .saturating_sub(port.len() + 1)
                    .max(word.span.start),
            ),
        };
        let part: Mention<PartId> = self.mention(&part_word)?;
        if !self.names.has_port(part.id.as_str(), port) {
            if !self.names.may_be_unread(part.id.as_str()) {
                let near = self.names.near_ports(part.id.as_str(), port);
                self.faults.add(codes::unknown_port::fault(
                    word.span,
                    port,
                    part.id.as_str(),
                    &near,
                ));
            }
            return None;
        }
        let port = PortRef {
            part: part.id,
            port: PortName::new(port),
        };
        Some(Mention::new(port, word.span))
    }

    /// A mention of a zone.
    pub(crate) fn zone(&mut self, word: &Word) -> Option<Mention<ZoneId>> {
        if !self.names.has_zone(&word.text) {
            if !self.names.may_be_unread(&word.text) {
                let near = self.names.near_zones(&word.text);
                self.faults
                    .add(codes::unknown_zone::fault(word.span, &word.text, &near));
            }
            return None;
        }
        Some(Mention::new(ZoneId::new(word.text.as_str()), word.span))
    }

    fn find(&mut self, word: &Word, nouns: &[Noun]) -> Option<Found> {
        match self.names.find(&word.text) {
            Some(found) if nouns.contains(&found.noun) => Some(found),
            Some(found) => {
                let wanted = nouns.first().map_or("a name", |noun| noun.with_article());
                self.faults.add(codes::wrong_noun::fault(
                    word.span,
                    &word.text,
                    found.noun.with_article(),
                    wanted,
                    found.span,
                ));
                None
            }
            None => {
                if !self.names.may_be_unread(&word.text) {
                    self.add_unknown(word, nouns);
                }
                None
            }
        }
    }

    fn add_unknown(&mut self, word: &Word, nouns: &[Noun]) {
        let near = self.names.near_ids(&word.text, nouns);
        self.faults.add(match nouns {
            [Noun::Part] => codes::unknown_part::fault(word.span, &word.text, &near),
            [Noun::Joint] => codes::unknown_joint::fault(word.span, &word.text, &near),
            [noun] => codes::unknown_name::fault(word.span, &word.text, noun.word(), &near),
            _ => codes::unknown_name::fault(word.span, &word.text, "node", &near),
        });
    }
}

impl Fields<'_> {
    /// At most one mention of one noun.
    pub(crate) fn mention<I: Mentioned>(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
    ) -> Option<Mention<I>> {
        let word = self.one_word(reader, name)?;
        reader.mention(&word)
    }

    /// At most one word, for mentions.
    pub(crate) fn one_word(&mut self, reader: &mut Reader, name: &'static str) -> Option<Word> {
        let value = self.value(reader, name).filter(|value| !value.spoilt)?;
        Some(Word {
            text: value.text.clone(),
            span: value.span,
        })
    }

    /// Mentions of one noun, as a list.
    pub(crate) fn mentions<I: Mentioned>(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
    ) -> Vec<Mention<I>> {
        let words = self.list(reader, name);
        reader.mentions(&words)
    }

    /// Mentions of any of several nouns, as a list.
    pub(crate) fn references(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
        nouns: &[Noun],
    ) -> Vec<Mention<Ref>> {
        let words = self.list(reader, name);
        words
            .iter()
            .filter_map(|word| reader.reference(word, nouns))
            .collect()
    }

    /// The zone.
    pub(crate) fn zone(&mut self, reader: &mut Reader) -> Option<Mention<ZoneId>> {
        let word = self.one_word(reader, "zone")?;
        if word.text == "?" {
            return None;
        }
        reader.zone(&word)
    }

    /// Old ids.
    pub(crate) fn was(&mut self, reader: &mut Reader) -> Vec<String> {
        self.list(reader, "was")
            .into_iter()
            .map(|word| word.text)
            .collect()
    }

    /// The condition under which the node exists.
    pub(crate) fn when(&mut self, reader: &mut Reader) -> When {
        let mut when = When::default();
        for word in self.list(reader, "when") {
            when.span = word.span;
            let Some((variant, value)) = word.text.split_once('=') else {
                reader.faults.add(codes::unknown_variant_value::unreadable(
                    word.span, &word.text,
                ));
                continue;
            };
            match reader.names.variant(variant) {
                None if reader.names.may_be_unread(variant) => {}
                None => {
                    let near = reader.names.near_variants(variant);
                    reader.faults.add(codes::unknown_variant_value::variant(
                        word.span, variant, &near,
                    ));
                }
                Some(values) if !values.iter().any(|known| known == value) => {
                    let fault =
                        codes::unknown_variant_value::value(word.span, variant, value, values);
                    reader.faults.add(fault);
                }
                Some(_) => when.all.push((VariantId::new(variant), value.to_owned())),
            }
        }
        when
    }
}
