# Changes to a sealed record, and what its keys and words are called there. Only what American English says otherwise.

places-patches = the patches of the color match
field-grey = gray
field-grey-reflectance = gray reflectance
field-litres = liters
row-grey = gray
rows-grey = grays
word-stabilise = stabilize
