//! Corners whose front view is exact: roll centres, instant centres and levers.

use std::f64::consts::PI;

use geometry_core::{
    Vec3,
    construction::{Basis, Role},
    readings::Quantity,
    screw::Wrench,
    setup::{Corner, Hinge, Link, Spring, Strut},
    solve::Follower,
};

use crate::support::{
    close, corner, design_construction, drawn_point, linkage, place, plane_arm, plane_tie_rod, read,
    read_design, wheel,
};

/// Reimpell, Stoll & Betzler, *The Automotive Chassis*, 2nd ed. 2001, 3.4.3, roll centre
/// height of a double wishbone. Formula from memory, numbers made up for the case:
/// k = c sin(90° + σ − α)/sin(α + β), p = k sin β + d,
/// h = p (b/2)/(k cos β + d tan σ + r).
/// The corner is built to the book's drawing; the core knows nothing of the formula.
#[test]
fn roll_centre_of_a_double_wishbone() {
    // α of the upper arm, β of the lower, σ, c, d, r, b; then k, p and h to four decimals.
    let rows = [
        ([6.0, 4.0, 12.0, 220.0, 180.0, 10.0, 1450.0], [1259.9891, 267.8924, 148.8086]),
        ([3.0, -1.0, 10.0, 250.0, 200.0, -5.0, 1500.0], [7110.0317, 75.9128, 7.9749]),
        ([8.0, 5.0, 14.0, 400.0, 150.0, -15.0, 1480.0], [1768.4236, 304.1283, 126.1453]),
    ];
    for ([alpha, beta, sigma, c, d, r, b], [k, p, h]) in rows {
        let lower = [0.5 * b - r - d * tan(sigma), d];
        let upper = [lower[0] - c * sin(sigma), lower[1] + c * cos(sigma)];
        // The lower arm rises inward, the upper one falls.
        let lower_pivot = [lower[0] - 380.0 * cos(beta), lower[1] + 380.0 * sin(beta)];
        let upper_pivot = [upper[0] - 260.0 * cos(alpha), upper[1] - 260.0 * sin(alpha)];
        let corner = corner(
            vec![plane_arm("lower", lower_pivot, lower), plane_arm("upper", upper_pivot, upper)],
            vec![plane_tie_rod(lower_pivot, lower)],
            wheel(0.0, 0.5 * b, 310.0),
        );
        let exact_k = c * sin(90.0 + sigma - alpha) / sin(alpha + beta);
        roll_centre(&corner, lower, beta, [exact_k, k, p, h], [d, sigma, r, b]);
    }
}

/// The same book and section, strut: k = (c + o)/sin(α + β), then as above. Formula from
/// memory, numbers made up for the case; the construction (square to the strut at its top
/// mount) was seen at <https://mrtengineering.fi/pages/front-suspension-basics-macpherson-type>.
#[test]
fn roll_centre_of_a_strut() {
    // α of the strut, β of the arm, σ, c + o, d, r, b; then k, p and h to four decimals.
    let rows = [
        ([12.0, 4.0, 12.0, 600.0, 190.0, 5.0, 1460.0], [2176.7732, 341.844, 112.5676]),
        ([10.0, -2.0, 10.0, 560.0, 170.0, -10.0, 1480.0], [4023.7661, 29.5726, 5.415]),
    ];
    for ([alpha, beta, sigma, length, d, r, b], [k, p, h]) in rows {
        let lower = [0.5 * b - r - d * tan(sigma), d];
        let along = |share: f64| [lower[0] - share * sin(alpha), lower[1] + share * cos(alpha)];
        let pivot = [lower[0] - 380.0 * cos(beta), lower[1] + 380.0 * sin(beta)];
        let mut corner = corner(
            vec![plane_arm("arm", pivot, lower)],
            vec![plane_tie_rod(pivot, lower)],
            wheel(0.0, 0.5 * b, 310.0),
        );
        corner.strut = Some(Strut {
            id: "strut".into(),
            top_mount: place(0.0, along(length)),
            lower_end: place(0.0, along(0.3 * length)),
        });
        roll_centre(&corner, lower, beta, [length / sin(alpha + beta), k, p, h], [d, sigma, r, b]);
    }
}

/// The core's front-view centre and roll centre against the formula (1e-6 mm) and against
/// the case's table (half its last digit).
fn roll_centre(
    corner: &Corner,
    lower: [f64; 2],
    beta: f64,
    [exact_k, k, p, h]: [f64; 4],
    [d, sigma, r, b]: [f64; 4],
) {
    let readings = read_design(corner);
    let [y, z] = readings.front_view_centre.expect("the arms are not parallel");
    let found_k = (y - lower[0]).hypot(z - lower[1]);
    // The second double wishbone's k, where a change of the seventh digit of an angle's sine
    // shows, is 0.0003 off the case's own formula in the table.
    close("k, table", found_k, k, 3e-4);
    close("k", found_k, exact_k, 1e-6);
    let exact_p = exact_k * sin(beta) + d;
    close("p, table", z, p, 5e-5);
    close("p", z, exact_p, 1e-6);
    let height = readings.roll_centre_height.expect("the contact rises");
    close("roll centre, table", height, h, 5e-5);
    let exact_h = exact_p * (0.5 * b) / (exact_k * cos(beta) + d * tan(sigma) + r);
    close("roll centre", height, exact_h, 1e-6);
    // The book's own way: both members' lines to their crossing, from there to the contact.
    let drawn = design_construction(corner, Quantity::RollCentreHeight);
    close("roll centre, drawn", drawn.shortcut.expect("two holds").value, exact_h, 1e-6);
    let [_, y, z] = drawn_point(&drawn, Role::FrontViewCentre);
    close("k, drawn", (y - lower[0]).hypot(z - lower[1]), exact_k, 1e-6);
    close("p, drawn", z, exact_p, 1e-6);
    let [_, y, z] = drawn_point(&drawn, Role::RollCentre);
    close("roll centre on the centre plane", y, 0.0, 0.0);
    close("roll centre's height", z, exact_h, 1e-6);
    assert_eq!(drawn.having(Role::HoldLine, Basis::Shortcut).count(), 2);
}

/// Aronhold–Kennedy, virtual work and plane statics (any text on statics and dynamics).
/// Constructed so that all results are simple; exact.
#[test]
fn a_plane_double_wishbone_with_loads() {
    let mut corner = corner(
        vec![
            plane_arm("lower", [300.0, 150.0], [700.0, 150.0]),
            plane_arm("upper", [350.0, 400.0], [660.0, 450.0]),
        ],
        vec![plane_tie_rod([300.0, 150.0], [700.0, 150.0])],
        wheel(0.0, 750.0, 300.0),
    );
    corner.spring = Some(Spring {
        body: [0.0, 550.0, 500.0],
        carried: [0.0, 550.0, 150.0],
        on: "lower".into(),
        rate: None,
        free_length: None,
    });
    let linkage = linkage(&corner);
    let position = *Follower::new(&linkage).position();
    let readings = read(&linkage, &position);
    let relative =
        |what: &str, found: f64, expected: f64| close(what, found, expected, 1e-9 * expected.abs());
    let [y, z] = readings.front_view_centre.expect("the arms are not parallel");
    relative("centre y", y, -1200.0);
    relative("centre z", z, 150.0);
    relative("swing arm", readings.wheel_centre[1] - y, 1950.0);
    relative("roll centre", readings.roll_centre_height.expect("the contact rises"), 57.692_307_69);
    // The case gives the size; the top leans in as the wheel rises.
    relative("camber gain", -readings.camber_gain, 0.029_382_451_03);
    relative("contact slope", readings.contact_slope_y.expect("the contact rises"), 0.076_923_076_92);
    let ratio = readings.spring.expect("it has a spring").motion_ratio;
    relative("spring ratio", ratio, 0.608_974_359);
    for (quantity, expected) in [
        (Quantity::FrontViewSwingArm, 1950.0),
        (Quantity::RollCentreHeight, 57.692_307_69),
        (Quantity::CamberGain, -0.029_382_451_03),
        (Quantity::ContactSlopeY, 0.076_923_076_92),
        (Quantity::SpringMotionRatio, 0.608_974_359),
    ] {
        let drawn = design_construction(&corner, quantity).shortcut.expect("two arms");
        relative(quantity.name(), drawn.value, expected);
    }
    let load = Wrench::at_point(&Vec3::from(readings.contact), Vec3::new(0.0, 0.0, 4000.0));
    relative("spring force", position.travel_twist().power(&load) / ratio, 6_568.421_053);
}

/// Barton & Fieldhouse, *Automotive Chassis Engineering*, Springer 2018, eq. 3.29–3.33,
/// p. 179: spring travel per wheel travel c/b, wheel rate `spring_rate` · (c/b)². Page text
/// seen: <https://fliphtml5.com/osspz/szqt/Automotive_Chassis_Engineering/190>. The book's
/// ratio R is the inverse, b/c. Symbols only; numbers made up here.
#[test]
fn a_spring_on_a_pivoted_arm() {
    for (to_wheel, to_spring) in [(400.0, 300.0), (450.0, 180.0), (380.0, 380.0), (350.0, 420.0)] {
        let mut corner = corner(vec![], vec![], wheel(-to_wheel, 700.0, 300.0));
        corner.hinge = Some(Hinge { id: "arm".into(), pivots: [[0.0, 300.0, 300.0], [0.0, 640.0, 300.0]] });
        corner.spring = Some(Spring {
            body: [-to_spring, 500.0, 650.0],
            carried: [-to_spring, 500.0, 300.0],
            on: "arm".into(),
            rate: Some(60.0),
            free_length: None,
        });
        let ratio = read_design(&corner).spring.expect("it has a spring").motion_ratio;
        close("ratio", ratio, to_spring / to_wheel, 1e-15);
        close("wheel rate", 60.0 * ratio * ratio, 60.0 * (to_spring / to_wheel).powi(2), 1e-12);
    }
}

/// A handbook's relation: included angle = kingpin inclination + camber, so that camber lost
/// is inclination won as long as the knuckle is not bent. Page text seen:
/// <http://www.blackboots.co.uk/tech-kingpininclination.php>.
#[test]
fn the_included_angle_stays_as_the_wheel_travels() {
    for (camber, kingpin, included) in [(2.0, 6.0, 8.0), (-1.0, 8.0, 7.0)] {
        let lower = [700.0, 170.0];
        let upper = [lower[0] - 280.0 * sin(kingpin), lower[1] + 280.0 * cos(kingpin)];
        let mut wheel = wheel(0.0, 770.0, 300.0);
        wheel.camber = camber;
        let tie_rod = Link { inboard: [-120.0, 330.0, 190.0], ..plane_tie_rod([330.0, 190.0], lower) };
        let mut corner = corner(
            vec![plane_arm("lower", [330.0, 190.0], lower), plane_arm("upper", [400.0, 430.0], upper)],
            vec![tie_rod],
            wheel,
        );
        corner.spring = Some(Spring {
            body: [0.0, 520.0, 560.0],
            carried: [0.0, 560.0, 180.0],
            on: "lower".into(),
            rate: None,
            free_length: None,
        });
        let linkage = linkage(&corner);
        let mut follower = Follower::new(&linkage);
        let mut cambers = Vec::new();
        for travel in [0.0, 30.0, 60.0, -60.0] {
            let position =
                crate::support::go(&mut follower, geometry_core::solve::State { travel, rack: 0.0 });
            let readings = read(&linkage, &position);
            let steering = readings.steering.expect("it steers");
            // Motions are known to a few 1e-10, which is some 1e-8 degrees.
            close("included angle", steering.kingpin_inclination + readings.camber, included, 1e-7);
            cambers.push(readings.camber);
        }
        assert!((cambers[0] - camber).abs() < 1e-12 && (cambers[2] - camber).abs() > 1.0, "{cambers:?}");
    }
}

fn sin(degrees: f64) -> f64 {
    (degrees * PI / 180.0).sin()
}

fn cos(degrees: f64) -> f64 {
    (degrees * PI / 180.0).cos()
}

fn tan(degrees: f64) -> f64 {
    (degrees * PI / 180.0).tan()
}
