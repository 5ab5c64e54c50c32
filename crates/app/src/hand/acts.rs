//! The acts of a stretch of work, one after the other, each as an answer of its own: what a
//! job sheet is printed from.
//!
//! The order is the plan's and the sharing out the same as in hand; only the rounds go on
//! until the time is filled.

use planning::answer::Job;
use planning::answer::hand::{self, Question};
use planning::hand::Turn;
use quantity::Duration;
use report::Report;

use super::{Asked, COMMAND, Sheets, TITLE, joint, left, not_begun, share_out, workers};
use crate::folder::Folder;
use crate::reach::{refused, targets};

/// Rounds on one sheet where nothing else ends it: more nobody does in one day.
const MOST: usize = 40;

/// How much is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stretch {
    /// So much time.
    Time(Duration),
    /// So many acts one after the other, where nobody knows the time.
    Rounds(usize),
}

/// One act of one person.
#[derive(Clone, Debug)]
pub struct Act {
    /// The person.
    pub who: String,
    /// From 0; acts of one round are done at the same time, and a round ends before the next.
    pub round: usize,
    /// Lends a hand at the act of somebody else.
    pub helps: bool,
    /// What is done, with its row, its care and what it covers.
    pub report: Report,
    /// The tightening sheet of the joint that is done up.
    pub pulls: Option<Report>,
}

/// The acts that fill a stretch of work.
#[derive(Clone, Debug)]
pub struct Acts {
    /// In their order, everybody's.
    pub acts: Vec<Act>,
    /// Steps that are left in all.
    pub left: usize,
    /// How long they take, as far as the book says; one waits for the other in each round.
    pub takes: Duration,
}

/// The acts that come next, to fill a stretch. `pace` says how much longer than the book a
/// person takes.
///
/// # Errors
/// The answer that says why there are none.
pub fn acts(
    folder: &Folder,
    asked: &Asked,
    pace: &dyn Fn(&str) -> f64,
    stretch: Stretch,
) -> Result<Acts, Box<Report>> {
    let state = &folder.state;
    let targets = targets(state, &asked.targets)
        .map_err(|findings| Box::new(refused(COMMAND, TITLE, findings)))?;
    if let Some(report) = not_begun(state, asked) {
        return Err(Box::new(report));
    }
    let plan = left(folder, targets)?;
    let (workers, _) = workers(asked, &plan);
    let mut sheets = Sheets::default();
    if workers.len() > 1 {
        let joints = plan.steps.iter().filter_map(|step| joint(&step.name));
        sheets.read(folder, joints, asked.now_micros);
    }
    let all = share_out(folder, &plan, &workers, &sheets, MOST - 1);
    let minutes = |turn: &Turn| {
        let takes = plan.steps[turn.step].takes;
        let likely = takes.map_or(0.0, |takes| takes.likely.in_minutes());
        likely * pace(&workers[turn.who].name)
    };
    let (rounds, takes) = filled(&all, minutes, stretch);
    let turns: Vec<Turn> = all.into_iter().filter(|it| it.round < rounds).collect();
    let joints = turns
        .iter()
        .filter_map(|turn| joint(&plan.steps[turn.step].name));
    sheets.read(folder, joints, asked.now_micros);
    let job = Job::of(state);
    let question = Question {
        job: &job,
        state,
        plan: &plan,
        workers: &workers,
        asks: 0,
        turns: &turns,
        pulls: &sheets.pulls,
    };
    let acts = turns.iter().map(|turn| Act {
        who: workers[turn.who].name.clone(),
        round: turn.round,
        helps: turn.helps,
        report: hand::act(&question, turn),
        pulls: joint(&plan.steps[turn.step].name)
            .and_then(|joint| sheets.whole.get(joint))
            .filter(|_| !turn.helps)
            .cloned(),
    });
    Ok(Acts {
        acts: acts.collect(),
        left: plan.steps.len(),
        takes,
    })
}

/// How many rounds fit, at least one, and how long they take together. Nobody begins a round
/// before the slowest has ended the one before.
fn filled(turns: &[Turn], minutes: impl Fn(&Turn) -> f64, stretch: Stretch) -> (usize, Duration) {
    let mut sum = 0.0;
    let mut rounds = 0;
    loop {
        let own: Vec<f64> = turns
            .iter()
            .filter(|turn| turn.round == rounds)
            .map(&minutes)
            .collect();
        let longest = own.iter().copied().fold(0.0, f64::max);
        let full = match stretch {
            Stretch::Time(time) => rounds > 0 && sum + longest > time.in_minutes(),
            Stretch::Rounds(most) => rounds >= most,
        };
        if own.is_empty() || full {
            return (rounds, Duration::minutes(sum).unwrap_or_default());
        }
        sum += longest;
        rounds += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turn(who: usize, round: usize, step: usize) -> Turn {
        Turn {
            who,
            round,
            step,
            beside: Vec::new(),
            helps: false,
        }
    }

    /// Rounds of 30, 50 and 20 minutes by hand: the slower of two sets the pace.
    #[test]
    fn a_stretch_is_filled_round_by_round_at_the_pace_of_the_slower() {
        let turns = [
            turn(0, 0, 30),
            turn(1, 0, 10),
            turn(0, 1, 5),
            turn(1, 1, 50),
            turn(0, 2, 20),
        ];
        let minutes = |turn: &Turn| f64::from(u32::try_from(turn.step).unwrap());
        let fits = |stretch| {
            let (rounds, takes) = filled(&turns, minutes, stretch);
            (rounds, takes.in_minutes().round())
        };
        let time = |minutes| Stretch::Time(Duration::minutes(minutes).unwrap());
        assert_eq!(fits(time(80.0)), (2, 80.0));
        assert_eq!(fits(time(79.0)), (1, 30.0));
        assert_eq!(fits(time(1.0)), (1, 30.0), "the first is always on it");
        assert_eq!(fits(time(1000.0)), (3, 100.0));
        assert_eq!(fits(Stretch::Rounds(2)), (2, 80.0));
        assert_eq!(fits(Stretch::Rounds(9)), (3, 100.0));
    }
}
