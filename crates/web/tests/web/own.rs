//! What is set for the studio, over a real connection: targets, causes, drills, model swings, units. The sample checks and
//! keeps changes in memory; what the files do is tested where they are written (`crates/cli/src/trade`).

use crate::client;
use crate::client::Served;
use crate::sample;
use crate::sample::own::SampleOwn;
use lessonwright_coaching::{DrillBook, LinkKey, LinkWeight};
use lessonwright_model::Units;
use lessonwright_store::{PlayerId, SwingId};
use lessonwright_web::AppState;
use lessonwright_web::own::OwnChange;
use sqlx::{Connection, SqliteConnection};
use std::sync::Arc;

async fn studio() -> (Served, SampleOwn) {
    let own = SampleOwn::default();
    let state = AppState {
        own: Arc::new(own.clone()),
        ..sample::state()
    };
    (Served::with(state).await, own)
}

const KNEE_LINE: &str = "knee+line+turn%7Clead+arm+level%2C+coming+down%7Caddress";

#[tokio::test]
async fn every_target_is_shown_with_its_source_and_its_doubt() {
    let (studio, _) = studio().await;
    let page = studio.get("/studio/targets").await;
    assert_eq!(page.status, 200);
    let targets = lessonwright_coaching::Targets::standard();
    assert_eq!(
        page.body.matches("Where it comes from:").count(),
        targets.iter().count()
    );
    for text in [
        "Cole &#38; Grimshaw 2016",
        "agreement among teachers",
        "the player's own address",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
}

#[tokio::test]
async fn a_band_is_looked_at_before_it_is_kept() {
    let (studio, own) = studio().await;
    let form = |low: &str, what: &str| {
        format!("target={KNEE_LINE}&low={low}&high=14&reason=My+mat&do={what}")
    };
    let looked = studio.post("/studio/targets", &form("-8,5", "look")).await;
    assert_eq!(looked.status, 200, "{}", looked.body);
    for text in [
        "1 of the last 5 swings",
        "Tobias Wren, swing 2",
        "nothing stands out",
        "Keep this band",
        "value=\"-8,5\"",
    ] {
        assert!(looked.body.contains(text), "{text}");
    }
    assert!(own.made.lock().unwrap().is_empty());
    let kept = studio.post("/studio/targets", &form("-8,5", "keep")).await;
    assert_eq!(
        (kept.status, kept.header("location")),
        (303, "/studio/targets?kept=target#kept")
    );
    let made = own.made.lock().unwrap().clone();
    assert!(
        matches!(&made[..], [OwnChange::Target { low, high, reason, .. }] if (*low, *high, reason.as_str()) == (-8.5, 14.0, "My mat")),
        "{made:?}"
    );
    let said = studio.get("/studio/targets?kept=target").await;
    // One lesson of the sample is drafted and waits.
    assert!(
        said.body.contains("from the next analysis on")
            && said.body.contains("again by what is set now")
    );
}

#[tokio::test]
async fn what_is_refused_stays_in_its_form() {
    let (studio, own) = studio().await;
    for (form, why) in [
        ("low=20&high=14&reason=My+mat", "swap or change"),
        ("low=two&high=14&reason=My+mat", "is no number"),
        ("low=2&high=14&reason=+", "Say why"),
    ] {
        let form = format!("target={KNEE_LINE}&{form}&do=keep");
        let page = studio.post("/studio/targets", &form).await;
        assert_eq!(page.status, 422, "{why}");
        assert!(
            page.body.contains("Not kept.") && page.body.contains(why),
            "{why}: {}",
            page.body
        );
        assert!(
            page.body
                .contains("name=\"high\" inputmode=\"decimal\" value=\"14\""),
            "{why}"
        );
    }
    assert!(own.made.lock().unwrap().is_empty());
    let unknown = studio
        .post("/studio/targets", "target=nothing&low=1&high=2&reason=x")
        .await;
    assert_eq!(unknown.status, 404);
}

#[tokio::test]
async fn a_link_is_weighed_with_a_reason() {
    let (studio, own) = studio().await;
    let page = studio.get("/studio/causes").await;
    for text in [
        "grade D",
        "agreement among teachers, no controlled evidence",
        "Edition: standard",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
    let link = "link=ball_forward%3Epath_out_to_in";
    let none = studio
        .post(
            "/studio/causes",
            &format!("{link}&weight=off&reason=&do=keep"),
        )
        .await;
    assert_eq!(none.status, 422);
    assert!(none.body.contains("Say why"));
    let form = format!("{link}&weight=off&reason=Not+here&do=");
    let looked = studio
        .post("/studio/causes", &(form.clone() + "look"))
        .await;
    assert!(
        looked.body.contains("Nothing is saved yet") && looked.body.contains("value=\"Not here\"")
    );
    let kept = studio.post("/studio/causes", &(form + "keep")).await;
    assert_eq!(kept.status, 303);
    let expected = OwnChange::Link {
        link: LinkKey::Club {
            body: "ball_forward".into(),
            club: "path_out_to_in".into(),
        },
        weight: LinkWeight::Off,
        reason: "Not here".into(),
    };
    assert_eq!(*own.made.lock().unwrap(), [expected]);
    assert_eq!(
        studio
            .post("/studio/causes", "link=a%3Eb&weight=off&reason=x")
            .await
            .status,
        404
    );
}

/// A form as a browser sends one with files in it.
async fn multipart(
    studio: &Served,
    path: &str,
    parts: &[(&str, Option<&str>, &str)],
) -> client::Answer {
    let mut body = String::new();
    for (name, file, text) in parts {
        let file = file
            .map(|file| format!("; filename=\"{file}\""))
            .unwrap_or_default();
        body += &format!(
            "--b\r\nContent-Disposition: form-data; name=\"{name}\"{file}\r\n\r\n{text}\r\n"
        );
    }
    studio.multipart(path, &(body + "--b--\r\n")).await
}

#[tokio::test]
async fn a_drill_is_taken_in_written_and_left_out() {
    let (studio, own) = studio().await;
    let begin = studio.get("/studio/drills/edit?key=toes_up").await;
    assert!(begin.body.contains("+++") && begin.body.contains("value=\"toes_up\""));
    let text = DrillBook::standard()
        .page("toes_up")
        .unwrap()
        .text()
        .to_owned();
    let take = "/studio/drills/take-in";
    let broken = text.replace("## Steps", "## Stpes");
    let refused = multipart(
        &studio,
        take,
        &[("key", None, "toes_up"), ("text", None, &broken)],
    )
    .await;
    assert_eq!(refused.status, 422);
    // What was written is there still.
    assert!(
        refused.body.contains("## Stpes") && refused.body.contains("Not kept."),
        "{}",
        refused.body
    );
    let kept = multipart(&studio, take, &[("page", Some("my_toes.md"), &text)]).await;
    assert_eq!(kept.status, 303, "{}", kept.body);
    let made = own.made.lock().unwrap().clone();
    assert!(
        matches!(&made[..], [OwnChange::Drill { key, text: t, .. }] if key == "my_toes" && *t == text),
        "{made:?}"
    );
    let nothing = multipart(
        &studio,
        take,
        &[("key", None, "toes_up"), ("text", None, "")],
    )
    .await;
    assert!(nothing.status == 422 && nothing.body.contains("There is no page"));
    studio.post("/studio/drills/leave-out", "key=my_toes").await;
    assert_eq!(
        own.made.lock().unwrap().last(),
        Some(&OwnChange::DrillOut("my_toes".into()))
    );
}

#[tokio::test]
async fn a_swing_is_made_a_model_with_its_club() {
    let (studio, _) = studio().await;
    let no_club = studio.post("/studio/models", "swing=2&club=").await;
    assert_eq!(no_club.status, 422);
    assert!(no_club.body.contains("Clubs are never mixed") && no_club.body.contains("value=\"2\""));
    let none = studio.post("/studio/models", "swing=99&club=driver").await;
    assert!(none.status == 422 && none.body.contains("There is no swing 99"));
    let kept = studio.post("/studio/models", "swing=2&club=driver").await;
    assert_eq!(kept.status, 303);
    let page = studio.get("/studio/models").await;
    assert!(page.body.contains("Swing 2: ") && page.body.contains("1 of 3 that a band needs"));
    studio.post("/studio/models", "swing=2&do=remove").await;
    assert!(studio.store.model_swings().await.unwrap().is_empty());
}

#[tokio::test]
async fn a_players_own_unit_comes_before_the_studios() {
    let (studio, _) = studio().await;
    let in_inches = |body: &str| body.contains(" in <") || body.contains("in (");
    let kept = studio.post("/studio/units", "units=in").await;
    assert_eq!(kept.status, 303);
    assert_eq!(
        studio.store.units_for(PlayerId(1)).await.unwrap(),
        Units::Inches
    );
    assert_eq!(studio.post("/studio/units", "units=ell").await.status, 422);
    studio.post("/players/1/settings/units", "units=cm").await;
    assert_eq!(
        studio.store.units_for(PlayerId(1)).await.unwrap(),
        Units::Centimetres
    );
    assert_eq!(
        studio.store.units_for(PlayerId(2)).await.unwrap(),
        Units::Inches
    );
    studio.post("/players/1/settings/units", "units=").await;
    assert_eq!(
        studio
            .store
            .player(PlayerId(1))
            .await
            .unwrap()
            .unwrap()
            .units,
        None
    );
    // The sample's pages were made in centimetres; a player's own unit counts at once.
    let before = studio.get("/swings/2").await.body;
    studio.post("/players/1/settings/units", "units=in").await;
    let after = studio.get("/swings/2").await.body;
    assert_ne!(before, after);
    assert!(in_inches(&after));
    assert_eq!(
        studio
            .store
            .swing(SwingId(2))
            .await
            .unwrap()
            .unwrap()
            .player,
        PlayerId(1)
    );
}

#[tokio::test]
async fn a_studio_that_another_program_writes_to_says_so_and_keeps_nothing_half() {
    let (studio, _) = studio().await;
    let file = studio.folder().join("lessonwright.db");
    let mut other = SqliteConnection::connect(&format!("sqlite://{}", file.display()))
        .await
        .unwrap();
    sqlx::query("BEGIN IMMEDIATE")
        .execute(&mut other)
        .await
        .unwrap();
    let busy = studio.post("/studio/units", "units=in").await;
    assert_eq!(busy.status, 503, "{}", busy.body);
    for text in ["The studio is busy", "send it again", "data-not-kept"] {
        assert!(busy.body.contains(text), "{text}");
    }
    // Reading goes on meanwhile.
    assert_eq!(studio.get("/players").await.status, 200);
    sqlx::query("COMMIT").execute(&mut other).await.unwrap();
    assert_eq!(studio.store.studio_units().await.unwrap(), None);
    assert_eq!(studio.post("/studio/units", "units=in").await.status, 303);
}
