//! The checked, immutable corner: five constraints and who carries which point.
//!
//! [`Linkage::new`] is the gate: past it the corner has five independent constraints, its
//! wheel can rise, and every point has a carrier. Before it anything may stand in the
//! document, and the error names the field.

mod error;

pub use error::{InCorner, LinkageError};

use alloc::{format, string::String, vec::Vec};
use core::f64::consts::PI;

use nalgebra::SMatrix;

use crate::{
    Mat3, Vec3,
    bounds::{self, BELOW_GROUND, DEPENDENT_ROWS, ON_THE_AXIS, SAME_PLACE},
    closure::Constraint,
    elimination::{UNKNOWNS, reduce_pivoting},
    float::{cos, norm, sin},
    setup::{Corner, KNUCKLE, Point, RACK_DIRECTION, Side},
};

/// A corner whose members hold the knuckle so that the wheel can travel and nothing else.
#[derive(Debug, Clone, PartialEq)]
pub struct Linkage {
    pub(crate) side: Side,
    /// Ordered so that elimination needs no exchange of rows near the design position.
    pub(crate) constraints: [Constraint; UNKNOWNS],
    /// Sign of the determinant on this assembly's branch.
    pub(crate) positive: bool,
    pub(crate) wheel_centre: Vec3,
    pub(crate) spin_axis: Vec3,
    pub(crate) loaded_radius: f64,
    pub(crate) steers: bool,
    pub(crate) spring: Option<Telescope>,
    pub(crate) damper: Option<Telescope>,
}

/// A spring or damper: a length between a body point and a carried point.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Telescope {
    pub(crate) body: Vec3,
    pub(crate) carried: Carried,
}

/// A point and the part it moves with.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Carried {
    /// On the knuckle, as an arm from the wheel centre in the design position.
    Knuckle {
        /// Arm from the wheel centre.
        arm: Vec3,
    },
    /// On a triangular arm: turns about the arm's axis as its ball joint does.
    Arm {
        /// Ball joint as an arm from the wheel centre.
        ball_joint: Vec3,
        /// Foot of the ball joint on the arm's axis.
        foot: Vec3,
        /// Unit vector of the axis.
        axis: Vec3,
        /// One over the ball joint's distance from the axis.
        over_reach: f64,
        /// The point in the arm's own axes: along the axis, towards the ball joint, and
        /// square to both.
        place: Vec3,
    },
    /// On a two-ended link: goes by the smallest turn from its old direction.
    Link {
        /// Outboard joint as an arm from the wheel centre.
        outboard: Vec3,
        /// Inboard joint with the rack at zero.
        inboard: Vec3,
        /// Motion of the inboard joint per mm of rack.
        per_rack: Vec3,
        /// Unit vector from inboard to outboard in the design position.
        old: Vec3,
        /// One over the link's length.
        over_length: f64,
        /// The point from the inboard joint in the design position.
        place: Vec3,
    },
}

fn vector(point: Point) -> Vec3 {
    Vec3::from(point)
}

impl Linkage {
    /// Checks a corner and builds its constraints. `side` says on which side of the car
    /// the corner's points are; a document's are on the left.
    ///
    /// # Errors
    /// The first thing that keeps the corner from being one, as a [`LinkageError`] with
    /// paths relative to the corner.
    pub fn new(corner: &Corner, side: Side) -> Result<Self, LinkageError> {
        corner.check()?;
        check_names(corner)?;
        let removed = corner.freedoms_removed();
        if removed != UNKNOWNS {
            return Err(LinkageError::Freedoms { removed });
        }
        check_wheel(corner)?;
        let rack = rack_direction(corner)?;
        let centre = vector(corner.wheel.centre);
        let mut named: Vec<(String, Constraint)> = Vec::with_capacity(UNKNOWNS);
        for (i, arm) in corner.arms.iter().enumerate() {
            let axis = ArmAxis::of(corner, i)?;
            named.extend(axis.constraints(&centre).map(|constraint| (arm.id.clone(), constraint)));
        }
        for (i, link) in corner.links.iter().enumerate() {
            let (inboard, outboard) = (vector(link.inboard), vector(link.outboard));
            let length = distance_apart(
                [&format!("links[{i}].inboard"), &format!("links[{i}].outboard")],
                &inboard,
                &outboard,
            )?;
            named.push((
                link.id.clone(),
                Constraint::Distance {
                    arm: outboard - centre,
                    from: inboard,
                    per_rack: if link.steers { rack } else { Vec3::zeros() },
                    square: (outboard - inboard).norm_squared(),
                    over_length: 1.0 / length,
                },
            ));
        }
        if let Some(strut) = &corner.strut {
            let (top, lower) = (vector(strut.top_mount), vector(strut.lower_end));
            let length = distance_apart(["strut.top_mount", "strut.lower_end"], &top, &lower)?;
            for normal in square_to(&((top - lower) / length)) {
                let offset = normal.dot(&(top - centre));
                named.push((strut.id.clone(), Constraint::KnucklePlane { at: top, normal, offset }));
            }
        }
        if let Some(hinge) = &corner.hinge {
            let [first, second] = hinge.pivots.map(vector);
            let length = distance_apart(["hinge.pivots[0]", "hinge.pivots[1]"], &first, &second)?;
            let axis = (second - first) / length;
            let [across, over] = square_to(&axis);
            for (point, normal) in
                [(first, axis), (first, across), (first, over), (second, across), (second, over)]
            {
                let constraint =
                    Constraint::BodyPlane { arm: point - centre, normal, offset: normal.dot(&point) };
                named.push((hinge.id.clone(), constraint));
            }
        }
        let Ok(mut named) = <[(String, Constraint); UNKNOWNS]>::try_from(named) else {
            // The count was checked above; said as an error all the same.
            return Err(LinkageError::Freedoms { removed });
        };
        let positive = arrange(&mut named, &centre)?;
        let spin_axis = spin_axis_of(corner.wheel.camber, corner.wheel.toe, side.outboard());
        let telescope = |what: &str, body: Point, carried: Point, on: &str| {
            distance_apart(
                [&format!("{what}.body"), &format!("{what}.carried")],
                &vector(body),
                &vector(carried),
            )?;
            Ok::<_, LinkageError>(Telescope {
                body: vector(body),
                carried: carrier(corner, what, on, carried, &rack)?,
            })
        };
        let spring =
            corner.spring.as_ref().map(|s| telescope("spring", s.body, s.carried, &s.on)).transpose()?;
        let damper =
            corner.damper.as_ref().map(|d| telescope("damper", d.body, d.carried, &d.on)).transpose()?;
        Ok(Self {
            side,
            constraints: named.map(|(_, constraint)| constraint),
            positive,
            wheel_centre: centre,
            spin_axis,
            loaded_radius: corner.wheel.loaded_radius,
            steers: corner.links.iter().any(|link| link.steers),
            spring,
            damper,
        })
    }

    /// Whether a link steers, so that the rack moves the wheel.
    #[must_use]
    pub fn steers(&self) -> bool {
        self.steers
    }

    /// Which side of the car the corner is on.
    #[must_use]
    pub fn side(&self) -> Side {
        self.side
    }
}

/// The spin axis, pointing outboard, of a wheel set to a camber and a toe (degrees) on the
/// side whose outboard direction is `outboard` · y.
#[must_use]
pub fn spin_axis_of(camber: f64, toe: f64, outboard: f64) -> Vec3 {
    let (camber, toe) = (camber * PI / 180.0, toe * PI / 180.0);
    Vec3::new(cos(camber) * sin(toe), outboard * cos(camber) * cos(toe), -sin(camber))
}

fn check_names(corner: &Corner) -> Result<(), LinkageError> {
    let ids: Vec<&str> = corner.ids().collect();
    for (i, id) in ids.iter().enumerate() {
        if id.trim().is_empty() {
            return Err(LinkageError::NoName);
        }
        if *id == KNUCKLE {
            return Err(LinkageError::NameTaken { id: (*id).into() });
        }
        if ids.iter().take(i).any(|other| other == id) {
            return Err(LinkageError::NameTwice { id: (*id).into() });
        }
    }
    let steering: Vec<&str> = corner.links.iter().filter(|l| l.steers).map(|l| l.id.as_str()).collect();
    if let [first, second, ..] = steering[..] {
        return Err(LinkageError::SteeredTwice { first: first.into(), second: second.into() });
    }
    Ok(())
}

fn check_wheel(corner: &Corner) -> Result<(), LinkageError> {
    let wheel = &corner.wheel;
    let lowest = wheel.centre[2] - wheel.loaded_radius * cos(wheel.camber * PI / 180.0);
    if wheel.centre[2] <= 0.0 || lowest < -BELOW_GROUND {
        return Err(LinkageError::WheelBelowGround {
            height: wheel.centre[2],
            radius: wheel.loaded_radius,
            lowest,
        });
    }
    Ok(())
}

fn rack_direction(corner: &Corner) -> Result<Vec3, LinkageError> {
    let direction = vector(corner.rack_direction.unwrap_or(RACK_DIRECTION));
    let size = norm(&direction);
    if size < SAME_PLACE {
        return Err(LinkageError::NoRackDirection);
    }
    Ok(direction / size)
}

/// The length between two points that must not be one.
fn distance_apart(fields: [&str; 2], a: &Vec3, b: &Vec3) -> Result<f64, LinkageError> {
    let length = norm(&(b - a));
    if length < SAME_PLACE {
        return Err(LinkageError::OnePlace { first: fields[0].into(), second: fields[1].into() });
    }
    Ok(length)
}

/// Two unit vectors square to a unit vector and to each other.
fn square_to(axis: &Vec3) -> [Vec3; 2] {
    let mut least = Vec3::zeros();
    least[axis.abs().imin()] = 1.0;
    let first = axis.cross(&least);
    let first = first / norm(&first);
    [first, axis.cross(&first)]
}

/// A triangular arm's axis and where its ball joint stands about it.
struct ArmAxis {
    ball_joint: Vec3,
    foot: Vec3,
    axis: Vec3,
    reach: f64,
}

impl ArmAxis {
    fn of(corner: &Corner, i: usize) -> Result<Self, LinkageError> {
        let Some(arm) = corner.arms.get(i) else {
            return Err(LinkageError::Freedoms { removed: corner.freedoms_removed() });
        };
        let (front, rear, ball_joint) =
            (vector(arm.front_pivot), vector(arm.rear_pivot), vector(arm.ball_joint));
        let path = |field: &str| format!("arms[{i}].{field}");
        let length = distance_apart([&path("front_pivot"), &path("rear_pivot")], &front, &rear)?;
        distance_apart([&path("front_pivot"), &path("ball_joint")], &front, &ball_joint)?;
        distance_apart([&path("rear_pivot"), &path("ball_joint")], &rear, &ball_joint)?;
        let axis = (front - rear) / length;
        let foot = rear + (ball_joint - rear).dot(&axis) * axis;
        let reach = norm(&(ball_joint - foot));
        if reach < SAME_PLACE.max(ON_THE_AXIS * length) {
            return Err(LinkageError::JointOnAxis { field: path("ball_joint") });
        }
        Ok(Self { ball_joint, foot, axis, reach })
    }

    /// Square to each other, so better conditioned than the two lines to the pivots, and
    /// the same span: forces in the arm's plane through the ball joint.
    fn constraints(&self, centre: &Vec3) -> [Constraint; 2] {
        let arm = self.ball_joint - centre;
        [
            Constraint::BodyPlane { arm, normal: self.axis, offset: self.axis.dot(&self.ball_joint) },
            Constraint::Distance {
                arm,
                from: self.foot,
                per_rack: Vec3::zeros(),
                square: (self.ball_joint - self.foot).norm_squared(),
                over_length: 1.0 / self.reach,
            },
        ]
    }
}

fn carrier(
    corner: &Corner,
    what: &str,
    on: &str,
    point: Point,
    rack: &Vec3,
) -> Result<Carried, LinkageError> {
    let centre = vector(corner.wheel.centre);
    let point = vector(point);
    let rigid = corner.strut.iter().map(|s| &s.id).chain(corner.hinge.iter().map(|h| &h.id));
    if on == KNUCKLE || rigid.into_iter().any(|id| id == on) {
        return Ok(Carried::Knuckle { arm: point - centre });
    }
    if let Some(i) = corner.arms.iter().position(|arm| arm.id == on) {
        let ArmAxis { ball_joint, foot, axis, reach } = ArmAxis::of(corner, i)?;
        let towards = (ball_joint - foot) / reach;
        let from_foot = point - foot;
        let place =
            Vec3::new(from_foot.dot(&axis), from_foot.dot(&towards), from_foot.dot(&axis.cross(&towards)));
        return Ok(Carried::Arm {
            ball_joint: ball_joint - centre,
            foot,
            axis,
            over_reach: 1.0 / reach,
            place,
        });
    }
    if let Some(link) = corner.links.iter().find(|link| link.id == on) {
        let (inboard, outboard) = (vector(link.inboard), vector(link.outboard));
        let length = norm(&(outboard - inboard));
        return Ok(Carried::Link {
            outboard: outboard - centre,
            inboard,
            per_rack: if link.steers { *rack } else { Vec3::zeros() },
            old: (outboard - inboard) / length,
            over_length: 1.0 / length,
            place: point - inboard,
        });
    }
    Err(LinkageError::UnknownCarrier {
        field: format!("{what}.on"),
        on: on.into(),
        known: corner.ids().chain([KNUCKLE]).map(String::from).collect(),
    })
}

/// Puts the constraints in the order in which elimination finds large pivots, and tells
/// the branch's sign.
fn arrange(named: &mut [(String, Constraint); UNKNOWNS], centre: &Vec3) -> Result<bool, LinkageError> {
    let design = Mat3::identity();
    let closures = named.each_ref().map(|(_, constraint)| constraint.closure(&design, centre, 0.0));
    // The rows as they are, six wide: a sixth freedom kept by two members is found here,
    // and the left null vector tells which members share it.
    let mut matrix = SMatrix::<f64, 5, 6>::zeros();
    for (i, closure) in closures.iter().enumerate() {
        let size = norm(&closure.direction);
        let moment = closure.moment / (size * bounds::MOMENT_SCALE);
        let direction = closure.direction / size;
        for j in 0..3 {
            matrix[(i, j)] = moment[j];
            matrix[(i, j + 3)] = direction[j];
        }
    }
    let decomposition = matrix.svd(true, false);
    let (least, greatest) = (decomposition.singular_values.min(), decomposition.singular_values.max());
    let independent = least >= DEPENDENT_ROWS * greatest;
    if !independent {
        let mut members: Vec<String> = Vec::new();
        if let Some(u) = decomposition.u {
            let shares = u.column(decomposition.singular_values.imin());
            for ((id, _), share) in named.iter().zip(shares.iter()) {
                if share.abs() > 1e-6 && !members.contains(id) {
                    members.push(id.clone());
                }
            }
        }
        return Err(LinkageError::Dependent { members });
    }
    let mut order = [0, 1, 2, 3, 4];
    let mut rows = named.each_ref().map(|(_, constraint)| constraint.equation(&design, centre, 0.0));
    reduce_pivoting(&mut rows, Some(&mut order)).ok_or(LinkageError::WheelCannotRise)?;
    let old = named.clone();
    for (place, from) in named.iter_mut().zip(order) {
        if let Some(item) = old.get(from) {
            *place = item.clone();
        }
    }
    // In that order no exchange is needed; its sign is the branch's.
    let mut rows = named.each_ref().map(|(_, constraint)| constraint.equation(&design, centre, 0.0));
    let found = reduce_pivoting(&mut rows, None).ok_or(LinkageError::WheelCannotRise)?;
    Ok(found.positive)
}
