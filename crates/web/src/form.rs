//! The fields of a form or of an address, by name.

use std::collections::BTreeMap;

/// Reads `name=value&name=value`. A name that comes twice keeps its last value.
#[must_use]
pub fn fields(text: &[u8]) -> BTreeMap<String, String> {
    form_urlencoded::parse(text)
        .map(|(name, value)| (name.into_owned(), value.into_owned()))
        .collect()
}

/// A path of these pages to go back to; anything else leads home.
#[must_use]
pub fn back(fields: &BTreeMap<String, String>) -> &str {
    // `//host` and `/\host` are other places to a browser.
    fields
        .get("back")
        .map(String::as_str)
        .filter(|path| path.starts_with('/'))
        .filter(|path| !path.starts_with("//") && !path.contains(['\\', '\r', '\n']))
        .unwrap_or("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_back_stays_in_the_house() {
        let asked = |text: &str| back(&fields(text.as_bytes())).to_owned();
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
