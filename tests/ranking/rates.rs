//! Every sample rate from a telephone's to the highest: ranked on the bands there are.

use hissward::opening::Air;
use hissward::ranking::Call;
use hissward::simulate::{CaseOptions, Dice, Leak, NoiseKind};
use hissward::units::{Hertz, LevelDiff, Seconds};

use super::rendered::plainly;

/// Third-octave bands from 400 Hz whose upper edge lies under half of so many hertz (IEC 61260-1: 4466.8, 14 125, 17 783 Hz …).
const RATES: [(f64, usize); 6] =
    [(8_000.0, 10), (16_000.0, 13), (22_050.0, 14), (32_000.0, 16), (32_768.0, 16), (44_100.0, 17)];

#[test]
fn a_clip_of_any_rate_is_ranked_on_the_bands_it_has() {
    for (rate_hz, bands) in RATES {
        let leak = Leak { opening: "intake".parse().expect("an opening"), hiss_to_noise: LevelDiff(25.0) };
        let options = CaseOptions {
            seed: 5,
            leaks: vec![leak],
            rate: Hertz(rate_hz),
            length: Some(Seconds(5.0)),
            ..CaseOptions::default()
        };
        let case = options.render(NoiseKind::Fan.draw(&mut Dice::seeded(5)).as_ref()).expect("a case");
        assert!(case.clips.iter().any(|clip| clip.truth.air == Air::On));
        let ranking = plainly(&case);
        assert_eq!(ranking.openings[0].opening.name(), "intake", "{rate_hz} Hz");
        assert_eq!(ranking.call, Call::Located, "{rate_hz} Hz: {ranking:?}");
        for found in &ranking.openings {
            assert_eq!(found.bands.len(), bands, "{rate_hz} Hz");
        }
        let told = ranking.caveats.iter().any(|caveat| caveat.code == "band-limit");
        assert_eq!(told, rate_hz < 44_100.0, "{rate_hz} Hz: {:?}", ranking.caveats);
    }
}
