//! From a moving figure to the frames a phone would record.
//!
//! Every frame is exposed row by row (rolling shutter): row `y` of `h` is centred on the frame's
//! time plus `(y + ½)/h − ½` of the read-out. Still, inner pixels get one sample; silhouettes get
//! several; moving ones more, spread over their row's exposure. The club, which sweeps farthest,
//! has its own, many samples against the depth of the body's. Pixels are independent of each
//! other, so the same input gives the same bytes on any number of threads.

use crate::body::{Body, Player};
use crate::camera::Camera;
use crate::field::{Field, Hit};
use crate::figure::club_field;
use crate::flight::{SHOWN_S, ball_at};
use crate::motion::Movement;
use crate::noise::hash;
use crate::params::{ClubKind, SwingParams, View};
use crate::scene::{Backdrop, Behind, Light};
use crate::shade::{Look, Occlusion, shade};
use glam::{DVec3, Vec2, Vec3, Vec4};
use rayon::prelude::*;

/// A camera set up before a swing; makes frames.
pub struct Film<'a> {
    params: &'a SwingParams,
    motion: &'a dyn Movement,
    player: Player<'a>,
    camera: Camera,
    eye: Eye,
    look: Look<'a>,
    /// One a pixel.
    backdrop: Vec<Backdrop>,
    /// Samples of a silhouette pixel.
    samples: usize,
    /// Shadow and occlusion are worked out once for this many pixels across and down.
    shadow_px: usize,
}

/// Side of the square tiles that are drawn or skipped together, px.
const TILE: usize = 8;
/// Most samples of one pixel of the body.
const MOST_SAMPLES: usize = 12;
/// The camera in single precision.
struct Eye {
    at: Vec3,
    forward: Vec3,
    right: Vec3,
    up: Vec3,
    focal: f32,
    middle: Vec2,
}

impl Eye {
    fn ray(&self, x: f32, y: f32) -> Vec3 {
        let (u, v) = (x - self.middle.x, self.middle.y - y);
        (self.forward * self.focal + self.right * u + self.up * v).normalize()
    }

    fn pixel(&self, point: Vec3) -> (Vec2, f32) {
        let d = point - self.at;
        let depth = d.dot(self.forward).max(0.05);
        let scale = self.focal / depth;
        let offset = Vec2::new(d.dot(self.right) * scale, -d.dot(self.up) * scale);
        (self.middle + offset, depth)
    }
}

/// The figure at evenly spaced instants of one frame's whole exposure.
struct Exposure {
    bodies: Vec<Body>,
    clubs: Vec<SweptClub>,
    /// First row's opening to last row's closing, s.
    span_s: f64,
    /// Screen distance the club head travels while a row is exposed, px.
    club_sweep_px: f32,
}

/// The club at one instant, and where it is on the screen.
struct SweptClub {
    field: Field,
    ends: [Vec2; 2],
    ball: Option<Vec2>,
    reach_px: f32,
}

/// What one ray brought back from the body or the backdrop.
#[derive(Clone, Copy)]
struct Sample {
    colour: Vec3,
    depth: f32,
    /// Material and part, 0 for the backdrop.
    key: u32,
    occlusion: Occlusion,
}

impl Sample {
    /// Colour, and 1 for the figure, 0 for the backdrop.
    fn covering(&self) -> Vec4 {
        self.colour.extend(if self.key == 0 { 0.0 } else { 1.0 })
    }

    /// Share of all light that reaches the ground here; 1 where the figure is.
    fn ground_light(&self) -> f32 {
        // Of the light on open ground, by eye.
        const KEY_SHARE: f32 = 0.65;
        if self.key == 0 {
            KEY_SHARE * self.occlusion.seen + (1.0 - KEY_SHARE) * self.occlusion.open
        } else {
            1.0
        }
    }

    /// Whether two samples lie on different surfaces, or on one that folds over itself.
    fn differs(&self, other: &Sample) -> bool {
        // Neighbours on one surface differ less in depth than this, m.
        const STEP_M: f32 = 0.025;
        self.key >> 8 != other.key >> 8
            || (self.key != 0 && (self.depth - other.depth).abs() > STEP_M)
    }

    /// Whether two neighbours differ enough for steps to show: an outline, or an edge of a pattern.
    fn contrasts(&self, other: &Sample) -> bool {
        // Share of the brighter one, by eye.
        const CONTRAST: f32 = 0.25;
        let bright = self.colour.max(other.colour).max_element();
        self.differs(other)
            || (self.key != 0
                && (self.colour - other.colour).abs().max_element() > CONTRAST * bright)
    }
}

impl<'a> Film<'a> {
    /// Sets up the camera of a view and its backdrop. `samples` is the number of samples of a
    /// silhouette pixel, 1 (rough) to 12; 0 is as 1 with coarser shadows, for pictures in bulk.
    pub fn new(
        params: &'a SwingParams,
        motion: &'a dyn Movement,
        view: View,
        size_px: [usize; 2],
        samples: usize,
    ) -> Film<'a> {
        let camera = Camera::new(
            params.place(view),
            view,
            params.hand,
            motion.ball().z,
            size_px,
        );
        Film::before(params, motion, camera, samples, &Behind::Scene)
    }

    /// The same for any camera, and any background.
    pub fn before(
        params: &'a SwingParams,
        motion: &'a dyn Movement,
        camera: Camera,
        samples: usize,
        behind: &Behind<'_>,
    ) -> Film<'a> {
        let size_px = [camera.width_px, camera.height_px];
        let light = Light::of(&params.scene);
        let eye = Eye {
            at: camera.position.as_vec3(),
            forward: camera.forward.as_vec3(),
            right: camera.right.as_vec3(),
            up: camera.up.as_vec3(),
            focal: camera.focal_px as f32,
            middle: 0.5 * Vec2::new(size_px[0] as f32, size_px[1] as f32),
        };
        let backdrop = make_backdrop(params, &light, &eye, size_px, samples, behind);
        Film {
            params,
            motion,
            player: Player::of(params),
            camera,
            eye,
            look: Look { params, light },
            backdrop,
            samples: samples.clamp(1, MOST_SAMPLES),
            shadow_px: if samples == 0 { 3 } else { 1 },
        }
    }

    /// The player that is filmed.
    pub fn player(&self) -> &Player<'a> {
        &self.player
    }

    /// The camera.
    pub fn camera(&self) -> &Camera {
        &self.camera
    }

    /// The frame at a time of the clip (s from its first frame), as RGB bytes row by row.
    /// `number` seeds its noise.
    pub fn frame(&self, clip_time_s: f64, number: usize) -> Vec<u8> {
        self.develop(&self.expose_film(clip_time_s, number).0, number)
    }

    /// The figure, club and ball cut out of a frame before [`Behind::Nothing`], row by row: R'G'B',
    /// how much of the background they cover, and how bright the light leaves the ground there.
    pub fn cut_out(&self, clip_time_s: f64, number: usize) -> Vec<[u8; 5]> {
        let (light, shade) = self.expose_film(clip_time_s, number);
        let byte = |value: f32| (value * 255.0).round().clamp(0.0, 255.0) as u8;
        light
            .iter()
            .zip(&shade)
            .map(|(seen, &shade)| {
                let exposure = self.params.scene.exposure as f32;
                let colour = seen.truncate() * (exposure / seen.w.max(1e-3));
                let [r, g, b] = colour.to_array().map(|value| byte(tone(value)));
                [r, g, b, byte(seen.w), byte(shade)]
            })
            .collect()
    }

    /// Light of every pixel with how much of it the figure covers, and the light on the ground.
    fn expose_film(&self, clip_time_s: f64, number: usize) -> (Vec<Vec4>, Vec<f32>) {
        let (w, h) = (self.camera.width_px, self.camera.height_px);
        let exposure = self.expose(clip_time_s - self.params.before_s);
        let body_tiles = self.body_tiles(&exposure);
        let club_tiles = self.club_tiles(&exposure);
        let across = w.div_ceil(TILE);
        let tile = |i: usize| (i / w / TILE) * across + (i % w) / TILE;

        let middle_of = |i: usize, beside: Option<&Sample>| {
            let (x, y) = ((i % w) as f32 + 0.5, (i / w) as f32 + 0.5);
            let body = &exposure.bodies[exposure.body_index(self, i / w, 0.5)];
            if body_tiles[tile(i)] {
                self.sample(body, [x, y], i, beside, &exposure)
            } else {
                self.behind(body, i, beside, &exposure)
            }
        };
        // One pixel of each square first, then the rest beside it.
        let square = self.shadow_px;
        let squares = w.div_ceil(square);
        let leaders: Vec<Sample> = (0..squares * h.div_ceil(square))
            .into_par_iter()
            .map(|i| middle_of(i / squares * square * w + i % squares * square, None))
            .collect();
        let first: Vec<Sample> = if square == 1 {
            leaders
        } else {
            (0..w * h)
                .into_par_iter()
                .map(|i| {
                    let leader = &leaders[i / w / square * squares + i % w / square];
                    middle_of(i, Some(leader))
                })
                .collect()
        };
        let wanted = self.samples_wanted(&exposure, &first);
        let light: Vec<Vec4> = (0..w * h)
            .into_par_iter()
            .map(|i| {
                let club = club_tiles[tile(i)];
                if wanted[i] <= 1 && !club {
                    return first[i].covering();
                }
                self.pixel(i, wanted[i] as usize, club, first[i], &exposure, number)
            })
            .collect();
        let shade = first.iter().map(Sample::ground_light).collect();
        (light, shade)
    }

    fn expose(&self, t: f64) -> Exposure {
        let phone = &self.params.phone;
        let span_s = phone.shutter_s + phone.readout_s;
        let (early, late) = (
            self.motion.pose(t - 0.5 * span_s),
            self.motion.pose(t + 0.5 * span_s),
        );
        // Instants lie so close that neither hands nor club head jump a visible step between two.
        const BODY_STEP_M: f64 = 0.003;
        const CLUB_STEP_M: f64 = 0.0025;
        let moved = (0..2)
            .flat_map(|i| {
                [
                    early.wrist[i].distance(late.wrist[i]),
                    early.elbow[i].distance(late.elbow[i]),
                    early.knee[i].distance(late.knee[i]),
                ]
            })
            .fold(0.0, f64::max);
        let club_moved = early.club.head.distance(late.club.head);
        let instants = |moved: f64, step: f64, most: usize| ((moved / step) as usize + 1).min(most);
        let body_count = instants(moved, BODY_STEP_M, 96);
        let moment = |i: usize, n: usize| t + ((i as f64 + 0.5) / n as f64 - 0.5) * span_s;
        let bodies = (0..body_count)
            .into_par_iter()
            .map(|i| {
                let at = moment(i, body_count);
                let things = self.motion.props(at).things;
                self.player.body(&self.motion.pose(at), &things)
            })
            .collect();
        let impact = self.motion.key_times().impact;
        let ball_moves = t + 0.5 * span_s > impact && t - 0.5 * span_s < impact + SHOWN_S;
        let club_count = if ball_moves {
            instants(club_moved.max(60.0 * span_s), CLUB_STEP_M, 512)
        } else {
            instants(club_moved, CLUB_STEP_M, 512)
        };
        let clubs = (0..club_count)
            .into_par_iter()
            .map(|i| self.swept_club(moment(i, club_count)))
            .collect();
        let share = if span_s > 0.0 {
            phone.shutter_s / span_s
        } else {
            1.0
        };
        let screen = |p: DVec3| self.eye.pixel(p.as_vec3()).0;
        let club_sweep_px = screen(early.club.head).distance(screen(late.club.head)) * share as f32;
        Exposure {
            bodies,
            clubs,
            span_s,
            club_sweep_px,
        }
    }

    fn swept_club(&self, t: f64) -> SweptClub {
        let club = self.motion.pose(t).club;
        let rest = self.motion.ball();
        let props = self.motion.props(t);
        let ball = (props.ball)
            .then(|| ball_at(self.params, self.motion, t))
            .flatten();
        let tee = (props.ball && self.params.club.kind == ClubKind::Driver).then_some(rest);
        let (butt, near) = self.eye.pixel(club.butt.as_vec3());
        let (head, far) = self.eye.pixel(club.head.as_vec3());
        // The head reaches this far from its middle, m.
        const HEAD_REACH_M: f32 = 0.085;
        SweptClub {
            field: club_field(self.params, props.club.then_some(&club), ball, tee),
            ends: [butt, head],
            ball: ball.map(|b| self.eye.pixel(b.as_vec3()).0),
            reach_px: HEAD_REACH_M * self.eye.focal / near.min(far) + 1.5,
        }
    }

    /// One ray against the body, else the backdrop in the player's shadow. Shadow changes slowly
    /// over a surface: a sample takes over the occlusion of one `beside` it.
    fn sample(
        &self,
        body: &Body,
        [x, y]: [f32; 2],
        pixel: usize,
        beside: Option<&Sample>,
        exposure: &Exposure,
    ) -> Sample {
        let ray = self.eye.ray(x, y);
        if let Some(hit) = body.hit(self.eye.at, ray, 1.0 / self.eye.focal) {
            let mut sample = Sample {
                colour: Vec3::ZERO,
                depth: hit.depth,
                key: 0x100 + ((hit.material as u32) << 8 | u32::from(hit.part)),
                occlusion: Occlusion::NONE,
            };
            sample.occlusion = match beside {
                Some(beside) if !beside.differs(&sample) => beside.occlusion,
                _ => Occlusion::at(&self.look.light, body, &hit),
            };
            let colour = shade(&self.look, body.parts(), sample.occlusion, ray, &hit);
            sample.colour = colour.min(Vec3::splat(4.0));
            return sample;
        }
        self.behind(body, pixel, beside, exposure)
    }

    /// The backdrop in the player's shadow.
    fn behind(
        &self,
        body: &Body,
        pixel: usize,
        beside: Option<&Sample>,
        exposure: &Exposure,
    ) -> Sample {
        let behind = &self.backdrop[pixel];
        let occlusion = match beside {
            Some(beside) if beside.key == 0 => beside.occlusion,
            _ if behind.near => self.occlusion_behind(body, behind, exposure),
            _ => Occlusion::NONE,
        };
        let colour = behind.key * occlusion.seen + behind.fill * occlusion.open;
        Sample {
            colour: colour.min(Vec3::splat(4.0)),
            depth: f32::INFINITY,
            key: 0,
            occlusion,
        }
    }

    fn occlusion_behind(&self, body: &Body, behind: &Backdrop, exposure: &Exposure) -> Occlusion {
        let light = &self.look.light;
        let club = &exposure.clubs[exposure.clubs.len() / 2].field;
        let from = behind.at + behind.normal * 0.002;
        let (toward, spread) = (light.toward, light.spread);
        Occlusion {
            seen: body
                .light(from, toward, spread)
                .min(club.light(from, toward, spread)),
            open: if behind.normal.y > 0.5 {
                body.openness(behind.at, behind.normal)
            } else {
                1.0
            },
        }
    }

    /// How many samples each pixel needs, from the first one of each.
    fn samples_wanted(&self, exposure: &Exposure, first: &[Sample]) -> Vec<u8> {
        let (w, h) = (self.camera.width_px, self.camera.height_px);
        let share = if exposure.span_s > 0.0 {
            (self.params.phone.shutter_s / exposure.span_s) as f32
        } else {
            0.0
        };
        let motion_px: Vec<f32> = (0..w * h)
            .into_par_iter()
            .map(|i| {
                if first[i].key == 0 || exposure.bodies.len() == 1 {
                    return 0.0;
                }
                share * self.part_travel_px(exposure, i, &first[i])
            })
            .collect();
        let mut wanted = vec![1u8; w * h];
        for y in 0..h {
            for x in 0..w {
                let i = y * w + x;
                let travel = motion_px[i];
                if travel > 0.7 {
                    wanted[i] =
                        wanted[i].max((travel.ceil() as usize).clamp(2, MOST_SAMPLES) as u8);
                }
                let right = x + 1 < w && first[i].contrasts(&first[i + 1]);
                let below = y + 1 < h && first[i].contrasts(&first[i + w]);
                if !right && !below {
                    continue;
                }
                for (edge, next) in [(right, i + 1), (below, i + w)] {
                    if !edge {
                        continue;
                    }
                    let travel = travel.max(motion_px[next]);
                    let count = self.samples.max(travel.ceil() as usize).min(MOST_SAMPLES) as u8;
                    wanted[i] = wanted[i].max(count);
                    wanted[next] = wanted[next].max(count);
                    // A moving edge smears over its neighbours.
                    let reach = (0.5 * travel + 0.5).min(24.0) as usize;
                    if reach == 0 {
                        continue;
                    }
                    for v in y.saturating_sub(reach)..=(y + reach).min(h - 1) {
                        for u in x.saturating_sub(reach)..=(x + reach).min(w - 1) {
                            wanted[v * w + u] = wanted[v * w + u].max(count);
                        }
                    }
                }
            }
        }
        wanted
    }

    /// Screen distance a part's point travels during the whole exposure, px.
    fn part_travel_px(&self, exposure: &Exposure, i: usize, sample: &Sample) -> f32 {
        let w = self.camera.width_px;
        let part = (sample.key & 0xff) as usize;
        let (x, y) = ((i % w) as f32 + 0.5, (i / w) as f32 + 0.5);
        let at = self.eye.at + self.eye.ray(x, y) * sample.depth;
        let now = &exposure.bodies[exposure.body_index(self, i / w, 0.5)].parts()[part];
        let local = now.to_part * (at - now.origin);
        let place = |body: &Body| {
            let part = &body.parts()[part];
            self.eye
                .pixel(part.origin + part.to_part.transpose() * local)
                .0
        };
        place(&exposure.bodies[0]).distance(place(&exposure.bodies[exposure.bodies.len() - 1]))
    }

    /// A pixel with several samples, and the club before or behind them.
    fn pixel(
        &self,
        i: usize,
        wanted: usize,
        club: bool,
        first: Sample,
        exposure: &Exposure,
        number: usize,
    ) -> Vec4 {
        let w = self.camera.width_px;
        let (column, row) = (i % w, i / w);
        let seed = (number as i32)
            .wrapping_mul(13)
            .wrapping_add(self.params.seed as i32);
        let dither = hash(column as i32, row as i32, seed);
        let slide = hash(column as i32, row as i32, seed.wrapping_add(77));
        let mut samples = [first; MOST_SAMPLES];
        let count = wanted.clamp(1, MOST_SAMPLES);
        if count > 1 {
            for (s, sample) in samples[..count].iter_mut().enumerate() {
                let u = (s as f32 + dither) / count as f32;
                // Golden-ratio steps spread the samples over the pixel in both directions.
                let across = (s as f32 * 0.618_034 + slide).fract();
                let down = (s as f32 + 0.5) / count as f32;
                let body = &exposure.bodies[exposure.body_index(self, row, u)];
                let at = [column as f32 + across, row as f32 + down];
                *sample = self.sample(body, at, i, Some(&first), exposure);
            }
        }
        let samples = &samples[..count];
        let mean = samples.iter().map(Sample::covering).sum::<Vec4>() / count as f32;
        if !club {
            return mean;
        }
        // At least two club samples for every pixel it sweeps.
        let tries = (2.0 * exposure.club_sweep_px).clamp(8.0, 128.0) as usize;
        let mut sum = Vec4::ZERO;
        for s in 0..tries {
            let u = (s as f32 + dither) / tries as f32;
            let x = column as f32 + (s as f32 * 0.618_034 + slide).fract();
            let y = row as f32 + (s as f32 * 0.754_878 + dither).fract();
            let behind = &samples[(u * count as f32) as usize % count];
            let swept = &exposure.clubs[exposure.club_index(self, row, u)];
            sum += match self.club_hit(swept, x, y) {
                Some((colour, depth)) if depth < behind.depth => colour.extend(1.0),
                _ if count == 1 => behind.covering(),
                _ => mean,
            };
        }
        sum / tries as f32
    }

    fn club_hit(&self, swept: &SweptClub, x: f32, y: f32) -> Option<(Vec3, f32)> {
        let at = Vec2::new(x, y);
        let [butt, head] = swept.ends;
        let along = head - butt;
        let t = ((at - butt).dot(along) / along.length_squared().max(1e-6)).clamp(0.0, 1.0);
        // Near the head the whole head's reach counts, along the shaft a fifth of it.
        let close = |p: Vec2, reach: f32| at.distance_squared(p) < reach * reach;
        let maybe = close(butt + along * t, 0.2 * swept.reach_px + 2.0)
            || close(head, swept.reach_px)
            || swept.ball.is_some_and(|b| close(b, 0.6 * swept.reach_px))
            || self.params.club.kind == ClubKind::Driver;
        if !maybe {
            return None;
        }
        let ray = self.eye.ray(x, y);
        let hit: Hit = swept.field.hit(self.eye.at, ray, 1.0 / self.eye.focal)?;
        let colour = shade(&self.look, &swept.field.parts, Occlusion::NONE, ray, &hit);
        Some((colour.min(Vec3::splat(4.0)), hit.depth))
    }

    fn body_tiles(&self, exposure: &Exposure) -> Vec<bool> {
        let mut tiles = Tiles::new(&self.camera);
        for body in &exposure.bodies {
            for (middle, reach) in body.bounds() {
                let (at, depth) = self.eye.pixel(middle);
                tiles.mark(at, reach * self.eye.focal / depth * 1.06 + 1.0);
            }
        }
        tiles.flags
    }

    fn club_tiles(&self, exposure: &Exposure) -> Vec<bool> {
        let mut tiles = Tiles::new(&self.camera);
        for club in &exposure.clubs {
            let [butt, head] = club.ends;
            let steps = (butt.distance(head) / TILE as f32).ceil().max(1.0) as usize;
            for s in 0..=steps {
                tiles.mark(
                    butt.lerp(head, s as f32 / steps as f32),
                    0.2 * club.reach_px + 2.0,
                );
            }
            tiles.mark(head, club.reach_px);
            if let Some(ball) = club.ball {
                tiles.mark(ball, 0.6 * club.reach_px);
            }
        }
        let (at, depth) = self.eye.pixel(self.motion.ball().as_vec3());
        tiles.mark(at, 0.06 * self.eye.focal / depth + 2.0);
        tiles.flags
    }

    /// Optics' softness, exposure, tone curve and sensor noise; mirrored for a left-hander.
    fn develop(&self, light: &[Vec4], number: usize) -> Vec<u8> {
        let (w, h) = (self.camera.width_px, self.camera.height_px);
        let sigma = self.params.phone.noise as f32;
        let exposure = self.params.scene.exposure as f32;
        let seed = (self.params.seed as i32)
            .wrapping_mul(31)
            .wrapping_add(number as i32);
        // A lens and a colour filter array spread a point over about a pixel.
        const SPREAD: f32 = 0.11;
        let at = |x: usize, y: usize| light[y * w + x].truncate();
        let soft = |x: usize, y: usize| {
            let row = |y: usize| {
                let (l, r) = (x.saturating_sub(1), (x + 1).min(w - 1));
                at(x, y) * (1.0 - 2.0 * SPREAD) + (at(l, y) + at(r, y)) * SPREAD
            };
            let (above, below) = (y.saturating_sub(1), (y + 1).min(h - 1));
            row(y) * (1.0 - 2.0 * SPREAD) + (row(above) + row(below)) * SPREAD
        };
        let mut out = vec![0u8; w * h * 3];
        out.par_chunks_mut(w * 3).enumerate().for_each(|(y, line)| {
            for x in 0..w {
                let from = if self.camera.mirrored { w - 1 - x } else { x };
                let colour = soft(from, y) * exposure;
                // Sum of four uniforms, scaled to unit standard deviation.
                let bell = |k: i32| {
                    let sum: f32 = (0..4)
                        .map(|q| hash(x as i32, y as i32 + 7919 * k, seed.wrapping_mul(4) + q))
                        .sum();
                    (sum - 2.0) * 1.732
                };
                let grey = bell(0);
                let off = Vec2::new(x as f32 / w as f32 - 0.5, y as f32 / h as f32 - 0.5);
                let vignette = 1.0 - 0.40 * off.length_squared();
                for k in 0..3 {
                    let value = tone(colour[k] * vignette);
                    // Darker parts are noisier; a part of the noise is common to all colours.
                    let noise =
                        (0.75 * grey + 0.5 * bell(k as i32 + 1)) * sigma * (1.3 - 0.6 * value);
                    line[x * 3 + k] = (value * 255.0 + noise).round().clamp(0.0, 255.0) as u8;
                }
            }
        });
        out
    }
}

impl Exposure {
    /// Which body is seen by a row at a fraction of its own exposure.
    fn body_index(&self, film: &Film<'_>, row: usize, u: f32) -> usize {
        self.index(film, row, u, self.bodies.len())
    }

    fn club_index(&self, film: &Film<'_>, row: usize, u: f32) -> usize {
        self.index(film, row, u, self.clubs.len())
    }

    fn index(&self, film: &Film<'_>, row: usize, u: f32, count: usize) -> usize {
        if count == 1 || self.span_s <= 0.0 {
            return 0;
        }
        let phone = &film.params.phone;
        let open = (row as f64 + 0.5) / film.camera.height_px as f64 * phone.readout_s;
        let place = (open + f64::from(u) * phone.shutter_s) / self.span_s;
        ((place * count as f64) as usize).min(count - 1)
    }
}

struct Tiles {
    across: usize,
    down: usize,
    flags: Vec<bool>,
}

impl Tiles {
    fn new(camera: &Camera) -> Tiles {
        let (across, down) = (
            camera.width_px.div_ceil(TILE),
            camera.height_px.div_ceil(TILE),
        );
        Tiles {
            across,
            down,
            flags: vec![false; across * down],
        }
    }

    fn mark(&mut self, at: Vec2, radius: f32) {
        let tile = |v: f32, most: usize| ((v / TILE as f32).floor().max(0.0) as usize).min(most);
        if at.x + radius < 0.0 || at.y + radius < 0.0 {
            return;
        }
        for y in tile(at.y - radius, self.down)..(tile(at.y + radius, self.down - 1) + 1) {
            for x in tile(at.x - radius, self.across)..(tile(at.x + radius, self.across - 1) + 1) {
                self.flags[y * self.across + x] = true;
            }
        }
    }
}

fn make_backdrop(
    params: &SwingParams,
    light: &Light,
    eye: &Eye,
    [w, h]: [usize; 2],
    samples: usize,
    behind: &Behind<'_>,
) -> Vec<Backdrop> {
    // Texture far away is finer than a pixel: a square of samples a side.
    let side = if samples > 1 { 3 } else { 1 };
    (0..w * h)
        .into_par_iter()
        .map(|i| {
            let (x, y) = ((i % w) as f32, (i / w) as f32);
            let look = |dx: f32, dy: f32| {
                let at = Vec2::new((x + dx) / w as f32, (y + dy) / h as f32);
                behind.at(&params.scene, light, eye.at, eye.ray(x + dx, y + dy), at)
            };
            let mut middle = look(0.5, 0.5);
            if side > 1 {
                let all: Vec<Backdrop> = (0..side * side)
                    .map(|s| {
                        let step = 1.0 / side as f32;
                        look(
                            (s % side) as f32 * step + 0.5 * step,
                            (s / side) as f32 * step + 0.5 * step,
                        )
                    })
                    .collect();
                let n = all.len() as f32;
                middle.key = all.iter().map(|b| b.key).sum::<Vec3>() / n;
                middle.fill = all.iter().map(|b| b.fill).sum::<Vec3>() / n;
            }
            middle
        })
        .collect()
}

/// Filmic tone curve (K. Narkowicz, "ACES filmic tone mapping curve", 2015) and sRGB transfer
/// (IEC 61966-2-1).
pub(crate) fn tone(light: f32) -> f32 {
    // Places mid-grey where a phone puts it; set by eye.
    let x = light * 0.62;
    let a = ((x * (2.51 * x + 0.03)) / (x * (2.43 * x + 0.59) + 0.14)).clamp(0.0, 1.0);
    if a <= 0.003_130_8 {
        12.92 * a
    } else {
        1.055 * a.powf(1.0 / 2.4) - 0.055
    }
}
