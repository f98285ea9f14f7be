//! The road of a swing: clip → frames → landmarks → track → moments → measures → findings.
//!
//! Every step is one call into the crate that knows it; this file only joins them, shows progress
//! and lets Ctrl-C stop the work. Watching the clips ([`crate::watch`]) is the one slow step.

use crate::capture;
use crate::kept::Seen;
use crate::surroundings::Surroundings;
use crate::trade::Own;
use crate::watch::{ClipFile, observe_all, observe_club_again};
use anyhow::{Result, anyhow};
use jiff::Timestamp;
use lessonwright_analysis::{ClipObservation, Measured, Settings};
use lessonwright_coaching::{Case, coach_as_chosen};
use lessonwright_media::Clip;
use lessonwright_model::swing::SCHEMA_VERSION;
use lessonwright_model::{
    Brief, Cancel, Corrections, PlayerFacts, RateSource, SwingAnalysis, View,
};
use lessonwright_vision::SwingClip;

/// What is said of a clip without joint centres.
const STRANGE: &str = "player and place look unlike what our own networks were taught: joints are taken \
                       from the general landmarks, and every ± is wider";

/// What is said of a clip whose club could not be looked for by the clock that was stated.
const NO_CLUB: &str = "the capture rate was corrected and the film is no longer here: the club could not be \
                       looked for again, and nothing is said of it";

/// A swing that went down the road.
pub struct Travelled {
    /// The clips, in the order given.
    pub clips: Vec<Clip>,
    /// Cleaned tracks, moments and measures.
    pub measured: Measured,
    /// What scripts and pages receive.
    pub swing: SwingAnalysis,
    /// What it was judged by.
    pub own: Own,
    /// Of a captured swing: within which its points are taken to be right, 95 of 100 times, mm.
    pub captured_within_mm: Option<f64>,
}

/// All the way from files to findings, for a player of whom `player` is known, with what was corrected
/// by hand. Landmarks stay as they were seen; everything after them follows the corrections. `own` is what it is judged
/// by.
pub fn travel(
    around: &Surroundings,
    own: Own,
    files: &[ClipFile],
    brief: &Brief,
    player: &PlayerFacts,
    corrections: &Corrections,
    cancel: &Cancel,
) -> Result<Travelled> {
    // Before the slow part.
    corrections.check()?;
    if let Some(captured) = &brief.capture {
        let given = (brief, captured);
        return capture::travel(around, own, files, given, player, corrections, cancel);
    }
    let seen = observe_all(around, files, brief, cancel)?;
    let (player, settings) = &corrected(brief, player, corrections);
    let mut observations = observations(&seen, brief);
    state_capture_rates(&mut observations, player, settings)?;
    for (number, clip) in observations.iter_mut().enumerate() {
        if clip.club.is_none() {
            let (file, seen) = (&files[number], &seen[number]);
            let asked = (brief.clips[number].capture_rate_hz, brief.swing_number);
            clip.club = observe_club_again(around, file, seen, &clip.facts, asked, cancel)?;
        }
    }
    move_to_joint_centres(around, &mut observations, player, settings)?;
    let mut measured = lessonwright_analysis::analyse(&observations, player, settings)?;
    for (number, (report, seen)) in measured.views.iter_mut().zip(&seen).enumerate() {
        report.warnings.extend(seen.clip.warnings.iter().cloned());
        if observations[number].centres.is_none() {
            report.warnings.push(STRANGE.to_owned());
        }
        if observations[number].club.is_none() {
            report.warnings.push(NO_CLUB.to_owned());
        }
        if seen.swings > 1 && brief.swing_number.is_none() {
            report.warnings.push(format!(
                "this clip holds {} swings; the last was taken (--swing-number takes another)",
                seen.swings
            ));
        }
    }
    let clips: Vec<Clip> = seen.into_iter().map(|seen| seen.clip).collect();
    let swing = judge(&measured, player, corrections, &own);
    Ok(Travelled {
        clips,
        measured,
        swing,
        own,
        captured_within_mm: None,
    })
}

/// What the analysis takes: one a clip.
pub fn observations(seen: &[Seen], brief: &Brief) -> Vec<ClipObservation> {
    seen.iter()
        .zip(&brief.clips)
        .map(|(seen, said)| ClipObservation {
            facts: seen.clip.facts.clone(),
            track: seen.track.clone(),
            centres: None,
            club: Some(seen.club.clone()),
            strikes: seen.window.strike.into_iter().collect(),
            view: said.view,
            hand: None,
        })
        .collect()
}

/// What the professional says of the set-up.
pub fn settings(brief: &Brief) -> Settings {
    Settings {
        camera_distance_m: brief.camera_distance_m,
        ..Settings::default()
    }
}

/// The player and the settings with what was corrected by hand.
pub fn corrected(
    brief: &Brief,
    player: &PlayerFacts,
    corrections: &Corrections,
) -> (PlayerFacts, Settings) {
    let player = PlayerFacts {
        stature_m: corrections.stature_m.or(player.stature_m),
        ..player.clone()
    };
    let settings = Settings {
        corrections: corrections.clone(),
        ..settings(brief)
    };
    (player, settings)
}

/// Capture rates corrected by hand, put into the facts of the clips. The stretch of the file that was
/// looked at stays.
fn state_capture_rates(
    observations: &mut [ClipObservation],
    player: &PlayerFacts,
    settings: &Settings,
) -> Result<()> {
    let rate_of = |view| {
        settings
            .corrections
            .of(view)
            .and_then(|c| c.capture_rate_hz)
    };
    if [View::FaceOn, View::DownTheLine].map(rate_of) == [None, None] {
        return Ok(());
    }
    let stated: Option<Vec<View>> = observations.iter().map(|clip| clip.view).collect();
    let views = match stated {
        Some(views) => views,
        None => {
            let as_found = Settings {
                corrections: Corrections::default(),
                ..settings.clone()
            };
            lessonwright_analysis::outlines(observations, player, &as_found)?
                .iter()
                .map(|outline| outline.view)
                .collect()
        }
    };
    for (clip, view) in observations.iter_mut().zip(views) {
        if let Some(rate_hz) = rate_of(view) {
            clip.facts.capture_rate_hz = rate_hz;
            clip.facts.capture_rate_source = RateSource::Stated;
            // It was looked for by another clock, and has to be again.
            clip.club = None;
        }
    }
    Ok(())
}

/// Landmarks moved to joint centres, seen in both clips together; none in a clip whose picture the
/// networks do not know their way about.
pub fn move_to_joint_centres(
    around: &Surroundings,
    observations: &mut [ClipObservation],
    player: &PlayerFacts,
    settings: &Settings,
) -> Result<()> {
    let outlines = lessonwright_analysis::outlines(observations, player, settings)?;
    let clips: Vec<SwingClip<'_>> = observations
        .iter()
        .zip(outlines)
        .map(|(clip, outline)| SwingClip {
            track: &clip.track,
            view: outline.view,
            hand: outline.hand,
            real_seconds_per_file_second: clip.facts.real_seconds_per_file_second(),
            address_s: outline.address_s,
            impact_s: outline.impact_s,
        })
        .collect();
    let centres = around.load_correction()?.joint_centres(&clips)?;
    for (clip, centres) in observations.iter_mut().zip(centres) {
        clip.centres = centres;
    }
    Ok(())
}

/// Refuses keys typed for what was seen, limits or goals that the cause table does not know. Those on record are
/// not asked: where a table changed, the ranking's notes say that they are not used.
pub fn check_keys(
    around: &Surroundings,
    corrections: &Corrections,
    player: &PlayerFacts,
) -> Result<()> {
    let causes = Own::load(&around.studio)?.causes;
    causes
        .check_keys(&corrections.seen, &player.limits, &player.goals)
        .map_err(|problem| anyhow!(problem))
}

/// Findings, the ranking, the one priority and drills, put beside the measures they rest on; said in the language of `own`.
pub fn judge(
    measured: &Measured,
    player: &PlayerFacts,
    corrections: &Corrections,
    own: &Own,
) -> SwingAnalysis {
    let case = Case {
        measures: &measured.measures,
        seen: &corrections.seen,
        hand: measured.views[0].hand,
        player,
        now: Timestamp::now(),
    };
    let coaching = coach_as_chosen(&case, &own.knowledge(), &own.teaching);
    SwingAnalysis {
        schema_version: SCHEMA_VERSION,
        program_version: env!("CARGO_PKG_VERSION").to_owned(),
        corrections: corrections.clone(),
        teaching: own.teaching.clone(),
        views: measured.views.clone(),
        moments: measured.moments.clone(),
        measures: measured.measures.clone(),
        findings: coaching.findings,
        priority: coaching.priority,
        ranking: coaching.ranking,
        drills: coaching.drills,
        prescription: coaching.prescription,
        notice: coaching.notice,
    }
}
