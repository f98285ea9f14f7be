//! Who of the people in a clip is the golfer: the one who swings.
//!
//! People who stand behind or beside the golfer are in the same place through the clip, as the
//! golfer is; but arms and club sweep through the golfer's upper body region. So detections are
//! grouped by place over time, and each group's region is asked how much its brightness changes
//! from picture to picture. Somebody upside down is the golfer only if nobody stands upright: towers and
//! trees have passed for such people.

use crate::detector::PersonDetector;
use crate::error::VisionError;
use crate::region::Region;
use lessonwright_model::Picture;
use std::f64::consts::TAU;

/// Detections whose centres are nearer than this, in sides of the region, are one person. Regions
/// are about 1.25 times as wide as a person is tall, so this is some 30 cm: people who stand apart
/// stay apart, and a golfer's hips move less than 15 cm (`reference-values`: pelvis sway).
const SAME_PLACE: f64 = 0.15;

/// People are looked for in one of so many pictures; in all of them, change is. Detection takes as
/// long as the landmarks of a whole picture.
const DETECT_EVERY: usize = 3;

/// A group seen in fewer of the pictures looked at than this is a passer-by or a false alarm.
const LEAST_SHARE_SEEN: f64 = 0.4;

/// Two people within this share of each other's motion are told apart by size: the golfer is the
/// one filmed, hence nearer. Chosen by reason, not tuned.
const MOTION_TIE: f64 = 0.8;

/// Change of brightness a cell and picture that noise and compression make, in 8-bit steps: less
/// is no motion.
const LEAST_MOTION: f64 = 0.1;

/// Cells along the picture's longer side in which brightness is averaged before comparing: about
/// 1.5 cm of a person that fills half of it, and enough pixels that noise averages out.
const CELLS: usize = 160;

/// The region of the person who swings, the median of that person's detections; `None` when
/// nobody is seen. Give it some pictures from the stretch of the swing, in order of time.
///
/// # Errors
/// When ONNX Runtime fails.
pub fn choose_golfer<'p>(
    detector: &mut PersonDetector,
    pictures: impl IntoIterator<Item = &'p Picture>,
) -> Result<Option<Region>, VisionError> {
    let mut search = GolferSearch::default();
    for picture in pictures {
        search.look(detector, picture)?;
    }
    Ok(search.golfer())
}

/// The same for pictures that come one by one.
#[derive(Debug, Default)]
pub struct GolferSearch {
    /// Width over height of the pictures.
    aspect: f64,
    pictures: usize,
    looked_at: usize,
    detections: Vec<Region>,
    last: Option<BrightnessMap>,
    /// Sum of changes over all pictures.
    change: Vec<f64>,
    columns: usize,
}

impl GolferSearch {
    /// Takes in the next picture; all must have the same size.
    ///
    /// # Errors
    /// When ONNX Runtime fails.
    ///
    /// # Panics
    /// When the picture has another size than the ones before.
    pub fn look(
        &mut self,
        detector: &mut PersonDetector,
        picture: &Picture,
    ) -> Result<(), VisionError> {
        if self.pictures.is_multiple_of(DETECT_EVERY) {
            let people = detector.detect(picture)?;
            self.detections.extend(people.iter().map(|p| p.region));
            self.looked_at += 1;
        }
        self.pictures += 1;
        self.aspect = picture.width as f64 / picture.height as f64;
        let map = BrightnessMap::of(picture);
        self.columns = map.columns;
        self.change.resize(map.cells.len(), 0.0);
        if let Some(last) = &self.last {
            map.add_change(last, &mut self.change);
        }
        self.last = Some(map);
        Ok(())
    }

    /// The region of the person who swings, as far as seen.
    pub fn golfer(&self) -> Option<Region> {
        let least = (LEAST_SHARE_SEEN * self.looked_at as f64).ceil().max(1.0) as usize;
        let mut people: Vec<Candidate> = self
            .groups()
            .into_iter()
            .filter(|group| group.len() >= least)
            .map(|group| {
                let region = median_region(&group);
                Candidate {
                    motion: self.motion_within(&region),
                    region,
                }
            })
            .collect();
        if people.iter().any(|person| person.region.is_upright()) {
            people.retain(|person| person.region.is_upright());
        }
        people.sort_by(|a, b| b.motion.total_cmp(&a.motion));
        let most = people.first()?.motion;
        people
            .into_iter()
            .filter(|person| person.motion >= MOTION_TIE * most)
            .max_by(|a, b| a.region.side.total_cmp(&b.region.side))
            .map(|person| person.region)
    }

    /// Detections by place. Each joins the group whose first member is nearest, or starts one.
    fn groups(&self) -> Vec<Vec<Region>> {
        let mut groups: Vec<Vec<Region>> = Vec::new();
        for region in &self.detections {
            let nearest = groups
                .iter_mut()
                .map(|group| (self.distance(&group[0], region), group))
                .min_by(|a, b| a.0.total_cmp(&b.0));
            match nearest {
                Some((distance, group)) if distance < SAME_PLACE => group.push(*region),
                _ => groups.push(vec![*region]),
            }
        }
        groups
    }

    /// Distance of two centres, in sides of the larger region; regions of very different size
    /// stand at different distances from the camera.
    fn distance(&self, a: &Region, b: &Region) -> f64 {
        let larger = a.side.max(b.side);
        let right = (a.centre_x - b.centre_x) * self.aspect;
        let down = a.centre_y - b.centre_y;
        let in_depth = (a.side - b.side) / 2.0;
        right.hypot(down).hypot(in_depth) / larger
    }

    /// Mean change of a cell and picture over the region's part from the hips up, less the change
    /// that the whole picture has in common (a moving camera, flicker), not below the noise.
    fn motion_within(&self, region: &Region) -> f64 {
        // Arms at full reach stay within these parts of the square; knees and feet lie below.
        const LEFT: f64 = 0.1;
        const RIGHT: f64 = 0.9;
        const TOP: f64 = 0.05;
        const BOTTOM: f64 = 0.6;
        let rows = self.change.len() / self.columns;
        let square = region.in_picture(self.columns, rows);
        let mut total = 0.0;
        let mut count = 0usize;
        for row in 0..rows {
            for column in 0..self.columns {
                let centre = lessonwright_model::PixelPoint {
                    x: column as f64 + 0.5,
                    y: row as f64 + 0.5,
                };
                let (u, v) = square.place_of(centre);
                if (LEFT..RIGHT).contains(&u) && (TOP..BOTTOM).contains(&v) {
                    total += self.change[row * self.columns + column];
                    count += 1;
                }
            }
        }
        let steps = self.pictures.saturating_sub(1).max(1) as f64;
        let mean = total / count.max(1) as f64 / steps;
        let common = median(self.change.clone()) / steps;
        (mean - common).max(LEAST_MOTION)
    }
}

struct Candidate {
    motion: f64,
    region: Region,
}

/// Mean brightness in square cells.
#[derive(Debug)]
struct BrightnessMap {
    columns: usize,
    cells: Vec<f64>,
}

impl BrightnessMap {
    fn of(picture: &Picture) -> Self {
        let cell = picture.width.max(picture.height).div_ceil(CELLS);
        let (columns, rows) = (picture.width.div_ceil(cell), picture.height.div_ceil(cell));
        let mut sums = vec![0u32; columns * rows];
        let mut counts = vec![0u32; columns * rows];
        for (y, line) in picture.luma.chunks_exact(picture.width).enumerate() {
            let start = (y / cell) * columns;
            for (column, part) in line.chunks(cell).enumerate() {
                sums[start + column] += part.iter().map(|&luma| u32::from(luma)).sum::<u32>();
                counts[start + column] += part.len() as u32;
            }
        }
        BrightnessMap {
            columns,
            cells: sums
                .iter()
                .zip(&counts)
                .map(|(&sum, &count)| f64::from(sum) / f64::from(count))
                .collect(),
        }
    }

    fn add_change(&self, before: &BrightnessMap, change: &mut [f64]) {
        assert_eq!(self.cells.len(), before.cells.len(), "pictures of one size");
        for ((sum, now), then) in change.iter_mut().zip(&self.cells).zip(&before.cells) {
            *sum += (now - then).abs();
        }
    }
}

/// Each number's median; turns are taken relative to the first one, so that they do not wrap.
fn median_region(regions: &[Region]) -> Region {
    let of = |value: &dyn Fn(&Region) -> f64| median(regions.iter().map(value).collect());
    let first = regions[0].rotation_rad;
    let turn = |region: &Region| {
        let difference = region.rotation_rad - first;
        difference - TAU * (difference / TAU).round()
    };
    Region {
        centre_x: of(&|region| region.centre_x),
        centre_y: of(&|region| region.centre_y),
        side: of(&|region| region.side),
        rotation_rad: first + of(&turn),
    }
}

/// The middle one, or the lower of the two middle ones; 0 of none.
fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values
        .get(values.len().saturating_sub(1) / 2)
        .copied()
        .unwrap_or(0.0)
}
