//! A shape as the smooth union of simple solids, given by its signed distance (m, minus inside).
//!
//! Distances to cone, ellipsoid and box follow the closed forms collected by I. Quilez
//! ("distance functions", iquilezles.org); solids of one material melt into each other, solids of
//! different materials only meet. A ray first drops every solid whose bounding sphere it misses.

use glam::{Mat3, Vec3};

/// Most solids a field can hold: three machine words of flags.
pub const CAPACITY: usize = 192;
type Flags = [u64; CAPACITY / 64];
/// Indices of the solids near one ray.
pub type Near = [u8; CAPACITY];

/// What a surface is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[repr(u8)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Material {
    Skin,
    Shirt,
    Below,
    Shoe,
    Sole,
    Glove,
    Hair,
    Hat,
    Belt,
    Steel,
    Rubber,
    Head,
    Ball,
    Tee,
    Sock,
    Thing,
    Wall,
}

const MATERIALS: usize = 17;

/// Number of a rigid part's frame in its [`Field`].
pub type PartId = u8;

#[derive(Clone, Copy, Debug)]
enum Shape {
    Cone(Cone),
    /// Middle, rows of the frame, reciprocal radii and their squares.
    Ellipsoid {
        middle: Vec3,
        frame: Mat3,
        inverse: Vec3,
        inverse2: Vec3,
    },
    Box {
        middle: Vec3,
        frame: Mat3,
        half: Vec3,
        round: f32,
    },
    /// A cone in a space squashed along its own z: an oval, tapered trunk.
    OvalCone {
        origin: Vec3,
        frame: Mat3,
        squash: f32,
        cone: Cone,
    },
}

/// Two spheres and what their tangents enclose.
#[derive(Clone, Copy, Debug)]
struct Cone {
    start: Vec3,
    along: Vec3,
    length2: f32,
    taper: f32,
    slant2: f32,
    inverse2: f32,
    radius: [f32; 2],
}

impl Cone {
    fn new(start: Vec3, end: Vec3, r1: f32, r2: f32) -> Cone {
        let along = end - start;
        let length2 = along.length_squared().max(1e-8);
        let taper = r1 - r2;
        Cone {
            start,
            along,
            length2,
            taper,
            slant2: length2 - taper * taper,
            inverse2: 1.0 / length2,
            radius: [r1, r2],
        }
    }

    #[inline]
    fn distance(&self, p: Vec3) -> f32 {
        let p = p - self.start;
        let y = p.dot(self.along);
        let z = y - self.length2;
        let x2 = (p * self.length2 - self.along * y).length_squared();
        let y2 = y * y * self.length2;
        let z2 = z * z * self.length2;
        let k = self.taper.signum() * self.taper * self.taper * x2;
        if z.signum() * self.slant2 * z2 > k {
            (x2 + z2).sqrt() * self.inverse2 - self.radius[1]
        } else if y.signum() * self.slant2 * y2 < k {
            (x2 + y2).sqrt() * self.inverse2 - self.radius[0]
        } else {
            ((x2 * self.slant2 * self.inverse2).sqrt() + y * self.taper) * self.inverse2
                - self.radius[0]
        }
    }
}

impl Shape {
    #[inline]
    fn distance(&self, p: Vec3) -> f32 {
        match self {
            Shape::Cone(cone) => cone.distance(p),
            Shape::Ellipsoid {
                middle,
                frame,
                inverse,
                inverse2,
            } => {
                let q = *frame * (p - *middle);
                let k0 = (q * *inverse).length();
                let k1 = (q * *inverse2).length();
                if k1 < 1e-6 {
                    -0.02
                } else {
                    k0 * (k0 - 1.0) / k1
                }
            }
            Shape::Box {
                middle,
                frame,
                half,
                round,
            } => {
                let q = (*frame * (p - *middle)).abs() - *half;
                q.max(Vec3::ZERO).length() + q.max_element().min(0.0) - round
            }
            Shape::OvalCone {
                origin,
                frame,
                squash,
                cone,
            } => {
                let mut q = *frame * (p - *origin);
                q.z /= squash;
                cone.distance(q) * squash
            }
        }
    }
}

#[derive(Clone, Copy, Debug)]
struct Solid {
    shape: Shape,
    middle: Vec3,
    reach: f32,
    material: Material,
    melt: f32,
    part: PartId,
}

/// Solids of one part, for culling.
#[derive(Clone, Debug)]
struct Cluster {
    middle: Vec3,
    reach: f32,
    members: Flags,
}

/// A rigid part's frame: rows of its axes in the world, and its origin.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    /// World to part rotation.
    pub to_part: Mat3,
    /// Origin in the world.
    pub origin: Vec3,
}

/// A finished shape.
#[derive(Clone, Debug)]
pub struct Field {
    solids: Vec<Solid>,
    clusters: Vec<Cluster>,
    /// Frames of the rigid parts, for patterns fixed to them.
    pub parts: Vec<Part>,
}

/// Collects solids.
pub struct Builder {
    solids: Vec<Solid>,
    parts: Vec<Part>,
    part: PartId,
    material: Material,
    melt: f32,
}

impl Builder {
    /// An empty shape whose part 0 is the world.
    pub fn new() -> Builder {
        Builder {
            solids: Vec::with_capacity(CAPACITY),
            parts: vec![Part {
                to_part: Mat3::IDENTITY,
                origin: Vec3::ZERO,
            }],
            part: 0,
            material: Material::Skin,
            melt: 0.01,
        }
    }

    /// A new part with a frame whose columns are its axes.
    pub fn part(&mut self, frame: Mat3, origin: Vec3) -> PartId {
        self.parts.push(Part {
            to_part: frame.transpose(),
            origin,
        });
        (self.parts.len() - 1) as PartId
    }

    /// Material, melting width (m) and part of the solids that follow.
    pub fn with(&mut self, material: Material, melt: f32, part: PartId) {
        (self.material, self.melt, self.part) = (material, melt, part);
    }

    /// Two spheres and what lies between.
    pub fn cone(&mut self, start: Vec3, end: Vec3, r1: f32, r2: f32) {
        let reach = 0.5 * (end - start).length() + r1.max(r2);
        let cone = Cone::new(start, end, r1, r2);
        self.push(Shape::Cone(cone), 0.5 * (start + end), reach);
    }

    /// An ellipsoid with its own axes.
    pub fn ellipsoid(&mut self, middle: Vec3, frame: Mat3, radii: Vec3) {
        let shape = Shape::Ellipsoid {
            middle,
            frame: frame.transpose(),
            inverse: radii.recip(),
            inverse2: (radii * radii).recip(),
        };
        self.push(shape, middle, radii.max_element());
    }

    /// A box with rounded edges.
    pub fn rounded_box(&mut self, middle: Vec3, frame: Mat3, half: Vec3, round: f32) {
        let shape = Shape::Box {
            middle,
            frame: frame.transpose(),
            half,
            round,
        };
        self.push(shape, middle, half.length() + round);
    }

    /// A cone from `start` to `end` (in the frame, from `origin`), squashed along the frame's z.
    pub fn oval_cone(
        &mut self,
        origin: Vec3,
        frame: Mat3,
        [start, end]: [Vec3; 2],
        [r1, r2]: [f32; 2],
        squash: f32,
    ) {
        let at = origin + frame * Vec3::new(0.0, 0.0, start.z);
        let (a, b) = (start.with_z(0.0), end.with_z((end.z - start.z) / squash));
        let shape = Shape::OvalCone {
            origin: at,
            frame: frame.transpose(),
            squash,
            cone: Cone::new(a, b, r1, r2),
        };
        let middle = origin + frame * (0.5 * (start + end));
        self.push(shape, middle, 0.5 * (end - start).length() + r1.max(r2));
    }

    fn push(&mut self, shape: Shape, middle: Vec3, reach: f32) {
        assert!(
            self.solids.len() < CAPACITY,
            "a field holds {CAPACITY} solids"
        );
        self.solids.push(Solid {
            shape,
            middle,
            reach: reach + 0.5 * self.melt,
            material: self.material,
            melt: self.melt,
            part: self.part,
        });
    }

    /// The finished shape.
    pub fn build(mut self) -> Field {
        // Solids of one material lie together: the union walks them in one pass.
        self.solids.sort_by_key(|s| s.material);
        let mut keys: Vec<(PartId, Material)> =
            self.solids.iter().map(|s| (s.part, s.material)).collect();
        keys.sort();
        keys.dedup();
        let clusters = keys
            .iter()
            .map(|&key| Cluster::of(&self.solids, |s| (s.part, s.material) == key))
            .collect();
        Field {
            solids: self.solids,
            clusters,
            parts: self.parts,
        }
    }
}

impl Default for Builder {
    fn default() -> Self {
        Builder::new()
    }
}

impl Cluster {
    fn of(solids: &[Solid], belongs: impl Fn(&Solid) -> bool) -> Cluster {
        let members: Vec<usize> = (0..solids.len()).filter(|&i| belongs(&solids[i])).collect();
        let sum: Vec3 = members.iter().map(|&i| solids[i].middle).sum();
        let middle = sum / members.len() as f32;
        let mut flags = Flags::default();
        let mut reach = 0.0f32;
        for &i in &members {
            flags[i / 64] |= 1 << (i % 64);
            reach = reach.max((solids[i].middle - middle).length() + solids[i].reach);
        }
        Cluster {
            middle,
            reach,
            members: flags,
        }
    }
}

/// Where a ray met the shape.
#[derive(Clone, Copy, Debug)]
pub struct Hit {
    /// Along the ray, m.
    pub depth: f32,
    /// The point.
    pub at: Vec3,
    /// Unit outward normal.
    pub normal: Vec3,
    /// Material there.
    pub material: Material,
    /// Part there.
    pub part: PartId,
}

impl Field {
    /// The first point of a ray on the shape. `pixel_m_per_m` is the width of a pixel at 1 m: the
    /// surface is taken as met within half of that.
    pub fn hit(&self, origin: Vec3, ray: Vec3, pixel_m_per_m: f32) -> Option<Hit> {
        const STEPS: usize = 110;
        // Melted unions and ovals overstate distance a little: take shorter steps.
        const CAUTION: f32 = 0.93;
        let mut near = [0u8; CAPACITY];
        let (count, entry, exit) = self.cull_ray(origin, ray, 0.004, &mut near);
        let near = &near[..count];
        let mut depth = entry;
        for _ in 0..STEPS {
            if depth > exit {
                return None;
            }
            let at = origin + ray * depth;
            let distance = self.distance(at, near);
            if distance < (0.4 * pixel_m_per_m * depth).min(0.0006) {
                // Only solids close by shape the surface here.
                let mut close = [0u8; CAPACITY];
                let mut count = 0;
                for &i in near {
                    let solid = &self.solids[i as usize];
                    if at.distance(solid.middle) < solid.reach + 0.5 * solid.melt + 0.002 {
                        close[count] = i;
                        count += 1;
                    }
                }
                let near = &close[..count];
                let (material, part) = self.surface(at, near);
                return Some(Hit {
                    depth,
                    at,
                    normal: self.normal(at, near),
                    material,
                    part,
                });
            }
            depth += distance * CAUTION;
        }
        None
    }

    /// How much of a light's soft disc is seen from a point, 0 … 1; `spread` is the disc's radius
    /// as an angle in radians.
    pub fn light(&self, origin: Vec3, toward: Vec3, spread: f32) -> f32 {
        let mut near = [0u8; CAPACITY];
        let (count, entry, exit) = self.cull_ray(origin, toward, 0.9 * spread, &mut near);
        if count == 0 {
            return 1.0;
        }
        let near = &near[..count];
        let mut depth = entry.max(0.012);
        let mut seen = 1.0f32;
        for _ in 0..28 {
            if depth > exit {
                break;
            }
            let distance = self.distance(origin + toward * depth, near);
            seen = seen.min(0.5 + 0.5 * distance / (spread * depth.max(0.02)));
            if seen < 0.0 {
                break;
            }
            depth += distance.clamp(0.012, 0.25);
        }
        let seen = seen.clamp(0.0, 1.0);
        seen * seen * (3.0 - 2.0 * seen)
    }

    /// How open the surroundings of a surface point are, 0.15 … 1; the ground counts too.
    pub fn openness(&self, at: Vec3, normal: Vec3) -> f32 {
        let mut near = [0u8; CAPACITY];
        let count = self.cull_ball(at + normal * 0.10, 0.26, &mut near);
        if count == 0 && at.y > 0.25 {
            return 1.0;
        }
        let near = &near[..count];
        let (mut hidden, mut weight) = (0.0, 1.0);
        for i in 1..=4 {
            let height = 0.012 + 0.055 * i as f32;
            let probe = at + normal * height;
            let clear = if count > 0 {
                self.distance(probe, near)
            } else {
                height
            };
            // The ground does not hide itself.
            let clear = if at.y > 0.004 {
                clear.min(probe.y)
            } else {
                clear
            };
            hidden += (height - clear).max(0.0) * weight;
            weight *= 0.72;
        }
        (1.0 - 2.1 * hidden).clamp(0.15, 1.0)
    }

    /// Middles and radii of balls that together hold the shape.
    pub fn bounds(&self) -> impl Iterator<Item = (Vec3, f32)> + '_ {
        self.clusters.iter().map(|c| (c.middle, c.reach))
    }

    /// Middles and radii of balls around the single solids.
    pub fn solid_bounds(&self) -> impl Iterator<Item = (Vec3, f32)> + '_ {
        self.solids.iter().map(|c| (c.middle, c.reach))
    }

    fn normal(&self, at: Vec3, near: &[u8]) -> Vec3 {
        // Gradient from four corners of a tetrahedron.
        const REACH: f32 = 0.0008;
        let corners = [
            Vec3::new(1.0, -1.0, -1.0),
            Vec3::new(-1.0, -1.0, 1.0),
            Vec3::new(-1.0, 1.0, -1.0),
            Vec3::ONE,
        ];
        let sum: Vec3 = corners
            .iter()
            .map(|&k| k * self.distance(at + k * REACH, near))
            .sum();
        sum.normalize_or(Vec3::Y)
    }

    #[inline]
    fn distance(&self, p: Vec3, near: &[u8]) -> f32 {
        const FAR: f32 = 1e9;
        let (mut best, mut current, mut material) = (FAR, FAR, None);
        for &i in near {
            let solid = &self.solids[i as usize];
            if material != Some(solid.material) {
                best = best.min(current);
                current = FAR;
                material = Some(solid.material);
            }
            let bound = (p - solid.middle).length() - solid.reach;
            if bound > current.min(best) + solid.melt {
                continue;
            }
            let distance = solid.shape.distance(p);
            current = if current == FAR {
                distance
            } else {
                melted(current, distance, solid.melt)
            };
        }
        best.min(current)
    }

    /// Material whose union is nearest, and the part of its nearest solid.
    fn surface(&self, p: Vec3, near: &[u8]) -> (Material, PartId) {
        let mut union = [(1e9f32, Material::Skin); MATERIALS];
        let mut nearest = [(1e9f32, 0u8); MATERIALS];
        for &i in near {
            let solid = &self.solids[i as usize];
            let distance = solid.shape.distance(p);
            let m = solid.material as usize;
            union[m] = if union[m].0 > 1e8 {
                (distance, solid.material)
            } else {
                (melted(union[m].0, distance, solid.melt), solid.material)
            };
            if distance < nearest[m].0 {
                nearest[m] = (distance, solid.part);
            }
        }
        let mut best = 0;
        for m in 1..MATERIALS {
            if union[m].0 < union[best].0 {
                best = m;
            }
        }
        (union[best].1, nearest[best].1)
    }

    /// Solids whose bounding ball, grown, meets the ray; with the nearest entry and last exit.
    #[inline]
    fn cull_ray(&self, origin: Vec3, ray: Vec3, grow: f32, near: &mut Near) -> (usize, f32, f32) {
        let mut flags = Flags::default();
        for cluster in &self.clusters {
            let to = cluster.middle - origin;
            let along = to.dot(ray);
            let reach = cluster.reach + grow;
            if reach * reach > to.length_squared() - along * along && along > -reach {
                for (flag, member) in flags.iter_mut().zip(cluster.members) {
                    *flag |= member;
                }
            }
        }
        let (mut count, mut entry, mut exit) = (0, 1e9f32, 0f32);
        for_each_flag(&flags, |i| {
            let solid = &self.solids[i];
            let to = solid.middle - origin;
            let along = to.dot(ray);
            let reach = solid.reach + grow;
            let half2 = reach * reach - (to.length_squared() - along * along);
            if half2 > 0.0 {
                let half = half2.sqrt();
                if along + half > 0.0 {
                    near[count] = i as u8;
                    count += 1;
                    entry = entry.min(along - half);
                    exit = exit.max(along + half);
                }
            }
        });
        (count, entry.max(0.0), exit)
    }

    fn cull_ball(&self, middle: Vec3, radius: f32, near: &mut Near) -> usize {
        let mut flags = Flags::default();
        for cluster in &self.clusters {
            if (cluster.middle - middle).length() < cluster.reach + radius {
                for (flag, member) in flags.iter_mut().zip(cluster.members) {
                    *flag |= member;
                }
            }
        }
        let mut count = 0;
        for_each_flag(&flags, |i| {
            if (self.solids[i].middle - middle).length() < self.solids[i].reach + radius {
                near[count] = i as u8;
                count += 1;
            }
        });
        count
    }
}

/// Smooth minimum: a polynomial blend over the melting width.
#[inline]
fn melted(a: f32, b: f32, width: f32) -> f32 {
    let h = (width - (a - b).abs()).max(0.0) / width;
    a.min(b) - h * h * width * 0.25
}

#[inline]
fn for_each_flag(flags: &Flags, mut f: impl FnMut(usize)) {
    for (word, &bits) in flags.iter().enumerate() {
        let mut bits = bits;
        while bits != 0 {
            f(word * 64 + bits.trailing_zeros() as usize);
            bits &= bits - 1;
        }
    }
}
