//! What moves by itself: one thing at a time, from end to end and back, until a hand is put
//! on it. Where the system asks for less motion it goes in a few slow steps.

use std::time::Duration;

use leptos::prelude::*;

use crate::{
    effects::{clock, frames},
    numbers::round_to,
    session::{Moving, Session, Swing},
};

/// Time for one step where motion is to be reduced.
const STEP: Duration = Duration::from_millis(1200);
/// Seconds: a longer time between two frames counts as this long, so that nothing jumps when
/// the page comes back from being hidden.
const LONGEST_FRAME: f64 = 0.1;

/// Sets it going, or stops it.
pub(super) fn toggle(session: Session, moving: Moving) {
    if untrack(|| session.range().plays(moving)) {
        session.range().stop(moving);
        return;
    }
    let reach = session.range().reach(moving).get_untracked();
    let value = untrack(|| session.moved(moving));
    let swing = Swing::from(value, reach.low.at, reach.high.at);
    let run = Run { session, moving, number: session.range().start(moving) };
    if frames::reduced_motion() {
        run.step(swing);
    } else {
        run.wait_for_frame(swing, clock::milliseconds());
    }
}

/// Something on its way.
#[derive(Clone, Copy)]
struct Run {
    session: Session,
    moving: Moving,
    number: u32,
}

impl Run {
    /// Moves it there, unless it was stopped; says whether it goes on.
    fn show(self, swing: Swing) -> bool {
        let goes_on = self.session.range().playing.get_untracked() == Some((self.moving, self.number));
        if goes_on {
            let reach = self.session.range().reach(self.moving).get_untracked();
            // A hundredth of a millimetre or degree is finer than the screen.
            self.session.move_to(self.moving, round_to(swing.value(reach.low.at, reach.high.at), 2));
        }
        goes_on
    }

    fn wait_for_frame(self, swing: Swing, before: f64) {
        frames::next(move |now| {
            let seconds = (0.001 * (now - before)).clamp(0.0, LONGEST_FRAME);
            let swing = swing.after(seconds);
            if self.show(swing) {
                self.wait_for_frame(swing, now);
            }
        });
    }

    fn step(self, swing: Swing) {
        let swing = swing.stepped();
        if self.show(swing) {
            set_timeout(move || self.step(swing), STEP);
        }
    }
}
