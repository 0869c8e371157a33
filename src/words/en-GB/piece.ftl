# What a piece is, part by part. `lead` is what a line begins with and is found by.

# The maker's own words, which stand by themselves.
own-words = { $said }
series = { $of }

fact-kind = { $kind }
    .lead = Type
fact-of-set = One of a set of { $count } that are sold one by one
    .lead = Set
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
fact-size-folded = { $size } (width × depth × height); folded, { $folded }
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
parts-original = { $present ->
    [one] { $original ->
        [one] Its one recorded part is as first made, as far as is known
       *[other] Its one recorded part is not as first made, or not known to be
    }
   *[other] { $original ->
        [0] None of its { $present } recorded parts is
        [one] { $original } of its { $present } recorded parts is
       *[other] { $original } of its { $present } recorded parts are
    } as first made, as far as is known
 }{ $sets ->
    [0] { "" }
   *[other] { " " }(a set counts once)
 }
parts-patched = Of those that are as first made, { $count ->
    [one] 1 has a patch that is not
   *[other] { $count } have patches that are not
 }, or is not known to be
parts-others = Of the others: { $others }
parts-gone = Not there today: { $gone }
rest-original = All other parts are as first made, as far as is known
rest-not-looked-at = Other parts were not looked at
rest-unknown = Whether other parts are as first made is not known
rest-not-said = Of other parts nothing is recorded
whole-original = All of it is as first made, as far as is known
whole-not-looked-at = Its parts were not looked at, so nothing is said of what is original
whole-not-known = Whether it is as first made is not known
so-many-are = { $count } { $standing }

timber-not-known = timber not known
part = { $said }
    .lead = { $name }
part-is = { $standing }; { $made_of }
part-patched = Except for: { $patches }
part-since = Since { $years }
part-from-stock = From stock: { $what }
part-from-stock-of = From stock: { $what } ({ $origin })
instead-of = In place of { $old }
built-of = { $build } { $timber }
parts-usual = Where no material is named: { $built }
veneer-of = veneer { $timber }
on-ground = on { $ground }
so-wide-across = { $diameter } across
lipped-with = lipped with { $timber }

part-line = { $standing }
    .lead = { $name }
part-line-instead = { $standing }, in place of { $old }
    .lead = { $name }
part-line-since = { $standing }, since { $years }
    .lead = { $name }
part-line-several = { $standing }: { $names }
    .lead = { $count } parts
as-original = as first made
as-old-repair = an old repair
as-later = later, not ours
as-salvaged = salvaged
as-new = new
as-removed = taken away
as-missing = missing
as-unknown = original or not: not known
fixing-counted = { $count } { $kind }
fixing-line = { $name } ({ $standing })
fixing = { $said }
    .lead = { $name }
fixing-modern = { $standing }, a modern kind
fixing-in-gone = { $standing }; recorded in { $parts }, which the piece does not have today
fixing-in = { $standing }; in { $parts }

patch = { $said }
    .lead = { $what }, { $part }
patch-short = { $what } ({ $standing })
patch-short-share = { $what } ({ $standing }, { $share })
share-of-face = about { $percent } % of its face
share-of-face-small = under 1 % of its face
made-with = Made with { $with }

heading-shares = of the recorded parts it has today
share = { $said }
    .lead = { $standing }
share-count = { $count ->
    [one] 1 part
   *[other] { $count } parts
 }
share-of-parts = { $percent } of the parts
share-at-least = at least { $percent } of the parts
share-at-most = at most { $percent } of the parts
share-mass = { $percent } by mass ({ $mass })
share-mass-not-known = by mass not known
percent = { $percent } %
percent-under-one = under 1 %
shares-cover = The shares cover the parts of which that is known: at least { $percent } of the piece
    .lead = By mass
shares-cover-too-little = No share is given, as that is known of only { $percent } of the piece
    .lead = By mass
shares-not-weighed = No share is given, as not all of the piece was weighed
    .lead = By mass
shares-left-out = No share is given, as of { $left ->
    [one] 1 part
   *[other] { $left } parts
 } size or material is not known
    .lead = By mass
