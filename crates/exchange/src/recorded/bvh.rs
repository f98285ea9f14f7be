//! BVH of any program: a tree of joints with any names, channels in any order, read by forward kinematics.
//!
//! After "Motion Capture File Formats Explained" (M. Meredith, S. Maddock, University of Sheffield, 2001), section 3.3. A
//! joint's turn is the product of its rotation channels in the order in which they are listed; position channels replace the
//! offset's place where a joint has them. The end of a branch is a point too: its parent's name and "End".

use super::{Recorded, RecordedError};
use glam::{DMat3, DVec3};
use std::str::SplitWhitespace;

/// More joints or instants than any body or swing has; what lies beyond is no capture.
const MOST_JOINTS: usize = 1000;
const MOST_NUMBERS: usize = 40_000_000;

#[derive(Clone, Copy)]
enum Channel {
    Position(usize),
    Rotation(usize),
}

struct Joint {
    name: String,
    parent: Option<usize>,
    offset: DVec3,
    channels: Vec<Channel>,
}

/// Reads the text of a BVH file.
pub fn read(text: &str) -> Result<Recorded, RecordedError> {
    let mut words = text.split_whitespace();
    expect(&mut words, "HIERARCHY")?;
    let joints = tree(&mut words)?;
    expect(&mut words, "Frames:")?;
    let count = number(&mut words, "the number of frames")?;
    expect(&mut words, "Frame")?;
    expect(&mut words, "Time:")?;
    let step_s = number(&mut words, "the frame time")?;
    if !(step_s > 0.0 && step_s <= 1.0) {
        return Err(broken(format!("its frame time is {step_s} s")));
    }
    let channels: usize = joints.iter().map(|joint| joint.channels.len()).sum();
    let count = count as usize;
    if channels == 0 || count.saturating_mul(channels) > MOST_NUMBERS {
        return Err(broken(format!("{count} frames of {channels} numbers")));
    }
    let mut instants = Vec::new();
    for frame in 0..count {
        let mut line = Vec::with_capacity(channels);
        for _ in 0..channels {
            match words.next().map(str::parse::<f64>) {
                Some(Ok(value)) if value.is_finite() => line.push(value),
                Some(_) => return Err(broken(format!("frame {frame} has a word, not a number"))),
                None => {
                    return Err(broken(format!(
                        "it is cut short: {count} frames are announced, {frame} are there"
                    )));
                }
            }
        }
        instants.push(places(&joints, &line));
    }
    Ok(Recorded {
        rate_hz: 1.0 / step_s,
        names: joints.into_iter().map(|joint| joint.name).collect(),
        instants,
        unit_m: None,
    })
}

/// The joints, parents before children, up to the word MOTION.
fn tree(words: &mut SplitWhitespace<'_>) -> Result<Vec<Joint>, RecordedError> {
    let mut joints: Vec<Joint> = Vec::new();
    // The branch that is being read, and the joint announced for the next bracket.
    let (mut open, mut next): (Vec<usize>, Option<usize>) = (Vec::new(), None);
    loop {
        let word = words
            .next()
            .ok_or_else(|| broken("it is cut short: there is no MOTION".into()))?;
        match word.to_ascii_uppercase().as_str() {
            "MOTION" => break,
            kind @ ("ROOT" | "JOINT" | "END") => {
                let said = words.next().unwrap_or_default();
                let parent = open.last().copied();
                let name = match (kind, parent) {
                    ("END", Some(parent)) => format!("{}End", joints[parent].name),
                    _ => said.to_owned(),
                };
                next = Some(joints.len());
                joints.push(Joint {
                    name,
                    parent,
                    offset: DVec3::ZERO,
                    channels: Vec::new(),
                });
                if joints.len() > MOST_JOINTS {
                    return Err(broken(format!("it has over {MOST_JOINTS} joints")));
                }
            }
            "{" => {
                let joint = next.take();
                open.push(joint.ok_or_else(|| broken("a bracket opens without a joint".into()))?);
            }
            "}" => {
                open.pop()
                    .ok_or_else(|| broken("a bracket closes that was not opened".into()))?;
            }
            "OFFSET" => {
                let joint = *open.last().ok_or_else(|| broken("a lone OFFSET".into()))?;
                for axis in 0..3 {
                    joints[joint].offset[axis] = number(words, "an offset")?;
                }
            }
            "CHANNELS" => {
                let joint = *open
                    .last()
                    .ok_or_else(|| broken("a lone CHANNELS".into()))?;
                let count = number(words, "the number of channels")?;
                for _ in 0..(count as usize).min(6) {
                    let name = words.next().unwrap_or_default();
                    let channel =
                        channel(name).ok_or_else(|| broken(format!("\"{name}\" is no channel")))?;
                    joints[joint].channels.push(channel);
                }
            }
            // Names of joints may have spaces.
            _ => {}
        }
    }
    match joints.is_empty() || !open.is_empty() {
        true => Err(broken("its tree of joints is not whole".into())),
        false => Ok(joints),
    }
}

fn channel(name: &str) -> Option<Channel> {
    let name = name.to_ascii_lowercase();
    let axis = "xyz".find(name.chars().next()?)?;
    match &name[1..] {
        "position" => Some(Channel::Position(axis)),
        "rotation" => Some(Channel::Rotation(axis)),
        _ => None,
    }
}

/// Where each joint is in one frame.
fn places(joints: &[Joint], line: &[f64]) -> Vec<Option<DVec3>> {
    let mut turns: Vec<DMat3> = Vec::with_capacity(joints.len());
    let mut at: Vec<DVec3> = Vec::with_capacity(joints.len());
    let mut values = line.iter();
    for joint in joints {
        let (mut place, mut turn, mut moved) = (DVec3::ZERO, DMat3::IDENTITY, false);
        for (channel, value) in joint.channels.iter().zip(values.by_ref()) {
            match channel {
                Channel::Position(axis) => (place[*axis], moved) = (*value, true),
                Channel::Rotation(axis) => turn *= about(*axis, value.to_radians()),
            }
        }
        let own = if moved { place } else { joint.offset };
        let (above, from) = match joint.parent {
            Some(parent) => (turns[parent], at[parent]),
            None => (DMat3::IDENTITY, DVec3::ZERO),
        };
        at.push(from + above * own);
        turns.push(above * turn);
    }
    at.into_iter().map(Some).collect()
}

fn about(axis: usize, angle_rad: f64) -> DMat3 {
    match axis {
        0 => DMat3::from_rotation_x(angle_rad),
        1 => DMat3::from_rotation_y(angle_rad),
        _ => DMat3::from_rotation_z(angle_rad),
    }
}

fn expect(words: &mut SplitWhitespace<'_>, wanted: &str) -> Result<(), RecordedError> {
    match words.next() {
        Some(word) if word.eq_ignore_ascii_case(wanted) => Ok(()),
        Some(word) => Err(broken(format!("\"{word}\" stands where {wanted} should"))),
        None => Err(broken(format!("it is cut short before {wanted}"))),
    }
}

fn number(words: &mut SplitWhitespace<'_>, what: &str) -> Result<f64, RecordedError> {
    let number = words.next().and_then(|word| word.parse::<f64>().ok());
    let number = number.filter(|number| number.is_finite());
    number.ok_or_else(|| broken(format!("{what} is missing")))
}

fn broken(why: String) -> RecordedError {
    let format = "BVH";
    RecordedError::Broken { format, why }
}
