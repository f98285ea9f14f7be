//! An invented studio after five months: players with lessons, practice, retention and transfer, so that the
//! follow-up has something to show. Seeded: the same in every run. Nobody here is real.

#[path = "../../../coaching/tests/follow_support/mod.rs"]
mod follow_support;

use follow_support::Random;
use jiff::{SignedDuration, Timestamp};
use lessonwright_model::swing::SCHEMA_VERSION;
use lessonwright_model::{
    CauseGrade, Drill, Finding, Hand, Measure, MeasureName, MeasureState, MomentName, Occasion,
    PlayerFacts, Prescription, Priority, Ranking, SwingAnalysis,
};
use lessonwright_store::{GuardianConsent, PlayerId, Store, SwingId, SwingMark};

/// What the players are taught.
#[derive(Clone, Copy)]
enum Work {
    /// Pelvis toward the target; numbers in cm.
    Pelvis,
    /// Trail elbow ahead of the side; cm.
    Elbow,
    /// Knees back in their line; degrees.
    Knees,
}

/// A day's filming: days before today, swings, how far along the way to the number (0 to 1), how made.
struct Day(i64, usize, f64, Option<Occasion>);

struct Story {
    name: &'static str,
    hand: Hand,
    age_years: u32,
    work: Work,
    /// Where the number starts.
    level: f64,
    /// Days before today of the approved lesson, if any.
    lesson: Option<i64>,
    days: Vec<Day>,
}

const PRACTICE: Option<Occasion> = Some(Occasion::Practice);
const RETENTION: Option<Occasion> = Some(Occasion::Retention);
const TRANSFER: Option<Occasion> = Some(Occasion::Transfer);

fn stories() -> Vec<Story> {
    let story = |name, hand, age_years, work, level, lesson, days| Story {
        name,
        hand,
        age_years,
        work,
        level,
        lesson,
        days,
    };
    use Hand::{Left, Right};
    vec![
        story(
            "Anneke Voss",
            Right,
            41,
            Work::Pelvis,
            -1.8,
            Some(95),
            vec![
                Day(130, 3, 0.0, None),
                Day(95, 4, 0.0, None),
                Day(90, 3, 1.0, PRACTICE),
                Day(82, 4, 0.5, RETENTION),
                Day(68, 4, 0.9, RETENTION),
                Day(40, 5, 1.15, RETENTION),
                Day(39, 3, 1.0, TRANSFER),
                Day(8, 4, 1.2, RETENTION),
            ],
        ),
        story(
            "Bram Tallis",
            Left,
            29,
            Work::Pelvis,
            -2.6,
            Some(60),
            vec![
                Day(61, 3, 0.0, None),
                Day(60, 3, 0.0, None),
                Day(55, 4, 1.0, PRACTICE),
                Day(40, 4, 0.05, RETENTION),
                Day(20, 4, 0.0, RETENTION),
            ],
        ),
        story(
            "Cosima Reyne",
            Right,
            55,
            Work::Elbow,
            -6.0,
            Some(44),
            vec![
                Day(70, 2, 0.0, None),
                Day(44, 3, 0.0, None),
                Day(30, 3, -1.1, None),
                Day(16, 3, -1.2, None),
            ],
        ),
        story(
            "Dario Fenn",
            Right,
            38,
            Work::Pelvis,
            -1.2,
            Some(20),
            vec![Day(20, 3, 0.0, None), Day(15, 3, 0.7, PRACTICE)],
        ),
        story(
            "Edda Marlow",
            Left,
            62,
            Work::Knees,
            19.0,
            Some(33),
            vec![
                Day(50, 3, 0.0, None),
                Day(33, 3, 0.0, None),
                Day(19, 4, 0.6, None),
                Day(5, 4, 0.6, None),
            ],
        ),
        story(
            "Felix Oduya",
            Right,
            16,
            Work::Pelvis,
            -3.1,
            Some(48),
            vec![
                Day(62, 3, 0.0, None),
                Day(48, 3, 0.0, None),
                Day(34, 3, 1.1, RETENTION),
                Day(12, 4, 1.1, RETENTION),
            ],
        ),
        story(
            "Greta Lindqvist",
            Right,
            47,
            Work::Elbow,
            -5.0,
            Some(75),
            vec![
                Day(80, 3, 0.0, None),
                Day(75, 3, 0.0, None),
                Day(60, 3, 1.0, RETENTION),
                Day(28, 4, 1.2, RETENTION),
            ],
        ),
        story(
            "Hamish Cole",
            Right,
            33,
            Work::Elbow,
            -4.4,
            Some(38),
            vec![
                Day(52, 3, 0.0, None),
                Day(38, 3, 0.0, None),
                Day(21, 3, 0.9, RETENTION),
                Day(7, 3, 1.0, RETENTION),
            ],
        ),
        story(
            "Ines Barrow",
            Left,
            24,
            Work::Pelvis,
            5.5,
            None,
            vec![Day(110, 3, 0.0, None), Day(50, 3, 0.0, None)],
        ),
        story(
            "Jonas Weir",
            Right,
            58,
            Work::Knees,
            6.0,
            None,
            vec![Day(100, 3, 0.0, None), Day(30, 2, 0.0, None)],
        ),
        // One swing ever, a number that is hidden, a swing that nobody dated: added below.
        story(
            "Kaja Holt",
            Right,
            36,
            Work::Pelvis,
            0.4,
            None,
            vec![Day(9, 1, 0.0, None)],
        ),
        story(
            "Lorcan Pike",
            Left,
            50,
            Work::Pelvis,
            -2.2,
            Some(26),
            vec![Day(26, 2, 0.0, None), Day(6, 2, 0.6, None)],
        ),
    ]
}

/// Fills an empty store. Players 1 to 12, in the order of the alphabet; the last one's latest session has a swing
/// without the number and one without a date.
pub async fn fill_months(store: &Store, now: Timestamp) {
    let mut random = Random(2026);
    for story in stories() {
        let player = add(store, &story, now).await;
        let usual = Usual::of(&story, &mut random);
        for day in &story.days {
            let at = now - SignedDuration::from_hours(24 * day.0);
            let own = random.normal(0.55);
            let mut last = None;
            for n in 0..day.1 {
                let at = at + SignedDuration::from_mins(4 * n as i64);
                let analysis = analysis(&story, &usual, day, own, &mut random);
                let swing = store.add_swing(player, Some(at), at).await.unwrap();
                last = Some(store.add_analysis(swing, &analysis, at).await.unwrap());
                if let Some(occasion) = day.3 {
                    mark(store, swing, occasion).await;
                }
            }
            if story.lesson == Some(day.0) {
                let at = at + SignedDuration::from_hours(1);
                let page = b"<!doctype html><title>An invented lesson</title>";
                let lesson = store.add_lesson(last.unwrap(), page, at).await.unwrap();
                store.approve_lesson(lesson, at).await.unwrap();
            }
        }
        if story.name == "Lorcan Pike" {
            without_number_and_date(store, player, &story, &usual, now, &mut random).await;
        }
    }
}

async fn add(store: &Store, story: &Story, now: Timestamp) -> PlayerId {
    let facts = PlayerFacts {
        screening: None,
        sex: None,
        language: None,
        name: story.name.into(),
        hand: Some(story.hand),
        stature_m: Some(1.76),
        age_years: Some(story.age_years),
        usual_flight: Some("slice".into()),
        health_note: Some(String::new()),
        limits: vec![],
        goals: vec![],
    };
    let player = store.add_player(&facts, now).await.unwrap();
    if story.age_years < 18 {
        let consent = GuardianConsent {
            guardian: "Ada Oduya".into(),
            given_at: now,
        };
        store
            .record_guardian_consent(player, &consent)
            .await
            .unwrap();
    }
    player
}

async fn mark(store: &Store, swing: SwingId, occasion: Occasion) {
    let mark = SwingMark {
        occasion: Some(occasion),
        session_on: None,
    };
    store.mark_swing(swing, mark).await.unwrap();
}

async fn without_number_and_date(
    store: &Store,
    player: PlayerId,
    story: &Story,
    usual: &Usual,
    now: Timestamp,
    random: &mut Random,
) {
    let day = Day(6, 1, 0.6, None);
    let at = now - SignedDuration::from_hours(24 * day.0);
    let mut hidden = analysis(story, usual, &day, 0.0, random);
    for measure in &mut hidden.measures {
        if measure.name == MeasureName::PelvisShift {
            (measure.value, measure.low, measure.high) = (None, None, None);
            measure.state = MeasureState::NotMeasured;
            measure.reason = "the hips are hidden behind the bag".into();
        }
    }
    let swing = store.add_swing(player, Some(at), at).await.unwrap();
    store.add_analysis(swing, &hidden, at).await.unwrap();
    let undated = analysis(story, usual, &day, 0.0, random);
    let swing = store.add_swing(player, None, at).await.unwrap();
    store.add_analysis(swing, &undated, at).await.unwrap();
}

/// A player's levels.
struct Usual {
    pelvis: f64,
    elbow: f64,
    knees: f64,
    tempo: f64,
    head: f64,
}

impl Work {
    /// The number to reach.
    fn goal(self) -> f64 {
        match self {
            Work::Pelvis => 3.0,
            Work::Elbow => 0.0,
            Work::Knees => 8.0,
        }
    }
}

impl Usual {
    fn of(story: &Story, random: &mut Random) -> Usual {
        let mut usual = Usual {
            pelvis: 4.0 + random.normal(2.2),
            elbow: 3.0 + random.normal(2.5),
            knees: 2.0 + random.normal(5.0),
            tempo: 3.0 + random.normal(0.35),
            head: random.normal(2.0),
        };
        match story.work {
            Work::Pelvis => usual.pelvis = story.level,
            Work::Elbow => usual.elbow = story.level,
            Work::Knees => usual.knees = story.level,
        }
        usual
    }
}

/// A swing: `own` is the session's error, in SDs of about one.
fn analysis(
    story: &Story,
    usual: &Usual,
    day: &Day,
    own: f64,
    random: &mut Random,
) -> SwingAnalysis {
    let step = day.2 * (story.work.goal() - story.level);
    let of = |work: Work, level: f64| match (story.work, work) {
        (Work::Pelvis, Work::Pelvis) | (Work::Elbow, Work::Elbow) | (Work::Knees, Work::Knees) => {
            level + step
        }
        _ => level,
    };
    use MomentName::{Address, Impact, LeadArmLevelDown, Top};
    let mut number = |name, moment, against, level: f64, scale: f64, plus_minus: f64| Measure {
        name,
        moment,
        against,
        view: None,
        value: Some(round(level + scale * (own + random.normal(0.7)))),
        unit: MeasureName::unit(name),
        low: None,
        high: None,
        state: MeasureState::Measured,
        reason: format!("{plus_minus}"),
    };
    let mut measures = vec![
        number(
            MeasureName::PelvisShift,
            LeadArmLevelDown,
            Some(Top),
            of(Work::Pelvis, usual.pelvis),
            0.9,
            1.7,
        ),
        number(
            MeasureName::HeadShift,
            Impact,
            Some(Address),
            usual.head,
            1.0,
            2.4,
        ),
        number(
            MeasureName::TrailElbowAhead,
            LeadArmLevelDown,
            None,
            of(Work::Elbow, usual.elbow),
            1.1,
            2.6,
        ),
        number(
            MeasureName::KneeLineTurn,
            LeadArmLevelDown,
            Some(Address),
            of(Work::Knees, usual.knees),
            2.2,
            5.5,
        ),
        number(
            MeasureName::TempoRatio,
            Impact,
            Some(Address),
            usual.tempo,
            0.08,
            0.2,
        ),
    ];
    for measure in &mut measures {
        let half: f64 = measure.reason.parse().unwrap();
        measure.low = measure.value.map(|v| v - half);
        measure.high = measure.value.map(|v| v + half);
        measure.reason.clear();
    }
    SwingAnalysis {
        schema_version: SCHEMA_VERSION,
        program_version: "sample".into(),
        corrections: Default::default(),
        teaching: lessonwright_model::Teaching::default(),
        views: vec![],
        moments: vec![],
        findings: findings(&measures),
        measures,
        priority: Some(priority(story.work)),
        ranking: Ranking::default(),
        drills: vec![drill(story.work)],
        prescription: Some(prescription(story.work)),
        notice: None,
    }
}

fn round(v: f64) -> f64 {
    (10.0 * v).round() / 10.0
}

/// Bands as the standard targets have them.
fn findings(measures: &[Measure]) -> Vec<Finding> {
    let bands = [
        ("pelvis_stays_back", MeasureName::PelvisShift, 2.5, 10.7),
        ("elbow_behind", MeasureName::TrailElbowAhead, 0.0, 12.0),
        ("knees_open", MeasureName::KneeLineTurn, -10.0, 10.0),
    ];
    let outside = bands.iter().filter_map(|(key, name, low, high)| {
        let m = measures.iter().find(|m| m.name == *name)?;
        let out = m.high? < *low || m.low? > *high;
        out.then(|| Finding {
            key: (*key).into(),
            says: String::new(),
            measure: m.name,
            moment: m.moment,
            against: m.against,
            value: m.value.unwrap_or_default(),
            reference_low: *low,
            reference_high: *high,
            reference_source: String::new(),
            strength: 1.0,
        })
    });
    outside.collect()
}

fn priority(work: Work) -> Priority {
    let (finding, title) = match work {
        Work::Pelvis => (
            "pelvis_stays_back",
            "Move the lower body toward the target first",
        ),
        Work::Elbow => ("elbow_behind", "Bring the trail elbow in front of the side"),
        Work::Knees => ("knees_open", "Bring the knees back into their line"),
    };
    Priority {
        finding: finding.into(),
        title: title.into(),
        chain: vec![],
        grade: CauseGrade::D,
        would_change_it: String::new(),
    }
}

fn drill(work: Work) -> Drill {
    let (key, title) = match work {
        Work::Pelvis => ("bump_the_stick", "Bump the stick"),
        Work::Elbow => ("elbow_off_the_wall", "Elbow off the wall"),
        Work::Knees => ("knees_over_the_line", "Knees over the line"),
    };
    let prescribed = prescription(work);
    Drill {
        key: key.into(),
        title: title.into(),
        changes: String::new(),
        set_up: vec![],
        steps: vec![],
        feel: String::new(),
        watch_for: vec![],
        cautions: vec![],
        dose: String::new(),
        station: vec![],
        cue_outward: String::new(),
        cue_inward: String::new(),
        progressions: vec![],
        checkpoint: String::new(),
        who_should_not: vec![],
        measure: prescribed.measure,
        moment: prescribed.moment,
        against: prescribed.against,
        expected_change: Some(3.0),
    }
}

fn prescription(work: Work) -> Prescription {
    use MomentName::{Address, LeadArmLevelDown, Top};
    let (drill, measure, against) = match work {
        Work::Pelvis => ("bump_the_stick", MeasureName::PelvisShift, Some(Top)),
        Work::Elbow => ("elbow_off_the_wall", MeasureName::TrailElbowAhead, None),
        Work::Knees => (
            "knees_over_the_line",
            MeasureName::KneeLineTurn,
            Some(Address),
        ),
    };
    Prescription {
        drill: drill.into(),
        cue: String::new(),
        dose: String::new(),
        measure: Some(measure),
        moment: LeadArmLevelDown,
        against,
        reach: Some(work.goal()),
        check: String::new(),
        cautions: vec![],
    }
}
