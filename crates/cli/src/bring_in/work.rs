//! The queue: clips are watched and swings go down the road one at a time, what was asked for first.

use super::Workshop;
use super::open::named;
use crate::lesson::{self, Told};
use crate::personal;
use crate::progress::listening;
use crate::road;
use crate::surroundings::Surroundings;
use crate::trade::Own;
use crate::watch::{self, ClipFile};
use anyhow::{Context, Result, anyhow};
use lessonwright_coaching::ball::ClubKind;
use lessonwright_model::{
    Brief, Cancel, Choices, ClipBrief, ClipNotes, Corrections, Letter, PlayerFacts, Units, View,
};
use lessonwright_store::{Arrival, ArrivalState, Store, TakenIn, Work, WorkState};
use lessonwright_web::bring_in::{Job, Step};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Answers and clips that come by a link within this time of each other belong together, hours.
const ANSWERS_WITHIN_H: i64 = 12;

/// Another program may put things on the queue as well; it rings no bell.
const LOOK_EVERY: Duration = Duration::from_secs(2);

/// What comes next.
enum Next {
    Clip(Box<Arrival>),
    Swing(Box<Work>),
    /// A swing whose clip can't be used, and why.
    Hopeless(Box<Work>, String),
}

impl Workshop {
    pub(super) async fn work_in_turn(self) {
        if let Err(error) = self.store.wait_again().await {
            tracing::error!("the queue could not be taken up again: {error:#}");
        }
        while !self.closing.is_cancelled() {
            match self.do_next().await {
                Ok(true) => continue,
                Ok(false) => {}
                Err(error) => tracing::error!("the queue stands still: {error:#}"),
            }
            let _ = tokio::time::timeout(LOOK_EVERY, self.intake.bell.notified()).await;
        }
    }

    /// Does what comes next; false if there is nothing to do.
    pub(super) async fn do_next(&self) -> Result<bool> {
        let (arrivals, works) = (self.store.arrivals().await?, self.store.works().await?);
        match next(&arrivals, &works) {
            None => return Ok(false),
            Some(Next::Clip(clip)) => self.watch(*clip).await?,
            Some(Next::Swing(work)) => self.travel(*work).await?,
            Some(Next::Hopeless(work, why)) => {
                let failed = WorkState::Failed;
                self.store.move_work(work.id, failed, Some(&why)).await?;
            }
        }
        Ok(true)
    }

    /// Follows golfer and club through a clip, and recognises from where it was filmed.
    async fn watch(&self, clip: Arrival) -> Result<()> {
        let cancel = Cancel::default();
        let watched = self.listened(
            Job::Clip(clip.id),
            cancel.clone(),
            clip.notes.iter().cloned().collect(),
            {
                let clip = clip.clone();
                let cancel = cancel.clone();
                move |around| look(&around, &clip, &cancel)
            },
        );
        match watched.await {
            Ok(view) => self.store.note_watched(clip.id, view).await?,
            Err(_) if self.closing.is_cancelled() => {}
            Err(_) if cancel.is_cancelled() => {
                self.store
                    .move_arrival(clip.id, ArrivalState::Stopped, None)
                    .await?;
            }
            Err(error) => {
                let why = named(&error, &clip);
                self.store
                    .move_arrival(clip.id, ArrivalState::Failed, Some(&why))
                    .await?;
            }
        }
        Ok(())
    }

    /// Takes a swing down the road, into the studio, with its lesson's draft.
    async fn travel(&self, work: Work) -> Result<()> {
        self.store
            .move_work(work.id, WorkState::UnderWay, None)
            .await?;
        let cancel = Cancel::default();
        match self.make_lesson(&work, &cancel).await {
            Ok(()) => {}
            // It goes on when the studio is next opened.
            Err(_) if self.closing.is_cancelled() => {}
            Err(_) if cancel.is_cancelled() => {
                self.store
                    .move_work(work.id, WorkState::Stopped, None)
                    .await?;
            }
            Err(error) => {
                let why = format!("{error:#}.");
                self.store
                    .move_work(work.id, WorkState::Failed, Some(&why))
                    .await?;
            }
        }
        Ok(())
    }

    async fn make_lesson(&self, work: &Work, cancel: &Cancel) -> Result<()> {
        let store = &self.store;
        let player = store
            .player(work.player)
            .await?
            .context("the player was erased meanwhile")?;
        let own = Own::load(&self.around.studio)?;
        let club = club_told(store, work).await?.map(ClubKind::key);
        let own = personal::own_for(own, store, &player, club, None).await?;
        let brief = Brief {
            clips: work.arrivals.iter().map(said).collect(),
            letter: Letter {
                date_text: lesson::spelled(jiff::Zoned::now().date()),
                inches_first: store.units_for(player.id).await? == Units::Inches,
                ..self.letter.clone()
            },
            ..Brief::default()
        };
        let files: Vec<ClipFile> = work.arrivals.iter().map(file).collect();
        let notes: Vec<ClipNotes> = work
            .arrivals
            .iter()
            .filter_map(|a| a.notes.clone())
            .collect();
        let job = Job::Swing(work.id);
        let making = self.listened(job, cancel.clone(), notes, {
            let (brief, player, cancel) = (brief.clone(), player.clone(), cancel.clone());
            move |around| {
                let facts = &player.facts;
                let nothing = Corrections::default();
                around.listener.report(Step::Measures, 0.0);
                let travelled =
                    road::travel(&around, own, &files, &brief, facts, &nothing, &cancel)?;
                around.listener.report(Step::Lesson, 0.0);
                let told = Told::default();
                let drafted =
                    lesson::draft(&around, &brief.letter, &player, &travelled, &told, &cancel)?;
                around.listener.report(Step::Lesson, 1.0);
                Ok((travelled, drafted))
            }
        });
        let (travelled, drafted) = making.await?;
        let paths: Vec<PathBuf> = work.arrivals.iter().map(|a| a.path.clone()).collect();
        let filmed = work
            .arrivals
            .iter()
            .filter_map(|a| a.notes.as_ref()?.filmed_at)
            .min();
        let swing = lesson::keep(
            store,
            &player,
            &paths,
            filmed,
            &brief,
            &travelled,
            (&Choices::default(), &drafted),
        )
        .await?;
        store.keep_club(swing, club).await?;
        store.end_work(work.id, swing).await?;
        Ok(())
    }

    /// Does work off the threads that answer, its progress told to the pages and its steps timed.
    async fn listened<T: Send + 'static>(
        &self,
        job: Job,
        cancel: Cancel,
        notes: Vec<ClipNotes>,
        work: impl FnOnce(Surroundings) -> Result<T> + Send + 'static,
    ) -> Result<T> {
        self.intake.begin(Some((job, cancel.clone())));
        // Closing the studio stops it too.
        let (closing, stops) = (self.closing.clone(), cancel.clone());
        let closer = tokio::spawn(async move {
            while !closing.is_cancelled() {
                tokio::time::sleep(Duration::from_millis(200)).await;
            }
            stops.cancel();
        });
        let timed: Arc<Mutex<Vec<(Step, Instant)>>> = Arc::default();
        let intake = Arc::clone(&self.intake);
        let times = Arc::clone(&timed);
        let around = self.around.telling(listening(move |step, share| {
            let mut times = times.lock().unwrap_or_else(PoisonError::into_inner);
            if times.last().is_none_or(|(last, _)| *last != step) {
                times.push((step, Instant::now()));
            }
            intake.report(step, share);
        }));
        let done = tokio::task::spawn_blocking(move || work(around)).await;
        let ended = Instant::now();
        closer.abort();
        self.intake.begin(None);
        let done = done.map_err(|error| anyhow!("the work broke off: {error}"))??;
        let times = timed.lock().unwrap_or_else(PoisonError::into_inner).clone();
        let notes: Vec<&ClipNotes> = notes.iter().collect();
        for (at, (step, began)) in times.iter().enumerate() {
            let until = times.get(at + 1).map_or(ended, |(_, next)| *next);
            let units = step.units(&notes);
            if units > 0.0 {
                let pace = (until - *began).as_secs_f64() / units;
                self.store.note_pace(step.key(), pace).await?;
            }
        }
        Ok(done)
    }
}

/// The first swing that was asked for comes next, or a clip of it that is still to be watched; then clips that nobody asked
/// for yet: they will be.
fn next(arrivals: &[Arrival], works: &[Work]) -> Option<Next> {
    for work in works.iter().filter(|work| work.state == WorkState::Waiting) {
        let mut clips = work.arrivals.iter();
        if work.arrivals.is_empty() {
            let why = "Its clips are gone from the tray: bring them in again.".to_owned();
            return Some(Next::Hopeless(Box::new(work.clone()), why));
        }
        if let Some(failed) = clips
            .clone()
            .find(|clip| clip.state == ArrivalState::Failed)
        {
            let trouble = failed.trouble.clone().unwrap_or_default();
            let why = format!("{}: {trouble}", failed.name);
            return Some(Next::Hopeless(Box::new(work.clone()), why));
        }
        if let Some(clip) = clips
            .clone()
            .find(|clip| clip.state == ArrivalState::Opened)
        {
            return Some(Next::Clip(Box::new(clip.clone())));
        }
        if clips.all(|clip| clip.state == ArrivalState::Watched) {
            return Some(Next::Swing(Box::new(work.clone())));
        }
    }
    let free = |clip: &&Arrival| clip.state == ArrivalState::Opened && clip.work.is_none();
    arrivals
        .iter()
        .find(free)
        .map(|clip| Next::Clip(Box::new(clip.clone())))
}

/// The club that a player named when the clips came by the personal link: in the answers nearest to them.
async fn club_told(store: &Store, work: &Work) -> Result<Option<ClubKind>> {
    let by_link = work.arrivals.iter().find(|clip| clip.link.is_some());
    let Some(clip) = by_link else {
        return Ok(None);
    };
    let apart = |taken: &TakenIn| (taken.taken_at.as_second() - clip.arrived_at.as_second()).abs();
    let answers = store.taken_in_of(work.player).await?.into_iter();
    let nearest = answers.min_by_key(apart);
    let nearest = nearest.filter(|taken| apart(taken) <= 3600 * ANSWERS_WITHIN_H);
    let Some(taken) = nearest else {
        return Ok(None);
    };
    let said: serde_json::Value = serde_json::from_str(&taken.answers)?;
    Ok(said["answers"]["club"].as_str().and_then(ClubKind::of_key))
}

fn file(arrival: &Arrival) -> ClipFile {
    ClipFile {
        path: arrival.path.clone(),
        name: Some(arrival.name.clone()),
        sha256: Some(arrival.sha256.clone()),
    }
}

fn said(arrival: &Arrival) -> ClipBrief {
    ClipBrief {
        view: arrival.view_said,
        capture_rate_hz: None,
    }
}

/// Everything slow that a clip needs, kept; and the view, where it can be told.
fn look(around: &Surroundings, clip: &Arrival, cancel: &Cancel) -> Result<Option<View>> {
    let brief = Brief {
        clips: vec![said(clip)],
        ..Brief::default()
    };
    let seen = watch::observe_all(around, &[file(clip)], &brief, cancel)?;
    let observations = road::observations(&seen, &brief);
    // What can't be told from the picture the professional says.
    let outlines = lessonwright_analysis::outlines(
        &observations,
        &PlayerFacts::default(),
        &road::settings(&brief),
    );
    Ok(outlines
        .ok()
        .and_then(|outlines| outlines.first().map(|outline| outline.view)))
}
