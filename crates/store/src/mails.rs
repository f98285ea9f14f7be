//! E-mails on their way: of whom and why each is, when it is tried next, what went wrong; and where players agreed to be
//! told. The words are made when one is sent, and none is about health.

use crate::error::{StoreError, during};
use crate::players::timestamp;
use crate::rows::{PlayerId, id};
use crate::store::Store;
use jiff::Timestamp;
use jiff::civil::Date;
use sqlx::Row;
use sqlx::sqlite::SqliteRow;
use std::fmt;

id!(
    /// Key of an e-mail.
    MailId
);

/// Why an e-mail is sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MailKind {
    /// To the professional: a player sent something.
    SentIn,
    /// To the player: a lesson is there.
    LessonReady,
}

/// How far an e-mail is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MailState {
    /// It is tried at `next_at`.
    Waiting,
    /// A server took it.
    Sent,
    /// It was tried for too long, or must not be sent any more.
    GivenUp,
}

/// An e-mail.
#[derive(Clone, Debug, PartialEq)]
pub struct Mail {
    /// Key.
    pub id: MailId,
    /// Of whom it is.
    pub player: PlayerId,
    /// Why.
    pub kind: MailKind,
    /// How far.
    pub state: MailState,
    /// When the first thing happened that it tells of.
    pub queued_at: Timestamp,
    /// Not tried before.
    pub next_at: Timestamp,
    /// How often it was tried in vain.
    pub tries: u32,
    /// When a server took it.
    pub sent_at: Option<Timestamp>,
    /// What went wrong last.
    pub trouble: Option<String>,
}

impl Store {
    /// Asks for an e-mail, not to go out before an instant. What more happens until then is in the same one.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn ask_for_mail(
        &self,
        player: PlayerId,
        kind: MailKind,
        now: Timestamp,
        not_before: Timestamp,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT OR IGNORE INTO mails (player_id, kind, state, queued_at, next_at) VALUES (?, ?, 'waiting', ?, ?)",
        )
        .bind(player.0)
        .bind(kind.key())
        .bind(now.to_string())
        .bind(not_before.to_string())
        .execute(&self.pool)
        .await
        .map_err(during("ask for an e-mail"))?;
        Ok(())
    }

    /// All e-mails that are kept, oldest first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn mails(&self) -> Result<Vec<Mail>, StoreError> {
        sqlx::query("SELECT * FROM mails ORDER BY id")
            .fetch_all(&self.pool)
            .await
            .map_err(during("list e-mails"))?
            .iter()
            .map(mail)
            .collect()
    }

    /// Notes what became of an e-mail, and forgets those that were sent or given up before `old`.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn note_mail(&self, mail: &Mail, old: Timestamp) -> Result<(), StoreError> {
        let failed = || during("note what became of an e-mail");
        let mut change = self.pool.begin().await.map_err(failed())?;
        sqlx::query(
            "UPDATE mails SET state = ?, next_at = ?, tries = ?, sent_at = ?, trouble = ? WHERE id = ?",
        )
        .bind(mail.state.key())
        .bind(mail.next_at.to_string())
        .bind(mail.tries)
        .bind(mail.sent_at.map(|at| at.to_string()))
        .bind(&mail.trouble)
        .bind(mail.id.0)
        .execute(&mut *change)
        .await
        .map_err(failed())?;
        sqlx::query("DELETE FROM mails WHERE state <> 'waiting' AND next_at < ?")
            .bind(old.to_string())
            .execute(&mut *change)
            .await
            .map_err(failed())?;
        change.commit().await.map_err(failed())
    }

    /// Where a player agreed to be told, and on which day.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn mail_address(
        &self,
        player: PlayerId,
    ) -> Result<Option<(String, Date)>, StoreError> {
        let row = sqlx::query("SELECT * FROM mail_addresses WHERE player_id = ?")
            .bind(player.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for an e-mail address"))?;
        let read = |row: &SqliteRow| {
            let on = crate::follow_up::date_in(row, "agreed_on")?;
            Ok((row.get("address"), on.unwrap_or_default()))
        };
        row.as_ref().map(read).transpose()
    }

    /// Notes where a player agreed to be told, or that the player did not or no more.
    ///
    /// # Errors
    /// If there is no such player.
    pub async fn keep_mail_address(
        &self,
        player: PlayerId,
        agreed: Option<(&str, Date)>,
    ) -> Result<(), StoreError> {
        let failed = || during("note an e-mail address");
        let Some((address, on)) = agreed else {
            // What is still on its way to it goes nowhere.
            for text in [
                "DELETE FROM mail_addresses WHERE player_id = ?",
                "DELETE FROM mails WHERE player_id = ? AND kind = 'lesson_ready' AND state = 'waiting'",
            ] {
                let done = sqlx::query(text).bind(player.0).execute(&self.pool).await;
                done.map_err(failed())?;
            }
            return Ok(());
        };
        sqlx::query("INSERT OR REPLACE INTO mail_addresses (player_id, address, agreed_on) VALUES (?, ?, ?)")
            .bind(player.0)
            .bind(address)
            .bind(on.to_string())
            .execute(&self.pool)
            .await
            .map_err(failed())?;
        Ok(())
    }
}

impl MailKind {
    fn key(self) -> &'static str {
        match self {
            MailKind::SentIn => "sent_in",
            MailKind::LessonReady => "lesson_ready",
        }
    }
}

impl MailState {
    fn key(self) -> &'static str {
        match self {
            MailState::Waiting => "waiting",
            MailState::Sent => "sent",
            MailState::GivenUp => "given_up",
        }
    }
}

fn mail(row: &SqliteRow) -> Result<Mail, StoreError> {
    let id = MailId(row.get("id"));
    let what = || format!("e-mail {id}");
    let sent: Option<&str> = row.get("sent_at");
    Ok(Mail {
        id,
        player: PlayerId(row.get("player_id")),
        kind: match row.get("kind") {
            "sent_in" => MailKind::SentIn,
            _ => MailKind::LessonReady,
        },
        state: match row.get("state") {
            "waiting" => MailState::Waiting,
            "sent" => MailState::Sent,
            _ => MailState::GivenUp,
        },
        queued_at: timestamp(row.get("queued_at"), what())?,
        next_at: timestamp(row.get("next_at"), what())?,
        tries: row.get("tries"),
        sent_at: sent.map(|at| timestamp(at, what())).transpose()?,
        trouble: row.get("trouble"),
    })
}
