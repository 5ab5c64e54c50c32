//! Books for tests: small stacks written out, and random ones drawn from a seed. All invented.

use std::collections::BTreeSet;

use book::*;
use quantity::Duration;

use crate::chance::Chance;

/// A mention without a place.
pub(crate) fn at<I>(id: I) -> Mention<I> {
    Mention {
        id,
        span: Span::default(),
    }
}

pub(crate) fn part_ref(id: &str) -> Ref {
    Ref::Part(PartId::from(id))
}

pub(crate) fn minutes(minutes: f64) -> Fact<Estimate> {
    let estimate = Estimate {
        likely: Duration::minutes(minutes).unwrap(),
        range: None,
    };
    Fact::said(estimate, format!("{minutes} min"))
}

/// A part that takes so many minutes off and on.
pub(crate) fn part(id: &str, off: f64, on: f64) -> Part {
    Part {
        id: PartId::from(id),
        label: None,
        was: Vec::new(),
        when: When::default(),
        span: Span::default(),
        zone: Some(at(ZoneId::from("above"))),
        needs_off: Vec::new(),
        needs_off_any: Vec::new(),
        comes_with: Vec::new(),
        needs_drained: Vec::new(),
        ports: Vec::new(),
        effort: Effort {
            off: minutes(off),
            on: minutes(on),
            ..Effort::default()
        },
        one_use: Fact::NeverAsked,
        wearing: Fact::NeverAsked,
        price: Fact::NeverAsked,
        lead: Fact::NeverAsked,
        pair: None,
        outside: Vec::new(),
        pieces: Fact::NeverAsked,
        material: Fact::NeverAsked,
        thickness: Fact::NeverAsked,
        fixed: false,
        note: None,
    }
}

pub(crate) fn needs(mut part: Part, others: &[&str]) -> Part {
    part.needs_off = others
        .iter()
        .map(|other| at(PartId::from(*other)))
        .collect();
    part
}

/// The part with one more group of ways.
pub(crate) fn any(mut part: Part, ways: &[&[&str]]) -> Part {
    let way = |way: &&[&str]| Way {
        parts: way.iter().map(|other| at(PartId::from(*other))).collect(),
        span: Span::default(),
    };
    part.needs_off_any.push(NeedsOffAny {
        ways: ways.iter().map(way).collect(),
        span: Span::default(),
    });
    part
}

pub(crate) fn fixed(id: &str) -> Part {
    Part {
        fixed: true,
        ..part(id, 0.0, 0.0)
    }
}

/// A joint named `of-to` with so many bolts.
pub(crate) fn joint(of: &str, to: &str, bolts: usize) -> Joint {
    let hole = |number: usize| Hole {
        name: HoleName::new(format!("h{number}")),
        when: When::default(),
        span: Span::default(),
        holds: Holds::Bolt,
        thread: Fact::NeverAsked,
        length: Fact::NeverAsked,
        grip: Fact::NeverAsked,
        thread_depth: Fact::NeverAsked,
        bottom: Fact::NeverAsked,
        opens_to: Fact::NeverAsked,
        head: Fact::NeverAsked,
        nut: Fact::NeverAsked,
        grade: Fact::NeverAsked,
        washer: Fact::NeverAsked,
        sleeve: Fact::NeverAsked,
        sealant: Fact::NeverAsked,
        one_use: Fact::NeverAsked,
        adapter: Fact::NeverAsked,
        position: None,
        note: None,
    };
    Joint {
        id: JointId::new(format!("{of}-{to}")),
        label: None,
        was: Vec::new(),
        when: When::default(),
        span: Span::default(),
        of: PartId::from(of),
        to: at(PartId::from(to)),
        zone: None,
        critical: None,
        from: None,
        holes: (1..=bolts).map(hole).collect(),
        tighten: Vec::new(),
        pattern: None,
        seals: Vec::new(),
        sealant: None,
        seizes: Fact::NeverAsked,
        retighten: None,
        caps: Fact::NeverAsked,
        note: None,
    }
}

pub(crate) fn seal(what: &str, price: i64) -> Seal {
    let money = Money {
        currency: "EUR".to_owned(),
        hundredths: price,
    };
    Seal {
        what: what.to_owned(),
        count: 1,
        new: Fact::said(true, "#true"),
        holes: None,
        side: None,
        price: Fact::said(
            Price {
                low: money.clone(),
                high: money,
            },
            price.to_string(),
        ),
        thickness: Fact::NeverAsked,
        span: Span::default(),
    }
}

pub(crate) fn port(name: &str, medium: Medium) -> Port {
    Port {
        name: PortName::from(name),
        when: When::default(),
        label: None,
        medium: Fact::said(medium.clone(), medium.word()),
        bore: Fact::NeverAsked,
        key: Fact::NeverAsked,
        zone: None,
        open: false,
        position: None,
        span: Span::default(),
    }
}

pub(crate) fn port_ref(part: &str, port: &str) -> PortRef {
    PortRef {
        part: PartId::from(part),
        port: PortName::from(port),
    }
}

pub(crate) fn line(id: &str, from: (&str, &str), to: (&str, &str)) -> Line {
    let end = |(part, port): (&str, &str)| End {
        port: at(port_ref(part, port)),
        clamp: Fact::NeverAsked,
        bore: Fact::NeverAsked,
        key: Fact::NeverAsked,
        reach: Fact::NeverAsked,
        held_by: None,
        mark: None,
        span: Span::default(),
    };
    Line {
        id: LineId::from(id),
        label: None,
        was: Vec::new(),
        when: When::default(),
        span: Span::default(),
        kind: LineKind::Hose,
        medium: Fact::NeverAsked,
        bore: Fact::NeverAsked,
        length: Fact::NeverAsked,
        restrictor: Fact::NeverAsked,
        ends: [end(from), end(to)],
        one_use: Fact::NeverAsked,
        wearing: Fact::NeverAsked,
        price: Fact::NeverAsked,
        effort: Effort::default(),
        route: None,
        note: None,
    }
}

pub(crate) fn circuit(id: &str, medium: Medium) -> Circuit {
    Circuit {
        id: CircuitId::from(id),
        label: None,
        when: When::default(),
        span: Span::default(),
        medium,
        capacity: Fact::NeverAsked,
        target: Fact::NeverAsked,
        fluid: Fact::NeverAsked,
        cap: Fact::NeverAsked,
        price: Fact::NeverAsked,
        line_volume: Fact::NeverAsked,
        pump_per_turn: Fact::NeverAsked,
        pump_efficiency: Fact::NeverAsked,
        pump_flow: Fact::NeverAsked,
        draining: Fact::NeverAsked,
        filling: Fact::NeverAsked,
        drains: Vec::new(),
        bleeds: Vec::new(),
        fills: Vec::new(),
        through: Vec::new(),
    }
}

pub(crate) fn check(id: &str, of: Option<Ref>, before: &[Ref], after_off: &[Ref]) -> Check {
    Check {
        id: CheckId::from(id),
        label: None,
        was: Vec::new(),
        when: When::default(),
        span: Span::default(),
        of: of.map(at),
        before: before.iter().cloned().map(at).collect(),
        after_off: after_off.iter().cloned().map(at).collect(),
        takes: Fact::NeverAsked,
        limit: None,
        photo: false,
        says: None,
    }
}

pub(crate) fn temporary(
    id: &str,
    sits_in: &str,
    out_before: &[Ref],
    in_before: &[Ref],
) -> Temporary {
    Temporary {
        id: TemporaryId::from(id),
        label: None,
        was: Vec::new(),
        when: When::default(),
        span: Span::default(),
        sits_in: Some(at(PartId::from(sits_in))),
        out_before: out_before.iter().cloned().map(at).collect(),
        in_before: in_before.iter().cloned().map(at).collect(),
        count: 1,
    }
}

pub(crate) fn rule(id: &str, act: OrderAct, first: Ref, then: Ref) -> Rule {
    Rule {
        id: RuleId::from(id),
        reason: format!("because of {id}"),
        when: When::default(),
        span: Span::default(),
        orders: vec![Order {
            act,
            first: at(first),
            then: at(then),
            span: Span::default(),
        }],
    }
}

pub(crate) fn shaft(id: &str, kind: ShaftKind) -> Shaft {
    Shaft {
        id: ShaftId::from(id),
        label: None,
        when: When::default(),
        span: Span::default(),
        kind,
        sense: Fact::NeverAsked,
        driven_by: None,
        drive: Fact::NeverAsked,
        drive_part: None,
        teeth: Fact::NeverAsked,
        pin: None,
        sits_in: None,
        interference: Fact::NeverAsked,
        parked: Fact::NeverAsked,
    }
}

/// A block, and parts on it of which each is under the one named before: the first named is
/// on top. 10 minutes off and 20 on, each.
pub(crate) fn stack(ids: &[&str]) -> Book {
    let mut parts = vec![fixed("block")];
    for (number, id) in ids.iter().enumerate() {
        let over = number.checked_sub(1).map(|over| ids[over]);
        let under: Vec<&str> = over.into_iter().collect();
        parts.push(needs(part(id, 10.0, 20.0), &under));
    }
    Book {
        joints: ids.iter().map(|id| joint(id, "block", 2)).collect(),
        parts,
        ..Book::default()
    }
}

/// An invented head with everything that can be forgotten around it: a cover on a head on a
/// block, a gasket, a hose, a wedge, a check, coolant.
pub(crate) fn head() -> Book {
    let mut block = fixed("block");
    block.ports.push(port("outlet", Medium::Coolant));
    let mut head = part("head", 60.0, 90.0);
    head.ports.push(port("heater", Medium::Coolant));
    let mut bolts = joint("head", "block", 8);
    bolts.critical = Some(Critical::Head);
    bolts.seals.push(seal("head gasket", 4500));
    for hole in &mut bolts.holes {
        hole.one_use = Fact::said(true, "#true");
    }
    let duct = part("duct", 5.0, 5.0);
    let cover = needs(part("cover", 20.0, 30.0), &["duct"]);
    let mut cover_bolts = joint("cover", "head", 6);
    cover_bolts.seals.push(seal("cover gasket", 1200));
    let mut coolant = circuit("coolant", Medium::Coolant);
    coolant.capacity = Fact::said(quantity::Volume::litres(8.0).unwrap(), "8 L");
    Book {
        parts: vec![block, duct, cover, head],
        joints: vec![joint("duct", "cover", 1), cover_bolts, bolts],
        lines: vec![line("heater-hose", ("head", "heater"), ("block", "outlet"))],
        circuits: vec![coolant],
        checks: vec![check(
            "followers-free",
            Some(part_ref("head")),
            &[part_ref("cover")],
            &[],
        )],
        temporaries: vec![temporary("wedge", "block", &[part_ref("cover")], &[])],
        ..Book::default()
    }
}

/// A random book that has a way off for every part: each part is blocked by parts drawn
/// before it, with ways now and then, joints downwards, lines and some things to forget.
pub(crate) fn random(seed: u64, parts: usize) -> Book {
    let mut chance = Chance::new(seed, 77);
    let mut book = Book::default();
    book.parts.push(fixed("block"));
    book.circuits.push(circuit("coolant", Medium::Coolant));
    let name = |number: usize| format!("p{number}");
    for number in 0..parts {
        let id = name(number);
        let mut one = part(
            &id,
            1.0 + chance.below(40) as f64,
            1.0 + chance.below(60) as f64,
        );
        let zones = ["above", "under", "drive-end"];
        one.zone = Some(at(ZoneId::from(zones[chance.below(3)])));
        let mut taken = BTreeSet::new();
        for _ in 0..chance.below(3).min(number) {
            taken.insert(chance.below(number));
        }
        one.needs_off = taken
            .iter()
            .map(|&other| at(PartId::new(name(other))))
            .collect();
        if number > 3 && chance.below(4) == 0 {
            let ways = [chance.below(number), chance.below(number)].map(name);
            one = any(one, &[&[&ways[0]], &[&ways[1]]]);
        }
        for _ in 0..chance.below(3) {
            let medium = if chance.below(3) == 0 {
                Medium::Coolant
            } else {
                Medium::Signal
            };
            let port = port(&format!("o{}", one.ports.len()), medium);
            one.ports.push(port);
        }
        book.parts.push(one);
        // What is drawn later lies deeper, so an earlier part may be fastened onto it.
        let to = "block".to_owned();
        let mut joint = joint(&id, &to, 1 + chance.below(6));
        if chance.below(3) == 0 {
            joint.seals.push(seal(&format!("seal of {id}"), 100));
        }
        book.joints.push(joint);
        if number > 0 && chance.below(3) == 0 {
            let upper = name(chance.below(number));
            let mut onto = self::joint(&upper, &id, 1 + chance.below(4));
            onto.id = JointId::new(format!("{upper}-{id}"));
            book.joints.push(onto);
        }
    }
    random_rest(&mut book, &mut chance, parts);
    book
}

fn random_rest(book: &mut Book, chance: &mut Chance, parts: usize) {
    let mut ports: Vec<(String, String)> = Vec::new();
    for part in &book.parts {
        for port in &part.ports {
            ports.push((part.id.to_string(), port.name.to_string()));
        }
    }
    let mut number = 0;
    while ports.len() > 1 {
        let from = ports.swap_remove(chance.below(ports.len()));
        let to = ports.swap_remove(chance.below(ports.len()));
        let ends = (
            (from.0.as_str(), from.1.as_str()),
            (to.0.as_str(), to.1.as_str()),
        );
        book.lines.push(line(&format!("l{number}"), ends.0, ends.1));
        number += 1;
    }
    for number in 0..parts / 4 {
        let one = part_ref(&format!("p{}", chance.below(parts)));
        book.checks.push(check(
            &format!("c{number}"),
            None,
            std::slice::from_ref(&one),
            &[],
        ));
        let other = part_ref(&format!("p{}", chance.below(parts)));
        book.temporaries
            .push(temporary(&format!("t{number}"), "block", &[other], &[]));
    }
}
