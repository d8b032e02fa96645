//! Every layout assembles, and its readings lie where the module says.

use geometry_core::{
    linkage::Linkage,
    readings::{Reader, Readings, Steering},
    setup::{Document, Side, VERSION, Vehicle},
    solve::{Follower, Outcome, State},
};

use super::*;
use crate::sharing::{decode, encode};

const WHEELBASE: f64 = 2_560.0;
const AXLES: [Axle; 2] = [Axle::Front, Axle::Rear];

fn document(preset: Preset) -> Document {
    Document {
        cornerwise: VERSION,
        title: preset.name().into(),
        note: preset.description().into(),
        vehicle: Vehicle { wheelbase: Some(WHEELBASE), ..Vehicle::default() },
        front: Some(preset.corner(Axle::Front, WHEELBASE)),
        rear: Some(preset.corner(Axle::Rear, WHEELBASE)),
        front_right: None,
        rear_right: None,
    }
}

fn readings(corner: &Corner, axle: Axle, state: State) -> Readings {
    let linkage = Linkage::new(corner, Side::Left).expect("a preset assembles");
    let outcome = Follower::new(&linkage).go_to(state);
    let Outcome::Solved(position) = outcome else { panic!("{state:?} is not reached: {outcome:?}") };
    Reader::new(&linkage, &Vehicle::default(), axle).read(&position)
}

fn lies(preset: Preset, what: &str, value: f64, least: f64, most: f64) {
    assert!((least..=most).contains(&value), "{preset:?}: {what} is {value}, not in {least} to {most}");
}

#[test]
fn every_layout_removes_five_freedoms_and_is_in_range() {
    for preset in Preset::ALL {
        let document = document(preset);
        assert_eq!(document.check(), Ok(()), "{preset:?}");
        assert_eq!(decode(&encode(&document)), Ok(document), "{preset:?}");
        for axle in AXLES {
            let corner = preset.corner(axle, WHEELBASE);
            assert_eq!(corner.freedoms_removed(), 5, "{preset:?}");
            assert!(Linkage::new(&corner, Side::Left).is_ok(), "{preset:?} {axle:?}");
        }
    }
}

#[test]
fn readings_at_rest_lie_where_the_module_says() {
    for preset in Preset::ALL {
        for axle in AXLES {
            let read = readings(&preset.corner(axle, WHEELBASE), axle, State::DESIGN);
            lies(preset, "roll centre", read.roll_centre_height.expect("finite"), 20.0, 140.0);
            lies(preset, "camber gain", read.camber_gain, -0.05, -0.005);
            lies(preset, "bump steer", read.bump_steer, -0.01, 0.01);
            lies(preset, "spring ratio", read.spring.expect("a spring").motion_ratio, 0.5, 1.0);
            lies(preset, "height of the contact", read.contact[2], -0.5, 0.5);
            let steered = axle == Axle::Front && preset != Preset::SemiTrailing;
            assert_eq!(read.steering.is_some(), steered, "{preset:?} {axle:?}");
            if let Some(Steering { kingpin_inclination, caster, scrub_radius, mechanical_trail, .. }) =
                read.steering
            {
                lies(preset, "kingpin inclination", kingpin_inclination, 6.0, 14.0);
                lies(preset, "caster", caster, 3.0, 8.0);
                lies(preset, "scrub radius", scrub_radius, -15.0, 30.0);
                lies(preset, "trail", mechanical_trail, 5.0, 40.0);
            }
        }
    }
}

#[test]
fn travel_and_rack_reach_far_enough() {
    for preset in Preset::ALL {
        for axle in AXLES {
            let corner = preset.corner(axle, WHEELBASE);
            for travel in [-60.0, 0.0, 60.0] {
                for rack in [-40.0, 0.0, 40.0] {
                    let read = readings(&corner, axle, State { travel, rack });
                    lies(preset, "camber", read.camber, -8.0, 8.0);
                    if rack == 0.0 {
                        lies(preset, "toe", read.toe, -0.6, 0.6);
                    }
                }
            }
        }
    }
}

#[test]
fn a_tie_rod_keeps_the_toe_over_the_whole_travel() {
    for preset in Preset::ALL {
        let corner = preset.corner(Axle::Front, WHEELBASE);
        if !corner.links.iter().any(|link| link.steers) {
            continue;
        }
        for travel in [-60.0, -30.0, 30.0, 60.0] {
            let read = readings(&corner, Axle::Front, State { travel, rack: 0.0 });
            lies(preset, "toe", read.toe, 0.02, 0.08);
        }
    }
}

#[test]
fn the_rear_corner_is_the_front_one_moved_and_not_steered() {
    for preset in Preset::ALL {
        let (front, rear) = (preset.corner(Axle::Front, 2_000.0), preset.corner(Axle::Rear, 2_000.0));
        let mut moved = front.points();
        for (_, point) in &mut moved {
            point[0] -= 2_000.0;
        }
        assert_eq!(moved, rear.points(), "{preset:?}");
        assert!(rear.links.iter().all(|link| !link.steers && link.id != TIE_ROD));
    }
}

#[test]
fn a_wheelbase_that_is_no_length_gives_a_corner_that_is_refused() {
    for wheelbase in [f64::NAN, f64::INFINITY, -1e300] {
        assert!(Preset::TwoArms.corner(Axle::Rear, wheelbase).check().is_err());
    }
}
