//! Boxes within boxes around a mesh: the tree is made once, its boxes anew for every pose.

use glam::Vec3;

/// Faces of a leaf at most.
const LEAF: usize = 4;
/// Boxes this deep in the tree tell which tiles of a picture the mesh can touch.
const BALL_LEVEL: u32 = 6;

/// Which faces lie in which box.
#[derive(Clone, Debug)]
pub struct Tree {
    /// Faces in the order of the leaves.
    order: Vec<u32>,
    /// Children before their parents; the last is the root.
    nodes: Vec<Node>,
}

#[derive(Clone, Copy, Debug)]
enum Node {
    /// A span of the order.
    Leaf { first: u32, count: u32 },
    /// Two nodes.
    Fork([u32; 2]),
}

/// The boxes of one pose, one a node: low and high corner.
#[derive(Clone, Debug)]
pub struct Boxes {
    corners: Vec<[Vec3; 2]>,
    /// Nodes of [`BALL_LEVEL`].
    coarse: Vec<u32>,
}

/// Where a ray met a face.
#[derive(Clone, Copy, Debug)]
pub struct Met {
    /// Number of the face.
    pub face: usize,
    /// Along the ray, m.
    pub depth: f32,
    /// Shares of its second and third corner.
    pub at: [f32; 2],
}

impl Tree {
    /// Halves the faces along the longest side of their middles' box, again and again.
    pub fn new(points: &[Vec3], faces: &[[u16; 3]]) -> Tree {
        let middles: Vec<Vec3> = faces
            .iter()
            .map(|face| face.map(|i| points[usize::from(i)]).iter().sum::<Vec3>() / 3.0)
            .collect();
        let mut tree = Tree {
            order: (0..faces.len() as u32).collect(),
            nodes: Vec::new(),
        };
        tree.halve(&middles, 0, faces.len());
        tree
    }

    fn halve(&mut self, middles: &[Vec3], first: usize, end: usize) -> u32 {
        let node = if end - first <= LEAF {
            Node::Leaf {
                first: first as u32,
                count: (end - first) as u32,
            }
        } else {
            let span = &mut self.order[first..end];
            let of = |face: &u32| middles[*face as usize];
            let low = span.iter().map(of).fold(Vec3::MAX, Vec3::min);
            let high = span.iter().map(of).fold(Vec3::MIN, Vec3::max);
            let axis = (high - low).max_position();
            let half = span.len() / 2;
            span.select_nth_unstable_by(half, |a, b| of(a)[axis].total_cmp(&of(b)[axis]));
            let left = self.halve(middles, first, first + half);
            let right = self.halve(middles, first + half, end);
            Node::Fork([left, right])
        };
        self.nodes.push(node);
        (self.nodes.len() - 1) as u32
    }

    /// The boxes around the points as they lie now.
    pub fn around(&self, points: &[Vec3], faces: &[[u16; 3]]) -> Boxes {
        let mut corners: Vec<[Vec3; 2]> = Vec::with_capacity(self.nodes.len());
        for node in &self.nodes {
            let mut hull = [Vec3::MAX, Vec3::MIN];
            match *node {
                Node::Leaf { first, count } => {
                    for &face in &self.order[first as usize..(first + count) as usize] {
                        for i in faces[face as usize] {
                            let point = points[usize::from(i)];
                            hull = [hull[0].min(point), hull[1].max(point)];
                        }
                    }
                }
                Node::Fork(children) => {
                    for child in children {
                        let [low, high] = corners[child as usize];
                        hull = [hull[0].min(low), hull[1].max(high)];
                    }
                }
            }
            corners.push(hull);
        }
        let mut coarse = Vec::new();
        self.at_level(self.root(), BALL_LEVEL, &mut coarse);
        Boxes { corners, coarse }
    }

    fn root(&self) -> u32 {
        (self.nodes.len() - 1) as u32
    }

    fn at_level(&self, node: u32, level: u32, out: &mut Vec<u32>) {
        match self.nodes[node as usize] {
            Node::Fork(children) if level > 0 => {
                children
                    .iter()
                    .for_each(|&child| self.at_level(child, level - 1, out));
            }
            _ => out.push(node),
        }
    }

    /// The first face that a ray meets, nearer than `within` (m).
    pub fn first(
        &self,
        boxes: &Boxes,
        points: &[Vec3],
        faces: &[[u16; 3]],
        origin: Vec3,
        ray: Vec3,
        within: f32,
    ) -> Option<Met> {
        let inverse = ray.recip();
        let entry = |node: u32, within: f32| {
            let [low, high] = boxes.corners[node as usize];
            let (a, b) = ((low - origin) * inverse, (high - origin) * inverse);
            let near = a.min(b).max_element().max(0.0);
            let far = a.max(b).min_element();
            (near <= far && near < within).then_some(near)
        };
        let mut found: Option<Met> = None;
        let mut within = within;
        // As deep as a halved tree of 65,536 faces, twice over.
        let mut open = [(0u32, 0.0f32); 40];
        let mut count = 0;
        if let Some(near) = entry(self.root(), within) {
            open[0] = (self.root(), near);
            count = 1;
        }
        while count > 0 {
            count -= 1;
            let (node, near) = open[count];
            if near >= within {
                continue;
            }
            match self.nodes[node as usize] {
                Node::Leaf { first, count } => {
                    for &face in &self.order[first as usize..(first + count) as usize] {
                        let corners = faces[face as usize].map(|i| points[usize::from(i)]);
                        if let Some((depth, at)) = met(corners, origin, ray)
                            && depth < within
                        {
                            within = depth;
                            found = Some(Met {
                                face: face as usize,
                                depth,
                                at,
                            });
                        }
                    }
                }
                Node::Fork([a, b]) => {
                    let (mut first, mut then) = ((a, entry(a, within)), (b, entry(b, within)));
                    if then.1.is_some_and(|n| first.1.is_none_or(|m| n < m)) {
                        std::mem::swap(&mut first, &mut then);
                    }
                    // The nearer one is looked at first.
                    for (node, near) in [then, first] {
                        if let Some(near) = near {
                            open[count] = (node, near);
                            count += 1;
                        }
                    }
                }
            }
        }
        found
    }
}

impl Boxes {
    /// Middles and radii of balls around the boxes of one level.
    pub fn balls(&self) -> impl Iterator<Item = (Vec3, f32)> + '_ {
        self.coarse.iter().map(|&node| {
            let [low, high] = self.corners[node as usize];
            (0.5 * (low + high), 0.5 * low.distance(high))
        })
    }
}

/// Depth, and shares of the second and third corner, where a ray meets a triangle (T. Möller and
/// B. Trumbore, "Fast, minimum storage ray/triangle intersection", 1997).
fn met([a, b, c]: [Vec3; 3], origin: Vec3, ray: Vec3) -> Option<(f32, [f32; 2])> {
    let (e1, e2) = (b - a, c - a);
    let p = ray.cross(e2);
    let det = e1.dot(p);
    if det.abs() < 1e-12 {
        return None;
    }
    let s = (origin - a) / det;
    let u = s.dot(p);
    let q = s.cross(e1);
    let v = ray.dot(q);
    let depth = e2.dot(q);
    (u >= 0.0 && v >= 0.0 && u + v <= 1.0 && depth > 1e-5).then_some((depth, [u, v]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::noise::SplitMix64;

    #[test]
    fn the_tree_finds_what_a_look_at_every_face_finds() {
        let mut r = SplitMix64::new(7);
        let mut any = || Vec3::from_array(std::array::from_fn(|_| r.bell() as f32));
        let points: Vec<Vec3> = (0..600)
            .map(|i| any() + if i % 3 == 0 { any() } else { Vec3::ZERO })
            .collect();
        let faces: Vec<[u16; 3]> = (0..200).map(|i| [3 * i, 3 * i + 1, 3 * i + 2]).collect();
        let tree = Tree::new(&points, &faces);
        // Boxes of other points than the tree was made for.
        let moved: Vec<Vec3> = points.iter().map(|p| *p * 1.5 + Vec3::X).collect();
        let boxes = tree.around(&moved, &faces);
        let mut met_any = 0;
        for _ in 0..500 {
            let (origin, ray) = (any() * 6.0, any().normalize());
            let found = tree.first(&boxes, &moved, &faces, origin, ray, 100.0);
            let nearest = faces
                .iter()
                .filter_map(|f| met(f.map(|i| moved[usize::from(i)]), origin, ray))
                .map(|(depth, _)| depth)
                .min_by(f32::total_cmp);
            assert_eq!(found.map(|m| m.depth), nearest);
            met_any += usize::from(nearest.is_some());
        }
        assert!(met_any > 40, "{met_any} of 500 rays met a face");
    }
}
