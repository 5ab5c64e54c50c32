//! What it costs to do one step straight after another: walking and changing tools.

use book::{Shop, ZoneId};
use job::plan::Step;
use quantity::Duration;

/// Seconds a walk between two zones counts where the shop file has none. A convention of this
/// program, no measured time.
pub const WALK: u32 = 30;

/// Seconds a change of tools counts where the shop file has none. A convention of this program,
/// no measured time.
pub const TOOL_CHANGE: u32 = 20;

/// Walking and tool changing in one workshop, in whole seconds.
#[derive(Debug)]
pub(crate) struct Travel<'a> {
    shop: Option<&'a Shop>,
    change: u32,
}

impl<'a> Travel<'a> {
    pub(crate) fn new(shop: Option<&'a Shop>) -> Self {
        let change = shop.and_then(|shop| shop.tool_change.known());
        Self {
            shop,
            change: change.map_or(TOOL_CHANGE, |&time| whole(time)),
        }
    }

    /// Seconds between two steps.
    pub(crate) fn between(&self, first: &Step, then: &Step) -> u32 {
        let walk = match (&first.zone, &then.zone) {
            (Some(from), Some(to)) if from != to => self.walk(from, to),
            (Some(_), Some(_)) | (None, _) | (_, None) => 0,
        };
        let in_hand = |tool| first.tools.contains(tool);
        let change = if then.tools.iter().all(in_hand) {
            0
        } else {
            self.change
        };
        walk + change
    }

    fn walk(&self, from: &ZoneId, to: &ZoneId) -> u32 {
        let walks = self.shop.into_iter().flat_map(|shop| &shop.walks);
        let mut this = walks.filter(|walk| {
            (walk.from.id == *from && walk.to.id == *to)
                || (walk.from.id == *to && walk.to.id == *from)
        });
        this.next().map_or(WALK, |walk| whole(walk.takes))
    }
}

/// Whole seconds, at most a day: a longer walk is a slip in the file.
fn whole(time: Duration) -> u32 {
    time.in_seconds().round().clamp(0.0, 86_400.0) as u32
}

/// Seconds as a duration.
pub(crate) fn duration(seconds: u64) -> Duration {
    // Sums of at most 5 000 steps of at most a day each stay far below the largest duration.
    Duration::seconds(seconds as f64).unwrap_or_default()
}
