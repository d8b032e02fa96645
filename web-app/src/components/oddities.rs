//! Numbers worth a second look, told once the drawing has come to rest.

use geometry_core::setup::{Axle, Corner};
use leptos::prelude::*;

use crate::{
    app::session,
    effects::focus,
    oddities::{Oddity, Place},
    session::{Session, Tab, at_rest, set_changed},
};

/// What was odd when the drawing came to rest last, and the words for it.
type Told = Vec<(Axle, Oddity, String)>;

/// A line with a list behind it; nothing where nothing is odd.
#[component]
pub(super) fn Oddities() -> impl IntoView {
    let session = session();
    let told = RwSignal::new(Told::new());
    // What was said to be meant; until the page is left.
    let meant = RwSignal::new(Vec::<(Axle, Oddity)>::new());
    let look = move || {
        let axle = session.axle.get_untracked();
        let of = |corner: &Corner| {
            let odd = Oddity::of(corner).into_iter();
            odd.map(|oddity| (axle, oddity, oddity.words(corner))).collect::<Told>()
        };
        set_changed(
            told,
            session.corner.with_untracked(|corner| corner.as_ref().map(of).unwrap_or_default()),
        );
    };
    at_rest(
        move || {
            session.axle.track();
            // Followed and not read.
            session.corner.with(|_| ());
            true
        },
        look,
    );
    let left = Memo::new(move |_| {
        let is_meant = |axle: Axle, oddity: Oddity| {
            meant.with(|meant| meant.iter().any(|(other, known)| *other == axle && known.is_like(oddity)))
        };
        told.get().into_iter().filter(|(axle, oddity, _)| !is_meant(*axle, *oddity)).collect::<Told>()
    });
    let none = Memo::new(move |_| left.with(Vec::is_empty));
    let head = move || match left.with(Vec::len) {
        1 => "One number is worth a second look".to_owned(),
        count => format!("{count} numbers are worth a second look"),
    };
    let list = move || {
        let item = |(axle, oddity, words): (Axle, Oddity, String)| {
            view! {
                <li>
                    <button class="quiet" data-odd=key(oddity) on:click=move |_| go_to(session, axle, oddity)>{words}</button>
                    <button
                        class="quiet"
                        title="It is meant so: say no more of it"
                        on:click=move |_| {
                            meant.update(|meant| meant.push((axle, oddity)));
                            // What had the focus is gone.
                            focus::go_to("[data-part=oddities] summary, [role=tab][aria-selected=true]".into());
                        }
                    >
                        "Meant so"
                    </button>
                </li>
            }
        };
        left.get().into_iter().map(item).collect_view()
    };
    view! {
        <p class="spoken" role="status">{move || if none.get() { String::new() } else { head() }}</p>
        <details class="oddities" data-part="oddities" hidden=move || none.get()>
            <summary>{head}</summary>
            <ul>{list}</ul>
        </details>
    }
}

/// The path of what is odd, below its corner.
fn key(oddity: Oddity) -> String {
    match oddity.place() {
        Place::Point(path) => path.path(),
        Place::Wheel(name) => format!("wheel.{name}"),
    }
}

/// Opens the panel in which the number stands, and puts the focus on it.
fn go_to(session: Session, axle: Axle, oddity: Oddity) {
    let field = match oddity.place() {
        Place::Point(_) => {
            session.tab.set(Tab::Pivots);
            // The one of the three that was told of.
            let letter = match oddity {
                Oddity::Low(..) => "z",
                Oddity::FarAway(..) => "x",
                _ => "y",
            };
            format!("{}.{letter}", key(oddity))
        }
        Place::Wheel(_) => {
            session.tab.set(Tab::Car);
            format!("{}.{}", axle.name(), key(oddity))
        }
    };
    focus::go_to(format!(".panel [data-field=\"{field}\"]"));
}
