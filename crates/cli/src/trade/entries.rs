//! Single entries of a professional's own table, put in and taken out with everything else of the file – order, comments,
//! spaces – as it was.

use anyhow::{Context, Result};
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, Value};

/// What tells one entry from the others: key and value, or that there is no such key.
pub type Marks<'a> = [(&'a str, Option<String>)];

/// The text with this entry of `[[array]]`, in place of one of the same marks.
pub fn put(
    text: &str,
    array: &str,
    marks: &Marks<'_>,
    fields: Vec<(&str, Value)>,
) -> Result<String> {
    let mut file = read(text)?;
    let entries = entries(&mut file, array)?;
    let mut entry = Table::new();
    for (key, mark) in marks {
        if let Some(mark) = mark {
            entry.insert(key, Item::Value(mark.as_str().into()));
        }
    }
    for (key, value) in fields {
        entry.insert(key, Item::Value(value));
    }
    let known = entries.iter().position(|entry| is(entry, marks));
    match known {
        Some(place) => {
            if let Some(there) = entries.get_mut(place) {
                *entry.decor_mut() = there.decor().clone();
                entry.set_position(there.position());
                *there = entry;
            }
        }
        None => entries.push(entry),
    }
    Ok(file.to_string())
}

/// The text without the entry of these marks.
pub fn take_out(text: &str, array: &str, marks: &Marks<'_>) -> Result<String> {
    let mut file = read(text)?;
    entries(&mut file, array)?.retain(|entry| !is(entry, marks));
    Ok(file.to_string())
}

fn read(text: &str) -> Result<DocumentMut> {
    text.parse().context("reading the table")
}

fn entries<'f>(file: &'f mut DocumentMut, array: &str) -> Result<&'f mut ArrayOfTables> {
    let empty = || Item::ArrayOfTables(ArrayOfTables::new());
    let item = file.entry(array).or_insert_with(empty);
    let entries = item.as_array_of_tables_mut();
    entries.with_context(|| format!("{array} is no list of tables: write [[{array}]]"))
}

fn is(entry: &Table, marks: &Marks<'_>) -> bool {
    let value = |key: &str| entry.get(key).and_then(Item::as_str);
    marks
        .iter()
        .all(|(key, mark)| value(key) == mark.as_deref())
}

#[cfg(test)]
mod tests {
    use super::*;

    const OWN: &str = "# Mine, since the new mat.\n\n[[target]]\nmeasure = \"a\" # seen\nlow = 1.0\n\n# The other one.\n[[target]]\nmeasure = \"b\"\nat = \"top\"\nlow = 2.0\n";

    fn marks(measure: &str, at: Option<&str>) -> Vec<(&'static str, Option<String>)> {
        vec![
            ("measure", Some(measure.into())),
            ("at", at.map(String::from)),
        ]
    }

    #[test]
    fn an_entry_is_changed_and_the_rest_of_the_file_stays() {
        let text = put(
            OWN,
            "target",
            &marks("b", Some("top")),
            vec![("low", 3.5.into())],
        )
        .unwrap();
        assert_eq!(text, OWN.replace("low = 2.0", "low = 3.5"));
        let text = put(OWN, "target", &marks("b", None), vec![("low", 9.0.into())]).unwrap();
        assert!(
            text.starts_with(OWN.trim_end()) && text.contains("low = 9.0"),
            "{text}"
        );
        let out = take_out(&text, "target", &marks("b", None)).unwrap();
        assert_eq!(out.trim_end(), OWN.trim_end());
    }

    #[test]
    fn a_new_file_begins_with_its_first_entry() {
        let text = put("", "target", &marks("a", None), vec![("low", 1.0.into())]).unwrap();
        assert_eq!(text, "[[target]]\nmeasure = \"a\"\nlow = 1.0\n");
    }
}
