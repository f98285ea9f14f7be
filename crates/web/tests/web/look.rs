//! How the pages look: each look's colours held against WCAG 2.2, and the control that keeps one.

use crate::client::Served;
use crate::contrast::{colour, contrast};
use crate::sample;

/// What text is drawn in on what.
const PAIRS: [(&str, &str); 17] = [
    ("ink", "paper"),
    ("ink", "card"),
    ("ink", "clay-tint"),
    ("ink", "sea-tint"),
    ("soft", "paper"),
    ("soft", "card"),
    ("soft", "clay-tint"),
    ("sea", "paper"),
    ("sea", "card"),
    ("sea", "clay-tint"),
    ("sea", "sea-tint"),
    ("clay", "paper"),
    ("clay", "card"),
    ("clay", "clay-tint"),
    ("on-sea", "sea"),
    ("paper", "clay"),
    ("paper", "ink"),
];

#[tokio::test]
async fn every_look_is_readable_and_bright_sun_more_so() {
    let studio = Served::with(sample::state()).await;
    // WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text; 1.4.6 (enhanced): 7 to 1.
    for (look, least) in [("light", 4.5), ("dark", 4.5), ("sun", 7.0)] {
        let cookie = format!("lessonwright-look={look}");
        let style = studio
            .ask("GET /look.css", &[("Cookie", &cookie)], "")
            .await;
        assert!(style.header("content-type").starts_with("text/css"));
        assert!(!style.body.contains("url(") && !style.body.contains("@import"));
        for (text, ground) in PAIRS {
            let ratio = contrast(&colour(&style.body, text), &colour(&style.body, ground));
            assert!(ratio >= least, "{look}: {text} on {ground}: {ratio:.2}");
        }
    }
    let device = studio.get("/studio.css").await.body;
    assert!(
        device.contains("prefers-color-scheme: dark") && device.contains("prefers-contrast: more")
    );
}

#[tokio::test]
async fn what_is_chosen_is_kept_and_said_without_scripts() {
    let studio = Served::with(sample::state()).await;
    let page = studio.get("/players").await.body;
    for key in ["device", "light", "dark", "sun"] {
        assert!(
            page.contains(&format!("name=\"as\" value=\"{key}\"")),
            "{key}"
        );
    }
    let from = format!("http://{}/players?page=1", studio.address);
    let kept = studio
        .ask("POST /look", &[("Referer", &from)], "as=sun")
        .await;
    assert_eq!(
        (kept.status, kept.header("location")),
        (303, "/players?page=1")
    );
    let cookie = kept.header("set-cookie").to_owned();
    assert!(cookie.starts_with("lessonwright-look=sun;") && cookie.contains("Max-Age="));
    let own = cookie.split(';').next().unwrap();
    let style = studio
        .ask("GET /look.css", &[("Cookie", own)], "")
        .await
        .body;
    assert!(style.contains(".look [value=\"sun\"] .now { display: inline; }"));
    assert!(!style.contains(".look [value=\"device\"] .now {"));
    // A browser that kept none is shown as the device asks for.
    let style = studio.get("/look.css").await.body;
    assert!(style.contains(".look [value=\"device\"] .now { display: inline; }"));
}

#[test]
fn contrast_agrees_with_the_definition() {
    // WCAG 2.2: black on white is 21 to 1; #767676 on white is the well-known 4.54.
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    assert!((contrast("#767676", "#ffffff") - 4.54).abs() < 0.005);
}
