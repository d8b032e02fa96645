//! The whole car as a body on two axles.

use std::array::from_fn;

use geometry_core::{
    axle::{AxleFollower, AxleReader, AxleState, Lean},
    bounds::{self, Bound},
    car::{AxleRates, Car, CarInput, CarReadings, Group, Lack, Masses, Shares},
    readings::{Anti, Reader},
    setup::{Axle, Brakes, Document, Drive, GRAVITY, Part, Side, Vehicle, example},
    solve::Follower,
};
use proptest::{option, prelude::*, sample::select};

use crate::{
    checking::{close, for_all, linkage},
    corners::{Drawn, Layout, drawn},
    hostile::number,
};

const IN_FRONT: [Layout; 3] = [Layout::TwoArms, Layout::ArmAndSplitLinks, Layout::StrutAndArm];
const BEHIND: [Layout; 3] = [Layout::FiveLinks, Layout::SemiTrailing, Layout::Trailing];

/// The example's car on two drawn corners.
fn document(front: &Drawn, rear: &Drawn) -> Document {
    let parts = |mass: f64| vec![Part { name: "all".into(), mass, share: None }];
    let mut document = example();
    let (mut front, mut rear) = (front.corner.clone(), rear.corner.clone());
    front.unsprung = parts(38.0);
    rear.unsprung = parts(44.0);
    (document.front, document.rear) = (Some(front), Some(rear));
    document
}

fn cars() -> impl Strategy<Value = Document> {
    (drawn(&IN_FRONT), drawn(&BEHIND)).prop_map(|(front, rear)| document(&front, &rear))
}

fn car(document: &Document) -> Car {
    Car::new(document).expect("it can be assembled")
}

fn rates(wheel_rate: f64, bar: f64) -> AxleRates {
    AxleRates {
        wheel_rate: Some(wheel_rate),
        tyre_rate: Some(220.0),
        roll_rate_bar: Some(bar),
        roll_rate_springs: None,
    }
}

fn read(document: &Document, input: &CarInput<'_>) -> CarReadings {
    car(document).read(input).expect("the numbers are in their ranges")
}

fn sprung() -> CarInput<'static> {
    CarInput { front_rates: rates(32.0, 300.0), rear_rates: rates(40.0, 150.0), ..CarInput::default() }
}

/// Moments about the ground: what the wheels gain balances the force at the centre of gravity
/// and the weight that has leaned out.
#[test]
fn lateral_transfer_balances_the_car() {
    let dropped = prop::array::uniform2(-30.0..30.0_f64);
    for_all(150, &(cars(), -1.5..1.5_f64, dropped), |(document, acceleration, dropped)| {
        let car = car(&document);
        // The body lower or higher than described, or as described where it does not come so far.
        let [front, rear] = [(Axle::Front, dropped[0]), (Axle::Rear, dropped[1])].map(|(axle, heave)| {
            let to = |heave: f64| {
                let mut follower = AxleFollower::new(car.pair(axle).expect("described"));
                follower.go_to(AxleState { heave, ..AxleState::DESIGN }, Lean::HeaveHeld)
            };
            to(heave).or_else(|_| to(0.0)).expect("as described")
        });
        let readings = car
            .read(&CarInput {
                front: Some(&front),
                rear: Some(&rear),
                lateral_acceleration: acceleration,
                ..sprung()
            })
            .expect("sound");
        let (Some(lateral), Some(masses), Some(axis)) =
            (readings.lateral, readings.masses, readings.roll_axis)
        else {
            assert_eq!(readings.lack(Group::Lateral).and_then(Lack::field), None, "{:?}", readings.missing);
            return;
        };
        let tracks = [(Axle::Front, &front), (Axle::Rear, &rear)].map(|(axle, position)| {
            AxleReader::new(car.pair(axle).expect("described"), &document.vehicle).read(position).track
        });
        let found = lateral.front.total * tracks[0] + lateral.rear.total * tracks[1];
        let vehicle = &document.vehicle;
        let (mass, height) = (vehicle.mass.expect("given"), vehicle.cg_height.expect("given"));
        let lean = masses.sprung * GRAVITY * axis.cg_above.expect("given") * lateral.roll.to_radians();
        let share = masses.sprung_front_share;
        let dropped = share * front.heave() + (1.0 - share) * rear.heave();
        let moment = mass * height - masses.sprung * dropped;
        let expected = moment * GRAVITY * acceleration + lean;
        close("moment about the ground, N·mm", found, expected, 1e-9 * (mass * GRAVITY * height));
        // The roll gradient is the roll per g.
        close("roll", lateral.roll, lateral.roll_gradient * acceleration, 1e-12);
        // Sprung and unsprung together are the car.
        let moment = masses.sprung * masses.sprung_cg_height.expect("given")
            + masses.front_unsprung * masses.front_unsprung_height
            + masses.rear_unsprung * masses.rear_unsprung_height;
        close("height", moment / mass, height, 1e-9);
        let front = masses.sprung * masses.sprung_front_share + masses.front_unsprung;
        close("front share", front / mass, vehicle.front_mass_share.expect("given"), 1e-12);
    });
}

fn anti(document: &Document, axle: Axle) -> Anti {
    let linkage = linkage(document.corner(axle).expect("described"), Side::Left);
    let position = *Follower::new(&linkage).position();
    Reader::new(&linkage, &document.vehicle, axle).read(&position).anti
}

/// A car with one kind of force has the single corner's percentages; a blend is their sum,
/// each by its share.
#[test]
fn the_percentages_of_a_blend_add_up() {
    let strategy = (cars(), prop::array::uniform4(0.0..1.0_f64), any::<[bool; 4]>());
    for_all(150, &strategy, |(mut document, [brake, regeneration, regeneration_front, drive], kinds)| {
        for (i, axle) in [Axle::Front, Axle::Rear].into_iter().enumerate() {
            let corner = document.corner_mut(axle).expect("described");
            corner.brakes = if kinds[i] { Brakes::Outboard } else { Brakes::Inboard };
            corner.drive = if kinds[2 + i] { Drive::Shaft } else { Drive::Hub };
        }
        let shares = Shares {
            brake_front: Some(brake),
            regeneration: Some(regeneration),
            regeneration_front: Some(regeneration_front),
            drive_front: Some(drive),
        };
        let readings = read(&document, &CarInput { shares: Some(shares), ..sprung() });
        let (braking, driving) = (readings.braking.expect("known"), readings.driving.expect("known"));
        close("all of the braking", braking.front.share + braking.rear.share, 1.0, 1e-12);
        document.vehicle.brake_front_share = Some(brake);
        document.vehicle.drive_front_share = Some(drive);
        for (i, axle) in [Axle::Front, Axle::Rear].into_iter().enumerate() {
            let (of_braking, of_driving) = match axle {
                Axle::Front => (braking.front, driving.front),
                Axle::Rear => (braking.rear, driving.rear),
            };
            let single = anti(&document, axle);
            let friction = if kinds[i] { single.braking_friction } else { single.braking_shaft };
            let drive = if kinds[2 + i] { single.driving_shaft } else { single.driving_hub };
            let drive = drive.expect("known");
            close("driving", of_driving.percentage, drive, 1e-9 * (1.0 + drive.abs()));
            let friction = (1.0 - regeneration) * friction.expect("known");
            close("friction", of_braking.friction, friction, 1e-9 * (1.0 + friction.abs()));
            let blend = of_braking.friction + of_braking.regeneration;
            close("blend", of_braking.percentage, blend, 1e-9 * (1.0 + blend.abs()));
            // The blend's line of force gives the same percentage with the axle's whole share.
            let whole = of_braking.share * of_braking.whole_force;
            close("as one force", of_braking.percentage, whole, 1e-9 * (1.0 + whole.abs()));
            // Regeneration alone is what driving backward would be.
            let only = Shares { regeneration: Some(1.0), regeneration_front: shares.drive_front, ..shares };
            let only = read(&document, &CarInput { shares: Some(only), ..sprung() }).braking.expect("known");
            let only = if axle == Axle::Front { only.front } else { only.rear };
            close("regeneration", only.percentage, drive, 1e-9 * (1.0 + drive.abs()));
        }
    });
}

/// Where both corners are described in the axes of their own axles the wheelbase says where the rear one is.
#[test]
fn the_pitch_centre_is_the_same_where_the_rear_corner_is_measured_from_its_own_axle() {
    let document = example();
    let wheelbase = document.vehicle.wheelbase.expect("given");
    let mut own = document.clone();
    own.rear.as_mut().expect("a rear").change_points(|_, point| point[0] += wheelbase);
    let centre = |document: &Document| {
        let readings = car(document).read(&sprung()).expect("sound");
        readings.braking.expect("all is given").pitch_centre.expect("the lines meet")
    };
    let ([x, z], [own_x, own_z]) = (centre(&document), centre(&own));
    // The contacts stand under their wheel centres but for what camber makes of toe.
    assert!((x - own_x).abs() < 0.5 && (z - own_z).abs() < 0.5, "{x} {z}, {own_x} {own_z}");
    assert!(x < -1.0, "behind the front axle: {x}");
}

/// What stands on the ground is as high above it wherever the axes begin.
#[test]
fn the_pitch_centre_s_height_is_above_the_contacts() {
    let higher = |by: [f64; 2]| {
        let mut document = example();
        for (axle, by) in [Axle::Front, Axle::Rear].into_iter().zip(by) {
            document.corner_mut(axle).expect("described").change_points(|_, point| point[2] += by);
        }
        let braking = car(&document).read(&sprung()).expect("sound").braking.expect("all is given");
        (braking.pitch_centre.expect("the lines meet"), braking.pitch_centre_height.expect("they meet"))
    };
    let ([x, z], height) = higher([0.0; 2]);
    let ([raised_x, raised_z], raised_height) = higher([40.0; 2]);
    close("raised, x", raised_x, x, 1e-9);
    close("raised, z", raised_z, z + 40.0, 1e-9);
    close("raised, height", raised_height, height, 1e-9);
    // A front corner that is described higher lifts the ground in the axes as far as the rear axle is away.
    let ([x, z], height) = higher([40.0, 0.0]);
    let wheelbase = example().vehicle.wheelbase.expect("given");
    close("above what rises to the front", height, z - 40.0 * (wheelbase + x) / wheelbase, 0.1);
}

/// About the pitch centre the forces of both axles have the same moment as the load transfer
/// that the members take: a force through it at its height leaves the springs alone.
#[test]
fn a_force_through_the_pitch_centre_leaves_the_springs_alone() {
    for_all(150, &cars(), |document| {
        let braking = read(&document, &sprung()).braking.expect("known");
        let Some([x, z]) = braking.pitch_centre else { return };
        let car = car(&document);
        let contacts: [f64; 2] = from_fn(|i| {
            let axle = [Axle::Front, Axle::Rear][i];
            let corner = document.corner(axle).expect("described");
            let linkage = linkage(corner, Side::Left);
            let position = *Follower::new(&linkage).position();
            assert!(car.pair(axle).is_some());
            let contact = Reader::new(&linkage, &document.vehicle, axle).read(&position).contact;
            // The line through the contact passes through the centre.
            let anti = if i == 0 { braking.front } else { braking.rear };
            let towards = if i == 0 { contact[0] - x } else { x - contact[0] };
            let leeway = 1e-9 * (1.0 + x.abs() + z.abs());
            close("on the line", contact[2] + anti.slope * towards, z, leeway);
            contact[0]
        });
        assert!(contacts[0] > contacts[1]);
    });
}

#[test]
fn geometry_is_read_in_the_positions_given() {
    for_all(60, &(cars(), -20.0..20.0_f64), |(document, heave)| {
        let car = car(&document);
        let [front, rear] = [Axle::Front, Axle::Rear].map(|axle| {
            let pair = car.pair(axle).expect("described");
            AxleFollower::new(pair).go_to(AxleState { heave, ..AxleState::DESIGN }, Lean::HeaveHeld)
        });
        let (Ok(front), Ok(rear)) = (front, rear) else { return };
        let input = CarInput { front: Some(&front), rear: Some(&rear), ..sprung() };
        let lowered = car.read(&input).expect("sound").roll_axis;
        let design = car.read(&sprung()).expect("sound").roll_axis;
        if let (Some(lowered), Some(design), true) = (lowered, design, heave.abs() > 1.0) {
            assert!(lowered.front_height != design.front_height);
        }
        let input = CarInput { front: None, rear: None, ..input };
        assert_eq!(car.read(&input).expect("sound").roll_axis, design);
    });
}

#[test]
fn what_is_missing_is_named() {
    let lack = |change: &dyn Fn(&mut Document), group: Group| {
        let mut document = example();
        change(&mut document);
        let readings = read(&document, &sprung());
        let lack = readings.lack(group).expect("it lacks something");
        (lack, lack.field().unwrap_or_default())
    };
    let named = |change: &dyn Fn(&mut Document), group: Group, field: &str| {
        assert_eq!(lack(change, group).1, field);
    };
    named(&|d| d.vehicle.mass = None, Group::Loads, "vehicle.mass");
    named(&|d| d.vehicle.front_mass_share = None, Group::Masses, "vehicle.front_mass_share");
    named(&|d| d.vehicle.cg_height = None, Group::Lateral, "vehicle.cg_height");
    named(&|d| d.vehicle.wheelbase = None, Group::Driving, "vehicle.wheelbase");
    named(&|d| d.vehicle.brake_front_share = None, Group::Braking, "vehicle.brake_front_share");
    named(&|d| d.vehicle.drive_front_share = None, Group::Driving, "vehicle.drive_front_share");
    named(&|d| d.vehicle.drive_front_share = None, Group::Braking, "vehicle.regeneration_front_share");
    named(&|d| d.rear = None, Group::RollAxis, "rear");
    let bare = |d: &mut Document| d.front.as_mut().expect("described").unsprung.clear();
    named(&bare, Group::FrontRide, "front.unsprung");

    // What does not enter is not asked for: neither the other axle nor the height of the centre of gravity.
    let whole = read(&example(), &sprung());
    let mut document = example();
    document.rear = None;
    document.vehicle.cg_height = None;
    let alone = read(&document, &sprung());
    assert!(whole.front_ride.is_some() && whole.front_unsprung.is_some());
    assert_eq!((alone.front_ride, alone.front_unsprung), (whole.front_ride, whole.front_unsprung));
    assert_eq!(alone.lack(Group::RearUnsprung), Some(Lack::Corner(Axle::Rear)));
    let mut document = example();
    document.vehicle.cg_height = None;
    let masses = read(&document, &sprung()).masses.expect("known without");
    assert_eq!(Some(Masses { sprung_cg_height: None, ..whole.masses.expect("known") }), Some(masses));
    let heavy = |d: &mut Document| d.front.as_mut().expect("described").unsprung[0].mass = 1900.0;
    assert_eq!(lack(&heavy, Group::Masses).0, Lack::UnsprungTooHeavy(Axle::Front));

    let without = |front_rates: AxleRates| {
        let readings = read(&example(), &CarInput { front_rates, ..sprung() });
        readings.lack(Group::Lateral).expect("it lacks something")
    };
    assert_eq!(without(AxleRates::default()), Lack::AntiRollBarRate(Axle::Front));
    let bar_alone = AxleRates { wheel_rate: None, ..rates(30.0, 100.0) };
    assert_eq!(without(bar_alone), Lack::WheelRate(Axle::Front));
    let soft = AxleRates { roll_rate_springs: Some(0.0), roll_rate_bar: Some(0.0), ..AxleRates::default() };
    let input = CarInput { front_rates: soft, rear_rates: soft, ..CarInput::default() };
    assert_eq!(read(&example(), &input).lack(Group::Lateral), Some(Lack::FallsOver));
    let complete = read(&example(), &sprung());
    assert_eq!(complete.missing, vec![], "nothing is missing in the example");
}

#[test]
fn whatever_is_given_nothing_is_told_by_no_number() {
    // The ends of a range, what lies between, and now and then anything at all.
    let within = |bound: Bound| {
        let given = prop_oneof![
            3 => select(vec![bound.least, bound.most]),
            5 => bound.least..bound.most,
            1 => number(),
        ];
        option::weighted(0.85, given)
    };
    let rates = || {
        let (wheel, roll) = (bounds::WHEEL_RATE, bounds::ROLL_RATE);
        (within(wheel), within(wheel), within(roll), within(roll)).prop_map(
            |(wheel_rate, tyre_rate, roll_rate_springs, roll_rate_bar)| AxleRates {
                wheel_rate,
                tyre_rate,
                roll_rate_springs,
                roll_rate_bar,
            },
        )
    };
    let shares = || {
        prop::array::uniform5(within(bounds::SHARE)).prop_map(|[mass, brake, drive, part, front]| Vehicle {
            front_mass_share: mass,
            brake_front_share: brake,
            drive_front_share: drive,
            regeneration_share: part,
            regeneration_front_share: front,
            ..Vehicle::default()
        })
    };
    let sizes = (within(bounds::WHEELBASE), within(bounds::MASS), within(bounds::CG_HEIGHT));
    let vehicles = (shares(), sizes).prop_map(|(vehicle, (wheelbase, mass, cg_height))| Vehicle {
        wheelbase,
        mass,
        cg_height,
        ..vehicle
    });
    let accelerations = within(bounds::LATERAL_ACCELERATION).prop_map(|a| a.unwrap_or(0.0));
    let strategy = (cars(), vehicles, rates(), rates(), accelerations);
    for_all(600, &strategy, |(mut document, vehicle, front_rates, rear_rates, lateral_acceleration)| {
        document.vehicle = vehicle;
        if document.check().is_err() {
            document.vehicle = example().vehicle;
        }
        let input = CarInput { front_rates, rear_rates, lateral_acceleration, ..CarInput::default() };
        match car(&document).read(&input) {
            Ok(readings) => {
                let told = format!("{readings:?}");
                assert!(!told.contains("NaN") && !told.contains("inf"), "{told}");
            }
            Err(error) => assert!(!error.to_string().is_empty()),
        }
    });
}
