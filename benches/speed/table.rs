//! The figures as a Markdown table.

use super::stopwatch::Spread;

/// What a figure is held against.
#[derive(Debug, Clone, Copy)]
pub enum Limit {
    AtMost(f64),
    AtLeast(f64),
    /// Told for what it is.
    None,
}

/// One row.
#[derive(Debug, Clone)]
pub struct Figure {
    pub what: String,
    pub value: Spread,
    pub unit: &'static str,
    pub limit: Limit,
    pub peak_mib: Option<f64>,
}

impl Figure {
    /// A figure; the median is held against the limit.
    pub fn new(what: impl Into<String>, value: Spread, unit: &'static str, limit: Limit) -> Self {
        Self { what: what.into(), value, unit, limit, peak_mib: None }
    }

    /// With the peak memory of the process.
    pub fn peak(mut self, mib: f64) -> Self {
        self.peak_mib = Some(mib);
        self
    }

    /// Whether it stands within its limit.
    pub fn is_met(&self) -> bool {
        match self.limit {
            Limit::AtMost(most) => self.value.median <= most,
            Limit::AtLeast(least) => self.value.median >= least,
            Limit::None => true,
        }
    }

    fn row(&self) -> String {
        let number = |x: f64| match x.abs() {
            large if large >= 100.0 => format!("{x:.0}"),
            middle if middle >= 10.0 => format!("{x:.1}"),
            _ => format!("{x:.2}"),
        };
        let unit = if self.unit.is_empty() { String::new() } else { format!(" {}", self.unit) };
        let limit = match self.limit {
            Limit::AtMost(most) => format!("≤ {}{unit}", number(most)),
            Limit::AtLeast(least) => format!("≥ {}{unit}", number(least)),
            Limit::None => String::new(),
        };
        let Spread { median, least, most } = self.value;
        let range = if least < most { format!("{} to {}", number(least), number(most)) } else { String::new() };
        let missed = if self.is_met() { "" } else { " ✗" };
        let peak = self.peak_mib.map_or_else(String::new, |mib| format!("{mib:.1} MiB"));
        format!("| {} | {limit} | {}{unit}{missed} | {range} | {peak} |", self.what, number(median))
    }
}

/// A heading, a remark, the rows.
pub fn section(title: &str, remark: &str, figures: &[Figure]) -> String {
    let mut text = format!("## {title}\n\n");
    if !remark.is_empty() {
        text += &format!("{remark}\n\n");
    }
    text += "| figure | limit | median | least to most | peak memory |\n|---|---|---|---|---|\n";
    for figure in figures {
        text += &figure.row();
        text += "\n";
    }
    text
}
