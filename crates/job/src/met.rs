//! Things first met in an entry: a part, a joint, a hole, a hose, with only what was said.
//! Everything else about them was never asked.

use book::{
    Clamp, End, Fact, Head, HeadShape, Holds, Hole, HoleName, Joint, JointId, Line, LineId,
    LineKind, Medium, Mention, Part, PartId, Port, PortName, PortRef, Span, Thread, ThreadSystem,
    Washer, When,
};
use quantity::Length;

use crate::act::{Details, Run};
use crate::item::{Item, Sort, ThreadSize, mm};

/// An id made of a name: lower case, hyphens for everything that is no letter or digit, a
/// letter first.
pub(crate) fn id_of(name: &str) -> String {
    let mut id = String::new();
    for letter in name.chars().flat_map(char::to_lowercase) {
        if letter.is_alphanumeric() {
            id.push(letter);
        } else if !id.ends_with('-') && !id.is_empty() {
            id.push('-');
        }
    }
    let id = id.trim_end_matches('-');
    if id.starts_with(|first: char| first.is_alphabetic()) {
        id.to_owned()
    } else {
        format!("part-{id}")
    }
}

pub(crate) fn mention<I>(id: I) -> Mention<I> {
    Mention {
        id,
        span: Span::default(),
    }
}

pub(crate) fn part(id: PartId, label: Option<String>) -> Part {
    Part {
        id,
        label,
        was: Vec::new(),
        when: When::default(),
        span: Span::default(),
        zone: None,
        needs_off: Vec::new(),
        needs_off_any: Vec::new(),
        comes_with: Vec::new(),
        needs_drained: Vec::new(),
        ports: Vec::new(),
        effort: book::Effort::default(),
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

pub(crate) fn joint(id: JointId, of: PartId, to: PartId) -> Joint {
    Joint {
        id,
        label: None,
        was: Vec::new(),
        when: When::default(),
        span: Span::default(),
        of,
        to: mention(to),
        zone: None,
        critical: None,
        from: None,
        holes: Vec::new(),
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

/// A hole with what was said of the fastener that came out of it.
pub(crate) fn hole(name: HoleName, item: &Item) -> Hole {
    let head = item.head.map(|across| Head {
        shape: HeadShape::Hexagon,
        across: Some(across),
        number: None,
    });
    let typed_head = |head: Head| {
        let typed = head.across.map(|across| format!("{} mm", mm(across)));
        Fact::said(head, typed.unwrap_or_default())
    };
    let holds = match item.sort {
        Sort::Nut => Holds::Stud,
        // A stud that came out itself is not what a nut comes off.
        Sort::Stud => Holds::Other("stud".to_owned()),
        // A name of its own, such as a drain plug, must be found again by that name.
        Sort::Clip => match item.name.as_str() {
            "plug" => Holds::Plug,
            "clip" => Holds::Clip,
            name => Holds::Other(id_of(name)),
        },
        Sort::Dowel => Holds::Dowel,
        Sort::Bolt if item.name.ends_with("screw") => Holds::Screw,
        Sort::Bolt | Sort::Washer | Sort::Seal | Sort::Thing => Holds::Bolt,
    };
    let (head, nut) = match (holds == Holds::Stud, head) {
        (_, None) => (Fact::NeverAsked, Fact::NeverAsked),
        (true, Some(nut)) => (Fact::NeverAsked, typed_head(nut)),
        (false, Some(head)) => (typed_head(head), Fact::NeverAsked),
    };
    Hole {
        name,
        when: When::default(),
        span: Span::default(),
        holds,
        thread: item
            .thread
            .as_ref()
            .and_then(thread)
            .map_or(Fact::NeverAsked, |(thread, typed)| {
                Fact::said(thread, typed)
            }),
        length: item.length.map_or(Fact::NeverAsked, |length| {
            Fact::said(length, format!("{} mm", mm(length)))
        }),
        grip: Fact::NeverAsked,
        thread_depth: Fact::NeverAsked,
        bottom: Fact::NeverAsked,
        opens_to: Fact::NeverAsked,
        head,
        nut,
        grade: item
            .grade
            .clone()
            .map_or(Fact::NeverAsked, |grade| Fact::said(grade.clone(), grade)),
        washer: if item.washer == Some(true) {
            let washer = Washer {
                what: "washer".to_owned(),
                thickness: Fact::NeverAsked,
                count: 1,
                one_use: false,
            };
            Fact::said(washer, "washer")
        } else {
            Fact::NeverAsked
        },
        sleeve: Fact::NeverAsked,
        sealant: Fact::NeverAsked,
        one_use: Fact::NeverAsked,
        adapter: Fact::NeverAsked,
        position: None,
        note: item.note.clone(),
    }
}

/// A thread as the book keeps it, with its designation.
fn thread(size: &ThreadSize) -> Option<(Thread, String)> {
    let typed = size.shown();
    let number = |text: &str| text.parse::<f64>().ok();
    if let Some(diameter) = size.size.strip_prefix('M') {
        let pitch = size.pitch.as_deref().and_then(number);
        let thread = Thread {
            system: ThreadSystem::Metric,
            diameter: Length::mm(number(diameter)?).ok()?,
            pitch: pitch.and_then(|pitch| Length::mm(pitch).ok()),
            left_hand: false,
        };
        return Some((thread, typed));
    }
    let read = calc::thread::Thread::parse(&typed).ok()?;
    let thread = Thread {
        system: ThreadSystem::Unified,
        diameter: read.diameter(),
        pitch: Some(read.pitch()),
        left_hand: false,
    };
    Some((thread, typed))
}

/// The fastener a hole of the book wants. `None`: nothing comes out of it (a dowel, an open hole).
pub(crate) fn fastener(hole: &Hole) -> Option<Item> {
    let (sort, name, head) = match &hole.holds {
        Holds::Bolt | Holds::Banjo => (Sort::Bolt, "bolt", &hole.head),
        Holds::Screw => (Sort::Bolt, "screw", &hole.head),
        Holds::Stud | Holds::Nut => (Sort::Nut, "nut", &hole.nut),
        Holds::Plug => (Sort::Clip, "plug", &hole.head),
        Holds::Clip => (Sort::Clip, "clip", &hole.head),
        Holds::Other(word) if word == "stud" => (Sort::Stud, "stud", &hole.head),
        Holds::Other(word) => (Sort::Clip, word.as_str(), &hole.head),
        Holds::Dowel | Holds::Nothing => return None,
    };
    // The book joins its own words with hyphens: `drain-plug`.
    let mut item = Item::plain(1, sort, name.replace('-', " "));
    item.thread = hole.thread.typed().and_then(size);
    // A stud's length is not the nut's.
    item.length = hole.length.known().copied().filter(|_| sort != Sort::Nut);
    item.head = head.known().and_then(|head| head.across);
    item.grade = hole.grade.known().cloned();
    item.washer = hole.washer.known().map(|_| true);
    Some(item)
}

/// `M8x1.25` or `1/4-20` as the book typed it.
fn size(typed: &str) -> Option<ThreadSize> {
    let plain: String = typed.chars().filter(|sign| !sign.is_whitespace()).collect();
    let plain = plain.trim_end_matches("-LH").replace(['×', 'X'], "x");
    let metric = plain.strip_prefix(['M', 'm']);
    let (size, pitch) = match metric {
        Some(rest) => match rest.split_once('x') {
            Some((size, pitch)) => (format!("M{size}"), Some(pitch)),
            None => (format!("M{rest}"), None),
        },
        None => {
            let (size, pitch) = plain.split_once('-')?;
            (size.to_owned(), Some(pitch))
        }
    };
    Some(ThreadSize {
        size,
        pitch: pitch.map(str::to_owned),
    })
}

pub(crate) fn port(name: PortName) -> Port {
    Port {
        name,
        when: When::default(),
        label: None,
        medium: Fact::NeverAsked,
        bore: Fact::NeverAsked,
        key: Fact::NeverAsked,
        zone: None,
        open: false,
        position: None,
        span: Span::default(),
    }
}

pub(crate) fn line(
    id: LineId,
    label: Option<String>,
    run: Option<Run>,
    details: &Details,
    ends: [PortRef; 2],
) -> Line {
    let clamp = details.clamp.as_deref().map_or(Fact::NeverAsked, |word| {
        let named = Clamp::NAMED
            .into_iter()
            .find(|clamp| clamp.word() == word.to_lowercase());
        Fact::said(named.unwrap_or_else(|| Clamp::Other(id_of(word))), word)
    });
    let bore = details.bore.as_deref().map_or(Fact::NeverAsked, |typed| {
        quantity::read::<Length>(typed).map_or(Fact::Unknown, Fact::Known)
    });
    Line {
        id,
        label,
        was: Vec::new(),
        when: When::default(),
        span: Span::default(),
        kind: match run {
            Some(Run::Pipe) => LineKind::Pipe,
            Some(Run::Lead) => LineKind::Lead,
            Some(Run::Cable) => LineKind::Cable,
            Some(Run::Connector) => LineKind::Connector,
            Some(Run::Ground) => LineKind::Ground,
            Some(Run::Hose) | None => LineKind::Hose,
        },
        medium: details.medium.as_deref().map_or(Fact::NeverAsked, |word| {
            Fact::said(Medium::of_word(&id_of(word)), id_of(word))
        }),
        bore,
        length: Fact::NeverAsked,
        restrictor: Fact::NeverAsked,
        ends: ends.map(|port| End {
            port: mention(port),
            clamp: clamp.clone(),
            bore: Fact::NeverAsked,
            key: Fact::NeverAsked,
            reach: Fact::NeverAsked,
            held_by: None,
            mark: None,
            span: Span::default(),
        }),
        one_use: Fact::NeverAsked,
        wearing: Fact::NeverAsked,
        price: Fact::NeverAsked,
        effort: book::Effort::default(),
        route: None,
        note: details.note.clone(),
    }
}

pub(crate) fn circuit(id: book::CircuitId, name: &str) -> book::Circuit {
    let label = (id.as_str() != name).then(|| name.to_owned());
    book::Circuit {
        medium: Medium::of_word(id.as_str()),
        id,
        label,
        when: When::default(),
        span: Span::default(),
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

/// A seal that came out of a joint nobody had described.
pub(crate) fn seal(item: &Item) -> book::Seal {
    book::Seal {
        what: item.name.clone(),
        count: item.count,
        new: Fact::NeverAsked,
        holes: None,
        side: None,
        price: Fact::NeverAsked,
        thickness: Fact::NeverAsked,
        span: Span::default(),
    }
}
