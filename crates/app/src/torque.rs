//! A tightening spec at the wrench: option text into a question for the judge.

use calc::adapter::Adapter;
use calc::fastener::Class;
use calc::thread::Thread;
use judge::torque::{Question, judge};
use judge::wrench;
use quantity::spec::{self, Condition};
use quantity::{Angle, Kind, Length, unit};
use report::Report;

use crate::option::Options;

const COMMAND: &str = "torque";
const TITLE: &str = "Tightening";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// `50 lb-ft`, `12 N·m, 21 N·m`, `30 N·m + 90°`.
    pub spec: String,
    /// The unit to show it in.
    pub unit: Option<String>,
    /// Wrenches: `click 20..200 lbf·in 4 %`.
    pub wrenches: Vec<String>,
    /// Handle, drive centre to grip centre.
    pub handle: Option<String>,
    /// Adapter, drive centre to fastener centre.
    pub adapter: Option<String>,
    /// Angle between them.
    pub adapter_angle: Option<String>,
    /// Thread designation.
    pub thread: Option<String>,
    /// Strength mark.
    pub class: Option<String>,
    /// How the threads are now.
    pub condition: Option<String>,
}

/// Answers what to set.
#[must_use]
pub fn torque(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal(TITLE),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Question> {
    let spec = options.with("SPEC", &asked.spec, spec::read);
    let unit = asked
        .unit
        .as_deref()
        .and_then(|text| options.with("--in", text, |text| unit::find(Kind::Torque, text)));
    let tools = asked
        .wrenches
        .iter()
        .filter_map(|text| options.with("--wrench", text, wrench::read))
        .map(|said| said.value)
        .collect();
    let adapter = adapter(asked, options);
    let thread = asked
        .thread
        .as_deref()
        .and_then(|text| thread(options, "--thread", text));
    let class = asked.class.as_deref().and_then(|text| class(options, text));
    if class.is_some() && asked.thread.is_none() {
        options.fault(
            "--class",
            "a strength without a thread says nothing",
            "give --thread as well, as in --thread M8x1.25",
        );
    }
    let threads_are = asked
        .condition
        .as_deref()
        .and_then(|text| condition(options, text));
    Some(Question {
        spec: spec?,
        show_in: unit.copied(),
        tools,
        adapter,
        thread,
        class,
        threads_are,
    })
}

/// Handle and adapter belong together; the angle is 0° where it is not given.
fn adapter(asked: &Asked, options: &mut Options) -> Option<Adapter> {
    let handle = options.maybe::<Length>("--handle", asked.handle.as_deref());
    let length = options.maybe::<Length>("--adapter", asked.adapter.as_deref());
    let angle = options.maybe::<Angle>("--adapter-angle", asked.adapter_angle.as_deref());
    match (&asked.handle, &asked.adapter) {
        (None, None) => {
            if asked.adapter_angle.is_some() {
                options.fault(
                    "--adapter-angle",
                    "an angle without an adapter",
                    "give --handle and --adapter as well",
                );
            }
            return None;
        }
        (None, Some(_)) => {
            options.fault(
                "--adapter",
                "the length of the handle is missing",
                "give --handle, from the centre of the drive to the centre of the grip",
            );
        }
        (Some(_), None) => {
            options.fault(
                "--handle",
                "the length of the adapter is missing",
                "give --adapter, from the centre of the drive to the centre of the fastener",
            );
        }
        (Some(_), Some(_)) => {}
    }
    let straight = Angle::degrees(0.0).ok()?;
    Some(Adapter {
        handle: handle?.value,
        length: length?.value,
        angle: angle.map_or(straight, |said| said.value),
    })
}

/// Reads a thread; a fault is kept and `None` returned.
pub(crate) fn thread(options: &mut Options, name: &str, text: &str) -> Option<Thread> {
    match Thread::parse(text) {
        Ok(thread) => Some(thread),
        Err(fault) => {
            options.fault(name, fault.to_string(), "as in M8x1.25, M8 or 3/8-16");
            None
        }
    }
}

/// Reads a strength mark; a fault is kept and `None` returned.
pub(crate) fn class(options: &mut Options, text: &str) -> Option<Class> {
    match Class::parse(text) {
        Ok(class) => Some(class),
        Err(fault) => {
            options.fault("--class", fault.to_string(), "as in 8.8 or grade 5");
            None
        }
    }
}

fn condition(options: &mut Options, text: &str) -> Option<Condition> {
    match text.trim().to_lowercase().as_str() {
        "dry" => Some(Condition::Dry),
        "oiled" | "oil" | "lubricated" => Some(Condition::Oiled),
        "sealer" | "with sealer" => Some(Condition::Sealer),
        "threadlock" | "with threadlock" => Some(Condition::Threadlock),
        _ => {
            options.fault(
                "--condition",
                format!("“{text}” is no condition of threads held here"),
                "dry, oiled, sealer or threadlock",
            );
            None
        }
    }
}
