//! A real player's recorded joints as the motion of the stage.
//!
//! Input is the table that goes with the project's open capture: one row a frame, `frame`, `t_s`,
//! and for each joint its `…_target_cm`, `…_up_cm`, `…_ball_cm`, of a right-hander. Joints are
//! taken as recorded, but for two things: bones get the constant length they have on average, and
//! the trail wrist moves to the grip. The capture holds no club: one is put into the hands, in a
//! plane, by the usual two degrees of club for one of arm; it has no measured truth, and impact is
//! when the hands are lowest.
//!
//! Axes as in [`crate::pose`].

use crate::motion::{BALL_RADIUS_M, ClubShape, HANDS_APART_M, KeyTimes, Movement};
use crate::params::{BodyParams, SwingParams};
use crate::pose::{Hold, Pose, frame_up, middle_joint};
use crate::skeleton::Skeleton;
use glam::{DMat3, DVec3};

/// Why a capture can't be used.
#[derive(Debug, thiserror::Error)]
pub enum CaptureError {
    /// A column is missing.
    #[error("the capture has no column `{0}`; expected a table of joints in golf axes")]
    Column(String),
    /// A cell holds no number.
    #[error("line {line}, column `{column}` of the capture is `{text}`, not a number")]
    Number {
        /// Line from 1.
        line: usize,
        /// Column by name.
        column: String,
        /// What stands there.
        text: String,
    },
    /// The motion is no swing.
    #[error("no swing was found in the capture: {0}")]
    NoSwing(&'static str),
}

/// Recorded joints in the table's order; pairs are lead, trail.
pub(crate) const JOINTS: [&str; 16] = [
    "nose_proxy_head",
    "neck",
    "l_shoulder",
    "r_shoulder",
    "l_elbow",
    "r_elbow",
    "l_wrist",
    "r_wrist",
    "l_hip",
    "r_hip",
    "l_knee",
    "r_knee",
    "l_ankle",
    "r_ankle",
    "l_toe",
    "r_toe",
];
pub(crate) const HEAD: usize = 0;
pub(crate) const NECK: usize = 1;
pub(crate) const SHOULDER: usize = 2;
pub(crate) const ELBOW: usize = 4;
pub(crate) const WRIST: usize = 6;
pub(crate) const HIP: usize = 8;
pub(crate) const KNEE: usize = 10;
pub(crate) const ANKLE: usize = 12;
pub(crate) const TOE: usize = 14;

pub(crate) type Row = [DVec3; JOINTS.len()];

/// A captured swing.
#[derive(Clone, Debug)]
pub struct Captured {
    rows: Vec<Row>,
    rate_hz: f64,
    /// Time of the address in the capture, s.
    start_s: f64,
    skeleton: Skeleton,
    keys: KeyTimes,
    club: ClubShape,
    /// Slope of the plane the club is put in, radians.
    plane_rad: f64,
    /// The lead arm's angle in that plane at address and at impact, radians.
    arm_rad: [f64; 2],
    /// How far each foot's toes point below level at address, radians.
    toes_rad: [f64; 2],
    ball: DVec3,
}

impl Captured {
    /// Reads a joints table. Gives the motion and the parameters with the captured player's size.
    ///
    /// # Errors
    /// When columns or numbers are missing, or the motion is no swing.
    pub fn read(text: &str, params: &SwingParams) -> Result<(Captured, SwingParams), CaptureError> {
        let (rows, rate_hz) = read_rows(text)?;
        Captured::of(rows, rate_hz, params)
    }

    /// From rows of joints, so many a second.
    pub(crate) fn of(
        mut rows: Vec<Row>,
        rate_hz: f64,
        params: &SwingParams,
    ) -> Result<(Captured, SwingParams), CaptureError> {
        let events = Events::find(&rows, rate_hz)?;
        let middle = 0.5 * (rows[events.address][ANKLE] + rows[events.address][ANKLE + 1]);
        let params = SwingParams {
            body: BodyParams {
                stature_m: stature(&rows[events.address]),
                ..params.body.clone()
            },
            ..params.clone()
        };
        let skeleton = skeleton(&rows, &params.body);
        // The capture's ground is put where the rendered shoes stand.
        let origin = middle - DVec3::Y * skeleton.ankle_height;
        for joint in rows.iter_mut().flatten() {
            *joint -= origin;
        }
        let address = &rows[events.address];
        let mut captured = Captured {
            toes_rad: [0, 1].map(|i| toes_down(address[TOE + i] - address[ANKLE + i])),
            skeleton,
            keys: events.key_times(rate_hz),
            start_s: events.address as f64 / rate_hz,
            club: ClubShape::of(&params),
            plane_rad: 1.0,
            arm_rad: [0.0; 2],
            ball: DVec3::ZERO,
            rows,
            rate_hz,
        };
        captured.sole_the_club();
        Ok((captured, params))
    }

    /// Finds the plane in which the club reaches the ground at address, and puts the ball there.
    fn sole_the_club(&mut self) {
        let (mut low, mut high) = (0.4, 1.4);
        for _ in 0..40 {
            self.plane_rad = 0.5 * (low + high);
            self.club.lie = self.plane_rad;
            self.arm_rad =
                [0.0, self.keys.impact].map(|t| self.arm_angle(&self.joints(self.start_s + t)));
            if self.pose(0.0).club.head.y > BALL_RADIUS_M {
                low = self.plane_rad;
            } else {
                high = self.plane_rad;
            }
        }
        let touch = self.pose(0.0).club.sweet_spot + DVec3::X * (BALL_RADIUS_M + 0.01);
        self.ball = touch.with_y(BALL_RADIUS_M);
    }

    /// The joints at a time of the capture, by Catmull–Rom interpolation.
    fn joints(&self, capture_s: f64) -> Row {
        let last = self.rows.len() - 1;
        let place = (capture_s * self.rate_hz).clamp(0.0, last as f64);
        let i = (place as usize).min(last - 1);
        let s = place - i as f64;
        let at = |k: usize| &self.rows[k.min(last)];
        let (a, b, c, d) = (at(i.saturating_sub(1)), at(i), at(i + 1), at(i + 2));
        std::array::from_fn(|j| {
            let (p0, p1, p2, p3) = (a[j], b[j], c[j], d[j]);
            0.5 * (2.0 * p1
                + (p2 - p0) * s
                + (2.0 * p0 - 5.0 * p1 + 4.0 * p2 - p3) * (s * s)
                + (3.0 * p1 - p0 - 3.0 * p2 + p3) * (s * s * s))
        })
    }
}

impl Movement for Captured {
    fn key_times(&self) -> &KeyTimes {
        &self.keys
    }

    fn skeleton(&self) -> &Skeleton {
        &self.skeleton
    }

    fn ball(&self) -> DVec3 {
        self.ball
    }

    fn pose(&self, time_s: f64) -> Pose {
        let s = &self.skeleton;
        let row = self.joints(time_s + self.start_s);
        let pair = |joint: usize| [row[joint], row[joint + 1]];
        let (neck, pelvis) = (row[NECK], 0.5 * (row[HIP] + row[HIP + 1]));

        let across = (row[HIP] - row[HIP + 1]).normalize();
        let hip = [pelvis + across * s.hip_half, pelvis - across * s.hip_half];
        let trunk_up = (neck - pelvis).normalize();
        // The pelvis leans less than the trunk.
        let pelvis_frame = frame_across(across, (trunk_up + DVec3::Y * 0.8).normalize());
        let shoulders = pair(SHOULDER);
        let chest_frame = frame_across((shoulders[0] - shoulders[1]).normalize(), trunk_up);
        let lumbar = pelvis + pelvis_frame * DVec3::new(0.0, s.pelvis, -0.012 * s.scale);
        let waist = lumbar.lerp(neck, s.waist / (s.waist + s.thorax));
        let waist_frame = frame_up(neck - lumbar, pelvis_frame.z_axis + chest_frame.z_axis);

        let ankle = pair(ANKLE);
        let knee = [0, 1].map(|i| {
            middle_joint(
                hip[i],
                ankle[i],
                s.thigh,
                s.shank,
                row[KNEE + i] - hip[i].midpoint(ankle[i]),
            )
        });
        let foot_frame = [0, 1].map(|i| {
            let ahead = row[TOE + i] - ankle[i];
            let lifted = (toes_down(ahead) - self.toes_rad[i]).max(0.0);
            frame_across(DVec3::Y.cross(ahead).normalize(), DVec3::Y)
                * DMat3::from_rotation_x(lifted)
        });

        let (shaft, face) = self.shaft(&row, time_s);
        let lead_arm = (row[WRIST] - row[SHOULDER]).normalize();
        let lead_grip = row[WRIST] + (lead_arm * 0.8 + shaft * 0.45).normalize() * s.hand;
        let grip = [lead_grip, lead_grip + shaft * HANDS_APART_M];
        let trail_way = (row[WRIST + 1] - grip[1]).normalize_or(DVec3::Y);
        let wrist = [row[WRIST], grip[1] + trail_way * s.hand];
        let elbow = [0, 1].map(|i| {
            let pole = row[ELBOW + i] - shoulders[i].midpoint(wrist[i]);
            middle_joint(shoulders[i], wrist[i], s.upper_arm, s.forearm, pole)
        });

        let up = (row[HEAD] - neck).normalize();
        let face_ahead = (self.ball - row[HEAD]).normalize();
        let after = ((time_s - self.keys.impact) / 0.4).clamp(0.0, 1.0);
        let ahead = face_ahead * (0.6 * (1.0 - after)) + chest_frame.z_axis * (0.3 + 0.7 * after);
        let head_up = (up * 0.5 + trunk_up * 0.5 + DVec3::Y * 0.2 - face_ahead * 0.25).normalize();
        let head_frame = frame_up(head_up, ahead + head_up * 1e-3);
        let club = self.club.clear_of_ground(lead_grip, shaft, face, false);
        Pose {
            pelvis,
            pelvis_frame,
            lumbar,
            waist,
            waist_frame,
            neck,
            chest_frame,
            head: neck + (up * 0.6 + trunk_up * 0.4).normalize() * s.neck,
            head_frame,
            shoulder: shoulders,
            elbow,
            wrist,
            grip,
            hip,
            knee,
            ankle,
            foot_frame,
            hold: Hold::of_club(&club),
            club,
        }
    }
}

impl Captured {
    /// Direction of the shaft and of the face: the club turns in its plane two degrees for each of
    /// the lead arm from where it hangs at address (going back) or at impact (coming down), at most
    /// to level at the top and over the shoulder at the finish.
    fn shaft(&self, row: &Row, time_s: f64) -> (DVec3, DVec3) {
        // Hands a little ahead of the ball at address, level at the top (by eye).
        const ADDRESS: f64 = 0.06;
        let down = (time_s - self.keys.top) / (self.keys.impact - self.keys.top);
        let down = down.clamp(0.0, 1.0);
        let rest = self.arm_rad[0] + (self.arm_rad[1] - self.arm_rad[0]) * down;
        let club = (2.0 * (self.arm_angle(row) - rest) + ADDRESS).clamp(-5.2, 4.6);
        let down = self.downward();
        let shaft = down * club.cos() + DVec3::NEG_X * club.sin();
        let face = down * club.sin() - DVec3::NEG_X * club.cos();
        (shaft, face)
    }

    /// Angle of the lead arm in the club's plane, from down, away from the target.
    fn arm_angle(&self, row: &Row) -> f64 {
        let arm = row[WRIST] - row[SHOULDER];
        (-arm.x).atan2(arm.dot(self.downward()))
    }

    fn downward(&self) -> DVec3 {
        DVec3::new(0.0, -self.plane_rad.sin(), self.plane_rad.cos())
    }
}

/// A frame whose x axis is exact and whose y axis is as near to `up` as that allows.
fn frame_across(across: DVec3, up: DVec3) -> DMat3 {
    let z = across.cross(up).normalize();
    DMat3::from_cols(across, z.cross(across), z)
}

/// How far toes point below level, radians, from ankle to toe joint.
fn toes_down(ahead: DVec3) -> f64 {
    (-ahead.y).atan2(ahead.with_y(0.0).length())
}

/// Stature from the legs: thigh and shank together are 0.491 of it (see [`Skeleton`]).
fn stature(address: &Row) -> f64 {
    let leg: f64 = [0, 1]
        .map(|i| {
            address[HIP + i].distance(address[KNEE + i])
                + address[KNEE + i].distance(address[ANKLE + i])
        })
        .iter()
        .sum();
    leg / (2.0 * 0.491)
}

/// Bones of average length.
fn skeleton(rows: &[Row], body: &BodyParams) -> Skeleton {
    let mean = |a: usize, b: usize| {
        let sum: f64 = rows
            .iter()
            .map(|r| r[a].distance(r[b]) + r[a + 1].distance(r[b + 1]))
            .sum();
        0.5 * sum / rows.len() as f64
    };
    let hips: f64 = rows.iter().map(|r| r[HIP].distance(r[HIP + 1])).sum();
    Skeleton {
        thigh: mean(HIP, KNEE),
        shank: mean(KNEE, ANKLE),
        upper_arm: mean(SHOULDER, ELBOW),
        forearm: mean(ELBOW, WRIST),
        hip_half: 0.5 * hips / rows.len() as f64,
        ..Skeleton::of(body)
    }
}

/// Row numbers of what happens.
struct Events {
    address: usize,
    arm_back: usize,
    top: usize,
    arm_down: usize,
    impact: usize,
    finish: usize,
}

impl Events {
    fn find(rows: &[Row], rate_hz: f64) -> Result<Events, CaptureError> {
        // Slower hands are taken as still, m/s.
        const STILL: f64 = 0.10;
        let hands = |i: usize| 0.5 * (rows[i][WRIST] + rows[i][WRIST + 1]);
        let speed = |i: usize| {
            let (a, b) = (i.saturating_sub(2), (i + 2).min(rows.len() - 1));
            hands(a).distance(hands(b)) * rate_hz / (b - a) as f64
        };
        let above = |i: usize| rows[i][WRIST].y > rows[i][SHOULDER].y;
        let last = rows.len() - 1;
        let arm_back = (0..last)
            .find(|&i| above(i))
            .ok_or(CaptureError::NoSwing("the lead arm never rises to level"))?;
        let arm_down = (arm_back..last)
            .find(|&i| !above(i))
            .ok_or(CaptureError::NoSwing("the lead arm does not come down"))?;
        let top = (arm_back..arm_down)
            .min_by(|&a, &b| speed(a).total_cmp(&speed(b)))
            .ok_or(CaptureError::NoSwing("there is no top"))?;
        let address = (0..arm_back)
            .rev()
            .find(|&i| speed(i) < STILL)
            .ok_or(CaptureError::NoSwing("it does not begin in stillness"))?;
        let window = (0.4 * rate_hz) as usize;
        let impact = (arm_down..(arm_down + window).min(last))
            .min_by(|&a, &b| hands(a).y.total_cmp(&hands(b).y))
            .ok_or(CaptureError::NoSwing("it ends before the strike"))?;
        let finish = (impact + window / 4..last)
            .find(|&i| speed(i) < 4.0 * STILL)
            .unwrap_or(last);
        Ok(Events {
            address,
            arm_back,
            top,
            arm_down,
            impact,
            finish,
        })
    }

    fn key_times(&self, rate_hz: f64) -> KeyTimes {
        let time = |row: usize| (row - self.address) as f64 / rate_hz;
        let mix = |a: f64, b: f64, share: f64| a + share * (b - a);
        let (back, top, down) = (time(self.arm_back), time(self.top), time(self.arm_down));
        let (impact, finish) = (time(self.impact), time(self.finish));
        KeyTimes {
            shaft_level_back: 0.6 * back,
            arm_level_back: back,
            before_top: mix(back, top, 0.8),
            top,
            arm_level_down: down,
            shaft_level_down: mix(down, impact, 0.55),
            impact,
            shaft_level_through: mix(impact, finish, 0.1),
            arm_level_through: mix(impact, finish, 0.25),
            wrap: mix(impact, finish, 0.6),
            finish,
        }
    }
}

/// Joints in metres, and frames a second.
fn read_rows(text: &str) -> Result<(Vec<Row>, f64), CaptureError> {
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().unwrap_or_default().split(',').collect();
    let column = |name: String| {
        let place = header.iter().position(|&h| h.trim() == name);
        place
            .map(|i| (i, name.clone()))
            .ok_or(CaptureError::Column(name))
    };
    let time = column("t_s".to_owned())?;
    let mut places = Vec::new();
    for joint in JOINTS {
        for axis in ["target", "up", "ball"] {
            places.push(column(format!("{joint}_{axis}_cm"))?);
        }
    }
    let mut rows = Vec::new();
    let mut times = Vec::new();
    for (number, line) in lines
        .enumerate()
        .filter(|(_, line)| !line.trim().is_empty())
    {
        let cells: Vec<&str> = line.split(',').collect();
        let value = |(place, name): &(usize, String)| {
            let text = cells.get(*place).copied().unwrap_or_default().trim();
            text.parse::<f64>()
                .ok()
                .filter(|v| v.is_finite())
                .ok_or_else(|| CaptureError::Number {
                    line: number + 2,
                    column: name.clone(),
                    text: text.to_owned(),
                })
        };
        times.push(value(&time)?);
        let mut row = [DVec3::ZERO; JOINTS.len()];
        for (joint, place) in row.iter_mut().zip(places.chunks(3)) {
            *joint = 0.01 * DVec3::new(value(&place[0])?, value(&place[1])?, value(&place[2])?);
        }
        rows.push(row);
    }
    if rows.len() < 30 {
        return Err(CaptureError::NoSwing("it has fewer than 30 frames"));
    }
    let length_s = times[times.len() - 1] - times[0];
    if length_s <= 0.0 {
        return Err(CaptureError::NoSwing("its times do not increase"));
    }
    Ok((rows, (times.len() - 1) as f64 / length_s))
}
