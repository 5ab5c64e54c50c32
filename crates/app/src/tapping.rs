//! Places on a photo: holes and ports tapped on a square-on picture become positions on the part.

use calc::tapping::{Side, Tap, Tapping};
use quantity::{Angle, Length};
use report::{Align, Cell, Figure, Finding, HoleMark, Holes, Picture, Report, Table};

use crate::option::Options;

const COMMAND: &str = "tapping";
const TITLE: &str = "Places on a photo";

/// The taps as a page sends them.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// The joint, or the part whose ports are tapped.
    pub of: String,
    /// What was tapped and where: a name, pixels to the right, pixels down.
    pub taps: Vec<(String, f64, f64)>,
    /// The distance between the first two taps, as typed: `92.5 mm`.
    pub distance: String,
    /// Which way the second tap lies from the first on the part, anticlockwise from *to the
    /// right*; to the right where nobody says.
    pub direction: Option<String>,
    /// The photo was taken from the other side of the face.
    pub other_side: bool,
}

/// Positions of everything tapped, from the corner that keeps them all to the right and up; the
/// line that enters them as text.
#[must_use]
pub fn tapping(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    let distance = options.quantity::<Length>("distance", &asked.distance);
    let direction = options.maybe::<Angle>("direction", asked.direction.as_deref());
    if asked.taps.len() < 2 {
        options.fault(
            "taps",
            "two taps a known distance apart come first",
            "tap two holes, then give the distance between their middles",
        );
    }
    let (Some(distance), true) = (distance, options.clean()) else {
        return options.refusal(TITLE);
    };
    let tap = |at: usize| Tap {
        right: asked.taps[at].1,
        down: asked.taps[at].2,
    };
    let side = if asked.other_side {
        Side::Other
    } else {
        Side::Same
    };
    let angle = direction.map_or_else(Angle::default, |said| said.value);
    match Tapping::new((tap(0), tap(1)), distance.value, angle, side).and_then(|photo| {
        let places: Result<Vec<_>, _> = (0..asked.taps.len())
            .map(|at| photo.place(tap(at)))
            .collect();
        Ok((photo.pixel()?, places?))
    }) {
        Ok((pixel, places)) => {
            let spots: Vec<(f64, f64)> = places
                .iter()
                .map(|place| (place.x.in_mm(), place.y.in_mm()))
                .collect();
            placed(asked, pixel, &spots)
        }
        Err(fault) => Report::refusal(
            COMMAND,
            TITLE,
            Finding::new("taps", asked.of.clone(), fault.to_string())
                .next("tap again, further apart, and give the distance as measured"),
        ),
    }
}

fn placed(asked: &Asked, pixel: Length, spots: &[(f64, f64)]) -> Report {
    let least = |of: fn(&(f64, f64)) -> f64| spots.iter().map(of).fold(f64::INFINITY, f64::min);
    let (left, bottom) = (least(|spot| spot.0), least(|spot| spot.1));
    let mut report = Report::new(COMMAND, TITLE);
    let mut table = Table::new(&[
        ("hole", "hole", Align::Left),
        ("right", "to the right", Align::Right),
        ("up", "up", Align::Right),
    ]);
    let mut words = Vec::new();
    let mut marks = Vec::new();
    for ((name, _, _), (x, y)) in asked.taps.iter().zip(spots) {
        let (x, y) = (tenths(x - left), tenths(y - bottom));
        table.push(vec![
            Cell::from(name.as_str()),
            Cell::Number(x, format!("{x} mm")),
            Cell::Number(y, format!("{y} mm")),
        ]);
        words.push(format!("{name} {x} {y}"));
        marks.push(HoleMark {
            name: name.clone(),
            x_mm: x,
            y_mm: y,
            number: None,
            label: String::new(),
            done: false,
            in_hand: false,
        });
    }
    report.rows = table;
    report.text = Some(format!("place {}: {} mm", asked.of, words.join(", ")));
    report.figures.push(
        Figure::new(
            "pixel",
            "one pixel",
            pixel,
            format!("{:.2} mm", pixel.in_mm()),
        )
        .note("a finger is good for some three of them"),
    );
    report.pictures.push(Picture::Holes(Holes {
        title: format!("{}, as tapped", asked.of),
        holes: marks,
        to_scale: true,
        left: String::new(),
        right: String::new(),
    }));
    report.headline = Some(format!("{} places.", spots.len()));
    report
}

/// A finger on a photo does not tell more than tenths of a millimetre apart.
fn tenths(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(distance: &str, taps: &[(&str, f64, f64)]) -> Asked {
        Asked {
            of: "cover-bolts".to_owned(),
            taps: taps
                .iter()
                .map(|(name, right, down)| ((*name).to_owned(), *right, *down))
                .collect(),
            distance: distance.to_owned(),
            ..Asked::default()
        }
    }

    /// Plane geometry by hand: 200 pixels are 50 mm, so 80 pixels up are 20 mm.
    #[test]
    fn taps_become_a_line_of_the_record_from_the_lower_left_corner() {
        let report = tapping(&asked(
            "50 mm",
            &[
                ("A", 100.0, 400.0),
                ("B", 300.0, 400.0),
                ("C", 200.0, 480.0),
            ],
        ));
        let line = report.text.as_deref().unwrap();
        assert_eq!(line, "place cover-bolts: A 0 20, B 50 20, C 25 0 mm");
        assert!(job::line::read_line(line).is_ok());
        assert!((report.figure("pixel").unwrap().value - 0.000_25).abs() < 1e-12);
    }

    #[test]
    fn one_tap_no_distance_and_two_taps_on_one_spot_are_refused_with_a_way_out() {
        let one = tapping(&asked("50 mm", &[("A", 1.0, 1.0)]));
        assert!(one.refused);
        let unmeasured = tapping(&asked("", &[("A", 1.0, 1.0), ("B", 90.0, 1.0)]));
        assert!(unmeasured.refused);
        let same = tapping(&asked("50 mm", &[("A", 1.0, 1.0), ("B", 2.0, 1.0)]));
        assert!(same.refused && same.findings.iter().all(|found| found.next.is_some()));
    }
}
