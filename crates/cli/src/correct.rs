//! Corrections by hand to a swing in the studio: the swing is analysed again under them, and its lesson
//! drafted again. Landmarks were kept; nothing is looked at twice.

use crate::by_hand::CorrectArguments;
use crate::lesson;
use crate::road::{self, ClipFile};
use crate::surroundings::Surroundings;
use anyhow::{Context, Result};
use jiff::Timestamp;
use lessonwright_model::{Brief, Cancel, Change, Corrections, PlayerFacts, SwingAnalysis};
use lessonwright_store::{CorrectionStep, Store, SwingId};
use std::sync::Arc;
use tokio::runtime::Runtime;

/// A kept swing with all it takes to analyse it again.
struct KeptSwing {
    brief: Brief,
    files: Vec<ClipFile>,
    player: PlayerFacts,
    /// Latest first.
    corrections: Vec<Corrections>,
    now: SwingAnalysis,
    has_lesson: bool,
}

/// The command: make the changes, and say what the swing comes to.
pub fn correct(
    around: Surroundings,
    arguments: &CorrectArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<SwingAnalysis> {
    let around = Arc::new(around);
    let swing = SwingId(arguments.swing);
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        if arguments.undo {
            return take_back(&around, &store, swing, cancel).await;
        }
        let changes = arguments.changes(&kept(&store, swing).await?.now)?;
        change(&around, &store, swing, &changes, cancel).await
    })
}

/// Changes what is corrected in a swing.
pub async fn change(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    changes: &[Change],
    cancel: &Cancel,
) -> Result<SwingAnalysis> {
    let kept = kept(store, swing).await?;
    let mut corrections = kept.corrections.first().cloned().unwrap_or_default();
    for change in changes {
        corrections = change.apply(corrections, &kept.now)?;
    }
    let step = CorrectionStep::Add(corrections.clone());
    again(around, store, swing, kept, corrections, step, cancel).await
}

/// Takes the last change to what is corrected in a swing back.
pub async fn take_back(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    cancel: &Cancel,
) -> Result<SwingAnalysis> {
    let kept = kept(store, swing).await?;
    let corrections = kept.corrections.get(1).cloned().unwrap_or_default();
    let step = CorrectionStep::TakeBack;
    again(around, store, swing, kept, corrections, step, cancel).await
}

async fn kept(store: &Store, id: SwingId) -> Result<KeptSwing> {
    let swing = store.swing(id).await?;
    let swing = swing.with_context(|| format!("there is no swing {id} in the studio"))?;
    let player = store.player(swing.player).await?;
    let analysis = store.latest_analysis(id).await?;
    let brief = store.brief(id).await?.with_context(|| {
        format!(
            "swing {id} was kept by an earlier version, which did not note how it was filmed: make \
             its lesson again with `lessonwright lesson`"
        )
    })?;
    let mut clips = store.clips_of(id).await?;
    // In the order in which they were given.
    clips.sort_by_key(|clip| clip.id);
    let files = clips.into_iter().map(|clip| ClipFile {
        path: clip.path,
        name: Some(clip.facts.name),
        sha256: Some(clip.sha256),
    });
    Ok(KeptSwing {
        brief,
        files: files.collect(),
        player: player.context("the player was erased meanwhile")?.facts,
        corrections: store.corrections_of(id).await?,
        now: analysis
            .with_context(|| format!("swing {id} was never analysed"))?
            .analysis,
        has_lesson: !store.lessons_of_swing(id).await?.is_empty(),
    })
}

/// Analyses a swing under corrections, and keeps both together or neither.
async fn again(
    around: &Arc<Surroundings>,
    store: &Store,
    swing: SwingId,
    kept: KeptSwing,
    corrections: Corrections,
    step: CorrectionStep,
    cancel: &Cancel,
) -> Result<SwingAnalysis> {
    let (around, cancel) = (Arc::clone(around), cancel.clone());
    // Networks and decoding are no work for the threads that answer.
    let computed =
        tokio::task::spawn_blocking(move || compute(&around, &kept, &corrections, &cancel));
    let (analysis, page) = computed.await.context("computing the swing again")??;
    let page = page.as_deref().map(str::as_bytes);
    store
        .keep_corrected(swing, &step, &analysis, page, Timestamp::now())
        .await?;
    Ok(analysis)
}

/// The analysis, and the lesson's page if there was one.
fn compute(
    around: &Surroundings,
    kept: &KeptSwing,
    corrections: &Corrections,
    cancel: &Cancel,
) -> Result<(SwingAnalysis, Option<String>)> {
    let (files, brief, player) = (&kept.files, &kept.brief, &kept.player);
    let travelled = road::travel(around, files, brief, player, corrections, cancel)?;
    let page = match kept.has_lesson {
        true => Some(lesson::page(
            around,
            &brief.letter,
            &player.name,
            &travelled,
            cancel,
        )?),
        false => None,
    };
    Ok((travelled.swing, page))
}
