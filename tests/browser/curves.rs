//! The curves: which, against what, of which axles; the pointer, the keys and the table.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::{
    readings::Quantity,
    setup::{Axle, Document, example},
};
use serde_json::Value;
use web_app::sharing;

use crate::{
    core::{Shown, front_changed},
    page::Page,
};

/// The curves as a person uses them.
impl Page {
    async fn strings(&self, expression: &str) -> Vec<String> {
        let all = self.browser.eval(expression).await;
        all.as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
    }

    /// The readings on a chart, in their order.
    async fn charts(&self) -> Vec<String> {
        self.strings("[...document.querySelectorAll('.curve [data-curve]')].map(e => e.dataset.curve)").await
    }

    /// Ticks a reading in the chooser, or takes the tick away.
    async fn tick(&self, name: &str) {
        self.browser.click(&format!("[data-on-curve=\"{name}\"]")).await;
    }

    /// What is chosen, in the chooser's order.
    async fn order(&self) -> Vec<String> {
        self.strings("[...document.querySelectorAll('[data-chosen-curve]')].map(e => e.dataset.chosenCurve)")
            .await
    }

    async fn run_against(&self, name: &str) {
        self.browser.choose("select[data-do=curves-against]", name).await;
    }

    async fn press_button(&self, name: &str) {
        self.browser.click(&format!("button[data-do={name}]")).await;
    }

    /// The value in a chart's head for an axle, in full precision.
    async fn at_chart(&self, name: &str, axle: Axle) -> Option<f64> {
        let value = format!(
            "(document.querySelector('[data-curve-now=\"{name}\"] [data-axle-value={}]') || {{}}).exact ?? null",
            axle.name()
        );
        self.browser.eval(&value).await.as_f64()
    }

    /// The picture of all charts when it has stood still for longer than axes take to settle.
    async fn picture_at_rest(&self) -> String {
        let picture = "document.querySelector('.curve-grid canvas').toDataURL()";
        let mut last = String::new();
        loop {
            tokio::time::sleep(std::time::Duration::from_millis(700)).await;
            let now = self.browser.eval(picture).await.as_str().unwrap_or_default().to_owned();
            if now == last {
                return now;
            }
            last = now;
        }
    }

    /// Waits until a chart's head has a value.
    #[track_caller]
    fn comes_to(&self, name: &str, axle: Axle, expected: Option<f64>) -> impl Future<Output = ()> {
        let caller = std::panic::Location::caller();
        async move {
            let mut found = None;
            for _ in 0..100 {
                found = self.at_chart(name, axle).await;
                let same = match (found, expected) {
                    // Another way there, as far as the solver tells ways apart.
                    (Some(a), Some(b)) => (a - b).abs() < 1e-7 * b.abs().max(1.0),
                    (a, b) => a == b,
                };
                if same {
                    return;
                }
                tokio::time::sleep(std::time::Duration::from_millis(20)).await;
            }
            panic!("{caller}: {name} is {found:?}, not {expected:?}");
        }
    }

    /// Brings the pointer over a chart to an input.
    async fn hover(&self, name: &str, input: f64) {
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..40 {
            let share: f64 = f64::midpoint(low, high);
            let moved = format!(
                "(e => {{ const r = e.getBoundingClientRect(); e.dispatchEvent(new PointerEvent('pointermove', {{ bubbles: true, pointerType: 'mouse', clientX: Math.round(r.x + r.width * {share}), clientY: r.y + 20 }})); return 0; }})(document.querySelector('[data-curve=\"{name}\"]'))"
            );
            self.browser.eval(&moved).await;
            let now =
                self.browser.eval("Number(document.querySelector('[data-pointer]').dataset.pointer)").await;
            let now = now.as_f64().expect("where the pointer is");
            if now == input {
                return;
            }
            if now < input { low = share } else { high = share }
        }
        panic!("the pointer does not come to {input}");
    }

    async fn range(&self, name: &str) -> (f64, f64) {
        let text = self.browser.attribute(&format!("[data-curve=\"{name}\"]"), "data-values").await;
        let text = text.expect("a range");
        let (low, high) = text.split_once(' ').expect("two numbers");
        (low.parse().expect("a number"), high.parse().expect("a number"))
    }
}

fn read(document: &Document, axle: Axle, travel: f64, rack: f64, quantity: Quantity) -> Option<f64> {
    Shown::at(document, axle, travel, rack).reading(quantity)
}

const USUAL: [&str; 4] = ["camber", "toe", "roll_centre_height", "spring_motion_ratio"];

#[test]
fn curves_are_chosen_kept_and_found_again() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        assert_eq!(page.charts().await, USUAL);
        page.press_button("choose-curves").await;
        page.browser.type_and_stay("[data-field=curve-search]", "caster").await;
        page.browser.wait_until("document.querySelectorAll('.chooser-row:not([hidden])').length === 1").await;
        page.tick("caster").await;
        page.tick("caster").await;
        page.tick("caster").await;
        assert_eq!(page.charts().await, [&USUAL[..], &["caster"]].concat());
        page.browser.type_and_stay("[data-field=curve-search]", "no such").await;
        page.browser.wait_until("document.querySelector('[data-nothing-found]')").await;
        // Taken away and put earlier.
        page.browser.click("[data-chosen-curve=toe] [data-do=away]").await;
        page.browser.click("[data-chosen-curve=caster] [data-do=earlier]").await;
        let expected = ["camber", "roll_centre_height", "caster", "spring_motion_ratio"];
        assert_eq!(page.order().await, expected);
        assert_eq!(page.charts().await, expected);
        page.browser.press_here("Escape").await;
        page.browser.wait_until("!document.querySelector('[data-chooser]')").await;
        page.browser.wait_until("document.activeElement.dataset.do === 'choose-curves'").await;
        page.reload().await;
        assert_eq!(page.charts().await, expected);
        assert!(!page.can_undo().await, "what is looked at changes no document");
    });
}

#[test]
fn at_least_one_and_at_most_twelve_curves() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.press_button("choose-curves").await;
        for quantity in Quantity::ALL.into_iter().filter(|quantity| !USUAL.contains(&quantity.name())).take(8)
        {
            // By the keyboard, as on any form.
            page.browser.press(&format!("[data-on-curve=\"{}\"]", quantity.name()), "Space").await;
        }
        page.browser.wait_until("document.querySelectorAll('.curve').length === 12").await;
        page.browser
            .wait_until(
                "[...document.querySelectorAll('[data-on-curve]:not(:checked)')].every(e => e.disabled)",
            )
            .await;
        // The driver does not scroll to what stands under the list's head, as a person does.
        page.browser.eval("document.querySelector('[data-chooser]').scrollTop = 0").await;
        page.press_button("usual-curves").await;
        for name in &USUAL[1..] {
            page.tick(name).await;
        }
        assert_eq!(page.charts().await, ["camber"]);
        page.browser.wait_until("document.querySelector('[data-on-curve=camber]').disabled").await;
    });
}

#[test]
fn whatever_stands_in_the_store_the_curves_open() {
    for kept in ["{\"curves\":[", "rack both \u{0} no such", "", "camber camber toe"] {
        browse(Look::default(), async |browser| {
            // An empty page before this one has no store.
            let keep = format!(
                "try {{ localStorage.setItem('cornerwise.curves', {}) }} catch {{}}",
                Value::from(kept)
            );
            browser.run_before_pages(&keep).await;
            let page = Page::open(browser).await;
            let expected = if kept.starts_with("camber") { &USUAL[..2] } else { &USUAL[..] };
            assert_eq!(page.charts().await, expected, "{kept:?}");
        });
    }
}

#[test]
fn a_browser_without_a_store_has_curves() {
    browse(Look::default(), async |browser| {
        browser
            .run_before_pages(
                "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } })",
            )
            .await;
        let page = Page::open(browser).await;
        page.press_button("choose-curves").await;
        page.tick("caster").await;
        assert_eq!(page.charts().await.len(), 5);
    });
}

#[test]
fn against_the_rack_the_keys_steer() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let document = example();
        page.run_against("rack").await;
        page.browser.press("[data-curve=toe]", "ArrowRight Shift+ArrowRight Alt+ArrowLeft").await;
        page.comes_to("toe", Axle::Front, read(&document, Axle::Front, 0.0, 10.9, Quantity::Toe)).await;
        page.browser.wait_until("document.querySelector('[data-field=rack]').value === '10.9'").await;
        page.reload().await;
        page.browser.wait_until("document.querySelector('[data-do=curves-against]').value === 'rack'").await;
        // A corner that does not steer says so in place of a curve.
        page.show_axle(Axle::Rear).await;
        if !geometry_core::linkage::Linkage::new(
            document.rear.as_ref().expect("a rear corner"),
            geometry_core::setup::Side::Left,
        )
        .expect("a linkage")
        .steers()
        {
            let said = page.browser.text("[data-curve-refused]").await;
            assert_eq!(said, "No link of the rear corner steers.");
        }
    });
}

#[test]
fn both_axles_are_told_apart_by_line_and_word() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let document = example();
        page.press_button("both-axles").await;
        page.type_into("travel", "25").await;
        for axle in [Axle::Front, Axle::Rear] {
            for quantity in [Quantity::Camber, Quantity::RollCentreHeight] {
                page.comes_to(quantity.name(), axle, read(&document, axle, 25.0, 0.0, quantity)).await;
            }
        }
        let legend = page.browser.text("[data-curve-legend]").await;
        assert!(legend.contains("front") && legend.contains("rear"), "{legend}");
        let spoken = page.browser.attribute("[data-curve=camber]", "aria-valuetext").await.expect("words");
        assert!(spoken.contains("front camber") && spoken.contains("rear camber"), "{spoken}");
        // Where the focus is not, the sentence may come later, but it comes.
        let sentence = "document.querySelector('[data-curve=camber]').getAttribute('aria-valuetext')";
        page.browser.wait_until(&format!("{sentence}.includes('25\u{a0}mm bump')")).await;
        page.type_into("travel", "-30").await;
        page.browser.wait_until(&format!("{sentence}.includes('30\u{a0}mm rebound')")).await;
    });
}

#[test]
fn what_is_said_of_the_charts_waits_while_a_point_is_dragged_but_for_the_one_in_focus() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        // No timer runs between moves that follow one another at once: what changes follows the moves themselves.
        page.browser
            .eval(
                "(async () => { \
                   const said = Object.fromEntries([...document.querySelectorAll('.curve [data-curve]')].map(e => [e.dataset.curve, 0])), told = records => { for (const {target} of records) \
                       if (target.dataset.curve) said[target.dataset.curve] += 1; }; \
                   const sees = new MutationObserver(told); \
                   sees.observe(document.body, {subtree: true, attributeFilter: ['aria-valuetext']}); \
                   const handle = document.querySelector('[data-handle=\"front:arms[0].ball_joint\"]'); \
                   handle.setPointerCapture = () => {}; \
                   const send = (kind, at) => handle.dispatchEvent(new PointerEvent(kind, {bubbles: true, \
                       cancelable: true, button: 0, buttons: 1, pointerId: 1, isPrimary: true, clientX: 300 + at, \
                       clientY: 300})); \
                   const number = document.querySelector('[data-headline=camber_gain]'), numbers = new Set(); \
                   send('pointerdown', 0); document.querySelector('[data-curve=roll_centre_height]').focus(); \
                   for (let i = 1; i <= 40; i++) { send('pointermove', i); await null; await null; numbers.add(number.exact); } \
                   told(sees.takeRecords()); sees.disconnect(); send('pointerup', 40); \
                   window.counted = {...said, numbers: numbers.size}; \
                 })() && 0",
            )
            .await;
        page.browser.wait_until("window.counted").await;
        let counted = page.browser.eval("window.counted").await;
        let times = |name: &str| counted[name].as_u64().expect("it stands there");
        assert!(times("numbers") > 30, "the numbers follow: {counted}");
        assert!(times("roll_centre_height") > 20, "so does what is said where the focus is: {counted}");
        for other in ["camber", "toe", "spring_motion_ratio"] {
            assert!(times(other) <= 1, "not with every move: {counted}");
        }
    });
}

#[test]
fn the_missing_axle_is_named() {
    browse(Look::default(), async |browser| {
        let document = Document { rear: None, ..example() };
        let page = Page::open_link(browser, &sharing::encode(&document)).await;
        page.press_button("both-axles").await;
        let said = page.browser.text("[data-curve-refused]").await;
        assert_eq!(said, "The rear corner is not described yet.");
        page.comes_to("camber", Axle::Front, read(&document, Axle::Front, 0.0, 0.0, Quantity::Camber)).await;
    });
}

#[test]
fn the_pointer_tells_what_the_table_does() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let document = example();
        page.hover("camber", 30.0).await;
        let mut pointed = Vec::new();
        for name in USUAL {
            pointed.push(page.at_chart(name, Axle::Front).await.expect("a value"));
        }
        assert_eq!(page.browser.count("[data-under-pointer=true]").await, 4, "in all charts");
        assert!(
            (pointed[0] - read(&document, Axle::Front, 30.0, 0.0, Quantity::Camber).expect("camber")).abs()
                < 1e-9
        );
        page.press_button("curve-table").await;
        for (name, pointed) in USUAL.into_iter().zip(pointed) {
            let cell = format!("[data-input=\"30\"] [data-cell=\"{name}\"]");
            let value = page.browser.attribute(&cell, "data-value").await.expect("a value");
            let value: f64 = value.parse().expect("a number");
            assert!((value - pointed).abs() < 1e-7 * pointed.abs().max(1.0), "{name}: {value} {pointed}");
        }
    });
}

#[test]
fn a_press_in_a_chart_moves_the_wheel_and_the_pointer_leaves_no_trace() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.browser.drag("[data-curve=camber]", 40, 0).await;
        page.browser.wait_until("Number(document.querySelector('[data-field=travel]').value) > 20").await;
        let travel = page.field("travel").await.parse().expect("a number");
        let expected = read(&example(), Axle::Front, travel, 0.0, Quantity::Camber);
        page.browser
            .eval("document.querySelector('[data-curve=camber]').dispatchEvent(new PointerEvent('pointerleave')) && 0")
            .await;
        page.comes_to("camber", Axle::Front, expected).await;
        assert_eq!(page.browser.count("[data-under-pointer=true]").await, 0);
    });
}

#[test]
fn the_cursor_moves_by_keys_to_the_stops_and_says_a_sentence() {
    browse(Look::default(), async |browser| {
        let document = front_changed(|corner| {
            corner.bump_travel = Some(64.0);
            corner.rebound_travel = Some(71.0);
        });
        let page = Page::open_link(browser, &sharing::encode(&document)).await;
        let legend = page.browser.text("[data-curve-legend]").await;
        assert!(legend.contains("beyond the stop"), "{legend}");
        page.browser.press("[data-curve=camber]", "End").await;
        page.browser.wait_until("document.querySelector('[data-field=travel]').value === '64'").await;
        page.browser.press_here("Home ArrowRight").await;
        page.comes_to("camber", Axle::Front, read(&document, Axle::Front, -70.0, 0.0, Quantity::Camber))
            .await;
        let spoken = page.browser.attribute("[data-curve=camber]", "aria-valuetext").await.expect("words");
        assert!(spoken.starts_with("At wheel travel 70\u{a0}mm rebound; camber "), "{spoken}");
        assert!(spoken.ends_with("top leans out.") || spoken.ends_with("top leans in."), "{spoken}");
    });
}

#[test]
fn under_a_leaning_body_the_left_wheel_is_read_against_the_road() {
    use geometry_core::axle::{AxleFollower, AxleReader, AxleState, Lean, WheelPair};
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let document = example();
        page.run_against("roll").await;
        page.browser.press("[data-curve=camber]", "Shift+ArrowRight Shift+ArrowRight").await;
        let pair = WheelPair::of(&document, Axle::Front).expect("a pair").expect("described");
        let state = AxleState { heave: 0.0, roll: 2.0, rack: 0.0 };
        let position = AxleFollower::new(&pair).go_to(state, Lean::HeaveHeld).expect("in reach");
        let readings = AxleReader::new(&pair, &document.vehicle).read(&position);
        page.comes_to("camber", Axle::Front, Some(readings.left.camber_to_ground)).await;
        page.comes_to("roll_centre_height", Axle::Front, readings.roll_centre.map(|centre| centre.height))
            .await;
    });
}

#[test]
fn the_table_has_heads_and_steps_and_is_copied() {
    browse(Look::default(), async |browser| {
        browser
            .run_before_pages("if (navigator.clipboard) navigator.clipboard.writeText = async text => { window.copied = text; }")
            .await;
        let page = Page::open(browser).await;
        page.press_button("curve-table").await;
        assert_eq!(page.browser.count("[data-curve-numbers] tbody tr").await, 21);
        // Beyond the stops, 85 mm down and 80 mm up, a row says so.
        assert_eq!(page.browser.count("[data-curve-numbers] tbody th .axle").await, 4);
        assert_eq!(page.browser.count("[data-curve-numbers] td.beyond").await, 4 * 4);
        assert_eq!(page.browser.count("[data-input=\"80\"] .beyond").await, 0);
        assert!(page.browser.text("[data-input=\"90\"] th").await.contains("beyond the stop"));
        assert_eq!(page.browser.count("[data-curve-numbers] thead th[scope=col]").await, 5);
        assert_eq!(page.browser.count("[data-curve-numbers] tbody th[scope=row]").await, 21);
        page.browser.choose("[data-do=table-step]", "2").await;
        page.browser
            .wait_until("document.querySelectorAll('[data-curve-numbers] tbody tr').length === 11")
            .await;
        page.press_button("both-axles").await;
        page.browser
            .wait_until("document.querySelectorAll('[data-curve-numbers] thead th').length === 9")
            .await;
        page.press_button("copy-table").await;
        page.browser.wait_until("window.copied").await;
        let text = page.browser.eval("window.copied").await;
        let text = text.as_str().expect("a text");
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.len(), 12);
        assert!(
            lines[0].starts_with("Wheel travel, mm\tCamber, ° (front)\tCamber, ° (rear)\t"),
            "{}",
            lines[0]
        );
        assert!(lines[1].starts_with("-100\t") && !text.contains('\u{2212}'), "{}", lines[1]);
        let camber: f64 = lines[6].split('\t').nth(1).expect("a cell").parse().expect("a number");
        let expected = read(&example(), Axle::Front, 0.0, 0.0, Quantity::Camber).expect("camber");
        assert!((camber - expected).abs() <= 0.005, "{camber} {expected}");
        let said = page.notice().await;
        assert!(said.contains("clipboard"), "{said}");
    });
}

#[test]
fn axes_only_grow_while_a_point_is_held_and_settle_afterwards() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.browser
            .wait_until("document.querySelector('[data-curve=bump_steer], [data-curve=toe]').dataset.values")
            .await;
        let start = page.range("toe").await;
        let event = |kind: &str, down: i32| {
            format!(
                "(h => {{ h.setPointerCapture = () => {{}}; const r = h.getBoundingClientRect(); window.at = window.at || [r.x + 10, r.y + 10]; h.dispatchEvent(new PointerEvent('{kind}', {{ bubbles: true, pointerId: 1, button: 0, buttons: 1, clientX: window.at[0], clientY: window.at[1] + {down} }})); return 0; }})(document.querySelector('[data-handle=\"front:links[0].inboard\"]'))"
            )
        };
        assert_eq!(page.browser.count("[data-handle=\"front:links[0].inboard\"]").await, 1);
        page.browser.eval(&event("pointerdown", 0)).await;
        let mut last = start;
        for down in [6, 12, 18, 9, 0, -9] {
            page.browser.eval(&event("pointermove", down)).await;
            tokio::time::sleep(std::time::Duration::from_millis(600)).await;
            let now = page.range("toe").await;
            assert!(now.0 <= last.0 && last.1 <= now.1, "{now:?} after {last:?}");
            last = now;
        }
        assert!(last.1 - last.0 > 1.5 * (start.1 - start.0), "{last:?} from {start:?}");
        page.browser.eval(&event("pointermove", 0)).await;
        page.browser.eval(&event("pointerup", 0)).await;
        for _ in 0..100 {
            if page.range("toe").await == start {
                return;
            }
            tokio::time::sleep(std::time::Duration::from_millis(20)).await;
        }
        assert_eq!(page.range("toe").await, start);
    });
}

#[test]
fn canvases_have_the_pixels_of_the_screen() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        // Another width as well: the browser does not tell a page of emulated pixels alone.
        for (width, factor) in [(1300, 1.5), (1250, 2.0)] {
            page.browser.resize(width, 850, factor).await;
            // Every chart has something drawn in its place, and where it ends nothing more.
            let drawn = "(canvas => { const all = canvas.getBoundingClientRect(), draws = canvas.getContext('2d'); \
                const on = (x, y, w, h) => draws.getImageData(...[x - all.left, y - all.top, w, h].map(p => Math.round(p * RATIO))).data.some(part => part); \
                const places = [...document.querySelectorAll('[data-curve]')].map(place => place.getBoundingClientRect()); \
                return canvas.width === Math.round(all.width * RATIO) && canvas.height === Math.round(all.height * RATIO) \
                    && places.length === 4 && places.every(r => on(r.left, r.top, r.width, r.height) && !on(r.left, r.top - 9, r.width, 8)); \
                })(document.querySelector('.curve-grid canvas'))";
            let drawn = drawn.replace("RATIO", &factor.to_string());
            page.browser.wait_until(&format!("devicePixelRatio === {factor} && {drawn}")).await;
        }
    });
}

#[test]
fn larger_curves_take_the_sheet_and_give_it_back() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let width = "document.querySelector('.curves').getBoundingClientRect().width / document.querySelector('.sheet').getBoundingClientRect().width";
        let before = page.browser.eval(width).await.as_f64().expect("a share");
        page.press_button("larger-curves").await;
        page.browser.wait_until(&format!("{width} > 0.99")).await;
        page.press_button("larger-curves").await;
        page.browser.wait_until(&format!("Math.abs({width} - {before}) < 0.01")).await;
    });
}

/// Charts without room for a line or a whole number are not there, and the page says how many and where they are.
#[test]
fn what_has_no_room_is_counted_and_stands_in_the_larger_curves() {
    browse(Look { width: 1280, height: 720, dark: false }, async |browser| {
        let page = Page::open(browser.clone()).await;
        let twelve = "travel camber toe roll_centre_height spring_motion_ratio caster kingpin_inclination \
                      scrub_radius mechanical_trail bump_steer half_track_change hub_offset hub_trail";
        page.browser.eval(&format!("localStorage.setItem('cornerwise.curves', '{twelve}')")).await;
        page.reload().await;
        let charts = |shown: usize, label: &str| {
            format!(
                "document.querySelectorAll('[data-curve]').length === {shown} \
                 && document.querySelector('[data-do=larger-curves]').textContent === '{label}'"
            )
        };
        page.browser.wait_until(&charts(12, "Larger")).await;
        page.press_button("large").await;
        page.browser.wait_until(&charts(6, "Larger, 6 more")).await;
        // What is there is legible: a number whole, a plot as high as two lines of the page's text.
        let legible = "[...document.querySelectorAll('.curve')].every(chart => { \
            const value = chart.querySelector('.curve-values').getBoundingClientRect(), all = chart.getBoundingClientRect(), \
            plot = chart.querySelector('.curve-place').getBoundingClientRect(); \
            return value.right <= all.right && value.left >= all.left && plot.height >= 2 * parseFloat(getComputedStyle(chart).fontSize); })";
        page.browser.wait_until(legible).await;
        page.press_button("larger-curves").await;
        page.browser.wait_until(&charts(12, "Larger")).await;
        page.browser.wait_until(legible).await;
        page.press_button("larger-curves").await;
        page.browser.wait_until(&charts(6, "Larger, 6 more")).await;
        // Where the page scrolls no room is short, however large the letters are.
        let narrow = Look { width: 320, height: 700, dark: false };
        browser.show_as(narrow).await;
        browser.eval("document.documentElement.style.fontSize = '28px'").await;
        browser.wait_until(&charts(12, "Larger")).await;
        tokio::time::sleep(std::time::Duration::from_millis(200)).await;
        browser.wait_until(&charts(12, "Larger")).await;
        browser.eval("document.documentElement.style.fontSize = ''").await;
        browser.show_as(Look { width: 1280, height: 720, dark: false }).await;
        browser.wait_until(&charts(6, "Larger, 6 more")).await;
        // A table has room for all.
        page.press_button("curve-table").await;
        page.browser.wait_until(&charts(0, "Larger")).await;
        page.press_button("curve-table").await;
        page.press_button("large").await;
        page.browser.wait_until(&charts(12, "Larger")).await;
    });
}

/// Charts are drawn in turns where a frame has no time for all, and stand where others stood before.
#[test]
fn charts_come_to_what_a_page_just_opened_draws() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let twelve = "travel both camber toe roll_centre_height spring_motion_ratio caster kingpin_inclination \
                      scrub_radius mechanical_trail bump_steer half_track_change hub_offset hub_trail";
        page.browser.eval(&format!("localStorage.setItem('cornerwise.curves', '{twelve}')")).await;
        page.reload().await;
        let opened = page.picture_at_rest().await;
        page.drag("front:arms[0].ball_joint", 14, -9).await;
        let dragged = page.picture_at_rest().await;
        assert!(dragged != opened, "the drag changes the curves");
        page.reload().await;
        assert!(page.picture_at_rest().await == dragged, "after the drag");

        page.press_button("larger-curves").await;
        assert!(page.picture_at_rest().await != dragged, "larger curves are another picture");
        page.press_button("larger-curves").await;
        assert!(page.picture_at_rest().await == dragged, "after larger ones");

        for button in ["curve-table", "both-axles"] {
            page.press_button(button).await;
            tokio::time::sleep(std::time::Duration::from_millis(300)).await;
            page.press_button(button).await;
            assert!(page.picture_at_rest().await == dragged, "after {button} and back");
        }
        page.browser.resize(1200, 800, 1.0).await;
        assert!(page.picture_at_rest().await != dragged, "a smaller window is another picture");
        page.browser.resize(Look::default().width, Look::default().height, 1.0).await;
        assert!(page.picture_at_rest().await == dragged, "after a smaller window");

        page.press_button("choose-curves").await;
        page.tick("camber").await;
        page.press_button("choose-curves").await;
        let fewer = page.picture_at_rest().await;
        page.reload().await;
        assert!(page.picture_at_rest().await == fewer, "after a chart was taken away");
    });
}
