//! Whether an end of a line goes onto a port that is not its own: by sort, key, bore, clamp,
//! zone and length.
//!
//! What is known decides; what nobody wrote down decides nothing and is asked for instead.

use book::{Book, Clamp, Fact, Line, LineKind, Medium, PartId, Port, PortRef};
use quantity::Length;

/// A hose goes over a stub a millimetre off its bore and a band still closes it.
/// Common practice, no source; above 20 mm it is a twentieth of the bore.
const STRETCH_MM: f64 = 1.0;
const STRETCH: f64 = 0.05;

/// An end that can be pulled this far gets from one side of an engine to the next.
/// Common practice, no source.
const NEXT_ZONE_MM: f64 = 300.0;

/// A lead a tenth shorter than the one that belongs there still reaches; common practice.
const LEAD_SHARE: f64 = 0.9;

/// What sort of seat an end wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Sort {
    Stub,
    Socket,
    Tower,
    Stud,
    Hook,
}

/// How an end holds on: two ways of holding never share a seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Hold {
    Band,
    Quick,
    Union,
    Banjo,
    Eye,
    Latch,
    Other,
}

/// Whether an end goes onto a port.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fit {
    /// Everything known says so. `measured` where the reach was stated and not only the zone.
    Yes {
        /// The reach was written down.
        measured: bool,
    },
    /// Something known speaks against it.
    No,
    /// It hangs on a fact nobody wrote down.
    Unknown(Missing),
}

/// The fact that is missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Missing {
    /// The bore of an end or port.
    Bore,
    /// The shape of a plug.
    Key,
    /// Where one of the two is.
    Zone,
    /// How far the end can be pulled.
    Reach,
}

impl Missing {
    /// The word in the book.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bore => "bore",
            Self::Key => "key",
            Self::Zone => "zone",
            Self::Reach => "reach",
        }
    }
}

/// A port with everything that decides what goes onto it.
#[derive(Clone, Debug)]
pub(super) struct Seat {
    pub(super) port: PortRef,
    pub(super) medium: Option<Medium>,
    sort: Sort,
    hold: Option<Hold>,
    bore: Option<Length>,
    key: Option<String>,
    zone: Option<String>,
    length: Option<Length>,
    /// The port never has anything on it by design.
    pub(super) open: bool,
}

/// An end with everything that decides where it goes.
#[derive(Clone, Debug)]
pub(super) struct Plug {
    pub(super) line: usize,
    pub(super) end: usize,
    rigid: bool,
    reach: Option<Length>,
    pub(super) home: Seat,
}

impl Plug {
    /// An end of a line of the book.
    pub(super) fn of(book: &Book, at: usize, end: usize) -> Self {
        let line = &book.lines[at];
        let own = &line.ends[end];
        let port = book.port(&own.port.id);
        let mut home = Seat::bare(book, &own.port.id, port);
        home.medium = home.medium.or_else(|| line.medium.known().cloned());
        home.sort = sort_of_line(line, home.medium.as_ref());
        home.hold = hold(&own.clamp, home.sort);
        home.bore = line.bore_at(end).known().copied().or(home.bore);
        home.key = own
            .key
            .known()
            .map(|key| key.trim().to_owned())
            .or(home.key);
        home.length = line.length.known().copied();
        Self {
            line: at,
            end,
            rigid: line.kind == LineKind::Pipe,
            reach: own.reach.known().copied(),
            home,
        }
    }

    /// Whether a fact is missing of this end or its port.
    pub(super) fn lacks(&self, missing: Missing) -> bool {
        match missing {
            Missing::Bore => self.home.bore.is_none(),
            Missing::Key => self.home.key.is_none(),
            Missing::Zone => self.home.zone.is_none(),
            Missing::Reach => self.reach.is_none(),
        }
    }

    /// Whether this end goes onto another seat.
    pub(super) fn onto(&self, seat: &Seat) -> Fit {
        let own = &self.home;
        if own.sort != seat.sort || seat.open {
            return Fit::No;
        }
        if let (Some(mine), Some(there)) = (own.hold, seat.hold)
            && mine != there
        {
            return Fit::No;
        }
        let shape = match own.sort {
            Sort::Stub | Sort::Stud => self.bore_fits(seat),
            Sort::Socket | Sort::Tower => same(own.key.as_ref(), seat.key.as_ref(), Missing::Key),
            Sort::Hook => Fit::Yes { measured: false },
        };
        match (shape, self.reaches(seat)) {
            (Fit::No, _) | (_, Fit::No) => Fit::No,
            (Fit::Unknown(missing), _) => Fit::Unknown(missing),
            (_, reach) => reach,
        }
    }

    fn bore_fits(&self, seat: &Seat) -> Fit {
        let (Some(mine), Some(there)) = (self.home.bore, seat.bore) else {
            return Fit::Unknown(Missing::Bore);
        };
        let (mine, there) = (mine.in_mm(), there.in_mm());
        let soft = matches!(self.home.hold, Some(Hold::Band) | None)
            && self.home.sort == Sort::Stub
            && !self.rigid;
        let room = if soft {
            STRETCH_MM.max(mine * STRETCH)
        } else {
            0.5
        };
        // Sizes are written to a tenth; a hair more keeps equal ones equal.
        yes_if((mine - there).abs() <= room + 1e-6)
    }

    fn reaches(&self, seat: &Seat) -> Fit {
        let own = &self.home;
        // A part without a side of its own (body, block) is as long as the vehicle.
        if own.port.part == seat.port.part && own.zone.is_some() && own.zone == seat.zone {
            return Fit::Yes { measured: false };
        }
        if self.rigid {
            return Fit::No;
        }
        if own.sort == Sort::Tower
            && let (Some(mine), Some(there)) = (own.length, seat.length)
        {
            return yes_if(mine.in_mm() >= there.in_mm() * LEAD_SHARE);
        }
        let (Some(here), Some(there)) = (&own.zone, &seat.zone) else {
            return Fit::Unknown(Missing::Zone);
        };
        match (apart(here, there), self.reach.or(own.length)) {
            (Apart::Same, _) => Fit::Yes {
                measured: self.reach.is_some(),
            },
            (Apart::Far, _) => Fit::No,
            (Apart::Next, Some(length)) if length.in_mm() < NEXT_ZONE_MM => Fit::No,
            (Apart::Next, Some(_)) if self.reach.is_some() => Fit::Yes { measured: true },
            (Apart::Next, _) => Fit::Unknown(Missing::Reach),
        }
    }
}

impl Seat {
    /// A port with nothing on it that anybody wrote down.
    pub(super) fn unused(book: &Book, part: &PartId, port: &Port) -> Self {
        let at = PortRef {
            part: part.clone(),
            port: port.name.clone(),
        };
        Self::bare(book, &at, Some(port))
    }

    fn bare(book: &Book, at: &PortRef, port: Option<&Port>) -> Self {
        let medium = port.and_then(|port| port.medium.known().cloned());
        let own_zone = port.and_then(|port| port.zone.as_ref());
        let zone = own_zone.or_else(|| book.part(&at.part)?.zone.as_ref());
        Self {
            sort: sort_of_medium(medium.as_ref()),
            hold: None,
            bore: port.and_then(|port| port.bore.known().copied()),
            key: port
                .and_then(|port| port.key.known())
                .map(|key| key.trim().to_owned()),
            zone: zone.map(|zone| zone.id.to_string()),
            length: None,
            open: port.is_some_and(|port| port.open),
            port: at.clone(),
            medium,
        }
    }
}

fn yes_if(holds: bool) -> Fit {
    if holds {
        Fit::Yes { measured: false }
    } else {
        Fit::No
    }
}

fn same<T: PartialEq>(mine: Option<&T>, there: Option<&T>, missing: Missing) -> Fit {
    match (mine, there) {
        (Some(mine), Some(there)) => yes_if(mine == there),
        (None, _) | (_, None) => Fit::Unknown(missing),
    }
}

fn sort_of_line(line: &Line, medium: Option<&Medium>) -> Sort {
    match line.kind {
        LineKind::Hose | LineKind::Pipe => Sort::Stub,
        LineKind::Connector => Sort::Socket,
        LineKind::Ground => Sort::Stud,
        LineKind::Lead if medium.is_none_or(|medium| *medium == Medium::Ignition) => Sort::Tower,
        LineKind::Lead => Sort::Socket,
        LineKind::Cable if medium.is_some_and(Medium::is_electric) => Sort::Stud,
        LineKind::Cable => Sort::Hook,
    }
}

fn sort_of_medium(medium: Option<&Medium>) -> Sort {
    match medium {
        Some(Medium::Signal) => Sort::Socket,
        Some(Medium::Ignition) => Sort::Tower,
        Some(Medium::Power | Medium::Ground) => Sort::Stud,
        Some(Medium::Pull) => Sort::Hook,
        Some(_) | None => Sort::Stub,
    }
}

fn hold(clamp: &Fact<Clamp>, sort: Sort) -> Option<Hold> {
    // A plug or lead goes by its key; how it latches adds nothing.
    if matches!(sort, Sort::Socket | Sort::Tower | Sort::Hook) {
        return None;
    }
    clamp.known().map(|clamp| match clamp {
        Clamp::Spring | Clamp::Worm | Clamp::Crimped | Clamp::Push => Hold::Band,
        Clamp::Quick => Hold::Quick,
        Clamp::Union => Hold::Union,
        Clamp::Banjo => Hold::Banjo,
        Clamp::Eye => Hold::Eye,
        Clamp::Latch => Hold::Latch,
        Clamp::Other(_) => Hold::Other,
    })
}

/// How two zones lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Apart {
    Same,
    Next,
    Far,
}

/// The sides of an engine, and what lies opposite. A zone of the book's own may lie next to any.
fn apart(one: &str, other: &str) -> Apart {
    const OPPOSITE: [(&str, &str); 3] = [
        ("drive-end", "flywheel-end"),
        ("radiator-side", "bulkhead-side"),
        ("above", "under"),
    ];
    let aside = |zone: &str| matches!(zone, "cabin" | "bench");
    let opposite = |(a, b): &(&str, &str)| (one == *a && other == *b) || (one == *b && other == *a);
    if one == other {
        Apart::Same
    } else if aside(one) || aside(other) || OPPOSITE.iter().any(opposite) {
        Apart::Far
    } else {
        Apart::Next
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fit(text: &str, one: (usize, usize), other: (usize, usize)) -> Fit {
        let (book, faults) = book::read(text);
        assert!(
            faults.is_empty(),
            "{}",
            book::show_faults(&faults, "test.kdl", text)
        );
        Plug::of(&book, one.0, one.1).onto(&Plug::of(&book, other.0, other.1).home)
    }

    fn hoses(first: &str, second: &str, far: &str) -> String {
        format!(
            "part a zone=above {{\n port x bore=\"{first}\"\n port y bore=\"{first}\"\n}}\n\
             part b zone={far} {{\n port x bore=\"{second}\"\n port y bore=\"{second}\"\n}}\n\
             hose one bore=\"{first}\" clamp=spring from=a.x to=a.y\n\
             hose two bore=\"{second}\" clamp=push from=b.x to=b.y\n"
        )
    }

    #[test]
    fn a_hose_goes_over_a_stub_a_millimetre_off_and_no_more() {
        assert_eq!(
            fit(&hoses("10 mm", "11 mm", "above"), (0, 0), (1, 0)),
            Fit::Yes { measured: false }
        );
        assert_eq!(
            fit(&hoses("10 mm", "12 mm", "above"), (0, 0), (1, 0)),
            Fit::No
        );
    }

    #[test]
    fn the_next_side_asks_for_the_reach_and_the_far_side_is_out() {
        assert_eq!(
            fit(&hoses("10 mm", "10 mm", "drive-end"), (0, 0), (1, 0)),
            Fit::Unknown(Missing::Reach)
        );
        assert_eq!(
            fit(&hoses("10 mm", "10 mm", "under"), (0, 0), (1, 0)),
            Fit::No
        );
    }

    #[test]
    fn plugs_go_by_their_key() {
        let text = "part loom zone=above {\n port a medium=signal key=grey\n port b medium=signal key=grey\n port c medium=signal key=black\n}\n\
             part unit zone=above {\n port a medium=signal key=grey\n port b medium=signal key=grey\n port c medium=signal key=black\n}\n\
             connector one from=loom.a to=unit.a\nconnector two from=loom.b to=unit.b\nconnector three from=loom.c to=unit.c\n";
        assert_eq!(fit(text, (0, 1), (1, 1)), Fit::Yes { measured: false });
        assert_eq!(fit(text, (0, 1), (2, 1)), Fit::No);
    }

    #[test]
    fn a_short_lead_does_not_reach_the_far_plug_but_the_next_tower() {
        let text = "part pack zone=above {\n port t1 medium=ignition key=tower\n port t2 medium=ignition key=tower\n}\n\
             part p1 zone=above {\n port p medium=ignition key=cap\n}\npart p2 zone=above {\n port p medium=ignition key=cap\n}\n\
             lead long medium=ignition length=\"800 mm\" from=pack.t1 to=p1.p\nlead short medium=ignition length=\"300 mm\" from=pack.t2 to=p2.p\n";
        assert_eq!(fit(text, (1, 1), (0, 1)), Fit::No);
        assert_eq!(fit(text, (0, 1), (1, 1)), Fit::Yes { measured: false });
        assert_eq!(fit(text, (1, 0), (0, 0)), Fit::Yes { measured: false });
    }
}
