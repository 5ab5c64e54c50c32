//! The readings as bars, standing as the cylinders stand in the engine.

use quantity::Quantity;
use report::{Bar, BarBank, Bars, Picture};

use super::answer::Seen;
use super::wet::Wet;

/// One bar a cylinder, bank by bank; the wet reading stands behind the dry one.
pub(super) fn bars(seen: &Seen<'_>, wet: &Wet) -> Picture {
    let unit = &seen.asked.unit;
    let bar = |cylinder: u8| {
        let mark = seen.mark(cylinder);
        Bar {
            name: cylinder.to_string(),
            value: mark.map(|mark| unit.of_si(mark.reading.si())),
            other: wet.reading(cylinder).map(|wet| unit.of_si(wet.si())),
            shown: mark.map_or_else(|| "-".to_owned(), |mark| seen.show(mark.reading)),
            verdict: mark.map(super::answer::Mark::verdict),
        }
    };
    let banks = seen.asked.layout.banks();
    Picture::Bars(Bars {
        title: "Cranking compression".to_owned(),
        banks: (1..)
            .zip(banks)
            .map(|(number, bank): (usize, _)| BarBank {
                name: if banks.len() == 1 {
                    String::new()
                } else {
                    format!("bank {number}")
                },
                bars: bank.iter().copied().map(bar).collect(),
            })
            .collect(),
        unit: unit.symbol.to_owned(),
        limit: Some((unit.of_si(seen.level.here.si()), seen.level.words.clone())),
    })
}
