//! Undo and redo over anything that can be cloned and compared.
//!
//! One entry stands for one gesture: a drag, a run of arrow keys, the typing in one
//! field. The present state is kept by the caller; the history holds what was before and
//! what was undone. It has no clock: the time is passed in.

use std::collections::VecDeque;

/// The most steps that can be undone; the oldest are forgotten first.
pub const MOST_ENTRIES: usize = 500;

/// Milliseconds of stillness after which a repeated gesture counts as a new one.
pub const STILLNESS: f64 = 1_000.0;

/// What several changes belong to, so that one undo takes them back together. The number
/// tells gestures of one kind apart: a counter for drags, the field's key for typing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Gesture {
    /// Something held down, as in a drag: one entry however long it rests.
    Held(u64),
    /// Something repeated, as arrow keys or typing in one field: one entry until nothing
    /// has come for [`STILLNESS`].
    Repeated(u64),
}

/// What can be undone and redone.
#[derive(Debug, Clone, PartialEq)]
pub struct History<T> {
    past: VecDeque<T>,
    future: Vec<T>,
    open: Option<Open<T>>,
}

/// A gesture that may go on.
#[derive(Debug, Clone, PartialEq)]
struct Open<T> {
    gesture: Gesture,
    latest: f64,
    before: T,
    /// Whether `before` is the newest entry; not when the gesture is back where it began.
    entered: bool,
}

impl<T> Default for History<T> {
    fn default() -> Self {
        Self { past: VecDeque::new(), future: Vec::new(), open: None }
    }
}

impl<T: Clone + PartialEq> History<T> {
    /// A history with nothing in it.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Notes that `before` has become `after` at the time `now` (ms on any clock). A
    /// change of the same gesture as the one before it joins its entry; no change leaves
    /// none; a gesture that comes back to where it began takes its entry along. A change
    /// forgets what could be redone.
    pub fn record(&mut self, before: &T, after: &T, gesture: Option<Gesture>, now: f64) {
        let joins = self.open.as_ref().is_some_and(|open| open.joins(gesture, now));
        if before == after {
            if let (true, Some(open)) = (joins, &mut self.open) {
                open.latest = now;
            }
            return;
        }
        self.future.clear();
        match &mut self.open {
            Some(open) if joins => {
                open.latest = now;
                let returned = open.before == *after;
                if returned && open.entered {
                    self.past.pop_back();
                } else if !returned && !open.entered {
                    self.past.push_back(open.before.clone());
                }
                open.entered = !returned;
            }
            _ => {
                self.past.push_back(before.clone());
                self.open = gesture.map(|gesture| Open {
                    gesture,
                    latest: now,
                    before: before.clone(),
                    entered: true,
                });
            }
        }
        if self.past.len() > MOST_ENTRIES {
            self.past.pop_front();
        }
    }

    /// Ends the gesture, as when the pointer is lifted or the field is left: the next
    /// change is an entry of its own.
    pub fn close(&mut self) {
        self.open = None;
    }

    /// The state before the last gesture; `present` can then be redone.
    pub fn undo(&mut self, present: &T) -> Option<T> {
        self.close();
        let before = self.past.pop_back()?;
        self.future.push(present.clone());
        Some(before)
    }

    /// The state that was undone last; `present` can then be undone again.
    pub fn redo(&mut self, present: &T) -> Option<T> {
        self.close();
        let after = self.future.pop()?;
        self.past.push_back(present.clone());
        Some(after)
    }

    /// Whether there is anything to undo.
    #[must_use]
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether there is anything to redo.
    #[must_use]
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }
}

impl<T> Open<T> {
    fn joins(&self, gesture: Option<Gesture>, now: f64) -> bool {
        gesture == Some(self.gesture)
            && match self.gesture {
                Gesture::Held(_) => true,
                Gesture::Repeated(_) => now - self.latest <= STILLNESS,
            }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A present state with its history, as the page keeps them.
    #[derive(Debug, Default)]
    struct Kept {
        present: i32,
        history: History<i32>,
    }

    impl Kept {
        fn set(&mut self, value: i32, gesture: Option<Gesture>, now: f64) {
            self.history.record(&self.present, &value, gesture, now);
            self.present = value;
        }

        fn undo(&mut self) -> bool {
            let before = self.history.undo(&self.present);
            before.inspect(|before| self.present = *before).is_some()
        }

        fn redo(&mut self) -> bool {
            let after = self.history.redo(&self.present);
            after.inspect(|after| self.present = *after).is_some()
        }
    }

    #[test]
    fn a_drag_is_one_step_however_long_it_rests() {
        let mut kept = Kept::default();
        for (value, now) in [(1, 0.0), (2, 16.0), (3, 60_000.0)] {
            kept.set(value, Some(Gesture::Held(7)), now);
        }
        assert!(kept.undo());
        assert_eq!(kept.present, 0);
        assert!(!kept.history.can_undo());
        assert!(kept.redo());
        assert_eq!(kept.present, 3);
        assert!(!kept.redo());
    }

    #[test]
    fn a_run_of_keys_ends_with_stillness() {
        let mut kept = Kept::default();
        let keys = Some(Gesture::Repeated(3));
        kept.set(1, keys, 0.0);
        kept.set(2, keys, 900.0);
        kept.set(3, keys, 1_800.0);
        kept.set(4, keys, 4_000.0);
        assert!(kept.undo());
        assert_eq!(kept.present, 3);
        assert!(kept.undo());
        assert_eq!(kept.present, 0);
    }

    #[test]
    fn other_gestures_and_closed_ones_are_apart() {
        let mut kept = Kept::default();
        kept.set(1, Some(Gesture::Held(1)), 0.0);
        kept.set(2, Some(Gesture::Held(2)), 1.0);
        kept.history.close();
        kept.set(3, Some(Gesture::Held(2)), 2.0);
        kept.set(4, None, 3.0);
        kept.set(5, None, 3.0);
        for expected in [4, 3, 2, 1, 0] {
            assert!(kept.undo());
            assert_eq!(kept.present, expected);
        }
    }

    #[test]
    fn no_change_leaves_no_entry_and_keeps_what_can_be_redone() {
        let mut kept = Kept::default();
        kept.set(0, None, 0.0);
        assert!(!kept.history.can_undo());
        kept.set(1, None, 0.0);
        kept.undo();
        kept.set(0, None, 1.0);
        assert!(kept.history.can_redo());
        kept.set(9, None, 2.0);
        assert!(!kept.history.can_redo());
    }

    #[test]
    fn a_drag_back_to_its_beginning_leaves_no_entry() {
        let mut kept = Kept::default();
        let drag = Some(Gesture::Held(1));
        kept.set(5, drag, 0.0);
        kept.set(0, drag, 1.0);
        assert!(!kept.history.can_undo());
        kept.set(6, drag, 2.0);
        assert!(kept.undo());
        assert_eq!(kept.present, 0);
        assert!(!kept.history.can_undo());
    }

    #[test]
    fn the_oldest_entries_are_forgotten() {
        let mut kept = Kept::default();
        for value in 1..=700 {
            kept.set(value, None, 0.0);
        }
        let mut steps = 0;
        while kept.undo() {
            steps += 1;
        }
        assert_eq!(steps, MOST_ENTRIES);
        assert_eq!(kept.present, 200);
    }

    proptest! {
        #[test]
        fn undoing_all_and_redoing_all_comes_back(
            changes in proptest::collection::vec((0..4_i32, proptest::option::of(0..3_u64), 0.0..2_000.0_f64), 0..60)
        ) {
            let mut kept = Kept::default();
            let mut now = 0.0;
            for (value, id, pause) in changes {
                now += pause;
                kept.set(value, id.map(Gesture::Repeated), now);
            }
            let last = kept.present;
            while kept.undo() {}
            prop_assert_eq!(kept.present, 0);
            while kept.redo() {}
            prop_assert_eq!(kept.present, last);
        }
    }
}
