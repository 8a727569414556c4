//! Progress on a terminal: drawn on standard error, and only for work that takes long enough to be waited for.

use std::io::IsTerminal;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use secateur::progress::{Progress, Stage};

/// Work shorter than this is over before anybody looks.
const PATIENCE: Duration = Duration::from_millis(150);

/// Draws progress where standard error is a terminal and the user did not ask for quiet.
#[allow(clippy::struct_field_names, reason = "it is the bar of another crate")]
pub struct Bar {
    bar: ProgressBar,
    begun: Instant,
    shown: Mutex<bool>,
}

impl Bar {
    /// A bar that is not drawn yet.
    pub fn new(quiet: bool) -> Self {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        let shown = Mutex::new(quiet || !std::io::stderr().is_terminal());
        Bar { bar, begun: Instant::now(), shown }
    }

    /// Takes the bar off the screen, before anything else is printed.
    pub fn clear(&self) {
        self.bar.finish_and_clear();
    }

    fn show_when_due(&self) {
        if self.begun.elapsed() < PATIENCE {
            return;
        }
        // Whoever finds the lock taken leaves the drawing to whoever holds it.
        if let Ok(mut shown) = self.shown.try_lock()
            && !std::mem::replace(&mut *shown, true)
        {
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
    }
}

impl Progress for Bar {
    fn start(&self, stage: Stage, total: u64) {
        self.bar.reset();
        self.bar.set_message(stage.tag());
        if total == 0 {
            self.bar.unset_length();
        } else {
            self.bar.set_length(total);
        }
        let template = match stage {
            _ if total == 0 => "{msg}",
            Stage::Removals | Stage::Weights => "{msg:10} {wide_bar} {pos} of {len}",
            _ => "{msg:10} {wide_bar} {bytes} of {total_bytes}",
        };
        if let Ok(style) = ProgressStyle::with_template(template) {
            self.bar.set_style(style.progress_chars("■· "));
        }
    }

    fn advance(&self, done: u64) {
        self.show_when_due();
        self.bar.inc(done);
    }
}
