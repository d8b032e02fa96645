//! Documents that nobody would write by hand: broken in any field, degenerate, enormous.

use geometry_core::{
    setup::{Corner, Document, KNUCKLE, Point, VERSION},
    solve::State,
};
use proptest::{collection::vec, num::f64::ANY, option, prelude::*, sample::select};

use crate::{
    checking::vehicle,
    corners::{ALL, drawn},
};

/// Numbers a field may be given: edges of the format, of the bounds, and anything.
pub(crate) fn number() -> impl Strategy<Value = f64> {
    const EDGES: [f64; 20] = [
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        1e300,
        -1e300,
        f64::MAX,
        f64::MIN,
        f64::MIN_POSITIVE,
        5e-324,
        -5e-324,
        1e-310,
        0.0,
        -0.0,
        20_000.0,
        -20_000.0,
        2_000.0,
        50.0,
        45.0,
        -45.0,
        1e-3,
    ];
    prop_oneof![
        3 => select(&EDGES[..]),
        1 => ANY,
        3 => -1_000.0..1_000.0_f64,
        1 => -20_000.0..20_000.0_f64,
    ]
}

/// One thing done to a document.
#[derive(Debug, Clone)]
pub(crate) enum Harm {
    /// A number anywhere in the document is replaced.
    Number(usize, f64),
    /// One point is put at the place of another.
    SamePoint(usize, usize),
    /// A member is named as another, or as the knuckle, or not at all.
    Name(usize, usize),
    /// A member is taken out.
    Removed(usize),
    /// A link is doubled under another name.
    Doubled(usize),
    /// A link steers, or does not.
    Steers(usize),
    /// The spring hangs on anything.
    Carrier(usize),
    /// The whole corner is moved far from the origin.
    Moved(f64),
    /// The whole corner is made larger or smaller.
    Scaled(f64),
    /// Every point goes to the nearest of a coarse grid, so that points coincide and lines
    /// are parallel and meet.
    Grid(f64),
    /// Every point is drawn from the whole range allowed.
    Anywhere(Vec<f64>),
    /// The whole corner in one plane.
    Flat(usize, f64),
}

fn harm() -> impl Strategy<Value = Harm> {
    let index = 0..64_usize;
    prop_oneof![
        6 => (index.clone(), number()).prop_map(|(i, value)| Harm::Number(i, value)),
        2 => (index.clone(), index.clone()).prop_map(|(i, j)| Harm::SamePoint(i, j)),
        1 => (index.clone(), index.clone()).prop_map(|(i, j)| Harm::Name(i, j)),
        1 => index.clone().prop_map(Harm::Removed),
        1 => index.clone().prop_map(Harm::Doubled),
        1 => index.clone().prop_map(Harm::Steers),
        1 => index.clone().prop_map(Harm::Carrier),
        1 => (-25_000.0..25_000.0_f64).prop_map(Harm::Moved),
        1 => (-4.0..3.0_f64).prop_map(|decades| Harm::Scaled(10.0_f64.powf(decades))),
        2 => select(&[50.0, 100.0, 200.0, 400.0][..]).prop_map(Harm::Grid),
        1 => vec(-20_000.0..20_000.0_f64, 64).prop_map(Harm::Anywhere),
        1 => (0..3_usize, -400.0..400.0_f64).prop_map(|(axis, at)| Harm::Flat(axis, at)),
    ]
}

/// Documents of one or two corners with up to five things done to them, and states.
pub(crate) fn document() -> impl Strategy<Value = (Document, Vec<State>)> {
    let states = vec((number(), number()).prop_map(|(travel, rack)| State { travel, rack }), 1..4);
    (drawn(&ALL), option::of(drawn(&ALL)), vec((any::<bool>(), harm()), 0..6), states).prop_map(
        |(front, rear, harms, mut states)| {
            states.push(front.state);
            let mut document = Document {
                cornerwise: VERSION,
                title: String::new(),
                note: String::new(),
                vehicle: vehicle(),
                front: Some(front.corner),
                rear: rear.map(|rear| rear.corner),
                front_right: None,
                rear_right: None,
            };
            for (in_front, harm) in harms {
                apply(&harm, in_front, &mut document);
            }
            (document, states)
        },
    )
}

fn apply(harm: &Harm, in_front: bool, document: &mut Document) {
    if let Harm::Number(i, value) = harm {
        let mut all = numbers(document);
        let count = all.len();
        *all[i % count] = *value;
        return;
    }
    let corner = if in_front { &mut document.front } else { &mut document.rear };
    let Some(corner) = corner else { return };
    let each_point = |corner: &mut Corner, change: &dyn Fn(usize, f64) -> f64| {
        let mut first = 0;
        corner.change_points(|_, point| {
            *point = std::array::from_fn(|j| change(first + j, point[j]));
            first += 3;
        });
    };
    match harm {
        Harm::Number(..) => {}
        Harm::SamePoint(i, j) => {
            let points = corner.points();
            let (place, path) = (points[i % points.len()].1, points[j % points.len()].0);
            *path.get_mut(corner).expect("listed") = place;
        }
        Harm::Name(i, j) => {
            let names: Vec<String> = corner.ids().chain([KNUCKLE, ""]).map(String::from).collect();
            let name = names[i % names.len()].clone();
            if let Some(link) = pick(&mut corner.links, *j) {
                link.id = name;
            } else if let Some(arm) = pick(&mut corner.arms, *j) {
                arm.id = name;
            }
        }
        Harm::Removed(i) if i % 2 == 0 => drop(corner.links.pop()),
        Harm::Removed(_) => drop(corner.arms.pop()),
        Harm::Doubled(i) => {
            if let Some(mut link) = pick(&mut corner.links, *i).cloned() {
                link.id.push_str("-again");
                corner.links.push(link);
            }
        }
        Harm::Steers(i) => {
            if let Some(link) = pick(&mut corner.links, *i) {
                link.steers = !link.steers;
            }
        }
        Harm::Carrier(i) => {
            let names: Vec<String> = corner.ids().chain([KNUCKLE, "nothing"]).map(String::from).collect();
            if let Some(spring) = &mut corner.spring {
                spring.on.clone_from(&names[i % names.len()]);
            }
        }
        Harm::Moved(by) => each_point(corner, &|i, value| if i % 3 == 2 { value } else { value + by }),
        Harm::Scaled(by) => each_point(corner, &|_, value| value * by),
        Harm::Grid(size) => each_point(corner, &|_, value| (value / size).round() * size),
        Harm::Anywhere(values) => each_point(corner, &|i, _| values[i % values.len()]),
        Harm::Flat(axis, at) => each_point(corner, &|i, value| if i % 3 == *axis { *at } else { value }),
    }
}

fn pick<T>(list: &mut [T], index: usize) -> Option<&mut T> {
    let count = list.len().max(1);
    list.get_mut(index % count)
}

/// Every number of a document that stands in it.
fn numbers(document: &mut Document) -> Vec<&mut f64> {
    let vehicle = &mut document.vehicle;
    let mut all: Vec<&mut f64> = [
        &mut vehicle.wheelbase,
        &mut vehicle.mass,
        &mut vehicle.front_mass_share,
        &mut vehicle.cg_height,
        &mut vehicle.brake_front_share,
        &mut vehicle.drive_front_share,
    ]
    .into_iter()
    .flatten()
    .collect();
    for corner in [&mut document.front, &mut document.rear].into_iter().flatten() {
        // One borrow a field: the points' list borrows the whole corner.
        let Corner {
            arms,
            links,
            strut,
            hinge,
            wheel,
            rack_direction,
            spring,
            damper,
            rocker,
            anti_roll_bar,
            ..
        } = corner;
        let mut points: Vec<&mut Point> = Vec::new();
        points
            .extend(arms.iter_mut().flat_map(|a| [&mut a.front_pivot, &mut a.rear_pivot, &mut a.ball_joint]));
        points.extend(links.iter_mut().flat_map(|link| [&mut link.inboard, &mut link.outboard]));
        points.extend(strut.iter_mut().flat_map(|strut| [&mut strut.top_mount, &mut strut.lower_end]));
        points.extend(hinge.iter_mut().flat_map(|hinge| &mut hinge.pivots));
        points.extend(rack_direction);
        points.push(&mut wheel.centre);
        all.extend([&mut wheel.loaded_radius, &mut wheel.camber, &mut wheel.toe]);
        if let Some(spring) = spring {
            points.extend([&mut spring.body, &mut spring.carried]);
            all.extend(&mut spring.rate);
        }
        points.extend(
            rocker.iter_mut().flat_map(|r| r.axis.iter_mut().chain([&mut r.rod_end, &mut r.carried])),
        );
        points.extend(
            anti_roll_bar.iter_mut().flat_map(|b| b.axis.iter_mut().chain([&mut b.arm_end, &mut b.carried])),
        );
        points.extend(damper.iter_mut().flat_map(|damper| [&mut damper.body, &mut damper.carried]));
        all.extend(points.into_iter().flatten());
    }
    all
}
