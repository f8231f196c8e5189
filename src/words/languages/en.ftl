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
call-shared = shared
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
heard-spill = What was heard { $spill } fits the spill of that hiss and counts for no leak of its own.
heard-nothing = No hiss stood out from the noise at any opening listened at.
heard-undecided = The recordings do not decide where the air gets away.
loss-shown = The gauge shows a loss of { $shown } % of the test air ({ $shown-low } to { $shown-high } %), the test rig's own leak included.

## Findings: how much is lost

loss-net = With the rig's own leak taken off, the cylinder loses { $loss } % by itself ({ $low } to { $high } %); cylinders are compared by that figure.
loss-net-otherwise = That figure would be called { $verdict }, but limits are meant for the reading as read.
loss-unjudged = The gauge showed a loss of { $shown } % of the test air, the test rig's own leak included; that is not judged here.
loss-stands-out = That is far more than the other cylinders of this engine lose, which counts for more than the figure by itself.

verdict-excellent = excellent
verdict-good = good
verdict-fair = fair, to be watched
verdict-suspect = cause for work

judged = By { $band } that is { $verdict }.
judged-under = By { $band } that is { $verdict } (cause for work there: { $edge }).
judged-over = By { $band } that is { $verdict } (there: { $edge }).
judged-at = By { $band } that is at the limit (cause for work there: { $edge }); the gauges do not tell on which side of it.
judged-through = Through a restrictor of { $restrictor }, for which the limit is meant, the same leak would show { $percent } %.
judged-otherwise = Other scales see it otherwise: { $others }.
judged-other = by { $band } it is { $verdict }
edge-over = more than { $limit } %
edge-from = { $limit } % and more

band-maker = the maker's limit ({ $source })
    .short = the maker's limit
band-common-practice = common practice (which has no published source; for a restrictor of about 1 mm, 0.040 in)
    .short = common practice
band-aircraft = FAA AC 43.13-1B for aircraft engines (restrictor 0.040 in, from 5 in bore 0.060 in)
    .short = FAA AC 43.13-1B

## Findings: how sure

sure-located = By the sound, the chance that this is the place is { $probability }: very likely, and still no certainty.
sure-shared = Hiss was heard { $where }, and none of these is likely to be just the echo of another.
sure-none-heard = A hiss louder than { $level } dB FS would have been noticed. A leak can be quieter than that, or let its air out where nobody listened.
    .customer = No hiss came out of the noise. A very quiet leak can go unheard, and so can one at a place where nobody listened.
sure-cannot-tell = The sound leaves it open. That is an honest answer: naming a place now would be a guess.
sure-on-the-edge = The reading lies too close to the limit to be sure of that judgement; a second one may fall on the other side.
sure-from-neighbour = The recordings of this cylinder decide nothing by themselves; the finding rests on those of cylinder { $neighbour }.
sure-partner-agrees = Cylinder { $neighbour } was found to lose much as well, which supports it.
sure-partner-disagrees = Cylinder { $neighbour } by itself holds better than such a leak would let it, which speaks against it.
sure-cold = The engine was cold. Cold readings come out worse and less certain than warm ones.
sure-cold-alike = The other cylinders were as cold and read much the same, so it may be nothing but the cold.
sure-round-exhaust = At this crank angle the exhaust valve of cylinder { $neighbour } stands open: air past this cylinder's exhaust valve would come out there too, round by the manifold.
sure-round-intake = At this crank angle the intake valve of cylinder { $neighbour } stands open: air past this cylinder's intake valve would come out there too, round by the manifold.
sure-round-both = At this crank angle a valve of cylinder { $neighbour } may stand open: air past a valve of this cylinder would come out there too, round by the manifold.
sure-round-shut = At this crank angle both valves of cylinder { $neighbour } are shut, so the air did not come round by a manifold.

## Findings: of one cylinder

finding-rig-is-the-leak = Cylinder { $cylinder }: the test rig itself leaks.
    .technician = The hiss is at the hose, the adapter or the plug seat, outside the engine. The gauge counts that air too, so the reading is no measure of the cylinder until the rig holds.
    .customer = Cylinder { $cylinder } cannot be judged yet: the test equipment let out air of its own. That is no finding against the engine.
    .customer-next = The equipment is made tight and the cylinder is tested again.

finding-gauges-disagree = Cylinder { $cylinder }: the two gauges do not agree.
    .technician = The gauge after the restrictor shows more than the one before it, which no leak does. With the cylinder's valve shut nothing flows and both must show the same; what they differ by then is taken off every reading.
    .customer = Cylinder { $cylinder } cannot be judged yet: the gauges of the test equipment do not agree with each other. That is no finding against the engine.
    .customer-next = The gauges are compared and the cylinder is read again.

finding-rig-in-the-way = Cylinder { $cylinder }: not judged, the test rig leaks too much beside it.
    .technician = The rig loses so much by itself that the reading says little of the cylinder. What is left after taking it off hangs on small errors of both readings. Make the rig tight, then read rig and cylinder again.
    .customer = Cylinder { $cylinder } cannot be judged yet: the test equipment lost too much air of its own. That is no finding against the engine.
    .customer-next = The equipment is made tight and the cylinder is tested again.

finding-nearly-all-lost = Cylinder { $cylinder }: nearly all the air is lost.
    .technician = No worn valve and no worn ring loses that much. Either the piston is not at the top of its compression stroke, or a valve is held open (lash, something on the seat, a bent stem), or the adapter or plug seat leaks, or there is a hole. See to the position first; where the hiss is heard says nothing before that.
    .customer = Cylinder { $cylinder } cannot be judged yet: nearly all the air was lost, as when the engine is not quite in the test position or a valve stands open.
    .customer-next = The engine is put in position anew and the cylinder tested again. If it stays so, the cylinder is looked into through the plug hole.

finding-gasket-or-crack = Cylinder { $cylinder }: air gets into the coolant.
    .technician = Test air that comes up in the coolant passes the head gasket, or a crack in head, liner or block. See the bubbles and put the cooling system under pressure before it is called; the engine is not run meanwhile.
    .customer = Air pressed into cylinder { $cylinder } was heard in the cooling system, where none belongs. The seal between cylinder head and block, or one of these parts, may let it through.
    .customer-next = Best do not run the engine until the cooling system has been checked. After that it is decided whether the cylinder head has to come off.

finding-gasket-to-neighbour = Cylinder { $cylinder }: air gets across into cylinder { $neighbour }.
    .technician = Air heard at the plug hole of the cylinder beside it, and not carried there by an open valve, passes the head gasket on the bridge between the two bores.
    .customer = Air pressed into cylinder { $cylinder } comes out of cylinder { $neighbour } next to it. The seal between cylinder head and block very likely leaks between the two.
    .customer-next = The engine is run and both cylinders are tested once more. If they agree, the cylinder head has to come off to renew the seal.

finding-across-or-round = Cylinder { $cylinder }: its air comes out of cylinder { $neighbour } beside it, across the gasket or round by a valve.
    .technician = Two ways lead there: the head gasket on the bridge between the bores, or past a valve of this cylinder into the manifold and in by an open valve of the other. Putting the air on from the other side tells them apart: a gasket lets through both ways.
    .customer = Air pressed into cylinder { $cylinder } comes out of cylinder { $neighbour } next to it. It may cross at the seal between them, or go round by a pipe that both share; that is not settled yet.
    .customer-next = The air is put on from the other side as well; that takes minutes and settles it.

finding-round-by-manifold = Cylinder { $cylinder }: its air comes out of cylinder { $neighbour }, round by a manifold.
    .technician = The two cylinders do not stand side by side, so no gasket joins them. The air goes past a valve of this cylinder into the manifold and out through an open valve of the other: a valve of this cylinder leaks.
    .customer = Cylinder { $cylinder } loses air past one of its valves; it comes out by way of cylinder { $neighbour }, whose valve stands open at that moment.
    .customer-next = With the other cylinders closed up it is listened again, which shows which valve it is.

finding-gasket-from-neighbour = Cylinder { $cylinder }: air is lost, and that of cylinder { $neighbour } comes out here.
    .technician = The two losses are most likely one and the same leak, seen from both sides: the head gasket on the bridge between the bores.
    .customer = Cylinder { $cylinder } loses air, and air pressed into cylinder { $neighbour } next to it comes out here. The seal between cylinder head and block very likely leaks between the two.
    .customer-next = The air is put on from this side as well. If it crosses again, the cylinder head has to come off to renew the seal.

finding-gasket-suspected = Cylinder { $cylinder }: much is lost, as in the cylinder beside it, and no place is known.
    .technician = Two cylinders side by side that both hold badly may share one leak: the head gasket between them. Nobody has heard it yet, so this is a suspicion to be tested, not a finding.
    .customer = Cylinder { $cylinder } and the one next to it both lose a lot of air. They may share one leak between them, but that is not shown yet.
    .customer-next = One cylinder is pressurised and the other listened at; that takes minutes and settles it.

finding-louder-than-its-flow = Cylinder { $cylinder }: the hiss { $where } is far louder than its loss explains.
    .technician = Beside cylinder { $neighbour }, which leaks at the same opening, the hiss follows the flow: ten to twenty-seven decibels for ten times the air, give or take six. This one lies more than fifteen decibels beyond that. So one measurement is wrong: the gauge of this cylinder was read before its needle stood or at another position, other air hissed into its recording, or the recording of cylinder { $neighbour } was taken from further away. Repeat the gauge reading of cylinder { $cylinder } first, then its clips, then those of cylinder { $neighbour }.
    .customer = At cylinder { $cylinder } the loss measured and the hiss heard do not fit together, so one of the two measurements is repeated.
    .customer-next = The loss of cylinder { $cylinder } is measured again, then it is listened again.

finding-cold-rings = Cylinder { $cylinder }: air gets past the piston, but the engine was cold.
    .technician = Rings seal by their oil and by their warmth, so this may be nothing but the cold.
    .customer = Cylinder { $cylinder } lets air past its piston. The engine was cold when it was tested, and a cold engine always does so more than a warm one.
    .customer-next = The engine is warmed up and tested again before anything is judged. No work should be ordered on this reading.

finding-cold-and-silent = Cylinder { $cylinder }: more is lost than in a good engine, but it was cold, and no place was heard.
    .technician = A cold engine reads worse. No escape path stands out, so there is nothing to take apart for.
    .customer = Cylinder { $cylinder } loses somewhat more air than a good one. The engine was cold, which alone can make that difference.
    .customer-next = The engine is warmed up and tested again before anything is judged. No work should be ordered on this reading.

finding-both-valves = Cylinder { $cylinder }: air gets past both valves.
    .technician = Both valves of one cylinder leak a little: lash, carbon, or seats that want care. A valve that stood open would lose nearly all, so it is not the position of the piston; coming up to the top once more costs nothing all the same.
    .customer = Cylinder { $cylinder } loses air past both of its valves.
    .customer-next = The engine is run and tested again; then the valves' clearance and deposits are seen to before the cylinder head is thought of.

finding-two-leaks = Cylinder { $cylinder }: air gets away { $where }, each more than usual.
    .technician = There is more than one path: past a valve, and past the piston more than in the other cylinders. The gauge knows only their sum, and the louder of two hisses is not always the larger leak.
    .customer = Cylinder { $cylinder } lets air out in more than one place. How the loss divides between them is not known.
    .customer-next = The simple remedies are tried first, with a measurement after each, so that it shows what helped.

finding-past-the-piston = Cylinder { $cylinder }: air gets past the piston.
    .technician = In a two-stroke, intake and exhaust are ports in the bore, and at top dead centre the piston covers them. Air heard there has come past the rings (a uniflow engine, whose exhaust has valves, excepted). Through the crankcase it reaches reeds and seals, so those may hiss without fault of their own.
    .customer = Cylinder { $cylinder } lets air past its piston. Worn or stuck piston rings, or wear of the cylinder itself, are the likely cause.
    .customer-next = The engine is run and tested again. After that a look through the port shows rings and cylinder wall without taking anything apart.

finding-exhaust-valve = Cylinder { $cylinder }: air gets past the exhaust valve.
    .technician = A burnt or pitted seat, carbon on it, or lash so tight that the valve does not shut. A bent valve does the same.
    .customer = Cylinder { $cylinder } loses air into the exhaust. The valve that should close it off there very likely does not seal.
    .customer-next = The engine is run and tested again. Then two simple things are tried before the cylinder head is opened: checking the valve's clearance, and freeing it of deposits.

finding-exhaust-valve-small = Cylinder { $cylinder }: holds well, but a little air gets past the exhaust valve.
    .technician = A valve is a standing seal and should not leak at all. Carbon on the seat or tight lash are the usual cause; hot gas makes a small leak there larger, so it is seen to now rather than at the next overhaul.
    .customer = Cylinder { $cylinder } holds its air well. A little of it gets past the exhaust valve, which should close fully; left alone, that tends to grow.
    .customer-next = The engine is run and tested again soon; the valve's clearance is checked.

finding-intake-valve = Cylinder { $cylinder }: air gets past the intake valve.
    .technician = A bent valve, carbon on the seat, or lash so tight that the valve does not shut. Blow-by that the crankcase breather leads into the intake is heard there too.
    .customer = Cylinder { $cylinder } loses air into the intake. The valve that should close it off there very likely does not seal.
    .customer-next = The engine is run and tested again. Then two simple things are tried before the cylinder head is opened: checking the valve's clearance, and freeing it of deposits.

finding-intake-valve-small = Cylinder { $cylinder }: holds well, but a little air gets past the intake valve.
    .technician = A valve is a standing seal and should not leak at all. Carbon on the seat or tight lash are the usual cause; or it is blow-by that the breather leads into the intake.
    .customer = Cylinder { $cylinder } holds its air well. A little of it gets past the intake valve, which should close fully.
    .customer-next = The engine is run and tested again; the valve's clearance is checked.

finding-rings-or-bore = Cylinder { $cylinder }: air gets past the piston into the crankcase.
    .technician = Worn, stuck or broken rings, or a worn or scored bore; a damaged piston sounds the same. Some air always passes the rings, so here the amount decides, and the gauge gives that.
    .customer = Cylinder { $cylinder } lets air past its piston into the engine's lower part. Worn or stuck piston rings, or wear of the cylinder itself, are the likely cause.
    .customer-next = The engine is run and tested again. If it stays so, a test with a little oil in the cylinder shows whether the rings or the cylinder wall are the likelier cause; both mean opening the engine, so that is worth knowing first.

finding-rings-normal = Cylinder { $cylinder }: holds well; the hiss { $where } is the usual one.
    .technician = Some air passes the rings of every engine and is always heard. At this loss it calls for nothing.
    .customer = Cylinder { $cylinder } holds its air well. The faint hiss past its piston is what every sound engine shows.
    .customer-next = Nothing has to be done on this cylinder.

finding-small-leak = Cylinder { $cylinder }: holds well, with a small leak to be heard { $where }.
    .technician = By the gauge there is nothing to repair. Where so little gets away is worth knowing, not worth a spanner yet.
    .customer = Cylinder { $cylinder } holds its air well. A small leak can be heard, too small to call for work.
    .customer-next = Nothing has to be repaired now. The test is repeated at the next service.

finding-other-opening = Cylinder { $cylinder }: air was heard { $where }.
    .technician = The opening is one of your own naming, so the program knows no escape path for it.
    .customer = Air pressed into cylinder { $cylinder } was heard { $where }.
    .customer-next = The workshop follows the sound from there.

finding-lost-but-silent = Cylinder { $cylinder }: air is lost, yet no hiss was heard.
    .technician = It goes somewhere: where nobody listened, or here under the noise. Go along the joints of the rig first, then the coolant, then the neighbours' plug holes, and record once more at these openings with pulsed air.
    .customer = Cylinder { $cylinder } loses air, but no place was heard where it gets away. That can be the test equipment as well as the engine.
    .customer-next = The equipment is checked and the search goes on at the places not yet listened at.

finding-lost-undecided = Cylinder { $cylinder }: air is lost; where to is open.
    .technician = The gauge shows a loss that wants an explanation, and the recordings cannot give it yet. What spoilt them, where that is known, is said above; a better recording is cheaper than a wrong cylinder head.
    .customer = Cylinder { $cylinder } loses air. Where it gets away could not be settled in the noise of the day, and the report does not guess.
    .customer-next = The recordings are repeated in a quieter hour or with the air switched on and off in rhythm. Nothing should be taken apart before.

finding-lost-unheard = Cylinder { $cylinder }: air is lost; nobody has listened yet.
    .technician = The gauge says how much and cannot say where.
    .customer = Cylinder { $cylinder } loses air. Where it gets away has not been looked for yet.
    .customer-next = The openings of the engine are listened at, one after the other.

finding-healthy-cold = Cylinder { $cylinder }: holds well, although it was read cold.
    .technician = A cold engine reads worse than a warm one, so a good reading taken cold stands. There is nothing to look for.
    .customer = Cylinder { $cylinder } holds its air well, even though the engine was cold.
    .customer-next = Nothing has to be done. For comparison in later years the test is best taken warm.

finding-healthy = Cylinder { $cylinder }: holds well.
    .technician = There is nothing to look for.
    .customer = Cylinder { $cylinder } holds its air well.
    .customer-next = Nothing has to be done on this cylinder.

finding-undecided = Cylinder { $cylinder }: the recordings leave it open, and no gauge was read.
    .technician = Without a reading there may be nothing to find. Read the gauge first: it says whether looking further is worth it.
    .customer = Of cylinder { $cylinder } nothing can be said yet, neither good nor bad.
    .customer-next = The loss is measured first; it shows whether there is anything to look for.

finding-silent-unmeasured = Cylinder { $cylinder }: nothing was heard, and no gauge was read.
    .technician = Silence at the openings is a good sign and no measurement. The gauge gives one.
    .customer = At cylinder { $cylinder } no escaping air was heard. How well it holds was not measured.
    .customer-next = The loss is measured.

finding-not-tested = Cylinder { $cylinder }: not tested yet.
    .technician = There is neither a reading nor a ranking.
    .customer = Cylinder { $cylinder } has not been tested yet.
    .customer-next = It is tested.

## Findings: of the engine

finding-rig-leaks = The test rig loses too much air by itself.
    .technician = A rig that leaks as much as a good cylinder hides what it is there to show. Its loss is computed out of the readings, but the doubt grows with it.
    .customer = The test equipment let out some air of its own. That was computed out of the results as far as it goes.
    .customer-next = The equipment is made tight and the test repeated.

finding-rig-unread = What the test rig loses by itself was not measured.
    .technician = Every reading holds the rig's own leak too; hoses, quick couplers and adapters often leak as much as a good cylinder.
    .customer = The figures include what the test equipment itself may have lost, so the engine may be better than they say.
    .customer-next = The equipment is measured by itself, which takes a minute.

finding-neighbours-low = Side by side, and low together: { $cylinders }.
    .technician = Cylinders side by side that are low together raise the suspicion of the head gasket between them, whatever else is found.
    .customer = Cylinders that stand side by side lose air together. They may share one leak in the seal between them.
    .customer-next = It is checked whether the air crosses from one to the other.

finding-stands-out = Far worse than the rest of this engine: { $cylinders }.
    .technician = Losses run from { $least } to { $most } %. The other cylinders were read with the same rig, as warm, by the same hand. So the difference lies there and not in the test. Run the engine and read once more before any work.
    .customer = The loss of { $cylinders } is far above that of the rest of this engine. One bad cylinder may show in nothing a driver notices, and still it decides what the engine is worth and what work it needs.
    .customer-next = What to do is said below, cylinder by cylinder.

finding-alike-and-low = All cylinders lose alike, and more than a good engine does.
    .technician = Losses run from { $least } to { $most } %. A loss that is the same everywhere points at what all cylinders share: the rig, the cold, or an engine worn evenly.
    .customer = All cylinders lose about the same. That points rather to the circumstances of the test or to even wear than to a defect in one place.
    .customer-next = The test is repeated with the equipment checked and the engine warm, before any work is ordered.

finding-alike-and-good = All cylinders tested hold alike, and well.
    .technician = Losses run from { $least } to { $most } %. The spread between cylinders says more than any single value, and it is small.
    .customer = All cylinders tested hold their air well, and one like the other. That is how a sound engine looks.
    .customer-next = Nothing has to be done.

finding-read-cold = Read cold: { $cylinders }.
    .technician = Cold rings and dry walls read worse, and spread more. Test warm before judging.
    .customer = The engine was cold when it was tested, and then every engine reads worse.
    .customer-next = The test is repeated on the warm engine.

finding-some-untested = Not tested: { $cylinders }.
    .technician = The other cylinders are the best control there is; without them a value stands alone.
    .customer = Part of the engine has not been tested.
    .customer-next = The rest is tested as well.

## Findings: what to do first, and why

order-rig = Until the rig holds, no reading counts.
order-coolant = Coolant and gas must not mix: the engine is not run until that is settled.
order-repeat = A second test costs minutes and can spare the rest.
order-gasket = Both cylinders are judged only when that is settled.
order-valve = Often cured without taking the head off.
order-rings = It takes the most work to reach, so everything cheaper is tried first.
order-other = To be followed up once the rest is settled.

## Findings: what else follows

follows-crankcase-pressure = Air past the rings puts pressure into the crankcase. What its ventilation cannot carry off pushes oil out elsewhere: at the crankshaft seals, covers and breather. Renewing seals without curing the cause is money lost.
follows-valve-burns-on = A valve that leaks hot gas burns on. Running the engine hard makes the repair larger.
follows-intake-spits = Burnt gas that goes back into the intake fouls it and can disturb the mixture for the other cylinders.
follows-coolant-loss = Under load, gas pushed into the coolant drives it out and can overheat the engine; standing, coolant can run into the cylinder.
follows-two-cylinders = Both cylinders lose by such a leak; judge each by itself only when it is cured.

## Findings: what is not said

silent-not-proof = Listening gives an indication, not proof; the parts themselves have the last word.
silent-loudness = How loud it hisses does not say how much is lost: the sound says where, the gauge says how much.
silent-how-much = How much is lost is not known.
silent-how-long = How long the engine will last is not something this test can say.
silent-rings-or-bore-alike = A leaking ring and a scored bore sound alike; the sound does not part them.
silent-gasket-or-crack-alike = A blown gasket and a crack sound alike; the sound does not part them.
silent-valve-cause = Whether the valve is burnt, bent, dirty or just set too tight is not to be heard.
silent-place-unknown = Where the air gets away is not known.
silent-cylinder-not-judged = Nothing is said about the cylinder itself, neither good nor bad.
silent-cold-reading = What the engine loses warm is not known.
silent-one-value = One figure by itself is no verdict on the engine; makers' limits come first.
silent-layout-unknown = Whether these cylinders stand side by side is taken from their numbers; the job does not say how the block is laid out.

## Findings: steps

step-back-to-top = Turn the crank back at least half a turn and come up again in its direction of rotation to top dead centre of the compression stroke; hold it there.
step-back-to-top-two-stroke = Turn the crank back a quarter of a turn and come up again to top dead centre, where the piston covers all ports; hold it there.
step-borescope = Look through the plug hole with a borescope: seats, edges of the valves, crown and walls.
step-coolant = With the engine cold, open the coolant filler, put the air on and watch for bubbles.
step-crankcase-breather = See that the crankcase breather is free, and how strongly it blows with the engine running.
step-gauges-shut = Shut the cylinder's valve, so that nothing flows, and read both gauges: they must show the same. Give both to hissward rig with --gauges; what they differ by is taken off.
step-head-bolts = Check the head bolts as the maker says.
step-pulsed-air = Record once more here with pulsed air: the valve opened and shut to the beep, so that the noise of the shop drops out.
step-lash = Check the lash; too little holds the valve off its seat. Set it, and test again.
step-listen-again = Record the quiet and air clips again.
step-makers-limit = Hold the readings against the maker's limits; even wear has no other judge.
step-listen-first = Record a quiet and an air clip at each opening, the rig among them.
step-neighbour-hole = Put the air on the other cylinder and listen at this one's plug hole, then the other way round: a gasket lets through both ways.
step-neighbour-reading = Read the gauge on the neighbouring cylinder too: a shared gasket shows in both.
step-oil-in-cylinder = Put about a teaspoon of oil into the cylinder, turn the engine over by hand, test again: a loss that goes down speaks for the rings rather than the bore. In a bore that lies over (vee, flat or slanted engine) the oil runs to the low side and seals only there; no change says little then.
step-other-openings = Listen where nobody has yet: coolant filler, neighbours' plug holes, breather, dipstick, all round the gasket.
step-pinch-breather = Pinch the hose from the crankcase breather (PCV) to the intake: if the hiss at the intake goes, it came past the rings and not past the valve.
step-plug-the-holes = Screw the plugs of the other cylinders in again and listen at intake and exhaust: air that came round by a manifold now comes out there.
step-pressure-cooling = Put the cooling system under its test pressure and see whether it holds.
step-read-again = Read the gauge again.
step-read-again-hot = Test again with the engine hot.
step-read-gauge = Read the gauge: the sound says where, only the gauge says how much.
step-read-gauge-after-each = After each step read the gauge again; what lowers the loss was part of the leak.
step-record-again = Record again in a quieter moment, the microphone held at the same place for quiet and air.
step-reeds = Look at the reeds and shaft seals: they hiss when air comes past the piston into the crankcase, and a bad one leaks by itself under crankcase pressure.
step-rig-blank-off = Blank off hose and adapter and read what the rig loses by itself.
step-rig-joints = Go along hose, couplers, adapter and plug seat with the microphone or soapy water, and tighten or renew what hisses. An adapter in the hole of an injector or glow plug seals on a washer or cone of its own: look there.
step-ring-gaps = Rings whose gaps happen to stand in line leak for a while and come right by themselves: run the engine some hours and test again before it is opened.
step-rock-piston = Let the air off, rock the piston past the top and back a few times, come up again in the direction of rotation so that the rings seat, and read again. If the loss falls while the air stays on, leave it on until the needle stands.
step-run-and-repeat = Run the engine for at least three minutes at working warmth and test again before any work: carbon on a seat and dry rings often come right by that (AC 43.13-1B).
step-supply-closed = Shut the cylinder valve and listen: what still hisses is not the cylinder.
step-tap-valve = Let the air off. Turn the crank until the piston stands well away from the top, and keep clear of what turns: a valve driven into the piston is bent. Then tap the end of the valve stem (or the rocker above it) smartly with a soft mallet to shake carbon off the seat, come up to the top again, and test again.
step-test-later = Test again at the next service and compare.
step-test-the-others = Test the cylinders that are missing.
step-turn-through = Let the air off, turn the engine through by hand a few times and see that both valves move freely and come back to their seats.
step-valve-guides = Take off the valve cover, or the filler cap in it, and listen there: air past a valve comes up a worn guide into the cover and is heard at the filler, without fault of the rings.
step-warm-engine = Bring the engine to its working temperature, if it runs, and test again at once.

## Findings: cautions

mind-maker-first = The maker's instructions and local rules come first; where the law asks for a licensed person, that person decides.
mind-crank-turns = Air in the cylinder can turn the crank without warning: lock it as the maker says, take spanners off it, keep hands, hair and clothes clear.
mind-piston-away = No valve is touched while the piston is near the top: turn it well away first, and stay clear of what turns.
mind-eyes = Wear eye protection with side shields.
mind-ears = Wear hearing protection, and never put face or ear to an opening under pressure; the microphone goes there.
mind-relieve = Let the pressure off before unscrewing the adapter or touching the valve gear.
mind-pressure = Bring the pressure up slowly from about 20 psi (1.4 bar) and never above the maker's test pressure.
mind-hot = Exhaust and engine are hot.
mind-coolant-hot = Open the coolant cap only when the engine is cold: hot coolant is under pressure.
mind-ignition = Ignition and fuel off, no flame or spark near fuel vapour.
mind-fumes = Crankcase and exhaust gases are toxic: see to fresh air.
mind-little-oil = No more oil than that, and none left when the engine is cranked fast: a cylinder full of liquid breaks the engine.

## Gauge: caveats

caveat-rig-not-measured = What the test rig loses by itself was not read, so the cylinder loses at most what is shown.
    .remedy = Blank off hose and adapter and read the rig.
caveat-rig-is-all = Rig and cylinder together lose { $total } %, the rig alone { $rig } %: within what the gauges resolve, the rig is the whole loss.
    .remedy = Make the rig tight if the cylinder's own small loss matters.
caveat-rig-dominates = The rig loses { $rig } % by itself, more air than the cylinder does, so the cylinder's own loss is uncertain.
    .remedy = Make the rig tight and read again.
caveat-rig-worse = The rig alone loses { $rig } %, more than rig and cylinder together ({ $total } %): it leaked less this time, or one of the two readings is wrong. The reading was kept.
    .remedy = Blank the hose off again and read both anew at the same supply.
caveat-gauges-disagree = More is held than supplied: the two gauges do not show the same. The reading was kept.
    .remedy = Shut the cylinder's valve and read both; give them with hissward rig --gauges.
caveat-still-falling = The loss fell while the air stayed on: { $series } %.
    .remedy = Leave the air on until the needle stands; rings seat and oil spreads in that time. The last reading counts.
caveat-still-rising = The loss rose while the air stayed on: { $series } %.
    .remedy = See that the crank has not moved and the supply stands still; the last reading counts.
caveat-rig-leaks = The rig alone loses { $rig } % of the supply.
    .remedy = Find its leak at hose, couplers and adapter, make it tight and read it again.
caveat-percent-gauge = The gauge shows percent, so a supply of { $supply_psi } psi ({ $supply_bar } bar) and an even scale were assumed in taking the rig off.
    .remedy = Read the two pressures where the tester shows them.

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
caveat-sound-gap = { $gap_s } s are missing from the recording: the computer slept or stood still
    .remedy = Keep it awake (lid open, power plugged in) and record again.
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
mic-muted = no sound: it is muted or switched off
mic-tried = up to { $khz } kHz, { $level } dB FS
mics-trying = Listening to { $count } for a second each.
mic-default = used where none is named

## Job folder

new-started = Started { $job }. Next: `hissward guide` leads through the test, or `hissward rig` keeps what the rig alone loses.

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
level-interval = { $low } to { $high }
level-at-most = at most { $level }
level-not-heard = not heard
level-spill = spill

## The comparison picture

plot-elsewhere = elsewhere { $percent } · tight { $tight }
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
plot-at-most = at most { $level } dB
plot-seconds = { $number } s
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
rank-none-heard = { $subject }: none heard: no hiss at the openings listened at ({ $tight } that nothing leaks, { $elsewhere } elsewhere)
rank-cannot-tell = { $subject }: cannot tell: { $places } ({ $percent } together)
rank-cannot-tell-unfit = { $subject }: cannot tell: the clips do not allow an answer
rank-would-be-heard = A hiss louder than { $level } dB FS would have been heard at every opening ({ $opening } is the least certain; 95 %).
rank-answer-set = Together at least 95 %: { $places }.
rank-member = { $place } { $percent }
rank-beside = Beside the other cylinders, { $opening } stands out by { $level } dB ({ $low } to { $high }).
rank-spill = Spill, not a leak of its own: { $places }.
rank-hiss = { $level } ({ $low } to { $high })
rank-no-quiet = pulsed
rank-caveats = Caveats:
rank-column-opening = opening
rank-column-probability = probability
rank-column-hiss = hiss level, dB FS
rank-column-above = above quiet, dB

## What to do next

next-record-off = record { $opening } with the air off ({ $seconds } s): settles it with { $percent }
next-record-on = record { $opening } with the air on ({ $seconds } s): settles it with { $percent }
next-record-pulsed = record { $opening } with pulsed air ({ $seconds } s): settles it with { $percent }
next-read-rig = blank the hose off and read what the rig alone loses ({ $seconds } s): settles it with { $percent }
next-read-gauge = read the gauge at this cylinder ({ $seconds } s): settles it with { $percent }
next-none-heard = Next: hold the gauge's reading against this. If the cylinder loses more than it should, the air goes where nobody listened: test the rig alone, then listen at the coolant filler and at the neighbours' plug holes.
next-cannot-tell = Next: record { $places } again, two takes each with the air off and on, the microphone at the same place; shut off what is loud and changes, or key the air.
next-cannot-tell-elsewhere = Next: record { $places } again, two takes each with the air off and on, the microphone at the same place and closer; then listen at the openings not yet recorded.
next-cannot-tell-unfit = Next: mend what the caveats name, and record every opening again with the air off and on.

## The report

report-title = Cylinder leakage: where the air goes
report-date = Date
report-tested-by = Tested by
report-notes = Notes
report-findings = The findings in detail
report-comparison = The openings compared
report-levels = The figures
report-caveats = What lowers trust in this
report-cautions = Cautions for whoever repeats the test
report-figure = { $subject }: the hiss at each opening, and the sound with the air on against quiet. Levels (dB FS) are decibels against the recording's full scale.
report-levels-of = { $subject }: probability and hiss level of each opening
report-column-opening = Opening and escape path
report-column-probability = Probability
report-column-hiss = Hiss level, dB FS
report-column-above = Above quiet, dB
report-caveat = { $found }. What to do: { $remedy }
report-customer = For
report-page-of = Page # of ##
report-signs-missing = Some signs of the text given are not in this paper's font and stand as □; the page report.html shows them.
report-holds-well = { $cylinders } hold well.
    .one = { $cylinders } holds well.
report-nothing-to-do = Nothing has to be done.
report-overview = Where the air is heard. Each line is one place at which the microphone was held; further right is louder. How loud it hisses does not say how much is lost: that is in the table.
report-cylinders = The cylinders: how much of the test air each loses, what that is called, and what the sound says.
report-column-cylinder = Cylinder
report-column-loss = Air lost
report-column-called = Called
report-column-sound = What the sound says
report-not-read = not read
report-not-judged = not judged
report-at-the-limit = at the limit
report-not-listened = nobody listened
report-loss-net = { $interval } %, test rig taken off
report-loss-gross = { $interval } %, test rig included
report-loss-beside = by itself { $percent } % ({ $interval } %), test rig taken off
report-by = by { $band }
report-likely = { $place }, { $percent } likely
report-circumstances = Circumstances of the test
report-warmth = Engine
report-hot = at working temperature
report-cold = cold
report-restrictor = Restrictor of the tester
report-ambient = Air pressure of the place
report-maker = Maker's limit
report-makers-limit = { $loss } % ({ $source })
report-no-source = no source given
report-microphone = Microphone
report-cautions-confirmed = Cautions confirmed
report-readings = Gauge readings
report-readings-of = What the gauges showed, and what is left for the cylinder alone.
report-readings-note = The rig's own leak sits beside the cylinder's behind the same restrictor, so areas are subtracted and not percentages. A hole that lets as much air through is a picture of the loss, not the shape of the leak.
report-column-pressures = Supply, held
report-column-shown = Loss shown
report-column-alone = Cylinder alone
report-column-hole = As a hole
report-held-of = { $supply }, { $held }
report-percent-gauge = gauge in percent
report-flow = { $flow } l/min of free air
report-ratio = { $ratio } × the restrictor
report-rig-alone = Test rig alone
report-sounds = The sounds
report-about-sounds = Quiet and air are played one after the other, up to { $seconds } s from the middle of each recording, all at the same gain ({ $gain } dB over the recording). The strips show them: time to the right in seconds, frequency upwards in kHz, six bands to an octave, from white ({ $white } dB FS and less) to black ({ $black } dB FS and more). Listen at moderate volume. The page report.html plays them; the whole recordings are in the job's folder.
report-sound = { $subject }, { $opening }
    .take = { $subject }, { $opening }, take { $take }
report-sound-label = Play { $caption }: { $kinds }
report-sound-alt = Levels by time and frequency: { $caption }, { $kinds }. The figures of this opening are in the tables.
air-off = quiet (air off)
air-on = air on
air-pulsed = air pulsed
report-method = Method and settings
report-recordings = The recordings
report-recordings-of = Every recording of this job. The beginning of its SHA-256 tells it from any other; the whole is in job.toml, and “hissward verify” holds the files against it.
report-column-file = File
report-column-recorded = Recorded, length, rate, device
report-column-hash = SHA-256
report-clip-shape = { $seconds } s, { $rate } kHz
report-left-out = left out: { $why }
report-time-unknown = time unknown
report-program = Report made with
report-job-made-with = Job made with
method-gauge = Loss is the share of the supply pressure that the cylinder does not hold, 100·(supply − held)/supply (FAA AC 43.13-1B, chapter 8). What the rig loses alone is taken off as flow through a second opening behind the same restrictor, isentropic, at the same supply. Intervals of about 95 % follow from what the gauges resolve.
method-sound = At each opening a clip with the air off is held against one with the air on, in third-octave bands (IEC 61260-1) from 400 Hz to where both recordings really reach. The hiss level is what is left over 1 to 16 kHz when the background is taken off (as in ISO 3744, K1). Where the margin over the background is too small for that, only an upper bound is given.
method-noise = Short noises are kept out by levels that ignore single bangs, changes of the background by bands that the hiss does not reach. The position of the microphone counts in the uncertainty: from repeats where there are any, else ±2 dB.
method-probability = Every account of where the air gets away (nowhere, at one opening, at two, elsewhere) is weighed by how well it tells what was recorded, over all levels and shapes of a hiss and all changes of the background that are thinkable. The same recordings give the same figures. “Located” is said only where one opening holds at least 95 %.
method-limits = Published limits of loss disagree; the maker's come first. Loudness is no measure of how much is lost.
report-colophon = Made with hissward { $version }.
limit-places = Nothing is said of places at which nobody recorded.

## Gauge: what is printed

gauge-loss = { $who }: { $loss } % lost ({ $low } to { $high } %): { $supply } supplied, { $held } held.
gauge-loss-share = { $who }: { $loss } % lost ({ $low } to { $high } %) by the percent gauge.
gauge-rig-who = Test rig alone
gauge-net = By itself the cylinder loses { $loss } % ({ $low } to { $high } %). The rig's { $rig } % is taken off as air flow; percentages themselves do not subtract.
gauge-hole = That leak lets through as much as a hole of { $hole } beside a restrictor of { $restrictor }, { $flow } L/min of air (20 °C, 100 kPa) at most.
gauge-ratio = That leak is { $ratio } times the tester's restrictor; with the restrictor's diameter in the job it is told as a hole.
gauge-not-judged = Not judged: the reading says too little of the cylinder.
gauge-earlier = Earlier readings, as read: { $list } %. The last one counts.
gauge-caveat = { $found } { $remedy }
gauge-kept = Kept in { $job }.
gauges-less = With the valve shut the gauge after the restrictor shows { $by } less than the one before it; that is taken off every reading.
gauges-more = With the valve shut the gauge after the restrictor shows { $by } more than the one before it; that is taken off every reading.
rig-next = Next: blank off hose and adapter and read what the rig loses by itself.

caveat-read-cold = The engine was cold, so the reading comes out worse and less certain than warm.
    .remedy = Warm the engine and read again before judging.

## Fitness of clips

caveat-silent = { $file } is silent
    .remedy = check that the microphone is not muted, and record again
caveat-clipped = { $file } is overdriven: { $percent } % of its samples sit at full scale
    .remedy = turn the input down or hold the microphone further away, and record again
caveat-too-short = { $file } is only { $seconds } s long
    .remedy = record six seconds
caveat-digital-silence = { $percent } % of { $file } is digital silence: no sound at all reached the file
    .remedy = check plug, cable and connection of the microphone, switch a noise gate off, and record again
caveat-level-falling = the hiss of { $file } falls by { $db } dB while it is recorded
    .remedy = let the tank fill up, see that the regulator holds its pressure, and record again
caveat-dc = { $file } is off zero by { $percent } % of full scale
    .remedy = use another input or microphone; the hiss itself is not touched by it
caveat-narrow-band = { $file } holds nothing above { $khz } kHz
    .remedy = record with a microphone that reaches 16 kHz, as WAV, not over a headset
caveat-rumble = { $file } is full of low rumble, from wind or from handling
    .remedy = hold the microphone still, out of the air stream, and record again
caveat-gain-step = the level of { $file } jumps by { $step } dB and stays there, as automatic gain does
    .remedy = switch automatic gain off, and record quiet and air again
caveat-whistle = most of { $file } is one tone at { $khz } kHz, not a broadband hiss
    .remedy = find the whistle (a sharp edge, a machine) and record again without it
caveat-same-recording = { $file } and { $other } are the same recording
    .remedy = record quiet and air one after the other
caveat-different-rates = quiet and air were recorded at different rates ({ $quiet_hz } and { $air_hz } Hz)
    .remedy = use the same device and settings for both
caveat-quiet-louder = the quiet clip is louder than the air clip by { $db } dB
    .remedy = check that the clips are not mixed up, and record the quiet one again
caveat-different-devices = { $file } was recorded with { $device }, others here with { $other }
    .remedy = record the quiet and air clips of this opening with one microphone
caveat-gain-differs = all of { $file } lies { $step } dB over the first quiet clip, low bands and high: the gain was changed between them
    .remedy = fix the gain, switch automatic gain off, and record quiet and air again
caveat-processing-echo = the phone cancelled echoes while it recorded { $file }: that changes the spectrum
    .remedy = use another browser or an outside microphone, and record again
caveat-processing-noise = the phone suppressed noise while it recorded { $file }, and a hiss is noise to it
    .remedy = use another browser or an outside microphone, and record again
caveat-processing-gain = the phone set its gain by itself while it recorded { $file }: quiet and air cannot be held against each other
    .remedy = use another browser or an outside microphone, and record again
caveat-processing-unknown = the phone did not say whether it worked on the sound of { $file }
    .remedy = record once with another browser or an outside microphone and compare
caveat-alike-at-other-cylinders = { $opening } hisses about as loud at the other cylinders
    .remedy = listen at the test rig and its hose: what hisses at every cylinder may be the rig, or the usual passage by the rings
caveat-cut-short = { $file } was cut short while it was recorded
    .remedy = record it again if it is too short

## Ranking

caveat-not-comparable = at { $opening } there is nothing to compare
    .remedy = record a quiet clip and an air clip there, or pulsed air for at least six seconds
caveat-nothing-to-rank = there is nothing to rank
    .remedy = record a quiet clip and an air clip at each opening
caveat-band-limit = the clips reach only to { $khz } kHz together, so levels end there
    .remedy = record all clips as WAV with a microphone that reaches 16 kHz
caveat-foreign-hiss-alike = another steady hiss in the shop that began between quiet and air (a tap, rain, a grinder, another air tool) would look the same
    .remedy = record the likeliest opening once more with pulsed air
caveat-one-opening = only one opening was recorded, so spill from another cannot be told from a leak
    .remedy = record the other openings, too
caveat-borrowed-quiet = an opening has no quiet clip of its own; those of the others stand in
    .remedy = record a quiet clip at each opening
caveat-own-rhythm = the noise at { $opening } has a rhythm of its own
    .remedy = repeat the pulsed clip when it has stopped
caveat-not-listened-at = { $opening } has not been listened at
    .remedy = record { $opening } with the air off and on
caveat-air-on-microphone = air streams over the microphone at { $opening }: what rises there has the colour of wind, not of a leak
    .remedy = hold the microphone a hand's breadth to the side, out of the stream, or put foam over it, and record again
caveat-does-not-follow-valve = the hiss at { $opening } does not follow the valve: it is there with the air on, and not in the rhythm of the pulsed clip
    .remedy = look for what else hisses there, and record again when it has stopped
caveat-fits-no-explanation = what rises at { $opening } from { $from_khz } to { $to_khz } kHz with the air on fits none of the explanations
    .remedy = record { $opening } once more with pulsed air, and with another microphone or recorder
caveat-risen-everywhere = the second microphone heard the shop grow louder while the air was on at { $opening }
    .remedy = wait until it is as still as before and record again, or use pulsed air
caveat-suppression-shut-off = the recorder shut the sound off: { $percent } % of a recording is digital zero
    .remedy = nothing can be heard through that: record with noise suppression switched off, or with a recorder that writes plain WAV, and record quiet and air again
caveat-suppression-eaten = the recorder suppresses noise: a steady floor is turned down where it is weak, and a hiss with it
    .remedy = that no hiss is heard says nothing: switch noise suppression ("clear voice", "voice focus") off, or take a recorder that writes plain WAV, and record quiet and air again
caveat-gain-rides = the recorder sets its gain by itself: recordings begin { $db } dB above where they come to rest
    .remedy = switch automatic gain off; until then wait three seconds after the start before the air is turned on
caveat-limited = a limiter holds the peaks down: { $percent } % of a recording ends at one ceiling
    .remedy = turn the recording level down, or the limiter off, and record quiet and air again
caveat-lossy-coding = the recordings were stored as { $coding }, which leaves out what an ear would not miss
    .remedy = record as WAV where the app lets you
caveat-two-microphones = the recordings hold two microphones: channel { $near } is nearer the opening, channel { $far } tells how loud the shop is
    .remedy = hold the recorder the same way round at every opening
caveat-two-microphones-alike = the recordings hold two microphones, and no hiss is louder at one of them
    .remedy = hold one end of the recorder at the opening, the other away from it, the same way round every time
caveat-heard-alike-at-both = what rises with the air rises at both microphones alike: it is not made at the opening, or both microphones were equally near
    .remedy = hold one end of the recorder at the opening and the other away from it, or use pulsed air

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
recorder-gain-rides = it sets its gain by itself. Switch that off, or wait three seconds after the start before the air is turned on
listen-key = { $state }
listen-open = OPEN
listen-shut = SHUT
listen-starts = pulsed air: shut the valve; the rhythm begins in { $seconds } s (high beep: open, low beep: shut)
listen-good = good
listen-no-beep = No sound output works here: there are no beeps.
caveat-recovered = { $file }: { $kept_s } s of a recording that was broken off are kept, marked as cut short
    .remedy = Record it again if it is too short.
caveat-nothing-recovered = { $file }: a recording that was broken off held no sound and is gone
    .remedy = Record it again.

## How a job stands

status-head = { $engine }, { $cylinders } cylinders
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
caveat-clip-gone = the file of { $file } is gone, so the clip does not count
    .remedy = put the file back into the job's clips folder, or record the clip again

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
guide-gauge-1 = Put the air on the cylinder slowly. Wait until the needle stands.
guide-gauge-2 = Type supply and held, as in: 80 62 psi   or the loss, as in: 22%
guide-turn-by = Turn the crank { $degrees }° on from cylinder { $before }, in its direction of rotation.
guide-turn-1 = Top of the compression stroke, both valves shut.
guide-turn-2 = Past it? Back half a turn at least, and come up again.
guide-turn-3 = LOCK THE CRANK. Spanners off, hands clear.
guide-turn-guess = The firing order is not known: look at the valves.
guide-clip-off = Shut the air. Microphone to the { $opening }, a hand's breadth away.
guide-clip-off-again = Shut the air. Microphone to the { $opening }, same place as before.
guide-clip-on = Open the air. Microphone to the { $opening }, a hand's breadth away.
guide-clip-on-again = Open the air. Microphone to the { $opening }, same place as before.
guide-clip-pulsed = Microphone to the { $opening }. High beep: open. Low beep: shut.
guide-clip-hands-free = Then press SPACE, or tap the microphone twice: the rest goes by itself.
guide-count = Recording in { $seconds } s. Hold still from the last beep on.
guide-recording = Recording: { $seconds } s. Hold still.
guide-level = { $level } dB FS
guide-above = { $above } dB over quiet
guide-known = known to ±{ $error } dB
guide-left = { $more } s to go
guide-too-loud = TOO LOUD: further away
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
guide-next-clip = Next, N: { $opening }, { $air }. That settles it with { $percent } ({ $seconds } s).
guide-skip = Why is this left out? It will stand in the report.
guide-end = The report is written. What was recorded and typed is in the job folder.
guide-written = Report: { $file }
guide-keys-go = SPACE try again   Q leave
guide-keys-skipping = ENTER skip it   ESC do not
guide-keys-cautions = SPACE I have read this and work by it   Q leave
guide-keys-temperature = H hot   C cold   SPACE nobody knows   B back   Q leave, go on later
guide-keys-entry = ENTER look at it   S skip   BACKSPACE back   Q leave, go on later
guide-put-right = X puts that right.
guide-keys-confirm = ENTER keep it   BACKSPACE type it anew   Q leave and go on later
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

hunt-quiet-first = Shut the air, hold the microphone where the noise is as usual, press SPACE: that is quiet.
hunt-level = { $level } dB FS   quiet { $quiet }   peak { $peak }
hunt-above = { $above } dB
hunt-loud = TOO LOUD
hunt-head = Hunt{ $where }: hiss over quiet · { $device }
hunt-keys = SPACE quiet anew   P peak anew   T tone   Q leave
hunt-lost = The microphone gave out ({ $said }). Plug it in again and start anew.
## The bench page

page-title = Bench page
page-terminal-scan = Scan the code with the phone, or open { $text }
page-terminal-code = Pairing code: { $text } (good once, for ten minutes)
page-terminal-certificate =
    The certificate is this program's own, so the phone warns once. Compare the fingerprint it shows (SHA-256), then go on:
    { $text }
page-terminal-anew = Enter shows a new code, which is taken whatever was tried before.
page-terminal-end = Ctrl+C ends the page.
page-turn = Then turn the crank { $degrees }° in its direction of rotation to cylinder { $number }.
page-pair = Pair this device
page-pair-how = Type the code that the computer shows, or scan its QR code.
page-pair-code = Pairing code
page-pair-go = Pair
page-certificate = The browser warns once about this address, because the page comes from the shop's own computer and no authority vouches for it. Compare the fingerprint on the computer's screen with the one the browser shows before you go on.
page-jobs = Jobs
page-jobs-none = No job here yet.
page-new = Start a job
page-engine = Engine, as people call it
page-cylinders = Cylinders
page-firing-order = Firing order, as in 1-3-2
page-restrictor = Tester's restrictor, as in 0.040in
page-tested-by = Tested by
page-hot = Engine at working temperature
page-two-stroke = Two-stroke
page-start = Start
page-optional = optional
page-cautions = Before you begin
page-cautions-go = Read, and so done
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
page-pulsed-how = Open and shut the valve with the beat: a second shut, a second open.
page-pulsed-shut = SHUT
page-pulsed-open = OPEN
page-beep = Beep with the beat
page-offline = No connection: recorded sound stays on this phone and is sent as soon as the computer answers.
page-kept = { $count } recordings wait on this phone and are being sent.
page-in = { $clip } is in the job.
page-clipped = Too loud: the sound is clipped. Hold the microphone farther away.
page-processing = This phone does not let its sound processing be switched off ({ $what }). The clip may mislead: use another browser or an outside microphone.
page-processing-echo = echo cancelling
page-processing-noise = noise suppression
page-processing-gain = automatic gain
page-processing-unknown = the phone does not say
page-no-microphone = No microphone: { $why }. Allow it for this page in the browser's settings.
page-no-secure = The browser gives a microphone to this page only over https or on the computer itself.
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
page-take-in = Take in
page-left-out = left out
page-cut-short = cut short
page-take = take { $number }
page-no-result = No result yet: record quiet and air clips at the openings.
page-elsewhere = none of these
page-at-most = at most { $level } dB
page-hiss-level = hiss { $level } dB FS
page-spill = spill
page-findings = What it means
page-report = Report for the customer
page-further = Pair another device
page-customer = Link for the customer (only to look at)
page-leave = Unpair this device
page-looking = You are looking on: this link changes nothing.
page-language = Language
page-light = Light
page-light-system = as the system
page-light-sun = sun
page-light-dark = dark
page-plan = The engine from above
page-other-opening = Other opening
page-other-ask = Name of the opening, small letters and hyphens
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
page-opening = Opening
page-swap = Swap them
page-swap-with = Swap with
page-reading-kept = { $whose }: { $loss } % lost. The reading is in the job.
page-reading-waits = { $whose }: { $loss } % lost. The reading waits on this phone until the computer answers.
page-loses = Loses { $loss } %
page-lost = Loss { $loss } %
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
page-microphone = Microphone: { $name }, { $rate } Hz

## History and comparison

history-engine = { $engine }: { $jobs } jobs
history-engine-one = { $engine }: 1 job
history-cylinder = cylinder
history-date = date
history-loss = lost by itself
history-change = change
history-heard = heard
history-job = job
history-undated = no date
history-net = { $loss } % ({ $low } to { $high })
history-gross = at most { $loss } % ({ $low } to { $high })
history-cold = { $loss }, cold
history-read = { $jobs } jobs read below { $folder }.
history-skipped = { $job } is left out. { $reason }
history-closed = Not looked into: { $reason }
history-no-job = { $folder }: no job folder in it or below: give a folder that holds job folders
history-no-engine = { $folder }: no engine there is called '{ $engine }': give a part of its name as the jobs write it
history-none-readable = { $folder }: none of its { $jobs } jobs can be read
history-too-many-engines = { $folder }: a picture of { $engines } engines would be no use, { $most } fit: choose with --engine
history-kind = { $file }: a table's name ends in .csv, .json or .parquet, a picture's in .png or .svg; a folder for a data set has no ending
history-grown = { $added } jobs added, { $changed } changed since and added with their next revision, { $same } there as they are.
history-legend = Change: percent points against the reading before, in brackets where the gauges cannot tell it from none. "At most": the rig was not taken off.
history-calls = Calls are those kept when the job was ranked; no sound is read here. Without calls: { $not_ranked } not ranked, { $outdated } ranked before their clips changed: `hissward rank JOB` ranks them.

compare-title = { $engine }: before ({ $before }) and after ({ $after })
compare-before = lost before
compare-after = lost after
compare-heard = heard before → after
compare-less = { $who } loses { $points } points less than before ({ $low } to { $high }), more than the gauges leave in doubt.
compare-more = { $who } loses { $points } points more than before ({ $low } to { $high }), more than the gauges leave in doubt.
compare-same = { $who }: no change that the gauges can tell; up to { $within } points would not show.
compare-not-both = { $who } was not read both times: nothing to compare.
compare-basis-reading = Rig and cylinder together, since the rig was not read both times.

caveat-compare-other-name = The two jobs name the engine differently.
    .remedy = See that both are of one engine.
caveat-compare-order = The first job is later than the second.
    .remedy = Swap the two if that was a slip.
caveat-compare-one-cold = A cylinder was read cold one time and warm the other: cold readings come out worse.
    .remedy = Read both times warm before judging the difference.
caveat-compare-restrictors = The testers' restrictors differ, so the same leak reads as another percentage.
    .remedy = Compare the equivalent holes (`--json`), or read again with the same tester.
caveat-compare-pressures = The supply pressures differ by more than a tenth.
    .remedy = Read again at the pressure of the first test.
caveat-compare-rig = The rig was not read both times, so a change of the rig shows as one of the cylinder.
    .remedy = Blank off hose and adapter and read the rig in each job.

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
doctor-no-browser = No browser is opened by itself.
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

found-title = Said against found: { $opened } opened
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
found-kept = { $who }: { $path } written down as found. `hissward history FOLDER --found` holds it against what was said.
found-none = { $folder }: nobody has written down what was found when an engine was opened: hissward found JOB --cylinder N --path PATH
compare-opened = { $who } ({ $day }): opened, { $found } found; said was: { $said }.

## Report: settings of the method

setting-frames = { $samples } samples at 48 kHz ({ $ms } ms), Hann window, half overlapping
    .label = Short-time spectra
setting-bands = third-octave bands from { $lowest } Hz to { $highest } kHz, as far as both recordings reach
    .label = Bands compared
setting-level = { $lowest } to { $highest } kHz; below { $margin } dB over the background only a bound, above { $clear } dB no correction (ISO 3744)
    .label = Level of the hiss
setting-tried = { $quietest } to { $loudest } dB against the noise of the place, in steps of { $step } dB
    .label = Hiss levels weighed
setting-change = { $common } dB in all bands, { $smooth } dB from octave to octave, { $band } dB in single bands; all of it weighed from { $calmest } times to { $wildest } times that
    .label = Change of background
setting-spill = { $near } to { $far } dB under the leak it comes from
    .label = Spill to other openings
setting-placement = ±{ $level } dB, where repeats do not tell
    .label = Microphone placing
setting-before = { $nowhere } % that nothing leaks at the openings, { $two } % that two do
    .label = Probability beforehand
setting-calls = one opening from { $sure } %; two from { $two } % that there are two, the named pair holding { $share } % of it
    .label = Called from
setting-gauge = { $psi } psi, or { $percent } percentage point
    .label = Gauges are read to
