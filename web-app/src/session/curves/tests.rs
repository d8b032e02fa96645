//! What the curves show.

use geometry_core::{readings::Reader, setup::example, solve::Follower};

use super::*;

fn subject(axle: Axle, against: Against) -> Subject {
    Subject::of(&example(), axle, Style::Alone, against).expect("the example has it")
}

/// One input alone.
fn at(against: Against, held: State, input: f64) -> Run {
    Run { against, held, lean: Lean::HeaveHeld, from: input, to: input, positions: 1 }
}

#[test]
fn a_choice_is_read_as_it_was_written() {
    let choice = Choice {
        charts: vec![Quantity::Toe, Quantity::AntiDrivingHub, Quantity::Camber],
        against: Against::Rack,
        both: true,
    };
    assert_eq!(Choice::read(&choice.text()), choice);
    assert_eq!(Choice::read(&Choice::default().text()), Choice::default());
}

#[test]
fn whatever_was_kept_ends_in_one_to_twelve_charts() {
    for text in
        ["", "{\"charts\": 3}", "\0\u{fffd} both both", "travel rack nothing", &"camber ".repeat(10_000)]
    {
        let choice = Choice::read(text);
        assert!((1..=MOST_CHARTS).contains(&choice.charts.len()), "{text:.40}");
    }
    let all = Quantity::ALL.map(Quantity::name).join(" ");
    assert_eq!(Choice::read(&all).charts, Quantity::ALL[..MOST_CHARTS]);
    assert_eq!(Choice::read("camber camber toe").charts, [Quantity::Camber, Quantity::Toe]);
}

#[test]
fn a_curve_holds_what_the_readings_say_there() {
    let document = example();
    let front = subject(Axle::Front, Against::Travel);
    let charts = [Quantity::Camber, Quantity::RollCentreHeight];
    let held = State { travel: 0.0, rack: 12.0 };
    let run = Run { positions: POSITIONS, to: 100.0, ..at(Against::Travel, held, -100.0) };
    let line = front.line(&document.vehicle, &charts, run);
    for index in [0, 80, 130] {
        let mut follower = Follower::new(&front.linkage);
        let state = State { travel: run.input(index), rack: 12.0 };
        assert!(follower.go_to(state).stop().is_none(), "{state:?}");
        let readings = Reader::new(&front.linkage, &document.vehicle, Axle::Front).read(follower.position());
        for (chart, quantity) in charts.into_iter().enumerate() {
            let (value, read) = (line.of(chart)[index], quantity.value(&readings));
            let (value, read) = value.zip(read).expect("a value");
            assert!((value - read).abs() < 1e-9, "{quantity:?} at {state:?}: {value} {read}");
        }
    }
}

#[test]
fn the_level_body_reads_as_the_single_wheel_does() {
    let document = example();
    let charts = [Quantity::Camber, Quantity::Toe, Quantity::RollCentreHeight, Quantity::Caster];
    let read = |against| {
        let run =
            at(against, State { travel: 10.0, rack: 0.0 }, if against == Against::Roll { 0.0 } else { 10.0 });
        let line = subject(Axle::Front, against).line(&document.vehicle, &charts, run);
        line.values.into_iter().map(|values| values[0].expect("a value")).collect::<Vec<_>>()
    };
    // The car drops by 10 mm of contact height there and of wheel centre here: nearly the same.
    for (leaning, travelling) in read(Against::Roll).into_iter().zip(read(Against::Travel)) {
        assert!((leaning - travelling).abs() < 0.02 * travelling.abs().max(1.0), "{leaning} {travelling}");
    }
    // The body leans two degrees to the right and takes the wheel's top along, but for what the
    // camber change of the dropping wheel gives back.
    let camber = |roll| {
        let run = at(Against::Roll, State::DESIGN, roll);
        subject(Axle::Front, Against::Roll).line(&document.vehicle, &charts, run).values[0][0]
            .expect("camber")
    };
    let change = camber(2.0) - camber(0.0);
    assert!(-2.0 < change && change < -1.0, "{change}");
}

#[test]
fn where_the_linkage_ends_the_line_ends() {
    let document = example();
    let front = subject(Axle::Front, Against::Travel);
    let run = Run { to: 2000.0, positions: POSITIONS, ..at(Against::Travel, State::DESIGN, -2000.0) };
    let line = front.line(&document.vehicle, &[Quantity::Camber], run);
    assert_eq!(line.ends, [true, true]);
    assert!(line.of(0).first().is_some_and(Option::is_none) && line.of(0)[80].is_some());
}

#[test]
fn a_corner_that_does_not_steer_says_so() {
    let mut document = example();
    for link in &mut document.front.as_mut().expect("a front corner").links {
        link.steers = false;
    }
    let refused = Subject::of(&document, Axle::Front, Style::Alone, Against::Rack);
    assert_eq!(refused.map(|_| ()), Err("no link of the front corner steers".to_owned()));
    document.rear = None;
    let refused = Subject::of(&document, Axle::Rear, Style::Rear, Against::Travel);
    assert_eq!(refused.map(|_| ()), Err("the rear corner is not described yet".to_owned()));
}

#[test]
fn stops_beyond_the_usual_travel_make_the_axis_longer() {
    let mut document = example();
    let corner = document.front.as_mut().expect("a front corner");
    (corner.bump_travel, corner.rebound_travel, corner.rack_travel) = (Some(123.0), Some(60.0), Some(74.0));
    let ends = |against| {
        let subject = Subject::of(&document, Axle::Front, Style::Alone, against);
        (ends_of(against, &vec![subject.clone()]), subject.expect("a subject").stops(against))
    };
    assert_eq!(ends(Against::Travel), ((-130.0, 130.0), vec![-60.0, 123.0]));
    assert_eq!(ends(Against::Rack), ((-80.0, 80.0), vec![-74.0, 74.0]));
    assert_eq!(ends(Against::Roll), ((-ROLL_SHOWN, ROLL_SHOWN), vec![]));
}

#[test]
fn in_a_small_chart_the_pointer_means_round_inputs_that_it_can_reach() {
    for (per_pixel, grain) in [(0.1, 0.5), (0.5, 0.5), (0.6, 1.0), (1.27, 2.0), (3.0, 5.0), (50.0, 5.0)] {
        assert_eq!(Against::Travel.grain(per_pixel), grain, "{per_pixel}");
    }
    assert_eq!(Against::Roll.grain(0.08), 0.1);
}
