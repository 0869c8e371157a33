# How American English writes numbers, days and units.

language-name = American English
language-also = american, us, en-USA
default-units = inches
default-paper = letter
season-3 = fall
day-form = { $month } { $day }, { $year }
day-of-year-form = { $month } { $day }
days-of-month = { $month } { $first } to { $last }, { $year }
days-of-year = { $first } to { $last }, { $year }
list-and = { ", and " }
list-or = { ", or " }
money-USD = ${ $amount }
