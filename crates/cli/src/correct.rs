//! Corrections by hand to a swing in the studio: the swing is analysed again under them, and its lesson
//! drafted again. Landmarks were kept; nothing is looked at twice.

use crate::bench::tracks_of;
use crate::by_hand::CorrectArguments;
use crate::capture;
use crate::kept::Seen;
use crate::lesson::{self, Told};
use crate::personal;
use crate::road::{self, Travelled};
use crate::surroundings::Surroundings;
use crate::trade::Own;
use crate::watch::{self, ClipFile};
use anyhow::{Context, Result, ensure};
use jiff::Timestamp;
use lessonwright_model::{
    Brief, Cancel, Change, Corrections, PlayerFacts, SwingAnalysis, SwingTracks, Units, View,
};
use lessonwright_store::{AnalysisId, CorrectionStep, Player, Store, SwingId};
use std::sync::Arc;
use tokio::runtime::Runtime;

/// A kept swing with all it takes to analyse it again.
struct KeptSwing {
    brief: Brief,
    files: Vec<ClipFile>,
    /// Of the files.
    views: Vec<View>,
    player: Player,
    own: Own,
    /// Latest first.
    corrections: Vec<Corrections>,
    now: SwingAnalysis,
    now_id: AnalysisId,
    has_lesson: bool,
}

impl KeptSwing {
    /// What is corrected in it.
    fn corrections(&self) -> Corrections {
        self.corrections.first().cloned().unwrap_or_default()
    }

    /// On its way again.
    fn travel(
        &self,
        around: &Surroundings,
        corrections: &Corrections,
        cancel: &Cancel,
    ) -> Result<Travelled> {
        let (own, player) = (self.own.clone(), &self.player.facts);
        road::travel(
            around,
            own,
            &self.files,
            &self.brief,
            player,
            corrections,
            cancel,
        )
    }
}

/// A swing analysed again, and its lesson, if it had one, still to be drafted again.
pub struct Corrected {
    /// What the swing comes to.
    pub analysis: SwingAnalysis,
    /// Its key in the studio.
    pub id: AnalysisId,
    /// Where everything is in every frame.
    pub tracks: SwingTracks,
    draft: Option<Draft>,
}

/// A lesson to be drafted. Its pictures are decoded for it, which takes longer than all the numbers.
struct Draft {
    swing: SwingId,
    analysis: AnalysisId,
    brief: Brief,
    player: Player,
    travelled: Travelled,
}

/// The command: make the changes, say what the swing comes to, then draft its lesson again.
pub fn correct(
    around: Surroundings,
    arguments: &CorrectArguments,
    runtime: &Runtime,
    cancel: &Cancel,
    say: impl Fn(&SwingAnalysis) -> Result<()>,
) -> Result<()> {
    let around = Arc::new(around);
    let swing = SwingId(arguments.swing);
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let corrected = if arguments.undo {
            take_back(&around, &store, swing, cancel).await?
        } else {
            let changes = arguments.changes(&kept(&around, &store, swing).await?.now)?;
            change(&around, &store, swing, &changes, cancel).await?
        };
        say(&corrected.analysis)?;
        corrected.draft_lesson(&around, &store, cancel).await
    })
}

/// Changes what is corrected in a swing.
pub async fn change(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    changes: &[Change],
    cancel: &Cancel,
) -> Result<Corrected> {
    let kept = kept(around, store, swing).await?;
    let mut corrections = kept.corrections();
    for change in changes {
        corrections = change.apply(corrections, &kept.now)?;
        if let Change::Seen(_) = change {
            road::check_keys(around, &corrections, &PlayerFacts::default())?;
        }
    }
    let step = CorrectionStep::Add(corrections.clone());
    again(around, store, swing, kept, corrections, Some(step), cancel).await
}

/// Judges a swing again by what is known of the player now, with nothing changed in it.
pub async fn judge_again(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    cancel: &Cancel,
) -> Result<Corrected> {
    let kept = kept(around, store, swing).await?;
    let corrections = kept.corrections();
    again(around, store, swing, kept, corrections, None, cancel).await
}

/// Takes the last change to what is corrected in a swing back.
pub async fn take_back(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    cancel: &Cancel,
) -> Result<Corrected> {
    let kept = kept(around, store, swing).await?;
    let corrections = kept.corrections.get(1).cloned().unwrap_or_default();
    let step = CorrectionStep::TakeBack;
    again(around, store, swing, kept, corrections, Some(step), cancel).await
}

/// Where everything is in every frame of a swing, under its corrections so far.
pub async fn tracks(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    cancel: &Cancel,
) -> Result<SwingTracks> {
    let kept = kept(around, store, swing).await?;
    let (around, cancel) = (Arc::clone(around), cancel.clone());
    let computed = tokio::task::spawn_blocking(move || {
        let travelled = kept.travel(&around, &kept.corrections(), &cancel)?;
        Ok(tracks_of(&travelled))
    });
    computed.await.context("computing the swing again")?
}

/// A swing's clip of one view as it was watched.
pub async fn watched(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    view: View,
    cancel: &Cancel,
) -> Result<Seen> {
    let kept = kept(around, store, swing).await?;
    let number = kept.views.iter().position(|kept| *kept == view);
    let number = number.with_context(|| format!("swing {swing} has no clip {view}"))?;
    let (around, cancel) = (Arc::clone(around), cancel.clone());
    let seen = tokio::task::spawn_blocking(move || match &kept.brief.capture {
        // Nobody is in a drawn film.
        Some(captured) => capture::watched(&around, &kept.files[number], captured, &cancel),
        None => {
            let seen = watch::observe_all(&around, &kept.files, &kept.brief, &cancel);
            seen.map(|mut seen| seen.swap_remove(number))
        }
    });
    seen.await.context("watching the clips")?
}

/// Two kept swings of one player, on their way again.
pub async fn travel_both(
    around: &Surroundings,
    store: &Store,
    ids: [SwingId; 2],
    cancel: &Cancel,
) -> Result<[Travelled; 2]> {
    let owner = |id| async move {
        let swing = store.swing(id).await?;
        anyhow::Ok(
            swing
                .with_context(|| format!("there is no swing {id} in the studio"))?
                .player,
        )
    };
    ensure!(
        owner(ids[0]).await? == owner(ids[1]).await?,
        "swings {} and {} are of two players",
        ids[0],
        ids[1]
    );
    let before = travel_again(around, store, ids[0], cancel).await?;
    Ok([before, travel_again(around, store, ids[1], cancel).await?])
}

/// A kept swing on its way again, as it was corrected.
pub async fn travel_again(
    around: &Surroundings,
    store: &Store,
    id: SwingId,
    cancel: &Cancel,
) -> Result<Travelled> {
    let kept = kept(around, store, id).await?;
    kept.travel(around, &kept.corrections(), cancel)
}

async fn kept(around: &Surroundings, store: &Store, id: SwingId) -> Result<KeptSwing> {
    let swing = store.swing(id).await?;
    let swing = swing.with_context(|| format!("there is no swing {id} in the studio"))?;
    let player = store.player(swing.player).await?;
    let mut player = player.context("the player was erased meanwhile")?;
    // What this ball did says more of this swing than what the player's balls usually do.
    if let Some(flight) = store.ball_flight(id).await? {
        player.facts.usual_flight = Some(flight);
    }
    let own = Own::load(&around.studio)?;
    let own = personal::own_for(own, store, &player, swing.club.as_deref(), Some(id)).await?;
    let own = Own {
        teaching: store.choices(id).await?.choices.teaching,
        ..own
    };
    let analysis = store.latest_analysis(id).await?;
    let analysis = analysis.with_context(|| format!("swing {id} was never analysed"))?;
    let mut brief = store.brief(id).await?.with_context(|| {
        format!(
            "swing {id} was kept by an earlier version, which did not note how it was filmed: make \
             its lesson again with `lessonwright lesson`"
        )
    })?;
    let units = match player.units {
        Some(own) => Some(own),
        None => store.studio_units().await?,
    };
    if let Some(units) = units {
        brief.letter.inches_first = units == Units::Inches;
    }
    let mut clips = store.clips_of(id).await?;
    // In the order in which they were given.
    clips.sort_by_key(|clip| clip.id);
    let views = clips.iter().map(|clip| clip.view).collect();
    let files = clips.into_iter().map(|clip| ClipFile {
        path: clip.path,
        name: Some(clip.facts.name),
        sha256: Some(clip.sha256),
    });
    Ok(KeptSwing {
        brief,
        files: files.collect(),
        views,
        player,
        own,
        corrections: store.corrections_of(id).await?,
        now: analysis.analysis,
        now_id: analysis.id,
        has_lesson: !store.lessons_of_swing(id).await?.is_empty(),
    })
}

/// Analyses a swing under corrections, and keeps both together or neither; without a step nothing is corrected anew.
async fn again(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    kept: KeptSwing,
    corrections: Corrections,
    step: Option<CorrectionStep>,
    cancel: &Cancel,
) -> Result<Corrected> {
    let (around, cancel) = (Arc::clone(around), cancel.clone());
    // A network is no work for the threads that answer.
    let computed = tokio::task::spawn_blocking(move || {
        let travelled = kept.travel(&around, &corrections, &cancel);
        travelled.map(|travelled| (kept, travelled))
    });
    let (kept, travelled) = computed.await.context("computing the swing again")??;
    let analysis = travelled.swing.clone();
    let tracks = tracks_of(&travelled);
    let now = Timestamp::now();
    let id = match &step {
        Some(step) => store.keep_corrected(swing, step, &analysis, now).await?,
        None => store.add_analysis(swing, &analysis, now).await?,
    };
    let draft = kept.has_lesson.then_some(Draft {
        swing,
        analysis: id,
        brief: kept.brief,
        player: kept.player,
        travelled,
    });
    Ok(Corrected {
        analysis,
        id,
        tracks,
        draft,
    })
}

impl Corrected {
    /// Drafts the swing's lesson again, unless the swing was corrected further meanwhile.
    pub async fn draft_lesson(
        self,
        around: &Arc<Surroundings>,
        store: &Store,
        cancel: &Cancel,
    ) -> Result<()> {
        let Some(draft) = self.draft else {
            return Ok(());
        };
        let (swing, analysis) = (draft.swing, draft.analysis);
        let kept = store.choices(swing).await?;
        if !is_latest(store, swing, analysis, kept.changed_at).await?
            || is_approved(store, swing, analysis, kept.changed_at).await?
        {
            return Ok(());
        }
        // The draft has what was chosen until now; what is chosen while it is made makes it outdated.
        let (begun_at, changed_at) = (Timestamp::now(), kept.changed_at);
        let (around, cancel) = (Arc::clone(around), cancel.clone());
        let drafted = tokio::task::spawn_blocking(move || {
            let told = Told::of(&around, &kept, &cancel)?;
            let (letter, player) = (&draft.brief.letter, &draft.player);
            lesson::draft(&around, letter, player, &draft.travelled, &told, &cancel)
        });
        let drafted = drafted.await.context("drafting the lesson again")??;
        if is_latest(store, swing, analysis, changed_at).await?
            && !is_approved(store, swing, analysis, changed_at).await?
        {
            drafted.keep(store, analysis, begun_at).await?;
        }
        Ok(())
    }
}

/// Whether the lesson that has all of it is approved already: another draft of the same, asked for by a change before the last,
/// would only undo that.
async fn is_approved(
    store: &Store,
    swing: SwingId,
    analysis: AnalysisId,
    changed_at: Option<Timestamp>,
) -> Result<bool> {
    let lesson = store.lessons_of_swing(swing).await?.into_iter().next();
    Ok(lesson
        .is_some_and(|lesson| lesson.approved_at.is_some() && lesson.has_all(analysis, changed_at)))
}

/// Whether nothing of a swing was computed or chosen since.
async fn is_latest(
    store: &Store,
    swing: SwingId,
    analysis: AnalysisId,
    changed_at: Option<Timestamp>,
) -> Result<bool> {
    let latest = store.latest_analysis(swing).await?;
    let chosen = store.choices(swing).await?.changed_at;
    Ok(latest.is_some_and(|latest| latest.id == analysis) && chosen == changed_at)
}

/// A swing whose lesson is to be drafted again, with nothing changed in its numbers.
pub async fn to_draft_again(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    cancel: &Cancel,
) -> Result<Corrected> {
    let kept = kept(around, store, swing).await?;
    let corrections = kept.corrections();
    let (around, cancel) = (Arc::clone(around), cancel.clone());
    let computed = tokio::task::spawn_blocking(move || {
        let travelled = kept.travel(&around, &corrections, &cancel);
        travelled.map(|travelled| (kept, travelled))
    });
    let (kept, mut travelled) = computed.await.context("computing the swing again")??;
    let tracks = tracks_of(&travelled);
    // What was kept is what the lesson is of.
    travelled.swing = kept.now.clone();
    Ok(Corrected {
        analysis: kept.now,
        id: kept.now_id,
        tracks,
        draft: Some(Draft {
            swing,
            analysis: kept.now_id,
            brief: kept.brief,
            player: kept.player,
            travelled,
        }),
    })
}
