//! One heading: its name, and its unit in brackets.

use quantity::Unit;

/// The heading of a column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// The name as written, without the unit.
    pub name: String,
    /// What stands in the brackets, as written.
    pub unit_text: Option<String>,
    /// 1-based column of the heading in characters.
    pub at: usize,
}

impl Column {
    /// Splits `clearance [mm]` into name and unit.
    pub(crate) fn read(text: &str, at: usize) -> Self {
        let text = text.trim();
        match text.split_once('[') {
            Some((name, rest)) => Self {
                name: name.trim().to_owned(),
                unit_text: Some(rest.split(']').next().unwrap_or_default().trim().to_owned()),
                at,
            },
            None => Self {
                name: text.to_owned(),
                unit_text: None,
                at,
            },
        }
    }

    /// Whether the heading is this name, whatever its case, spaces and hyphens.
    #[must_use]
    pub fn is(&self, name: &str) -> bool {
        let plain = |text: &str| -> String {
            text.chars()
                .filter(|sign| !matches!(sign, ' ' | '-' | '_'))
                .flat_map(char::to_lowercase)
                .collect()
        };
        plain(&self.name) == plain(name)
    }

    /// The unit, found for a kind.
    pub(crate) fn unit(
        &self,
        kind: quantity::Kind,
    ) -> Option<Result<&'static Unit, quantity::ReadFault>> {
        self.unit_text
            .as_deref()
            .map(|text| quantity::unit::find(kind, text))
    }
}
