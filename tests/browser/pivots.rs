//! The table of pivots: keys, units and axes, blocks pasted and copied, members that come and go.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::setup::{Axle, Document, Side, example};
use serde_json::Value;
use web_app::edit::Edit;
use web_app::lengths::{Axes, Convention, Measure};
use web_app::pasted;
use web_app::sharing::decode;

use crate::core::{Shown, front_changed};
use crate::page::Page;

const HEIGHT: &str = "arms[0].ball_joint.z";

async fn document(page: &Page) -> Document {
    decode(&page.link().await).expect("the page's own link")
}

impl Page {
    /// The name of the field that has the focus.
    async fn focused(&self) -> String {
        let name = self.browser.eval("document.activeElement.dataset.field || ''").await;
        name.as_str().unwrap_or_default().to_owned()
    }

    /// Chooses unit and axes at the head of the table.
    async fn write_as(&self, measure: Measure, axes: Axes) {
        self.browser.choose("#panel-pivots > .pivots-tools [data-choice=measure]", measure.name()).await;
        self.browser.choose("#panel-pivots > .pivots-tools [data-choice=axes]", axes.name()).await;
    }

    /// Pastes a text from the clipboard into a field; whether the page took it for a block.
    async fn paste_block(&self, path: &str, text: &str) -> bool {
        // An event that a script makes has its text from `clipboardData` in Chromium and from `data` in Firefox.
        let paste = format!(
            "((e, text) => {{ const data = new DataTransfer(); data.setData('text/plain', text); e.focus(); \
             return !e.dispatchEvent(new ClipboardEvent('paste', {{ clipboardData: data, data: text, dataType: 'text/plain', bubbles: true, cancelable: true }})); }})\
             (document.querySelector({}), {})",
            Value::from(format!("input[data-field=\"{path}\"]")),
            Value::from(text)
        );
        self.browser.eval(&paste).await == Value::Bool(true)
    }

    /// Opens the dialog by its button and puts a text into it.
    pub(crate) async fn paste_pivots(&self, text: &str) {
        // The driver does not scroll to what stands under the line of the freedoms, as a person does.
        self.browser.eval("document.querySelector('#panel-pivots').scrollTop = 0").await;
        self.browser.click("[data-do=paste-pivots]").await;
        self.put(text).await;
    }

    /// Puts a text into the open dialog.
    pub(crate) async fn put(&self, text: &str) {
        let put = format!(
            "((e, text) => {{ e.value = text; e.dispatchEvent(new InputEvent('input', {{ bubbles: true }})); return 0; }})\
             (document.querySelector('dialog.paste textarea'), {})",
            Value::from(text)
        );
        self.browser.wait_until("document.querySelector('dialog.paste textarea')").await;
        self.browser.eval(&put).await;
    }

    /// How the dialog shows a line.
    pub(crate) async fn line(&self, number: usize) -> String {
        self.browser.text(&format!("dialog.paste [data-line=\"{number}\"]")).await
    }

    async fn dialog_is_open(&self) -> bool {
        self.browser.eval("!!document.querySelector('dialog.paste[open]')").await == Value::Bool(true)
    }

    /// Whether the dialog would apply anything.
    async fn can_apply(&self) -> bool {
        self.browser.eval("!document.querySelector('[data-do=apply]').disabled").await == Value::Bool(true)
    }

    async fn apply(&self) {
        self.browser.click("[data-do=apply]").await;
        self.browser.wait_until("!document.querySelector('dialog.paste[open]')").await;
    }
}

#[test]
fn arrow_keys_and_enter_go_from_row_to_row_and_tab_from_field_to_field() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        let height = format!("input[data-field=\"{HEIGHT}\"]");
        for (keys, expected) in [
            ("ArrowDown", "links[0].inboard.z"),
            ("ArrowUp ArrowUp", "arms[0].front_pivot.z"),
            ("Enter", "links[0].inboard.z"),
            ("Shift+Enter", "arms[0].rear_pivot.z"),
            ("Shift+Tab", "arms[0].ball_joint.y"),
            // The first row stays the first.
            ("ArrowUp ArrowUp ArrowUp ArrowUp ArrowUp ArrowUp", "wheel.centre.z"),
        ] {
            browser.press(&height, keys).await;
            assert_eq!(page.focused().await, expected, "{keys}");
        }
        // Going changes nothing; what is typed where one arrives takes the number's place.
        assert_eq!(document(&page).await, example());
        browser.press(&height, "ArrowDown 1 9 3").await;
        page.shows(Shown::of(&front_changed(|c| c.links[0].inboard[2] = 193.0), Axle::Front)).await;
        browser.press_here("Enter 1 8 1 Enter").await;
        let changed = front_changed(|corner| {
            corner.links[0].inboard[2] = 193.0;
            corner.links[0].outboard[2] = 181.0;
        });
        page.shows(Shown::of(&changed, Axle::Front)).await;
        assert_eq!(page.focused().await, "links[1].inboard.z");
        // With Alt the number changes, and one step back takes it back.
        browser.press(&height, "Alt+ArrowUp Alt+ArrowUp Alt+Shift+ArrowDown").await;
        assert_eq!(page.field(HEIGHT).await, "472.2");
        // A wrong text does not hold anyone.
        page.type_and_stay(HEIGHT, "48o").await;
        browser.press_here("ArrowDown").await;
        assert_eq!(page.focused().await, "links[0].inboard.z");
        assert_eq!(page.field(HEIGHT).await, "48o");
        assert!(page.is_wrong(HEIGHT).await);
    });
}

#[test]
fn freedoms_are_said_in_words_and_refusals_where_they_were_asked_for() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        let said = async || browser.text("[data-freedoms]").await;
        assert_eq!(said().await, "5 of 5 held: one motion left, the wheel\u{2019}s travel.");
        page.remove_member("upper-arm").await;
        assert!(said().await.starts_with("3 of 5 held: three motions left"), "{}", said().await);
        browser.click(".adders button:nth-child(3)").await;
        assert!(said().await.starts_with("5 of 5 held"));
        // A second strut is refused beside the button.
        browser.click(".adders button:nth-child(3)").await;
        let errors = page.field_errors().await;
        assert_eq!(errors, ["front: the corner already has a strut; it may have one"]);
        assert_eq!(page.message("notice").await, None);
        page.undo().await;
        page.undo().await;
        assert_eq!(document(&page).await, example());
        assert!(page.field_errors().await.is_empty());
        // A name that is taken is refused under the name; a good one goes through and back.
        let name = "[data-member=\"tie-rod\"] input.member-name";
        browser.type_into(name, "upper-arm").await;
        let errors = page.field_errors().await;
        assert!(errors.len() == 1 && errors[0].contains("upper-arm"), "{errors:?}");
        assert_eq!(document(&page).await, example());
        browser.type_into(name, &"long ".repeat(10)).await;
        let errors = page.field_errors().await;
        assert_eq!(errors, ["the name of “tie-rod” may have at most 48 characters; it has 49"]);
        browser.type_into(name, "steering link").await;
        assert!(page.field_errors().await.is_empty());
        assert_eq!(
            document(&page).await,
            front_changed(|corner| corner.links[2].id = "steering link".into())
        );
        page.undo().await;
        assert_eq!(document(&page).await, example());
    });
}

#[test]
fn inches_and_axes_are_a_choice_of_the_page_that_stays_and_leaves_the_setup_alone() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.write_as(Measure::InchFraction, Axes::Down).await;
        // 482 mm are 18.976 in: 18 62/64 is nearest.
        assert_eq!(page.field(HEIGHT).await, "\u{2212}18 31/32");
        assert_eq!(page.field("wheel.centre.y").await, "\u{2212}31 7/64");
        assert_eq!(page.field("wheel.centre.x").await, "0");
        let words = browser.text("[data-axes]").await;
        assert!(words.contains("z down from the ground") && words.contains("1/64"), "{words}");
        // Passing through changes nothing, though what is shown is rounded.
        browser.press(&format!("input[data-field=\"{HEIGHT}\"]"), "ArrowDown ArrowUp Tab").await;
        assert_eq!(document(&page).await, example());
        assert!(!page.can_undo().await);
        for (typed, z) in [("-19 1/4", 488.95), ("-18-7/8", 479.425), ("-481 mm", 481.0), ("-19.0", 482.6)] {
            page.type_into(HEIGHT, typed).await;
            page.shows(Shown::of(&front_changed(|c| c.arms[0].ball_joint[2] = z), Axle::Front)).await;
        }
        page.type_and_stay(HEIGHT, "-19 1/0").await;
        assert!(page.field_errors().await.join("").contains("is not a fraction of an inch"));
        page.type_into(HEIGHT, "-19").await;
        let changed = front_changed(|corner| corner.arms[0].ball_joint[2] = 482.6);
        assert_eq!(document(&page).await, changed);

        page.reload().await;
        page.tab("pivots").await;
        assert_eq!(page.field(HEIGHT).await, "\u{2212}19");
        page.write_as(Measure::InchDecimal, Axes::Up).await;
        assert_eq!(page.field("arms[0].front_pivot.y").await, "17.5591");
        page.write_as(Measure::Millimetre, Axes::Up).await;
        assert_eq!(page.field(HEIGHT).await, "482.6");
        // Inches and fractions are understood in millimetres too.
        page.type_into(HEIGHT, "19 1/4").await;
        assert_eq!(page.field(HEIGHT).await, "488.95");
        page.type_into(HEIGHT, "19in").await;
        assert_eq!(document(&page).await, changed);
    });
}

#[test]
fn a_block_pasted_into_a_cell_is_shown_first_and_applied_in_one_step() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        // One number is for the field itself.
        assert!(!page.paste_block(HEIGHT, "481,5").await);
        assert!(!page.dialog_is_open().await);

        assert!(page.paste_block(HEIGHT, "481,5\n191\n?\n183,25\n").await);
        assert!(page.dialog_is_open().await);
        assert!(page.line(1).await.contains("upper-arm, ball joint"), "{}", page.line(1).await);
        assert!(page.line(1).await.contains("482 → 481.5"), "{}", page.line(1).await);
        assert!(page.line(3).await.contains("not read: “?” is not a number"), "{}", page.line(3).await);
        assert!(browser.text("[data-said=left-out]").await.starts_with("1 line cannot be read"));
        // Until it is applied the setup is as it was, and Escape leaves it so.
        browser.press_here("Escape").await;
        browser.wait_until("!document.querySelector('dialog.paste[open]')").await;
        assert_eq!(document(&page).await, example());

        assert!(page.paste_block(HEIGHT, "481,5\n191\n?\n183,25\n").await);
        page.apply().await;
        let changed = front_changed(|corner| {
            corner.arms[0].ball_joint[2] = 481.5;
            corner.links[0].inboard[2] = 191.0;
            corner.links[1].inboard[2] = 183.25;
        });
        page.shows(Shown::of(&changed, Axle::Front)).await;
        assert!(page.notice().await.starts_with("3 pivots pasted"));
        assert_eq!(document(&page).await, changed);
        page.undo().await;
        assert_eq!(document(&page).await, example());
        assert!(!page.can_undo().await);
    });
}

#[test]
fn named_lines_with_decimal_commas_and_thousands_are_pasted_by_the_button() {
    browse(Look { width: 390, height: 844, dark: true }, async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.paste_pivots(
            "Punkt;x;y;z\nTIE ROD inboard;-117,5;408,1;229\nwheel centre;0;790,25;312\nsubframe;1;2;3",
        )
        .await;
        assert!(page.line(1).await.contains("heading"));
        assert!(page.line(2).await.contains("tie-rod, inboard"));
        assert!(page.line(4).await.contains("no point is called “subframe”"));
        assert!(browser.text("[data-said=unnamed]").await.starts_with("1 name"));
        assert!(browser.text("[data-said=manner]").await.contains("decimal comma"));
        assert!(!page.is_too_wide().await);
        page.apply().await;
        let changed = front_changed(|corner| {
            corner.links[2].inboard[0] = -117.5;
            corner.wheel.centre[1] = 790.25;
        });
        assert_eq!(document(&page).await, changed);
    });
}

/// A number in inches is shown rounded; Escape brings back the number, not what was shown of it.
#[test]
fn escape_brings_back_the_number_and_not_its_rounding() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.write_as(Measure::InchDecimal, Axes::Up).await;
        let caster = "document.querySelector('[data-headline=caster]').exact";
        let before = browser.eval(caster).await;
        page.type_and_stay(HEIGHT, "30").await;
        browser.wait_until(&format!("{caster} !== {before}")).await;
        browser.press_here("Escape").await;
        browser
            .wait_until("document.querySelector('[data-field=\"arms[0].ball_joint.z\"]').value !== '30'")
            .await;
        assert_eq!(document(&page).await, example());
    });
}

/// A measuring sheet as a workshop keeps it: a title, remarks, its own names, y counted to the right.
#[test]
fn a_workshop_s_own_sheet_is_pasted_with_two_answers() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.paste_pivots(
            "Left front, on the lift\nname\t\tx\ty\tz\tremarks\nUpper arm front\t\t111\t-447\t469\tplumb bob\n\
             Tie rod inner\t\t-117\t-409\t230\t\nWheel center\t\t0\t-791\t313\ttape",
        )
        .await;
        assert!(page.line(1).await.contains("heading") && page.line(2).await.contains("heading"));
        assert!(browser.text("[data-said=unnamed]").await.starts_with("2 names"));
        let guesses = browser.text("[data-said=guesses]").await;
        assert!(guesses.contains("“Upper arm front” is upper-arm, front pivot"), "{guesses}");
        browser.click("[data-do=guesses]").await;
        browser.wait_until("!document.querySelector('[data-said=unnamed]')").await;
        assert_eq!(browser.count("[data-said=guesses]").await, 0);
        assert!(browser.text("[data-said=side]").await.contains("other side"));
        browser.click("[data-do=turn]").await;
        browser
            .wait_until("document.querySelector('[data-said=side]').textContent.includes('other sign')")
            .await;
        page.apply().await;
        let changed = front_changed(|corner| {
            corner.arms[0].front_pivot = [111.0, 447.0, 469.0];
            corner.links[2].inboard = [-117.0, 409.0, 230.0];
            corner.wheel.centre = [0.0, 791.0, 313.0];
        });
        let said = page.notice().await;
        assert!(
            said.contains("3 pivots pasted") && said.contains("loaded radius 312.0 mm, camber −0.80°"),
            "{said}"
        );
        assert_eq!(document(&page).await, changed);
        // The next block is as it is written.
        page.paste_pivots("wheel centre\t0\t-790\t312\ntie-rod, outboard\t1\t-700\t226").await;
        assert!(browser.text("[data-said=side]").await.contains("Turn the sign"));
    });
}

/// A report with names of its own: each is told once what it means, and the next report knows.
#[test]
fn names_from_elsewhere_are_given_a_meaning() {
    browse(Look { width: 390, height: 844, dark: false }, async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.paste_pivots("P1,-117.5,408.1,229\nP2,0,790.25,312").await;
        assert!(page.line(1).await.contains("no point is called “P1”"));
        assert!(!page.can_apply().await);
        assert_eq!(browser.count("[data-said=left-out]").await, 0);
        let choice = |line: usize| format!("dialog.paste [data-line=\"{line}\"] [data-choice=meaning]");
        browser.choose(&choice(1), "links[2].inboard").await;
        browser.wait_until("!document.querySelector('[data-do=apply]').disabled").await;
        browser.wait_until("document.activeElement.dataset.choice === 'meaning'").await;
        browser.choose(&choice(2), "wheel.centre").await;
        browser.wait_until("!document.querySelector('[data-said=unnamed]')").await;
        // Two names of one point: the second can be given another meaning.
        browser.choose(&choice(2), "links[2].inboard").await;
        browser
            .wait_until("document.querySelector('[data-line=\"2\"]').innerText.includes('was given before')")
            .await;
        browser.choose(&choice(2), "wheel.centre").await;
        browser.wait_until("!document.querySelector('[data-said=left-out]')").await;
        assert!(!page.is_too_wide().await);
        page.apply().await;
        let changed = front_changed(|corner| {
            corner.links[2].inboard = [-117.5, 408.1, 229.0];
            corner.wheel.centre[1] = 790.25;
        });
        assert_eq!(document(&page).await, changed);
        page.paste_pivots("p1\t-118\t408\t229").await;
        assert!(page.can_apply().await);
        assert_eq!(browser.value(&choice(1)).await, "links[2].inboard");
        browser.choose(&choice(1), "").await;
        browser.wait_until("document.querySelector('[data-do=apply]').disabled").await;
        assert!(browser.console_errors().await.is_empty());
    });
}

#[test]
fn a_comma_that_can_mean_two_things_is_asked_about() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.paste_pivots("wheel centre\t1,234\t790\t312").await;
        browser.wait_until("document.querySelectorAll('[data-reading-way]').length === 2").await;
        assert!(!page.can_apply().await);
        assert!(
            browser.text(".question").await.contains("x 1234, y 790"),
            "{}",
            browser.text(".question").await
        );
        browser.click("[data-reading-way=\"1\"]").await;
        assert!(page.can_apply().await);
        assert!(page.line(1).await.contains("0 → 1.234"), "{}", page.line(1).await);
        // Another block is another question.
        page.put("wheel centre\t1,235\t790\t312").await;
        browser.wait_until("document.querySelector('[data-do=apply]').disabled").await;
        browser.click("[data-reading-way=\"1\"]").await;
        page.apply().await;
        assert_eq!(document(&page).await, front_changed(|corner| corner.wheel.centre[0] = 1.235));
    });
}

#[test]
fn nothing_readable_can_not_be_applied_and_the_heading_s_unit_is_compared() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.paste_pivots("<script>alert(1)</script>\n\u{0}\u{1}\t\t\n99999999\t1\t2").await;
        assert!(!page.can_apply().await);
        page.put(&"x".repeat(20_000)).await;
        assert!(!page.can_apply().await);
        page.put("name\tx [in]\ty [in]\tz [in]\nwheel centre\t1\t31\t12 1/4").await;
        assert!(browser.text("[data-said=headed]").await.contains("heading says inches"));
        browser.choose("dialog.paste [data-choice=measure]", Measure::InchDecimal.name()).await;
        browser.wait_until("!document.querySelector('[data-said=headed]')").await;
        page.apply().await;
        let changed = front_changed(|corner| corner.wheel.centre = [25.4, 787.4, 311.15]);
        assert_eq!(document(&page).await, changed);
    });
}

#[test]
fn what_is_copied_is_pasted_back_with_the_keyboard() {
    browse(Look::default(), async |browser| {
        // The clipboard that the page writes to, and no other.
        browser
            .run_before_pages(
                "if (navigator.clipboard) navigator.clipboard.writeText = text => { window.copied = text; return Promise.resolve(); }",
            )
            .await;
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        let corner = example().front.expect("a front corner");
        let targets = pasted::targets(&corner);
        for (measure, axes) in [(Measure::Millimetre, Axes::Up), (Measure::InchFraction, Axes::Down)] {
            page.write_as(measure, axes).await;
            browser.click("[data-do=copy-pivots]").await;
            browser.wait_until("document.querySelector('[data-said=copied]').textContent").await;
            let expected = pasted::written(&targets, Convention { measure, axes }, Side::Left);
            browser.wait_until("window.copied").await;
            assert_eq!(browser.eval("window.copied").await, Value::from(expected.clone()));
            browser.eval("(window.copied = null, 0)").await;
            // Moved away, the copy brings every point back.
            page.type_into("wheel.centre.x", "3").await;
            page.paste_pivots(&expected).await;
            page.apply().await;
            assert_eq!(document(&page).await, example());
        }
        assert!(browser.text("[data-said=copied]").await.contains("on the clipboard"));
    });
}

#[test]
fn a_right_corner_is_described_shown_edited_and_mirrored_again() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        assert_eq!(browser.count("[data-side]").await, 0);
        let choice = "#panel-pivots [data-choice=right]";
        browser.choose(choice, "separate").await;
        let describe = Edit::DescribeRight { axle: Axle::Front };
        let both = describe.apply(&example()).expect("a left corner");
        assert_eq!(document(&page).await, both);

        browser.click("[data-side=right]").await;
        assert!(browser.text("[data-said=mirrored]").await.contains("as in a mirror"));
        let named = "[...document.querySelectorAll('.folds .view-name')].map(e => e.textContent)";
        let views = browser.eval(named).await;
        assert_eq!(views, serde_json::json!(["Front view", "View from the right, mirrored", "Plan view"]));
        // The same corner in the mirror: the same readings, y on the right side.
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(page.field("arms[0].ball_joint.y").await, "\u{2212}722");
        assert!(browser.text("[data-axes]").await.contains("right wheel has y below zero"));
        page.type_into("arms[0].ball_joint.y", "-725.5").await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-1.5").await;
        page.tab("pivots").await;
        let shown = front_changed(|corner| {
            corner.arms[0].ball_joint[1] = 725.5;
            corner.wheel.camber = -1.5;
        });
        page.shows(Shown::of(&shown, Axle::Front)).await;
        let mut expected = both.clone();
        let right = expected.front_right.as_mut().expect("a right corner");
        right.arms[0].ball_joint[1] = -725.5;
        right.wheel.camber = -1.5;
        assert_eq!(document(&page).await, expected);
        // A wrong number is named by its cell and changes nothing.
        page.paste_into("arms[0].ball_joint.y", "-99999").await;
        let errors = page.field_errors().await;
        assert!(errors.len() == 1 && errors[0].contains("ball joint, y must lie between"), "{errors:?}");
        page.paste_into("arms[0].ball_joint.y", "-725.5").await;

        // The left corner is as it was, and a drag on the right one leaves it so.
        let before = page.point("arms[0].ball_joint").await;
        page.drag("front:arms[0].ball_joint", 10, 0).await;
        let after = page.point("arms[0].ball_joint").await;
        assert!(after[1] < before[1], "outboard is to the right in the view, more negative in the table");
        page.undo().await;
        browser.click("[data-side=left]").await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(page.field("arms[0].ball_joint.y").await, "722");

        // A block goes into the corner that is shown.
        browser.click("[data-side=right]").await;
        page.paste_pivots("wheel centre\t0\t-791\t312").await;
        page.apply().await;
        expected.front_right.as_mut().expect("a right corner").wheel.centre[1] = -791.0;
        assert_eq!(document(&page).await, expected);
        page.reload().await;
        assert_eq!(document(&page).await, expected);

        // Back to the mirror, and back from there.
        page.tab("pivots").await;
        browser.choose(choice, "mirror").await;
        assert_eq!(document(&page).await, example());
        assert_eq!(browser.count("[data-side]").await, 0);
        page.undo().await;
        assert_eq!(document(&page).await, expected);
        browser.click("[data-side=right]").await;
        browser.choose(choice, "mirror").await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(page.field("arms[0].ball_joint.y").await, "722");
        // The rear axle was never described apart.
        page.show_axle(Axle::Rear).await;
        assert_eq!(browser.count("[data-side]").await, 0);
        page.shows(Shown::of(&example(), Axle::Rear)).await;
    });
}

#[test]
fn where_the_rack_moves_is_given_beside_the_link_that_steers() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.type_into("rack_direction.z", "0.1").await;
        let mut leaning = front_changed(|corner| corner.rack_direction = Some([0.0, 1.0, 0.1]));
        page.shows(Shown::of(&leaning, Axle::Front)).await;
        page.type_into("rack", "20").await;
        page.shows(Shown::at(&leaning, Axle::Front, 0.0, 20.0)).await;
        page.type_into("rack", "0").await;
        // None at all is no direction.
        page.type_into("rack_direction.y", "0").await;
        page.type_into("rack_direction.z", "0").await;
        assert!(page.message("corner").await.is_some_and(|said| said.contains("direction")));
        // Straight across is what goes without saying.
        page.type_into("rack_direction.y", "1").await;
        leaning.front.as_mut().expect("a front").rack_direction = None;
        page.shows(Shown::of(&leaning, Axle::Front)).await;
        assert_eq!(document(&page).await, example());
        // By the axes of the table, and of the right corner as the car has it.
        page.write_as(Measure::Millimetre, Axes::Down).await;
        assert_eq!(page.field("rack_direction.y").await, "\u{2212}1");
        page.write_as(Measure::Millimetre, Axes::Up).await;
        browser.choose("#panel-pivots [data-choice=right]", "separate").await;
        browser.click("[data-side=right]").await;
        let both = document(&page).await;
        assert_eq!(page.field("rack_direction.y").await, "1");
        page.type_into("rack_direction.y", "2").await;
        page.type_into("rack_direction.y", "1").await;
        assert_eq!(document(&page).await, both, "straight across goes without saying");
        page.type_into("rack_direction.z", "0.1").await;
        let mut expected = both.clone();
        expected.front_right.as_mut().expect("a right corner").rack_direction = Some([0.0, 1.0, 0.1]);
        assert_eq!(document(&page).await, expected);
        page.show_axle(Axle::Rear).await;
        assert_eq!(browser.count("[data-field='rack_direction.x']").await, 0, "no link steers there");
    });
}
