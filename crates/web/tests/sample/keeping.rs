//! What the page "Studio" asks for, without a binary around it: nothing is written.

use lessonwright_exchange::recorded::Asked;
use lessonwright_language::Text;
use lessonwright_store::{PlayerId, SwingId};
use lessonwright_web::keeping::{Answer, Keeping, Report};
use std::path::PathBuf;

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

    fn bring_motion(&self, _player: PlayerId, _file: PathBuf, _asked: Asked) -> Answer<SwingId> {
        not_here()
    }

    fn incoming(&self) -> Result<PathBuf, String> {
        Err("the sample keeps nothing".into())
    }
}
