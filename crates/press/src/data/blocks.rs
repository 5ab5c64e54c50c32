//! Blocks of a flowing paper as JSON, one function a kind.

use report::{Align, Cell, Finding, Table, Verdict, Weight};
use serde_json::{Value, json};
use sheet::paper::{Act, Block, Photo, Pulls, Shown, Tick};
use typst::foundations::Bytes;
use typst::visualize::{ExchangeFormat, RasterImage};

use super::Writer;
use crate::PressFault;

/// Writes blocks in their order.
pub(super) fn of(writer: &mut Writer, blocks: &[Block]) -> Result<Vec<Value>, PressFault> {
    under(writer, blocks, 0)
}

/// Writes blocks that stand under a heading of a level.
fn under(writer: &mut Writer, blocks: &[Block], top: u8) -> Result<Vec<Value>, PressFault> {
    // A heading may not skip a level on the way down, or the bookmarks and a screen reader
    // lose their way.
    let mut deepest = top;
    blocks
        .iter()
        .map(|block| {
            if let Block::Heading(level, _) = block {
                deepest = (*level).clamp(top + 1, deepest + 1);
            }
            one(writer, block, deepest)
        })
        .collect()
}

fn one(writer: &mut Writer, block: &Block, level: u8) -> Result<Value, PressFault> {
    Ok(match block {
        Block::Heading(_, says) => {
            json!({ "is": "heading", "level": level, "says": writer.text(says) })
        }
        Block::Chapter(says, blocks) => json!({
            "is": "chapter", "says": writer.text(says), "blocks": under(writer, blocks, 1)?,
        }),
        Block::Contents => json!({ "is": "contents" }),
        Block::Words(says) => json!({ "is": "words", "says": writer.text(says) }),
        Block::Small(says) => json!({ "is": "small", "says": writer.text(says) }),
        Block::Outcome(verdict, says) => json!({
            "is": "outcome", "verdict": verdict.map(Verdict::word), "says": writer.text(says),
        }),
        Block::Figures(shown) => json!({ "is": "figures", "figures": figures(writer, shown) }),
        Block::Rows(table) => rows(writer, table, false),
        Block::TickRows(table) => rows(writer, table, true),
        Block::List(lines) => json!({ "is": "list", "lines": writer.texts(lines) }),
        Block::Boxes(ticks) => json!({ "is": "boxes", "ticks": ticks_of(writer, ticks) }),
        Block::Acts(acts) => {
            let acts: Vec<Value> = acts.iter().map(|act| act_of(writer, act)).collect();
            json!({ "is": "acts", "acts": acts })
        }
        Block::Pulls(all) => pulls(writer, all),
        Block::Drawing { picture, told } => {
            let svg = sheet::drawing::printed(picture);
            let svg = writer.letters.written(&svg).into_bytes();
            json!({ "is": "drawing", "file": writer.file("svg", svg), "told": writer.text(told) })
        }
        Block::Photo(it) => photo(writer, it)?,
        Block::Noticed(finding) => noticed(writer, finding),
        Block::Care(caution) => json!({
            "is": "care", "act": writer.text(&caution.act), "says": writer.text(&caution.says),
        }),
        Block::Margin(margin) => json!({
            "is": "margin", "heading": writer.text(&margin.heading),
            "lines": writer.texts(&margin.lines),
        }),
        Block::Beside(left, right) => json!({
            "is": "beside",
            "left": under(writer, left, level)?, "right": under(writer, right, level)?,
        }),
        Block::Write(what, lines) => {
            json!({ "is": "write", "what": writer.text(what), "lines": lines })
        }
        Block::NewPage => json!({ "is": "new-page" }),
    })
}

fn figures(writer: &mut Writer, shown: &[Shown]) -> Vec<Value> {
    let figure = |it: &Shown| {
        json!({
            "label": writer.text(&it.label), "shown": writer.text(&it.shown),
            "note": writer.maybe(it.note.as_deref()),
        })
    };
    shown.iter().map(figure).collect()
}

fn ticks_of(writer: &mut Writer, ticks: &[Tick]) -> Vec<Value> {
    let tick = |it: &Tick| {
        json!({
            "says": writer.text(&it.says), "end": writer.maybe(it.end.as_deref()),
            "done": it.done,
        })
    };
    ticks.iter().map(tick).collect()
}

fn act_of(writer: &mut Writer, act: &Act) -> Value {
    let cautions: Vec<Value> = act
        .cautions
        .iter()
        .map(|it| json!({ "act": writer.text(&it.act), "says": writer.text(&it.says) }))
        .collect();
    let stops: Vec<Value> = act.noticed.iter().map(|it| noticed(writer, it)).collect();
    json!({
        "number": writer.text(&act.number),
        "says": writer.text(&act.says),
        "place": writer.maybe(act.place.as_deref()),
        "with": writer.texts(&act.with),
        "why": writer.maybe(act.why.as_deref()),
        "figures": figures(writer, &act.figures),
        "cautions": cautions,
        "noticed": stops,
        "last-chance": writer.texts(&act.last_chance),
        "done": act.done,
    })
}

fn pulls(writer: &mut Writer, pulls: &Pulls) -> Value {
    let stages: Vec<Value> = pulls
        .stages
        .iter()
        .map(|it| {
            json!({
                "name": writer.text(&it.name), "setting": writer.text(&it.setting),
                "figure": writer.text(&it.figure), "wrench": writer.text(&it.wrench),
            })
        })
        .collect();
    let bolts: Vec<Value> = pulls
        .bolts
        .iter()
        .map(|it| {
            json!({
                "number": it.number, "hole": writer.text(&it.hole),
                "label": writer.text(&it.label), "had": it.had,
            })
        })
        .collect();
    json!({ "is": "pulls", "stages": stages, "bolts": bolts })
}

/// Rows under the columns that have a heading; the others are for programs.
fn rows(writer: &mut Writer, table: &Table, ticks: bool) -> Value {
    let shown: Vec<usize> = (0..table.columns.len())
        .filter(|&at| !table.columns[at].heading.is_empty())
        .collect();
    let right = |at: usize| table.columns[at].align == Align::Right;
    let heads: Vec<Value> = shown
        .iter()
        .map(|&at| json!({ "text": table.columns[at].heading, "right": right(at) }))
        .collect();
    let rows: Vec<Vec<Value>> = table
        .rows
        .iter()
        .map(|row| {
            let cells = shown.iter().map(|&at| {
                let (text, verdict) = match row.get(at) {
                    Some(Cell::Verdict(verdict)) => (String::new(), Some(verdict.word())),
                    Some(cell) => (word(cell), None),
                    None => (String::new(), None),
                };
                json!({ "text": writer.text(&text), "verdict": verdict, "right": right(at) })
            });
            cells.collect()
        })
        .collect();
    json!({ "is": "rows", "heads": heads, "rows": rows, "ticks": ticks })
}

fn word(cell: &Cell) -> String {
    match cell {
        Cell::None => String::new(),
        Cell::Text(text) | Cell::Number(_, text) => text.clone(),
        Cell::Figure(figure) => figure.shown.clone(),
        Cell::Verdict(verdict) => verdict.word().to_owned(),
        Cell::List(words) => words.join(", "),
        Cell::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
    }
}

fn noticed(writer: &mut Writer, finding: &Finding) -> Value {
    // The concern is not said twice where the sentence begins with it.
    let said = finding
        .says
        .to_lowercase()
        .starts_with(&finding.concerns.to_lowercase());
    let concerns = (!finding.concerns.is_empty() && !said).then_some(finding.concerns.as_str());
    json!({
        "is": "noticed",
        "weight": match finding.weight {
            Weight::Stop => "stop",
            Weight::Look => "look",
            Weight::Note => "note",
        },
        "concerns": writer.maybe(concerns),
        "says": writer.text(&finding.says),
        "detail": writer.texts(&finding.detail),
        "points-to": writer.maybe(finding.points_to.as_deref()),
        "next": writer.maybe(finding.next.as_deref()),
    })
}

fn photo(writer: &mut Writer, photo: &Photo) -> Result<Value, PressFault> {
    if photo.told.trim().is_empty() {
        return Err(PressFault::Untold {
            caption: photo.caption.clone(),
        });
    }
    let unreadable = || PressFault::Picture {
        told: photo.told.clone(),
    };
    let (format, ending) = match photo.bytes.as_slice() {
        [0xFF, 0xD8, 0xFF, ..] => (ExchangeFormat::Jpg, "jpg"),
        [0x89, b'P', b'N', b'G', ..] => (ExchangeFormat::Png, "png"),
        _ => return Err(unreadable()),
    };
    // Decoded here so that a broken file is named by its words and not by a line of a
    // template. The compiler remembers the result, so it is not done twice.
    RasterImage::plain(Bytes::new(photo.bytes.clone()), format).map_err(|_| unreadable())?;
    let mut marks = Vec::new();
    for mark in &photo.marks {
        for share in [mark.across, mark.down] {
            // Also refuses what is no number at all.
            if !(0.0..=1.0).contains(&share) {
                return Err(PressFault::Measure {
                    what: format!("the mark “{}” on a picture", mark.says),
                    value: share.to_string(),
                    needs: "a share from 0 to 1",
                });
            }
        }
        marks.push(writer.text(&mark.says));
    }
    let over = match sheet::drawing::marks(photo) {
        Some(drawn) => writer.file("svg", drawn.into_bytes()),
        None => Value::Null,
    };
    Ok(json!({
        "is": "photo",
        "file": writer.file(ending, photo.bytes.clone()),
        "told": writer.text(&photo.told),
        "caption": writer.text(&photo.caption),
        "marks": marks,
        "over": over,
    }))
}
