//! The heights of a face as rows and as a map with contour lines.

use calc::flatness::{self, Point};
use calc::zone::Side;
use quantity::Length;
use report::{Align, Cell, Contour, Figure, Picture, Report, Table};

use super::{Flatness, shown};

/// Rows and drawings stop here; a scan of a million points is judged, not listed.
const LISTED: usize = 200;

/// Adds a row a point and the map. A scan of more points has neither.
pub(super) fn add(
    report: &mut Report,
    asked: &Flatness,
    points: &[Point],
    heights: &[Length],
    seen: &flatness::Flatness,
) {
    if points.len() > LISTED {
        return;
    }
    let mut table = Table::new(&[
        ("x", "x", Align::Right),
        ("y", "y", Align::Right),
        ("height", "above the lowest", Align::Right),
        ("touches", "holds the zone", Align::Left),
    ]);
    for (at, (point, height)) in points.iter().zip(heights).enumerate() {
        let touches = seen
            .contacts
            .iter()
            .find(|contact| contact.index == at)
            .map(|contact| match contact.side {
                Side::High => "from above",
                Side::Low => "from below",
            });
        let figure =
            |name, length, unit| Cell::from(Figure::new(name, name, length, shown(length, unit)));
        table.push(vec![
            figure("x", point.x, &asked.plan),
            figure("y", point.y, &asked.plan),
            figure("height", *height, &asked.unit),
            Cell::from(touches),
        ]);
    }
    report.rows = table;
    report.pictures.push(Picture::Contour(Contour {
        title: report.title.clone(),
        points: points
            .iter()
            .zip(heights)
            .map(|(point, height)| (point.x.in_mm(), point.y.in_mm(), height.in_micrometres()))
            .collect(),
        step_um: contour_step(seen.minimum_zone),
    }));
}

/// A step in micrometres that gives about five lines: 1, 2, 5, 10, 20, …
pub(super) fn contour_step(zone: Length) -> f64 {
    let wanted = zone.in_micrometres() / 5.0;
    let mut decade = 1.0;
    while decade < 1e5 {
        for step in [decade, 2.0 * decade, 5.0 * decade] {
            if step >= wanted {
                return step;
            }
        }
        decade *= 10.0;
    }
    decade
}
