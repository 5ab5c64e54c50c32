//! Where something stands in the text: bytes only. Lines and columns are born in [`crate::lines`].

/// A stretch of the text a thing was read from, in bytes.
///
/// Spans take no part in equality: two books are equal when they say the same, wherever it stands.
/// A book that was never read from a text has empty spans at 0.
#[derive(Clone, Copy, Debug, Default, Eq)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// The byte after the last.
    pub end: usize,
}

impl PartialEq for Span {
    fn eq(&self, _other: &Self) -> bool {
        true
    }
}

/// A thing mentioned by id, with the place where it is mentioned.
#[derive(Clone, Debug, PartialEq)]
pub struct Mention<I> {
    /// The id that was written.
    pub id: I,
    /// Where it was written.
    pub span: Span,
}
