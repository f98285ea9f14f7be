//! The follow-up's pages over an invented studio of twelve players and five months.

use crate::client::{Answer, Served};
use crate::months;
use crate::sample;
use lessonwright_model::Occasion;
use lessonwright_store::{PlayerId, SwingId};

async fn empty() -> Served {
    Served::empty(sample::state()).await
}

async fn after_months() -> Served {
    let studio = empty().await;
    months::fill_months(&studio.store, sample::now()).await;
    studio
}

/// The text from one mark to another.
fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    let start = text.find(from).unwrap_or_else(|| panic!("no {from}"));
    let rest = &text[start..];
    &rest[..rest.find(to).unwrap_or(rest.len())]
}

#[tokio::test]
async fn the_roster_says_who_is_due_who_is_stuck_and_what_moved() {
    let studio = after_months().await;
    let Answer {
        status, body: page, ..
    } = studio.get("/progress").await;
    assert_eq!(status, 200);
    let due = between(&page, "id=\"due\"", "</section>");
    for name in [
        "Bram Tallis",
        "Cosima Reyne",
        "Dario Fenn",
        "Greta Lindqvist",
    ] {
        assert!(due.contains(name), "{name}");
    }
    assert!(!due.contains("Felix Oduya") && !due.contains("Ines Barrow"));
    // The longest due first.
    assert!(due.find("Greta") < due.find("Cosima"));
    let stuck = between(&page, "id=\"stuck\"", "</section>");
    // Nothing moved in weeks; the wrong way; but not who is early or whose number moves.
    assert!(stuck.contains("Bram Tallis") && stuck.contains("Not yet"));
    assert!(stuck.contains("Cosima Reyne") && stuck.contains("Away"));
    assert!(!stuck.contains("Dario Fenn") && !stuck.contains("Felix Oduya"));
    let common = between(&page, "id=\"common\"", "</section>");
    assert!(common.contains("of 12</strong>: pelvis shift"), "{common}");
    let drills = between(&page, "id=\"drills\"", "</section>");
    for text in [
        "no proof",
        "Bump the stick",
        "(5 players)",
        "n = 5, 1 during practice only",
        "too few for an interval",
        "By chance alone",
    ] {
        assert!(drills.contains(text), "{text}");
    }
    let repeats = between(&page, "id=\"repeats\"", "</section>");
    assert!(repeats.contains("12 players"), "{repeats}");
    // Which the ± of the sample would give: 1.7 / 1.96.
    assert!(repeats.contains("<td>0.9 cm</td>"), "{repeats}");
}

/// Of a large roster the page is made in a task of its own, which knows the language all the same.
#[tokio::test]
async fn a_player_page_of_a_large_roster_is_made_beside_the_request() {
    let studio = after_months().await;
    let first = studio.store.player(PlayerId(1)).await.unwrap().unwrap();
    for number in 0..100 {
        let mut facts = first.facts.clone();
        facts.name = format!("Player {number}");
        studio
            .store
            .add_player(&facts, sample::now())
            .await
            .unwrap();
    }
    loop {
        let Answer {
            status, body: page, ..
        } = studio.get("/players/1/progress").await;
        assert_eq!(status, 200, "{page}");
        // Until then it says that it is being worked out.
        if page.contains("Is it working?") {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
}

#[tokio::test]
async fn a_player_page_says_whether_it_works_with_practice_apart() {
    let studio = after_months().await;
    let Answer {
        status, body: page, ..
    } = studio.get("/players/1/progress").await;
    assert_eq!(status, 200);
    for text in [
        "Is it working?",
        "Bump the stick, since 22 August 2026",
        "Real",
        "Proposal: go one step further.",
        "It shows in another task as well",
        "during practice",
        "retention",
        "transfer",
        "17 swings in 4 sessions",
        "Up is toward the target, down is away from the target.",
        "As a table",
        "17 November 2026",
    ] {
        assert!(page.contains(text), "{text}");
    }
    let trends = between(&page, "id=\"trends\"", "</section>");
    assert_eq!(trends.matches("<svg class=\"trend\"").count(), 3);
    let first = between(trends, "<svg class=\"trend\"", "</figure>");
    assert_eq!(first.matches("class=\"whisker\"").count(), 8);
    assert_eq!(first.matches("class=\"goal\"").count(), 1);
    assert_eq!(first.matches("class=\"lesson-day\"").count(), 1);
    // Four shapes, told apart without colour.
    for path in [
        "M0-8 8 0 0 8-8 0Z",
        "M-6-6H6V6H-6Z",
        "M-7 0a7",
        "M0-8 8 6H-8Z",
    ] {
        assert!(first.contains(path), "{path}");
    }
}

#[tokio::test]
async fn a_left_hander_stuck_is_told_to_change() {
    let studio = after_months().await;
    let page = studio.get("/players/2/progress").await.body;
    let now = between(&page, "id=\"now\"", "</section>");
    assert!(now.contains("Not yet") && now.contains("change the cue or the drill"));
    // With the cue it was there.
    let practice = between(now, "during practice</span>", "</tr>");
    assert!(practice.contains("Real"), "{practice}");
}

#[tokio::test]
async fn one_swing_no_prescription_hidden_numbers_and_no_date_are_no_trouble() {
    let studio = after_months().await;
    let Answer {
        status,
        body: one_swing,
        ..
    } = studio.get("/players/11/progress").await;
    assert_eq!(status, 200);
    assert!(one_swing.contains("Nothing prescribed with a number to reach"));
    assert_eq!(one_swing.matches("<svg class=\"trend\"").count(), 3);
    let page = studio.get("/players/12/progress").await.body;
    for text in [
        "1 swing has no such number and is left out.",
        "1 swing does not say when it was filmed",
        "nobody said when it was filmed",
    ] {
        assert!(page.contains(text), "{text}");
    }
    assert_eq!(studio.get("/players/99/progress").await.status, 404);
    assert_eq!(studio.get("/players/x/progress").await.status, 404);
}

#[tokio::test]
async fn another_number_is_drawn_when_asked_for() {
    let studio = after_months().await;
    let page = studio.get("/players/1/progress").await.body;
    let option = between(&page, "<option value=\"head-shift", "</option>");
    let key = between(option, "head-shift", "\"");
    let page = studio
        .get(&format!("/players/1/progress?show={key}"))
        .await
        .body;
    assert_eq!(page.matches("<svg class=\"trend\"").count(), 4);
    assert!(page.find("Head shift") < page.find("Trail elbow"));
}

#[tokio::test]
async fn swings_are_marked_and_moved_to_another_day_on_the_page() {
    let studio = after_months().await;
    // Dario's practice session: the mark is changed to retention.
    let swings = studio.store.swings_of(PlayerId(4)).await.unwrap();
    let keys: Vec<String> = swings[..3].iter().map(|s| s.id.to_string()).collect();
    let form = format!("swings={}&occasion=retention&session_on=", keys.join("+"));
    let answer = studio.post("/progress/mark", &form).await;
    assert_eq!(
        (answer.status, answer.location()),
        (303, "/players/4/progress#sessions")
    );
    let mark = studio.store.swing_mark(swings[0].id).await.unwrap();
    assert_eq!(mark.occasion, Some(Occasion::Retention));
    let page = studio.get("/players/4/progress").await.body;
    assert!(between(&page, "id=\"now\"", "</section>").contains("retention"));
    let form = format!("swings={}&occasion=&session_on=2026-11-20", keys[0]);
    assert_eq!(studio.post("/progress/mark", &form).await.status, 303);
    let page = studio.get("/players/4/progress").await.body;
    assert!(page.contains("<h3>20 November 2026</h3>"));
    for form in [
        "swings=&occasion=practice",
        "swings=9999&occasion=practice",
        "swings=1&occasion=sleep",
        "swings=1&session_on=yesterday",
        "occasion=practice",
    ] {
        assert_eq!(
            studio.post("/progress/mark", form).await.status,
            404,
            "{form}"
        );
    }
    let untouched = studio.store.swing_mark(SwingId(1)).await.unwrap();
    assert_eq!(untouched, Default::default());
}

#[tokio::test]
async fn days_to_the_next_lesson_are_set_and_a_prescription_is_ended() {
    let studio = after_months().await;
    let page = studio.get("/players/6/progress").await.body;
    assert!(page.contains("The next lesson is due on 27 November 2026 (in 2 days)."));
    let address = between(&page, "/prescriptions/", "\"").to_owned();
    assert_eq!(studio.post(&address, "next_in_days=5").await.status, 303);
    let page = studio.get("/players/6/progress").await.body;
    assert!(page.contains("due since 18 November 2026 (7 days)"));
    assert_eq!(studio.post(&address, "next_in_days=").await.status, 303);
    assert_eq!(studio.post(&address, "what=end").await.status, 303);
    let page = studio.get("/players/6/progress").await.body;
    assert!(page.contains("Ended on 25 November 2026") && !page.contains("The next lesson is"));
    assert_eq!(studio.post(&address, "what=go+on").await.status, 303);
    let page = studio.get("/players/6/progress").await.body;
    assert!(page.contains("due on 27 November 2026"));
    for (address, form) in [
        (address.as_str(), "next_in_days=0"),
        (address.as_str(), "next_in_days=soon"),
        ("/prescriptions/999", "what=end"),
        ("/prescriptions/x", "what=end"),
    ] {
        assert_eq!(
            studio.post(address, form).await.status,
            404,
            "{address} {form}"
        );
    }
}

#[tokio::test]
async fn an_empty_studio_has_nothing_to_follow() {
    let studio = empty().await;
    let Answer {
        status, body: page, ..
    } = studio.get("/progress").await;
    assert_eq!(status, 200);
    assert!(page.contains("No players yet"));
}

#[tokio::test]
async fn roster_and_player_lead_to_the_follow_up() {
    let studio = after_months().await;
    assert!(studio.get("/").await.body.contains("href=\"/progress\""));
    let player = studio.get("/players/3").await.body;
    assert!(player.contains("href=\"/players/3/progress\""));
    assert_eq!(studio.get("/follow.css").await.status, 200);
}
