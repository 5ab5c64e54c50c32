//! Threads and strength marks of a book as the formulas take them.

use book::{Fact, Thread};
use calc::fastener::Class;

/// The thread of a hole. `None`: not known, or none the formulas know.
#[must_use]
pub fn thread(thread: &Fact<Thread>) -> Option<calc::thread::Thread> {
    let typed = thread.typed()?.trim();
    let plain = typed.split_once("-LH").map_or(typed, |(plain, _)| plain);
    calc::thread::Thread::parse(plain).ok()
}

/// The strength marked on a head, where it is one the formulas hold.
#[must_use]
pub fn class(grade: &Fact<String>) -> Option<Class> {
    Class::parse(grade.known()?).ok()
}
