//! `lesson`: a swing down the road, kept in the studio, and its page for the player.

use crate::arguments::LessonArguments;
use crate::follow::KindName;
use crate::personal;
use crate::road::{self, Travelled};
use crate::say;
use crate::surroundings::Surroundings;
use crate::trade::Own;
use anyhow::{Context, Result, ensure};
use jiff::Timestamp;
use jiff::civil::Date;
use lessonwright_analysis::CleanTrack;
use lessonwright_analysis::club::Shaft;
use lessonwright_coaching::{CauseTable, Outside, Targets};
use lessonwright_media as media;
use lessonwright_media::Clip;
use lessonwright_model::body::LANDMARKS;
use lessonwright_model::{
    Brief, Cancel, Corrections, Joint, Letter, Measure, Moment, MomentName, Picture, PixelPoint,
    PlayerFacts, SwingAnalysis, View, ViewReport,
};
use lessonwright_report::{KeyPicture, LessonContent, Reference, Units, lesson_page};
use lessonwright_store::{
    CorrectionStep, GuardianConsent, NewClip, Player, Store, SwingId, SwingMark,
};
use std::path::PathBuf;
use tokio::runtime::Runtime;

/// The moments whose pictures are on the page.
const SHOWN: [MomentName; 4] = [
    MomentName::Address,
    MomentName::Top,
    MomentName::LeadArmLevelDown,
    MomentName::Impact,
];

/// Longest side of the frames the page crops its pictures from, px: a crop of half of it still
/// fills a phone's width.
const PICTURE_SIDE_PX: u32 = 1280;

/// Make the lesson, keep it, and say where it is.
pub fn make(
    around: &Surroundings,
    arguments: &LessonArguments,
    runtime: &Runtime,
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
    let brief = Brief {
        letter: letter(arguments),
        ..arguments.swing.brief()
    };
    let files = arguments.swing.files();
    let facts = &kept_player.facts;
    let own = Own::load(&around.studio)?;
    let club = arguments.club.map(|club| club.key());
    let own = runtime.block_on(personal::own_for(own, &store, &kept_player, club, None))?;
    let travelled = road::travel(around, own, &files, &brief, facts, &corrections, cancel)?;
    let name = &arguments.swing.player.player;
    let page = page(around, &brief.letter, name, &travelled, cancel)?;
    let swing = runtime.block_on(keep(
        &store,
        &kept_player,
        &arguments.swing.clips,
        &brief,
        &travelled,
        page.as_bytes(),
    ))?;
    if let Some(mark) = mark(arguments) {
        runtime.block_on(store.mark_swing(swing, mark))?;
    }
    runtime.block_on(store.keep_club(swing, club))?;
    if let Some(out) = &arguments.out {
        std::fs::write(out, &page).with_context(|| format!("writing {}", out.display()))?;
    }
    print!("{}", say::analysis(&travelled.swing));
    if let Some(out) = &arguments.out {
        println!("Lesson page: {}", out.display());
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
fn newer(known: &PlayerFacts, typed: &PlayerFacts) -> PlayerFacts {
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
        screening: typed.screening.clone().or_else(|| known.screening.clone()),
    }
}

fn newer_keys(known: &[String], typed: &[String]) -> Vec<String> {
    if typed.is_empty() { known } else { typed }.to_vec()
}

/// Swing, clips, analysis and page into the studio.
async fn keep(
    store: &Store,
    player: &Player,
    files: &[PathBuf],
    brief: &Brief,
    travelled: &Travelled,
    page: &[u8],
) -> Result<SwingId> {
    let now = Timestamp::now();
    let swing = store.add_swing(player.id, None, now).await?;
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
    store.add_lesson(analysis, page, now).await?;
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
fn letter(arguments: &LessonArguments) -> Letter {
    let date = arguments.date.unwrap_or_else(|| jiff::Zoned::now().date());
    Letter {
        academy: arguments.academy.clone(),
        coach: arguments.coach.clone(),
        date_text: spelled(date),
        inches_first: Units::from(arguments.units) == Units::Inches,
        coach_note: arguments.note.clone(),
    }
}

/// The lesson's page (HTML).
pub fn page(
    around: &Surroundings,
    letter: &Letter,
    player: &str,
    travelled: &Travelled,
    cancel: &Cancel,
) -> Result<String> {
    let content = LessonContent {
        academy: letter.academy.clone(),
        coach: letter.coach.clone(),
        player: player.to_owned(),
        date_text: letter.date_text.clone(),
        units: match letter.inches_first {
            true => Units::Inches,
            false => Units::Centimetres,
        },
        coach_note: letter.coach_note.clone(),
        analysis: travelled.swing.clone(),
        references: references(&travelled.swing, &travelled.own),
        pictures: key_pictures(around, travelled, cancel)?,
    };
    Ok(lesson_page(&content)?)
}

/// "25 November 2026".
fn spelled(date: Date) -> String {
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
        source: target.cited(),
    })
}

/// The frames nearest to the moments shown, with the cleaned landmarks in them.
fn key_pictures(
    around: &Surroundings,
    travelled: &Travelled,
    cancel: &Cancel,
) -> Result<Vec<KeyPicture>> {
    let measured = &travelled.measured;
    let shown = |view: View| -> Vec<&Moment> {
        let find = |name: &MomentName| {
            let is = |m: &&Moment| m.name == *name && m.view == view;
            measured.moments.iter().find(is)
        };
        SHOWN.iter().filter_map(find).collect()
    };
    // Side by side: each clip's decoder takes as long as everything that is computed.
    let by_view: Vec<Result<Vec<KeyPicture>>> = std::thread::scope(|scope| {
        let clips = travelled.clips.iter().zip(&measured.views);
        let begun: Vec<_> = clips
            .zip(measured.tracks.iter().zip(&measured.clubs))
            .map(|((clip, report), (track, club))| {
                let moments = shown(report.view);
                let followed = Followed {
                    report,
                    track,
                    club,
                };
                scope.spawn(move || pictures_of(around, clip, followed, &moments, cancel))
            })
            .collect();
        let ended = begun.into_iter().map(|thread| thread.join());
        ended
            .map(|done| done.expect("a thread that ends"))
            .collect()
    });
    let by_view: Result<Vec<Vec<KeyPicture>>> = by_view.into_iter().collect();
    Ok(by_view?.into_iter().flatten().collect())
}

fn pictures_of(
    around: &Surroundings,
    clip: &Clip,
    followed: Followed<'_>,
    moments: &[&Moment],
    cancel: &Cancel,
) -> Result<Vec<KeyPicture>> {
    // Two moments of a slow clip may share a frame; it is fetched once.
    let mut frames: Vec<usize> = moments.iter().map(|m| m.frame).collect();
    frames.sort_unstable();
    frames.dedup();
    let grabbed = media::grab(&around.tools, clip, &frames, Some(PICTURE_SIDE_PX), cancel)?;
    moments
        .iter()
        .map(|moment| {
            let at = frames
                .binary_search(&moment.frame)
                .expect("every moment's frame was asked for");
            let picture = grabbed[at].clone();
            let landmarks = followed.landmarks_in(&picture, moment.frame);
            let club = followed.club_in(&picture, moment.frame);
            Ok(KeyPicture {
                view: followed.report.view,
                moment: moment.name,
                picture,
                landmarks,
                club,
            })
        })
        .collect()
}

/// What was followed through a clip.
#[derive(Clone, Copy)]
struct Followed<'a> {
    report: &'a ViewReport,
    track: &'a CleanTrack,
    club: &'a [Shaft],
}

impl Followed<'_> {
    /// Pixels of a picture of another size in one of those that were followed.
    fn scale(self, picture: &Picture) -> f64 {
        picture.width as f64 / f64::from(self.report.width_px)
    }

    /// Cleaned landmarks of one frame.
    fn landmarks_in(self, picture: &Picture, frame: usize) -> Vec<(Joint, PixelPoint)> {
        let Some(index) = self.track.frames.iter().position(|f| *f == frame) else {
            return Vec::new();
        };
        (0..LANDMARKS)
            .filter_map(|number| {
                let joint = Joint::from_number(number)?;
                let at = self.track.at(joint, index)?.at;
                Some((joint, scaled(at, self.scale(picture))))
            })
            .collect()
    }

    /// The club in one frame.
    fn club_in(self, picture: &Picture, frame: usize) -> Option<[PixelPoint; 2]> {
        let ends = club_at(self.club, frame)?;
        Some(ends.map(|at| scaled(at, self.scale(picture))))
    }
}

/// Grip and end of the club in one frame, or between the two around it that show it.
pub(crate) fn club_at(club: &[Shaft], frame: usize) -> Option<[PixelPoint; 2]> {
    // Between two pictures as near as these the ends move on straight lines, to a pixel or two.
    const LONGEST_GAP_S: f64 = 0.1;
    const LARGEST_TURN_RAD: f64 = 0.35;
    let before = club.iter().rfind(|shaft| shaft.frame <= frame)?;
    let after = club.iter().find(|shaft| shaft.frame >= frame)?;
    let gap_s = after.time_s - before.time_s;
    let turned = after.angle_rad - before.angle_rad;
    if gap_s > LONGEST_GAP_S || turned.cos() < LARGEST_TURN_RAD.cos() {
        return None;
    }
    let frames = (after.frame - before.frame).max(1) as f64;
    let share = (frame - before.frame) as f64 / frames;
    let between = |a: PixelPoint, b: PixelPoint| PixelPoint {
        x: a.x + share * (b.x - a.x),
        y: a.y + share * (b.y - a.y),
    };
    Some([
        between(before.grip, after.grip),
        between(before.end(), after.end()),
    ])
}

fn scaled(at: PixelPoint, scale: f64) -> PixelPoint {
    PixelPoint {
        x: at.x * scale,
        y: at.y * scale,
    }
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
