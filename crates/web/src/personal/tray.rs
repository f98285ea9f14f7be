//! What a player sent and what became of it, in plain words.

use super::door::Visit;
use crate::error::PageError;
use crate::pages::day;
use crate::routes::Studio;
use askama::Template;
use lessonwright_language::{Text, filters, t};
use lessonwright_store::{
    Arrival, ArrivalState, LessonState, PlayerId, Standing, Store, Work, WorkState,
};

/// The list of a player; the page's script asks for it again while something moves.
#[derive(Template)]
#[template(path = "personal_tray.html")]
pub struct SentTray {
    clips: Vec<SentClip>,
    swings: Vec<SentSwing>,
    moves: bool,
}

struct SentClip {
    id: i64,
    name: String,
    says: Text,
    trouble: Option<String>,
}

struct SentSwing {
    id: i64,
    day: Text,
    says: Text,
}

impl SentTray {
    pub async fn of(studio: &Studio, visit: &Visit) -> Result<SentTray, PageError> {
        let (store, state) = (&studio.store, &studio.state);
        let who = professional(studio);
        let works = store.works().await?;
        let mut clips = clips_of(store, visit.player.id).await?;
        clips.reverse();
        let moves = clips.iter().any(|clip| moves(clip, &works));
        let sent = store.sent_in_by(visit.player.id).await?;
        let standings = store.standings_of(visit.player.id).await?;
        let of_link = standings.iter().filter(|one| sent.contains(&one.swing));
        Ok(SentTray {
            clips: clips
                .into_iter()
                .map(|clip| SentClip {
                    id: clip.id.0,
                    says: clip_says(&clip, &works, &who),
                    trouble: clip.trouble,
                    name: clip.name,
                })
                .collect(),
            swings: of_link
                .map(|one| SentSwing {
                    id: one.swing.0,
                    day: day(one.made_at, state),
                    says: swing_says(one, &who),
                })
                .collect(),
            moves,
        })
    }
}

/// A player's clips in the studio's tray that came by personal links, oldest first.
pub async fn clips_of(store: &Store, player: PlayerId) -> Result<Vec<Arrival>, PageError> {
    let mut clips = store.arrivals_by_personal_link().await?;
    clips.retain(|clip| clip.player == Some(player));
    Ok(clips)
}

/// "Imke Brandt", as who does something.
pub fn professional(studio: &Studio) -> Text {
    match studio.state.coach.as_str() {
        "" => t("personal-professional"),
        name => Text::plain(name),
    }
}

fn work_of<'a>(clip: &Arrival, works: &'a [Work]) -> Option<&'a Work> {
    works.iter().find(|work| Some(work.id) == clip.work)
}

fn moves(clip: &Arrival, works: &[Work]) -> bool {
    let worked_on = |work: &Work| matches!(work.state, WorkState::Waiting | WorkState::UnderWay);
    clip.state == ArrivalState::Arrived || work_of(clip, works).is_some_and(worked_on)
}

fn clip_says(clip: &Arrival, works: &[Work], who: &Text) -> Text {
    match (clip.state, work_of(clip, works).map(|work| work.state)) {
        (ArrivalState::Failed, _) => t("personal-unusable"),
        (_, Some(WorkState::Failed)) => t("personal-not-measured").with("who", who),
        (_, Some(WorkState::Waiting | WorkState::UnderWay)) => t("personal-being-measured"),
        (ArrivalState::Arrived, _) => t("personal-arrived"),
        (ArrivalState::Stopped, _) | (_, Some(WorkState::Stopped)) => t("personal-aside"),
        _ => t("personal-has-it").with("who", who),
    }
}

fn swing_says(standing: &Standing, who: &Text) -> Text {
    let approved = |state| matches!(state, LessonState::Approved | LessonState::Sent);
    match standing.lesson {
        Some((_, state)) if approved(state) => t("personal-lesson-ready"),
        _ if standing.set_aside => t("personal-needs-none").with("who", who),
        _ if standing.analysed => t("personal-looking").with("who", who),
        _ => t("personal-has-it").with("who", who),
    }
}
