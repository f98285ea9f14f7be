//! The page with which an export begins: what is known of each player in words, and where each file is.

use anyhow::Result;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use lessonwright_exchange::{Index, IndexPlayer, IndexSwing, index_page};
use lessonwright_store::{Player, Store, Swing, TakenIn};
use std::fs;
use std::path::Path;

pub async fn page(store: &Store, players: &[Player], out: &Path) -> Result<String> {
    let mut index = Index {
        written_on: day(Timestamp::now()),
        ..Index::default()
    };
    for player in players {
        let mut swings = Vec::new();
        for swing in store.swings_of(player.id).await?.iter().rev() {
            swings.push(of_swing(store, swing, out).await?);
        }
        let bundles = store.taken_in_of(player.id).await?;
        index.players.push(IndexPlayer {
            name: player.facts.name.clone(),
            facts: facts(player, &bundles),
            swings,
        });
    }
    Ok(index_page(&index)?)
}

fn facts(player: &Player, bundles: &[TakenIn]) -> Vec<(String, String)> {
    let known = &player.facts;
    let listed = |keys: &[String]| (!keys.is_empty()).then(|| keys.join(", ").replace('_', " "));
    let mut all = vec![
        ("On the roster since", Some(day(player.added_at))),
        ("Plays", known.hand.map(|hand| hand.to_string())),
        (
            "Stature",
            known.stature_m.map(|m| format!("{:.0} cm", 100.0 * m)),
        ),
        ("Age", known.age_years.map(|years| years.to_string())),
        ("Sex", known.sex.map(|sex| sex.key().to_owned())),
        ("Usual ball flight", known.usual_flight.clone()),
        (
            "Health, as noted",
            known.health_note.clone().filter(|note| !note.is_empty()),
        ),
        ("What the body does not do well", listed(&known.limits)),
        ("What is wanted most", listed(&known.goals)),
    ];
    if let Some(asked) = &known.screening {
        all.push(("Asked about pain and health on", Some(day(asked.asked_at))));
        let pains: Vec<String> = asked
            .pains
            .iter()
            .map(|pain| format!("{} {} of 10", pain.area.plain(), pain.strength))
            .collect();
        let told = [
            (asked.warning_signs, "warning signs"),
            (asked.injury, "an injury that has not healed"),
            (asked.surgery_months_ago.is_some(), "surgery"),
            (asked.balance_medicine, "medicine that affects balance"),
            (asked.condition, "a condition"),
        ];
        let told = told
            .iter()
            .filter(|(told, _)| *told)
            .map(|(_, what)| (*what).to_owned());
        let all_told: Vec<String> = pains
            .into_iter()
            .chain(told)
            .chain((!asked.other.is_empty()).then(|| asked.other.clone()))
            .collect();
        all.push((
            "Told then",
            Some(if all_told.is_empty() {
                "nothing".into()
            } else {
                all_told.join("; ")
            }),
        ));
    }
    if let Some(consent) = &player.guardian_consent {
        all.push((
            "Guardian's consent",
            Some(format!("{}, {}", consent.guardian, day(consent.given_at))),
        ));
    }
    if let Some(practice) = &player.practice {
        all.push((
            "Practice",
            Some(format!(
                "{} minutes a session, from {} to {}",
                practice.minutes, practice.from, practice.next_lesson
            )),
        ));
    }
    if !bundles.is_empty() {
        let days: Vec<String> = bundles.iter().map(|bundle| day(bundle.taken_at)).collect();
        all.push(("Sent films and answers, taken in on", Some(days.join(", "))));
    }
    all.into_iter()
        .filter_map(|(what, says)| Some((what.to_owned(), says?)))
        .collect()
}

async fn of_swing(store: &Store, swing: &Swing, out: &Path) -> Result<IndexSwing> {
    let analysis = store.latest_analysis(swing.id).await?;
    let upshot = match &analysis {
        None => "Filmed, not analysed.".to_owned(),
        Some(stored) => match &stored.analysis.priority {
            Some(priority) => format!("To work on: {}.", priority.title),
            None => "Nothing to change.".to_owned(),
        },
    };
    let mut files = Vec::new();
    for lesson in store.lessons_of_swing(swing.id).await?.iter().rev() {
        let path = format!("lessons/lesson-{}.html", lesson.id);
        files.push((path, format!("Lesson of {}", day(lesson.drafted_at))));
    }
    let folder = format!("swings/{}", swing.id);
    let mut names: Vec<String> = fs::read_dir(out.join(&folder))
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .collect();
    names.sort();
    for name in names {
        let what = what_is(&name);
        files.push((format!("{folder}/{name}"), what.to_owned()));
    }
    Ok(IndexSwing {
        title: format!(
            "Swing {}, {}",
            swing.id,
            day(swing.filmed_at.unwrap_or(swing.added_at))
        ),
        upshot,
        files,
    })
}

fn what_is(name: &str) -> &'static str {
    match name.rsplit_once('.').unwrap_or((name, "")) {
        ("analysis", _) => "All that was measured (JSON)",
        ("face_on", _) => "Clip, face-on, as it came",
        ("down_the_line", _) => "Clip, down the line, as it came",
        (body, "c3d") if body.starts_with("body") => "The body's motion (C3D)",
        (body, "bvh") if body.starts_with("body") => "The body's motion (BVH)",
        (lesson, "pdf") if lesson.starts_with("lesson") => "Lesson on paper (PDF)",
        (lesson, "mp4") if lesson.starts_with("lesson") => "Film of the swing, slowed down",
        _ => "Another file of this swing",
    }
}

fn day(at: Timestamp) -> String {
    at.to_zoned(TimeZone::system())
        .strftime("%-d %B %Y")
        .to_string()
}
