//! What the page is, how far to trust it, and its cautions.

use leptos::{html, prelude::*};

/// What the definitions, relations and drawing rules are from.
const SOURCES: [(&str, &str); 9] = [
    ("Names and signs", "ISO 8855:2011; ISO 23365:2022"),
    (
        "Motion as a screw",
        "R. S. Ball, A Treatise on the Theory of Screws, 1900; K. H. Hunt, Kinematic Geometry of Mechanisms, 1978; \
         K. M. Lynch and F. C. Park, Modern Robotics, 2017; the theorem of Aronhold and Kennedy",
    ),
    ("Roll centre, swing arms", "J. Reimpell, H. Stoll and J. W. Betzler, The Automotive Chassis, 2001"),
    (
        "Anti-percentages, load transfer",
        "T. D. Gillespie, Fundamentals of Vehicle Dynamics, 1992; W. F. and D. L. Milliken, Race Car Vehicle \
         Dynamics, 1995; D. C. Barton and J. D. Fieldhouse, Automotive Chassis Engineering, 2018",
    ),
    ("Steering", "R. N. Jazar, Vehicle Dynamics; G. Rill, Road Vehicle Dynamics, 2012"),
    ("Tyre sizes", "UN Regulation 30; ETRTO"),
    ("Forces", "virtual work: the transpose of the motion"),
    ("Uncertainty", "JCGM 100:2008, checked by drawing corners at random as JCGM 101:2008 does"),
    ("Drawing", "ISO 128, 3952, 5455, 5456-2, 5457 and 7200"),
];

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
            // First, so that the dialog opens at its beginning, where the focus is.
            <header>
                <h2 id="about-title">"About Cornerwise"</h2>
                <button on:click=move |_| open.set(false)>"Close"</button>
            </header>
            <p>"Cornerwise tells what a suspension corner does from where its pivots are."</p>
            <h3>"Cautions"</h3>
            <ul>
                <li>"Work under a car only when it stands on rated stands on firm, level ground; a jack alone does not hold it."</li>
                <li>"A compressed spring can kill. Release it with the proper tool and the maker's procedure."</li>
                <li>"Computed settings are not approved settings. The maker's data, local codes and licensed practice come first; \
                     have an alignment checked before the car goes on the road."</li>
            </ul>
            <h3>"What the numbers are"</h3>
            <p>
                "The knuckle is held by five constraints, each along a line. The motion they leave is a screw; centres, \
                 slopes, roll centre, steering axis and percentages are read off that screw, exactly, for rigid links and \
                 joints without play. Rubber, play and bending are not in them. They are as good as the points you give: \
                 a pivot measured a millimetre off moves some readings much and others hardly. “How far to trust them”, \
                 above the readings, says how much of each number."
            </p>
            <p>
                "Axes after ISO 8855: x forward, y left, z up from the ground; the left corner is described, \
                 and the right one is its mirror image unless it is described separately. The steering axis is that of the knuckle's motion when the rack moves and the spring keeps its length (a torsion bar its twist, where no coil spring does it)."
            </p>
            <h3>"Sources"</h3>
            <ul class="sources">{SOURCES.map(|(what, source)| view! { <li><b>{what}</b>": "{source}"."</li> }).into_iter().collect_view()}</ul>
            <p>"The definition of each reading and its own source stand beside it: choose it in the table."</p>
            <h3>"Privacy"</h3>
            <p>
                "This page asks the network for nothing: its own security policy forbids it, and it works with none. \
                 Your setup, the reference and the recent setups are kept in this browser alone, until you remove them or clear \
                 its data. A link holds the whole setup, its reference, and what the page shows of it, in the part after #, which browsers send to no \
                 server; who has the link has the setup."
            </p>
            <h3>"Licence"</h3>
            <p>"MIT: free to use, copy, change and pass on, without any warranty."</p>
        </dialog>
    }
}
