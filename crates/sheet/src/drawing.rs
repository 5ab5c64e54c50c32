//! Pictures as SVG, in drawing-office habits: ink on paper, paint only for what matters now.
//!
//! Every element that stands for a thing has an id and a title, so that a style sheet, a
//! screen reader and a test can find it.

mod bars;
mod bay;
mod board;
mod contour;
mod days;
mod holes;
mod marks;
mod net;
mod room;
#[cfg(test)]
mod tests;

use maud::{Markup, PreEscaped, html};
use report::Picture;

pub use marks::marks;
pub(crate) use marks::over;

/// Sheet white.
const SHEET: &str = "#fbf9f2";
/// Ink, for lines and words.
const INK: &str = "#18212b";
/// Soft ink, for second words and centre lines.
const SOFT: &str = "#566270";
/// Rules and hatching.
const RULE: &str = "#c8c1b0";
/// The one paint.
const PAINT: &str = "#b8390b";

/// All of them; the style sheet of a page exchanges each for its colour by night.
#[cfg(test)]
pub(crate) const COLOURS: [&str; 5] = [SHEET, INK, SOFT, RULE, PAINT];

/// Draws a picture as one SVG document.
#[must_use]
pub fn svg(picture: &Picture) -> String {
    match picture {
        Picture::Holes(holes) => holes::draw(holes),
        Picture::Bars(bars) => bars::draw(bars),
        Picture::Contour(contour) => contour::draw(contour),
        Picture::Days(days) => days::draw(days),
        Picture::Net(net) => net::draw(net),
        Picture::Board(board) => board::draw(board),
        Picture::Bay(bay) => bay::draw(bay),
    }
    .into_string()
}

/// Draws a picture for a screen that may be no wider than a hand.
#[must_use]
pub fn upright(picture: &Picture) -> String {
    match picture {
        Picture::Board(board) => board::draw_upright(board).into_string(),
        Picture::Holes(_)
        | Picture::Bars(_)
        | Picture::Contour(_)
        | Picture::Days(_)
        | Picture::Net(_)
        | Picture::Bay(_) => svg(picture),
    }
}

/// Draws a picture for paper, whose own white is the sheet.
#[must_use]
pub fn printed(picture: &Picture) -> String {
    svg(picture).replace(SHEET, "#ffffff")
}

/// A sheet of a size with a title at the top left.
fn sheet(title: &str, width: f64, height: f64, body: &Markup) -> Markup {
    let view = format!("0 0 {} {}", n(width), n(height));
    html! {
        svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox=(view) width=(n(width)) height=(n(height))
            font-family="B612, 'DejaVu Sans', sans-serif" font-size="15" {
            title { (title) }
            rect width="100%" height="100%" fill=(SHEET) {}
            (words(16.0, 28.0, title, &Ink { size: 18.0, bold: true, ..Ink::default() }))
            (body)
        }
        (PreEscaped("\n"))
    }
}

/// How words are written.
struct Ink {
    size: f64,
    bold: bool,
    colour: &'static str,
    anchor: &'static str,
}

impl Default for Ink {
    fn default() -> Self {
        Self {
            size: 15.0,
            bold: false,
            colour: INK,
            anchor: "start",
        }
    }
}

fn words(x: f64, y: f64, text: &str, ink: &Ink) -> Markup {
    html! {
        text x=(n(x)) y=(n(y)) font-size=(n(ink.size)) fill=(ink.colour) text-anchor=(ink.anchor)
            font-weight=[ink.bold.then_some("bold")] { (text) }
    }
}

fn line(
    from: (f64, f64),
    to: (f64, f64),
    colour: &str,
    width: f64,
    dashes: Option<&str>,
) -> Markup {
    html! {
        line x1=(n(from.0)) y1=(n(from.1)) x2=(n(to.0)) y2=(n(to.1)) stroke=(colour) stroke-width=(n(width))
            stroke-dasharray=[dashes] stroke-linecap="round" {}
    }
}

/// The sign of the house: two short strokes over a seam.
fn match_mark(x: f64, y: f64) -> Markup {
    html! {
        g stroke=(PAINT) stroke-width="5" stroke-linecap="round" {
            (line((x - 9.0, y - 9.0), (x + 3.0, y + 9.0), PAINT, 5.0, None))
            (line((x + 1.0, y - 9.0), (x + 13.0, y + 9.0), PAINT, 5.0, None))
        }
    }
}

/// A coordinate with at most two decimals, so that files stay small and repeatable.
fn n(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// Roughly how wide words are, for placing them: 0.56 of the size a letter.
fn width_of(text: &str, size: f64) -> f64 {
    let letters = u32::try_from(text.chars().count()).unwrap_or(u32::MAX);
    f64::from(letters) * size * 0.56
}

/// A number as a count that may be drawn with.
fn count(of: usize) -> f64 {
    u32::try_from(of).map_or(f64::from(u32::MAX), f64::from)
}

/// An id that is safe in SVG: letters, digits and hyphens.
fn id(text: &str) -> String {
    text.chars()
        .map(|letter| {
            if letter.is_ascii_alphanumeric() {
                letter
            } else {
                '-'
            }
        })
        .collect()
}
