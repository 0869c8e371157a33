# What stands in the archive alone. Only what American English says otherwise.

coverage-nothing-rate = What a liter covers cannot be nothing, nor without measure
coverage-source = liters = coats x area / ((1 - loss) x rate): common practice, no source
unit-m2-per-litre = { $figure } m² to a liter
stability-how = the weight of the piece, { $mass }, times how far its middle lies behind its front feet over its height; { $feet } and its center taken to lie in the middle of its depth
recipes-about = What lay on which timber, in which order, and how it came out. A measured color is shown as it was photographed; of a mix that nobody measured no color is claimed.
recipes-none = No color was measured and no mix recorded yet. A `swatch` of a record, or a step with a `mix`, comes to stand here.
recipe-nothing = Nothing that colors: the wood and its old finish.
column-litres = Liters
