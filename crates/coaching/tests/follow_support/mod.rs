//! Made-up histories for the follow-up's tests.

#![allow(dead_code, reason = "each test file uses a part of it")]

use lessonwright_coaching::follow::Session;
use lessonwright_model::{
    Aim, Day, FilmedSwing, Given, History, Measure, MeasureName, MeasureState, MomentName,
    Occasion, Place, View,
};

/// The number that the tests follow.
pub const PLACE: Place = Place {
    measure: MeasureName::PelvisShift,
    moment: MomentName::LeadArmLevelDown,
    against: Some(MomentName::Top),
};

/// A number at [`PLACE`], cm.
pub fn measure(value: f64, plus_minus: f64, view: Option<View>) -> Measure {
    Measure {
        name: PLACE.measure,
        moment: PLACE.moment,
        against: PLACE.against,
        view,
        value: Some(value),
        unit: PLACE.measure.unit(),
        low: Some(value - plus_minus),
        high: Some(value + plus_minus),
        state: MeasureState::Measured,
        reason: String::new(),
    }
}

/// A measure without a number.
pub fn hidden() -> Measure {
    Measure {
        value: None,
        low: None,
        high: None,
        state: MeasureState::NotMeasured,
        reason: "the hips are hidden".into(),
        ..measure(0.0, 1.0, Some(View::FaceOn))
    }
}

/// A swing at noon of a day.
pub fn swing(key: i64, day: i32, occasion: Option<Occasion>, value: f64) -> FilmedSwing {
    FilmedSwing {
        swing: key,
        day: Day(day),
        at_s: Some(i64::from(day) * 86_400 + 43_200 + key % 100),
        day_assumed: false,
        occasion,
        measures: vec![measure(value, 2.0, Some(View::FaceOn))],
        findings: Vec::new(),
        priority: None,
    }
}

/// A prescription in the evening of a day: to `goal`.
pub fn given(id: i64, day: i32, goal: f64, start: Option<f64>) -> Given {
    Given {
        id,
        swing: None,
        drill: "bump_the_stick".into(),
        title: "Bump the stick".into(),
        aim: Some(Aim {
            place: PLACE,
            goal,
            start,
        }),
        day: Day(day),
        at_s: Some(i64::from(day) * 86_400 + 64_800),
        next_in_days: None,
        ended: None,
    }
}

/// A player with swings and prescriptions.
pub fn history(player: i64, swings: Vec<FilmedSwing>, given: Vec<Given>) -> History {
    History {
        player,
        name: format!("Player {player}"),
        swings,
        given,
        drafts: 0,
    }
}

/// Normal random numbers that are the same in every run: SplitMix64 and Box and Muller.
pub struct Random(pub u64);

impl Random {
    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn normal(&mut self, sd: f64) -> f64 {
        let (u, v) = (1.0 - self.uniform(), self.uniform());
        sd * (-2.0 * u.ln()).sqrt() * (2.0 * std::f64::consts::PI * v).cos()
    }
}

/// Swings of a session about a level: the session's own error, then each swing's.
pub fn session(
    random: &mut Random,
    day: i32,
    n: usize,
    level: f64,
    within: f64,
    between: f64,
) -> Session {
    let own = level + random.normal(between);
    Session {
        day: Day(day),
        values: (0..n).map(|_| own + random.normal(within)).collect(),
    }
}

/// The swings of a session.
pub fn swings(session: &Session, occasion: Option<Occasion>) -> Vec<FilmedSwing> {
    let key = |i: usize| i64::from(session.day.0) * 100 + i as i64;
    let values = session.values.iter().enumerate();
    values
        .map(|(i, v)| swing(key(i), session.day.0, occasion, *v))
        .collect()
}
