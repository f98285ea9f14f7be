//! Which part of the frames of one view is shown: the same window at every moment, so that the
//! golfer has one size and what moves on the page has moved in the film.

use lessonwright_model::PixelPoint;

/// A window of a frame, whole pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crop {
    /// Its left edge.
    pub left: usize,
    /// Its upper edge.
    pub top: usize,
    /// Its width.
    pub width: usize,
    /// Its height.
    pub height: usize,
}

/// Free room around the box of all landmarks, as a share of its height. Landmarks end at face,
/// wrists and feet; the club reaches farther, most of all upward and sideways. By eye.
const FREE_SIDES: f64 = 0.16;
const FREE_ABOVE: f64 = 0.22;
const FREE_BELOW: f64 = 0.07;

/// Width over height that the window is brought to where the frame allows.
const ASPECT: f64 = 0.66;

impl Crop {
    /// The window around `points` in a frame of `width × height`; the whole frame if there are no
    /// points. Points outside the frame count as on its edge.
    pub fn around(points: impl Iterator<Item = PixelPoint>, width: usize, height: usize) -> Crop {
        let (frame_width, frame_height) = (width as f64, height as f64);
        let mut bounds: Option<[f64; 4]> = None;
        for p in points.filter(|p| p.x.is_finite() && p.y.is_finite()) {
            let (x, y) = (p.x.clamp(0.0, frame_width), p.y.clamp(0.0, frame_height));
            let [left, top, right, bottom] = bounds.unwrap_or([x, y, x, y]);
            bounds = Some([left.min(x), top.min(y), right.max(x), bottom.max(y)]);
        }
        let Some([left, top, right, bottom]) = bounds else {
            return Crop {
                left: 0,
                top: 0,
                width,
                height,
            };
        };
        let body = bottom - top;
        let (top, bottom) = (top - FREE_ABOVE * body, bottom + FREE_BELOW * body);
        let (left, right) = (left - FREE_SIDES * body, right + FREE_SIDES * body);
        let wanted_width = (right - left).max(ASPECT * (bottom - top));
        let wanted_height = (bottom - top).max((right - left) / ASPECT);
        let (left, width) = window(0.5 * (left + right), wanted_width, width);
        // Room that the aspect adds goes above, where the club is, not below the feet.
        let (top, height) = window(bottom - 0.5 * wanted_height, wanted_height, height);
        Crop {
            left,
            top,
            width,
            height,
        }
    }

    /// A point of the frame in the picture that shows this window at `scale`.
    pub fn to_picture(self, point: PixelPoint, scale: f64) -> PixelPoint {
        PixelPoint {
            x: (point.x - self.left as f64) * scale,
            y: (point.y - self.top as f64) * scale,
        }
    }
}

/// A stretch of `wanted` around `centre`, pushed into `0..limit`: its start and length.
fn window(centre: f64, wanted: f64, limit: usize) -> (usize, usize) {
    let length = (wanted.ceil().max(1.0) as usize).min(limit);
    let start = (centre - 0.5 * length as f64).round().max(0.0) as usize;
    (start.min(limit - length), length)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_window_holds_the_golfer_in_the_frame_at_the_wanted_aspect() {
        let crop = Crop::around(golfer(800.0, 250.0, 640.0).into_iter(), 1920, 1080);
        assert!(crop.left + crop.width <= 1920 && crop.top + crop.height <= 1080);
        assert!(crop.left <= 700 && crop.left + crop.width >= 900);
        assert!(crop.top <= 250 && crop.top + crop.height >= 890);
        let aspect = crop.width as f64 / crop.height as f64;
        assert!((aspect - ASPECT).abs() < 0.01, "{aspect}");
    }

    #[test]
    fn a_golfer_at_the_edge_is_still_whole() {
        for (x, y) in [(40.0, 0.0), (1880.0, 380.0), (-50.0, -50.0)] {
            let points = golfer(x, y, 700.0);
            let crop = Crop::around(points.into_iter(), 1920, 1080);
            assert!(crop.left + crop.width <= 1920 && crop.top + crop.height <= 1080);
            for p in points {
                let (x, y) = (p.x.clamp(0.0, 1920.0), p.y.clamp(0.0, 1080.0));
                assert!(x >= crop.left as f64 && x <= (crop.left + crop.width) as f64);
                assert!(y >= crop.top as f64 && y <= (crop.top + crop.height) as f64);
            }
        }
    }

    #[test]
    fn the_mirror_image_has_the_mirrored_window() {
        let points = golfer(700.0, 200.0, 700.0);
        let mirrored = points.map(|p| PixelPoint {
            x: 1920.0 - p.x,
            ..p
        });
        let crop = Crop::around(points.into_iter(), 1920, 1080);
        let other = Crop::around(mirrored.into_iter(), 1920, 1080);
        assert_eq!(
            (crop.width, crop.height, crop.top),
            (other.width, other.height, other.top)
        );
        assert!(
            other.left.abs_diff(1920 - crop.left - crop.width) <= 1,
            "rounding alone"
        );
    }

    #[test]
    fn without_points_the_whole_frame_is_shown() {
        let nothing = [PixelPoint {
            x: f64::NAN,
            y: 1.0,
        }];
        let crop = Crop::around(nothing.into_iter(), 64, 36);
        assert_eq!(
            (crop.left, crop.top, crop.width, crop.height),
            (0, 0, 64, 36)
        );
    }

    #[test]
    fn a_landmark_keeps_its_place_on_the_golfer() {
        let crop = Crop {
            left: 100,
            top: 50,
            width: 300,
            height: 400,
        };
        let at = crop.to_picture(PixelPoint { x: 250.0, y: 250.0 }, 0.5);
        assert_eq!(at, PixelPoint { x: 75.0, y: 100.0 });
    }

    fn golfer(x: f64, top: f64, height: f64) -> [PixelPoint; 3] {
        [
            PixelPoint { x, y: top },
            PixelPoint {
                x: x - 0.15 * height,
                y: top + height,
            },
            PixelPoint {
                x: x + 0.15 * height,
                y: top + height,
            },
        ]
    }
}
