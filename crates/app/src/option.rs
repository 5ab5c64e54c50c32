//! Reading the text of options, all faults in one go.

use quantity::Quantity;
use quantity::plausible::Plausible;
use quantity::read::{self, ReadFault};
use quantity::{Bound, Range, Said};
use report::{Finding, Report, Weight};

/// The options of one command while they are being read.
#[derive(Debug)]
pub struct Options {
    command: &'static str,
    faults: Vec<Finding>,
}

impl Options {
    /// Starts reading the options of a command.
    #[must_use]
    pub const fn of(command: &'static str) -> Self {
        Self {
            command,
            faults: Vec::new(),
        }
    }

    /// Reads a quantity. A fault is kept and `None` returned.
    pub fn quantity<Q: Quantity>(&mut self, name: &str, text: &str) -> Option<Said<Q>> {
        self.with(name, text, read::read::<Q>)
    }

    /// Reads a quantity that may be left out.
    pub fn maybe<Q: Quantity>(&mut self, name: &str, text: Option<&str>) -> Option<Said<Q>> {
        text.and_then(|text| self.quantity(name, text))
    }

    /// Reads a quantity that lies in a plausible range unless its unit slipped.
    pub fn likely<Q: Quantity>(
        &mut self,
        name: &str,
        text: &str,
        range: &Plausible,
    ) -> Option<Said<Q>> {
        let said = self.quantity::<Q>(name, text)?;
        match range.check(said.value) {
            Ok(()) => Some(said),
            Err(fault) => {
                self.fault(
                    name,
                    fault.to_string(),
                    "read figure and unit again, and write both",
                );
                None
            }
        }
    }

    /// Reads a quantity that may be left out and lies in a plausible range.
    pub fn maybe_likely<Q: Quantity>(
        &mut self,
        name: &str,
        text: Option<&str>,
        range: &Plausible,
    ) -> Option<Said<Q>> {
        text.and_then(|text| self.likely(name, text, range))
    }

    /// Reads a range such as `0.11..0.15 mm`.
    pub fn range<Q: Quantity>(&mut self, name: &str, text: &str) -> Option<Said<Range<Q>>> {
        self.with(name, text, read::read_range::<Q>)
    }

    /// Reads a reading that may be a bound, such as `<0.04 mm`.
    pub fn bound<Q: Quantity>(&mut self, name: &str, text: &str) -> Option<Said<Bound<Q>>> {
        self.with(name, text, read::read_bound::<Q>)
    }

    /// Reads a list with its unit once at the end; `-` is no reading.
    pub fn list<Q: Quantity>(&mut self, name: &str, text: &str) -> Option<Said<Vec<Option<Q>>>> {
        self.with(name, text, read::read_list::<Q>)
    }

    /// Reads text by any reader.
    pub fn with<T>(
        &mut self,
        name: &str,
        text: &str,
        reader: impl FnOnce(&str) -> Result<T, ReadFault>,
    ) -> Option<T> {
        match reader(text) {
            Ok(read) => Some(read),
            Err(fault) => {
                self.faults.push(finding(name, &fault));
                None
            }
        }
    }

    /// Keeps a fault that is not about how a quantity is written.
    pub fn fault(&mut self, name: &str, says: impl Into<String>, way_out: impl Into<String>) {
        self.faults.push(
            Finding::new("option", name, says)
                .next(way_out)
                .weight(Weight::Stop),
        );
    }

    /// Whether everything so far was understood.
    #[must_use]
    pub fn clean(&self) -> bool {
        self.faults.is_empty()
    }

    /// The refusal that names every fault.
    #[must_use]
    pub fn refusal(self, title: impl Into<String>) -> Report {
        let mut report = Report::new(self.command, title);
        report.findings = self.faults;
        report.refused = true;
        report.headline = Some("Not understood, nothing was computed.".to_owned());
        report
    }
}

/// A reading fault as a finding, with the typed text and a caret under the place.
#[must_use]
pub fn finding(name: &str, fault: &ReadFault) -> Finding {
    let before = fault
        .text
        .get(..fault.at.start)
        .unwrap_or("")
        .chars()
        .count();
    let marked = fault
        .text
        .get(fault.at.clone())
        .unwrap_or("")
        .chars()
        .count()
        .max(1);
    Finding::new("unit-text", name, fault.reason.clone())
        .detail(fault.text.clone())
        .detail(format!("{}{}", " ".repeat(before), "^".repeat(marked)))
        .next(fault.hint.clone())
        .weight(Weight::Stop)
}
