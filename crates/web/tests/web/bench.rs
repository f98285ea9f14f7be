//! The swing bench's addresses, over a real connection.

use crate::client::Served;
use crate::sample::bench::PICTURE;

#[tokio::test]
async fn the_page_is_whole_before_any_script_runs() {
    let studio = Served::start().await;
    let page = studio.get("/swings/2/bench").await;
    assert_eq!(page.status, 200);
    let body = &page.body;
    for text in [
        // Stills of the moments with what was found, in both views.
        "href=\"/swings/2/frames/face_on/25\"",
        "href=\"/swings/2/frames/down_the_line/28\"",
        "face-on, frame&nbsp;25, 0.417&nbsp;s ±&nbsp;0.010&nbsp;s, set by hand",
        "<line class=\"figure\" x1=\"120\" y1=\"100\" x2=\"80\" y2=\"100\"/>",
        "<line class=\"club\"",
        // The body from three sides.
        "the fitted body from above",
        // The numbers with ±, state and reasons.
        "0.2&nbsp;cm (0.1&nbsp;in) toward the target",
        "±&nbsp;1.1&nbsp;cm",
        "The trail knee hides the lead knee",
        // What it can be compared with: own swings before others.
        "<option value=\"1\">4 November 2026 (swing 1)</option>",
        "Nia Okonedo-Hart, left-handed, 22 November 2026 (swing 3)",
    ] {
        assert!(body.contains(text), "{text}");
    }
    let own = body.find("The player’s own swings").unwrap();
    assert!(own < body.find("Other players and models").unwrap());
    for bad in [" style=", "onclick", "http://", "{{", "{%", "NaN"] {
        assert!(!body.contains(bad), "{bad}");
    }
    let policy = page.header("content-security-policy");
    assert!(policy.contains("default-src 'self'") && !policy.contains("unsafe"));
}

#[tokio::test]
async fn another_swing_stands_beside_in_stills_and_numbers() {
    let body = Served::start()
        .await
        .get("/swings/2/bench?with=3&how=over")
        .await
        .body;
    for text in [
        "href=\"/swings/3/frames/face_on/25\"",
        "the other swing, top, face-on, frame 25",
        "<th scope=\"col\">The other</th>",
        "data-laid-over=\"true\"",
        "<option value=\"3\" selected=\"\">",
    ] {
        assert!(body.contains(text), "{text}");
    }
    // A swing is not compared with itself, nor with one that is not there.
    for with in ["2", "99", "x", ""] {
        let address = format!("/swings/2/bench?with={with}");
        let page = Served::start().await.get(&address).await;
        assert_eq!(page.status, 200, "{with}");
        assert!(!page.body.contains("data-other="), "{with}");
    }
}

#[tokio::test]
async fn a_swing_that_cannot_be_drawn_says_why_and_keeps_its_numbers() {
    let body = Served::start().await.get("/swings/1/bench").await.body;
    for text in [
        "Nothing can be drawn over this swing",
        "swing 1 was kept by an earlier version.",
        "data-correctable=\"false\"",
        "id=\"numbers-table\"",
    ] {
        assert!(body.contains(text), "{text}");
    }
    assert!(!body.contains("id=\"correcting\""));
}

#[tokio::test]
async fn tracks_pictures_and_progress_have_addresses() {
    let studio = Served::start().await;
    let tracks = studio.get("/swings/2/tracks.json").await;
    assert_eq!(tracks.header("content-type"), "application/json");
    for text in [
        "\"version\":1",
        "\"left_hip\":[[112.0,180.0]",
        "\"poses\":[[[0.15,0.9,0.0]",
    ] {
        assert!(tracks.body.contains(text), "{text}");
    }
    let picture = studio.get("/swings/2/frames/face_on/25").await;
    assert_eq!(
        (picture.header("content-type"), &picture.bytes[..]),
        ("image/jpeg", &PICTURE[..])
    );
    let strip = studio.get("/swings/2/strips/down_the_line").await;
    assert!(strip.bytes.starts_with(b"LWSTRIP1"));
    for (address, status) in [
        ("/swings/2/frames/face_on/99", 404),
        ("/swings/2/frames/from_above/25", 400),
        ("/swings/99/frames/face_on/25", 404),
        ("/swings/99/tracks.json", 404),
        ("/swings/99/bench", 404),
        ("/swings/x/bench", 404),
        // Not analysed.
        ("/swings/5/bench", 404),
        ("/bench/elsewhere.js", 404),
    ] {
        assert_eq!(studio.get(address).await.status, status, "{address}");
    }
    // What can't be had is said in plain text, for the page to show.
    for address in ["/swings/1/tracks.json", "/swings/1/strips/face_on"] {
        let answer = studio.get(address).await;
        assert_eq!(answer.status, 503);
        assert!(answer.header("content-type").starts_with("text/plain"));
    }
}

#[tokio::test]
async fn scripts_and_style_come_from_here_alone() {
    let studio = Served::start().await;
    let main = studio.get("/bench/main.js").await;
    assert_eq!(
        main.header("content-type"),
        "text/javascript; charset=utf-8"
    );
    // Every module that is asked for is there.
    let mut wanted = vec!["main.js".to_owned()];
    let mut seen = Vec::new();
    while let Some(name) = wanted.pop() {
        let text = studio.get(&format!("/bench/{name}")).await.body;
        // The name of SVG's language is no address that is asked.
        let text = text.replace("http://www.w3.org/2000/svg", "");
        assert!(!text.contains("http") && !text.contains("eval("), "{name}");
        for line in text.lines().filter(|line| line.starts_with("import ")) {
            let Some(from) = line.split("\"./").nth(1) else {
                assert!(line.ends_with(" from \"/words.js\";"), "{line}");
                continue;
            };
            let from = from.trim_end_matches("\";");
            if !seen.contains(&from.to_owned()) {
                seen.push(from.to_owned());
                wanted.push(from.to_owned());
            }
        }
    }
    assert_eq!(seen.len(), 13, "{seen:?}");
    let style = studio.get("/bench/bench.css").await;
    assert!(style.header("content-type").starts_with("text/css"));
    assert!(!style.body.contains("url(") && !style.body.contains("@import"));
}

#[tokio::test]
async fn what_is_dragged_is_sent_as_a_form_and_refused_in_words() {
    let studio = Served::start().await;
    for (address, form) in [
        (
            "joint",
            "view=face_on&joint=left_knee&frame=25&x_px=100.5&y_px=200&picture_width_px=200",
        ),
        ("moment", "view=down_the_line&moment=top&time_s=0.4333"),
        ("undo", ""),
    ] {
        let answer = studio
            .post(&format!("/swings/2/bench/{address}"), form)
            .await;
        assert_eq!(answer.status, 303, "{address}: {}", answer.body);
        assert_eq!(answer.header("location"), "/swings/2/bench");
    }
    for (address, form, said) in [
        (
            "joint",
            "view=face_on&joint=left_fin&frame=2&x_px=1&y_px=2&picture_width_px=200",
            "left_fin",
        ),
        (
            "moment",
            "view=face_on&moment=top&time_s=soon",
            "invalid float",
        ),
    ] {
        let answer = studio
            .post(&format!("/swings/2/bench/{address}"), form)
            .await;
        assert_eq!(answer.status, 422, "{address}");
        let text = answer.body;
        assert!(
            text.contains(said) && text.contains("href=\"/swings/2/bench\""),
            "{text}"
        );
    }
}
