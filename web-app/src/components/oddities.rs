//! Numbers worth a second look, told once things have come to rest.

use leptos::prelude::*;

use crate::{
    app::session,
    effects::focus,
    oddities::Place,
    session::{Session, Tab, oddities::Told},
};

/// A line with a list behind it; nothing where nothing is odd.
#[component]
pub(super) fn Oddities() -> impl IntoView {
    let session = session();
    let told = session.oddities().told;
    let none = Memo::new(move |_| told.with(Vec::is_empty));
    let head = move || match told.with(Vec::len) {
        1 => "One number is worth a second look".to_owned(),
        count => format!("{count} numbers are worth a second look"),
    };
    // What takes the place of something else in the list is heard as well.
    let spoken = move || {
        let words: Vec<String> = told.with(|told| told.iter().map(|one| one.words.clone()).collect());
        if words.is_empty() { String::new() } else { format!("{}. {}", head(), words.join(" ")) }
    };
    let item = move |told: Told| {
        let words = told.words.clone();
        let place = told.oddity.place(told.axle());
        view! {
            <li>
                <button class="quiet" data-odd=place.path() on:click=move |_| go_to(session, place)>
                    {words.clone()}
                </button>
                <button
                    class="quiet"
                    title="It is meant so: say no more of it"
                    aria-label=format!("Meant so: {words}")
                    on:click=move |_| {
                        session.mean_so(&told);
                        // What had the focus is gone.
                        let next = if none.get_untracked() { "[role=tab][aria-selected=true]" } else { ".oddities summary" };
                        focus::go_to(next.into());
                    }
                >
                    "Meant so"
                </button>
            </li>
        }
    };
    view! {
        <p class="spoken" role="status">{spoken}</p>
        <details class="oddities" data-part="oddities" hidden=move || none.get()>
            <summary>{head}</summary>
            <ul>{move || told.get().into_iter().map(item).collect_view()}</ul>
        </details>
    }
}

/// Opens the panel in which a number stands, and puts the focus on it.
fn go_to(session: Session, place: Place) {
    session.tab.set(match place {
        Place::Point(..) => Tab::Pivots,
        Place::Number(_) => Tab::Car,
    });
    focus::go_to(format!(".panel [data-field=\"{}\"]", place.field()));
}
