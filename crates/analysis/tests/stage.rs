//! Measures of the fitted body from the stage's exact joints, against the stage's own truth.

mod common;

use common::staged::{clips, true_value};
use common::{exact, player};
use lessonwright_analysis::analyse;
use lessonwright_model::MeasureState;
use lessonwright_stage::SwingParams;

#[test]
fn exact_points() {
    for seed in 1..=8 {
        let params = SwingParams::random(seed);
        let [face, line] = clips(&params, 0.0);
        let truth = face.1;
        let t0 = std::time::Instant::now();
        let measured =
            analyse(&[face.0, line.0], &player(params.body.stature_m), &exact()).expect("a swing");
        println!(
            "seed {seed} {:?} {:.2} s {} instants",
            params.hand,
            t0.elapsed().as_secs_f64(),
            measured.bodies.first().map_or(0, |b| b.motion.poses.len())
        );
        for m in &measured.measures {
            match (m.value, m.state) {
                (Some(v), MeasureState::Measured) => {
                    let t = true_value(&truth, m);
                    println!(
                        "ROW {seed} {:?} {:?} {:?} {t:.3} {v:.3}",
                        m.name, m.moment, m.against
                    );
                }
                _ => println!("NONE {:?} {:?} {}", m.name, m.moment, m.reason),
            }
        }
    }
}
