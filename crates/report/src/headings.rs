//! The headings of a lesson, which page and paper share.

/// Above the one thing.
pub const ONE_THING: &str = "The one thing to work on";
/// Above the pictures.
pub const SEEN: &str = "What we saw";
/// Above the chain from body to ball.
pub const WHY: &str = "Why your ball flies as it does";
/// Above the same where no ball flight was told.
pub const WHY_FIRST: &str = "Why this first";
/// Above the goal with a number.
pub const NUMBER: &str = "The number to reach";
/// Above the goal without one.
pub const CHECKPOINT: &str = "What to reach";
/// Before the cue.
pub const CUE: &str = "Keep in mind";
/// After the cue: another one to try.
pub fn other_cue(cue: &str) -> String {
    format!("Or try this: {cue} Keep the one that works.")
}

/// Above the drill's title.
pub const DRILL: &str = "Your drill";
/// Before what to lay out.
pub const SET_UP: &str = "Set up";
/// Before the steps.
pub const STEPS: &str = "Do";
/// Before the feel.
pub const FEEL: &str = "Feel";
/// Before the dose.
pub const DOSE: &str = "How much";
/// Before the progressions.
pub const PLAN: &str = "Step by step";
/// Before the signs that it goes wrong.
pub const WATCH_FOR: &str = "Watch for";
/// Above how the check is filmed.
pub const FILM_CHECK: &str = "How to film the check";
/// The same where there is nothing to check.
pub const FILM_NEXT: &str = "How to film the next one";
/// Above what is good.
pub const GOOD: &str = "What is good already";
/// Above the drill's own cautions.
pub const TAKE_CARE: &str = "Take care";
/// Above the cautions of every prescription.
pub const CAUTIONS: &str = "Before you practise";

/// How to film, whatever is filmed.
pub const FILM_RULES: [&str; 3] = [
    "The phone must not move. Film in good light, with the sound on.",
    "Wear clothes that fit closely and stand out from what is behind you.",
    "Stand still for a second before you start. Hold your finish for a second.",
];

/// Cautions where a prescription brings none.
pub const COMMON_CAUTIONS: [&str; 2] = [
    "Warm up first. Stop at once if anything hurts.",
    "Look around before every swing: nobody near the club, nobody in the line of the ball.",
];

/// What every lesson says of health.
pub const HEALTH: &str = "We measure how you move, not your health. Do you have pain, an injury or an \
                          operation behind you? Then ask a doctor before you practise. The rules of the \
                          practice ground come first.";
