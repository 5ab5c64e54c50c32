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

    /// What stands under a name, also when nothing was filled in; none if there is no such field.
    #[must_use]
    pub fn given(&self, name: &str) -> Option<&str> {
        self.0.get(name).map(|said| said.trim())
    }

    /// Fields that came one by one, as a form with a picture sends them.
    #[must_use]
    pub fn of(pairs: Vec<(String, String)>) -> Self {
        Self(pairs.into_iter().collect())
    }

    /// The field `line` with the other fields in its places. `{name}` is what was filled in
    /// under that name, `{name|-}` stands for `-` where nothing was, and `{name? at }` puts
    /// ` at ` before what was filled in. Braces that name no field of the form stay.
    #[must_use]
    pub fn line(&self) -> String {
        let mut rest = self.get("line").unwrap_or_default();
        let mut line = String::new();
        while let Some((before, behind)) = rest.split_once('{') {
            line.push_str(before);
            let place = behind.split_once('}');
            match place.and_then(|(place, after)| Some((self.filled(place)?, after))) {
                Some((filled, after)) => {
                    line.push_str(&filled);
                    rest = after;
                }
                None => {
                    line.push('{');
                    rest = behind;
                }
            }
        }
        line.push_str(rest);
        line.trim().to_owned()
    }

    /// What stands in one place of a line; nothing if the form has no such field.
    fn filled(&self, place: &str) -> Option<String> {
        let (name, empty, before) = match (place.split_once('|'), place.split_once('?')) {
            (Some((name, empty)), _) => (name, empty, ""),
            (None, Some((name, before))) => (name, "", before),
            (None, None) => (place, "", ""),
        };
        let said = self.0.get(name)?.trim();
        Some(if said.is_empty() {
            empty.to_owned()
        } else {
            format!("{before}{said}")
        })
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
    fn a_form_shaped_like_the_thing_becomes_one_line() {
        let line = |text: &str| Fields::read(text.as_bytes()).line();
        let form = "line=read+cranking+dry:+{c1|-}+{c2|-}+psi{gauge?,+gauge+}";
        assert_eq!(
            line(&format!("{form}&c1=175&c2=&gauge=old+one")),
            "read cranking dry: 175 - psi, gauge old one"
        );
        assert_eq!(
            line(&format!("{form}&c1=&c2=180&gauge=")),
            "read cranking dry: - 180 psi"
        );
        // Braces a person typed are words.
        assert_eq!(line("line=note+a+{b}+c{"), "note a {b} c{");
        assert_eq!(line("line=note+{words}&words={line}"), "note {line}");
    }

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
