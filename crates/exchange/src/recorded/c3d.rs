//! C3D of any program with Intel numbers: points as floats or scaled 16-bit integers.
//!
//! After The C3D File Format User Guide (Motion Lab Systems, 2008), sections "The Header Section", "The Parameter Section" and
//! "The 3D Point Section"; places from memory of it, held against files that ezc3d and c3d wrote (`testdata/exchange`).

use super::{Recorded, RecordedError};
use glam::DVec3;
use std::collections::BTreeMap;

/// The second byte of every C3D file.
pub const KEY: u8 = 0x50;
const BLOCK: usize = 512;
/// Processor type: little-endian.
const INTEL: u8 = 84;

/// Reads a C3D file.
pub fn read(bytes: &[u8]) -> Result<Recorded, RecordedError> {
    let parameters_at = (usize::from(byte(bytes, 0)?).max(1) - 1) * BLOCK;
    let processor = byte(bytes, parameters_at + 3)?;
    if processor != INTEL {
        return Err(broken(format!(
            "its numbers are those of another processor (type {processor}, not Intel's {INTEL}): export it for Intel"
        )));
    }
    let parameters = parameters(bytes, parameters_at)?;
    let text = |name: &str| parameters.get(name).map(Parameter::words);
    let whole = |name: &str| parameters.get(name).and_then(Parameter::number);
    let points = word(bytes, 2)?;
    let analog = word(bytes, 3)?;
    let (first, last) = (word(bytes, 4)?, word(bytes, 5)?);
    let scale = float(bytes, 2 * 6)?;
    let rate_hz = whole("POINT:RATE").map_or_else(|| float(bytes, 2 * 10).map(f64::from), Ok)?;
    let data_block = whole("POINT:DATA_START").unwrap_or(f64::from(word(bytes, 9)? as u16));
    if !(rate_hz > 0.0 && rate_hz.is_finite()) || points == 0 {
        return Err(broken(format!("{points} points at {rate_hz} a second")));
    }
    let numbers = if scale < 0.0 { 4 } else { 2 };
    let frame_bytes = (4 * points + analog) * numbers;
    let announced = match whole("POINT:FRAMES") {
        // A count past 32 767 is written as a negative number by some, past 65 535 as the most there is.
        Some(count) if count > 0.0 && count < 65_535.0 => count as usize,
        _ => (last + 1).saturating_sub(first),
    };
    let data_at = (data_block.max(1.0) as usize - 1) * BLOCK;
    let there = bytes.len().saturating_sub(data_at) / frame_bytes;
    if there < announced {
        return Err(broken(format!(
            "it is cut short: {announced} frames are announced, {there} are there"
        )));
    }
    let instants = (0..announced)
        .map(|frame| instant(bytes, data_at + frame * frame_bytes, points, scale))
        .collect::<Result<Vec<_>, _>>()?;
    let mut names = text("POINT:LABELS").unwrap_or_default();
    for more in 2..10 {
        names.extend(text(&format!("POINT:LABELS{more}")).unwrap_or_default());
    }
    names.resize(points, String::new());
    let unit = text("POINT:UNITS").and_then(|units| units.into_iter().next());
    Ok(Recorded {
        rate_hz,
        names,
        instants,
        unit_m: unit.and_then(|unit| match unit.to_ascii_lowercase().as_str() {
            "mm" => Some(0.001),
            "cm" => Some(0.01),
            "m" => Some(1.0),
            "in" | "inch" | "inches" => Some(0.0254),
            _ => None,
        }),
    })
}

/// The points of one frame; a fourth number below nought says that a point is not known.
fn instant(
    bytes: &[u8],
    at: usize,
    points: usize,
    scale: f32,
) -> Result<Vec<Option<DVec3>>, RecordedError> {
    let one = |point: usize| {
        let number = |which: usize| -> Result<f64, RecordedError> {
            let place = 4 * point + which;
            match scale < 0.0 {
                true => float(bytes, at + 4 * place).map(f64::from),
                false => {
                    let raw = f64::from(i16::from_le_bytes(array(bytes, at + 2 * place)?));
                    Ok(if which < 3 {
                        raw * f64::from(scale)
                    } else {
                        raw
                    })
                }
            }
        };
        let place = DVec3::new(number(0)?, number(1)?, number(2)?);
        let known = number(3)? >= 0.0 && place.is_finite() && place != DVec3::ZERO;
        Ok(known.then_some(place))
    };
    (0..points).map(one).collect()
}

/// A parameter's type, dimensions and bytes.
struct Parameter {
    kind: i8,
    dimensions: Vec<u8>,
    bytes: Vec<u8>,
}

impl Parameter {
    fn number(&self) -> Option<f64> {
        match self.kind {
            2 => Some(f64::from(u16::from_le_bytes(array(&self.bytes, 0).ok()?))),
            4 => Some(f64::from(f32::from_le_bytes(array(&self.bytes, 0).ok()?))),
            1 => self.bytes.first().copied().map(f64::from),
            _ => None,
        }
    }

    fn words(&self) -> Vec<String> {
        let width = usize::from(self.dimensions.first().copied().unwrap_or(0)).max(1);
        let words = self.bytes.chunks(width);
        words
            .map(|word| String::from_utf8_lossy(word).trim().to_owned())
            .collect()
    }
}

/// All parameters, by "GROUP:NAME".
fn parameters(bytes: &[u8], at: usize) -> Result<BTreeMap<String, Parameter>, RecordedError> {
    let mut groups: BTreeMap<i8, String> = BTreeMap::new();
    let mut found: Vec<(i8, String, Parameter)> = Vec::new();
    let mut at = at + 4;
    loop {
        // A locked name has its length below nought.
        let length = usize::from((byte(bytes, at)? as i8).unsigned_abs());
        let group = byte(bytes, at + 1)? as i8;
        if length == 0 || group == 0 {
            break;
        }
        let name = slice(bytes, at + 2, length)?;
        let name = String::from_utf8_lossy(name).trim().to_ascii_uppercase();
        let way_at = at + 2 + length;
        let way = usize::from(u16::from_le_bytes(array(bytes, way_at)?));
        if group < 0 {
            groups.insert(-group, name);
        } else {
            found.push((group, name, parameter(bytes, way_at + 2)?));
        }
        if way == 0 {
            break;
        }
        at = way_at + way;
    }
    let named = found.into_iter().filter_map(|(group, name, parameter)| {
        Some((format!("{}:{name}", groups.get(&group)?), parameter))
    });
    Ok(named.collect())
}

fn parameter(bytes: &[u8], at: usize) -> Result<Parameter, RecordedError> {
    let kind = byte(bytes, at)? as i8;
    let count = usize::from(byte(bytes, at + 1)?);
    let dimensions = slice(bytes, at + 2, count)?.to_vec();
    let values: usize = dimensions.iter().map(|d| usize::from(*d)).product();
    let length = values * usize::from(kind.unsigned_abs());
    Ok(Parameter {
        kind,
        dimensions,
        bytes: slice(bytes, at + 2 + count, length)?.to_vec(),
    })
}

/// A word of the header, counted from 1.
fn word(bytes: &[u8], number: usize) -> Result<usize, RecordedError> {
    let two = array(bytes, 2 * (number - 1))?;
    Ok(usize::from(u16::from_le_bytes(two)))
}

fn float(bytes: &[u8], at: usize) -> Result<f32, RecordedError> {
    Ok(f32::from_le_bytes(array(bytes, at)?))
}

fn byte(bytes: &[u8], at: usize) -> Result<u8, RecordedError> {
    Ok(array::<1>(bytes, at)?[0])
}

fn array<const N: usize>(bytes: &[u8], at: usize) -> Result<[u8; N], RecordedError> {
    let mut array = [0; N];
    array.copy_from_slice(slice(bytes, at, N)?);
    Ok(array)
}

fn slice(bytes: &[u8], at: usize, length: usize) -> Result<&[u8], RecordedError> {
    let end = at.checked_add(length);
    let found = end.and_then(|end| bytes.get(at..end));
    found.ok_or_else(|| broken("it is cut short".into()))
}

fn broken(why: String) -> RecordedError {
    let format = "C3D";
    RecordedError::Broken { format, why }
}
