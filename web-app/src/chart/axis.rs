//! Ranges and ticks: round numbers, so that an axis keeps still while the values move.

use crate::numbers::format_number;

/// A step of 1, 2 or 5 times a power of ten, no smaller than `least`.
#[must_use]
pub fn round_step(least: f64) -> f64 {
    if !(least.is_finite() && least > 0.0) {
        return 1.0;
    }
    let power = 10_f64.powf(least.log10().floor());
    // The tolerance keeps a step that is round already.
    [1.0, 2.0, 5.0]
        .into_iter()
        .map(|n| n * power)
        .find(|step| *step >= least * (1.0 - 1e-9))
        .unwrap_or(10.0 * power)
}

/// A range that holds the values, with a little air and round ends; `None` without a value.
/// Values that run away to a pole do not count: the curve leaves the chart there.
#[must_use]
pub fn range(values: impl Iterator<Item = f64>, least_width: f64) -> Option<(f64, f64)> {
    let (mut low, mut high) = calm_ends(values)?;
    if high - low < least_width {
        let middle = f64::midpoint(low, high);
        (low, high) = (middle - 0.5 * least_width, middle + 0.5 * least_width);
    }
    let air = 0.03 * (high - low);
    let step = round_step((high - low) / 12.0);
    Some((((low - air) / step).floor() * step, ((high + air) / step).ceil() * step))
}

/// The least and the greatest value, of those that do not run away to a pole; `None` without a value.
#[must_use]
pub fn calm_ends(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    let values: Vec<f64> = values.filter(|value| value.is_finite()).collect();
    let (low, high) = ends(values.iter().copied())?;
    let calm = calm(&values, high - low);
    Some(calm.map_or((low, high), |(calm_low, calm_high)| (low.max(calm_low), high.min(calm_high))))
}

fn ends(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values.fold(None, |ends, value| {
        let (low, high) = ends.unwrap_or((value, value));
        Some((low.min(value), high.max(value)))
    })
}

/// Where most of the values are, when some are far beyond the rest: eight times as far from
/// the middle one as half of them are.
fn calm(values: &[f64], width: f64) -> Option<(f64, f64)> {
    const AWAY: f64 = 40.0;
    const KEPT: f64 = 8.0;
    let middle = middle_of(&mut values.to_vec())?;
    let mut away: Vec<f64> = values.iter().map(|value| (value - middle).abs()).collect();
    let usual = middle_of(&mut away)?;
    (usual > 0.0 && width > AWAY * usual).then_some((middle - KEPT * usual, middle + KEPT * usual))
}

fn middle_of(values: &mut [f64]) -> Option<f64> {
    let at = values.len() / 2;
    (!values.is_empty()).then(|| *values.select_nth_unstable_by(at, f64::total_cmp).1)
}

/// What holds both ranges.
#[must_use]
pub fn union(one: (f64, f64), other: (f64, f64)) -> (f64, f64) {
    (one.0.min(other.0), one.1.max(other.1))
}

/// Round numbers within a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ticks {
    /// The first, in steps.
    first: f64,
    /// How many.
    count: usize,
    /// From one to the next.
    pub step: f64,
}

impl Ticks {
    /// At most so many steps over a range.
    #[must_use]
    pub fn that_fit(range: (f64, f64), most: f64) -> Self {
        let (low, high) = range;
        let step = round_step((high - low) / most.max(1.0));
        // A range's own round ends belong to it, whatever the rounding.
        let first = (low / step - 1e-6).ceil();
        let last = (high / step + 1e-6).floor();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a few")]
        let count = (last - first + 1.0).clamp(0.0, 40.0) as usize;
        Self { first, count, step }
    }

    /// The numbers.
    pub fn values(&self) -> impl Iterator<Item = f64> {
        let (first, step) = (self.first, self.step);
        #[expect(clippy::cast_precision_loss, reason = "a few")]
        (0..self.count).map(move |i| (first + i as f64) * step)
    }

    /// The same as they are written: no more decimals than the step has.
    pub fn texts(&self) -> impl Iterator<Item = String> {
        let decimals = axis_decimals(self.step);
        self.values().map(move |value| format_number(value, decimals))
    }
}

/// Decimals that a round number needs.
#[must_use]
pub fn axis_decimals(number: f64) -> usize {
    let needs = |decimals: i32| {
        let scaled = number * 10_f64.powi(decimals);
        (scaled - scaled.round()).abs() > 1e-6 * scaled.abs().max(1e-3)
    };
    (0..9).zip(0..).find(|(decimals, _)| !needs(*decimals)).map_or(9, |(_, decimals)| decimals)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn written(range: (f64, f64), most: f64) -> Vec<String> {
        Ticks::that_fit(range, most).texts().collect()
    }

    #[test]
    fn steps_are_one_two_or_five() {
        for (least, step) in
            [(0.9, 1.0), (1.0, 1.0), (1.1, 2.0), (2.0, 2.0), (2.1, 5.0), (5.1, 10.0), (0.03, 0.05)]
        {
            assert!((round_step(least) - step).abs() < 1e-12, "{least}: {}", round_step(least));
        }
        assert_eq!(round_step(0.0), 1.0);
        assert_eq!(round_step(f64::NAN), 1.0);
    }

    #[test]
    fn ticks_are_written_with_a_true_minus_and_the_decimals_of_their_step() {
        assert_eq!(written((-100.0, 100.0), 4.0), ["−100", "−50", "0", "50", "100"]);
        assert_eq!(written((-100.0, 100.0), 3.0), ["−100", "0", "100"]);
        assert_eq!(written((-2.6, 0.4), 4.0), ["−2", "−1", "0"]);
        assert_eq!(written((0.695, 0.71), 3.0), ["0.695", "0.700", "0.705", "0.710"]);
        assert_eq!(written((-0.0004, 0.0002), 3.0), ["−0.0004", "−0.0002", "0.0000", "0.0002"]);
    }

    #[test]
    fn a_pole_does_not_flatten_the_rest() {
        let values = (-80..=80).map(|i| 1000.0 / (f64::from(i) + 0.5));
        let (low, high) = range(values, 1.0).expect("a range");
        assert!(high - low < 1500.0, "{low} {high}");
        // A curve that only bends is shown to its ends.
        let (low, high) = range((-80..=80).map(|i| f64::from(i).powi(3)), 1.0).expect("a range");
        assert!(low <= -512_000.0 && 512_000.0 <= high);
    }

    #[test]
    fn no_value_no_range() {
        assert_eq!(range(std::iter::empty(), 1.0), None);
        assert_eq!(range([f64::NAN, f64::INFINITY].into_iter(), 1.0), None);
    }

    proptest! {
        #[test]
        fn a_range_holds_its_values_and_is_never_empty(a in -1e6..1e6_f64, width in 0.0..1e4_f64, least in 1e-4..10.0_f64) {
            let (low, high) = range([a, a + width].into_iter(), least).expect("a range");
            prop_assert!(low <= a && a + width <= high && low < high);
            // No more air than a tick's worth at either end.
            prop_assert!(high - low <= 1.5 * width.max(least) + 1e-6, "{} for {}", high - low, width.max(least));
        }

        #[test]
        fn there_is_never_a_crowd_of_ticks(low in -1e4..1e4_f64, width in 1e-3..1e4_f64, most in 1.0..12.0_f64) {
            let ticks = Ticks::that_fit((low, low + width), most);
            let count = ticks.values().count();
            prop_assert!(count <= 13);
            for value in ticks.values() {
                prop_assert!(low - 1e-3 * ticks.step <= value && value <= low + width + 1e-3 * ticks.step);
            }
        }
    }
}
