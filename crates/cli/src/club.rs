//! Watching the club: a second, quicker look at a clip whose golfer has been followed.
//!
//! The landmarks say where the hands are, so that the network looks around them, often while they are
//! fast and seldom while they rest.

use crate::kept::Seen;
use crate::progress::Stage;
use crate::surroundings::Surroundings;
use anyhow::Result;
use lessonwright_analysis::clock::Clock;
use lessonwright_analysis::club::{ClubLook, club_looks, flight_stretch};
use lessonwright_media::{Frame, FrameReader, FrameRequest};
use lessonwright_model::{Cancel, ClubGlance, ClubTrack, FlightGlance, Picture};
use lessonwright_vision::{ClubNetwork, SQUARE_STATURES, Square, moving_spots};
use lessonwright_web::bring_in::Step;
use std::collections::VecDeque;

/// The club in one clip.
pub fn watch_club(
    around: &Surroundings,
    seen: &Seen,
    network: &mut ClubNetwork,
    cancel: &Cancel,
) -> Result<ClubTrack> {
    let (clip, track) = (&seen.clip, &seen.track);
    let looks = club_looks(track, clip.facts.real_seconds_per_file_second());
    let mut club = ClubTrack {
        width_px: track.width_px,
        height_px: track.height_px,
        glances: Vec::new(),
        flight: Vec::new(),
    };
    let (Some(first), Some(last)) = (looks.first(), looks.last()) else {
        return Ok(club);
    };
    let stage = Stage::begin(
        &around.listener,
        Step::Club,
        "Following the club in",
        &clip.facts.name,
    );
    let request = FrameRequest {
        from_s: seen.window.start_s,
        to_s: seen.window.end_s,
        longest_side_px: Some(track.width_px.max(track.height_px)),
    };
    // Pictures that a look still needs, by their place in the track.
    let mut held: VecDeque<(usize, Picture)> = VecDeque::new();
    let mut waiting = looks.iter().copied().peekable();
    for (at, frame) in FrameReader::open(&around.tools, clip, request, cancel)?.enumerate() {
        held.push_back((at, frame?.picture));
        while let Some(look) = waiting.next_if(|look| look.after <= at) {
            held.retain(|(at, _)| *at >= look.before);
            club.glances.extend(glance(network, seen, &held, look)?);
        }
        if let Some(next) = waiting.peek() {
            held.retain(|(at, _)| *at >= next.before);
        }
        stage.report((at.saturating_sub(first.at)) as f64 / (last.at - first.at).max(1) as f64);
        if waiting.peek().is_none() {
            break;
        }
    }
    club.flight = flight(around, seen, &club, cancel)?;
    Ok(club)
}

/// What moves right after the strike, in a stretch of a tenth of a second.
fn flight(
    around: &Surroundings,
    seen: &Seen,
    club: &ClubTrack,
    cancel: &Cancel,
) -> Result<Vec<FlightGlance>> {
    let (clip, window) = (&seen.clip, &seen.window);
    let clock = Clock::of(&clip.facts);
    let strike_s = window.strike.map_or(window.impact_guess_s, |s| s.time_s);
    let Some(stretch) = flight_stretch(club, clock, clock.real(strike_s)) else {
        return Ok(Vec::new());
    };
    let request = FrameRequest {
        from_s: stretch.span_s[0].max(window.start_s),
        to_s: stretch.span_s[1].min(window.end_s),
        longest_side_px: Some(club.width_px.max(club.height_px)),
    };
    let mut flight = Vec::new();
    let mut last: Vec<Frame> = Vec::new();
    for frame in FrameReader::open(&around.tools, clip, request, cancel)? {
        last.push(frame?);
        if let [before, now, after] = &last[..] {
            let pictures = [before, now, after].map(|frame| &frame.picture);
            flight.push(FlightGlance {
                time_s: now.time_s,
                spots: moving_spots(pictures, stretch.ball, stretch.ball_px),
            });
            last.remove(0);
        }
    }
    Ok(flight)
}

fn glance(
    network: &mut ClubNetwork,
    seen: &Seen,
    held: &VecDeque<(usize, Picture)>,
    look: ClubLook,
) -> Result<Option<ClubGlance>> {
    let picture = |wanted: usize| held.iter().find(|(at, _)| *at == wanted).map(|h| &h.1);
    let [Some(before), Some(now), Some(after)] = [look.before, look.at, look.after].map(picture)
    else {
        return Ok(None);
    };
    let square = Square {
        centre: look.hands,
        side_px: SQUARE_STATURES * look.stature_px,
        rotation_rad: 0.0,
    };
    let frame = &seen.track.frames[look.at];
    let mut glance = network.look([before, now, after], &square)?;
    glance.frame = frame.frame;
    glance.time_s = frame.time_s;
    Ok(Some(glance))
}
