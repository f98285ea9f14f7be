//! How a stored picture is turned upright, from the container's display matrix (ISO/IEC 14496-12
//! 8.3.2, QuickTime File Format "Matrices"): x' = a·x + c·y, y' = b·x + d·y, x right and y down.

use serde::{Deserialize, Serialize};

/// Turn clockwise by `rotation_deg`, then mirror left to right if `mirrored`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Orientation {
    /// 0, 90, 180 or 270.
    pub rotation_deg: u16,
    /// As selfie cameras write it.
    pub mirrored: bool,
}

impl Orientation {
    /// From the signs of the matrix's first two rows [[a, b], [c, d]]; `None` for a slanted one.
    pub fn from_matrix([[a, b], [c, d]]: [[i64; 2]; 2]) -> Option<Orientation> {
        let (rotation_deg, mirrored) = match [a.signum(), b.signum(), c.signum(), d.signum()] {
            [1, 0, 0, 1] => (0, false),
            [0, 1, -1, 0] => (90, false),
            [-1, 0, 0, -1] => (180, false),
            [0, -1, 1, 0] => (270, false),
            [-1, 0, 0, 1] => (0, true),
            [0, 1, 1, 0] => (90, true),
            [1, 0, 0, -1] => (180, true),
            [0, -1, -1, 0] => (270, true),
            _ => return None,
        };
        Some(Orientation {
            rotation_deg,
            mirrored,
        })
    }

    /// From ffprobe's print of the nine numbers, one row a line ("00000000:  65536  0  0").
    pub fn from_printed_matrix(text: &str) -> Option<Orientation> {
        let rows: Vec<Vec<i64>> = text
            .lines()
            .filter_map(|line| line.split_once(':'))
            .map(|(_, numbers)| {
                let numbers = numbers.split_whitespace();
                numbers.filter_map(|n| n.parse().ok()).collect()
            })
            .collect();
        match rows.as_slice() {
            [first, second, ..] if first.len() == 3 && second.len() == 3 => {
                Orientation::from_matrix([[first[0], first[1]], [second[0], second[1]]])
            }
            _ => None,
        }
    }

    /// True if width and height change places.
    pub fn swaps_sides(self) -> bool {
        self.rotation_deg % 180 == 90
    }

    /// The ffmpeg filters that do it, each with a leading comma.
    pub fn filters(self) -> String {
        let turn = match self.rotation_deg {
            90 => ",transpose=clock",
            180 => ",hflip,vflip",
            270 => ",transpose=cclock",
            _ => "",
        };
        let mirror = if self.mirrored { ",hflip" } else { "" };
        format!("{turn}{mirror}")
    }
}
