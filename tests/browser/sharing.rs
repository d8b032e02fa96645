//! Setups as links.

use cornerwise_tests::browser::{Look, browse};
use data_encoding::BASE64URL_NOPAD;
use geometry_core::setup::{Axle, Document, example};
use web_app::sharing::{PREFIX, decode, encode};

use crate::core::{Shown, front_changed};
use crate::page::Page;

const TITLE: &str = "Läuferstein, Mischreifen";

/// What is shared in these tests.
fn shared() -> Document {
    let mut document = front_changed(|corner| corner.arms[0].ball_joint[2] = 481.5);
    document.title = TITLE.into();
    document
}

/// CRC-32 as ISO/IEC/IEEE 8802-3 has it.
fn crc32(bytes: &[u8]) -> u32 {
    let bit = |sum: u32| if sum & 1 == 1 { (sum >> 1) ^ 0xEDB8_8320 } else { sum >> 1 };
    !bytes.iter().fold(u32::MAX, |sum, byte| (0..8).fold(sum ^ u32::from(*byte), |sum, _| bit(sum)))
}

/// A whole link of a version that does not exist yet.
fn newer_link() -> String {
    let link = encode(&shared());
    let mut bytes = BASE64URL_NOPAD.decode(&link.as_bytes()[PREFIX.len()..]).expect("base64url");
    bytes.truncate(bytes.len() - 4);
    bytes[0] += 1;
    bytes.extend(crc32(&bytes).to_le_bytes());
    format!("{PREFIX}{}", BASE64URL_NOPAD.encode(&bytes))
}

#[test]
fn a_link_carries_the_setup_to_another_browser() {
    let mut link = String::new();
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "481,5").await;
        page.type_into("title", TITLE).await;
        link = page.link().await;
        assert!(page.notice().await.contains("link"));
    });
    assert_eq!(decode(&link), Ok(shared()));
    browse(Look::default(), async |browser| {
        let page = Page::open_link(browser.clone(), &link).await;
        assert_eq!(page.field("title").await, TITLE);
        assert!(page.point("arms[0].ball_joint").await[2] == 481.5, "the table is open, as it was");
        page.tab("readings").await;
        page.shows(Shown::of(&shared(), Axle::Front)).await;
        page.show_axle(Axle::Rear).await;
        page.shows(Shown::of(&shared(), Axle::Rear)).await;
        assert_eq!(page.message("notice").await, None);
        // The address is bare again, so that a reload brings the work and not the link.
        assert_eq!(browser.eval("location.hash").await, "");
        page.show_axle(Axle::Front).await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "480").await;
        page.reload().await;
        page.shows(Shown::of(&front_changed(|corner| corner.arms[0].ball_joint[2] = 480.0), Axle::Front))
            .await;
    });
}

/// Whoever opens a link sees what its sender looked at.
#[test]
fn a_link_brings_along_what_is_looked_at() {
    let mut link = String::new();
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.show_axle(Axle::Rear).await;
        page.type_into("travel", "-20.5").await;
        page.type_into("roll", "1.5").await;
        page.tab("both").await;
        browser.click("[data-lean=roll-centre]").await;
        page.show("both").await;
        page.show("traces").await;
        page.choose_tile("roll_centre_height").await;
        browser.choose("[data-do=curves-against]", "roll").await;
        page.tab("whole-car").await;
        link = page.link().await;
    });
    assert_eq!(decode(&link), Ok(example()));
    let (_, look) = link.split_once('&').expect("what is looked at");
    assert_eq!(
        look,
        "axle=rear&travel=-20.5&roll=1.5&lean=roll-centre&reading=roll_centre_height&show=both+paths&panel=whole-car\
         &curves=roll+one+camber+toe+roll_centre_height+spring_motion_ratio&end"
    );
    browse(Look::default(), async |browser| {
        let page = Page::open_link(browser.clone(), &link).await;
        let pressed =
            async |css: &str| browser.attribute(css, "aria-pressed").await.as_deref() == Some("true");
        browser.wait_until("document.querySelector('[data-axle=rear]').ariaPressed === 'true'").await;
        assert_eq!(page.field("travel").await.replace('\u{2212}', "-"), "-20.5");
        assert_eq!(page.field("roll").await, "1.5");
        assert!(pressed("[data-show=both]").await && pressed("[data-show=traces]").await);
        assert!(!pressed("[data-show=ghosts]").await && !pressed("[data-show=axles]").await);
        assert!(pressed("[data-tile=roll_centre_height]").await);
        assert_eq!(browser.attribute("#tab-whole-car", "aria-selected").await.as_deref(), Some("true"));
        assert_eq!(browser.value("[data-do=curves-against]").await, "roll");
        page.tab("both").await;
        assert_eq!(browser.eval("document.querySelector('[data-lean=roll-centre]').checked").await, true);
        assert_eq!(page.message("notice").await, None);
        // What it asks for in vain is said; the setup opens all the same.
        let page =
            Page::open_link(browser.clone(), &format!("{}&travel=9999&rack=4&end", encode(&shared()))).await;
        assert!(page.notice().await.contains("travel=9999"));
        page.shows(Shown::at(&shared(), Axle::Front, 0.0, 4.0)).await;
        let page = Page::open_link(
            browser.clone(),
            &format!("{}&travel=9999&axle=rear&rack=4&end", encode(&shared())),
        )
        .await;
        assert!(page.notice().await.contains("travel=9999"), "said also where it asks for another axle");
        browser.wait_until("document.querySelector('[data-axle=rear]').ariaPressed === 'true'").await;
        page.show_axle(Axle::Front).await;
        // A link over the open page moves it too; one that asks for nothing leaves all as it stands.
        browser
            .eval(&format!(
                "location.hash = '{}&travel=12&panel=forces&load=cornering+0.9&end'",
                encode(&example())
            ))
            .await;
        page.shows(Shown::at(&example(), Axle::Front, 12.0, 0.0)).await;
        browser.wait_until("document.querySelector('[data-said=load]')?.textContent.includes('0.90')").await;
        browser.eval(&format!("location.hash = '{}'", encode(&shared()))).await;
        page.shows(Shown::at(&shared(), Axle::Front, 12.0, 0.0)).await;
        assert!(browser.console_errors().await.is_empty());
    });
}

/// The reference comes along, and what is asked of car, loads and measuring.
#[test]
fn a_link_brings_along_the_reference_and_what_is_asked() {
    let mut link = String::new();
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.click("[data-menu=reference]").await;
        browser.click("[data-do=keep-reference]").await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "490").await;
        page.tab("readings").await;
        browser.click("[data-do=trust]").await;
        page.type_into("trust.length", "1.5").await;
        browser.click("[data-beside=apart]").await;
        page.tab("whole-car").await;
        page.type_into("asked.lateral", "-0.8").await;
        page.type_into("asked.regeneration", "0.25").await;
        page.tab("forces").await;
        browser.choose("[data-choice=\"load.case\"]", "free").await;
        page.type_into("load.free[0].z", "2500").await;
        browser.choose("[data-choice=\"load.free[0].axes\"]", "wheel").await;
        browser.eval("(document.querySelector('details.others').open = true, 0)").await;
        page.type_into("load.damper", "-120").await;
        link = page.link().await;
        assert!(page.notice().await.contains("the whole setup and its reference"));
    });
    let (_, look) = link.split_once('&').expect("what is looked at");
    let (before, after) = look.split_once("&beside=").expect("the reference");
    assert!(
        before.ends_with("&load=free&own=0+0+2500+contact+wheel+knuckle&given=-120+0+0&asked=-0.8+1+0.25&trust=1.5+0.1+20+2"),
        "{before}"
    );
    assert!(after.ends_with("&together=apart&end"), "{after}");
    browse(Look::default(), async |browser| {
        let page = Page::open_link(browser.clone(), &link).await;
        browser.wait_until("document.querySelector('[data-reference]')").await;
        let reference = page.kept("cornerwise.reference").await.expect("it is kept");
        assert_eq!(web_app::sharing::from_json(&reference).expect("a setup"), example());
        assert_eq!(page.field("load.free[0].z").await, "2500");
        assert_eq!(browser.value("[data-choice=\"load.free[0].axes\"]").await, "wheel");
        assert_eq!(page.field("load.damper").await.replace('\u{2212}', "-"), "-120");
        page.tab("whole-car").await;
        assert_eq!(page.field("asked.lateral").await.replace('\u{2212}', "-"), "-0.8");
        assert_eq!(page.field("asked.regeneration").await, "0.25");
        page.tab("readings").await;
        page.shows(Shown::of(&front_changed(|corner| corner.arms[0].ball_joint[2] = 490.0), Axle::Front))
            .await;
        assert_eq!(page.field("trust.length").await, "1.5");
        browser.wait_until("document.querySelector('[data-beside=apart]').checked").await;
        browser.wait_until("document.querySelector('[data-trust-difference=caster]')").await;
        // How well the reader's own car was measured is the reader's; it comes back with the page.
        page.reload().await;
        browser.wait_until("document.querySelector('[data-reference]')").await;
        assert_eq!(browser.count("[data-trust]").await, 0);
        // A reference that was cut is said; the setup opens all the same.
        let cut = format!("{}&beside=AAAA&rack=4&end", encode(&shared()));
        let page = Page::open_link(browser.clone(), &cut).await;
        assert!(page.notice().await.contains("beside=AAAA"));
        page.shows(Shown::at(&shared(), Axle::Front, 0.0, 4.0)).await;
        assert!(browser.console_errors().await.is_empty());
    });
}

/// A link's curves are shown and not kept: the reader's own come back with the page.
#[test]
fn a_link_does_not_take_the_reader_s_own_curves_away() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.eval("(localStorage.setItem('cornerwise.curves', 'rack one toe caster'), 0)").await;
        page.reload().await;
        browser.wait_until("document.querySelector('[data-do=curves-against]').value === 'rack'").await;
        let usual = "camber+toe+roll_centre_height+spring_motion_ratio";
        let link = format!("{}&axle=rear&curves=travel+one+{usual}&end", encode(&shared()));
        browser.eval(&format!("location.hash = '{link}'")).await;
        browser.wait_until("document.querySelector('[data-do=curves-against]').value === 'travel'").await;
        assert_eq!(browser.count("[data-curve]").await, 4);
        assert!(page.notice().await.contains("is under Recent"), "still said after the other axle is shown");
        assert_eq!(page.kept("cornerwise.curves").await.as_deref(), Some("rack one toe caster"));
        page.reload().await;
        browser.wait_until("document.querySelector('[data-do=curves-against]').value === 'rack'").await;
        assert_eq!(browser.count("[data-curve]").await, 2);
    });
}

#[test]
fn a_link_that_is_cut_altered_or_newer_leaves_the_last_setup_in_place() {
    let link = encode(&shared());
    let middle = link.len() / 2;
    let other = if link.as_bytes()[middle] == b'A' { "B" } else { "A" };
    let cut = &link[..link.len() - 7];
    let altered = format!("{}{other}{}", &link[..middle], &link[middle + 1..]);
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-2.25").await;
        let mine = front_changed(|corner| corner.wheel.camber = -2.25);
        page.shows(Shown::of(&mine, Axle::Front)).await;
        for (bad, sentence) in [
            (cut, "cut or altered"),
            (&altered, "cut or altered"),
            (&newer_link(), "newer"),
            (PREFIX, "cut or altered"),
            ("#somewhere", "not a link to a Cornerwise setup"),
        ] {
            let page = Page::open_link(browser.clone(), bad).await;
            let notice = page.notice().await;
            assert!(notice.contains(sentence), "{bad}: {notice}");
            page.shows(Shown::of(&mine, Axle::Front)).await;
            // Nothing is lost later either.
            let page = Page::open(browser.clone()).await;
            page.shows(Shown::of(&mine, Axle::Front)).await;
        }
    });
}

#[test]
fn a_link_pasted_over_the_open_page_can_be_taken_back() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.eval(&format!("location.hash = '{}'", encode(&shared()))).await;
        page.shows(Shown::of(&shared(), Axle::Front)).await;
        assert_eq!(page.field("title").await, TITLE);
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        browser.eval("location.hash = 's=AAAA'").await;
        assert!(page.notice().await.contains("cut or altered"));
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

/// Of a page that is a file the link tells nobody where that lies, and is pasted onto the page.
#[test]
fn a_link_of_a_file_is_pasted_onto_the_page() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let link = page.link().await;
        assert!(link.starts_with("cornerwise.html#s="), "{link}");
        assert!(page.notice().await.contains("pastes the link"));
        let shared_link = format!("cornerwise.html{}", encode(&shared()));
        // In a field it is that field's.
        page.paste_onto("[data-field=travel]", &shared_link).await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        for onto in ["body", "input[type=range]"] {
            page.paste_onto(onto, &shared_link).await;
            page.shows(Shown::of(&shared(), Axle::Front)).await;
            assert_eq!(page.field("title").await, TITLE);
            page.undo().await;
            page.shows(Shown::of(&example(), Axle::Front)).await;
        }
        page.redo().await;
        page.paste_onto("body", &shared_link[..shared_link.len() - 7]).await;
        assert!(page.notice().await.contains("cut or altered"));
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

/// On a phone nothing is pasted onto a page: the menu of setups has a field for a link.
#[test]
fn a_link_is_opened_from_the_menu_as_well() {
    browse(Look { width: 390, height: 844, ..Look::default() }, async |browser| {
        let page = Page::open(browser.clone()).await;
        page.type_into("title", "Before").await;
        browser.click("[data-menu=recent]").await;
        page.paste_into("setup-link", "hello").await;
        let error = browser.text(".menu-panel .field-error").await;
        assert!(error.contains("not a link to a Cornerwise setup"), "{error}");
        assert_eq!(page.field("setup-link").await, "hello", "what was pasted stays");
        assert_eq!(page.field("title").await, "Before");
        page.paste_into("setup-link", &(encode(&shared()) + "&travel=-20")).await;
        browser.wait_until("document.querySelector('[data-menu=recent]').ariaExpanded === 'false'").await;
        assert_eq!(page.field("title").await, TITLE);
        page.shows(Shown::at(&shared(), Axle::Front, -20.0, 0.0)).await;
        // What was open before is not lost.
        browser.click("[data-menu=recent]").await;
        assert!(browser.text("[data-recent] .name").await.contains("Before"));
    });
}
