//! `matchmark hole`: a bolt in a blind hole.

use app::hole::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Tell whether a bolt bottoms in its hole and how much thread meets.
#[derive(Debug, Args)]
pub struct Hole {
    /// Length of the bolt under its head: `40 mm`, `2-1/2 in`.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    bolt: String,
    /// Depth of the hole from where the head or its washer sits; with --grip, from the joint face.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    depth: String,
    /// Thickness of a washer under the head; give it again for another.
    #[arg(long = "washer", value_name = "LENGTH", allow_hyphen_values = true)]
    washers: Vec<String>,
    /// Thickness of what is clamped.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    grip: Option<String>,
    /// The thread: `M8x1.25`, `M8`, `3/8-16`.
    #[arg(long)]
    thread: Option<String>,
    /// The strength mark on the head: `8.8`, `10.9`, `grade 5`.
    #[arg(long)]
    class: Option<String>,
    /// What the hole is cut into: aluminium, iron, steel.
    #[arg(long, value_name = "MATERIAL")]
    into: Option<String>,
}

impl Hole {
    /// Asks whether it bottoms.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            bolt: self.bolt.clone(),
            depth: self.depth.clone(),
            washers: self.washers.clone(),
            grip: self.grip.clone(),
            thread: self.thread.clone(),
            class: self.class.clone(),
            into: self.into.clone(),
        };
        context.with_any_job("hole", |folder| app::hole::of_job(folder, &asked))
    }
}
