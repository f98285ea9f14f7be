//! Names of measures and when they are taken, as headings.

use crate::said::filters;
use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Text, t, words};
use lessonwright_model::{Measure, MeasureName, MomentName};

/// A measure's name. In a page it is HTML text: "Pelvis shift".
#[derive(Clone, Copy, Debug, PartialEq, Eq, Template)]
#[template(path = "title.html")]
pub struct Title(pub MeasureName);

/// When a measure is taken. In a page it is HTML text: "From top to impact", "At top".
#[derive(Clone, Copy, Debug, PartialEq, Eq, Template)]
#[template(path = "when.html")]
pub struct When {
    name: MeasureName,
    moment: MomentName,
    against: Option<MomentName>,
}

impl When {
    /// When this measure is taken.
    pub fn of(measure: &Measure) -> When {
        When::new(measure.name, measure.moment, measure.against)
    }

    /// When a measure of this name at this moment is taken.
    pub fn new(name: MeasureName, moment: MomentName, against: Option<MomentName>) -> When {
        When {
            name,
            moment,
            against,
        }
    }

    /// True for a measure of the whole motion, which is displayed by its name.
    pub fn is_whole_motion(&self) -> bool {
        self.name.is_timing()
    }

    /// Where a stretch of the swing starts; `None` for what is held against address.
    fn start(&self) -> Option<MomentName> {
        self.against.filter(|a| *a != MomentName::Address)
    }
}

impl Title {
    /// The name inside a sentence.
    pub fn text(&self) -> Text {
        words::measure(self.0)
    }
}

impl When {
    /// When, inside a sentence: "from the top to impact"; a measure of the whole motion by its name.
    pub fn text(&self) -> Text {
        if self.is_whole_motion() {
            return words::measure(self.name);
        }
        match self.start() {
            Some(start) => t("lesson-from-to")
                .with("from", from(start))
                .with("to", to(self.moment)),
            None => at(self.moment),
        }
    }
}

fn at(moment: MomentName) -> Text {
    t(match moment {
        MomentName::Address => "lesson-at-address",
        MomentName::ShaftLevelBack => "lesson-at-shaft-level-back",
        MomentName::LeadArmLevelBack => "lesson-at-lead-arm-level-back",
        MomentName::Top => "lesson-at-top",
        MomentName::LeadArmLevelDown => "lesson-at-lead-arm-level-down",
        MomentName::ShaftLevelDown => "lesson-at-shaft-level-down",
        MomentName::Impact => "lesson-at-impact",
        MomentName::Finish => "lesson-at-finish",
    })
}

fn from(moment: MomentName) -> Text {
    t(match moment {
        MomentName::Address => "lesson-from-address",
        MomentName::ShaftLevelBack => "lesson-from-shaft-level-back",
        MomentName::LeadArmLevelBack => "lesson-from-lead-arm-level-back",
        MomentName::Top => "lesson-from-top",
        MomentName::LeadArmLevelDown => "lesson-from-lead-arm-level-down",
        MomentName::ShaftLevelDown => "lesson-from-shaft-level-down",
        MomentName::Impact => "lesson-from-impact",
        MomentName::Finish => "lesson-from-finish",
    })
}

fn to(moment: MomentName) -> Text {
    t(match moment {
        MomentName::Address => "lesson-to-address",
        MomentName::ShaftLevelBack => "lesson-to-shaft-level-back",
        MomentName::LeadArmLevelBack => "lesson-to-lead-arm-level-back",
        MomentName::Top => "lesson-to-top",
        MomentName::LeadArmLevelDown => "lesson-to-lead-arm-level-down",
        MomentName::ShaftLevelDown => "lesson-to-shaft-level-down",
        MomentName::Impact => "lesson-to-impact",
        MomentName::Finish => "lesson-to-finish",
    })
}

impl HtmlSafe for Title {}
impl HtmlSafe for When {}
