//! Which readings stand on a curve, and in which order.

use geometry_core::readings::{Quantity, quantity::Question};
use leptos::{html, prelude::*};
use web_sys::KeyboardEvent;

use crate::{
    app::session,
    describe,
    session::curves::{CurveView, MOST_CHARTS, USUAL},
};

/// A checklist by the questions of the table of readings, with a search, and the chosen ones
/// in their order.
#[component]
pub fn Chooser(
    /// What the curves show.
    view: CurveView,
    /// Closes it and puts the focus back.
    close: impl Fn() + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let session = session();
    let sought = RwSignal::new(String::new());
    let search = NodeRef::<html::Input>::new();
    Effect::new(move |_| {
        if let Some(search) = search.get() {
            // Where the focus cannot be taken it stays where it is.
            let _ = search.focus();
        }
    });
    let key = move |event: KeyboardEvent| {
        if event.key() == "Escape" {
            // It closes this, and not the chosen reading's construction as well.
            event.stop_propagation();
            event.prevent_default();
            close();
        }
    };
    let count = move || {
        let count = view.charts.with(Vec::len);
        if count == MOST_CHARTS {
            format!("{count} curves, as many as there can be. Take one away to choose another.")
        } else {
            format!("{count} of at most {MOST_CHARTS} curves.")
        }
    };
    let groups = Question::ALL.map(|question| {
        let quantities: Vec<Quantity> =
            Quantity::ALL.into_iter().filter(|quantity| quantity.question() == question).collect();
        let found = move |quantity: Quantity| {
            let label = describe::label(quantity, session.axle.get()).to_lowercase();
            sought.with(|sought| sought.split_whitespace().all(|word| label.contains(&word.to_lowercase())))
        };
        let any = {
            let quantities = quantities.clone();
            move || quantities.iter().any(|quantity| found(*quantity))
        };
        let boxes = quantities.into_iter().map(move |quantity| {
            view! {
                <label class="chooser-row" hidden=move || !found(quantity)>
                    <input
                        type="checkbox"
                        data-on-curve=quantity.name()
                        prop:checked=move || view.charts.with(|charts| charts.contains(&quantity))
                        disabled=move || view.charts.with(|charts| is_fixed(charts, quantity))
                        on:change=move |_| view.charts.update(|charts| switch(charts, quantity))
                    />
                    {move || describe::label(quantity, session.axle.get())}
                </label>
            }
        });
        view! {
            <fieldset hidden=move || !any()>
                <legend>{describe::question(question)}</legend>
                {boxes.collect_view()}
            </fieldset>
        }
    });
    let nothing = move || {
        Quantity::ALL.into_iter().all(|quantity| {
            let label = describe::label(quantity, session.axle.get()).to_lowercase();
            sought.with(|sought| !sought.split_whitespace().all(|word| label.contains(&word.to_lowercase())))
        })
    };
    view! {
        <div class="chooser" role="dialog" aria-label="Choose curves" tabindex="-1" data-chooser="" on:keydown=key>
            <div class="chooser-head">
                <input
                    type="search"
                    node_ref=search
                    data-field="curve-search"
                    placeholder="Find a reading"
                    aria-label="Find a reading"
                    autocomplete="off"
                    on:input=move |event| sought.set(event_target_value(&event))
                />
                <button data-do="close-chooser" on:click=move |_| close()>"Done"</button>
            </div>
            <p class="hint" role="status">{count}</p>
            <ol class="chosen-curves" aria-label="Chosen, in the order shown">
                <For each=move || view.charts.get() key=|quantity| *quantity let(quantity)>
                    <Chosen view=view quantity=quantity search=search />
                </For>
            </ol>
            <button class="usual" data-do="usual-curves" on:click=move |_| view.charts.set(USUAL.to_vec())>
                "The usual four"
            </button>
            {groups.into_iter().collect_view()}
            {move || nothing().then(|| view! {
                <p class="hint" data-nothing-found="">{format!("No reading is called “{}”.", sought.get())}</p>
            })}
        </div>
    }
}

/// One of the chosen: earlier, or away.
#[component]
fn Chosen(view: CurveView, quantity: Quantity, search: NodeRef<html::Input>) -> impl IntoView {
    let session = session();
    let button = NodeRef::<html::Button>::new();
    let label = move || describe::label(quantity, session.axle.get());
    let earlier = move |_| {
        view.charts.update(|charts| {
            if let Some(at) = charts.iter().position(|chart| *chart == quantity).filter(|at| *at > 0) {
                charts.swap(at - 1, at);
            }
        });
        // What is moved loses the focus, and the first cannot have it.
        let first = view.charts.with_untracked(|charts| charts.first() == Some(&quantity));
        request_animation_frame(move || {
            let _ = match button.try_get_untracked().flatten().filter(|_| !first) {
                Some(button) => button.focus(),
                None => search.try_get_untracked().flatten().map_or(Ok(()), |search| search.focus()),
            };
        });
    };
    let away = move |_| {
        view.charts.update(|charts| switch(charts, quantity));
        // The button is gone with its row.
        if let Some(search) = search.get_untracked() {
            let _ = search.focus();
        }
    };
    view! {
        <li data-chosen-curve=quantity.name()>
            <span>{label}</span>
            <button
                class="quiet"
                node_ref=button
                data-do="earlier"
                aria-label=move || format!("{} earlier", label())
                title="Earlier"
                disabled=move || view.charts.with(|charts| charts.first() == Some(&quantity))
                on:click=earlier
            >
                "↑"
            </button>
            <button
                class="quiet"
                data-do="away"
                aria-label=move || format!("Take {} away", label().to_lowercase())
                title="Take away"
                disabled=move || view.charts.with(|charts| is_fixed(charts, quantity))
                on:click=away
            >
                "✕"
            </button>
        </li>
    }
}

/// Whether a reading can neither be added nor taken away: the last of all, or one too many.
fn is_fixed(charts: &[Quantity], quantity: Quantity) -> bool {
    if charts.contains(&quantity) { charts.len() == 1 } else { charts.len() >= MOST_CHARTS }
}

/// Adds a reading at the end, or takes it away.
fn switch(charts: &mut Vec<Quantity>, quantity: Quantity) {
    if is_fixed(charts, quantity) {
        return;
    }
    match charts.iter().position(|chart| *chart == quantity) {
        Some(at) => {
            charts.remove(at);
        }
        None => charts.push(quantity),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_is_always_one_curve_and_never_a_thirteenth() {
        let mut charts = vec![Quantity::Camber];
        switch(&mut charts, Quantity::Camber);
        assert_eq!(charts, [Quantity::Camber]);
        for quantity in Quantity::ALL {
            if quantity != Quantity::Camber {
                switch(&mut charts, quantity);
            }
        }
        assert_eq!(charts.len(), MOST_CHARTS);
        let second = charts[1];
        switch(&mut charts, second);
        assert!(charts.len() == MOST_CHARTS - 1 && !charts.contains(&second));
        switch(&mut charts, second);
        assert_eq!(charts.last(), Some(&second), "what is added stands last");
    }
}
