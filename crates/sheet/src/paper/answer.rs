//! A report as blocks of a paper, in the order a terminal shows it.

use report::{Picture, Report};

use super::{Block, Shown};

/// The blocks of an answer under headings of a level. The title is left to the paper, or to
/// a heading of the level above.
#[must_use]
pub fn answer(report: &Report, level: u8) -> Vec<Block> {
    let mut blocks = Vec::new();
    if report.verdict.is_some() || report.headline.is_some() {
        blocks.push(Block::Outcome(
            report.verdict,
            report.headline.clone().unwrap_or_default(),
        ));
    }
    if !report.figures.is_empty() {
        blocks.push(Block::Figures(
            report.figures.iter().map(Shown::from).collect(),
        ));
    }
    blocks.extend(report.pictures.iter().map(drawing));
    if !report.rows.rows.is_empty() {
        blocks.push(Block::Rows(report.rows.clone()));
    }
    blocks.extend(report.findings.iter().cloned().map(Block::Noticed));
    blocks.extend(report.cautions.iter().cloned().map(Block::Care));
    let asks = report
        .asks
        .iter()
        .map(|ask| format!("{}: {} {}", ask.what, ask.why, ask.how));
    list(&mut blocks, level, "Still to know", asks.collect());
    list(&mut blocks, level, "Because", report.because.clone());
    let sources = report
        .sources
        .iter()
        .map(|source| format!("{} ({})", source.title, source.kind.word()));
    list(&mut blocks, level, "Sources", sources.collect());
    blocks
}

fn list(blocks: &mut Vec<Block>, level: u8, heading: &str, lines: Vec<String>) {
    if !lines.is_empty() {
        blocks.push(Block::Heading(level, heading.to_owned()));
        blocks.push(Block::List(lines));
    }
}

/// A drawing with the words that tell it.
fn drawing(picture: &Picture) -> Block {
    Block::Drawing {
        told: told(picture),
        picture: picture.clone(),
    }
}

/// What a picture shows, in words, for a reader who does not see it.
#[must_use]
pub fn told(picture: &Picture) -> String {
    match picture {
        Picture::Holes(holes) => {
            let turns: Vec<String> = holes
                .holes
                .iter()
                .map(|hole| match hole.number {
                    Some(number) => format!("{number} is {}", hole.name),
                    None => hole.name.clone(),
                })
                .collect();
            format!("{}, holes: {}", holes.title, turns.join(", "))
        }
        Picture::Bars(bars) => {
            let said: Vec<String> = bars
                .banks
                .iter()
                .flat_map(|bank| &bank.bars)
                .map(|bar| format!("cylinder {} {}", bar.name, bar.shown))
                .collect();
            format!("{}: {} ({})", bars.title, said.join(", "), bars.unit)
        }
        Picture::Contour(contour) => format!(
            "{}: contour lines over {} measured points, a line every {} µm",
            contour.title,
            contour.points.len(),
            contour.step_um
        ),
        Picture::Days(days) => {
            let lanes: Vec<&str> = days.lanes.iter().map(|lane| lane.name.as_str()).collect();
            format!("{}: work over days for {}", days.title, lanes.join(", "))
        }
        Picture::Net(net) => format!(
            "{}: {} things and {} lines between them",
            net.title,
            net.things.len(),
            net.joins.len()
        ),
        Picture::Board(board) => {
            let rows = board.groups.iter().flat_map(|group| &group.rows);
            let said: Vec<String> = rows
                .map(|row| {
                    format!(
                        "{} from {} to {}",
                        row.label, row.ends[0].port, row.ends[1].port
                    )
                })
                .collect();
            format!("{}: {}", board.title, said.join("; "))
        }
        Picture::Bay(bay) => {
            let said: Vec<String> = bay
                .people
                .iter()
                .map(|person| format!("{} {}: {}", person.who, person.zone, person.has))
                .collect();
            format!("{}; {}", bay.title, said.join("; "))
        }
    }
}
