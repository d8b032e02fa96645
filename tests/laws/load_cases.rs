//! Load cases: what they make of a car, what they need, and whatever is given to them.

use geometry_core::{
    Vec3,
    linkage::Linkage,
    setup::{Axle, Side, Vehicle, example},
    solve::{Follower, Outcome, State},
    statics::{Case, Given, Load, LoadPoint, Missing, ReactedBy, Statics},
};
use proptest::{array::uniform6, prelude::*};

use crate::{
    checking::{at, close, for_all, linkage, solved, vehicle},
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
                loads: vec![Load { at: LoadPoint::Contact, force: [a, b, c], reacted_by: ReactedBy::Shaft }],
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
    let weight = mass * geometry_core::setup::GRAVITY;
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
        Case::Standing,
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
        let needs_height = !matches!(case, Case::Standing | Case::Bump { .. });
        assert_eq!(missing, if needs_height { vec![Missing::CgHeight] } else { vec![] });
        assert_eq!(statics.loads(&case, &no_height, Axle::Front).is_err(), needs_height);
    }
    let wild = Load { at: LoadPoint::Contact, force: [0.0, f64::NAN, 0.0], reacted_by: ReactedBy::Knuckle };
    let position = solved(&linkage, State::DESIGN);
    let error = statics.forces(&position, &[wild], &Given::default()).unwrap_err();
    assert!(error.to_string().starts_with("load.force[1] must lie between"), "{error}");
}
