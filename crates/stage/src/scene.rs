//! The place around the player: what a ray meets when it misses the player, and the light.
//!
//! Two places: a teaching studio with a panelled wall and an impact screen, and a practice range
//! with grass, trees and sky. Shapes and colours were made up; axes as in [`crate::pose`], colours
//! linear RGB.

use crate::film::tone;
use crate::noise::{cloudy, hash, value_noise};
use crate::params::{Place, Scene};
use glam::{Vec2, Vec3};

/// The light of a place.
#[derive(Clone, Copy, Debug)]
pub struct Light {
    /// Unit vector to the key light.
    pub toward: Vec3,
    /// Strength of the key light.
    pub key: Vec3,
    /// Fill from above.
    pub above: Vec3,
    /// Fill from below.
    pub below: Vec3,
    /// Fill from all round.
    pub around: Vec3,
    /// Radius of the key light's disc, radians.
    pub spread: f32,
}

/// What lies behind the player along one ray, lit but for the player's shadow.
#[derive(Clone, Copy, Debug)]
pub struct Backdrop {
    /// Light from the key light.
    pub key: Vec3,
    /// All other light.
    pub fill: Vec3,
    /// The point, m.
    pub at: Vec3,
    /// Its normal.
    pub normal: Vec3,
    /// True where the player's shadow can fall.
    pub near: bool,
}

/// The player's shadow reaches no farther than this, m.
const SHADOW_REACH_M: f32 = 3.4;

impl Light {
    /// The light of a scene.
    pub fn of(scene: &Scene) -> Light {
        let azimuth = (scene.light_azimuth_deg as f32).to_radians();
        let height = (scene.light_height_deg as f32).to_radians();
        // Azimuth 0 comes from the ball's side (the face-on camera's), plus from the target.
        let toward = Vec3::new(
            azimuth.sin() * height.cos(),
            height.sin(),
            azimuth.cos() * height.cos(),
        );
        let hard = scene.light_hardness as f32;
        // A weaker key light comes with more fill, so that exposure stays.
        let fill = 1.0 + 0.55 * (1.0 - hard).max(0.0);
        match scene.place {
            Place::Studio => Light {
                toward,
                key: Vec3::new(1.0, 0.93, 0.84) * (1.55 * hard),
                above: Vec3::new(0.80, 0.79, 0.78) * (0.95 * fill),
                below: Vec3::new(0.40, 0.37, 0.33) * (0.55 * fill),
                around: Vec3::splat(0.30 * fill),
                spread: 0.16,
            },
            Place::Range => Light {
                toward,
                key: Vec3::new(1.0, 0.94, 0.84) * (2.35 * hard),
                above: Vec3::new(0.62, 0.72, 0.90) * (0.85 * fill),
                below: Vec3::new(0.42, 0.48, 0.30) * (0.42 * fill),
                around: Vec3::splat(0.25 * fill),
                spread: 0.05,
            },
        }
    }

    /// Key and fill light on a dull surface.
    pub fn on(&self, colour: Vec3, normal: Vec3) -> (Vec3, Vec3) {
        let facing = normal.dot(self.toward).max(0.0);
        let fill =
            self.above * (0.5 + 0.5 * normal.y) + self.below * (0.5 - 0.5 * normal.y) + self.around;
        (colour * self.key * facing, colour * fill)
    }
}

/// A picture to stand behind the player: R'G'B' row by row.
#[derive(Clone, Debug)]
pub struct Picture {
    /// Width and height, px.
    pub size_px: [usize; 2],
    /// Three bytes a pixel.
    pub rgb: Vec<u8>,
}

/// What lies behind the player.
#[derive(Clone, Copy, Debug)]
pub enum Behind<'a> {
    /// The swing's own place.
    Scene,
    /// A picture stretched over the frame; the player's shadow falls on it as on the ground.
    Picture(&'a Picture),
    /// Black, for cutting out.
    Nothing,
}

impl Behind<'_> {
    /// What a ray meets; `place` is where its pixel lies, shares of the frame.
    pub fn at(
        &self,
        scene: &Scene,
        light: &Light,
        origin: Vec3,
        ray: Vec3,
        place: Vec2,
    ) -> Backdrop {
        let colour = match self {
            Behind::Scene => return backdrop(scene, light, origin, ray),
            Behind::Picture(picture) => picture.light(place) / scene.exposure as f32,
            Behind::Nothing => Vec3::ZERO,
        };
        // Share of the picture's light that a shadow takes, by eye.
        let key = 0.45 * (scene.light_hardness as f32).min(1.3);
        let at = origin - ray * (origin.y / ray.y);
        Backdrop {
            key: colour * key,
            fill: colour * (1.0 - key),
            at,
            normal: Vec3::Y,
            near: ray.y < -1e-4 && at.length() < SHADOW_REACH_M,
        }
    }
}

impl Picture {
    /// Light that the film turns into the picture's colour there.
    fn light(&self, place: Vec2) -> Vec3 {
        let [w, h] = self.size_px;
        let pixel = |share: f32, count: usize| ((share * count as f32) as usize).min(count - 1);
        let at = 3 * (pixel(place.y, h) * w + pixel(place.x, w));
        Vec3::from_array([0, 1, 2].map(|k| untoned(f32::from(self.rgb[at + k]) / 255.0)))
    }
}

/// The light that the film's tone curve turns into a value, by bisection.
fn untoned(value: f32) -> f32 {
    let (mut low, mut high) = (0.0f32, 8.0f32);
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        if tone(middle) < value {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// What a ray meets behind the player.
pub fn backdrop(scene: &Scene, light: &Light, origin: Vec3, ray: Vec3) -> Backdrop {
    match scene.place {
        Place::Studio => studio(scene.variant, light, origin, ray),
        Place::Range => range(scene.variant, light, origin, ray),
    }
}

#[derive(Clone, Copy)]
enum Surface {
    Floor,
    BackWall,
    Screen,
    Ceiling,
    Sky,
    Trees(f32),
    Hedge,
}

/// The nearest of several planes along a ray.
struct Nearest {
    depth: f32,
    surface: Surface,
}

impl Nearest {
    fn offer(&mut self, depth: f32, surface: Surface, meets: bool) {
        if meets && depth > 0.01 && depth < self.depth {
            (self.depth, self.surface) = (depth, surface);
        }
    }
}

fn studio(variant: u32, light: &Light, origin: Vec3, ray: Vec3) -> Backdrop {
    const WALL_Z: f32 = -2.5;
    const SCREEN_X: f32 = 3.4;
    const CEILING_Y: f32 = 3.0;
    let mut near = Nearest {
        depth: 40.0,
        surface: Surface::Sky,
    };
    near.offer(-origin.y / ray.y, Surface::Floor, ray.y < -1e-4);
    near.offer(
        (CEILING_Y - origin.y) / ray.y,
        Surface::Ceiling,
        ray.y > 1e-4,
    );
    near.offer(
        (WALL_Z - origin.z) / ray.z,
        Surface::BackWall,
        ray.z < -1e-4,
    );
    near.offer((SCREEN_X - origin.x) / ray.x, Surface::Screen, ray.x > 1e-4);
    let at = origin + ray * near.depth;
    let tint = [
        Vec3::new(0.50, 0.49, 0.46),
        Vec3::new(0.30, 0.37, 0.40),
        Vec3::new(0.46, 0.40, 0.33),
        Vec3::new(0.33, 0.36, 0.31),
    ][variant as usize % 4];
    let (colour, normal, glow) = match near.surface {
        Surface::Floor => (studio_floor(variant, at), Vec3::Y, Vec3::ZERO),
        Surface::BackWall => {
            // The wall's own fill fades toward the floor.
            (
                studio_wall(at, tint) * (0.62 + 0.22 * at.y).min(1.0),
                Vec3::Z,
                Vec3::ZERO,
            )
        }
        Surface::Screen => {
            let (colour, glow) = screen(at, light);
            (colour, Vec3::NEG_X, glow)
        }
        _ => {
            let panel = (at.x / 1.2).rem_euclid(1.0) < 0.14 && (at.z / 2.4).rem_euclid(1.0) < 0.75;
            let glow = if panel { Vec3::splat(2.2) } else { Vec3::ZERO };
            (Vec3::splat(0.16), Vec3::NEG_Y, glow)
        }
    };
    let (key, fill) = light.on(colour, normal);
    // A lamp in the room falls off: the floor under it is brightest.
    let fall = 1.0 / (1.0 + 0.035 * at.with_y(0.0).length_squared());
    Backdrop {
        key: key * fall,
        fill: fill * (0.45 + 0.55 * fall) + glow,
        at,
        normal,
        near: at.length() < SHADOW_REACH_M
            && !matches!(near.surface, Surface::Ceiling | Surface::Screen),
    }
}

fn studio_floor(variant: u32, at: Vec3) -> Vec3 {
    let blotch = cloudy(at * 6.0);
    let grain = value_noise(at * 160.0);
    let inside = |edge: f32| at.x.abs() < 1.05 + edge && at.z > -0.55 - edge && at.z < 1.35 + edge;
    if inside(0.0) {
        // A turf mat.
        Vec3::new(0.050, 0.115, 0.045) * (0.45 + 0.6 * blotch + 0.5 * grain)
    } else if inside(0.035) {
        Vec3::splat(0.03)
    } else if variant.is_multiple_of(2) {
        // Carpet tiles.
        let seam = |v: f32| (v / 0.5).rem_euclid(1.0) < 0.012;
        let dark = if seam(at.x) || seam(at.z) { 0.7 } else { 1.0 };
        Vec3::new(0.105, 0.110, 0.120) * (0.6 + 0.35 * blotch + 0.4 * grain) * dark
    } else {
        // Boards along the target line.
        let row = (at.z / 0.14).floor();
        let board = hash(row as i32, ((at.x + row * 0.7) / 1.6).floor() as i32, 5);
        let seam = (at.z / 0.14).rem_euclid(1.0) < 0.03;
        let streak = cloudy(Vec3::new(at.x * 2.0, 0.0, at.z * 60.0));
        Vec3::new(0.28, 0.19, 0.115)
            * (0.55 + 0.35 * board + 0.4 * streak)
            * if seam { 0.4 } else { 1.0 }
    }
}

fn studio_wall(at: Vec3, tint: Vec3) -> Vec3 {
    let rough = cloudy(at * 9.0);
    if at.y < 0.10 {
        return Vec3::splat(0.34) * (0.85 + 0.2 * rough);
    }
    if at.y < 1.05 {
        // Upright slats.
        let slat = (at.x / 0.11).rem_euclid(1.0);
        let board = hash((at.x / 0.11).floor() as i32, 1, 9);
        let streak = cloudy(Vec3::new(at.x * 40.0, at.y * 2.5, 1.0));
        let dark = if slat < 0.09 { 0.30 } else { 1.0 };
        return Vec3::new(0.24, 0.165, 0.105) * (0.55 + 0.35 * board + 0.45 * streak) * dark;
    }
    if at.y < 1.10 {
        return Vec3::new(0.17, 0.115, 0.075);
    }
    tint * (0.90 + 0.16 * rough)
}

fn screen(at: Vec3, light: &Light) -> (Vec3, Vec3) {
    let _ = light;
    let edge = at.z.abs().max((at.y - 1.45).abs() * 1.25);
    if edge > 1.95 {
        // Black side curtains in folds.
        let fold = 0.5 + 0.5 * (at.z * 26.0).sin();
        return (Vec3::splat(0.012 + 0.018 * fold), Vec3::ZERO);
    }
    // A projected practice field, a little washed out.
    let h = at.y - 1.28;
    let picture = if h > 0.0 {
        Vec3::new(0.40, 0.55, 0.75).lerp(Vec3::new(0.22, 0.40, 0.68), (h * 0.7).min(1.0))
    } else {
        let depth = 1.0 / (0.04 - h);
        let stripe = if ((depth * 0.5).floor() as i32) % 2 == 0 {
            1.0
        } else {
            0.86
        };
        Vec3::new(0.15, 0.30, 0.10) * stripe
    };
    let trees = 0.10 + 0.10 * cloudy(Vec3::new(at.z * 7.0, 0.0, 2.0));
    let picture = if h > 0.0 && h < trees {
        Vec3::new(0.05, 0.13, 0.05)
    } else {
        picture
    };
    let weave = 0.92 + 0.12 * value_noise(at * 120.0);
    (Vec3::splat(0.30) * weave, picture * 0.42 * weave)
}

fn range(variant: u32, light: &Light, origin: Vec3, ray: Vec3) -> Backdrop {
    let mut near = Nearest {
        depth: 400.0,
        surface: Surface::Sky,
    };
    near.offer(-origin.y / ray.y, Surface::Floor, ray.y < -1e-4);
    let mut offer_upright =
        |depth: f32, along_x: bool, surface: Surface, top: &dyn Fn(f32) -> f32| {
            let at = origin + ray * depth;
            let across = if along_x { at.x } else { at.z };
            near.offer(depth, surface, depth > 0.0 && at.y < top(across));
        };
    let crown = |base: f32, tall: f32, seed: f32| {
        move |across: f32| {
            // Round crowns side by side, of different heights, with leaves at the edge.
            let tree = across * 0.30;
            let round = (std::f32::consts::PI
                * (tree + 0.3 * value_noise(Vec3::new(tree, seed, 2.0))))
            .sin()
            .abs()
            .sqrt();
            base + tall * (0.45 * value_noise(Vec3::new(tree * 0.8, seed, 0.0)) + 0.30 * round)
                + 0.35 * value_noise(Vec3::new(across * 3.1, seed, 4.0))
                + 0.20 * value_noise(Vec3::new(across * 9.0, seed, 6.0))
        }
    };
    let shift = variant as f32 * 13.7;
    if ray.z < -1e-4 {
        offer_upright((-7.5 - origin.z) / ray.z, true, Surface::Hedge, &|x| {
            0.85 + 0.12 * value_noise(Vec3::new(x * 5.0, 1.0, shift))
        });
        offer_upright(
            (-26.0 - origin.z) / ray.z,
            true,
            Surface::Trees(0.0),
            &crown(2.6, 5.5, shift),
        );
    }
    if ray.x > 1e-4 {
        offer_upright(
            (170.0 - origin.x) / ray.x,
            false,
            Surface::Trees(1.0),
            &|z| crown(5.0, 16.0, shift)(z * 0.35),
        );
    }
    if ray.z > 1e-4 {
        offer_upright(
            (60.0 - origin.z) / ray.z,
            true,
            Surface::Trees(0.5),
            &crown(4.0, 7.0, shift),
        );
    }
    let at = origin + ray * near.depth;
    let haze = 1.0 - (-near.depth / 260.0).exp();
    let air = Vec3::new(0.62, 0.72, 0.84) * 0.95;
    let (colour, normal) = match near.surface {
        Surface::Floor => (range_ground(at), Vec3::Y),
        Surface::Hedge => {
            let leaf = cloudy(at * 9.0) + 0.5 * value_noise(at * 34.0);
            (
                Vec3::new(0.030, 0.070, 0.022) * (0.25 + 1.1 * leaf),
                Vec3::Z,
            )
        }
        Surface::Trees(far) => {
            let scale = 1.0 - 0.7 * far;
            let warp = Vec3::splat(value_noise(at * 2.3 * scale)) * 0.9;
            let leaf = 0.55 * cloudy(at * 0.7 * scale + warp)
                + 0.45 * cloudy(at * 4.1 * scale + warp * 2.0);
            let normal = Vec3::new(0.2, 0.5, 0.8).normalize();
            (
                Vec3::new(0.034, 0.070, 0.026) * (0.10 + 1.5 * leaf * leaf * 2.0),
                normal,
            )
        }
        _ => {
            let fill = sky(ray, light, variant);
            return Backdrop {
                key: Vec3::ZERO,
                fill,
                at,
                normal: Vec3::Y,
                near: false,
            };
        }
    };
    let (key, fill) = light.on(colour, normal);
    Backdrop {
        key: key * (1.0 - haze),
        fill: (fill * (1.0 - haze)) + air * haze,
        at,
        normal,
        near: at.length() < SHADOW_REACH_M && matches!(near.surface, Surface::Floor),
    }
}

fn range_ground(at: Vec3) -> Vec3 {
    let distance = at.with_y(0.0).length();
    // Detail finer than the eye resolves at a distance would only flicker.
    let fade = (1.0 - distance / 14.0).clamp(0.0, 1.0);
    let blotch = cloudy(at * 1.3);
    let fine = 0.5 + (value_noise(at * 70.0) - 0.5) * fade;
    let inside = |edge: f32| at.x.abs() < 0.85 + edge && at.z > -0.50 - edge && at.z < 1.30 + edge;
    if inside(0.0) {
        let weave = value_noise(at * 150.0);
        return Vec3::new(0.055, 0.125, 0.050) * (0.55 + 0.35 * cloudy(at * 5.0) + 0.4 * weave);
    }
    if inside(0.03) {
        return Vec3::splat(0.025);
    }
    if at.x < 1.6 && at.z > -2.0 && at.z < 2.6 {
        // Worn ground behind the hitting line.
        let slab = Vec3::new(0.23, 0.22, 0.20) * (0.6 + 0.4 * blotch + 0.25 * fine);
        let joint = (at.x / 1.6).rem_euclid(1.0) < 0.008;
        return slab * if joint { 0.55 } else { 1.0 };
    }
    let stripe = if ((at.z / 3.0).floor() as i32).rem_euclid(2) == 0 {
        1.0
    } else {
        0.84
    };
    let far = (distance / 60.0).clamp(0.0, 1.0);
    Vec3::new(0.085, 0.165, 0.045).lerp(Vec3::new(0.10, 0.17, 0.055), far)
        * (0.55 + 0.5 * blotch + 0.45 * fine)
        * (1.0 + (stripe - 1.0) * (1.0 - 0.6 * fade))
}

fn sky(ray: Vec3, light: &Light, variant: u32) -> Vec3 {
    let height = ray.y.max(0.0);
    let flat =
        Vec3::new(ray.x, 0.0, ray.z) / (height + 0.25) * 1.7 + Vec3::Y * (0.3 + variant as f32);
    let cloud = cloudy(flat);
    let clear = Vec3::new(0.52, 0.66, 0.88).lerp(Vec3::new(0.18, 0.35, 0.70), height);
    // Little key light means an overcast sky.
    let overcast = (1.0 - light.key.x / 2.35).clamp(0.0, 1.0);
    let cover = ((cloud - 0.52 + 0.5 * overcast) * 2.5).clamp(0.0, 0.75 + 0.25 * overcast);
    clear.lerp(Vec3::new(0.95, 0.97, 1.0) * (1.0 - 0.25 * overcast), cover) * 1.08
}
