//! Mounting, layout, contexts, and the few effects that join the session to the browser.

use std::time::Duration;

use geometry_core::setup::{self, Document};
use leptos::{ev, prelude::*};
use wasm_bindgen::JsCast;
use web_sys::{HtmlInputElement, HtmlTextAreaElement};

use crate::{
    components::{
        about::About, beside::ReferenceBar, header::Header, headline::HeadlineNumbers, motion::Motion,
        panel::Panel, print::PrintSheet, sheet::SheetView,
    },
    describe::{self, Standing},
    effects::{address, focus, press, storage},
    session::{
        Moving, Session, at_rest,
        headline::{Choice, Headline},
        look::Look,
        readout::{self, Leans, Readout},
        set_changed,
    },
    sharing::{self, LinkError},
    units,
};

/// The session of the page a component stands in.
#[must_use]
pub fn session() -> Session {
    expect_context::<Session>()
}

/// What the page opens with.
struct Opening {
    /// The setup of a link, else what was kept, else the demonstration.
    document: Document,
    /// What was kept, where a link has taken its place.
    left: Option<Document>,
    /// What could not be opened.
    trouble: Option<String>,
    /// What the link asks to be looked at, or what was before a reload.
    look: Look,
}

fn opening() -> Opening {
    let (kept, trouble) = match storage::restore() {
        Ok(kept) => (kept, None),
        Err(trouble) => (None, Some(trouble)),
    };
    let fragment = address::fragment();
    if fragment.len() < 2 {
        let document = kept.unwrap_or_else(setup::example);
        // What a later page wrote is passed over without a word.
        let look = storage::kept_look().map(|text| Look::read(&text).0).unwrap_or_default();
        return Opening { document, left: None, trouble, look };
    }
    match sharing::decode(&fragment) {
        Ok(document) => {
            address::clear_fragment();
            let left = kept.filter(|kept| *kept != document);
            let (look, of_look) = Look::read(&fragment);
            Opening { document, left, trouble: joined(trouble, of_look), look }
        }
        Err(error) => {
            let shown = if kept.is_some() { "Your last setup" } else { "The invented car" };
            Opening {
                document: kept.unwrap_or_else(setup::example),
                left: None,
                trouble: joined(
                    trouble,
                    Some(format!("The link was not opened: {error}. {shown} is shown instead.")),
                ),
                look: Look::default(),
            }
        }
    }
}

/// What two things have to say, one after the other.
fn joined(first: Option<String>, second: Option<String>) -> Option<String> {
    let both = [first, second].into_iter().flatten().collect::<Vec<_>>();
    (!both.is_empty()).then(|| both.join(" "))
}

/// The whole page.
#[component]
pub fn App() -> impl IntoView {
    let Opening { document, left, trouble, look } = opening();
    let session = Session::new(document);
    if let Some(left) = left {
        session.recent.leave(&session, session.recent.new_number(), &left);
    }
    restore_reference(session);
    if let Some(trouble) = trouble {
        session.complain_too(trouble);
    }
    session.write_in(storage::convention());
    session.look_at(&look);
    provide_context(session);
    provide_context(press::watch());
    keep_in_store(session);
    let headline = Headline::new(session);
    provide_context(headline);
    provide_context(Readout::new(session));
    session.trust().keep();
    session.matters().follow(session);
    session.follow_oddities();
    session.follow_doubts();
    keep_headline(session, headline);
    Effect::new(move |_| {
        // Where no link steers nothing is there that could move the rack back.
        if !headline.steers.get() && session.state.with(|state| state.rack != 0.0) {
            session.move_to(Moving::Rack, 0.0);
        }
    });
    open_links(session);
    undo_keys(session);
    Effect::new(move |_| storage::keep_convention(session.convention.get()));
    let large = RwSignal::new(false);
    let about = RwSignal::new(false);
    leave_by_escape(session, about);
    leave_fields_by_enter();
    view! {
        <div class="page" class:large=move || large.get()>
            <Header about=about large=large />
            <Message />
            <ReferenceBar />
            <main class="work">
                <SheetView />
                <aside
                    class="beside"
                    aria-label="Numbers"
                    data-behind=move || session.doubts_are_behind().then_some("")
                >
                    <HeadlineNumbers />
                    <Motion />
                    <Panel />
                </aside>
            </main>
            <footer class="caution">
                "Computed numbers do not make a car safe. Support it on stands, release springs with the proper tool, \
                 follow the maker's data and local rules, and leave settings to licensed practice."
            </footer>
            <About open=about />
            <Spoken />
            <PrintSheet />
        </div>
    }
}

/// The message line; empty it takes no room.
#[component]
fn Message() -> impl IntoView {
    let session = session();
    // Where there is no corner at all the sheet says so, and how to begin.
    let problem = move || {
        let described = session.corner.with(Option::is_some);
        session.linkage.with(|linkage| linkage.as_ref().err().filter(|_| described).cloned())
    };
    let stopped = move || session.solved.with(|solved| solved.as_ref().and_then(|s| s.stopped.clone()));
    let apart =
        move || session.trouble().apart.with(|apart| apart.as_ref().map(|apart| apart.sentence.clone()));
    view! {
        <div class="messages">
            {move || problem().map(|text| view! { <p class="message wrong" role="alert" data-message="corner">{text}</p> })}
            {move || stopped().map(|text| view! { <p class="message" role="status" data-message="reach">{text}</p> })}
            {move || apart().map(|text| view! { <p class="message" role="status" aria-live="off" data-message="apart">{text}</p> })}
            {move || session.unkept.get().map(|text| view! {
                <p class="message wrong" role="alert" data-message="unkept">{text}</p>
            })}
            {move || session.notice.get().map(|notice| view! {
                <p class="message" class:wrong=notice.wrong role="alert" data-message="notice">
                    {notice.text}
                    <button
                        class="quiet"
                        aria-label="Dismiss this message"
                        on:click=move |_| {
                            session.notice.set(None);
                            focus::go_to("[role=tab][aria-selected=true]".into());
                        }
                    >
                        "✕"
                    </button>
                </p>
            })}
        </div>
    }
}

/// One polite sentence for screen readers, spoken when things have come to rest.
#[component]
fn Spoken() -> impl IntoView {
    let session = session();
    let sentence = RwSignal::new(String::new());
    let text = move || {
        let axle = session.axle.get();
        // What moves by itself is not told at every step.
        let plays = session.range().playing.get().is_some();
        session.solved.with(|solved| {
            let solved = solved.as_ref().filter(|_| !plays)?;
            let state = solved.position.state();
            let found = session.found.get();
            if let Some((quantity, found)) = session.chosen.get().zip(found) {
                let label = describe::label(quantity, axle);
                return Some(format!("{label}. {}", describe::finding::sentence(quantity, axle, &found)));
            }
            let standing = Standing {
                axle,
                side: session.side.get(),
                travel: state.travel,
                rack: state.rack,
                roll: session.wheels().roll.get(),
            };
            let leans = Leans::of(session);
            Some(describe::summary(&solved.readings, standing, |quantity, number| {
                readout::words(session, quantity, number, axle, leans)
            }))
        })
    };
    let follow = move || {
        session.axle.track();
        session.range().playing.track();
        // Followed and not read.
        session.solved.with(|_| ());
        session.found.with(|_| ());
        session.chosen.track();
        units::track();
        true
    };
    at_rest(Duration::from_millis(900), follow, move || sentence.set(untrack(text).unwrap_or_default()));
    view! { <p class="spoken" aria-live="polite">{move || sentence.get()}</p> }
}

/// Keeps every state of the document that stands for a moment, and the last one when the
/// page is left.
fn keep_in_store(session: Session) {
    let document = session.document();
    // What this window has read or written: another text is another window's work.
    let ours = StoredValue::new(storage::kept());
    let keep = move || {
        let text = document.with_untracked(evaluate::write_document);
        if let Some(theirs) =
            storage::kept().filter(|text| ours.with_value(|ours| ours.as_ref() != Some(text)))
            && theirs != text
            && let Ok(theirs) = evaluate::read_document(&theirs)
        {
            session.recent.leave(&session, session.recent.new_number(), &theirs);
        }
        match storage::keep(&text) {
            Ok(()) => {
                ours.set_value(Some(text));
                set_changed(session.unkept, None);
            }
            Err(refusal) => set_changed(session.unkept, Some(refusal)),
        }
    };
    // At first it only takes note: what was just opened is kept once it is changed or left.
    let opened = StoredValue::new(false);
    let changed = move || {
        document.track();
        let before = opened.get_value();
        opened.set_value(true);
        before
    };
    at_rest(Duration::from_millis(200), changed, keep);
    let leaving = window_event_listener(ev::pagehide, move |_| {
        keep();
        storage::keep_look(&untrack(|| session.look().of_reload()).text());
    });
    on_cleanup(move || leaving.remove());
}

/// Brings the reference back, and keeps it from now on.
fn restore_reference(session: Session) {
    match storage::restore_reference() {
        Ok(Some(document)) => session.restore_reference(document),
        Ok(None) => {}
        Err(trouble) => session.complain(trouble),
    }
    // A link may have brought another by the time this runs first.
    let restored = session.reference.kept.get_untracked();
    Effect::new(move |before: Option<()>| {
        let kept = session.reference.kept.get();
        if (before.is_some() || kept != restored)
            && let Err(refusal) = storage::keep_reference(kept.as_ref().map(|kept| &kept.document))
        {
            session.complain(refusal);
        }
    });
}

/// The name under which the headline's choice is kept.
const KEPT_HEADLINE: &str = "headline";

/// Brings the headline's choice back, and keeps it when it changes.
fn keep_headline(session: Session, headline: Headline) {
    let choice = headline.choice;
    if let Some(kept) = storage::kept_view(KEPT_HEADLINE) {
        match Choice::read(&kept) {
            Ok(kept) => choice.set(kept),
            Err(fault) => {
                storage::put_view_aside(KEPT_HEADLINE, &kept);
                let sentence = format!(
                    "The choice of headline numbers kept in this browser cannot be read ({fault}); it was put \
                     aside and the usual ones are shown."
                );
                session.complain_too(sentence);
            }
        }
    }
    Effect::new(move |before: Option<()>| {
        let text = choice.with(Choice::write);
        // The first run only takes note.
        if before.is_some() {
            storage::keep_view(KEPT_HEADLINE, &text);
        }
    });
}

/// A setup link pasted into the address bar of the open page, or onto the page itself.
fn open_links(session: Session) {
    let told = move |outcome: Result<(), LinkError>| {
        if let Err(error) = outcome {
            session.complain(format!("The link was not opened: {error}. The setup stays as it is."));
        }
    };
    let arrived = window_event_listener(ev::hashchange, move |_| {
        let fragment = address::fragment();
        if fragment.len() > 1 {
            told(open_link(session, &fragment));
        }
    });
    let pasted = window_event_listener(ev::paste, move |event| {
        // In a field a text is that field's; a slider or a box to tick takes none.
        let in_field = event.target().is_some_and(|target| {
            let takes_text = |field: &HtmlInputElement| field.type_() == "text";
            target.has_type::<HtmlTextAreaElement>() || target.dyn_ref().is_some_and(takes_text)
        });
        let text = event.clipboard_data().and_then(|data| data.get_data("text/plain").ok());
        if let Some(text) = text.filter(|text| !in_field && text.contains(sharing::PREFIX)) {
            told(open_link(session, text.trim()));
        }
    });
    on_cleanup(move || {
        arrived.remove();
        pasted.remove();
    });
}

/// Opens the setup of a link, with what it says is looked at.
///
/// # Errors
/// Why the link holds no setup; nothing has changed then.
pub fn open_link(session: Session, link: &str) -> Result<(), LinkError> {
    let document = sharing::decode(link)?;
    address::clear_fragment();
    session.open(document);
    let (look, fault) = Look::read(link);
    session.look_at(&look);
    if let Some(fault) = fault {
        session.complain_too(fault);
    }
    Ok(())
}

/// Escape puts the drawing back to what it is when no reading is chosen, and stops what moves by itself; with the
/// dialog open the key is the dialog's.
fn leave_by_escape(session: Session, about: RwSignal<bool>) {
    let listener = window_event_listener(ev::keydown, move |event| {
        if event.key() == "Escape" && !about.get_untracked() {
            // What moves by itself stands where it is.
            set_changed(session.range().playing, None);
            set_changed(session.chosen, None);
        }
    });
    on_cleanup(move || listener.remove());
}

/// Enter is done with a field where fingers type, unless it goes to the next one.
fn leave_fields_by_enter() {
    let listener = window_event_listener(ev::keydown, |event| {
        if !event.default_prevented() {
            focus::leave_by_enter(&event);
        }
    });
    on_cleanup(move || listener.remove());
}

/// Undo and redo from the keyboard, wherever the focus is.
fn undo_keys(session: Session) {
    let listener = window_event_listener(ev::keydown, move |event| {
        if !(event.ctrl_key() || event.meta_key()) || event.alt_key() {
            return;
        }
        match (event.key().to_lowercase().as_str(), event.shift_key()) {
            ("z", false) => session.undo(),
            ("z", true) | ("y", false) => session.redo(),
            _ => return,
        }
        event.prevent_default();
    });
    on_cleanup(move || listener.remove());
}
