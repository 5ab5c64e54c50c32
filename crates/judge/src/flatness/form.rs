//! A face in words: dished or crowned, along or across, twisted; and where it stands high and
//! lies low.

use calc::flatness::Point;
use calc::form::{FormError, form};
use quantity::{Length, Quantity, show};
use report::{Finding, Report, Weight};

use super::{Flatness, shown};

/// A shape that makes less than this share of the flatness is not worth a word.
const WORTH_A_WORD: f64 = 0.25;

/// Says the form of the face and its highest and lowest places. `heights` stand above the
/// lowest.
pub(super) fn tell(
    report: &mut Report,
    asked: &Flatness,
    points: &[Point],
    heights: &[Length],
    zone: Length,
) {
    if zone.si() <= 0.0 {
        return;
    }
    let (words, where_to_look) = match form(points) {
        Ok(seen) => {
            let mut words = Vec::new();
            for (amount, direction) in [(seen.dish_along, "along"), (seen.dish_across, "across")] {
                if amount.si().abs() >= WORTH_A_WORD * zone.si() {
                    let bow = if amount.si() > 0.0 {
                        "dished"
                    } else {
                        "crowned"
                    };
                    words.push(format!("{bow} {direction} by {}", size(amount, asked)));
                }
            }
            if seen.twist.si().abs() >= WORTH_A_WORD * zone.si() {
                words.push(format!(
                    "twisted: two corners across from each other {} high, the other two as low",
                    size(seen.twist, asked)
                ));
            }
            if words.is_empty() {
                words.push("uneven without bow or twist: local high or low places".to_owned());
            }
            (words.join("; "), None)
        }
        Err(FormError::NotToldApart { .. }) => (
            "these places do not tell a bow from a twist".to_owned(),
            Some("measure the four corners, the middle of each edge and the middle of the face"),
        ),
        Err(FormError::NotFinite(_)) => return,
    };
    let mut finding = Finding::new(
        "form",
        "",
        format!("{words}{}", ends(asked, points, heights)),
    )
    .weight(Weight::Note);
    if let Some(next) = where_to_look {
        finding = finding.next(next);
    }
    report.findings.push(finding);
}

/// The size of a bow without its sign.
fn size(amount: Length, asked: &Flatness) -> String {
    Length::from_si(amount.si().abs())
        .map_or_else(|_| String::new(), |amount| shown(amount, &asked.unit))
}

/// Where the face stands highest and lies lowest.
fn ends(asked: &Flatness, points: &[Point], heights: &[Length]) -> String {
    let by_height = |a: &(&Point, &Length), b: &(&Point, &Length)| a.1.si().total_cmp(&b.1.si());
    let mut pairs = points.iter().zip(heights);
    let highest = points.iter().zip(heights).max_by(by_height);
    let lowest = pairs.by_ref().min_by(by_height);
    match (highest, lowest) {
        (Some((high, _)), Some((low, _))) => format!(
            ". Highest at {}, lowest at {}",
            place(asked, points, high),
            place(asked, points, low)
        ),
        _ => String::new(),
    }
}

/// A place with its coordinates, and whether it is a corner, an edge or inside.
fn place(asked: &Flatness, points: &[Point], at: &Point) -> String {
    let on_end = |of: fn(&Point) -> Length| {
        let here = of(at).si();
        let places = points.iter().map(|point| of(point).si());
        here >= places.clone().fold(f64::NEG_INFINITY, f64::max)
            || here <= places.fold(f64::INFINITY, f64::min)
    };
    let kind = match (on_end(|point| point.x), on_end(|point| point.y)) {
        (true, true) => "a corner",
        (true, false) => "an end",
        (false, true) => "a long side",
        (false, false) => "inside",
    };
    format!(
        "x {}, y {} ({kind})",
        show(at.x, &asked.plan),
        show(at.y, &asked.plan)
    )
}
