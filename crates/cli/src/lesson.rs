//! `lesson`: a swing down the road, kept in the studio, and its page for the player.

use crate::arguments::LessonArguments;
use crate::desk;
use crate::film::{self, Spoken};
use crate::follow::KindName;
use crate::personal;
use crate::pictures::key_pictures;
use crate::road::{self, Travelled, judge};
use crate::say;
use crate::surroundings::Surroundings;
use crate::trade::Own;
use anyhow::{Context, Result, ensure};
use jiff::Timestamp;
use jiff::civil::Date;
use lessonwright_coaching::{CauseTable, Outside, Targets, plan};
use lessonwright_language::{Say, when};
use lessonwright_media as media;
use lessonwright_media::Voice;
use lessonwright_model::{
    Brief, Cancel, Choices, Corrections, DrillFigure, Language, Layout, Letter, Measure,
    PlayerFacts, PracticePlan, SwingAnalysis,
};
use lessonwright_print::lesson_pdf;
use lessonwright_report::{LessonContent, Reference, Units, lesson_page, lesson_sheet};
use lessonwright_store::{
    CorrectionStep, FileKind, GuardianConsent, NewClip, Player, Store, StoredChoices, SwingId,
    SwingMark,
};
use std::path::PathBuf;
use tokio::runtime::Handle;

/// Make the lesson, keep it, and say where it is.
pub fn make(
    around: &Surroundings,
    arguments: &LessonArguments,
    runtime: &Handle,
    cancel: &Cancel,
) -> Result<()> {
    let player = arguments.swing.player.facts();
    ensure!(
        !player.name.trim().is_empty(),
        "whose lesson is it? say --player NAME"
    );
    let corrections = Corrections {
        seen: arguments.swing.seen.iter().cloned().collect(),
        ..Corrections::default()
    };
    road::check_keys(around, &corrections, &player)?;
    let store = runtime.block_on(Store::open(&around.studio))?;
    // Before any work: a minor's film is not even looked at without consent.
    let kept_player = runtime.block_on(enrol(&store, &player, arguments))?;
    let units = runtime.block_on(store.units_for(kept_player.id))?;
    let brief = Brief {
        letter: letter(arguments, units),
        ..arguments.swing.brief()
    };
    let files = arguments.swing.files();
    let facts = &kept_player.facts;
    let own = Own::load(&around.studio)?;
    let club = arguments.club.map(|club| club.key());
    let own = runtime.block_on(personal::own_for(own, &store, &kept_player, club, None))?;
    let choices = arguments.desk.choices(&arguments.note)?;
    let own = Own {
        teaching: choices.teaching.clone(),
        ..own
    };
    let voice = match &arguments.voice {
        Some(file) => media::voice(&around.tools, file, cancel)?,
        None => Voice::default(),
    };
    let told = Told {
        choices,
        spoken: Spoken { voice, scrub: None },
    };
    let travelled = road::travel(around, own, &files, &brief, facts, &corrections, cancel)?;
    desk::check(&travelled.swing, &told.choices)?;
    let drafted = draft(
        around,
        &brief.letter,
        &kept_player,
        &travelled,
        &told,
        cancel,
    )?;
    let swing = runtime.block_on(keep(
        &store,
        &kept_player,
        &arguments.swing.clips,
        None,
        &brief,
        &travelled,
        (&told.choices, &drafted),
    ))?;
    if let Some(file) = &arguments.voice {
        runtime.block_on(desk::keep_voice(&store, swing, file, Timestamp::now()))?;
    }
    if let Some(mark) = mark(arguments) {
        runtime.block_on(store.mark_swing(swing, mark))?;
    }
    runtime.block_on(store.keep_club(swing, club))?;
    print!("{}", say::analysis(&travelled.swing));
    for (what, out, bytes) in [
        ("Lesson page", &arguments.out, Some(drafted.page.as_bytes())),
        (
            "Lesson on paper",
            &arguments.pdf,
            Some(drafted.pdf.as_slice()),
        ),
        ("Film", &arguments.film, drafted.film.as_deref()),
    ] {
        let Some(out) = out else { continue };
        let bytes =
            bytes.with_context(|| format!("there is no {} of this swing", what.to_lowercase()))?;
        std::fs::write(out, bytes).with_context(|| format!("writing {}", out.display()))?;
        println!("{what}: {}", out.display());
    }
    println!("Kept in the studio as swing {swing}; to see it: lessonwright open");
    Ok(())
}

/// The player on record, brought up to date with what was typed.
async fn enrol(store: &Store, facts: &PlayerFacts, arguments: &LessonArguments) -> Result<Player> {
    let now = Timestamp::now();
    let id = match store.player_named(&facts.name).await? {
        None => store.add_player(facts, now).await?,
        Some(known) => {
            store
                .update_player(known.id, &newer(&known.facts, facts))
                .await?;
            known.id
        }
    };
    if let Some(units) = arguments.units {
        store.keep_player_units(id, Some(units.into())).await?;
    }
    if let Some(guardian) = &arguments.guardian {
        let consent = GuardianConsent {
            guardian: guardian.clone(),
            given_at: now,
        };
        store.record_guardian_consent(id, &consent).await?;
    }
    store.check_film_allowed(id).await?;
    store
        .player(id)
        .await?
        .context("the player was erased meanwhile")
}

/// What was typed now, else what is on record.
pub fn newer(known: &PlayerFacts, typed: &PlayerFacts) -> PlayerFacts {
    PlayerFacts {
        name: known.name.clone(),
        hand: typed.hand.or(known.hand),
        stature_m: typed.stature_m.or(known.stature_m),
        age_years: typed.age_years.or(known.age_years),
        sex: typed.sex.or(known.sex),
        usual_flight: typed
            .usual_flight
            .clone()
            .or_else(|| known.usual_flight.clone()),
        health_note: typed
            .health_note
            .clone()
            .or_else(|| known.health_note.clone()),
        limits: newer_keys(&known.limits, &typed.limits),
        goals: newer_keys(&known.goals, &typed.goals),
        language: typed.language.or(known.language),
        screening: typed.screening.clone().or_else(|| known.screening.clone()),
    }
}

fn newer_keys(known: &[String], typed: &[String]) -> Vec<String> {
    if typed.is_empty() { known } else { typed }.to_vec()
}

/// Swing, clips, analysis and page into the studio.
pub async fn keep(
    store: &Store,
    player: &Player,
    files: &[PathBuf],
    filmed_at: Option<Timestamp>,
    brief: &Brief,
    travelled: &Travelled,
    (choices, drafted): (&Choices, &Drafted),
) -> Result<SwingId> {
    let now = Timestamp::now();
    let swing = store.add_swing(player.id, filmed_at, now).await?;
    let reports = &travelled.swing.views;
    for ((file, clip), report) in files.iter().zip(&travelled.clips).zip(reports) {
        let clip = NewClip {
            view: report.view,
            file: file.clone(),
            facts: clip.facts.clone(),
        };
        store.add_clip(swing, &clip).await?;
    }
    store.keep_brief(swing, brief).await?;
    let seen = &travelled.swing.corrections;
    let analysis = if seen.is_empty() {
        store.add_analysis(swing, &travelled.swing, now).await?
    } else {
        let step = CorrectionStep::Add(seen.clone());
        store
            .keep_corrected(swing, &step, &travelled.swing, now)
            .await?
    };
    if *choices != Choices::default() {
        store.keep_choices(swing, choices, now).await?;
    }
    drafted.keep(store, analysis, now).await?;
    Ok(swing)
}

/// What was typed of when and how the swing was made.
fn mark(arguments: &LessonArguments) -> Option<SwingMark> {
    let mark = SwingMark {
        occasion: arguments.made_as.and_then(KindName::occasion),
        session_on: arguments.filmed,
    };
    (mark != SwingMark::default()).then_some(mark)
}

/// What the page says beside the analysis, as typed.
fn letter(arguments: &LessonArguments, units: Units) -> Letter {
    let date = arguments.date.unwrap_or_else(|| jiff::Zoned::now().date());
    Letter {
        academy: arguments.academy.clone(),
        coach: arguments.coach.clone(),
        date_text: spelled(date),
        inches_first: units == Units::Inches,
        coach_note: arguments.note.clone(),
    }
}

/// A lesson as the player gets it.
pub struct Drafted {
    /// The page, HTML.
    pub page: String,
    /// The same on paper, PDF.
    pub pdf: Vec<u8>,
    /// The swing slowed down, MP4; none where its clips share no moment.
    pub film: Option<Vec<u8>>,
}

impl Drafted {
    /// Into the studio.
    pub async fn keep(
        &self,
        store: &Store,
        analysis: lessonwright_store::AnalysisId,
        now: Timestamp,
    ) -> Result<()> {
        let lesson = store
            .add_lesson(analysis, self.page.as_bytes(), now)
            .await?;
        store
            .keep_lesson_file(lesson, FileKind::Paper, &self.pdf)
            .await?;
        if let Some(film) = &self.film {
            store.keep_lesson_file(lesson, FileKind::Film, film).await?;
        }
        Ok(())
    }
}

/// What the professional chose and said for a lesson.
#[derive(Clone, Debug, Default)]
pub struct Told {
    pub choices: Choices,
    pub spoken: Spoken,
}

impl Told {
    /// As it is kept with a swing.
    pub fn of(around: &Surroundings, kept: &StoredChoices, cancel: &Cancel) -> Result<Told> {
        let voice = match &kept.voice {
            Some(file) => media::voice(&around.tools, file, cancel)?,
            None => Voice::default(),
        };
        Ok(Told {
            choices: kept.choices.clone(),
            spoken: Spoken {
                voice,
                scrub: kept.scrub.clone(),
            },
        })
    }
}

/// Page, paper and film of a lesson.
pub fn draft(
    around: &Surroundings,
    letter: &Letter,
    player: &Player,
    travelled: &Travelled,
    told: &Told,
    cancel: &Cancel,
) -> Result<Drafted> {
    let choices = &told.choices;
    let said = said_for(player, travelled);
    let say = Say::new(travelled.own.language);
    let mut content = LessonContent {
        say,
        academy: letter.academy.clone(),
        coach: letter.coach.clone(),
        player: player.facts.name.clone(),
        date_text: date_text(&letter.date_text, say),
        units: match letter.inches_first {
            true => Units::Inches,
            false => Units::Centimetres,
        },
        coach_note: choices
            .note
            .clone()
            .or_else(|| letter.coach_note.clone())
            .filter(|note| !note.trim().is_empty()),
        references: references(&said.swing, &said.own),
        pictures: key_pictures(around, travelled, choices, cancel)?,
        chosen: choices.pictures.clone(),
        moving: None,
        figure: figure_of(travelled),
        layout: layout(&said.swing, &said.own),
        plan: plan_of(player, &said),
        captured_within_mm: travelled.captured_within_mm,
        analysis: said.swing,
    };
    // Side by side: the film waits for its decoders and encoder most of the time.
    let (pdf, films) = std::thread::scope(|scope| {
        let paper =
            scope.spawn(|| -> Result<Vec<u8>> { Ok(lesson_pdf(&lesson_sheet(&content)?)?) });
        let films = film::of_lesson(around, travelled, &content, &told.spoken, cancel);
        (paper.join().expect("setting type does not panic"), films)
    });
    let (pdf, films) = (pdf?, films?);
    let film = films.map(|films| {
        content.moving = Some(films.small);
        films.film
    });
    Ok(Drafted {
        page: lesson_page(&content)?,
        pdf,
        film,
    })
}

/// A swing and the trade in the player's language.
struct Said {
    swing: SwingAnalysis,
    own: Own,
}

/// The same judgement in the player's language. What is kept is English, so that it reads the same for all.
fn said_for(player: &Player, travelled: &Travelled) -> Said {
    let (swing, own) = (&travelled.swing, &travelled.own);
    if own.language == Language::English {
        return Said {
            swing: swing.clone(),
            own: own.clone(),
        };
    }
    let own = own.clone().in_language(own.language);
    Said {
        swing: judge(&travelled.measured, &player.facts, &swing.corrections, &own),
        own,
    }
}

/// A kept date ("25 November 2026") in a language; as it is kept where it is none.
fn date_text(kept: &str, say: Say) -> String {
    match Date::strptime("%d %B %Y", kept) {
        Ok(date) => say.text(&when::date(date)),
        Err(_) => kept.to_owned(),
    }
}

/// The pictures of the prescribed drill.
fn figure_of(travelled: &Travelled) -> Option<DrillFigure> {
    let prescription = travelled.swing.prescription.as_ref()?;
    travelled.own.figures.of(&prescription.drill).cloned()
}

/// The practice until the next lesson, for a player whose days are known and to whom it may be prescribed now.
fn plan_of(player: &Player, said: &Said) -> Option<PracticePlan> {
    let rules = said.own.plan_rules();
    let practice = player.practice.as_ref()?;
    plan(
        &said.swing,
        &player.facts,
        practice,
        &rules,
        Timestamp::now(),
    )
    .ok()
}

/// What lies where for the drill.
fn layout(swing: &SwingAnalysis, own: &Own) -> Option<Layout> {
    let drill = &swing.prescription.as_ref()?.drill;
    own.stations.of(drill, swing.views.first()?.hand)
}

/// "25 November 2026".
pub fn spelled(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

/// The band of each measure, where there is one.
fn references(swing: &SwingAnalysis, own: &Own) -> Vec<Reference> {
    swing
        .measures
        .iter()
        .filter_map(|measure| reference(measure, &own.targets, &own.causes))
        .collect()
}

/// A measure's band as the page shows it. An edge that no cause rests on only gives strength its
/// scale; beyond it lies no finding, so the page leaves that side open. A band that would be open at
/// both ends is none.
pub fn reference(measure: &Measure, targets: &Targets, causes: &CauseTable) -> Option<Reference> {
    let target = targets.of(measure)?;
    let matters = |side| {
        causes.bodies().iter().any(|body| {
            body.is_shown_by(target.measure, target.moment, target.against)
                && body
                    .shown
                    .as_ref()
                    .is_some_and(|shown| shown.outside == side)
        })
    };
    let (below, above) = (matters(Outside::Below), matters(Outside::Above));
    (below || above).then(|| Reference {
        measure: measure.name,
        moment: measure.moment,
        against: measure.against,
        low: if below { target.low } else { f64::NEG_INFINITY },
        high: if above { target.high } else { f64::INFINITY },
        source: target.cited(causes.language()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::{MeasureName, MeasureState, MomentName, Unit, View};

    #[test]
    fn tempo_is_held_against_both_ends_of_its_band() {
        // Noted down as from address; its target, like any duration's, names no such moment.
        let tempo = Measure {
            name: MeasureName::TempoRatio,
            moment: MomentName::Impact,
            against: Some(MomentName::Address),
            view: Some(View::FaceOn),
            value: Some(3.0),
            unit: Unit::One,
            low: Some(2.7),
            high: Some(3.3),
            state: MeasureState::Measured,
            reason: String::new(),
        };
        let found = reference(&tempo, &Targets::standard(), &CauseTable::standard());
        let band = found.expect("the standard targets have one for tempo");
        assert!(band.low.is_finite() && band.high.is_finite());
    }
}
