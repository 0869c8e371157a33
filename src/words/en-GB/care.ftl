# How a piece is looked after. `lead` is what a line begins with and is found by, `cell` what stands in a table or on a card.

care-on = { $said }
    .lead = What is on it
    .cell = { $brief }
care-stack = { $top } over { $below }
coat-not-recorded = what was not recorded
care-coats = { $coats }, the uppermost first
care-coat = { $coat }
# Of a layer that was found, where the same was laid over it.
coat-as-found = { $coat } as found
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
    .cell = Soft, dry cloth or brush
care-dust-brush = Use a very soft, dry brush, and no cloth
    .lead = Dust
    .cell = Very soft, dry brush; no cloth

care-clean = { $text }
    .lead = Clean
    .cell = { $brief }
care-clean-yes = Use a damp cloth with a drop of mild soap, then dry it
    .lead = Clean
    .cell = Damp cloth with a drop of mild soap; then dry
care-clean-barely = Use a barely damp cloth at most, and dry the place at once
    .lead = Clean
    .cell = Barely damp cloth at most; dry at once
care-clean-no = Dry only: use no water and no damp cloth
    .lead = Clean
    .cell = Dry cloth only, no water
care-clean-not = Do not clean it; ask us
    .lead = Clean

care-spill = { $said }
    .lead = Spills
    .cell = { $said }
care-spill-text = { $text }
care-spill-none = Wipe it up and dry the place
care-spill-low = Wipe it up at once: left standing, it may leave a mark
    .cell = Wipe up at once, and dry
care-spill-high = Blot it at once and do not rub: water marks the { $coats }
    .cell = Blot at once, do not rub
care-spill-not-known = Blot it at once and do not rub: water may mark what is on it
    .cell = Blot at once, do not rub
care-spill-not-touched = Do not wipe it; ask us
care-spill-wood = Water gets through to the wood
    .cell = { "" }
care-ring = { $text }
    .lead = Rings

care-alcohol-low = Wipe up drinks, perfume and hand gel at once: left standing, they may leave a mark
    .lead = Alcohol
    .cell = { "" }
care-alcohol-high = Keep drinks, perfume and hand gel away: alcohol marks the { $coats }
    .lead = Alcohol
    .cell = alcohol, perfume, hand gel
care-alcohol-through = Keep drinks, perfume and hand gel away: alcohol goes through the { $over } and marks the { $coats }
    .lead = Alcohol
    .cell = alcohol, perfume, hand gel
care-alcohol-not-known = Keep drinks, perfume and hand gel away: alcohol may dissolve what is on it
    .lead = Alcohol
    .cell = alcohol, perfume, hand gel

care-heat-low = Put a mat under anything hot
    .lead = Heat
care-heat-high = Put nothing hot on it, and nothing warm and wet without a mat: heat marks the { $coats }
    .lead = Heat
    .cell = Nothing hot; a mat under what is warm or wet
care-heat-not-known = Put nothing hot on it, and nothing warm and wet without a mat
    .lead = Heat
    .cell = Nothing hot; a mat under what is warm or wet

care-renew = { $said }
    .lead = Renew
    .cell = { $brief }
care-renew-text = { $text }
care-renew-every = As a rule, every { $months }
care-renew-about = { $text } ({ $months })
care-renew-cloths = Cloths wet with it can catch fire by themselves: dry them outdoors, flat and singly
care-no-surface = Its finish is not recorded: dust it with a soft, dry cloth, and ask before you put anything on it
care-renew-not-identified = Put nothing on it before its finishes are known; ask us
    .lead = Renew
    .cell = Put nothing on it; ask us
care-renew-lead = Do not recoat it, as that begins with rubbing down: { $coat } may hold lead
    .lead = Renew
    .cell = Do not recoat it: { $coat } may hold lead
care-renew-marked = Put no polish, wax or oil on it: what thins them would mark the { $coat }
    .lead = Renew
    .cell = No polish, wax or oil: it would mark the { $coat }
care-renew-opened = Put nothing on it; where the { $coat } is worn or broken, ask a finisher
    .lead = Renew
    .cell = Put nothing on it; where it is worn, ask a finisher
care-renew-not-touched = Put nothing on it
    .lead = Renew

care-never = No { $things }
    .lead = Never
    .cell = { $things }
care-never-texts = { $said }
    .lead = Never
care-never-text = Never { $text }
agent-alkali = ammonia, washing soda or strong soap
    .cell = ammonia, strong soap
agent-acid = vinegar or lemon
    .cell = vinegar
agent-hydrocarbon = white spirit or turpentine
    .cell = white spirit
agent-abrasion = scouring or hard rubbing
    .cell = scouring
agent-light = long direct sun
    .cell = direct sun
agent-silicone = polish with silicone
    .cell = silicone polish
agent-sticking = rubber or soft plastic mats
    .cell = rubber mats
agent-sanding = sanding, scraping or burning
    .cell = sanding, scraping, burning

care-covering = { $text }
    .lead = { $name }

in-use = { $effect }
    .lead = { $what }

care-material = { $said }
    .lead = { $material }
    .cell = { $brief }
material-textile = cloth
material-leather = leather
material-glass = glass
material-metal = metal
care-cloths = They can catch fire by themselves: dry them outdoors, flat and singly
    .lead = Oily cloths

use-from-dusted = From { $day } it may be dusted
    .cell = may be dusted
use-from-gently = From { $day } it may be used gently, with mats
    .cell = gentle use, with mats
use-from-dry = From { $day } it may be used gently; wax does not harden after that
    .cell = gentle use; wax stays soft
use-from-hard = It is fully hard about { $day }
    .cell = fully hard
use-hard-since = Its finish has been fully hard since { $day }
use-dry-since = Its finish has been ready for use since { $day }
use-waits-for = It waits for { $surface }: { $coat }, last coated { $laid }
use-not-known = No day can be given: for { $coat } on { $surface }, { $why }
use-holds-for = The days are no promise: where it still feels soft or smells, wait
    .cell = No promise: where it still feels soft or smells, wait
use-air = { $surface } dried at { $air }, which makes a finish slower: allow more time
    .cell = It dried at { $air }: allow more time
no-date-day = the day is not recorded
no-date-interval = the time between its coats is not recorded
no-date-times = drying times are not known
no-date-beyond = the times lead beyond the calendar
air-humidity = { $percent } % relative humidity

room-said = Our figures are for a room of { $dry } to { $damp } % relative humidity at { $warm }
room-assumed = Our figures assume a room of { $dry } to { $damp } % relative humidity at { $warm }
room-steady = About { $low } to { $high } % relative humidity suits wood; a steady room matters more than the figure
    .cell = About { $low } to { $high } % relative humidity, and steady
room-outdoors = Out of doors, wood moves more than figures for a room say, and finishes wear sooner
room-sun = Keep it out of direct sun, and away from radiators and stoves
room-mould = Above { $percent } % mould can grow

ask-whom = { $name }, { $contact }
ask-name = { $name }

day-light-use = From now on it may be used gently: { $surface }. { $said }
    .lead = Light use: { $surface }
    .cell-lead = { $surface }: gentle use
day-full-cure = It should be fully hard by now: { $surface }. { $said }
    .lead = Fully hard: { $surface }
    .cell-lead = { $surface }: fully hard
day-no-promise = Counted from the days of the coats, and no promise: where it still feels soft or smells, wait
day-renewing = A day to look whether it needs it, not a day on which it must be done. { $said }
    .lead = Look whether to renew: { $surface }
    .cell-lead = { $surface }: renew?
day-fixings = See that screws, hinges, handles and joints are tight, that it stands without rocking, and that whatever holds it to a wall still holds. Tighten by hand, no further than snug. Where a joint has come loose, ask before you glue it
    .lead = Look over screws, hinges and joints
    .cell-lead = Screws, hinges, joints: firm?

day-every = { $what } (every { $months })

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

# Rows of the table of surfaces.
row-dust = Dust
row-clean = Clean
row-spill = Spill
row-heat = Heat, rings
row-renew = Renew
row-never = Never
