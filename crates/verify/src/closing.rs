//! The end of the way back: nothing is left off, open, dry or inside.

use job::plan::Leg;

use crate::reason::Reason;
use crate::run::Run;

impl Run<'_> {
    /// A plan with a way back closes the whole job.
    pub(crate) fn closing(&mut self) {
        let goes_back = self.plan.steps.iter().any(|step| step.leg == Leg::Together);
        if !goes_back {
            return;
        }
        for (reason, concerns, says) in self.open_things() {
            let says = format!("at the end {says}");
            self.refuse_at(None, reason, concerns, says);
        }
    }

    /// Everything that is off, open, dry or left inside now.
    pub(crate) fn open_things(&self) -> Vec<(Reason, String, String)> {
        let scene = &self.scene;
        let mut open = Vec::new();
        for part in &scene.off {
            open.push((Reason::LeftOff, part.to_string(), format!("{part} is off")));
        }
        for part in &scene.aside {
            let says = format!("{part} is not back in its place");
            open.push((Reason::LeftOff, part.to_string(), says));
        }
        for joint in scene.joints.keys() {
            let says = format!("{joint} is not done up");
            open.push((Reason::JointLeftOpen, joint.to_string(), says));
        }
        for (line, end) in &scene.ends_off {
            let port = self.book.line(line).map(|line| &line.ends[*end].port.id);
            let place = port.map_or_else(String::new, |port| format!(" at {port}"));
            let says = format!("{line} is off{place}");
            open.push((Reason::EndLeftOff, line.to_string(), says));
        }
        for circuit in &scene.drained {
            let says = format!("{circuit} is not filled");
            open.push((Reason::NotFilled, circuit.to_string(), says));
        }
        for item in &scene.inside {
            let says = format!("{item} is still in");
            open.push((Reason::TemporaryLeftIn, item.to_string(), says));
        }
        open
    }
}
