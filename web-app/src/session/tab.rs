//! Which panel is open beside the sheet.

/// A panel beside the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tab {
    /// Every number.
    Readings,
    /// The points as a table.
    Pivots,
    /// What concerns the whole car and the wheel.
    Car,
    /// Both wheels under a leaning body.
    Both,
    /// Forces in the members under a load.
    Forces,
    /// What moves a reading most.
    Matters,
    /// Both axles’ springing and the car on them.
    WholeCar,
}

impl Tab {
    /// All of them, in their order.
    pub const ALL: [Self; 7] =
        [Self::Readings, Self::Pivots, Self::Car, Self::Both, Self::WholeCar, Self::Forces, Self::Matters];

    /// Its name in links and in the page.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Readings => "readings",
            Self::Pivots => "pivots",
            Self::Car => "car",
            Self::Both => "both",
            Self::WholeCar => "whole-car",
            Self::Forces => "forces",
            Self::Matters => "matters",
        }
    }

    /// What it is called.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Readings => "Readings",
            Self::Pivots => "Pivots",
            Self::Car => "Car and wheel",
            Self::Both => "Both wheels",
            Self::WholeCar => "Whole car",
            Self::Forces => "Forces",
            Self::Matters => "What matters",
        }
    }
}
