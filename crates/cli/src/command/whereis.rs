//! `matchmark where`, `loose`, `turned`: where things are and where they belong.

use clap::Args;
use report::Report;

use crate::context::Context;

/// Say in one line where a part, hose, joint, tag or bag is, since when and by whom.
#[derive(Debug, Args)]
pub struct Where {
    /// Its name, or `bag 14`, or `tag 3`.
    #[arg(required = true, value_name = "NAME")]
    words: Vec<String>,
}

impl Where {
    /// Says where.
    pub fn ask(&self, context: &Context) -> Report {
        let name = self.words.join(" ");
        context.with_job("where", |folder| app::whereis::whereis(folder, &name))
    }
}

/// List loose fasteners and empty holes, and which could belong together.
#[derive(Debug, Args)]
pub struct Loose {}

impl Loose {
    /// Lists them.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("loose", |folder| app::whereis::loose(folder))
    }
}

/// Turn a map of fasteners end for end for the other bank, and count both.
#[derive(Debug, Args)]
pub struct Turned {
    /// A row of the map from the drive end, a star where one gave trouble: `b b* a b`.
    #[arg(required = true, value_name = "ROW")]
    rows: Vec<String>,
    /// How many lie on the bench.
    #[arg(long, value_name = "COUNT")]
    counted: Option<u32>,
}

impl Turned {
    /// Turns it.
    pub fn ask(&self) -> Report {
        app::whereis::turned(&self.rows, self.counted)
    }
}
