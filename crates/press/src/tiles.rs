//! A bolt card spread over pages: where each hole and its words lie, which page they are on,
//! and the marks by which the pages are joined. Millimetres from the left upper corner, down.

mod words;

use serde_json::{Value, json};
use sheet::paper::{Card, CardHole, Size, Towards};

use self::words::{Placed, Rect};
use crate::PressFault;

/// Room left for the head, the rulers and what a printer cannot reach.
const LEFT: f64 = 17.0;
const RIGHT: f64 = 9.0;
const TOP: f64 = 38.0;
const BOTTOM: f64 = 27.0;

/// Two pages that are glued share a strip this wide.
const OVERLAP: f64 = 24.0;

/// More pages than this nobody glues together.
const MOST: usize = 24;

/// A cell of a card without measured places: wide enough for the words, high enough for a bolt head.
const CELL: (f64, f64) = (46.0, 40.0);

/// The field of a page that holes may lie in.
#[derive(Clone, Copy, Debug)]
struct Field {
    flip: bool,
    wide: f64,
    tall: f64,
}

impl Field {
    fn of(size: Size, flip: bool) -> Self {
        let (wide, tall) = size.mm();
        let (wide, tall) = if flip { (tall, wide) } else { (wide, tall) };
        Self {
            flip,
            wide: wide - LEFT - RIGHT,
            tall: tall - TOP - BOTTOM,
        }
    }

    /// How many pages side by side and below each other a drawing needs.
    fn pages(&self, wide: f64, tall: f64) -> (usize, usize) {
        let along = |length: f64, field: f64| {
            let mut count = 1_usize;
            while field + whole(count - 1) * (field - OVERLAP) < length && count <= MOST {
                count += 1;
            }
            count
        };
        (along(wide, self.wide), along(tall, self.tall))
    }
}

/// A drawing cut into pages.
struct Cut {
    placed: Vec<Placed>,
    field: Field,
    columns: usize,
    rows: usize,
    /// The corner of the first page's field on the drawing.
    corner: (f64, f64),
    /// From one page to the next, each way.
    step: (f64, f64),
}

/// Holes by their measures, on as few pages as the sheet allows, in the middle of them.
fn by_measure(card: &Card, size: Size) -> Cut {
    let placed = words::place(&card.holes, card.scale);
    let bounds = placed
        .iter()
        .map(Placed::bounds)
        .reduce(Rect::around)
        .unwrap_or_default()
        .wider(3.0);
    let (wide, tall) = (bounds.right - bounds.left, bounds.bottom - bounds.top);
    let pages = |field: &Field| field.pages(wide, tall);
    let (upright, flat) = (Field::of(size, false), Field::of(size, true));
    let count = |(columns, rows): (usize, usize)| columns * rows;
    let field = if count(pages(&flat)) < count(pages(&upright)) {
        flat
    } else {
        upright
    };
    let (columns, rows) = pages(&field);
    let covered = |count: usize, field: f64| field + whole(count - 1) * (field - OVERLAP);
    Cut {
        placed,
        field,
        columns,
        rows,
        corner: (
            bounds.left - (covered(columns, field.wide) - wide) / 2.0,
            bounds.top - (covered(rows, field.tall) - tall) / 2.0,
        ),
        step: (field.wide - OVERLAP, field.tall - OVERLAP),
    }
}

/// Holes nobody measured, in rows in the order given, page by page.
fn in_rows(holes: &[CardHole], size: Size) -> Cut {
    let field = Field::of(size, false);
    let (across, down) = (floor(field.wide / CELL.0), floor(field.tall / CELL.1));
    let margin = (field.wide - whole(across) * CELL.0) / 2.0;
    let placed = holes.iter().enumerate().map(|(at, hole)| {
        let (page, place) = (at / (across * down), at % (across * down));
        let x = margin + (whole(place % across) + 0.5) * CELL.0;
        let y = whole(page) * field.tall + whole(place / across) * CELL.1 + 13.0;
        Placed::below(hole, x, y, 1.0)
    });
    Cut {
        placed: placed.collect(),
        field,
        columns: 1,
        rows: holes.len().div_ceil(across * down).max(1),
        corner: (0.0, 0.0),
        step: (field.wide, field.tall),
    }
}

/// The card as data for its template.
pub(crate) fn of(
    card: &Card,
    size: Size,
    written: &mut dyn FnMut(&str) -> String,
) -> Result<Value, PressFault> {
    check(card)?;
    let cut = if card.measured {
        by_measure(card, size)
    } else {
        in_rows(&card.holes, size)
    };
    let Cut {
        field,
        columns,
        rows,
        ..
    } = cut;
    if columns * rows > MOST {
        return Err(PressFault::TooLarge {
            pages: columns * rows,
        });
    }
    let places = (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row)));
    let pages: Vec<Value> = places
        .map(|place| page_of(card, &cut, place, written))
        .collect();
    Ok(json!({
        "is": "card",
        "measured": card.measured,
        "scale": scale_of(card),
        "full": (card.scale - 1.0).abs() < 1e-9,
        "drive-end": card.drive_end.map(side),
        "flip": field.flip,
        "field": { "left": LEFT, "top": TOP, "wide": field.wide, "tall": field.tall },
        "overlap": OVERLAP,
        "columns": columns, "rows": rows,
        "inches": size == Size::Letter,
        "pages": pages,
    }))
}

fn check(card: &Card) -> Result<(), PressFault> {
    let refuse = |what: String, value: f64, needs: &'static str| {
        Err(PressFault::Measure {
            what,
            value: value.to_string(),
            needs,
        })
    };
    if !(0.05..=4.0).contains(&card.scale) {
        return refuse(
            "the scale of the card".to_owned(),
            card.scale,
            "between 0.05 and 4",
        );
    }
    for hole in &card.holes {
        for value in [hole.x_mm, hole.y_mm] {
            if !value.is_finite() {
                return refuse(
                    format!("the place of hole {}", hole.name),
                    value,
                    "a length",
                );
            }
        }
        if let Some(thread) = hole.thread_mm
            && !(thread.is_finite() && thread > 0.0)
        {
            return refuse(
                format!("the thread of hole {}", hole.name),
                thread,
                "a width",
            );
        }
    }
    Ok(())
}

fn page_of(
    card: &Card,
    cut: &Cut,
    (column, row): (usize, usize),
    written: &mut dyn FnMut(&str) -> String,
) -> Value {
    let left = cut.corner.0 + whole(column) * cut.step.0;
    let top = cut.corner.1 + whole(row) * cut.step.1;
    let own = Rect {
        left,
        top,
        right: left + cut.field.wide,
        bottom: top + cut.field.tall,
    };
    let holes: Vec<Value> = cut
        .placed
        .iter()
        .filter(|placed| placed.bounds().meets(&own))
        .map(|placed| {
            let lines: Vec<String> = placed.lines.iter().map(|line| written(line)).collect();
            json!({
                "x": placed.x - left, "y": placed.y - top,
                "ring": placed.ring, "arm": placed.arm,
                "name": written(&placed.name), "lines": lines,
                "words": {
                    "x": placed.words.left - left, "y": placed.words.top - top,
                    "wide": placed.words.right - placed.words.left, "side": placed.side,
                },
            })
        })
        .collect();
    let neighbour = |there: bool, column: usize, row: usize| there.then(|| name(column, row));
    let joined = card.measured;
    json!({
        "name": name(column, row),
        "column": column, "row": row,
        "holes": holes,
        "left": neighbour(joined && column > 0, column.wrapping_sub(1), row),
        "right": neighbour(joined && column + 1 < cut.columns, column + 1, row),
        "above": neighbour(joined && row > 0, column, row.wrapping_sub(1)),
        "below": neighbour(joined && row + 1 < cut.rows, column, row + 1),
    })
}

/// `A1`, `B1` along the first row, `A2` below.
fn name(column: usize, row: usize) -> String {
    let letter = u8::try_from(column)
        .ok()
        .and_then(|column| b'A'.checked_add(column))
        .map_or('?', char::from);
    format!("{letter}{}", row + 1)
}

/// `full size`, `1 : 2`, `2 : 1`.
fn scale_of(card: &Card) -> String {
    if !card.measured {
        return "not to scale".to_owned();
    }
    let plain = |value: f64| {
        let text = format!("{value:.2}");
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    if (card.scale - 1.0).abs() < 1e-9 {
        "full size, 1 : 1".to_owned()
    } else if card.scale < 1.0 {
        format!("1 : {}", plain(1.0 / card.scale))
    } else {
        format!("{} : 1", plain(card.scale))
    }
}

const fn side(towards: Towards) -> &'static str {
    match towards {
        Towards::Left => "left",
        Towards::Right => "right",
        Towards::Up => "above",
        Towards::Down => "below",
    }
}

fn whole(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::from(u32::MAX), f64::from)
}

/// Whole cells in a length; at least one.
fn floor(cells: f64) -> usize {
    let mut count = 1;
    while whole(count + 1) <= cells {
        count += 1;
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_cover_a_length_with_their_overlap() {
        let field = Field::of(Size::A4, false);
        assert_eq!(field.pages(field.wide, field.tall), (1, 1));
        assert_eq!(field.pages(field.wide + 0.1, field.tall), (2, 1));
        let two = 2.0 * field.wide - OVERLAP;
        assert_eq!(field.pages(two, 10.0), (2, 1));
        assert_eq!(field.pages(two + 0.1, 10.0), (3, 1));
    }

    #[test]
    fn a_scale_is_said_as_a_drawing_office_says_it() {
        let at = |scale: f64| {
            scale_of(&Card {
                measured: true,
                scale,
                ..Card::default()
            })
        };
        assert_eq!(at(1.0), "full size, 1 : 1");
        assert_eq!(at(0.5), "1 : 2");
        assert_eq!(at(2.0), "2 : 1");
        assert_eq!(at(0.4), "1 : 2.5");
    }

    #[test]
    fn nonsense_is_refused_by_name() {
        let card = |scale: f64, x_mm: f64| Card {
            measured: true,
            scale,
            holes: vec![CardHole {
                name: "B".to_owned(),
                x_mm,
                ..CardHole::default()
            }],
            ..Card::default()
        };
        let said = |card: &Card| {
            of(card, Size::A4, &mut str::to_owned)
                .unwrap_err()
                .to_string()
        };
        assert_eq!(
            said(&card(1.0, f64::NAN)),
            "the place of hole B: NaN is not a length"
        );
        assert!(said(&card(f64::NAN, 0.0)).contains("between 0.05 and 4"));
        let mut far = card(1.0, 0.0);
        far.holes.push(CardHole {
            x_mm: 9000.0,
            ..CardHole::default()
        });
        assert!(matches!(
            of(&far, Size::A4, &mut str::to_owned),
            Err(PressFault::TooLarge { .. })
        ));
    }
}
