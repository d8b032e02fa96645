//! The points as a table by member, with the count of freedoms always in sight.

pub mod head;
pub mod paste;
pub mod rates;

use geometry_core::setup::{Axle, RACK_DIRECTION, Side};
use leptos::prelude::*;

use self::{
    head::Head,
    paste::Paste,
    rates::{MeasuredRate, Measurements},
};
use super::{
    car::{Field, lasting},
    number_input::{Cell, FieldError, NumberInput},
    typing::WrongTexts,
};
use crate::{
    app::session,
    describe,
    edit::{Coordinate, Edit, MemberKind, MemberPath, NumberField, Part, PointPath},
    effects::focus,
    pasted,
    session::Session,
};

/// The table's sections: changes only when members or parts come, go or are renamed.
#[derive(Clone, PartialEq)]
struct Layout {
    axle: Axle,
    members: Vec<(MemberPath, String)>,
    steering: Option<usize>,
    parts: Vec<Carried>,
}

/// A part, what carries it and what could; a rocker's name.
#[derive(Clone, PartialEq)]
struct Carried {
    part: Part,
    on: String,
    carriers: Vec<String>,
    name: Option<String>,
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
                .filter(|member| *member != MemberPath::Rocker)
                .map(|member| (member, member.id(corner).unwrap_or_default().to_string()));
            let parts = Part::CARRIED.into_iter().filter_map(|part| {
                let on = part.carrier(corner)?.to_string();
                let rocker = (part == Part::Rocker).then_some(MemberPath::Rocker);
                let name = rocker.and_then(|rocker| rocker.id(corner)).map(str::to_string);
                Some(Carried { part, on, carriers: part.carriers(corner), name })
            });
            Some(Layout {
                axle,
                members: members.collect(),
                steering: corner.links.iter().position(|link| link.steers),
                parts: parts.collect(),
            })
        })
    });
    let paste = Paste::default();
    provide_context(paste);
    provide_context(Measurements::default());
    provide_context(WrongTexts::default());
    let table = move || {
        let Some(layout) = layout.get() else {
            return view! { <p>"This axle is not described. Choose a layout above to begin."</p> }.into_any();
        };
        let axle = layout.axle;
        let members = layout.members.iter().cloned().map(|(member, id)| {
            let steers = matches!(member, MemberPath::Link(i) if layout.steering == Some(i));
            view! { <Member axle=axle member=member id=id steers=steers /> }
        });
        let members = members.collect_view();
        let parts =
            layout.parts.iter().cloned().map(|carried| view! { <PartRows axle=axle carried=carried /> });
        let parts = parts.collect_view();
        let missing =
            Part::CARRIED.into_iter().filter(|part| layout.parts.iter().all(|other| other.part != *part));
        view! {
            <Head axle=axle />
            <Rows axle=axle title="Wheel".to_string() paths=vec![PointPath::WheelCentre] />
            {members}
            {parts}
            <Adders axle=axle missing=missing.collect() />
        }
        .into_any()
    };
    view! {
        {table}
        <paste::Preview paste=paste />
    }
}

/// Buttons for what can be added, and why something was not.
#[component]
fn Adders(axle: Axle, missing: Vec<Part>) -> impl IntoView {
    let session = session();
    let error = RwSignal::new(None);
    let add = move |kind| try_here(session, &Edit::AddMember { axle, kind }, error);
    let missing = missing.into_iter().map(|part| {
        view! {
            <button data-add=part.path() on:click=move |_| try_here(session, &Edit::AddPart { axle, part }, error)>
                {format!("Add {}", part.one())}
            </button>
        }
    });
    view! {
        <div class="adders">
            <button on:click=move |_| add(MemberKind::Arm)>"Add an arm (holds 2)"</button>
            <button on:click=move |_| add(MemberKind::Link)>"Add a link (holds 1)"</button>
            <button on:click=move |_| add(MemberKind::Strut)>"Add a strut (holds 2)"</button>
            <button on:click=move |_| add(MemberKind::Hinge)>"Add a hinge (holds 5)"</button>
            {missing.collect_view()}
        </div>
        <FieldError error=error />
    }
}

/// Makes a change and says where it was asked for why it was refused.
fn try_here(session: Session, edit: &Edit, error: RwSignal<Option<String>>) {
    let outcome = session.edit(edit, None);
    if outcome.is_ok() {
        session.notice.set(None);
    }
    // Made, it may have taken the place of the sentence along.
    error.try_set(outcome.err().map(|error| session.refusal(&error)));
}

/// A member's name, to be changed, and the place of the error.
#[component]
fn Name(axle: Axle, member: MemberPath, id: String, error: RwSignal<Option<String>>) -> impl IntoView {
    let session = session();
    let texts = expect_context::<WrongTexts>();
    let before = id.clone();
    let rename = move |name: String| {
        let named = |id: &str| lasting(session, &format!("{} {id},", axle.name()));
        let after = named(name.trim());
        try_here(session, &Edit::RenameMember { axle, member, name }, error);
        if error.try_get_untracked().flatten().is_none() {
            texts.rename(&named(&before), &after);
        }
    };
    view! {
        <input
            type="text"
            class="member-name"
            aria-label=format!("Name of {id}")
            aria-invalid=move || error.get().map(|_| "true")
            prop:value=id
            on:change=move |event| rename(event_target_value(&event))
        />
    }
}

/// Takes a member or a part out, and says what stood on it.
fn remove(session: Session, edit: &Edit, id: Option<&str>, error: RwSignal<Option<String>>) {
    let on_it = session.corner.with_untracked(|corner| match (corner, id) {
        (Some(corner), Some(id)) => Part::on(corner, id),
        _ => Vec::new(),
    });
    try_here(session, edit, error);
    if let (Some(axle), Some(id)) = (edit.corner(), id) {
        use_context::<WrongTexts>().inspect(|texts| {
            texts.forget(&lasting(session, &format!("{} {id},", axle.name())));
        });
    }
    // What had the focus is gone.
    focus::go_to("#panel-pivots [data-add]".into());
    if let Some(sentence) = id.and_then(|id| describe::left_without_carrier(id, &on_it)) {
        session.tell(sentence);
    }
}

#[component]
fn Member(axle: Axle, member: MemberPath, id: String, steers: bool) -> impl IntoView {
    let session = session();
    let error = RwSignal::new(None::<String>);
    let steering = match member {
        MemberPath::Link(i) => Some(view! {
            <label class="steers">
                <input
                    type="checkbox"
                    data-steers=i
                    prop:checked=steers
                    on:change=move |event| {
                        let link = event_target_checked(&event).then_some(i);
                        try_here(session, &Edit::SetSteers { axle, link }, error);
                    }
                />
                "steers"
            </label>
        }),
        _ => None,
    };
    let label = format!("Remove {id}");
    let gone = id.clone();
    view! {
        <section class="member" data-member=id.clone()>
            <header>
                <Name axle=axle member=member id=id.clone() error=error />
                {steering}
                <span class="holds">{format!("holds {}", member.holds())}</span>
                <button
                    class="quiet"
                    aria-label=label.clone()
                    title=label
                    on:click=move |_| remove(session, &Edit::RemoveMember { axle, member }, Some(&gone), error)
                >
                    "✕"
                </button>
            </header>
            <FieldError error=error />
            {member.points().into_iter().map(|path| view! { <PointRow axle=axle path=path /> }).collect_view()}
            {steers.then(|| view! { <RackDirection axle=axle /> })}
        </section>
    }
}

/// Where the rack, or what is in its place, takes the inboard end of the link that steers; by the axes of the table.
#[component]
fn RackDirection(axle: Axle) -> impl IntoView {
    let session = session();
    let error = RwSignal::new(None::<String>);
    // A right corner stands as its mirror image, in which a rack that goes to the left goes to the right.
    let straight = move || match session.side.get() {
        Side::Left => RACK_DIRECTION,
        Side::Right => RACK_DIRECTION.map(|part| 0.0 - part),
    };
    let direction = move || {
        let said = session.corner.with(|corner| corner.as_ref().and_then(|corner| corner.rack_direction));
        said.unwrap_or_else(straight)
    };
    let turned = move |coordinate: Coordinate, value: f64| {
        let form = session.convention.get().form(coordinate, session.side.get());
        if form.flipped { 0.0 - value } else { value }
    };
    let fields = Coordinate::ALL.into_iter().map(|coordinate| {
        let value = Signal::derive(move || Some(turned(coordinate, coordinate.of(direction()))));
        let edit = Callback::new(move |value: Option<f64>| {
            untrack(|| {
                let mut new = direction();
                // An empty field never gets here.
                *coordinate.of_mut(&mut new) = turned(coordinate, value.unwrap_or(f64::NAN));
                Edit::SetRackDirection { axle, direction: (new != straight()).then_some(new) }
            })
        });
        let letter = coordinate.letter();
        view! {
            <NumberInput
                label=format!("rack moves along, {letter}")
                name=format!("rack_direction.{letter}")
                outlives_as=lasting(session, &format!("{} rack_direction.{letter}", axle.name()))
                value=value
                edit=edit
                error=error
            />
        }
    });
    view! {
        <div class="point-row" title="Only where it points counts; 0 in x and z is straight across the car">
            <span class="name">"rack moves along"</span>
            {fields.collect_view()}
            <FieldError error=error />
        </div>
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
fn PartRows(axle: Axle, carried: Carried) -> impl IntoView {
    let session = session();
    let Carried { part, on, carriers, name } = carried;
    let title = match part {
        Part::Spring => "Spring",
        Part::Damper => "Damper",
        Part::Rocker => "Rocker",
        Part::AntiRollBar => "Anti-roll bar",
        Part::TorsionBar => "Torsion bar",
        Part::Rim => "Rim",
        Part::BrakeDisc => "Brake disc",
    };
    let on_what = match part {
        Part::Rocker => "rod on ",
        Part::AntiRollBar => "drop link on ",
        Part::TorsionBar => "twisted by ",
        _ => "on ",
    };
    // A carrier that is gone stays in the list, so that the choice shows what is wrong.
    let mut names = carriers;
    if !names.contains(&on) {
        names.push(on.clone());
    }
    let options = names.into_iter().map(|name| {
        let chosen = name == on;
        view! { <option value=name.clone() prop:selected=chosen>{name.clone()}</option> }
    });
    let numbers = match part {
        Part::Spring => vec![
            (NumberField::SpringRate(axle), "spring rate", "N/mm"),
            (NumberField::FreeLength(axle), "free length", "mm without load"),
        ],
        Part::AntiRollBar => vec![(NumberField::BarRate(axle), "bar rate", "N·m/° end to end")],
        Part::TorsionBar => vec![(NumberField::TorsionBarRate(axle), "bar rate", "N·m/°")],
        _ => Vec::new(),
    };
    let numbers =
        numbers.into_iter().map(|(field, label, unit)| view! { <Field field=field label=label unit=unit /> });
    let error = RwSignal::new(None::<String>);
    let gone = name.clone();
    let heading = match name {
        Some(id) => view! { <Name axle=axle member=MemberPath::Rocker id=id error=error /> }.into_any(),
        None => view! { <span class="member-name">{title}</span> }.into_any(),
    };
    let label = format!("Remove the {}", part.name());
    view! {
        <section class="member" data-member=part.path()>
            <header>
                {heading}
                <label class="carrier">
                    {on_what}
                    <select
                        data-carrier=part.path()
                        on:change=move |event| {
                            let on = event_target_value(&event);
                            try_here(session, &Edit::SetCarrier { axle, part, on }, error);
                        }
                    >
                        {options.collect_view()}
                    </select>
                </label>
                <button
                    class="quiet"
                    aria-label=label.clone()
                    title=label
                    on:click=move |_| remove(session, &Edit::RemovePart { axle, part }, gone.as_deref(), error)
                >
                    "✕"
                </button>
            </header>
            <FieldError error=error />
            {part.points().into_iter().map(|path| view! { <PointRow axle=axle path=path /> }).collect_view()}
            {numbers.collect_view()}
            <MeasuredRate axle=axle part=part />
        </section>
    }
}

#[component]
fn PointRow(axle: Axle, path: PointPath) -> impl IntoView {
    let session = session();
    let paste = expect_context::<Paste>();
    let error = RwSignal::new(None);
    // The rows are made anew when a member gets another name.
    let name = session.corner.with_untracked(|corner| corner.as_ref().map(|c| describe::point_name(path, c)));
    let name = name.unwrap_or_default();
    let fields = Coordinate::ALL.into_iter().enumerate().map(|(number, coordinate)| {
        let letter = coordinate.letter();
        let value = Signal::derive(move || {
            session.corner.with(|corner| {
                let point = path.get(corner.as_ref()?)?;
                Some(coordinate.of(point))
            })
        });
        let form = Signal::derive(move || session.convention.get().form(coordinate, session.side.get()));
        let block = Callback::new(move |text: String| {
            let is_block = pasted::is_block(&text, form.get_untracked());
            if is_block {
                paste.show(session, text, Some(path), number);
            }
            is_block
        });
        let spoken = name.clone();
        let label = Signal::derive(move || {
            format!("{spoken}, {letter} in {}", session.convention.get().measure.spoken())
        });
        view! {
            <NumberInput
                label=label
                name=format!("{}.{letter}", path.path())
                outlives_as=lasting(session, &format!("{} {name}, {letter}", axle.name()))
                value=value
                // An empty cell never gets here: the field is not optional.
                edit={move |value: Option<f64>| Edit::SetCoordinate { axle, path, coordinate, value: value.unwrap_or(f64::NAN) }}
                error=error
                cell=Cell { form, column: letter, block }
            />
        }
    });
    let selected = move || session.is_selected(path);
    view! {
        <div
            class="point-row"
            class:selected=selected
            on:focusin=move |_| session.select(path)
        >
            <span class="name">{describe::place_name(path)}</span>
            {fields.collect_view()}
            <FieldError error=error />
        </div>
    }
}
