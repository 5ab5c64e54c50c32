//! Letters no face has: found before they become empty squares, and said on the paper.

use std::collections::BTreeSet;

use crate::desk::FONTS;

/// The families used, in the order they are asked for a letter. The last one has the letters
/// of Europe that the house's own typeface lacks.
pub(crate) const FAMILIES: [&str; 3] = ["B612", "B612 Mono", "DejaVu Sans Mono"];

/// What stands for a letter no face has.
const STAND_IN: char = '\u{2610}';

/// Watches over what is written.
#[derive(Debug, Default)]
pub(crate) struct Letters {
    missing: BTreeSet<char>,
}

impl Letters {
    /// The text with every letter no face has replaced and remembered.
    pub(crate) fn written(&mut self, text: &str) -> String {
        text.chars()
            .map(|letter| {
                if letter.is_whitespace() || letter.is_control() {
                    // A tab or a line break is a space on paper, unless it ends a line.
                    return if letter == '\n' { '\n' } else { ' ' };
                }
                if covered(letter) {
                    letter
                } else {
                    self.missing.insert(letter);
                    STAND_IN
                }
            })
            .collect()
    }

    /// The line that says which letters are missing.
    pub(crate) fn said(&self) -> Option<String> {
        if self.missing.is_empty() {
            return None;
        }
        let names: Vec<String> = self
            .missing
            .iter()
            .map(|letter| format!("U+{:04X}", u32::from(*letter)))
            .collect();
        Some(format!(
            "{STAND_IN} stands for a sign this typeface does not have ({}); the page on the screen shows it.",
            names.join(", ")
        ))
    }
}

/// Whether a plain face has the letter. Every face of a family has the same letters.
fn covered(letter: char) -> bool {
    let families = [FAMILIES[0], FAMILIES[2]];
    FONTS.iter().any(|font| {
        families.contains(&font.info().family.as_str())
            && font.info().coverage.contains(u32::from(letter))
    })
}
