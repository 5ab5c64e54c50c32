//! Faults as people read them: place and message, excerpt with carets, hints.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use crate::fault::Fault;
use crate::lines::{Lines, character_end, character_start};
use crate::span::Span;

/// Shows one fault.
///
/// ```text
/// post-van.kdl:12:17: error[book/torque-as-energy]: torque is given in a unit of energy
/// 12 |         tighten "24 J"
///    |                 ^^^^^^
/// hint: torque and energy share a dimension but are kept apart; write `24 N·m`
/// ```
///
/// # Example
/// ```
/// let text = "part air-duct zome=above\n";
/// let (_, faults) = book::read(text);
/// let shown = book::show_fault(&faults[0], "van.kdl", text);
/// assert!(shown.starts_with("van.kdl:1:15: error[book/unknown-property]: "));
/// ```
#[must_use]
pub fn show_fault(fault: &Fault, file: &str, text: &str) -> String {
    let place = Lines::new(text).place(fault.span.start);
    let mut shown = format!(
        "{file}:{}:{}: {}[{}]: {}\n",
        place.line,
        place.column,
        fault.severity.word(),
        fault.code.full_name(),
        fault.message
    );
    shown.push_str(&excerpt(fault, text));
    for hint in &fault.hints {
        shown.push_str("hint: ");
        shown.push_str(hint);
        shown.push('\n');
    }
    shown
}

/// Shows all faults of one file, with an empty line between them.
#[must_use]
pub fn show_faults(faults: &[Fault], file: &str, text: &str) -> String {
    let shown: Vec<String> = faults
        .iter()
        .map(|fault| show_fault(fault, file, text))
        .collect();
    shown.join("\n")
}

/// The lines the fault is about, with line numbers and carets.
fn excerpt(fault: &Fault, text: &str) -> String {
    if text.trim().is_empty() {
        return String::new();
    }
    let primary = AnnotationKind::Primary.span(bytes(fault.span, text));
    let mut snippet = Snippet::source(text).fold(true).annotation(primary);
    for (span, says) in &fault.also {
        let context = AnnotationKind::Context.span(bytes(*span, text));
        snippet = snippet.annotation(context.label(says.as_str()));
    }
    let group = [Group::with_level(Level::ERROR).element(snippet)];
    let rendered = Renderer::plain().render(&group);
    let mut shown = String::new();
    // The first line of a rendered snippet is an empty gutter, which says nothing here.
    let lines = rendered.lines().skip_while(|line| line.trim() == "|");
    for line in lines {
        shown.push_str(line.trim_end());
        shown.push('\n');
    }
    shown
}

/// The bytes of a span, inside the text and on character borders, at least one character wide.
fn bytes(span: Span, text: &str) -> std::ops::Range<usize> {
    let start = character_start(text, span.start);
    let end = character_end(text, span.end).max(start);
    if start < end {
        return start..end;
    }
    let width = text[start..].chars().next().map_or(0, char::len_utf8);
    start..start + width
}

#[cfg(test)]
mod tests {
    use super::show_faults;

    /// A line with `µ` and a tab before the fault: the column counts characters, the carets
    /// stand under the word.
    #[test]
    fn carets_stand_under_the_words() {
        let text = "part block fixed=#true\npart cover {\n\tjoint µ-bolts to=block {\n\t\thole A note=\"5 µm\"; tighten \"24 J\"\n\t}\n}\n";
        let (_, faults) = crate::read(text);
        let shown = show_faults(&faults, "post-van.kdl", text);
        insta::assert_snapshot!(shown, @r#"
        post-van.kdl:4:31: error[book/torque-as-energy]: torque is given in a unit of energy
        4 |         hole A note="5 µm"; tighten "24 J"
          |                                     ^^^^^^
        hint: torque and energy share a dimension but are kept apart; write `24 N·m`
        "#);
    }
}
