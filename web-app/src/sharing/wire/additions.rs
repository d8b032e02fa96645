//! Version 2 of the link's bytes, frozen: version 1's document and, after it, what the
//! document has gained since. Only documents that have something of it are written so.
//!
//! The quanta are version 1's; moments over angles are in thousandths of a N·m/°, masses of
//! parts in grams. Lengths have a grain of their own, so that a tenth in one half of the
//! document does not lengthen the other.

use geometry_core::setup::{self, Brakes, Drive};
use serde::{Deserialize, Serialize};

use super::{Corner, FINEST, Few, Grain, RATE, SHARE, Triple, count, per_millimetre, value};

const PART_MASS: f64 = 1e3;

/// The whole document.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(in crate::sharing) struct Document {
    first: super::Document,
    /// Decimals of a millimetre of all that follows.
    decimals: u8,
    regeneration_share: Option<i64>,
    regeneration_front_share: Option<i64>,
    front: Option<Additions>,
    rear: Option<Additions>,
    front_right: Option<RightCorner>,
    rear_right: Option<RightCorner>,
}

/// A right corner that is not the left one's mirror image.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct RightCorner {
    corner: Corner,
    additions: Option<Additions>,
}

/// What a corner has beyond version 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Additions {
    tyre_rate: Option<i64>,
    rim: Option<Rim>,
    brake_disc: Option<BrakeDisc>,
    free_length: Option<i64>,
    rocker: Option<Rocker>,
    anti_roll_bar: Option<AntiRollBar>,
    torsion_bar: Option<TorsionBar>,
    unsprung: Few<Part>,
    inboard_brakes: bool,
    hub_drive: bool,
    rack_travel: Option<i64>,
    bump_travel: Option<i64>,
    rebound_travel: Option<i64>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Rim {
    width: i64,
    offset: i64,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct BrakeDisc {
    diameter: i64,
    thickness: i64,
    inset: i64,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Rocker {
    id: String,
    axis: (Triple, Triple),
    rod_end: Triple,
    carried: Triple,
    on: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct AntiRollBar {
    axis: (Triple, Triple),
    arm_end: Triple,
    carried: Triple,
    on: String,
    rate: Option<i64>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct TorsionBar {
    on: String,
    rate: Option<i64>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Part {
    name: String,
    mass: i64,
    share: Option<i64>,
}

/// Every length that is counted in this version's own grain.
fn lengths(document: &setup::Document) -> Vec<f64> {
    let mut all = Vec::new();
    for (name, corner) in document.corners() {
        if name == setup::Axle::Front.right_name() || name == setup::Axle::Rear.right_name() {
            all.push(corner.wheel.loaded_radius);
            all.extend(corner.points().into_iter().flat_map(|(_, point)| point));
        }
        let points = corner.rocker.iter().flat_map(|r| [r.axis[0], r.axis[1], r.rod_end, r.carried]);
        all.extend(points.flatten());
        let points = corner.anti_roll_bar.iter().flat_map(|b| [b.axis[0], b.axis[1], b.arm_end, b.carried]);
        all.extend(points.flatten());
        all.extend(corner.wheel.rim.iter().flat_map(|rim| [rim.width, rim.offset]));
        let disc = corner.wheel.brake_disc.iter();
        all.extend(disc.flat_map(|disc| [disc.diameter, disc.thickness, disc.inset]));
        all.extend(corner.spring.iter().filter_map(|spring| spring.free_length));
        all.extend([corner.rack_travel, corner.bump_travel, corner.rebound_travel].into_iter().flatten());
    }
    all
}

impl Document {
    /// The document in integers; none when version 1 says all of it.
    pub(in crate::sharing) fn of(document: &setup::Document) -> Option<Self> {
        let decimals = super::fewest_decimals(&lengths(document));
        let grain = Grain(per_millimetre(decimals));
        let additions =
            |corner: &Option<setup::Corner>| corner.as_ref().and_then(|corner| Additions::of(corner, grain));
        let right = |corner: &Option<setup::Corner>| {
            let corner = corner.as_ref()?;
            Some(RightCorner { corner: Corner::of(corner, grain), additions: Additions::of(corner, grain) })
        };
        // Taken apart in full, here and below: a new field of the document does not compile
        // until it is decided what a link does with it.
        let setup::Document {
            cornerwise: _,
            title: _,
            note: _,
            vehicle,
            front,
            rear,
            front_right,
            rear_right,
        } = document;
        let setup::Vehicle {
            wheelbase: _,
            mass: _,
            front_mass_share: _,
            cg_height: _,
            brake_front_share: _,
            drive_front_share: _,
            regeneration_share,
            regeneration_front_share,
        } = vehicle;
        let share = |number: &Option<f64>| number.map(|number| count(number, SHARE));
        let whole = Self {
            first: super::Document::of(document),
            decimals,
            regeneration_share: share(regeneration_share),
            regeneration_front_share: share(regeneration_front_share),
            front: additions(front),
            rear: additions(rear),
            front_right: right(front_right),
            rear_right: right(rear_right),
        };
        let plain = whole.regeneration_share.is_none()
            && whole.regeneration_front_share.is_none()
            && whole.front.is_none()
            && whole.rear.is_none()
            && whole.front_right.is_none()
            && whole.rear_right.is_none();
        (!plain).then_some(whole)
    }

    /// The document it stands for, not yet checked; none where it says what is never written.
    pub(in crate::sharing) fn document(self) -> Option<setup::Document> {
        if self.decimals > FINEST {
            return None;
        }
        let grain = Grain(per_millimetre(self.decimals));
        let mut document = self.first.document()?;
        let share = |number: Option<i64>| number.map(|number| value(number, SHARE));
        document.vehicle.regeneration_share = share(self.regeneration_share);
        document.vehicle.regeneration_front_share = share(self.regeneration_front_share);
        for (additions, corner) in [(self.front, &mut document.front), (self.rear, &mut document.rear)] {
            if let Some(additions) = additions {
                additions.add_to(corner.as_mut()?, grain)?;
            }
        }
        let right = |right: RightCorner| {
            let mut corner = right.corner.corner(grain);
            if let Some(additions) = right.additions {
                additions.add_to(&mut corner, grain)?;
            }
            Some(corner)
        };
        for (from, to) in
            [(self.front_right, &mut document.front_right), (self.rear_right, &mut document.rear_right)]
        {
            if let Some(from) = from {
                *to = Some(right(from)?);
            }
        }
        Some(document)
    }
}

impl Additions {
    /// None where the corner has nothing beyond version 1.
    fn of(corner: &setup::Corner, grain: Grain) -> Option<Self> {
        let setup::Corner {
            arms: _,
            links: _,
            strut: _,
            hinge: _,
            wheel,
            rack_direction: _,
            spring,
            damper: _,
            rocker,
            anti_roll_bar,
            torsion_bar,
            unsprung,
            brakes,
            drive,
            rack_travel,
            bump_travel,
            rebound_travel,
        } = corner;
        let setup::Wheel {
            centre: _,
            loaded_radius: _,
            camber: _,
            toe: _,
            tyre: _,
            tyre_rate,
            rim,
            brake_disc,
        } = wheel;
        let free_length = spring
            .as_ref()
            .and_then(|setup::Spring { body: _, carried: _, on: _, rate: _, free_length }| *free_length);
        let length = |length: &f64| grain.count(*length);
        let rate = |rate: &f64| count(*rate, RATE);
        let axis = |[first, second]: [setup::Point; 2]| (grain.triple(first), grain.triple(second));
        let additions = Self {
            tyre_rate: tyre_rate.as_ref().map(rate),
            rim: rim
                .as_ref()
                .map(|setup::Rim { width, offset }| Rim { width: length(width), offset: length(offset) }),
            brake_disc: brake_disc.as_ref().map(|setup::BrakeDisc { diameter, thickness, inset }| {
                BrakeDisc { diameter: length(diameter), thickness: length(thickness), inset: length(inset) }
            }),
            free_length: free_length.as_ref().map(length),
            rocker: rocker.as_ref().map(|setup::Rocker { id, axis: two, rod_end, carried, on }| Rocker {
                id: id.clone(),
                axis: axis(*two),
                rod_end: grain.triple(*rod_end),
                carried: grain.triple(*carried),
                on: on.clone(),
            }),
            anti_roll_bar: anti_roll_bar.as_ref().map(
                |setup::AntiRollBar { axis: two, arm_end, carried, on, rate: stiffness }| AntiRollBar {
                    axis: axis(*two),
                    arm_end: grain.triple(*arm_end),
                    carried: grain.triple(*carried),
                    on: on.clone(),
                    rate: stiffness.as_ref().map(rate),
                },
            ),
            torsion_bar: torsion_bar.as_ref().map(|setup::TorsionBar { on, rate: stiffness }| TorsionBar {
                on: on.clone(),
                rate: stiffness.as_ref().map(rate),
            }),
            unsprung: Few(unsprung
                .iter()
                .map(|setup::Part { name, mass, share }| Part {
                    name: name.clone(),
                    mass: count(*mass, PART_MASS),
                    share: share.map(|share| count(share, SHARE)),
                })
                .collect()),
            inboard_brakes: *brakes == Brakes::Inboard,
            hub_drive: *drive == Drive::Hub,
            rack_travel: rack_travel.as_ref().map(length),
            bump_travel: bump_travel.as_ref().map(length),
            rebound_travel: rebound_travel.as_ref().map(length),
        };
        (additions != Self::none()).then_some(additions)
    }

    fn none() -> Self {
        Self {
            tyre_rate: None,
            rim: None,
            brake_disc: None,
            free_length: None,
            rocker: None,
            anti_roll_bar: None,
            torsion_bar: None,
            unsprung: Few(Vec::new()),
            inboard_brakes: false,
            hub_drive: false,
            rack_travel: None,
            bump_travel: None,
            rebound_travel: None,
        }
    }

    /// None where a length is that of a spring which is not there.
    fn add_to(self, corner: &mut setup::Corner, grain: Grain) -> Option<()> {
        let length = |length: i64| grain.value(length);
        let rate = |rate: i64| value(rate, RATE);
        let axis = |(first, second): (Triple, Triple)| [grain.point(first), grain.point(second)];
        corner.wheel.tyre_rate = self.tyre_rate.map(rate);
        corner.wheel.rim =
            self.rim.map(|rim| setup::Rim { width: length(rim.width), offset: length(rim.offset) });
        corner.wheel.brake_disc = self.brake_disc.map(|disc| setup::BrakeDisc {
            diameter: length(disc.diameter),
            thickness: length(disc.thickness),
            inset: length(disc.inset),
        });
        if let Some(free_length) = self.free_length {
            corner.spring.as_mut()?.free_length = Some(length(free_length));
        }
        corner.rocker = self.rocker.map(|rocker| setup::Rocker {
            id: rocker.id,
            axis: axis(rocker.axis),
            rod_end: grain.point(rocker.rod_end),
            carried: grain.point(rocker.carried),
            on: rocker.on,
        });
        corner.anti_roll_bar = self.anti_roll_bar.map(|bar| setup::AntiRollBar {
            axis: axis(bar.axis),
            arm_end: grain.point(bar.arm_end),
            carried: grain.point(bar.carried),
            on: bar.on,
            rate: bar.rate.map(rate),
        });
        corner.torsion_bar =
            self.torsion_bar.map(|bar| setup::TorsionBar { on: bar.on, rate: bar.rate.map(rate) });
        let part = |part: Part| setup::Part {
            name: part.name,
            mass: value(part.mass, PART_MASS),
            share: part.share.map(|share| value(share, SHARE)),
        };
        corner.unsprung = self.unsprung.0.into_iter().map(part).collect();
        corner.brakes = if self.inboard_brakes { Brakes::Inboard } else { Brakes::Outboard };
        corner.drive = if self.hub_drive { Drive::Hub } else { Drive::Shaft };
        corner.rack_travel = self.rack_travel.map(length);
        corner.bump_travel = self.bump_travel.map(length);
        corner.rebound_travel = self.rebound_travel.map(length);
        Some(())
    }
}
