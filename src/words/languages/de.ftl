# Alle Sätze für Menschen, auf Deutsch.
decimal-mark = ,

## Öffnungen

opening-intake = Ansaugöffnung
    .short = Ansaugung
opening-exhaust = Auspuff
    .short = Auspuff
opening-oil-filler = Öleinfüllöffnung
    .short = Öleinfüllung
opening-coolant-filler = Kühlmitteleinfüllöffnung
    .short = Kühlmittel
opening-plug-hole = Kerzenloch von Zylinder { $number }
    .short = Kerzenloch { $number }
opening-rig = Prüfgerät
    .short = Prüfgerät

## Wege der Luft

path-intake-valve = Einlassventil
path-exhaust-valve = Auslassventil
path-rings-or-bore = Kolbenringe oder Zylinderlaufbahn
path-gasket-or-crack = Zylinderkopfdichtung oder Riss
path-gasket-to-neighbour = Zylinderkopfdichtung zum Nachbarzylinder
path-test-rig = Prüfgerät (Schlauch, Adapter, Kerzensitz)
path-other = { $opening }

## Befunde

call-located = gefunden
call-shared = mehrere
call-none-heard = nichts gehört
call-cannot-tell = nicht entscheidbar

## Zahlen und Aufzählungen

percent = { $percent } %
percent-over = über { $percent } %
percent-under = unter { $percent } %
list-and = { $first } und { $last }
list-or = { $first } oder { $last }

## Das Vergleichsbild

plot-cylinder = Zylinder { $number }
plot-clips = Die Aufnahmen
plot-elsewhere = an keiner davon: { $percent }
plot-located = gefunden: { $where }, { $percent }
plot-shared = mehrere: { $where }
plot-none-heard = nichts gehört: ein Zischen über { $level } dB FS wäre aufgefallen
plot-cannot-tell = nicht entscheidbar: { $where }
plot-elsewhere-member = anderswo
plot-caveats = Vorbehalte: { $number }
plot-levels = Pegel des Zischens, dB FS
plot-spectra = Schall in Terzbändern, dB FS
plot-khz = kHz
plot-level = { $level } dB
plot-interval = { $low } bis { $high }
plot-at-most = höchstens { $level }
plot-at-most-short = ≤ { $level }
plot-not-heard = nicht gehört
plot-spill = Übersprechen
plot-not-recorded = keine Aufnahme
plot-key-air = mit Luft
plot-key-quiet = Ruhe, ohne Luft
plot-key-rise = Anstieg mit der Luft
plot-key-hiss = Zischen allein (ohne Ruheaufnahme)
plot-key-used = Bänder, die zählen
plot-key-heard = Pegel des Zischens, 95-%-Intervall
plot-key-bound = nicht gehört: Zischen höchstens so laut, 95 %
plot-key-answer = zusammen mindestens 95 % wahrscheinlich
plot-alt = Vergleich der Öffnungen. { $rows }
plot-alt-row = { $subject }, { $call }. { $openings }.
plot-alt-heard = { $opening } { $percent }, Zischen { $level } dB FS
plot-alt-bound = { $opening } { $percent }, Zischen höchstens { $level } dB FS
