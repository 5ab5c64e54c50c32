//! What to buy: a box for each thing, with the day it is needed.

use report::{Finding, Report};
use sheet::paper::{Block, Margin, Paper, Reading, Tick};

use super::{What, Wish, nothing, refused};
use crate::calendar::{Asked, calendar};

/// What is surely needed, what is decided on when it is seen, and what holds the finish up.
pub(super) fn of(wish: &Wish<'_>) -> Result<Paper, Box<Finding>> {
    let report = calendar(
        wish.folder,
        &Asked {
            from: None,
            now_micros: wish.now_micros,
            targets: wish.targets.clone(),
            since: None,
            moves: None,
            seed: None,
        },
    );
    if report.refused {
        return Err(refused(What::Buying, &report));
    }
    let blocks = blocks(&report);
    if blocks.is_empty() {
        return Err(nothing(
            What::Buying,
            "nothing is to be bought for what is left to do",
            "before anything comes off, name what is to be got at: --for PART",
        ));
    }
    Ok(wish.pages(What::Buying, "What to buy", Reading::Desk, blocks))
}

fn blocks(report: &Report) -> Vec<Block> {
    let of = |code: &'static str| {
        let findings = report.findings.iter();
        findings.filter(move |finding| finding.code == code)
    };
    let mut blocks = Vec::new();
    let late: Vec<String> = of("order-by").map(|finding| finding.says.clone()).collect();
    if !late.is_empty() {
        blocks.push(Block::Margin(Margin {
            heading: "These set the day you finish".to_owned(),
            lines: late,
        }));
    }
    for (code, heading) in [
        ("buy-now", "Order now"),
        ("buy-after-looking", "Decide when it is off and looked at"),
    ] {
        for finding in of(code) {
            blocks.push(Block::Heading(1, heading.to_owned()));
            blocks.push(Block::Words(sentence(&finding.says)));
            blocks.push(Block::Boxes(
                finding.detail.iter().cloned().map(Tick::new).collect(),
            ));
            blocks.extend(finding.next.iter().map(|next| Block::Small(sentence(next))));
        }
    }
    if !blocks.is_empty() {
        blocks.push(Block::Write(
            "Ordered where, under which number:".to_owned(),
            4,
        ));
    }
    blocks
}

/// A line of an answer as a sentence of its own.
fn sentence(line: &str) -> String {
    let mut letters = line.chars();
    let first: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}
