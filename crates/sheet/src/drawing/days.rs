//! Work over days: one lane a person, waiting hatched, the chain that sets the finish heavy.

use maud::{Markup, html};
use report::{DaySpan, Days};

use super::{INK, Ink, RULE, SHEET, SOFT, count, id, line, n, sheet, width_of, words};

const LEFT: f64 = 150.0;
const LANE: f64 = 58.0;

/// Draws a day plan.
pub(super) fn draw(days: &Days) -> Markup {
    let day = (1200.0 / count(days.days.len().max(1))).clamp(26.0, 130.0);
    let height = 90.0 + LANE * count(days.lanes.len()) + 20.0;
    let every = (64.0 / day).ceil().max(1.0);
    let ends = days.days.iter().enumerate();
    let ends = ends.map(|(at, name)| day * count(at) + 3.0 + width_of(name, 13.0));
    let width = LEFT + ends.fold(day * count(days.days.len()), f64::max) + 20.0;
    let body = html! {
        defs {
            pattern id="waiting" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                rect width="8" height="8" fill=(SHEET) {}
                rect width="2" height="8" fill=(SOFT) {}
            }
        }
        @for (at, name) in days.days.iter().enumerate() {
            @let x = LEFT + day * count(at);
            (line((x, 66.0), (x, height - 20.0), RULE, 1.0, None))
            @if (count(at) % every).abs() < 0.5 {
                (words(x + 3.0, 60.0, name, &Ink { size: 13.0, colour: SOFT, ..Ink::default() }))
            }
        }
        @for (row, lane) in days.lanes.iter().enumerate() {
            @let y = 78.0 + LANE * count(row);
            (words(16.0, y + 24.0, &lane.name, &Ink { bold: true, ..Ink::default() }))
            (line((16.0, y + LANE - 8.0), (width - 20.0, y + LANE - 8.0), RULE, 1.0, None))
            @for (at, span) in lane.spans.iter().enumerate() {
                (draw_span(span, &format!("{}-{}", id(&lane.name), at + 1), LEFT + day * span.from, y, day * (span.to - span.from)))
            }
        }
    };
    sheet(&days.title, width.max(420.0), height, &body)
}

fn draw_span(span: &DaySpan, name: &str, x: f64, y: f64, wide: f64) -> Markup {
    let wide = wide.max(3.0);
    let fill = match (span.waiting, span.sets_finish) {
        (true, _) => "url(#waiting)",
        (false, true) => INK,
        (false, false) => RULE,
    };
    let letters = if span.sets_finish && !span.waiting {
        SHEET
    } else {
        INK
    };
    html! {
        g id=(format!("span-{name}")) {
            title { (span.label) }
            rect x=(n(x)) y=(n(y + 6.0)) width=(n(wide)) height="32" fill=(fill) stroke=(INK)
                stroke-width=(if span.sets_finish { "2.5" } else { "1" }) {}
            @if width_of(&span.label, 13.0) + 8.0 < wide {
                @if span.waiting {
                    rect x=(n(x + 3.0)) y=(n(y + 12.0)) width=(n(width_of(&span.label, 13.0) + 4.0)) height="20" fill=(SHEET) {}
                }
                (words(x + 5.0, y + 27.0, &span.label, &Ink { size: 13.0, colour: letters, ..Ink::default() }))
            }
        }
    }
}
