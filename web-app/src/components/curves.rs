//! Curves of chosen readings, in the sheet's fourth quarter or over the whole of it: charts,
//! or the same numbers as a table.

pub mod chart_view;
pub mod chooser;
pub mod head;
mod paint;
mod painters;
pub mod table;

use leptos::{html, prelude::*};

use self::{
    chart_view::Chart,
    chooser::Chooser,
    paint::{pixels, ratio, watch_scheme},
    painters::Painters,
    table::Table,
};
use crate::{
    app::session,
    chart::Theme,
    describe::curves as words,
    effects::{self, press::Held},
    session::{
        CURVES, Session,
        curves::{Against, CurveView},
        settled,
    },
    units,
    view::Sheet,
};

/// What all charts share.
#[derive(Clone, Copy)]
pub struct Charts {
    theme: Memo<Theme>,
    /// On which all are drawn: one picture to bring to the screen, not a dozen.
    canvas: NodeRef<html::Canvas>,
    /// What draws them.
    painters: Painters,
    /// Counts up after changes, twice a second at most.
    ticks: RwSignal<u64>,
    /// While a finger or a mouse holds something, and a moment longer: axes only grow.
    held: StoredValue<bool>,
    /// Both ends of the axes and where the cursor stands, as every chart says them.
    ends: ReadSignal<(f64, f64)>,
    cursor: ReadSignal<f64>,
}

/// The curves, standing where side view and plan view leave room.
#[component]
pub fn CurveSheet(
    /// The sheet without pan and zoom.
    sheet: Memo<Sheet>,
) -> impl IntoView {
    let session = session();
    let view = session.curves;
    let choosing = RwSignal::new(false);
    let opener = NodeRef::<html::Button>::new();
    let scheme = RwSignal::new(0_u32);
    watch_scheme(scheme);
    // Read once a scheme and size: asking the style sheet costs more than drawing a curve.
    let theme = Memo::new(move |_| {
        scheme.track();
        sheet.track();
        paint::theme()
    });
    let held = StoredValue::new(false);
    let charts = Charts {
        theme,
        canvas: NodeRef::new(),
        painters: Painters::new(),
        ticks: RwSignal::new(0),
        held,
        ends: settled(move || view.ends.get()),
        cursor: settled(move || view.cursor.get()),
    };
    draw_by_frame(view, charts);
    Effect::new(move |before: Option<()>| {
        let choice = view.choice();
        // What was read, or came with a link, is not written before something is chosen.
        if before.is_some() && view.lent.with_value(|lent| lent.as_ref() != Some(&choice)) {
            effects::storage::keep_view(CURVES, &choice.text());
        }
    });
    let place = move |i: usize| {
        if view.large.get() { "0px".to_string() } else { format!("{:.0}px", sheet.get().cross()[i] + 6.0) }
    };
    let close = move || {
        choosing.set(false);
        if let Some(opener) = opener.get_untracked() {
            // Where the focus cannot be taken it stays where it is.
            let _ = opener.focus();
        }
    };
    view! {
        <section
            class="curves"
            class:large=move || view.large.get()
            aria-label="Curves"
            style:left=move || place(0)
            style:top=move || place(1)
        >
            <Tools session=session choosing=choosing opener=opener />
            <Legend session=session />
            <div class="curve-room">
                {move || if view.table.get() {
                    view! { <Table session=session /> }.into_any()
                } else {
                    view! { <Grid session=session charts=charts /> }.into_any()
                }}
                {move || choosing.get().then(|| view! { <Chooser view=view close=close /> })}
            </div>
        </section>
    }
}

/// Choice of curves and of what they run along, table, larger.
#[component]
fn Tools(session: Session, choosing: RwSignal<bool>, opener: NodeRef<html::Button>) -> impl IntoView {
    let view = session.curves;
    let options = Against::ALL.map(|against| {
        view! {
            <option value=against.name() selected=move || view.against.get() == against>
                {words::against(against)}
            </option>
        }
    });
    let chosen = move |name: String| {
        if let Some(against) = Against::ALL.into_iter().find(|against| against.name() == name) {
            view.pointer.set(None);
            view.against.set(against);
        }
    };
    let toggle = |name: &'static str, label: &'static str, title: &'static str, on: RwSignal<bool>| {
        view! {
            <button
                data-do=name
                title=title
                aria-pressed=move || on.get().to_string()
                on:click=move |_| on.update(|on| *on = !*on)
            >
                {label}
            </button>
        }
    };
    view! {
        <div class="curve-tools" role="group" aria-label="What the curves show">
            <button
                node_ref=opener
                data-do="choose-curves"
                aria-expanded=move || choosing.get().to_string()
                on:click=move |_| choosing.update(|open| *open = !*open)
            >
                "Choose curves"
            </button>
            <select
                data-do="curves-against"
                aria-label="Curves run along"
                on:change=move |event| chosen(event_target_value(&event))
            >
                {options.into_iter().collect_view()}
            </select>
            {toggle("both-axles", "Front and rear", "Curves of both axles: front continuous, rear dashed", view.both)}
            {toggle("curve-table", "Table", "The same as numbers", view.table)}
            {toggle("larger-curves", "Larger", "Over the whole sheet, and back", view.large)}
        </div>
    }
}

/// Which line is which, what cannot be shown, and what the marks mean.
#[component]
fn Legend(session: Session) -> impl IntoView {
    let view = session.curves;
    let refused = Memo::new(move |_| {
        view.subjects.with(|subjects| {
            subjects
                .iter()
                .filter_map(|subject| subject.as_ref().err().cloned())
                .collect::<Vec<_>>()
                .join("; ")
        })
    });
    // Only of what is drawn: a table says in its cells where the linkage ends.
    let ends = Memo::new(move |_| {
        !view.table.get() && view.drawn.with(|drawn| drawn.lines.iter().any(|line| line.ends.contains(&true)))
    });
    let stops = Memo::new(move |_| {
        let against = view.against.get();
        view.subjects
            .with(|subjects| subjects.iter().flatten().any(|subject| !subject.stops(against).is_empty()))
    });
    view! {
        <p class="curve-legend" data-curve-legend="">
            {move || view.both.get().then(|| view! {
                <span class="key front">"front"</span>
                <span class="key rear">"rear"</span>
            })}
            {move || view.reference.with(|beneath| !beneath.lines.is_empty()).then_some(
                view! { <span class="key reference" data-curve-reference="">"reference"</span> }
            )}
            {move || match view.against.get() {
                Against::Roll => "Left wheel; camber and toe against the road, roll centre of both wheels",
                // The curves would be other ones at every roll, and hardly those that are asked for.
                Against::Travel | Against::Rack if session.wheels().roll.get() != 0.0 => "Curves of the level body",
                _ => "",
            }}
            {move || (!view.table.get() && stops.get()).then(|| view! {
                <span>"Shaded: " {words::beyond(view.against.get())}</span>
            })}
            {move || ends.get().then_some(view! { <span>"× the linkage ends"</span> })}
            {move || Some(refused.get()).filter(|text| !text.is_empty()).map(|text| view! {
                <span class="wrong" role="status" data-curve-refused="">{words::sentence(&text)}</span>
            })}
        </p>
    }
}

/// The charts, as many in a row as suits the room.
#[component]
fn Grid(session: Session, charts: Charts) -> impl IntoView {
    let view = session.curves;
    let place = NodeRef::<html::Div>::new();
    let size = RwSignal::new((0.0, 0.0));
    Effect::new(move |_| {
        if let Some(element) = place.get() {
            effects::size::watch(&element, size);
        }
    });
    on_cleanup(move || view.pointer.set(None));
    Effect::new(move |_| {
        // Where any of these changes, charts may stand elsewhere.
        size.track();
        view.charts.track();
        view.both.track();
        // Read, not only tracked: what is never read knows nothing of what it hangs on.
        charts.theme.with(|_| ());
        if let Some(canvas) = charts.canvas.get() {
            let (width, height) = pixels(size.get_untracked(), ratio());
            canvas.set_width(width);
            canvas.set_height(height);
            // Before this frame is shown: it is empty now.
            charts.painters.paint_all_now(charts.canvas);
        }
    });
    let columns = Memo::new(move |_| {
        let (width, height) = size.get();
        columns(view.charts.with(Vec::len), width, height).to_string()
    });
    view! {
        <div class="curve-grid" node_ref=place style=("--columns", move || columns.get()) data-charts=move || view.charts.with(Vec::len)>
            <For each=move || view.charts.get() key=|quantity| *quantity let(quantity)>
                <Chart session=session charts=charts quantity=quantity />
            </For>
            // Over the charts: a browser gives whatever stands over a canvas a picture of its own.
            <canvas node_ref=charts.canvas aria-hidden="true"></canvas>
        </div>
    }
}

/// How many charts in a row make each about as wide as high, with few places left empty.
#[must_use]
pub fn columns(charts: usize, width: f64, height: f64) -> usize {
    /// Width over height that a chart reads best at.
    const SHAPE: f64 = 1.3;
    /// Pixels that name and values take off the height.
    const HEAD: f64 = 24.0;
    /// What an empty place counts against a shape off by e.
    const EMPTY: f64 = 0.25;
    let (width, height) = (width.max(1.0), height.max(1.0));
    #[expect(clippy::cast_precision_loss, reason = "a dozen charts")]
    let fault = |columns: usize| {
        let rows = charts.div_ceil(columns);
        let shape = (width / columns as f64) / (height / rows as f64 - HEAD).max(1.0);
        (shape / SHAPE).ln().abs() + EMPTY * (columns * rows - charts) as f64
    };
    (1..=charts.max(1)).min_by(|a, b| fault(*a).total_cmp(&fault(*b))).unwrap_or(1)
}

/// Lets the charts draw at most once a frame, and the axes settle when things have come to
/// rest.
fn draw_by_frame(view: CurveView, charts: Charts) {
    let Charts { theme, canvas, painters, ticks, held, .. } = charts;
    let Held(pressed) = expect_context();
    let waiting: StoredValue<Option<TimeoutHandle>> = StoredValue::new(None);
    let rest = move || {
        waiting.update_value(|handle| {
            if let Some(handle) = handle.take() {
                handle.clear();
            }
            let settle = move || {
                if !pressed.get_untracked() && held.get_value() {
                    held.set_value(false);
                    painters.ask_all(canvas);
                }
            };
            *handle = set_timeout_with_handle(settle, std::time::Duration::from_millis(400)).ok();
        });
    };
    Effect::new(move |_| {
        if !view.table.get() {
            view.drawn.with(|_| ());
            view.reference.with(|_| ());
            // The axes are let go some time after the last change.
            held.set_value(true);
            rest();
            painters.ask_all(canvas);
        }
    });
    Effect::new(move |_| {
        theme.track();
        units::track();
        if !view.table.get() {
            view.here.with(|_| ());
            view.there.with(|_| ());
            painters.ask_all(canvas);
        }
    });
    let awaited = StoredValue::new(false);
    Effect::new(move |_| {
        // Where numbers stand in place of the charts nothing is computed for them.
        if view.table.get() {
            return;
        }
        view.here.with(|_| ());
        view.reference_here.with(|_| ());
        if !awaited.get_value() {
            awaited.set_value(true);
            let speak = move || {
                awaited.set_value(false);
                ticks.update(|count| *count += 1);
            };
            set_timeout(speak, std::time::Duration::from_millis(500));
        }
    });
    Effect::new(move |_| {
        if !pressed.get() {
            rest();
        }
    });
}

#[cfg(test)]
mod tests {
    use super::columns;

    #[test]
    fn charts_are_about_as_wide_as_high() {
        // The quarter of the sheet on a laptop, and the whole sheet.
        for (width, height) in [(430.0, 390.0), (1000.0, 760.0)] {
            for (charts, expected) in [(1, 1), (3, 2), (4, 2), (6, 3), (9, 3), (12, 4)] {
                assert_eq!(columns(charts, width, height), expected, "{charts} in {width} × {height}");
            }
        }
        // A low window: four in two rows, and no hole.
        assert_eq!(columns(4, 395.0, 205.0), 2);
        assert_eq!(columns(4, 1600.0, 200.0), 4);
        assert_eq!(columns(4, 200.0, 1600.0), 1);
        assert_eq!(columns(0, 0.0, 0.0), 1);
    }
}
