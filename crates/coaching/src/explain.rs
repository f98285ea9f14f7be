//! Why a fact stands where it stands, and what would change it: every step of the rule in a sentence, so that
//! a professional can work the sum and disagree with it.

use crate::causes::{BodyFact, Named, Often, Road};
use crate::chain::names;
use crate::check::view_for;
use crate::coach::Desk;
use crate::findings::{shows, unclear, was_measured};
use crate::flight::Told;
use crate::rank::{
    Aside, CONTENT_STRENGTH, Entry, GOAL, LIMIT, NO_ROAD, NOT_TOLD, Ranked, SEEN_STRENGTH, SET_UP,
    UNSEEN, is_set_up,
};
use crate::wording::amount;
use lessonwright_model::{MomentName, SetAside};

/// As many as a sentence can list and still be read.
const MOST_NAMED: usize = 3;

impl Desk<'_> {
    /// A sentence for each step of the rule.
    pub(crate) fn why(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Vec<String> {
        let mut why = vec![self.evidence(entry), self.flight(entry)];
        if is_set_up(&entry.found) {
            why.push(format!("Set-up, which is looked at first: times {SET_UP}."));
        }
        why.extend(entry.goals.iter().map(|goal| {
            format!(
                "Serves a goal of the player ({}): times {GOAL}.",
                self.named(goal)
            )
        }));
        why.extend(entry.limits.iter().map(|limit| {
            format!(
                "A limit of the player's ({}): times {LIMIT}.",
                self.named(limit)
            )
        }));
        why.extend(self.handed(ranked, entry));
        why.push(format!(
            "Weight {:.2} of {:.2} in all, of which {UNSEEN} are kept for what nobody has seen: {:.0} %.",
            entry.weight,
            ranked.sum,
            100.0 * ranked.probability(entry)
        ));
        why.extend(self.why_not_first(ranked, entry));
        why
    }

    fn evidence(&self, entry: &Entry<'_>) -> String {
        let counts = format!("counts {:.2} of 1", entry.telling);
        let measured = entry.found.reading.map(|reading| {
            format!(
                "Measured: the near end of its ± lies {:.1} half-widths outside the range",
                reading.strength
            )
        });
        let saw = || {
            let inside = was_measured(entry.found.body, self.case.measures);
            let but = if inside {
                ", though its measure is not clearly outside its range"
            } else {
                ""
            };
            format!("Seen by the professional{but} (as {SEEN_STRENGTH} half-widths outside)")
        };
        match (measured, entry.found.seen) {
            (Some(measured), true) => format!("{measured}, and the professional saw it: {counts}."),
            (Some(measured), false) => format!("{measured}: {counts}."),
            (None, _) => format!("{}: {counts}.", saw()),
        }
    }

    fn flight(&self, entry: &Entry<'_>) -> String {
        let words = self.filling();
        let said: Vec<String> = entry
            .roads
            .iter()
            .map(|(flight, road)| match road {
                Some(road) => format!(
                    "a road to the {} told, over “{}” (grade {:?}, {} named)",
                    flight.plain(),
                    words.fill(&road.club.short),
                    road.grade(),
                    match (road.link.how, road.flight.how) {
                        (Often::Often, Often::Often) => "often",
                        _ => "sometimes",
                    }
                ),
                None => format!("no road to the {} told ({NO_ROAD})", flight.plain()),
            })
            .collect();
        match (said.is_empty(), self.told.is_content()) {
            (false, _) => format!(
                "Flight: {}: counts {:.2}.",
                self.listed(&said),
                entry.flight
            ),
            (true, true) => {
                format!("Flight: as wanted, so it can't tell them apart: counts {NOT_TOLD}.")
            }
            (true, false) => format!("Flight: none was told that helps: counts {NOT_TOLD}."),
        }
    }

    fn handed(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Vec<String> {
        let title = |key: &str| {
            let body = ranked.entry(key).map(|other| other.found.body);
            body.map_or_else(String::new, |body| self.short(body))
        };
        let received = entry.received.iter().map(|(key, part)| {
            format!(
                "Leads to “{}” and takes {part:.2} of its weight.",
                title(key)
            )
        });
        let handed = entry.handed.iter().map(|(key, part)| {
            format!(
                "Follows from “{}”, which takes {part:.2} of its weight.",
                title(key)
            )
        });
        received.chain(handed).collect()
    }

    /// Why this one is behind the first: what separates them most, in one sentence.
    fn why_not_first(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Option<String> {
        let first = ranked.entries.first()?;
        if first.key() == entry.key() {
            return None;
        }
        let name = self.short(first.found.body);
        let reason = if entry.handed.iter().any(|(key, _)| *key == first.key()) {
            "it follows from that, and the beginning of a chain is worked on first".to_string()
        } else if first.flight > entry.flight {
            let told = self.listed(&names(&self.told.complaints(), self.say()));
            format!("that is the likelier road to the {told}")
        } else if is_set_up(&first.found) && !is_set_up(&entry.found) {
            "that is set-up, and is looked at first".to_string()
        } else if first.telling > entry.telling {
            "that is shown more clearly".to_string()
        } else if !first.received.is_empty() {
            "more of what was found follows from that".to_string()
        } else if !entry.limits.is_empty() {
            "the player's body allows that more easily".to_string()
        } else if first.goals.len() > entry.goals.len() {
            "that serves the player's goal".to_string()
        } else if !entry.handed.is_empty() {
            "this one follows from something else that was found".to_string()
        } else {
            "nothing separates them; that one comes earlier in the swing".to_string()
        };
        Some(format!("Not before “{name}”: {reason}."))
    }

    /// Facts found that are not ranked.
    pub(crate) fn set_aside(&self, ranked: &Ranked<'_>) -> Vec<SetAside> {
        let why = |aside: &Aside<'_>| match aside {
            Aside::Excluded(limit) => {
                format!(
                    "Left out for a limit of the player's: {}.",
                    self.named(limit)
                )
            }
            Aside::LastResort => {
                "A spread of players and not an aim: a choice only when nothing else is found."
                    .into()
            }
            Aside::Content => format!(
                "The ball flies as wanted, and no measure shows this at least {CONTENT_STRENGTH} \
                 half-widths outside its range."
            ),
        };
        let set_aside = ranked.set_aside.iter().map(|(found, aside)| SetAside {
            key: found.body.key.clone(),
            title: self.filling().fill(&found.body.title),
            why: why(aside),
        });
        set_aside.collect()
    }

    /// What would change the professional's mind about the first.
    pub(crate) fn would_change_it(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> String {
        let mut sentences = vec![self.filling().fill(&entry.found.body.would_change_it)];
        if let Some(reading) = &entry.found.reading {
            let edge = self
                .say()
                .text(&amount(reading.measure.name, reading.near_edge()));
            sentences.push(format!(
                "If another swing comes within its ± of {edge}, we would pick something else."
            ));
        }
        sentences.extend(flight_untold(self.told));
        sentences.extend(self.unseen_upstream(entry));
        sentences.extend(self.unclear_rivals(entry));
        sentences.extend(self.unlooked(entry));
        let mut others = ranked.entries.iter();
        if let Some(next) = others.find(|other| other.key() != entry.key()) {
            sentences.push(format!(
                "Next in line: {} ({:.0} %).",
                self.short(next.found.body),
                100.0 * ranked.probability(next)
            ));
        }
        sentences.join(" ")
    }

    /// Upstream body facts whose measure was asked for, has a reference and is missing: each would
    /// come first if it were found.
    fn unseen_upstream(&self, entry: &Entry<'_>) -> Option<String> {
        let mut missing: Vec<String> = Vec::new();
        for body in self.upstream_of(entry) {
            let mut asked = self.case.measures.iter().filter(|m| shows(body, m));
            if !asked.any(|m| self.know.targets.covers(m)) || was_measured(body, self.case.measures)
            {
                continue;
            }
            if let Some(what) = what_and_where(body)
                && !missing.contains(&what)
            {
                missing.push(what);
            }
        }
        missing.truncate(MOST_NAMED);
        (!missing.is_empty()).then(|| {
            format!(
                "Not measured in this swing: {}. If it turned out to be off, we would start there.",
                self.listed(&missing)
            )
        })
    }

    fn upstream_of(&self, entry: &Entry<'_>) -> impl Iterator<Item = &BodyFact> {
        let causes = self.know.causes;
        let key = entry.key();
        causes
            .bodies()
            .iter()
            .filter(move |body| causes.leads_to(&body.key, key))
    }

    /// Measures that read outside with a ± that reaches the range, where they would matter.
    fn unclear_rivals(&self, entry: &Entry<'_>) -> Option<String> {
        let causes = self.know.causes;
        let complaints = self.told.complaints();
        let matters = |body: &BodyFact| {
            let road = |flight| causes.road(body, flight).is_some();
            !body.last_resort
                && body.key != entry.key()
                && (causes.leads_to(&body.key, entry.key()) || complaints.iter().any(|f| road(*f)))
        };
        let mut rivals: Vec<String> = unclear(self.case.measures, self.know.targets, causes)
            .into_iter()
            .filter(|(body, _)| matters(body))
            .filter_map(|(body, _)| what_and_where(body))
            .collect();
        rivals.dedup();
        rivals.truncate(MOST_NAMED);
        (!rivals.is_empty()).then(|| {
            format!(
                "Outside the range, but not beyond its ±: {}. A second film could make it a finding.",
                self.listed(&rivals)
            )
        })
    }

    /// Set-up facts that only an eye sees and that are often named for the flight, while nothing of the set-up was
    /// ticked.
    fn unlooked(&self, entry: &Entry<'_>) -> Option<String> {
        let causes = self.know.causes;
        let set_up = |body: &&BodyFact| body.moment == MomentName::Address && body.shown.is_none();
        let ticked = |body: &BodyFact| self.case.seen.contains(&body.key);
        if causes.bodies().iter().filter(set_up).any(ticked) || ticked(entry.found.body) {
            return None;
        }
        let complaints = self.told.complaints();
        let named =
            |road: Road<'_>| road.link.how == Often::Often && road.flight.how == Often::Often;
        let mut open: Vec<String> = causes
            .bodies()
            .iter()
            .filter(set_up)
            .filter(|body| {
                complaints
                    .iter()
                    .any(|f| causes.road(body, *f).is_some_and(named))
            })
            .map(|body| self.short(body))
            .collect();
        open.truncate(MOST_NAMED);
        (!open.is_empty()).then(|| {
            format!(
                "Nothing of the set-up was ticked; look for this first: {}.",
                self.listed(&open)
            )
        })
    }

    pub(crate) fn short(&self, body: &BodyFact) -> String {
        self.filling().fill(&body.short)
    }

    fn named(&self, named: &Named) -> String {
        self.filling().fill(&named.says)
    }
}

fn what_and_where(body: &BodyFact) -> Option<String> {
    let shown = body.shown.as_ref()?;
    Some(format!(
        "{} at {} (seen {})",
        shown.measure.plain(),
        body.moment.plain(),
        view_for(shown.measure)
    ))
}

fn flight_untold(told: &Told) -> Option<String> {
    match told {
        Told::Nothing => Some(
            "The usual ball flight was not told; one with another cause would change the order."
                .into(),
        ),
        Told::Unclear(text) => Some(format!(
            "\"{text}\" was not understood as a ball flight; say it in one word, such as \
             slice, pull, push, hook, fat or thin."
        )),
        Told::Flights(_) if told.is_content() => {
            Some("The ball already flies as wanted: ask first whether a change is worth it.".into())
        }
        Told::Flights(_) => None,
    }
}
