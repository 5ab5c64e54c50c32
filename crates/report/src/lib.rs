//! What every answer is made of: a verdict, figures, findings, rows, the rules that
//! decided, what is missing, cautions and sources.
//!
//! One [`Report`] feeds the terminal, the page, the paper and the JSON alike. Nothing
//! here computes, formats a page or knows a part.

mod ask;
mod caution;
mod figure;
mod finding;
mod picture;
mod report;
mod source;
mod table;
mod verdict;

pub use ask::Ask;
pub use caution::Caution;
pub use figure::Figure;
pub use finding::{Finding, Place, Weight};
pub use picture::{
    Bar, BarBank, Bars, Bay, Board, BoardEnd, BoardGroup, BoardRow, Contour, DaySpan, Days,
    HoleMark, Holes, Join, Lane, Net, Picture, Stand, Stroke, Thing,
};
pub use report::Report;
pub use source::{Source, SourceKind};
pub use table::{Align, Cell, Column, Row, Table};
pub use verdict::Verdict;
