//! What the sound system calls for each block: it may neither allocate nor wait, or sound is lost.

use super::*;

/// Blocks of 10 ms: more than the ring holds, so that the path without room is gone as well.
const BLOCKS: usize = 1000;

#[test]
fn the_callback_allocates_nothing() {
    let (mut producer, mut samples, signals) = audio::ring_buffer(SHAPE);
    let block = noise(960);
    let counted = allocation_counter::measure(|| {
        for _ in 0..BLOCKS {
            producer.push(&block, |sample: i16| f32::from(sample) / 32_768.0);
        }
        signals.overrun();
        signals.device_changed();
    });
    assert_eq!((counted.count_total, counted.bytes_total), (0, 0));
    // Ten seconds came, the ring holds eight: all of this was done, not left out.
    assert_eq!((signals.callbacks(), signals.lost_frames(), samples.slots()), (1000, 96_000, 768_000));
    assert!(samples.pop().is_ok_and(|first| (first - f32::from(block[0]) / 32_768.0).abs() < f32::EPSILON));
    // After the first failure, reports of others cost nothing either.
    signals.fail(|| "unplugged".to_owned());
    let counted = allocation_counter::measure(|| (0..BLOCKS).for_each(|_| signals.fail(|| "again".to_owned())));
    assert_eq!(counted.count_total, 0);
    // The partner: the counter does count.
    let counted = allocation_counter::measure(|| drop(std::hint::black_box(Vec::<u8>::with_capacity(10))));
    assert_eq!((counted.count_total, counted.bytes_total), (1, 10));
}
