//! Version 1 of the link's bytes: frozen. A field more is a new version with structs of
//! its own ([`additions`] is version 2); these stay, so that old links go on opening.
//!
//! Everything is an integer in a fixed quantum, so that a typed decimal comes back as the
//! same number: lengths in the document's own grain ([`Document::decimals`], a thousandth
//! of a millimetre at the finest), directions in millionths, angles and shares in
//! ten-thousandths, masses in hundredths of a kilogram, rates in thousandths.

pub(super) mod additions;

use std::fmt;

use geometry_core::{
    bounds::MOST_MEMBERS,
    setup::{self, Point},
};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// Decimals of a millimetre that a link carries at most.
const FINEST: u8 = 3;
const DIRECTION: f64 = 1e6;
const ANGLE: f64 = 1e4;
const SHARE: f64 = 1e4;
const MASS: f64 = 1e2;
const RATE: f64 = 1e3;

type Triple = (i64, i64, i64);

/// At most [`MOST_MEMBERS`] of something; more are refused before they are read.
#[derive(Debug, Clone, PartialEq)]
struct Few<T>(Vec<T>);

impl<T: Serialize> Serialize for Few<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Few<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor<T>(std::marker::PhantomData<T>);
        impl<'de, T: Deserialize<'de>> de::Visitor<'de> for Visitor<T> {
            type Value = Few<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "at most {MOST_MEMBERS} members")
            }

            fn visit_seq<A: de::SeqAccess<'de>>(self, mut list: A) -> Result<Few<T>, A::Error> {
                if let Some(length) = list.size_hint().filter(|&length| length > MOST_MEMBERS) {
                    return Err(de::Error::invalid_length(length, &self));
                }
                let mut members = Vec::new();
                while let Some(member) = list.next_element()? {
                    if members.len() == MOST_MEMBERS {
                        return Err(de::Error::invalid_length(members.len() + 1, &self));
                    }
                    members.push(member);
                }
                Ok(Few(members))
            }
        }
        deserializer.deserialize_seq(Visitor(std::marker::PhantomData))
    }
}

/// The whole document.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Document {
    /// Decimals of a millimetre in which lengths are counted, 0 to 3: the fewest that
    /// lose nothing.
    decimals: u8,
    title: String,
    note: String,
    vehicle: Vehicle,
    front: Option<Corner>,
    rear: Option<Corner>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Vehicle {
    wheelbase: Option<i64>,
    mass: Option<i64>,
    front_mass_share: Option<i64>,
    cg_height: Option<i64>,
    brake_front_share: Option<i64>,
    drive_front_share: Option<i64>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Corner {
    arms: Few<Arm>,
    links: Few<Link>,
    strut: Option<Strut>,
    hinge: Option<Hinge>,
    wheel: Wheel,
    rack_direction: Option<Triple>,
    spring: Option<Spring>,
    damper: Option<Damper>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Arm {
    id: String,
    front_pivot: Triple,
    rear_pivot: Triple,
    ball_joint: Triple,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Link {
    id: String,
    inboard: Triple,
    outboard: Triple,
    steers: bool,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Strut {
    id: String,
    top_mount: Triple,
    lower_end: Triple,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Hinge {
    id: String,
    first: Triple,
    second: Triple,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Wheel {
    centre: Triple,
    loaded_radius: i64,
    camber: i64,
    toe: i64,
    tyre: Option<String>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Spring {
    body: Triple,
    carried: Triple,
    on: String,
    rate: Option<i64>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Damper {
    body: Triple,
    carried: Triple,
    on: String,
}

/// The nearest count of quanta. Numbers too large for one saturate and are refused, by
/// name, when the link is read.
#[expect(clippy::cast_possible_truncation, reason = "saturation is what is wanted")]
fn count(value: f64, per_unit: f64) -> i64 {
    (value * per_unit).round() as i64
}

/// The number that so many quanta are: the double nearest to that decimal, since the
/// division of two exact numbers is rounded correctly.
#[expect(clippy::cast_precision_loss, reason = "counts beyond 2^53 are out of every range")]
fn value(count: i64, per_unit: f64) -> f64 {
    count as f64 / per_unit
}

fn per_millimetre(decimals: u8) -> f64 {
    10_f64.powi(i32::from(decimals))
}

/// Lengths of a document in its grain.
#[derive(Clone, Copy)]
struct Grain(f64);

impl Grain {
    fn count(self, length: f64) -> i64 {
        count(length, self.0)
    }

    fn value(self, length: i64) -> f64 {
        value(length, self.0)
    }

    fn triple(self, [x, y, z]: Point) -> Triple {
        (self.count(x), self.count(y), self.count(z))
    }

    fn point(self, (x, y, z): Triple) -> Point {
        [self.value(x), self.value(y), self.value(z)]
    }
}

/// The fewest decimals that lose nothing of version 1's lengths beyond the finest grain.
fn decimals(document: &setup::Document) -> u8 {
    let mut lengths: Vec<f64> = Vec::new();
    lengths.extend(document.vehicle.wheelbase);
    lengths.extend(document.vehicle.cg_height);
    for corner in document.front.iter().chain(&document.rear) {
        lengths.push(corner.wheel.loaded_radius);
        lengths.extend(corner.points().into_iter().flat_map(|(_, point)| point));
    }
    fewest_decimals(&lengths)
}

/// The fewest decimals that lose nothing of some lengths beyond the finest grain.
fn fewest_decimals(lengths: &[f64]) -> u8 {
    let finest = Grain(per_millimetre(FINEST));
    (0..FINEST)
        .find(|&decimals| {
            let grain = Grain(per_millimetre(decimals));
            let tenfold = 10_i64.pow(u32::from(FINEST - decimals));
            lengths.iter().all(|&l| grain.count(l).saturating_mul(tenfold) == finest.count(l))
        })
        .unwrap_or(FINEST)
}

impl Document {
    /// The document in integers; what is finer than a quantum is rounded.
    pub(super) fn of(document: &setup::Document) -> Self {
        // What version 1 has no room for is in `additions`, which takes all apart in full.
        let setup::Document { cornerwise: _, title, note, vehicle, front, rear, .. } = document;
        let decimals = decimals(document);
        let grain = Grain(per_millimetre(decimals));
        Self {
            decimals,
            title: title.clone(),
            note: note.clone(),
            vehicle: Vehicle::of(vehicle, grain),
            front: front.as_ref().map(|corner| Corner::of(corner, grain)),
            rear: rear.as_ref().map(|corner| Corner::of(corner, grain)),
        }
    }

    /// The document it stands for, not yet checked; none when its grain is one that is
    /// never written.
    pub(super) fn document(self) -> Option<setup::Document> {
        if self.decimals > FINEST {
            return None;
        }
        let grain = Grain(per_millimetre(self.decimals));
        Some(setup::Document {
            cornerwise: 1,
            title: self.title,
            note: self.note,
            vehicle: self.vehicle.vehicle(grain),
            front: self.front.map(|corner| corner.corner(grain)),
            rear: self.rear.map(|corner| corner.corner(grain)),
            front_right: None,
            rear_right: None,
        })
    }
}

impl Vehicle {
    fn of(vehicle: &setup::Vehicle, grain: Grain) -> Self {
        let &setup::Vehicle {
            wheelbase,
            mass,
            front_mass_share,
            cg_height,
            brake_front_share,
            drive_front_share,
            ..
        } = vehicle;
        let share = |number: Option<f64>| number.map(|number| count(number, SHARE));
        Self {
            wheelbase: wheelbase.map(|length| grain.count(length)),
            mass: mass.map(|mass| count(mass, MASS)),
            front_mass_share: share(front_mass_share),
            cg_height: cg_height.map(|length| grain.count(length)),
            brake_front_share: share(brake_front_share),
            drive_front_share: share(drive_front_share),
        }
    }

    fn vehicle(self, grain: Grain) -> setup::Vehicle {
        let share = |number: Option<i64>| number.map(|number| value(number, SHARE));
        setup::Vehicle {
            wheelbase: self.wheelbase.map(|length| grain.value(length)),
            mass: self.mass.map(|mass| value(mass, MASS)),
            front_mass_share: share(self.front_mass_share),
            cg_height: self.cg_height.map(|length| grain.value(length)),
            brake_front_share: share(self.brake_front_share),
            drive_front_share: share(self.drive_front_share),
            ..setup::Vehicle::default()
        }
    }
}

impl Corner {
    fn of(corner: &setup::Corner, grain: Grain) -> Self {
        let setup::Corner { arms, links, strut, hinge, wheel, rack_direction, spring, damper, .. } = corner;
        let arm = |setup::Arm { id, front_pivot, rear_pivot, ball_joint }: &setup::Arm| Arm {
            id: id.clone(),
            front_pivot: grain.triple(*front_pivot),
            rear_pivot: grain.triple(*rear_pivot),
            ball_joint: grain.triple(*ball_joint),
        };
        let link = |setup::Link { id, inboard, outboard, steers }: &setup::Link| Link {
            id: id.clone(),
            inboard: grain.triple(*inboard),
            outboard: grain.triple(*outboard),
            steers: *steers,
        };
        let setup::Wheel { centre, loaded_radius, camber, toe, tyre, .. } = wheel;
        Self {
            arms: Few(arms.iter().map(arm).collect()),
            links: Few(links.iter().map(link).collect()),
            strut: strut.as_ref().map(|setup::Strut { id, top_mount, lower_end }| Strut {
                id: id.clone(),
                top_mount: grain.triple(*top_mount),
                lower_end: grain.triple(*lower_end),
            }),
            hinge: hinge.as_ref().map(|setup::Hinge { id, pivots: [first, second] }| Hinge {
                id: id.clone(),
                first: grain.triple(*first),
                second: grain.triple(*second),
            }),
            wheel: Wheel {
                centre: grain.triple(*centre),
                loaded_radius: grain.count(*loaded_radius),
                camber: count(*camber, ANGLE),
                toe: count(*toe, ANGLE),
                tyre: tyre.clone(),
            },
            rack_direction: rack_direction.map(|direction| Grain(DIRECTION).triple(direction)),
            spring: spring.as_ref().map(|setup::Spring { body, carried, on, rate, .. }| Spring {
                body: grain.triple(*body),
                carried: grain.triple(*carried),
                on: on.clone(),
                rate: rate.map(|rate| count(rate, RATE)),
            }),
            damper: damper.as_ref().map(|setup::Damper { body, carried, on }| Damper {
                body: grain.triple(*body),
                carried: grain.triple(*carried),
                on: on.clone(),
            }),
        }
    }

    fn corner(self, grain: Grain) -> setup::Corner {
        let arm = |arm: Arm| setup::Arm {
            id: arm.id,
            front_pivot: grain.point(arm.front_pivot),
            rear_pivot: grain.point(arm.rear_pivot),
            ball_joint: grain.point(arm.ball_joint),
        };
        let link = |link: Link| setup::Link {
            id: link.id,
            inboard: grain.point(link.inboard),
            outboard: grain.point(link.outboard),
            steers: link.steers,
        };
        setup::Corner {
            arms: self.arms.0.into_iter().map(arm).collect(),
            links: self.links.0.into_iter().map(link).collect(),
            strut: self.strut.map(|strut| setup::Strut {
                id: strut.id,
                top_mount: grain.point(strut.top_mount),
                lower_end: grain.point(strut.lower_end),
            }),
            hinge: self.hinge.map(|hinge| setup::Hinge {
                id: hinge.id,
                pivots: [grain.point(hinge.first), grain.point(hinge.second)],
            }),
            rack_direction: self.rack_direction.map(|direction| Grain(DIRECTION).point(direction)),
            spring: self.spring.map(|spring| setup::Spring {
                body: grain.point(spring.body),
                carried: grain.point(spring.carried),
                on: spring.on,
                rate: spring.rate.map(|rate| value(rate, RATE)),
                free_length: None,
            }),
            damper: self.damper.map(|damper| setup::Damper {
                body: grain.point(damper.body),
                carried: grain.point(damper.carried),
                on: damper.on,
            }),
            ..setup::Corner::new(setup::Wheel {
                camber: value(self.wheel.camber, ANGLE),
                toe: value(self.wheel.toe, ANGLE),
                tyre: self.wheel.tyre,
                ..setup::Wheel::new(grain.point(self.wheel.centre), grain.value(self.wheel.loaded_radius))
            })
        }
    }
}
