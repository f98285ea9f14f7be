//! What the page says, where paper says the same. Sentences are short and in plain words: a child of twelve reads
//! them (held by a test).

use super::LessonPage;
use super::outcome::{Goal, NumberToReach, OneThing, Outcome};
use super::rows::Row;
use super::shots::{Caption, Key, Shot};
use crate::headings;
use crate::sheet::KeyLine;
use crate::when::{MomentTitle, Title};
use lessonwright_model::{CauseGrade, Hand, View};

impl LessonPage<'_> {
    pub(crate) fn title(&self) -> String {
        format!(
            "Golf lesson for {}, {}",
            self.content.player, self.content.date_text
        )
    }

    pub(crate) fn heading(&self) -> String {
        format!("A lesson for {}", self.content.player)
    }

    pub(crate) fn byline(&self) -> String {
        match self.content.coach.as_str() {
            "" => self.content.date_text.clone(),
            coach => format!("{} · from {coach}", self.content.date_text),
        }
    }

    /// Which side is which: said before either word is used.
    pub(crate) fn sides(&self) -> &'static str {
        match self.hand() {
            Hand::Right => {
                "In this lesson, lead is your left side: it is nearer the target. Trail is your right side."
            }
            Hand::Left => {
                "In this lesson, lead is your right side: it is nearer the target. Trail is your left side."
            }
        }
    }

    /// What it is about: a kicker, a heading, paragraphs.
    pub(crate) fn one_thing(&self) -> (&'static str, &str, Vec<String>) {
        let notice = self.content.analysis.notice.clone();
        match &self.outcome {
            Outcome::OneThing(one) => (
                headings::ONE_THING,
                one.priority.title.as_str(),
                one.says.into_iter().map(str::to_owned).collect(),
            ),
            Outcome::NothingToChange => {
                let plain = "No number of yours lies clearly outside its range. Keep doing what you do. Keep the numbers \
                             below: next time we compare.";
                let withheld: Vec<String> = self.withheld().into_iter().map(|n| Title(n).to_string()).collect();
                let unseen = (!withheld.is_empty()).then(|| {
                    format!(
                        "We can only speak of what the film shows. Not measured this time: {}.",
                        withheld.join("; ")
                    )
                });
                let lead = notice.unwrap_or_else(|| plain.to_owned());
                ("Today", "Nothing stands out", [lead].into_iter().chain(unseen).collect())
            }
            Outcome::TooLittleMeasured => (
                "Today",
                "The film shows too little to advise on",
                vec![
                    "None of the three checks gave a number that we trust. So we give no advice: it would be a guess. Below \
                     is why, and how to film it again."
                        .to_owned(),
                ],
            ),
        }
    }

    pub(crate) fn film_heading(&self) -> &'static str {
        match self.outcome.goal() {
            Some(_) => headings::FILM_CHECK,
            None => headings::FILM_NEXT,
        }
    }

    pub(crate) fn film_items(&self) -> Vec<String> {
        let first = match self.outcome.goal() {
            Some(goal) => vec![goal.prescription.check.clone()],
            None => vec![
                "Put the phone upright on a stand at waist height, as drawn. The whole club stays in the picture.".to_owned(),
                "Use sixty pictures a second or more. Film three swings and send them all.".to_owned(),
            ],
        };
        let rules = headings::FILM_RULES.map(str::to_owned);
        first.into_iter().chain(rules).collect()
    }

    /// The cautions that come with the prescription, or those of every practice.
    pub(crate) fn cautions(&self) -> Vec<String> {
        let own = self.outcome.cautions().to_vec();
        let said = match own.is_empty() {
            true => headings::COMMON_CAUTIONS.map(str::to_owned).to_vec(),
            false => own,
        };
        said.into_iter()
            .chain([headings::HEALTH.to_owned()])
            .collect()
    }

    pub(crate) fn how_to_read(&self) -> &'static str {
        "Each number comes with a ±. If we could know the true number, it would lie between the two ends 19 times out \
         of 20. We tried this on golfers drawn by a computer, whose every joint is known. On real golfers it may be off \
         by more. Where the ± crosses the edge of a range, it is too close to call. What the camera could not see has \
         no number. We say why."
    }

    pub(crate) fn made_by(&self) -> String {
        let content = self.content;
        let by = [content.academy.clone(), content.coach.clone()];
        let program = format!(
            "measured with Lessonwright {}",
            content.analysis.program_version
        );
        let parts = by
            .into_iter()
            .chain([program])
            .filter(|part| !part.is_empty());
        parts.collect::<Vec<_>>().join(" · ")
    }
}

impl OneThing<'_> {
    pub(crate) fn why_heading(&self) -> &'static str {
        match self.flight {
            Some(_) => headings::WHY,
            None => headings::WHY_FIRST,
        }
    }

    /// How good the evidence is.
    pub(crate) fn sure(&self) -> &'static str {
        match self.priority.grade {
            CauseGrade::A => {
                "Sure. Each step is physics, and it has been measured. Still, try it before you believe it."
            }
            CauseGrade::B => {
                "Fairly sure. Studies of groups of golfers agree. Still, try it before you believe it."
            }
            CauseGrade::C => {
                "Not very sure. There are only single studies, or studies that do not agree. Try it and see."
            }
            CauseGrade::D => {
                "It is what teachers agree on. No study has tested it. Try it and see."
            }
        }
    }
}

impl Goal<'_> {
    pub(crate) fn heading(&self) -> &'static str {
        match self.number {
            Some(_) => headings::NUMBER,
            None => headings::CHECKPOINT,
        }
    }
}

impl NumberToReach {
    /// "Pelvis shift: from the top to lead arm level, coming down." As HTML.
    pub(crate) fn about(&self) -> String {
        let when = self.when.to_string();
        format!("{}: {}.", Title(self.measure), lowered(&when))
    }
}

impl Row<'_> {
    /// "Trail elbow, lead arm level, coming down: 4.6 cm ahead of the middle of the side." As HTML.
    pub(crate) fn in_a_line(&self) -> String {
        let title = Title(self.measure.name);
        let amount = self
            .amount
            .as_ref()
            .map_or_else(String::new, ToString::to_string);
        match self.when() {
            when if when.is_whole_motion() => format!("{title}: {amount}."),
            when => format!("{title}, {}: {amount}.", lowered(&when.to_string())),
        }
    }
}

fn lowered(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().chain(letters).collect()
    })
}

impl Shot {
    pub(crate) fn title(&self) -> String {
        MomentTitle(self.moment).to_string()
    }

    /// What it shows, for those who can't see it.
    pub(crate) fn words(&self) -> String {
        format!("{}, {}", capital(self.view), self.moment.plain())
    }
}

fn capital(view: View) -> &'static str {
    match view {
        View::FaceOn => "Face-on",
        View::DownTheLine => "Down the line",
    }
}

impl Caption {
    /// "Pelvis 3.2 cm away from the target, ± 1.2 cm". As HTML.
    pub(crate) fn in_a_line(&self) -> String {
        self.to_string()
    }
}

impl Key {
    /// The kinds of line in the pictures of a view and what each is.
    pub(crate) fn lines(&self, view: &View) -> Vec<KeyLine> {
        let [before, now] = match view {
            View::FaceOn => ["middle of the hips at address", "middle of the hips now"],
            View::DownTheLine => ["knee line at address", "knee line now"],
        };
        let mut lines = Vec::new();
        if self.line {
            lines.extend([KeyLine::of("before", before), KeyLine::of("now", now)]);
        }
        if self.elbow {
            lines.extend([
                KeyLine::of("trunk-side", "middle of the trail side"),
                KeyLine {
                    ring: true,
                    ..KeyLine::of("now", "from there to the trail elbow")
                },
            ]);
        }
        lines
    }
}
