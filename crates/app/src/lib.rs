//! Use cases: what each command and page does, from option text to a report.
//!
//! This is the one place that wires the stages together and owns the job folder. It
//! computes nothing a lower crate could compute.

pub mod option;
pub mod folder;

pub mod bag;
pub mod begin;
pub mod check;
pub mod copy;
pub mod demo;
pub mod gate;
pub mod ledger;
pub mod lines;
pub mod understood;
pub mod photo;

pub mod document;
pub mod sitting;
pub mod howto;
pub mod account;
pub mod rows;
pub mod captions;
pub mod write_back;

pub mod reach;
pub mod sequence;
pub mod calendar;
mod replan;
pub mod day;
pub mod hand;
pub mod turn;
pub mod comeback;

pub mod mixups;
pub mod ends;
pub mod whereis;

pub mod convert;

pub mod typed;
mod gauge;

pub mod cranking;
pub mod leads;
pub mod cooling;
pub mod proof;
pub mod next_test;
pub mod oil_pressure;
pub mod trims;
pub mod vacuum;
pub mod options;
pub mod leakdown;
pub mod coolant;
pub mod hydraulic_lock;
pub mod prime;
pub mod start;

pub mod readings;
pub mod flatness;
pub mod lash;
pub mod spring;
pub mod ratio;
pub mod cut;
pub mod bore;
pub mod clearance;
pub mod finish;
pub mod table;
pub mod shop_sheet;

pub mod torque;
pub mod preload;
pub mod stretch;
pub mod hole;
pub mod tapping;
pub mod broken;
pub mod tighten;

pub mod paper;
pub mod print;
