//! Why a number is not told: each missing input as a button that leads to its field.

use geometry_core::setup::{Axle, Corner, Side};
use leptos::prelude::*;

use crate::{
    app::session,
    describe::input::{Input, Where, Why},
    effects::focus,
    session::{Session, Tab},
};

/// What stands around a reason says whose inputs it may be of.
#[derive(Debug, Clone, Copy, Default)]
pub enum Around {
    /// All are of the corner shown.
    #[default]
    Corner,
    /// Those of one axle.
    Axle(Axle),
    /// None are.
    Car,
}

impl Around {
    fn leaves_open(self, input: Input) -> bool {
        match self {
            Self::Corner => false,
            Self::Axle(axle) => input.axle().is_some_and(|other| other != axle),
            Self::Car => true,
        }
    }
}

/// The reason; of missing inputs, buttons.
#[component]
pub fn Reason(
    /// Why.
    why: Why,
    /// What stands around it; what that leaves open is said with an input.
    #[prop(optional)]
    around: Around,
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
        let name = move || {
            let mut name =
                if around.leaves_open(input) { input.name_with_axle() } else { input.name().into() };
            if side_of(session, input, of_left) == Some(Side::Right) {
                name.push_str(", right side");
            }
            name
        };
        view! {
            {between}
            <button
                class="lacking"
                data-lacking=input.place().1
                title="Go to where it is entered"
                on:click=move |_| lead(session, input, untrack(|| side_of(session, input, of_left)))
            >
                {name}
            </button>
        }
    });
    buttons.collect_view().into_any()
}

/// The side whose corner lacks an input that is asked of both; none where it is of the one shown.
fn side_of(session: Session, input: Input, of_left: bool) -> Option<Side> {
    if !of_left {
        return None;
    }
    let only_right = session.document().with(|document| {
        let Input::Unsprung(axle) = input else { return false };
        let has = |corner: Option<&Corner>| corner.map(|corner| corner.unsprung_mass().is_some());
        has(document.corner(axle)) == Some(true) && has(document.right_corner(axle)) == Some(false)
    });
    Some(if only_right { Side::Right } else { Side::Left })
}

/// Shows where an input is entered and puts the focus there.
fn lead(session: Session, input: Input, side: Option<Side>) {
    if let Some(axle) = input.axle()
        && axle != session.axle.get_untracked()
    {
        session.show_axle(axle);
    }
    if let Some(side) = side.filter(|side| *side != session.side.get_untracked()) {
        session.show_side(side);
    }
    let (place, selector) = input.place();
    match place {
        Where::Top => {}
        Where::Pivots => session.tab.set(Tab::Pivots),
        Where::Car => session.tab.set(Tab::Car),
    }
    focus::go_to(selector);
}
