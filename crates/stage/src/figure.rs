//! The player's flesh, clothes and club around a pose, as distance fields.
//!
//! All sizes were set by eye for a stature of 1.78 m and scale with it; girth, muscle, belly, bust
//! and clothes change them. Nothing here moves a joint.

use crate::field::{Builder, Field, Material, PartId};
use crate::motion::BALL_RADIUS_M;
use crate::params::{
    Below, BodyParams, Clothes, Club, ClubKind, HairStyle, Hat, Sleeves, SwingParams,
};
use crate::pose::{ClubPose, Pose};
use crate::skeleton::REFERENCE_STATURE_M;
use crate::things::Thing;
use glam::{DMat3, DVec3, Mat3, Vec3};

/// Numbers of the parts that carry patterns, the same in every figure.
pub mod part {
    use crate::field::PartId;
    /// Head.
    pub const HEAD: PartId = 1;
    /// Chest.
    pub const CHEST: PartId = 2;
    /// Pelvis.
    pub const PELVIS: PartId = 3;
    /// Upper arms.
    pub const UPPER_ARM: [PartId; 2] = [4, 5];
    /// Forearms.
    pub const FOREARM: [PartId; 2] = [6, 7];
    /// Hands.
    pub const HAND: [PartId; 2] = [8, 9];
    /// Thighs.
    pub const THIGH: [PartId; 2] = [10, 11];
    /// Shanks.
    pub const SHANK: [PartId; 2] = [12, 13];
    /// Feet.
    pub const FOOT: [PartId; 2] = [14, 15];
    /// Waist.
    pub const WAIST: PartId = 16;
}

/// The clothed body, and things about it.
pub fn body_field(p: &SwingParams, pose: &Pose, things: &[Thing]) -> Field {
    let mut figure = Figure::new(p, pose);
    figure.legs();
    figure.trunk();
    figure.arms();
    figure.hands();
    figure.head();
    figure.feet();
    figure.among(things, pose)
}

/// Hands, shoes, hair and hat alone, of a body whose rest is skin, and things about it.
pub fn ends_field(p: &SwingParams, pose: &Pose, things: &[Thing]) -> Field {
    let mut figure = Figure::new(p, pose);
    figure.hands();
    figure.hair_and_hat();
    figure.feet();
    figure.among(things, pose)
}

/// The club if there is one, the ball at `ball`, and the tee.
pub fn club_field(
    p: &SwingParams,
    club: Option<&ClubPose>,
    ball: Option<DVec3>,
    tee: Option<DVec3>,
) -> Field {
    let mut b = Builder::new();
    if let Some(club) = club {
        add_club(&mut b, &p.club, club);
    }
    if let Some(ball) = ball {
        b.with(Material::Ball, 0.001, 0);
        let (c, r) = (ball.as_vec3(), BALL_RADIUS_M as f32);
        b.cone(c, c + Vec3::Y * 1e-4, r, r);
    }
    if let Some(tee) = tee {
        b.with(Material::Tee, 0.001, 0);
        let top = tee.as_vec3() - Vec3::Y * BALL_RADIUS_M as f32;
        b.cone(top.with_y(0.0), top, 0.0025, 0.0045);
    }
    b.build()
}

struct Figure<'a> {
    b: Builder,
    body: &'a BodyParams,
    clothes: &'a Clothes,
    pose: SinglePose,
    /// Stature over the reference.
    k: f32,
    girth: f32,
    muscle: f32,
}

/// The pose in single precision.
struct SinglePose {
    pelvis: Vec3,
    pelvis_frame: Mat3,
    lumbar: Vec3,
    waist: Vec3,
    waist_frame: Mat3,
    neck: Vec3,
    chest: Mat3,
    head: Vec3,
    head_frame: Mat3,
    shoulder: [Vec3; 2],
    elbow: [Vec3; 2],
    wrist: [Vec3; 2],
    grip: [Vec3; 2],
    hip: [Vec3; 2],
    knee: [Vec3; 2],
    ankle: [Vec3; 2],
    foot: [Mat3; 2],
    /// Along what each hand holds, and where its back looks.
    hold: [[Vec3; 2]; 2],
}

impl SinglePose {
    fn of(p: &Pose) -> SinglePose {
        let v = |a: [DVec3; 2]| a.map(|v| v.as_vec3());
        let m = |m: DMat3| m.as_mat3();
        SinglePose {
            pelvis: p.pelvis.as_vec3(),
            pelvis_frame: m(p.pelvis_frame),
            lumbar: p.lumbar.as_vec3(),
            waist: p.waist.as_vec3(),
            waist_frame: m(p.waist_frame),
            neck: p.neck.as_vec3(),
            chest: m(p.chest_frame),
            head: p.head.as_vec3(),
            head_frame: m(p.head_frame),
            shoulder: v(p.shoulder),
            elbow: v(p.elbow),
            wrist: v(p.wrist),
            grip: v(p.grip),
            hip: v(p.hip),
            knee: v(p.knee),
            ankle: v(p.ankle),
            foot: p.foot_frame.map(m),
            hold: p
                .hold
                .map(|hold| [hold.along, hold.back].map(|v| v.as_vec3())),
        }
    }
}

const SIDES: [(usize, f32); 2] = [(0, 1.0), (1, -1.0)];

impl<'a> Figure<'a> {
    fn new(p: &'a SwingParams, pose: &Pose) -> Figure<'a> {
        let pose = SinglePose::of(pose);
        let mut b = Builder::new();
        let mut add = |id: PartId, frame: Mat3, origin: Vec3| {
            let got = b.part(frame, origin);
            debug_assert_eq!(got, id, "parts are numbered in order");
        };
        let q = &pose;
        add(part::HEAD, q.head_frame, q.head);
        add(part::CHEST, q.chest, q.neck);
        add(part::PELVIS, q.pelvis_frame, q.pelvis);
        for (i, _) in SIDES {
            let hint = q.wrist[i] - q.shoulder[i] + Vec3::new(0.001, 0.002, 0.0);
            add(
                part::UPPER_ARM[i],
                bone(q.shoulder[i], q.elbow[i], hint),
                q.shoulder[i],
            );
        }
        for (i, _) in SIDES {
            let hint = q.shoulder[i] - q.elbow[i] + Vec3::new(0.001, 0.0, 0.003);
            add(
                part::FOREARM[i],
                bone(q.elbow[i], q.wrist[i], hint),
                q.elbow[i],
            );
        }
        for (i, _) in SIDES {
            add(
                part::HAND[i],
                bone(q.wrist[i], q.grip[i], q.hold[i][0]),
                q.wrist[i],
            );
        }
        for (i, _) in SIDES {
            let ahead = q.foot[i] * Vec3::Z + q.pelvis_frame * Vec3::Z;
            add(part::THIGH[i], bone(q.hip[i], q.knee[i], ahead), q.hip[i]);
        }
        for (i, _) in SIDES {
            add(
                part::SHANK[i],
                bone(q.knee[i], q.ankle[i], q.foot[i] * Vec3::Z),
                q.knee[i],
            );
        }
        for (i, _) in SIDES {
            add(part::FOOT[i], q.foot[i], q.ankle[i]);
        }
        add(part::WAIST, q.waist_frame, q.waist);
        Figure {
            b,
            body: &p.body,
            clothes: &p.clothes,
            k: (p.body.stature_m / REFERENCE_STATURE_M) as f32,
            girth: p.body.girth as f32,
            muscle: p.body.muscle as f32,
            pose,
        }
    }

    /// The finished shape, with things about it.
    fn among(mut self, things: &[Thing], pose: &Pose) -> Field {
        for thing in things {
            thing.add_to(&mut self.b, pose);
        }
        self.b.build()
    }

    fn legs(&mut self) {
        let k = self.k;
        let v = |x: f32, y: f32, z: f32| Vec3::new(x, y, z) * k;
        let flesh = self.body.hip_flesh as f32;
        let g = 0.5 * (self.girth + self.muscle);
        let loose = self.clothes.looseness as f32;
        let below = self.clothes.below;
        let q = &self.pose;
        let b = &mut self.b;
        let frame = q.pelvis_frame;
        let wide = self.girth.sqrt() * flesh;

        b.with(Material::Below, 0.06 * k, part::PELVIS);
        b.ellipsoid(
            q.pelvis + frame * v(0.0, 0.012, -0.006),
            frame,
            v(0.168 * wide, 0.125, 0.116 * self.girth.sqrt()),
        );
        for (_, s) in SIDES {
            b.ellipsoid(
                q.pelvis + frame * v(0.073 * s * flesh, -0.025, -0.056),
                frame,
                v(0.094 * flesh, 0.100, 0.086 * flesh),
            );
        }
        b.oval_cone(
            q.pelvis,
            frame,
            [v(0.0, 0.0, 0.0), v(0.0, 0.078, 0.004)],
            [0.157 * k * wide, 0.145 * k * self.girth],
            0.74,
        );
        let covered = match below {
            Below::Trousers => Material::Below,
            Below::Shorts | Below::Skirt => Material::Skin,
        };
        for (i, s) in SIDES {
            let (hip, knee, ankle) = (q.hip[i], q.knee[i], q.ankle[i]);
            let thigh = bone(hip, knee, q.foot[i] * Vec3::Z + frame * Vec3::Z);
            let shank = bone(knee, ankle, q.foot[i] * Vec3::Z);
            let on = |t: f32| hip.lerp(knee, t);
            let down = |t: f32| knee.lerp(ankle, t);
            let top = hip + frame * v(0.012 * s * flesh, -0.004, -0.010);
            // Thigh: trousers or, under shorts and skirt, skin from half way down.
            let bare = below != Below::Trousers;
            let cloth = if bare {
                0.006 + 0.010 * loose
            } else {
                0.002 + 0.006 * loose
            };
            b.with(Material::Below, 0.055 * k, part::THIGH[i]);
            if below == Below::Skirt {
                // A short skirt over shorts: wide legs that meet in the middle.
                b.with(Material::Below, 0.11 * k, part::PELVIS);
                b.cone(
                    top,
                    on(0.44),
                    (0.102 * g + cloth) * k,
                    (0.104 * g + cloth) * k,
                );
            } else {
                b.cone(
                    top,
                    on(0.55),
                    (0.095 * g + cloth) * k,
                    (0.079 * g + cloth) * k,
                );
                b.ellipsoid(
                    on(0.36) + thigh * v(0.004 * s, 0.0, 0.020),
                    thigh,
                    v(0.074 * g + cloth, 0.165, 0.074 * g + cloth),
                );
            }
            match below {
                Below::Trousers => {
                    b.cone(
                        on(0.5),
                        knee,
                        (0.079 * g + cloth) * k,
                        (0.059 * g + 1.5 * cloth) * k,
                    );
                }
                Below::Shorts => {
                    b.cone(
                        on(0.5),
                        on(0.84),
                        (0.080 * g + cloth) * k,
                        (0.074 * g + cloth) * k,
                    );
                }
                Below::Skirt => {}
            }
            if bare {
                b.with(Material::Skin, 0.04 * k, part::THIGH[i]);
                b.cone(on(0.35), knee, 0.078 * g * k, 0.054 * g * k);
                b.ellipsoid(
                    on(0.55) + thigh * v(0.004 * s, 0.0, 0.018),
                    thigh,
                    v(0.066 * g, 0.13, 0.064 * g),
                );
                b.ellipsoid(
                    knee + shank * v(0.0, 0.004, 0.022),
                    shank,
                    v(0.040, 0.048, 0.034),
                );
            }
            b.with(covered, 0.04 * k, part::SHANK[i]);
            let c = if bare { 0.0 } else { 0.003 + 0.010 * loose };
            b.cone(
                knee + shank * v(0.0, 0.0, 0.006),
                down(0.5),
                (0.055 * g + c) * k,
                (0.049 * g + c) * k,
            );
            b.ellipsoid(
                down(0.30) + shank * v(0.0, 0.0, -0.019),
                shank,
                v(0.053 * g + 0.6 * c, 0.125, 0.055 * g + 0.6 * c),
            );
            if bare {
                b.cone(down(0.45), down(0.98), 0.046 * g * k, 0.033 * k);
                b.with(Material::Sock, 0.01 * k, part::SHANK[i]);
                b.cone(down(0.84), ankle, 0.038 * k, 0.041 * k);
            } else {
                b.cone(
                    down(0.4),
                    down(0.93),
                    (0.050 * g + c) * k,
                    (0.043 + 1.4 * c) * k,
                );
                // The hem breaks over the shoe.
                b.cone(
                    down(0.90),
                    down(0.97) + shank * v(0.0, 0.0, 0.006),
                    (0.044 + 1.4 * c) * k,
                    (0.047 + 1.4 * c) * k,
                );
            }
        }
        if below != Below::Skirt {
            b.with(Material::Belt, 0.008 * k, part::PELVIS);
            let r = 0.1505 * k * self.girth + 0.004;
            b.oval_cone(
                q.pelvis,
                frame,
                [v(0.0, 0.072, 0.003), v(0.0, 0.088, 0.004)],
                [r, r],
                0.755,
            );
        }
    }

    fn trunk(&mut self) {
        let k = self.k;
        let v = |x: f32, y: f32, z: f32| Vec3::new(x, y, z) * k;
        let g = self.girth;
        let belly = self.body.belly as f32;
        let bust = self.body.bust as f32;
        let loose = self.clothes.looseness as f32;
        let wide = self.body.shoulder_ratio as f32;
        let q = &self.pose;
        let b = &mut self.b;
        let chest = q.chest;
        // The waist is a little slimmer than the ribs on a slim body, not on a heavy one.
        let waist = 0.138 * g + 0.006 * loose;

        b.with(Material::Shirt, 0.075 * k, part::WAIST);
        b.oval_cone(
            q.lumbar,
            q.pelvis_frame,
            [v(0.0, -0.012, 0.008), v(0.0, 0.05, 0.010)],
            [(0.146 * g + 0.008 * loose) * k, waist * k],
            0.77,
        );
        b.oval_cone(
            q.waist,
            q.waist_frame,
            [v(0.0, -0.12, 0.006), v(0.0, 0.0, 0.004)],
            [waist * k, (0.147 * g.sqrt() + 0.006 * loose) * k],
            0.75,
        );
        if belly > 0.0 {
            b.ellipsoid(
                q.waist + q.waist_frame * v(0.0, -0.085, 0.055 + 0.035 * belly),
                q.waist_frame,
                v(0.105 + 0.03 * belly, 0.115, 0.060 + 0.060 * belly),
            );
        }
        b.with(Material::Shirt, 0.07 * k, part::CHEST);
        b.oval_cone(
            q.neck,
            chest,
            [v(0.0, -0.27, 0.006), v(0.0, -0.12, 0.004)],
            [(0.143 * g.sqrt() + 0.006 * loose) * k, 0.163 * k * wide],
            0.70,
        );
        b.ellipsoid(
            q.neck + chest * v(0.0, -0.12, -0.024),
            chest,
            v(0.158 * wide, 0.135, 0.098 * g.sqrt()),
        );
        for (_, s) in SIDES {
            // Chest muscle, shoulder blade, bust.
            b.ellipsoid(
                q.neck + chest * v(0.075 * s, -0.125, 0.060),
                chest,
                v(0.084, 0.070, 0.056 * self.muscle),
            );
            b.ellipsoid(
                q.neck + chest * v(0.085 * s * wide, -0.10, -0.078),
                chest,
                v(0.070, 0.085, 0.036),
            );
            if bust > 0.0 {
                b.ellipsoid(
                    q.neck + chest * v(0.070 * s, -0.165, 0.088 + 0.018 * bust),
                    chest,
                    v(0.066, 0.064, 0.030 + 0.036 * bust),
                );
            }
        }
        b.with(Material::Shirt, 0.012 * k, part::CHEST);
        b.oval_cone(
            q.neck,
            chest,
            [v(0.0, 0.030, 0.004), v(0.0, 0.056, 0.012)],
            [0.073 * k, 0.066 * k],
            0.92,
        );
    }

    fn arms(&mut self) {
        let k = self.k;
        let v = |x: f32, y: f32, z: f32| Vec3::new(x, y, z) * k;
        let m = self.muscle * (0.7 + 0.3 * self.girth);
        let loose = self.clothes.looseness as f32;
        let wide = self.body.shoulder_ratio as f32;
        let sleeves = self.clothes.sleeves;
        let q = &self.pose;
        let b = &mut self.b;
        let chest = q.chest;
        for (i, s) in SIDES {
            let (shoulder, elbow, wrist) = (q.shoulder[i], q.elbow[i], q.wrist[i]);
            let upper = bone(
                shoulder,
                elbow,
                wrist - shoulder + Vec3::new(0.001, 0.002, 0.0),
            );
            let on = |t: f32| shoulder.lerp(elbow, t);
            let down = |t: f32| elbow.lerp(wrist, t);
            // Shoulder line and armpit, carried by the chest.
            b.with(Material::Shirt, 0.055 * k, part::CHEST);
            b.cone(
                q.neck + chest * v(0.045 * s, 0.018, -0.022),
                shoulder + chest * v(-0.008 * s, 0.018, -0.004),
                0.050 * k,
                0.043 * k,
            );
            b.cone(
                q.neck + chest * v(0.105 * s * wide, -0.11, -0.012),
                shoulder,
                0.078 * k * self.girth.sqrt(),
                0.055 * k,
            );
            let deltoid = [0.058, 0.056, 0.053].map(|r| r * m * k);
            if sleeves == Sleeves::None {
                // The shirt ends in a cap over the shoulder, clear of the skin beneath.
                b.with(Material::Shirt, 0.045 * k, part::UPPER_ARM[i]);
                b.cone(
                    shoulder,
                    on(0.10),
                    deltoid[0] + 0.004 * k,
                    deltoid[0] * 0.98 + 0.004 * k,
                );
                b.with(Material::Skin, 0.04 * k, part::UPPER_ARM[i]);
                b.cone(on(0.10), on(0.36), deltoid[0] * 0.93, 0.047 * m * k);
            } else {
                let c = (0.003 + 0.009 * loose) * k;
                let end = if sleeves == Sleeves::Long { 1.0 } else { 0.60 };
                b.with(Material::Shirt, 0.045 * k, part::UPPER_ARM[i]);
                b.cone(
                    shoulder + upper * v(0.0, 0.004, 0.0),
                    on(0.30),
                    deltoid[0] + c,
                    deltoid[1] + c,
                );
                let hem = if sleeves == Sleeves::Long {
                    0.040 * m * k + c
                } else {
                    deltoid[2] + 1.6 * c
                };
                b.cone(on(0.28), on(end), deltoid[1] + c, hem);
            }
            if sleeves != Sleeves::Long {
                b.with(Material::Skin, 0.03 * k, part::UPPER_ARM[i]);
                b.cone(on(0.30), on(0.62), 0.046 * m * k, 0.044 * m * k);
                let biceps = v(0.042 * m, 0.075, 0.044 * m);
                b.ellipsoid(on(0.52) + upper * v(0.0, 0.0, 0.010), upper, biceps);
                b.cone(on(0.6), elbow, 0.043 * m * k, 0.036 * m * k);
            }
            let material = if sleeves == Sleeves::Long {
                Material::Shirt
            } else {
                Material::Skin
            };
            let c = if sleeves == Sleeves::Long {
                (0.003 + 0.007 * loose) * k
            } else {
                0.0
            };
            b.with(material, 0.03 * k, part::FOREARM[i]);
            b.cone(elbow, down(0.30), 0.037 * m * k + c, 0.042 * m * k + c);
            b.cone(down(0.28), down(0.9), 0.042 * m * k + c, 0.0275 * k + c);
            b.with(Material::Skin, 0.02 * k, part::FOREARM[i]);
            b.ellipsoid(
                wrist,
                bone(elbow, wrist, q.hold[i][0]),
                v(0.023, 0.036, 0.029),
            );
        }
    }

    fn hands(&mut self) {
        let k = self.k;
        let v = |x: f32, y: f32, z: f32| Vec3::new(x, y, z) * k;
        let q = &self.pose;
        let b = &mut self.b;
        for (i, _) in SIDES {
            let [shaft, back] = q.hold[i];
            let material = if i == 0 && self.clothes.glove {
                Material::Glove
            } else {
                Material::Skin
            };
            let (grip, wrist) = (q.grip[i], q.wrist[i]);
            let toward = (wrist - grip).normalize();
            let radial = (toward - shaft * toward.dot(shaft)).normalize();
            let back = (back - radial * back.dot(radial)).normalize();
            let knuckles = grip + (radial * 0.012 + back * 0.026) * k;
            let y = (wrist - knuckles).normalize();
            let z = (back - y * back.dot(y)).normalize();
            let palm = Mat3::from_cols(y.cross(z), y, z);
            b.with(material, 0.016 * k, part::HAND[i]);
            b.rounded_box(
                wrist.lerp(knuckles, 0.56),
                palm,
                v(0.028, 0.030, 0.007),
                0.012 * k,
            );
            b.ellipsoid(
                wrist.lerp(knuckles, 0.5) + (shaft * 0.012 - back * 0.012) * k,
                palm,
                v(0.022, 0.036, 0.020),
            );
            b.cone(wrist, wrist.lerp(knuckles, 0.35), 0.026 * k, 0.029 * k);
            b.with(material, 0.006 * k, part::HAND[i]);
            for (j, radius) in [0.0088f32, 0.0100, 0.0104, 0.0098].into_iter().enumerate() {
                let along = shaft * ((j as f32 - 1.5) * 0.0195 * k);
                let r = radius * k;
                let joints = [
                    knuckles + along,
                    grip + along + (back * 0.017 - radial * 0.022) * k,
                    grip + along - (back * 0.014 + radial * 0.020) * k,
                    grip + along + (radial * 0.004 - back * 0.021) * k,
                ];
                b.cone(joints[0], joints[1], r * 1.1, r);
                b.cone(joints[1], joints[2], r, r * 0.95);
                b.cone(joints[2], joints[3], r * 0.95, r * 0.85);
            }
            let thumb = [
                wrist.lerp(grip, 0.45) + (shaft * 0.012 - back * 0.016) * k,
                grip + (shaft * 0.028 - back * 0.012 + radial * 0.018) * k,
                grip + (shaft * 0.056 - back * 0.002 + radial * 0.019) * k,
            ];
            b.cone(thumb[0], thumb[1], 0.015 * k, 0.011 * k);
            b.cone(thumb[1], thumb[2], 0.011 * k, 0.009 * k);
        }
    }

    fn head(&mut self) {
        let k = self.k;
        let v = |x: f32, y: f32, z: f32| Vec3::new(x, y, z) * k;
        let q = &self.pose;
        let b = &mut self.b;
        let m = q.head_frame;
        let h = |x: f32, y: f32, z: f32| q.head + m * v(x, y, z);
        let jaw = 0.93 + 0.07 * self.muscle;
        b.with(Material::Skin, 0.035 * k, part::HEAD);
        let nape = 0.054 * k * (0.75 + 0.25 * self.girth) * self.muscle.sqrt();
        b.cone(
            q.neck + q.chest * v(0.0, -0.01, -0.006),
            h(0.0, -0.060, -0.026),
            nape * 1.06,
            nape * 0.98,
        );
        b.ellipsoid(h(0.0, 0.030, -0.012), m, v(0.075, 0.088, 0.096));
        b.ellipsoid(h(0.0, -0.035, 0.022), m, v(0.059, 0.080, 0.065));
        for (_, s) in SIDES {
            b.cone(
                h(0.030 * s * jaw, -0.072, 0.020),
                h(0.006 * s, -0.100, 0.064),
                0.026 * k * jaw,
                0.018 * k * jaw,
            );
        }
        b.with(Material::Skin, 0.018 * k, part::HEAD);
        b.cone(
            h(0.0, 0.016, 0.085),
            h(0.0, -0.026, 0.101),
            0.008 * k,
            0.012 * k,
        );
        b.ellipsoid(h(0.0, -0.030, 0.093), m, v(0.017, 0.010, 0.014));
        for (_, s) in SIDES {
            b.cone(
                h(0.038 * s, 0.026, 0.073),
                h(0.010 * s, 0.024, 0.085),
                0.010 * k,
                0.010 * k,
            );
            b.ellipsoid(h(0.036 * s, -0.030, 0.061), m, v(0.024, 0.022, 0.020));
        }
        b.ellipsoid(h(0.0, -0.062, 0.083), m, v(0.026, 0.012, 0.012));
        b.with(Material::Skin, 0.01 * k, part::HEAD);
        for (_, s) in SIDES {
            let ear = m * Mat3::from_rotation_y(0.35 * s);
            b.ellipsoid(h(0.075 * s, -0.004, -0.006), ear, v(0.009, 0.031, 0.019));
        }
        self.hair_and_hat();
    }

    fn hair_and_hat(&mut self) {
        let k = self.k;
        let v = |x: f32, y: f32, z: f32| Vec3::new(x, y, z) * k;
        let q = &self.pose;
        let b = &mut self.b;
        let m = q.head_frame;
        let h = |x: f32, y: f32, z: f32| q.head + m * v(x, y, z);
        b.with(Material::Hair, 0.02 * k, part::HEAD);
        let style = self.body.hair_style;
        if style != HairStyle::Bald {
            b.ellipsoid(h(0.0, 0.020, -0.027), m, v(0.0785, 0.087, 0.087));
            for (_, s) in SIDES {
                b.ellipsoid(h(0.068 * s, 0.012, 0.024), m, v(0.010, 0.032, 0.014));
            }
            if self.clothes.hat != Hat::Cap {
                b.ellipsoid(h(0.0, 0.052, -0.008), m, v(0.0805, 0.079, 0.098));
            }
        }
        // Hair that hangs follows gravity and the chest, not the head alone.
        let down =
            (Vec3::NEG_Y * 0.7 - q.chest * Vec3::Y * 0.6 - q.chest * Vec3::Z * 0.25).normalize();
        match style {
            HairStyle::Long => {
                let nape = h(0.0, -0.01, -0.075);
                b.cone(nape, nape + down * 0.13 * k, 0.056 * k, 0.044 * k);
            }
            HairStyle::Ponytail => {
                let knot = h(0.0, 0.030, -0.108);
                let bend = knot + (down * 0.5 - m * Vec3::Z).normalize() * 0.045 * k;
                b.cone(knot, bend, 0.019 * k, 0.026 * k);
                b.cone(bend, bend + down * 0.15 * k, 0.027 * k, 0.010 * k);
            }
            HairStyle::Bald | HairStyle::Short => {}
        }
        b.with(Material::Hat, 0.014 * k, part::HEAD);
        let peak = m * Mat3::from_rotation_x(0.16);
        match self.clothes.hat {
            Hat::Cap => {
                b.ellipsoid(h(0.0, 0.056, -0.012), m, v(0.0835, 0.075, 0.102));
                b.ellipsoid(h(0.0, 0.052, 0.112), peak, v(0.070, 0.0075, 0.068));
                b.cone(
                    h(0.0, 0.132, -0.012),
                    h(0.0, 0.134, -0.012),
                    0.006 * k,
                    0.006 * k,
                );
            }
            Hat::Visor => {
                b.ellipsoid(h(0.0, 0.052, -0.010), m, v(0.0835, 0.024, 0.1025));
                b.ellipsoid(h(0.0, 0.050, 0.112), peak, v(0.070, 0.0075, 0.068));
            }
            Hat::None => {}
        }
    }

    fn feet(&mut self) {
        let k = self.k;
        let v = |x: f32, y: f32, z: f32| Vec3::new(x, y, z) * k;
        let q = &self.pose;
        let b = &mut self.b;
        for (i, s) in SIDES {
            let f = q.foot[i];
            let o = |x: f32, y: f32, z: f32| q.ankle[i] + f * v(x, y, z);
            b.with(Material::Shoe, 0.035 * k, part::FOOT[i]);
            b.cone(
                o(0.0, -0.036, -0.042),
                o(0.004 * s, -0.046, 0.06),
                0.035 * k,
                0.039 * k,
            );
            b.ellipsoid(o(0.006 * s, -0.056, 0.12), f, v(0.046, 0.031, 0.083));
            b.cone(
                o(0.0, -0.008, -0.006),
                o(0.0, -0.036, -0.012),
                0.039 * k,
                0.041 * k,
            );
            b.cone(
                o(0.0, -0.014, 0.02),
                o(0.004 * s, -0.042, 0.09),
                0.035 * k,
                0.033 * k,
            );
            b.with(Material::Sole, 0.012 * k, part::FOOT[i]);
            b.rounded_box(
                o(0.0, -0.0795, -0.030),
                f,
                v(0.025, 0.002, 0.036),
                0.010 * k,
            );
            b.rounded_box(
                o(0.004 * s, -0.0795, 0.100),
                f,
                v(0.033, 0.002, 0.076),
                0.010 * k,
            );
        }
    }
}

fn add_club(b: &mut Builder, made: &Club, club: &ClubPose) {
    let (butt, hosel) = (club.butt.as_vec3(), club.hosel.as_vec3());
    let (shaft, face, toe) = (
        club.shaft.as_vec3(),
        club.face.as_vec3(),
        club.toe.as_vec3(),
    );
    let thick = made.look.shaft_ratio as f32;
    b.with(Material::Steel, 0.002, 0);
    b.cone(butt + shaft * 0.26, hosel, 0.0070 * thick, 0.0046 * thick);
    b.with(Material::Rubber, 0.002, 0);
    b.cone(butt, butt + shaft * 0.27, 0.0135, 0.0092);
    b.with(Material::Head, 0.008, 0);
    let up = -shaft;
    let up = (up - toe * up.dot(toe)).normalize();
    let normal = up.cross(toe).normalize();
    let sense = if normal.dot(face) > 0.0 { 1.0 } else { -1.0 };
    let head = club.head.as_vec3();
    let size = made.look.head_ratio as f32;
    let v = |x: f32, y: f32, z: f32| Vec3::new(x, y, z) * size;
    match made.kind {
        ClubKind::Iron => {
            let loft_rad = made.loft_deg.to_radians() as f32;
            let loft = Mat3::from_axis_angle(toe, -sense * loft_rad);
            let frame = Mat3::from_cols(toe, loft * up, loft * normal);
            b.cone(hosel - shaft * 0.05, hosel + shaft * 0.006, 0.0062, 0.0075);
            b.rounded_box(head, frame, v(0.030, 0.017, 0.0035), 0.005);
            b.rounded_box(
                head + toe * (0.016 * size) + up * (0.006 * size),
                frame,
                v(0.014, 0.020, 0.0032),
                0.005,
            );
            b.ellipsoid(
                head - up * (0.017 * size) + toe * (0.004 * size),
                frame,
                v(0.037, 0.009, 0.011),
            );
        }
        ClubKind::Driver => {
            let frame = Mat3::from_cols(toe, up, normal * sense);
            b.cone(hosel - shaft * 0.02, hosel + shaft * 0.02, 0.0065, 0.010);
            b.ellipsoid(head - face * (0.006 * size), frame, v(0.056, 0.029, 0.052));
            b.rounded_box(
                head + face * (0.030 * size),
                frame,
                v(0.036, 0.016, 0.006),
                0.010,
            );
        }
    }
}

/// The frame of a bone from `a` to `b`: y back along it, z as nearly along the hint as that allows.
fn bone(a: Vec3, b: Vec3, hint: Vec3) -> Mat3 {
    let y = (a - b).normalize();
    let x = y.cross(hint).normalize();
    Mat3::from_cols(x, y, x.cross(y))
}
