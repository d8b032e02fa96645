//! The points as a table by member, with the count of freedoms always in sight.

use geometry_core::setup::{Axle, KNUCKLE};
use leptos::prelude::*;

use super::number_input::{FieldError, NumberInput};
use crate::{
    app::session,
    describe,
    edit::{Coordinate, Edit, MemberKind, MemberPath, NumberField, Part, PointPath},
};

/// The table's sections: changes only when members come, go or are renamed.
#[derive(Clone, PartialEq)]
struct Layout {
    axle: Axle,
    members: Vec<(MemberPath, String)>,
    steering: Option<usize>,
    parts: Vec<(Part, String)>,
    removed: usize,
}

/// The table of pivots.
#[component]
pub fn Pivots() -> impl IntoView {
    let session = session();
    let layout = Memo::new(move |_| {
        let axle = session.axle.get();
        session.corner.with(|corner| {
            let corner = corner.as_ref()?;
            let members = MemberPath::all(corner)
                .into_iter()
                .map(|member| (member, member.id(corner).unwrap_or_default().to_string()));
            let parts = [Part::Spring, Part::Damper]
                .into_iter()
                .filter_map(|part| Some((part, part.carrier(corner)?.to_string())));
            Some(Layout {
                axle,
                members: members.collect(),
                steering: corner.links.iter().position(|link| link.steers),
                parts: parts.collect(),
                removed: corner.freedoms_removed(),
            })
        })
    });
    let add = move |kind: MemberKind| {
        session.try_edit(&Edit::AddMember { axle: session.axle.get_untracked(), kind }, None);
    };
    move || {
        let Some(layout) = layout.get() else {
            return view! { <p>"This axle is not described. Choose a layout above to begin."</p> }.into_any();
        };
        let axle = layout.axle;
        let right = layout.removed == 5;
        let carriers: Vec<String> =
            layout.members.iter().map(|(_, id)| id.clone()).chain([KNUCKLE.to_string()]).collect();
        let members = layout.members.iter().cloned().map(|(member, id)| {
            let steers = matches!(member, MemberPath::Link(i) if layout.steering == Some(i));
            view! { <Member axle=axle member=member id=id steers=steers /> }
        });
        let members = members.collect_view();
        let parts = layout.parts.iter().cloned().map(|(part, on)| {
            view! { <PartRows axle=axle part=part on=on carriers=carriers.clone() /> }
        });
        let parts = parts.collect_view();
        let missing = [Part::Spring, Part::Damper]
            .into_iter()
            .filter(|part| layout.parts.iter().all(|(other, _)| other != part))
            .map(|part| {
                view! {
                    <button on:click=move |_| session.try_edit(&Edit::AddPart { axle, part }, None)>
                        {format!("Add a {}", part.name())}
                    </button>
                }
            })
            .collect_view();
        view! {
            <p class="freedoms" class:wrong=!right data-freedoms=layout.removed>
                {format!("{} of five freedoms removed", layout.removed)}
                {if right { ": the wheel keeps its travel." } else { ": the corner cannot be read until it is five." }}
            </p>
            <p class="axes">"mm; x forward, y left, z up from the ground"</p>
            <Rows axle=axle title="Wheel".to_string() paths=vec![PointPath::WheelCentre] />
            {members}
            {parts}
            <div class="adders">
                <button on:click=move |_| add(MemberKind::Arm)>"Add an arm (2)"</button>
                <button on:click=move |_| add(MemberKind::Link)>"Add a link (1)"</button>
                <button on:click=move |_| add(MemberKind::Strut)>"Add a strut (2)"</button>
                <button on:click=move |_| add(MemberKind::Hinge)>"Add a hinge (5)"</button>
                {missing}
            </div>
        }
        .into_any()
    }
}

#[component]
fn Member(axle: Axle, member: MemberPath, id: String, steers: bool) -> impl IntoView {
    let session = session();
    let rename_error = RwSignal::new(None::<String>);
    let rename = move |name: String| {
        let outcome = session.edit(&Edit::RenameMember { axle, member, name }, None);
        rename_error.set(outcome.err().map(|error| error.to_string()));
    };
    let steering = match member {
        MemberPath::Link(i) => Some(view! {
            <label class="steers">
                <input
                    type="checkbox"
                    data-steers=i
                    prop:checked=steers
                    on:change=move |event| {
                        let link = event_target_checked(&event).then_some(i);
                        session.try_edit(&Edit::SetSteers { axle, link }, None);
                    }
                />
                "steers"
            </label>
        }),
        _ => None,
    };
    let label = format!("Name of {id}");
    let remove = format!("Remove {id}");
    view! {
        <section class="member" data-member=id.clone()>
            <header>
                <input
                    type="text"
                    class="member-name"
                    aria-label=label
                    prop:value=id.clone()
                    on:change=move |event| rename(event_target_value(&event))
                />
                {steering}
                <button
                    class="quiet"
                    aria-label=remove.clone()
                    title=remove
                    on:click=move |_| session.try_edit(&Edit::RemoveMember { axle, member }, None)
                >
                    "✕"
                </button>
            </header>
            <FieldError error=rename_error />
            {member.points().into_iter().map(|path| view! { <PointRow axle=axle path=path /> }).collect_view()}
        </section>
    }
}

#[component]
fn Rows(axle: Axle, title: String, paths: Vec<PointPath>) -> impl IntoView {
    view! {
        <section class="member">
            <header>
                <span class="member-name">{title}</span>
                <span class="heads" aria-hidden="true"><span>"x"</span><span>"y"</span><span>"z"</span></span>
            </header>
            {paths.into_iter().map(|path| view! { <PointRow axle=axle path=path /> }).collect_view()}
        </section>
    }
}

#[component]
fn PartRows(axle: Axle, part: Part, on: String, carriers: Vec<String>) -> impl IntoView {
    let session = session();
    let (title, paths) = match part {
        Part::Spring => ("Spring", [PointPath::SpringBody, PointPath::SpringCarried]),
        Part::Damper => ("Damper", [PointPath::DamperBody, PointPath::DamperCarried]),
    };
    // A carrier that is gone stays in the list, so that the choice shows what is wrong.
    let mut names = carriers;
    if !names.contains(&on) {
        names.push(on.clone());
    }
    let options = names.into_iter().map(|name| {
        let chosen = name == on;
        view! { <option value=name.clone() selected=chosen>{name.clone()}</option> }
    });
    let rate = (part == Part::Spring).then(|| {
        let error = RwSignal::new(None);
        let field = NumberField::SpringRate(axle);
        let value = Signal::derive(move || session.document().with(|document| field.get(document)));
        view! {
            <div class="field">
                <span class="name">"rate"</span>
                <NumberInput
                    label="Spring rate, N/mm"
                    name=field.path()
                    value=value
                    edit=move |value| Edit::SetNumber { field, value }
                    optional=true
                    error=error
                />
                <span class="unit">"N/mm"</span>
                <FieldError error=error />
            </div>
        }
    });
    view! {
        <section class="member" data-member=part.name()>
            <header>
                <span class="member-name">{title}</span>
                <label class="carrier">
                    "on "
                    <select
                        data-carrier=part.name()
                        on:change=move |event| {
                            let on = event_target_value(&event);
                            session.try_edit(&Edit::SetCarrier { axle, part, on }, None);
                        }
                    >
                        {options.collect_view()}
                    </select>
                </label>
                <button
                    class="quiet"
                    aria-label=format!("Remove the {}", part.name())
                    on:click=move |_| session.try_edit(&Edit::RemovePart { axle, part }, None)
                >
                    "✕"
                </button>
            </header>
            {paths.into_iter().map(|path| view! { <PointRow axle=axle path=path /> }).collect_view()}
            {rate}
        </section>
    }
}

#[component]
fn PointRow(axle: Axle, path: PointPath) -> impl IntoView {
    let session = session();
    let error = RwSignal::new(None);
    let fields = Coordinate::ALL.map(|coordinate| {
        let letter = match coordinate {
            Coordinate::X => "x",
            Coordinate::Y => "y",
            Coordinate::Z => "z",
        };
        let value = Signal::derive(move || {
            session.corner.with(|corner| {
                let point = path.get(corner.as_ref()?)?;
                Some(coordinate.of(point))
            })
        });
        view! {
            <NumberInput
                label=format!("{}, {letter} in millimetres", path.path())
                name=format!("{}.{letter}", path.path())
                value=value
                // An empty cell never gets here: the field is not optional.
                edit=move |value| Edit::SetCoordinate { axle, path, coordinate, value: value.unwrap_or(f64::NAN) }
                error=error
            />
        }
    });
    let selected = move || session.selected.get() == Some(path);
    view! {
        <div
            class="point-row"
            class:selected=selected
            on:focusin=move |_| session.selected.set(Some(path))
        >
            <span class="name">{describe::place_name(path)}</span>
            {fields.into_iter().collect_view()}
            <FieldError error=error />
        </div>
    }
}
