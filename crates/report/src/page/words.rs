//! What the page says, where paper says the same. Sentences are short and in plain words: a child of twelve reads
//! them (held by a test).

use super::LessonPage;
use super::outcome::{Goal, NumberToReach, OneThing, Outcome};
use super::rows::Row;
use super::shots::{Key, Shot, view_title};
use crate::said::capital;
use crate::sheet::KeyLine;
use crate::when::Title;
use lessonwright_language::{Say, Text, t, words};
use lessonwright_model::{CauseGrade, Hand, View};

impl LessonPage<'_> {
    pub(crate) fn say(&self) -> Say {
        self.content.say
    }

    fn said(&self, text: &Text) -> String {
        self.say().text(text)
    }

    pub(crate) fn title(&self) -> String {
        let title = t("lesson-title")
            .with("player", &self.content.player)
            .with("date", &self.content.date_text);
        self.said(&title)
    }

    pub(crate) fn heading(&self) -> String {
        self.said(&t("lesson-heading").with("player", &self.content.player))
    }

    pub(crate) fn byline(&self) -> String {
        match self.content.coach.as_str() {
            "" => self.content.date_text.clone(),
            coach => {
                let byline = t("lesson-byline")
                    .with("date", &self.content.date_text)
                    .with("coach", coach);
                self.said(&byline)
            }
        }
    }

    /// Which side is which: said before either word is used.
    pub(crate) fn sides(&self) -> Text {
        match self.hand() {
            Hand::Right => t("lesson-sides-right-handed"),
            Hand::Left => t("lesson-sides-left-handed"),
        }
    }

    /// What it is about: a kicker, a heading, paragraphs.
    pub(crate) fn one_thing(&self) -> (String, String, Vec<String>) {
        let notice = self.content.analysis.notice.clone();
        match &self.outcome {
            Outcome::OneThing(one) => (
                self.said(&t("lesson-one-thing")),
                one.priority.title.clone(),
                one.says.into_iter().map(str::to_owned).collect(),
            ),
            Outcome::NothingToChange => {
                let withheld: Vec<String> = self
                    .withheld()
                    .into_iter()
                    .map(|name| capital(&self.said(&Title(name).text())))
                    .collect();
                let unseen = (!withheld.is_empty())
                    .then(|| t("lesson-unseen").with("measures", withheld.join("; ")))
                    .map(|unseen| self.said(&unseen));
                let lead = notice.unwrap_or_else(|| self.said(&t("lesson-nothing-says")));
                (
                    self.said(&t("lesson-today")),
                    self.said(&t("lesson-nothing")),
                    [lead].into_iter().chain(unseen).collect(),
                )
            }
            Outcome::TooLittleMeasured => (
                self.said(&t("lesson-today")),
                self.said(&t("lesson-too-little")),
                vec![self.said(&t("lesson-too-little-says"))],
            ),
        }
    }

    /// What the ± stands for: how well it was tried, and on what.
    pub(crate) fn how_to_read(&self) -> Text {
        match self.content.captured_within_mm {
            None => t("lesson-how-to-read"),
            Some(mm) => t("lesson-how-to-read-captured").with("mm", mm.round() as i64),
        }
    }

    pub(crate) fn film_heading(&self) -> Text {
        match self.outcome.goal() {
            Some(_) => t("lesson-film-check"),
            None => t("lesson-film-next"),
        }
    }

    pub(crate) fn film_items(&self) -> Vec<String> {
        let first = match self.outcome.goal() {
            Some(goal) => vec![goal.prescription.check.clone()],
            None => vec![
                self.said(&t("lesson-film-stand")),
                self.said(&t("lesson-film-rate")),
            ],
        };
        let rules = [
            "lesson-film-still",
            "lesson-film-clothes",
            "lesson-film-rest",
        ];
        let rules = rules.map(|id| self.said(&t(id)));
        first.into_iter().chain(rules).collect()
    }

    /// The cautions that come with the prescription, or those of every practice.
    pub(crate) fn cautions(&self) -> Vec<String> {
        let own = self.outcome.cautions().to_vec();
        let said = match own.is_empty() {
            true => ["lesson-caution-warm-up", "lesson-caution-look"]
                .map(|id| self.said(&t(id)))
                .to_vec(),
            false => own,
        };
        said.into_iter()
            .chain([self.said(&t("lesson-health"))])
            .collect()
    }

    /// Whom to talk to.
    pub(crate) fn coach(&self) -> Text {
        match self.content.coach.is_empty() {
            true => t("lesson-your-professional"),
            false => Text::plain(&self.content.coach),
        }
    }

    pub(crate) fn made_by(&self) -> String {
        let content = self.content;
        let by = [content.academy.clone(), content.coach.clone()];
        let program = t("lesson-measured-with").with("version", &content.analysis.program_version);
        let parts = by
            .into_iter()
            .chain([self.said(&program)])
            .filter(|part| !part.is_empty());
        parts.collect::<Vec<_>>().join(" · ")
    }
}

impl OneThing<'_> {
    pub(crate) fn why_heading(&self) -> Text {
        match self.flight {
            Some(_) => t("lesson-why"),
            None => t("lesson-why-first"),
        }
    }

    /// How good the evidence is.
    pub(crate) fn sure(&self) -> Text {
        t(match self.priority.grade {
            CauseGrade::A => "lesson-sure-a",
            CauseGrade::B => "lesson-sure-b",
            CauseGrade::C => "lesson-sure-c",
            CauseGrade::D => "lesson-sure-d",
        })
    }
}

impl Goal<'_> {
    pub(crate) fn heading(&self) -> Text {
        match self.number {
            Some(_) => t("lesson-number"),
            None => t("lesson-checkpoint"),
        }
    }
}

impl NumberToReach {
    /// "Pelvis shift: from the top to lead arm level, coming down."
    pub(crate) fn about(&self, say: Say) -> String {
        let about = t("lesson-reach-about")
            .with("measure", Title(self.measure).text())
            .with("when", self.when.text());
        capital(&say.text(&about))
    }
}

impl Row<'_> {
    /// "Trail elbow, lead arm level, coming down: 4.6 cm ahead of the middle of the side."
    pub(crate) fn in_a_line(&self, say: Say) -> String {
        let when = self.when();
        let line = match when.is_whole_motion() {
            true => t("lesson-in-a-line"),
            false => t("lesson-in-a-line-at").with("when", when.text()),
        };
        let amount = self
            .amount
            .as_ref()
            .map_or_else(|| Text::plain(""), |amount| amount.text());
        let line = line
            .with("measure", Title(self.measure.name).text())
            .with("amount", amount);
        capital(&say.text(&line))
    }
}

impl Shot {
    /// What it shows, for those who can't see it.
    pub(crate) fn words(&self) -> Text {
        t("lesson-shot")
            .with("view", view_title(self.view))
            .with("moment", words::moment(self.moment))
    }
}

impl Key {
    /// The kinds of line in the pictures of a view and what each is.
    pub(crate) fn lines(&self, view: &View) -> Vec<KeyLine> {
        let [before, now] = match view {
            View::FaceOn => ["lesson-line-hips-before", "lesson-line-hips-now"],
            View::DownTheLine => ["lesson-line-knees-before", "lesson-line-knees-now"],
        };
        let mut lines = Vec::new();
        if self.line {
            lines.extend([KeyLine::of("before", t(before)), KeyLine::of("now", t(now))]);
        }
        if self.elbow {
            lines.extend([
                KeyLine::of("trunk-side", t("lesson-line-trunk-side")),
                KeyLine {
                    ring: true,
                    ..KeyLine::of("now", t("lesson-line-elbow"))
                },
            ]);
        }
        lines
    }
}
