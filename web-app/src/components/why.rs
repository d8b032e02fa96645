//! Why a number is not told: each missing input as a button that leads to its field.

use geometry_core::setup::Side;
use leptos::prelude::*;

use crate::{
    app::session,
    describe::input::{Input, Where, Why},
    effects::focus,
    session::{Session, Tab},
};

/// The reason; of missing inputs, buttons.
#[component]
pub fn Reason(
    /// Why.
    why: Why,
    /// Whether the axle is to be said with an input of one axle.
    #[prop(optional)]
    with_axle: bool,
    /// Whether it is of left corners, whichever side is shown.
    #[prop(optional)]
    of_left: bool,
) -> impl IntoView {
    let inputs = match why {
        Why::Because(reason) => return reason.into_any(),
        Why::Needs(inputs) => inputs,
    };
    let session = session();
    let last = inputs.len().saturating_sub(1);
    let buttons = inputs.into_iter().enumerate().map(|(i, input)| {
        let between = match i {
            0 => "needs ",
            _ if i == last => " and ",
            _ => ", ",
        };
        let name = if with_axle { input.name_with_axle() } else { input.name().into() };
        view! {
            {between}
            <button
                class="lacking"
                data-lacking=input.place().1
                title="Go to where it is entered"
                on:click=move |_| lead(session, input, of_left)
            >
                {name}
            </button>
        }
    });
    buttons.collect_view().into_any()
}

/// Shows where an input is entered and puts the focus there.
fn lead(session: Session, input: Input, of_left: bool) {
    if let Some(axle) = input.axle()
        && axle != session.axle.get_untracked()
    {
        session.show_axle(axle);
    }
    if of_left && session.side.get_untracked() == Side::Right {
        session.show_side(Side::Left);
    }
    let (place, selector) = input.place();
    match place {
        Where::Top => {}
        Where::Pivots => session.tab.set(Tab::Pivots),
        Where::Car => session.tab.set(Tab::Car),
    }
    focus::go_to(selector);
}
