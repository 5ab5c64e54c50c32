//! Places pointed out on a photograph, drawn to lie over it: discs with numbers, arrows, rings.
//!
//! Painted with a white seam, so that they read on dark and light ground and on a grey print.

use job::Sign;
use maud::{Markup, PreEscaped, html};

use super::{INK, PAINT, n};
use crate::paper::{Mark, Photo};

/// The radius of a disc, as a share of the longer side.
const DISC: f64 = 0.024;

/// How wide a ring is where nobody said.
const RING: f64 = 0.14;

/// How long an arrow is, as a share of the longer side.
const ARROW: f64 = 0.17;

/// The overlay of a photo, as one SVG of its own measures; nothing where nothing is marked.
#[must_use]
pub fn marks(photo: &Photo) -> Option<String> {
    if photo.marks.is_empty() || photo.width == 0 || photo.height == 0 {
        return None;
    }
    let sides = (f64::from(photo.width), f64::from(photo.height));
    let view = format!("0 0 {} {}", photo.width, photo.height);
    let drawn = html! {
        svg.marks xmlns="http://www.w3.org/2000/svg" aria-hidden="true" viewBox=(view)
            width=(photo.width) height=(photo.height) font-family="B612, 'DejaVu Sans', sans-serif" {
            @for (number, mark) in (1..).zip(&photo.marks) { (one(number, mark, sides)) }
        }
    };
    Some(drawn.into_string())
}

fn one(number: usize, mark: &Mark, sides: (f64, f64)) -> Markup {
    let longer = sides.0.max(sides.1);
    let at = (mark.across * sides.0, mark.down * sides.1);
    match mark.sign {
        Sign::Number => disc(number, at, longer),
        Sign::Arrow => {
            let (along, up) = towards_the_middle(at, sides);
            let length = ARROW * longer;
            let tail = (at.0 + along * length, at.1 + up * length);
            arrow(number, at, tail, longer)
        }
        Sign::Circle => {
            let radius = mark.wide.unwrap_or(RING) * sides.0 / 2.0;
            let (along, up) = towards_the_middle(at, sides);
            let edge = (at.0 + along * radius, at.1 + up * radius);
            html! {
                (ring(at, radius, longer))
                (disc(number, edge, longer))
            }
        }
    }
}

/// The way from a place to the middle of the picture, where there is always room; for the
/// middle itself up to the right.
fn towards_the_middle(at: (f64, f64), sides: (f64, f64)) -> (f64, f64) {
    let (along, up) = (sides.0 / 2.0 - at.0, sides.1 / 2.0 - at.1);
    let far = libm::hypot(along, up);
    if far < ARROW * sides.0.max(sides.1) {
        (0.6, -0.8)
    } else {
        (along / far, up / far)
    }
}

fn disc(number: usize, (x, y): (f64, f64), longer: f64) -> Markup {
    let radius = DISC * longer;
    html! {
        circle cx=(n(x)) cy=(n(y)) r=(n(radius)) fill="#ffffff" stroke=(PAINT) stroke-width=(n(radius * 0.2)) {}
        text x=(n(x)) y=(n(y + radius * 0.38)) font-size=(n(radius * 1.1)) font-weight="bold" fill=(INK)
            text-anchor="middle" { (number) }
    }
}

fn ring((x, y): (f64, f64), radius: f64, longer: f64) -> Markup {
    let stroke = |colour: &str, width: f64| {
        html! {
            circle cx=(n(x)) cy=(n(y)) r=(n(radius)) fill="none" stroke=(colour) stroke-width=(n(width)) {}
        }
    };
    html! { (stroke("#ffffff", longer * 0.011)) (stroke(PAINT, longer * 0.006)) }
}

/// A shaft from the tail, a head that ends at the place, the number on the tail.
fn arrow(number: usize, at: (f64, f64), tail: (f64, f64), longer: f64) -> Markup {
    let far = libm::hypot(at.0 - tail.0, at.1 - tail.1);
    let way = ((at.0 - tail.0) / far, (at.1 - tail.1) / far);
    let (length, half) = (longer * 0.045, longer * 0.016);
    let neck = (at.0 - way.0 * length, at.1 - way.1 * length);
    let corner = |side: f64| {
        let (x, y) = (neck.0 - way.1 * half * side, neck.1 + way.0 * half * side);
        format!("{},{}", n(x), n(y))
    };
    let head = format!("{},{} {} {}", n(at.0), n(at.1), corner(1.0), corner(-1.0));
    let shaft = |colour: &str, width: f64| {
        html! {
            line x1=(n(tail.0)) y1=(n(tail.1)) x2=(n(neck.0)) y2=(n(neck.1)) stroke=(colour)
                stroke-width=(n(width)) {}
        }
    };
    html! {
        (shaft("#ffffff", longer * 0.014))
        polygon points=(head) fill=(PAINT) stroke="#ffffff" stroke-width=(n(longer * 0.004)) stroke-linejoin="round" {}
        (shaft(PAINT, longer * 0.008))
        (disc(number, tail, longer))
    }
}

/// The overlay as it stands in a page, where the picture is already told.
pub(crate) fn over(photo: &Photo) -> Markup {
    html! { @if let Some(drawn) = marks(photo) { (PreEscaped(drawn)) } }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn photo(marks: Vec<Mark>) -> Photo {
        Photo {
            width: 400,
            height: 300,
            marks,
            ..Photo::default()
        }
    }

    fn mark(sign: Sign, across: f64, down: f64) -> Mark {
        Mark {
            sign,
            across,
            down,
            wide: None,
            says: "stud".to_owned(),
        }
    }

    #[test]
    fn nothing_marked_draws_nothing() {
        assert_eq!(marks(&photo(Vec::new())), None);
    }

    /// An arrow ends at its place, whatever the corner, and all of it lies on the picture.
    #[test]
    fn an_arrow_ends_at_its_place_and_begins_on_the_picture() {
        for (across, down) in [(0.0, 0.0), (1.0, 0.0), (0.5, 0.5), (0.02, 0.98), (1.0, 1.0)] {
            let drawn = marks(&photo(vec![mark(Sign::Arrow, across, down)])).unwrap();
            let read = roxmltree::Document::parse(&drawn).unwrap();
            let of = |tag: &str| {
                let mut all = read.descendants();
                all.find(|node| node.has_tag_name(tag)).unwrap()
            };
            let head = of("polygon").attribute("points").unwrap();
            let tip = format!("{},{} ", n(across * 400.0), n(down * 300.0));
            assert!(head.starts_with(&tip), "{head}");
            let number = |node: roxmltree::Node<'_, '_>, key: &str| {
                node.attribute(key).unwrap().parse::<f64>().unwrap()
            };
            let disc = of("circle");
            let (x, y, r) = (number(disc, "cx"), number(disc, "cy"), number(disc, "r"));
            assert!(x - r >= 0.0 && x + r <= 400.0, "{drawn}");
            assert!(y - r >= 0.0 && y + r <= 300.0, "{drawn}");
        }
    }

    #[test]
    fn each_place_has_the_number_of_its_words() {
        let all = [Sign::Number, Sign::Arrow, Sign::Circle];
        let marked = all.map(|sign| mark(sign, 0.3, 0.3)).to_vec();
        let drawn = marks(&photo(marked)).unwrap();
        for number in 1..=3 {
            assert!(drawn.contains(&format!(">{number}</text>")), "{drawn}");
        }
    }
}
