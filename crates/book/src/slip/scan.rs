//! One pass over the text: strings, comments, braces and bare words.

use std::collections::BTreeSet;
use std::ops::Range;

use super::{Cut, Piece, Slip, token};
use crate::fault::Faults;
use crate::span::Span;

/// Blocks nested deeper than this are not read: a book needs four.
const DEEPEST: usize = 24;

/// What a bare word or string is to the node it stands in.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Place {
    /// The next word names a node.
    Name,
    /// The next word is an argument or the name of a fact.
    Entry,
    /// The next word is the value of a fact.
    Value,
}

pub(super) struct Scan<'t> {
    text: &'t str,
    /// Words that begin a new top-level node at the start of a line even inside a block.
    cut_at: &'t [&'t str],
    at: usize,
    place: Place,
    /// Where the open blocks begin, outermost first.
    blocks: Vec<usize>,
    piece_start: usize,
    too_deep: bool,
    /// A number that was the last thing on this node: a unit behind it belongs to it.
    last_number: Option<Span>,
    slips: Vec<Slip>,
    paint: Vec<Range<usize>>,
    pieces: Vec<Piece>,
    unclosed: usize,
}

impl<'t> Scan<'t> {
    pub(super) fn new(text: &'t str, cut_at: &'t [&'t str]) -> Self {
        Self {
            text,
            cut_at,
            at: 0,
            place: Place::Name,
            blocks: Vec::new(),
            piece_start: 0,
            too_deep: false,
            last_number: None,
            slips: Vec::new(),
            paint: Vec::new(),
            pieces: Vec::new(),
            unclosed: 0,
        }
    }

    /// How many blocks were left open.
    pub(super) fn open_blocks(&self) -> usize {
        self.unclosed
    }

    pub(super) fn run(mut self) -> Self {
        while let Some(c) = self.rest().chars().next() {
            self.step(c);
        }
        self.unclosed += self.blocks.len();
        self.leave_open_blocks(None);
        self.end_piece();
        self
    }

    pub(super) fn finish(self, faults: &mut Faults) -> Cut {
        for slip in &self.slips {
            slip.report(self.text, faults);
        }
        let mut painted = self.text.as_bytes().to_vec();
        for range in &self.paint {
            painted[range.clone()].fill(b'q');
        }
        for slip in &self.slips {
            if let Slip::StrayBrace(span) = slip {
                painted[span.start..span.end].fill(b' ');
            }
        }
        Cut {
            // Paint covers whole characters with letters, so the text stays text.
            painted: String::from_utf8_lossy(&painted).into_owned(),
            spoilt: self
                .paint
                .iter()
                .map(|range| range.start)
                .collect::<BTreeSet<_>>(),
            pieces: self.pieces,
        }
    }

    fn rest(&self) -> &'t str {
        &self.text[self.at..]
    }

    fn step(&mut self, c: char) {
        let rest = self.rest();
        match c {
            '\n' => {
                self.at += 1;
                self.end_node();
                self.cut_at_line_start();
            }
            ';' => {
                self.at += 1;
                self.end_node();
            }
            '\\' => self.continue_line(),
            '/' if rest.starts_with("//") => self.at += line_length(rest),
            '/' if rest.starts_with("/*") => self.block_comment(),
            '/' if rest.starts_with("/-") => self.at += 2,
            '"' => self.string(),
            '#' if is_raw_string(rest) => self.raw_string(),
            '{' => self.open_block(),
            '}' => self.close_block(),
            '=' => {
                self.at += 1;
                self.place = Place::Value;
            }
            '(' | ')' => self.at += 1,
            _ if c.is_whitespace() || c == '\u{feff}' => self.at += c.len_utf8(),
            _ => self.bare_word(),
        }
    }

    fn end_node(&mut self) {
        self.place = Place::Name;
        self.last_number = None;
        if self.blocks.is_empty() {
            self.end_piece();
        }
    }

    fn end_piece(&mut self) {
        let bytes = self.piece_start..self.at;
        self.piece_start = self.at;
        let too_deep = std::mem::take(&mut self.too_deep);
        if !self.text[bytes.clone()].trim().is_empty() {
            self.pieces.push(Piece {
                bytes,
                unclosed: 0,
                too_deep,
            });
        }
    }

    /// Inside a block that is never closed, begins the next node where a line starts with a word
    /// that only stands at the top.
    fn cut_at_line_start(&mut self) {
        if self.blocks.is_empty() {
            return;
        }
        let word = &self.rest()[..word_length(self.rest())];
        if self.cut_at.contains(&word) {
            let next = Span::new(self.at, self.at + word.len());
            self.unclosed += self.blocks.len();
            self.leave_open_blocks(Some(next));
        }
    }

    fn leave_open_blocks(&mut self, next: Option<Span>) {
        let open = std::mem::take(&mut self.blocks);
        let Some(first) = open.first() else {
            return;
        };
        self.slips
            .push(Slip::OpenBrace(Span::new(*first, *first + 1), next));
        self.end_piece();
        if let Some(piece) = self.pieces.last_mut() {
            piece.unclosed = open.len();
        }
    }

    fn continue_line(&mut self) {
        let rest = &self.rest()[1..];
        let blank = rest.len() - rest.trim_start_matches([' ', '\t', '\r']).len();
        let behind = &rest[blank..];
        let comment = if behind.starts_with("//") {
            line_length(behind)
        } else {
            0
        };
        let newline = usize::from(behind[comment..].starts_with('\n'));
        self.at += 1 + blank + comment + newline;
    }

    fn block_comment(&mut self) {
        let start = self.at;
        let mut depth = 0_usize;
        loop {
            let rest = self.rest();
            if rest.starts_with("/*") {
                depth += 1;
                self.at += 2;
            } else if rest.starts_with("*/") {
                depth -= 1;
                self.at += 2;
                if depth == 0 {
                    return;
                }
            } else if let Some(c) = rest.chars().next() {
                self.at += c.len_utf8();
            } else {
                self.slips
                    .push(Slip::OpenComment(Span::new(start, start + 2)));
                return;
            }
        }
    }

    fn string(&mut self) {
        let start = self.at;
        if self.rest().starts_with("\"\"\"") {
            return self.long_string(start, 3, "\"\"\"", true);
        }
        let line = &self.rest()[..line_length(self.rest())];
        let mut escaped = false;
        let close = line.char_indices().skip(1).find(|(_, c)| {
            let closes = *c == '"' && !escaped;
            escaped = *c == '\\' && !escaped;
            closes
        });
        match close {
            Some((close, _)) if ends_value(&self.rest()[close + 1..]) => {
                self.at += close + 1;
                self.end_value();
            }
            _ => self.lost_quote(start),
        }
    }

    /// A string over several lines or a raw one: ends at `closing`.
    fn long_string(&mut self, start: usize, opening: usize, closing: &str, escapes: bool) {
        let body = &self.text[start + opening..];
        let close = body.match_indices(closing).map(|(at, _)| at).find(|at| {
            let slashes = body[..*at]
                .bytes()
                .rev()
                .take_while(|b| *b == b'\\')
                .count();
            !escapes || slashes % 2 == 0
        });
        match close {
            Some(close) => {
                self.at = start + opening + close + closing.len();
                self.end_value();
            }
            None => self.lost_quote(start),
        }
    }

    fn raw_string(&mut self) {
        let start = self.at;
        let hashes = self.rest().bytes().take_while(|byte| *byte == b'#').count();
        let quotes = if self.rest()[hashes..].starts_with("\"\"\"") {
            3
        } else {
            1
        };
        let closing = format!("{}{}", "\"".repeat(quotes), "#".repeat(hashes));
        self.long_string(start, hashes + quotes, &closing, false);
    }

    /// Paints from a quote to the end of the line, but leaves a block that opens or closes there.
    fn lost_quote(&mut self, start: usize) {
        let line = &self.text[start..start + line_length(&self.text[start..])];
        let mut end = line.trim_end();
        while let Some(shorter) = end.strip_suffix(['{', '}', ';']) {
            end = shorter.trim_end();
        }
        let end = start + end.len().max(1);
        self.slips.push(Slip::LostQuote(Span::new(start, end)));
        self.paint.push(start..end);
        self.at = end;
        self.end_value();
    }

    fn open_block(&mut self) {
        self.blocks.push(self.at);
        if self.blocks.len() > DEEPEST && !self.too_deep {
            self.too_deep = true;
            self.slips
                .push(Slip::TooDeep(Span::new(self.at, self.at + 1)));
        }
        self.at += 1;
        self.place = Place::Name;
        self.last_number = None;
    }

    fn close_block(&mut self) {
        if self.blocks.pop().is_none() {
            self.slips
                .push(Slip::StrayBrace(Span::new(self.at, self.at + 1)));
        }
        self.at += 1;
        self.place = Place::Entry;
        self.last_number = None;
    }

    fn end_value(&mut self) {
        self.place = Place::Entry;
        self.last_number = None;
    }

    fn bare_word(&mut self) {
        let start = self.at;
        let word = &self.rest()[..word_length(self.rest()).max(1)];
        self.at += word.len();
        let span = Span::new(start, self.at);
        let behind = self.rest();
        let is_key = behind.trim_start_matches([' ', '\t']).starts_with('=');
        if self.place == Place::Name || (self.place == Place::Entry && is_key) {
            self.end_value();
            return;
        }
        if behind.starts_with('"') {
            // The closing quote of a string whose opening one is missing.
            let from = self.last_number.map_or(start, |number| number.start);
            self.paint.retain(|range| range.start < from);
            self.slips
                .push(Slip::LostQuote(Span::new(from, self.at + 1)));
            self.paint.push(from..self.at + 1);
            self.at += 1;
            return self.end_value();
        }
        let slip = match self.last_number {
            Some(number) if self.place == Place::Entry && token::is_unit(word) => {
                Some(Slip::Unquoted(number.to(span)))
            }
            _ if matches!(word, "true" | "false" | "null" | "inf" | "-inf" | "nan") => {
                Some(Slip::BareWord(span))
            }
            _ if token::begins_like_a_number(word) && !token::is_number(word) => {
                Some(Slip::Unquoted(span))
            }
            _ if word.contains(['/', '[', ']', '#']) && !is_keyword(word) => {
                Some(Slip::Unquoted(span))
            }
            _ => None,
        };
        self.end_value();
        match slip {
            Some(slip) => {
                if let Slip::Unquoted(span) | Slip::BareWord(span) = &slip {
                    self.paint.push(span.start..span.end);
                }
                self.slips.push(slip);
            }
            None if token::is_number(word) => self.last_number = Some(span),
            None => {}
        }
    }
}

fn is_keyword(word: &str) -> bool {
    matches!(
        word,
        "#true" | "#false" | "#null" | "#inf" | "#-inf" | "#nan"
    )
}

fn is_raw_string(rest: &str) -> bool {
    rest.trim_start_matches('#').starts_with('"')
}

/// Whether what follows a closing quote may follow a value.
fn ends_value(rest: &str) -> bool {
    rest.chars()
        .next()
        .is_none_or(|c| c.is_whitespace() || matches!(c, ';' | '{' | '}' | ')' | '=' | '\\' | '/'))
}

fn line_length(rest: &str) -> usize {
    rest.find('\n').unwrap_or(rest.len())
}

fn word_length(rest: &str) -> usize {
    rest.find(|c: char| {
        c.is_whitespace() || matches!(c, ';' | '{' | '}' | '"' | '=' | '(' | ')' | '\\')
    })
    .unwrap_or(rest.len())
}
