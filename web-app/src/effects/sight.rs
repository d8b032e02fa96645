//! Numbers out of sight. While a point is dragged only those that somebody can see are written; the others are when
//! they come into sight, and when the hand lets go.

use leptos::{html, prelude::*};
use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::{Element, IntersectionObserver, IntersectionObserverEntry, js_sys::Array};

use super::{live::Live, press::Held};

/// A part of the page that may be scrolled out of sight, and the numbers in it; copied freely, gone with the component
/// that made it.
#[derive(Debug, Clone, Copy)]
pub struct Sight {
    held: ReadSignal<bool>,
    state: StoredValue<State, LocalStorage>,
}

#[derive(Debug)]
struct State {
    in_sight: bool,
    /// Numbers that have changed since they were written.
    waiting: Vec<Live>,
}

/// An observer that ends with whoever asked for it.
struct Watch {
    observer: IntersectionObserver,
    /// What it calls.
    _changed: Closure<dyn Fn(Array)>,
}

impl Drop for Watch {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}

impl Sight {
    /// Of an element, from when it is in the page.
    #[must_use]
    pub fn of(element: NodeRef<html::Table>) -> Self {
        let Held(held) = expect_context();
        let state = StoredValue::new_local(State { in_sight: true, waiting: Vec::new() });
        let sight = Self { held, state };
        Effect::new(move |_| {
            if let Some(element) = element.get() {
                watch(&element, move |in_sight| sight.see(in_sight));
            }
        });
        Effect::new(move |_| {
            if !held.get() {
                sight.write();
            }
        });
        sight
    }

    /// Whether a number in it is to be written now; if not, it is when that is of use.
    pub(super) fn takes(self, number: Live) -> bool {
        if !self.held.try_get_untracked().unwrap_or(false) {
            return true;
        }
        let taken = self.state.try_update_value(|state| {
            if !state.in_sight {
                state.waiting.push(number);
            }
            state.in_sight
        });
        taken.unwrap_or(true)
    }

    fn see(self, in_sight: bool) {
        // Gone with its component: nothing to see.
        let _ = self.state.try_update_value(|state| state.in_sight = in_sight);
        if in_sight {
            self.write();
        }
    }

    fn write(self) {
        // Written outside: each asks for nothing else, but that is not to be relied on.
        let waiting = self.state.try_update_value(|state| std::mem::take(&mut state.waiting));
        for number in waiting.into_iter().flatten() {
            number.write();
        }
    }
}

/// Tells whenever an element comes into sight or leaves it, for as long as the effect or component lives in which this
/// is called. Where the browser does not tell, all is in sight.
fn watch(element: &Element, told: impl Fn(bool) + 'static) {
    let changed = Closure::<dyn Fn(Array)>::new(move |entries: Array| {
        // What came last is how it is.
        if let Some(entry) = entries.iter().last() {
            told(entry.unchecked_into::<IntersectionObserverEntry>().is_intersecting());
        }
    });
    if let Ok(observer) = IntersectionObserver::new(changed.as_ref().unchecked_ref()) {
        observer.observe(element);
        StoredValue::new_local(Watch { observer, _changed: changed });
    }
}
