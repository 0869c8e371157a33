# What was reckoned of the piece: how its wood moves, what its shelves carry, what it weighs, whether it tips.

# Why a figure is not given; completes a sentence.
missing-timber = its timber is not known
missing-other-timber = its timber, { $name }, is not in our table
missing-movement-of = no figures for the movement of { $name } were found
missing-density-of = how heavy { $name } is, is not known
missing-stiffness-of-timber = how stiff { $name } is, is not known
missing-board = what board it is, is not recorded
missing-other-board = its board, { $name }, is not in our table
missing-stiffness-of = no stiffness of { $name } of this thickness was found
missing-creep-of = how { $name } gives way over the years was not found
missing-material = its material is not recorded
missing-other-material = its material, { $name }, is not in our table
missing-soft = cloth, cord and leather are not reckoned
missing-build = how it is built is not recorded
missing-dimension = its { $which } is not recorded
missing-wall = it has the outline of a box, and how thick its walls are is not recorded
missing-grain = which way its grain runs is not recorded
missing-room-humidity = the room's humidity lies outside 5 to 95 %, where moisture in wood can be reckoned
missing-room-temperature = the room lies below -1 °C, where moisture in wood can no longer be reckoned
missing-room-unread = what is said of the room's air could not be read
missing-room-factor = a factor for moisture in wood is not known
missing-parts = of no part both size and material are known
missing-coverage = the parts of which size and material are known may be less than nine tenths of it
missing-outline = its outer size is not recorded
dimension-size = size
dimension-span = span
dimension-length = length
dimension-width = width
dimension-thickness = thickness
dimension-reach = reach when open

movement = { $roughly } { $amount } { $grows } in damp air than in dry air
    .lead = { $part }
    .cell-lead = { $part }
    .cell = { $roughly } { $amount } { $grows } in damp air than in dry; that is usual
movement-about = about
movement-roughly = very roughly
movement-wider = wider
movement-longer = longer
movement-higher = higher
movement-held = It wants to move by about { $amount } through the year: it may split or bow, above all in dry air
    .lead = Fixed across its grain: { $part }
movement-without = Not reckoned, as { $why }
    .lead = { $part }
movement-guide = These are guides for a whole season in the room named here, not limits; boards differ
    .cell = These are guides for a whole season; boards differ

shelf = { $said }
    .lead = { $part }: { $may }
    .cell-lead = { $part }
    .cell = at most { $load }: { $may }
shelf-any-books = a full row of any books
shelf-most-books = a full row of books, but not of large and heavy ones
shelf-average-books = a full row of average books, but not of heavy ones
shelf-half-a-row = half a row of average books spread along it, but no full row
shelf-light-things = light things, but no row of books
shelf-load = It was reckoned to bear { $load } spread evenly, or { $middle } in the middle
shelf-load-spread = It was reckoned to bear { $load } spread evenly
shelf-books = A full row of average books this long weighs about { $weight }
shelf-needs = To bear it, it would need { $ways }
shelf-needs-span = a span of { $span }
shelf-needs-thick = a board { $thick } thick
shelf-needs-lipping = a second lipping like the first along its back edge
shelf-nothing = It bears nothing: { $why }
    .lead = { $part }: put nothing on it
    .cell-lead = { $part }
    .cell = put nothing on it
shelf-not-reckoned = No load was reckoned: { $why }
    .lead = { $part }
    .cell = no load was reckoned: { $why }
shelf-own-judgement = { $load } by the workshop's own judgement. No load was reckoned: { $why }
    .lead = { $part }
    .cell = { $load } by our own judgement, not reckoned
no-load-one-end = it is held at one end alone, and there the fixing decides
no-load-stout = it is so short for its thickness that something else gives way before it sags
no-load-across-grain = its grain runs across the span, where timber is weak and splits
no-load-own-weight = with the least stiffness that such a board may have, it sags visibly in the end under its own weight alone
no-load-figures = its figures are out of the range of the formula
shelf-not-tested = A load here is reckoned from the board alone; pins, screws, joints and the carcase were not tested
    .cell = Reckoned from the boards; pins and joints were not tested
shelf-spread = Keep heavy things low, and spread them out or set them near the ends
    .cell = Heavy things low, spread out or near the ends
shelf-take-off = Take the load off when a shelf bends for all to see, or when a pin or joint moves. Nobody stands, sits or climbs on a shelf
    .cell = Take the load off when a shelf bends. Nobody climbs on it

weight-scale = It weighs { $mass }, put on a scale: { $people }
    .cell-lead = { $mass }
    .cell = { $people }
weight-reckoned = It weighs about { $mass }, reckoned from the sizes of its parts: { $people }
    .cell-lead = About { $mass }
    .cell = { $people }
weight-at-least = It weighs at least { $mass }, reckoned from the sizes of its parts; { $left ->
    [one] 1 part is
   *[other] { $left } parts are
 } left out: { $people }
    .cell-lead = At least { $mass }
    .cell = { $people } (reckoned, { $left ->
        [one] 1 part
       *[other] { $left } parts
    } left out)
weight-emptied = Take out first: { $parts }. What is left weighs { $mass }: { $people }
    .cell-lead = { $mass }
    .cell = without { $parts }: { $people }
weight-not-given = Its weight is not given: { $why }
    .cell = Its weight is not given: { $why }
people = { $count ->
    [one] one person lifts it
    [2] two people lift it
    [3] three people lift it
   *[other] { $count } people lift it
 }
people-by-figure = { $men ->
    [one] one person
    [2] two people
   *[other] three people
 } by workplace guidance's figure for men, { $women ->
    [2] two
   *[other] three
 } by its figure for women
    .cell = { $women ->
    [2] two
   *[other] three
 } people who are used to lifting
people-by-one-figure = { $men ->
    [one] one person
    [2] two people
   *[other] three people
 } by workplace guidance's figure for men; by its figure for women no team is large enough: make it lighter, use aids, or ask people who move furniture for a living
    .cell = more than three people, or aids
people-beyond = more than workplace guidance expects of three people: make it lighter, use aids, or ask people who move furniture for a living
    .cell = more than three people, or aids
lift-guide = That is for an easy grip close to the body and no steps; stairs, corners and a bad back ask for more people or for aids
    .cell = On stairs and round corners it may take more
lift-by-what-is-sound = Empty it first. Lift it by what is sound and fixed, and never drag it
    .cell = Empty it first. Lift it by what is sound and fixed; never drag it
lift-by-what-is-sound-alone = Lift it by what is sound and fixed, and never drag it
    .cell = Lift it by what is sound and fixed; never drag it
lift-movement = Stop the clock, and take off its weights and pendulum first, where it has them

anchor-shallow = It is { $height } high and only { $depth } deep
    .lead = { $holds ->
    [1] Anchor it to the wall before it is filled
   *[other] Anchor it to the wall
 }
anchor-high = It is { $height } high
    .lead = { $holds ->
    [1] Anchor it to the wall before it is filled
   *[other] Anchor it to the wall
 }
anchor-screen = Furniture that carries a screen is anchored at any height
    .lead = Anchor it to the wall
anchor =
    .lead = { $holds ->
    [1] Anchor it to the wall before it is filled
   *[other] Anchor it to the wall
 }
anchor-low = It is low; in a home with young children consider an anchor to the wall all the same
anchor-size-not-recorded = How high and deep it is was not recorded: if it is tall for its depth, anchor it to the wall
tip-pull = Closed and empty, a forward pull like the weight of { $pull } at its top edge was reckoned to begin to tip it
    .cell = Closed and empty, a pull like the weight of { $pull } at its top edge begins to tip it (reckoned)
tip-pull-least = Closed and empty, a forward pull of less than the weight of { $least } at its top edge was reckoned to begin to tip it
    .cell = Closed and empty, a pull of less than { $least } at its top edge begins to tip it (reckoned)
tip-open = open by { $by }
tip-one-open = one of them open by { $by }
tip-empty-and-child = { $open } and empty, it { $empty }; with a young child's weight on its outer edge it { $child }
    .lead = { $part }
tip-empty = { $open } and empty, it { $empty }
    .lead = { $part }
tip-child = { $open }, with a young child's weight on its outer edge, the piece { $child }
    .lead = { $part }
tip-all-open = With all of them open and empty, the piece { $comes }
tips-over = tips over
tips-nearly = is near tipping
tip-part-not-reckoned = Not reckoned, as { $why }
    .lead = { $part }
tip-not-reckoned = What it takes to tip it was not reckoned: { $why }
tip-left-out = { $left ->
    [one] 1 part is
   *[other] { $left } parts are
 } left out of its weight, so the true figures differ
tip-limits-not-reckoned = A child that climbs or pulls can tip it. Nothing was tested to any standard, and no conformity is claimed; heed local rules
tip-limits = This is simple statics, on a hard, level floor. A child that climbs or pulls can tip it whatever stands here. Nothing was tested to any standard, and no conformity is claimed; heed local rules
