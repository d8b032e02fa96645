//! Curves of chosen readings, in the sheet's fourth quarter (under the view from the left) or over the whole of it: charts,
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
        set_changed, settled,
    },
    units,
    view::{Rectangle, Sheet},
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

/// Pixels between the curves and what is beside them.
const AIR: f64 = 6.0;

/// The curves, standing where the views leave room.
#[component]
pub fn CurveSheet(
    /// The sheet without pan and zoom.
    sheet: Memo<Sheet>,
) -> impl IntoView {
    let session = session();
    let view = session.curves;
    let choosing = RwSignal::new(false);
    // How many of the charts have no room.
    let left_out = RwSignal::new(0);
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
    let edge = move |place: fn(Rectangle) -> String| {
        if view.large.get() { "0px".to_string() } else { place(sheet.get().fourth()) }
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
            style:right=move || edge(|room| format!("calc(100% - {:.0}px)", room.right - AIR))
            style:top=move || edge(|room| format!("{:.0}px", room.top + AIR))
        >
            <Tools session=session choosing=choosing left_out=left_out.read_only() opener=opener />
            <Legend session=session />
            <div class="curve-room">
                {move || if view.table.get() {
                    view! { <Table session=session /> }.into_any()
                } else {
                    view! { <Grid session=session charts=charts left_out=left_out /> }.into_any()
                }}
                {move || choosing.get().then(|| view! { <Chooser view=view close=close /> })}
            </div>
        </section>
    }
}

/// Choice of curves and of what they run along, table, larger.
#[component]
fn Tools(
    session: Session,
    choosing: RwSignal<bool>,
    left_out: ReadSignal<usize>,
    opener: NodeRef<html::Button>,
) -> impl IntoView {
    let view = session.curves;
    let options = Against::ALL.map(|against| {
        view! {
            <option value=against.name() prop:selected=move || view.against.get() == against>
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
    // Where those are that have no room: over the whole sheet, or in the table.
    let with_more = move |label: &str, has_more: bool| match left_out.get() {
        more if has_more && more > 0 => format!("{label}, {more} more"),
        _ => label.to_string(),
    };
    let larger = move || with_more("Larger", !view.large.get());
    let in_table = move || with_more("Table", view.large.get());
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
            {toggle(
                "both-axles",
                "Front and rear",
                "Curves of both axles: front continuous, rear dashed",
                view.both,
            )}
            {toggle("curve-table", in_table, "The same as numbers", view.table)}
            {toggle("larger-curves", larger, "Over the whole sheet, and back", view.large)}
        </div>
    }
}

/// A button that stays pressed until it is pressed again.
fn toggle(
    name: &'static str,
    label: impl IntoRender<Output: RenderHtml> + Send + 'static,
    title: &'static str,
    on: RwSignal<bool>,
) -> impl IntoView {
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

/// The charts, as many in a row as suits the room, and no more than can be read there.
#[component]
fn Grid(session: Session, charts: Charts, left_out: RwSignal<usize>) -> impl IntoView {
    let view = session.curves;
    let place = NodeRef::<html::Div>::new();
    let size = RwSignal::new((0.0, 0.0));
    Effect::new(move |_| {
        if let Some(element) = place.get() {
            effects::size::watch(&element, size);
        }
    });
    on_cleanup(move || {
        view.pointer.set(None);
        left_out.set(0);
    });
    let room = Memo::new(move |_| {
        // The theme knows of the size of letters; as soon as there is one, the place has a size.
        charts.theme.with(|_| ());
        let (size, charts) = (size.get(), view.charts.with(Vec::len));
        let lines = if view.both.get() { 2.0 } else { 1.0 };
        let element = place.get();
        let letters = element.as_ref().and_then(|element| effects::size::letters(element));
        // Where the page scrolls the charts take the room that they need, and all of them have it.
        let given = element.is_some_and(|element| effects::size::is_given(&element));
        match letters.filter(|_| given) {
            Some(letters) => Room::of(charts, size, letters, lines),
            None => Room { charts, columns: 1 },
        }
    });
    let shown = Memo::new(move |_| {
        let Room { charts, .. } = room.get();
        view.charts.with(|all| all.iter().copied().take(charts).collect::<Vec<_>>())
    });
    Effect::new(move |_| {
        set_changed(left_out, view.charts.with(Vec::len).saturating_sub(shown.with(Vec::len)));
    });
    Effect::new(move |_| {
        // Where any of these changes, charts may stand elsewhere.
        size.track();
        shown.with(|_| ());
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
    view! {
        <div
            class="curve-grid"
            node_ref=place
            style=("--columns", move || room.get().columns.to_string())
            data-charts=move || shown.with(Vec::len)
        >
            <For each=move || shown.get() key=|quantity| *quantity let(quantity)>
                <Chart session=session charts=charts quantity=quantity />
            </For>
            // Over the charts: a browser gives whatever stands over a canvas a picture of its own.
            <canvas node_ref=charts.canvas aria-hidden="true"></canvas>
        </div>
    }
}

/// How charts share a room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// How many stand in it; the others have no room.
    pub charts: usize,
    /// How many of them stand in a row.
    pub columns: usize,
}

impl Room {
    /// How many of so many charts, one at least, stand in a room of a width and a height, and how many in a row, so
    /// that each is about as wide as high and few places are left empty. All in pixels, as are the letters; a chart's
    /// name and values take so many lines.
    #[must_use]
    pub fn of(charts: usize, (width, height): (f64, f64), letters: f64, lines: f64) -> Self {
        /// Width over height that a chart reads best at.
        const SHAPE: f64 = 1.3;
        /// Pixels that name and values take off the height.
        const HEAD: f64 = 24.0;
        /// What an empty place counts against a shape off by e.
        const EMPTY: f64 = 0.25;
        /// Letters, the least a chart is wide: in less a number has no room beside its name.
        const WIDE: f64 = 6.3;
        /// Letters, the least it is high without its head, which takes about a letter a line: in less a line has no
        /// shape.
        const HIGH: f64 = 3.3;
        /// Pixels between charts, as the style sheet has them for `.curve-grid`.
        const GAPS: [f64; 2] = [6.0, 4.0];
        if width <= 0.0 {
            // Not laid out yet.
            return Self { charts, columns: 1 };
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a number of charts, at least 0"
        )]
        let most = |room: f64, least: f64, gap: f64| ((room + gap) / (least * letters + gap)) as usize;
        let most_columns = most(width, WIDE, GAPS[0]).max(1);
        let rows = most(height, HIGH + lines, GAPS[1]).max(1);
        let charts = charts.min(most_columns * rows);
        #[expect(clippy::cast_precision_loss, reason = "a dozen charts")]
        let fault = |columns: usize| {
            let rows = charts.div_ceil(columns);
            let shape = (width / columns as f64) / (height / rows as f64 - HEAD).max(1.0);
            (shape / SHAPE).ln().abs() + EMPTY * (columns * rows - charts) as f64
        };
        let fewest = charts.div_ceil(rows).max(1);
        let columns =
            (fewest..=most_columns.min(charts.max(1))).min_by(|a, b| fault(*a).total_cmp(&fault(*b)));
        Self { charts, columns: columns.unwrap_or(1) }
    }
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
    use super::Room;

    fn columns(charts: usize, width: f64, height: f64) -> usize {
        let room = Room::of(charts, (width, height), 14.0, 1.0);
        assert_eq!(room.charts, charts, "all of them in {width} × {height}");
        room.columns
    }

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

    #[test]
    fn no_more_charts_stand_in_a_room_than_can_be_read() {
        // A low window in large type: three of 114 pixels in a row, two rows of 94.
        assert_eq!(Room::of(12, (350.0, 192.0), 17.0, 1.0), Room { charts: 6, columns: 3 });
        assert_eq!(Room::of(5, (350.0, 192.0), 17.0, 1.0), Room { charts: 5, columns: 3 });
        // Narrow, where a shape alone would take more in a row.
        assert_eq!(Room::of(9, (384.0, 291.0), 17.0, 1.0), Room { charts: 9, columns: 3 });
        // With a line for the other axle's numbers there is room for a row less.
        assert_eq!(Room::of(12, (390.0, 217.0), 14.0, 1.0), Room { charts: 12, columns: 4 });
        assert_eq!(Room::of(12, (390.0, 217.0), 14.0, 2.0), Room { charts: 8, columns: 4 });
        // There is always room for one.
        assert_eq!(Room::of(12, (40.0, 10.0), 17.0, 1.0), Room { charts: 1, columns: 1 });
        assert_eq!(Room::of(12, (350.0, 0.0), 17.0, 1.0).charts, 3);
        assert_eq!(Room::of(12, (0.0, 0.0), 17.0, 1.0).charts, 12, "before it is laid out");
    }
}
