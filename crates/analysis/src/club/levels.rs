//! When the shaft is parallel to the ground, face-on: first on the way back, last on the way down.
//!
//! Down the line the shaft then points at the camera or away from it and tells nothing.

use super::way::Shaft;
use crate::calibration::{Calibration, Cue};
use crate::moments::{Moments, Timed};
use lessonwright_math::angle::wrap;
use lessonwright_model::{MomentName, View};

/// Pictures farther apart than this let the shaft pass unseen, s.
const LONGEST_GAP_S: f64 = 0.12;
/// The way down is looked at this long before impact at most, s.
const DOWN_S: f64 = 0.25;

/// Adds both moments, where the shaft is seen to pass level.
pub(crate) fn shaft_levels(way: &[Shaft], calibration: &Calibration, moments: &mut Moments) {
    let time_s = |name| moments.get(&name).map(|timed: &Timed| timed.time_s);
    let (Some(top_s), Some(impact_s)) = (time_s(MomentName::Top), time_s(MomentName::Impact))
    else {
        return;
    };
    let start_s = time_s(MomentName::Address).unwrap_or(f64::NEG_INFINITY);
    let down_from_s = top_s.max(impact_s - DOWN_S);
    let passes: Vec<Pass> = way
        .windows(2)
        .filter_map(|pair| pass([pair[0], pair[1]]))
        .collect();
    let back = passes
        .iter()
        .find(|pass| pass.upward && (start_s..top_s).contains(&pass.timed.time_s));
    let down = passes
        .iter()
        .rfind(|pass| !pass.upward && (down_from_s..impact_s).contains(&pass.timed.time_s));
    for (name, found) in [
        (MomentName::ShaftLevelBack, back),
        (MomentName::ShaftLevelDown, down),
    ] {
        if let Some(pass) = found {
            let bias = calibration.moment(View::FaceOn, name, Cue::Motion);
            let timed = Timed {
                time_s: pass.timed.time_s - bias.mean,
                sd_s: pass.timed.sd_s.hypot(bias.sd),
            };
            moments.insert(name, timed);
        }
    }
}

/// The shaft passes level between two pictures.
struct Pass {
    timed: Timed,
    /// The head rises past the hands.
    upward: bool,
}

fn pass([a, b]: [Shaft; 2]) -> Option<Pass> {
    let (rise_a, rise_b) = (-a.angle_rad.sin(), -b.angle_rad.sin());
    let gap_s = b.time_s - a.time_s;
    if (rise_a > 0.0) == (rise_b > 0.0) || gap_s > LONGEST_GAP_S {
        return None;
    }
    let turned = wrap(b.angle_rad - a.angle_rad);
    // To the nearer of the two level directions.
    let to_level = [0.0, std::f64::consts::PI]
        .map(|level| wrap(level - a.angle_rad))
        .into_iter()
        .min_by(|x, y| x.abs().total_cmp(&y.abs()))?;
    let share = to_level / turned;
    (0.0..=1.0).contains(&share).then(|| Pass {
        timed: Timed {
            time_s: a.time_s + share * gap_s,
            sd_s: a.sd_rad.max(b.sd_rad) / turned.abs().max(1e-6) * gap_s,
        },
        upward: rise_b > 0.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::PixelPoint;

    fn at(time_s: f64, angle_deg: f64) -> Shaft {
        Shaft {
            frame: 0,
            time_s,
            grip: PixelPoint::default(),
            angle_rad: angle_deg.to_radians(),
            sd_rad: 0.01,
            length_px: 100.0,
            head: None,
        }
    }

    #[test]
    fn a_shaft_passes_level_where_its_angle_says() {
        // Down, then to the left of level by 30°, then up by 10°: 3/4 of the way between the last two.
        let pass = pass([at(1.0, 150.0), at(1.04, -170.0)]).expect("passes level");
        assert!(pass.upward);
        assert!((pass.timed.time_s - 1.03).abs() < 1e-12, "{:?}", pass.timed);
        assert!(super::pass([at(1.0, 90.0), at(1.04, 150.0)]).is_none());
        // Too long unseen.
        assert!(super::pass([at(1.0, 150.0), at(1.3, -170.0)]).is_none());
    }

    #[test]
    fn the_first_on_the_way_back_and_the_last_on_the_way_down_count() {
        let way = [
            at(0.5, 90.0),
            at(0.9, 150.0),
            at(1.0, -150.0),
            at(1.2, -20.0),
            at(1.25, 10.0),
            at(1.3, -20.0),
            at(1.45, -150.0),
            at(1.5, 150.0),
            at(1.55, 90.0),
        ];
        let timed = |time_s| Timed { time_s, sd_s: 0.0 };
        let mut moments = Moments::from([
            (MomentName::Address, timed(0.5)),
            (MomentName::Top, timed(1.27)),
            (MomentName::Impact, timed(1.55)),
        ]);
        shaft_levels(&way, &Calibration::exact(), &mut moments);
        let found = |name| moments[&name].time_s;
        assert!((found(MomentName::ShaftLevelBack) - 0.95).abs() < 1e-9);
        assert!((found(MomentName::ShaftLevelDown) - 1.475).abs() < 1e-9);
    }
}
