//! The joints of a job with their stages and how far each is: where to begin, where to go on.

use book::JointId;
use job::State;
use report::{Align, Cell, Figure, Report, Table};

use crate::tighten_joint::Course;
use crate::tighten_joint::order::Layout;

const COMMAND: &str = "tighten";

/// How far a joint is. In the order in which a reader wants them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Standing {
    UnderWay,
    ToBegin,
    BoltsOut,
    Done,
    NoFigure,
    Untouched,
}

impl Standing {
    const fn words(self) -> &'static str {
        match self {
            Self::UnderWay => "under way",
            Self::ToBegin => "to begin",
            Self::BoltsOut => "bolts out",
            Self::Done => "done",
            Self::NoFigure => "in, no figure",
            Self::Untouched => "not undone",
        }
    }

    fn of(state: &State, id: &JointId, course: &Course<'_>) -> Self {
        let held = state.joints.get(id);
        if course.is_begun() {
            return match course.next() {
                Some(_) => Self::UnderWay,
                None => Self::Done,
            };
        }
        let open = held.is_some_and(|held| held.open);
        if open
            || course
                .seats
                .iter()
                .all(super::tighten_joint::Seat::is_empty)
        {
            return Self::BoltsOut;
        }
        let undone = held.is_some_and(|held| held.was_open)
            || course
                .seats
                .iter()
                .any(|seat| seat.held.is_some_and(|held| held.loosened));
        match (undone, course.groups.is_empty()) {
            (false, _) => Self::Untouched,
            (true, true) => Self::NoFigure,
            (true, false) => Self::ToBegin,
        }
    }
}

/// One joint of the list.
struct Listed {
    standing: Standing,
    id: JointId,
    bolts: usize,
    stages: usize,
    done: usize,
    of: usize,
    next: Option<String>,
}

/// Lists the joints that are tightened; those nobody has touched only where `all` is asked
/// for or nothing else is there.
#[must_use]
pub fn list(state: &State, all: bool) -> Report {
    let mut listed: Vec<Listed> = state
        .known
        .joints
        .iter()
        .filter_map(|joint| one(state, &joint.id))
        .collect();
    listed.sort_by(|a, b| (a.standing, &a.id).cmp(&(b.standing, &b.id)));
    let count = |standing| listed.iter().filter(|one| one.standing == standing).count();
    let (under_way, to_begin) = (count(Standing::UnderWay), count(Standing::ToBegin));
    let untouched = count(Standing::Untouched);
    let hides = !all && untouched < listed.len();
    let mut report = Report::new(COMMAND, "Tightening, joint by joint");
    report.headline = Some(if listed.is_empty() {
        "No joint with bolts is known.".to_owned()
    } else {
        let hidden = if hides && untouched > 0 {
            format!(" {untouched} not undone in this job are left out (--all).")
        } else {
            String::new()
        };
        format!("{under_way} under way, {to_begin} to begin.{hidden}")
    });
    report.figures = vec![
        Figure::count("under_way", "under way", under_way),
        Figure::count("to_begin", "to begin", to_begin),
    ];
    let mut table = Table::new(&[
        ("joint", "joint", Align::Left),
        ("bolts", "bolts", Align::Right),
        ("stages", "stages", Align::Right),
        ("done", "pulls", Align::Right),
        ("standing", "is", Align::Left),
        ("next_hole", "next", Align::Left),
    ]);
    for one in &listed {
        if hides && one.standing == Standing::Untouched {
            continue;
        }
        let stages = if one.stages == 0 {
            Cell::Number(0.0, "no figure".to_owned())
        } else {
            Cell::from(one.stages)
        };
        let count = u32::try_from(one.done).map_or(f64::MAX, f64::from);
        table.push(vec![
            Cell::from(one.id.to_string()),
            Cell::from(one.bolts),
            stages,
            Cell::Number(count, format!("{} of {}", one.done, one.of)),
            Cell::from(one.standing.words()),
            Cell::from(one.next.clone()),
        ]);
    }
    report.rows = table;
    report
}

fn one(state: &State, id: &JointId) -> Option<Listed> {
    let course = Course::of(state, id, Layout::NotSaid).ok()??;
    if course.seats.is_empty() {
        return None;
    }
    let standing = Standing::of(state, id, &course);
    let pulls = course
        .passes
        .iter()
        .flat_map(|pass| pass.seats.iter().map(move |&seat| (pass, seat)));
    let had = |(pass, seat): &(&crate::tighten_joint::Pass, usize)| {
        let seat = course.seats.get(*seat);
        seat.is_some_and(|seat| seat.has_had(pass.stage, pass.round))
    };
    let next = matches!(standing, Standing::UnderWay | Standing::ToBegin)
        .then(|| course.next())
        .flatten()
        .and_then(|next| Some((course.passes.get(next.pass)?, course.seats.get(next.seat)?)))
        .map(|(pass, seat)| format!("{}, stage {}", seat.hole.name, pass.stage));
    Some(Listed {
        standing,
        id: id.clone(),
        bolts: course.seats.len(),
        stages: course
            .groups
            .iter()
            .map(|group| group.stages.len())
            .max()
            .unwrap_or(0),
        done: pulls.clone().filter(had).count(),
        of: pulls.count(),
        next,
    })
}
