//! Shots read from text: writings, refusals.

use super::*;

fn read(text: &str) -> ShotTable {
    read_shots(text, AssumedUnits::default()).unwrap()
}

fn refusal(text: &str) -> String {
    let error = read_shots(text, AssumedUnits::default()).unwrap_err();
    error.to_string()
}

fn assert_is(value: Option<f64>, should_be: f64) {
    let value = value.expect("a number");
    assert!((value - should_be).abs() < 1e-9, "{value}, not {should_be}");
}

#[test]
fn the_same_shot_is_read_from_any_writing() {
    let writings = [
        "Club,Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Axis (deg)\n\
         Driver,150,12.5,-2.5,6\n",
        "\u{feff}Club;Ball speed [km/h];Launch angle;Start direction;Axis tilt\r\n\
         Driver;241,4016;12,5;2,5 L;6 R\r\n",
        "range, 14 May\n\nclub\tball_speed_m_s\tlaunch_deg\tlaunch direction\tspin axis\n\
         1W\t67.056\t12.5\t-2.5\t6\naverage\t67.056\t12.5\t-2.5\t6\n",
        "Club,Ball Speed,Launch Angle,Direction,Spin Axis,Player\n,[mph],[deg],[deg],[deg],\n\
         driver,150,12.5,2.5° left,6° right,J. Field\n",
    ];
    for text in writings {
        let table = read(text);
        assert_eq!(table.shots.len(), 1, "{text}");
        let shot = &table.shots[0];
        assert_eq!(shot.club, Some(ClubKind::Driver), "{text}");
        let measured = &shot.ball.measured;
        assert_is(measured.ball_speed_m_s, 67.056);
        assert_is(measured.launch_rad, 12.5_f64.to_radians());
        assert_is(measured.start_rad, -2.5_f64.to_radians());
        assert_is(measured.axis_rad, 6_f64.to_radians());
    }
}

#[test]
fn nothing_is_lost_in_silence() {
    let text = "Session 4\nClub,Carry (m),Tempo,Start direction,Carry (yd)\n7i,140,3,1,153\n\
                Average,140,3,1,153\n";
    let table = read(text);
    assert_eq!(table.unknown, ["Tempo", "Carry (yd)"]);
    assert_eq!(
        table.left_out,
        [
            "line 1: before the header",
            "line 4: \"Average\" is no shot"
        ]
    );
    assert_eq!(table.shots[0].line, 3);
    assert_is(table.shots[0].ball.measured.carry_m, 140.0);
}

#[test]
fn back_and_side_spin_make_spin_and_axis() {
    let table = read("back spin,side spin,carry (m)\n3000,-400,150\n");
    let measured = &table.shots[0].ball.measured;
    assert_is(measured.spin_rad_s, 3000_f64.hypot(400.0) * Unit::Rpm.si());
    assert_is(measured.axis_rad, (-400_f64 / 3000.0).atan());
}

#[test]
fn face_against_path_fills_in_for_either() {
    let table = read("path,face to path\n-4,3\n");
    assert_is(table.shots[0].ball.measured.face_rad, -1_f64.to_radians());
    let table = read("face angle,face to path\n-1,3\n");
    assert_is(table.shots[0].ball.measured.path_rad, -4_f64.to_radians());
}

#[test]
fn what_cannot_be_read_says_what_where_and_what_to_do() {
    let cases = [
        ("  \n", "no text"),
        ("hello\nworld", "\"hello\""),
        ("ball speed (mph),carry (yd)\n", "no shot"),
        (
            "ball speed,carry (m)\n70,200\n",
            "line 2, column \"ball speed\": its unit",
        ),
        ("ball speed (m/s),carry (m)\n150,200\n", "\"150\" can't be"),
        (
            "ball speed (m/s),carry (m)\n70,long\n",
            "\"long\" is no number",
        ),
        ("ball speed (m/s),path\n70,2 left-ish\n", "left-ish"),
        (
            "ball speed (m/s),path\n70,-2 L\n",
            "both a minus and a side",
        ),
    ];
    for (text, says) in cases {
        let error = refusal(text);
        assert!(error.contains(says), "{text:?}: {error}");
    }
}

#[test]
fn units_that_are_not_written_can_be_said() {
    let assumed = AssumedUnits {
        speed: Some(Unit::MilePerHour),
        length: Some(Unit::Yard),
    };
    let table = read_shots("ball speed,carry\n100,100\n", assumed).unwrap();
    assert_is(table.shots[0].ball.measured.ball_speed_m_s, 44.704);
    assert_is(table.shots[0].ball.measured.carry_m, 91.44);
}
