//! What the page "Studio" asks for.

use super::{erase_player, erased_words, file_name, pack};
use crate::capture;
use crate::export;
use crate::surroundings::Surroundings;
use crate::take_in::{self, Letterhead};
use anyhow::{Context, Result};
use jiff::Timestamp;
use lessonwright_exchange::recorded::Asked;
use lessonwright_language::{Text, t};
use lessonwright_model::Cancel;
use lessonwright_store::{Player, PlayerId, Store, SwingId};
use lessonwright_web::keeping::{Answer, Keeping, Report};
use std::fs;
use std::future::Future;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tokio::runtime::Handle;
use tokio::sync::Mutex;

/// Folder of the backup that was made from the page: the last one alone.
const BACKUPS: &str = "backups";
/// Folder of what is being fetched or taken in.
const PASSING: &str = "passing";

/// Keeps one studio. Clones share its turn.
#[derive(Clone)]
pub struct Keeper {
    around: Arc<Surroundings>,
    store: Store,
    cancel: Cancel,
    head: Letterhead,
    /// One swing at a time goes down the road.
    turn: Arc<Mutex<()>>,
}

impl Keeper {
    pub fn of(around: Arc<Surroundings>, store: Store, head: Letterhead, cancel: Cancel) -> Keeper {
        Keeper {
            around,
            store,
            cancel,
            head,
            turn: Arc::default(),
        }
    }

    fn folder(&self, name: &str) -> Result<PathBuf> {
        let folder = self.around.studio.join(name);
        fs::create_dir_all(&folder).with_context(|| format!("making {}", folder.display()))?;
        Ok(folder)
    }

    async fn player(&self, id: PlayerId) -> Result<Player> {
        self.store
            .player(id)
            .await?
            .with_context(|| format!("there is no player {id}"))
    }

    async fn backed_up(&self, report: Report) -> Result<PathBuf> {
        let now = Timestamp::now();
        let folder = self.folder(BACKUPS)?;
        let to = folder.join(format!(
            "lessonwright-{}.zip",
            now.strftime("%Y%m%dT%H%M%SZ")
        ));
        let report = Arc::new(report);
        let told = move |share| report(share);
        self.store
            .back_up(&to, env!("CARGO_PKG_VERSION"), now, told)
            .await?;
        for older in files_in(&folder) {
            if older != to {
                fs::remove_file(&older).with_context(|| format!("removing {}", older.display()))?;
            }
        }
        Ok(to)
    }

    async fn exported(&self, id: PlayerId) -> Result<PathBuf> {
        let player = self.player(id).await?;
        let passing = self.folder(PASSING)?;
        let folder = tempfile::tempdir_in(&passing)?;
        let players = std::slice::from_ref(&player);
        export::write_out(
            &self.around,
            &self.store,
            players,
            folder.path(),
            &self.cancel,
        )
        .await?;
        let to = passing.join(format!("{}.zip", file_name(&player.facts.name)));
        pack(folder.path(), &to)?;
        Ok(to)
    }

    async fn erased(&self, id: PlayerId) -> Result<Text> {
        let player = self.player(id).await?;
        let said = erase_player(&self.around, &self.store, &player).await?;
        let passing = self.folder(PASSING)?;
        fs::remove_dir_all(&passing).with_context(|| format!("removing {}", passing.display()))?;
        Ok(said)
    }

    async fn taken_in(&self, file: &Path) -> Result<Text> {
        let bundle = take_in::check(&self.around, &self.store, file).await?;
        let recorded = take_in::record(&self.store, &bundle).await?;
        let said = match recorded {
            None => t("keeping-sent-then"),
            Some(talk) => t("keeping-sent-talk-then").with("talk", talk),
        }
        .with("said", take_in::said(&bundle));
        let mine = self.clone();
        tokio::spawn(async move {
            let _turn = mine.turn.lock().await;
            let (around, cancel) = (Arc::clone(&mine.around), mine.cancel.clone());
            let head = mine.head.clone();
            let runtime = Handle::current();
            let name = bundle.player.facts.name.clone();
            let done = tokio::task::spawn_blocking(move || {
                take_in::analyse(&around, &bundle, &head, &runtime, &cancel)
            })
            .await;
            match done {
                Ok(Ok(())) => {}
                Ok(Err(error)) => tracing::error!(
                    player = name,
                    "what was taken in was not analysed: {error:#}"
                ),
                Err(error) => {
                    tracing::error!(player = name, "what was taken in was not analysed: {error}")
                }
            }
        });
        Ok(said)
    }

    async fn motion_brought(&self, id: PlayerId, file: PathBuf, asked: Asked) -> Result<SwingId> {
        let player = self.player(id).await?;
        self.store.check_film_allowed(id).await?;
        let mine = self.clone();
        let runtime = Handle::current();
        let made = tokio::task::spawn_blocking(move || {
            let captured = capture::read(&file, asked, &player.facts)?;
            let _turn = mine.turn.blocking_lock();
            let Keeper {
                around,
                store,
                head,
                cancel,
                ..
            } = &mine;
            capture::swing_of(around, store, &player, captured, head, &runtime, cancel)
        });
        made.await.context("the work broke off")?
    }

    fn answer<T, F>(&self, work: impl FnOnce(Keeper) -> F + Send + 'static) -> Answer<T>
    where
        F: Future<Output = Result<T>> + Send + 'static,
        T: Send + 'static,
    {
        let mine = self.clone();
        Box::pin(async move { work(mine).await.map_err(|error| format!("{error:#}")) })
    }
}

impl Keeping for Keeper {
    fn back_up(&self, report: Report) -> Answer<PathBuf> {
        self.answer(|mine| async move { mine.backed_up(report).await })
    }

    fn last_backup(&self) -> Option<PathBuf> {
        let whole = |path: &PathBuf| path.extension().is_some_and(|ending| ending == "zip");
        files_in(&self.around.studio.join(BACKUPS))
            .into_iter()
            .filter(whole)
            .max()
    }

    fn export(&self, player: PlayerId) -> Answer<PathBuf> {
        self.answer(move |mine| async move { mine.exported(player).await })
    }

    fn would_erase(&self, player: PlayerId) -> Answer<Text> {
        self.answer(move |mine| async move {
            let player = mine.player(player).await?;
            erased_words(&mine.store, &player).await
        })
    }

    fn erase(&self, player: PlayerId) -> Answer<Text> {
        self.answer(move |mine| async move { mine.erased(player).await })
    }

    fn take_in(&self, bundle: PathBuf) -> Answer<Text> {
        self.answer(|mine| async move { mine.taken_in(&bundle).await })
    }

    fn bring_motion(&self, player: PlayerId, file: PathBuf, asked: Asked) -> Answer<SwingId> {
        self.answer(move |mine| async move { mine.motion_brought(player, file, asked).await })
    }

    fn incoming(&self) -> Result<PathBuf, String> {
        let folder = self.folder(PASSING).map_err(|error| format!("{error:#}"))?;
        let file = tempfile::Builder::new()
            .prefix("incoming-")
            .tempfile_in(folder);
        let (_, path) = file
            .and_then(|file| file.keep().map_err(|error| error.error))
            .map_err(|error| error.to_string())?;
        Ok(path)
    }
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    entries
        .map(|entry| entry.path())
        .filter(|path| path.is_file())
        .collect()
}
