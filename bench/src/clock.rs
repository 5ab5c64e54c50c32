//! The clock, kept away from the searches: an alarm that raises their stop flag, and a
//! watch.

use std::sync::mpsc::{Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use planning::Stop;

/// Raises a stop flag after some time, unless it is dropped before.
pub struct Alarm {
    off: Option<Sender<()>>,
    waiting: Option<JoinHandle<()>>,
}

impl Alarm {
    /// An alarm that will raise `stop` after this time.
    pub fn after(time: Duration, stop: &Stop) -> Self {
        let (off, heard) = channel();
        let stop = stop.clone();
        let waiting = thread::spawn(move || {
            // An error means the time is over; a closed channel means nobody waits.
            if heard.recv_timeout(time) == Err(std::sync::mpsc::RecvTimeoutError::Timeout) {
                stop.raise();
            }
        });
        Self {
            off: Some(off),
            waiting: Some(waiting),
        }
    }
}

impl Drop for Alarm {
    fn drop(&mut self) {
        self.off.take();
        if let Some(waiting) = self.waiting.take() {
            // The waiting thread cannot fail; there is nothing to pass on.
            waiting.join().ok();
        }
    }
}

/// Time since it was started.
pub struct Watch(Instant);

impl Watch {
    /// Starts now.
    #[expect(clippy::disallowed_methods, reason = "a benchmark measures time")]
    pub fn start() -> Self {
        Self(Instant::now())
    }

    /// Seconds since the start.
    pub fn seconds(&self) -> f64 {
        self.0.elapsed().as_secs_f64()
    }
}
