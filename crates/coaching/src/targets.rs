//! What measures are held against: bands with their source and doubt, editable as TOML.
//!
//! Values are in the measure's unit at the edge (cm, degrees, s, ratio). The standard file is
//! `data/targets.toml`, which explains the format and what was left out on purpose.

use crate::data_error::{self, DataError};
use crate::findings::same_moments;
use crate::wording::range;
use lessonwright_language::{Language, Say, Text, t};
use lessonwright_model::{Measure, MeasureName, MomentName, Unit, View};
use serde::Deserialize;

const STANDARD: &str = include_str!("../data/targets.toml");
const GERMAN: &str = include_str!("../data/de/targets.toml");

/// The references in use.
#[derive(Clone, Debug, PartialEq)]
pub struct Targets(Vec<Target>);

/// One band.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Target {
    /// The measure.
    pub measure: MeasureName,
    /// When it is taken.
    pub moment: MomentName,
    /// The moment it is held against; none for a measure that needs none.
    pub against: Option<MomentName>,
    /// Holds only for measures of this view (or of both); none for any.
    pub view: Option<View>,
    /// Unit of `low` and `high`: the measure's own.
    pub unit: Unit,
    /// Lower edge.
    pub low: f64,
    /// Upper edge, above `low`.
    pub high: f64,
    /// What kind of reference it is.
    pub basis: Basis,
    /// Where it comes from.
    pub source: String,
    /// What is doubtful about it.
    pub doubt: String,
}

/// What is said of the bands in another language.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Words {
    target: Vec<TargetWords>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TargetWords {
    measure: MeasureName,
    moment: MomentName,
    against: Option<MomentName>,
    source: String,
    doubt: String,
}

/// What kind of reference a band is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// The player's own address, with a tolerance.
    OwnAddress,
    /// Agreement among teachers; no controlled evidence located.
    CommonPractice,
    /// Worked out from published figures.
    Derived,
    /// A published figure.
    Published,
    /// The professional's own.
    Professional,
    /// An earlier or the best swing of the player.
    OwnSwing,
    /// The professional's model swings.
    ModelSwings,
}

impl Targets {
    /// The project's references.
    ///
    /// # Panics
    /// Never with the embedded file, which a test reads.
    pub fn standard() -> Targets {
        Targets::parse("targets.toml", STANDARD)
            .unwrap_or_else(|error| panic!("the embedded targets are sound: {error}"))
    }

    /// The standard file's text, to start an own one from.
    pub fn standard_toml() -> &'static str {
        STANDARD
    }

    /// Reads a targets file; `file` names it in errors.
    ///
    /// # Errors
    /// When the text is no such file, a band is empty or not finite, a unit is not the measure's,
    /// a source is missing, or two targets are for the same measure and moments.
    pub fn parse(file: &str, text: &str) -> Result<Targets, DataError> {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct File {
            #[serde(default)]
            target: Vec<Target>,
        }
        let File { target: targets } = data_error::read(file, text)?;
        for (index, target) in targets.iter().enumerate() {
            let place = format!("target {} ({:?})", index + 1, target.measure);
            check(target).map_err(|problem| DataError::content(file, &place, problem))?;
            if targets[..index]
                .iter()
                .any(|other| other.same_place(target))
            {
                let problem = "there is one for this measure and these moments already: keep one";
                return Err(DataError::content(file, place, problem));
            }
        }
        Ok(Targets(targets))
    }

    /// These targets, each replaced by `own`'s where that has one for the same measure and
    /// moments, and `own`'s others added.
    pub fn replaced_by(self, own: Targets) -> Targets {
        let mut all = self.0;
        all.retain(|target| !own.0.iter().any(|other| other.same_place(target)));
        all.extend(own.0);
        Targets(all)
    }

    /// The references said in a language. Our words stand in for our own English ones only.
    ///
    /// # Panics
    /// Never with the embedded words, which a test reads.
    pub fn in_language(mut self, language: Language) -> Targets {
        if language == Language::German {
            let words: Words = toml::from_str(GERMAN).expect("the embedded words are sound");
            let ours = Targets::standard();
            for target in &mut self.0 {
                let known = ours.0.iter().find(|known| known.same_place(target));
                let words = words.target.iter().find(|words| {
                    (words.measure, words.moment, words.against)
                        == (target.measure, target.moment, target.against)
                });
                if let (Some(known), Some(words)) = (known, words)
                    && (&known.source, &known.doubt) == (&target.source, &target.doubt)
                {
                    target.source.clone_from(&words.source);
                    target.doubt.clone_from(&words.doubt);
                }
            }
        }
        self
    }

    /// Those of these kinds.
    pub(crate) fn only(mut self, kinds: &[Basis]) -> Targets {
        self.0.retain(|target| kinds.contains(&target.basis));
        self
    }

    /// These after others: where one of the others is for a measure, it goes before.
    pub(crate) fn after(self, mut first: Vec<Target>) -> Targets {
        first.extend(self.0);
        Targets(first)
    }

    /// The band a measure is held against, if there is one.
    pub fn of(&self, measure: &Measure) -> Option<&Target> {
        self.0.iter().find(|target| {
            let own = (target.moment, target.against);
            target.measure == measure.name
                && same_moments(measure.name, (measure.moment, measure.against), own)
                && (target.view.is_none() || measure.view.is_none() || target.view == measure.view)
                && target.unit == measure.unit
        })
    }

    /// Whether some target is for this measure, from whatever view it was taken or could be.
    pub(crate) fn covers(&self, measure: &Measure) -> bool {
        let any_view = Measure {
            view: None,
            ..measure.clone()
        };
        self.of(&any_view).is_some()
    }

    /// All, in the order of the file.
    pub fn iter(&self) -> impl Iterator<Item = &Target> {
        self.0.iter()
    }
}

impl Target {
    /// Half the band's width: the unit of strength.
    pub fn half_width(&self) -> f64 {
        (self.high - self.low) / 2.0
    }

    /// The band in words: "2.5 to 10.7 cm toward the target".
    pub fn words(&self) -> Text {
        range(self.measure, self.low, self.high)
    }

    /// Source and doubt as one text.
    pub fn cited(&self, language: Language) -> String {
        let cited = t("coaching-cited")
            .with("source", &self.source)
            .with("doubt", &self.doubt);
        Say::new(language).text(&cited)
    }

    /// Whether both are for the same measure and moments.
    pub fn same_place(&self, other: &Target) -> bool {
        (self.measure, self.moment, self.against) == (other.measure, other.moment, other.against)
    }
}

fn check(target: &Target) -> Result<(), String> {
    if !(target.low.is_finite() && target.high.is_finite()) {
        return Err("low and high must be finite numbers".into());
    }
    if target.low >= target.high {
        return Err(format!(
            "low {} is not below high {}: swap or change them",
            target.low, target.high
        ));
    }
    if target.unit != target.measure.unit() {
        return Err(format!(
            "this measure comes in {:?}, not {:?}",
            target.measure.unit(),
            target.unit
        ));
    }
    if target.source.trim().is_empty() || target.doubt.trim().is_empty() {
        return Err("say where the band comes from (source) and what is doubtful (doubt)".into());
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const OWN: &str = r#"
        [[target]]
        measure = "knee_line_turn"
        moment = "lead_arm_level_down"
        against = "address"
        unit = "deg"
        low = -5.0
        high = 15.0
        basis = "professional"
        source = "my own eye"
        doubt = "my own eye"
    "#;

    #[test]
    fn every_standard_target_says_source_and_doubt() {
        let targets = Targets::standard();
        assert!(targets.iter().count() >= 5);
        for target in targets.iter() {
            assert!(
                target.source.len() > 40 && target.doubt.len() > 40,
                "{target:?}"
            );
            let common = target.basis == Basis::CommonPractice;
            assert_eq!(
                common,
                target
                    .source
                    .to_lowercase()
                    .contains("common practice, no source")
                    && target.basis != Basis::OwnAddress,
                "{target:?}"
            );
        }
    }

    #[test]
    fn the_high_edge_of_the_shift_follows_from_the_published_row() {
        // Beak et al. 2013, BioMed Eng OnLine 12:13: peak sideways speed 0.345 m/s, downswing
        // 0.31 s (reference-values A3).
        let bound_cm: f64 = 0.345 * 0.31 * 100.0;
        for target in Targets::standard()
            .iter()
            .filter(|t| t.measure == MeasureName::PelvisShift)
        {
            assert!((target.high - bound_cm).abs() < 0.05, "{target:?}");
        }
    }

    #[test]
    fn no_target_is_for_turn_or_sway_at_the_top() {
        // McTeigue et al. 1994 (reference-values A1): turn at top does not separate skill; the
        // sway figures there are flagged MEMORY L.
        use MeasureName::{ChestTurn, PelvisShift, PelvisTurn};
        let at_top = |target: &&Target| target.moment == MomentName::Top;
        for target in Targets::standard().iter().filter(at_top) {
            let turn_or_sway = matches!(target.measure, PelvisTurn | ChestTurn | PelvisShift);
            assert!(!turn_or_sway, "{target:?}");
        }
    }

    #[test]
    fn no_finding_rests_on_an_amount_that_was_only_remembered() {
        // Reference-values A1 and A4 flag as MEMORY L, never to be aimed at: pelvis open 35-45 and thorax 20-35
        // degrees at impact, side bend 25-35, forward tilt 30-45, lead knee 15-30. So of a turn or a bend only the
        // player's own address (0) may be an edge that a body fact rests on.
        use crate::causes::{CauseTable, Outside};
        let angles = [
            MeasureName::PelvisTurn,
            MeasureName::ChestTurn,
            MeasureName::ChestSideBend,
        ];
        let mut held = 0;
        for body in CauseTable::standard().bodies() {
            let Some(shown) = body.shown.as_ref().filter(|s| angles.contains(&s.measure)) else {
                continue;
            };
            let targets = Targets::standard();
            let own = |t: &&Target| body.is_shown_by(t.measure, t.moment, t.against);
            let target = targets.iter().find(own).unwrap();
            let edge = match shown.outside {
                Outside::Below => target.low,
                Outside::Above => target.high,
            };
            assert_eq!(edge, 0.0, "{}", body.key);
            held += 1;
        }
        assert!(held >= 4, "{held}");
        let remembered = [MeasureName::ChestForwardBend, MeasureName::LeadKneeFlexion];
        assert!(
            Targets::standard()
                .iter()
                .all(|t| !remembered.contains(&t.measure))
        );
    }

    #[test]
    fn an_own_target_replaces_the_standard_one() {
        let before = Targets::standard();
        let own = Targets::parse("own.toml", OWN).unwrap();
        let after = before.clone().replaced_by(own);
        assert_eq!(after.iter().count(), before.iter().count());
        let knees: Vec<_> = after
            .iter()
            .filter(|t| t.measure == MeasureName::KneeLineTurn)
            .collect();
        assert_eq!((knees.len(), knees[0].low), (1, -5.0));
    }

    #[test]
    fn a_bad_file_says_what_and_where() {
        let twice = format!("{OWN}{OWN}");
        let cases = [
            (OWN.replace("low = -5.0", "low = 20.0"), "swap"),
            (OWN.replace("low = -5.0", "low = nan"), "finite"),
            (OWN.replace("\"deg\"", "\"cm\""), "Degree"),
            (
                OWN.replace("source = \"my own eye\"", "source = \" \""),
                "where the band comes from",
            ),
            (OWN.replace("knee_line_turn", "hip_turn"), "hip_turn"),
            (OWN.replace("low =", "lowest ="), "lowest"),
            (twice, "already"),
        ];
        for (text, says) in cases {
            let error = Targets::parse("own.toml", &text).unwrap_err().to_string();
            assert!(
                error.contains("own.toml") && error.contains(says),
                "{error}"
            );
        }
    }
}
