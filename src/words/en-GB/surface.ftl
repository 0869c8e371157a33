# What lies on the surfaces of a piece, and what they lost.

surface-of-no-part = surface of which no part is named
finish-line = { $surface }: { $coats }
altered-finish = It was: { $coats }
    .lead = { $surface }: the finish that was found there is gone
coat = { $name }
coat-of-several = { $name }, { $coats } coats
coat-not-known = a finish that is not known
coat-earlier = earlier finish
coat-unidentified = unidentified finish
