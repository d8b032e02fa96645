//! The whole car: loads, load transfer, roll, dive and squat.

use geometry_core::{
    car::{AxleRates, Car, CarInput, CarReadings, Shares},
    setup::{Corner, Document, Drive, GRAVITY, Hinge, Part, VERSION, Vehicle},
};

use crate::support::{close, corner, wheel};

fn document(vehicle: Vehicle, front: Corner, rear: Corner) -> Document {
    Document {
        cornerwise: VERSION,
        title: String::new(),
        note: String::new(),
        vehicle,
        front: Some(front),
        rear: Some(rear),
        front_right: None,
        rear_right: None,
    }
}

fn read(document: &Document, input: &CarInput<'_>) -> CarReadings {
    let car = Car::new(document).expect("it can be assembled");
    car.read(input).expect("the numbers are in their ranges")
}

/// A wheel at x on an arm about a line across the car through (pivot x, pivot z).
fn swinging(x: f64, radius: f64, [pivot_x, pivot_z]: [f64; 2]) -> Corner {
    let mut corner = corner(vec![], vec![], wheel(x, 750.0, radius));
    corner.hinge =
        Some(Hinge { id: "arm".into(), pivots: [[pivot_x, 300.0, pivot_z], [pivot_x, 680.0, pivot_z]] });
    corner
}

/// A wheel at x on a swing axle about a line along the car that gives this roll centre.
fn swing_axle(x: f64, half_track: f64, radius: f64, roll_centre: f64, unsprung: f64) -> Corner {
    let mut corner = corner(vec![], vec![], wheel(x, half_track, radius));
    let (y, z) = (200.0, roll_centre * (half_track - 200.0) / half_track);
    corner.hinge = Some(Hinge { id: "axle".into(), pivots: [[x + 150.0, y, z], [x - 150.0, y, z]] });
    corner.unsprung = vec![Part { name: "all".into(), mass: unsprung, share: None }];
    corner
}

/// Barton & Fieldhouse, *Automotive Chassis Engineering*, Springer 2018, ch. 3, p. 174,
/// eq. 3.18; solution page seen, the statement before it not. 0.6 g, g = 9.81 m/s², which
/// moves the page's newtons by 0.03 % against standard gravity. The split of the roll
/// stiffness, 70 to 30, is inferred from the answers, not read; the page rounds the roll
/// angle to 0.114 rad, which moves the elastic parts by 0.25 %; and it prints 1556 N for
/// the front one where its own sum needs 1566 N.
#[test]
fn load_transfer_and_roll_gradient() {
    let (sprung, front, rear) = (1280.0, 140.0, 180.0);
    let mass: f64 = sprung + front + rear;
    let axis_at_cg = 0.54 * 70.0 + 0.46 * 320.0;
    let vehicle = Vehicle {
        wheelbase: Some(2600.0),
        mass: Some(mass),
        front_mass_share: Some((0.54 * sprung + front) / mass),
        cg_height: Some((sprung * (axis_at_cg + 365.0) + front * 280.0 + rear * 300.0) / mass),
        ..Vehicle::default()
    };
    let car = document(
        vehicle,
        swing_axle(0.0, 730.0, 280.0, 70.0, 0.5 * front),
        swing_axle(-2600.0, 730.0, 300.0, 320.0, 0.5 * rear),
    );
    let rates = |share: f64| AxleRates {
        roll_rate_springs: Some(share * 28_650.0_f64.to_radians()),
        ..AxleRates::default()
    };
    let input = CarInput {
        front_rates: rates(0.7),
        rear_rates: rates(0.3),
        lateral_acceleration: 0.6,
        ..CarInput::default()
    };
    let readings = read(&car, &input);
    let masses = readings.masses.expect("given");
    close("sprung mass", masses.sprung, 1280.0, 1e-9);
    close("sprung share", masses.sprung_front_share, 0.54, 1e-12);
    let axis = readings.roll_axis.expect("it exists");
    close("front roll centre", axis.front_height, 70.0, 1e-9);
    close("rear roll centre", axis.rear_height, 320.0, 1e-9);
    close("centre of gravity above the axis", axis.cg_above.expect("given"), 365.0, 1e-9);
    let lateral = readings.lateral.expect("given");
    close("front, sprung mass at the roll centre", lateral.front.geometric, 195.0, 1.0);
    close("rear, sprung mass at the roll centre", lateral.rear.geometric, 760.0, 1.0);
    close("front, unsprung", lateral.front.unsprung, 158.0, 1.0);
    close("rear, unsprung", lateral.rear.unsprung, 218.0, 1.0);
    close("front, elastic", lateral.front.elastic, 1566.0, 0.003 * 1566.0);
    close("rear, elastic", lateral.rear.elastic, 671.0, 0.003 * 671.0);
    close("front, total", lateral.front.total, 1919.0, 0.003 * 1919.0);
    close("rear, total", lateral.rear.total, 1649.0, 0.003 * 1649.0);
    close("roll gradient", lateral.roll_gradient, 10.9, 0.1);
    // By the page's formula with standard gravity: k = m d/(K − m g d).
    let moment = 1280.0 * GRAVITY * 0.365;
    close("exactly", lateral.roll_gradient, (moment / (28_650.0 - moment)).to_degrees(), 1e-9);
    close("without gravity", lateral.roll_gradient_without_gravity, 9.17, 0.01);
}

/// Barton & Fieldhouse 2018, eq. 3.63–3.69, p. 197, page seen; symbols there, numbers made up.
/// The rear wheel's arm is d long from pivot to wheel and its pivot e high; the torque is
/// reacted at the wheel, so the line of force starts at the ground. e/d = h/l keeps the rear
/// springs out of it (100 % anti-squat); e/d = (h/l)(1 + kr/kf) lowers the rear by as much
/// less than nothing as the front rises: no pitch.
#[test]
fn full_anti_squat_and_zero_pitch() {
    let (wheelbase, height, arm) = (2600.0, 550.0, 1200.0);
    let (rear_rate, front_rate) = (20.0, 25.0); // N/mm, axle
    let vehicle = Vehicle {
        wheelbase: Some(wheelbase),
        mass: Some(1300.0),
        cg_height: Some(height),
        drive_front_share: Some(0.0),
        ..Vehicle::default()
    };
    let rates = |axle: f64| AxleRates { wheel_rate: Some(0.5 * axle), ..AxleRates::default() };
    let driving = |pivot_height: f64| {
        let front = swinging(0.0, 300.0, [-1200.0, 300.0]);
        let rear = swinging(-wheelbase, 300.0, [arm - wheelbase, pivot_height]);
        let car = document(vehicle.clone(), front, Corner { drive: Drive::Hub, ..rear });
        let input =
            CarInput { front_rates: rates(front_rate), rear_rates: rates(rear_rate), ..CarInput::default() };
        read(&car, &input).driving.expect("given")
    };
    close("100 % anti-squat", driving(253.846).rear.percentage, 100.0, 100.0 * 0.0005 / 253.846);
    close("exactly", driving(height * arm / wheelbase).rear.percentage, 100.0, 1e-9);
    let zero = (1.0 + rear_rate / front_rate) * height * arm / wheelbase;
    close("pivot height", zero, 456.923, 0.0005);
    close("pitch", driving(zero).pitch_gradient.expect("given"), 0.0, 1e-12);
    // With 100 % the front still rises: front up is negative.
    let transfer = 1300.0 * GRAVITY * height / wheelbase;
    let rise = -(transfer / front_rate / wheelbase).to_degrees();
    close("front rises", driving(height * arm / wheelbase).pitch_gradient.expect("given"), rise, 1e-9);
}

/// The cases of `anti`, as a whole car: Milliken & Milliken 1995, 17.3; Gillespie 1992, ch. 7
/// (formulas from memory, numbers made up): tangents 0.08 at the front, 0.12 and 0.05 at the rear.
#[test]
fn anti_percentages_of_a_car() {
    let vehicle = Vehicle {
        wheelbase: Some(2600.0),
        cg_height: Some(550.0),
        brake_front_share: Some(0.65),
        drive_front_share: Some(0.0),
        ..Vehicle::default()
    };
    let ahead = 300.0 / 0.07;
    let car = document(
        vehicle,
        swinging(0.0, 300.0, [-1500.0, 120.0]),
        swinging(-2600.0, 300.0, [-2600.0 + ahead, 0.12 * ahead]),
    );
    let readings = read(&car, &CarInput::default());
    let (braking, driving) = (readings.braking.expect("given"), readings.driving.expect("given"));
    close("anti-dive", braking.front.percentage / 100.0, 0.245_818_181_8, 1e-10);
    close("anti-lift", braking.rear.percentage / 100.0, 0.198_545_454_5, 1e-10);
    close("anti-squat", driving.rear.percentage / 100.0, 0.236_363_636_4, 1e-10);
    close("no drive in front", driving.front.percentage, 0.0, 0.0);
    // Half of it by motors through shafts at the rear: the friction brakes' half as above, and
    // the motors' with the wheel centre's tangent.
    let shares = Shares {
        brake_front: Some(0.65),
        regeneration: Some(0.5),
        regeneration_front: Some(0.0),
        drive_front: Some(0.0),
    };
    let blend = read(&car, &CarInput { shares: Some(shares), ..CarInput::default() });
    let blend = blend.braking.expect("given");
    close("blend, front", blend.front.percentage / 100.0, 0.5 * 0.245_818_181_8, 1e-10);
    let rear = 0.5 * 0.198_545_454_5 + 0.5 * 0.236_363_636_4;
    close("blend, rear", blend.rear.percentage / 100.0, rear, 1e-10);
    close("blend, share", blend.front.share, 0.325, 1e-12);
    // The lines z = 0.08 (−x) and z = 0.12 (x + 2600).
    let [x, z] = braking.pitch_centre.expect("they meet");
    close("pitch centre x", x, -1560.0, 1e-9);
    close("pitch centre z", z, 124.8, 1e-9);
    close("pitch centre, height", braking.pitch_centre_height.expect("they meet"), 124.8, 1e-9);
}

/// A builder's worked example, <https://www.super7thheaven.co.uk/anti-dive-geometry/>, page text
/// seen: 60 % of the braking in front, wheelbase 2550, centre of gravity 600 mm high; 25 % needs
/// a tangent of 0.098, 5.6°. Without the brakes' share the same geometry reads 41.7 %.
#[test]
fn anti_dive_with_and_without_the_brakes_share() {
    let vehicle = Vehicle {
        wheelbase: Some(2550.0),
        cg_height: Some(600.0),
        brake_front_share: Some(0.6),
        ..Vehicle::default()
    };
    let front = swinging(0.0, 300.0, [-2000.0, 2000.0 * 0.098]);
    let car = document(vehicle, front, swinging(-2550.0, 300.0, [-1300.0, 300.0]));
    let braking = read(&car, &CarInput::default()).braking.expect("given");
    // The tangent has three digits, the percentages two and three.
    close("anti-dive", braking.front.percentage, 25.0, 60.0 * 2550.0 / 600.0 * 0.0005);
    close("without the share", braking.front.whole_force, 41.7, 100.0 * 2550.0 / 600.0 * 0.0005);
    close("angle", braking.front.slope.atan().to_degrees(), 5.6, 0.05);
}

/// A physics exercise, <https://csr.engine.ac.nz/encuentra/24132078>, page text seen: 1540 kg,
/// wheelbase 3.13 m, centre of gravity 1.09 m behind the front axle, g = 9.8 m/s²: 4918.16 N on
/// each front wheel and 2627.84 N on each rear one.
#[test]
fn wheel_loads_at_rest() {
    let vehicle = Vehicle {
        wheelbase: Some(3130.0),
        mass: Some(1540.0),
        front_mass_share: Some(1.0 - 1.09 / 3.13),
        ..Vehicle::default()
    };
    let car =
        document(vehicle, swinging(0.0, 300.0, [-1000.0, 300.0]), swinging(-3130.0, 300.0, [-2000.0, 300.0]));
    let loads = read(&car, &CarInput::default()).loads.expect("given");
    let with = 9.8 / GRAVITY;
    close("front wheel", loads.front_wheel * with, 4918.16, 0.01);
    close("rear wheel", loads.rear_wheel * with, 2627.84, 0.01);
    close("front axle", loads.front_axle, 2.0 * loads.front_wheel, 1e-9);
    close("centre of gravity", loads.cg_behind_front.expect("given"), 1090.0, 1e-9);
}
