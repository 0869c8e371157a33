# Substances and other dangers: what the piece may hold, with its evidence.

substance = { $said }
    .lead = { $tell }
substance-not-found = { $said }
    .lead = Not found: { $name }
substance-tested = Tested: { $what }: { $result }
substance-not-tested = Not tested: { $what }
substance-test-without-result = Tested: { $what }; the result is not recorded
tested-how = { $of } ({ $how })
evidence-parts = Parts: { $parts }
evidence-fixings = Fixings: { $fixings }
evidence-timber = Timber: { $timbers }
evidence-seen = Seen: { $findings }
evidence-used = Used: { $used }
evidence-finish = Finish: { $finishes }
evidence-height-not-recorded = Its height is not recorded
timber-of-part = { $timber } ({ $part })
seen-on = { $seen } ({ $on })
used-on = { $used } ({ $on })

lead = { $said }
    .lead = { $begins }
lead-found = Lead was found in { $coats } on { $on }
lead-found-there = Lead was found on { $on }
lead-found-and-gone = Lead was found in { $coats }, since taken off { $on }; wood under it may still hold lead
lead-not-tested = { $coats } on { $on } { $count ->
    [one] was
   *[other] were
 } not tested for lead
lead-not-cleared = { $coats } on { $on } may hold lead
lead-in-clear = { $coats } on { $on } may hold lead from its driers
lead-taken-off = { $coats } { $count ->
    [one] was
   *[other] were
 } taken off { $on }, which does not prove that the wood is free of lead
lead-none = No lead was found in { $coats } on { $on }
lead-lies-under = Over it today: { $layers }
lead-test-result = { $means } { $when }: { $result }
lead-test-no-result = { $means } { $when } has no result on record
lead-test-rub = { $means } { $when } found none; that proves nothing for coats below
lead-test-unknown-means = { $means } { $when } found none; how it was made is not recorded, so it clears nothing
lead-test-not-through = { $means } { $when } found none; that it went through all coats is not recorded
lead-test-by-area = { $means } { $when } found none by area, which does not clear a varnish
lead-test-through = { $means } { $when } went through all coats and found none
means-laboratory = a laboratory test
means-rub = a rub test
means-x-ray = an X-ray test
means-not-known = a test
means-on = { $means } on { $on }
test-of-day = of { $on }
test-without-day = without a date
old-coat = the old finish
old-coat-called = the old finish “{ $name }”
old-coat-named = the old { $name }
old-coat-so-named = the { $name }
old-coat-not-recorded = what lay there before
old-coat-paint = the old paint
this-piece = this piece
