//! Measures to judge, built by hand. Units as at the edge: cm, degrees, ratio.

#![allow(dead_code, reason = "each test file uses its own part")]

use jiff::Timestamp;
use lessonwright_coaching::{
    Case, CauseTable, Coaching, DrillBook, Knowledge, ScreeningRules, Targets, coach,
};
use lessonwright_model::{
    Hand, Measure, MeasureName, MeasureState, MomentName, PlayerFacts, Unit, View,
};
use std::collections::BTreeSet;
use std::sync::LazyLock;

/// 25 November 2026, 09:00 UTC.
pub const NOW: Timestamp = Timestamp::constant(1_795_597_200, 0);

/// A measure's place: name, moment, against, unit, view.
pub type Place = (MeasureName, MomentName, Option<MomentName>, Unit, View);

pub const SHIFT_DOWN: Place = (
    MeasureName::PelvisShift,
    MomentName::LeadArmLevelDown,
    Some(MomentName::Top),
    Unit::Centimetre,
    View::FaceOn,
);
pub const KNEES: Place = (
    MeasureName::KneeLineTurn,
    MomentName::LeadArmLevelDown,
    Some(MomentName::Address),
    Unit::Degree,
    View::DownTheLine,
);
pub const ELBOW: Place = (
    MeasureName::TrailElbowAhead,
    MomentName::LeadArmLevelDown,
    None,
    Unit::Centimetre,
    View::DownTheLine,
);
pub const SHIFT_AT_IMPACT: Place = (
    MeasureName::PelvisShift,
    MomentName::Impact,
    Some(MomentName::Address),
    Unit::Centimetre,
    View::FaceOn,
);
pub const TEMPO: Place = (
    MeasureName::TempoRatio,
    MomentName::Impact,
    None,
    Unit::One,
    View::FaceOn,
);

/// The measures that have always been judged.
pub const PLACES: [Place; 5] = [SHIFT_DOWN, KNEES, ELBOW, SHIFT_AT_IMPACT, TEMPO];

/// The words of `cases.md` with their places, and what a sound swing has there: value and half-width.
pub fn sound_swing() -> Vec<(&'static str, Place, [f64; 2])> {
    use MeasureName as N;
    use MomentName::{Address, Impact, LeadArmLevelDown, Top};
    use Unit::{Centimetre, Degree, Percent};
    use View::{DownTheLine, FaceOn};
    let from_address = Some(Address);
    vec![
        ("shift down", SHIFT_DOWN, [5.1, 1.5]),
        ("knees", KNEES, [2.0, 6.0]),
        ("elbow", ELBOW, [6.0, 2.0]),
        ("shift at impact", SHIFT_AT_IMPACT, [4.0, 1.5]),
        ("tempo", TEMPO, [3.2, 0.3]),
        (
            "shoulders at address",
            (N::ChestSideBend, Address, None, Degree, FaceOn),
            [7.0, 5.0],
        ),
        (
            "head at top",
            (N::HeadShift, Top, from_address, Centimetre, FaceOn),
            [-2.0, 2.0],
        ),
        (
            "mass at top",
            (N::MassOverFeet, Top, None, Percent, FaceOn),
            [35.0, 8.0],
        ),
        (
            "knee kick",
            (
                N::TrailKneeTowardBall,
                LeadArmLevelDown,
                from_address,
                Centimetre,
                DownTheLine,
            ),
            [1.0, 2.0],
        ),
        (
            "to ball down",
            (
                N::PelvisTowardBall,
                LeadArmLevelDown,
                from_address,
                Centimetre,
                DownTheLine,
            ),
            [0.0, 1.5],
        ),
        (
            "to ball at impact",
            (
                N::PelvisTowardBall,
                Impact,
                from_address,
                Centimetre,
                DownTheLine,
            ),
            [1.0, 1.5],
        ),
        (
            "chest down",
            (
                N::ChestTurn,
                LeadArmLevelDown,
                from_address,
                Degree,
                DownTheLine,
            ),
            [-25.0, 16.0],
        ),
        (
            "hands over",
            (
                N::HandsOverWayBack,
                LeadArmLevelDown,
                None,
                Centimetre,
                DownTheLine,
            ),
            [-3.0, 3.0],
        ),
        (
            "head down",
            (
                N::HeadRise,
                LeadArmLevelDown,
                from_address,
                Centimetre,
                FaceOn,
            ),
            [-2.0, 2.0],
        ),
        (
            "head at impact",
            (N::HeadRise, Impact, from_address, Centimetre, FaceOn),
            [-2.0, 2.5],
        ),
        (
            "head to ball",
            (
                N::HeadTowardBall,
                Impact,
                from_address,
                Centimetre,
                DownTheLine,
            ),
            [0.0, 3.0],
        ),
        (
            "pelvis at impact",
            (N::PelvisTurn, Impact, from_address, Degree, DownTheLine),
            [35.0, 16.0],
        ),
        (
            "shoulders at impact",
            (N::ChestSideBend, Impact, None, Degree, FaceOn),
            [12.0, 7.0],
        ),
        (
            "mass at impact",
            (N::MassOverFeet, Impact, None, Percent, FaceOn),
            [68.0, 8.0],
        ),
    ]
}

/// A measured measure.
pub fn measured(place: Place, value: f64, half_width: f64) -> Measure {
    let (name, moment, against, unit, view) = place;
    Measure {
        name,
        moment,
        against,
        view: Some(view),
        value: Some(value),
        unit,
        low: Some(value - half_width),
        high: Some(value + half_width),
        state: MeasureState::Measured,
        reason: String::new(),
    }
}

/// The same place without a number.
pub fn hidden(place: Place) -> Measure {
    Measure {
        value: None,
        low: None,
        high: None,
        state: MeasureState::NotMeasured,
        reason: "hidden behind the body".into(),
        ..measured(place, 0.0, 0.0)
    }
}

/// A healthy adult.
pub fn adult(flight: &str) -> PlayerFacts {
    PlayerFacts {
        name: "Ada Example".into(),
        age_years: Some(40),
        usual_flight: Some(flight.into()),
        health_note: Some(String::new()),
        ..PlayerFacts::default()
    }
}

/// Judged with the project's targets, drills and causes, nothing ticked.
pub fn judge(measures: &[Measure], hand: Hand, player: &PlayerFacts) -> Coaching {
    judge_seen(measures, &[], hand, player)
}

/// The same with what the professional saw.
pub fn judge_seen(
    measures: &[Measure],
    seen: &[&str],
    hand: Hand,
    player: &PlayerFacts,
) -> Coaching {
    static STANDARD: LazyLock<(Targets, DrillBook, CauseTable)> = LazyLock::new(|| {
        (
            Targets::standard(),
            DrillBook::standard(),
            CauseTable::standard(),
        )
    });
    let (targets, book, causes) = &*STANDARD;
    let seen: BTreeSet<String> = seen.iter().map(|key| key.to_string()).collect();
    let case = Case {
        measures,
        seen: &seen,
        hand,
        player,
        now: NOW,
    };
    coach(
        &case,
        &Knowledge {
            targets,
            book,
            causes,
            screening: &ScreeningRules::standard(),
        },
    )
}

/// Every text a player or professional reads.
pub fn all_texts(coaching: &Coaching) -> Vec<String> {
    let ranking = &coaching.ranking;
    let mut texts: Vec<String> = ranking.notes.clone();
    for candidate in &ranking.candidates {
        texts.push(candidate.title.clone());
        texts.extend(candidate.why.clone());
        for step in &candidate.chain {
            texts.extend([step.short.clone(), step.says.clone()]);
        }
    }
    for aside in &ranking.set_aside {
        texts.extend([aside.title.clone(), aside.why.clone()]);
    }
    texts.extend(coaching.notice.clone());
    texts.extend(coaching.findings.iter().map(|finding| finding.says.clone()));
    if let Some(priority) = &coaching.priority {
        texts.push(priority.title.clone());
        texts.extend(priority.chain.clone());
        texts.push(priority.would_change_it.clone());
    }
    for drill in &coaching.drills {
        texts.extend(drill_texts(drill));
    }
    if let Some(prescription) = &coaching.prescription {
        texts
            .extend([&prescription.cue, &prescription.dose, &prescription.check].map(Clone::clone));
        texts.extend(prescription.cautions.clone());
    }
    texts
}

/// Every text of a drill.
pub fn drill_texts(drill: &lessonwright_model::Drill) -> Vec<String> {
    let mut texts = vec![
        drill.title.clone(),
        drill.changes.clone(),
        drill.feel.clone(),
        drill.dose.clone(),
        drill.cue_outward.clone(),
        drill.cue_inward.clone(),
        drill.checkpoint.clone(),
    ];
    for list in [
        &drill.station,
        &drill.progressions,
        &drill.who_should_not,
        &drill.set_up,
        &drill.steps,
        &drill.watch_for,
        &drill.cautions,
    ] {
        texts.extend(list.clone());
    }
    texts
}

/// The text with the words left and right exchanged.
pub fn mirrored(text: &str) -> String {
    let swap = |word: &str| match word {
        "left" => "right".to_string(),
        "right" => "left".to_string(),
        "Left" => "Right".to_string(),
        "Right" => "Left".to_string(),
        other => other.to_string(),
    };
    let (mut out, mut word) = (String::new(), String::new());
    for c in text.chars() {
        if c.is_alphabetic() {
            word.push(c);
        } else {
            out.push_str(&swap(&std::mem::take(&mut word)));
            out.push(c);
        }
    }
    out + &swap(&word)
}
