# What stands on the papers and their pages besides what is said of the piece: headings, columns, labels.

# Every paper
page-of = Page { $page } of { $pages }

# The papers' names: in a list of them, and what each is good for
sheet-disclosure = What you are buying
sheet-care = How to look after it
sheet-build-record = Build record
sheet-papers = Papers
sheet-label = Label
label-title = Label: { $number }, { $piece }
label-leads = A code that leads to its papers: { $address }
about-disclosure = What you would rather know before than after: what is original and what is not, what was done, what was left, what is not known.
about-care = What to do with the finish that is really on each surface, and what to beware of.
about-build-record = The whole story with its photographs: found, decided, done, redone and left; and how it is undone.
printed-all = All papers in one file (PDF)
printed-sheet = { $sheet } (PDF)
printed-label-drawing = Label as a drawing (SVG)
page-of-piece = { $sheet }: { $piece }
paper-of-piece = { $sheet }: { $piece } ({ $number })

# Headings of the papers
on-this-page = On this page
heading-the-piece = The piece
heading-pairs = Before and after
heading-story = The story
heading-found = What was found
heading-decided = What was decided
heading-done = What was done
heading-plates = Plates
heading-surfaces = Its surfaces
heading-colour = Colour
heading-part-by-part = Part by part
heading-fixings-and-glues = Fixings and glues
heading-tests = Tests
heading-left = Left as it is
heading-not-known = Not known
heading-old-or-not = Original or not
heading-know-before = Know before you buy
know-order = worst first, with the place in the build record
heading-its-papers = Its papers
heading-in-short = In short
heading-comes-with-it = What comes with it
heading-whom-to-ask = Whom to ask
heading-figures = How we reckoned
ledger-corrected = Corrected
made-line = Made: { $made }.
days-in-calendar = The same days as a calendar, for a telephone or computer
to-print-and-keep = To print and to keep
care-calendar = Care calendar, for a telephone or computer: from when it may be used, and when to look after it
column-day = Day
column-what-for = What for
signed-for = For { $workshop }, place and day
received = Received and read, place and day
received-by = Received and read, { $whom }, place and day
received-on = Received and read, { $day }
received-by-on = Received and read, { $whom }, { $day }

# Columns and terms of rows
term-shown = Shown
term-undo = To undo
term-cause = Cause
term-why = Why
term-by = By
term-mends = Mends
term-redoes = Does again
term-redone-by = Done again by
term-effect = What it means
fixing-of-parts = In { $parts }
fixing-era = a kind that is { $era }
day-not-recorded = Day not recorded
layer-lies-open = This layer lies open.
local-codes = Where wiring, gas, open fire, lead, loads or fixing to a building come in, local codes decide what is allowed, and licensed trades do the work.
rests-on = Evidence: { $source }
rule-written = { $source }; written { $month }.

# Photographs and colours
plate-number = Plate { $number }
patches-on-photograph = Measured patches on the photograph
marks-on-photograph = Numbered marks on the photograph, explained below it
patch-outlined = An outlined patch: { $patch }.
mark-told = { $number }: { $kind }, { $text }.
mark-told-size = { $number }: { $kind }, { $text }, { $size }.
areas-by-eye = Areas were outlined by eye and reckoned from a known length beside them, as if the photograph looked straight at them.
before-and-after = Before and after
before-and-after-of = Before and after: { $view }
share-before-after = {"{before}"} % before, {"{after}"} % after
target-and-result = Target and result side by side: { $target }; { $result }
recipe-not-said = No step of the record says what made the colour.
recipe-over = Over it: { $coats }
# Papers of one page
more-in-record = … (more in the build record)

# How to look after it
care-warnings = Beware
care-when = When it may be used
care-from = from { $day }
care-more = More on its care
care-ask-first = In doubt, ask first.
care-say-number = Say the number { $number }.
care-codes = Fixing to walls, wiring, lead, loads: local codes decide, and licensed trades do the work.
care-years = In which years

# The build record
the-piece = The piece
the-story = The story
what-was-decided = What was decided
plates = Plates
found-short = What was found
annex-short = Annex
as-it-came = As it came, and what was found
what-was-found = What was found, and what became of it
plate-numbers = The numbers are those of the findings, the same on every plate.
the-work = The work
key-findings = Bold figures are findings.
key-failed = Crossed: it did not hold.
key-lost = Dashed: it came off again.
key-thick = Thick: what lies on it today.
key-annex = The annex tells the whole.
not-taken = Not taken:
lies-today = What lies on it today
lies-today-note = cuts through the surfaces, from the top down, not to scale; empty frames came off
annex = Annex: for whoever works on it next
more-in-annex = (more in the annex)
whole-title = Its whole title
seal-and-corrections = Seal and corrections
later-hands = Later hands
later-hands-please = please write here what you did, and with what: the next one will look for it
later-day = day
later-what = what was done, and with what
later-who = by whom
