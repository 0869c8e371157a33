//! How far the photographs are: a bar on a terminal, a line elsewhere, or nothing.

use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::voice::Voice;
use super::words;
use crate::journey::Progress;

/// Shows on the standard error how far the photographs are.
pub(super) struct Bar {
    doing: &'static str,
    bar: ProgressBar,
}

impl Bar {
    /// A bar that says what is being done to the photographs, such as "Looking at".
    pub(super) fn new(doing: &'static str) -> Bar {
        Bar { doing, bar: ProgressBar::hidden() }
    }
}

impl Progress for Bar {
    fn begin(&self, photographs: usize) {
        let voice = Voice::err();
        if photographs == 0 {
            return;
        }
        if !voice.terminal() {
            // Progress that cannot be shown is no reason to stop.
            let _ = voice.say(format!(
                "{} {}",
                self.doing,
                words::count(photographs, "photograph", "photographs")
            ));
            return;
        }
        let line = if voice.colour() {
            "{msg}  {bar:24.green/dim}  {human_pos} of {human_len}  {eta:.dim}"
        } else {
            "{msg}  {bar:24}  {human_pos} of {human_len}  {eta}"
        };
        let style = ProgressStyle::with_template(line).expect("the template is fixed and tested");
        self.bar.set_style(style.progress_chars("━━─"));
        self.bar.set_message(format!("{} photographs", self.doing));
        self.bar.set_length(photographs as u64);
        self.bar.set_draw_target(ProgressDrawTarget::stderr());
        self.bar.enable_steady_tick(Duration::from_millis(250));
    }

    fn tick(&self) {
        self.bar.inc(1);
    }

    fn end(&self) {
        self.bar.finish_and_clear();
    }
}
