//! A shape with clothes on: what each triangle is made of, how far cloth stands off, and how it hangs.

use super::bones::Rest;
use super::normals;
use super::shapes::{Shape, Weights};
use super::tree::Tree;
use crate::field::{Material, PartId};
use crate::figure::part;
use crate::noise::{SplitMix64, folds};
use crate::params::{Below, HairStyle, Hat, Sleeves, SwingParams};
use glam::Vec3;

/// A dressed shape at rest.
#[derive(Debug)]
pub struct Dressed {
    pub(super) rest: Rest,
    pub(super) points: Vec<Vec3>,
    pub(super) faces: &'static [[u16; 3]],
    pub(super) weights: &'static [Weights],
    /// What each point is made of, and the part whose patterns it carries.
    pub(super) surface: Vec<(Material, PartId)>,
    pub(super) tree: Tree,
    /// How far loose cloth sinks below a trunk that leans over it, m.
    sinks: Vec<f32>,
}

/// Where clothes begin and end on one player.
struct Cut {
    /// Length of the sleeves along the upper arm, of the legs along the thigh.
    sleeve: f32,
    leg: f32,
    /// The shirt's lower end above the hips, m at the reference stature.
    hem_m: f32,
    /// How far cloth stands off, m.
    shirt_m: f32,
    below_m: f32,
    folds_m: f32,
    sink_m: f32,
    /// How wide legs hang at the knee and at the ankle, sleeves at the elbow and the wrist (radius): at most as
    /// narrow as the limb.
    legs_m: [f32; 2],
    sleeves_m: [f32; 2],
}

impl Dressed {
    /// A player's shape, as tall as the player, in the player's clothes.
    pub fn of(number: u32, params: &SwingParams) -> Dressed {
        let stature = params.body.stature_m as f32;
        let Shape { points, joints } = Shape::of(number);
        let points: Vec<Vec3> = points.into_iter().map(|p| p * stature).collect();
        let (faces, weights) = (Shape::faces(), Shape::weights());
        let rest = Rest::of(&joints.times(stature), stature);
        let cut = Cut::of(number, params);
        let surface: Vec<(Material, PartId)> = points
            .iter()
            .zip(weights)
            .map(|(point, weights)| {
                let made_of = material(&rest, &cut, params, *point, weights);
                (made_of, part_of(weights))
            })
            .collect();
        let (points, sinks) = clothed(points, faces, weights, &surface, &rest, &cut, number);
        Dressed {
            tree: Tree::new(&points, faces),
            rest,
            points,
            faces,
            weights,
            surface,
            sinks,
        }
    }

    /// Lets loose cloth of a posed body sink where it faces the ground.
    pub(super) fn hang(&self, points: &mut [Vec3]) {
        let facing = normals(points, self.faces);
        for ((point, facing), sink) in points.iter_mut().zip(&facing).zip(&self.sinks) {
            point.y -= sink * (-facing.y).clamp(0.0, 0.8);
        }
    }
}

impl Cut {
    fn of(number: u32, params: &SwingParams) -> Cut {
        let mut r =
            SplitMix64::new(params.seed.wrapping_add(u64::from(number) << 32) ^ 0x0063_7574);
        let mut between = |low: f64, high: f64| r.between(low, high) as f32;
        let clothes = &params.clothes;
        let loose = clothes.looseness as f32;
        let tucked = between(0.0, 1.0) < 0.5;
        Cut {
            sleeve: match clothes.sleeves {
                Sleeves::None => between(0.05, 0.15),
                Sleeves::Short => between(0.45, 0.85),
                Sleeves::Long => 2.0,
            },
            leg: match clothes.below {
                Below::Trousers => 2.0,
                Below::Shorts => between(0.6, 0.95),
                Below::Skirt => between(0.35, 0.6),
            },
            hem_m: if tucked { 0.085 } else { between(-0.10, 0.03) },
            shirt_m: 0.004 + between(0.004, 0.022) * loose,
            below_m: 0.004 + between(0.004, 0.022) * loose,
            folds_m: between(0.001, 0.008) * (0.3 + loose),
            sink_m: between(0.0, 0.05) * loose,
            legs_m: {
                let knee = between(0.03, 0.105);
                [knee, knee * between(0.75, 1.15)]
            },
            sleeves_m: {
                let elbow = between(0.03, 0.085);
                [elbow, elbow * between(0.6, 1.0)]
            },
        }
    }
}

fn material(rest: &Rest, cut: &Cut, params: &SwingParams, at: Vec3, weights: &Weights) -> Material {
    let j = rest.joints();
    let k = rest.scale();
    let (bone, i) = weights.main_bone();
    let on = |a: Vec3, b: Vec3| (at - a).dot(b - a) / (b - a).length_squared();
    let shirt_or = |other: Material| {
        if (at - rest.hips()).y > cut.hem_m * k {
            Material::Shirt
        } else {
            other
        }
    };
    let leg = |along: f32| {
        if along < cut.leg {
            Material::Below
        } else {
            Material::Skin
        }
    };
    match bone {
        "head" => head(rest, params, at),
        "neck" => Material::Skin,
        "upper_arm" | "upper_arm_low" if on(j.shoulder[i], j.elbow[i]) < cut.sleeve => {
            Material::Shirt
        }
        "forearm" | "forearm_low" | "hand"
            if cut.sleeve > 1.0 && on(j.elbow[i], j.wrist[i]) < 0.96 =>
        {
            Material::Shirt
        }
        "upper_arm" | "upper_arm_low" | "forearm" | "forearm_low" | "hand" => Material::Skin,
        "thigh" => shirt_or(leg(on(j.hip[i], j.knee[i]))),
        "shank" | "foot" if cut.leg > 1.0 => Material::Below,
        "shank" | "foot" if on(j.knee[i], j.ankle[i]) > 0.86 => Material::Sock,
        "shank" | "foot" => Material::Skin,
        _ => shirt_or(Material::Below),
    }
}

/// Hair grows from the brow up and back, and down behind the ears (by eye).
fn head(rest: &Rest, params: &SwingParams, at: Vec3) -> Material {
    let q = (at - rest.head()) / rest.scale();
    let brow = q.y > 0.075 - 0.02 * (q.x.abs() / 0.06);
    let behind = q.z < 0.02 && q.y > -0.01 - 1.1 * (0.02 - q.z).min(0.06);
    if params.clothes.hat == Hat::Cap && q.y > 0.045 - 0.3 * q.z.min(0.05) {
        Material::Hat
    } else if params.body.hair_style != HairStyle::Bald && (brow || behind) {
        Material::Hair
    } else {
        Material::Skin
    }
}

/// The stage's part that a bone's patterns belong to.
fn part_of(weights: &Weights) -> PartId {
    let (bone, i) = weights.main_bone();
    match bone {
        "pelvis" => part::PELVIS,
        "waist" => part::WAIST,
        "chest" | "collar" => part::CHEST,
        "neck" | "head" => part::HEAD,
        "upper_arm" | "upper_arm_low" => part::UPPER_ARM[i],
        "forearm" | "forearm_low" => part::FOREARM[i],
        "hand" => part::HAND[i],
        "thigh" => part::THIGH[i],
        "shank" => part::SHANK[i],
        _ => part::FOOT[i],
    }
}

/// How far a wide leg or sleeve stands off a limb at a point of it: from the limb's axis outward.
fn tube(rest: &Rest, cut: &Cut, at: Vec3, weights: &Weights) -> Option<Vec3> {
    let j = rest.joints();
    let (bone, i) = weights.main_bone();
    let limb = |[a, b]: [Vec3; 2], [from, to]: [f32; 2]| {
        let along = ((at - a).dot(b - a) / (b - a).length_squared()).clamp(0.0, 1.0);
        let out = at - a.lerp(b, along);
        let short = (from + (to - from) * along) * rest.scale() - out.length();
        (short > 0.0).then(|| out.normalize_or(Vec3::Z) * short)
    };
    let [knee, ankle] = cut.legs_m;
    let [elbow, wrist] = cut.sleeves_m;
    match bone {
        "thigh" => limb([j.hip[i], j.knee[i]], [0.0, knee]),
        "shank" | "foot" => limb([j.knee[i], j.ankle[i]], [knee, ankle]),
        "upper_arm" | "upper_arm_low" => limb([j.shoulder[i], j.elbow[i]], [0.0, elbow]),
        "forearm" | "forearm_low" | "hand" => limb([j.elbow[i], j.wrist[i]], [elbow, wrist]),
        _ => None,
    }
}

/// Points with the cloth over them, and how far each may sink.
fn clothed(
    skin: Vec<Vec3>,
    faces: &[[u16; 3]],
    weights: &[Weights],
    surface: &[(Material, PartId)],
    rest: &Rest,
    cut: &Cut,
    number: u32,
) -> (Vec<Vec3>, Vec<f32>) {
    let k = rest.scale();
    let out = normals(&skin, faces);
    let cloth = |i: usize| matches!(surface[i].0, Material::Shirt | Material::Below);
    let elsewhere = Vec3::splat((number % 101) as f32);
    let off = |i: usize| match surface[i].0 {
        Material::Shirt => cut.shirt_m,
        Material::Below => cut.below_m,
        // Hair that is cut short, and socks.
        Material::Hair | Material::Hat => 0.006,
        Material::Sock => 0.003,
        _ => 0.0,
    };
    let mut points: Vec<Vec3> = (0..skin.len())
        .map(|i| {
            if cloth(i)
                && let Some(way) = tube(rest, cut, skin[i], &weights[i])
            {
                return skin[i] + way;
            }
            let fold = if cloth(i) {
                cut.folds_m
                    * (2.0 * folds(skin[i] / k * Vec3::new(14.0, 7.0, 14.0) + elsewhere) - 0.6)
            } else {
                0.0
            };
            skin[i] + out[i] * ((off(i) + fold).max(0.0) * k)
        })
        .collect();
    // Cloth bridges hollows: it is smoothed, and stays where that would take it inward.
    const ROUNDS: usize = 10;
    for _ in 0..ROUNDS {
        let mut sums = vec![(Vec3::ZERO, 0.0f32); points.len()];
        for face in faces {
            let [a, b, c] = face.map(usize::from);
            for (i, j) in [(a, b), (b, c), (c, a)] {
                sums[i] = (sums[i].0 + points[j], sums[i].1 + 1.0);
                sums[j] = (sums[j].0 + points[i], sums[j].1 + 1.0);
            }
        }
        for i in (0..points.len()).filter(|&i| cloth(i)) {
            let outward = (sums[i].0 / sums[i].1 - points[i]).dot(out[i]);
            points[i] += out[i] * (0.5 * outward.clamp(0.0, 0.004 * k));
        }
    }
    let sinks = (0..points.len())
        .map(|i| {
            if surface[i].0 != Material::Shirt {
                return 0.0;
            }
            // Most at the belly, nothing at the shoulders and the hem that is tucked in.
            let up = (skin[i] - rest.hips()).y / (rest.neck() - rest.hips()).y;
            cut.sink_m * k * (1.0 - (2.2 * (up - 0.45)).powi(2)).max(0.0)
        })
        .collect();
    (points, sinks)
}
