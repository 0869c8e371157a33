# How a piece is looked after. `lead` is what a line begins with and is found by.

care-on = { $said }
    .lead = What is on it
care-coats = { $coats }, the uppermost first
care-coat = { $coat }
care-bare-wood = Bare wood
care-nothing-recorded = What is on it is not recorded
care-below-not-recorded = Whether an older finish lies below is not recorded
care-not-identified = Not identified: { $coats }, so the advice is that for the most delicate finish
care-read = A test found the { $coat } to be { $says }
care-opened = The { $coat } is not whole: { $seen }

care-dust = { $text }
    .lead = Dust
care-dust-dry = Use a soft, dry cotton cloth or a soft brush
    .lead = Dust
care-dust-brush = Use a very soft, dry brush, and no cloth
    .lead = Dust

care-clean = { $text }
    .lead = Clean
care-clean-yes = Use a damp cloth with a drop of mild soap, then dry it
    .lead = Clean
care-clean-barely = Use a barely damp cloth at most, and dry the place at once
    .lead = Clean
care-clean-no = Dry only: use no water and no damp cloth
    .lead = Clean
care-clean-not = Do not clean it; ask us
    .lead = Clean

care-spill = { $said }
    .lead = Spills
care-spill-text = { $text }
care-spill-none = Wipe it up and dry the place
care-spill-low = Wipe it up at once: left standing, it may leave a mark
care-spill-high = Blot it at once and do not rub: water marks the { $coats }
care-spill-not-known = Blot it at once and do not rub: water may mark what is on it
care-spill-not-touched = Do not wipe it; ask us
care-spill-wood = Water gets through to the wood
care-ring = { $text }
    .lead = Rings

care-alcohol-low = Wipe up drinks, perfume and hand gel at once: left standing, they may leave a mark
    .lead = Alcohol
care-alcohol-high = Keep drinks, perfume and hand gel away: alcohol marks the { $coats }
    .lead = Alcohol
care-alcohol-through = Keep drinks, perfume and hand gel away: alcohol goes through the { $over } and marks the { $coats }
    .lead = Alcohol
care-alcohol-not-known = Keep drinks, perfume and hand gel away: alcohol may dissolve what is on it
    .lead = Alcohol

care-heat-low = Put a mat under anything hot
    .lead = Heat
care-heat-high = Put nothing hot on it, and nothing warm and wet without a mat: heat marks the { $coats }
    .lead = Heat
care-heat-not-known = Put nothing hot on it, and nothing warm and wet without a mat
    .lead = Heat

care-renew = { $said }
    .lead = Renew
care-renew-text = { $text }
care-renew-every = As a rule, every { $months }
care-renew-cloths = Cloths wet with it can catch fire by themselves: dry them outdoors, flat and singly
care-renew-not-identified = Put nothing on it before its finishes are known; ask us
    .lead = Renew
care-renew-lead = Do not recoat it, as that begins with rubbing down: the { $coat } may hold lead
    .lead = Renew
care-renew-marked = Put no polish, wax or oil on it: what thins them would mark the { $coat }
    .lead = Renew
care-renew-opened = Put nothing on it; where the { $coat } is worn or broken, ask a finisher
    .lead = Renew
care-renew-not-touched = Put nothing on it
    .lead = Renew

care-never = No { $things }
    .lead = Never
care-never-texts = { $said }
    .lead = Never
care-never-text = Never { $text }
agent-alkali = ammonia, washing soda or strong soap
agent-acid = vinegar or lemon
agent-hydrocarbon = white spirit or turpentine
agent-abrasion = scouring or hard rubbing
agent-light = long direct sun
agent-silicone = polish with silicone
agent-sticking = rubber or soft plastic mats
agent-sanding = sanding, scraping or burning

care-covering = { $text }
    .lead = { $name }

use-from = From { $light } it may be used gently; it is fully hard about { $full }
use-from-dry = From { $light } it may be used gently; wax does not harden after that
use-hard = Its finish is fully hard
use-waits-for = It waits for { $surface }: { $coat }, last coated { $laid }
use-not-known = No day can be given: for { $coat } on { $surface }, { $why }
use-holds-for = The days are no promise: where it still feels soft or smells, wait
use-air = { $surface } dried at { $air }, which makes a finish slower: allow more time
no-date-day = the day is not recorded
no-date-interval = the time between its coats is not recorded
no-date-times = drying times are not known
no-date-beyond = the times lead beyond the calendar
air-celsius = { $degrees } °C
air-humidity = { $percent } % relative humidity

room-said = Our figures are for a room of { $dry } to { $damp } % relative humidity at { $degrees } °C
room-assumed = Our figures assume a room of { $dry } to { $damp } % relative humidity at { $degrees } °C
room-steady = About { $low } to { $high } % suits wood; a steady room matters more than the figure
room-sun = Keep it out of direct sun, and away from radiators and stoves
room-mould = Above { $percent } % mould can grow

ask-whom = { $name }, { $contact }
ask-name = { $name }

day-light-use = From now on it may be used gently: { $surface }. { $said }
    .lead = Light use: { $surface }
day-full-cure = It should be fully hard by now: { $surface }. { $said }
    .lead = Fully hard: { $surface }
day-no-promise = Counted from the days of the coats, and no promise: where it still feels soft or smells, wait
day-renewing = A day to look whether it needs it, not a day on which it must be done. { $said }
    .lead = Look whether to renew: { $surface }
day-fixings = See that screws, hinges, handles and joints are tight, that it stands without rocking, and that whatever holds it to a wall still holds. Tighten by hand, no further than snug. Where a joint has come loose, ask before you glue it
    .lead = Look over screws, hinges and joints

# The calendar
calendar-name = Care of { $piece } ({ $number })
piece-with-number = { $piece } ({ $number })
event-heading = { $what } – { $piece }
event-text =
    { $text }
    { $piece }
    Whom to ask: { $whom }
then-every-years = { $years ->
    [one] then every year
   *[other] then every { $years } years
 }
then-every-months = { $months ->
    [one] then every month
   *[other] then every { $months } months
 }

label-finish = { $top }
label-finish-over = { $top } over { $below }
label-finish-two = { $top }, { $other }
label-finish-another = { $top }, and another
label-finish-others = { $top }, and others
label-done = { $level } { $year }
label-done-undated = { $level }
