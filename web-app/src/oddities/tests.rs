//! What is told of, and what is not.

use geometry_core::setup::{AntiRollBar, Arm, Hinge, Link, Point, Rocker, Wheel, example};

use super::*;
use crate::{
    edit::mirror_image,
    lengths::INCH,
    presets::Preset,
    units::{self, System},
};

fn front() -> Corner {
    example().front.expect("a front corner")
}

/// What is odd about the front corner, changed.
fn odd(change: impl FnOnce(&mut Corner)) -> Vec<Oddity> {
    let mut corner = front();
    change(&mut corner);
    Oddity::of(&corner)
}

fn words(oddity: Oddity) -> String {
    oddity.words(&front())
}

/// A corner of an invented car with a wheel of this radius, half a track, and members.
fn corner(radius: f64, half_track: f64, change: impl FnOnce(&mut Corner)) -> Corner {
    let mut corner =
        Corner::new(Wheel { centre: [0.0, half_track, radius], loaded_radius: radius, ..front().wheel });
    change(&mut corner);
    corner
}

fn link(id: &str, inboard: Point, outboard: Point) -> Link {
    Link { id: id.into(), inboard, outboard, steers: false }
}

#[test]
fn nothing_is_odd_about_demonstrations_and_layouts() {
    let example = example();
    let of_example = [example.front, example.rear].into_iter().flatten();
    let layouts = Preset::ALL
        .into_iter()
        .flat_map(|layout| [Axle::Front, Axle::Rear].map(|axle| layout.corner(axle, 2640.0)));
    for corner in of_example.chain(layouts) {
        assert_eq!(Oddity::of(&corner), [], "{:?}", describe::setup::layout(&corner));
    }
}

/// Layouts that are built so, in sizes that are: invented numbers.
#[test]
fn nothing_is_odd_about_what_is_built_so() {
    let swing_axle = corner(290.0, 640.0, |corner| {
        corner.hinge =
            Some(Hinge { id: "axle tube".into(), pivots: [[-40.0, -150.0, 300.0], [60.0, -150.0, 300.0]] });
    });
    let racer = corner(255.0, 600.0, |corner| {
        corner.arms = vec![Arm {
            id: "lower".into(),
            front_pivot: [200.0, 180.0, 60.0],
            rear_pivot: [-150.0, 180.0, 60.0],
            ball_joint: [5.0, 540.0, 110.0],
        }];
        corner.rocker = Some(Rocker {
            id: "rocker".into(),
            axis: [[0.0, 120.0, 60.0], [10.0, 120.0, 60.0]],
            rod_end: [0.0, 150.0, 90.0],
            carried: [0.0, 500.0, 330.0],
            on: "lower".into(),
        });
    });
    let truck = corner(500.0, 1020.0, |corner| {
        corner.links = vec![link("trailing", [1700.0, 700.0, 560.0], [60.0, 760.0, 420.0])];
        corner.anti_roll_bar = Some(AntiRollBar {
            axis: [[300.0, 450.0, 500.0], [300.0, -450.0, 500.0]],
            ..front().anti_roll_bar.expect("a bar")
        });
    });
    let kart = corner(120.0, 450.0, |corner| {
        corner.links = vec![link("lower", [0.0, 150.0, 40.0], [0.0, 420.0, 45.0])];
    });
    for (name, corner) in [("swing axle", swing_axle), ("racer", racer), ("truck", truck), ("kart", kart)] {
        assert_eq!(Oddity::of(&corner), [], "{name}");
    }
}

#[test]
fn a_lost_sign_of_a_point_is_found_along_its_axis() {
    let joint = PointPath::ArmBallJoint(0);
    let found = odd(|corner| corner.arms[0].ball_joint[1] = -722.0);
    assert!(
        matches!(found[..], [Oddity::FarFromWheel(path, Coordinate::Y, away)] if path == joint && away > 1500.0),
        "{found:?}"
    );
    assert_eq!(
        words(found[0]),
        "“upper-arm, ball joint” is 1522\u{a0}mm from the wheel’s centre, at a loaded radius of 312\u{a0}mm: a sign, or a unit?"
    );
    assert!(units::read_in(System::Customary, || words(found[0])).contains("59.91\u{a0}in from"));
    assert_eq!(found[0].place(Axle::Front).field(), "arms[0].ball_joint.y");
    let found = odd(|corner| corner.links[0].inboard[1] = -372.0);
    assert_eq!(found, [Oddity::AcrossTheMiddle(PointPath::LinkInboard(0), 372.0)]);
    let found = odd(|corner| corner.links[0].inboard[0] = 2030.0);
    assert!(matches!(found[..], [Oddity::FarAway(PointPath::LinkInboard(0), Coordinate::X, _)]), "{found:?}");
    let found = odd(|corner| corner.links[0].inboard[2] = -192.0);
    assert_eq!(found, [Oddity::Low(PointPath::LinkInboard(0), -192.0)]);
    assert!(words(found[0]).contains("192\u{a0}mm under the ground"));
    let found = odd(|corner| corner.arms[0].ball_joint[2] = 4820.0);
    assert!(
        matches!(found[..], [Oddity::FarFromWheel(path, Coordinate::Z, _)] if path == joint),
        "{found:?}"
    );
    assert_eq!(found[0].place(Axle::Rear).field(), "arms[0].ball_joint.z");
}

#[test]
fn a_wrong_wheel_centre_is_told_once() {
    let found = odd(|corner| corner.wheel.centre[1] = -790.0);
    assert_eq!(found, [Oddity::OtherSide(790.0)]);
    // The whole corner on the other side.
    assert_eq!(Oddity::of(&mirror_image(&front())), [Oddity::OtherSide(790.0)]);
    let mut rear = example().rear.expect("a rear corner");
    rear.wheel.centre[0] = 2640.0;
    let found = Oddity::of(&rear);
    assert!(matches!(found[..], [Oddity::WheelApart(Coordinate::X, away)] if away > 5000.0), "{found:?}");
    let mut hinged = Preset::SemiTrailing.corner(Axle::Rear, 2640.0);
    hinged.wheel.centre[0] = 2640.0;
    let found = Oddity::of(&hinged);
    assert!(matches!(found[..], [Oddity::WheelApart(Coordinate::X, _)]), "{found:?}");
}

#[test]
fn inches_taken_for_millimetres_are_found() {
    let inches = |point: &mut Point| *point = point.map(|c| c / INCH);
    let found = odd(|corner| inches(&mut corner.links[1].outboard));
    assert!(
        matches!(found[..], [Oddity::FarFromWheel(PointPath::LinkOutboard(1), Coordinate::Y, _)]),
        "{found:?}"
    );
    let found = odd(|corner| inches(&mut corner.links[1].inboard));
    assert!(matches!(found[..], [Oddity::Low(PointPath::LinkInboard(1), _)]), "{found:?}");
    let found = odd(|corner| {
        corner.change_points(|_, point| inches(point));
    });
    let [Oddity::Narrow(_), Oddity::OffTheGround(_), rest @ ..] = &found[..] else { panic!("{found:?}") };
    assert!(rest.iter().all(|one| matches!(one, Oddity::Low(..))), "{rest:?}");
}

#[test]
fn exchanged_ends_are_found_once() {
    let found = odd(|corner| {
        let link = &mut corner.links[2];
        std::mem::swap(&mut link.inboard, &mut link.outboard);
    });
    assert_eq!(found, [Oddity::EndsExchanged(MemberPath::Link(2))]);
    assert_eq!(found[0].place(Axle::Front).path(), "links[2].outboard");
    for front_pivot in [true, false] {
        let found = odd(|corner| {
            let arm = &mut corner.arms[0];
            let pivot = if front_pivot { &mut arm.front_pivot } else { &mut arm.rear_pivot };
            std::mem::swap(pivot, &mut arm.ball_joint);
        });
        assert_eq!(found, [Oddity::EndsExchanged(MemberPath::Arm(0))]);
    }
    let mut corner = Preset::Strut.corner(Axle::Front, 2640.0);
    let strut = corner.strut.as_mut().expect("a strut");
    // Not so low that its height would be the first thing to say.
    strut.top_mount[2] = strut.lower_end[2] - 50.0;
    assert_eq!(Oddity::of(&corner), [Oddity::UpsideDown]);
}

#[test]
fn a_wheel_that_does_not_stand_on_the_ground_is_found() {
    let found = odd(|corner| corner.wheel.loaded_radius = 280.0);
    assert!(matches!(found[..], [Oddity::OffTheGround(gap)] if (gap - 32.0).abs() < 0.1), "{found:?}");
    assert!(words(found[0]).contains("hang 32\u{a0}mm above the ground"), "{}", words(found[0]));
    let found = odd(|corner| corner.wheel.toe = 4.0);
    assert_eq!(found, [Oddity::Toe(4.0)]);
    assert_eq!(found[0].place(Axle::Rear), Place::Number(NumberField::Toe(Axle::Rear)));
    assert_eq!(odd(|corner| corner.wheel.camber = -9.0), [Oddity::Camber(-9.0)]);
}

#[test]
fn who_means_one_means_what_is_hardly_odder() {
    let toe = Oddity::Toe(4.0);
    assert!(toe.covers(Oddity::Toe(4.5)) && !toe.covers(Oddity::Toe(-4.5)));
    assert!(!toe.covers(Oddity::Toe(40.0)) && !toe.covers(Oddity::Camber(4.0)));
    let low = |i, height| Oddity::Low(PointPath::LinkInboard(i), height);
    assert!(low(0, 20.0).covers(low(0, 25.0)) && !low(0, 20.0).covers(low(0, -300.0)));
    assert!(!low(0, 20.0).covers(low(1, 20.0)));
}

/// Whatever stands in the fields, nothing panics.
#[test]
fn numbers_of_any_size_have_words() {
    for number in [0.0, -0.0, 1e-9, 2e4, -2e4, f64::NAN, f64::INFINITY] {
        let found = odd(|corner| {
            corner.change_points(|_, point| *point = [number, number, number]);
        });
        assert!(found.into_iter().all(|one| !words(one).is_empty()));
    }
    assert_eq!(Oddity::of(&corner(300.0, 700.0, |_| ())), []);
}
