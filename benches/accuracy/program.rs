//! The ranking under test.

use hissward::ranking::Ranking;
use hissward::simulate::Case;

/// The program's ranking of a case.
pub fn rank(case: &Case) -> Ranking {
    placeholder::rank(case)
}

/// PLACEHOLDER until the ranking is on this branch: band excess from 1 to 16 kHz and nothing else.
mod placeholder {
    use hissward::opening::Air;
    use hissward::ranking::{Call, HissReading, Member, OpeningResult, Ranking};
    use hissward::simulate::Case;
    use hissward::units::{Level, LevelDiff};

    use crate::harness::plain::{BAND_HZ, power_between};

    pub fn rank(case: &Case) -> Ranking {
        let mut openings: Vec<OpeningResult> = Vec::new();
        for place in &case.truth.openings {
            let power = |wanted: fn(Air) -> bool| {
                let clips = case.clips.iter().filter(|clip| clip.truth.opening == place.opening && wanted(clip.truth.air));
                clips.map(|c| power_between(c.clip.samples(), c.clip.rate().0, BAND_HZ)).sum::<f64>()
            };
            let (on, off) = (power(|air| air != Air::Off), power(|air| air == Air::Off));
            openings.push(OpeningResult {
                opening: place.opening.clone(),
                probability: (on / off.max(1e-9)).powi(4).min(1e9),
                hiss: HissReading::Bound,
                above_quiet: (off > 0.0).then(|| LevelDiff(10.0 * (on / off).log10())),
                at_most: Level(10.0 * on.log10()),
                spill: false,
                takes: 1,
                bands: Vec::new(),
                caveats: Vec::new(),
            });
        }
        let sum = openings.iter().map(|found| found.probability).sum::<f64>() + 1.0;
        openings.iter_mut().for_each(|found| found.probability /= sum);
        openings.sort_by(|a, b| b.probability.total_cmp(&a.probability).then_with(|| a.opening.cmp(&b.opening)));
        let best = openings.first().map_or(0.0, |found| found.probability);
        Ranking {
            cylinder: None,
            call: if best >= 0.95 { Call::Located } else { Call::CannotTell },
            answer_set: openings.iter().map(|found| Member::Opening(found.opening.clone())).collect(),
            openings,
            elsewhere_probability: 1.0 / sum,
            caveats: Vec::new(),
        }
    }
}
