//! Every body of a corner cut free: who pushes whom, and whether each is in balance.

use alloc::{vec, vec::Vec};

use super::{
    Acting, ArmForces, Forces, HingeForces, LinkForces, PivotForces, RockerForces, StrutForces, Support,
};
use crate::{
    Vec3,
    bounds::MOMENT_SCALE,
    carried::Length,
    closure::Constraint,
    float::norm,
    linkage::{Carried, Led, Linkage, Member},
    screw::Wrench,
    setup::{Corner, Point},
    solve::Position,
};

/// A body of the corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Knuckle,
    Arm(usize),
    Link(usize),
    Rocker,
    /// The anti-roll bar's half.
    Bar,
}

const NOTHING: Wrench = Wrench { force: Vec3::new(0.0, 0.0, 0.0), moment: Vec3::new(0.0, 0.0, 0.0) };

/// What acts on each body, moments about the wheel centre, N and N·mm.
struct Bodies<'a> {
    corner: &'a Corner,
    position: &'a Position,
    centre: Vec3,
    knuckle: Wrench,
    arms: Vec<Wrench>,
    links: Vec<Wrench>,
    rocker: Wrench,
    bar: Wrench,
    /// What the corner pushes the body with.
    body: Wrench,
    /// Force of each arm and link on the knuckle.
    by_arm: Vec<Vec3>,
    by_link: Vec<Vec3>,
    /// Moment on the rocker about its axis, but the rod's, N·mm.
    on_rocker: f64,
    /// The largest force, and moment over the scale, that acts anywhere.
    largest: f64,
}

impl<'a> Bodies<'a> {
    /// The bodies of a corner on which nothing acts yet.
    fn free(corner: &'a Corner, position: &'a Position) -> Self {
        Self {
            corner,
            position,
            centre: position.wheel_centre(),
            knuckle: NOTHING,
            arms: vec![NOTHING; corner.arms.len()],
            links: vec![NOTHING; corner.links.len()],
            rocker: NOTHING,
            bar: NOTHING,
            body: NOTHING,
            by_arm: vec![Vec3::zeros(); corner.arms.len()],
            by_link: vec![Vec3::zeros(); corner.links.len()],
            on_rocker: 0.0,
            largest: 0.0,
        }
    }

    fn part(&self, on: &str) -> Part {
        let corner = self.corner;
        if let Some(i) = corner.arms.iter().position(|arm| arm.id == on) {
            Part::Arm(i)
        } else if let Some(i) = corner.links.iter().position(|link| link.id == on) {
            Part::Link(i)
        } else if corner.rocker.as_ref().is_some_and(|rocker| rocker.id == on) {
            Part::Rocker
        } else {
            Part::Knuckle
        }
    }

    /// What acts on a part; `None` where the corner has no such part.
    fn sum(&mut self, part: Part) -> Option<&mut Wrench> {
        match part {
            Part::Knuckle => Some(&mut self.knuckle),
            Part::Arm(i) => self.arms.get_mut(i),
            Part::Link(i) => self.links.get_mut(i),
            Part::Rocker => Some(&mut self.rocker),
            Part::Bar => Some(&mut self.bar),
        }
    }

    fn wrench(&self, at: &Vec3, force: Vec3) -> Wrench {
        Wrench::at_point(&(at - self.centre), force)
    }

    /// A wrench on a part.
    fn act(&mut self, part: Part, wrench: &Wrench) {
        self.largest = self.largest.max(norm(&wrench.force)).max(norm(&wrench.moment) / MOMENT_SCALE);
        if let Some(sum) = self.sum(part) {
            *sum = sum.plus(wrench);
        }
    }

    /// A wrench of a part on the body: the body pushes the part back.
    fn bear(&mut self, part: Part, wrench: &Wrench) {
        self.body = self.body.plus(wrench);
        self.act(part, &opposite(wrench));
    }

    /// A force on a carried point, and what its carrier does with it.
    fn push(&mut self, carried: &Carried, part: Part, at: &Vec3, force: Vec3) {
        let wrench = self.wrench(at, force);
        self.act(part, &wrench);
        match (part, carried) {
            // The carrier passes on to its outboard joint what would move it.
            (Part::Arm(i), _) => add(&mut self.by_arm, i, carried.pull_back(self.position, &force).force),
            (Part::Link(i), _) => add(&mut self.by_link, i, carried.pull_back(self.position, &force).force),
            (Part::Rocker, Carried::Rocker { led, .. }) => {
                self.on_rocker += led.axis.dot(&(at - led.foot).cross(&force));
            }
            _ => {}
        }
    }

    /// A spring or damper that pushes its ends apart.
    fn telescope(&mut self, carried: &Carried, on: &str, length: &Length, size: f64) {
        let force = size * length.direction();
        let part = self.part(on);
        self.push(carried, part, &length.carried, force);
        let back = self.wrench(&length.body, -force);
        self.body = self.body.plus(&back);
    }

    /// A rod that balances a moment on the part it leads: its axial force, + tension.
    fn rod(&mut self, led: &Led, part: Part, on: &str, moment: f64) -> Option<f64> {
        let (rod, per_moment) = led.pull(self.position)?;
        let force = moment * per_moment;
        let back = self.wrench(&rod.joint, -force);
        self.act(part, &back);
        let carrier = self.part(on);
        self.push(&led.carried, carrier, &rod.carried, force);
        let along = rod.carried - rod.joint;
        Some(-force.dot(&along) / norm(&along))
    }

    /// What two pivots must hold a part with is what the part pushes the body with.
    fn pivots(&mut self, part: Part, first: &Vec3, second: &Vec3) -> Option<PivotForces> {
        let wrench = *self.sum(part)?;
        let forces = self.split(&wrench, first, second);
        for (at, force) in [(first, forces.first), (second, forces.second), (second, forces.along)] {
            let wrench = self.wrench(at, Vec3::from(force));
            self.bear(part, &wrench);
        }
        Some(forces)
    }

    /// A wrench (about the wheel centre) shared between two points of an axis.
    fn split(&self, wrench: &Wrench, first: &Vec3, second: &Vec3) -> PivotForces {
        let along = second - first;
        let length = norm(&along);
        let axis = along / length;
        let at_first = wrench.moment - (first - self.centre).cross(&wrench.force);
        let on_second = at_first.cross(&axis) / length;
        let axial = wrench.force.dot(&axis) * axis;
        let on_first = wrench.force - axial - on_second;
        PivotForces { first: on_first.into(), second: on_second.into(), along: axial.into() }
    }

    /// The largest remainder of what acts on any body, relative to the largest force.
    fn imbalance(&self, load: &Wrench) -> f64 {
        let centred = centred(load, &self.centre);
        let whole = centred.plus(&opposite(&self.body));
        let parts = [whole, self.knuckle, self.rocker, self.bar];
        let all = parts.iter().chain(&self.arms).chain(&self.links);
        let mut worst = 0.0_f64;
        for wrench in all {
            for size in [norm(&wrench.force), norm(&wrench.moment) / MOMENT_SCALE] {
                // Written so that NaN is kept.
                let small = size <= worst || worst.is_nan();
                if !small {
                    worst = size;
                }
            }
        }
        if worst == 0.0 { 0.0 } else { worst / self.largest }
    }
}

fn opposite(wrench: &Wrench) -> Wrench {
    Wrench { force: -wrench.force, moment: -wrench.moment }
}

/// The same wrench with its moment about the wheel centre instead of the origin.
fn centred(wrench: &Wrench, centre: &Vec3) -> Wrench {
    Wrench { force: wrench.force, moment: wrench.moment - centre.cross(&wrench.force) }
}

fn add(forces: &mut [Vec3], index: usize, force: Vec3) {
    if let Some(sum) = forces.get_mut(index) {
        *sum += force;
    }
}

/// Every member's forces from all that acts; `load` is the loads' wrench on the knuckle about
/// the origin. What is not of the free bodies is left for the caller to fill in. `None` where a
/// rod that must carry does not reach, or the corner is not the linkage's.
pub(super) fn cut_free(
    corner: &Corner,
    linkage: &Linkage,
    position: &Position,
    acting: &Acting,
    load: &Wrench,
) -> Option<Forces> {
    let mut bodies = Bodies::free(corner, position);
    bodies.act(Part::Knuckle, &centred(load, &bodies.centre));
    let held = Wrench { force: acting.wheel_centre * Vec3::z(), moment: Vec3::zeros() };
    bodies.bear(Part::Knuckle, &opposite(&held));

    let mut forces = Forces {
        support: Support::WheelCentre,
        held_at_wheel_centre: None,
        arms: Vec::with_capacity(corner.arms.len()),
        links: Vec::with_capacity(corner.links.len()),
        strut: None,
        hinge: None,
        rocker: None,
        spring: None,
        damper: None,
        torsion_bar: None,
        drop_link: None,
        rack: None,
        shaft_torque: 0.0,
        imbalance: 0.0,
    };
    let on_strut = springs(&mut bodies, linkage, acting, &mut forces)?;
    rocker(&mut bodies, linkage, &mut forces);
    let (strut, hinge) = constraints(&mut bodies, linkage, acting);
    arms(&mut bodies, &mut forces)?;
    links(&mut bodies, linkage, &mut forces)?;
    if let Some(described) = &corner.strut {
        let top = Vec3::from(described.top_mount);
        let lower = position.carry(linkage, &Vec3::from(described.lower_end));
        let up = (top - lower) / norm(&(top - lower));
        // By what stands on the strut, on the knuckle and so on the strut's lower part.
        let mut moment = (top - lower).cross(&strut);
        let mut along = 0.0;
        for (at, force) in on_strut {
            moment += (at - lower).cross(&force);
            along -= force.dot(&up);
        }
        let across = moment - moment.dot(&up) * up;
        forces.strut = Some(StrutForces {
            id: described.id.clone(),
            across: (-strut).into(),
            along,
            bending: norm(&across) / 1000.0,
        });
    }
    if let Some(described) = &corner.hinge {
        let [first, second] = described.pivots.map(Vec3::from);
        let on_body = bodies.split(&opposite(&hinge), &first, &second);
        forces.hinge = Some(HingeForces { id: described.id.clone(), on_body });
    }
    forces.imbalance = bodies.imbalance(load);
    Some(forces)
}

/// Spring, damper and bars; the forces of those that stand on the strut by its name, on it.
fn springs(
    bodies: &mut Bodies<'_>,
    linkage: &Linkage,
    acting: &Acting,
    forces: &mut Forces,
) -> Option<Vec<(Vec3, Vec3)>> {
    let (corner, position) = (bodies.corner, bodies.position);
    let mut on_strut = Vec::new();
    let spring = corner.spring.as_ref().map(|spring| &*spring.on);
    let damper = corner.damper.as_ref().map(|damper| &*damper.on);
    let telescopes = [
        (&linkage.spring, spring, linkage.spring_at(position), acting.spring),
        (&linkage.damper, damper, linkage.damper_at(position), acting.damper),
    ];
    for (telescope, on, length, size) in telescopes {
        if let (Some(telescope), Some(on), Some(length)) = (telescope, on, length)
            && size != 0.0
        {
            bodies.telescope(&telescope.carried, on, &length, size);
            if corner.strut.as_ref().is_some_and(|strut| strut.id == on) {
                on_strut.push((length.carried, size * length.direction()));
            }
        }
    }
    forces.damper = corner.damper.as_ref().map(|_| acting.damper);
    if let (Some(bar), Some(led)) = (&corner.anti_roll_bar, &linkage.anti_roll_bar) {
        forces.drop_link = bodies.rod(led, Part::Bar, &bar.on, acting.anti_roll_bar);
        let [first, second] = bar.axis.map(Vec3::from);
        // The bar's twist, held by its other half.
        bodies.bear(Part::Bar, &Wrench { force: Vec3::zeros(), moment: -acting.anti_roll_bar * led.axis });
        bodies.pivots(Part::Bar, &first, &second)?;
    }
    if let (Some(bar), Some(turning)) = (&corner.torsion_bar, &linkage.torsion_bar) {
        let part = bodies.part(&bar.on);
        let moment = acting.torsion_bar;
        let axis = turning.axis();
        if moment != 0.0 {
            bodies.bear(part, &Wrench { force: Vec3::zeros(), moment: -moment * axis });
            match part {
                Part::Arm(i) => add(&mut bodies.by_arm, i, turning.pull_back(position, moment).force),
                Part::Rocker => bodies.on_rocker += moment,
                _ => {}
            }
        }
        forces.torsion_bar = Some(moment / 1000.0);
    }
    Some(on_strut)
}

/// The rocker's rod carries on what stands on the rocker.
fn rocker(bodies: &mut Bodies<'_>, linkage: &Linkage, forces: &mut Forces) {
    let (Some(described), Some(led)) = (&bodies.corner.rocker, &linkage.rocker) else { return };
    let (id, on) = (described.id.clone(), &described.on);
    let [first, second] = described.axis.map(Vec3::from);
    let moment = bodies.on_rocker;
    forces.rocker = bodies
        .rod(led, Part::Rocker, on, moment)
        .zip(bodies.pivots(Part::Rocker, &first, &second))
        .map(|(rod, on_body)| RockerForces { id, rod, on_body });
}

/// The constraints' forces: of arms and links to their sums, of strut (a force at the top
/// mount) and hinge (a wrench about the wheel centre) on the knuckle.
fn constraints(bodies: &mut Bodies<'_>, linkage: &Linkage, acting: &Acting) -> (Vec3, Wrench) {
    let position = bodies.position;
    let (rotation, centre, rack) = (position.rotation(), position.wheel_centre(), position.state().rack);
    let (mut strut, mut hinge) = (Vec3::zeros(), NOTHING);
    for ((member, constraint), size) in linkage.members.iter().zip(&linkage.constraints).zip(acting.members) {
        let closure = constraint.closure(&rotation, &centre, rack);
        let wrench = Wrench { force: size * closure.direction, moment: size * closure.moment };
        match *member {
            Member::Arm(i) => add(&mut bodies.by_arm, i, wrench.force),
            Member::Link(i) => add(&mut bodies.by_link, i, wrench.force),
            Member::Strut => {
                strut += wrench.force;
                bodies.bear(Part::Knuckle, &opposite(&wrench));
            }
            Member::Hinge => {
                hinge = hinge.plus(&wrench);
                bodies.bear(Part::Knuckle, &opposite(&wrench));
            }
        }
    }
    (strut, hinge)
}

/// Ball joints and pivots of the arms.
fn arms(bodies: &mut Bodies<'_>, forces: &mut Forces) -> Option<()> {
    let corner = bodies.corner;
    for (i, arm) in corner.arms.iter().enumerate() {
        let on_knuckle = *bodies.by_arm.get(i)?;
        let joint = bodies.joint(arm.ball_joint);
        bodies.hand_over(Part::Arm(i), &joint, on_knuckle);
        let (front, rear) = (Vec3::from(arm.front_pivot), Vec3::from(arm.rear_pivot));
        let on_body = bodies.pivots(Part::Arm(i), &front, &rear)?;
        forces.arms.push(ArmForces { id: arm.id.clone(), on_knuckle: on_knuckle.into(), on_body });
    }
    Some(())
}

/// Both ends of the links, and what the tie rod pushes the rack with.
fn links(bodies: &mut Bodies<'_>, linkage: &Linkage, forces: &mut Forces) -> Option<()> {
    let corner = bodies.corner;
    for (i, link) in corner.links.iter().enumerate() {
        let of_link = linkage.members.iter().position(|member| *member == Member::Link(i))?;
        let Some(Constraint::Distance { from, per_rack, .. }) = linkage.constraints.get(of_link) else {
            return None;
        };
        let inboard = from + bodies.position.state().rack * per_rack;
        let outboard = bodies.joint(link.outboard);
        let direction = (outboard - inboard) / norm(&(outboard - inboard));
        let on_knuckle = *bodies.by_link.get(i)?;
        bodies.hand_over(Part::Link(i), &outboard, on_knuckle);
        let left = *bodies.links.get(i)?;
        let at_inboard = bodies.wrench(&inboard, left.force);
        let stands = [
            corner.spring.as_ref().map(|spring| &spring.on),
            corner.damper.as_ref().map(|damper| &damper.on),
            corner.rocker.as_ref().map(|rocker| &rocker.on),
            corner.anti_roll_bar.as_ref().map(|bar| &bar.on),
        ];
        bodies.bear(Part::Link(i), &at_inboard);
        // A bare link balances by two forces; what is left of its moment is rounding, and is
        // left for the balance to tell.
        let moment = if stands.contains(&Some(&link.id)) {
            let moment = left.moment - at_inboard.moment;
            bodies.bear(Part::Link(i), &Wrench { force: Vec3::zeros(), moment });
            moment
        } else {
            Vec3::zeros()
        };
        if link.steers {
            forces.rack = Some(left.force.dot(per_rack));
        }
        forces.links.push(LinkForces {
            id: link.id.clone(),
            steers: link.steers,
            axial: -on_knuckle.dot(&direction),
            axial_inboard: left.force.dot(&direction),
            on_knuckle: on_knuckle.into(),
            on_body: left.force.into(),
            moment_on_body: (moment / 1000.0).into(),
        });
    }
    Some(())
}

impl Bodies<'_> {
    /// Where a knuckle point of the document now is.
    fn joint(&self, design: Point) -> Vec3 {
        let arm = Vec3::from(design) - Vec3::from(self.corner.wheel.centre);
        self.centre + self.position.rotation() * arm
    }

    /// A member's force on the knuckle, and the knuckle's back.
    fn hand_over(&mut self, part: Part, joint: &Vec3, on_knuckle: Vec3) {
        let wrench = self.wrench(joint, on_knuckle);
        self.act(Part::Knuckle, &wrench);
        self.act(part, &opposite(&wrench));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        setup::{Side, example},
        solve::Follower,
    };

    /// Balanced bodies of a corner, then one push more on one of them: the remainder is that push
    /// over the largest, whichever body and whether force or moment.
    #[test]
    fn a_push_that_nothing_balances_is_told() {
        let document = example();
        let corner = document.front.as_ref().expect("it is there");
        let linkage = Linkage::new(corner, Side::Left).expect("it can be assembled");
        let position = *Follower::new(&linkage).position();
        let balanced = |part: Part, largest: &Wrench| {
            let mut bodies = Bodies::free(corner, &position);
            bodies.act(part, largest);
            bodies.act(part, &opposite(largest));
            bodies
        };
        let force = |size: f64| Wrench { force: Vec3::new(0.0, size, 0.0), moment: Vec3::zeros() };
        let moment =
            |size: f64| Wrench { force: Vec3::zeros(), moment: Vec3::new(0.0, 0.0, size * MOMENT_SCALE) };
        assert_eq!(balanced(Part::Knuckle, &NOTHING).imbalance(&NOTHING), 0.0, "nothing acts at all");
        for largest in [force(1000.0), moment(1000.0)] {
            for part in [Part::Knuckle, Part::Arm(0), Part::Link(1), Part::Rocker, Part::Bar] {
                assert_eq!(balanced(part, &largest).imbalance(&NOTHING), 0.0, "{part:?}");
                for more in [force(250.0), moment(250.0)] {
                    let mut bodies = balanced(part, &largest);
                    bodies.act(part, &more);
                    assert_eq!(bodies.imbalance(&NOTHING), 0.25, "{part:?}");
                }
                let mut bodies = balanced(part, &largest);
                bodies.act(part, &force(f64::NAN));
                assert!(bodies.imbalance(&NOTHING).is_nan(), "{part:?}");
            }
            // A load that does not reach the body is left over for the corner as a whole.
            let position = balanced(Part::Knuckle, &largest);
            assert_eq!(position.imbalance(&moment(500.0)), 0.5);
        }
    }
}
