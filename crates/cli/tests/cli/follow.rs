//! The follow-up through the real binary, on an invented studio after five months.

use crate::common::{NOTHING, run};
use crate::months;
use jiff::Timestamp;
use lessonwright_store::Store;
use tempfile::TempDir;

/// The day on which all is told.
const TODAY: &str = "2026-11-25";

async fn filled() -> TempDir {
    let folder = TempDir::new().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let now: Timestamp = format!("{TODAY}T09:00:00Z").parse().unwrap();
    months::fill_months(&store, now).await;
    store.close().await;
    folder
}

#[tokio::test]
async fn progress_overview_and_repeatability_are_told() {
    let studio = filled().await;
    let studio = studio.path();
    let told = run(studio, &["progress", "Anneke Voss", "--on", TODAY]).unwrap();
    for text in [
        "Bump the stick, since 2026-08-22",
        "pelvis shift, from top to lead arm level, coming down: from -",
        "REAL: +",
        "retention        17 swings in 4 sessions",
        "Proposal: go one step further.",
        "due on 2026-12-01 (in 6 days)",
    ] {
        assert!(told.contains(text), "{text} in {told}");
    }
    let told = run(studio, &["overview", "--on", TODAY]).unwrap();
    for text in [
        "Bram Tallis: due since 2026-11-19 (6 days)",
        "Cosima Reyne: Elbow off the wall, trail elbow, lead arm level, coming down: AWAY",
        "Ines Barrow: nothing to follow",
        "of 12: pelvis shift",
        "Bump the stick (5 players)",
        "by chance alone",
    ] {
        assert!(told.contains(text), "{text} in {told}");
    }
    // The same studio on the same day is told in the same words.
    assert_eq!(told, run(studio, &["overview", "--on", TODAY]).unwrap());
    let told = run(studio, &["repeatability"]).unwrap();
    assert!(
        told.contains("pelvis shift, from top to lead arm level, coming down"),
        "{told}"
    );
    assert!(told.contains("ICC(2,1)") && told.contains("12, "), "{told}");
    let refused = run(studio, &["progress", "Nobody"]).unwrap_err();
    assert!(
        refused.contains("there is no player \"Nobody\""),
        "{refused}"
    );
}

#[tokio::test]
async fn swings_are_marked_and_prescriptions_put_on_record() {
    let studio = filled().await;
    let studio = studio.path();
    let told = run(
        studio,
        &["mark", "1", "2", "--as", "transfer", "--day", "2026-07-19"],
    )
    .unwrap();
    assert_eq!(
        told,
        "Swing 1: transfer, session of 2026-07-19\nSwing 2: transfer, session of 2026-07-19\n"
    );
    // One of the two is changed, the other stays.
    let told = run(studio, &["mark", "1", "--as", "unmarked"]).unwrap();
    assert_eq!(told, "Swing 1: not marked, session of 2026-07-19\n");
    let told = run(studio, &["mark", "1", "--day", "filmed"]).unwrap();
    assert_eq!(told, "Swing 1: not marked\n");
    for (arguments, says) in [
        (&["mark", "1"][..], "--as"),
        (&["mark", "1", "--day", "soon"], "no day like"),
        (
            &["mark", "999", "--as", "practice"],
            "there is no swing 999",
        ),
    ] {
        let refused = run(studio, arguments).unwrap_err();
        assert!(refused.contains(says), "{refused}");
    }
    let prescribe = |more: &[&str]| {
        let all = [&["prescribe", "Ines Barrow"][..], more].concat();
        run(studio, &all)
    };
    let aim = [
        "--measure",
        "head_shift",
        "--moment",
        "impact",
        "--against",
        "address",
        "--goal",
        "-1.5",
    ];
    let drill = [
        "--drill",
        "shadow_of_the_head",
        "--on",
        "2026-10-20",
        "--next-in",
        "21",
    ];
    // Nothing is prescribed before the player is asked.
    let refused = prescribe(&[&drill[..], &aim[..]].concat()).unwrap_err();
    assert!(refused.contains("nothing can be prescribed"), "{refused}");
    let ask = ["player", "screen", "Ines Barrow"];
    run(studio, &[&ask[..], &NOTHING].concat()).unwrap();
    let told = prescribe(&[&drill[..], &aim[..]].concat()).unwrap();
    assert!(
        told.contains("is on record") && told.contains("Ines Barrow"),
        "{told}"
    );
    let number = told.split_whitespace().nth(1).unwrap().to_owned();
    let told = run(studio, &["progress", "Ines Barrow", "--on", TODAY]).unwrap();
    assert!(
        told.contains("head shift, from address to impact") && told.contains("to -1.5 cm"),
        "{told}"
    );
    // No swing since: film.
    assert!(
        told.contains("due since") && told.contains("film first"),
        "{told}"
    );
    prescribe(&["--number", &number, "--end"]).unwrap();
    let told = run(studio, &["progress", "Ines Barrow", "--on", TODAY]).unwrap();
    assert!(!told.contains("due since"), "{told}");
    for (more, says) in [
        (&["--drill", "no_such_drill"][..], "no_such_drill"),
        (
            &[
                "--drill",
                "shadow_of_the_head",
                "--measure",
                "hip",
                "--moment",
                "impact",
                "--goal",
                "1",
            ],
            "no measure",
        ),
        (&["--number", "999", "--end"], "no prescription 999"),
        (&["--number", number.as_str()], "--next-in"),
    ] {
        let refused = prescribe(more).unwrap_err();
        assert!(refused.contains(says), "{says} in {refused}");
    }
}
