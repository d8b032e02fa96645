//! The page as a person uses it, so that tests read as intentions.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use cornerwise_tests::browser::Browser;
use geometry_core::setup::{Axle, Point};
use serde_json::Value;

use crate::core::Shown;

/// How long the page may take to show what a change has led to.
const SOON: Duration = Duration::from_secs(5);

/// The open page.
pub(crate) struct Page {
    pub(crate) browser: Browser,
}

impl Page {
    /// Opens the page as it is for someone who has never been there.
    pub(crate) async fn open(browser: Browser) -> Self {
        browser.open_file("").await;
        Self { browser }
    }

    /// Opens the page by a link to a setup.
    pub(crate) async fn open_link(browser: Browser, link: &str) -> Self {
        let (_, fragment) = link.split_once('#').expect("a link with a fragment");
        browser.open_file(fragment).await;
        Self { browser }
    }

    /// Reloads the page.
    pub(crate) async fn reload(&self) {
        self.browser.reload().await;
    }

    // What the page says.

    /// Milliseconds from asking for the page to its first drawing.
    pub(crate) async fn start_time(&self) -> f64 {
        self.browser.eval("Number(document.body.dataset.started)").await.as_f64().unwrap_or(f64::NAN)
    }

    /// Whether the page itself is there, and not just the shell around it.
    pub(crate) async fn has_content(&self) -> bool {
        let shown = self.browser.eval("document.getElementById('app').childElementCount > 0");
        let waiting = self.browser.eval("!document.getElementById('status').hidden");
        shown.await == Value::Bool(true) && waiting.await == Value::Bool(false)
    }

    /// How many things the page has asked for beside itself.
    pub(crate) async fn requests(&self) -> u64 {
        let requests = self.browser.eval("performance.getEntriesByType('resource').length").await;
        requests.as_u64().unwrap_or(u64::MAX)
    }

    /// Whether the browser stops the page from reaching an address.
    pub(crate) async fn is_refused(&self, address: &str) -> bool {
        let ask = format!(
            "(window.refused = null, fetch({}).then(() => refused = false, () => refused = true), 0)",
            Value::from(address)
        );
        self.browser.eval(&ask).await;
        self.browser.wait_until("window.refused !== null").await;
        self.browser.eval("window.refused").await == Value::Bool(true)
    }

    /// What the page's policy is.
    pub(crate) async fn policy(&self) -> String {
        let policy = self.browser.attribute("meta[http-equiv=Content-Security-Policy]", "content").await;
        policy.unwrap_or_default()
    }

    /// How light the paper is, from 0 to 765.
    pub(crate) async fn brightness(&self) -> i64 {
        let sum = "getComputedStyle(document.body).backgroundColor.match(/\\d+/g).slice(0, 3).reduce((a, b) => a + +b, 0)";
        self.browser.eval(sum).await.as_i64().unwrap_or(-1)
    }

    /// Whether something stands beyond the right edge, so that the page would have to be scrolled sideways.
    pub(crate) async fn is_too_wide(&self) -> bool {
        self.browser.eval("document.scrollingElement.scrollWidth > innerWidth").await == Value::Bool(true)
    }

    /// How many shapes are drawn in a view: `front`, `side` or `plan`.
    pub(crate) async fn shapes(&self, view: &str) -> usize {
        self.browser.count(&format!("g[data-view={view}] > *")).await
    }

    /// The numbers of the table in full precision, by name; none where there is no number.
    pub(crate) async fn readings(&self) -> BTreeMap<String, Option<f64>> {
        let all = "[...document.querySelectorAll('[data-reading]')].map(e => [e.dataset.reading, String(e.exact ?? '')])";
        let all = self.browser.eval(all).await;
        let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
        let rows = all.as_array().into_iter().flatten();
        rows.map(|row| (text(&row[0]), text(&row[1]).parse().ok())).collect()
    }

    /// Checks that the page comes to show exactly these readings, bit for bit, and the message that belongs to them.
    #[track_caller]
    pub(crate) fn shows(&self, expected: Shown) -> impl Future<Output = ()> {
        let caller = std::panic::Location::caller();
        async move {
            self.make_the_table().await;
            let begin = Instant::now();
            loop {
                let readings = self.readings().await;
                let found = Shown {
                    readings: readings
                        .into_iter()
                        .map(|(name, value)| (name, value.map(f64::to_bits)))
                        .collect(),
                    wrong: self.message("corner").await,
                    stopped: self.message("reach").await,
                };
                if found == expected {
                    return;
                }
                assert!(
                    begin.elapsed() < SOON,
                    "{caller}: the page shows other than the core says:\n{}",
                    found.differences(&expected)
                );
                tokio::time::sleep(Duration::from_millis(20)).await;
            }
        }
    }

    /// The table of readings is made when it is first opened: opens it where another tab stands open since the page
    /// came, and that one again.
    async fn make_the_table(&self) {
        let made = "document.querySelector('#panel-readings [data-reading]') !== null";
        let open = "document.querySelector('[role=tab][aria-selected=true]')?.id ?? null";
        let open = self.browser.eval(open).await;
        let Some(open) = open.as_str().filter(|open| *open != "tab-readings") else { return };
        if self.browser.eval(made).await != true {
            self.tab("readings").await;
            self.browser.wait_until(made).await;
            self.browser.click(&format!("#{open}")).await;
        }
    }

    /// The headline's text for a reading.
    pub(crate) async fn headline(&self, name: &str) -> String {
        self.browser.text(&format!("[data-headline={name}]")).await
    }

    /// Chooses a reading by its row in the table; again, leaves it.
    pub(crate) async fn choose_reading(&self, name: &str) {
        self.browser.click(&format!("[data-choose=\"{name}\"]")).await;
    }

    /// Chooses a reading with the keyboard, wherever its row stands.
    pub(crate) async fn choose_by_key(&self, name: &str) {
        self.browser.press(&format!("[data-choose=\"{name}\"]"), "Enter").await;
    }

    /// Chooses a reading by its tile in the headline.
    pub(crate) async fn choose_tile(&self, name: &str) {
        self.browser.click(&format!("[data-tile=\"{name}\"]")).await;
    }

    /// The reading chosen, as row and tile say it; none when no row is pressed.
    pub(crate) async fn chosen(&self) -> Option<String> {
        let pressed = "(document.querySelector('[data-choose][aria-pressed=true]') || {dataset: {}}).dataset.choose || null";
        self.browser.eval(pressed).await.as_str().map(str::to_owned)
    }

    /// How the chosen reading is found, in words.
    pub(crate) async fn finding(&self) -> String {
        self.browser.text("[data-finding]").await
    }

    /// How many shapes of a class the chosen reading's construction has in a view.
    pub(crate) async fn found(&self, view: &str, class: &str) -> usize {
        self.browser.count(&format!("g[data-view={view}] > .found.{class}")).await
    }

    /// A message that is shown: `corner` when the corner cannot be read, `reach` when it does not reach so far,
    /// `notice` for everything else.
    pub(crate) async fn message(&self, kind: &str) -> Option<String> {
        let text = format!("(document.querySelector('[data-message={kind}]') || {{}}).innerText || null");
        self.browser.eval(&text).await.as_str().map(str::to_owned)
    }

    /// A notice, as soon as there is one.
    pub(crate) async fn notice(&self) -> String {
        self.browser.text("[data-message=notice]").await
    }

    // Points, fields and menus.

    /// Opens a tab: `readings`, `pivots` or `car`.
    pub(crate) async fn tab(&self, name: &str) {
        self.browser.click(&format!("#tab-{name}")).await;
    }

    /// The tabs there are.
    pub(crate) async fn tabs(&self) -> Vec<String> {
        let names = "[...document.querySelectorAll('[role=tab]')].map(tab => tab.id.replace('tab-', ''))";
        let names = self.browser.eval(names).await;
        names.as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
    }

    /// What stands in a field, by its path.
    pub(crate) async fn field(&self, path: &str) -> String {
        self.browser.value(&field(path)).await
    }

    /// The point that the fields of a row of pivots show. Fields follow while they can be seen:
    /// the table is opened for it, by no click that would take the focus along.
    pub(crate) async fn point(&self, path: &str) -> Point {
        let open = "(tab => { const open = document.querySelector('[role=tab][aria-selected=true]').id; \
            document.getElementById(tab).click(); return open; })";
        let before = self.browser.eval(&format!("{open}('tab-pivots')")).await;
        let mut point = [f64::NAN; 3];
        for (number, letter) in point.iter_mut().zip(["x", "y", "z"]) {
            let text = self.field(&format!("{path}.{letter}")).await;
            *number =
                text.replace('\u{2212}', "-").parse().unwrap_or_else(|_| panic!("{path}.{letter} is {text}"));
        }
        self.browser.eval(&format!("{open}({before})")).await;
        point
    }

    /// Types into a field key by key and leaves it.
    pub(crate) async fn type_into(&self, path: &str, text: &str) {
        self.browser.type_into(&field(path), text).await;
    }

    /// Types into a field key by key and stays in it.
    pub(crate) async fn type_and_stay(&self, path: &str, text: &str) {
        self.browser.type_and_stay(&field(path), text).await;
    }

    /// Puts a text into a field at one stroke.
    pub(crate) async fn paste_into(&self, path: &str, text: &str) {
        self.browser.paste_into(&field(path), text).await;
    }

    /// The sentences under fields, in the order of the page.
    pub(crate) async fn field_errors(&self) -> Vec<String> {
        let all =
            self.browser.eval("[...document.querySelectorAll('.field-error')].map(e => e.textContent)").await;
        all.as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
    }

    /// Whether a field is marked as wrong.
    pub(crate) async fn is_wrong(&self, path: &str) -> bool {
        self.browser.attribute(&field(path), "aria-invalid").await.as_deref() == Some("true")
    }

    /// Shows an axle.
    pub(crate) async fn show_axle(&self, axle: Axle) {
        self.browser.click(&format!("[data-axle={}]", axle.name())).await;
    }

    /// Puts a layout from the menu into the corner shown.
    pub(crate) async fn choose_layout(&self, name: &str) {
        self.browser.choose("select[data-do=layout]", name).await;
    }

    /// How many freedoms the table of pivots counts.
    pub(crate) async fn freedoms(&self) -> String {
        self.browser.attribute("[data-freedoms]", "data-freedoms").await.unwrap_or_default()
    }

    /// Removes a member by its name.
    pub(crate) async fn remove_member(&self, name: &str) {
        self.browser.click(&format!("[data-member=\"{name}\"] header button")).await;
    }

    /// Adds a link to the corner shown.
    pub(crate) async fn add_link(&self) {
        self.browser.click(".adders button:nth-child(2)").await;
    }

    // Motion.

    /// Moves the wheel and the rack by typing, mm.
    pub(crate) async fn move_to(&self, travel: &str, rack: &str) {
        self.type_into("travel", travel).await;
        self.type_into("rack", rack).await;
    }

    /// Presses keys on a slider: `travel` or `rack`.
    pub(crate) async fn press_on_slider(&self, name: &str, keys: &str) {
        self.browser.press(&format!("[data-slider={name}]"), keys).await;
    }

    // Points on the sheet, named as in "front:arms[0].ball_joint".

    /// Drags a point by CSS pixels to the right and down.
    pub(crate) async fn drag(&self, point: &str, right: i32, down: i32) {
        self.browser.drag(&handle(point), right, down).await;
    }

    /// Drags a point and keeps the mouse's button down.
    pub(crate) async fn drag_and_hold(&self, point: &str, right: i32, down: i32) {
        self.browser.drag_and_hold(&handle(point), right, down).await;
    }

    /// Drags a point, gives that up by Escape and moves the mouse farther before its button is let go.
    pub(crate) async fn drag_and_give_up(&self, point: &str, right: i32, down: i32) {
        self.drag_and_hold(point, right, down).await;
        self.browser.press_here("Escape").await;
        self.browser.let_go(right, down).await;
    }

    /// Drags a point with a finger.
    pub(crate) async fn drag_by_touch(&self, point: &str, right: i32, down: i32) {
        self.browser.drag_by_touch(&handle(point), right, down).await;
    }

    /// Presses keys on a point.
    pub(crate) async fn press_on(&self, point: &str, keys: &str) {
        self.browser.press(&handle(point), keys).await;
    }

    /// Where a point stands on the sheet, in CSS pixels.
    pub(crate) async fn place(&self, point: &str) -> (f64, f64) {
        let number = async |name| {
            let text = self.browser.attribute(&handle(point), name).await;
            text.and_then(|text| text.parse().ok()).unwrap_or(f64::NAN)
        };
        (number("cx").await, number("cy").await)
    }

    /// Shows what a button of the sheet names, or hides it: `both`, `axles`, `ghosts` or `traces`.
    pub(crate) async fn show(&self, name: &str) {
        self.browser.click(&format!("[data-show={name}]")).await;
    }

    /// How many shapes stand in a group of a view: `right`, `other-axle`, `ghost` or `traces`.
    pub(crate) async fn shapes_in(&self, view: &str, group: &str) -> usize {
        self.browser.count(&format!("g[data-view={view}] > g.{group} > *")).await
    }

    /// Presses keys on the sheet itself.
    pub(crate) async fn press_on_sheet(&self, keys: &str) {
        self.browser.press("[data-sheet]", keys).await;
    }

    /// Puts fingers on what lies there and moves them: from and to, in CSS pixels of the window.
    pub(crate) async fn fingers<const COUNT: usize>(&self, from: [[f64; 2]; COUNT], to: [[f64; 2]; COUNT]) {
        let script = format!(
            "((from, to) => {{ const under = from.map(at => document.elementFromPoint(at[0], at[1])); \
             const send = (kind, finger, at) => under[finger].dispatchEvent(new PointerEvent(kind, {{bubbles: true, \
             cancelable: true, pointerType: 'touch', pointerId: 7 + finger, isPrimary: finger === 0, button: 0, \
             buttons: 1, clientX: at[0], clientY: at[1]}})); \
             from.forEach((at, finger) => send('pointerdown', finger, at)); \
             for (let step = 1; step <= 10; step++) {{ from.forEach((at, finger) => send('pointermove', finger, \
             at.map((c, i) => c + (to[finger][i] - c) * step / 10))); }} \
             to.forEach((at, finger) => send('pointerup', finger, at)); }})({from:?}, {to:?})"
        );
        self.browser.eval(&script).await;
    }

    // History and sharing.

    /// Pastes a text where a CSS selector says.
    pub(crate) async fn paste_onto(&self, onto: &str, text: &str) {
        // An event that a script makes has its text from `clipboardData` in Chromium and from `data` in Firefox.
        let paste = format!(
            "((e, text) => {{ const data = new DataTransfer(); data.setData('text/plain', text); \
             e.dispatchEvent(new ClipboardEvent('paste', {{ clipboardData: data, data: text, dataType: 'text/plain', \
             bubbles: true, cancelable: true }})); }})(document.querySelector('{onto}'), '{text}')"
        );
        self.browser.eval(&paste).await;
    }

    /// Takes the last change back.
    pub(crate) async fn undo(&self) {
        self.browser.click("[data-do=undo]").await;
    }

    /// Makes the change again that was taken back last.
    pub(crate) async fn redo(&self) {
        self.browser.click("[data-do=redo]").await;
    }

    /// Whether there is something to undo.
    pub(crate) async fn can_undo(&self) -> bool {
        self.browser.eval("!document.querySelector('[data-do=undo]').disabled").await == Value::Bool(true)
    }

    /// Whether there is something to redo.
    pub(crate) async fn can_redo(&self) -> bool {
        self.browser.eval("!document.querySelector('[data-do=redo]').disabled").await == Value::Bool(true)
    }

    /// Asks for a link to the setup.
    pub(crate) async fn link(&self) -> String {
        self.browser.click("[data-do=link]").await;
        self.field("link").await
    }

    /// A text that the page keeps in this browser.
    pub(crate) async fn kept(&self, key: &str) -> Option<String> {
        let text = self.browser.eval(&format!("localStorage.getItem({})", Value::from(key))).await;
        text.as_str().map(str::to_owned)
    }
}

fn field(path: &str) -> String {
    format!("input[data-field=\"{path}\"]")
}

fn handle(point: &str) -> String {
    format!("[data-handle=\"{point}\"]")
}
