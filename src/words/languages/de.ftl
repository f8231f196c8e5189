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
    .short = Einlassventil
path-exhaust-valve = Auslassventil
    .short = Auslassventil
path-rings-or-bore = Kolbenringe oder Zylinderlaufbahn
    .short = Ringe oder Laufbahn
path-gasket-or-crack = Zylinderkopfdichtung oder Riss
    .short = Kopfdichtung oder Riss
path-gasket-to-neighbour = Zylinderkopfdichtung zum Nachbarzylinder
    .short = Kopfdichtung zum Nachbarn
path-test-rig = Prüfgerät (Schlauch, Adapter, Kerzensitz)
    .short = Schlauch, Adapter, Kerzensitz
path-other = { $opening }
    .short = { $opening }

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

## Zylinder und Pegel

cylinder = Zylinder { $number }
loose-clips = Diese Aufnahmen
elsewhere = anderswo
level-interval = { $low } bis { $high }
level-at-most = höchstens { $level }
level-not-heard = nicht gehört
level-spill = Übersprechen

## Das Vergleichsbild

plot-elsewhere = an keiner davon: { $percent }
plot-located = gefunden: { $where }, { $percent }
plot-shared = mehrere: { $where }
plot-none-heard = nichts gehört: ein Zischen läge unter { $level } dB FS
plot-cannot-tell = nicht entscheidbar: { $where }
plot-caveats = Vorbehalte: { $number }
plot-levels = Pegel des Zischens, dB FS
plot-spectra = Schall in Terzbändern, dB FS
plot-khz = kHz
plot-level = { $level } dB
plot-at-most-short = ≤ { $level }
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

## Die Rangfolge in Sätzen

rank-located = { $subject }: gefunden: { $opening }, wahrscheinlich { $path } ({ $percent } sicher)
rank-located-own = { $subject }: gefunden: { $opening } ({ $percent } sicher)
rank-shared = { $subject }: mehrere: eigenes Zischen an { $places } (zusammen { $percent })
rank-none-heard = { $subject }: nichts gehört: kein Zischen an den abgehörten Öffnungen ({ $elsewhere } für keine davon)
rank-cannot-tell = { $subject }: nicht entscheidbar: { $places } (zusammen { $percent })
rank-cannot-tell-unfit = { $subject }: nicht entscheidbar: die Aufnahmen lassen keine Antwort zu
rank-would-be-heard = Ein Zischen über { $level } dB FS wäre an jeder Öffnung gehört worden (am wenigsten sicher: { $opening }; 95 %).
rank-answer-set = Zusammen mindestens 95 %: { $places }.
rank-member = { $place } { $percent }
rank-spill = Übersprechen, kein eigenes Leck: { $places }.
rank-hiss = { $level } ({ $low } bis { $high })
rank-no-quiet = getaktet
rank-caveats = Vorbehalte:
rank-column-opening = Öffnung
rank-column-probability = wahrscheinl.
rank-column-hiss = Zischen, dB FS
rank-column-above = über Ruhe, dB

## Was als Nächstes zu tun ist

next-none-heard = Weiter: den Wert der Manometer daneben halten. Verliert der Zylinder mehr, als er darf, geht die Luft dort weg, wo niemand gehört hat: das Prüfgerät allein prüfen, dann am Kühlmitteleinfüllstutzen und an den Kerzenlöchern der Nachbarn hören.
next-cannot-tell = Weiter: { $places } noch einmal aufnehmen, je zweimal ohne und mit Luft, das Mikrofon an derselben Stelle; abstellen, was laut ist und sich ändert, oder die Luft takten.
next-cannot-tell-elsewhere = Weiter: { $places } noch einmal aufnehmen, je zweimal ohne und mit Luft, das Mikrofon an derselben Stelle und näher; danach an den Öffnungen hören, die noch fehlen.
next-cannot-tell-unfit = Weiter: beheben, was die Vorbehalte nennen, und jede Öffnung noch einmal ohne und mit Luft aufnehmen.

## Der Bericht

report-title = Zylinderdichtheit: wohin die Luft entweicht
report-date = Datum
report-tested-by = Geprüft von
report-notes = Anmerkungen
report-findings = Was gefunden wurde
report-comparison = Die Öffnungen im Vergleich
report-levels = Die Messwerte
report-caveats = Was das Vertrauen mindert
report-limits = Was das nicht sagt
report-cautions = Vorsicht, wer die Prüfung wiederholt
report-finding-title = { $subject }: { $call }
report-located = Die entweichende Luft ist an dieser Öffnung zu hören: { $places }. Das deutet auf: { $paths }. Nach den Aufnahmen ist das zu { $percent } wahrscheinlich; es ist ein Hinweis, kein Beweis.
report-shared = Entweichende Luft ist an mehr als einer Öffnung zu hören: { $places }. Das deutet auf: { $paths }. Keines der Geräusche ist nur das Übersprechen des anderen.
report-none-heard = An den aufgenommenen Öffnungen war keine entweichende Luft zu hören.
report-cannot-tell = Die Aufnahmen lassen noch keine sichere Antwort zu. Noch einmal aufnehmen ist besser als raten.
report-figure = { $subject }: das Zischen an jeder Öffnung und der Schall mit Luft gegen Ruhe. Pegel (dB FS) in Dezibel gegen die Vollaussteuerung der Aufnahme.
report-levels-of = { $subject }: Wahrscheinlichkeit und Pegel des Zischens je Öffnung
report-column-opening = Öffnung und Weg der Luft
report-column-probability = Wahrscheinlich
report-column-hiss = Zischen, dB FS
report-column-above = Über Ruhe, dB
report-caveat = { $found }. Was zu tun ist: { $remedy }
report-colophon = Erstellt mit hissward { $version }.
limit-severity = Wie schlimm es ist. Das Manometer sagt, wie viel Luft entweicht, das Geräusch sagt, wo. Lauteres Zischen heißt nicht größeres Leck.
limit-proof = Wie das Teil aussieht. Ein undichter Kolbenring und eine riefige Laufbahn klingen gleich; erst der Blick durchs Kerzenloch oder in den geöffneten Motor zeigt es.
limit-places = Irgendetwas über Öffnungen, an denen niemand aufgenommen hat.

## Vorsicht

caution-maker = Die Anweisungen des Herstellers und die örtlichen Vorschriften gehen vor. Den Prüfdruck des Herstellers nie überschreiten.
caution-crank = Luft im Zylinder kann die Kurbelwelle ohne Warnung drehen: blockieren, Werkzeug abziehen, Hände, Haare und Kleidung fernhalten. Den Druck langsam steigern.
caution-face = Schutzbrille mit Seitenschutz und Gehörschutz tragen. Nie Gesicht oder Ohr an eine Öffnung unter Druck halten; dort gehört das Mikrofon hin.
caution-pressure = Den Druck ablassen, bevor der Adapter herausgeschraubt wird.
caution-hot = Den Kühler nur kalt öffnen; das Kühlmittel ist heiß und steht unter Druck. Der Auspuff verbrennt die Haut.
caution-fuel = Keine Flamme und kein Funke bei Kraftstoffdämpfen. Kurbelgehäuse- und Abgase sind giftig.
caution-qualified = Wo das Gesetz eine zugelassene oder befähigte Person verlangt, etwa bei Luftfahrzeugen, entscheidet diese.
