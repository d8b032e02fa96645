//! Forces in the members: the load case, the table by member, what kicks the steering.

use geometry_core::{
    bounds,
    setup::{Corner, Point},
    statics::{ForcesError, Given, Load, LoadAxes, LoadPoint, Missing, ReactedBy},
};
use leptos::prelude::*;

use super::{
    plain_number::PlainNumber,
    trust::{Differs, Doubted, HowFarHere, doubt_words},
    typing::rows_of,
};
use crate::{
    app::session,
    describe::forces::{self as words, CaseKind, Found},
    edit::PointPath,
    effects::focus,
    session::{
        Session, Tab,
        forces::{FRESH_LOAD, MOST_LOADS},
    },
    units::Unit,
};

/// The load case and what it does.
#[component]
pub fn Forces() -> impl IntoView {
    // What is asked stands while another panel is open, what is answered does not.
    view! {
        <p class="hint" data-caution="forces">
            "Forces of rigid parts on joints that turn freely, to understand a corner, not to size or clear a part: \
             for that the maker’s data and licensed practice decide."
        </p>
        <LoadCase />
        <HowFarHere tab=Tab::Forces />
        <Answer />
    }
}

#[component]
fn LoadCase() -> impl IntoView {
    let load = session().load();
    let options = CaseKind::ALL.map(|kind| {
        view! { <option value=kind.name() prop:selected=move || load.kind.get() == kind>{words::kind(kind)}</option> }
    });
    let choose = move |name: String| {
        if let Some(kind) = CaseKind::ALL.into_iter().find(|kind| kind.name() == name) {
            load.kind.set(kind);
        }
    };
    let numbers = CaseKind::ALL.into_iter().filter_map(|kind| {
        let (label, unit) = words::number_of(kind)?;
        // Each kind keeps its own field, and with it a text that is wrong.
        Some(view! {
            <div hidden=move || load.kind.get() != kind>
                <PlainNumber
                    label=label
                    name=format!("load.{}", kind.name())
                    unit=Signal::stored(unit.to_string())
                    value=Signal::derive(move || load.number(kind))
                    set=move |number| load.set_number(kind, number)
                    bound=words::bound_of(kind)
                />
            </div>
        })
    });
    view! {
        <fieldset class="fields">
            <legend>"Load case"</legend>
            <div class="field choice">
                <span class="name">"What the car does"</span>
                <select
                    data-choice="load.case"
                    aria-label="Load case"
                    on:change=move |event| choose(event_target_value(&event))
                >
                    {options.into_iter().collect_view()}
                </select>
            </div>
            {numbers.collect_view()}
            <div hidden=move || load.kind.get() != CaseKind::Free>
                <FreeLoads />
            </div>
            <Others />
            <label class="keep">
                <input
                    type="checkbox"
                    data-do="keep-forces"
                    prop:checked=move || load.kept.get()
                    on:change=move |event| load.kept.set(event_target_checked(&event))
                />
                "Keep the forces on the sheet when this panel is closed"
            </label>
        </fieldset>
    }
}

/// Loads of one's own, acting together.
#[component]
fn FreeLoads() -> impl IntoView {
    let load = session().load();
    let count = Memo::new(move |_| load.free.with(Vec::len));
    let rows = rows_of(move |read| load.free.with(|loads| read(loads)));
    view! {
        <For each=move || rows.get() key=|row| *row let(row)>
            <FreeLoad number=row.1 />
        </For>
        <div class="adders">
            <button
                data-add="load"
                disabled=move || { count.get() >= MOST_LOADS }
                on:click=move |_| {
                    load.free.update(|loads| loads.push(Load { force: [0.0; 3], ..FRESH_LOAD }));
                    // The last there can be takes the button's use away.
                    if count.get_untracked() >= MOST_LOADS {
                        focus::go_to(format!("[data-field=\"load.free[{}].x\"]", MOST_LOADS - 1));
                    }
                }
            >
                "Add a load"
            </button>
        </div>
    }
}

#[component]
fn FreeLoad(number: usize) -> impl IntoView {
    let load = session().load();
    let ordinal = number + 1;
    let get = move || load.free.with(|loads| loads.get(number).copied()).unwrap_or(FRESH_LOAD);
    let change = move |change: &dyn Fn(&mut Load)| {
        load.free.update(|loads| {
            if let Some(one) = loads.get_mut(number) {
                change(one);
            }
        });
    };
    let component = |i: usize, label: &str, unit: &'static str| {
        let of = move |force: Point| force.get(i).copied().unwrap_or_default();
        view! {
            <PlainNumber
                label=format!("Load {ordinal}, {label}")
                name=format!("load.free[{number}].{}", ["x", "y", "z"][i])
                unit=Signal::stored(unit.to_string())
                value=Signal::derive(move || of(get().force))
                set=move |value| change(&|one| {
                    if let Some(component) = one.force.get_mut(i) {
                        *component = value;
                    }
                })
                bound=Signal::stored(bounds::FORCE)
            />
        }
    };
    let reacted = move || match get().reacted_by {
        ReactedBy::Knuckle => "knuckle",
        ReactedBy::Shaft => "shaft",
        ReactedBy::Nothing => "nothing",
    };
    let set_reacted = move |name: String| {
        let reacted_by = match name.as_str() {
            "shaft" => ReactedBy::Shaft,
            "nothing" => ReactedBy::Nothing,
            _ => ReactedBy::Knuckle,
        };
        change(&|one| one.reacted_by = reacted_by);
    };
    let along_wheel = move || get().axes == LoadAxes::Wheel;
    let at_centre = move || get().at == LoadPoint::WheelCentre;
    view! {
        <div class="free-load" role="group" aria-label=format!("Load {ordinal}")>
            {component(0, "forward", "N, + forward")}
            {component(1, "outboard", "N, + outboard")}
            {component(2, "up", "N, + up")}
            <div class="field choice">
                <span class="name">{format!("Load {ordinal} acts")}</span>
                <select
                    data-choice=format!("load.free[{number}].at")
                    aria-label=format!("Where load {ordinal} acts")
                    on:change=move |event| {
                        let centre = event_target_value(&event) == "wheel_centre";
                        change(&|one| one.at = if centre { LoadPoint::WheelCentre } else { LoadPoint::Contact });
                    }
                >
                    <option value="contact" prop:selected=move || !at_centre()>"at the contact"</option>
                    <option value="wheel_centre" prop:selected=at_centre>"at the wheel centre"</option>
                </select>
            </div>
            <div class="field choice">
                <span class="name">{format!("Load {ordinal}, directions")}</span>
                <select
                    data-choice=format!("load.free[{number}].axes")
                    aria-label=format!("Directions of load {ordinal}")
                    on:change=move |event| {
                        let wheel = event_target_value(&event) == "wheel";
                        change(&|one| one.axes = if wheel { LoadAxes::Wheel } else { LoadAxes::Vehicle });
                    }
                >
                    <option value="vehicle" prop:selected=move || !along_wheel()>"of the car"</option>
                    <option value="wheel" prop:selected=along_wheel>"of the wheel as steered"</option>
                </select>
            </div>
            <div class="field choice">
                <span class="name">{format!("Load {ordinal}, torque held by")}</span>
                <select
                    data-choice=format!("load.free[{number}].reacted_by")
                    aria-label=format!("What holds the torque of load {ordinal}")
                    on:change=move |event| set_reacted(event_target_value(&event))
                >
                    <option value="knuckle" prop:selected=move || reacted() == "knuckle">"the knuckle"</option>
                    <option value="shaft" prop:selected=move || reacted() == "shaft">"a shaft to the body"</option>
                    <option value="nothing" prop:selected=move || reacted() == "nothing">"nothing: it rolls"</option>
                </select>
            </div>
            <div class="adders">
                <button
                    data-remove=format!("load.free[{number}]")
                    on:click=move |_| {
                        load.free.update(|loads| {
                            if number < loads.len() {
                                loads.remove(number);
                            }
                        });
                        focus::go_to("[data-add=load]".into());
                    }
                >
                    {format!("Remove load {ordinal}")}
                </button>
            </div>
        </div>
    }
}

/// Damper and bars, whose forces the load does not tell.
#[component]
fn Others() -> impl IntoView {
    let session = session();
    let given = session.load().given;
    let has = move |part: fn(&Corner) -> bool| {
        Memo::new(move |_| session.corner.with(|corner| corner.as_ref().is_some_and(part)))
    };
    let (damper, bar) = (has(|c| c.damper.is_some()), has(|c| c.anti_roll_bar.is_some()));
    let torsion = has(|c| c.torsion_bar.is_some() && c.spring.is_some());
    let none = move || !damper.get() && !bar.get() && !torsion.get();
    let force = Signal::stored("N, + pushes apart".to_string());
    let moment = Signal::stored("N·m about its axis".to_string());
    view! {
        <details class="others" hidden=none>
            <summary>"Damper and bars"</summary>
            <p class="hint">
                "A load does not tell what these carry: a damper depends on speed, a bar on the other wheel. Zero \
                 unless given."
            </p>
            <div hidden=move || !damper.get()>
                <PlainNumber
                    label="Damper"
                    name="load.damper"
                    unit=force
                    value=Signal::derive(move || given.with(|given| given.damper))
                    set=move |damper| given.update(|given| *given = Given { damper, ..*given })
                    bound=Signal::stored(bounds::FORCE)
                />
            </div>
            <div hidden=move || !bar.get()>
                <PlainNumber
                    label="Anti-roll bar, on its arm"
                    name="load.anti_roll_bar"
                    unit=moment
                    value=Signal::derive(move || given.with(|given| given.anti_roll_bar))
                    set=move |anti_roll_bar| given.update(|given| *given = Given { anti_roll_bar, ..*given })
                    bound=Signal::stored(bounds::MOMENT)
                />
            </div>
            <div hidden=move || !torsion.get()>
                <PlainNumber
                    label="Torsion bar, beside the spring"
                    name="load.torsion_bar"
                    unit=moment
                    value=Signal::derive(move || given.with(|given| given.torsion_bar))
                    set=move |torsion_bar| given.update(|given| *given = Given { torsion_bar, ..*given })
                    bound=Signal::stored(bounds::MOMENT)
                />
            </div>
        </details>
    }
}

/// A group's title and what stands in its rows but numbers.
type Names = Vec<(&'static str, Vec<(String, String, Option<PointPath>)>)>;

/// The sentence, the forces or what is missing, and the steering kick.
#[component]
fn Answer() -> impl IntoView {
    let session = session();
    let found = session.load().found;
    let open = move || session.tab.get() == Tab::Forces;
    let table = Memo::new(move |_| {
        if !open() {
            return Vec::new();
        }
        let Some(found) = found.get() else { return Vec::new() };
        let Ok(forces) = &found.forces else { return Vec::new() };
        session
            .corner
            .with(|corner| corner.as_ref().map(|c| words::table(c, found.side, forces)).unwrap_or_default())
    });
    let reference = Memo::new(move |_| {
        let found = if open() { session.forces_of_reference() } else { None }?;
        let forces = found.forces.as_ref().ok()?;
        session.reference.corner.with(|corner| Some(words::table(corner.as_ref()?, found.side, forces)))
    });
    // The rows stand while numbers change under a drag.
    let names: Memo<Names> = Memo::new(move |_| {
        table.with(|groups| {
            let rows = |group: &words::Group| {
                group.rows.iter().map(|row| (row.key.clone(), row.name.clone(), row.path)).collect()
            };
            groups.iter().map(|group| (group.title, rows(group))).collect()
        })
    });
    let groups = move || {
        let groups = names.get().into_iter().map(|(title, rows)| {
            let rows = rows.into_iter().map(|(key, name, path)| {
                view! { <Row table=table reference=reference key=key name=name path=path /> }
            });
            view! {
                <table class="readings">
                    <caption>{title}</caption>
                    <tbody>{rows.collect_view()}</tbody>
                </table>
            }
        });
        groups.collect_view()
    };
    let said = move |what: fn(&Found) -> Option<String>| {
        Memo::new(move |_| found.get().filter(|_| open()).and_then(|found| what(&found)))
    };
    let sentence = said(|found| found.forces.is_ok().then(|| words::sentence(found)));
    let support = said(|found| found.forces.as_ref().ok().map(words::support));
    let balance = said(|found| found.forces.as_ref().ok().map(|forces| words::balance(forces.imbalance)));
    let error =
        Memo::new(move |_| found.get().filter(|_| open()).and_then(|found| found.forces.clone().err()));
    let nothing = move || open() && found.with(Option::is_none);
    view! {
        <div class="forces-answer">
            {move || nothing().then(|| view! {
                <p class="hint">{session.no_linkage()}</p>
            })}
            {move || (open() && session.load().kind.get() == CaseKind::Cornering).then(|| view! {
                <p class="hint" data-said="shared">
                    "Front and rear take the load that moves across as they share the weight; Whole car shares it by roll \
                     stiffness, which usually gives the stiffer axle more."
                </p>
            })}
            {move || (open() && session.wheels().roll.get() != 0.0).then(|| view! {
                <p class="hint" data-said="lean">
                    "The body leans; the loads are said along its axes, up along the body, as if it stood upright."
                </p>
            })}
            {move || error.get().map(|error| trouble(session, error))}
            {move || sentence.get().map(|text| view! { <p class="said" data-said="load">{text}</p> })}
            {move || balance.get().map(|_| view! {
                <p class="hint">
                    "On the sheet: solid with a filled head a member that pulls at its joint, dashed with an open head \
                     one that pushes it, grey what acts otherwise than along its member, thick the load."
                </p>
            })}
            {groups}
            {move || support.get().map(|text| view! { <p class="hint" data-said="support">{text}</p> })}
            {move || balance.get().map(|text| view! { <p class="hint" data-said="balance">{text}</p> })}
            {move || balance.get().map(|_| view! {
                <p class="hint">
                    "The corner stands still and the rack is held. Weight of links, knuckle and wheel, friction and \
                     the stiffness of bushes are not counted: so the spring carries \
                     more here than under Whole car, where what moves with the wheel is taken off its load."
                </p>
            })}
            <Kick />
        </div>
    }
}

#[component]
fn Row(
    table: Memo<Vec<words::Group>>,
    reference: Memo<Option<Vec<words::Group>>>,
    key: String,
    name: String,
    path: Option<PointPath>,
) -> impl IntoView {
    let session = session();
    let stored = StoredValue::new(key.clone());
    let of = move |groups: &[words::Group], read: &dyn Fn(&words::Row) -> Option<String>| {
        let mut rows = groups.iter().flat_map(|group| &group.rows);
        stored.with_value(|key| rows.find(|row| row.key == *key).and_then(read))
    };
    // Each a text of its own, so that only what changes is written.
    let text = move |read: fn(&words::Row) -> String| {
        Memo::new(move |_| table.with(|groups| of(groups, &|row| Some(read(row)))).unwrap_or_default())
    };
    let (value, exact) = (text(words::Row::shown), text(|row| row.value.to_string()));
    let words = text(|row| row.words.clone());
    let differs = Memo::new(move |_| {
        let difference = |row: &words::Row| reference.with(|groups| row.difference(groups.as_deref()?));
        table.with(|groups| of(groups, &difference)).unwrap_or_default()
    });
    let doubt = doubt_words(session, move |doubts| {
        let doubt = |row: &words::Row| Some(row.doubt(doubts.of_force(&row.key, row.value).number?));
        table.with(|groups| of(groups, &doubt))
    });
    let doubt_of_difference = doubt_words(session, move |doubts| {
        let doubt = |row: &words::Row| {
            let uncertainty = doubts.of(Tab::Forces, &row.key).difference?;
            reference.with(|groups| row.doubt_of_difference(groups.as_deref()?, uncertainty))
        };
        table.with(|groups| of(groups, &doubt))
    });
    let heading = match path {
        Some(path) => view! {
            <button
                class="quiet"
                title="Show the point on the sheet"
                aria-pressed=move || session.is_selected(path).to_string()
                on:click=move |_| session.select(path)
            >
                {name}
            </button>
        }
        .into_any(),
        None => name.into_any(),
    };
    view! {
        <tr>
            <th scope="row">{heading}</th>
            <td class="value" data-force=key.clone() data-value=move || exact.get()>{move || value.get()}</td>
            <td class="words">
                {move || words.get()} <Doubted words=doubt name=key.clone() />
                <Differs words=differs doubt=doubt_of_difference name=key />
            </td>
        </tr>
    }
}

/// Why there are no forces; for each number that is missing, a button to where it is given.
fn trouble(session: Session, error: ForcesError) -> impl IntoView {
    let ForcesError::Missing(missing) = error else {
        return view! { <p class="field-error" role="alert" data-said="trouble">{error.to_string()}</p> }
            .into_any();
    };
    let buttons = missing.into_iter().map(|one: Missing| {
        view! {
            <li>
                <button data-give=one.field() on:click=move |_| session.open_field(Tab::Car, one.field())>
                    {format!("Give {one}")}
                </button>
            </li>
        }
    });
    view! {
        <div class="missing" role="alert" data-said="trouble">
            <p>"This load case cannot be computed yet; it needs:"</p>
            <ul>{buttons.collect_view()}</ul>
        </div>
    }
    .into_any()
}

/// What a difference between left and right kicks the steering with.
#[component]
fn Kick() -> impl IntoView {
    let session = session();
    let kick = Memo::new(move |_| {
        let found = session.load().found.get().filter(|_| session.tab.get() == Tab::Forces)?;
        let kick = words::kick(found.kick.as_ref()?);
        session.corner.with(|corner| {
            let corner = corner.as_ref()?;
            Some(kick.map(|(key, name, force)| {
                (key, name, force, words::rack(force, Unit::NewtonPerKilonewton, corner, found.side))
            }))
        })
    });
    let steers = Memo::new(move |_| kick.with(Option::is_some));
    let reference = Memo::new(move |_| {
        let found = if session.tab.get() == Tab::Forces { session.forces_of_reference() } else { None };
        Some(words::kick(found?.kick.as_ref()?).map(|(_, _, force)| force))
    });
    let rows =
        move || (0..3).map(|row| view! { <KickRow kick=kick reference=reference row=row /> }).collect_view();
    move || {
        steers.get().then(|| {
            view! {
                <table class="readings">
                    <caption>"Steering kick"</caption>
                    <tbody>{rows()}</tbody>
                </table>
                <p class="hint">
                    "Force on the rack for what this wheel has more than the other; equal forces on both \
                     sides cancel in the rack."
                </p>
            }
        })
    }
}

/// Key, name, N per kN, and which way that pushes.
type Kicks = [(&'static str, &'static str, f64, &'static str); 3];

#[component]
fn KickRow(
    kick: Memo<Option<Kicks>>,
    /// Those of the reference.
    reference: Memo<Option<[f64; 3]>>,
    row: usize,
) -> impl IntoView {
    let then = move || reference.with(|kick| kick.as_ref()?.get(row).copied());
    let row = move || kick.with(|kick| kick.as_ref()?.get(row).copied());
    let doubt = doubt_words(session(), move |doubts| {
        let (key, _, force, _) = row()?;
        Some(words::doubt_of_kick(force, doubts.of(Tab::Forces, key).number?))
    });
    let by = move || Some(row()?.2 - then()?);
    let differs = Memo::new(move |_| by().map(words::kick_differs).unwrap_or_default());
    let doubt_of_difference = doubt_words(session(), move |doubts| {
        let uncertainty = doubts.of(Tab::Forces, row()?.0).difference?;
        Some(words::doubt_of_kick_difference(by()?, uncertainty))
    });
    let (key, name) = untrack(row).map_or(("", ""), |(key, name, ..)| (key, name));
    view! {
        <tr>
            <th scope="row">{name}</th>
            <td class="value" data-kick=key data-value=move || row().map(|(_, _, force, _)| force.to_string())>
                {move || row().map(|(_, _, force, _)| words::kicked(force))}
            </td>
            <td class="words">
                {move || row().map(|(.., pushes)| pushes)} <Doubted words=doubt name=key />
                <Differs words=differs doubt=doubt_of_difference name=key.to_owned() />
            </td>
        </tr>
    }
}
