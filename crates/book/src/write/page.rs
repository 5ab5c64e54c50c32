//! Lines of KDL: words bare or quoted, blocks indented.

use crate::slip::is_number;

/// The text so far.
#[derive(Debug, Default)]
pub(super) struct Page {
    text: String,
    depth: usize,
    /// The currency of the book: prices in it need not repeat it.
    pub(super) currency: String,
}

/// One node being written.
#[derive(Debug)]
pub(super) struct Entry {
    line: String,
}

impl Entry {
    pub(super) fn new(word: &str) -> Self {
        Self {
            line: word.to_owned(),
        }
    }

    /// An argument, bare where it may be.
    pub(super) fn arg(&mut self, text: &str) -> &mut Self {
        self.line.push(' ');
        self.line.push_str(&spelt(text));
        self
    }

    /// An argument that is always quoted: what readers see.
    pub(super) fn label(&mut self, text: Option<&str>) -> &mut Self {
        if let Some(text) = text {
            self.line.push(' ');
            self.line.push_str(&quoted(text));
        }
        self
    }

    /// `name=value`.
    pub(super) fn say(&mut self, name: &str, value: &str) -> &mut Self {
        self.line.push(' ');
        self.line.push_str(name);
        self.line.push('=');
        self.line.push_str(&spelt(value));
        self
    }

    /// `name="value"`, when there is one.
    pub(super) fn maybe(&mut self, name: &str, value: Option<&str>) -> &mut Self {
        if let Some(value) = value {
            self.line.push(' ');
            self.line.push_str(name);
            self.line.push('=');
            self.line.push_str(&quoted(value));
        }
        self
    }

    /// `name=#true`, when it is so.
    pub(super) fn flag(&mut self, name: &str, yes: bool) -> &mut Self {
        if yes {
            self.yes_no(name, true);
        }
        self
    }

    /// `name=#true` or `name=#false`.
    pub(super) fn yes_no(&mut self, name: &str, yes: bool) -> &mut Self {
        self.line.push(' ');
        self.line.push_str(name);
        self.line.push_str(if yes { "=#true" } else { "=#false" });
        self
    }

    /// Names with spaces between, as one value; nothing when there are none.
    pub(super) fn names<T: ToString>(&mut self, name: &str, names: &[T]) -> &mut Self {
        if !names.is_empty() {
            let names: Vec<String> = names.iter().map(ToString::to_string).collect();
            self.say(name, &names.join(" "));
        }
        self
    }
}

impl Page {
    pub(super) fn new(currency: &str) -> Self {
        Self {
            currency: currency.to_owned(),
            ..Self::default()
        }
    }

    /// A node without a block.
    pub(super) fn put(&mut self, entry: &Entry) {
        self.indent();
        self.text.push_str(&entry.line);
        self.text.push('\n');
    }

    /// A node with a block; without one when the block stays empty.
    pub(super) fn put_block(&mut self, entry: &Entry, inside: impl FnOnce(&mut Self)) {
        self.put(entry);
        let start = self.text.len();
        self.depth += 1;
        inside(self);
        self.depth -= 1;
        if self.text.len() > start {
            self.text.insert_str(start - 1, " {");
            self.indent();
            self.text.push_str("}\n");
        }
    }

    /// A list node, `word a b`; nothing when there are none.
    pub(super) fn list<T: ToString>(&mut self, word: &str, names: &[T]) {
        if !names.is_empty() {
            let mut entry = Entry::new(word);
            for name in names {
                entry.arg(&name.to_string());
            }
            self.put(&entry);
        }
    }

    /// One empty line, never two.
    pub(super) fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    pub(super) fn finish(self) -> String {
        let trimmed = self.text.trim_end();
        if trimmed.is_empty() {
            String::new()
        } else {
            format!("{trimmed}\n")
        }
    }

    fn indent(&mut self) {
        self.text.push_str(&"    ".repeat(self.depth));
    }
}

/// A value bare where the language and the book read the same back, else quoted.
fn spelt(text: &str) -> String {
    let bare = text.starts_with(|c: char| c.is_ascii_alphabetic())
        && text
            .chars()
            .all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.'))
        && !matches!(text, "true" | "false" | "null" | "inf" | "nan");
    if bare || (is_number(text) && !text.contains('_')) {
        text.to_owned()
    } else {
        quoted(text)
    }
}

fn quoted(text: &str) -> String {
    let mut line = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => line.push_str("\\\""),
            '\\' => line.push_str("\\\\"),
            '\n' => line.push_str("\\n"),
            '\r' => line.push_str("\\r"),
            '\t' => line.push_str("\\t"),
            c if must_be_escaped(c) => line.push_str(&format!("\\u{{{:x}}}", u32::from(c))),
            c => line.push(c),
        }
    }
    line.push('"');
    line
}

/// Line ends, signs without a face and signs that turn the direction of writing.
fn must_be_escaped(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{2028}' | '\u{2029}' | '\u{feff}' | '\u{200e}' | '\u{200f}'
        )
        || ('\u{202a}'..='\u{202e}').contains(&c)
        || ('\u{2066}'..='\u{2069}').contains(&c)
}
