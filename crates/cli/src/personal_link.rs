//! `player link`: a player's personal link by command, and the door behind which the studio serves it.

use crate::player::named;
use anyhow::{Context, Result, anyhow, bail};
use clap::Args;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use lessonwright_store::{LinkKind, Store};
use lessonwright_web::AppState;
use lessonwright_web::personal::{
    Address, LINK_DAYS, MOST_LINK_DAYS, days, new_token, personal_address, personal_router,
};
use std::net::SocketAddr;
use tokio::net::TcpListener;

#[derive(Args)]
pub struct LinkArguments {
    /// The player's name
    player: String,
    /// How long the link lives, days
    #[arg(long, value_name = "N", default_value_t = LINK_DAYS, value_parser = clap::value_parser!(i64).range(1..=MOST_LINK_DAYS))]
    days: i64,
    /// Where players find the studio, as told to `open`: `https://players.example/`
    #[arg(long, value_name = "URL", env = "LESSONWRIGHT_ADDRESS", required_unless_present_any = ["withdraw", "list"])]
    address: Option<String>,
    /// Withdraw every link of the player at once
    #[arg(long, conflicts_with = "list")]
    withdraw: bool,
    /// Say until when the player's links live
    #[arg(long)]
    list: bool,
}

/// Makes a link, and says it once; or withdraws or lists.
pub async fn link(store: &Store, asked: &LinkArguments) -> Result<String> {
    let player = named(store, &asked.player).await?;
    let (name, now) = (&player.facts.name, Timestamp::now());
    let living = || store.links_of(LinkKind::Personal, player.id, now);
    let day = |at: Timestamp| at.to_zoned(TimeZone::system()).date();
    if asked.withdraw {
        let links = living().await?.len();
        store.end_links(LinkKind::Personal, player.id, now).await?;
        return Ok(match links {
            0 => format!("{name} had no link\n"),
            1 => format!("The link of {name} does not open anything any more\n"),
            more => format!("The {more} links of {name} do not open anything any more\n"),
        });
    }
    if asked.list {
        let line = |ends_at| format!("until {}\n", day(ends_at));
        let lines: String = living()
            .await?
            .iter()
            .map(|link| line(link.ends_at))
            .collect();
        return Ok(if lines.is_empty() {
            format!("{name} has no link\n")
        } else {
            lines
        });
    }
    let Some(address) = &asked.address else {
        bail!("say where players find the studio: --address https://HOST/");
    };
    let address = Address::parse(address).map_err(|problem| anyhow!(problem))?;
    let (token, ends) = (new_token(), now + days(asked.days));
    store
        .add_link(LinkKind::Personal, player.id, &token, now, ends)
        .await?;
    Ok(format!(
        "{}{}\nFor {name} alone, until {}. It is said once: only its hash is kept.\n",
        address.origin(),
        personal_address(&token),
        day(ends)
    ))
}

/// The door for players, before the studio is open.
pub struct PlayersDoor {
    listener: TcpListener,
    address: Address,
}

impl PlayersDoor {
    /// Listens where players, or what speaks TLS for them, come in; none if it was not asked for.
    pub async fn open(
        at: Option<SocketAddr>,
        address: Option<&str>,
    ) -> Result<Option<PlayersDoor>> {
        let (Some(at), Some(address)) = (at, address) else {
            return Ok(None);
        };
        let address = Address::parse(address).map_err(|problem| anyhow!(problem))?;
        let listener = TcpListener::bind(at)
            .await
            .with_context(|| format!("listening for players at {at}"))?;
        Ok(Some(PlayersDoor { listener, address }))
    }

    /// `https://players.example`.
    pub fn origin(&self) -> String {
        self.address.origin().to_owned()
    }

    /// Answers players until the studio closes.
    pub fn serve(self, store: Store, state: AppState) -> Result<SocketAddr> {
        let at = self.listener.local_addr()?;
        let router = personal_router(store, state, self.address);
        tokio::spawn(async move {
            let never = std::future::pending();
            if let Err(error) = lessonwright_web::serve(self.listener, router, never).await {
                tracing::error!("players are not answered any more: {error}");
            }
        });
        Ok(at)
    }
}
