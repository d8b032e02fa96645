//! Load cases: what they make of a car, what they need, and whatever is given to them.

use geometry_core::{
    Vec3,
    bounds::{ACCELERATION, Bound, LEAST_HEADING, TIMES_STATIC},
    linkage::Linkage,
    readings::{Reader, spin_axis},
    setup::{Axle, Corner, Drive, GRAVITY, Hinge, Side, Vehicle, Wheel, example},
    solve::{Follower, Outcome, State},
    statics::{Case, ForcesError, Given, Load, LoadAxes, LoadPoint, Missing, ReactedBy, Statics},
};
use proptest::{array::uniform6, prelude::*};

use crate::{
    checking::{at, close, close_vectors, for_all, linkage, read, solved, vehicle},
    corners::{Layout, plain},
    hostile,
};

/// Cases and loads are read as they are written.
#[test]
fn cases_are_read_and_written() {
    let free = Case::Free {
        loads: vec![Load {
            at: LoadPoint::WheelCentre,
            force: [1.0, 2.0, 3.0],
            axes: LoadAxes::Vehicle,
            reacted_by: ReactedBy::Nothing,
        }],
    };
    for case in Case::usual().into_iter().chain([free]) {
        let text = serde_json::to_string(&case).expect("plain data");
        assert_eq!(serde_json::from_str::<Case>(&text).expect(&text), case);
    }
    let short = r#"{"kind": "free", "loads": [{"at": "contact", "force": [0, 0, 4000]}]}"#;
    let Ok(Case::Free { loads }) = serde_json::from_str(short) else { panic!("{short}") };
    assert_eq!(loads[0].reacted_by, ReactedBy::Knuckle);
    assert!(serde_json::from_str::<Case>(r#"{"kind": "cornering", "g": 1, "speed": 3}"#).is_err());
}

/// Whatever the document, the states and the loads: forces in balance without a NaN, or an
/// error in words.
#[test]
fn hostile_corners_and_loads_give_forces_or_a_sentence() {
    let loads = uniform6(hostile::number());
    for_all(2000, &(hostile::document(), loads, any::<bool>()), |((document, states), numbers, sane)| {
        let numbers = if sane { [3000.0, -1500.0, 4000.0, 0.0, 800.0, -20.0] } else { numbers };
        let [a, b, c, damper, anti_roll_bar, torsion_bar] = numbers;
        let given = Given { damper, anti_roll_bar, torsion_bar };
        for (axle, side) in [(Axle::Front, Side::Left), (Axle::Rear, Side::Right)] {
            let Some(corner) = document.corner(axle) else { continue };
            let Ok(linkage) = Linkage::new(corner, side) else { continue };
            let statics = Statics::new(corner, &linkage);
            let mut all =
                vec![Case::Cornering { g: a }, Case::FrictionBraking { g: b }, Case::Bump { times: c }];
            all.extend(Case::usual());
            all.push(Case::Free {
                loads: vec![Load {
                    at: LoadPoint::Contact,
                    force: [a, b, c],
                    axes: LoadAxes::Vehicle,
                    reacted_by: ReactedBy::Shaft,
                }],
            });
            let mut follower = Follower::new(&linkage);
            for state in &states {
                let Outcome::Solved(position) = follower.go_to(*state) else { continue };
                let kick = statics.steering_kick(&position);
                assert!(sound(&kick), "{kick:?}");
                for case in &all {
                    let found = statics
                        .loads(case, &document.vehicle, axle)
                        .and_then(|loads| statics.forces(&position, &loads, &given));
                    match found {
                        Ok(found) => assert!(sound(&found), "{found:?}"),
                        Err(error) => assert!(error.to_string().len() > 20, "{error}"),
                    }
                }
            }
        }
    });
}

fn sound(value: &impl std::fmt::Debug) -> bool {
    let text = format!("{value:?}");
    !text.contains("NaN") && !text.contains("inf,") && !text.contains("inf]") && !text.contains("inf)")
}

/// The four wheels' loads of every case carry the car's weight and brake or drive its mass.
#[test]
fn cases_carry_the_car() {
    let document = example();
    let vehicle = &document.vehicle;
    let (mass, height) = (vehicle.mass.expect("given"), vehicle.cg_height.expect("given"));
    let weight = mass * GRAVITY;
    let total = |left: &Case, right: &Case| -> [Vec3; 2] {
        [Axle::Front, Axle::Rear].map(|axle| {
            let corner = document.corner(axle).expect("described");
            let linkage = linkage(corner, Side::Left);
            let statics = Statics::new(corner, &linkage);
            [left, right]
                .into_iter()
                .flat_map(|case| statics.loads(case, vehicle, axle).expect("all is given"))
                .map(|load| at(load.force))
                .sum()
        })
    };
    for case in [
        Case::Standing {},
        Case::FrictionBraking { g: 0.7 },
        Case::RegenerativeBraking { g: 0.2 },
        Case::Driving { g: 0.4 },
    ] {
        let [front, rear] = total(&case, &case);
        close("weight", front.z + rear.z, weight, 1e-9);
        let forward = front.x + rear.x;
        let expected = match case {
            Case::FrictionBraking { g } | Case::RegenerativeBraking { g } => -g * weight,
            Case::Driving { g } => g * weight,
            _ => 0.0,
        };
        close("forward", forward, expected, 1e-9);
        // About the contact of the front wheels.
        let wheelbase = vehicle.wheelbase.expect("given");
        let centre = (1.0 - vehicle.front_mass_share.expect("given")) * wheelbase;
        close("pitch", rear.z * wheelbase, weight * centre + forward * height, 1e-6);
    }
    let [front, rear] = total(&Case::Cornering { g: 0.8 }, &Case::Cornering { g: -0.8 });
    close("weight", front.z + rear.z, weight, 1e-9);
    // A wheel of a car on its side lifts, and its mate carries the axle.
    let corner = document.corner(Axle::Front).expect("described");
    let linkage = linkage(corner, Side::Left);
    let statics = Statics::new(corner, &linkage);
    let load = |g| statics.loads(&Case::Cornering { g }, vehicle, Axle::Front).expect("all is given")[0];
    let axle = 2.0 * vehicle.wheel_load(Axle::Front).expect("given");
    assert!(load(-9.0).force[2] == 0.0 && load(9.0).force[2] == axle);
    // The outer left wheel is pushed to the right.
    assert!(load(0.5).force[1] < 0.0 && load(-0.5).force[1] > 0.0);
}

/// An axle in a corner is in balance: its wheels carry its weight, their forces across bend the way
/// of its mass, and the moment of these about the ground is that of the load transfer over the track.
#[test]
fn an_axle_in_a_corner_is_in_balance() {
    let document = example();
    let vehicle = &document.vehicle;
    let (mass, height) = (vehicle.mass.expect("given"), vehicle.cg_height.expect("given"));
    let front = vehicle.front_mass_share.expect("given");
    for (axle, mass) in [(Axle::Front, mass * front), (Axle::Rear, mass * (1.0 - front))] {
        let corner = document.corner(axle).expect("described");
        let linkage = linkage(corner, Side::Left);
        let statics = Statics::new(corner, &linkage);
        let half_track = read(&linkage, &solved(&linkage, State::DESIGN)).contact[1];
        for g in [0.1, 0.45, 0.8] {
            let load = |g| statics.loads(&Case::Cornering { g }, vehicle, axle).expect("all is given");
            // The left wheel of a corner to the right, and that of one to the left: the mirror image
            // of the inner wheel of the first.
            let (outer, inner) = (load(g), load(-g));
            assert_eq!((outer.len(), inner.len()), (1, 1));
            let ([x, outer_y, outer_z], [_, inner_y, inner_z]) = (outer[0].force, inner[0].force);
            let weight = mass * GRAVITY;
            close("up", outer_z + inner_z, weight, 1e-9);
            close("across", inner_y - outer_y, g * weight, 1e-9);
            close("roll", (outer_z - inner_z) * half_track, g * weight * height, 1e-6);
            close("share of each wheel", outer_y / outer_z, -inner_y / inner_z, 1e-12);
            assert_eq!((x, outer[0].axes, outer[0].reacted_by), (0.0, LoadAxes::Wheel, ReactedBy::Nothing));
        }
    }
}

/// A bump's load is that many times the load at rest, and nothing else.
#[test]
fn a_bump_is_a_multiple_of_the_load_at_rest() {
    let corner = plain(Layout::TwoArms);
    let linkage = linkage(&corner, Side::Left);
    let statics = Statics::new(&corner, &linkage);
    for axle in [Axle::Front, Axle::Rear] {
        let load = |case| statics.loads(&case, &vehicle(), axle).expect("all is given");
        let at_rest = load(Case::Standing {});
        for times in [0.0, 1.0, 2.5] {
            let over = load(Case::Bump { times });
            assert_eq!((over.len(), at_rest.len()), (1, 1));
            close_vectors("bump", &at(over[0].force), &(times * at(at_rest[0].force)), 1e-9);
        }
    }
}

/// Regeneration is divided between the axles by its own share, and by that of the drive where it has
/// none.
#[test]
fn regeneration_has_its_own_share_or_the_drives() {
    let corner = plain(Layout::TwoArms);
    let linkage = linkage(&corner, Side::Left);
    let statics = Statics::new(&corner, &linkage);
    for (own, drive) in [(Some(0.3), 0.8), (None, 0.8), (Some(1.0), 0.0), (None, 0.45)] {
        let vehicle = Vehicle {
            drive_front_share: Some(drive),
            regeneration_front_share: own,
            regeneration_share: Some(1.0),
            ..vehicle()
        };
        for case in [Case::RegenerativeBraking { g: 0.3 }, Case::BlendedBraking { g: 0.3 }] {
            let forward = |axle| -> f64 {
                let loads = statics.loads(&case, &vehicle, axle).expect("all is given");
                loads.iter().map(|load| load.force[0]).sum()
            };
            let [front, rear] = [Axle::Front, Axle::Rear].map(forward);
            close("share", front / (front + rear), own.unwrap_or(drive), 1e-12);
        }
    }
}

/// What is missing is named by the field that, entered, is missing no more: the path leads to the
/// number in the document as it is written.
#[test]
fn what_is_missing_is_a_field_of_the_document() {
    let vehicle = Vehicle { regeneration_share: Some(0.4), ..vehicle() };
    let written = serde_json::to_value(&vehicle).expect("plain data");
    let everything = [Case::BlendedBraking { g: 0.3 }, Case::Driving { g: 0.3 }];
    let missing = |vehicle: &Vehicle| -> Vec<Missing> {
        everything.iter().flat_map(|case| case.missing(vehicle)).collect()
    };
    assert_eq!(missing(&vehicle), vec![]);
    let mut told = missing(&Vehicle::default());
    told.sort_by_key(|one| one.field());
    told.dedup();
    assert_eq!(told.len(), 7, "every number of the vehicle that a case can need: {told:?}");
    for one in told {
        let field = one.field().strip_prefix("vehicle.").expect("a number of the vehicle");
        let mut without = written.clone();
        let number = without.as_object_mut().expect("a vehicle").remove(field);
        assert!(number.is_some_and(|number| number.is_number()), "{field} is no number of the document");
        let without: Vehicle = serde_json::from_value(without).expect("numbers may be absent");
        let lacking = missing(&without);
        assert!(!lacking.is_empty() && lacking.iter().all(|lack| *lack == one), "{field}: {lacking:?}");
    }
}

/// What is missing is named.
#[test]
fn a_case_names_what_it_needs() {
    let corner = plain(Layout::TwoArms);
    let linkage = linkage(&corner, Side::Left);
    let statics = Statics::new(&corner, &linkage);
    let nothing = Vehicle::default();
    let error = statics.loads(&Case::Driving { g: 0.3 }, &nothing, Axle::Front).unwrap_err();
    assert_eq!(error.kind(), "missing");
    assert_eq!(
        error.to_string(),
        "this load case needs the mass of the car, the share of the mass on the front wheels, \
         the height of the centre of gravity, the wheelbase and the share of the driving force at the front wheels"
    );
    let no_height = Vehicle { cg_height: None, ..vehicle() };
    for case in Case::usual() {
        let missing = case.missing(&no_height);
        let needs_height = !matches!(case, Case::Standing {} | Case::Bump { .. });
        assert_eq!(missing, if needs_height { vec![Missing::CgHeight] } else { vec![] });
        assert_eq!(statics.loads(&case, &no_height, Axle::Front).is_err(), needs_height);
    }
    let wild = Load {
        at: LoadPoint::Contact,
        force: [0.0, f64::NAN, 0.0],
        axes: LoadAxes::Vehicle,
        reacted_by: ReactedBy::Knuckle,
    };
    let position = solved(&linkage, State::DESIGN);
    let error = statics.forces(&position, &[wild], &Given::default()).unwrap_err();
    assert!(error.to_string().starts_with("load.force[1] must lie between"), "{error}");
}

/// A load said along the wheel is the one said along the vehicle, turned by the steer angle that
/// the readings give; without a rack and with a toe of zero they are one.
#[test]
fn a_load_along_the_wheel_turns_with_it() {
    let document = example();
    let corner = document.front.as_ref().expect("it is there");
    for side in [Side::Left, Side::Right] {
        let linkage = linkage(corner, side);
        let statics = Statics::new(corner, &linkage);
        for rack in [-40.0, 0.0, 25.0] {
            let position = solved(&linkage, State { travel: 12.0, rack });
            let readings = Reader::new(&linkage, &document.vehicle, Axle::Front).read(&position);
            // Toe turns the left wheel's front to the right, the right wheel's to the left.
            let toe = readings.toe.to_radians();
            let to_the_left = if side == Side::Left { -toe } else { toe };
            let (sine, cosine) = to_the_left.sin_cos();
            let [along, across, up] = [-3100.0, 1700.0, 4400.0];
            let turned = [along * cosine - across * sine, along * sine + across * cosine, up];
            let load =
                |force, axes| Load { at: LoadPoint::Contact, force, axes, reacted_by: ReactedBy::Knuckle };
            for (force, axes) in [([along, across, up], LoadAxes::Wheel), (turned, LoadAxes::Vehicle)] {
                let told = load(force, axes).in_axes_of_vehicle(&linkage, &position);
                close_vectors("in the vehicle's axes", &at(told), &at(turned), 1e-9);
            }
            let of = |force, axes| {
                let load = load(force, axes);
                statics.forces(&position, &[load], &Given::default()).expect("it is held")
            };
            let wheel = of([along, across, up], LoadAxes::Wheel);
            let vehicle = of(turned, LoadAxes::Vehicle);
            for (a, b) in wheel.links.iter().zip(&vehicle.links) {
                assert_eq!(a.id, b.id);
                close("link", a.axial, b.axial, 1e-7);
            }
            let (a, b) = (wheel.rack.expect("it steers"), vehicle.rack.expect("it steers"));
            close("rack", a, b, 1e-7);
            assert!(
                rack == 0.0 || (a - of([along, across, up], LoadAxes::Vehicle).rack.expect("it")).abs() > 1.0
            );
        }
    }
}

/// A wheel that travel lays flat heads nowhere: a force along it stays along the vehicle, on either
/// side of lying flat.
#[test]
fn a_wheel_laid_flat_has_no_heading() {
    // It swings about an axis along the car, 100 mm inboard of its centre and 100 mm above: by a
    // right angle in 200 mm of travel.
    let [radius, height] = [100.0, 500.0];
    let mut corner = Corner::new(Wheel::new([0.0, 800.0, height], 300.0));
    let pivot = |x: f64| [x, 800.0 - radius, height + radius];
    corner.hinge = Some(Hinge { id: "arm".into(), pivots: [pivot(200.0), pivot(-200.0)] });
    let linkage = linkage(&corner, Side::Left);
    for past in [-0.1, 0.0, 0.1] {
        let position = solved(&linkage, State { travel: 2.0 * radius + past, rack: 0.0 });
        let level = spin_axis(&linkage, &position).xy().norm();
        assert!(level < LEAST_HEADING, "{level}");
        let force = [300.0, -200.0, 1000.0];
        let load =
            Load { at: LoadPoint::WheelCentre, force, axes: LoadAxes::Wheel, reacted_by: ReactedBy::Knuckle };
        assert_eq!(load.in_axes_of_vehicle(&linkage, &position), force, "{past} mm past flat");
    }
}

/// A case's number out of its range is refused by its name, before any load is made of it.
#[test]
fn a_case_out_of_range_is_refused() {
    let corner = plain(Layout::TwoArms);
    let linkage = linkage(&corner, Side::Left);
    let statics = Statics::new(&corner, &linkage);
    let of = |bound: &Bound| [bound.most * 1.01, bound.least * 1.01, f64::NAN, f64::INFINITY];
    let by_g = |g| {
        [
            Case::Cornering { g },
            Case::FrictionBraking { g },
            Case::RegenerativeBraking { g },
            Case::BlendedBraking { g },
            Case::Driving { g },
        ]
    };
    let wild = of(&ACCELERATION).into_iter().flat_map(by_g).map(|case| ("case.g", case));
    let bumps = of(&TIMES_STATIC).map(|times| ("case.times", Case::Bump { times }));
    for (field, case) in wild.chain(bumps) {
        match statics.loads(&case, &vehicle(), Axle::Front) {
            Err(ForcesError::OutOfBounds(refused)) => assert_eq!(refused.field, field, "{case:?}"),
            other => panic!("{case:?}: {other:?}"),
        }
    }
}

/// Blended braking is friction and regeneration, each with its share, over one load of the road.
#[test]
fn blended_braking_is_its_two_parts() {
    let mut document = example();
    document.vehicle = vehicle();
    let corner = document.rear.as_mut().or(document.front.as_mut()).expect("a corner");
    corner.drive = Drive::Shaft;
    let corner = corner.clone();
    let axle = if document.rear.is_some() { Axle::Rear } else { Axle::Front };
    let linkage = linkage(&corner, Side::Left);
    let statics = Statics::new(&corner, &linkage);
    for share in [0.0, 0.35, 1.0] {
        let vehicle = Vehicle { regeneration_share: Some(share), ..document.vehicle.clone() };
        let loads = |case: Case| statics.loads(&case, &vehicle, axle).expect("nothing is missing");
        let blended = loads(Case::BlendedBraking { g: 0.6 });
        let friction = loads(Case::FrictionBraking { g: 0.6 });
        let regeneration = loads(Case::RegenerativeBraking { g: 0.6 });
        assert_eq!(blended[0].reacted_by, friction[0].reacted_by);
        close("friction", blended[0].force[0], (1.0 - share) * friction[0].force[0], 1e-9);
        close("load", blended.iter().map(|load| load.force[2]).sum(), friction[0].force[2], 1e-9);
        if share == 0.0 {
            assert_eq!(blended.len(), 1, "friction alone");
            continue;
        }
        assert_eq!((blended.len(), blended[1].reacted_by), (2, regeneration[0].reacted_by));
        close("regeneration", blended[1].force[0], share * regeneration[0].force[0], 1e-9);
    }
    // Where nothing is regenerated nobody need say at which axle.
    let friction_alone = Vehicle {
        regeneration_share: Some(0.0),
        regeneration_front_share: None,
        drive_front_share: None,
        ..document.vehicle.clone()
    };
    assert!(statics.loads(&Case::BlendedBraking { g: 0.6 }, &friction_alone, axle).is_ok());
    assert!(statics.loads(&Case::RegenerativeBraking { g: 0.6 }, &friction_alone, axle).is_err());
    let none = Vehicle { regeneration_share: None, ..document.vehicle.clone() };
    let refused =
        statics.loads(&Case::BlendedBraking { g: 0.6 }, &none, axle).expect_err("a share is missing");
    assert!(refused.to_string().contains("regeneration"), "{refused}");
}
