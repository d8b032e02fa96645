//! When the page follows a change: at once, and only where a signal did change, for in the reactive graph one that is
//! set wakes all that hangs on it; or once things have come to rest.

use std::time::Duration;

use leptos::prelude::*;

/// Sets a signal only where that changes it, so that nothing is woken for nothing.
pub(crate) fn set_changed<T: PartialEq + Send + Sync + 'static>(signal: RwSignal<T>, value: T) {
    if signal.with_untracked(|old| *old != value) {
        signal.set(value);
    }
}

/// The same value as a signal of its own, a moment later, for what hangs on it in the page by the dozen.
/// Every change of the document wakes all that hangs on a memo of it, if only to ask whether that
/// changed; what hangs on this sleeps until it has.
pub(crate) fn settled<T: Clone + PartialEq + Send + Sync + 'static>(
    value: impl Fn() -> T + 'static,
) -> ReadSignal<T> {
    let signal = RwSignal::new(untrack(&value));
    Effect::new(move |_| set_changed(signal, value()));
    signal.read_only()
}

/// Calls `settle` once what `follow` reads has not changed for a time; only where `follow` says so.
pub(crate) fn at_rest(
    rest: Duration,
    follow: impl Fn() -> bool + 'static,
    settle: impl Fn() + Copy + 'static,
) {
    let waiting: StoredValue<Option<TimeoutHandle>> = StoredValue::new(None);
    Effect::new(move |_| {
        waiting.update_value(|handle| {
            if let Some(handle) = handle.take() {
                handle.clear();
            }
        });
        if follow() {
            waiting.set_value(set_timeout_with_handle(settle, rest).ok());
        }
    });
}
