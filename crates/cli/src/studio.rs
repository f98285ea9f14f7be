//! `open`: the studio as a local page.

use crate::arguments::OpenArguments;
use crate::bench::Bench;
use crate::correct;
use crate::diary::drill_words;
use crate::lesson::reference;
use crate::personal;
use crate::surroundings::Surroundings;
use crate::trade::Own;
use anyhow::{Context, Result};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use lessonwright_model::{Cancel, Measure};
use lessonwright_store::Store;
use lessonwright_web::{AppState, Asked, Correct, DEFAULT_ADDRESS, Prescribing};
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
    let state = AppState {
        reference_of: personal::references(own.clone(), store.clone()),
        prescribing: Arc::new(Prescribing {
            screening: own.screening.clone(),
            practice: own.practice.clone(),
            book: own.book.clone(),
            stations: own.stations.clone(),
            figures: own.figures.clone(),
        }),
        correct: correcting(around, store.clone(), bench.clone(), cancel.clone()),
        bench: Arc::new(bench),
        academy: options.academy.clone(),
        coach: options.coach.clone(),
        units: options.units.into(),
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
        let router = lessonwright_web::router(store, state);
        lessonwright_web::serve(listener, router, closed)
            .await
            .context("serving the studio")
    })
}

/// How long after a correction its lesson is drafted: changes that follow one another need one draft.
const DRAFT_AFTER: Duration = Duration::from_millis(1500);

/// What the forms of a swing's page ask for.
fn correcting(around: Arc<Surroundings>, store: Store, bench: Bench, cancel: Cancel) -> Correct {
    // One at a time: a change goes on from the one before.
    let turn = Arc::new(Mutex::new(()));
    Arc::new(move |swing, asked| {
        let (around, store, cancel) = (Arc::clone(&around), store.clone(), cancel.clone());
        let (turn, bench) = (Arc::clone(&turn), bench.clone());
        Box::pin(async move {
            let _mine = turn.lock().await;
            let done = match asked {
                Asked::Make(change) => {
                    correct::change(&around, &store, swing, &[change], &cancel).await
                }
                Asked::Again => correct::judge_again(&around, &store, swing, &cancel).await,
                Asked::TakeBack => correct::take_back(&around, &store, swing, &cancel).await,
            };
            let corrected = done.map_err(|error| format!("{error:#}."))?;
            let tracks = Arc::new(corrected.tracks.clone());
            bench.keep(swing, corrected.id, tracks);
            // The numbers are there; the page need not wait for the lesson's pictures, nor share the machine with
            // them while it shows what changed.
            tokio::spawn(async move {
                tokio::time::sleep(DRAFT_AFTER).await;
                if let Err(error) = corrected.draft_lesson(&around, &store, &cancel).await {
                    tracing::error!(%swing, "the lesson was not drafted again: {error:#}");
                }
            });
            Ok(())
        })
    })
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
