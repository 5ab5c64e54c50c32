//! Words a book may choose from: one list per noun drives the reader, the writer and the hints.

/// A value written as one word of a fixed list.
pub(crate) trait Choice: Copy + 'static {
    /// All values, in the order of the manual.
    const CHOICES: &'static [Self];

    /// The word in the book.
    fn spelt(self) -> &'static str;
}

/// Gives an enum its list of words.
macro_rules! words {
    ($name:ident { $($value:ident $word:literal,)* }) => {
        impl $name {
            /// All values, in the order of the manual.
            pub const ALL: &'static [Self] = &[$(Self::$value,)*];

            /// The word in the book.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$value => $word,)*
                }
            }
        }

        impl crate::word::Choice for $name {
            const CHOICES: &'static [Self] = Self::ALL;

            fn spelt(self) -> &'static str {
                self.word()
            }
        }
    };
}

pub(crate) use words;
