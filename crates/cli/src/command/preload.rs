//! `matchmark preload`: what preload a torque gives, or the reverse.

use app::preload::Asked;
use clap::Args;
use report::Report;

/// Work out preload from torque, or torque from preload, with its range.
#[derive(Debug, Args)]
pub struct Preload {
    /// The thread: `M8x1.25`, `M8`, `3/8-16`.
    thread: String,
    /// The strength mark on the head: `8.8`, `10.9`, `grade 5`, `A2-70`.
    #[arg(long)]
    class: String,
    /// Friction in the thread and under the head: `0.12` or `0.10..0.16`.
    #[arg(long)]
    friction: String,
    /// The tightening torque: `25 N·m`.
    #[arg(long)]
    torque: Option<String>,
    /// The preload wanted: `18 kN`.
    #[arg(long)]
    preload: Option<String>,
    /// A cylindrical head with inner hexagon instead of a hexagon head.
    #[arg(long)]
    socket_head: bool,
    /// A turn after the torque, all turns together: `90°`. The joint must be described too.
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    angle: Option<String>,
    /// With a turn: what lies between the head and the nut or the tapped part.
    #[arg(long, value_name = "LENGTH")]
    grip: Option<String>,
    /// With a turn: plain shank within the grip; `0 mm` where it is threaded to the head.
    #[arg(long, value_name = "LENGTH")]
    shank: Option<String>,
    /// With a turn: what is clamped: aluminium, iron, steel.
    #[arg(long, value_name = "MATERIAL")]
    clamped: Option<String>,
    /// With a turn: the end sits in a nut, not in a tapped hole.
    #[arg(long)]
    nut: bool,
}

impl Preload {
    /// Asks for the preload.
    pub fn ask(&self) -> Report {
        app::preload::preload(&Asked {
            thread: self.thread.clone(),
            class: self.class.clone(),
            friction: self.friction.clone(),
            torque: self.torque.clone(),
            preload: self.preload.clone(),
            socket_head: self.socket_head,
            angle: self.angle.clone(),
            grip: self.grip.clone(),
            shank: self.shank.clone(),
            clamped: self.clamped.clone(),
            nut: self.nut,
        })
    }
}
