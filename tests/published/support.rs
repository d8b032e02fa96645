//! Building corners to a drawing, and comparing.

pub(crate) use cornerwise_tests::go;
use geometry_core::{
    Vec3,
    construction::{Basis, Construction, Role, Shape},
    linkage::Linkage,
    readings::{Quantity, Reader, Readings},
    setup::{Arm, Axle, Corner, Link, Point, Side, Vehicle, Wheel},
    solve::{Follower, Position},
};

/// Two numbers within a tolerance; NaN is close to nothing. The difference is printed, so
/// that `--nocapture` shows what the table in the README is made of.
#[track_caller]
#[expect(clippy::print_stdout, reason = "shown by --nocapture only")]
pub(crate) fn close(what: &str, found: f64, expected: f64, tolerance: f64) {
    println!("{what}: {found} against {expected}, difference {:.1e}", (found - expected).abs());
    assert!(
        (found - expected).abs() <= tolerance,
        "{what}: {found} is not {expected}; they differ by {:e}, allowed are {tolerance:e}",
        found - expected
    );
}

/// Coordinate by coordinate.
#[track_caller]
pub(crate) fn close_points(what: &str, found: &Vec3, expected: [f64; 3], tolerance: f64) {
    for (found, expected) in found.iter().zip(expected) {
        close(what, *found, expected, tolerance);
    }
}

#[track_caller]
pub(crate) fn linkage(corner: &Corner) -> Linkage {
    match Linkage::new(corner, Side::Left) {
        Ok(linkage) => linkage,
        Err(error) => panic!("{error}"),
    }
}

/// Readings of a position, in a front corner of a car of which nothing is known.
pub(crate) fn read(linkage: &Linkage, position: &Position) -> Readings {
    Reader::new(linkage, &Vehicle::default(), Axle::Front).read(position)
}

/// Readings in the position as described.
pub(crate) fn read_design(corner: &Corner) -> Readings {
    let linkage = linkage(corner);
    let position = *Follower::new(&linkage).position();
    read(&linkage, &position)
}

/// How a reading is found in the position as described.
#[track_caller]
pub(crate) fn design_construction(corner: &Corner, quantity: Quantity) -> Construction {
    let linkage = linkage(corner);
    let position = *Follower::new(&linkage).position();
    let readings = read(&linkage, &position);
    let found = Construction::of(quantity, corner, &linkage, &position, &readings);
    found.unwrap_or_else(|| panic!("{} does not exist", quantity.name()))
}

/// Where a construction's shortcut draws a point.
#[track_caller]
pub(crate) fn drawn_point(construction: &Construction, role: Role) -> Point {
    let shape = construction.having(role, Basis::Shortcut).next().map(|element| &element.shape);
    let Some(Shape::Point(at)) = shape else { panic!("{role:?} is not drawn as a point: {shape:?}") };
    *at
}

/// A point of the cross-section at `x`: y outboard, z up.
pub(crate) fn place(x: f64, [y, z]: [f64; 2]) -> Point {
    [x, y, z]
}

/// An arm that moves its ball joint in the cross-section x = 0: its axis lies along x.
pub(crate) fn plane_arm(id: &str, pivot: [f64; 2], joint: [f64; 2]) -> Arm {
    Arm {
        id: id.into(),
        front_pivot: place(150.0, pivot),
        rear_pivot: place(-150.0, pivot),
        ball_joint: place(0.0, joint),
    }
}

/// A link beside the cross-section with the arm's own places: it keeps a knuckle that moves
/// in the cross-section from turning about the line of its ball joints, and asks for
/// nothing else.
pub(crate) fn plane_tie_rod(pivot: [f64; 2], joint: [f64; 2]) -> Link {
    Link { id: "tie-rod".into(), inboard: place(-120.0, pivot), outboard: place(-120.0, joint), steers: true }
}

/// An upright wheel that stands on the ground.
pub(crate) fn wheel(x: f64, y: f64, loaded_radius: f64) -> Wheel {
    Wheel::new([x, y, loaded_radius], loaded_radius)
}

/// A corner of members given, with nothing else.
pub(crate) fn corner(arms: Vec<Arm>, links: Vec<Link>, wheel: Wheel) -> Corner {
    Corner { arms, links, ..Corner::new(wheel) }
}

/// The root of a function that changes sign between two numbers: halving, then as far as
/// doubles go.
pub(crate) fn root(mut low: f64, mut high: f64, mut function: impl FnMut(f64) -> f64) -> f64 {
    let at_low = function(low);
    assert!(at_low * function(high) < 0.0, "no change of sign between {low} and {high}");
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if function(middle) * at_low > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
