//! A setup beside another: the menu of the reference, and what is said of it.

use geometry_core::readings::Quantity;
use leptos::{prelude::*, task::spawn_local};
use wasm_bindgen::JsCast;
use web_sys::HtmlInputElement;

use super::{link_field::LinkField, menu::Menu};
use crate::{
    app::session,
    describe,
    effects::{files, focus},
    scene::{Layer, Pen, parts},
    session::{Session, readout::Readout},
    sharing,
    view::{Sheet, View},
};

/// The button that opens the menu: where the focus goes when what had it is gone.
const OPENER: &str = "[data-menu=reference]";

/// The menu: keep, load, exchange, drop.
#[component]
pub fn ReferenceMenu() -> impl IntoView {
    let session = session();
    let open = RwSignal::new(false);
    let keep = move |_| {
        open.set(false);
        session.notice.set(None);
        session.keep_as_reference();
        focus::go_to(OPENER.into());
    };
    let read_file = move |event: web_sys::Event| {
        let Some(input) = event.target().and_then(|t| t.dyn_into::<HtmlInputElement>().ok()) else { return };
        let Some(file) = input.files().and_then(|list| list.get(0)) else { return };
        spawn_local(async move {
            session.notice.set(None);
            match files::read(&file).await.map(|text| evaluate::read_document(&text)) {
                Some(Ok(document)) => session.set_reference(document),
                Some(Err(error)) => session.complain(describe::setup::not_opened(&file.name(), &error)),
                None => session.complain(format!("{} cannot be read.", file.name())),
            }
            open.set(false);
            focus::go_to(OPENER.into());
        });
    };
    let read_link = Callback::new(move |text: String| {
        let document = sharing::decode(&text)?;
        open.set(false);
        session.notice.set(None);
        session.set_reference(document);
        focus::go_to(OPENER.into());
        Ok(())
    });
    view! {
        <Menu name="reference" label="Compare" title="Keep a setup underneath to compare with" open=open>
            <p class="hint">
                "The reference lies under the drawing as a thin line, and every number says how far it is from it."
            </p>
            <div class="menu-list">
                <button data-do="keep-reference" on:click=keep>
                    "Keep this setup as the reference"
                </button>
                <label class="button">
                    "Load a reference from a file …"
                    <input type="file" data-do="load-reference" accept=".json,application/json" on:change=read_file />
                </label>
                <LinkField label="Or paste a link to a setup" name="reference-link" read=read_link />
            </div>
        </Menu>
    }
}

/// Which setup is the reference, what stands in the way of comparing, and what can be done
/// with it; nothing without a reference.
#[component]
pub fn ReferenceBar() -> impl IntoView {
    let session = session();
    let reference = session.reference;
    let title = Memo::new(move |_| reference.title());
    let other_layout = Memo::new(move |_| {
        session.corner.with(|present| {
            reference
                .corner
                .with(|reference| describe::beside::other_layout(present.as_ref()?, reference.as_ref()?))
        })
    });
    let same = Memo::new(move |_| {
        reference.kept.with(|kept| {
            kept.as_ref().is_some_and(|kept| session.document().with(|document| *document == kept.document))
        })
    });
    let same_title = Memo::new(move |_| {
        title.get().is_some_and(|title| session.document().with(describe::setup::title) == title)
    });
    move || {
        title.get().map(|title| {
            view! {
                <section class="reference-bar" aria-label="Reference" data-reference="">
                    <p role="status">
                        <span class="thin-line" aria-hidden="true"></span>
                        "Thin line and differences: reference "
                        <b data-reference-title="">{title}</b>
                        {move || other_layout.get().map(|words| format!(", {words}"))}
                        {move || same.get().then_some(", so far the same")}
                        {move || (same_title.get() && !same.get()).then_some(", of the same title")}
                        ". A difference, Δ, is this setup’s number less the reference’s. "
                        {move || reference.trouble.get().map(|text| view! { <span data-reference-trouble="">{text}</span> })}
                    </p>
                    <button
                        data-do="swap"
                        title="Edit the reference and compare it with this setup; undo swaps back"
                        on:click=move |_| session.swap_with_reference()
                    >
                        "Swap"
                    </button>
                    <button data-do="drop-reference" on:click=move |_| {
                        session.drop_reference();
                        focus::go_to(OPENER.into());
                    }>"Drop the reference"</button>
                </section>
            }
        })
    }
}

/// The reference's corner in one view, and its right one where both wheels are shown; nothing without one.
pub(super) fn drawing(session: Session, sheet: &Sheet, view: View) -> Vec<Layer> {
    let mut shapes = Vec::new();
    session.reference.corner.with(|corner| {
        session.reference.placed.with(|placed| {
            if let (Some(corner), Some(placed)) = (corner, placed) {
                parts::draw_beneath(&mut Pen::new(sheet, view, &mut shapes), corner, placed);
            }
        });
    });
    if view != View::Side
        && let Some(right) = session.reference.right.get()
    {
        let (corner, placed) = &*right;
        parts::draw_beneath(&mut Pen::new(sheet, view, &mut shapes).mirrored(), corner, placed);
    }
    vec![Layer { class: None, shapes }]
}

/// How a reading differs from the reference's, in words; nothing without a reference.
#[component]
pub(super) fn DifferenceWords(
    /// The reading.
    quantity: Quantity,
    /// Whether it stands in a narrow place, where the style sheet puts a sign before it.
    #[prop(optional)]
    narrow: bool,
) -> impl IntoView {
    let told = expect_context::<Readout>().of(quantity);
    let short =
        move || if narrow { told.difference.with(|words| describe::beside::short(words)) } else { None };
    let trust = move || {
        Some(told.trust_of_difference.get()).filter(|words| !words.is_empty()).map(|words| {
            let words = if short().is_some() { describe::beside::short_doubt(&words) } else { words };
            view! { " " <span class="trust" data-trust-difference=quantity.name()>{words}</span> }
        })
    };
    view! {
        {move || {
            Some(told.difference.get()).filter(|words| !words.is_empty()).map(|words| {
                let short = short();
                let by = short.is_some();
                let words = short.unwrap_or(words);
                view! { <span class="difference" class:by=by data-difference=quantity.name()>{words}</span> }
            })
        }}
        {trust}
    }
}
