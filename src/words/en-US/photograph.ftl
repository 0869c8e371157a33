# Photographs: their stages, their marks, before laid onto after, and colours that were measured in them. Only what American English says otherwise.

patch-grey = gray card
measured-grey = Gray card
swatch-grey-known = Corrected by the gray card in the picture, which reflects { $percent } %
swatch-grey = Corrected by the gray card in the picture; how much it reflects is not stated, so lightness is as it was exposed
swatch-no-grey = Without a gray card: both patches share one light, so the difference between them holds, but their own figures are as the camera saw them
swatch-black-card = Not measured: the gray card is black in the picture
swatch-grey-how = The three responses of the eye’s cones are each scaled until the card has no color; a stated reflectance sets the scale of lightness.
swatch-difference-how = CIEDE2000 of target and result, { $difference }; ± joins two doubts. One is twice the standard error, { $noise }, from what becomes of it when each of sixteen blocks of a patch is left out in turn: the grain and the noise. The other, { $light }, is what becomes of it where one patch has { $percent } % more light than the other, or as much more as changes across the gray card: our own choice. Neither knows the camera’s own faults.
