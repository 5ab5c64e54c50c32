//! What a page is asked for: the job as it stands, the visitor, the address.

use std::sync::Arc;

use app::folder::Folder;
use report::Report;

use crate::answers::Latest;
use crate::bench::{Bench, Laid, last_number};
use crate::form::Fields;
use crate::hands::InHand;

/// Who looks.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Visitor {
    /// The name said on this phone; none before that.
    pub who: Option<String>,
    /// Whether the link allows writing.
    pub may_write: bool,
}

/// One question to one page.
#[derive(Debug)]
pub struct Asked<'a> {
    /// The job as it stands.
    pub folder: &'a Folder,
    /// Who looks.
    pub visitor: &'a Visitor,
    /// What stands in the address in the place of `{name}`.
    pub name: Option<&'a str>,
    /// What stands behind the question mark of the address.
    pub query: &'a Fields,
    /// The address itself, to come back to.
    pub path: &'a str,
    /// Now, in microseconds since 1970-01-01T00:00Z.
    pub now_micros: i64,
    /// What each of the people has in hand.
    pub hands: Vec<InHand>,
    pub(crate) laid: &'a Laid,
    pub(crate) bench: &'a Arc<Bench>,
}

impl Asked<'_> {
    /// An answer of the job, kept until the next entry. `question` tells it from other
    /// answers; what it depends on beside the record (a name, the day) belongs into it.
    pub fn answer(&self, question: &str, work: impl FnOnce(&Folder) -> Report) -> Arc<Report> {
        self.bench
            .answers
            .get(self.laid.moment(), question, || work(self.folder))
    }

    /// An answer that takes longer to find than a page may take to come: what was found last,
    /// while a newer one is worked out. [`crate::page::latest`] draws it.
    pub fn latest(
        &self,
        question: &str,
        work: impl FnOnce(&Folder) -> Report + Send + 'static,
    ) -> Latest {
        self.bench.latest(self.laid, question, work)
    }

    /// The number of the last entry.
    #[must_use]
    pub fn number(&self) -> u64 {
        last_number(self.folder)
    }

    /// Tells this job from every other.
    #[must_use]
    pub fn job(&self) -> &str {
        self.bench.door.keys.job()
    }
}
