//! Writes the pages of an invented player to a folder, to be looked at in a browser:
//! `cargo run -p lessonwright-report --example sample_lesson -- FOLDER`.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "../tests/sample/mod.rs"]
mod sample;

use lessonwright_report::lesson_page;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args()
        .nth(1)
        .ok_or("say which folder to write to")?;
    for (name, content) in [
        ("one-thing", sample::lesson()),
        ("left-handed", sample::left_handed()),
        ("nothing-to-change", sample::nothing_to_change()),
        ("too-little", sample::too_little()),
    ] {
        let page = lesson_page(&content)?;
        let path = std::path::Path::new(&folder).join(format!("{name}.html"));
        println!("{} bytes: {}", page.len(), path.display());
        std::fs::write(path, page)?;
    }
    Ok(())
}
