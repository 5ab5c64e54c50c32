//! Ends on ports: one end a port, of its bore, medium and key.

use std::collections::BTreeMap;

use quantity::Length;

use crate::book::Book;
use crate::codes;
use crate::fact::Fact;
use crate::id::PortRef;
use crate::line::{End, Line};
use crate::port::Port;
use crate::read::Reader;

/// Nominal sizes of hose and nipple are written to half a millimetre.
const BORE_ROOM_MM: f64 = 0.5;

pub(super) fn check(book: &Book, reader: &mut Reader) {
    let mut taken: BTreeMap<&PortRef, Vec<(&Line, &End)>> = BTreeMap::new();
    for line in &book.lines {
        for (index, end) in line.ends.iter().enumerate() {
            let others = taken.entry(&end.port.id).or_default();
            let clash = others
                .iter()
                .find(|(other, _)| !other.when.excludes(&line.when));
            if let Some((_, first)) = clash {
                reader.faults.add(codes::port_used_twice::fault(
                    end.port.span,
                    &end.port.id.to_string(),
                    first.port.span,
                ));
            }
            others.push((line, end));
            if let Some(port) = port_of(book, line, &end.port.id) {
                fits(reader, line, index, end, port);
            }
        }
        check_media(book, reader, line);
    }
}

/// The port that exists together with the line.
fn port_of<'b>(book: &'b Book, line: &Line, port: &PortRef) -> Option<&'b Port> {
    book.parts
        .iter()
        .filter(|part| part.id == port.part && !part.when.excludes(&line.when))
        .flat_map(|part| &part.ports)
        .find(|candidate| candidate.name == port.port && !candidate.when.excludes(&line.when))
}

fn fits(reader: &mut Reader, line: &Line, index: usize, end: &End, port: &Port) {
    let name = end.port.id.to_string();
    if port.open {
        reader.faults.add(codes::port_used_twice::open(
            end.port.span,
            &name,
            port.span,
        ));
    }
    let bore = line.bore_at(index);
    if let (Fact::Known(bore), Fact::Known(size)) = (bore, &port.bore)
        && apart(bore.value, size.value)
    {
        reader.faults.add(codes::bore_mismatch::fault(
            end.port.span,
            &bore.typed,
            &name,
            &size.typed,
            port.span,
        ));
    }
    if let (Fact::Known(key), Fact::Known(socket)) = (&end.key, &port.key)
        && key.value.trim() != socket.value.trim()
    {
        reader.faults.add(codes::key_mismatch::fault(
            end.port.span,
            &key.value,
            &name,
            &socket.value,
            port.span,
        ));
    }
}

fn apart(a: Length, b: Length) -> bool {
    (a.in_mm() - b.in_mm()).abs() > BORE_ROOM_MM
}

/// What a line carries is what both its ports carry.
fn check_media(book: &Book, reader: &mut Reader, line: &Line) {
    let mut carries = line.medium.known();
    for end in &line.ends {
        let Some(port) = port_of(book, line, &end.port.id) else {
            continue;
        };
        let Some(medium) = port.medium.known() else {
            continue;
        };
        match carries {
            Some(carried) if carried != medium => {
                reader.faults.add(codes::medium_mismatch::fault(
                    end.port.span,
                    carried.word(),
                    &end.port.id.to_string(),
                    medium.word(),
                    port.span,
                ));
            }
            Some(_) => {}
            None => carries = Some(medium),
        }
    }
}
