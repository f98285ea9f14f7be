//! Bars on standard error, and the switch that Ctrl-C throws.

use indicatif::{ProgressBar, ProgressStyle};
use lessonwright_model::Cancel;

/// A bar for one stage of the work on one clip; `report` takes the share done in 0..=1.
pub struct Stage(ProgressBar);

/// Steps of a bar: fine enough for every terminal's width.
const STEPS: u64 = 1000;

impl Stage {
    pub fn begin(what: &str, clip: &str) -> Stage {
        let bar = ProgressBar::new(STEPS).with_message(format!("{what} {clip}"));
        let style = ProgressStyle::with_template("{msg:48} {bar:24} {percent:>3} %  {eta} left");
        bar.set_style(style.expect("the template is well formed"));
        Stage(bar)
    }

    pub fn report(&self, share: f64) {
        self.0
            .set_position((share.clamp(0.0, 1.0) * STEPS as f64) as u64);
    }
}

impl Drop for Stage {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}

/// A switch that the first Ctrl-C throws; the work then stops by itself, and its children with it.
pub fn cancel_on_ctrl_c(runtime: &tokio::runtime::Runtime) -> Cancel {
    let cancel = Cancel::default();
    let switch = cancel.clone();
    runtime.spawn(async move {
        if tokio::signal::ctrl_c().await.is_ok() {
            switch.cancel();
        }
    });
    cancel
}
