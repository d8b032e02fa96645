//! The wheel's envelope turns with the hub and goes where the knuckle goes.

use geometry_core::{
    readings::spin_axis,
    setup::{BrakeDisc, Rim, Side},
    springing::Missing,
    wheel::{Disc, Envelope},
};

use crate::{
    checking::{at, close, for_all, linkage, solved},
    corners::{ALL, drawn},
};

/// A joint's distance from the hub axis and its place along it are the same in every position
/// and in the mirror image.
#[test]
fn joints_keep_their_places_about_the_hub() {
    for_all(200, &drawn(&ALL), |mut case| {
        case.corner.wheel.tyre = Some("235/40 R18".into());
        case.corner.wheel.rim = Some(Rim { width: 216.0, offset: 42.0 });
        case.corner.wheel.brake_disc = Some(BrakeDisc { diameter: 340.0, thickness: 28.0, inset: 22.0 });
        let found = Envelope::of(&case.corner, Side::Left);
        assert_eq!(found.missing, [Missing::UnsprungParts]);
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        let (centre, spin) = (position.wheel_centre(), spin_axis(&linkage, &position));
        let members =
            case.corner.arms.len() + case.corner.links.len() + usize::from(case.corner.strut.is_some());
        assert!(found.joints.len() >= members);
        for joint in &found.joints {
            let arm = position.carry(&linkage, &at(joint.point)) - centre;
            close(&joint.path, joint.inboard, -arm.dot(&spin), 1e-9);
            close(&joint.path, joint.from_hub_axis, arm.cross(&spin).norm(), 1e-9);
            let (inside, to_rim) = joint.inside_barrel.zip(joint.to_rim).expect("the rim is given");
            let barrel = found.barrel.expect("the rim is given");
            let between = joint.inboard <= barrel.inboard_edge && joint.inboard >= barrel.outboard_edge;
            assert_eq!(inside, between && to_rim > 0.0, "{joint:?}");
        }
        let mirrored = Envelope::of(&case.corner.mirrored(), Side::Right);
        assert_eq!((mirrored.barrel, mirrored.disc), (found.barrel, found.disc));
        for (one, other) in found.joints.iter().zip(&mirrored.joints) {
            close(&one.path, other.inboard, one.inboard, 1e-9);
            close(&one.path, other.from_hub_axis, one.from_hub_axis, 1e-9);
            let (a, b) = one.to_disc.zip(other.to_disc).expect("the disc is given");
            close(&one.path, b, a, 1e-9);
        }
    });
}

/// The distance to the disc is that to the nearest of many points of its outline.
#[test]
fn the_distance_to_the_disc_is_that_to_its_nearest_place() {
    let places = (100.0..200.0_f64, 8.0..40.0_f64, -40.0..60.0_f64, 0.0..300.0_f64, -150.0..150.0_f64);
    for_all(200, &places, |(radius, thickness, inset, from_axis, along)| {
        let corner = {
            let mut corner = crate::corners::plain(crate::corners::Layout::TwoArms);
            let [x, y, z] = corner.wheel.centre;
            (corner.wheel.camber, corner.wheel.toe) = (0.0, 0.0);
            corner.wheel.brake_disc = Some(BrakeDisc { diameter: 2.0 * radius, thickness, inset });
            corner.arms[0].ball_joint = [x, y - along, z - from_axis];
            corner
        };
        let found = Envelope::of(&corner, Side::Left);
        let Disc { inboard_face, outboard_face, .. } = found.disc.expect("given");
        let joint = &found.joints[0];
        close("along", joint.inboard, along, 1e-9);
        close("from the axis", joint.from_hub_axis, from_axis, 1e-9);
        let outline = (0..=4000).map(|i| f64::from(i) / 4000.0).flat_map(|share| {
            let across = outboard_face + share * (inboard_face - outboard_face);
            [[outboard_face, share * radius], [inboard_face, share * radius], [across, radius]]
        });
        let nearest = outline.map(|[a, r]| (a - along).hypot(r - from_axis)).fold(f64::INFINITY, f64::min);
        let inside = from_axis < radius && along < inboard_face && along > outboard_face;
        let expected = if inside { -nearest } else { nearest };
        // The outline's points stand at most 0.05 mm apart.
        close("to the disc", joint.to_disc.expect("given"), expected, 0.025);
    });
}

/// What the document does not say, the envelope says that it needs; nothing is invented.
#[test]
fn what_the_envelope_needs_is_said() {
    let mut corner = crate::corners::plain(crate::corners::Layout::StrutAndArm);
    let found = Envelope::of(&corner, Side::Left);
    assert!(found.barrel.is_none() && found.disc.is_none() && found.tyre.is_none());
    let all = [Missing::Tyre, Missing::Rim, Missing::BrakeDisc, Missing::UnsprungParts];
    assert_eq!(found.missing, all);
    assert!(found.joints.iter().any(|joint| joint.path == "strut.lower_end"));
    corner.wheel.tyre = Some("eighteen inches".into());
    assert!(Envelope::of(&corner, Side::Left).missing.contains(&Missing::TyreSize));
    corner.wheel.tyre = Some("195/65 R15 91H".into());
    let tyre = Envelope::of(&corner, Side::Left).tyre.expect("a size");
    let (across, up): (Vec<f64>, Vec<f64>) = tyre.outline.iter().map(|[a, r]| (*a, *r)).unzip();
    let widest = across.iter().copied().fold(0.0, f64::max);
    close("width", 2.0 * widest, 195.0, 1e-9);
    close("radius", up.iter().copied().fold(0.0, f64::max), 317.5, 1e-9);
    close("bead", up.iter().copied().fold(f64::INFINITY, f64::min), 190.5, 1e-9);
}
