//! Formulas of the trade: pure functions over quantities, one noun a file.
//!
//! No parts, no files, no clock. Every formula carries its units, range and source.

// Fasteners and tightening, in the order the work meets them.
pub mod tightening;
pub mod thread;
pub mod fastener;
pub mod preload;
pub mod strip;
pub mod adapter;
pub mod wrench;
pub mod stretch;
pub mod angle;
pub mod hole;
pub mod pattern;
pub mod interaction;
pub mod torque;

// Running tests: what a gauge should show, and whether a difference is real.
pub mod altitude;
pub mod crank;
pub mod compression;
pub mod cranking;
pub mod leakdown;
pub mod humps;
pub mod outlier;
pub mod repeatability;

// Judging what was measured.
pub mod decision;
pub mod uncertainty;

// Form and size of faces, lines and round things.
pub mod zone;
pub mod flatness;
pub mod form;
pub mod straightness;
pub mod survey;
pub mod tapping;
pub mod union_jack;
pub mod roundness;
pub mod bore;
pub mod clearance;
pub mod finish;

// Filling and first start.
pub mod coolant;
pub mod coolant_boiling;
pub mod coolant_freezing;
pub mod hydraulic_lock;
pub mod prime;
pub mod starter;

// Whether it is worth it.
pub mod options;

// Valves.
pub mod lash;
pub mod spring;

// Metal taken off, and what follows from it.
pub mod ratio;
pub mod cut;
pub mod timing;
pub mod manifold;
