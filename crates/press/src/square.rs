//! The square of dots that holds an address, as SVG.

use std::fmt::Write as _;

use fast_qr::{ECL, QRBuilder};

use crate::PressFault;

/// Light modules left free on each side; the label's own white does the rest.
const QUIET: usize = 2;

/// Draws the square of an address. A corner lost to oil (15 % of the area) does not harm it.
pub(crate) fn svg(address: &str) -> Result<String, PressFault> {
    let code = QRBuilder::new(address)
        .ecl(ECL::M)
        .build()
        .map_err(|_| PressFault::Address {
            address: address.to_owned(),
        })?;
    let side = code.size + 2 * QUIET;
    let mut path = String::new();
    for row in 0..code.size {
        let mut column = 0;
        while column < code.size {
            let run = code[row][column..]
                .iter()
                .take_while(|module| module.value())
                .count();
            if run > 0 {
                // Writing into a string does not fail.
                let _ = write!(path, "M{} {}h{run}v1h-{run}z", column + QUIET, row + QUIET);
            }
            column += run.max(1);
        }
    }
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" width=\"{side}\" height=\"{side}\" shape-rendering=\"crispEdges\"><rect width=\"{side}\" height=\"{side}\" fill=\"#ffffff\"/><path d=\"{path}\" fill=\"#000000\"/></svg>"
    ))
}
