//! Why a number is missing, or what limits it. The analysis keeps it with a measure as an English sentence; this finds the
//! message of the catalogue that says the same.

use lessonwright_language::{Text, t, words};
use lessonwright_model::MomentName;

/// A reason as a text. One that nobody has translated stays as it is kept.
pub(crate) fn reason(kept: &str) -> Text {
    whole(kept)
        .map(t)
        .or_else(|| with_moment(kept))
        .or_else(|| {
            let half = kept.strip_prefix("too uncertain to say anything: ± ")?;
            Some(t("lesson-reason-too-uncertain").with("half", Text::figure(half)))
        })
        .unwrap_or_else(|| Text::plain(kept))
}

/// Sentences without anything filled in.
fn whole(kept: &str) -> Option<&'static str> {
    Some(match kept {
        "movement along the target line is seen face-on only" => "lesson-reason-shift-face-on",
        "these views do not show it well enough" => "lesson-reason-not-well-enough",
        "stature not given: an adult's is assumed, which widens the ±" => "lesson-reason-stature",
        "the player's stature is needed: a growing player's cannot be assumed" => {
            "lesson-reason-stature-needed"
        }
        "neither the body's height nor a whole limb is seen" => "lesson-reason-no-scale",
        "the known length is set on two points that coincide" => "lesson-reason-no-length",
        "the film does not show the body long enough" => "lesson-reason-not-long-enough",
        "it takes both views of one swing, face-on and down the line" => "lesson-reason-both-views",
        "it is seen face-on, or in both views of one swing" => "lesson-reason-face-on-or-both",
        "it is seen down the line, or in both views of one swing" => "lesson-reason-line-or-both",
        "turn near square is seen down the line; face-on it hardly changes the picture" => {
            "lesson-reason-turn-down-the-line"
        }
        "from down the line alone: the distance between the knees is assumed; a face-on clip of the same swing narrows the ±" => {
            "lesson-reason-knees-assumed"
        }
        "the knees are seen too close together to give a direction" => "lesson-reason-knees-close",
        "ahead of or behind the trunk is seen down the line only" => "lesson-reason-elbow-line",
        "the trunk is seen too short for its middle line to be drawn" => {
            "lesson-reason-trunk-short"
        }
        "the hands did not pass this height going back" => "lesson-reason-hands-height",
        _ => return None,
    })
}

/// Sentences about a moment.
fn with_moment(kept: &str) -> Option<Text> {
    MomentName::ALL.into_iter().find_map(|moment| {
        let name = moment.plain();
        let message = match kept.strip_suffix(name) {
            Some(before) => match before {
                "the fitted body does not show it at " => t("lesson-reason-body-does-not-show"),
                "a hip is hidden or not found at " => t("lesson-reason-hip-hidden"),
                "a knee is hidden or not found at " => t("lesson-reason-knee-hidden"),
                "the trail elbow, shoulder or hip is hidden or not found at " => {
                    t("lesson-reason-elbow-hidden")
                }
                "the shaft was not seen at " => t("lesson-reason-shaft-unseen"),
                "the lead forearm is hidden or not found at " => t("lesson-reason-forearm-hidden"),
                _ => return None,
            },
            None if kept.strip_prefix(name)? == " was not found in this clip" => {
                t("lesson-reason-moment-not-found")
            }
            None => return None,
        };
        Some(message.with("moment", words::moment(moment)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_language::{Language, Say};
    use std::fs;

    const KEPT: [&str; 12] = [
        "movement along the target line is seen face-on only",
        "stature not given: an adult's is assumed, which widens the ±",
        "the player's stature is needed: a growing player's cannot be assumed",
        "from down the line alone: the distance between the knees is assumed; a face-on clip of the same swing narrows the ±",
        "ahead of or behind the trunk is seen down the line only",
        "too uncertain to say anything: ± 0.25 s",
        "the fitted body does not show it at shaft level, going back",
        "a hip is hidden or not found at impact",
        "a knee is hidden or not found at lead arm level, coming down",
        "the trail elbow, shoulder or hip is hidden or not found at top",
        "the lead forearm is hidden or not found at address",
        "top was not found in this clip",
    ];

    #[test]
    fn english_says_what_was_kept_and_german_something_else() {
        for kept in KEPT {
            assert_eq!(Say::default().text(&reason(kept)), kept);
            let german = Say::new(Language::German).text(&reason(kept));
            assert!(!german.is_empty() && german != kept, "{german}");
        }
        let german = Say::new(Language::German).text(&reason(KEPT[5]));
        assert!(german.ends_with("± 0,25 s"), "{german}");
    }

    #[test]
    fn the_sentences_of_the_three_checks_are_those_that_the_analysis_keeps() {
        // Read from its sources: a sentence that changes there has to change here.
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../analysis/src/measures");
        for file in ["pelvis_shift", "knee_line_turn", "trail_elbow"] {
            let text = fs::read_to_string(format!("{folder}/{file}.rs")).unwrap();
            let text = text.split("#[cfg(test)]").next().unwrap();
            for (place, _) in text.match_indices("Withheld::") {
                let told = text[place..].chars().take(220).collect::<String>();
                let told = told
                    .replace("\\\n", "")
                    .split_whitespace()
                    .collect::<Vec<_>>()
                    .join(" ");
                let Some(told) = told
                    .split('"')
                    .nth(1)
                    .filter(|_| told.find('"') < told.find(';'))
                else {
                    continue;
                };
                let german = Say::new(Language::German).text(&reason(told));
                assert_ne!(german, told, "{file}");
            }
        }
    }

    #[test]
    fn what_nobody_translated_stays() {
        assert_eq!(
            Say::new(Language::German).text(&reason("odd light")),
            "odd light"
        );
    }
}
