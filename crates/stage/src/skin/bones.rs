//! How a shape's bones lie at rest, and what takes them to a pose.
//!
//! Joints of a pose are where the truth says; the flesh follows. A bone's flesh is made longer or shorter along
//! the bone, so that any shape fits the lengths of any player.

use super::shapes::{BONES, Joints, Weights};
use crate::pose::Pose;
use crate::skeleton::REFERENCE_STATURE_M;
use glam::{Affine3A, DVec3, Mat3, Quat, Vec3};

/// A bone's axes and origin, and its length along y where that is to fit.
#[derive(Clone, Copy, Debug)]
struct Bone {
    frame: Mat3,
    origin: Vec3,
    size: Vec3,
}

/// The bones of a shape at rest.
#[derive(Clone, Debug)]
pub struct Rest {
    stature_m: f32,
    joints: Joints,
    /// Base of the neck, where the stage has it.
    neck: Vec3,
    /// Middle of the head, where the stage has it.
    head: Vec3,
}

/// What takes each bone from rest to a pose, in the order of [`BONES`].
pub struct Bones([Affine3A; BONES.len()]);

impl Rest {
    /// Joints of a shape in metres, as tall as the player.
    ///
    /// The mesh's bones lie in the middle of the thighs; the hip joint's centre lies nearer to the middle: half
    /// the centres' distance is 0.33 times the pelvis' width and 7 mm (M. E. Harrington et al., J. Biomech. 40,
    /// 2007), 87 mm of the base mesh's 112.
    pub fn of(joints: &Joints, stature_m: f32) -> Rest {
        const HIPS: f32 = 0.78;
        let mut joints = *joints;
        let middle = 0.5 * (joints.hip[0] + joints.hip[1]);
        joints.hip = joints.hip.map(|hip| middle + (hip - middle) * HIPS);
        let k = stature_m / REFERENCE_STATURE_M as f32;
        let off = |x: f32, y: f32, z: f32| Vec3::new(x, y, z) * k;
        let between = |pair: [Vec3; 2]| 0.5 * (pair[0] + pair[1]);
        Rest {
            stature_m,
            neck: between(joints.shoulder) + off(0.0, 0.010, 0.012),
            head: between(joints.eye) - off(0.0, 0.008, 0.080),
            joints,
        }
    }

    /// Stature over the reference.
    pub fn scale(&self) -> f32 {
        self.stature_m / REFERENCE_STATURE_M as f32
    }

    /// Joints.
    pub fn joints(&self) -> &Joints {
        &self.joints
    }

    /// Middle of the hips.
    pub fn hips(&self) -> Vec3 {
        0.5 * (self.joints.hip[0] + self.joints.hip[1])
    }

    /// Middle of the head, where the stage has it.
    pub fn head(&self) -> Vec3 {
        self.head
    }

    /// Base of the neck, where the stage has it.
    pub fn neck(&self) -> Vec3 {
        self.neck
    }

    /// The bones. `share`: how far up from the hips to the neck the waist's joint lies.
    fn bones(&self, share: f32) -> [Bone; BONES.len()] {
        let j = &self.joints;
        let hips = self.hips();
        let half = |pair: [Vec3; 2]| 0.5 * pair[0].distance(pair[1]);
        let trunk = self.neck.distance(hips);
        let level = |origin: Vec3, wide: f32| Bone {
            frame: Mat3::IDENTITY,
            origin,
            size: Vec3::new(wide, trunk, 1.0),
        };
        let chest = half(j.shoulder);
        let waist = 0.5 * (half(j.hip) + chest);
        let head = Bone {
            size: Vec3::ONE,
            ..level(self.head, 1.0)
        };
        Bones::in_order(
            [
                level(hips, half(j.hip)),
                level(hips.lerp(self.neck, share), waist),
                level(self.neck, chest),
                along(self.head, self.neck, Vec3::Z).at(self.neck),
                head,
            ],
            |i| {
                let bend = j.wrist[i] - j.shoulder[i];
                let upper = along(j.shoulder[i], j.elbow[i], bend);
                let forearm = along(j.elbow[i], j.wrist[i], j.shoulder[i] - j.elbow[i]);
                [
                    along(j.collar[i], j.shoulder[i], Vec3::Z).at(j.shoulder[i]),
                    upper,
                    upper,
                    forearm,
                    forearm,
                    Bone {
                        origin: j.wrist[i],
                        ..forearm
                    },
                    along(j.hip[i], j.knee[i], Vec3::Z),
                    along(j.knee[i], j.ankle[i], Vec3::Z),
                    Bone {
                        frame: Mat3::IDENTITY,
                        origin: j.ankle[i],
                        size: Vec3::ONE,
                    },
                ]
            },
        )
    }
}

impl Bones {
    /// The way from rest to a pose; index 0 of a pose's pairs, the lead side, is the left.
    pub fn bent(rest: &Rest, pose: &Pose) -> Bones {
        let v = |p: DVec3| p.as_vec3();
        let [pelvis, neck, waist] = [pose.pelvis, pose.neck, pose.waist].map(v);
        let trunk = {
            let lumbar = v(pose.lumbar);
            pelvis.distance(lumbar) + lumbar.distance(waist) + waist.distance(neck)
        };
        let share = 1.0 - waist.distance(neck) / trunk;
        let from = rest.bones(share);
        let half = |pair: [DVec3; 2]| 0.5 * pair[0].distance(pair[1]) as f32;
        let hips = half(pose.hip);
        // The girdle moves the shoulders; the chest is as wide as it was.
        let chest = from[2].size.x;
        let turned = |frame: glam::DMat3, origin: Vec3, wide: f32| Bone {
            frame: frame.as_mat3(),
            origin,
            size: Vec3::new(wide, trunk, 1.0),
        };
        let ahead = v(pose.chest_frame.z_axis + pose.head_frame.z_axis);
        let to = Bones::in_order(
            [
                turned(pose.pelvis_frame, pelvis, hips),
                turned(pose.waist_frame, waist, 0.5 * (hips + chest)),
                turned(pose.chest_frame, neck, chest),
                along(v(pose.head), neck, ahead).at(neck),
                Bone {
                    frame: pose.head_frame.as_mat3(),
                    origin: v(pose.head),
                    size: Vec3::ONE,
                },
            ],
            |i| {
                let [shoulder, elbow, wrist] =
                    [pose.shoulder[i], pose.elbow[i], pose.wrist[i]].map(v);
                let side = if i == 0 { 1.0 } else { -1.0 };
                let inner = v(pose.chest_frame * DVec3::new(0.022 * side, -0.022, 0.050))
                    * rest.scale()
                    + neck;
                // Where the elbow bends to; of a straight arm the thumb's side tells.
                let thumb = 0.12 * v(pose.hold[i].along) * elbow.distance(wrist);
                let upper = along(shoulder, elbow, wrist - shoulder + thumb);
                let forearm = along(elbow, wrist, shoulder - elbow + thumb);
                let ahead = v(pose.foot_frame[i].z_axis);
                [
                    along(inner, shoulder, v(pose.chest_frame.z_axis)).at(shoulder),
                    half_turned(
                        &from[bone("upper_arm", i)],
                        &upper,
                        pose.chest_frame.as_mat3(),
                    ),
                    upper,
                    forearm,
                    forearm,
                    Bone {
                        origin: wrist,
                        ..forearm
                    },
                    along(
                        v(pose.hip[i]),
                        v(pose.knee[i]),
                        ahead + v(pose.pelvis_frame.z_axis),
                    ),
                    along(v(pose.knee[i]), v(pose.ankle[i]), ahead),
                    Bone {
                        frame: pose.foot_frame[i].as_mat3(),
                        origin: v(pose.ankle[i]),
                        size: Vec3::ONE,
                    },
                ]
            },
        );
        Bones(std::array::from_fn(|i| {
            let (a, b) = (&from[i], &to[i]);
            let turn = b.frame * Mat3::from_diagonal(b.size / a.size) * a.frame.transpose();
            Affine3A::from_mat3_translation(turn, b.origin - turn * a.origin)
        }))
    }

    /// Points moved with the bones they hang on (linear blend skinning).
    pub fn skinned<'a>(&self, points: impl Iterator<Item = (&'a Vec3, &'a Weights)>) -> Vec<Vec3> {
        points
            .map(|(point, weights)| {
                let mut at = Vec3::ZERO;
                for (bone, share) in weights.bones.iter().zip(weights.shares) {
                    if share > 0 {
                        let moved = self.0[usize::from(*bone)].transform_point3(*point);
                        at += moved * (f32::from(share) / 255.0);
                    }
                }
                at
            })
            .collect()
    }

    /// Middle bones and those of each side, as [`BONES`] has them.
    fn in_order(middle: [Bone; 5], side: impl Fn(usize) -> [Bone; 9]) -> [Bone; BONES.len()] {
        let sides = [side(0), side(1)];
        std::array::from_fn(|i| match i.checked_sub(middle.len()) {
            None => middle[i],
            Some(i) => sides[i % 2][i / 2],
        })
    }
}

impl Bone {
    fn at(self, origin: Vec3) -> Bone {
        Bone { origin, ..self }
    }
}

/// Index of a sided bone; 0 is left.
fn bone(name: &str, side: usize) -> usize {
    let name = format!("{name}_{}", ["left", "right"][side]);
    BONES
        .iter()
        .position(|n| *n == name)
        .expect("a bone's name")
}

/// The bone from `a` to `b`: y back along it, z as nearly along the hint as that allows.
fn along(a: Vec3, b: Vec3, hint: Vec3) -> Bone {
    let y = (a - b).normalize();
    let x = y.cross(hint).normalize_or(y.any_orthonormal_vector());
    Bone {
        frame: Mat3::from_cols(x, y, x.cross(y)),
        origin: a,
        size: Vec3::new(1.0, a.distance(b), 1.0),
    }
}

/// The upper half of an upper arm takes half of its turn about itself: skin at the shoulder does not wring.
fn half_turned(rest: &Bone, whole: &Bone, chest: Mat3) -> Bone {
    let carried = Quat::from_mat3(&(chest * rest.frame));
    let swung = Quat::from_rotation_arc(carried * Vec3::Y, whole.frame.y_axis) * carried;
    let frame = Mat3::from_quat(swung.slerp(Quat::from_mat3(&whole.frame), 0.5));
    // Halfway lies on the arm's own axis but for rounding.
    let y = whole.frame.y_axis;
    let x = y.cross(frame.z_axis).normalize();
    Bone {
        frame: Mat3::from_cols(x, y, x.cross(y)),
        ..*whole
    }
}
