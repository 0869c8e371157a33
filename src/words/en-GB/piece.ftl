# What a piece is, part by part. `lead` is what a line begins with and is found by.

# The maker's own words, which stand by themselves.
own-words = { $said }
series = { $of }

fact-kind = { $kind }
    .lead = Type
fact-made = { $years }
    .lead = Made
fact-made-by = { $years } ({ $basis })
    .lead = Made
fact-made-not-known = Not known
    .lead = Made
fact-maker = { $maker }
    .lead = Maker
fact-maker-not-known = Not known
    .lead = Maker
fact-size = { $size } (width × depth × height)
    .lead = Size
fact-materials = { $materials }
    .lead = Materials
fact-inscriptions = { $said }
    .lead = Inscriptions
fact-subject = { $said }
    .lead = Shows
fact-told-by = { $said }
    .lead = Recognise it by

parts-not-recorded = Its parts were not recorded, so nothing is said of what is original
parts-counted = { $said }
parts-original = { $original } of its { $present ->
    [one] 1 recorded part is
   *[other] { $present } recorded parts are
 } original, as far as is known
parts-others = Of the others: { $others }
parts-gone = Not there today: { $gone }
so-many-are = { $count } { $standing }

part = { $said }
    .lead = { $name }
part-is = { $standing }; { $made_of }
part-known-by = Known by { $known }
part-since = Since { $years }
part-from-stock = Made from stock: { $what }
part-from-stock-of = Made from stock: { $what } ({ $origin })
instead-of = In place of { $old }
to-undo = To undo: { $undo }
built-of = { $build } { $timber }
veneer-of = veneer { $timber }
on-ground = on { $ground }
so-wide-across = { $diameter } across
lipped-with = lipped with { $timber }

fixing = { $said }
    .lead = { $name }
fixing-modern = { $standing }, a modern kind
fixing-in = { $standing }; in { $parts }
