//! The shapes of people: a mean and its components, read once.
//!
//! `data/bodies.bin.gz` is made by `training/bodies.py` from the MakeHuman community's base mesh and
//! targets (CC0 1.0); the file's layout stands there. Everybody is 1 m tall in it.

use flate2::read::GzDecoder;
use glam::Vec3;
use serde::Deserialize;
use std::io::Read;
use std::sync::LazyLock;

static FILE: &[u8] = include_bytes!("../../data/bodies.bin.gz");

/// How many people there are shapes of.
pub const SHAPES: u32 = 3000;
/// The first of those that no network is taught.
pub const HELD_OUT: u32 = 2700;

static SPACE: LazyLock<Space> = LazyLock::new(Space::read);

/// Bones that a vertex may hang on, in the order of the file.
pub const BONES: [&str; 23] = [
    "pelvis",
    "waist",
    "chest",
    "neck",
    "head",
    "collar_left",
    "collar_right",
    "upper_arm_left",
    "upper_arm_right",
    "upper_arm_low_left",
    "upper_arm_low_right",
    "forearm_left",
    "forearm_right",
    "forearm_low_left",
    "forearm_low_right",
    "hand_left",
    "hand_right",
    "thigh_left",
    "thigh_right",
    "shank_left",
    "shank_right",
    "foot_left",
    "foot_right",
];
/// Joints after the vertices, in the order of the file; sided ones left before right.
const JOINTS: usize = 18;

#[derive(Deserialize)]
struct Header {
    vertices: usize,
    faces: usize,
    bones: Vec<String>,
    joints: Vec<String>,
    components: usize,
    shapes: usize,
}

/// Up to four bones and their shares, of 255.
#[derive(Clone, Copy, Debug)]
pub struct Weights {
    /// Indices into [`BONES`], the strongest first.
    pub bones: [u8; 4],
    /// Their shares.
    pub shares: [u8; 4],
}

/// All shapes.
struct Space {
    faces: Vec<[u16; 3]>,
    weights: Vec<Weights>,
    mean: Vec<Vec3>,
    /// Points one after the other within a component.
    components: Vec<Vec<Vec3>>,
    scores: Vec<Vec<f32>>,
}

/// One person's shape at rest: arms away from the body, looking ahead (z), left side toward x; m, 1 m tall.
pub struct Shape {
    /// Vertices.
    pub points: Vec<Vec3>,
    /// Joints.
    pub joints: Joints,
}

/// Joint places of a shape, left before right. They are those of the mesh's own bones.
#[derive(Clone, Copy, Debug)]
pub struct Joints {
    pub eye: [Vec3; 2],
    pub collar: [Vec3; 2],
    pub shoulder: [Vec3; 2],
    pub elbow: [Vec3; 2],
    pub wrist: [Vec3; 2],
    pub hip: [Vec3; 2],
    pub knee: [Vec3; 2],
    pub ankle: [Vec3; 2],
}

impl Joints {
    /// The same of a body so many times as tall.
    pub fn times(&self, factor: f32) -> Joints {
        let larger = |pair: [Vec3; 2]| pair.map(|at| at * factor);
        Joints {
            eye: larger(self.eye),
            collar: larger(self.collar),
            shoulder: larger(self.shoulder),
            elbow: larger(self.elbow),
            wrist: larger(self.wrist),
            hip: larger(self.hip),
            knee: larger(self.knee),
            ankle: larger(self.ankle),
        }
    }
}

impl Weights {
    /// The bone that the vertex hangs on most, without its side, and the side: 0 is left, or the middle.
    pub fn main_bone(&self) -> (&'static str, usize) {
        let name = BONES[usize::from(self.bones[0])];
        match (name.strip_suffix("_left"), name.strip_suffix("_right")) {
            (Some(name), _) => (name, 0),
            (_, Some(name)) => (name, 1),
            _ => (name, 0),
        }
    }
}

impl Shape {
    /// A person's shape, by number; numbers go round after [`SHAPES`].
    pub fn of(number: u32) -> Shape {
        let space = &*SPACE;
        let mut points = space.mean.clone();
        let scores = &space.scores[(number % SHAPES) as usize];
        for (component, score) in space.components.iter().zip(scores) {
            for (point, way) in points.iter_mut().zip(component) {
                *point += *way * *score;
            }
        }
        let joints = points.split_off(space.weights.len());
        let pair = |i: usize| [joints[2 * i], joints[2 * i + 1]];
        Shape {
            joints: Joints {
                eye: pair(0),
                collar: pair(1),
                shoulder: pair(2),
                elbow: pair(3),
                wrist: pair(4),
                hip: pair(5),
                knee: pair(6),
                ankle: pair(7),
            },
            points,
        }
    }

    /// Corners of every triangle.
    pub fn faces() -> &'static [[u16; 3]] {
        &SPACE.faces
    }

    /// What each vertex hangs on.
    pub fn weights() -> &'static [Weights] {
        &SPACE.weights
    }
}

impl Space {
    fn read() -> Space {
        let mut bytes = Vec::new();
        GzDecoder::new(FILE)
            .read_to_end(&mut bytes)
            .expect("the file is our own");
        let mut rest = bytes.as_slice();
        let mut take = |count: usize| {
            let (head, tail) = rest.split_at(count);
            rest = tail;
            head
        };
        let length = u32::from_le_bytes(take(4).try_into().expect("four bytes"));
        let header: Header =
            serde_json::from_slice(take(length as usize)).expect("the header is our own");
        assert_eq!(header.bones, BONES);
        assert_eq!(header.joints.len(), JOINTS);
        assert_eq!(header.shapes, SHAPES as usize);
        let points = header.vertices + JOINTS;
        let faces = take(6 * header.faces)
            .chunks_exact(6)
            .map(|f| [0, 2, 4].map(|i| u16::from_le_bytes([f[i], f[i + 1]])))
            .collect();
        let bones = take(4 * header.vertices);
        let shares = take(4 * header.vertices);
        let four = |of: &[u8]| [of[0], of[1], of[2], of[3]];
        let weights = bones
            .chunks_exact(4)
            .zip(shares.chunks_exact(4))
            .map(|(bones, shares)| Weights {
                bones: four(bones),
                shares: four(shares),
            })
            .collect();
        let floats = |of: &[u8]| -> Vec<f32> {
            of.chunks_exact(4)
                .map(|b| f32::from_le_bytes(four(b)))
                .collect()
        };
        let places = |of: &[f32]| of.chunks_exact(3).map(Vec3::from_slice).collect();
        let mean = places(&floats(take(12 * points)));
        let scales = floats(take(4 * header.components));
        let components = scales
            .iter()
            .map(|scale| {
                let values: Vec<f32> = take(6 * points)
                    .chunks_exact(2)
                    .map(|b| f32::from(i16::from_le_bytes([b[0], b[1]])) * scale)
                    .collect();
                places(&values)
            })
            .collect();
        let scores = floats(take(4 * header.components * header.shapes))
            .chunks_exact(header.components)
            .map(<[f32]>::to_vec)
            .collect();
        Space {
            faces,
            weights,
            mean,
            components,
            scores,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Shares of the stature after Drillis and Contini (1966), as printed in D. A. Winter, *Biomechanics and Motor
    /// Control of Human Movement*: shank 0.246 of a leg's 0.491, biacromial breadth 0.259 (joint centres lie
    /// nearer together than the bones' points).
    #[test]
    fn people_are_built_as_people_are() {
        let people: Vec<Shape> = (0..SHAPES).step_by(29).map(Shape::of).collect();
        let mean =
            |of: &dyn Fn(&Shape) -> f32| people.iter().map(of).sum::<f32>() / people.len() as f32;
        let shank = mean(&|Shape { joints: j, .. }| {
            (j.knee[0].y - j.ankle[0].y) / (j.hip[0].y - j.ankle[0].y)
        });
        assert!(
            (shank - 0.246 / 0.491).abs() < 0.03,
            "shank {shank} of the leg"
        );
        let shoulders = mean(&|Shape { joints: j, .. }| j.shoulder[0].distance(j.shoulder[1]));
        assert!((0.18..0.259).contains(&shoulders), "shoulders {shoulders}");
        for Shape { points, joints: j } in &people {
            let tall = points.iter().map(|p| p.y).fold(f32::MIN, f32::max);
            let heights = [
                tall,
                j.eye[0].y,
                j.shoulder[0].y,
                j.hip[0].y,
                j.knee[0].y,
                j.ankle[0].y,
            ];
            assert!(heights.is_sorted_by(|a, b| a > b), "{heights:?}");
            for [left, right] in [j.hip, j.knee, j.shoulder, j.wrist] {
                assert!(
                    left.x > 0.0 && (left.x + right.x).abs() < 0.01,
                    "{left} {right}"
                );
            }
        }
    }
}
