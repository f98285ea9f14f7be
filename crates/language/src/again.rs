//! What an analysis wrote down in English when it was made, said in the language of the page.
//!
//! Analyses are kept as they were computed, reasons, findings and notes with them, in English. The English catalogue knows
//! these sentences ([`FILES_WRITTEN`]): one that fits a message is said as that message, what stood in its places filled
//! in. A sentence that no message fits stays as it was written.

use crate::catalogue::FILES;
use crate::text::Text;
use crate::{Argument, Language, Say, t, words};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Message, Pattern, PatternElement};
use fluent_syntax::parser;
use lessonwright_model::body::LANDMARKS;
use lessonwright_model::{Hand, Joint, MeasureName, MomentName, View};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The files of the catalogue with what analyses write (of the measuring, to the player, to the professional) and with
/// what goes wrong.
const FILES_WRITTEN: [&str; 4] = ["analysis", "coaching", "judged", "trouble"];

/// A sentence that was written down, or several one after another.
pub fn again(written: &str) -> Text {
    again_with(written, &|_| None)
}

/// The same, with words that the catalogue does not have: `known` says those of the trade's tables.
pub fn again_with(written: &str, known: &dyn Fn(&str) -> Option<Text>) -> Text {
    let strict = Reader::of(known);
    let trusting = strict.trusting();
    let several = |reader: Reader<'_>| {
        BETWEEN
            .into_iter()
            .find_map(|one| reader.several(written, one))
    };
    let said = strict.sentence(written).or_else(|| several(strict));
    // Words of somebody's own in a place: as little as may be.
    let said = said.or_else(|| several(trusting));
    said.or_else(|| trusting.sentence(written))
        .unwrap_or_else(|| Text::plain(written))
}

/// What went wrong, as its sources tell it: causes with colons between and a full stop behind, maybe a file's name before.
/// None if a part of it is not known.
pub fn trouble(written: &str) -> Option<Text> {
    let is_name = |part: &str| {
        part.rsplit_once('.').is_some_and(|(name, kind)| {
            let begun = !name.is_empty() && !name.contains(": ");
            begun && !kind.is_empty() && kind.bytes().all(|b| b.is_ascii_alphanumeric())
        })
    };
    let known = |part: &str| {
        // "targets.toml, target 2 (PelvisShift)": a place in a table of the studio's own, as the file has it; a line and
        // what stands at the front of a page have no name there, but a message.
        let placed = part
            .split_once(", ")
            .filter(|(file, _)| !file.contains(' '))
            .filter(|(_, place)| !["front matter", "file name"].contains(place))
            .filter(|(_, place)| !place.starts_with("line ") && !place.contains(": "));
        let is_known = is_name(part) || placed.is_some_and(|(file, _)| is_name(file));
        is_known.then(|| Text::plain(part))
    };
    let whole = written.strip_suffix('.').unwrap_or(written);
    // Pages begin it with a capital, sources don't.
    let mut letters = whole.chars();
    let small: String = letters.next()?.to_lowercase().chain(letters).collect();
    let reader = Reader::of(&known).trusting();
    let said = [whole, &small].into_iter().find_map(|one| {
        let several = reader.several(one, ": ");
        several.or_else(|| reader.sentence(one))
    })?;
    let mark = &written[whole.len()..];
    Some(Text::in_each(|language| match language {
        Language::English => written.to_owned(),
        other => Say::new(other).text(&said) + mark,
    }))
}

/// A number with its unit and way that stood in a sentence: "1.5 cm (0.6 in) away from the target".
pub fn number_again(written: &str) -> Text {
    let reader = Reader::of(&|_| None);
    reader
        .directed(written)
        .or_else(|| reader.message(written, 0))
        .unwrap_or_else(|| Text::figure(written))
}

/// What stands between sentences; some have one inside as well.
const BETWEEN: [&str; 2] = ["; ", " "];

/// A message of the English catalogue as what it looks like.
struct Sentence {
    id: &'static str,
    pieces: Vec<Piece>,
}

#[derive(Clone, Copy)]
enum Piece {
    Words(&'static str),
    Place(&'static str),
}

/// Fewest letters of a message with places that stands by itself ("{ $low } to { $high }" is within others only).
const LEAST_ALONE: usize = 6;
/// With fewer letters, what stands in the places must be known: it fits too much else.
const LEAST_TRUSTED: usize = 16;

/// Those that say most first: a short one fits much.
static SENTENCES: LazyLock<Vec<Sentence>> = LazyLock::new(|| {
    let written = FILES.iter();
    let written = written.filter(|(name, _, _)| FILES_WRITTEN.contains(name));
    let mut all: Vec<Sentence> = written
        .flat_map(|(_, english, _)| {
            let parsed = parser::parse(*english).expect("the catalogue is well formed");
            parsed.body.into_iter()
        })
        .filter_map(|entry| match entry {
            Entry::Message(message) => Some(Sentence::of(&message)),
            _ => None,
        })
        .flatten()
        // Nothing but a place fits all.
        .filter(|sentence| sentence.letters() > 0)
        .collect();
    all.sort_by_key(|sentence| std::cmp::Reverse(sentence.letters()));
    all
});

/// What stands in places besides sentences, by its English: words of the trade.
static WORDS: LazyLock<BTreeMap<String, Text>> = LazyLock::new(|| {
    let mut all: BTreeMap<String, Text> = BTreeMap::new();
    for name in MomentName::ALL {
        all.insert(name.plain().into(), words::moment(name));
        all.insert(format!("at {}", name.plain()), words::at_moment(name));
    }
    for name in MeasureName::ALL {
        all.insert(name.plain().into(), words::measure(name));
    }
    for view in [View::FaceOn, View::DownTheLine] {
        all.insert(view.to_string(), words::view(view));
    }
    for joint in (0..LANDMARKS).filter_map(Joint::from_number) {
        all.insert(joint.plain().into(), words::joint(joint));
    }
    for hand in [Hand::Right, Hand::Left] {
        all.insert(hand.to_string(), words::hand(hand));
    }
    // Grades of evidence.
    for grade in ["A", "B", "C", "D"] {
        all.insert(grade.into(), Text::plain(grade));
    }
    all
});

/// Which way a number points, by its English.
static WAYS: LazyLock<BTreeMap<String, Text>> = LazyLock::new(|| {
    let both = MeasureName::ALL.into_iter().flat_map(|name| {
        let english = name.directions().into_iter();
        english.zip([words::way(name, true), words::way(name, false)])
    });
    both.filter_map(|(english, way)| Some((format!(" {english}"), way?)))
        .collect()
});

impl Sentence {
    /// One for each way in which its plurals can come out.
    fn of(message: &Message<&'static str>) -> Vec<Sentence> {
        let pattern = message.value.as_ref().expect("a message says something");
        let ways = pieces(pattern).into_iter();
        let id = message.id.name;
        ways.map(|pieces| Sentence { id, pieces }).collect()
    }

    fn letters(&self) -> usize {
        let of = |piece: &Piece| match piece {
            Piece::Words(words) => words.len(),
            Piece::Place(_) => 0,
        };
        self.pieces.iter().map(of).sum()
    }

    fn has_places(&self) -> bool {
        self.pieces.iter().any(|one| matches!(one, Piece::Place(_)))
    }
}

fn pieces(pattern: &Pattern<&'static str>) -> Vec<Vec<Piece>> {
    let mut ways = vec![Vec::new()];
    for element in &pattern.elements {
        let next: Vec<Vec<Piece>> = match element {
            PatternElement::TextElement { value } => vec![vec![Piece::Words(value)]],
            PatternElement::Placeable { expression } => match expression {
                Expression::Inline(InlineExpression::VariableReference { id }) => {
                    vec![vec![Piece::Place(id.name)]]
                }
                Expression::Inline(_) => Vec::new(),
                Expression::Select { variants, .. } => {
                    variants.iter().flat_map(|v| pieces(&v.value)).collect()
                }
            },
        };
        let with = |way: &Vec<Piece>| {
            let way = way.clone();
            let longer = next.clone().into_iter();
            longer.map(move |more| [way.clone(), more].concat())
        };
        ways = ways.iter().flat_map(with).collect();
    }
    ways
}

/// Reads what was written.
#[derive(Clone, Copy)]
struct Reader<'a> {
    known: &'a dyn Fn(&str) -> Option<Text>,
    /// Anything may stand in the places of a message with letters enough.
    trusts: bool,
    /// Balls are read of: a top is one that was hit so.
    of_flights: bool,
}

impl<'a> Reader<'a> {
    fn of(known: &'a dyn Fn(&str) -> Option<Text>) -> Reader<'a> {
        Reader {
            known,
            trusts: false,
            of_flights: false,
        }
    }

    fn trusting(self) -> Reader<'a> {
        Reader {
            trusts: true,
            ..self
        }
    }

    /// What can stand by itself.
    fn sentence(self, written: &str) -> Option<Text> {
        (self.known)(written).or_else(|| self.message(written, LEAST_ALONE))
    }

    /// Two or more.
    fn several(self, written: &str, between: &'static str) -> Option<Text> {
        Some(Text::joined(self.list(written, between)?, between))
    }

    fn list(self, written: &str, between: &str) -> Option<Vec<Text>> {
        written.match_indices(between).find_map(|(at, _)| {
            // A space ends a sentence only behind its mark.
            if between == " " && !written[..at].ends_with(['.', '?', '!']) {
                return None;
            }
            let first = self.sentence(&written[..at])?;
            let rest = &written[at + between.len()..];
            let last = || Some(vec![self.sentence(rest)?]);
            let rest = self.list(rest, between).or_else(last)?;
            Some([first].into_iter().chain(rest).collect())
        })
    }

    /// The message of at least so many letters that fits.
    fn message(self, written: &str, least: usize) -> Option<Text> {
        SENTENCES
            .iter()
            .filter(|sentence| !sentence.has_places() || sentence.letters() >= least)
            .find_map(|sentence| {
                let reader = Reader {
                    trusts: self.trusts && sentence.letters() >= LEAST_TRUSTED,
                    ..self
                };
                reader.fits(&sentence.pieces, written, t(sentence.id))
            })
    }

    /// The message filled in with what stands in its places, if the words fit.
    fn fits(self, pieces: &[Piece], written: &str, text: Text) -> Option<Text> {
        match *pieces {
            [] => written.is_empty().then_some(text),
            [Piece::Words(words), ref more @ ..] => {
                self.fits(more, written.strip_prefix(words)?, text)
            }
            [Piece::Place(name)] => Some(text.with(name, self.filled(name, written)?)),
            [Piece::Place(name), Piece::Words(words), ref more @ ..] => {
                written.match_indices(words).find_map(|(at, _)| {
                    let rest = &written[at + words.len()..];
                    let text = self.fits(more, rest, text.clone())?;
                    Some(text.with(name, self.filled(name, &written[..at])?))
                })
            }
            [Piece::Place(_), Piece::Place(_), ..] => None,
        }
    }

    /// What stood in a place: a word of the trade, a sentence of its own, a number with its unit and way, or several of
    /// them.
    fn filled(self, place: &str, written: &str) -> Option<Argument> {
        if written.is_empty() {
            return None;
        }
        if let Ok(count) = written.parse::<i64>() {
            return Some(Argument::Count(count));
        }
        let reader = Reader {
            of_flights: self.of_flights || place.starts_with("flight"),
            ..self
        };
        let known = reader.word(written).or_else(|| reader.directed(written));
        let known = known.or_else(|| reader.words_between(written, ", "));
        let known = known.or_else(|| reader.words_between(written, "; "));
        let text = match known {
            Some(text) => text,
            None if is_figure(written) => Text::figure(written),
            None if self.trusts => Text::plain(written),
            None => return None,
        };
        Some(Argument::Text(text))
    }

    fn word(self, written: &str) -> Option<Text> {
        let of_trade = || WORDS.get(written).filter(|_| !self.of_flights).cloned();
        of_trade()
            .or_else(|| (self.known)(written))
            .or_else(|| self.message(written, 0))
    }

    /// "1.5 cm (0.6 in) away from the target".
    fn directed(self, written: &str) -> Option<Text> {
        WAYS.iter().find_map(|(english, way)| {
            let size = written.strip_suffix(english.as_str())?;
            let size = match is_figure(size) {
                true => Text::figure(size),
                false => self.message(size, 0)?,
            };
            Some(Text::joined([size, way.clone()], " "))
        })
    }

    fn words_between(self, written: &str, between: &'static str) -> Option<Text> {
        written.match_indices(between).find_map(|(at, _)| {
            let first = self.word(&written[..at])?;
            let rest = &written[at + between.len()..];
            let more = || self.words_between(rest, between);
            let rest = self.word(rest).or_else(more)?;
            Some(Text::joined([first, rest], between))
        })
    }
}

/// "−3.6", "12°", "0.20 s", "83 %".
fn is_figure(written: &str) -> bool {
    let units = [" s", " cm", " m", " %", "°"].into_iter();
    let digits = units.filter_map(|unit| written.strip_suffix(unit)).next();
    let digits = digits.unwrap_or(written);
    let digits = digits.trim_start_matches(['−', '-', '+', '±', ' ']);
    !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit() || c == '.')
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Language, Say};

    #[test]
    fn what_was_written_is_said_in_german_and_stays_in_english() {
        for (written, german) in [
            (
                "too uncertain to say anything: ± 0.15 s",
                "zu unsicher, um etwas zu sagen: ± 0,15 s",
            ),
            (
                "the shaft was not seen at lead arm level, coming down",
                "der Schaft war hier nicht zu sehen (vorderer Arm waagerecht im Abschwung)",
            ),
            (
                "stature not given: an adult's is assumed, which widens the ±; from down the line alone: the distance between the knees is assumed; a face-on clip of the same swing narrows the ±",
                "keine Größe angegeben: Die eines Erwachsenen ist angenommen, das macht das ± breiter; nur entlang der Ziellinie gefilmt: Der Abstand der Knie ist angenommen; ein Video von vorn vom selben Schwung macht das ± schmaler",
            ),
            (
                "the camera stands about 15° (± 8°) off the line of the hands, on the player's side: move it to the right by a step and a half (1.1 m) and aim it along the target line again; where the player stands open or closed on purpose, leave it",
                "die Kamera steht etwa 15° (± 8°) neben der Linie der Hände, auf der Seite des Spielers: stellen Sie sie anderthalb Schritte (1,1 m) nach rechts und richten Sie sie wieder entlang der Ziellinie aus; wo der Spieler mit Absicht offen oder geschlossen steht, lassen Sie sie",
            ),
            ("what nobody ever wrote", "what nobody ever wrote"),
        ] {
            let text = again(written);
            assert_eq!(Say::new(Language::English).text(&text), written);
            assert_eq!(Say::new(Language::German).text(&text), german);
        }
    }

    #[test]
    fn what_refuses_an_own_table_is_said_in_german() {
        for (written, german) in [
            (
                "own.toml, target 2 (PelvisShift): low 3 is not below high 1.5: swap or change them.",
                // Numbers as the file has them.
                "own.toml, target 2 (PelvisShift): low 3 liegt nicht unter high 1.5: Tauschen oder ändern Sie sie.",
            ),
            (
                "In the drills of /studio: toes_up.md, front matter: start the page with TOML between two lines of +++.",
                "In den Übungen von /studio: toes_up.md, Kopf der Seite: beginnen Sie die Seite mit TOML zwischen zwei Zeilen +++.",
            ),
            (
                "own.toml, line 7: the line \"low = 1.5, cm\" can't be read: look for a missing quotation mark, bracket or equals sign, and how other entries are written.",
                "own.toml, Zeile 7: die Zeile „low = 1.5, cm“ lässt sich nicht lesen: Fehlt ein Anführungszeichen, eine Klammer oder ein Gleichheitszeichen? Vergleichen Sie mit anderen Einträgen.",
            ),
            (
                "toes_up.md, Set up: this section is missing or empty: write it",
                "toes_up.md, Set up: dieser Abschnitt fehlt oder ist leer: Schreiben Sie ihn",
            ),
        ] {
            let text = trouble(written).unwrap_or_else(|| panic!("not known: {written}"));
            assert_eq!(Say::new(Language::English).text(&text), written);
            let said = Say::new(Language::German).text(&text);
            assert_eq!(said.to_lowercase(), german.to_lowercase());
        }
        assert!(trouble("own.toml, target 2 (PelvisShift): what nobody ever wrote").is_none());
        assert!(trouble("a b.toml, and more: it is changed twice: keep one").is_none());
    }
}
