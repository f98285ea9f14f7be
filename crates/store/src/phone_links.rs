//! Links of one player. A phone's, on the local network, for a lesson: whoever has the token may add clips of that player and
//! see how far they are. A personal one, from anywhere, for months: besides, answers go in and approved lessons come out. Each
//! until it ends; the token itself is not kept, only its hash.

use crate::arrivals::LinkId;
use crate::error::{StoreError, during};
use crate::media::sha256_text;
use crate::players::timestamp;
use crate::rows::PlayerId;
use crate::store::Store;
use jiff::Timestamp;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;

/// What a link is for. One kind does not open the other's door.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkKind {
    /// A phone in the room.
    Phone,
    /// The player's own, wherever the player is.
    Personal,
}

impl LinkKind {
    fn key(self) -> &'static str {
        match self {
            LinkKind::Phone => "phone",
            LinkKind::Personal => "personal",
        }
    }
}

/// A link that was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlayerLink {
    /// Key.
    pub id: LinkId,
    /// Whose clips it takes.
    pub player: PlayerId,
    /// From this instant on it is dead.
    pub ends_at: Timestamp,
}

impl Store {
    /// Makes a link for a player.
    ///
    /// # Errors
    /// For a minor without a guardian's consent; if the database fails.
    pub async fn add_link(
        &self,
        kind: LinkKind,
        player: PlayerId,
        token: &str,
        made_at: Timestamp,
        ends_at: Timestamp,
    ) -> Result<LinkId, StoreError> {
        self.check_film_allowed(player).await?;
        let done = sqlx::query(
            "INSERT INTO phone_links (kind, player_id, token_sha256, made_at, ends_at) VALUES (?, ?, ?, ?, ?)",
        )
        .bind(kind.key())
        .bind(player.0)
        .bind(sha256_text(token))
        .bind(made_at.to_string())
        .bind(ends_at.to_string())
        .execute(&self.pool)
        .await
        .map_err(during("make a link"))?;
        Ok(LinkId(done.last_insert_rowid()))
    }

    /// The living link of a token.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn link(
        &self,
        kind: LinkKind,
        token: &str,
        now: Timestamp,
    ) -> Result<Option<PlayerLink>, StoreError> {
        let row = sqlx::query("SELECT * FROM phone_links WHERE token_sha256 = ? AND kind = ?")
            .bind(sha256_text(token))
            .bind(kind.key())
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for a link"))?;
        let link = row.map(|row| from_row(&row)).transpose()?;
        Ok(link.filter(|link| now < link.ends_at))
    }

    /// A player's living links, latest first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn links_of(
        &self,
        kind: LinkKind,
        player: PlayerId,
        now: Timestamp,
    ) -> Result<Vec<PlayerLink>, StoreError> {
        let rows = sqlx::query(
            "SELECT * FROM phone_links WHERE player_id = ? AND kind = ? ORDER BY id DESC",
        )
        .bind(player.0)
        .bind(kind.key())
        .fetch_all(&self.pool)
        .await
        .map_err(during("list a player's links"))?;
        let links: Vec<PlayerLink> = rows.iter().map(from_row).collect::<Result<_, _>>()?;
        Ok(links
            .into_iter()
            .filter(|link| now < link.ends_at)
            .collect())
    }

    /// Ends all links of a kind that a player has, at once.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn end_links(
        &self,
        kind: LinkKind,
        player: PlayerId,
        now: Timestamp,
    ) -> Result<(), StoreError> {
        // Kept, so that what came by them still says so.
        sqlx::query(
            "UPDATE phone_links SET ends_at = ?1 WHERE player_id = ?2 AND kind = ?3 AND ends_at > ?1",
        )
        .bind(now.to_string())
        .bind(player.0)
        .bind(kind.key())
        .execute(&self.pool)
        .await
        .map_err(during("end a player's links"))?;
        Ok(())
    }
}

fn from_row(row: &SqliteRow) -> Result<PlayerLink, StoreError> {
    let id: i64 = row.get("id");
    Ok(PlayerLink {
        id: LinkId(id),
        player: PlayerId(row.get("player_id")),
        ends_at: timestamp(row.get("ends_at"), format!("link {id}"))?,
    })
}
