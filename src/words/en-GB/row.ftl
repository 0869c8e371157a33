# Rows of the papers: parts, fixings, findings, work, tests, surfaces with their layers and steps.

# What a standing means, beside its count
meaning-original = as first made, as far as is known
meaning-old-repair = repaired or replaced long ago, date not known
meaning-later = added or changed after making, before this workshop
meaning-salvaged = an old part from elsewhere, fitted by this workshop
meaning-new = made or bought new by this workshop
meaning-removed = taken away by this workshop
meaning-missing = absent when found, and not replaced
meaning-unknown = it cannot be told

# A part
build-timber = { $build } { $timber }
part-veneer-of = veneer { $timber }
part-on-ground = on { $ground }
size-across = { $size } across
lipped = lipped with { $timber }
lipped-at-both = lipped with { $timber } at front and back
kept-from-stock = Made from the workshop's stock: { $what }
kept-from-stock-of = Made from the workshop's stock: { $what } ({ $origin })
how-known = How it is known: { $known }
since = Since { $years }
in-place-of = In place of { $old }
part-to-undo = To undo: { $undo }
made-not-known = not known

# A fixing
era-traditional = traditional
era-modern = modern
era-either = old or modern

# A finding
settled-gone = it went with its part, which was taken away
settled-mended = mended
settled-partly-left = mended in part, and in part left
settled-partly = mended only in part
settled-failed = tried, and it did not hold
settled-left = left: { $why }
settled-nothing-to-mend = nothing to mend
settled-not-said = what became of it is not recorded
cause = { $guess } ({ $sure })

# A test
result-not-recorded = not recorded

# Work
undoable-yes = can be undone
undoable-partly = can be undone in part
undoable-no = cannot be undone
undoable-unknown = whether it can be undone is not known
undo-how = { $can }: { $how }

# Where a layer lies
lies-in-wood = in the wood
lies-thin-film = a thin film
lies-film = a film
lies-colour = colour
lies-preparation = preparation
lies-surface = the bare material
lies-unknown = where it lies is not known

# A surface, its layers and its steps
surface-unnamed = Surface of which no part is named
coat-laid-on = { $coat }, laid on { $day }
ground-wood = Wood
drawing-of-layers = The layers on { $surface }
layers-from-the-top = A cut through the layers, not to scale. From the top down: { $layers }.
layer-lies = { $name } ({ $lies })
layer-lies-but = { $name } ({ $lies }; { $exception })
layer-in-places = { $name }, in places
step-clean = Cleaned with { $with }
step-test = Tested ({ $of }): { $result }
step-test-no-result = Tested ({ $of }): the result was not recorded
step-test-not-made = { $of }: not tested
step-remove = Removed { $what }
step-abrade = Abraded with { $grits }
step-abrade-then = { $grit }, then { $next }
step-apply = Applied { $what }
step-unknown = Not recorded
step-by = { $step }, by { $by }
step-only = { $step }, only on { $parts }
step-why = { $step }: { $why }
removal-all = everything down to the wood
coat-mixed = { $coat } ({ $mix })
mix-parts = { $count ->
    [one] { $figure } part { $of }
   *[other] { $figure } parts { $of }
 }
coats-laid = { $coat }, { $coats } coats
coats-apart = { $count ->
    [one] { $coat }, { $figure } hour apart
   *[other] { $coat }, { $figure } hours apart
 }
coats-abraded-between = { $coat }, abraded with { $grit } between coats

# What can be undone

# What papers lack because it could not be read
lacking = Incomplete: part of the record could not be read. Left out, wholly or in part: { $rows }.
lacks-part = { $count ->
    [one] { $count } part
   *[other] { $count } parts
 }
lacks-patch = { $count ->
    [one] { $count } patch
   *[other] { $count } patches
 }
lacks-fixing = { $count ->
    [one] { $count } fixing
   *[other] { $count } fixings
 }
lacks-finding = { $count ->
    [one] { $count } finding
   *[other] { $count } findings
 }
lacks-decision = { $count ->
    [one] { $count } decision
   *[other] { $count } decisions
 }
lacks-work = { $count ->
    [one] { $count } piece of work
   *[other] { $count } pieces of work
 }
lacks-surface = { $count ->
    [one] { $count } surface
   *[other] { $count } surfaces
 }
lacks-test = { $count ->
    [one] { $count } test
   *[other] { $count } tests
 }
lacks-undone = { $count ->
    [one] { $count } thing left undone
   *[other] { $count } things left undone
 }
lacks-open = { $count ->
    [one] { $count } open question
   *[other] { $count } open questions
 }
lacks-pair = { $count ->
    [one] { $count } pair of photographs
   *[other] { $count } pairs of photographs
 }
lacks-swatch = { $count ->
    [one] { $count } colour match
   *[other] { $count } colour matches
 }
lacks-amendment = { $count ->
    [one] { $count } reason for a change
   *[other] { $count } reasons for a change
 }
