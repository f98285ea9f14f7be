//! What the tray's buttons do.

use super::Job;
use super::upload::view_said;
use crate::language::say;
use crate::routes::{Fields, Studio};
use lessonwright_language::t;
use lessonwright_model::View;
use lessonwright_store::{Arrival, ArrivalId, ArrivalState, PlayerId, WorkId, WorkState};

/// What went wrong, for the professional.
type Done = Result<(), String>;

fn failed(error: impl std::fmt::Display) -> String {
    format!("{error}.")
}

fn said(id: &'static str) -> String {
    say().text(&t(id))
}

fn number(fields: &Fields, name: &str) -> Option<i64> {
    fields.get(name)?.parse().ok()
}

async fn arrival(studio: &Studio, fields: &Fields, name: &str) -> Result<Arrival, String> {
    let gone = || said("bring-in-gone");
    let id = ArrivalId(number(fields, name).ok_or_else(gone)?);
    studio
        .store
        .arrival(id)
        .await
        .map_err(failed)?
        .ok_or_else(gone)
}

/// One clip (`clip`, seen from `view`) or two (`with`, from `with_view`) as one swing.
pub async fn swing(studio: &Studio, fields: &Fields) -> Done {
    let first = arrival(studio, fields, "clip").await?;
    let player = first.player.ok_or_else(|| said("bring-in-whose-first"))?;
    let view = |name| fields.get(name).and_then(|text| view_said(text));
    let mut clips = vec![(first, view("view"))];
    if number(fields, "with").is_some() {
        clips.push((arrival(studio, fields, "with").await?, view("with_view")));
    }
    say_views(studio, &mut clips).await?;
    let ids: Vec<ArrivalId> = clips.iter().map(|(clip, _)| clip.id).collect();
    let now = (studio.state.now)();
    studio
        .store
        .add_work(player, &ids, now)
        .await
        .map_err(failed)?;
    Ok(())
}

/// Notes what was said of the views; of two clips the one not said is the other.
async fn say_views(studio: &Studio, clips: &mut [(Arrival, Option<View>)]) -> Done {
    if let [(a, first), (b, second)] = clips {
        let known = |clip: &Arrival, said: Option<View>| said.or(clip.view());
        let (one, two) = (known(a, *first), known(b, *second));
        if one.is_some() && one == two {
            return Err(said("bring-in-one-view"));
        }
        // Only what somebody said goes down as said; the other follows from it.
        if first.is_some() && two.is_none() {
            *second = one.map(other);
        }
        if second.is_some() && one.is_none() {
            *first = two.map(other);
        }
    }
    for (clip, said) in clips {
        if let Some(view) = said
            && clip.view() != Some(*view)
        {
            studio
                .store
                .say_of_arrival(clip.id, Some(*view), false)
                .await
                .map_err(failed)?;
        }
    }
    Ok(())
}

fn other(view: View) -> View {
    match view {
        View::FaceOn => View::DownTheLine,
        View::DownTheLine => View::FaceOn,
    }
}

/// Two clips that were taken for one swing are of two.
pub async fn apart(studio: &Studio, fields: &Fields) -> Done {
    for name in ["clip", "with"] {
        let clip = arrival(studio, fields, name).await?;
        studio
            .store
            .say_of_arrival(clip.id, clip.view_said, true)
            .await
            .map_err(failed)?;
    }
    Ok(())
}

/// Whose a clip is.
pub async fn player(studio: &Studio, fields: &Fields) -> Done {
    let clip = arrival(studio, fields, "clip").await?;
    let player = number(fields, "player").ok_or_else(|| said("bring-in-choose-player"))?;
    studio
        .store
        .give_arrival(clip.id, PlayerId(player))
        .await
        .map_err(failed)
}

/// A clip out of the tray, or a swing off the queue; its clips are free again.
pub async fn remove(studio: &Studio, fields: &Fields) -> Done {
    if let Some(work) = number(fields, "work").map(WorkId) {
        studio.state.bring_in.stop(Job::Swing(work));
        return studio.store.remove_work(work).await.map_err(failed);
    }
    let clip = arrival(studio, fields, "clip").await?;
    studio.state.bring_in.stop(Job::Clip(clip.id));
    studio.store.remove_arrival(clip.id).await.map_err(failed)
}

/// Works that are done go from the list.
pub async fn clear(studio: &Studio, _: &Fields) -> Done {
    for work in studio.store.works().await.map_err(failed)? {
        if work.state == WorkState::Done {
            studio.store.remove_work(work.id).await.map_err(failed)?;
        }
    }
    Ok(())
}

/// Stops the work on a swing and on its clips, or on one clip.
pub async fn stop(studio: &Studio, fields: &Fields) -> Done {
    let intake = &studio.state.bring_in;
    if let Some(work) = number(fields, "work").map(WorkId) {
        let works = studio.store.works().await.map_err(failed)?;
        let work = works.into_iter().find(|known| known.id == work);
        let work = work.ok_or_else(|| said("bring-in-swing-gone"))?;
        if matches!(work.state, WorkState::Waiting | WorkState::UnderWay) {
            studio
                .store
                .move_work(work.id, WorkState::Stopped, None)
                .await
                .map_err(failed)?;
        }
        intake.stop(Job::Swing(work.id));
        for clip in &work.arrivals {
            intake.stop(Job::Clip(clip.id));
        }
        return Ok(());
    }
    let clip = arrival(studio, fields, "clip").await?;
    if clip.state == ArrivalState::Opened {
        studio
            .store
            .move_arrival(clip.id, ArrivalState::Stopped, None)
            .await
            .map_err(failed)?;
    }
    intake.stop(Job::Clip(clip.id));
    Ok(())
}

/// What failed or was stopped is taken up again.
pub async fn again(studio: &Studio, fields: &Fields) -> Done {
    let store = &studio.store;
    if let Some(work) = number(fields, "work").map(WorkId) {
        let works = store.works().await.map_err(failed)?;
        for clip in works
            .iter()
            .filter(|known| known.id == work)
            .flat_map(|known| &known.arrivals)
        {
            free(studio, clip).await?;
        }
        return store
            .move_work(work, WorkState::Waiting, None)
            .await
            .map_err(failed);
    }
    free(studio, &arrival(studio, fields, "clip").await?).await
}

async fn free(studio: &Studio, clip: &Arrival) -> Done {
    if matches!(clip.state, ArrivalState::Failed | ArrivalState::Stopped) {
        // From the start: what was seen of it is kept and costs nothing.
        let state = ArrivalState::Arrived;
        studio
            .store
            .move_arrival(clip.id, state, None)
            .await
            .map_err(failed)?;
    }
    Ok(())
}
