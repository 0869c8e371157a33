# What stands in the archive alone. Only what American English says otherwise.

coverage-nothing-rate = What a liter covers cannot be nothing, nor without measure
coverage-source = liters = coats x area / ((1 - loss) x rate): common practice, no source
unit-m2-per-litre = { $figure } m² to a liter
stability-how = the weight of the piece, { $mass }, times how far its middle lies behind its front feet over its height; { $feet } and its center taken to lie in the middle of its depth
archive-colours = Colors
table-of-colours = Table of colors
column-litres = Liters
