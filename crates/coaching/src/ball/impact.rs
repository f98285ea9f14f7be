//! Impact: from the club's delivery to the ball's launch, and back.
//!
//! The D-plane (Jorgensen, *The Physics of Golf*, 2nd ed. 1999): the ball leaves in the plane of
//! the club head's velocity `v` and the face's normal `n`, and spins about the normal of that plane.
//! A rigid sphere that rolls before it leaves, struck by a free head of mass M (Daish 1972; Penner
//! 2001, Am J Phys 69:563–568). With unit vectors, m the ball's mass, r its radius, e the
//! coefficient of restitution, V the head's speed and w = v − (v·n)n the slip along the face:
//!
//! ```text
//! b = V·[ (1+e)/(1+m/M)·(v·n)·n  +  (2/7)/(1+2m/7M)·w ]       velocity of the ball
//! ω = V·(5/7)/(r·(1+2m/7M)) · w×n                             its spin
//! ```
//!
//! Off the centre by y toward the toe, the head turns about its centre of mass, which lies D behind
//! the face; the face slides toward the toe under the ball, u = κ·V·(v·n) with
//! κ = (yD/I)·m(1+e)/(1+m/M), and that is added to w (the gear effect; derived here to first order in
//! y, I the head's moment of inertia about the vertical). A face bulged with radius R points y/R
//! farther toward the toe there.
//!
//! Spin comes out high for irons: their grooves and covers slip, which the model does not.

use glam::DVec3;

/// Mass of the heaviest ball allowed, kg: 1.620 oz (Equipment Rules, part 4).
pub const BALL_MASS_KG: f64 = 0.045_93;
/// Radius of the smallest ball allowed, m: half of 1.680 in (Equipment Rules, part 4).
pub const BALL_RADIUS_M: f64 = 0.021_335;
/// Part of the slip that a solid sphere keeps as velocity when it rolls off: 2/7.
pub const ROLLING: f64 = 2.0 / 7.0;

/// How the club head meets the ball. Angles in radians, in the player's world (see [`super`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Delivery {
    /// Speed of the head's centre, m/s.
    pub speed_m_s: f64,
    /// Path: the head's direction seen from above; + away from the player (in to out).
    pub path_rad: f64,
    /// Attack angle: the head's direction above the level; + up.
    pub attack_rad: f64,
    /// Face angle at the face's centre, against the target line; + away from the player (open).
    pub face_rad: f64,
    /// Dynamic loft: the face's angle above the level.
    pub loft_rad: f64,
}

/// How the ball leaves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Launch {
    /// Speed, m/s.
    pub speed_m_s: f64,
    /// Start direction seen from above, rad; + away from the player.
    pub start_rad: f64,
    /// Launch angle above the level, rad.
    pub angle_rad: f64,
    /// Spin about its axis, rad/s; not negative.
    pub spin_rad_s: f64,
    /// Tilt of the spin axis out of the level, rad; + curves away from the player.
    pub tilt_rad: f64,
}

/// Head and ball as they collide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Collision {
    /// The head's mass, kg.
    pub head_mass_kg: f64,
    /// Coefficient of restitution.
    pub restitution: f64,
    /// Part of the slip that stays with the ball as velocity; [`ROLLING`] for the rigid sphere.
    pub kept_slip: f64,
}

/// Where on the face, and what the face does there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceSpot {
    /// From the centre toward the toe, m.
    pub toward_toe_m: f64,
    /// The head's centre of mass behind the face, m.
    pub depth_m: f64,
    /// The head's moment of inertia about the vertical through its centre of mass, kg·m².
    pub inertia_kg_m2: f64,
    /// One over the radius of the bulge, 1/m; 0 for a flat face.
    pub bulge_per_m: f64,
}

impl FaceSpot {
    /// The middle of the face, where the head's build does not matter.
    pub const CENTRE: FaceSpot = FaceSpot {
        toward_toe_m: 0.0,
        depth_m: 0.0,
        inertia_kg_m2: 1.0,
        bulge_per_m: 0.0,
    };

    /// How much farther toward the toe the face points here than at its centre, rad: y/R.
    fn bulge_rad(&self) -> f64 {
        self.toward_toe_m * self.bulge_per_m
    }
}

impl Collision {
    /// A driver's head: 200 g, restitution 0.78 (reference values T7).
    pub const DRIVER: Collision = Collision {
        head_mass_kg: 0.200,
        restitution: 0.78,
        kept_slip: ROLLING,
    };

    /// (1+e)/(1+m/M): what of the head's normal speed becomes the ball's.
    fn normal_gain(&self) -> f64 {
        (1.0 + self.restitution) / (1.0 + BALL_MASS_KG / self.head_mass_kg)
    }

    /// 1/(1+2m/7M): the head gives way to friction, too.
    fn yielding(&self) -> f64 {
        1.0 / (1.0 + ROLLING * BALL_MASS_KG / self.head_mass_kg)
    }

    /// tan ε / tan δ: how far the ball leaves from the face's normal, for its slip.
    fn drag_along(&self) -> f64 {
        self.kept_slip * self.yielding() / self.normal_gain()
    }

    /// κ = (yD/I)·m(1+e)/(1+m/M).
    fn gear(&self, spot: &FaceSpot) -> f64 {
        spot.toward_toe_m * spot.depth_m / spot.inertia_kg_m2 * BALL_MASS_KG * self.normal_gain()
    }

    /// Ball speed, m/s, for a head's speed and the angle from its direction up to the ball's.
    ///
    /// That angle is δ − ε, with tan ε = k·tan δ: small enough to take ε = k·δ.
    pub fn ball_speed(&self, head_speed_m_s: f64, launch_over_attack_rad: f64) -> f64 {
        let along = self.drag_along();
        let spin_loft = launch_over_attack_rad / (1.0 - along);
        head_speed_m_s * self.normal_gain() * spin_loft.cos() * (along * spin_loft.tan()).hypot(1.0)
    }

    /// How the ball leaves. A delivery without any slip has no spin and a level axis.
    pub fn launch(&self, delivery: &Delivery, spot: &FaceSpot) -> Launch {
        let velocity = direction(delivery.path_rad, delivery.attack_rad);
        let normal = direction(delivery.face_rad + spot.bulge_rad(), delivery.loft_rad);
        let along_normal = velocity.dot(normal);
        let slip =
            velocity - along_normal * normal + self.gear(spot) * along_normal * toe_side(normal);
        let ball =
            self.normal_gain() * along_normal * normal + self.kept_slip * self.yielding() * slip;
        let axis = slip.cross(normal);
        Launch {
            speed_m_s: delivery.speed_m_s * ball.length(),
            start_rad: ball.z.atan2(ball.x),
            angle_rad: (ball.y / ball.length()).asin(),
            spin_rad_s: delivery.speed_m_s * (1.0 - ROLLING) * self.yielding() * axis.length()
                / BALL_RADIUS_M,
            tilt_rad: -axis.normalize_or(DVec3::Z).y.asin(),
        }
    }

    /// The delivery that gives this launch with this attack angle; exact inverse of
    /// [`Collision::launch`], speed and spin rate aside (its speed is the one that gives the ball's).
    ///
    /// None where no delivery does: an axis too steep for the launch, or an attack angle not below
    /// the launch or more than a spin loft of 63° under it.
    pub fn delivery(&self, launch: &Launch, attack_rad: f64, spot: &FaceSpot) -> Option<Delivery> {
        let plane = LaunchPlane::of(launch)?;
        let gear = self.gear(spot);
        // The head's direction for a slip of t = tan(spin loft) times the normal speed.
        let head = |slip: f64| {
            let normal = plane.above_ball(self.drag_along() * slip);
            let down_the_face = normal.cross(plane.axis);
            let velocity = normal + slip * down_the_face - gear * toe_side(normal);
            (velocity.normalize(), normal)
        };
        let attack = attack_rad.sin();
        let too_high = |slip: f64| head(slip).0.y > attack;
        let slip = falls_at(too_high, MOST_SLIP)?;
        let (velocity, normal) = head(slip);
        let along_normal = velocity.dot(normal);
        let ball_speed = self.normal_gain() * along_normal * (self.drag_along() * slip).hypot(1.0);
        Some(Delivery {
            speed_m_s: launch.speed_m_s / ball_speed,
            path_rad: velocity.z.atan2(velocity.x),
            attack_rad,
            face_rad: normal.z.atan2(normal.x) - spot.bulge_rad(),
            loft_rad: normal.y.asin(),
        })
    }
}

impl Launch {
    /// A launch as devices tell it: the tilt is atan(side spin / back spin), seen along the flight;
    /// backspin turns about the level axis, side spin about the one square to it and to the flight.
    /// sin(tilt out of the level) = sin(tilt seen) · cos(launch angle).
    pub fn seen_along_flight(
        speed_m_s: f64,
        start_rad: f64,
        angle_rad: f64,
        spin_rad_s: f64,
        seen_tilt_rad: f64,
    ) -> Launch {
        Launch {
            speed_m_s,
            start_rad,
            angle_rad,
            spin_rad_s,
            tilt_rad: (seen_tilt_rad.sin() * angle_rad.cos()).asin(),
        }
    }

    /// Velocity of the ball, m/s.
    pub fn velocity(&self) -> DVec3 {
        self.speed_m_s * direction(self.start_rad, self.angle_rad)
    }

    /// The spin's axis, a unit vector square to the velocity; pure backspin is +z for a ball sent
    /// straight. None when it is tilted more than a ball launched this high can be.
    pub fn axis(&self) -> Option<DVec3> {
        LaunchPlane::of(self).map(|plane| plane.axis)
    }
}

/// tan of the greatest spin loft; where the inverse still has one answer (up to 1/√k ≈ 2.2).
const MOST_SLIP: f64 = 2.0;

/// The plane in which ball, head velocity and face normal lie.
struct LaunchPlane {
    ball: DVec3,
    axis: DVec3,
    /// In the plane, square to the ball's direction.
    up: DVec3,
}

impl LaunchPlane {
    /// axis = cos ψ·level + sin ψ·steep, both square to the ball, with axis·up = −sin τ.
    fn of(launch: &Launch) -> Option<LaunchPlane> {
        let ball = direction(launch.start_rad, launch.angle_rad);
        let level = DVec3::new(-launch.start_rad.sin(), 0.0, launch.start_rad.cos());
        let steep = level.cross(ball);
        let sine = -launch.tilt_rad.sin() / steep.y;
        (sine.abs() < 1.0).then(|| {
            let axis = (1.0 - sine * sine).sqrt() * level + sine * steep;
            LaunchPlane {
                ball,
                axis,
                up: axis.cross(ball),
            }
        })
    }

    /// The direction above the ball's, in the plane, by the angle with this tangent.
    fn above_ball(&self, tangent: f64) -> DVec3 {
        (self.ball + tangent * self.up).normalize()
    }
}

/// (cos a·cos s, sin a, cos a·sin s): a unit vector from an angle seen from above and one above the
/// level.
fn direction(seen_from_above_rad: f64, above_level_rad: f64) -> DVec3 {
    let (side, forward) = seen_from_above_rad.sin_cos();
    let (up, level) = above_level_rad.sin_cos();
    DVec3::new(level * forward, up, level * side)
}

/// Level along the face, toward the toe.
fn toe_side(normal: DVec3) -> DVec3 {
    DVec3::new(-normal.z, 0.0, normal.x).normalize_or(DVec3::Z)
}

/// Where a property that holds at 0 stops to hold, below `end`; halved to 2⁻⁴⁸ of it.
fn falls_at(holds: impl Fn(f64) -> bool, end: f64) -> Option<f64> {
    if !holds(0.0) || holds(end) {
        return None;
    }
    let (mut low, mut high) = (0.0, end);
    for _ in 0..48 {
        let middle = 0.5 * (low + high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

#[cfg(test)]
mod tests;
