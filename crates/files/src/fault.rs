//! What is wrong with a cell, where it stands and what to write instead.

use quantity::ReadFault;
use report::{Finding, Place, Weight};

/// One fault in a table.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file}:{line}:{column}: {reason}; {hint}")]
pub struct CellFault {
    /// The file as the person named it.
    pub file: String,
    /// 1-based line.
    pub line: usize,
    /// 1-based column in characters.
    pub column: usize,
    /// The whole line as it stands, for the excerpt.
    pub excerpt: String,
    /// How many characters are at fault.
    pub width: usize,
    /// What is wrong.
    pub reason: String,
    /// What to write instead.
    pub hint: String,
}

impl CellFault {
    /// The same fault, one cell's text having been read by a quantity reader: the place is
    /// moved from the cell to the characters at fault.
    pub(crate) fn narrowed(mut self, fault: &ReadFault) -> Self {
        let chars = |part: Option<&str>| part.map_or(0, |part| part.chars().count());
        self.column += chars(fault.text.get(..fault.at.start));
        self.width = chars(fault.text.get(fault.at.clone())).max(1);
        self.reason.clone_from(&fault.reason);
        self.hint.clone_from(&fault.hint);
        self
    }
}

impl From<&CellFault> for Finding {
    fn from(fault: &CellFault) -> Self {
        let caret = format!(
            "{}{}",
            " ".repeat(fault.column.saturating_sub(1)),
            "^".repeat(fault.width.max(1))
        );
        let place = Place {
            file: fault.file.clone(),
            line: fault.line,
            column: fault.column,
        };
        Finding::new(
            "table-cell",
            format!("{}:{}:{}", fault.file, fault.line, fault.column),
            fault.reason.clone(),
        )
        .at(place)
        .detail(fault.excerpt.replace('\t', " "))
        .detail(caret)
        .next(fault.hint.clone())
        .weight(Weight::Stop)
    }
}
