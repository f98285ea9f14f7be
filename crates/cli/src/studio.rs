//! `open`: the studio as a local page.

use crate::arguments::OpenArguments;
use crate::bench::Bench;
use crate::bring_in::{Workshop, lan_base, serve_phones};
use crate::correct;
use crate::diary::drill_words;
use crate::keep::Keeper;
use crate::lesson::reference;
use crate::letter::{self, Writer};
use crate::personal;
use crate::surroundings::Surroundings;
use crate::take_in::Letterhead;
use crate::trade::Own;
use anyhow::{Context, Result};
use jiff::tz::TimeZone;
use jiff::{Timestamp, Zoned};
use lessonwright_model::{Cancel, Language, Letter, Measure};
use lessonwright_report::Units;
use lessonwright_store::{Store, SwingId};
use lessonwright_web::bring_in::{Doors, Intake};
use lessonwright_web::{AppState, Asked, Correct, DEFAULT_ADDRESS, Drafts, Prescribing, Spoken};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use tokio::sync::Mutex;

/// Serve until Ctrl-C.
pub fn open(
    around: Surroundings,
    options: &OpenArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    let own = Own::load(&around.studio)?;
    let store = runtime.block_on(Store::open(&around.studio))?;
    runtime.block_on(store.offer_drills(&drill_words(&own.book)))?;
    let around = Arc::new(around);
    let bench = Bench::of(Arc::clone(&around), store.clone(), cancel.clone());
    let head = Letterhead {
        academy: options.academy.clone(),
        coach: options.coach.clone(),
        inches_first: Units::from(options.units) == Units::Inches,
    };
    let keeper = Keeper::of(Arc::clone(&around), store.clone(), head, cancel.clone());
    let phones = match options.phones {
        true => Some(runtime.block_on(lan_base(options.phones_port))?),
        false => None,
    };
    let intake = Intake::with_doors(Doors {
        phones: phones.as_ref().map(|(_, base)| base.clone()),
        folder: options.watch.clone(),
    });
    let letter = Letter {
        academy: options.academy.clone(),
        coach: options.coach.clone(),
        inches_first: matches!(options.units.into(), Units::Inches),
        ..Letter::default()
    };
    let workshop = Workshop::of(
        Arc::clone(&around),
        store.clone(),
        Arc::clone(&intake),
        letter,
        cancel.clone(),
    );
    let drafts = Drafts::default();
    let state = AppState {
        bring_in: intake,
        drafts: drafts.clone(),
        letter: letter::writing(
            Arc::clone(&around),
            store.clone(),
            writer(options),
            cancel.clone(),
        ),
        reference_of: personal::references(own.clone(), store.clone()),
        prescribing: Arc::new(Prescribing {
            screening: own.screening.clone(),
            practice: own.practice.clone(),
            book: own.book.clone(),
            stations: own.stations.clone(),
            figures: own.figures.clone(),
            causes: own.causes.clone(),
        }),
        correct: correcting(around, store.clone(), bench.clone(), drafts, cancel.clone()),
        bench: Arc::new(bench),
        keeping: Arc::new(keeper),
        academy: options.academy.clone(),
        coach: options.coach.clone(),
        units: options.units.into(),
        spoken: Spoken::new(runtime.block_on(language(&store, options))?),
        time_zone: TimeZone::system(),
        now: Arc::new(Timestamp::now),
        trade: Arc::new(own.for_pages()),
        reference: Arc::new(move |measure: &Measure| reference(measure, &own.targets, &own.causes)),
    };
    runtime.block_on(async {
        let listener = TcpListener::bind((DEFAULT_ADDRESS.ip(), options.port))
            .await
            .with_context(|| {
                format!("port {} is taken; choose another with --port", options.port)
            })?;
        let address = format!("http://{}/", listener.local_addr()?);
        println!("The studio is open at {address} (Ctrl-C closes it)");
        if options.browser {
            show(&address);
        }
        let closed = async {
            let _ = tokio::signal::ctrl_c().await;
        };
        workshop.begin();
        if let Some((listener, base)) = phones {
            println!(
                "Phones on this network are let in at {base} (with a square code of the page)"
            );
            serve_phones(listener, store.clone(), state.clone());
        }
        let router = lessonwright_web::router(store, state);
        let served = lessonwright_web::serve(listener, router, closed).await;
        workshop.close();
        served.context("serving the studio")
    })
}

/// The language of the studio's pages: as told now, which is remembered, else as chosen before.
async fn language(store: &Store, options: &OpenArguments) -> Result<Language> {
    if let Some(told) = options.language {
        store.choose_studio_language(told.into()).await?;
    }
    Ok(store.studio_language().await?.unwrap_or_default())
}

/// Who writes a letter today.
fn writer(options: &OpenArguments) -> impl Fn() -> Writer + Send + Sync + 'static {
    let (academy, coach) = (options.academy.clone(), options.coach.clone());
    let units = options.units.into();
    move || Writer {
        academy: academy.clone(),
        coach: coach.clone(),
        units,
        today: Zoned::now().date(),
    }
}

/// How long after a correction its lesson is drafted: changes that follow one another need one draft.
const DRAFT_AFTER: Duration = Duration::from_millis(1500);

/// What the forms of a swing's page ask for.
fn correcting(
    around: Arc<Surroundings>,
    store: Store,
    bench: Bench,
    drafts: Drafts,
    cancel: Cancel,
) -> Correct {
    // One at a time: a change goes on from the one before.
    let turn = Arc::new(Mutex::new(()));
    Arc::new(move |swing, asked| {
        let (around, store, cancel) = (Arc::clone(&around), store.clone(), cancel.clone());
        let (turn, bench, drafts) = (Arc::clone(&turn), bench.clone(), drafts.clone());
        Box::pin(async move {
            if asked == Asked::Draft {
                tokio::spawn(drafting_again(around, store, swing, drafts, cancel));
                return Ok(());
            }
            let _mine = turn.lock().await;
            let done = match asked {
                Asked::Make(change) => {
                    correct::change(&around, &store, swing, &[change], &cancel).await
                }
                Asked::Again => correct::judge_again(&around, &store, swing, &cancel).await,
                Asked::Draft => unreachable!("answered above"),
                Asked::TakeBack => correct::take_back(&around, &store, swing, &cancel).await,
            };
            let corrected = done.map_err(|error| format!("{error:#}."))?;
            let tracks = Arc::new(corrected.tracks.clone());
            bench.keep(swing, corrected.id, tracks);
            // The numbers are there; the page need not wait for the lesson's pictures, nor share the machine with
            // them while it shows what changed.
            tokio::spawn(async move {
                tokio::time::sleep(DRAFT_AFTER).await;
                let drafted = corrected.draft_lesson(&around, &store, &cancel).await;
                note_draft(&drafts, swing, drafted);
            });
            Ok(())
        })
    })
}

/// Drafts a lesson again, unless more was chosen for it meanwhile: that is asked for as well.
async fn drafting_again(
    around: Arc<Surroundings>,
    store: Store,
    swing: SwingId,
    drafts: Drafts,
    cancel: Cancel,
) {
    let drafted = async {
        let asked = store.choices(swing).await?.changed_at;
        tokio::time::sleep(DRAFT_AFTER).await;
        if store.choices(swing).await?.changed_at != asked {
            return Ok(());
        }
        let again = correct::to_draft_again(&around, &store, swing, &cancel).await?;
        again.draft_lesson(&around, &store, &cancel).await
    };
    note_draft(&drafts, swing, drafted.await);
}

/// For the lesson desk to show, and for the log.
fn note_draft(drafts: &Drafts, swing: SwingId, drafted: Result<()>) {
    if let Err(error) = &drafted {
        tracing::error!(%swing, "the lesson was not drafted again: {error:#}");
    }
    drafts.note(swing, drafted.err().map(|error| format!("{error:#}.")));
}

/// Ask the desktop to show a page; where there is none, the printed address has to do.
fn show(address: &str) {
    let opener = if cfg!(target_os = "macos") {
        "open"
    } else {
        "xdg-open"
    };
    let quiet = Command::new(opener)
        .arg(address)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    if quiet.is_err() {
        println!("Open that address in your browser.");
    }
}
