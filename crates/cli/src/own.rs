//! What the pages set for the whole studio: the trade's tables, and the pages made anew by them.

use crate::studio::Opened;
use crate::trade::{
    self, Folder, Own, changed, link_changes, own_targets, preview, unchanged_causes,
};
use anyhow::{Context, Result};
use lessonwright_web::keeping::Answer;
use lessonwright_web::own::{InUse, OwnChange, OwnTrade, WouldChange};
use std::future::Future;

impl OwnTrade for Opened {
    fn in_use(&self) -> Result<InUse, String> {
        read(self).map_err(|error| format!("{error:#}."))
    }

    fn would_change(&self, change: OwnChange) -> Answer<WouldChange> {
        self.answer(|mine| async move {
            let studio = &mine.around.studio;
            let (_, then) = changed(studio, &change)?;
            let language = mine.store.studio_language().await?.unwrap_or_default();
            preview(&mine.store, Own::load(studio)?, then, language).await
        })
    }

    fn make(&self, change: OwnChange) -> Answer<()> {
        self.answer(|mine| async move {
            // One change after the other: each is read on top of the one before.
            let _turn = mine.turn.lock().await;
            let studio = mine.around.studio.clone();
            let making = tokio::task::spawn_blocking(move || trade::make(&studio, &change));
            making.await.context("making the change")??;
            mine.show_anew().await.map(drop)
        })
    }

    fn shown_anew(&self) -> Answer<()> {
        self.answer(|mine| async move { mine.show_anew().await.map(drop) })
    }
}

impl Opened {
    fn answer<T, F>(&self, work: impl FnOnce(Opened) -> F + Send + 'static) -> Answer<T>
    where
        F: Future<Output = Result<T>> + Send + 'static,
        T: Send + 'static,
    {
        let mine = self.clone();
        Box::pin(async move { work(mine).await.map_err(|error| format!("{error:#}.")) })
    }
}

fn read(opened: &Opened) -> Result<InUse> {
    let folder = Folder::at(&opened.around.studio);
    Ok(InUse {
        targets: Own::of(&folder)?.targets,
        own_targets: own_targets(&folder)?,
        causes: unchanged_causes(&folder)?,
        changes: link_changes(&folder)?,
        own_drills: folder.drills()?,
    })
}
