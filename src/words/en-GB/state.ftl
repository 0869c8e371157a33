# What was found, tested, left, and is not known.

test = { $result }
    .lead = { $of }
test-how = { $result } ({ $how })
    .lead = { $of }
test-by = by { $means }
test-result = { $result }
test-not-made = Not tested
test-without-result = The result was not recorded

finding = { $said }
    .lead = { $seen }
finding-cause = Perhaps: { $guess } ({ $confidence })
finding-mended-in-part = Mended in part, and in part left: { $did }
finding-mended-partly = Mended only in part: { $did }
finding-not-mended = Tried, and it did not hold: { $did }
finding-not-said = What became of it is not recorded

undone-left = { $why }
    .lead = { $what }
undone-left-with = { $why }. In use: { $effect }
    .lead = { $what }
open-before = { $what } (before { $before })

verdict-nothing-left = Nothing is recorded as left unmended
verdict-left = { $count ->
    [one] 1 thing was
   *[other] { $count } things were
 } left unmended, and said why
verdict-findings = Of { $count ->
    [one] 1 finding
   *[other] { $count } findings
 } it is not recorded what became
verdict-untested = { $count ->
    [one] 1 test was
   *[other] { $count } tests were
 } not made

unknown-made = When it was made is not known
    .short = when it was made
unknown-maker = Who made it is not known
    .short = who made it
unknown-standing = Whether these parts are original is not known: { $parts }
    .short = whether these are original: { $parts }
unknown-timber = The timber of these parts is not known: { $parts }
    .short = the timber of { $parts }
unknown-fixing = Whether these fixings are original is not known: { $fixings }
    .short = whether these are original: { $fixings }
unknown-finish = The old finish on { $on } was not identified
    .short = what the old finish on { $on } is
unknown-finish-removed = The old finish taken off { $on } was not identified
    .short = what the old finish taken off { $on } was
unknown-coat = What “{ $name }” on { $on } is, is not known here
    .short = what “{ $name }” on { $on } is
