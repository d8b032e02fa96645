//! Constructions: what is drawn fits together, and the shortcut is exact where theory says so.

use geometry_core::{
    Vec3,
    construction::{Basis, Construction, Element, Kind, Member, Method, Role, Scheme, Shape, Straight, View},
    linkage::Linkage,
    readings::{Quantity, Reader, Readings, quantity::Unit},
    setup::{Axle, Corner, Point, Side},
    solve::{Follower, Position, State},
};
use proptest::prelude::*;

use crate::{
    checking::{MOTION, at, close, close_vectors, for_all, leeway, linkage, read, solved, vehicle},
    corners::{ALL, Layout, drawn, plain},
    hostile::document,
};

/// A corner in a position, with its readings.
struct Stood {
    corner: Corner,
    linkage: Linkage,
    position: Position,
    readings: Readings,
}

impl Stood {
    fn new(corner: Corner, side: Side, state: State) -> Self {
        let linkage = linkage(&corner, side);
        let position = solved(&linkage, state);
        let readings = read(&linkage, &position);
        Self { corner, linkage, position, readings }
    }

    fn construct(&self, quantity: Quantity) -> Option<Construction> {
        Construction::of(quantity, &self.corner, &self.linkage, &self.position, &self.readings)
    }

    fn scheme(&self) -> Option<Scheme> {
        Scheme::of(&self.corner, &self.linkage, &self.position)
    }

    /// A shortcut gives the exact value, to what a motion of order one known to `relative`
    /// makes of it.
    #[track_caller]
    fn shortcut_is_exact(&self, quantity: Quantity, relative: f64) {
        let Some(construction) = self.construct(quantity) else { return };
        let shortcut = construction.shortcut.unwrap_or_else(|| panic!("{quantity:?} has no shortcut"));
        let exact = construction.value;
        close(quantity.name(), shortcut.value, exact, leeway(quantity, exact, relative));
    }
}

fn point(element: &Element) -> Vec3 {
    let Shape::Point(at) = element.shape else { panic!("{element:?} is no point") };
    Vec3::from(at)
}

fn segment(element: &Element) -> Option<[Vec3; 2]> {
    let Shape::Segment { from, to } = element.shape else { return None };
    Some([from, to].map(Vec3::from))
}

/// mm: how well a point that far off can be said to lie on a line, its coordinates being held
/// to sixteen digits and quotients by small angles losing as many again as the distance is
/// longer than the parts.
fn far(distance: f64) -> f64 {
    1e-9 * (1.0 + distance / 1000.0).powi(2)
}

#[test]
fn every_reading_has_a_construction_and_no_number_in_it_is_none() {
    for_all(400, &drawn(&ALL), |case| {
        let stood = Stood::new(case.corner, Side::Left, case.state);
        for quantity in Quantity::ALL {
            let construction = stood.construct(quantity);
            assert_eq!(construction.as_ref().map(|c| c.value), quantity.value(&stood.readings));
            let Some(construction) = construction else { continue };
            assert!(!construction.elements.is_empty(), "{quantity:?}");
            all_is_finite(&construction);
            if let Some(shortcut) = construction.shortcut {
                assert_eq!(shortcut.difference, shortcut.value - construction.value);
            }
        }
    });
}

fn all_is_finite(construction: &Construction) {
    for element in &construction.elements {
        assert!(element.shape.numbers().all(f64::is_finite), "{element:?}");
        assert!(!element.views.is_empty(), "{element:?}");
    }
    if let Some(shortcut) = construction.shortcut {
        assert!(shortcut.value.is_finite() && shortcut.difference.is_finite(), "{construction:?}");
    }
}

/// A joint lies in its hold's plane; a virtual pivot stands between two points that lie on
/// the links' lines; what comes nearest does so square to both.
#[test]
fn joints_lie_on_what_makes_them() {
    for_all(400, &drawn(&ALL), |case| {
        let stood = Stood::new(case.corner, Side::Left, case.state);
        let Some(scheme) = stood.scheme() else { return };
        for hold in scheme.holds() {
            let Some(joint) = hold.joint else { continue };
            let allowed = far((joint - hold.plane.point).norm());
            close("joint off its plane", hold.plane.distance(&joint), 0.0, allowed);
            match hold.kind {
                Kind::Arm { corners, .. } => {
                    for corner in &corners {
                        close("corner off the arm's plane", hold.plane.distance(corner), 0.0, 1e-9);
                    }
                }
                Kind::Pair { ends, pivot, .. } => {
                    let pivot = pivot.expect("a pair with a joint has a pivot");
                    let lines = ends.map(|[inboard, outboard]| {
                        Straight::through(&inboard, &outboard).expect("links have a length")
                    });
                    let points = [
                        (pivot.plan.on_first, pivot.nearest.on_first),
                        (pivot.plan.on_second, pivot.nearest.on_second),
                    ];
                    for (line, (over, nearest)) in lines.iter().zip(points) {
                        close("off the line", line.distance(&over), 0.0, allowed);
                        close_vectors("plan", &View::Plan.seen(&over), &View::Plan.seen(&joint), allowed);
                        close("off the line", line.distance(&nearest), 0.0, allowed);
                    }
                    let gap = pivot.nearest.on_second - pivot.nearest.on_first;
                    close("gap", gap.norm(), pivot.nearest.distance, allowed);
                    let mean = 0.5 * (pivot.plan.on_first.z + pivot.plan.on_second.z);
                    close("height", joint.z, mean, allowed);
                }
                Kind::Strut { sliding, .. } => {
                    close("mount off the rod", sliding.distance(&joint), 0.0, 1e-6);
                }
            }
        }
    });
}

/// The centre lies on both holds' lines, which is how a textbook finds it, and on the lines
/// from contact and hub; the roll centre on the line from the contact and from its mirror.
#[test]
fn centres_lie_on_their_lines() {
    for_all(400, &drawn(&ALL), |case| {
        let stood = Stood::new(case.corner, Side::Left, case.state);
        for (quantity, view, role) in [
            (Quantity::FrontViewSwingArm, View::Front, Role::FrontViewCentre),
            (Quantity::SideViewSwingArm, View::Side, Role::SideViewCentre),
        ] {
            let Some(construction) = stood.construct(quantity) else { continue };
            let Some(centre) = construction.having(role, Basis::Shortcut).next().map(point) else { continue };
            let away = (centre - stood.position.wheel_centre()).norm();
            let lines: Vec<Straight> = construction
                .having(Role::HoldLine, Basis::Shortcut)
                .filter_map(segment)
                .filter_map(|[from, to]| Straight::through(&from, &to))
                .collect();
            for line in &lines {
                close("centre off a hold's line", line.distance(&centre), 0.0, far(away));
            }
            if let Some(scheme @ Scheme::Holds { .. }) = stood.scheme() {
                // The crossing of both traces, found in the view alone.
                let traces: Vec<Straight> = scheme
                    .holds()
                    .filter_map(|hold| hold.plane.trace(view, &stood.position.wheel_centre()))
                    .collect();
                let crossing = traces[0].crossing(&traces[1], view).expect("the centre is not far");
                close_vectors("crossing", &crossing.middle(), &centre, far(away));
            }
        }
        let Some(construction) = stood.construct(Quantity::RollCentreHeight) else { return };
        for basis in [Basis::Exact, Basis::Shortcut] {
            let lines: Vec<[Vec3; 2]> =
                construction.having(Role::LineFromContact, basis).filter_map(segment).collect();
            for roll_centre in construction.having(Role::RollCentre, basis).map(point) {
                close("roll centre off the middle", roll_centre.y, 0.0, 0.0);
                for [from, to] in &lines {
                    let reach = (to - from).norm().max((roll_centre - from).norm());
                    if let Some(line) = Straight::through(from, to) {
                        close("roll centre off a line", line.distance(&roll_centre), 0.0, far(reach));
                    }
                }
            }
        }
    });
}

/// The shortcut's axis goes through both joints, each axis through its feet; the offsets lead
/// from the axis to the contact.
#[test]
fn feet_and_joints_lie_on_their_axes() {
    for_all(300, &drawn(&ALL), |case| {
        let stood = Stood::new(case.corner, Side::Left, case.state);
        let Some(construction) = stood.construct(Quantity::ScrubRadius) else { return };
        let trail = stood.construct(Quantity::MechanicalTrail).expect("a steered wheel has both");
        for basis in [Basis::Exact, Basis::Shortcut] {
            let Some(axis) = construction.having(Role::SteeringAxis, basis).next() else { continue };
            let Shape::Axis { point: on, direction, .. } = axis.shape else { panic!("{axis:?}") };
            let axis = Straight { point: at(on), direction: at(direction) };
            for role in [Role::GroundFoot, Role::HubFoot] {
                for foot in construction.having(role, basis).map(point) {
                    close("foot off the axis", axis.distance(&foot), 0.0, 1e-9);
                }
            }
            let ends = |construction: &Construction, role| {
                let element = construction.having(role, basis).next().expect("it is measured").clone();
                let Shape::Dimension { from, to, .. } = element.shape else { panic!("{element:?}") };
                [at(from), at(to)]
            };
            let [start, corner] = ends(&construction, Role::OffsetAcross);
            let [contact, same_corner] = ends(&trail, Role::OffsetAlong);
            close("start off the axis", axis.distance(&start), 0.0, 1e-9);
            close_vectors("corner", &corner, &same_corner, 1e-9);
            close_vectors("contact", &contact, &at(stood.readings.contact), 1e-8);
            if basis == Basis::Shortcut {
                for hold in stood.scheme().expect("it has a shortcut").holds() {
                    let joint = hold.joint.expect("the axis goes through both joints");
                    close("joint off the axis", axis.distance(&joint), 0.0, far(joint.norm()));
                }
            }
        }
    });
}

/// On a hinge there is nothing to leave out: the line through the pivots is the axis, at
/// every travel. (Camber gain and the contact's slopes are left out: with toe and camber the
/// contact is not in the plane that the textbook draws.)
#[test]
fn the_shortcut_of_a_hinge_is_exact() {
    for_all(200, &drawn(&[Layout::SemiTrailing, Layout::Trailing]), |mut case| {
        case.corner.spring.as_mut().expect("a spring is drawn").on = "hinge".into();
        let stood = Stood::new(case.corner, Side::Left, case.state);
        for quantity in [
            Quantity::FrontViewSwingArm,
            Quantity::SideViewSwingArm,
            Quantity::HubSlopeX,
            Quantity::BumpSteer,
            Quantity::AntiBrakingShaft,
            Quantity::AntiDrivingShaft,
            Quantity::SpringMotionRatio,
            Quantity::DamperMotionRatio,
        ] {
            stood.shortcut_is_exact(quantity, MOTION);
        }
    });
}

/// A corner on which the shortcut has no error: the lines of each pair meet, the single
/// link's line meets the instant axis, the wheel stands upright and straight, and what a link
/// carries lies on its line. `None` where the drawn corner cannot be made so.
fn made_exact(mut corner: Corner) -> Option<Corner> {
    corner.wheel.camber = 0.0;
    corner.wheel.toe = 0.0;
    let design = |corner: &Corner| {
        let linkage = Linkage::new(corner, Side::Left).ok()?;
        let position = *Follower::new(&linkage).position();
        Scheme::of(corner, &linkage, &position)
    };
    let towards = |corner: &mut Corner, index: usize, through: Vec3| {
        let link = &mut corner.links[index];
        let (inboard, outboard) = (at(link.inboard), at(link.outboard));
        let direction = (outboard - through).normalize();
        let length = (inboard - outboard).dot(&direction);
        link.inboard = (outboard + length * direction).into();
        (length.abs() > 0.5 * (inboard - outboard).norm() && (outboard - through).norm() > 1.0).then_some(())
    };
    for hold in design(&corner)?.holds() {
        if let Kind::Pair { links, pivot, .. } = &hold.kind {
            towards(&mut corner, links[1], pivot.as_ref()?.plan.on_first)?;
        }
    }
    let scheme = design(&corner)?;
    if let Scheme::Holds { single, .. } = &scheme {
        let axis = scheme.instant_axis()?;
        towards(&mut corner, single.index, single.line.nearest(&axis)?.on_second)?;
    }
    let links = corner.links.clone();
    let on_the_line = |on: &str, carried: &mut Point| {
        if let Some(link) = links.iter().find(|link| link.id == on) {
            let line = Straight::through(&at(link.inboard), &at(link.outboard)).expect("links have a length");
            *carried = line.foot(&at(*carried)).into();
        }
    };
    if let Some(spring) = &mut corner.spring {
        on_the_line(&spring.on, &mut spring.carried);
    }
    if let Some(damper) = &mut corner.damper {
        on_the_line(&damper.on, &mut damper.carried);
    }
    Some(corner)
}

/// Rotation about the line in which both holds' planes cut each other is what every pencil of
/// lines through a joint in such a plane allows, and what a link does whose line meets it.
#[test]
fn the_shortcut_of_the_instant_axis_is_exact_where_the_single_link_meets_it() {
    let mut made = 0;
    let counted = std::cell::RefCell::new(&mut made);
    for_all(400, &drawn(&ALL), |case| {
        let Some(corner) = made_exact(case.corner) else { return };
        let Ok(linkage) = Linkage::new(&corner, Side::Left) else { return };
        if Follower::new(&linkage).position().least_pivot() < 0.02 {
            return;
        }
        let stood = Stood::new(corner, Side::Left, State::DESIGN);
        for quantity in [
            Quantity::FrontViewSwingArm,
            Quantity::SideViewSwingArm,
            Quantity::CamberGain,
            Quantity::BumpSteer,
            Quantity::RollCentreHeight,
            Quantity::ContactSlopeX,
            Quantity::ContactSlopeY,
            Quantity::HubSlopeX,
            Quantity::SpringMotionRatio,
            Quantity::DamperMotionRatio,
            Quantity::AntiBrakingFriction,
            Quantity::AntiBrakingShaft,
            Quantity::AntiDrivingShaft,
            Quantity::AntiDrivingHub,
        ] {
            stood.shortcut_is_exact(quantity, 10.0 * MOTION);
        }
        // The gap that the bump-steer drawing measures is what was closed.
        let bump_steer = stood.construct(Quantity::BumpSteer).expect("every corner has it");
        for element in bump_steer.having(Role::Gap, Basis::Shortcut) {
            let Shape::Dimension { value, unit: Unit::Millimetre, .. } = element.shape else { panic!() };
            close("gap", value, 0.0, 1e-6);
        }
        **counted.borrow_mut() += 1;
    });
    assert!(made > 200, "only {made} corners could be made exact");
}

/// And the counterpart, so that the law above is known to be able to fail.
#[test]
fn a_single_link_that_misses_the_axis_makes_a_difference() {
    let mut corner = plain(Layout::TwoArms);
    corner.links[0].inboard[2] += 20.0;
    let stood = Stood::new(corner, Side::Left, State::DESIGN);
    for quantity in [Quantity::BumpSteer, Quantity::FrontViewSwingArm, Quantity::RollCentreHeight] {
        let construction = stood.construct(quantity).expect("it has one");
        let shortcut = construction.shortcut.expect("two arms have a shortcut");
        assert_eq!(shortcut.method, Method::HoldPlanes);
        assert!(shortcut.difference.abs() > 1e-3 * construction.value.abs(), "{quantity:?} {shortcut:?}");
    }
}

/// With the spring on an arm, its ball joint rests while the wheel steers, and so does the
/// other joint: ball joint or top mount.
#[test]
fn the_line_through_both_joints_is_the_steering_axis_with_the_spring_on_an_arm() {
    for_all(300, &drawn(&[Layout::TwoArms, Layout::StrutAndArm]), |mut case| {
        let arm = case.corner.arms[0].clone();
        let spring = case.corner.spring.as_mut().expect("a spring is drawn");
        spring.carried = std::array::from_fn(|i| {
            0.35 * 0.5 * (arm.front_pivot[i] + arm.rear_pivot[i]) + 0.65 * arm.ball_joint[i]
        });
        spring.body = [spring.carried[0] + 20.0, spring.carried[1] - 60.0, spring.carried[2] + 300.0];
        spring.on = arm.id;
        let stood = Stood::new(case.corner, Side::Left, case.state);
        for quantity in [
            Quantity::KingpinInclination,
            Quantity::Caster,
            Quantity::ScrubRadius,
            Quantity::MechanicalTrail,
            Quantity::HubOffset,
            Quantity::HubTrail,
            Quantity::ScrewPitch,
        ] {
            stood.shortcut_is_exact(quantity, MOTION);
        }
    });
}

/// Links end near each other by twos; which stands first in the document says nothing.
#[test]
fn pairs_are_found_whatever_the_order_of_the_links() {
    let layouts = &[Layout::FourLinksAndTieRod, Layout::StrutAndLinks, Layout::ArmAndSplitLinks];
    let strategy = (drawn(layouts), any::<prop::sample::Index>());
    for_all(200, &strategy, |(mut case, index)| {
        let pairs = |corner: &Corner| {
            let stood = Stood::new(corner.clone(), Side::Left, State::DESIGN);
            let scheme = stood.scheme().expect("a steering link is single");
            let mut names: Vec<Vec<String>> = scheme
                .holds()
                .map(|hold| {
                    let members: Vec<Member> = hold.members();
                    let name = |member: &Member| member.id(corner).expect("members have names").to_owned();
                    let mut names: Vec<String> = members.iter().map(name).collect();
                    names.sort();
                    names
                })
                .collect();
            names.sort();
            names
        };
        let before = pairs(&case.corner);
        assert!(before.contains(&vec!["lower-forward".into(), "lower-lateral".into()]), "{before:?}");
        let count = case.corner.links.len();
        case.corner.links.rotate_left(index.index(count));
        assert_eq!(pairs(&case.corner), before);
    });
}

/// Five links of which none steers are read as pairs and a toe link where that is clear, and
/// not at all where their ends stand evenly about the hub.
#[test]
fn five_links_without_an_order_have_no_shortcut() {
    let stood = Stood::new(plain(Layout::FiveLinks), Side::Left, State::DESIGN);
    let Some(Scheme::Holds { single, .. }) = stood.scheme() else { panic!("two pairs and a toe link") };
    assert_eq!(stood.corner.links[single.index].id, "tie-rod");

    let mut corner = plain(Layout::FiveLinks);
    let centre = corner.wheel.centre;
    for (i, link) in corner.links.iter_mut().enumerate() {
        let angle = [0.3, 1.55, 2.8, 4.05, 5.3][i];
        link.outboard = [centre[0] + 160.0 * f64::cos(angle), 715.0, centre[2] + 160.0 * f64::sin(angle)];
    }
    let stood = Stood::new(corner, Side::Left, State::DESIGN);
    assert_eq!(stood.scheme(), None);
    for quantity in [Quantity::FrontViewSwingArm, Quantity::RollCentreHeight, Quantity::BumpSteer] {
        let construction = stood.construct(quantity).expect("the exact one is always there");
        assert_eq!(construction.shortcut, None, "{quantity:?}");
        assert!(construction.having(Role::HoldLine, Basis::Shortcut).next().is_none());
    }
}

#[test]
fn a_mirrored_corner_has_a_mirrored_construction() {
    for_all(200, &drawn(&ALL), |case| {
        let left = Stood::new(case.corner.clone(), Side::Left, case.state);
        let right = Stood::new(case.corner.mirrored(), Side::Right, case.state);
        for quantity in Quantity::ALL {
            let (Some(found), Some(expected)) = (right.construct(quantity), left.construct(quantity)) else {
                continue;
            };
            let sign = match quantity {
                Quantity::ScrewPitch | Quantity::ContactSlopeY => -1.0,
                _ => 1.0,
            };
            let (found_shortcut, expected_shortcut) = (found.shortcut, expected.shortcut);
            if let (Some(found), Some(expected)) = (found_shortcut, expected_shortcut) {
                assert_eq!(found.method, expected.method);
                let expected = sign * expected.value;
                close(quantity.name(), found.value, expected, leeway(quantity, expected, MOTION));
            }
            let roles = |construction: &Construction| {
                construction.elements.iter().map(|e| (e.role, e.basis, e.views)).collect::<Vec<_>>()
            };
            assert_eq!(roles(&found), roles(&expected), "{quantity:?}");
            for (found, expected) in found.elements.iter().zip(&expected.elements) {
                if let (Shape::Point(found), Shape::Point(expected)) = (&found.shape, &expected.shape) {
                    let mirrored = Vec3::new(expected[0], -expected[1], expected[2]);
                    let allowed = 100.0 * far(mirrored.norm()) + 1000.0 * MOTION;
                    close_vectors(quantity.name(), &at(*found), &mirrored, allowed);
                }
            }
        }
    });
}

/// Whatever is handed in, even what does not belong together: no panic, no NaN.
#[test]
fn constructions_survive_hostile_corners() {
    for_all(1500, &document(), |(document, states)| {
        let vehicle = if document.check().is_ok() { document.vehicle.clone() } else { vehicle() };
        for axle in [Axle::Front, Axle::Rear] {
            let Some(corner) = document.corner(axle) else { continue };
            let Ok(linkage) = Linkage::new(corner, Side::Left) else { continue };
            let reader = Reader::new(&linkage, &vehicle, axle);
            let mut follower = Follower::new(&linkage);
            for state in &states {
                // Solved or not, the follower stands somewhere that can be drawn.
                let _ = follower.go_to(*state);
                let position = follower.position();
                let readings = reader.read(position);
                for corner in [Some(corner), document.front.as_ref(), document.rear.as_ref()] {
                    let Some(corner) = corner else { continue };
                    for quantity in Quantity::ALL {
                        let found = Construction::of(quantity, corner, &linkage, position, &readings);
                        assert_eq!(found.is_some(), quantity.value(&readings).is_some());
                        found.iter().for_each(all_is_finite);
                    }
                }
            }
        }
    });
}
