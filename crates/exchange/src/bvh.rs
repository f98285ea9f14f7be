//! A body's motion as BVH: a tree of joints with offsets, then three angles a joint and instant.
//!
//! After "Motion Capture File Formats Explained" (M. Meredith, S. Maddock, University of Sheffield, 2001), section 3.3;
//! from memory, and held against bvhio, which reads the file in `testdata/exchange/bvh_reference.py`. Lengths in cm (the
//! format names no unit), y up, angles in degrees in the order Z, X, Y.
//!
//! A BVH bone has one length. Points whose distances change are met as well as that allows: each offset is the mean
//! distance, its direction that of the first instant; each joint is turned so that what hangs on it points at the points.
//! A turn about a bone's own axis, which points do not show, stays as the parent's.

use crate::ExchangeError;
use crate::motion::Motion;
use glam::{DMat3, DQuat, DVec3};
use std::fmt::Write as _;

const CM_PER_M: f64 = 100.0;

/// A motion as BVH.
#[derive(Clone, Debug, PartialEq)]
pub struct Bvh {
    /// The file.
    pub bytes: Vec<u8>,
    /// How far its joints lie from the points: root of the mean square over points and instants, m.
    pub error_rms_m: f64,
    /// The largest such distance, m.
    pub error_most_m: f64,
}

/// A joint of the tree: its name, its parent, where it is.
struct Joint {
    name: &'static str,
    parent: Option<usize>,
    at: At,
}

/// Where a joint is among the motion's points.
#[derive(Clone, Copy)]
enum At {
    Point(&'static str),
    Between(&'static str, &'static str),
}

/// Parents stand before their children.
const TREE: [Joint; 21] = {
    use At::{Between, Point};
    const fn joint(name: &'static str, parent: usize, at: At) -> Joint {
        Joint {
            name,
            parent: Some(parent),
            at,
        }
    }
    [
        Joint {
            name: "Pelvis",
            parent: None,
            at: Between("LeadHip", "TrailHip"),
        },
        joint("LeadHip", 0, Point("LeadHip")),
        joint("LeadKnee", 1, Point("LeadKnee")),
        joint("LeadAnkle", 2, Point("LeadAnkle")),
        joint("LeadHeel", 3, Point("LeadHeel")),
        joint("LeadToe", 3, Point("LeadToe")),
        joint("TrailHip", 0, Point("TrailHip")),
        joint("TrailKnee", 6, Point("TrailKnee")),
        joint("TrailAnkle", 7, Point("TrailAnkle")),
        joint("TrailHeel", 8, Point("TrailHeel")),
        joint("TrailToe", 8, Point("TrailToe")),
        // The back bends: the trunk leans by itself.
        joint("Spine", 0, Between("LeadHip", "TrailHip")),
        joint("Chest", 11, Between("LeadShoulder", "TrailShoulder")),
        // The head turns by itself.
        joint("Neck", 12, Between("LeadShoulder", "TrailShoulder")),
        joint("Nose", 13, Point("Nose")),
        joint("LeadShoulder", 12, Point("LeadShoulder")),
        joint("LeadElbow", 15, Point("LeadElbow")),
        joint("LeadWrist", 16, Point("LeadWrist")),
        joint("TrailShoulder", 12, Point("TrailShoulder")),
        joint("TrailElbow", 18, Point("TrailElbow")),
        joint("TrailWrist", 19, Point("TrailWrist")),
    ]
};

/// The motion of a whole body, its points named as `docs/open-data.md` lists them.
///
/// # Errors
/// If the motion is uneven, lacks a point of the body, or a point is not known at some instant.
pub fn bvh(motion: &Motion) -> Result<Bvh, ExchangeError> {
    motion.check()?;
    let places = motion.instants.iter().map(|points| places(motion, points));
    let places: Vec<Vec<DVec3>> = places.collect::<Result<_, _>>()?;
    let offsets = offsets(&places);
    let mut text = hierarchy(&offsets);
    let _ = write!(
        text,
        "MOTION\nFrames: {}\nFrame Time: {:.8}\n",
        places.len(),
        1.0 / motion.rate_hz
    );
    let (mut squares, mut most) = (0.0, 0.0_f64);
    for instant in &places {
        let (turns, reached) = posed(&offsets, instant);
        for (found, wanted) in reached.iter().zip(instant) {
            squares += found.distance_squared(*wanted);
            most = most.max(found.distance(*wanted));
        }
        text.push_str(&line(instant[0], &turns));
    }
    Ok(Bvh {
        bytes: text.into_bytes(),
        error_rms_m: (squares / (places.len() * TREE.len()) as f64).sqrt(),
        error_most_m: most,
    })
}

/// Where each joint of the tree is, m.
fn places(motion: &Motion, points: &[Option<[f64; 3]>]) -> Result<Vec<DVec3>, ExchangeError> {
    let point = |name: &'static str| {
        let place = motion.names.iter().position(|known| known == name);
        let at = place.and_then(|place| points[place]);
        at.map(DVec3::from).ok_or(ExchangeError::NoPoint(name))
    };
    let place = |joint: &Joint| match joint.at {
        At::Point(name) => point(name),
        At::Between(one, other) => Ok(point(one)?.midpoint(point(other)?)),
    };
    TREE.iter().map(place).collect()
}

/// From each joint's parent to it, m: the mean distance in the direction of the first instant.
fn offsets(places: &[Vec<DVec3>]) -> Vec<DVec3> {
    let from_parent = |instant: &[DVec3], joint: usize| {
        TREE[joint]
            .parent
            .map_or(DVec3::ZERO, |parent| instant[joint] - instant[parent])
    };
    let mean = |joint| {
        places
            .iter()
            .map(|instant| from_parent(instant, joint).length())
            .sum::<f64>()
            / places.len() as f64
    };
    (0..TREE.len())
        .map(|joint| from_parent(&places[0], joint).normalize_or_zero() * mean(joint))
        .collect()
}

/// Each joint's turn in the world, and where the joints come to lie.
fn posed(offsets: &[DVec3], wanted: &[DVec3]) -> (Vec<DMat3>, Vec<DVec3>) {
    let mut turns = vec![DMat3::IDENTITY; TREE.len()];
    let mut reached = vec![wanted[0]; TREE.len()];
    for joint in 0..TREE.len() {
        let parent = TREE[joint].parent;
        let above = parent.map_or(DMat3::IDENTITY, |parent| turns[parent]);
        if let Some(parent) = parent {
            reached[joint] = reached[parent] + above * offsets[joint];
        }
        let to = |child: usize| wanted[child] - reached[joint];
        let hangs: Vec<usize> = (0..TREE.len())
            .filter(|child| TREE[*child].parent == Some(joint))
            .collect();
        turns[joint] = match (TREE[joint].name, &hangs[..]) {
            ("Pelvis", _) => {
                let [lead, trail, chest] = ["LeadHip", "TrailHip", "Chest"].map(joint_named);
                like(
                    [offsets[lead] - offsets[trail], offsets[chest]],
                    [to(lead) - to(trail), to(chest)],
                    above,
                )
            }
            ("Chest", _) => {
                let [lead, trail] = ["LeadShoulder", "TrailShoulder"].map(joint_named);
                let trunk = reached[joint] - reached[0];
                like(
                    [offsets[lead] - offsets[trail], offsets[joint]],
                    [to(lead) - to(trail), trunk],
                    above,
                )
            }
            (_, [heel, toe]) => like(
                [
                    offsets[*toe] - offsets[*heel],
                    offsets[*toe] + offsets[*heel],
                ],
                [to(*toe) - to(*heel), to(*toe) + to(*heel)],
                // Where heel, ankle and toe lie on a line, the foot points along it all the same.
                toward(above, offsets[*toe] - offsets[*heel], to(*toe) - to(*heel)),
            ),
            (_, [one]) => toward(above, offsets[*one], to(*one)),
            _ => above,
        };
    }
    (turns, reached)
}

fn joint_named(name: &str) -> usize {
    let place = TREE.iter().position(|joint| joint.name == name);
    place.expect("the tree has a joint of every name that is asked for")
}

/// The turn that brings the first of two directions onto its like, and the second as near to its like as that leaves free;
/// `otherwise` where they span no plane.
fn like(rest: [DVec3; 2], now: [DVec3; 2], otherwise: DMat3) -> DMat3 {
    match (frame(rest), frame(now)) {
        (Some(rest), Some(now)) => now * rest.transpose(),
        _ => otherwise,
    }
}

/// A right-handed frame: the first axis along the first direction, the second toward the second one.
fn frame([first, second]: [DVec3; 2]) -> Option<DMat3> {
    let x = first.try_normalize()?;
    let aside = second.reject_from_normalized(x);
    // Less is rounding.
    let spans = aside.length() > 1e-6 * second.length();
    let y = aside.try_normalize().filter(|_| spans)?;
    Some(DMat3::from_cols(x, y, x.cross(y)))
}

/// The parent's turn, and the least more that makes the offset point in a direction.
fn toward(above: DMat3, offset: DVec3, direction: DVec3) -> DMat3 {
    let along = (above * offset)
        .try_normalize()
        .zip(direction.try_normalize());
    along.map_or(above, |(from, to)| {
        DMat3::from_quat(DQuat::from_rotation_arc(from, to)) * above
    })
}

fn hierarchy(offsets: &[DVec3]) -> String {
    let mut text = String::from("HIERARCHY\n");
    branch(&mut text, offsets, 0, 0);
    text
}

fn branch(text: &mut String, offsets: &[DVec3], joint: usize, depth: usize) {
    let tabs = "\t".repeat(depth);
    let offset = |at: DVec3| {
        let at = at * CM_PER_M;
        format!("{:.6} {:.6} {:.6}", at.x, at.y, at.z)
    };
    let (kind, channels) = match joint {
        0 => (
            "ROOT",
            "6 Xposition Yposition Zposition Zrotation Xrotation Yrotation",
        ),
        _ => ("JOINT", "3 Zrotation Xrotation Yrotation"),
    };
    let name = TREE[joint].name;
    let _ = write!(
        text,
        "{tabs}{kind} {name}\n{tabs}{{\n{tabs}\tOFFSET {}\n{tabs}\tCHANNELS {channels}\n",
        offset(offsets[joint])
    );
    let hangs: Vec<usize> = (0..TREE.len())
        .filter(|child| TREE[*child].parent == Some(joint))
        .collect();
    for child in &hangs {
        branch(text, offsets, *child, depth + 1);
    }
    if hangs.is_empty() {
        // The point itself is the end.
        let _ = write!(
            text,
            "{tabs}\tEnd Site\n{tabs}\t{{\n{tabs}\t\tOFFSET {}\n{tabs}\t}}\n",
            offset(DVec3::ZERO)
        );
    }
    let _ = writeln!(text, "{tabs}}}");
}

/// One instant: where the root is, then the angles in the order of the tree.
fn line(root: DVec3, turns: &[DMat3]) -> String {
    let root = root * CM_PER_M;
    let mut numbers = vec![root.x, root.y, root.z];
    for (joint, turn) in TREE.iter().zip(turns) {
        let own = joint
            .parent
            .map_or(*turn, |parent| turns[parent].transpose() * *turn);
        numbers.extend(angles_deg(own));
    }
    // No "-0".
    let words: Vec<String> = numbers
        .iter()
        .map(|number| format!("{:.6}", (number * 1e6).round() / 1e6 + 0.0))
        .collect();
    words.join(" ") + "\n"
}

/// Angles about z, x, y of R = Rz · Rx · Ry, degrees. With m[row][column]: sin x = m21, tan z = −m01 / m11,
/// tan y = −m20 / m22.
fn angles_deg(turn: DMat3) -> [f64; 3] {
    let m = |row: usize, column: usize| turn.col(column)[row];
    let z = (-m(0, 1)).atan2(m(1, 1));
    let x = m(2, 1).clamp(-1.0, 1.0).asin();
    let y = (-m(2, 0)).atan2(m(2, 2));
    [z, x, y].map(f64::to_degrees)
}
