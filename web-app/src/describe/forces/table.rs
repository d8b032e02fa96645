//! All forces of a corner as lines of a table, by member, with signs and directions in words.

use geometry_core::{
    Vec3,
    setup::{Corner, Point, Side},
    statics::{Forces, PivotForces},
};

use super::{along, directions, one_of, rack};
use crate::{
    describe::{beside, doubt},
    edit::PointPath,
    units::Unit,
};

/// What kind of number stands in a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// One with a sign.
    Signed,
    /// The size of something.
    Size,
    /// The size of a vector, here in the car's axes.
    SizeOf(Point),
}

/// One line of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// A name for tests.
    pub key: String,
    /// Whose force it is.
    pub name: String,
    /// N or N·m.
    pub unit: Unit,
    /// The number.
    pub value: f64,
    /// What kind of number.
    pub kind: Kind,
    /// The sign, or the direction, in words.
    pub words: String,
    /// The point it belongs to.
    pub path: Option<PointPath>,
}

impl Row {
    /// Number with unit.
    #[must_use]
    pub fn shown(&self) -> String {
        self.unit.show(self.value)
    }

    /// How uncertain it is, beside its number.
    #[must_use]
    pub fn doubt(&self, uncertainty: f64) -> String {
        // Of a size no sign is in doubt.
        let value = if self.kind == Kind::Signed { self.value } else { f64::INFINITY };
        doubt::doubted(value, uncertainty, self.unit)
    }

    /// The components of what it is the size of.
    #[must_use]
    pub fn components(&self) -> Option<Point> {
        match self.kind {
            Kind::SizeOf(vector) => Some(vector),
            Kind::Signed | Kind::Size => None,
        }
    }

    /// How uncertain the difference from the reference's is; none where [`Self::difference`] is none.
    #[must_use]
    pub fn doubt_of_difference(&self, reference: &[Group], uncertainty: f64) -> Option<String> {
        let by = self.value - self.same(reference)?.value;
        Some(doubt::of_difference(by, uncertainty, self.unit))
    }

    /// The same member's in the reference.
    fn same<'a>(&self, reference: &'a [Group]) -> Option<&'a Self> {
        let mut rows = reference.iter().flat_map(|group| &group.rows);
        rows.find(|row| row.key == self.key && row.name == self.name)
    }

    /// How it differs from the same member's in the reference, of a size how much larger it is; none where the
    /// reference has no such member.
    #[must_use]
    pub fn difference(&self, reference: &[Group]) -> Option<String> {
        let by = self.value - self.same(reference)?.value;
        Some(beside::by(by, &self.unit.show(by)))
    }
}

/// Lines that belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// What heads them.
    pub title: &'static str,
    /// The lines.
    pub rows: Vec<Row>,
}

/// What heads the forces along the members.
pub const MEMBERS: &str = "Along the members, + pulled, − pushed";

/// What heads those of the joints.
pub const JOINTS: &str = "Joints: what each pushes the knuckle with";

/// The table of all forces of a corner, by member.
#[must_use]
pub fn table(corner: &Corner, side: Side, forces: &Forces) -> Vec<Group> {
    let groups = [
        Group { title: MEMBERS, rows: members(forces) },
        Group { title: JOINTS, rows: joints(forces) },
        Group { title: "What the body is pushed with", rows: body(corner, forces) },
        Group { title: "Steering and moments", rows: moments(corner, side, forces) },
    ];
    groups.into_iter().filter(|group| !group.rows.is_empty()).collect()
}

/// What the drop link of an anti-roll bar is called.
pub const DROP_LINK: &str = "anti-roll bar, drop link";

/// What the rod of a rocker is called.
#[must_use]
pub fn rod_of(rocker: &str) -> String {
    format!("{rocker}, its rod")
}

fn axial(key: impl Into<String>, name: impl Into<String>, tension: f64, path: PointPath) -> Row {
    Row {
        key: key.into(),
        name: name.into(),
        unit: Unit::Newton,
        value: tension,
        kind: Kind::Signed,
        words: along(tension).into(),
        path: Some(path),
    }
}

fn vector(key: impl Into<String>, name: impl Into<String>, force: Point, path: Option<PointPath>) -> Row {
    let size = Vec3::from(force).norm();
    Row {
        key: key.into(),
        name: name.into(),
        unit: Unit::Newton,
        value: size,
        kind: Kind::SizeOf(force),
        words: directions(force),
        path,
    }
}

fn moment(key: impl Into<String>, name: impl Into<String>, value: f64, words: &str) -> Row {
    Row {
        key: key.into(),
        name: name.into(),
        unit: Unit::NewtonMetre,
        value,
        kind: Kind::Signed,
        words: words.into(),
        path: None,
    }
}

fn members(forces: &Forces) -> Vec<Row> {
    let mut rows = Vec::new();
    for (i, link) in forces.links.iter().enumerate() {
        let (id, outboard, inboard) = (&link.id, PointPath::LinkOutboard(i), PointPath::LinkInboard(i));
        let bare = (link.axial - link.axial_inboard).abs() < 0.5;
        if bare {
            rows.push(axial(format!("links[{i}]"), id, link.axial, outboard));
        } else {
            // What stands on it makes its two ends differ.
            rows.push(axial(format!("links[{i}]"), format!("{id}, outboard end"), link.axial, outboard));
            let name = format!("{id}, inboard end");
            rows.push(axial(format!("links[{i}].inboard"), name, link.axial_inboard, inboard));
        }
    }
    if let Some(force) = forces.spring {
        rows.push(axial("spring", "spring", -force, PointPath::SpringCarried));
    }
    if let Some(force) = forces.damper {
        let mut row = axial("damper", "damper", -force, PointPath::DamperCarried);
        if force == 0.0 {
            row.words = "none is given".into();
        }
        rows.push(row);
    }
    if let Some(rocker) = &forces.rocker {
        let name = rod_of(&rocker.id);
        rows.push(axial("rocker.rod", name, rocker.rod, PointPath::RockerCarried));
    }
    if let Some(force) = forces.drop_link {
        let mut row = axial("anti_roll_bar", DROP_LINK, force, PointPath::BarCarried);
        if force == 0.0 {
            row.words = "none is given: the load case takes its force, not its rate".into();
        }
        rows.push(row);
    }
    rows
}

fn joints(forces: &Forces) -> Vec<Row> {
    let arms = forces.arms.iter().enumerate().map(|(i, arm)| {
        let key = format!("arms[{i}].ball_joint");
        vector(key, format!("{}, ball joint", arm.id), arm.on_knuckle, Some(PointPath::ArmBallJoint(i)))
    });
    let links = forces.links.iter().enumerate().map(|(i, link)| {
        let key = format!("links[{i}].outboard");
        vector(key, format!("{}, outboard", link.id), link.on_knuckle, Some(PointPath::LinkOutboard(i)))
    });
    let held = forces.held_at_wheel_centre.map(|force| {
        vector("held", "held at the wheel centre", [0.0, 0.0, force], Some(PointPath::WheelCentre))
    });
    arms.chain(links).chain(held).collect()
}

fn pivots(key: &str, name: &str, places: [(&str, PointPath); 2], forces: &PivotForces) -> [Row; 3] {
    let [(first, first_path), (second, second_path)] = places;
    let mut along = vector(format!("{key}.along"), format!("{name}, along its axis"), forces.along, None);
    along.words = format!("{}; both pivots together", along.words);
    [
        vector(format!("{key}.first"), format!("{name}, {first}"), forces.first, Some(first_path)),
        vector(format!("{key}.second"), format!("{name}, {second}"), forces.second, Some(second_path)),
        along,
    ]
}

fn body(corner: &Corner, forces: &Forces) -> Vec<Row> {
    let mut rows = Vec::new();
    for (i, arm) in forces.arms.iter().enumerate() {
        let places =
            [("front pivot", PointPath::ArmFrontPivot(i)), ("rear pivot", PointPath::ArmRearPivot(i))];
        rows.extend(pivots(&format!("arms[{i}]"), &arm.id, places, &arm.on_body));
    }
    for (i, link) in forces.links.iter().enumerate() {
        let place = if link.steers && forces.rack.is_some() { "inboard, on the rack" } else { "inboard" };
        let key = format!("links[{i}].on_body");
        let path = Some(PointPath::LinkInboard(i));
        rows.push(vector(key, format!("{}, {place}", link.id), link.on_body, path));
    }
    if let Some(strut) = &forces.strut {
        let name = format!("{}, top mount, across the strut", strut.id);
        rows.push(vector("strut.across", name, strut.across, Some(PointPath::StrutTopMount)));
        let name = format!("{}, along the strut by what stands on it", strut.id);
        let mut along = vector("strut.along", name, [0.0, 0.0, strut.along], Some(PointPath::StrutTopMount));
        let words = ["up along the strut", "down along the strut", "no force"];
        along.words = one_of(strut.along, words).into();
        rows.push(along);
    }
    if let Some(hinge) = &forces.hinge {
        let places = [("first pivot", PointPath::HingePivot(0)), ("second pivot", PointPath::HingePivot(1))];
        rows.extend(pivots("hinge", &hinge.id, places, &hinge.on_body));
    }
    if let Some(rocker) = &forces.rocker {
        let places = [("axis, first", PointPath::RockerAxis(0)), ("axis, second", PointPath::RockerAxis(1))];
        rows.extend(pivots("rocker", &rocker.id, places, &rocker.on_body));
    }
    if let (Some(force), Some(spring)) = (forces.spring, &corner.spring) {
        // Its ends as they are drawn tell the direction; the size is the spring's.
        let words = one_of(force, ["pushes", "pulls", "no force"]);
        rows.push(Row {
            key: "spring.body".into(),
            name: "spring, body end".into(),
            unit: Unit::Newton,
            value: force.abs(),
            kind: Kind::Size,
            words: format!("{words} along the spring (from {})", spring.on),
            path: Some(PointPath::SpringBody),
        });
    }
    rows
}

fn moments(corner: &Corner, side: Side, forces: &Forces) -> Vec<Row> {
    let mut rows = Vec::new();
    if let Some(force) = forces.rack {
        rows.push(Row {
            key: "rack".into(),
            name: "rack, by this side’s tie rod".into(),
            unit: Unit::Newton,
            value: force,
            kind: Kind::Signed,
            words: rack(force, Unit::Newton, corner, side).into(),
            path: None,
        });
    }
    if forces.shaft_torque != 0.0 {
        let words = if forces.shaft_torque > 0.0 { "drives the wheel" } else { "holds the wheel back" };
        rows.push(moment("shaft", "shaft torque on the wheel", forces.shaft_torque, words));
    }
    if let Some(strut) = &forces.strut {
        let name = format!("{}, bending at the lower end", strut.id);
        rows.push(Row { kind: Kind::Size, ..moment("strut.bending", name, strut.bending, "size") });
    }
    if let Some(size) = forces.torsion_bar {
        rows.push(moment("torsion_bar", "torsion bar", size, "right-handed about its part’s axis"));
    }
    for (i, link) in forces.links.iter().enumerate() {
        let size = Vec3::from(link.moment_on_body).norm();
        if size >= 0.05 {
            let name = format!("{}, twist at the inboard end", link.id);
            let row = moment(format!("links[{i}].moment"), name, size, "held by the joint");
            rows.push(Row { kind: Kind::SizeOf(link.moment_on_body), ..row });
        }
    }
    rows
}
