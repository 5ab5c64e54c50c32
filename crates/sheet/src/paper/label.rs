//! Labels: what stands on them, and the sheets they come on, given by measures.

use super::Size;

/// Labels to print.
#[derive(Clone, Debug, PartialEq)]
pub struct Labels {
    /// The sheet they come on.
    pub stock: Stock,
    /// Labels already used up on the first sheet, from the top left.
    pub skip: usize,
    /// What stands on them, in the order they are stuck.
    pub labels: Vec<Label>,
}

/// One label.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Label {
    /// Read from a distance: `29`, `bag 14`.
    pub mark: String,
    /// What it goes on: `radiator hose, engine end`.
    pub on: String,
    /// A second line: where that belongs, what it must not be taken for.
    pub second: String,
    /// The address the square of dots holds, where one is printed.
    pub address: Option<String>,
}

/// A sheet of labels by its measures, all in millimetres. The field of labels lies in the
/// middle of the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// The sheet.
    pub page: Size,
    /// Width of a label.
    pub wide: f64,
    /// Height of a label.
    pub tall: f64,
    /// Labels side by side.
    pub across: usize,
    /// Labels below each other.
    pub down: usize,
    /// From one label to the one beside it.
    pub gap_across: f64,
    /// From one label to the one below it.
    pub gap_down: f64,
    /// Whether lines to cut along are printed: plain paper.
    pub cut: bool,
}

/// Why a size of label is not known.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no sheet with labels of `{typed}` is known")]
pub struct StockFault {
    /// As typed.
    pub typed: String,
}

/// Sheets by the measure of their labels, width first. Common sizes; the gaps are those the
/// sheets are sold with.
const KNOWN: [(&str, Stock); 5] = [
    (
        "38.1x21.2",
        Stock::sheet(Size::A4, (38.1, 21.2), (5, 13), (2.5, 0.0)),
    ),
    (
        "63.5x38.1",
        Stock::sheet(Size::A4, (63.5, 38.1), (3, 7), (2.5, 0.0)),
    ),
    (
        "99.1x38.1",
        Stock::sheet(Size::A4, (99.1, 38.1), (2, 7), (2.5, 0.0)),
    ),
    (
        "66.7x25.4",
        Stock::sheet(Size::Letter, (66.675, 25.4), (3, 10), (3.175, 0.0)),
    ),
    (
        "101.6x50.8",
        Stock::sheet(Size::Letter, (101.6, 50.8), (2, 5), (4.7625, 0.0)),
    ),
];

impl Stock {
    const fn sheet(
        page: Size,
        (wide, tall): (f64, f64),
        (across, down): (usize, usize),
        (gap_across, gap_down): (f64, f64),
    ) -> Self {
        Self {
            page,
            wide,
            tall,
            across,
            down,
            gap_across,
            gap_down,
            cut: false,
        }
    }

    /// Plain paper with lines to cut along, three labels side by side.
    #[must_use]
    pub const fn plain(page: Size) -> Self {
        let down = match page {
            Size::A4 => 8,
            Size::Letter => 7,
        };
        Self {
            cut: true,
            ..Self::sheet(page, (60.0, 34.0), (3, down), (0.0, 0.0))
        }
    }

    /// A sheet by the measure of its labels, `63.5x38.1` or `63.5 × 38.1 mm`; either side may
    /// stand first.
    ///
    /// # Errors
    /// [`StockFault`] where no such sheet is known.
    pub fn read(typed: &str) -> Result<Self, StockFault> {
        let plain = typed
            .trim()
            .trim_end_matches("mm")
            .replace('×', "x")
            .replace(' ', "");
        let turned = plain
            .split_once('x')
            .map(|(one, other)| format!("{other}x{one}"));
        KNOWN
            .iter()
            .find(|(name, _)| *name == plain || Some(*name) == turned.as_deref())
            .map(|(_, stock)| *stock)
            .ok_or_else(|| StockFault {
                typed: typed.to_owned(),
            })
    }

    /// The sheets [`Self::read`] knows, one line each.
    #[must_use]
    pub fn known() -> Vec<String> {
        KNOWN
            .iter()
            .map(|(name, stock)| {
                format!(
                    "{name} mm ({} on {})",
                    stock.across * stock.down,
                    match stock.page {
                        Size::A4 => "A4",
                        Size::Letter => "Letter",
                    }
                )
            })
            .collect()
    }

    /// Labels on one sheet.
    #[must_use]
    pub const fn count(&self) -> usize {
        self.across * self.down
    }

    /// The left upper corner of a label from that of the page, in millimetres, by its place on
    /// the sheet counted row by row.
    #[must_use]
    pub fn corner(&self, place: usize) -> (f64, f64) {
        let float = |index: usize| u32::try_from(index).map_or(0.0, f64::from);
        let (page_wide, page_tall) = self.page.mm();
        let span = |count: usize, size: f64, gap: f64| {
            float(count) * size + float(count.saturating_sub(1)) * gap
        };
        let left = (page_wide - span(self.across, self.wide, self.gap_across)) / 2.0;
        let top = (page_tall - span(self.down, self.tall, self.gap_down)) / 2.0;
        let (row, column) = (place / self.across.max(1), place % self.across.max(1));
        (
            left + float(column) * (self.wide + self.gap_across),
            top + float(row) * (self.tall + self.gap_down),
        )
    }
}
