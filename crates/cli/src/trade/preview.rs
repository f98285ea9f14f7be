//! What a change would make of the last swings: each is judged by what is known now and by what would be, from its kept
//! measures. Nothing is looked at again and nothing is written.

use super::Own;
use crate::personal;
use anyhow::Result;
use jiff::Timestamp;
use lessonwright_coaching::{Case, Coaching, coach_as_chosen};
use lessonwright_model::{Hand, Language, PlayerFacts, SwingAnalysis};
use lessonwright_store::{Player, PlayerId, Store, SwingId};
use lessonwright_web::own::{JudgedAnew, WouldChange};

/// How many swings are judged: a week's, for most.
const LAST_SWINGS: usize = 20;

/// Judges the last swings by both, and says it in a language.
pub async fn preview(
    store: &Store,
    now: Own,
    then: Own,
    language: Language,
) -> Result<WouldChange> {
    let both = [now, then].map(|own| own.in_language(language));
    let mut would = WouldChange::default();
    for line in store.swings_of_others(PlayerId(0), LAST_SWINGS).await? {
        let Some(swing) = line.latest.map(|standing| standing.swing) else {
            continue;
        };
        let Some(stored) = store.latest_analysis(swing).await? else {
            continue;
        };
        let views = &stored.analysis.views;
        let seen = views.first().map(|view| view.hand);
        let Some(hand) = seen.or(line.player.facts.hand) else {
            continue;
        };
        would.looked_at += 1;
        let mut judged = Vec::new();
        for own in &both {
            let own = held(own, store, &line.player, swing, &stored.analysis).await?;
            judged.push(judge(&own, &line.player.facts, hand, &stored.analysis));
        }
        if let [before, after] = &judged[..]
            && let Some(anew) = difference(swing, &line.player.facts.name, before, after)
        {
            would.swings.push(anew);
        }
    }
    would
        .swings
        .sort_by_key(|judged| std::cmp::Reverse(judged.swing));
    Ok(would)
}

/// With what the player's swings are held against, and what was chosen to be taught.
async fn held(
    own: &Own,
    store: &Store,
    player: &Player,
    swing: SwingId,
    analysis: &SwingAnalysis,
) -> Result<Own> {
    let club = store.swing(swing).await?.and_then(|swing| swing.club);
    let own = personal::own_for(own.clone(), store, player, club.as_deref(), Some(swing)).await?;
    Ok(Own {
        teaching: analysis.teaching.clone(),
        ..own
    })
}

fn judge(own: &Own, player: &PlayerFacts, hand: Hand, analysis: &SwingAnalysis) -> Coaching {
    let case = Case {
        measures: &analysis.measures,
        seen: &analysis.corrections.seen,
        hand,
        player,
        now: Timestamp::now(),
    };
    coach_as_chosen(&case, &own.knowledge(), &own.teaching)
}

fn difference(
    swing: SwingId,
    player: &str,
    before: &Coaching,
    after: &Coaching,
) -> Option<JudgedAnew> {
    let first = |judged: &Coaching| judged.priority.as_ref().map(|p| p.title.clone());
    let order = |judged: &Coaching| {
        let candidates = judged.ranking.candidates.iter();
        candidates.map(|one| one.title.clone()).collect::<Vec<_>>()
    };
    let anew = JudgedAnew {
        swing,
        player: player.to_owned(),
        first: [first(before), first(after)],
        order: [order(before), order(after)],
    };
    let same = anew.first[0] == anew.first[1] && anew.order[0] == anew.order[1];
    (!same).then_some(anew)
}
