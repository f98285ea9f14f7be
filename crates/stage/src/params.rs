//! Everything that describes one swing before one or two virtual phones: the input of the stage.
//!
//! A [`SwingParams`] is plain data (JSON in, JSON out). Lengths are metres and angles degrees
//! except where a name says centimetres; sides are *lead* (target side) and *trail*. Fields left
//! out of a JSON file take the default of an unhurried, sound swing.

use serde::{Deserialize, Serialize};
use std::fmt;

/// One swing, its player and how it is filmed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct SwingParams {
    /// Free name, for people.
    pub name: String,
    /// Seeds sensor noise, room noise and surface detail.
    pub seed: u64,
    /// Which hand the player plays.
    pub hand: Hand,
    /// The player's body.
    pub body: BodyParams,
    /// What the player wears.
    pub clothes: Clothes,
    /// The club.
    pub club: Club,
    /// How the player stands to the ball.
    pub set_up: SetUp,
    /// How the player moves.
    pub motion: MotionParams,
    /// How the ball flies; without it straight at the target, as most do with the club.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flight: Option<BallFlight>,
    /// Where it takes place.
    pub scene: Scene,
    /// The phone's camera and clock, the same for both views.
    pub phone: Phone,
    /// Where the face-on phone stands.
    pub face_on: CameraPlace,
    /// Where the down-the-line phone stands.
    pub down_the_line: CameraPlace,
    /// What the microphone hears besides the strike.
    pub sound: Sound,
    /// Stillness before the takeaway, s.
    pub before_s: f64,
    /// Film after the finish, s.
    pub after_s: f64,
}

/// Which hand the player plays.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hand {
    /// Left side toward the target.
    #[default]
    Right,
    /// Right side toward the target: the mirror image.
    Left,
}

/// Where a camera stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum View {
    /// Square to the target line, facing the player's chest.
    FaceOn,
    /// Behind the player on the target line, looking toward the target.
    DownTheLine,
}

/// Size and build. Ratios are relative to the proportions of Drillis and Contini (1966), as printed
/// in D. A. Winter, *Biomechanics and Motor Control of Human Movement*.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct BodyParams {
    /// Height without shoes, m.
    pub stature_m: f64,
    /// Number of a person's shape ([`crate::skin`]) that the player is drawn with instead of simple solids;
    /// girth, muscle, belly, bust and hips' flesh are then the shape's own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shape: Option<u32>,
    /// Leg length over the standard one; the trunk makes up the difference.
    pub leg_ratio: f64,
    /// Arm length over the standard one.
    pub arm_ratio: f64,
    /// Distance of the shoulder joint centres over the standard one.
    pub shoulder_ratio: f64,
    /// Distance of the hip joint centres over the standard one.
    pub hip_ratio: f64,
    /// How the parts of legs, arms and trunk share their length.
    #[serde(skip_serializing_if = "Proportions::are_usual")]
    pub proportions: Proportions,
    /// Thickness of trunk and limbs: 0.85 slim, 1 average, 1.25 heavy.
    pub girth: f64,
    /// Forward growth of the belly, 0 flat … 1 large.
    pub belly: f64,
    /// Bust, 0 … 1.
    pub bust: f64,
    /// Width of the hips' flesh over the average man's.
    pub hip_flesh: f64,
    /// Muscle of arms, shoulders and legs, 0.85 … 1.2.
    pub muscle: f64,
    /// Linear RGB of the skin in full light.
    pub skin: [f32; 3],
    /// Linear RGB of the hair.
    pub hair: [f32; 3],
    /// How the hair is worn.
    pub hair_style: HairStyle,
    /// A beard, 0 none, 1 full.
    pub beard: f32,
}

/// Parts of the body over their usual size, where the whole stays as it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Proportions {
    /// Thigh over the standard one; the shank makes up the difference.
    pub thigh_ratio: f64,
    /// Upper arm over the standard one; the forearm makes up the difference.
    pub upper_arm_ratio: f64,
    /// Pelvis' share of the trunk over the standard one; the waist makes up the difference.
    pub pelvis_ratio: f64,
    /// Thorax' share of the trunk over the standard one; the waist makes up the difference.
    pub thorax_ratio: f64,
    /// Base of the neck to the head over the standard distance.
    pub neck_ratio: f64,
    /// Shoulder joints higher on the chest than the standard figure's, cm at a stature of 1.78 m.
    pub shoulders_up_cm: f64,
}

impl Proportions {
    /// Whether all are standard.
    pub fn are_usual(&self) -> bool {
        *self == Proportions::default()
    }
}

impl Default for Proportions {
    fn default() -> Self {
        Proportions {
            thigh_ratio: 1.0,
            upper_arm_ratio: 1.0,
            pelvis_ratio: 1.0,
            thorax_ratio: 1.0,
            neck_ratio: 1.0,
            shoulders_up_cm: 0.0,
        }
    }
}

/// How the hair is worn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HairStyle {
    /// None.
    Bald,
    /// Close to the head.
    Short,
    /// To the nape.
    Long,
    /// Tied at the back.
    Ponytail,
}

/// What the player wears; colours are linear RGB.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Clothes {
    /// Shirt colour.
    pub shirt: [f32; 3],
    /// Second shirt colour, of stripes, collar and placket.
    pub trim: [f32; 3],
    /// Pattern of the shirt.
    pub pattern: Pattern,
    /// Length of the sleeves.
    pub sleeves: Sleeves,
    /// Trousers, shorts or skirt.
    pub below: Below,
    /// Its colour.
    pub below_colour: [f32; 3],
    /// Belt colour.
    pub belt: [f32; 3],
    /// What is worn on the head.
    pub hat: Hat,
    /// Its colour.
    pub hat_colour: [f32; 3],
    /// Shoe colour.
    pub shoes: [f32; 3],
    /// A glove on the lead hand.
    pub glove: bool,
    /// How loosely the clothes hang, 0 tight … 1 loose.
    pub looseness: f64,
}

/// Pattern of a shirt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pattern {
    /// One colour.
    Plain,
    /// Stripes around the body.
    Hoops,
    /// Stripes along the body.
    Stripes,
    /// One broad band across the chest.
    Band,
}

/// Length of sleeves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sleeves {
    /// None.
    None,
    /// To above the elbow.
    Short,
    /// To the wrist.
    Long,
}

/// What is worn below the waist.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Below {
    /// To the shoe.
    Trousers,
    /// To the knee.
    Shorts,
    /// A short skirt.
    Skirt,
}

/// What is worn on the head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hat {
    /// Nothing.
    None,
    /// A cap with a peak.
    Cap,
    /// A peak on a band, the crown open.
    Visor,
}

/// The club.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Club {
    /// Shape of the head.
    pub kind: ClubKind,
    /// From the butt of the grip to the hosel's end, m (7-iron about 0.94, driver about 1.14;
    /// common practice, no source).
    pub length_m: f64,
    /// Loft of the face, degrees.
    pub loft_deg: f64,
    /// How it is made.
    #[serde(skip_serializing_if = "ClubLook::is_usual")]
    pub look: ClubLook,
}

/// Colours and thickness of a club. Colours are linear RGB; without one, a steel shaft and head for
/// an iron, dark ones for a driver.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct ClubLook {
    /// Shaft.
    pub shaft: Option<[f32; 3]>,
    /// Strength of the light that the shaft mirrors, 0 dull … 1 polished.
    pub shaft_shine: f32,
    /// Thickness of the shaft over the usual one.
    pub shaft_ratio: f64,
    /// Grip.
    pub grip: [f32; 3],
    /// Head.
    pub head: Option<[f32; 3]>,
    /// Size of the head over the usual one.
    pub head_ratio: f64,
}

impl ClubLook {
    /// Whether the club looks as most do.
    pub fn is_usual(&self) -> bool {
        *self == ClubLook::default()
    }
}

impl Default for ClubLook {
    fn default() -> Self {
        ClubLook {
            shaft: None,
            shaft_shine: 0.8,
            shaft_ratio: 1.0,
            grip: [0.02, 0.02, 0.022],
            head: None,
            head_ratio: 1.0,
        }
    }
}

/// Shape of the club's head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ClubKind {
    /// A blade, the ball on the ground.
    Iron,
    /// A large head, the ball on a tee.
    Driver,
}

/// How the player stands to the ball.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct SetUp {
    /// Distance of the ankle joint centres along the target line over stature.
    pub stance_ratio: f64,
    /// Lead foot turned out toward the target, degrees.
    pub lead_flare_deg: f64,
    /// Trail foot turned out away from the target, degrees.
    pub trail_flare_deg: f64,
    /// Lead foot drawn back from the ball, cm: an open stance (minus: closed).
    pub open_stance_cm: f64,
    /// Ball from mid-stance toward the target, cm.
    pub ball_position_cm: f64,
    /// Hands from mid-stance toward the target, cm.
    pub hands_cm: f64,
    /// Forward lean of the line from mid-hips to the base of the neck, degrees from vertical.
    pub spine_lean_deg: f64,
    /// Sideways lean of that line away from the target, degrees.
    pub spine_tilt_deg: f64,
    /// Flexion of the knees, degrees.
    pub knee_flex_deg: f64,
    /// Arms from the vertical toward the ball, degrees.
    pub arm_hang_deg: f64,
    /// Shoulder line turned open to the target, degrees.
    pub shoulders_open_deg: f64,
}

/// How the player moves. Values "down" are at the moment the lead arm is level on the way down.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct MotionParams {
    /// First movement to the top of the arm swing, s.
    pub backswing_s: f64,
    /// Top of the arm swing to impact, s.
    pub downswing_s: f64,
    /// When the lead arm is level on the way down, as a fraction of the downswing (GolfDB median
    /// 0.56–0.57, 5–95 %: 0.43–0.67).
    pub arm_level_fraction: f64,
    /// Mid-hips toward the target against address, cm: half way back, where sway is greatest.
    pub shift_back_cm: f64,
    /// … at the top.
    pub shift_top_cm: f64,
    /// … down.
    pub shift_down_cm: f64,
    /// … at impact.
    pub shift_impact_cm: f64,
    /// Mid-hips toward the ball at impact against address, cm: early extension when large.
    pub thrust_cm: f64,
    /// Mid-hips lowered by the time the arm is level, cm.
    pub squat_cm: f64,
    /// Pelvis turned away from the target at the top, degrees about its own long axis.
    pub pelvis_turn_top_deg: f64,
    /// Pelvis turned open to the target, down (minus: still closed).
    pub pelvis_open_down_deg: f64,
    /// Pelvis turned open at impact.
    pub pelvis_open_impact_deg: f64,
    /// Line through the knees against address seen from above, plus when more open to the target,
    /// down. Solved for with knees, feet and tilt as far as anatomy allows.
    pub knee_line_down_deg: f64,
    /// Chest turned away from the target at the top.
    pub chest_turn_top_deg: f64,
    /// Chest still turned away from the target, down.
    pub chest_closed_down_deg: f64,
    /// Chest turned open at impact.
    pub chest_open_impact_deg: f64,
    /// Base of the neck toward the target against address, cm, at the top.
    pub head_sway_top_cm: f64,
    /// … at impact.
    pub head_sway_impact_cm: f64,
    /// Trail elbow ahead of (plus: toward the ball) the line through the trail shoulder and trail
    /// hip, cm, down. Solved for by turning the elbow about the line from shoulder to wrist.
    pub elbow_ahead_down_cm: f64,
    /// Trail elbow lifted away from the body at the top, 0 tucked … 1 flying.
    pub flying_elbow: f64,
    /// Hands, shoulders and club in the change of direction: dropped behind the player −1 … 1 thrown
    /// toward the ball.
    pub over_the_top: f64,
    /// Wrist angle lost early in the downswing, degrees.
    pub cast_deg: f64,
    /// Lead arm at the top, degrees from hanging straight down (level is 90).
    pub arm_top_deg: f64,
    /// Lead arm's plane at the top, degrees from level (more is steeper).
    pub arm_plane_top_deg: f64,
    /// Angle of the club at the top past pointing straight up, degrees (90: level).
    pub club_top_deg: f64,
    /// Lead arm's length from shoulder to wrist at the top over straight.
    pub lead_arm_straight: f64,
    /// … at address.
    pub lead_arm_straight_address: f64,
    /// … on the way back.
    pub lead_arm_straight_back: f64,
    /// … at impact.
    pub lead_arm_straight_impact: f64,
    /// Farthest reach of either arm over straight.
    pub arm_reach: f64,
    /// Lead heel lifted at the top, degrees.
    pub lead_heel_lift_deg: f64,
    /// Hands ahead of the ball at impact: shaft leant toward the target, degrees.
    pub shaft_lean_impact_deg: f64,
    /// Lowest point of the head's way ahead of the middle of the ball, toward the target, cm. Without
    /// it the head brushes along the ground.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub low_point_cm: Option<f64>,
    /// How far the follow-through goes, 0.6 short … 1 full.
    pub finish: f64,
    /// How far trunk, knees, shoulders and elbow stray from the way all other parameters give, 0 none,
    /// 1 as far as one player's swing is from another's (set by eye).
    #[serde(skip_serializing_if = "is_zero")]
    pub wander: f64,
}

/// How the ball leaves the club.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BallFlight {
    /// Speed, m/s.
    pub speed_m_s: f64,
    /// Above the level, degrees.
    pub launch_deg: f64,
    /// From the target line, seen from above, degrees; plus away from the player.
    pub start_deg: f64,
}

/// Where it takes place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Scene {
    /// Indoors or out.
    pub place: Place,
    /// Compass of the key light, degrees from behind the camera-side toward the target.
    pub light_azimuth_deg: f64,
    /// Height of the key light above the horizon, degrees.
    pub light_height_deg: f64,
    /// Strength of the key light over the fill, 0 overcast … 1.3 hard sun.
    pub light_hardness: f64,
    /// Exposure over normal.
    pub exposure: f64,
    /// Chooses colours and details of the place.
    pub variant: u32,
}

/// Indoors or out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// A teaching studio: mat, panelled wall, screen.
    Studio,
    /// A practice range: grass, trees, sky.
    Range,
}

/// The phone's camera and clock.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Phone {
    /// Frames a second, constant.
    pub rate_hz: f64,
    /// Exposure of one row, s.
    pub shutter_s: f64,
    /// From the exposure of the first row to that of the last, s; 0 is a global shutter. The
    /// frame's time is the middle of the exposure of its middle row.
    pub readout_s: f64,
    /// Standard deviation of the noise in mid-grey, of 255.
    pub noise: f64,
}

impl Phone {
    /// The same phone at another frame rate; exposure and read-out then fit into a frame.
    pub fn at_rate(self, rate_hz: f64) -> Phone {
        Phone {
            rate_hz,
            shutter_s: self.shutter_s.min(0.5 / rate_hz),
            readout_s: self.readout_s.min(0.9 / rate_hz),
            ..self
        }
    }
}

/// Where a phone stands and looks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct CameraPlace {
    /// From the player, m.
    pub distance_m: f64,
    /// Above the ground, m.
    pub height_m: f64,
    /// The view direction turned about the vertical, degrees; the phone walks around the player
    /// by as much, so that the player stays in the picture. Plus: anticlockwise seen from above
    /// for a right-hander.
    pub yaw_deg: f64,
    /// Roll of the phone, degrees, plus clockwise.
    pub roll_deg: f64,
    /// Field of view of the picture's long (upright) side, degrees.
    pub fov_deg: f64,
    /// Sideways place of the player in the picture, fraction of its width from the middle.
    pub off_centre: f64,
}

/// What the microphone hears.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Sound {
    /// Peak of the strike, of full scale.
    pub strike: f64,
    /// Room noise, root mean square of full scale.
    pub noise: f64,
}

fn is_zero(value: &f64) -> bool {
    *value == 0.0
}

/// What is wrong with a [`SwingParams`].
#[derive(Clone, Debug, PartialEq)]
pub struct BadParams {
    /// Path of the field in the JSON.
    pub field: &'static str,
    /// Its value.
    pub value: f64,
    /// Smallest value allowed.
    pub low: f64,
    /// Largest value allowed.
    pub high: f64,
}

impl fmt::Display for BadParams {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "`{}` is {}, outside {} to {}; change it in the swing's JSON",
            self.field, self.value, self.low, self.high
        )
    }
}

impl std::error::Error for BadParams {}

impl SwingParams {
    /// Checks every value that could make the figure impossible.
    ///
    /// # Errors
    /// The first field outside its range.
    pub fn check(&self) -> Result<(), BadParams> {
        let (b, u, m) = (&self.body, &self.set_up, &self.motion);
        let q = &b.proportions;
        let flight = self.flight.unwrap_or(BallFlight {
            speed_m_s: 50.0,
            launch_deg: 0.0,
            start_deg: 0.0,
        });
        let ranges: [(&'static str, f64, f64, f64); 56] = [
            ("flight.speed_m_s", flight.speed_m_s, 5.0, 100.0),
            ("flight.launch_deg", flight.launch_deg, -5.0, 60.0),
            ("flight.start_deg", flight.start_deg, -30.0, 30.0),
            ("body.stature_m", b.stature_m, 1.2, 2.2),
            ("body.leg_ratio", b.leg_ratio, 0.93, 1.07),
            ("body.arm_ratio", b.arm_ratio, 0.88, 1.08),
            ("body.shoulder_ratio", b.shoulder_ratio, 0.8, 1.2),
            ("body.hip_ratio", b.hip_ratio, 0.85, 1.2),
            ("body.proportions.thigh_ratio", q.thigh_ratio, 0.85, 1.15),
            (
                "body.proportions.upper_arm_ratio",
                q.upper_arm_ratio,
                0.85,
                1.15,
            ),
            ("body.proportions.pelvis_ratio", q.pelvis_ratio, 0.6, 1.4),
            ("body.proportions.thorax_ratio", q.thorax_ratio, 0.8, 1.2),
            ("body.proportions.neck_ratio", q.neck_ratio, 0.8, 1.2),
            (
                "body.proportions.shoulders_up_cm",
                q.shoulders_up_cm,
                -4.0,
                4.0,
            ),
            ("body.girth", b.girth, 0.75, 1.4),
            ("body.belly", b.belly, 0.0, 1.0),
            ("body.muscle", b.muscle, 0.7, 1.3),
            ("club.length_m", self.club.length_m, 0.8, 1.2),
            ("set_up.stance_ratio", u.stance_ratio, 0.12, 0.36),
            ("set_up.spine_lean_deg", u.spine_lean_deg, 22.0, 48.0),
            ("set_up.spine_tilt_deg", u.spine_tilt_deg, -3.0, 14.0),
            ("set_up.knee_flex_deg", u.knee_flex_deg, 8.0, 40.0),
            ("set_up.arm_hang_deg", u.arm_hang_deg, 0.0, 30.0),
            (
                "motion.low_point_cm",
                m.low_point_cm.unwrap_or(0.0),
                -20.0,
                20.0,
            ),
            ("motion.backswing_s", m.backswing_s, 0.4, 2.0),
            ("motion.downswing_s", m.downswing_s, 0.17, 0.6),
            ("motion.arm_level_fraction", m.arm_level_fraction, 0.4, 0.7),
            ("motion.shift_back_cm", m.shift_back_cm, -20.0, 10.0),
            ("motion.shift_top_cm", m.shift_top_cm, -20.0, 12.0),
            ("motion.shift_down_cm", m.shift_down_cm, -15.0, 18.0),
            ("motion.shift_impact_cm", m.shift_impact_cm, -12.0, 20.0),
            ("motion.thrust_cm", m.thrust_cm, -6.0, 14.0),
            (
                "motion.pelvis_turn_top_deg",
                m.pelvis_turn_top_deg,
                10.0,
                75.0,
            ),
            (
                "motion.pelvis_open_down_deg",
                m.pelvis_open_down_deg,
                -45.0,
                50.0,
            ),
            (
                "motion.pelvis_open_impact_deg",
                m.pelvis_open_impact_deg,
                -10.0,
                65.0,
            ),
            (
                "motion.chest_turn_top_deg",
                m.chest_turn_top_deg,
                50.0,
                115.0,
            ),
            (
                "motion.chest_closed_down_deg",
                m.chest_closed_down_deg,
                0.0,
                80.0,
            ),
            ("motion.over_the_top", m.over_the_top, -1.0, 1.0),
            (
                "motion.knee_line_down_deg",
                m.knee_line_down_deg,
                -40.0,
                60.0,
            ),
            (
                "motion.elbow_ahead_down_cm",
                m.elbow_ahead_down_cm,
                -25.0,
                25.0,
            ),
            ("motion.arm_top_deg", m.arm_top_deg, 105.0, 170.0),
            ("motion.lead_arm_straight", m.lead_arm_straight, 0.8, 1.0),
            (
                "motion.lead_arm_straight_address",
                m.lead_arm_straight_address,
                0.8,
                1.0,
            ),
            (
                "motion.lead_arm_straight_back",
                m.lead_arm_straight_back,
                0.8,
                1.0,
            ),
            (
                "motion.lead_arm_straight_impact",
                m.lead_arm_straight_impact,
                0.8,
                1.0,
            ),
            ("motion.arm_reach", m.arm_reach, 0.9, 0.9995),
            ("motion.finish", m.finish, 0.5, 1.0),
            ("motion.wander", m.wander, 0.0, 1.5),
            ("phone.rate_hz", self.phone.rate_hz, 10.0, 1000.0),
            ("phone.shutter_s", self.phone.shutter_s, 0.0, 0.05),
            ("phone.readout_s", self.phone.readout_s, 0.0, 0.05),
            ("face_on.distance_m", self.face_on.distance_m, 2.0, 15.0),
            (
                "down_the_line.distance_m",
                self.down_the_line.distance_m,
                2.0,
                15.0,
            ),
            ("face_on.fov_deg", self.face_on.fov_deg, 10.0, 100.0),
            (
                "down_the_line.fov_deg",
                self.down_the_line.fov_deg,
                10.0,
                100.0,
            ),
            ("before_s", self.before_s, 0.0, 120.0),
        ];
        match ranges
            .into_iter()
            .find(|&(_, value, low, high)| !(value >= low && value <= high))
        {
            Some((field, value, low, high)) => Err(BadParams {
                field,
                value,
                low,
                high,
            }),
            None => Ok(()),
        }
    }

    /// The camera of a view.
    pub fn place(&self, view: View) -> &CameraPlace {
        match view {
            View::FaceOn => &self.face_on,
            View::DownTheLine => &self.down_the_line,
        }
    }
}

impl Default for SwingParams {
    fn default() -> Self {
        SwingParams {
            name: String::new(),
            seed: 1,
            hand: Hand::Right,
            body: BodyParams::default(),
            clothes: Clothes::default(),
            club: Club::default(),
            set_up: SetUp::default(),
            motion: MotionParams::default(),
            flight: None,
            scene: Scene::default(),
            phone: Phone::default(),
            face_on: CameraPlace::default(),
            down_the_line: CameraPlace::default(),
            sound: Sound::default(),
            before_s: 0.6,
            after_s: 0.4,
        }
    }
}

impl Default for BodyParams {
    fn default() -> Self {
        BodyParams {
            stature_m: 1.78,
            shape: None,
            leg_ratio: 1.0,
            arm_ratio: 1.0,
            shoulder_ratio: 1.0,
            hip_ratio: 1.0,
            proportions: Proportions::default(),
            girth: 1.0,
            belly: 0.15,
            bust: 0.0,
            hip_flesh: 1.0,
            muscle: 1.0,
            skin: [0.50, 0.29, 0.195],
            hair: [0.03, 0.02, 0.014],
            hair_style: HairStyle::Short,
            beard: 0.0,
        }
    }
}

impl Default for Clothes {
    fn default() -> Self {
        Clothes {
            shirt: [0.06, 0.16, 0.42],
            trim: [0.55, 0.57, 0.60],
            pattern: Pattern::Plain,
            sleeves: Sleeves::Short,
            below: Below::Trousers,
            below_colour: [0.34, 0.30, 0.24],
            belt: [0.05, 0.028, 0.016],
            hat: Hat::Cap,
            hat_colour: [0.70, 0.70, 0.68],
            shoes: [0.65, 0.65, 0.63],
            glove: true,
            looseness: 0.3,
        }
    }
}

impl Default for Club {
    fn default() -> Self {
        Club {
            kind: ClubKind::Iron,
            length_m: 0.94,
            loft_deg: 32.0,
            look: ClubLook::default(),
        }
    }
}

impl Default for SetUp {
    fn default() -> Self {
        SetUp {
            stance_ratio: 0.235,
            lead_flare_deg: 22.0,
            trail_flare_deg: 8.0,
            open_stance_cm: 0.0,
            ball_position_cm: 3.0,
            hands_cm: 3.0,
            spine_lean_deg: 31.0,
            spine_tilt_deg: 4.5,
            knee_flex_deg: 20.0,
            arm_hang_deg: 17.0,
            shoulders_open_deg: 0.0,
        }
    }
}

impl Default for MotionParams {
    fn default() -> Self {
        MotionParams {
            backswing_s: 0.80,
            downswing_s: 0.26,
            arm_level_fraction: 0.56,
            shift_back_cm: -1.5,
            shift_top_cm: 0.5,
            shift_down_cm: 6.5,
            shift_impact_cm: 9.0,
            thrust_cm: 0.0,
            squat_cm: 2.5,
            pelvis_turn_top_deg: 44.0,
            pelvis_open_down_deg: 8.0,
            pelvis_open_impact_deg: 36.0,
            knee_line_down_deg: 4.0,
            chest_turn_top_deg: 90.0,
            chest_closed_down_deg: 38.0,
            chest_open_impact_deg: 24.0,
            head_sway_top_cm: -2.0,
            head_sway_impact_cm: -1.0,
            elbow_ahead_down_cm: 4.0,
            flying_elbow: 0.1,
            over_the_top: 0.0,
            cast_deg: 0.0,
            arm_top_deg: 140.0,
            arm_plane_top_deg: 46.0,
            club_top_deg: 84.0,
            lead_arm_straight: 0.975,
            lead_arm_straight_address: 0.978,
            lead_arm_straight_back: 0.985,
            lead_arm_straight_impact: 0.988,
            arm_reach: 0.997,
            lead_heel_lift_deg: 0.0,
            shaft_lean_impact_deg: 6.0,
            low_point_cm: None,
            finish: 1.0,
            wander: 0.0,
        }
    }
}

impl Default for Scene {
    fn default() -> Self {
        Scene {
            place: Place::Studio,
            light_azimuth_deg: -33.0,
            light_height_deg: 54.0,
            light_hardness: 1.0,
            exposure: 1.0,
            variant: 0,
        }
    }
}

impl Default for Phone {
    fn default() -> Self {
        Phone {
            rate_hz: 60.0,
            shutter_s: 1.0 / 500.0,
            readout_s: 0.008,
            noise: 1.5,
        }
    }
}

impl Default for CameraPlace {
    fn default() -> Self {
        CameraPlace {
            distance_m: 4.0,
            height_m: 1.05,
            yaw_deg: 0.0,
            roll_deg: 0.0,
            fov_deg: 50.0,
            off_centre: 0.0,
        }
    }
}

impl Default for Sound {
    fn default() -> Self {
        Sound {
            strike: 0.6,
            noise: 0.004,
        }
    }
}
