//! A tightening spec at the wrench: option text into a question for the judge.

use book::{Date, Shop};
use calc::adapter::Adapter;
use calc::fastener::Class;
use calc::thread::Thread;
use calc::torque::estimate::{Ruling, Unspecified};
use judge::tighten_sheet::rack::Rack;
use judge::tightening::Lever;
use judge::torque::drive::{Drive, Extension};
use judge::torque::{Question, judge, unstated};
use judge::wrench;
use quantity::spec::{self, Condition};
use quantity::{Angle, Kind, Length, Unit, plausible, unit};
use report::Report;

use crate::folder::Folder;
use crate::hole::material;
use crate::option::Options;

const COMMAND: &str = "torque";
const TITLE: &str = "Tightening";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// `50 lb-ft`, `12 N·m, 21 N·m`, `30 N·m + 90°`.
    /// Left out: no book states a figure, and an estimate is asked for.
    pub spec: Option<String>,
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
    /// Bend of a universal joint.
    pub universal: Option<String>,
    /// Length of a straight extension.
    pub extension: Option<String>,
    /// Diameter of its bar.
    pub extension_diameter: Option<String>,
    /// Thread designation.
    pub thread: Option<String>,
    /// Strength mark.
    pub class: Option<String>,
    /// How the threads are now.
    pub condition: Option<String>,
    /// What the bolt holds, for an estimate.
    pub joint: Option<String>,
    /// What the hole is cut into, for an estimate.
    pub into: Option<String>,
    /// Length of thread that meets, for an estimate.
    pub engaged: Option<String>,
    /// What is special about bolt or thread: `stud`, `insert`, …
    pub special: Vec<String>,
    /// A left-hand thread: it is tightened anticlockwise.
    pub left_hand: bool,
}

/// Answers what to set. The wrenches of the job's workshop serve where none is
/// described; `now`, in
/// microseconds since 1970-01-01T00:00Z, ages their checks.
#[must_use]
pub fn torque(asked: &Asked, folder: Option<&Folder>, now: i64) -> Report {
    let shop = folder.and_then(|folder| folder.shop.as_ref());
    let mut options = Options::of(COMMAND);
    let report = match &asked.spec {
        Some(spec) => {
            let rack = rack(&mut options, shop, now, &asked.wrenches);
            question(asked, spec, rack, &mut options).map(|question| judge(&question))
        }
        None => unstated_question(asked, &mut options).map(|question| unstated::judge(&question)),
    };
    match report {
        Some(report) if options.clean() => report,
        _ => options.refusal(TITLE),
    }
}

/// No figure: what is known of bolt and hole.
fn unstated_question(asked: &Asked, options: &mut Options) -> Option<unstated::Question> {
    let Some(text) = &asked.thread else {
        options.fault("SPEC", "there is neither a figure nor a thread", "write the figure of the book, as in \"50 lb-ft\"; where no book states one, give --thread, --class, --into, --engaged and --joint");
        return None;
    };
    let thread = thread(options, "--thread", text);
    let class = asked.class.as_deref().and_then(|text| class(options, text));
    let hole = asked
        .into
        .as_deref()
        .and_then(|text| material(options, "--into", text));
    let engagement = options.maybe::<Length>("--engaged", asked.engaged.as_deref());
    let unit = unit_asked(asked, options);
    let rulings = asked
        .special
        .iter()
        .filter_map(|word| special(options, word))
        .collect();
    Some(unstated::Question {
        known: Unspecified {
            thread: thread?,
            class,
            hole,
            engagement: engagement.map(|said| said.value),
            rulings,
        },
        joint: asked.joint.clone(),
        unit: unit.unwrap_or(unit::NEWTON_METRE),
    })
}

const SPECIALS: [(&str, Ruling); 10] = [
    ("critical", Ruling::CriticalJoint),
    ("angle", Ruling::AngleOrYield),
    ("soft", Ruling::SoftOrExotic),
    ("insert", Ruling::Insert),
    ("stud", Ruling::Stud),
    ("screw", Ruling::SpecialScrew),
    ("self-locking", Ruling::SelfLocking),
    ("threadlock", Ruling::Threadlocked),
    ("slippery", Ruling::ExtremeFriction),
    ("repaired", Ruling::RepairedThread),
];

fn special(options: &mut Options, word: &str) -> Option<Ruling> {
    let found = SPECIALS
        .iter()
        .find(|(name, _)| name.eq_ignore_ascii_case(word.trim()));
    if found.is_none() {
        let names: Vec<&str> = SPECIALS.iter().map(|(name, _)| *name).collect();
        options.fault(
            "--special",
            format!("“{word}” is not among them"),
            format!("one of {}", names.join(", ")),
        );
    }
    found.map(|&(_, ruling)| ruling)
}

fn unit_asked(asked: &Asked, options: &mut Options) -> Option<Unit> {
    let text = asked.unit.as_deref()?;
    options
        .with("--in", text, |text| unit::find(Kind::Torque, text))
        .copied()
}

/// The wrenches at hand: those described by hand, else those of the workshop with their
/// checks as of today.
pub(crate) fn rack(
    options: &mut Options,
    shop: Option<&Shop>,
    now: i64,
    wrenches: &[String],
) -> Rack {
    let Some(today) = day(now) else {
        options.fault("clock", "the clock is outside the calendar", "set it");
        return Rack::default();
    };
    let of_shop = shop.map_or_else(Rack::default, |shop| Rack::of_shop(shop, today));
    if wrenches.is_empty() {
        return of_shop;
    }
    of_shop.by_hand(
        wrenches
            .iter()
            .filter_map(|text| options.with("--wrench", text, wrench::read))
            .map(|said| said.value)
            .collect(),
    )
}

pub(crate) fn day(micros: i64) -> Option<Date> {
    let moment = jiff::Timestamp::from_microsecond(micros).ok()?;
    Date::read(&jiff::tz::Offset::UTC.to_datetime(moment).date().to_string())
}

fn question(asked: &Asked, spec: &str, rack: Rack, options: &mut Options) -> Option<Question> {
    let spec = options.with("SPEC", spec, spec::read);
    let unit = unit_asked(asked, options);
    let lever = lever(asked, &rack, options);
    let drive = drive(asked, options);
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
        show_in: unit,
        rack,
        lever: lever?,
        clockwise: !asked.left_hand,
        thread,
        class,
        drive,
        joint: asked.joint.clone(),
        threads_are,
    })
}

/// A universal joint and an extension; length and bar of an extension belong together.
fn drive(asked: &Asked, options: &mut Options) -> Drive {
    let bend = options.maybe::<Angle>("--universal", asked.universal.as_deref());
    let length = options.maybe::<Length>("--extension", asked.extension.as_deref());
    let diameter =
        options.maybe::<Length>("--extension-diameter", asked.extension_diameter.as_deref());
    if asked.extension.is_some() != asked.extension_diameter.is_some() {
        options.fault(
            "--extension",
            "an extension needs its length and the diameter of its bar",
            "give both, as in --extension \"250 mm\" --extension-diameter \"12.5 mm\"",
        );
    }
    Drive {
        bend: bend.map(|said| said.value),
        extension: length.zip(diameter).map(|(length, diameter)| Extension {
            length: length.value,
            diameter: diameter.value,
        }),
    }
}

/// Handle and adapter belong together; the angle is 0° where it is not given. An adapter may
/// be one of the workshop's, and the handle that of whichever wrench is taken.
fn lever(asked: &Asked, rack: &Rack, options: &mut Options) -> Option<Lever> {
    let handle = options.maybe_likely::<Length>(
        "--handle",
        asked.handle.as_deref(),
        &plausible::WRENCH_LENGTH,
    );
    let angle = options.maybe::<Angle>("--adapter-angle", asked.adapter_angle.as_deref());
    let Some(adapter) = asked.adapter.as_deref() else {
        for (name, given) in [
            ("--handle", &asked.handle),
            ("--adapter-angle", &asked.adapter_angle),
        ] {
            if given.is_some() {
                options.fault(
                    name,
                    "the length of the adapter is missing",
                    "give --adapter, from the centre of the drive to the centre of the fastener",
                );
            }
        }
        return Some(Lever::Straight);
    };
    let held = rack.crowfoot(adapter);
    let length = match held {
        Some(held) => {
            if held.length.is_none() {
                options.fault(
                    "--adapter",
                    format!("the shop file does not say how long {} is", held.name),
                    "measure it from the centre of the drive to the centre of the fastener and write length= there",
                );
            }
            held.length?
        }
        None => options.quantity::<Length>("--adapter", adapter)?.value,
    };
    let told = angle.map(|said| said.value);
    let angle = told.or(held.map(|held| held.angle)).unwrap_or_default();
    if let Some(handle) = handle {
        return Some(Lever::On(Adapter {
            handle: handle.value,
            length,
            angle,
        }));
    }
    if asked.handle.is_none() && !rack.tools.iter().any(|tool| tool.handle.is_some()) {
        options.fault(
            "--adapter",
            "the length of the handle is missing",
            "give --handle, from the centre of the drive to the centre of the grip",
        );
    }
    Some(Lever::Under { length, angle })
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
