//! Why a fact stands where it stands, and what would change it: every step of the rule in a sentence, so that
//! a professional can work the sum and disagree with it.

use crate::causes::{BodyFact, Named, Often, Road};
use crate::chain::names;
use crate::check::view_for;
use crate::coach::Desk;
use crate::findings::{shows, unclear, was_measured};
use crate::flight::{Flight, Told};
use crate::rank::{
    Aside, CONTENT_STRENGTH, Entry, GOAL, LIMIT, NO_ROAD, NOT_TOLD, Ranked, SEEN_STRENGTH, SET_UP,
    UNSEEN, is_set_up,
};
use crate::wording::amount;
use lessonwright_language::{Text, t, words};
use lessonwright_model::{MomentName, SetAside};

/// As many as a sentence can list and still be read.
const MOST_NAMED: usize = 3;

impl Desk<'_> {
    /// A sentence for each step of the rule.
    pub(crate) fn why(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Vec<String> {
        let mut why = vec![self.evidence(entry), self.flight(entry)];
        if is_set_up(&entry.found) {
            why.push(t("judged-set-up").with("times", as_set(SET_UP)));
        }
        why.extend(entry.goals.iter().map(|goal| {
            t("judged-goal")
                .with("goal", self.named(goal))
                .with("times", as_set(GOAL))
        }));
        why.extend(entry.limits.iter().map(|limit| {
            t("judged-limit")
                .with("limit", self.named(limit))
                .with("times", as_set(LIMIT))
        }));
        why.extend(self.handed(ranked, entry));
        why.push(
            t("judged-weight")
                .with("weight", Text::decimal(entry.weight, 2))
                .with("sum", Text::decimal(ranked.sum, 2))
                .with("unseen", as_set(UNSEEN))
                .with("percent", percent(ranked, entry)),
        );
        why.extend(self.why_not_first(ranked, entry));
        why.iter().map(|text| self.say().text(text)).collect()
    }

    fn evidence(&self, entry: &Entry<'_>) -> Text {
        let inside = || was_measured(entry.found.body, self.case.measures);
        let (says, widths) = match (entry.found.reading, entry.found.seen) {
            (Some(reading), seen) => {
                let says = if seen {
                    t("judged-measured-and-seen")
                } else {
                    t("judged-measured")
                };
                (says, Text::decimal(reading.strength, 1))
            }
            (None, _) if inside() => (t("judged-seen-inside"), as_set(SEEN_STRENGTH)),
            (None, _) => (t("judged-seen"), as_set(SEEN_STRENGTH)),
        };
        says.with("widths", widths)
            .with("counts", Text::decimal(entry.telling, 2))
    }

    fn flight(&self, entry: &Entry<'_>) -> Text {
        let roads: Vec<String> = entry
            .roads
            .iter()
            .map(|(flight, road)| self.say().text(&self.road(*flight, road.as_ref())))
            .collect();
        match (roads.is_empty(), self.told.is_content()) {
            (false, _) => t("judged-flight")
                .with("roads", self.listed(&roads))
                .with("counts", Text::decimal(entry.flight, 2)),
            (true, true) => t("judged-flight-content").with("counts", as_set(NOT_TOLD)),
            (true, false) => t("judged-flight-none").with("counts", as_set(NOT_TOLD)),
        }
    }

    fn road(&self, flight: Flight, road: Option<&Road<'_>>) -> Text {
        let Some(road) = road else {
            return t("judged-no-road")
                .with("flight", flight.text())
                .with("counts", as_set(NO_ROAD));
        };
        let says = match (road.link.how, road.flight.how) {
            (Often::Often, Often::Often) => t("judged-road-often"),
            _ => t("judged-road-sometimes"),
        };
        says.with("flight", flight.text())
            .with("club", self.filling().fill(&road.club.short))
            .with("grade", format!("{:?}", road.grade()))
    }

    fn handed(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Vec<Text> {
        let title = |key: &str| {
            let body = ranked.entry(key).map(|other| other.found.body);
            body.map_or_else(String::new, |body| self.short(body))
        };
        let says = |says: Text, (key, part): &(&str, f64)| {
            says.with("fact", title(key))
                .with("part", Text::decimal(*part, 2))
        };
        let received = entry.received.iter();
        let received = received.map(|other| says(t("judged-received"), other));
        let handed = entry.handed.iter();
        let handed = handed.map(|other| says(t("judged-handed"), other));
        received.chain(handed).collect()
    }

    /// Why this one is behind the first: what separates them most, in one sentence.
    fn why_not_first(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> Option<Text> {
        let first = ranked.entries.first()?;
        if first.key() == entry.key() {
            return None;
        }
        let reason = if entry.handed.iter().any(|(key, _)| *key == first.key()) {
            t("judged-it-follows")
        } else if first.flight > entry.flight {
            let told = self.listed(&names(&self.told.complaints(), self.say()));
            t("judged-likelier").with("flights", told)
        } else if is_set_up(&first.found) && !is_set_up(&entry.found) {
            t("judged-set-up-first")
        } else if first.telling > entry.telling {
            t("judged-clearer")
        } else if !first.received.is_empty() {
            t("judged-more-follows")
        } else if !entry.limits.is_empty() {
            t("judged-body-allows")
        } else if first.goals.len() > entry.goals.len() {
            t("judged-serves-goal")
        } else if !entry.handed.is_empty() {
            t("judged-follows-other")
        } else {
            t("judged-no-difference")
        };
        Some(
            t("judged-not-before")
                .with("fact", self.short(first.found.body))
                .with("reason", reason),
        )
    }

    /// Facts found that are not ranked.
    pub(crate) fn set_aside(&self, ranked: &Ranked<'_>) -> Vec<SetAside> {
        let why = |aside: &Aside<'_>| match aside {
            Aside::Excluded(limit) => t("judged-excluded").with("limit", self.named(limit)),
            Aside::LastResort => t("judged-last-resort"),
            Aside::Content => t("judged-content").with("widths", as_set(CONTENT_STRENGTH)),
        };
        let set_aside = ranked.set_aside.iter().map(|(found, aside)| SetAside {
            key: found.body.key.clone(),
            title: self.filling().fill(&found.body.title),
            why: self.say().text(&why(aside)),
        });
        set_aside.collect()
    }

    /// What would change the professional's mind about the first.
    pub(crate) fn would_change_it(&self, ranked: &Ranked<'_>, entry: &Entry<'_>) -> String {
        let mut others = ranked.entries.iter();
        let next = others.find(|other| other.key() != entry.key());
        let texts = [
            entry.found.reading.as_ref().map(|reading| {
                t("judged-edge").with("edge", amount(reading.measure.name, reading.near_edge()))
            }),
            flight_untold(self.told),
            self.unseen_upstream(entry),
            self.unclear_rivals(entry),
            self.unlooked(entry),
            next.map(|next| {
                t("judged-next")
                    .with("fact", self.short(next.found.body))
                    .with("percent", percent(ranked, next))
            }),
        ];
        let first = self.filling().fill(&entry.found.body.would_change_it);
        let more = texts.iter().flatten().map(|text| self.say().text(text));
        std::iter::once(first)
            .chain(more)
            .collect::<Vec<_>>()
            .join(" ")
    }

    /// Upstream body facts whose measure was asked for, has a reference and is missing: each would
    /// come first if it were found.
    fn unseen_upstream(&self, entry: &Entry<'_>) -> Option<Text> {
        let mut missing: Vec<String> = Vec::new();
        for body in self.upstream_of(entry) {
            let mut asked = self.case.measures.iter().filter(|m| shows(body, m));
            if !asked.any(|m| self.know.targets.covers(m)) || was_measured(body, self.case.measures)
            {
                continue;
            }
            if let Some(what) = self.what_and_where(body)
                && !missing.contains(&what)
            {
                missing.push(what);
            }
        }
        missing.truncate(MOST_NAMED);
        (!missing.is_empty()).then(|| t("judged-missing").with("measures", self.listed(&missing)))
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
    fn unclear_rivals(&self, entry: &Entry<'_>) -> Option<Text> {
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
            .filter_map(|(body, _)| self.what_and_where(body))
            .collect();
        rivals.dedup();
        rivals.truncate(MOST_NAMED);
        (!rivals.is_empty()).then(|| t("judged-unclear").with("measures", self.listed(&rivals)))
    }

    /// Set-up facts that only an eye sees and that are often named for the flight, while nothing of the set-up was
    /// ticked.
    fn unlooked(&self, entry: &Entry<'_>) -> Option<Text> {
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
        (!open.is_empty()).then(|| t("judged-unlooked").with("facts", self.listed(&open)))
    }

    pub(crate) fn short(&self, body: &BodyFact) -> String {
        self.filling().fill(&body.short)
    }

    fn named(&self, named: &Named) -> String {
        self.filling().fill(&named.says)
    }

    fn what_and_where(&self, body: &BodyFact) -> Option<String> {
        let shown = body.shown.as_ref()?;
        let text = t("judged-what-where")
            .with("measure", words::measure(shown.measure))
            .with("when", words::at_moment(body.moment))
            .with("view", words::view(view_for(shown.measure)));
        Some(self.say().text(&text))
    }
}

fn flight_untold(told: &Told) -> Option<Text> {
    match told {
        Told::Nothing => Some(t("judged-flight-untold")),
        Told::Unclear(text) => Some(t("judged-flight-unclear").with("said", text)),
        Told::Flights(_) if told.is_content() => Some(t("judged-flies-as-wanted")),
        Told::Flights(_) => None,
    }
}

/// A number of the rule as it is set.
fn as_set(number: f64) -> Text {
    Text::figure(number.to_string())
}

/// In whole hundredths.
fn percent(ranked: &Ranked<'_>, entry: &Entry<'_>) -> Text {
    Text::decimal(100.0 * ranked.probability(entry), 0)
}
