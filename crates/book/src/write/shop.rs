//! The shop file: wrenches, gauges, shims, people, tools, walks, places.

use quantity::{Duration, Quantity, Unit, read, show, unit};

use crate::fact::Fact;
use crate::shop::{Adapter, Gauge, Person, Shop, SingleTool, Wrench};
use crate::write::page::{Entry, Page};
use crate::write::values;

const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

/// Prints a shop. Reading the text gives the same shop again, with places of its own.
///
/// # Example
/// ```
/// let (shop, _) = book::read_shop("shop \"Barn\"\nperson me {\n    hours sat=\"6 h\"\n}\n");
/// let text = book::write_shop(&shop);
/// assert_eq!(book::read_shop(&text).0, shop);
/// ```
#[must_use]
pub fn write_shop(shop: &Shop) -> String {
    let mut page = Page::new(shop.currency.as_deref().unwrap_or_default());
    head(&mut page, shop);
    page.gap();
    for one in &shop.wrenches {
        wrench(&mut page, one);
    }
    for one in &shop.adapters {
        adapter(&mut page, one);
    }
    page.gap();
    for one in &shop.gauges {
        gauge(&mut page, one);
    }
    page.gap();
    for shim in &shop.shims {
        let mut entry = Entry::new("shim");
        entry
            .label(Some(&exact(
                shim.thickness,
                &[&unit::MILLIMETRE, &unit::INCH_UNIT],
            )))
            .say("count", &shim.count.to_string());
        page.put(&entry);
    }
    page.gap();
    for one in &shop.people {
        person(&mut page, one);
    }
    page.gap();
    for one in &shop.singles {
        single(&mut page, one);
    }
    for walk in &shop.walks {
        let mut entry = Entry::new("walk");
        entry
            .arg(walk.from.id.as_str())
            .arg(walk.to.id.as_str())
            .label(Some(&time(walk.takes)));
        page.put(&entry);
    }
    page.gap();
    for place in &shop.places {
        let mut entry = Entry::new(&place.kind);
        entry.arg(place.id.as_str()).label(place.label.as_deref());
        page.put(&entry);
    }
    page.finish()
}

fn head(page: &mut Page, shop: &Shop) {
    let plain = shop.title.is_none()
        && shop.currency.is_none()
        && matches!(shop.price_per_hour, Fact::NeverAsked)
        && matches!(shop.tool_change, Fact::NeverAsked);
    // A shop of nothing but bags would otherwise be read as no shop at all.
    let empty = shop.wrenches.is_empty() && shop.gauges.is_empty() && shop.people.is_empty();
    if plain && !empty {
        return;
    }
    let mut entry = Entry::new("shop");
    entry
        .label(shop.title.as_deref())
        .maybe("currency", shop.currency.as_deref())
        .fact("price-per-hour", &shop.price_per_hour, |said| {
            said.typed.clone()
        })
        .quantity("tool-change", &shop.tool_change);
    page.put(&entry);
}

fn wrench(page: &mut Page, wrench: &Wrench) {
    let mut entry = Entry::new("wrench");
    entry
        .arg(wrench.id.as_str())
        .label(wrench.label.as_deref())
        .say("kind", wrench.kind.word())
        .range("range", &wrench.range)
        .maybe("unit", wrench.unit.as_deref())
        .quantity("accuracy", &wrench.accuracy)
        .choice("accuracy-of", &wrench.accuracy_of)
        .choice("direction", &wrench.direction)
        .fact("checked", &wrench.checked, |said| said.value.to_string())
        .quantity("graduation", &wrench.graduation)
        .quantity("handle", &wrench.handle);
    page.put(&entry);
}

fn adapter(page: &mut Page, adapter: &Adapter) {
    let mut entry = Entry::new("adapter");
    entry
        .arg(adapter.id.as_str())
        .label(adapter.label.as_deref())
        .say("kind", &adapter.kind)
        .fact("head", &adapter.head, values::head)
        .quantity("length", &adapter.length)
        .quantity("angle", &adapter.angle);
    page.put(&entry);
}

fn gauge(page: &mut Page, gauge: &Gauge) {
    let mut entry = Entry::new("gauge");
    entry
        .arg(gauge.id.as_str())
        .label(gauge.label.as_deref())
        .say("kind", &gauge.kind)
        .fact("range", &gauge.range, |said| said.typed.clone())
        .amount("resolution", &gauge.resolution)
        .amount("repeatability", &gauge.repeatability)
        .amount("uncertainty", &gauge.uncertainty)
        .fact("checked", &gauge.checked, |said| said.value.to_string());
    page.put(&entry);
}

fn person(page: &mut Page, person: &Person) {
    let mut entry = Entry::new("person");
    entry
        .arg(person.id.as_str())
        .label(person.label.as_deref())
        .quantity("first-time", &person.first_time);
    page.put_block(&entry, |page| {
        let mut hours = Entry::new("hours");
        let mut any = false;
        for (day, name) in person.hours.iter().zip(WEEKDAYS) {
            if day.si() > 0.0 {
                any = true;
                hours.maybe(name, Some(&time(*day)));
            }
        }
        if any {
            page.put(&hours);
        }
        for (first, last) in &person.away {
            let mut away = Entry::new("away");
            away.label(Some(&first.to_string()));
            if last != first {
                away.label(Some(&last.to_string()));
            }
            page.put(&away);
        }
        for licence in &person.licences {
            let mut entry = Entry::new("licence");
            entry.label(Some(licence));
            page.put(&entry);
        }
    });
}

fn single(page: &mut Page, single: &SingleTool) {
    let mut entry = Entry::new(if single.hoist { "hoist" } else { "tool" });
    entry.arg(single.id.as_str()).label(single.label.as_deref());
    if single.count != 1 {
        entry.say("count", &single.count.to_string());
    }
    page.put(&entry);
}

fn time(time: Duration) -> String {
    exact(time, &[&unit::HOUR, &unit::MINUTE, &unit::SECOND])
}

/// A quantity in the first of some units whose words say exactly this value.
fn exact<Q: Quantity>(value: Q, units: &[&Unit]) -> String {
    let told = units.iter().map(|unit| show(value, unit));
    let mut told = told.filter(|text| read::<Q>(text).is_ok_and(|again| again.value == value));
    told.next()
        .unwrap_or_else(|| quantity::show_si(value.si(), units.first().unwrap_or(&&unit::SECOND)))
}

#[cfg(test)]
mod tests {
    use crate::{read_shop, write_shop};

    #[test]
    fn a_shop_comes_back() {
        let text = "shop \"Island garage\" currency=EUR tool-change=\"1 min\" price-per-hour=\"40\"\n\
            wrench small \"Small\" kind=click range=\"20..200 lbf·in\" unit=\"lbf·in\" accuracy=\"4 %\" direction=clockwise checked=\"2026-01-10\" handle=\"230 mm\"\n\
            wrench big kind=dial accuracy=\"2 %\" accuracy-of=full-scale checked=\"?\"\n\
            adapter foot \"Crowfoot\" kind=crowfoot head=\"13 mm\" length=\"40 mm\" angle=\"90°\"\n\
            gauge dial \"Dial\" kind=dial range=\"0..10 mm\" resolution=\"0.01 mm\" uncertainty=\"0.01 mm\"\n\
            shim \"2.55 mm\" count=3\n\
            person ana \"Ana\" first-time=1.5 {\n    hours mon=\"3 h\" sat=\"7.5 h\" sun=\"100 min\"\n    away \"2026-03-21\" \"2026-03-22\"\n    away \"2026-04-01\"\n    licence \"air conditioning\"\n}\n\
            hoist crane \"Engine crane\"\ntool holder count=2\n\
            walk above under \"90 s\"\nbag b1\nbag 14\nshelf s1 \"By the door\"\n";
        let (shop, faults) = read_shop(text);
        assert!(faults.is_empty(), "{faults:?}");
        let written = write_shop(&shop);
        let (again, faults) = read_shop(&written);
        assert!(faults.is_empty(), "{written}{faults:?}");
        assert_eq!(again, shop, "{written}");
        assert_eq!(write_shop(&again), written);
    }

    #[test]
    fn an_empty_shop_is_still_a_shop() {
        let (shop, _) = read_shop("bag 14\n");
        let written = write_shop(&shop);
        assert_eq!(read_shop(&written).0, shop);
        assert_eq!(crate::kind_of(&written), crate::TextKind::Shop);
    }
}
