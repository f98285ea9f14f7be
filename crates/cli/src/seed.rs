//! `seed` (hidden): fills an empty studio with invented players through the store's own functions, so that the
//! pages can be timed as after years of use (`cargo xtask bench pages`). Seeded: the same in every run, but for the
//! days, which count back from now. Nobody in it is real.

use crate::surroundings::Surroundings;
use anyhow::{Result, ensure};
use clap::Args;
use jiff::{SignedDuration, Timestamp};
use lessonwright_model::swing::SCHEMA_VERSION;
use lessonwright_model::{
    CauseGrade, Finding, Hand, Measure, MeasureName, MeasureState, MomentName, Occasion,
    PlayerFacts, Prescription, Priority, Ranking, SwingAnalysis, View,
};
use lessonwright_store::{AnalysisId, NewConsent, Planned, PlayerId, Purpose, Store, SwingMark};
use tokio::runtime::Runtime;

/// How much there is to be.
#[derive(Args)]
pub struct SeedArguments {
    /// Players
    #[arg(long, default_value_t = 1000)]
    players: usize,
    /// Sessions of each player; the lesson is after the second
    #[arg(long, default_value_t = 5)]
    sessions: usize,
    /// Swings in a session
    #[arg(long, default_value_t = 4)]
    swings: usize,
    /// Size of a lesson's page, kB; real ones have about 740
    #[arg(long, default_value_t = 740)]
    page_kb: usize,
    /// So many players' lessons have pages of that size; the others' are small
    #[arg(long, default_value_t = 200)]
    full_pages: usize,
}

/// Ten numbers a swing: where, and what is usual, in the measure's unit.
const NUMBERS: [(MeasureName, MomentName, Option<MomentName>, f64, f64); 10] = {
    use MeasureName as M;
    use MomentName::{Address, Impact, LeadArmLevelDown, Top};
    [
        (M::PelvisShift, LeadArmLevelDown, Some(Top), 4.0, 0.9),
        (M::PelvisShift, Impact, Some(Address), 9.0, 1.2),
        (M::KneeLineTurn, LeadArmLevelDown, Some(Address), 4.0, 3.0),
        (M::TrailElbowAhead, LeadArmLevelDown, None, 2.0, 1.4),
        (M::HeadShift, Impact, Some(Address), 0.5, 1.3),
        (M::HeadShift, Top, Some(Address), -2.0, 1.3),
        (M::ChestSideBend, Impact, None, -20.0, 2.2),
        (M::PelvisSideBend, Impact, None, -7.0, 2.0),
        (M::ShaftLean, Impact, None, 6.0, 1.8),
        (M::TempoRatio, Impact, Some(Address), 3.0, 0.15),
    ]
};

const FIRST_NAMES: [&str; 40] = [
    "Anneke", "Bram", "Cosima", "Dario", "Edda", "Felix", "Greta", "Hamish", "Ines", "Jonas",
    "Kaja", "Lorcan", "Mirela", "Nils", "Oona", "Pascal", "Quirin", "Rosalind", "Søren", "Tilda",
    "Ulrik", "Vesna", "Wanda", "Xaver", "Yara", "Zeno", "Alba", "Benno", "Clea", "Dunja", "Emeric",
    "Fenja", "Gisela", "Hendrik", "Ilse", "Jorun", "Korbin", "Liv", "Matteo", "Noor",
];

const LAST_NAMES: [&str; 50] = [
    "Voss",
    "Tallis",
    "Reyne",
    "Fenn",
    "Marlow",
    "Oduya",
    "Quill",
    "Cole",
    "Barrow",
    "Weir",
    "Holt",
    "Pike",
    "Åkerby",
    "Brandt",
    "Corvin",
    "Dunmore",
    "Eskola",
    "Farrant",
    "Grønvold",
    "Hartsough",
    "Ibsley",
    "Jardine",
    "Kestrel",
    "Lindqvist",
    "Morrow",
    "Naylor",
    "Östrand",
    "Prideaux",
    "Quennell",
    "Rusk",
    "Sorley",
    "Thorne",
    "Ulveland",
    "Vantongeren",
    "Wexcombe",
    "Yardley",
    "Zoltan",
    "Ashdown",
    "Birkett",
    "Carrow",
    "Denholm",
    "Ewbank",
    "Fothergill",
    "Garrick",
    "Hollis",
    "Inglebrook",
    "Jessop",
    "Kirkbride",
    "Lathom",
    "Mellor",
];

/// Fills the studio.
pub fn run(around: &Surroundings, many: &SeedArguments, runtime: &Runtime) -> Result<String> {
    let begun = std::time::Instant::now();
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        ensure!(
            store.players().await?.is_empty(),
            "{} has players: seed an empty studio",
            around.studio.display()
        );
        let now = Timestamp::now();
        let mut random = Random(2026);
        for number in 0..many.players {
            seed_player(&store, many, number, now, &mut random).await?;
        }
        anyhow::Ok(())
    })?;
    let swings = many.players * many.sessions * many.swings;
    Ok(format!(
        "{} players, {swings} swings, {} measures in {:.0} s\n",
        many.players,
        swings * NUMBERS.len(),
        begun.elapsed().as_secs_f64()
    ))
}

async fn seed_player(
    store: &Store,
    many: &SeedArguments,
    number: usize,
    now: Timestamp,
    random: &mut Random,
) -> Result<()> {
    // An instant each, so that the store need not look for a free one.
    let added_at = now + SignedDuration::from_nanos(number as i64);
    let id = store.add_player(&facts(number, random), added_at).await?;
    // Sessions two weeks apart; how long ago the last one was differs.
    let last_days_ago = 1 + (number * 7) % 40;
    for session in 0..many.sessions {
        let days_ago = last_days_ago + 14 * (many.sessions - 1 - session);
        let at = now - SignedDuration::from_hours(24 * i64::try_from(days_ago)?);
        let newest = session + 1 == many.sessions;
        let taught = session == 1 || newest && number.is_multiple_of(10);
        let analysis = seed_session(store, many, id, (session, taught), at, random).await?;
        if taught {
            let full = number < many.full_pages;
            let page = lesson_page(if full { many.page_kb } else { 8 });
            let lesson = store.add_lesson(analysis, &page, at).await?;
            // Of the newest lessons every other one is still to be read, the others to be sent.
            if !newest || number.is_multiple_of(20) {
                store.approve_lesson(lesson, at).await?;
            }
            if !newest {
                agree(store, id, number, at).await?;
                store.mark_lesson_sent(lesson, at).await?;
            }
        }
    }
    let today = now.to_zoned(jiff::tz::TimeZone::UTC).date();
    for note in [
        "The grip is better; the ball starts straighter.",
        "Practises at home, ten minutes.",
    ] {
        store.add_note(id, today, note, now).await?;
    }
    if number.is_multiple_of(50) {
        let planned = Planned {
            player: id,
            starts_at: now + SignedDuration::from_hours(i64::try_from(number % 160)?),
            minutes: 45,
            place: "Mat 2".into(),
            purpose: "Follow-up".into(),
        };
        store.add_appointment(&planned).await?;
    }
    Ok(())
}

async fn agree(store: &Store, id: PlayerId, number: usize, at: Timestamp) -> Result<()> {
    for purpose in Purpose::ALL {
        let consent = NewConsent {
            purpose,
            given_by: name(number),
            by_guardian: false,
            given_on: at.to_zoned(jiff::tz::TimeZone::UTC).date(),
        };
        store.record_consent(id, &consent).await?;
    }
    Ok(())
}

/// The swings of the session of a number, the last of which may wait to be read; gives that one's analysis.
async fn seed_session(
    store: &Store,
    many: &SeedArguments,
    player: PlayerId,
    (session, waits): (usize, bool),
    at: Timestamp,
    random: &mut Random,
) -> Result<AnalysisId> {
    let own = random.normal();
    let mut last = None;
    for number in 0..many.swings {
        let at = at + SignedDuration::from_mins(4 * i64::try_from(number)?);
        let swing = store.add_swing(player, Some(at), at).await?;
        let taught = if session > 1 { 1.5 } else { 0.0 };
        let analysis = analysis(own, taught, random);
        last = Some(store.add_analysis(swing, &analysis, at).await?);
        if session > 1 {
            let mark = SwingMark {
                occasion: Some(Occasion::Retention),
                session_on: None,
            };
            store.mark_swing(swing, mark).await?;
        }
        // Looked at when it was made, but for the one of which there is a lesson.
        if number + 1 < many.swings || !waits {
            store.set_aside(swing, Some(at)).await?;
        }
    }
    last.ok_or_else(|| anyhow::anyhow!("a session needs a swing"))
}

fn name(number: usize) -> String {
    let first = FIRST_NAMES[number % FIRST_NAMES.len()];
    let last = LAST_NAMES[(number / FIRST_NAMES.len() + number) % LAST_NAMES.len()];
    match number / (FIRST_NAMES.len() * LAST_NAMES.len()) {
        0 => format!("{first} {last}"),
        again => format!("{first} {last} {}", again + 1),
    }
}

fn facts(number: usize, random: &mut Random) -> PlayerFacts {
    PlayerFacts {
        name: name(number),
        hand: Some(if number.is_multiple_of(9) {
            Hand::Left
        } else {
            Hand::Right
        }),
        stature_m: Some(1.75 + 0.08 * random.normal().clamp(-2.0, 2.0)),
        age_years: Some(20 + u32::try_from(number % 60).unwrap_or_default()),
        usual_flight: Some(["slice", "hook", "pull", "push", "thin"][number % 5].into()),
        health_note: Some(String::new()),
        ..PlayerFacts::default()
    }
}

/// Text as long as a page with its pictures.
fn lesson_page(kb: usize) -> Vec<u8> {
    let mut page =
        String::from("<!doctype html><html lang=\"en\"><title>An invented lesson</title><main>");
    while page.len() < kb * 1000 {
        page += "<p>Move the lower body toward the target first; ten swings, then look at the number.</p>";
    }
    page += "</main></html>";
    page.into_bytes()
}

fn analysis(own: f64, taught: f64, random: &mut Random) -> SwingAnalysis {
    let measures: Vec<Measure> = NUMBERS
        .map(|(name, moment, against, usual, sd)| {
            let value = usual + sd * (own + random.normal()) + taught * sd;
            Measure {
                name,
                moment,
                against,
                view: Some(View::FaceOn),
                value: Some(value),
                unit: name.unit(),
                low: Some(value - 2.0 * sd),
                high: Some(value + 2.0 * sd),
                state: MeasureState::Measured,
                reason: String::new(),
            }
        })
        .into();
    let (name, moment, against, ..) = NUMBERS[0];
    let finding = Finding {
        key: "pelvis_stays_back".into(),
        says: "The lower body starts late toward the target.".into(),
        measure: name,
        moment,
        against,
        value: measures[0].value.unwrap_or_default(),
        reference_low: 5.0,
        reference_high: 10.7,
        reference_source: "invented".into(),
        strength: 1.0,
    };
    SwingAnalysis {
        schema_version: SCHEMA_VERSION,
        program_version: "seed".into(),
        corrections: Default::default(),
        teaching: Default::default(),
        views: vec![],
        moments: vec![],
        measures,
        findings: vec![finding],
        priority: Some(Priority {
            finding: "pelvis_stays_back".into(),
            title: "Move the lower body toward the target first".into(),
            chain: vec![],
            grade: CauseGrade::D,
            would_change_it: String::new(),
        }),
        ranking: Ranking::default(),
        drills: vec![],
        prescription: Some(Prescription {
            drill: "bump_the_stick".into(),
            cue: String::new(),
            dose: String::new(),
            measure: Some(name),
            moment,
            against,
            reach: Some(6.0),
            check: String::new(),
            cautions: vec![],
        }),
        notice: None,
    }
}

/// Numbers by chance: splitmix64 (Steele, Lea & Flood 2014, OOPSLA; constants from memory).
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// About normal, SD 1: the sum of twelve even ones (Irwin–Hall).
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.next()).sum::<f64>() - 6.0
    }
}
