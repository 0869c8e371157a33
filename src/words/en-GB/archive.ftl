# What stands in the archive alone.

archive-of = Archive of { $workshop }

# The search of the front page; a script puts the numbers in.
search-title = Search
search-label = Words in any piece: its record, its story, its costs and notes
search-none = No piece has all of that. Fewer letters find more.
search-one = One piece has all of that.
search-many = { $pieces } pieces have all of that.
search-first = The first { $shown } are shown; one more word finds fewer.
search-more = and { $lines } more lines
