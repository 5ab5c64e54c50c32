//! Readings against limits: each question a person asks of a number becomes one report.
//!
//! It reads typed inputs and calls `calc`; it knows neither plans nor storage.

// Running tests: what a set of readings says, and what it does not.
pub mod cranking;
pub mod layout;
pub mod leakdown;
pub mod vacuum;
pub mod trims;
pub mod oil_pressure;
pub mod cooling;
pub mod next_test;
pub mod proof;
pub mod proof_page;

// Filling and first start.
pub mod coolant;
pub mod hydraulic_lock;
pub mod prime;
pub mod start;
pub mod after;
pub mod leads;

// Whether it is worth it.
pub mod options;

// One number against one limit; every question that judges comes here.
pub mod limit;
pub mod reading;
pub mod found;

// Faces, bores and clearances.
pub mod flatness;
pub mod lash;
pub mod spring;
pub mod bore;
pub mod clearance;
pub mod finish;
pub mod table;
pub mod shop_sheet;
pub mod ratio;
pub mod cut;

// What must hold before an act that cannot be taken back.
pub mod gate;

// Tightening: from a spec to the wrench, from torque to preload, its
// length, a bolt in its hole.
pub mod fastener;
pub mod wrench;
pub mod tightening;
pub mod torque;
pub mod preload;
pub mod stretch;
pub mod hole;
pub mod broken;
pub mod tighten_joint;
pub mod tighten_sheet;
pub mod tighten_list;
