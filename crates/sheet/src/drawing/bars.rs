//! One bar per cylinder, standing where the cylinder stands in the engine.

use maud::{Markup, html};
use report::{Bar, BarBank, Bars, Verdict};

use super::{INK, Ink, PAINT, RULE, SOFT, count, id, line, n, sheet, words};

const STEP: f64 = 96.0;
const TALL: f64 = 190.0;
const LEFT: f64 = 70.0;

/// Draws bars in the engine's layout, the rearmost bank at the top.
pub(super) fn draw(bars: &Bars) -> Markup {
    let most = bars
        .banks
        .iter()
        .map(|bank| bank.bars.len())
        .max()
        .unwrap_or(1)
        .max(1);
    let width = (LEFT + STEP * count(most) + 120.0).max(420.0);
    let height = 84.0 + count(bars.banks.len().max(1)) * (TALL + 80.0);
    let readings = bars
        .banks
        .iter()
        .flat_map(|bank| &bank.bars)
        .flat_map(|bar| [bar.value, bar.other]);
    let limit = bars.limit.as_ref().map(|(value, _)| *value);
    let top = readings.chain([limit]).flatten().fold(1e-9, f64::max) * 1.08;
    let body = html! {
        @for (row, bank) in bars.banks.iter().enumerate() {
            (draw_bank(bars, bank, 60.0 + count(row) * (TALL + 80.0), width, top))
        }
        @if let Some((_, whose)) = &bars.limit {
            (line((16.0, height - 14.0), (56.0, height - 14.0), INK, 1.2, Some("10 4 2 4")))
            (words(64.0, height - 9.0, whose, &Ink { size: 14.0, colour: SOFT, ..Ink::default() }))
        }
    };
    sheet(&bars.title, width, height, &body)
}

fn draw_bank(bars: &Bars, bank: &BarBank, y: f64, width: f64, top: f64) -> Markup {
    let base = y + TALL;
    html! {
        (words(16.0, y + 6.0, &bank.name, &Ink { colour: SOFT, ..Ink::default() }))
        (line((LEFT - 20.0, base), (width - 20.0, base), INK, 2.5, None))
        @for (at, bar) in bank.bars.iter().enumerate() {
            (draw_bar(bars, bar, LEFT + STEP * count(at), base, top))
        }
        @if let Some((value, _)) = &bars.limit {
            @let level = base - TALL * value / top;
            (line((LEFT - 20.0, level), (width - 20.0, level), INK, 1.2, Some("10 4 2 4")))
        }
    }
}

fn draw_bar(bars: &Bars, bar: &Bar, x: f64, base: f64, top: f64) -> Markup {
    let loud = matches!(bar.verdict, Some(Verdict::Outside));
    html! {
        g id=(format!("cylinder-{}", id(&bar.name))) {
            title { "cylinder " (bar.name) ": " (bar.shown) " " (bars.unit) @if let Some(verdict) = bar.verdict { ", " (verdict.word()) } }
            @if let Some(other) = bar.other {
                @let tall = TALL * other / top;
                rect x=(n(x + 8.0)) y=(n(base - tall)) width="52" height=(n(tall)) fill="none" stroke=(SOFT)
                    stroke-width="1.5" stroke-dasharray="5 3" {}
            }
            @if let Some(value) = bar.value {
                @let tall = TALL * value / top;
                rect x=(n(x)) y=(n(base - tall)) width="44" height=(n(tall)) fill=(if loud { PAINT } else { INK }) {}
            } @else {
                rect x=(n(x)) y=(n(base - 40.0)) width="44" height="40" fill="none" stroke=(RULE) stroke-dasharray="3 4" {}
            }
            (words(x + 22.0, base + 20.0, &bar.name, &Ink { bold: true, anchor: "middle", ..Ink::default() }))
            (words(x + 22.0, base + 38.0, &bar.shown, &Ink { size: 14.0, anchor: "middle", ..Ink::default() }))
            @if let Some(verdict) = bar.verdict {
                (words(x + 22.0, base + 55.0, verdict.word(), &Ink { size: 13.0, colour: SOFT, anchor: "middle", ..Ink::default() }))
            }
        }
    }
}
