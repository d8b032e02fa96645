//! A setup as a whole, in words: its title and how its corners are built.

use evaluate::ReadError;
use geometry_core::setup::{Axle, Corner, Document};

/// The title between quotation marks, or that there is none.
#[must_use]
pub fn title(document: &Document) -> String {
    match document.title.trim() {
        "" => "The setup without a title".into(),
        title => format!("“{title}”"),
    }
}

/// Why a file was not opened.
#[must_use]
pub fn not_opened(file: &str, error: &ReadError) -> String {
    match error {
        ReadError::Text { field, message } if field.is_empty() || field == "." => {
            format!("{file} was not opened: it is no setup as this page saves them ({message}).")
        }
        error => format!("{file} was not opened: {error}."),
    }
}

/// What holds the wheel of a corner: *strut, one wishbone and one link*.
#[must_use]
pub fn layout(corner: &Corner) -> String {
    let mut members = Vec::new();
    if corner.strut.is_some() {
        members.push("strut".to_owned());
    }
    if corner.hinge.is_some() {
        members.push("trailing arm on a hinge".to_owned());
    }
    let mut count = |number: usize, one: &str, more: &str| match number {
        0 => {}
        1 => members.push(format!("one {one}")),
        _ => members.push(format!("{} {more}", counted(number))),
    };
    count(corner.arms.len(), "wishbone", "wishbones");
    count(corner.links.len(), "link", "links");
    match members.split_last() {
        None => "no members yet".into(),
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}

fn counted(number: usize) -> String {
    const WORDS: [&str; 10] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    WORDS.get(number).map_or_else(|| number.to_string(), |word| (*word).to_owned())
}

/// The layouts of both axles: *front two wishbones and one link; rear five links*.
#[must_use]
pub fn layouts(document: &Document) -> String {
    let of = |axle: Axle| document.corner(axle).map(|corner| format!("{} {}", axle.name(), layout(corner)));
    let both: Vec<String> = [Axle::Front, Axle::Rear].into_iter().filter_map(of).collect();
    if both.is_empty() { "no corner described".into() } else { both.join("; ") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::presets::Preset;

    #[test]
    fn layouts_are_counted_in_words() {
        let said = |preset: Preset| layout(&preset.corner(Axle::Front, 2600.0));
        assert_eq!(said(Preset::TwoArms), "two wishbones and one link");
        assert_eq!(said(Preset::Strut), "strut, one wishbone and one link");
        assert_eq!(said(Preset::FiveLinks), "five links");
        assert_eq!(said(Preset::SemiTrailing), "trailing arm on a hinge");
    }

    #[test]
    fn a_setup_is_said_by_its_axles() {
        let mut document = geometry_core::setup::example();
        assert_eq!(
            layouts(&document),
            "front one wishbone and three links; rear one wishbone and three links"
        );
        document.front = None;
        document.title = "  ".into();
        assert!(layouts(&document).starts_with("rear "));
        assert_eq!(title(&document), "The setup without a title");
    }
}
