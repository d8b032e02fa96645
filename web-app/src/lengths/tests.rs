//! Lengths read and written.

use super::*;
use proptest::prelude::*;

const MM: Measure = Measure::Millimetre;
const IN: Measure = Measure::InchDecimal;

#[test]
fn what_a_tape_shows_is_read_in_either_mode() {
    // Inches times 25.4, worked out by hand.
    for (text, in_mm, in_inches) in [
        ("482", 482.0, 12_242.8),
        ("12,5", 12.5, 317.5),
        ("3 1/2", 88.9, 88.9),
        ("3-1/2", 88.9, 88.9),
        ("\u{2212}3-1/2", -88.9, -88.9),
        ("-3 1/2", -88.9, -88.9),
        ("7/16", 11.1125, 11.1125),
        ("- 7/16", -11.1125, -11.1125),
        ("+1/64", 0.396_875, 0.396_875),
        ("9/8", 28.575, 28.575),
        ("3½", 88.9, 88.9),
        ("¾ in", 19.05, 19.05),
        ("1\u{2044}4", 6.35, 6.35),
        ("2.5in", 63.5, 63.5),
        ("2,5 inch", 63.5, 63.5),
        ("2.5\"", 63.5, 63.5),
        ("3 1/2\u{2033}", 88.9, 88.9),
        ("3 1/2 inches", 88.9, 88.9),
        ("64 mm", 64.0, 64.0),
        ("64MM", 64.0, 64.0),
        ("1 234,5 mm", 1234.5, 1234.5),
        ("0/4", 0.0, 0.0),
        ("-0/4", 0.0, 0.0),
    ] {
        assert_eq!(parse_length(text, MM), Ok(in_mm), "{text} in mm");
        assert_eq!(parse_length(text, IN), Ok(in_inches), "{text} in inches");
        assert_eq!(parse_length(text, Measure::InchFraction), Ok(in_inches), "{text} in inches");
    }
    assert!(parse_length("-0 in", MM).is_ok_and(f64::is_sign_positive));
    assert!(parse_length("-0/4", MM).is_ok_and(f64::is_sign_positive));
}

/// A tape counts feet or centimetres whichever unit the table is in.
#[test]
fn a_length_with_its_own_unit_is_read_in_the_table() {
    let axes = Axes::default();
    for measure in [Measure::Millimetre, Measure::InchDecimal, Measure::InchFraction] {
        let form = Convention { measure, axes }.form(Coordinate::Z, Side::Left);
        for (text, mm) in [("2' 4\"", 711.2), ("2 ft 4 1/2 in", 723.9), ("72 cm", 720.0), ("0.72 m", 720.0)] {
            let read = form.read(text).unwrap_or_else(|error| panic!("{text}: {error}"));
            assert!((read - mm).abs() < 1e-9, "{text}: {read}");
        }
        assert!(form.read("2 stones").is_err() && form.read("4'x").is_err());
    }
}

#[test]
fn what_is_no_length_is_refused_and_quoted() {
    for text in [
        "3 1/0",
        "1/",
        "/2",
        "3 3/2",
        "3 -1/2",
        "3--1/2",
        "3 1/2 1/2",
        "a/b",
        "1/2.5",
        "7/16 mm",
        "½½",
        "1234567/2",
        "3.5 1/2",
        "mm",
        "in",
        "2 in in",
        "5 cm",
        "12 ft",
        "1/-2",
    ] {
        for measure in Measure::ALL {
            let error = parse_length(text, measure).expect_err(text).to_string();
            assert!(error.contains(text), "{text}: {error}");
        }
    }
    assert_eq!(parse_length(" ", MM), Err(LengthError::Number(NumberError::Empty)));
    assert!(matches!(parse_length("1e308 in", MM), Err(LengthError::Number(NumberError::TooLarge { .. }))));
}

#[test]
fn inches_are_written_as_a_tape_shows_them() {
    let text = |measure, value| Form { measure, flipped: false }.text(value);
    for (value, decimal, fractions) in [
        (88.9, "3.5", "3 1/2"),
        (-88.9, "\u{2212}3.5", "\u{2212}3 1/2"),
        (11.1125, "0.4375", "7/16"),
        (482.0, "18.9764", "18 31/32"),
        (0.0, "0", "0"),
        (-0.05, "\u{2212}0.002", "0"),
        (25.4, "1", "1"),
        (25.3, "0.9961", "1"),
        (0.396_875, "0.0156", "1/64"),
    ] {
        assert_eq!(text(IN, value), decimal);
        assert_eq!(text(Measure::InchFraction, value), fractions);
    }
    assert_eq!(text(MM, -408.1), "\u{2212}408.1");
    assert_eq!(Form { measure: MM, flipped: true }.text(0.0), "0");
    assert_eq!(Form { measure: MM, flipped: true }.text(312.0), "\u{2212}312");
}

#[test]
fn a_copied_number_says_its_unit_where_inches_would_not_give_it_again() {
    let exact = |measure, value| Form { measure, flipped: false }.exact(value);
    assert_eq!(exact(MM, -408.1), "-408.1");
    assert_eq!(exact(IN, 482.0), "18.97637795");
    assert_eq!(exact(Measure::InchFraction, 88.9), "3 1/2");
    assert_eq!(exact(Measure::InchFraction, -482.0), "-18.97637795");
    assert_eq!(exact(IN, 1.0 / 3.0), "0.3333333333333333 mm");
}

#[test]
fn axes_turn_y_and_z_and_a_right_corner_is_written_on_its_side() {
    let point = [10.0, 700.0, 300.0];
    let place = |axes, side| Convention { measure: MM, axes }.place(point, side);
    assert_eq!(place(Axes::Up, Side::Left), "x 10, y 700, z 300 mm");
    assert_eq!(place(Axes::Up, Side::Right), "x 10, y \u{2212}700, z 300 mm");
    assert_eq!(place(Axes::Down, Side::Left), "x 10, y \u{2212}700, z \u{2212}300 mm");
    assert_eq!(place(Axes::Down, Side::Right), "x 10, y 700, z \u{2212}300 mm");
}

#[test]
fn the_choice_is_kept_by_name_and_anything_else_is_the_usual_one() {
    for measure in Measure::ALL {
        for axes in Axes::ALL {
            let convention = Convention { measure, axes };
            assert_eq!(Convention::of_name(&convention.name()), convention);
        }
    }
    for text in ["", "furlong", "mm", "mm z-sideways", "\u{0} \u{0}"] {
        assert_eq!(Convention::of_name(text), Convention::default());
    }
}

proptest! {
    #[test]
    fn any_text_ends_in_a_finite_length_or_a_sentence(text in ".{0,24}") {
        for measure in Measure::ALL {
            match parse_length(&text, measure) {
                Ok(value) => prop_assert!(value.is_finite()),
                Err(error) => prop_assert!(error.to_string().len() > 20),
            }
        }
    }

    #[test]
    fn length_like_text_never_panics(text in "[-+−0-9., /½¾⁄\"mincheMIN\u{a0}]{0,14}") {
        for measure in Measure::ALL {
            if let Ok(value) = parse_length(&text, measure) {
                prop_assert!(value.is_finite());
            }
        }
    }

    #[test]
    fn what_is_copied_is_read_back_to_the_bit(
        value in prop_oneof![-20_000.0..20_000.0, (-200_000_i32..200_000).prop_map(|n| f64::from(n) / 10.0), (-4000_i32..4000).prop_map(|n| round_to(f64::from(n) / 64.0 * INCH, 6))],
        flipped: bool,
    ) {
        for measure in Measure::ALL {
            let form = Form { measure, flipped };
            let text = form.exact(value);
            prop_assert_eq!(form.read(&text), Ok(value), "{}", text);
            prop_assert!(text.is_ascii());
        }
    }

    #[test]
    fn a_shown_fraction_is_within_half_of_a_sixty_fourth(value in -5_000.0..5_000.0) {
        let form = Form { measure: Measure::InchFraction, flipped: false };
        let read = form.read(&form.text(value)).expect("a length");
        prop_assert!((read - value).abs() <= INCH / 128.0 + 1e-6);
    }
}
