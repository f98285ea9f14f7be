//! From measures to one priority, its drills and a prescription. Pure: same input, same output.

use crate::book::{DrillBook, DrillPage};
use crate::care::{Care, cautions};
use crate::causes::CauseTable;
use crate::chain::{chain, explains, names};
use crate::check::{how_to_film, how_to_look};
use crate::findings::{Found, Reading, find, was_measured};
use crate::flight::Told;
use crate::rank::{CONTENT_STRENGTH, Entry, Ranked, rank};
use crate::screening::{Ask, Screened, ScreeningRules};
use crate::targets::Targets;
use crate::wording::{Filling, amount, listed, range};
use jiff::Timestamp;
use lessonwright_language::{Language, Say, Text, t};
use lessonwright_model::{
    Candidate, DoseChoice, Drill, Finding, Hand, Measure, PlayerFacts, Prescription, Priority,
    PriorityChoice, Ranking, ShownBy, Teaching,
};
use std::collections::BTreeSet;

/// One swing and what is known of it.
#[derive(Clone, Copy, Debug)]
pub struct Case<'a> {
    /// Its measures.
    pub measures: &'a [Measure],
    /// What the professional saw, as keys of the cause table.
    pub seen: &'a BTreeSet<String>,
    /// The hand the player plays.
    pub hand: Hand,
    /// The player, with the usual flight, limits of the body and goals.
    pub player: &'a PlayerFacts,
    /// When it is judged: answers before a prescription grow old.
    pub now: Timestamp,
}

/// What is known of golf.
#[derive(Clone, Copy, Debug)]
pub struct Knowledge<'a> {
    /// What measures are held against.
    pub targets: &'a Targets,
    /// The drills.
    pub book: &'a DrillBook,
    /// The cause network.
    pub causes: &'a CauseTable,
    /// What may be prescribed to whom.
    pub screening: &'a ScreeningRules,
}

/// What is made of one swing's measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Coaching {
    /// Measures outside their reference: the priority's first, then by strength.
    pub findings: Vec<Finding>,
    /// The one thing to work on; none when nothing stands out ("no change advised").
    pub priority: Option<Priority>,
    /// All that could be worked on, in order, with reasons.
    pub ranking: Ranking,
    /// Drills for the priority, best first; none without a priority or when exercise is withheld.
    pub drills: Vec<Drill>,
    /// The first drill with its dose and what to reach; none when there are no drills.
    pub prescription: Option<Prescription>,
    /// For the player, when there is no prescription: why.
    pub notice: Option<String>,
}

/// Drills handed out with a priority: one to do and two to fall back on.
const MOST_DRILLS: usize = 3;

/// Judges one swing.
///
/// A measure without a target, without a number or whose interval touches its band gives no
/// finding. An unknown ball flight is told of in `would_change_it`, never guessed; keys that the cause table
/// does not know are named in the ranking's notes and count for nothing ([`CauseTable::check_keys`] refuses them
/// earlier).
pub fn coach(case: &Case<'_>, know: &Knowledge<'_>) -> Coaching {
    coach_as_chosen(case, know, &Teaching::default())
}

/// The same with what the professional chose in place of what is proposed. What was chosen and is not found any more counts
/// for nothing, and the notes say so; a dose is never more than the screening allows.
pub fn coach_as_chosen(case: &Case<'_>, know: &Knowledge<'_>, chosen: &Teaching) -> Coaching {
    let told = Told::read(case.player.usual_flight.as_deref());
    let screened = know.screening.screen(case.player, case.now);
    // What hurts is a limit of the body as well: it counts in the order and leaves drills out.
    let mut player = case.player.clone();
    player.limits.extend(screened.limits.iter().cloned());
    let case = &Case {
        player: &player,
        ..*case
    };
    let found = find(case.measures, case.seen, know.targets, know.causes);
    let ranked = rank(found.clone(), &told, case.player, know.causes);
    let say = Say::new(know.causes.language());
    let care = with_dose(&screened.care, chosen.dose, say);
    let desk = Desk {
        case: *case,
        know: *know,
        told: &told,
        care: &care,
        screened: &screened,
        chosen,
    };
    let first = desk.first(&ranked);
    let pages = first.map_or_else(Vec::new, |entry| desk.pages(&ranked, entry));
    Coaching {
        findings: desk.findings(&found, first),
        priority: first.map(|entry| desk.priority(&ranked, entry)),
        drills: first.map_or_else(Vec::new, |entry| {
            let worded = |page: &&DrillPage| page.worded_for(entry.found.body, case.hand, &care);
            pages.iter().map(worded).collect()
        }),
        prescription: first.and_then(|entry| Some(desk.prescription(entry, pages.first()?))),
        notice: desk.notice(&found, first, pages.is_empty()),
        ranking: desk.ranking(&ranked, &found, pages.first().copied()),
    }
}

/// What all answers are worded from.
pub(crate) struct Desk<'a> {
    pub(crate) case: Case<'a>,
    pub(crate) know: Knowledge<'a>,
    pub(crate) told: &'a Told,
    pub(crate) care: &'a Care,
    pub(crate) screened: &'a Screened,
    pub(crate) chosen: &'a Teaching,
}

/// As much as the screening allows, or half of it where the professional wants less.
fn with_dose(allowed: &Care, wanted: DoseChoice, say: Say) -> Care {
    match (allowed, wanted) {
        (Care::Full, DoseChoice::Half) => {
            Care::Lowered(vec![say.text(&t("coaching-because-chosen"))])
        }
        _ => allowed.clone(),
    }
}

impl Desk<'_> {
    /// The language of the table, and so of every answer.
    fn language(&self) -> Language {
        self.know.causes.language()
    }

    pub(crate) fn say(&self) -> Say {
        Say::new(self.language())
    }

    pub(crate) fn filling(&self) -> Filling {
        Filling::of(self.case.hand)
    }

    pub(crate) fn listed(&self, items: &[String]) -> String {
        listed(items, self.say())
    }

    /// The one thing: as chosen, else as ranked.
    fn first<'r, 'a>(&self, ranked: &'r Ranked<'a>) -> Option<&'r Entry<'a>> {
        match &self.chosen.priority {
            PriorityChoice::AsProposed => ranked.priority(),
            PriorityChoice::Other { fact, .. } => ranked.entry(fact).or_else(|| ranked.priority()),
            PriorityChoice::Nothing { .. } => None,
        }
    }

    fn findings(&self, found: &[Found<'_>], first: Option<&Entry<'_>>) -> Vec<Finding> {
        let mut findings: Vec<Finding> = found
            .iter()
            .filter_map(|one| one.worded(self.case.hand, self.language()))
            .collect();
        let is_first = |finding: &Finding| first.is_some_and(|entry| entry.key() == finding.key);
        findings.sort_by(|a, b| {
            let by_strength = b.strength.total_cmp(&a.strength);
            is_first(b).cmp(&is_first(a)).then(by_strength)
        });
        findings
    }

    fn priority(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Priority {
        let (chain, grade) = chain(ranked, entry, self.know.causes, self.case.hand);
        Priority {
            finding: entry.found.body.key.clone(),
            title: self.filling().fill(&entry.found.body.title),
            chain: chain.into_iter().map(|step| step.says).collect(),
            grade,
            would_change_it: self.would_change_it(ranked, entry),
        }
    }

    fn ranking(
        &self,
        ranked: &Ranked<'_>,
        found: &[Found<'_>],
        page: Option<&DrillPage>,
    ) -> Ranking {
        Ranking {
            table: self.know.causes.edition().into(),
            candidates: ranked
                .entries
                .iter()
                .map(|entry| self.candidate(ranked, entry))
                .collect(),
            unseen: ranked.unseen(),
            set_aside: self.set_aside(ranked),
            notes: self.notes(ranked, found, page),
        }
    }

    fn candidate(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Candidate {
        let (chain, grade) = chain(ranked, entry, self.know.causes, self.case.hand);
        Candidate {
            key: entry.found.body.key.clone(),
            title: self.filling().fill(&entry.found.body.title),
            shown_by: match entry.found.reading {
                Some(_) => ShownBy::Measure,
                None => ShownBy::Professional,
            },
            probability: ranked.probability(entry),
            chain,
            grade,
            why: self.why(ranked, entry),
        }
    }

    /// The drills of the chosen body fact that make no complaint worse and that no limit of the body forbids:
    /// those known to help with the complaint first, then in the cause table's order.
    fn pages(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Vec<&DrillPage> {
        if *self.care == Care::Withheld {
            return Vec::new();
        }
        let complaints = self.told.complaints();
        let drills = self.know.book.drills_of(entry.found.body);
        let mut pages: Vec<&DrillPage> = drills
            .into_iter()
            .filter(|page| !complaints.iter().any(|flight| page.harms(*flight)))
            .filter(|page| !page.is_not_with(&self.case.player.limits))
            .collect();
        if let Some(flight) = explains(ranked, entry) {
            pages.sort_by_key(|page| !page.helps_with(flight));
        }
        // The one chosen is done; the others are there to fall back on.
        pages.sort_by_key(|page| self.chosen.drill.as_deref() != Some(page.key()));
        pages.truncate(MOST_DRILLS);
        pages
    }

    fn prescription(&self, entry: &Entry<'_>, page: &DrillPage) -> Prescription {
        let hand = self.case.hand;
        let drill = page.worded_for(entry.found.body, hand, self.care);
        let goal = entry
            .found
            .reading
            .zip(drill.expected_change)
            .map(|(reading, change)| {
                (
                    reading.measure,
                    reach(reading.value, change, reading.near_edge()),
                )
            });
        Prescription {
            drill: drill.key,
            cue: drill.cue_outward,
            dose: drill.dose,
            measure: goal.map(|(measure, _)| measure.name),
            moment: goal.map_or(drill.moment, |(measure, _)| measure.moment),
            against: goal.and_then(|(measure, _)| measure.against),
            reach: goal.map(|(_, reach)| reach),
            check: match goal {
                Some((measure, reach)) => {
                    how_to_film(measure.name, measure.moment, reach, hand, self.language())
                }
                None => how_to_look(&drill.checkpoint, self.language()),
            },
            cautions: cautions(self.case.player, self.screened, self.say()),
        }
    }

    fn notice(
        &self,
        found: &[Found<'_>],
        first: Option<&Entry<'_>>,
        no_drill: bool,
    ) -> Option<String> {
        let chosen = matches!(self.chosen.priority, PriorityChoice::Nothing { .. });
        let no_change = first.is_none().then(|| match chosen {
            true => self.say().text(&t("coaching-chosen-nothing")),
            false => self.no_change(found),
        });
        let withheld = (*self.care == Care::Withheld)
            .then(|| t("coaching-withheld").with("because", self.screened.blocked.join(" ")))
            .map(|withheld| self.say().text(&withheld));
        let no_drill = (no_drill && first.is_some() && *self.care != Care::Withheld)
            .then(|| self.say().text(&t("coaching-no-drill")));
        let parts: Vec<String> = withheld
            .into_iter()
            .chain(no_change)
            .chain(no_drill)
            .collect();
        (!parts.is_empty()).then(|| parts.join(" "))
    }

    fn no_change(&self, found: &[Found<'_>]) -> String {
        let complaints = self.told.complaints();
        let mut bodies = self.know.causes.bodies().iter();
        let measured = bodies.any(|body| was_measured(body, self.case.measures));
        let why = if !measured && found.is_empty() {
            t("coaching-nothing-measured")
        } else if self.told.is_content() && !found.is_empty() {
            t("coaching-flies-as-wanted")
        } else if complaints.is_empty() {
            t("coaching-nothing-outside")
        } else {
            let flights = self.listed(&names(&complaints, self.say()));
            t("coaching-nothing-explains").with("flights", flights)
        };
        self.say().text(&why)
    }

    /// For the professional: findings in trade words, sources of the priority's links, doses, keys not known.
    fn notes(
        &self,
        ranked: &Ranked<'_>,
        found: &[Found<'_>],
        page: Option<&DrillPage>,
    ) -> Vec<String> {
        let mut lines: Vec<Text> = found
            .iter()
            .filter_map(|one| Some(self.trade_line(one.reading.as_ref()?)))
            .collect();
        lines.extend(self.chosen_note(ranked));
        match self.first(ranked) {
            Some(entry) => {
                lines.extend(self.sources(ranked, entry));
                let reading = entry.found.reading.as_ref();
                let both = reading.zip(page);
                lines.extend(both.and_then(|(r, page)| self.too_small_to_see(entry, r, page)));
                if page.is_none() && *self.care != Care::Withheld {
                    lines.push(t("judged-no-drill"));
                }
            }
            None if matches!(self.chosen.priority, PriorityChoice::Nothing { .. }) => {}
            None if found.is_empty() => lines.push(t("judged-no-finding")),
            None => {
                let widths = Text::figure(CONTENT_STRENGTH.to_string());
                lines.push(t("judged-no-priority").with("widths", widths));
            }
        }
        match self.care {
            Care::Full => {}
            Care::Lowered(reasons) => {
                lines.push(t("judged-lowered").with("because", self.listed(reasons)));
            }
            Care::Withheld => lines.push(t("judged-withheld")),
        }
        lines.extend(self.screened.ask.as_ref().map(Ask::says));
        let player = self.case.player;
        let keys = self
            .know
            .causes
            .check_keys(self.case.seen, &player.limits, &player.goals);
        let unused = keys.err().map(|problem| problem.to_string());
        lines.extend(unused.map(|problem| t("judged-unused").with("problem", problem)));
        lines.iter().map(|text| self.say().text(text)).collect()
    }

    /// That the professional chose otherwise than proposed, and why.
    fn chosen_note(&self, ranked: &Ranked<'_>) -> Option<Text> {
        let no_change = || t("judged-no-change");
        let proposed = ranked.priority();
        let proposed = proposed.map_or_else(no_change, |entry| Text::plain(entry.key()));
        let chosen = match &self.chosen.priority {
            PriorityChoice::AsProposed => return None,
            PriorityChoice::Other { fact, .. } if ranked.entry(fact).is_none() => {
                return Some(t("judged-chosen-gone").with("fact", fact));
            }
            PriorityChoice::Other { fact, .. } => Text::plain(fact),
            PriorityChoice::Nothing { .. } => no_change(),
        };
        let says = match self.chosen.priority.why().trim() {
            "" => t("judged-chosen"),
            why => t("judged-chosen-because").with("why", why),
        };
        Some(says.with("fact", chosen).with("proposed", proposed))
    }

    fn trade_line(&self, reading: &Reading<'_>) -> Text {
        let words = reading.words(self.case.hand, self.language());
        let (name, interval) = (reading.measure.name, reading.interval);
        t("judged-trade")
            .with("trade", words.fill(&reading.shown.trade))
            .with("interval", range(name, interval.low, interval.high))
            .with("widths", Text::decimal(reading.strength, 1))
    }

    /// The links of the chain with grade and source.
    fn sources(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Vec<Text> {
        let (steps, _) = chain(ranked, entry, self.know.causes, self.case.hand);
        let links = steps.windows(2).filter_map(|pair| {
            let says = match pair[1].source.as_str() {
                "" => t("judged-source-none"),
                source => t("judged-source").with("source", source),
            };
            let says = says.with("from", &pair[0].short).with("to", &pair[1].short);
            Some(says.with("grade", format!("{:?}", pair[1].grade?)))
        });
        links.collect()
    }

    fn too_small_to_see(
        &self,
        entry: &Entry<'_>,
        reading: &Reading<'_>,
        page: &DrillPage,
    ) -> Option<Text> {
        let expected = page
            .worded_for(entry.found.body, self.case.hand, self.care)
            .expected_change?;
        let step = (reach(reading.value, expected, reading.near_edge()) - reading.value).abs();
        let detectable = detectable_change((reading.interval.high - reading.interval.low) / 2.0);
        (step < detectable).then(|| {
            t("judged-small-step")
                .with("step", amount(reading.measure.name, step))
                .with("detectable", amount(reading.measure.name, detectable))
        })
    }
}

/// The least change between two films that is more than their error, from the half-width h of
/// the 95 % interval: MDC95 = 1.96·√2·SEM = √2·h, with h = 1.96·SEM holding for both films.
/// Weir 2005, J Strength Cond Res 19:231–240.
fn detectable_change(half_width: f64) -> f64 {
    std::f64::consts::SQRT_2 * half_width
}

/// From the value toward the band's nearer edge by the drill's expected change, never past it.
fn reach(value: f64, expected_change: f64, near_edge: f64) -> f64 {
    let there = near_edge - value;
    value + there.signum() * expected_change.abs().min(there.abs())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_detectable_change_agrees_with_a_published_one() {
        // Villarrasa-Sapiña et al. 2022, Sensors 22:9069: SEM 12.05 m, MDC 33.41 m.
        assert!((detectable_change(1.96 * 12.05) - 33.41).abs() < 0.02);
    }

    #[test]
    fn the_number_to_reach_stops_at_the_band() {
        let cases = [
            (0.0, 2.0, 2.5, 2.0),
            (1.5, 2.0, 2.5, 2.5),
            (14.0, -2.0, 10.7, 12.0),
        ];
        for (value, change, edge, expected) in cases {
            assert!((reach(value, change, edge) - expected).abs() < 1e-12);
        }
    }
}
