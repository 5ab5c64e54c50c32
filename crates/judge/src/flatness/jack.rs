//! A face from the eight lines of a union jack walked with a level or an autocollimator: both
//! diagonals, four edges, two centre lines, each a row of tilts one foot apart.

use std::collections::BTreeMap;

use calc::flatness::{Point, flatness};
use calc::union_jack::{self, Leg, UnionJack, UnionJackError, union_jack};
use quantity::{Angle, Length, NotFinite, Quantity, show};
use report::{
    Align, Cell, Contour, Figure, Finding, Picture, Report, Source, SourceKind, Table, Weight,
};
use thiserror::Error;

use super::map::contour_step;
use super::{Flatness, Unanswerable, compose, shown};

const TITLE: &str = "Flatness of a face, eight lines of tilts";

/// What the centre lines may miss at the centre, in micro-inches. *Public data*: acceptance in
/// the text that goes with Moody's survey.
const CLOSES_WITHIN_MICROINCH: f64 = 100.0;

/// The lines and the ends they are called by, on a map with north up.
const LEGS: [(Leg, &str, &str); 8] = [
    (Leg::NwSe, "NW", "SE"),
    (Leg::NeSw, "NE", "SW"),
    (Leg::NeNw, "NE", "NW"),
    (Leg::SeSw, "SE", "SW"),
    (Leg::NeSe, "NE", "SE"),
    (Leg::NwSw, "NW", "SW"),
    (Leg::EW, "E", "W"),
    (Leg::NS, "N", "S"),
];

/// One line as it was walked: its name and the tilt of every step.
#[derive(Clone, Debug, PartialEq)]
pub struct Stepped {
    /// Where it begins and ends: `NW-SE`.
    pub name: String,
    /// The tilt of each step, in order.
    pub tilts: Vec<Angle>,
}

#[derive(Clone, Debug, PartialEq, Error)]
enum Fault {
    #[error("no line of a union jack is called “{name}”")]
    NoLine { name: String },
    #[error("the line {line} stands twice")]
    Twice { line: Leg },
    #[error("the line {line} is missing")]
    Missing { line: Leg },
    #[error(transparent)]
    Jack(#[from] UnionJackError),
    #[error(transparent)]
    Face(#[from] Unanswerable),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Judges a face from eight lines of tilts. `asked` carries limits and manners; its heights
/// are worked out here.
#[must_use]
pub fn judge_jack(asked: &Flatness, walked: &[Stepped], foot: Length) -> Report {
    answer(asked, walked, foot).unwrap_or_else(|fault| {
        let finding = Finding::new("lines", "", fault.to_string()).next(
            "walk all eight: NW-SE, NE-SW, NE-NW, SE-SW, NE-SE, NW-SW, E-W, N-S, each with an even number of steps",
        );
        Report::refusal("flatness", TITLE, finding)
    })
}

fn answer(asked: &Flatness, walked: &[Stepped], foot: Length) -> Result<Report, Fault> {
    let lines = by_leg(walked, foot)?;
    let jack = union_jack(&assembled(&lines)?)?;
    let points = placed(&jack, &lines, foot)?;
    let seen = flatness(&points).map_err(Unanswerable::from)?;
    let mut report = compose(asked, TITLE, &points, &seen, None)?;
    let over = jack.base_zone.si() / seen.minimum_zone.si() - 1.0;
    let mut base = Figure::new(
        "base_zone",
        "about the plane of the diagonals",
        jack.base_zone,
        shown(jack.base_zone, &asked.unit),
    );
    if seen.minimum_zone.si() > 0.0 {
        base = base.note(format!(
            "a convention; {:.0} % more than the minimum zone",
            over * 100.0
        ));
    }
    report.figures.push(base);
    closures(&mut report, asked, &jack)?;
    report.rows = rows(asked, &lines)?;
    report.pictures = vec![picture(&points, &seen)?];
    report.cite(Source::new(
        SourceKind::PublicData,
        "union-jack reduction after J. C. Moody (1955), repository ballen4705/Moody-Method",
    ));
    Ok(report)
}

/// Heights along each line, turned round where it was walked the other way.
fn by_leg(walked: &[Stepped], foot: Length) -> Result<BTreeMap<Leg, Vec<Length>>, Fault> {
    let mut lines = BTreeMap::new();
    for line in walked {
        let (leg, turned) = leg(&line.name).ok_or_else(|| Fault::NoLine {
            name: line.name.clone(),
        })?;
        let mut heights = union_jack::profile(&line.tilts, foot)?;
        if turned {
            heights.reverse();
        }
        if lines.insert(leg, heights).is_some() {
            return Err(Fault::Twice { line: leg });
        }
    }
    Ok(lines)
}

/// The line between two ends, and whether it was walked the other way round.
fn leg(name: &str) -> Option<(Leg, bool)> {
    let upper = name.to_uppercase();
    let ends: Vec<&str> = upper
        .split(|sign: char| !sign.is_alphabetic())
        .filter(|end| !end.is_empty() && *end != "TO")
        .collect();
    let [from, to] = ends[..] else { return None };
    LEGS.iter().find_map(|&(leg, first, last)| {
        if (from, to) == (first, last) {
            Some((leg, false))
        } else {
            ((from, to) == (last, first)).then_some((leg, true))
        }
    })
}

fn assembled(lines: &BTreeMap<Leg, Vec<Length>>) -> Result<union_jack::Lines, Fault> {
    let take = |line: Leg| lines.get(&line).cloned().ok_or(Fault::Missing { line });
    Ok(union_jack::Lines {
        nw_se: take(Leg::NwSe)?,
        ne_sw: take(Leg::NeSw)?,
        ne_nw: take(Leg::NeNw)?,
        se_sw: take(Leg::SeSw)?,
        ne_se: take(Leg::NeSe)?,
        nw_sw: take(Leg::NwSw)?,
        e_w: take(Leg::EW)?,
        n_s: take(Leg::NS)?,
    })
}

/// Stations where they lie on the face: its sides are the steps of the two centre lines.
fn placed(
    jack: &UnionJack,
    lines: &BTreeMap<Leg, Vec<Length>>,
    foot: Length,
) -> Result<Vec<Point>, Fault> {
    let half = |leg: Leg| {
        let steps = lines
            .get(&leg)
            .map_or(0, |line| line.len().saturating_sub(1));
        foot.si() * u32::try_from(steps).map_or(1.0, f64::from) / 2.0
    };
    let (wide, deep) = (half(Leg::EW), half(Leg::NS));
    jack.stations
        .iter()
        .map(|at| {
            Ok(Point {
                x: Length::from_si(at.x.si() * wide)?,
                y: Length::from_si(at.y.si() * deep)?,
                z: at.z,
            })
        })
        .collect()
}

/// What the centre lines miss at the centre: they are not needed for the face, so they check it.
fn closures(report: &mut Report, asked: &Flatness, jack: &UnionJack) -> Result<(), Fault> {
    let most = Length::inches(CLOSES_WITHIN_MICROINCH * 1e-6)?;
    for (name, label, line, off) in [
        (
            "closure_east_west",
            "E to W misses the centre by",
            Leg::EW,
            jack.closure_east_west,
        ),
        (
            "closure_north_south",
            "N to S misses the centre by",
            Leg::NS,
            jack.closure_north_south,
        ),
    ] {
        report
            .figures
            .push(Figure::new(name, label, off, shown(off, &asked.unit)));
        if off.si().abs() > most.si() {
            report.findings.push(
                Finding::new(
                    "does-not-close",
                    line.to_string(),
                    format!(
                        "it misses the centre by {}, more than {}",
                        shown(off, &asked.unit),
                        show(most, &asked.unit)
                    ),
                )
                .points_to("a step misread, or a plate that warmed while it was walked")
                .next(format!("walk {line} again, then the edges it meets")),
            );
        }
    }
    if !report.finds("does-not-close") {
        report.findings.push(
            Finding::new(
                "closes",
                "",
                format!(
                    "both centre lines close within {}, so the eight lines agree",
                    show(most, &asked.unit)
                ),
            )
            .weight(Weight::Note),
        );
    }
    Ok(())
}

fn rows(asked: &Flatness, lines: &BTreeMap<Leg, Vec<Length>>) -> Result<Table, Fault> {
    let mut table = Table::new(&[
        ("line", "line", Align::Left),
        ("steps", "steps", Align::Right),
        ("straightness", "straight within", Align::Right),
    ]);
    for (leg, heights) in lines {
        let mut stations = Vec::with_capacity(heights.len());
        for (at, &height) in (0u32..).zip(heights) {
            stations.push(calc::straightness::Station {
                along: Length::from_si(f64::from(at))?,
                height,
            });
        }
        let zone = calc::straightness::straightness(&stations)
            .map_err(Unanswerable::from)?
            .minimum_zone;
        table.push(vec![
            Cell::from(leg.to_string()),
            Cell::from(heights.len() - 1),
            Cell::from(Figure::new(
                "straightness",
                "straight within",
                zone,
                shown(zone, &asked.unit),
            )),
        ]);
    }
    Ok(table)
}

/// The stations as a map, each place once: where lines meet, the mean of what they say.
fn picture(points: &[Point], seen: &calc::flatness::Flatness) -> Result<Picture, Fault> {
    let heights = calc::flatness::above_lowest(points, &seen.plane).map_err(Unanswerable::from)?;
    // Places that agree to a nanometre are one place.
    let key = |point: &Point| {
        let nano = |length: Length| (length.si() * 1e9).round() / 1e9;
        (nano(point.x), nano(point.y))
    };
    let mut places: Vec<((f64, f64), f64, f64)> = Vec::new();
    for (point, height) in points.iter().zip(&heights) {
        let at = key(point);
        match places.iter_mut().find(|place| place.0 == at) {
            Some(place) => {
                place.1 += height.in_micrometres();
                place.2 += 1.0;
            }
            None => places.push((at, height.in_micrometres(), 1.0)),
        }
    }
    Ok(Picture::Contour(Contour {
        title: TITLE.to_owned(),
        points: places
            .iter()
            .map(|&((x, y), sum, count)| (x * 1000.0, y * 1000.0, sum / count))
            .collect(),
        step_um: contour_step(seen.minimum_zone),
    }))
}

#[cfg(test)]
mod tests {
    use quantity::unit::MICROMETRE;

    use super::*;

    /// A twist of eight lines: edges and centre lines straight, one diagonal up, one down.
    fn twisted() -> Vec<Stepped> {
        let flat = |name: &str| Stepped {
            name: name.to_owned(),
            tilts: vec![Angle::radians(0.0).unwrap(); 2],
        };
        let bent = |name: &str, by: f64| Stepped {
            name: name.to_owned(),
            tilts: vec![Angle::radians(by).unwrap(), Angle::radians(-by).unwrap()],
        };
        let mut lines: Vec<Stepped> = LEGS[2..]
            .iter()
            .map(|(_, from, to)| flat(&format!("{from}-{to}")))
            .collect();
        lines.push(bent("NW-SE", 1e-4));
        lines.push(bent("SW to NE", -1e-4));
        lines
    }

    fn judged(lines: &[Stepped]) -> Report {
        let asked = Flatness::of(Vec::new(), MICROMETRE);
        judge_jack(&asked, lines, Length::mm(100.0).unwrap())
    }

    /// Source: corners ± 10 µm about the centre, pure twist: zone 20 µm about either plane.
    /// *Computed: geometry.*
    #[test]
    fn a_twist_is_seen_and_a_line_walked_backwards_is_turned_round() {
        let report = judged(&twisted());
        let value = |name: &str| report.figure(name).unwrap().value * 1e6;
        assert!(
            (value("minimum_zone") - 20.0).abs() < 1e-6,
            "{}",
            value("minimum_zone")
        );
        assert!((value("base_zone") - 20.0).abs() < 1e-6);
        assert!(report.finds("closes"));
        assert_eq!(report.rows.rows.len(), 8);
    }

    #[test]
    fn a_line_too_few_twice_or_of_no_name_is_refused() {
        let mut lines = twisted();
        lines.pop();
        assert!(
            judged(&lines).findings[0]
                .says
                .contains("NE to SW is missing")
        );
        lines.push(lines[0].clone());
        assert!(judged(&lines).findings[0].says.contains("twice"));
        lines[0].name = "up the middle".to_owned();
        assert!(judged(&lines).refused);
    }

    #[test]
    fn a_centre_line_that_misses_the_centre_is_walked_again() {
        let mut lines = twisted();
        let east_west = lines.iter_mut().find(|line| line.name == "E-W").unwrap();
        east_west.tilts = vec![
            Angle::radians(2e-4).unwrap(),
            Angle::radians(-2e-4).unwrap(),
        ];
        let report = judged(&lines);
        let finding = report
            .findings
            .iter()
            .find(|it| it.code == "does-not-close");
        assert!(finding.unwrap().next.as_ref().unwrap().contains("E to W"));
    }
}
