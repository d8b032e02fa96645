//! Poses of a general multibody engine, and forces: those of free bodies against the
//! engine's, and both against the core's motions by virtual work.

use geometry_core::{
    Vec3,
    readings::{Reader, spin_axis, steering_twist},
    screw::Wrench,
    setup::{Axle, Point, Vehicle},
    solve::{Follower, Position, State},
    statics::{Given, Load, LoadAxes, LoadPoint, ReactedBy, Statics},
};
use serde_json::Value;

use crate::compared::{Largest, case, corner, data, linkage, list, number, text, vector};

/// mm and, for the rotation, mm per mm: the engine's Newton ends at 1e-9 of its residuals,
/// which are lengths.
const POSE: f64 = 1e-9;
/// N: two solutions of equilibrium, of forces of some kN, at places known to 1e-10 mm.
const FORCE: f64 = 1e-7;

fn state(value: &Value) -> State {
    State { travel: number(&value["travel"]), rack: number(&value["rack"]) }
}

fn place(value: &Value) -> String {
    format!("{}, travel {}, rack {}", text(&value["case"]), value["travel"], value["rack"])
}

#[test]
fn poses_are_those_of_a_multibody_engine() {
    let (corners, file) = (data("corners.json"), data("exudyn.json"));
    let mut largest = Largest::default();
    for expected in list(&file["results"]) {
        let linkage = linkage(case(&corners, &expected["case"]));
        let position = cornerwise_tests::go(&mut Follower::new(&linkage), state(expected));
        let centre = (position.wheel_centre() - vector(&expected["wheel_centre"])).amax();
        largest.note("wheel centre", &place(expected), centre);
        for (row, expected_row) in list(&expected["rotation"]).iter().enumerate() {
            let found = position.rotation().row(row).transpose();
            largest.note("rotation", &place(expected), (found - vector(expected_row)).amax());
        }
    }
    largest.check("exudyn", |_| POSE);
}

#[test]
fn forces_of_free_bodies_are_those_of_the_engine() {
    let (engine, bodies) = (data("exudyn.json"), data("statics.json"));
    let mut largest = Largest::default();
    for result in list(&engine["results"]) {
        for found in result["forces"].as_array().into_iter().flatten() {
            let same = |other: &&Value| {
                ["case", "travel", "rack"].iter().all(|key| other[*key] == result[*key])
                    && other["load"] == found["load"]
            };
            let expected = list(&bodies["results"]).iter().find(same).expect("the same load on free bodies");
            for (name, found) in found.as_object().expect("named forces") {
                let place = place(result);
                match name.as_str() {
                    "load" => {}
                    "links" => {
                        for (id, tension) in found.as_object().expect("links by name") {
                            let expected = &expected["links"][id]["tension"];
                            largest.compare("tension of a link", &place, tension, expected);
                        }
                    }
                    name => largest.compare(name, &place, found, &expected[name]),
                }
            }
        }
    }
    largest.check("exudyn and free bodies", |_| FORCE);
}

/// The load of a result, on the knuckle.
fn load(load: &Value, position: &Position, contact: &Vec3, spin: &Vec3) -> Wrench {
    let (centre, force) = (position.wheel_centre(), vector(&load["force"]));
    match text(&load["at"]) {
        "contact" => Wrench::at_point(contact, force),
        "centre" => Wrench::at_point(&centre, force),
        "rolling" => {
            let moment = (contact - centre).cross(&force);
            let moment = moment - moment.dot(spin) * spin;
            Wrench::at_point(&centre, force).plus(&Wrench { force: Vec3::zeros(), moment })
        }
        other => panic!("a load at {other}"),
    }
}

/// The spring's force times its motion ratio is the load's power on the travel motion; the
/// force on the rack is its power on the steering motion.
#[test]
fn forces_of_free_bodies_are_powers_on_the_motions() {
    let (corners, file) = (data("corners.json"), data("statics.json"));
    let mut largest = Largest::default();
    for expected in list(&file["results"]) {
        let linkage = linkage(case(&corners, &expected["case"]));
        let position = cornerwise_tests::go(&mut Follower::new(&linkage), state(expected));
        let readings = Reader::new(&linkage, &Vehicle::default(), Axle::Front).read(&position);
        let spin = spin_axis(&linkage, &position);
        let load = load(&expected["load"], &position, &readings.contact.into(), &spin);
        // A link that goes by the smallest turn has its forces with it.
        let forces =
            if expected["smallest_turn"].is_object() { &expected["smallest_turn"] } else { expected };
        let spring = linkage.spring_at(&position).expect("every case has a spring");
        let power = position.travel_twist().power(&load) - number(&forces["spring"]) * spring.per_travel;
        largest.note("spring", &place(expected), power.abs());
        match (steering_twist(&linkage, &position), forces.get("rack_force")) {
            (Some(steering), Some(rack)) => {
                let difference = steering.power(&load) - number(rack);
                largest.note("rack", &place(expected), difference.abs());
            }
            (None, None) => {}
            (_, rack) => panic!("steering motion and rack force {rack:?} go together"),
        }
    }
    largest.check("free bodies", |_| FORCE);
}

/// Every force that the core's statics finds, member by member, against the free bodies.
#[test]
fn forces_in_every_member_are_those_of_free_bodies() {
    let (corners, file) = (data("corners.json"), data("statics.json"));
    let mut largest = Largest::default();
    for expected in list(&file["results"]) {
        let case = case(&corners, &expected["case"]);
        let (corner, linkage, place) = (corner(case), linkage(case), place(expected));
        let position = cornerwise_tests::go(&mut Follower::new(&linkage), state(expected));
        let load = &expected["load"];
        let force: Point = vector(&load["force"]).into();
        let (at, reacted_by) = match text(&load["at"]) {
            "contact" => (LoadPoint::Contact, ReactedBy::Knuckle),
            "centre" => (LoadPoint::WheelCentre, ReactedBy::Knuckle),
            _ => (LoadPoint::Contact, ReactedBy::Nothing),
        };
        let found = Statics::new(&corner, &linkage)
            .forces(&position, &[Load { at, force, axes: LoadAxes::Vehicle, reacted_by }], &Given::default())
            .expect("a corner in its working range is held");
        let forces =
            if expected["smallest_turn"].is_object() { &expected["smallest_turn"] } else { expected };
        let mut compare = |name: &str, found: f64, expected: &serde_json::Value| {
            largest.note(name, &place, (found - number(expected)).abs());
        };
        compare("spring", found.spring.expect("every case has a spring"), &forces["spring"]);
        if let Some(rack) = found.rack {
            compare("rack", rack, &forces["rack_force"]);
        }
        for link in &found.links {
            let expected = &forces["links"][&link.id];
            compare("tension of a link", link.axial, &expected["tension"]);
            for (end, found) in [("on_knuckle", link.on_knuckle), ("on_body", link.on_body)] {
                for (i, found) in found.into_iter().enumerate() {
                    compare("ends of a link", found, &expected[end][i]);
                }
            }
        }
        for arm in &found.arms {
            for (i, found) in arm.on_knuckle.into_iter().enumerate() {
                compare("ball joint", found, &forces["arms"][&arm.id][i]);
            }
        }
        if let Some(strut) = &found.strut {
            // There the force on the knuckle, here the one on the body.
            for (i, found) in strut.across.into_iter().enumerate() {
                compare("top mount", -found, &forces["strut"][i]);
            }
        }
    }
    largest.check("free bodies and statics", |_| FORCE);
}
