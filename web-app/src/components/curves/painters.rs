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

#[derive(Default)]
struct List {
    last: u64,
    all: Vec<(u64, Rc<dyn Fn()>)>,
    /// Those who are to draw, who has waited longest first.
    waiting: VecDeque<u64>,
    /// Whether the next frame is asked for.
    asked: bool,
    /// Whether in that one all draw, however long that takes.
    at_once: bool,
}

impl Painters {
    pub(super) fn new() -> Self {
        Self(StoredValue::new_local(List::default()))
    }

    /// Takes one in, and gives the number by which it is called.
    pub(super) fn add(&self, paint: impl Fn() + 'static) -> u64 {
        let add = |list: &mut List| {
            list.last += 1;
            list.all.push((list.last, Rc::new(paint)));
            list.last
        };
        self.0.try_update_value(add).unwrap_or_default()
    }

    /// Lets one go.
    pub(super) fn remove(&self, number: u64) {
        self.0.try_update_value(|list| {
            list.all.retain(|(other, _)| *other != number);
            list.waiting.retain(|other| *other != number);
        });
    }

    /// Lets one draw in the next frame that has time.
    pub(super) fn ask(&self, number: u64) {
        self.0.try_update_value(|list| list.wait(number));
        self.ask_for_frame();
    }

    /// Lets all draw.
    pub(super) fn ask_all(&self) {
        self.0.try_update_value(|list| {
            for i in 0..list.all.len() {
                list.wait(list.all[i].0);
            }
        });
        self.ask_for_frame();
    }

    /// Lets all draw in the next frame.
    pub(super) fn ask_all_at_once(&self) {
        self.0.try_update_value(|list| list.at_once = true);
        self.ask_all();
    }

    fn ask_for_frame(&self) {
        let painters = *self;
        let first = self.0.try_update_value(|list| {
            let first = !list.asked && !list.waiting.is_empty();
            list.asked |= first;
            first
        });
        if first == Some(true) {
            frames::next(move |_| painters.paint());
        }
    }

    fn paint(&self) {
        let start = self.0.try_update_value(|list| {
            list.asked = false;
            (std::mem::take(&mut list.at_once), list.waiting.len())
        });
        let (at_once, turns) = start.unwrap_or_default();
        let begin = clock::milliseconds();
        for _ in 0..turns {
            // Called outside the list, which they may ask in turn: for the next frame.
            let Some(Some(paint)) = self.0.try_update_value(List::next) else { break };
            paint();
            if !at_once && clock::milliseconds() - begin >= SHARE {
                break;
            }
        }
        self.ask_for_frame();
    }
}

impl List {
    fn wait(&mut self, number: u64) {
        if !self.waiting.contains(&number) {
            self.waiting.push_back(number);
        }
    }

    fn next(&mut self) -> Option<Rc<dyn Fn()>> {
        loop {
            let number = self.waiting.pop_front()?;
            if let Some((_, paint)) = self.all.iter().find(|(other, _)| *other == number) {
                return Some(paint.clone());
            }
        }
    }
}
