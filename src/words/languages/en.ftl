# Every sentence for people, in English.
decimal-mark = .

## Openings

opening-intake = intake
opening-exhaust = exhaust
opening-oil-filler = oil filler
opening-coolant-filler = coolant filler
opening-plug-hole = plug hole of cylinder { $number }
opening-rig = test rig

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
