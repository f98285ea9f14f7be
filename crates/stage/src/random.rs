//! Wide, repeatable variety: one seed, one swing.
//!
//! Draws come from [`SplitMix64`] in a fixed order, so adding a draw at the end keeps old seeds'
//! earlier values. Ranges hold what teachers see, faults included, rather than any published
//! distribution; shift, knee line and trail elbow are drawn nearly independently of each other, so
//! that no measurement can guess one from another.

use crate::motion::Motion;
use crate::noise::SplitMix64;
use crate::params::{
    BallFlight, Below, BodyParams, CameraPlace, Clothes, Club, ClubKind, ClubLook, HairStyle, Hand,
    Hat, MotionParams, Pattern, Phone, Place, Proportions, Scene, SetUp, Sleeves, Sound,
    SwingParams,
};
use crate::skin::{HELD_OUT, SHAPES};

impl SwingParams {
    /// A player, swing, place and camera drawn from a seed. Half the swings are sound, half carry
    /// one to three faults.
    pub fn random(seed: u64) -> SwingParams {
        SwingParams {
            name: format!("seed {seed}"),
            ..possible(seed, SwingParams::random_any)
        }
    }

    fn random_any(seed: u64) -> SwingParams {
        let mut r = SplitMix64::new(seed.wrapping_mul(0x2545_f491_4f6c_dd1d) ^ 0x6c65_7373_6f6e);
        let woman = r.chance(0.4);
        let body = body(&mut r, woman);
        let clothes = clothes(&mut r, woman);
        let club = club(&mut r, body.stature_m);
        let set_up = set_up(&mut r, club.kind);
        let motion = motion(&mut r, club.kind);
        let place = if r.chance(0.5) {
            Place::Studio
        } else {
            Place::Range
        };
        let scene = scene(&mut r, place);
        let phone = phone(&mut r);
        let mut arms = SplitMix64::new(seed ^ 0x6172_6d73);
        SwingParams {
            name: String::new(),
            seed,
            hand: if r.chance(0.4) {
                Hand::Left
            } else {
                Hand::Right
            },
            face_on: camera(&mut r, body.stature_m),
            down_the_line: camera(&mut r, body.stature_m),
            body,
            clothes,
            club,
            set_up,
            motion: MotionParams {
                lead_arm_straight_address: straight(&mut arms, 6.0, 26.0),
                lead_arm_straight_back: straight(&mut arms, 4.0, 22.0),
                lead_arm_straight_impact: if arms.chance(0.25) {
                    straight(&mut arms, 20.0, 42.0)
                } else {
                    straight(&mut arms, 4.0, 22.0)
                },
                arm_reach: straight(&mut arms, 4.0, 9.0),
                ..motion
            },
            flight: None,
            scene,
            phone,
            sound: Sound {
                strike: r.between(0.25, 0.9),
                noise: r.between(0.001, 0.012),
            },
            before_s: r.between(0.5, 1.1),
            after_s: r.between(0.25, 0.6),
        }
    }
}

impl SwingParams {
    /// A swing to learn from: a body, set-up, motion and camera drawn wider than golfers differ and,
    /// but for what anatomy ties together, independently of each other. What is learnt from such
    /// swings can't rest on one turn foretelling another.
    pub fn varied(seed: u64) -> SwingParams {
        SwingParams {
            name: format!("varied {seed}"),
            ..possible(seed, SwingParams::varied_any)
        }
    }

    fn varied_any(seed: u64) -> SwingParams {
        // Clothes, club, place and light are as in `random`, of seeds that are not used there.
        let like = SwingParams::random_any(seed ^ 0x7661_7269_6564);
        let mut r = SplitMix64::new(seed.wrapping_mul(0x9e6c_63d0_876a_3f6b) ^ 0x006c_6561_726e);
        let mut arms = SplitMix64::new(seed ^ 0x6172_6d73);
        let stature_m = r.between(1.50, 2.00);
        SwingParams {
            seed,
            body: BodyParams {
                stature_m,
                leg_ratio: r.between(0.955, 1.045),
                arm_ratio: r.between(0.91, 1.06),
                shoulder_ratio: r.between(0.86, 1.14),
                hip_ratio: r.between(0.88, 1.16),
                girth: r.between(0.82, 1.30),
                proportions: varied_proportions(seed),
                ..like.body.clone()
            },
            set_up: varied_set_up(&mut r, &like.set_up),
            motion: MotionParams {
                lead_arm_straight: straight(&mut arms, 4.0, 64.0),
                lead_arm_straight_address: straight(&mut arms, 4.0, 40.0),
                lead_arm_straight_back: straight(&mut arms, 4.0, 36.0),
                lead_arm_straight_impact: straight(&mut arms, 4.0, 46.0),
                arm_reach: straight(&mut arms, 3.7, 9.0),
                ..varied_motion(&mut r)
            },
            phone: Phone {
                shutter_s: 1.0 / r.between(100.0, 2000.0),
                readout_s: r.between(0.0, 0.016),
                noise: r.between(0.4, 4.0),
                ..like.phone
            }
            .at_rate(60.0),
            face_on: varied_camera(&mut r, stature_m),
            down_the_line: varied_camera(&mut r, stature_m),
            before_s: 0.35,
            after_s: 0.1,
            ..like
        }
    }
}

/// The first draw in which the player stands to the ball and meets it as a player can. In one of 60 the trunk topples toward it, and the
/// head falls by 17 cm and more where it sinks by 6 at most in all others; in one of 20 the shoulder is so near the ball
/// that the lead arm folds up, by as much as 130°.
fn possible(seed: u64, draw: fn(u64) -> SwingParams) -> SwingParams {
    const TOPPLES_M: f64 = 0.10;
    const FOLDS_RAD: f64 = 0.96;
    let draws = (0..).map(|again: u64| SwingParams {
        seed,
        ..draw(seed ^ (again << 48))
    });
    let mut swings = draws.filter(|params| {
        let motion = Motion::new(params);
        motion.head_sinks_m() < TOPPLES_M && motion.lead_arm_folds_rad() < FOLDS_RAD
    });
    swings.next().expect("most draws are swings")
}

impl SwingParams {
    /// The same swing with a club, a shutter and light as wide as phones and bags hold them, drawn
    /// from the swing's seed.
    pub fn with_any_club(self) -> SwingParams {
        let mut r = SplitMix64::new(self.seed.wrapping_mul(0xd6e8_feb8_6659_fd93) ^ 0x636c_7562);
        // As long as 1/45 s in a dark hall, as short as the sun allows.
        let shutter_s = 1.0 / (r.between(45.0_f64.ln(), 3000.0_f64.ln())).exp();
        let rate_hz = self.phone.rate_hz;
        SwingParams {
            club: Club {
                look: any_look(&mut r, self.club.kind),
                ..self.club
            },
            phone: Phone {
                shutter_s,
                readout_s: r.between(0.0, 0.022),
                ..self.phone
            }
            .at_rate(rate_hz),
            scene: Scene {
                light_azimuth_deg: r.between(-180.0, 180.0),
                light_height_deg: r.between(15.0, 80.0),
                light_hardness: r.between(0.0, 1.3),
                ..self.scene
            },
            motion: MotionParams {
                low_point_cm: Some(match self.club.kind {
                    ClubKind::Iron => r.between(-4.0, 14.0),
                    ClubKind::Driver => r.between(-14.0, 4.0),
                }),
                ..self.motion
            },
            ..self
        }
    }
}

/// Which people's shapes players are drawn with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum Shapes {
    /// None: simple solids.
    #[default]
    None,
    /// Those that networks are taught.
    Learn,
    /// Those that are kept for judging.
    HeldOut,
}

impl SwingParams {
    /// The same swing of a player with a person's shape, drawn from the swing's seed.
    pub fn with_shape(mut self, shapes: Shapes) -> SwingParams {
        let mut r = SplitMix64::new(self.seed.wrapping_mul(0x8cb9_2ba7_2f3d_8dd7) ^ 0x7368_6170);
        let mut number = |span: std::ops::Range<u32>| {
            Some(span.start + (r.next_u64() % span.len() as u64) as u32)
        };
        self.body.shape = match shapes {
            Shapes::None => None,
            Shapes::Learn => number(0..HELD_OUT),
            Shapes::HeldOut => number(HELD_OUT..SHAPES),
        };
        self
    }

    /// Most with a person's shape, the others of simple solids: whom single pictures for networks show.
    pub fn with_shape_or_solids(self, r: &mut SplitMix64) -> SwingParams {
        const SHAPED: f64 = 0.6;
        // From this seed on they are for judging.
        const JUDGING: u64 = 900_001;
        let shapes = match (r.chance(SHAPED), self.seed < JUDGING) {
            (false, _) => Shapes::None,
            (true, true) => Shapes::Learn,
            (true, false) => Shapes::HeldOut,
        };
        self.with_shape(shapes)
    }
}

impl SwingParams {
    /// The same swing with a ball that starts anywhere, drawn from the swing's seed.
    pub fn with_any_flight(self) -> SwingParams {
        let mut r = SplitMix64::new(self.seed.wrapping_mul(0xa24b_aed4_963e_e407) ^ 0x666c_7967);
        let (speed, launch) = match self.club.kind {
            ClubKind::Iron => ((35.0, 58.0), (10.0, 30.0)),
            ClubKind::Driver => ((50.0, 75.0), (4.0, 18.0)),
        };
        SwingParams {
            flight: Some(BallFlight {
                speed_m_s: r.between(speed.0, speed.1),
                launch_deg: r.between(launch.0, launch.1),
                start_deg: r.between(-10.0, 10.0),
            }),
            ..self
        }
    }
}

fn any_look(r: &mut SplitMix64, kind: ClubKind) -> ClubLook {
    let colour = |r: &mut SplitMix64| [r.unit(), r.unit(), r.unit()].map(|v| 0.7 * v as f32);
    let grey = |r: &mut SplitMix64| [0.75 * r.unit().powi(2) as f32; 3];
    let any = |r: &mut SplitMix64| match (r.unit() * 5.0) as u32 {
        0 | 1 => None,
        2 | 3 => Some(grey(r)),
        _ => Some(colour(r)),
    };
    ClubLook {
        shaft: any(r),
        shaft_shine: r.unit() as f32,
        shaft_ratio: r.between(0.75, 1.45),
        grip: if r.chance(0.7) {
            [0.02, 0.02, 0.022]
        } else {
            colour(r)
        },
        head: any(r),
        head_ratio: match kind {
            ClubKind::Iron => r.between(0.85, 1.2),
            // Down to a hybrid's.
            ClubKind::Driver => r.between(0.55, 1.1),
        },
    }
}

/// An arm's length over straight, bent by an angle between these, degrees.
pub(crate) fn straight(r: &mut SplitMix64, least_deg: f64, most_deg: f64) -> f64 {
    (0.5 * r.between(least_deg, most_deg).to_radians()).cos()
}

/// Wider than people's parts differ at one length of the whole (a few per cent, 1 sd).
fn varied_proportions(seed: u64) -> Proportions {
    let mut r = SplitMix64::new(seed ^ 0x0070_6172_7473);
    Proportions {
        thigh_ratio: r.between(0.92, 1.08),
        upper_arm_ratio: r.between(0.86, 1.09),
        pelvis_ratio: r.between(0.80, 1.25),
        thorax_ratio: r.between(0.90, 1.08),
        neck_ratio: r.between(0.88, 1.12),
        shoulders_up_cm: r.between(-2.5, 2.5),
    }
}

fn varied_set_up(r: &mut SplitMix64, like: &SetUp) -> SetUp {
    SetUp {
        stance_ratio: r.between(0.17, 0.33),
        lead_flare_deg: r.between(-4.0, 40.0),
        trail_flare_deg: r.between(-10.0, 30.0),
        open_stance_cm: 3.0 * r.bell().clamp(-2.0, 2.0),
        spine_lean_deg: r.between(25.0, 43.0),
        spine_tilt_deg: r.between(0.0, 11.0),
        knee_flex_deg: r.between(10.0, 34.0),
        arm_hang_deg: r.between(8.0, 26.0),
        shoulders_open_deg: r.between(-9.0, 9.0),
        ..like.clone()
    }
}

fn varied_motion(r: &mut SplitMix64) -> MotionParams {
    let downswing_s = r.between(0.20, 0.42);
    let shift_down_cm = r.between(-9.0, 15.0);
    let pelvis_open_down_deg = r.between(-34.0, 40.0);
    MotionParams {
        backswing_s: r.between(0.55, 1.25),
        downswing_s,
        arm_level_fraction: r.between(0.45, 0.64_f64).min(1.0 - 0.09 / downswing_s),
        shift_back_cm: r.between(-10.0, 4.0),
        shift_top_cm: r.between(-10.0, 8.0),
        shift_down_cm,
        shift_impact_cm: (shift_down_cm + r.between(-2.0, 8.0)).clamp(-11.0, 19.0),
        thrust_cm: r.between(-4.0, 10.0),
        squat_cm: r.between(-1.0, 5.0),
        pelvis_turn_top_deg: r.between(18.0, 68.0),
        pelvis_open_down_deg,
        pelvis_open_impact_deg: (pelvis_open_down_deg + r.between(4.0, 42.0)).clamp(-8.0, 60.0),
        knee_line_down_deg: r.between(-34.0, 50.0),
        chest_turn_top_deg: r.between(58.0, 112.0),
        chest_closed_down_deg: r.between(4.0, 66.0),
        chest_open_impact_deg: r.between(-14.0, 44.0),
        head_sway_top_cm: r.between(-9.0, 6.0),
        head_sway_impact_cm: r.between(-9.0, 6.0),
        elbow_ahead_down_cm: r.between(-20.0, 19.0),
        flying_elbow: r.unit(),
        over_the_top: r.between(-0.7, 1.0),
        cast_deg: r.between(0.0, 32.0),
        arm_top_deg: r.between(116.0, 158.0),
        arm_plane_top_deg: r.between(35.0, 60.0),
        club_top_deg: r.between(40.0, 108.0),
        lead_heel_lift_deg: if r.chance(0.3) {
            r.between(4.0, 25.0)
        } else {
            0.0
        },
        shaft_lean_impact_deg: r.between(-5.0, 12.0),
        low_point_cm: None,
        finish: r.between(0.6, 1.0),
        wander: r.unit(),
        ..MotionParams::default()
    }
}

fn varied_camera(r: &mut SplitMix64, stature_m: f64) -> CameraPlace {
    let distance_m = r.between(2.8, 7.0);
    let share = r.between(0.50, 0.66);
    let fov = 2.0 * (0.5 * stature_m / share / distance_m).atan();
    CameraPlace {
        distance_m,
        height_m: r.between(0.5, 1.7),
        yaw_deg: (5.0 * r.bell()).clamp(-12.0, 12.0),
        roll_deg: (1.2 * r.bell()).clamp(-3.0, 3.0),
        fov_deg: fov.to_degrees().clamp(18.0, 75.0),
        off_centre: r.between(-0.08, 0.08),
    }
}

fn body(r: &mut SplitMix64, woman: bool) -> BodyParams {
    // Linear RGB of skin in full light, light to dark.
    let skin = r.pick(&[
        [0.60, 0.39, 0.30],
        [0.52, 0.31, 0.21],
        [0.44, 0.25, 0.155],
        [0.33, 0.18, 0.105],
        [0.20, 0.105, 0.062],
        [0.11, 0.058, 0.036],
    ]);
    let hair = r.pick(&[
        [0.012, 0.010, 0.009],
        [0.035, 0.020, 0.012],
        [0.10, 0.052, 0.024],
        [0.33, 0.22, 0.10],
        [0.30, 0.30, 0.30],
        [0.16, 0.05, 0.02],
    ]);
    let stature = if woman {
        1.66 + 0.055 * r.bell()
    } else {
        1.79 + 0.065 * r.bell()
    };
    let heavy = r.unit();
    let girth = 0.86 + 0.36 * heavy * heavy + 0.02 * r.bell();
    let style = if woman {
        r.pick(&[
            HairStyle::Ponytail,
            HairStyle::Long,
            HairStyle::Ponytail,
            HairStyle::Short,
        ])
    } else {
        r.pick(&[
            HairStyle::Short,
            HairStyle::Short,
            HairStyle::Bald,
            HairStyle::Long,
        ])
    };
    BodyParams {
        stature_m: stature.clamp(1.55, 1.95),
        shape: None,
        leg_ratio: 1.0 + 0.018 * r.bell(),
        arm_ratio: (1.0 + 0.018 * r.bell()).clamp(0.95, 1.05),
        shoulder_ratio: if woman { 0.92 } else { 1.01 } + 0.03 * r.bell(),
        hip_ratio: if woman { 1.02 } else { 0.99 } + 0.025 * r.bell(),
        proportions: Proportions::default(),
        girth: girth.clamp(0.82, 1.26),
        belly: (1.3 * (girth - 0.95)).clamp(0.0, 0.5) + r.between(0.0, 0.15),
        bust: if woman { r.between(0.25, 0.9) } else { 0.0 },
        hip_flesh: if woman {
            r.between(1.0, 1.12)
        } else {
            r.between(0.92, 1.03)
        },
        muscle: if woman {
            r.between(0.80, 0.95)
        } else {
            r.between(0.90, 1.12)
        },
        skin,
        hair,
        hair_style: style,
        beard: if !woman && r.chance(0.3) {
            r.between(0.3, 1.0) as f32
        } else {
            0.0
        },
    }
}

fn clothes(r: &mut SplitMix64, woman: bool) -> Clothes {
    let cloth = [
        [0.06, 0.16, 0.42],
        [0.62, 0.62, 0.60],
        [0.45, 0.05, 0.06],
        [0.03, 0.035, 0.045],
        [0.07, 0.26, 0.14],
        [0.55, 0.32, 0.08],
        [0.38, 0.16, 0.34],
        [0.14, 0.34, 0.40],
        [0.66, 0.42, 0.45],
        [0.20, 0.21, 0.23],
        [0.62, 0.58, 0.20],
        [0.30, 0.48, 0.66],
    ];
    let trousers = [
        [0.34, 0.30, 0.24],
        [0.045, 0.05, 0.07],
        [0.22, 0.22, 0.23],
        [0.60, 0.59, 0.56],
        [0.025, 0.04, 0.11],
        [0.13, 0.11, 0.08],
    ];
    let below = if woman {
        r.pick(&[
            Below::Trousers,
            Below::Skirt,
            Below::Shorts,
            Below::Trousers,
        ])
    } else {
        r.pick(&[Below::Trousers, Below::Trousers, Below::Shorts])
    };
    Clothes {
        shirt: r.pick(&cloth),
        trim: r.pick(&cloth),
        pattern: r.pick(&[
            Pattern::Plain,
            Pattern::Plain,
            Pattern::Plain,
            Pattern::Hoops,
            Pattern::Stripes,
            Pattern::Band,
        ]),
        sleeves: r.pick(&if woman {
            [Sleeves::Short, Sleeves::Short, Sleeves::None, Sleeves::Long]
        } else {
            [
                Sleeves::Short,
                Sleeves::Short,
                Sleeves::Short,
                Sleeves::Long,
            ]
        }),
        below,
        below_colour: r.pick(&trousers),
        belt: r.pick(&[
            [0.05, 0.028, 0.016],
            [0.55, 0.55, 0.53],
            [0.015, 0.015, 0.018],
        ]),
        hat: r.pick(&[Hat::Cap, Hat::Cap, Hat::None, Hat::Visor]),
        hat_colour: r.pick(&cloth),
        shoes: r.pick(&[[0.65, 0.65, 0.63], [0.03, 0.03, 0.035], [0.32, 0.20, 0.11]]),
        glove: r.chance(0.85),
        looseness: r.between(0.0, 0.9),
    }
}

fn club(r: &mut SplitMix64, stature_m: f64) -> Club {
    // Clubs are fitted, half-heartedly, to the player's height.
    let fit = 1.0 + 0.4 * (stature_m / 1.78 - 1.0);
    if r.chance(0.35) {
        Club {
            kind: ClubKind::Driver,
            length_m: fit * r.between(1.10, 1.155),
            loft_deg: r.between(9.0, 12.0),
            look: ClubLook::default(),
        }
    } else {
        // From a pitching wedge to a 5-iron.
        let long = r.unit();
        Club {
            kind: ClubKind::Iron,
            length_m: fit * (0.885 + 0.075 * long),
            loft_deg: 46.0 - 21.0 * long,
            look: ClubLook::default(),
        }
    }
}

fn set_up(r: &mut SplitMix64, kind: ClubKind) -> SetUp {
    let driver = kind == ClubKind::Driver;
    SetUp {
        stance_ratio: if driver {
            r.between(0.25, 0.31)
        } else {
            r.between(0.195, 0.27)
        },
        lead_flare_deg: r.between(8.0, 34.0),
        trail_flare_deg: r.between(-2.0, 20.0),
        open_stance_cm: 2.0 * r.bell(),
        ball_position_cm: if driver {
            r.between(10.0, 15.0)
        } else {
            r.between(-1.0, 6.0)
        },
        hands_cm: if driver {
            r.between(3.0, 8.0)
        } else {
            r.between(1.0, 6.0)
        },
        spine_lean_deg: if driver {
            r.between(26.0, 34.0)
        } else {
            r.between(28.0, 36.0)
        },
        spine_tilt_deg: if driver {
            r.between(5.0, 8.5)
        } else {
            r.between(3.0, 6.0)
        },
        knee_flex_deg: r.between(14.0, 27.0),
        arm_hang_deg: if driver {
            r.between(16.0, 24.0)
        } else {
            r.between(13.0, 21.0)
        },
        shoulders_open_deg: 3.0 * r.bell(),
    }
}

fn motion(r: &mut SplitMix64, kind: ClubKind) -> MotionParams {
    let backswing_s = r.between(0.62, 1.02);
    let downswing_s = (backswing_s / r.between(2.5, 4.2)).clamp(0.21, 0.36);
    // The club needs a tenth of a second from there to the ball.
    let arm_level = r.between(0.48, 0.63_f64).min(1.0 - 0.10 / downswing_s);
    let shift_back = r.between(-6.0, 1.0);
    let shift_top = shift_back + r.between(-1.5, 4.0);
    let shift_down = r.between(-5.0, 11.5);
    let shift_impact: f64 = (shift_down + r.between(0.0, 5.5)).clamp(-6.0, 15.0);
    let open_down = r.between(-24.0, 30.0);
    let faulty = r.chance(0.5);
    let fault = |r: &mut SplitMix64, usual: f64, low: f64, high: f64| {
        if faulty && r.chance(0.4) {
            r.between(low, high)
        } else {
            usual
        }
    };
    let over_the_top = fault(r, 0.0, 0.3, 1.0);
    let thrust_cm = fault(r, 0.6, 2.5, 8.0) + 0.5 * r.bell();
    let flying_elbow = fault(r, 0.1, 0.4, 1.0);
    let cast_deg = fault(r, 2.0, 8.0, 32.0);
    let chest_top = r.between(74.0, 102.0);
    MotionParams {
        backswing_s,
        downswing_s,
        arm_level_fraction: arm_level,
        shift_back_cm: shift_back,
        shift_top_cm: shift_top,
        shift_down_cm: shift_down,
        shift_impact_cm: shift_impact,
        thrust_cm,
        squat_cm: r.between(0.3, 3.2),
        pelvis_turn_top_deg: r.between(30.0, 57.0),
        pelvis_open_down_deg: open_down,
        pelvis_open_impact_deg: (open_down + r.between(10.0, 34.0)).clamp(5.0, 52.0),
        knee_line_down_deg: (4.0 + 0.25 * open_down + 12.0 * r.bell()).clamp(-24.0, 42.0),
        chest_turn_top_deg: chest_top,
        chest_closed_down_deg: r.between(22.0, 50.0),
        chest_open_impact_deg: r.between(2.0, 30.0),
        head_sway_top_cm: r.between(-5.0, 2.0) + 0.35 * shift_top,
        head_sway_impact_cm: r.between(-4.0, 0.0) + 0.28 * shift_impact,
        elbow_ahead_down_cm: r.between(-16.0, 15.0),
        flying_elbow,
        over_the_top,
        cast_deg,
        arm_top_deg: r.between(128.0, 152.0),
        arm_plane_top_deg: r.between(40.0, 54.0),
        club_top_deg: r.between(58.0, 102.0),
        lead_arm_straight: if r.chance(0.25) {
            r.between(0.88, 0.96)
        } else {
            r.between(0.96, 0.985)
        },
        lead_heel_lift_deg: if r.chance(0.15) {
            r.between(8.0, 22.0)
        } else {
            0.0
        },
        shaft_lean_impact_deg: match kind {
            ClubKind::Driver => r.between(-3.0, 3.0),
            ClubKind::Iron => r.between(0.0, 10.0),
        },
        low_point_cm: None,
        finish: if r.chance(0.2) {
            r.between(0.65, 0.9)
        } else {
            1.0
        },
        wander: 0.0,
        ..MotionParams::default()
    }
}

fn scene(r: &mut SplitMix64, place: Place) -> Scene {
    Scene {
        place,
        light_azimuth_deg: r.between(-75.0, 60.0),
        light_height_deg: match place {
            Place::Studio => r.between(52.0, 72.0),
            Place::Range => r.between(28.0, 64.0),
        },
        light_hardness: r.between(0.25, 1.2),
        exposure: r.between(0.72, 1.30),
        variant: (r.next_u64() % 8) as u32,
    }
}

fn phone(r: &mut SplitMix64) -> Phone {
    // Mostly 60 frames a second.
    let rate_hz = r.pick(&[
        60.0, 60.0, 60.0, 60.0, 60.0, 60.0, 30.0, 120.0, 120.0, 240.0,
    ]);
    let any = Phone {
        rate_hz,
        shutter_s: r.pick(&[1.0 / 240.0, 1.0 / 500.0, 1.0 / 1000.0, 1.0 / 2000.0]),
        readout_s: r.between(0.0, 0.016),
        noise: r.between(0.6, 3.2),
    };
    any.at_rate(rate_hz)
}

fn camera(r: &mut SplitMix64, stature_m: f64) -> CameraPlace {
    let distance_m = r.between(3.2, 5.8);
    // The player fills this share of the long side's height.
    let share = r.between(0.42, 0.60);
    let fov = 2.0 * (0.5 * stature_m / share / distance_m).atan();
    CameraPlace {
        distance_m,
        height_m: r.between(0.75, 1.45),
        yaw_deg: (3.5 * r.bell()).clamp(-10.0, 10.0),
        roll_deg: (0.8 * r.bell()).clamp(-2.0, 2.0),
        fov_deg: fov.to_degrees().clamp(30.0, 66.0),
        off_centre: r.between(-0.06, 0.06),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shapes_for_judging_are_never_taught() {
        let player = SwingParams::varied(1);
        let shape = |seed: u64| {
            let player = SwingParams {
                seed,
                ..player.clone()
            };
            let mut r = SplitMix64::new(seed);
            player.with_shape_or_solids(&mut r).body.shape
        };
        let shapes =
            |seeds: std::ops::Range<u64>| -> Vec<Option<u32>> { seeds.map(shape).collect() };
        let (taught, judged) = (shapes(899_801..900_001), shapes(900_001..900_201));
        assert!(taught.iter().flatten().all(|shape| *shape < HELD_OUT));
        assert!(judged.iter().flatten().all(|shape| *shape >= HELD_OUT));
        // 60 % of 200, within four standard deviations.
        for drawn in [taught, judged] {
            let shaped = drawn.iter().flatten().count();
            assert!((92..=148).contains(&shaped), "{shaped} of 200 have a shape");
        }
    }
}
