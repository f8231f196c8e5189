//! Recursive filters in exactly specified arithmetic: second-order sections in a row.

use std::f64::consts::PI;

use super::exact;

/// A second-order section, a0 = 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Section {
    b: [f64; 3],
    a: [f64; 2],
}

/// Sections in a row with a gain, for one sample rate.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chain {
    rate_hz: f64,
    gain: f64,
    sections: Vec<Section>,
}

/// Butterworth's second-order section.
pub(super) const BUTTERWORTH_Q: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// Filters stay below this share of the sample rate; what was asked for above is laid there.
const HIGHEST_SHARE: f64 = 0.49;

impl Section {
    pub(super) fn from_coefficients(b: [f64; 3], a: [f64; 3]) -> Self {
        Self { b: b.map(|x| x / a[0]), a: [a[1] / a[0], a[2] / a[0]] }
    }

    /// |H|² at an angle (radians per sample) whose cosine is given.
    fn power(&self, cosine: f64) -> f64 {
        let double = 2.0 * cosine * cosine - 1.0;
        let size = |c0: f64, c1: f64, c2: f64| {
            c0 * c0 + c1 * c1 + c2 * c2 + 2.0 * (c0 * c1 + c1 * c2) * cosine + 2.0 * c0 * c2 * double
        };
        size(self.b[0], self.b[1], self.b[2]) / size(1.0, self.a[0], self.a[1])
    }
}

impl Chain {
    /// A wire: lets everything through.
    pub(super) fn new(rate_hz: f64) -> Self {
        Self { rate_hz, gain: 1.0, sections: Vec::new() }
    }

    pub(super) fn rate_hz(&self) -> f64 {
        self.rate_hz
    }

    /// The same with a section more.
    pub(super) fn with(mut self, section: Section) -> Self {
        self.sections.push(section);
        self
    }

    /// The same with another chain behind it.
    pub(super) fn then(mut self, other: &Self) -> Self {
        self.gain *= other.gain;
        self.sections.extend_from_slice(&other.sections);
        self
    }

    /// The same, louder by `db`.
    pub(super) fn louder(mut self, db: f64) -> Self {
        self.gain *= exact::amplitude_of_db(db);
        self
    }

    /// Half the bandwidth's angle terms of the usual bilinear design: cosine and alpha.
    fn design(&self, hz: f64, q: f64) -> (f64, f64) {
        let angle = 2.0 * PI * hz.min(HIGHEST_SHARE * self.rate_hz) / self.rate_hz;
        (exact::cos(angle), exact::sin(angle) / (2.0 * q))
    }

    /// 12 dB per octave above `hz`.
    pub(super) fn low_pass(self, hz: f64, q: f64) -> Self {
        let (c, alpha) = self.design(hz, q);
        let edge = (1.0 - c) / 2.0;
        self.with(Section::from_coefficients([edge, 2.0 * edge, edge], [1.0 + alpha, -2.0 * c, 1.0 - alpha]))
    }

    /// 12 dB per octave below `hz`.
    pub(super) fn high_pass(self, hz: f64, q: f64) -> Self {
        let (c, alpha) = self.design(hz, q);
        let edge = (1.0 + c) / 2.0;
        self.with(Section::from_coefficients([edge, -2.0 * edge, edge], [1.0 + alpha, -2.0 * c, 1.0 - alpha]))
    }

    /// What lies around `hz`, at most 0 dB.
    pub(super) fn band_pass(self, hz: f64, q: f64) -> Self {
        let (c, alpha) = self.design(hz, q);
        self.with(Section::from_coefficients([alpha, 0.0, -alpha], [1.0 + alpha, -2.0 * c, 1.0 - alpha]))
    }

    /// A resonance: `gain_db` at `hz`, nothing far from it.
    pub(super) fn peak(self, hz: f64, gain_db: f64, q: f64) -> Self {
        let (c, alpha) = self.design(hz, q);
        let a = exact::amplitude_of_db(gain_db / 2.0);
        let top = [1.0 + alpha * a, -2.0 * c, 1.0 - alpha * a];
        self.with(Section::from_coefficients(top, [1.0 + alpha / a, -2.0 * c, 1.0 - alpha / a]))
    }

    /// A gentle step: `gain_db` far above `hz`, nothing far below (first order).
    pub(super) fn step(self, hz: f64, gain_db: f64) -> Self {
        let section = step_section(self.rate_hz, hz, gain_db);
        self.with(section)
    }

    /// 6 dB per octave above `hz`.
    pub(super) fn soft_low_pass(self, hz: f64) -> Self {
        let k = exact::tan(PI * hz.min(HIGHEST_SHARE * self.rate_hz) / self.rate_hz);
        self.with(Section::from_coefficients([k, k, 0.0], [1.0 + k, k - 1.0, 0.0]))
    }

    /// |H|² at a frequency.
    pub(super) fn power_at(&self, hz: f64) -> f64 {
        let cosine = exact::cos(2.0 * PI * hz / self.rate_hz);
        self.sections.iter().fold(self.gain * self.gain, |power, section| power * section.power(cosine))
    }

    /// Filters in place, beginning from rest.
    pub(super) fn run(&self, samples: &mut [f64]) {
        let mut rest = &self.sections[..];
        // Four at a time keep coefficients and memories in registers.
        while let Some((four, more)) = rest.split_first_chunk::<4>() {
            run_row(four, samples);
            rest = more;
        }
        match rest {
            [a] => run_row(&[*a], samples),
            [a, b] => run_row(&[*a, *b], samples),
            [a, b, c] => run_row(&[*a, *b, *c], samples),
            _ => {}
        }
        if self.gain != 1.0 {
            samples.iter_mut().for_each(|x| *x *= self.gain);
        }
    }
}

/// A first-order step of `gain_db` around `hz`.
pub(super) fn step_section(rate_hz: f64, hz: f64, gain_db: f64) -> Section {
    let k = exact::tan(PI * hz.min(HIGHEST_SHARE * rate_hz) / rate_hz);
    let root = exact::amplitude_of_db(gain_db / 2.0);
    let (zero, pole) = (k / root, k * root);
    Section::from_coefficients(
        [(zero + 1.0) / zero, (zero - 1.0) / zero, 0.0],
        [(pole + 1.0) / pole, (pole - 1.0) / pole, 0.0],
    )
}

/// Two first-order sections multiplied into one second-order section.
pub(super) fn joined(one: Section, other: Section) -> Section {
    Section {
        b: [one.b[0] * other.b[0], one.b[0] * other.b[1] + one.b[1] * other.b[0], one.b[1] * other.b[1]],
        a: [one.a[0] + other.a[0], one.a[0] * other.a[0]],
    }
}

/// Transposed direct form II. Section k works on the sample k places behind section 0, so that all work at once
/// (vector arithmetic) and each still sees its input in order: the results are those of one section after another.
fn run_row<const N: usize>(sections: &[Section; N], samples: &mut [f64]) {
    let b0 = sections.map(|section| section.b[0]);
    let b1 = sections.map(|section| section.b[1]);
    let b2 = sections.map(|section| section.b[2]);
    let a1 = sections.map(|section| section.a[0]);
    let a2 = sections.map(|section| section.a[1]);
    let (mut x, mut y) = ([0.0; N], [0.0; N]);
    let (mut first, mut second) = ([0.0; N], [0.0; N]);
    let mut step = |input: f64| {
        x[0] = input;
        for k in 0..N {
            y[k] = b0[k] * x[k] + first[k];
            first[k] = b1[k] * x[k] - a1[k] * y[k] + second[k];
            second[k] = b2[k] * x[k] - a2[k] * y[k];
        }
        x[1..N].copy_from_slice(&y[..N - 1]);
        y[N - 1]
    };
    let behind = N - 1;
    for sample in samples.iter().take(behind) {
        step(*sample);
    }
    for n in behind..samples.len() {
        samples[n - behind] = step(samples[n]);
    }
    for n in samples.len().saturating_sub(behind)..samples.len() {
        samples[n] = step(0.0);
    }
}
