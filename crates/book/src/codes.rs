//! Every kind of fault a book can have, one module each, in the order of the manual:
//! text, grammar, nouns, then what only shows when the whole book is read.

use crate::fault::{Fault, Severity};
use crate::span::Span;

pub mod text_not_kdl;
pub mod lost_quote;
pub mod unquoted_value;
pub mod bare_yes_no;
pub mod open_brace;
pub mod stray_brace;
pub mod empty_book;
pub mod unknown_node;
pub mod unknown_property;
pub mod missing_fact;
pub mod said_twice;
pub mod bad_id;
pub mod stray_argument;
pub mod unknown_word;
pub mod bad_count;
pub mod missing_unit;
pub mod wrong_kind;
pub mod torque_as_energy;
pub mod unreadable_quantity;
pub mod thread_designation;
pub mod bad_hole_range;
pub mod bad_price;
pub mod bad_date;
pub mod duplicate_id;
pub mod was_clash;
pub mod hole_twice;
pub mod unknown_hole;
pub mod pattern_hole;
pub mod length_shorter_than_grip;
pub mod one_ended_line;
pub mod firing_order;
pub mod limit_without_source;
pub mod limit_without_number;
pub mod rule_without_reason;
pub mod unknown_part;
pub mod unknown_port;
pub mod unknown_joint;
pub mod unknown_name;
pub mod wrong_noun;
pub mod unknown_zone;
pub mod unknown_variant_value;
pub mod port_used_twice;
pub mod bore_mismatch;
pub mod medium_mismatch;
pub mod key_mismatch;
pub mod needs_off_loop;
pub mod fixed_in_the_way;
pub mod joint_to_itself;
pub mod rule_against_needs_off;
pub mod rule_loop;
pub mod gate_unknown_need;

/// One kind of fault.
#[derive(Debug)]
pub struct Code {
    /// Its name in words, without the `book/` before it.
    pub name: &'static str,
    /// The name as it stands in messages: `book/unknown-part`.
    pub full: &'static str,
    /// What it is, in one phrase.
    pub summary: &'static str,
    /// Why it is a fault and how such faults come about.
    pub explains: &'static str,
    /// A text that has it.
    pub example: Example,
}

/// A text with a fault in it.
#[derive(Debug)]
pub enum Example {
    /// A build book.
    Book(&'static str),
    /// A shop file.
    Shop(&'static str),
}

/// All codes, in the order of the manual.
pub static CODES: &[&Code] = &[
    &text_not_kdl::CODE,
    &lost_quote::CODE,
    &unquoted_value::CODE,
    &bare_yes_no::CODE,
    &open_brace::CODE,
    &stray_brace::CODE,
    &empty_book::CODE,
    &unknown_node::CODE,
    &unknown_property::CODE,
    &missing_fact::CODE,
    &said_twice::CODE,
    &bad_id::CODE,
    &stray_argument::CODE,
    &unknown_word::CODE,
    &bad_count::CODE,
    &missing_unit::CODE,
    &wrong_kind::CODE,
    &torque_as_energy::CODE,
    &unreadable_quantity::CODE,
    &thread_designation::CODE,
    &bad_hole_range::CODE,
    &bad_price::CODE,
    &bad_date::CODE,
    &duplicate_id::CODE,
    &was_clash::CODE,
    &hole_twice::CODE,
    &unknown_hole::CODE,
    &pattern_hole::CODE,
    &length_shorter_than_grip::CODE,
    &one_ended_line::CODE,
    &firing_order::CODE,
    &limit_without_source::CODE,
    &limit_without_number::CODE,
    &rule_without_reason::CODE,
    &unknown_part::CODE,
    &unknown_port::CODE,
    &unknown_joint::CODE,
    &unknown_name::CODE,
    &wrong_noun::CODE,
    &unknown_zone::CODE,
    &unknown_variant_value::CODE,
    &port_used_twice::CODE,
    &bore_mismatch::CODE,
    &medium_mismatch::CODE,
    &key_mismatch::CODE,
    &needs_off_loop::CODE,
    &fixed_in_the_way::CODE,
    &joint_to_itself::CODE,
    &rule_against_needs_off::CODE,
    &rule_loop::CODE,
    &gate_unknown_need::CODE,
];

impl Code {
    /// The name as it stands in messages: `book/unknown-part`.
    #[must_use]
    pub const fn full_name(&self) -> &'static str {
        self.full
    }

    fn at(&'static self, span: Span, message: impl Into<String>) -> Fault {
        Fault {
            code: self,
            severity: Severity::Error,
            span,
            message: message.into(),
            hints: Vec::new(),
            also: Vec::new(),
        }
    }

    /// The page of the manual, made by running the example.
    #[must_use]
    pub fn page(&self) -> String {
        let (text, faults) = match self.example {
            Example::Book(text) => (text, crate::read(text).1),
            Example::Shop(text) => (text, crate::read_shop(text).1),
        };
        let shown = crate::show_faults(&faults, "example.kdl", text);
        format!(
            "# {}\n\n{}.\n\n{}\n\n## A file with this fault\n\n```text\n{}\n```\n\n\
             ## What the program says\n\n```text\n{}\n```\n",
            self.full_name(),
            capital(self.summary),
            self.explains,
            text.trim_end(),
            shown.trim_end(),
        )
    }
}

/// The page that lists all codes.
#[must_use]
pub fn index() -> String {
    let mut page = String::from(
        "# Faults of a build book or shop file\n\n\
         `matchmark check FILE` finds them all in one go. Each has a page with an example. The\n\
         pages are made by running the examples; a test fails when one is stale.\n\n\
         | fault | what it is |\n|---|---|\n",
    );
    for code in CODES {
        page.push_str(&format!(
            "| [{0}]({0}.md) | {1} |\n",
            code.name, code.summary
        ));
    }
    page
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
