//! The line at the top: title, axle, layout, undo, sharing, files.

use geometry_core::setup::{self, Axle, Side};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::JsCast;

use super::{beside::ReferenceMenu, print::print, recent::RecentMenu};
use crate::{
    app::session,
    describe,
    edit::{Edit, TextField},
    effects::{address, clipboard, files, focus},
    history::Gesture,
    presets::Preset,
    session::set_changed,
    sharing,
};

/// The header.
#[component]
pub fn Header(
    /// Opens the dialog about the page.
    about: RwSignal<bool>,
    /// Large type, for a projector.
    large: RwSignal<bool>,
) -> impl IntoView {
    let session = session();
    view! {
        <header class="top">
            <h1>"Cornerwise"</h1>
            <Title />
            <div class="axles" role="group" aria-label="Axle">
                <AxleButton axle=Axle::Front label="Front" />
                <AxleButton axle=Axle::Rear label="Rear" />
            </div>
            <Sides />
            <Layouts />
            <div class="group" role="group" aria-label="Setups">
                <RecentMenu />
                <ReferenceMenu />
            </div>
            <div class="group" role="group" aria-label="History">
                <button data-do="undo" title="Undo (Ctrl Z)" disabled=move || !session.can_undo() on:click=move |_| {
                    session.undo();
                    // A button that is used up gives the focus away, and the keyboard would begin anew.
                    if !untrack(|| session.can_undo()) {
                        focus::go_to("[data-do=redo]".into());
                    }
                }>
                    "Undo"
                </button>
                <button data-do="redo" title="Redo (Ctrl Shift Z)" disabled=move || !session.can_redo() on:click=move |_| {
                    session.redo();
                    if !untrack(|| session.can_redo()) {
                        focus::go_to("[data-do=undo]".into());
                    }
                }>
                    "Redo"
                </button>
            </div>
            <Share />
            <div class="group" role="group" aria-label="Page">
                <button data-do="print" title="One sheet across, A4 or A3" on:click=move |_| print(session)>"Print"</button>
                <button
                    data-do="large"
                    aria-pressed=move || large.get().to_string()
                    title="Large type, for a projector"
                    on:click=move |_| large.update(|large| *large = !*large)
                >
                    "Large type"
                </button>
                <button data-do="about" on:click=move |_| about.set(true)>"About"</button>
            </div>
        </header>
    }
}

#[component]
fn Title() -> impl IntoView {
    let session = session();
    let value = Memo::new(move |_| session.document().with(|document| document.title.clone()));
    let (Gesture::Held(number) | Gesture::Repeated(number)) = session.new_gesture();
    let typed = move |text: String| {
        session.try_edit(&Edit::SetText { field: TextField::Title, text }, Some(Gesture::Repeated(number)));
    };
    Effect::new(move |_| {
        let title = value.get();
        document().set_title(&if title.is_empty() {
            "Cornerwise".into()
        } else {
            format!("{title} — Cornerwise")
        });
    });
    view! {
        <input
            type="text"
            class="title"
            data-field="title"
            aria-label="Title of the setup"
            placeholder="Name of the car or the setting"
            prop:value=move || value.get()
            on:input=move |event| typed(event_target_value(&event))
        />
    }
}

#[component]
fn AxleButton(axle: Axle, label: &'static str) -> impl IntoView {
    let session = session();
    let there = move || session.document().with(|document| document.corner(axle).is_some());
    view! {
        <button
            data-axle=axle.name()
            aria-pressed=move || (session.axle.get() == axle).to_string()
            title=move || if there() { "Show this corner" } else { "This corner is not described yet" }
            on:click=move |_| session.show_axle(axle)
        >
            {label}
        </button>
    }
}

/// Left and right, where the right corner is described separately.
#[component]
fn Sides() -> impl IntoView {
    let session = session();
    let there = Memo::new(move |_| session.has_right());
    let button = move |side: Side, label: &'static str| {
        view! {
            <button
                data-side=label.to_lowercase()
                aria-pressed=move || (session.side.get() == side).to_string()
                title="Show and edit this side\u{2019}s corner"
                on:click=move |_| session.show_side(side)
            >
                {label}
            </button>
        }
    };
    move || {
        there.get().then(|| {
            view! {
                <div class="axles" role="group" aria-label="Side">
                    {button(Side::Left, "Left")}
                    {button(Side::Right, "Right")}
                </div>
            }
        })
    }
}

/// Puts a layout with geometry of our own into the corner shown.
#[component]
fn Layouts() -> impl IntoView {
    let session = session();
    let choose = move |event: web_sys::Event| {
        let name = event_target_value(&event);
        if let Some(preset) = Preset::ALL.into_iter().find(|preset| preset.name() == name) {
            let axle = session.axle.get_untracked();
            let wheelbase = session.document().with_untracked(|d| d.vehicle.wheelbase).unwrap_or(2600.0);
            let mut corner = Box::new(preset.corner(axle, wheelbase));
            // No layout says what moves with the wheel; the car at hand has wheels and brakes all the same.
            if let Some(unsprung) = session.corner.with_untracked(|c| c.as_ref().map(|c| c.unsprung.clone()))
            {
                corner.unsprung = unsprung;
            }
            session.try_edit(&Edit::ReplaceCorner { axle, corner }, None);
            // A complaint of the edit or of the store matters more.
            if session.notice.with_untracked(Option::is_none) {
                let (name, what) = (preset.name(), preset.description());
                // Else title, masses and heights of an invented car pass for those of the car at hand.
                let example = setup::example();
                let still = session.document().with_untracked(|d| {
                    [
                        (d.title == example.title, "title"),
                        (d.vehicle == example.vehicle, "wheelbase, masses and shares"),
                        (d.note == example.note, "note"),
                    ]
                });
                let still: Vec<&str> =
                    still.into_iter().filter_map(|(same, what)| same.then_some(what)).collect();
                let still = match still.join("; ") {
                    none if none.is_empty() => none,
                    what => format!(" Still of the invented car: {what}."),
                };
                session.tell(format!("{name}: {what} Undo brings the corner back.{still}"));
            }
        }
        // Back to its heading: it is a menu, not a state.
        if let Some(menu) = event.target().and_then(|t| t.dyn_into::<web_sys::HtmlSelectElement>().ok()) {
            menu.set_selected_index(0);
        }
    };
    let options = Preset::ALL.map(|preset| {
        view! { <option value=preset.name() title=preset.description()>{preset.name()}</option> }
    });
    view! {
        <select class="layouts" data-do="layout" aria-label="Start from a layout" on:change=choose>
            <option value="" selected>"Layout …"</option>
            {options.into_iter().collect_view()}
        </select>
    }
}

/// Link, file out, file in.
#[component]
fn Share() -> impl IntoView {
    let session = session();
    let link = RwSignal::new(None::<String>);
    let copy = move |_| {
        let fragment =
            session.document().with_untracked(sharing::encode) + &untrack(|| session.look()).text();
        let (address, leads_here) = address::with_fragment(&fragment);
        link.set(Some(address.clone()));
        let compared = session.reference.kept.with_untracked(Option::is_some);
        let what = if compared { "setup and its reference" } else { "setup" };
        let file = if leads_here {
            ""
        } else {
            " This page is a file, so the link is no web address: who gets it opens the page and pastes the link onto it, not into the address bar."
        };
        spawn_local(async move {
            if clipboard::copy(&address).await {
                session.tell(format!(
                    "The link is on the clipboard; it holds the whole {what}, and what the page shows of it.{file}"
                ));
            } else {
                session.tell(format!(
                    "This browser does not let the page copy; mark the link and copy it by hand.{file}"
                ));
            }
        });
    };
    // The link of a setup that is no more the present one.
    Effect::new(move |_| {
        session.document().with(|_| ());
        set_changed(link, None);
    });
    let save = move |_| {
        let (name, text) = session.document().with_untracked(|document| {
            (files::name_from(&document.title), evaluate::write_document(document))
        });
        if files::save(&name, &text).is_err() {
            session.complain("This browser did not let the page save a file.".into());
        }
    };
    let open = move |event: web_sys::Event| {
        let Some(input) = event.target().and_then(|t| t.dyn_into::<web_sys::HtmlInputElement>().ok()) else {
            return;
        };
        let Some(file) = input.files().and_then(|list| list.get(0)) else { return };
        spawn_local(async move {
            match files::read(&file).await.map(|text| evaluate::read_document(&text)) {
                Some(Ok(document)) => session.open(document),
                Some(Err(error)) => session.complain(describe::setup::not_opened(&file.name(), &error)),
                None => session.complain(format!("{} cannot be read.", file.name())),
            }
            // The same file may be chosen again.
            input.set_value("");
        });
    };
    view! {
        <div class="group" role="group" aria-label="Share">
            <button data-do="link" title="A link that holds the whole setup, its reference, and what the page shows of it" on:click=copy>"Copy link"</button>
            {move || link.get().map(|address| view! {
                <input
                    type="text"
                    class="link"
                    readonly
                    data-field="link"
                    aria-label="Link to this setup"
                    prop:value=address
                    on:blur=move |_| link.set(None)
                    on:focus=move |event| {
                        if let Some(field) = event.target().and_then(|t| t.dyn_into::<web_sys::HtmlInputElement>().ok()) {
                            field.select();
                        }
                    }
                />
            })}
            <button data-do="save" on:click=save>"Save"</button>
            <label class="button">
                "Open"
                <input type="file" data-do="open" accept=".json,application/json" on:change=open />
            </label>
        </div>
    }
}
