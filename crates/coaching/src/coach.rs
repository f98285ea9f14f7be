//! From measures to one priority, its drills and a prescription. Pure: same input, same output.

use crate::book::{DrillBook, DrillPage};
use crate::care::{Care, WITHHELD, cautions};
use crate::causes::CauseTable;
use crate::check::{how_to_film, view_for};
use crate::choose::{CONTENT_STRENGTH, Choice, choose};
use crate::findings::{Found, find, shows, was_measured};
use crate::flight::{Flight, Told};
use crate::targets::Targets;
use crate::wording::{Filling, amount, listed, range};
use lessonwright_model::{
    CauseGrade, Drill, Finding, Hand, Measure, PlayerFacts, Prescription, Priority,
};

/// What is made of one swing's measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Coaching {
    /// Measures outside their reference: the priority's first, then by strength.
    pub findings: Vec<Finding>,
    /// The one thing to work on; none when nothing stands out ("no change advised").
    pub priority: Option<Priority>,
    /// Drills for the priority, best first; none without a priority or when exercise is withheld.
    pub drills: Vec<Drill>,
    /// The first drill with its dose and the number to reach; none when there are no drills.
    pub prescription: Option<Prescription>,
    /// For the player, when there is no prescription: why.
    pub notice: Option<String>,
    /// For the professional, in trade words: each finding, why this priority, grades and sources.
    pub for_professional: Vec<String>,
}

/// Drills handed out with a priority: one to do and two to fall back on.
const MOST_DRILLS: usize = 3;

/// Judges the measures of one swing of a player who plays `hand`.
///
/// A measure without a target, without a number or whose interval touches its band gives no
/// finding. An unknown ball flight is told of in `would_change_it`, never guessed.
pub fn coach(
    measures: &[Measure],
    hand: Hand,
    player: &PlayerFacts,
    targets: &Targets,
    book: &DrillBook,
    causes: &CauseTable,
) -> Coaching {
    let told = Told::read(player.usual_flight.as_deref());
    let care = Care::of(player);
    let found = find(measures, targets, causes);
    let choice = choose(&found, &told, causes);
    let desk = Desk {
        measures,
        hand,
        player,
        told: &told,
        care: &care,
        targets,
        book,
        causes,
    };

    let pages = choice
        .as_ref()
        .map_or_else(Vec::new, |choice| desk.pages(choice));
    Coaching {
        findings: desk.findings(&found, choice.as_ref()),
        priority: choice.as_ref().map(|choice| desk.priority(choice)),
        drills: pages.iter().map(|page| page.worded(hand, &care)).collect(),
        prescription: choice
            .as_ref()
            .and_then(|choice| Some(desk.prescription(choice, pages.first()?))),
        notice: desk.notice(&found, choice.as_ref()),
        for_professional: desk.for_professional(&found, choice.as_ref(), pages.first().copied()),
    }
}

/// What all answers are worded from.
struct Desk<'a> {
    measures: &'a [Measure],
    hand: Hand,
    player: &'a PlayerFacts,
    told: &'a Told,
    care: &'a Care,
    targets: &'a Targets,
    book: &'a DrillBook,
    causes: &'a CauseTable,
}

impl Desk<'_> {
    fn findings(&self, found: &[Found<'_>], choice: Option<&Choice<'_>>) -> Vec<Finding> {
        let first = choice.map(|choice| choice.found.body.key.as_str());
        let (mut chosen, rest): (Vec<&Found<'_>>, Vec<&Found<'_>>) = found
            .iter()
            .partition(|one| Some(one.body.key.as_str()) == first);
        chosen.extend(rest);
        chosen
            .into_iter()
            .map(|one| one.worded(self.hand))
            .collect()
    }

    fn priority(&self, choice: &Choice<'_>) -> Priority {
        let (chain, grade) = self.chain(choice);
        Priority {
            finding: choice.found.body.key.clone(),
            title: Filling::of(self.hand).fill(&choice.found.body.title),
            chain,
            grade,
            would_change_it: self.would_change_it(choice),
        }
    }

    /// Body fact (and the one downstream that it was reached from) → club → flight, with the
    /// weakest grade. A link between two body facts is teaching consensus, D.
    fn chain(&self, choice: &Choice<'_>) -> (Vec<String>, CauseGrade) {
        let words = Filling::of(self.hand);
        let says = |found: &Found<'_>| found.words(self.hand).fill(&found.body.says);
        let mut chain = vec![says(&choice.found)];
        let Some(flight) = choice.explains else {
            return self.chain_without_flight(choice, chain);
        };
        let mut grade = CauseGrade::A;
        let road = match self.causes.road(choice.found.body, flight) {
            Some(road) => Some(road),
            None => {
                chain.push(says(&choice.reached_from));
                grade = CauseGrade::D;
                self.causes.road(choice.reached_from.body, flight)
            }
        };
        if let Some(road) = road {
            grade = grade.max(road.link.grade).max(road.flight.grade);
            chain.push(words.fill(&road.club.says));
            chain.push(words.fill(&road.flight.says));
        }
        (chain, grade)
    }

    /// Up to the first club fact, then what the player should see if the proposal holds.
    fn chain_without_flight(
        &self,
        choice: &Choice<'_>,
        mut chain: Vec<String>,
    ) -> (Vec<String>, CauseGrade) {
        let body = choice.found.body;
        let mut grade = CauseGrade::A;
        if let Some(link) = body.clubs.first()
            && let Some(club) = self.causes.club(&link.club)
        {
            grade = link.grade;
            chain.push(Filling::of(self.hand).fill(&club.says));
        }
        let typical = names(&self.causes.flights_of(body));
        let complaints = self.told.complaints();
        if !complaints.is_empty() {
            chain.push(format!(
                "It does not by itself explain the {} you report.",
                listed(&names(&complaints))
            ));
        } else if !typical.is_empty() {
            chain.push(format!(
                "Ball flights that go with it: {}.",
                listed(&typical)
            ));
        }
        (chain, grade)
    }

    fn would_change_it(&self, choice: &Choice<'_>) -> String {
        let found = &choice.found;
        let name = found.measure.name;
        let mut sentences = vec![
            Filling::of(self.hand).fill(&found.body.would_change_it),
            format!(
                "If another swing comes within its ± of {}, we would pick something else.",
                amount(name, found.near_edge())
            ),
        ];
        match self.told {
            Told::Nothing => sentences.push(
                "The usual ball flight was not told; one with another cause would change the \
                 order."
                    .into(),
            ),
            Told::Unclear(text) => sentences.push(format!(
                "\"{text}\" was not understood as a ball flight; say it in one word, such as \
                 slice, pull, push, hook, fat or thin."
            )),
            Told::Flights(_) if self.told.is_content() => sentences.push(
                "The ball already flies as wanted: ask first whether a change is worth it.".into(),
            ),
            Told::Flights(_) => {}
        }
        sentences.extend(self.unseen_upstream(choice));
        sentences.join(" ")
    }

    /// Upstream body facts whose measure was asked for, has a reference and is missing: each would
    /// come first if it were found.
    fn unseen_upstream(&self, choice: &Choice<'_>) -> Option<String> {
        let mut missing: Vec<String> = Vec::new();
        for body in self.causes.bodies() {
            let asked = self.measures.iter().find(|measure| shows(body, measure));
            if asked.is_none_or(|measure| !self.targets.covers(measure))
                || was_measured(body, self.measures)
                || !self.causes.leads_to(&body.key, &choice.found.body.key)
            {
                continue;
            }
            let what = format!(
                "{} at {} (seen {})",
                body.measure.plain(),
                body.moment.plain(),
                view_for(body.measure)
            );
            if !missing.contains(&what) {
                missing.push(what);
            }
        }
        (!missing.is_empty()).then(|| {
            format!(
                "Not measured in this swing: {}. If it turned out to be off, we would start there.",
                listed(&missing)
            )
        })
    }

    /// The drills of the chosen body fact that make no complaint worse: those known to help with
    /// the complaint first, then in the cause table's order.
    fn pages(&self, choice: &Choice<'_>) -> Vec<&DrillPage> {
        if *self.care == Care::Withheld {
            return Vec::new();
        }
        let complaints = self.told.complaints();
        let mut pages: Vec<&DrillPage> = choice
            .found
            .body
            .drills
            .iter()
            .filter_map(|key| self.book.page(key))
            .filter(|page| !complaints.iter().any(|flight| page.harms(*flight)))
            .collect();
        if let Some(flight) = choice.explains {
            pages.sort_by_key(|page| !page.helps_with(flight));
        }
        pages.truncate(MOST_DRILLS);
        pages
    }

    fn prescription(&self, choice: &Choice<'_>, page: &DrillPage) -> Prescription {
        let drill = page.worded(self.hand, self.care);
        let found = &choice.found;
        let reach = reach(found.value, drill.expected_change, found.near_edge());
        let (measure, moment) = (found.measure.name, found.measure.moment);
        Prescription {
            drill: drill.key,
            cue: page.cue(self.hand),
            dose: drill.dose,
            measure,
            moment,
            against: found.measure.against,
            reach,
            check: how_to_film(measure, moment, reach, self.hand),
            cautions: cautions(self.player, self.care),
        }
    }

    fn notice(&self, found: &[Found<'_>], choice: Option<&Choice<'_>>) -> Option<String> {
        let no_change = choice.is_none().then(|| self.no_change(found));
        let withheld = (*self.care == Care::Withheld).then(|| WITHHELD.to_string());
        let parts: Vec<String> = withheld.into_iter().chain(no_change).collect();
        (!parts.is_empty()).then(|| parts.join(" "))
    }

    fn no_change(&self, found: &[Found<'_>]) -> String {
        let complaints = self.told.complaints();
        let measured = self
            .causes
            .bodies()
            .iter()
            .any(|body| was_measured(body, self.measures));
        if !measured {
            "No change advised: nothing could be measured in this swing. Film it again with the \
             whole body in the picture and the phone square to the target line or on it."
                .into()
        } else if !found.is_empty() {
            "No change advised: the ball flies as you want it, and no number is far enough outside \
             the range we look for to disturb that."
                .into()
        } else if complaints.is_empty() {
            "No change advised: no number here is clearly outside the range we look for.".into()
        } else {
            format!(
                "No change advised from these numbers: none is clearly outside the range we look for, \
                 so none explains the {}. Look at grip, aim, ball position, face and strike \
                 first; the cameras do not see these well enough.",
                listed(&names(&complaints))
            )
        }
    }

    fn for_professional(
        &self,
        found: &[Found<'_>],
        choice: Option<&Choice<'_>>,
        page: Option<&DrillPage>,
    ) -> Vec<String> {
        let mut lines: Vec<String> = found.iter().map(|one| self.trade_line(one)).collect();
        match choice {
            Some(choice) => {
                lines.push(self.why(found, choice));
                lines.extend(self.sources(choice));
                lines.extend(page.and_then(|page| self.too_small_to_see(choice, page)));
            }
            None if found.is_empty() => lines.push(
                "No finding: no 95 % interval lies wholly outside its reference band.".into(),
            ),
            None => lines.push(format!(
                "No priority: the flight told is no complaint, and no finding lies {CONTENT_STRENGTH} \
                 half-widths or more outside its band."
            )),
        }
        match self.care {
            Care::Full => {}
            Care::Lowered(reasons) => lines.push(format!("Dose lowered: {}.", listed(reasons))),
            Care::Withheld => lines.push(
                "Exercise withheld: the health note tells of something. After a physician's \
                 clearance start the note with \"cleared\" (\"cleared by … on …: …\"); the dose is \
                 then lowered."
                    .into(),
            ),
        }
        lines
    }

    fn trade_line(&self, found: &Found<'_>) -> String {
        format!(
            "{} 95 % interval {}; {:.1} band half-widths outside at its near end.",
            found.words(self.hand).fill(&found.body.trade),
            range(found.measure.name, found.interval.low, found.interval.high),
            found.strength
        )
    }

    fn why(&self, found: &[Found<'_>], choice: &Choice<'_>) -> String {
        let (key, from) = (&choice.found.body.key, &choice.reached_from.body.key);
        let explains = match choice.explains {
            Some(flight) => format!(" with a road to the {} told", flight.plain()),
            None => String::new(),
        };
        match found.len() {
            1 => format!("Priority {key}: the only finding{explains}."),
            n if key == from => format!(
                "Priority {key}: of {n} findings the strongest{explains}; none of the others lies \
                 upstream of it."
            ),
            n => format!(
                "Priority {key}: of {n} findings {from} is the strongest{explains}, and {key} lies \
                 upstream of it."
            ),
        }
    }

    /// The links of the chain with grade and source.
    fn sources(&self, choice: &Choice<'_>) -> Vec<String> {
        let mut lines = Vec::new();
        let (found, from) = (choice.found.body, choice.reached_from.body);
        let Some(flight) = choice.explains else {
            lines.extend(found.clubs.first().map(|link| {
                format!(
                    "{} → {}: grade {:?}. {}",
                    found.key, link.club, link.grade, link.source
                )
            }));
            return lines;
        };
        let road = self.causes.road(found, flight).map(|road| (found, road));
        if road.is_none() {
            lines.push(format!(
                "{} → {}: grade D. Teaching consensus.",
                found.key, from.key
            ));
        }
        let road = road.or_else(|| self.causes.road(from, flight).map(|road| (from, road)));
        if let Some((body, road)) = road {
            lines.push(format!(
                "{} → {}: grade {:?}. {}",
                body.key, road.link.club, road.link.grade, road.link.source
            ));
            lines.push(format!(
                "{} → {}: grade {:?}.",
                road.link.club,
                flight.plain(),
                road.flight.grade
            ));
        }
        lines
    }

    fn too_small_to_see(&self, choice: &Choice<'_>, page: &DrillPage) -> Option<String> {
        let found = &choice.found;
        let expected = page.worded(self.hand, self.care).expected_change;
        let step = (reach(found.value, expected, found.near_edge()) - found.value).abs();
        let detectable = detectable_change((found.interval.high - found.interval.low) / 2.0);
        (step < detectable).then(|| {
            format!(
                "The step of {} is less than the {} that one film against another can show: \
                 compare several swings.",
                amount(found.measure.name, step),
                amount(found.measure.name, detectable)
            )
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

fn names(flights: &[Flight]) -> Vec<String> {
    flights
        .iter()
        .map(|flight| flight.plain().to_string())
        .collect()
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
