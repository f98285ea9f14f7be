use lessonwright_stage::{measures::*, moments::*, motion::*, params::*};
fn main() {
    let n: u64 = std::env::args()
        .nth(1)
        .map(|s| s.parse().unwrap())
        .unwrap_or(40);
    println!(
        "seed hand stat drv | hit_mm gnd_mm | dip head_drop_imp headx | kneeL top imp kneeT top | elbT top down imp elbL addr imp| lie addr imp | shift dn | knee want got | elbow want got | headspeed"
    );
    let (mut ke, mut ee) = (0, 0);
    for s in 0..n {
        let p = SwingParams::random(s);
        p.check().unwrap();
        let m = Motion::new(&p);
        let a = m.pose(0.0);
        let mo = moments(&m);
        let at = |n: MomentName| m.pose(mo[n as usize].1);
        let (t, d, i) = (
            at(MomentName::Top),
            at(MomentName::LeadArmLevelDown),
            at(MomentName::Impact),
        );
        let touch = m.ball() - glam::DVec3::X * BALL_RADIUS_M;
        let miss = (i.club.sweet_spot - touch).length() * 1000.;
        let mut low = 9f64;
        let mut sp = 0f64;
        for j in 0..1400 {
            let x = j as f64 * 0.001;
            let q = m.pose(x);
            low = low.min(q.club.head.y);
            let v = (m.pose(x + 0.0005).club.head - m.pose(x - 0.0005).club.head).length() / 0.001;
            sp = sp.max(v);
        }
        let kl = knee_line_turn_rad(&d, &a).to_degrees();
        let el = trail_elbow_ahead_m(&d) * 100.;
        if (kl - p.motion.knee_line_down_deg).abs() > 0.1 {
            ke += 1;
        }
        if (el - p.motion.elbow_ahead_down_cm).abs() > 0.1 {
            ee += 1;
        }
        let f = |q: &lessonwright_stage::pose::Pose, i| q.knee_flexion(i).to_degrees();
        let e = |q: &lessonwright_stage::pose::Pose, i| q.elbow_flexion(i).to_degrees();
        let lie = |q: &lessonwright_stage::pose::Pose| (-q.club.shaft.y).asin().to_degrees();
        println!(
            "{s:3} {:?} {:.2} {} | {miss:5.1} {:5.0} | {:4.1} {:4.1} {:5.1} | {:3.0} {:3.0} {:3.0} {:3.0} | {:3.0} {:3.0} {:3.0}  {:3.0} {:3.0} | {:4.1} {:4.1} | {:4.1} | {:5.1} {:5.1} | {:5.1} {:5.1} | {:4.1}",
            p.hand,
            p.body.stature_m,
            (p.club.kind == ClubKind::Driver) as u8,
            low * 1000.,
            (a.head.y - d.head.y) * 100.,
            (a.head.y - i.head.y) * 100.,
            (i.head.x - a.head.x) * 100.,
            f(&a, 0),
            f(&t, 0),
            f(&i, 0),
            f(&t, 1),
            e(&t, 1),
            e(&d, 1),
            e(&i, 1),
            e(&a, 0),
            e(&i, 0),
            lie(&a),
            lie(&i),
            pelvis_shift_m(&d, &a) * 100.,
            p.motion.knee_line_down_deg,
            kl,
            p.motion.elbow_ahead_down_cm,
            el,
            sp
        );
    }
    println!("knee misses {ke} elbow misses {ee} of {n}");
}
