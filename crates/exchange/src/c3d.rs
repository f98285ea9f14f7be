//! A motion as a C3D file: little-endian floating point ("Intel"), points in mm, no analogue channels.
//!
//! After The C3D File Format User Guide (Motion Lab Systems, 2008), sections "The Header Section", "The Parameter
//! Section" and "The 3D Point Section"; field places were written from memory of it and are held against ezc3d, which
//! reads the file in `testdata/exchange/reference.py`. Words of the header are counted from 1, as there.

use crate::ExchangeError;
use crate::motion::Motion;

const BLOCK: usize = 512;
/// Marks a C3D file, in its header and before its parameters.
const KEY: u8 = 0x50;
/// Processor type: little-endian IEEE floats.
const INTEL: u8 = 84;
const MM_PER_M: f64 = 1000.0;

/// The motion as C3D.
///
/// # Errors
/// If the motion is uneven, or has more points or instants than the format counts.
pub fn c3d(motion: &Motion) -> Result<Vec<u8>, ExchangeError> {
    motion.check()?;
    // Dimensions of a parameter are bytes; places in the header are 16 bits.
    limit("points", motion.names.len(), 255)?;
    limit("marks", motion.marks.len(), 255)?;
    limit("instants", motion.instants.len(), 32_767)?;
    // The place of the data is in the parameters, whose length does not depend on it.
    let blocks = parameters(motion, 0).len().div_ceil(BLOCK);
    let data_block = 2 + blocks;
    let mut file = header(motion, data_block);
    file.extend(parameters(motion, data_block));
    file.resize((1 + blocks) * BLOCK, 0);
    for points in &motion.instants {
        for point in points {
            let [x, y, z] = point.unwrap_or([0.0; 3]);
            // The fourth number: 0 for a point that is known, −1 for one that is not.
            let known = if point.is_some() { 0.0 } else { -1.0 };
            for number in [x * MM_PER_M, y * MM_PER_M, z * MM_PER_M, known] {
                file.extend((number as f32).to_le_bytes());
            }
        }
    }
    file.resize(file.len().div_ceil(BLOCK) * BLOCK, 0);
    Ok(file)
}

fn limit(what: &'static str, count: usize, most: usize) -> Result<(), ExchangeError> {
    match count <= most {
        true => Ok(()),
        false => Err(ExchangeError::TooMany { what, count, most }),
    }
}

fn header(motion: &Motion, data_block: usize) -> Vec<u8> {
    let mut header = vec![0; BLOCK];
    // Parameters begin in the second block.
    (header[0], header[1]) = (2, KEY);
    let mut word = |number: usize, value: usize| {
        header[2 * (number - 1)..2 * number].copy_from_slice(&(value as u16).to_le_bytes());
    };
    word(2, motion.names.len());
    word(4, 1);
    word(5, motion.instants.len());
    word(9, data_block);
    let mut float = |number: usize, value: f32| {
        header[2 * (number - 1)..2 * (number + 1)].copy_from_slice(&value.to_le_bytes());
    };
    // Scale: negative says that the data are floats.
    float(7, -1.0);
    float(11, motion.rate_hz as f32);
    header
}

fn parameters(motion: &Motion, data_block: usize) -> Vec<u8> {
    let int = |value: usize| Value::Ints(vec![value as i16]);
    let names: Vec<&str> = motion.names.iter().map(String::as_str).collect();
    let marks: Vec<&str> = motion.marks.iter().map(|mark| mark.name.as_str()).collect();
    let times = motion
        .marks
        .iter()
        .flat_map(|mark| [0.0, mark.time_s as f32]);
    let mut section = Section::default();
    section.group(1, "POINT");
    section.add(1, "USED", &int(motion.names.len()));
    section.add(1, "SCALE", &Value::Float(-1.0));
    section.add(1, "RATE", &Value::Float(motion.rate_hz as f32));
    section.add(1, "DATA_START", &int(data_block));
    section.add(1, "FRAMES", &int(motion.instants.len()));
    section.add(1, "LABELS", &Value::Words(names.clone()));
    section.add(1, "DESCRIPTIONS", &Value::Words(names));
    section.add(1, "UNITS", &Value::Word("mm"));
    section.add(1, "X_SCREEN", &Value::Word("+X"));
    section.add(1, "Y_SCREEN", &Value::Word("+Y"));
    section.group(2, "ANALOG");
    section.add(2, "USED", &int(0));
    section.add(2, "GEN_SCALE", &Value::Float(1.0));
    section.add(2, "RATE", &Value::Float(0.0));
    section.group(3, "EVENT");
    section.add(3, "USED", &int(motion.marks.len()));
    section.add(3, "CONTEXTS", &Value::Words(vec!["General"; marks.len()]));
    section.add(3, "LABELS", &Value::Words(marks));
    section.add(3, "TIMES", &Value::Pairs(times.collect()));
    section.end()
}

enum Value<'a> {
    Ints(Vec<i16>),
    Float(f32),
    Word(&'a str),
    Words(Vec<&'a str>),
    /// Two a column.
    Pairs(Vec<f32>),
}

impl Value<'_> {
    /// Type, dimensions and bytes.
    fn parts(&self) -> (i8, Vec<u8>, Vec<u8>) {
        match self {
            Value::Ints(values) => (
                2,
                vec![],
                values.iter().flat_map(|v| v.to_le_bytes()).collect(),
            ),
            Value::Float(value) => (4, vec![], value.to_le_bytes().to_vec()),
            Value::Word(word) => (-1, vec![word.len() as u8], word.as_bytes().to_vec()),
            Value::Words(words) => {
                let width = words.iter().map(|w| w.len()).max().unwrap_or(0).min(255);
                let padded = words.iter().flat_map(|w| {
                    let letters = w.bytes().chain(std::iter::repeat(b' '));
                    letters.take(width).collect::<Vec<_>>()
                });
                (-1, vec![width as u8, words.len() as u8], padded.collect())
            }
            Value::Pairs(values) => {
                let bytes = values.iter().flat_map(|v| v.to_le_bytes()).collect();
                (4, vec![2, (values.len() / 2) as u8], bytes)
            }
        }
    }
}

/// Groups and parameters, one after the other; each says how far it is to the next.
#[derive(Default)]
struct Section {
    records: Vec<(Vec<u8>, Vec<u8>)>,
}

impl Section {
    fn group(&mut self, number: i8, name: &str) {
        // After the way to the next: a description of no letters.
        self.records.push((named(-number, name), vec![0]));
    }

    fn add(&mut self, group: i8, name: &str, value: &Value<'_>) {
        let (kind, dimensions, bytes) = value.parts();
        let mut body = vec![kind.to_le_bytes()[0], dimensions.len() as u8];
        body.extend(dimensions);
        body.extend(bytes);
        body.push(0);
        self.records.push((named(group, name), body));
    }

    fn end(self) -> Vec<u8> {
        let mut bytes = vec![1, KEY, 0, INTEL];
        let last = self.records.len() - 1;
        for (place, (head, body)) in self.records.into_iter().enumerate() {
            bytes.extend(head);
            // Counted from its own first byte; nought after the last.
            let way = if place == last { 0 } else { body.len() + 2 };
            bytes.extend((way as u16).to_le_bytes());
            bytes.extend(body);
        }
        bytes[2] = bytes.len().div_ceil(BLOCK) as u8;
        bytes
    }
}

fn named(number: i8, name: &str) -> Vec<u8> {
    let mut bytes = vec![name.len() as u8, number.to_le_bytes()[0]];
    bytes.extend(name.as_bytes());
    bytes
}
