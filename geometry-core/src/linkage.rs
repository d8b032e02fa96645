//! The checked, immutable corner: five constraints and who carries which point.
//!
//! [`Linkage::new`] is the gate: past it the corner has five independent constraints, its
//! wheel can rise, and every point has a carrier. Before it anything may stand in the
//! document, and the error names the field.

mod carriers;
mod error;

pub(crate) use carriers::{Carried, Led, Telescope, Turning};
pub use error::{InCorner, LinkageError};

use alloc::{format, string::String, vec::Vec};
use core::f64::consts::PI;

use carriers::{ArmAxis, Carriers};
use nalgebra::SMatrix;

use crate::{
    Mat3, Vec3,
    bounds::{self, BELOW_GROUND, DEPENDENT_ROWS, SAME_PLACE},
    closure::Constraint,
    elimination::{UNKNOWNS, reduce_pivoting},
    float::{cos, norm, sin},
    setup::{Corner, KNUCKLE, Point, RACK_DIRECTION, Side},
    solve::system::System,
};

/// A corner whose members hold the knuckle so that the wheel can travel and nothing else.
#[derive(Debug, Clone, PartialEq)]
pub struct Linkage {
    pub(crate) side: Side,
    /// Ordered so that elimination needs no exchange of rows near the design position.
    pub(crate) constraints: [Constraint; UNKNOWNS],
    /// The same, as the solver computes them.
    pub(crate) system: System,
    /// Which member each constraint belongs to.
    pub(crate) members: [Member; UNKNOWNS],
    /// Sign of the determinant on this assembly's branch.
    pub(crate) positive: bool,
    pub(crate) wheel_centre: Vec3,
    pub(crate) spin_axis: Vec3,
    pub(crate) loaded_radius: f64,
    pub(crate) steers: bool,
    pub(crate) spring: Option<Telescope>,
    pub(crate) damper: Option<Telescope>,
    pub(crate) rocker: Option<Led>,
    pub(crate) anti_roll_bar: Option<Led>,
    pub(crate) torsion_bar: Option<Turning>,
}

/// A member of a corner, by its place in the document's lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Member {
    /// Triangular arm of this index.
    Arm(usize),
    /// Two-ended link of this index.
    Link(usize),
    /// The strut.
    Strut,
    /// The hinge.
    Hinge,
}

impl Member {
    /// Its name in the corner; empty where the corner has no such member.
    #[must_use]
    pub fn id(self, corner: &Corner) -> &str {
        let id = match self {
            Self::Arm(i) => corner.arms.get(i).map(|arm| &arm.id),
            Self::Link(i) => corner.links.get(i).map(|link| &link.id),
            Self::Strut => corner.strut.as_ref().map(|strut| &strut.id),
            Self::Hinge => corner.hinge.as_ref().map(|hinge| &hinge.id),
        };
        id.map_or("", String::as_str)
    }
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
        Self::build(corner, side, true)
    }

    /// [`Linkage::new`] without its checks of single fields, names and independence, for a
    /// corner that passed them and was changed by a little.
    pub(crate) fn assemble(corner: &Corner, side: Side) -> Result<Self, LinkageError> {
        Self::build(corner, side, false)
    }

    fn build(corner: &Corner, side: Side, examine: bool) -> Result<Self, LinkageError> {
        let removed = corner.freedoms_removed();
        if removed != UNKNOWNS {
            return Err(LinkageError::Freedoms { removed });
        }
        check_wheel(corner)?;
        let rack = rack_direction(corner)?;
        let centre = vector(corner.wheel.centre);
        let mut named: Vec<(Member, Constraint)> = Vec::with_capacity(UNKNOWNS);
        for i in 0..corner.arms.len() {
            let axis = ArmAxis::of(corner, i)?;
            named.extend(axis.constraints(&centre).map(|constraint| (Member::Arm(i), constraint)));
        }
        for (i, link) in corner.links.iter().enumerate() {
            let (inboard, outboard) = (vector(link.inboard), vector(link.outboard));
            let length = distance_apart(
                [&format!("links[{i}].inboard"), &format!("links[{i}].outboard")],
                &inboard,
                &outboard,
            )?;
            named.push((
                Member::Link(i),
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
                named.push((Member::Strut, Constraint::KnucklePlane { at: top, normal, offset }));
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
                named.push((Member::Hinge, constraint));
            }
        }
        let Ok(mut named) = <[(Member, Constraint); UNKNOWNS]>::try_from(named) else {
            // The count was checked above; said as an error all the same.
            return Err(LinkageError::Freedoms { removed });
        };
        if examine {
            check_independence(&named, corner)?;
        }
        let positive = arrange(&mut named, corner)?;
        let spin_axis = spin_axis_of(corner.wheel.camber, corner.wheel.toe, side.outboard());
        let carriers = Carriers::of(corner, rack);
        let (spring, damper) = (corner.spring.as_ref(), corner.damper.as_ref());
        let constraints = named.each_ref().map(|(_, constraint)| *constraint);
        Ok(Self {
            side,
            system: System::new(&constraints, &centre),
            constraints,
            members: named.map(|(member, _)| member),
            positive,
            wheel_centre: centre,
            spin_axis,
            loaded_radius: corner.wheel.loaded_radius,
            steers: corner.links.iter().any(|link| link.steers),
            spring: spring.map(|s| carriers.telescope("spring", s.body, s.carried, &s.on)).transpose()?,
            damper: damper.map(|d| carriers.telescope("damper", d.body, d.carried, &d.on)).transpose()?,
            rocker: carriers.rocker()?,
            anti_roll_bar: carriers.anti_roll_bar()?,
            torsion_bar: carriers.torsion_bar()?,
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

fn check_independence(named: &[(Member, Constraint); UNKNOWNS], corner: &Corner) -> Result<(), LinkageError> {
    let centre = &vector(corner.wheel.centre);
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
            for ((member, _), share) in named.iter().zip(shares.iter()) {
                let id = member.id(corner);
                if share.abs() > 1e-6 && !members.iter().any(|known| known == id) {
                    members.push(id.into());
                }
            }
        }
        return Err(LinkageError::Dependent { members });
    }
    Ok(())
}

/// Puts the constraints in the order in which elimination finds large pivots, and tells
/// the branch's sign.
fn arrange(named: &mut [(Member, Constraint); UNKNOWNS], corner: &Corner) -> Result<bool, LinkageError> {
    let (centre, design) = (&vector(corner.wheel.centre), Mat3::identity());
    let mut order = [0, 1, 2, 3, 4];
    let mut rows = named.each_ref().map(|(_, constraint)| constraint.equation(&design, centre, 0.0));
    reduce_pivoting(&mut rows, Some(&mut order)).ok_or(LinkageError::WheelCannotRise)?;
    let old = *named;
    for (place, from) in named.iter_mut().zip(order) {
        if let Some(item) = old.get(from) {
            *place = *item;
        }
    }
    // In that order no exchange is needed; its sign is the branch's.
    let mut rows = named.each_ref().map(|(_, constraint)| constraint.equation(&design, centre, 0.0));
    let found = reduce_pivoting(&mut rows, None).ok_or(LinkageError::WheelCannotRise)?;
    Ok(found.positive)
}
