//! Names of measures and when they are taken, as headings.

use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_model::{Measure, MeasureName, MomentName};

/// A measure's name. Displays as HTML text: "Pelvis shift".
#[derive(Clone, Copy, Debug, PartialEq, Eq, Template)]
#[template(path = "title.html")]
pub struct Title(pub MeasureName);

/// A moment's name. Displays as HTML text: "Lead arm level, coming down".
#[derive(Clone, Copy, Debug, PartialEq, Eq, Template)]
#[template(path = "moment_title.html")]
pub struct MomentTitle(pub MomentName);

/// When a measure is taken. Displays as HTML text: "From top to impact", "At top".
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

impl HtmlSafe for Title {}
impl HtmlSafe for MomentTitle {}
impl HtmlSafe for When {}
