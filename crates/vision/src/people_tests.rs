//! The whole crate on pictures of people: who is found, chosen and followed.
//!
//! `swing_strip.png` holds six moments of a swing of the project's own rendered golfer, 160×256 px
//! each; tests put them together to scenes.

use crate::testing::{Rgb, networks, networks_with_threads, plain_picture};
use crate::tracker::{Tracked, Tracker, TrackerConfig};
use crate::{Networks, Region, choose_golfer};
use lessonwright_model::{Joint, Landmarks, Picture, PixelPoint};

const FRAME_WIDTH: usize = 160;
const FRAMES: usize = 6;
const SCENE: (usize, usize) = (640, 360);

/// The rendered golfer at one of the six moments.
fn golfer(moment: usize) -> Rgb {
    Rgb::stored("swing_strip.png").columns((moment % FRAMES) * FRAME_WIDTH, FRAME_WIDTH)
}

fn empty_scene() -> Picture {
    plain_picture(SCENE.0, SCENE.1, 110)
}

/// People (moment, left edge) in front of a plain wall.
fn scene(people: &[(usize, usize)]) -> Picture {
    let mut picture = empty_scene();
    for &(moment, left) in people {
        golfer(moment).paste(&mut picture, left, 60);
    }
    picture
}

/// A golfer's place in the scene: the mid-hip lies in the middle of the strip's frames at about
/// half their height.
fn hip_of(left: usize) -> PixelPoint {
    PixelPoint {
        x: left as f64 + 80.0,
        y: 60.0 + 125.0,
    }
}

fn centre(region: &Region) -> PixelPoint {
    region.in_picture(SCENE.0, SCENE.1).centre
}

fn mid_hip(body: &Landmarks) -> PixelPoint {
    body.get(Joint::LeftHip)
        .at
        .midpoint(body.get(Joint::RightHip).at)
}

fn track(
    networks: &mut Networks,
    pictures: &[Picture],
    seed: Option<Region>,
) -> (Vec<Tracked>, usize) {
    let mut tracker = Tracker::new(networks, TrackerConfig::default(), seed);
    let mut tracked = Vec::new();
    for picture in pictures {
        tracked.extend(
            tracker
                .push(picture.clone(), false)
                .expect("the network runs"),
        );
    }
    tracked.extend(tracker.finish().expect("the network runs"));
    (tracked, tracker.redetections())
}

#[test]
fn of_two_people_the_one_who_swings_is_the_golfer() {
    let mut networks = networks();
    for (name, golfer_left, other_left) in [("right", 420, 60), ("left", 60, 420)] {
        let pictures: Vec<Picture> = (0..FRAMES)
            .map(|moment| scene(&[(moment, golfer_left), (0, other_left)]))
            .collect();
        let people = networks.detector.detect(&pictures[0]).expect("it runs");
        assert_eq!(people.len(), 2, "golfer on the {name}");
        let region = choose_golfer(&mut networks.detector, &pictures)
            .expect("the network runs")
            .expect("somebody is seen");
        let distance = centre(&region).distance(hip_of(golfer_left));
        assert!(distance < 30.0, "golfer on the {name}: {distance} px off");
    }
}

/// A tower has passed for somebody upside down, larger than the golfer beside it.
#[test]
fn somebody_upside_down_is_the_golfer_only_where_nobody_stands_upright() {
    let mut networks = networks();
    let pictures: Vec<Picture> = (0..FRAMES)
        .map(|moment| {
            let mut picture = scene(&[(0, 60)]);
            golfer(moment).upside_down().paste(&mut picture, 420, 60);
            picture
        })
        .collect();
    let people = networks.detector.detect(&pictures[0]).expect("it runs");
    assert_eq!(people.len(), 2);
    let mut chosen = |pictures: &[Picture]| {
        let region = choose_golfer(&mut networks.detector, pictures).expect("the network runs");
        region.expect("somebody is seen")
    };
    let region = chosen(&pictures);
    assert!(centre(&region).distance(hip_of(60)) < 30.0, "{region:?}");
    let mut alone = empty_scene();
    golfer(0).upside_down().paste(&mut alone, 420, 60);
    assert!(!chosen(&[alone]).is_upright());
}

/// Noise stands for what a detector might take for people: there are none in it.
#[test]
fn nobody_is_nobody() {
    let mut networks = networks();
    let mut noise = empty_scene();
    let mut state = 1u32;
    for sample in noise.luma.iter_mut().chain(&mut noise.cb) {
        // Numerical Recipes' "quick and dirty" generator.
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        *sample = (state >> 24) as u8;
    }
    for (name, picture) in [("a wall", empty_scene()), ("noise", noise)] {
        let pictures = [picture.clone(), picture];
        let chosen = choose_golfer(&mut networks.detector, &pictures).expect("it runs");
        assert_eq!(chosen, None, "{name}");
        let (tracked, _) = track(&mut networks, &pictures, None);
        assert!(tracked.iter().all(|t| t.body.is_none()), "{name}");
        assert_eq!(tracked.len(), 2, "{name}");
    }
    let none: [&Picture; 0] = [];
    assert_eq!(
        choose_golfer(&mut networks.detector, none).expect("it runs"),
        None
    );
}

/// The detector gives a turn of half a circle for a picture that is upside down, and the landmarks
/// come out where the person is.
#[test]
fn a_person_upside_down_is_seen_as_such() {
    let mut networks = networks();
    let mut picture = empty_scene();
    golfer(0).upside_down().paste(&mut picture, 240, 60);
    let people = networks.detector.detect(&picture).expect("it runs");
    assert_eq!(people.len(), 1);
    let turn = people[0].region.rotation_rad.abs();
    assert!(
        (turn - std::f64::consts::PI).abs() < 0.3,
        "turned by {turn}"
    );
    let (tracked, _) = track(&mut networks, &[picture], None);
    let body = tracked[0].body.as_ref().expect("somebody");
    assert!(body.get(Joint::Nose).at.y > mid_hip(body).y);
    assert!(body.get(Joint::LeftAnkle).at.y < mid_hip(body).y);
}

/// The golfer stands on the left, is gone for three pictures, and comes back on the right.
#[test]
fn a_lost_person_is_looked_for_again() {
    for threads in [1, 2] {
        let mut networks = networks_with_threads(threads);
        let mut pictures = vec![scene(&[(0, 60)]); 4];
        pictures.extend(vec![empty_scene(); 3]);
        pictures.extend(vec![scene(&[(0, 420)]); 4]);
        let (tracked, redetections) = track(&mut networks, &pictures, None);
        let seen: Vec<bool> = tracked.iter().map(|t| t.body.is_some()).collect();
        let expected = [[true; 4].as_slice(), &[false; 3], &[true; 4]].concat();
        assert_eq!(seen, expected, "{threads} threads");
        let back = mid_hip(tracked[10].body.as_ref().expect("seen"));
        assert!(back.distance(hip_of(420)) < 25.0, "{back:?}");
        // Once for each picture without anybody and for the first with somebody again.
        assert_eq!(redetections, 4, "{threads} threads");
    }
}

/// After a loss the person nearest to the last place is followed, not the most certain one.
#[test]
fn after_a_loss_the_nearest_person_is_followed() {
    let mut networks = networks();
    for left in [60, 420] {
        let both = scene(&[(0, 60), (0, 420)]);
        let pictures = [scene(&[(0, left)]), empty_scene(), both.clone(), both];
        let (tracked, _) = track(&mut networks, &pictures, None);
        let last = mid_hip(tracked[3].body.as_ref().expect("seen"));
        assert!(last.distance(hip_of(left)) < 25.0, "left {left}: {last:?}");
    }
}

/// Frame numbers count from 0 without gaps, whatever number of pictures is under way, and the same
/// pictures give the same landmarks to the last bit.
#[test]
fn the_same_pictures_give_the_same_landmarks() {
    for threads in [1, 2, 3] {
        let mut networks = networks_with_threads(threads);
        let pictures: Vec<Picture> = (0..FRAMES).map(|moment| scene(&[(moment, 240)])).collect();
        let seed = choose_golfer(&mut networks.detector, &pictures).expect("it runs");
        let (first, _) = track(&mut networks, &pictures, seed);
        let numbers: Vec<usize> = first.iter().map(|t| t.frame).collect();
        assert_eq!(numbers, (0..FRAMES).collect::<Vec<_>>());
        let mut again = networks_with_threads(threads);
        let (second, _) = track(&mut again, &pictures, seed);
        assert_eq!(first, second, "{threads} threads");
    }
}

/// The square follows a person who walks through the picture without being looked for again: by
/// 1.8 % of the body's height a picture, 1 m/s at 30 pictures a second. A golfer's hips are slower.
#[test]
fn a_moving_person_is_followed() {
    let mut networks = networks();
    let lefts: Vec<usize> = (0..20).map(|i| 100 + 4 * i).collect();
    let pictures: Vec<Picture> = lefts.iter().map(|&left| scene(&[(0, left)])).collect();
    let (tracked, redetections) = track(&mut networks, &pictures, None);
    assert_eq!(redetections, 0);
    for (tracked, left) in tracked.iter().zip(lefts) {
        let hip = mid_hip(tracked.body.as_ref().expect("seen"));
        let distance = hip.distance(hip_of(left));
        assert!(
            distance < 25.0,
            "frame {}: {distance} px off",
            tracked.frame
        );
    }
}
