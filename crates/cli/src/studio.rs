//! `open`: the studio as a local page.

use crate::arguments::OpenArguments;
use crate::bench::Bench;
use crate::bring_in::{Workshop, lan_base, serve_phones};
use crate::correct;
use crate::keep::Keeper;
use crate::lesson::reference;
use crate::letter::{self, Writer};
use crate::mail::{self, MailArguments, MailSettings, Postman};
use crate::personal;
use crate::personal_link::PlayersDoor;
use crate::surroundings::Surroundings;
use crate::take_in::Letterhead;
use crate::trade::Own;
use anyhow::{Context, Result};
use jiff::tz::TimeZone;
use jiff::{Timestamp, Zoned};
use lessonwright_model::{Cancel, Language, Letter, Measure, Units};
use lessonwright_store::{Store, SwingId};
use lessonwright_web::bring_in::{Doors, Intake};
use lessonwright_web::{
    AppState, Asked, Correct, DEFAULT_ADDRESS, Drafts, Lasting, Others, Pages, Prescribing, Spoken,
    keep_progress_ready, offer_to_search,
};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use tokio::sync::Mutex;

/// The studio while it is open: all that its pages are made of, but for the trade and the units, which can be set
/// meanwhile. Clones share it.
#[derive(Clone)]
pub struct Opened {
    pub around: Arc<Surroundings>,
    pub store: Store,
    /// Changes to the trade are made one after the other.
    pub turn: Arc<Mutex<()>>,
    academy: String,
    coach: String,
    bench: Bench,
    keeper: Keeper,
    intake: Arc<Intake>,
    drafts: Drafts,
    lasting: Lasting,
    spoken: Spoken,
    pages: Pages,
    cancel: Cancel,
}

/// Serve until Ctrl-C.
pub fn open(
    around: Surroundings,
    options: &OpenArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    // What is wrong with the own tables is said before anything is opened.
    Own::load(&around.studio)?;
    let store = runtime.block_on(Store::open(&around.studio))?;
    if let Some(units) = options.units {
        runtime.block_on(store.keep_studio_units(units.into()))?;
    }
    let phones = match options.phones {
        true => Some(runtime.block_on(lan_base(options.phones_port))?),
        false => None,
    };
    let players = PlayersDoor::open(options.players, options.address.as_deref());
    let players = runtime.block_on(players)?;
    // No mail server closes the studio.
    let postman =
        postman(&around, &store, &options.academy, &options.coach).unwrap_or_else(|error| {
            eprintln!("lessonwright: no e-mail is sent: {error:#}");
            None
        });
    let doors = Doors {
        players: players.as_ref().map(PlayersDoor::origin),
        mail_after: postman.as_ref().map(|postman| postman.settings.wait),
        phones: phones.as_ref().map(|(_, base)| base.clone()),
        folder: options.watch.clone(),
    };
    let spoken = Spoken::new(runtime.block_on(language(&store, options))?);
    let opened = Opened::of(Arc::new(around), store, options, doors, spoken, cancel);
    let state = runtime.block_on(opened.show_anew())?;
    let beside = Beside {
        phones,
        players,
        postman,
    };
    runtime.block_on(serve(&opened, options, state, beside))
}

/// What is open beside the studio's own pages, if asked for.
struct Beside {
    /// For phones on this network, with its address.
    phones: Option<(TcpListener, String)>,
    /// For players with a personal link.
    players: Option<PlayersDoor>,
    /// Who sends e-mails.
    postman: Option<Postman>,
}

async fn serve(
    opened: &Opened,
    options: &OpenArguments,
    state: AppState,
    beside: Beside,
) -> Result<()> {
    let listener = TcpListener::bind((DEFAULT_ADDRESS.ip(), options.port))
        .await
        .with_context(|| format!("port {} is taken; choose another with --port", options.port))?;
    let address = format!("http://{}/", listener.local_addr()?);
    println!("The studio is open at {address} (Ctrl-C closes it)");
    if options.browser {
        show(&address);
    }
    let closed = async {
        let _ = tokio::signal::ctrl_c().await;
    };
    let workshop = opened.workshop();
    workshop.begin();
    tokio::spawn(keep_progress_ready(opened.store.clone(), state.clone()));
    if let Some((listener, base)) = beside.phones {
        println!("Phones on this network are let in at {base} (with a square code of the page)");
        serve_phones(listener, opened.store.clone(), state.clone());
    }
    if let Some(door) = beside.players {
        let origin = door.origin();
        let at = door.serve(opened.store.clone(), state)?;
        println!("Players with a personal link are let in at {at}, and find it at {origin}/");
    }
    if let Some(postman) = beside.postman {
        postman.begin(opened.cancel.clone());
    }
    let served = lessonwright_web::serve(listener, opened.pages.router(), closed).await;
    workshop.close();
    served.context("serving the studio")
}

impl Opened {
    fn of(
        around: Arc<Surroundings>,
        store: Store,
        options: &OpenArguments,
        doors: Doors,
        spoken: Spoken,
        cancel: &Cancel,
    ) -> Opened {
        let head = Letterhead {
            academy: options.academy.clone(),
            coach: options.coach.clone(),
        };
        Opened {
            bench: Bench::of(Arc::clone(&around), store.clone(), cancel.clone()),
            keeper: Keeper::of(Arc::clone(&around), store.clone(), head, cancel.clone()),
            academy: options.academy.clone(),
            coach: options.coach.clone(),
            intake: Intake::with_doors(doors),
            drafts: Drafts::default(),
            lasting: Lasting::default(),
            spoken,
            pages: Pages::default(),
            turn: Arc::default(),
            cancel: cancel.clone(),
            around,
            store,
        }
    }

    /// Makes the pages by what is set now, and serves them from now on.
    pub async fn show_anew(&self) -> Result<AppState> {
        let own = Own::load(&self.around.studio)?;
        offer_to_search(&self.store, &own.causes, &own.book).await?;
        let units = self.store.studio_units().await?.unwrap_or_default();
        let state = self.state(own, units);
        let routes = lessonwright_web::router(self.store.clone(), state.clone());
        self.pages.put(routes);
        Ok(state)
    }

    fn state(&self, own: Own, units: Units) -> AppState {
        let (around, store) = (Arc::clone(&self.around), self.store.clone());
        AppState {
            bring_in: Arc::clone(&self.intake),
            drafts: self.drafts.clone(),
            letter: letter::writing(
                Arc::clone(&around),
                store.clone(),
                self.writer(),
                self.cancel.clone(),
            ),
            reference_of: personal::references(own.clone(), store.clone()),
            prescribing: Arc::new(Prescribing {
                screening: own.screening.clone(),
                practice: own.practice.clone(),
                book: own.book.clone(),
                stations: own.stations.clone(),
                figures: own.figures.clone(),
                causes: own.causes.clone(),
                others: Others::default(),
            }),
            correct: correcting(
                around,
                store,
                self.bench.clone(),
                self.drafts.clone(),
                self.cancel.clone(),
            ),
            bench: Arc::new(self.bench.clone()),
            keeping: Arc::new(self.keeper.clone()),
            academy: self.academy.clone(),
            coach: self.coach.clone(),
            units,
            spoken: self.spoken.clone(),
            time_zone: TimeZone::system(),
            now: Arc::new(Timestamp::now),
            trade: own.for_pages(),
            reference: Arc::new(move |measure: &Measure| {
                reference(measure, &own.targets, &own.causes)
            }),
            own: Arc::new(self.clone()),
            lasting: self.lasting.clone(),
        }
    }

    /// Who writes a letter today.
    fn writer(&self) -> impl Fn() -> Writer + Send + Sync + 'static {
        let (academy, coach) = (self.academy.clone(), self.coach.clone());
        move || Writer {
            academy: academy.clone(),
            coach: coach.clone(),
            units: None,
            today: Zoned::now().date(),
        }
    }

    fn workshop(&self) -> Workshop {
        let letter = Letter {
            academy: self.academy.clone(),
            coach: self.coach.clone(),
            ..Letter::default()
        };
        Workshop::of(
            Arc::clone(&self.around),
            self.store.clone(),
            Arc::clone(&self.intake),
            letter,
            self.cancel.clone(),
        )
    }
}

/// `mail`.
pub fn mail(around: &Surroundings, asked: &MailArguments, runtime: &Runtime) -> Result<String> {
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        mail::run(postman(around, &store, "", "")?, &store, asked).await
    })
}

/// Who sends e-mails, if a mail server is set.
fn postman(
    around: &Surroundings,
    store: &Store,
    academy: &str,
    coach: &str,
) -> Result<Option<Postman>> {
    let settings = MailSettings::load(&around.studio)?;
    Ok(settings.map(|settings| Postman {
        store: store.clone(),
        settings,
        academy: academy.to_owned(),
        coach: coach.to_owned(),
    }))
}

/// The language of the studio's pages: as told now, which is remembered, else as chosen before.
async fn language(store: &Store, options: &OpenArguments) -> Result<Language> {
    if let Some(told) = options.language {
        store.choose_studio_language(told.into()).await?;
    }
    Ok(store.studio_language().await?.unwrap_or_default())
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
