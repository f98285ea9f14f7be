//! One clip read as one swing from one view.

use crate::by_hand::joints;
use crate::by_hand::moments::{SetMoments, check_order};
use crate::calibration::{Calibration, Cue};
use crate::clean::{CleanTrack, Points, clean};
use crate::clock::Clock;
use crate::club::{
    BallStart, ClubWay, ball_at_rest, ball_gone, ball_start, club_way, shaft_levels,
};
use crate::error::AnalysisError;
use crate::hands::{Hands, WRISTS};
use crate::moments::impact::{Heard, SPEED_OF_SOUND_M_S, fitting_strike, from_hands};
use crate::moments::rest::{self, Marks, Rest};
use crate::moments::stroke::{self, Stroke};
use crate::moments::{Moments, Timed, level};
use crate::path::Path;
use crate::recognise::{self, CERTAIN, Proposal, TRUSTED};
use crate::scale::{BodyLengths, Scale, USUAL_DISTANCE_M, USUAL_DISTANCE_SD_M, scale};
use crate::{ClipObservation, Outline, Settings};
use lessonwright_math::Left;
use lessonwright_math::SD_TO_95;
use lessonwright_model::{
    BodyPart, CorrectionError, Corrections, Hand, Joint, LandmarkTrack, Moment, MomentName,
    PixelPoint, PlacedJoint, Placement, PlayerFacts, Side, View, ViewReport,
};
use std::collections::BTreeSet;

/// Time between the hands' lowest point and the earliest rest that can be a finish, s.
const FOLLOW_THROUGH_S: f64 = 0.20;
/// Half of the stretch around the lowest hands over which their sweep is taken, s.
const SWEEP_S: f64 = 0.05;
/// Share of the frame spacing by which a moment between two frames may be missed (sd): a smooth
/// curve through noisy samples, from trials with the open capture thinned to 30 frames/s.
const BETWEEN_FRAMES: f64 = 0.08;
/// From the hips to the ball, m, and the lens above the ball, m: common placements.
const HIPS_TO_BALL_M: f64 = 0.85;
const LENS_HEIGHT_M: f64 = 1.0;

/// A clip before its view and hand are settled.
struct Glimpse<'a> {
    clip: &'a ClipObservation,
    clock: Clock,
    track: CleanTrack,
    paths: Vec<Path>,
    times_s: Vec<f64>,
    hands: Hands,
    stroke: Stroke,
    rest: Option<Rest>,
    view: Option<Proposal<View>>,
}

/// Joints placed by hand in a clip.
#[derive(Clone, Copy)]
struct Placing<'p> {
    view: View,
    placed: &'p [PlacedJoint],
    /// The player stands still until then, as the landmarks show it, real s.
    still_until_s: f64,
}

/// A clip whose swing is read.
#[derive(Clone, Debug)]
pub struct SwingView {
    /// What is reported of it.
    pub report: ViewReport,
    /// The cleaned landmarks.
    pub track: CleanTrack,
    /// The view.
    pub view: View,
    /// The player's hand.
    pub hand: Hand,
    /// The moments found.
    pub moments: Moments,
    /// The moments that were set by hand.
    pub by_hand: BTreeSet<MomentName>,
    /// True if impact was timed from sound or set by hand.
    pub impact_certain: bool,
    /// Pixels in a metre, or why not.
    pub scale: Result<Scale, String>,
    /// What the landmarks' errors are.
    pub calibration: Calibration,
    /// The hands.
    pub hands: Hands,
    /// The shaft in the pictures in which it is seen.
    pub club: ClubWay,
    /// Which way the ball starts in the picture, or why that can't be told; down the line only.
    pub ball_start: Result<BallStart, String>,
    clock: Clock,
    paths: Vec<Path>,
    rest: Option<Rest>,
}

/// Reads each clip; one clip's view or hand may settle the other's.
///
/// # Errors
/// See [`AnalysisError`].
pub fn read_all(
    clips: &[ClipObservation],
    player: &PlayerFacts,
    settings: &Settings,
) -> Result<Vec<SwingView>, AnalysisError> {
    let glimpses = clips
        .iter()
        .map(Glimpse::of)
        .collect::<Result<Vec<_>, _>>()?;
    let views = settle_views(&glimpses)?;
    let hands = settle_hands(&glimpses, &views, player)?;
    check_views(&settings.corrections, &views)?;
    // What both views give together is as sure as the points of the worse.
    let points = if clips.iter().all(|clip| clip.centres.is_some()) {
        Points::JointCentres
    } else {
        Points::Landmarks
    };
    let calibration = settings
        .calibration
        .clone()
        .unwrap_or_else(|| Calibration::of(points));
    glimpses
        .into_iter()
        .enumerate()
        .map(|(index, glimpse)| {
            let (view, hand) = (views[index], hands[index]);
            let warnings = glimpse.contradictions(view, hand, player);
            let placed = settings.corrections.of(view).map_or(&[][..], |c| &c.joints);
            let mut read = glimpse.at(points, view, placed)?.read(
                index,
                (view, hand),
                player,
                settings,
                &calibration,
            )?;
            read.report.warnings.splice(..0, warnings);
            Ok(read)
        })
        .collect()
}

fn check_views(corrections: &Corrections, views: &[View]) -> Result<(), CorrectionError> {
    for (view, clip) in &corrections.clips {
        if !views.contains(view) && !clip.is_empty() {
            return Err(CorrectionError::NoSuchView(*view));
        }
    }
    Ok(())
}

impl<'a> Glimpse<'a> {
    fn of(clip: &'a ClipObservation) -> Result<Glimpse<'a>, AnalysisError> {
        let glimpse = Glimpse::of_track(clip, &clip.track, Points::Landmarks, None)?;
        let Glimpse { paths, track, .. } = &glimpse;
        if clip.view.is_none() && recognise::back_to_camera(paths, track.span_px, glimpse.rest_s())
        {
            return Err(AnalysisError::SeenFromBehind {
                clip: clip.facts.name.clone(),
            });
        }
        Ok(glimpse)
    }

    /// The same clip with the points that are measured, and some of them placed by hand.
    fn at(
        self,
        points: Points,
        view: View,
        placed: &[PlacedJoint],
    ) -> Result<Glimpse<'a>, AnalysisError> {
        let by_hand = Some(Placing {
            view,
            placed,
            still_until_s: self.rest.map_or(f64::NEG_INFINITY, |rest| rest.time_s),
        });
        let clip = self.clip;
        match &clip.centres {
            Some(centres) if points == Points::JointCentres => {
                Glimpse::of_track(clip, centres, points, by_hand)
            }
            _ if placed.is_empty() => Ok(self),
            _ => Glimpse::of_track(clip, &clip.track, Points::Landmarks, by_hand),
        }
    }

    fn of_track(
        clip: &'a ClipObservation,
        track: &LandmarkTrack,
        given: Points,
        by_hand: Option<Placing<'_>>,
    ) -> Result<Glimpse<'a>, AnalysisError> {
        let clock = Clock::of(&clip.facts);
        let picture = track;
        let (mut track, mut paths) = clean(&clip.facts, picture, given)?;
        if let Some(by_hand) = by_hand {
            let Placing {
                view,
                placed,
                still_until_s,
            } = by_hand;
            let seen = (view, picture);
            joints::place(&mut track, &mut paths, placed, clock, still_until_s, seen)?;
        }
        let times_s: Vec<f64> = track.times_s.iter().map(|&t| clock.real(t)).collect();
        let no_swing = |why: String| AnalysisError::NoSwing {
            clip: clip.facts.name.clone(),
            why,
        };
        let wrists = (&paths[WRISTS.0 as usize], &paths[WRISTS.1 as usize]);
        let hands = Hands::of(&times_s, wrists, track.span_px)
            .ok_or_else(|| no_swing("the hands are not seen".into()))?;
        let strikes: Vec<f64> = clip.strikes.iter().map(|s| clock.real(s.time_s)).collect();
        let stroke = stroke::find(&hands, &strikes).map_err(no_swing)?;
        let rest = rest_before_takeaway(&hands, &marks(&hands, &paths, None), &stroke);
        let rest_s = rest_stretch(rest.as_ref(), &hands);
        let view = recognise::view(&paths, track.span_px, rest_s);
        Ok(Glimpse {
            clip,
            clock,
            track,
            paths,
            times_s,
            hands,
            stroke,
            rest,
            view,
        })
    }

    fn rest_s(&self) -> (f64, f64) {
        rest_stretch(self.rest.as_ref(), &self.hands)
    }

    fn propose_hand(&self, view: View) -> Option<Proposal<Hand>> {
        let low = self.stroke.low_s;
        let sweep = self
            .hands
            .at(low + SWEEP_S)
            .zip(self.hands.at(low - SWEEP_S))
            .map(|(after, before)| after.x - before.x);
        recognise::hand(view, &self.paths, self.track.span_px, self.rest_s(), sweep)
    }

    fn read(
        mut self,
        index: usize,
        (view, hand): (View, Hand),
        player: &PlayerFacts,
        settings: &Settings,
        calibration: &Calibration,
    ) -> Result<SwingView, CorrectionError> {
        let followed_s = (
            self.track.times_s[0],
            self.track.times_s[self.track.times_s.len() - 1],
        );
        let corrections = settings.corrections.of(view);
        let set = SetMoments::of(corrections, &self.clip.facts, followed_s, view)?;
        let marks = marks(&self.hands, &self.paths, Some((view, hand)));
        self.rest = set
            .rest(self.hands.span_s)
            .or_else(|| rest_before_takeaway(&self.hands, &marks, &self.stroke))
            .or(self.rest);
        let facts = &self.clip.facts;
        let lengths = BodyLengths::read(&self.paths, &self.times_s, self.rest_s());
        let scale = scale(
            index,
            view,
            &lengths,
            player,
            &settings.known_lengths,
            settings.camera_distance_m,
            calibration,
        );
        let mut warnings = Vec::new();
        let scale_found = scale.as_ref().ok();
        let (mut moments, impact_certain) =
            self.find_moments((view, hand), scale_found, calibration, &set, &mut warnings);
        let club = (self.clip.club.as_ref()).map_or_else(Vec::new, |c| club_way(c, self.clock));
        if view == View::FaceOn {
            shaft_levels(&club, calibration, &mut moments);
            set.replace(&mut moments);
        }
        check_order(&moments, &set.names(), self.clock, view)?;
        let ball_start = self.ball_start(&moments);
        Ok(SwingView {
            report: ViewReport {
                clip: facts.name.clone(),
                view,
                view_stated: self.clip.view.is_some(),
                hand,
                hand_stated: self.clip.hand.or(player.hand).is_some(),
                rate_hz: facts.rate_hz,
                capture_rate_hz: facts.capture_rate_hz,
                width_px: self.clip.track.width_px,
                height_px: self.clip.track.height_px,
                placement: Placement::default(),
                ball: self.ball(&moments),
                warnings,
            },
            track: self.track,
            view,
            hand,
            moments,
            by_hand: set.names(),
            impact_certain,
            scale,
            calibration: calibration.clone(),
            hands: self.hands,
            ball_start,
            club,
            clock: self.clock,
            paths: self.paths,
            rest: self.rest,
        })
    }

    fn ball_start(&self, moments: &Moments) -> Result<BallStart, String> {
        let club = self
            .clip
            .club
            .as_ref()
            .ok_or("the ball was not looked for")?;
        let impact = moments
            .get(&MomentName::Impact)
            .ok_or("impact was not found")?;
        ball_start(club, self.clock, impact.time_s)
    }

    /// Where the ball lies until it is struck.
    fn ball(&self, moments: &Moments) -> Option<PixelPoint> {
        let time_s = |name| moments.get(&name).map(|timed| timed.time_s);
        let struck_s = time_s(MomentName::Impact)?;
        let away_s = time_s(MomentName::Address).unwrap_or(struck_s);
        ball_at_rest(self.clip.club.as_ref()?, self.clock, away_s, struck_s)
    }

    /// What was stated against what is seen.
    fn contradictions(&self, view: View, hand: Hand, player: &PlayerFacts) -> Vec<String> {
        let mut warnings = Vec::new();
        if let Some(seen) = self.view
            && self.clip.view.is_some()
            && seen.is != view
            && seen.probability > CERTAIN
        {
            warnings.push(format!(
                "stated as {view}, but it looks {}: check the view, or the numbers mean nothing",
                seen.is
            ));
        }
        if let Some(seen) = self.propose_hand(view)
            && self.clip.hand.or(player.hand).is_some()
            && seen.is != hand
            && seen.probability > CERTAIN
        {
            warnings.push(format!(
                "stated as {hand}, but the swing looks {}: check the hand, and whether the clip is mirrored",
                seen.is
            ));
        }
        warnings
    }

    fn find_moments(
        &self,
        (view, hand): (View, Hand),
        scale: Option<&Scale>,
        calibration: &Calibration,
        set: &SetMoments,
        warnings: &mut Vec<String>,
    ) -> (Moments, bool) {
        let spacing_s = 1.0 / self.clip.facts.capture_rate_hz;
        let timed = |name: MomentName, raw_s: f64| {
            let bias = calibration.moment(view, name, Cue::Motion);
            Timed {
                time_s: raw_s - bias.mean,
                sd_s: bias.sd.hypot(BETWEEN_FRAMES * spacing_s),
            }
        };
        let mut moments = Moments::new();
        if let Some(rest) = &self.rest {
            let restless = if rest.restless { 2.0 } else { 1.0 };
            let address = timed(MomentName::Address, rest.time_s);
            moments.insert(
                MomentName::Address,
                Timed {
                    sd_s: restless * address.sd_s,
                    ..address
                },
            );
        }
        // What was set by hand bounds the search for the rest.
        let top_s = set.time_s(MomentName::Top).unwrap_or(self.stroke.top_s);
        let low_s = set.time_s(MomentName::Impact).unwrap_or(self.stroke.low_s);
        moments.insert(MomentName::Top, timed(MomentName::Top, top_s));
        let address_hands = self
            .rest
            .and_then(|r| self.hands.place_over(r.inside_s.0, r.inside_s.1));
        let hands_impact = timed(
            MomentName::Impact,
            from_hands(&self.hands, view, address_hands, self.stroke.low_s),
        );
        let heard = match set.time_s(MomentName::Impact) {
            Some(_) => None,
            None => self.heard_impact(view, scale, calibration, hands_impact.time_s),
        };
        let struck = heard.or_else(|| self.struck(view, calibration, hands_impact.time_s));
        if heard.is_none()
            && !self.clip.strikes.is_empty()
            && set.time_s(MomentName::Impact).is_none()
        {
            let instead = if struck.is_some() {
                "the ball"
            } else {
                "the hands alone"
            };
            warnings.push(format!(
                "no sound fits the hands: impact is timed from {instead}"
            ));
        }
        moments.insert(MomentName::Impact, struck.unwrap_or(hands_impact));
        let wrist = &self.paths[Joint::of(BodyPart::Wrist, Side::Lead, hand) as usize];
        let shoulder = &self.paths[Joint::of(BodyPart::Shoulder, Side::Lead, hand) as usize];
        let start_s = self.rest.map_or(self.hands.span_s.0, |r| r.time_s);
        if let Some(t) = level::back(wrist, shoulder, start_s, top_s) {
            moments.insert(
                MomentName::LeadArmLevelBack,
                timed(MomentName::LeadArmLevelBack, t),
            );
        }
        if let Some(t) = level::down(wrist, shoulder, top_s, low_s) {
            moments.insert(
                MomentName::LeadArmLevelDown,
                timed(MomentName::LeadArmLevelDown, t),
            );
        }
        if let Some(rest) = rest::after(
            &finish_marks(&self.hands, &self.paths),
            &shoulders(&self.hands, &self.paths),
            low_s + FOLLOW_THROUGH_S,
        ) {
            moments.insert(MomentName::Finish, timed(MomentName::Finish, rest.time_s));
        }
        set.replace(&mut moments);
        let certain = heard.is_some() || set.time_s(MomentName::Impact).is_some();
        (moments, certain)
    }

    /// Impact from the ball that is gone.
    fn struck(&self, view: View, calibration: &Calibration, hands_s: f64) -> Option<Timed> {
        let gone = ball_gone(self.clip.club.as_ref()?, self.clock, hands_s)?;
        let bias = calibration.moment(view, MomentName::Impact, Cue::Ball);
        Some(Timed {
            time_s: gone.time_s - bias.mean,
            sd_s: gone.sd_s.hypot(bias.sd),
        })
    }

    /// Impact from a strike that fits the hands.
    fn heard_impact(
        &self,
        view: View,
        scale: Option<&Scale>,
        calibration: &Calibration,
        hands_s: f64,
    ) -> Option<Timed> {
        let heard: Vec<Heard> = self
            .clip
            .strikes
            .iter()
            .map(|s| Heard {
                time_s: self.clock.real(s.time_s),
                sd_s: self.clock.real(s.plus_minus_s) / SD_TO_95,
                above_noise_db: s.above_noise_db,
            })
            .collect();
        let (distance_m, distance_sd_m) = microphone_distance(view, scale);
        let travel_s = distance_m / SPEED_OF_SOUND_M_S;
        let strike = fitting_strike(&heard, travel_s, hands_s)?;
        let bias = calibration.moment(view, MomentName::Impact, Cue::Sound);
        let travel_sd_s = distance_sd_m / SPEED_OF_SOUND_M_S;
        Some(Timed {
            time_s: strike.time_s - travel_s - bias.mean,
            sd_s: strike.sd_s.hypot(travel_sd_s).hypot(bias.sd),
        })
    }
}

/// From the ball to the camera's microphone, m, with its standard deviation.
fn microphone_distance(view: View, scale: Option<&Scale>) -> (f64, f64) {
    let (hips_m, sd_m) = scale.map_or((USUAL_DISTANCE_M, USUAL_DISTANCE_SD_M), |s| {
        (s.distance_m, s.distance_sd_m)
    });
    let level_m = match view {
        View::FaceOn => (hips_m - HIPS_TO_BALL_M).max(0.5),
        View::DownTheLine => hips_m.hypot(HIPS_TO_BALL_M),
    };
    (level_m.hypot(LENS_HEIGHT_M), sd_m)
}

/// The last rest before the hands have risen on the way back.
fn rest_before_takeaway(hands: &Hands, marks: &Marks<'_>, stroke: &Stroke) -> Option<Rest> {
    // A tenth of the body's height (14 cm) above the strike's lowest place: surely under way.
    const UNDER_WAY: f64 = 0.10;
    let low = hands.height(stroke.low_s)?;
    let moving = crate::moments::search_times(hands.span_s.0, stroke.top_s)
        .rev()
        .find(|&t| hands.height(t).is_some_and(|h| h - low < UNDER_WAY))?;
    rest::before(marks, moving)
}

/// What rest is read from. Face-on the hands. Down the line the hands start and end along the line
/// of sight, so the trail arm and shoulder are watched too; those of the lead side are hidden and
/// wander. Hands, elbows and shoulders as long as view and hand are not known.
fn marks<'a>(hands: &'a Hands, paths: &'a [Path], known: Option<(View, Hand)>) -> Marks<'a> {
    use BodyPart::{Elbow, Shoulder, Wrist};
    let trail = |hand| [Wrist, Elbow, Shoulder].map(|part| Joint::of(part, Side::Trail, hand));
    let joints: Vec<Joint> = match known {
        Some((View::FaceOn, _)) => Vec::new(),
        Some((View::DownTheLine, hand)) => trail(hand).to_vec(),
        None => [trail(Hand::Right), trail(Hand::Left)].concat(),
    };
    let hands_too = !matches!(known, Some((View::DownTheLine, _)));
    Marks {
        paths: joints
            .into_iter()
            .map(|j| &paths[j as usize])
            .chain(hands_too.then_some(hands.path()))
            .collect(),
        span_s: hands.span_s,
        span_px: hands.span_px,
    }
}

/// What the rest after the strike is found with: head, shoulders and hands.
fn finish_marks<'a>(hands: &'a Hands, paths: &'a [Path]) -> Marks<'a> {
    let mut marks = shoulders(hands, paths);
    marks
        .paths
        .extend([&paths[Joint::Nose as usize], hands.path()]);
    marks
}

/// What arrives at the finish. (The hands are often hidden behind the head then.)
fn shoulders<'a>(hands: &'a Hands, paths: &'a [Path]) -> Marks<'a> {
    Marks {
        paths: [Joint::LeftShoulder, Joint::RightShoulder]
            .map(|j| &paths[j as usize])
            .to_vec(),
        span_s: hands.span_s,
        span_px: hands.span_px,
    }
}

fn rest_stretch(rest: Option<&Rest>, hands: &Hands) -> (f64, f64) {
    // Without a rest, the clip's first fifth of a second stands in.
    rest.map_or((hands.span_s.0, hands.span_s.0 + 0.2), |r| r.inside_s)
}

fn settle_views(glimpses: &[Glimpse<'_>]) -> Result<Vec<View>, AnalysisError> {
    let sure: Vec<Option<View>> = glimpses
        .iter()
        .map(|g| {
            let seen = g.view.filter(|p| p.probability >= TRUSTED).map(|p| p.is);
            g.clip.view.or(seen)
        })
        .collect();
    let views = (0..glimpses.len())
        .map(|i| {
            // Of two views of one swing, the sure one settles the other.
            let other = sure
                .iter()
                .enumerate()
                .find(|(k, _)| *k != i)
                .and_then(|(_, v)| *v);
            sure[i]
                .or(other.map(|v| match v {
                    View::FaceOn => View::DownTheLine,
                    View::DownTheLine => View::FaceOn,
                }))
                .ok_or_else(|| AnalysisError::ViewUnclear {
                    clip: glimpses[i].clip.facts.name.clone(),
                })
        })
        .collect::<Result<Vec<_>, _>>()?;
    if let [first, second] = views[..]
        && first == second
    {
        return Err(AnalysisError::SameViewTwice {
            first: glimpses[0].clip.facts.name.clone(),
            second: glimpses[1].clip.facts.name.clone(),
            view: first,
        });
    }
    Ok(views)
}

fn settle_hands(
    glimpses: &[Glimpse<'_>],
    views: &[View],
    player: &PlayerFacts,
) -> Result<Vec<Hand>, AnalysisError> {
    let stated: Vec<Option<Hand>> = glimpses
        .iter()
        .map(|g| g.clip.hand.or(player.hand))
        .collect();
    let seen: Vec<Option<Proposal<Hand>>> = glimpses
        .iter()
        .zip(views)
        .map(|(g, v)| g.propose_hand(*v).filter(|p| p.probability >= TRUSTED))
        .collect();
    let hands = (0..glimpses.len())
        .map(|i| {
            let other = 1usize.saturating_sub(i).min(glimpses.len() - 1);
            stated[i]
                .or(stated[other])
                .or(seen[i].map(|p| p.is))
                .or(seen[other].map(|p| p.is))
                .ok_or_else(|| AnalysisError::HandUnclear {
                    clip: glimpses[i].clip.facts.name.clone(),
                })
        })
        .collect::<Result<Vec<_>, _>>()?;
    if let [first, second] = hands[..]
        && first != second
    {
        return Err(AnalysisError::HandsDiffer {
            first: glimpses[0].clip.facts.name.clone(),
            first_hand: first,
            second: glimpses[1].clip.facts.name.clone(),
            second_hand: second,
        });
    }
    Ok(hands)
}

impl SwingView {
    /// Where a joint of the lead or trail side is at `t`.
    pub fn place(&self, part: BodyPart, side: Side, t: f64) -> Option<PixelPoint> {
        self.path(part, side).at(t)
    }

    /// Where it is at a moment; at address, the median over the rest.
    pub fn place_at(&self, part: BodyPart, side: Side, name: MomentName) -> Option<PixelPoint> {
        if let (MomentName::Address, Some(rest)) = (name, &self.rest) {
            return self
                .path(part, side)
                .median_over(rest.inside_s.0, rest.inside_s.1, 16);
        }
        self.place(part, side, self.moments.get(&name)?.time_s)
    }

    /// What moving the landmarks to joint centres needs to know.
    pub fn outline(&self) -> Outline {
        let file_s = |name| self.moments.get(&name).map(|t| self.clock.file(t.time_s));
        // Every swing has its top and its impact.
        let top_s = file_s(MomentName::Top).unwrap_or_default();
        Outline {
            view: self.view,
            hand: self.hand,
            address_s: file_s(MomentName::Address).unwrap_or(top_s),
            impact_s: file_s(MomentName::Impact).unwrap_or(top_s),
        }
    }

    /// A joint's path.
    pub fn path(&self, part: BodyPart, side: Side) -> &Path {
        &self.paths[Joint::of(part, side, self.hand) as usize]
    }

    /// The stretch of stillness before the takeaway, s; `None` where none is seen.
    pub fn rest_s(&self) -> Option<(f64, f64)> {
        self.rest.map(|rest| rest.inside_s)
    }

    /// Real time of each frame, s.
    pub fn times_s(&self) -> Vec<f64> {
        let real = |t: &f64| self.clock.real(*t);
        self.track.times_s.iter().map(real).collect()
    }

    /// A column of the picture as a right-hander's would have it: a left-hander's is mirrored.
    pub fn as_right_handed(&self, x_px: f64) -> f64 {
        match self.hand {
            Hand::Right => x_px,
            Hand::Left => f64::from(self.report.width_px) - x_px,
        }
    }

    /// +1 where the target (face-on) or the ball (down the line) lies to the picture's right.
    pub fn rightward(&self) -> f64 {
        match self.hand {
            Hand::Right => 1.0,
            Hand::Left => -1.0,
        }
    }

    /// Looks whether the moments follow each other, also those set by hand in the other view.
    ///
    /// # Errors
    /// If one set by hand does not.
    pub fn check_order(&self) -> Result<(), CorrectionError> {
        check_order(&self.moments, &self.by_hand, self.clock, self.view)
    }

    /// What is left of the landmark network's error in these joints at a moment, after some were
    /// placed by hand.
    pub fn error_left(&self, joints: &[(BodyPart, Side)], name: MomentName) -> Vec<Left> {
        let at = match (name, &self.rest) {
            // Placed over the rest, not at its end.
            (MomentName::Address, Some(rest)) => Some(0.5 * (rest.inside_s.0 + rest.inside_s.1)),
            _ => self.moments.get(&name).map(|t| t.time_s),
        };
        let left = |&(part, side): &(BodyPart, Side)| {
            at.map_or(Left::ALL, |t| self.path(part, side).error_left(t))
        };
        joints.iter().map(left).collect()
    }

    /// Says which moments neither this clip nor another one of the same motion shows.
    pub fn warn_of_missing_moments(&mut self) {
        let why = [
            (
                MomentName::Address,
                "no rest before the takeaway is seen: the clip starts too late, or the player never stands still; measures against address are missing",
            ),
            (
                MomentName::LeadArmLevelBack,
                "the lead arm is never seen level on the way back: the lead wrist or shoulder is hidden there",
            ),
            (
                MomentName::LeadArmLevelDown,
                "the lead arm is never seen level on the way down: the swing stays short, or the lead wrist or shoulder is hidden there",
            ),
            (
                MomentName::Finish,
                "the clip ends before the player comes to rest: no finish",
            ),
        ];
        for (name, text) in why {
            if !self.moments.contains_key(&name) {
                self.report.warnings.push(text.into());
            }
        }
    }

    /// The moments on the file's own clock, in the order of the swing.
    pub fn moments(&self) -> Vec<Moment> {
        MomentName::ALL
            .iter()
            .filter_map(|name| {
                let timed = self.moments.get(name)?;
                let time_s = self.clock.file(timed.time_s);
                Some(Moment {
                    name: *name,
                    view: self.view,
                    time_s,
                    plus_minus_s: self.clock.file(SD_TO_95 * timed.sd_s),
                    frame: self.nearest_frame(time_s),
                    by_hand: self.by_hand.contains(name),
                })
            })
            .collect()
    }

    fn nearest_frame(&self, file_s: f64) -> usize {
        let times = &self.track.times_s;
        let after = times.partition_point(|&t| t < file_s).min(times.len() - 1);
        let before = after.saturating_sub(1);
        let nearest = if file_s - times[before] < times[after] - file_s {
            before
        } else {
            after
        };
        self.track.frames[nearest]
    }
}
