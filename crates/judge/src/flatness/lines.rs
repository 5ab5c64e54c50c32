//! A face from lines laid over it: gaps under a straightedge, or steps of a level or
//! autocollimator. What the lines cannot show is said before anything is judged.

use calc::flatness::{Point, flatness};
use calc::straightness::{Station, straightness};
use calc::survey::{Again, Line, Survey, survey};
use quantity::{Bound, Length, Quantity, Range, show};
use report::{Align, Ask, Cell, Figure, Finding, Report, Table, Verdict, Weight};

use super::redraw::{MOST_POINTS, Redrawn};
use super::{Flatness, Height, Unanswerable, compose};
use crate::limit::{Reading, decide};

/// How a line was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Means {
    /// Gaps under a straightedge.
    Straightedge,
    /// Heights added up from steps of tilt.
    Steps,
}

/// One line: its name, and places with a gap or a height.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid {
    /// Its name on the sheet.
    pub name: String,
    /// The readings, in order along the line.
    pub readings: Vec<Height>,
}

/// Judges a face from lines. `asked` carries limits and manners; its heights are worked out
/// here.
#[must_use]
pub fn judge_lines(asked: &Flatness, laid: &[Laid], means: Means) -> Report {
    answer(asked, laid, means).unwrap_or_else(|fault| {
        let finding = Finding::new("lines", "", fault.to_string())
            .next("lay each line over three places and more in one straight line; four edges, both diagonals and two centre lines are the usual eight");
        Report::refusal("flatness", "Flatness of a face from lines", finding)
    })
}

fn answer(asked: &Flatness, laid: &[Laid], means: Means) -> Result<Report, Unanswerable> {
    let lines = laid
        .iter()
        .map(|line| profile(line, means))
        .collect::<Result<Vec<Line>, Unanswerable>>()?;
    let seen = survey(&lines)?;
    let open = laid.iter().any(|line| !open_at(line).is_empty());
    let whole = seen.free == 0 && !open;
    let mut report = if whole {
        let flat = flatness(&seen.heights)?;
        let redrawn = redrawn(asked, laid, &lines, flat.minimum_zone)?;
        compose(
            asked,
            asked.face.title(),
            &seen.heights,
            &flat,
            redrawn.as_ref(),
        )?
    } else {
        let worst = laid
            .iter()
            .zip(&lines)
            .map(|(line, profile)| at_least(line, profile))
            .collect::<Result<Vec<Length>, Unanswerable>>()?;
        let mut report = partly(asked, &worst)?;
        report.rows = rows(asked, laid, &worst);
        report
    };
    if open {
        gaps_without_end(&mut report, asked, laid);
    }
    if seen.free > 0 {
        unseen(&mut report, &seen);
    } else if !whole {
        // The blade that is missing is named already; nothing more is told from these lines.
    } else if seen.redundancy > 0 {
        report.figures.push(
            Figure::new(
                "disagreement",
                "lines disagree by",
                seen.disagreement,
                show(seen.disagreement, &asked.unit),
            )
            .note(format!(
                "{} readings more than needed check the rest",
                seen.redundancy
            )),
        );
    } else {
        report.findings.push(
            Finding::new(
                "no-check",
                "",
                "the lines fix the face exactly, so no reading checks another",
            )
            .next("lay the two centre lines as well")
            .weight(Weight::Note),
        );
    }
    if means == Means::Straightedge {
        rocks(&mut report, laid);
    }
    Ok(report)
}

/// Only some of the face is fixed: it is at least as bad as its worst line.
fn partly(asked: &Flatness, worst: &[Length]) -> Result<Report, Unanswerable> {
    let mut report = Report::new("flatness", "Flatness of a face from lines");
    let least =
        worst.iter().copied().fold(
            Length::from_si(0.0)?,
            |held, zone| if zone > held { zone } else { held },
        );
    report.figures.push(
        Figure::new("worst_line", "worst line", least, show(least, &asked.unit))
            .note("the face is at least so much out; how much more is not seen"),
    );
    report.headline = Some(format!(
        "At least {} out; these lines set no upper end.",
        show(least, &asked.unit)
    ));
    report.verdict = Some(Verdict::Undecided);
    if let Some(limit) = &asked.limit {
        let reading = Reading::bound(Bound::Above(least)).with(asked.expanded);
        let decision = decide("flatness", Some(&reading), limit, &[], &asked.unit)?;
        report.verdict = Some(decision.verdict);
        report.headline = Some(decision.says);
        report.because.push(decision.because);
        if let Some(source) = limit.source() {
            report.cite(source);
        }
    }
    Ok(report)
}

fn unseen(report: &mut Report, seen: &Survey) {
    let (code, says) = if seen.twist_unseen {
        (
            "twist-not-seen",
            "no line laid so far changes when the face is twisted: edges and centre lines read nothing on a pure twist",
        )
    } else {
        (
            "not-seen",
            "some heights hang in the air: the lines do not tie them to the rest",
        )
    };
    report.findings.push(
        Finding::new(code, "", says)
            .points_to("a face that may be out by more than any line shows")
            .next("lay both diagonals; that settles it"),
    );
}

fn rows(asked: &Flatness, laid: &[Laid], worst: &[Length]) -> Table {
    let mut table = Table::new(&[
        ("line", "line", Align::Left),
        ("straightness", "straight within", Align::Right),
    ]);
    for (line, zone) in laid.iter().zip(worst) {
        let figure = Figure::new(
            "straightness",
            "straight within",
            *zone,
            show(*zone, &asked.unit),
        );
        table.push(vec![Cell::from(line.name.clone()), Cell::from(figure)]);
    }
    table
}

/// A crown makes the edge rock: pressed down at one end it shows four times the crown at the
/// other.
fn rocks(report: &mut Report, laid: &[Laid]) {
    let gap = |height: &Height| height.z.high().or(height.z.low()).map_or(0.0, Quantity::si);
    for line in laid.iter().filter(|line| line.readings.len() >= 3) {
        let (first, last) = (
            gap(&line.readings[0]),
            gap(&line.readings[line.readings.len() - 1]),
        );
        let inner = line.readings[1..line.readings.len() - 1]
            .iter()
            .map(gap)
            .fold(0.0, f64::max);
        if first.max(last) > inner {
            report.asks.push(Ask::new(
                format!("does the edge rock on line {}?", line.name),
                "its gap is widest at an end, as over a crown; pressed down on one end it shows four times the crown at the other.",
                "Balance it so that both ends show the same gap, or lay it on two blocks of one height.",
            ));
        }
    }
}

/// A line as heights: a gap is a height below the edge, a reading that is a bound its middle.
fn profile(line: &Laid, means: Means) -> Result<Line, Unanswerable> {
    let sign = match means {
        Means::Straightedge => -1.0,
        Means::Steps => 1.0,
    };
    let readings = line
        .readings
        .iter()
        .map(|height| {
            let (low, high) = ends(height.z);
            Ok(Point {
                x: height.x,
                y: height.y,
                z: Length::from_si(sign * (low + high) / 2.0)?,
            })
        })
        .collect::<Result<Vec<Point>, Unanswerable>>()?;
    Ok(Line { readings })
}

/// The ends of a gap in metres; a blade that does not go leaves 0 to its thickness.
fn ends(gap: Bound<Length>) -> (f64, f64) {
    match gap {
        Bound::Exactly(value) | Bound::Above(value) => (value.si(), value.si()),
        Bound::Below(value) => (0.0, value.si()),
        Bound::Between(Range { low, high }) => (low.si(), high.si()),
    }
}

fn zone(line: &Line) -> Result<Length, Unanswerable> {
    let first = &line.readings[0];
    let stations = line
        .readings
        .iter()
        .map(|point| {
            let run = libm::hypot(point.x.si() - first.x.si(), point.y.si() - first.y.si());
            Ok(Station {
                along: Length::from_si(run)?,
                height: point.z,
            })
        })
        .collect::<Result<Vec<Station>, Unanswerable>>()?;
    Ok(straightness(&stations)?.minimum_zone)
}

/// The places of a line whose gap has no upper end: even the widest blade goes.
fn open_at(line: &Laid) -> Vec<usize> {
    line.readings
        .iter()
        .enumerate()
        .filter(|(_, height)| matches!(height.z, Bound::Above(_)))
        .map(|(at, _)| at)
        .collect()
}

/// The least a line can be out, whatever its gaps without an end really are.
fn at_least(laid: &Laid, line: &Line) -> Result<Length, Unanswerable> {
    let open = open_at(laid);
    let as_read = match open[..] {
        [] => return zone(line),
        [only] => {
            // The zone is convex in one height: where a deeper gap would not narrow it, the
            // blade that went is the gap that narrows it most.
            let mut deeper = line.clone();
            let step = Length::micrometres(1.0)?;
            deeper.readings[only].z = deeper.readings[only].z - step;
            let here = zone(line)?;
            (zone(&deeper)? >= here).then_some(here)
        }
        _ => None,
    };
    if let Some(zone) = as_read {
        return Ok(zone);
    }
    let kept: Vec<Point> = line
        .readings
        .iter()
        .enumerate()
        .filter(|(at, _)| !open.contains(at))
        .map(|(_, point)| *point)
        .collect();
    if kept.len() < 3 {
        return Ok(Length::from_si(0.0)?);
    }
    zone(&Line { readings: kept })
}

/// Names each gap that is only known to be wider than a blade.
fn gaps_without_end(report: &mut Report, asked: &Flatness, laid: &[Laid]) {
    for line in laid {
        for height in open_at(line)
            .into_iter()
            .filter_map(|at| line.readings.get(at))
        {
            report.findings.push(
                Finding::new(
                    "gap-open",
                    line.name.clone(),
                    format!(
                        "at x {}, y {} the gap is only known to be {}",
                        show(height.x, &asked.plan),
                        show(height.y, &asked.plan),
                        quantity::show_bound(height.z, &asked.unit)
                    ),
                )
                .next(
                    "lay two blades together until a pair does not go, and enter both: 0.95..1.00",
                ),
            );
        }
    }
}

/// Every gap drawn anew between the blade that goes and the one that does not, and the lines
/// put together again.
fn redrawn(
    asked: &Flatness,
    laid: &[Laid],
    lines: &[Line],
    zone: Length,
) -> Result<Option<Redrawn>, Unanswerable> {
    let readings = || {
        laid.iter()
            .zip(lines)
            .filter(|(_, line)| line.readings.len() >= 3)
            .flat_map(|(laid, line)| laid.readings.iter().zip(&line.readings))
    };
    let drawn: Vec<(f64, f64)> = readings()
        .map(|(height, point)| {
            let (low, high) = ends(height.z);
            (point.z.si(), (high - low) / 2.0)
        })
        .collect();
    if drawn.iter().all(|&(_, half)| half == 0.0) || drawn.len() > MOST_POINTS {
        return Ok(None);
    }
    let again = Again::of(lines)?;
    Redrawn::by(asked.seed, zone, |draws, real| {
        let readings = drawn
            .iter()
            .map(|&(middle, half)| {
                let base = if real { middle } else { 0.0 };
                Ok(Length::from_si(base + draws.between(-half, half))?)
            })
            .collect::<Result<Vec<Length>, Unanswerable>>()?;
        Ok(flatness(&again.heights(&readings)?)?.minimum_zone)
    })
    .map(Some)
}

#[cfg(test)]
mod tests {
    use quantity::unit::MILLIMETRE;

    use super::*;
    use crate::limit::Limit;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    /// Gaps that an ideal edge leaves over a face twisted by 0.04 at its corners.
    fn line(name: &str, nodes: [(f64, f64, f64); 3]) -> Laid {
        let readings = nodes
            .iter()
            .map(|&(x, y, gap)| Height {
                x: mm(x),
                y: mm(y),
                z: Bound::Exactly(mm(gap)),
            })
            .collect();
        Laid {
            name: name.to_owned(),
            readings,
        }
    }

    fn edges_and_centres() -> Vec<Laid> {
        let mut lines = Vec::new();
        for at in [-75.0, 0.0, 75.0] {
            lines.push(line(
                "along",
                [(-200.0, at, 0.0), (0.0, at, 0.0), (200.0, at, 0.0)],
            ));
        }
        for at in [-200.0, 0.0, 200.0] {
            lines.push(line(
                "across",
                [(at, -75.0, 0.0), (at, 0.0, 0.0), (at, 75.0, 0.0)],
            ));
        }
        lines
    }

    fn asked() -> Flatness {
        let mut asked = Flatness::of(Vec::new(), MILLIMETRE);
        asked.limit = Some(Limit::most(mm(0.05)));
        asked
    }

    /// Source: pure twist, corners ± 0.04: edges and centres read 0, the diagonals 0.04, true
    /// flatness 0.08. *Computed by a general library (scipy 1.17.1): geometry (set of four
    /// corners.*
    #[test]
    fn e13_twist_is_not_seen_without_diagonals_and_is_outside_with_them() {
        let mut lines = edges_and_centres();
        let report = judge_lines(&asked(), &lines, Means::Straightedge);
        assert_eq!(report.verdict, Some(Verdict::Undecided));
        assert!(report.finds("twist-not-seen"));
        // One diagonal is a bowl of 0.04, the other a crown of 0.04 balanced on its middle.
        lines.push(line(
            "diagonal",
            [(-200.0, -75.0, 0.0), (0.0, 0.0, 0.04), (200.0, 75.0, 0.0)],
        ));
        lines.push(line(
            "other",
            [(-200.0, 75.0, 0.04), (0.0, 0.0, 0.0), (200.0, -75.0, 0.04)],
        ));
        let report = judge_lines(&asked(), &lines, Means::Straightedge);
        assert_eq!(report.verdict, Some(Verdict::Outside));
        let zone = report.figure("minimum_zone").unwrap().value;
        assert!((zone - 0.08e-3).abs() < 1e-9, "{zone}");
        assert!(
            report
                .asks
                .iter()
                .any(|ask| ask.what.contains("rock on line other"))
        );
    }

    #[test]
    fn a_line_already_beyond_the_limit_is_outside_whatever_is_not_seen() {
        let mut lines = edges_and_centres();
        lines[0].readings[1].z = Bound::Exactly(mm(0.09));
        let report = judge_lines(&asked(), &lines, Means::Straightedge);
        assert_eq!(report.verdict, Some(Verdict::Outside));
    }

    #[test]
    fn blades_leave_intervals_that_are_redrawn() {
        let mut lines = edges_and_centres();
        lines.push(line(
            "diagonal",
            [(-200.0, -75.0, 0.0), (0.0, 0.0, 0.01), (200.0, 75.0, 0.0)],
        ));
        lines.push(line(
            "other",
            [(-200.0, 75.0, 0.01), (0.0, 0.0, 0.0), (200.0, -75.0, 0.01)],
        ));
        for laid in &mut lines {
            laid.readings[1].z = Bound::Below(mm(0.03));
        }
        let report = judge_lines(&asked(), &lines, Means::Straightedge);
        let floor = report.figure("noise_floor").unwrap();
        assert!(
            floor.value > 0.0 && floor.high.unwrap() < 0.12e-3,
            "{floor:?}"
        );
        assert!(report.finds("noise-adds"));
        assert_eq!(report, judge_lines(&asked(), &lines, Means::Straightedge));
    }

    /// A wide blade at one place widens the interval, and by less than wide blades everywhere.
    #[test]
    fn a_wide_blade_at_one_place_counts_at_that_place_only() {
        let width = |is_wide: fn(usize, usize) -> bool| {
            let mut lines = edges_and_centres();
            lines.push(line(
                "diagonal",
                [(-200.0, -75.0, 0.0), (0.0, 0.0, 0.02), (200.0, 75.0, 0.0)],
            ));
            lines.push(line(
                "other",
                [(-200.0, 75.0, 0.02), (0.0, 0.0, 0.0), (200.0, -75.0, 0.02)],
            ));
            for (at, laid) in lines.iter_mut().enumerate() {
                for (place, reading) in laid.readings.iter_mut().enumerate() {
                    let half = Length::micrometres(if is_wide(at, place) { 20.0 } else { 1.0 });
                    let (middle, half) = (reading.z.high().unwrap(), half.unwrap());
                    reading.z = Bound::Between(Range {
                        low: middle - half,
                        high: middle + half,
                    });
                }
            }
            let report = judge_lines(&asked(), &lines, Means::Straightedge);
            let floor = report.figure("noise_floor").unwrap();
            floor.high.unwrap()
        };
        let (none, one, all) = (
            width(|_, _| false),
            width(|at, place| (at, place) == (6, 1)),
            width(|_, _| true),
        );
        assert!(none < one && one < all, "{none} {one} {all}");
    }

    /// Source: a middle gap of more than 0.30 between ends that touch: at least 0.30 out;
    /// whether it is 0.29 or more cannot be told from a limit of 0.50. *Computed: geometry.*
    #[test]
    fn a_gap_wider_than_the_widest_blade_sets_only_a_lower_end() {
        let mut lines = edges_and_centres();
        lines.push(line(
            "diagonal",
            [(-200.0, -75.0, 0.0), (0.0, 0.0, 0.0), (200.0, 75.0, 0.0)],
        ));
        lines.push(line(
            "other",
            [(-200.0, 75.0, 0.0), (0.0, 0.0, 0.0), (200.0, -75.0, 0.0)],
        ));
        lines[6].readings[1].z = Bound::Above(mm(0.30));
        let outside = judge_lines(&asked(), &lines, Means::Straightedge);
        assert_eq!(outside.verdict, Some(Verdict::Outside));
        assert!((outside.figure("worst_line").unwrap().value - 0.30e-3).abs() < 1e-9);
        let mut wide = asked();
        wide.limit = Some(Limit::most(mm(0.50)));
        let open = judge_lines(&wide, &lines, Means::Straightedge);
        assert_eq!(open.verdict, Some(Verdict::Undecided));
        let gap = open
            .findings
            .iter()
            .find(|it| it.code == "gap-open")
            .unwrap();
        assert!(gap.next.as_ref().unwrap().contains("two blades"));
    }

    /// Where a deeper gap would make the line straighter, the open place proves nothing: three
    /// places 0, 0.30 and more than 0.30 may lie in one line.
    #[test]
    fn an_open_gap_that_may_straighten_its_line_proves_nothing() {
        let mut laid = line(
            "edge",
            [(0.0, 0.0, 0.0), (10.0, 0.0, 0.3), (20.0, 0.0, 0.3)],
        );
        laid.readings[2].z = Bound::Above(mm(0.3));
        let profile = profile(&laid, Means::Straightedge).unwrap();
        assert_eq!(at_least(&laid, &profile).unwrap(), mm(0.0));
    }

    #[test]
    fn lines_of_two_places_are_refused() {
        let mut lines = edges_and_centres();
        for laid in &mut lines {
            laid.readings.truncate(2);
        }
        assert_eq!(
            judge_lines(&asked(), &lines, Means::Straightedge).exit_status(),
            2
        );
    }
}
