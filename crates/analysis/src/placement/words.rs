//! What to move, in words. Said only where the reading lies outside its own ±.

use lessonwright_model::{Hand, Placement};

/// A step, m (an adult's, walking: 0.41 of the stature, Drillis & Contini's rule of thumb, from memory).
const STEP_M: f64 = 0.7;
/// A camera at 0.5–1.5 m, 3–6 m away looks down on the feet by so much, degrees: no more is asked for.
const LOOK_DOWN_DEG: [f64; 2] = [4.0, 24.0];

/// One sentence for each thing that is clearly off.
pub fn warnings(placement: &Placement, distance_m: f64, hand: Hand) -> Vec<String> {
    let mut warnings = Vec::new();
    if let Some(off) = placement.off_line_deg.filter(|r| r.is_outside(0.0, 0.0)) {
        let aside_m = distance_m * off.value.to_radians().sin().abs();
        let side = if off.value > 0.0 { "ball" } else { "player" };
        warnings.push(format!(
            "the camera stands about {:.0}° (± {:.0}°) off the line of the hands, on the {side}'s side: move it to the {} by {} ({:.1} m) and aim it along the target line again; where the player stands open or closed on purpose, leave it",
            off.value.abs(),
            off.plus_minus,
            sideways(off.value > 0.0, hand),
            steps(aside_m),
            aside_m
        ));
    }
    let [least, most] = LOOK_DOWN_DEG;
    if let Some(down) = placement
        .looks_down_deg
        .filter(|r| r.is_outside(least, most))
    {
        let (how, what) = if down.value > most {
            (
                "steeply down",
                "lower it to the height of the hips, or move it back",
            )
        } else {
            (
                "along the ground or up",
                "raise it to the height of the hips",
            )
        };
        warnings.push(format!(
            "the camera looks {how} on the feet (about {:.0}° ± {:.0}°): {what}",
            down.value, down.plus_minus
        ));
    }
    if let Some(leans) = placement.leans_deg.filter(|r| r.is_outside(0.0, 0.0)) {
        // A right-hander's target lies to the right: lower there, the picture is turned clockwise, and
        // so must the phone be.
        let clockwise = (leans.value > 0.0) == (hand == Hand::Right);
        warnings.push(format!(
            "the picture leans by about {:.0}° (± {:.0}°): turn the phone {}clockwise until it stands upright",
            leans.value.abs(),
            leans.plus_minus,
            if clockwise { "" } else { "counter" }
        ));
    }
    warnings
}

/// The ball, like the target, lies to the right of a right-hander's picture.
fn sideways(too_far_toward_it: bool, hand: Hand) -> &'static str {
    if too_far_toward_it == (hand == Hand::Right) {
        "left"
    } else {
        "right"
    }
}

/// To half a step.
fn steps(aside_m: f64) -> String {
    let halves = (2.0 * aside_m / STEP_M).round() as usize;
    match halves {
        0 | 1 => "half a step".into(),
        2 => "a step".into(),
        3 => "a step and a half".into(),
        more => format!("{} steps", (0.5 * more as f64).round()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::Reading;

    fn reading(value: f64, plus_minus: f64) -> Option<Reading> {
        Some(Reading { value, plus_minus })
    }

    #[test]
    fn what_is_clearly_off_is_said_with_what_to_move_and_the_rest_is_not() {
        let off = |value| Placement {
            off_line_deg: reading(value, 8.0),
            ..Placement::default()
        };
        assert!(warnings(&off(7.9), 4.3, Hand::Right).is_empty());
        for (value, hand, words) in [
            (
                10.0,
                Hand::Right,
                ["10° (± 8°)", "ball's side", "left by a step (0.7 m)"],
            ),
            (
                10.0,
                Hand::Left,
                ["10° (± 8°)", "ball's side", "right by a step (0.7 m)"],
            ),
            (
                -15.0,
                Hand::Right,
                ["15°", "player's side", "right by a step and a half (1.1 m)"],
            ),
            (
                -30.0,
                Hand::Left,
                ["30°", "player's side", "left by 3 steps (2.1 m)"],
            ),
        ] {
            let said = warnings(&off(value), 4.3, hand).remove(0);
            assert!(words.iter().all(|word| said.contains(word)), "{said}");
        }
        let others = Placement {
            looks_down_deg: reading(35.0, 6.0),
            leans_deg: reading(-9.0, 5.0),
            off_line_deg: None,
        };
        let said = warnings(&others, 4.3, Hand::Right);
        assert!(
            said[0].contains("steeply down") && said[0].contains("lower it"),
            "{said:?}"
        );
        assert!(said[1].contains("counterclockwise"), "{said:?}");
        let left = warnings(&others, 4.3, Hand::Left);
        assert!(left[1].contains("phone clockwise"), "{left:?}");
    }
}
