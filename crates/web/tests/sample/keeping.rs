//! What the page "Studio" asks for, without a binary around it: nothing is written.

use lessonwright_exchange::recorded::Asked;
use lessonwright_language::Text;
use lessonwright_store::{PlayerId, SwingId};
use lessonwright_web::keeping::{Answer, Keeping, Report};
use std::path::PathBuf;
use std::sync::atomic::{AtomicU32, Ordering};

pub struct SampleKeeping;

fn not_here<T: Send + 'static>() -> Answer<T> {
    Box::pin(async { Err("the sample keeps nothing".into()) })
}

impl Keeping for SampleKeeping {
    fn back_up(&self, report: Report) -> Answer<PathBuf> {
        report(0.5);
        not_here()
    }

    fn last_backup(&self) -> Option<PathBuf> {
        None
    }

    fn export(&self, _: PlayerId) -> Answer<PathBuf> {
        not_here()
    }

    fn would_erase(&self, player: PlayerId) -> Answer<Text> {
        Box::pin(async move { Ok(Text::plain(format!("all of player {player}"))) })
    }

    fn erase(&self, player: PlayerId) -> Answer<Text> {
        Box::pin(async move { Ok(Text::plain(format!("Player {player}"))) })
    }

    fn take_in(&self, _: PathBuf) -> Answer<Text> {
        not_here()
    }

    fn bring_motion(&self, player: PlayerId, file: PathBuf, asked: Asked) -> Answer<SwingId> {
        let bytes = std::fs::read(file).map_or(0, |bytes| bytes.len());
        let up = asked.up.map_or(String::new(), |up| up.to_string());
        let said = format!(
            "{bytes} bytes of {} for player {player}, up {up}",
            asked.file
        );
        Box::pin(async { Err(said) })
    }

    fn incoming(&self) -> Result<PathBuf, String> {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let number = COUNT.fetch_add(1, Ordering::Relaxed);
        let name = format!("lessonwright-sample-{}-{number}", std::process::id());
        Ok(std::env::temp_dir().join(name))
    }
}
