//! Opening what arrived, as soon as it is here: what the file says of itself, its first picture, its strikes. What can't be
//! a swing is said now, not after its turn came.

use super::Workshop;
use anyhow::{Context, Result, bail};
use jiff::Timestamp;
use lessonwright_media as media;
use lessonwright_model::{Cancel, ClipNotes};
use lessonwright_report::frame_jpeg;
use lessonwright_store::{Arrival, ArrivalState};
use std::time::Duration;

/// Another program may bring clips in as well; it rings no bell.
const LOOK_EVERY: Duration = Duration::from_secs(2);

/// Longest side of the first picture, px: twice its size on the page.
const PICTURE_SIDE_PX: u32 = 480;

/// JPEG quality of it.
const QUALITY: u8 = 80;

/// A swing from address to finish takes over a second; a shorter film was cut off, s of real time.
const SHORTEST_S: f64 = 1.0;

/// Fewer pictures a second of the real motion than this show no moments, Hz: what is called film still.
const LEAST_RATE_HZ: f64 = 20.0;

impl Workshop {
    pub(super) async fn open_arrivals(self) {
        while !self.closing.is_cancelled() {
            if let Err(error) = self.open_all().await {
                tracing::error!("clips that came could not be opened: {error:#}");
            }
            let _ = tokio::time::timeout(LOOK_EVERY, self.intake.arrived.notified()).await;
        }
    }

    /// Opens every clip that nobody opened yet.
    pub(super) async fn open_all(&self) -> Result<()> {
        let arrivals = self.store.arrivals().await?;
        for arrival in arrivals.iter().filter(|a| a.state == ArrivalState::Arrived) {
            let twin = arrivals.iter().find(|other| {
                other.id < arrival.id
                    && other.sha256 == arrival.sha256
                    && other.player == arrival.player
                    && matches!(other.state, ArrivalState::Opened | ArrivalState::Watched)
            });
            if let Some(twin) = twin {
                let why = format!(
                    "The same film is in the tray already, as {}. Take this one out.",
                    twin.name
                );
                self.fail(arrival, &why).await?;
                continue;
            }
            let (workshop, opened) = (self.clone(), arrival.clone());
            let opening =
                tokio::task::spawn_blocking(move || workshop.open(&opened, &workshop.closing));
            match opening.await.context("opening a clip")? {
                Ok(notes) => self.store.note_opened(arrival.id, &notes).await?,
                // It is opened when the studio is next.
                Err(_) if self.closing.is_cancelled() => return Ok(()),
                Err(error) => self.fail(arrival, &named(&error, arrival)).await?,
            }
            self.intake.bell.notify_one();
        }
        Ok(())
    }

    async fn fail(&self, arrival: &Arrival, why: &str) -> Result<()> {
        let failed = ArrivalState::Failed;
        Ok(self
            .store
            .move_arrival(arrival.id, failed, Some(why))
            .await?)
    }

    /// What the file says of itself; its first picture is written beside it.
    fn open(&self, arrival: &Arrival, cancel: &Cancel) -> Result<ClipNotes> {
        let tools = &self.around.tools;
        let clip = media::probe(tools, &arrival.path, None, cancel)?;
        let facts = &clip.facts;
        let slower = facts.real_seconds_per_file_second();
        let frames = facts.frame_times_s.len();
        if facts.duration_s * slower < SHORTEST_S {
            bail!(
                "it holds {} and lasts {:.1} s: too short for a swing. Begin filming before the swing, stop \
                 after it, and bring that in",
                match frames {
                    1 => "1 picture".to_owned(),
                    more => format!("{more} pictures"),
                },
                facts.duration_s * slower
            );
        }
        if facts.capture_rate_hz < LEAST_RATE_HZ {
            bail!(
                "it has {:.0} pictures a second: too few to see a swing. Film with 60 a second or more",
                facts.capture_rate_hz
            );
        }
        let picture = media::grab(tools, &clip, &[0], Some(PICTURE_SIDE_PX), cancel)?;
        let picture = picture.first().context("the first picture is missing")?;
        let jpeg = frame_jpeg(picture, QUALITY)?;
        std::fs::write(&arrival.picture, jpeg).context("keeping its first picture")?;
        // A sound that can't be read is no reason to refuse the pictures.
        let sound = media::sound(tools, &clip, cancel).ok().flatten();
        let strikes = sound
            .map(|sound| media::strikes(&sound))
            .unwrap_or_default();
        let filmed_at = media::filmed_at(tools, &arrival.path, cancel)?;
        Ok(ClipNotes {
            duration_s: facts.duration_s,
            frames,
            width_px: facts.width_px,
            height_px: facts.height_px,
            filmed_at: filmed_at.and_then(|text| instant(&text)),
            strikes_s: strikes
                .iter()
                .map(|strike| strike.time_s * slower)
                .collect(),
            warnings: clip.warnings,
        })
    }
}

/// An instant as cameras write it: RFC 3339, or with a zone without a colon ("+0200").
fn instant(text: &str) -> Option<Timestamp> {
    let parsed = text.parse().ok();
    parsed.or_else(|| Timestamp::strptime("%Y-%m-%dT%H:%M:%S%z", text).ok())
}

/// What went wrong, without the name under which the studio keeps the file: it is another to the professional.
pub(super) fn named(error: &anyhow::Error, arrival: &Arrival) -> String {
    let own = arrival
        .path
        .file_name()
        .unwrap_or_default()
        .to_string_lossy();
    let said = format!("{error:#}.").replace(&format!("{own}: "), "");
    let mut letters = said.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn instants_are_read_as_phones_write_them() {
        for (text, expected) in [
            ("2026-11-25T09:00:00.000000Z", Some(1_795_597_200)),
            ("2026-11-25T11:00:00+0200", Some(1_795_597_200)),
            ("2026-11-25T11:00:00+02:00", Some(1_795_597_200)),
            ("yesterday", None),
        ] {
            assert_eq!(instant(text).map(|at| at.as_second()), expected, "{text}");
        }
    }
}
