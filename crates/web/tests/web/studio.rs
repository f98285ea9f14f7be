//! The studio as a browser meets it: over a real connection.

use crate::client::{Served, ask};
use crate::sample;
use lessonwright_store::{LessonId, LessonState, Store};
use lessonwright_web::{router, serve};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::oneshot;

#[tokio::test]
async fn the_roster_shows_everybody_and_what_waits() {
    let studio = Served::start().await;
    let page = studio.get("/players").await;
    assert_eq!(page.status, 200);
    for text in [
        "Tobias Wren",
        "Move the lower body toward the target first",
        "Draft to read",
        "Nia Okonedo-Hart",
        "Approved",
        "Per Ålund",
        "Not analysed yet",
        "No swing yet",
        "href=\"/players/1\"",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
    let today = studio.get("/").await;
    assert!(today.body.contains("25 November 2026"));
    let waiting = between(&today.body, "Waiting for you", "</section>");
    assert!(waiting.contains("Tobias Wren") && !waiting.contains("Nia"));
}

#[tokio::test]
async fn an_empty_studio_says_how_to_start() {
    let page = Served::empty(sample::state()).await.get("/").await;
    assert!(page.body.contains("No players yet"));
    assert!(page.body.contains("lessonwright lesson"));
}

#[tokio::test]
async fn a_player_page_shows_facts_the_checks_over_swings_and_lessons() {
    let studio = Served::start().await;
    let page = studio.get("/players/1").await;
    for text in [
        "right-handed",
        "178 cm (5 ft 10 in)",
        "asked on 26 September 2026",
        "4 November 2026",
        "24 November 2026",
        "Pelvis shift",
        "Outside the range",
        "Knee line turn",
        "Nothing stands out",
        "href=\"/lessons/2\"",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
    // The swing of 4 November was asked for less: that is said, not left blank.
    assert!(page.body.contains("not asked for"));
    let minor = studio.get("/players/2").await;
    assert!(
        minor
            .body
            .contains("Ada Okonedo, guardian, 25 November 2026")
    );
}

#[tokio::test]
async fn a_swing_page_shows_every_number_with_its_doubt() {
    let studio = Served::start().await;
    let page = studio.get("/swings/2").await;
    for text in [
        "Move the lower body toward the target first",
        "The ball starts left and curves right: your slice.",
        "grade C",
        "0.2&nbsp;cm (0.1&nbsp;in) toward the target",
        "±&nbsp;1.1&nbsp;cm",
        "The trail knee hides the lead knee",
        "Not measured",
        "lead arm level, coming down",
        "2.210&nbsp;s",
        "frame&nbsp;132",
        "Feet together, step, strike",
        "Every measure",
        "Legs and feet",
        "face.mp4",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
}

#[tokio::test]
async fn a_swing_page_ranks_what_could_be_worked_on_with_reasons_and_pictures() {
    let studio = Served::start().await;
    let page = studio.get("/swings/2").await;
    for text in [
        "What could be worked on, in order",
        "1. Move the lower body toward the target first: 70&nbsp;%",
        "2. Bring the hands down on or inside the way they went back: 20&nbsp;%, seen by you",
        "10&nbsp;% are kept for what nobody has seen",
        "Measured: counts 0.62 of 1.",
        "it follows from that.",
        "Found, and set aside",
        "Transition: pelvis shift 0.2 cm.",
        "standard 2026-11",
        "Or inward: Weight on the lead foot before the hands move.",
        "8 of 10 steps land before the arms.",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
    assert_eq!(page.body.matches("class=\"chain-picture\"").count(), 2);
    // A left-hander's ball starts to the other side: the pictures differ, their words do not.
    let other = studio.get("/swings/3").await;
    let picture = |body: &str| between(body, "<svg class=\"chain-picture\"", "</svg>").to_string();
    assert_ne!(picture(&page.body), picture(&other.body));
    // An analysis from before there was an order has none, and says nothing of it.
    assert!(
        !studio
            .get("/swings/1")
            .await
            .body
            .contains("could be worked on")
    );
}

#[tokio::test]
async fn what_the_professional_sees_is_ticked_on_the_page() {
    let studio = Served::start().await;
    let page = studio.get("/swings/3").await;
    for text in [
        "What you see and no camera measures",
        "Set-up",
        "name=\"grip_weak\" value=\"seen\" checked=\"\"",
        "name=\"hands_over\" value=\"seen\"/>",
        "seen: grip turned too far to the target",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
    for form in ["", "hands_over=seen&grip_weak=seen"] {
        let answer = studio.post("/swings/3/by-hand/seen", form).await;
        assert_eq!(
            (answer.status, answer.header("location")),
            (303, "/swings/3"),
            "{form}"
        );
    }
    // Where the swing can't be analysed again there is nothing to tick.
    assert!(
        !studio
            .get("/swings/2")
            .await
            .body
            .contains("type=\"checkbox\"")
    );
    let player = studio.get("/players/1").await;
    assert!(player.body.contains("balance is unsure"));
}

#[tokio::test]
async fn a_lesson_is_served_with_its_pictures_beside_it_and_may_do_nothing_else() {
    let studio = Served::start().await;
    let answer = studio.get("/lessons/2").await;
    let stored = studio.store.lesson(LessonId(2)).await.unwrap().unwrap();
    let stored = String::from_utf8(stored.page).unwrap();
    // The file with its pictures taken out, and no byte else: it is what the player gets.
    let mut beside = String::new();
    let mut pieces = stored.split("data:image/jpeg;base64,");
    beside.push_str(pieces.next().unwrap());
    let mut pictures = Vec::new();
    for piece in pieces {
        let (picture, after) = piece.split_once('"').unwrap();
        beside.push_str(&format!("/lessons/2/pictures/{}\"{after}", pictures.len()));
        pictures.push(picture);
    }
    assert!(pictures.len() >= 2);
    assert_eq!(answer.body, beside);
    for (number, picture) in pictures.into_iter().enumerate() {
        let got = studio.get(&format!("/lessons/2/pictures/{number}")).await;
        assert_eq!(got.header("content-type"), "image/jpeg");
        let length = picture.len() / 4 * 3 - picture.matches('=').count();
        assert_eq!(got.header("content-length"), length.to_string());
    }
    for none in [
        "/lessons/2/pictures/99",
        "/lessons/2/pictures/x",
        "/lessons/9/pictures/0",
    ] {
        assert_eq!(studio.get(none).await.status, 404, "{none}");
    }
    let part = studio
        .ask("GET /lessons/2/pictures/0", &[("Range", "bytes=0-9")], "")
        .await;
    assert_eq!((part.status, part.header("content-length")), (206, "10"));
    let policy = answer.header("content-security-policy");
    assert!(
        policy.starts_with("default-src 'none'") && !policy.contains("script-src"),
        "{policy}"
    );
}

#[tokio::test]
async fn approving_a_lesson_is_written_down_and_leads_back() {
    let studio = Served::start().await;
    let answer = studio.post("/lessons/2/approve", "").await;
    assert_eq!(
        (answer.status, answer.header("location")),
        (303, "/swings/2")
    );
    let lesson = studio
        .store
        .lesson_summary(LessonId(2))
        .await
        .unwrap()
        .unwrap();
    assert_eq!(
        (lesson.state(), lesson.approved_at),
        (LessonState::Approved, Some(sample::now()))
    );
    let page = studio.get("/swings/2").await;
    assert!(page.body.contains("approved 25 November 2026, 09:00"));
    assert!(!page.body.contains("Approve this lesson"));
    assert!(page.body.contains("action=\"/lessons/2/sent\""));
}

#[tokio::test]
async fn a_swing_that_can_be_analysed_again_is_corrected_from_its_page() {
    let studio = Served::start().await;
    let page = studio.get("/swings/3").await;
    for text in [
        "set by hand",
        "face-on: top at 2.040 s",
        "face-on: right knee (lead side) placed in frame 132",
        "stature: 178.5 cm",
        "value=\"178.5\"",
        "aria-label=\"+1 frame: top, down the line\"",
        "action=\"/swings/3/by-hand/moment\"",
    ] {
        assert!(page.body.contains(text), "{text}");
    }
    // Nothing was changed through the store: there is nothing to take back.
    assert!(!page.body.contains("Take the last change back"));
    // A swing of which nobody noted how it was filmed can't be.
    assert!(!studio.get("/swings/1").await.body.contains("by-hand/"));
    let moment = "view=down_the_line&moment=lead_arm_level_down&frames=";
    for (form, body) in [
        ("moment", format!("{moment}-1")),
        ("moment", format!("{moment}as+found")),
        ("stature", "stature_cm=181%2C5".to_owned()),
        ("stature", "stature_cm=".to_owned()),
        (
            "capture-rate",
            "view=face_on&capture_rate_hz=240".to_owned(),
        ),
        ("undo", String::new()),
    ] {
        let answer = studio
            .post(&format!("/swings/3/by-hand/{form}"), &body)
            .await;
        let found = (answer.status, answer.header("location"));
        assert_eq!(found, (303, "/swings/3"), "{form} {body}");
    }
    for (form, body, status, said) in [
        ("moment", format!("{moment}two"), 422, "no number"),
        ("moment", moment.to_owned(), 422, "By how many frames?"),
        (
            "moment",
            "view=above&moment=top&frames=1".into(),
            422,
            "above",
        ),
        ("stature", "stature_cm=17".into(), 422, "0.8 to 2.6 m"),
        ("colour", String::new(), 404, "There is no page"),
    ] {
        let answer = studio
            .post(&format!("/swings/3/by-hand/{form}"), &body)
            .await;
        assert_eq!(answer.status, status, "{form} {body}");
        assert!(answer.body.contains(said), "{}", answer.body);
        assert_eq!(unbalanced(&answer.body), None);
    }
}

#[tokio::test]
async fn a_ball_is_read_for_the_players_hand() {
    let studio = Served::start().await;
    let empty = studio.get("/players/1/ball").await;
    assert!(empty.body.contains("What did the ball do?") && !empty.body.contains("Keep “"));
    // Tobias plays right-handed, Nia left-handed: the same ball, the other name.
    for (player, texts) in [
        (
            1,
            ["<strong>slice</strong>", "open to the path", "out to in"],
        ),
        (
            2,
            ["<strong>hook</strong>", "closed to the path", "in to out"],
        ),
    ] {
        let page = studio
            .get(&format!(
                "/players/{player}/ball?club=mid_iron&start=straight&curve=right&height=&carry="
            ))
            .await;
        assert_eq!(page.status, 200);
        let told = between(&page.body, "What it tells of the club", "</section>");
        for text in texts {
            assert!(told.contains(text), "{player}: {text}: {told}");
        }
        assert!(told.contains("can’t tell") && told.contains("would settle"));
        assert_eq!(told.matches("class=\"interval\"").count(), 3);
        assert!(page.body.contains("<option value=\"mid_iron\" selected>"));
    }
}

#[tokio::test]
async fn what_of_a_ball_is_not_understood_is_said_and_kept_in_its_field() {
    let studio = Served::start().await;
    let page = studio
        .get("/players/1/ball?curve=right&carry=180&path=%22fast%22")
        .await;
    assert_eq!(page.status, 200);
    let wrong = between(&page.body, "Not read", "</section>");
    assert!(
        wrong.contains("Carry: no unit") && wrong.contains("Path, °: "),
        "{wrong}"
    );
    assert!(page.body.contains("value=\"180\"") && page.body.contains("<details open>"));
    assert!(!page.body.contains("What it tells"));
}

#[tokio::test]
async fn pasted_shots_are_read_line_by_line() {
    let studio = Served::start().await;
    let shots = "/players/1/ball/shots";
    let pasted = "shots=Club%3Bball+speed%3Bstart+direction%3Bspin+axis%3BMood%0ADriver%3B145%3B3+L%3B10+R%3Bgood%0A";
    let page = studio
        .post(shots, &format!("{pasted}&speed_unit=mph"))
        .await;
    assert_eq!(page.status, 200);
    for text in ["1 shots", "pull-slice", "Columns not read: Mood", "driver"] {
        assert!(page.body.contains(text), "{text}: {}", page.body);
    }
    assert_eq!(unbalanced(&page.body), None);
    let page = studio.post(shots, pasted).await;
    assert!(
        page.body
            .contains("line 2, column &#34;ball speed&#34;: its unit")
    );
    assert!(
        page.body.contains("Driver;145;3 L;10 R;good"),
        "what was pasted is shown again"
    );
}

#[tokio::test]
async fn a_read_flight_can_be_kept_as_the_usual_one() {
    let studio = Served::start().await;
    let kept = studio
        .post("/players/1/ball/keep", "flight=pull-slice%2C+toe+strike")
        .await;
    assert_eq!((kept.status, kept.header("location")), (303, "/players/1"));
    let page = studio.get("/players/1").await;
    assert!(page.body.contains("pull-slice, toe strike"));
    let refused = studio.post("/players/1/ball/keep", "flight=wobble").await;
    assert_eq!(refused.status, 404);
    assert!(
        studio
            .get("/players/1")
            .await
            .body
            .contains("pull-slice, toe strike")
    );
    assert_eq!(
        studio
            .post("/players/99/ball/keep", "flight=slice")
            .await
            .status,
        404
    );
}

#[tokio::test]
async fn another_site_can_neither_post_nor_read() {
    let studio = Served::start().await;
    for origin in ["", "http://elsewhere.example", "null"] {
        let headers = [("Origin", origin)];
        let answer = studio.ask("POST /lessons/2/approve", &headers, "").await;
        assert_eq!(answer.status, 403, "{origin}");
    }
    let lesson = studio
        .store
        .lesson_summary(LessonId(2))
        .await
        .unwrap()
        .unwrap();
    assert_eq!(lesson.state(), LessonState::Drafted);
    let answer = studio
        .ask("GET /", &[("Host", "elsewhere.example")], "")
        .await;
    assert_eq!(answer.status, 421);
    assert!(!answer.body.contains("Tobias"));
}

#[tokio::test]
async fn the_drill_book_is_leafed_through_for_a_flight_and_a_hand() {
    let studio = Served::start().await;
    let entries = |body: &str| body.matches("href=\"/drills/").count();
    let all = entries(&studio.get("/drills").await.body);
    let slice = entries(&studio.get("/drills?flight=slice").await.body);
    assert_eq!(all, 67);
    assert!((3..all).contains(&slice), "{slice}");
    assert_eq!(studio.get("/drills?flight=boomerang").await.status, 404);
    let left = studio.get("/drills/hip_to_the_wall?hand=left").await;
    assert!(left.body.contains("right hip") && left.body.contains("scale(-1 1)"));
    assert_eq!(studio.get("/drills/nonsense").await.status, 404);
}

#[tokio::test]
async fn what_is_not_there_has_a_page_of_its_own() {
    let studio = Served::start().await;
    for (path, text) in [
        ("/players/99", "There is no player 99"),
        ("/players/x%3Cb%3E", "There is no player x&#60;b&#62;"),
        ("/swings/99", "There is no swing 99"),
        ("/lessons/99", "There is no lesson 99"),
        ("/nowhere", "There is no page /nowhere"),
    ] {
        let answer = studio.get(path).await;
        assert_eq!(answer.status, 404, "{path}");
        assert!(answer.body.contains(text), "{path}: {}", answer.body);
        assert!(answer.body.contains("Back to Today"));
    }
}

#[tokio::test]
async fn a_failure_says_so_and_hides_nothing() {
    let studio = Served::start().await;
    studio.store.clone().close().await;
    let answer = studio.get("/").await;
    assert_eq!(answer.status, 500);
    assert!(
        answer.body.contains("Something failed") && answer.body.contains("the database failed")
    );
}

#[tokio::test]
async fn every_page_is_sound_guarded_and_without_scripts() {
    let studio = Served::start().await;
    for path in [
        "/",
        "/players/1",
        "/players/2",
        "/players/3",
        "/players/4",
        "/players/1/ball",
        "/players/1/ball?club=driver&start=left&curve=right&strike=toe&carry=180+m",
        "/players/4/ball?carry=%3Cb%3E",
        "/swings/1",
        "/swings/2",
        "/swings/3",
        "/swings/4",
        "/swings/5",
        "/nowhere",
    ] {
        let answer = studio.get(path).await;
        assert_eq!(answer.header("x-content-type-options"), "nosniff", "{path}");
        assert_eq!(answer.header("cache-control"), "no-store", "{path}");
        let policy = answer.header("content-security-policy");
        assert!(
            policy.contains("default-src 'self'") && !policy.contains("unsafe"),
            "{path}"
        );
        let body = &answer.body;
        assert_eq!(unbalanced(body), None, "{path}");
        // Scripts of the studio's own, for the search by keys, the look and what was typed; a page works without.
        for script in ["/find/find.js", "/look.js", "/typed.js"] {
            let script = format!("<script type=\"module\" src=\"{script}\"></script>");
            assert!(body.contains(&script), "{path} lacks {script}");
        }
        assert_eq!(body.matches("<script").count(), 3, "{path}");
        for bad in [
            "<script>", " style=", "onclick", "http://", "https://", "{{", "{%", "NaN", "inf%",
        ] {
            assert!(!body.contains(bad), "{path} has {bad}");
        }
        assert_eq!(body.matches("<h1").count(), 1, "{path}");
    }
    let guest = studio.get("/players/4").await;
    assert!(
        guest
            .body
            .contains("Quill &#38; Daughters &#60;&#34;guest&#34;&#62;")
    );
}

#[tokio::test]
async fn what_lies_on_the_disk_is_shown_when_it_is_counted() {
    let studio = Served::start().await;
    let page = loop {
        let page = studio.get("/studio").await.body;
        if !page.contains("data-counting") {
            break page;
        }
    };
    for text in ["All together", "Tobias Wren", "2 swings"] {
        assert!(page.contains(text), "{text}: {page}");
    }
    let script = studio.get("/studio/count.js").await;
    assert!(script.header("content-type").starts_with("text/javascript"));
}

#[tokio::test]
async fn the_studio_ends_when_it_is_told_to() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
    let address = listener.local_addr().unwrap();
    let (stop, stopped) = oneshot::channel::<()>();
    let server = tokio::spawn(serve(listener, router(store, sample::state()), async {
        let _ = stopped.await;
    }));
    assert_eq!(ask(address, "GET", "/", &[], b"").await.status, 200);
    stop.send(()).unwrap();
    server.await.unwrap().unwrap();
    assert!(TcpStream::connect(address).await.is_err());
}

fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    let rest = &text[text.find(from).unwrap()..];
    &rest[..rest.find(to).unwrap()]
}

/// The first end tag that does not end what was begun last, or what is left open.
fn unbalanced(html: &str) -> Option<String> {
    const VOID: [&str; 3] = ["meta", "link", "!doctype"];
    let mut open: Vec<&str> = Vec::new();
    for tag in html.split('<').skip(1) {
        let Some(inside) = tag.split('>').next().filter(|_| tag.contains('>')) else {
            return Some(format!("<{tag} without an end"));
        };
        let name = inside
            .trim_start_matches('/')
            .split([' ', '/', '\n'])
            .next()
            .unwrap();
        if inside.starts_with('/') {
            if open.pop() != Some(name) {
                return Some(format!("</{name}>"));
            }
        } else if !inside.ends_with('/') && !VOID.contains(&name) {
            open.push(name);
        }
    }
    open.pop().map(|name| format!("<{name}> left open"))
}
