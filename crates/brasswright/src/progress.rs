//! Progress of work that takes over a second: on standard error, and only on a terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::time::{Duration, Instant};

/// Work shorter than this shows nothing.
const PATIENCE: Duration = Duration::from_millis(600);

/// A line that shows how far the work is.
#[derive(Debug)]
pub struct Progress {
    bar: ProgressBar,
    since: Instant,
    shown: bool,
}
impl Progress {
    /// For work of `steps` steps; nothing is shown yet.
    #[must_use]
    pub fn new(steps: usize) -> Progress {
        let bar = ProgressBar::with_draw_target(Some(steps as u64), ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template("{pos}/{len}  {msg}") {
            bar.set_style(style);
        }
        Progress { bar, since: Instant::now(), shown: false }
    }
    /// The next step begins.
    pub fn step(&mut self, what: &str) {
        if !self.shown && self.since.elapsed() >= PATIENCE {
            // Hidden all the same where standard error is not a terminal.
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
            self.shown = true;
        }
        self.bar.set_message(crate::look::clean(what));
        self.bar.inc(1);
    }
}
impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}

/// How far a search is: shares of a space too large for a count of steps.
#[derive(Debug)]
pub struct Counting {
    bar: ProgressBar,
    since: Instant,
    shown: bool,
}
impl Counting {
    /// Nothing is shown yet.
    #[must_use]
    pub fn new() -> Counting {
        let bar = ProgressBar::with_draw_target(Some(1000), ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template("{percent}%  {msg}") {
            bar.set_style(style);
        }
        Counting { bar, since: Instant::now(), shown: false }
    }
    /// So much of so much is covered, and so many found.
    pub fn tell(&mut self, covered: u128, size: u128, found: u64) {
        if !self.shown {
            if self.since.elapsed() < PATIENCE {
                return;
            }
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
            self.shown = true;
        }
        let share = covered.saturating_mul(1000).checked_div(size).unwrap_or(0);
        self.bar.set_position(u64::try_from(share).unwrap_or(1000));
        self.bar.set_message(format!("{found} found"));
    }
}
impl Drop for Counting {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
