//! Cutting a line into clauses and words, each with its place.

use super::fault::LineFault;

/// One word with the byte it begins at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Word<'a> {
    pub text: &'a str,
    pub start: usize,
}

impl Word<'_> {
    pub fn end(&self) -> usize {
        self.start + self.text.len()
    }

    /// Whether it is one of some words, whatever its case.
    pub fn is(&self, any: &[&str]) -> bool {
        any.iter().any(|one| self.text.eq_ignore_ascii_case(one))
    }
}

/// The words between two commas.
pub(super) type Clause<'a> = Vec<Word<'a>>;

/// A line in clauses: those before the first colon, and those after it.
#[derive(Debug)]
pub(super) struct Words<'a> {
    pub line: &'a str,
    pub head: Vec<Clause<'a>>,
    pub tail: Vec<Clause<'a>>,
    /// The byte just after the first colon.
    pub colon: Option<usize>,
}

impl<'a> Words<'a> {
    /// Cuts a line. A colon or comma counts only before a space or the end, so that `12:30`,
    /// `shop.kdl:12` and `2,5` stay whole; `;` is taken as a comma.
    pub fn of(line: &'a str) -> Result<Self, LineFault> {
        let mut words = Self {
            line,
            head: vec![Vec::new()],
            tail: Vec::new(),
            colon: None,
        };
        let mut start = None;
        for (at, letter) in line.char_indices() {
            let after = line[at + letter.len_utf8()..].chars().next();
            let cuts = after.is_none_or(char::is_whitespace);
            let comma = letter == ';' || letter == ',' && (cuts || !between_digits(line, at));
            let colon = letter == ':' && cuts;
            if letter.is_whitespace() || comma || colon {
                words.word(&mut start, at);
                if comma {
                    words.clauses().push(Vec::new());
                }
                if colon && words.colon.is_none() {
                    words.colon = Some(at + 1);
                    words.tail.push(Vec::new());
                }
            } else if letter == ',' {
                let fault =
                    LineFault::at(line, at, "a dot for a decimal, or a space after the comma");
                return Err(fault.because("a comma between two digits can be read both ways"));
            } else if start.is_none() {
                start = Some(at);
            }
        }
        words.word(&mut start, line.len());
        words.head.retain(|clause| !clause.is_empty());
        words.tail.retain(|clause| !clause.is_empty());
        Ok(words)
    }

    fn clauses(&mut self) -> &mut Vec<Clause<'a>> {
        if self.colon.is_some() {
            &mut self.tail
        } else {
            &mut self.head
        }
    }

    fn word(&mut self, start: &mut Option<usize>, end: usize) {
        let Some(from) = start.take() else { return };
        let text = &self.line[from..end];
        if let Some(clause) = self.clauses().last_mut() {
            clause.push(Word { text, start: from });
        }
    }

    /// The text from a byte to the end, without blanks around it.
    pub fn rest(&self, from: usize) -> &'a str {
        self.line.get(from..).unwrap_or_default().trim()
    }

    /// The text of some words as it was typed, with what stands between them.
    pub fn text(&self, words: &[Word<'a>]) -> &'a str {
        match (words.first(), words.last()) {
            (Some(first), Some(last)) => &self.line[first.start..last.end()],
            (None, _) | (_, None) => "",
        }
    }
}

fn between_digits(line: &str, comma: usize) -> bool {
    let digit = |letter: Option<char>| letter.is_some_and(|one| one.is_ascii_digit());
    digit(line[..comma].chars().next_back()) && digit(line[comma + 1..].chars().next())
}

/// A walk over the words of one clause.
#[derive(Clone, Debug)]
pub(super) struct Walk<'a, 'w> {
    words: &'w [Word<'a>],
    at: usize,
    /// Where a fault is put when the clause ends too early.
    end: usize,
}

impl<'a, 'w> Walk<'a, 'w> {
    pub fn over(words: &'w [Word<'a>], end_if_empty: usize) -> Self {
        Self {
            words,
            at: 0,
            end: words.last().map_or(end_if_empty, Word::end),
        }
    }

    pub fn peek(&self) -> Option<Word<'a>> {
        self.words.get(self.at).copied()
    }

    pub fn next(&mut self) -> Option<Word<'a>> {
        let word = self.peek();
        self.at += usize::from(word.is_some());
        word
    }

    /// Takes the next word if it is one of some.
    pub fn take(&mut self, any: &[&str]) -> Option<Word<'a>> {
        let word = self.peek().filter(|word| word.is(any))?;
        self.at += 1;
        Some(word)
    }

    /// Takes words until one of some comes, or the end.
    pub fn until(&mut self, any: &[&str]) -> &'w [Word<'a>] {
        let from = self.at;
        while self.peek().is_some_and(|word| !word.is(any)) {
            self.at += 1;
        }
        &self.words[from..self.at]
    }

    /// Takes all that is left.
    pub fn rest(&mut self) -> &'w [Word<'a>] {
        self.until(&[])
    }

    /// The words that are left, not taken.
    pub fn left(&self) -> &'w [Word<'a>] {
        &self.words[self.at..]
    }

    pub fn skip(&mut self, words: usize) {
        self.at = (self.at + words).min(self.words.len());
    }

    pub fn is_done(&self) -> bool {
        self.at >= self.words.len()
    }

    /// The byte of the next word, or of the end.
    pub fn place(&self) -> usize {
        self.peek().map_or(self.end, |word| word.start)
    }
}
