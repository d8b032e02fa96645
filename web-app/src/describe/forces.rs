//! Loads and forces in words.

mod table;

pub use table::{DROP_LINK, Group, JOINTS, MEMBERS, Row, rod_of, table};

use geometry_core::{
    bounds::{self, Bound},
    setup::{Axle, Corner, Point, RACK_DIRECTION, Side},
    solve::State,
    statics::{Case, Forces, ForcesError, Load, LoadAxes, LoadPoint, ReactedBy, SteeringKick, Support},
};

use super::{beside, doubt};
use crate::{
    numbers::{format_number, shows_zero},
    units::Unit,
};

/// A kind of load case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CaseKind {
    /// The car stands on its wheels.
    Standing,
    /// Through a corner.
    Cornering,
    /// Braking by the friction brakes.
    FrictionBraking,
    /// Braking by regeneration.
    RegenerativeBraking,
    /// Braking by both together.
    BlendedBraking,
    /// Driving forward.
    Driving,
    /// A multiple of the load at rest.
    Bump,
    /// Loads of one's own.
    Free,
}

impl CaseKind {
    /// All of them, in the order of the menu.
    pub const ALL: [Self; 8] = [
        Self::Standing,
        Self::Cornering,
        Self::FrictionBraking,
        Self::RegenerativeBraking,
        Self::BlendedBraking,
        Self::Driving,
        Self::Bump,
        Self::Free,
    ];

    /// Its name in the core.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Standing => "standing",
            Self::Cornering => "cornering",
            Self::FrictionBraking => "friction_braking",
            Self::RegenerativeBraking => "regenerative_braking",
            Self::BlendedBraking => "blended_braking",
            Self::Driving => "driving",
            Self::Bump => "bump",
            Self::Free => "free",
        }
    }

    /// The kind of a case.
    #[must_use]
    pub fn of(case: &Case) -> Self {
        match case {
            Case::Standing {} => Self::Standing,
            Case::Cornering { .. } => Self::Cornering,
            Case::FrictionBraking { .. } => Self::FrictionBraking,
            Case::RegenerativeBraking { .. } => Self::RegenerativeBraking,
            Case::BlendedBraking { .. } => Self::BlendedBraking,
            Case::Driving { .. } => Self::Driving,
            Case::Bump { .. } => Self::Bump,
            Case::Free { .. } => Self::Free,
        }
    }
}

/// A load case and what comes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The case.
    pub case: Case,
    /// The axle of the wheel.
    pub axle: Axle,
    /// Its side; a right corner is led as its image, a left one.
    pub side: Side,
    /// Where the wheel stands.
    pub state: State,
    /// Its loads; none where a number is missing.
    pub loads: Vec<Load>,
    /// The loads where they act, N along the vehicle's axes.
    pub pushes: Vec<(LoadPoint, Point)>,
    /// The forces, or why there are none.
    pub forces: Result<Forces, ForcesError>,
    /// What kicks the steering, where a link steers.
    pub kick: Option<SteeringKick>,
}

/// What a kind of load case is called.
#[must_use]
pub fn kind(kind: CaseKind) -> &'static str {
    match kind {
        CaseKind::Standing => "Standing",
        CaseKind::Cornering => "Cornering",
        CaseKind::FrictionBraking => "Friction braking",
        CaseKind::RegenerativeBraking => "Regenerative braking",
        CaseKind::BlendedBraking => "Blended braking",
        CaseKind::Driving => "Driving",
        CaseKind::Bump => "Over a bump",
        CaseKind::Free => "Loads of your own",
    }
}

/// What the number of a kind of case may be.
#[must_use]
pub fn bound_of(kind: CaseKind) -> Bound {
    if kind == CaseKind::Bump { bounds::TIMES_STATIC } else { bounds::ACCELERATION }
}

/// What the number of a kind of case is, and its unit; none where it has none.
#[must_use]
pub fn number_of(kind: CaseKind) -> Option<(&'static str, &'static str)> {
    match kind {
        CaseKind::Standing | CaseKind::Free => None,
        CaseKind::Cornering => Some(("Lateral acceleration", "g, + wheel outside")),
        CaseKind::FrictionBraking | CaseKind::RegenerativeBraking | CaseKind::BlendedBraking => {
            Some(("Deceleration", "g"))
        }
        CaseKind::Driving => Some(("Acceleration", "g")),
        CaseKind::Bump => Some(("Wheel load", "times that at rest")),
    }
}

/// A force, N.
#[must_use]
pub fn newtons(force: f64) -> String {
    Unit::Newton.show(force)
}

/// The components of a force on the left side in words, without those that are shown as zero.
#[must_use]
pub fn directions(force: Point) -> String {
    let words = [("forward", "back"), ("outboard", "inboard"), ("up", "down")];
    let parts: Vec<String> = force
        .into_iter()
        .zip(words)
        .filter(|(size, _)| !is_none(*size, Unit::Newton))
        .map(|(size, (plus, minus))| {
            format!("{} {}", newtons(size.abs()), if size > 0.0 { plus } else { minus })
        })
        .collect();
    if parts.is_empty() { "no force".into() } else { parts.join(", ") }
}

/// What the sign of a force along a member means.
#[must_use]
pub fn along(tension: f64) -> &'static str {
    one_of(tension, ["pulled", "pushed", "no force"])
}

/// One of the words for a force above, below and shown as zero.
fn one_of(force: f64, [above, below, none]: [&'static str; 3]) -> &'static str {
    if is_none(force, Unit::Newton) {
        none
    } else if force > 0.0 {
        above
    } else {
        below
    }
}

/// Whether a force is shown as zero, in the reader's unit.
fn is_none(force: f64, unit: Unit) -> bool {
    shows_zero(&unit.here().number(force))
}

fn held_by(load: &Load) -> &'static str {
    match load.reacted_by {
        ReactedBy::Knuckle => "the knuckle holds its torque",
        ReactedBy::Shaft => "a shaft holds its torque",
        ReactedBy::Nothing => "the wheel rolls freely",
    }
}

fn at(point: LoadPoint) -> &'static str {
    match point {
        LoadPoint::Contact => "at the contact",
        LoadPoint::WheelCentre => "at the wheel centre",
    }
}

/// The load case in a sentence: what happens and what pushes the wheel.
#[must_use]
pub fn sentence(found: &Found) -> String {
    let wheel = match (found.axle, found.side) {
        (Axle::Front, Side::Left) => "front left wheel",
        (Axle::Front, Side::Right) => "front right wheel",
        (Axle::Rear, Side::Left) => "rear left wheel",
        (Axle::Rear, Side::Right) => "rear right wheel",
    };
    let g = |g: &f64| format!("{} g", format_number(*g, 2));
    let what = match &found.case {
        Case::Standing {} => format!("The car stands; {wheel}"),
        Case::Cornering { g: a } => {
            let side = if *a < 0.0 { "inside" } else { "outside" };
            format!("Cornering at {}, the {wheel} on the {side}", g(&a.abs()))
        }
        Case::FrictionBraking { g: a } => format!("Braking at {} by the friction brakes; {wheel}", g(a)),
        Case::RegenerativeBraking { g: a } => format!("Braking at {} by regeneration; {wheel}", g(a)),
        Case::BlendedBraking { g: a } => {
            format!("Braking at {} by friction brakes and regeneration together; {wheel}", g(a))
        }
        Case::Driving { g: a } => format!("Driving at {}; {wheel}", g(a)),
        Case::Bump { times } => {
            format!("Over a bump, {} times the load at rest; {wheel}", format_number(*times, 2))
        }
        Case::Free { .. } => format!("Loads of your own; {wheel}"),
    };
    let ground = !matches!(found.case, Case::Free { .. });
    let up: f64 = found.loads.iter().map(|load| load.force[2]).sum();
    let lifted = ground && !found.loads.is_empty() && up.abs() < 0.5;
    let loads: Vec<String> = found
        .loads
        .iter()
        .map(|load| {
            let force = format!("{} {}", directions(load.force), at(load.at));
            // A force straight up turns nothing worth a word.
            let [x, y, _] = load.force;
            if x == 0.0 && y == 0.0 {
                return force;
            }
            let wheel = if load.axes == LoadAxes::Wheel { "counted along the wheel; " } else { "" };
            format!("{force} ({wheel}{})", held_by(load))
        })
        .collect();
    let loads = if loads.is_empty() { "nothing".into() } else { loads.join("; and ") };
    let who = if ground { "the ground pushes it with" } else { "it is pushed with" };
    let left_ground = if lifted { " The wheel has left the ground." } else { "" };
    format!(
        "{what}: {who} {loads}. {}.{left_ground}",
        super::capital(&super::at(found.state.travel, found.state.rack))
    )
}

/// What carries the wheel's height.
#[must_use]
pub fn support(forces: &Forces) -> String {
    match forces.support {
        Support::Spring => "The spring carries the wheel.".into(),
        Support::TorsionBar => "The torsion bar carries the wheel.".into(),
        Support::WheelCentre => format!(
            "No spring or torsion bar carries the wheel here, so it is held by a force of {} at the wheel centre \
             instead; describe a spring under Pivots for the true forces.",
            directions([0.0, 0.0, forces.held_at_wheel_centre.unwrap_or_default()])
        ),
    }
}

/// How near to balance the parts are, honestly.
#[must_use]
pub fn balance(imbalance: f64) -> String {
    if imbalance <= 0.0 {
        return "Balance: every part cut free is in balance, nothing is left over.".into();
    }
    #[expect(clippy::cast_possible_truncation, reason = "a double's exponent")]
    let exponent = imbalance.log10().floor() as i32;
    let digits = format_number(imbalance / 10_f64.powi(exponent), 0);
    format!(
        "Balance: of any part cut free, at most {digits}·10{} of the largest force is left over, which is rounding.",
        raised(exponent)
    )
}

fn raised(exponent: i32) -> String {
    let digit = |c: char| match c {
        '-' => '⁻',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        c => c.to_digit(10).and_then(|d| char::from_u32(0x2070 + d)).unwrap_or(c),
    };
    exponent.to_string().chars().map(digit).collect()
}

/// Which way a force on the rack, told in a unit, pushes it. A right corner's image has its left where the car
/// has its right.
#[must_use]
pub fn rack(force: f64, unit: Unit, corner: &Corner, side: Side) -> &'static str {
    let [_, y, _] = corner.rack_direction.unwrap_or(RACK_DIRECTION);
    if is_none(force, unit) {
        "no force"
    } else if y == 0.0 {
        if force > 0.0 { "in the rack’s direction" } else { "against the rack’s direction" }
    } else if ((force > 0.0) == (y > 0.0)) == (side == Side::Left) {
        "pushes the rack to the left"
    } else {
        "pushes the rack to the right"
    }
}

/// What kicks the steering: a name for tests, what the car does, and the force, N per kN.
#[must_use]
pub fn kick(kick: &SteeringKick) -> [(&'static str, &'static str, f64); 3] {
    [
        ("driving", "driving", kick.driving),
        ("regenerative_braking", "braking, regeneration", kick.regenerative_braking),
        ("friction_braking", "braking, friction brakes", kick.friction_braking),
    ]
}

/// Such a force with its unit.
#[must_use]
pub fn kicked(force: f64) -> String {
    Unit::NewtonPerKilonewton.show(force)
}

/// How far it is from the reference's, in words.
#[must_use]
pub fn kick_differs(by: f64) -> String {
    beside::by(by, &kicked(by))
}

/// How uncertain that is.
#[must_use]
pub fn doubt_of_kick_difference(by: f64, uncertainty: f64) -> String {
    doubt::of_difference(by, uncertainty, Unit::NewtonPerKilonewton)
}

/// How uncertain such a force is, beside it.
#[must_use]
pub fn doubt_of_kick(force: f64, uncertainty: f64) -> String {
    doubt::doubted(force, uncertainty, Unit::NewtonPerKilonewton)
}

#[cfg(test)]
mod tests {
    use geometry_core::{
        linkage::Linkage,
        setup::example,
        solve::Follower,
        statics::{Given, Statics},
    };

    use super::*;

    fn found(case: Case, axle: Axle) -> (Corner, Found) {
        let document = example();
        let corner = document.corner(axle).expect("a corner").clone();
        let linkage = Linkage::new(&corner, Side::Left).expect("a linkage");
        let position = *Follower::new(&linkage).position();
        let statics = Statics::new(&corner, &linkage);
        let loads = statics.loads(&case, &document.vehicle, axle).expect("all is given");
        let forces = statics.forces(&position, &loads, &Given::default());
        let kick = statics.steering_kick(&position);
        (
            corner.clone(),
            Found { case, axle, side: Side::Left, state: State::DESIGN, loads, pushes: vec![], forces, kick },
        )
    }

    #[test]
    fn cases_are_said_in_sentences() {
        let says = |case| sentence(&found(case, Axle::Front).1).replace('\u{a0}', " ");
        // 1480 kg, 44 % in front, half of it on this wheel, 9.80665 m/s².
        assert_eq!(
            says(Case::Standing {}),
            "The car stands; front left wheel: the ground pushes it with 3193 N up at the contact. Travel 0.0 mm, rack 0.0 mm."
        );
        let corner = says(Case::Cornering { g: -0.9 });
        assert!(corner.starts_with("Cornering at 0.90 g, the front left wheel on the inside: "), "{corner}");
        assert!(corner.contains("N outboard") && corner.contains("the wheel rolls freely"), "{corner}");
        let braking = says(Case::FrictionBraking { g: 1.0 });
        assert!(braking.contains("N back") && braking.contains("the knuckle holds its torque"), "{braking}");
        let regeneration = says(Case::RegenerativeBraking { g: 0.3 });
        assert!(regeneration.contains("a shaft holds its torque"), "{regeneration}");
        let blended = says(Case::BlendedBraking { g: 0.6 });
        assert!(blended.contains("the knuckle holds its torque); and "), "{blended}");
        assert!(blended.contains("a shaft holds its torque") && !blended.contains("left the ground"));
        assert!(says(Case::Driving { g: 9.0 }).ends_with("The wheel has left the ground."));
        assert!(says(Case::Free { loads: vec![] }).contains("it is pushed with nothing"));
    }

    #[test]
    fn the_table_has_every_member_with_the_sign_in_words() {
        let (corner, found) = found(Case::FrictionBraking { g: 1.0 }, Axle::Front);
        let forces = found.forces.expect("all is given");
        let groups = table(&corner, Side::Left, &forces);
        let row = |key: &str| {
            let rows = groups.iter().flat_map(|group| &group.rows);
            rows.clone().find(|row| row.key == key).unwrap_or_else(|| panic!("no {key}")).clone()
        };
        for (i, link) in forces.links.iter().enumerate() {
            let row = row(&format!("links[{i}]"));
            assert_eq!(row.value, link.axial);
            assert_eq!(row.words, if link.axial > 0.0 { "pulled" } else { "pushed" });
        }
        assert_eq!(row("spring").value, -forces.spring.expect("it carries"));
        assert_eq!(row("spring").words, "pushed");
        assert_eq!(row("damper").words, "none is given");
        assert!(row("anti_roll_bar").words.starts_with("none is given: "));
        for key in ["arms[0].ball_joint", "arms[0].first", "arms[0].second", "arms[0].along", "rack"] {
            assert!(row(key).value.is_finite());
        }
        let keys: Vec<&String> = groups.iter().flat_map(|group| &group.rows).map(|row| &row.key).collect();
        let mut apart = keys.clone();
        apart.sort();
        apart.dedup();
        assert_eq!(apart.len(), keys.len(), "a key stands for one row: {keys:?}");
    }

    #[test]
    fn words_of_signs_and_sizes() {
        assert_eq!(directions([-1.0, 0.2, 3.0]).replace('\u{a0}', " "), "1 N back, 3 N up");
        assert_eq!(directions([0.0; 3]), "no force");
        assert_eq!((along(3.0), along(-3.0), along(0.1)), ("pulled", "pushed", "no force"));
        assert!(balance(0.0).contains("nothing is left over"));
        assert!(balance(2.2e-16).contains("2·10⁻¹⁶"), "{}", balance(2.2e-16));
        let mut corner = example().front.expect("a corner");
        assert_eq!(rack(100.0, Unit::Newton, &corner, Side::Left), "pushes the rack to the left");
        assert_eq!(rack(100.0, Unit::Newton, &corner, Side::Right), "pushes the rack to the right");
        corner.rack_direction = Some([0.0, -1.0, 0.0]);
        assert_eq!(rack(100.0, Unit::Newton, &corner, Side::Left), "pushes the rack to the right");
        corner.rack_direction = Some([1.0, 0.0, 0.0]);
        assert_eq!(rack(-100.0, Unit::Newton, &corner, Side::Left), "against the rack’s direction");
    }
}
