//! The fields of a form or of an address, by name.

use std::collections::BTreeMap;

/// `name=value&name=value`, read. A name that comes twice keeps its last value.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fields(BTreeMap<String, String>);

impl Fields {
    /// Reads the body of a form, or what stands behind the question mark of an address.
    #[must_use]
    pub fn read(text: &[u8]) -> Self {
        Self(
            form_urlencoded::parse(text)
                .map(|(name, value)| (name.into_owned(), value.into_owned()))
                .collect(),
        )
    }

    /// What was filled in under a name, without the space round it; nothing counts as not said.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&str> {
        let said = self.0.get(name).map(|said| said.trim());
        said.filter(|said| !said.is_empty())
    }

    /// A path of these pages to go back to; anything else leads home.
    #[must_use]
    pub fn back(&self) -> &str {
        // `//host` and `/\host` are other places to a browser.
        self.get("back")
            .filter(|path| path.starts_with('/'))
            .filter(|path| !path.starts_with("//"))
            .filter(|path| !path.contains('\\') && !path.contains(char::is_control))
            .unwrap_or("/")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_back_stays_in_the_house() {
        let asked = |text: &str| Fields::read(text.as_bytes()).back().to_owned();
        assert_eq!(asked("back=%2Fledger%3Fopen%3D1"), "/ledger?open=1");
        for elsewhere in [
            "",
            "back=",
            "back=//evil.test",
            "back=/%5Cevil.test",
            "back=http://evil.test",
            "back=/a%0d%0aSet-Cookie:x",
        ] {
            assert_eq!(asked(elsewhere), "/", "{elsewhere}");
        }
    }
}
