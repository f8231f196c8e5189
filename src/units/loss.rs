//! What a cylinder loses by itself, as evidence for what comes after the gauge.

/// A cylinder's own loss, the rig taken off, with its interval of about 95 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NetLoss {
    /// The loss in percent of the supply pressure.
    pub percent: f64,
    /// Lower end of its interval, in percent.
    pub low: f64,
    /// Upper end of its interval, in percent.
    pub high: f64,
    /// Air that gets away, as a multiple of what the restrictor lets through when choked at the same supply. Flows of
    /// cylinders tested with one tester compare by their ratio; the restrictor's size drops out.
    pub flow: f64,
}
