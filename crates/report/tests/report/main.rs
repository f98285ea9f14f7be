//! Lesson, letter and plan as the player gets them.
//!
//! One program for all of them: linking one is quicker than linking one a file, and what they share is made once.
//! A new file is named here, or it does not run.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "../grade/german.rs"]
mod german_grade;
#[path = "../grade/mod.rs"]
mod grade;
#[path = "../html/mod.rs"]
mod html;
#[path = "../sample/mod.rs"]
mod sample;

mod figure;
mod german;
mod letter;
mod page;
mod practice;
mod readability;

/// The sample's swing, captured by another system.
fn captured() -> lessonwright_report::LessonContent {
    lessonwright_report::LessonContent {
        captured_within_mm: Some(20.4),
        ..sample::lesson()
    }
}
