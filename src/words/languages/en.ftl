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
path-exhaust-valve = exhaust valve
path-rings-or-bore = piston rings or bore
path-gasket-or-crack = head gasket or a crack
path-gasket-to-neighbour = head gasket to the neighbour cylinder
path-test-rig = test rig (hose, adapter, plug seat)
path-other = { $opening }

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

## The comparison picture

plot-cylinder = Cylinder { $number }
plot-clips = The clips
plot-elsewhere = at none of these: { $percent }
plot-located = located: { $where }, { $percent }
plot-shared = shared: { $where }
plot-none-heard = none heard: a hiss above { $level } dB FS would have been
plot-cannot-tell = cannot tell: { $where }
plot-elsewhere-member = elsewhere
plot-caveats = caveats: { $number }
plot-levels = Hiss level, dB FS
plot-spectra = Sound in third-octave bands, dB FS
plot-khz = kHz
plot-level = { $level } dB
plot-interval = { $low } to { $high }
plot-at-most = at most { $level }
plot-at-most-short = ≤ { $level }
plot-not-heard = not heard
plot-spill = spill
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
