//! `matchmark torque`: a tightening spec at the wrench.

use app::torque::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Show a tightening spec in the wrench's unit and what to set.
#[derive(Debug, Args)]
pub struct Torque {
    /// The spec: `50 lb-ft`, `12 N·m, 21 N·m`, `30 N·m + 90°`, `90 lb-ft dry`.
    ///
    /// Where no book states one, leave it out and describe the bolt.
    #[arg(allow_hyphen_values = true)]
    spec: Option<String>,
    /// The unit to show it in.
    #[arg(long = "in", value_name = "UNIT")]
    unit: Option<String>,
    /// A wrench: `click 20..200 lbf·in 4 %`; give it again for another. Without one, those of
    /// the job's shop file.
    #[arg(long = "wrench", value_name = "WRENCH")]
    wrenches: Vec<String>,
    /// Handle, from the centre of the drive to the centre of the grip.
    #[arg(long, value_name = "LENGTH")]
    handle: Option<String>,
    /// Adapter, from the centre of the drive to the centre of the fastener; or the name of one
    /// in the job's shop file.
    #[arg(long, value_name = "LENGTH")]
    adapter: Option<String>,
    /// Angle of the adapter: 0° straight out, 90° across, 180° folded back.
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    adapter_angle: Option<String>,
    /// A universal joint, bent by so much.
    #[arg(long, value_name = "ANGLE")]
    universal: Option<String>,
    /// A straight extension of this length.
    #[arg(long, value_name = "LENGTH")]
    extension: Option<String>,
    /// The diameter of its bar.
    #[arg(long, value_name = "LENGTH")]
    extension_diameter: Option<String>,
    /// The thread: `M8x1.25`, `M8`, `3/8-16`.
    #[arg(long)]
    thread: Option<String>,
    /// The strength mark on the head: `8.8`, `10.9`, `grade 5`.
    #[arg(long)]
    class: Option<String>,
    /// How the threads are now: dry, oiled, sealer, threadlock.
    #[arg(long)]
    condition: Option<String>,
    /// What the bolt holds; asked for where there is no figure.
    #[arg(long, value_name = "TEXT")]
    joint: Option<String>,
    /// Without a figure: what the hole is cut into: aluminium, iron, steel.
    #[arg(long, value_name = "MATERIAL")]
    into: Option<String>,
    /// Without a figure: length of thread that meets.
    #[arg(long, value_name = "LENGTH")]
    engaged: Option<String>,
    /// Without a figure: what is special: stud, insert, repaired, self-locking, threadlock, angle, …
    #[arg(long, value_name = "WORD")]
    special: Vec<String>,
    /// A left-hand thread: tightened anticlockwise.
    #[arg(long)]
    left_hand: bool,
}

impl Torque {
    /// Asks what to set.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            spec: self.spec.clone(),
            unit: self.unit.clone(),
            wrenches: self.wrenches.clone(),
            handle: self.handle.clone(),
            adapter: self.adapter.clone(),
            adapter_angle: self.adapter_angle.clone(),
            universal: self.universal.clone(),
            extension: self.extension.clone(),
            extension_diameter: self.extension_diameter.clone(),
            thread: self.thread.clone(),
            class: self.class.clone(),
            condition: self.condition.clone(),
            joint: self.joint.clone(),
            into: self.into.clone(),
            engaged: self.engaged.clone(),
            special: self.special.clone(),
            left_hand: self.left_hand,
        };
        context.with_any_job("torque", |folder| {
            app::torque::torque(&asked, folder, context.now_micros)
        })
    }
}
