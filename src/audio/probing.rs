//! The reader that a recording needs, and no other: a decoder that looks for every format it knows finds them in noise.

use std::fs::File;

use symphonia::core::errors::Result;
use symphonia::core::formats::probe::{Hint, Probe};
use symphonia::core::formats::{FormatOptions, FormatReader};
use symphonia::core::io::{MediaSourceStream, MediaSourceStreamOptions};
use symphonia::core::meta::MetadataOptions;
use symphonia::default::formats::{
    AdtsReader, AiffReader, CafReader, FlacReader, IsoMp4Reader, MkvReader, MpaReader, OggReader, WavReader,
};
use symphonia::default::meta::Id3v2Reader;

/// Opens a recording of this container.
pub(super) fn open(file: File, container: &str) -> Result<Box<dyn FormatReader>> {
    let mut probe = Probe::new();
    match container {
        "WAV" => probe.register_format::<WavReader<'_>>(),
        "AIFF" => probe.register_format::<AiffReader<'_>>(),
        "FLAC" => probe.register_format::<FlacReader<'_>>(),
        "Ogg" => probe.register_format::<OggReader<'_>>(),
        "CAF" => probe.register_format::<CafReader<'_>>(),
        "WebM" => probe.register_format::<MkvReader<'_>>(),
        // Their beginnings are alike, and what stands before them (a title, a picture) may stand before any of them.
        "MP3" | "AAC" => {
            probe.register_format::<MpaReader<'_>>();
            probe.register_format::<AdtsReader<'_>>();
            probe.register_format::<FlacReader<'_>>();
            probe.register_metadata::<Id3v2Reader<'_>>();
        }
        _ => probe.register_format::<IsoMp4Reader<'_>>(),
    }
    let stream = MediaSourceStream::new(Box::new(file), MediaSourceStreamOptions::default());
    probe.probe(&Hint::new(), stream, FormatOptions::default(), MetadataOptions::default())
}
