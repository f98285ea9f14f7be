//! The square in a picture in which one person is: where, how large, how turned.

use lessonwright_model::PixelPoint;

/// A square within a picture of any size, so that one found in a small copy serves the large one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Region {
    /// Centre, in picture widths from the left edge.
    pub centre_x: f64,
    /// Centre, in picture heights from the top edge.
    pub centre_y: f64,
    /// Side, in picture heights.
    pub side: f64,
    /// Turn of the square, clockwise as seen; 0 when the person stands upright, π upside down.
    pub rotation_rad: f64,
}

impl Region {
    /// The same square in a picture of this size.
    pub fn in_picture(&self, width_px: usize, height_px: usize) -> Square {
        Square {
            centre: PixelPoint {
                x: self.centre_x * width_px as f64,
                y: self.centre_y * height_px as f64,
            },
            side_px: self.side * height_px as f64,
            rotation_rad: self.rotation_rad,
        }
    }

    /// Whether the person's head is above the hips, bent over or not.
    pub fn is_upright(&self) -> bool {
        self.rotation_rad.cos() > 0.0
    }
}

/// A square in pixels of one picture; it may reach beyond the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Square {
    /// Centre.
    pub centre: PixelPoint,
    /// Side, px.
    pub side_px: f64,
    /// Turn, clockwise as seen.
    pub rotation_rad: f64,
}

impl Square {
    /// The square around a person, from the two points that the networks give for it: the
    /// mid-hip, and a point on the circle around the whole body, in the direction of the head.
    /// `scale` is the square's half-side over that circle's radius. (Bazarevsky et al. 2020,
    /// arXiv:2006.10204, section 2.2: "two virtual keypoints that describe the human body center,
    /// rotation and scale as a circle".)
    pub fn around(mid_hip: PixelPoint, on_circle: PixelPoint, scale: f64) -> Square {
        let (right, down) = (on_circle.x - mid_hip.x, on_circle.y - mid_hip.y);
        Square {
            centre: mid_hip,
            side_px: 2.0 * scale * right.hypot(down),
            // Straight up is no turn; to the right is a quarter turn.
            rotation_rad: right.atan2(-down),
        }
    }

    /// The square a `share` of the way to another one; turns take the shorter way round.
    pub fn towards(&self, other: &Square, share: f64) -> Square {
        use std::f64::consts::{PI, TAU};
        let turn = (other.rotation_rad - self.rotation_rad + PI).rem_euclid(TAU) - PI;
        let between = |from: f64, to: f64| from + share * (to - from);
        Square {
            centre: PixelPoint {
                x: between(self.centre.x, other.centre.x),
                y: between(self.centre.y, other.centre.y),
            },
            side_px: between(self.side_px, other.side_px),
            rotation_rad: self.rotation_rad + share * turn,
        }
    }

    /// The square as a [`Region`] of a picture of this size.
    pub fn as_region(&self, width_px: usize, height_px: usize) -> Region {
        Region {
            centre_x: self.centre.x / width_px as f64,
            centre_y: self.centre.y / height_px as f64,
            side: self.side_px / height_px as f64,
            rotation_rad: self.rotation_rad,
        }
    }

    /// The picture's point at (`u`, `v`) of the square, both 0..=1 from its own top left corner.
    pub fn point_at(&self, u: f64, v: f64) -> PixelPoint {
        let (sin, cos) = self.rotation_rad.sin_cos();
        let (right, down) = ((u - 0.5) * self.side_px, (v - 0.5) * self.side_px);
        PixelPoint {
            x: self.centre.x + cos * right - sin * down,
            y: self.centre.y + sin * right + cos * down,
        }
    }

    /// Whether a point of the picture lies within the square.
    pub fn holds(&self, point: PixelPoint) -> bool {
        let (u, v) = self.place_of(point);
        (0.0..=1.0).contains(&u) && (0.0..=1.0).contains(&v)
    }

    /// Where in the square a point of the picture lies: the inverse of [`Square::point_at`].
    pub fn place_of(&self, point: PixelPoint) -> (f64, f64) {
        let (sin, cos) = self.rotation_rad.sin_cos();
        let (right, down) = (point.x - self.centre.x, point.y - self.centre.y);
        (
            (cos * right + sin * down) / self.side_px + 0.5,
            (cos * down - sin * right) / self.side_px + 0.5,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI};

    const HIP: PixelPoint = PixelPoint { x: 100.0, y: 200.0 };

    #[test]
    fn turn_follows_the_head() {
        let cases = [
            ("upright", 0.0, -50.0, 0.0),
            ("head to the right", 50.0, 0.0, FRAC_PI_2),
            ("upside down", 0.0, 50.0, PI),
            ("head to the left", -50.0, 0.0, -FRAC_PI_2),
        ];
        for (name, right, down, rotation) in cases {
            let head = PixelPoint {
                x: HIP.x + right,
                y: HIP.y + down,
            };
            let square = Square::around(HIP, head, 1.25);
            assert!((square.rotation_rad - rotation).abs() < 1e-12, "{name}");
            assert!((square.side_px - 125.0).abs() < 1e-12, "{name}");
            // The head lies straight up from the square's centre in its own axes.
            let (u, v) = square.place_of(head);
            assert!((u - 0.5).abs() < 1e-12 && (v - 0.1).abs() < 1e-12, "{name}");
        }
    }

    #[test]
    fn place_and_point_are_inverse() {
        let square = Square {
            centre: HIP,
            side_px: 300.0,
            rotation_rad: 0.7,
        };
        for (u, v) in [(0.0, 0.0), (0.25, 0.9), (1.0, 0.3)] {
            let (back_u, back_v) = square.place_of(square.point_at(u, v));
            assert!((back_u - u).abs() < 1e-12 && (back_v - v).abs() < 1e-12);
        }
        let again = square.as_region(1080, 1920).in_picture(1080, 1920);
        assert!((again.side_px - square.side_px).abs() < 1e-9);
        assert!(again.centre.distance(square.centre) < 1e-9);
    }
}
