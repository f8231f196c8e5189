# Every sentence for people, in English.
decimal-mark = .

## Openings

opening-intake = intake
    .short = intake
opening-exhaust = exhaust
    .short = exhaust
opening-oil-filler = oil filler
    .short = oil filler
opening-coolant-filler = coolant filler
    .short = coolant
opening-plug-hole = plug hole of cylinder { $number }
    .short = plug hole { $number }
opening-rig = test rig
    .short = test rig

## Escape paths

path-intake-valve = intake valve
    .short = intake valve
path-exhaust-valve = exhaust valve
    .short = exhaust valve
path-rings-or-bore = piston rings or bore
    .short = rings or bore
path-gasket-or-crack = head gasket or a crack
    .short = head gasket or crack
path-gasket-to-neighbour = head gasket to the neighbour cylinder
    .short = head gasket to neighbour
path-test-rig = test rig (hose, adapter, plug seat)
    .short = hose, adapter, plug seat
path-other = { $opening }
    .short = { $opening }

## Calls

call-located = located
call-shared = shared
call-none-heard = none heard
call-cannot-tell = cannot tell

## Numbers and lists

percent = { $percent } %
percent-over = over { $percent } %
percent-under = under { $percent } %
list-and = { $first } and { $last }
list-or = { $first } or { $last }

## Cylinders and levels

cylinder = Cylinder { $number }
loose-clips = These clips
elsewhere = elsewhere
level-interval = { $low } to { $high }
level-at-most = at most { $level }
level-not-heard = not heard
level-spill = spill

## The comparison picture

plot-elsewhere = at none of these: { $percent }
plot-located = located: { $where }, { $percent }
plot-shared = shared: { $where }
plot-none-heard = none heard: any hiss is below { $level } dB FS
plot-cannot-tell = cannot tell: { $where }
plot-caveats = caveats: { $number }
plot-levels = Hiss level, dB FS
plot-spectra = Sound in third-octave bands, dB FS
plot-khz = kHz
plot-level = { $level } dB
plot-at-most-short = ≤ { $level }
plot-not-recorded = no clip
plot-key-air = air on
plot-key-quiet = quiet, air off
plot-key-rise = rise with the air on
plot-key-hiss = hiss alone (no quiet clip)
plot-key-used = bands that count
plot-key-heard = hiss level, 95 % interval
plot-key-bound = not heard: hiss at most this, 95 %
plot-key-answer = together at least 95 % likely
plot-alt = Comparison of the openings. { $rows }
plot-alt-row = { $subject }, { $call }. { $openings }.
plot-alt-heard = { $opening } { $percent }, hiss { $level } dB FS
plot-alt-bound = { $opening } { $percent }, hiss at most { $level } dB FS

## The ranking in sentences

rank-located = { $subject }: located at { $opening }: likely { $path } ({ $percent } sure)
rank-located-own = { $subject }: located at { $opening } ({ $percent } sure)
rank-shared = { $subject }: shared: true hisses at { $places } ({ $percent } together)
rank-none-heard = { $subject }: none heard: no hiss at the openings listened at ({ $elsewhere } for none of them)
rank-cannot-tell = { $subject }: cannot tell: { $places } ({ $percent } together)
rank-cannot-tell-unfit = { $subject }: cannot tell: the clips do not allow an answer
rank-would-be-heard = A hiss louder than { $level } dB FS would have been heard at every opening ({ $opening } is the least certain; 95 %).
rank-answer-set = Together at least 95 %: { $places }.
rank-member = { $place } { $percent }
rank-spill = Spill, not a leak of its own: { $places }.
rank-hiss = { $level } ({ $low } to { $high })
rank-no-quiet = keyed
rank-caveats = Caveats:
rank-column-opening = opening
rank-column-probability = probability
rank-column-hiss = hiss level, dB FS
rank-column-above = above quiet, dB

## What to do next

next-none-heard = Next: hold the gauge's reading against this. If the cylinder loses more than it should, the air goes where nobody listened: test the rig alone, then listen at the coolant filler and at the neighbours' plug holes.
next-cannot-tell = Next: record { $places } again, two takes each with the air off and on, the microphone at the same place; shut off what is loud and changes, or key the air.
next-cannot-tell-elsewhere = Next: record { $places } again, two takes each with the air off and on, the microphone at the same place and closer; then listen at the openings not yet recorded.
next-cannot-tell-unfit = Next: mend what the caveats name, and record every opening again with the air off and on.

## The report

report-title = Cylinder leakage: where the air goes
report-date = Date
report-tested-by = Tested by
report-notes = Notes
report-findings = What was found
report-comparison = The openings compared
report-levels = The figures
report-caveats = What lowers trust in this
report-limits = What this does not say
report-cautions = Cautions for whoever repeats the test
report-finding-title = { $subject }: { $call }
report-located = The escaping air is heard at this opening: { $places }. That points to: { $paths }. The recordings make it { $percent } likely; it is an indication, not proof.
report-shared = Air is heard escaping at more than one opening: { $places }. That points to: { $paths }. Neither sound is only the spill of the other.
report-none-heard = No escaping air was heard at the openings recorded.
report-cannot-tell = The recordings do not allow a sure answer yet. Recording again is better than guessing.
report-figure = { $subject }: the hiss at each opening, and the sound with the air on against quiet. Levels (dB FS) are decibels against the recording's full scale.
report-levels-of = { $subject }: probability and hiss level of each opening
report-column-opening = Opening and escape path
report-column-probability = Probability
report-column-hiss = Hiss level, dB FS
report-column-above = Above quiet, dB
report-caveat = { $found }. What to do: { $remedy }
report-colophon = Made with hissward { $version }.
limit-severity = How bad it is. The gauge says how much air gets away, the sound says where. A louder hiss is not a worse leak.
limit-proof = What the part looks like. A leaking ring and a scored bore sound alike; only opening the engine, or a look inside through the plug hole, shows it.
limit-places = Anything about openings at which nobody recorded.

## Cautions

caution-maker = The maker's instructions and local rules come first. Never exceed the maker's test pressure.
caution-crank = Air in the cylinder can turn the crank without warning: lock it, take spanners off it, keep hands, hair and clothes clear. Bring the pressure up slowly.
caution-face = Wear eye protection with side shields and hearing protection. Never put a face or an ear to an opening under pressure; the microphone goes there instead.
caution-pressure = Relieve the pressure before unscrewing the adapter.
caution-hot = Open the coolant only when it is cold; it is hot and under pressure. The exhaust burns.
caution-fuel = No flame and no spark near fuel vapour. Crankcase and exhaust gases are toxic.
caution-qualified = Where the law asks for a licensed or qualified person, such as on aircraft, that person decides.
