//! The places in the detector's input from which its boxes are measured.
//!
//! The detector is a "single shot" one (Liu et al. 2016, arXiv:1512.02325): every cell of some
//! feature maps proposes boxes. Its maps have strides of 8, 16 and three times 32 px and two
//! proposals a cell and map; all boxes have the unit size, so an anchor is only a point.

/// Side of the detector's input, px.
pub(crate) const INPUT_SIDE: usize = 224;

/// How many anchors there are.
pub(crate) const ANCHORS: usize = 2254;

/// Stride of a group of maps, px, and how many proposals a cell has in that group.
const GROUPS: [(usize, usize); 3] = [(8, 2), (16, 2), (32, 6)];

/// Cell centres (x, y), in units of the input's side, in the order of the detector's outputs.
pub(crate) fn anchors() -> Vec<[f32; 2]> {
    let mut anchors = Vec::with_capacity(ANCHORS);
    for (stride, proposals) in GROUPS {
        let cells = INPUT_SIDE / stride;
        let centre = |cell: usize| (cell as f32 + 0.5) / cells as f32;
        for row in 0..cells {
            for column in 0..cells {
                anchors.extend(std::iter::repeat_n(
                    [centre(column), centre(row)],
                    proposals,
                ));
            }
        }
    }
    anchors
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_many_as_the_detector_has_outputs() {
        let anchors = anchors();
        assert_eq!(anchors.len(), ANCHORS);
        assert_eq!(anchors[0], [4.0 / 224.0, 4.0 / 224.0]);
        assert_eq!(anchors[2], [12.0 / 224.0, 4.0 / 224.0]);
        assert_eq!(anchors[28 * 28 * 2], [8.0 / 224.0, 8.0 / 224.0]);
        assert_eq!(anchors[ANCHORS - 1], [208.0 / 224.0, 208.0 / 224.0]);
    }
}
