//! A record of 20,000 entries becomes a state in under a second (release build only: a
//! debug build says nothing about speed).

#[path = "lines/mod.rs"]
mod lines;

use job::replay;
use lines::entries;

#[test]
#[cfg_attr(debug_assertions, ignore = "speed is measured in a release build")]
fn twenty_thousand_entries_in_under_a_second() {
    let mut typed: Vec<String> = Vec::new();
    // 250 parts, each off and on and tightened many times over, with readings, rags and undos.
    for round in 0_u32.. {
        let part = round % 250;
        typed.push(format!(
            "off part-{part}: 2 nuts 13 mm, 3 bolts M8x40, 1 bolt M8x65, bag {part}"
        ));
        typed.push("read cranking dry 205 210 208 210 212 210 psi".to_owned());
        typed.push(format!("in port {part}: 3 rags"));
        typed.push(format!("out port {part}: 3 rags"));
        typed.push(format!("note part-{part}: looks like the last one"));
        typed.push("undo".to_owned());
        typed.push(format!(
            "on part-{part}: 2 nuts 13 mm, 3 bolts M8x40, 1 bolt M8x65"
        ));
        typed.push(format!("tight part-{part} 12 Nm"));
        if typed.len() >= 20_000 {
            break;
        }
    }
    let begun = Clock::start();
    // Reading the lines is part of it: the record keeps lines, not acts.
    let state = replay(None, &entries(&typed));
    let took = begun.seconds();
    println!("{} entries in {took:.3} s", typed.len());
    assert!(state.findings.is_empty(), "{:?}", &state.findings[..1]);
    assert!(took < 1.0, "it took {took:.3} s");
}

/// Time this thread spent on a processor, where the system tells (Linux), so that a busy
/// machine does not fail the test; elsewhere the time on the wall.
struct Clock {
    wall: std::time::Instant,
    worked: Option<u64>,
}

impl Clock {
    #[expect(clippy::disallowed_methods, reason = "a test of speed needs a clock")]
    fn start() -> Self {
        Self {
            worked: worked(),
            wall: std::time::Instant::now(),
        }
    }

    fn seconds(&self) -> f64 {
        let nanoseconds = self.worked.zip(worked()).map(|(from, to)| to - from);
        nanoseconds
            .map(std::time::Duration::from_nanos)
            .unwrap_or_else(|| self.wall.elapsed())
            .as_secs_f64()
    }
}

fn worked() -> Option<u64> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split(' ').next()?.parse().ok()
}
