//! Blocks from spreadsheets.

use geometry_core::setup::example;
use proptest::prelude::*;

use super::*;
use crate::{edit::tests::corner_with_everything, lengths::Axes};

fn front() -> Vec<Target> {
    targets(example().front.as_ref().expect("a front corner"))
}

fn ground(targets: &[Target]) -> Ground<'_> {
    Ground {
        targets,
        convention: Convention::default(),
        side: Side::Left,
        start: Start::default(),
        meant: &[],
        turned: false,
    }
}

/// The points of a block that can be read in one way only.
fn points(text: &str) -> Vec<(String, Point)> {
    let targets = front();
    let readings = read(text, ground(&targets));
    assert_eq!(readings.len(), 1, "{text:?} is read in one way");
    assert_eq!(readings[0].unread(), 0, "{text:?}: {:?}", readings[0].lines);
    readings[0].rows().map(|row| (row.path.path(), row.after)).collect()
}

/// Why the lines of a block are not read.
fn reasons(text: &str) -> Vec<String> {
    let targets = front();
    let readings = read(text, ground(&targets));
    let wrong = |line: &Line| match &line.outcome {
        Outcome::Wrong(reason) => Some(format!("{}: {reason}", line.number)),
        Outcome::Unknown(_) => {
            let name = line.foreign.as_ref().map_or("", |foreign| &foreign.name);
            Some(format!("{}: no point is called “{name}”", line.number))
        }
        _ => None,
    };
    readings[0].lines.iter().filter_map(wrong).collect()
}

#[test]
fn the_table_begins_with_the_wheel_and_has_every_point_once() {
    let corner = corner_with_everything();
    let targets = targets(&corner);
    assert_eq!(targets.first().map(|target| target.path), Some(PointPath::WheelCentre));
    let mut ours: Vec<_> = targets.iter().map(|target| target.path).collect();
    let mut all = PointPath::all(&corner);
    ours.sort();
    all.sort();
    assert_eq!(ours, all);
}

#[test]
fn blocks_of_many_kinds_give_the_same_point() {
    let expected = vec![("arms[0].ball_joint".to_string(), [-14.5, 722.25, 1482.0])];
    for text in [
        "upper-arm, ball joint\t-14.5\t722.25\t1482",
        "upper-arm, ball joint\t-14,5\t722,25\t1482",
        "upper-arm, ball joint\t-14.5\t722.25\t1,482.0",
        "upper-arm, ball joint\t-14,5\t722,25\t1.482,0",
        "upper-arm, ball joint\t\u{2212}14,5\t722,25\t1\u{202f}482",
        "upper-arm, ball joint\t-14,5\t722,25\t1 482,0\t\t\n\n",
        "\"upper-arm, ball joint\",-14.5,722.25,1482\r\n",
        "\"upper-arm, ball joint\", -14.5, 722.25, 1482",
        "upper-arm ball joint;-14,5;722,25;1.482,0",
        "UPPER ARM   Ball  Joint\t-14.5 mm\t722.25 mm\t1482",
        "upper arm ball joint  -14.5  722.25  1482",
        "upper arm ball joint   -14,5   722,25   1482,0",
        "upper-arm ball joint -14.5 722.25 1482",
        "upper-arm ball joint -14.5 mm 722.25 mm 1482 mm",
        "\u{feff}upper-arm ball joint, -14,5, 722,25, 1482,0",
        "arms[0].ball_joint\t-14.5\t722.25\t1482",
        "Point\tx [mm]\ty [mm]\tz [mm]\nupper-arm, ball joint\t-14.5\t722.25\t1482",
        "name;z;y;x\nupper-arm, ball joint;1482;722.25;-14.5",
    ] {
        assert_eq!(points(text), expected, "{text:?}");
    }
}

#[test]
fn lines_without_a_name_go_down_the_table_and_fewer_columns_start_where_they_are_put() {
    assert_eq!(
        points("0 790 312\n112 446 468.5\n\n-128 452 452"),
        [
            ("wheel.centre".to_string(), [0.0, 790.0, 312.0]),
            ("arms[0].front_pivot".to_string(), [112.0, 446.0, 468.5]),
            ("arms[0].rear_pivot".to_string(), [-128.0, 452.0, 452.0]),
        ]
    );
    // After a name the table goes on from there.
    assert_eq!(
        points("tie-rod inboard\t-118\t408\t229\n\t-120\t706\t226").last(),
        Some(&("links[2].outboard".to_string(), [-120.0, 706.0, 226.0]))
    );
    let targets = front();
    let mut place = ground(&targets);
    place.start = Start { row: 3, column: 2 };
    let one = move |text| read(text, place)[0].points();
    assert_eq!(
        one("481.5\n191\n"),
        [
            (PointPath::ArmBallJoint(0), [-14.0, 722.0, 481.5]),
            (PointPath::LinkInboard(0), [-30.0, 372.0, 191.0])
        ]
    );
    // Three are x, y and z wherever they are put; an empty cell leaves its coordinate.
    assert_eq!(one("1\t\t3"), [(PointPath::ArmBallJoint(0), [1.0, 722.0, 3.0])]);
    assert!(
        matches!(&read("1\t2", place)[0].lines[0].outcome, Outcome::Wrong(why) if why.contains("do not fit"))
    );
    place.start.column = 1;
    assert_eq!(read("720\t480", place)[0].points(), [(PointPath::ArmBallJoint(0), [-14.0, 720.0, 480.0])]);
}

#[test]
fn what_cannot_be_read_says_why_and_keeps_the_place_of_the_rest() {
    for (text, expected) in [
        ("1\t2\tx3", "1: “x3” is not a number"),
        ("1\t2\t", ""),
        ("upper arm ball\t1\t2\t3", "1: no point is called “upper arm ball”"),
        ("tie-rod, inboard\t1\t2", "1: “tie-rod, inboard” has 2 of 3 numbers"),
        ("1\t2\t3\n4\t5", "2: 2 numbers where other lines have 3"),
        ("1\t2\t3\t4\t5", "1: no point is called “1”"),
        (
            "tie-rod, inboard\t1\t2\t3\nTIE ROD INBOARD\t1\t2\t3",
            "2: tie-rod, inboard was given before, in line 1",
        ),
        ("1\t2\t30000", "1: 30000 mm is more than the 20 m"),
        ("1\t2\t1/0", "1: “1/0” is not a fraction"),
        ("1\t2\t=A3+5", "1: “=A3+5” is not a number"),
        ("1\t2\t#REF!", "1: “#REF!” is not a number"),
        ("1 234.5 600 300", "1: no point is called “1”"),
        ("wheel centre\tabove\tthe\tground", "1: “above” is not a number"),
        ("drop link, other end\t1\t2\t3\n1\t2\t3", "2: the table has no more points"),
        ("nothing here", "1: no point is called “nothing here”"),
        ("toe link in\t-240\t33O\t265", "1: no point is called “toe link in”, and “33O” is not a number"),
        (
            "toe link in\t-240\t330",
            "1: no point is called “toe link in”, and “toe link in” has 2 of 3 numbers",
        ),
        ("1\n?\n3", "2: “?” is not a number"),
        ("wheel centre\t\t\t", "1: there are no numbers in it"),
    ] {
        let found = reasons(text);
        match expected {
            "" => assert!(found.is_empty(), "{text:?}: {found:?}"),
            expected => assert!(found.len() == 1 && found[0].starts_with(expected), "{text:?}: {found:?}"),
        }
    }
    let targets = front();
    let readings = read("0\t790\t310\n?\t?\t?\n-128\t452\t450", ground(&targets));
    assert_eq!(
        readings[0].points(),
        [(PointPath::WheelCentre, [0.0, 790.0, 310.0]), (PointPath::ArmRearPivot(0), [-128.0, 452.0, 450.0])]
    );
    let many = "1\t2\t3\n".repeat(MOST_LINES + 50);
    let readings = read(&many, ground(&targets));
    assert_eq!(readings[0].lines.len(), MOST_LINES + 1);
    assert!(
        matches!(&readings[0].lines[MOST_LINES].outcome, Outcome::Wrong(why) if why.contains("only the first"))
    );
}

#[test]
fn a_comma_that_may_be_either_is_asked_about_and_one_cell_that_tells_settles_it() {
    let targets = front();
    let ways = |text: &str| -> Vec<(DecimalMark, Vec<Point>)> {
        let all = read(text, ground(&targets)).into_iter();
        all.map(|reading| (reading.manner.mark, reading.rows().map(|row| row.after).collect())).collect()
    };
    for (text, with_point, with_comma) in [
        ("1,234\t5,678\t9,012", [1234.0, 5678.0, 9012.0], [1.234, 5.678, 9.012]),
        ("1.234;5.678;9.012", [1.234, 5.678, 9.012], [1234.0, 5678.0, 9012.0]),
        ("1,234  5,678  9,012", [1234.0, 5678.0, 9012.0], [1.234, 5.678, 9.012]),
        ("1,234, 5,678, 9,012", [1234.0, 5678.0, 9012.0], [1.234, 5.678, 9.012]),
    ] {
        assert_eq!(
            ways(text),
            [(DecimalMark::Point, vec![with_point]), (DecimalMark::Comma, vec![with_comma])],
            "{text}"
        );
    }
    for (text, mark) in [
        ("1,234\t5,67\t9,012", DecimalMark::Comma),
        ("1,234\t5.67\t9,012", DecimalMark::Point),
        ("1,234\t0,678\t9,012", DecimalMark::Comma),
        ("1.234\t482.125\t9.012", DecimalMark::Point),
        ("1,234\t482,125\t9,012", DecimalMark::Comma),
        ("1,234.5\t5,678\t9,012", DecimalMark::Point),
        ("1.234,5\t5.678\t9.012", DecimalMark::Comma),
    ] {
        let ways = ways(text);
        assert_eq!(ways.len(), 1, "{text}: {ways:?}");
        assert_eq!(ways[0].0, mark, "{text}");
    }
    // A comma between numbers or within them: two columns or one.
    let mut place = ground(&targets);
    place.start.column = 1;
    let readings = read("12,5\n13,5", place);
    assert_eq!(readings.len(), 2, "{readings:?}");
}

#[test]
fn inches_fractions_and_axes_are_the_chosen_ones() {
    let targets = front();
    let mut place = ground(&targets);
    place.convention = Convention { measure: Measure::InchFraction, axes: Axes::Down };
    let one = |text, place| read(text, place)[0].points();
    let expected = vec![(PointPath::WheelCentre, [6.35, 787.4, 311.15])];
    for text in [
        "1/4\t-31\t-12 1/4",
        "1/4 -31 -12 1/4",
        "0.25;-31;-12.25",
        "wheel center\t6,35 mm\t-31\t-12-1/4",
        "1/4 in -31 in -12.25 in",
    ] {
        assert_eq!(one(text, place), expected, "{text}");
    }
    place.side = Side::Right;
    assert_eq!(one("1/4\t31\t-12 1/4", place), expected);
    let readings = read("\tx (mm)\ty (mm)\tz (mm)\nwheel centre\t1\t2\t3", place);
    assert_eq!(readings[0].headed, Some(Measure::Millimetre));
}

#[test]
fn one_number_is_no_block() {
    let form = Form::default();
    for text in
        ["482", " 482 \n", "12,5", "1 234,5", "3 1/2", "3-1/2 in", "64 mm", "abc", "", "12 x", "upper arm"]
    {
        assert!(!is_block(text, form), "{text:?}");
    }
    for text in
        ["1\t2", "1\n2", "1;2", "1 2 3", "1, 2, 3", "1.5,2.5,3.5", "100 200 300", "wheel centre 1 2 3"]
    {
        assert!(is_block(text, form), "{text:?}");
    }
}

/// Names from elsewhere mean nothing here until it is said what they mean; their numbers tell how the block is parted.
#[test]
fn another_s_names_mean_what_the_person_says() {
    let targets = front();
    let mut meant = Vec::new();
    let unknown = |meant: &[Meant], text: &str| {
        let readings = read(text, Ground { meant, ..ground(&targets) });
        assert_eq!(readings.len(), 1, "{text:?}: {readings:?}");
        let of = |line: &Line| {
            let foreign = line.foreign.as_ref()?;
            let unknown = matches!(line.outcome, Outcome::Unknown(_));
            assert_eq!(unknown, foreign.means.is_none());
            Some((unknown, foreign.name.clone()))
        };
        let lines = readings[0].lines.iter().filter_map(of);
        let (unknown, meant): (Vec<_>, Vec<_>) = lines.partition(|(unknown, _)| *unknown);
        let names = |all: Vec<(bool, String)>| all.into_iter().map(|(_, name)| name).collect::<Vec<_>>();
        assert_eq!(readings[0].unnamed(), unknown.len());
        (names(unknown), readings[0].points(), names(meant))
    };
    for text in [
        "P7 outer,-12.5,720,190\nwheel centre,1,2,3",
        "P7 outer;-12,5;720;190\nwheel centre;1;2;3",
        "P7 outer\t-12.5\t720\t190\nwheel centre\t1\t2\t3",
    ] {
        let (names, points, _) = unknown(&meant, text);
        assert_eq!(names, ["P7 outer"], "{text:?}");
        assert_eq!(points, [(PointPath::WheelCentre, [1.0, 2.0, 3.0])]);
    }
    let text = "P7 outer\t-12.5\t720\t190\np7-OUTER\t1.5\t2\t3\nP8\t4\t5\tx";
    let target = |path| targets.iter().find(|target| target.path == path);
    Meant::say(&mut meant, "p7outer", target(PointPath::ArmBallJoint(0)));
    let (names, points, given) = unknown(&meant, text);
    assert!(names.is_empty(), "a line with a wrong number is wrong, whatever it is called: {names:?}");
    assert_eq!(points, [(PointPath::ArmBallJoint(0), [-12.5, 720.0, 190.0])], "no point twice");
    // Of a line that comes too late the meaning can still be taken back.
    assert_eq!(given, ["P7 outer", "p7-OUTER"]);
    // A second answer takes the first one's place, and none takes it back.
    Meant::say(&mut meant, "P7 outer", target(PointPath::WheelCentre));
    assert_eq!(unknown(&meant, text).1[0].0, PointPath::WheelCentre);
    // The table's own names come first, and a meaning is of the point it was said of.
    Meant::say(&mut meant, "wheel centre", target(PointPath::ArmBallJoint(0)));
    assert_eq!(unknown(&meant, "wheel centre\t1\t2\t3").1[0].0, PointPath::WheelCentre);
    let mut renamed = front();
    for target in &mut renamed {
        target.name.push_str(" of another car");
    }
    let other = read(text, Ground { meant: &meant, ..ground(&renamed) });
    assert!(other[0].points().is_empty(), "{other:?}");
    Meant::say(&mut meant, "P7 outer", None);
    assert_eq!(unknown(&meant, text).0.len(), 2);
    let long = format!("{}\t1\t2\t3.5", "a long name ".repeat(9));
    let name = unknown(&meant, &long).0[0].clone();
    Meant::say(&mut meant, &name, target(PointPath::WheelCentre));
    assert_eq!(unknown(&meant, &long).1, [(PointPath::WheelCentre, [1.0, 2.0, 3.5])]);
}

/// A block as it comes out of a measuring sheet: a title, a heading, a name in two cells, an empty column, remarks.
#[test]
fn what_stands_around_the_numbers_is_left_alone() {
    let targets = front();
    let text = "Front left, measured on the lift\n\nmember\tpoint\t\tx\ty\tz\tremarks\n\
        tie-rod\tinboard\t\t1\t2\t3\tplumb bob\nwheel centre\t\t\t4\t5\t6\t\nupper-arm\tball joint\t\t7.5\t8\t9\ttape, twice";
    let readings = read(text, ground(&targets));
    assert_eq!(readings.len(), 1, "{readings:?}");
    assert_eq!(
        readings[0].points(),
        [
            (PointPath::LinkInboard(2), [1.0, 2.0, 3.0]),
            (PointPath::WheelCentre, [4.0, 5.0, 6.0]),
            (PointPath::ArmBallJoint(0), [7.5, 8.0, 9.0])
        ]
    );
    assert_eq!(readings[0].lines.iter().filter(|line| line.outcome == Outcome::Heading).count(), 2);
    // Four numbers may be anything: which three are meant is not guessed.
    for text in ["wheel centre\t\t1\t2\t3\t4", "wheel centre\t\t1\t\t2\t3"] {
        assert!(read(text, ground(&targets))[0].points().is_empty(), "{text}");
    }
}

#[test]
fn a_block_that_counts_to_the_other_side_is_seen_and_turned() {
    let targets = front();
    let text =
        "wheel centre\t0\t-790\t312\ntie-rod, inboard\t-118\t-408\t229\ndrop link, other end\t12\t-3\t188";
    let plain = read(text, ground(&targets));
    assert!(plain[0].is_of_other_side());
    let turned = read(text, Ground { turned: true, ..ground(&targets) });
    assert!(!turned[0].is_of_other_side());
    let y: Vec<f64> = turned[0].points().iter().map(|(_, point)| point[1]).collect();
    assert_eq!(y, [790.0, 408.0, 3.0]);
    // One line, or points on both sides, tell nothing.
    for text in ["wheel centre\t0\t-790\t312", "wheel centre\t0\t-790\t312\ntie-rod, inboard\t1\t400\t3"] {
        assert!(!read(text, ground(&targets))[0].is_of_other_side(), "{text}");
    }
}

#[test]
fn guesses_are_of_names_that_mean_nothing_yet_and_of_points_that_are_free() {
    let targets = front();
    let text =
        "upper arm front\t1\t2\t3\nupper arm rear\t4\t5\t6\nupper-arm, rear pivot\t7\t8\t9\nP9\t1\t1\t1";
    let reading = &read(text, ground(&targets))[0];
    let guesses = reading.guesses(&targets);
    assert_eq!(guesses.len(), 1, "{guesses:?}");
    let (name, number) = &guesses[0];
    assert_eq!((name.as_str(), targets[*number].path), ("upper arm front", PointPath::ArmFrontPivot(0)));
    let mut meant = Vec::new();
    Meant::say(&mut meant, name, targets.get(*number));
    let after = &read(text, Ground { meant: &meant, ..ground(&targets) })[0];
    assert!(after.guesses(&targets).is_empty());
    assert_eq!(after.points()[0], (PointPath::ArmFrontPivot(0), [1.0, 2.0, 3.0]));
}

/// Which mark parts the decimals is asked before names are given a meaning, and once.
#[test]
fn an_unknown_name_s_numbers_are_asked_about_too() {
    let targets = front();
    let readings = read("P1\t1,234\t2\t3", ground(&targets));
    assert_eq!(readings.len(), 2, "{readings:?}");
    assert!(readings.iter().all(|reading| reading.unnamed() == 1));
}

#[test]
fn what_is_copied_is_read_back() {
    let corner = corner_with_everything();
    let targets = targets(&corner);
    for measure in Measure::ALL {
        for axes in Axes::ALL {
            for side in [Side::Left, Side::Right] {
                let convention = Convention { measure, axes };
                let text = written(&targets, convention, side);
                let place = Ground {
                    targets: &targets,
                    convention,
                    side,
                    start: Start { row: 9, column: 1 },
                    meant: &[],
                    turned: false,
                };
                let readings = read(&text, place);
                assert_eq!(readings.len(), 1, "{text}");
                let expected: Vec<_> = targets.iter().map(|target| (target.path, target.point)).collect();
                assert_eq!(readings[0].points(), expected, "{text}");
            }
        }
    }
}

proptest! {
    #[test]
    fn any_text_is_read_without_harm(text in "(?s).{0,200}", row in 0_usize..40, column in 0_usize..5) {
        let targets = front();
        let mut place = ground(&targets);
        place.start = Start { row, column };
        let readings = read(&text, place);
        prop_assert!(!readings.is_empty());
        for reading in readings {
            prop_assert!(reading.rows().all(|row| row.after.iter().all(|value| bounds::COORDINATE.allows(*value))));
        }
    }

    #[test]
    fn block_like_text_is_read_without_harm(text in "[-0-9.,;\t \n/xyzmin\"a−]{0,120}") {
        let targets = front();
        for measure in Measure::ALL {
            let mut place = ground(&targets);
            place.convention.measure = measure;
            for reading in read(&text, place) {
                let mut paths: Vec<_> = reading.points().into_iter().map(|(path, _)| path).collect();
                let count = paths.len();
                paths.sort();
                paths.dedup();
                prop_assert_eq!(paths.len(), count, "no point twice");
                prop_assert!(reading.rows().all(|row| row.after.iter().all(|value| bounds::COORDINATE.allows(*value))));
            }
            let parted = text.trim().contains(['\t', '\n', ';']);
            let form = Form { measure, flipped: false };
            prop_assert!(is_block(&text, form) || !parted);
        }
    }

    #[test]
    fn moved_points_copied_anywhere_are_read_back(
        values in proptest::collection::vec(-20_000.0..20_000.0, 60),
        comma: bool,
    ) {
        let mut corner = corner_with_everything();
        let mut new = values.chunks_exact(3);
        corner.change_points(|_, point| {
            if let Some(&[x, y, z]) = new.next() {
                *point = [x, y, z];
            }
        });
        let targets = targets(&corner);
        let convention = Convention::default();
        let mut text = written(&targets, convention, Side::Left);
        if comma {
            // As a spreadsheet of another country writes it; the names' commas do not count.
            text = text.replace('.', ",");
        }
        let place = Ground { targets: &targets, convention, side: Side::Left, start: Start::default(), meant: &[], turned: false };
        let readings = read(&text, place);
        let expected: Vec<_> = targets.iter().map(|target| (target.path, target.point)).collect();
        prop_assert!(readings.iter().any(|reading| reading.points() == expected));
    }
}
