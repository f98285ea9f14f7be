//! How far the work is: bars on standard error, or told to who listens; and the switch that Ctrl-C throws.

use indicatif::{ProgressBar, ProgressStyle};
use lessonwright_model::Cancel;
use lessonwright_web::bring_in::Step;
use std::sync::Arc;

/// Who is told how far the work is; nobody by default, and then there are bars.
#[derive(Clone, Default)]
pub struct Listener(Option<Arc<dyn Fn(Step, f64) + Send + Sync>>);

/// Tells this how far each step is, 0 to 1.
pub fn listening(tell: impl Fn(Step, f64) + Send + Sync + 'static) -> Listener {
    Listener(Some(Arc::new(tell)))
}

impl Listener {
    pub fn report(&self, step: Step, share: f64) {
        if let Some(tell) = &self.0 {
            tell(step, share);
        }
    }
}

/// One stage of the work on one clip; `report` takes the share done in 0..=1.
pub struct Stage {
    bar: ProgressBar,
    step: Step,
    listener: Listener,
}

/// Steps of a bar: fine enough for every terminal's width.
const STEPS: u64 = 1000;

impl Stage {
    pub fn begin(listener: &Listener, step: Step, what: &str, clip: &str) -> Stage {
        let bar = match listener.0 {
            Some(_) => ProgressBar::hidden(),
            None => ProgressBar::new(STEPS).with_message(format!("{what} {clip}")),
        };
        let style = ProgressStyle::with_template("{msg:48} {bar:24} {percent:>3} %  {eta} left");
        bar.set_style(style.expect("the template is well formed"));
        listener.report(step, 0.0);
        Stage {
            bar,
            step,
            listener: listener.clone(),
        }
    }

    /// Work that no listener waits for.
    pub fn alone(what: &str) -> Stage {
        Stage::begin(&Listener::default(), Step::Lesson, what, "")
    }

    pub fn report(&self, share: f64) {
        self.bar
            .set_position((share.clamp(0.0, 1.0) * STEPS as f64) as u64);
        self.listener.report(self.step, share);
    }
}

impl Drop for Stage {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
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
