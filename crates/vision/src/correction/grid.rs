//! One clip in the correction network's own coordinates and time.
//!
//! The network works in a right-hander's picture (a left-hander's is mirrored), in body lengths (nose to
//! mid-ankle at address), at 60 steps a second around impact.

use super::SwingClip;
use lessonwright_math::median;
use lessonwright_model::body::JOINT_CENTRES;
use lessonwright_model::{
    BodyFrame, Hand, JointCentre, Landmark, Landmarks, PixelPoint, Spread, View,
};
use std::f64::consts::SQRT_2;

/// Steps of the network's time.
pub(super) const STEPS: usize = 202;
const RATE_HZ: f64 = 60.0;
/// First step, s of real time after impact.
const START_S: f64 = -2.6;
/// Origin and length of the body are medians over this long before the takeaway, s of real time.
const ADDRESS_S: f64 = 0.25;

/// Landmarks that the network sees: nose, ears, arms with fingers, legs.
const SEEN: [usize; 25] = [
    0, 7, 8, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32,
];
const NOSE: usize = 0;
const ANKLES: [usize; 2] = [27, 28];
const JOINTS: usize = JOINT_CENTRES.len();

/// Numbers a landmark: x, y, depth, visibility.
const VALUES: usize = 4;
/// Numbers a joint centre seen in a picture: x and y from its landmark, depth, two logarithms of spreads.
const CENTRE_VALUES: usize = 5;
/// What the logarithms of spreads are told above.
const USUAL_SPREAD: f64 = -4.0;
const VIEWS: usize = 2;
const FIRST_CENTRE: usize = VIEWS * SEEN.len() * VALUES;
const FIRST_FLAG: usize = FIRST_CENTRE + VIEWS * JOINTS * CENTRE_VALUES;
/// Numbers a step, ending with flags: a view is there, joint centres were seen in it.
pub(super) const CHANNELS: usize = FIRST_FLAG + 2 * VIEWS;
/// Numbers a joint that the network says: x, y, depth and the logarithms of their spreads.
const SAID: usize = 6;
/// The logarithms of the spreads were taught within these. They are scales of a Laplace distribution,
/// whose standard deviation is √2 as much.
const SPREADS: [f32; 2] = [-7.0, 2.0];

/// One clip in the network's own coordinates and time.
pub(super) struct Grid {
    view: usize,
    body: BodyUnits,
    /// By step, landmark and number.
    values: Vec<[[f32; VALUES]; SEEN.len()]>,
    centres: Centres,
}

/// Joint centres seen in some of the pictures, lead before trail, from their landmarks.
struct Centres {
    /// Real time after impact, s, rising.
    times_s: Vec<f64>,
    rows: Vec<[[f32; CENTRE_VALUES]; JOINTS]>,
}

impl Grid {
    pub(super) fn of(clip: &SwingClip<'_>) -> Option<Grid> {
        let seen: Vec<(f64, &Landmarks)> = clip.track.frames.iter().filter_map(seen).collect();
        if seen.len() < 2 {
            return None;
        }
        let body = BodyUnits::of(clip, &seen)?;
        let times_s: Vec<f64> = seen.iter().map(|(t, _)| clip.after_impact_s(*t)).collect();
        let rows: Vec<[[f32; VALUES]; SEEN.len()]> = seen
            .iter()
            .map(|(_, seen)| SEEN.map(|number| body.row(&seen.points[body.landmark(number)])))
            .collect();
        Some(Grid {
            view: match clip.view {
                View::FaceOn => 0,
                View::DownTheLine => 1,
            },
            values: step_times_s()
                .map(|time_s| interpolated(&times_s, &rows, time_s))
                .collect(),
            centres: Centres::of(&body, &times_s, &seen)?,
            body,
        })
    }

    /// Channel by channel, each over all steps.
    pub(super) fn write(&self, input: &mut [f32]) {
        let mut put = |channel: usize, step: usize, value: f32| {
            input[channel * STEPS + step] = value;
        };
        for (step, time_s) in step_times_s().enumerate() {
            for (i, value) in self.values[step].iter().flatten().enumerate() {
                put(self.view * SEEN.len() * VALUES + i, step, *value);
            }
            put(FIRST_FLAG + self.view, step, 1.0);
            let first = FIRST_CENTRE + self.view * JOINTS * CENTRE_VALUES;
            for (i, value) in self.centres.at(time_s).iter().flatten().enumerate() {
                put(first + i, step, *value);
            }
            put(FIRST_FLAG + VIEWS + self.view, step, 1.0);
        }
    }

    /// The landmark of a joint in this player's picture.
    pub(super) fn landmark(&self, joint: usize) -> usize {
        self.body.landmark(JOINT_CENTRES[joint] as usize)
    }

    /// Nose to mid-ankle at address, px.
    pub(super) fn length_px(&self) -> f64 {
        self.body.length_px
    }

    /// What the network says at a time, s of real time after impact: each joint's centre from its
    /// landmark, px.
    pub(super) fn of_swing(&self, said: &[f32], time_s: f64) -> [JointCentre; JOINTS] {
        let steps_s: Vec<f64> = step_times_s().collect();
        let (step, share) = place(&steps_s, time_s);
        std::array::from_fn(|joint| {
            let value = |k: usize| {
                let series = (self.view * JOINTS + joint) * SAID + k;
                let at = series * STEPS + step;
                between(said[at], said[at + 1], share)
            };
            let scale = |k: usize| f64::from(value(k).clamp(SPREADS[0], SPREADS[1])).exp();
            let place_scale = (0.5 * (scale(3).powi(2) + scale(4).powi(2))).sqrt();
            let [x, y, depth] = [0, 1, 2].map(|k| f64::from(value(k)));
            self.body.centre([x, y, depth], place_scale, scale(5))
        })
    }

    /// What the joint network saw at a time, likewise.
    pub(super) fn of_pictures(&self, time_s: f64) -> [JointCentre; JOINTS] {
        self.centres.at(time_s).map(|row| {
            let [x, y, depth, place, deep] = row.map(f64::from);
            let scale = |logarithm: f64| (logarithm + USUAL_SPREAD).exp();
            self.body.centre([x, y, depth], scale(place), scale(deep))
        })
    }

    /// Middle distance of the joint network's centres from the landmarks, body lengths.
    pub(super) fn centres_from_landmarks(&self) -> Option<f64> {
        let all = self.centres.rows.iter().flatten();
        median(
            &all.map(|row| f64::from(row[0].hypot(row[1])))
                .collect::<Vec<_>>(),
        )
    }
}

/// A picture in whose middle joint the joint network lies farther from the landmarks, body lengths, is left out: what it
/// says of the pictures around stands. Most often it takes front for back there, and left for right. On a real
/// man's pictures the distances lie below 0.10 or above 0.14 (`training/check_people.py`).
const LOST: f64 = 0.1;

/// Middle distance of a picture's centres from the landmarks, body lengths.
fn from_landmarks(row: &[[f32; CENTRE_VALUES]; JOINTS]) -> f64 {
    let distances = row.map(|joint| f64::from(joint[0].hypot(joint[1])));
    median(&distances).unwrap_or(f64::INFINITY)
}

impl Centres {
    /// `None` where the joint network lost its way in half of the pictures or more.
    fn of(body: &BodyUnits, times_s: &[f64], seen: &[(f64, &Landmarks)]) -> Option<Centres> {
        let told: Vec<_> = times_s
            .iter()
            .zip(seen)
            .filter(|(_, (_, seen))| seen.joint_centres.len() == JOINTS)
            .map(|(t, (_, seen))| (*t, body.centre_row(seen)))
            .collect();
        let enough = 2.max(told.len() / 2);
        let (times_s, rows): (Vec<f64>, Vec<_>) = told
            .into_iter()
            .filter(|(_, row)| from_landmarks(row) <= LOST)
            .unzip();
        (times_s.len() >= enough).then_some(Centres { times_s, rows })
    }

    fn at(&self, time_s: f64) -> [[f32; CENTRE_VALUES]; JOINTS] {
        interpolated(&self.times_s, &self.rows, time_s)
    }
}

/// A right-hander's picture in body lengths.
#[derive(Clone, Copy)]
struct BodyUnits {
    /// The picture's width where it is to be mirrored, px.
    mirrored_px: Option<f64>,
    /// Mid-ankle at address, px of the mirrored picture.
    origin: PixelPoint,
    /// Nose to mid-ankle at address, px.
    length_px: f64,
}

impl BodyUnits {
    fn of(clip: &SwingClip<'_>, seen: &[(f64, &Landmarks)]) -> Option<BodyUnits> {
        let start = clip.address_s - ADDRESS_S / clip.real_seconds_per_file_second;
        let mut rest: Vec<&[Landmark]> = seen
            .iter()
            .filter(|(t, _)| (start..=clip.address_s).contains(t))
            .map(|(_, seen)| &seen.points[..])
            .collect();
        if rest.is_empty() {
            rest.push(&seen[0].1.points);
        }
        let mirrored_px = match clip.hand {
            Hand::Right => None,
            Hand::Left => Some(f64::from(clip.track.width_px)),
        };
        let middle = |of: &dyn Fn(&[Landmark]) -> f64| {
            median(&rest.iter().map(|points| of(points)).collect::<Vec<_>>())
        };
        let [left, right] = ANKLES;
        let x = middle(&|p| 0.5 * (p[left].at.x + p[right].at.x))?;
        let y = middle(&|p| 0.5 * (p[left].at.y + p[right].at.y))?;
        let (nose_x, nose_y) = (middle(&|p| p[NOSE].at.x)?, middle(&|p| p[NOSE].at.y)?);
        let length_px = (nose_x - x).hypot(nose_y - y);
        (length_px > 1.0).then_some(BodyUnits {
            mirrored_px,
            origin: PixelPoint {
                x: mirrored_px.map_or(x, |width| width - x),
                y,
            },
            length_px,
        })
    }

    /// The number, in this player's picture, of what has a number in a right-hander's. Ears and all
    /// below them come in pairs, left before right.
    fn landmark(&self, number: usize) -> usize {
        match number {
            _ if self.mirrored_px.is_none() => number,
            0 => 0,
            _ if number % 2 == 1 => number + 1,
            _ => number - 1,
        }
    }

    /// Rightward px of this picture as rightward px of a right-hander's, and back.
    fn rightward(&self, px: f64) -> f64 {
        if self.mirrored_px.is_some() { -px } else { px }
    }

    fn row(&self, point: &Landmark) -> [f32; VALUES] {
        let x = self
            .mirrored_px
            .map_or(point.at.x, |width| width - point.at.x);
        [
            (x - self.origin.x) / self.length_px,
            (point.at.y - self.origin.y) / self.length_px,
            point.depth_px / self.length_px,
            point.visibility,
        ]
        .map(|value| value as f32)
    }

    fn centre_row(&self, seen: &Landmarks) -> [[f32; CENTRE_VALUES]; JOINTS] {
        let logarithm = |px: f64| (px / SQRT_2 / self.length_px).ln() - USUAL_SPREAD;
        std::array::from_fn(|joint| {
            // Pairs lie as landmarks' do: odd before even.
            let centre = &seen.joint_centres[self.landmark(joint)];
            let landmark = &seen.points[self.landmark(JOINT_CENTRES[joint] as usize)];
            [
                self.rightward(centre.at.x - landmark.at.x) / self.length_px,
                (centre.at.y - landmark.at.y) / self.length_px,
                centre.depth_px / self.length_px,
                logarithm(centre.spread.at_px),
                logarithm(centre.spread.depth_px),
            ]
            .map(|value| value as f32)
        })
    }

    /// In px of this picture, from what a network said in body lengths, with scales of Laplace
    /// distributions.
    fn centre(&self, [x, y, depth]: [f64; 3], place_scale: f64, depth_scale: f64) -> JointCentre {
        let px = |lengths: f64| lengths * self.length_px;
        JointCentre {
            at: PixelPoint {
                x: self.rightward(px(x)),
                y: px(y),
            },
            depth_px: px(depth),
            spread: Spread {
                at_px: SQRT_2 * px(place_scale),
                depth_px: SQRT_2 * px(depth_scale),
            },
        }
    }
}

fn seen(frame: &BodyFrame) -> Option<(f64, &Landmarks)> {
    Some((frame.time_s, frame.body.as_ref()?))
}

fn step_times_s() -> impl Iterator<Item = f64> {
    (0..STEPS).map(|step| START_S + step as f64 / RATE_HZ)
}

/// Rows of numbers at a time; beyond the ends, the ends.
fn interpolated<const N: usize, const M: usize>(
    times_s: &[f64],
    rows: &[[[f32; N]; M]],
    time_s: f64,
) -> [[f32; N]; M] {
    let (before, share) = place(times_s, time_s);
    let (a, b) = (&rows[before], &rows[before + 1]);
    std::array::from_fn(|i| std::array::from_fn(|k| between(a[i][k], b[i][k], share)))
}

/// The interval of rising `times_s` that holds a time, and how far in it; beyond the ends, the ends.
fn place(times_s: &[f64], time_s: f64) -> (usize, f32) {
    let after = times_s.partition_point(|&t| t <= time_s);
    let before = after.saturating_sub(1).min(times_s.len() - 2);
    let share = (time_s - times_s[before]) / (times_s[before + 1] - times_s[before]);
    (before, share.clamp(0.0, 1.0) as f32)
}

fn between(a: f32, b: f32, share: f32) -> f32 {
    a + share * (b - a)
}
