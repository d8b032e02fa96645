//! The curves as numbers: a row for each step of travel, rack or roll.

use std::fmt::Write as _;

use geometry_core::{readings::Quantity, setup::Axle};
use leptos::{prelude::*, task::spawn_local};

use crate::{
    describe::{self, curves as words},
    effects::clipboard,
    numbers::{field_text, format_number, round_to},
    session::{
        Session,
        curves::{Against, Family, Line, Subjects},
    },
};

/// The table with its step and its copy.
#[component]
pub fn Table(
    /// The page's session.
    session: Session,
) -> impl IntoView {
    let view = session.curves;
    let copy = move |_| {
        let against = view.against.get_untracked();
        let axle = session.axle.get_untracked();
        let both = view.both.get_untracked();
        let text = view.rows.with_untracked(|rows| tab_separated(rows, against, axle, both));
        spawn_local(async move {
            if clipboard::copy(&text).await {
                session.tell("The table is on the clipboard; paste it into a spreadsheet.".into());
            } else {
                session.tell(
                    "This browser does not let the page copy; mark the table and copy it by hand.".into(),
                );
            }
        });
    };
    let steps = move || {
        let against = view.against.get();
        against
            .steps()
            .into_iter()
            .enumerate()
            .map(|(i, step)| {
                let text = format!("every {}", words::short_input(against, step));
                view! { <option value=i.to_string() prop:selected=move || view.step.get() == i>{text}</option> }
            })
            .collect_view()
    };
    let body = move || {
        let (against, both) = (view.against.get(), view.both.get());
        let axle = session.axle.get();
        let stops = view.subjects.with(|subjects| Stops::of(subjects, against, both));
        view.rows.with(|rows| view! {
            <table data-curve-numbers="">
                <caption>{words::caption(against, axle, both)}</caption>
                <thead>
                    <tr>
                        <th scope="col">{words::axis(against)}</th>
                        {columns(rows).map(|(quantity, _, line)| {
                            let line = &rows.lines[line];
                            let none = line.of(rows.place(quantity).unwrap_or(0)).iter().all(Option::is_none);
                            view! {
                                <th scope="col">
                                    {words::title(quantity, line.axle, false)}
                                    {whose(line, both).map(|whose| view! { <br /> <span class="axle">{whose}</span> })}
                                    {none.then(|| view! { <br /> <span class="why">{line.why_none(quantity)}</span> })}
                                </th>
                            }
                        }).collect_view()}
                    </tr>
                </thead>
                <tbody>
                    {rows.inputs.iter().enumerate().map(|(i, input)| view! {
                        <tr data-input=field_text(round_to(*input, 4))>
                            <th scope="row">
                                {stops.said(axle, *input).map(|said| view! { <span class="axle">{said}</span> })}
                                {row_name(*input, against)}
                            </th>
                            {columns(rows).map(|(quantity, chart, line)| {
                                let line = &rows.lines[line];
                                let value = line.of(chart).get(i).copied().flatten();
                                let text = cell(value, quantity);
                                let of = if line.is_reference() { "reference " } else { "" };
                                view! {
                                    <td class:none=value.is_none() class:beyond=!line.is_reference() && stops.leave(line.axle, *input) data-cell=quantity.name() class:of-reference=line.is_reference() data-axle-value=format!("{of}{}", line.axle.name()) data-value=value.map(|value| value.to_string())>
                                        {text}
                                    </td>
                                }
                            }).collect_view()}
                        </tr>
                    }).collect_view()}
                </tbody>
            </table>
        })
    };
    view! {
        <div class="curve-numbers">
            <div class="curve-tools">
                <select
                    data-do="table-step"
                    aria-label="Step of the table"
                    on:change=move |event| view.step.set(event_target_value(&event).parse().unwrap_or(1))
                >
                    {steps}
                </select>
                <button data-do="copy-table" title="As tab-separated text, for a spreadsheet" on:click=copy>
                    "Copy table"
                </button>
            </div>
            <div class="curve-scroll" tabindex="0" role="region" aria-label="Table of the curves">{body}</div>
        </div>
    }
}

/// Where the axles' ways end; each has its own, and the reference's are not known here.
struct Stops {
    all: Vec<(Axle, Vec<f64>)>,
    against: Against,
    both: bool,
}

impl Stops {
    fn of(subjects: &Subjects, against: Against, both: bool) -> Self {
        let all = subjects.iter().flatten().map(|subject| (subject.axle, subject.stops(against)));
        Self { all: all.collect(), against, both }
    }

    /// Whether an input is beyond an axle's.
    fn leave(&self, axle: Axle, input: f64) -> bool {
        let mut stops = self.all.iter().filter(|(of, _)| *of == axle).flat_map(|(_, stops)| stops);
        stops.any(|stop| if *stop > 0.0 { input > *stop } else { input < *stop })
    }

    /// What is said of a row; with both axles, of which of them.
    fn said(&self, axle: Axle, input: f64) -> Option<String> {
        let beyond = words::beyond(self.against);
        if !self.both {
            return self.leave(axle, input).then(|| format!("{beyond} "));
        }
        let axles = [Axle::Front, Axle::Rear].into_iter().filter(|axle| self.leave(*axle, input));
        let axles: Vec<&str> = axles.map(Axle::name).collect();
        (!axles.is_empty()).then(|| format!("{} {beyond} ", axles.join(" and ")))
    }
}

/// An input of the table without its unit: a multiple of one of [`Against::steps`].
fn row_name(input: f64, against: Against) -> String {
    format_number(against.unit().here().of(input), against.decimals_of_steps())
}

/// Reading, its place among the charts, and the line's: an axle beside the other for each reading.
fn columns(rows: &Family) -> impl Iterator<Item = (Quantity, usize, usize)> {
    let lines = rows.lines.len();
    rows.charts
        .iter()
        .enumerate()
        .flat_map(move |(chart, quantity)| (0..lines).map(move |line| (*quantity, chart, line)))
}

/// Whose a line is, where there is more than one.
fn whose(line: &Line, both: bool) -> Option<String> {
    match (both, line.is_reference()) {
        (true, true) => Some(format!("{}, reference", line.axle.name())),
        (true, false) => Some(line.axle.name().into()),
        (false, true) => Some("reference".into()),
        (false, false) => None,
    }
}

fn cell(value: Option<f64>, quantity: Quantity) -> String {
    value.map_or("none".into(), |value| describe::unit(quantity).here().sensible(value))
}

/// The table for a spreadsheet: a plain minus, which every one of them reads as a sign; empty
/// where there is no value.
fn tab_separated(rows: &Family, against: Against, axle: geometry_core::setup::Axle, both: bool) -> String {
    let mut text = words::axis(against);
    for (quantity, _, line) in columns(rows) {
        let line = rows.lines.get(line);
        let of = line.map_or(axle, |line| line.axle);
        text.push('\t');
        text.push_str(&words::title(quantity, of, false));
        if let Some(whose) = line.and_then(|line| whose(line, both)) {
            // Writing to a String cannot fail.
            let _ = write!(text, " ({whose})");
        }
    }
    text.push('\n');
    for (i, input) in rows.inputs.iter().enumerate() {
        text.push_str(&row_name(*input, against));
        for (quantity, chart, line) in columns(rows) {
            text.push('\t');
            let value = rows.lines.get(line).and_then(|line| line.of(chart).get(i).copied().flatten());
            if value.is_some() {
                text.push_str(&cell(value, quantity));
            }
        }
        text.push('\n');
    }
    text.replace('\u{2212}', "-").replace('\u{a0}', " ")
}

#[cfg(test)]
mod tests {
    use geometry_core::setup::Axle;

    use super::*;
    use crate::chart::Style;

    #[test]
    fn a_spreadsheet_gets_numbers_it_can_read() {
        let line = |axle, values: Vec<Option<f64>>| Line {
            axle,
            style: Style::Front,
            values: vec![values],
            ends: [false; 2],
            sample: None,
        };
        let rows = Family {
            charts: vec![Quantity::Camber],
            inputs: vec![-10.0, 0.0],
            lines: vec![
                line(Axle::Front, vec![Some(-1.234), None]),
                line(Axle::Rear, vec![Some(0.004), Some(-0.001)]),
            ],
        };
        assert_eq!(
            tab_separated(&rows, Against::Travel, Axle::Front, true),
            "Wheel travel, mm\tCamber, ° (front)\tCamber, ° (rear)\n-10\t-1.23\t0.00\n0\t\t0.00\n"
        );
        let mut compared = rows;
        compared.lines[1] = Line { style: Style::Reference, ..line(Axle::Front, vec![None, Some(1.5)]) };
        assert_eq!(
            tab_separated(&compared, Against::Travel, Axle::Front, false),
            "Wheel travel, mm\tCamber, °\tCamber, ° (reference)\n-10\t-1.23\t\n0\t\t1.50\n"
        );
    }
}
