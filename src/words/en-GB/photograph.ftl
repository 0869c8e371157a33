# Photographs: their stages, their marks, before laid onto after, and colours that were measured in them.

stage-before = Before
stage-during = At work
stage-hidden = Now hidden
stage-after = After
stage-handover = At handover
stage-none = Undated

# The same within a line
taken-before = before
taken-during = at work
taken-hidden = now hidden
taken-after = after
taken-handover = at handover
taken-none = undated
photograph-of = { $title }, { $taken }
photograph-of-view = { $title }, { $taken }, { $view }
photograph-not-readable = photograph not readable
photograph-not-found = photograph not found
pointer = { $taken }: { $number }
pointer-view = { $taken }, { $view }: { $number }

mark-point = a point
mark-line = a line with an arrow
mark-area = an outlined area

# Before laid onto after
pair-laid = Laid onto each other at { $points } points; what lies nearer or farther than these points meets less closely. Both are cut to what both show
pair-laid-meeting = Laid onto each other at { $points } points, which meet to within { $miss ->
    [one] { $miss } pixel
   *[other] { $miss } pixels
 } in { $width }; what lies nearer or farther than these points meets less closely. Both are cut to what both show
pair-tone = Tone matched: the picture before is shown in the light of the other, read off the room and not off the piece
pair-whole = The whole photographs are among the plates

# Colours that were measured
patch-grey = grey card
patch-target = target
patch-result = result
measured-grey = Grey card
measured-target = Target
measured-result = Result
swatch-number = Match { $number }
swatch-abraded = Abraded to { $grit }
swatch-none-visible = No difference that this photograph could show
swatch-between = { $middle }; within its uncertainty, from “{ $low }” to “{ $high }”
swatch-one-light = As photographed: target and result were measured in one picture and one light, and in another light they may differ more, or less
swatch-grey-known = Corrected by the grey card in the picture, which reflects { $percent } %
swatch-grey = Corrected by the grey card in the picture; how much it reflects is not stated, so lightness is as it was exposed
swatch-no-grey = Without a grey card: both patches share one light, so the difference between them holds, but their own figures are as the camera saw them
swatch-wood-itself = Wood differs by about { $spread } within one surface by itself
swatch-no-photograph = Not measured: its photograph cannot be opened
swatch-too-small = Not measured: a patch covers next to no pixels
swatch-black-card = Not measured: the grey card is black in the picture
colour-lab = L* { $light }, a* { $red }, b* { $yellow }
colour-difference = ΔE00 { $difference } ± { $doubt }
swatch-patches = Patches
swatch-patches-how = The mean of all pixels in linear light, without the lightest and the darkest tenth, so that a hair or a pinhole counts for nothing; then CIELAB for D65 and the 2° observer.
swatch-grey-how = The three responses of the eye’s cones are each scaled until the card has no colour; a stated reflectance sets the scale of lightness.
swatch-difference = Difference
swatch-difference-how = CIEDE2000 of target and result, { $difference }; ± joins two doubts. One is twice the standard error, { $noise }, from what becomes of it when each of sixteen blocks of a patch is left out in turn: the grain and the noise. The other, { $light }, is what becomes of it where one patch has { $percent } % more light than the other, or as much more as changes across the grey card: our own choice. Neither knows the camera’s own faults.
swatch-words = Words
swatch-words-how = “{ $words }” stands for { $differences }.
swatch-from-to = { $from } to less than { $below }
swatch-from = { $from } and more
swatch-below = less than { $below }
swatch-every = every difference
swatch-wood = Wood itself
swatch-wood-how = { $what }, { $spread } by the formula of 1976.
