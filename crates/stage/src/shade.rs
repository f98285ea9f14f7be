//! The colour a surface point of the figure sends to the camera.
//!
//! Dull light by Lambert's law, with light wrapping round skin (red farther than blue, as it
//! scatters beneath the surface), a weak highlight, soft shadow and occlusion. Colours are linear
//! RGB; patterns live in the axes of the part they belong to, metres at a stature of 1.78 m.

use crate::body::Body;
use crate::field::{Hit, Material, Part};
use crate::figure::part;
use crate::noise::{cloudy, folds, value_noise};
use crate::params::{ClubKind, HairStyle, Hat, Pattern, SwingParams};
use crate::scene::Light;
use crate::skeleton::REFERENCE_STATURE_M;
use glam::Vec3;
use std::f32::consts::FRAC_PI_3;

/// Everything shading needs besides the hit.
pub struct Look<'a> {
    /// Clothes, skin and club.
    pub params: &'a SwingParams,
    /// The light.
    pub light: Light,
}

struct Finish {
    colour: Vec3,
    normal: Vec3,
    /// Strength and sharpness of the highlight.
    shine: (f32, f32),
    /// How far light wraps round, for red, green and blue.
    wrap: Vec3,
}

/// How much light other parts of the figure leave at a point.
#[derive(Clone, Copy, Debug)]
pub struct Occlusion {
    /// Share of the key light, 0 … 1.
    pub seen: f32,
    /// Share of the fill light, 0 … 1.
    pub open: f32,
}

impl Occlusion {
    /// Nothing in the way.
    pub const NONE: Occlusion = Occlusion {
        seen: 1.0,
        open: 1.0,
    };

    /// At a hit, with shadows cast by a field.
    pub fn at(light: &Light, casters: &Body, hit: &Hit) -> Occlusion {
        // Even light that wraps round ends here; folds tip the surface a little further.
        const FACING_AWAY: f32 = -0.45;
        let seen = if hit.normal.dot(light.toward) < FACING_AWAY {
            0.0
        } else {
            let from = hit.at + hit.normal * 0.005;
            casters.light(from, light.toward, light.spread.max(0.06))
        };
        Occlusion {
            seen,
            open: casters.openness(hit.at, hit.normal),
        }
    }
}

/// Colour of a hit on a surface with those parts.
pub fn shade(look: &Look<'_>, parts: &[Part], occlusion: Occlusion, ray: Vec3, hit: &Hit) -> Vec3 {
    let finish = finish(look, parts, hit);
    let light = &look.light;
    let n = finish.normal;
    let Occlusion { seen, open } = occlusion;
    let facing = n.dot(light.toward);
    let wrapped = ((Vec3::splat(facing) + finish.wrap) / (Vec3::ONE + finish.wrap)).max(Vec3::ZERO);
    let fill = light.above * (0.5 + 0.5 * n.y) + light.below * (0.5 - 0.5 * n.y) + light.around;
    let half = (light.toward - ray).normalize();
    // Schlick's approximation of how mirrors brighten at grazing angles.
    let graze = (1.0 - n.dot(-ray).clamp(0.0, 1.0)).powi(5);
    let (strength, sharpness) = finish.shine;
    let highlight = light.key * (strength * n.dot(half).max(0.0).powf(sharpness) * seen)
        + light.above * (0.10 * graze * strength.sqrt() * open);
    finish.colour * (light.key * wrapped * seen + fill * open) + highlight
}

fn finish(look: &Look<'_>, parts: &[Part], hit: &Hit) -> Finish {
    let p = look.params;
    let frame = &parts[hit.part as usize];
    let scale = (REFERENCE_STATURE_M / p.body.stature_m) as f32;
    let q = frame.to_part * (hit.at - frame.origin) * scale;
    let rgb = Vec3::from_array;
    let bump = |fold: Vec3, depth: f32| {
        // The slope of smooth noise tips the normal: folds.
        const STEP: f32 = 0.35;
        let at = q * fold;
        let here = folds(at);
        let slope = Vec3::new(
            folds(at + Vec3::X * STEP) - here,
            folds(at + Vec3::Y * STEP) - here,
            folds(at + Vec3::Z * STEP) - here,
        ) / STEP;
        (hit.normal - frame.to_part.transpose() * (slope * depth)).normalize()
    };
    let dull = |colour: Vec3| Finish {
        colour,
        normal: hit.normal,
        shine: (0.02, 10.0),
        wrap: Vec3::ZERO,
    };
    match hit.material {
        Material::Skin => skin(p, hit, q),
        Material::Shirt => Finish {
            normal: bump(Vec3::new(11.0, 6.0, 11.0), 0.34),
            wrap: Vec3::splat(0.08),
            ..dull(shirt(p, hit, q))
        },
        Material::Below => {
            let mut colour = rgb(p.clothes.below_colour) * (0.93 + 0.14 * value_noise(q * 200.0));
            if hit.part != part::PELVIS && q.z.abs() < 0.0035 && q.x.abs() > 0.03 {
                colour *= 0.7;
            }
            if hit.part == part::PELVIS && q.x.abs() < 0.004 && q.z > 0.0 {
                colour *= 0.6;
            }
            Finish {
                normal: bump(Vec3::new(12.0, 5.0, 12.0), 0.22),
                wrap: Vec3::splat(0.08),
                ..dull(colour)
            }
        }
        Material::Shoe => {
            let colour = rgb(p.clothes.shoes);
            let lace = q.z > 0.03
                && q.z < 0.10
                && q.y > -0.05
                && q.x.abs() < 0.02
                && (q.z / 0.016).rem_euclid(1.0) < 0.4;
            let heel = q.y > -0.034 && q.z < -0.02;
            Finish {
                shine: (0.08, 20.0),
                ..dull(if lace {
                    colour * 0.4
                } else if heel {
                    colour * 0.6
                } else {
                    colour
                })
            }
        }
        Material::Sole => dull(Vec3::new(0.15, 0.15, 0.16)),
        Material::Sock => dull(Vec3::splat(0.62)),
        Material::Glove => {
            let seam = (q.x / 0.0195 + 0.5).rem_euclid(1.0) < 0.08;
            Finish {
                shine: (0.04, 14.0),
                ..dull(Vec3::new(0.74, 0.74, 0.72) * if seam { 0.82 } else { 1.0 })
            }
        }
        Material::Hair => hair(p, hit, q),
        Material::Hat => {
            let seam =
                p.clothes.hat == Hat::Cap && (q.x.atan2(q.z) / FRAC_PI_3 + 10.0).fract() < 0.03;
            let under = q.y < 0.047 && q.z > 0.07;
            let shade = if under {
                0.5
            } else if seam {
                0.75
            } else {
                1.0
            };
            dull(rgb(p.clothes.hat_colour) * shade * (0.94 + 0.12 * value_noise(q * 240.0)))
        }
        Material::Belt => {
            let buckle = q.x.abs() < 0.02 && q.z > 0.0;
            Finish {
                shine: (0.10, 20.0),
                ..dull(if buckle {
                    Vec3::splat(0.45)
                } else {
                    rgb(p.clothes.belt)
                })
            }
        }
        Material::Steel => Finish {
            shine: (p.club.look.shaft_shine, 60.0),
            ..dull(rgb(p.club.look.shaft.unwrap_or(match p.club.kind {
                ClubKind::Iron => [0.33, 0.33, 0.34],
                ClubKind::Driver => [0.035, 0.036, 0.04],
            })))
        },
        Material::Rubber => dull(rgb(p.club.look.grip)),
        Material::Head => Finish {
            shine: (0.7, 40.0),
            ..dull(rgb(p.club.look.head.unwrap_or(match p.club.kind {
                ClubKind::Iron => [0.30, 0.30, 0.31],
                ClubKind::Driver => [0.03, 0.03, 0.034],
            })))
        },
        Material::Ball => Finish {
            shine: (0.12, 30.0),
            ..dull(Vec3::splat(0.80))
        },
        Material::Thing => dull(Vec3::new(0.86, 0.42, 0.06)),
        Material::Wall => dull(Vec3::new(0.62, 0.60, 0.56)),
        Material::Tee => dull(Vec3::new(0.60, 0.47, 0.30)),
    }
}

fn skin(p: &SwingParams, hit: &Hit, q: Vec3) -> Finish {
    let base = Vec3::from_array(p.body.skin);
    let blotch = cloudy(q * 34.0) - 0.5;
    let mut colour = base * (1.0 + 0.16 * blotch) * (0.97 + 0.06 * value_noise(q * 260.0));
    // Blood nearer the surface reddens knuckles, elbows and knees.
    let red = Vec3::new(1.06, 0.93, 0.90);
    let hand = hit.part == part::HAND[0] || hit.part == part::HAND[1];
    if hand {
        colour *= red;
    }
    if hit.part == part::HEAD {
        colour = face(p, q, colour);
    }
    Finish {
        colour,
        normal: hit.normal,
        shine: (0.030 + 0.012 * blotch, 9.0),
        wrap: Vec3::new(0.30, 0.16, 0.10),
    }
}

fn face(p: &SwingParams, q: Vec3, skin: Vec3) -> Vec3 {
    let hair = Vec3::from_array(p.body.hair);
    let mut colour = skin;
    let jaw = q.y < -0.045 && q.z > -0.03;
    let mouth = (q.x / 0.025).powi(2) + ((q.y + 0.062) / 0.0085).powi(2);
    if jaw && mouth > 1.0 {
        let rough = value_noise(q * 420.0);
        let beard = p.body.beard * (0.6 + 0.4 * rough);
        colour = colour.lerp(hair * 1.3, (0.85 * beard).min(1.0));
    }
    if q.z < 0.04 {
        return colour;
    }
    let (ex, ey) = (q.x.abs() - 0.031, q.y - 0.006);
    let eye = (ex / 0.0150).powi(2) + (ey / 0.0072).powi(2);
    if eye < 1.0 {
        let iris = (ex * ex + ey * ey).sqrt() < 0.0062;
        return if iris {
            Vec3::new(0.02, 0.015, 0.012)
        } else {
            Vec3::new(0.58, 0.56, 0.54)
        };
    }
    if eye < 1.9 {
        colour *= Vec3::new(0.62, 0.55, 0.52);
    }
    if (q.y - 0.030 + ex.abs() * 0.2).abs() < 0.0055 && ex.abs() < 0.021 {
        colour = hair * 1.6;
    }
    if mouth < 1.0 {
        colour = skin * Vec3::new(0.80, 0.50, 0.55);
        if (q.y + 0.062).abs() < 0.0015 {
            colour *= 0.4;
        }
    }
    let cheek = ((q.x.abs() - 0.04) / 0.022).powi(2) + ((q.y + 0.03) / 0.02).powi(2);
    if cheek < 1.0 {
        colour = colour.lerp(colour * Vec3::new(1.1, 0.86, 0.83), 1.0 - cheek);
    }
    if (q.x.abs() - 0.008).abs() < 0.004 && (q.y + 0.038).abs() < 0.004 {
        colour *= 0.45;
    }
    colour
}

fn shirt(p: &SwingParams, hit: &Hit, q: Vec3) -> Vec3 {
    let (cloth, trim) = (
        Vec3::from_array(p.clothes.shirt),
        Vec3::from_array(p.clothes.trim),
    );
    let chest = hit.part == part::CHEST;
    let trunk = chest || hit.part == part::WAIST;
    let patterned = match p.clothes.pattern {
        Pattern::Plain => false,
        Pattern::Hoops => (q.y / 0.055).rem_euclid(1.0) < 0.32,
        Pattern::Stripes => (q.x / 0.036).rem_euclid(1.0) < 0.18,
        Pattern::Band => chest && q.y > -0.20 && q.y < -0.11,
    };
    let mut colour = if patterned { trim } else { cloth };
    colour *= 0.92 + 0.16 * value_noise(q * 220.0);
    if trunk && q.z.abs() < 0.004 && q.x.abs() > 0.10 {
        colour *= 0.8;
    }
    if chest {
        if q.x.abs() < 0.014 && q.z > 0.0 && q.y > -0.15 {
            colour *= if q.x.abs() > 0.011 { 0.6 } else { 1.08 };
            let button = ((q.y + 0.01) / 0.05).rem_euclid(1.0) - 0.5;
            if (q.x * q.x + (button * 0.05).powi(2)).sqrt() < 0.004 {
                colour = trim;
            }
        }
        // The collar lies close around the neck.
        if q.y > 0.042 && q.x * q.x + q.z * q.z < 0.080 * 0.080 {
            colour = trim * 0.9;
        }
    }
    colour
}

fn hair(p: &SwingParams, hit: &Hit, q: Vec3) -> Finish {
    let strand = value_noise(q * Vec3::new(300.0, 60.0, 60.0));
    let shaved = p.body.hair_style == HairStyle::Bald;
    Finish {
        colour: Vec3::from_array(p.body.hair)
            * (0.6 + 0.8 * strand)
            * if shaved { 0.8 } else { 1.0 },
        normal: hit.normal,
        shine: (0.05, 16.0),
        wrap: Vec3::splat(0.2),
    }
}
