# The build record: what was found, decided and done, how it is undone, and what its figures rest on.

# Findings. `found` is what was seen and how far it goes, `became` what came of it.
found = { $said }
    .lead = { $seen }
found-on = { $said }
    .lead = { $seen }, { $on }
so-many-parts = { $count } parts
found-cause = { $guess } ({ $confidence })
    .lead = { $number }
became-mended = { $did }
became-mended-and-left = { $did } Left in part: { $why }
became-mended-partly = In part: { $did }
became-failed = Tried, and it did not hold: { $did }
became-failed-and-left = Tried: { $did } Left as it is: { $why }
became-left = Left as it is: { $why }
became-gone = It went with its part
became-as-at = As told at finding { $number }
became-nothing-to-mend = Nothing to mend
became-not-said = What became of it is not recorded

# Decisions.
decided = { $chose }
    .lead = { $ask }
decided-because = { $chose }: { $because }
    .lead = { $ask }
weighed = { $plan }
weighed-for = { $plan }: { $pro }
weighed-against = { $plan }: { $against }
weighed-both = { $plan }: { $pro }; but { $against }

# What was done, day by day.
logged = { $said }
    .lead = { $day }
log-at = { $at }: { $what }
log-for-findings = { $count ->
    [one] As told at finding { $numbers }
   *[other] As told at findings { $numbers }
 }
did-clean = cleaned with { $with }
did-remove = { $what } taken off
did-remove-all = everything taken off, down to the wood
did-abrade = rubbed down with { $grits }
did-apply = { $what }
did-apply-coats = { $what }, { $coats } coats
did-mix = mixed from { $mix }
did-every = { $hours } hours apart
did-between = rubbed down with { $grit } between coats
did-only = only on { $parts }
mix-part = { $parts } of { $of }
done-by = By { $by }
work-turned-out = It { $outcome }
test-short = { $of }: { $result }

# The timeline.
lane-work = Wood, joints and fittings
lane-only-work = The work
lane-tests = Tests
lane-after = After it had left
lane-off-again = off again
lane-done-again = done again
column-joined = { $first }–{ $last }
timeline-days = { $count ->
    [one] One day of work
    [2] Two days of work
    [3] Three days of work
    [4] Four days of work
    [5] Five days of work
    [6] Six days of work
    [7] Seven days of work
    [8] Eight days of work
    [9] Nine days of work
    [10] Ten days of work
    [11] Eleven days of work
    [12] Twelve days of work
   *[other] { $count } days of work
 }
timeline-days-again = { $days }, and one finish laid twice

# Cuts through surfaces.
cut-layer = { $how }
    .lead = { $coat }
cut-removed = Found, and taken off
    .lead = { $coat }
cut-undone = Taken off again
    .lead = { $coat }
cut-undone-from = { $on }, taken off again
    .lead = { $coat }
layer-found = found
layer-laid = laid here
layer-laid-from = { $on }
layer-only-on = only on { $parts }
layer-gone-from = taken off again from { $parts }

# How it is undone.
open-up = { $what }
    .lead = { $name }
undo-layer = { $undo }
    .lead = { $layer }: { $on }
undo-layer-not-known = How it comes off is not known: try in a hidden place first
    .lead = { $layer }: { $on }
to-undo = To undo: { $undo }
undo-in-part = To undo in part: { $undo }
undo-in-part-without-way = Can be undone in part; how is not recorded
undo-fitted = { $what }: { $undo }
undo-part = { $undo }
    .lead = { $part }
undo-parts-not-said = The record does not say how it comes off
    .lead = { $parts }
undo-fixing = { $undo }
    .lead = { $name }
undo-fixing-not-known = How it comes out is not known
undo-never = Cannot be undone
undo-never-with = Cannot be undone: { $undo }
gone-finish = Gone: { $coats }, off { $surface }
undo-without-way = Can be undone; how is not recorded
undo-not-said = { $count ->
    [one] Of one work the record does not say whether it can be undone
   *[other] Of { $count } works the record does not say whether they can be undone
 }
mixed = { $mix }
    .lead = { $what }: { $surface }

# What figures rest on.
colour-match = { $near } (difference { $difference } ± { $doubt } by CIEDE2000, as photographed)
    .lead = Colour aimed at and reached, { $on }
colour-of-nothing = of the trial
colour-no-difference = No difference that the photograph could show
colour-so-near = { $how }
colour-between = Between “{ $least }” and “{ $most }”
figure-weight = { $mass }, from the sizes of its parts
    .lead = Weight
figure-weight-scale = { $mass }, put on a scale
    .lead = Weight
figure-weight-at-least = At least { $mass }, from the sizes of its parts; { $left ->
    [one] 1 part is
   *[other] { $left } parts are
 } left out
    .lead = Weight
sources = { $said }
    .lead = Sources
source-movement = Movement of wood: Wood Handbook, FPL-GTR-190 (2010), table 13-5; for timbers of Europe DIN 68100
source-weight = Weight, where it was not put on a scale: sizes by densities of the Wood Handbook and EN 1991-1-1:2002
source-shelves = Shelves: stiffness by the Wood Handbook and the standards of each board
source-tipping = Tipping: simple statics
source-colour = Colour: ISO/CIE 11664-6
source-finishes = Finishes, glues and how they come off: the label of the tin, or workshop practice without a printed source

# The page.
plate-reference = plate { $number }
heading-undo = how to undo it
heading-undo-lost = gone for good, or not recorded
heading-beware = before it is opened up
heading-mixes = colours, to match them again
heading-all-parts = the parts: as first made, if nothing else is said
heading-all-fixings = fixings and glues
heading-log = the work, day by day, and how it is undone
heading-causes = what may have caused it, by finding
heading-more-findings = further findings
heading-more-decisions = further decisions
heading-more-cuts = further surfaces, from the top down
heading-identity = what else is known of it
heading-reckoned = how we reckoned
heading-findings = what was found, and what became of it
heading-cuts = what lies on it today
heading-given = what goes with it
plate-laid = It is laid onto plate { $number }
plate-laid-and-lit = It is laid onto plate { $number } and shown in its light
plates-more = { $count ->
    [one] One more photograph stands
   *[other] { $count } more photographs stand
 } on the page of this record
