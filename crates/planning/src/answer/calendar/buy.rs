//! What to buy, and by when: two buying moments and a last day for each order.

use std::collections::BTreeMap;

use report::{Ask, Finding, Report, Weight};

use super::{Told, counted};
use crate::calendar::{Buy, date, day_of};

/// What is surely needed, what is decided after looking, and the last day of each order.
pub(super) fn purchases(report: &mut Report, told: &Told<'_>) {
    let (later, now): (Vec<&Buy>, Vec<&Buy>) = told
        .calendar
        .buys
        .iter()
        .partition(|buy| buy.purchase.after_inspection);
    if !now.is_empty() {
        let says = format!(
            "{} surely needed whatever is found{}",
            counted(now.len(), "thing"),
            sum(&now)
        );
        let finding = Finding::new("buy-now", "", says)
            .next("order them today; the day behind each is when the plan needs it");
        report.findings.push(listed(finding, told, &now));
    }
    if !later.is_empty() {
        let when = told.day(told.calendar.inspected);
        let says = format!(
            "{} that wear, to decide on when everything is off and looked at ({when}){}",
            counted(later.len(), "thing"),
            sum(&later)
        );
        let finding = Finding::new("buy-after-looking", "", says)
            .next("look at each when it is off; ring the shops the same evening");
        report
            .findings
            .push(listed(finding, told, &later).weight(Weight::Note));
    }
    for buy in &told.calendar.buys {
        if let Some(by) = buy.order_by {
            report.findings.push(order_by(told, buy, by));
        }
    }
    let unknown = told
        .calendar
        .buys
        .iter()
        .filter(|buy| buy.order_by.is_none())
        .count();
    if unknown > 0 {
        report.asks.push(Ask::new(
            format!(
                "how long {} to buy {} to come",
                counted(unknown, "thing"),
                if unknown == 1 { "takes" } else { "take" }
            ),
            "nothing waits for them here, so ask before the day each is needed",
            "write lead=\"2..4 d\" at the part; gaskets come with one call to the supplier",
        ));
    }
}

fn order_by(told: &Told<'_>, buy: &Buy, by: i64) -> Finding {
    let purchase = &buy.purchase;
    let lead = purchase.lead.map_or(0.0, |lead| lead.high.ceil());
    let what = if job::same_name(&purchase.what, &purchase.concerns) {
        purchase.what.clone()
    } else {
        format!("{} ({})", purchase.what, purchase.concerns)
    };
    let finding = |says: String| {
        let mut finding = Finding::new("order-by", purchase.concerns.clone(), says);
        finding.points_to = Some(date(told.calendar.first, by.max(0)).to_string());
        finding
    };
    if by < 0 {
        return finding(format!(
            "{what} takes up to {lead:.0} d to come and holds the finish up: order it today"
        ));
    }
    let says = format!(
        "{what} takes up to {lead:.0} d to come: order it by {}, later moves the finish",
        told.date(by)
    );
    if purchase.after_inspection && by < day_of(told.calendar.inspected) {
        return finding(says).next(format!(
            "everything is looked at only on {}: order it unseen, or let the finish move",
            told.day(told.calendar.inspected)
        ));
    }
    finding(says).weight(Weight::Note)
}

/// The prices of a list, one sum a currency.
fn sum(buys: &[&Buy]) -> String {
    let mut sums: BTreeMap<&str, (i64, i64)> = BTreeMap::new();
    let mut unpriced = 0_usize;
    for buy in buys {
        match &buy.purchase.price {
            Some(price) => {
                let sum = sums.entry(&price.low.currency).or_default();
                *sum = (
                    sum.0.saturating_add(price.low.hundredths),
                    sum.1.saturating_add(price.high.hundredths),
                );
            }
            None => unpriced += 1,
        }
    }
    let money = |currency: &str, hundredths| book::Money {
        currency: currency.to_owned(),
        hundredths,
    };
    let mut words: Vec<String> = sums
        .iter()
        .map(|(currency, &(low, high))| {
            let price = book::Price {
                low: money(currency, low),
                high: money(currency, high),
            };
            price.to_string()
        })
        .collect();
    if unpriced > 0 {
        words.push(format!("{unpriced} without a price"));
    }
    if words.is_empty() {
        String::new()
    } else {
        format!(": {}", words.join(", "))
    }
}

fn listed(mut finding: Finding, told: &Told<'_>, buys: &[&Buy]) -> Finding {
    for buy in buys {
        let price = buy
            .purchase
            .price
            .as_ref()
            .map_or_else(String::new, |price| format!(", {price}"));
        finding = finding.detail(format!(
            "{}: {}{price}",
            told.day(buy.needed),
            buy.purchase.what
        ));
    }
    finding
}
