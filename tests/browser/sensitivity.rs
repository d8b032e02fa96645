//! What moves a reading most, and what a wanted change takes.

use cornerwise_tests::browser::{Browser, Look, browse};
use geometry_core::{
    readings::Quantity,
    sensitivity::{Kind, Parameter, Sensitivity},
    setup::{Axle, Coordinate, Document, Side, example},
    solve::State,
};
use serde_json::Value;
use web_app::{
    describe::sensitivity as words,
    presets::Preset,
    session::sensitivity::{Change, Inputs, TOLD, altered as made, answers, foretold},
};

use crate::{
    core::{Shown, front_changed},
    page::Page,
};

fn inputs(document: &Document, state: State) -> Inputs {
    let corner = document.front.clone().expect("a front corner");
    Inputs { corner, vehicle: document.vehicle.clone(), axle: Axle::Front, state }
}

fn found(inputs: &Inputs) -> Sensitivity {
    Sensitivity::of(&inputs.corner, Side::Left, &inputs.vehicle, inputs.axle, inputs.state).expect("in reach")
}

/// What the table has to show: parameters and derivatives, the largest effect first.
fn expected(inputs: &Inputs, quantity: Quantity, kind: Kind) -> Vec<(String, u64)> {
    let rows = found(inputs).table(quantity).rows.into_iter();
    let least = words::least_shown(quantity);
    rows.filter(|row| row.kind == kind && row.effect.is_some_and(|effect| effect.abs() >= least))
        .map(|row| (row.parameter.to_string(), row.derivative.expect("it has an effect").to_bits()))
        .collect()
}

/// Names and numbers of an attribute in the panel, in the order of the page.
async fn shown(browser: &Browser, attribute: &str) -> Vec<(String, u64)> {
    let all = format!(
        "[...document.querySelectorAll('#panel-matters [data-{attribute}]')].map(e => [e.dataset.{attribute}, e.dataset.value])"
    );
    let all = browser.eval(&all).await;
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let rows = all.as_array().into_iter().flatten();
    rows.map(|row| (text(&row[0]), text(&row[1]).parse().unwrap_or(f64::NAN).to_bits())).collect()
}

async fn shows(browser: &Browser, attribute: &str, expected: &[(String, u64)]) {
    for _ in 0..150 {
        if shown(browser, attribute).await == expected {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(20)).await;
    }
    assert_eq!(shown(browser, attribute).await, expected);
}

#[test]
fn the_table_is_the_cores_by_effect_for_both_questions() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let at_rest = inputs(&example(), State::DESIGN);
        assert!(shown(&browser, "derivative").await.is_empty(), "nothing is computed for a closed panel");
        page.tab("matters").await;
        shows(&browser, "derivative", &expected(&at_rest, Quantity::Camber, Kind::Adjusted)).await;
        assert!(browser.text("[data-said=matters]").await.contains("Camber is \u{2212}0.80°, top leans in."));
        browser.click("[data-kind=redrawn]").await;
        shows(&browser, "derivative", &expected(&at_rest, Quantity::Camber, Kind::Redrawn)).await;
        for quantity in [Quantity::Toe, Quantity::RollCentreHeight, Quantity::AntiBrakingFriction] {
            browser.choose("[data-choice=\"matters.quantity\"]", quantity.name()).await;
            shows(&browser, "derivative", &expected(&at_rest, quantity, Kind::Redrawn)).await;
        }
        // The longest bar is the first row's.
        let widths = browser
            .eval("[...document.querySelectorAll('.effect > span')].map(e => parseFloat(e.style.width))")
            .await;
        let widths: Vec<f64> = widths.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
        assert!(widths[0] == 100.0 && widths.is_sorted_by(|a, b| a >= b), "{widths:?}");
        // All rows are a touch away.
        let visible =
            "[...document.querySelectorAll('[data-derivative]')].filter(e => e.offsetParent).length";
        assert_eq!(browser.eval(visible).await, Value::from(10));
        browser.click("[data-do=all-effects]").await;
        let all = expected(&at_rest, Quantity::AntiBrakingFriction, Kind::Redrawn).len();
        assert_eq!(browser.eval(visible).await, Value::from(all));
        assert!(!page.can_undo().await);
    });
}

#[test]
fn a_row_selects_its_point_and_the_table_follows_at_rest() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("matters").await;
        browser.click("[data-parameter=\"length of links[2]\"]").await;
        let selected = browser.attribute("circle.handle.selected", "data-handle").await;
        assert!(selected.is_some_and(|handle| handle.ends_with("links[2].outboard")));
        assert!(browser.count(".projection").await > 0, "its lines are drawn through all views");

        page.type_into("travel", "30").await;
        let state = State { travel: 30.0, rack: 0.0 };
        let bumped = inputs(&example(), state);
        shows(&browser, "derivative", &expected(&bumped, Quantity::Camber, Kind::Adjusted)).await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "490").await;
        page.tab("matters").await;
        let moved = inputs(&front_changed(|corner| corner.arms[0].ball_joint[2] = 490.0), state);
        shows(&browser, "derivative", &expected(&moved, Quantity::Camber, Kind::Adjusted)).await;
        browser.wait_until("document.querySelector('.matters').getAttribute('aria-busy') === 'false'").await;
    });
}

#[test]
fn a_wanted_change_is_answered_by_slope_and_solved_again() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("matters").await;
        let at_rest = inputs(&example(), State::DESIGN);
        let sensitivity = found(&at_rest);
        for (quantity, typed, wanted) in [
            (Quantity::Camber, "+0,25", 0.25),
            (Quantity::Toe, "\u{2212}0.1", -0.1),
            (Quantity::ScrubRadius, "5", 5.0),
        ] {
            browser.choose("[data-choice=\"matters.quantity\"]", quantity.name()).await;
            page.paste_into("matters.wanted", typed).await;
            let answers = answers(&at_rest, &sensitivity, quantity, wanted).expect("it exists");
            let amounts: Vec<(String, u64)> = answers
                .list
                .iter()
                .map(|answer| (answer.parameter.to_string(), answer.amount.to_bits()))
                .collect();
            assert!(amounts.len() > 3, "{quantity:?}");
            shows(&browser, "answer", &amounts).await;
            let first = &answers.list[0];
            let told = browser.text(&format!("[data-solved=\"{}\"]", first.parameter)).await;
            let solved = words::change(quantity, first.solved.expect("it closes"));
            let told = told.replace('\u{a0}', " ");
            assert!(told.contains(&format!("solved again {solved}").replace('\u{a0}', " ")), "{told}");
            if quantity == Quantity::Camber {
                assert!(told.contains("toe "), "{told}");
            }
        }
        // Wrong texts stay, with the answers of what was right before.
        let before = shown(&browser, "answer").await;
        for (typed, sentence) in
            [("a bit", "“a bit” is not a number"), ("999", "Wanted change must lie between")]
        {
            page.paste_into("matters.wanted", typed).await;
            let errors = page.field_errors().await;
            assert!(errors.len() == 1 && errors[0].contains(sentence), "{errors:?}");
            assert_eq!(page.field("matters.wanted").await, typed);
            assert_eq!(shown(&browser, "answer").await, before);
        }
        page.paste_into("matters.wanted", "0").await;
        assert!(browser.text("#panel-matters").await.contains("Give a change other than zero."));
        browser.choose("[data-choice=\"matters.quantity\"]", "anti.braking_friction").await;
        assert!(browser.text("#panel-matters").await.contains("answered for angles and lengths"));
        assert!(!page.can_undo().await);
    });
}

#[test]
fn every_reading_of_every_layout_has_its_table_or_its_reason() {
    browse(Look { width: 390, height: 844, dark: true }, async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("matters").await;
        for layout in [Preset::FiveLinks, Preset::Strut, Preset::SemiTrailing] {
            page.choose_layout(layout.name()).await;
            for quantity in Quantity::ALL {
                browser.choose("[data-choice=\"matters.quantity\"]", quantity.name()).await;
                assert!(!browser.text("[data-said=matters]").await.is_empty(), "{quantity:?}");
            }
            assert!(!page.is_too_wide().await, "{}", layout.name());
        }
        let text = browser.text("#panel-matters").await;
        assert!(!text.contains("NaN") && text.contains("maker’s data"), "{text}");
        // A corner that cannot be read says so.
        page.tab("pivots").await;
        page.add_link().await;
        page.tab("matters").await;
        assert!(browser.text("#panel-matters").await.contains("No linkage to read"));
    });
}

#[test]
fn an_adjustment_is_made_in_one_step_and_every_number_follows() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("matters").await;
        let inputs = inputs(&example(), State::DESIGN);
        let wanted = Parameter::ArmPivots { arm: 0, axis: Coordinate::Y };
        browser
            .wait_until(&format!(
                "document.querySelector('[data-choice=\"matters.altered\"] [value=\"{wanted}\"]')"
            ))
            .await;
        let disabled = "document.querySelector('[data-do=alter]').disabled";
        assert_eq!(browser.eval(disabled).await, Value::Bool(true), "nothing is chosen yet");
        browser.choose("[data-choice=\"matters.altered\"]", &wanted.to_string()).await;
        for (wrong, sentence) in [("three", "“three” is not a number"), ("1e9", "By must lie between")] {
            page.type_into("matters.amount", wrong).await;
            let errors = page.field_errors().await;
            assert!(errors.len() == 1 && errors[0].contains(sentence), "{wrong}: {errors:?}");
        }
        page.type_into("matters.amount", "3").await;
        // Before it is done, it is told what it would do.
        let foretold = foretold(&inputs, wanted, 3.0).expect("it closes");
        assert!(foretold.len() >= TOLD.len());
        for Change { quantity, by, .. } in &foretold {
            let number = format!(
                "(document.querySelector('[data-foretold=\"{}\"]') || {{dataset: {{}}}}).dataset.value",
                quantity.name()
            );
            browser.wait_until(&format!("Math.abs({number} - {by:e}) < 1e-9")).await;
        }
        page.shows(Shown::of(&example(), Axle::Front)).await;
        browser.click("[data-do=alter]").await;
        let shimmed = made(&inputs.corner, wanted, 3.0).expect("it closes");
        assert!((shimmed.wheel.camber - inputs.corner.wheel.camber).abs() > 0.3, "a shim is seen");
        let altered = Document { front: Some(shimmed), ..example() };
        page.shows(Shown::of(&altered, Axle::Front)).await;
        // What was foretold has come; how far contact and hub have moved counts anew from the altered corner.
        let readings = page.readings().await;
        for Change { quantity, after, .. } in foretold {
            if !matches!(quantity, Quantity::HalfTrackChange | Quantity::WheelbaseChange) {
                let number = readings[quantity.name()].expect("it exists");
                assert!((number - after).abs() < 1e-9, "{quantity:?}: {number} is not {after}");
            }
        }
        let said = page.notice().await;
        assert!(
            said.replace('\u{a0}', " ").contains("3.00 mm outboard") && said.contains("camber −0.80° → "),
            "{said}"
        );
        // No field shows digits that nobody sets.
        page.tab("pivots").await;
        let texts = "[...document.querySelectorAll('#panel-pivots input.number')].map(e => e.value.length)";
        let longest = browser.eval(&format!("Math.max(...{texts})")).await;
        assert!(longest.as_u64().is_some_and(|longest| longest <= 9), "{longest}");
        page.tab("matters").await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        // What was said is so no more.
        browser.wait_until("!document.querySelector('[data-message=notice]')").await;
        page.redo().await;
        page.shows(Shown::of(&altered, Axle::Front)).await;
        // What no longer closes is refused, and all stays.
        let corner = altered.front.as_ref().expect("a front corner");
        let all = Parameter::all(corner).into_iter().filter(|one| one.kind() == Kind::Adjusted);
        let open = all
            .flat_map(|one| [(one, 200.0), (one, -200.0)])
            .find(|(one, by)| one.apply(corner, Side::Left, *by).is_err());
        let (open, by) = open.expect("one is too far");
        browser.choose("[data-choice=\"matters.altered\"]", &open.to_string()).await;
        page.type_into("matters.amount", &by.to_string()).await;
        browser.click("[data-do=alter]").await;
        let said = page.notice().await;
        assert!(said.contains("not altered"), "{said}");
        page.shows(Shown::of(&altered, Axle::Front)).await;
        page.type_into("matters.amount", "0").await;
        browser.click("[data-do=alter]").await;
        browser
            .wait_until(
                "document.querySelector('[data-message=notice]').textContent.includes('nothing is altered')",
            )
            .await;
        // A row of the table chooses as well, and the list says so; another axle's members are others.
        let row = Parameter::ArmReach { arm: 0 }.to_string();
        browser.click(&format!("[data-parameter=\"{row}\"]")).await;
        let listed = "document.querySelector('[data-choice=\"matters.altered\"]').value";
        browser.wait_until(&format!("{listed} === '{row}'")).await;
        browser.click("[data-kind=redrawn]").await;
        let number = format!("[data-parameter=\"{}\"]", Parameter::Camber);
        browser.wait_until(&format!("document.querySelector('{number}')")).await;
        browser.click(&number).await;
        browser.click("[data-kind=adjusted]").await;
        assert_eq!(browser.eval(listed).await, Value::String(row), "a number is no adjustment");
        page.show_axle(Axle::Rear).await;
        browser.wait_until(&format!("{disabled} && {listed} === ''")).await;
    });
}

#[test]
fn what_brings_a_wanted_change_can_be_done() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("matters").await;
        let inputs = inputs(&example(), State::DESIGN);
        let answers = answers(&inputs, &found(&inputs), Quantity::Camber, 0.25).expect("camber exists");
        let answer = answers.list.first().expect("something does it");
        let button = format!("[data-alter=\"{}\"]", answer.parameter);
        browser.wait_until(&format!("document.querySelector('{button}')")).await;
        browser.click(&button).await;
        let shimmed = made(&inputs.corner, answer.parameter, answer.amount).expect("it closes");
        page.shows(Shown::of(&Document { front: Some(shimmed), ..example() }, Axle::Front)).await;
    });
}

#[test]
fn arrow_keys_go_from_tab_to_tab() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let open =
            "document.querySelector('[role=tab][aria-selected=true]').id + ' ' + document.activeElement.id";
        for (key, tab) in [
            ("ArrowRight", "pivots"),
            ("End", "matters"),
            ("ArrowRight", "readings"),
            ("ArrowLeft", "matters"),
            ("Home", "readings"),
        ] {
            let here = browser.eval("document.querySelector('[role=tab][aria-selected=true]').id").await;
            browser.press(&format!("#{}", here.as_str().unwrap_or_default()), key).await;
            browser.wait_until(&format!("({open}) === 'tab-{tab} tab-{tab}'")).await;
        }
        let stops = browser.eval("document.querySelectorAll('[role=tab][tabindex=\"0\"]').length").await;
        assert_eq!(stops, 1);
        page.tab("pivots").await;
    });
}

/// What cannot be done is refused with the member's name.
#[test]
fn an_adjustment_that_goes_too_far_is_refused_by_name() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("matters").await;
        let all = "document.querySelector('#panel-matters').textContent";
        let far = Parameter::ArmPivots { arm: 0, axis: Coordinate::Y };
        browser
            .wait_until(&format!(
                "document.querySelector('[data-choice=\"matters.altered\"] [value=\"{far}\"]')"
            ))
            .await;
        browser.choose("[data-choice=\"matters.altered\"]", &far.to_string()).await;
        page.type_into("matters.amount", "200").await;
        browser
            .wait_until(&format!("{all}.includes('Upper-arm, shim under both pivots: changed so far')"))
            .await;
        assert!(browser.eval(&format!("{all}.includes('arms[')")).await == false);
    });
}
