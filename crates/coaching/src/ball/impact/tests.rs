//! Checks of the impact model: the reference table, closed forms, symmetry, the road back.

use super::*;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

const RPM: f64 = std::f64::consts::TAU / 60.0;

/// [V m/s, path, attack, face, loft °] → [spin loft, tilt, launch, start °, ball m/s, spin rpm].
///
/// Reference values T7, computed by numpy from the same equations, so this checks the code and
/// not the physics. Physics: the share below.
const T7: [([f64; 5], [f64; 6]); 10] = [
    (
        [45.0, 0.0, 0.0, 0.0, 12.0],
        [12.0, 0.0, 9.74542, 0.0, 63.76637, 2806.998],
    ),
    (
        [45.0, 0.0, 0.0, 2.0, 12.0],
        [12.16311, 9.32416, 9.74520, 1.61588, 63.72892, 2844.582],
    ),
    (
        [45.0, 0.0, 0.0, 2.0, 15.0],
        [15.12971, 7.42081, 12.15846, 1.60802, 62.96135, 3523.808],
    ),
    (
        [45.0, -4.0, 0.0, 0.0, 15.0],
        [15.51234, 14.59218, 12.15762, -0.78489, 62.85050, 3610.764],
    ),
    (
        [45.0, 4.0, -1.0, 2.0, 14.0],
        [15.13028, -7.45316, 11.15836, 2.39052, 62.96119, 3523.936],
    ),
    (
        [45.0, -5.0, -3.0, -1.0, 14.0],
        [17.45661, 13.02157, 10.75644, -1.78751, 62.24572, 4050.051],
    ),
    (
        [45.0, 3.0, 3.0, 0.0, 14.0],
        [11.39186, -14.87701, 11.93824, 0.57791, 63.90162, 2666.674],
    ),
    (
        [38.0, 0.0, -4.0, 2.0, 24.0],
        [28.06768, 3.87589, 18.37432, 1.56093, 48.77438, 5364.225],
    ),
    (
        [38.0, -3.0, -4.0, 0.0, 24.0],
        [28.15204, 5.80185, 18.37297, -0.65894, 48.73771, 5379.032],
    ),
    (
        [36.0, 0.0, -5.0, 2.0, 46.0],
        [51.03107, 1.78006, 33.11312, 1.31722, 33.62166, 8397.430],
    ),
];

fn delivery([speed, path, attack, face, loft]: [f64; 5]) -> Delivery {
    Delivery {
        speed_m_s: speed,
        path_rad: path.to_radians(),
        attack_rad: attack.to_radians(),
        face_rad: face.to_radians(),
        loft_rad: loft.to_radians(),
    }
}

/// A toe strike on a driver's head.
fn toward_toe(toward_toe_m: f64) -> FaceSpot {
    FaceSpot {
        toward_toe_m,
        depth_m: 0.035,
        inertia_kg_m2: 4.5e-4,
        bulge_per_m: 1.0 / 0.3,
    }
}

fn square(loft_deg: f64) -> Delivery {
    delivery([45.0, 0.0, 0.0, 0.0, loft_deg])
}

#[test]
fn the_launch_is_that_of_the_reference_table() {
    let mut wrong = Vec::new();
    for (given, [spin_loft, tilt, angle, start, speed, spin]) in T7 {
        let given = delivery(given);
        let launch = Collision::DRIVER.launch(&given, &FaceSpot::CENTRE);
        let normal = direction(given.face_rad, given.loft_rad);
        let along = direction(given.path_rad, given.attack_rad).dot(normal);
        let pairs = [
            ("spin loft", along.acos().to_degrees(), spin_loft),
            ("tilt", launch.tilt_rad.to_degrees(), tilt),
            ("angle", launch.angle_rad.to_degrees(), angle),
            ("start", launch.start_rad.to_degrees(), start),
            ("speed", launch.speed_m_s, speed),
            ("spin", launch.spin_rad_s / RPM, spin),
        ];
        for (name, is, should_be) in pairs {
            // 0.1 % asked for; the table's own rounding is 5e-6.
            if (is - should_be).abs() > 1e-4 * should_be.abs() + 6e-6 {
                wrong.push(format!("{given:?}: {name} {is}, not {should_be}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_start_follows_the_face_as_much_as_was_measured() {
    // 61 to 83 % of the way from path to face: golfers and robot, several clubs; "The influence
    // of face angle and club path…", Proceedings 2018, 2(6), 249, doi 10.3390/proceedings2060249.
    for loft in [12.0, 24.0, 46.0] {
        let open = delivery([40.0, 0.0, -2.0, 2.0, loft]);
        let launch = Collision::DRIVER.launch(&open, &FaceSpot::CENTRE);
        let share = launch.start_rad / open.face_rad;
        assert!((0.61..=0.83).contains(&share), "loft {loft}: {share}");
    }
}

#[test]
fn a_level_path_on_line_tilts_the_axis_by_sine_of_face_over_tangent_of_loft() {
    // Reference values T7: A = P = 0 ⇒ tan τ = sin F / tan L; F 2°, L 15° → 7.420811°.
    let launch =
        Collision::DRIVER.launch(&delivery([45.0, 0.0, 0.0, 2.0, 15.0]), &FaceSpot::CENTRE);
    assert!((launch.tilt_rad.to_degrees() - 7.420_811).abs() < 1e-6);
}

#[test]
fn no_slip_is_no_spin() {
    let launch = Collision::DRIVER.launch(&delivery([40.0, 2.0, 5.0, 2.0, 5.0]), &FaceSpot::CENTRE);
    assert!(launch.spin_rad_s < 1e-9 && launch.tilt_rad.abs() < 1e-9);
}

#[test]
fn the_toe_draws_and_the_heel_fades_on_a_bulged_wood() {
    // Reference values H: toe → draws, heel → fades; the bulge starts them out the other way.
    let driver = Collision::DRIVER;
    for (spot, side) in [(toward_toe(0.015), 1.0), (toward_toe(-0.015), -1.0)] {
        let launch = driver.launch(&square(13.0), &spot);
        assert!(
            launch.start_rad * side > 0.0 && launch.tilt_rad * side < 0.0,
            "{launch:?}"
        );
    }
}

#[test]
fn a_bulge_without_gear_effect_would_curve_off_line() {
    // Penner 2001, Am J Phys 69:1073–1081 (from memory): the bulge is there to balance the gear
    // effect; without one of the two the ball would curve off line.
    let flat = FaceSpot {
        bulge_per_m: 0.0,
        ..toward_toe(0.015)
    };
    let shallow = FaceSpot {
        depth_m: 0.0,
        ..toward_toe(0.015)
    };
    let tilt = |spot: &FaceSpot| Collision::DRIVER.launch(&square(13.0), spot).tilt_rad;
    assert!(tilt(&shallow) > 0.0);
    assert!(tilt(&flat) < tilt(&toward_toe(0.015)));
}

#[test]
fn a_launch_that_no_club_can_give_has_no_delivery() {
    let launch = Collision::DRIVER.launch(&square(12.0), &FaceSpot::CENTRE);
    let steep = Launch {
        tilt_rad: 1.5,
        angle_rad: 0.5,
        ..launch
    };
    let inverse = |launch: &Launch, attack: f64| {
        Collision::DRIVER.delivery(launch, attack, &FaceSpot::CENTRE)
    };
    assert_eq!(inverse(&steep, 0.0), None);
    assert_eq!(inverse(&launch, launch.angle_rad + 0.01), None);
    assert_eq!(inverse(&launch, f64::NAN), None);
}

fn any_delivery() -> impl Strategy<Value = Delivery> {
    (
        20.0..60.0_f64,
        -12.0..12.0_f64,
        -8.0..6.0_f64,
        -12.0..12.0_f64,
        8.0..50.0_f64,
    )
        .prop_map(|(speed, path, attack, face, loft)| delivery([speed, path, attack, face, loft]))
}

proptest! {
    #![proptest_config(ProptestConfig {
        rng_seed: RngSeed::Fixed(2026), failure_persistence: None, ..ProptestConfig::default()
    })]

    #[test]
    fn face_on_the_path_curves_nowhere(given in any_delivery()) {
        let square = Delivery { face_rad: given.path_rad, ..given };
        let launch = Collision::DRIVER.launch(&square, &FaceSpot::CENTRE);
        prop_assert!(launch.tilt_rad.abs() < 1e-9);
        prop_assert!((launch.start_rad - given.path_rad).abs() < 1e-9);
    }

    #[test]
    fn the_mirror_image_flies_to_the_other_side(
        given in any_delivery(), spot in -0.03..0.03_f64
    ) {
        let launch = Collision::DRIVER.launch(&given, &toward_toe(spot));
        let mirrored = Delivery {
            path_rad: -given.path_rad, face_rad: -given.face_rad, ..given
        };
        let other = Collision::DRIVER.launch(&mirrored, &toward_toe(-spot));
        prop_assert!((launch.start_rad + other.start_rad).abs() < 1e-12);
        prop_assert!((launch.tilt_rad + other.tilt_rad).abs() < 1e-9);
        prop_assert!((launch.angle_rad - other.angle_rad).abs() < 1e-12);
        prop_assert!((launch.spin_rad_s - other.spin_rad_s).abs() < 1e-9);
    }

    #[test]
    fn the_delivery_comes_back_from_its_launch(
        given in any_delivery(), spot in -0.03..0.03_f64, kept_slip in 0.25..0.42_f64
    ) {
        let collision = Collision { kept_slip, ..Collision::DRIVER };
        let spot = toward_toe(spot);
        prop_assume!(given.loft_rad - given.attack_rad > 0.1);
        let launch = collision.launch(&given, &spot);
        // The axis of a ball that spins up its own line (gear against a topping face) is not met.
        prop_assume!(launch.axis().is_some_and(|axis| axis.z > 0.0));
        let back = collision.delivery(&launch, given.attack_rad, &spot);
        let back = back.expect("a delivery gave this launch");
        for (is, was) in [
            (back.face_rad, given.face_rad),
            (back.path_rad, given.path_rad),
            (back.loft_rad, given.loft_rad),
        ] {
            prop_assert!((is - was).abs() < 1e-9, "{back:?} from {given:?}");
        }
        prop_assert!((back.speed_m_s / given.speed_m_s - 1.0).abs() < 1e-9);
    }
}
