//! The order in which the holes of a joint are pulled: the book's own order first, then its
//! rule, then ours; and what had to be assumed where nobody measured the positions.

use book::{Hole, Joint, PatternKind};
use calc::pattern::{self, PatternFault, Position};

/// How the holes lie, where nobody measured them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Layout {
    /// Not said.
    #[default]
    NotSaid,
    /// In so many rows of equally many, counted row by row.
    Rows(usize),
    /// On a ring, counted round it.
    Ring,
}

/// Whose order it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// The book names every hole in its turn.
    Book,
    /// The book says how, and the turn was worked out from that.
    BookRule,
    /// The book says nothing; the turn is the trade's.
    Trade,
    /// One or two bolts: any turn will do.
    Any,
}

/// The shape an order was worked out on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// In a row or a field: middle first.
    Field,
    /// On a ring: opposite ones.
    Ring,
    /// As listed.
    Listed,
}

/// An order with its pedigree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Order {
    /// Whose it is.
    pub whose: Whose,
    /// The shape.
    pub shape: Shape,
    /// How many rows were assumed for want of positions. `None`: nothing was assumed.
    pub assumed_rows: Option<usize>,
}

impl Order {
    /// The order in words: `the book's order`.
    #[must_use]
    pub fn words(self) -> String {
        let how = match self.shape {
            Shape::Field => "from the middle out",
            Shape::Ring => "opposite ones in turn",
            Shape::Listed => "one after the other",
        };
        match self.whose {
            Whose::Book => "the book's order".to_owned(),
            Whose::BookRule => format!("the book says {how}"),
            Whose::Trade => format!("no order in the book; {how}"),
            Whose::Any => String::new(),
        }
    }
}

/// Puts holes in their turn: places in `holes`, and whose order it is.
///
/// # Errors
/// [`PatternFault`] for two holes on one spot or rows they do not fill.
pub fn of(
    joint: &Joint,
    holes: &[&Hole],
    layout: Layout,
) -> Result<(Vec<usize>, Order), PatternFault> {
    let listed: Vec<usize> = (0..holes.len()).collect();
    let kind = joint.pattern.as_ref().map(|pattern| &pattern.kind);
    let whose = match kind {
        Some(PatternKind::Order(_)) => Whose::Book,
        Some(_) => Whose::BookRule,
        None if holes.len() < 3 => Whose::Any,
        None => Whose::Trade,
    };
    let plain = Order {
        whose,
        shape: Shape::Listed,
        assumed_rows: None,
    };
    if holes.len() < 3 && !matches!(kind, Some(PatternKind::Order(_))) {
        return Ok((listed, plain));
    }
    let positions = positions(holes);
    Ok(match kind {
        Some(PatternKind::Order(names)) => {
            let named = names
                .iter()
                .filter_map(|name| holes.iter().position(|hole| hole.name == *name));
            let mut places: Vec<usize> = named.collect();
            places.extend(listed.into_iter().filter(|place| {
                holes
                    .get(*place)
                    .is_some_and(|hole| !names.contains(&hole.name))
            }));
            (places, plain)
        }
        Some(PatternKind::Around) => (listed, plain),
        Some(PatternKind::Cross) => ring(holes, positions.as_deref(), whose)?,
        Some(PatternKind::InsideOut) => field(holes, positions.as_deref(), layout, whose)?,
        Some(PatternKind::OutsideIn) => {
            let (places, order) = field(holes, positions.as_deref(), layout, whose)?;
            let order = Order {
                shape: Shape::Listed,
                ..order
            };
            (pattern::loosening(&places), order)
        }
        None if layout == Layout::Ring || positions.as_deref().is_some_and(is_ring) => {
            ring(holes, positions.as_deref(), whose)?
        }
        None => field(holes, positions.as_deref(), layout, whose)?,
    })
}

/// The positions, where every hole has one.
fn positions(holes: &[&Hole]) -> Option<Vec<Position>> {
    let place = |hole: &&Hole| hole.position.map(|at| Position { x: at.x, y: at.y });
    holes.iter().map(place).collect()
}

fn field(
    holes: &[&Hole],
    positions: Option<&[Position]>,
    layout: Layout,
    whose: Whose,
) -> Result<(Vec<usize>, Order), PatternFault> {
    let order = Order {
        whose,
        shape: Shape::Field,
        assumed_rows: None,
    };
    if let Some(positions) = positions {
        return Ok((pattern::inside_out(positions)?, order));
    }
    let rows = match layout {
        Layout::Rows(rows) => rows.max(1),
        Layout::NotSaid | Layout::Ring => 1,
    };
    let along = by_name(holes);
    let turn = pattern::rows(rows, holes.len() / rows, holes.len())?;
    let places = turn
        .into_iter()
        .filter_map(|at| along.get(at).copied())
        .collect();
    let assumed_rows = (layout == Layout::NotSaid).then_some(rows);
    Ok((
        places,
        Order {
            assumed_rows,
            ..order
        },
    ))
}

fn ring(
    holes: &[&Hole],
    positions: Option<&[Position]>,
    whose: Whose,
) -> Result<(Vec<usize>, Order), PatternFault> {
    let around = match positions {
        Some(positions) => by_angle(positions),
        None => by_name(holes),
    };
    let places = pattern::star(around.len())?
        .into_iter()
        .filter_map(|at| around.get(at).copied())
        .collect();
    let order = Order {
        whose,
        shape: Shape::Ring,
        assumed_rows: None,
    };
    Ok((places, order))
}

/// Places in the order of the names, numbers by value: A, B, C; h2 before h10. Names follow
/// the face; the order of a book's lines follows what sits in the holes.
pub(crate) fn by_name(holes: &[&Hole]) -> Vec<usize> {
    let key = |place: &usize| {
        let name = holes.get(*place).map_or("", |hole| hole.name.as_str());
        let word = name.trim_end_matches(|c: char| c.is_ascii_digit());
        let number: u32 = name[word.len()..].parse().unwrap_or(0);
        (word.to_owned(), number)
    };
    let mut places: Vec<usize> = (0..holes.len()).collect();
    places.sort_by_key(key);
    places
}

fn middle(positions: &[Position]) -> (f64, f64) {
    let count = u32::try_from(positions.len()).map_or(f64::MAX, f64::from);
    let mean = |of: fn(&Position) -> f64| positions.iter().map(of).sum::<f64>() / count;
    (mean(|at| at.x.in_mm()), mean(|at| at.y.in_mm()))
}

/// Places round the middle, from the first hole on.
fn by_angle(positions: &[Position]) -> Vec<usize> {
    let (x, y) = middle(positions);
    let angle = |place: &usize| {
        positions
            .get(*place)
            .map_or(0.0, |at| libm::atan2(at.y.in_mm() - y, at.x.in_mm() - x))
    };
    let mut places: Vec<usize> = (0..positions.len()).collect();
    places.sort_by(|a, b| angle(a).total_cmp(&angle(b)));
    let first = places.iter().position(|&place| place == 0).unwrap_or(0);
    places.rotate_left(first);
    places
}

/// Whether positions lie on a ring: all as far from the middle, within a twentieth.
fn is_ring(positions: &[Position]) -> bool {
    let (x, y) = middle(positions);
    let radii: Vec<f64> = positions
        .iter()
        .map(|at| libm::hypot(at.x.in_mm() - x, at.y.in_mm() - y))
        .collect();
    let most = radii.iter().copied().fold(0.0, f64::max);
    let least = radii.iter().copied().fold(f64::INFINITY, f64::min);
    positions.len() > 3 && most - least <= 0.05 * most
}

#[cfg(test)]
mod tests {
    use super::*;

    fn joint(body: &str) -> book::Joint {
        let text = format!(
            "part block zone=bench\npart lid zone=bench {{\n joint lid-bolts to=block {{\n{body}\n }}\n}}\n"
        );
        let (book, faults) = book::read(&text);
        assert!(
            faults.is_empty(),
            "{}",
            book::show_faults(&faults, "t", &text)
        );
        book.joints[0].clone()
    }

    fn names(joint: &book::Joint, layout: Layout) -> (Vec<String>, Order) {
        let holes: Vec<&Hole> = joint.holes.iter().collect();
        let (places, order) = of(joint, &holes, layout).unwrap();
        let names = places
            .iter()
            .map(|&at| holes[at].name.to_string())
            .collect();
        (names, order)
    }

    #[test]
    fn the_order_of_the_book_stands_before_ours() {
        let joint = joint("holes A..D thread=M8\n pattern D A C B");
        let (names, order) = names(&joint, Layout::Ring);
        assert_eq!(names, ["D", "A", "C", "B"]);
        assert_eq!(order.whose, Whose::Book);
    }

    /// The studs A and E stand first in the book and at the ends of the face.
    #[test]
    fn without_positions_names_follow_the_face() {
        let joint =
            joint("holes A E holds=stud thread=M8\n holes B..D thread=M8\n pattern inside-out");
        let (names, order) = names(&joint, Layout::NotSaid);
        assert_eq!(names[0], "C");
        assert_eq!(order.assumed_rows, Some(1));
        let ends = &names[3..];
        assert!(
            ends.contains(&"A".to_owned()) && ends.contains(&"E".to_owned()),
            "{names:?}"
        );
    }

    #[test]
    fn rows_that_are_not_filled_are_refused() {
        let joint = joint("holes A..G thread=M8");
        let holes: Vec<&Hole> = joint.holes.iter().collect();
        assert!(of(&joint, &holes, Layout::Rows(2)).is_err());
    }

    #[test]
    fn a_ring_goes_by_opposites() {
        let joint = joint("holes A..H thread=M8");
        let (names, order) = names(&joint, Layout::Ring);
        assert_eq!(names[..4], ["A", "E", "C", "G"]);
        assert_eq!((order.whose, order.shape), (Whose::Trade, Shape::Ring));
    }

    #[test]
    fn numbers_in_names_count_by_value() {
        let joint = joint("holes c1..c10 thread=M6");
        let (names, _) = names(&joint, Layout::NotSaid);
        assert!(
            names[..2].contains(&"c5".to_owned()) && names[..2].contains(&"c6".to_owned()),
            "{names:?}"
        );
        assert!(names[8..].contains(&"c10".to_owned()), "{names:?}");
    }
}
