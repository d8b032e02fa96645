//! Where every point of the corner is now.

use geometry_core::{
    Mat3, Vec3,
    linkage::{Linkage, spin_axis_of},
    setup::{Corner, Holder, PointPath, RACK_DIRECTION, Side},
    solve::{Nearest, Position},
};

/// The corner's points in a position, or as described where there is no position.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    points: Vec<(PointPath, Vec3)>,
    rotation: Mat3,
    spin: Vec3,
    radius: f64,
}

impl Placed {
    /// Places the corner's points; without a solved position they stand as described.
    #[must_use]
    pub fn new(corner: &Corner, solved: Option<(&Linkage, &Position)>) -> Self {
        let rack = corner.rack_direction.unwrap_or(RACK_DIRECTION);
        let rack = Vec3::from(rack);
        let rack = if rack.norm() > 0.0 { rack.normalize() } else { rack };
        let rocker = solved.and_then(|(linkage, position)| linkage.rocker_at(position));
        let bar = solved.and_then(|(linkage, position)| linkage.anti_roll_bar_at(position));
        let points = PointPath::all(corner).into_iter().filter_map(|path| {
            let design = Vec3::from(path.get(corner)?);
            let Some((linkage, position)) = solved else { return Some((path, design)) };
            let now = match path {
                PointPath::LinkInboard(i) if corner.links.get(i).is_some_and(|link| link.steers) => {
                    design + position.state().rack * rack
                }
                PointPath::SpringCarried => linkage.spring_at(position)?.carried,
                PointPath::DamperCarried => linkage.damper_at(position)?.carried,
                PointPath::RockerRodEnd => rocker?.joint,
                PointPath::RockerCarried => rocker?.carried,
                PointPath::BarArmEnd => bar?.joint,
                PointPath::BarCarried => bar?.carried,
                _ if path.holder() == Holder::Knuckle => position.carry(linkage, &design),
                _ => design,
            };
            Some((path, now))
        });
        let points = points.collect();
        let design = spin_axis_of(corner.wheel.camber, corner.wheel.toe, Side::Left.outboard());
        let rotation = solved.map_or_else(Mat3::identity, |(_, position)| position.rotation());
        Self { points, rotation, spin: rotation * design, radius: corner.wheel.loaded_radius }
    }

    /// Places body and knuckle where a corner comes nearest to a state beyond its reach.
    #[must_use]
    pub fn apart(corner: &Corner, linkage: &Linkage, nearest: &Nearest) -> Self {
        let rack = Vec3::from(corner.rack_direction.unwrap_or(RACK_DIRECTION));
        // A linkage is there, so the direction has a length.
        let moved = nearest.state.rack * rack.normalize();
        let points = PointPath::all(corner).into_iter().filter_map(|path| {
            let design = Vec3::from(path.get(corner)?);
            let now = match (path, path.holder()) {
                (PointPath::LinkInboard(i), _) if corner.links.get(i).is_some_and(|link| link.steers) => {
                    design + moved
                }
                (_, Holder::Knuckle) => nearest.carry(linkage, &design),
                (_, Holder::Body) => design,
                (_, Holder::Member) => return None,
            };
            Some((path, now))
        });
        let points = points.collect();
        let design = spin_axis_of(corner.wheel.camber, corner.wheel.toe, Side::Left.outboard());
        Self {
            points,
            rotation: nearest.rotation,
            spin: nearest.rotation * design,
            radius: corner.wheel.loaded_radius,
        }
    }

    /// Where a point is.
    #[must_use]
    pub fn at(&self, path: PointPath) -> Option<Vec3> {
        self.points.iter().find(|(other, _)| *other == path).map(|(_, point)| *point)
    }

    /// All points.
    #[must_use]
    pub fn points(&self) -> &[(PointPath, Vec3)] {
        &self.points
    }

    /// The wheel's spin axis, pointing outboard.
    #[must_use]
    pub fn spin(&self) -> Vec3 {
        self.spin
    }

    /// The loaded radius, mm.
    #[must_use]
    pub fn radius(&self) -> f64 {
        self.radius
    }

    /// What a displacement of a point on the sheet means for the point in the document:
    /// a knuckle point was turned with the knuckle, so the displacement is turned back.
    #[must_use]
    pub fn to_design(&self, path: PointPath, displacement: &Vec3) -> Vec3 {
        match path.holder() {
            Holder::Knuckle if path != PointPath::WheelCentre => self.rotation.transpose() * displacement,
            _ => *displacement,
        }
    }
}
