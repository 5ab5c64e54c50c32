//! Limits, checks, temporary items, rules, gates.

use crate::book::Book;
use crate::gate::{Need, NeedKind};
use crate::write::page::{Entry, Page};

pub(super) fn write(page: &mut Page, book: &Book) {
    for limit in &book.limits {
        let mut entry = Entry::new("limit");
        entry
            .arg(limit.id.as_str())
            .label(limit.label.as_deref())
            .names("was", &limit.was)
            .when(&limit.when)
            .mention("of", limit.of.as_ref())
            .amount("min", &limit.min)
            .amount("max", &limit.max)
            .amount("new", &limit.new)
            .quantity("per", &limit.per)
            .count("readings", &limit.readings)
            .origin(&limit.source);
        page.put(&entry);
    }
    page.gap();
    for check in &book.checks {
        let mut entry = Entry::new("check");
        entry
            .arg(check.id.as_str())
            .label(check.label.as_deref())
            .names("was", &check.was)
            .when(&check.when)
            .mention("of", check.of.as_ref())
            .mentions("before", &check.before)
            .mentions("after-off", &check.after_off)
            .estimate("takes", &check.takes)
            .mention("limit", check.limit.as_ref())
            .flag("photo", check.photo)
            .maybe("says", check.says.as_deref());
        page.put(&entry);
    }
    page.gap();
    for item in &book.temporaries {
        let mut entry = Entry::new("temporary");
        entry
            .arg(item.id.as_str())
            .label(item.label.as_deref())
            .names("was", &item.was)
            .when(&item.when)
            .mention("in", item.sits_in.as_ref())
            .mentions("out-before", &item.out_before)
            .mentions("in-before", &item.in_before)
            .say("count", &item.count.to_string());
        page.put(&entry);
    }
    page.gap();
    write_rules(page, book);
    page.gap();
    write_gates(page, book);
}

fn write_rules(page: &mut Page, book: &Book) {
    for rule in &book.rules {
        let mut entry = Entry::new("rule");
        entry
            .arg(rule.id.as_str())
            .label(Some(&rule.reason))
            .when(&rule.when);
        page.put_block(&entry, |page| {
            for order in &rule.orders {
                let mut entry = Entry::new(order.act.word());
                entry
                    .arg(&order.first.id.to_string())
                    .mention("before", Some(&order.then));
                page.put(&entry);
            }
        });
    }
}

fn write_gates(page: &mut Page, book: &Book) {
    for gate in &book.gates {
        let mut entry = Entry::new("gate");
        entry
            .arg(gate.id.as_str())
            .label(gate.label.as_deref())
            .when(&gate.when);
        page.put_block(&entry, |page| {
            for need in &gate.needs {
                page.put(&need_entry(need));
            }
        });
    }
}

fn need_entry(need: &Need) -> Entry {
    let mut entry = Entry::new("need");
    match &need.what {
        NeedKind::Check(check) => entry.mention("check", Some(check)),
        NeedKind::Limit(limit) => entry.mention("limit", Some(limit)),
        NeedKind::Joint(joint) => entry.mention("joint", Some(joint)),
        NeedKind::Line(line) => entry.mention("line", Some(line)),
        NeedKind::Circuit(circuit, state) => entry
            .mention("circuit", Some(circuit))
            .say("state", state.word()),
        NeedKind::Part(part, state) => entry.mention("part", Some(part)).say("state", state.word()),
        NeedKind::Temporary(item, state) => entry
            .mention("temporary", Some(item))
            .say("state", state.word()),
        NeedKind::Word(words) => entry.label(Some(words)),
    };
    entry.when(&need.when).maybe("says", need.says.as_deref());
    entry
}
