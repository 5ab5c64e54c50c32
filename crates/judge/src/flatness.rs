//! How flat a face is, by which limit, how well that is known, and what is still not seen.
//!
//! Heights at places come in; how they were got (a grid, straightedge lines, tilt steps) is
//! said by the caller. The zone itself is `calc::flatness`.

mod direction;
mod form;
mod jack;
mod lines;
mod local;
mod map;
mod redraw;
mod rule;

#[cfg(test)]
mod tests;

use calc::decision::DecisionError;
use calc::flatness::{self, FlatnessError, Point, above_lowest};
use calc::straightness::StraightnessError;
use calc::survey::SurveyError;
use calc::uncertainty::UncertaintyError;
use quantity::{Bound, Length, NotFinite, Quantity, Range, Unit, show};
use report::{Ask, Figure, Finding, Report, Source, SourceKind, Weight};
use thiserror::Error;

use crate::limit::{Act, Limit, Reading, decide};
pub use jack::{Stepped, judge_jack};
pub use lines::{Laid, Means, judge_lines};
pub use local::Local;
use redraw::Redrawn;
pub use rule::default_limit;

/// Warp above which an overhead-cam head is straightened before it is faced.
const STRAIGHTEN_ABOVE_INCH: f64 = 0.003;

/// Which face it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Face {
    /// The gasket face of a head.
    #[default]
    Head,
    /// The deck of a block.
    Block,
    /// Something else: a cover, a manifold.
    Other,
    /// Nobody said; nothing that holds for one face only is taken for granted.
    Unsaid,
}

impl Face {
    const fn title(self) -> &'static str {
        match self {
            Self::Head => "Flatness of a head face",
            Self::Block => "Flatness of a block face",
            Self::Other | Self::Unsaid => "Flatness of a face",
        }
    }
}

/// A height that may be a bound, at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Height {
    /// Along the face.
    pub x: Length,
    /// Across the face.
    pub y: Length,
    /// The reading.
    pub z: Bound<Length>,
}

/// The question.
#[derive(Clone, Debug)]
pub struct Flatness {
    /// Which face.
    pub face: Face,
    /// The heights.
    pub heights: Vec<Height>,
    /// The overall limit.
    pub limit: Option<Limit<Length>>,
    /// The limit for any line along the face.
    pub along: Option<Limit<Length>>,
    /// The limit for any line across the face.
    pub across: Option<Limit<Length>>,
    /// The limit for any short stretch, with the length of the stretch.
    pub local: Option<Local>,
    /// Expanded uncertainty (U = 2u) of the flatness that the instrument leaves.
    pub expanded: Option<Length>,
    /// Cylinders on this bank, for a default limit where no other is known.
    pub cylinders: Option<u8>,
    /// Cams run in bores of this head.
    pub overhead_cam: bool,
    /// The unit to show heights in.
    pub unit: Unit,
    /// The unit to show places in.
    pub plan: Unit,
    /// Where the drawing of readings inside their intervals begins.
    pub seed: u64,
}

impl Flatness {
    /// A question with heights and nothing else.
    #[must_use]
    pub const fn of(heights: Vec<Height>, unit: Unit) -> Self {
        Self {
            face: Face::Head,
            heights,
            limit: None,
            along: None,
            across: None,
            local: None,
            expanded: None,
            cylinders: None,
            overhead_cam: false,
            unit,
            plan: unit,
            seed: 1,
        }
    }
}

/// Why a face cannot be judged.
#[derive(Clone, Debug, PartialEq, Error)]
enum Unanswerable {
    #[error(transparent)]
    Flatness(#[from] FlatnessError),
    #[error(transparent)]
    Straightness(#[from] StraightnessError),
    #[error(transparent)]
    Survey(#[from] SurveyError),
    #[error(transparent)]
    Uncertainty(#[from] UncertaintyError),
    #[error(transparent)]
    Decision(#[from] DecisionError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
    #[error("the height at {place} is only known to be {shown}, which has no other end")]
    OneEnded { place: String, shown: String },
}

/// Answers.
#[must_use]
pub fn judge(asked: &Flatness) -> Report {
    let title = asked.face.title();
    answer(asked, title).unwrap_or_else(|fault| {
        let finding = Finding::new("readings", "readings", fault.to_string()).next(
            "measure at three places and more that are not in one line; a grid of five along and three across is the usual",
        );
        Report::refusal("flatness", title, finding)
    })
}

fn answer(asked: &Flatness, title: &str) -> Result<Report, Unanswerable> {
    let points = asked
        .heights
        .iter()
        .map(|height| middle(height, asked))
        .collect::<Result<Vec<Point>, Unanswerable>>()?;
    let seen = flatness::flatness(&points)?;
    let redrawn = Redrawn::of(asked, &points, seen.minimum_zone)?;
    compose(asked, title, &points, &seen, redrawn.as_ref())
}

/// The answer over points whose flatness is known, however they were got.
fn compose(
    asked: &Flatness,
    title: &str,
    points: &[Point],
    seen: &flatness::Flatness,
    redrawn: Option<&Redrawn>,
) -> Result<Report, Unanswerable> {
    let mut report = Report::new("flatness", title);
    let expanded = redrawn.map_or(Ok(asked.expanded), |redrawn| {
        redrawn.expanded(asked.expanded)
    })?;
    figures(&mut report, asked, seen, expanded)?;
    lead(&mut report, asked, seen.minimum_zone, expanded)?;
    direction::judge(&mut report, asked, points, expanded)?;
    if let Some(redrawn) = redrawn {
        redrawn.tell(&mut report, &asked.unit);
    }
    unseen(&mut report, points);
    let heights = above_lowest(points, &seen.plane)?;
    form::tell(&mut report, asked, points, &heights, seen.minimum_zone);
    map::add(&mut report, asked, points, &heights, seen);
    bent(&mut report, asked, seen.minimum_zone)?;
    report.cite(Source::new(
        SourceKind::Published,
        "ISO 1101 and ISO 12781-1 (2011), minimum zone; from secondary texts",
    ));
    Ok(report)
}

fn figures(
    report: &mut Report,
    asked: &Flatness,
    seen: &flatness::Flatness,
    expanded: Option<Length>,
) -> Result<(), Unanswerable> {
    let shown = |length| shown(length, &asked.unit);
    let mut zone = Figure::new(
        "minimum_zone",
        "flatness, minimum zone",
        seen.minimum_zone,
        shown(seen.minimum_zone),
    )
    .note("the narrowest gap between two parallel planes; no set-up tilt in it");
    if let Some(expanded) = expanded.filter(|expanded| expanded.si() > 0.0) {
        let low = Length::from_si((seen.minimum_zone.si() - expanded.si()).max(0.0))?;
        zone = zone
            .between(low, seen.minimum_zone + expanded)
            .note(format!("± {}, about 95 %", shown(expanded)));
    }
    report.figures.push(zone);
    report.figures.push(
        Figure::new(
            "least_squares",
            "about the mean plane",
            seen.least_squares,
            shown(seen.least_squares),
        )
        .note("never less than the minimum zone; rejects good faces"),
    );
    report.figures.push(
        Figure::new("range", "range as read", seen.range, shown(seen.range))
            .note("with the tilt of the set-up in it"),
    );
    Ok(())
}

fn lead(
    report: &mut Report,
    asked: &Flatness,
    zone: Length,
    expanded: Option<Length>,
) -> Result<(), Unanswerable> {
    let default = match &asked.limit {
        Some(_) => None,
        None => default_limit(asked.face, asked.cylinders)?,
    };
    let Some(limit) = asked.limit.as_ref().or(default.as_ref()) else {
        report.headline = Some(format!(
            "Flat within {}; there is no limit to judge by.",
            shown(zone, &asked.unit)
        ));
        report.asks.push(Ask::new(
            "limit for this face",
            "no verdict without one.",
            "Give the maker's with --limit and --limit-source maker; or --face and --cylinders for a default.",
        ));
        return Ok(());
    };
    let reading = Reading::exactly(zone).with(expanded);
    let decision = decide(
        "flatness",
        Some(&reading),
        limit,
        &acts(expanded)?,
        &asked.unit,
    )?;
    decision.lead(report);
    if let Some(source) = limit.source() {
        report.cite(source);
    }
    report.asks.extend(limit.ask_for_makers("--limit"));
    Ok(())
}

/// What can be done to know a face better, and what it leaves open. *Common practice, no
/// source.*
fn acts(expanded: Option<Length>) -> Result<Vec<Act<Length>>, Unanswerable> {
    let mut acts = Vec::new();
    if let Some(expanded) = expanded {
        acts.push(Act {
            says: "measure the same grid three more times and enter the mean; that halves what is left open".into(),
            minutes: 30,
            leaves: Length::from_si(expanded.si() / 2.0)?,
        });
    }
    acts.push(Act {
        says: "have it measured at the machine shop with an indicator on a surface plate (about ± 0.005 mm)".into(),
        minutes: 240,
        leaves: Length::mm(0.005)?,
    });
    Ok(acts)
}

/// What this set of places cannot show.
fn unseen(report: &mut Report, points: &[Point]) {
    let places = |of: fn(&Point) -> Length| {
        let mut values: Vec<f64> = points.iter().map(|point| of(point).si()).collect();
        values.sort_by(f64::total_cmp);
        values.dedup();
        values.len()
    };
    for (count, word) in [
        (places(|point| point.x), "along"),
        (places(|point| point.y), "across"),
    ] {
        if count < 3 {
            report.findings.push(
                Finding::new(
                    "not-seen",
                    "",
                    format!("with {count} places {word} the face, a bow {word} it is not seen"),
                )
                .next(format!("measure halfway {word} as well")),
            );
        }
    }
}

/// What a bent head asks for beyond its gasket face, and the face on the other side.
fn bent(report: &mut Report, asked: &Flatness, zone: Length) -> Result<(), Unanswerable> {
    let straighten = Length::inches(STRAIGHTEN_ABOVE_INCH)?;
    if matches!(asked.face, Face::Head | Face::Unsaid)
        && (zone > straighten || report.verdict == Some(report::Verdict::Outside))
    {
        let whether = match (asked.overhead_cam, asked.face) {
            (true, _) => "",
            (false, Face::Unsaid) => "If this is a head with cams in it: ",
            (false, _) => "If cams run in this head: ",
        };
        report.asks.push(Ask::new(
            "line of the cam bores",
            format!("{whether}a head that is bent below is bent above, and facing it does not straighten the cam bores."),
            "Lay a straightedge in the bores, or turn the cam by hand in its caps; straighten before facing.",
        ));
        report.cite(Source::common_practice(
            "straighten an overhead-cam head before facing when it is out by more than 0.003 in",
        ));
    }
    let other = match asked.face {
        Face::Head => "the block face",
        Face::Block => "the head face",
        Face::Unsaid => "the face it meets",
        Face::Other => return Ok(()),
    };
    report.findings.push(
        Finding::new(
            "other-face",
            "",
            format!("a gasket has two faces: {other} counts as much as this one"),
        )
        .next(format!("measure {other} too and keep both"))
        .weight(Weight::Note),
    );
    Ok(())
}

/// As shown to a person: no finer than a tenth of a micrometre, which no workshop reads.
fn shown(length: Length, unit: &Unit) -> String {
    let rounded = Length::from_si((length.si() * 1e7).round() / 1e7).unwrap_or(length);
    show(rounded, unit)
}

/// The middle of a height that may be a bound.
fn middle(height: &Height, asked: &Flatness) -> Result<Point, Unanswerable> {
    let z = match height.z {
        Bound::Exactly(z) => z,
        Bound::Between(Range { low, high }) => Length::from_si(low.si() / 2.0 + high.si() / 2.0)?,
        Bound::Below(_) | Bound::Above(_) => {
            return Err(Unanswerable::OneEnded {
                place: format!(
                    "x {}, y {}",
                    show(height.x, &asked.plan),
                    show(height.y, &asked.plan)
                ),
                shown: quantity::show_bound(height.z, &asked.unit),
            });
        }
    };
    Ok(Point {
        x: height.x,
        y: height.y,
        z,
    })
}
