//! `matchmark hand`: the act in hand and what comes after it.

use app::hand::Asked;
use clap::Args;
use report::{Finding, Report};

use crate::context::Context;

/// Show the act in hand and the next ones: place, tool, figure, why now, what to lay out, what
/// is about to be covered.
#[derive(Debug, Args)]
pub struct Hand {
    /// What is to be got at; without it, the way back of what is off.
    #[arg(value_name = "PART")]
    targets: Vec<String>,

    /// Who is at work, the asker first; give it again for a second pair of hands.
    #[arg(long = "at-work", value_name = "WHO")]
    people: Vec<String>,

    /// What somebody has in hand already: `ana=runners`, `"rui=do-up head-bolts"`.
    #[arg(long = "holds", value_name = "WHO=STEP")]
    holding: Vec<String>,

    /// Acts to show after the one in hand.
    #[arg(long, value_name = "COUNT")]
    ahead: Option<usize>,
}

impl Hand {
    /// Asks what is in hand.
    pub fn ask(&self, context: &Context) -> Report {
        let mut holding = Vec::new();
        for text in &self.holding {
            match text.split_once('=') {
                Some((who, what)) if !who.trim().is_empty() && !what.trim().is_empty() => {
                    holding.push((who.trim().to_owned(), what.trim().to_owned()));
                }
                _ => {
                    let finding =
                        Finding::new("holds", text.clone(), "--holds wants a person and a step")
                            .next("write --holds \"ana=on runners\"");
                    return Report::refusal("hand", "In hand", finding);
                }
            }
        }
        let asked = Asked {
            targets: self.targets.clone(),
            people: self.people.clone(),
            holding,
            ahead: self.ahead,
            now_micros: context.now_micros,
        };
        context.with_job("hand", |folder| app::hand::hand(folder, &asked))
    }
}
