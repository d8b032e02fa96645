//! Who draws the charts, and when: once a frame at most, and no longer in a frame than the drawing beside them can
//! wait, which is under a finger. What finds no time comes next in the following frame.

use std::{collections::VecDeque, rc::Rc};

use leptos::prelude::*;

use crate::effects::{clock, frames};

/// Milliseconds of a frame after which no other chart is begun.
const SHARE: f64 = 1.0;

/// What draws the charts; copied freely.
#[derive(Clone, Copy)]
pub(super) struct Painters(StoredValue<List, LocalStorage>);

/// Who draws one chart.
#[derive(Clone)]
struct Painter {
    number: u64,
    /// Sees where the chart stands now, and says whether it stood elsewhere before.
    look: Rc<dyn Fn() -> bool>,
    paint: Rc<dyn Fn()>,
}

#[derive(Default)]
struct List {
    last: u64,
    all: Vec<Painter>,
    /// Those who are to draw, who has waited longest first.
    waiting: VecDeque<u64>,
    /// The chart under the hand does not wait for others.
    under_hand: Option<u64>,
    /// Whether the next frame is asked for.
    asked: bool,
    /// Whether charts may have moved. Looking costs as much as drawing some of them.
    unsure: bool,
}

impl Painters {
    pub(super) fn new() -> Self {
        Self(StoredValue::new_local(List::default()))
    }

    /// Takes one in, and gives the number by which it is called.
    pub(super) fn add(&self, look: impl Fn() -> bool + 'static, paint: impl Fn() + 'static) -> u64 {
        let add = |list: &mut List| {
            list.last += 1;
            list.all.push(Painter { number: list.last, look: Rc::new(look), paint: Rc::new(paint) });
            list.last
        };
        self.0.try_update_value(add).unwrap_or_default()
    }

    /// Lets one go.
    pub(super) fn remove(&self, number: u64) {
        self.0.try_update_value(|list| {
            list.all.retain(|painter| painter.number != number);
            list.waiting.retain(|other| *other != number);
            list.under_hand.take_if(|other| *other == number);
        });
    }

    /// Lets one draw before the others from now on, or none.
    pub(super) fn prefer(&self, number: Option<u64>) {
        self.0.try_update_value(|list| list.under_hand = number);
    }

    /// Lets all draw, in the next frames that have time.
    pub(super) fn ask_all(&self, canvas: Canvas) {
        self.0.try_update_value(List::all_wait);
        self.ask_for_frame(canvas);
    }

    /// Draws one now, and whatever else has moved.
    pub(super) fn paint_now(&self, number: u64, canvas: Canvas) {
        self.0.try_update_value(|list| list.wait(number));
        self.look_and_paint(canvas);
    }

    /// Draws all now.
    pub(super) fn paint_all_now(&self, canvas: Canvas) {
        self.0.try_update_value(List::all_wait);
        self.look_and_paint(canvas);
    }

    fn look_and_paint(&self, canvas: Canvas) {
        self.0.try_update_value(|list| list.unsure = true);
        self.paint(canvas, f64::INFINITY);
        // Once more when all that has changed is in the page.
        self.0.try_update_value(|list| list.unsure = true);
        self.ask_for_frame(canvas);
    }

    fn ask_for_frame(&self, canvas: Canvas) {
        let painters = *self;
        let first = self.0.try_update_value(|list| {
            let first = !list.asked && (list.unsure || !list.waiting.is_empty());
            list.asked |= first;
            first
        });
        if first == Some(true) {
            frames::next(move |_| {
                painters.0.try_update_value(|list| list.asked = false);
                painters.paint(canvas, SHARE);
            });
        }
    }

    /// Lets those who wait draw until so many milliseconds are over.
    fn paint(&self, canvas: Canvas, share: f64) {
        let unsure =
            self.0.try_update_value(|list| std::mem::take(&mut list.unsure).then(|| list.all.clone()));
        // Called outside the list. All look: where one has moved, others may stand where it stood.
        let looking = unsure.flatten().unwrap_or_default();
        let moved = looking.iter().filter(|painter| (painter.look)()).count() > 0;
        let share = if moved { f64::INFINITY } else { share };
        if moved {
            wipe(canvas);
            self.0.try_update_value(List::all_wait);
        }
        let begin = clock::milliseconds();
        while let Some(Some(paint)) = self.0.try_update_value(List::next) {
            paint();
            if clock::milliseconds() - begin >= share {
                break;
            }
        }
        self.ask_for_frame(canvas);
    }
}

/// The canvas of all charts, from when it is in the page.
pub(super) type Canvas = NodeRef<leptos::html::Canvas>;

fn wipe(canvas: Canvas) {
    if let Some(canvas) = canvas.get_untracked() {
        // Which empties it, although it stays as it is.
        canvas.set_width(canvas.width());
    }
}

impl List {
    fn wait(&mut self, number: u64) {
        if !self.waiting.contains(&number) {
            self.waiting.push_back(number);
        }
    }

    fn all_wait(&mut self) {
        for i in 0..self.all.len() {
            self.wait(self.all[i].number);
        }
    }

    fn next(&mut self) -> Option<Rc<dyn Fn()>> {
        let preferred = self.waiting.iter().position(|number| Some(*number) == self.under_hand);
        let number = self.waiting.remove(preferred.unwrap_or(0))?;
        self.all.iter().find(|painter| painter.number == number).map(|painter| painter.paint.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(count: u64) -> List {
        let painter = |number| Painter { number, look: Rc::new(|| false), paint: Rc::new(|| ()) };
        List { last: count, all: (1..=count).map(painter).collect(), ..List::default() }
    }

    #[test]
    fn who_has_waited_longest_draws_next_and_nobody_twice() {
        let mut list = list(3);
        list.all_wait();
        assert!(list.next().is_some());
        list.all_wait();
        assert_eq!(list.waiting, [2, 3, 1]);
        list.wait(3);
        assert_eq!(list.waiting, [2, 3, 1]);
    }

    #[test]
    fn the_chart_under_the_hand_does_not_wait() {
        let mut list = list(3);
        list.under_hand = Some(3);
        list.all_wait();
        assert!(list.next().is_some());
        assert_eq!(list.waiting, [1, 2]);
        // It has drawn: the others come in their order.
        assert!(list.next().is_some());
        assert_eq!(list.waiting, [2]);
        assert!(list.next().is_some() && list.next().is_none());
    }
}
