//! Derivatives by solved differences against two other ways.
//!
//! *By screws.* At a solved pose a small change leaves each member's closure with an error; the
//! twist that repairs it solves the members' lines against these errors, the wheel centre's
//! height held. Lines and closures are written here anew, from joints and dimensions; the
//! solver takes no part beyond the unchanged pose.
//!
//! *By symmetry.* What is known of a whole displacement, turn or enlargement must be the sum over
//! the points: exact for every reading, those of the motion included.

use geometry_core::{
    Mat3, Vec3,
    linkage::Linkage,
    readings::{Quantity, Readings, quantity::Unit, spin_axis},
    sensitivity::{Kind, Parameter, Sensitivity, SensitivityError},
    setup::{Axle, Coordinate, Corner, Holder, PointPath, Side, example},
    solve::{Follower, Position, State},
};
use nalgebra::{SMatrix, SVector};

use crate::{
    checking::{at, close, for_all, go, linkage, read, solved, vehicle},
    corners::{ALL, Drawn, Layout, drawn, plain},
    hostile,
};

pub(crate) fn sensitivity(corner: &Corner, state: State) -> Sensitivity {
    Sensitivity::of(corner, Side::Left, &vehicle(), Axle::Front, state).expect("the state is reached")
}

pub(crate) fn value(found: &Sensitivity, parameter: Parameter, quantity: Quantity) -> f64 {
    let derivative = found.derivative(parameter, quantity);
    derivative.unwrap_or_else(|| panic!("{} has no derivative by {parameter}", quantity.name())).value
}

/// A size for the derivative of a reading with respect to a length: what a tolerance is a
/// share of.
fn scale(quantity: Quantity, value: f64) -> f64 {
    match quantity {
        // A quotient by a rotation: its derivative grows with the square.
        Quantity::FrontViewSwingArm | Quantity::SideViewSwingArm => 1.0 + value * value / 1e4,
        _ => match quantity.unit() {
            Unit::Millimetre | Unit::MillimetrePerRadian => 1.0 + value.abs() / 100.0,
            Unit::Degree => 1.0,
            Unit::DegreePerMillimetre | Unit::Ratio => 0.01,
            Unit::Percent => 4.0,
        },
    }
}

// ---------------------------------------------------------------- by screws

/// How each member's closure errs when the knuckle stands at `position` of the unchanged
/// corner, the members have the dimensions of `sized` and the joints are those of `placed`, as
/// they stand on body and knuckle in the design pose. mm each.
struct Closures<'a> {
    rotation: Mat3,
    centre: Vec3,
    design_centre: Vec3,
    rack: Vec3,
    longer: Box<dyn Fn(Parameter) -> f64 + 'a>,
}

impl Closures<'_> {
    fn carry(&self, point: geometry_core::setup::Point) -> Vec3 {
        self.centre + self.rotation * (at(point) - self.design_centre)
    }

    fn errors(&self, sized: &Corner, placed: &Corner) -> Vec<f64> {
        let mut errors = Vec::new();
        for (i, (sized, placed)) in sized.arms.iter().zip(&placed.arms).enumerate() {
            let parts = |arm: &geometry_core::setup::Arm| {
                let (front, rear) = (at(arm.front_pivot), at(arm.rear_pivot));
                (0.5 * (front + rear), (front - rear).normalize())
            };
            let (middle, axis) = parts(sized);
            let of_sized = at(sized.ball_joint) - middle;
            let (middle, now) = parts(placed);
            let away = self.carry(placed.ball_joint) - middle;
            errors.push(now.dot(&away) - axis.dot(&of_sized));
            let longer = (self.longer)(Parameter::ArmReach { arm: i });
            errors.push(now.cross(&away).norm() - axis.cross(&of_sized).norm() - longer);
        }
        for (i, (sized, placed)) in sized.links.iter().zip(&placed.links).enumerate() {
            let inboard = at(placed.inboard) + if placed.steers { self.rack } else { Vec3::zeros() };
            let length = (at(sized.outboard) - at(sized.inboard)).norm();
            let longer = (self.longer)(Parameter::LinkLength { link: i });
            errors.push((self.carry(placed.outboard) - inboard).norm() - length - longer);
        }
        if let Some((sized, placed)) = sized.strut.as_ref().zip(placed.strut.as_ref()) {
            let axis = (at(sized.top_mount) - at(sized.lower_end)).normalize();
            let (one, two) = across(&axis);
            // The top mount lies on the strut's line through its lower end.
            let away = at(placed.top_mount) - self.carry(placed.lower_end);
            errors.extend([one, two].map(|normal| (self.rotation * normal).dot(&away)));
        }
        if let Some((sized, placed)) = sized.hinge.as_ref().zip(placed.hinge.as_ref()) {
            let [first, second] = placed.pivots.map(at);
            let axis = (second - first).normalize();
            let (one, two) = across(&axis);
            let [a, b] = sized.pivots.map(|pivot| self.carry(pivot));
            errors.push(axis.dot(&(0.5 * (a + b) - 0.5 * (first + second))));
            for (bush, pivot) in [(a, first), (b, second)] {
                errors.extend([one, two].map(|normal| normal.dot(&(bush - pivot))));
            }
        }
        errors
    }
}

/// Two unit vectors square to an axis; which two, no small change of the axis alters.
fn across(axis: &Vec3) -> (Vec3, Vec3) {
    let other = if axis.x.abs() < 0.7 { Vec3::x() } else { Vec3::y() };
    let one = axis.cross(&other).normalize();
    (one, axis.cross(&one))
}

/// Derivative at zero by the sixth-order difference over steps of a quarter; a closure at a
/// fixed pose is a square root of a polynomial, so that it is as good as exact.
fn slope(f: &dyn Fn(f64) -> Vec<f64>) -> Vec<f64> {
    let h = 0.25;
    let all = [-3.0, -2.0, -1.0, 1.0, 2.0, 3.0].map(|steps| f(steps * h));
    let [a, b, c, d, e, g] = &all;
    (0..a.len()).map(|i| ((g[i] - a[i]) - 9.0 * (e[i] - b[i]) + 45.0 * (d[i] - c[i])) / (60.0 * h)).collect()
}

/// The corner with the joints a parameter moves.
pub(crate) fn shifted(corner: &Corner, parameter: Parameter, by: f64) -> Corner {
    let mut corner = corner.clone();
    let mut shift = |place: PointPath, axis: Coordinate| {
        place.get_mut(&mut corner).expect("it has the point")[axis as usize] += by;
    };
    match parameter {
        Parameter::Coordinate { place, axis } | Parameter::Joint { place, axis } => shift(place, axis),
        Parameter::ArmPivots { arm, axis } => {
            shift(PointPath::ArmFrontPivot(arm), axis);
            shift(PointPath::ArmRearPivot(arm), axis);
        }
        Parameter::LinkLength { .. } | Parameter::ArmReach { .. } => {}
        Parameter::LoadedRadius | Parameter::Camber | Parameter::Toe => unreachable!("not asked for"),
    }
    corner
}

/// The knuckle's motion per unit of a parameter, by the members' lines: angular velocity and
/// the wheel centre's velocity.
fn repair(corner: &Corner, position: &Position, parameter: Parameter) -> (Vec3, Vec3) {
    let direction = corner.rack_direction.map_or(Vec3::y(), |direction| at(direction).normalize());
    let at_pose = |rotation: Mat3, centre: Vec3, by: f64| Closures {
        rotation,
        centre,
        design_centre: at(corner.wheel.centre),
        rack: position.state().rack * direction,
        longer: Box::new(move |which| if which == parameter { by } else { 0.0 }),
    };
    let (rotation, centre) = (position.rotation(), position.wheel_centre());
    let drive = slope(&|by| {
        let placed = shifted(corner, parameter, by);
        let sized = if parameter.kind() == Kind::Redrawn { &placed } else { corner };
        at_pose(rotation, centre, by).errors(sized, &placed)
    });
    // The lines, from small motions of the knuckle: turns of some ten-thousandths, moves of some tenths.
    let mut rows = SMatrix::<f64, 6, 6>::zeros();
    for j in 0..6 {
        let column = slope(&|by| {
            let mut turn = Vec3::zeros();
            let mut displacement = Vec3::zeros();
            if j < 3 {
                turn[j] = 1e-3 * by;
            } else {
                displacement[j - 3] = by;
            }
            let rotation =
                geometry_core::screw::Twist { angular: turn, linear: Vec3::zeros() }.exp().rotation
                    * rotation;
            at_pose(rotation, centre + displacement, 0.0).errors(corner, corner)
        });
        for (i, value) in column.iter().enumerate() {
            rows[(i, j)] = *value;
        }
    }
    rows[(5, 5)] = 1.0;
    let right = SVector::<f64, 6>::from_fn(|i, _| if i < 5 { -drive[i] } else { 0.0 });
    let twist = rows.lu().solve(&right).expect("the linkage is sound");
    (1e-3 * Vec3::new(twist[0], twist[1], twist[2]), Vec3::new(twist[3], twist[4], twist[5]))
}

/// Derivatives of camber, toe (°), contact (mm) when the wheel of a corner moves so.
fn standing(
    linkage: &Linkage,
    corner: &Corner,
    position: &Position,
    turn: &Vec3,
    velocity: &Vec3,
) -> [f64; 3] {
    let spin = spin_axis(linkage, position);
    let rate = turn.cross(&spin);
    let square = spin.x * spin.x + spin.y * spin.y;
    let camber = -rate.z / square.sqrt();
    let toe = (spin.y * rate.x - spin.x * rate.y) / square;
    // The lowest point of the disc: the wheel centre and the radius along (n_z n − z)/|…|.
    let (down, down_rate) = (spin.z * spin - Vec3::z(), rate.z * spin + spin.z * rate);
    let size = down.norm();
    let unit_rate = down_rate / size - down * (down.dot(&down_rate) / size.powi(3));
    let contact = velocity + corner.wheel.loaded_radius * unit_rate;
    [camber.to_degrees(), toe.to_degrees(), contact.y]
}

fn the_screws_say_the_same(case: &Drawn) {
    let Drawn { corner, state } = case;
    let linkage = linkage(corner, Side::Left);
    let position = solved(&linkage, *state);
    let found = sensitivity(corner, *state);
    for parameter in found.parameters() {
        let place = match parameter {
            Parameter::LoadedRadius | Parameter::Camber | Parameter::Toe => continue,
            Parameter::Coordinate { place, .. } | Parameter::Joint { place, .. } => Some(place),
            _ => None,
        };
        if place.is_some_and(|place| !place.holds()) {
            continue;
        }
        let (turn, velocity) = repair(corner, &position, parameter);
        let [camber, toe, contact_y] = standing(&linkage, corner, &position, &turn, &velocity);
        let holds = |quantity: Quantity, expected: f64| {
            let what = format!("{} by {parameter}", quantity.name());
            close(&what, value(&found, parameter, quantity), expected, 1e-9 * (1.0 + expected.abs()));
        };
        holds(Quantity::Camber, camber);
        holds(Quantity::Toe, toe);
        holds(Quantity::HalfTrackChange, contact_y);
        holds(Quantity::WheelbaseChange, velocity.x);
    }
}

#[test]
fn the_screws_say_the_same_of_every_layout() {
    for_all(60, &drawn(&ALL), |case| the_screws_say_the_same(&case));
}

#[test]
fn the_screws_say_the_same_at_design() {
    for_all(30, &drawn(&ALL), |case| the_screws_say_the_same(&Drawn { state: State::DESIGN, ..case }));
}

// ---------------------------------------------------------------- by symmetry

/// Sum of a reading's derivatives over every point, each coordinate with its weight.
fn sum(found: &Sensitivity, corner: &Corner, quantity: Quantity, weight: impl Fn(Vec3) -> Vec3) -> f64 {
    let mut sum = 0.0;
    for place in PointPath::all(corner) {
        let weight = weight(at(place.get(corner).expect("it is there")));
        for axis in Coordinate::ALL {
            let by = weight[axis as usize];
            if by != 0.0 {
                sum += by * value(found, Parameter::Coordinate { place, axis }, quantity);
            }
        }
    }
    sum
}

/// Whether a reading is at hand and no quotient that runs away.
fn usable(found: &Sensitivity, quantity: Quantity) -> Option<f64> {
    let swing = matches!(quantity, Quantity::FrontViewSwingArm | Quantity::SideViewSwingArm);
    found.value(quantity).filter(|value| !swing || value.abs() < 1e4)
}

/// The whole corner moved by a millimetre changes nothing but its places: to the left, the roll
/// centre's height by the slope of its line.
#[test]
fn a_corner_moved_as_a_whole_reads_the_same() {
    for_all(40, &drawn(&ALL), |Drawn { corner, state }| {
        let found = sensitivity(&corner, state);
        for quantity in Quantity::ALL {
            let Some(reading) = usable(&found, quantity) else { continue };
            for axis in Coordinate::ALL {
                let mut way = Vec3::zeros();
                way[axis as usize] = 1.0;
                let expected = match (quantity, axis) {
                    (Quantity::RollCentreHeight, Coordinate::Y) => {
                        found.value(Quantity::ContactSlopeY).expect("it rises")
                    }
                    _ => 0.0,
                };
                let what = format!("{} moved along {axis}", quantity.name());
                let total = sum(&found, &corner, quantity, |_| way);
                close(&what, total, expected, 1e-9 * scale(quantity, reading));
            }
        }
    });
}

/// Turned about z by a small angle with its wheel, the corner reads the same, and slopes turn
/// with it. The rack's direction stays, so nothing may depend on it here: no rack, no
/// steering.
#[test]
fn a_corner_turned_as_a_whole_turns_its_slopes() {
    for_all(40, &drawn(&ALL), |Drawn { corner, state }| {
        let state = State { rack: 0.0, ..state };
        let found = sensitivity(&corner, state);
        let slopes = [Quantity::ContactSlopeX, Quantity::ContactSlopeY].map(|q| found.value(q));
        let [Some(slope_x), Some(slope_y)] = slopes else { panic!("it rises") };
        let linkage = linkage(&corner, Side::Left);
        let hub_y =
            solved(&linkage, state).travel_twist().velocity_at(&solved(&linkage, state).wheel_centre()).y;
        for (quantity, expected) in [
            (Quantity::Camber, 0.0),
            (Quantity::Toe, -1.0_f64.to_degrees()),
            (Quantity::CamberGain, 0.0),
            (Quantity::BumpSteer, 0.0),
            (Quantity::ContactSlopeX, -slope_y),
            (Quantity::ContactSlopeY, slope_x),
            (Quantity::HubSlopeX, -hub_y),
            (Quantity::SpringLength, 0.0),
            (Quantity::SpringMotionRatio, 0.0),
            (Quantity::DamperMotionRatio, 0.0),
        ] {
            let of_toe = -1.0_f64.to_degrees() * value(&found, Parameter::Toe, quantity);
            let total = sum(&found, &corner, quantity, |p| Vec3::new(-p.y, p.x, 0.0)) + of_toe;
            // Levers of up to three metres.
            close(quantity.name(), total, expected, 1e-10 * 3000.0 * scale(quantity, 0.0));
        }
    });
}

/// Euler's theorem: made larger by a factor, with radius, travel and rack, the corner's lengths
/// grow by it, angles and slopes stay, and gradients of angles shrink by it.
#[test]
fn a_larger_corner_reads_larger_lengths() {
    for_all(40, &drawn(&ALL), |Drawn { corner, state }| {
        let found = sensitivity(&corner, state);
        let linkage = linkage(&corner, Side::Left);
        let by_state = |travel: f64, rack: f64| {
            let mut follower = Follower::new(&linkage);
            let h = 0.5;
            let near: [Readings; 6] = [-3.0, -2.0, -1.0, 1.0, 2.0, 3.0].map(|steps| {
                let at =
                    State { travel: state.travel + steps * h * travel, rack: state.rack + steps * h * rack };
                read(&linkage, &go(&mut follower, at))
            });
            move |quantity: Quantity| {
                let [a, b, c, d, e, f] = near.each_ref().map(|r| quantity.value(r).unwrap_or(f64::NAN));
                ((f - a) - 9.0 * (e - b) + 45.0 * (d - c)) / (60.0 * h)
            }
        };
        let (by_travel, by_rack) = (by_state(1.0, 0.0), by_state(0.0, 1.0));
        for quantity in Quantity::ALL {
            let Some(reading) = usable(&found, quantity) else { continue };
            let degree = match quantity.unit() {
                Unit::Millimetre | Unit::MillimetrePerRadian => 1.0,
                Unit::Degree | Unit::Ratio | Unit::Percent => 0.0,
                Unit::DegreePerMillimetre => -1.0,
            };
            let total = sum(&found, &corner, quantity, |p| p)
                + corner.wheel.loaded_radius * value(&found, Parameter::LoadedRadius, quantity)
                + state.travel * by_travel(quantity)
                + state.rack * by_rack(quantity);
            close(quantity.name(), total, degree * reading, 1e-10 * 3000.0 * scale(quantity, reading));
        }
    });
}

/// All joints on the body moved by the same shim carry the car's corner with them: to the
/// side, contact and wheel centre by as much and nothing else; upwards, with the wheel held, it is
/// a wheel that dropped.
#[test]
fn a_body_moved_as_a_whole_carries_the_wheel() {
    for_all(40, &drawn(&ALL), |Drawn { corner, state }| {
        let found = sensitivity(&corner, state);
        let at_rest = sensitivity(&corner, State::DESIGN);
        let on_body: Vec<PointPath> = PointPath::all(&corner)
            .into_iter()
            .filter(|place| place.holds() && place.holder() != Holder::Knuckle)
            .collect();
        let total = |found: &Sensitivity, quantity: Quantity, axis: Coordinate| -> f64 {
            on_body.iter().map(|&place| value(found, Parameter::Joint { place, axis }, quantity)).sum()
        };
        let standing =
            [Quantity::Camber, Quantity::Toe, Quantity::HalfTrackChange, Quantity::WheelbaseChange];
        for (quantity, expected) in standing.into_iter().zip([[0.0, 0.0], [0.0, 0.0], [0.0, 1.0], [1.0, 0.0]])
        {
            close(quantity.name(), total(&found, quantity, Coordinate::X), expected[0], 1e-9);
            close(quantity.name(), total(&found, quantity, Coordinate::Y), expected[1], 1e-9);
        }
        for (quantity, gain) in
            [(Quantity::Camber, Quantity::CamberGain), (Quantity::Toe, Quantity::BumpSteer)]
        {
            let gain = at_rest.value(gain).expect("it exists");
            close(quantity.name(), total(&at_rest, quantity, Coordinate::Z), -gain, 1e-9);
        }
    });
}

/// One shim under both pivots is one under each.
#[test]
fn shims_add_up() {
    for_all(30, &drawn(&[Layout::TwoArms, Layout::ArmAndSplitLinks, Layout::StrutAndArm]), |case| {
        let found = sensitivity(&case.corner, case.state);
        for arm in 0..case.corner.arms.len() {
            for axis in Coordinate::ALL {
                for quantity in Quantity::ALL {
                    let Some(reading) = usable(&found, quantity) else { continue };
                    let joint = |place| value(&found, Parameter::Joint { place, axis }, quantity);
                    let each = joint(PointPath::ArmFrontPivot(arm)) + joint(PointPath::ArmRearPivot(arm));
                    let both = value(&found, Parameter::ArmPivots { arm, axis }, quantity);
                    close(quantity.name(), both, each, 1e-9 * scale(quantity, reading));
                }
            }
        }
    });
}

// ---------------------------------------------------------------- tables

#[test]
fn the_tables_are_ordered_and_agree() {
    let document = example();
    for axle in [Axle::Front, Axle::Rear] {
        let corner = document.corner(axle).expect("both axles");
        let found =
            Sensitivity::of(corner, Side::Left, &document.vehicle, axle, State { travel: 25.0, rack: 4.0 })
                .expect("reached");
        let count = Parameter::all(corner).len();
        assert_eq!(found.columns().len(), count);
        for table in found.tables() {
            assert_eq!(table.rows.len(), count);
            let effects: Vec<f64> = table.rows.iter().map(|row| row.effect.map_or(-1.0, f64::abs)).collect();
            assert!(effects.is_sorted_by(|a, b| a >= b), "{}", table.quantity.name());
            for row in &table.rows {
                let column = found.column(row.parameter).expect("it is a parameter");
                let same = column.rows.iter().find(|other| other.quantity == table.quantity);
                assert_eq!(same.expect("every reading").derivative, row.derivative);
                assert_eq!(row.derivative.is_some(), table.value.is_some());
            }
        }
    }
    // Camber as set is camber, and nothing that only the bar touches moves the wheel.
    let corner = document.corner(Axle::Front).expect("a front");
    let found = sensitivity(corner, State::DESIGN);
    close("camber", value(&found, Parameter::Camber, Quantity::Camber), 1.0, 1e-12);
    let bar = Parameter::Coordinate { place: PointPath::BarArmEnd, axis: Coordinate::Z };
    assert_eq!(value(&found, bar, Quantity::RollCentreHeight), 0.0);
}

/// What programs read.
#[test]
fn a_table_is_written_with_its_names() {
    let corner = plain(Layout::TwoArms);
    let found = sensitivity(&corner, State::DESIGN);
    let table = serde_json::to_value(found.table(Quantity::Camber)).expect("plain data");
    assert_eq!(table["quantity"], "camber");
    let rows = table["rows"].as_array().expect("rows");
    let written = serde_json::json!({"change": "joint", "place": "arms[1].ball_joint", "axis": "y"});
    let row = rows.iter().find(|row| row["parameter"] == written).expect("a shim at the upper ball joint");
    assert_eq!(row["kind"], "adjusted");
    // A ball joint shimmed outboard on the knuckle pulls the top of the wheel in.
    assert!(row["derivative"].as_f64().is_some_and(|derivative| derivative < -0.1), "{row}");
    let parameter = Parameter::LinkLength { link: 0 };
    let column = serde_json::to_value(found.column(parameter)).expect("plain data");
    assert_eq!(column["parameter"], serde_json::json!({"change": "link_length", "link": 0}));
    assert_eq!(column["rows"].as_array().map(Vec::len), Some(Quantity::ALL.len()));
}

/// Errors say what is wrong, and what is asked beyond the corner is none.
#[test]
fn what_is_not_there_is_said() {
    let corner = plain(Layout::Trailing);
    let link = Parameter::LinkLength { link: 0 };
    let error = link.apply(&corner, Side::Left, 1.0).unwrap_err();
    assert_eq!(error, SensitivityError::Missing(link));
    assert_eq!(error.to_string(), "the corner has no length of links[0]");
    assert_eq!(sensitivity(&corner, State::DESIGN).derivative(link, Quantity::Camber), None);
    let error = Parameter::Camber.apply(&corner, Side::Left, f64::NAN).unwrap_err();
    assert_eq!(error.kind(), "field");
    let far = State { travel: 900.0, rack: 0.0 };
    let error = Sensitivity::of(&corner, Side::Left, &vehicle(), Axle::Front, far).unwrap_err();
    assert!(matches!(error, SensitivityError::NotReached { .. }), "{error}");
    let long = Parameter::LinkLength { link: 0 };
    let error = long.apply(&plain(Layout::TwoArms), Side::Left, 200.0).unwrap_err();
    assert_eq!(error, SensitivityError::DoesNotClose(long));
}

/// Whatever the document, every number told is one.
#[test]
fn hostile_corners_tell_no_nonsense() {
    for_all(150, &hostile::document(), |(document, states)| {
        for (axle, corner) in [(Axle::Front, &document.front), (Axle::Rear, &document.rear)] {
            let Some(corner) = corner else { continue };
            for state in &states {
                let Ok(found) = Sensitivity::of(corner, Side::Left, &document.vehicle, axle, *state) else {
                    continue;
                };
                for row in found.tables().iter().flat_map(|table| &table.rows) {
                    let all = [row.derivative, row.error, row.effect];
                    assert!(all.into_iter().flatten().all(f64::is_finite), "{row:?}");
                }
            }
            for parameter in Parameter::all(corner) {
                if let Ok(altered) = parameter.apply(corner, Side::Left, 5.0) {
                    assert!(Linkage::new(&altered, Side::Left).is_ok());
                }
            }
        }
    });
}
