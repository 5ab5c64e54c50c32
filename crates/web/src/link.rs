//! The pairing link as a phone finds it: the address of this machine, and a square of dots
//! that a camera reads off the screen.

use std::net::{IpAddr, Ipv4Addr, UdpSocket};

use fast_qr::{ECL, QRBuilder};

/// Light modules round the square, without which a camera does not find it.
const QUIET: usize = 2;

/// The address under which this machine is known on its network. Nothing is sent: the system
/// only says which of its addresses it would speak from.
#[must_use]
pub fn own_address() -> IpAddr {
    // An address set aside for documents: it lies beyond every network of a house.
    let route = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))
        .and_then(|socket| {
            socket
                .connect((Ipv4Addr::new(192, 0, 2, 1), 9))
                .map(|()| socket)
        })
        .and_then(|socket| socket.local_addr());
    route.map_or(IpAddr::V4(Ipv4Addr::LOCALHOST), |address| address.ip())
}

/// A link as a square for a terminal, two rows of dots to a line of text; none if it is too
/// long for one. Black on white is asked for, for not every camera reads it the other way.
#[must_use]
pub fn square(link: &str) -> Option<String> {
    let code = QRBuilder::new(link).ecl(ECL::L).build().ok()?;
    let side = code.size + 2 * QUIET;
    let dark = |row: usize, column: usize| {
        let inside = |at: usize| at.checked_sub(QUIET).filter(|at| *at < code.size);
        match (inside(row), inside(column)) {
            (Some(row), Some(column)) => code[row][column].value(),
            _ => false,
        }
    };
    let mut square = String::new();
    for row in (0..side).step_by(2) {
        square.push_str("\u{1b}[30;107m");
        for column in 0..side {
            square.push(match (dark(row, column), dark(row + 1, column)) {
                (true, true) => '█',
                (true, false) => '▀',
                (false, true) => '▄',
                (false, false) => ' ',
            });
        }
        square.push_str("\u{1b}[0m\n");
    }
    Some(square)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: read back by another program's decoder (`rqrr`); kind: computed by a general library.
    #[test]
    fn a_camera_reads_the_square() {
        let link = "http://192.0.2.17:7470/pair/0123456789abcdef0123456789abcdef";
        let square = square(link).expect("it fits");
        let rows: Vec<Vec<char>> = square
            .lines()
            .map(|line| {
                let dots = line.strip_prefix("\u{1b}[30;107m").expect("black on white");
                dots.strip_suffix("\u{1b}[0m")
                    .expect("ends")
                    .chars()
                    .collect()
            })
            .collect();
        assert!(rows[0].len() <= 80, "{} columns", rows[0].len());
        const SCALE: usize = 4;
        let dark = |x: usize, y: usize| match rows[y / 2].get(x) {
            Some('█') => true,
            Some('▀') => y.is_multiple_of(2),
            Some('▄') => !y.is_multiple_of(2),
            _ => false,
        };
        let (width, height) = (rows[0].len() * SCALE, rows.len() * 2 * SCALE);
        let mut image = rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| {
            if dark(x / SCALE, y / SCALE) { 0 } else { 255 }
        });
        let grids = image.detect_grids();
        assert_eq!(grids.len(), 1);
        assert_eq!(grids[0].decode().expect("readable").1, link);
    }
}
