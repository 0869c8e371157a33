# What stands in the archive alone.

archive-of = Archive of { $workshop }

# A source of which some was recalled and not read
cited-from-memory = { $source } (in part from memory)

# A piece's completeness
told-of = { $told } of { $all }
share-percent = { $figure } %
completeness-how = the weights of the lines that are told, over the weights of all; rounded down. The weights are our own choice, not a standard's

# What a coat took out of its tin
coverage-assumption = Areas are those of the show faces unless the surface says `faces = 2`; the low figure leaves the edges out, the high one takes them all. First coats on bare wood soak in and have no reliable figure, so that they take more.
coverage-laid = { $count ->
    [one] { $coat }, { $count } coat
   *[other] { $coat }, { $count } coats
 }
coverage-no-content = The tin's content is not recorded
coverage-no-price = The tin's price is not recorded
coverage-no-parts = Its parts are not recorded
coverage-no-size = The size of { $parts } is not recorded
coverage-no-tin = No tin is named for it, and a family has no one figure
coverage-no-rate = The tin's entry says neither `covers`, nor `solids` with a dry film
coverage-nothing-solids = The share of solids cannot be nothing, nor without measure
coverage-nothing-dry-film = A dry film cannot be nothing, nor without measure
coverage-nothing-rate = What a litre covers cannot be nothing, nor without measure
coverage-nothing-area = Its area cannot be nothing, nor without measure
coverage-all-lost = A loss of everything leaves nothing to cover with
coverage-figure = { $laid }: { $litres }
coverage-how = { $count ->
    [one] { $count } coat on { $area } at { $rate }
   *[other] { $count } coats on { $area } at { $rate }
 }
coverage-how-lost = { $how }, with { $lost } lost in the tool
coverage-by-label = { $covers } by the tin's label
coverage-by-film = { $covers } from { $solids } % solids and { $film } of dry film
coverage-source = litres = coats x area / ((1 - loss) x rate): common practice, no source
coverage-from-label = the tin's label
unit-m2 = { $figure } m²
unit-ml = { $figure } ml
unit-l = { $figure } l
unit-um = { $figure } µm
unit-gpa = { $figure } GPa
unit-m2-per-litre = { $figure } m² to a litre

# What only the workshop knows of a piece
private-found-on = Came on
private-found-from = Came from
private-note = Note
private-asked = Asked
private-reserved-on = Reserved on
private-reserved-for = Reserved for
private-paid-down = Paid down
private-went-on = Went on
private-went-to = Went to
private-price = For
private-language = Language of its papers
private-came-back = Came back on
private-call-back = Call back
call-back-due = { $what }, on { $day }
call-back-done = { $what }; done on { $day }

# The front page
total-pieces = Pieces
total-hours = Hours
total-spent = Spent
papers-from-before = papers from before { $day }
state-on = { $state }, { $day }
state-open-questions = open questions
state-as-found = as found

# The ledger
account-by-estimate = { $hours }, by estimate
account-of-set = What the { $count } pieces of its set share is divided between them: hours, costs and what was paid.
account-rounding = Sums are kept exact and rounded only here, so that a penny may seem to be missing.
account-piece = The piece itself
account-of-tin-at = { $share } of the tin “{ $tin }” at { $price }
account-of-tin = { $share } of the tin “{ $tin }”
account-stock-shared = from stock at { $paid }, shared alike by { $pieces } pieces
account-stock = from stock, used by this piece alone
account-after = after it had left, { $day }
account-refunded = paid back, { $day }
account-spent = Spent
account-at-least = at least { $amount }
account-some-unknown = some of it is not known
account-overhead = Overhead
account-overhead-hour = { $amount } for each hour
account-overhead-share = { $share } of what was spent
account-price-asked = Price asked
account-price = Price
account-break-even = Break-even price
account-break-even-unpaid = Break-even price, hours unpaid
account-break-even-how = what was paid, materials and overhead; no wage in it
account-at-rate = Hours at the workshop's rate
account-at-rate-how = { $hours } at { $rate } an hour
account-with-wage = Price that pays the hours as well
account-with-wage-how = the break-even price, and every hour at the workshop's rate
account-margin = Left for the hours
account-margin-how = the price less the break-even price
account-margin-share = { $share } of the price
account-earned = Earned per hour
account-earned-how = what is left for the hours, over all hours
account-as-rate = the same as the rate of { $rate }
account-below-rate = { $amount } below the rate of { $rate }
account-above-rate = { $amount } above the rate of { $rate }
account-not-known = not known
account-loss = It brings in { $amount } less than it cost.
account-left = It left { $amount }, which is { $hour } an hour.
account-leaves = At the price asked it leaves { $amount }, which is { $hour } an hour.
account-leaves-hours-unknown = It leaves { $amount }; what that is an hour is not known.
account-earns-unknown = What it earns is not known, since something above is missing.
account-source = this workshop's own figures; common practice, no source
account-as-jotted = as jotted
account-after-sale = after it had left
account-other-work = other work
gap-paid = what was paid for the piece is not recorded; 0 says that it cost nothing
gap-amount = the cost of { $what } has neither an amount nor a share of a tin
gap-tin = workshop.toml has no tin “{ $tin }”
gap-tin-price = the tin “{ $tin }” has no price in workshop.toml
gap-stock = stock.toml has no “{ $stock }”
gap-stock-paid = what was paid for the stock “{ $stock }” is not recorded in stock.toml
gap-hours = no hours are recorded
gap-rate = workshop.toml has no “hourly-rate”
gap-price = no price is recorded

# How figures were reckoned
reckoned-load = Load: { $part }
reckoned-movement = Movement: { $part }
reckoned-room = The room's air
reckoned-weight = Weight
reckoned-tipping = Tipping
lifting-how = size times density of each part: { $parts }
lifting-how-turned = size times density of each part: { $parts }; a turned part is taken to fill 70 to 100 % of its round, our own estimate
figured-of = { $of } ({ $how })
figure-of-any = it may be any of { $count } timbers, from { $least } to { $most }
density-from-table = density from the table
density-from-dry = specific gravity { $gravity }, with { $water }, and { $percent } % either way
density-from-green = specific gravity { $gravity } on the green volume, reckoned to that at 12 %, with { $water }, and { $percent } % either way
water-of-room = the water it holds in the room
water-as-tested = 12 % of water
stiffness-of-board = { $board }, { $figure }
stiffness-of-board-along = { $board }, { $figure }, face grain along the span
stiffness-of-board-across = { $board }, { $figure }, face grain taken as across the span
panel-figure-minimum = the least that such a board must reach
panel-figure-typical = typical figure
stiffness-of-clear-wood = clear wood at 12 %, { $mean } GPa on average, less { $percent } %, as one piece in twenty is no stiffer
lifting-alone = { $mass } alone
lifting-figure-how = for { $whom }, hands at knuckle height, load close to the body; a filter, no limit, for the heavy end of the weight
lifting-team = two thirds and a half
lifting-team-how = of the sum of what each lifts alone, for two and for three people; none is given for four
movement-of-any = { $timber }, which may be any of { $timbers }
movement-by-stand-in = { $timber }, for which the figures of { $timbers } stand in
sawn-flat-sawn = flat-sawn
sawn-quarter-sawn = quarter-sawn
sawn-unknown = sawn not known, so both ways were reckoned
movement-along-rings = along the rings { $factor }
movement-along-rays = along the rays { $factor }
movement-factor = { $figure } for 1 %
movement-how = { $width } of { $timber }, { $sawn }; from { $dry } to { $damp } % moisture: { $figures }
movement-outside = { $source }: outside 6 to 14 % moisture neither is sure, and the range goes from the one to the other
moisture-figure = { $dry } to { $damp } % moisture in the wood
moisture-how = what wood settles at in air of { $dry } and { $damp } % at { $degrees }, { $assumed }, by the equation of Hailwood and Horrobin; measured timbers stray from it by up to 1.7 %
moisture-as-said = as the workshop says
moisture-humidity-said = humidity as the workshop says, temperature our own choice
moisture-own-choice = our own choice of a heated home
shelf-no-load = no load
shelf-rule-board = 5/384 of load times span cubed over stiffness
shelf-rule-board-source = Wood Handbook, FPL-GTR-190 (2010), table 9-1 (from memory), checked by integrating moment over stiffness
shelf-rule-lipped = a plate that rests at its ends, with a beam along each lipped edge, where it sags most from front to back
shelf-rule-lipped-source = the theory of orthotropic plates, by Ritz's method; checked against the same with many more terms
shelf-ends-fixed = ends said to be fixed, reckoned as resting
shelf-ends-resting = ends resting
shelf-ends-unknown = how its ends are held was not recorded; reckoned as resting
shelf-how = between supports, { $ends }; { $board }, { $thick } thick and { $deep } deep
shelf-how-lipped = { $how }, lipped with { $timber }
shelf-how-lipped-both = { $how }, lipped with { $timber } at front and back
shelf-from-record = the record
shelf-load-how = the spread load that bends it to the limit in the end: { $rule }, less its own weight, which alone bends it { $sag }; { $load } before rounding down
shelf-if-fixed-how = what the board would bear only if its ends indeed cannot turn; not promised
shelf-usual-most-how = the heaviest usual load of such a span, art books and magazines; beyond it nothing is promised
shelf-limit-how = a { $part }th of the span, for the sag after years
shelf-limit-source = { $source }, from the sag that goes unnoticed: { $eye }
shelf-own-choice = our own choice
shelf-stiffness-how = stiffness of { $of }: { $how }; the low end was used
shelf-creep-how = how much further { $material } bends over the years in a heated home
shelf-creep-stand-in = { $how }. { $instead }
stability-not-even = not even { $mass }
stability-about = about { $mass }
stability-feet-in = its front feet stand { $back } in
stability-feet-at-outline = its feet taken to stand at its outline
stability-weighed = { $mass } put on a scale
stability-reckoned = { $mass } reckoned from its parts, the light end used
stability-how = the weight of the piece, { $mass }, times how far its middle lies behind its front feet over its height; { $feet } and its centre taken to lie in the middle of its depth
stability-source = statics; our own choice of what to reckon
stability-open-figure = { $tips } against { $holds } N m
stability-open-how = turning about the front feet, { $part } open: itself, with its middle half as far out as it reaches, and { $child } on its edge, against the rest of the piece; what is open weighs the heavy end of its range, and so much less is left of the piece
stability-open-source = statics; { $source }
stability-anchor-how = the height at which American and Australian rules for new furniture start; they do not bind this piece

# Its pages
workshop-alone = For the workshop alone.
archive-lessons = Lessons
archive-empty = No piece is recorded yet.
archive-notes = Notes
archive-folder = Folder
archive-ledger = Ledger
buyers-papers = Buyer’s papers
table-of-pieces = Table of pieces
for-the-workshop = For the workshop
sheets-for-the-buyer = Papers for the buyer
at-the-bench = At the bench
what-coats-took = What coats took
how-it-was-reckoned = How it was reckoned
what-is-told = What is told
still-open = Still open
still-planned = Planned
planned-steps = { $surface }: { $count ->
    [one] one step
   *[other] { $count } steps
}
steps-and-rework = Step by step, rework included
checklist-by-heading = Checklist, by heading
share-of-checklist = { $share } of the checklist.
lesson-for = For { $kinds }.
column-piece = Piece
column-recipe = Recipe
column-hours = Hours
column-spent = Spent
column-state = State
column-timber = Timber
column-task = Task
column-time = Time
column-share = Share
row-together = Together
column-for = For
column-amount = Amount
column-laid = Laid
column-area = Area
column-litres = Litres
column-of-tin = Of the tin
column-cost = Cost
column-heading = Heading
column-told = Told
filter-words = Words
filter-all = all
filter-shown = {"{count}"} of {"{all}"} shown

# The search of the front page; a script puts the numbers in.
search-title = Search
search-label = Words in any piece: its record, its story, its costs and notes
search-none = No piece has all of that. Fewer letters find more.
search-one = One piece has all of that.
search-many = { $pieces } pieces have all of that.
search-above = At least { $pieces } pieces have all of that.
search-first = The first { $shown } are shown; one more word finds fewer.
search-more = and { $lines } more lines

# The build record in it
on-parts = On { $parts }
taken-off-later = Taken off again later.

# The day book as its maker wrote it.
day-book = Day book
day-book-caption = As it was jotted
day-book-line = Line
day-book-day = Day
day-book-time = Time
day-book-private = For the archive alone.
day-book-entered = Entered as { $rows }.
day-book-gone = Rows from lines that are no longer there

# Receipts
receipts-heading = Receipts
receipts-link = to print, with a delivery note
receipts-of = Receipts of { $piece }
receipts-about = For whoever paid and for the workshop: print the one that is asked for. Nothing here is in the showroom or among the buyer's papers.
receipts-printed = All of them as a file to print
receipt-title = Receipt { $number }
receipt-day = Day
receipt-from = From
receipt-piece = For
receipt-piece-of = { $piece } ({ $number })
receipt-what = Payment
receipt-amount = Amount
receipt-amount-by = { $amount }, { $by }
receipt-price = Price
receipt-paid = Paid so far
receipt-left = Left to pay
receipt-above = Paid above the price
receipt-terms = Terms of the workshop
receipt-signed = Signed for the workshop
payment-deposit = deposit
payment-balance = balance
payment-full = paid in full
payment-refund = paid back
delivery-title = Delivery note
delivery-to = To
delivery-given = With it come
delivery-signed = Received on the day above, signed

# What happened after a piece had left
after-heading = After it had left
after-caption = What its owner said, and what the workshop did
after-what = What
after-took = Time and money
after-finding = finding { $number }
after-refunded = { $amount } paid back
aftermath-call = call
aftermath-advice = advice
aftermath-complaint = complaint
aftermath-visit = visit
aftermath-repair = repair
aftermath-return = came back

# Its pages across all pieces.
archive-nav = Pages of the archive
nav-archive = Archive
nav-recipes = Recipes
nav-times = Times
nav-faults = Faults and cures
nav-stock = Stock
nav-year = Year
show-more = Show { $count } more
filter-kind = kind
filter-year = year
filter-finish = finish
filter-label = Narrow the list
kinds-all = all kinds

# What waits
due-heading = What needs doing
due-nothing = Nothing waits.
waits-open = Open jobs
waits-call-back = Call-backs
waits-reserved = Kept for somebody
waits-to-be-collected = Sold, to be collected
waits-curing = Hardening
waits-renewal = For the owner to look at
waits-day-book = In the day book, and not entered
waits-unsold = Unsold for more than { $days } days
waits-before = { $what } (before { $before })
waits-kept = Kept for { $who }
waits-collected = To be collected by { $who }
waits-somebody = somebody
waits-asked = Asked: { $amount }
waits-since = due since { $day }
waits-on = { $day }
waits-of = of { $day }
waits-until = until { $day }
waits-for-sale = since { $day }, { $days } days
looked-at-light-use = it may be used lightly
looked-at-full-cure = it is fully hard
looked-at-renewing = the finish may want renewing
looked-at-fixings = screws, hinges and joints
looked-at-surface = { $surface }: { $task }

# The front
recent-heading = Recent pieces
recent-count = The last worked on comes first.
pieces-heading = All pieces
pieces-how = What you write down of a piece fills recipes, times, faults, stock and the year. `witnessmark intake` opens a folder for one.
column-timber-and-finish = Timber and finish
column-an-hour = An hour
open-things = { $count ->
    [one] 1 open job
   *[other] { $count } open jobs
 }
failed-works = { $count ->
    [one] 1 failed attempt
   *[other] { $count } failed attempts
 }
lessons-count = { $count ->
    [one] 1, with the piece that taught it
   *[other] { $count }, of the newest piece first
 }

# Recipes
recipes-about = What lay on which timber, in which order, and how it came out. A measured colour is shown as it was photographed; of a mix that nobody measured no colour is claimed.
recipes-count = { $recipes ->
    [one] 1 recipe, { $measured } measured
   *[other] { $recipes } recipes, { $measured } measured
 }
recipes-none = No colour was measured and no mix recorded yet. A `swatch` of a record, or a step with a `mix`, comes to stand here.
recipe-timber-unknown = timber not recorded
recipe-no-card = There was no grey card, so it may be off by the light of the photograph.
recipe-not-measured = Not measured
recipe-undone = It was taken off again.
recipe-nothing = Nothing that colours: the wood and its old finish.
recipe-mixed = { $what }: { $mix }
recipe-coats = { $count } coats
recipe-atop = Over it
recipe-pair = Target and result side by side
recipe-on = On { $surface }

# Times
times-about = Hours on each task over all pieces. The hours that one piece took for a task count as one figure; for the next price, read the middle.
times-count = { $pieces ->
    [one] { $hours } on 1 piece
   *[other] { $hours } on { $pieces } pieces
 }
times-none = No work with hours is recorded yet.
times-by-task = By task
times-whole = Whole pieces
times-middle = Middle
times-half = Middle half
times-range = Least to most
times-pieces = Pieces
times-works = The works behind it
times-no-hours = no hours
times-failed = Attempts that failed took { $hours } of it.
times-without-hours = { $works ->
    [one] 1 work has no hours and counts for none.
   *[other] { $works } works have no hours and count for none.
 }
spread-one = one piece
spread-middle = { $middle }, mostly { $range }
ended-well = turned out well
ended-partly = turned out in part
ended-failed = failed
ended-again = done again
ended-unsaid = not said how it turned out
hours-shared = { $hours }, with other faults

# Faults and cures
faults-about = What was found, what was done about it, how it turned out, and how long it took.
faults-count = { $kinds ->
    [one] 1 fault, { $times } times
   *[other] { $kinds } faults, { $times } times
 }
faults-none = Nothing was found on any piece yet.
faults-by-kind = By fault
fault-mending = Mending one
fault-nothing = What was done is not recorded.
upshot-count = { $word } { $count }
upshot-held = mended
upshot-partly = mended in part
upshot-failed = mending failed
upshot-left = left
upshot-unsaid = nothing recorded

# Stock
stock-about = What is left by what is recorded and reckoned, and into which pieces the rest went.
stock-tins = Tins
stock-items = Timber, board and fittings
stock-none = stock.toml has no item yet.
tins-none = workshop.toml has no tin yet.
stock-unused = No piece used it yet.
stock-of-unit = { $figure } { $unit }
stock-level = What is left, of the whole
left-litres = { $litres } l left
left-share = { $share } % left
left-more-than-one = More than one tin was used: { $tins }
left-not-known-tin = What is left is not known: of some coats neither a share of the tin nor an area is recorded.
left-of = { $left } left
left-at-most = at most { $left } left: how much some part took is not recorded
left-below-nothing = More was used than there was: { $used }
left-not-known = What is left is not known: stock.toml does not say how much there was.

# The year
years-all = All years
year-about = What came in, what went out, and what the hours earned.
year-choose = Years
year-taken = Taken
year-taken-of = { $pieces ->
    [one] { $amount }, for 1 piece
   *[other] { $amount }, for { $pieces } pieces
 }
year-earned = Earned per hour
year-earned-of = { $pieces ->
    [one] { $amount }, by 1 piece that left
   *[other] { $amount }, by { $pieces } pieces that left
 }
year-unsold = Still here
year-unsold-of = { $spent } spent on it, { $asked } asked
year-by-month = By month
year-by-year = By year
year-by-kind = By kind
year-by-piece = By piece
year-still-here = Still here today
year-nothing = Nothing was taken or spent.
year-drawing = Taken above the line, spent below it; the same figures are in the table
column-month = Month
column-year = Year
column-kind = Kind
column-left = Left
column-asked = Asked
gaps-price = { $count ->
    [one] Of 1 piece that left the price is not recorded.
   *[other] Of { $count } pieces that left the price is not recorded.
 }
gaps-amount = { $count ->
    [one] 1 cost is not known.
   *[other] { $count } costs are not known.
 }
gaps-undated = { $count ->
    [one] 1 amount has no day of its own and counts on the day of the piece’s last work.
   *[other] { $count } amounts have no day of their own and count on the day of the piece’s last work.
 }
gaps-dayless = { $count ->
    [one] 1 amount counts nowhere, since its piece has no day at all.
   *[other] { $count } amounts count nowhere, since their pieces have no day at all.
 }
