//! Which shim goes under which valve: every valve against every shim that is free, and one
//! that is bought.

use pathfinding::kuhn_munkres::kuhn_munkres_min;
use pathfinding::matrix::Matrix;
use quantity::{Bound, Length, Range};

use super::{Ends, LashError, length, nanometres};

/// What is to be least.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Aim {
    /// Shims to buy; then valves disturbed; then how far off the middle.
    #[default]
    FewestToBuy,
    /// Valves disturbed; then shims to buy; then how far off the middle.
    FewestDisturbed,
}

/// One valve as found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choice {
    /// The shim under it now.
    pub fitted: Length,
    /// The clearance now.
    pub measured: Bound<Length>,
    /// The clearance it must have.
    pub window: Range<Length>,
    /// Among sizes equally near, the thinner one: an exhaust valve is never set tight.
    pub looser: bool,
}

/// Where a shim comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Origin {
    /// It stays where it is.
    Own,
    /// Out of another valve, from 0.
    Valve(usize),
    /// Out of the stock, from 0 in the order given.
    Stock(usize),
    /// Bought.
    Bought,
}

/// Which shim goes where.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The shim of each valve, and where it comes from.
    pub fitted: Vec<(Length, Origin)>,
    /// Shims to buy.
    pub to_buy: usize,
    /// Valves whose shim changes.
    pub changed: usize,
    /// How far the clearances lie off the middle of their windows, all together.
    pub off_middle: Length,
}

/// Beyond any sum of the other terms: a valve that cannot have this shim.
const NEVER: i64 = 1 << 56;
/// One unit of the first thing to be least, and of the second.
const FIRST: i64 = 1 << 46;
const SECOND: i64 = 1 << 39;

/// Chooses a shim for every valve. Shims that come out are free for other valves.
///
/// # Formula
/// Assignment of least cost (Kuhn and Munkres), cost in order: `aim`, then the sum of
/// |clearance − middle of the window|
/// # Units
/// `stock` of single shims; `step` of the sizes sold (multiples of it), none where any size
/// can be had.
/// # Range
/// A bounded reading takes only shims safe for its whole interval.
/// # Source
/// Assignment problem (Kuhn, 1955; Munkres, 1957), by the library pathfinding.
/// # Errors
/// [`LashError::NoSafeShim`] names a valve that no size can serve.
pub fn plan(
    valves: &[Choice],
    stock: &[Length],
    step: Option<Length>,
    aim: Aim,
) -> Result<Plan, LashError> {
    if valves.is_empty() {
        return Ok(Plan {
            fitted: Vec::new(),
            to_buy: 0,
            changed: 0,
            off_middle: length(0)?,
        });
    }
    let seats = valves
        .iter()
        .map(Seat::of)
        .collect::<Result<Vec<Seat>, LashError>>()?;
    let stock = stock
        .iter()
        .map(|&shim| positive("a shim in stock", shim))
        .collect::<Result<Vec<i64>, LashError>>()?;
    let step = step
        .map(|step| positive("a step of shims", step))
        .transpose()?;
    let bought: Vec<Option<i64>> = seats.iter().map(|seat| seat.best_size(step)).collect();
    let (count, spare) = (seats.len(), stock.len());
    let columns = 2 * count + spare;
    let costs = Matrix::from_fn(count, columns, |(row, column)| {
        let seat = &seats[row];
        let (size, buys, changes) = match column {
            column if column < count => (Some(seats[column].fitted), 0, i64::from(column != row)),
            column if column < count + spare => (Some(stock[column - count]), 0, 1),
            column if column - count - spare == row => (bought[row], 1, 1),
            _ => (None, 0, 0),
        };
        size.filter(|&size| seat.safe.holds(size))
            .map_or(NEVER, |size| {
                let (first, second) = match aim {
                    Aim::FewestToBuy => (buys, changes),
                    Aim::FewestDisturbed => (changes, buys),
                };
                first * FIRST + second * SECOND + seat.off_middle(size)
            })
    });
    let (_, chosen) = kuhn_munkres_min(&costs);
    let mut plan = Plan {
        fitted: Vec::with_capacity(count),
        to_buy: 0,
        changed: 0,
        off_middle: length(0)?,
    };
    let mut off = 0;
    for (row, &column) in chosen.iter().enumerate() {
        let (size, origin) = match column {
            column if column == row => (Some(seats[row].fitted), Origin::Own),
            column if column < count => (Some(seats[column].fitted), Origin::Valve(column)),
            column if column < count + spare => {
                (Some(stock[column - count]), Origin::Stock(column - count))
            }
            _ => (bought[row], Origin::Bought),
        };
        let size = size
            .filter(|&size| seats[row].safe.holds(size))
            .ok_or(LashError::NoSafeShim { valve: row })?;
        plan.to_buy += usize::from(origin == Origin::Bought);
        plan.changed += usize::from(origin != Origin::Own);
        off += seats[row].off_middle(size);
        plan.fitted.push((length(size)?, origin));
    }
    plan.off_middle = length(off)?;
    Ok(plan)
}

/// A valve in whole nanometres.
struct Seat {
    fitted: i64,
    safe: Ends,
    /// Twice the shim that puts the middle of the reading in the middle of the window.
    ideal_twice: i64,
    looser: bool,
}

impl Seat {
    fn of(valve: &Choice) -> Result<Self, LashError> {
        let fitted = positive("a shim", valve.fitted)?;
        let window = Ends::window(valve.window)?;
        // An open reading has no safe shim at all: every column is closed to it.
        let nothing = Self {
            fitted,
            safe: Ends { low: 1, high: 0 },
            ideal_twice: 0,
            looser: valve.looser,
        };
        let Some(measured) = Ends::reading(valve.measured)? else {
            return Ok(nothing);
        };
        Ok(Self {
            fitted,
            safe: Ends::safe(fitted, measured, window),
            ideal_twice: 2 * fitted + measured.low + measured.high - window.low - window.high,
            looser: valve.looser,
        })
    }

    fn off_middle(&self, size: i64) -> i64 {
        (2 * size - self.ideal_twice).abs() / 2
    }

    /// The size nearest the ideal among those sold that are safe.
    fn best_size(&self, step: Option<i64>) -> Option<i64> {
        let Some(step) = step else {
            return (self.safe.low <= self.safe.high)
                .then_some(self.ideal_twice / 2)
                .filter(|size| *size > 0);
        };
        let first = self.safe.low.div_euclid(step) * step;
        let mut sizes: Vec<i64> = std::iter::successors(Some(first), |size| Some(size + step))
            .take_while(|&size| size <= self.safe.high)
            .filter(|&size| size > 0 && self.safe.holds(size))
            .collect();
        sizes.sort_by_key(|&size| {
            (
                (2 * size - self.ideal_twice).abs(),
                if self.looser { size } else { -size },
            )
        });
        sizes.first().copied()
    }
}

fn positive(what: &'static str, size: Length) -> Result<i64, LashError> {
    let whole = nanometres(size)?;
    if whole <= 0 {
        return Err(LashError::NotPositive {
            what,
            mm: size.in_mm(),
        });
    }
    Ok(whole)
}
