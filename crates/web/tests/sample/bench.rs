//! Tracks and pictures of nobody, for the pages.

use lessonwright_model::tracks::TRACKS_VERSION;
use lessonwright_model::{
    BodyTracks, ClubPlace, Hand, Joint, Moment, MomentName, SwingTracks, View, ViewTracks,
};
use lessonwright_store::SwingId;
use lessonwright_web::bench::{Answer, BenchSource, Making};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Every swing has ten frames, from number 20 on; swing 1 is one that can't be analysed again.
pub struct SampleBench;

/// What a picture of the sample is: a JPEG's first two bytes and its last two.
pub const PICTURE: [u8; 4] = [0xFF, 0xD8, 0xFF, 0xD9];

impl BenchSource for SampleBench {
    fn tracks(&self, swing: SwingId) -> Answer<Result<Arc<SwingTracks>, String>> {
        Box::pin(async move {
            match swing {
                SwingId(1) => Err("swing 1 was kept by an earlier version.".to_owned()),
                SwingId(3) => Ok(Arc::new(tracks(Hand::Left))),
                _ => Ok(Arc::new(tracks(Hand::Right))),
            }
        })
    }

    fn begin(&self, _: SwingId, _: View) -> Making {
        Making::Under { done: 3, of: 10 }
    }

    fn again(&self, _: SwingId, _: View) -> Making {
        Making::Waiting
    }

    fn strip(&self, swing: SwingId, _: View) -> Answer<Result<Vec<u8>, String>> {
        Box::pin(async move {
            match swing {
                SwingId(1) => Err("the film was moved.".to_owned()),
                _ => Ok(b"LWSTRIP1\0\0\0\0".to_vec()),
            }
        })
    }

    fn frame(&self, _: SwingId, _: View, frame: usize) -> Answer<Result<Option<Vec<u8>>, String>> {
        let there = (20..30).contains(&frame);
        Box::pin(async move { Ok(there.then(|| PICTURE.to_vec())) })
    }
}

fn tracks(hand: Hand) -> SwingTracks {
    SwingTracks {
        version: TRACKS_VERSION,
        views: [View::FaceOn, View::DownTheLine]
            .map(|view| clip(view, hand))
            .to_vec(),
        bodies: vec![BodyTracks {
            clip: 0,
            from_both_views: true,
            size_rel_sd: 0.01,
            points: vec!["lead_hip".into(), "trail_hip".into()],
            poses: vec![Some(vec![[0.15, 0.9, 0.0], [-0.15, 0.9, 0.0]]); 10],
        }],
    }
}

fn clip(view: View, hand: Hand) -> ViewTracks {
    let joint = |x: f64, y: f64| vec![Some([x, y]); 10];
    let joints: BTreeMap<Joint, Vec<Option<[f64; 2]>>> = [
        (Joint::LeftShoulder, joint(120.0, 100.0)),
        (Joint::RightShoulder, joint(80.0, 100.0)),
        (Joint::LeftHip, joint(112.0, 180.0)),
        (Joint::RightHip, joint(88.0, 180.0)),
    ]
    .into();
    let moment = |name, frame: usize| Moment {
        name,
        view,
        time_s: frame as f64 / 60.0,
        plus_minus_s: 0.01,
        frame,
        by_hand: name == MomentName::Top,
    };
    ViewTracks {
        view,
        hand,
        width_px: 200,
        height_px: 360,
        real_per_file: 1.0,
        span_px: 240.0,
        px_per_m: Some([150.0, 0.02]),
        frames: (20..30).collect(),
        times_s: (20..30).map(|frame| f64::from(frame) / 60.0).collect(),
        origins: joints
            .keys()
            .map(|joint| (*joint, "s".repeat(10)))
            .collect(),
        joints,
        club: vec![
            Some(ClubPlace {
                grip: [100.0, 190.0],
                end: [100.0, 330.0],
                head: true,
            });
            10
        ],
        ball: None,
        moments: vec![
            moment(MomentName::Address, 21),
            moment(MomentName::Top, 25),
            moment(MomentName::Impact, 28),
        ],
    }
}
