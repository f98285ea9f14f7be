//! Which of a recording's points are which part of the body.
//!
//! Points named as joints are joints: names that skeletons of animation commonly have, and those of our own exports. Where a joint is not
//! named, its centre is worked out from markers with published rules, all from memory of the papers:
//! - hip: Harrington et al. 2007 (J Biomech 40, 595–602), from the width and depth of the pelvis between its four spines;
//! - knee, ankle: midway between the two epicondyles or malleoli (Wu et al. 2002, J Biomech 35, 543–548);
//! - elbow, wrist: midway between epicondyles or styloids (Wu et al. 2005, J Biomech 38, 981–992);
//! - shoulder: below the acromion by 17 % of the distance between both (Rab et al. 2002, Gait Posture 15, 250–258).
//!
//! A joint with a marker on one side alone is refused: how thick the joint is, nobody measured.

use super::{Recorded, RecordedError};
use glam::DVec3;

/// Parts of the body that come in pairs, in the order of [`Found::pairs`].
pub const PARTS: [&str; 8] = [
    "hip", "shoulder", "elbow", "wrist", "knee", "ankle", "heel", "toe",
];
pub const HIP: usize = 0;
pub const SHOULDER: usize = 1;
pub const WRIST: usize = 3;
pub const KNEE: usize = 4;
pub const ANKLE: usize = 5;
const HEEL: usize = 6;
pub const TOE: usize = 7;

/// Names of joints, without the side, lower case; the first that is there counts ("arm" before "shoulder", which is the collar
/// bone where both are there).
const JOINTS: [&[&str]; 8] = [
    &["upleg", "thigh", "hip", "upperleg", "femur", "hjc"],
    &["arm", "upperarm", "uparm", "humerus", "shoulder", "sjc"],
    &["forearm", "elbow", "lowerarm", "lowarm", "radius", "ejc"],
    &["hand", "wrist", "wjc"],
    &[
        "leg", "knee", "shin", "calf", "lowerleg", "lowleg", "tibia", "kjc",
    ],
    &["foot", "ankle", "ajc"],
    &["heel", "hee"],
    &["toebase", "toe", "toes", "ball", "footend", "ankleend"],
];

/// Markers on the outer and the inner side of a joint, without the side.
const SIDES_OF: [Option<(&[&str], &[&str])>; 8] = [
    None,
    None,
    Some((&["elb", "elbl", "lelb"], &["elbm", "elm", "melb", "elbmed"])),
    Some((&["wra"], &["wrb"])),
    Some((&["kne", "knel"], &["knm", "knem", "mkne", "knemed"])),
    Some((&["ank", "ankl"], &["ankm", "anm", "mank", "med", "ankmed"])),
    None,
    None,
];

/// How a point is come by.
#[derive(Clone, Debug, PartialEq)]
pub enum Source {
    Point(usize),
    Middle(usize, usize),
    /// Spines of the pelvis: front left and right, back left and right (twice the same for the middle); which side.
    Hip([usize; 4], bool),
    /// Acromia left and right, the front spines, which side.
    Shoulder([usize; 4], bool),
    /// Behind and below this side's ankle, on the line through toe and ankle, 0.3 of their distance: a foot is stiff.
    BehindAnkle,
}

/// Where the body is among the points.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// True if the names say lead and trail, false if left and right.
    pub by_lead: bool,
    /// Left or lead, then right or trail; each part of [`PARTS`].
    pub pairs: [[Source; 8]; 2],
    pub head: Source,
    /// What stands in for what.
    pub notes: Vec<String>,
}

/// Finds every part.
pub fn find(recorded: &Recorded) -> Result<Found, RecordedError> {
    let names: Vec<String> = recorded.names.iter().map(|name| plain(name)).collect();
    let by_lead = names.iter().any(|name| name.starts_with("lead"));
    let sides: [&[&str]; 2] = match by_lead {
        true => [&["lead"], &["trail"]],
        false => [&["left", "l"], &["right", "r"]],
    };
    let mut missing = Vec::new();
    let mut notes = Vec::new();
    let mut pairs = sides.map(|_| std::array::from_fn(|_| Source::BehindAnkle));
    for (side, prefixes) in sides.iter().enumerate() {
        for (part, place) in pairs[side].iter_mut().enumerate() {
            match source(&names, prefixes, side, part) {
                Some(source) => *place = source,
                None if part == HEEL => {}
                None => missing.push(wanted(prefixes[0], part)),
            }
        }
    }
    let head = head(&names);
    if head.is_none() {
        missing.push("the head (Nose, Head; or markers LFHD and RFHD)".into());
    }
    let Some(head) = head.filter(|_| missing.is_empty()) else {
        let known: Vec<&str> = recorded.names.iter().map(String::as_str).collect();
        let known = match known.len() > 40 {
            true => format!("{} and {} more", known[..40].join(", "), known.len() - 40),
            false => known.join(", "),
        };
        let missing = missing.join("; ");
        return Err(RecordedError::NoPoints { missing, known });
    };
    let all = pairs.iter().flatten();
    if all
        .clone()
        .any(|source| matches!(source, Source::BehindAnkle))
    {
        notes.push(
            "the capture has no heels: they are placed behind the ankles, in line with the toes"
                .into(),
        );
    }
    if all
        .clone()
        .any(|source| matches!(source, Source::Hip(..) | Source::Shoulder(..)))
    {
        notes.push(
            "hips and shoulders are worked out from markers (Harrington 2007, Rab 2002), which are off by a centimetre or two"
                .into(),
        );
    }
    if !names.iter().any(|name| name == "nose") {
        notes.push("the capture has no nose: the head's own point stands in for it".into());
    }
    Ok(Found {
        by_lead,
        pairs,
        head,
        notes,
    })
}

/// Lower case, letters and figures alone, without what stands before a colon.
fn plain(name: &str) -> String {
    let last = name.rsplit(':').next().unwrap_or(name);
    last.chars()
        .filter(|c| c.is_alphanumeric())
        .flat_map(char::to_lowercase)
        .collect()
}

fn named(names: &[String], sides: &[&str], bases: &[&str]) -> Option<usize> {
    bases.iter().find_map(|base| {
        sides.iter().find_map(|side| {
            let (before, after) = (format!("{side}{base}"), format!("{base}{side}"));
            names
                .iter()
                .position(|name| *name == before || *name == after)
        })
    })
}

fn source(names: &[String], sides: &[&str], side: usize, part: usize) -> Option<Source> {
    if let Some(point) = named(names, sides, JOINTS[part]) {
        return Some(Source::Point(point));
    }
    if let Some((outer, inner)) = SIDES_OF[part] {
        let (outer, inner) = (named(names, sides, outer)?, named(names, sides, inner)?);
        return Some(Source::Middle(outer, inner));
    }
    let of = |name: &str| names.iter().position(|known| known == name);
    let front = [of("lasi")?, of("rasi")?];
    match part {
        HIP => {
            let middle = of("sacr");
            let back = [of("lpsi").or(middle)?, of("rpsi").or(middle)?];
            Some(Source::Hip(
                [front[0], front[1], back[0], back[1]],
                side == 0,
            ))
        }
        SHOULDER => {
            let acromia = [of("lsho")?, of("rsho")?];
            Some(Source::Shoulder(
                [acromia[0], acromia[1], front[0], front[1]],
                side == 0,
            ))
        }
        _ => None,
    }
}

fn head(names: &[String]) -> Option<Source> {
    let of = |name: &str| names.iter().position(|known| known == name);
    if let Some(nose) = of("nose") {
        return Some(Source::Point(nose));
    }
    let end = of("headend").or(of("headnub")).or(of("headtop"));
    match (of("head"), end, of("lfhd").zip(of("rfhd"))) {
        (Some(head), Some(end), _) => Some(Source::Middle(head, end)),
        (Some(head), None, _) => Some(Source::Point(head)),
        (None, _, Some((left, right))) => Some(Source::Middle(left, right)),
        _ => None,
    }
}

/// A part that is missing, and the names that would do.
fn wanted(side: &str, part: usize) -> String {
    let letter = side.chars().next().unwrap_or('l').to_ascii_uppercase();
    let cased = format!("{letter}{}", &side[1..]);
    let name = JOINTS[part][0];
    let joint = format!("{cased}{}{}", name[..1].to_ascii_uppercase(), &name[1..]);
    let markers = match part {
        HIP => "; or markers LASI, RASI, LPSI, RPSI".to_owned(),
        SHOULDER => "; or markers LSHO, RSHO with LASI, RASI".to_owned(),
        _ => SIDES_OF[part].map_or(String::new(), |(outer, inner)| {
            let marker = |names: &[&str]| format!("{letter}{}", names[0].to_ascii_uppercase());
            format!("; or markers {} and {}", marker(outer), marker(inner))
        }),
    };
    format!("the {side} {} ({joint}{markers})", PARTS[part])
}

impl Source {
    /// The point at one instant, in the file's unit, of which `unit_m` is one.
    pub fn place(&self, points: &[Option<DVec3>], unit_m: f64) -> Option<DVec3> {
        let at = |point: usize| points[point];
        match *self {
            Source::Point(point) => at(point),
            Source::Middle(one, other) => Some(at(one)?.midpoint(at(other)?)),
            Source::Hip([lf, rf, lb, rb], left) => {
                let spines = [at(lf)?, at(rf)?, at(lb)?, at(rb)?];
                hip(spines, left, unit_m)
            }
            Source::Shoulder([l, r, lf, rf], left) => {
                let (l, r, pelvis) = (at(l)?, at(r)?, at(lf)?.midpoint(at(rf)?));
                let down = (pelvis - l.midpoint(r)).try_normalize()?;
                let acromion = if left { l } else { r };
                Some(acromion + down * (0.17 * l.distance(r)))
            }
            Source::BehindAnkle => None,
        }
    }
}

/// Harrington et al. 2007, in the pelvis's axes from midway between the front spines, mm, with PW between these and PD to midway
/// between the back ones: forward −0.24 PD − 9.9, up −0.30 PW − 10.9, aside 0.33 PW + 7.3.
fn hip([lf, rf, lb, rb]: [DVec3; 4], left: bool, unit_m: f64) -> Option<DVec3> {
    let (front, back) = (lf.midpoint(rf), lb.midpoint(rb));
    let right = (rf - lf).try_normalize()?;
    let forward = (front - back)
        .reject_from_normalized(right)
        .try_normalize()?;
    let up = right.cross(forward);
    let (width, depth) = (lf.distance(rf), front.distance(back));
    let mm = 0.001 / unit_m;
    let aside = (0.33 * width + 7.3 * mm) * if left { -1.0 } else { 1.0 };
    Some(
        front
            + forward * (-0.24 * depth - 9.9 * mm)
            + up * (-0.30 * width - 10.9 * mm)
            + right * aside,
    )
}
