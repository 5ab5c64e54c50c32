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

impl Span {
    /// The stretch from one byte up to another.
    #[must_use]
    pub const fn new(start: usize, end: usize) -> Self {
        Self { start, end }
    }

    /// From the start of this to the end of the other.
    #[must_use]
    pub const fn to(self, other: Self) -> Self {
        Self::new(self.start, other.end)
    }
}

impl<I> Mention<I> {
    /// A mention of an id.
    #[must_use]
    pub const fn new(id: I, span: Span) -> Self {
        Self { id, span }
    }
}
