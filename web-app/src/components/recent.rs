//! The menu of recent setups.

use leptos::prelude::*;

use super::menu::Menu;
use crate::{app::session, describe, effects::clock, session::recent::list::Entry};

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
    view! {
        <Menu name="recent" label="Recent" title="Setups that were open before" open=open>
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
                on:click=move |_| session.recent.remove(&session, number)
            >
                "✕"
            </button>
        </li>
    }
}
