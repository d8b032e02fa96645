//! The values in a chart's head: those at the cursor, or under the pointer.

use geometry_core::{readings::Quantity, setup::Axle};
use leptos::prelude::*;

use crate::{
    describe::{self, curves as words},
    effects::live::Live,
    session::{
        curves::{CurveView, Family},
        set_changed,
    },
};

/// A value's place, and the place of the reference's value beside it.
type Places = [Live; 2];

/// What stands of a line, one for each axle shown.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Line {
    axle: Axle,
    /// Otherwise the reason stands there.
    has_value: bool,
    has_reference: bool,
}

/// The values.
#[component]
pub fn Values(
    /// What the curves show.
    view: CurveView,
    /// The reading.
    quantity: Quantity,
) -> impl IntoView {
    let pointed = Memo::new(move |_| view.pointer.get().filter(|_| view.there.with(Option::is_some)));
    // An axle each.
    let places: [Places; 2] = std::array::from_fn(|_| std::array::from_fn(|_| Live::new()));
    let lines = RwSignal::new(Vec::new());
    Effect::new(move |_| {
        let there = pointed.get().and_then(|_| view.there.get());
        let beneath = if there.is_some() { view.reference_there } else { view.reference_here };
        let shown = beneath.with(|beneath| match &there {
            Some(there) => write(&places, quantity, there, beneath),
            None => view.here.with(|here| write(&places, quantity, here, beneath)),
        });
        // The elements stand while a point is dragged; only numbers change in them.
        set_changed(lines, shown);
    });
    let lead = move || {
        pointed.get().map(|input| {
            let text = words::short_input(view.against.get(), input);
            view! { <span class="curve-lead" data-pointer=input.to_string()>"at " {text}</span> }
        })
    };
    let parts = move || {
        let both = view.both.get();
        let part = |(line, [value, beneath]): (Line, Places)| {
            let axle = line.axle;
            let after = if line.has_value { " " } else { ": " };
            view! {
                <span class="curve-value">
                    {both.then(|| view! { <span class="curve-axle">{axle.name()} {after}</span> })}
                    <span data-axle-value=axle.name() node_ref=value.place()></span>
                </span>
                {line.has_reference.then(|| view! {
                    <span
                        class="curve-reference"
                        title="The reference"
                        data-reference-value=axle.name()
                        node_ref=beneath.place()
                    ></span>
                })}
            }
        };
        lines.get().into_iter().zip(places).map(part).collect_view()
    };
    view! {
        {lead}
        <span data-curve-now=quantity.name() data-under-pointer=move || pointed.get().is_some().to_string()>{parts}</span>
    }
}

/// Writes the values of one input, and says which lines there are.
fn write(places: &[Places; 2], quantity: Quantity, family: &Family, beneath: &Family) -> Vec<Line> {
    let chart = family.place(quantity);
    let value = |number| describe::unit(quantity).here().sensible(number);
    let lines = family.lines.iter().zip(places).map(|(line, [place, beside])| {
        let number = chart.and_then(|chart| line.of(chart).first().copied().flatten());
        match number {
            Some(number) => place.show(Some(number), &value(number)),
            None => place.show(None, line.why_none(quantity)),
        }
        // The reference's value beside that of the same axle.
        let beneath = beneath.place(quantity).and_then(|chart| {
            let line = beneath.lines.iter().find(|other| other.axle == line.axle)?;
            line.of(chart).first().copied().flatten()
        });
        beside.show(beneath, &beneath.map(value).unwrap_or_default());
        Line { axle: line.axle, has_value: number.is_some(), has_reference: beneath.is_some() }
    });
    lines.collect()
}
