//! What differs between vehicles of one book: the job chooses one value for each variant.

use std::collections::BTreeMap;

use crate::id::VariantId;
use crate::span::Span;

/// A choice the job makes once, such as `throttle` with `cable` and `electronic`.
#[derive(Clone, Debug, PartialEq)]
pub struct Variant {
    /// Its name.
    pub id: VariantId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// The values to choose from, at least two.
    pub values: Vec<String>,
    /// Where it stands.
    pub span: Span,
}

/// When a node exists: all the variants named have the value named.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct When {
    /// Variant and value, all of which must hold. Empty: the node always exists.
    pub all: Vec<(VariantId, String)>,
    /// Where it stands.
    pub span: Span,
}

impl When {
    /// Whether this and the other condition can never hold together.
    #[must_use]
    pub fn excludes(&self, other: &Self) -> bool {
        self.all.iter().any(|(variant, value)| {
            other
                .all
                .iter()
                .any(|(name, wanted)| name == variant && wanted != value)
        })
    }

    /// Whether the node exists for these choices. A variant nobody chose yet excludes nothing.
    #[must_use]
    pub fn holds(&self, chosen: &BTreeMap<VariantId, String>) -> bool {
        self.all
            .iter()
            .all(|(variant, value)| chosen.get(variant).is_none_or(|choice| choice == value))
    }
}
