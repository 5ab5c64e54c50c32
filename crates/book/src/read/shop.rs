//! Reads the shop file.

use quantity::Duration;

use crate::codes;
use crate::date::Date;
use crate::fact::Fact;
use crate::id::{PersonId, PlaceId, ToolId};
use crate::near::near;
use crate::read::Reader;
use crate::read::fields::{Fields, said};
use crate::read::hole::head_of;
use crate::read::quantities::{amount_range, quantity_of};
use crate::shop::{
    Adapter, Gauge, Person, Place, ShimStock, Shop, SingleTool, Walk, Wrench, WrenchKind,
};
use crate::tree::{Node, Tree, Value, Word};

/// Words that begin a node of a shop file.
pub(super) const NODES: [&str; 13] = [
    "shop", "wrench", "adapter", "gauge", "shim", "person", "hoist", "tool", "walk", "bag", "tray",
    "box", "shelf",
];

const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

pub(super) fn read(reader: &mut Reader, tree: &Tree) -> Shop {
    let mut shop = Shop::default();
    let (heads, others): (Vec<&Node>, Vec<&Node>) =
        tree.nodes.iter().partition(|node| node.name.text == "shop");
    for head in heads {
        read_head(reader, head, &mut shop);
    }
    for node in others {
        read_node(reader, node, &mut shop);
    }
    shop.shims
        .sort_by(|a, b| a.thickness.in_mm().total_cmp(&b.thickness.in_mm()));
    check_ids(reader, &shop);
    shop
}

fn read_head(reader: &mut Reader, node: &Node, shop: &mut Shop) {
    let mut fields = Fields::new(node, "the shop");
    shop.title = fields.label(reader);
    shop.currency = fields.text(reader, "currency");
    reader.currency = shop.currency.clone().unwrap_or_default();
    shop.price_per_hour = fields.money(reader, "price-per-hour");
    shop.tool_change = fields.quantity(reader, "tool-change");
    fields.finish(reader);
}

fn read_node(reader: &mut Reader, node: &Node, shop: &mut Shop) {
    match node.name.text.as_str() {
        "wrench" => shop.wrenches.extend(wrench(reader, node)),
        "adapter" => shop.adapters.extend(adapter(reader, node)),
        "gauge" => shop.gauges.extend(gauge(reader, node)),
        "shim" => shop.shims.extend(shim(reader, node)),
        "person" => shop.people.extend(person(reader, node)),
        "hoist" => shop.singles.extend(single(reader, node, true)),
        "tool" => shop.singles.extend(single(reader, node, false)),
        "walk" => shop.walks.extend(walk(reader, node)),
        kind @ ("bag" | "tray" | "box" | "shelf") => {
            shop.places.extend(place(reader, node, kind));
        }
        word => {
            let near = near(word, NODES);
            reader.faults.add(codes::unknown_node::fault(
                node.name.span,
                word,
                "a shop file",
                &near,
            ));
        }
    }
}

fn wrench(reader: &mut Reader, node: &Node) -> Option<Wrench> {
    let mut fields = Fields::new(node, "a wrench");
    let id = ToolId::new(fields.id(reader)?);
    let wrench = Wrench {
        label: fields.label(reader),
        kind: fields
            .choice(reader, "kind")
            .known()
            .copied()
            .unwrap_or(WrenchKind::Click),
        range: fields.range(reader, "range"),
        unit: fields.text(reader, "unit"),
        accuracy: fields.quantity(reader, "accuracy"),
        accuracy_of: fields.choice(reader, "accuracy-of"),
        direction: fields.choice(reader, "direction"),
        checked: fields.fact(reader, "checked", day_of),
        graduation: fields.quantity(reader, "graduation"),
        handle: fields.quantity(reader, "handle"),
        span: node.span,
        id,
    };
    fields.finish(reader);
    Some(wrench)
}

fn adapter(reader: &mut Reader, node: &Node) -> Option<Adapter> {
    let mut fields = Fields::new(node, "an adapter");
    let id = ToolId::new(fields.id(reader)?);
    let adapter = Adapter {
        label: fields.label(reader),
        kind: fields
            .text(reader, "kind")
            .unwrap_or_else(|| "crowfoot".to_owned()),
        head: fields.fact(reader, "head", head_of),
        length: fields.quantity(reader, "length"),
        angle: fields.signed(reader, "angle"),
        span: node.span,
        id,
    };
    fields.finish(reader);
    Some(adapter)
}

fn day_of(reader: &mut Reader, value: &Value) -> Option<quantity::Said<Date>> {
    let day = Date::read(&value.text);
    if day.is_none() {
        reader
            .faults
            .add(codes::bad_date::fault(value.span, &value.text));
    }
    day.map(|day| said(day, value))
}

fn gauge(reader: &mut Reader, node: &Node) -> Option<Gauge> {
    let mut fields = Fields::new(node, "a gauge");
    let id = ToolId::new(fields.id(reader)?);
    let gauge = Gauge {
        label: fields.label(reader),
        kind: fields.text(reader, "kind").unwrap_or_default(),
        range: fields.fact(reader, "range", amount_range),
        resolution: fields.amount(reader, "resolution"),
        repeatability: fields.amount(reader, "repeatability"),
        uncertainty: fields.amount(reader, "uncertainty"),
        checked: fields.fact(reader, "checked", day_of),
        span: node.span,
        id,
    };
    fields.finish(reader);
    Some(gauge)
}

fn shim(reader: &mut Reader, node: &Node) -> Option<ShimStock> {
    let mut fields = Fields::new(node, "a shim");
    let value = fields.argument();
    let count = fields.count(reader, "count", 0, 999);
    fields.finish(reader);
    let Some(value) = value else {
        reader.faults.add(codes::missing_fact::fault(
            node.name.span,
            "a shim",
            "its thickness",
            "shim \"2.50 mm\" count=2",
        ));
        return None;
    };
    if value.spoilt {
        return None;
    }
    let thickness = quantity_of::<quantity::Length>(reader, value)?.value;
    Some(ShimStock {
        thickness,
        count: count.known().copied().unwrap_or(1),
    })
}

fn person(reader: &mut Reader, node: &Node) -> Option<Person> {
    let mut fields = Fields::new(node, "a person");
    let id = PersonId::new(fields.id(reader)?);
    let label = fields.label(reader);
    let first_time = fields.quantity(reader, "first-time");
    let mut hours = [Duration::default(); 7];
    for child in fields.children("hours") {
        let mut inner = Fields::new(child, "the hours");
        for (day, name) in hours.iter_mut().zip(WEEKDAYS) {
            if let Some(time) = inner.quantity::<Duration>(reader, name).known() {
                *day = *time;
            }
        }
        inner.finish(reader);
    }
    let mut away = Vec::new();
    for child in fields.children("away") {
        let mut inner = Fields::new(child, "days away");
        let days: Vec<Date> = inner
            .rest()
            .into_iter()
            .filter_map(|value| day_of(reader, value))
            .map(|day| day.value)
            .collect();
        inner.finish(reader);
        match days.as_slice() {
            [day] if child.args.len() == 1 => away.push((*day, *day)),
            [first, last] if first <= last && child.args.len() == 2 => away.push((*first, *last)),
            _ => reader.faults.add(codes::missing_fact::fault(
                child.name.span,
                "`away`",
                "the first and the last day",
                "away \"2026-03-20\" \"2026-03-29\"",
            )),
        }
    }
    let licences = fields
        .values(reader, "licence")
        .into_iter()
        .map(|value| value.text.clone())
        .collect();
    fields.finish(reader);
    Some(Person {
        id,
        label,
        hours,
        first_time,
        away,
        licences,
        span: node.span,
    })
}

fn single(reader: &mut Reader, node: &Node, hoist: bool) -> Option<SingleTool> {
    let mut fields = Fields::new(node, "a tool");
    let id = ToolId::new(fields.id(reader)?);
    let single = SingleTool {
        label: fields.label(reader),
        hoist,
        count: fields
            .count(reader, "count", 1, 99)
            .known()
            .copied()
            .unwrap_or(1),
        span: node.span,
        id,
    };
    fields.finish(reader);
    Some(single)
}

fn walk(reader: &mut Reader, node: &Node) -> Option<Walk> {
    let mut fields = Fields::new(node, "a walk");
    let ends: Vec<Word> = (0..2)
        .filter_map(|_| fields.argument())
        .filter(|value| !value.spoilt)
        .map(|value| Word {
            text: value.text.clone(),
            span: value.span,
        })
        .collect();
    let takes = fields.argument();
    fields.finish(reader);
    let (Some(takes), [_, _]) = (takes, ends.as_slice()) else {
        reader.faults.add(codes::missing_fact::fault(
            node.span,
            "a walk",
            "two zones and a time",
            "walk above under \"1 min\"",
        ));
        return None;
    };
    // A book's own zones are not known here, so a zone of the shop is any id.
    let zone = |word: &Word| {
        crate::span::Mention::new(crate::id::ZoneId::new(word.text.as_str()), word.span)
    };
    let (from, to) = (zone(&ends[0]), zone(&ends[1]));
    let takes = match super::fields::fact_of(reader, takes, quantity_of::<Duration>) {
        Fact::Known(takes) => takes.value,
        Fact::NeverAsked | Fact::Unknown | Fact::DoesNotApply => return None,
    };
    Some(Walk { from, to, takes })
}

fn place(reader: &mut Reader, node: &Node, kind: &str) -> Option<Place> {
    let mut fields = Fields::new(node, "a place");
    // Bags are numbered more often than named.
    let id = match node.args.first() {
        Some(value) if value.text.chars().all(char::is_alphanumeric) && !value.spoilt => {
            fields.argument();
            value.text.clone()
        }
        _ => fields.id(reader)?,
    };
    let place = Place {
        id: PlaceId::new(id),
        kind: kind.to_owned(),
        label: fields.label(reader),
        span: node.span,
    };
    fields.finish(reader);
    Some(place)
}

fn check_ids(reader: &mut Reader, shop: &Shop) {
    let tools = shop
        .wrenches
        .iter()
        .map(|tool| (tool.id.as_str(), tool.span, "a wrench"))
        .chain(
            shop.adapters
                .iter()
                .map(|tool| (tool.id.as_str(), tool.span, "an adapter")),
        )
        .chain(
            shop.gauges
                .iter()
                .map(|tool| (tool.id.as_str(), tool.span, "a gauge")),
        )
        .chain(
            shop.singles
                .iter()
                .map(|tool| (tool.id.as_str(), tool.span, "a tool")),
        );
    let people = shop
        .people
        .iter()
        .map(|one| (one.id.as_str(), one.span, "a person"));
    let places = shop
        .places
        .iter()
        .map(|one| (one.id.as_str(), one.span, "a place"));
    let mut all: Vec<_> = tools.chain(people).chain(places).collect();
    all.sort_by_key(|(id, span, _)| (*id, span.start));
    for pair in all.windows(2) {
        if pair[0].0 == pair[1].0 {
            reader.faults.add(codes::duplicate_id::fault(
                pair[1].1, pair[1].0, pair[0].1, pair[0].2,
            ));
        }
    }
}
