//! The dialog that shows how a pasted block is read, before anything changes.

use std::sync::Arc;

use geometry_core::setup::{self, Axle, Side};
use leptos::{html, prelude::*};

use super::head::Conventions;
use crate::{
    app::session,
    components::number_input::FieldError,
    describe,
    edit::{Coordinate, Edit, PointPath},
    effects::focus,
    lengths::{Convention, Measure},
    numbers::format_number,
    pasted::{self, Foreign, Ground, Line, Manner, Meant, Outcome, Reading, Row, Start, Target},
    session::Session,
    units::Unit,
};

/// What the dialog is about.
#[derive(Clone, Copy, Default)]
pub struct Paste {
    open: RwSignal<bool>,
    text: RwSignal<String>,
    start: RwSignal<Start>,
    /// The way that was chosen, where there are several.
    chosen: RwSignal<Option<Manner>>,
    refused: RwSignal<Option<String>>,
    /// What the person said that other names mean, for the blocks of the same corner that follow too.
    meant: RwSignal<Vec<Meant>>,
    of: RwSignal<Option<(Axle, Side)>>,
    /// Whether the block counts to the other side.
    turned: RwSignal<bool>,
    /// Unit and axes of the table: those of the block are chosen for the block alone.
    before: RwSignal<Option<Convention>>,
}

impl Paste {
    /// Opens the dialog on a text, from a cell on or from the top of the table.
    pub fn show(self, session: Session, text: String, cell: Option<PointPath>, column: usize) {
        let (targets, of) = (targets(session), (session.axle.get_untracked(), session.side.get_untracked()));
        if self.of.get_untracked() != Some(of) {
            // On another axle the same name is another point's.
            self.of.set(Some(of));
            self.meant.set(Vec::new());
        }
        let row = cell.and_then(|cell| targets.iter().position(|target| target.path == cell)).unwrap_or(0);
        self.before.set(Some(session.convention.get_untracked()));
        self.start.set(Start { row, column });
        self.chosen.set(None);
        self.refused.set(None);
        self.turned.set(false);
        self.text.set(text);
        self.open.set(true);
    }
}

fn targets(session: Session) -> Vec<Target> {
    session.corner.with_untracked(|corner| corner.as_ref().map(pasted::targets)).unwrap_or_default()
}

/// The dialog.
#[component]
pub fn Preview(
    /// What it is about.
    paste: Paste,
) -> impl IntoView {
    let session = session();
    let dialog = NodeRef::<html::Dialog>::new();
    Effect::new(move |_| {
        let Some(dialog) = dialog.get() else { return };
        if !paste.open.get() {
            dialog.close();
            if let Some(before) = paste.before.get_untracked() {
                session.write_in(before);
                paste.before.set(None);
            }
        } else if !dialog.open() {
            // Fails only for a dialog that is open or out of the page; it is neither.
            let _ = dialog.show_modal();
        }
    });
    // Nothing is read for a dialog that is shut.
    let inside = move || paste.open.get().then(|| view! { <Inside paste=paste session=session /> });
    view! {
        <dialog
            class="paste"
            node_ref=dialog
            aria-labelledby="paste-title"
            on:close=move |_| paste.open.set(false)
            // The keys are the dialog's: undo in the text is not undo in the setup.
            on:keydown=|event| event.stop_propagation()
        >
            {inside}
        </dialog>
    }
}

#[component]
fn Inside(paste: Paste, session: Session) -> impl IntoView {
    let targets = Memo::new(move |_| {
        Arc::new(session.corner.with(|corner| corner.as_ref().map(pasted::targets)).unwrap_or_default())
    });
    let readings = Memo::new(move |_| {
        let (targets, start) = (targets.get(), paste.start.get());
        let (convention, side) = (session.convention.get(), session.side.get());
        paste.meant.with(|meant| {
            let ground =
                Ground { targets: &targets, convention, side, start, meant, turned: paste.turned.get() };
            paste.text.with(|text| pasted::read(text, ground))
        })
    });
    Effect::new(move |before: Option<()>| {
        readings.track();
        if before.is_some() {
            paste.refused.set(None);
        }
    });
    let reading = Memo::new(move |_| {
        let chosen = paste.chosen.get();
        readings.with(|all| match (all.as_slice(), chosen) {
            ([one], _) => Some(one.clone()),
            (several, Some(manner)) => several.iter().find(|one| one.manner == manner).cloned(),
            _ => None,
        })
    });
    let count = move || reading.with(|reading| reading.as_ref().map_or(0, |reading| reading.rows().count()));
    let apply = move |_| {
        let Some(points) = reading.with_untracked(|reading| reading.as_ref().map(Reading::points)) else {
            return;
        };
        let many = points.len();
        let paths: Vec<PointPath> = points.iter().map(|(path, _)| *path).collect();
        let edit = Edit::SetPoints { axle: session.axle.get_untracked(), points };
        match session.edit(&edit, None) {
            Ok(()) => {
                paste.open.set(false);
                // What is said is said in the reader's own units.
                if let Some(before) = paste.before.get_untracked() {
                    session.write_in(before);
                }
                // The points of another car need not be where those before them were.
                session.fit();
                session.tell(format!(
                    "{} pasted; undo brings the old numbers back.{}",
                    counted(many),
                    unpasted(session, &paths)
                ));
            }
            Err(error) => paste.refused.set(Some(session.refusal(&error))),
        }
    };
    let begins = move || {
        let row = paste.start.get().row;
        targets.with(|targets| {
            let options = targets.iter().enumerate().map(|(number, target)| {
                view! { <option value=number.to_string() prop:selected=number == row>{target.name.clone()}</option> }
            });
            options.collect_view()
        })
    };
    let begin = move |event: web_sys::Event| {
        if let Ok(row) = event_target_value(&event).parse() {
            paste.start.update(|start| start.row = row);
        }
    };
    view! {
        <h2 id="paste-title">"Paste pivots"</h2>
        <p class="hint">
            "One point a line: x, y and z, parted by tabs, semicolons, commas or spaces, with the point\u{2019}s name before \
             them or without. Lines without a name go down the table; of a name that is not the table’s you say which \
             point it means. Nothing changes before Apply."
        </p>
        <div class="pivots-tools">
            <Conventions />
            <label>
                "Without a name, begin at "
                <select data-choice="begin" on:change=begin>{begins}</select>
            </label>
        </div>
        <textarea
            class="block"
            rows="6"
            autofocus
            spellcheck="false"
            data-field="block"
            aria-label="Cells to be pasted"
            prop:value=move || paste.text.get()
            on:input=move |event| {
                // Another block is another question.
                paste.chosen.set(None);
                paste.text.set(event_target_value(&event));
            }
        ></textarea>
        {move || readings.with(|all| (all.len() > 1).then(|| question(paste, session.convention.get(), session.side.get(), all)))}
        {move || reading.get().map(|reading| {
            let shown = Shown { paste, convention: session.convention.get(), side: session.side.get() };
            targets.with(|targets| lines(&reading, shown, targets))
        })}
        <FieldError error=paste.refused />
        <div class="dialog-buttons">
            <button data-do="apply" disabled=move || count() == 0 on:click=apply>
                {move || match count() {
                    0 => "Nothing to apply yet".into(),
                    some => format!("Apply to {}", counted(some)),
                }}
            </button>
            <button data-do="cancel" on:click=move |_| paste.open.set(false)>"Cancel"</button>
        </div>
    }
}

/// What a block of points leaves as it was, which may be a layout's or another car's.
fn unpasted(session: Session, pasted: &[PointPath]) -> String {
    let title = session.document().with_untracked(|document| document.title.clone());
    let title =
        if title == setup::example().title { format!("title “{title}”, ") } else { String::new() };
    session.corner.with_untracked(|corner| {
        let Some(corner) = corner else { return String::new() };
        let wheel = &corner.wheel;
        let left: Vec<String> = PointPath::all(corner)
            .into_iter()
            .filter(|path| !pasted.contains(path))
            .map(|path| describe::point_name(path, corner))
            .collect();
        // Names have commas in them.
        let points = match left.len() {
            0 => String::new(),
            1..=6 => format!(" Not in the block, so as they were: {}.", left.join("; ")),
            many => {
                format!(" Not in the block, so as they were: {}; and {} more.", left[..4].join("; "), many - 4)
            }
        };
        let rate = corner.spring.as_ref().and_then(|spring| spring.rate);
        let rate = rate.map(|rate| format!(", spring rate {}", Unit::NewtonPerMillimetre.show(rate))).unwrap_or_default();
        format!(
            "{points} As before under Car and wheel and below the points: {title}loaded radius {}, camber {}°, toe {}°{rate}.",
            Unit::Millimetre.show(wheel.loaded_radius),
            format_number(wheel.camber, 2),
            format_number(wheel.toe, 2)
        )
    })
}

fn counted(count: usize) -> String {
    if count == 1 { "1 pivot".into() } else { format!("{count} pivots") }
}

/// Asks which of several readings is meant, each by its first line that differs.
fn question(paste: Paste, convention: Convention, side: Side, all: &[Reading]) -> impl IntoView + use<> {
    let answers = all.iter().enumerate().map(|(number, reading)| {
        let other = all.get(usize::from(number == 0));
        let manner = reading.manner;
        let differs = reading.lines.iter().find_map(|line| {
            let same = |other: &Reading| other.lines.iter().any(|one| one == line);
            let (name, point) = match &line.outcome {
                Outcome::Point(row) => (row.name.clone(), row.after),
                Outcome::Unknown(point) => (line.foreign.as_ref()?.name.clone(), *point),
                _ => return None,
            };
            other.is_none_or(|other| !same(other)).then_some((name, point))
        });
        let example = differs.map(|(name, point)| format!(": {name} at {}", convention.place(point, side)));
        let label = format!("{}{}", reading.manner.words(), example.unwrap_or_default());
        view! {
            <label>
                <input
                    type="radio"
                    name="reading"
                    data-reading-way=number
                    prop:checked=move || paste.chosen.get() == Some(manner)
                    on:change=move |_| paste.chosen.set(Some(manner))
                />
                {label}
            </label>
        }
    });
    view! {
        <fieldset class="question">
            <legend>"These lines can be read in more than one way. Which is meant?"</legend>
            {answers.collect_view()}
        </fieldset>
    }
}

/// What the lines are shown with.
#[derive(Clone, Copy)]
struct Shown {
    paste: Paste,
    convention: Convention,
    side: Side,
}

/// Every line: what it was read as, or why it was not.
fn lines(reading: &Reading, shown: Shown, targets: &[Target]) -> impl IntoView + use<> {
    let convention = shown.convention;
    let wrong = reading.unread();
    let headed = reading
        .headed
        .filter(|unit| (*unit == Measure::Millimetre) != (convention.measure == Measure::Millimetre));
    let headed = headed.map(|unit| {
        format!(
            "The heading says {}, but {} is chosen above. Choose the one that is meant.",
            unit.spoken(),
            convention.measure.spoken()
        )
    });
    let rows = reading.lines.iter().map(|line| row(line, shown, targets)).collect_view();
    let manner = (!reading.lines.is_empty()).then(|| format!("Read as {}.", reading.manner.words()));
    let left_out = match wrong {
        0 => None,
        1 => Some("1 line cannot be read and is left out.".to_string()),
        _ => Some(format!("{wrong} lines cannot be read and are left out.")),
    };
    let unnamed = match reading.unnamed() {
        0 => None,
        1 => Some("1 name is none of the table’s: say which point it means, or it is left out.".to_string()),
        some => Some(format!(
            "{some} names are none of the table’s: say which point each means, or it is left out."
        )),
    };
    let turned = shown.paste.turned;
    let side = (reading.is_of_other_side() || turned.get_untracked()).then(|| {
        let (text, button) = if turned.get_untracked() {
            ("Every y has the other sign.", "As written")
        } else {
            ("These points are all on the other side of the car’s middle.", "Turn the sign of y")
        };
        view! {
            <p class="hint" role="status" data-said="side">
                {text} " "
                <button data-do="turn" on:click=move |_| turned.update(|turned| *turned = !*turned)>{button}</button>
            </p>
        }
    });
    let guess = guessed(reading, shown.paste, targets);
    let head = (!reading.lines.is_empty()).then(|| {
        view! {
            <thead>
                <tr>
                    <th scope="col" class="number">"Line"</th>
                    <th scope="col">"Point"</th>
                    {Coordinate::ALL.map(|c| view! {
                        <th scope="col" class="number">{format!("{}, {}", c.letter(), convention.measure.symbol())}</th>
                    }).into_iter().collect_view()}
                </tr>
            </thead>
        }
    });
    view! {
        <p class="hint" data-said="manner">{manner}</p>
        {headed.map(|text| view! { <p class="field-error" role="alert" data-said="headed">{text}</p> })}
        {unnamed.map(|text| view! { <p class="hint" role="status" data-said="unnamed">{text}</p> })}
        {side}
        {guess}
        {left_out.map(|text| view! { <p class="field-error" role="alert" data-said="left-out">{text}</p> })}
        <div class="preview-scroll" tabindex="0" role="group" aria-label="How every line was read">
            <table class="preview">{head}<tbody>{rows}</tbody></table>
        </div>
    }
}

/// Offers what names probably mean, each of which stays to be seen and changed below.
fn guessed(reading: &Reading, paste: Paste, targets: &[Target]) -> Option<AnyView> {
    let guesses: Vec<(String, Target)> = reading
        .guesses(targets)
        .into_iter()
        .filter_map(|(name, number)| Some((name, targets.get(number)?.clone())))
        .collect();
    let all: Vec<String> =
        guesses.iter().map(|(name, target)| format!("“{name}” is {}", target.name)).collect();
    let text = match all.len() {
        0 => return None,
        1 => format!("Probably {}.", all[0]),
        _ => format!("Probably: {}.", all.join("; ")),
    };
    let take = move |_| {
        paste.meant.update(|meant| {
            for (name, target) in &guesses {
                Meant::say(meant, name, Some(target));
            }
        });
        // The button is gone.
        focus::go_to(".preview-scroll".into());
    };
    let view = view! {
        <p class="hint" data-said="guesses">
            {text} " "
            <button data-do="guesses" on:click=take>{if all.len() == 1 { "Take it so" } else { "Take them so" }}</button>
        </p>
    };
    Some(view.into_any())
}

fn row(line: &Line, shown: Shown, targets: &[Target]) -> impl IntoView + use<> {
    let number = line.number;
    let asked = line.foreign.as_ref().map(|foreign| meaning(foreign, number, shown.paste, targets));
    let cells = match &line.outcome {
        Outcome::Point(row) => point(row, asked.zip(line.foreign.as_ref()), shown).into_any(),
        Outcome::Heading => {
            view! { <td colspan="4" class="heading">"heading: " {line.text.clone()}</td> }.into_any()
        }
        Outcome::Unknown(_) => {
            let name = line.foreign.as_ref().map(|foreign| foreign.name.clone()).unwrap_or_default();
            view! {
                <td colspan="4" class="unread">
                    <span class="source">{line.text.clone()}</span>
                    <span class="reason">{format!("no point is called “{name}”. It means ")} {asked}</span>
                </td>
            }
            .into_any()
        }
        Outcome::Wrong(reason) => view! {
            <td colspan="4" class="unread">
                <span class="source">{line.text.clone()}</span>
                <span class="reason">{format!("not read: {reason} ")} {asked}</span>
            </td>
        }
        .into_any(),
    };
    view! { <tr data-line=number><td class="number">{number}</td>{cells}</tr> }
}

/// Asks which point a name means that is none of the table's.
fn meaning(foreign: &Foreign, line: usize, paste: Paste, targets: &[Target]) -> AnyView {
    let means = foreign.means;
    let options = targets.iter().map(|target| {
        let path = target.path;
        view! { <option value=path.path() prop:selected=means == Some(path)>{target.name.clone()}</option> }
    });
    let options = options.collect_view();
    let (name, targets) = (foreign.name.clone(), targets.to_vec());
    let label = format!("The point that “{name}” means");
    let choose = move |event: web_sys::Event| {
        let chosen = event_target_value(&event);
        let target = targets.iter().find(|target| target.path.path() == chosen);
        paste.meant.update(|all| Meant::say(all, &name, target));
        // The line is made anew: whoever chooses by key stays in it.
        focus::go_to(format!("[data-line=\"{line}\"] [data-choice=meaning]"));
    };
    view! {
        <select aria-label=label data-choice="meaning" on:change=choose>
            <option value="">"none of them"</option>
            {options}
        </select>
    }
    .into_any()
}

/// A point's coordinates, before → after.
fn point(row: &Row, foreign: Option<(AnyView, &Foreign)>, shown: Shown) -> impl IntoView + use<> {
    let Shown { convention, side, .. } = shown;
    let numbers = Coordinate::ALL.map(|coordinate| {
        let form = convention.form(coordinate, side);
        let [before, after] = [row.before, row.after].map(|point| coordinate.of(point));
        let moved = before.to_bits() != after.to_bits() && before != after;
        let before = form.text(before);
        if moved {
            let after = form.text(after);
            view! {
                <td class="number moved">
                    <span class="before">{before}</span>
                    " → "
                    <span class="after">{after}</span>
                </td>
            }
            .into_any()
        } else {
            view! { <td class="number">{before}</td> }.into_any()
        }
    });
    view! {
        <th scope="row">
            {match foreign {
                Some((asked, foreign)) => view! { {format!("{}: ", foreign.name)} {asked} }.into_any(),
                None => row.name.clone().into_any(),
            }}
        </th>
        {numbers.into_iter().collect_view()}
    }
}
