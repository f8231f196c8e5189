# Every sentence for people, in English.
decimal-mark = .

## Openings

opening-intake = intake
    .short = intake
opening-exhaust = exhaust
    .short = exhaust
opening-oil-filler = oil filler
    .short = oil filler
opening-dipstick = dipstick tube
    .short = dipstick
opening-breather = crankcase breather
    .short = breather
opening-crankcase = crankcase
    .short = crankcase
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
call-shared = more than one leak
call-none-heard = none heard
call-cannot-tell = cannot tell

## Findings: parts of a text

section-found = What was found
section-sure = How sure that is
section-means = What it means
section-follows = What else follows
section-silent = What it does not say
section-next = What to do next
section-cautions = Mind

cylinder-one = cylinder { $list }
cylinders-many = cylinders { $list }

## Findings: where the hiss was

at-intake = at the intake
at-exhaust = at the exhaust
at-oil-filler = at the oil filler
at-dipstick = at the dipstick tube
at-breather = at the crankcase breather
at-crankcase = at the crankcase
at-coolant-filler = at the coolant filler
at-plug-hole = at the plug hole of cylinder { $number }
at-rig = at the test rig
at-other = at “{ $opening }”

heard-where = Hiss was heard { $where }.
heard-spill = What was heard { $spill } is the same hiss carrying over, not a second leak.
heard-spill-crankcase = What was heard { $spill } is the same hiss carrying over or the usual blow-by past the rings, not a second leak.
heard-nothing = No hiss stood out from the noise at any opening tested.
heard-undecided = The recordings do not settle where the air gets away.
loss-shown = The gauge shows a loss of { $shown } % of the test air ({ $shown-low } to { $shown-high } %), the test rig's own leak included.

## Findings: how much is lost

loss-net = With the rig's own leak taken off, the cylinder itself loses { $loss } % ({ $low } to { $high } %); cylinders are compared by that figure.
loss-net-otherwise = That figure would be called “{ $verdict }”, but limits are meant for the reading as read.
loss-unjudged = The gauge showed a loss of { $shown } % of the test air, the test rig's own leak included; that is not judged here.
loss-stands-out = That is far more than the other cylinders of this engine lose, which matters more than the figure itself.

verdict-excellent = excellent
verdict-good = good
verdict-fair = fair, keep an eye on it
verdict-suspect = needs work

judged = By { $band }: { $verdict }.
judged-under = By { $band }: { $verdict } (needs work at { $edge }).
judged-over = That is { $edge }: { $verdict } by { $band }.
judged-at = By { $band } this is at the limit (needs work at { $edge }); the gauges cannot show on which side.
judged-through = Through a restrictor of { $restrictor }, for which the limit is meant, the same leak would show { $percent } %.
judged-otherwise = Other scales differ: { $others }.
judged-other = { $verdict } by { $band }
edge-over = more than { $limit } %
edge-from = { $limit } % or more

band-maker = the maker's limit ({ $source })
    .short = the maker's limit
band-common-practice = common practice (which has no published source; for a restrictor of about 1 mm, 0.040 in)
    .short = common practice
band-aircraft = FAA AC 43.13-1B for aircraft engines (restrictor 0.040 in, from 5 in bore 0.060 in)
    .short = FAA AC 43.13-1B

## Findings: how sure

sure-located = The sound puts the leak here: { $probability } likely, not certain.
sure-located-normal = The hiss comes from here: { $probability } likely.
sure-located-joint = Gauge and sound together put the leak here: { $probability } likely, not certain.
sure-sound-alone = Without the gauge reading the sound says: { $alone-call }; most likely { $alone } ({ $alone-probability }).
sure-shared = Hiss was heard { $where }. Each is probably a separate leak, not one hiss carrying over to the other.
sure-none-heard = A hiss louder than { $level } dB FS would have been heard. A leak can be quieter than that, or be where nobody listened.
    .customer = No hiss stood out from the noise. A very quiet leak can go unheard, and so can one where nobody listened.
sure-cannot-tell = The sound does not settle it yet: no place is likely enough to act on.
sure-on-the-edge = The reading is too close to the limit to call; a second reading may fall on the other side.
sure-from-neighbour = This cylinder's own recordings settle nothing; the finding rests on those of cylinder { $neighbour }.
sure-partner-agrees = Cylinder { $neighbour } also loses a lot, which supports this.
sure-partner-disagrees = Cylinder { $neighbour } holds better than such a leak would allow, which counts against this.
sure-cold = The engine was cold. Cold readings are worse and less certain than warm ones.
sure-cold-alike = The other cylinders were as cold and read much the same, so it may be nothing but the cold.
sure-round-exhaust = At this crank angle the exhaust valve of cylinder { $neighbour } stands open: air past this cylinder's exhaust valve would come out there too, round by the manifold.
sure-round-intake = At this crank angle the intake valve of cylinder { $neighbour } stands open: air past this cylinder's intake valve would come out there too, round by the manifold.
sure-round-both = At this crank angle a valve of cylinder { $neighbour } may stand open: air past a valve of this cylinder would come out there too, round by the manifold.
sure-round-shut = At this crank angle both valves of cylinder { $neighbour } are shut, so the air did not come round by a manifold.

## Findings: of one cylinder

finding-rig-is-the-leak = Cylinder { $cylinder }: the test rig itself leaks.
    .technician = The hiss is at the hose, the adapter or the plug seat, outside the engine. The gauge counts that air too, so the reading says nothing about the cylinder until the rig holds.
    .customer = Cylinder { $cylinder } cannot be judged yet: the test equipment itself was leaking. That says nothing against the engine.
    .customer-next = Fix the leak in the test equipment, then test cylinder { $cylinder } again.

finding-gauges-disagree = Cylinder { $cylinder }: the two gauges do not agree.
    .technician = The gauge after the restrictor shows more than the one before it, which no leak does. With the cylinder's valve shut nothing flows and both must show the same; what they differ by then is taken off every reading.
    .customer = Cylinder { $cylinder } cannot be judged yet: the gauges of the test equipment do not agree with each other. That is no finding against the engine.
    .customer-next = The gauges are compared and the cylinder is read again.

finding-rig-in-the-way = Cylinder { $cylinder }: not judged, the test rig leaks too much beside it.
    .technician = The rig itself loses so much that the reading says little about the cylinder. What is left after taking it off depends on small errors in both readings. Fix the rig, then read rig and cylinder again.
    .customer = Cylinder { $cylinder } cannot be judged yet: the test equipment lost too much air of its own. That is no finding against the engine.
    .customer-next = The equipment is made tight and the cylinder is tested again.

finding-nearly-all-lost = Cylinder { $cylinder }: nearly all the air is lost.
    .technician = No worn valve and no worn ring loses that much. Either the piston is not at the top of its compression stroke, or a valve is held open (lash, something on the seat, a bent stem), or the adapter or plug seat leaks, or there is a hole. See to the position first; where the hiss is heard says nothing before that.
    .customer = Cylinder { $cylinder } cannot be judged yet: nearly all the air was lost, as when the engine is not quite in the test position or a valve stands open.
    .customer-next = Set the engine in position again and repeat the test. If it stays the same, look into the cylinder through the plug hole.

finding-gasket-or-crack = Cylinder { $cylinder }: air gets into the coolant.
    .technician = Test air that comes up in the coolant passes the head gasket, or a crack in head, liner or block. See the bubbles and put the cooling system under pressure before it is called; the engine is not run meanwhile.
    .customer = Air pressed into cylinder { $cylinder } was heard in the cooling system, where none belongs. The seal between cylinder head and block, or one of these parts, may let it through.
    .customer-next = Do not run the engine until the cooling system has been checked. That decides whether the cylinder head has to come off.

finding-gasket-to-neighbour = Cylinder { $cylinder }: air crosses into cylinder { $neighbour }.
    .technician = Air heard at the plug hole of the cylinder beside it, and not carried there by an open valve, passes the head gasket on the bridge between the two bores.
    .customer = Air put into cylinder { $cylinder } comes out of cylinder { $neighbour } next to it. Very likely the seal between cylinder head and block leaks between the two.
    .customer-next = The engine is run and both cylinders are tested once more. If they agree, the cylinder head has to come off to renew the seal.

finding-across-or-round = Cylinder { $cylinder }: its air comes out of cylinder { $neighbour } beside it, across the gasket or round by a valve.
    .technician = Two ways lead there: the head gasket on the bridge between the bores, or past a valve of this cylinder into the manifold and in by an open valve of the other. Putting the air on from the other side tells them apart: a gasket lets through both ways.
    .customer = Air pressed into cylinder { $cylinder } comes out of cylinder { $neighbour } next to it. It may cross at the seal between them, or go round by a pipe that both share; that is not settled yet.
    .customer-next = The air is put on from the other side as well; that takes minutes and settles it.

finding-round-by-manifold = Cylinder { $cylinder }: its air comes out of cylinder { $neighbour }, round by a manifold.
    .technician = The two cylinders do not stand side by side, so no gasket joins them. The air goes past a valve of this cylinder into the manifold and out through an open valve of the other: a valve of this cylinder leaks.
    .customer = Cylinder { $cylinder } loses air past one of its valves; it comes out by way of cylinder { $neighbour }, whose valve stands open at that moment.
    .customer-next = With the other cylinders closed up it is listened again, which shows which valve it is.

finding-gasket-from-neighbour = Cylinder { $cylinder }: air is lost, and air from cylinder { $neighbour } comes out here.
    .technician = The two losses are most likely one leak, seen from both sides: the head gasket between the bores.
    .customer = Cylinder { $cylinder } loses air, and air put into cylinder { $neighbour } next to it comes out here. Very likely the seal between cylinder head and block leaks between the two.
    .customer-next = Put the air on from this side as well. If it crosses again, the cylinder head has to come off to renew the seal.

finding-gasket-suspected = Cylinder { $cylinder }: a lot is lost, as in the cylinder beside it, and the place is not known.
    .technician = Two cylinders side by side that both hold badly may share one leak: the head gasket between them. Nobody has heard it yet, so this is a suspicion to test, not a finding.
    .customer = Cylinder { $cylinder } and the one next to it both lose a lot of air. They may share one leak, but that has not been shown yet.
    .customer-next = Put air into one of the two cylinders and listen at the other. That takes minutes and settles it.

finding-louder-than-its-flow = Cylinder { $cylinder }: the hiss { $where } is far louder than its loss explains.
    .technician = Beside cylinder { $neighbour }, which leaks at the same opening, the hiss follows the flow: ten to twenty-seven decibels for ten times the air, give or take six. This one lies more than fifteen decibels beyond that. So one measurement is wrong: the gauge of this cylinder was read before its needle stood or at another position, other air hissed into its recording, or the recording of cylinder { $neighbour } was taken from further away. Repeat the gauge reading of cylinder { $cylinder } first, then its clips, then those of cylinder { $neighbour }.
    .customer = At cylinder { $cylinder } the loss measured and the hiss heard do not fit together, so one of the two measurements is repeated.
    .customer-next = The loss of cylinder { $cylinder } is measured again, then it is listened again.

finding-cold-rings = Cylinder { $cylinder }: air gets past the piston, but the engine was cold.
    .technician = Rings seal by their oil and by their warmth, so this may be nothing but the cold.
    .customer = Cylinder { $cylinder } lets air past its piston. The engine was cold, and a cold engine always lets more past than a warm one.
    .customer-next = Warm the engine up and test again before judging anything. Do not order work on this reading.

finding-cold-and-silent = Cylinder { $cylinder }: loses more than a good engine, but it was cold, and no leak was heard.
    .technician = A cold engine reads worse. No escape path stands out, so there is nothing to take apart for.
    .customer = Cylinder { $cylinder } loses somewhat more air than a good one. The engine was cold, which alone can make that difference.
    .customer-next = Warm the engine up and test again before judging anything. Do not order work on this reading.

finding-both-valves = Cylinder { $cylinder }: air gets past both valves.
    .technician = Both valves of one cylinder leak: lash, carbon or worn seats. With the piston off the top a valve would be open and nearly all the air lost, so the piston is not the likely cause; still, bring it up to the top once more to be sure.
    .customer = Cylinder { $cylinder } loses air past both of its valves.
    .customer-next = The engine is run and tested again. Valve clearance and deposits are checked before anyone opens the cylinder head.

finding-two-leaks = Cylinder { $cylinder }: air gets away { $where }, each more than usual.
    .technician = There is more than one path: past a valve, and past the piston more than in the other cylinders. The gauge knows only their sum, and the louder of two hisses is not always the larger leak.
    .customer = Cylinder { $cylinder } lets air out in more than one place. How the loss divides between them is not known.
    .customer-next = Start with the simple steps on cylinder { $cylinder }: run the engine, check the valve clearances, free the valve of deposits. Test again after each, to see what helped.

finding-past-the-piston = Cylinder { $cylinder }: air gets past the piston.
    .technician = In a two-stroke, intake and exhaust are ports in the bore, and at top dead centre the piston covers them. Air heard there has come past the rings (a uniflow engine, whose exhaust has valves, excepted). Through the crankcase it reaches reeds and seals, so those may hiss without fault of their own.
    .customer = Cylinder { $cylinder } lets air past its piston. Worn or stuck piston rings, or a worn cylinder, are the likely cause.
    .customer-next = The engine is run and tested again. After that a look through the port shows rings and cylinder wall without taking anything apart.

finding-exhaust-valve = Cylinder { $cylinder }: air gets past the exhaust valve.
    .technician = A burnt or pitted seat, carbon on it, or lash so tight that the valve does not shut. A bent valve does the same.
    .customer = Cylinder { $cylinder } loses air into the exhaust. The valve that should shut it off there very likely does not seal.
    .customer-next = The engine is run and tested again. Then two simple things are tried before the cylinder head is opened: checking the valve's clearance, and freeing it of deposits.

finding-exhaust-valve-small = Cylinder { $cylinder }: holds well, but a little air gets past the exhaust valve.
    .technician = A valve is a standing seal and should not leak at all. Carbon on the seat or tight lash are the usual cause; hot gas makes a small leak there larger, so it is seen to now rather than at the next overhaul.
    .customer = Cylinder { $cylinder } holds its air well. A little of it gets past the exhaust valve, which should close fully; left alone, that tends to grow.
    .customer-next = The engine is run and tested again soon; the valve's clearance is checked.

finding-intake-valve = Cylinder { $cylinder }: air gets past the intake valve.
    .technician = A bent valve, carbon on the seat, or lash so tight that the valve does not shut. Blow-by that the crankcase breather leads into the intake is heard there too.
    .customer = Cylinder { $cylinder } loses air into the intake. The valve that should shut it off there very likely does not seal.
    .customer-next = The engine is run and tested again. Then two simple things are tried before the cylinder head is opened: checking the valve's clearance, and freeing it of deposits.

finding-intake-valve-small = Cylinder { $cylinder }: holds well, but a little air gets past the intake valve.
    .technician = A valve is a standing seal and should not leak at all. Carbon on the seat or tight lash are the usual cause; or it is blow-by that the breather leads into the intake.
    .customer = Cylinder { $cylinder } holds its air well. A little of it gets past the intake valve, which should close fully.
    .customer-next = The engine is run and tested again; the valve's clearance is checked.

finding-rings-or-bore = Cylinder { $cylinder }: air gets past the piston into the crankcase.
    .technician = Worn, stuck or broken rings, or a worn or scored bore; a damaged piston sounds the same. Some air always gets past the rings, so here the amount decides, and the gauge gives that.
    .customer = Cylinder { $cylinder } lets air past its piston into the lower part of the engine. Worn or stuck piston rings, or a worn cylinder, are the likely cause.
    .customer-next = The engine is run and tested again. If it stays so, a test with a little oil in the cylinder shows whether the rings or the cylinder wall are the likelier cause; both mean opening the engine, so that is worth knowing first.

finding-rings-normal = Cylinder { $cylinder }: holds well; the hiss { $where } is normal.
    .technician = Some air gets past the rings of every engine and can always be heard. At this loss nothing needs doing.
    .customer = Cylinder { $cylinder } holds its air well. Every healthy engine has the faint hiss past the piston.
    .customer-next = Nothing needs doing on cylinder { $cylinder }.

finding-small-leak = Cylinder { $cylinder }: holds well, with a small leak to be heard { $where }.
    .technician = By the gauge there is nothing to repair. Where so little gets away is worth knowing, not worth a spanner yet.
    .customer = Cylinder { $cylinder } holds its air well. A small leak can be heard, too small to call for work.
    .customer-next = Nothing has to be repaired now. The test is repeated at the next service.

finding-other-opening = Cylinder { $cylinder }: air was heard { $where }.
    .technician = You named this opening yourself, so the program knows no escape path for it.
    .customer = Air put into cylinder { $cylinder } was heard { $where }.
    .customer-next = Follow the sound of cylinder { $cylinder } on from there.

finding-lost-not-all-heard = Cylinder { $cylinder }: air is lost, and the { $missing } has not been listened at.
    .technician = No hiss names a place at the openings recorded, and one of the usual three is missing. The air may well go there: record it before anything else is looked at.
    .customer = Cylinder { $cylinder } loses air. One of the usual places has not been listened at yet, so where it goes is open.
    .customer-next = Listen on cylinder { $cylinder } at the { $missing } too. Take nothing apart before that.

finding-lost-but-silent = Cylinder { $cylinder }: air is lost, but no hiss was heard.
    .technician = It goes somewhere: where nobody listened, or here under the noise. Go along the joints of the rig first, then the coolant, then the neighbours' plug holes, and record once more at these openings with pulsed air.
    .customer = Cylinder { $cylinder } loses air, but no leak was heard. It can be the test equipment as well as the engine.
    .customer-next = Check the test equipment, then listen on cylinder { $cylinder } where nobody has listened yet.

finding-lost-undecided = Cylinder { $cylinder }: air is lost; where is not settled.
    .technician = The gauge shows a loss that needs explaining, and the recordings cannot explain it yet. A better recording costs less than pulling the wrong cylinder head.
    .customer = Cylinder { $cylinder } loses air. The noise on the day did not let us settle where, and this report does not guess.
    .customer-next = Repeat the recordings of cylinder { $cylinder } at a quieter time, or with the air switched on and off in rhythm. Take nothing apart before that.

finding-lost-unheard = Cylinder { $cylinder }: air is lost; nobody has listened yet.
    .technician = The gauge says how much, but cannot say where.
    .customer = Cylinder { $cylinder } loses air. Nobody has looked for the place yet.
    .customer-next = Listen at the openings of cylinder { $cylinder }, one after the other.

finding-healthy-cold = Cylinder { $cylinder }: holds well, even cold.
    .technician = A cold engine reads worse than a warm one, so a good cold reading stands. There is nothing to look for.
    .customer = Cylinder { $cylinder } holds its air well, even though the engine was cold.
    .customer-next = Nothing needs doing. To compare in later years, test it warm.

finding-healthy = Cylinder { $cylinder }: holds well.
    .technician = There is nothing to look for.
    .customer = Cylinder { $cylinder } holds its air well.
    .customer-next = Nothing needs doing on cylinder { $cylinder }.

finding-undecided = Cylinder { $cylinder }: the recordings do not settle it, and no gauge was read.
    .technician = Without a reading there may be nothing to find. Read the gauge first: it says whether looking further is worthwhile.
    .customer = Nothing can be said about cylinder { $cylinder } yet, good or bad.
    .customer-next = Measure the loss of cylinder { $cylinder } first; that shows whether there is anything to look for.

finding-silent-unmeasured = Cylinder { $cylinder }: nothing was heard, and no gauge was read.
    .technician = Silence at the openings is a good sign but no measurement. The gauge gives one.
    .customer = No escaping air was heard at cylinder { $cylinder }. How well it holds was not measured.
    .customer-next = Measure the loss of cylinder { $cylinder }.

finding-not-tested = Cylinder { $cylinder }: not tested yet.
    .technician = No gauge reading and no recording yet.
    .customer = Cylinder { $cylinder } has not been tested yet.
    .customer-next = Test cylinder { $cylinder }.

## Findings: of the engine

finding-rig-leaks = The test rig itself loses too much air.
    .technician = A rig that leaks as much as a good cylinder hides what it is there to show. Its loss is taken off the readings, but the uncertainty grows with it.
    .customer = The test equipment leaked somewhat itself. That has been taken off the results as far as possible.
    .customer-next = Fix the leak in the test equipment and repeat the test.

finding-rig-unread = The test rig's own loss was not measured.
    .technician = Every reading includes the rig's own leak; hoses, quick couplers and adapters often leak as much as a good cylinder.
    .customer = The figures include what the test equipment may have lost, so the engine may be better than they say.
    .customer-next = Measure the test equipment on its own; it takes a minute.

finding-neighbours-low = Side by side, and low together: { $cylinders }.
    .technician = Cylinders side by side that are low together raise the suspicion of the head gasket between them, whatever else is found.
    .customer = Cylinders that stand side by side lose air together. They may share one leak in the seal between them.
    .customer-next = Check whether the air crosses from one to the other.

finding-stands-out = Far worse than the rest of this engine: { $cylinders }.
    .technician = Losses run from { $least } to { $most } %. The other cylinders were read with the same rig, as warm, by the same person. So the difference lies in the cylinder and not in the test. Run the engine and read once more before any work.
    .customer = The loss of { $cylinders } is far above that of the rest of this engine. One bad cylinder may go unnoticed by the driver, yet decides what the engine is worth and what work it needs.
    .customer-next = Run the engine and test it again before any work.

finding-alike-and-low = All cylinders lose about the same, and more than a good engine does.
    .technician = Losses run from { $least } to { $most } %. A loss that is the same everywhere points to what all cylinders share: the rig, the cold, or even wear.
    .customer = All cylinders lose about the same. That points to the test conditions or to even wear rather than to a defect in one place.
    .customer-next = Check the test equipment, warm the engine up and repeat the test before ordering any work.

finding-alike-and-good = All cylinders tested hold well, and about equally.
    .technician = Losses run from { $least } to { $most } %. The spread between cylinders says more than any single value, and it is small.
    .customer = All cylinders tested hold their air well and about equally. That is what a healthy engine looks like.
    .customer-next = Nothing needs doing.

finding-read-cold = Read cold: { $cylinders }.
    .technician = Cold rings and dry bores read worse and vary more. Test warm before judging.
    .customer = The engine was cold when it was tested, and every engine reads worse cold.
    .customer-next = Repeat the test with the engine warm.

finding-some-untested = Not tested: { $cylinders }.
    .technician = The other cylinders are the best comparison there is; without them a value stands alone.
    .customer = Part of the engine has not been tested.
    .customer-next = Test the rest as well.

## Findings: what to do first, and why

order-rig = No reading counts until the rig holds.
order-coolant = Coolant and gas must not mix: the engine is not run until that is settled.
order-repeat = A second test takes minutes and may save the rest.
order-gasket = Both cylinders are judged only when that is settled.
order-valve = Often cured with the head in place.
order-rings = It takes the most work to reach, so everything cheaper is tried first.
order-other = Follow this up once the rest is settled.

## Findings: what else follows

follows-crankcase-pressure = Air past the rings puts pressure into the crankcase. What the breather cannot carry off pushes oil out elsewhere: at the crankshaft seals, covers and breather. New seals are money wasted until the cause is cured.
follows-valve-burns-on = A valve that leaks hot gas goes on burning. Running the engine hard makes the repair bigger.
follows-intake-spits = Burnt gas that goes back into the intake fouls it and can upset the mixture for the other cylinders.
follows-coolant-loss = Under load, gas in the coolant drives it out and can overheat the engine; at rest, coolant can run into the cylinder.
follows-two-cylinders = Both cylinders lose air by such a leak; judge each one only after it is cured.

## Findings: what is not said

silent-not-proof = Listening gives an indication, not proof; the parts themselves have the last word.
silent-loudness = How loud it hisses does not say how much is lost: the sound says where, the gauge says how much.
silent-how-much = How much is lost is not known.
silent-how-long = This test cannot say how long the engine will last.
silent-rings-or-bore-alike = A leaking ring and a scored bore sound alike; the sound cannot tell them apart.
silent-gasket-or-crack-alike = A blown gasket and a crack sound alike; the sound cannot tell them apart.
silent-valve-cause = The sound cannot tell whether the valve is burnt, bent, dirty or just set too tight.
silent-place-unknown = Where the air gets away is not known.
silent-cylinder-not-judged = Nothing is said about the cylinder itself, good or bad.
silent-cold-reading = What the engine loses when warm is not known.
silent-one-value = One figure alone is no verdict on the engine; the maker's limits come first.
silent-layout-unknown = Whether these cylinders stand side by side is taken from their numbers; the job does not say how the block is laid out.

## Findings: steps

step-back-to-top = Turn the crank back at least half a turn, then come up again in its direction of rotation to top dead centre of the compression stroke. Hold it there.
step-back-to-top-two-stroke = Turn the crank back a quarter of a turn and come up again to top dead centre, where the piston covers all ports; hold it there.
step-borescope = Look through the plug hole with a borescope: valve seats and edges, piston crown, bore.
step-coolant = With the engine cold, open the coolant filler, put the air on and watch for bubbles.
step-crankcase-breather = Check that the crankcase breather is clear, and how hard it blows with the engine running.
step-gauges-shut = Shut the cylinder's valve, so that nothing flows, and read both gauges: they must show the same. Give both to hissward rig with --gauges; what they differ by is taken off.
step-head-bolts = Check the head bolts as the maker says.
step-pulsed-air = Record once more here with pulsed air: the valve opened and shut to the beep, so that the noise of the shop drops out.
step-lash = Check the lash; too little holds the valve off its seat. Set it, and test again.
step-listen-again = Record the quiet and air clips again.
step-makers-limit = Compare the readings with the maker's limits; nothing else can judge even wear.
step-listen-there = Record at the opening that is missing ({ $missing }), with the air off and on.
step-listen-first = Record a quiet and an air clip at each opening, including the rig.
step-neighbour-hole = Put the air on the other cylinder and listen at this one's plug hole, then the other way round: a gasket lets through both ways.
step-neighbour-reading = Read the gauge on the neighbouring cylinder too: a shared gasket shows in both.
step-oil-in-cylinder = Put about a teaspoon of oil into the cylinder, turn the engine over by hand, test again: a loss that goes down points to the rings rather than the bore. In a slanted bore (vee, flat or slant engine) the oil runs to the low side and seals only there; no change says little then.
step-other-openings = Listen where nobody has yet: coolant filler, neighbours' plug holes, breather, dipstick, all round the gasket.
step-pinch-breather = Pinch the hose from the crankcase breather (PCV) to the intake: if the hiss at the intake goes, it came past the rings and not past the valve.
step-plug-the-holes = Screw the plugs of the other cylinders in again and listen at intake and exhaust: air that came round by a manifold now comes out there.
step-pressure-cooling = Put the cooling system under its test pressure and see whether it holds.
step-read-again = Read the gauge again.
step-read-again-hot = Test again with the engine hot.
step-read-gauge = Read the gauge: the sound says where, only the gauge says how much.
step-read-gauge-after-each = Read the gauge again after each step; whatever lowers the loss was part of the leak.
step-record-again = Record again at a quieter moment, with the microphone in the same place for quiet and air.
step-reeds = Look at the reeds and shaft seals: they hiss when air comes past the piston into the crankcase, and a bad one leaks on its own under crankcase pressure.
step-rig-blank-off = Blank off the hose and adapter and read what the rig itself loses.
step-rig-joints = Go along hose, couplers, adapter and plug seat with the microphone or soapy water, and tighten or replace what hisses. An adapter in the hole of an injector or glow plug seals on a washer or cone of its own: look there.
step-ring-gaps = Rings whose gaps happen to stand in line leak for a while and come right on their own: run the engine for some hours and test again before opening it.
step-rock-piston = Let the air off, rock the piston past the top and back a few times, come up again in the direction of rotation so that the rings seat, and read again. If the loss falls while the air stays on, leave it on until the needle settles.
step-run-and-repeat = Run the engine for at least three minutes at working temperature and test again before any work: carbon on a seat and dry rings are often put right by that (AC 43.13-1B).
step-supply-closed = Shut the cylinder valve and listen: what still hisses is not the cylinder.
step-tap-valve = Let the air off. Turn the crank until the piston stands well away from the top, and keep clear of what turns: a valve driven into the piston is bent. Then tap the end of the valve stem (or the rocker above it) smartly with a soft mallet to shake carbon off the seat, come up to the top again, and test again.
step-test-later = Test again at the next service and compare.
step-test-the-others = Test the remaining cylinders.
step-turn-through = Let the air off, turn the engine through by hand a few times and see that both valves move freely and come back to their seats.
step-valve-guides = Take off the valve cover, or the filler cap in it, and listen there: air past a valve comes up a worn guide into the cover and is heard at the filler, without fault of the rings.
step-warm-engine = If the engine runs, warm it to working temperature and test again at once.

## Findings: cautions

mind-maker-first = The maker's instructions and local rules come first; where the law asks for a licensed person, that person decides.
mind-crank-turns = Air in the cylinder can turn the crank without warning: lock it as the maker says, take spanners off it, keep hands, hair and clothes clear.
mind-piston-away = No valve is touched while the piston is near the top: turn it well away first, and stay clear of what turns.
mind-eyes = Wear eye protection with side shields.
mind-ears = Wear hearing protection. Never put your face or ear to an opening under pressure; the microphone goes there.
mind-relieve = Let the pressure off before unscrewing the adapter or touching the valve gear.
mind-pressure = Bring the pressure up slowly from about 20 psi (1.4 bar) and never above the maker's test pressure.
mind-hot = Exhaust and engine are hot.
mind-coolant-hot = Open the coolant cap only when the engine is cold: hot coolant is under pressure.
mind-ignition = Ignition and fuel off, no flame or spark near fuel vapour.
mind-fumes = Crankcase and exhaust gases are toxic: provide fresh air.
mind-little-oil = If oil goes into a cylinder, a teaspoon is the limit, and none may be left in it when the engine is cranked fast: a cylinder full of liquid breaks the engine.

## Gauge: caveats

caveat-rig-not-measured = The test rig's own loss was not read, so the cylinder loses at most what is shown.
    .remedy = Blank off the hose and adapter and read the rig.
caveat-rig-is-all = Rig and cylinder together lose { $total } %, the rig alone { $rig } %: as far as the gauges can show, the rig is the whole loss.
    .remedy = Fix the rig if the cylinder's own small loss matters.
caveat-rig-dominates = The rig itself loses { $rig } %, more air than the cylinder does, so the cylinder's own loss is uncertain.
    .remedy = Fix the rig and read again.
caveat-rig-worse = The rig alone loses { $rig } %, more than rig and cylinder together ({ $total } %): it leaked less this time, or one of the two readings is wrong. The reading was kept.
    .remedy = Blank the hose off again and read both again at the same supply.
caveat-gauges-disagree = More is held than supplied: the two gauges do not show the same. The reading was kept.
    .remedy = Shut the cylinder's valve and read both; give them with hissward rig --gauges.
caveat-still-falling = The loss fell while the air stayed on: { $series } %.
    .remedy = Leave the air on until the needle settles; rings seat and oil spreads in that time. The last reading counts.
caveat-still-rising = The loss rose while the air stayed on: { $series } %.
    .remedy = See that the crank has not moved and the supply stands still; the last reading counts.
caveat-rig-leaks = The rig alone loses { $rig } % of the supply.
    .remedy = Find the leak at the hose, couplers and adapter, fix it and read the rig again.
caveat-percent-gauge = The gauge shows percent, so a supply of { $supply_psi } psi ({ $supply_bar } bar) and an even scale were assumed in taking the rig off.
    .remedy = Read the two pressures if the tester shows them.

## Recordings

caveat-cut-off-file = { $file }: The file is cut off: { $kept_s } s of { $promised_s } s are there.
    .remedy = Copy it again from the recorder. What is there is used.
caveat-unfinished-file = { $file }: The recorder never finished this file; { $kept_s } s are there.
    .remedy = Listen to whether it ends where it should. What is there is used.
caveat-header-too-short = { $file }: The file's header covers only { $kept_s } s; about { $unread_s } s more follow it.
    .remedy = Export it again as WAV if sound is missing. What the header covers is used.
caveat-several-channels = { $file }: The { $channels } channels differ; channel 1 is used.
    .remedy = Name the channel whose microphone was at the opening if it was another one.
caveat-first-channel-silent = { $file }: Channel 1 is silent, channel { $channel } is not.
    .remedy = Name channel { $channel }.
caveat-damaged-packets = { $file }: { $packets } pieces of it are damaged and left out.
    .remedy = Copy it again from the recorder.
caveat-device-failed = The microphone { $device } failed after { $kept_s } s ({ $said }).
    .remedy = Check plug and cable and record again. What was recorded up to then is kept.
caveat-device-silent = The microphone { $device } gave no more sound after { $kept_s } s.
    .remedy = Check plug and cable, or restart the sound system, and record again. What was recorded up to then is kept.
caveat-file-ended = The file could not be written any further after { $kept_s } s: { $said }.
    .remedy = Make room, or record to another folder. What was recorded up to then is kept.
caveat-sound-lost = { $lost_ms } ms of sound were lost because this computer was too busy.
    .remedy = Close other programs and record again.
caveat-sound-gap = { $gap_s } s are missing from the recording: the computer slept or froze.
    .remedy = Keep it awake (lid open, power plugged in) and record again.
caveat-overruns = The sound system lost sound { $times } times.
    .remedy = Close other programs, plug the microphone straight into the computer, and record again.
caveat-device-changed = The system switched from { $device } to another microphone while recording.
    .remedy = Plug the microphone in firmly and record again.

## Microphones

mics-none = No microphone was found: plug one in. Recordings made elsewhere are added with 'hissward add'.
mic-shape = { $rate } Hz, { $channels } ch, { $kind }
mic-useful = useful
mic-monitor = not usable: hears what this computer plays, not the room
mic-narrow-band = not usable: ends below the hiss, as telephone headsets do
mic-blocked = cannot be opened: another program is using it, or access is not allowed
mic-muted = no sound: it is muted or switched off
mic-tried = up to { $khz } kHz, { $level } dB FS
mics-trying = Listening to { $count } for a second each.
mic-default = used unless you name another

## Job folder

new-started = Started { $job }. Next: `hissward guide` leads you through the test, or `hissward rig` records what the rig alone loses.

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
tight = nothing leaks
    .choice = no leak at all
level-interval = { $low } to { $high }
level-at-most = at most { $level }
level-not-heard = not heard
level-not-measured = heard, level uncertain
level-spill = carried over

## The comparison picture

plot-elsewhere = elsewhere { $percent } · nothing leaks { $tight }
plot-located = leak { $where }, { $percent } likely
plot-shared = more than one leak: { $where }
plot-normal = normal hiss { $where }: no leak to repair
plot-none-heard = nothing heard, under { $level } dB
plot-cannot-tell = not settled: { $where }
plot-reservation = { $text }
plot-reservations = { $text } · { $more } more reservations
    .one = { $text } · 1 more reservation
plot-small-print = Levels are decibels below the loudest that the recording can hold (dB FS): −60 is quieter than −40.
plot-levels = Hiss level, dB
plot-spectra = Sound by pitch, dB
plot-khz = kHz
plot-level = { $level } dB
plot-at-most-short = ≤ { $level }
plot-at-most = at most { $level } dB
plot-seconds = { $number } s
plot-not-recorded = no clip
plot-key-air = air on
plot-key-quiet = quiet, air off
plot-key-rise = louder with the air on: hiss
plot-key-hiss = hiss alone (no quiet clip)
plot-key-used = pitch that counts (grey: not used)
plot-key-heard = hiss level, 95 % interval
plot-key-bound = nothing heard: any hiss is below this, 95 %
plot-key-leak = leak found here
plot-key-open = may be here, not settled
plot-alt = Comparison of the openings. { $rows }
plot-alt-row = { $subject }, { $call }. { $openings }.
plot-alt-heard = { $opening } { $percent }, hiss { $level } dB
plot-alt-bound = { $opening } { $percent }, hiss at most { $level } dB

## The ranking in sentences

rank-located = { $subject }: located at { $opening }: likely { $path } ({ $percent } sure)
rank-located-own = { $subject }: located at { $opening } ({ $percent } sure)
rank-shared = { $subject }: more than one leak: hiss at { $places } ({ $percent } likely)
rank-none-heard = { $subject }: none heard: no hiss at the openings tested ({ $tight } likely that nothing leaks, { $elsewhere } that it leaks elsewhere)
rank-cannot-tell = { $subject }: cannot tell: { $places } ({ $percent } likely to be among these)
    .one = { $subject }: cannot tell: { $places } is { $percent } likely, but that is not settled
rank-cannot-tell-unfit = { $subject }: cannot tell: these clips allow no answer
rank-would-be-heard = A hiss louder than { $level } dB FS would have been heard at every opening ({ $opening } is the least certain; 95 %).
rank-answer-set = 95 % likely to be among these: { $places }.
rank-member = { $place } { $percent }
rank-beside = Compared with the other cylinders, { $opening } stands out by { $level } dB ({ $low } to { $high }).
    .alike = The { $opening } is about as loud on the other cylinders: { $level } dB apart ({ $low } to { $high }).
rank-spill = Carried over, not a leak of its own: { $places }.
rank-hiss = { $level } ({ $low } to { $high })
rank-no-quiet = pulsed
rank-caveats = Reservations:
rank-column-opening = opening
rank-column-probability = probability
rank-column-hiss = hiss level, dB FS
rank-column-above = above quiet, dB

## What to do next

next-line = Next: { $step }.
next-record-off = record a quiet clip { $place }, air off ({ $seconds } s): { $chance }
next-record-on = record { $place } with the air on ({ $seconds } s): { $chance }
next-record-pulsed = record { $place } with pulsed air ({ $seconds } s): { $chance }
next-record-cold = once the coolant is cold, record { $place } with pulsed air ({ $seconds } s): { $chance }
next-listen-on = the { $opening } has not been listened at: record there with the air on ({ $seconds } s)
next-listen-pulsed = the { $opening } has not been listened at: record there with pulsed air ({ $seconds } s)
next-read-rig = blank the hose off and read what the rig alone loses ({ $seconds } s): { $chance }
next-read-gauge = read the gauge at this cylinder ({ $seconds } s): { $chance }
next-chance = { $percent } likely to settle it
next-chance-small = that alone is unlikely to settle it
next-none-heard = Next: compare this with the gauge reading. If the cylinder loses more than it should, the air goes where nobody listened: test the rig alone, then listen at the coolant filler and at the neighbours' plug holes.
next-cannot-tell = Next: record { $places } again, two takes each with the air off and on, the microphone in the same place. Switch off whatever is loud and changing, or pulse the air.
next-cannot-tell-elsewhere = Next: record { $places } again, two takes each with the air off and on, the microphone in the same place and closer. Then listen at the openings not yet recorded.
next-cannot-tell-unfit = Next: fix what the reservations name, then record every opening again with the air off and on.

## The report

report-title = Cylinder leakage: where the air goes
report-date = Date
report-tested-by = Tested by
report-notes = Notes
report-surer = What would make this surer
report-surer-step = { $step }.
report-findings = The findings in detail
report-comparison = The openings compared
report-levels = The figures
report-caveats = Reservations
report-cautions = Cautions for anyone repeating the test
report-figure = { $subject }: the hiss at each opening, and the sound with the air on and off. Levels are decibels below the recording's full scale (dB FS).
report-levels-of = { $subject }: probability and hiss level of each opening
report-column-opening = Opening and escape path
report-column-probability = Probability
report-column-hiss = Hiss level, dB FS
report-column-above = Above quiet, dB
report-caveat = { $found }. What to do: { $remedy }
report-customer = For
report-page-of = Page # of ##
report-signs-missing = Some characters are missing from this paper's font and appear as □; the page report.html shows them.
report-holds-well = { $cylinders } hold well.
    .one = { $cylinders } holds well.
report-nothing-to-do = Nothing needs doing.
report-next-recording = { $subject }, next: { $step }.
report-appendix = Appendix: meaning, findings in detail, figures, sounds, method
report-answer-repair = { $cylinders } need work
    .one = { $cylinders } needs work
report-answer-repeat = { $cylinders } must be tested again first
    .one = { $cylinders } must be tested again first
report-answer-watch = keep an eye on { $cylinders }
    .one = keep an eye on { $cylinders }
report-answer-fine = { $cylinders } hold well
    .one = { $cylinders } holds well
report-action-repair = needs work
report-action-repeat = test again first
report-action-watch = keep an eye on it
report-action-fine = nothing to do
report-card-fine-open = The sound was not settled. With so little lost, nothing needs doing.
report-card-over = As read, test rig included: { $shown } %. That is { $edge }: { $verdict } by { $band }.
report-card-loss = loses { $loss } % of the test air ({ $low } to { $high } %)
report-card-unread = loss not measured
report-how-to-listen = To listen yourself, open report.html on a phone or computer, open the appendix and play “The sounds”.
report-signature-tested = Date and signature of the tester
report-signature-customer = Date and signature of the customer
report-glance = How much of the test air each cylinder loses. The thin line shows how exact the gauge is.
plot-glance-leak = leak found
plot-glance-nothing = no leak heard
plot-glance-normal = normal hiss only
plot-glance-open = not settled
plot-glance-unheard = not listened to
plot-glance-alt = Loss of each cylinder. { $rows }
report-overview = Where the air is heard. Each line is one place where the microphone was held; further right is louder. How loud it hisses does not say how much is lost: the table says that.
report-cylinders = The cylinders: how much of the test air each loses, how that rates, and what the sound says.
report-column-cylinder = Cylinder
report-column-loss = Air lost
report-column-called = Rating
report-column-sound = What the sound says
report-not-read = not read
report-not-judged = not rated
report-at-the-limit = at the limit
report-not-listened = not listened to
report-loss-net = { $interval } %, test rig taken off
report-loss-gross = { $interval } %, test rig included
report-loss-beside = cylinder alone { $percent } % ({ $interval } %), test rig taken off
report-by = by { $band }
report-likely = { $place }, { $percent } likely
report-circumstances = Test conditions
report-warmth = Engine
report-hot = at working temperature
report-cold = cold
report-restrictor = Restrictor of the tester
report-ambient = Air pressure on site
report-maker = Maker's limit
report-makers-limit = { $loss } % ({ $source })
report-no-source = no source given
report-microphone = Microphone
report-cautions-confirmed = Cautions confirmed
report-readings = Gauge readings
report-readings-of = What the gauges showed, and what that leaves for the cylinder alone.
report-readings-note = The rig's own leak and the cylinder's sit side by side behind the same restrictor, so areas are subtracted, not percentages. A hole that lets the same air through illustrates the loss; it is not the shape of the leak.
report-column-pressures = Supply, held
report-column-shown = Reading
report-column-alone = Cylinder alone
report-column-hole = As a hole
report-held-of = { $supply }, { $held }
report-percent-gauge = percent gauge
report-flow = { $flow } l/min of free air
report-ratio = { $ratio } × the restrictor
report-rig-alone = Test rig alone
report-sounds = The sounds
report-about-sounds = You hear quiet first, then air: up to { $seconds } s from the middle of each recording, all { $gain } dB louder than recorded. The strips show the sound: time runs to the right in seconds, pitch upwards in kHz, from white ({ $white } dB FS and below) to black ({ $black } dB FS and above). Keep the volume moderate. The page report.html plays the sounds; the full recordings are in the job folder.
report-sound = { $subject }, { $opening }
    .take = { $subject }, { $opening }, take { $take }
report-sound-label = Play { $caption }: { $kinds }
report-sound-alt = Levels by time and frequency: { $caption }, { $kinds }. The figures for this opening are in the tables.
air-off = quiet (air off)
air-on = air on
air-pulsed = air pulsed
report-method = Method and settings
report-recordings = The recordings
report-recordings-of = Every recording of this job. The first characters of its SHA-256 tell it from any other; the full value is in job.toml, and “hissward verify” checks the files against it.
report-column-file = File
report-column-recorded = Recorded, length, rate, device
report-column-hash = SHA-256
report-clip-shape = { $seconds } s, { $rate } kHz
report-left-out = left out: { $why }
report-time-unknown = time unknown
report-program = Report made with
report-job-made-with = Job made with
method-gauge = Loss is the share of the supply pressure that the cylinder does not hold, 100·(supply − held)/supply (FAA AC 43.13-1B, chapter 8). What the rig alone loses is taken off as flow through a second opening behind the same restrictor, isentropic, at the same supply. The intervals of about 95 % follow from how finely the gauges can be read.
method-sound = At each opening a clip with the air off is compared with one with the air on, in third-octave bands (IEC 61260-1) from 400 Hz to as high as both recordings really reach. The hiss level is what remains from 1 to 16 kHz after the background is taken off (as in ISO 3744, K1). Where the margin over the background is too small for that, only an upper bound is given.
method-noise = Levels that ignore single bangs keep short noises out; bands that the hiss does not reach show how the background changed. The position of the microphone counts towards the uncertainty: from repeats where there are any, otherwise ±2 dB.
method-probability = Every possibility (no leak, a leak at one opening, at two, elsewhere) is weighed by how well it predicts the recordings, over all levels and shapes of a hiss and all plausible changes of the background. The same recordings give the same figures. “Located” is said only where one opening holds at least 95 %.
method-limits = Published limits of loss differ; the maker's come first. Loudness does not measure how much is lost.
report-colophon = Made with hissward { $version }.
limit-places = Nothing is said about places where nobody recorded.

## Gauge: what is printed

gauge-loss = { $who }: { $loss } % lost ({ $low } to { $high } %): { $supply } supplied, { $held } held.
gauge-loss-share = { $who }: { $loss } % lost ({ $low } to { $high } %) on the percent gauge.
gauge-rig-who = Test rig alone
gauge-net = The cylinder itself loses { $loss } % ({ $low } to { $high } %). The rig's { $rig } % is taken off as air flow; percentages cannot simply be subtracted.
gauge-hole = That leak passes as much air as a hole of { $hole } beside a restrictor of { $restrictor }: { $flow } L/min (20 °C, 100 kPa) at most.
gauge-ratio = That leak is { $ratio } times the size of the tester's restrictor; give the restrictor's diameter in the job to see it as a hole.
gauge-not-judged = Not judged: the reading says too little of the cylinder.
gauge-earlier = Earlier readings, as read: { $list } %. The last one counts.
gauge-caveat = { $found } { $remedy }
gauge-kept = Kept in { $job }.
gauges-less = With the valve shut the gauge after the restrictor shows { $by } less than the one before it; that is taken off every reading.
gauges-more = With the valve shut the gauge after the restrictor shows { $by } more than the one before it; that is taken off every reading.
rig-next = Next: blank off hose and adapter and read what the rig alone loses.

caveat-read-cold = The engine was cold, so the reading is worse and less certain than a warm one.
    .remedy = Warm the engine up and read again before judging.

## Fitness of clips

caveat-silent = { $file } is silent.
    .remedy = Check that the microphone is not muted, and record again.
caveat-clipped = { $file } is clipped: the input was at full scale for { $percent } % of the time.
    .remedy = Turn the input down or hold the microphone further away, and record again.
caveat-too-short = { $file } is only { $seconds } s long.
    .remedy = Record six seconds.
caveat-digital-silence = { $percent } % of { $file } is digital silence: no sound at all reached the file.
    .remedy = Check plug, cable and connection of the microphone, switch a noise gate off, and record again.
caveat-level-falling = The hiss of { $file } falls by { $db } dB while it is recorded.
    .remedy = Let the tank fill up, see that the regulator holds its pressure, and record again.
caveat-dc = { $file } is off zero by { $percent } % of full scale.
    .remedy = Use another input or microphone; the hiss itself is not affected.
caveat-narrow-band = { $file } has nothing above { $khz } kHz.
    .remedy = Record as WAV with a microphone that reaches 16 kHz, not over a headset.
caveat-rumble = { $file } is full of low rumble, from wind or handling.
    .remedy = Hold the microphone still, out of the air stream, and record again.
caveat-gain-step = The level of { $file } jumps by { $step } dB and stays there, as automatic gain does.
    .remedy = Switch automatic gain off, and record quiet and air again.
caveat-whistle = Most of { $file } is one tone at { $khz } kHz, not a broadband hiss.
    .remedy = Find the whistle (a sharp edge, a machine) and record again without it.
caveat-same-recording = { $file } and { $other } are the same recording.
    .remedy = Record quiet and air one after the other.
caveat-bangs-overdrive = Bangs drove the input to full scale. A quiet hiss between them can go unheard.
    .remedy = Record again when it is quieter, or with the input turned down.
caveat-counted-once = { $file } and { $other } hold the same seconds of sound. They count as one take.
    .remedy = Record a second take: the microphone lifted off and held there again.
caveat-different-rates = Quiet and air were recorded at different rates ({ $quiet_hz } and { $air_hz } Hz).
    .remedy = Use the same device and settings for both.
caveat-quiet-louder = The quiet clip is { $db } dB louder than the air clip.
    .remedy = Check that the clips are not mixed up, and record the quiet one again.
caveat-different-devices = { $file } was recorded with { $device }, the others here with { $other }.
    .remedy = Record the quiet and air clips of this opening with one microphone.
caveat-gain-differs = All of { $file }, low bands and high, is { $step } dB above the first quiet clip: the gain was changed in between.
    .remedy = Fix the gain, switch automatic gain off, and record quiet and air again.
caveat-processing-echo = The phone cancelled echoes while it recorded { $file }; that changes the spectrum.
    .remedy = Use another browser or an external microphone, and record again.
caveat-processing-noise = The phone suppressed noise while it recorded { $file }, and to a phone a hiss is noise.
    .remedy = Use another browser or an external microphone, and record again.
caveat-processing-gain = The phone changed its gain while it recorded { $file }, so quiet and air cannot be compared.
    .remedy = Use another browser or an external microphone, and record again.
caveat-processing-unknown = The phone did not say whether it processed the sound of { $file }.
    .remedy = Record once with another browser or an external microphone and compare.
caveat-alike-at-other-cylinders = The hiss { $at } is about as loud on the other cylinders.
    .remedy = Listen at the test rig and its hose: a hiss on every cylinder may be the rig, or normal blow-by past the rings.
    .short = about as loud on the other cylinders
caveat-cut-short = { $file } was cut short while recording.
    .remedy = Record it again if it is too short.

## Ranking

caveat-not-comparable = There is nothing to compare { $at }.
    .remedy = Record a quiet clip and an air clip there, or pulsed air for at least six seconds.
caveat-nothing-to-rank = There is nothing to rank.
    .remedy = Record a quiet clip and an air clip at each opening.
caveat-band-limit = Not all clips reach above { $khz } kHz, so levels end there.
    .remedy = Record all clips as WAV with a microphone that reaches 16 kHz.
    .short = levels end at { $khz } kHz
caveat-foreign-hiss-alike = Another steady hiss in the shop that began between quiet and air (a tap, rain, a grinder, another air tool) would look the same.
    .remedy = Record the likeliest opening once more with pulsed air.
    .short = another steady hiss that began with the air would look the same
caveat-one-opening = Only one opening was recorded, so a hiss carrying over from another cannot be told from a leak.
    .remedy = Record the other openings, too.
    .short = only one opening was recorded
caveat-borrowed-quiet = An opening has no quiet clip of its own; those of the others stand in.
    .remedy = Record a quiet clip at each opening.
    .short = an opening has no quiet clip of its own
caveat-more-clips-tell-little = More clips like these would tell next to nothing more.
    .remedy = Change what is heard before recording on: switch off what is loud, and hold the microphone closer and still.
    .short = more clips like these tell little
caveat-own-rhythm = The noise { $at } has a rhythm of its own.
    .remedy = Repeat the pulsed clip when it has stopped.
caveat-not-listened-at = Nobody has listened { $at } yet.
    .remedy = Record { $at } with the air off and on.
caveat-air-on-microphone = Air streams over the microphone { $at }: what rises there has the colour of wind, not of a leak.
    .remedy = Hold the microphone a hand's breadth to the side, out of the stream, or put foam over it, and record again.
caveat-does-not-follow-valve = The hiss { $at } does not follow the valve: it is there with the air on, and not in the rhythm of the pulsed clip.
    .remedy = Look for what else hisses there, and record again when it has stopped.
caveat-rhythm-unclear = Pulsed air does not show clearly that the hiss { $at } follows the valve.
    .remedy = Record it pulsed once more, in a quieter moment.
caveat-heard-everywhere = A hiss is heard at all openings alike. It comes from the rig, or from a place where nobody listened.
    .remedy = Listen along the hose, couplers and adapter, mend what hisses, and record again. Then record the coolant filler and the neighbours' plug holes.
caveat-fits-no-explanation = What rises { $at } from { $from_khz } to { $to_khz } kHz with the air on fits none of the explanations.
    .remedy = Record { $at } once more with pulsed air, and with another microphone or recorder.
caveat-hiss-in-part = The hiss { $at } is there for only part of the clip.
    .remedy = Open the valve first, then record { $at } again. If the hiss comes and goes with the air on, record it with pulsed air.
caveat-risen-everywhere = The second microphone heard the shop get louder while the air was on { $at }.
    .remedy = Wait until it is as quiet as before and record again, or use pulsed air.
caveat-suppression-shut-off = The recorder shut the sound off: { $percent } % of a recording is digital zero.
    .remedy = Nothing can be heard through that: record with noise suppression switched off, or with a recorder that writes plain WAV, and record quiet and air again.
caveat-suppression-eaten = The recorder suppresses noise: a steady floor is turned down where it is weak, and a hiss with it.
    .remedy = That no hiss is heard says nothing: switch noise suppression ("clear voice", "voice focus") off, or take a recorder that writes plain WAV, and record quiet and air again.
caveat-gain-rides = The recorder sets its own gain: recordings begin { $db } dB above where they come to rest.
    .remedy = Switch automatic gain off; until then wait three seconds after the start before the air is turned on.
caveat-limited = A limiter holds the peaks down: { $percent } % of a recording ends at one ceiling.
    .remedy = Turn the recording level down, or the limiter off, and record quiet and air again.
caveat-lossy-coding = The recordings were stored as { $coding }, which leaves out what an ear would not miss.
    .remedy = Record as WAV where the app lets you.
caveat-two-microphones = The recordings hold two microphones: channel { $near } is nearer the opening, channel { $far } tells how loud the shop is.
    .remedy = Hold the recorder the same way round at every opening.
caveat-two-microphones-alike = The recordings hold two microphones, and no hiss is louder at one of them.
    .remedy = Hold one end of the recorder at the opening, the other away from it, the same way round every time.
caveat-heard-alike-at-both = What rises with the air rises at both microphones alike: it is not made at the opening, or both microphones were equally near.
    .remedy = Hold one end of the recorder at the opening and the other away from it, or use pulsed air.

## Check

clip-left-out-unfit = { $file } is kept, but does not count: record it again. To count it all the same: hissward amend { $job } { $file } --take-in
check-fit = fit
check-unfit = unfit

## Recording

listen-begins = Recording { $at }, air { $air }, { $seconds } s, with { $device }.
listen-level = { $elapsed } s  { $level } dB FS  peak { $peak }{ $clipped }
listen-clipped =   TOO LOUD
recorder-known = { $device } was found in an earlier job: { $what }
recorder-suppression-shut-off = it shuts the sound off where nobody speaks; no hiss comes through it. Switch its noise suppression off, or take another recorder
recorder-suppression-eaten = it suppresses noise, and a hiss with it. Switch that off, or take another recorder
recorder-gain-rides = it sets its own gain. Switch that off, or wait three seconds after the start before the air is turned on
listen-key = { $state }
listen-open = OPEN
listen-shut = SHUT
listen-starts = pulsed air: shut the valve; the rhythm begins in { $seconds } s (high beep: open, low beep: shut)
listen-good = good
listen-no-beep = No sound output works here: there are no beeps.
caveat-recovered = { $file }: { $kept_s } s of an interrupted recording are kept, marked as cut short.
    .remedy = Record it again if it is too short.
caveat-nothing-recovered = { $file }: An interrupted recording held no sound and has been removed.
    .remedy = Record it again.

## How a job stands

status-head = { $engine }, { $cylinders } cylinders
    .one = { $engine }, one cylinder
status-rig = Rig alone: loses { $loss } %
status-rig-skipped = Rig alone: not read, left out on purpose
status-rig-missing = Rig alone: not read
status-lost = { $loss } % lost
status-lost-cold = { $loss } % lost, read cold
status-not-read = not read
status-left-out = - does not count: { $reason }
status-missing = Missing: { $what }
status-missing-rig = the rig alone
status-missing-gauge = cylinder { $cylinder }: the gauges
status-missing-clip = cylinder { $cylinder }: { $opening }, { $air }
status-time = All of it takes about { $minutes } min.
status-complete = Nothing is missing.
status-next = Next:
status-figures = (with the figures that your gauges show)
mistake-swapped = { $file } (air off) is far louder than { $other } (air on): are the two swapped?
mistake-same-recording = { $file } and { $other } are one and the same recording: one of them is at the wrong place.
    .reason = the same recording as another clip
mistake-odd-take = { $file } is unlike all other takes of the same place: leave it out?
    .reason = unlike the other takes
mistake-air-not-open = Cylinder { $cylinder } loses much, and yet nothing hisses at any opening, not even the rings: was the air open? If not, record again.
    .reason = the air was not open
mistake-gone = The file of { $file } is gone: put it back into clips/, or leave it out.
    .reason = its file is gone
amend-line = { $of }: { $key } { $from } → { $to }
report-amended = Put right
report-amended-line = { $of }, { $key }: { $from } → { $to } ({ $when })
amend-none = (none)
amend-nothing = Nothing to change: it says so already.
caveat-clip-gone = The file of { $file } is gone, so the clip does not count.
    .remedy = Put the file back into the job's clips folder, or record the clip again.

## The guide

guide-head = Cylinder leakage test
guide-head-cylinder = Cylinder { $cylinder } · clips { $done } of { $all }
guide-missing = Missing: { $what }
guide-missing-rig = rig
guide-missing-cylinder = cyl. { $cylinder }: gauge + { $clips }
guide-missing-clips = cyl. { $cylinder }: { $clips } to record
guide-missing-more = { $count } more
guide-missing-nothing = Nothing is missing.
guide-big-cautions = TAKE CARE
guide-big-rig = RIG ALONE
guide-big-paused = PAUSED
guide-big-lost = { $loss } % LOST
guide-big-temperature = HOT - COLD
guide-big-gauge = GAUGE
guide-big-cylinder = CYLINDER { $cylinder }
guide-big-turn = TURN { $degrees }°
guide-big-top = TO THE TOP
guide-big-air-off = AIR OFF
guide-big-air-on = AIR ON
guide-big-air-pulsed = AIR PULSED
guide-big-open = OPEN
guide-big-shut = SHUT
guide-big-good = GOOD
guide-big-again = AGAIN
guide-big-skip = SKIP
guide-big-ranking = RANKING
guide-big-end = DONE
guide-big-no-microphone = NO MIC
guide-big-nothing = NONE HEARD
guide-big-unsure = CANNOT TELL
guide-temperature-1 = Is the engine at its working temperature?
guide-temperature-2 = Cold rings seal badly: readings come out worse and are less certain.
guide-temperature-3 = If it runs, warm it up first, then take the plugs out.
guide-propose-pulsed = P: {$opening} once more, the air opened and shut to the beep.
guide-rig-1 = Blank off hose and adapter. Bring the air to the test pressure.
guide-rig-2 = Type supply and held with their unit, as in: 80 78 psi
guide-gauge-1 = Put the air on the cylinder slowly. Wait until the needle settles.
guide-gauge-2 = Type supply and held, as in: 80 62 psi   or the loss, as in: 22%
guide-turn-by = Turn the crank { $degrees }° on from cylinder { $before }, in its direction of rotation.
guide-turn-1 = Top of the compression stroke, both valves shut.
guide-turn-2 = Past it? Go back at least half a turn and come up again.
guide-turn-3 = LOCK THE CRANK. Spanners off, hands clear.
guide-turn-guess = The firing order is not known: look at the valves.
guide-clip-off = Shut the air. Microphone to the { $opening }, a hand's breadth away.
guide-clip-off-again = Shut the air. Microphone to the { $opening }, same place as before.
guide-clip-on = Open the air. Microphone to the { $opening }, a hand's breadth away.
guide-clip-on-again = Open the air. Microphone to the { $opening }, same place as before.
guide-clip-pulsed = Microphone to the { $opening }. High beep: open. Low beep: shut.
guide-clip-hands-free = Then press SPACE, or tap the microphone twice: the rest runs on its own.
guide-count = Recording in { $seconds } s. Hold still after the last beep.
guide-recording = Recording: { $seconds } s. Hold still.
guide-level = { $level } dB FS
guide-above = { $above } dB above quiet
guide-known = known to ±{ $error } dB
guide-left = { $more } s to go
guide-too-loud = TOO LOUD: further away
guide-in-the-stream = AIR ON THE MICROPHONE: hold it aside
guide-so-far = So far: { $place } { $percent }
guide-not-kept-yet = { $error }. The sound stays on the disk and is kept when you go on.
guide-lost = Plug it in again, or choose another in 'hissward mics'. Then press SPACE.
guide-unit = In which unit do your gauges show? P psi, B bar, K kPa. It is asked this once.
guide-unit-known = The unit is { $unit }: two numbers are enough now.
guide-reading-pressures = Supply { $supply }, held { $held }.
guide-reading-loss = The gauge shows a loss of { $loss } %.
guide-reading-odd-rig = A rig that loses so much wants mending first: is the reading right?
guide-reading-odd-much = That is nearly all of it. A slip of the finger? If it is right, the piston is not at the top or a valve is held open.
guide-reading-odd-much-more = That is far more than the other cylinders lose: a slip of the finger?
guide-table-unread = not read
guide-table-loss = { $loss } % lost
guide-table-clips = clips { $done } of { $all }
guide-next-clip = N: { $step }.
guide-skip = Why is this left out? The report will say so.
guide-end = The report is written. What was recorded and typed is in the job folder.
guide-written = Report: { $file }
guide-keys-go = SPACE try again   Q leave
guide-keys-skipping = ENTER skip it   ESC do not
guide-keys-cautions = SPACE I have read this and will follow it   Q leave
guide-keys-temperature = H hot   C cold   SPACE nobody knows   B back   Q leave, go on later
guide-keys-entry = ENTER look at it   S skip   BACKSPACE back   Q leave, go on later
guide-put-right = X puts that right.
guide-keys-confirm = ENTER keep it   BACKSPACE type it again   Q leave and go on later
guide-keys-unit = P psi   B bar   K kPa   BACKSPACE back   Q leave
guide-keys-result-next = N record that   SPACE next cylinder   M whole round   B back   Q leave
guide-keys-turn = SPACE the crank is locked   B back   Q leave and go on later
guide-keys-clip = SPACE start   R last clip again   S skip   B back   Q leave, go on later
guide-keys-running = SPACE pause   R last clip again   Q leave
guide-keys-result = SPACE next   M record another round   R last clip again   Q leave
guide-keys-result-last = SPACE next   R last clip again   Q leave
guide-keys-result-pulsed = SPACE next   M another round   P pulsed air   R last clip again   Q leave
guide-keys-result-last-pulsed = SPACE next   P pulsed air   R last clip again   Q leave
guide-keys-end = SPACE leave

## The live meter

hunt-quiet-first = Shut the air, hold the microphone in the usual noise, press SPACE: that sets quiet.
hunt-level = { $level } dB FS   quiet { $quiet }   peak { $peak }
hunt-above = { $above } dB
hunt-loud = TOO LOUD
hunt-head = Hunt{ $where }: hiss above quiet · { $device }
hunt-keys = SPACE set quiet   P reset peak   T tone   Q leave
hunt-lost = The microphone failed ({ $said }). Plug it in again and start again.
## The bench page

page-title = Bench page
page-terminal-scan = Scan the code with the phone, or open { $text }
page-terminal-code = Pairing code: { $text } (works once, for ten minutes)
page-terminal-certificate =
    The certificate is this program's own, so the phone warns once. Compare the fingerprint it shows (SHA-256), then go on:
    { $text }
page-terminal-anew = Enter shows a new code, which is taken whatever was tried before.
page-terminal-end = Ctrl+C stops the page.
page-turn = Then turn the crank { $degrees }° in its direction of rotation to cylinder { $number }.
page-pair = Pair this device
page-pair-how = Type the code shown on the computer, or scan its QR code.
page-pair-code = Pairing code
page-pair-go = Pair
page-certificate = The browser warns once about this address, because the page comes from the shop's own computer and no authority vouches for it. Before you go on, compare the fingerprint on the computer's screen with the one in the browser.
page-jobs = Jobs
page-jobs-none = No jobs here yet.
page-new = Start a job
page-engine = Engine, as you call it
page-cylinders = Cylinders
page-firing-order = Firing order, as in 1-3-2
page-restrictor = Tester's restrictor, as in 0.040in
page-tested-by = Tested by
page-hot = Engine at working temperature
page-two-stroke = Two-stroke
page-start = Start
page-optional = optional
page-cautions = Before you begin
page-cautions-go = I have read this and will follow it
page-listen = Listen
page-gauge = Gauge
page-result = Result
page-more = More
page-back = Jobs
page-cylinder = Cylinder
page-air = Air
page-air-off = off: quiet
page-air-on = on
page-air-pulsed = pulsed
page-where = Where is the microphone?
page-next = Next: { $place }, air { $air }
page-next-done = The round is complete: see the result, or turn to the next cylinder.
page-record = Record
page-stop = Stop
page-seconds = { $seconds } s
page-level = Level
page-hiss = Above quiet
page-no-quiet = no quiet clip here yet
page-pulsed-how = Open and shut the valve to the beat: one second shut, one second open.
page-pulsed-shut = SHUT
page-pulsed-open = OPEN
page-beep = Beep to the beat
page-offline = No connection: recorded sound stays on this phone and is sent as soon as the computer answers.
page-kept = Recordings waiting on this phone to be sent: { $count }
page-in = { $clip } is in the job.
page-in-the-stream = Air is blowing on the microphone. Hold it a hand's breadth to the side.
page-clipped = Too loud: the sound is clipped. Hold the microphone farther away.
page-processing = This phone's sound processing cannot be switched off ({ $what }). The clip may mislead: use another browser or an external microphone.
page-processing-echo = echo cancelling
page-processing-noise = noise suppression
page-processing-gain = automatic gain
page-processing-unknown = the phone does not say
page-no-microphone = No microphone: { $why }. Allow it for this page in the browser's settings.
page-no-secure = The browser allows this page a microphone only over https or on the computer itself.
page-rig = Test rig alone
page-rig-how = Hose and adapter blanked off.
page-supply = Supply
page-held = Held
page-loss = Loss, %
page-cold = Engine cold
page-keep = Keep
page-erase = Erase
page-not-read = not read
page-clips = Clips
page-leave-out = Leave out
page-take-in = Use again
page-left-out = left out
page-cut-short = cut short
page-take = take { $number }
page-no-result = No result yet: record quiet and air clips at the openings.
page-elsewhere = none of these
page-at-most = at most { $level } dB
page-hiss-level = hiss { $level } dB FS
page-spill = carried over
page-findings = What it means
page-report = Report for the customer
page-further = Pair another device
page-customer = Link for the customer (view only)
page-leave = Unpair this device
page-looking = View only
page-language = Language
page-light = Display
page-light-system = same as device
page-light-sun = sun
page-light-dark = dark
page-plan = The engine from above
page-other-opening = Other opening
page-other-ask = Name of the opening, lower-case letters and hyphens
page-round = Whole cylinder, hands-free
page-round-stuck = { $place } came out no better the second time: look at what was wrong, then go on by hand.
page-move = Recording begins in { $seconds } s
page-move-to = Microphone to: { $place }
page-air-shut = AIR SHUT
page-air-open = AIR OPEN
page-left = { $seconds } s left
page-add = Add recordings made elsewhere
page-kept-clip = { $clip } is in the job.
page-unfit-clip = { $clip } does not count. Record it again.
page-undo = Undo
page-undone = undone
page-changed = Changed.
page-change = Change
page-about = Job details
page-opening = Opening
page-swap = Swap them
page-swap-with = Swap with
page-reading-kept = { $whose }: { $loss } % lost. The reading is in the job.
page-reading-waits = { $whose }: { $loss } % lost. The reading waits on this phone until the computer answers.
page-loses = Loses { $loss } %
page-lost = Loss { $loss } %
page-as-read = As read: { $loss } %.
page-done = done
page-cylinder-one = 1 cylinder
page-cylinder-count = { $count } cylinders
page-loss-not-read = Loss not read
page-go-next = Do that now
page-doubts = What to watch ({ $count })
page-engine-whole = The engine as a whole
page-share = Share
page-waiting = { $count } waiting
page-no-network = no connection
page-search = Search
page-job-empty = nothing read or recorded yet
page-job-open = readings: { $readings }, clips: { $clips }, still to do: { $missing }
page-job-complete = complete: readings: { $readings }, clips: { $clips }
page-customer-name = Customer
page-limit = Maker's limit of loss, %
page-limit-source = Where that limit stands
page-notes = Notes
page-customer-end = End the customer's link
page-customer-ended = The customer's link has ended.
page-failed = That did not work: { $why }
page-microphone = Microphone: { $name }, { $rate } Hz, channels: { $channels }

## History and comparison

history-engine = { $engine }: { $jobs } jobs
history-engine-one = { $engine }: 1 job
history-cylinder = cylinder
history-date = date
history-loss = cylinder's own loss
history-change = change
history-heard = heard
history-job = job
history-undated = no date
history-net = { $loss } % ({ $low } to { $high })
history-gross = at most { $loss } % ({ $low } to { $high })
history-cold = { $loss }, cold
history-read = Jobs read in { $folder }: { $jobs }.
history-skipped = { $job } was left out. { $reason }
history-closed = Could not look inside: { $reason }
history-no-job = { $folder }: no job folder here or below: give a folder that contains job folders
history-no-engine = { $folder }: no engine there is called '{ $engine }': give part of its name as written in the jobs
history-none-readable = { $folder }: no job here can be read (found: { $jobs })
history-too-many-engines = { $folder }: a picture of { $engines } engines would be no use; { $most } fit: choose with --engine
history-kind = { $file }: a table's name ends in .csv, .json or .parquet, a picture's in .png or .svg; a folder for a data set has no ending
history-grown = Jobs added: { $added }. Changed since, added with their next revision: { $changed }. There as they are: { $same }.
history-legend = Change: percentage points since the reading before, in brackets where the gauges cannot tell it from zero. “At most”: the rig was not taken off.
history-calls = Calls are those kept when the job was ranked; no sound is read here. Without calls: { $not_ranked } not ranked, { $outdated } ranked before their clips changed: `hissward rank JOB` ranks them.

compare-title = { $engine }: before ({ $before }) and after ({ $after })
compare-before = lost before
compare-after = lost after
compare-heard = heard before → after
compare-less = { $who } loses { $points } percentage points less than before ({ $low } to { $high }), more than the gauges could be wrong by.
compare-more = { $who } loses { $points } percentage points more than before ({ $low } to { $high }), more than the gauges could be wrong by.
compare-same = { $who }: no change that the gauges can show; up to { $within } percentage points could go unnoticed.
compare-not-both = { $who } was not read both times: nothing to compare.
compare-basis-reading = Rig and cylinder together, because the rig was not read both times.
compare-page-title = Before and after
compare-day-before = Tested before
compare-day-after = Tested after
compare-done = What was done
compare-done-open = Not written down.
compare-now = What was found, and what it is now
compare-better = better
compare-worse = worse
compare-unchanged = no clear change
compare-unknown = not comparable
compare-loss-both = lost before { $before }, now { $after }
compare-heard-both = Before: { $before }. Now: { $after }.
compare-figure = What each cylinder lost before and loses now, and how much louder it got with the air on at the opening in question.
plot-before = before
plot-after = after
plot-rise = How much louder with the air on, { $where }, dB
plot-before-after-alt = Before and after. { $rows }

caveat-compare-other-name = The two jobs name the engine differently.
    .remedy = Check that both are the same engine.
caveat-compare-order = The first job is later than the second.
    .remedy = Swap the two if that was a mistake.
caveat-compare-one-cold = A cylinder was read cold one time and warm the other; cold readings are worse.
    .remedy = Read both times warm before judging the difference.
caveat-compare-restrictors = The testers' restrictors differ, so the same leak gives a different percentage.
    .remedy = Compare the equivalent holes (--json), or read again with the same tester.
caveat-compare-pressures = The supply pressures differ by more than a tenth.
    .remedy = Read again at the pressure of the first test.
caveat-compare-rig = The rig was not read both times, so a change in the rig looks like one in the cylinder.
    .remedy = Blank off the hose and adapter and read the rig in each job.

plot-loss = Lost, % of the supply
plot-key-net = cylinder alone, 95 % interval
plot-key-gross = at most: rig not taken off
plot-key-cold = read cold
plot-history-heard = { $call } ({ $day })
plot-history-jobs = { $first } to { $last }
plot-history-undated = without a date, not drawn: { $jobs }
plot-history-alt = Loss of each cylinder over time. { $rows }
plot-history-alt-row = { $who }: { $values }.
plot-history-alt-value = { $day } { $loss } %

## Doctor

doctor-state-fine = fine
doctor-state-doubt = look
doctor-state-bad = not fit
doctor-no-sound = No sound system: { $reason }
    .remedy = See to it that the sound system runs and that you may use it.
doctor-no-microphone = No microphone.
    .remedy = Plug one in, or record with a phone: on the page, or elsewhere and then 'hissward add'.
doctor-microphone = Microphone { $name }: { $rate } Hz, sound up to { $khz } kHz, { $level } dB FS.
doctor-microphone-fails = Microphone { $name }: { $reason }
    .remedy = Close what else uses it, plug it in again, or choose another.
doctor-microphone-unfit = Microphone { $name }: { $worth }.
    .remedy = Switch it on in the system's sound settings, or choose another.
doctor-worked-on = { $name }: the system takes steady noise out of this input, and a hiss with it.
    .remedy = Choose the plain microphone in the system's sound settings.
doctor-not-tried = { $name }: how it treats steady noise is not known.
    .remedy = hissward doctor --try-recorder
doctor-tried = { $name }: was tried, and leaves steady noise alone.
doctor-tried-unfit = { $name }: was tried: { $faults }.
    .remedy = Switch noise suppression and automatic gain off and try it again, or choose another.
doctor-browser = A browser can be opened for the page.
doctor-no-screen = No screen here: the page opens on another device only.
    .remedy = hissward page JOB --lan, and open the printed address on the phone.
doctor-no-browser = No browser opens on its own.
    .remedy = Install xdg-utils and a browser, or open the printed address by hand.
doctor-network = Network: a phone reaches this computer at { $address }.
doctor-no-network = No network: the page works on this computer alone.
    .remedy = Join the network that the phone is on.
doctor-no-port = No address to serve the page at: { $reason }
    .remedy = Allow this program to open a port on this computer.
doctor-disk = Disk: { $gb } GB free in { $folder }.
doctor-disk-full = Disk: { $gb } GB free in { $folder }, less than a job takes.
    .remedy = Make room, or keep jobs on another disk.
doctor-disk-closed = Nothing can be written in { $folder }: { $reason }
    .remedy = Go to a folder of your own.
doctor-clock = Clock: { $now }.
doctor-clock-wrong = The clock is wrong: { $now }.
    .remedy = Set it: every clip and every report carries its time.
doctor-trying = Trying { $name } for { $seconds } s: two seconds of quiet, then noise from the loudspeaker. Hold the microphone half a metre from it, and be still.
doctor-play = Noise for { $seconds } s: start the recorder now, half a metre from the loudspeaker. Two seconds of quiet come first.
doctor-played = Stop the recorder, bring its file here: hissward doctor --try-recorder --from FILE --device NAME
doctor-silence = { $name }: nothing but digital silence came: it is muted, or the recording is empty
doctor-recorder-fit = { $name } leaves steady noise alone: it sank by { $sank } dB, and rose by { $rose } where 12 was played.
doctor-recorder-unfit = { $name }: { $faults }. Steady noise sank by { $sank } dB, and rose by { $rose } where 12 was played.
    .remedy = Switch noise suppression and automatic gain off and try it again, or use another recorder: this one hides a leak.
doctor-recorder-unheard = { $name }: the noise was only { $over } dB over the room, too little to judge by.
    .remedy = Turn the loudspeaker up, hold the microphone nearer, and try again.
recorder-too-quiet = the noise was not heard well enough
recorder-fades = it fades steady sound
recorder-pumps = it moves its gain
recorder-ends-early = it ended before the noise did

## Said against found

found-title = What was said and what was found: { $opened } opened
found-said = said
found-opened = opened
found-right = right
found-share = share right (95 %)
found-span = { $from } to { $to } %
found-share-value = { $share } % ({ $low } to { $high })
found-calls = Located: { $right } of { $located } right. None heard, yet found leaking: { $missed }. Could not tell: { $not_told }.
found-few = These are few ({ $opened }): the intervals are wide, and what a shop is good at shows only with twenty or more.
found-axis-right = was found, %
found-axis-said = said, %
found-of = { $right } of { $of }
found-alt = How often what was said was found when the engine was opened. { $rows }
found-alt-row = Said { $said } %: { $share } % right ({ $low } to { $high } %).
found-other = another place
found-kept = { $who }: { $path } written down as found. `hissward history FOLDER --found` compares it with what was said.
found-none = { $folder }: nobody has written down what was found when an engine was opened: hissward found JOB --cylinder N --path PATH
compare-opened = { $who } ({ $day }): opened, { $found } found. The test had said: { $said }.

## Report: settings of the method

setting-frames = { $samples } samples at 48 kHz ({ $ms } ms), Hann window, half overlapping
    .label = Short-time spectra
setting-bands = third-octave bands from { $lowest } Hz to { $highest } kHz, as far as both recordings reach
    .label = Bands compared
setting-level = { $lowest } to { $highest } kHz; less than { $margin } dB above the background: an upper bound only; more than { $clear } dB: no correction (ISO 3744)
    .label = Level of the hiss
setting-tried = { $quietest } to { $loudest } dB relative to the noise of the place, in steps of { $step } dB
    .label = Hiss levels considered
setting-change = { $common } dB in all bands, { $smooth } dB from octave to octave, { $band } dB in single bands; from { $calmest } times to { $wildest } times that
    .label = Change of background
setting-spill = { $near } to { $far } dB below the leak it comes from
    .label = Carried over to other openings
setting-placement = ±{ $level } dB where there are no repeats
    .label = Microphone position
setting-before = { $nowhere } % that no opening leaks, { $two } % that two do
    .label = Probability beforehand
setting-calls = one opening from { $sure } %; two from { $two } % that there are two, with { $share } % of that on the pair named
    .label = Called from
setting-gauge = { $psi } psi, or { $percent } percentage point
    .label = Gauges read to
