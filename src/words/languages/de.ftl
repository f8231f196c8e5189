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
