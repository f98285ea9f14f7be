//! Search: players, lessons, swings, notes and drills by the words in them, in the languages that the academy speaks.
//!
//! The index has a column for each language. Triggers keep it, and say what is kept in English by a table of words
//! ([`Store::offer_words`]).
//!
//! SQLite's FTS5: the beginning of a word is enough, accents don't matter (Unicode folding), and a word that
//! nobody has is taken for those that are one slip away, two in words of eight letters and more (optimal string
//! alignment: a letter missing, too many, another one, or two changed about) and begin with the same letter.

use crate::error::{StoreError, during};
use crate::store::Store;
use lessonwright_model::Language;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;
use std::collections::BTreeSet;

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FoundKind {
    /// A player.
    Player,
    /// A lesson.
    Lesson,
    /// A swing.
    Swing,
    /// A note on a player.
    Note,
    /// A drill of the book, as it was offered last.
    Drill,
}

/// One thing that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Which kind.
    pub kind: FoundKind,
    /// Its key; of a drill its place in the book, from 0.
    pub key: i64,
    /// Its title: a name.
    pub title: String,
    /// In the studio's language the words around what was found, those found between [`Found::MARKS`].
    pub excerpt: String,
    /// Of a note the player's key.
    pub player: Option<i64>,
}

/// What of a drill is searched.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillWords {
    /// The title.
    pub title: String,
    /// All its text in each language.
    pub texts: [String; Language::ALL.len()],
}

/// How what is kept in English, or by a key, is said in a language.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Said {
    /// The language.
    pub language: Language,
    /// As it is kept: the title of a priority or a drill, a key of a club, a flight.
    pub written: String,
    /// As it is read.
    pub words: String,
}

impl Found {
    /// What stands before and after a found word: characters that no text has.
    pub const MARKS: [char; 2] = ['\u{2}', '\u{3}'];
}

impl FoundKind {
    /// All, in the order in which they are shown.
    pub const ALL: [FoundKind; 5] = [
        FoundKind::Player,
        FoundKind::Lesson,
        FoundKind::Swing,
        FoundKind::Note,
        FoundKind::Drill,
    ];

    /// Keys of this kind lie between this number times 2^40 and the next.
    fn number(self) -> i64 {
        match self {
            FoundKind::Player => 1,
            FoundKind::Lesson => 2,
            FoundKind::Swing => 3,
            FoundKind::Note => 4,
            FoundKind::Drill => 5,
        }
    }

    fn first_row(self) -> i64 {
        self.number() << 40
    }

    /// Of lessons and swings the latest come first: their words say little of which is meant, and to rank all of
    /// a roster's takes long.
    fn by_age(self) -> bool {
        matches!(self, FoundKind::Lesson | FoundKind::Swing)
    }
}

impl Store {
    /// Everything that has all the words, kind by kind, at most so many of each. Nothing is found for no word.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn search(&self, text: &str, most: usize) -> Result<Vec<Found>, StoreError> {
        let words = match_words(text);
        if words.is_empty() {
            return Ok(Vec::new());
        }
        let asked = self.near_words(&words).await?;
        let mut all = Vec::new();
        for kind in FoundKind::ALL {
            all.extend(self.search_kind(kind, &asked, most).await?);
        }
        Ok(all)
    }

    async fn search_kind(
        &self,
        kind: FoundKind,
        asked: &str,
        most: usize,
    ) -> Result<Vec<Found>, StoreError> {
        let [open, close] = Found::MARKS;
        let language = self.studio_language().await?.unwrap_or_default();
        let column = Language::ALL.iter().position(|one| *one == language);
        // A name weighs more than what is said of it.
        let order = match kind.by_age() {
            true => "rowid DESC",
            false => "bm25(search, 10.0), rowid",
        };
        let text = format!(
            "SELECT rowid, title, snippet(search, ?, ?, ?, '…', 16) AS excerpt,
                    (SELECT player_id FROM notes WHERE notes.id = search.rowid - (4 << 40)) AS player
             FROM search WHERE search MATCH ? AND rowid BETWEEN ? AND ? ORDER BY {order} LIMIT ?"
        );
        let rows = sqlx::query(sqlx::AssertSqlSafe(text))
            // Behind the title.
            .bind(column.map(|at| 1 + at as i64))
            .bind(open.to_string())
            .bind(close.to_string())
            .bind(asked.to_owned())
            .bind(kind.first_row())
            .bind(kind.first_row() + (1 << 40) - 1)
            .bind(i64::try_from(most).unwrap_or(i64::MAX))
            .fetch_all(&self.pool)
            .await
            .map_err(during("search"))?;
        let of = |row: &SqliteRow| Found {
            kind,
            key: row.get::<i64, _>("rowid") - kind.first_row(),
            title: row.get("title"),
            excerpt: row.get("excerpt"),
            player: row.get("player"),
        };
        Ok(rows.iter().map(of).collect())
    }

    /// The drills to be found, in the order of the book, in place of those before.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn offer_drills(&self, drills: &[DrillWords]) -> Result<(), StoreError> {
        let failed = || during("note the drills for the search");
        let first = FoundKind::Drill.first_row();
        let mut change = self.pool.begin().await.map_err(failed())?;
        sqlx::query("DELETE FROM search WHERE rowid >= ?")
            .bind(first)
            .execute(&mut *change)
            .await
            .map_err(failed())?;
        for (row, drill) in (first..).zip(drills) {
            let [english, german] = &drill.texts;
            sqlx::query("INSERT INTO search (rowid, title, en, de) VALUES (?, ?, ?, ?)")
                .bind(row)
                .bind(&drill.title)
                .bind(english)
                .bind(german)
                .execute(&mut *change)
                .await
                .map_err(failed())?;
        }
        change.commit().await.map_err(failed())
    }

    /// How what is kept is said, in place of what was offered before. Only what reads otherwise now is written again, so
    /// the same words cost nothing.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn offer_words(&self, said: &BTreeSet<Said>) -> Result<(), StoreError> {
        let failed = || during("note the words for the search");
        let mut change = self.pool.begin().await.map_err(failed())?;
        let known = "SELECT language, written, words FROM search_said";
        let known: Vec<(String, String, String)> = sqlx::query_as(known)
            .fetch_all(&mut *change)
            .await
            .map_err(failed())?;
        let known = known.into_iter().filter_map(|(tag, written, words)| {
            Some(Said {
                language: Language::of_tag(&tag)?,
                written,
                words,
            })
        });
        if known.collect::<BTreeSet<Said>>() == *said {
            return Ok(());
        }
        sqlx::query("DELETE FROM search_said")
            .execute(&mut *change)
            .await
            .map_err(failed())?;
        for one in said {
            sqlx::query("INSERT INTO search_said (language, written, words) VALUES (?, ?, ?)")
                .bind(one.language.tag())
                .bind(&one.written)
                .bind(&one.words)
                .execute(&mut *change)
                .await
                .map_err(failed())?;
        }
        // To overwrite what stood in the index row by row takes a hundred times as long as to write it anew as a whole, where
        // it is gone as well.
        for command in [
            "INSERT INTO search (search, rank) VALUES ('secure-delete', 0)",
            READ_PLAYERS_AGAIN,
            READ_LESSONS_AGAIN,
            READ_SWINGS_AGAIN,
            "INSERT INTO search (search) VALUES ('rebuild')",
            "INSERT INTO search (search, rank) VALUES ('secure-delete', 1)",
        ] {
            sqlx::query(command)
                .execute(&mut *change)
                .await
                .map_err(failed())?;
        }
        change.commit().await.map_err(failed())
    }

    /// The words as FTS5 asks for them, in names and in the languages of the academy: each with whatever begins like it,
    /// or, where nothing does, with the words that are nearly it.
    pub(crate) async fn near_words(&self, words: &[String]) -> Result<String, StoreError> {
        let columns = self.columns().await?;
        let mut asked = Vec::new();
        for word in words {
            let mut near = vec![format!("\"{word}\"*")];
            if !self.begins_a_word(&columns, word).await? {
                near.extend(self.nearly(word).await?);
            }
            asked.push(format!("({})", near.join(" OR ")));
        }
        Ok(format!("{columns} : ({})", asked.join(" AND ")))
    }

    /// Names, and what is said in the studio's language and in those that players are spoken to: a studio that speaks one
    /// language does not find the words of another.
    async fn columns(&self) -> Result<String, StoreError> {
        let tags: Vec<String> =
            sqlx::query_scalar("SELECT DISTINCT language FROM players WHERE language IS NOT NULL")
                .fetch_all(&self.pool)
                .await
                .map_err(during("see which languages are spoken"))?;
        let mut spoken: BTreeSet<Language> = tags
            .iter()
            .filter_map(|tag| Language::of_tag(tag))
            .collect();
        spoken.insert(self.studio_language().await?.unwrap_or_default());
        let columns = spoken.into_iter().map(Language::tag);
        let columns: Vec<&str> = ["title"].into_iter().chain(columns).collect();
        Ok(format!("{{{}}}", columns.join(" ")))
    }

    async fn begins_a_word(&self, columns: &str, word: &str) -> Result<bool, StoreError> {
        sqlx::query_scalar("SELECT EXISTS (SELECT 1 FROM search WHERE search MATCH ?)")
            .bind(format!("{columns} : \"{word}\"*"))
            .fetch_one(&self.pool)
            .await
            .map_err(during("look for a word"))
    }

    /// Words of the index that are a slip away.
    async fn nearly(&self, word: &str) -> Result<Vec<String>, StoreError> {
        let word = folded(word);
        let slips = slips(&word);
        if slips == 0 {
            return Ok(Vec::new());
        }
        // Only those that begin with the same letter: to look through all takes long on a large roster.
        let first: String = word.chars().take(1).collect();
        let terms: Vec<String> =
            sqlx::query_scalar("SELECT term FROM search_words WHERE term >= ? AND term < ?")
                .bind(first.clone())
                .bind(first + "\u{10FFFF}")
                .fetch_all(&self.pool)
                .await
                .map_err(during("read the words of the index"))?;
        let mut near: Vec<(usize, String)> = terms
            .into_iter()
            .filter_map(|term| Some((slips_between(&word, &term, slips)?, term)))
            .collect();
        near.sort();
        let near = near.into_iter().take(MOST_NEAR);
        Ok(near.map(|(_, term)| format!("\"{term}\"*")).collect())
    }
}

// Have the index hold what reads otherwise than it does, by kind as in the keys; what a person wrote in a note is said by nobody.
const READ_PLAYERS_AGAIN: &str = "INSERT INTO search_again
    SELECT DISTINCT 1, id FROM search_of_players AS now JOIN search ON search.rowid = (1 << 40) + id
    WHERE body IS NOT iif(now.language = 'en', search.en, search.de)";
const READ_LESSONS_AGAIN: &str = "INSERT INTO search_again
    SELECT DISTINCT 2, id FROM search_of_lessons AS now JOIN search ON search.rowid = (2 << 40) + id
    WHERE body IS NOT iif(now.language = 'en', search.en, search.de)";
const READ_SWINGS_AGAIN: &str = "INSERT INTO search_again
    SELECT DISTINCT 3, id FROM search_of_swings AS now JOIN search ON search.rowid = (3 << 40) + id
    WHERE body IS NOT iif(now.language = 'en', search.en, search.de)";

/// So many words are taken for one that nobody has.
const MOST_NEAR: usize = 8;

/// Words as they are looked for: letters and digits; all else separates.
pub(crate) fn match_words(text: &str) -> Vec<String> {
    // As many as a person types; more would be a text pasted by mistake.
    const MOST_WORDS: usize = 8;
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .take(MOST_WORDS)
        .map(str::to_owned)
        .collect()
}

/// A word as the index has it: small letters without accents.
fn folded(word: &str) -> String {
    // Those of the languages that are written with Latin letters (Unicode, Latin-1 and Latin Extended-A: what decomposes).
    const ACCENTED: [&str; 18] = [
        "aàáâãäåāăą",
        "cçćĉċč",
        "dď",
        "eèéêëēĕėęě",
        "gĝğġģ",
        "hĥ",
        "iìíîïĩīĭį",
        "jĵ",
        "kķ",
        "lĺļľ",
        "nñńņň",
        "oòóôõöōŏő",
        "rŕŗř",
        "sśŝşš",
        "tţť",
        "uùúûüũūŭůűų",
        "wŵ",
        "yýÿŷ",
    ];
    let bare = |letter: char| {
        let of = ACCENTED.iter().find(|letters| letters.contains(letter));
        of.and_then(|letters| letters.chars().next())
            .unwrap_or(letter)
    };
    word.to_lowercase().chars().map(bare).collect()
}

/// How many slips are forgiven in a word: none in one so short that it would become any other.
fn slips(word: &str) -> usize {
    match word.chars().count() {
        0..=3 => 0,
        4..=7 => 1,
        _ => 2,
    }
}

/// The slips between a word and the term, or the term's beginning, if they are few enough.
fn slips_between(word: &str, term: &str, most: usize) -> Option<usize> {
    let letters = word.chars().count();
    let lengths = term.chars().count();
    if lengths + most < letters {
        return None;
    }
    let beginning: String = term.chars().take(letters).collect();
    let slips = strsim::osa_distance(word, term).min(strsim::osa_distance(word, &beginning));
    (slips <= most).then_some(slips)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_forgiven_in_words_long_enough_to_have_one() {
        for (word, term, expected) in [
            ("hallam", "hallam", Some(0)),
            ("halam", "hallam", Some(1)),
            ("hlalam", "hallam", Some(1)),
            ("soren", "søren", Some(1)),
            ("ostran", "øst", None),
            ("okonedo", "okonedoharts", Some(0)),
            ("okenedoh", "okonedohart", Some(1)),
            ("wren", "wran", Some(1)),
            ("hallam", "wren", None),
        ] {
            assert_eq!(
                slips_between(word, term, slips(word)),
                expected,
                "{word} {term}"
            );
        }
        assert_eq!(slips("tom"), 0);
    }

    #[test]
    fn accents_are_no_slips() {
        for (word, expected) in [("HÜTFE", "hutfe"), ("Šárka", "sarka"), ("søren", "søren")] {
            assert_eq!(folded(word), expected);
        }
    }

    #[test]
    fn whatever_is_typed_becomes_words_only() {
        assert_eq!(
            match_words("  \"Tom\" OR (x* NEAR/2 -y)"),
            ["Tom", "OR", "x", "NEAR", "2", "y"]
        );
        assert!(match_words("\"*()^:").is_empty());
    }
}
