# How numbers, lists, days, years, lengths, loads and money are written.

# The language itself: what it is called, other names that people choose it by, and what a workshop prints that says nothing
# of its own: units (mm, mm-and-inches or inches) and paper (A4 or letter).
language-name = British English
language-also = british, english, en, en-UK
default-units = mm
default-paper = A4

# Signs, in quotation marks where there are spaces in them: between a whole number and its decimals, between the thousands of
# an amount of money (in a language that has the same sign for both, nothing), before a number below nothing, between the things of a list, between two, before the last of more, and before the last where one of them has
# the sign between two within it; then between two things of which one holds, and before the last of more.
decimal-mark = .
thousands-mark = ,
minus-sign = −
list-between = { ", " }
list-pair = { " and " }
list-and = { " and " }
list-and-apart = { ", and " }
list-or-pair = { " or " }
list-or = { " or " }

# How a name of the trade's tables stands within a sentence: “small” for small letters, anything else for the letters it
# has; and the words that keep their capital where the others lose it.
names-within = small
names-kept = African, American, Asian, Australian, Brazilian, Douglas, Dutch, English, European, Huon, Indian, London, Norway, Parana, Queensland, Scots, Sitka, Tasmanian

# Reserved words of a record
said-unknown = not known
said-not-tested = not tested

# Numbers
span = { $low } to { $high }
hours = { $hours ->
    [one] { $hours } hour
   *[other] { $hours } hours
 }
# `count` is the last of the figures: it decides the plural.
months = { $count ->
    [one] { $figure } month
   *[other] { $figure } months
 }
years = { $count ->
    [one] { $figure } year
   *[other] { $figure } years
 }

# Units, and one figure in two of them
unit-mm = { $figure } mm
unit-in = { $figure } in
unit-kg = { $figure } kg
unit-lb = { $figure } lb
unit-cm2 = { $figure } cm²
unit-in2 = { $figure } in²
unit-celsius = { $figure } °C
unit-fahrenheit = { $figure } °F
unit-both = { $first } ({ $second })
about-area = about { $area }
under-mass = under { $figure }

# Money, by the code of ISO 4217
money-none = { $amount }
money-other = { $code } { $amount }
money-EUR = €{ $amount }
money-GBP = £{ $amount }

# Days
month-1 = January
month-2 = February
month-3 = March
month-4 = April
month-5 = May
month-6 = June
month-7 = July
month-8 = August
month-9 = September
month-10 = October
month-11 = November
month-12 = December
season-1 = spring
season-2 = summer
season-3 = autumn
season-4 = winter
day-form = { $day } { $month } { $year }
day-of-year-form = { $day } { $month }
month-form = { $month } { $year }
season-form = { $season } { $year }
days-of-month = { $first } to { $last } { $month } { $year }
days-of-year = { $first } to { $last } { $year }
days-apart = { $first } to { $last }

# Years of making, as they follow "Made:"
years-ad = AD { $year }
years-bc = { $year } BC
years-decade = the { $first }s
years-between = { $first }–{ $last }
years-between-ad = AD { $first }–{ $last }
years-between-bc = { $first }–{ $last } BC
years-bc-to-ad = { $first } BC–AD { $last }
made-about = about { $date }
made-noted = { $date }, { $notes }
made-noted-within = { $date } ({ $notes })
made-not-certain = not certain
made-no-month = month not known
made-no-month-and-day = month and day not known
made-no-day = day not known
made-at = { $date } at { $clock }
made-clock-utc = { $clock } UTC
made-clock-shifted = { $clock } (UTC{ $shift })
made-from-to = { $first } to { $last }
made-or-later = { $first } or later
made-or-earlier = { $last } or earlier
made-end-not-known = from { $first }, end not known
made-start-not-known = until { $last }, start not known
