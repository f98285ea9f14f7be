//! Asking before a prescription, practice and references in the studio, over a real connection: plain forms, no scripts.

use crate::client::Served;
use crate::sample;
use jiff::SignedDuration;
use lessonwright_model::{BodyArea, Pain, PlayerFacts, ReferenceChoice, Screening, Sex};
use lessonwright_store::{LessonId, LessonState, PlayerId, SwingId};

/// All questions answered: nothing to tell.
const NOTHING: &str =
    "pain=no&warning_signs=no&injury=no&surgery=no&balance_medicine=no&condition=no";

const PRACTICE: &str = "from=2026-11-26&next_lesson=2026-12-17&day1=yes&day3=yes&day6=yes&minutes=25&place=range\
                        &season=between&at=17%3A30";

#[tokio::test]
async fn every_question_is_asked_and_every_answer_is_kept() {
    let studio = Served::start().await;
    let page = studio.get("/players/1/settings").await;
    for text in [
        "Does anything hurt",
        "Pain that spreads, numbness",
        "An injury that has not healed?",
        "Surgery?",
        "affects balance?",
        "brittle bones, pregnancy",
        "Asked on 26 September 2026. Told:</strong> nothing.",
        "ask again after 90 days",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
    // Nothing is answered beforehand.
    let asked = between(&page.body, "class=\"asked\"", "</section>");
    assert!(
        !asked.contains("checked") && !asked.contains("selected"),
        "{asked}"
    );
    let told = "pain=yes&area1=low_back&strength1=3&area2=knee&strength2=2&warning_signs=no&injury=no&surgery=yes\
                &surgery_months=20&balance_medicine=yes&condition=no&other=&age=34";
    let answer = studio.post("/players/1/settings/asked", told).await;
    assert_eq!(
        (answer.status, answer.location()),
        (303, "/players/1/settings?saved=asked#asked")
    );
    let kept = studio.facts(1).await.screening.unwrap();
    assert_eq!(kept.asked_at, sample::now());
    assert_eq!(kept.pains.len(), 2);
    assert_eq!(kept.surgery_months_ago, Some(20));
    assert!(kept.balance_medicine && !kept.condition && !kept.warning_signs);
    let page = studio.get("/players/1/settings?saved=asked").await;
    for text in [
        "Light pain (1 to 3 of 10)",
        "Medicine that affects balance",
        "pain: lower back, 3 of 10",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
}

#[tokio::test]
async fn answers_that_are_missing_or_contradict_one_another_are_not_kept() {
    let studio = Served::start().await;
    let before = studio.facts(1).await;
    for (form, says) in [
        ("", "Pain: please answer"),
        (
            &NOTHING.replace("pain=no", "pain=yes"),
            "say where and how much",
        ),
        (
            &format!("{NOTHING}&area1=knee&strength1=4"),
            "or that there is none",
        ),
        (
            &NOTHING.replace("pain=no", "pain=yes&area1=knee"),
            "neither",
        ),
        (
            &NOTHING.replace("pain=no", "pain=yes&area1=knee&strength1=11"),
            "from 0 to 10",
        ),
        (
            &NOTHING.replace("surgery=no", "surgery=yes"),
            "how many months ago",
        ),
        (&NOTHING.replace("injury=no&", ""), "Injury: please answer"),
        (&format!("{NOTHING}&age=two"), "no whole number"),
        (&format!("{NOTHING}&age=140"), "140"),
        (&format!("{NOTHING}&cleared_by=Dr.+Roe"), "On which day"),
        (&format!("{NOTHING}&cleared_on=2026-11-02"), "Who agreed"),
        (
            &format!("{NOTHING}&cleared_by=Dr.+Roe&cleared_on=2027-11-02"),
            "future",
        ),
    ] {
        let answer = studio.post("/players/1/settings/asked", form).await;
        assert_eq!(answer.status, 422, "{form}");
        assert!(answer.body.contains(says), "{says}: {}", answer.body);
    }
    assert_eq!(studio.facts(1).await, before);
}

#[tokio::test]
async fn a_lesson_is_approved_only_for_a_player_who_may_practise() {
    let studio = Served::start().await;
    let pain = |strength| Screening {
        pains: vec![Pain {
            area: BodyArea::LowBack,
            strength,
        }],
        ..Screening::nothing(sample::now() - SignedDuration::from_hours(24 * 60))
    };
    let old = Screening::nothing(sample::now() - SignedDuration::from_hours(24 * 91));
    let newer = Screening::nothing(sample::now());
    for (answers, age, says) in [
        (None, Some(34), "have not been asked for"),
        (Some(old), Some(34), "91 days old"),
        (Some(pain(4)), Some(34), "physician or physiotherapist"),
        (Some(pain(0)), None, "age is not on record"),
        (Some(newer), Some(34), "newer than this lesson"),
    ] {
        studio.answered(1, answers, age).await;
        let answer = studio.post("/lessons/2/approve", "").await;
        assert_eq!(answer.status, 409, "{says}");
        assert!(answer.body.contains(says), "{says}: {}", answer.body);
        assert!(answer.body.contains("href=\"/players/1/settings#asked\""));
        assert!(answer.body.contains("action=\"/swings/2/again\""));
        assert_eq!(studio.lesson(2).await, LessonState::Drafted, "{says}");
    }
    studio.answered(1, Some(pain(0)), Some(34)).await;
    assert_eq!(studio.post("/lessons/2/approve", "").await.status, 303);
    assert_eq!(studio.lesson(2).await, LessonState::Approved);
}

#[tokio::test]
async fn a_lesson_without_an_exercise_may_go_out_to_anybody_of_age() {
    let studio = Served::start().await;
    studio.answered(1, None, Some(34)).await;
    // Swing 1 came to nothing: its lesson prescribes nothing.
    assert_eq!(studio.post("/lessons/1/approve", "").await.status, 303);
    studio.answered(1, None, Some(17)).await;
    let minor = studio.post("/lessons/2/approve", "").await;
    assert_eq!(minor.status, 409);
    assert!(minor.body.contains("guardian"), "{}", minor.body);
    let answer = studio
        .post("/players/1/settings/guardian", "guardian=Hanne+Wren")
        .await;
    assert_eq!(answer.status, 303);
    assert!(
        studio
            .get("/players/1/settings")
            .await
            .body
            .contains("Hanne Wren, 25 November 2026")
    );
    let minor = studio.post("/lessons/2/approve", "").await;
    assert!(
        minor.body.contains("have not been asked for"),
        "{}",
        minor.body
    );
}

#[tokio::test]
async fn a_lesson_whose_exercise_was_withheld_is_drafted_again_once_that_is_over() {
    let studio = Served::start().await;
    let latest = studio.store.latest_analysis(SwingId(2)).await.unwrap();
    let mut analysis = latest.unwrap().analysis;
    analysis.prescription = None;
    analysis.drills.clear();
    let drafted = sample::now() - SignedDuration::from_hours(1);
    let id = studio
        .store
        .add_analysis(SwingId(2), &analysis, drafted)
        .await
        .unwrap();
    let lesson = studio.store.add_lesson(id, b"page", drafted).await.unwrap();
    let approve = format!("/lessons/{lesson}/approve");
    studio
        .answered(1, Some(Screening::nothing(sample::now())), Some(34))
        .await;
    let refused = studio.post(&approve, "").await;
    assert!(
        refused.body.contains("newer than this lesson"),
        "{}",
        refused.body
    );
    // As long as the answers withhold it, it goes out as it is: without an exercise.
    let injured = Screening {
        injury: true,
        ..Screening::nothing(drafted - SignedDuration::from_hours(1))
    };
    studio.answered(1, Some(injured), Some(34)).await;
    assert_eq!(studio.post(&approve, "").await.status, 303);
}

#[tokio::test]
async fn limits_goals_sex_and_age_are_set_in_the_studio() {
    let studio = Served::start().await;
    let page = studio.get("/players/1/settings").await;
    assert!(
        page.body
            .contains("name=\"limit_balance\" value=\"yes\" checked=\"\"")
    );
    assert!(page.body.contains("name=\"goal_distance\" value=\"yes\"/>"));
    let form = "age=35&sex=female&goal_distance=yes&limit_nothing=yes";
    assert_eq!(
        studio.post("/players/1/settings/body", form).await.status,
        303
    );
    let facts = studio.facts(1).await;
    assert_eq!((facts.age_years, facts.sex), (Some(35), Some(Sex::Female)));
    assert_eq!(
        (facts.limits.len(), facts.goals),
        (0, vec!["distance".to_string()])
    );
    assert!(facts.screening.is_some(), "the answers stay");
}

#[tokio::test]
async fn a_plan_has_a_page_a_card_and_a_calendar() {
    let studio = Served::start().await;
    let none = studio.get("/players/1/practice").await;
    assert_eq!(none.status, 409);
    assert!(none.body.contains("has not been said yet"));
    let answer = studio.post("/players/1/settings/practice", PRACTICE).await;
    assert_eq!(
        (answer.status, answer.location()),
        (303, "/players/1/practice")
    );
    let gone = studio.get("/players/1/practice").await;
    // The sample's drill is of no book.
    assert!(gone.body.contains("drill book"), "{}", gone.body);
    for (path, kind) in [("card", "text/html"), ("calendar.ics", "text/html")] {
        let refused = studio.get(&format!("/players/1/practice/{path}")).await;
        assert_eq!(refused.status, 409);
        assert!(refused.header("content-type").starts_with(kind));
    }
    studio.prescribe(SwingId(2), "hum_to_the_top").await;
    let page = studio.get("/players/1/practice").await;
    assert_eq!(page.status, 200, "{}", page.body);
    for text in [
        "until the lesson of 17 December 2026",
        "on the range",
        "Sat 28 Nov",
        "/practice/card",
        "calendar.ics",
    ] {
        assert!(page.body.contains(text), "{text}: {}", page.body);
    }
    let card = studio.get("/players/1/practice/card").await;
    assert!(card.body.contains("Harrow Lane Golf Studio") && card.body.contains("class=\"box\""));
    assert!(
        card.header("content-security-policy")
            .contains("default-src 'none'")
    );
    let file = studio.get("/players/1/practice/calendar.ics").await;
    assert!(file.header("content-type").starts_with("text/calendar"));
    assert!(file.header("content-disposition").contains("practice.ics"));
    assert!(file.body.contains("DTSTAMP:20261126T000000Z") && file.body.contains("T173000"));
    assert!(!file.body.contains("Tobias"), "no name is in the file");
    // Told since: no plan any more.
    let warned = Screening {
        warning_signs: true,
        ..Screening::nothing(sample::now())
    };
    studio.answered(1, Some(warned), Some(34)).await;
    let refused = studio.get("/players/1/practice/calendar.ics").await;
    assert_eq!(refused.status, 409);
    assert!(refused.body.contains("See a physician"), "{}", refused.body);
}

#[tokio::test]
async fn practice_that_cannot_be_is_not_kept() {
    let studio = Served::start().await;
    for (from, to, says) in [
        (
            "next_lesson=2026-12-17",
            "next_lesson=2026-11-26",
            "after the first day",
        ),
        ("day1=yes&day3=yes&day6=yes", "", "at least one day"),
        ("minutes=25", "minutes=", "How many minutes"),
        ("place=range", "place=moon", "Where?"),
        ("at=17%3A30", "at=noon", "no time of day"),
        ("from=2026-11-26", "from=tomorrow", "First day"),
    ] {
        let answer = studio
            .post("/players/1/settings/practice", &PRACTICE.replace(from, to))
            .await;
        assert_eq!(answer.status, 422, "{to}");
        assert!(answer.body.contains(says), "{says}: {}", answer.body);
    }
    assert_eq!(
        studio
            .store
            .player(PlayerId(1))
            .await
            .unwrap()
            .unwrap()
            .practice,
        None
    );
}

#[tokio::test]
async fn what_a_player_is_held_against_is_chosen_and_models_are_marked() {
    let studio = Served::start().await;
    let chosen = || async {
        studio
            .store
            .player(PlayerId(1))
            .await
            .unwrap()
            .unwrap()
            .reference
    };
    for (form, expected) in [
        ("against=models", ReferenceChoice::Models),
        ("against=own_swing&swing=1", ReferenceChoice::OwnSwing(1)),
        ("against=own_address&swing=1", ReferenceChoice::OwnAddress),
    ] {
        assert_eq!(
            studio.post("/players/1/settings/held", form).await.status,
            303
        );
        assert_eq!(chosen().await, expected);
    }
    // Another player's swing, none at all, and nothing chosen.
    for form in ["against=own_swing&swing=3", "against=own_swing", ""] {
        assert_eq!(
            studio.post("/players/1/settings/held", form).await.status,
            422,
            "{form}"
        );
    }
    assert_eq!(chosen().await, ReferenceChoice::OwnAddress);
    let refused = studio
        .post("/players/1/settings/swings/2", "club=&model=yes")
        .await;
    assert!(refused.status == 422 && refused.body.contains("With which club"));
    let form = "club=mid_iron&model=yes";
    assert_eq!(
        studio
            .post("/players/1/settings/swings/2", form)
            .await
            .status,
        303
    );
    assert_eq!(studio.store.model_swings().await.unwrap().len(), 1);
    let page = studio.get("/players/1/settings").await;
    assert!(
        page.body.contains("There is 1 model swing"),
        "{}",
        page.body
    );
    assert_eq!(
        studio
            .post("/players/1/settings/swings/3", form)
            .await
            .status,
        404
    );
    assert_eq!(
        studio
            .post("/players/1/settings/swings/2", "club=driver")
            .await
            .status,
        303
    );
    assert!(studio.store.model_swings().await.unwrap().is_empty());
}

#[tokio::test]
async fn names_are_escaped_and_forms_of_other_sites_refused() {
    let studio = Served::start().await;
    let page = studio.get("/players/4/settings").await;
    assert!(
        page.body
            .contains("Quill &#38; Daughters &#60;&#34;guest&#34;&#62;")
    );
    assert_eq!(unlabelled(&page.body), Vec::<String>::new());
    let answer = studio
        .ask(
            "POST /players/1/settings/asked",
            &[("Origin", "http://elsewhere.example")],
            NOTHING,
        )
        .await;
    assert_eq!(answer.status, 403);
}

/// Fields of a page that stand in no label.
fn unlabelled(html: &str) -> Vec<String> {
    let mut wrong = Vec::new();
    for name in ["<input ", "<select "] {
        for (at, _) in html.match_indices(name) {
            let before = &html[..at];
            let open = before.matches("<label").count() > before.matches("</label>").count();
            if !open {
                wrong.push(html[at..].chars().take(60).collect());
            }
        }
    }
    wrong
}

impl Served {
    async fn facts(&self, id: i64) -> PlayerFacts {
        self.store
            .player(PlayerId(id))
            .await
            .unwrap()
            .unwrap()
            .facts
    }

    async fn answered(&self, id: i64, answers: Option<Screening>, age_years: Option<u32>) {
        let pains = |mut answers: Screening| {
            answers.pains.retain(|pain| pain.strength > 0);
            answers
        };
        let facts = PlayerFacts {
            screening: answers.map(pains),
            age_years,
            ..self.facts(id).await
        };
        self.store
            .update_player(PlayerId(id), &facts)
            .await
            .unwrap();
    }

    async fn lesson(&self, id: i64) -> LessonState {
        self.store
            .lesson_summary(LessonId(id))
            .await
            .unwrap()
            .unwrap()
            .state()
    }

    /// Another analysis of a swing, which prescribes this drill.
    async fn prescribe(&self, swing: SwingId, drill: &str) {
        let mut analysis = self
            .store
            .latest_analysis(swing)
            .await
            .unwrap()
            .unwrap()
            .analysis;
        analysis.prescription.as_mut().unwrap().drill = drill.into();
        analysis.drills[0].key = drill.into();
        self.store
            .add_analysis(swing, &analysis, sample::now())
            .await
            .unwrap();
    }
}

fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    let rest = &text[text.find(from).unwrap()..];
    &rest[..rest.find(to).unwrap()]
}
