//! Outside work as branches: good, needs work, scrapped, each with its dates.

use book::OutcomeKind;
use report::{Ask, Finding, Report, Weight};

use super::Told;
use crate::calendar::Branch;

/// Each piece of outside work with the ways it can end.
pub(super) fn branches(report: &mut Report, told: &Told<'_>) {
    let mut works: Vec<(&Branch, Vec<&Branch>)> = Vec::new();
    for branch in &told.calendar.branches {
        match works.last_mut() {
            Some((first, all)) if first.part == branch.part && first.what == branch.what => {
                all.push(branch)
            }
            Some(_) | None => works.push((branch, vec![branch])),
        }
    }
    for (work, ends) in works {
        let says = format!(
            "{}: {}, and what becomes of the finish",
            told.job.graph.part_name(&work.part),
            work.what
        );
        let mut finding =
            Finding::new("outside-work", work.part.to_string(), says).weight(Weight::Note);
        for branch in ends {
            let line = match branch.dated {
                Some((back, finish)) => format!(
                    "{}: back {}, finish {}",
                    end_word(branch.ends),
                    told.day(back),
                    told.day(finish)
                ),
                None => format!("{}: nobody wrote how long it takes", end_word(branch.ends)),
            };
            finding = finding.detail(line);
            if branch.dated.is_none() {
                report.asks.push(Ask::new(
                    format!(
                        "days of {} of {}, {}",
                        work.what,
                        work.part,
                        end_word(branch.ends)
                    ),
                    "without them it counts as back at once",
                    "write takes=\"4..6 d\" at the outcome in the book",
                ));
            }
        }
        report.findings.push(finding);
    }
}

const fn end_word(end: OutcomeKind) -> &'static str {
    match end {
        OutcomeKind::Good => "good",
        OutcomeKind::NeedsWork => "needs work",
        OutcomeKind::Scrap => "scrapped",
    }
}
