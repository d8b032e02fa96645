//! What the page is, how far to trust it, and its cautions.

use leptos::{html, prelude::*};

/// The dialog.
#[component]
pub fn About(
    /// Whether it is open.
    open: RwSignal<bool>,
) -> impl IntoView {
    let dialog = NodeRef::<html::Dialog>::new();
    Effect::new(move |_| {
        let Some(dialog) = dialog.get() else { return };
        if open.get() {
            if !dialog.open() {
                // Fails only for a dialog that is open or out of the page; it is neither.
                let _ = dialog.show_modal();
            }
        } else {
            dialog.close();
        }
    });
    view! {
        <dialog class="about" node_ref=dialog aria-labelledby="about-title" on:close=move |_| open.set(false)>
            <h2 id="about-title">"About Cornerwise"</h2>
            <p>
                "Cornerwise tells what a suspension corner does from where its pivots are. It works in this page \
                 alone: nothing is sent anywhere, and no network is needed."
            </p>
            <h3>"What the numbers are"</h3>
            <p>
                "The knuckle is held by five constraints, each along a line. The motion they leave is a screw; centres, \
                 slopes, roll centre, steering axis and percentages are read off that screw, exactly, for rigid links and \
                 joints without play. Rubber, play and bending are not in them. They are as good as the points you give: \
                 a pivot measured a millimetre off moves some readings much and others hardly."
            </p>
            <p>
                "Axes after ISO 8855: x forward, y left, z up from the ground; the left corner is described, \
                 and the right one is its mirror image unless it is described separately. The steering axis is that of the knuckle's motion when the rack moves and the spring keeps its length."
            </p>
            <h3>"Cautions"</h3>
            <ul>
                <li>"Work under a car only when it stands on rated stands on firm, level ground; a jack alone does not hold it."</li>
                <li>"A compressed spring can kill. Release it with the proper tool and the maker's procedure."</li>
                <li>"Computed settings are not approved settings. The maker's data, local codes and licensed practice come first; \
                     have an alignment checked before the car goes on the road."</li>
            </ul>
            <h3>"Licence"</h3>
            <p>"MIT. Definitions and their sources stand beside each reading."</p>
            <button on:click=move |_| open.set(false)>"Close"</button>
        </dialog>
    }
}
