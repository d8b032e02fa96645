//! The list of a corner's points is the document's own, and a field's path leads to its point.

use super::*;

/// How many lists of three numbers there are in a text.
fn triples(value: &serde_json::Value) -> usize {
    match value {
        serde_json::Value::Array(all) if all.len() == 3 && all.iter().all(serde_json::Value::is_number) => 1,
        serde_json::Value::Array(all) => all.iter().map(triples).sum(),
        serde_json::Value::Object(all) => all.values().map(triples).sum(),
        _ => 0,
    }
}

#[test]
fn the_list_is_the_documents_own() {
    let mut corner = corner_with_everything();
    // The document's own text has each point of the list under its path, and no other triple of numbers but the rack's.
    let text = serde_json::to_value(&corner).expect("JSON");
    for (path, point) in corner.points() {
        let pointer =
            format!("/{}", path.path().replace("].", "/").replace(['.', '['], "/").replace(']', ""));
        assert_eq!(text.pointer(&pointer), Some(&serde_json::json!(point)), "{path}");
    }
    assert_eq!(triples(&text), corner.points().len() + usize::from(corner.rack_direction.is_some()));
    assert_eq!(corner.points().len(), 26);
    for path in PointPath::all(&corner) {
        *path.get_mut(&mut corner).expect("listed") = [1.0, 2.0, 3.0];
        assert_eq!(path.get(&corner), Some([1.0, 2.0, 3.0]));
    }
    assert!(corner.points().iter().all(|(_, point)| format!("{point:?}") == "[1.0, 2.0, 3.0]"));
}

#[test]
fn a_field_leads_to_its_point() {
    let corner = corner_with_everything();
    assert_eq!(PointPath::of_field("arms[0].ball_joint[2]", &corner), Some(PointPath::ArmBallJoint(0)));
    assert_eq!(PointPath::of_field("hinge.pivots[1]", &corner), Some(PointPath::HingePivot(1)));
    assert_eq!(PointPath::of_field("hinge.pivots[1][0]", &corner), Some(PointPath::HingePivot(1)));
    assert_eq!(PointPath::of_field("rocker.axis[1][2]", &corner), Some(PointPath::RockerAxis(1)));
    assert_eq!(PointPath::of_field("arms[9].ball_joint", &corner), None);
    assert_eq!(PointPath::of_field("wheel.camber", &corner), None);
}

#[test]
fn a_damper_inside_its_spring_goes_along() {
    let mut corner = corner_with_everything();
    assert_eq!(PointPath::SpringBody.twin(&corner), Some(PointPath::DamperBody));
    assert_eq!(PointPath::DamperCarried.twin(&corner), Some(PointPath::SpringCarried));
    assert_eq!(PointPath::ArmBallJoint(0).twin(&corner), None);
    corner.damper.as_mut().expect("a damper").body[2] += 0.5;
    assert_eq!(PointPath::SpringBody.twin(&corner), None);
    corner.spring = None;
    assert_eq!(PointPath::DamperCarried.twin(&corner), None);
}

#[test]
fn what_is_not_there_is_not_found() {
    let mut corner = corner_with_everything();
    for path in [
        PointPath::ArmFrontPivot(7),
        PointPath::ArmRearPivot(usize::MAX),
        PointPath::ArmBallJoint(7),
        PointPath::LinkInboard(7),
        PointPath::LinkOutboard(7),
        PointPath::HingePivot(2),
        PointPath::RockerAxis(2),
        PointPath::BarAxis(usize::MAX),
    ] {
        assert_eq!(path.get(&corner), None);
        assert_eq!(path.get_mut(&mut corner), None);
    }
}
