//! Line and column: born here, at the edge, from byte spans.

/// Finds line and column of a byte in one text.
#[derive(Clone, Debug)]
pub struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
}

/// A place as people say it: both from 1, the column in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LineColumn {
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1. A tab is one character.
    pub column: usize,
}

impl<'t> Lines<'t> {
    /// Indexes a text.
    #[must_use]
    pub fn new(text: &'t str) -> Self {
        let after_newlines = text.match_indices('\n').map(|(at, _)| at + 1);
        Self {
            text,
            starts: std::iter::once(0).chain(after_newlines).collect(),
        }
    }

    /// Line and column of a byte. A byte inside a character counts as that character, one
    /// behind the end as the end.
    #[must_use]
    pub fn place(&self, byte: usize) -> LineColumn {
        let byte = character_start(self.text, byte);
        let line = self.starts.partition_point(|start| *start <= byte);
        let start = self.starts[line - 1];
        LineColumn {
            line,
            column: self.text[start..byte].chars().count() + 1,
        }
    }
}

/// The start of the character a byte belongs to, or the end of the text.
pub(crate) fn character_start(text: &str, byte: usize) -> usize {
    let mut start = byte.min(text.len());
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    start
}

/// The first character border at a byte or behind it, or the end of the text.
pub(crate) fn character_end(text: &str, byte: usize) -> usize {
    let mut end = byte.min(text.len());
    while !text.is_char_boundary(end) {
        end += 1;
    }
    end
}

#[cfg(test)]
mod tests {
    use super::Lines;

    fn place(text: &str, needle: &str) -> (usize, usize) {
        let place = Lines::new(text).place(text.find(needle).unwrap());
        (place.line, place.column)
    }

    #[test]
    fn columns_are_characters_from_one() {
        let text = "first\n\tµµ x \"5 µm\" y\nlast";
        assert_eq!(place(text, "first"), (1, 1));
        assert_eq!(place(text, "x"), (2, 5));
        assert_eq!(place(text, "y"), (2, 14));
        assert_eq!(place(text, "last"), (3, 1));
    }

    #[test]
    fn a_byte_inside_a_character_or_behind_the_end_has_a_place() {
        let lines = Lines::new("µ\n");
        assert_eq!(lines.place(1), lines.place(0));
        let end = lines.place(99);
        assert_eq!((end.line, end.column), (2, 1));
        assert_eq!(Lines::new("").place(5).line, 1);
    }
}
