//! What is known of a gauge: how well it repeats and how true it is, from options or the shop
//! file. The two are kept apart because one cancels between cylinders and the other does not.

use book::{Amount, Gauge, Shop};
use quantity::{GaugePressure, Quantity, Ratio, read};

use crate::option::Options;

/// The gauge of the shop file that a reading names.
pub(crate) fn of_shop<'a>(shop: Option<&'a Shop>, name: Option<&str>) -> Option<&'a Gauge> {
    let (shop, name) = (shop?, name?);
    shop.gauges.iter().find(|gauge| {
        job::same_name(gauge.id.as_str(), name)
            || gauge
                .label
                .as_deref()
                .is_some_and(|label| job::same_name(label, name))
    })
}

/// How well a gauge of the shop repeats, as typed, where that is a pressure or a share of one.
pub(crate) fn repeats(gauge: &Gauge) -> Option<&str> {
    let fits = |amount: &Amount| matches!(amount, Amount::Pressure(_) | Amount::Ratio(_));
    let fact = &gauge.repeatability;
    fact.typed().filter(|_| fact.known().is_some_and(fits))
}

/// How far a gauge of the shop may be off, as typed, where that is a pressure.
pub(crate) fn off_by(gauge: &Gauge) -> Option<&str> {
    let fits = |amount: &Amount| matches!(amount, Amount::Pressure(_));
    let fact = &gauge.uncertainty;
    fact.typed().filter(|_| fact.known().is_some_and(fits))
}

/// Reads how well a pressure gauge repeats: a share of the reading, or a pressure that is
/// taken as a share of the best reading.
pub(crate) fn repeatability(
    options: &mut Options,
    text: Option<&str>,
    best: Option<GaugePressure>,
) -> Option<Ratio> {
    const NAME: &str = "--repeatability";
    let text = text?;
    let Ok(pressure) = read::read::<GaugePressure>(text) else {
        return options.quantity::<Ratio>(NAME, text).map(|said| said.value);
    };
    let share = pressure.value.si() / best?.si();
    match Ratio::fraction(share) {
        Ok(share) => Some(share),
        Err(_) => {
            options.fault(NAME, "no reading to hold it against", "a share such as 2 %");
            None
        }
    }
}

/// Reads how far a pressure gauge may be off: a pressure, or a share of its scale.
pub(crate) fn accuracy(options: &mut Options, text: Option<&str>) -> Option<GaugePressure> {
    const NAME: &str = "--accuracy";
    const WAY: &str = "write 6 psi, or 2 % of 300 psi";
    let text = text?;
    let off = match text.split_once(" of ") {
        Some((share, scale)) => {
            let share = options.quantity::<Ratio>(NAME, share)?.value;
            let scale = options.quantity::<GaugePressure>(NAME, scale)?.value;
            GaugePressure::from_si(share.in_fraction() * scale.si()).ok()
        }
        None if text.trim_end().ends_with('%') => {
            options.fault(
                NAME,
                "a share of what: of the scale or of the reading?",
                WAY,
            );
            return None;
        }
        None => Some(options.quantity::<GaugePressure>(NAME, text)?.value),
    };
    let off = off.filter(|off| off.si() >= 0.0);
    if off.is_none() {
        options.fault(NAME, "a gauge cannot be off by less than nothing", WAY);
    }
    off
}
