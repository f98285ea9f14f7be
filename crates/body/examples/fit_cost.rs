//! What a fit of two views costs, by length of the swing: `cargo run --release -p lessonwright-body
//! --example fit_cost`. One thread. Longer clips are the same swing at a higher rate told as 60 a second.

#[path = "../tests/common/mod.rs"]
mod common;

use common::{Swing, Taken};
use lessonwright_body::{Options, View, ViewTrack, fit};
use std::time::Instant;

fn main() {
    let swing = Swing::random(3);
    println!("frames  steps  seconds  ms a frame a step");
    for slower in [0.5, 1.0, 2.0, 4.0] {
        let taken = Taken {
            rate_hz: 60.0 * slower,
            noise_m: 0.01,
            ..Taken::EXACT
        };
        let slow = |view: View| -> ViewTrack {
            let mut track = swing.track(view, taken);
            track.times_s.iter_mut().for_each(|t| *t *= slower);
            for t in [
                &mut track.address_s,
                &mut track.takeaway_s,
                &mut track.impact_s,
            ] {
                *t *= slower;
            }
            track
        };
        let views = [slow(View::FaceOn), slow(View::DownTheLine)];
        let options = Options::of_stature(swing.params.body.stature_m);
        let start = Instant::now();
        match fit(&views, &options) {
            Ok(fitted) => {
                let (took, frames) = (start.elapsed().as_secs_f64(), fitted.motion.poses.len());
                let each = 1e3 * took / (frames * fitted.iterations) as f64;
                println!("{frames:6}  {:5}  {took:7.2}  {each:.3}", fitted.iterations);
            }
            Err(why) => println!("{why}"),
        }
    }
}
