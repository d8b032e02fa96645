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
