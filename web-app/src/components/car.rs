//! What concerns the whole car, and wheel, brakes, drive, stops and parts of the corner shown.

use geometry_core::{
    setup::{Axle, Brakes, Drive, Side},
    tyre::Size,
};
use leptos::prelude::*;

use super::{
    number_input::{FieldError, NumberInput},
    typing::rows_of,
};
use crate::{
    app::session,
    describe,
    edit::{Edit, NumberField, Part, TextField},
    effects::focus,
    history::Gesture,
    session::Session,
    units::{self, System, Unit, of_field},
};

const SHARE: &str = "share, 0 to 1";

const VEHICLE: [(NumberField, &str, &str); 8] = [
    (NumberField::Wheelbase, "Wheelbase", "mm"),
    (NumberField::Mass, "Mass", "kg"),
    (NumberField::FrontMassShare, "Mass on the front wheels", SHARE),
    (NumberField::CgHeight, "Height of the centre of gravity", "mm"),
    (NumberField::BrakeFrontShare, "Braking at the front", SHARE),
    (NumberField::DriveFrontShare, "Driving at the front", SHARE),
    (NumberField::RegenerationShare, "Regeneration in the braking", SHARE),
    (NumberField::RegenerationFrontShare, "Regeneration at the front", "share; empty: the drive’s"),
];

/// The fields of car and corner.
#[component]
pub fn Car() -> impl IntoView {
    let session = session();
    // A memo: the fields stand while the corner is edited, and keep the focus.
    let described = Memo::new(move |_| session.corner.with(Option::is_some));
    let vehicle = VEHICLE.map(|(field, label, unit)| view! { <Field field=field label=label unit=unit /> });
    view! {
        <p class="hint" data-said="units">
            {move || match units::chosen() {
                System::Metric => {
                    "A number may have another unit behind it: 26 in, 850 lb, 180 lb/in, 60 %, 0°06′ are read as well."
                }
                System::Customary => {
                    "A number may have another unit behind it: 660 mm, 8 ft 8 in, 385 kg, 31 N/mm, 60 %, 0°06′ are read \
                     as well."
                }
            }}
        </p>
        {move || described.get().then(|| {
            let axle = session.axle.get();
            view! {
                <Wheel axle=axle />
                <Stops axle=axle />
                <Torque axle=axle />
                <Unsprung axle=axle />
                <fieldset class="fields">
                    <legend>"Right corner"</legend>
                    <RightSide axle=axle />
                </fieldset>
            }
        })}
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

#[component]
fn Wheel(axle: Axle) -> impl IntoView {
    view! {
        <fieldset class="fields">
            <legend>"Wheel of this corner"</legend>
            <Field field=NumberField::LoadedRadius(axle) label="Loaded radius" unit="mm" />
            <GroundHint />
            <Field field=NumberField::Camber(axle) label="Camber as it stands" unit="°, + top out" />
            <Field field=NumberField::Toe(axle) label="Toe as it stands" unit="°, + front in" />
            <Text field=TextField::Tyre(axle) label="Tyre size" />
            <TyreHint axle=axle />
            <Field field=NumberField::TyreRate(axle) label="Tyre rate, vertical" unit="N/mm" />
            <Sizes axle=axle part=Part::Rim />
            <Sizes axle=axle part=Part::BrakeDisc />
        </fieldset>
    }
}

/// mm: a tape is read no closer (common practice, no source).
const READ_TO: f64 = 5.0;

/// Says where the tyre does not stand on the ground by what was measured.
#[component]
fn GroundHint() -> impl IntoView {
    let session = session();
    let said = Memo::new(move |_| {
        session.corner.with(|corner| {
            let wheel = &corner.as_ref()?.wheel;
            let height = wheel.centre[2];
            let gap = height - wheel.loaded_radius * wheel.camber.to_radians().cos();
            let where_to = if gap > 0.0 { "above the ground" } else { "into the ground" };
            let length = Unit::Millimetre.here();
            (gap.abs() > READ_TO).then(|| {
                format!(
                    "By this the tyre stands {} {where_to}: the wheel centre is at a height of {}. Measure both \
                     again, from the ground under the loaded wheel.",
                    length.rough(gap.abs()),
                    length.show(height)
                )
            })
        })
    });
    move || said.get().map(|text| view! { <p class="hint" data-said="ground">{text}</p> })
}

/// The sizes of the rim or the brake disc, or the button that adds it.
#[component]
fn Sizes(axle: Axle, part: Part) -> impl IntoView {
    let session = session();
    let there =
        Memo::new(move |_| session.corner.with(|corner| corner.as_ref().is_some_and(|c| part.is_in(c))));
    let fields = move || match part {
        Part::Rim => vec![
            (NumberField::RimWidth(axle), "Rim width", "mm between flanges"),
            (NumberField::RimOffset(axle), "Rim offset", "mm, + face outboard"),
        ],
        Part::BrakeDisc => vec![
            (NumberField::DiscDiameter(axle), "Brake disc, diameter", "mm"),
            (NumberField::DiscThickness(axle), "Brake disc, thickness", "mm"),
            (NumberField::DiscInset(axle), "Brake disc, inset", "mm inboard of the centre"),
        ],
        _ => Vec::new(),
    };
    move || {
        if there.get() {
            let fields = fields().into_iter().map(|(field, label, unit)| {
                view! { <Field field=field label=label unit=unit /> }
            });
            view! {
                {fields.collect_view()}
                <div class="adders">
                    <button
                        data-remove=part.path()
                        on:click=move |_| {
                            session.try_edit(&Edit::RemovePart { axle, part }, None);
                            focus::go_to(format!("#panel-car [data-add=\"{}\"]", part.path()));
                        }
                    >
                        {format!("Remove the {}", part.name())}
                    </button>
                </div>
            }
            .into_any()
        } else {
            view! {
                <div class="adders">
                    <button
                        data-add=part.path()
                        on:click=move |_| {
                            session.try_edit(&Edit::AddPart { axle, part }, None);
                            focus::go_to(format!("#panel-car [data-remove=\"{}\"]", part.path()));
                        }
                    >
                        {format!("Add {}", part.one())}
                    </button>
                </div>
            }
            .into_any()
        }
    }
}

#[component]
fn Stops(axle: Axle) -> impl IntoView {
    view! {
        <fieldset class="fields">
            <legend>"Ends of the motion"</legend>
            <Field field=NumberField::BumpTravel(axle) label="Travel to the bump stop" unit="mm up" />
            <Field field=NumberField::ReboundTravel(axle) label="Travel to the rebound stop" unit="mm down" />
            <Field field=NumberField::RackTravel(axle) label="Rack to either lock" unit="mm" />
            <p class="hint">"The sliders end here; without a number they end where the page chooses."</p>
        </fieldset>
    }
}

/// What reacts the torque of brakes and drive.
#[component]
fn Torque(axle: Axle) -> impl IntoView {
    let session = session();
    let brakes = Memo::new(move |_| {
        session.corner.with(|corner| corner.as_ref().is_some_and(|c| c.brakes == Brakes::Inboard))
    });
    let drive = Memo::new(move |_| {
        session.corner.with(|corner| corner.as_ref().is_some_and(|c| c.drive == Drive::Hub))
    });
    let set_brakes = move |inboard: bool| {
        let brakes = if inboard { Brakes::Inboard } else { Brakes::Outboard };
        session.try_edit(&Edit::SetBrakes { axle, brakes }, None);
    };
    let set_drive = move |hub: bool| {
        let drive = if hub { Drive::Hub } else { Drive::Shaft };
        session.try_edit(&Edit::SetDrive { axle, drive }, None);
    };
    view! {
        <fieldset class="fields">
            <legend>"Brakes and drive of this corner"</legend>
            <Choice
                name=format!("{}.brakes", axle.name())
                label="Friction brakes"
                options=["outboard", "inboard"]
                second=brakes
                set=set_brakes
            />
            <Choice
                name=format!("{}.drive", axle.name())
                label="Drive and regeneration"
                options=["by a shaft", "hub motor"]
                second=drive
                set=set_drive
            />
        </fieldset>
    }
}

/// One of two.
#[component]
fn Choice(
    name: String,
    label: &'static str,
    options: [&'static str; 2],
    second: Memo<bool>,
    set: impl Fn(bool) + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let [one, other] = options;
    view! {
        <div class="field choice">
            <span class="name">{label}</span>
            <select
                data-choice=name
                aria-label=label
                prop:value=move || if second.get() { "second" } else { "first" }
                on:change=move |event| set(event_target_value(&event) == "second")
            >
                <option value="first" prop:selected=move || !second.get()>{one}</option>
                <option value="second" prop:selected=move || second.get()>{other}</option>
            </select>
        </div>
    }
}

/// The parts that move with the wheel, and their sum.
#[component]
fn Unsprung(axle: Axle) -> impl IntoView {
    let session = session();
    let rows = rows_of(move |read| {
        session.corner.with(|corner| read(corner.as_ref().map_or(&[], |corner| &corner.unsprung)));
    });
    let sum = Memo::new(move |_| session.corner.with(|corner| corner.as_ref()?.unsprung_mass()));
    let total = move || match sum.get() {
        Some(mass) => format!("Unsprung mass of this corner: {}", Unit::Kilogram.show(mass)),
        None => "No part is named: the unsprung mass is not known.".into(),
    };
    view! {
        <fieldset class="fields">
            <legend>"Parts that move with the wheel"</legend>
            <For each=move || rows.get() key=|row| *row let(row)>
                <UnsprungRow axle=axle number=row.1 />
            </For>
            <p class="hint" data-sum="unsprung">{total}</p>
            <div class="adders">
                <button
                    data-add="unsprung"
                    on:click=move |_| session.try_edit(&Edit::AddUnsprung { axle }, None)
                >
                    "Add a part"
                </button>
            </div>
            <p class="hint">
                "The share is how much of a part moves with the wheel: half of a link or drive shaft is common \
                 practice; empty is all of it."
            </p>
        </fieldset>
    }
}

#[component]
fn UnsprungRow(axle: Axle, number: usize) -> impl IntoView {
    let session = session();
    let error = RwSignal::new(None);
    let (mass, share) = (NumberField::PartMass(axle, number), NumberField::PartShare(axle, number));
    let value =
        move |field: NumberField| Signal::derive(move || session.with_shown(|document| field.get(document)));
    let ordinal = number + 1;
    view! {
        <div class="part-row">
            <TextInput field=TextField::PartName(axle, number) label=format!("Name of part {ordinal}") error=error />
            <NumberInput
                label=Signal::derive(move || format!("Mass of part {ordinal}, {}", of_field("kg")))
                name=mass.path()
                value=value(mass)
                edit=move |value| Edit::SetNumber { field: mass, value }
                unit=mass.bound().unit
                error=error
            />
            <span class="unit">{move || of_field("kg ×")}</span>
            <NumberInput
                label=format!("Share of part {ordinal}, 0 to 1")
                name=share.path()
                value=value(share)
                edit=move |value| Edit::SetNumber { field: share, value }
                optional=true
                error=error
            />
            <button
                class="quiet"
                aria-label=format!("Remove part {ordinal}")
                on:click=move |_| {
                    session.try_edit(&Edit::RemoveUnsprung { axle, number }, None);
                    focus::go_to("[data-add=unsprung]".into());
                }
            >
                "✕"
            </button>
            <FieldError error=error />
        </div>
    }
}

/// Whether the right corner is the left one's mirror image, to be chosen.
#[component]
pub(super) fn RightSide(axle: Axle) -> impl IntoView {
    let session = session();
    let there = Memo::new(move |_| session.document().with(|document| document.right_corner(axle).is_some()));
    let choose = move |event: web_sys::Event| {
        let separate = event_target_value(&event) == "separate";
        let edit = if separate { Edit::DescribeRight { axle } } else { Edit::MirrorRight { axle } };
        session.try_edit(&edit, None);
    };
    let hint = move || match (there.get(), session.side.get()) {
        (false, _) => "",
        (true, Side::Left) => {
            "The left corner is shown; Left and Right at the top choose. Back to the mirror drops what was \
             said of the right one; undo brings it back."
        }
        (true, Side::Right) => {
            "The right corner is shown, drawn as in a mirror: outboard stays to the right of the front view. \
             Its numbers in the table are those of the right side."
        }
    };
    view! {
        <div class="field choice">
            <span class="name">"The right side is"</span>
            <select data-choice="right" aria-label="The right side is" on:change=choose>
                <option value="mirror" prop:selected=move || !there.get()>"the mirror of the left"</option>
                <option value="separate" prop:selected=move || there.get()>"described separately"</option>
            </select>
        </div>
        <p class="hint" data-hint="right">{hint}</p>
    }
}

/// What the tyre's size says, or that it says nothing; the text is kept either way.
#[component]
fn TyreHint(axle: Axle) -> impl IntoView {
    let session = session();
    let hint = Memo::new(move |_| {
        session.with_shown(|document| {
            let wheel = &document.corner(axle)?.wheel;
            let tyre = wheel.tyre.as_ref()?;
            let estimate = Size::read(tyre).map(|size| size.loaded_radius_estimate().round());
            Some((describe::tyre(tyre), estimate.filter(|estimate| *estimate != wheel.loaded_radius)))
        })
    });
    let take = move |estimate: f64| {
        let field = NumberField::LoadedRadius(axle);
        view! {
            " "
            <button
                class="lacking"
                data-do="take-radius"
                on:click=move |_| {
                    session.try_edit(&Edit::SetNumber { field, value: Some(estimate) }, None);
                    focus::go_to(format!("[data-field=\"{}\"]", field.path()));
                }
            >
                {move || format!("Take {} for the loaded radius", Unit::Millimetre.here().rough(estimate))}
            </button>
        }
    };
    move || {
        hint.get().map(|(text, estimate)| {
            view! {
                <p class="hint" data-hint="tyre">{text} {estimate.map(take)}</p>
            }
        })
    }
}

/// A name by which a wrong text is known again: of this setup and this side.
pub(super) fn lasting(session: Session, name: &str) -> String {
    format!("{:?} {:?} {name}", session.setup_number(), session.side.get_untracked())
}

/// A number of the document with its name, its unit and its error.
#[component]
pub(super) fn Field(field: NumberField, label: &'static str, unit: &'static str) -> impl IntoView {
    let session = session();
    let error = RwSignal::new(None);
    let value = Signal::derive(move || session.with_shown(|document| field.get(document)));
    view! {
        <div class="field">
            <span class="name">{label}</span>
            <NumberInput
                label=Signal::derive(move || format!("{label}, {}", of_field(unit)))
                name=field.path()
                value=value
                edit=move |value| Edit::SetNumber { field, value }
                unit=field.bound().unit
                outlives_as=lasting(session, &field.path())
                optional=field.may_be_empty()
                error=error
            />
            <span class="unit">{move || of_field(unit)}</span>
            <FieldError error=error />
        </div>
    }
}

#[component]
fn Text(field: TextField, label: &'static str) -> impl IntoView {
    let error = RwSignal::new(None::<String>);
    view! {
        <div class="field text">
            <span class="name">{label}</span>
            <TextInput field=field label=label error=error />
            <FieldError error=error />
        </div>
    }
}

#[component]
fn TextInput(
    field: TextField,
    #[prop(into)] label: String,
    error: RwSignal<Option<String>>,
) -> impl IntoView {
    let session = session();
    let value = Memo::new(move |_| session.with_shown(|document| field.get(document)));
    let (Gesture::Held(number) | Gesture::Repeated(number)) = session.new_gesture();
    // A sentence of another field of the row stays.
    let wrong = StoredValue::new(false);
    let typed = move |text: String| {
        let outcome = session.edit(&Edit::SetText { field, text }, Some(Gesture::Repeated(number)));
        let refused = outcome.err().map(|error| error.to_string());
        if refused.is_some() || wrong.get_value() {
            wrong.set_value(refused.is_some());
            error.set(refused);
        }
    };
    let name = match field {
        TextField::Title => "title".to_string(),
        TextField::Note => "note".to_string(),
        TextField::Tyre(_) => "tyre".to_string(),
        TextField::PartName(axle, number) => format!("{}.unsprung[{number}].name", axle.name()),
    };
    view! {
        <input
            type="text"
            data-field=name
            aria-label=label
            prop:value=move || value.get()
            on:input=move |event| typed(event_target_value(&event))
        />
    }
}
