//! A body with a skin: the shape of a person, dressed, around a pose.
//!
//! The figure of [`crate::figure`] melts simple solids together; it is quick to draw and to dress, and its
//! builds differ little. Here the trunk, the limbs and the head are a mesh of triangles taken from a space of
//! human shapes (`shapes`), clothed (`dressed`), and bent with the bones of a pose (`bones`). Hands,
//! shoes, hair and hat stay solids. A ray finds the mesh through a tree of boxes (`tree`).

mod bones;
mod dressed;
mod shapes;
mod tree;

pub use dressed::Dressed;
pub use shapes::{HELD_OUT, SHAPES};

use crate::field::Hit;
use crate::pose::Pose;
use bones::Bones;
use glam::Vec3;
use std::sync::Arc;
use tree::{Boxes, Met};

/// The mesh of a dressed body in one pose.
#[derive(Clone, Debug)]
pub struct Skin {
    of: Arc<Dressed>,
    points: Vec<Vec3>,
    normals: Vec<Vec3>,
    boxes: Boxes,
}

impl Skin {
    /// A dressed body in a pose.
    pub fn around(of: Arc<Dressed>, pose: &Pose) -> Skin {
        let mut points = Bones::bent(&of.rest, pose).skinned(of.points.iter().zip(of.weights));
        of.hang(&mut points);
        let normals = normals(&points, of.faces);
        let boxes = of.tree.around(&points, of.faces);
        Skin {
            of,
            points,
            normals,
            boxes,
        }
    }

    /// The first point of a ray on the mesh, nearer than `within` (m).
    pub fn hit(&self, origin: Vec3, ray: Vec3, within: f32) -> Option<Hit> {
        let met = self.first(origin, ray, within)?;
        let corners = self.of.faces[met.face].map(usize::from);
        let [u, v] = met.at;
        let shares = [1.0 - u - v, u, v];
        let normal = (0..3)
            .map(|i| self.normals[corners[i]] * shares[i])
            .sum::<Vec3>();
        // A ray from inside (between cloth and hand) sees the surface's back.
        let facing = if normal.dot(ray) > 0.0 {
            -normal
        } else {
            normal
        };
        let nearest = (0..3).max_by(|&a, &b| shares[a].total_cmp(&shares[b]));
        let (material, part) = self.of.surface[corners[nearest.unwrap_or(0)]];
        Some(Hit {
            depth: met.depth,
            at: origin + ray * met.depth,
            normal: facing.normalize_or(-ray),
            material,
            part,
        })
    }

    /// How much of a light's soft disc is seen from a point, as [`crate::field::Field::light`].
    pub fn light(&self, origin: Vec3, toward: Vec3, spread: f32) -> f32 {
        const FAR_M: f32 = 4.0;
        const RAYS: [[f32; 2]; 4] = [[0.5, 0.2], [-0.2, 0.5], [-0.5, -0.2], [0.2, -0.5]];
        let (side, up) = toward.any_orthonormal_pair();
        let clear = RAYS.iter().filter(|[a, b]| {
            let ray = (toward + (side * *a + up * *b) * (1.4 * spread)).normalize();
            self.first(origin, ray, FAR_M).is_none()
        });
        clear.count() as f32 / RAYS.len() as f32
    }

    /// How open the surroundings of a surface point are, as [`crate::field::Field::openness`].
    pub fn openness(&self, at: Vec3, normal: Vec3) -> f32 {
        const REACH_M: f32 = 0.35;
        // Straight out, and five rays around, as a dull surface gathers light.
        const AROUND: usize = 5;
        let (side, up) = normal.any_orthonormal_pair();
        let from = at + normal * 0.006;
        let mut hidden = 0.0;
        for i in 0..=AROUND {
            let ray = if i == 0 {
                normal
            } else {
                let (sin, cos) = (i as f32 * std::f32::consts::TAU / AROUND as f32).sin_cos();
                (normal * 0.65 + (side * cos + up * sin) * 0.76).normalize()
            };
            if let Some(hit) = self.first(from, ray, REACH_M) {
                hidden += 1.0 - hit.depth / REACH_M;
            }
        }
        (1.0 - 1.1 * hidden / (AROUND + 1) as f32).clamp(0.15, 1.0)
    }

    /// Middles and radii of balls that together hold the mesh.
    pub fn bounds(&self) -> impl Iterator<Item = (Vec3, f32)> + '_ {
        self.boxes.balls()
    }

    fn first(&self, origin: Vec3, ray: Vec3, within: f32) -> Option<Met> {
        let of = &self.of;
        of.tree
            .first(&self.boxes, &self.points, of.faces, origin, ray, within)
    }
}

/// Unit normals of the points, of the faces around each weighed by their size.
fn normals(points: &[Vec3], faces: &[[u16; 3]]) -> Vec<Vec3> {
    let mut sums = vec![Vec3::ZERO; points.len()];
    for face in faces {
        let [a, b, c] = face.map(|i| points[usize::from(i)]);
        let normal = (b - a).cross(c - a);
        for i in face {
            sums[usize::from(*i)] += normal;
        }
    }
    sums.into_iter()
        .map(|sum| sum.normalize_or(Vec3::Y))
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::body::Player;
    use crate::motion::{Motion, Movement};
    use crate::params::SwingParams;
    use crate::random::Shapes;
    use glam::{DVec3, Vec3};

    /// Directions in the plane square to one.
    fn around(along: DVec3) -> Vec<Vec3> {
        let (a, b) = along.normalize().as_vec3().any_orthonormal_pair();
        (0..8)
            .map(|i| {
                let (sin, cos) = (i as f32 * std::f32::consts::TAU / 8.0).sin_cos();
                a * cos + b * sin
            })
            .collect()
    }

    #[test]
    fn flesh_lies_around_the_joints_of_every_pose() {
        let (mut inside, mut all) = (0, 0);
        for seed in 1..=24 {
            let params = SwingParams::varied(seed).with_shape(Shapes::HeldOut);
            let motion = Motion::new(&params);
            let player = Player::of(&params);
            let keys = *motion.key_times();
            for t in [0.0, keys.top, 0.5 * (keys.top + keys.impact), keys.impact] {
                let pose = motion.pose(t);
                let body = player.body(&pose, &[]);
                for i in 0..2 {
                    let limbs = [
                        (pose.knee[i], pose.hip[i] - pose.ankle[i], 0.16),
                        (pose.elbow[i], pose.shoulder[i] - pose.wrist[i], 0.14),
                        (
                            pose.hip[i].lerp(pose.knee[i], 0.5),
                            pose.hip[i] - pose.knee[i],
                            0.20,
                        ),
                        (
                            pose.knee[i].lerp(pose.ankle[i], 0.5),
                            pose.knee[i] - pose.ankle[i],
                            0.16,
                        ),
                        (
                            pose.elbow[i].lerp(pose.wrist[i], 0.5),
                            pose.elbow[i] - pose.wrist[i],
                            0.12,
                        ),
                    ];
                    for (at, along, most_m) in limbs {
                        for ray in around(along) {
                            let hit = body.hit(at.as_vec3(), ray, 1e-3);
                            inside += usize::from(hit.is_some_and(|hit| hit.depth < most_m));
                            all += 1;
                        }
                    }
                }
            }
        }
        assert!(
            inside as f64 > 0.98 * all as f64,
            "{inside} of {all} rays meet flesh close by"
        );
    }

    #[test]
    fn a_shape_changes_what_is_seen_and_nothing_that_is_true() {
        let plain = SwingParams::varied(3);
        let shaped = plain.clone().with_shape(Shapes::Learn);
        let size = [104, 184];
        let view = crate::View::FaceOn;
        let truths =
            [&plain, &shaped].map(|params| crate::truth(params, view, size).expect("in range"));
        assert_eq!(truths[0].measures, truths[1].measures);
        let [a, b] = [&plain, &shaped]
            .map(|params| crate::render_frame(params, view, size, 0.0, 1).expect("in range"));
        let differ = a
            .chunks(3)
            .zip(b.chunks(3))
            .filter(|(p, q)| p.iter().zip(*q).any(|(p, q)| p.abs_diff(*q) > 24));
        let share = differ.count() as f64 / (size[0] * size[1]) as f64;
        assert!((0.005..0.15).contains(&share), "{share} of the picture");
    }
}
