# Alle Sätze für Menschen, auf Deutsch.
decimal-mark = ,

## Öffnungen

opening-intake = Ansaugöffnung
opening-exhaust = Auspuff
opening-oil-filler = Öleinfüllöffnung
opening-coolant-filler = Kühlmitteleinfüllöffnung
opening-plug-hole = Kerzenloch von Zylinder { $number }
opening-rig = Prüfgerät

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

## Aufnahmen

caveat-cut-off-file = { $file }: Die Datei ist abgeschnitten: { $kept_s } s von { $promised_s } s sind da
    .remedy = Noch einmal vom Aufnahmegerät kopieren. Was da ist, wird verwendet.
caveat-unfinished-file = { $file }: Das Aufnahmegerät hat diese Datei nie abgeschlossen; { $kept_s } s sind da
    .remedy = Anhören, ob sie endet, wo sie soll. Was da ist, wird verwendet.
caveat-header-too-short = { $file }: Laut Dateikopf sind es nur { $kept_s } s, dahinter liegen noch etwa { $unread_s } s
    .remedy = Noch einmal als WAV ausgeben, falls Ton fehlt. Verwendet wird, was der Dateikopf angibt.
caveat-several-channels = { $file }: Die { $channels } Kanäle sind verschieden; Kanal 1 wird verwendet
    .remedy = Den Kanal nennen, dessen Mikrofon an der Öffnung war, falls es ein anderer ist.
caveat-first-channel-silent = { $file }: Kanal 1 ist stumm, Kanal { $channel } nicht
    .remedy = Kanal { $channel } nennen.
caveat-damaged-packets = { $file }: { $packets } Stücke sind beschädigt und bleiben weg
    .remedy = Noch einmal vom Aufnahmegerät kopieren.
caveat-device-failed = Das Mikrofon { $device } ist nach { $kept_s } s ausgefallen ({ $said })
    .remedy = Stecker und Kabel prüfen und noch einmal aufnehmen. Was vorher kam, bleibt erhalten.
caveat-device-silent = Vom Mikrofon { $device } kam nach { $kept_s } s kein Ton mehr
    .remedy = Stecker und Kabel prüfen oder das Tonsystem neu starten und noch einmal aufnehmen. Was vorher kam, bleibt erhalten.
caveat-file-ended = Die Datei nahm nach { $kept_s } s nichts mehr auf: { $said }
    .remedy = Platz schaffen oder in einen anderen Ordner aufnehmen. Was vorher kam, bleibt erhalten.
caveat-sound-lost = { $lost_ms } ms Ton gingen verloren, weil dieser Rechner zu beschäftigt war
    .remedy = Andere Programme schließen und noch einmal aufnehmen.
caveat-overruns = Das Tonsystem hat auf dem Weg hierher { $times } Mal Ton verloren
    .remedy = Andere Programme schließen, das Mikrofon direkt am Rechner anstecken und noch einmal aufnehmen.
caveat-device-changed = Das System ist während der Aufnahme von { $device } zu einem anderen Mikrofon gewechselt
    .remedy = Das Mikrofon fest anstecken und noch einmal aufnehmen.

## Mikrofone

mics-none = Kein Mikrofon gefunden: eines anstecken; anderswo gemachte Aufnahmen nimmt 'hissward add' auf
mic-shape = { $rate } Hz, { $channels } Kan., { $kind }
mic-useful = brauchbar
mic-monitor = nicht brauchbar: hört, was dieser Rechner spielt, nicht den Raum
mic-narrow-band = nicht brauchbar: endet unterhalb des Zischens, wie Telefon-Headsets
mic-blocked = nicht zu öffnen: ein anderes Programm hat es belegt, oder es ist nicht erlaubt
mic-default = wird genommen, wo keines genannt ist
