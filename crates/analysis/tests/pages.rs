//! Every measure has its page.

use lessonwright_model::MeasureName;

#[test]
fn every_measure_is_named_on_a_page_of_docs_measures() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/measures");
    let pages: Vec<String> = std::fs::read_dir(folder)
        .expect("the pages")
        .map(|entry| entry.expect("a page").path())
        .map(|path| std::fs::read_to_string(path).expect("a page"))
        .collect();
    for name in MeasureName::ALL {
        let key = serde_json::to_value(name).expect("a name");
        let written = format!("`{}`", key.as_str().expect("a string"));
        assert!(
            pages.iter().any(|page| page.contains(&written)),
            "no page names {written}"
        );
    }
}
