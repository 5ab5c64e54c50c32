//! What seals a joint.

use crate::fact::Fact;
use crate::id::HoleName;
use crate::money::Price;
use crate::span::Span;

/// A gasket, ring or other seal of a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Seal {
    /// What it is, in plain words.
    pub what: String,
    /// How many are needed.
    pub count: u32,
    /// A new one every time.
    pub new: Fact<bool>,
    /// The holes it belongs to; none: the whole joint.
    pub holes: Option<Vec<HoleName>>,
    /// The side or hand it must show: `TOP towards the head`.
    pub side: Option<String>,
    /// What one costs.
    pub price: Fact<Price>,
    /// Thickness as fitted, for head gaskets.
    pub thickness: Fact<quantity::Length>,
    /// Where the node stands.
    pub span: Span,
}
