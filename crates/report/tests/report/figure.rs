//! A drill's pictures on a page, for either hand.

use lessonwright_language::Say;
use lessonwright_model::{DrillFigure, Hand};
use lessonwright_report::FigurePart;

fn html(hand: Hand, size_px: [usize; 2], moving: Option<Vec<u8>>) -> String {
    let figure = DrillFigure {
        stills: vec![1, 2, 3].into(),
        size_px,
        moving: moving.map(Into::into),
    };
    let part = FigurePart::new("Hip & wall", hand, &figure);
    Say::default().render(&part).unwrap()
}

#[test]
fn stills_keep_their_order_and_each_is_mirrored_for_a_left_hander() {
    let right = html(Hand::Right, [300, 100], None);
    let left = html(Hand::Left, [300, 100], None);
    for i in 0..3 {
        assert!(right.contains(&format!("transform=\"translate(-{} 0)\"", i * 100)));
        assert!(left.contains(&format!(
            "transform=\"translate({} 0) scale(-1 1)\"",
            (i + 1) * 100
        )));
    }
    // The third still lies farthest right for both.
    assert!(right.contains("x=\"206\"") && left.contains("x=\"206\""));
    assert!(right.contains("Hip &#38; wall"));
}

#[test]
fn what_moves_is_folded_away_and_mirrored_as_well() {
    let right = html(Hand::Right, [300, 100], Some(vec![4, 5]));
    assert!(right.contains("<details>") && !right.contains("mirrored"));
    assert!(html(Hand::Left, [300, 100], Some(vec![4, 5])).contains("class=\"mirrored\""));
    assert!(!html(Hand::Left, [300, 100], None).contains("<details>"));
}

#[test]
fn a_picture_of_another_shape_is_shown_as_it_is() {
    let left = html(Hand::Left, [320, 200], None);
    assert!(left.contains("<img") && left.contains("width=\"320\"") && !left.contains("scale(-1"));
}
