//! The rate of a spring or a bar from what a calliper and a tape measure of it.

use geometry_core::{
    bounds::{ACTIVE_COILS, BAR_LENGTH, Bound, COIL_DIAMETER, OutOfBounds, WIRE},
    setup::Axle,
    springing::{SPRING_STEEL, bar_rate, coil_rate},
};
use leptos::prelude::*;

use crate::{
    app::session,
    components::plain_number::OptionalNumber,
    edit::{Edit, NumberField, Part},
    numbers::round_to,
    units::{Scale, Unit},
    with_unit::out_of_bounds,
};

/// What was measured so far.
type Measured = [Option<f64>; 3];
/// The rate; none before all that it needs was measured.
type Found = Result<Option<f64>, OutOfBounds>;

/// Whose part.
type Measurable = (Axle, Part);

/// What was measured of all parts, for as long as the component lives that begins it: the table is made anew when a
/// member changes.
#[derive(Clone, Copy, Default)]
pub struct Measurements(StoredValue<Vec<(Measurable, Measured)>>);

impl Measurements {
    fn of(self, part: Measurable) -> Measured {
        let found = self.0.with_value(|all| all.iter().find(|(of, _)| *of == part).map(|(_, found)| *found));
        found.unwrap_or_default()
    }

    fn keep(self, part: Measurable, measured: Measured) {
        self.0.update_value(|all| {
            all.retain(|(of, _)| *of != part);
            all.push((part, measured));
        });
    }
}

/// What is measured of a part, and what comes of it.
#[derive(Clone, Copy)]
struct Kind {
    /// The number of the document that it gives.
    gives: NumberField,
    unit: Unit,
    summary: &'static str,
    /// Label, name, unit with what is meant, range.
    fields: [(&'static str, &'static str, &'static str, Bound); 3],
    rate: fn(Measured) -> Found,
    hint: &'static str,
}

/// A bar's bore, smaller than the bar by what the core asks.
const BORE: Bound = Bound { least: 0.0, ..WIRE };

fn kind_of(part: Part, axle: Axle) -> Option<Kind> {
    let bar = |gives| Kind {
        gives,
        unit: Unit::NewtonMetrePerDegree,
        summary: "Rate from its diameter",
        fields: [
            ("Outer diameter", "outer", "mm", WIRE),
            ("Bore", "inner", "mm, empty: solid", BORE),
            ("Length that is twisted", "length", "mm", BAR_LENGTH),
        ],
        rate: of_bar,
        hint: "A round bar of spring steel, G π (d⁴ − i⁴)/(32 L) with G = 79.3 GPa (Barton & Fieldhouse 2018, p. 213; \
               the formula from memory): 1 % of the diameter is 4 % of the rate. Arms that bend and bushes make the \
               whole softer; the maker’s number is better.",
    };
    match part {
        Part::Spring => Some(Kind {
            gives: NumberField::SpringRate(axle),
            unit: Unit::NewtonPerMillimetre,
            summary: "Rate from wire and coils",
            fields: [
                ("Wire", "wire", "mm across", WIRE),
                ("Coils, outer diameter", "coil", "mm", COIL_DIAMETER),
                ("Coils that give way", "coils", "without those that lie on", ACTIVE_COILS),
            ],
            rate: of_coils,
            hint: "A helical spring of round steel wire, G d⁴/(8 n D³) with the mean diameter D and G = 79.3 GPa (Barton \
                   & Fieldhouse 2018, 3.13, p. 213): 1 % of the wire is 4 % of the rate, so measure it without its paint. \
                   The maker’s number is better. Measure it where it stands: a loaded spring comes out with the proper tool alone.",
        }),
        Part::AntiRollBar => Some(bar(NumberField::BarRate(axle))),
        Part::TorsionBar => Some(bar(NumberField::TorsionBarRate(axle))),
        _ => None,
    }
}

/// Of wire, outer diameter and coils.
fn of_coils([wire, outer, coils]: Measured) -> Found {
    let (Some(wire), Some(outer), Some(coils)) = (wire, outer, coils) else { return Ok(None) };
    // A coil whose wire meets itself in the middle is the narrowest there is.
    Bound { least: 2.0 * wire, ..COIL_DIAMETER }.check("Coils, outer diameter,", outer)?;
    coil_rate(SPRING_STEEL, wire, outer - wire, coils).map(Some)
}

/// Of outer diameter, bore and length.
fn of_bar([outer, bore, length]: Measured) -> Found {
    let (Some(outer), Some(length)) = (outer, length) else { return Ok(None) };
    let bore = bore.unwrap_or_default();
    Bound { least: 0.0, most: 0.99 * outer, unit: "mm" }.check("Bore", bore)?;
    bar_rate(SPRING_STEEL, outer, bore, length).map(Some)
}

/// The fields behind a fold, what comes of them, and the button that takes it; nothing for a part without a rate.
#[component]
pub fn MeasuredRate(
    /// Whose part.
    axle: Axle,
    /// Which.
    part: Part,
) -> impl IntoView {
    let session = session();
    kind_of(part, axle).map(|kind| {
        let measurements = expect_context::<Measurements>();
        let of = (axle, part);
        let values = RwSignal::new(measurements.of(of));
        Effect::new(move |_| measurements.keep(of, values.get()));
        let fields = kind.fields.into_iter().enumerate().map(|(i, (label, name, unit, bound))| {
            view! {
                <OptionalNumber
                    label=label
                    name=format!("{}.from.{name}", part.path())
                    unit=Signal::stored(unit.to_owned())
                    value=Signal::derive(move || values.get().get(i).copied().flatten())
                    set=Callback::new(move |value| values.update(|values| {
                        if let Some(one) = values.get_mut(i) {
                            *one = value;
                        }
                    }))
                    bound=Signal::stored(bound)
                />
            }
        });
        let told = move || match (kind.rate)(values.get()) {
            Ok(None) => None,
            Err(error) => {
                let sentence = format!("{}.", out_of_bounds(&error));
                Some(view! { <p class="field-error" role="alert">{sentence}</p> }.into_any())
            }
            Ok(Some(rate)) => {
                let take = move |_| {
                    session.try_edit(&Edit::SetNumber { field: kind.gives, value: Some(rounded(rate, kind.unit.here())) }, None);
                };
                let shown = kind.unit.show(rate);
                Some(view! {
                    <p class="said" data-said=format!("{}.rate", part.path())>
                        {format!("{shown} ")}
                        <button class="lacking" data-take=part.path() on:click=take>"Take it as the rate"</button>
                    </p>
                }.into_any())
            }
        };
        view! {
            <details class="counted">
                <summary>{kind.summary}</summary>
                {fields.collect_view()}
                {told}
                <p class="hint">{kind.hint}</p>
            </details>
        }
    })
}

/// To the tenth of the reader's unit, as springs are sold; of what is softer to three digits.
fn rounded(rate: f64, scale: Scale) -> f64 {
    let number = scale.of(rate);
    round_to(number, if number >= 10.0 { 1 } else { 3 }) * scale.one
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::System;

    // Barton & Fieldhouse 2018, p. 213: see tests/published/springing.rs for the book's own spring.
    #[test]
    fn a_rate_needs_all_that_is_measured_and_none_that_cannot_be() {
        let rate = of_coils([Some(12.0), Some(112.0), Some(6.0)]).expect("in range").expect("all is given");
        assert!((rate - 79_300.0 * 12_f64.powi(4) / (8.0 * 6.0 * 1e6)).abs() < 1e-9, "{rate}");
        assert_eq!(of_coils([Some(12.0), None, Some(6.0)]), Ok(None));
        assert!(of_coils([Some(12.0), Some(20.0), Some(6.0)]).is_err());
        // A tube has what the solid bar has less what is missing.
        let solid = of_bar([Some(22.0), None, Some(900.0)]).expect("in range").expect("given");
        let bore = of_bar([Some(16.0), None, Some(900.0)]).expect("in range").expect("given");
        let tube = of_bar([Some(22.0), Some(16.0), Some(900.0)]).expect("in range").expect("given");
        assert!((tube - (solid - bore)).abs() < 1e-9, "{tube}");
        assert!(of_bar([Some(22.0), Some(22.0), Some(900.0)]).is_err());
        let scale = |system| Unit::NewtonPerMillimetre.scale(system);
        assert_eq!(rounded(34.26, scale(System::Metric)), 34.3);
        assert_eq!(rounded(0.123_45, scale(System::Metric)), 0.123);
        let pounds = scale(System::Customary);
        assert_eq!(pounds.number(rounded(34.26, pounds)), pounds.number(195.6 * pounds.one));
    }
}
