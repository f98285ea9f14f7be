//! The page as the player gets it.

use crate::html::text_of;
use crate::sample;
use lessonwright_model::{MomentName, Picture};
use lessonwright_report::{LessonContent, ReportError, Units, lesson_page, lesson_sheet};

#[test]
fn the_text_of_a_lesson_reads_well() {
    insta::assert_snapshot!(text_of(&lesson_page(&sample::lesson()).unwrap()));
}

#[test]
fn nothing_to_change_is_said_plainly() {
    let text = text_of(&lesson_page(&sample::nothing_to_change()).unwrap());
    assert!(text.contains("Nothing stands out"));
    assert!(text.contains("Not measured this time: Pelvis shift; Knee line turn."));
    assert!(text.contains("How to film the next one"));
    for absent in ["Why ", "The number to reach", "Your drill", "No drill"] {
        assert!(!text.contains(absent), "{absent}");
    }
}

#[test]
fn without_any_number_nothing_is_advised() {
    let text = text_of(&lesson_page(&sample::too_little()).unwrap());
    assert!(text.contains("The film shows too little to advise on"));
    assert!(text.contains("The phone moved during the swing. Put it on a stand."));
    for absent in [
        "Nothing stands out",
        "Keep it.",
        "Inside the range",
        "moment by moment",
    ] {
        assert!(!text.contains(absent), "{absent}");
    }
}

#[test]
fn a_priority_without_a_drill_sends_the_player_to_a_physician() {
    let mut content = sample::lesson();
    content.analysis.drills.clear();
    content.analysis.prescription = None;
    let text = text_of(&lesson_page(&content).unwrap());
    assert!(text.contains("No drill with this lesson"));
    assert!(text.contains("physician or physiotherapist agrees"));
    assert!(!text.contains("The number to reach"));
}

#[test]
fn what_no_camera_measures_has_a_checkpoint_instead_of_a_number() {
    let mut content = sample::lesson();
    content.analysis.findings.clear();
    content.analysis.drills[0].measure = None;
    content.analysis.drills[0].expected_change = None;
    let goal = content.analysis.prescription.as_mut().unwrap();
    (goal.measure, goal.reach, goal.against) = (None, None, None);
    let text = text_of(&lesson_page(&content).unwrap());
    assert!(
        text.contains("What to reach\n8 of 10 steps land before the arms."),
        "{text}"
    );
    assert!(text.contains("Your drill") && text.contains("Foot down, then arms."));
    for absent in [
        "The number to reach",
        "the number to reach",
        "No drill",
        "You have it when",
    ] {
        assert!(!text.contains(absent), "{absent}");
    }
}

#[test]
fn what_was_not_given_leaves_no_gap() {
    let mut content = sample::lesson();
    content.academy.clear();
    content.coach.clear();
    let text = text_of(&lesson_page(&content).unwrap());
    assert!(
        text.starts_with("A lesson for Tobias Wren\n25 November 2026\n"),
        "{text}"
    );
    assert!(
        text.ends_with("\nmeasured with Lessonwright 0.1.0"),
        "{text}"
    );
}

#[test]
fn a_captured_swing_is_not_said_to_have_been_tried_on_drawn_golfers() {
    let page = |content| text_of(&lesson_page(&content).unwrap());
    let (filmed, captured) = (page(sample::lesson()), page(crate::captured()));
    let (tried, right_within) = ("drawn by a computer", "is right within 20 mm");
    assert!(filmed.contains(tried) && !filmed.contains(right_within));
    assert!(captured.contains(right_within), "{captured}");
    assert!(!captured.contains(tried) && !captured.contains("camera could"));
    let paper = lesson_sheet(&crate::captured()).unwrap().foot.join(" ");
    assert!(paper.contains(right_within) && !paper.contains(tried));
}

#[test]
fn the_players_own_unit_comes_first() {
    let text = text_of(&lesson_page(&sample::left_handed()).unwrap());
    // 3.2 cm is 1.26 in.
    assert!(
        text.contains("1.3 in (3.2 cm) away from the target"),
        "{text}"
    );
    let metric = LessonContent {
        units: Units::Centimetres,
        ..sample::left_handed()
    };
    let text = text_of(&lesson_page(&metric).unwrap());
    assert!(text.contains("3.2 cm (1.3 in) away from the target"));
}

#[test]
fn a_left_handers_scale_runs_as_the_picture_does() {
    let left = lesson_page(&sample::left_handed()).unwrap();
    let right = lesson_page(&sample::lesson()).unwrap();
    assert!(left.contains("← toward the target") && !left.contains("toward the target →"));
    assert!(right.contains("toward the target →") && !right.contains("← toward the target"));
}

#[test]
fn a_left_hander_is_told_which_side_is_the_lead_side() {
    let side = |content: &LessonContent| {
        let text = text_of(&lesson_page(content).unwrap());
        text.contains("lead is your right side: it is nearer the target")
    };
    assert!(side(&sample::left_handed()) && !side(&sample::lesson()));
}

#[test]
fn what_the_heading_says_is_not_said_again_as_its_reason() {
    let mut content = sample::lesson();
    let says = content.analysis.findings[0].says.clone();
    let priority = content.analysis.priority.as_mut().unwrap();
    priority.chain[0].clone_from(&says);
    let text = text_of(&lesson_page(&content).unwrap());
    assert_eq!(text.matches(&says).count(), 1);
}

#[test]
fn a_range_open_at_one_end_says_which_way() {
    for (low, high, expected) in [
        (
            2.0,
            f64::INFINITY,
            "2.0 cm (0.8 in) toward the target or more",
        ),
        (0.0, f64::INFINITY, "0 cm or more toward the target"),
        (
            -2.0,
            f64::INFINITY,
            "no more than 2.0 cm (0.8 in) away from the target",
        ),
        (
            f64::NEG_INFINITY,
            2.0,
            "no more than 2.0 cm (0.8 in) toward the target",
        ),
        (f64::NEG_INFINITY, 0.0, "0 cm or more away from the target"),
        (
            f64::NEG_INFINITY,
            -2.0,
            "2.0 cm (0.8 in) away from the target or more",
        ),
    ] {
        let mut content = sample::lesson();
        for reference in &mut content.references {
            (reference.low, reference.high) = (low, high);
        }
        let text = text_of(&lesson_page(&content).unwrap());
        assert!(
            text.contains(&format!("Range: {expected}\n")),
            "{low}..{high}: {text}"
        );
    }
}

#[test]
fn what_is_not_measured_is_not_drawn() {
    let mut content = sample::lesson();
    let drawn = |content: &LessonContent| {
        let page = lesson_page(content).unwrap();
        let strips = page[page.find("moment by moment").unwrap()..].to_string();
        (
            strips.matches("class=\"head\"").count(),
            strips.matches("class=\"elbow\"").count(),
        )
    };
    // The arrow at impact agrees with its number; the elbow is measured at one moment.
    assert_eq!(drawn(&content), (3, 1));
    assert_eq!(drawn(&sample::left_handed()), (3, 1));
    for measure in &mut content.analysis.measures {
        measure.value = None;
    }
    assert_eq!(drawn(&content), (0, 0));
}

#[test]
fn an_arrow_against_its_number_is_not_drawn() {
    let mut content = sample::lesson();
    for measure in &mut content.analysis.measures {
        measure.value = measure.value.map(|v| -v);
    }
    let page = lesson_page(&content).unwrap();
    assert!(!page.contains("class=\"head\"") && !page.contains("class=\"elbow\""));
}

#[test]
fn every_page_stands_alone_and_is_sound() {
    for (name, content) in all() {
        let page = lesson_page(&content).unwrap();
        assert!(page.len() <= 3_000_000, "{name}: {}", page.len());
        assert_eq!(unbalanced(&page), None, "{name}");
        for bad in [
            "<script", "http:", "https:", "//www", "url(", "@import", "<link", "src=", "{{", "{%",
            "TODO", "NaN", "inf", "Some(",
        ] {
            // The name of the SVG standard looks like an address and is none.
            let words = without_pictures(&page).replace("http://www.w3.org/2000/svg", "");
            let found = words.contains(bad);
            // "inf" is in no word of the page; it would be an infinite coordinate.
            assert!(!found, "{name} has {bad}");
        }
        let uses = page.matches("<use href=\"#").count();
        assert_eq!(
            uses,
            if content.pictures.is_empty() {
                0
            } else {
                page.matches("class=\"pair\"").count() * 2
            }
        );
        for target in page.split("<use href=\"#").skip(1) {
            let id = target.split('"').next().unwrap();
            assert_eq!(
                page.matches(&format!("<image id=\"{id}\"")).count(),
                1,
                "{name}: {id}"
            );
        }
        assert_eq!(page.matches("<h1").count(), 1, "{name}");
    }
}

#[test]
fn the_same_content_gives_the_same_bytes() {
    assert_eq!(
        lesson_page(&sample::lesson()).unwrap(),
        lesson_page(&sample::lesson()).unwrap()
    );
}

#[test]
fn what_people_wrote_is_text_not_markup() {
    let mut content = sample::lesson();
    content.player = "<script>alert(1)</script> & \"Co\"".into();
    content.coach_note = Some("a < b\n\n<img src=x>".into());
    let page = lesson_page(&content).unwrap();
    assert!(!page.contains("<script") && !page.contains("<img"));
    assert!(page.contains("&#60;script&#62;"));
    assert_eq!(unbalanced(&page), None);
}

#[test]
fn pictures_that_do_not_fit_are_refused_with_a_reason() {
    let mut broken = sample::lesson();
    broken.pictures[0].picture.luma.pop();
    let mut twice = sample::lesson();
    twice.pictures[1].moment = MomentName::Address;
    let mut sizes = sample::lesson();
    sizes.pictures[1].picture = Picture {
        width: 2,
        height: 2,
        luma: vec![16; 4],
        cb: vec![128],
        cr: vec![128],
    };
    for (content, expected) in [
        (broken, "planes"),
        (twice, "two face-on pictures"),
        (sizes, "2×2"),
    ] {
        let error: ReportError = lesson_page(&content).unwrap_err();
        assert!(error.to_string().contains(expected), "{error}");
    }
}

#[test]
fn the_text_is_readable_on_its_ground() {
    // WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
    let style = include_str!("../../templates/lesson.css");
    let named = |name: &str| {
        let name = format!("--{name}: ");
        let start = style.find(&name).unwrap() + name.len();
        style[start..start + 7].to_string()
    };
    for (text, ground) in [
        (named("ink"), named("paper")),
        (named("ink"), named("card")),
        (named("ink"), named("clay-tint")),
        (named("soft"), named("paper")),
        (named("soft"), named("card")),
        (named("sea"), named("paper")),
        (named("sea"), named("card")),
        (named("clay"), named("card")),
        ("#ffffff".into(), named("sea")),
        ("#fbf6ea".into(), named("ink")),
        ("#e7c9a4".into(), named("ink")),
        ("#ffe9a8".into(), "#14110d".into()),
    ] {
        assert!(
            style.contains(&text) || text == "#ffffff",
            "{text} is in use"
        );
        let ratio = contrast(&text, &ground);
        assert!(ratio >= 4.5, "{text} on {ground}: {ratio:.2}");
    }
    // The best-known pairs, so that the formula is known to be right.
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    assert!((contrast("#767676", "#ffffff") - 4.54).abs() < 0.005);
}

/// WCAG 2.2 contrast ratio: (L₁ + 0.05) / (L₂ + 0.05), L the relative luminance.
fn contrast(a: &str, b: &str) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// L = 0.2126 R + 0.7152 G + 0.0722 B of linear-light sRGB.
fn luminance(hex: &str) -> f64 {
    let channel = |at: usize| {
        let v = f64::from(u8::from_str_radix(&hex[at..at + 2], 16).unwrap()) / 255.0;
        if v <= 0.04045 {
            v / 12.92
        } else {
            ((v + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

fn all() -> [(&'static str, LessonContent); 4] {
    [
        ("one thing", sample::lesson()),
        ("left-handed", sample::left_handed()),
        ("nothing to change", sample::nothing_to_change()),
        ("too little", sample::too_little()),
    ]
}

fn without_pictures(page: &str) -> String {
    let mut parts = page.split("data:image/jpeg;base64,");
    let first = parts.next().unwrap().to_string();
    parts.fold(first, |text, part| text + &part[part.find('"').unwrap()..])
}

/// The first end tag that does not end what was begun last, or what is left open.
fn unbalanced(html: &str) -> Option<String> {
    const VOID: [&str; 2] = ["meta", "!doctype"];
    let mut open: Vec<&str> = Vec::new();
    for tag in html.split('<').skip(1) {
        let Some((inside, _)) = tag.split_once('>') else {
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
