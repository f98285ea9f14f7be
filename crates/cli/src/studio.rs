//! `open`: the studio as a local page.

use crate::arguments::OpenArguments;
use crate::lesson::reference;
use crate::road::own_targets;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use lessonwright_coaching::CauseTable;
use lessonwright_model::Measure;
use lessonwright_store::Store;
use lessonwright_web::{AppState, DEFAULT_ADDRESS};
use std::process::{Command, Stdio};
use std::sync::Arc;
use tokio::net::TcpListener;
use tokio::runtime::Runtime;

/// Serve until Ctrl-C.
pub fn open(around: &Surroundings, options: &OpenArguments, runtime: &Runtime) -> Result<()> {
    let targets = own_targets(&around.studio)?;
    let causes = CauseTable::standard();
    let state = AppState {
        academy: options.academy.clone(),
        coach: options.coach.clone(),
        units: options.units.into(),
        time_zone: TimeZone::system(),
        now: Arc::new(Timestamp::now),
        reference: Arc::new(move |measure: &Measure| reference(measure, &targets, &causes)),
    };
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
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
