//! The professional's side: a player's personal link, made, shown once and withdrawn; and what came by it.

use super::answers::pain_words;
use super::routes::personal_address;
use super::tray::clips_of;
use super::{LINK_DAYS, MOST_LINK_DAYS, days, new_token};
use crate::AppState;
use crate::bring_in::player_bring_in_address;
use crate::bring_in::square::square_code;
use crate::error::{PageError, not_saved};
use crate::named;
use crate::pages::day;
use crate::routes::{Fields, Studio, player_address, shown};
use crate::script_words::{LINK, script_words};
use crate::wording::waited;
use askama::Template;
use axum::extract::{Form, Path, State};
use axum::response::{Redirect, Response};
use lessonwright_exchange::Answers;
use lessonwright_language::{Text, filters, t};
use lessonwright_report::{CLUBS, FLIGHTS};
use lessonwright_store::{Arrival, LinkKind, MailState, Player, PlayerId, Store, TakenIn};

/// The page of a player's link.
pub fn link_address(id: PlayerId) -> String {
    format!("{}/link", player_address(id))
}

#[derive(Template)]
#[template(path = "personal_link.html")]
struct LinkPage {
    name: String,
    player: String,
    at: String,
    bring_in: String,
    is_open: bool,
    living: Vec<Text>,
    /// Just made: where, as a square code, until when.
    made: Option<(String, String, Text)>,
    days: i64,
    most_days: i64,
    clips: usize,
    answers: Vec<Answered>,
    unread: bool,
    mail: Option<String>,
    /// For the scripts: JSON.
    script_words: String,
}

struct Answered {
    day: Text,
    pain: Text,
    hurts: bool,
    flight: Option<Text>,
    club: Option<Text>,
    feel: String,
    words: String,
}

pub async fn page(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    show(&studio, player, None).await
}

async fn show(
    studio: &Studio,
    player: Player,
    made: Option<(String, String, Text)>,
) -> Result<Response, PageError> {
    let (store, state) = (&studio.store, &studio.state);
    let living = store
        .links_of(LinkKind::Personal, player.id, (state.now)())
        .await?;
    let answers = store.taken_in_of(player.id).await?;
    let unread = store.unread_answers().await?;
    let mail = store.mail_address(player.id).await?;
    shown(&LinkPage {
        player: player_address(player.id),
        at: link_address(player.id),
        bring_in: player_bring_in_address(player.id),
        is_open: state.bring_in.doors.players.is_some(),
        living: living.iter().map(|link| day(link.ends_at, state)).collect(),
        made,
        days: LINK_DAYS,
        most_days: MOST_LINK_DAYS,
        clips: clips_of(store, player.id).await?.len(),
        answers: answers
            .iter()
            .filter_map(|one| Answered::of(one, state))
            .collect(),
        unread: unread.iter().any(|one| one.player == player.id),
        mail: mail.map(|(address, _)| address),
        script_words: script_words(&[LINK]),
        name: player.facts.name,
    })
}

impl Answered {
    fn of(taken: &TakenIn, state: &AppState) -> Option<Answered> {
        let answers = Answers::on_record(&taken.answers)?;
        let words = |list: &[(&str, &'static str)], key: &str| {
            let found = list.iter().find(|(known, _)| *known == key);
            found.map(|(_, id)| t(id))
        };
        Some(Answered {
            day: day(taken.taken_at, state),
            pain: pain_words(&answers),
            hurts: !answers.pains.is_empty(),
            flight: words(&FLIGHTS, &answers.flight),
            club: words(&CLUBS, &answers.club),
            feel: answers.feel,
            words: answers.words,
        })
    }
}

pub async fn make(
    State(studio): State<Studio>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let player = named::player(&studio.store, &id).await?;
    let back = link_address(player.id);
    let Some(origin) = studio.state.bring_in.doors.players.clone() else {
        return Ok(not_saved(t("personal-not-opened"), back));
    };
    let typed = fields.get("days").and_then(|text| text.trim().parse().ok());
    let Some(lives) = typed.filter(|n| (1..=MOST_LINK_DAYS).contains(n)) else {
        let why = t("personal-link-days").with("most", MOST_LINK_DAYS);
        return Ok(not_saved(why, back));
    };
    let now = (studio.state.now)();
    let (token, ends) = (new_token(), now + days(lives));
    let made = studio
        .store
        .add_link(LinkKind::Personal, player.id, &token, now, ends)
        .await;
    if let Err(error) = made {
        return Ok(not_saved(Text::plain(format!("{error}.")), back));
    }
    let address = format!("{origin}{}", personal_address(&token));
    let square = square_code(&address).unwrap_or_default();
    let until = day(ends, &studio.state);
    show(&studio, player, Some((address, square, until))).await
}

pub async fn end(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Redirect, PageError> {
    let player = named::player(&studio.store, &id).await?.id;
    let now = (studio.state.now)();
    studio
        .store
        .end_links(LinkKind::Personal, player, now)
        .await?;
    Ok(Redirect::to(&link_address(player)))
}

pub async fn read(
    State(studio): State<Studio>,
    Path(id): Path<String>,
) -> Result<Redirect, PageError> {
    let player = named::player(&studio.store, &id).await?.id;
    studio.store.note_answers_read(player).await?;
    Ok(Redirect::to(&link_address(player)))
}

/// What came of one player by personal links and waits, for Today. Displays as HTML.
#[derive(Template)]
#[template(path = "personal_today.html")]
pub struct Came {
    players: Vec<CamePlayer>,
    /// An e-mail that did not go out.
    trouble: Option<String>,
}

struct CamePlayer {
    id: PlayerId,
    name: String,
    address: String,
    says: Text,
    waited: Text,
    since: jiff::Timestamp,
}

impl askama::filters::HtmlSafe for Came {}

/// What came and waits, of all players, the longest waiting first.
pub async fn came(store: &Store, state: &AppState) -> Result<Came, PageError> {
    let mut players: Vec<CamePlayer> = Vec::new();
    for one in store.unread_answers().await? {
        let says = match Answers::on_record(&one.taken.answers) {
            Some(answers) => t("personal-answers-say").with("says", pain_words(&answers)),
            None => t("personal-answers"),
        };
        add(&mut players, one.player, one.name, says, one.taken.taken_at);
    }
    let mut clips = store.arrivals_by_personal_link().await?;
    clips.retain(|clip| clip.work.is_none());
    while let Some(player) = clips.first().map(|clip| clip.player) {
        let (mine, others) = clips.into_iter().partition(|clip| clip.player == player);
        clips = others;
        let mine: Vec<Arrival> = mine;
        let Some(known) = store.player(player.unwrap_or(PlayerId(0))).await? else {
            continue;
        };
        let says = t("personal-clips").with("count", mine.len());
        add(
            &mut players,
            known.id,
            known.facts.name,
            says,
            mine[0].arrived_at,
        );
    }
    players.sort_by_key(|player| (player.since, player.id.0));
    for player in &mut players {
        player.waited = waited(player.since, (state.now)());
    }
    let mails = store.mails().await?;
    let failed = mails
        .iter()
        .rev()
        .find(|mail| mail.trouble.is_some() && mail.state != MailState::Sent);
    Ok(Came {
        players,
        trouble: failed.and_then(|mail| mail.trouble.clone()),
    })
}

fn add(players: &mut Vec<CamePlayer>, id: PlayerId, name: String, says: Text, at: jiff::Timestamp) {
    match players.iter_mut().find(|known| known.id == id) {
        Some(known) => {
            known.says = Text::joined([known.says.clone(), says], "; ");
            known.since = known.since.min(at);
        }
        None => players.push(CamePlayer {
            address: link_address(id),
            id,
            name,
            says,
            waited: Text::plain(""),
            since: at,
        }),
    }
}
