//! The next free bag number.

use planning::answer::hand::next_bag;
use report::{Figure, Report};

use crate::folder::Folder;

/// The first bag number nobody has used, as the figure `bag`.
#[must_use]
pub fn next(folder: &Folder) -> Report {
    let number = next_bag(&folder.state);
    let mut report = Report::new("bag", "The next free bag");
    report.headline = Some(format!("bag {number}"));
    report.figures.push(Figure::number(
        "bag",
        "next free bag",
        f64::from(number),
        format!("bag {number}"),
    ));
    report
}
