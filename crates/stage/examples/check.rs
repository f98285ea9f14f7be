use lessonwright_stage::{measures::*, moments::*, motion::*, params::*};
fn main() {
    let p: SwingParams = std::env::args()
        .nth(1)
        .map(|f| serde_json::from_str(&std::fs::read_to_string(f).unwrap()).unwrap())
        .unwrap_or_default();
    let m = Motion::new(&p);
    let a = m.pose(0.0);
    println!("ball {:.3}", m.ball());
    for (n, t) in moments(&m) {
        let q = m.pose(t);
        println!(
            "{:20} {:.4} pel {:.2} neck {:.2} head {:.2} grip {:.2} kneeL {:.0} T {:.0} elbL {:.0} T {:.0} shift {:.1} kneeline {:.1} elbow {:.1} inc {:.1} sweet {:.3} shT {:.2} wrT {:.2} shL {:.2}",
            n.key(),
            t,
            q.pelvis,
            q.neck,
            q.head,
            q.grip[0],
            q.knee_flexion(0).to_degrees(),
            q.knee_flexion(1).to_degrees(),
            q.elbow_flexion(0).to_degrees(),
            q.elbow_flexion(1).to_degrees(),
            pelvis_shift_m(&q, &a) * 100.,
            knee_line_turn_rad(&q, &a).to_degrees(),
            trail_elbow_ahead_m(&q) * 100.,
            (-q.club.shaft.y).asin().to_degrees(),
            q.club.sweet_spot,
            q.shoulder[1],
            q.wrist[1],
            q.shoulder[0]
        );
    }
    let mut low = 9f64;
    let mut tl = 0.;
    for i in 0..2000 {
        let t = i as f64 * 0.001;
        let q = m.pose(t);
        let y = q.club.head.y;
        if y < low {
            low = y;
            tl = t;
        }
    }
    println!("lowest {low:.3} at {tl:.3}");
}
