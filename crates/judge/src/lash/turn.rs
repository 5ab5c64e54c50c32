//! Screw adjusters: how far each clearance must move, and how many turns that is.

use quantity::{Bound, Length, Quantity, Range, show, show_bound};
use report::{Align, Cell, Figure, Report, Table, Verdict};

use super::{Lash, Unanswerable, Windows};
use crate::limit::Decision;

/// Rows with the way each screw must go; nothing is bought.
pub(super) fn tell(
    report: &mut Report,
    asked: &Lash,
    windows: &Windows,
    decisions: &[Decision],
) -> Result<(), Unanswerable> {
    let mut table = Table::new(&[
        ("valve", "valve", Align::Left),
        ("found", "found", Align::Right),
        ("verdict", "as found", Align::Left),
        ("set", "set to", Align::Right),
        ("move", "by", Align::Right),
        ("turns", "turns", Align::Right),
    ]);
    let mut changed = 0;
    for (valve, decision) in asked.valves.iter().zip(decisions) {
        let window = windows.of_port(valve.port);
        let middle = Length::from_si(window.low.si() / 2.0 + window.high.si() / 2.0)?;
        let moves = decision.verdict == Verdict::Outside || decision.verdict == Verdict::Undecided;
        changed += usize::from(moves);
        let by = match valve.clearance {
            Some(Bound::Exactly(found)) if moves => Some(middle - found),
            Some(Bound::Between(Range { low, high })) if moves => {
                Some(Length::from_si(middle.si() - (low.si() + high.si()) / 2.0)?)
            }
            _ => None,
        };
        let turns = by
            .zip(asked.pitch)
            .filter(|(_, pitch)| pitch.si() > 0.0)
            .map(|(by, pitch)| by.si() / pitch.si());
        let length = |name, length| Figure::new(name, name, length, show(length, &asked.unit));
        table.push(vec![
            Cell::from(valve.name.clone()),
            Cell::from(
                valve
                    .clearance
                    .map_or_else(|| "-".to_owned(), |found| show_bound(found, &asked.unit)),
            ),
            Cell::from(decision.verdict),
            Cell::from(moves.then(|| length("set", middle))),
            Cell::from(by.map(|by| length("move", by))),
            turns.map_or(Cell::None, |turns| {
                Cell::Number(turns, format!("{turns:+.2}"))
            }),
        ]);
    }
    report.rows = table;
    report
        .figures
        .push(Figure::count("to_buy", "shims to buy", 0));
    report
        .figures
        .push(Figure::count("changed", "adjusters to set", changed));
    report.because.push("set to the middle of the window; turns are for a screw over the valve, a rocker divides them by its ratio".to_owned());
    Ok(())
}
