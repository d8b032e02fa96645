//! The two motions themselves: turning and velocity per mm of travel and of rack.

use geometry_core::solve::{Follower, State};

use crate::compared::{Largest, case, data, linkage, list, number, text, vector};

/// Per mm; velocities at the origin, up to 2.7 m from the wheel, so that 1e-14 rad/mm are
/// 3e-11 mm/mm.
const TWIST: f64 = 1e-10;

#[test]
fn twists_are_those_of_the_constraints_derived_automatically() {
    let (corners, file) = (data("corners.json"), data("casadi.json"));
    let mut largest = Largest::default();
    for expected in list(&file["results"]) {
        let linkage = linkage(case(&corners, &expected["case"]));
        let state = State { travel: number(&expected["travel"]), rack: number(&expected["rack"]) };
        let position = cornerwise_tests::go(&mut Follower::new(&linkage), state);
        for (name, twist) in [("travel", position.travel_twist()), ("rack", position.rack_twist())] {
            let place = format!("{}, {state:?}", text(&expected["case"]));
            let expected = &expected["twists"][name];
            let turning = (twist.angular - vector(&expected["angular"])).amax();
            let moving = (twist.linear - vector(&expected["linear"])).amax();
            largest.note(&format!("{name} motion, turning"), &place, turning);
            largest.note(&format!("{name} motion, velocity at the origin"), &place, moving);
        }
    }
    largest.check("casadi", |_| TWIST);
}
