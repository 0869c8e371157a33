# What lies on the surfaces of a piece, and what they lost.

finish = { $said }
    .lead = { $name }
surface-of-no-part = surface of which no part is named
finish-none = Nothing is recorded on it today
finish-today = Today, topmost first: { $layers }
finish-line = { $surface }: { $coats }
altered-finish = It was: { $coats }
    .lead = { $surface }: the finish that was found there is gone
finish-removed = Found, and taken off: { $coats }
finish-undone = Laid, and taken off again: { $coats }
coat = { $name }
coat-of-several = { $name }, { $coats } coats
coat-not-known = a finish that is not known
coat-earlier = earlier finish
coat-unidentified = unidentified finish
layer = { $coat } ({ $how })
layer-found = found on the piece
layer-laid = laid by this workshop
layer-laid-from = laid from { $on }
layer-only-on = only on { $parts }
layer-gone-from = taken off again from { $parts }
