//! Numbers of a description that a tape, a sign or a unit has more often made than a car: worth a second look.
//!
//! None of them is wrong for that, and nothing is refused: every corner that can be solved is. The limits are common
//! practice, no source; they go with the size of the wheel and are wide, so that hardly a car meets one.

use geometry_core::{
    Vec3,
    setup::{Axle, Corner, Holder},
};

use crate::{
    describe,
    edit::{Coordinate, MemberPath, NumberField, PointPath},
    numbers::format_number,
    units::Unit,
};

/// Loaded radii from the wheel's centre within which a knuckle ends.
const KNUCKLE_REACH: f64 = 1.6;
/// The same for the ends of links at the body, a truck's trailing links among them.
const BODY_REACH: f64 = 6.0;
/// Loaded radii by which pivots are laid beyond the car's middle, a swing axle's among them.
const BEYOND_MIDDLE: f64 = 0.7;
/// Loaded radii under which a pivot would drag.
const CLEARANCE: f64 = 0.1;
/// Loaded radii between the wheel's centre and the car's middle.
const HALF_TRACK: f64 = 0.9;
/// Loaded radii by which the height of the wheel's centre may differ from one, measured apart.
const STANDS: f64 = 0.03;
/// °: wheels are set within this.
const CAMBER: f64 = 8.0;
/// °: as well.
const TOE: f64 = 3.0;

/// A number that is unlikely; lengths in mm, angles in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Oddity {
    /// The wheel's centre is so far from what should be around it, most along this axis.
    WheelApart(Coordinate, f64),
    /// The wheel's centre lies so far beyond the car's middle.
    OtherSide(f64),
    /// The wheel's centre is so near the car's middle.
    Narrow(f64),
    /// The tyre would hang so far above the ground, or be in it where below zero.
    OffTheGround(f64),
    /// Camber.
    Camber(f64),
    /// Toe.
    Toe(f64),
    /// A point of the knuckle is so far from the wheel's centre, most along this axis.
    FarFromWheel(PointPath, Coordinate, f64),
    /// A point of body or members is so far from it.
    FarAway(PointPath, Coordinate, f64),
    /// A point lies across the car's middle by so much.
    AcrossTheMiddle(PointPath, f64),
    /// A point lies so high, which is hardly over the ground, or under it where below zero.
    Low(PointPath, f64),
    /// A member's end at the wheel is farther from the wheel than one of its ends at the body.
    EndsExchanged(MemberPath),
    /// The strut's lower end is above its top mount.
    UpsideDown,
}

/// Where an odd number can be changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In the table of pivots.
    Point(PointPath, Coordinate),
    /// Among the numbers of car and wheel.
    Number(NumberField),
}

impl Place {
    /// The path of the point or number, without a coordinate.
    #[must_use]
    pub fn path(self) -> String {
        match self {
            Self::Point(path, _) => path.path(),
            Self::Number(field) => field.path(),
        }
    }

    /// The name of its field on the page.
    #[must_use]
    pub fn field(self) -> String {
        match self {
            Self::Point(path, coordinate) => format!("{path}.{}", coordinate.letter()),
            Self::Number(field) => field.path(),
        }
    }
}

impl Oddity {
    /// All that is odd about a left corner, or a right one in its mirror image. One cause is told once: where the
    /// wheel's centre is what is wrong, what is measured from it is not told as well.
    #[must_use]
    pub fn of(corner: &Corner) -> Vec<Self> {
        let mut found = of_wheel(corner);
        let wheel = found.iter().any(|one| matches!(one, Self::OtherSide(_)));
        let apart = (!wheel).then(|| wheel_apart(corner)).flatten();
        found.extend(apart);
        let wheel = wheel || apart.is_some();
        found.extend(PointPath::all(corner).into_iter().filter_map(|path| of_point(corner, path, wheel)));
        for member in MemberPath::all(corner) {
            let points = member.points();
            let told = found
                .iter()
                .any(|one| matches!(one.place(Axle::Front), Place::Point(path, _) if points.contains(&path)));
            if !told && !wheel && ends_exchanged(member, corner) {
                let upside_down = member == MemberPath::Strut;
                found.push(if upside_down { Self::UpsideDown } else { Self::EndsExchanged(member) });
            }
        }
        found
    }

    /// The coordinate that it is about; none where it is another number.
    fn point(self) -> Option<(PointPath, Coordinate)> {
        use Coordinate::{Y, Z};
        Some(match self {
            Self::WheelApart(coordinate, _) => (PointPath::WheelCentre, coordinate),
            Self::OtherSide(_) | Self::Narrow(_) => (PointPath::WheelCentre, Y),
            Self::FarFromWheel(path, coordinate, _) | Self::FarAway(path, coordinate, _) => {
                (path, coordinate)
            }
            Self::AcrossTheMiddle(path, _) => (path, Y),
            Self::Low(path, _) => (path, Z),
            // The last point of a member is the one at the wheel.
            Self::EndsExchanged(member) => (*member.points().last()?, Y),
            Self::UpsideDown => (PointPath::StrutLowerEnd, Z),
            Self::OffTheGround(_) | Self::Camber(_) | Self::Toe(_) => return None,
        })
    }

    /// Where it can be changed, in a corner of an axle.
    #[must_use]
    pub fn place(self, axle: Axle) -> Place {
        match (self.point(), self) {
            (Some((path, coordinate)), _) => Place::Point(path, coordinate),
            (None, Self::Camber(_)) => Place::Number(NumberField::Camber(axle)),
            (None, Self::Toe(_)) => Place::Number(NumberField::Toe(axle)),
            (None, _) => Place::Number(NumberField::LoadedRadius(axle)),
        }
    }

    /// How odd it is among its like: more is odder.
    fn size(self) -> f64 {
        match self {
            Self::WheelApart(_, size)
            | Self::OtherSide(size)
            | Self::FarFromWheel(_, _, size)
            | Self::FarAway(_, _, size)
            | Self::AcrossTheMiddle(_, size) => size,
            Self::OffTheGround(size) | Self::Camber(size) | Self::Toe(size) => size.abs(),
            Self::Narrow(size) | Self::Low(_, size) => -size,
            Self::EndsExchanged(_) | Self::UpsideDown => 0.0,
        }
    }

    /// Whether who means this one means the other as well: it speaks of the same and is hardly odder.
    #[must_use]
    pub fn covers(self, other: Self) -> bool {
        let kind = |one: Self| {
            let negative =
                matches!(one, Self::OffTheGround(by) | Self::Camber(by) | Self::Toe(by) if by < 0.0);
            (std::mem::discriminant(&one), one.point().map(|(path, _)| path), negative)
        };
        kind(self) == kind(other) && other.size() <= self.size() + 0.25 * self.size().abs()
    }

    /// What is odd, in a sentence and a question; lengths as the reader writes them.
    #[must_use]
    pub fn words(self, corner: &Corner) -> String {
        let name = |path| format!("“{}”", describe::point_name(path, corner));
        let member = |member: MemberPath| format!("“{}”", member.id(corner).unwrap_or_default());
        let length = |mm: f64| Unit::Millimetre.here().rough(mm);
        let radius = length(corner.wheel.loaded_radius);
        match self {
            Self::WheelApart(_, away) => {
                format!(
                    "The wheel’s centre is {} from the points around it: a sign, or a unit?",
                    length(away)
                )
            }
            Self::OtherSide(by) => {
                format!("The wheel’s centre lies {} beyond the car’s middle: a sign?", length(by))
            }
            Self::Narrow(half) => {
                format!("The wheel’s centre is only {} from the car’s middle: a unit?", length(half))
            }
            Self::OffTheGround(gap) => format!(
                "The wheel’s centre is {} up and the loaded radius {radius}: the tyre would {}.",
                length(corner.wheel.centre[2]),
                if gap > 0.0 {
                    format!("hang {} above the ground", length(gap))
                } else {
                    format!("be {} in the ground", length(-gap))
                }
            ),
            Self::Camber(angle) => format!("Camber is {}°: a digit?", format_number(angle, 1)),
            Self::Toe(angle) => format!(
                "Toe is {}°: degrees of one wheel are meant. 2 mm at the rim of one wheel are about 0.25°, 2 mm over \
                 both wheels half of that.",
                format_number(angle, 1)
            ),
            Self::FarFromWheel(path, _, away) => format!(
                "{} is {} from the wheel’s centre, at a loaded radius of {radius}: a sign, or a unit?",
                name(path),
                length(away)
            ),
            Self::FarAway(path, _, away) => {
                format!("{} is {} from the wheel’s centre: a sign, or a digit?", name(path), length(away))
            }
            Self::AcrossTheMiddle(path, by) => {
                format!("{} lies {} beyond the car’s middle: a sign?", name(path), length(by))
            }
            Self::Low(path, height) if height < 0.0 => {
                format!(
                    "{} lies {} under the ground: is height counted from there?",
                    name(path),
                    length(-height)
                )
            }
            Self::Low(path, height) => {
                format!("{} lies only {} above the ground: a unit?", name(path), length(height))
            }
            Self::EndsExchanged(path) => format!(
                "{} has its end at the wheel farther from the wheel than an end at the body: exchanged?",
                member(path)
            ),
            Self::UpsideDown => {
                format!("{} has its lower end above its top mount: exchanged?", member(MemberPath::Strut))
            }
        }
    }
}

/// What is odd about where the wheel stands and how.
fn of_wheel(corner: &Corner) -> Vec<Oddity> {
    let wheel = &corner.wheel;
    let half = wheel.centre[1];
    let gap = wheel.centre[2] - wheel.loaded_radius * wheel.camber.to_radians().cos();
    let found = [
        (half < 0.0).then_some(Oddity::OtherSide(-half)),
        (0.0..HALF_TRACK * wheel.loaded_radius).contains(&half).then_some(Oddity::Narrow(half)),
        (wheel.camber.abs() > CAMBER).then_some(Oddity::Camber(wheel.camber)),
        (wheel.toe.abs() > TOE).then_some(Oddity::Toe(wheel.toe)),
        (gap.abs() > STANDS * wheel.loaded_radius).then_some(Oddity::OffTheGround(gap)),
    ];
    found.into_iter().flatten().collect()
}

/// What is odd about a point; nothing that is measured from a wheel's centre that is odd itself.
fn of_point(corner: &Corner, path: PointPath, odd_wheel: bool) -> Option<Oddity> {
    let (wheel, radius) = (&corner.wheel, corner.wheel.loaded_radius);
    let point = Vec3::from(path.get(corner).filter(|_| path != PointPath::WheelCentre)?);
    let (along, away) = apart(&point, &Vec3::from(wheel.centre));
    // The nearest to what was measured first. A bar's axis may be told by any two of its points.
    let of_bar = matches!(path, PointPath::BarAxis(_));
    if !odd_wheel && is_far(path, away, radius) {
        Some(match path.holder() {
            Holder::Knuckle => Oddity::FarFromWheel(path, along, away),
            Holder::Body | Holder::Member => Oddity::FarAway(path, along, away),
        })
    } else if !odd_wheel && !of_bar && point.y < -BEYOND_MIDDLE * radius {
        Some(Oddity::AcrossTheMiddle(path, -point.y))
    } else {
        (point.z < CLEARANCE * radius).then_some(Oddity::Low(path, point.z))
    }
}

/// Whether a point is farther from the wheel's centre than what holds it reaches.
fn is_far(path: PointPath, away: f64, radius: f64) -> bool {
    away > radius * if path.holder() == Holder::Knuckle { KNUCKLE_REACH } else { BODY_REACH }
}

/// Whether it is the wheel's centre that is odd, and not all that is around it.
fn wheel_apart(corner: &Corner) -> Option<Oddity> {
    let centre = Vec3::from(corner.wheel.centre);
    let (mut points, mut far, mut sum) = (0.0, 0.0, Vec3::zeros());
    for path in PointPath::all(corner).into_iter().filter(|path| *path != PointPath::WheelCentre) {
        let Some(point) = path.get(corner).map(Vec3::from) else { continue };
        // A corner that has a knuckle's points is judged by these.
        if path.holder() == Holder::Knuckle || corner.hinge.is_some() {
            points += 1.0;
            sum += point;
            if is_far(path, (point - centre).norm(), corner.wheel.loaded_radius) {
                far += 1.0;
            }
        }
    }
    let (along, away) = apart(&(sum / points), &centre);
    (points > 1.0 && far > 0.5 * points).then_some(Oddity::WheelApart(along, away))
}

/// How far two points are from each other, and along which axis most.
fn apart(a: &Vec3, b: &Vec3) -> (Coordinate, f64) {
    let way = a - b;
    (Coordinate::ALL[way.iamax()], way.norm())
}

/// Whether the end at the wheel is farther from the wheel than an end at the body; a strut's, whether it is above.
fn ends_exchanged(member: MemberPath, corner: &Corner) -> bool {
    let away = |path: PointPath| {
        path.get(corner).map(|point| (Vec3::from(point) - Vec3::from(corner.wheel.centre)).norm())
    };
    match member {
        MemberPath::Arm(_) | MemberPath::Link(_) => {
            let points = member.points();
            points.split_last().is_some_and(|(outer, inner)| {
                let outer = away(*outer);
                inner.iter().any(|inner| away(*inner) < outer)
            })
        }
        MemberPath::Strut => {
            corner.strut.as_ref().is_some_and(|strut| strut.top_mount[2] < strut.lower_end[2])
        }
        MemberPath::Hinge | MemberPath::Rocker => false,
    }
}

#[cfg(test)]
mod tests;
