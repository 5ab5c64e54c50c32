//! Heights over a face: a ramp from paper to ink, contour lines, and the numbers themselves.
//!
//! The ramp differs in lightness only, so a grey print and every eye read it. On a close grid
//! not every number finds room: the highest, the lowest and the corners come first, and what is
//! left out is a dot that still says its height to a pointer or a screen reader.

use maud::{Markup, html};
use report::Contour;

use super::room::{Patch, Room};
use super::{INK, Ink, SHEET, SOFT, count, line, n, sheet, width_of, words};

/// Narrow enough that a telephone, which shows it at little over half, keeps it readable.
const WIDTH: f64 = 560.0;
const MARGIN: f64 = 50.0;
/// Letters of a height.
const LETTERS: f64 = 14.0;
const SHADES: u32 = 10;

/// Draws a face. Shading and lines need a full rectangular grid of points; anything else is
/// drawn as numbers where they were measured.
pub(super) fn draw(contour: &Contour) -> Markup {
    let view = View::of(contour);
    let grid = Grid::of(contour);
    let height = view.tall + 2.0 * MARGIN + 64.0;
    let high = contour
        .points
        .iter()
        .map(|point| point.2)
        .fold(1e-9, f64::max);
    let numbers = numbers(contour, &view);
    let soft = Ink {
        colour: SOFT,
        ..Ink::default()
    };
    let body = html! {
        @if let Some(grid) = &grid {
            (shading(grid, &view, high))
            (lines(grid, &view, contour.step_um, high))
        }
        rect x=(n(MARGIN)) y=(n(MARGIN)) width=(n(WIDTH - 2.0 * MARGIN)) height=(n(view.tall)) fill="none"
            stroke=(INK) stroke-width="2.5" {}
        @for (at, (&(x, y, z), number)) in contour.points.iter().zip(&numbers).enumerate() {
            @let (px, py) = view.at(x, y);
            g id=(format!("point-{}", at + 1)) {
                title { (format!("{} mm, {} mm: {} µm", n(x), n(y), n(z))) }
                @match number {
                    Some((text, patch)) => {
                        rect x=(n(patch.left)) y=(n(patch.top)) width=(n(patch.right - patch.left))
                            height=(n(patch.bottom - patch.top)) fill=(SHEET) stroke=(INK) stroke-width="0.8" {}
                        (words(px, py + 5.0, text, &Ink { size: LETTERS, bold: true, anchor: "middle", ..Ink::default() }))
                    }
                    None => circle cx=(n(px)) cy=(n(py)) r="2.5" fill=(INK) stroke=(SHEET) stroke-width="1" {},
                }
            }
        }
        (words(MARGIN, height - 52.0, &view.sides(), &soft))
        (words(MARGIN, height - 30.0, "numbers: µm above the lowest point", &soft))
        @if grid.is_some() && contour.step_um > 0.0 {
            (words(MARGIN, height - 10.0, &format!("a line every {} µm, darker is higher", n(contour.step_um)), &soft))
        }
    };
    sheet(&contour.title, WIDTH, height, &body)
}

/// The number at every point that finds room for one, and where it lies.
fn numbers(contour: &Contour, view: &View) -> Vec<Option<(String, Patch)>> {
    let mut room = Room::new(Patch {
        left: 0.0,
        top: 0.0,
        right: WIDTH,
        bottom: view.tall + 2.0 * MARGIN,
    });
    // Heights that lie close together differ only behind the point.
    let decimals = usize::from(contour.step_um < 2.0);
    let mut numbers = vec![None; contour.points.len()];
    for at in by_weight(contour) {
        let Some(&(x, y, z)) = contour.points.get(at) else {
            continue;
        };
        let text = format!("{z:.decimals$}");
        let aside = (width_of(&text, LETTERS) / 2.0 + 5.0).max(12.0);
        let patch = Patch::around(view.at(x, y), aside, 10.0);
        if room.try_take(patch) {
            numbers[at] = Some((text, patch));
        }
    }
    numbers
}

/// The points in the order in which they are given room: highest, lowest, the four corners, and
/// the others as they were measured.
fn by_weight(contour: &Contour) -> Vec<usize> {
    let points = &contour.points;
    let most = |of: &dyn Fn(&(f64, f64, f64)) -> f64| {
        (0..points.len()).max_by(|&one, &other| of(&points[one]).total_cmp(&of(&points[other])))
    };
    let mut order: Vec<usize> = [
        most(&|point| point.2),
        most(&|point| -point.2),
        most(&|point| point.0 + point.1),
        most(&|point| point.0 - point.1),
        most(&|point| point.1 - point.0),
        most(&|point| -point.0 - point.1),
    ]
    .into_iter()
    .flatten()
    .collect();
    order.extend(0..points.len());
    let mut seen = vec![false; points.len()];
    order.retain(|&at| !std::mem::replace(&mut seen[at], true));
    order
}

struct View {
    left: f64,
    high: f64,
    /// How far the points go along and across, in millimetres.
    size: (f64, f64),
    across: f64,
    up: f64,
    tall: f64,
}

impl View {
    fn of(contour: &Contour) -> Self {
        let ends = |values: Vec<f64>| {
            let low = values.iter().copied().fold(f64::INFINITY, f64::min);
            let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            if low <= high { (low, high) } else { (0.0, 1.0) }
        };
        let (left, right) = ends(contour.points.iter().map(|point| point.0).collect());
        let (low, high) = ends(contour.points.iter().map(|point| point.1).collect());
        let room = WIDTH - 2.0 * MARGIN;
        let (wide, deep) = ((right - left).max(1e-9), (high - low).max(1e-9));
        let tall = (deep * room / wide).clamp(140.0, 420.0);
        Self {
            left,
            high,
            size: (right - left, high - low),
            across: room / wide,
            up: tall / deep,
            tall,
        }
    }

    /// The size of the field, and whether it is drawn true.
    fn sides(&self) -> String {
        let said = format!(
            "x {} mm to the right, y {} mm up",
            n(self.size.0),
            n(self.size.1)
        );
        if (self.across - self.up).abs() > 0.01 * self.across {
            said + "; not to scale"
        } else {
            said
        }
    }

    fn at(&self, x: f64, y: f64) -> (f64, f64) {
        (
            MARGIN + (x - self.left) * self.across,
            MARGIN + (self.high - y) * self.up,
        )
    }
}

/// Points sorted into a rectangular grid: heights by row (y) and column (x).
struct Grid {
    xs: Vec<f64>,
    ys: Vec<f64>,
    heights: Vec<f64>,
}

impl Grid {
    fn of(contour: &Contour) -> Option<Self> {
        let axis = |mut values: Vec<f64>| {
            values.sort_by(f64::total_cmp);
            values.dedup();
            values
        };
        let xs = axis(contour.points.iter().map(|point| point.0).collect());
        let ys = axis(contour.points.iter().map(|point| point.1).collect());
        if xs.len() < 2 || ys.len() < 2 || xs.len() * ys.len() != contour.points.len() {
            return None;
        }
        let mut heights = vec![f64::NAN; contour.points.len()];
        for &(x, y, z) in &contour.points {
            let (column, row) = (
                xs.iter().position(|&at| at == x)?,
                ys.iter().position(|&at| at == y)?,
            );
            heights[row * xs.len() + column] = z;
        }
        heights
            .iter()
            .all(|height| height.is_finite())
            .then_some(Self { xs, ys, heights })
    }

    fn height(&self, row: usize, column: usize) -> f64 {
        self.heights[row * self.xs.len() + column]
    }

    /// Height inside a cell at fractions `u` along and `v` up: between the four corners.
    fn inside(&self, row: usize, column: usize, u: f64, v: f64) -> f64 {
        let low = self.height(row, column) * (1.0 - u) + self.height(row, column + 1) * u;
        let high = self.height(row + 1, column) * (1.0 - u) + self.height(row + 1, column + 1) * u;
        low * (1.0 - v) + high * v
    }

    fn cells(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        (0..self.ys.len() - 1)
            .flat_map(|row| (0..self.xs.len() - 1).map(move |column| (row, column)))
    }

    fn place(&self, row: usize, column: usize, u: f64, v: f64) -> (f64, f64) {
        let x = self.xs[column] + (self.xs[column + 1] - self.xs[column]) * u;
        let y = self.ys[row] + (self.ys[row + 1] - self.ys[row]) * v;
        (x, y)
    }
}

const FINE: usize = 6;

fn shading(grid: &Grid, view: &View, high: f64) -> Markup {
    html! {
        g id="shading" {
            @for (row, column) in grid.cells() {
                @for patch in 0..FINE * FINE {
                    @let u = count(patch % FINE) / count(FINE);
                    @let v = count(patch / FINE) / count(FINE);
                    @let step = 1.0 / count(FINE);
                    @let (left, top) = { let (x, y) = grid.place(row, column, u, v + step); view.at(x, y) };
                    @let (right, bottom) = { let (x, y) = grid.place(row, column, u + step, v); view.at(x, y) };
                    @let z = grid.inside(row, column, u + step / 2.0, v + step / 2.0);
                    rect x=(n(left)) y=(n(top)) width=(n(right - left + 0.4)) height=(n(bottom - top + 0.4)) fill=(shade(z / high)) {}
                }
            }
        }
    }
}

/// Paper at 0, two thirds of the way to ink at 1, in ten steps.
fn shade(share: f64) -> String {
    let step = f64::from(SHADES);
    let share = (share.clamp(0.0, 1.0) * step).round() / step * 0.66;
    let mix = |paper: f64, ink: f64| (paper + (ink - paper) * share).round();
    format!(
        "rgb({},{},{})",
        n(mix(251.0, 24.0)),
        n(mix(249.0, 33.0)),
        n(mix(242.0, 43.0))
    )
}

fn lines(grid: &Grid, view: &View, step_um: f64, high: f64) -> Markup {
    let levels = if step_um > 0.0 {
        (high / step_um).floor().min(60.0)
    } else {
        0.0
    };
    let mut level = step_um;
    let mut segments = Vec::new();
    while level <= levels * step_um + 1e-9 && levels > 0.0 {
        for (row, column) in grid.cells() {
            segments.extend(crossings(grid, row, column, level));
        }
        level += step_um;
    }
    html! {
        g id="lines" {
            @for (from, to) in segments {
                (line(view.at(from.0, from.1), view.at(to.0, to.1), INK, 1.2, None))
            }
        }
    }
}

type Ends = ((f64, f64), (f64, f64));

/// Where a level crosses a cell, cut into four triangles round its middle so that no saddle
/// is ambiguous.
fn crossings(grid: &Grid, row: usize, column: usize, level: f64) -> Vec<Ends> {
    let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    let point = |(u, v): (f64, f64)| {
        (
            grid.place(row, column, u, v),
            grid.inside(row, column, u, v),
        )
    };
    let middle = point((0.5, 0.5));
    (0..4)
        .filter_map(|side| {
            let triangle = [point(corners[side]), point(corners[(side + 1) % 4]), middle];
            let cuts: Vec<(f64, f64)> = (0..3)
                .filter_map(|edge| {
                    let (a, b) = (triangle[edge], triangle[(edge + 1) % 3]);
                    ((a.1 < level) != (b.1 < level)).then(|| {
                        let share = (level - a.1) / (b.1 - a.1);
                        (
                            a.0.0 + (b.0.0 - a.0.0) * share,
                            a.0.1 + (b.0.1 - a.0.1) * share,
                        )
                    })
                })
                .collect();
            match cuts.as_slice() {
                [from, to] => Some((*from, *to)),
                _ => None,
            }
        })
        .collect()
}
