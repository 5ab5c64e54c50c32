//! Prints a book as a build book that reads back to the same book.
//!
//! Words stand as they were typed wherever they still mean the value beside them; places are not
//! kept, so comments and layout of an older file are not either.

mod page;
mod values;

mod head;
mod part;
mod joint;
mod line;
mod judging;
mod shop;

use crate::book::Book;
use page::Page;

pub use shop::write_shop;

/// Prints a book. Reading the text gives the same book again, with places of its own.
///
/// # Example
/// ```
/// let (book, _) = book::read("part air-duct \"Air duct\" zone=above off=\"8 min\"\n");
/// let text = book::write(&book);
/// assert_eq!(book::read(&text).0, book);
/// ```
#[must_use]
pub fn write(book: &Book) -> String {
    let mut page = Page::new(book.currency.as_deref().unwrap_or_default());
    head::write(&mut page, book);
    for part in &book.parts {
        page.gap();
        part::write(&mut page, part, book);
    }
    page.gap();
    for line in &book.lines {
        line::write(&mut page, line);
    }
    page.gap();
    for circuit in &book.circuits {
        line::write_circuit(&mut page, circuit);
    }
    for crossing in &book.crossings {
        line::write_crossing(&mut page, crossing);
    }
    page.gap();
    judging::write(&mut page, book);
    page.finish()
}

#[cfg(test)]
mod tests;
