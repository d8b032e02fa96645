//! Positions that a test must reach.

use geometry_core::solve::{Follower, Outcome, Position, State};

/// The position of a state that must be reached, from where the follower stands.
///
/// # Panics
/// When it is not reached.
#[track_caller]
pub fn go(follower: &mut Follower<'_>, state: State) -> Position {
    match follower.go_to(state) {
        Outcome::Solved(position) => position,
        other => panic!("{state:?} is not reached: {other:?}"),
    }
}
