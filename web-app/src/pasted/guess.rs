//! Which point a name from elsewhere probably means: by the words that workshops use for the same thing. A guess is
//! offered and never made.

use super::Target;
use crate::edit::PointPath;

/// Words that mean one thing, each under the word that stands for them here; the trade's, from memory.
const WORDS: [(&str, &[&str]); 14] = [
    ("upper", &["upper", "up", "uca", "ubj", "uwb"]),
    ("lower", &["lower", "low", "lca", "lbj", "lwb"]),
    ("arm", &["arm", "wishbone", "uca", "lca", "uwb", "lwb", "ubj", "lbj"]),
    ("ball", &["ball", "balljoint", "bj", "ubj", "lbj"]),
    ("front", &["front", "forward", "fwd", "fore", "fr"]),
    ("rear", &["rear", "rearward", "aft", "back", "rr"]),
    ("inner", &["inner", "inboard", "inside", "in", "chassis", "body"]),
    ("outer", &["outer", "outboard", "outside", "out", "upright", "knuckle"]),
    ("tie", &["tie", "tierod", "track", "trackrod", "steering"]),
    ("toe", &["toe", "toelink"]),
    ("strut", &["strut"]),
    ("spring", &["spring", "coil"]),
    ("damper", &["damper", "shock", "absorber"]),
    ("wheel", &["wheel", "hub"]),
];

/// Of these words, those that tell where something is and nothing of what it is.
const PLACES: [&str; 6] = ["upper", "lower", "front", "rear", "inner", "outer"];

/// Words that tell no point from another.
const IDLE: [&str; 15] = [
    "pivot", "point", "pickup", "joint", "mount", "control", "rod", "link", "end", "a", "of", "the", "to",
    "at", "position",
];

/// The targets that names probably mean, one for each name; none where none is likely, where two are as likely, or
/// where another name means it more.
#[must_use]
pub(super) fn guesses(names: &[&str], targets: &[Target]) -> Vec<Option<usize>> {
    let of_targets: Vec<Vec<String>> = targets.iter().map(of_target).collect();
    let likely = |name: &&str| {
        let words = words(name);
        let mut best: Option<(i32, usize)> = None;
        let mut twice = false;
        for (number, target) in of_targets.iter().enumerate() {
            let score = score(&words, target);
            let least = best.map_or(0, |(best, _)| best);
            twice = (twice && score <= least) || (score == least && best.is_some());
            if score > least {
                best = Some((score, number));
            }
        }
        best.filter(|_| !twice)
    };
    let likely: Vec<Option<(i32, usize)>> = names.iter().map(likely).collect();
    let is_best = |(score, number): &(i32, usize)| {
        let others = likely.iter().flatten().filter(|(_, other)| other == number);
        others.filter(|(other, _)| other >= score).count() == 1
    };
    likely.iter().map(|one| one.filter(is_best).map(|(_, number)| number)).collect()
}

/// More is likelier; zero where fewer than two words are shared, but for a name of one word that tells what it is.
fn score(name: &[String], target: &[String]) -> i32 {
    let shared = name.iter().filter(|word| target.contains(word)).count();
    let telling = shared == 1 && matches!(name, [word] if !PLACES.contains(&word.as_str()));
    let [shared, name, target] =
        [shared, name.len(), target.len()].map(|count| i32::try_from(count).unwrap_or(i32::MAX));
    if shared < 2 && !telling { 0 } else { (4 * shared - name - target).max(i32::from(telling)) }
}

/// A name's words in the words of this place.
fn words(name: &str) -> Vec<String> {
    let lower = name.to_lowercase().replace("center", "centre");
    let mut found: Vec<String> = Vec::new();
    for word in lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()) {
        let meanings: Vec<&str> =
            WORDS.iter().filter(|(_, all)| all.contains(&word)).map(|(meaning, _)| *meaning).collect();
        let all = if meanings.is_empty() { vec![word] } else { meanings };
        for word in all.into_iter().filter(|word| !IDLE.contains(word)) {
            if !found.iter().any(|other| other == word) {
                found.push(word.into());
            }
        }
    }
    found
}

/// The words of a point: its member's, and those that workshops call its end by.
fn of_target(target: &Target) -> Vec<String> {
    let ends: &[&str] = match target.path {
        PointPath::SpringBody | PointPath::DamperBody => &["upper", "top"],
        PointPath::SpringCarried | PointPath::DamperCarried => &["lower", "bottom"],
        _ => &[],
    };
    // What stands before the comma is the member's name; the spring's own words come with its point.
    let text = match target.path {
        PointPath::SpringBody | PointPath::SpringCarried => "spring",
        PointPath::DamperBody | PointPath::DamperCarried => "damper",
        _ => &target.name,
    };
    let mut all = words(text);
    all.extend(ends.iter().map(ToString::to_string));
    all
}

#[cfg(test)]
mod tests {
    use geometry_core::setup::{Axle, Corner};

    use super::*;
    use crate::{pasted::targets, presets::Preset};

    /// What names are taken to mean in a corner.
    fn meant(corner: &Corner, names: &[&str]) -> Vec<Option<String>> {
        let targets = targets(corner);
        guesses(names, &targets)
            .into_iter()
            .map(|number| number.map(|number| targets[number].name.clone()))
            .collect()
    }

    #[test]
    fn a_workshop_s_words_lead_to_their_points() {
        let corner = Preset::TwoArms.corner(Axle::Front, 2640.0);
        for (name, point) in [
            ("UPPER ARM FRONT", "upper-arm, front pivot"),
            ("UCA rear", "upper-arm, rear pivot"),
            ("Upper ball joint", "upper-arm, ball joint"),
            ("LBJ", "lower-arm, ball joint"),
            ("Lower wishbone, front pickup", "lower-arm, front pivot"),
            ("lower wishbone aft", "lower-arm, rear pivot"),
            ("Tie rod inner", "tie-rod, inboard"),
            ("track rod outer", "tie-rod, outboard"),
            ("Spring top", "spring, body end"),
            ("shock lower", "damper, moving end"),
            ("Wheel center", "wheel centre"),
        ] {
            assert_eq!(meant(&corner, &[name]), [Some(point.to_owned())], "{name}");
        }
    }

    #[test]
    fn one_word_is_enough_where_it_tells_what_a_point_is_and_there_is_one() {
        let corner = Preset::Strut.corner(Axle::Front, 2640.0);
        for (name, point) in [("ball joint", "lower-arm, ball joint"), ("hub", "wheel centre")] {
            assert_eq!(meant(&corner, &[name]), [Some(point.to_owned())], "{name}");
        }
        assert_eq!(meant(&corner, &["front"]), [None], "where it is and not what");
        let corner = Preset::FiveLinks.corner(Axle::Rear, 2640.0);
        assert_eq!(meant(&corner, &["toe link in"]), [Some("toe-link, inboard".to_owned())]);
    }

    #[test]
    fn what_may_mean_two_points_or_none_is_not_guessed() {
        let corner = Preset::TwoArms.corner(Axle::Front, 2640.0);
        for name in ["", "P7", "front", "ball joint", "arm front", "anti-roll bar bush", "upper arm"] {
            assert_eq!(meant(&corner, &[name]), [None], "{name}");
        }
        // Two names for one point: neither.
        assert_eq!(meant(&corner, &["UCA front", "upper arm front"]), [None, None]);
        // The likelier one takes it.
        let found = meant(&corner, &["upper arm front thing", "upper arm front"]);
        assert_eq!(found, [None, Some("upper-arm, front pivot".to_owned())]);
    }

    #[test]
    fn a_point_s_own_name_means_itself_in_every_layout() {
        for layout in Preset::ALL {
            let corner = layout.corner(Axle::Front, 2640.0);
            let targets = targets(&corner);
            let names: Vec<&str> = targets.iter().map(|target| target.name.as_str()).collect();
            for (number, guess) in guesses(&names, &targets).into_iter().enumerate() {
                assert!(guess.is_none_or(|guess| guess == number), "{}: {guess:?}", names[number]);
            }
        }
    }
}
