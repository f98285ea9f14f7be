//! What an analysis wrote down in English when it was made, said in the language of the page.
//!
//! Analyses are kept as they were computed, reasons and warnings with them, in English. The English catalogue knows
//! these sentences (`analysis.ftl`): one that fits a message is said as that message, what stood in its places filled
//! in. A sentence that no message fits stays as it was written.

use crate::catalogue::FILES;
use crate::text::Text;
use crate::{t, words};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Message, PatternElement};
use fluent_syntax::parser;
use lessonwright_model::{Hand, MomentName, View};
use std::sync::LazyLock;

/// The file of the catalogue with what analyses write.
pub const FILE: &str = "analysis";

/// A sentence that was written down, or several with semicolons between.
pub fn again(written: &str) -> Text {
    match several(written) {
        Some(texts) => Text::joined(texts, BETWEEN),
        None => Text::plain(written),
    }
}

/// What analyses put between sentences; some have one inside as well.
const BETWEEN: &str = "; ";

fn several(written: &str) -> Option<Vec<Text>> {
    if let Some(text) = one(written) {
        return Some(vec![text]);
    }
    written.match_indices(BETWEEN).find_map(|(at, _)| {
        let first = one(&written[..at])?;
        let rest = several(&written[at + BETWEEN.len()..])?;
        Some([first].into_iter().chain(rest).collect())
    })
}

fn one(written: &str) -> Option<Text> {
    SENTENCES.iter().find_map(|sentence| sentence.fits(written))
}

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

/// Those that say most first: a short one fits much.
static SENTENCES: LazyLock<Vec<Sentence>> = LazyLock::new(|| {
    let (_, english, _) = FILES
        .iter()
        .find(|(name, _, _)| *name == FILE)
        .expect("the catalogue has what analyses write");
    let parsed = parser::parse(*english).expect("the catalogue is well formed");
    let mut all: Vec<Sentence> = parsed
        .body
        .iter()
        .filter_map(|entry| match entry {
            Entry::Message(message) => Sentence::of(message),
            _ => None,
        })
        .collect();
    all.sort_by_key(|sentence| std::cmp::Reverse(sentence.letters()));
    all
});

impl Sentence {
    fn of(message: &Message<&'static str>) -> Option<Sentence> {
        let pieces = message.value.as_ref()?.elements.iter().map(|element| {
            Some(match element {
                PatternElement::TextElement { value } => Piece::Words(value),
                PatternElement::Placeable {
                    expression: Expression::Inline(InlineExpression::VariableReference { id }),
                } => Piece::Place(id.name),
                PatternElement::Placeable { .. } => return None,
            })
        });
        Some(Sentence {
            id: message.id.name,
            pieces: pieces.collect::<Option<_>>()?,
        })
    }

    fn letters(&self) -> usize {
        let of = |piece: &Piece| match piece {
            Piece::Words(words) => words.len(),
            Piece::Place(_) => 0,
        };
        self.pieces.iter().map(of).sum()
    }

    /// The message filled in with what stands in its places, if the words fit.
    fn fits(&self, written: &str) -> Option<Text> {
        let mut text = t(self.id);
        let mut rest = written;
        let mut place = None;
        for piece in &self.pieces {
            match (*piece, place.take()) {
                (Piece::Words(words), None) => rest = rest.strip_prefix(words)?,
                (Piece::Words(words), Some(name)) => {
                    let at = rest.find(words)?;
                    text = text.with(name, filled(&rest[..at])?);
                    rest = &rest[at + words.len()..];
                }
                (Piece::Place(name), _) => place = Some(name),
            }
        }
        match place {
            Some(name) => Some(text.with(name, filled(rest)?)),
            None => rest.is_empty().then_some(text),
        }
    }
}

/// What stood in a place: a word of the trade, a sentence of its own, or a number with its unit.
fn filled(written: &str) -> Option<Text> {
    if written.is_empty() {
        return None;
    }
    let moment = MomentName::ALL
        .into_iter()
        .find(|one| one.plain() == written)
        .map(words::moment);
    let view = [View::FaceOn, View::DownTheLine]
        .into_iter()
        .find(|one| one.to_string() == written)
        .map(words::view);
    let hand = [Hand::Right, Hand::Left]
        .into_iter()
        .find(|one| one.to_string() == written)
        .map(words::hand);
    let known = moment.or(view).or(hand).or_else(|| one(written));
    Some(known.unwrap_or_else(|| Text::figure(written)))
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
}
