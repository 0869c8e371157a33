# Headings of the papers.

ledger-further = know as well
ledger-finish = finish today
ledger-lost = finish lost
ledger-patches = patches and losses
ledger-fixings = fixings, not original
ledger-tests = tests made
ledger-not-tested = not tested
ledger-left = known faults
ledger-open = still open
ledger-unknown = not known
ledger-given = comes with it
ledger-more = and { $count } more in the build record
place-finding = finding { $numbers }
place-test = test of { $on }
heading-know = know before you buy
heading-piece = the piece
heading-level = how far the work went
heading-parts = what is old, and what is not
heading-patches = patches and losses
heading-undone = left unmended, and why
heading-decisions = what was decided
heading-unknown = not known
heading-cautions = beware
heading-use-from = when it may be used
heading-face = { $faces }
heading-moving = moving it
heading-room = the room
heading-ask = whom to ask
heading-days = care days
heading-stability = could it tip over?
heading-movement = how the wood moves
heading-shelves = what the shelves carry
heading-weight = its weight
heading-label = on its label

heading-card = how to look after it
heading-in-use = in use
heading-others = other surfaces
heading-care-of = care of { $faces }
heading-putting-up = putting it up
heading-putting-up-and-moving = putting it up, moving it
card-more = and { $count } more in the build record
card-more-on = more on { $count ->
    [one] one of these
   *[other] { $count } of these
 } in the build record
card-more-both = and { $count } more, and more on { $cut } of these, in the build record
card-days-more = and { $count } more in the care calendar
