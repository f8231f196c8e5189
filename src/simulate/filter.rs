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
        // Eight at a time: while one four waits for its results the other works.
        while let Some((eight, more)) = rest.split_first_chunk::<8>() {
            run_pair(eight, samples);
            rest = more;
        }
        if let Some((four, more)) = rest.split_first_chunk::<4>() {
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

/// Sections in a row, transposed direct form II. Section k works on the sample k places behind section 0, so that all work
/// at once (vector arithmetic) and each still sees its input in order: the results are those of one after another.
struct Row<const N: usize> {
    b: [[f64; N]; 3],
    a: [[f64; N]; 2],
    inputs: [f64; N],
    first: [f64; N],
    second: [f64; N],
}

impl<const N: usize> Row<N> {
    /// How many samples its output lies behind its input.
    const BEHIND: usize = N - 1;

    fn at_rest(sections: &[Section; N]) -> Self {
        Self {
            b: [0, 1, 2].map(|k| sections.map(|section| section.b[k])),
            a: [0, 1].map(|k| sections.map(|section| section.a[k])),
            inputs: [0.0; N],
            first: [0.0; N],
            second: [0.0; N],
        }
    }

    #[inline(always)]
    fn step(&mut self, input: f64) -> f64 {
        self.inputs[0] = input;
        let x = self.inputs;
        let mut y = [0.0; N];
        for k in 0..N {
            y[k] = self.b[0][k] * x[k] + self.first[k];
            self.first[k] = self.b[1][k] * x[k] - self.a[0][k] * y[k] + self.second[k];
            self.second[k] = self.b[2][k] * x[k] - self.a[1][k] * y[k];
        }
        self.inputs[1..].copy_from_slice(&y[..N - 1]);
        y[N - 1]
    }
}

/// Puts every sample through `step`, whose output lies `behind` samples behind its input.
#[inline(always)]
fn run_late(samples: &mut [f64], behind: usize, mut step: impl FnMut(f64) -> f64) {
    for sample in samples.iter().take(behind) {
        step(*sample);
    }
    for n in behind..samples.len() {
        samples[n - behind] = step(samples[n]);
    }
    // Where there are fewer samples than that, the first outputs are still on their way.
    for _ in samples.len()..behind {
        step(0.0);
    }
    for n in samples.len().saturating_sub(behind)..samples.len() {
        samples[n] = step(0.0);
    }
}

fn run_row<const N: usize>(sections: &[Section; N], samples: &mut [f64]) {
    let mut row = Row::at_rest(sections);
    run_late(samples, Row::<N>::BEHIND, |input| row.step(input));
}

/// Two rows of four, the second one sample behind the first.
fn run_pair(sections: &[Section; 8], samples: &mut [f64]) {
    let [a, b, c, d, e, f, g, h] = *sections;
    let (mut one, mut other) = (Row::at_rest(&[a, b, c, d]), Row::at_rest(&[e, f, g, h]));
    let mut between = 0.0;
    run_late(samples, 2 * Row::<4>::BEHIND + 1, |input| {
        let output = other.step(between);
        between = one.step(input);
        output
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_and_pairs_are_one_section_after_another() {
        for count in [1, 2, 3, 4, 5, 8, 9, 12, 19] {
            let mut chain = Chain::new(48_000.0);
            for k in 0..count {
                chain = chain.peak(300.0 * f64::from(k + 1), 2.0, 1.5);
            }
            for length in [0, 1, 3, 7, 8, 200] {
                let sound: Vec<f64> = (0..length).map(|n| f64::from((n * 37 + 11) % 101) - 50.0).collect();
                let mut together = sound.clone();
                chain.run(&mut together);
                let mut single = sound;
                for section in &chain.sections {
                    let (mut first, mut second) = (0.0, 0.0);
                    for sample in &mut single {
                        let x = *sample;
                        let y = section.b[0] * x + first;
                        first = section.b[1] * x - section.a[0] * y + second;
                        second = section.b[2] * x - section.a[1] * y;
                        *sample = y;
                    }
                }
                assert_eq!(together, single, "{count} sections, {length} samples: bit for bit");
            }
        }
    }
}
