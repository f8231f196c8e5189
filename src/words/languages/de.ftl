# Alle Sätze für Menschen, auf Deutsch.
decimal-mark = ,

## Öffnungen

opening-intake = Ansaugöffnung
    .short = Ansaugung
opening-exhaust = Auspuff
    .short = Auspuff
opening-oil-filler = Öleinfüllöffnung
    .short = Öleinfüllung
opening-dipstick = Ölmessstabrohr
    .short = Messstab
opening-breather = Kurbelgehäuseentlüftung
    .short = Entlüftung
opening-crankcase = Kurbelgehäuse
    .short = Kurbelgehäuse
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
call-shared = mehrere undichte Stellen
call-none-heard = nichts gehört
call-cannot-tell = nicht entscheidbar

## Findings: parts of a text

section-found = Was gefunden wurde
section-sure = Wie sicher das ist
section-means = Was es bedeutet
section-follows = Was noch daraus folgt
section-silent = Was es nicht sagt
section-next = Was als Nächstes zu tun ist
section-cautions = Dabei beachten

cylinder-one = Zylinder { $list }
cylinders-many = Zylinder { $list }

## Findings: where the hiss was

at-intake = an der Ansaugöffnung
at-exhaust = am Auspuff
at-oil-filler = an der Öleinfüllöffnung
at-dipstick = am Ölmessstabrohr
at-breather = an der Kurbelgehäuseentlüftung
at-crankcase = am Kurbelgehäuse
at-coolant-filler = an der Kühlmitteleinfüllöffnung
at-plug-hole = am Kerzenloch von Zylinder { $number }
at-rig = am Prüfgerät
at-other = bei „{ $opening }“

heard-where = Ein Zischen war { $where } zu hören.
heard-spill = Was { $spill } zu hören war, ist dasselbe Zischen, das herüberdringt, keine zweite undichte Stelle.
heard-spill-crankcase = Was { $spill } zu hören war, ist dasselbe Zischen, das herüberdringt, oder das übliche Durchblasen an den Ringen, keine zweite undichte Stelle.
heard-nothing = An keiner der abgehörten Öffnungen hob sich ein Zischen vom Lärm ab.
heard-undecided = Die Aufnahmen klären nicht, wo die Luft entweicht.
loss-shown = Das Manometer zeigt einen Verlust von { $shown } % der Prüfluft ({ $shown-low } bis { $shown-high } %), die Undichtheit des Prüfgeräts eingeschlossen.

## Findings: how much is lost

loss-net = Ohne die Undichtheit des Prüfgeräts verliert der Zylinder selbst { $loss } % ({ $low } bis { $high } %); danach werden die Zylinder verglichen.
loss-net-otherwise = Dieser Wert hieße „{ $verdict }“; Grenzen gelten aber für den abgelesenen Wert.
loss-unjudged = Das Manometer zeigte einen Verlust von { $shown } % der Prüfluft, die Undichtheit des Prüfgeräts eingeschlossen; er wird hier nicht beurteilt.
loss-stands-out = Das ist weit mehr, als die anderen Zylinder dieses Motors verlieren, und das wiegt schwerer als der Wert allein.

verdict-excellent = sehr gut
verdict-good = gut
verdict-fair = brauchbar, im Auge behalten
verdict-suspect = Handlungsbedarf

judged = Nach { $band }: { $verdict }.
judged-under = Nach { $band }: { $verdict } (Handlungsbedarf bei { $edge }).
judged-over = Das sind { $edge }: { $verdict } nach { $band }.
judged-at = Nach { $band } liegt das an der Grenze (Handlungsbedarf bei { $edge }); auf welcher Seite, zeigen die Manometer nicht.
judged-through = Durch eine Drossel von { $restrictor }, für die die Grenze gilt, würde dieselbe Undichtheit { $percent } % zeigen.
judged-otherwise = Andere Maßstäbe weichen ab: { $others }.
judged-other = { $verdict } nach { $band }
edge-over = mehr als { $limit } %
edge-from = { $limit } % oder mehr

band-maker = der Grenze des Herstellers ({ $source })
    .short = der Grenze des Herstellers
band-common-practice = üblicher Praxis (ohne veröffentlichte Quelle; für eine Drossel von etwa 1 mm, 0,040 Zoll)
    .short = üblicher Praxis
band-aircraft = FAA AC 43.13-1B für Flugmotoren (Drossel 0,040 Zoll, ab 5 Zoll Bohrung 0,060 Zoll)
    .short = FAA AC 43.13-1B

## Findings: how sure

sure-located = Nach dem Klang ist die undichte Stelle hier: { $probability } wahrscheinlich, nicht sicher.
sure-located-normal = Das Zischen kommt von hier: { $probability } wahrscheinlich.
sure-located-joint = Nach Manometer und Klang zusammen ist die undichte Stelle hier: { $probability } wahrscheinlich, nicht sicher.
sure-sound-alone = Ohne Manometer sagt der Klang: { $alone-call }; am wahrscheinlichsten { $alone } ({ $alone-probability }).
sure-shared = Ein Zischen war { $where } zu hören. Wahrscheinlich ist jedes eine eigene undichte Stelle und nicht das andere, das herüberdringt.
sure-none-heard = Ein Zischen über { $level } dB FS wäre aufgefallen. Eine undichte Stelle kann leiser sein, oder sie liegt dort, wo nicht abgehört wurde.
    .customer = Aus dem Lärm hob sich kein Zischen ab. Eine sehr leise undichte Stelle kann überhört werden, ebenso eine dort, wo nicht abgehört wurde.
sure-cannot-tell = Der Klang klärt es noch nicht: Keine Stelle ist wahrscheinlich genug, um danach zu handeln.
sure-on-the-edge = Der Wert liegt zu nah an der Grenze für ein sicheres Urteil; eine zweite Messung kann auf die andere Seite fallen.
sure-from-neighbour = Die Aufnahmen dieses Zylinders klären allein nichts; der Befund stützt sich auf die von Zylinder { $neighbour }.
sure-partner-agrees = Auch Zylinder { $neighbour } verliert nach der Messung viel; das spricht dafür.
sure-partner-disagrees = Zylinder { $neighbour } selbst hält besser, als es eine solche Undichtheit zuließe; das spricht dagegen.
sure-cold = Der Motor war kalt. Kalt gemessene Werte fallen schlechter und unsicherer aus als warm gemessene.
sure-cold-alike = Die anderen Zylinder waren ebenso kalt und zeigen fast dasselbe; es kann also allein die Kälte sein.
sure-round-exhaust = In dieser Kurbelstellung steht das Auslassventil von Zylinder { $neighbour } offen: Luft am Auslassventil dieses Zylinders vorbei käme über den Krümmer ebenfalls dort heraus.
sure-round-intake = In dieser Kurbelstellung steht das Einlassventil von Zylinder { $neighbour } offen: Luft am Einlassventil dieses Zylinders vorbei käme über das Saugrohr ebenfalls dort heraus.
sure-round-both = In dieser Kurbelstellung kann ein Ventil von Zylinder { $neighbour } offen stehen: Luft an einem Ventil dieses Zylinders vorbei käme über den Krümmer ebenfalls dort heraus.
sure-round-shut = In dieser Kurbelstellung sind beide Ventile von Zylinder { $neighbour } geschlossen; über einen Krümmer kam die Luft also nicht.

## Findings: of one cylinder

finding-rig-is-the-leak = Zylinder { $cylinder }: Das Prüfgerät selbst ist undicht.
    .technician = Das Zischen kommt vom Schlauch, vom Adapter oder vom Kerzensitz, also von außerhalb des Motors. Das Manometer zählt diese Luft mit; solange das Prüfgerät nicht hält, sagt der Wert nichts über den Zylinder.
    .customer = Zylinder { $cylinder } lässt sich noch nicht beurteilen: Das Prüfgerät selbst war undicht. Gegen den Motor sagt das nichts.
    .customer-next = Das Prüfgerät abdichten, dann Zylinder { $cylinder } noch einmal prüfen.

finding-gauges-disagree = Zylinder { $cylinder }: Die beiden Manometer stimmen nicht überein.
    .technician = Das Manometer hinter der Drossel zeigt mehr als das davor; das tut keine undichte Stelle. Bei geschlossenem Hahn zum Zylinder fließt nichts, und beide müssen dasselbe zeigen; was sie dann auseinander liegen, wird von jedem Wert abgezogen.
    .customer = Zylinder { $cylinder } lässt sich noch nicht beurteilen: Die Manometer des Prüfgeräts stimmen nicht überein. Das ist kein Befund gegen den Motor.
    .customer-next = Die Manometer werden verglichen, und der Zylinder wird neu abgelesen.

finding-rig-in-the-way = Zylinder { $cylinder }: Nicht beurteilt, das Prüfgerät ist daneben zu undicht.
    .technician = Das Prüfgerät verliert selbst so viel, dass der Wert wenig über den Zylinder sagt. Was nach dem Abziehen bleibt, hängt an kleinen Fehlern beider Werte. Das Prüfgerät abdichten, dann Prüfgerät und Zylinder neu ablesen.
    .customer = Zylinder { $cylinder } lässt sich noch nicht beurteilen: Das Prüfgerät verlor selbst zu viel Luft. Das ist kein Befund gegen den Motor.
    .customer-next = Das Prüfgerät wird abgedichtet und der Zylinder noch einmal geprüft.

finding-nearly-all-lost = Zylinder { $cylinder }: Fast die ganze Luft geht verloren.
    .technician = So viel verliert kein verschlissenes Ventil und kein verschlissener Ring. Entweder steht der Kolben nicht im oberen Totpunkt des Verdichtungstakts, oder ein Ventil wird offen gehalten (Ventilspiel, etwas auf dem Sitz, ein krummer Schaft), oder Adapter oder Kerzensitz sind undicht, oder es ist ein Loch da. Zuerst die Stellung prüfen; wo es zischt, sagt vorher nichts.
    .customer = Zylinder { $cylinder } lässt sich noch nicht beurteilen: Fast die ganze Luft ging verloren, wie es geschieht, wenn der Motor nicht genau in der Prüfstellung steht oder ein Ventil offen ist.
    .customer-next = Der Motor wird neu in Stellung gebracht und der Zylinder noch einmal geprüft. Bleibt es dabei, wird durch das Kerzenloch hineingesehen.

finding-gasket-or-crack = Zylinder { $cylinder }: Luft gelangt ins Kühlmittel.
    .technician = Prüfluft, die im Kühlmittel aufsteigt, geht durch die Zylinderkopfdichtung oder durch einen Riss in Kopf, Laufbuchse oder Block. Erst die Blasen sehen und das Kühlsystem unter Druck setzen, dann urteilen; bis dahin läuft der Motor nicht.
    .customer = Luft, die in Zylinder { $cylinder } gedrückt wird, war im Kühlsystem zu hören, wo keine hingehört. Die Dichtung zwischen Zylinderkopf und Block oder eines dieser Teile lässt sie vielleicht durch.
    .customer-next = Den Motor nicht laufen lassen, bis das Kühlsystem geprüft ist. Danach entscheidet sich, ob der Zylinderkopf herunter muss.

finding-gasket-to-neighbour = Zylinder { $cylinder }: Luft geht hinüber in Zylinder { $neighbour }.
    .technician = Luft am Kerzenloch des Zylinders daneben, die kein offenes Ventil dorthin bringt, geht durch die Zylinderkopfdichtung auf dem Steg zwischen den beiden Bohrungen.
    .customer = Luft, die in Zylinder { $cylinder } gegeben wird, kommt aus Zylinder { $neighbour } daneben heraus. Sehr wahrscheinlich ist die Dichtung zwischen Zylinderkopf und Block zwischen den beiden undicht.
    .customer-next = Der Motor läuft, und beide Zylinder werden noch einmal geprüft. Bestätigt es sich, muss der Zylinderkopf herunter, um die Dichtung zu erneuern.

finding-across-or-round = Zylinder { $cylinder }: Seine Luft kommt aus Zylinder { $neighbour } daneben, durch die Dichtung oder über ein Ventil.
    .technician = Zwei Wege führen dorthin: die Zylinderkopfdichtung auf dem Steg zwischen den Bohrungen, oder an einem Ventil dieses Zylinders vorbei in den Krümmer und durch ein offenes Ventil des anderen hinein. Luft von der anderen Seite trennt die beiden: Eine Dichtung lässt in beiden Richtungen durch.
    .customer = Luft, die in Zylinder { $cylinder } gedrückt wird, kommt aus Zylinder { $neighbour } daneben heraus. Sie kann durch die Dichtung zwischen beiden gehen oder durch ein Rohr, das beide teilen; das ist noch nicht geklärt.
    .customer-next = Die Luft wird auch von der anderen Seite aufgegeben; das dauert Minuten und klärt es.

finding-round-by-manifold = Zylinder { $cylinder }: Seine Luft kommt über einen Krümmer aus Zylinder { $neighbour }.
    .technician = Die beiden Zylinder stehen nicht nebeneinander, also verbindet sie keine Dichtung. Die Luft geht an einem Ventil dieses Zylinders vorbei in den Krümmer und durch ein offenes Ventil des anderen hinaus: Ein Ventil dieses Zylinders ist undicht.
    .customer = Zylinder { $cylinder } verliert Luft an einem seiner Ventile; sie kommt über Zylinder { $neighbour } heraus, dessen Ventil in diesem Augenblick offen steht.
    .customer-next = Bei verschlossenen anderen Zylindern wird noch einmal abgehört; das zeigt, welches Ventil es ist.

finding-gasket-from-neighbour = Zylinder { $cylinder }: Luft geht verloren, und die von Zylinder { $neighbour } kommt hier heraus.
    .technician = Beide Verluste sind wohl ein und dieselbe Undichtheit, von zwei Seiten gesehen: die Zylinderkopfdichtung auf dem Steg zwischen den Bohrungen.
    .customer = Zylinder { $cylinder } verliert Luft, und Luft aus Zylinder { $neighbour } daneben kommt hier heraus. Sehr wahrscheinlich ist die Dichtung zwischen Zylinderkopf und Block zwischen den beiden undicht.
    .customer-next = Die Luft auch von dieser Seite geben. Geht sie wieder hinüber, muss der Zylinderkopf herunter, um die Dichtung zu erneuern.

finding-gasket-suspected = Zylinder { $cylinder }: viel Verlust wie beim Zylinder daneben, die Stelle ist nicht bekannt.
    .technician = Zwei Zylinder nebeneinander, die beide schlecht halten, können eine gemeinsame undichte Stelle haben: die Zylinderkopfdichtung zwischen ihnen. Gehört hat sie noch niemand; das ist ein Verdacht, kein Befund.
    .customer = Zylinder { $cylinder } und der daneben verlieren beide viel Luft. Vielleicht haben sie eine gemeinsame undichte Stelle; gezeigt ist das noch nicht.
    .customer-next = Luft in einen der beiden Zylinder geben und den anderen abhören. Das dauert Minuten und klärt es.

finding-louder-than-its-flow = Zylinder { $cylinder }: Das Zischen { $where } ist weit lauter, als sein Verlust es erklärt.
    .technician = Neben Zylinder { $neighbour }, der an derselben Öffnung undicht ist, folgt das Zischen der Menge: zehn bis siebenundzwanzig Dezibel für die zehnfache Luft, auf etwa sechs genau. Dieses liegt mehr als fünfzehn Dezibel darüber. Also stimmt eine Messung nicht: Das Manometer dieses Zylinders wurde abgelesen, bevor der Zeiger zur Ruhe kam oder in anderer Stellung, andere Luft zischte in seine Aufnahme, oder die Aufnahme von Zylinder { $neighbour } war weiter entfernt. Zuerst das Manometer an Zylinder { $cylinder } noch einmal ablesen, dann seine Aufnahmen wiederholen, dann die von Zylinder { $neighbour }.
    .customer = Bei Zylinder { $cylinder } passen der gemessene Verlust und das gehörte Zischen nicht zusammen; darum wird eine der beiden Messungen wiederholt.
    .customer-next = Der Verlust von Zylinder { $cylinder } wird noch einmal gemessen, dann wird er noch einmal abgehört.

finding-cold-rings = Zylinder { $cylinder }: Luft geht am Kolben vorbei, aber der Motor war kalt.
    .technician = Kolbenringe dichten durch ihr Öl und ihre Wärme; es kann also allein die Kälte sein.
    .customer = Zylinder { $cylinder } lässt Luft am Kolben vorbei. Der Motor war bei der Prüfung kalt, und ein kalter Motor tut das immer mehr als ein warmer.
    .customer-next = Den Motor warmlaufen lassen und noch einmal prüfen, bevor geurteilt wird. Auf diesen Wert hin keine Arbeit beauftragen.

finding-cold-and-silent = Zylinder { $cylinder }: mehr Verlust als bei einem guten Motor, aber er war kalt, und keine undichte Stelle war zu hören.
    .technician = Ein kalter Motor zeigt schlechtere Werte. Kein Weg der Luft sticht hervor, also gibt es keinen Grund, etwas zu zerlegen.
    .customer = Zylinder { $cylinder } verliert etwas mehr Luft als ein guter. Der Motor war kalt, und das allein kann den Unterschied machen.
    .customer-next = Den Motor warmlaufen lassen und noch einmal prüfen, bevor geurteilt wird. Auf diesen Wert hin keine Arbeit beauftragen.

finding-both-valves = Zylinder { $cylinder }: Luft geht an beiden Ventilen vorbei.
    .technician = Beide Ventile eines Zylinders sind undicht: Ventilspiel, Ölkohle oder verschlissene Sitze. Stünde der Kolben nicht im oberen Totpunkt, wäre ein Ventil offen und fast alle Luft verloren; am Kolben liegt es also kaum. Zur Sicherheit trotzdem noch einmal in den oberen Totpunkt gehen.
    .customer = Zylinder { $cylinder } verliert an beiden Ventilen Luft.
    .customer-next = Der Motor läuft und wird noch einmal geprüft. Ventilspiel und Ablagerungen werden geprüft, bevor jemand den Zylinderkopf abnimmt.

finding-two-leaks = Zylinder { $cylinder }: Luft entweicht { $where }, jeweils mehr als üblich.
    .technician = Es gibt mehr als einen Weg: an einem Ventil vorbei, und am Kolben vorbei mehr als bei den anderen Zylindern. Das Manometer kennt nur die Summe, und das lautere Zischen ist nicht immer die größere Undichtheit.
    .customer = Zylinder { $cylinder } verliert an mehr als einer Stelle Luft. Wie sich der Verlust verteilt, ist nicht bekannt.
    .customer-next = An Zylinder { $cylinder } mit dem Einfachen beginnen: Motor laufen lassen, Ventilspiel prüfen, Ventil von Ablagerungen befreien. Nach jedem Schritt wieder messen; so zeigt sich, was geholfen hat.

finding-past-the-piston = Zylinder { $cylinder }: Luft geht am Kolben vorbei.
    .technician = Beim Zweitakter sind Einlass und Auslass Schlitze in der Laufbahn, und im oberen Totpunkt deckt der Kolben sie zu. Luft, die dort zu hören ist, kam an den Ringen vorbei (außer bei Gleichstrommotoren mit Auslassventilen). Durch das Kurbelgehäuse erreicht sie Membranen und Wellendichtringe; die können also ohne eigenen Fehler zischen.
    .customer = Zylinder { $cylinder } lässt Luft am Kolben vorbei. Verschlissene oder festsitzende Kolbenringe oder Verschleiß der Laufbahn sind die wahrscheinliche Ursache.
    .customer-next = Der Motor läuft und wird noch einmal geprüft. Danach zeigt ein Blick durch den Schlitz Ringe und Laufbahn, ohne etwas zu zerlegen.

finding-exhaust-valve = Zylinder { $cylinder }: Luft geht am Auslassventil vorbei.
    .technician = Ein verbrannter oder narbiger Sitz, Ölkohle darauf, oder so wenig Ventilspiel, dass das Ventil nicht schließt. Ein krummes Ventil tut dasselbe.
    .customer = Zylinder { $cylinder } verliert Luft in den Auspuff. Das Ventil, das dort abschließen soll, dichtet sehr wahrscheinlich nicht.
    .customer-next = Der Motor läuft und wird noch einmal geprüft. Ehe der Zylinderkopf geöffnet wird, werden dann zwei einfache Dinge versucht: das Ventilspiel zu prüfen und das Ventil von Ablagerungen zu befreien.

finding-exhaust-valve-small = Zylinder { $cylinder }: Hält gut, doch etwas Luft geht am Auslassventil vorbei.
    .technician = Ein Ventil ist eine ruhende Dichtung und sollte gar nicht undicht sein. Meist ist es Ölkohle auf dem Sitz oder zu knappes Ventilspiel; heißes Gas macht eine kleine Undichtheit dort größer, also sieht man jetzt danach und nicht erst bei der nächsten Überholung.
    .customer = Zylinder { $cylinder } hält die Luft gut. Etwas davon geht am Auslassventil vorbei, das ganz schließen sollte; bleibt das so, wird es meist mehr.
    .customer-next = Der Motor läuft und wird bald noch einmal geprüft; das Ventilspiel wird kontrolliert.

finding-intake-valve = Zylinder { $cylinder }: Luft geht am Einlassventil vorbei.
    .technician = Ein krummes Ventil, Ölkohle auf dem Sitz, oder so wenig Ventilspiel, dass das Ventil nicht schließt. Luft vom Kolben, die die Kurbelgehäuseentlüftung in den Ansaugweg führt, ist dort ebenfalls zu hören.
    .customer = Zylinder { $cylinder } verliert Luft in den Ansaugweg. Das Ventil, das dort abschließen soll, dichtet sehr wahrscheinlich nicht.
    .customer-next = Der Motor läuft und wird noch einmal geprüft. Ehe der Zylinderkopf geöffnet wird, werden dann zwei einfache Dinge versucht: das Ventilspiel zu prüfen und das Ventil von Ablagerungen zu befreien.

finding-intake-valve-small = Zylinder { $cylinder }: Hält gut, doch etwas Luft geht am Einlassventil vorbei.
    .technician = Ein Ventil ist eine ruhende Dichtung und sollte gar nicht undicht sein. Meist ist es Ölkohle auf dem Sitz oder zu knappes Ventilspiel; oder es ist Luft vom Kolben, die die Entlüftung in den Ansaugweg führt.
    .customer = Zylinder { $cylinder } hält die Luft gut. Etwas davon geht am Einlassventil vorbei, das ganz schließen sollte.
    .customer-next = Der Motor läuft und wird noch einmal geprüft; das Ventilspiel wird kontrolliert.

finding-rings-or-bore = Zylinder { $cylinder }: Luft geht am Kolben vorbei ins Kurbelgehäuse.
    .technician = Verschlissene, festsitzende oder gebrochene Ringe, oder eine verschlissene oder riefige Laufbahn; ein beschädigter Kolben klingt ebenso. Etwas Luft geht immer an den Ringen vorbei; darum entscheidet hier die Menge, und die zeigt das Manometer.
    .customer = Zylinder { $cylinder } lässt Luft am Kolben vorbei in den unteren Teil des Motors. Verschlissene oder festsitzende Kolbenringe oder Verschleiß der Laufbahn sind die wahrscheinliche Ursache.
    .customer-next = Der Motor läuft und wird noch einmal geprüft. Bleibt es dabei, zeigt ein Versuch mit etwas Öl im Zylinder, ob eher die Ringe oder die Laufbahn die Ursache sind; für beides muss der Motor geöffnet werden, darum lohnt es, das vorher zu wissen.

finding-rings-normal = Zylinder { $cylinder }: hält gut; das Zischen { $where } ist normal.
    .technician = An den Ringen jedes Motors geht etwas Luft vorbei, und sie ist immer zu hören. Bei diesem Verlust ist nichts zu tun.
    .customer = Zylinder { $cylinder } hält die Luft gut. Das leise Zischen am Kolben vorbei hat jeder gesunde Motor.
    .customer-next = An Zylinder { $cylinder } ist nichts zu tun.

finding-small-leak = Zylinder { $cylinder }: Hält gut; eine kleine Undichtheit ist { $where } zu hören.
    .technician = Nach dem Manometer ist nichts zu reparieren. Wo so wenig entweicht, ist gut zu wissen und noch keinen Schraubenschlüssel wert.
    .customer = Zylinder { $cylinder } hält die Luft gut. Eine kleine undichte Stelle ist zu hören, zu klein, um Arbeit zu verlangen.
    .customer-next = Jetzt ist nichts zu reparieren. Die Prüfung wird bei der nächsten Wartung wiederholt.

finding-other-opening = Zylinder { $cylinder }: Luft war { $where } zu hören.
    .technician = Diese Öffnung wurde selbst benannt; das Programm kennt dafür keinen Weg der Luft.
    .customer = Luft, die in Zylinder { $cylinder } gegeben wird, war { $where } zu hören.
    .customer-next = Dem Geräusch von Zylinder { $cylinder } von dort aus nachgehen.

finding-lost-not-all-heard = Zylinder { $cylinder }: Luft geht verloren, und eine Stelle ist noch nicht abgehört: { $missing }.
    .technician = An den aufgenommenen Öffnungen nennt kein Zischen eine Stelle, und eine der üblichen drei fehlt. Gut möglich, dass die Luft dort austritt: erst dort aufnehmen, dann weitersuchen.
    .customer = Zylinder { $cylinder } verliert Luft. Eine der üblichen Stellen wurde noch nicht abgehört; wo die Luft bleibt, ist also offen.
    .customer-next = An Zylinder { $cylinder } auch dort abhören: { $missing }. Vorher nichts zerlegen.

finding-lost-but-silent = Zylinder { $cylinder }: Luft geht verloren, aber kein Zischen war zu hören.
    .technician = Irgendwohin geht sie: dorthin, wo nicht abgehört wurde, oder hier unter dem Lärm. Zuerst die Verbindungen des Prüfgeräts absuchen, dann das Kühlmittel, dann die Kerzenlöcher der Nachbarn, und an diesen Öffnungen noch einmal mit getakteter Luft aufnehmen.
    .customer = Zylinder { $cylinder } verliert Luft, aber keine undichte Stelle war zu hören. Das kann am Prüfgerät ebenso liegen wie am Motor.
    .customer-next = Das Prüfgerät prüfen, dann Zylinder { $cylinder } dort abhören, wo es noch niemand getan hat.

finding-lost-undecided = Zylinder { $cylinder }: Luft geht verloren; wo, ist nicht geklärt.
    .technician = Das Manometer zeigt einen Verlust, den die Aufnahmen noch nicht erklären. Eine bessere Aufnahme kostet weniger als ein zu Unrecht abgebauter Zylinderkopf.
    .customer = Zylinder { $cylinder } verliert Luft. Wo, war im Lärm des Tages nicht zu klären, und dieser Bericht rät nicht.
    .customer-next = Die Aufnahmen von Zylinder { $cylinder } zu einer ruhigeren Zeit wiederholen oder die Luft im Takt auf- und zudrehen. Vorher nichts zerlegen.

finding-lost-unheard = Zylinder { $cylinder }: Luft geht verloren; abgehört wurde noch nicht.
    .technician = Das Manometer sagt, wie viel, aber nicht, wo.
    .customer = Zylinder { $cylinder } verliert Luft. Wo sie entweicht, wurde noch nicht gesucht.
    .customer-next = Die Öffnungen von Zylinder { $cylinder } eine nach der anderen abhören.

finding-healthy-cold = Zylinder { $cylinder }: hält gut, auch kalt.
    .technician = Ein kalter Motor zeigt schlechtere Werte als ein warmer; ein guter Wert, kalt gemessen, gilt also. Es gibt nichts zu suchen.
    .customer = Zylinder { $cylinder } hält die Luft gut, obwohl der Motor kalt war.
    .customer-next = Es ist nichts zu tun. Für den Vergleich in späteren Jahren warm prüfen.

finding-healthy = Zylinder { $cylinder }: Hält gut.
    .technician = Es gibt nichts zu suchen.
    .customer = Zylinder { $cylinder } hält die Luft gut.
    .customer-next = An Zylinder { $cylinder } ist nichts zu tun.

finding-undecided = Zylinder { $cylinder }: die Aufnahmen klären es nicht, und ein Manometer wurde nicht abgelesen.
    .technician = Ohne Messwert gibt es vielleicht gar nichts zu finden. Zuerst das Manometer ablesen: Es sagt, ob sich die Suche lohnt.
    .customer = Über Zylinder { $cylinder } lässt sich noch nichts sagen, weder Gutes noch Schlechtes.
    .customer-next = Zuerst den Verlust von Zylinder { $cylinder } messen; er zeigt, ob es etwas zu suchen gibt.

finding-silent-unmeasured = Zylinder { $cylinder }: Nichts war zu hören, und ein Manometer wurde nicht abgelesen.
    .technician = Stille an den Öffnungen ist ein gutes Zeichen, aber keine Messung. Die gibt das Manometer.
    .customer = An Zylinder { $cylinder } war keine entweichende Luft zu hören. Wie gut er hält, wurde nicht gemessen.
    .customer-next = Den Verlust von Zylinder { $cylinder } messen.

finding-not-tested = Zylinder { $cylinder }: Noch nicht geprüft.
    .technician = Noch kein Messwert und keine Aufnahme.
    .customer = Zylinder { $cylinder } wurde noch nicht geprüft.
    .customer-next = Zylinder { $cylinder } prüfen.

## Findings: of the engine

finding-rig-leaks = Das Prüfgerät verliert selbst zu viel Luft.
    .technician = Ein Prüfgerät, das so viel verliert wie ein guter Zylinder, verdeckt, was es zeigen soll. Sein Verlust ist von den Werten abgezogen, aber die Unsicherheit wächst damit.
    .customer = Das Prüfgerät verlor selbst etwas Luft. Das wurde von den Ergebnissen abgezogen, so gut es geht.
    .customer-next = Das Prüfgerät abdichten und die Prüfung wiederholen.

finding-rig-unread = Was das Prüfgerät selbst verliert, wurde nicht gemessen.
    .technician = Jeder Wert enthält auch die Undichtheit des Prüfgeräts; Schläuche, Schnellkupplungen und Adapter verlieren oft so viel wie ein guter Zylinder.
    .customer = Die Werte enthalten auch, was das Prüfgerät selbst verloren haben kann; der Motor kann also besser sein, als sie sagen.
    .customer-next = Das Prüfgerät allein messen; das dauert eine Minute.

finding-neighbours-low = Nebeneinander und gemeinsam schlecht: { $cylinders }.
    .technician = Zylinder nebeneinander, die gemeinsam schlecht halten, wecken den Verdacht auf die Zylinderkopfdichtung zwischen ihnen, egal was sonst gefunden wird.
    .customer = Zylinder, die nebeneinander stehen, verlieren gemeinsam Luft. Vielleicht haben sie eine gemeinsame undichte Stelle in der Dichtung zwischen ihnen.
    .customer-next = Prüfen, ob die Luft von einem zum anderen geht.

finding-stands-out = Weit schlechter als der übrige Motor: { $cylinders }.
    .technician = Die Verluste reichen von { $least } bis { $most } %. Die anderen Zylinder wurden mit demselben Prüfgerät, ebenso warm und von derselben Person gemessen. Der Unterschied liegt also am Zylinder und nicht an der Prüfung. Vor jeder Arbeit den Motor laufen lassen und noch einmal ablesen.
    .customer = Der Verlust von { $cylinders } liegt weit über dem des übrigen Motors. Ein schlechter Zylinder fällt dem Fahrer vielleicht nicht auf, bestimmt aber, was der Motor wert ist und welche Arbeit er braucht.
    .customer-next = Den Motor laufen lassen und vor jeder Arbeit noch einmal prüfen.

finding-alike-and-low = Alle Zylinder verlieren etwa gleich viel, und mehr als ein guter Motor.
    .technician = Die Verluste reichen von { $least } bis { $most } %. Ein Verlust, der überall gleich ist, weist auf das, was alle Zylinder gemeinsam haben: das Prüfgerät, die Kälte oder gleichmäßigen Verschleiß.
    .customer = Alle Zylinder verlieren etwa gleich viel. Das spricht eher für die Bedingungen der Prüfung oder für gleichmäßigen Verschleiß als für einen Schaden an einer Stelle.
    .customer-next = Das Prüfgerät prüfen, den Motor warmlaufen lassen und die Prüfung wiederholen, bevor Arbeit beauftragt wird.

finding-alike-and-good = Alle geprüften Zylinder halten gut und etwa gleich.
    .technician = Die Verluste reichen von { $least } bis { $most } %. Der Unterschied zwischen den Zylindern sagt mehr als jeder einzelne Wert, und er ist klein.
    .customer = Alle geprüften Zylinder halten die Luft gut und etwa gleich. So sieht ein gesunder Motor aus.
    .customer-next = Es ist nichts zu tun.

finding-read-cold = Kalt gemessen: { $cylinders }.
    .technician = Kalte Ringe und trockene Laufbahnen geben schlechtere Werte, und sie streuen mehr. Vor einem Urteil warm prüfen.
    .customer = Der Motor war bei der Prüfung kalt, und kalt zeigt jeder Motor schlechtere Werte.
    .customer-next = Die Prüfung am warmen Motor wiederholen.

finding-some-untested = Nicht geprüft: { $cylinders }.
    .technician = Die anderen Zylinder sind der beste Vergleich, den es gibt; ohne sie steht ein Wert allein.
    .customer = Ein Teil des Motors wurde nicht geprüft.
    .customer-next = Auch den Rest prüfen.

## Findings: what to do first, and why

order-rig = Solange das Prüfgerät nicht hält, zählt kein Wert.
order-coolant = Kühlmittel und Gas dürfen sich nicht mischen: Der Motor läuft nicht, bis das geklärt ist.
order-repeat = Eine zweite Prüfung kostet Minuten und kann den Rest ersparen.
order-gasket = Beide Zylinder beurteilt man erst, wenn das geklärt ist.
order-valve = Oft ist das bei aufgesetztem Kopf behoben.
order-rings = Es ist am aufwendigsten zu erreichen; alles Billigere wird vorher versucht.
order-other = Dem nachgehen, wenn das Übrige geklärt ist.

## Findings: what else follows

follows-crankcase-pressure = Luft, die an den Ringen vorbeigeht, setzt das Kurbelgehäuse unter Druck. Was die Entlüftung nicht abführt, drückt anderswo Öl heraus: an den Wellendichtringen der Kurbelwelle, an Deckeln und an der Entlüftung. Neue Dichtringe sind hinausgeworfenes Geld, solange die Ursache nicht behoben ist.
follows-valve-burns-on = Ein Ventil, das heißes Gas durchlässt, brennt weiter ab. Wer den Motor hart fährt, macht die Reparatur größer.
follows-intake-spits = Verbranntes Gas, das in den Ansaugweg zurückgeht, verschmutzt ihn und kann das Gemisch der anderen Zylinder stören.
follows-coolant-loss = Unter Last drückt Gas im Kühlmittel dieses hinaus, und der Motor kann überhitzen; im Stand kann Kühlmittel in den Zylinder laufen.
follows-two-cylinders = Durch eine solche Undichtheit verlieren beide Zylinder; jeden für sich beurteilt man erst, wenn sie behoben ist.

## Findings: what is not said

silent-not-proof = Abhören gibt einen Hinweis, keinen Beweis; das letzte Wort haben die Teile selbst.
silent-loudness = Wie laut es zischt, sagt nicht, wie viel verloren geht: Der Klang sagt wo, das Manometer wie viel.
silent-how-much = Wie viel verloren geht, ist nicht bekannt.
silent-how-long = Wie lange der Motor noch hält, kann diese Prüfung nicht sagen.
silent-rings-or-bore-alike = Ein undichter Ring und eine riefige Laufbahn klingen gleich; am Klang lassen sie sich nicht unterscheiden.
silent-gasket-or-crack-alike = Eine durchgebrannte Dichtung und ein Riss klingen gleich; am Klang lassen sie sich nicht unterscheiden.
silent-valve-cause = Der Klang sagt nicht, ob das Ventil verbrannt, krumm, verschmutzt oder nur zu knapp eingestellt ist.
silent-place-unknown = Wo die Luft entweicht, ist nicht bekannt.
silent-cylinder-not-judged = Über den Zylinder selbst ist nichts gesagt, weder gut noch schlecht.
silent-cold-reading = Was der Motor warm verliert, ist nicht bekannt.
silent-one-value = Ein einzelner Wert ist kein Urteil über den Motor; die Grenzen des Herstellers gehen vor.
silent-layout-unknown = Ob diese Zylinder nebeneinander stehen, ist aus ihren Nummern geschlossen; der Auftrag sagt nicht, wie der Block aufgebaut ist.

## Findings: steps

step-back-to-top = Die Kurbelwelle mindestens eine halbe Umdrehung zurückdrehen und in Drehrichtung neu in den oberen Totpunkt des Verdichtungstakts bringen; dort festhalten.
step-back-to-top-two-stroke = Die Kurbelwelle eine Viertelumdrehung zurückdrehen und neu in den oberen Totpunkt bringen, wo der Kolben alle Schlitze deckt; dort festhalten.
step-borescope = Mit dem Endoskop durch das Kerzenloch sehen: Sitze, Ränder der Ventile, Kolbenboden und Laufbahn.
step-coolant = Bei kaltem Motor den Kühlmitteldeckel öffnen, Luft aufgeben und auf Blasen achten.
step-crankcase-breather = Nachsehen, ob die Entlüftung des Kurbelgehäuses frei ist und wie stark sie bei laufendem Motor bläst.
step-gauges-shut = Den Hahn zum Zylinder schließen, sodass nichts fließt, und beide Manometer ablesen: Sie müssen dasselbe zeigen. Beide mit hissward rig --gauges angeben; was sie auseinander liegen, wird abgezogen.
step-head-bolts = Die Zylinderkopfschrauben nach Angabe des Herstellers prüfen.
step-pulsed-air = Hier noch einmal mit getakteter Luft aufnehmen: Hahn nach dem Signalton auf und zu, dann fällt der Lärm der Werkstatt heraus.
step-lash = Das Ventilspiel prüfen; zu wenig hält das Ventil vom Sitz. Einstellen und noch einmal prüfen.
step-listen-again = Die Aufnahmen ohne und mit Luft wiederholen.
step-makers-limit = Die Werte mit den Grenzen des Herstellers vergleichen; gleichmäßiger Verschleiß hat keinen anderen Maßstab.
step-listen-there = An der Öffnung aufnehmen, die noch fehlt ({ $missing }), ohne und mit Luft.
step-listen-first = An jeder Öffnung ohne und mit Luft aufnehmen, auch am Prüfgerät.
step-neighbour-hole = Luft auf den anderen Zylinder geben und das Kerzenloch von diesem abhören, dann umgekehrt: Eine Dichtung lässt in beiden Richtungen durch.
step-neighbour-reading = Auch am Nachbarzylinder das Manometer ablesen: Eine gemeinsame Dichtung zeigt sich an beiden.
step-oil-in-cylinder = Etwa einen Teelöffel Öl in den Zylinder geben, den Motor von Hand durchdrehen, noch einmal prüfen: Sinkt der Verlust, spricht das für die Ringe und nicht für die Laufbahn. In einer geneigten Bohrung (V-, Boxer- oder Schrägmotor) läuft das Öl zur tiefen Seite und dichtet nur dort; bleibt es gleich, sagt das dann wenig.
step-other-openings = Abhören, wo es noch niemand getan hat: Kühlmittelöffnung, Kerzenlöcher der Nachbarn, Entlüftung, Ölmessstab, rund um die Dichtung.
step-pinch-breather = Den Schlauch von der Kurbelgehäuseentlüftung zum Ansaugweg abklemmen: Verschwindet das Zischen am Einlass, kam es an den Ringen vorbei und nicht am Ventil.
step-plug-the-holes = Die Kerzen der anderen Zylinder wieder einschrauben und Ansaugöffnung und Auspuff abhören: Luft, die über einen Krümmer kam, kommt nun dort heraus.
step-pressure-cooling = Das Kühlsystem unter Prüfdruck setzen und sehen, ob es hält.
step-read-again = Das Manometer noch einmal ablesen.
step-read-again-hot = Bei heißem Motor noch einmal prüfen.
step-read-gauge = Das Manometer ablesen: Der Klang sagt wo, nur das Manometer wie viel.
step-read-gauge-after-each = Nach jedem Schritt das Manometer ablesen; was den Verlust senkt, war Teil der Undichtheit.
step-record-again = In einem ruhigeren Augenblick neu aufnehmen, das Mikrofon bei Ruhe und Luft an derselben Stelle.
step-reeds = Membranen und Wellendichtringe ansehen: Sie zischen, wenn Luft am Kolben vorbei ins Kurbelgehäuse kommt, und schlechte sind bei Druck im Kurbelgehäuse selbst undicht.
step-rig-blank-off = Schlauch und Adapter blind verschließen und ablesen, was das Prüfgerät selbst verliert.
step-rig-joints = Mit Mikrofon oder Seifenwasser an Schlauch, Kupplungen, Adapter und Kerzensitz entlanggehen und festziehen oder erneuern, was zischt. Ein Adapter in der Bohrung einer Düse oder Glühkerze dichtet auf eigener Scheibe oder eigenem Kegel: dort nachsehen.
step-ring-gaps = Ringe, deren Stöße zufällig übereinander stehen, sind eine Zeit lang undicht und werden von selbst wieder gut: den Motor einige Stunden laufen lassen und noch einmal prüfen, ehe er geöffnet wird.
step-rock-piston = Luft ablassen, den Kolben einige Male über den oberen Totpunkt und zurück bewegen, in Drehrichtung neu heraufkommen, damit sich die Ringe setzen, und noch einmal ablesen. Sinkt der Verlust, solange die Luft ansteht, sie anstehen lassen, bis der Zeiger ruhig steht.
step-run-and-repeat = Den Motor mindestens drei Minuten betriebswarm laufen lassen und vor jeder Arbeit noch einmal prüfen: Ölkohle auf einem Sitz und trockene Ringe lassen sich damit oft beheben (AC 43.13-1B).
step-supply-closed = Den Hahn zum Zylinder schließen und abhören: Was dann noch zischt, ist nicht der Zylinder.
step-tap-valve = Luft ablassen. Die Kurbelwelle drehen, bis der Kolben weit vom oberen Totpunkt steht, und von allem wegbleiben, was sich dreht: Ein Ventil, das auf den Kolben geschlagen wird, ist krumm. Dann mit einem weichen Hammer kurz auf den Ventilschaft (oder den Kipphebel darüber) schlagen, damit sich Ölkohle vom Sitz löst, wieder auf den oberen Totpunkt drehen und noch einmal prüfen.
step-test-later = Bei der nächsten Wartung noch einmal prüfen und vergleichen.
step-test-the-others = Die fehlenden Zylinder prüfen.
step-turn-through = Luft ablassen, den Motor von Hand einige Male durchdrehen und sehen, dass beide Ventile frei gehen und auf ihren Sitz zurückkommen.
step-valve-guides = Den Ventildeckel oder den Öldeckel darin abnehmen und dort abhören: Luft an einem Ventil vorbei steigt an einer ausgeschlagenen Führung in den Deckel und ist an der Öleinfüllöffnung zu hören, ohne Fehler der Ringe.
step-warm-engine = Den Motor, wenn er läuft, auf Betriebstemperatur warmlaufen lassen und sofort noch einmal prüfen.

## Findings: cautions

mind-maker-first = Die Angaben des Herstellers und die örtlichen Vorschriften gehen vor; wo das Gesetz eine zugelassene Person verlangt, entscheidet diese.
mind-crank-turns = Luft im Zylinder kann die Kurbelwelle ohne Warnung drehen: nach Angabe des Herstellers feststellen, Schlüssel abziehen, Hände, Haare und Kleidung fernhalten.
mind-piston-away = Kein Ventil wird berührt, solange der Kolben nahe am oberen Totpunkt steht: vorher weit wegdrehen, und von allem wegbleiben, was sich dreht.
mind-eyes = Schutzbrille mit Seitenschutz tragen.
mind-ears = Gehörschutz tragen, und nie Gesicht oder Ohr an eine Öffnung unter Druck halten; dorthin gehört das Mikrofon.
mind-relieve = Den Druck ablassen, ehe der Adapter herausgeschraubt oder der Ventiltrieb berührt wird.
mind-pressure = Den Druck ab etwa 1,4 bar (20 psi) langsam steigern und nie über den Prüfdruck des Herstellers.
mind-hot = Auspuff und Motor sind heiß.
mind-coolant-hot = Den Kühlmitteldeckel nur bei kaltem Motor öffnen: Heißes Kühlmittel steht unter Druck.
mind-ignition = Zündung und Kraftstoff aus, keine Flamme und keine Funken bei Kraftstoffdampf.
mind-fumes = Gase aus Kurbelgehäuse und Auspuff sind giftig: für frische Luft sorgen.
mind-little-oil = Kommt Öl in einen Zylinder, ist ein Teelöffel die Grenze, und keines darf mehr darin sein, wenn der Motor schnell durchgedreht wird: Ein Zylinder voll Flüssigkeit zerstört den Motor.

## Gauge: caveats

caveat-rig-not-measured = Was das Prüfgerät selbst verliert, wurde nicht gemessen; der Zylinder verliert höchstens, was gezeigt ist.
    .remedy = Schlauch und Adapter blind verschließen und das Prüfgerät ablesen.
caveat-rig-is-all = Prüfgerät und Zylinder verlieren zusammen { $total } %, das Prüfgerät allein { $rig } %: Soweit die Manometer es zeigen können, ist das Prüfgerät der ganze Verlust.
    .remedy = Das Prüfgerät abdichten, wenn es auf den kleinen Verlust des Zylinders ankommt.
caveat-rig-dominates = Das Prüfgerät verliert selbst { $rig } %, mehr Luft als der Zylinder; dessen eigener Verlust ist darum unsicher.
    .remedy = Das Prüfgerät abdichten und neu ablesen.
caveat-rig-worse = Das Prüfgerät allein verliert { $rig } %, mehr als Prüfgerät und Zylinder zusammen ({ $total } %): Es war diesmal dichter, oder einer der beiden Werte stimmt nicht. Der Wert wurde behalten.
    .remedy = Den Schlauch noch einmal blind verschließen und beides bei gleichem Prüfdruck neu ablesen.
caveat-gauges-disagree = Es wird mehr gehalten als aufgegeben: Die beiden Manometer zeigen nicht dasselbe. Der Wert wurde behalten.
    .remedy = Den Hahn zum Zylinder schließen und beide ablesen; mit hissward rig --gauges angeben.
caveat-still-falling = Der Verlust sank, solange die Luft anstand: { $series } %.
    .remedy = Die Luft anstehen lassen, bis der Zeiger ruhig steht; so lange setzen sich die Ringe und verteilt sich das Öl. Der letzte Wert zählt.
caveat-still-rising = Der Verlust stieg, solange die Luft anstand: { $series } %.
    .remedy = Nachsehen, ob sich die Kurbelwelle bewegt hat und der Druck steht; der letzte Wert zählt.
caveat-rig-leaks = Das Prüfgerät allein verliert { $rig } % des Drucks.
    .remedy = Die undichte Stelle an Schlauch, Kupplungen und Adapter suchen, abdichten und neu ablesen.
caveat-percent-gauge = Das Messgerät zeigt Prozent; beim Abziehen des Prüfgeräts wurden { $supply_bar } bar ({ $supply_psi } psi) Prüfdruck und eine gleichmäßige Teilung angenommen.
    .remedy = Die beiden Drücke ablesen, wo das Prüfgerät sie zeigt.

## Aufnahmen

caveat-cut-off-file = { $file }: Die Datei ist abgeschnitten: { $kept_s } s von { $promised_s } s sind da.
    .remedy = Noch einmal vom Aufnahmegerät kopieren. Was da ist, wird verwendet.
caveat-unfinished-file = { $file }: Das Aufnahmegerät hat diese Datei nie abgeschlossen; { $kept_s } s sind da.
    .remedy = Anhören, ob sie endet, wo sie soll. Was da ist, wird verwendet.
caveat-header-too-short = { $file }: Laut Dateikopf sind es nur { $kept_s } s; dahinter liegen noch etwa { $unread_s } s.
    .remedy = Noch einmal als WAV ausgeben, falls Ton fehlt. Verwendet wird, was der Dateikopf angibt.
caveat-several-channels = { $file }: Die { $channels } Kanäle sind verschieden; Kanal 1 wird verwendet.
    .remedy = Den Kanal nennen, dessen Mikrofon an der Öffnung war, falls es ein anderer ist.
caveat-first-channel-silent = { $file }: Kanal 1 ist stumm, Kanal { $channel } nicht.
    .remedy = Kanal { $channel } nennen.
caveat-damaged-packets = { $file }: { $packets } Stücke sind beschädigt und bleiben weg.
    .remedy = Noch einmal vom Aufnahmegerät kopieren.
caveat-device-failed = Das Mikrofon { $device } ist nach { $kept_s } s ausgefallen ({ $said }).
    .remedy = Stecker und Kabel prüfen und noch einmal aufnehmen. Was vorher kam, bleibt erhalten.
caveat-device-silent = Vom Mikrofon { $device } kam nach { $kept_s } s kein Ton mehr.
    .remedy = Stecker und Kabel prüfen oder das Tonsystem neu starten und noch einmal aufnehmen. Was vorher kam, bleibt erhalten.
caveat-file-ended = Die Datei nahm nach { $kept_s } s nichts mehr auf: { $said }.
    .remedy = Platz schaffen oder in einen anderen Ordner aufnehmen. Was vorher kam, bleibt erhalten.
caveat-sound-lost = { $lost_ms } ms Ton gingen verloren, weil dieser Rechner zu beschäftigt war.
    .remedy = Andere Programme schließen und noch einmal aufnehmen.
caveat-sound-gap = Der Aufnahme fehlen { $gap_s } s: Der Rechner hat geschlafen oder stand still.
    .remedy = Wach halten (Deckel offen, Netzteil dran) und neu aufnehmen.
caveat-overruns = Das Tonsystem hat auf dem Weg hierher { $times } Mal Ton verloren.
    .remedy = Andere Programme schließen, das Mikrofon direkt am Rechner anstecken und noch einmal aufnehmen.
caveat-device-changed = Das System ist während der Aufnahme von { $device } zu einem anderen Mikrofon gewechselt.
    .remedy = Das Mikrofon fest anstecken und noch einmal aufnehmen.

## Mikrofone

mics-none = Kein Mikrofon gefunden: eines anstecken; anderswo gemachte Aufnahmen nimmt 'hissward add' auf
mic-shape = { $rate } Hz, { $channels } Kan., { $kind }
mic-useful = brauchbar
mic-monitor = nicht brauchbar: hört, was dieser Rechner spielt, nicht den Raum
mic-narrow-band = nicht brauchbar: endet unterhalb des Zischens, wie Telefon-Headsets
mic-blocked = nicht zu öffnen: ein anderes Programm hat es belegt, oder es ist nicht erlaubt
mic-muted = kein Ton: stumm geschaltet oder aus
mic-tried = bis { $khz } kHz, { $level } dB FS
mics-trying = { $count } Eingänge werden je eine Sekunde abgehört.
mic-default = wird genommen, wo keines genannt ist

## Auftragsordner

new-started = { $job } ist angelegt. Weiter: `hissward guide` führt durch die Prüfung, oder `hissward rig` hält fest, was das Prüfgerät allein verliert.

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
tight = nichts undicht
    .choice = gar keine undichte Stelle
level-interval = { $low } bis { $high }
level-at-most = höchstens { $level }
level-not-heard = nicht gehört
level-not-measured = zu hören, Pegel unsicher
level-spill = herübergedrungen

## Das Vergleichsbild

plot-elsewhere = anderswo { $percent } · alles dicht { $tight }
plot-located = undicht { $where }, { $percent } wahrscheinlich
plot-shared = mehrere undichte Stellen: { $where }
plot-normal = übliches Zischen { $where }: nichts zu reparieren
plot-none-heard = nichts gehört, unter { $level } dB
plot-cannot-tell = nicht geklärt: { $where }
plot-reservation = { $text }
plot-reservations = { $text } · { $more } weitere Vorbehalte
    .one = { $text } · 1 weiterer Vorbehalt
plot-small-print = Pegel in Dezibel unter dem Lautesten, das die Aufnahme fassen kann (dB FS): −60 ist leiser als −40.
plot-levels = Pegel des Zischens, dB
plot-spectra = Schall nach Tonhöhe, dB
plot-khz = kHz
plot-level = { $level } dB
plot-at-most-short = ≤ { $level }
plot-at-most = höchstens { $level } dB
plot-seconds = { $number } s
plot-not-recorded = keine Aufnahme
plot-key-air = mit Luft
plot-key-quiet = Ruhe, ohne Luft
plot-key-rise = lauter mit Luft: Zischen
plot-key-hiss = Zischen allein (ohne Ruheaufnahme)
plot-key-used = Tonhöhen, die zählen (grau: nicht verwendet)
plot-key-heard = Pegel des Zischens, 95-%-Intervall
plot-key-bound = nichts gehört: ein Zischen läge darunter, 95 %
plot-key-leak = undichte Stelle hier
plot-key-open = vielleicht hier, nicht geklärt
plot-alt = Vergleich der Öffnungen. { $rows }
plot-alt-row = { $subject }, { $call }. { $openings }.
plot-alt-heard = { $opening } { $percent }, Zischen { $level } dB
plot-alt-bound = { $opening } { $percent }, Zischen höchstens { $level } dB

## Die Rangfolge in Sätzen

rank-located = { $subject }: gefunden: { $opening }, wahrscheinlich { $path } ({ $percent } sicher)
rank-located-own = { $subject }: gefunden: { $opening } ({ $percent } sicher)
rank-shared = { $subject }: mehrere undichte Stellen: Zischen an { $places } ({ $percent } wahrscheinlich)
rank-none-heard = { $subject }: nichts gehört: kein Zischen an den abgehörten Öffnungen ({ $tight } wahrscheinlich dicht, { $elsewhere } anderswo undicht)
rank-cannot-tell = { $subject }: nicht entscheidbar: { $places } ({ $percent } wahrscheinlich eine davon)
    .one = { $subject }: nicht entscheidbar: { $places } ist zu { $percent } wahrscheinlich, aber nicht gesichert
rank-cannot-tell-unfit = { $subject }: nicht entscheidbar: die Aufnahmen lassen keine Antwort zu
rank-would-be-heard = Ein Zischen über { $level } dB FS wäre an jeder Öffnung gehört worden (am wenigsten sicher: { $opening }; 95 %).
rank-answer-set = Zu 95 % eine von diesen: { $places }.
rank-member = { $place } { $percent }
rank-beside = Gegenüber den anderen Zylindern hebt sich { $opening } um { $level } dB ab ({ $low } bis { $high }).
    .alike = { $opening }: an den anderen Zylindern etwa gleich laut, Unterschied { $level } dB ({ $low } bis { $high }).
rank-spill = Herübergedrungen, keine eigene undichte Stelle: { $places }.
rank-hiss = { $level } ({ $low } bis { $high })
rank-no-quiet = getaktet
rank-caveats = Vorbehalte:
rank-column-opening = Öffnung
rank-column-probability = wahrscheinl.
rank-column-hiss = Zischen, dB FS
rank-column-above = über Ruhe, dB

## Was als Nächstes zu tun ist

next-line = Weiter: { $step }.
next-record-off = { $place } eine Ruheaufnahme machen, Luft zu ({ $seconds } s): { $chance }
next-record-on = { $place } mit Luft aufnehmen ({ $seconds } s): { $chance }
next-record-pulsed = { $place } mit getakteter Luft aufnehmen ({ $seconds } s): { $chance }
next-record-cold = bei kaltem Kühlmittel { $place } mit getakteter Luft aufnehmen ({ $seconds } s): { $chance }
next-listen-on = noch nicht abgehört ist: { $opening }; dort mit Luft aufnehmen ({ $seconds } s)
next-listen-pulsed = noch nicht abgehört ist: { $opening }; dort mit getakteter Luft aufnehmen ({ $seconds } s)
next-read-rig = den Schlauch blind verschließen und ablesen, was das Prüfgerät allein verliert ({ $seconds } s): { $chance }
next-read-gauge = an diesem Zylinder das Manometer ablesen ({ $seconds } s): { $chance }
next-chance = klärt es zu { $percent }
next-chance-small = ein Schritt allein wird es kaum klären
next-none-heard = Weiter: mit dem Wert der Manometer vergleichen. Verliert der Zylinder mehr, als er darf, geht die Luft dort weg, wo nicht abgehört wurde: das Prüfgerät allein prüfen, dann den Kühlmitteleinfüllstutzen und die Kerzenlöcher der Nachbarn abhören.
next-cannot-tell = Weiter: { $places } noch einmal aufnehmen, je zweimal ohne und mit Luft, das Mikrofon an derselben Stelle. Abstellen, was laut ist und sich ändert, oder die Luft takten.
next-cannot-tell-elsewhere = Weiter: { $places } noch einmal aufnehmen, je zweimal ohne und mit Luft, das Mikrofon an derselben Stelle und näher. Danach die Öffnungen abhören, die noch fehlen.
next-cannot-tell-unfit = Weiter: beheben, was die Vorbehalte nennen, und jede Öffnung noch einmal ohne und mit Luft aufnehmen.

## Der Bericht

report-title = Zylinderdichtheit: wohin die Luft entweicht
report-date = Datum
report-tested-by = Geprüft von
report-notes = Anmerkungen
report-surer = Was es sicherer machen würde
report-surer-step = { $step }.
report-findings = Die Befunde im Einzelnen
report-comparison = Die Öffnungen im Vergleich
report-levels = Die Messwerte
report-caveats = Vorbehalte
report-cautions = Sicherheit, falls die Prüfung wiederholt wird
report-figure = { $subject }: das Zischen an jeder Öffnung und der Schall ohne und mit Luft. Pegel in Dezibel unter der Vollaussteuerung der Aufnahme (dB FS).
report-levels-of = { $subject }: Wahrscheinlichkeit und Pegel des Zischens je Öffnung
report-column-opening = Öffnung und Weg der Luft
report-column-probability = Wahrscheinlich
report-column-hiss = Zischen, dB FS
report-column-above = Über Ruhe, dB
report-caveat = { $found }. Was zu tun ist: { $remedy }
report-customer = Für
report-page-of = Seite # von ##
report-signs-missing = Einige Zeichen fehlen in der Schrift dieses Papiers und stehen als □; die Seite report.html zeigt sie.
report-holds-well = { $cylinders } halten gut.
    .one = { $cylinders } hält gut.
report-nothing-to-do = Es ist nichts zu tun.
report-next-recording = { $subject }, als Nächstes: { $step }.
report-appendix = Anhang: Bedeutung, Befunde im Einzelnen, Messwerte, Geräusche, Verfahren
report-answer-repair = Handlungsbedarf an { $cylinders }
    .one = Handlungsbedarf an { $cylinders }
report-answer-repeat = erst noch einmal zu prüfen: { $cylinders }
    .one = erst noch einmal zu prüfen: { $cylinders }
report-answer-watch = im Auge behalten: { $cylinders }
    .one = im Auge behalten: { $cylinders }
report-answer-fine = { $cylinders } halten gut
    .one = { $cylinders } hält gut
report-action-repair = Handlungsbedarf
report-action-repeat = erst noch einmal prüfen
report-action-watch = im Auge behalten
report-action-fine = nichts zu tun
report-card-fine-open = Der Klang ist nicht geklärt. Bei so wenig Verlust ist nichts zu tun.
report-card-over = Abgelesen, samt Prüfgerät: { $shown } %. Das sind { $edge }: { $verdict } nach { $band }.
report-card-loss = verliert { $loss } % der Prüfluft ({ $low } bis { $high } %)
report-card-unread = Verlust nicht gemessen
report-how-to-listen = Zum Anhören report.html auf Telefon oder Rechner öffnen, den Anhang aufklappen und „Die Geräusche“ abspielen.
report-signature-tested = Datum und Unterschrift des Prüfers
report-signature-customer = Datum und Unterschrift des Kunden
report-glance = Wie viel der Prüfluft jeder Zylinder verliert. Die dünne Linie zeigt, wie genau das Manometer ist.
plot-glance-leak = undichte Stelle gefunden
plot-glance-nothing = nichts gehört
plot-glance-normal = nur übliches Zischen
plot-glance-open = nicht geklärt
plot-glance-unheard = nicht abgehört
plot-glance-alt = Verlust jedes Zylinders. { $rows }
report-overview = Wo die Luft zu hören ist. Jede Zeile ist eine Stelle, an die das Mikrofon gehalten wurde; weiter rechts ist lauter. Wie laut es zischt, sagt nicht, wie viel verloren geht: das steht in der Tabelle.
report-cylinders = Die Zylinder: wie viel der Prüfluft jeder verliert, wie das zu bewerten ist und was das Geräusch sagt.
report-column-cylinder = Zylinder
report-column-loss = Luftverlust
report-column-called = Bewertung
report-column-sound = Was das Geräusch sagt
report-not-read = nicht abgelesen
report-not-judged = nicht bewertet
report-at-the-limit = an der Grenze
report-not-listened = nicht abgehört
report-loss-net = { $interval } %, ohne das Prüfgerät
report-loss-gross = { $interval } %, samt Prüfgerät
report-loss-beside = selbst { $percent } % ({ $interval } %), Prüfgerät abgezogen
report-by = nach { $band }
report-likely = { $place }, zu { $percent } wahrscheinlich
report-circumstances = Bedingungen der Prüfung
report-warmth = Motor
report-hot = betriebswarm
report-cold = kalt
report-restrictor = Blende des Prüfgeräts
report-ambient = Luftdruck am Ort
report-maker = Grenze des Herstellers
report-makers-limit = { $loss } % ({ $source })
report-no-source = ohne Angabe der Quelle
report-microphone = Mikrofon
report-cautions-confirmed = Vorsichtsregeln bestätigt
report-readings = Ablesungen der Manometer
report-readings-of = Was die Manometer zeigten und was davon auf den Zylinder allein kommt.
report-readings-note = Das Leck des Prüfgeräts liegt neben dem des Zylinders hinter derselben Blende; abgezogen werden darum Flächen und nicht Prozente. Ein Loch, das ebenso viel Luft durchlässt, veranschaulicht den Verlust; es ist nicht die Form des Lecks.
report-column-pressures = Zufuhr, gehalten
report-column-shown = Abgelesen
report-column-alone = Zylinder allein
report-column-hole = Als Loch
report-held-of = { $supply }, { $held }
report-percent-gauge = Anzeige in Prozent
report-flow = { $flow } l/min freie Luft
report-ratio = { $ratio } × die Blende
report-rig-alone = Prüfgerät allein
report-sounds = Die Geräusche
report-about-sounds = Zu hören ist erst Ruhe, dann Luft: bis zu { $seconds } s aus der Mitte jeder Aufnahme, alle { $gain } dB lauter als aufgenommen. Die Streifen zeigen den Klang: nach rechts die Zeit in Sekunden, nach oben die Tonhöhe in kHz, von Weiß ({ $white } dB FS und weniger) bis Schwarz ({ $black } dB FS und mehr). Mit mäßiger Lautstärke hören. Die Seite report.html spielt sie; die ganzen Aufnahmen liegen im Ordner des Auftrags.
report-sound = { $subject }, { $opening }
    .take = { $subject }, { $opening }, Aufnahme { $take }
report-sound-label = { $caption } abspielen: { $kinds }
report-sound-alt = Pegel über Zeit und Frequenz: { $caption }, { $kinds }. Die Messwerte dieser Öffnung stehen in den Tabellen.
air-off = Ruhe (ohne Luft)
air-on = mit Luft
air-pulsed = Luft getaktet
report-method = Verfahren und Einstellungen
report-recordings = Die Aufnahmen
report-recordings-of = Jede Aufnahme dieses Auftrags. Der Anfang ihrer SHA-256 unterscheidet sie von jeder anderen; der ganze Wert steht in job.toml, und „hissward verify“ prüft die Dateien damit.
report-column-file = Datei
report-column-recorded = Aufgenommen, Länge, Rate, Gerät
report-column-hash = SHA-256
report-clip-shape = { $seconds } s, { $rate } kHz
report-left-out = ausgelassen: { $why }
report-time-unknown = Zeit unbekannt
report-program = Bericht erstellt mit
report-job-made-with = Auftrag erstellt mit
method-gauge = Der Verlust ist der Teil des Zufuhrdrucks, den der Zylinder nicht hält, 100·(Zufuhr − gehalten)/Zufuhr (FAA AC 43.13-1B, Kapitel 8). Was das Prüfgerät allein verliert, wird als Strömung durch eine zweite Öffnung hinter derselben Blende abgezogen, isentrop, bei derselben Zufuhr. Die Intervalle von etwa 95 % folgen aus der Auflösung der Manometer.
method-sound = An jeder Öffnung wird eine Aufnahme ohne Luft mit einer mit Luft verglichen, in Terzbändern (IEC 61260-1) von 400 Hz bis dahin, wohin beide Aufnahmen wirklich reichen. Der Pegel des Zischens ist, was von 1 bis 16 kHz bleibt, wenn der Hintergrund abgezogen ist (wie in ISO 3744, K1). Ist der Abstand zum Hintergrund dafür zu klein, wird nur eine obere Schranke angegeben.
method-noise = Kurze Geräusche fallen heraus, weil die Pegel einzelne Schläge nicht beachten; wie sich der Hintergrund ändert, zeigen die Bänder, in die das Zischen nicht reicht. Die Lage des Mikrofons zählt zur Unsicherheit: aus Wiederholungen, wo es sie gibt, sonst ±2 dB.
method-probability = Jede Möglichkeit (keine undichte Stelle, eine an einer Öffnung, an zweien, anderswo) wird danach gewogen, wie gut sie die Aufnahmen vorhersagt, über alle Pegel und Formen eines Zischens und alle plausiblen Änderungen des Hintergrunds. Dieselben Aufnahmen geben dieselben Werte. „Gefunden“ heißt es nur, wo eine Öffnung mindestens 95 % hält.
method-limits = Veröffentlichte Grenzen des Verlusts sind verschieden; die des Herstellers gehen vor. Lautstärke ist kein Maß dafür, wie viel verloren geht.
report-colophon = Erstellt mit hissward { $version }.
limit-places = Über Stellen, an denen nicht aufgenommen wurde, ist nichts gesagt.

## Gauge: what is printed

gauge-loss = { $who }: { $loss } % Verlust ({ $low } bis { $high } %): { $supply } aufgegeben, { $held } gehalten.
gauge-loss-share = { $who }: { $loss } % Verlust ({ $low } bis { $high } %) nach dem Prozentmanometer.
gauge-rig-who = Prüfgerät allein
gauge-net = Der Zylinder selbst verliert { $loss } % ({ $low } bis { $high } %). Die { $rig } % des Prüfgeräts sind als Luftstrom abgezogen; Prozente lassen sich nicht einfach abziehen.
gauge-hole = So viel lässt ein Loch von { $hole } neben einer Drossel von { $restrictor } durch, höchstens { $flow } l/min Luft (20 °C, 100 kPa).
gauge-ratio = Die Undichtheit ist { $ratio } mal so groß wie die Drossel des Prüfgeräts; steht deren Durchmesser im Auftrag, wird sie als Loch angegeben.
gauge-not-judged = Nicht beurteilt: Der Wert sagt zu wenig über den Zylinder.
gauge-earlier = Frühere Werte, wie abgelesen: { $list } %. Der letzte zählt.
gauge-caveat = { $found } { $remedy }
gauge-kept = Gespeichert in { $job }.
gauges-less = Bei geschlossenem Hahn zeigt das Manometer hinter der Drossel { $by } weniger als das davor; das wird von jedem Wert abgezogen.
gauges-more = Bei geschlossenem Hahn zeigt das Manometer hinter der Drossel { $by } mehr als das davor; das wird von jedem Wert abgezogen.
rig-next = Als Nächstes: Schlauch und Adapter blind verschließen und ablesen, was das Prüfgerät selbst verliert.

caveat-read-cold = Der Motor war kalt; der Wert fällt schlechter und unsicherer aus als warm gemessen.
    .remedy = Den Motor warmlaufen lassen und vor einem Urteil neu ablesen.

## Brauchbarkeit der Aufnahmen

caveat-silent = { $file } ist stumm.
    .remedy = Prüfen, ob das Mikrofon stummgeschaltet ist, und neu aufnehmen.
caveat-clipped = { $file } ist übersteuert: { $percent } % der Zeit lag der Eingang am Anschlag.
    .remedy = Eingang leiser stellen oder das Mikrofon weiter weg halten und neu aufnehmen.
caveat-too-short = { $file } ist nur { $seconds } s lang.
    .remedy = Sechs Sekunden aufnehmen.
caveat-digital-silence = { $percent } % von { $file } ist digitale Stille: Es kam gar kein Ton an.
    .remedy = Stecker, Kabel und Verbindung des Mikrofons prüfen, eine Geräuschsperre abschalten und neu aufnehmen.
caveat-level-falling = Das Zischen in { $file } fällt während der Aufnahme um { $db } dB.
    .remedy = Kessel volllaufen lassen, auf gleichbleibenden Druck am Regler achten und neu aufnehmen.
caveat-dc = { $file } liegt um { $percent } % des Vollausschlags neben null.
    .remedy = Einen anderen Eingang oder ein anderes Mikrofon nehmen; das Zischen selbst ist davon nicht berührt.
caveat-narrow-band = { $file } enthält nichts über { $khz } kHz.
    .remedy = Mit einem Mikrofon aufnehmen, das bis 16 kHz reicht, als WAV, nicht über ein Headset.
caveat-rumble = { $file } ist voll tiefem Rumpeln, von Wind oder von der Hand.
    .remedy = Das Mikrofon ruhig und außerhalb des Luftstroms halten und neu aufnehmen.
caveat-gain-step = Der Pegel von { $file } springt um { $step } dB und bleibt dort, wie bei automatischer Aussteuerung.
    .remedy = Automatische Aussteuerung abschalten und Ruhe und Luft neu aufnehmen.
caveat-whistle = { $file } ist großenteils ein einzelner Ton bei { $khz } kHz, kein breitbandiges Zischen.
    .remedy = Den Pfeifton finden (scharfe Kante, Maschine) und ohne ihn neu aufnehmen.
caveat-same-recording = { $file } und { $other } sind dieselbe Aufnahme.
    .remedy = Ruhe und Luft nacheinander aufnehmen.
caveat-bangs-overdrive = Schläge haben den Eingang bis zur Vollaussteuerung getrieben. Ein leises Zischen dazwischen kann unbemerkt bleiben.
    .remedy = Noch einmal aufnehmen, wenn es ruhiger ist, oder den Eingang leiser stellen.
caveat-counted-once = { $file } und { $other } enthalten dieselben Sekunden. Sie zählen als eine Aufnahme.
    .remedy = Eine zweite Aufnahme machen: das Mikrofon absetzen und neu anhalten.
caveat-different-rates = Ruhe und Luft haben verschiedene Abtastraten ({ $quiet_hz } und { $air_hz } Hz).
    .remedy = Für beide dasselbe Gerät mit denselben Einstellungen nehmen.
caveat-quiet-louder = Die Ruheaufnahme ist um { $db } dB lauter als die mit Luft.
    .remedy = Prüfen, ob die Aufnahmen vertauscht sind, und die Ruhe neu aufnehmen.
caveat-different-devices = { $file } wurde mit { $device } aufgenommen, die anderen hier mit { $other }.
    .remedy = Die Aufnahmen ohne und mit Luft an dieser Öffnung mit einem Mikrofon machen.
caveat-gain-differs = { $file } liegt im Ganzen { $step } dB über der ersten Aufnahme ohne Luft, in tiefen und hohen Bändern: Die Verstärkung wurde dazwischen verstellt.
    .remedy = Verstärkung fest einstellen, Automatik ausschalten, ohne und mit Luft neu aufnehmen.
caveat-processing-echo = Das Telefon hat bei { $file } Echos unterdrückt: Das verändert das Spektrum.
    .remedy = Anderen Browser oder ein äußeres Mikrofon nehmen und neu aufnehmen.
caveat-processing-noise = Das Telefon hat bei { $file } Rauschen unterdrückt, und Zischen hält es für Rauschen.
    .remedy = Anderen Browser oder ein äußeres Mikrofon nehmen und neu aufnehmen.
caveat-processing-gain = Das Telefon hat bei { $file } die Verstärkung selbst geregelt: Ohne und mit Luft lassen sich nicht vergleichen.
    .remedy = Anderen Browser oder ein äußeres Mikrofon nehmen und neu aufnehmen.
caveat-processing-unknown = Das Telefon sagte nicht, ob es den Ton von { $file } bearbeitet hat.
    .remedy = Einmal mit anderem Browser oder äußerem Mikrofon aufnehmen und vergleichen.
caveat-alike-at-other-cylinders = Das Zischen { $at } ist an den anderen Zylindern etwa gleich laut.
    .remedy = Das Prüfgerät und seinen Schlauch abhören: Was an jedem Zylinder zischt, kann das Gerät sein oder das normale Durchblasen der Ringe.
    .short = an den anderen Zylindern etwa gleich laut
caveat-cut-short = { $file } wurde beim Aufnehmen abgebrochen.
    .remedy = Neu aufnehmen, wenn sie zu kurz ist.

## Rangfolge

caveat-not-comparable = Es gibt { $at } nichts zu vergleichen.
    .remedy = Dort eine Ruheaufnahme und eine mit Luft machen, oder mindestens sechs Sekunden getaktete Luft.
caveat-nothing-to-rank = Es gibt nichts auszuwerten.
    .remedy = An jeder Öffnung eine Ruheaufnahme und eine mit Luft machen.
caveat-band-limit = Nicht alle Aufnahmen reichen über { $khz } kHz; die Pegel enden dort.
    .remedy = Alles als WAV mit einem Mikrofon aufnehmen, das bis 16 kHz reicht.
    .short = die Pegel enden bei { $khz } kHz
caveat-foreign-hiss-alike = Ein anderes stetiges Zischen in der Werkstatt, das zwischen Ruhe und Luft begann (Wasserhahn, Regen, Schleifer, anderes Druckluftwerkzeug), sähe genauso aus.
    .remedy = Die wahrscheinlichste Öffnung noch einmal mit getakteter Luft aufnehmen.
    .short = ein anderes stetiges Zischen, das mit der Luft begann, sähe gleich aus
caveat-one-opening = Nur eine Öffnung wurde aufgenommen; ob das Zischen von einer anderen herüberdringt, ist nicht zu unterscheiden.
    .remedy = Auch die anderen Öffnungen aufnehmen.
    .short = nur eine Öffnung wurde aufgenommen
caveat-borrowed-quiet = Eine Öffnung hat keine eigene Ruheaufnahme; die der anderen vertreten sie.
    .remedy = An jeder Öffnung eine Ruheaufnahme machen.
    .short = eine Öffnung hat keine eigene Ruheaufnahme
caveat-more-clips-tell-little = Weitere Aufnahmen dieser Art würden kaum mehr sagen.
    .remedy = Erst ändern, was zu hören ist: Lautes abstellen, das Mikrofon näher und ruhig halten.
    .short = weitere Aufnahmen dieser Art sagen wenig
caveat-own-rhythm = Das Geräusch { $at } hat einen eigenen Takt.
    .remedy = Die getaktete Aufnahme wiederholen, wenn es aufgehört hat.
caveat-not-listened-at = Noch nicht abgehört wurde { $at }.
    .remedy = Auch { $at } ohne und mit Luft aufnehmen.
caveat-air-on-microphone = Luft strömt { $at } über das Mikrofon: was dort lauter wird, klingt nach Wind, nicht nach einem Leck.
    .remedy = Das Mikrofon eine Handbreit daneben halten, aus dem Luftstrom, oder Schaumstoff darüberziehen, und noch einmal aufnehmen.
caveat-does-not-follow-valve = Das Zischen { $at } folgt dem Ventil nicht: mit Luft ist es da, im Takt der gepulsten Aufnahme nicht.
    .remedy = Suchen, was dort sonst zischt, und noch einmal aufnehmen, wenn es aufgehört hat.
caveat-rhythm-unclear = Gepulste Luft zeigt nicht deutlich, dass das Zischen { $at } dem Ventil folgt.
    .remedy = In einem ruhigeren Moment noch einmal gepulst aufnehmen.
caveat-heard-everywhere = An allen Öffnungen ist dasselbe Zischen zu hören. Es kommt vom Prüfgerät oder von einer Stelle, die nicht abgehört wurde.
    .remedy = Schlauch, Kupplungen und Adapter abhören, abdichten, was zischt, und neu aufnehmen. Danach Kühlmittel und Kerzenlöcher der Nachbarn aufnehmen.
caveat-fits-no-explanation = Was mit Luft von { $from_khz } bis { $to_khz } kHz { $at } lauter wird, passt zu keiner Erklärung.
    .remedy = Noch einmal { $at } mit gepulster Luft und mit einem anderen Mikrofon oder Aufnahmegerät aufnehmen.
caveat-hiss-in-part = Das Zischen { $at } ist nur in einem Teil der Aufnahme da.
    .remedy = Erst den Hahn öffnen, dann { $at } neu aufnehmen. Kommt und geht das Zischen bei offenem Hahn, mit gepulster Luft aufnehmen.
caveat-risen-everywhere = Das zweite Mikrofon hörte die Werkstatt lauter werden, während { $at } aufgenommen wurde und die Luft an war.
    .remedy = Warten, bis es so ruhig ist wie vorher, und neu aufnehmen, oder getaktete Luft verwenden.
caveat-suppression-shut-off = Der Rekorder hat den Ton abgeschaltet: { $percent } % einer Aufnahme sind digitale Null.
    .remedy = Dadurch ist nichts zu hören: Geräuschunterdrückung abschalten oder einen Rekorder nehmen, der einfaches WAV schreibt, dann Ruhe und Luft neu aufnehmen.
caveat-suppression-eaten = Der Rekorder unterdrückt Geräusche: Ein gleichmäßiger Grund wird leiser gemacht, wo er schwach ist, und ein Zischen mit ihm.
    .remedy = Dass kein Zischen zu hören ist, sagt nichts: Geräuschunterdrückung ("klare Stimme", "Sprachfokus") abschalten oder einen Rekorder nehmen, der einfaches WAV schreibt, dann Ruhe und Luft neu aufnehmen.
caveat-gain-rides = Der Rekorder stellt seine Verstärkung selbst ein: Aufnahmen beginnen { $db } dB über dem Pegel, bei dem sie zur Ruhe kommen.
    .remedy = Automatische Verstärkung abschalten; bis dahin nach dem Start drei Sekunden warten, bevor die Luft aufgedreht wird.
caveat-limited = Ein Begrenzer hält die Spitzen unten: { $percent } % einer Aufnahme enden an derselben Decke.
    .remedy = Den Aufnahmepegel senken oder den Begrenzer abschalten, dann Ruhe und Luft neu aufnehmen.
caveat-lossy-coding = Die Aufnahmen wurden als { $coding } gespeichert; das lässt weg, was ein Ohr nicht vermisst.
    .remedy = Als WAV aufnehmen, wo die App das zulässt.
caveat-two-microphones = Die Aufnahmen enthalten zwei Mikrofone: Kanal { $near } ist näher an der Öffnung, Kanal { $far } sagt, wie laut die Werkstatt ist.
    .remedy = Den Rekorder an jeder Öffnung gleich herum halten.
caveat-two-microphones-alike = Die Aufnahmen enthalten zwei Mikrofone, und kein Zischen ist an einem von ihnen lauter.
    .remedy = Ein Ende des Rekorders an die Öffnung halten, das andere von ihr weg, jedes Mal gleich herum.
caveat-heard-alike-at-both = Was mit der Luft lauter wird, wird an beiden Mikrofonen gleich lauter: Es entsteht nicht an der Öffnung, oder beide Mikrofone waren gleich nah.
    .remedy = Ein Ende des Rekorders an die Öffnung halten und das andere von ihr weg, oder mit gepulster Luft arbeiten.

## Prüfung

clip-left-out-unfit = { $file } ist gespeichert, zählt aber nicht: bitte neu aufnehmen. Soll die Aufnahme doch zählen: hissward amend { $job } { $file } --take-in
check-fit = brauchbar
check-unfit = unbrauchbar

## Aufnehmen

listen-begins = Aufnahme { $at }, Luft { $air }, { $seconds } s, mit { $device }.
listen-level = { $elapsed } s  { $level } dB FS  Spitze { $peak }{ $clipped }
listen-clipped =   ZU LAUT
recorder-known = { $device } fiel in einem früheren Auftrag auf: { $what }
recorder-suppression-shut-off = Er schaltet den Ton ab, wo niemand spricht; kein Zischen kommt hindurch. Seine Geräuschunterdrückung abschalten oder einen anderen Rekorder nehmen
recorder-suppression-eaten = Er unterdrückt Geräusche und ein Zischen mit ihnen. Das abschalten oder einen anderen Rekorder nehmen
recorder-gain-rides = Er stellt seine Verstärkung selbst ein. Das abschalten oder nach dem Start drei Sekunden warten, bevor die Luft aufgedreht wird
listen-key = { $state }
listen-open = AUF
listen-shut = ZU
listen-starts = getaktete Luft: Ventil schließen; der Takt beginnt in { $seconds } s (hoher Ton: auf, tiefer Ton: zu)
listen-good = gut
listen-no-beep = Hier geht keine Tonausgabe: Es gibt keine Signaltöne.
caveat-recovered = { $file }: { $kept_s } s einer abgebrochenen Aufnahme sind behalten und als gekürzt vermerkt.
    .remedy = Neu aufnehmen, wenn sie zu kurz ist.
caveat-nothing-recovered = { $file }: Eine abgebrochene Aufnahme enthielt keinen Ton und ist entfernt.
    .remedy = Neu aufnehmen.

## Stand eines Auftrags

status-head = { $engine }, { $cylinders } Zylinder
    .one = { $engine }, ein Zylinder
status-rig = Prüfgerät allein: verliert { $loss } %
status-rig-skipped = Prüfgerät allein: nicht abgelesen, mit Absicht ausgelassen
status-rig-missing = Prüfgerät allein: nicht abgelesen
status-lost = { $loss } % Verlust
status-lost-cold = { $loss } % Verlust, kalt abgelesen
status-not-read = nicht abgelesen
status-left-out = - zählt nicht: { $reason }
status-missing = Es fehlt: { $what }
status-missing-rig = das Prüfgerät allein
status-missing-gauge = Zylinder { $cylinder }: die Manometer
status-missing-clip = Zylinder { $cylinder }: { $opening }, { $air }
status-time = Alles zusammen dauert etwa { $minutes } min.
status-complete = Es fehlt nichts.
status-next = Als Nächstes:
status-figures = (mit den Werten, die die Manometer zeigen)
mistake-swapped = { $file } (Luft zu) ist viel lauter als { $other } (Luft auf): vertauscht?
mistake-same-recording = { $file } und { $other } sind ein und dieselbe Aufnahme: eine davon steht am falschen Platz.
    .reason = dieselbe Aufnahme wie eine andere
mistake-odd-take = { $file } passt nicht zu den anderen Aufnahmen derselben Stelle: auslassen?
    .reason = passt nicht zu den anderen Aufnahmen
mistake-air-not-open = Zylinder { $cylinder } verliert viel, und doch zischt es nirgends, nicht einmal an den Ringen: War die Luft auf? Wenn nicht, neu aufnehmen.
    .reason = die Luft war nicht auf
mistake-gone = Die Datei { $file } ist weg: in den Ordner clips/ zurücklegen oder auslassen.
    .reason = die Datei ist weg
amend-line = { $of }: { $key } { $from } → { $to }
report-amended = Berichtigt
report-amended-line = { $of }, { $key }: { $from } → { $to } ({ $when })
amend-none = (nichts)
amend-nothing = Nichts zu ändern: So steht es schon da.
caveat-clip-gone = Die Datei { $file } ist weg, die Aufnahme zählt nicht.
    .remedy = Die Datei in den Ordner clips zurücklegen oder neu aufnehmen.

## Die Führung

guide-head = Druckverlustprüfung
guide-head-cylinder = Zylinder { $cylinder } · Aufnahmen { $done } von { $all }
guide-missing = Es fehlt: { $what }
guide-missing-rig = Prüfgerät
guide-missing-cylinder = Zyl. { $cylinder }: Druck + { $clips }
guide-missing-clips = Zyl. { $cylinder }: { $clips } Aufn.
guide-missing-more = { $count } weitere
guide-missing-nothing = Es fehlt nichts.
guide-big-cautions = VORSICHT
guide-big-rig = GERÄT ALLEIN
guide-big-paused = PAUSE
guide-big-lost = { $loss } % WEG
guide-big-temperature = WARM - KALT
guide-big-gauge = DRUCK
guide-big-cylinder = ZYLINDER { $cylinder }
guide-big-turn = DREHE { $degrees }°
guide-big-top = ZÜND-OT
guide-big-air-off = LUFT ZU
guide-big-air-on = LUFT AUF
guide-big-air-pulsed = LUFT TAKT
guide-big-open = AUF
guide-big-shut = ZU
guide-big-good = GUT
guide-big-again = NOCHMAL
guide-big-skip = AUSLASSEN
guide-big-ranking = RECHNE
guide-big-end = FERTIG
guide-big-no-microphone = KEIN MIKRO
guide-big-nothing = NICHTS HÖRBAR
guide-big-unsure = UNGEWISS
guide-temperature-1 = Ist der Motor auf Betriebstemperatur?
guide-temperature-2 = Kalte Ringe dichten schlecht: Die Werte fallen schlechter und unsicherer aus.
guide-temperature-3 = Läuft er, dann erst warmlaufen lassen und danach die Kerzen herausnehmen.
guide-propose-pulsed = P: {$opening} nochmal, die Luft im Takt der Töne auf und zu.
guide-rig-1 = Schlauch und Adapter verschließen. Luft auf Prüfdruck bringen.
guide-rig-2 = Vordruck und gehaltenen Druck mit Einheit tippen: 5.5 5.4 bar
guide-gauge-1 = Luft langsam auf den Zylinder geben. Warten, bis der Zeiger ruhig steht.
guide-gauge-2 = Vordruck und gehaltenen Druck tippen: 5.5 4.3 bar   oder den Verlust: 22%
guide-turn-by = Kurbelwelle von Zylinder { $before } um { $degrees }° in Drehrichtung weiterdrehen.
guide-turn-1 = Oberer Totpunkt der Verdichtung, beide Ventile zu.
guide-turn-2 = Darüber hinaus? Mindestens eine halbe Umdrehung zurück und neu anfahren.
guide-turn-3 = KURBELWELLE SPERREN. Schlüssel ab, Hände weg.
guide-turn-guess = Die Zündfolge ist nicht bekannt: nach den Ventilen sehen.
guide-clip-off = Luft zu. Mikrofon an: { $opening }, eine Handbreit davor.
guide-clip-off-again = Luft zu. Mikrofon an: { $opening }, gleiche Stelle wie zuvor.
guide-clip-on = Luft auf. Mikrofon an: { $opening }, eine Handbreit davor.
guide-clip-on-again = Luft auf. Mikrofon an: { $opening }, gleiche Stelle wie zuvor.
guide-clip-pulsed = Mikrofon an: { $opening }. Hoher Ton: auf. Tiefer Ton: zu.
guide-clip-hands-free = Dann LEERTASTE, oder zweimal aufs Mikrofon tippen: der Rest läuft von allein.
guide-count = Aufnahme in { $seconds } s. Ab dem letzten Ton stillhalten.
guide-recording = Aufnahme: { $seconds } s. Stillhalten.
guide-level = { $level } dB FS
guide-above = { $above } dB über still
guide-known = auf ±{ $error } dB bekannt
guide-left = noch { $more } s
guide-too-loud = ZU LAUT: weiter weg
guide-in-the-stream = LUFT AUF DEM MIKROFON: daneben halten
guide-so-far = Bisher: { $place } { $percent }
guide-not-kept-yet = { $error }. Der Ton bleibt auf der Platte und wird behalten, wenn es weitergeht.
guide-lost = Wieder einstecken, oder ein anderes wählen ('hissward mics'). Dann LEERTASTE.
guide-unit = In welcher Einheit zeigen die Manometer? P psi, B bar, K kPa. Das wird nur einmal gefragt.
guide-unit-known = Die Einheit ist { $unit }: Zwei Zahlen genügen jetzt.
guide-reading-pressures = Vordruck { $supply }, gehalten { $held }.
guide-reading-loss = Das Gerät zeigt { $loss } % Verlust.
guide-reading-odd-rig = Ein Prüfgerät mit so viel Verlust gehört zuerst abgedichtet: Stimmt der Wert?
guide-reading-odd-much = Das ist fast alles. Vertippt? Wenn es stimmt, steht der Kolben nicht oben, oder ein Ventil steht offen.
guide-reading-odd-much-more = Das ist viel mehr, als die anderen Zylinder verlieren: Vertippt?
guide-table-unread = nicht gelesen
guide-table-loss = { $loss } % Verlust
guide-table-clips = Aufnahmen { $done } von { $all }
guide-next-clip = N: { $step }.
guide-skip = Warum wird das ausgelassen? Es steht im Bericht.
guide-end = Der Bericht ist geschrieben. Alles Aufgenommene und Getippte ist im Ordner.
guide-written = Bericht: { $file }
guide-keys-go = LEERTASTE nochmal versuchen   Q verlassen
guide-keys-skipping = EINGABE auslassen   ESC doch nicht
guide-keys-cautions = LEERTASTE gelesen, ich halte mich daran   Q verlassen
guide-keys-temperature = H warm   C kalt   LEERTASTE unbekannt   B zurück   Q verlassen
guide-keys-entry = EINGABE ansehen   S auslassen   RÜCKTASTE zurück   Q verlassen
guide-put-right = X bringt das in Ordnung.
guide-keys-confirm = EINGABE behalten   RÜCKTASTE neu tippen   Q verlassen, später weiter
guide-keys-unit = P psi   B bar   K kPa   RÜCKTASTE zurück   Q verlassen
guide-keys-result-next = N aufnehmen   LEERTASTE weiter   M ganze Runde   B zurück   Q verlassen
guide-keys-turn = LEERTASTE Kurbelwelle ist gesperrt   B zurück   Q verlassen, später weiter
guide-keys-clip = LEERTASTE los   R letzte nochmal   S auslassen   B zurück   Q verlassen
guide-keys-running = LEERTASTE Pause   R letzte nochmal   Q verlassen
guide-keys-result = LEERTASTE weiter   M noch eine Runde   R letzte nochmal   Q verlassen
guide-keys-result-last = LEERTASTE weiter   R letzte nochmal   Q verlassen
guide-keys-result-pulsed = LEERTASTE weiter  M noch eine Runde  P Takt  R letzte nochmal  Q verlassen
guide-keys-result-last-pulsed = LEERTASTE weiter   P Takt   R letzte nochmal   Q verlassen
guide-keys-end = LEERTASTE verlassen

## Das laufende Messgerät

hunt-quiet-first = Luft zu, Mikrofon ins übliche Geräusch halten, LEERTASTE drücken: das setzt die Ruhe.
hunt-level = { $level } dB FS   Ruhe { $quiet }   Spitze { $peak }
hunt-above = { $above } dB
hunt-loud = ZU LAUT
hunt-head = Suche{ $where }: Zischen über Ruhe · { $device }
hunt-keys = LEERTASTE Ruhe setzen   P Spitze zurück   T Ton   Q verlassen
hunt-lost = Das Mikrofon ist ausgefallen ({ $said }). Wieder einstecken und neu starten.
## The bench page

page-title = Werkstattseite
page-terminal-scan = Den Code mit dem Telefon abscannen, oder { $text } öffnen
page-terminal-code = Kopplungscode: { $text } (einmal gültig, zehn Minuten lang)
page-terminal-certificate =
    Das Zertifikat stammt von diesem Programm selbst, darum warnt das Telefon einmal. Den Fingerabdruck vergleichen, den es zeigt (SHA-256), dann fortfahren:
    { $text }
page-terminal-anew = Die Eingabetaste zeigt einen neuen Code, der angenommen wird, was auch vorher versucht wurde.
page-terminal-end = Strg+C beendet die Seite.
page-turn = Danach die Kurbelwelle in Drehrichtung um { $degrees }° weiterdrehen auf Zylinder { $number }.
page-pair = Dieses Gerät koppeln
page-pair-how = Den Code eintippen, den der Rechner zeigt, oder seinen QR-Code scannen.
page-pair-code = Kopplungscode
page-pair-go = Koppeln
page-certificate = Der Browser warnt einmal vor dieser Adresse, weil die Seite vom Rechner der Werkstatt kommt und keine Stelle für sie bürgt. Vor dem Fortfahren den Fingerabdruck auf dem Bildschirm des Rechners mit dem vergleichen, den der Browser zeigt.
page-jobs = Aufträge
page-jobs-none = Noch kein Auftrag hier.
page-new = Auftrag beginnen
page-engine = Motor, wie man ihn nennt
page-cylinders = Zylinder
page-firing-order = Zündfolge, etwa 1-3-2
page-restrictor = Drossel des Prüfgeräts, etwa 1,016mm
page-tested-by = Geprüft von
page-hot = Motor betriebswarm
page-two-stroke = Zweitakter
page-start = Beginnen
page-optional = freiwillig
page-cautions = Bevor es losgeht
page-cautions-go = Gelesen, ich halte mich daran
page-listen = Hören
page-gauge = Druck
page-result = Ergebnis
page-more = Mehr
page-back = Aufträge
page-cylinder = Zylinder
page-air = Luft
page-air-off = zu: Ruhe
page-air-on = auf
page-air-pulsed = im Takt
page-where = Wo ist das Mikrofon?
page-next = Als Nächstes: { $place }, Luft { $air }
page-next-done = Die Runde ist vollständig: Ergebnis ansehen oder zum nächsten Zylinder drehen.
page-record = Aufnehmen
page-stop = Halt
page-seconds = { $seconds } s
page-level = Pegel
page-hiss = Über Ruhe
page-no-quiet = hier noch keine Ruheaufnahme
page-pulsed-how = Das Ventil im Takt öffnen und schließen: eine Sekunde zu, eine Sekunde auf.
page-pulsed-shut = ZU
page-pulsed-open = AUF
page-beep = Piepen im Takt
page-offline = Keine Verbindung: Aufgenommenes bleibt auf diesem Telefon und wird gesendet, sobald der Rechner antwortet.
page-kept = Aufnahmen auf diesem Telefon, die noch gesendet werden: { $count }
page-in = { $clip } ist im Auftrag.
page-in-the-stream = Luft bläst auf das Mikrofon. Eine Handbreit daneben halten.
page-clipped = Zu laut: Der Ton ist übersteuert. Das Mikrofon weiter weg halten.
page-processing = Die Tonbearbeitung dieses Telefons lässt sich nicht abschalten ({ $what }). Die Aufnahme kann täuschen: einen anderen Browser oder ein äußeres Mikrofon nehmen.
page-processing-echo = Echounterdrückung
page-processing-noise = Rauschunterdrückung
page-processing-gain = automatische Aussteuerung
page-processing-unknown = das Telefon gibt keine Auskunft
page-no-microphone = Kein Mikrofon: { $why }. In den Einstellungen des Browsers für diese Seite erlauben.
page-no-secure = Der Browser gibt dieser Seite ein Mikrofon nur über https oder auf dem Rechner selbst.
page-rig = Prüfgerät allein
page-rig-how = Schlauch und Adapter verschlossen.
page-supply = Vordruck
page-held = Gehalten
page-loss = Verlust, %
page-cold = Motor kalt
page-keep = Behalten
page-erase = Löschen
page-not-read = nicht abgelesen
page-clips = Aufnahmen
page-leave-out = Weglassen
page-take-in = Wieder verwenden
page-left-out = weggelassen
page-cut-short = abgebrochen
page-take = Durchgang { $number }
page-no-result = Noch kein Ergebnis: an den Öffnungen mit Luft zu und auf aufnehmen.
page-elsewhere = keine davon
page-at-most = höchstens { $level } dB
page-hiss-level = Zischen { $level } dB FS
page-spill = herübergedrungen
page-findings = Was es bedeutet
page-report = Bericht für den Kunden
page-further = Weiteres Gerät koppeln
page-customer = Link für den Kunden (nur ansehen)
page-leave = Dieses Gerät entkoppeln
page-looking = Nur ansehen
page-language = Sprache
page-light = Anzeige
page-light-system = wie das Gerät
page-light-sun = Sonne
page-light-dark = dunkel
page-plan = Der Motor von oben
page-other-opening = Andere Öffnung
page-other-ask = Name der Öffnung, Kleinbuchstaben und Bindestriche
page-round = Ganzer Zylinder, ohne Hände
page-round-stuck = { $place } wurde auch beim zweiten Mal nichts: nachsehen, woran es lag, dann von Hand weiter.
page-move = Aufnahme beginnt in { $seconds } s
page-move-to = Mikrofon an: { $place }
page-air-shut = LUFT ZU
page-air-open = LUFT AUF
page-left = noch { $seconds } s
page-add = Vorhandene Aufnahmen hinzufügen
page-kept-clip = { $clip } ist im Auftrag.
page-unfit-clip = { $clip } zählt nicht. Noch einmal aufnehmen.
page-undo = Rückgängig
page-undone = zurückgenommen
page-changed = Geändert.
page-change = Ändern
page-about = Angaben zum Auftrag
page-opening = Öffnung
page-swap = Vertauschen
page-swap-with = Vertauschen mit
page-reading-kept = { $whose }: { $loss } % Verlust. Die Messung ist im Auftrag.
page-reading-waits = { $whose }: { $loss } % Verlust. Die Messung wartet auf diesem Telefon, bis der Rechner antwortet.
page-loses = Verlust { $loss } %
page-lost = Verlust { $loss } %
page-as-read = Abgelesen: { $loss } %.
page-done = fertig
page-cylinder-one = 1 Zylinder
page-cylinder-count = { $count } Zylinder
page-loss-not-read = Verlust nicht gemessen
page-go-next = Jetzt machen
page-doubts = Zu beachten ({ $count })
page-engine-whole = Der Motor im Ganzen
page-share = Teilen
page-waiting = { $count } warten
page-no-network = keine Verbindung
page-search = Suchen
page-job-empty = noch nichts gemessen oder aufgenommen
page-job-open = Messungen: { $readings }, Aufnahmen: { $clips }, noch zu tun: { $missing }
page-job-complete = vollständig: Messungen: { $readings }, Aufnahmen: { $clips }
page-customer-name = Kunde
page-limit = Grenzwert des Herstellers, %
page-limit-source = Wo dieser Grenzwert steht
page-notes = Notizen
page-customer-end = Link des Kunden beenden
page-customer-ended = Der Link des Kunden ist beendet.
page-failed = Das ging nicht: { $why }
page-microphone = Mikrofon: { $name }, { $rate } Hz, Kanäle: { $channels }

## History and comparison

history-engine = { $engine }: { $jobs } Aufträge
history-engine-one = { $engine }: 1 Auftrag
history-cylinder = Zylinder
history-date = Tag
history-loss = Verlust des Zylinders
history-change = Änderung
history-heard = gehört
history-job = Auftrag
history-undated = ohne Tag
history-net = { $loss } % ({ $low } bis { $high })
history-gross = höchstens { $loss } % ({ $low } bis { $high })
history-cold = { $loss }, kalt
history-read = Gelesene Aufträge in { $folder }: { $jobs }.
history-skipped = { $job } wurde ausgelassen. { $reason }
history-closed = Nicht lesbar: { $reason }
history-no-job = { $folder }: kein Auftragsordner darin oder darunter: einen Ordner angeben, in dem Auftragsordner liegen
history-no-engine = { $folder }: kein Motor heißt dort '{ $engine }': einen Teil seines Namens angeben, wie ihn die Aufträge schreiben
history-none-readable = { $folder }: hier ist kein Auftrag lesbar (gefunden: { $jobs })
history-too-many-engines = { $folder }: ein Bild von { $engines } Motoren nützt niemandem, { $most } passen hinein: mit --engine auswählen
history-kind = { $file }: der Name einer Tabelle endet auf .csv, .json oder .parquet, der eines Bildes auf .png oder .svg; der Ordner einer Datensammlung hat keine Endung
history-grown = Neu: { $added }. Seither geändert und mit der nächsten Revision dazugeschrieben: { $changed }. Unverändert vorhanden: { $same }.
history-legend = Änderung: Prozentpunkte seit der Messung davor, in Klammern, wo die Manometer sie nicht von null unterscheiden. „Höchstens“: das Prüfgerät ist nicht abgezogen.
history-calls = Die Urteile sind die, die beim Auswerten des Auftrags abgelegt wurden; Ton wird hier nicht gelesen. Ohne Urteil: { $not_ranked } nicht ausgewertet, { $outdated } ausgewertet, bevor sich ihre Aufnahmen änderten: `hissward rank AUFTRAG` wertet sie aus.

compare-title = { $engine }: vorher ({ $before }) und nachher ({ $after })
compare-before = verlor vorher
compare-after = verliert nachher
compare-heard = gehört vorher → nachher
compare-less = { $who } verliert { $points } Prozentpunkte weniger als vorher ({ $low } bis { $high }), mehr als der mögliche Fehler der Manometer.
compare-more = { $who } verliert { $points } Prozentpunkte mehr als vorher ({ $low } bis { $high }), mehr als der mögliche Fehler der Manometer.
compare-same = { $who }: keine Änderung, die die Manometer zeigen können; bis zu { $within } Prozentpunkte blieben verborgen.
compare-not-both = { $who } wurde nicht beide Male gemessen: nichts zu vergleichen.
compare-basis-reading = Prüfgerät und Zylinder zusammen, da das Prüfgerät nicht beide Male gemessen wurde.
compare-page-title = Vorher und nachher
compare-day-before = Vorher geprüft
compare-day-after = Nachher geprüft
compare-done = Was getan wurde
compare-done-open = Nicht aufgeschrieben.
compare-now = Was gefunden wurde und wie es jetzt ist
compare-better = besser
compare-worse = schlechter
compare-unchanged = keine klare Änderung
compare-unknown = nicht vergleichbar
compare-loss-both = Verlust vorher { $before }, jetzt { $after }
compare-heard-both = Vorher: { $before }. Jetzt: { $after }.
compare-figure = Was jeder Zylinder vorher verlor und jetzt verliert, und wie viel lauter es mit Luft an der fraglichen Öffnung wurde.
plot-before = vorher
plot-after = nachher
plot-rise = Wie viel lauter mit Luft, { $where }, dB
plot-before-after-alt = Vorher und nachher. { $rows }

caveat-compare-other-name = Die beiden Aufträge nennen den Motor verschieden.
    .remedy = Nachsehen, ob beide vom selben Motor sind.
caveat-compare-order = Der erste Auftrag ist später als der zweite.
    .remedy = Die beiden tauschen, falls das ein Versehen war.
caveat-compare-one-cold = Ein Zylinder wurde einmal kalt und einmal warm gemessen: kalt fällt die Messung schlechter aus.
    .remedy = Beide Male warm messen, bevor der Unterschied beurteilt wird.
caveat-compare-restrictors = Die Drosseln der Prüfgeräte sind verschieden, dasselbe Leck ergibt dann eine andere Prozentzahl.
    .remedy = Die gleichwertigen Löcher vergleichen (--json) oder mit demselben Prüfgerät neu messen.
caveat-compare-pressures = Die Prüfdrücke unterscheiden sich um mehr als ein Zehntel.
    .remedy = Mit dem Druck der ersten Prüfung neu messen.
caveat-compare-rig = Das Prüfgerät wurde nicht beide Male gemessen; eine Änderung daran sieht aus wie eine am Zylinder.
    .remedy = In jedem Auftrag Schlauch und Adapter verschließen und das Prüfgerät messen.

plot-loss = Verlust, % des Prüfdrucks
plot-key-net = Zylinder allein, 95-%-Intervall
plot-key-gross = höchstens: Prüfgerät nicht abgezogen
plot-key-cold = kalt gemessen
plot-history-heard = { $call } ({ $day })
plot-history-jobs = { $first } bis { $last }
plot-history-undated = ohne Tag, nicht gezeichnet: { $jobs }
plot-history-alt = Verlust jedes Zylinders über der Zeit. { $rows }
plot-history-alt-row = { $who }: { $values }.
plot-history-alt-value = { $day } { $loss } %

## Doctor

doctor-state-fine = gut
doctor-state-doubt = ansehen
doctor-state-bad = untauglich
doctor-no-sound = Kein Tonsystem: { $reason }
    .remedy = Dafür sorgen, dass das Tonsystem läuft und benutzt werden darf.
doctor-no-microphone = Kein Mikrofon.
    .remedy = Eines anstecken, oder mit dem Telefon aufnehmen: auf der Seite, oder anderswo und dann 'hissward add'.
doctor-microphone = Mikrofon { $name }: { $rate } Hz, Ton bis { $khz } kHz, { $level } dB FS.
doctor-microphone-fails = Mikrofon { $name }: { $reason }
    .remedy = Schließen, was es sonst benutzt, neu anstecken, oder ein anderes wählen.
doctor-microphone-unfit = Mikrofon { $name }: { $worth }.
    .remedy = In den Toneinstellungen des Systems einschalten, oder ein anderes wählen.
doctor-worked-on = { $name }: das System nimmt gleichmäßiges Rauschen aus diesem Eingang heraus, und ein Zischen mit.
    .remedy = In den Toneinstellungen des Systems das einfache Mikrofon wählen.
doctor-not-tried = { $name }: wie es mit gleichmäßigem Rauschen umgeht, ist nicht bekannt.
    .remedy = hissward doctor --try-recorder
doctor-tried = { $name }: wurde geprüft und lässt gleichmäßiges Rauschen in Ruhe.
doctor-tried-unfit = { $name }: wurde geprüft: { $faults }.
    .remedy = Rauschunterdrückung und Pegelautomatik ausschalten und neu prüfen, oder ein anderes wählen.
doctor-browser = Für die Seite lässt sich ein Browser öffnen.
doctor-no-screen = Hier ist kein Bildschirm: die Seite öffnet sich nur auf einem anderen Gerät.
    .remedy = hissward page AUFTRAG --lan, und die gedruckte Adresse auf dem Telefon öffnen.
doctor-no-browser = Kein Browser öffnet sich von selbst.
    .remedy = xdg-utils und einen Browser installieren, oder die gedruckte Adresse von Hand öffnen.
doctor-network = Netz: ein Telefon erreicht diesen Rechner unter { $address }.
doctor-no-network = Kein Netz: die Seite geht nur auf diesem Rechner.
    .remedy = In das Netz gehen, in dem das Telefon ist.
doctor-no-port = Keine Adresse für die Seite: { $reason }
    .remedy = Diesem Programm erlauben, auf diesem Rechner einen Port zu öffnen.
doctor-disk = Platte: { $gb } GB frei in { $folder }.
doctor-disk-full = Platte: { $gb } GB frei in { $folder }, weniger als ein Auftrag braucht.
    .remedy = Platz schaffen, oder Aufträge auf einer anderen Platte halten.
doctor-disk-closed = In { $folder } lässt sich nichts schreiben: { $reason }
    .remedy = In einen eigenen Ordner gehen.
doctor-clock = Uhr: { $now }.
doctor-clock-wrong = Die Uhr geht falsch: { $now }.
    .remedy = Stellen: jede Aufnahme und jeder Bericht trägt ihre Zeit.
doctor-trying = { $name } wird { $seconds } s geprüft: zwei Sekunden Ruhe, dann Rauschen aus dem Lautsprecher. Das Mikrofon einen halben Meter davor halten und still sein.
doctor-play = { $seconds } s Rauschen: jetzt den Rekorder starten, einen halben Meter vor dem Lautsprecher. Zuerst kommen zwei Sekunden Ruhe.
doctor-played = Den Rekorder anhalten und die Datei herbringen: hissward doctor --try-recorder --from DATEI --device NAME
doctor-silence = { $name }: nur digitale Stille: stumm geschaltet, oder die Aufnahme ist leer
doctor-recorder-fit = { $name } lässt gleichmäßiges Rauschen in Ruhe: es sank um { $sank } dB und stieg um { $rose }, wo 12 gespielt wurden.
doctor-recorder-unfit = { $name }: { $faults }. Gleichmäßiges Rauschen sank um { $sank } dB und stieg um { $rose }, wo 12 gespielt wurden.
    .remedy = Rauschunterdrückung und Pegelautomatik ausschalten und neu prüfen, oder einen anderen Rekorder nehmen: dieser versteckt ein Leck.
doctor-recorder-unheard = { $name }: das Rauschen war nur { $over } dB über dem Raum, zu wenig zum Beurteilen.
    .remedy = Den Lautsprecher lauter stellen, das Mikrofon näher halten, neu prüfen.
recorder-too-quiet = das Rauschen war nicht gut genug zu hören
recorder-fades = gleichmäßiger Ton wird ausgeblendet
recorder-pumps = die Verstärkung wandert
recorder-ends-early = die Aufnahme endete vor dem Rauschen

## Gesagt gegen gefunden

found-title = Was gesagt und was gefunden wurde: { $opened } geöffnet
found-said = gesagt
found-opened = geöffnet
found-right = richtig
found-share = Anteil richtig (95 %)
found-span = { $from } bis { $to } %
found-share-value = { $share } % ({ $low } bis { $high })
found-calls = Als gefunden gemeldet: { $right } von { $located } richtig. Nichts gehört und doch undicht: { $missed }. Nicht zu sagen: { $not_told }.
found-few = Das sind wenige ({ $opened }): die Intervalle sind weit; erst ab zwanzig zeigt sich, worin eine Werkstatt gut ist.
found-axis-right = wurde gefunden, %
found-axis-said = gesagt, %
found-of = { $right } von { $of }
found-alt = Wie oft gefunden wurde, was gesagt worden war, als der Motor geöffnet wurde. { $rows }
found-alt-row = Gesagt { $said } %: { $share } % richtig ({ $low } bis { $high } %).
found-other = andere Stelle
found-kept = { $who }: { $path } als gefunden aufgeschrieben. `hissward history ORDNER --found` vergleicht es mit dem, was gesagt wurde.
found-none = { $folder }: niemand hat aufgeschrieben, was beim Öffnen eines Motors gefunden wurde: hissward found AUFTRAG --cylinder N --path WEG
compare-opened = { $who } ({ $day }): geöffnet, gefunden: { $found }. Die Prüfung hatte ergeben: { $said }.

## Report: settings of the method

setting-frames = { $samples } Abtastwerte bei 48 kHz ({ $ms } ms), Hann-Fenster, halb überlappend
    .label = Kurzzeitspektren
setting-bands = Terzbänder von { $lowest } Hz bis { $highest } kHz, soweit beide Aufnahmen reichen
    .label = Verglichene Bänder
setting-level = { $lowest } bis { $highest } kHz; unter { $margin } dB über dem Hintergrund nur eine Schranke, über { $clear } dB keine Korrektur (ISO 3744)
    .label = Pegel des Zischens
setting-tried = { $quietest } bis { $loudest } dB gegen das Geräusch des Ortes, in Schritten von { $step } dB
    .label = Betrachtete Pegel
setting-change = { $common } dB in allen Bändern, { $smooth } dB von Oktave zu Oktave, { $band } dB in einzelnen Bändern; vom { $calmest }fachen bis zum { $wildest }fachen davon
    .label = Hintergrund wechselt
setting-spill = { $near } bis { $far } dB unter der undichten Stelle, von der es kommt
    .label = Herüberdringen
setting-placement = ±{ $level } dB, wo es keine Wiederholungen gibt
    .label = Lage des Mikrofons
setting-before = { $nowhere } %, dass an den Öffnungen nichts entweicht, { $two } %, dass es an zweien geschieht
    .label = Vorher wahrscheinlich
setting-calls = eine Öffnung ab { $sure } %; zwei ab { $two } % dafür, dass es zwei sind, wovon das genannte Paar { $share } % hält
    .label = Genannt wird
setting-gauge = { $psi } psi oder { $percent } Prozentpunkt
    .label = Ablesung auf
