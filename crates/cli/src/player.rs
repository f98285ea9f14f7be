//! `player`: what the studio's settings page of a player does – answers before a prescription, the body and its goals,
//! how the player practises, what the player is held against.

use crate::arguments::HandName;
use crate::correct;
use crate::personal_link;
use crate::record;
use crate::surroundings::Surroundings;
use crate::trade::Own;
use anyhow::{Context, Result, anyhow, bail};
use clap::{Args, Subcommand, ValueEnum};
use jiff::Timestamp;
use jiff::civil::{Date, Time};
use lessonwright_language::Say;
use lessonwright_model::{
    Cancel, Cleared, Language, Pain, PlayerFacts, Practice, PracticePlace, ReferenceChoice,
    STRONGEST_PAIN, Screening, Season, Sex,
};
use lessonwright_store::{Background, GuardianConsent, LessonState, Player, Store, SwingId};
use std::sync::Arc;
use tokio::runtime::Runtime;

#[derive(Subcommand)]
pub enum PlayerCommand {
    /// Say what is known of a player, and what may be prescribed
    Show {
        /// The player's name
        player: String,
    },
    /// Take a new player in
    Add(Box<SetArguments>),
    /// Note facts of a player; what is not given stays
    Set(Box<SetArguments>),
    /// Note the answers before a prescription; every question is asked
    Screen(Box<ScreenArguments>),
    /// Note where, when and how long the player practises until the next lesson
    Practice(Box<PracticeArguments>),
    /// Note what the player, or a minor's guardian, agreed to or withdrew: filming, teaching, sending, showing
    Consent(record::ConsentArguments),
    /// Make, list and withdraw the link by which the player sends clips from afar and finds lessons
    Link(personal_link::LinkArguments),
    /// Write, list, change and delete notes
    Note(record::NoteArguments),
    /// Choose what the player's measures are held against
    Reference {
        /// The player's name
        player: String,
        /// What
        #[arg(value_enum)]
        against: AgainstName,
        /// Which own swing, with `own-swing`
        #[arg(long, value_name = "N", required_if_eq("against", "own-swing"))]
        swing: Option<i64>,
    },
}

#[derive(Args)]
pub struct SetArguments {
    /// The player's name
    player: String,
    /// The hand the player plays
    #[arg(long, value_enum)]
    hand: Option<HandName>,
    /// Age in years
    #[arg(long, value_name = "YEARS")]
    age: Option<u32>,
    /// The sex that model swings are grouped by
    #[arg(long, value_enum)]
    sex: Option<SexName>,
    /// Standing height
    #[arg(long, value_name = "CM")]
    stature_cm: Option<f64>,
    /// What the body does not do well, once per limit, in place of those on record; "none" for none
    #[arg(long, value_name = "LIMIT", action = clap::ArgAction::Append)]
    limit: Vec<String>,
    /// What the player wants most, once per goal, in place of those on record; "none" for none
    #[arg(long, value_name = "GOAL", action = clap::ArgAction::Append)]
    goal: Vec<String>,
    /// The usual ball flight: slice, hook, pull, push, fat, thin …
    #[arg(long)]
    flight: Option<String>,
    /// The language of what the player gets (lesson, paper, film, letter); "studio" for the studio's
    #[arg(long, value_enum)]
    language: Option<PlayerLanguage>,
    /// The player's golf so far: since when, how often, handicap
    #[arg(long, value_name = "WORDS")]
    golf_so_far: Option<String>,
    /// The clubs in the bag
    #[arg(long, value_name = "WORDS")]
    bag: Option<String>,
    /// The guardian whose consent is given (players under 18)
    #[arg(long, value_name = "NAME")]
    guardian: Option<String>,
}

#[derive(Args)]
pub struct ScreenArguments {
    /// The player's name
    player: String,
    /// Where it hurts and how much from 0 to 10, once per place (low_back=3), or "none"
    #[arg(long, value_name = "AREA=0..10", required = true, action = clap::ArgAction::Append)]
    pain: Vec<String>,
    /// Pain that spreads, numbness, weakness, dizziness, pain in the chest
    #[arg(long, value_enum)]
    warning_signs: YesNo,
    /// An injury that has not healed
    #[arg(long, value_enum)]
    injury: YesNo,
    /// The last surgery, months ago, or "none"
    #[arg(long, value_name = "MONTHS")]
    surgery: String,
    /// Medicine that affects balance
    #[arg(long, value_enum)]
    balance_medicine: YesNo,
    /// Something for which a physician is asked before exercise: heart, brittle bones, pregnancy
    #[arg(long, value_enum)]
    condition: YesNo,
    /// Anything else about health; takes the place of a note on record
    #[arg(long, value_name = "TEXT")]
    other: Option<String>,
    /// The physician or physiotherapist who agreed to practice
    #[arg(long, value_name = "NAME", requires = "cleared_on")]
    cleared_by: Option<String>,
    /// On which day
    #[arg(long, value_name = "YYYY-MM-DD", requires = "cleared_by")]
    cleared_on: Option<Date>,
    /// Age in years, if it is not on record
    #[arg(long, value_name = "YEARS")]
    age: Option<u32>,
}

#[derive(Args)]
pub struct PracticeArguments {
    /// The player's name
    player: String,
    /// The day of the next lesson
    #[arg(long, value_name = "YYYY-MM-DD")]
    next_lesson: Date,
    /// The first day that can be used [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    from: Option<Date>,
    /// Days of the week
    #[arg(long, value_enum, value_delimiter = ',', required = true)]
    days: Vec<DayName>,
    /// Minutes on such a day
    #[arg(long)]
    minutes: u32,
    /// Where
    #[arg(long, value_enum)]
    place: PlaceName,
    /// What the player's year is at
    #[arg(long, value_enum, default_value = "playing")]
    season: SeasonName,
    /// When a session begins [default: any time of the day]
    #[arg(long, value_name = "HH:MM")]
    at: Option<Time>,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum AgainstName {
    Standard,
    OwnAddress,
    Published,
    OwnSwing,
    Models,
}

#[derive(Clone, Copy, ValueEnum)]
enum PlayerLanguage {
    Studio,
    En,
    De,
}

impl PlayerLanguage {
    fn language(self) -> Option<Language> {
        match self {
            PlayerLanguage::Studio => None,
            PlayerLanguage::En => Some(Language::English),
            PlayerLanguage::De => Some(Language::German),
        }
    }
}

#[derive(Clone, Copy, ValueEnum)]
enum SexName {
    Female,
    Male,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum YesNo {
    Yes,
    No,
}

#[derive(Clone, Copy, ValueEnum)]
enum DayName {
    Mon = 1,
    Tue,
    Wed,
    Thu,
    Fri,
    Sat,
    Sun,
}

#[derive(Clone, Copy, ValueEnum)]
enum PlaceName {
    Home,
    Mat,
    Range,
    Course,
}

#[derive(Clone, Copy, ValueEnum)]
enum SeasonName {
    Playing,
    Between,
    Returning,
}

/// Do it and say so.
pub fn run(
    around: &Surroundings,
    what: &PlayerCommand,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    let own = Own::load(&around.studio)?;
    let said = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        match what {
            PlayerCommand::Show { player } => show(&named(&store, player).await?, &own),
            PlayerCommand::Add(set) => {
                let name = set.player.trim();
                if store.player_named(name).await?.is_some() {
                    bail!("there is a player called \"{name}\" already: `lessonwright player set` changes what is known");
                }
                let facts = PlayerFacts {
                    name: name.to_owned(),
                    ..PlayerFacts::default()
                };
                store.add_player(&facts, Timestamp::now()).await?;
                set_facts(&store, set, &own).await
            }
            PlayerCommand::Set(set) => set_facts(&store, set, &own).await,
            PlayerCommand::Screen(screen) => keep_answers(&store, screen, &own).await,
            PlayerCommand::Practice(practice) => keep_practice(&store, practice).await,
            PlayerCommand::Consent(asked) => record::consent(&store, asked).await,
            PlayerCommand::Link(asked) => personal_link::link(&store, asked).await,
            PlayerCommand::Note(asked) => record::note(&store, asked).await,
            PlayerCommand::Reference {
                player,
                against,
                swing,
            } => {
                let player = named(&store, player).await?;
                let choice = choice(*against, *swing);
                store.choose_reference(player.id, choice).await?;
                Ok("Held against it from the next analysis on.\n".into())
            }
        }
    })?;
    crate::print(&said)?;
    match what {
        PlayerCommand::Screen(screen) => draft_again(around, &screen.player, runtime, cancel),
        _ => Ok(()),
    }
}

/// The player of a name, or an error that says so.
pub async fn named(store: &Store, name: &str) -> Result<Player> {
    let player = store.player_named(name).await?;
    player.with_context(|| format!("there is no player called \"{name}\" in the studio"))
}

async fn set_facts(store: &Store, set: &SetArguments, own: &Own) -> Result<String> {
    let known = named(store, &set.player).await?;
    let keys = |typed: &[String], known: &[String]| match typed {
        [] => known.to_vec(),
        [none] if none == "none" => Vec::new(),
        typed => typed.to_vec(),
    };
    let facts = PlayerFacts {
        hand: set.hand.map(Into::into).or(known.facts.hand),
        age_years: set.age.or(known.facts.age_years),
        sex: set.sex.map(Into::into).or(known.facts.sex),
        stature_m: set
            .stature_cm
            .map(|cm| cm / 100.0)
            .or(known.facts.stature_m),
        limits: keys(&set.limit, &known.facts.limits),
        goals: keys(&set.goal, &known.facts.goals),
        usual_flight: set.flight.clone().or(known.facts.usual_flight.clone()),
        language: set
            .language
            .map_or(known.facts.language, PlayerLanguage::language),
        ..known.facts.clone()
    };
    let checked = own.causes.check_keys(&[], &facts.limits, &facts.goals);
    checked.map_err(|problem| anyhow!(problem))?;
    store.update_player(known.id, &facts).await?;
    let told = store.background(known.id).await?;
    let told = Background {
        golf_so_far: set.golf_so_far.clone().unwrap_or(told.golf_so_far),
        bag: set.bag.clone().unwrap_or(told.bag),
    };
    store.keep_background(known.id, &told).await?;
    if let Some(guardian) = &set.guardian {
        let consent = GuardianConsent {
            guardian: guardian.clone(),
            given_at: Timestamp::now(),
        };
        store.record_guardian_consent(known.id, &consent).await?;
    }
    show(&named(store, &set.player).await?, own)
}

async fn keep_answers(store: &Store, screen: &ScreenArguments, own: &Own) -> Result<String> {
    let known = named(store, &screen.player).await?;
    let facts = PlayerFacts {
        age_years: screen.age.or(known.facts.age_years),
        health_note: match screen.other {
            Some(_) => None,
            None => known.facts.health_note.clone(),
        },
        screening: Some(answers(screen)?),
        ..known.facts
    };
    store.update_player(known.id, &facts).await?;
    show(&named(store, &screen.player).await?, own)
}

fn answers(screen: &ScreenArguments) -> Result<Screening> {
    let pains = match &screen.pain[..] {
        [none] if none == "none" => Vec::new(),
        pains => pains
            .iter()
            .map(|text| Pain::read(text).map_err(|problem| anyhow!(problem)))
            .collect::<Result<Vec<Pain>>>()?,
    };
    let surgery = match screen.surgery.as_str() {
        "none" => None,
        months => Some(months.parse().with_context(|| {
            format!("\"{months}\": how many months ago was the surgery? A whole number, or none")
        })?),
    };
    let cleared = screen.cleared_by.clone().zip(screen.cleared_on);
    let answers = Screening {
        asked_at: Timestamp::now(),
        pains: pains.into_iter().filter(|pain| pain.strength > 0).collect(),
        warning_signs: screen.warning_signs == YesNo::Yes,
        injury: screen.injury == YesNo::Yes,
        surgery_months_ago: surgery,
        balance_medicine: screen.balance_medicine == YesNo::Yes,
        condition: screen.condition == YesNo::Yes,
        other: screen.other.clone().unwrap_or_default(),
        cleared: cleared.map(|(by, on)| Cleared { by, on }),
    };
    answers.check().map_err(|problem| anyhow!(problem))?;
    Ok(answers)
}

async fn keep_practice(store: &Store, wished: &PracticeArguments) -> Result<String> {
    let player = named(store, &wished.player).await?;
    let practice = Practice {
        from: wished.from.unwrap_or_else(|| jiff::Zoned::now().date()),
        next_lesson: wished.next_lesson,
        days: wished.days.iter().map(|day| *day as u8).collect(),
        minutes: wished.minutes,
        place: wished.place.into(),
        season: wished.season.into(),
        at: wished.at,
    };
    if practice.next_lesson <= practice.from {
        bail!("the next lesson must be after {}", practice.from);
    }
    store.keep_practice(player.id, &practice).await?;
    Ok("Noted; `lessonwright plan` makes the plan.\n".into())
}

/// A lesson that waits for approval is drafted again by the new answers.
fn draft_again(
    around: &Surroundings,
    player: &str,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    let around = Arc::new(around.clone());
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let Some(swing) = waiting(&store, &named(&store, player).await?).await? else {
            return Ok(());
        };
        eprintln!("Drafting the lesson of swing {swing} again …");
        let judged = correct::judge_again(&around, &store, swing, cancel).await?;
        judged.draft_lesson(&around, &store, cancel).await
    })
}

/// The player's latest swing, if its lesson waits for approval and it can be analysed again.
async fn waiting(store: &Store, player: &Player) -> Result<Option<SwingId>> {
    let swings = store.swings_of(player.id).await?;
    let Some(swing) = swings.first() else {
        return Ok(None);
    };
    let lessons = store.lessons_of_swing(swing.id).await?;
    let drafted = lessons
        .first()
        .is_some_and(|l| l.state() == LessonState::Drafted);
    let again = store.brief(swing.id).await?.is_some();
    Ok((drafted && again).then_some(swing.id))
}

fn show(player: &Player, own: &Own) -> Result<String> {
    let facts = &player.facts;
    let screened = own.screening.screen(facts, Timestamp::now());
    let mut lines = vec![facts.name.clone()];
    let mut line = |title: &str, text: String| lines.push(format!("  {title}: {text}"));
    line(
        "age",
        facts
            .age_years
            .map_or("not said".into(), |age| age.to_string()),
    );
    line(
        "sex",
        facts.sex.map_or("not said".into(), |sex| sex.key().into()),
    );
    line("limits", listed(&facts.limits));
    line("goals", listed(&facts.goals));
    if let Some(answers) = &facts.screening {
        line("asked", answers.asked_at.strftime("%Y-%m-%d").to_string());
        line(
            "strongest pain",
            format!("{} of {STRONGEST_PAIN}", answers.strongest()),
        );
    }
    match screened.refusal() {
        Some(why) => {
            let why = Say::default().text(&why);
            line("prescription", format!("not to be approved. {why}"));
        }
        None => line("prescription", "may be approved".into()),
    }
    for why in &screened.lowered {
        line("less", why.clone());
    }
    line("held against", held(player.reference));
    if let Some(practice) = &player.practice {
        line(
            "practice",
            format!(
                "{} days a week, {} minutes, {}, {} to {}",
                practice.days.len(),
                practice.minutes,
                practice.place.plain(),
                practice.from,
                practice.next_lesson
            ),
        );
    }
    Ok(lines.join("\n") + "\n")
}

fn listed(keys: &[String]) -> String {
    if keys.is_empty() {
        "none".into()
    } else {
        keys.join(", ")
    }
}

fn held(choice: ReferenceChoice) -> String {
    match choice {
        ReferenceChoice::Standard => "the studio's targets".into(),
        ReferenceChoice::OwnAddress => "own address".into(),
        ReferenceChoice::Published => "published figures".into(),
        ReferenceChoice::OwnSwing(swing) => format!("own swing {swing}"),
        ReferenceChoice::Models => "model swings".into(),
    }
}

fn choice(against: AgainstName, swing: Option<i64>) -> ReferenceChoice {
    match (against, swing) {
        (AgainstName::OwnAddress, _) => ReferenceChoice::OwnAddress,
        (AgainstName::Published, _) => ReferenceChoice::Published,
        (AgainstName::OwnSwing, Some(swing)) => ReferenceChoice::OwnSwing(swing),
        (AgainstName::Models, _) => ReferenceChoice::Models,
        (AgainstName::Standard | AgainstName::OwnSwing, _) => ReferenceChoice::Standard,
    }
}

impl From<SexName> for Sex {
    fn from(name: SexName) -> Self {
        match name {
            SexName::Female => Sex::Female,
            SexName::Male => Sex::Male,
        }
    }
}

impl From<PlaceName> for PracticePlace {
    fn from(name: PlaceName) -> Self {
        match name {
            PlaceName::Home => PracticePlace::Home,
            PlaceName::Mat => PracticePlace::Mat,
            PlaceName::Range => PracticePlace::Range,
            PlaceName::Course => PracticePlace::Course,
        }
    }
}

impl From<SeasonName> for Season {
    fn from(name: SeasonName) -> Self {
        match name {
            SeasonName::Playing => Season::Playing,
            SeasonName::Between => Season::Between,
            SeasonName::Returning => Season::Returning,
        }
    }
}
