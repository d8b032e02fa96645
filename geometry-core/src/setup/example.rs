//! The demonstration setup that the page opens with and the tests start from.

use alloc::{string::ToString, vec};

use super::{
    AntiRollBar, Arm, BrakeDisc, Corner, Damper, Document, Link, Part, Point, Rim, Spring, VERSION, Vehicle,
    Wheel,
};

/// The demonstration setup: an invented electric hill-climb car with split lower links
/// in front and three lower links behind.
#[must_use]
pub fn example() -> Document {
    Document {
        cornerwise: VERSION,
        title: "Alder hill-climb coupé".into(),
        note: "An invented electric hill-climb car: split lower links in front, three lower links behind."
            .into(),
        vehicle: Vehicle {
            wheelbase: Some(2640.0),
            mass: Some(1480.0),
            front_mass_share: Some(0.44),
            cg_height: Some(465.0),
            brake_front_share: Some(0.64),
            drive_front_share: Some(0.3),
            regeneration_share: Some(0.5),
            regeneration_front_share: None,
        },
        front: Some(front()),
        rear: Some(rear()),
        front_right: None,
        rear_right: None,
    }
}

fn link(id: &str, inboard: Point, outboard: Point, steers: bool) -> Link {
    Link { id: id.to_string(), inboard, outboard, steers }
}

fn part(name: &str, mass: f64, share: Option<f64>) -> Part {
    Part { name: name.to_string(), mass, share }
}

fn front() -> Corner {
    Corner {
        arms: vec![Arm {
            id: "upper-arm".into(),
            front_pivot: [112.0, 446.0, 468.0],
            rear_pivot: [-128.0, 452.0, 452.0],
            ball_joint: [-14.0, 722.0, 482.0],
        }],
        links: vec![
            link("lower-lateral", [-30.0, 372.0, 192.0], [10.0, 708.0, 182.0], false),
            link("lower-forward", [347.0, 435.0, 184.0], [67.0, 715.0, 180.0], false),
            link("tie-rod", [-118.0, 408.1, 229.0], [-120.0, 706.0, 226.0], true),
        ],
        spring: Some(Spring {
            body: [-16.0, 574.0, 604.0],
            carried: [0.0, 624.0, 184.0],
            on: "lower-lateral".into(),
            rate: Some(62.0),
            free_length: None,
        }),
        damper: Some(Damper {
            body: [-16.0, 574.0, 604.0],
            carried: [0.0, 624.0, 184.0],
            on: "lower-lateral".into(),
        }),
        anti_roll_bar: Some(AntiRollBar {
            axis: [[160.0, 420.0, 250.0], [160.0, 0.0, 250.0]],
            arm_end: [20.0, 560.0, 262.0],
            carried: [12.0, 566.0, 188.0],
            on: "lower-lateral".into(),
            rate: Some(28.0),
        }),
        unsprung: vec![
            part("wheel and tyre", 21.5, None),
            part("knuckle, hub and brake", 17.0, None),
            part("arm and links", 8.4, Some(0.5)),
            part("drive shaft", 5.6, Some(0.5)),
        ],
        rack_travel: Some(68.0),
        bump_travel: Some(80.0),
        rebound_travel: Some(85.0),
        ..Corner::new(Wheel {
            centre: [0.0, 790.0, 312.0],
            loaded_radius: 312.0,
            camber: -0.8,
            toe: 0.05,
            tyre: Some("235/40 R18".into()),
            tyre_rate: Some(240.0),
            rim: Some(Rim { width: 216.0, offset: 42.0 }),
            brake_disc: Some(BrakeDisc { diameter: 340.0, thickness: 28.0, inset: 22.0 }),
        })
    }
}

fn rear() -> Corner {
    Corner {
        arms: vec![Arm {
            id: "upper-arm".into(),
            front_pivot: [-2522.0, 452.0, 486.0],
            rear_pivot: [-2782.0, 446.0, 504.0],
            ball_joint: [-2646.0, 694.0, 516.0],
        }],
        links: vec![
            link("lower-lateral", [-2692.0, 318.0, 196.0], [-2668.0, 722.0, 188.0], false),
            link("lower-forward", [-2268.0, 448.0, 254.0], [-2578.0, 716.0, 190.0], false),
            link("toe-link", [-2808.0, 270.8, 229.0], [-2812.0, 712.0, 222.0], false),
        ],
        spring: Some(Spring {
            body: [-2636.0, 520.0, 742.0],
            carried: [-2644.0, 598.0, 470.0],
            on: "upper-arm".into(),
            rate: Some(88.0),
            free_length: None,
        }),
        damper: Some(Damper {
            body: [-2676.0, 540.0, 700.0],
            carried: [-2682.0, 676.0, 206.0],
            on: "lower-lateral".into(),
        }),
        anti_roll_bar: Some(AntiRollBar {
            axis: [[-2440.0, 400.0, 300.0], [-2440.0, 0.0, 300.0]],
            arm_end: [-2600.0, 560.0, 288.0],
            carried: [-2660.0, 596.0, 194.0],
            on: "lower-lateral".into(),
            rate: Some(16.0),
        }),
        unsprung: vec![
            part("wheel and tyre", 23.0, None),
            part("knuckle, hub and brake", 15.5, None),
            part("arm and links", 9.0, Some(0.5)),
            part("drive shaft", 6.2, Some(0.5)),
        ],
        bump_travel: Some(90.0),
        rebound_travel: Some(90.0),
        ..Corner::new(Wheel {
            centre: [-2640.0, 782.0, 328.0],
            loaded_radius: 328.0,
            camber: -1.2,
            toe: 0.12,
            tyre: Some("255/40 R18".into()),
            tyre_rate: Some(250.0),
            rim: Some(Rim { width: 229.0, offset: 40.0 }),
            brake_disc: Some(BrakeDisc { diameter: 320.0, thickness: 22.0, inset: 18.0 }),
        })
    }
}
