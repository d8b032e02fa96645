//! What stands in the way of a corner or of the state asked for, to be drawn where it is.
//!
//! Nothing is computed while nothing is wrong.

use std::sync::Arc;

use geometry_core::{
    linkage::{Linkage, LinkageError},
    setup::{Corner, Side},
    solve::{Gap, Nearest, State},
};
use leptos::prelude::*;

use super::{Session, Solved, Wheels};
use crate::{
    describe,
    edit::PointPath,
    scene::{Placed, trouble::Apart},
    units::Unit,
};

/// mm: a narrower gap would be told as zero.
const TOLD: f64 = 0.05;

/// Handles to what is wrong; copied freely.
#[derive(Clone, Copy)]
pub struct Trouble {
    /// The points of which the corner's fault speaks, while it cannot be read.
    pub faulty: Memo<Vec<PointPath>>,
    /// Where the members of one corner pull apart, while the state asked for is beyond its reach.
    pub apart: Memo<Option<Arc<Apart>>>,
}

impl Trouble {
    pub(super) fn new(
        corner: Memo<Option<Corner>>,
        linkage: Memo<Result<Arc<Linkage>, String>>,
        state: RwSignal<State>,
        solved: Memo<Option<Arc<Solved>>>,
        wheels: Wheels,
    ) -> Self {
        let faulty = Memo::new(move |_| {
            if linkage.with(Result::is_ok) {
                return Vec::new();
            }
            corner.with(|corner| {
                let Some(corner) = corner else { return Vec::new() };
                match Linkage::new(corner, Side::Left) {
                    Ok(_) => Vec::new(),
                    Err(error) => concerned(corner, &error),
                }
            })
        });
        let apart = Memo::new(move |_| {
            let solved = solved.get()?;
            if solved.stopped.is_none() || wheels.active.get() {
                return None;
            }
            let state = state.get();
            corner.with(|corner| apart(corner.as_ref()?, &solved, state).map(Arc::new))
        });
        Self { faulty, apart }
    }
}

/// The points of what an error names: a point, all of a part, or all of a member.
fn concerned(corner: &Corner, error: &LinkageError) -> Vec<PointPath> {
    let fields = error.fields();
    let arms = corner.arms.iter().enumerate().map(|(i, arm)| (&arm.id, format!("arms[{i}].")));
    let links = corner.links.iter().enumerate().map(|(i, link)| (&link.id, format!("links[{i}].")));
    let strut = corner.strut.iter().map(|strut| (&strut.id, "strut.".to_owned()));
    let hinge = corner.hinge.iter().map(|hinge| (&hinge.id, "hinge.".to_owned()));
    let members = arms.chain(links).chain(strut).chain(hinge);
    let of_members: Vec<String> =
        members.filter(|(id, _)| fields.contains(id)).map(|(_, prefix)| prefix).collect();
    let is_named = |path: &PointPath| {
        let path = path.path();
        // A coordinate, as `arms[0].ball_joint[2]`, is its point's.
        fields.iter().any(|field| field.starts_with(&path) || path.starts_with(&format!("{field}.")))
            || of_members.iter().any(|prefix| path.starts_with(prefix))
    };
    PointPath::all(corner).into_iter().filter(is_named).collect()
}

/// How near the corner comes; none where it does come there, assembled another way.
fn apart(corner: &Corner, solved: &Solved, state: State) -> Option<Apart> {
    let nearest = Nearest::to(&solved.linkage, &solved.position, state)?;
    let mut told: Vec<Gap> = Vec::new();
    for gap in &nearest.gaps {
        // A hinge has a gap at each of its pivots; one that would be told as zero is none to speak of.
        if gap.width() >= TOLD && told.iter().all(|other| other.member != gap.member) {
            told.push(*gap);
        }
    }
    let missing = |gap: &Gap| format!("{} by {}", gap.member.id(corner), Unit::Millimetre.show(gap.width()));
    let gaps: Vec<String> = told.iter().map(missing).collect();
    let (last, others) = gaps.split_last()?;
    let all = if others.is_empty() { last.clone() } else { format!("{} and {last}", others.join(", ")) };
    let at = if state.rack == solved.position.state().rack {
        format!("travel {}", Unit::Millimetre.show(state.travel))
    } else {
        describe::at(state.travel, state.rack)
    };
    Some(Apart {
        state,
        placed: Placed::apart(corner, &solved.linkage, &nearest),
        gaps: told,
        sentence: format!("At {at} its parts would at best be apart, as drawn thin: {all}."),
    })
}

impl Session {
    /// Why nothing is told where there is no linkage, as a sentence.
    #[must_use]
    pub fn no_linkage(&self) -> &'static str {
        if self.corner.with(Option::is_none) {
            "This corner is not described yet: choose a layout above to begin."
        } else {
            "No linkage to read: the line above the sheet says why."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::{
        readings::Reader,
        setup::{Axle, example},
        solve::Follower,
    };

    fn front() -> Corner {
        example().front.expect("a front corner")
    }

    #[test]
    fn an_error_leads_to_the_points_that_it_names() {
        let mut corner = front();
        corner.arms[0].front_pivot = corner.arms[0].rear_pivot;
        let error = Linkage::new(&corner, Side::Left).expect_err("two pivots at one place");
        assert_eq!(concerned(&corner, &error), [PointPath::ArmFrontPivot(0), PointPath::ArmRearPivot(0)]);

        let mut corner = front();
        let twin = corner.links[1].clone();
        corner.links[2] = geometry_core::setup::Link { id: "second".into(), ..twin };
        let error = Linkage::new(&corner, Side::Left).expect_err("one link twice");
        let found = concerned(&corner, &error);
        for path in [PointPath::LinkInboard(1), PointPath::LinkInboard(2), PointPath::LinkOutboard(2)] {
            assert!(found.contains(&path), "{error}: {found:?}");
        }
        assert!(!found.contains(&PointPath::WheelCentre));
    }

    #[test]
    fn beyond_its_reach_it_says_what_is_missing_where() {
        let (document, corner) = (example(), front());
        let linkage = Linkage::new(&corner, Side::Left).expect("the demonstration");
        let mut follower = Follower::new(&linkage);
        let asked = State { travel: 400.0, rack: 0.0 };
        let outcome = follower.go_to(asked);
        assert!(outcome.stop().is_some(), "so far it does not go");
        let position = *follower.position();
        let readings = Reader::new(&linkage, &document.vehicle, Axle::Front).read(&position);
        let solved = Solved { linkage, position, readings, stopped: Some(String::new()) };
        let apart = apart(&corner, &solved, asked).expect("nothing reaches so far");
        assert!(apart.gaps[0].width() > 1.0, "{:?}", apart.gaps);
        let widest = format!(
            "{} by {}",
            apart.gaps[0].member.id(&corner),
            Unit::Millimetre.show(apart.gaps[0].width())
        );
        assert!(
            apart.sentence.starts_with("At travel 400.0\u{a0}mm") && apart.sentence.contains(&widest),
            "{}",
            apart.sentence
        );
        let centre = apart.placed.at(PointPath::WheelCentre).expect("the knuckle is drawn");
        assert!((centre.z - corner.wheel.centre[2] - 400.0).abs() < 1e-9);
    }
}
