//! What is said of a reading beside its definition: its formula, what is usual and who says
//! so, what it comes to over a longer travel, what it lacks.

use geometry_core::{
    readings::Quantity,
    setup::{Axle, Corner, Vehicle},
};

use super::input::{Input, Why};
use crate::{
    lengths::INCH,
    numbers::format_number,
    units::{self, System, Unit},
};

/// The formula, in words and signs that a person can read aloud.
#[must_use]
pub fn formula(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Camber => "sin camber = how far the wheel’s axis dips per unit of its length, outward.",
        Quantity::Toe => "tan toe = forward part of the wheel’s axis over its part outward.",
        Quantity::CamberGain => "dγ/dz; nearly one radian over the front-view swing arm.",
        Quantity::BumpSteer => "dδ/dz with the rack held.",
        Quantity::HalfTrackChange => "y of the contact now less y as described, outward.",
        Quantity::WheelbaseChange => "x of the wheel centre now less x as described.",
        Quantity::RollCentreHeight => "half the track × dy/dz of the contact.",
        Quantity::FrontViewSwingArm => "|y of the front-view centre − y of the wheel centre|.",
        Quantity::SideViewSwingArm => "|x of the side-view centre − x of the wheel centre|.",
        Quantity::ContactSlopeX => "dx/dz of the knuckle’s point at the contact.",
        Quantity::ContactSlopeY => "dy/dz of the knuckle’s point at the contact.",
        Quantity::HubSlopeX => "dx/dz of the wheel centre.",
        Quantity::KingpinInclination => "tan inclination = way inward over way up, along the steering axis.",
        Quantity::Caster => "tan caster = way rearward over way up, along the steering axis.",
        Quantity::ScrubRadius => "(contact − axis at the ground) across the wheel’s heading.",
        Quantity::MechanicalTrail => "(axis at the ground − contact) along the wheel’s heading.",
        Quantity::HubOffset => "(wheel centre − axis at its height) across the wheel’s heading.",
        Quantity::HubTrail => "(axis at the wheel centre’s height − wheel centre) along the wheel’s heading.",
        Quantity::ScrewPitch => "advance along the steering axis over angle turned about it.",
        Quantity::SpringLength | Quantity::DamperLength => "distance between both ends, l.",
        Quantity::SpringMotionRatio | Quantity::DamperMotionRatio => "r = −dl/dz, with the length l.",
        Quantity::AntiBrakingFriction => {
            "axle’s share of the braking × dx/dz of the contact × wheelbase over height of the centre of gravity."
        }
        Quantity::AntiBrakingShaft => {
            "axle’s share of the braking × dx/dz of the wheel centre × wheelbase over height of the centre of gravity. \
             Whole car takes regeneration’s own share."
        }
        Quantity::AntiDrivingShaft => {
            "axle’s share of the driving × dx/dz of the wheel centre × wheelbase over height of the centre of gravity."
        }
        Quantity::AntiDrivingHub => {
            "axle’s share of the driving × dx/dz of the contact × wheelbase over height of the centre of gravity."
        }
    }
}

/// What is usual, short enough for the table, and who says so; none where it would only be
/// made up.
#[must_use]
pub fn usual(quantity: Quantity, axle: Axle) -> Option<(String, &'static str)> {
    const PRACTICE: &str = "common practice, no source";
    const REIMPELL: &str =
        "Reimpell, Stoll, Betzler, The Automotive Chassis, 2001, ch. 3, of road cars; from memory";
    let ([low, high], source) = match quantity {
        Quantity::Camber => {
            ([-1.5, 0.0], "road cars; on circuits \u{2212}4 to \u{2212}1.5°; common practice, no source")
        }
        Quantity::KingpinInclination => (
            [11.0, 15.5],
            "Reimpell, Stoll, Betzler, The Automotive Chassis, 2001, ch. 3, of road cars; from memory. Less where \
             links make a virtual axis: common practice, no source",
        ),
        Quantity::Caster => ([3.0, 8.0], PRACTICE),
        Quantity::ScrubRadius => ([-18.0, 20.0], REIMPELL),
        Quantity::MechanicalTrail => ([10.0, 40.0], PRACTICE),
        Quantity::RollCentreHeight => match axle {
            Axle::Front => ([30.0, 100.0], REIMPELL),
            Axle::Rear => ([60.0, 130.0], REIMPELL),
        },
        Quantity::AntiBrakingFriction if axle == Axle::Front => (
            [0.0, 50.0],
            "Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 7: seldom more; from memory",
        ),
        Quantity::SpringMotionRatio => ([0.5, 1.0], PRACTICE),
        _ => return None,
    };
    let scale = super::unit(quantity).here();
    // Sources give mm: of inches one decimal is as good.
    let [low, high] = [low, high].map(|end| scale.short(end, 1));
    Some((scale.beside(&format!("{low} to {high}")), source))
}

/// A rate per mm, or inch, over a travel that a person can picture; none for other units.
#[must_use]
pub fn over_travel(quantity: Quantity, value: f64) -> Option<String> {
    (super::unit(quantity) == Unit::DegreePerMillimetre).then(|| {
        let per = |travel: f64| format_number(travel * value, 2);
        match units::chosen() {
            System::Metric => {
                format!(
                    "At this rate {}° per 100\u{a0}mm of travel, {}° per 25\u{a0}mm.",
                    per(100.0),
                    per(25.0)
                )
            }
            System::Customary => format!("At this rate {}° per 4\u{a0}in of travel.", per(4.0 * INCH)),
        }
    })
}

/// Why a reading of a solved corner does not exist.
#[must_use]
pub fn why_not(quantity: Quantity, corner: &Corner, vehicle: &Vehicle, axle: Axle) -> Why {
    let because = |reason: &str| Why::Because(reason.into());
    let needs = |inputs: &[(Input, bool)]| {
        let missing = inputs.iter().filter(|(_, given)| !given).map(|(input, _)| *input);
        let missing: Vec<Input> = missing.collect();
        if missing.is_empty() {
            because("the contact does not rise with the wheel")
        } else {
            Why::Needs(missing)
        }
    };
    let leverage =
        [(Input::Wheelbase, vehicle.wheelbase.is_some()), (Input::CgHeight, vehicle.cg_height.is_some())];
    let [wheelbase, height] = leverage;
    match quantity {
        Quantity::KingpinInclination
        | Quantity::Caster
        | Quantity::ScrubRadius
        | Quantity::MechanicalTrail
        | Quantity::HubOffset
        | Quantity::HubTrail
        | Quantity::ScrewPitch => {
            if corner.links.iter().any(|link| link.steers) {
                because("steering turns the wheel about no axis here")
            } else {
                Why::Needs(vec![Input::SteeringLink(axle)])
            }
        }
        Quantity::SpringLength | Quantity::SpringMotionRatio => Why::Needs(vec![Input::CoilSpring(axle)]),
        Quantity::DamperLength | Quantity::DamperMotionRatio => Why::Needs(vec![Input::Damper(axle)]),
        Quantity::FrontViewSwingArm | Quantity::SideViewSwingArm => {
            because("lines are parallel: infinitely long")
        }
        Quantity::AntiBrakingFriction | Quantity::AntiBrakingShaft => {
            needs(&[wheelbase, height, (Input::BrakeFrontShare, vehicle.brake_front_share.is_some())])
        }
        Quantity::AntiDrivingShaft | Quantity::AntiDrivingHub => {
            needs(&[wheelbase, height, (Input::DriveFrontShare, vehicle.drive_front_share.is_some())])
        }
        _ => because("the contact does not rise with the wheel"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::setup::example;

    #[test]
    fn only_what_is_missing_is_named() {
        let mut document = example();
        let corner = document.front.take().expect("a front corner");
        let why = |vehicle: &Vehicle, quantity| why_not(quantity, &corner, vehicle, Axle::Front);
        document.vehicle.wheelbase = None;
        assert_eq!(why(&document.vehicle, Quantity::AntiBrakingFriction), Why::Needs(vec![Input::Wheelbase]));
        document.vehicle.drive_front_share = None;
        assert_eq!(
            why(&document.vehicle, Quantity::AntiDrivingHub).words(),
            "needs the wheelbase and the share of the driving at the front"
        );
        // All is given: it is the motion.
        let motion = why(&example().vehicle, Quantity::AntiDrivingHub);
        assert!(matches!(motion, Why::Because(_)), "{motion:?}");
        let steers = why(&document.vehicle, Quantity::Caster);
        assert!(matches!(steers, Why::Because(_)), "a link steers: {steers:?}");
    }

    #[test]
    fn rates_are_said_over_a_longer_travel() {
        let said = over_travel(Quantity::CamberGain, -0.0204).expect("a rate");
        assert_eq!(
            said,
            "At this rate \u{2212}2.04° per 100\u{a0}mm of travel, \u{2212}0.51° per 25\u{a0}mm."
        );
        assert_eq!(over_travel(Quantity::Camber, 1.0), None);
    }
}
