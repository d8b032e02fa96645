//! The menu of recent setups.

use leptos::prelude::*;

use super::{link_field::LinkField, menu::Menu};
use crate::{
    app::{open_link, session},
    describe,
    effects::{clock, focus},
    session::recent::list::Entry,
};

/// The menu.
#[component]
pub fn RecentMenu() -> impl IntoView {
    let session = session();
    let open = RwSignal::new(false);
    Effect::new(move |_| {
        if open.get() {
            session.recent.refresh(&session);
        }
    });
    let read_link = Callback::new(move |link: String| {
        open_link(session, &link)?;
        open.set(false);
        focus::go_to("[data-menu=recent]".into());
        Ok(())
    });
    view! {
        <Menu name="recent" label="Recent" title="Setups that were open before, and a link to another" open=open>
            <LinkField label="Paste a link to a setup" name="setup-link" read=read_link />
            {move || {
                let entries = session.recent.entries();
                if entries.is_empty() {
                    view! {
                        <p class="hint" data-recent-empty="">
                            "Nothing yet. A setup comes here when another takes its place; it is kept in this browser."
                        </p>
                    }
                    .into_any()
                } else {
                    let rows = entries.into_iter().map(|entry| view! { <Row entry=entry open=open /> });
                    view! { <ul class="recent">{rows.collect_view()}</ul> }.into_any()
                }
            }}
        </Menu>
    }
}

#[component]
fn Row(entry: Entry, open: RwSignal<bool>) -> impl IntoView {
    let session = session();
    let title = describe::setup::title(&entry.document);
    let when = clock::local(entry.left).words();
    let layouts = describe::setup::layouts(&entry.document);
    let remove = format!("Remove {title} from the list");
    let number = entry.number;
    view! {
        <li>
            <button
                class="quiet entry"
                data-recent=""
                on:click=move |_| {
                    open.set(false);
                    session.open_recent(&entry);
                    focus::go_to("[data-menu=recent]".into());
                }
            >
                <span class="name">{title}</span>
                <span class="words">"left "{when}</span>
                <span class="words">{layouts}</span>
            </button>
            <button
                class="quiet"
                data-recent-remove=""
                aria-label=remove.clone()
                title=remove
                on:click=move |_| {
                    session.recent.remove(&session, number);
                    let more = untrack(|| !session.recent.entries().is_empty());
                    focus::go_to(if more { ".recent [data-recent]" } else { "[data-menu=recent]" }.into());
                }
            >
                "✕"
            </button>
        </li>
    }
}
