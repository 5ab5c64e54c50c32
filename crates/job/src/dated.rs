//! A plan laid over days, as plain data: who does which step when, and what is away meanwhile.
//!
//! Who lays a calendar and who checks it share these types and nothing else. Moments are whole
//! seconds from the midnight before the first day.

use book::{Date, PartId, PersonId};

use crate::plan::StepName;

/// A stretch of time, from and to.
pub type Stretch = (i64, i64);

/// The steps of a plan with their people and times.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dated {
    /// The first day.
    pub first: Date,
    /// The steps.
    pub steps: Vec<DatedStep>,
    /// What goes on without anybody here.
    pub elsewhere: Vec<Elsewhere>,
    /// When all is done and cured.
    pub finish: i64,
}

/// One step with its people and times.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DatedStep {
    /// The step, by its name in the plan.
    pub name: StepName,
    /// Who does it.
    pub people: Vec<PersonId>,
    /// When; several stretches where no evening is long enough.
    pub stretches: Vec<Stretch>,
}

/// A part away at a shop, or something on its way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Elsewhere {
    /// The part that is away; nothing for a delivery.
    pub part: Option<PartId>,
    /// From when to when.
    pub lasts: Stretch,
    /// The steps that need it here.
    pub wanted_by: Vec<StepName>,
}
