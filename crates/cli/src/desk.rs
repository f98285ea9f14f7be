//! `desk`: what the professional chooses and says for the lesson of a kept swing, as the lesson desk in the studio does; and the
//! same as options of `lesson`.

use crate::correct::{judge_again, to_draft_again};
use crate::say;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result, anyhow, bail, ensure};
use clap::Args;
use jiff::Timestamp;
use lessonwright_media as media;
use lessonwright_model::{
    Cancel, Choices, ChosenPicture, DoseChoice, MomentName, PriorityChoice, SwingAnalysis,
    Teaching, View,
};
use lessonwright_store::{Store, SwingId};
use serde::de::DeserializeOwned;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tokio::runtime::Runtime;

/// The largest recording that is kept, bytes: three minutes without compression are 17 MB.
const LARGEST_VOICE: u64 = 40_000_000;

/// What is chosen for a lesson in place of what is proposed.
#[derive(Args, Default)]
pub struct DeskOptions {
    /// Work on this in place of what is proposed: a key of the ranking (`ranking` in `analyse --json`), or "nothing"
    #[arg(long, value_name = "FACT")]
    pub work_on: Option<String>,
    /// Why not what is proposed; kept for you
    #[arg(long, value_name = "TEXT", requires = "work_on")]
    pub why: Option<String>,
    /// The drill, of those that fit (`drills` in `analyse --json`)
    #[arg(long, value_name = "DRILL")]
    pub drill: Option<String>,
    /// Half of the practice that the drill's page gives
    #[arg(long)]
    pub half_dose: bool,
    /// A picture of the page, once per picture, with your words under it: face-on:top="Look at the knee"
    /// [default: address, top, lead arm level and impact]
    #[arg(long, value_name = "VIEW:MOMENT[=WORDS]", action = clap::ArgAction::Append)]
    pub picture: Vec<String>,
}

#[derive(Args)]
pub struct DeskArguments {
    /// The swing, by its number in the studio
    #[arg(value_name = "SWING")]
    pub swing: i64,
    #[command(flatten)]
    pub desk: DeskOptions,
    /// A few lines to the player; "" for none
    #[arg(long)]
    pub note: Option<String>,
    /// Your voice over the film, as any phone records it (up to 3 minutes)
    #[arg(long, value_name = "FILE", conflicts_with = "no_voice")]
    pub voice: Option<PathBuf>,
    /// Take your voice off the film
    #[arg(long)]
    pub no_voice: bool,
    /// Take everything that was chosen back first
    #[arg(long)]
    pub as_proposed: bool,
}

impl DeskOptions {
    /// As choices of a lesson.
    pub fn choices(&self, note: &Option<String>) -> Result<Choices> {
        self.changed(Choices::default(), note)
    }

    /// Put in place of what was chosen before, as far as something is said.
    fn changed(&self, mut choices: Choices, note: &Option<String>) -> Result<Choices> {
        if let Some(fact) = &self.work_on {
            let why = self.why.clone().unwrap_or_default();
            let priority = match fact.as_str() {
                "nothing" => PriorityChoice::Nothing { why },
                fact => PriorityChoice::Other {
                    fact: fact.to_owned(),
                    why,
                },
            };
            choices.teaching = Teaching {
                priority,
                drill: None,
                ..choices.teaching
            };
        }
        if let Some(drill) = &self.drill {
            choices.teaching.drill = Some(drill.clone());
        }
        if self.half_dose {
            choices.teaching.dose = DoseChoice::Half;
        }
        if !self.picture.is_empty() {
            let pictures: Result<_> = self.picture.iter().map(|text| picture(text)).collect();
            choices.pictures = Some(pictures?);
        }
        if note.is_some() {
            choices.note.clone_from(note);
        }
        Ok(choices)
    }
}

/// "face-on:top=Look at the knee".
fn picture(text: &str) -> Result<ChosenPicture> {
    let (place, caption) = text.split_once('=').unwrap_or((text, ""));
    let (view, moment) = place.split_once(':').with_context(|| {
        format!("\"{text}\" is no picture: say face-on:top or down-the-line:impact")
    })?;
    Ok(ChosenPicture {
        view: named(view, "view")?,
        moment: named(moment, "moment")?,
        caption: caption.trim().to_owned(),
    })
}

fn named<T: DeserializeOwned>(text: &str, what: &str) -> Result<T> {
    let key = text.trim().replace('-', "_");
    serde_json::from_value(serde_json::Value::String(key))
        .map_err(|_| anyhow!("\"{text}\" is no {what} of a swing"))
}

/// Refuses what does not fit the swing; says what would.
pub fn check(swing: &SwingAnalysis, choices: &Choices) -> Result<()> {
    check_fact(swing, choices)?;
    if let Some(drill) = &choices.teaching.drill {
        let fitting: Vec<&str> = swing
            .drills
            .iter()
            .map(|drill| drill.key.as_str())
            .collect();
        ensure!(
            fitting.contains(&drill.as_str()),
            "the drill {drill} does not fit; these do: {}",
            listed(&fitting)
        );
    }
    for chosen in choices.pictures.iter().flatten() {
        let (view, moment): (View, MomentName) = (chosen.view, chosen.moment);
        let found = swing
            .moments
            .iter()
            .any(|m| (m.view, m.name) == (view, moment));
        ensure!(
            found,
            "{} was not found {view}, so it has no picture",
            moment.plain()
        );
    }
    Ok(())
}

fn check_fact(swing: &SwingAnalysis, choices: &Choices) -> Result<()> {
    let PriorityChoice::Other { fact, .. } = &choices.teaching.priority else {
        return Ok(());
    };
    let ranked: Vec<&str> = swing
        .ranking
        .candidates
        .iter()
        .map(|c| c.key.as_str())
        .collect();
    if !ranked.contains(&fact.as_str()) {
        bail!(
            "{fact} was not found in this swing; what could be worked on: {}",
            listed(&ranked)
        );
    }
    Ok(())
}

fn listed(keys: &[&str]) -> String {
    if keys.is_empty() {
        "nothing".to_owned()
    } else {
        keys.join(", ")
    }
}

/// Keeps a recording with a swing.
pub async fn keep_voice(store: &Store, swing: SwingId, file: &Path, now: Timestamp) -> Result<()> {
    let reading = || format!("reading {}", file.display());
    let bytes = fs::metadata(file).with_context(reading)?.len();
    ensure!(
        bytes <= LARGEST_VOICE,
        "{} is too large for a voice",
        file.display()
    );
    let recording = fs::read(file).with_context(reading)?;
    let extension = file.extension().and_then(|e| e.to_str()).unwrap_or("audio");
    Ok(store
        .keep_voice(swing, &recording, extension, None, now)
        .await?)
}

/// Chooses, and drafts the lesson again.
pub fn run(
    around: Surroundings,
    arguments: &DeskArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    let around = Arc::new(around);
    let swing = SwingId(arguments.swing);
    if let Some(file) = &arguments.voice {
        // Before anything is kept: a file that is no sound is refused.
        media::voice(&around.tools, file, cancel)?;
    }
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let stored = store.latest_analysis(swing).await?;
        let stored =
            stored.with_context(|| format!("there is no analysed swing {swing} in the studio"))?;
        let before = store.choices(swing).await?.choices;
        let start = if arguments.as_proposed {
            Choices::default()
        } else {
            before.clone()
        };
        let choices = arguments.desk.changed(start, &arguments.note)?;
        check_fact(&stored.analysis, &choices)?;
        let now = Timestamp::now();
        store.keep_choices(swing, &choices, now).await?;
        match &arguments.voice {
            Some(file) => keep_voice(&store, swing, file, now).await?,
            None if arguments.no_voice => store.forget_voice(swing, now).await?,
            None => {}
        }
        let corrected = if choices.teaching == before.teaching {
            to_draft_again(&around, &store, swing, cancel).await?
        } else {
            judge_again(&around, &store, swing, cancel).await?
        };
        if let Err(refused) = check(&corrected.analysis, &choices) {
            store.keep_choices(swing, &before, Timestamp::now()).await?;
            judge_again(&around, &store, swing, cancel)
                .await?
                .draft_lesson(&around, &store, cancel)
                .await?;
            return Err(refused);
        }
        print!("{}", say::analysis(&corrected.analysis));
        corrected.draft_lesson(&around, &store, cancel).await?;
        println!(
            "The lesson of swing {swing} is drafted; to see and approve it: lessonwright open"
        );
        Ok(())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_is_said_by_view_and_moment_with_words_that_may_hold_anything() {
        let chosen = picture("down-the-line:lead-arm-level-down=elbow = ahead: yes").unwrap();
        assert_eq!(chosen.view, View::DownTheLine);
        assert_eq!(chosen.moment, MomentName::LeadArmLevelDown);
        assert_eq!(chosen.caption, "elbow = ahead: yes");
        for wrong in ["top", "face-on:middle", "above:top", ""] {
            assert!(picture(wrong).is_err(), "{wrong}");
        }
    }
}
