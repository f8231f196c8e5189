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

## Recordings

caveat-cut-off-file = { $file }: the file is cut off: { $kept_s } s of { $promised_s } s are there
    .remedy = Copy it again from the recorder. What is there is used.
caveat-unfinished-file = { $file }: the recorder never finished this file; { $kept_s } s are there
    .remedy = Listen whether it ends where it should. What is there is used.
caveat-header-too-short = { $file }: its header tells of { $kept_s } s only, about { $unread_s } s more lie behind it
    .remedy = Export it again as WAV if sound is missing. What the header tells of is used.
caveat-several-channels = { $file }: its { $channels } channels differ; channel 1 is used
    .remedy = Name the channel whose microphone was at the opening, if that was another.
caveat-first-channel-silent = { $file }: channel 1 is silent, channel { $channel } is not
    .remedy = Name channel { $channel }.
caveat-damaged-packets = { $file }: { $packets } pieces of it are damaged and left out
    .remedy = Copy it again from the recorder.
caveat-device-failed = the microphone { $device } failed after { $kept_s } s ({ $said })
    .remedy = Check plug and cable and record again. What came before is kept.
caveat-device-silent = the microphone { $device } gave no more sound after { $kept_s } s
    .remedy = Check plug and cable, or restart the sound system, and record again. What came before is kept.
caveat-file-ended = the file took no more after { $kept_s } s: { $said }
    .remedy = Make room, or record to another folder. What came before is kept.
caveat-sound-lost = { $lost_ms } ms of sound were lost because this computer was too busy
    .remedy = Close other programs and record again.
caveat-overruns = the sound system lost sound { $times } times on its way here
    .remedy = Close other programs, plug the microphone straight into the computer, and record again.
caveat-device-changed = the system moved from { $device } to another microphone while it recorded
    .remedy = Plug the microphone in firmly and record again.

## Microphones

mics-none = no microphone was found: plug one in; recordings made elsewhere are taken in with 'hissward add'
mic-shape = { $rate } Hz, { $channels } ch, { $kind }
mic-useful = useful
mic-monitor = no use: hears what this computer plays, not the room
mic-narrow-band = no use: ends below the hiss, as telephone headsets do
mic-blocked = cannot be opened: another program holds it, or it is not allowed
mic-default = used where none is named
