//! What concerns the whole car, and the wheel of the corner shown.

use geometry_core::setup::Axle;
use leptos::prelude::*;

use super::number_input::{FieldError, NumberInput};
use crate::{
    app::session,
    describe,
    edit::{Edit, NumberField, TextField},
    history::Gesture,
};

const VEHICLE: [(NumberField, &str, &str); 6] = [
    (NumberField::Wheelbase, "Wheelbase", "mm"),
    (NumberField::Mass, "Mass", "kg"),
    (NumberField::FrontMassShare, "Mass on the front wheels", "share, 0 to 1"),
    (NumberField::CgHeight, "Height of the centre of gravity", "mm"),
    (NumberField::BrakeFrontShare, "Braking at the front", "share, 0 to 1"),
    (NumberField::DriveFrontShare, "Driving at the front", "share, 0 to 1"),
];

/// The fields of car and wheel.
#[component]
pub fn Car() -> impl IntoView {
    let session = session();
    let wheel = move || {
        let axle = session.axle.get();
        let fields = [
            (NumberField::LoadedRadius(axle), "Loaded radius", "mm", false),
            (NumberField::Camber(axle), "Camber as it stands", "°, + top out", false),
            (NumberField::Toe(axle), "Toe as it stands", "°, + front in", false),
        ];
        let fields = fields.map(|(field, label, unit, optional)| {
            view! { <Field field=field label=label unit=unit optional=optional /> }
        });
        view! {
            {fields.into_iter().collect_view()}
            <Text field=TextField::Tyre(axle) label="Tyre size" />
            <TyreHint axle=axle />
        }
    };
    let vehicle = VEHICLE.map(|(field, label, unit)| {
        view! { <Field field=field label=label unit=unit optional=true /> }
    });
    view! {
        <fieldset class="fields">
            <legend>"Wheel of this corner"</legend>
            {wheel}
        </fieldset>
        <fieldset class="fields">
            <legend>"The whole car"</legend>
            {vehicle.into_iter().collect_view()}
        </fieldset>
        <fieldset class="fields">
            <legend>"Note"</legend>
            <Text field=TextField::Note label="Note" />
        </fieldset>
    }
}

/// What the tyre's size says, or that it says nothing; the text is kept either way.
#[component]
fn TyreHint(axle: Axle) -> impl IntoView {
    let session = session();
    let hint = Memo::new(move |_| {
        session.document().with(|document| {
            let tyre = document.corner(axle)?.wheel.tyre.clone()?;
            Some(describe::tyre(&tyre))
        })
    });
    move || hint.get().map(|text| view! { <p class="hint" data-hint="tyre">{text}</p> })
}

#[component]
fn Field(field: NumberField, label: &'static str, unit: &'static str, optional: bool) -> impl IntoView {
    let session = session();
    let error = RwSignal::new(None);
    let value = Signal::derive(move || session.document().with(|document| field.get(document)));
    view! {
        <div class="field">
            <span class="name">{label}</span>
            <NumberInput
                label=format!("{label}, {unit}")
                name=field.path()
                value=value
                edit=move |value| Edit::SetNumber { field, value }
                optional=optional
                error=error
            />
            <span class="unit">{unit}</span>
            <FieldError error=error />
        </div>
    }
}

#[component]
fn Text(field: TextField, label: &'static str) -> impl IntoView {
    let session = session();
    let error = RwSignal::new(None::<String>);
    let value = Memo::new(move |_| {
        session.document().with(|document| match field {
            TextField::Title => document.title.clone(),
            TextField::Note => document.note.clone(),
            TextField::Tyre(axle) => {
                document.corner(axle).and_then(|corner| corner.wheel.tyre.clone()).unwrap_or_default()
            }
        })
    });
    let (Gesture::Held(number) | Gesture::Repeated(number)) = session.new_gesture();
    let typed = move |text: String| {
        let outcome = session.edit(&Edit::SetText { field, text }, Some(Gesture::Repeated(number)));
        error.set(outcome.err().map(|error| error.to_string()));
    };
    let name = match field {
        TextField::Title => "title",
        TextField::Note => "note",
        TextField::Tyre(_) => "tyre",
    };
    view! {
        <div class="field text">
            <span class="name">{label}</span>
            <input
                type="text"
                data-field=name
                aria-label=label
                prop:value=move || value.get()
                on:input=move |event| typed(event_target_value(&event))
            />
            <FieldError error=error />
        </div>
    }
}
