//! One draw: a body, torques, and courses for all else. Every range is by eye, wide enough for faults.

use super::chain::{ARM, CHEST, Links, PELVIS, STEP_S, Torque};
use super::course::{Course, RunOut, Stroke, stroke};
use super::{Body, Swing};
use crate::noise::SplitMix64;
use glam::DVec3;

/// How long a way down takes, s, and how far pelvis and chest are open at the strike: what is beyond is no swing.
const DOWN_S: std::ops::Range<f64> = 0.2..0.4;
const PELVIS_OPEN: std::ops::Range<f64> = 0.2..1.0;
const CHEST_OPEN: std::ops::Range<f64> = -0.1..0.75;

/// `None` where the chain does not strike as people do.
pub(super) fn drawn(r: &mut SplitMix64) -> Option<Swing> {
    let body = body(r);
    let top_s = r.between(0.65, 1.15);
    let steepness = r.between(0.98, 1.18);
    let top = [
        r.between(0.6, 1.0),
        r.between(1.35, 1.8),
        r.between(1.9, 2.35),
    ];
    let cock = r.between(1.2, 1.8);
    let hands_ahead = r.between(-0.08, 0.12);
    let links = links(r, &body, steepness, [top[ARM] - top[CHEST] + 0.05, cock]);
    let down = links.come_down(
        [top[PELVIS], top[CHEST], top[ARM], top[ARM] + cock],
        hands_ahead,
    )?;
    let down_s = (down.len() - 1) as f64 * STEP_S;
    let (angle, speed) = *down.last()?;
    let strikes = DOWN_S.contains(&down_s)
        && PELVIS_OPEN.contains(&-angle[PELVIS])
        && CHEST_OPEN.contains(&-angle[CHEST]);
    if !strikes {
        return None;
    }
    let through = [
        RunOut::new(angle[PELVIS], speed[PELVIS], -r.between(1.35, 1.75))?,
        RunOut::new(angle[CHEST], speed[CHEST], -r.between(1.6, 2.1))?,
        RunOut::new(angle[ARM], speed[ARM], -r.between(2.1, 2.6))?,
    ];
    let strike_s = top_s + down_s;
    let near_top = |from: f64, to: f64| [top_s + from, top_s + to];
    let after = |from: f64, to: f64| [strike_s + from, strike_s + to];

    let address_arm = r.between(0.24, 0.38);
    let back = [(PELVIS, 0.0), (CHEST, 0.0), (ARM, address_arm)].map(|(i, rest)| {
        let start_s = r.between(0.0, 0.12);
        let turn = Stroke {
            start_s,
            length_s: top_s - start_s,
            size: top[i] - rest,
        };
        Course::new(rest, [turn])
    });
    let flatter = stroke(r, near_top(-0.5, -0.4), [0.35, 0.45], [-0.35, -0.05]);
    let steeper = -0.8 * flatter.size;
    let across = stroke(r, near_top(-0.5, -0.4), [0.35, 0.45], [0.15, 0.4]);
    Some(Swing {
        back,
        pelvis: [
            Course::new(
                0.0,
                [
                    stroke(r, [0.0, 0.2], [0.35, 0.7], [-0.05, 0.01]),
                    stroke(r, near_top(-0.25, 0.0), [0.3, 0.5], [0.06, 0.16]),
                    stroke(r, after(-0.05, 0.1), [0.4, 0.7], [0.0, 0.07]),
                ],
            ),
            Course::new(
                0.0,
                [
                    stroke(r, near_top(-0.2, 0.0), [0.2, 0.35], [-0.05, 0.0]),
                    stroke(r, near_top(0.1, 0.2), [0.25, 0.4], [0.0, 0.06]),
                    stroke(r, after(0.0, 0.2), [0.3, 0.5], [0.0, 0.04]),
                ],
            ),
            Course::new(
                r.between(-0.05, 0.03),
                [
                    stroke(r, [0.0, 0.3], [0.4, 0.7], [-0.02, 0.02]),
                    stroke(r, near_top(-0.1, 0.1), [0.25, 0.45], [-0.03, 0.05]),
                    stroke(r, after(0.0, 0.2), [0.3, 0.6], [-0.02, 0.04]),
                ],
            ),
        ],
        lean: [
            Course::new(
                r.between(0.48, 0.74),
                [
                    stroke(r, [0.0, 0.3], [0.4, 0.7], [-0.08, 0.06]),
                    stroke(r, near_top(-0.05, 0.1), [0.2, 0.4], [-0.10, 0.08]),
                    stroke(r, after(0.0, 0.1), [0.5, 0.8], [-0.45, -0.25]),
                ],
            ),
            Course::new(
                r.between(-0.22, -0.10),
                [
                    stroke(r, [0.0, 0.3], [0.4, 0.7], [-0.06, 0.10]),
                    stroke(r, near_top(-0.1, 0.05), [0.25, 0.4], [-0.18, 0.0]),
                    stroke(r, after(-0.05, 0.1), [0.4, 0.7], [0.05, 0.2]),
                ],
            ),
        ],
        slope: Course::new(
            steepness,
            [
                flatter,
                stroke(
                    r,
                    near_top(0.0, 0.05),
                    [0.2, 0.3],
                    [steeper - 0.1, steeper + 0.1],
                ),
                stroke(r, after(0.05, 0.1), [0.3, 0.4], [-0.3, 0.0]),
            ],
        ),
        across: Course::new(
            0.0,
            [
                across,
                stroke(r, near_top(0.02, 0.08), [0.18, 0.28], [-across.size; 2]),
                stroke(r, after(0.1, 0.2), [0.3, 0.4], [0.15, 0.4]),
            ],
        ),
        elbow_bend: [
            Course::new(
                r.between(0.12, 0.42),
                [
                    stroke(r, near_top(-0.4, -0.3), [0.3, 0.4], [0.0, 0.4]),
                    stroke(r, near_top(0.0, 0.1), [0.15, 0.25], [-0.45, -0.15]),
                ],
            ),
            Course::new(
                r.between(0.05, 0.4),
                [stroke(r, after(0.15, 0.25), [0.3, 0.4], [0.0, 0.5])],
            ),
        ],
        elbow_behind: Course::new(
            r.between(-0.2, 0.8),
            [
                stroke(r, [0.2, 0.5], [0.3, 0.5], [-0.5, 0.3]),
                stroke(r, near_top(-0.05, 0.05), [0.15, 0.3], [-0.2, 0.6]),
            ],
        ),
        girdle: [r.between(0.0, 0.05), r.between(0.0, 0.04)],
        knee_out: [r.between(-0.1, 0.35), r.between(-0.35, 0.1)],
        heel_up: Course::new(
            0.0,
            [
                stroke(r, near_top(0.1, 0.2), [0.15, 0.3], [0.0, 0.3]),
                stroke(r, after(-0.05, 0.05), [0.3, 0.6], [0.5, 0.9]),
            ],
        ),
        end_s: strike_s + through.iter().map(|o| o.length_s).fold(0.0, f64::max),
        body,
        top_s,
        down,
        strike_s,
        through,
    })
}

/// Shares of the stature: those of [`crate::skeleton`], each drawn by itself.
fn body(r: &mut SplitMix64) -> Body {
    let stature = r.between(1.54, 1.94);
    let mut share = |mean: f64, stray: f64| stature * (mean + stray * r.between(-1.0, 1.0));
    Body {
        thigh: share(0.245, 0.01),
        shank: share(0.246, 0.01),
        upper_arm: share(0.186, 0.017),
        forearm: share(0.146, 0.010),
        hip_half: share(0.050, 0.005),
        trunk: share(0.288, 0.012),
        shoulder: DVec3::new(
            share(0.102, 0.010),
            share(-0.012, 0.012),
            share(-0.002, 0.008),
        ),
        stance_half: share(0.125, 0.025),
        flare: [r.between(0.0, 0.6), r.between(-0.35, 0.1)],
        stature,
    }
}

fn links(r: &mut SplitMix64, body: &Body, slope: f64, behind: [f64; 2]) -> Links {
    let mut torque = |most_n_m: [f64; 2], onset_s: [f64; 2], fastest: [f64; 2]| Torque {
        most_n_m: r.between(most_n_m[0], most_n_m[1]),
        onset_s: r.between(onset_s[0], onset_s[1]),
        fastest: r.between(fastest[0], fastest[1]),
    };
    let torques = [
        torque([90.0, 230.0], [0.0, 0.0], [9.0, 14.0]),
        torque([80.0, 200.0], [0.0, 0.08], [12.0, 18.0]),
        torque([50.0, 130.0], [0.02, 0.12], [16.0, 26.0]),
        torque([0.0, 20.0], [0.08, 0.2], [40.0, 60.0]),
    ];
    Links {
        pelvis_inertia: r.between(0.7, 1.1),
        trunk_inertia: r.between(0.45, 0.75),
        lengths: [
            body.shoulder.x,
            0.95 * (body.upper_arm + body.forearm),
            1.05,
        ],
        arms_kg: r.between(5.0, 8.0),
        club_kg: 0.4,
        slope,
        torques,
        behind,
    }
}
