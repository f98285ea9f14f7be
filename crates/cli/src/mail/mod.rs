//! E-mails through any SMTP server: that a player sent something, to the professional; that a lesson is there, to a player who
//! agreed to be told. They wait in the database, go out one after the other, are tried again, and nothing waits for them. None
//! says anything of health, and none has a player's link in it: only its hash is kept. Each is in the language of who gets it.

mod settings;

pub use settings::MailSettings;

use anyhow::{Result, anyhow};
use clap::Args;
use jiff::{SignedDuration, Timestamp};
use lessonwright_language::{Language, Say, Text, t};
use lessonwright_model::Cancel;
use lessonwright_store::{LinkKind, Mail, MailKind, MailState, Player, Purpose, Store};
use lettre::message::header::ContentType;
use lettre::message::{Mailbox, Message};
use lettre::transport::smtp::Error;
use lettre::{Address, AsyncTransport};
use std::time::Duration;

/// How often the queue is looked at.
const LOOK_EVERY: Duration = Duration::from_secs(2);
/// The second try comes after so long, each later one after twice as long, at most `LONGEST_WAIT`.
const FIRST_WAIT: SignedDuration = SignedDuration::from_secs(60);
const LONGEST_WAIT: SignedDuration = SignedDuration::from_hours(6);
/// Given up after so long, as mail servers do (RFC 5321 4.5.4.1: 4 to 5 days at least).
const TRIED_FOR: SignedDuration = SignedDuration::from_hours(5 * 24);
/// What was sent or given up is kept for so long, to be looked at.
const KEPT_FOR: SignedDuration = SignedDuration::from_hours(30 * 24);

#[derive(Args)]
pub struct MailArguments {
    /// Send one e-mail to yourself, to see whether the settings are right
    #[arg(long)]
    test: bool,
}

/// Sends what waits.
pub struct Postman {
    pub store: Store,
    pub settings: MailSettings,
    pub academy: String,
    pub coach: String,
}

impl Postman {
    /// Sends until the studio closes.
    pub fn begin(self, closing: Cancel) {
        tokio::spawn(async move {
            while !closing.is_cancelled() {
                if let Err(error) = self.send_due(Timestamp::now()).await {
                    tracing::error!("e-mails stand still: {error:#}");
                }
                tokio::time::sleep(LOOK_EVERY).await;
            }
        });
    }

    /// Tries what is due; no more in an hour than is set.
    async fn send_due(&self, now: Timestamp) -> Result<()> {
        let mails = self.store.mails().await?;
        let hour_ago = now - SignedDuration::from_hours(1);
        let sent = |mail: &&Mail| mail.sent_at.is_some_and(|at| at > hour_ago);
        let left = self
            .settings
            .most_an_hour
            .saturating_sub(mails.iter().filter(sent).count());
        let due = |mail: &Mail| mail.state == MailState::Waiting && mail.next_at <= now;
        for mail in mails.into_iter().filter(due).take(left) {
            let tried = match self.message(&mail, now).await? {
                Some(message) => self.settings.transport.send(message).await.map(|_| ()),
                None => {
                    self.store
                        .note_mail(&given_up(mail, now), now - KEPT_FOR)
                        .await?;
                    continue;
                }
            };
            let mail = after(mail, tried.as_ref().err().map(Failed::of), now);
            if let Some(trouble) = &mail.trouble {
                tracing::warn!(mail = mail.id.0, "an e-mail did not go out: {trouble}");
            }
            self.store.note_mail(&mail, now - KEPT_FOR).await?;
        }
        Ok(())
    }

    /// The e-mail in words; none if it must not go out any more.
    async fn message(&self, mail: &Mail, now: Timestamp) -> Result<Option<Message>> {
        let Some(player) = self.store.player(mail.player).await? else {
            return Ok(None);
        };
        let studio = self.language().await?;
        let (to, language, words) = match mail.kind {
            MailKind::SentIn => (self.settings.to.clone(), studio, sent_in(&player)),
            MailKind::LessonReady => match self.agreed(&player, now).await? {
                Some(address) => (
                    Mailbox::new(None, address),
                    player.facts.language.unwrap_or(studio),
                    self.lesson_ready(),
                ),
                None => return Ok(None),
            },
        };
        self.build(to, Say::new(language), &words).map(Some)
    }

    /// The studio's language, the professional's.
    async fn language(&self) -> Result<Language> {
        Ok(self.store.studio_language().await?.unwrap_or_default())
    }

    fn build(&self, to: Mailbox, say: Say, words: &Words) -> Result<Message> {
        let paragraphs = Text::joined(words.paragraphs.clone(), "\n\n");
        Ok(Message::builder()
            .from(self.settings.from.clone())
            .to(to)
            .subject(say.text(&words.subject))
            .message_id(None)
            .header(ContentType::TEXT_PLAIN)
            .body(say.text(&paragraphs) + "\n")?)
    }

    /// Where a player is told of a lesson: agreed to be told and to be sent lessons, and has a link that opens.
    async fn agreed(&self, player: &Player, now: Timestamp) -> Result<Option<Address>> {
        let consents = self.store.consents_of(player.id).await?;
        let links = self
            .store
            .links_of(LinkKind::Personal, player.id, now)
            .await?;
        if consents.in_force(Purpose::Sending).is_none() || links.is_empty() {
            return Ok(None);
        }
        let address = self.store.mail_address(player.id).await?;
        Ok(address.and_then(|(address, _)| address.parse().ok()))
    }

    fn lesson_ready(&self) -> Words {
        let from = [self.coach.as_str(), self.academy.as_str()];
        let from: Vec<&str> = from.into_iter().filter(|name| !name.is_empty()).collect();
        let first = match from.is_empty() {
            true => t("personal-mail-lesson-text"),
            false => t("personal-mail-lesson-from").with("from", from.join(", ")),
        };
        Words {
            subject: t("personal-mail-lesson"),
            paragraphs: vec![
                first,
                t("personal-mail-lesson-where"),
                t("personal-mail-lesson-agreed"),
            ],
        }
    }
}

/// What an e-mail says, before a language is known.
struct Words {
    subject: Text,
    paragraphs: Vec<Text>,
}

fn sent_in(player: &Player) -> Words {
    let name = player.facts.name.as_str();
    Words {
        subject: t("personal-mail-came").with("name", name),
        paragraphs: vec![
            t("personal-mail-came-text").with("name", name),
            t("personal-mail-came-where"),
        ],
    }
}

/// Why a try failed.
struct Failed {
    /// Another try changes nothing.
    for_good: bool,
    why: String,
}

impl Failed {
    fn of(error: &Error) -> Failed {
        Failed {
            // A server that said no to this letter. That it does not know the password can be put right.
            for_good: error.is_permanent()
                && error.status().is_some_and(|code| !is_of_log_in(code)),
            why: said(error),
        }
    }
}

/// Codes of a refused log-in (RFC 4954).
fn is_of_log_in(code: lettre::transport::smtp::response::Code) -> bool {
    ["530", "534", "535", "538"].contains(&code.to_string().as_str())
}

fn said(error: &Error) -> String {
    format!("{:#}", anyhow!("{error}")).replace(['\r', '\n'], " ")
}

/// The e-mail after a try.
fn after(mail: Mail, failed: Option<Failed>, now: Timestamp) -> Mail {
    let Some(failed) = failed else {
        return Mail {
            state: MailState::Sent,
            next_at: now,
            sent_at: Some(now),
            trouble: None,
            ..mail
        };
    };
    let tries = mail.tries + 1;
    let wait = FIRST_WAIT * 2_i32.pow(mail.tries.min(12));
    let over = failed.for_good || now.duration_since(mail.queued_at) > TRIED_FOR;
    Mail {
        state: if over {
            MailState::GivenUp
        } else {
            MailState::Waiting
        },
        next_at: if over {
            now
        } else {
            now + wait.min(LONGEST_WAIT)
        },
        tries,
        trouble: Some(failed.why),
        ..mail
    }
}

fn given_up(mail: Mail, now: Timestamp) -> Mail {
    Mail {
        state: MailState::GivenUp,
        next_at: now,
        ..mail
    }
}

/// `lessonwright mail`: what waits, what went wrong; with `--test` one e-mail to the professional.
pub async fn run(postman: Option<Postman>, store: &Store, asked: &MailArguments) -> Result<String> {
    let Some(postman) = postman else {
        return Ok("No mail server is set: write mail.toml into the studio's folder (docs/personal-link.md)\n".into());
    };
    if asked.test {
        let to = postman.settings.to.clone();
        let words = Words {
            subject: t("personal-mail-test"),
            paragraphs: vec![t("personal-mail-test-text")],
        };
        let say = Say::new(postman.language().await?);
        let message = postman.build(to.clone(), say, &words)?;
        let sent = postman.settings.transport.send(message).await;
        sent.map_err(|error| anyhow!("the e-mail was not sent: {}", said(&error)))?;
        return Ok(format!("An e-mail to {to} was sent\n"));
    }
    let mails = store.mails().await?;
    let count = |state| mails.iter().filter(|mail| mail.state == state).count();
    let mut told = format!(
        "{} wait, {} were sent, {} were given up in the last 30 days\n",
        count(MailState::Waiting),
        count(MailState::Sent),
        count(MailState::GivenUp)
    );
    for mail in mails.iter().filter(|mail| mail.state != MailState::Sent) {
        if let Some(trouble) = &mail.trouble {
            told += &format!("tried {} times: {trouble}\n", mail.tries);
        }
    }
    Ok(told)
}

#[cfg(test)]
mod tests;
