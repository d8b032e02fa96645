//! What the sheet says where no corner is described: how to begin.

use leptos::prelude::*;

use crate::{app::session, edit::Edit, presets::Preset};

/// Layouts to begin with; nothing where there is a corner.
#[component]
pub fn EmptySheet() -> impl IntoView {
    let session = session();
    let empty = Memo::new(move |_| session.corner.with(Option::is_none));
    let begin = move |preset: Preset| {
        let axle = session.axle.get_untracked();
        let wheelbase = session.document().with_untracked(|document| document.vehicle.wheelbase);
        let corner = Box::new(preset.corner(axle, wheelbase.unwrap_or(2600.0)));
        session.try_edit(&Edit::ReplaceCorner { axle, corner }, None);
    };
    move || {
        empty.get().then(|| {
            let name = session.axle.get().name();
            let layouts = Preset::ALL.map(|preset| {
                view! {
                    <li>
                        <button data-begin=preset.name() title=preset.description() on:click=move |_| begin(preset)>
                            {preset.name()}
                        </button>
                    </li>
                }
            });
            view! {
                <div class="empty-sheet" data-empty="">
                    <h2>{format!("The {name} corner is not described yet")}</h2>
                    <p>
                        "Begin with the layout that is nearest to the car on the lift, then drag its pivots or type what you \
                         measured. The numbers of a layout are invented."
                    </p>
                    <ul>{layouts.into_iter().collect_view()}</ul>
                </div>
            }
        })
    }
}
