//! `matchmark broken`: a bolt or stud broken off in its hole.

use app::broken::Asked;
use clap::Args;
use report::Report;

/// Tell how to get a broken bolt or stud out, the way that spoils least first.
#[derive(Debug, Args)]
pub struct Broken {
    /// The thread: `M8x1.25`, `3/8-16`.
    #[arg(long)]
    thread: Option<String>,
    /// What the hole is cut into: aluminium, iron, steel.
    #[arg(long, value_name = "MATERIAL")]
    into: Option<String>,
    /// How far the stump stands out of the face; left out, it is flush or below.
    #[arg(long, value_name = "LENGTH")]
    stands_out: Option<String>,
    /// A bush, plate or machine is there that guides the drill.
    #[arg(long)]
    guide: bool,
}

impl Broken {
    /// Asks for the ways.
    pub fn ask(&self) -> Report {
        app::broken::broken(&Asked {
            thread: self.thread.clone(),
            into: self.into.clone(),
            stands_out: self.stands_out.clone(),
            guide: self.guide,
        })
    }
}
