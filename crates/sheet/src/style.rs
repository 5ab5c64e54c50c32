//! The style sheet that pages and files of their own share: colours, type, drawings, tables.
//!
//! Paper, ink and one pot of paint; at night the same with light and dark exchanged. Where
//! the typeface comes from is said by whoever writes the page.

/// Colours, type and everything [`crate::hypertext`] writes. Needs no script.
pub const BASE: &str = include_str!("../style/base.css");

/// What a file that stands alone adds: the column of reading, margins, photographs.
pub const WHOLE: &str = include_str!("../style/whole.css");

#[cfg(test)]
mod tests {
    use crate::drawing::COLOURS;

    #[test]
    fn every_colour_of_a_drawing_is_exchanged_at_night() {
        for colour in COLOURS {
            for side in ["fill", "stroke"] {
                let rule = format!("[{side}=\"{colour}\"]");
                assert!(super::BASE.contains(&rule), "no rule for {rule}");
            }
        }
    }
}
