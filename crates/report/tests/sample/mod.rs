//! An invented player of an invented studio, with drawn pictures: for tests and for looking.

use lessonwright_language::Say;
use lessonwright_model::swing::SCHEMA_VERSION;
use lessonwright_model::*;
use lessonwright_report::{KeyPicture, LessonContent, Reference, Units};

/// A right-hander who stays back, seen from both views.
pub fn lesson() -> LessonContent {
    LessonContent {
        say: Say::default(),
        academy: "Harrow Lane Golf Studio".into(),
        coach: "Imke Brandt".into(),
        player: "Tobias Wren".into(),
        date_text: "25 November 2026".into(),
        units: Units::Centimetres,
        coach_note: Some("Good work today, Tobias. One thing this week, nothing else.".into()),
        analysis: analysis(),
        references: references(),
        pictures: pictures(),
        plan: None,
        figure: None,
        chosen: None,
        layout: None,
        captured_within_mm: None,
        moving: None,
    }
}

/// The mirror image: the same swing by a left-hander, a little of it corrected by hand.
pub fn left_handed() -> LessonContent {
    let mut content = lesson();
    correct(&mut content.analysis);
    content.player = "Nia Okonedo-Hart".into();
    content.units = Units::Inches;
    content.coach_note = None;
    for view in &mut content.analysis.views {
        view.hand = Hand::Left;
    }
    for picture in &mut content.pictures {
        let width = picture.picture.width as f64;
        for (joint, at) in &mut picture.landmarks {
            *joint = other_side(*joint);
            at.x = width - at.x;
        }
        picture.picture = draw(picture.view, &picture.landmarks);
    }
    content
}

/// Nothing outside its band.
pub fn nothing_to_change() -> LessonContent {
    let mut content = lesson();
    content.coach_note = None;
    let analysis = &mut content.analysis;
    analysis.findings.clear();
    analysis.drills.clear();
    analysis.priority = None;
    analysis.ranking = Ranking::default();
    analysis.prescription = None;
    analysis
        .measures
        .retain(|m| m.name != MeasureName::PelvisShift);
    content
}

/// Nothing could be measured.
pub fn too_little() -> LessonContent {
    let mut content = nothing_to_change();
    content.pictures.clear();
    for measure in &mut content.analysis.measures {
        measure.value = None;
        measure.low = None;
        measure.high = None;
        measure.state = MeasureState::NotMeasured;
        measure.reason = "The phone moved during the swing. Put it on a stand.".into();
    }
    content
}

/// The top set by hand, and a joint placed.
fn correct(analysis: &mut SwingAnalysis) {
    let knee = PlacedJoint {
        joint: Joint::RightKnee,
        frame: 132,
        x_px: 300.0,
        y_px: 700.0,
        picture_width_px: 540,
    };
    let clip = ClipCorrections {
        moments: [(MomentName::Top, 2.04)].into(),
        joints: vec![knee],
        capture_rate_hz: None,
    };
    analysis.corrections = Corrections {
        stature_m: Some(1.785),
        seen: ["grip_weak".to_string()].into(),
        clips: [(View::FaceOn, clip)].into(),
    };
    for moment in &mut analysis.moments {
        moment.by_hand = moment.name == MomentName::Top;
    }
}

fn analysis() -> SwingAnalysis {
    use MomentName::{Address, Impact, LeadArmLevelDown, Top};
    let face_on = Some(View::FaceOn);
    let down_the_line = Some(View::DownTheLine);
    let shift = |moment, against, value, low, high| Measure {
        name: MeasureName::PelvisShift,
        moment,
        against: Some(against),
        view: face_on,
        value: Some(value),
        unit: Unit::Centimetre,
        low: Some(low),
        high: Some(high),
        state: MeasureState::Measured,
        reason: String::new(),
    };
    let measures = vec![
        shift(Top, Address, -3.2, -4.4, -2.0),
        shift(LeadArmLevelDown, Address, -3.0, -4.3, -1.7),
        shift(Impact, Address, 1.4, -0.1, 2.9),
        shift(LeadArmLevelDown, Top, 0.2, -0.9, 1.3),
        Measure {
            name: MeasureName::KneeLineTurn,
            moment: LeadArmLevelDown,
            against: Some(Address),
            view: None,
            value: None,
            unit: Unit::Degree,
            low: None,
            high: None,
            state: MeasureState::NotMeasured,
            reason: "The trail knee hides the lead knee at this moment, so the line through them \
                     can't be seen."
                .into(),
        },
        Measure {
            name: MeasureName::TrailElbowAhead,
            moment: LeadArmLevelDown,
            against: None,
            view: down_the_line,
            value: Some(4.6),
            unit: Unit::Centimetre,
            low: Some(1.8),
            high: Some(7.4),
            state: MeasureState::Measured,
            reason: String::new(),
        },
        timing(MeasureName::BackswingTime, Unit::Second, 0.84, 0.04),
        timing(MeasureName::DownswingTime, Unit::Second, 0.28, 0.02),
        timing(MeasureName::TempoRatio, Unit::One, 3.0, 0.3),
    ];
    SwingAnalysis {
        schema_version: SCHEMA_VERSION,
        program_version: "0.1.0".into(),
        corrections: Corrections::default(),
        teaching: Teaching::default(),
        views: vec![
            view("face.mp4", View::FaceOn),
            view("line.mp4", View::DownTheLine),
        ],
        moments: [
            (Address, 1.20),
            (Top, 2.04),
            (LeadArmLevelDown, 2.21),
            (Impact, 2.32),
        ]
        .into_iter()
        .flat_map(|(name, time_s)| {
            [View::FaceOn, View::DownTheLine].map(|view| Moment {
                name,
                view,
                time_s,
                plus_minus_s: 0.01,
                frame: (time_s * 60.0) as usize,
                by_hand: false,
            })
        })
        .collect(),
        measures,
        findings: vec![Finding {
            key: "pelvis_stays_back".into(),
            says: "From the top until your lead arm is level, your lower body hardly moves toward \
                   the target."
                .into(),
            measure: MeasureName::PelvisShift,
            moment: LeadArmLevelDown,
            against: Some(Top),
            value: 0.2,
            reference_low: 2.5,
            reference_high: 10.7,
            reference_source: "Common practice, no source.".into(),
            strength: 0.3,
        }],
        priority: Some(Priority {
            finding: "pelvis_stays_back".into(),
            title: "Move the lower body toward the target first".into(),
            chain: vec![
                "Your hips stay back while your arms start down.".into(),
                "The club comes down from outside the line and cuts across the ball.".into(),
                "The ball starts left and curves right: your slice.".into(),
            ],
            grade: CauseGrade::C,
            would_change_it: "A swing in which your hips lead and the ball still slices.".into(),
        }),
        ranking: ranking(),
        drills: vec![Drill {
            key: "step_through".into(),
            title: "Feet together, step, strike".into(),
            changes: "It makes the lower body lead, because the step comes before the arms.".into(),
            set_up: vec![
                "A 7-iron, a ball on a low tee.".into(),
                "Stand with your feet together, ball opposite your left heel.".into(),
            ],
            steps: vec![
                "Swing back with your feet together.".into(),
                "Just before the top, step with your left foot toward the target.".into(),
                "Let the arms follow, and strike.".into(),
            ],
            feel: "Push the ground away from the target before your arms start down.".into(),
            station: vec!["a 7-iron".into(), "a low tee".into()],
            cue_outward: "Foot down, then arms.".into(),
            cue_inward: "Weight on the lead foot before the hands move.".into(),
            progressions: vec!["Slow: the step alone.".into(), "Ball: from the tee.".into()],
            checkpoint: "8 of 10 steps land before the arms.".into(),
            who_should_not: vec!["Players whose balance is unsure.".into()],
            watch_for: vec!["The arms start before the foot lands.".into()],
            cautions: vec!["On wet ground, do it without a ball.".into()],
            dose: "10 slow, 10 with a ball, three days a week".into(),
            measure: Some(MeasureName::PelvisShift),
            moment: LeadArmLevelDown,
            against: Some(Top),
            expected_change: Some(2.5),
        }],
        prescription: Some(Prescription {
            drill: "step_through".into(),
            cue: "Foot down, then arms.".into(),
            dose: "10 slow, 10 with a ball, three days a week for two weeks".into(),
            measure: Some(MeasureName::PelvisShift),
            moment: LeadArmLevelDown,
            against: Some(Top),
            reach: Some(2.7),
            check: "Film three full swings face-on in two weeks, with the same club.".into(),
            cautions: vec![
                "Warm up for ten minutes first. Stop at once if anything hurts.".into(),
                "Nobody within reach of the club, nobody in the line of the ball.".into(),
            ],
        }),
        notice: None,
    }
}

fn ranking() -> Ranking {
    let step = |about, short: &str, grade| ChainStep {
        about,
        short: short.into(),
        says: format!("Your {short}."),
        grade,
        source: String::new(),
        ball: None,
    };
    let candidate = |key: &str, title: &str, shown_by, probability, why: &[&str]| Candidate {
        key: key.into(),
        title: title.into(),
        shown_by,
        probability,
        chain: vec![
            step(ChainPart::Body, "hips stay back", None),
            step(
                ChainPart::Club,
                "path from outside to inside",
                Some(CauseGrade::D),
            ),
            ChainStep {
                ball: Some(BallPath {
                    starts: Sideways::Lead,
                    curves: Sideways::Trail,
                }),
                ..step(ChainPart::Flight, "pull-slice", Some(CauseGrade::A))
            },
        ],
        grade: CauseGrade::D,
        why: why.iter().map(|w| w.to_string()).collect(),
    };
    Ranking {
        table: "standard 2026-11".into(),
        candidates: vec![
            candidate(
                "pelvis_stays_back",
                "Move the lower body toward the target first",
                ShownBy::Measure,
                0.7,
                &["Measured: counts 0.62 of 1."],
            ),
            candidate(
                "hands_over",
                "Bring the hands down on or inside the way they went back",
                ShownBy::Professional,
                0.2,
                &[
                    "Seen by the professional.",
                    "Not before “hips stay back”: it follows from that.",
                ],
            ),
        ],
        unseen: 0.1,
        set_aside: vec![SetAside {
            key: "backswing_short_in_time".into(),
            title: "Give the backswing more time".into(),
            why: "A choice only when nothing else is found.".into(),
        }],
        notes: vec!["Transition: pelvis shift 0.2 cm.".into()],
    }
}

fn timing(name: MeasureName, unit: Unit, value: f64, plus_minus: f64) -> Measure {
    Measure {
        name,
        moment: MomentName::Impact,
        against: None,
        view: Some(View::FaceOn),
        value: Some(value),
        unit,
        low: Some(value - plus_minus),
        high: Some(value + plus_minus),
        state: MeasureState::Measured,
        reason: String::new(),
    }
}

fn view(clip: &str, view: View) -> ViewReport {
    ViewReport {
        clip: clip.into(),
        view,
        view_stated: false,
        hand: Hand::Right,
        hand_stated: false,
        rate_hz: 60.0,
        capture_rate_hz: 60.0,
        width_px: WIDTH as u32,
        height_px: HEIGHT as u32,
        placement: Placement::default(),
        ball: None,
        warnings: vec![],
    }
}

/// The bands of the invented studio.
pub fn references() -> Vec<Reference> {
    let band = |measure, moment, against, low, high, source: &str| Reference {
        measure,
        moment,
        against,
        low,
        high,
        source: source.into(),
    };
    use MomentName::{Address, Impact, LeadArmLevelDown, Top};
    vec![
        band(
            MeasureName::PelvisShift,
            LeadArmLevelDown,
            Some(Top),
            2.5,
            10.7,
            "Pelvis shift: common practice, no source.",
        ),
        band(
            MeasureName::PelvisShift,
            Impact,
            Some(Address),
            0.0,
            10.7,
            "Pelvis shift: common practice, no source.",
        ),
        band(
            MeasureName::KneeLineTurn,
            LeadArmLevelDown,
            Some(Address),
            -10.0,
            10.0,
            "Knee line: your own address line.",
        ),
        band(
            MeasureName::TrailElbowAhead,
            LeadArmLevelDown,
            None,
            0.0,
            f64::INFINITY,
            "Trail elbow: common practice, no source.",
        ),
        band(
            MeasureName::TempoRatio,
            Impact,
            None,
            2.6,
            5.8,
            "Tempo: the spread of players in a published data set.",
        ),
    ]
}

/// Small pictures where drawing is slow.
const DETAIL: f64 = if cfg!(debug_assertions) { 0.2 } else { 1.0 };
const WIDTH: usize = (1080.0 * DETAIL) as usize;
const HEIGHT: usize = (1350.0 * DETAIL) as usize;

/// x and y, px of a picture 1080 × 1350, of lead then trail shoulder, elbow, wrist, hip, knee, ankle,
/// toe.
type Pose = [(f64, f64); 14];

#[rustfmt::skip]
const FACE_ON: [(MomentName, Pose); 4] = [
    (MomentName::Address, [
        (598., 478.), (488., 492.), (602., 606.), (500., 622.), (560., 716.), (546., 728.),
        (586., 742.), (506., 742.), (612., 930.), (482., 930.), (622., 1122.), (470., 1122.),
        (652., 1150.), (446., 1150.),
    ]),
    (MomentName::Top, [
        (566., 510.), (470., 462.), (470., 470.), (372., 500.), (392., 380.), (382., 388.),
        (560., 744.), (484., 746.), (588., 934.), (474., 932.), (622., 1122.), (470., 1122.),
        (652., 1150.), (446., 1150.),
    ]),
    (MomentName::LeadArmLevelDown, [
        (584., 486.), (478., 496.), (484., 498.), (432., 606.), (388., 494.), (380., 508.),
        (562., 746.), (484., 746.), (604., 934.), (484., 934.), (622., 1122.), (470., 1122.),
        (652., 1150.), (446., 1150.),
    ]),
    (MomentName::Impact, [
        (600., 470.), (500., 504.), (612., 598.), (530., 630.), (588., 710.), (570., 720.),
        (598., 736.), (518., 744.), (622., 926.), (514., 936.), (626., 1122.), (482., 1116.),
        (656., 1150.), (456., 1150.),
    ]),
];

#[rustfmt::skip]
const DOWN_THE_LINE: [(MomentName, Pose); 4] = [
    (MomentName::Address, [
        (590., 486.), (570., 492.), (604., 606.), (590., 624.), (616., 716.), (606., 728.),
        (488., 742.), (480., 744.), (552., 934.), (540., 936.), (506., 1116.), (492., 1126.),
        (572., 1140.), (560., 1152.),
    ]),
    (MomentName::Top, [
        (632., 520.), (520., 470.), (550., 430.), (452., 520.), (470., 388.), (460., 392.),
        (500., 742.), (470., 746.), (566., 930.), (530., 934.), (506., 1116.), (492., 1126.),
        (572., 1140.), (560., 1152.),
    ]),
    (MomentName::LeadArmLevelDown, [
        (610., 498.), (540., 488.), (584., 500.), (570., 604.), (566., 508.), (556., 520.),
        (492., 742.), (484., 744.), (552., 932.), (556., 936.), (506., 1116.), (492., 1126.),
        (572., 1140.), (560., 1152.),
    ]),
    (MomentName::Impact, [
        (580., 470.), (590., 496.), (590., 598.), (600., 618.), (622., 706.), (616., 716.),
        (470., 736.), (510., 742.), (524., 926.), (572., 940.), (506., 1116.), (500., 1120.),
        (572., 1140.), (566., 1152.),
    ]),
];

fn pictures() -> Vec<KeyPicture> {
    let all = |view, poses: [(MomentName, Pose); 4]| {
        poses.map(|(moment, pose)| {
            let landmarks = landmarks(&pose);
            KeyPicture {
                view,
                moment,
                picture: draw(view, &landmarks),
                landmarks,
                club: None,
            }
        })
    };
    all(View::FaceOn, FACE_ON)
        .into_iter()
        .chain(all(View::DownTheLine, DOWN_THE_LINE))
        .collect()
}

fn landmarks(pose: &Pose) -> Vec<(Joint, PixelPoint)> {
    use BodyPart::{Ankle, Elbow, Hip, Knee, Shoulder, Toe, Wrist};
    let at = |x: f64, y: f64| PixelPoint {
        x: x * DETAIL,
        y: y * DETAIL,
    };
    let nose = (Joint::Nose, at(pose[0].0.midpoint(pose[1].0) + 6.0, 388.0));
    [Shoulder, Elbow, Wrist, Hip, Knee, Ankle, Toe]
        .into_iter()
        .flat_map(|part| [Side::Lead, Side::Trail].map(|side| Joint::of(part, side, Hand::Right)))
        .zip(pose)
        .map(|(joint, (x, y))| (joint, at(*x, *y)))
        .chain([nose])
        .collect()
}

fn other_side(joint: Joint) -> Joint {
    use BodyPart::{Ankle, Elbow, Hip, Knee, Shoulder, Toe, Wrist};
    for part in [Shoulder, Elbow, Wrist, Hip, Knee, Ankle, Toe] {
        for side in [Side::Lead, Side::Trail] {
            if joint == Joint::of(part, side, Hand::Right) {
                return Joint::of(part, side, Hand::Left);
            }
        }
    }
    joint
}

/// A figure of round limbs before a wall, on a floor.
fn draw(view: View, landmarks: &[(Joint, PixelPoint)]) -> Picture {
    let at = |part, side| {
        let joint = Joint::of(part, side, Hand::Right);
        landmarks
            .iter()
            .find(|(j, _)| *j == joint)
            .map(|(_, p)| *p)
            .unwrap()
    };
    use BodyPart::{Ankle, Elbow, Hip, Knee, Shoulder, Toe, Wrist};
    const SHIRT: [u8; 3] = [96, 150, 118];
    const TROUSERS: [u8; 3] = [62, 138, 122];
    const SKIN: [u8; 3] = [150, 112, 150];
    let mut limbs = Vec::new();
    for side in [Side::Lead, Side::Trail] {
        limbs.push((at(Ankle, side), at(Toe, side), 18.0, TROUSERS));
        limbs.push((at(Hip, side), at(Knee, side), 42.0, TROUSERS));
        limbs.push((at(Knee, side), at(Ankle, side), 30.0, TROUSERS));
        limbs.push((at(Shoulder, side), at(Hip, side), 52.0, SHIRT));
        limbs.push((at(Shoulder, side), at(Elbow, side), 24.0, SHIRT));
        limbs.push((at(Elbow, side), at(Wrist, side), 18.0, SKIN));
    }
    let neck = at(Shoulder, Side::Lead).midpoint(at(Shoulder, Side::Trail));
    let head = PixelPoint {
        x: neck.x + DETAIL * if view == View::DownTheLine { 24.0 } else { 2.0 },
        y: neck.y - 96.0 * DETAIL,
    };
    limbs.push((head, head, 48.0, SKIN));
    let mut picture = Picture {
        width: WIDTH,
        height: HEIGHT,
        luma: vec![0; WIDTH * HEIGHT],
        cb: vec![0; WIDTH / 2 * (HEIGHT / 2)],
        cr: vec![0; WIDTH / 2 * (HEIGHT / 2)],
    };
    for y in 0..HEIGHT {
        let depth = ((y as f64 + 0.5) / DETAIL) as usize;
        let colour = if depth > 1090 {
            [(150 - (depth - 1090) / 8) as u8, 118, 124]
        } else {
            [(190 - depth / 16) as u8, 124, 131]
        };
        for x in 0..WIDTH {
            paint(&mut picture, x, y, colour);
        }
    }
    for (a, b, radius, colour) in limbs {
        draw_limb(&mut picture, a, b, radius * DETAIL, colour);
    }
    picture
}

/// Every pixel nearer to the segment than the radius. Only those around it are asked: asking all took seconds a picture.
fn draw_limb(picture: &mut Picture, a: PixelPoint, b: PixelPoint, radius_px: f64, colour: [u8; 3]) {
    let around = |a: f64, b: f64, end: usize| {
        (a.min(b) - radius_px).max(0.0) as usize..((a.max(b) + radius_px).ceil() as usize).min(end)
    };
    for y in around(a.y, b.y, HEIGHT) {
        for x in around(a.x, b.x, WIDTH) {
            let p = PixelPoint {
                x: x as f64 + 0.5,
                y: y as f64 + 0.5,
            };
            if gap(p, a, b) < radius_px {
                paint(picture, x, y, colour);
            }
        }
    }
}

/// Of the four pixels that share a colour difference the last one, right and below, sets it.
fn paint(picture: &mut Picture, x: usize, y: usize, [luma, cb, cr]: [u8; 3]) {
    picture.luma[y * WIDTH + x] = luma;
    if x % 2 == 1 && y % 2 == 1 {
        let at = y / 2 * (WIDTH / 2) + x / 2;
        picture.cb[at] = cb;
        picture.cr[at] = cr;
    }
}

/// Distance of a point from a segment.
fn gap(p: PixelPoint, a: PixelPoint, b: PixelPoint) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let length_squared = (dx * dx + dy * dy).max(1e-9);
    let t = (((p.x - a.x) * dx + (p.y - a.y) * dy) / length_squared).clamp(0.0, 1.0);
    p.distance(PixelPoint {
        x: a.x + t * dx,
        y: a.y + t * dy,
    })
}
