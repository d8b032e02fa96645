//! The drawing of every layout as text: shapes of the sheet, to a tenth of a pixel.
//!
//! A changed drawing fails here and shows the difference; when the new one was looked at
//! and is right, `INSTA_UPDATE=always cargo test --test snapshots` takes it over.

use std::fmt::Write as _;

use geometry_core::{
    Vec3,
    construction::Construction,
    linkage::Linkage,
    readings::{Quantity, Reader},
    setup::{self, Axle, Corner, Rocker, Side, Vehicle},
    solve::{Follower, Outcome, State},
    statics::{Case, Given, Statics},
};
use web_app::{
    presets::Preset,
    scene::{Layer, Pen, Placed, chosen, construction, forces, labels, markup::markup_of_layers, parts},
    view::{Frame, PanZoom, Sheet, View},
};

/// All three views of a corner at a travel and rack, on a sheet of 900 by 700 pixels; one
/// element a line.
fn drawing(corner: &Corner, vehicle: &Vehicle, axle: Axle, state: State) -> String {
    drawing_with(corner, vehicle, axle, state, None)
}

/// The same with a reading chosen.
fn drawing_with(
    corner: &Corner,
    vehicle: &Vehicle,
    axle: Axle,
    state: State,
    quantity: Option<Quantity>,
) -> String {
    let linkage = Linkage::new(corner, Side::Left).expect("the corner can be assembled");
    let Outcome::Solved(position) = Follower::new(&linkage).go_to(state) else {
        panic!("the state is in reach");
    };
    let readings = Reader::new(&linkage, vehicle, axle).read(&position);
    let placed = Placed::new(corner, Some((&linkage, &position)));
    let found = quantity.and_then(|q| Construction::of(q, corner, &linkage, &position, &readings));
    views(corner, &placed, |pen| match &found {
        Some(found) => chosen::draw(pen, found, &Vec3::from(readings.contact)),
        None => construction::draw(pen, &readings),
    })
}

/// The arrows of a load case instead of the usual lines, in the state that was described.
fn drawing_of_forces(corner: &Corner, vehicle: &Vehicle, axle: Axle, case: &Case) -> String {
    let linkage = Linkage::new(corner, Side::Left).expect("the corner can be assembled");
    let follower = Follower::new(&linkage);
    let position = follower.position();
    let statics = Statics::new(corner, &linkage);
    let loads = statics.loads(case, vehicle, axle).expect("the vehicle is described");
    let found = statics.forces(position, &loads, &Given::default()).expect("the corner is held");
    let pushes: Vec<_> =
        loads.iter().map(|load| (load.at, load.in_axes_of_vehicle(&linkage, position))).collect();
    let placed = Placed::new(corner, Some((&linkage, position)));
    let contact = Vec3::from(Reader::new(&linkage, vehicle, axle).read(position).contact);
    let arrows = forces::arrows(corner, &placed, &contact, &pushes, &found);
    views(corner, &placed, |pen| forces::draw(pen, &arrows))
}

/// All three views of what stands in a position, with something drawn over its parts.
fn views(corner: &Corner, placed: &Placed, over: impl Fn(&mut Pen)) -> String {
    let points = corner.points().into_iter().map(|(_, point)| Vec3::from(point));
    let frame = Frame::around(points, &corner.wheel.centre.into(), corner.wheel.loaded_radius);
    let sheet = Sheet::new(frame, 900.0, 700.0, PanZoom::default());
    let mut text = String::new();
    for view in View::ALL {
        let mut shapes = Vec::new();
        parts::draw(&mut Pen::new(&sheet, view, &mut shapes), corner, placed);
        over(&mut Pen::new(&sheet, view, &mut shapes));
        let mut layers = vec![Layer { class: None, shapes }];
        let leaders = labels::settle(&mut layers, &sheet.pane(view), &[], sheet.letters());
        layers.insert(0, leaders);
        writeln!(text, "-- {}", view.name()).expect("a text takes any text");
        writeln!(text, "{}", markup_of_layers(&layers).replace("><", ">\n<")).expect("a text takes any text");
    }
    text
}

#[test]
fn the_demonstration_is_drawn_as_it_stands_and_in_bump() {
    let document = setup::example();
    for axle in [Axle::Front, Axle::Rear] {
        let corner = document.corner(axle).expect("both axles are described");
        for travel in [0.0, 50.0] {
            let state = State { travel, rack: 0.0 };
            insta::assert_snapshot!(
                format!("example_{}_{travel}", axle.name()),
                drawing(corner, &document.vehicle, axle, state)
            );
        }
    }
}

#[test]
fn a_chosen_reading_is_drawn_instead_of_the_usual_lines() {
    let document = setup::example();
    let corner = document.corner(Axle::Front).expect("a front corner");
    for quantity in [Quantity::RollCentreHeight, Quantity::Caster, Quantity::AntiBrakingFriction] {
        insta::assert_snapshot!(
            format!("chosen_{}", quantity.name()),
            drawing_with(corner, &document.vehicle, Axle::Front, State::DESIGN, Some(quantity))
        );
    }
}

#[test]
fn spring_damper_and_bar_are_drawn_on_a_rocker() {
    let document = setup::example();
    let mut corner = document.front.expect("a front corner");
    corner.rocker = Some(Rocker {
        id: "rocker".into(),
        axis: [[20.0, 430.0, 560.0], [-20.0, 430.0, 560.0]],
        rod_end: [0.0, 500.0, 600.0],
        carried: [0.0, 660.0, 186.0],
        on: "lower-lateral".into(),
    });
    if let Some(spring) = &mut corner.spring {
        (spring.body, spring.carried, spring.on) =
            ([-10.0, 130.0, 590.0], [-10.0, 420.0, 650.0], "rocker".into());
    }
    if let Some(damper) = &mut corner.damper {
        (damper.body, damper.carried, damper.on) =
            ([-10.0, 130.0, 590.0], [-10.0, 420.0, 650.0], "rocker".into());
    }
    if let Some(bar) = &mut corner.anti_roll_bar {
        bar.axis = [[160.0, 360.0, 480.0], [160.0, 0.0, 480.0]];
        (bar.arm_end, bar.carried, bar.on) = ([40.0, 480.0, 480.0], [30.0, 490.0, 560.0], "rocker".into());
    }
    let state = State { travel: 30.0, rack: 0.0 };
    insta::assert_snapshot!("rocker", drawing(&corner, &document.vehicle, Axle::Front, state));
}

#[test]
fn every_layout_is_drawn() {
    for preset in Preset::ALL {
        let corner = preset.corner(Axle::Front, 2600.0);
        let name = preset.name().to_lowercase().replace(|c: char| !c.is_ascii_alphanumeric(), "_");
        let state = State { travel: 20.0, rack: 0.0 };
        insta::assert_snapshot!(
            format!("layout_{name}"),
            drawing(&corner, &setup::example().vehicle, Axle::Front, state)
        );
    }
}

#[test]
fn the_forces_of_braking_are_drawn_as_arrows() {
    let corner = Preset::TwoArms.corner(Axle::Front, 2600.0);
    let vehicle = setup::example().vehicle;
    let case = Case::FrictionBraking { g: 1.0 };
    insta::assert_snapshot!("forces_of_braking", drawing_of_forces(&corner, &vehicle, Axle::Front, &case));
}
